"""Values in force that the rows as received do not state: the sheet Carried forward, and how they are put back when it is read again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from batch.comparing.inputs import same
from batch.comparing.lines import RECORDS, SHEETS, Key, Line, fold, lines_of
from batch.findings import Finding, find, remark
from batch.intake.cells import Outcome, reader
from batch.records import CarriedForward, Job, Part
from batch.reopening.results_book import StoredResults, StoredRow
from batch.reopening.stored_choices import words

NAMES = ("project", "tank", "bank", "feeder", "part")


def carried_forward(line: Line, key: str, value: object, instead_of: object, source: str) -> CarriedForward:
    """A value for one row, with the row's tags."""
    names = dict(zip(SHEETS[line.table].key, line.names, strict=True))
    names["bank"] = line.label or names.get("bank", "")
    return CarriedForward(line.table, *(names.get(name, "") for name in NAMES), key, value, instead_of, source)


def with_carried_forward(job: Job, more: Sequence[CarriedForward]) -> Job:
    """The job with more values decided; a later value takes the place of an earlier one for the same cell, and what was received stays."""
    kept = {_place(one): one for one in job.carried_forward}
    for one in more:
        before = kept.get(_place(one))
        kept[_place(one)] = one._replace(instead_of=before.instead_of) if before else one
    return replace(job, carried_forward=tuple(kept.values()))


def _place(one: CarriedForward) -> tuple:
    return (one.table, *(fold(getattr(one, name)) for name in NAMES), one.key)


def put_back(job: Job, stored: StoredResults, labels: dict) -> Job:
    """The job with the values of that sheet in its records, wherever the row as received still says what they stood instead of."""
    rows = stored.rows.get("carried_forward", ())
    if not rows:
        return job
    lines = {_key(line): line for table in lines_of(job, labels).values() for line in table if line.number >= 0}
    records = {table: list(getattr(job, RECORDS[table])) for table in SHEETS}
    taken: list[CarriedForward] = []
    said: list[Finding] = []
    for row in rows:
        sheet = next((sheet for sheet in SHEETS.values() if sheet.name == row.values.get("sheet")), None)
        column = sheet.called(words(row.values.get("column"))) if sheet else None
        read = reader(column)(row.values.get("value")) if column else None
        value = read.value if isinstance(read, Outcome) else read
        if value is None:
            said.append(_unknown(row))
            continue
        names = {name: words(row.values.get(name)) for name in NAMES}
        line = lines.get((sheet.id, *(_own(names, name) for name in sheet.key)))
        given = row.values.get("instead_of")
        if line is None and sheet.id == "stock":
            line = _new_part(records["stock"], lines, names["part"])
        if line is None:
            said.append(_unknown(row))
            continue
        record = records[sheet.id][line.number]
        now = getattr(record, column.key)
        if same(column, now, reader_value(column, given)):
            records[sheet.id][line.number] = replace(record, **{column.key: value})
            taken.append(CarriedForward(sheet.id, *names.values(), column.key, value, now, words(row.values.get("source"))))
    fields = {RECORDS[table]: tuple(found) for table, found in records.items()}
    return with_carried_forward(replace(job, **fields, findings=(*job.findings, *said)), taken)


def reader_value(column, value: object) -> object:
    """A stored cell as its input column would read it."""
    read = reader(column)(value) if value is not None else None
    return read.value if isinstance(read, Outcome) else read


def _key(line: Line) -> tuple[str, ...]:
    tags: Key = (*line.key[:2], fold(line.label)) if line.table == "heaters" else line.key
    return (line.table, *tags)


def _own(names: dict[str, str], name: str) -> str:
    return fold(names[name])


def _new_part(stock: list[Part], lines: dict, name: str) -> Line | None:
    """A part of a stock list that was kept as a whole: it has no row as received."""
    if not name:
        return None
    stock.append(Part(name))
    line = Line("stock", (fold(name),), (name,), {}, number=len(stock) - 1)
    lines[_key(line)] = line
    return line


def _unknown(row: StoredRow) -> Finding:
    what = "/".join(filter(None, (words(row.values.get(name)) for name in ("tank", "bank", "feeder", "part")))) or "the project"
    said = remark("edit-row-unknown", "", row=row.row, sheet=row.sheet, what=f"{what}, {words(row.values.get('column')) or 'no column'}")
    return find(said, sheet=row.sheet, cell=f"A{row.row}")
