"""Reads the rows below the headings: each becomes values by column, or is refused with a reason."""

from __future__ import annotations

import re

from batch.findings import CATALOGUE, find, remark, word
from batch.intake.cells import Outcome, Reader, fault, reader
from batch.intake.columns import LEAST_POWER_KW, SET_ASIDE
from batch.intake.grid import Grid, letters, shown
from batch.intake.head import find_head, same_order
from batch.intake.heading_findings import say_headings, say_no_headings
from batch.intake.headings import Heading, Matcher
from batch.intake.table import AGAIN, NOTE, NOTHING, TOTAL, UNIT_ROW, Progress, Row, Table, names_of, rows_worded

TOTAL_WORDS = re.compile(r"(?:grand\s+|sub[\s-]*)?totals?\b|sum\b|Σ|∑|overall\b", re.IGNORECASE)

LONGEST_TAG = 24  # characters; what is longer is prose
CHANGED = "headings in another order"


def read_table(grid: Grid, matcher: Matcher, progress: Progress | None = None) -> Table:
    """Reads one sheet as `matcher.sheet`."""
    head = find_head(grid, matcher)
    table = Table(matcher.sheet, grid, head)
    if head.row < 0:
        say_no_headings(table)
        return table
    table.columns = {key: letters(some[0].index) for key, some in head.by_key.items()}
    say_headings(table, matcher)
    if head.unit_row:
        table.refused[head.row + 2] = UNIT_ROW
    if missing := head.missing(matcher.sheet):
        why = f"no heading for {', '.join(column.heading for column in missing)}"
        table.refused |= {index + 1: why for index in grid.lines if index >= head.first_data_row}
        return table
    _RowReader(table, matcher, progress).read()
    return table


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
        for index in table.grid.lines:
            if index < first:
                continue
            if self.progress and index % 1000 == 0:
                self.progress(f"Reading {table.grid.name}", index, total)
            self._row(index + 1, rows[index])
            if table.refused.get(index + 1) == CHANGED:
                self._stop(index + 1)
                break
        if self.progress:
            self.progress(f"Reading {table.grid.name}", total, total)
        if self.empty:
            said = remark("rows-empty", sheet=table.grid.name, rows=rows_worded(self.empty))
            table.findings.append(find(said, sheet=table.grid.name, cell=f"A{self.empty[0]}"))
        self._say_assumed_units()
        self._say_numbered()

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
            self.table.refused[number] = NOTHING
            self.empty.append(number)
            return
        missing = [key for key in self.required if key not in values and not any(key == said for said, _, _ in outcomes)]
        bad = self._is_heading(values) or bool(missing) or any(outcome.fault and key not in self.aside for key, _, outcome in outcomes)
        if bad and self._no_data_row(number, row, values):
            return
        self._settle(number, row, values, outcomes, missing)

    def _is_heading(self, values: dict[str, object]) -> bool:
        """Is the tag of the row the heading of its own column? So it is where the headings stand there again."""
        tag = values.get(self.required[0])
        found = self.matcher.match(tag) if isinstance(tag, str) else None
        return found is not None and found.key == self.required[0]

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

    def _no_data_row(self, number: int, row: list[object], values: dict[str, object]) -> bool:
        """Is the row a total, a note or the headings again? Then it is refused here, with a finding that says so."""
        table = self.table
        texts = [value.strip() for value in row if isinstance(value, str) and value.strip()]
        cells = sum(1 for value in row if value is not None and value != "")
        again = same_order(row, table.head, self.matcher)
        if again is not None:
            code = "row-headings-again" if again else "headings-change"
            table.refused[number] = AGAIN if again else CHANGED
            fields = {} if again else {"first": str(table.head.row + 1), "sheet": table.grid.name}
            table.findings.append(find(remark(code, row=number, **fields), sheet=table.grid.name, cell=f"{letters(0)}{number}"))
            return True
        lacking = sum(1 for key in self.required if key not in values)
        first = next((value for value in row if value is not None and value != ""), None)
        untagged = self.required[0] not in values
        total = next((text for text in texts if TOTAL_WORDS.match(text) and (untagged or first == text)), "")
        if total and lacking >= min(2, len(self.required)):
            table.refused[number] = TOTAL
            self._say(remark("row-total", row=number, value=shown(total)), row.index(total) if total in row else 0, number, total)
            return True
        if cells == 1 and texts and lacking >= min(2, len(self.required)) and not self._is_lone_feeder(values):
            index = next(index for index, value in enumerate(row) if value is not None and value != "")
            table.refused[number] = NOTE
            self._say(remark("row-note", row=number, value=shown(texts[0])), index, number, texts[0])
            return True
        return False

    def _is_lone_feeder(self, values: dict[str, object]) -> bool:
        """A tag alone is a feeder whose volts are still missing: taken for a note, its heaters would fall to another feeder."""
        tag = values.get("feeder")
        return self.sheet.id == "feeders" and isinstance(tag, str) and len(tag) <= LONGEST_TAG and tag[0] != "*"

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
            self._say(remark("power-unlikely", "power_kw", column="Power", value=f"{power * 1000:.6g} W"), index, number, row[index], **who)
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
        why = f"below other headings (row {number})"
        self.table.refused |= {index + 1: why for index in self.table.grid.lines if index >= number}

    def _say_numbered(self) -> None:
        """Item numbers under "No." would be sized as so many heaters each: said where the column's own name is not used."""
        heading = self.table.head.by_key.get("quantity", (None,))[0]
        counts = [row.values.get("quantity") for row in self.table.rows]
        if heading and heading.rank and len(counts) > 2 and counts == list(range(1, len(counts) + 1)):
            said = remark("quantity-numbered", "quantity", heading=shown(heading.text), last=counts[-1])
            self._say(said, heading.index, self.table.head.row + 1, heading.text)

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
