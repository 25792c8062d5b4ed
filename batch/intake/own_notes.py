"""What this program wrote below a list that it filled in: none of it asks for anything, and none of it is about a row."""

from __future__ import annotations

import re
from collections.abc import Iterable

from batch.program import PROGRAM, VERSION

FILLED_IN_BY = "Filled in by "  # and which program: what stands below a list begins so
BEGINS = re.compile(rf"{FILLED_IN_BY}{re.escape(PROGRAM.removesuffix(VERSION))}")

Told = tuple[int, int, str]  # row and column from 0, and the words


def without_own(notes: Iterable[Told]) -> list[Told]:
    """Notes around a list but for those that stand below our first line, in its column."""
    some = list(notes)
    begun = {column: row for row, column, text in sorted(some, reverse=True) if BEGINS.match(text)}
    return [(row, column, text) for row, column, text in some if column not in begun or row < begun[column]]
