"""Finds every table of a sheet by its headings and what stands below them, wherever it begins and whatever the tab is called."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from math import ceil

from msgspec import Struct, field

from batch.intake.grid import Grid, worded
from batch.intake.headed_by_age import ages
from batch.intake.heading_columns import HeadingColumn, side_by_side, sides_in_units
from batch.intake.list_words import FILLED_IN, is_heater
from batch.intake.panel_sides import LEAST_SAME, OF_CIRCUITS, circuits_again, mirrored
from batch.intake.prose import like_data
from batch.intake.unit_words import heads_rows_below, is_unit

MOST_ROWS_OF_HEADINGS = 3
LEAST_GROUPS = 2  # headings merged over several columns, each with columns of its own below
LONGEST_UNIT = 20  # characters of a unit with a word beside it
UNITS_ALONE_SCORE, LEAST_SCORE = 0.5, 2.0  # of headings: units alone, and two columns that matter
WEIGHT = {
    "tank": 1.0, "quantity": 1.0, "power_kw": 1.0, "total_kw": 1.0, "volts_v": 1.0, "phases": 1.0, "amps_a": 0.8, "description": 1.15,
    "item": 0.3, "tanks": 0.8, "": 0.3,
}  # fmt: skip
OTHERS = 0.5  # the weight of any other column
WEAK_SCORE, LOOKED_AT = 1.2, 12  # of headings over rows that speak of kW themselves, and the rows that are looked at
FACTS = re.compile(r"\d\s*k\s?w\b|\d{3,5}\s*w(?:atts?)?\b", re.IGNORECASE)
OF_A_LINE = re.compile(r"\s*(?:(?:I|A|amps?|V|volts?|kVA|kW)\.?[ _]*\(?)?L[123]\)?(?: ?[\[(]?(?:A|V|kVA|kW)[\])]?)?\s*", re.I)  # "A L1"
LEAST_HEADINGS = ceil(LEAST_SCORE / max(WEIGHT.values()))  # columns that can have that score at all


class Region(Struct):
    """A candidate table: rows and columns count from 0. `top` to `row` are its headings, `start` to `end` the rows below them."""

    grid: Grid
    top: int
    row: int
    start: int
    end: int
    columns: list[HeadingColumn]
    again: list[int] = field(default_factory=list)  # rows in which the headings stand again
    elsewhere: bool = False  # do its headings stand on another sheet, whose list goes on here?
    turned: str = ""  # "columns": one heater a column of the real sheet; "blocks": labels beside values; "" = a plain table

    @property
    def first(self) -> int:
        return self.columns[0].index

    @property
    def last(self) -> int:
        return self.columns[-1].index

    def lines(self) -> list[int]:
        return [line for line in self.grid.lines_from(self.start) if line <= self.end and line not in self.again]


def runs(numbers: Iterable[int]) -> list[list[int]]:
    """Rising numbers of rows or columns, parted where one is missing between them."""
    found: list[list[int]] = []
    for number in numbers:
        if found and number == found[-1][-1] + 1:
            found[-1].append(number)
        else:
            found.append([number])
    return found


def cells_of(row: Sequence[object], first: int = 0, last: int | None = None) -> list[tuple[int, object]]:
    """The cells of a row that hold something, with their columns."""
    stop = len(row) if last is None else last + 1
    return [
        (at, value)
        for at, value in enumerate(row[first:stop], first)
        if value not in ("", None) and not (type(value) is str and value.isspace())
    ]


def flat(value: object) -> str:
    return " ".join(worded(value).split())


def regions(grid: Grid) -> list[Region]:
    """Every table of the sheet that has headings above its rows, from the top down and from left to right."""
    found: list[Region] = []
    anchors = _anchors(grid)
    for number, (top, row, unit_row) in enumerate(anchors):
        end = anchors[number + 1][0] - 1 if number + 1 < len(anchors) else len(grid.rows) - 1
        start = max(row, unit_row) + 1
        columns = columns_below(grid, top, row, end, unit_row)
        for part in side_by_side(columns):
            found.append(Region(grid, top, max(row, unit_row), start, end, part))
    return _joined(found)


def _joined(found: list[Region]) -> list[Region]:
    """Tables whose headings are those of the one above go on with it: a list of several pages, its headings perhaps cut short."""
    out: list[Region] = []
    for one in found:
        before = _last_over(out, one)
        if before is not None and (_texts(before) == _texts(one) or _same_columns(before, one)):
            before.again += range(one.top, one.row + 1)
            before.end = one.end
        else:
            out.append(one)
    return out


def _same_columns(one: Region, other: Region) -> bool:
    """Do the headings below mean the same, column by column, and say nothing else of units and what the figures are of?"""
    upper = {column.index: column for column in one.columns if column.text}
    lower = [column for column in other.columns if column.text]
    if len(lower) < LEAST_SAME or any(column.index not in upper for column in lower):
        return False
    for column in lower:
        above = upper[column.index]
        if above.text.casefold().endswith(column.text.casefold()):
            continue
        mine, theirs = column.meanings()[:1], above.meanings()[:1]
        if not mine or not theirs or mine[0].key != theirs[0].key:
            return False
        if mine[0].unit not in ("", theirs[0].unit) or mine[0].basis not in ("", theirs[0].basis):
            return False
    return True


def _last_over(out: list[Region], one: Region) -> Region | None:
    return next((other for other in reversed(out) if other.first <= one.last and one.first <= other.last), None)


def _texts(region: Region) -> list[tuple[int, str]]:
    return [(column.index, column.text.casefold()) for column in region.columns if column.text]


def _anchors(grid: Grid) -> list[tuple[int, int, int]]:
    """Heading rows: first, last, and the row of units below them (-1 = none)."""
    lines = grid.lines
    wordy = {line for line in lines if _wordy(grid.rows[line])}
    found: list[tuple[int, int, int]] = []
    at = 0
    while at < len(lines):
        best = _best_from(grid, lines[at], wordy)
        if best is None:
            at += 1
            continue
        score, top, row = best
        later = [_best_from(grid, line, wordy) for line in lines[at + 1 : at + 3] if line <= row + 1]
        if any(other is not None and other[0] > score + 0.2 for other in later):
            at += 1
            continue
        found.append(_with_units(grid, top, row, wordy))
        last = max(found[-1][1:])
        while at < len(lines) and lines[at] <= last:
            at += 1
    return found


def _with_units(grid: Grid, top: int, row: int, wordy: set[int]) -> tuple[int, int, int]:
    """Rows of headings as an anchor: first, last, and the row of units, which is the one below them or the last of them."""
    unit_row = row + 1 if row + 1 in wordy and is_unit_row(grid.rows[row + 1]) else -1
    if unit_row < 0 and row > top and is_unit_row(grid.rows[row]) and _headed(grid, top, row):
        unit_row, row = row, row - 1
    return top, row, unit_row


def columns_headed(grid: Grid, top: int, last: int, end: int, span: tuple[int, int] | None = None) -> list[HeadingColumn]:
    """The columns under headings that are known to stand in the rows from `top` to `last`, read as `regions` reads them.

    span    first and last column of the table, where others stand beside it
    """
    for part in (grid, grid.part(grid.name, *span)) if span is not None else (grid,):
        wordy = {line for line in range(top, last + 2) if line < len(part.rows) and _wordy(part.rows[line])}
        best = _best_from(part, top, wordy)
        found = _with_units(part, *best[1:], wordy) if best is not None else None
        if found is not None and max(found[1:]) == last:
            return columns_below(grid, top, found[1], end, found[2])
    units = last > top and is_unit_row(grid.rows[last])  # as a person understands them
    return columns_below(grid, top, last - units, end, last if units else -1)


def _headed(grid: Grid, top: int, row: int) -> bool:
    """Do most cells of a row that looks like units stand below a heading of their own, and not side by side under a common one?"""
    below = [at for at, _ in cells_of(grid.rows[row])]
    own = {at for line in range(top, row) for at, value in cells_of(grid.rows[line]) if isinstance(value, str)}
    over = {at for first, left, last, right in grid.merged if top <= first and last < row for at in range(left + 1, right + 1)}
    if len((over - own).intersection(below)) >= LEAST_GROUPS:  # "Qty | kW ea" below each of "SS heaters" and "Ti heaters"
        return False
    return 2 * sum(at in own for at in below) >= len(below)


def _wordy(row: Sequence[object]) -> bool:
    cells = [value for _, value in cells_of(row)]
    odd = sum(like_data(value) and not (isinstance(value, str) and OF_A_LINE.fullmatch(value)) for value in cells)
    return bool(cells) and odd <= len(cells) // 6


def _best_from(grid: Grid, top: int, wordy: set[int]) -> tuple[float, int, int] | None:
    """The best rows of headings that begin at `top`: score, first and last row."""
    best: tuple[float, int, int] | None = None
    for count in range(1, MOST_ROWS_OF_HEADINGS + 1):
        row = top + count - 1
        if row not in wordy or (count > 1 and _lone(grid, top, count)):
            break
        if count > 1 and heads_rows_below(cells_of(grid.rows[row]), cells_of(grid.rows[row - 1])):
            break
        columns = _parts(grid, top, row)
        if len(columns) < LEAST_HEADINGS:  # sentences below each other: no one column reaches the score
            continue
        score = _score(columns) - 0.05 * (count - 1)
        headed = sum(one.text != "" for one in columns) >= LEAST_SAME or _tanks_and_more(columns)
        below = headed and (_two_sided(columns) or _described_below(grid, row) or _of_circuits(columns, grid, row))
        if below and (WEAK_SCORE <= score < LEAST_SCORE or (score < LEAST_SCORE and _there_or_to_come(columns))):
            score = LEAST_SCORE
        if count == 1 and top - 1 in wordy and is_unit_row(grid.rows[top]):  # units stand below headings, and are none
            score *= UNITS_ALONE_SCORE
        if score >= LEAST_SCORE and (best is None or score > best[0] + 0.1):
            best = (score, top, row)
    return best


def _tanks_and_more(columns: Sequence[HeadingColumn]) -> bool:
    """Are all of a few columns headed, and one of them by a word or a mark of tanks: "Tag", "Heaters"?"""
    return all(one.text for one in columns) and any(meaning.key == "tank" for one in columns for meaning in one.meanings()[:1])


def _there_or_to_come(columns: Sequence[HeadingColumn]) -> bool:
    """Does a heading say of what stands below it that it is there, or to come: "Tank", "Existing", "Proposed"?"""
    return bool(ages(column.text for column in columns if column.text))


def _two_sided(columns: Sequence[HeadingColumn]) -> bool:
    """Those of a panel's schedule, the same to its right as to its left, mirrored or once more?"""
    texts = [column.text for column in columns if column.text]
    return len(texts) >= 2 * LEAST_SAME and (mirrored(texts) or circuits_again(texts))


def _described_below(grid: Grid, row: int) -> bool:
    """Do most of the next rows hold powers or supplies in words, so that fewer headings tell a list of heaters?"""
    rows = [cells_of(grid.rows[line]) for line in grid.lines_from(row + 1)][:LOOKED_AT]
    told = sum(any(isinstance(value, str) and FACTS.search(value) for _, value in cells) for cells in rows)
    return told >= 2 and told >= 0.4 * len(rows)


def _of_circuits(columns: Sequence[HeadingColumn], grid: Grid, row: int) -> bool:
    """Are the headings those of a panel's circuits, and most of the rows below them heaters'?"""
    if not any(OF_CIRCUITS.fullmatch(column.text.strip(" .#")) for column in columns):
        return False
    rows = [cells_of(grid.rows[line]) for line in grid.lines_from(row + 1)][:LOOKED_AT]
    heated = sum(any(isinstance(value, str) and is_heater(value) for _, value in cells) for cells in rows)
    return heated >= 2 and 2 * heated >= len(rows)


def _lone(grid: Grid, top: int, count: int) -> bool:
    """Does the block begin with a title: one text, which is no heading of the columns below it?"""
    cells = cells_of(grid.rows[top])
    if len(cells) > 1 or not cells:
        return not cells
    at = cells[0][0]
    reach = next((last for r, c, _, last in grid.merged if r == top and c == at), at)
    below = [index for index, _ in cells_of(grid.rows[top + 1])]
    return not below or reach == at or (min(below) >= at and max(below) <= reach)


def _score(columns: Iterable[HeadingColumn]) -> float:
    """How much the texts look like headings of a heater list, each column of ours once."""
    best: dict[str, float] = {}
    extra = 0.0
    for column in columns:
        some = [one for one in column.meanings() if one.score >= 0.6]
        if some and some[0].key:
            key = some[0].key
            value = WEIGHT.get(key, OTHERS) * some[0].score
            if key in best:
                extra += 0.05
            best[key] = max(best.get(key, 0.0), value)
        elif some or OF_CIRCUITS.fullmatch(column.text.strip(" .#")):
            extra += WEIGHT[""] / 2
    return sum(best.values()) + min(extra, 0.8)


def _parts(grid: Grid, top: int, row: int) -> list[HeadingColumn]:
    """The text above each column: lines of several rows joined, an upper one carried over the columns that it groups."""
    width = grid.width
    columns = {}
    reach = {(r, c): last for r, c, _, last in grid.merged if top <= r <= row and last > c}
    lower = [flat(value) if isinstance(value, str) else "" for value in grid.rows[row]]
    lines: list[list[tuple[str, bool]]] = []
    for r in range(top, row + 1):
        texts = [flat(value) if isinstance(value, str) else "" for value in grid.rows[r]]
        line: list[tuple[str, bool]] = []
        group, until, merged = "", -1, False
        for index in range(width):
            own = texts[index] if index < len(texts) else ""
            if own:
                group, merged = own, (r, index) in reach
                until = reach.get((r, index), width if r < row and lower[index] else index)
                line.append((own, False))
            elif r < row and group and index <= until and (merged or lower[index]):
                line.append((group, True))
            elif merged and group and index <= until:
                line.append(("", False))
            else:
                group = "" if r < row and not merged and not lower[index] else group
                line.append(("", False))
        lines.append(line)
    for index in range(width):
        parts = [line[index] for line in lines if line[index][0]]
        if not parts:
            continue
        texts = list(dict.fromkeys(text for text, _ in parts))
        lone = [text for text, carried in parts if not carried]
        spread = any(carried for _, carried in parts)
        if spread and not lone:
            continue
        columns[index] = HeadingColumn(index, " ".join(texts), lone[-1] if lone else "", spread=spread or len(parts) > 1)
    return list(columns.values())


def is_unit_row(row: Sequence[object]) -> bool:
    cells = [flat(value) for _, value in cells_of(row)]
    known = [text for text in cells if is_unit(text)]
    return len(known) >= 1 and len(known) >= 0.7 * len(cells)


def columns_below(grid: Grid, top: int, row: int, end: int, unit_row: int = -1) -> list[HeadingColumn]:
    """All columns that hold anything from the headings down to `end`, headed or not."""
    headed = {column.index: column for column in _parts(grid, top, row)}
    if unit_row >= 0:
        units = cells_of(grid.rows[unit_row])
        sides = dict(sides_in_units([(at, flat(value)) for at, value in units]))
        over = headed[min(sides)].text if sides and min(sides) in headed else ""
        for index, value in units:
            if index in sides:
                headed[index] = HeadingColumn(index, f"{over} {sides[index]}".strip(), sides[index], spread=True)
            elif is_unit(flat(value)):
                headed.setdefault(index, HeadingColumn(index)).unit = flat(value).strip("()[]{} ")
            elif index in headed and len(flat(value)) <= LONGEST_UNIT:  # "unit. (W)" below "Power": a heading that goes on
                headed[index].text = f"{headed[index].text} {flat(value)}".strip()
            elif isinstance(value, str) and len(flat(value)) <= LONGEST_UNIT:  # "sheath" among units, below a cell merged over it
                headed[index] = HeadingColumn(index, flat(value), flat(value))
    used = set(headed)
    for line in grid.lines_from(row + 1):
        if line > end:
            break
        used.update(index for index, _ in cells_of(grid.rows[line]))
    filled = {index for index, column in headed.items() if column.text.endswith(FILLED_IN)}  # by an earlier run of this program
    return [headed.get(index) or HeadingColumn(index) for index in sorted(used - filled)]
