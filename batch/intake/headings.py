"""Which column a heading means, and in which unit the bare numbers below it stand."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from batch.intake.cells import squeezed
from batch.ooxml.addresses import letters
from batch.sheets import Column, Sheet
from batch.units import Unit, find_unit, spelled

BRACKETS = re.compile(r"[(\[{]([^()\[\]{}]*)[)\]}]")
TAIL = re.compile(r"\s*[,;:/|–—-]\s*([^,;:|–—]+)\Z|\s+in\s+(\S+)\Z")
WORD = re.compile(r"[^\s,;:()\[\]{}|]+")
# words beside a heading that change nothing about what its numbers mean; "total" is not among them
HARMLESS = frozenset(
    {"each", "ea", "pcs", "optional", "required", "needed", "rated", "nominal", "inside", "internal", "clear", "per", "of", "one", "way"}
    | {"heater", "heaters", "if", "any", "known", "see", "notes", "note", "yes", "no", "y", "n", "or", "ac"}
)
# words of a heading above several others that change nothing about them; "total", "supply", "existing" are not among them
GROUPS = frozenset(
    {"heater", "heaters", "immersion", "electric", "electrical", "heating", "element", "elements", "tank", "tanks", "bath", "baths"}
    | {"bank", "banks", "data", "details", "detail", "information", "info", "general", "identification", "id", "process", "equipment"}
    | {"rating", "ratings", "rated", "nameplate", "schedule", "list", "each", "per", "one", "of", "the", "for", "location", "project"}
)
JOINED = " | "  # between a heading above several columns and the heading below it
UNIT_WORDS = {"wattage": "W"}  # heading words that are no unit but leave no doubt about it


class Heading(Struct, frozen=True):
    """One heading of a table. `key` "" = it rides along; `rank` 0 = the column's own name, 1 = another name of it."""

    text: str
    index: int = -1  # of the column in the sheet, 0 is A
    key: str = ""
    rank: int = 0
    unit: Unit | None = None  # of bare numbers below; None = not said
    strange: str = ""  # what stands where a unit belongs and is none
    passed_over: bool = False  # could be `key`, but a better heading is
    unit_at: int = -1  # of the column beside it that holds the unit of each of its numbers
    beside: str = ""  # holds the units of the column `beside`


def column_unit(column: Column) -> Unit | None:
    """The unit that the column's values are kept in; None where they have none."""
    return spelled(column.unit) if column.kind in ("number", "integer", "volts") else None


def unit_in(text: str, own: Unit, strict: bool = True) -> Unit | None:
    """The unit of the same quantity that `text` is: by itself, or with harmless words ("kW each").

    strict  any other word beside the unit spoils it ("total kW"); else the last word that is a unit counts
    """
    text = text.strip().strip(".*:").strip()
    whole = spelled(text)
    if whole and whole.quantity == own.quantity:
        return whole
    found: Unit | None = None
    for word in WORD.findall(text):
        word = UNIT_WORDS.get(word.casefold(), word)
        one = spelled(word) or spelled(word.strip(".*"))
        if one and one.quantity == own.quantity:
            found = one
        elif strict and squeezed(word) not in HARMLESS:
            return None
    return found


def harmless(text: str) -> bool:
    """Do the words say nothing about the unit?"""
    return all(squeezed(word) in HARMLESS or not squeezed(word) or word.isdigit() for word in re.split(r"[\s/,;-]+", text))


class Matcher:
    """Matches headings to the columns of one sheet, whatever their case, spacing, punctuation or unit; remembers them."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.known: dict[str, tuple[str, int]] = {}
        for column in sheet.columns:
            for own in (column.heading, column.key):
                self.known[squeezed(own)] = (column.key, 0)
        for column in sheet.columns:
            for other in column.also:
                self.known.setdefault(squeezed(other), (column.key, 1))
        self.known.pop("", None)
        self._memory: dict[str, Heading | None] = {}

    def match(self, text: str) -> Heading | None:
        """What a heading means; None where it is none of the sheet's columns."""
        try:
            return self._memory[text]
        except KeyError:
            self._memory[text] = found = self._match(text)
            return found

    def _look(self, text: str) -> tuple[str, int] | None:
        return self.known.get(squeezed(text))

    def _match(self, text: str) -> Heading | None:
        group, joined, below = text.rpartition(JOINED)
        if joined:
            whole = self._match_one(f"{group} {below}")
            if whole or any(squeezed(word) not in GROUPS for word in WORD.findall(group)):
                return replace(whole, text=text) if whole else None
            text = below
        return self._match_one(text)

    def _match_one(self, text: str) -> Heading | None:
        inside = [part.strip() for part in BRACKETS.findall(text)]
        base = BRACKETS.sub(" ", text).strip()
        if inside and (at := self._look(text)):
            return self._with_unit(text, at, [], text)
        if at := self._look(base):
            return self._with_unit(text, at, inside, base)
        for shorter, tail in _shortened(base):
            if at := self._look(shorter):
                own = column_unit(self.sheet[at[0]])
                if harmless(tail) or (own and unit_in(tail, own)):
                    return self._with_unit(text, at, [*inside, tail], shorter)
        return None

    def _with_unit(self, text: str, at: tuple[str, int], beside: Sequence[str], base: str) -> Heading:
        key, rank = at
        own = column_unit(self.sheet[key])
        if own is None:
            return Heading(text, key=key, rank=rank)
        strange = ""
        for part in beside:
            unit = unit_in(part, own)
            if unit is None and squeezed(part) and not harmless(part):
                unit = find_unit(part, own.quantity)
                strange = strange or ("" if unit else part)
            if unit:
                return Heading(text, key=key, rank=rank, unit=unit, strange=strange)
        return Heading(text, key=key, rank=rank, unit=None if strange else unit_in(base, own, strict=False), strange=strange)

    def near(self, text: str, keys: Sequence[str]) -> str:
        """The column among `keys` whose name is nearly `text`; "" where none is. For offering, never for assuming."""
        from difflib import get_close_matches

        wanted = {name: key for name, (key, _) in self.known.items() if key in keys and len(name) > 2}
        bare = squeezed(BRACKETS.sub(" ", text))
        close = get_close_matches(bare, wanted, n=1, cutoff=0.75) if len(bare) > 2 else []
        return wanted[close[0]] if close else ""


def _shortened(base: str) -> list[tuple[str, str]]:
    """(heading without its unit, the unit) for "Power, W", "Power - W", "Power in W", "Power W"."""
    pairs = []
    if tail := TAIL.search(base):
        pairs.append((base[: tail.start()], tail[1] or tail[2] or ""))
    words = base.split()
    pairs += [(" ".join(words[:-count]), " ".join(words[-count:])) for count in (1, 2) if len(words) > count]
    return pairs


def settled(headings: Sequence[Heading]) -> tuple[Heading, ...]:
    """A column's own name wins over its other names: a heading that loses is passed over and rides along."""
    best: dict[str, int] = {}
    for heading in headings:
        if heading.key:
            best[heading.key] = min(best.get(heading.key, heading.rank), heading.rank)
    return tuple(replace(one, passed_over=True) if one.key and one.rank > best[one.key] else one for one in headings)


def letters_of(headings: Sequence[Heading]) -> str:
    """Column letters of some headings: "C, F"."""
    return ", ".join(letters(heading.index) for heading in headings)
