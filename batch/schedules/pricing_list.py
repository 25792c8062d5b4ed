"""Pricing used: the rates of each project as the firm gave them. The sheet Prices reckons with these cells."""

from __future__ import annotations

from collections.abc import Iterator

from batch.money_results import Rates
from batch.results import JobResult
from batch.schedules.schedule import Schedule, given, its_project, ordinal, text


def _items(result: JobResult) -> Iterator[Rates]:
    if result.money.asked:
        yield from result.money.rates


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
        text("exchange", "Rates of other currencies", 18, "exchange", role="input", help="What one unit of another currency costs."),
        text("exchange_date", "Date of those rates", 12, "exchange_date", role="input", help="When they were looked up."),
        text("blanks", "Not given", 60, lambda one: ", ".join(one.blanks), role="result", help="What Pricing leaves blank: open, and never taken for nought."),
    ),
)
