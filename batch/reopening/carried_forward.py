"""Values in force that the rows as received do not state: kept in the workbook's data, shown on the sheet Carried forward, and put back
when it is read again. Where that sheet was edited, it counts.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec.structs import replace

from batch.comparing.input_changes import same
from batch.comparing.lines import RECORDS, SHEETS, Entry, Key, fold, lines_of, with_values
from batch.findings import Finding, find, remark
from batch.intake.cells import Outcome, reader
from batch.money_records import TypedPrice
from batch.origin import Address
from batch.records import CarriedForward, Job, Part, Project, Tank
from batch.reopening.results_book import StoredResults, StoredRow
from batch.sheets import Column
from batch.sheets.received import EMPTIED, STORED

NAMES = ("project", "tank", "bank", "feeder", "part")
OWN = ("typed_prices",)  # sheets whose rows are known by none of these: their keys stand under part, one after the other
APART = " | "


def carried_forward(line: Entry, key: str, value: object, instead_of: object, source: str) -> CarriedForward:
    """A value for one row, with the row's tags."""
    names = dict(zip(SHEETS[line.table].key, line.names, strict=True))
    if line.table in OWN:
        names = {"part": APART.join(line.names)}
    names["bank"] = line.label or names.get("bank", "")
    project, tank, bank, feeder, part = (names.get(name, "") for name in NAMES)
    return CarriedForward(line.table, project, tank, bank, feeder, part, key, value, instead_of, source)


def with_carried_forward(job: Job, more: Sequence[CarriedForward]) -> Job:
    """The job with more values decided; a later value takes the place of an earlier one for the same cell, and what was received stays."""
    kept = {_place(one): one for one in job.carried_forward}
    for one in more:
        before = kept.get(_place(one))
        kept[_place(one)] = one._replace(instead_of=before.instead_of) if before else one
    return replace(job, carried_forward=tuple(kept.values()))


def _place(one: CarriedForward) -> tuple:
    return (one.table, *(fold(getattr(one, name)) for name in NAMES), one.key)


def put_back(job: Job, stored: StoredResults, labels: Mapping[Address, str]) -> Job:
    """The job with the values of that sheet in its records, wherever the row as received still says what they stood instead of."""
    said: list[Finding] = []
    standing = list(_standing(stored, said))
    if not standing and not said:
        return job
    lines = {_key(line): line for table in lines_of(job, labels).values() for line in table if line.number >= 0}
    lines |= {_of_own(line): line for line in list(lines.values()) if line.table in OWN}
    records = {table: list(getattr(job, RECORDS[table])) for table in SHEETS}
    taken: list[CarriedForward] = []
    for one, row in standing:
        if one.table in OWN:
            line = lines.get((one.table, folded(one.part))) or _new_own(one, records[one.table], lines)
        else:
            line = lines.get((one.table, *(fold(getattr(one, name, "")) for name in SHEETS[one.table].key)))
        if line is None and one.table == "stock":
            line = _new_part(records["stock"], lines, one.part)
        if line is None and one.table == "projects":
            line = _new_project(one, job, records["projects"], lines)
        if line is None and one.table == "tanks":
            line = _new_tank(one, job, records["tanks"], lines)
        if line is None:
            said.append(_unknown(row) if row is not None else _gone(one))
            continue
        record = records[one.table][line.number]
        now = getattr(record, one.key)
        if same(SHEETS[one.table][one.key], now, one.instead_of):
            records[one.table][line.number] = replace(record, **{one.key: one.value})
            taken.append(one._replace(instead_of=now))
    fields = {RECORDS[table]: tuple(found) for table, found in records.items()}
    return with_carried_forward(replace(with_values(job, fields), findings=(*job.findings, *said)), taken)


def _standing(stored: StoredResults, said: list[Finding]) -> Iterator[tuple[CarriedForward, StoredRow | None]]:
    """What stands on the sheet Carried forward, each with its row; what does not, or no more, is said.

    A value that nobody edited is taken from the workbook's data: there it is whole and of its kind, not as a cell shows it. So are all of
    them where the sheet was deleted.
    """
    data = {_place(one): one for one in stored.data.carried_forward if _sound(one)} if stored.data is not None else {}
    if "carried_forward" not in stored.rows:
        yield from ((one, None) for one in data.values())
        return
    for row in stored.rows["carried_forward"]:
        one = _read(row)
        if one is None:
            said.append(_unknown(row))
            continue
        was, column = data.pop(_place(one), None), SHEETS[one.table][one.key]
        if was is not None and same(column, was.value, one.value):
            one = one._replace(value=was.value)
        if was is not None and same(column, was.instead_of, one.instead_of):
            one = one._replace(instead_of=was.instead_of)
        yield one, row
    said += map(_gone, data.values())


def _read(row: StoredRow) -> CarriedForward | None:
    """A row of Carried forward; None where it names no column of the inputs, or holds no value of it."""
    sheet = next((sheet for sheet in SHEETS.values() if sheet.name == row.values.get("sheet")), None)
    column = sheet.called(row.text("column")) if sheet else None
    if sheet is None or column is None:
        return None
    emptied = row.values.get("value") == EMPTIED
    value = emptied_value(column) if emptied else reader_value(column, row.values.get("value"))
    if value is None and not emptied:
        return None
    instead_of = reader_value(column, row.values.get("instead_of"))
    project, tank, bank, feeder, part = map(row.text, NAMES)
    return CarriedForward(sheet.id, project, tank, bank, feeder, part, column.key, value, instead_of, row.text("source"))


def _sound(one: CarriedForward) -> bool:
    """Whether a value out of the data is one that its column can hold."""
    column = SHEETS[one.table].by_key.get(one.key) if one.table in SHEETS else None
    if column is None:
        return False
    return one.value == emptied_value(column) or same(column, reader_value(column, one.value), one.value)


def emptied_value(column: Column) -> object:
    """What a record holds where the cell is blank: nought where another column gives what is needed, else None."""
    return None if not column.instead else 0.0 if column.kind == "volts" else 0


def _gone(one: CarriedForward) -> Finding:
    """A value that was decided and no longer stands on Carried forward, or has no row any more."""
    sheet = SHEETS[one.table]
    what = "/".join(filter(None, (one.tank, one.bank, one.feeder, one.part))) or "the project"
    said = remark("edit-undone", column=sheet[one.key].heading, value=worded(sheet[one.key], one.value), what=what)
    return find(said, project=one.project, tank=one.tank, bank=one.bank, feeder=one.feeder, sheet=STORED["carried_forward"])


def worded(column: Column, value: object) -> str:
    """A value with its unit: "30 A", "B-C"; "blank" for none."""
    if value is None or value == "" or (column.instead and value == 0):
        return "blank"
    number = f"{value:g}" if isinstance(value, float) else str(value)
    return f"{number} {column.unit}".strip()


def reader_value(column: Column, value: object) -> object:
    """A stored cell as its input column would read it."""
    read = reader(column)(value) if value is not None else None
    return read.value if isinstance(read, Outcome) else read


def _key(line: Entry) -> tuple[str, ...]:
    tags: Key = (*line.key[:2], fold(line.label)) if line.table == "heaters" else line.key
    return (line.table, *tags)


def _new_part(stock: list[Part], lines: dict, name: str) -> Entry | None:
    """A part of a stock list that was kept as a whole: it has no row as received."""
    if not name:
        return None
    stock.append(Part(name))
    line = Entry("stock", (fold(name),), (name,), {}, number=len(stock) - 1)
    lines[_key(line)] = line
    return line


def _new_project(one: CarriedForward, job: Job, projects: list[Project], lines: dict) -> Entry | None:
    """The record of a project that has heaters and no row."""
    if not any(fold(bank.project) == fold(one.project) for bank in job.banks):
        return None
    projects.append(Project(project=one.project))
    line = Entry("projects", (fold(one.project),), (one.project,), {}, number=len(projects) - 1)
    lines[_key(line)] = line
    return line


def _new_tank(one: CarriedForward, job: Job, tanks: list[Tank], lines: dict) -> Entry | None:
    """The record of a tank that has heaters and no row: made of what was answered about it."""
    if not any((fold(bank.project), fold(bank.tank)) == (fold(one.project), fold(one.tank)) for bank in job.banks):
        return None
    tanks.append(Tank(project=one.project, tank=one.tank))
    names = one.project, one.tank
    line = Entry("tanks", tuple(map(fold, names)), names, {}, number=len(tanks) - 1)
    lines[_key(line)] = line
    return line


def line_of_own(table: str, names: Sequence[str]) -> Entry:
    """A row of a sheet of OWN that has no row as received."""
    return Entry(table, tuple(map(folded, names)), tuple(names), {})


def _of_own(line: Entry) -> tuple[str, ...]:
    return line.table, folded(APART.join(line.names))


def _new_own(one: CarriedForward, records: list, lines: dict) -> Entry | None:
    """A record that was made of what was typed on results: it has no row as received."""
    names = one.part.split(APART)
    if len(names) < len(SHEETS[one.table].key):
        return None
    names = [names[0], APART.join(names[1:-1]), names[-1]]
    records.append(TypedPrice(role=names[0], words=names[1], unit=names[2]))
    line = replace(line_of_own(one.table, names), number=len(records) - 1)
    lines[_of_own(line)] = line
    return line


def folded(words: str) -> str:
    """Words by which a row of OWN is known: case and spaces are not looked at."""
    return " ".join(words.split()).casefold()


def _unknown(row: StoredRow) -> Finding:
    what = "/".join(filter(None, (row.text(name) for name in ("tank", "bank", "feeder", "part")))) or "the project"
    said = remark("edit-row-unknown", "", row=row.row, sheet=row.sheet, what=f"{what}, {row.text('column') or 'no column'}")
    return find(said, sheet=row.sheet, cell=f"A{row.row}")
