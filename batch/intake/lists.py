"""Every list of a workbook that is not in the program's own form: studied, sorted out between its issues, and read."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence, Set

from batch.findings import Finding, find, remark
from batch.intake.baths_in_lists import bath_columns, baths_of
from batch.intake.continued import continued
from batch.intake.extents import columns_of, cover, letters_of, order_of, own_rows
from batch.intake.grid import Grid
from batch.intake.heater_types import types_of, with_types
from batch.intake.issues import IssuePair, older_than, pairs, said_of_sheets, tags_of
from batch.intake.line_kinds import DATA, DOUBT, HIDDEN, supply_in
from batch.intake.list_table import settle
from batch.intake.list_words import heater_word
from batch.intake.lists_read import Lists
from batch.intake.map_of_received import as_received
from batch.intake.map_text import USE_OF_TABLE, map_text, use_of_sheet
from batch.intake.notes_of_others import hear_notes
from batch.intake.outside import ask_outside, notes_of_cover
from batch.intake.passed_over import heaters_named, speaks
from batch.intake.prose import NOT_READ, as_it_came, not_recognised, received
from batch.intake.requirements import ask_of_sentences
from batch.intake.sheets_alike import ask_alike, headed_as_a_list
from batch.intake.study import Studied, study
from batch.intake.survey import cells_of, flat, runs
from batch.intake.table import (
    ABOVE,
    HEADING,
    OLDER,
    OTHER_LIST,
    TURNED_FATE,
    UNUSED,
    Table,
    rows_from,
    rows_worded,
)
from batch.intake.turned import BLOCKS
from batch.received_rows import ReceivedTable

PRICED = re.compile(r"\b(price|prices|cost|total cost|usd|eur|quotation|preis|prix|precio|prezzo)\b|[$€£]", re.IGNORECASE)
POWERED = re.compile(r"\d\s*k\s?w\b", re.IGNORECASE)
NONE: Mapping[str, Set[str]] = {}
NO_LISTS = "no lists"  # what a column map may say of all that it does not name
MONEY = re.compile(r"[$€£]")
HEADING_WORDS = 4  # a price is a heading or a title in so few words; a sentence that asks for one makes no price list: judgement, no source
KILOWATTS = re.compile(r"\bk\s?w\b", re.IGNORECASE)
LEAST_ROWS = 2  # rows with figures on a sheet that speaks of heaters: it may be a list (common practice, no source)


def read_lists(
    name: str, grids: Sequence[Grid], *, held: str = "", known: Mapping[str, Set[str]] = NONE, by_map: Sequence[Studied] = (),
    others: str = "asked",
) -> Lists:  # fmt: skip
    """Reads every heater list on these sheets.

    held    why none of them is sized although they may be lists
    known   tags of the tanks that other sheets list, by the sheet's name: what lists them too may be an older issue
    by_map  the tables that a person's map has; what it says nothing of is not sized
    others  "no lists": what it says nothing of is no list of heaters
    """
    out = Lists(others=others if by_map else "asked")
    by_grid: list[tuple[Grid, list[Studied]]] = []
    for grid in grids:
        mine = [one for one in by_map if one.sheet == grid.name]
        some = study(grid) if grid.filled else []
        if grid.filled and not some and not by_map and out.studied and (further := continued(grid, out.studied[-1])) is not None:
            some = [further]
        if out.others == NO_LISTS:
            for one in some:
                one.heaters, one.why = "no", "the column map says that what it does not name is no list of heaters"
        some = sorted([*mine, *(one for one in some if not any(_overlap(one, other) for other in mine))], key=order_of)
        by_grid.append((grid, some))
        out.studied += some
    for grid, some in by_grid:
        if not any(one.heaters == "yes" for one in some):
            hear_notes(grid, out.studied)
    for grid, some in by_grid:
        ask_of_sentences(grid, some)
    types = types_of(out.studied)
    used = [one for one in out.studied if types is not None and with_types(one, types)]
    if types is not None and used:
        types.one.heaters, types.one.why = "no", "it lists types of heaters, which another table names by their marks"
    for one in by_map:
        if one.table_map is not None and one.table_map.held:
            one.why = one.table_map.held
    if out.others != NO_LISTS:
        ask_alike(out.studied)
    lists = [one for one in out.studied if one.heaters == "yes"]
    if by_map:
        held = held or "the column map says nothing of it"
    olds, holds = _sorted_out(out, lists, held, known, said_of_sheets(grids))
    for one in lists:
        one.plan.columns |= bath_columns(one)
    for grid, some in by_grid:
        _sheet(out, grid, some, olds, holds)
    if out.others != NO_LISTS:
        for grid, some in by_grid:
            live = [one for one in some if id(one) not in olds]
            if live and not any(id(one) in holds for one in live):
                out.findings += ask_outside(grid, live, out.tables[grid.name], out.rest[grid.name])
    if (not held or by_map) and out.others != NO_LISTS and any(one.heaters == "yes" for one in out.studied):
        _left_beside(out, [grid for grid, some in by_grid if not some])
    if not held and not any(one.heaters == "yes" for one in out.studied):
        _nothing_read(out, [grid for grid, some in by_grid if not some or heaters_named(cells_of(grid.rows[line]) for line in grid.lines)])
    asked = {one.sheet for one in out.findings if one.code == "list-not-read"}
    unread = [grid for grid, some in by_grid if not some and grid.name in asked]
    open_lists = any(one.heaters == "unsure" and not one.plan.free for one in out.studied)
    out.map_text = map_text(name, out.studied, holds, olds, unread) if out.any or unread or open_lists else ""
    return out


def _overlap(one: Studied, other: Studied) -> bool:
    """Do two tables of one sheet share cells?"""
    if one.plan.turned or other.plan.turned or not other.plan.use:
        return True
    across = one.plan.first <= other.plan.last and other.plan.first <= one.plan.last
    tops = [(plan.heading_rows or (plan.first_row,))[0] for plan in (one.plan, other.plan)]
    return across and tops[0] <= other.plan.last_row and tops[1] <= one.plan.last_row


def _sorted_out(
    out: Lists, lists: Sequence[Studied], held: str, known: Mapping[str, Set[str]], told: Mapping[str, str]
) -> tuple[dict[int, str], dict[int, str]]:
    """Which tables are older issues, and which are held, with the reason, by the table's identity."""
    olds: dict[int, str] = {}
    holds: dict[int, str] = {}
    if held:
        given = {
            one.sheet: set().union(*(tags_of(other) for other in lists if other.sheet == one.sheet)) for one in lists if one.plan.given
        }
        known = {**known, **given}
        for one in lists:
            if one.plan.given:
                if one.table_map is not None and one.table_map.older:
                    olds[id(one)] = one.table_map.older
                    out.findings.append(_older(one, one.table_map.older))
                elif one.table_map is not None and one.table_map.held:
                    holds[id(one)] = one.table_map.held
                    out.findings.append(_not_read(one, one.table_map.held))
                continue
            if why := older_than(one, known):
                olds[id(one)] = why
                out.findings.append(_older(one, why))
            else:
                holds[id(one)] = held
                out.findings.append(_not_read(one, held))
        return olds, holds
    found = pairs(lists, told)
    for pair in found:
        if pair.older is not None:
            olds[id(pair.older)] = pair.why
    for pair in found:
        if pair.older is None and id(pair.one) not in olds and id(pair.other) not in olds:
            _ask_issue(out, pair)
            holds[id(pair.one)] = holds[id(pair.other)] = "asked: which issue of the list counts"
    for one in lists:
        if id(one) in olds:
            out.findings.append(_older(one, olds[id(one)]))
        elif one.grid.hidden and id(one) not in holds:
            holds[id(one)] = f"its sheet is {one.grid.hidden}"
            out.findings.append(_not_read(one, holds[id(one)]))
    return olds, holds


def _older(one: Studied, why: str) -> Finding:
    where = rows_from(one.plan.first_row, one.plan.last_row)
    return find(remark("issue-older", sheet=one.grid.name, rows=where, why=why), sheet=one.grid.name)


def _not_read(one: Studied, why: str) -> Finding:
    rows = [line.index + 1 for line in one.lines if line.kind in (DATA, DOUBT, HIDDEN)] or [one.plan.first_row]
    said = remark("list-not-read", sheet=one.grid.name, rows=rows_worded(rows), why=why, line=USE_OF_TABLE)
    return find(said, sheet=one.grid.name)


def _ask_issue(out: Lists, pair: IssuePair) -> None:
    beside = pair.one.grid.name == pair.other.grid.name and pair.one.plan.heading_rows == pair.other.plan.heading_rows
    first, sheet = (f"{one.grid.name}, columns {letters_of(one)}" if beside else one.grid.name for one in (pair.one, pair.other))
    said = remark("issue-question", first=first, sheet=sheet, example=pair.example)
    out.findings += [find(said, sheet=one) for one in (first, sheet)]


def _sheet(out: Lists, grid: Grid, some: list[Studied], olds: dict[int, str], holds: dict[int, str]) -> None:
    """The tables of one sheet, and a fate for every row of it."""
    tables = out.tables.setdefault(grid.name, [])
    rest = out.rest.setdefault(grid.name, [])
    if not some:
        _no_table(out, grid, rest)
        return
    if any(one.plan.turned for one in some):
        _turned(out, some, tables, olds=olds, holds=holds, grid=grid, rest=rest)
        return
    strips = _strips(some)
    bounds = [0, *(min(one.plan.first for one in strip) for strip in strips[1:]), grid.width]
    for strip, low, high in zip(strips, bounds, bounds[1:], strict=False):
        _stacked(out, grid, some=strip, olds=olds, holds=holds, strip=(low, high - 1) if len(strips) > 1 else None)


def _strips(some: Sequence[Studied]) -> list[list[Studied]]:
    """The tables of each part of the sheet, where tables beside each other begin in different rows; else all of them together."""
    strips: list[list[Studied]] = []
    for one in sorted(some, key=lambda one: one.plan.first):
        if strips and one.plan.first <= max(other.plan.last for other in strips[-1]):
            strips[-1].append(one)
        else:
            strips.append([one])
    apart = any(
        one.plan.heading_rows != other.plan.heading_rows and order_of(one)[0] <= other.plan.last_row
        and order_of(other)[0] <= one.plan.last_row
        for at, strip in enumerate(strips)
        for one in strip
        for after in strips[at + 1 :]
        for other in after
        if one.plan.use and other.plan.use
    )
    return [sorted(strip, key=order_of) for strip in strips] if apart else [list(some)]


def _stacked(
    out: Lists, grid: Grid, *, some: list[Studied], olds: dict[int, str], holds: dict[int, str], strip: tuple[int, int] | None
) -> None:
    """Tables below each other, and those that begin in the same row beside each other."""
    rest = out.rest[grid.name]
    begin = 0
    for number, one in enumerate(some):
        beside = [other for other in some if other is not one and other.plan.heading_rows == one.plan.heading_rows]
        later = [other for other in some[number + 1 :] if other.plan.heading_rows != one.plan.heading_rows]
        end = order_of(later[0])[0] - 2 if later else len(grid.rows) - 1
        columns = columns_of(grid, one, beside)
        if strip is not None:
            columns = max(columns[0], strip[0]), min(columns[1], strip[1])
        if not one.plan.use:
            rest.append(received(grid, begin, end, columns, {line + 1: UNUSED for line in grid.lines}))
            begin = end + 1
            continue
        if beside or strip is not None:
            one.grid = grid.holding(f"{grid.name}, columns {letters_of(one)}", one.grid.rows)
        if one.heaters == "yes":
            table = settle(one, holds.get(id(one), "") or (OLDER if id(one) in olds else ""))
            if id(one) in olds:
                table.refused = {row: OLDER if why == OLDER else why for row, why in table.refused.items()}
            cover(table, one.plan, begin, end, columns)
            _keep_plan(out, table, one, holds, olds)
        else:
            _other(out, rest, one, begin=begin, end=end, columns=columns)
        if not any(some.index(other) > number for other in beside):
            begin = end + 1


def _turned(
    out: Lists,
    some: list[Studied],
    tables: list[Table],
    *,
    olds: dict[int, str],
    holds: dict[int, str],
    grid: Grid,
    rest: list[ReceivedTable],
) -> None:
    """Turned lists and blocks: As received shows them as rows, and the sheet as it stands beside them; plain tables as they stand."""
    plain: set[int] = set()
    for one in some:
        table = settle(one, holds.get(id(one), "") or (OLDER if id(one) in olds else ""))
        if one.plan.turned:
            last = one.plan.last if one.plan.turned == BLOCKS else grid.filled and len(grid.rows) - 1
            cover(table, one.plan, *own_rows(one, some), (0, last))
        else:
            begin, end = order_of(one)[0] - 1, max([one.plan.first_row - 1, *(line.index for line in one.lines)])
            cover(table, one.plan, begin, end, (0, grid.width - 1))
            plain.update(range(begin, end + 1))
        _keep_plan(out, table, one, holds, olds)
    for run in runs([line for line in range(len(grid.rows)) if line not in plain]):
        rest.append(received(grid, run[0], run[-1], (0, grid.width - 1), {line + 1: TURNED_FATE for line in grid.lines}))


def _keep_plan(out: Lists, table: Table, one: Studied, holds: Mapping[int, str], olds: Mapping[int, str]) -> None:
    if (baths := baths_of(one, table)) is not None:
        out.baths.append(baths)
    table.plan_text = as_received(one, table, table.received(), holds.get(id(one), ""), olds.get(id(one), ""))
    out.tables[one.sheet].append(table)


def _other(out: Lists, rest: list[ReceivedTable], one: Studied, *, begin: int, end: int, columns: tuple[int, int]) -> None:
    rows = [line.index + 1 for line in one.lines] or [one.plan.first_row]
    where = rows_from(rows[0], rows[-1])
    if one.heaters == "no":
        said = remark("list-other", sheet=one.grid.name, rows=where, why=one.why)
    else:
        said = remark("list-not-read", sheet=one.grid.name, rows=where, why=one.why, line=USE_OF_TABLE)
    out.findings.append(find(said, sheet=one.grid.name))
    fates = {
        line + 1: ABOVE
        if line + 1 < (one.plan.heading_rows or (one.plan.first_row,))[0]
        else HEADING
        if line + 1 in one.plan.heading_rows
        else OTHER_LIST
        for line in one.grid.lines
    }
    if one.heaters != "no":
        fates = {row: "asked: is it a list of heaters" if why == OTHER_LIST else why for row, why in fates.items()}
    rest.append(received(one.grid, begin, end, columns, fates))


def _no_table(out: Lists, grid: Grid, rest: list[ReceivedTable]) -> None:
    """A sheet without a table that has headings: held where it speaks of heaters and has figures, else kept as received."""
    why = NOT_READ
    if grid.filled:
        lines = [cells_of(grid.rows[line]) for line in grid.lines]
        texts = [flat(value) for cells in lines for _, value in cells if isinstance(value, str)]
        powered = sum(bool(POWERED.search(text)) for text in texts)
        in_kw = any(KILOWATTS.search(text) for text in texts)
        figures = sum(sum(isinstance(value, float) for _, value in cells) >= 2 for cells in lines)
        heated = any(heater_word(text) for text in [grid.name, *texts])
        priced = any(_priced(text) for text in texts)
        listed = (powered >= LEAST_ROWS or ((heated or in_kw) and figures >= LEAST_ROWS)) and not priced
        if out.others != NO_LISTS and (listed or heater_word(grid.name)):
            rows = rows_worded([line + 1 for line in grid.lines])
            reason = "it speaks of heaters or kW, and no headings were found by which its rows could be read"
            said = remark("list-not-read", sheet=grid.name, rows=rows, why=reason, line=use_of_sheet(grid.name))
            out.findings.append(find(said, sheet=grid.name))
            why = "asked: is it a list of heaters"
        else:
            out.findings.append(not_recognised(grid))
    rest.append(as_it_came(grid, why))


def _priced(text: str) -> bool:
    """Is it a heading or a cell of a price list? "Need price and delivery on the below" is none."""
    return bool(PRICED.search(text)) and (bool(MONEY.search(text)) or len(text.split()) <= HEADING_WORDS)


def _left_beside(out: Lists, grids: Sequence[Grid]) -> None:
    """A sheet beside the lists in which nothing was found, but which names a power or a supply with figures, is asked about."""
    for grid in grids:
        texts = [flat(value) for line in grid.lines for _, value in cells_of(grid.rows[line])]
        units = sum(text.casefold().strip("()[] .:") in ("kw", "w", "watt", "watts") or bool(POWERED.search(text)) for text in texts)
        if any(_priced(text) for text in texts):
            continue
        if units or any(supply_in(text) is not None and not _used(out, text, grid.name) for text in texts):
            _ask(out, grid, "it names a power or a supply, and no headings were found by which its rows could be read")
        elif like := headed_as_a_list(grid, out.studied):
            _ask(out, grid, f'its headings are those of the list on sheet "{like}"')
        elif any(speaks(cells_of(grid.rows[line])) for line in grid.lines):
            _ask(out, grid, "its rows look like heaters with their ratings, as of a list that goes on, and stand below no headings")
        out.findings += notes_of_cover(grid)


def _used(out: Lists, text: str, sheet: str) -> bool:
    """Is it the supply of a list that says none itself?"""
    return any(f'"{text[:80]}" in ' in why and why.endswith(f" of sheet {sheet}") for one in out.studied for why in one.plan.why.values())


def _nothing_read(out: Lists, grids: Sequence[Grid]) -> None:
    """Where no list of heaters was found in the whole workbook, any sheet kept as received may be one: each is asked about."""
    for grid in grids:
        cells = [cells_of(grid.rows[line]) for line in grid.lines]
        priced = any(_priced(flat(value)) for row in cells for _, value in row)
        if priced and not any(speaks(row) for row in cells):  # a bid form has prices to be filled in, and heaters
            continue
        _ask(out, grid, "no list of heaters was found in the whole workbook, so it may be here")


def _ask(out: Lists, grid: Grid, reason: str) -> None:
    """Holds every row of a sheet of which nothing is read, once."""
    if not grid.filled or any(one.code == "list-not-read" and one.sheet == grid.name for one in out.findings):
        return
    out.findings = [one for one in out.findings if not (one.code == "sheet-not-recognised" and one.sheet == grid.name)]
    rows = rows_worded([line + 1 for line in grid.lines])
    said = remark("list-not-read", sheet=grid.name, rows=rows, why=reason, line=use_of_sheet(grid.name))
    out.findings.append(find(said, sheet=grid.name))
    why = {line + 1: "asked: is it a list of heaters" for line in grid.lines}
    out.rest[grid.name] = [received(grid, 0, len(grid.rows) - 1, (0, max(0, grid.width - 1)), why)]
