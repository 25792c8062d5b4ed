"""What a person typed into a results workbook: inputs, notes, fixed values and prices that come back into the job.

A figure may differ from what sizing gives because it was typed there, or because the sheet As received was edited and the figure is
stale. What the workbook was sized with tells the two apart.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from msgspec.structs import replace

from batch.comparing.input_changes import same
from batch.comparing.lines import RECORDS, SHEETS, Entry, fold, with_values
from batch.comparing.outcomes import SHEETS as RESULT_SHEETS
from batch.comparing.outcomes import compared
from batch.comparing.revision import Revision
from batch.findings import CATALOGUE, Finding, find, remark
from batch.intake.cells import Outcome, reader
from batch.material_lines import PART
from batch.money_records import TypedPrice
from batch.price.price_basis import rebased
from batch.price.stock_prices import IN_THE_FIELD
from batch.records import Job, Part
from batch.reopening.carried_forward import carried_forward, emptied_value, line_of_own, with_carried_forward, worded
from batch.reopening.lines_as_written import as_they_were
from batch.reopening.results_book import StoredResults, StoredRow
from batch.reopening.sized_with import SizedWith
from batch.schedules import Row, sized_rows
from batch.schedules.country_words import as_written
from batch.schedules.sized_data import feeder_key
from batch.sheets import Column
from batch.sizing.previous_decisions import BankKey, bank_key


def _becomes(table: str, role: str) -> dict[str, str]:
    """Columns of a result sheet whose cells are taken as inputs -> the field of the record."""
    return {one.key: one.becomes.partition(".")[2] for one in RESULT_SHEETS[table].columns if one.becomes and one.role == role}


GIVEN = tuple(key for key in _becomes("banks", "input") if key != "notes")  # columns of Banks and of Heaters alike
FEEDER_GIVEN = tuple(_becomes("feeder_totals", "input"))
FIXES = _becomes("banks", "result")
SAID = ("status", "findings")  # what was said of a row, looked at by itself
NOT_GIVEN = "it follows from the inputs"
LOST = "with what else was typed in its row the bank cannot be sized"
NO_PART = "the line is no part; change it on Other costs, or on Allowances"
PRICED = {  # columns of Buy list and Materials -> columns of Stock
    "unit_price": "unit_price", "per": "per_quantity", "currency": "currency", "price_date": "price_date", "hours_each": "labour_h",
}
TYPED = {**PRICED, "hours_each": "hours"}  # and of Typed prices
PRICED_ON = {"buy_list": ("unit_price", "per", "currency", "price_date"), "materials": ("unit_price", "hours_each")}
BOTH = "its row as received was changed as well, and which of the two counts cannot be told"
OPTIONAL = frozenset({"notes", "field_h", "hours", *PRICED.values(), *FEEDER_GIVEN})  # fields that may be emptied


class Edit(NamedTuple):
    """A value typed in: which record of the job gets it, and what is said."""

    records: str  # field of Job
    number: int
    field: str
    value: object
    finding: Finding | None  # None = said with another
    own: tuple[str, ...] = ()  # key of a new record, where `number` is -1
    source: str = ""  # who says so; "" = the workbook itself


class Editing:
    """Looks for edits in two goes, since formulas follow an edited input: `inputs` first, then `fixes` against the job with those inputs.

    sized     the workbook's own job, sized as it was received with the choices it states
    was       what the workbook was sized with
    findings  what is said of edits that cannot be taken, as the goes find them
    """

    def __init__(self, sized: Revision, stored: StoredResults, was: SizedWith) -> None:
        self.stored, self.was = stored, was
        self.findings: list[Finding] = []
        self._edited: set[BankKey] = set()
        self._use(sized)

    def _use(self, sized: Revision) -> None:
        self.sized = sized
        numbers = {bank.origin.address: at for at, bank in enumerate(sized.job.banks)}
        results = as_written(sized.result, "banks", sized_rows(sized.result, "banks"))
        self._known: dict[BankKey, tuple[int, Row]] = {}
        for address, (place, row) in sized.banks.items():
            key = bank_key(row.bank.project, row.bank.tank, row.label)
            self._known[key] = numbers[address], results[place]

    def inputs(self) -> list[Edit]:
        """Inputs, notes and prices typed into Banks, Feeders and Materials."""
        self._strangers()
        found = [edit for stored, key in self._own_rows() for edit in self._given(stored, key)]
        prices = list(self._prices())
        self._rebased(prices)
        return [*found, *self._feeders(), *prices]

    def fixes(self, sized: Revision) -> list[Edit]:
        """What was fixed by hand on Banks; all else that differs is only said. `sized`: the job with the inputs taken."""
        self._lost(sized)
        self._use(sized)
        return [edit for stored, key in self._own_rows() for edit in self._fixed(stored, key)]

    def _lost(self, sized: Revision) -> None:
        """Names what was typed into rows that are sized no more, since what was typed beside it makes them what cannot be."""
        still = {bank_key(row.bank.project, row.bank.tank, row.label) for _, row in sized.banks.values()}
        columns = RESULT_SHEETS["banks"]
        for stored, key in self._own_rows():
            _, row = self._known[key]
            for name in [] if key in still else dict.fromkeys((*FIXES, *(column.key for column in compared("banks")))):
                known = name in stored.values and name not in SAID and self.was.typed_over(stored, key, name)
                live = bool(columns[name].formula) and self.stored.formulas.stands(stored.sheet, stored.cell(name)) is not False
                if known and not live and not same(columns[name], row[name], stored.values[name]):
                    self._leave(stored, name, row[name], LOST)

    def _own_rows(self) -> Iterator[tuple[StoredRow, BankKey]]:
        """Rows of Banks that are a bank's own; of a bank given twice, which row is whose cannot be told, and both are holds."""
        count = Counter(stored.bank for stored in self.stored.rows.get("banks", ()))
        for stored in self.stored.rows.get("banks", ()):
            key = stored.bank
            if count[key] == 1 and key in self._known:
                yield stored, key

    def _strangers(self) -> None:
        """Rows of Banks without an input row, and input rows without their row of Banks."""
        seen = set()
        for stored in self.stored.rows.get("banks", ()):
            key = stored.bank
            seen.add(key)
            if key not in self._known and any(key) and not self._refused(key):
                what = "bank " + "/".join(filter(None, (stored.text("tank"), stored.text("bank"))))
                self._say(stored, "edit-row-unknown", "tank", row=stored.row, sheet=stored.sheet, what=what)
        if "banks" in self.stored.rows:
            for key in sorted(key for key in self._known.keys() - seen if self.was.listed(key)):
                _, row = self._known[key]
                said = remark("edit-row-missing", "", what=f"Bank {row['tank']}/{row['bank']}", sheet="Banks")
                self.findings.append(find(said, project=str(row["project"]), tank=str(row["tank"]), bank=str(row["bank"]), sheet="Banks"))

    def _refused(self, key: BankKey) -> bool:
        """A row of Banks whose input can be read no more, since As received was edited: said where it is read."""
        return any(line.number < 0 and line.key[:2] == key[:2] for line in self.sized.lines["heaters"])

    def _given(self, stored: StoredRow, key: BankKey) -> Iterator[Edit]:
        """Notes and inputs of one row of Banks; where its row As received was edited, Banks is stale and As received counts."""
        number, row = self._known[key]
        yield from self._notes(stored, row, number)
        for name in (*GIVEN, "feeder", "margin_pct"):
            typed, received = self.was.given("banks", stored, name, row[name])
            if typed or received:
                self._edited.add(key)
            if typed and name == "margin_pct":
                self._leave(stored, name, row[name], "the margin is the whole project's; give it on the Projects sheet")
            elif typed and received:
                self._leave(stored, name, row[name], BOTH)
            elif typed:
                yield from self._take(stored, name, row[name], "banks", number=number, field=name)

    def _fixed(self, stored: StoredRow, key: BankKey) -> Iterator[Edit]:
        """Fixed values of one row of Banks; what follows from the inputs cannot be typed over, and that is said."""
        number, row = self._known[key]
        columns = RESULT_SHEETS["banks"]
        for name in dict.fromkeys((*FIXES, *(column.key for column in compared("banks")))):
            if name not in stored.values or same(columns[name], row[name], stored.values[name]):
                continue
            if not self.was.typed_over(stored, key, name):
                continue
            live = bool(columns[name].formula) and self.stored.formulas.stands(stored.sheet, stored.cell(name))
            follows = live if live is not None else key in self._edited and name not in FIXES  # None: whether a formula stands is not known
            if follows and key in self._edited:
                continue
            if name == "rating_a" and row["arrangement"] == "single circuit":
                self._leave(stored, name, row[name], "a single-circuit bank has one device, the bank OCPD")
            elif name in FIXES and not follows:
                yield from self._take(stored, name, row[name], "banks", number=number, field=FIXES[name])
            elif name not in SAID:
                self._leave(stored, name, row[name], NOT_GIVEN)

    def _notes(self, stored: StoredRow, row: Row, number: int) -> Iterator[Edit]:
        """Notes of Banks and As received: the longer where one holds the other, else both, so that no word is lost; none once emptied."""
        typed, received = stored.text("notes").strip(), str(row["notes"] or "").strip()
        if not typed and "notes" in stored.values and received and self.was.noted(stored.bank, received):
            yield from self._take(stored, "notes", row["notes"], "banks", number=number, field="notes")
        if not typed or typed in received:
            return
        both = typed if received in typed else f"{received}; {typed}"
        yield Edit("banks", number, "notes", both, self._finding(stored, "edit-taken", "notes", row["notes"], both))

    def _written(self, id: str) -> list[Row]:
        """Rows of a sheet as they were written, of what was sized."""
        result = self.sized.result
        return as_written(result, id, sized_rows(result, id))

    def _feeders(self) -> Iterator[Edit]:
        numbers = {(fold(one.project), fold(one.feeder)): at for at, one in enumerate(self.sized.job.feeders)}
        results = {feeder_key(row["project"], row["feeder"]): row for row in self._written("feeder_totals")}
        for stored in self.stored.rows.get("feeder_totals", ()):
            key = feeder_key(stored.text("project"), stored.text("feeder"))
            row = results.get(key)
            if row is None:
                continue
            for name in FEEDER_GIVEN:
                blank = key in numbers and getattr(self.sized.job.feeders[numbers[key]], name) is None
                typed, received = self.was.given("feeder_totals", stored, name, row[name])
                if not typed:
                    continue
                if key not in numbers:
                    self._leave(stored, name, row[name], "the feeder was assumed; give it on the Feeders sheet")
                elif received:
                    self._leave(stored, name, row[name], BOTH)
                elif not self.was.stated(stored, name) and not blank:
                    self._leave(stored, name, row[name], "As received has a figure of its own; change it there")
                else:
                    yield from self._take(stored, name, row[name], "feeders", number=numbers[key], field=name)

    def _prices(self) -> Iterator[Edit]:
        """Prices typed on Buy list, prices and hours typed on Materials, or emptied there: of the part, or, where a line is no part of the
        stock list, of all lines that say the same. Its lines have to agree.
        """
        stock = self.sized.job.stock
        numbers = {fold(part.part): at for at, part in reversed(list(enumerate(stock)))}  # the first row; others are its price breaks
        rows_of = {name: [part for part in stock if fold(part.part) == name] for name in numbers}
        breaks = {name: some for name, some in rows_of.items() if len(some) > 1}
        shown: dict[tuple[str, int], Row] = {}
        for on, figures in PRICED_ON.items():
            shown |= as_they_were(RESULT_SHEETS[on], self.stored.rows.get(on, ()), self._written(on), figures)
        by_words = {_words_of(_key_of(one)): at for at, one in enumerate(self.sized.job.typed_prices)}
        typed: dict[tuple[str, tuple[str, ...], str], list[tuple[StoredRow, str]]] = defaultdict(list)
        for sheet, stored in ((on, one) for on in PRICED_ON for one in self.stored.rows.get(on, ())):
            part, words = fold(stored.text("part")), _words_of(stored.values)
            on_list = part in numbers
            no_part = not on_list and stored.text("sort") not in ("", PART)
            for name in PRICED_ON[sheet]:
                written = shown.get((stored.sheet, stored.row), {}).get(name)
                value = stored.values.get(name)
                if name not in stored.values or (value in (None, "") and written in (None, "")):
                    continue
                if no_part:
                    if stored.text("used_for") != "labour" and not same(SHEETS["stock"][PRICED[name]], written, value):
                        self._leave(stored, name, written, NO_PART)
                    continue
                table, field = ("stock", PRICED[name]) if on_list else ("typed_prices", TYPED[name])
                if on_list and name == "hours_each":
                    field = _hours_of(stock[numbers[part]])
                column = SHEETS[table][field]
                if on_list and name == "unit_price" and part in breaks:
                    if not any(same(column, each.unit_price, value) for each in breaks[part]):
                        self._leave(stored, name, written, "the part has price breaks; change them on the Stock sheet")
                    continue
                number = numbers[part] if on_list else by_words.get(words, -1)
                now = self._price_now(table, number, field, column)
                if not same(column, now, value):
                    typed[table, (part,) if on_list else words, field].append((stored, name))
        for (table, key, field), cells in typed.items():
            number = numbers[key[0]] if table == "stock" else by_words.get(key, -1)
            column = SHEETS[table][field]
            now = self._price_now(table, number, field, column)
            values = [stored.values[name] for stored, name in cells]
            changes = [self.was.price(table, key, field, value, now) for value in values]
            if not all(same(column, values[0], value) for value in values):
                for stored, name in cells:
                    self._leave(stored, name, now, "lines of one part say several figures; give it one, here or on the Stock sheet")
            elif changes[0].typed:
                for stored, name in cells:
                    if changes[0].received:
                        self._leave(stored, name, now, BOTH)
                    else:
                        own = () if table == "stock" else tuple(stored.text(part) for part in ("role", "words", "unit"))
                        yield from self._take(stored, name, now, table, number=number, field=field, own=own)

    def _rebased(self, edits: Sequence[Edit]) -> None:
        """Says where hours move with the quantity that a price was typed for."""
        typed: dict[int, dict[str, object]] = defaultdict(dict)
        for edit in edits:
            if edit.records == "stock":
                typed[edit.number][edit.field] = edit.value
        for number, values in typed.items():
            was = self.sized.job.stock[number]
            at = next((edit.finding for edit in edits if (edit.number, edit.field) == (number, "per_quantity")), None)
            for one in rebased([(was, with_values(was, values))]):
                words = {"part": one.part, "before": one.before, "after": one.after, "hours": one.hours, "times": f"{one.times:.4g}"}
                where = {"sheet": at.sheet, "cell": at.cell, "project": at.project} if at is not None else {}
                self.findings.append(find(remark("price-basis-hours", "", **words), **where))

    def _price_now(self, table: str, number: int, field: str, column: Column) -> object:
        """What the job says: of a column with a default that was left blank, the default."""
        now = None if number < 0 else getattr(getattr(self.sized.job, table)[number], field)
        return float(column.default) if now is None and field == "per_quantity" else now

    def _take(
        self, stored: StoredRow, name: str, before: object, records: str, *, number: int, field: str, own: tuple[str, ...] = ()
    ) -> Iterator[Edit]:
        """An edit, read as the cell of the input sheet would be. `number` -1: of a record that there is not yet, whose key is `own`."""
        column = SHEETS["heaters" if records == "banks" else records][field]
        value = stored.values[name]
        read = reader(column)(value) if value is not None else None
        if isinstance(read, Outcome):
            if read.fault:
                self._leave(stored, name, before, f"{CATALOGUE[read.code].title[:1].lower()}{CATALOGUE[read.code].title[1:]}")
                return
            read = read.value
        if read is None and column.instead and number >= 0 and getattr(getattr(self.sized.job, records)[number], column.instead):
            read = emptied_value(column)
        if read is None and (column.required or field not in OPTIONAL):
            self._leave(stored, name, before, "a blank says nothing; restore the figure")
            return
        finding = self._finding(stored, "edit-taken", name, before, value)
        yield Edit(records, number, field, read, finding, own)

    def _leave(self, stored: StoredRow, name: str, before: object, why: str) -> None:
        self.findings.append(self._finding(stored, "edit-not-taken", name, before, stored.values[name], why=why))

    def _finding(self, stored: StoredRow, code: str, name: str, before: object, after: object, **more: str) -> Finding:
        [sheet] = [sheet for sheet in RESULT_SHEETS.values() if sheet.name == stored.sheet]
        column = sheet[name]
        shown = [worded(column, value) for value in (before, after)]
        return self._say(stored, code, name, column=column.heading, before=shown[0], after=shown[1], keep=False, **more)

    def _say(self, stored: StoredRow, code: str, name: str, keep: bool = True, **fields: object) -> Finding:
        who = {part: stored.text(part) for part in ("project", "tank", "bank", "feeder")}
        cell = stored.cell(name) if name in stored.columns else f"A{stored.row}"
        finding = find(remark(code, "", **fields), **who, sheet=stored.sheet, cell=cell, seen=stored.text(name))
        if keep:
            self.findings.append(finding)
        return finding


def apply(job: Job, edits: list[Edit], findings: list[Finding], lines: Mapping[str, Sequence[Entry]]) -> Job:
    """The job with every edit in its record and among what was decided, and all that is said of them."""
    tables = {records: table for table, records in RECORDS.items()}
    places = {(line.table, line.number): line for table in lines.values() for line in table}
    more = []
    for edit in edits:
        records, table = list(getattr(job, edit.records)), tables[edit.records]
        number, line = edit.number, places.get((table, edit.number))
        if edit.own:
            line = line_of_own(table, edit.own)
            known = [_words_of(_key_of(one)) for one in records]
            number = known.index(line.key) if line.key in known else len(records)
            if number == len(records):
                records.append(TypedPrice(role=edit.own[0], words=edit.own[1], unit=edit.own[2]))
        before = getattr(records[number], edit.field)
        records[number] = replace(records[number], **{edit.field: edit.value})
        job = with_values(job, {edit.records: tuple(records)})
        if line is not None:
            more.append(carried_forward(line, edit.field, edit.value, before, edit.source or job.name))
    said = (edit.finding for edit in edits if edit.finding is not None)
    return replace(with_carried_forward(job, more), findings=(*job.findings, *said, *findings))


def _words_of(row: Mapping[str, object]) -> tuple[str, ...]:
    """What a typed price is known by: role, words and unit, folded as they are when it is looked up."""
    return tuple(" ".join(str(row.get(key) or "").split()).casefold() for key in SHEETS["typed_prices"].key)


def _key_of(one: TypedPrice) -> Mapping[str, object]:
    return {key: getattr(one, key) for key in SHEETS["typed_prices"].key}


def _hours_of(part: Part) -> str:
    """The column of Stock that the hours of a line come from."""
    return "field_h" if part.kind in IN_THE_FIELD and part.field_h is not None else "labour_h"


