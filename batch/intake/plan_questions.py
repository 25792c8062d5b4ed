"""What the plan of a list leaves open: a question names both readings and the line of the map that answers it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from batch.intake.assignment import OPEN
from batch.intake.heading_sense import EACH
from batch.intake.line_kinds import DATA
from batch.intake.list_columns import LIST, NEEDED
from batch.intake.plan import Question
from batch.intake.turned import cell_in
from batch.ooxml.addresses import letters

if TYPE_CHECKING:
    from batch.intake.study import Studied


def ask_of_plan(one: Studied) -> None:
    """What must be answered before the table is sized."""
    plan, verdict = one.plan, one.verdict
    for taken in one.taken:
        twice = taken.key == "description" and taken.rival == taken.text  # descriptions of two lists side by side, perhaps
        if taken.sure == OPEN and (taken.key in NEEDED or twice):
            ours = LIST[taken.key].heading
            this, that = (f'"{name}"' if name.strip() else "one without a heading" for name in (taken.text, taken.rival))
            this = f"{this} (column {letters(taken.index)})"
            cell = f"{letters(taken.index)}{plan.heading_row}"
            plan.questions.append(
                Question(
                    f"Which column is {ours}", this, that, f'{_key(ours)} = {{ column = "{letters(taken.index)}" }}', cell, (), taken.key
                )
            )
    if plan.power or "power_kw" not in plan.columns:
        if plan.power == EACH and (verdict.totals_differ or any("total" in said for said in verdict.against)) and verdict.sure != "certain":
            _ask_power(one)
        return
    _ask_power(one)


def _ask_power(one: Studied) -> None:
    plan = one.plan
    column = plan.columns.get("power_kw") or plan.columns.get("total_kw")
    if column is None:
        return
    for example in one.lines:
        q, p = example.figure("quantity"), example.figure("power_kw")
        if example.kind == DATA and q is not None and q > 1 and p is not None:
            break
    else:
        return
    where = one.places.get(example.index + 1, {}).get(column.index) or cell_in(plan.turned, example.index, column.index)
    said = "; ".join(one.verdict.against)
    plan.questions.append(
        Question(
            f'Is the power under "{column.heading}" that of each heater or of all heaters of the tank' + (f" ({said})" if said else ""),
            f"{q:g} heaters of {p:g} kW each ({where})",
            f"{q:g} heaters of {p / q:.4g} kW, together {p:g} kW",
            'power = "each" or power = "per tank"',
            where,
            (),
            "power_kw",
        )
    )


def _key(heading: str) -> str:
    return heading if heading.isalpha() and heading.isascii() else f'"{heading}"'
