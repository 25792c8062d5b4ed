"""Pricing used: the rates of each project as the firm gave them. The sheet Prices reckons with these cells."""

from __future__ import annotations

from collections.abc import Iterator

from batch.money_results import Rates
from batch.price.cost_chain import chain, price_of
from batch.results import JobResult
from batch.schedules.money_columns import PRICE_FACTOR
from batch.schedules.schedule import Schedule, calculated, given, its_project, ordinal, text


def _items(result: JobResult) -> Iterator[Rates]:
    if result.money.asked:
        yield from result.money.rates


BLANK = '([purchase_tax_pct]="")+([freight_pct]="")*([freight_amount]="")+([shop_rate]="")+([field_rate]="")'
MORE = "*(1+[contingency_pct]/100)*(1+[overhead_pct]/100)"
OF_MATERIAL = (
    f'IF({BLANK}+([contingency_pct]="")+([overhead_pct]="")>0,"",(1+([purchase_tax_pct]+[freight_pct])/100){MORE})'
)
OF_SHOP_HOUR = f'IF([of_material]="","",[shop_rate]*[shop_factor]{MORE})'


def _of_material(one: Rates) -> float | None:
    return chain(material=1.0, other=0.0, shop_h=0.0, field_h=0.0, freight_sum=0.0, rates=one).full


def _of_shop_hour(one: Rates) -> float | None:
    return chain(material=0.0, other=0.0, shop_h=1.0, field_h=0.0, freight_sum=0.0, rates=one).full


PRICING_USED = Schedule(
    "pricing_used", "Pricing used", "project", "The firm's own rates, as Pricing gave them; blank: not given, and open. Prices reckons with these cells.",
    items=_items, named_by="project",
    columns=(
        ordinal("number", "No.", "", "number", width=6, help="By which Prices finds it."),
        its_project("project"),
        given("shop_rate", "Shop rate", "per h", "money", "shop_rate", help="Money for an hour in the shop."),
        given("field_rate", "Field rate", "per h", "money", "field_rate", help="Money for an hour on site."),
        given("shop_factor", "Shop factor", "times", "factor", "shop_factor", help="Hours in the shop are multiplied by it."),
        given("field_factor", "Field factor", "times", "factor", "field_factor", help="Hours on site are multiplied by it."),
        given("purchase_tax_pct", "Tax on purchases", "%", "percent_2", "purchase_tax_pct", help="On materials."),
        given("freight_pct", "Freight", "%", "percent_2", "freight_pct", help="Per cent of materials."),
        given("freight_amount", "Freight amount", "currency", "money", "freight_amount", help="A sum for the project."),
        given("contingency_pct", "Contingency", "%", "percent_2", "contingency_pct", help="Of direct cost."),
        given("overhead_pct", "Overhead", "%", "percent_2", "overhead_pct", help="Of direct cost and contingency."),
        given("markup_pct", "Markup", "%", "percent_2", "markup_pct", help="Of full cost."),
        given("profit_pct", "Margin of price", "%", "percent_2", "profit_pct", help="Of the price."),
        given("sales_tax_pct", "Tax on price", "%", "percent_2", "sales_tax_pct", help="On the rounded total of the quotation."),
        given("round_to", "Round a position to", "currency", "number", "round_to", help="Positions of the quotation."),
        calculated("of_material", "Full cost of 1 of material", "times", "factor", _of_material, formula=OF_MATERIAL,
                   help="Material with tax, freight as per cent, contingency and overhead: what a type's bill is multiplied by. Blank where a rate is."),
        calculated("of_shop_h", "Full cost of a shop hour", "per h", "money", _of_shop_hour, formula=OF_SHOP_HOUR,
                   help="With factor, contingency and overhead. Blank where a rate is."),
        calculated("factor", "Price to full cost", "times", "factor", lambda one: price_of(1.0, one.markup_pct, one.profit_pct),
                   formula=PRICE_FACTOR, help="1 + markup, or 1 / (1 - margin); blank where neither or both are given, or the margin is 100 % or more."),
        text("exchange", "Rates of other currencies", 18, "exchange", role="input", help="What one unit of another currency costs."),
        text("exchange_date", "Date of those rates", 12, "exchange_date", role="input", help="When they were looked up."),
        text("blanks", "Not given", 60, lambda one: ", ".join(one.blanks), role="result", help="What Pricing leaves blank: open, and never taken for nought."),
    ),
)
