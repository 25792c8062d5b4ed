"""A column map: a TOML file that says how a customer's list is laid out, where its own headings do not say it for certain.

decimal = ","                  # the mark before decimals in numbers typed as text
others = "no lists"            # what the map says nothing of is no list of heaters; left out: it is asked about
[[table]]
sheet = "LINE 1"               # the tab
kind = "Heaters"               # which sheet of a job it is
use = true                     # false: an older issue, or no list at all: nothing of it is sized
range = "B4:N40"               # headings and rows; or heading_row with first_row, last_row, first_column, last_column
heading_row = 5                # or [4, 5], or [4, 5, 6]; left out: looked for
heading_column = "A"           # of a list that is turned, one tank a column: headings stand in a column, and columns are rows
blocks = "B"                   # of one block of labels a tank: the column of the labels
blank_repeats_above = ["Tank"] # a blank cell means the same as the one above it
power = "each"                 # what the figures under Power are of: "each" heater, "per tank", "total" of the row
quantity = "each tank"         # of a row that names several tanks: heaters in "each tank", or in "all tanks"
keep = [12, "20-24"]           # rows to be read although a word, a strike or hiding takes them out or puts them in doubt
leave_out = [14]               # rows to be left out
only_words = ["heater"]        # rows without one of these words are left out
leave_out_words = ["phase 2"]  # words that take a row out
keep_words = ["existing"]      # words that do not
blank_words = ["NC"]           # words that stand for a blank cell
total_words = ["carried"]      # words with which a total begins
repeat_words = ["jw."]         # words that repeat the cell above
struck = "kept"                # rows that are struck through count all the same
hidden = "left out"            # or "kept"; left out: hidden rows are asked about
[table.columns]
Tank = "Position"              # our column = their heading
Power = { heading = "Load", unit = "W" }
Volts = { column = "F" }       # by its letter
"Heated length" = { heading = "Hot zone", unit_in = "U/M" }
Quantity = { sum = ["Front", "Rear"] }
Bank = { join = ["Side", "No."], between = "-" }
Phases = ["Ph now", "Ph before"]   # the first that is filled
[table.fixed]
Phases = 3                     # where the row itself does not say it
Volts = [{ value = 400, Phases = 3 }, { value = 230, Phases = 1 }]
[table.means]
Phases = { D = 3, E = 1 }      # what a word in a cell stands for
[table.tags]
"M2" = ["M2A", "M2B"]          # the tanks that a tag stands for
[[table.also]]                 # a further bank of heaters in each row
columns = { Quantity = "9 kW" }
fixed = { Power = 9 }
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from msgspec import Struct

from batch.intake.map_lines import key_lines
from batch.intake.map_reader import TableReader
from batch.intake.map_schema import EXPECTED, MapSaid, Wrong, checked, fields_of
from batch.intake.table_map import MapError, TableMap, column_at
from batch.ooxml.addresses import letters

LARGEST = 1 << 20  # bytes; a map is typed by a person


class ColumnMap(Struct, frozen=True):
    """A whole map. `name` is its file name without folder, `text` what stands in it; `others`: what the sheets and tables are that it says
    nothing of.
    """

    name: str
    tables: tuple[TableMap, ...]
    others: str = "asked"
    text: str = ""


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
        why = " ".join(str(fault).split())[:160]
        raise MapError(f"{where}: the column map is not proper TOML ({why}): correct that line") from None
    lines = key_lines(text)
    said: Any = None
    try:
        said = checked(content, MapSaid)
    except Wrong as wrong:
        key = wrong.path[0] if wrong.path else "table"
        line = lines.get((key,), 0)
        at = f"{where}, line {line}" if line else where
        if not wrong.known:
            raise MapError(f'{at}: "{key[:40]}" has no meaning in the map: use {", ".join(fields_of(MapSaid))}') from None
        if key != "table":
            raise MapError(f"{at}: {key} is {content.get(key)!r}: {EXPECTED[key]}") from None
    if said is None or not (said.table or "others" in content):
        raise MapError(f"{where}: the column map has no [[table]]: {EXPECTED['table']}")
    tables = []
    for number, one in enumerate(said.table):
        mine = {path[2:]: line for path, line in lines.items() if path[:2] == ("table", number)}
        tables.append(TableReader(one, f"{where}: table {number + 1}", said.decimal, mine).table())
    return ColumnMap(name, tuple(tables), said.others, text)


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
            columns = {name: _moved(said, own) for name, said in content["columns"].items()}
            content = dict(content)
            for key in {"first_row", "last_row"} & content.keys():
                content[key] += heading_row
            for key in ("keep", "leave_out"):
                if key in content:
                    content[key] = [row + heading_row for row in content[key]]
            if "rows" in content:
                content["rows"] = {str(int(row) + heading_row): values for row, values in content["rows"].items()}
            if "merged" in content:
                content["merged"] = {str(int(row) + heading_row): values for row, values in content["merged"].items()}
            if "left_open" in content:
                content["left_open"] = {str(int(row) + heading_row): _moved(said, own) for row, said in content["left_open"].items()}
            for also in content.get("also", []):
                also["columns"] = {name: _moved(said, own) for name, said in also["columns"].items()}
                also["rows"] = {str(int(row) + heading_row): values for row, values in also["rows"].items()}
        except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
            raise MapError(f"{place} is not as it was written: restore it, or use the list and its map instead") from None
        mapped = {**content, "columns": columns, "sheet": sheet, "heading_row": heading_row}
        tables.append(TableReader(mapped, place, "").table())
    return ColumnMap("as received", tuple(tables))


def _moved(said: Any, own: int) -> Any:
    """Letters of columns as they stand beside `own` columns of ours."""
    if isinstance(said, list):
        return [_moved(one, own) for one in said]
    moved = dict(said)
    for key in ("column", "unit_in"):
        if key in moved:
            moved[key] = letters(column_at(moved[key]) + own)
    for key in ("join", "sum"):
        if key in moved:
            moved[key] = [letters(column_at(one) + own) for one in moved[key]]
    return moved


__all__ = ["ColumnMap", "MapError", "load_map", "map_as_received", "parse_map"]
