"""What sheets without a list of their own, a letter, a cover, a page of notes, say of the rows of the lists on other sheets."""

from __future__ import annotations

from collections.abc import Sequence

from batch.intake.grid import Grid
from batch.intake.legends import columns_of_notes
from batch.intake.said_in_notes import asked_by_notes, told_by_sheet
from batch.intake.study import Studied
from batch.intake.supply_by_size import supplies_of_cover
from batch.intake.totals_by_notes import shared_by_notes


def hear_notes(grid: Grid, studied: Sequence[Studied]) -> None:
    """A sheet without a list may say something of the rows of the others, in a letter or in two words: a cover, a revision's remarks."""
    texts = told_by_sheet(grid)
    for one in studied if texts else ():
        if one.heaters != "yes" or one.sheet == grid.name:
            continue
        if not one.plan.given:
            supplies_of_cover(one, texts, grid.name)
            asked_by_notes(one.lines, texts, sheet=grid.name, noted=columns_of_notes(one.grid, one.plan.heading_rows))
        shared_by_notes(one.verdict, one.lines, texts, sheet=grid.name)  # of which a map has no line
