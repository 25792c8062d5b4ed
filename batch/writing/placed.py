"""Where things stand on the sheets of a schedule, and how other sheets refer to them."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field
from xlsxwriter.url import Url
from xlsxwriter.utility import xl_col_to_name

from batch.sheets import Sheet
from batch.writing.fast_sheet import ScheduleSheet

TITLE, HELP, TOTALS, BAND, HEADING, DATA = range(6)  # 0-based rows of every schedule


class Placed(Struct):
    """Where a schedule came to stand, for links and references to it."""

    sheet: Sheet
    name: str
    worksheet: ScheduleSheet
    rows: int
    us: bool = False
    columns: Mapping[str, int] = field(default_factory=dict)

    @property
    def last(self) -> int:
        return DATA + self.rows - 1

    def range(self, key: str) -> str:
        """Absolute reference to the data of a column: 'Banks'!$F$6:$F$20."""
        return cells_between(self, key, DATA + 1)

    def cell(self, key: str, at: int) -> str:
        return f"{quoted(self.name)}!{xl_col_to_name(self.columns[key])}{DATA + 1 + at}"

    def letters(self, key: str) -> str:
        return xl_col_to_name(self.columns[key])

    def link(self, key: str, at: int, target: str, tip: str) -> None:
        """Lays a link to a cell of this workbook over a cell already written."""
        url = Url(f"internal:{target}")
        url.tip = tip
        self.worksheet.hyperlinks[DATA + at][self.columns[key]] = url


class Planned(Struct, frozen=True):
    """Where a schedule will come to stand that is not written yet: its tab, and how many rows it has. `sheet`: as it is written."""

    sheet: Sheet
    name: str
    rows: int

    def range(self, key: str) -> str:
        return cells_between(self, key, DATA + 1)

    def letters(self, key: str) -> str:
        return xl_col_to_name(next(at for at, column in enumerate(self.sheet.columns) if column.key == key))


def cells_between(place: Placed | Planned, key: str, first: int) -> str:
    """Absolute reference to a column from row `first`, as a person counts, to its last."""
    letters = place.letters(key)
    return f"{quoted(place.name)}!${letters}${first}:${letters}${DATA + place.rows}"


def referred(name: str, places: Mapping[str, Placed | Planned]) -> str | None:
    """What stands in a formula for a column of another sheet, named as `batch.writing.formulas` has it; None where it stands nowhere."""
    id, _, key = name.lstrip("#^").partition(".")
    place = places.get(id)
    if place is None:
        return None
    if name[0] == "#":
        return f'"#{quoted(place.name)}!{place.letters(key)}"'
    return cells_between(place, key, 1) if name[0] == "^" else place.range(key)


def quoted(name: str) -> str:
    return "'" + name.replace("'", "''") + "'"
