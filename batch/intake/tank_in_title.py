"""The one tank of a list without a column for tanks: "TANK T1 - CLEANER" over its heaters, or "Tank no. | T1" in the head of a form."""

from __future__ import annotations

from collections.abc import Sequence

from batch.intake.grid import worded
from batch.intake.heading_sense import concepts_of
from batch.intake.plan import ListPlan
from batch.intake.survey import Region, cells_of, flat
from batch.intake.tank_words import tank_named
from batch.intake.texts_beside import cell_of
from batch.intake.wording import words

ABOVE = 8  # rows of a head in which its tank stands: judgement, no source
LEAST_OF_A_TABLE = 5  # cells of a row that is of another table: judgement, no source
LONGEST_LABEL, LONGEST_TAG = 3, 24  # words of a label, letters of a tag: judgement, no source


def tank_of_title(plan: ListPlan, region: Region, data: Sequence[int]) -> None:
    """Fixes the tank of all rows that name none, where the head above them names one and only one."""
    if "tank" in plan.columns or plan.given or plan.turned or "tanks" in plan.columns or not plan.columns.keys() & {"power_kw", "total_kw"}:
        return
    grid = region.grid
    if any(tank_named(flat(value)).tags for line in data for _, value in cells_of(grid.rows[line]) if isinstance(value, str)):
        return  # the rows name their tanks themselves
    found: dict[str, tuple[int, int, str]] = {}
    for line in range(region.top - 1, max(region.top - 1 - ABOVE, -1), -1):
        cells = cells_of(grid.rows[line])
        if len(cells) >= LEAST_OF_A_TABLE:
            break
        for (at, value), (_, beside) in zip(cells, [*cells[1:], (-1, None)], strict=False):
            tag = _tag(value, beside)
            if tag:
                found.setdefault(tag, (line, at, flat(value) if isinstance(value, str) else tag))
    if len(found) == 1:
        tag, (line, at, text) = next(iter(found.items()))
        plan.fixed["tank"] = tag
        plan.why["fixed.tank"] = f'"{text[:60]}" in {cell_of(line, at)}'


def _tag(value: object, beside: object) -> str:
    """The tank that a cell names by a word, or whose label it is: then the cell beside it names the tank."""
    if not isinstance(value, str):
        return ""
    text = flat(value).strip()
    named = tank_named(text)
    if named.by_word:
        return named.text if len(named.tags) == 1 and not named.doubt and named.start == 0 else ""
    text, colon, behind = text.partition(":")
    beside = behind if colon and behind.strip() else beside  # "Tank: T1"
    parts = words(text)
    label = 0 < len(parts) <= LONGEST_LABEL and "tank" in concepts_of(parts[0]) and not any(map(str.isdigit, text))
    rest_counts = all(concepts_of(part) & {"number", "tank"} or part in ("tag", "id", "no", "nr", "name") for part in parts[1:])
    said = worded(beside).strip() if beside is not None else ""
    return said if label and rest_counts and 0 < len(said) <= LONGEST_TAG and any(map(str.isdigit, said)) else ""
