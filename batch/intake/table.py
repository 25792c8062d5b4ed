"""Reads the table of one sheet: every row below the headings becomes values by column, or is refused with a reason."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from batch.findings import CATALOGUE, Finding, find, remark, word
from batch.intake.cells import Outcome, Reader, fault, limits, reader
from batch.intake.grid import Grid, blank, letters, plain, shown, worded
from batch.intake.head import Head, find_head, same_order
from batch.intake.headings import Heading, Matcher, column_unit, letters_of
from batch.records import Origin, ReceivedRow, ReceivedTable
from batch.sheets import Column, Sheet
from batch.units import WORDS

# Columns with which nothing is sized: a cell that cannot be read there is left blank, with a caution. A broken cell
# anywhere else refuses its row, because a blank there means a default, and the default may be wrong for that row.
SET_ASIDE: dict[str, frozenset[str]] = {
    "projects": frozenset({"title", "customer", "site", "revision", "prepared_by", "date", "currency", "notes"}),
    "feeders": frozenset({"notes"}),
    "tanks": frozenset({"duty", "work_material", "level_cutoff", "notes"}),
    "heaters": frozenset({"sheath", "hot_length_mm", "diameter_mm", "protector", "notes"}),
    "stock": frozenset({"unit_price", "labour_h"}),
}
NAMING = ("project", "tank", "bank", "feeder")
TOTAL = re.compile(r"(?:grand\s+|sub[\s-]*)?totals?\b|sum\b|Σ|∑|overall\b", re.IGNORECASE)
SURE_UNITS = frozenset({"V", "A", "%", "h", "kVA", "°C only", ""})  # a bare number in these needs no note
LEAST_POWER_KW = 0.1  # below it an immersion heater for a process tank is a slip of the unit; common practice, no source

Progress = Callable[[str, int, int], None]


@dataclass(slots=True)
class Row:
    """One row that could be read: its number in the sheet and its values by column key, blanks left out."""

    number: int
    values: dict[str, object]


@dataclass(slots=True)
class Table:
    """The table of one sheet. `refused` says why, by row number; every non-blank row is in `rows` or in `refused`."""

    sheet: Sheet
    grid: Grid
    head: Head
    columns: dict[str, str] = field(default_factory=dict)
    rows: list[Row] = field(default_factory=list)
    refused: dict[int, str] = field(default_factory=dict)
    named: dict[int, dict[str, str]] = field(default_factory=dict)  # tags of refused rows, as far as they could be read
    findings: list[Finding] = field(default_factory=list)

    def origin(self, number: int) -> Origin:
        return Origin(self.grid.name, number, self.columns)

    def cell(self, key: str, number: int) -> str:
        return self.origin(number).cell(key)

    def refuse(self, row: Row, why: str) -> None:
        self.refused[row.number] = why
        self.named[row.number] = names_of(row.values)

    def received(self) -> ReceivedTable:
        """The table as it came, with the fate of each row that became no record."""
        first, last = (self.head.headings[0].index, self.head.headings[-1].index) if self.head.headings else (0, self._width() - 1)
        rows = [
            ReceivedRow(self.grid.name, number, self._plain(number, first, last), self.refused.get(number, ""))
            for number in range(self._first(), len(self.grid.rows) + 1)
        ]
        headings = tuple(heading.text for heading in self.head.headings) or ("",) * self._width()
        keys = tuple("" if heading.passed_over else heading.key for heading in self.head.headings) or ("",) * self._width()
        return ReceivedTable(self.grid.name, self.sheet.id, self.head.row + 1, headings, keys, tuple(rows))

    def _plain(self, number: int, first: int, last: int) -> tuple[object, ...]:
        return tuple([plain(value) for value in self.grid.rows[number - 1][first : last + 1]])

    def _first(self) -> int:
        return self.head.row + 2

    def _width(self) -> int:
        return len(self.grid.rows[0]) if self.grid.rows else 0


def names_of(values: dict[str, object]) -> dict[str, str]:
    """The tags of a row, for the address of its findings."""
    return {key: str(values[key]) for key in NAMING if key in values}


def read_table(grid: Grid, matcher: Matcher, progress: Progress | None = None) -> Table:
    """Reads one sheet as `matcher.sheet`."""
    sheet = matcher.sheet
    head = find_head(grid, matcher)
    table = Table(sheet, grid, head)
    if head.row < 0:
        _no_headings(table)
        return table
    table.columns = {heading.key: letters(heading.index) for heading in head.headings if heading.key and not heading.passed_over}
    table.columns |= {key: letters(some[0].index) for key, some in head.by_key.items()}
    _say_headings(table, matcher)
    if head.unit_row:
        table.refused[head.row + 2] = "unit row"
    if missing := head.missing(sheet):
        for number in range(head.first_data_row + 1, len(grid.rows) + 1):
            empty = blank(grid.rows[number - 1])
            table.refused[number] = "blank row" if empty else f"no heading for {', '.join(column.heading for column in missing)}"
        return table
    _RowReader(table, matcher, progress).read()
    return table


def _no_headings(table: Table) -> None:
    grid, sheet = table.grid, table.sheet
    for number, row in enumerate(grid.rows, 1):
        table.refused[number] = "blank row" if blank(row) else "no heading row found"
    if grid.filled:
        said = remark("headings-not-found", sheet=grid.name, looked=min(30, grid.filled), kind=sheet.name, rows=grid.filled)
        table.findings.append(find(said, sheet=grid.name))


def _say_headings(table: Table, matcher: Matcher) -> None:
    """What is to be said of the heading row: missing, nearly right, repeated, passed over, riding along, unknown unit."""
    sheet, head, where = table.sheet, table.head, {"sheet": table.grid.name}
    strangers = [heading for heading in head.headings if not heading.key and heading.text]
    absent = [column.key for column in sheet.columns if column.key not in head.by_key]
    offered: dict[str, str] = {}
    for heading in strangers:
        if key := matcher.near(heading.text, absent):
            offered.setdefault(key, heading.text)
            said = remark("heading-near", key, heading=_flat(heading.text), sheet=table.grid.name, column=sheet[key].heading)
            table.findings.append(find(said, cell=_heading_cell(head, heading), seen=shown(heading.text), **where))
    for column in head.missing(sheet):
        offer = f" Is it \"{_flat(offered[column.key])}\"?" if column.key in offered else ""
        said = remark("heading-missing", column.key, sheet=table.grid.name, column=column.heading, offer=offer)
        table.findings.append(find(said, cell=f"A{head.row + 1}", **where))
    for key, some in head.by_key.items():
        if len(some) > 1:
            said = remark("heading-repeated", key, sheet=table.grid.name, column=sheet[key].heading, letters=letters_of(some))
            table.findings.append(find(said, cell=_heading_cell(head, some[1]), seen=shown(some[1].text), **where))
        _say_strange_unit(table, sheet[key], some)
    for heading in head.headings:
        if heading.passed_over:
            fields = {"heading": _flat(heading.text), "column": sheet[heading.key].heading, "letters": letters_of(head.by_key[heading.key])}
            said = remark("heading-passed-over", heading.key, sheet=table.grid.name, **fields)
            table.findings.append(find(said, cell=_heading_cell(head, heading), seen=shown(heading.text), **where))
    _say_riding(table)


def _say_strange_unit(table: Table, column: Column, some: Sequence[Heading]) -> None:
    own = column_unit(column)
    for heading in some:
        if heading.strange and own:
            quantity = WORDS.get(own.quantity, own.quantity)
            fields = {"column": column.heading, "unit": heading.strange[:40], "quantity": quantity, "such": column.unit}
            said = remark("unit-unknown-heading", column.key, **fields)
            if column.key in SET_ASIDE[table.sheet.id]:
                said = remark("cell-set-aside", column.key, fault=word(said))
            table.findings.append(find(said, sheet=table.grid.name, cell=_heading_cell(table.head, heading), seen=shown(heading.text)))


def _say_riding(table: Table) -> None:
    head = table.head
    riding = [heading for heading in head.headings if not heading.key]
    words = [f"\"{_flat(heading.text)}\"" for heading in riding if heading.text]
    bare = [heading for heading in riding if not heading.text and _filled_below(table, heading.index)]
    if bare:
        words.append(f"column {letters_of(bare)} without a heading" if len(bare) == 1 else f"columns {letters_of(bare)} without headings")
    if words:
        said = remark("heading-rides-along", sheet=table.grid.name, headings=", ".join(words))
        table.findings.append(find(said, sheet=table.grid.name, cell=f"{letters(riding[0].index)}{head.row + 1}"))


def _filled_below(table: Table, index: int) -> bool:
    return any(row[index] not in (None, "") for row in table.grid.rows[table.head.first_data_row :])


def _heading_cell(head: Head, heading: Heading) -> str:
    return f"{letters(heading.index)}{head.row + 1}"


def _flat(text: str) -> str:
    return shown(" ".join(text.split()))


class _RowReader:
    """Reads the rows of one table, one after the other."""

    def __init__(self, table: Table, matcher: Matcher, progress: Progress | None) -> None:
        self.table, self.matcher, self.progress = table, matcher, progress
        self.sheet = table.sheet
        self.aside = SET_ASIDE[self.sheet.id]
        self.required = [column.key for column in self.sheet.columns if column.required]
        self.plan: list[tuple[str, int, Reader]] = []
        self.doubles: list[tuple[str, list[tuple[int, Reader]]]] = []
        self.empty: list[int] = []  # rows with nothing in any column that is read
        for key, some in table.head.by_key.items():
            readers = [(heading.index, self._reader(key, heading)) for heading in some]
            if len(readers) == 1:
                self.plan.append((key, *readers[0]))
            else:
                self.doubles.append((key, readers))

    def _reader(self, key: str, heading: Heading) -> Reader:
        return reader(self.sheet[key], heading.unit, heading.strange, pair=self.sheet.id == "feeders")

    def read(self) -> None:
        table, rows = self.table, self.table.grid.rows
        first, total = table.head.first_data_row, len(table.grid.rows)
        for number in range(first, total):
            if self.progress and number % 1000 == 0:
                self.progress(f"Reading {table.grid.name}", number, total)
            self._row(number + 1, rows[number])
            if number + 1 in table.refused and table.refused[number + 1] == "headings change":
                self._stop(number + 1)
                break
        if self.empty:
            said = remark("rows-empty", sheet=table.grid.name, rows=rows_worded(self.empty))
            table.findings.append(find(said, sheet=table.grid.name, cell=f"A{self.empty[0]}"))
        self._say_assumed_units()

    def _row(self, number: int, row: list[object]) -> None:
        values: dict[str, object] = {}
        outcomes: list[tuple[str, int, Outcome]] = []
        for key, index, read in self.plan:
            cell = row[index]
            if cell == "" or cell is None:
                continue
            value = read(cell)
            if type(value) is Outcome:
                outcomes.append((key, index, value))
                value = value.value
            if value is not None:
                values[key] = value
        for key, readers in self.doubles:
            self._double(key, readers, row, values, outcomes)
        if not values and not outcomes:
            self._nothing(number, row)
            return
        missing = [key for key in self.required if key not in values and not any(key == said for said, _, _ in outcomes)]
        bad = bool(missing) or any(outcome.fault and key not in self.aside for key, _, outcome in outcomes)
        if bad and self._no_data_row(number, row, values):
            return
        self._settle(number, row, values, outcomes, missing)

    def _double(self, key: str, readers: list, row: list[object], values: dict, outcomes: list) -> None:
        """A column given twice: both must say the same, or one nothing."""
        results = []
        for index, read in readers:
            value = read(row[index]) if row[index] not in ("", None) else None
            if value is not None:
                results.append((index, value))
        for index, value in results:
            if type(value) is Outcome:
                outcomes.append((key, index, value))
        plain_values = [(index, value.value if type(value) is Outcome else value) for index, value in results]
        known = [(index, value) for index, value in plain_values if value is not None]
        if not known:
            return
        different = [value for _, value in known if value != known[0][1]]
        if different:
            one, other = shown(known[0][1]), shown(different[0])
            outcomes.append((key, known[0][0], fault(self.sheet[key], "cell-contradicts", one=one, other=other)))
        else:
            values[key] = known[0][1]

    def _nothing(self, number: int, row: list[object]) -> None:
        if blank(row):
            self.table.refused[number] = "blank row"
        else:
            self.table.refused[number] = "nothing in the columns that are read"
            self.empty.append(number)

    def _no_data_row(self, number: int, row: list[object], values: dict[str, object]) -> bool:
        """Is the row a total, a note or the headings again? Then it is refused here, with a finding that says so."""
        table = self.table
        texts = [value.strip() for value in row if isinstance(value, str) and value.strip()]
        cells = sum(1 for value in row if value is not None and value != "")
        again = same_order(row, table.head, self.matcher)
        if again is not None:
            code = "row-headings-again" if again else "headings-change"
            table.refused[number] = "headings again" if again else "headings change"
            fields = {} if again else {"first": str(table.head.row + 1), "sheet": table.grid.name}
            table.findings.append(find(remark(code, row=number, **fields), sheet=table.grid.name, cell=f"{letters(0)}{number}"))
            return True
        total = next((text for text in texts if TOTAL.match(text)), "")
        lacking = sum(1 for key in self.required if key not in values)
        if total and lacking:
            table.refused[number] = "a total"
            self._say(remark("row-total", row=number, value=shown(total)), row.index(total) if total in row else 0, number, total)
            return True
        if cells == 1 and texts and lacking >= min(2, len(self.required)):
            index = next(index for index, value in enumerate(row) if value is not None and value != "")
            table.refused[number] = "a note"
            self._say(remark("row-note", row=number, value=shown(texts[0])), index, number, texts[0])
            return True
        return False

    def _say(self, said, index: int, number: int, seen: object, **who: str) -> None:
        self.table.findings.append(find(said, sheet=self.table.grid.name, cell=f"{letters(index)}{number}", seen=shown(seen), **who))

    def _settle(self, number: int, row: list[object], values: dict, outcomes: list, missing: list[str]) -> None:
        """Says what there is to say of a row, and keeps or refuses it."""
        who = names_of(values)
        reasons: list[str] = []
        for key, index, outcome in outcomes:
            if key == "volts_v" and outcome.code == "volts-pair-read":
                self._supply(number, index, row, values, outcome, who)
                continue
            said = remark(outcome.code, key, **outcome.fields)
            if outcome.fault and key in self.aside:
                if outcome.code != "unit-unknown-heading":
                    self._say(remark("cell-set-aside", key, fault=word(said)), index, number, row[index], **who)
                continue
            if outcome.fault:
                reasons.append(f"{self.sheet[key].heading}: {CATALOGUE[outcome.code].title.lower()}")
            if outcome.code != "unit-unknown-heading":
                self._say(said, index, number, row[index], **who)
        for key in missing:
            column = self.sheet[key]
            reasons.append(f"{column.heading}: blank")
            index = self.table.head.by_key[key][0].index
            self._say(remark("cell-missing", key, column=column.heading, help=column.help), index, number, "", **who)
        power = values.get("power_kw")
        if power is not None and self.sheet.id == "heaters" and power < LEAST_POWER_KW and not reasons:
            index = self.table.head.by_key["power_kw"][0].index
            self._say(remark("power-unlikely", "power_kw", column="Power", value=f"{power:.6g} kW"), index, number, row[index], **who)
        if reasons:
            self.table.refused[number] = "; ".join(reasons)
            self.table.named[number] = who
        else:
            self.table.rows.append(Row(number, values))

    def _supply(self, number: int, index: int, row: list[object], values: dict, outcome: Outcome, who: dict[str, str]) -> None:
        """A supply named by two voltages sets the wires where they are blank, and a high-leg delta its system."""
        wires = outcome.wires
        if wires == 3 and values.get("phases") == 3:
            wires = 4  # 240/120 on three phases is a delta with one winding tapped in the middle
            values.setdefault("system", "high-leg delta")
        given = values.get("wires")
        if given is not None and given != wires:
            fields = {"named": str(wires), "given": str(given)}
            self._say(remark("volts-pair-wires", "volts_v", **outcome.fields, **fields), index, number, row[index], **who)
            return
        values["wires"] = wires
        high_leg = ", high-leg delta" if values.get("system") == "high-leg delta" else ""
        read = f"{values['volts_v']:g} V, {wires} wires{high_leg}"
        self._say(remark("volts-pair-read", "volts_v", **outcome.fields, read=read), index, number, row[index], **who)

    def _stop(self, number: int) -> None:
        """Below headings in another order nothing can be read for certain."""
        for below in range(number + 1, len(self.table.grid.rows) + 1):
            empty = blank(self.table.grid.rows[below - 1])
            self.table.refused[below] = "blank row" if empty else f"below other headings (row {number})"

    def _say_assumed_units(self) -> None:
        """One note for the columns whose bare numbers could be in several units."""
        assumed = []
        rows = self.table.grid.rows
        for key, index, _ in self.plan:
            column = self.sheet[key]
            heading = self.table.head.by_key[key][0]
            several = column.us_unit or column.unit in ("kW", "kA")
            if not several or heading.unit is not None or heading.strange:
                continue
            if any(_bare(rows[row.number - 1][index]) for row in self.table.rows):
                assumed.append(f"{column.heading} in {column.unit}")
        if assumed:
            said = remark("unit-assumed", sheet=self.table.grid.name, columns=", ".join(assumed))
            self.table.findings.append(find(said, sheet=self.table.grid.name, cell=f"A{self.table.head.row + 1}"))


def _bare(value: object) -> bool:
    return type(value) is float or type(value) is int or (isinstance(value, str) and value.strip().replace(".", "", 1).isdigit())


def rows_worded(numbers: Sequence[int]) -> str:
    """Row numbers in words: "row 4", "rows 4, 7 to 9 and 12"."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    words = [f"{low}" if low == high else f"{low}, {high}" if high == low + 1 else f"{low} to {high}" for low, high in runs]
    if len(words) > 8:
        words = [*words[:8], f"{len(numbers) - sum(high - low + 1 for low, high in runs[:8])} more"]
    joined = words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
    return f"row {joined}" if len(numbers) == 1 else f"rows {joined}"


__all__ = ["SET_ASIDE", "Row", "Table", "limits", "names_of", "read_table", "rows_worded", "worded"]
