"""Where the sheets as received of a results workbook stood in the list that was sent."""

from __future__ import annotations

from collections.abc import Iterator

from batch.intake.grid import Grid, worded
from batch.intake.workbook import Workbook
from batch.ooxml.addresses import letters
from batch.received_rows import CameFrom
from batch.schedules.sized_data import SizedData
from batch.sheets.received import OWN, RECEIVED_TITLE

LOOKED = 40  # rows in which headings are looked for


def head_of(grid: Grid) -> int | None:
    """The row of a sheet as received that holds our own headings."""
    return next((at for at, row in enumerate(grid.rows[:LOOKED]) if tuple(map(worded, row[: len(OWN)])) == OWN), None)


def came_from_of(workbook: Workbook, data: SizedData | None) -> Iterator[tuple[str, CameFrom]]:
    """Where each sheet as received stood in the list that was sent, by its title, its column Sheet row and the data of the workbook."""
    for grid in workbook.grids:
        own = data.received.get(grid.name) if data is not None else None
        head = head_of(grid)
        title = next((worded(value) for row in grid.rows[:1] for value in row[:1]), "")
        if own is None or own.column is None or head is None or not title.startswith(RECEIVED_TITLE):
            continue
        numbers = ((at + 1, worded(grid.rows[at][0]).strip()) for at in grid.lines_from(head + 1))
        rows = {at: int(number) for at, number in numbers if number.isdecimal()}
        there = ((at, at - len(OWN) + own.column) for at in range(len(OWN), grid.width))
        columns = {letters(at): letters(index) for at, index in there if index >= 0}
        yield grid.name, CameFrom(title.removeprefix(RECEIVED_TITLE), own.column, rows, columns, len(OWN))
