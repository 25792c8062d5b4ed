"""Where a record came from: sheet, row and columns of the user's workbook."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field

Address = tuple[str, int, int]  # sheet, row, turn in the row


class Origin(Struct, frozen=True):
    """Where a record came from. `columns` (column key -> letters, "F") is shared by all rows of a table; two are compared without it.

    turn  how many records of its kind stand before it in its row: a row may name several tanks, or two sizes of heaters
    """

    sheet: str = ""
    row: int = 0
    columns: Mapping[str, str] = field(default_factory=dict)
    turn: int = 0

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Origin) and self.address == other.address

    def __ne__(self, other: object) -> bool:
        return not self == other

    def __hash__(self) -> int:
        return hash(self.address)

    @property
    def address(self) -> Address:
        return self.sheet, self.row, self.turn

    def cell(self, key: str) -> str:
        """Address of the cell of column `key` in this row; the row's first column where that column is absent."""
        if not self.row:
            return ""
        letters = self.columns.get(key) or next(iter(self.columns.values()), "A")
        return letters if letters[-1:].isdigit() else f"{letters}{self.row}"  # a whole address where the row is none of the sheet


NOWHERE = Origin()
