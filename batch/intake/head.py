"""Finds the heading row of a sheet, and the unit row below it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from batch.intake.cells import squeezed
from batch.intake.grid import Grid, blank, worded
from batch.intake.headings import Heading, Matcher, column_unit, harmless, settled, unit_in
from batch.sheets import Column, Sheet

LOOKED = 30  # rows of the used range in which the headings are looked for
LONGEST = 80  # characters of a heading; anything longer is prose


@dataclass(frozen=True, slots=True)
class Head:
    """The headings of a table and where they stand. `row` counts from 0; -1 = none found."""

    row: int
    headings: tuple[Heading, ...] = ()
    unit_row: bool = False
    by_key: dict[str, tuple[Heading, ...]] = field(default_factory=dict)

    @property
    def first_data_row(self) -> int:
        return self.row + (2 if self.unit_row else 1)

    def missing(self, sheet: Sheet) -> list[Column]:
        return [column for column in sheet.columns if column.required and column.key not in self.by_key]


def find_head(grid: Grid, matcher: Matcher) -> Head:
    """The best heading row among the first 30 rows with anything in them; the upper one among equals."""
    best, best_score, looked = -1, 0.0, 0
    for number, row in enumerate(grid.rows):
        if blank(row):
            continue
        looked += 1
        if looked > LOOKED:
            break
        score = _score(row, matcher)
        if score > best_score:
            best, best_score = number, score
    needed = sum(1 for column in matcher.sheet.columns if column.required)
    return read_head(grid, matcher, best) if best_score >= min(2, needed) and best >= 0 else Head(-1)


def _score(row: Sequence[object], matcher: Matcher) -> float:
    """How much a row looks like headings: columns found, needed ones twice, less the cells that are numbers."""
    keys: set[str] = set()
    numbers = 0
    for value in row:
        if isinstance(value, str):
            if value and len(value) <= LONGEST and (found := matcher.match(value.strip())):
                keys.add(found.key)
        elif value is not None:
            numbers += 1
    return sum(2.0 if matcher.sheet[key].required else 1.0 for key in keys) - numbers if keys else 0.0


def read_head(grid: Grid, matcher: Matcher, number: int) -> Head:
    """The headings of row `number` (from 0), from the first to the last column in use, and the units below them."""
    row = grid.rows[number]
    first, last = _span(grid, number)
    headings: list[Heading] = []
    for index in range(first, last + 1):
        text = worded(row[index]).strip()
        found = matcher.match(text) if text and len(text) <= LONGEST else None
        headings.append(replace(found, text=text, index=index) if found else Heading(text, index))
    below = grid.rows[number + 1] if number + 1 < len(grid.rows) else []
    units = _unit_row(below, matcher.sheet, headings)
    chosen = settled([units.get(heading.index, heading) for heading in headings])
    by_key: dict[str, tuple[Heading, ...]] = {}
    for heading in chosen:
        if heading.key and not heading.passed_over:
            by_key[heading.key] = (*by_key.get(heading.key, ()), heading)
    return Head(number, chosen, bool(units), by_key)


def _span(grid: Grid, number: int) -> tuple[int, int]:
    """First and last column with anything in it, from the heading row down."""
    width = len(grid.rows[number])
    low, high = width, -1
    for row in grid.rows[number:]:
        for index in range(low):
            if row[index] is not None and row[index] != "":
                low = index
                break
        for index in range(width - 1, high, -1):
            if row[index] is not None and row[index] != "":
                high = index
                break
    return (low, high) if high >= 0 else (0, 0)


def _unit_row(below: Sequence[object], sheet: Sheet, headings: Sequence[Heading]) -> dict[int, Heading]:
    """Headings with the unit from the row below, by column index; empty where that row is no unit row.

    A unit row has a unit under at least one heading, and nothing that could be data: no number, no tag.
    """
    found: dict[int, Heading] = {}
    hits = 0
    for heading in headings if below else ():
        value = below[heading.index]
        if value is None or value == "" or (isinstance(value, str) and not squeezed(value) and value.strip() != "%"):
            continue
        if not isinstance(value, str):
            return {}
        text = value.strip().strip("()[]{}").strip()
        column = sheet[heading.key] if heading.key else None
        own = column_unit(column) if column else None
        unit = unit_in(text, own) if own else None
        if unit:
            hits += 1
            found[heading.index] = replace(heading, unit=unit, strange="")
        elif own and not harmless(text):
            found[heading.index] = replace(heading, strange=text)
        elif column and column.required and own is None and not harmless(text) and squeezed(text) not in ("tag", "text", "name"):
            return {}
    return found if hits and not any(mark.isdigit() for one in found.values() for mark in one.strange) else {}


def same_order(row: Sequence[object], head: Head, matcher: Matcher) -> bool | None:
    """Is the row the headings over again? None = it is no heading row; False = headings, but in other columns."""
    texts = {index: value.strip() for index, value in enumerate(row) if isinstance(value, str) and value.strip()}
    if len(texts) < 2 or any(value is not None and not isinstance(value, str) for value in row):
        return None
    found = {index: heading.key for index, text in texts.items() if len(text) <= LONGEST and (heading := matcher.match(text))}
    if len(found) < max(2, len(texts) / 2):
        return None
    here = {heading.index: heading.key for heading in head.headings if heading.key}
    return all(here.get(index) == key for index, key in found.items())
