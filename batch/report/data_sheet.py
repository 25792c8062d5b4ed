"""The sheet of data behind a results workbook: very hidden, since it is for this program and no eye."""

from __future__ import annotations

from batch.schedules.sized_data import pieces
from batch.sheets.received import DATA
from batch.writing.book import Book
from batch.writing.paper import Footer, print_setup

WORDS = "What was sized and decided, for this program to read again. Nothing here is to be changed: type into the other sheets."


def write_data(book: Book, text: str, footer: Footer) -> None:
    """One cell below the other, our own words first. A sheet outlives a save by other programs; a part that they do not know would not."""
    worksheet = book.add_worksheet(book.tab_name(DATA))
    for row, piece in enumerate((WORDS, *pieces(text))):
        worksheet.write_string(row, 0, piece)
    print_setup(worksheet, footer, first_repeat=-1, last_repeat=-2, last_col=0, last_row=0)
    worksheet.print_area_range = ""  # some programs print a sheet that is out of sight where it has an area
    worksheet.very_hidden()
