"""Cells of results that nobody takes as an input, and that no longer say what was written: each is named, so that nothing typed is dropped.

What was written is worked out again from the data that goes with the workbook: the same program makes the same rows of it.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from typing import Any, NamedTuple

from msgspec.structs import replace

from batch.comparing.input_changes import same
from batch.comparing.lines import RECORDS, fold
from batch.comparing.outcomes import SHEETS, compared
from batch.findings import CATALOGUE, Finding, find, remark
from batch.intake.grid import shown
from batch.ooxml.formula_cells import FormulaCells
from batch.origin import Origin
from batch.records import Job
from batch.reopening.carried_forward import worded
from batch.reopening.results_book import AS_READ, AS_SIZED, StoredResults, StoredRow, Stray, copy_of
from batch.reopening.sized_with import chosen_with
from batch.results import JobResult
from batch.schedules import Row, each_row, rows
from batch.schedules.answer_references import read_reference
from batch.schedules.country_words import as_written, codes_of
from batch.schedules.row_words import HELD, NOT_SIZED, STATUSES
from batch.schedules.schedule import SEE
from batch.schedules.sized_data import RECORDS as KINDS
from batch.schedules.sized_data import SizedData
from batch.sheets import Column, Sheet
from batch.sheets.received import CONTINUED
from batch.sizing.previous_decisions import bank_key
from batch.sizing.project import size_job

_BECOMES = {id: frozenset(column.key for column in sheet.columns if column.becomes) for id, sheet in SHEETS.items()}
TAKEN: Mapping[str, frozenset[str]] = {  # columns that are taken as inputs, or said, where edits are looked for
    "banks": frozenset({*(column.key for column in compared("banks")), *_BECOMES["banks"], "margin_pct"}) - {"status", "findings"},
    "feeder_totals": _BECOMES["feeder_totals"], 
    "buy_list": _BECOMES["buy_list"], "materials": _BECOMES["materials"],
}  # fmt: skip
FOLLOWS = "it follows from the inputs"
AS_BANK = "a panel is what its bank makes it; change it on Banks, or on As received"
WHY: Mapping[tuple[str, str], str] = {
    ("feeder_totals", "device_a"): "it follows from the load; an OCPD that is there already goes into Existing OCPD rating",
    ("feeder_totals", "device"): "it follows from the load; an OCPD that is there already goes into Existing OCPD rating",
    ("feeder_totals", "margin_pct"): "the margin is the whole project's; give it on the Projects sheet",
    ("panels", "margin_pct"): "the margin is the whole project's; give it on the Projects sheet",
    ("panels", "feeder"): "a panel hangs where its bank does; change Feeder on Banks",
    ("panels", "rating_a"): "the whole bank has one rating; fix it as Branch OCPD on Banks",
    ("panels", "connection"): "the whole bank is joined one way; fix it as Connection on Banks",
    ("panels", "type"): "a type has one name for all its panels; change it on Panel types",
    ("circuits", "rating_a"): "the whole bank has one rating; fix it as Branch OCPD on Banks",
    ("circuits", "heater_run_m"): "lengths stand in the heater list; change it on As received",
    ("materials", "part"): "parts are chosen from the Stock sheet; change them there",
}  # fmt: skip
NUMBERED = frozenset({"prices", "price_views", "builds", "buy_list", "materials", "runs"})  # sheets whose rows name each other by number
TWICE = "several rows have this bank's name, and which of them is meant cannot be told; change it on As received"
OURS = {  # how our own sentences are known that are worded anew from each workbook
    "as_read": AS_READ, "open": re.compile(r"\b(not sized|on hold|HOLD)\b"),
    "hold": re.compile(rf"\A{HELD}\b"),
}  # fmt: skip
HELD_OF_A_PART = "held"  # column of Buy list
MOST = 300  # cells of one sheet that are named one by one
LISTED = 12  # addresses in one finding
LOOKS = 90_000  # pairs of rows that are held against each other


class Typed(NamedTuple):
    """A cell that says something else than was written into it."""

    row: StoredRow
    column: Column
    before: object


def typed_elsewhere(
    stored: StoredResults, job: Job, sized: JobResult, *, program: str, names: list[tuple[StoredRow, str]], taken: JobResult | None = None
) -> Iterator[Finding]:
    """What was typed into the result sheets, where it is not taken. `sized`: the workbook's own job as it was received; `names` gets the
    rows of Panel types whose name was typed over, each with the name that it had; `taken`: the job with what is taken, which the formulas
    of sheets of money follow where a spreadsheet program has recalculated them.

    Not looked at are workbooks without their data, of which it is not known what they were sized with.
    """
    same_program = program == stored.program
    yield from _beside([stray for stray in stored.strays if same_program or not stray.frame])
    yield from (find(remark("edit-sheet-added", "", sheet=name), sheet=name, cell="A1") for name in stored.added)
    if stored.data is None:
        return
    result = sized if _unchanged(job, stored.data) else _again(stored.data)
    yield from _unsized(stored, sized, result is sized)
    unsure: list[str] = []
    unread = {_place(row) for row in stored.unsized}
    for id, stands in stored.rows.items():
        listed: Sequence[StoredRow] = stands
        if id in ("carried_forward", "questions"):  # looked at where they are taken
            if id == "questions":  # but what has no reference is a row of somebody's own
                yield from (_added(row) for row in stands if read_reference(row.text("reference")) is None and any(row.values.values()))
            continue
        written = [row for row in as_written(result, id, rows(result, id)) if row.get("status") != NOT_SIZED]
        if id == "banks":
            listed, written, twins = _without_twins(listed, written)
            of_twins, *_ = _differences(SHEETS[id], *twins, frozenset(), stored.formulas)
            yield from _named(SHEETS[id], of_twins if same_program else (), TWICE)
            unsure += [SHEETS[id].name] if of_twins and not same_program else []
        found, added, missing = _differences(SHEETS[id], listed, written, TAKEN.get(id, frozenset()), stored.formulas)
        if result is not sized:  # rows that could not be read are not in the data: what hung on them was on hold
            found = [cell for cell in found if cell.column.key != HELD_OF_A_PART or cell.before is not None]
            added = [row for row in added if id != "heat" or _place(row) not in unread]  # nor a tank of which no row could be read
        if found and taken is not None and id in NUMBERED:
            found = _not_followed(found, rows(taken, id), stored.formulas)
        if not same_program and (found or added or missing):
            unsure.append(SHEETS[id].name)
            continue
        if id == "panel_types":
            names += [(cell.row, str(cell.before)) for cell in found if cell.column.key == "type"]
            found = [cell for cell in found if cell.column.key != "type"]
        yield from _named(SHEETS[id], found)
        if id != "banks":  # of which this is said where edits are looked for
            yield from map(_added, added)
            if missing:
                words = {"count": len(missing), "sheet": SHEETS[id].name, "what": _listed([_tags(SHEETS[id], row) for row in missing])}
                yield find(remark("edit-rows-gone", "", **words), sheet=SHEETS[id].name)
    if unsure:
        yield find(remark("edit-not-told", "", sheets=", ".join(unsure), program=stored.program or "a program not stated"), sheet=unsure[0])


def _unsized(stored: StoredResults, sized: JobResult, as_it_was: bool) -> Iterator[Finding]:
    """What was typed into rows that are not sized: nothing of it is taken, since As received has those rows."""
    for id in ("banks", "feeder_totals"):
        sheet = SHEETS[id]
        written = [row for row in as_written(sized, id, each_row(sized, id)) if row["status"] == NOT_SIZED]
        listed = [row for row in stored.unsized if CONTINUED.sub("", row.sheet) == sheet.name]
        if as_it_was or len(written) == len(listed):  # else As received was edited, and has it right by now
            found, added, _ = _differences(sheet, listed, written, frozenset({"findings"}), stored.formulas)
            yield from _named(sheet, found, "the row is not sized; change it on As received")
            yield from map(_added, added)


def _place(row: StoredRow) -> tuple[str, str]:
    return fold(row.text("project")), fold(row.text("tank"))


def _without_twins(
    listed: Sequence[StoredRow], written: Sequence[Row]
) -> tuple[list[StoredRow], list[Row], tuple[list[StoredRow], list[Row]]]:
    """Rows of Banks, and apart from them those of banks given several times: of these nothing is taken, and every cell is looked at."""
    keys = [bank_key(str(row["project"] or ""), str(row["tank"]), str(row["bank"])) for row in written]
    count = Counter(keys)
    apart = [row for row, key in zip(written, keys, strict=True) if count[key] > 1]
    alone = [row for row, key in zip(written, keys, strict=True) if count[key] == 1]
    return [row for row in listed if count[row.bank] < 2], alone, ([row for row in listed if count[row.bank] > 1], apart)


def _unchanged(job: Job, data: SizedData) -> bool:
    """Whether the inputs are still those of the data."""
    for table, records in RECORDS.items():
        now, was = getattr(job, records), data.inputs.get(table, ())
        if len(now) != len(was):
            return False
        keys = {key for row in was[:1] for key in row}
        blank = [column.key for column in _columns(table) if column.key not in keys]
        for record, row in zip(now, was, strict=True):
            if any((getattr(record, key) or None) != (row[key] or None) for key in keys) or any(getattr(record, key) for key in blank):
                return False
    return True


def _columns(table: str) -> Sequence[Column]:
    from batch.comparing.lines import SHEETS as INPUT_SHEETS

    return INPUT_SHEETS[table].columns


def _again(data: SizedData) -> JobResult:
    """The job of the data, sized again."""
    records: dict[str, Any] = {
        field: tuple(kind(**row, origin=Origin(table, at)) for at, row in enumerate(data.inputs.get(table, ()), 1))
        for table, (field, kind) in KINDS.items()
    }
    job = replace(Job("", ""), **records)
    return size_job(job, previous=chosen_with(job, data))


def _not_followed(found: Sequence[Typed], written: Sequence[Row], formulas: FormulaCells) -> list[Typed]:
    """Cells without the formulas that only follow what is taken: those that stand as they were written, since what is typed at one line is
    taken for all lines alike; and, where that is not known, those of which a row of the same words says just that in the job with it."""
    alike: dict[tuple[str, ...], list[Row]] = defaultdict(list)
    for row in written:
        alike[_words(row)].append(row)

    def follows(cell: Typed) -> bool:
        key, values = cell.column.key, cell.row.values
        if formulas.stands(cell.row.sheet, cell.row.cell(key)):
            return True
        return values[key] not in (None, "") and any(same(cell.column, row[key], values[key]) for row in alike[_words(values)])

    return [cell for cell in found if not (cell.column.formula and follows(cell))]


def _words(row: Mapping[str, object]) -> tuple[str, ...]:
    return tuple(str(row.get(key) or "") for key in ("project", "used_for", "tank", "bank", "feeder", "role", "part", "words"))


def _differences(
    sheet: Sheet, stored: Sequence[StoredRow], written: Sequence[Row], skip: frozenset[str], formulas: FormulaCells
) -> tuple[list[Typed], list[StoredRow], list[Row]]:
    """Cells that differ, rows that were not written, and rows that are no longer there. The order of rows is nobody's concern."""
    columns = [column for column in sheet.columns if column.key not in skip and (not stored or column.key in stored[0].columns)]
    copies = [copy_of(sheet[key]) for key in sheet.as_sized] if stored else []
    copies = [copy for copy in copies if copy.key in stored[0].columns]
    columns += copies
    written = [row | {copy.key: row[copy.key.removeprefix(AS_SIZED)] for copy in copies} for row in written] if copies else written
    ways = [column.key for column in columns if column.leads]  # one whose sheet is not there is blank in every row
    if lost := [key for key in ways if all(row.values.get(key) in (None, "") for row in stored)]:
        written = [row | dict.fromkeys(lost) for row in written]
    groups: dict[tuple[str, ...], list[StoredRow]] = defaultdict(list)
    for row in stored:  # a formula whose result was never stored says nothing
        groups[tuple(column.key for column in columns if column.key in row.values)].append(row)
    over: list[StoredRow] = []
    left = list(written)
    by_key = {column.key: column for column in columns}
    for keys in sorted(groups, key=len, reverse=True):
        present = [by_key[key] for key in keys]
        waiting: dict[tuple, list[Row]] = defaultdict(list)
        for was in left:
            waiting[_print(present, was)].append(was)
        for row in groups[keys]:
            alike = waiting.get(_print(present, row.values))
            if alike:
                alike.pop()
            else:
                over.append(row)
        left = [was for alike in waiting.values() for was in alike]
    pairs, over, left = _paired(sheet, columns, over, left)
    return [cell for row, was in pairs for cell in _cells(columns, row, was, formulas)], over, left


def _print(columns: Sequence[Column], values: Mapping[str, object]) -> tuple:
    return tuple(_plain(values.get(column.key)) for column in columns)


def _plain(value: object) -> object:
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return float(f"{value:.9g}")
    return None if value == "" else value


def _paired(
    sheet: Sheet, columns: Sequence[Column], stored: list[StoredRow], written: list[Row]
) -> tuple[list[tuple[StoredRow, Row]], list[StoredRow], list[Row]]:
    """Rows that are not as written, each with the one it was: by its key, else by what most of its cells say."""
    pairs: list[tuple[StoredRow, Row]] = []
    if sheet.key:
        key = [sheet[name] for name in sheet.key]
        known = {_print(key, row): row for row in written}
        count = Counter(_print(key, row) for row in written) + Counter(_print(key, row.values) for row in stored)
        over = []
        for row in stored:
            own = _print(key, row.values)
            if own in known and count[own] == 2:
                pairs.append((row, known[own]))
            else:
                over.append(row)
        used = {id(row) for _, row in pairs}
        stored, written = over, [row for row in written if id(row) not in used]
    if len(stored) * len(written) > LOOKS:
        return pairs, stored, written
    near = sorted(
        (-sum(same(column, was.get(column.key), row.values.get(column.key)) for column in columns), at, place)
        for at, row in enumerate(stored) for place, was in enumerate(written)
    )  # fmt: skip
    here, there = set(), set()
    for agree, at, place in near:
        if at not in here and place not in there and -agree * 2 > len(columns):
            here.add(at)
            there.add(place)
            pairs.append((stored[at], written[place]))
    return (
        pairs,
        [row for at, row in enumerate(stored) if at not in here],
        [row for place, row in enumerate(written) if place not in there],
    )


def _cells(columns: Sequence[Column], row: StoredRow, was: Row, formulas: FormulaCells) -> Iterator[Typed]:
    """Cells of one row that differ; formulas follow the row's other cells, and are looked at where none of those was typed over, or where
    a figure stands in the place of the formula.
    """
    differ = [
        Typed(row, column, was[column.key]) for column in columns
        if column.key in row.values and not same(column, was[column.key], row.values[column.key]) and not _graver(column, row, was)
    ]  # fmt: skip
    plain = [cell for cell in differ if not cell.column.formula or formulas.typed_over(row.sheet, row.cell(cell.column.key))]
    yield from plain or differ


def _graver(column: Column, row: StoredRow, was: Row) -> bool:
    """More was said of the row than its inputs say by themselves, as of what was kept from an earlier revision: nobody typed that.

    Nor did anybody type what is said of rows not sized: it tells where they stood in the workbook that was sized.
    """
    now, before = row.values.get(column.key), was[column.key]
    if column.key == "look_up":  # follows the findings beside it, which more may be said in
        return now == SEE and not before
    if column.leads and now in (None, "", SEE):  # a way is there where the sheet is that it leads to
        return True
    if column.key in OURS and (before or column.key != "as_read"):
        return OURS[column.key].search(str(now or "")) is not None
    if column.key == "status":
        return now in STATUSES and before in STATUSES and STATUSES.index(now) > STATUSES.index(before)
    if column.key == "findings":
        codes, fewer = ({code for some in codes_of(str(value)) for code in some} if value else set() for value in (now, before))
        return fewer <= codes <= CATALOGUE.keys()
    return False


def _named(sheet: Sheet, found: Sequence[Typed], why: str = "") -> Iterator[Finding]:
    for cell in found[:MOST]:
        words = {
            "column": cell.column.heading, "before": _worded(cell.column, cell.before),
            "after": _worded(cell.column, cell.row.values[cell.column.key]), "why": why or _why(sheet, cell.column),
        }  # fmt: skip
        key = cell.column.key
        yield find(
            remark("edit-not-taken", "", **words), **_who(cell.row), sheet=cell.row.sheet, cell=cell.row.cell(key), seen=cell.row.text(key)
        )
    for name, some in groupby(found[MOST:], key=lambda cell: cell.row.sheet):
        cells = [cell.row.cell(cell.column.key) for cell in some]
        yield find(remark("edit-stray", "", cells=_listed(cells), sheet=name, count=len(cells)), sheet=name, cell=cells[0])


def _why(sheet: Sheet, column: Column) -> str:
    if column.key in sheet.key:
        return "rows are known by their tags, which stand in the inputs; change them on As received"
    return WHY.get((sheet.id, column.key), AS_BANK if sheet.id == "panels" else FOLLOWS)


def _worded(column: Column, value: object) -> str:
    return shown(worded(column, value))


def _who(row: StoredRow) -> dict[str, str]:
    return {part: row.text(part) for part in ("project", "tank", "bank", "feeder")}


def _added(row: StoredRow) -> Finding:
    what = "; ".join(shown(value) for value in row.values.values() if value not in (None, ""))
    return find(remark("edit-row-added", "", row=row.row, sheet=row.sheet, what=shown(what)), sheet=row.sheet, cell=f"A{row.row}")


def _tags(sheet: Sheet, row: Row) -> str:
    return "/".join(fold(row[key]) and str(row[key]) for key in sheet.key or tuple(row)[:4] if row[key] not in (None, ""))


def _beside(strays: Sequence[Stray]) -> Iterator[Finding]:
    """What stands beside the columns, a column at a time."""
    for (sheet, column), some in groupby(sorted(strays), key=lambda stray: (stray.sheet, stray.column)):
        cells = [f"{column}{stray.row}" for stray in some]
        yield find(remark("edit-stray", "", cells=_listed(cells), sheet=sheet, count=len(cells)), sheet=sheet, cell=cells[0])


def _listed(names: Sequence[str]) -> str:
    if len(names) <= LISTED:
        return ", ".join(names)
    return f"{', '.join(names[: LISTED - 1])} and {len(names) - LISTED + 1} more, the last {names[-1]}"
