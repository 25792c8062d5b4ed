"""Sheets whose rows are one text each: a text file that a spreadsheet program opened without its mark, or a table pasted from a page.

Parted only where one line of it then has headings that are known: a sheet of sentences stays what it is. A line with figures beyond the
headings stays one text, which is asked about.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from batch.findings import Remark, remark
from batch.intake.grid import Broken, Grid
from batch.intake.text_columns import by_position, mostly_alike
from batch.ooxml.addresses import letters

LEAST_LINES, LEAST_CELLS, LEAST_HEADINGS = 3, 3, 2
MOST_LINES, LONGEST = 20_000, 2000
MARKS = {";": "semicolons", "\t": "tabs", "|": "upright strokes", ",": "commas"}
SPACES = "spaces"

Cells = Mapping[int, Sequence[str]]  # of each row, by its index


def part_rows(grid: Grid) -> tuple[Grid, Remark | None]:
    """The sheet with its rows in cells, and what is to be said of it; as it is, None, where its rows are no texts of several cells each."""
    column, texts = _texts(grid)
    if not texts:
        return grid, None
    for words, cells in _ways(texts):
        headed = next((len(row) for row in cells.values() if _headings(row) >= LEAST_HEADINGS), 0)
        torn = {at for at, row in cells.items() if any(map(str.isdigit, "".join(row[headed:])))}  # "1,5" parted by commas
        if not headed:
            continue
        cells = {at: [texts[at].strip()] if at in torn else row for at, row in cells.items()}
        width = max(map(len, cells.values()))
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
        if mostly_alike([len(row) for row in cells.values()]):
            found.append((words, cells))
    laid = by_position(list(texts.values()))
    return [*found, (SPACES, dict(zip(texts, laid, strict=True)))] if laid else found


def _row(text: str, mark: str) -> list[str]:
    try:
        return next(csv.reader([text], delimiter=mark), [])
    except csv.Error:
        return [text]


def _headings(row: Sequence[str]) -> int:
    from batch.intake.vocabulary import vocabulary

    known = vocabulary()
    return sum(bool(cell) and known.is_heading(cell) for cell in row) if len(row) >= LEAST_CELLS else 0
