"""A page of words and figures, filled from top to bottom: the common part of Read first, Summary and the template's first sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from batch.writing.book import Book
from batch.writing.fast_sheet import ScheduleSheet, clean
from batch.writing.paging import POINTS, whole_blocks
from batch.writing.paper import Scaled, print_scaled
from batch.writing.styles import FORMATS, STYLES, Props
from batch.writing.text_fit import lines, row_height

ONE_LINE = row_height(1)
LEAST_PERCENT = 55  # scale under which type of 9 points is hard to read (common practice, no source)
READABLE_PERCENT = 68  # of 9 points 6: as small as a page gets for the sake of a last page with little on it (common practice, no source)
LITTLE = 0.2  # of a page


class Page:
    """Columns of fixed widths; `row` is the next free row (0-based). Text is only ever written as text."""

    def __init__(self, book: Book, sheet: ScheduleSheet, widths: Sequence[float]) -> None:
        self.book, self.styles, self.sheet, self.widths, self.row = book, book.styles, sheet, tuple(widths), 0
        self._heights: dict[int, float] = {}
        self._blocks: list[tuple[int, int]] = []  # first and last row of what stays on one printed page
        for at, width in enumerate(self.widths):
            sheet.set_column(at, at, width)
        sheet.hide_gridlines(2)

    @property
    def last_column(self) -> int:
        return len(self.widths) - 1

    @property
    def points(self) -> float:
        """Height of everything so far."""
        return sum(self.heights)

    @property
    def heights(self) -> list[float]:
        """Points of each row so far."""
        return [self._heights.get(row, ONE_LINE) for row in range(self.row)]

    @contextmanager
    def together(self) -> Iterator[None]:
        """What is written within stays on one printed page, where it fits on one."""
        first = self.row
        yield
        self._blocks.append((first, self.row - 1))

    def print_in_whole_blocks(self, paper: str, most_pages: int = 0, ends: Sequence[int] = ()) -> None:
        """Prints upright, one page wide, no block cut. Where that takes more pages than `most_pages` (0 = any number) it ends before the
        first of the rows `ends` that makes it fit, tried in their order; where none does, it is smaller, and in the end fitted by the
        program that prints it.
        """
        for end in (self.row, *ends):
            scaled = Scaled(paper, False, self.widths)
            breaks, pages = self._paged(scaled, end)
            if not most_pages or pages <= most_pages:
                break
        wider = 1.0
        while most_pages and pages > most_pages and scaled.percent > LEAST_PERCENT:
            wider *= 1.04
            scaled = Scaled(paper, False, self.widths, wider)
            breaks, pages = self._paged(scaled, end)
        scaled, breaks = self._without_a_rest(scaled, breaks, end)
        if end < self.row:
            self.sheet.print_area(0, 0, end - 1, self.last_column)
        if most_pages and pages > most_pages:
            self.sheet.fit_to_pages(1, most_pages)
        else:
            print_scaled(self.sheet, scaled, breaks)
        if wider > 1.0:
            self.sheet.center_horizontally()

    def _without_a_rest(self, scaled: Scaled, breaks: list[int], end: int) -> tuple[Scaled, list[int]]:
        """A little smaller, where that saves a last page with hardly anything on it."""
        rest = sum(self.heights[breaks[-1] : end]) if breaks else 0.0
        closer = scaled
        while 0.0 < rest <= LITTLE * closer.inches_high * POINTS:
            closer = Scaled(closer.paper, closer.landscape, closer.widths, closer.wider * 1.02)
            if closer.percent < READABLE_PERCENT:
                break
            fewer, _ = self._paged(closer, end)
            if len(fewer) < len(breaks):
                return closer, fewer
        return scaled, breaks

    def _paged(self, scaled: Scaled, end: int) -> tuple[list[int], int]:
        """Rows before which a page begins, of those before `end`, and how many pages they take."""
        blocks = [(first, min(last, end - 1)) for first, last in self._blocks if first < end]
        return whole_blocks(self.heights[:end], blocks, scaled.inches_high * POINTS)

    def height(self, points: float, row: int | None = None) -> None:
        at = self.row if row is None else row
        self._heights[at] = points
        self.sheet.set_row(at, points)

    def title(self, words: str, under: str = "") -> None:
        """The page's title and one quiet line below it."""
        self.height(27, 0)
        self.text(0, words, "title", row=0)
        if under:
            self.text(0, under, "subtitle", row=1)
        self.row = 2

    def section(self, words: str) -> None:
        """A ruled heading across the page with air above and below."""
        self._blocks.append((self.row, self.row + 3))  # a heading and what stands below it
        self.height(10.5)
        self.row += 1
        self.height(18)
        self.text(0, words, "section")
        for at in range(1, len(self.widths)):
            self.sheet.write_blank(self.row, at, None, self.styles["section"])
        self.row += 1
        self.height(4.5)
        self.row += 1

    def entry(self, label: str, words: str, column: int, style: str = "wrap") -> None:
        """A quiet label at the left and words in `column`, the row as tall as both need."""
        self.text(0, label, "label_wrap")
        self.text(column, words, style)
        self.fit((label, self.widths[0]), (words, self.widths[column]))
        self.row += 1

    def fit(self, *cells: tuple[str, float], bold: bool = False) -> None:
        """Makes the current row as tall as its (text, width) cells need when wrapped."""
        count = max(lines(clean(words), width, bold) for words, width in cells)
        if count > 1:
            self.height(row_height(count))

    def text(self, column: int, words: str, style: str | Props = "plain", row: int | None = None) -> None:
        self.sheet.write_string(self.row if row is None else row, column, clean(self.book.wording.of(words)), self.style(style))

    def spread(self, column: int, words: str, style: str | Props = "plain", last: int | None = None) -> None:
        """Words over several columns: one line runs on by itself; more lines are joined cells, since text wraps only inside one."""
        last = self.last_column if last is None else last
        if lines(clean(words), sum(self.widths[column : last + 1])) == 1:
            self.text(column, words, style)
            return
        wrapped = {**(STYLES[style] if isinstance(style, str) else style), "text_wrap": True}
        self.sheet.merge_range(self.row, column, self.row, last, "", self.style(wrapped))
        self.text(column, words, wrapped)

    def number(
        self, column: int, value: float, format: str, style: str | Props = "plain", *, formula: str = "", row: int | None = None
    ) -> None:
        """A number, live where a formula is given."""
        made = self.style({**(STYLES[style] if isinstance(style, str) else style), "num_format": FORMATS[format]})
        at = self.row if row is None else row
        if formula:
            self.sheet.write_formula(at, column, formula, made, value)
        else:
            self.sheet.write_number(at, column, value, made)

    def style(self, style: str | Props):
        return self.styles[style] if isinstance(style, str) else self.styles.of(style)

    def link(self, column: int, sheet_name: str, cell: str, words: str) -> None:
        """A link inside the workbook, on words of our own."""
        target = "'" + sheet_name.replace("'", "''") + "'!" + cell
        self.sheet.write_url(self.row, column, f"internal:{target}", self.styles["link"], words)

    def over_nought_rule(self, column: int) -> None:
        """A warning's look for a count in this row once it is not nought."""
        rule = {"type": "cell", "criteria": ">", "value": 0, "format": self.styles.conditional("is_stop")}
        self.sheet.conditional_format(self.row, column, self.row, column, rule)

    def words_rule(self, column: int, words: dict[str, str], first: int | None = None) -> None:
        """A look for each word that a cell may come to show, in this row, or from row `first` to the one above; the word is what counts."""
        start, end = (self.row, self.row) if first is None else (first, self.row - 1)
        for word, style in words.items():
            rule = {"type": "cell", "criteria": "==", "value": f'"{word}"', "format": self.styles.conditional(style)}
            self.sheet.conditional_format(start, column, end, column, rule)
