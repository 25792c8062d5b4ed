"""Volts and phases of the rows of a panel's schedule by the poles of their circuits.

Three poles are three phases at the panel's volts between lines, two poles one phase between two lines, one pole one phase to neutral
(common practice of panel schedules; where the title gives no volts to neutral, one pole says no volts).
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.grid import worded
from batch.intake.plan import ListPlan
from batch.intake.supply_notation import SupplyFacts, supply_in_text
from batch.intake.survey import HeadingColumn, Region
from batch.ooxml.addresses import letters

POLES = re.compile(
    r"(?:no\.? of )?(?:ckt |breaker |bkr |brkr )?poles?(?: (?:no|nr|qty)\.?)?|p\.?|pol(?:e|zahl)|p[ôo]les?|polos|poli|polen|bieguny",
    re.IGNORECASE,
)


def supply_by_poles(plan: ListPlan, region: Region, data: Sequence[int], around: Sequence[tuple[int, int, str]]) -> None:
    """Gives each row the supply of its poles, and takes back what a title said of all."""
    column = _poles(plan, region, data)
    if column is None or "phases" in plan.columns:
        return
    told = [(row, at, said) for row, at, text in around if row < region.top and (said := supply_in_text(text)) is not None]
    panels = [one for one in told if one[2].volts is not None and one[2].phases == 3 and not one[2].contradictions]
    if len({(said.volts, said.volts_to_neutral) for _, _, said in panels}) != 1:
        plan.fixed.pop("phases", None)
        return
    row, at, panel = panels[0]
    given: dict[int, dict[str, object]] = {}
    for line in data:
        cell = worded(region.grid.rows[line][column.index]).strip()
        if cell in ("1", "2", "3"):
            given[line + 1] = _of_poles(int(cell), panel, "volts_v" not in plan.columns)
    plan.given_values = given
    for key in ("volts_v", "phases"):
        plan.fixed.pop(key, None)
    plan.fixed_volts = plan.fixed_phases = None
    plan.why["poles"] = f'"{column.text}" ({letters(column.index)}) and the supply in {letters(at)}{row + 1}'


def _of_poles(poles: int, panel: SupplyFacts, volts_too: bool) -> dict[str, object]:
    found: dict[str, object] = {"phases": 3 if poles == 3 else 1}
    volts = panel.volts if poles > 1 else panel.volts_to_neutral
    return found | ({"volts_v": volts} if volts_too and volts is not None else {})


def _poles(plan: ListPlan, region: Region, data: Sequence[int]) -> HeadingColumn | None:
    """The column of poles, 1, 2 or 3 in every row that says anything there."""
    used = {index for column in plan.columns.values() for index in column.indexes()}
    for column in region.columns:
        texts = [worded(region.grid.rows[line][column.index]).strip() for line in data if column.index < len(region.grid.rows[line])]
        said = [text for text in texts if text and text not in ("-", "–")]
        if column.index not in used and POLES.fullmatch(column.text.strip()) and said and all(text in ("1", "2", "3") for text in said):
            return column
    return None
