"""The user's sheets as they came: every row word for word, what each column was taken for, and how many rows there are of each fate."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from msgspec import Struct

NOTHING_READ: Mapping[str, object] = MappingProxyType({})


class ReceivedRow(Struct, frozen=True):
    """One row of an input sheet as it came, for As received. `fate` of a row that did not become a record is said here; `read` are the
    values of such a row, as far as they could be read, by column key and in the columns' units.
    """

    sheet: str
    row: int
    values: tuple[object, ...]  # str, float, int, bool, datetime or None, in the order of the table's headings
    refused: str = ""  # "" = became a record; else why it did not ("blank row", "note below the table", "power not readable")
    read: Mapping[str, object] = NOTHING_READ


class Standing(NamedTuple):
    """Where a table stands, cell for cell, in the file that was sent: its sheet there, and whether rows are columns of it.

    unseen  rows of that sheet, from 0, which a turned table leaves out: titles and notes
    """

    sheet: str
    turned: bool = False
    unseen: tuple[int, ...] = ()


class ReceivedTable(Struct, frozen=True):
    """One table of the user's workbook as it came: headings word for word, and every row below them."""

    sheet: str
    kind: str  # key of the sheet it was read as ("heaters"), "" where it was not recognised
    heading_row: int
    headings: tuple[str, ...]
    keys: tuple[str, ...]  # the column key each heading was read as; "" = rides along
    rows: tuple[ReceivedRow, ...]
    plan: str = ""  # how a column map had it, so that the results can be read as a job again; letters count from its first column
    first: int = 0  # index of its first column in the sheet, 0 for A
    stands: Standing | None = None  # of a workbook with customers' lists; None = made of cells that stand elsewhere, as blocks are


class SentList(Struct, frozen=True):
    """A customer's list as it was sent, the whole file: what makes a reading anew the reading that it was.

    name      of the file, whose ending says what it is
    map_name, map_text  of the column map that it was read by; "" = none
    typed     what stands in its cells since it came into results: value by sheet, row and column from 0
    """

    name: str
    content: bytes
    map_name: str = ""
    map_text: str = ""
    typed: Mapping[tuple[str, int, int], object] = MappingProxyType({})


class CameFrom(NamedTuple):
    """Where what stands on a sheet as received stood in the list that was sent: its sheet, its rows and column letters by those here.

    first  index there of the first of its columns, which is column `own` here
    """

    sheet: str
    first: int
    rows: Mapping[int, int]
    columns: Mapping[str, str]
    own: int

    def address(self, cell: str) -> str:
        """The cell there; "" where it was none."""
        column = cell.rstrip("0123456789")
        row = self.rows.get(int(cell[len(column) :] or 0), 0)
        return f"{self.columns[column]}{row}" if row and column in self.columns else ""


class HowRead(NamedTuple):
    """One column of a customer's list: what it was taken for, how sure, why, and its first values as typed and as read."""

    table: str
    range: str
    sheet: str
    cell: str
    column: str
    heading: str
    taken_as: str
    unit: str
    sure: str
    evidence: str
    values: str


class StatedTotal(NamedTuple):
    """A total that a customer's list states, and what was read of the rows that it is of, in kW."""

    sheet: str
    cell: str
    stated_kw: float
    read_kw: float


class Accounted(NamedTuple):
    """What became of the rows of one sheet that hold anything: counted where the sheet was opened, and where each row got its fate."""

    sheet: str
    filled: int
    read: int
    told: int  # rows with another fate


class Answered(NamedTuple):
    """A question that was answered, as it was asked, and what became of the answer.

    mark, marks  what the question is known by, and of each place that the answer settled what stands there since
    as_asked     the reference that stood beside the question
    """

    project: str
    sort: str
    words: str
    cells: str
    until: str
    answer: str
    did: str
    mark: str
    marks: tuple[str, ...]
    as_asked: str


class CarriedForward(NamedTuple):
    """A value in force that the row as received does not state: kept from an earlier revision, or typed into results.

    table, key  sheet and column of the input specification
    value       canonical unit
    instead_of  what the row as received says, None = blank: where it says otherwise later, the row counts
    source      workbook that it comes from
    """

    table: str
    project: str
    tank: str
    bank: str
    feeder: str
    part: str
    key: str
    value: object
    instead_of: object
    source: str
