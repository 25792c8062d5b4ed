"""The sheets as received of a results workbook as they are read again: what each was read as, by what map, and their cells."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from batch.errors import InputFileError
from batch.intake.grid import Broken, Grid, worded
from batch.intake.workbook import Workbook
from batch.reopening.as_sent import LOOKED, head_of
from batch.sheets import INPUTS, Sheet
from batch.sheets.received import MAPPED, NO_HEADING, OWN, READ_AS, RECEIVED

if TYPE_CHECKING:
    from batch.intake.column_map import ColumnMap

ERRORS = frozenset({"#DIV/0!", "#N/A", "#NAME?", "#NULL!", "#NUM!", "#REF!", "#VALUE!"})  # ECMA-376 Part 1, 18.18.11: error cells


def kinds_of(workbook: Workbook) -> dict[str, Sheet]:
    """What each sheet as received was read as, as its line of help says: several may be one kind, and a name alone may not say it."""
    sheets = {f"{READ_AS}{sheet.name}.": sheet for sheet in INPUTS}
    found = {}
    for grid in workbook.grids:
        if grid.name.startswith(RECEIVED):
            texts = [worded(value) for row in grid.rows[:LOOKED] for value in row[: len(OWN)]]
            kind = next((sheet for text in texts for end, sheet in sheets.items() if text.endswith(end)), None)
            if kind is not None:
                found[grid.name] = kind
    return found


def map_of(workbook: Workbook, name: str) -> ColumnMap | None:
    """How a column map had the tables as received, as their sheets say; None where none had."""
    plans, row = {}, 0
    for grid in workbook.grids:
        if grid.name.startswith(RECEIVED) and (head := head_of(grid)) is not None:
            texts = [worded(value[0]) for value in grid.rows[:head] if value]
            plan = next((text for text in texts if text.startswith(MAPPED)), "")
            if plan:
                plans[grid.name], row = plan.removeprefix(MAPPED), head + 1
    if not plans:
        return None
    from batch.intake.column_map import map_as_received  # which the ordinary job has no need of

    return map_as_received(plans, len(OWN), row, name)


def received_grids(workbook: Workbook, name: str) -> list[Grid]:
    """The sheets as received, without our own columns, at their places in the file: addresses lead to the workbook at hand."""
    found = []
    for grid in workbook.grids:
        if not grid.name.startswith(RECEIVED):
            continue
        head = head_of(grid)
        if head is None:
            raise InputFileError(
                f"{name}: sheet {grid.name} has lost its headings ({', '.join(OWN)}, …): restore them, or name the job workbook instead"
            )
        found.append(Grid(grid.name, [_own_left_out(row, at, head) for at, row in enumerate(grid.rows)], grid.hidden))
    if not found:
        raise InputFileError(f"{name}: results without their sheets As received, so the job is not in them: name the job workbook instead")
    return found


def _own_left_out(row: Sequence[object], at: int, head: int) -> list[object]:
    if at < head:
        return [""] * len(row)
    rest = [Broken(value, True) if isinstance(value, str) and value in ERRORS else value for value in row[len(OWN) :]]
    if at == head:
        rest = ["" if worded(value).startswith(NO_HEADING) else value for value in rest]
    return [""] * len(OWN) + rest
