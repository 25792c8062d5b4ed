"""Reads one [[table]] of a column map, checked key by key; every error names its line and what was expected."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from batch.findings import remark, word
from batch.intake.cells import Outcome, reader, squeezed
from batch.intake.headings import column_unit
from batch.intake.list_columns import FOREIGN_POWER, LIST
from batch.intake.map_lines import line_of
from batch.intake.map_schema import EXPECTED, AlsoSaid, ColumnSaid, TableSaid, Wrong, checked, fields_of
from batch.intake.plan import FIRST, JOIN, SUM, LeftOpen, When
from batch.intake.table_map import (
    ASKED,
    BLOCKS,
    FORMERLY,
    POWER,
    QUANTITY,
    TURNED,
    AlsoMap,
    MapError,
    MappedColumn,
    TableMap,
    column_at,
    flat,
    names_of,
    placed,
)
from batch.ooxml.addresses import LAST_COLUMN, letters
from batch.sheets import HEATERS, INPUTS, Sheet
from batch.units import Unit, find_unit

OF_ANY = frozenset(
    {"sheet", "kind", "range", "heading_row", "first_column", "last_column", "last_row", "decimal", "columns", "fixed"}
    | {"blank_repeats_above", FORMERLY}
)
NUMBERS = (int, float)
CELLS = re.compile(r"\s*\$?([A-Za-z]{1,3})\$?(\d+)\s*:\s*\$?([A-Za-z]{1,3})\$?(\d+)\s*")
MOST_ROWS = 100_000  # that one entry of keep or leave_out may name
NO_LINES: Mapping[tuple[str | int, ...], int] = {}


class TableReader:
    """Reads one [[table]] of a map."""

    def __init__(self, content: dict[str, Any], where: str, decimal: str, lines: Mapping[tuple[str | int, ...], int] = NO_LINES) -> None:
        self.content, self.where, self.lines = dict(content), where, dict(lines)
        self.fixed_volts: float | None = None
        self.said: TableSaid = self._checked(self.content, TableSaid, ())
        self.where = f'{where} (sheet "{self.said.sheet[:40]}")'
        self.kind = self._kind()
        if self.kind is not LIST and (odd := next((key for key in self.content if key not in OF_ANY), "")):
            raise self.fault(f'"{odd}" has no meaning in a table of {self.kind.name}: use {", ".join(sorted(OF_ANY - {FORMERLY}))}', odd)
        self.names = names_of(self.kind)
        self.decimal = self.said.decimal if isinstance(self.said.decimal, str) else decimal

    def fault(self, what: str, *path: str) -> MapError:
        return MapError(f"{placed(self.where, line_of(self.lines, path) or self.lines.get((), 0))}: {what}")

    def _checked(self, content: object, shape: type, path: tuple[str, ...], what: str = "a table") -> Any:
        try:
            return checked(content, shape)
        except Wrong as wrong:
            key = wrong.path[-1] if wrong.path else (path[-1] if path else "table")
            at = (*path, *wrong.path)
            if not wrong.known:
                known = ", ".join(fields_of(shape))
                raise self.fault(f'"{key[:40]}" has no meaning in {what}: use {known}', *at) from None
            value: Any = content
            for part in wrong.path:
                value = value.get(part) if isinstance(value, dict) else value
            name = ".".join(at) if path else key
            wrote = "missing" if wrong.missing else f'"{value[:20]}"' if isinstance(value, str) and key == "column" else _shown(value)
            raise self.fault(f"{name} is {wrote}: {EXPECTED.get(key, 'correct it')}", *at) from None

    def table(self) -> TableMap:
        self._span()
        first, last = self._letter("first_column", 0), self._letter("last_column", -1)
        if last >= 0 and last < first:
            raise self.fault("last_column stands before first_column: change them round", "last_column")
        turned, rows = self._turned()
        if self.said.use is False:
            return TableMap(self.where, self.said.sheet, self.kind, rows, (), {}, content=self.content, use=False, first=first, last=last,
                            last_row=self._number("last_row"), lines=self.lines)  # fmt: skip
        columns = tuple(self._column(name, said) for name, said in self.said.columns.items() if said != ASKED)
        fixed, when = self._fixed_part(self.said.fixed, ("fixed",))
        if not columns:
            raise self.fault("no column is mapped: list them under [table.columns]")
        self._given_twice(columns, fixed)
        if not rows and not any(part.heading for column in columns for part in column.all()):
            raise self.fault("columns are given by letters only, so heading_row is needed: write the row above the first row of data")
        return TableMap(
            self.where, self.said.sheet, self.kind, rows, columns, fixed, self._blank_repeats_above(), first, last,
            self._number("last_row"), self.decimal, self.content, self.said.use is not False, self._number("first_row"),
            self._choice("power", POWER), self._choice("quantity", QUANTITY), self._rows("keep"), self._rows("leave_out"),
            self._words("leave_out_words"), self._words("keep_words"), turned, self._held(), self.fixed_volts, self._merged(),
            when, self._words("only_words"), self._words("blank_words"), self._words("total_words"), self._words("repeat_words"),
            self.said.struck != "kept", self.said.hidden if isinstance(self.said.hidden, str) else "asked", self._means(self.said.means),
            self._tags(),
            self._also(), tuple(self._key(name, "columns", name) for name, said in self.said.columns.items() if said == ASKED),
            self._row_values(self.said.rows), tuple(self._rows_one_by_one(ASKED)), self.lines,
            self.said.older if isinstance(self.said.older, str) else "", self._left_open(),
        )  # fmt: skip

    def _span(self) -> None:
        """A range as rows and columns: its first row is that of the headings, where heading_row does not say otherwise."""
        if not isinstance(self.said.range, str):
            return
        match = CELLS.fullmatch(self.said.range)
        first, top, last, bottom = match.groups() if match else ("", "0", "", "0")
        if match is None or column_at(first) < 0 or column_at(last) < column_at(first) or int(bottom) < int(top):
            raise self.fault(f'range is "{self.said.range[:20]}": {EXPECTED["range"]}', "range")
        turned = "heading_column" in self.content or "blocks" in self.content
        given = {"first_column": first, "last_column": last}
        given |= {} if turned else {"last_row": int(bottom)}
        given |= {} if turned or "heading_row" in self.content else {"heading_row": int(top)}
        self.said = self._checked({**given, **self.content}, TableSaid, ())

    def _given_twice(self, columns: Sequence[MappedColumn], fixed: Mapping[str, object]) -> None:
        keys = [column.key for column in columns]
        for key in keys:
            if keys.count(key) > 1:
                raise self.fault(f"{self.kind[key].heading} is given twice: keep one of them", "columns")
            if key in fixed and key in ("tank", "power_kw"):  # the same for all rows that do not say it: no list is meant so
                raise self.fault(f"{self.kind[key].heading} is given twice: keep one of them", "fixed")

    def _turned(self) -> tuple[str, tuple[int, ...]]:
        """How the list runs, and its heading rows; of a turned list these are columns, from 1."""
        if isinstance(self.said.blocks, str):
            return BLOCKS, (self._letter("blocks", 0) + 1,)
        if isinstance(self.said.heading_column, str | list):
            said = self.said.heading_column
            columns = [column_at(one) for one in (said if isinstance(said, list) else [said])]
            if min(columns) < 0:
                raise self.fault(f"heading_column is {_shown(said)}: {EXPECTED['heading_column']}", "heading_column")
            return TURNED, tuple(column + 1 for column in columns)
        said_row = self.said.heading_row
        rows = tuple(said_row) if isinstance(said_row, list) else (said_row,) if isinstance(said_row, int) else ()
        if rows and rows != tuple(range(rows[0], rows[0] + len(rows))):
            raise self.fault(f"heading_row is {_shown(said_row)}: {EXPECTED['heading_row']}", "heading_row")
        return "", rows

    def _held(self) -> str:
        return "asked: does this table count" if self.said.use == ASKED else self.said.held if isinstance(self.said.held, str) else ""

    def _merged(self) -> dict[int, dict[str, object]]:
        said = self.said.merged if isinstance(self.said.merged, dict) else {}
        try:
            return {int(row): {self._key(name): value for name, value in values.items()} for row, values in said.items()}
        except ValueError:
            raise self.fault("merged is not as it was written: restore it", "merged") from None

    def _left_open(self) -> dict[int, LeftOpen]:
        said = self.said.left_open if isinstance(self.said.left_open, dict) else {}
        try:
            return {int(row): LeftOpen(one["why"], column_at(one.get("column", "")), dict(one["read"])) for row, one in said.items()}
        except (ValueError, KeyError, TypeError):
            raise self.fault("left_open is not as it was written: restore it", "left_open") from None

    def _choice(self, key: str, choices: Mapping[str, str]) -> str:
        value = getattr(self.said, key)
        return ASKED if value == ASKED else choices.get(value, "") if isinstance(value, str) else ""

    def _rows(self, key: str) -> tuple[int, ...]:
        said = getattr(self.said, key)
        found: list[int] = []
        for one in said if isinstance(said, list) else []:
            if isinstance(one, str):
                low, high = (int(part) for part in re.findall(r"\d+", one))
                if high < low or high - low > MOST_ROWS:
                    raise self.fault(f'{key} has "{one[:20]}": {EXPECTED[key]}', key)
                found += range(low, high + 1)
            else:
                found.append(one)
        return (*found, *self._rows_one_by_one("leave out" if key == "leave_out" else key))

    def _rows_one_by_one(self, fate: str) -> list[int]:
        """The rows that [table.rows] keeps or leaves out; of a turned list they are columns, by their letters."""
        found: list[int] = []
        for name, said in self.said.rows.items():
            ends = re.findall(r"[A-Za-z]+|\d+", name)
            turned = isinstance(self.said.heading_column, str | list)
            numbers = [int(end) if end.isdecimal() else column_at(end) + 1 if turned else 0 for end in ends]
            if not 1 <= len(numbers) <= 2 or min(numbers) < 1 or not 0 <= numbers[-1] - numbers[0] <= MOST_ROWS:
                raise self.fault(f'rows has "{name[:20]}": {EXPECTED["rows"]}', "rows", name)
            found += range(numbers[0], numbers[-1] + 1) if said == fate or (isinstance(said, dict) and fate == "keep") else []
        return found

    def _row_values(self, rows: Mapping[str, object]) -> dict[int, dict[str, object]]:
        """Values that the map gives for single rows."""
        found: dict[int, dict[str, object]] = {}
        for name, said in rows.items():
            if isinstance(said, dict):
                path = ("rows", name)
                keys = {key: self._key(key, *path) for key in said}
                turned = isinstance(self.said.heading_column, str | list)
                number = int(name) if name.isdecimal() else column_at(name) + 1 if turned else 0
                found[number] = {keys[key]: self._value(f"rows.{name}.{key}", keys[key], value, path) for key, value in said.items()}
        return found

    def _words(self, key: str) -> tuple[str, ...]:
        said = getattr(self.said, key)
        return tuple(said) if isinstance(said, list) else ()

    def _number(self, key: str) -> int:
        value = getattr(self.said, key)
        return value if isinstance(value, int) else 0

    def _letter(self, key: str, default: int) -> int:
        said = getattr(self.said, key)
        if not isinstance(said, str):
            return default
        index = column_at(said)
        if index < 0:
            raise self.fault(f"{key} is {said[:20]!r}: write a column letter", key)
        return index

    def _blank_repeats_above(self) -> tuple[str, ...]:
        said = self.said.blank_repeats_above if isinstance(self.said.blank_repeats_above, list) else self.said.fill_down
        return tuple(self._key(name) for name in (said if isinstance(said, list) else ()))

    def _kind(self) -> Sheet:
        said = self.said.kind
        for sheet in INPUTS:
            if squeezed(said) in (squeezed(sheet.name), sheet.id):
                return LIST if sheet is HEATERS else sheet
        raise self.fault(f"kind is {said[:40]!r}: write one of {', '.join(sheet.name for sheet in INPUTS)}", "kind")

    def _key(self, name: str, *path: str) -> str:
        key = self.names.get(squeezed(name))
        if key is None:
            such = self.kind.columns[1].heading
            raise self.fault(f'"{name[:40]}" is no column of {self.kind.name}: use its headings, such as {such}', *path)
        return key

    def _column(self, name: str, said: object, *path: str) -> MappedColumn:
        path = (*path, "columns", name)
        key = self._key(name, *path)
        if isinstance(said, list):
            if not said:
                raise self.fault(f"columns.{name} names no column: write headings, the one that counts first", *path)
            self._only_lists(name, path)
            parts = tuple(self._one(name, key, one, path) for one in said)
            return MappedColumn(key, parts=parts, how=FIRST)
        return self._one(name, key, said, path)

    def _only_lists(self, name: str, path: tuple[str, ...]) -> None:
        if self.kind is not LIST:
            raise self.fault(f"columns.{name} is made of several columns, which only heater lists may: name one", *path)

    def _one(self, name: str, key: str, said: object, path: tuple[str, ...]) -> MappedColumn:
        if isinstance(said, str) and said.strip():
            return MappedColumn(key, flat(said))
        if not isinstance(said, dict):
            raise self.fault(f'columns.{name} is neither a heading nor {{ heading = "…", unit = "…" }}: write one of them', *path)
        one: ColumnSaid = self._checked(said, ColumnSaid, path, f"columns.{name}")
        unit = self._unit(name, key, one.unit, path)
        for how, some in ((JOIN, one.join), (SUM, one.sum)):
            if isinstance(some, list) and some:
                self._only_lists(name, path)
                parts = tuple(self._named(key, text) for text in some)
                between = one.between if isinstance(one.between, str) else " "
                return MappedColumn(key, unit=unit, parts=parts, how=how, between=between)
        if isinstance(one.row, int):
            one.column = letters(min(one.row, LAST_COLUMN) - 1)
        if isinstance(one.heading, str) == isinstance(one.column, str):
            raise self.fault(f"columns.{name} needs either a heading or a column (its letter): give one of them", *path)
        beside = self._named(key, one.unit_in) if isinstance(one.unit_in, str) else None
        if isinstance(one.heading, str):
            return MappedColumn(key, flat(one.heading), -1, unit, beside)
        index = column_at(one.column)
        if index < 0:
            raise self.fault(f'columns.{name}: "{str(one.column)[:20]}" is no column letter: write A, B, … or XFD', *path)
        return MappedColumn(key, "", index, unit, beside)

    @staticmethod
    def _named(key: str, text: str) -> MappedColumn:
        """A column by its letter where one or two capitals are given, else by its heading."""
        by_letter = text.strip() == text.strip().upper() and len(text.strip()) <= 2 and column_at(text) >= 0
        return MappedColumn(key, "" if by_letter else flat(text), column_at(text) if by_letter else -1)

    def _unit(self, name: str, key: str, text: object, path: tuple[str, ...]) -> Unit | None:
        if not isinstance(text, str):
            return None
        own = column_unit(self.kind[key])
        unit = find_unit(text, own.quantity) if own else None
        if unit is None and own is not None and own.quantity == "power":
            factor = FOREIGN_POWER.get(text.strip().casefold())
            unit = Unit("power", factor) if factor else None
        if unit is None:
            wants = f"a unit such as {self.kind[key].unit}" if own else "no unit"
            raise self.fault(f'columns.{name}: the unit "{text[:20]}" is not known there: it takes {wants}', *path)
        return unit

    def _fixed_part(self, part: Mapping[str, object], path: tuple[str, ...]) -> tuple[dict[str, object], tuple[When, ...]]:
        """Values for all rows, and those for rows that say something else."""
        plain = {self._key(name, *path, name): self._fixed(name, value, (*path, name))
                 for name, value in part.items() if not isinstance(value, list) and value != ASKED}  # fmt: skip
        when = [one for name, value in part.items() if isinstance(value, list) for one in self._when(name, value, (*path, name))]
        return plain, tuple(when)

    def _fixed(self, name: str, value: object, path: tuple[str, ...]) -> object:
        column = self.kind[self._key(name, *path)]
        pair = isinstance(value, dict) and value.keys() == {"value", "volts"} and column.key == "phases"
        if pair and isinstance(value, dict) and type(value["volts"]) in NUMBERS:
            self.fixed_volts = float(value["volts"])
            value = value["value"]
        if not isinstance(value, (str, int, float)):
            raise self.fault(f"fixed.{name} is neither text nor a number: write a plain value", *path)
        return self._value(f"fixed.{name}", column.key, value, path)

    def _value(self, what: str, key: str, value: str | int | float, path: tuple[str, ...]) -> object:
        """A plain value of one of our columns."""
        if isinstance(value, int) and not isinstance(value, bool):
            value = float(value) if abs(value) < 1e15 else str(value)
        read = reader(self.kind[key], pair=self.kind.id == "feeders", decimal=self.decimal)(value)
        if type(read) is Outcome:
            if read.fault or read.value is None or read.also or read.wires:
                why = word(remark(read.code, **read.fields)) if read.fault else "it is not one plain value."
                raise self.fault(f"{what}: {why} Correct it", *path)
            read = read.value
        if read is None:
            raise self.fault(f"{what} is blank: give a value, or leave the line out", *path)
        return read

    def _when(self, name: str, some: Sequence[object], path: tuple[str, ...]) -> list[When]:
        """Values that hold for rows in which other columns say something: [{ value = 400, Phases = 3 }, …]."""
        found = []
        for one in some:
            if not isinstance(one, dict) or "value" not in one or len(one) < 2:
                what = f"fixed.{name} is neither text nor a number"
                raise self.fault(f"{what}: write a plain value, or [{{ value = 400, Phases = 3 }}, …]", *path)
            others = tuple((self._key(other, *path), self._fixed(other, value, path)) for other, value in one.items() if other != "value")
            found.append(When(self._key(name, *path), self._fixed(name, one["value"], path), others))
        return found

    def _means(self, means: Mapping[str, Mapping[str, Any]]) -> dict[str, dict[str, object]]:
        found = {}
        for name, words in means.items():
            path = ("means", name)
            key = self._key(name, *path)
            found[key] = {squeezed(text) or text.strip(): self._value(f"means.{name}.{text}", key, value, path)
                          for text, value in words.items()}  # fmt: skip
        return found

    def _tags(self) -> dict[str, tuple[str, ...]]:
        return {flat(tag).casefold(): (tanks,) if isinstance(tanks, str) else tuple(tanks) for tag, tanks in self.said.tags.items()}

    def _also(self) -> tuple[AlsoMap, ...]:
        found = []
        for one in self.said.also:
            also: AlsoSaid = one
            columns = tuple(self._column(name, said, "also") for name, said in also.columns.items())
            fixed, when = self._fixed_part(also.fixed, ("also", "fixed"))
            power = POWER.get(also.power, "") if isinstance(also.power, str) else ""
            found.append(AlsoMap(columns, fixed, when, power, self._means(also.means), self._row_values(also.rows)))
        return tuple(found)


def _shown(value: object) -> str:
    return repr(value)[:30] if isinstance(value, str) else str(value)[:30]

