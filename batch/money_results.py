"""What costing returns: frozen records, read by the schedules, the first page, the quotation and the comparison.

Money in the project's currency, None = not known. A sum of what is priced stands beside the count of what is open.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple


class Build(NamedTuple):
    """A bill for one and how many: a panel type, or a single circuit."""

    number: int
    project: str
    name: str
    built: int
    material: float
    shop_h: float
    open: int


class Share(NamedTuple):
    """So many of a build in one bank."""

    owner: int
    build: Build
    times: int


class Chain(NamedTuple):
    """From cost to price; None from where something that it takes is not given."""

    purchase_tax: float | None
    freight: float | None
    shop: float | None
    field: float | None
    direct: float | None
    contingency: float | None
    overhead: float | None
    full: float | None
    price: float | None


class Rates(NamedTuple):
    """What a project reckons with. `why`: what of it is not given, in words."""

    number: int
    project: str
    currency: str
    given: bool
    exchange: str  # rates of other currencies, as given
    exchange_date: str
    shop_rate: float | None
    field_rate: float | None
    shop_factor: float
    field_factor: float
    purchase_tax_pct: float | None
    freight_pct: float | None
    freight_amount: float | None
    contingency_pct: float | None
    overhead_pct: float | None
    markup_pct: float | None
    profit_pct: float | None
    sales_tax_pct: float | None
    round_to: float
    good_for_days: float | None
    blanks: tuple[str, ...]


class Atom(NamedTuple):
    """The smallest owner of cost: a bank, or what is a tank's, a feeder's, a project's own.

    listed, laid, built     whether it bears lines of Materials, of Runs, of Builds
    """

    number: int
    rates: Rates
    kind: str
    tank: str
    bank: str
    feeder: str
    builds: float
    parts: float
    other: float
    shop_h: float
    field_h: float
    freight_sum: float
    open: int
    held: bool
    cost: Chain
    by_tank: int = 0  # number of its view by tank, and by feeder
    by_feeder: int = 0
    listed: bool = False
    laid: bool = False
    built: bool = False

    @property
    def material(self) -> float:
        return self.builds + self.parts


class View(NamedTuple):
    """The atoms of one tank, or on one feeder; `name` "" = of none. Of a build its bill, and the atoms that have it."""

    number: int
    rates: Rates
    kind: str
    name: str
    atoms: tuple[Atom, ...]
    build: Build | None = None


class BuyLine(NamedTuple):
    """A part over the job, or over a project where each buys for itself."""

    number: int
    project: str
    part: str
    role: str
    words: str
    unit: str
    used: float
    lines: int
    open: int
    lot: float | None
    order: float | None
    unit_price: float | None
    per: float
    hours_each: float | None
    currency: str
    price_date: str
    age_days: int | None
    supplied: str
    typed: bool

    @property
    def surplus(self) -> float | None:
        return None if self.order is None else self.order - self.used


class Money(NamedTuple):
    """A job, costed. `asked`: whether it says anything about money, or hours, at all."""

    asked: bool
    rates: tuple[Rates, ...]
    builds: tuple[Build, ...]
    shares: tuple[Share, ...]
    atoms: tuple[Atom, ...]
    buy: tuple[BuyLine, ...]
    owners: Mapping[tuple[str, ...], int]  # (project, kind, tank, name) -> number of its atom
    views: tuple[View, ...] = ()

    def of_project(self, project: str) -> list[Atom]:
        return [atom for atom in self.atoms if atom.rates.project == project]


NO_MONEY = Money(False, (), (), (), (), (), {})
