"""Price views: the rows of Prices by tank and by feeder, each with its open lines. Either adds up to the project; they never add to each other."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from batch.money_results import Atom, View
from batch.price.price_views import TANK
from batch.results import JobResult
from batch.schedules.schedule import Schedule, calculated, its_project, ordinal, selected, text

NO_TANK, NO_FEEDER = "no tank: feeders' own and the project's", "no feeder: tanks' own and the project's"
ALL = '">-1000000000000"'  # every figure


def _items(result: JobResult) -> Iterable[View]:
    return result.money.views if result.money.asked else ()


def _sum(key: str) -> str:
    """Of the rows of Prices that are in this view."""
    return f"SUMIFS(<prices.{key}>,<prices.by_tank>,[number])+SUMIFS(<prices.{key}>,<prices.by_feeder>,[number])"


def _sum_of_all(key: str) -> str:
    """The same, blank where a row of it is blank."""
    known = f"COUNTIFS(<prices.by_tank>,[number],<prices.{key}>,{ALL})+COUNTIFS(<prices.by_feeder>,[number],<prices.{key}>,{ALL})"
    return f'IF({known}<[count],"",{_sum(key)})'


def _name(view: View) -> str:
    return view.name or (NO_TANK if view.kind == TANK else NO_FEEDER)


def _of(figure: Callable[[Atom], float | None]) -> Callable[[View], float | None]:
    def value(view: View) -> float | None:
        known = [amount for atom in view.atoms if (amount := figure(atom)) is not None]
        return sum(known) if len(known) == len(view.atoms) else None

    return value


PRICE_VIEWS = Schedule(
    "price_views", "Price views", "view",
    "What each tank comes to with its banks, and each feeder with what hangs on it. Tanks add up to the project, and so do feeders: never add both.",
    items=_items, named_by="name", key=("number",),
    columns=(
        ordinal("number", "No.", "", "number", width=6, help="By which Prices says what a row is part of."),
        its_project("rates.project"),
        text("kind", "View", 9, lambda view: f"by {view.kind}", role="result", help="by tank, or by feeder."),
        text("name", "Of", 24, _name, help="Tank or feeder; last what is of none."),
        ordinal("count", "Rows of Prices", "ea", lambda view: len(view.atoms), width=8, help="That are in it."),
        text("on_hold", "On hold", 9, lambda view: "on hold" if any(atom.held for atom in view.atoms) else "", role="result",
             help="Something in it is not released for fabrication; its money is counted."),
        calculated("material", "Material", "currency", "money", _of(lambda atom: atom.material), formula=_sum("material"), help="Of what is priced."),
        calculated("other", "Other costs", "currency", "money", _of(lambda atom: atom.other), formula=_sum("other"), help="From Other costs."),
        calculated("shop_h", "Shop hours", "h", "hours", _of(lambda atom: atom.shop_h), formula=_sum("shop_h"), help="Hours in the shop."),
        calculated("field_h", "Field hours", "h", "hours", _of(lambda atom: atom.field_h), formula=_sum("field_h"), help="Hours on site."),
        calculated("full", "Full cost", "currency", "money", _of(lambda atom: atom.cost.full), formula=_sum_of_all("full"),
                   help="Blank where a rate is not given."),
        selected("price", "Price", "currency", "money", _of(lambda atom: atom.cost.price), formula=_sum_of_all("price"),
                 help="Before tax on the price, of what is priced; the quotation rounds it."),
        selected("open", "Open lines", "ea", "count", _of(lambda atom: atom.open), formula=_sum("open"),
                 help="Where it is not 0, every sum of the row says at least."),
    ),
)
