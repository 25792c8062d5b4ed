"""How a cell is known to say what it said: the same from who writes it and from who reads it back, whatever program saved it in between."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from hashlib import sha256

LENGTH = 10  # hexadecimal digits of a mark
LONGEST = 32_767  # characters of a cell


def row_mark(values: Sequence[object]) -> str:
    """The mark of a row; "" of a blank one. Blank cells at its end make no difference."""
    words = [cell_word(value) for value in values]
    while words and not words[-1]:
        words.pop()
    return sha256("\x1f".join(words).encode("utf-8", "replace")).hexdigest()[:LENGTH] if words else ""


def cell_word(value: object) -> str:
    """What a cell says, for two to be compared; "" = nothing. Spaces, and how a number or a moment is stored, make no difference."""
    if value is None:
        return ""
    if isinstance(value, str):
        text = " ".join("".join(mark if mark.isprintable() else " " for mark in value[:LONGEST]).split())
        return f"s{text}" if text else ""
    if isinstance(value, bool):
        return f"b{int(value)}"
    if isinstance(value, (int, float)):
        return f"n{value:.10g}"
    if isinstance(value, datetime):
        return f"d{(value + timedelta(seconds=0.5)).replace(microsecond=0, tzinfo=None).isoformat()}"
    if isinstance(value, date):
        return f"d{datetime(value.year, value.month, value.day).isoformat()}"
    if isinstance(value, time):
        value = timedelta(hours=value.hour, minutes=value.minute, seconds=value.second)
    return f"t{round(value.total_seconds())}" if isinstance(value, timedelta) else f"s{value}"
