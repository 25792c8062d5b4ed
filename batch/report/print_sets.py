"""Which sheets of a results workbook a reader gets on paper: `size --print manager`, `estimator` or `all`.

A sheet that is not of the set is hidden and has no print area: hidden sheets are what every spreadsheet program leaves out when a whole
workbook is printed, and some still print those that have an area of their own. Nothing is lost, since a hidden sheet is shown again by a
right click on any tab; without a set every sheet is in sight. Pictures (one-line diagrams, panel drawings) and labels are in `all` alone:
the diagrams of a job of 25 tanks would take the estimator's copy over the pages that it promises.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from batch.errors import SpecificationError
from batch.writing.fast_sheet import ScheduleSheet

MANAGER_PAGES = 2  # of the summaries where they print; what is left of three is for Read first
MOST_PAGES = 3


@dataclass(frozen=True)
class PrintSet:
    """Sheets by their id, None = all; `unfolded`: outline groups stand open, so that every column is printed."""

    name: str
    says: str
    sheets: Collection[str] | None = None
    unfolded: bool = False
    brief: bool = False  # of Read first what comes before the list of sheets, and MOST_PAGES pages in all

    def holds(self, id: str) -> bool:
        return self.sheets is None or id in self.sheets


ON_SCREEN = PrintSet("", "every sheet in sight, outline groups folded")
SETS = {
    one.name: one
    for one in (
        PrintSet("manager", "what the bid is, what is wrong and what is open, on three pages", ("read_first", "summary"), brief=True),
        PrintSet(
            "estimator",
            "the design and its materials",
            (
                "read_first", "summary", "banks", "panels", "panel_types", "circuits", "feeder_totals", "heat", "materials",
                "carried_forward", "findings",
            ),
        ),
        PrintSet("all", "every sheet with every column", unfolded=True),
    )
}  # fmt: skip


def set_named(name: str) -> PrintSet:
    """The set of that name; "" is none. SpecificationError for one that is not."""
    if not name:
        return ON_SCREEN
    try:
        return SETS[name]
    except KeyError:
        raise SpecificationError(f"print set {name!r} is none of {', '.join(SETS)}") from None


def leave_out(worksheet: ScheduleSheet) -> None:
    """Takes a sheet off paper and out of sight; whoever shows it again prints the whole of it."""
    worksheet.print_area_range = ""
    worksheet.hide()


def summary_pages(of: PrintSet, projects: int) -> int:
    """Pages that each project's Summary may take, 0 = as many as it needs; of more projects the manager gets the totals alone."""
    return MANAGER_PAGES // projects if of.brief and 0 < projects <= MANAGER_PAGES else 0


def first_pages(of: PrintSet, projects: int) -> int:
    """Pages that Read first may take, 0 = as many as it needs."""
    return MOST_PAGES - projects * summary_pages(of, projects) if of.brief else 0
