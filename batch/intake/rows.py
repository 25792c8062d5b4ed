"""Reads the rows below the headings: each becomes values by column, or is refused with a reason."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING

from batch.findings import CATALOGUE, find, remark, word
from batch.intake.cells import Outcome, Reader, fault, reader
from batch.intake.columns import LEAST_POWER_KW, SET_ASIDE, cold_bath, defaulted, taken_as_blank
from batch.intake.grid import Broken, Grid, shown, worded
from batch.intake.head import GIVES, Head, find_head, head_at, same_order
from batch.intake.heading_findings import say_above, say_headings, say_no_headings
from batch.intake.headings import Heading, Matcher
from batch.intake.layout import Marks, UnitBeside, careful, fill_merged, shape
from batch.intake.table import (
    AGAIN,
    ANEW,
    BELOW_LAST,
    NOTE,
    NOTHING,
    NUMBERED,
    TOTAL,
    UNIT_ROW,
    Progress,
    Row,
    Table,
    names_of,
    rows_worded,
)
from batch.intake.unread_rows import UnreadRows
from batch.ooxml.addresses import letters
from batch.systems import System

if TYPE_CHECKING:
    from batch.intake.column_map import TableMap

TOTAL_WORDS = re.compile(r"(?:grand\s+|sub[\s-]*)?totals?\b|sum\b|Σ|∑|overall\b", re.IGNORECASE)
MOST_BELOW = 100  # tables below one another on one sheet
MOST_SAID = 5000  # findings of one kind and table; of more there is one finding that counts them
LONGEST_TAG = 24  # characters; what is longer is prose
CHANGED = "headings in another order"


def read_table(
    grid: Grid, matcher: Matcher, progress: Progress | None = None, head: Head | None = None, plan: TableMap | None = None,
    *, unread: UnreadRows | None = None,
) -> Table:  # fmt: skip
    """Reads one sheet as `matcher.sheet`; `head` and `plan` where a column map says how, `unread` where rows unread are counted."""
    head = head or find_head(grid, matcher)
    table = Table(matcher.sheet, grid, head, plan=plan)
    if head.row < 0:
        say_no_headings(table)
        return table
    table.columns = columns_of(head)
    say_headings(table, head, matcher)
    say_above(table)
    if head.unit_row:
        table.refused[head.row + 2] = UNIT_ROW
    if missing := head.missing(matcher.sheet):
        why = f"no heading for {', '.join(column.heading for column in missing)}"
        table.refused |= {index + 1: why for index in grid.lines_from(head.first_data_row)}
        return table
    RowReader(table, matcher, progress, plan, unread or UnreadRows(grid.name)).read()
    return table


def columns_of(head: Head) -> dict[str, str]:
    return {key: letters(some[0].index) for key, some in head.by_key.items()}


class RowReader:
    """Reads the rows of one table, one after the other."""

    def __init__(self, table: Table, matcher: Matcher, progress: Progress | None, plan: TableMap | None, unread: UnreadRows) -> None:
        self.table, self.matcher, self.progress, self.unread = table, matcher, progress, unread
        self.sheet = table.sheet
        self.defaulted = defaulted(self.sheet)
        self.aside = SET_ASIDE[self.sheet.id] | self.defaulted
        self.required = [column.key for column in self.sheet.columns if column.required]
        self.tag = self.required[0] if self.required else self.sheet.columns[0].key  # the column that a row is known by
        self.fixed: dict[str, object] = dict(plan.fixed) if plan else {}
        self.carried: dict[str, object] = dict.fromkeys(plan.blank_repeats_above) if plan else {}
        self.last_row = plan.last_row if plan and plan.last_row else len(table.grid.rows)
        self.marks = Marks(table.grid, table.sheet, plan.decimal if plan else "")
        self.empty: list[int] = []  # rows with nothing in any column that is read
        self.numbered: list[int] = []  # rows with a running number alone
        self.said: Counter[str] = Counter()
        self._begin(table.head)

    def _begin(self, head: Head) -> None:
        """Sets out to read the rows below some headings."""
        self.head = head
        self.plan: list[tuple[str, int, Reader]] = []
        self.doubles: list[tuple[str, list[tuple[int, Reader]]]] = []
        grid = self.table.grid
        self.again = {shape(grid.rows[at]): AGAIN for at in range(head.top, head.row + 1)}
        if head.unit_row:
            self.again[shape(grid.rows[head.row + 1])] = UNIT_ROW
        for key, some in head.by_key.items():
            readers = [(heading.index, self._reader(key, heading)) for heading in some]
            if len(readers) == 1:
                self.plan.append((key, *readers[0]))
            else:
                self.doubles.append((key, readers))
        self.beside = {heading.index: UnitBeside(self.sheet[key], heading, self._reader(key, heading), self.marks)
                       for key, some in head.by_key.items() for heading in some if heading.unit_at >= 0}  # fmt: skip
        merges = fill_merged(grid, head)
        if merges:
            said = remark("cells-merged", sheet=grid.name, columns=", ".join(self.sheet[key].heading for key in merges))
            cell = f"{letters(head.by_key[merges[0]][0].index)}{head.first_data_row + 1}"
            self.table.findings.append(find(said, sheet=grid.name, cell=cell))

    def _reader(self, key: str, heading: Heading) -> Reader:
        column, pair = self.sheet[key], self.sheet.id in ("sources", "feeders")
        learned = reader(column, heading.unit, heading.strange, pair, self.marks.decimal)
        return careful(column, learned, reader(column, heading.unit, heading.strange, pair)) if self.marks.used else learned

    def read(self) -> None:
        table, rows = self.table, self.table.grid.rows
        first, total = self.head.first_data_row, len(rows)
        for index in table.grid.lines_from(first):
            if index < first:
                continue
            if index >= self.last_row:
                table.refused[index + 1] = BELOW_LAST
                continue
            self.unread.check(table)
            if self.progress and index % 1000 == 0:
                self.progress(f"Reading {table.grid.name}", index, total)
            self._row(index + 1, rows[index])
            if table.refused.get(index + 1) == CHANGED:
                head = head_at(table.grid, self.matcher, index)
                if head.missing(self.sheet):  # a column map knows the headings above; those below may be our own
                    head = head_at(table.grid, Matcher(self.sheet), index)
                if head.missing(self.sheet) or len(table.below) >= MOST_BELOW:
                    self._stop(index + 1)
                    break
                first = self._anew(index, head)
        if self.progress:
            self.progress(f"Reading {table.grid.name}", total, total)
        if self.empty:
            said = remark("rows-empty", sheet=table.grid.name, rows=rows_worded(self.empty))
            table.findings.append(find(said, sheet=table.grid.name, cell=f"A{self.empty[0]}"))
        if self.numbered:
            said = remark("rows-counted", sheet=table.grid.name, rows=rows_worded(self.numbered))
            table.findings.append(find(said, sheet=table.grid.name, cell=table.cell(self.tag, self.numbered[0])))
        if self.marks.used:
            table.findings.append(find(self.marks.said(), sheet=table.grid.name, cell=self.marks.used, seen=self.marks.seen))
        self._say_assumed_units()
        self._say_numbered()
        for code, count in self.said.items():
            if count > MOST_SAID:
                kind = CATALOGUE[code]
                said = remark("more-of-a-kind", sheet=table.grid.name, count=count - MOST_SAID, title=kind.title.lower())
                table.findings.append(find(said, sheet=table.grid.name))

    def _anew(self, index: int, head: Head) -> int:
        """Goes on below headings in another order; returns the first row of data."""
        table = self.table
        said = remark("headings-anew", row=index + 1, sheet=table.grid.name, first=self.head.row + 1)
        table.findings.append(find(said, sheet=table.grid.name, cell=f"A{index + 1}"))
        table.refused |= {at + 1: ANEW for at in range(index, head.row + 1)}
        if head.unit_row:
            table.refused[head.row + 2] = UNIT_ROW
        table.below.append((head.row + 1, columns_of(head)))
        say_headings(table, head, self.matcher)
        self._begin(head)
        return head.first_data_row

    def _row(self, number: int, row: list[object]) -> None:
        values: dict[str, object] = {}
        outcomes: list[tuple[str, int, Outcome]] = []
        for key, index, read in self.plan:
            cell = row[index]
            if cell == "" or cell is None:
                continue
            value = read(cell) if index not in self.beside else self.beside[index](cell, row)
            if type(value) is Outcome:
                if value.code == "cell-ambiguous" and self.marks.learn(self.head, f"{letters(index)}{number}", cell):
                    self._begin(self.head)
                    self._row(number, row)
                    return
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
        said_here = values
        if self.fixed or self.carried:
            said_here = dict(values)
            spoken = {key for key, _, _ in outcomes}
            for key, value in (*self.carried.items(), *self.fixed.items()):
                if value is not None and key not in spoken:
                    values.setdefault(key, value)
        if any(outcome.also for _, _, outcome in outcomes):
            self._share(row, values, outcomes)
        lacking = [key for key in self.required if key not in values and self.sheet[key].instead not in values]
        missing = [key for key in lacking if not any(key == said for said, _, _ in outcomes)]
        bad = self._is_heading(values) or bool(missing) or any(outcome.fault and key not in self.aside for key, _, outcome in outcomes)
        bad = bad or (said_here is not values and any(isinstance(cell, str) and TOTAL_WORDS.match(cell.strip()) for cell in row))
        if bad and self._no_data_row(number, row, said_here):
            return
        for key in self.carried:
            self.carried[key] = values.get(key)
        self._settle(number, row, values, outcomes, missing)

    def _share(self, row: list[object], values: dict[str, object], outcomes: list[tuple[str, int, Outcome]]) -> None:
        """What a cell says of other columns holds where those are blank or agree; else the row contradicts itself."""
        for key, index, outcome in list(outcomes):
            for other, value in outcome.also.items():
                given = values.get(other)
                if other not in self.sheet.by_key:
                    outcomes.append((key, index, fault(self.sheet[key], "cell-not-number", row[index])))
                elif given is None and not any(other == said for said, _, one in outcomes if one.value is None):
                    values[other] = value
                elif given is not None and given != value:
                    one, two = f"{given:g}", f"{value:g} (in \"{shown(row[index])}\")"
                    at = self.head.by_key[other][0].index if other in self.head.by_key else index
                    outcomes.append((other, at, fault(self.sheet[other], "cell-contradicts", one=one, other=two)))

    def _is_heading(self, values: dict[str, object]) -> bool:
        """Is the tag of the row the heading of its own column? So it is where the headings stand there again."""
        tag = values.get(self.tag)
        found = self.matcher.match(tag) if isinstance(tag, str) else None
        return found is not None and found.key == self.tag

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
        texts = [value.strip() for value in row if isinstance(value, str) and type(value) is not Broken and value.strip()]
        cells = sum(1 for value in row if value is not None and value != "")
        if fate := self.again.get(shape(row)):
            table.refused[number] = fate
            if fate is AGAIN:
                self._say(remark("row-headings-again", row=number), 0, number, texts[0] if texts else "")
            return True
        if values.keys() == {self.tag} and self._runs_on(number, values):
            table.refused[number] = NUMBERED
            self.numbered.append(number)
            return True
        again = same_order(row, self.head, self.matcher)
        if again is not None:
            code = "row-headings-again"
            table.refused[number] = AGAIN if again else CHANGED
            if again:
                table.findings.append(find(remark(code, row=number), sheet=table.grid.name, cell=f"{letters(0)}{number}"))
            return True
        lacking = sum(1 for key in self.required if key not in values)
        first = next((value for value in row if value is not None and value != ""), None)
        untagged = self.tag not in values
        total = next((text for text in texts if TOTAL_WORDS.match(text) and (untagged or first == text)), "")
        if total and lacking >= min(2, len(self.required)) and (self.required or untagged):
            table.refused[number] = TOTAL
            self._say(remark("row-total", row=number, value=shown(total)), row.index(total) if total in row else 0, number, total)
            return True
        if cells == 1 and texts and lacking >= min(2, len(self.required)) and not self._is_lone_feeder(values):
            index = next(index for index, value in enumerate(row) if value is not None and value != "")
            table.refused[number] = NOTE
            self._say(remark("row-note", row=number, value=shown(texts[0])), index, number, texts[0])
            return True
        return False

    def _runs_on(self, number: int, values: dict[str, object]) -> bool:
        """Is the row a numbered one that nobody filled in: a tag that is one more, or one less, than that of the row beside it?"""
        tag, rows = str(values[self.tag]), self.table.grid.rows
        if self.sheet.id != "heaters" or not tag.isdecimal() or self.tag not in self.head.by_key:
            return False
        at = self.head.by_key[self.tag][0].index
        beside = [worded(rows[index][at]).strip() for index in (number - 2, number) if self.head.row < index < len(rows)]
        return any(other.isdecimal() and abs(int(other) - int(tag)) == 1 for other in beside)

    def _is_lone_feeder(self, values: dict[str, object]) -> bool:
        """A tag alone is a feeder whose volts are still missing: taken for a note, its heaters would fall to another feeder."""
        tag = values.get("feeder")
        return self.sheet.id == "feeders" and isinstance(tag, str) and len(tag) <= LONGEST_TAG and tag[0] != "*"

    def _say(self, said, index: int, number: int, seen: object, **who: str) -> None:
        self.said[said.code] += 1
        if self.said[said.code] <= MOST_SAID:
            self.table.findings.append(find(said, sheet=self.table.grid.name, cell=f"{letters(index)}{number}", seen=shown(seen), **who))

    def _settle(self, number: int, row: list[object], values: dict, outcomes: list, missing: list[str]) -> None:
        """Says what there is to say of a row, and keeps or refuses it."""
        who = names_of(values)
        reasons: list[str] = []
        for key, index, outcome in outcomes:
            if key == "volts_v" and outcome.code == "volts-pair-read":
                self._supply(number, index, row, values=values, outcome=outcome, who=who)
                continue
            said = remark(outcome.code, key, **outcome.fields)
            if outcome.fault and key in self.defaulted and outcome.code != "unit-unknown-heading":
                values.pop(key, None)
                self._say(taken_as_blank(self.sheet, key, word(said)), index, number, row[index], **who)
                continue
            if outcome.fault and key in self.aside and key not in self.defaulted:
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
            index = self.head.by_key[key if key in self.head.by_key else GIVES[key]][0].index
            self._say(remark("cell-missing", key, column=column.heading, help=column.help), index, number, "", **who)
        power = values.get("power_kw")
        if power is not None and self.sheet.id == "heaters" and power < LEAST_POWER_KW and not reasons:
            index = self.head.by_key["power_kw" if "power_kw" in self.head.by_key else "quantity"][0].index
            self._say(remark("power-unlikely", "power_kw", column="Power", value=f"{power * 1000:.6g} W"), index, number, row[index], **who)
        bath = self.head.by_key.get("operating_c", (None,))[0]
        if bath is not None and (cold := cold_bath(self.sheet, values, row[bath.index], bath.unit)):
            self._say(cold, bath.index, number, row[bath.index], **who)
            reasons.append("Operating temperature: °F or °C")
        if reasons:
            self.table.refused[number] = "; ".join(reasons)
            self.table.named[number] = who
            self.table.read_of[number] = values
        else:
            self.table.rows.append(Row(number, values, self.table))

    def _supply(self, number: int, index: int, row: list[object], *, values: dict, outcome: Outcome, who: dict[str, str]) -> None:
        """A supply named by two voltages sets the wires where they are blank, and a high-leg delta its system."""
        wires = outcome.wires
        if wires == 3 and values.get("phases") == 3:
            wires = 4  # 240/120 on three phases is a delta with one winding tapped in the middle
            values.setdefault("system", System.HIGH_LEG_DELTA.value)
        given = values.get("wires")
        if given is not None and given != wires:
            fields = {"named": str(wires), "given": str(given)}
            self._say(remark("volts-pair-wires", "volts_v", **outcome.fields, **fields), index, number, row[index], **who)
            return
        values["wires"] = wires
        high_leg = f", {System.HIGH_LEG_DELTA}" if values.get("system") == System.HIGH_LEG_DELTA else ""
        read = f"{values['volts_v']:g} V, {wires} wires{high_leg}"
        self._say(remark("volts-pair-read", "volts_v", **outcome.fields, read=read), index, number, row[index], **who)

    def _stop(self, number: int) -> None:
        """Below headings in another order nothing can be read for certain."""
        table, why = self.table, f"below other headings (row {number})"
        said = remark("headings-change", row=number, first=self.head.row + 1, sheet=table.grid.name)
        table.findings.append(find(said, sheet=table.grid.name, cell=f"A{number}"))
        table.refused |= {index + 1: why for index in table.grid.lines_from(number)}

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
        for key, some in self.table.head.by_key.items():
            column, heading, index = self.sheet[key], some[0], some[0].index
            several = column.us_unit or column.unit in ("kW", "kA")
            if not several or heading.unit_at >= 0 or heading.unit is not None or heading.strange:
                continue
            if any(_bare(rows[row.number - 1][index]) for row in self.table.rows):
                assumed.append(f"{column.heading} in {column.unit}")
        if assumed:
            said = remark("unit-assumed", sheet=self.table.grid.name, columns=", ".join(assumed))
            self.table.findings.append(find(said, sheet=self.table.grid.name, cell=f"A{self.table.head.row + 1}"))


def _bare(value: object) -> bool:
    return type(value) is float or type(value) is int or (isinstance(value, str) and value.strip().replace(".", "", 1).isdigit())
