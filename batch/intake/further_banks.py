"""Further banks of heaters in the rows of one table, under columns of their own: read as rows of their own, beside the row's first."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from batch.intake.grid import Grid
from batch.intake.line_kinds import DATA, DOUBT, HIDDEN, SPARE, UNHEATED, Line
from batch.intake.list_rows import LineReader
from batch.intake.plan import Also, ListPlan

OWN = frozenset({"quantity", "power_kw", "total_kw", "amps_a", "power_unit", "description"})  # never shared between banks of a row
HEATED = (DATA, DOUBT, HIDDEN)


def with_further_banks(grid: Grid, plan: ListPlan, lines: Sequence[Line]) -> list[Line]:
    """The rows with a line for each further bank that they hold. A row whose first bank is not there is that of the others."""
    more = [_of(LineReader(grid, _plan(plan, also)).read(), also) for also in plan.also]
    found: list[Line] = []
    for line in lines:
        others = [some[line.index] for some in more if line.index in some]
        if line.kind not in (*HEATED, UNHEATED, SPARE) or not others:
            found.append(line)
            continue
        own = any(key in line.facts and line.facts[key].source != "fixed" for key in ("quantity", "power_kw"))
        found += [line] * (line.kind in HEATED and own)  # else what it says of heaters is said of those of the others
        found += others
    return found


def _of(lines: Sequence[Line], also: Also) -> dict[int, Line]:
    """The rows that hold heaters under these columns, by their index."""
    found = {}
    for line in lines:
        count = line.facts.get("quantity")
        if line.kind not in HEATED or count is None or (count.value is None and "quantity" in also.means):
            continue  # no such bank here, or a word that means another one
        if "quantity" in also.fixed and "power_kw" not in line.facts:
            continue  # no heater of that number
        if also.power and "power_kw" in line.facts:
            line.facts["power_kw"] = replace(line.facts["power_kw"], basis=also.power)
        found[line.index] = line
    return found


def _plan(plan: ListPlan, also: Also) -> ListPlan:
    """The plan of one further bank: its own columns, and those of the row that all its banks share."""
    shared = {key: column for key, column in plan.columns.items() if key not in OWN and key not in also.columns and key not in also.fixed}
    fixed = {key: value for key, value in plan.fixed.items() if key not in OWN and key not in also.columns}
    names = {row: {key: value for key, value in values.items() if key not in OWN} for row, values in plan.row_values.items()}
    values = {row: {**names.get(row, {}), **also.row_values.get(row, {})} for row in names.keys() | also.row_values.keys()}
    keep = tuple(plan.keep_rows)
    return replace(plan, columns={**shared, **also.columns}, fixed={**fixed, **also.fixed}, when=[*plan.when, *also.when], also=(),
                   means={**plan.means, **also.means}, row_values=values, keep_rows=keep)  # fmt: skip
