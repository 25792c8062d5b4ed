"""Addresses of cells: column letters and their numbers."""

from __future__ import annotations

from functools import lru_cache

LAST_ROW, LAST_COLUMN = 1_048_576, 16_384  # of a worksheet, counted from 1


def letters(index: int) -> str:
    """Column letters: 0 is A, 26 is AA."""
    text = ""
    index += 1
    while index > 0:  # left of the sheet there are none
        index, rest = divmod(index - 1, 26)
        text = chr(65 + rest) + text
    return text


@lru_cache(maxsize=LAST_COLUMN)
def column_number(letters: bytes | str) -> int:
    """0 for A."""
    number = 0
    for mark in letters if isinstance(letters, bytes) else letters.encode("ascii"):
        number = number * 26 + mark - 64
    return number - 1
