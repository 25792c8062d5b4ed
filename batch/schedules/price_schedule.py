"""Prices: from cost to price, a row for everything that bears cost: each bank, and what is a tank's, a feeder's, the project's own.

The only sheet of money that is added up: tanks, feeders, projects and the bid are its rows, grouped.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from batch.money_results import Atom
from batch.results import JobResult
from batch.schedules.money_columns import PRICE_FACTOR
from batch.schedules.schedule import Schedule, calculated, given, grouped, its_project, ordinal, selected, text
from batch.schedules.ways import way_if_any


def _items(result: JobResult) -> Iterable[Atom]:
    return result.money.atoms if result.money.asked else ()


def _rate(key: str) -> str:
    own = f'<pricing_used.number>,[rates_no],<pricing_used.{key}>,">-1000000"'
    return f'IF(COUNTIFS({own})=0,"",SUMIFS(<pricing_used.{key}>,<pricing_used.number>,[rates_no]))'


FREIGHT = (
    'IF(COUNTIFS(<pricing_used.number>,[rates_no],<pricing_used.freight_pct>,">=0")'
    '+COUNTIFS(<pricing_used.number>,[rates_no],<pricing_used.freight_amount>,">=0")=0,"",'
    "SUMIFS(<pricing_used.freight_pct>,<pricing_used.number>,[rates_no]))"
)


def _freight_pct(atom: Atom) -> float | None:
    rates = atom.rates
    return 0.0 if rates.freight_pct is None and rates.freight_amount is not None else rates.freight_pct


def _factor(atom: Atom) -> float | None:
    from batch.price.cost_chain import price_of

    return price_of(1.0, atom.rates.markup_pct, atom.rates.profit_pct)


def _given(key: str, heading: str, unit: str, format: str, help: str, *, value: str | Callable = "", formula: str = ""):
    return given(key, heading, unit, format, value or f"rates.{key}", formula=formula or _rate(key), help=help)


PRICES = Schedule(
    "prices", "Prices", "line",
    "From cost to price: a row for each bank, and for what is a tank's, a feeder's or the project's own. The one sheet to add up. Not rounded: a sum may be a cent off its rows.",
    items=_items, named_by="feeder", key=("number",),
    columns=(
        ordinal("number", "No.", "", "number", width=6, help="By which Materials, Runs and Builds say who bears a line."),
        its_project("rates.project"),
        text("kind", "Bears it", 10, "kind", role="result", help="bank, tank, feeder or project."),
        text("tank", "Tank", 12, "tank", help="Blank: a feeder's or the project's own."),
        text("bank", "Bank", 8, "bank", help="Bank of the tank; blank: the tank's own."),
        text("feeder", "Feeder", 9, "feeder", help="Feeder that the bank hangs on, or whose own it is."),
        text("on_hold", "On hold", 9, lambda one: "on hold" if one.held else "", role="result", help="Not released for fabrication; its money is counted."),
        calculated("builds", "Panels and single circuits", "currency", "money", "builds",
                   total="sum", formula="SUMIFS(<builds.material>,<builds.owner_no>,[number])", help="Its builds, see Builds."),
        calculated("parts", "Other parts, wire, raceway", "currency", "money", "parts",
                   total="sum", formula='SUMIFS(<materials.price>,<materials.owner_no>,[number],<materials.sort>,"<>other cost")+SUMIFS(<runs.price>,<runs.owner_no>,[number])',
                   help="Heaters, feeder's devices, allowances of Materials; lines of Runs."),
        calculated("material", "Material", "currency", "money", "material",
                   total="sum", formula="[builds]+[parts]", help="Both together: of what is priced."),
        calculated("other", "Other costs", "currency", "money", "other",
                   total="sum", formula='SUMIFS(<materials.price>,<materials.owner_no>,[number],<materials.sort>,"other cost")', help="From Other costs."),
        calculated("shop_h", "Shop hours", "h", "hours", "shop_h",
                   total="sum", formula='SUMIFS(<builds.shop_h>,<builds.owner_no>,[number])+SUMIFS(<materials.hours>,<materials.owner_no>,[number],<materials.place>,"shop",<materials.supplied>,"")',
                   help="Hours in the shop."),
        calculated("field_h", "Field hours", "h", "hours", "field_h",
                   total="sum", formula='SUMIFS(<runs.hours>,<runs.owner_no>,[number],<runs.supplied>,"")+SUMIFS(<materials.hours>,<materials.owner_no>,[number],<materials.place>,"field",<materials.supplied>,"")',
                   help="Hours on site."),
        *grouped("Rates in force",
            ordinal("by_tank", "By tank", "no.", "by_tank", width=8, help="Its line of Price views by tank."),
            ordinal("by_feeder", "By feeder", "no.", "by_feeder", width=9, help="Its line of Price views by feeder."),
            ordinal("rates_no", "Rates", "no.", "rates.number", width=7, help="Line of Pricing used."),
            _given("shop_rate", "Shop rate", "per h", "money", "Blank: not given."),
            _given("field_rate", "Field rate", "per h", "money", "Blank: not given."),
            _given("shop_factor", "Shop factor", "times", "factor", "On hours in the shop."),
            _given("field_factor", "Field factor", "times", "factor", "On hours on site."),
            _given("purchase_tax_pct", "Tax on purchases", "%", "percent_2", "Blank: not given."),
            _given("freight_pct", "Freight", "%", "percent_2", "0 where a sum alone is given; blank: not given.", value=_freight_pct, formula=FREIGHT),
            _given("freight_sum", "Freight amount", "currency", "money", "The project's sum, on its own row.", value="freight_sum",
                   formula='([kind]="project")*SUMIFS(<pricing_used.freight_amount>,<pricing_used.number>,[rates_no])'),
            _given("contingency_pct", "Contingency", "%", "percent_2", "Blank: not given."),
            _given("overhead_pct", "Overhead", "%", "percent_2", "Blank: not given."),
            _given("markup_pct", "Markup", "%", "percent_2", "Of full cost."),
            _given("profit_pct", "Margin of price", "%", "percent_2", "Of the price."),
            calculated("factor", "Price to full cost", "times", "factor", _factor, formula=PRICE_FACTOR,
                       help="1 + markup, or 1 / (1 - margin); blank where neither or both are given, or the margin is 100 % or more."),
        ),
        calculated("tax", "Tax on material", "currency", "money", "cost.purchase_tax",
                   total="sum", formula='IF([purchase_tax_pct]="","",[material]*[purchase_tax_pct]/100)', help="As paid when buying."),
        calculated("freight", "Freight cost", "currency", "money", "cost.freight",
                   total="sum", formula='IF([freight_pct]="","",[material]*[freight_pct]/100+[freight_sum])', help="Per cent of material, and the project's sum."),
        calculated("shop", "Shop labour", "currency", "money", "cost.shop",
                   total="sum", formula='IF([shop_rate]="","",[shop_h]*[shop_factor]*[shop_rate])', help="Blank where no rate is given."),
        calculated("field", "Field labour", "currency", "money", "cost.field",
                   total="sum", formula='IF([field_rate]="","",[field_h]*[field_factor]*[field_rate])', help="Blank where no rate is given."),
        calculated("direct", "Direct cost", "currency", "money", "cost.direct",
                   total="sum", formula='IF(([tax]="")+([freight]="")+([shop]="")+([field]="")>0,"",[material]+[tax]+[freight]+[shop]+[field]+[other])',
                   help="Material, tax, freight, labour and other costs; blank where one of them is."),
        calculated("contingency", "Contingency sum", "currency", "money", "cost.contingency",
                   total="sum", formula='IF(([direct]="")+([contingency_pct]="")>0,"",[direct]*[contingency_pct]/100)', help="Never in place of open lines."),
        calculated("overhead", "Overhead sum", "currency", "money", "cost.overhead",
                   total="sum", formula='IF(([contingency]="")+([overhead_pct]="")>0,"",([direct]+[contingency])*[overhead_pct]/100)', help="Of both."),
        calculated("full", "Full cost", "currency", "money", "cost.full",
                   total="sum", formula='IF([overhead]="","",[direct]+[contingency]+[overhead])', help="Direct cost, contingency and overhead."),
        selected("price", "Price", "currency", "money", "cost.price",
                 total="sum", formula='IF(([full]="")+([factor]="")>0,"",[full]*[factor])', help="Before tax on the price, of what is priced."),
        selected("open", "Open lines", "ea", "count", "open",
                 total="sum",
                 formula='SUMIFS(<builds.open>,<builds.owner_no>,[number])+COUNTIFS(<materials.owner_no>,[number],<materials.priced>,"open")+COUNTIFS(<runs.owner_no>,[number],<runs.priced>,"open")',
                 help="Where it is not 0, every sum of the row says at least. One of a build counts as often as it is built; on Read first it counts once."),
        way_if_any("to_bank", "Its bank", "its row of Banks", "banks.owner_no", "number", there=lambda one: one.bank),
        way_if_any("to_feeder", "Its feeder", "a feeder's own row of Feeders", "feeder_totals.owner_no", "number", there=lambda one: one.kind == "feeder"),
        way_if_any("to_builds", "Its builds", "the first of its builds", "builds.owner_no", "number", there=lambda one: one.built),
        way_if_any("to_lines", "Its lines", "the first of its own lines on Materials", "materials.owner_no", "number", there=lambda one: one.listed),
        way_if_any("to_runs", "Its runs", "the first of its runs", "runs.owner_no", "number", there=lambda one: one.laid),
    ),
)
