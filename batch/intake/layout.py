"""How a table is laid out beyond its headings: units beside their numbers, merged cells, tables beside each other, decimal marks."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from batch.findings import Finding, Remark, find, remark
from batch.intake.cells import Outcome, Reader, reader
from batch.intake.columns import LEAST_POWER_KW
from batch.intake.grid import Grid, shown, worded
from batch.intake.head import Head, unit_from
from batch.intake.headings import Heading
from batch.intake.numbers import decimal_mark
from batch.ooxml.addresses import letters
from batch.sheets import Column, Sheet

COUNTED = frozenset({"quantity", "power_kw"})  # one merged cell of these may be the sum of its rows, so it holds for its first row only
NUMERIC = ("number", "integer", "volts")
MOST_MERGED = 2_000_000  # cells
MARKS = {",": "comma", ".": "point"}


def shape(row: Sequence[object]) -> tuple[str, ...]:
    """What two rows of headings have in common where one repeats the other."""
    return tuple(value.strip().casefold() if isinstance(value, str) else worded(value) for value in row)


def careful(column: Column, learned: Reader, plain: Reader) -> Reader:
    """A reader that trusts a learned mark only as far as what it reads is likely.

    "1,250 W" beside "7,5 kW" would be 1.25 W, which no heater has: there the two meanings are told, and neither is taken.
    """
    if column.key != "power_kw":
        return learned

    def read(cell: object) -> object:
        value = learned(cell)
        power = value.value if type(value) is Outcome else value
        return plain(cell) if type(power) is float and power < LEAST_POWER_KW else value

    return read


class UnitBeside:
    """Reads a number whose unit stands in the cell beside it."""

    def __init__(self, column: Column, heading: Heading, plain: Reader, marks: Marks) -> None:
        self.column, self.at, self.plain, self.marks = column, heading.unit_at, plain, marks
        self.known: dict[str, Reader] = {}

    def __call__(self, cell: object, row: Sequence[object]) -> object:
        text = worded(row[self.at]).strip()
        if not text:
            return self.plain(cell)
        if text not in self.known:
            unit = unit_from(text, self.column)
            learned = reader(self.column, unit, "" if unit else text, decimal=self.marks.decimal)
            plain = reader(self.column, unit, "" if unit else text)
            self.known[text] = careful(self.column, learned, plain) if self.marks.used else learned
        value = self.known[text](cell)
        if type(value) is Outcome and value.code == "unit-unknown-heading":  # the unit is that of the cell beside, not of a heading
            return value._replace(code="unit-unknown")
        return value


class Marks:
    """Which mark stands before decimals in the numbers that were typed as text: known, or learned where one has two meanings."""

    def __init__(self, grid: Grid, sheet: Sheet, decimal: str = "") -> None:
        self.grid, self.sheet, self.decimal = grid, sheet, decimal
        self.asked = False
        self.used, self.seen, self.example = "", "", ""

    def learn(self, head: Head, cell: str, value: object) -> bool:
        """Looks at every number typed as text below the headings; False where they tell nothing, or contradict each other."""
        if self.asked:
            return False
        self.asked = True
        numeric = [one.index for key, some in head.by_key.items() if self.sheet[key].kind in NUMERIC for one in some]
        found: dict[str, str] = {}
        for line in self.grid.lines_from(head.first_data_row):
            for index in numeric:
                text = self.grid.rows[line][index]
                if type(text) is str and (mark := decimal_mark(text)):
                    found.setdefault(mark, text.strip())
        if len(found) != 1:
            return False
        self.decimal, self.example = next(iter(found.items()))
        self.used, self.seen = cell, shown(value)
        return True

    def said(self) -> Remark:
        return remark("decimal-mark-learned", sheet=self.grid.name, mark=MARKS[self.decimal], example=shown(self.example))


def fill_merged(grid: Grid, head: Head) -> list[str]:
    """Gives every row of a merged cell its value, where each row is one of the table; returns the columns in which it did."""
    keys = {heading.index: key for key, some in head.by_key.items() for heading in some if key not in COUNTED}
    filled: list[str] = []
    work = 0
    for top, left, bottom, _ in grid.merged:
        if bottom <= top or top < head.first_data_row or left not in keys or top >= len(grid.rows):
            continue
        value = grid.rows[top][left]
        first, last = bisect_right(grid.lines, top), bisect_right(grid.lines, bottom)
        work += last - first
        if work > MOST_MERGED:  # more than there can be rows: merged cells that overlap, as no program writes them
            break
        for line in grid.lines[first:last]:
            if grid.rows[line][left] in ("", None) and value not in ("", None):
                grid.rows[line][left] = value
                if keys[left] not in filled:
                    filled.append(keys[left])
    return filled


def side_by_side(head: Head, sheet: Sheet) -> list[tuple[int, int]]:
    """First and last columns of tables that stand beside each other under one row of headings; one span where there is one table."""
    some = [[heading.index for heading in head.by_key.get(column.key, ())] for column in sheet.columns if column.required]
    count = len(some[0]) if some else 0
    if len(some) < 2 or count < 2 or any(len(places) != count for places in some):
        return [(head.headings[0].index, head.headings[-1].index)] if head.headings else []
    firsts = [min(places[at] for places in some) for at in range(count)]
    lasts = [max(places[at] for places in some) for at in range(count)]
    if any(last >= first for last, first in zip(lasts, firsts[1:], strict=False)):
        return [(head.headings[0].index, head.headings[-1].index)]
    texts = {heading.index: heading.text for heading in head.headings}
    begins = [head.headings[0].index]
    for at in range(1, count):
        opening = texts[begins[0]]
        between = [index for index in range(lasts[at - 1] + 1, firsts[at] + 1) if texts.get(index) == opening and opening]
        begins.append(between[0] if between else firsts[at])
    ends = [begin - 1 for begin in begins[1:]] + [head.headings[-1].index]
    return list(zip(begins, ends, strict=True))


def parted(grid: Grid, spans: Sequence[tuple[int, int]]) -> tuple[list[Grid], list[Finding]]:
    """The sheet as one grid for each table, and what is to be said of that."""
    names = [f"{letters(first)} to {letters(last)}" for first, last in spans]
    grids = [grid.part(f"{grid.name}, columns {name}", *span) for name, span in zip(names, spans, strict=True)]
    said = remark("tables-side-by-side", sheet=grid.name, count=len(spans), columns=", ".join(names))
    return grids, [find(said, sheet=grids[0].name)]
