"""The slower reader, for sheets that the quick one cannot lay out or does not understand: openpyxl, loaded only then."""

from __future__ import annotations

import warnings
from collections.abc import Sequence
from io import BytesIO

from batch.errors import InputFileError
from batch.ooxml.addresses import letters
from batch.ooxml.guard import SAVE_AS
from batch.ooxml.sheet_scan import LAST_ROW

LARGEST_SHEET = 60 << 20  # bytes inflated: above it this reader takes too long and too much memory
MOST_CELLS = 4_000_000
GAP_ROWS, GAP_COLUMNS = 1000, 200  # so many blank rows or columns end a table: common practice, no source
MOST_STRAY = 20


class SlowBook:
    """A workbook opened by openpyxl, for its values only; macros and links are left alone."""

    def __init__(self, data: bytes, name: str, why: str) -> None:
        """`why` the quick reader was not used: what a person is told if this one fails too."""
        from openpyxl import load_workbook

        self.name = name
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")  # what it cannot keep is none of our business: nothing is saved
                self._book = load_workbook(BytesIO(data), data_only=True, keep_links=False)
        except MemoryError:
            raise InputFileError(f"{name}: too large to be read: split the job into several workbooks") from None
        except Exception:  # openpyxl raises whatever its parsers raise: zip, XML, key, value, type and attribute errors
            raise InputFileError(f"{name}: the workbook cannot be read, {why}: {SAVE_AS}") from None

    def rows(self, sheet: str, height: int, width: int, numbers: Sequence[int]) -> list[list[object]]:
        """The cells of a sheet down to row `height` and across to column `width`, blanks as ""; only the rows `numbers` are looked at."""
        refuse_wide(self.name, sheet, len(numbers), height, width)
        if sheet not in self._book.sheetnames or not hasattr(self._book[sheet], "iter_rows"):
            return []
        cells: list[list[object]] = [[""] * width] * height  # one and the same blank row, until a row holds something
        for number in numbers:
            if number <= height:
                row = next(self._book[sheet].iter_rows(min_row=number, max_row=number, min_col=1, max_col=width, values_only=True))
                cells[number - 1] = [_plain(value) for value in row]
        return cells

    def extent(self, sheet: str) -> tuple[int, int]:
        """Last row and last column of the sheet as this reader knows it."""
        return (self._book[sheet].max_row, self._book[sheet].max_column) if sheet in self._book.sheetnames else (0, 0)


def refuse_wide(name: str, sheet: str, rows: int, height: int, width: int) -> None:
    """Refuses a sheet whose filled rows, laid out to `width`, are too much for this reader."""
    if rows * width > MOST_CELLS or height > LAST_ROW:
        raise InputFileError(f"{name}: sheet {sheet} is laid out too wide to be read: bring its cells together, and save")


def _plain(value: object) -> object:
    """The value as the quick reader gives it: numbers as float, blanks as ""."""
    if value is None:
        return ""
    if isinstance(value, bool) or not isinstance(value, int):
        return value
    return float(value)


def main_block(numbers: Sequence[int], gap: int) -> int:
    """The last of the numbers that hang together from the first on, with no hole larger than `gap`."""
    last = numbers[0] if numbers else 0
    for number in numbers:
        if number - last > gap:
            break
        last = number
    return last


def stray_words(rows: Sequence[int], columns: Sequence[int], height: int, width: int) -> tuple[str, ...]:
    """Where something stands outside the block: addresses of rows and columns, the first twenty."""
    far_rows = [f"row {row}" for row in rows if row > height]
    far_columns = [f"column {letters(column - 1)}" for column in columns if column > width]
    return tuple((far_rows + far_columns)[:MOST_STRAY])
