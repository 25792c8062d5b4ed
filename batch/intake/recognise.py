"""Which sheet of the user's workbook is which sheet of a job."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct, field

from batch.findings import Finding, find, remark
from batch.intake.cells import squeezed
from batch.intake.form_or_list import says_more
from batch.intake.grid import Grid
from batch.intake.head import Head, find_head
from batch.intake.headings import Matcher
from batch.intake.numbers import number_of
from batch.intake.table import counted, rows_worded
from batch.sheets import HEATERS, INPUTS, Sheet
from batch.sheets.received import RECEIVED

MEANS = {
    "projects": "each setting has its default",
    "feeders": "the supplies are assumed from the heaters' volts, under the names that rows give",
    "tanks": "no heat is checked, and whether the tanks have a low-level cutoff is unknown",
    "stock": "parts are named by their ratings, without prices",
}
LEAST_OWN = 3  # needed columns under our own headings, for a sheet to be taken for our own form
SAME = 0.001  # of a total, for rounding
NOWHERE = 1 << 30  # beyond every row
NONE_MAPPED: Mapping[str, Sheet] = {}


class Recognised(Struct):
    """Each grid with the sheet it is read as; None = not read."""

    sheets: list[tuple[Grid, Sheet | None]] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    repeated: set[str] = field(default_factory=set)  # names of the sheets that are not read because another of their kind is

    def named_kinds(self) -> list[tuple[str, Sheet | None]]:
        return [(grid.name, sheet) for grid, sheet in self.sheets]


def kind_of_name(name: str) -> tuple[Sheet, int] | None:
    """The sheet that a tab's name says, and how surely: 0 = our own name of it, 1 = another name, 2 = as an earlier result received it."""
    if name.startswith(RECEIVED):
        received = kind_of_name(name.removeprefix(RECEIVED))
        return (received[0], 2) if received else None
    wanted = squeezed(name)
    for sheet in INPUTS:
        if wanted == squeezed(sheet.name):
            return sheet, 0
    for sheet in INPUTS:
        if any(wanted == squeezed(other) for other in sheet.also):
            return sheet, 1
    return None


def recognise(grids: Sequence[Grid], matchers: dict[str, Matcher], mapped: Mapping[str, Sheet] = NONE_MAPPED) -> Recognised:
    """Goes by the tabs' names; where none is the heater list, by the headings of the others.

    mapped  what a column map says of some tabs, by name; no other tab is read as a sheet of their kinds
    """
    found = Recognised()
    chosen: dict[str, Grid] = {}
    ranks: dict[str, int] = {}
    kinds_mapped = {sheet.id for sheet in mapped.values()}
    named = {grid.name: None if grid.name in mapped else kind_of_name(grid.name) for grid in grids}
    named = {name: kind if kind and kind[0].id not in kinds_mapped else None for name, kind in named.items()}
    for grid in grids:
        if kind := named[grid.name]:
            sheet, rank = kind
            if sheet.id not in chosen or rank < ranks[sheet.id]:
                chosen[sheet.id], ranks[sheet.id] = grid, rank
    named_heaters = chosen.get(HEATERS.id)
    if named_heaters is not None and ranks[HEATERS.id] < 2 and not own_form(named_heaters, matchers[HEATERS.id]):
        named = {name: None if kind and kind[0].id == HEATERS.id else kind for name, kind in named.items()}
        del chosen[HEATERS.id]
    if HEATERS.id not in chosen and HEATERS.id not in kinds_mapped:
        _by_headings([grid for grid in grids if named[grid.name] is None and grid.name not in mapped], chosen, matchers[HEATERS.id], found)
        if HEATERS.id not in chosen:
            _not_ours(grids, chosen, named)
        _without_headings(chosen, named, matchers)
    kinds = {grid.name: sheet for sheet in INPUTS for grid in [chosen.get(sheet.id)] if grid is not None}
    for grid in grids:
        kind_of = mapped.get(grid.name) or kinds.get(grid.name)
        found.sheets.append((grid, kind_of))
        found.findings += _said_of(grid, kind_of, named[grid.name], chosen)
        if kind_of is None and named[grid.name]:
            found.repeated.add(grid.name)
    for sheet in INPUTS:
        if sheet.id not in chosen and sheet.id in MEANS and sheet.id not in kinds_mapped:
            found.findings.append(find(remark("sheet-missing", kind=sheet.name, means=MEANS[sheet.id])))
    return found


def own_form(grid: Grid, matcher: Matcher) -> bool:
    """Does the sheet have the headings of our own heater list? A customer's "kW" may be the tank's; our own "Power" is each heater's."""
    head = find_head(grid, matcher)
    needed = [column.key for column in HEATERS.columns if column.required]
    own = [key for key in needed if any(heading.rank == 0 for heading in head.by_key.get(key, ()))]
    power = head.by_key.get("power_kw")
    return len(own) >= LEAST_OWN and (power is None or "power_kw" in own) and not (
        _summed_as_they_stand(grid, head) or says_more(grid, head)
    )


def _summed_as_they_stand(grid: Grid, head: Head) -> bool:
    """Does a total row add up the powers as they stand, and not each times its number? Then they are the tanks', in a customer's list."""
    power, quantity = (head.by_key.get(key) for key in ("power_kw", "quantity"))
    if not power or not quantity:
        return False
    needed = [head.by_key[column.key][0].index if column.key in head.by_key else NOWHERE for column in HEATERS.columns if column.required]
    plain = counted_out = 0.0
    for line in grid.lines_from(head.first_data_row):
        row = grid.rows[line]
        kw, heaters = (number_of(row[one[0].index]) if one[0].index < len(row) else None for one in (power, quantity))
        if kw is None:
            continue
        if any(at >= len(row) or row[at] in ("", None) for at in needed) and _a_total(row):  # none has a tank, volts and phases too
            return abs(kw - plain) <= SAME * plain < abs(kw - counted_out)
        plain, counted_out = plain + kw, counted_out + kw * (heaters or 1.0)
    return False


def _a_total(row: Sequence[object]) -> bool:
    from batch.intake.list_words import total_word  # with the words of all languages, which rows that are filled have no need of

    return any(isinstance(value, str) and total_word(value) for value in row)


def _by_headings(grids: Sequence[Grid], chosen: dict[str, Grid], matcher: Matcher, found: Recognised) -> None:
    """The one sheet whose headings are all our own; other lists are customers' own."""
    fits = [grid for grid in grids if (head := find_head(grid, matcher)).row >= 0 and not head.missing(HEATERS) and own_form(grid, matcher)]
    if len(fits) == 1 and not _lists_beside(fits[0], grids):
        chosen[HEATERS.id] = fits[0]
        found.findings.append(find(remark("sheet-taken", sheet=fits[0].name, kind=HEATERS.name), sheet=fits[0].name))


def _lists_beside(own: Grid, grids: Sequence[Grid]) -> bool:
    """Are there customers' lists on the other sheets? Then this one is read with them, by what it says itself."""
    from batch.intake.study import study  # with all that it takes to read a list

    return any(one.heaters == "yes" for grid in grids if grid is not own and grid.filled for one in study(grid))


def _not_ours(grids: Sequence[Grid], chosen: dict[str, Grid], named: dict[str, tuple[Sheet, int] | None]) -> None:
    """Without a heater list of ours, a tab called Tanks may well be the customer's list of heaters."""
    from batch.intake.study import study  # with all that it takes to read a list

    for id, grid in list(chosen.items()):
        if any(one.heaters == "yes" for one in study(grid)):
            del chosen[id]
            named[grid.name] = None


def _without_headings(chosen: dict[str, Grid], named: dict[str, tuple[Sheet, int] | None], matchers: dict[str, Matcher]) -> None:
    """Beside a list that is no form of ours, a tab called Scope with sentences in place of our headings is the customer's own."""
    for id, grid in list(chosen.items()):
        if id != HEATERS.id and find_head(grid, matchers[id]).row < 0:
            del chosen[id]
            named[grid.name] = None


def _said_of(grid: Grid, sheet: Sheet | None, named: tuple[Sheet, int] | None, chosen: dict[str, Grid]) -> list[Finding]:
    said: list[Finding] = []
    if sheet is None and grid.filled and named:
        fields = {"first": chosen[named[0].id].name, "sheet": grid.name, "kind": named[0].name, "rows": counted(grid.filled)}
        said.append(find(remark("sheet-repeated", **fields), sheet=grid.name))
    if grid.hidden and grid.filled:
        used = f"it is read as {sheet.name} all the same" if sheet else "it is not read"
        said.append(find(remark("sheet-hidden", sheet=grid.name, state=grid.hidden, used=used), sheet=grid.name))
    if sheet is not None and (rows := sorted(set(grid.hidden_rows) & {index + 1 for index in grid.lines})):
        state = f"partly hidden ({rows_worded(rows)})"
        said.append(find(remark("sheet-hidden", sheet=grid.name, state=state, used="what is hidden is read all the same"), sheet=grid.name))
    if grid.stray:
        said.append(find(remark("sheet-stray-cell", sheet=grid.name, cells=", ".join(grid.stray)), sheet=grid.name))
    return said
