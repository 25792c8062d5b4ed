"""Price views: the rows of Prices by tank and by feeder, each with its open lines: either adds up to the project, never one to the other. And
what is built, type by type: one bill times how many.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from batch.money_results import Atom, Build, Chain, View
from batch.price.cost_chain import chain
from batch.price.price_views import TANK
from batch.results import JobResult
from batch.schedules.schedule import SEE, Schedule, calculated, grouped, its_project, ordinal, selected, text
from batch.schedules.ways import way, way_if_any

NO_TANK, NO_FEEDER = "no tank: feeders' own and the project's", "no feeder: tanks' own and the project's"
ALL = '">-1000000000000"'  # every figure


def _items(result: JobResult) -> Iterable[View]:
    return result.money.views if result.money.asked else ()


def _sum(key: str, of_type: str = "0") -> str:
    """Of the rows of Prices that are in this view; `of_type`: of a type."""
    return f'IF([build_no]=0,SUMIFS(<prices.{key}>,<prices.by_tank>,[number])+SUMIFS(<prices.{key}>,<prices.by_feeder>,[number]),{of_type})'


def _sum_of_all(key: str, of_type: str) -> str:
    """The same, blank where a row of it is blank."""
    known = f"COUNTIFS(<prices.by_tank>,[number],<prices.{key}>,{ALL})+COUNTIFS(<prices.by_feeder>,[number],<prices.{key}>,{ALL})"
    whole = f"SUMIFS(<prices.{key}>,<prices.by_tank>,[number])+SUMIFS(<prices.{key}>,<prices.by_feeder>,[number])"
    return f'IF([build_no]>0,{of_type},IF({known}<[count],"",{whole}))'


def _rate(key: str) -> str:
    return f"SUMIFS(<pricing_used.{key}>,<pricing_used.number>,[rates_no])"


def _given(key: str) -> str:
    return f"COUNTIFS(<pricing_used.number>,[rates_no],<pricing_used.{key}>,{ALL})"


OF_TYPE = f'[material]*{_rate("of_material")}+[shop_h]*{_rate("of_shop_h")}'
COST_OF_TYPE = f'IF({_given("of_material")}=0,"",{OF_TYPE})'
PRICE_OF_TYPE = f'IF({_given("of_material")}*{_given("factor")}=0,"",({OF_TYPE})*{_rate("factor")})'
ONE_OF_TYPE = f'IF({_given("of_material")}*{_given("factor")}=0,"",({OF_TYPE})*{_rate("factor")}/SUMIFS(<builds.count>,<builds.build_no>,[build_no]))'

TO_ROWS = f'HYPERLINK(<#prices.number>&IFERROR(MATCH([number],<^prices.by_tank>,0),MATCH([number],<^prices.by_feeder>,0)),"{SEE}")'


def _name(view: View) -> str:
    return view.name or (NO_TANK if view.kind == TANK else NO_FEEDER)


def _of(figure: Callable[[Atom], float | None], of_type: Callable[[View, Build], float | None]) -> Callable[[View], float | None]:
    def value(view: View) -> float | None:
        if view.build is not None:
            return of_type(view, view.build)
        known = [amount for atom in view.atoms if (amount := figure(atom)) is not None]
        return sum(known) if len(known) == len(view.atoms) else None

    return value


def _cost(view: View, build: Build) -> Chain:
    return chain(
        material=build.built * build.material, other=0.0, shop_h=build.built * build.shop_h, field_h=0.0, freight_sum=0.0, rates=view.rates
    )


def _price_of_one(view: View) -> float | None:
    price = None if view.build is None else _cost(view, view.build).price
    return None if view.build is None or price is None else price / view.build.built


PRICE_VIEWS = Schedule(
    "price_views", "Price views", "view",
    "Each tank with its banks, and each feeder with what hangs on it: either adds up to the project, never both. Then what is built, by type, without heaters and runs. Not rounded: a sum may be a cent off its rows.",
    items=_items, named_by="name", key=("number",),
    columns=(
        ordinal("number", "No.", "", "number", width=6, help="By which Prices says what a row is part of."),
        its_project("rates.project"),
        text("kind", "View", 9, lambda view: f"by {view.kind}", role="result", help="by tank, by feeder, or by type."),
        text("name", "Of", 24, _name, help="Tank or feeder; last what is of none. Then panel type, single circuit or kind of control panel."),
        ordinal("count", "Rows of Prices", "ea", lambda view: len(view.atoms), width=8, help="That are in it; of a type: that have it."),
        ordinal("built", "How many", "ea", lambda view: view.build.built if view.build else None, width=8, help="Of a type: how many are built so."),
        *grouped("Its bill",
            ordinal("build_no", "Bill", "no.", lambda view: view.build.number if view.build else 0, width=8, help="Of a type: by which Materials has its lines; 0: none."),
            ordinal("rates_no", "Rates", "no.", "rates.number", width=7, help="Line of Pricing used."),
        ),
        text("on_hold", "On hold", 9, lambda view: "on hold" if any(atom.held for atom in view.atoms) else "", role="result",
             help="Something in it is not released for fabrication; its money is counted."),
        calculated("material", "Material", "currency", "money", _of(lambda atom: atom.material, lambda view, build: build.built * build.material),
                   formula=_sum("material", "SUMIFS(<materials.price>,<materials.build_no>,[build_no])"), help="Of what is priced."),
        calculated("other", "Other costs", "currency", "money", _of(lambda atom: atom.other, lambda view, build: 0.0), formula=_sum("other"), help="From Other costs."),
        calculated("shop_h", "Shop hours", "h", "hours", _of(lambda atom: atom.shop_h, lambda view, build: build.built * build.shop_h),
                   formula=_sum("shop_h", 'SUMIFS(<materials.hours>,<materials.build_no>,[build_no],<materials.supplied>,"")'), help="Hours in the shop."),
        calculated("field_h", "Field hours", "h", "hours", _of(lambda atom: atom.field_h, lambda view, build: 0.0), formula=_sum("field_h"), help="Hours on site."),
        calculated("full", "Full cost", "currency", "money", _of(lambda atom: atom.cost.full, lambda view, build: _cost(view, build).full),
                   formula=_sum_of_all("full", COST_OF_TYPE), help="Blank where a rate is not given."),
        calculated("price_one", "Price of one", "currency", "money", _price_of_one, formula=f'IF([build_no]=0,"",{ONE_OF_TYPE})', help="Of a type: its price for one."),
        selected("price", "Price", "currency", "money", _of(lambda atom: atom.cost.price, lambda view, build: _cost(view, build).price),
                 formula=_sum_of_all("price", PRICE_OF_TYPE), help="Before tax on the price, of what is priced; the quotation rounds it."),
        selected("open", "Open lines", "ea", "count", _of(lambda atom: atom.open, lambda view, build: build.built * build.open),
                 formula=_sum("open", "SUMIFS(<builds.open>,<builds.build_no>,[build_no])"),
                 help="Where it is not 0, every sum of the row says at least."),
        way("to_rows", "Its rows", "the first of its rows on Prices", TO_ROWS, there=lambda view: view.build is None and view.atoms),
        way_if_any("to_bill", "Its bill", "the first line of its bill on Materials, where it is a type", "materials.build_no", "build_no", there=lambda view: view.build),
    ),
)
