"""Finds the heading rows of a table, one or two, and the unit row below them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from msgspec import Struct, field
from msgspec.structs import replace

from batch.intake.cells import Outcome, reader, squeezed
from batch.intake.grid import Grid, blank, worded
from batch.intake.headings import JOINED, Heading, Matcher, column_unit, harmless, settled, unit_in
from batch.sheets import Column, Sheet
from batch.units import find_unit, spelled

LOOKED = 30  # rows of the used range in which the headings are looked for
LONGEST = 80  # characters of a heading; anything longer is prose
SEEN = 200  # rows below the headings whose cells are looked at to learn what a column holds
UNIT_HEADINGS = frozenset({"", "unit", "units", "uom", "um", "unitofmeasure"})  # of a column that holds the units of the one before it
GIVES = {"phases": "volts_v", "quantity": "power_kw"}  # a column whose cells may hold that of another: "480/3/60", "3 x 6 kW"


class Head(Struct, frozen=True):
    """The headings of a table and where they stand. Rows count from 0; `row` is the last of the heading rows, -1 = none found."""

    row: int
    headings: tuple[Heading, ...] = ()
    unit_row: bool = False
    by_key: dict[str, tuple[Heading, ...]] = field(default_factory=dict)
    rows: int = 1  # heading rows
    given: frozenset[str] = frozenset()  # columns without a heading that the cells of another column, or a map, give

    @property
    def top(self) -> int:
        return self.row - self.rows + 1

    @property
    def first_data_row(self) -> int:
        return self.row + (2 if self.unit_row else 1)

    def missing(self, sheet: Sheet) -> list[Column]:
        here = self.by_key.keys() | self.given
        return [column for column in sheet.columns if column.required and not here & {column.key, column.instead}]


def find_head(grid: Grid, matcher: Matcher) -> Head:
    """The best heading row, or pair of rows, among the first 30 rows with anything in them; the upper one among equals."""
    best, best_rows, best_score = -1, 1, 0.0
    for number in grid.lines[:LOOKED]:
        rows, score = _rows_at(grid, number, matcher)
        if score > best_score:
            best, best_rows, best_score = number, rows, score
    needed = sum(1 for column in matcher.sheet.columns if column.required)
    return read_head(grid, matcher, best, best_rows) if best_score >= min(2, needed) and best >= 0 else Head(-1)


def head_at(grid: Grid, matcher: Matcher, number: int) -> Head:
    """The headings that begin in row `number`."""
    return read_head(grid, matcher, number, _rows_at(grid, number, matcher)[0])


def _rows_at(grid: Grid, number: int, matcher: Matcher) -> tuple[int, float]:
    """How many heading rows begin in a row, 1 or 2, and how much they look like headings.

    Two only where they tell of more columns together than each by itself.
    """
    one, keys = _score(grid.rows[number], matcher)
    if number + 1 < len(grid.rows) and not blank(grid.rows[number + 1]):
        below, keys_below = _score(grid.rows[number + 1], matcher)
        both, keys_of_both = _score(joined(grid, number), matcher)
        if keys_of_both > max(keys, keys_below) and both > max(one, below):
            return 2, both
    return 1, one


def _score(row: Sequence[object], matcher: Matcher) -> tuple[float, int]:
    """How much a row looks like headings (columns found, needed ones twice, less the cells that are numbers); columns found."""
    keys: set[str] = set()
    numbers = 0
    for value in row:
        if isinstance(value, str):
            if value and len(value) <= LONGEST and (found := matcher.match(value.strip())):
                keys.add(found.key)
        elif value is not None:
            numbers += 1
    return (sum(2.0 if matcher.sheet[key].required else 1.0 for key in keys) - numbers if keys else 0.0), len(keys)


def joined(grid: Grid, number: int) -> list[object]:
    """Two heading rows as one: a heading above several columns stands before each of theirs, as in "Heater | Volts".

    It reaches as far as its merged cell does; where it is not merged, up to the next heading beside it or a column without
    one of its own below. A number anywhere is kept, so that a row of data spoils the pair.
    """
    upper, lower = grid.rows[number], grid.rows[number + 1]
    reach = {first: last for top, first, _, last in grid.merged if top == number and last > first}
    texts: list[object] = []
    group, until = "", -1
    for index, below in enumerate(lower):
        above = upper[index]
        if not isinstance(above, str | None) or not isinstance(below, str | None):
            return [*upper, *lower]
        own, below = (above or "").strip(), (below or "").strip()
        if own:
            group, until = (own, reach.get(index, len(lower))) if below else ("", -1)
        elif not below:
            group = ""
        over = group if index <= until else ""
        texts.append(f"{over}{JOINED}{below}" if over and below else own or below)
    return texts


def read_head(grid: Grid, matcher: Matcher, number: int, rows: int = 1) -> Head:
    """The headings that begin in row `number` (from 0), from the first to the last column in use, and the units below them."""
    cells = grid.rows[number] if rows == 1 else joined(grid, number)
    first, last = span(grid, number)
    headings: list[Heading] = []
    for index in range(first, last + 1):
        text = worded(cells[index]).strip()
        found = matcher.match(text) if text and len(text) <= 2 * LONGEST else None
        headings.append(replace(found, text=text, index=index) if found else Heading(text, index))
    return finished(grid, matcher.sheet, headings=headings, row=number + rows - 1, rows=rows)


def finished(grid: Grid, sheet: Sheet, *, headings: Sequence[Heading], row: int, rows: int, given: frozenset[str] = frozenset()) -> Head:
    """The head of a table from its headings: with the units below them, or beside them, and what the cells of others give."""
    below = grid.rows[row + 1] if row + 1 < len(grid.rows) else []
    units = _unit_row(below, sheet, headings)
    chosen = settled([units.get(heading.index, heading) for heading in headings])
    chosen = _units_beside(grid, sheet, chosen, row + (2 if units else 1))
    by_key: dict[str, tuple[Heading, ...]] = {}
    for heading in chosen:
        if heading.key and not heading.passed_over:
            by_key[heading.key] = (*by_key.get(heading.key, ()), heading)
    head = Head(row, chosen, bool(units), by_key, rows, given)
    return replace(head, given=given | _given_by_others(grid, sheet, head)) if sheet.id == "heaters" and head.missing(sheet) else head


def span(grid: Grid, number: int) -> tuple[int, int]:
    """First and last column with anything in it, from the heading row down."""
    width = grid.width
    low, high = width, -1
    for at in grid.lines_from(number):
        row = grid.rows[at]
        for index in range(low):
            if row[index] is not None and row[index] != "":
                low = index
                break
        for index in range(width - 1, high, -1):
            if row[index] is not None and row[index] != "":
                high = index
                break
        if low == 0 and high == width - 1:
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


def _units_beside(grid: Grid, sheet: Sheet, headings: Sequence[Heading], start: int) -> tuple[Heading, ...]:
    """Headings joined with the column beside them that holds the unit of each number: headed "Unit", or not headed at all."""
    found = list(headings)
    for at, (heading, beside) in enumerate(pairwise(headings)):
        own = column_unit(sheet[heading.key]) if heading.key and not heading.passed_over else None
        if own is None or beside.key or squeezed(beside.text.rpartition(JOINED)[2]) not in UNIT_HEADINGS:
            continue
        cells = {worded(row[beside.index]).strip() for row in (grid.rows[line] for line in grid.lines_from(start)[:SEEN])} - {""}
        units = [text for text in cells if (unit := spelled(text)) and unit.quantity == own.quantity]
        if units and (beside.text or len(units) == len(cells)):
            found[at] = replace(heading, unit_at=beside.index)
            found[at + 1] = replace(beside, beside=heading.key)
    return tuple(found)


def _given_by_others(grid: Grid, sheet: Sheet, head: Head) -> frozenset[str]:
    """Needed columns without a heading whose values the cells of another column hold, as "480/3/60" holds the phases."""
    found = set()
    for column in head.missing(sheet):
        source = GIVES.get(column.key)
        if source is None:
            continue
        for heading in head.by_key.get(source, ()):
            read = reader(sheet[source], heading.unit)
            outcomes = [read(grid.rows[line][heading.index]) for line in grid.lines_from(head.first_data_row)[:SEEN]]
            if any(type(one) is Outcome and column.key in one.also for one in outcomes):
                found.add(column.key)
    return frozenset(found)


def unit_from(text: str, column: Column):
    """The unit of a column that `text` spells, however rare; None where it is none."""
    own = column_unit(column)
    return find_unit(text, own.quantity) if own else None


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
