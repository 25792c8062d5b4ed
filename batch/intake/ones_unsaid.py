"""Lists that say "3 x 6 kW" of several heaters and "9 kW" of one: where no row says "1 x", a power alone is that of one heater."""

from __future__ import annotations

from collections.abc import Sequence

from batch.intake.cells_that_describe import ONE_POWER
from batch.intake.described import described
from batch.intake.list_words import basis_of, nothing_word, total_word
from batch.intake.plan import ListPlan
from batch.intake.survey import Region, flat

LEAST_COUNTED = 2  # rows that count, for the others to have left the one out: judgement, no source


def ones_unsaid(plan: ListPlan, region: Region, data: Sequence[int]) -> None:
    """One heater for each power alone in a column that counts wherever there are several."""
    told = plan.columns.get("description")
    if told is None or plan.also or "quantity" in plan.fixed or {"quantity", "tanks", "power_kw", "total_kw"} & plan.columns.keys():
        return
    if basis_of(told.heading):  # "Total", "each": a power alone may be that of all
        return
    counts: list[object] = []
    alone = ""
    for line in data:
        row = region.grid.rows[line]
        text = flat(row[told.index]) if told.index < len(row) else ""
        if not text or nothing_word(text) or any(isinstance(cell, str) and total_word(cell) for cell in row):
            continue
        facts = described(text).facts
        if ONE_POWER.fullmatch(text):
            alone = alone or text
        elif "quantity" in facts and "power_kw" in facts:
            counts.append(facts["quantity"])
        elif "power_kw" in facts or "total_kw" in facts:
            return  # of a power among other words it is not sure
    if alone and len(counts) >= LEAST_COUNTED and 1 not in counts:
        plan.fixed["quantity"] = 1
        why = f'"{told.heading[:40]}" counts the heaters of every other row, and none says 1: "{alone}" is one heater'
        plan.why["fixed.quantity"] = why
