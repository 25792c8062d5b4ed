"""Cells as they stand in a file, before anything is read into them."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time, timedelta

from msgspec import Struct, field
from msgspec.structs import replace


class Broken(str):
    """A cell without a value: its text is the error ("#DIV/0!") or the formula whose result was never stored."""

    __slots__ = ("calculated",)
    calculated: bool

    def __new__(cls, text: str, calculated: bool) -> Broken:
        self = super().__new__(cls, text)
        self.calculated = calculated
        return self


class Shown(float):
    """A number whose cell format shows a unit beside it: 0.25 shown as 25 %, 6 shown as 6 kW."""

    __slots__ = ("unit",)
    unit: str

    def __new__(cls, value: float, unit: str) -> Shown:
        self = super().__new__(cls, value)
        self.unit = unit
        return self


class Grid(Struct):
    """One sheet: `rows[0][0]` is A1. Every row is as long as the longest; a blank cell is "" or None."""

    name: str
    rows: Sequence[list[object]]
    hidden: str = ""  # "", "hidden", "very hidden"
    stray: tuple[str, ...] = ()  # addresses of cells too far out to be read with the rest
    hidden_rows: tuple[int, ...] = ()  # numbers of the rows that are not shown, from 1
    merged: tuple[tuple[int, int, int, int], ...] = ()  # merged cells: first row, first column, last row, last column, from 0
    lines: list[int] = field(default_factory=list)  # index of each row that holds anything
    hidden_columns: tuple[int, ...] = ()  # numbers of the columns that are not shown, from 1
    struck: frozenset[tuple[int, int]] = frozenset()  # cells that are struck through, as (row, column) from 0
    left_unstruck: Mapping[tuple[int, int], str] = field(default_factory=dict)  # cells struck in part: the text without the struck words
    comments: Mapping[tuple[int, int], str] = field(default_factory=dict)  # of cells, its words; "" where they are not seen
    named_by_file: bool = False  # a text, whose one sheet is called by the name of the file
    looks_known: bool = False  # False: of a kind of file in which what is struck, hidden in a sheet or commented is not seen

    def __post_init__(self) -> None:
        before: list[object] | None = None  # the same blank row may stand for many
        lines = []
        for index, row in enumerate(self.rows):
            if row is before:
                continue
            if row.count("") < len(row) and not blank(row):
                lines.append(index)
            else:
                before = row
        self.lines = lines

    def lines_from(self, index: int) -> list[int]:
        """The rows from `index` on that hold anything."""
        return self.lines[bisect_left(self.lines, index) :]

    def part(self, name: str, first: int, last: int) -> Grid:
        """The sheet with nothing in it but the columns from `first` to `last`: one of several tables beside each other."""
        before = [""] * first
        after = [""] * max(self.width - last - 1, 0)
        rows = [[*before, *row[first : last + 1], *after] for row in self.rows]
        return self.holding(name, rows)

    def holding(self, name: str, rows: Sequence[list[object]]) -> Grid:
        """The sheet with these rows in place of its own, by a name that says which they are."""
        return replace(self, name=name, rows=rows)

    @property
    def filled(self) -> int:
        """How many rows hold anything."""
        return len(self.lines)

    @property
    def width(self) -> int:
        return len(self.rows[0]) if self.rows else 0


def blank(row: Sequence[object]) -> bool:
    """Is there nothing in the row? Spaces are nothing; zero and FALSE are something."""
    for value in row:
        if value is None or value == "":
            continue
        if type(value) is not str or not value.isspace():
            return False
    return True


def shown(value: object) -> str:
    """A cell's value as a person would read it, cut to 60 characters."""
    text = worded(value)
    return text if len(text) <= 60 else text[:59] + "…"


def worded(value: object) -> str:
    """A cell's value as text, whole: a tag typed as 101 is "101", a date is ISO."""
    if value is None:
        return ""
    if isinstance(value, str):
        return str(value)
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(float(value))
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == time() else value.isoformat(sep=" ", timespec="seconds")
    if isinstance(value, (date, time)):
        return value.isoformat()
    if isinstance(value, timedelta):
        return f"{value.total_seconds() / 3600:g} h"
    return str(value)


def plain(value: object) -> object:
    """The value without our own markings, blanks as None: what As received keeps. A unit that only a cell format shows is written out."""
    if value is None or value == "":
        return None
    if type(value) is Broken:
        return str(value)
    if type(value) is Shown:
        return f"{100 * value:.15g} %" if value.unit == "%" else f"{value:.15g} {value.unit}"
    if isinstance(value, (date, time, timedelta)) and not isinstance(value, datetime):
        return worded(value)
    return value
