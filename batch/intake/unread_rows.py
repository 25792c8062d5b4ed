"""How many rows of a workbook may say nothing that a job is made of.

Rows of a job in our own form have no limit but memory: whoever has a hundred thousand heaters would rather wait than be refused. What
is no such row costs as much to look at and gives nothing: a file of rubbish has millions of them, and a list in a layout of its own
is studied in many passes. Those are counted over all sheets, so that no file takes longer to be refused than a real one to be read.
"""

from __future__ import annotations

from collections.abc import Container, Sequence

from batch.errors import InputFileError
from batch.intake.grid import Grid
from batch.intake.headings import Matcher
from batch.intake.recognise import kind_of_name, own_form
from batch.intake.table import Table
from batch.sheets import HEATERS

MOST_UNREAD = 100_000  # rows: some 10 s of faults, some 40 s of a customer's list (measured), and more than any list of heaters has


class UnreadRows:
    """How many rows may still go unread, over all tables of a workbook."""

    def __init__(self, book: str) -> None:
        self.book, self.left = book, MOST_UNREAD
        self._table: Table | None = None

    def check(self, table: Table) -> None:
        """Refuses the workbook where so many rows of the table that is being read, and of those before it, say nothing of a job."""
        if table is not self._table:
            self.left -= len(self._table.refused) if self._table is not None else 0
            self._table = table
        if len(table.refused) > self.left:
            what = f"more than {MOST_UNREAD:,} rows, up to sheet {table.grid.name}, hold something that is no row of a job"
            raise InputFileError(f"{self.book}: {what}: take them out, and leave the rows of tanks and heaters")


def refuse_long_lists(grids: Sequence[Grid], heaters: Matcher, book: str, known: Container[str]) -> None:
    """Refuses a workbook with too many rows on sheets in no form of ours. `known`: sheets of which it is known what they are."""
    rest = [grid for grid in grids if grid.name not in known]
    if sum(grid.filled for grid in rest) <= MOST_UNREAD:
        return
    if len(rest) < len(grids) or any(own_form(grid, heaters) for grid in rest):  # else a tab called Tanks may be the list of heaters
        rest = [grid for grid in rest if _listed(grid) and not own_form(grid, heaters)]
    if sum(grid.filled for grid in rest) > MOST_UNREAD:
        what = f"more than {MOST_UNREAD:,} rows, up to sheet {rest[-1].name}, are in no form of ours"
        raise InputFileError(f"{book}: {what}: copy the rows of heaters into a blank job workbook, which takes any number")


def _listed(grid: Grid) -> bool:
    """May the sheet be a customer's list, by its tab's name?"""
    kind = kind_of_name(grid.name)
    return kind is None or kind[0] is HEATERS
