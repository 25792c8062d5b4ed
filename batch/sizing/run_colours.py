"""Of which colours the conductors of a run are, by the supply lines that its circuits are on: where the firm buys wire by colour."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from batch.money_records import Pricing
from batch.records import Supply
from batch.results import BankRow, PanelDesign, Wires
from batch.rules import RuleSet
from batch.sizing.placing import groups, lines_of_terminals, terminals_of
from batch.sizing.stock import Stock
from batch.sizing.take_off_parts import choose_wire
from batch.sizing.words import size_words

LINES = "ABC"
BLACK = "black"
NOT_LISTED = "the Stock sheet lists no such wire in "
NO_SIZE = "Largest size in colour on Pricing is no wire size: "
SPELLINGS = (("gray", "grey"),)  # of one colour


class Dyed(NamedTuple):
    """So many line conductors of one circuit set after another, as one line of the take-off; `why`: why no part was looked for."""

    part: str
    words: str
    many: int
    why: str = ""


class RunColours:
    """Line conductors told apart by colour: those of the lines that a project or tank asks for, else the trade's for the volts.

    own   colours of lines in their order, by folded tank, and "" of the project
    """

    def __init__(self, stock: Stock, rules: RuleSet, pricing: Pricing | None, own: Mapping[str, Sequence[str]]) -> None:
        self._stock, self._rules, self._own = stock, rules, own
        self.asked = pricing is not None and pricing.wire_colours == "yes"
        self._largest = pricing.colour_to if pricing is not None else None

    def dyed(self, wires: Wires, lines: Mapping[str, int], count: int, supply: Supply, tank: str = "") -> list[Dyed]:
        """`count` line conductors of a run. `lines`: how many are on A, B and C; what is on none of them, as at a wye point, is black, and
        so is what is larger than the largest size in colour."""
        limit = self._rules.size_named(self._largest) if self._largest else None
        if self._largest and limit is None:
            words = f"{size_words(wires.size)} {wires.material} {wires.insulation}"
            return [Dyed("", words, count, f"{NO_SIZE}{self._largest}")]
        if limit is not None and self._rules.rank(wires.size) > self._rules.rank(limit):
            return [self._line(wires, BLACK, count, ", its ends marked by phase")]
        hues: Counter[str] = Counter()
        for line in LINES:
            if lines.get(line) and line != supply.grounded:
                hues[self._colour(line, supply, tank)] += lines[line]
        if rest := count - hues.total():
            hues[BLACK] += rest
        return [self._line(wires, hue, many) for hue, many in hues.items()]

    def neutral(self, wires: Wires, size: str) -> tuple[str, str]:
        """Part and words of a neutral."""
        hue = self._rules.marking.colours["neutral_in_words"]
        return self._part(wires, size, hue.split(" or ")), f"{size_words(size)} {wires.material} {wires.insulation}, {hue}"

    def why_no_neutral(self, part: str) -> str:
        """Why a neutral in its colour has no part; "" where it has one, or any colour serves."""
        return "" if part or not self.asked else f"{NOT_LISTED}{self._rules.marking.colours['neutral_in_words']}"

    def _line(self, wires: Wires, hue: str, count: int, more: str = "") -> Dyed:
        part = self._part(wires, wires.size, [hue])
        words = f"{size_words(wires.size)} {wires.material} {wires.insulation}, {hue}{more}"
        return Dyed(part, words, count, "" if part else f"{NOT_LISTED}{hue}")

    def _part(self, wires: Wires, size: str, hues: Iterable[str]) -> str:
        spelt = tuple(hue for asked in hues for hue in next((same for same in SPELLINGS if asked.strip() in same), (asked.strip(),)))
        return choose_wire(size, wires.material, wires.insulation, False, stock=self._stock, rules=self._rules, colours=spelt)

    def _colour(self, line: str, supply: Supply, tank: str) -> str:
        at = LINES.index(line)
        own = self._own.get(tank.casefold()) or self._own.get("", ())
        return own[at % len(own)] if own else self._rules.marking.phase_colour(at + 1, supply.volts_v)


def branch_lines(row: BankRow) -> Counter[str]:
    """How many branch conductors of one set are on each supply line, as Circuits has their phases."""
    parts = (part for group, start in _placed(row) for leg in group.legs for part in lines_of_terminals(leg, start, row.supply).split("-"))
    return Counter(part for part in parts if part in LINES)


def feed_lines(row: BankRow, wires: Wires) -> Counter[str]:
    """The same of the panel feeders that have these wires."""
    return Counter(
        line for group, start in _placed(row) if group.panel_feeder_wires == wires
        for part in terminals_of(group) for line in lines_of_terminals(part, start, row.supply).split("-")
    )  # fmt: skip


def supply_lines(wires: Wires) -> Counter[str]:
    """The same of a feeder or a way."""
    return Counter(LINES[: wires.lines])


def times(lines: Mapping[str, int], sets: int) -> dict[str, int]:
    """So many of them for each parallel set."""
    return {line: many * sets for line, many in lines.items()}


def _placed(row: BankRow) -> Iterator[tuple[PanelDesign, int]]:
    return zip(groups(row.design), row.starts, strict=True)
