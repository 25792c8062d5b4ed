"""One table of a column map: how it is laid out, in the words of the map."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping

from msgspec import Struct, field

from batch.errors import InputFileError
from batch.intake.cells import squeezed
from batch.intake.plan import LeftOpen, When
from batch.ooxml.addresses import LAST_COLUMN, column_number, letters
from batch.sheets import Sheet
from batch.units import Unit

LETTERS = re.compile(r"[A-Za-z]{1,3}\Z")
FORMERLY = "fill_down"  # what version 0.1.0 called "blank_repeats_above"; still read
POWER = {"each": "each", "per tank": "tank", "total": "row"}
QUANTITY = {"each tank": "tank", "all tanks": "row"}
TURNED, BLOCKS = "turned", "blocks"
ASKED = "?"  # stands where a question is still to be answered


class MapError(InputFileError):
    """A column map that cannot be used, or does not fit the workbook. One line: what, where, what to do."""


class MappedColumn(Struct, frozen=True):
    """Where a column of ours stands in the customer's table: under a heading, or in a column by number (0 is A)."""

    key: str
    heading: str = ""
    index: int = -1
    unit: Unit | None = None
    unit_in: MappedColumn | None = None  # the column that holds the unit of each row
    parts: tuple[MappedColumn, ...] = ()  # where it is made of several
    how: str = ""  # of parts: "first", "join" or "sum"
    between: str = ""

    def all(self) -> tuple[MappedColumn, ...]:
        """Every column of theirs that it takes."""
        return (*(self.parts or (self,)), *((self.unit_in,) if self.unit_in is not None else ()))


class AlsoMap(Struct, frozen=True):
    """A further bank of heaters in each row."""

    columns: tuple[MappedColumn, ...]
    fixed: Mapping[str, object]
    when: tuple[When, ...] = ()
    power: str = ""
    means: Mapping[str, Mapping[str, object]] = field(default_factory=dict)
    row_values: Mapping[int, Mapping[str, object]] = field(default_factory=dict)


class TableMap(Struct, frozen=True):
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
    use: bool = True
    first_row: int = 0
    power: str = ""  # as POWER has it
    quantity: str = ""  # as QUANTITY has it
    keep: tuple[int, ...] = ()
    leave_out: tuple[int, ...] = ()
    leave_out_words: tuple[str, ...] = ()
    keep_words: tuple[str, ...] = ()
    turned: str = ""
    held: str = ""  # why nothing of it is sized, where results are read again
    fixed_volts: float | None = None  # the volts to which the fixed phases belong
    merged: Mapping[int, Mapping[str, object]] = field(default_factory=dict)  # values of cells that were merged, by row and key
    when: tuple[When, ...] = ()  # values for the rows that say something else: volts by phases
    only_words: tuple[str, ...] = ()
    blank_words: tuple[str, ...] = ()
    total_words: tuple[str, ...] = ()
    repeat_words: tuple[str, ...] = ()
    struck: bool = True  # rows that are struck through are left out
    hidden: str = "asked"
    means: Mapping[str, Mapping[str, object]] = field(default_factory=dict)
    tags: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    also: tuple[AlsoMap, ...] = ()
    asked: tuple[str, ...] = ()  # columns of which the map leaves open where they stand
    row_values: Mapping[int, Mapping[str, object]] = field(default_factory=dict)  # by row, where the map gives them
    asked_rows: tuple[int, ...] = ()  # of which the map leaves open whether they are to be built
    lines: Mapping[tuple[str | int, ...], int] = field(default_factory=dict)  # of its keys in the file
    older: str = ""  # why results had taken it for an older issue
    left_open: Mapping[int, LeftOpen] = field(default_factory=dict)  # rows that results left unsized for a question

    def at(self, *path: str) -> str:
        """The place in the map of one of its keys, to open an error with."""
        line = next((self.lines[path[:end]] for end in range(len(path), -1, -1) if path[:end] in self.lines), 0)
        return placed(self.place, line)

    def column_place(self, column: MappedColumn) -> str:
        """The place of one of ours under [table.columns], however the map spells it."""
        names = [str(path[1]) for path in self.lines if len(path) == 2 and path[0] == "columns"]
        name = next((name for name in names if names_of(self.kind).get(squeezed(name)) == column.key), "")
        return self.at("columns", name)

    def as_received(self, at: Mapping[str, int]) -> str:
        """The same plan, on one line of JSON, for the table as it stands by itself: `at` has the place of each column in it, 0 is A."""
        columns, content = {}, self.content
        theirs = content["columns"]
        named = {self.key_of(name): said for name, said in theirs.items()} if isinstance(theirs, Mapping) else {}
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


def placed(place: str, line: int) -> str:
    """The place of a table with the line of its file: "map.toml, line 12: table 1 (sheet …)"."""
    name, colon, rest = place.partition(": table ")
    return f"{name}, line {line}{colon}{rest}" if line and colon else place


def names_of(kind: Sheet) -> dict[str, str]:
    """Column keys of a sheet by the names that a map may use for them."""
    others = {squeezed(name): column.key for column in reversed(kind.columns) for name in column.also}
    return others | {squeezed(name): column.key for column in kind.columns for name in (column.heading, column.key, column.title())}


def flat(text: str) -> str:
    """A heading as the map has it: on one line, single spaces."""
    return " ".join(text.split())


def column_at(letters: object) -> int:
    """0 for "A"; -1 where it is no column."""
    if not isinstance(letters, str) or not LETTERS.match(letters.strip()):
        return -1
    index = column_number(letters.strip().upper())
    return index if index < LAST_COLUMN else -1
