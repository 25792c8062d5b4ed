"""Where a record came from: sheet, row and columns of the user's workbook."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field


class Origin(Struct, frozen=True):
    """Where a record came from. `columns` (column key -> letters, "F") is shared by all rows of a table; two are compared without it."""

    sheet: str = ""
    row: int = 0
    columns: Mapping[str, str] = field(default_factory=dict)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Origin) and self.row == other.row and self.sheet == other.sheet

    def __ne__(self, other: object) -> bool:
        return not self == other

    def __hash__(self) -> int:
        return hash((self.sheet, self.row))

    def cell(self, key: str) -> str:
        """Address of the cell of column `key` in this row; the row's first column where that column is absent."""
        if not self.row:
            return ""
        letters = self.columns.get(key) or next(iter(self.columns.values()), "A")
        return letters if letters[-1:].isdigit() else f"{letters}{self.row}"  # a whole address where the row is none of the sheet


NOWHERE = Origin()
