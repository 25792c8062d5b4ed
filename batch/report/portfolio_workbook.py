"""The portfolio workbook: a line for each bid of a folder, or for each section of a job, with totals over those in sight."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from batch.sheets.column import Sheet
from batch.sheets.portfolio import PORTFOLIO
from batch.whole_file import FileInTheMaking
from batch.writing.book import whole_book
from batch.writing.paper import Footer
from batch.writing.sheet_writer import ScheduleWriter


def write_portfolio(
    lines: Iterable[Mapping[str, object]], path: Path, sheet: Sheet = PORTFOLIO, title: str = "Portfolio of bids"
) -> FileInTheMaking:
    """Writes the portfolio to `path`, whole or not at all; `lines` by the keys of `sheet`, which may be SECTIONS too.

    Raises:
        OutputFileError: the file cannot be written; whatever stood there is then untouched.
    """
    with whole_book(Path(path), title) as book:
        ScheduleWriter(book, sheet, Footer(), us=False, names={}).write(dict(line) for line in lines)
    return book.part
