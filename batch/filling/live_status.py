"""A status that watches its row: it says so by itself where the row no longer says what was sized.

A list that is sorted or edited after it was filled would otherwise show one heater's fuse beside another heater.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from batch.filling.pieces import Formula, quoted
from batch.ooxml.addresses import letters
from batch.ooxml.sheet_xml import CellSeen, whole
from batch.sheets.received import EDIT_WORDS
from batch.units import spelled

LONGEST_TEXT = 200  # characters of a text that is compared; a formula holds 255 (common limit of spreadsheet programs)
LONGEST_FORMULA = 8000  # common programs take 8,192 characters
UNWATCHED = frozenset({"notes"})  # columns that nothing is sized with


def live_status(
    status: str, row: int, columns: Iterable[int], cells: Mapping[int, CellSeen], text_of: Callable[[int], str]
) -> Formula | str:
    """The status as a formula that compares the cells it rests on with what stood in them; as it is where none can be compared.

    columns  that the row was read from, from 0
    cells    of the row, by column; a column without one is blank
    text_of  a shared text by its number
    """
    watched = set(columns)
    watched |= {column + 1 for column in watched if _is_unit(cells.get(column + 1), text_of)}  # 6 | kW
    tests = [test for column in sorted(watched) if (test := _test(f"{letters(column)}{row}", cells.get(column), text_of))]
    formula = f"IFERROR(IF(AND({','.join(tests)}),{quoted(status)},{quoted(EDIT_WORDS)}),{quoted(EDIT_WORDS)})"
    return Formula(formula, status) if tests and len(formula) <= LONGEST_FORMULA else status


def _is_unit(cell: CellSeen | None, text_of: Callable[[int], str]) -> bool:
    """Does the cell hold the unit of the number beside it?"""
    if cell is None or cell.type not in ("s", "str", "inlineStr") or not cell.value:
        return False
    at = whole(cell.value) if cell.type == "s" else None
    return spelled((cell.value if at is None else text_of(at)).strip()) is not None


def _test(address: str, cell: CellSeen | None, text_of: Callable[[int], str]) -> str:
    """The comparison for one cell; "" where it cannot be made."""
    if cell is None or not cell.filled:
        return f'{address}=""'
    value = cell.value
    if value is None or cell.type in ("e", "d"):
        return ""
    if cell.type == "s":
        at = whole(value)
        if at is None:
            return ""
        value = text_of(at)
    elif cell.type == "b":
        return f"{address}={'TRUE' if value.strip() == '1' else 'FALSE'}"
    elif cell.type == "n":
        try:
            return f"{address}={repr(float(value)).removesuffix('.0')}"
        except ValueError:
            return ""
    if len(value) > LONGEST_TEXT or not value.isprintable():
        return ""
    return f"{address}={quoted(value)}"
