"""What a comparison of two revisions says: records only. Words and sheets are made from them elsewhere."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Literal, NamedTuple, TypeGuard

from msgspec import Struct, field

from batch.comparing.money_moves import MoneyMove, PriceStep
from batch.comparing.offers import Offer
from batch.comparing.pairing import Pair
from batch.price.price_basis import Rebased
from batch.results import Check
from batch.rules import OURS, Wording, together
from batch.sheets import Column

Sort = Literal["basis", "input", "result", "name"]
SORTS: dict[str, str] = {
    "basis": "code, program or setting",
    "input": "input",
    "result": "result",
    "name": "name only",  # a panel's type name: what is built is compared apart
}


class ChangeNames(NamedTuple):
    """Whose change it is."""

    project: str = ""
    tank: str = ""
    bank: str = ""
    feeder: str = ""
    item: str = ""  # panel tag, part

    def words(self, several: bool) -> str:
        """Tank and bank, or feeder; with the project before it where there are `several`."""
        own = self.item or "/".join(filter(None, (self.tank, self.bank))) or self.feeder
        return "/".join(filter(None, (self.project if several else "", own))) or self.project or "the project"


class Cause(NamedTuple):
    """What was changed and moves a result. `alone`: a re-sizing of the old revision with that change alone gives the new figure."""

    words: str
    alone: bool


class Change(NamedTuple):
    """One cell that differs. `pair` is the place of its rows in `Comparison.pairs` (inputs and bank results); -1 = none."""

    sort: Sort
    table: str  # id of the input or result sheet
    names: ChangeNames
    column: Column
    before: object  # None = blank
    after: object
    pair: int = -1
    whole_column: bool = False  # the column stands in one revision only
    causes: tuple[Cause, ...] = ()

    @property
    def difference(self) -> float | None:
        if is_number(self.before) and is_number(self.after):
            return self.after - self.before
        return None


class ColumnChange(NamedTuple):
    """A heading of an input sheet that came, went or is worded otherwise. `rows`: rows that it is filled in for."""

    table: str
    before: str  # "" = not there
    after: str
    rows: int


class Twin(NamedTuple):
    """A row of a result sheet in both revisions, by column key; None = not there. `pair` as in `Change`."""

    table: str
    names: ChangeNames
    before: Mapping[str, object] | None
    after: Mapping[str, object] | None
    pair: int = -1


class BeforeAfter(NamedTuple):
    """One total of the page What changed."""

    key: str
    heading: str
    unit: str
    format: str
    before: float | None
    after: float | None
    project: str = ""

    @property
    def difference(self) -> float | None:
        return None if self.before is None or self.after is None else self.after - self.before

    @property
    def close(self) -> float:
        return Column(self.key, self.heading, kind="number", format=self.format, role="result").close(self.before or 0.0, self.after or 0.0)


class Order(NamedTuple):
    """Something to order or to build, in both revisions: a panel type, a part, a length of wire. Quantities are 0 where it is not there."""

    table: str  # "panel_types" or "materials"
    project: str
    name: str  # type name or stock part, after or else before
    was_named: str  # its name before, where it differs
    words: str
    unit: str
    before: float
    after: float
    price_before: float | None  # of the whole quantity; None = no price
    price_after: float | None
    known_before: float = 0.0  # of what has a price, where some of it has none
    known_after: float = 0.0

    @property
    def difference(self) -> float:
        return self.after - self.before

    @property
    def verdict(self) -> str:
        if not self.before and not self.after:  # a run whose length is not given, before and after
            return "same"
        if not self.before:
            return "new"
        if not self.after:
            return "gone"
        return "same" if abs(self.difference) <= 1e-6 else "more" if self.difference > 0 else "fewer"

    @property
    def money(self) -> float | None:
        """Price after less price before; None where either has no price and is needed."""
        if (self.before and self.price_before is None) or (self.after and self.price_after is None):
            return None
        return (self.price_after or 0.0) - (self.price_before or 0.0)


class Said(NamedTuple):
    """A finding that came or went, with how many rows say it."""

    severity: str
    code: str
    names: ChangeNames
    message: str
    advice: str
    before: int
    after: int


class Side(Struct, frozen=True):
    """How one revision is called and what it was made by; `part`: "section 2 of 3", of a job that is divided."""

    file: str
    revision: str
    program: str
    codes: tuple[str, ...]
    wordings: Mapping[str, Wording] = field(default_factory=dict)  # by project
    part: str = ""

    @property
    def words(self) -> str:
        return f"revision {self.revision}" if self.revision else self.file


class Comparison(Struct, frozen=True, dict=True):
    """Two revisions reconciled."""

    old: Side
    new: Side
    pairs: tuple[Pair, ...]
    changes: tuple[Change, ...]
    columns: tuple[ColumnChange, ...]
    offers: tuple[Offer, ...]
    twins: tuple[Twin, ...]
    figures: tuple[BeforeAfter, ...]
    orders: tuple[Order, ...]
    findings: tuple[Said, ...]
    checks: tuple[Check, ...] = ()
    currencies: Mapping[str, str] = field(default_factory=dict)  # project -> currency
    rebased: tuple[Rebased, ...] = ()  # parts whose hours moved with what their price is for
    moves: tuple[MoneyMove, ...] = ()  # of the priced parts
    steps: tuple[PriceStep, ...] = ()  # of the price

    @cached_property
    def wordings(self) -> Mapping[str, Wording]:
        """The words of each project's country, of one that stands on one side alone too."""
        return {**self.old.wordings, **self.new.wordings}

    @cached_property
    def wording(self) -> Wording:
        """The words of what is said of all projects."""
        return together([*self.old.wordings.values(), *self.new.wordings.values()])

    def words_of(self, project: str) -> Wording:
        return self.wordings.get(project, self.wording if not project else OURS)

    @property
    def called(self) -> tuple[str, str]:
        """The old and the new revision in words: by their revisions, or by their files where those do not tell them apart."""
        words = self.old.words, self.new.words
        return words if words[0] != words[1] else (self.old.file, self.new.file)

    def fate(self, at: int) -> str:
        """What became of a row: added, removed, changed or unchanged."""
        pair = self.pairs[at]
        if pair.left is None:
            return "added"
        if pair.right is None:
            return "removed"
        return "changed" if at in self.changed else "unchanged"

    @cached_property
    def several(self) -> bool:
        """Whether either revision has several projects, so that a tag alone does not say whose it is."""
        projects = [pair for pair in self.pairs if pair.either.table == "projects"]
        return any(sum(pair[side] is not None for pair in projects) > 1 for side in (0, 1))

    @cached_property
    def changed(self) -> frozenset[int]:
        """Places of the pairs in which an input differs."""
        return frozenset(change.pair for change in self.changes if change.sort in ("basis", "input") and change.pair >= 0)

    def of(self, *sorts: Sort) -> tuple[Change, ...]:
        return tuple(change for change in self.changes if change.sort in sorts)

    @property
    def empty(self) -> bool:
        """Nothing differs at all."""
        return not (
            self.changes
            or self.columns
            or self.offers
            or self.findings
            or any(pair.left is None or pair.right is None for pair in self.pairs)
            or any(order.verdict != "same" or order.money for order in self.orders)
            or any(twin.before is None or twin.after is None for twin in self.twins)
        )


class Default(str):
    """What a setting left blank means: "25 %". It stands where the comparison shows what the blank was."""

    __slots__ = ()


def amount(row: Mapping[str, object] | None, key: str) -> float:
    """A figure of a result row; nought where there is no row, or none stands in it."""
    value = None if row is None else row[key]
    return value if is_number(value) else 0.0


def is_number(value: object) -> TypeGuard[float]:
    return isinstance(value, (int, float)) and not isinstance(value, bool)
