"""The rows of every sheet counted twice: as the sheet was opened, and as each row got its fate."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from batch.intake.grid import Grid
from batch.intake.head import Head
from batch.intake.table import Table
from batch.received_rows import Accounted, ReceivedTable


def accounted(grids: Sequence[Grid], received: Iterable[ReceivedTable], tables: Iterable[Table]) -> tuple[Accounted, ...]:
    """Rows that hold something as each sheet was opened, against the rows that were read and those with another fate."""
    read: dict[str, set[int]] = {}
    told: dict[str, set[int]] = {}
    of = {grid.name: grid for grid in grids}
    for table in received:
        if table.sheet not in of and (", turned" in table.sheet or ", blocks in column " in table.sheet):
            continue  # its rows are none of the sheet's
        sheet = _sheet(table.sheet, of)
        for row in table.rows:
            if not row.refused:
                read.setdefault(sheet, set()).add(row.row)
            elif any(value is not None for value in row.values):
                told.setdefault(sheet, set()).add(row.row)
    for read_table in tables:
        if read_table.extent is None:
            sheet = _sheet(read_table.grid.name, of)
            told.setdefault(sheet, set()).update(_headed(read_table.head, read_table.grid))
    out = []
    for grid in grids:
        mine = read.get(grid.name, set())
        others = told.get(grid.name, set()) - mine
        lines = {line + 1 for line in grid.lines}
        out.append(Accounted(grid.name, grid.filled, len(mine & lines), len(others & lines)))
    return tuple(out)


def _headed(head: Head, grid: Grid) -> set[int]:
    """The rows of a sheet in our own form that are its headings, or stand above them."""
    return {line + 1 for line in grid.lines if line <= head.row}


def _sheet(name: str, of: dict[str, Grid]) -> str:
    if name in of:
        return name
    return next((grid for grid in sorted(of, key=len, reverse=True) if name.startswith(f"{grid}, ")), name)
