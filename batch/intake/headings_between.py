"""Headings of another table in the middle of a list, such as tank sizes below the heaters: what stands below them is none of the list."""

from __future__ import annotations

from batch.intake.grid import Grid
from batch.intake.line_kinds import Line
from batch.intake.list_words import meanings
from batch.intake.plan import ListPlan
from batch.intake.survey import flat

STATED = ("quantity", "power_kw", "total_kw", "volts_v")  # columns of numbers that make a heater
SURE = 0.8  # of what a heading means


def of_another_table(line: Line, grid: Grid, plan: ListPlan) -> bool:
    """Does a heading stand over numbers, powers or volts of this list that surely means another column, and is none of its own?"""
    own = {(at, flat(value)) for row in plan.heading_rows for at, value in enumerate(grid.rows[row - 1])}
    texts = {at: text for at, value in line.cells if (text := flat(value)) and (at, text) not in own}
    over = [(key, meanings(texts[column.index])) for key, column in plan.columns.items() if key in STATED and column.index in texts]
    return any(found and found[0].score >= SURE and all(one.key != key for one in found) for key, found in over)
