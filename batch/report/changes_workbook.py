"""The comparison workbook: what changed on one page, and behind it every row, change, feeder, panel type, part and finding."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from msgspec.structs import replace

from batch.comparing.changeset import Comparison
from batch.comparing.history import History
from batch.report.changes_history import NAME as HISTORY
from batch.report.changes_history import write_history
from batch.report.changes_page import ChangesPage
from batch.report.changes_rows import (
    compared_rows,
    feeder_rows,
    finding_rows,
    heading_rows,
    material_rows,
    money_rows,
    price_rows,
    type_rows,
)
from batch.report.changes_sheet import write_changes
from batch.results import Check
from batch.schedules import CHECKS
from batch.schedules.country_words import rows_in_words, sheet_in
from batch.sheets import Sheet
from batch.sheets.changes import FEEDERS, FINDINGS, HEADINGS, MATERIALS, MONEY, PRICE_STEPS, ROWS, TYPES
from batch.sheets.received import WHAT_CHANGED
from batch.whole_file import FileInTheMaking
from batch.writing.book import Book, whole_book
from batch.writing.paper import Footer
from batch.writing.placed import Placed
from batch.writing.sheet_writer import ScheduleWriter

STEPS = "Step by step"
CHECKED = "The comparison checked against itself: a difference shows FAIL here and on What changed."


def write_comparison(
    history: History, path: Path, *, stamp: str = "", program: str = "", us: bool = False, paper: str = "letter"
) -> FileInTheMaking:
    """Writes the comparison to `path`, whole or not at all; returns where it landed.

    OutputFileError where the file cannot be written; whatever stood there is then untouched.
    """
    path = Path(path)
    whole = history.whole
    revisions = f"{whole.new.revision} against {whole.old.revision}" if whole.new.revision and whole.old.revision else ""
    footer = Footer(revisions, paper)
    with whole_book(path, f"{whole.new.file} against {whole.old.file}") as book:
        book.add_worksheet(book.tab_name(WHAT_CHANGED))
        if len(history.steps) > 1:
            book.add_worksheet(book.tab_name(HISTORY))
        placed = _schedules(book, whole, history, footer, us)
        if len(history.steps) > 1:
            write_history(book, history, placed, footer, us)
        ChangesPage(book, history, placed, us).fill(footer, stamp, program)
    return book.part


def _schedules(book: Book, whole: Comparison, history: History, footer: Footer, us: bool) -> dict[str, Placed]:
    placed: dict[str, Placed] = {}

    def write(short: str, sheet: Sheet, rows: Iterable[dict], of_the_customer: bool = False) -> None:
        """A sheet in the words of its projects' countries; texts of the customer's own stay as they are."""
        if not of_the_customer:
            rows = rows_in_words(rows, sheet, whole.wordings)
        written = ScheduleWriter(book, sheet_in(sheet, whole.wordings.values()), footer, us=us, names={}).write(rows)
        if written:
            placed[short] = written[0]

    write("rows", ROWS, compared_rows(whole))
    step = " to ".join(whole.called)
    changes = write_changes(book, [(step, change) for change in whole.changes], footer, whole, us=us)
    if changes is not None:
        placed["changes"] = changes
    write("feeders", FEEDERS, feeder_rows(whole))
    write("types", TYPES, type_rows(whole))
    write("materials", MATERIALS, material_rows(whole))
    write("money", MONEY, money_rows(whole))
    write("price", PRICE_STEPS, price_rows(whole))
    write("findings", FINDINGS, finding_rows(whole))
    write("headings", HEADINGS, heading_rows(whole), of_the_customer=True)
    if len(history.steps) > 1:
        steps = [(" to ".join(one.called), change) for one in history.steps for change in one.changes]
        written = write_changes(book, steps, footer, whole, us=us, name=STEPS, number=2)
        if written is not None:
            placed["steps"] = written
    write("checks", replace(CHECKS, help=CHECKED), map(_check_row, whole.checks))
    return placed


def _check_row(check: Check) -> dict[str, object]:
    return {
        "project": check.project,
        "check": check.what,
        "left": check.left,
        "right": check.right,
        "difference": check.left - check.right,
        "tolerance": check.tolerance,
        "verdict": "PASS" if check.passes else "FAIL",
    }
