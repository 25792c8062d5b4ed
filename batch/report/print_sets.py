"""Which sheets of a results workbook a reader gets on paper: `size --print manager`, `estimator` or `all`.

A sheet that is not of the set is hidden and has no print area: hidden sheets are what every spreadsheet program leaves out when a whole
workbook is printed, and some still print those that have an area of their own. Nothing is lost, since a hidden sheet is shown again by a
right click on any tab. Pictures (one-line diagrams, panel drawings), labels, wiring and the lists of circuits and runs are for the shop
and the site, and in `all` alone: those of a job of 25 tanks would take the estimator's copy over the pages that it promises.

Where no reader is named, everything stays in sight and the estimator's sheets are what prints: the print area of each other sheet is one
empty cell far out, and words beside its title say so. Only a caller from Python who names no set gets a print area on every sheet.
"""

from __future__ import annotations

from collections.abc import Collection

from msgspec import Struct
from xlsxwriter.format import Format

from batch.errors import SpecificationError
from batch.sheets.received import OFF_PAPER
from batch.writing.fast_sheet import LAST_ROW, ScheduleSheet

LAST_COLUMN = 16383  # 0-based
TITLE_WIDE, USUAL_WIDTH = 40.0, 8.43  # digits: of the longest title of a sheet, and of a column whose width nobody set
MANAGER_PAGES = 2  # of the summaries where they print; what is left of three is for Read first
MOST_PAGES = 3


class PrintSet(Struct, frozen=True):
    """Sheets by their id, None = all; `unfolded`: outline groups stand open, so that every column is printed."""

    name: str
    says: str
    sheets: Collection[str] | None = None
    unfolded: bool = False
    hides: bool = True  # what is not of the set is out of sight, too
    brief: bool = False  # of Read first what comes before the list of sheets, and MOST_PAGES pages in all

    def holds(self, id: str) -> bool:
        return self.sheets is None or id in self.sheets


ESTIMATOR = (
    "read_first", "summary", "banks", "panels", "panel_types", "source_totals", "feeder_totals", "distribution", "earth_faults", "heat",
    "materials", "prices", "price_views", "buy_list", "pricing_used", "carried_forward", "questions", "findings",
)  # fmt: skip
UNCHOSEN = "default"  # what the command line asks for where nobody chose
ON_SCREEN = PrintSet("", "every sheet in sight and on paper, outline groups folded")
SETS = {
    one.name: one
    for one in (
        PrintSet("manager", "what the bid is, what is wrong and what is open, on three pages", ("read_first", "summary"), brief=True),
        PrintSet("estimator", "the design, its materials and prices", ESTIMATOR),
        PrintSet("all", "every sheet with every column", unfolded=True),
        PrintSet(UNCHOSEN, "every sheet in sight, the estimator's on paper", ESTIMATOR, hides=False),
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


def leave_out(worksheet: ScheduleSheet, of: PrintSet, look: Format) -> None:
    """Takes a sheet off paper, and out of sight where the set hides; whoever shows a hidden one again prints the whole of it."""
    if of.hides:
        worksheet.print_area_range = ""
        worksheet.hide()
        return
    worksheet.print_area(LAST_ROW - 1, LAST_COLUMN, LAST_ROW - 1, LAST_COLUMN)
    worksheet.repeat_row_range = worksheet.repeat_col_range = ""
    worksheet.write_string(0, _beside_title(worksheet), OFF_PAPER, look)


def _beside_title(worksheet: ScheduleSheet) -> int:
    """The first column that a title leaves free."""
    across, at = 0.0, 0
    while across < TITLE_WIDE:
        across += worksheet.col_info[at].width if at in worksheet.col_info else USUAL_WIDTH
        at += 1
    return at


def summary_pages(of: PrintSet, projects: int) -> int:
    """Pages that each project's Summary may take, 0 = as many as it needs; of more projects the manager gets the totals alone."""
    return MANAGER_PAGES // projects if of.brief and 0 < projects <= MANAGER_PAGES else 0


def first_pages(of: PrintSet, projects: int) -> int:
    """Pages that Read first may take, 0 = as many as it needs."""
    return MOST_PAGES - projects * summary_pages(of, projects) if of.brief else 0
