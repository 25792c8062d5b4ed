"""Where the tables of a customer's list stand, cell for cell, in the file that was sent."""

from __future__ import annotations

import re
from collections.abc import Sequence, Set

from msgspec.structs import replace

from batch.intake.grid import Grid, plain
from batch.received_rows import ReceivedRow, ReceivedTable, Standing

TURNED = ", turned"  # at the end of the name of a sheet that was turned over
PART = re.compile(r", columns [A-Z]+ to [A-Z]+\Z")  # and of one of several tables beside each other


def standing(tables: Sequence[ReceivedTable], grids: Sequence[Grid]) -> tuple[ReceivedTable, ...]:
    """The tables, each with the sheet that it stands on as it is there. One whose cells are otherwise there, or elsewhere, has none."""
    by_name = {grid.name: grid for grid in grids}
    return tuple(replace(table, stands=_standing(table, by_name)) for table in tables)


def _standing(table: ReceivedTable, grids: dict[str, Grid]) -> Standing | None:
    names = (Standing(table.sheet), Standing(PART.sub("", table.sheet)), Standing(table.sheet.removesuffix(TURNED), True))
    for place in names:
        grid = grids.get(place.sheet)
        if grid is None:
            continue
        pairs = [(row.values, _there(table, row, grid, place.turned)) for row in table.rows]
        unseen: set[int] = set()
        if place.turned:
            blank = ((at, there[at]) for values, there in pairs for at, value in enumerate(values) if value is None)
            unseen = {table.first + at for at, cell in blank if cell is not None}
        if all(_same(values, there, {line - table.first for line in unseen}) for values, there in pairs):
            return place._replace(unseen=tuple(sorted(unseen)))
    return None


def _there(table: ReceivedTable, row: ReceivedRow, grid: Grid, turned: bool) -> list[object]:
    """What stands on the sheet where a row of the table has its cells."""
    number, last = row.row, table.first + len(row.values)
    if turned:
        there = [line[number - 1] for line in grid.rows[table.first : last] if number <= len(line)]
    else:
        there = list(grid.rows[number - 1][table.first : last]) if number <= len(grid.rows) else []
    return [*map(plain, there), *[None] * (len(row.values) - len(there))]


def _same(values: Sequence[object], there: Sequence[object], unseen: Set[int]) -> bool:
    return all(value == cell for at, (value, cell) in enumerate(zip(values, there, strict=True)) if at not in unseen)
