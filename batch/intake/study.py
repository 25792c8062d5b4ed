"""Studies a sheet: which tables it has, which of them list heaters, and by what plan their rows are read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from typing import TYPE_CHECKING

from msgspec import Struct, field
from msgspec.structs import replace

from batch.intake.arithmetic import told_by_product
from batch.intake.assignment import CERTAIN, OPEN, SURE_NAME, Taken, assign
from batch.intake.bare_figures import power_in_watts, volts_in_kv
from batch.intake.bought_groups import as_bought, heaters_replaced, was_before
from batch.intake.cell_profiles import Profile, profiles
from batch.intake.changes_by_notes import change_rows
from batch.intake.column_groups import Groups, further, groups_of, together, unchanged_word, with_former
from batch.intake.columns_unused import asked_by_unused
from batch.intake.counts_named import dashes_count
from batch.intake.counts_of_spares import those_installed
from batch.intake.false_feeders import without_false_feeders
from batch.intake.form_or_list import headings_ours
from batch.intake.free_lines import bare_rows, free_text
from batch.intake.grid import Grid
from batch.intake.heading_letters import as_they_stand, with_letters_told
from batch.intake.heading_sense import EACH, sense
from batch.intake.heater_tables import left_out_by_column, lists_heaters
from batch.intake.line_kinds import BANNER, DATA, DOUBT, HIDDEN, NOTE, Line
from batch.intake.lines_multiplied import count_of_all_lines
from batch.intake.list_columns import NEEDED
from batch.intake.list_rows import LineReader
from batch.intake.list_supply import fix_supply, said_for_all, supply_by_phases
from batch.intake.list_titles import says_heaters, tab_out, title_out
from batch.intake.numbered_heaters import heaters_of_a_row
from batch.intake.one_a_line import one_a_line, power_said_twice, volts_said_twice
from batch.intake.panel_poles import asked_by_breakers, asked_by_panels, supply_by_poles
from batch.intake.passed_over import ask_passed_over
from batch.intake.phases_explained import two_lines_told
from batch.intake.plan import ColumnPlan, ListPlan, Question
from batch.intake.plan_questions import ask_of_plan
from batch.intake.remarks_stay import remarks_stay
from batch.intake.said_in_notes import asked_by_notes
from batch.intake.size_matrix import Matrix, banks, matrix_of, settle_sums
from batch.intake.stages import stages_of_machines, stages_under_banners
from batch.intake.supply_by_size import rules_by_size, supply_by_size
from batch.intake.supply_codes import supply_by_codes
from batch.intake.supply_groups import asked_by_groups, of_no_one_row, supply_of_groups
from batch.intake.survey import HeadingColumn, Region, cells_of, flat, regions, runs
from batch.intake.tank_words import sentence_of_a_tank
from batch.intake.tanks_served import tanks_described, tanks_told
from batch.intake.texts_beside import TurnedRow, around_table, texts_around
from batch.intake.told_by_figures import phases_by_amps, power_by_amps, power_by_kva, unlabelled_sums
from batch.intake.turned import TAG_BELOW, TURNED, blocks, tag_below, turned_over
from batch.intake.verdict import Verdict
from batch.intake.witnesses import weigh
from batch.ooxml.addresses import letters

if TYPE_CHECKING:
    from batch.intake.table_map import TableMap

LONGEST_NAME = 5  # words of a title that is the name of one list, and no sentence: judgement, no source
LEAST_OF_A_STRIP = 3  # columns of a table beside another
NOWHERE: Set[int] = frozenset()
BY_HEADING = "its heading says so"
SIZED = frozenset({"quantity", "power_kw", "total_kw", "volts_v", "phases", "tanks", "amps_a", "power_unit"})


class Studied(Struct):
    """One table: its plan, its rows, what the witnesses say, and whether it lists heaters ("yes", "no", "unsure") and why."""

    grid: Grid
    region: Region | None
    plan: ListPlan
    lines: list[Line]
    verdict: Verdict
    heaters: str
    why: str
    taken: list[Taken] = field(default_factory=list)
    sheet: str = ""  # the tab's own name
    table_map: TableMap | None = None  # the table of a person's map that it was read by
    places: dict[int, dict[int, str]] = field(default_factory=dict)  # of blocks: the address of each value
    of_blocks: frozenset[int] = frozenset()  # the rows of the sheet, from 0, that the blocks take
    heard: set[tuple[int, int]] = field(default_factory=set)  # row and column from 0 of sentences that were held against its rows

    def heater_lines(self) -> list[Line]:
        return [line for line in self.lines if line.kind in (DATA, DOUBT, HIDDEN)]


def study(grid: Grid) -> list[Studied]:
    """Every table of a sheet with headings, in order; a turned list or blocks of labels where they tell more than rows do."""
    some = regions(grid)
    plain = [study_region(region, around_table(region, some)) for region in some]
    settled = any(one.heaters == "yes" and {"quantity", "power_kw"} <= one.plan.columns.keys() for one in plain)
    if not settled and (matrix := matrix_of(grid)) is not None:
        return [_matrix(grid, matrix)]
    if not plain and (request := free_text(grid)) is not None:
        region, plan = request
        beside = texts_around(grid, region.top, region.end, region.start)
        around = [one for one in beside if one[0] <= region.end and not sentence_of_a_tank(one[2])]
        fix_supply(plan, region, around)
        one = finish(grid, plan, around, [], region)
        return [one] if one.heaters == "yes" else []
    if not plain and (bare := bare_rows(grid)) is not None:
        part, region, plan = bare
        around = texts_around(grid, region.top, region.end, region.start)
        fix_supply(plan, region, around)
        one = finish(part, plan, around, [], region)
        one.grid = region.grid = grid
        if one.heaters == "yes":
            return [one]
    best, found = _told(plain), plain
    for other in (_in_strips(grid, plain), _blocks(grid), _blocks_and_tables(grid, plain), _turned(grid)):
        if (told := _told(other)) > max(best, 0) and any(one.heaters == "yes" for one in other):
            best, found = told, other
    return found


def _in_strips(grid: Grid, plain: Sequence[Studied]) -> list[Studied]:
    """Tables beside each other whose headings stand in different rows: the columns between blank ones, each by itself."""
    if not any(one.heaters == "yes" for one in plain):
        return []
    strips = _strips(grid)
    found: list[Studied] = []
    told: set[tuple[int, int]] = set()
    for low, high in strips if len(strips) > 1 else ():
        rows = [[value if low <= at <= high else "" for at, value in enumerate(row)] for row in grid.rows]
        part = replace(grid, rows=rows)
        some = regions(part)
        for region in some:
            region.grid = grid
            one = study_region(region, around_table(region, [other for other in some if other is not region]))
            found.append(one)
            told.update({(low, high)} if one.heaters == "yes" else ())
    return found if len(told) > 1 else []


def _strips(grid: Grid) -> list[tuple[int, int]]:
    """Runs of columns that hold rows of a table, parted by columns in which nothing stands."""
    filled = sorted({at for line in grid.lines for at, _ in cells_of(grid.rows[line])})
    return [(run[0], run[-1]) for run in runs(filled) if len(run) >= LEAST_OF_A_STRIP]


def _blocks_and_tables(grid: Grid, plain: Sequence[Studied]) -> list[Studied]:
    """Blocks of labels above or below plain tables of the same sheet."""
    tables = [one for one in plain if one.heaters == "yes" and one.region is not None]
    taken: set[int] = set()
    for one in tables:
        if one.region is not None:
            last = max([one.region.row, *(each.index for each in one.lines if each.kind != NOTE)])
            taken.update(range(one.region.top, last + 1))
    some = _blocks(grid, taken) if tables else []
    return sorted([*some, *tables], key=lambda one: one.plan.first_row) if any(one.heaters == "yes" for one in some) else []


def _told(some: Sequence[Studied]) -> int:
    """How many values of heaters a reading of the sheet finds: of rows that have nearly all that is needed."""
    rows = [
        sum(line.value(key) is not None for key in (*NEEDED, "total_kw"))
        for one in some
        if one.heaters == "yes"
        for line in one.heater_lines()
    ]
    return sum(count for count in rows if count >= 4)


def _turned(grid: Grid) -> list[Studied]:
    over = turned_over(grid)
    if over is None:
        return []
    found = []
    titles = _titles(grid)
    for row in titles:  # no labels, though they stand in the column of them
        for column in over.rows:
            column[row] = ""
    several = regions(over)
    for at, region in enumerate(several):
        region.turned = TURNED
        if len(several) > 1:  # lists that stand over each other
            region.grid = replace(over, name=f"{over.name}, rows {region.first + 1} to {region.last + 1}")
        above = several[at - 1].last if at else -1
        top = several[0].first if _of_several_tanks(region) else -1  # a sentence above all of them is about each
        own = {row for row, cell in titles.items() if above < row < region.first or (row < top and len(cell[1].split()) > LONGEST_NAME)}
        around = [(TurnedRow.of(region.top - 1, row), *cell) for row, cell in titles.items() if row in own]
        around += [(TurnedRow.of(region.start, row), *cell) for row, cell in titles.items() if row > region.last and region is several[-1]]
        one = study_region(region, around)
        one.sheet = grid.name
        if one.heaters == "yes":
            if len(several) > 1 and tag_below(one.plan):
                tag = one.plan.columns["tank"]
                one.plan.questions.append(TAG_BELOW._replace(line=f'Tank = {{ column = "{letters(tag.index)}" }}', about="tank"))
            found.append(one)
    return found


def _of_several_tanks(region: Region) -> bool:
    """Are there more tanks than one beside its labels, as in a list, and not in a block of labels?"""
    return sum(len(cells_of(region.grid.rows[line], region.first, region.last)) > 1 for line in region.lines()) > 1


def _titles(grid: Grid) -> dict[int, tuple[int, str]]:
    """Rows that hold one text and nothing else, and so no label of values: column and text by row."""
    found = {}
    for line in grid.lines:
        cells = cells_of(grid.rows[line])
        if len(cells) == 1 and isinstance(cells[0][1], str):
            found[line] = (cells[0][0], flat(cells[0][1]))
    return found


def _matrix(grid: Grid, matrix: Matrix) -> Studied:
    """Counts of heaters under their sizes."""
    end = len(grid.rows) - 1
    region = Region(grid, matrix.top, matrix.row, matrix.row + 1, end, list(matrix.columns))
    taken = [one for one in assign(matrix.columns, profiles(region, region.lines())) if one.key not in SIZED or one.key == "total_kw"]
    total = next((one.index for one in taken if one.key == "total_kw"), -1)
    rest = [one for one in taken if one.key != "total_kw"]
    used = [*(one.index for one in rest), *(size.index for size in matrix.sizes)]
    rows = tuple(range(matrix.top + 1, matrix.row + 2))
    columns = {one.key: _column(one) for one in rest}
    plan = ListPlan(grid.name, rows, min(used), max(used), matrix.row + 2, end + 1, columns, also=banks(matrix), of_heaters=True)
    around = texts_around(grid, matrix.top, end, matrix.row + 1)
    fix_supply(plan, region, around)
    one = finish(grid, plan, around, rest, region)
    tank = columns["tank"].index if "tank" in columns else plan.first
    one.verdict.odd_rows |= settle_sums(matrix, one.lines, total, tank, grid)
    return one


def _blocks(grid: Grid, skip: Set[int] = NOWHERE) -> list[Studied]:
    found = []
    around = [one for one in texts_around(grid, len(grid.rows), 0, 0) if one[0] not in skip]
    some = blocks(grid, skip=skip)
    labels = {column.text.casefold() for one in some for column in one.region.columns}
    around = [one for one in around if one[2].partition(":")[0].strip().casefold() not in labels]
    for one in some:
        studied = study_region(one.region, around)
        studied.sheet, studied.places, studied.of_blocks = grid.name, one.places, one.lines
        found.append(studied)
    return found


def data_lines(region: Region) -> list[int]:
    """The rows below the headings that hold enough to be rows of the table."""
    least = min(3, len(region.columns))
    return [line for line in region.lines() if len(cells_of(region.grid.rows[line], region.first, region.last)) >= least]


def study_region(region: Region, around: Sequence[tuple[int, int, str]] | None = None) -> Studied:
    around = texts_around(region.grid, region.top, region.end, region.start) if around is None else around
    data = data_lines(region)
    seen = profiles(region, data)
    hidden = hidden_columns(region.grid)
    one_by_one = heaters_of_a_row([column for column in region.columns if column.index not in hidden])
    said = [text for _, _, text in around]
    groups = groups_of([column for column in region.columns if column.index not in hidden], said) if not one_by_one else None
    apart = {column.index for also in one_by_one for column in also.columns.values()}
    columns = groups.first if groups is not None else [column for column in region.columns if column.index not in apart]
    seen = seen if groups is None else together(groups, seen, unchanged_word(said))
    lettered = those_installed(as_bought(with_letters_told(columns, said), seen), seen)
    taken = remarks_stay(as_they_stand(assign(lettered, seen, hidden, [region.grid.rows[line] for line in data]), columns))
    taken = tanks_described(without_false_feeders(taken, region, data), region, seen)
    if any(one.key == "power_kw" and one.sure == OPEN for one in taken):
        used = {one.index for one in taken}
        free = [column.index for column in region.columns if column.index not in used and column.index not in hidden and _of_power(column)]
        taken = told_by_product(taken, region, data, free)
    taken = power_by_kva(power_by_amps(taken, region, data, hidden), region, around, hidden)
    plan = ListPlan(
        region.grid.name,
        tuple(range(region.top + 1, region.row + 2)),
        *(region.first, region.last),
        *(region.start + 1, region.end + 1),
        {one.key: _column(one) for one in taken},
        turned=region.turned,
        again=tuple(line + 1 for line in region.again),
    )
    if groups is not None:
        _grouped(plan, groups, seen, [text for _, _, text in around])
    elif one_by_one and not {"quantity", "power_kw"} & plan.columns.keys():
        plan.also = one_by_one
    if (told := plan.columns.get("description")) is not None:
        plan.dashes_count = dashes_count(seen[told.index].texts)
    plan.former |= was_before(columns, seen)
    two_lines_told(plan, said)
    count_of_all_lines(plan, taken, region, data)
    stages_of_machines(plan, region, data)
    _, not_by_size = rules_by_size(around)
    fix_supply(plan, region, of_no_one_row(plan, region.grid, not_by_size), data[-1] if data else None)
    supply_by_phases(plan, region, not_by_size)
    supply_by_poles(plan, region, data, around)
    supply_by_codes(plan, region.grid, data, around)
    said_for_all(plan, around)
    tanks_told(plan, around, region, data)
    plan.title_out = title_out(region, around)
    plan.of_heaters = says_heaters(region, around)
    one_a_line(plan, region, data, around)
    power_in_watts(plan, seen, around)
    volts_in_kv(plan, seen, around)
    return finish(region.grid, plan, around, taken, region)


def _basis_of_heading(plan: ListPlan) -> str:
    """What the heading of the power says that it is of, where a map says the same; what a person alone says holds for no row that says
    otherwise itself."""
    column = plan.columns.get("power_kw")
    told = sense(column.heading) if column is not None else None
    return told.basis if told is not None and told.basis == plan.power else ""


def finish(grid: Grid, plan: ListPlan, around: Sequence[tuple[int, int, str]], taken: Sequence[Taken], region: Region | None) -> Studied:
    """Reads the rows by the plan and lets the witnesses speak."""
    by_size, others = rules_by_size(around)
    plan.replaced = heaters_replaced(plan, region.columns if region is not None else ())
    told = supply_of_groups(plan, grid, others)
    plan.title_out = plan.title_out or ("" if plan.given or grid.named_by_file else tab_out(grid.name))
    lines = LineReader(grid, plan).read()
    if plan.also:
        from batch.intake.further_banks import with_further_banks  # of lists with several kinds of heaters in a row

        lines = with_further_banks(grid, plan, lines)
    free = [line for line in lines if line.index + 1 not in plan.keep_rows]
    if not plan.given:
        top = min(plan.heading_rows, default=plan.first_row) - 1
        stages_under_banners(lines, next((text for row, _, text in around if row == top - 1), ""))
    said = next((one for one in taken if one.key == "power_kw" and one.basis), None)
    each = EACH in (plan.power, said.basis if said is not None else "")
    plan.notes_taken |= change_rows(plan, grid, free, around, each)
    around = [one for one in around if one[:2] not in plan.notes_taken]
    asked_by_notes(free, around, called=plan.columns["tank"].heading if "tank" in plan.columns else "")
    asked_by_groups(plan, free, told)
    if not plan.given:
        left_out_by_column(plan, free, around, region)
        asked_by_unused(plan, free, region)
    unlabelled_sums(plan, lines)
    if region is not None:
        asked_by_breakers(plan, region, free)
        asked_by_panels(plan, region, free, around)
        volts_said_twice(grid, plan, region.columns, free)
        power_said_twice(grid, plan, region.columns, free)
    heading = said.basis if said is not None else _basis_of_heading(plan) if plan.given else ""
    verdict = weigh(grid, plan, lines, around, heading)
    if plan.given:  # and of a row that disagrees with itself, which of its figures holds
        settled = {number - 1 for number in plan.keep_rows} | {number - 1 for number, own in plan.row_values.items() if "power_kw" in own}
        verdict.odd_rows = {index: why for index, why in verdict.odd_rows.items() if index not in settled}
    if said is not None and verdict.basis == said.basis and said.name >= SURE_NAME:
        verdict.sure = CERTAIN
    if not plan.power and headings_ours(plan) and verdict.basis in ("", EACH):
        verdict.basis, verdict.sure, verdict.said = EACH, CERTAIN, ["its headings are those of the program's own form"]
    plan.power = plan.power or verdict.basis
    supply_by_size(plan, lines, by_size, verdict)
    phases_by_amps(plan, lines)
    heaters, why = lists_heaters(grid, plan, lines, around, region)
    one = Studied(grid, region, plan, lines, verdict, heaters, why, list(taken), grid.name)
    if heaters == "yes":
        ask_passed_over(lines, plan.keep_rows, (*plan.leave_rows, *(row + 1 for row, _ in plan.notes_taken)))
        ask_of_plan(one)
    return one


def hidden_columns(grid: Grid) -> frozenset[int]:
    """The columns that are not shown, from 0."""
    return frozenset(number - 1 for number in getattr(grid, "hidden_columns", ()) or ())


def _grouped(plan: ListPlan, groups: Groups, seen: Mapping[int, Profile], texts: Sequence[str]) -> None:
    """Columns that stand there more than once: further banks, or what was; where that is not said, a question."""
    if groups.former is False:
        plan.also = further(groups, seen)
        return
    code = unchanged_word(texts)
    if groups.former and (code or groups.chained):
        plan.blank_words = (code.casefold(),) if code else ()
        plan.former = with_former(plan.columns, groups)
    elif groups.former:
        plan.former = frozenset(one.index for group in groups.others for one in group)
    else:
        first, other = (f'those under "{name}"' for name in [*groups.names, "", ""][:2])
        count = plan.columns.get("quantity")
        line = f'Quantity = {{ column = "{letters(count.index if count else plan.first)}" }}'
        plan.questions.append(Question("Which columns count", first, other, line, about="quantity"))


def _of_power(column: HeadingColumn) -> bool:
    """May a heading be that of a power?"""
    some = column.meanings()
    return not some or any(one.key in ("power_kw", "total_kw") for one in some)


def _column(one: Taken) -> ColumnPlan:
    if one.sure == OPEN:
        why = f'"{one.rival}" could be it as well'
    elif one.name >= 0.9:
        why = BY_HEADING
    elif one.name >= 0.6:
        why = "its heading and its values fit"
    else:
        why = "its values fit"
    return ColumnPlan(one.key, one.index, one.text, one.unit, one.sure, why, rival=one.rival)


__all__ = ["BANNER", "Studied", "finish", "replace", "study", "study_region"]
