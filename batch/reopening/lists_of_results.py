"""The workbooks that list results, of a job's sections or of a folder's bids: known for what they are, since no job is in them."""

from __future__ import annotations

from pathlib import Path

from batch.intake.grid import Grid, worded
from batch.intake.workbook import Workbook
from batch.sheets import Sheet
from batch.sheets.portfolio import PORTFOLIO, SECTIONS

LOOKED = 12  # rows, for its headings
SHOWN = 3  # names of results


def list_refusal(path: Path, workbook: Workbook) -> str:
    """Why a list of results is not read, and which workbooks to name, in one line; "" where it is none."""
    for grid in workbook.grids[:1]:
        for sheet, what in ((SECTIONS, "the list of the sections of a job"), (PORTFOLIO, "a portfolio of bids")):
            if (names := _listed(grid, sheet)) is not None:
                some = ", ".join(names[:SHOWN]) + (f" and {len(names) - SHOWN:,} more" if len(names) > SHOWN else "")
                return f"{path}: this is {what}, with no job in it: name {some + ', or ' if some else ''}the job"
    return ""


def _listed(grid: Grid, sheet: Sheet) -> list[str] | None:
    """The results that it names; None where it is no such list."""
    if grid.name != sheet.name:
        return None
    heads = [column.heading for column in sheet.columns[:SHOWN]]
    for at, row in enumerate(grid.rows[:LOOKED]):
        words = [worded(value) for value in row]
        if words[: len(heads)] == heads:
            column = next((index for index, word in enumerate(words) if word == sheet.by_key["results"].heading), len(words))
            return [worded(row[column]) for row in grid.rows[at + 1 :] if column < len(row) and worded(row[column])]
    return None
