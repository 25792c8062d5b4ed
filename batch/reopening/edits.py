"""What a person typed into a results workbook: inputs, notes, fixed values and prices that come back into the job.

A figure may differ from what sizing gives because it was typed there, or because the sheet As received was edited and the figure is
stale. The copies of what a row was sized with tell the two apart; where there are none, the Circuits sheet does: nobody types a change
into each of its rows.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from batch.comparing.inputs import same
from batch.comparing.lines import RECORDS, SHEETS, Line, fold
from batch.comparing.outcomes import SHEETS as RESULT_SHEETS
from batch.comparing.outcomes import compared
from batch.comparing.revision import Revision
from batch.findings import CATALOGUE, Finding, find, remark
from batch.intake.cells import Outcome, reader
from batch.records import Job
from batch.reopening.carried_forward import carried_forward, with_carried_forward
from batch.reopening.carry import worded
from batch.reopening.results_book import AS_SIZED, StoredResults, StoredRow
from batch.reopening.stored_choices import circuit_order, stored_key, words
from batch.schedules import Row, rows, sized_rows
from batch.sheets import Column
from batch.sizing.previous_decisions import BankKey, bank_key

GIVEN = ("quantity", "power_kw", "volts_v", "phases")  # columns of Banks and of Heaters alike
FEEDER_GIVEN = ("other_load_a", "existing_device_a", "source_kva", "demand_factor")
FIXES = {"rating_a": "fixed_rating_a", "bank_device_a": "fixed_rating_a", "connection": "connection", "phases_on": "phase_pair"}
SINGLE = (" single circuit", " direct")  # how the circuit of a bank without a panel is called; the second by version 0.1.0
NOT_GIVEN = "it follows from the inputs"
BOTH = "its row as received was changed as well, and which of the two counts cannot be told"


class Edit(NamedTuple):
    """A value typed in: which record of the job gets it, and what is said."""

    records: str  # field of Job
    number: int
    field: str
    value: object
    finding: Finding


class Editing:
    """Looks for edits in two goes, since formulas follow an edited input: `inputs` first, then `fixes` against the job with those inputs.

    sized         the workbook's own job, sized as it was received with the choices it states
    same_program  whether this program made the workbook: if not, a figure that differs may be the program's and is looked for twice
    findings      what is said of edits that cannot be taken, as the goes find them
    """

    def __init__(self, sized: Revision, stored: StoredResults, same_program: bool) -> None:
        self.stored, self.same_program = stored, same_program
        self.findings: list[Finding] = []
        self._copies, self._listed = _copies(stored), _circuits(stored)
        self._edited: set[BankKey] = set()
        self._now: dict[BankKey, list[tuple]] = {}  # what the rows as received give, to see whether they are as they were
        for row in rows(sized.result, "circuits"):
            key = bank_key(str(row["project"] or ""), str(row["tank"]), str(row["bank"]))
            self._now.setdefault(key, []).append((row["amps_a"], row["connected_kw"]))
        self._use(sized)

    def _use(self, sized: Revision) -> None:
        self.sized = sized
        numbers = {(bank.origin.sheet, bank.origin.row): at for at, bank in enumerate(sized.job.banks)}
        results = sized_rows(sized.result, "banks")
        self._known: dict[BankKey, tuple[int, Row]] = {}
        for address, (place, row) in sized.banks.items():
            self._known[bank_key(row.bank.project, row.bank.tank, row.label)] = numbers[address], results[place]

    def inputs(self) -> list[Edit]:
        """Inputs, notes and prices typed into Banks, Feeders and Materials."""
        self._strangers()
        found = [edit for stored, key in self._own_rows() for edit in self._given(stored, key)]
        return [*found, *self._feeders(), *self._prices()]

    def fixes(self, sized: Revision) -> list[Edit]:
        """What was fixed by hand on Banks; all else that differs is only said. `sized`: the job with the inputs taken."""
        self._use(sized)
        return [edit for stored, key in self._own_rows() for edit in self._fixed(stored, key)]

    def _own_rows(self) -> Iterator[tuple[StoredRow, BankKey]]:
        """Rows of Banks that are a bank's own; of a bank given twice, which row is whose cannot be told, and both are holds."""
        count = Counter(stored_key(stored) for stored in self.stored.rows.get("banks", ()))
        for stored in self.stored.rows.get("banks", ()):
            key = stored_key(stored)
            if count[key] == 1 and key in self._known:
                yield stored, key

    def _strangers(self) -> None:
        """Rows of Banks without an input row, and input rows without their row of Banks."""
        seen = set()
        for stored in self.stored.rows.get("banks", ()):
            key = stored_key(stored)
            seen.add(key)
            if key not in self._known and any(key) and not self._refused(key):
                what = "bank " + "/".join(filter(None, (words(stored.values.get("tank")), words(stored.values.get("bank")))))
                self._say(stored, "edit-row-unknown", "tank", row=stored.row, sheet=stored.sheet, what=what)
        if "banks" in self.stored.rows and self.same_program:
            for key in sorted(self._known.keys() - seen):
                _, row = self._known[key]
                said = remark("edit-row-missing", "", what=f"Bank {row['tank']}/{row['bank']}", sheet="Banks")
                self.findings.append(find(said, project=str(row["project"]), tank=str(row["tank"]), bank=str(row["bank"]), sheet="Banks"))

    def _refused(self, key: BankKey) -> bool:
        """A row of Banks whose input can be read no more, since As received was edited: said where it is read."""
        return any(line.number < 0 and line.key[:2] == key[:2] for line in self.sized.lines["heaters"])

    def _given(self, stored: StoredRow, key: BankKey) -> Iterator[Edit]:
        """Notes and inputs of one row of Banks; where its row As received was edited, Banks is stale and As received counts."""
        number, row = self._known[key]
        columns = RESULT_SHEETS["banks"]
        yield from self._notes(stored, row, number)
        stands = self._stands(key)
        for name in (*GIVEN, "feeder", "margin_pct"):
            typed, received = self._who(stored, columns[name], row[name], stands)
            if typed or received:
                self._edited.add(key)
            if typed and name == "margin_pct":
                self._leave(stored, name, row[name], "the margin is the whole project's; give it on the Projects sheet")
            elif typed and received:
                self._leave(stored, name, row[name], BOTH)
            elif typed:
                yield from self._take(stored, name, row[name], "banks", number, name)

    def _who(self, stored: StoredRow, column: Column, now: object, stands: bool) -> tuple[bool, bool]:
        """Whether an input was typed into results, and whether its row as received was edited since. `now`: as received says."""
        if column.key not in stored.values:
            return False, False
        value = stored.values[column.key]
        if AS_SIZED + column.key in stored.values:
            copy = stored.values[AS_SIZED + column.key]
            return not same(column, copy, value), not same(column, copy, now)
        return stands and not same(column, now, value), not stands

    def _fixed(self, stored: StoredRow, key: BankKey) -> Iterator[Edit]:
        """Fixed values of one row of Banks; what follows from the inputs cannot be typed over, and that is said."""
        number, row = self._known[key]
        columns = RESULT_SHEETS["banks"]
        for name in dict.fromkeys((*FIXES, *(column.key for column in compared("banks")))):
            if name not in stored.values or same(columns[name], row[name], stored.values[name]) or not self._typed(stored, key, name):
                continue
            if name == "rating_a" and row["arrangement"] == "single circuit":
                self._leave(stored, name, row[name], "a single-circuit bank has one device, the bank OCPD")
            elif name in FIXES:
                yield from self._take(stored, name, row[name], "banks", number, FIXES[name])
            elif key not in self._edited and stored.values[name] is not None and name not in ("status", "findings"):
                self._leave(stored, name, row[name], NOT_GIVEN)

    def _notes(self, stored: StoredRow, row: Row, number: int) -> Iterator[Edit]:
        """Notes of Banks and As received: the longer where one holds the other, else both, so that no word is lost."""
        typed, received = words(stored.values.get("notes")).strip(), str(row["notes"] or "").strip()
        if not typed or typed in received:
            return
        both = typed if received in typed else f"{received}; {typed}"
        yield Edit("banks", number, "notes", both, self._finding(stored, "edit-taken", "notes", row["notes"], both))

    def _stands(self, key: BankKey) -> bool:
        """Whether the input row is as it was: the circuits that it gives now are those that the workbook lists."""
        listed, now = self._listed.get(key, []), self._now.get(key, [])
        columns = RESULT_SHEETS["circuits"]
        return len(listed) == len(now) and all(
            same(columns["amps_a"], *amps) and same(columns["connected_kw"], *kilowatts)
            for amps, kilowatts in (zip(one, other, strict=True) for one, other in zip(listed, now, strict=True))
        )

    def _typed(self, stored: StoredRow, key: BankKey, name: str) -> bool:
        """Whether a figure that sizing does not give was typed: its copies say otherwise, or this program made the workbook."""
        copy = stored.values.get(AS_SIZED + name, self._copies.get((key, name)))
        if copy is not None:
            return not same(RESULT_SHEETS["banks"][name], copy, stored.values[name])
        return self.same_program

    def _feeders(self) -> Iterator[Edit]:
        numbers = {(fold(one.project), fold(one.feeder)): at for at, one in enumerate(self.sized.job.feeders)}
        results = {(fold(row["project"]), fold(row["feeder"])): row for row in sized_rows(self.sized.result, "feeder_totals")}
        for stored in self.stored.rows.get("feeder_totals", ()):
            key = fold(words(stored.values.get("project"))), fold(words(stored.values.get("feeder")))
            row = results.get(key)
            for name in FEEDER_GIVEN if row else ():
                column = RESULT_SHEETS["feeder_totals"][name]
                blank = key in numbers and getattr(self.sized.job.feeders[numbers[key]], name) is None
                typed, received = self._who(stored, column, row[name], True)
                if not typed:
                    continue
                if key not in numbers:
                    self._leave(stored, name, row[name], "the feeder was assumed; give it on the Feeders sheet")
                elif received:
                    self._leave(stored, name, row[name], BOTH)
                elif AS_SIZED + name not in stored.values and not blank:
                    self._leave(stored, name, row[name], "As received has a figure of its own; change it there")
                else:
                    yield from self._take(stored, name, row[name], "feeders", numbers[key], name)

    def _prices(self) -> Iterator[Edit]:
        """Prices and hours typed on Materials belong to the part. Where all its lines agree, it is the stock list that was edited."""
        numbers = {fold(part.part): at for at, part in enumerate(self.sized.job.stock)}
        done = set()
        lines = Counter((fold(words(row.values.get("part"))), name, row.values.get(name))
                        for row in self.stored.rows.get("materials", ()) for name in ("unit_price", "hours_each"))  # fmt: skip
        parts = Counter(fold(words(row.values.get("part"))) for row in self.stored.rows.get("materials", ()))
        for stored in self.stored.rows.get("materials", ()):
            part = fold(words(stored.values.get("part")))
            for name, field in (("unit_price", "unit_price"), ("hours_each", "labour_h")):
                value = stored.values.get(name)
                was = getattr(self.sized.job.stock[numbers[part]], field) if part in numbers else None
                if value is None or same(SHEETS["stock"][field], was, value) or (part, field) in done:
                    continue
                if part in numbers and parts[part] > 1 and lines[part, name, value] == parts[part]:
                    continue
                if part in numbers:
                    done.add((part, field))
                    yield from self._take(stored, name, was, "stock", numbers[part], field)
                elif words(stored.values.get("used_for")) != "labour":
                    self._leave(stored, name, None, "no part of the Stock sheet is named; name one there with its price")

    def _take(self, stored: StoredRow, name: str, before: object, records: str, number: int, field: str) -> Iterator[Edit]:
        """An edit, read as the cell of the input sheet would be."""
        column = SHEETS["heaters" if records == "banks" else records][field]
        value = stored.values[name]
        read = reader(column)(value) if value is not None else None
        if isinstance(read, Outcome):
            if read.fault:
                self._leave(stored, name, before, f"{CATALOGUE[read.code].title[:1].lower()}{CATALOGUE[read.code].title[1:]}")
                return
            read = read.value
        if read is None and (column.required or field not in ("notes", "unit_price", "labour_h", *FEEDER_GIVEN)):
            self._leave(stored, name, before, "a blank says nothing; restore the figure")
            return
        finding = self._finding(stored, "edit-taken", name, before, value)
        yield Edit(records, number, field, read, finding)

    def _leave(self, stored: StoredRow, name: str, before: object, why: str) -> None:
        self.findings.append(self._finding(stored, "edit-not-taken", name, before, stored.values[name], why=why))

    def _finding(self, stored: StoredRow, code: str, name: str, before: object, after: object, **more: str) -> Finding:
        [sheet] = [sheet for sheet in RESULT_SHEETS.values() if sheet.name == stored.sheet]
        column = sheet[name]
        shown = [_shown(column, value) for value in (before, after)]
        return self._say(stored, code, name, column=column.heading, before=shown[0], after=shown[1], keep=False, **more)

    def _say(self, stored: StoredRow, code: str, name: str, keep: bool = True, **fields: object) -> Finding:
        who = {part: words(stored.values.get(part)) for part in ("project", "tank", "bank", "feeder")}
        cell = stored.cell(name) if name in stored.columns else f"A{stored.row}"
        finding = find(remark(code, "", **fields), **who, sheet=stored.sheet, cell=cell, seen=words(stored.values.get(name)))
        if keep:
            self.findings.append(finding)
        return finding


def apply(job: Job, edits: list[Edit], findings: list[Finding], lines: Mapping[str, Sequence[Line]]) -> Job:
    """The job with every edit in its record and among what was decided, and all that is said of them."""
    tables = {records: table for table, records in RECORDS.items()}
    places = {(line.table, line.number): line for table in lines.values() for line in table}
    more = []
    for edit in edits:
        records, table = list(getattr(job, edit.records)), tables[edit.records]
        before = getattr(records[edit.number], edit.field)
        records[edit.number] = replace(records[edit.number], **{edit.field: edit.value})
        job = replace(job, **{edit.records: tuple(records)})
        more.append(carried_forward(places[table, edit.number], edit.field, edit.value, before, job.name))
    return replace(with_carried_forward(job, more), findings=(*job.findings, *(edit.finding for edit in edits), *findings))


def _circuits(stored: StoredResults) -> dict[BankKey, list[tuple[object, object]]]:
    """Amps and kW of every listed circuit of a bank, in the order of panels and branches."""
    found: dict[BankKey, list[StoredRow]] = {}
    for row in stored.rows.get("circuits", ()):
        found.setdefault(stored_key(row), []).append(row)
    return {
        key: [(row.values.get("amps_a"), row.values.get("connected_kw")) for row in sorted(listed, key=circuit_order)]
        for key, listed in found.items()
    }


def _shown(column: Column, value: object) -> str:
    return "blank" if value is None or value == "" else worded(column, value)


def _copies(stored: StoredResults) -> Mapping[tuple[BankKey, str], object]:
    """Figures of Banks that Circuits and Panels state once more: nobody types a change into all of them."""
    found: dict[tuple[BankKey, str], object] = {}
    for row in stored.rows.get("circuits", ()):
        key = stored_key(row)
        single = words(row.values.get("panel")).endswith(SINGLE)
        found.setdefault((key, "bank_device_a" if single else "rating_a"), row.values.get("rating_a"))
        if row.values.get("branch") == 1.0 and (single or words(row.values.get("panel")).endswith("-P1")):
            found.setdefault((key, "phases_on"), words(row.values.get("phases_on")).partition(",")[0])
    for row in stored.rows.get("panels", ()):
        found.setdefault((stored_key(row), "connection"), row.values.get("connection"))
    return found
