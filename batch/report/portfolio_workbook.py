"""The portfolio workbook: a line for each bid of a folder, with totals over those in sight."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from batch.sheets.portfolio import PORTFOLIO
from batch.whole_file import FileInTheMaking
from batch.writing.book import whole_book
from batch.writing.paper import Footer
from batch.writing.sheet_writer import ScheduleWriter


def write_portfolio(lines: Iterable[Mapping[str, object]], path: Path) -> FileInTheMaking:
    """Writes the portfolio to `path`, whole or not at all; `lines` by the keys of PORTFOLIO.

    Raises:
        OutputFileError: the file cannot be written; whatever stood there is then untouched.
    """
    with whole_book(Path(path), "Portfolio of bids") as book:
        ScheduleWriter(book, PORTFOLIO, Footer(), us=False, names={}).write(dict(line) for line in lines)
    return book.part
