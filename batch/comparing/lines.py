"""The rows of one revision as lines: every row that held data, read or not, with its key and its values."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple, TypeVar

from msgspec import Struct
from msgspec.structs import replace

from batch.intake.table import NO_DATA
from batch.money_records import MONEY
from batch.origin import Address
from batch.received_rows import ReceivedRow, ReceivedTable
from batch.records import Bank, Feeder, Job, Part, PowerSource, Project, Tank
from batch.sheets import INPUTS, Column, Sheet
from batch.sizing.labels import label_banks

SHEETS: dict[str, Sheet] = {sheet.id: sheet for sheet in INPUTS}
RECORDS = {"projects": "projects", "sources": "sources", "feeders": "feeders", "tanks": "tanks", "heaters": "banks", "stock": "stock",
           **{id: id for id in MONEY}}  # fmt: skip
Record = TypeVar("Record", Job, Project, PowerSource, Feeder, Tank, Bank, Part)
FIGURES = frozenset({"number", "integer", "volts"})  # kinds of columns whose cells have a unit, or are counted
RIDES = "rides: "  # before the heading, in the key of a column that rides along

Key = tuple[str, ...]


class AsTyped(str):
    """A cell that could not be read, so that nobody takes its figure for one in the column's unit."""

    __slots__ = ()


def as_typed(value: object) -> AsTyped:
    """ "6 kW?"; of a bare figure "6000 as typed"."""
    figure = isinstance(value, (int, float)) and not isinstance(value, bool)
    return AsTyped(f"{value:.12g} as typed" if figure else str(value))


def fold(name: object) -> str:
    """What two spellings of one tag have in common: case and outer space are not looked at."""
    return "" if name is None else str(name).strip().casefold()


def with_values(record: Record, values: Mapping[str, object]) -> Record:
    """The job, or one of its records, with other values in the fields that are named: keys of RECORDS, or of the sheet's columns."""
    return replace(record, **values)  # which field has which type is known where the values were read


class Entry(Struct, frozen=True):
    """One row of a revision.

    key      folded tags: ("p-1", "t-101", "up"); "" = left blank
    label    of a bank: as given, or as numbered within its tank
    values   column key -> value as read, canonical units, blanks left out; what could not be read of a refused row is `AsTyped`
    refused  why it could not be read; "" = it became a record
    number   place of its record among the job's records of that kind; -1 = none
    """

    table: str
    key: Key
    names: Key
    values: Mapping[str, object]
    label: str = ""
    sheet: str = ""
    row: int = 0
    turn: int = 0
    refused: str = ""
    number: int = -1

    @property
    def first_two(self) -> tuple[str, str]:
        """Project and tank, or project and feeder, folded."""
        return self.key[0], self.key[1]

    @property
    def address(self) -> Address:
        return self.sheet, self.row, self.turn

    @property
    def content(self) -> dict[str, object]:
        """The values but for the key: what is compared."""
        own = SHEETS[self.table].key
        return {name: value for name, value in self.values.items() if name not in own}


class Extra(NamedTuple):
    """What a revision's tables hold beyond the specification: headings by folded text, and the rows' own cells of them."""

    columns: Mapping[str, Column]
    rows: Mapping[tuple[str, int], Mapping[str, object]]


def lines_of(job: Job, labels: Mapping[Address, str] | None = None) -> dict[str, list[Entry]]:
    """Every row of the job that held data, by table; rows of one table in sheet order, rows that could not be read among them.

    labels  of banks left blank, where something decided them before; else they are numbered
    """
    extras = rides_along(job)
    return {table: _lines(job, table, extras, labels or {}) for table in SHEETS}


def _lines(job: Job, table: str, extras: Extra, labels: Mapping[Address, str]) -> list[Entry]:
    sheet = SHEETS[table]
    numbered = _labels(job) | dict(labels) if table == "heaters" else {}
    own = {one.sheet for one in job.received if one.kind == table}  # of a list that describes its tanks the cells are the heaters'
    found = []
    for number, record in enumerate(getattr(job, RECORDS[table])):
        sheet_name, row, turn = where = record.origin.address
        values = {column.key: value for column in sheet.columns if (value := getattr(record, column.key)) not in (None, "")}
        values |= extras.rows.get(where[:2], {}) if record.origin.sheet in own else {}
        names = tuple(_text(values.get(name)) for name in sheet.key)
        found.append(Entry(table, tuple(map(fold, names)), names, values, numbered.get(where, ""), sheet_name, row, turn, number=number))
    found += _refused(job, sheet, extras)
    return sorted(found, key=lambda line: line.row)


def _refused(job: Job, sheet: Sheet, extras: Extra) -> Iterator[Entry]:
    only = job.projects[0].project if len(job.projects) == 1 else ""
    for table in job.received:
        if table.kind != sheet.id:
            continue
        for row in table.rows:
            if not row.refused or row.refused in NO_DATA:
                continue
            came = {key: value for key, value in zip(table.keys, row.values, strict=False) if key and value not in (None, "")}
            values = {key: as_typed(value) if sheet[key].kind in FIGURES else value for key, value in came.items()}
            values |= {key: value for key, value in row.read.items() if key in sheet.by_key and value not in (None, "")}
            if "project" in sheet.by_key and "project" not in values and only:
                values["project"] = only
            names = tuple(_text(values.get(name)) for name in sheet.key)
            values |= extras.rows.get((row.sheet, row.row), {})
            yield Entry(sheet.id, tuple(map(fold, names)), names, values, "", row.sheet, row.row, refused=row.refused)


def _labels(job: Job) -> dict[Address, str]:
    """Labels of banks by address, numbered where left blank, as sizing numbers them."""
    found: dict[Address, str] = {}
    for project in job.projects:
        banks = [bank for bank in job.banks if bank.project == project.project]
        found |= {one.bank.origin.address: one.label for one in label_banks(banks)}
    return found


def rides_along(job: Job) -> Extra:
    """The columns that ride along, and each row's cells of them."""
    columns: dict[str, Column] = {}
    rows: dict[tuple[str, int], dict[str, object]] = {}
    for table in job.received:
        if table.kind not in SHEETS:
            continue
        riding = [(at, heading.strip()) for at, heading in enumerate(table.headings) if heading.strip() and not table.keys[at]]
        columns |= {RIDES + fold(heading): Column(RIDES + fold(heading), heading) for _, heading in riding}
        for row in table.rows if riding else ():
            cells = {RIDES + fold(heading): row.values[at] for at, heading in riding if at < len(row.values)}
            rows[row.sheet, row.row] = {key: value for key, value in cells.items() if value not in (None, "")}
    return Extra(columns, rows)


def rows_with_data(table: ReceivedTable) -> list[ReceivedRow]:
    return [row for row in table.rows if row.refused not in NO_DATA]


def _text(value: object) -> str:
    if value is None:
        return ""
    return str(int(value)) if isinstance(value, float) and value.is_integer() else str(value)
