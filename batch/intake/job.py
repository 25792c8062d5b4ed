"""A workbook -> a Job: records of every row that could be read, every row as it came, and the findings of reading."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from msgspec.structs import replace

from batch.file_names import name_of
from batch.findings import Finding, find, remark
from batch.intake.accounts import accounted
from batch.intake.cells import squeezed
from batch.intake.firm_stock import STOCK, add_stock, settle_stock
from batch.intake.grid import Grid
from batch.intake.head import find_head
from batch.intake.headings import Matcher
from batch.intake.layout import parted, side_by_side
from batch.intake.names import Names, fold, keep_first, leave_listed, place_rows, settle_feeders, settle_heaters, settle_projects
from batch.intake.notes_told import hold_word
from batch.intake.prose import prose_alone
from batch.intake.recognise import Recognised, recognise
from batch.intake.rows import read_table
from batch.intake.table import Progress, Table, Tables, received_rows
from batch.intake.unread import unread_banks
from batch.intake.unread_rows import UnreadRows, refuse_long_lists
from batch.intake.workbook import Workbook, load, open_workbook
from batch.money_records import MONEY
from batch.received_rows import HowRead, ReceivedTable
from batch.records import Bank, Feeder, Job, Part, PowerSource, Project, Tank
from batch.sheets import HEATERS, INPUTS, TANKS, Sheet
from batch.sheets.received import READ_ME

if TYPE_CHECKING:
    from batch.intake.column_map import ColumnMap
    from batch.intake.lists_read import Lists
    from batch.intake.mapped import Mapped
    from batch.intake.study import Studied

RECORDS = {"projects": Project, "sources": PowerSource, "feeders": Feeder, "tanks": Tank, "heaters": Bank, "stock": Part, **MONEY}


def read(path: Path, progress: Progress | None = None, column_map: ColumnMap | None = None) -> Job:
    """Reads a job workbook. The file is never changed.

    progress    called as progress(what, done, total) while rows are read
    column_map  how a customer's list is laid out, where its own headings do not say it for certain

    Raises:
        InputFileError: the file as a whole cannot be read as a workbook; one line: what, where, what to do.
    """
    path = Path(path)
    data = load(path)
    return assemble(open_workbook(data, str(path)), name_of(path), sha256(data).hexdigest(), progress=progress, column_map=column_map)


def assemble(
    workbook: Workbook,
    name: str,
    digest: str,
    *,
    progress: Progress | None = None,
    column_map: ColumnMap | None = None,
    known: Mapping[str, Sheet] | None = None,
    stock: Sequence[Grid] | None = None,
) -> Job:
    """A Job from grids. `known`: what sheets are, where that was settled; `stock`: what results bring in place of the firm's."""
    matchers = {sheet.id: Matcher(sheet) for sheet in INPUTS}
    refuse_long_lists(workbook.grids, matchers[HEATERS.id], name, known or {})
    on_map = ByMap() if column_map is None else _by_map(workbook, name, column_map)
    recognised = recognise(workbook.grids, matchers, {**(known or {}), **on_map.kinds})
    recognised.findings += on_map.said
    read_here = _in_our_form(recognised, on_map, matchers, progress, UnreadRows(name))
    lists = _lists(name, recognised, read_here, on_map.lists, column_map.others if column_map is not None else "asked")
    tables, received = _all_tables(recognised, read_here, lists)
    _add_baths(tables, lists, recognised)
    _ask_of_tanks(tables, [one for one in received if isinstance(one, ReceivedTable)])
    firms = add_stock(tables, matchers, stock) if known is None else None  # results bring the list along that they were sized with
    if firms is not None:
        received.append(firms)
        _take_back_missing(recognised, STOCK)
    names = settle_projects(tables)
    of_stock = _settled(tables, names)
    recognised.findings += _no_list(tables) if not known else []
    every = [table for some in tables.values() for table in some.all]
    findings = [
        *_of_file(workbook), *recognised.findings, *_of_lists(lists), *(finding for table in every for finding in table.findings),
        *_no_heaters(tables), *of_stock, *names.findings,
    ]  # fmt: skip
    records = {sheet.id: _records(tables.get(sheet.id)) for sheet in INPUTS}
    shown = tuple(_received(one) for one in received)
    if known is None and lists is not None and lists.studied:
        shown = _standing(shown, workbook.grids)
    grids = (*workbook.grids, firms.grid) if firms is not None else workbook.grids
    return Job(
        name,
        digest,
        tuple(Project(project=project) for project in names.projects.values()) if names.implicit else records["projects"],
        records["feeders"],
        records["tanks"],
        records["heaters"],
        records["stock"],
        shown,
        tuple(findings),
        sources=records["sources"],
        unread=unread_banks(tables, names),
        how_read=_how_read(lists),
        accounted=() if known else accounted(grids, shown, every),
        stated=tuple(total for table in every for total in table.stated),
        **{id: records[id] for id in MONEY},
        came_from={},
        sent=None, section=None,
        judged_notes=_judged_notes(tables.get("heaters")),
        hears=hold_word,
        map_text=lists.map_text if lists is not None and not on_map.lists else "",
    )


class ByMap(NamedTuple):
    """What a column map says of a workbook's sheets: tables in our form, customers' lists, and what there is to say of either."""

    placed: Sequence[Mapped] = ()
    lists: Sequence[Studied] = ()
    said: Sequence[Finding] = ()

    @property
    def kinds(self) -> dict[str, Sheet]:
        return {one.sheet: one.plan.kind for one in self.placed} | {one.sheet: HEATERS for one in self.lists}


def _by_map(workbook: Workbook, name: str, column_map: ColumnMap) -> ByMap:
    from batch.intake.by_map import studied_by  # with what it takes to read a map, which the ordinary job has no need of
    from batch.intake.mapped import place, said_of

    placed = place(column_map, workbook.grids, name)
    lists = studied_by(column_map, workbook.grids, name)
    used = [(one.plan, one.grid.name) for one in placed]
    used += [(one.table_map, one.grid.name) for one in lists if one.table_map is not None and one.plan.use]
    return ByMap(placed, lists, [said_of(plan, sheet, column_map.name) for plan, sheet in used])


def _in_our_form(
    recognised: Recognised, on_map: ByMap, matchers: Mapping[str, Matcher], progress: Progress | None, unread: UnreadRows
) -> dict[str, list[Table]]:
    """The tables of each sheet that stand where a column map says, or under our own headings; none of a sheet that is a customer's list."""
    found: dict[str, list[Table]] = {}
    for grid, sheet in recognised.sheets:
        mapped = [one for one in on_map.placed if one.sheet == grid.name]
        some = [read_table(one.grid, one.matcher, progress, one.head, one.plan, unread=unread) for one in mapped]
        if not some and sheet is not None and grid.name not in {one.sheet for one in on_map.lists}:
            some = _tables_of(grid, matchers[sheet.id], recognised.findings, progress, unread)
        found[grid.name] = some
    return found


def _all_tables(
    recognised: Recognised, read_here: Mapping[str, list[Table]], lists: Lists | None
) -> tuple[dict[str, Tables], list[Table | Grid | ReceivedTable]]:
    """Tables by the sheet that they are of, and all that is shown on As received, sheet by sheet as they came."""
    tables: dict[str, Tables] = {}
    received: list[Table | Grid | ReceivedTable] = []
    for grid, _ in recognised.sheets:
        some = read_here[grid.name]
        rest: list[Table | Grid | ReceivedTable] = [*some] or [grid]
        if lists is not None and grid.name in lists.rest:
            some = lists.tables[grid.name]
            beside: list[Table | ReceivedTable] = [*some, *lists.rest[grid.name]]
            rest = [*sorted(beside, key=_begin)]
        for table in some:
            tables.setdefault(table.sheet.id, Tables(table.sheet)).all.append(table)
        received += rest
    return tables, received


def _add_baths(tables: dict[str, Tables], lists: Lists | None, recognised: Recognised) -> None:
    """Tanks as heater lists describe them, behind those of a sheet Tanks."""
    if lists is None or not lists.baths:
        return
    tables.setdefault("tanks", Tables(TANKS)).all += lists.baths
    _take_back_missing(recognised, TANKS)


def _ask_of_tanks(tables: Mapping[str, Tables], sheets: Sequence[ReceivedTable]) -> None:
    heaters, tanks = tables.get("heaters"), tables.get("tanks")
    if heaters is not None and any(table.list_plan is not None for table in heaters.all):
        from batch.intake.tanks_elsewhere import ask_of_tanks_elsewhere  # which a job in our own form has no need of

        of_tanks = [table for table in tanks.all if not table.of_list] if tanks is not None else []
        ask_of_tanks_elsewhere(heaters.all, of_tanks, sheets)


def _take_back_missing(recognised: Recognised, sheet: Sheet) -> None:
    """A sheet whose rows were found elsewhere is not missing."""
    recognised.findings = [one for one in recognised.findings if not (one.code == "sheet-missing" and sheet.name in one.message)]


def _settled(tables: dict[str, Tables], names: Names) -> list[Finding]:
    """Each row under its project, of rows of one name the first, each heater on its tank; what is said of the stock list."""
    for kind in ("sources", "feeders", "tanks", "heaters", *(id for id in MONEY if id != "typed_prices")):
        place_rows(tables.get(kind), names)
    keep_first(tables.get("sources"), "source", "source-repeated", names, within="project")
    settle_feeders(tables.get("feeders"), names)
    leave_listed(tables.get("tanks"), names)
    keep_first(tables.get("tanks"), "tank", "tank-repeated", names, within="project")
    of_stock = settle_stock(tables.get("stock"))
    keep_first(tables.get("stock"), "part", "part-repeated", names, unless="from_quantity")
    keep_first(tables.get("pricing"), "project", "pricing-repeated", names)
    settle_heaters(tables, names)
    return of_stock


def _standing(shown: Sequence[ReceivedTable], grids: Sequence[Grid]) -> tuple[ReceivedTable, ...]:
    from batch.intake.standing import standing  # which a job in our own form has no need of

    return standing(shown, grids)


def _judged_notes(heaters: Tables | None) -> dict[tuple[str, int], object]:
    """Notes of rows of customers' lists, which their reading has heard."""
    some = (table for table in heaters.all if table.list_plan is not None) if heaters is not None else ()
    return {(table.grid.name, row.number): row.values.get("notes") for table in some for row in table.rows}


def _of_lists(lists: Lists | None) -> list[Finding]:
    if lists is None:
        return []
    from batch.intake.firm_words import said_of_words  # with the words, which a job in our own form has no need of

    return [*lists.findings, *said_of_words()]


def _how_read(lists: Lists | None) -> tuple[HowRead, ...]:
    if lists is None or not lists.studied:
        return ()
    from batch.intake.how_read import how_read

    return tuple(how_read(lists.studied))


def _lists(
    name: str, recognised: Recognised, read_here: Mapping[str, Sequence[Table]], by_map: Sequence[Studied], others: str
) -> Lists | None:
    """Customers' own lists, on the sheets that are in no form of ours; None where there is no such sheet."""
    mapped = {one.sheet for one in by_map}
    strange = [grid for grid, sheet in recognised.sheets if grid.name in mapped or (sheet is None
               and grid.name not in recognised.repeated and squeezed(grid.name) != squeezed(READ_ME))]  # fmt: skip
    if not any(grid.filled for grid in strange):
        return None
    heaters = {name: some for name, some in read_here.items() if any(table.sheet.id == "heaters" for table in some)}
    if heaters and not by_map and (prose := prose_alone(strange)) is not None:
        return prose
    from batch.intake.lists import read_lists  # with all that it takes to read a list, which a job in our own form has no need of

    tags = {name: {fold(row.values.get("tank", "")) for table in some for row in table.rows} for name, some in heaters.items()}
    held = f"sheet {next(iter(heaters))} is read as the heater list already" if heaters else ""
    return read_lists(name, strange, held=held, known=tags, by_map=by_map, others=others)


def _begin(one: Table | ReceivedTable) -> int:
    if isinstance(one, Table):
        return one.extent[0] if one.extent else 0
    return one.rows[0].row - 1 if one.rows else 0


def _tables_of(
    grid: Grid, matcher: Matcher, findings: list[Finding], progress: Progress | None, unread: UnreadRows
) -> list[Table]:
    """The table of a sheet, or the several tables that stand beside each other on it."""
    head = find_head(grid, matcher)
    spans = side_by_side(head, matcher.sheet)
    if len(spans) < 2:
        return [read_table(grid, matcher, progress, head, unread=unread)]
    grids, said = parted(grid, spans)
    findings += said
    return [read_table(part, matcher, progress, unread=unread) for part in grids]


def _records(tables: Tables | None) -> tuple:
    if tables is None:
        return ()
    make = RECORDS[tables.sheet.id]
    records, seen = [], set()
    for row in tables.rows:
        origin = row.table.origin(row.number)
        while origin in seen:  # a row may give several records
            origin = replace(origin, turn=origin.turn + 1)
        seen.add(origin)
        records.append(make(**row.values, origin=origin))
    return tuple(records)


def _of_file(workbook: Workbook) -> list[Finding]:
    said = [find(one) for one in workbook.remarks]
    said += [find(remark("workbook-macros"))] if workbook.macros else []
    if workbook.half_seen:
        said.append(find(remark("workbook-half-seen")))
        said += [find(remark("workbook-looks-unseen"))] if not all(grid.looks_known for grid in workbook.grids) else []
    if workbook.slow:
        said.append(find(remark("sheet-other-reader", why=workbook.slow)))
    return said


def _no_list(tables: dict[str, Tables]) -> list[Finding]:
    why = "none is called Heaters, and in none a table was found that lists heaters"
    return [] if tables.get("heaters") else [find(remark("sheet-heaters-missing", why=why))]


def _no_heaters(tables: dict[str, Tables]) -> list[Finding]:
    """A heater list without a single row of data is a job without heaters."""
    some = tables["heaters"].all if "heaters" in tables else []
    if any(table.rows or table.head.row < 0 or table.head.missing(table.sheet) or table.data_rows_refused() for table in some):
        return []
    return [find(remark("sheet-no-heaters", sheet=table.grid.name), sheet=table.grid.name) for table in some[:1]]


def _received(one: Table | Grid | ReceivedTable) -> ReceivedTable:
    if isinstance(one, ReceivedTable):
        return one
    if isinstance(one, Table):
        return one.received()
    rows = received_rows(one, 0, 0, one.width - 1, refused={}, read={}, why="sheet not read")
    return ReceivedTable(one.name, "", 0, ("",) * one.width, ("",) * one.width, rows)
