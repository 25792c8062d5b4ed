"""Sheets whose rows are one text each: a text file that a spreadsheet program opened without its mark, or a table pasted from a page.

Parted only where one line of it then has headings that are known: a sheet of sentences stays what it is.
"""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

from msgspec.structs import replace

from batch.findings import Remark, remark
from batch.intake.grid import Broken, Grid
from batch.ooxml.addresses import letters

LEAST_LINES, LEAST_CELLS, LEAST_HEADINGS = 3, 3, 2
MOST_LINES, LONGEST = 20_000, 2000
MOSTLY = 0.6  # of the lines that have several cells, to be of one number of them: judgement, no source
MARKS = {";": "semicolons", "\t": "tabs", "|": "upright strokes", ",": "commas"}
SPACES = "spaces"
_CHUNK = re.compile(r"\S+(?: \S+)*")

Cells = Mapping[int, Sequence[str]]  # of each row, by its index


class Span(NamedTuple):
    """Where the words of a column stand in their lines."""

    start: int
    end: int


def part_rows(grid: Grid) -> tuple[Grid, Remark | None]:
    """The sheet with its rows in cells, and what is to be said of it; as it is, None, where its rows are no texts of several cells each."""
    column, texts = _texts(grid)
    if not texts:
        return grid, None
    for words, cells in _ways(texts):
        width = max(map(len, cells.values()))
        if not any(_headings(row) >= LEAST_HEADINGS for row in cells.values()):
            continue
        before = [""] * column
        rows: list[list[object]] = [[""] * (column + width) for _ in grid.rows]
        for at, own in cells.items():
            rows[at] = [*before, *own, *[""] * (width - len(own))]
        struck = frozenset((row, at) for row, _ in grid.struck for at in range(column, column + width))
        made = replace(grid, rows=rows, merged=(), hidden_columns=(), struck=struck)
        return made, remark("sheet-parted", sheet=grid.name, column=letters(column), mark=words, columns=width)
    return grid, None


def _texts(grid: Grid) -> tuple[int, dict[int, str]]:
    """The one column that holds anything, and its text in each row; no texts where the sheet is laid out otherwise."""
    columns: set[int] = set()
    texts: dict[int, str] = {}
    if not LEAST_LINES <= grid.filled <= MOST_LINES or grid.left_unstruck:
        return 0, {}
    for index in grid.lines:
        filled = [(at, value) for at, value in enumerate(grid.rows[index]) if value not in ("", None)]
        columns.update(at for at, _ in filled)
        value = filled[0][1] if filled else None
        if len(columns) > 1 or not isinstance(value, str) or isinstance(value, Broken) or "\n" in value or len(value) > LONGEST:
            return 0, {}
        texts[index] = value
    return min(columns), texts


def _ways(texts: Mapping[int, str]) -> list[tuple[str, Cells]]:
    """The ways in which most lines come to one number of cells: by each mark, then by where the words stand."""
    found: list[tuple[str, Cells]] = []
    for mark, words in MARKS.items():
        cells = {at: [cell.strip() for cell in _row(text, mark)] if mark in text else [text.strip()] for at, text in texts.items()}
        if _alike([len(row) for row in cells.values()]):
            found.append((words, cells))
    laid = _by_place({at: text.expandtabs(8).rstrip() for at, text in texts.items()})
    return [*found, (SPACES, laid)] if laid else found


def _row(text: str, mark: str) -> list[str]:
    try:
        return next(csv.reader([text], delimiter=mark), [])
    except csv.Error:
        return [text]


def _alike(widths: Sequence[int]) -> int:
    """How many cells most lines of several have; 0 where they do not agree."""
    several = Counter(width for width in widths if width > 1)
    if not several:
        return 0
    width, often = max(several.items(), key=lambda one: (one[1], one[0]))
    return width if width >= LEAST_CELLS and often >= max(LEAST_LINES, MOSTLY * several.total()) else 0


def _by_place(lines: Mapping[int, str]) -> Cells:
    """Cells parted by two spaces or more. Lines with blanks between are filled by where the words of the others stand; a title or a note
    that does not fit is one cell."""
    parted = {at: list(_CHUNK.finditer(line)) for at, line in lines.items()}
    width = _alike([len(chunks) for chunks in parted.values()])
    if not width:
        return {}
    whole = [chunks for chunks in parted.values() if len(chunks) == width]
    spans = [Span(min(some[at].start() for some in whole), max(some[at].end() for some in whole)) for at in range(width)]
    aligned = all(one.end <= other.start for one, other in pairwise(spans))
    cells: dict[int, list[str]] = {}
    for at, chunks in parted.items():
        if len(chunks) == width:
            cells[at] = [chunk[0] for chunk in chunks]
        else:
            cells[at] = (_placed(chunks, spans) if aligned else None) or [lines[at].strip()]
    return cells


def _placed(chunks: Sequence[re.Match[str]], spans: Sequence[Span]) -> list[str] | None:
    """Each text in the column that it stands in; None where one stands in none or in several, or all of it under the first."""
    cells = [""] * len(spans)
    for chunk in chunks:
        over = [at for at, span in enumerate(spans) if chunk.start() < span.end and chunk.end() > span.start]
        if len(over) != 1 or cells[over[0]]:
            return None
        cells[over[0]] = chunk[0]
    return cells if any(cells[1:]) else None


def _headings(row: Sequence[str]) -> int:
    from batch.intake.vocabulary import vocabulary

    known = vocabulary()
    return sum(bool(cell) and known.is_heading(cell) for cell in row) if len(row) >= LEAST_CELLS else 0
