"""A matrix of counts: one tank a row, one size of heater a column, its kW in the heading and its supply perhaps above that.

The cells are numbers of heaters; each size is a bank of the row. A column of total kW is the witness: where the counts do not add up
to it, the row is asked about. A row without a tank of its own is a sum, or is asked about.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct

from batch.intake.counts import read_count
from batch.intake.facts import figure
from batch.intake.grid import Grid, worded
from batch.intake.heading_sense import EACH
from batch.intake.line_kinds import DATA, DOUBT, HIDDEN, SPARE, TOTAL, UNHEATED, Line, supply_in
from batch.intake.list_words import nothing_word
from batch.intake.numbered_heaters import numbered
from batch.intake.numbers import speak
from batch.intake.plan import Also, ColumnPlan
from batch.intake.powers_named import power_factor
from batch.intake.survey import HeadingColumn, cells_of, flat
from batch.intake.verdict import close

POWER = re.compile(r"(?:.*\s)?(?P<number>\d+(?:[.,]\d+)?)\s*(?P<unit>k\s?W|W|watts?)\b\.?(?P<rest>.*)", re.IGNORECASE)
LEAST_SIZES = 2  # columns of sizes beside each other
LEAST_COUNTS = 0.8  # of the filled cells below that are counts of heaters: judgement, no source
MOST_ROWS_ABOVE = 2  # rows of headings above the sizes
LEAST_EQUAL = 2  # columns in which a row is the sum of those above, for it to be a total


class Size(Struct, frozen=True):
    """A size of heater and its column."""

    index: int
    text: str
    power_kw: float
    volts_v: float | None = None
    phases: int | None = None


class Matrix(Struct, frozen=True):
    """Rows of headings (from 0), the other columns, and the sizes."""

    top: int
    row: int
    columns: tuple[HeadingColumn, ...]
    sizes: tuple[Size, ...]


def matrix_of(grid: Grid) -> Matrix | None:
    """The matrix of a sheet; None where it has none."""
    for line in grid.lines:
        sizes = [(at, power) for at, value in cells_of(grid.rows[line]) if isinstance(value, str) and (power := _power(flat(value)))]
        if numbered([flat(grid.rows[line][at]) for at, _ in sizes]):  # "Heater 1 kW" is the first heater's power, no heater of 1 kW
            continue
        if len(sizes) < LEAST_SIZES or not _counted(grid, line, [at for at, _ in sizes]):
            continue
        top = _top(grid, line)
        texts = {at: _above(grid, top, line, at) for at in range(grid.width)}
        found = []
        for at, power_kw in sizes:
            supply = supply_in(texts[at])
            volts, phases = (supply.volts, supply.phases) if supply is not None else (None, None)
            found.append(Size(at, texts[at], power_kw, volts, phases))
        others = [HeadingColumn(at, text, text) for at, text in texts.items() if at not in dict(sizes) and text]
        return Matrix(top, line, tuple(others), tuple(found))
    return None


def _power(text: str) -> float | None:
    match = POWER.fullmatch(text)
    if match is None or re.search(r"\d\s*k?W", match["rest"], re.IGNORECASE):
        return None
    said, factor = speak(match["number"]), power_factor(match["unit"].replace(" ", ""))
    return said.value * factor if said is not None and said.other is None and factor is not None else None


def _counted(grid: Grid, line: int, columns: Sequence[int]) -> bool:
    """Are the cells below numbers of heaters?"""
    seen = counts = 0
    for below in grid.lines_from(line + 1):
        for at in columns:
            value = grid.rows[below][at] if at < len(grid.rows[below]) else ""
            if value in ("", None):
                continue
            seen += 1
            number = figure(value) if not isinstance(value, bool) else None
            whole = number is not None and 0 <= number <= 200 and number == int(number)
            typed = value if isinstance(value, str) and supply_in(value) is None else ""  # and no "3~ 400 V", of a list that is turned
            counts += whole or (typed != "" and read_count(typed) is not None and not re.search(r"[A-Za-z]{2}", typed))
    return seen >= LEAST_SIZES and counts >= LEAST_COUNTS * seen


def _top(grid: Grid, line: int) -> int:
    """The first row of headings: rows of words right above, with several of them."""
    top = line
    while top > 0 and line - top < MOST_ROWS_ABOVE:
        cells = cells_of(grid.rows[top - 1])
        if len(cells) < 2 or not all(isinstance(value, str) for _, value in cells):
            break
        top -= 1
    return top


def _above(grid: Grid, top: int, row: int, at: int) -> str:
    """What stands above a column, a merged or leading cell carried over the columns that it groups."""
    parts = []
    for line in range(top, row + 1):
        cells = grid.rows[line]
        own = flat(cells[at]) if at < len(cells) and isinstance(cells[at], str) else ""
        if not own and line < row:
            reach = next((c for r, c, _, last in grid.merged if r <= line and c < at <= last and r >= top), None)
            if reach is None:  # a leading cell that was not merged over those it groups
                reach = next((c for c in range(at - 1, -1, -1) if c < len(cells) and cells[c] not in ("", None)), None)
                reach = reach if reach is not None and supply_in(worded(cells[reach])) is not None else None
            own = flat(cells[reach]) if reach is not None and isinstance(cells[reach], str) else ""
        if own:
            parts.append(own)
    return " ".join(parts)


def banks(matrix: Matrix) -> tuple[Also, ...]:
    """One further bank of each row for each size."""
    found = []
    for size in matrix.sizes:
        fixed: dict[str, object] = {"power_kw": size.power_kw}
        fixed |= {"volts_v": size.volts_v} if size.volts_v is not None else {}
        fixed |= {"phases": size.phases} if size.phases is not None else {}
        column = ColumnPlan("quantity", size.index, size.text, "", "likely", "numbers of heaters under a size")
        found.append(Also({"quantity": column}, fixed, power=EACH))
    return tuple(found)


def settle_sums(matrix: Matrix, lines: Sequence[Line], total: int, tank: int, grid: Grid) -> dict[int, str]:
    """Makes the rows of sums totals, and returns the rows whose counts do not add up to their total kW. `total` -1 = no such column."""
    odd: dict[int, str] = {}
    since: dict[int, float] = {}
    every: dict[int, float] = {}
    for index in dict.fromkeys(line.index for line in lines):
        some = [line for line in lines if line.index == index]
        counts = {size.index: _count(grid, index, size.index) for size in matrix.sizes}
        cells = {size.index: grid.rows[index][size.index] for size in matrix.sizes if size.index < len(grid.rows[index])}
        unread = [at for at, value in cells.items() if value not in ("", None) and counts[at] is None and not nothing_word(worded(value))]
        if unread and some[0].kind in (UNHEATED, SPARE):
            some[0].kind, some[0].why, some[0].at = DOUBT, f'"{worded(cells[unread[0]])}" in place of a number', unread[0]
        if not any(count is not None for count in counts.values()):
            continue
        own = tank < len(grid.rows[index]) and grid.rows[index][tank] not in ("", None)
        told = {at: count for at, count in counts.items() if count is not None}
        sums = sum(count > 0 and (close(count, since.get(at, 0)) or close(count, every.get(at, 0))) for at, count in told.items())
        if not own and (some[0].kind == TOTAL or sums >= min(LEAST_EQUAL, len(told))):
            for line in some:
                line.kind, line.text, line.at = TOTAL, worded(grid.rows[index][matrix.sizes[0].index]), matrix.sizes[0].index
            since = {}
            continue
        if some[0].kind == TOTAL:
            continue
        for line in some:
            if not own and line.kind == DATA:
                line.kind, line.why = DOUBT, "a row without a tank"
        for at, count in told.items():
            since[at], every[at] = since.get(at, 0) + count, every.get(at, 0) + count
        stated = _count(grid, index, total) if total >= 0 else None
        power = sum(size.power_kw * (told.get(size.index) or 0) for size in matrix.sizes)
        if stated and power and not close(stated, power) and some[0].kind in (DATA, HIDDEN):
            odd[index] = f"the sizes and their numbers are {power:g} kW, and the total of the row says {stated:g} kW"
    return odd


def _count(grid: Grid, index: int, at: int) -> float | None:
    value = grid.rows[index][at] if at < len(grid.rows[index]) else None
    if isinstance(value, bool):
        return None
    if isinstance(value, (int, float)):
        return float(value)
    said = read_count(value) if isinstance(value, str) else None
    return float(said.value) if said is not None and said.value is not None and not said.doubt else None

