"""The sentences that stand around a table on its sheet."""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.grid import Grid
from batch.intake.line_kinds import OF_A_PANEL, supply_beside, supply_in
from batch.intake.panel_sides import circuits_again, mirrored
from batch.intake.survey import Region, cells_of, flat
from batch.intake.tank_words import tank_named
from batch.ooxml.addresses import letters

LEAST_OF_A_ROW = 3  # cells of a row of a table
LEAST_LETTERS = 4  # that a sentence has more of: judgement, no source
LEAST_MIRRORED = 3  # headings of a panel's side
SAYS_OF_ALL = re.compile(r"=|\b\d{2,3}\s*V\b|\bx\s*\d|\d\s*x\b|\bper\b|\brev\b", re.IGNORECASE)  # "kW = total per tank", "All 240V"
OF_A_LINE = re.compile(r"(?:line|linie|ligne|l[ií]nea|linea|lijn|linia|linha|linje|linka)\s*(?:no\.?|nr\.?|#)?\s*\w{1,3}\b", re.IGNORECASE)


class TurnedRow(int):
    """The row in which a text beside a turned list counts as standing, before its tanks or behind them; it stands in `sheet_row`."""

    sheet_row: int

    @classmethod
    def of(cls, row: int, sheet_row: int) -> TurnedRow:
        one = cls(row)
        one.sheet_row = sheet_row
        return one


def cell_of(row: int, column: int) -> str:
    """The cell of a text beside a list, as the sheet has it."""
    return f"{letters(column)}{(row.sheet_row if isinstance(row, TurnedRow) else row) + 1}"


def texts_around(grid: Grid, top: int, end: int, start: int) -> list[tuple[int, int, str]]:
    """Sentences of the sheet that stand above a table or below its first row, alone or nearly so in their row."""
    found = []
    for line in grid.lines:
        cells = cells_of(grid.rows[line])
        words = [(at, flat(value)) for at, value in cells if isinstance(value, str) and len(value) > LEAST_LETTERS]
        titled = any(OF_A_PANEL.match(text) for _, text in words[:1])  # a further panel's own title, with its supply and its main beside
        if words and (line < top or (line >= start and (len(cells) <= 3 or titled))):
            found += [(line, at, text) for at, text in words]
    comments = ((row, at, flat(text)) for (row, at), text in sorted(grid.comments.items()) if not start <= row <= end)
    return [*found, *(one for one in comments if len(one[2]) > LEAST_LETTERS)]


def around_table(region: Region, others: Sequence[Region]) -> list[tuple[int, int, str]]:
    """Sentences around a table: those above its headings, less what stands over a table beside it; and what groups its headings."""
    beside = [one for one in others if one is not region and one.top == region.top and not _mirrored(one, region)]
    texts = texts_around(region.grid, region.top, region.end, region.start)
    own = {row for row, column, _ in texts if region.first <= column <= region.last}
    texts = [
        one
        for one in texts
        if one[0] >= region.top or one[0] not in own or not any(other.first <= one[1] <= other.last for other in beside)
    ]
    over = [one for one in others if one.top < region.top and one.first <= region.last and region.first <= one.last]
    last = max((one.start for one in over), default=-1)
    rows = {row for one in over for row in range(one.top, region.top) if len(cells_of(region.grid.rows[row])) >= LEAST_OF_A_ROW}
    texts = [one for one in texts if one[0] not in rows]  # cells of a table above are not about this one
    own_supply = any(last < row < region.top and supply_beside(text) is not None for row, _, text in texts)
    if own_supply:  # it goes before that of a table above it
        texts = [one for one in texts if one[0] > last or supply_in(one[2]) is None]
    again = [cells_of(region.grid.rows[region.start - 1])] if region.start > 0 else []
    if not any(OF_A_PANEL.match(text) for _, _, text in texts):  # whose titles say what each panel's circuits hang on
        texts = [one for one in texts if one[0] < region.start or not _heads(region.grid, one[0] + 1, again)]
    below = {one.top - 1 for one in others if one.top > region.top and one.first <= region.last and region.first <= one.last}
    # "LINE 2" over a further table is no line of this, and its supply is not this one's
    texts = [one for one in texts if one[0] not in below or not (OF_A_LINE.match(one[2]) or supply_in(one[2]) is not None)]
    groups = {column.text.removesuffix(column.lone).strip(): column.index for column in region.columns if column.lone and column.spread}
    texts = [*texts, *behind_the_headings(region)]
    return [*texts, *((region.top - 1, index, text) for text, index in groups.items() if supply_beside(text) is not None)]


def behind_the_headings(region: Region) -> list[tuple[int, int, str]]:
    """Cells of the headings' row that head nothing, "T-2 deleted", "kW = total per tank": words about the list. Row and column from 0."""
    found = []
    rows = [region.grid.rows[line] for line in region.lines()]
    for column in region.columns:
        text = flat(column.text)
        says = len(text.split()) > 1 and (SAYS_OF_ALL.search(text) or tank_named(text).tags)
        if says and not any(column.index < len(row) and row[column.index] not in ("", None) for row in rows):
            found.append((region.start - 1, column.index, text))
    return found


def _heads(grid: Grid, line: int, again: Sequence[object]) -> bool:
    """Does a row say the headings of the table again, so that what stands over it is over the rows below it alone?"""
    return line < len(grid.rows) and cells_of(grid.rows[line]) in again


def _mirrored(one: Region, other: Region) -> bool:
    """Are two tables the sides of one panel's schedule: the same headings, from the outside in? What stands over one is over both."""
    left, right = (one, other) if one.first < other.first else (other, one)
    texts = [column.text for column in (*left.columns, *right.columns)]
    return len(left.columns) == len(right.columns) >= LEAST_MIRRORED and (mirrored(texts) or circuits_again(texts))
