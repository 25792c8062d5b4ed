"""A heater list as a column map has it: the same plan that the automatic reading makes, and its rows read by the same engine."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from batch.intake.baths_in_lists import KEYS as BATHS
from batch.intake.cell_profiles import Profile, fit, profiles
from batch.intake.column_groups import columns_of_before
from batch.intake.column_map import ColumnMap
from batch.intake.columns_to_come import told_before
from batch.intake.grid import Grid
from batch.intake.list_columns import LIST
from batch.intake.list_titles import says_heaters
from batch.intake.list_words import UNIT_NAMES
from batch.intake.mapped import MapMatcher, grid_of, heading_row
from batch.intake.panel_poles import supply_by_poles
from batch.intake.plan import Also, ColumnPart, ColumnPlan, ListPlan, Question
from batch.intake.study import Studied, data_lines, finish
from batch.intake.survey import HeadingColumn, Region, columns_headed, regions
from batch.intake.table_map import ASKED, BLOCKS, TURNED, AlsoMap, MapError, MappedColumn, TableMap, flat
from batch.intake.texts_beside import around_table, texts_around
from batch.intake.turned import blocks, turned_over
from batch.ooxml.addresses import LAST_COLUMN, letters
from batch.units import Unit

TOGETHER = frozenset({"quantity", "power_kw", "total_kw", "volts_v", "phases", "description", "amps_a", "notes", "status"})
SHOWN = 12  # headings that an error names


def studied_by(column_map: ColumnMap, grids: Sequence[Grid], name: str) -> list[Studied]:
    """Every heater list of the map, read.

    Raises:
        MapError: a tab, a heading or a column that the workbook has not.
    """
    found: list[Studied] = []
    tables = [_headed(table, column_map.tables, grids, name) for table in column_map.tables]
    for table in tables:
        if table.kind.id == "heaters":
            beside = [other for other in tables if other is not table and other.turned == TURNED and other.sheet == table.sheet]
            grid = grid_of(table, grids, name)
            one = _studied(_ended(table, tables), grid, bool(beside), _rows_of_others(table, tables, grid))
            one.table_map = table
            found.append(one)
    return found


def _rows_of_others(table: TableMap, tables: Sequence[TableMap], grid: Grid) -> frozenset[int]:
    """The rows, from 0, that plain tables of the map have on the sheet of a table of blocks."""
    found: set[int] = set()
    for other in tables if table.turned == BLOCKS else ():
        if other.sheet.strip().casefold() == table.sheet.strip().casefold() and not other.turned and other.heading_rows:
            found.update(range(other.heading_rows[0] - 1, other.last_row or len(grid.rows)))
    return frozenset(found)


def _headed(table: TableMap, tables: Sequence[TableMap], grids: Sequence[Grid], name: str) -> TableMap:
    """The table with its heading rows found, where several of one sheet leave them to be looked for."""
    same = [other for other in tables if other.sheet.strip().casefold() == table.sheet.strip().casefold()]
    if table.heading_rows or table.turned or not table.use or table.kind.id != "heaters" or len(same) < 2:
        return table
    number, rows = heading_row(table, grid_of(table, grids, name), MapMatcher(table.kind, table))
    return replace(table, heading_rows=tuple(range(number + 1, number + rows + 1)))


def _ended(table: TableMap, tables: Sequence[TableMap]) -> TableMap:
    """The table with its last row where the next one of the same columns begins below it.

    Raises:
        MapError: both begin in the same row.
    """
    for other in tables:
        if other is table or other.sheet.strip().casefold() != table.sheet.strip().casefold() or table.turned or not _share(table, other):
            continue
        if _apart(table, other):
            continue
        if not (table.heading_rows and other.heading_rows) or table.heading_rows == other.heading_rows:
            raise MapError(f"{other.at()}: the sheet is mapped twice: give each of its tables first_column and last_column")
        end = other.heading_rows[0] - 1
        if end >= table.heading_rows[-1] and (not table.last_row or end < table.last_row):
            table = replace(table, last_row=end)
    return table


def _apart(one: TableMap, other: TableMap) -> bool:
    """Do the rows of both say themselves that one table ends above the other?"""
    tops = [table.first_row or (table.heading_rows[0] if table.heading_rows else 0) for table in (one, other)]
    return bool((one.last_row and tops[1] > one.last_row) or (other.last_row and tops[0] > other.last_row))


def _share(one: TableMap, other: TableMap) -> bool:
    ends = [table.last if table.last >= 0 else LAST_COLUMN for table in (one, other)]
    return one.first <= ends[1] and other.first <= ends[0]


def _studied(table: TableMap, grid: Grid, beside: bool, others: frozenset[int]) -> Studied:
    if not table.use:
        return _unused(table, grid)
    if table.turned == BLOCKS:
        return _blocks(table, grid, others)
    over = grid
    if table.turned == TURNED:
        over = turned_over(grid) or grid
    columns, rows = _columns(table, over)
    top, row = rows
    last_row = table.last_row - 1 if table.last_row and not table.turned else len(over.rows) - 1
    below = columns_headed(over, top, row, last_row, _span(table, over))
    first, last = _labels(table, over) if table.turned else (table.first, table.last if table.last >= 0 else over.width - 1)
    also = tuple(_also(table, one, over) for one in table.also)
    taken = [index for some in (columns, *(one.columns for one in also)) for column in some.values() for index in column.indexes()]
    indexes = [column.index for column in below if first <= column.index <= last] + taken
    start, end = (table.first, table.last) if table.turned else (table.first_row - 1, table.last_row - 1)
    start = max(start, row + 1) if start > 0 else row + 1 + (1 if not table.first_row and _units_at(over, row + 1) else 0)
    if beside and table.turned == TURNED:  # lists that stand over each other, as the reader by itself calls them
        over = replace(over, name=f"{over.name}, rows {min(indexes) + 1} to {max(indexes) + 1}")
    plan = _plan(
        table,
        columns,
        tuple(range(top + 1, row + 2)),
        first=min(indexes),
        last=max(indexes),
        start=start + 1,
        end=end + 1 if end >= 0 else len(over.rows),
    )
    plan.also = also
    heads = {column.index: column for column in below}
    region = Region(over, top, row, start, plan.last_row - 1, [heads.get(at, HeadingColumn(at)) for at in range(plan.first, plan.last + 1)])
    region.turned = table.turned
    around = None
    if not table.turned:
        some = regions(over)
        found = next((one for one in some if one.top == top and one.first <= region.last and region.first <= one.last), None)
        region.again = [line for line in found.again if line <= region.end] if found is not None else []
        plan.again = tuple(line + 1 for line in region.again)
        around = around_table(region, [one for one in some if one is not found])
    return _done(table, grid, over, plan, region, around=around)


def _span(table: TableMap, grid: Grid) -> tuple[int, int] | None:
    """The columns of a table of which others stand beside."""
    if table.turned or (not table.first and table.last < 0):
        return None
    return table.first, table.last if table.last >= 0 else grid.width - 1


def _labels(table: TableMap, over: Grid) -> tuple[int, int]:
    """First and last row of the labels of a turned list, as columns of the sheet turned over."""
    return max(0, table.first_row - 1), table.last_row - 1 if table.last_row else over.width - 1


def _also(table: TableMap, also: AlsoMap, grid: Grid) -> Also:
    columns, _ = _columns(replace(table, columns=also.columns), grid, table.columns) if also.columns else ({}, (0, 0))
    return Also(columns, also.fixed, also.when, also.power, also.means, also.row_values)


def _units_at(grid: Grid, row: int) -> bool:
    from batch.intake.survey import is_unit_row

    return row < len(grid.rows) and is_unit_row(grid.rows[row])


def _done(
    table: TableMap, grid: Grid, over: Grid, plan: ListPlan, region: Region, *, around: list[tuple[int, int, str]] | None = None
) -> Studied:
    if around is None:
        around = texts_around(over, region.top, region.end, region.start)
    baths = {key: plan.columns.pop(key) for key in list(plan.columns) if key in BATHS}  # none of the heaters' own: read after them
    plan.of_heaters = says_heaters(region, around)
    plan.former |= columns_of_before(region.columns) - plan.used()
    plan.former |= told_before(region.columns, profiles(region, data_lines(region))) - plan.used()
    if not plan.turned and not {"volts_v", "phases"} & table.fixed.keys() and not table.merged:
        supply_by_poles(plan, region, data_lines(region), around)
    one = finish(over, plan, around, (), region)
    plan.columns |= baths
    for key in table.asked:
        what = f"Which column is {LIST[key].heading}"
        plan.questions.append(Question(what, "its line in the map", 'another than "?"', f"{LIST[key].heading} = …", "", (), key))
    one.heaters, one.why, one.sheet = "yes", f"the column map says so ({table.place.rpartition('/')[2]})", grid.name
    return one


def _plan(
    table: TableMap, columns: dict[str, ColumnPlan], rows: tuple[int, ...], *, first: int, last: int, start: int, end: int
) -> ListPlan:
    return ListPlan(
        table.sheet,
        rows,
        first,
        last,
        start,
        end,
        columns,
        dict(table.fixed),
        repeats=table.blank_repeats_above,
        power="" if table.power == ASKED else table.power or ("each" if "power_kw" in columns else ""),
        quantity="" if table.quantity == ASKED else table.quantity,
        turned=table.turned,
        decimal=table.decimal,
        leave_rows=table.leave_out,
        keep_rows=(*table.keep, *table.left_open),
        leave_words=table.leave_out_words,
        keep_words=table.keep_words,
        given=True,
        fixed_volts=table.fixed_volts,
        when=list(table.when),
        only_words=table.only_words,
        blank_words=tuple(flat(word).casefold() for word in table.blank_words),
        total_words=tuple(word.casefold() for word in table.total_words),
        repeat_words=tuple(flat(word).casefold() for word in table.repeat_words),
        hidden_rows=table.hidden,
        means=table.means,
        tags=table.tags,
        row_values=table.row_values,
        asked_rows=table.asked_rows,
        left_open=table.left_open,
        struck_out=table.struck,
        given_values=table.merged,
    )


def _unused(table: TableMap, grid: Grid) -> Studied:
    """A table that the map says is not to be used: every row of its part of the sheet has that fate."""
    rows = table.heading_rows
    last = table.last if table.last >= 0 else grid.width - 1
    plan = ListPlan(table.sheet, rows, table.first, last, (rows[-1] + 1 if rows else 1), len(grid.rows), given=True, use=False)
    from batch.intake.verdict import Verdict

    return Studied(grid, None, plan, [], Verdict(), "no", "the column map says not to use it", sheet=grid.name)


def _blocks(table: TableMap, grid: Grid, others: frozenset[int]) -> Studied:
    at = table.heading_rows[0] - 1
    one = next((one for one in blocks(grid, at, others)), None)
    if one is None:
        raise MapError(f"{table.place}: column {letters(at)} holds no blocks of labels that begin with the tank's: correct blocks")
    labels = {flat(column.text).casefold(): column.index for column in one.region.columns}
    columns: dict[str, ColumnPlan] = {}
    for column in table.columns:
        index = labels.get(column.heading.rstrip(": ").casefold(), -1)
        if index < 0:
            raise MapError(f'{table.column_place(column)}: no label "{column.heading[:60]}" in column {letters(at)}: correct the map')
        columns[column.key] = ColumnPlan(column.key, index, column.heading, _unit(column.unit))
    region = one.region
    plan = _plan(table, columns, (), first=region.first, last=region.last, start=region.start + 1, end=region.end + 1)
    done = _done(table, grid, region.grid, plan, region)
    done.places, done.of_blocks = one.places, one.lines
    return done


def _unit(unit: Unit | None) -> str:
    if unit is None:
        return ""
    if unit in UNIT_NAMES:
        return UNIT_NAMES[unit]
    from batch.intake.list_columns import FOREIGN_POWER

    return next((name for name, factor in FOREIGN_POWER.items() if factor == unit.factor), "")


def _columns(table: TableMap, grid: Grid, known: Sequence[MappedColumn] = ()) -> tuple[dict[str, ColumnPlan], tuple[int, int]]:
    """Where the columns of the map stand, and the first and last row of headings, from 0. `known`: others by which these are found."""
    matcher = MapMatcher(table.kind, replace(table, columns=(*known, *table.columns)))
    number, rows = heading_row(table, grid, matcher)
    row = number + rows - 1
    heads = columns_headed(grid, number, row, row, _span(table, grid))
    texts = {column.index: flat(column.text) for column in heads}
    places: dict[str, list[int]] = {}
    for index, text in texts.items():
        for form in {_form(text), _form(next((one.lone for one in heads if one.index == index), ""))} - {""}:
            places.setdefault(form, []).append(index)
    found: dict[str, ColumnPlan] = {}
    taken: dict[int, str] = {}
    for column in table.columns:
        what = table.kind[column.key].heading
        parts = [
            _place(table, column, part, places=places, texts=texts, row=number + rows, grid=grid) for part in column.parts or (column,)
        ]
        index = parts[0]
        if not column.parts and index in taken and not {column.key, taken[index]} <= TOGETHER:
            one, other = what, table.kind[taken[index]].heading
            raise MapError(f"{table.column_place(column)}: {one} and {other} are both in column {letters(index)}: correct the map")
        taken[index] = column.key
        head = next((one for one in heads if one.index == index), HeadingColumn(index))
        unit = _unit(column.unit) or next((one.unit for one in head.meanings() if one.key == column.key), "") or _any_unit(head, column.key)
        unit_at = (
            _place(table, column, column.unit_in, places=places, texts=texts, row=number + rows, grid=grid)
            if column.unit_in is not None
            else -1
        )
        several = tuple(
            ColumnPart(at, _unit(part.unit) or (unit if at == index else _any_unit(_head_of(heads, at), column.key)))
            for at, part in zip(parts, column.parts, strict=False)
        )
        found[column.key] = ColumnPlan(
            column.key, index, texts.get(index, "") or column.heading, unit,
            unit_at=unit_at, parts=several, how=column.how, between=column.between,
        )  # fmt: skip
        if column.key == "power_kw" and not column.unit and not several and _units_beside(grid, heads, row + 1, index + 1):
            found.setdefault("power_unit", ColumnPlan("power_unit", index + 1))
    return found, (number, row)


def _head_of(heads: Sequence[HeadingColumn], index: int) -> HeadingColumn:
    return next((one for one in heads if one.index == index), HeadingColumn(index))


def _units_beside(grid: Grid, heads: Sequence[HeadingColumn], start: int, index: int) -> bool:
    """Does the column beside hold the unit of each figure?"""
    head = next((one for one in heads if one.index == index), HeadingColumn(index))
    if head.text and not any(one.key == "power_unit" for one in head.meanings()):
        return False
    cells = [grid.rows[line][index] for line in grid.lines_from(start) if index < len(grid.rows[line])]
    profile = Profile([cell for cell in cells if cell not in ("", None)])
    return profile.filled > 0 and fit("power_unit", profile) >= (0.5 if head.text else 0.99)


def _any_unit(head: HeadingColumn, key: str) -> str:
    """The unit in a heading that means something else to us: "Load (kW)"."""
    from batch.intake.headings import BRACKETS, column_unit, unit_in
    from batch.intake.list_columns import LIST

    own = column_unit(LIST[key])
    if own is None:
        return ""
    for part in (*BRACKETS.findall(head.text), head.unit, head.text):
        if part and (unit := unit_in(part, own, strict=part != head.text)):
            return _unit(unit)
    return ""


def _form(text: str) -> str:
    """A heading as it is compared: without what parts its lines."""
    return " ".join(text.replace("|", " ").split()).casefold()


def _place(
    table: TableMap, column: MappedColumn, part: MappedColumn, *, places: dict[str, list[int]], texts: dict[int, str], row: int, grid: Grid
) -> int:
    """Where a column of theirs stands that one of ours is taken from, or a part of it."""
    what, at_fault = table.kind[column.key].heading, table.column_place(column)
    some = [part.index] if part.index >= 0 else places.get(_form(part.heading), [])
    some = [at for at in dict.fromkeys(some) if part.index >= 0 or _within(table, at)]
    theirs = f'"{part.heading[:60]}"'
    if not some:
        there = _elsewhere(grid, part.heading, row) or _has(list(texts.values()))
        raise MapError(f"{at_fault}: no heading {theirs} for {what} in row {row}; {there}: correct the map")
    if len(some) > 1:
        where = ", ".join(letters(index) for index in some)
        raise MapError(f'{at_fault}: {theirs} stands in the columns {where}: give the one meant for {what} as {{ column = "…" }}')
    if some[0] >= grid.width:
        raise MapError(f"{at_fault}: {what} is to be in column {letters(some[0])}, which is outside the sheet: correct the map")
    return some[0]


def _elsewhere(grid: Grid, heading: str, row: int) -> str:
    """Where a heading stands that is not in its row any more; "" where it stands nowhere."""
    for line in grid.lines:
        for at, value in enumerate(grid.rows[line]):
            if isinstance(value, str) and _form(flat(value)) == _form(heading) and line + 1 != row:
                return f"it stands in {letters(at)}{line + 1} now"
    return ""


def _within(table: TableMap, index: int) -> bool:
    if table.turned:
        return table.first_row - 1 <= index and (not table.last_row or index < table.last_row)
    return table.first <= index and (table.last < 0 or index <= table.last)


def _has(texts: Sequence[str]) -> str:
    some = [f'"{text[:30]}"' for text in texts if text]
    return f"it has {', '.join(some[:SHOWN])}" + (" and others" if len(some) > SHOWN else "") if some else "the row is blank"
