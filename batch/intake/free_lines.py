"""Requests in sentences: one tank a line, in one column, without headings, as an e-mail has them."""

from __future__ import annotations

from batch.intake.grid import Grid
from batch.intake.plan import ColumnPlan, ListPlan
from batch.intake.prose import LEAST_LINES, POWERED
from batch.intake.survey import HeadingColumn, Region, cells_of, flat
from batch.intake.tank_words import tank_named

MOST_BESIDE = 0.2  # of the rows may hold more than the one cell


def free_text(grid: Grid) -> tuple[Region, ListPlan] | None:
    """The column of sentences, from the first that names a tank to the last; None where the sheet is none."""
    alone = {line: cells_of(grid.rows[line]) for line in grid.lines}
    told: dict[int, list[int]] = {}
    for line, cells in alone.items():
        if len(cells) == 1 and isinstance(cells[0][1], str):
            text = flat(cells[0][1])
            if tank_named(text).by_word and POWERED.search(text):
                told.setdefault(cells[0][0], []).append(line)
    at, lines = max(told.items(), key=lambda one: len(one[1]), default=(0, []))
    if len(lines) < LEAST_LINES or sum(len(cells) > 1 for cells in alone.values()) > MOST_BESIDE * len(alone):
        return None
    named = [line for line, cells in alone.items() if cells[0][0] == at and tank_named(flat(cells[0][1])).by_word]
    start, end = named[0], grid.lines[-1]
    region = Region(grid, start, start - 1, start, end, [HeadingColumn(at)])
    column = ColumnPlan("description", at, "", "", "likely", "its sentences name tanks and powers")
    plan = ListPlan(grid.name, (), at, at, start + 1, end + 1, {"description": column}, free=True, of_heaters=True)
    return region, plan
