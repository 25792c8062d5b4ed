"""Rows that stand outside every list of their sheet and speak of heaters all the same: each is asked about."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from msgspec.structs import replace

from batch.findings import Finding, find, remark
from batch.intake.grid import Grid, shown
from batch.intake.heading_sense import machine_in
from batch.intake.list_words import is_heater, other_equipment
from batch.intake.passed_over import labelled, speaks
from batch.intake.requirements import said_of_notes, turned_rows
from batch.intake.study import Studied
from batch.intake.survey import cells_of, flat, runs
from batch.intake.table import ABOVE, BESIDE, OTHER_LIST, TURNED_FATE, Table, rows_worded
from batch.received_rows import ReceivedTable

PASSED = frozenset({ABOVE, BESIDE, OTHER_LIST, TURNED_FATE})
ASKED = "asked: does it list heaters"

Cells = Sequence[tuple[int, object]]


def ask_outside(grid: Grid, some: Sequence[Studied], tables: Sequence[Table], rest: list[ReceivedTable]) -> list[Finding]:
    """Changes the fates of such rows, and says what they are."""
    if not tables or all(one.heaters != "yes" for one in some):
        return []
    taken = turned_rows(some)
    findings: list[Finding] = []
    for table in tables:
        if table.list_plan is None or table.list_plan.turned or table.extent is None:
            continue
        first, last = table.extent[2:]
        lines = [number - 1 for number, why in table.refused.items() if why in PASSED]
        asked = _asked(grid, lines, lambda line, low=first, high=last: cells_of(grid.rows[line], low, high))  # type: ignore[misc]
        table.refused |= dict.fromkeys((line + 1 for line in asked), ASKED)
        findings += _said(grid, asked)
    for at, received in enumerate(rest):
        values = {row.row - 1: row.values for row in received.rows if row.refused in PASSED and row.row - 1 not in taken}
        asked = _asked(grid, list(values), lambda line, of=values: cells_of(of[line]))  # type: ignore[misc]
        if asked:
            rows = tuple(replace(row, refused=ASKED) if row.row - 1 in asked else row for row in received.rows)
            rest[at] = replace(received, rows=rows)
            findings += _said(grid, asked)
    passed = {row.row - 1 for received in rest for row in received.rows if row.refused == ASKED}
    passed |= {number - 1 for table in tables for number, why in table.refused.items() if why == ASKED}
    return [*findings, *said_of_notes(grid, some, taken | passed, of_list=True)]


def notes_of_cover(grid: Grid) -> list[Finding]:
    """What a sheet without a list asks for of what is sized."""
    return said_of_notes(grid, (), frozenset(), of_list=False)


def _asked(grid: Grid, lines: Sequence[int], cells: Callable[[int], Cells]) -> dict[int, str]:
    """The lines of each group between blank ones in which one speaks of heaters, and by which words."""
    found: dict[int, str] = {}
    for group in runs(sorted(lines)):
        texts = [flat(value) for one in group for _, value in cells(one) if isinstance(value, str)]
        if any(machine_in(text) or other_equipment(text) for text in texts[:2]) and not any(is_heater(text) for text in texts):
            continue
        found |= {one: words for one in group if cells(one) and (words := speaks(cells(one)))}
        labels = [label for one in group for label in labelled(cells(one))]
        if len({key for key, _ in labels}) > 1:  # a number and a power
            found |= dict.fromkeys(group, labels[0][1])
    return found


def _said(grid: Grid, asked: Mapping[int, str]) -> list[Finding]:
    rows: dict[str, list[int]] = {}
    for line, words in asked.items():
        rows.setdefault(words, []).append(line + 1)
    return [
        find(remark("row-passed-over", sheet=grid.name, rows=rows_worded(at), value=shown(words)), sheet=grid.name, cell=f"A{at[0]}")
        for words, at in rows.items()
    ]
