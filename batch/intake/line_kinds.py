"""What a row of a list can be, a row as it was read, and the supply that a sentence names."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from msgspec import Struct, field

from batch.intake.facts import Fact, figure
from batch.intake.note_numbers import number_off
from batch.intake.supply_notation import PHASES_OR_COUNT, supply_in_text

DATA, TOTAL, NOTE, BANNER, AGAIN, UNITS, OUT, DOUBT, OTHER, HIDDEN, SPARE, UNHEATED = (
    "data", "a total", "a note", "a banner", "headings again", "unit row", "taken out", "in doubt", "not a heater", "hidden",
    "an empty form row", "a tank without heaters",
)  # fmt: skip
OF_A_PANEL = re.compile(
    r"\W*(?:panel(?:board)?|pnl|mcc|switchboard|dist(?:ribution)? board|db|verteil\w*|uv|schaltschrank|tableau|armoire|coffret|cuadro"
    r"|tablero|quadro|verdeler|verdeelkast|kast|rozdzielni\w*|tavle|fordeling|central|rozvad[eě]\w*)\b",
    re.IGNORECASE,
)


OPEN_END = re.compile(r"(?:,?\s+(?:which|and))?\s*,?\Z")  # of a reason that a sentence goes on from: `"T-9", below the list,`


def by_itself(why: str) -> str:
    """A reason for a doubt where no sentence goes on from it: without the comma or the "which" that it ends with there."""
    return OPEN_END.sub("", why)


class Line(Struct):
    """One row as it was read. `index` counts from 0."""

    index: int
    kind: str = DATA
    why: str = ""
    facts: dict[str, Fact] = field(default_factory=dict)
    text: str = ""  # what the kind was told by
    at: int = 0  # column of it
    cells: list[tuple[int, object]] = field(default_factory=list)
    banner: str = ""
    spare_at: int = -1  # column of the words that explain the spare of "4+1"
    referred: bool = False  # does it say "same as" of a row that was found?
    aside: tuple[int, str, str] | None = None  # column and text of a remark that takes no row out, and why
    doubt: str = ""  # what of its description is not sure
    open: tuple[str, ...] = ()  # keys of the figures that a row in doubt leaves open, where the doubt itself says so

    def value(self, key: str) -> object:
        fact = self.facts.get(key)
        return fact.value if fact is not None else None

    def figure(self, key: str) -> float | None:
        """The value of a column as a number; None where it is none."""
        return figure(self.value(key))


class StatedSupply(NamedTuple):
    volts: float | None
    phases: int | None


@lru_cache(maxsize=16384)
def supply_in(text: str) -> StatedSupply | None:
    """Volts and phases that a sentence names; None where it names neither, or is in doubt."""
    said = supply_in_text(text)
    if said is None or not said.sure or (said.volts is None and said.phases not in (1, 3)) or said.current == "DC":
        return None
    if said.volts_to_neutral is not None and said.phases != 3:
        return None
    return StatedSupply(said.volts, said.phases if said.phases in (1, 3) else None)


def supply_beside(text: str) -> StatedSupply | None:
    """The supply that a sentence beside a list names. "All heaters 3 x 400 V" counts none: no power and no other figure stands in it but
    the number that it bears as a note."""
    if (said := supply_in(text)) is not None:
        return said
    text = number_off(text)
    full = supply_in_text(text)
    if full is None or full.contradictions or len(full.doubts) != 1 or not full.doubts[0].endswith(PHASES_OR_COUNT):
        return None
    if full.volts is None or full.phases not in (1, 3) or full.volts_to_neutral is not None or full.current == "DC":
        return None
    taken = {at for _, start, end in full.spans for at in range(start, end)}
    if any(sign.isdigit() and at not in taken for at, sign in enumerate(text)):
        return None
    return StatedSupply(full.volts, full.phases)


_CLAUSES = re.compile(r"(?<=\D)[.;]\s+|\s[–—-]\s|\n")
_PARTS = re.compile(r",\s+|\s(?:and|und|et|y|e|en|i|og|och|with|mit)\s")


@lru_cache(maxsize=4096)
def supplies_in(text: str) -> tuple[StatedSupply, ...]:
    """Every supply that a sentence names, each in a clause of its own: of three phases 400 V, of one 230 V."""
    found: list[StatedSupply] = []
    for clause in _CLAUSES.split(text):
        whole = supply_in(clause)
        if whole is not None:
            found.append(whole)
            continue
        parts = [supply for part in _PARTS.split(clause) if (supply := supply_in(part)) is not None]
        found += parts
    return tuple(dict.fromkeys(found))
