"""The table of one sheet: its headings, the rows that could be read, and why the others were not."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct, field

from batch.counted_words import counted as in_number
from batch.findings import Finding
from batch.intake.grid import Grid, plain, worded
from batch.intake.head import Head
from batch.ooxml.addresses import letters
from batch.origin import Origin
from batch.received_rows import NOTHING_READ, ReceivedRow, ReceivedTable, StatedTotal
from batch.sheets import Sheet

if TYPE_CHECKING:
    from batch.intake.column_map import TableMap
    from batch.intake.plan import ListPlan

NAMING = ("project", "tank", "bank", "feeder")
BLANK = "blank row"
# fates of rows that hold no data of their own; a row refused for any other reason is one that somebody meant to be read
UNIT_ROW, TOTAL, NOTE, AGAIN, NOTHING = "unit row", "a total", "a note", "headings again", "nothing in the columns that are read"
ANEW, NUMBERED = "headings of the rows below", "a number and nothing else"
TAKEN_OUT, NOT_A_HEATER, BANNER_ROW = "taken out by the customer", "not a heater", "heading of the rows below it"
WITHOUT_HEATERS, EMPTY_FORM = "a tank without heaters", "an empty form row"
HEADING, ABOVE, BESIDE, OTHER_LIST, OLDER = "heading", "above the headings", "beside a table", "not a heater list", "older issue"
BELOW_LAST = "below the last row of the column map"
TURNED_FATE, UNUSED = "read as a turned list", "not used by the column map"
NO_DATA = frozenset(
    {BLANK, UNIT_ROW, TOTAL, NOTE, AGAIN, NOTHING, ANEW, NUMBERED, TAKEN_OUT, NOT_A_HEATER, BANNER_ROW, WITHOUT_HEATERS, EMPTY_FORM}
    | {HEADING, ABOVE, BESIDE, OTHER_LIST, OLDER, TURNED_FATE, UNUSED}
)
LONGEST_GAP = 1000  # blank rows in one run that are received one by one; a longer run between two rows is passed over

MOST_RUNS = 8  # of row numbers that a finding names

Progress = Callable[[str, int, int], None]


class Row(Struct):
    """One row that could be read: its number in the sheet and its values by column key, blanks left out."""

    number: int
    values: dict[str, object]
    table: Table


class Table(Struct):
    """The table of one sheet. Every row that holds anything is in `rows`, or in `refused` with the reason, by row number."""

    sheet: Sheet
    grid: Grid
    head: Head
    columns: dict[str, str] = field(default_factory=dict)
    rows: list[Row] = field(default_factory=list)
    refused: dict[int, str] = field(default_factory=dict)
    named: dict[int, dict[str, str]] = field(default_factory=dict)  # tags of refused rows, as far as they could be read
    read_of: dict[int, dict[str, object]] = field(default_factory=dict)  # and all their values, by column key
    findings: list[Finding] = field(default_factory=list)
    stated: list[StatedTotal] = field(default_factory=list)  # totals that the list states
    plan: TableMap | None = None  # what a column map says of it
    below: list[tuple[int, dict[str, str]]] = field(default_factory=list)  # row of headings in another order, and the columns by them
    plan_text: str = ""  # how it was read, so that results can be read as a job again
    extent: tuple[int, int, int, int] | None = None  # rows and columns of the sheet that As received shows with it, from 0
    list_plan: ListPlan | None = None  # how a customer's list was read
    gone: dict[int, str] = field(default_factory=dict)  # tanks of rows that are taken out or have no heaters
    of_list: bool = False  # tanks as a heater list describes them, beside the heaters themselves
    places: dict[int, dict[str, str]] = field(default_factory=dict)  # whole addresses by key, of rows that are none of the sheet

    def columns_at(self, number: int) -> dict[str, str]:
        """Letters of the columns, by key, as the headings above row `number` have them."""
        columns = self.columns
        for heading_row, others in self.below:
            if heading_row >= number:
                break
            columns = others
        return columns

    def address(self, index: int, number: int) -> str:
        """The cell of a column in a row, as the customer's sheet has it."""
        return self.places[number].get(str(index), "") if number in self.places else f"{letters(index)}{number}"

    def origin(self, number: int) -> Origin:
        if number in self.places:
            return Origin(self.grid.name, number, self.places[number])
        return Origin(self.grid.name, number, self.columns_at(number) if self.below else self.columns)

    def cell(self, key: str, number: int) -> str:
        return self.origin(number).cell(key)

    def refuse(self, row: Row, why: str) -> None:
        """Notes that a row which could be read is not used; `drop_refused` takes it out."""
        self.refused[row.number] = why
        self.named[row.number] = names_of(row.values)
        self.read_of[row.number] = row.values

    def drop_refused(self) -> None:
        self.rows = [row for row in self.rows if row.number not in self.refused]

    def data_rows_refused(self) -> list[int]:
        """Numbers of the refused rows that held data of their own."""
        return [number for number, why in self.refused.items() if why not in NO_DATA]

    def received(self) -> ReceivedTable:
        """The table as it came, from the row below the headings, with the fate of each row that became no record."""
        headings = self.head.headings
        if self.extent is not None:
            return self._with_all_around(self.extent)
        first, last = (headings[0].index, headings[-1].index) if headings else (0, self.grid.width - 1)
        rows = received_rows(self.grid, self.head.row + 1, first, last, refused=self.refused, read=self.read_of)
        texts = tuple(heading.text for heading in headings) or ("",) * self.grid.width
        keys = tuple("" if heading.passed_over else heading.key for heading in headings) or ("",) * self.grid.width
        at = {key: place for place, key in enumerate(keys) if key}
        plan = self.plan.as_received(at) if self.plan is not None else ""
        return ReceivedTable(self.grid.name, self.sheet.id, self.head.row + 1, texts, keys, rows, plan, first)

    def _with_all_around(self, extent: tuple[int, int, int, int]) -> ReceivedTable:
        """A customer's list with every row of its part of the sheet, those above its headings too."""
        begin, end, first, last = extent
        by_index = {heading.index: heading for heading in self.head.headings}
        rows = tuple(
            row for row in received_rows(self.grid, begin, first, last, refused=self.refused, read=self.read_of) if row.row <= end + 1
        )
        row = self.grid.rows[self.head.row] if 0 <= self.head.row < len(self.grid.rows) else []
        beside = [" ".join(worded(value).split()) for value in row] + [""] * (last + 1)
        texts = tuple(by_index[at].text if at in by_index else beside[at] for at in range(first, last + 1))
        keys = tuple(by_index[at].key if at in by_index else "" for at in range(first, last + 1))
        return ReceivedTable(self.grid.name, self.sheet.id, self.head.row + 1, texts, keys, rows, self.plan_text, first)


class Tables:
    """The tables of one kind, in the order of the workbook: most often one, several where a list goes on elsewhere."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.all: list[Table] = []

    @property
    def rows(self) -> list[Row]:
        return self.all[0].rows if len(self.all) == 1 else [row for table in self.all for row in table.rows]

    def drop_refused(self) -> None:
        for table in self.all:
            table.drop_refused()

    def refused_names(self) -> list[dict[str, str]]:
        """The tags, as far as they could be read, of each refused row that held data of its own."""
        return [table.named.get(number, {}) for table in self.all for number in table.data_rows_refused()]


def received_rows(
    grid: Grid, start: int, first: int, last: int, *, refused: Mapping[int, str], read: Mapping[int, Mapping[str, object]], why: str = ""
) -> tuple[ReceivedRow, ...]:
    """Rows from index `start` to the last that holds anything; `read` are the values of refused rows, `why` is the fate of rows that
    `refused` does not name.
    """
    found: list[ReceivedRow] = []
    nothing = (None,) * (last - first + 1)
    before = start - 1
    for index in grid.lines:
        if index < start:
            continue
        if index - before - 1 <= LONGEST_GAP:
            found += [ReceivedRow(grid.name, between + 1, nothing, BLANK) for between in range(before + 1, index)]
        cells = grid.rows[index][first : last + 1]
        values = tuple([cell if type(cell) is float or (cell and type(cell) is str) else plain(cell) for cell in cells])
        fate = refused.get(index + 1, why)
        found.append(ReceivedRow(grid.name, index + 1, values, fate, read.get(index + 1, NOTHING_READ) if fate else NOTHING_READ))
        before = index
    return tuple(found)


def names_of(values: dict[str, object]) -> dict[str, str]:
    """The tags of a row, for the address of its findings."""
    return {key: str(values[key]) for key in NAMING if key in values}


def counted(rows: int) -> str:
    """How many rows, in words: "1 row", "12 rows"."""
    return in_number(rows, "row")


def rows_of_sheets(rows: Sequence[Row]) -> str:
    """Rows in words, with their sheets where there are several: "rows 4 and 7", "row 4 of Line 1 and row 7 of Line 2"."""
    numbers: dict[str, list[int]] = {}
    for row in rows:
        numbers.setdefault(row.table.grid.name, []).append(row.number)
    if len(numbers) == 1:
        return rows_worded(*numbers.values())
    return " and ".join(f"{rows_worded(some)} of {sheet}" for sheet, some in numbers.items())


def rows_from(first: int, last: int) -> str:
    """The rows from one to another in words: "row 4", "rows 4 to 9"."""
    return f"row {first}" if last <= first else f"rows {first} to {last}"


def rows_worded(numbers: Sequence[int]) -> str:
    """Row numbers in words: "row 4", "rows 4, 7 to 9 and 12"."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    words: list[str] = []
    for low, high in runs:
        words += [str(low), str(high)] if high == low + 1 else [str(low) if low == high else f"{low} to {high}"]
    if len(words) > MOST_RUNS:
        words = [*words[:MOST_RUNS], "others"]
    joined = words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
    return f"row {joined}" if len(numbers) == 1 else f"rows {joined}"
