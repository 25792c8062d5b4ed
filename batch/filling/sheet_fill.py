"""One sheet of a customer's workbook: where its results go, and the sheet with them in place."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence
from itertools import pairwise

from batch.counted_words import counted
from batch.errors import CannotFill
from batch.filling.answers import MOST_LINES, SheetAnswers
from batch.filling.around import Around
from batch.filling.beside import Reach, blocks, reach
from batch.filling.edit import filled_in
from batch.filling.live_status import UNWATCHED, live_status
from batch.filling.looks import model_column
from batch.filling.may_fill import refuse_protected
from batch.filling.pieces import Value
from batch.filling.place import first_column
from batch.ooxml.addresses import LAST_ROW, letters
from batch.ooxml.shared_texts import shared_texts
from batch.ooxml.sheet_xml import CellSeen, RowSeen, Survey, check_well_formed, column_of, rows_of, survey, whole
from batch.sheets import FILLED, FILLED_TITLES

GAP = 2  # rows from the last one that holds anything to what is said below the list
FARTHEST_BELOW = 1000  # rows from the list to that: more would never be seen
COUNT = len(FILLED.columns)


class SheetFill:
    """A sheet that can be filled, and where.

    Raises:
        CannotFill: it cannot safely be filled: why, and what to do.
    """

    def __init__(self, around: Around, answers: SheetAnswers) -> None:
        self.around, self.answers = around, answers
        _refuse_side_by_side(answers, around.sheets)
        _refuse_filled(answers)
        self.part = around.sheets[answers.sheet].part
        self.content = b"".join(around.package.chunks(self.part))
        first, last = min(answers.heads), max([*answers.heads, *answers.rows])
        self.seen = survey(self.content, first, last)
        refuse_protected(answers.sheet, self.seen)
        beside = blocks(around.package, self.part, self.seen)
        self.below_at = self.seen.last_row + GAP
        below = (self.below_at, self.below_at + 2 * MOST_LINES)
        read = max(_reach(around, answers.sheet, self.seen, *rows) for rows in ((first, last), below))
        right = _right_of_list(answers, self.seen)
        self.start = first_column(
            self.seen, list_right=right, blocks=beside, read=read, plain_styles=around.styles.plain, count=COUNT, rows=(first, last)
        )
        if self.below_at - last > FARTHEST_BELOW or below[1] > LAST_ROW:
            raise CannotFill(f"row {self.seen.last_row} holds something far below the list: delete it, and save")

    def write(self, below: Sequence[str]) -> bytes:
        """The sheet's part with the answers beside their rows and the lines of `below` under the list."""
        answers, start, styles = self.answers, self.start, self.around.styles
        wanted = {*answers.rows, *answers.heads, *range(self.below_at, self.below_at + len(below))}
        rows = rows_of(self.content, wanted, range(start), start)
        cells: dict[int, dict[int, tuple[str, Value]]] = {}
        for number in answers.heads:
            standing = rows[number].cells if number in rows else []
            look = next((cell.style for cell in reversed(standing) if cell.filled and cell.column < start), "0")
            cells[number] = {start + at: (look, column.title()) for at, column in enumerate(answers.columns)}
        cells |= self._answers(rows)
        cells |= {self.below_at + at: {start: ("0", line)} for at, line in enumerate(below)}
        breaks = cells[answers.heads[0]][start][0] in styles.wrapped
        room = 2 if breaks else 1  # lines that a heading takes
        widths = {start + at: max(column.width, len(column.title()) // room + 3) for at, column in enumerate(answers.columns)}
        new = filled_in(self.content, self.seen, rows, cells, widths)
        check_well_formed(new)
        return new

    def _answers(self, rows: Mapping[int, RowSeen]) -> dict[int, dict[int, tuple[str, Value]]]:
        """The new cells of the list's rows: row -> column -> (style, value)."""
        answers, start, styles = self.answers, self.start, self.around.styles
        model = model_column(self.seen.looks, range(start), styles)
        watched = {
            number: {column_of(f"{name}1") for key, name in answer.bank.origin.columns.items() if key not in UNWATCHED}
            for number, answer in answers.rows.items() if answer.bank is not None
        }  # fmt: skip
        standing = {number: {cell.column: cell for cell in rows[number].cells} if number in rows else {} for number in answers.rows}
        texts = shared_texts(self.around.package, self.around.texts, _text_numbers(standing, watched))
        cells: dict[int, dict[int, tuple[str, Value]]] = {}
        for number, answer in answers.rows.items():
            here = standing[number]
            look = here[model].style if model in here and here[model].style in styles.plain else "0"
            values = dict(answer.values)
            if number in watched:
                values["status"] = live_status(str(values["status"]), number, watched[number], here, lambda at: texts.get(at, ""))
            cells[number] = {
                start + at: (look, values.get(column.key))
                for at, column in enumerate(FILLED.columns)
                if values.get(column.key) is not None or (look != "0" and start + at not in here)
            }
        return cells

    def words(self) -> list[str]:
        """What there is to say of the filled sheet."""
        sized = sum("heater_a" in answer.values for answer in self.answers.rows.values())
        where = f"sheet {self.answers.sheet}, columns {letters(self.start)} to {letters(self.start + COUNT - 1)}"
        counts = f"{counted(sized, 'row')} with sizes, {len(self.answers.rows) - sized} with the reason why not"
        said = [f"filled in on {where}: {counts}; cautions from row {self.below_at}"]
        if self.answers.sheet in self.around.printed:
            said.append(f"sheet {self.answers.sheet} keeps its print area, so the new columns are not printed until it is widened")
        return said


def _text_numbers(standing: Mapping[int, Mapping[int, CellSeen]], watched: Mapping[int, set[int]]) -> set[int]:
    """Of the shared texts in the watched cells and in those beside them, which may hold their units."""
    near = {number: columns | {column + 1 for column in columns} for number, columns in watched.items()}
    cells = (standing[number].get(column) for number, columns in near.items() for column in columns)
    return {at for cell in cells if cell is not None and cell.type == "s" and (at := whole(cell.value)) is not None}


def _refuse_side_by_side(answers: SheetAnswers, sheets: Container[str]) -> None:
    """Two lists beside each other leave no right-hand side to the left one. Reading tells them apart by the columns in their names."""
    spans = sorted((table.heading_row, max([table.heading_row, *(row.row for row in table.rows)])) for table in answers.tables)
    if answers.sheet not in sheets or any(later[0] <= earlier[1] for earlier, later in pairwise(spans)):
        raise CannotFill("it has heater lists side by side: put one below the other, or on a sheet of its own")


def _refuse_filled(answers: SheetAnswers) -> None:
    """A list is filled once: results of an earlier run beside new ones could be taken for them."""
    for table in answers.tables:
        if sum(heading.endswith(FILLED_TITLES) for heading in table.headings) >= 2:  # below a heading over several columns, perhaps
            raise CannotFill(
                f'it is filled in already (columns from "{FILLED.columns[0].title()}" on): '
                "fill the list as it came, or delete those columns and what stands below them"
            )


def _right_of_list(answers: SheetAnswers, seen: Survey) -> int:
    """The last column that belongs to the list for certain: one it was read from, or that stands next to such."""
    known = [column_of(f"{name}1") for answer in answers.rows.values() if answer.bank for name in answer.bank.origin.columns.values()]
    if known:
        return max(known)
    right = min(seen.filled, default=0)  # no row of it could be read: from its first column as far as there is no gap
    while right + 1 in seen.filled:
        right += 1
    return right


def _reach(around: Around, sheet: str, seen: Survey, first: int, last: int) -> Reach:
    own = [(f"the formula in {address}", sheet, text, shared) for address, text, shared in seen.formulas]
    own += [("a small chart in a cell", sheet, tag.text, False) for tag in seen.tags if tag.name == "f" and "sparkline" in tag.path]
    others = (formula for formula in around.formulas if formula[1] != sheet)
    return reach([*own, *others], sheet, first, last)
