"""What bare figures are in, where neither heading nor cell says it: by a sentence beside the list, or because nothing else is in reason."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from batch.intake.assignment import LIKELY
from batch.intake.cell_profiles import Profile
from batch.intake.list_columns import MOST_POWER_KW, USUAL_VOLTS
from batch.intake.numbers import speak
from batch.intake.plan import ListPlan

IN_WATTS = re.compile(r"\b(?:in|en|em|w)\s+(?:W|Watt|Watts|watt|watts)\b")
IN_KV = re.compile(r"\b(?:in|en|em|w)\s+kV\b")
MOSTLY = 0.6  # of the figures that must be usual volts, for all to be kilovolts: judgement, no source


def power_in_watts(plan: ListPlan, seen: Mapping[int, Profile], around: Sequence[tuple[int, int, str]]) -> None:
    """Bare figures that a sentence says are watts, or that no heater could have in kW."""
    for key in ("power_kw", "total_kw"):
        column = plan.columns.get(key)
        if column is None or column.unit or "power_unit" in plan.columns:
            continue
        numbers = [float(cell) for cell in seen[column.index].cells if isinstance(cell, (int, float)) and not isinstance(cell, bool)]
        said = next((text for _, _, text in around if IN_WATTS.search(text)), "")
        if said:
            plan.columns[key] = replace(column, unit="W", why=f'{column.why}; "{said[:60]}" says that its figures are watts')
        elif numbers and min(numbers) >= MOST_POWER_KW and max(numbers) <= 1000 * MOST_POWER_KW:
            plan.columns[key] = replace(
                column, unit="W", sure=LIKELY, why=f"{column.why}; in kW its figures would be out of reason, so they are watts"
            )


def volts_in_kv(plan: ListPlan, seen: Mapping[int, Profile], around: Sequence[tuple[int, int, str]]) -> None:
    """Bare volts that a sentence says are kilovolts, or that are usual volts only as kilovolts: 0,4 and 0,23."""
    column = plan.columns.get("volts_v")
    if column is None or column.unit:
        return
    numbers = [number for cell in seen[column.index].cells if (number := _bare(cell)) is not None]
    if not numbers or len(numbers) < MOSTLY * len(seen[column.index].cells):
        return
    said = next((text for _, _, text in around if IN_KV.search(text)), "")
    usual = sum(round(1000 * number) in USUAL_VOLTS for number in numbers)
    if usual < MOSTLY * len(numbers):
        return
    why = f'"{said[:60]}" says that they are kilovolts' if said else "in volts its figures would be out of reason, so they are kilovolts"
    plan.columns["volts_v"] = replace(column, unit="kV", sure=LIKELY, why=f"{column.why}; {why}")


def _bare(cell: object) -> float | None:
    if isinstance(cell, bool):
        return None
    if isinstance(cell, (int, float)):
        return float(cell)
    said = speak(cell, "") if isinstance(cell, str) else None
    if said is None or said.rest:
        return None
    return said.value if said.other is None else min(said.value, said.other)
