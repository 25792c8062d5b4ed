"""Finds the tables of a workbook as a column map says."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from msgspec.structs import replace

from batch.findings import Finding, find, remark
from batch.intake.column_map import ColumnMap
from batch.intake.grid import Grid, worded
from batch.intake.head import Head, finished, joined, span
from batch.intake.headings import BRACKETS, JOINED, Heading, Matcher
from batch.intake.table_map import MapError, TableMap, flat
from batch.ooxml.addresses import letters
from batch.sheets import Sheet
from batch.sheets.received import RECEIVED

LOOKED = 100  # rows with anything in them in which the headings of the map are looked for
SHOWN = 12  # headings that an error names


class Mapped(NamedTuple):
    """A table of the map at its place in the workbook."""

    grid: Grid
    plan: TableMap
    head: Head
    matcher: Matcher
    sheet: str  # the tab's own name


class MapMatcher(Matcher):
    """Matches the headings of the customer as the map has them, and no others."""

    def __init__(self, sheet: Sheet, plan: TableMap) -> None:
        super().__init__(sheet)
        self.meant = {part.heading.casefold(): column for column in plan.columns for part in column.all() if part.heading}
        for text, column in list(self.meant.items()):  # where the headings stand again, it may be in one row
            self.meant.setdefault(text.rpartition(JOINED)[2], column)

    def match(self, text: str) -> Heading | None:
        column = self.meant.get(flat(text).casefold())
        return None if column is None else self.heading(text, column.key, column.unit)

    def heading(self, text: str, key: str, unit) -> Heading:
        """The heading of a mapped column: in the unit of the map, or else in the one that the heading names."""
        if unit is not None:
            return Heading(text, key=key, unit=unit)
        return self._with_unit(text, (key, 0), BRACKETS.findall(text), BRACKETS.sub(" ", text))

    def near(self, text: str, keys: Sequence[str]) -> str:
        """Nothing is offered: what the map leaves out is left out on purpose."""
        return ""


def place(column_map: ColumnMap, grids: Sequence[Grid], name: str) -> list[Mapped]:
    """Every table of the map.

    Raises:
        MapError: a tab, a heading or a column that the workbook has not.
    """
    found: list[Mapped] = []
    for plan in column_map.tables:
        if plan.kind.id == "heaters":
            continue
        same = [one for one in column_map.tables if one.sheet.strip().casefold() == plan.sheet.strip().casefold()]
        grid = whole = grid_of(plan, grids, name)
        if plan.first or plan.last >= 0:
            last = plan.last if plan.last >= 0 else grid.width - 1
            words = f", columns {letters(plan.first)} to {letters(last)}" if len(same) > 1 else ""
            grid = grid.part(grid.name + words, plan.first, last)
        elif len(same) > 1:
            raise MapError(f"{plan.at()}: the sheet is mapped twice: give each of its tables first_column and last_column")
        matcher = MapMatcher(plan.kind, plan)
        found.append(Mapped(grid, plan, _head(plan, grid, matcher), matcher, whole.name))
    names = [one.grid.name for one in found]
    for one in found:
        if names.count(one.grid.name) > 1:
            raise MapError(f"{one.plan.at()}: two tables of the map have the same columns of one sheet: keep one of them")
    return found


def said_of(plan: TableMap, sheet: str, map_name: str) -> Finding:
    """What the map says of a table, for the findings."""
    words = [f"{plan.kind[key].heading} = {worded(value)} where the row does not say it" for key, value in plan.fixed.items()]
    words += [f"a blank {plan.kind[key].heading} means the one above" for key in plan.blank_repeats_above]
    more = f": {'; '.join(words)}" if words else ""
    said = remark("map-used", map=map_name, sheet=sheet, kind=plan.kind.name, more=more)
    return find(said, sheet=sheet)


def grid_of(plan: TableMap, grids: Sequence[Grid], name: str) -> Grid:
    wanted = plan.sheet.strip().casefold()
    for grid in grids:
        if grid.name.strip().casefold() in (wanted, f"{RECEIVED}{wanted}".casefold()):
            return grid
    tabs = ", ".join(f'"{grid.name}"' for grid in grids[:SHOWN])
    raise MapError(f"{plan.at('sheet')}: {name} has no such sheet; it has {tabs}: correct the name in the map")


def _head(plan: TableMap, grid: Grid, matcher: MapMatcher) -> Head:
    number, rows = heading_row(plan, grid, matcher)
    cells = grid.rows[number] if rows == 1 else joined(grid, number)
    texts = [worded(cell).strip() for cell in cells[: grid.width]]
    places: dict[str, list[int]] = {}
    for index, text in enumerate(texts):
        places.setdefault(flat(text).casefold(), []).append(index)
    at: dict[int, Heading] = {}
    for column in plan.columns:
        what, at_fault = plan.kind[column.key].heading, plan.column_place(column)
        some = [column.index] if column.index >= 0 else places.get(column.heading.casefold(), [])
        theirs = f'"{column.heading[:60]}"'
        if not some:
            raise MapError(f"{at_fault}: no heading {theirs} for {what} in row {number + rows}; {_has(texts)}: correct the map")
        if len(some) > 1:
            where = ", ".join(letters(index) for index in some)
            raise MapError(f'{at_fault}: {theirs} stands in the columns {where}: give the one meant for {what} as {{ column = "…" }}')
        letter = letters(some[0])
        if some[0] >= grid.width:
            raise MapError(f"{at_fault}: {what} is to be in column {letter}, which is outside the sheet: correct the map")
        if some[0] in at:
            other = plan.kind[at[some[0]].key].heading
            raise MapError(f"{at_fault}: {what} and {other} are both in column {letter}: correct the map")
        at[some[0]] = matcher.heading(texts[some[0]], column.key, column.unit)
    first, last = span(grid, number)
    first, last = min(first, *at), max(last, *at)
    headings = [
        Heading(texts[index], index) if index not in at else replace(at[index], index=index) for index in range(first, last + 1)
    ]
    return finished(grid, plan.kind, headings=headings, row=number + rows - 1, rows=rows, given=frozenset(plan.fixed))


def heading_row(plan: TableMap, grid: Grid, matcher: MapMatcher) -> tuple[int, int]:
    """First heading row, from 0, and how many there are. A sheet As received has its headings elsewhere, so there they are looked for."""
    if plan.heading_rows and (plan.sheet.startswith(RECEIVED) or not grid.name.startswith(RECEIVED)):
        if plan.heading_rows[-1] > len(grid.rows):
            place = plan.at("heading_row")
            raise MapError(f"{place}: heading_row {plan.heading_rows[-1]} is below the last row of the sheet: correct the map")
        return plan.heading_rows[0] - 1, len(plan.heading_rows)
    best, found = (-1, 1), 0
    for number in grid.lines[:LOOKED]:
        for rows in (1, 2):
            if number + rows > len(grid.rows):
                continue
            cells = grid.rows[number] if rows == 1 else joined(grid, number)
            keys = {heading.key for cell in cells if isinstance(cell, str) and (heading := matcher.match(cell))}
            if len(keys) > found:
                best, found = (number, rows), len(keys)
    if best[0] < 0:
        wanted = ", ".join(f'"{part.heading}"' for column in plan.columns for part in column.all() if part.heading)
        raise MapError(f"{plan.at()}: none of the map's headings ({wanted[:200]}) stands in its first {LOOKED} rows: give heading_row")
    return best


def _has(texts: Sequence[str]) -> str:
    some = [f'"{flat(text)[:30]}"' for text in texts if text]
    return f"it has {', '.join(some[:SHOWN])}" + (" and others" if len(some) > SHOWN else "") if some else "the row is blank"
