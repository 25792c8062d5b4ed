"""The sentences that stand around a table on its sheet."""

from __future__ import annotations

from batch.intake.grid import Grid
from batch.intake.survey import cells_of, flat


def texts_around(grid: Grid, top: int, end: int, start: int) -> list[tuple[int, int, str]]:
    """Sentences of the sheet that stand above a table or below its first row, alone or nearly so in their row."""
    found = []
    for line in grid.lines:
        cells = cells_of(grid.rows[line])
        words = [(at, flat(value)) for at, value in cells if isinstance(value, str) and len(value) > 4]
        if words and (line < top or (line >= start and len(cells) <= 3)):
            found += [(line, at, text) for at, text in words]
    return found
