"""A column map: a TOML file that says how a customer's list is laid out, where its own headings do not say it for certain.

    decimal = ","                  # optional: the mark before decimals in numbers typed as text
    [[table]]
    sheet = "LINE 1"               # the tab
    kind = "Heaters"               # which sheet of a job it is
    heading_row = 5                # or [4, 5]; left out: looked for
    first_column = "A"             # optional, with last_column and last_row: where the table ends
    blank_repeats_above = ["Tank"]           # optional: a blank cell means the same as the one above it
    [table.columns]
    Tank = "Position"              # our column = their heading
    Power = { heading = "Load", unit = "W" }
    Volts = { column = "F" }       # by its letter
    [table.fixed]
    Phases = 3                     # where the row itself does not say it
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from batch.errors import InputFileError
from batch.findings import remark, word
from batch.intake.cells import Outcome, reader, squeezed
from batch.intake.headings import column_unit
from batch.ooxml.addresses import LAST_COLUMN, LAST_ROW, column_number, letters
from batch.sheets import INPUTS, Sheet
from batch.units import Unit, find_unit

LARGEST = 1 << 20  # bytes; a map is typed by a person
LETTERS = re.compile(r"[A-Za-z]{1,3}\Z")
TOP = frozenset({"decimal", "table"})
FORMERLY = "fill_down"  # what version 0.1.0 called "blank_repeats_above"; still read
OF_TABLE = frozenset(
    {"sheet", "kind", "heading_row", "first_column", "last_column", "last_row", "blank_repeats_above", "decimal", "columns", "fixed"}
)
OF_COLUMN = frozenset({"heading", "column", "unit"})


class MapError(InputFileError):
    """A column map that cannot be used, or does not fit the workbook. One line: what, where, what to do."""


@dataclass(frozen=True, slots=True)
class MappedColumn:
    """Where a column of ours stands in the customer's table: under a heading, or in a column by number (0 is A)."""

    key: str
    heading: str = ""
    index: int = -1
    unit: Unit | None = None


@dataclass(frozen=True, slots=True)
class TableMap:
    """How one table is laid out. Rows count from 1 and columns from 0; `heading_rows` () = to be looked for, `last` -1 = to the end."""

    place: str  # of the table in the map, for what is said of it
    sheet: str
    kind: Sheet
    heading_rows: tuple[int, ...]
    columns: tuple[MappedColumn, ...]
    fixed: Mapping[str, object]
    blank_repeats_above: tuple[str, ...] = ()
    first: int = 0
    last: int = -1
    last_row: int = 0
    decimal: str = ""
    content: Mapping[str, object] = field(default_factory=dict)  # as the map has it

    def as_received(self, at: Mapping[str, int]) -> str:
        """The same plan, on one line of JSON, for the table as it stands by itself: `at` has the place of each column in it, 0 is A."""
        columns, content = {}, self.content
        named = {self.key_of(name): said for name, said in content["columns"].items()}
        for key, index in at.items():
            said = named.get(key)
            unit = {"unit": said["unit"]} if isinstance(said, dict) and "unit" in said else {}
            columns[self.kind[key].heading] = {"column": letters(index)} | unit
        kept = {key: content[key] for key in ("fixed", "blank_repeats_above") if key in content}
        if FORMERLY in content:
            kept["blank_repeats_above"] = content[FORMERLY]
        return json.dumps({"kind": self.kind.name, "decimal": self.decimal, "columns": columns} | kept)

    def key_of(self, name: str) -> str:
        return names_of(self.kind)[squeezed(name)]


def names_of(kind: Sheet) -> dict[str, str]:
    """Column keys of a sheet by the names that a map may use for them."""
    others = {squeezed(name): column.key for column in reversed(kind.columns) for name in column.also}
    return others | {squeezed(name): column.key for column in kind.columns for name in (column.heading, column.key, column.title())}


@dataclass(frozen=True, slots=True)
class ColumnMap:
    """A whole map. `name` is its file name without folder."""

    name: str
    tables: tuple[TableMap, ...]


def load_map(path: Path) -> ColumnMap:
    """Reads a column map.

    Raises:
        MapError: no such file, no TOML, or something in it that is not known or cannot be.
    """
    path = Path(path)
    try:
        data = path.read_bytes()
    except (OSError, ValueError) as fault:
        raise MapError(f"{path}: the column map cannot be opened ({getattr(fault, 'strerror', None) or fault}): check its name") from None
    if len(data) > LARGEST:
        raise MapError(f"{path}: too large for a column map (over {LARGEST >> 20} MB): name the map itself")
    try:
        return parse_map(data.decode("utf-8-sig"), str(path), path.name)
    except UnicodeDecodeError:
        raise MapError(f"{path}: the column map is not UTF-8 text: save it as UTF-8 from a text editor") from None


def parse_map(text: str, where: str, name: str) -> ColumnMap:
    """A map from its text; `where` opens every error."""
    try:
        content = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as fault:
        said = " ".join(str(fault).split())[:160]
        raise MapError(f"{where}: the column map is not proper TOML ({said}): correct that line") from None
    _only(content, TOP, where, "the map")
    tables = content.get("table")
    if not isinstance(tables, list) or not tables or not all(isinstance(one, dict) for one in tables):
        raise MapError(f"{where}: the column map has no [[table]]: add one for each table of the list")
    decimal = _decimal(content, where)
    return ColumnMap(name, tuple(_Reader(one, f"{where}: table {number}", decimal).table() for number, one in enumerate(tables, 1)))


def map_as_received(plans: Mapping[str, str], own: int, heading_row: int, where: str) -> ColumnMap:
    """The map of a results workbook, from what stands on its sheets As received: `plans` by sheet, `own` columns of ours before them.

    Raises:
        MapError: a plan that somebody has changed into something else.
    """
    tables = []
    for sheet, text in plans.items():
        place = f"{where}: sheet {sheet}, its column map"
        try:
            content = json.loads(text)
            columns = {
                name: {**said, "column": letters(column_at(said["column"]) + own)} for name, said in content["columns"].items()
            }
        except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
            raise MapError(f"{place} is not as it was written: restore it, or use the list and its map instead") from None
        mapped = {**content, "columns": columns, "sheet": sheet, "heading_row": heading_row}
        tables.append(_Reader(mapped, place, "").table())
    return ColumnMap("as received", tuple(tables))


def _only(content: Mapping[str, object], known: frozenset[str], where: str, what: str) -> None:
    strange = [key for key in content if key not in known]
    if strange:
        raise MapError(f"{where}: \"{strange[0][:40]}\" has no meaning in {what}: use {', '.join(sorted(known))}")


def _decimal(content: Mapping[str, object], where: str, default: str = "") -> str:
    mark = content.get("decimal", default)
    if mark not in ("", ".", ","):
        raise MapError(f'{where}: decimal is {str(mark)[:20]!r}: write "." or ","')
    return str(mark)


class _Reader:
    """Reads one [[table]] of a map."""

    def __init__(self, content: dict[str, object], where: str, decimal: str) -> None:
        self.content, self.where = content, where
        _only(content, OF_TABLE | {FORMERLY} if FORMERLY in content else OF_TABLE, where, "a table")
        self.tab = self._text("sheet", "write the name of the tab")
        self.where = f'{where} (sheet "{self.tab[:40]}")'
        self.kind = self._kind()
        self.names = names_of(self.kind)
        self.decimal = _decimal(content, self.where, decimal)

    def fault(self, what: str) -> MapError:
        return MapError(f"{self.where}: {what}")

    def table(self) -> TableMap:
        first, last = self._letter("first_column", 0), self._letter("last_column", -1)
        if last >= 0 and last < first:
            raise self.fault("last_column stands before first_column: change them round")
        columns = tuple(self._column(name, said) for name, said in self._part("columns").items())
        fixed = {self._key(name): self._fixed(name, value) for name, value in self._part("fixed").items()}
        if not columns:
            raise self.fault("no column is mapped: list them under [table.columns]")
        keys = [column.key for column in columns]
        for key in keys:
            if keys.count(key) > 1 or key in fixed:
                raise self.fault(f"{self.kind[key].heading} is given twice: keep one of them")
        rows = self._heading_rows()
        if not rows and not any(column.heading for column in columns):
            raise self.fault("columns are given by letters only, so heading_row is needed: write the row above the first row of data")
        return TableMap(
            self.where, self.tab, self.kind, rows, columns, fixed, self._blank_repeats_above(), first, last,
            self._number("last_row"), self.decimal,
            self.content,
        )  # fmt: skip

    def _text(self, key: str, advice: str) -> str:
        value = self.content.get(key)
        if not isinstance(value, str) or not value.strip():
            raise self.fault(f"{key} is {'missing' if value is None else 'no text'}: {advice}")
        return value

    def _kind(self) -> Sheet:
        said = self.content.get("kind", "Heaters")
        for sheet in INPUTS:
            if isinstance(said, str) and squeezed(said) in (squeezed(sheet.name), sheet.id):
                return sheet
        raise self.fault(f"kind is {str(said)[:40]!r}: write one of {', '.join(sheet.name for sheet in INPUTS)}")

    def _part(self, key: str) -> dict[str, object]:
        part = self.content.get(key, {})
        if not isinstance(part, dict):
            raise self.fault(f"{key} is no table of its own: write it as [table.{key}]")
        return part

    def _key(self, name: object) -> str:
        key = self.names.get(squeezed(name)) if isinstance(name, str) else None
        if key is None:
            such = self.kind.columns[1].heading
            raise self.fault(f'"{str(name)[:40]}" is no column of {self.kind.name}: use its headings, such as {such}')
        return key

    def _column(self, name: str, said: object) -> MappedColumn:
        key = self._key(name)
        said = {"heading": said} if isinstance(said, str) else said
        if not isinstance(said, dict) or not all(isinstance(value, str) and value.strip() for value in said.values()):
            raise self.fault(f'columns.{name} is neither a heading nor {{ heading = "…", unit = "…" }}: write one of them')
        _only(said, OF_COLUMN, self.where, f"columns.{name}")
        if ("heading" in said) == ("column" in said):
            raise self.fault(f"columns.{name} needs either a heading or a column (its letter): give one of them")
        index = column_at(said["column"]) if "column" in said else -1
        if "column" in said and index < 0:
            raise self.fault(f'columns.{name}: "{said["column"][:20]}" is no column letter: write A, B, … or XFD')
        return MappedColumn(key, flat(said.get("heading", "")), index, self._unit(name, key, said.get("unit")))

    def _unit(self, name: str, key: str, text: str | None) -> Unit | None:
        if text is None:
            return None
        own = column_unit(self.kind[key])
        unit = find_unit(text, own.quantity) if own else None
        if unit is None:
            wants = f"a unit such as {self.kind[key].unit}" if own else "no unit"
            raise self.fault(f'columns.{name}: the unit "{text[:20]}" is not known there: it takes {wants}')
        return unit

    def _fixed(self, name: str, value: object) -> object:
        column = self.kind[self._key(name)]
        if not isinstance(value, (str, int, float)):
            raise self.fault(f"fixed.{name} is neither text nor a number: write a plain value")
        if isinstance(value, int) and not isinstance(value, bool):
            value = float(value) if abs(value) < 1e15 else str(value)
        read = reader(column, pair=self.kind.id == "feeders", decimal=self.decimal)(value)
        if type(read) is Outcome:
            if read.fault or read.value is None or read.also or read.wires:
                why = word(remark(read.code, **read.fields)) if read.fault else "it is not one plain value."
                raise self.fault(f"fixed.{name}: {why} Correct it")
            read = read.value
        if read is None:
            raise self.fault(f"fixed.{name} is blank: give a value, or leave the line out")
        return read

    def _number(self, key: str) -> int:
        value = self.content.get(key, 0)
        if not isinstance(value, int) or isinstance(value, bool) or not (key not in self.content or 1 <= value <= LAST_ROW):
            raise self.fault(f"{key} is {str(value)[:20]!r}: write a row number")
        return value

    def _heading_rows(self) -> tuple[int, ...]:
        said = self.content.get("heading_row")
        rows = tuple(said) if isinstance(said, list) else () if said is None else (said,)
        numbers = all(isinstance(row, int) and not isinstance(row, bool) and 1 <= row <= LAST_ROW for row in rows)
        if not numbers or len(rows) > 2 or (len(rows) == 2 and rows[1] != rows[0] + 1) or said == []:
            raise self.fault(f"heading_row is {str(said)[:30]}: write one row number, or two that follow each other, as [4, 5]")
        return rows

    def _letter(self, key: str, default: int) -> int:
        if key not in self.content:
            return default
        index = column_at(self.content[key])
        if index < 0:
            raise self.fault(f"{key} is {str(self.content[key])[:20]!r}: write a column letter")
        return index

    def _blank_repeats_above(self) -> tuple[str, ...]:
        said = self.content.get("blank_repeats_above", self.content.get(FORMERLY, []))
        if not isinstance(said, list):
            raise self.fault('blank_repeats_above is no list: write it as ["Tank"]')
        return tuple(self._key(name) for name in said)


def flat(text: str) -> str:
    """A heading as the map has it: on one line, single spaces."""
    return " ".join(text.split())


def column_at(letters: object) -> int:
    """0 for "A"; -1 where it is no column."""
    if not isinstance(letters, str) or not LETTERS.match(letters.strip()):
        return -1
    index = column_number(letters.strip().upper())
    return index if index < LAST_COLUMN else -1
