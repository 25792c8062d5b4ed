"""A sheet's own log of its revisions, "C | T-202 kW, T-206/207 qty, T-208 deleted": the rows that bear the letter stand as it left them."""

from __future__ import annotations

from collections.abc import Sequence

from batch.intake.columns_aside import heading_at
from batch.intake.grid import Grid
from batch.intake.line_kinds import Line
from batch.intake.list_words import of_changes
from batch.intake.survey import cells_of, flat

LONGEST_MARK = 3  # letters of a revision's mark: judgement, no source


def rows_of_issue(grid: Grid, heading_rows: Sequence[int], lines: Sequence[Line], place: tuple[int, int]) -> set[int]:
    """The rows that bear, under "REV", the mark that stands alone before a sentence. `place`: its row and column, from 0."""
    row, column = place
    cells = cells_of(grid.rows[row]) if row < len(grid.rows) else []
    before = [flat(value).strip(" .:") for at, value in cells if at < column and isinstance(value, str)]
    mark = before[0].casefold() if len(cells) == len(before) + 1 == 2 and len(before[0]) <= LONGEST_MARK else ""
    columns = [at for at in range(grid.width) if mark and of_changes(heading_at(grid, heading_rows, at))]
    return {line.index for line in lines for at, value in line.cells if at in columns and flat(value).strip(" .:").casefold() == mark}
