"""A sheet without headings on which the list of the sheet before goes on, as the pages of a printed list do."""

from __future__ import annotations

import re

from msgspec.structs import replace

from batch.intake.facts import usual
from batch.intake.grid import Grid
from batch.intake.line_kinds import DATA
from batch.intake.list_columns import NEEDED
from batch.intake.list_words import total_word
from batch.intake.passed_over import MOST_OF_A_ROW
from batch.intake.plan import ListPlan
from batch.intake.study import Studied, finish
from batch.intake.survey import Region, cells_of, flat
from batch.intake.texts_beside import texts_around

LEAST_ROWS = 2
NUMBER = re.compile(r"\d+")
PAGE = re.compile(
    r"(?:[\w-]+\s+)?(?:page|pg\.?|p\.?|sheet|seite|blatt|feuille|p[áa]gina|hoja|foglio|pag\.?|blad|strona|arkusz|folha)\s*\d+"
    r"(?:\s*(?:of|/|von|de|di|van|z)\s*\d+)?",
    re.IGNORECASE,
)
FORWARD = re.compile(
    r"\b(?:brought forward|carried (?:forward|over)|b/f|c/f|continued|cont\.?d?|fortsetzung|[üu]bertrag|report|suite|transport)\b",
    re.IGNORECASE,
)


def continued(grid: Grid, before: Studied) -> Studied | None:
    """The sheet read by the columns of the list before it; None where anything speaks against it.

    Its tab must be the next of its kind ("Page 2" after "Page 1"), every fact must stand in a column of its own, and nothing may stand
    where the list has no column. What no heading says is said by the list's own, so that the columns of number and power are never
    certain.
    """
    plan = before.plan
    if not _goes_on(before, plan) or not _next_tab(before.grid.name, grid.name) or grid.hidden:
        return None
    if any(not plan.first <= index <= plan.last for line in grid.lines for index, _ in cells_of(grid.rows[line])):
        return None
    rows = [line for line in grid.lines if _like(grid, line, plan)]
    if len(rows) < LEAST_ROWS or rows[0] == 0 or not all(_leads(grid, line) for line in grid.lines if line < rows[0]):
        return None
    start, end = rows[0], grid.lines[-1]
    why = f"it stands as on sheet {before.grid.name}, whose list goes on here"
    columns = {
        key: replace(one, heading="", why=why, sure="likely" if key in ("quantity", "power_kw", "total_kw") else "certain")
        for key, one in plan.columns.items()
    }
    ours = ListPlan(
        grid.name, (start,), plan.first, plan.last, start + 1, end + 1, columns, power=plan.power, quantity=plan.quantity, of_heaters=True
    )
    around = texts_around(grid, start - 1, end, start)
    heads = before.region.columns if before.region is not None else []
    region = Region(grid, start - 1, start - 1, start, end, heads, elsewhere=True)
    one = finish(grid, ours, around, before.taken, region)
    read = sum(line.kind == DATA for line in one.lines)
    if one.heaters == "no" or read < len(rows):
        return None
    one.heaters, one.why = "yes", f"the list of sheet {before.grid.name} goes on here, without its headings"
    return one


def _goes_on(before: Studied, plan: ListPlan) -> bool:
    """Is it a plain list of which every row says all by itself, and which leaves nothing open?"""
    asked = plan.questions or plan.also or plan.fixed or plan.when or plan.turned or plan.given
    power = "power_kw" in plan.columns or "total_kw" in plan.columns
    needed = all(key in plan.columns for key in NEEDED if key != "power_kw")
    return before.heaters == "yes" and before.region is not None and power and needed and not asked and bool(plan.power)


def _next_tab(one: str, other: str) -> bool:
    """ "Page 2" after "Page 1": pages of one list, alike but for one number, which is the next."""
    if not PAGE.fullmatch(one.strip()) or not PAGE.fullmatch(other.strip()):
        return False
    if NUMBER.sub("#", one.strip().casefold()) != NUMBER.sub("#", other.strip().casefold()):
        return False
    apart = [(int(a), int(b)) for a, b in zip(NUMBER.findall(one), NUMBER.findall(other), strict=True) if a != b]
    return len(apart) == 1 and apart[0][1] == apart[0][0] + 1


def _leads(grid: Grid, line: int) -> bool:
    """Does a row above the first heaters only count pages, or bring a sum forward? Whatever else stands there may speak of the rows."""
    texts = [flat(value) for _, value in cells_of(grid.rows[line]) if isinstance(value, str)]
    return all(PAGE.fullmatch(text) or total_word(text) or FORWARD.search(text) for text in texts)


def _like(grid: Grid, line: int, plan: ListPlan) -> bool:
    """Has the row a tag, a number of heaters, a power and volts where the list has them?"""
    row = grid.rows[line]
    at = {key: row[one.index] if one.index < len(row) else "" for key, one in plan.columns.items()}
    if not isinstance(at["tank"], str) or not at["tank"].strip():
        return False
    quantity, power, volts, phases = at["quantity"], at.get("power_kw", at.get("total_kw")), at["volts_v"], at["phases"]
    counted = isinstance(quantity, (int, float)) and 0 < quantity <= MOST_OF_A_ROW and float(quantity).is_integer()
    rated = isinstance(power, (int, float)) and power > 0 and isinstance(volts, (int, float)) and usual(float(volts))
    return counted and rated and phases in (1, 3)
