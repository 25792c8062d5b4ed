"""Findings of a workbook that is open in the spreadsheet program, each linked to its cell there."""

from __future__ import annotations

import re
from pathlib import Path

from batch.results import JobResult
from batch.schedules import rows
from batch.writing.book import whole_book
from batch.writing.page import Page
from batch.writing.paper import Footer, print_setup

WIDTHS = (10.0, 24.0, 70.0, 60.0)
HEADINGS = ("Severity", "Sheet and cell", "What", "What to do")
ADDRESS = re.compile(r"(?P<sheet>.+)!(?P<cell>[A-Z]+\d+)")


def write_findings_page(result: JobResult, path: Path, job: Path) -> Path:
    """Writes the findings of a job, worst first, to `path`; a click on a cell's name goes to that cell of `job`.

    Raises:
        OutputFileError: the file cannot be written.
    """
    with whole_book(path, f"Findings of {job.name}") as book:
        page = Page(book, book.add_worksheet(book.tab_name("Findings")), WIDTHS)
        page.title(f"Findings of {job.name}", "Click on a cell's name to go there.")
        for at, words in enumerate(HEADINGS):
            page.text(at, words, "label_wrap")
        page.row += 1
        first = page.row
        for line in rows(result, "findings"):
            cells = tuple(str(line[key] or "") for key in ("severity", "where", "message", "advice"))
            for at, words in enumerate(cells):
                page.text(at, words, "wrap")
            if found := ADDRESS.match(cells[1]):
                sheet = found["sheet"].replace("'", "''")
                place = f"external:{job}#'{sheet}'!{found['cell']}"
                page.sheet.write_url(page.row, 1, place, book.styles["link"], cells[1])
            page.fit(*zip(cells, WIDTHS, strict=True))
            page.row += 1
        page.sheet.freeze_panes(first, 0)
        print_setup(
            page.sheet,
            Footer(),
            first_repeat=first - 1,
            last_repeat=first - 1,
            last_col=page.last_column,
            last_row=max(page.row - 1, first),
        )
    return book.part.landed
