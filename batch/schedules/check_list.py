"""Checks: the workbook checked against itself."""

from __future__ import annotations

from collections.abc import Sequence

from batch.results import Check, JobResult
from batch.schedules.schedule import Schedule, calculated, its_project, text

STATED = 0.5  # kW: a list states whole ones, or rounds what it adds up


def _items(result: JobResult) -> Sequence[Check]:
    return result.checks


def _verdict(check: Check) -> str:
    if check.tolerance is None:
        return "agrees" if abs(check.left - check.right) < STATED else "differs"
    return "PASS" if check.passes else "FAIL"


CHECKS = Schedule(
    "checks", "Checks", "check", "The workbook checked against itself: a difference shows FAIL here and on Read first.",
    items=_items, named_by="check",
    columns=(
        its_project("project"),
        text("check", "Check", 46, "what",
             help="What is compared."),
        calculated("left", "This", "", "number_any", "left",
                   width=13, help="First figure."),
        calculated("right", "Against", "", "number_any", "right",
                   width=13, help="Second figure."),
        calculated("difference", "Difference", "", "number_any", lambda check: check.left - check.right,
                   width=13, formula="[left]-[right]", help="First minus second."),
        calculated("tolerance", "Tolerance", "", "number_any", "tolerance",
                   width=17, help="Maximum difference that passes."),
        text("verdict", "Verdict", 10, _verdict, role="result",
             formula='IF([tolerance]="",IF(ROUND([difference],0)=0,"agrees","differs"),'
             'IF(ABS([difference])<=[tolerance],"PASS","FAIL"))',
             help="PASS or FAIL; of a total that the customer's list states, agrees or differs."),
    ),
)
