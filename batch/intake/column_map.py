"""A column map: a TOML file that says how a customer's list is laid out, where its own headings do not say it for certain.

decimal = ","                  # optional: the mark before decimals in numbers typed as text
[[table]]
sheet = "LINE 1"               # the tab
kind = "Heaters"               # which sheet of a job it is
use = true                     # false: an older issue, or no list at all: nothing of it is sized
heading_row = 5                # or [4, 5], or [4, 5, 6]; left out: looked for
first_row = 7                  # optional, with last_row, first_column and last_column: where the rows begin and the table ends
blank_repeats_above = ["Tank"] # optional: a blank cell means the same as the one above it
power = "each"                 # what the figures under Power are of: "each" heater, "per tank", "total" of the row
quantity = "each tank"         # of a row that names several tanks: heaters in "each tank", or in "all tanks"
keep = [12]                    # rows to be read although a word, a strike or hiding takes them out or puts them in doubt
leave_out = [14]               # rows to be left out
leave_out_words = ["phase 2"]  # words that take a row out
keep_words = ["existing"]      # words that do not
heading_column = "A"           # of a list that is turned, one tank a column: headings stand in a column, and columns are rows
blocks = "B"                   # of one block of labels a tank: the column of the labels
[table.columns]
Tank = "Position"              # our column = their heading
Power = { heading = "Load", unit = "W" }
Volts = { column = "F" }       # by its letter
[table.fixed]
Phases = 3                     # where the row itself does not say it
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from batch.findings import remark, word
from batch.intake.cells import Outcome, reader, squeezed
from batch.intake.headings import column_unit
from batch.intake.list_columns import FOREIGN_POWER, LIST
from batch.intake.plan import When
from batch.intake.table_map import (
    ASKED,
    BLOCKS,
    FORMERLY,
    POWER,
    QUANTITY,
    TURNED,
    MapError,
    MappedColumn,
    TableMap,
    column_at,
    flat,
    names_of,
)
from batch.ooxml.addresses import LAST_COLUMN, LAST_ROW, letters
from batch.sheets import HEATERS, INPUTS, Sheet
from batch.units import Unit, find_unit

LARGEST = 1 << 20  # bytes; a map is typed by a person
TOP = frozenset({"decimal", "table"})
OF_TABLE = frozenset(
    {"sheet", "kind", "heading_row", "first_column", "last_column", "last_row", "blank_repeats_above", "decimal", "columns", "fixed"}
)
OF_LIST = frozenset(  # of heater lists only
    {"use", "first_row", "power", "quantity", "keep", "leave_out", "leave_out_words", "keep_words", "heading_column", "blocks"}
    | {"held", "merged"}
)
OF_ONE_ROW = ("tank", "quantity", "power_kw")  # never the same for all rows that do not say it
NUMBERS = (int, float)
OF_COLUMN = frozenset({"heading", "column", "row", "unit"})
MOST_HEADING_ROWS = 3


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
            columns = {name: {**said, "column": letters(column_at(said["column"]) + own)} for name, said in content["columns"].items()}
            content = dict(content)
            if "first_row" in content:
                content["first_row"] += heading_row
            for key in ("keep", "leave_out"):
                if key in content:
                    content[key] = [row + heading_row for row in content[key]]
            if "merged" in content:
                content["merged"] = {str(int(row) + heading_row): values for row, values in content["merged"].items()}
        except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
            raise MapError(f"{place} is not as it was written: restore it, or use the list and its map instead") from None
        mapped = {**content, "columns": columns, "sheet": sheet, "heading_row": heading_row}
        tables.append(_Reader(mapped, place, "").table())
    return ColumnMap("as received", tuple(tables))


def _only(content: Mapping[str, object], known: frozenset[str], where: str, what: str) -> None:
    strange = [key for key in content if key not in known]
    if strange:
        raise MapError(f'{where}: "{strange[0][:40]}" has no meaning in {what}: use {", ".join(sorted(known))}')


def _decimal(content: Mapping[str, object], where: str, default: str = "") -> str:
    mark = content.get("decimal", default)
    if mark not in ("", ".", ","):
        raise MapError(f'{where}: decimal is {str(mark)[:20]!r}: write "." or ","')
    return str(mark)


class _Reader:
    """Reads one [[table]] of a map."""

    def __init__(self, content: dict[str, object], where: str, decimal: str) -> None:
        self.content, self.where = content, where
        self.fixed_volts: float | None = None
        self.kind = self._kind()
        known = OF_TABLE | OF_LIST if self.kind.id == "heaters" else OF_TABLE
        _only(content, known | {FORMERLY} if FORMERLY in content else known, where, "a table")
        self.tab = self._text("sheet", "write the name of the tab")
        self.where = f'{where} (sheet "{self.tab[:40]}")'
        self.names = names_of(self.kind)
        self.decimal = _decimal(content, self.where, decimal)

    def fault(self, what: str) -> MapError:
        return MapError(f"{self.where}: {what}")

    def table(self) -> TableMap:
        if self.content.get("use") is False:
            return TableMap(self.where, self.tab, self.kind, self._heading_rows(), (), {}, content=self.content, use=False,
                            first=self._letter("first_column", 0), last=self._letter("last_column", -1))  # fmt: skip
        first, last = self._letter("first_column", 0), self._letter("last_column", -1)
        if last >= 0 and last < first:
            raise self.fault("last_column stands before first_column: change them round")
        columns = tuple(self._column(name, said) for name, said in self._part("columns").items())
        fixed = {self._key(name): self._fixed(name, value) for name, value in self._part("fixed").items() if not isinstance(value, list)}
        when = [one for name, value in self._part("fixed").items() if isinstance(value, list) for one in self._when(name, value)]
        if not columns:
            raise self.fault("no column is mapped: list them under [table.columns]")
        keys = [column.key for column in columns]
        for key in keys:
            if keys.count(key) > 1 or (key in fixed and (self.kind is not LIST or key in OF_ONE_ROW)):
                raise self.fault(f"{self.kind[key].heading} is given twice: keep one of them")
        turned, rows = self._turned()
        if not rows and not any(column.heading for column in columns):
            raise self.fault("columns are given by letters only, so heading_row is needed: write the row above the first row of data")
        return TableMap(
            self.where, self.tab, self.kind, rows, columns, fixed, self._blank_repeats_above(), first, last,
            self._number("last_row"), self.decimal, self.content, self._flag("use"), self._number("first_row"),
            self._choice("power", POWER), self._choice("quantity", QUANTITY), self._rows("keep"), self._rows("leave_out"),
            self._words("leave_out_words"), self._words("keep_words"), turned, self._held(), self.fixed_volts, self._merged(),
            tuple(when),
        )  # fmt: skip

    def _turned(self) -> tuple[str, tuple[int, ...]]:
        """How the list runs, and its heading rows; of a turned list these are columns, from 1."""
        if "blocks" in self.content:
            return BLOCKS, (self._letter("blocks", 0) + 1,)
        if "heading_column" not in self.content:
            return "", self._heading_rows()
        said = self.content["heading_column"]
        columns = [column_at(one) for one in (said if isinstance(said, list) else [said])]
        if min(columns, default=-1) < 0 or len(columns) > MOST_HEADING_ROWS:
            raise self.fault(f'heading_column is {str(said)[:30]}: write a column letter, or two that follow each other, as ["A", "B"]')
        return TURNED, tuple(column + 1 for column in columns)

    def _held(self) -> str:
        if self.content.get("use") == ASKED:
            return "asked: does this table count"
        return str(self.content.get("held", ""))

    def _merged(self) -> dict[int, dict[str, object]]:
        said = self.content.get("merged", {})
        odd = self.fault("merged is not as it was written: restore it")
        if not isinstance(said, Mapping) or not all(isinstance(values, Mapping) for values in said.values()):
            raise odd
        try:
            return {int(row): {self._key(name): value for name, value in values.items()} for row, values in said.items()}
        except ValueError:
            raise odd from None

    def _flag(self, key: str) -> bool:
        value = self.content.get(key, True)
        if value == ASKED:
            return True
        if not isinstance(value, bool):
            raise self.fault(f"{key} is {str(value)[:20]!r}: write true or false")
        return value

    def _choice(self, key: str, choices: Mapping[str, str]) -> str:
        value = self.content.get(key, "")
        if value == ASKED:
            return ASKED
        if value and value not in choices:
            raise self.fault(f"{key} is {str(value)[:20]!r}: write one of {', '.join(choices)}")
        return choices.get(value, "") if isinstance(value, str) else ""

    def _rows(self, key: str) -> tuple[int, ...]:
        said = self.content.get(key, [])
        if not isinstance(said, list) or not all(isinstance(row, int) and not isinstance(row, bool) and row >= 1 for row in said):
            raise self.fault(f"{key} is {str(said)[:30]}: write row numbers, as [12, 14]")
        return tuple(said)

    def _words(self, key: str) -> tuple[str, ...]:
        said = self.content.get(key, [])
        if not isinstance(said, list) or not all(isinstance(one, str) and one.strip() for one in said):
            raise self.fault(f'{key} is {str(said)[:30]}: write words, as ["phase 2"]')
        return tuple(said)

    def _text(self, key: str, advice: str) -> str:
        value = self.content.get(key)
        if not isinstance(value, str) or not value.strip():
            raise self.fault(f"{key} is {'missing' if value is None else 'no text'}: {advice}")
        return value

    def _kind(self) -> Sheet:
        said = self.content.get("kind", "Heaters")
        for sheet in INPUTS:
            if isinstance(said, str) and squeezed(said) in (squeezed(sheet.name), sheet.id):
                return LIST if sheet is HEATERS else sheet
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
        if isinstance(said, dict) and isinstance(said.get("row"), int) and not isinstance(said["row"], bool) and said["row"] >= 1:
            said = {key: value for key, value in said.items() if key != "row"} | {"column": letters(min(said["row"], LAST_COLUMN) - 1)}
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
        if unit is None and own is not None and own.quantity == "power":
            factor = FOREIGN_POWER.get(text.strip().casefold())
            unit = Unit("power", factor) if factor else None
        if unit is None:
            wants = f"a unit such as {self.kind[key].unit}" if own else "no unit"
            raise self.fault(f'columns.{name}: the unit "{text[:20]}" is not known there: it takes {wants}')
        return unit

    def _fixed(self, name: str, value: object) -> object:
        column = self.kind[self._key(name)]
        if (
            isinstance(value, dict)
            and value.keys() == {"value", "volts"}
            and column.key == "phases"
            and type(value["volts"]) in NUMBERS
        ):
            self.fixed_volts = float(value["volts"])
            value = value["value"]
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

    def _when(self, name: str, some: Sequence[object]) -> list[When]:
        """Values that hold for rows in which other columns say something: [{ value = 400, Phases = 3 }, …]."""
        found = []
        for one in some:
            if not isinstance(one, dict) or "value" not in one or len(one) < 2:
                raise self.fault(f"fixed.{name} is neither text nor a number: write a plain value, or [{{ value = 400, Phases = 3 }}, …]")
            others = tuple((self._key(other), self._fixed(other, value)) for other, value in one.items() if other != "value")
            found.append(When(self._key(name), self._fixed(name, one["value"]), others))
        return found

    def _number(self, key: str) -> int:
        value = self.content.get(key, 0)
        if not isinstance(value, int) or isinstance(value, bool) or not (key not in self.content or 1 <= value <= LAST_ROW):
            raise self.fault(f"{key} is {str(value)[:20]!r}: write a row number")
        return value

    def _heading_rows(self) -> tuple[int, ...]:
        said = self.content.get("heading_row")
        rows = tuple(said) if isinstance(said, list) else () if said is None else (said,)
        numbers = all(isinstance(row, int) and not isinstance(row, bool) and 1 <= row <= LAST_ROW for row in rows)
        together = numbers and rows == tuple(range(rows[0], rows[0] + len(rows))) if rows else True
        if not numbers or len(rows) > MOST_HEADING_ROWS or not together or said == []:
            raise self.fault(f"heading_row is {str(said)[:30]}: write one row number, or two or three that follow each other, as [4, 5]")
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
