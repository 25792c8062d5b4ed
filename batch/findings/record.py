"""Findings: one record per thing a person should know, one kind per sort of thing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import IntEnum
from string import Formatter
from typing import NamedTuple

from msgspec import Struct

from batch.errors import SpecificationError


class Severity(IntEnum):
    """Worst first, so that sorting and min() mean what they should."""

    HOLD = 0
    CAUTION = 1
    NOTE = 2

    @property
    def word(self) -> str:
        return self.name.lower()


class Effect(IntEnum):
    """What a hold does to its row: left out of every total, or sized and marked."""

    NONE = 0
    NOT_SIZED = 1
    NOT_RELEASED = 2

    @property
    def word(self) -> str:
        return ("", "not sized", "not released for fabrication")[self]

    @property
    def status(self) -> str:
        """What the row itself says."""
        return ("", "not sized", "HOLD (not released for fabrication)")[self]


class Harm(IntEnum):
    """What can come of a finding that nobody looks at, worst first: the order within one severity."""

    FIRE = 0
    SHOCK = 1
    OVERLOAD = 2  # of a conductor, a device or a heater
    MONEY = 3
    OTHER = 4

    @property
    def word(self) -> str:
        return ("fire", "shock", "overload", "price", "")[self]

    @property
    def hurts(self) -> bool:
        """Whether it can hurt somebody."""
        return self <= Harm.OVERLOAD


class Kind(Struct, frozen=True):
    """One sort of finding. `template` is filled from named fields; `advice` says what to do.

    by_feeder  many banks of a feeder may carry it: the list of findings says it once a feeder, with the banks; of many feeders once
    by_project  a note or caution that many rows of a project may carry in words of their own: said once, each with its tags
    by_cause   of such a kind the first sentence is the cause: what has another cause is said apart
    holds_itself  a hold of what says it alone: what hangs on that is whole and may be built, but is to be looked at
    """

    code: str
    severity: Severity
    title: str
    template: str
    basis: str  # names clauses and tables of the rule set in braces: "{subdivision}", "{table_ampacity}"
    advice: str
    effect: Effect = Effect.NONE
    harm: Harm = Harm.OTHER
    by_feeder: bool = False
    by_project: bool = False
    by_cause: bool = False
    holds_itself: bool = False

    def __post_init__(self) -> None:
        if (self.severity is Severity.HOLD) != (self.effect is not Effect.NONE):
            raise SpecificationError(f"finding {self.code}: a hold, and only a hold, says what it does to its row")

    @property
    def fields(self) -> frozenset[str]:
        return frozenset(name for _, name, _, _ in Formatter().parse(self.template) if name)

    @property
    def clauses(self) -> frozenset[str]:
        """Names of the clauses and tables that its basis is filled with."""
        return frozenset(name for _, name, _, _ in Formatter().parse(self.basis) if name)


class Remark(NamedTuple):
    """What a pure function has to say: a kind, the column it is about (a key of the sheet), and the words' fields.

    Carries no tag and no address, so that equal designs have equal remarks; see `Remark.at`.
    """

    code: str
    about: str
    fields: tuple[tuple[str, str], ...]


def remark(code: str, about: str = "", /, **fields: object) -> Remark:
    """A remark; numbers in `fields` should come already worded ("12.5 A")."""
    return Remark(code, about, tuple((name, str(value)) for name, value in fields.items()))


class Remarks:
    """Collects what is said on the way, in the order it is said; the same is said once."""

    __slots__ = ("_said",)

    def __init__(self, said: Iterable[Remark] = ()) -> None:
        self._said: dict[Remark, None] = dict.fromkeys(said)

    def add(self, code: str, about: str = "", /, **fields: object) -> None:
        """Say something: arguments as of `remark`."""
        self._said[remark(code, about, **fields)] = None

    def take(self, *remarks: Remark) -> None:
        """Say what was said elsewhere."""
        self._said.update(dict.fromkeys(remarks))

    def __iter__(self) -> Iterator[Remark]:
        return iter(self._said)


class Finding(Struct, frozen=True):
    """A remark with its address: what a person reads."""

    kind: Kind
    message: str
    project: str = ""
    tank: str = ""
    bank: str = ""
    feeder: str = ""
    sheet: str = ""  # the sheet's name in the user's workbook
    cell: str = ""  # "F17"; "" where it concerns the whole sheet or file
    seen: str = ""  # the value as it stood in the cell
    basis: str = ""  # the kind's, its clauses those of the edition in force

    @property
    def code(self) -> str:
        return self.kind.code

    @property
    def severity(self) -> Severity:
        return self.kind.severity

    @property
    def address(self) -> str:
        return f"{self.sheet}!{self.cell}" if self.cell else self.sheet
