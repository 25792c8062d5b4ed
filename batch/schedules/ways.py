"""Ways between the sheets of money and those of design: from what a line costs to what it is for, and back.

A way is a formula that looks the row up by its number, so that it still leads there once a sheet is sorted, and a sheet may hold any number
of them. It shows one word of ours, stands beside what is printed, and is empty where there is nothing to lead to.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from batch.material_lines import BANK, FEEDER
from batch.results import BankRow, FeederRow, JobResult, ProjectResult
from batch.schedules.schedule import SEE, ordinal, text
from batch.sheets import Column

Number = str | Callable[[Any], int | None]


def owner_of(result: JobResult, project: ProjectResult, row: BankRow | FeederRow) -> int | None:
    """The number on Prices of what a bank, or a feeder of its own, costs."""
    name = project.project.project
    if isinstance(row, BankRow):
        return result.money.owners.get((name, BANK, row.bank.tank, row.label))
    return result.money.owners.get((name, FEEDER, "", row.feeder.feeder))


def builds_by_name(result: JobResult) -> dict[tuple[str, str], int]:
    """Numbers of what is built, by project and name of the panel type, single circuit or kind of control panel."""
    return {(build.project, build.name): build.number for build in result.money.builds}


def owner_number(number: Number) -> Column:
    """By which ways find the rows of what bears a cost."""
    words = "Of its bank or feeder on Prices. Not printed."
    return ordinal("owner_no", "Line on Prices", "no.", number, width=8, on_paper=False, help=words)


def build_number(number: Number) -> Column:
    """By which ways find the bill of a panel type."""
    return ordinal("build_no", "Bill", "no.", number, width=8, on_paper=False, help="Of its type on Builds and Materials. Not printed.")


def found(sheet_key: str, number: str) -> str:
    """The link to the first row of a sheet whose column `sheet_key` holds the number that column `number` of this row does."""
    return f'HYPERLINK({place(sheet_key, number)},"{SEE}")'


def place(sheet_key: str, number: str) -> str:
    """The words of that link."""
    return f"<#{sheet_key}>&MATCH([{number}],<^{sheet_key}>,0)"


def way(
    key: str, heading: str, leads_to: str, formula: str, *, there: Callable[[Any], object] = bool, nothing: str | None = None
) -> Column:  # fmt: skip
    """A column of ways. `there`: of what a row stands for, whether there is something to lead to. `nothing`: what its formula gives where
    there is not; None = then it is left out.
    """

    def value(at: Any) -> str | None:
        return SEE if there(at) else nothing

    return text(key, heading, 8, value, formula=formula, on_paper=False, help=f"Leads to {leads_to}. Not printed.")


def way_if_any(key: str, heading: str, leads_to: str, sheet_key: str, number: str, *, there: Callable[[Any], object]) -> Column:
    """The same where some rows have nothing to lead to."""
    return way(key, heading, leads_to, f'IFERROR({found(sheet_key, number)},"")', there=there, nothing="")


TO_PART = found("buy_list.number", "item")
