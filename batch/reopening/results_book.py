"""A results workbook taken apart again: the job as it was received, and what the sheets of results say now, edits and all."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Mapping, Sequence
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from batch.errors import InputFileError
from batch.file_names import name_of
from batch.intake.firm_stock import FIRM_STOCK
from batch.intake.grid import Broken, Grid, worded
from batch.intake.job import Progress, assemble
from batch.intake.workbook import Workbook, load, open_workbook
from batch.ooxml.addresses import column_number, letters
from batch.ooxml.formula_cells import FormulaCells
from batch.received_rows import SentList
from batch.records import Job
from batch.reopening.as_received import kinds_of, map_of, received_grids
from batch.reopening.as_sent import came_from_of, head_of
from batch.reopening.code_taken import with_code_asked
from batch.reopening.list_again import list_again
from batch.reopening.lists_of_results import list_refusal
from batch.reopening.section_again import with_section
from batch.schedules import RESULTS
from batch.schedules.country_words import as_spoken
from batch.schedules.row_words import NOT_SIZED
from batch.schedules.sized_data import DamagedData, OwnCells, SizedData, data_of, whole
from batch.sheets import Column, Sheet
from batch.sheets.received import (
    BUDGET,
    CARRIED_WORDS,
    CONTINUED,
    DATA,
    EDIT_WORDS,
    EDITED,
    KEPT_AS_DATA,
    LONGEST_HEADING,
    MAPPED,
    OF_POSITIONS,
    OF_ROWS_SHOWN,
    OFF_PAPER,
    OFFER,
    OWN,
    PROGRAM,
    READ_FIRST,
    RECEIVED_HELP,
    RECEIVED_TITLE,
    RECEIVED_WORDS,
    ROLE_WORDS,
    ROWS_EDITED,
    SHADED,
    STORED,
    TITLE,
    WHAT_CHANGED,
)
from batch.sizing.previous_decisions import BankKey, bank_key
from batch.units import between, spelled

if TYPE_CHECKING:
    from batch.intake.column_map import ColumnMap

AS_SIZED = "sized: "  # before the key of a column whose copy stands beside the row
NO_MORE = {"materials": ("Length (ft)", "Length (m)")}  # headings of former versions that no column has any more
NAMED_CURRENCY = re.compile(r"\([^()]*\)\Z")
ADDRESS = re.compile(r"([A-Z]+)([0-9]+)")
NO_FORMULAS = FormulaCells(b"", "")  # nothing is known of any cell
LOOKED = 40  # rows in which headings are looked for
AS_READ = re.compile(r"\. Read: .* \(.* row \d+\)\Z", re.S)  # how the words on what was read of a row not sized end


class StoredRow(Struct, frozen=True):
    """One row of a result sheet as it stands: values by column key, canonical units; `columns` gives the letters of each.

    Copies of what a row was sized with have the key of their column after AS_SIZED.

    Cells that hold an error, or a formula whose result was never stored, say nothing and are left out.
    """

    sheet: str
    row: int
    values: Mapping[str, object]
    columns: Mapping[str, str]

    def cell(self, key: str) -> str:
        return f"{self.columns[key]}{self.row}"

    def text(self, key: str) -> str:
        return tag_text(self.values.get(key))

    @property
    def bank(self) -> BankKey:
        """The bank that a row of Banks, Panels or Circuits is about."""
        return bank_key(self.text("project"), self.text("tank"), self.text("bank"))


def tag_text(value: object) -> str:
    """A tag as text: a bank called 1 may have become a number in somebody's hands."""
    if value is None:
        return ""
    return str(int(value)) if isinstance(value, float) and value.is_integer() else str(value)


class Stray(NamedTuple):
    """A cell of a result sheet that belongs to none of its columns, or of a sheet as received that was typed over what this program says.

    frame   it stands where this program writes words of its own, which another version may word otherwise
    """

    sheet: str
    column: str  # letters
    row: int
    text: str
    frame: bool = False


class StoredResults(Struct, frozen=True):
    """The result sheets of a results workbook by id, and what Read first says it was made by.

    data   what it was sized with; None = written before that was kept, or `fault`
    fault  what is wrong with its data; "" = nothing
    strays what stands beside the columns of those sheets, in and above their headings, and where this program had its own words
    added  sheets that were not written with the others
    formulas  which of its cells still hold a formula
    unsized  rows of Banks that say of themselves that they are not sized: no bank of the results
    """

    program: str
    rows: Mapping[str, tuple[StoredRow, ...]]
    data: SizedData | None = None
    fault: str = ""
    strays: tuple[Stray, ...] = ()
    unsized: tuple[StoredRow, ...] = ()
    added: tuple[str, ...] = ()
    formulas: FormulaCells = NO_FORMULAS


def read_any(
    path: Path, progress: Progress | None = None, column_map: ColumnMap | None = None, filled: Mapping[tuple[str, str], str] | None = None
) -> tuple[Job, StoredResults | None]:
    """Reads a job workbook, or a results workbook: its As received sheets are the job, its other sheets come beside it.

    column_map  how a customer's own list is laid out; not asked in a results workbook, whose sheets say what they were read as
    filled      what an answer says that a cell of the list holds, by sheet and address: read in the place of what stands there

    Raises:
        InputFileError: the file cannot be read, or is a results workbook without the sheets that make it a job again.
    """
    path = Path(path)
    data = load(path)
    workbook = open_workbook(data, str(path))
    stored, results = None, None
    if is_comparison(workbook):
        raise InputFileError(f"{path}: this is a comparison of revisions, with no job in it: name one of the workbooks it was made from")
    if listing := list_refusal(path, workbook):
        raise InputFileError(listing)
    if is_quotation(workbook):
        raise InputFileError(
            f"{path}: this is a quotation that this program wrote, with no job in it: name the job or its results; answers that a customer "
            "wrote into it are read with --answers"
        )
    known, came_from = None, {}
    stock: tuple[Grid, ...] | None = None
    sent = SentList(name_of(path), data, *((column_map.name, column_map.text) if column_map is not None else ()))
    again = None
    if is_results(workbook):
        stored, results = replace(_stored(workbook), formulas=FormulaCells(data, str(path))), workbook
        came_from = dict(came_from_of(workbook, stored.data))
        received = tuple(received_grids(workbook, str(path)))
        again = list_again(workbook, stored.data) if stored.data is not None else None
        if again is None:
            known, column_map = kinds_of(workbook), map_of(workbook, str(path))
            workbook = Workbook(received, workbook.macros, workbook.slow, workbook.half_seen)
        else:
            stock = tuple(grid for grid in received if grid.name.endswith(FIRM_STOCK))
            workbook, sent, column_map = again.workbook, again.sent, again.column_map
            came_from = {**{grid.name: came_from[grid.name] for grid in stock if grid.name in came_from}, **again.came_from}
    if filled:
        workbook = replace(workbook, grids=tuple(_with(grid, filled) for grid in workbook.grids))
    digest = sha256(data).hexdigest()
    job = assemble(workbook, name_of(path), digest, progress=progress, column_map=column_map, known=known, stock=stock)
    if again is not None:
        job = replace(job, findings=(*job.findings, *again.said), map_text="")
    job = replace(job, came_from=came_from, sent=sent if job.how_read and known is None else None)
    return with_code_asked(job if results is None else with_section(job, results)), stored


def _with(grid: Grid, filled: Mapping[tuple[str, str], str]) -> Grid:
    """The sheet with other words in some of its cells."""
    own = [(cell, text) for (sheet, cell), text in filled.items() if sheet == grid.name]
    if not own:
        return grid
    rows = list(grid.rows)
    for cell, text in own:
        at = ADDRESS.fullmatch(cell)
        if at is not None and int(at[2]) <= len(rows):
            row = list(rows[int(at[2]) - 1])
            index = column_number(at[1])
            if index < len(row):
                row[index] = text
                rows[int(at[2]) - 1] = row
    return replace(grid, rows=rows)


def is_comparison(workbook: Workbook) -> bool:
    """Is it a comparison of two revisions? There is no job in it."""
    first = workbook.grids[0] if workbook.grids else None
    if first is None or first.name != WHAT_CHANGED or not first.rows:
        return False
    return any(worded(value).startswith(WHAT_CHANGED) for value in first.rows[0])


def is_quotation(workbook: Workbook) -> bool:
    """Is it a quotation, or a budget figure, as it goes to a customer? Its title says so, and how its positions are headed."""
    for grid in workbook.grids[:1]:
        rows = [[worded(value) for value in row if worded(value)] for row in grid.rows[:LOOKED]]
        titled = any(row[0] in (BUDGET, OFFER) for row in rows if row)
        heads = [tuple(words.partition(" (")[0] for words in row) for row in rows]
        return titled and OF_POSITIONS in heads
    return False


def is_results(workbook: Workbook) -> bool:
    """Is it one of our results workbooks? Its first sheet says so."""
    first = next((grid for grid in workbook.grids if grid.name == READ_FIRST), None)
    return first is not None and any(worded(value) == TITLE for row in first.rows[:3] for value in row[:2])


def _stored(workbook: Workbook) -> StoredResults:
    sheets = {name: sheet for sheet in RESULTS if sheet.id in STORED for name in (sheet.name, *sheet.also)}
    first = next(grid for grid in workbook.grids if grid.name == READ_FIRST)
    rows: dict[str, list[StoredRow]] = {}
    strays: list[Stray] = []
    unsized: list[StoredRow] = []
    for grid in workbook.grids:
        name = CONTINUED.sub("", grid.name)
        if name in sheets:
            for row in _rows(grid, sheets[name], strays):
                if _not_sized(row):  # As received has their rows
                    unsized.append(row)
                else:
                    rows.setdefault(sheets[name].id, []).append(row)
    data, fault = _data(workbook, bool(_beside(first, KEPT_AS_DATA)))
    listed = {id: tuple(some) for id, some in rows.items()}
    added: tuple[str, ...] = ()
    if data is not None:
        for grid in workbook.grids:
            if grid.name in data.received:
                strays += _over_own_words(grid, data.received[grid.name])
        names = [*(grid.name for grid in workbook.grids), *workbook.passed_over]
        added = tuple(name for name in names if data.tabs and name not in data.tabs and name != DATA)
    return StoredResults(_beside(first, PROGRAM), listed, data, fault, tuple(strays), tuple(unsized), added)


def _not_sized(row: StoredRow) -> bool:
    """Is a row that of heaters not sized: by its status or, where somebody typed over that, by our words on what was read?"""
    return row.values.get("status") == NOT_SIZED or AS_READ.search(row.text("as_read")) is not None


def _over_own_words(grid: Grid, own: OwnCells) -> Iterator[Stray]:
    """What was typed on a sheet as received where this program had its own words: above the headings, and into its first columns."""
    head = head_of(grid)
    if head is None:
        return
    begins = (RECEIVED_TITLE, RECEIVED_HELP, MAPPED, OFF_PAPER)
    for at in range(head):
        for index, value in enumerate(grid.rows[at]):
            text = worded(value).strip()
            ours = text in RECEIVED_WORDS.values() or text.startswith(begins) or len(text) > LONGEST_HEADING
            if text and not ours:
                yield Stray(grid.name, letters(index), at + 1, text, True)
    for at in grid.lines_from(head + 1):
        number, fate, why = (worded(value).strip() for value in grid.rows[at][: len(OWN)])
        if number and not (number.isdecimal() and own.first <= int(number) <= own.last):
            yield Stray(grid.name, letters(0), at + 1, number)
        if (fate, why) in own.said or not (fate or why):
            continue
        known = fate in {one for one, _ in own.said}
        yield Stray(grid.name, letters(2 if known else 1), at + 1, why if known else fate)


def _data(workbook: Workbook, promised: bool) -> tuple[SizedData | None, str]:
    """What the workbook was sized with, or what is wrong with that; neither where it was written before such data was kept."""
    grid = next((grid for grid in workbook.grids if grid.name == DATA), None)
    if grid is None:
        return None, "is gone" if promised else ""
    try:
        return data_of(whole([grid.rows[at][0] for at in grid.lines_from(1)])), ""
    except DamagedData as why:
        return None, str(why)


def _beside(grid: Grid, label: str) -> str:
    """What stands in the row of a label, in the first cell after it."""
    for row in grid.rows:
        if row and worded(row[0]) == label:
            return next((worded(value) for value in row[1:] if value not in (None, "")), "")
    return ""


def _rows(grid: Grid, sheet: Sheet, strays: list[Stray]) -> list[StoredRow]:
    """Rows below the headings; the headings are known by our own words, of this version or a former one, in either system of units."""
    spoken = as_spoken(sheet)
    columns = [column for one in reversed(spoken) for column in (*one.columns, *(copy_of(one[key]) for key in one.as_sized))]
    former = (replace(column, heading=name) for column in columns for name in column.also)
    titles = {column.title(us): (column, us) for column in (*former, *columns) for us in (False, True)}
    head = -1
    known: dict[int, tuple[Column, bool]] = {}
    for at, row in enumerate(grid.rows[:LOOKED]):
        found = {index: titles[text] for index, value in enumerate(row) if (text := _as_declared(worded(value).strip(), titles)) in titles}
        if len(found) > len(known):
            head, known = at, found
    if not known:
        return []
    places = {column.key: letters(index) for index, (column, _) in known.items()}
    own = [index for index, value in enumerate(grid.rows[head]) if worded(value).strip().startswith((EDITED, ROWS_EDITED))]
    gone = [index for index, value in enumerate(grid.rows[head]) if worded(value).strip() in NO_MORE.get(sheet.id, ())]
    beside = sorted(set(range(grid.width)) - known.keys() - {*own, *gone})
    strays += _above(grid, sheet, head, {index: column for index, (column, _) in known.items()}, [*own, *gone])
    rows = []
    for at in grid.lines:
        if at >= head:
            strays += (Stray(grid.name, letters(index), at + 1, text) for index in beside if (text := worded(grid.rows[at][index]).strip()))
        if at > head:
            told = ((index, value) for index in own if not isinstance(value := grid.rows[at][index], Broken))
            words = ((index, worded(value).strip()) for index, value in told)
            strays += (Stray(grid.name, letters(index), at + 1, text) for index, text in words if text not in ("", "0", "1", EDIT_WORDS))
        if at > head:
            cells = ((grid.rows[at][index], column, us) for index, (column, us) in known.items())
            values = {column.key: _canonical(cell, column, us) for cell, column, us in cells if not isinstance(cell, Broken)}
            rows.append(StoredRow(grid.name, at + 1, values, places))
    return rows


def _as_declared(title: str, titles: Container[str]) -> str:
    """A heading as it is declared: where it names a currency, "currency"."""
    return title if title in titles else NAMED_CURRENCY.sub("(currency)", title)


def _above(grid: Grid, sheet: Sheet, head: int, columns: Mapping[int, Column], own: Sequence[int]) -> Iterator[Stray]:
    """What stands above the headings and was not written there: title, help, totals and what the columns are."""
    helped = {words for one in as_spoken(sheet) for words in (one.help, f"{one.help} {SHADED}")}
    ours = {grid.name, *helped, OF_ROWS_SHOWN, OFF_PAPER, *ROLE_WORDS.values(), *CARRIED_WORDS.values()}
    for at in range(head):
        for index, value in enumerate(grid.rows[at]):
            text = worded(value).strip()
            total = isinstance(value, (int, float)) and (index in own or (index in columns and columns[index].total))
            if text and text not in ours and not total and not isinstance(value, Broken):
                yield Stray(grid.name, letters(index), at + 1, text, True)


def copy_of(column: Column) -> Column:
    """The column that says what a row was sized with, where `column` says what it says now."""
    also = tuple(f"{name} as sized" for name in column.also)
    return replace(column, key=AS_SIZED + column.key, heading=f"{column.heading} as sized", also=also, formula="", becomes="")


def _canonical(value: object, column: Column, us: bool) -> object:
    """A stored cell in the canonical unit; None where it is blank."""
    if value is None or value == "":
        return None
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        given, wanted = spelled(column.us_unit), spelled(column.unit)
        return between(float(value), given, wanted) if us and given and wanted else float(value)
    return value
