"""The frame that every schedule has: title, help, band of roles, heading, widths, table."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence

from xlsxwriter.utility import xl_range

from batch.sheets import Column
from batch.writing.as_sized import WORD
from batch.writing.book import Book
from batch.writing.fast_sheet import ScheduleSheet
from batch.writing.placed import BAND, DATA, HEADING, HELP, TITLE, Placed
from batch.writing.styles import EDITED_STYLE, WORD_STYLES
from batch.writing.text_fit import INDENT, WIDEST, lines, row_height, word_room

HEADING_LINES = 3
BUTTON_PT = 13.5  # height of a filter's button, which lies over the lower right corner of a heading


def head_of(book: Book, worksheet: ScheduleSheet, title: str, help: str) -> None:
    """Title and one line of help at the top of a sheet; both are our own words."""
    worksheet.set_row(TITLE, 24)
    worksheet.write_string(TITLE, 0, title, book.styles["title"])
    worksheet.write_string(HELP, 0, help, book.styles["subtitle"])
    worksheet.hide_gridlines(2)


def fitted_width(width: float, heading: str) -> float:
    """A column's width, or what the longest word of its heading and three lines of it need, as far as a column can be widened."""
    width = max(width, round(word_room(heading, True), 1))
    while width < WIDEST and lines(heading, width - INDENT, True) > HEADING_LINES:
        width += 1
    return min(width, WIDEST)


def heading_height(headings: Iterable[str], widths: Iterable[float]) -> float:
    """Points that the tallest heading needs, its words wrapped into its column, and below them room for the filter's button."""
    return row_height(max(lines(heading, width - INDENT, True) for heading, width in zip(headings, widths, strict=True))) + BUTTON_PT


def head_style(book: Book, column: Column):
    return book.styles.head(column.role, number=column.kind in ("integer", "number", "volts"))


def band(
    book: Book,
    worksheet: ScheduleSheet,
    roles: Sequence[str],
    widths: Sequence[float],
    *,
    words: Mapping[str, str],
    starts: Collection[int],
) -> None:
    """The band above the heading: which columns were given, which are worked out, which are built to; said anew from each of `starts` on,
    where a printed strip or an outline group begins or ends.
    """
    for at, role in enumerate(roles):
        style = book.styles.band(role)
        if at not in starts and at and role == roles[at - 1]:
            worksheet.write_blank(BAND, at, None, style)
            continue
        end = next((to for to in range(at + 1, len(roles)) if roles[to] != role or to in starts), len(roles))
        fits = lines(words[role], sum(widths[at:end]) - INDENT, size=8.0) == 1
        worksheet.write_string(BAND, at, words[role] if fits else "", style)


def cover(worksheet: ScheduleSheet, headings: Sequence[str], styles: Sequence, last_row: int, name: str) -> None:
    """The Excel table over heading and data; plain, since the cells carry their own look."""
    columns = [{"header": heading, "header_format": style} for heading, style in zip(headings, styles, strict=True)]
    worksheet.ignore_errors(
        {"number_stored_as_text": xl_range(HEADING, 0, last_row, len(headings) - 1)}
    )  # tags such as 101 are meant as text
    worksheet.cover(HEADING, last_row, len(headings) - 1, {"name": name, "style": None, "columns": columns})


def table_name(id: str, number: int = 1) -> str:
    """A table's name: never one that could be read as a cell address."""
    return f"Table_{id}" if number == 1 else f"Table_{id}_{number}"


def words(book: Book, placed: Placed) -> None:
    """Status, severity and verdict words get a look of their own beside the word."""
    for key in ("status", "severity", "effect", "verdict", WORD):
        at = placed.columns.get(key)
        if at is None:
            continue
        for word, style in (WORD_STYLES if key != WORD else EDITED_STYLE).items():
            rule = {"type": "cell", "criteria": "==", "value": f'"{word}"', "format": book.styles.conditional(style)}
            placed.worksheet.conditional_format(DATA, at, placed.last, at, rule)
