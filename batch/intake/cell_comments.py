"""Comments on the cells of a row: they say of it what a remark does, and more than the cell."""

from __future__ import annotations

from batch.intake.grid import Grid
from batch.intake.line_kinds import DOUBT, Line
from batch.intake.list_columns import NEEDED
from batch.intake.plan import ListPlan
from batch.intake.remark_words import plain_remark
from batch.intake.survey import flat
from batch.intake.turned import its_cell

BESIDE = 3  # columns behind a table in which a comment is still about its row: judgement, no source
LONGEST = 80  # letters of a comment that are quoted


def asked_by_comment(line: Line, plan: ListPlan, grid: Grid) -> None:
    """A row with a comment is in doubt: one on a cell that it is sized with, or elsewhere in it one that says more than "checked"."""
    facts = (line.facts.get(key) for key in (*NEEDED, "total_kw", "description"))
    needed = {fact.index for fact in facts if fact is not None and not fact.source}
    for at in range(plan.first, plan.last + 1 + BESIDE) if grid.comments else ():
        said = grid.comments.get((line.index, at))
        if said is not None and (at in needed or not said or not plain_remark(said)):
            cell = its_cell(plan.turned, line.index, at)
            why = f'{cell} has the comment "{flat(said)[:LONGEST]}", which' if said else f"{cell} has a comment, which is not read and"
            line.kind, line.why, line.at = DOUBT, why, at
            return
