"""A customer's list out of its results: the file as it was sent, with what was typed over it on the sheets as received since.

A column map does not say all that a reader does with a list. Read as it was sent, its results hold and ask what the list itself did, and
what was typed is read as if the customer had written it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from msgspec.structs import replace

from batch.counted_words import few
from batch.errors import InputFileError
from batch.findings import Finding, find, remark
from batch.intake.column_map import ColumnMap, parse_map
from batch.intake.grid import Broken, Grid, blank, plain, worded
from batch.intake.workbook import Workbook, open_workbook
from batch.ooxml.addresses import letters
from batch.received_rows import CameFrom, SentList, Standing
from batch.reopening.as_received import ERRORS
from batch.reopening.as_sent import head_of
from batch.schedules.row_marks import cell_word, row_mark
from batch.schedules.sized_data import OwnCells, SizedData
from batch.sheets.received import NO_HEADING, OWN

NAMED = 6  # cells of a row in a finding
Rows = list[list[object]]


class ListAgain(NamedTuple):
    """A list as it stands by now.

    sent       the file, with all that was typed over it
    came_from  of sheets to which rows were added: where their rows stood in the file
    said       what was typed and is not taken
    """

    workbook: Workbook
    sent: SentList
    column_map: ColumnMap | None
    came_from: dict[str, CameFrom]
    said: tuple[Finding, ...]


def list_again(results: Workbook, data: SizedData) -> ListAgain | None:
    """The list of results that bring one along; None where they do not, or it can no longer be opened."""
    sent = data.sent
    if sent is None:
        return None
    try:
        book = open_workbook(sent.content, sent.name)
        column_map = parse_map(sent.map_text, sent.map_name, sent.map_name) if sent.map_text else None
    except InputFileError:
        return None
    sheets = {grid.name: _Sheet(grid, sent) for grid in book.grids}
    tabs = {grid.name: grid for grid in results.grids}
    said: list[Finding] = []
    for name, own in data.received.items():
        grid = tabs.get(name)
        head = head_of(grid) if grid is not None else None
        if own.stands is not None and own.stands.sheet in sheets:
            if grid is None or head is None:
                said.append(_gone(name))
            else:
                sheets[own.stands.sheet].take(_Tab(grid, head, own), said)
        elif own.marks and grid is not None and head is not None:
            said += _made_rows(_Tab(grid, head, own))
    typed = {(sheet.grid.name, *place): value for sheet in sheets.values() for place, value in sheet.typed.items()}
    came_from = {name: sheet.came_from() for name, sheet in sheets.items() if sheet.added}
    workbook = replace(book, grids=tuple(sheet.as_it_stands() for sheet in sheets.values()), slow=book.slow or results.slow)
    return ListAgain(workbook, replace(sent, typed=typed), column_map, came_from, tuple(said))


class _Tab(NamedTuple):
    """A sheet as received: its cells, the row of our headings, and how it was written."""

    grid: Grid
    head: int
    own: OwnCells

    def rows(self) -> Iterator[tuple[int, int, list[object]]]:
        """Of each row that holds anything its place here, its number in the list (0 = none that was written), and the rest of it."""
        for at in self.grid.lines_from(self.head + 1):
            number = worded(self.grid.rows[at][0]).strip()
            known = int(number) if number.isdecimal() and self.own.first <= int(number) <= self.own.last else 0
            yield at, known, list(self.grid.rows[at][len(OWN) :])


class _Sheet:
    """One sheet of the list, as it was sent and as it was changed before; `take` finds what was changed since.

    Several sheets as received may show one cell, so each is compared with how all were written.
    """

    def __init__(self, grid: Grid, sent: SentList) -> None:
        self.grid = grid
        self.before = {(row, column): value for (sheet, row, column), value in sent.typed.items() if sheet == grid.name}
        self.typed = dict(self.before)
        self.added: dict[int, Rows] = defaultdict(list)  # rows that stand nowhere in the file, by the number of rows before them

    def _was(self, row: int, column: int) -> object:
        if (row, column) in self.before:
            return self.before[row, column]
        rows = self.grid.rows
        return rows[row][column] if row < len(rows) and column < len(rows[row]) else None

    def take(self, tab: _Tab, said: list[Finding]) -> None:
        """What a sheet as received says by now of the part of this sheet that it shows."""
        own, width = tab.own, len(tab.own.headings)
        turned = own.stands is not None and own.stands.turned
        first = own.column or 0
        self._headings(tab, first, turned)
        seen: set[int] = set()
        before, why = own.first - 1, "rows of a list that is turned are columns of the sheet that was sent"
        for at, number, values in tab.rows():
            if not number or number in seen:
                if turned and not blank(values):
                    said.append(_not_taken(tab.grid.name, at, values, why))
                elif not blank(values):
                    self.added[before].append([*[""] * first, *values])
                continue
            seen.add(number)
            before = number
            self._line(number - 1, first, values, own.stands)
        for number in sorted(set(range(own.first, own.last + 1)) - seen):
            self._line(number - 1, first, [""] * width, own.stands)

    def _line(self, line: int, first: int, values: Sequence[object], stands: Standing | None) -> None:
        turned, unseen = (stands.turned, stands.unseen) if stands is not None else (False, ())
        for column, value in enumerate(values, first):
            place = (column, line) if turned else (line, column)
            if column not in unseen and cell_word(value) != cell_word(plain(self._was(*place))):
                self.typed[place] = "" if value is None else value

    def _headings(self, tab: _Tab, first: int, turned: bool) -> None:
        if not tab.own.heading_row:
            return
        written = (*tab.own.headings, *[""] * tab.grid.width)
        for column, (value, was) in enumerate(zip(tab.grid.rows[tab.head][len(OWN) :], written, strict=False), first):
            text = worded(value).strip()
            if text != was.strip() and not text.startswith(NO_HEADING):
                line = tab.own.heading_row - 1
                self.typed[(column, line) if turned else (line, column)] = text

    def as_it_stands(self) -> Grid:
        """The sheet with all that was typed. What is struck, hidden, merged or commented stays with its row."""
        if not self.typed and not self.added:
            return self.grid
        added = [len(row) for some in self.added.values() for row in some]
        width = max([self.grid.width, *added, *(column + 1 for _, column in self.typed)])
        own = [[*row, *[""] * (width - len(row))] for row in self.grid.rows]
        own += [[""] * width for _ in range(len(own), max((row + 1 for row, _ in self.typed), default=0))]
        for (line, column), value in self.typed.items():
            own[line][column] = _cell(value)
        rows: Rows = []
        for at in range(len(own) + 1):
            rows += [[*map(_cell, row), *[""] * (width - len(row))] for row in self.added.get(at, [])]
            rows += own[at : at + 1]
        grid, down = self.grid, self._down
        return replace(
            grid, rows=rows, hidden_rows=tuple(down(row - 1) + 1 for row in grid.hidden_rows),
            merged=tuple((down(top), left, down(bottom), right) for top, left, bottom, right in grid.merged),
            struck=frozenset((down(row), column) for row, column in grid.struck),
            left_unstruck={(down(row), column): text for (row, column), text in grid.left_unstruck.items()},
            comments={(down(row), column): text for (row, column), text in grid.comments.items()},
        )  # fmt: skip

    def _down(self, row: int) -> int:
        """Where a row of the file stands by now."""
        return row + sum(len(some) for before, some in self.added.items() if before <= row)

    def came_from(self) -> CameFrom:
        columns = {letters(at): letters(at) for at in range(self.grid.width)}
        return CameFrom(self.grid.name, 0, {self._down(row) + 1: row + 1 for row in range(len(self.grid.rows))}, columns, 0)


def _cell(value: object) -> object:
    if type(value) is str and value in ERRORS:
        return Broken(value, True)
    return "" if value is None else value


def _made_rows(tab: _Tab) -> Iterator[Finding]:
    """Rows that were changed on a sheet whose cells stand elsewhere in the file."""
    for place, (at, _, values) in enumerate(tab.rows()):
        mark = tab.own.marks[place] if place < len(tab.own.marks) else ""
        if row_mark(values) != mark:
            yield _not_taken(tab.grid.name, at, values, "its rows are made of cells that stand on another sheet as received")


def _not_taken(sheet: str, at: int, values: Sequence[object], why: str) -> Finding:
    words = few([worded(value) for value in values if value not in (None, "")], NAMED) or "nothing"
    why = f"{why}; change it where the list itself has it"
    said = remark("edit-not-taken", "", column=f"Row {at + 1}", after=f"“{words}”", before="other words", why=why)
    return find(said, sheet=sheet, cell=f"A{at + 1}", seen=words)


def _gone(name: str) -> Finding:
    why = "the sheet was deleted, or has lost its headings, and what it showed is sized all the same; delete its rows to leave them out"
    return find(remark("edit-not-taken", "", column=f"Sheet {name}", after="nothing", before="rows of the list", why=why), sheet=name)
