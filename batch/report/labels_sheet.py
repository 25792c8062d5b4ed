"""Panel labels, laid out to be printed: one block for each heater panel, distribution unit and control panel that may be built, as many
whole blocks as a page takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import islice
from typing import NamedTuple

from xlsxwriter.format import Format

from batch.results import ProjectResult
from batch.schedules.control_label_list import control_label_facts
from batch.schedules.label_list import label_facts
from batch.schedules.row_words import AS_MARKED
from batch.sheets import Sheet
from batch.writing.book import Book
from batch.writing.fast_sheet import TextRow, clean
from batch.writing.page import ONE_LINE, Page
from batch.writing.paper import WIDER, Footer, Scaled, print_scaled, print_setup
from batch.writing.sheet_writer import converter
from batch.writing.styles import HEAD_RESULT, STOP_FILL, STOP_INK, STYLES, Props
from batch.writing.text_fit import lines, row_height

NAME = "Panel labels"
HELP = (
    "One label for each heater panel, distribution unit of ours and control panel, to print and fix inside its door; none for what is on "
    "hold. Check each against it as built."
)
WIDTHS = (23.0, 84.0)
MOST = 2000  # labels laid out; a list as long as that is printed by whatever prints labels
POINTS = 72  # to the inch
BARE = 2  # rows of the sheet above the first label
WARNING = "WARNING"
TITLE, WORDS = 12.0, 9.0  # points of type
TOP: Props = {"top": 2, "top_color": HEAD_RESULT, "font_size": TITLE, "bold": True, "valign": "vcenter"}
BAR: Props = {"bold": True, "font_color": STOP_INK, "bg_color": STOP_FILL, "valign": "vcenter"}
END: Props = {"bottom": 1, "bottom_color": HEAD_RESULT}


class LabelsOf(NamedTuple):
    """How the labels of a project speak: its country's words and units."""

    project: ProjectResult
    us: bool


def write_labels(
    book: Book, sheet: Sheet, rows: Iterable[Mapping], *, footer: Footer, of: Mapping[str, LabelsOf], several: bool
) -> tuple[str, str]:
    """Writes the sheet from the rows of the lists of labels (`sheet` declares those of heater panels); returns its tab and how many labels
    stand on it, in words: "" where there is none, and no tab then. `of`: how those of each project
    are worded. `several`: the job has several projects, so a label says its own.
    """
    source = iter(rows)
    taken = list(islice(source, MOST))
    if not taken:
        return "", ""
    name = book.tab_name(NAME)
    page = Page(book, book.add_worksheet(name), WIDTHS)
    page.title(NAME, HELP)
    page.row += 1
    paper = Scaled(footer.paper, False, WIDTHS, WIDER)
    labels = _Labels(page, sheet, of, several)
    page.row += page.sheet.store_texts(page.row, len(WIDTHS), labels.rows(taken, paper.inches_high * POINTS))
    print_setup(page.sheet, footer, first_repeat=-1, last_repeat=-2, last_col=page.last_column, last_row=page.row - 2, landscape=False)
    print_scaled(page.sheet, paper, labels.breaks)
    count = f"{len(taken):,} label{'' if len(taken) == 1 else 's'}"
    return name, count if next(source, None) is None else f"the first {count}; all are on Label list and Control labels"


class _Labels:
    """Labels one below the other, as rows of text. `breaks`: the rows before which a page begins, so that none is cut."""

    def __init__(self, page: Page, sheet: Sheet, of: Mapping[str, LabelsOf], several: bool) -> None:
        self._page, self._sheet, self._of, self._several = page, sheet, of, several
        self.breaks: list[int] = []
        plain, wrap = STYLES["plain"], {"text_wrap": True}
        self._top = page.style({**plain, **TOP, **wrap})
        self._bar = page.style({**plain, **BAR, **wrap})
        self._caption, self._words = page.style(STYLES["label"]), page.style({**STYLES["strong"], **wrap})
        self._end = page.style({**plain, **END})

    def rows(self, rows: list[Mapping], room: float) -> Iterator[TextRow]:
        """The rows of every label; `room`: points of a page."""
        first, left = self._page.row, room - self._page.points
        for row in rows:
            label = list(self._label(row))
            tall = sum(line.points for line in label)
            if tall > left and first > BARE + 1:
                self.breaks.append(first)
                left = room
            left -= tall
            first += len(label)
            yield from label

    def _label(self, row: Mapping) -> Iterator[TextRow]:
        """One label with the gap below it."""
        of = f" of project {row['project']}" if self._several else ""
        control, wording = "disconnects" in row, self._of[row["project"] or ""].project.wording
        title = f"{row['type']}{of}" if control else f"{row['type']}{of}: {row['volts']}; {row['branches']}"
        yield self._line(row["panel"], title, left=self._top, right=self._top, size=TITLE, least=21.0)
        yield self._line(WARNING, row["warning"], left=self._bar, right=self._bar, size=WORDS, least=18.0)
        for caption, words in control_label_facts(row) if control else label_facts(row, self._torque):
            yield self._line(wording.of(caption), words, left=self._caption, right=self._words, size=WORDS, least=ONE_LINE)
        yield TextRow(3.0, (("", self._end),) * len(WIDTHS))
        yield TextRow(7.5)

    def _line(self, caption: str, words: str, *, left: Format, right: Format, size: float, least: float) -> TextRow:
        """A caption and its words, the row as tall as the words need in type a tenth wider."""
        words = clean(words)
        count = max(lines(caption, WIDTHS[0] / WIDER, left is not self._caption, size), lines(words, WIDTHS[1] / WIDER, True, size))
        return TextRow(max(least, row_height(count) * size / WORDS), ((caption, left), (words, right)))

    def _torque(self, row: Mapping, key: str) -> str:
        """A torque in the unit shown, or room to write it where no part of the stock list states it."""
        us = self._of[row["project"] or ""].us
        value, change = row[key], converter(self._sheet[key], us)
        unit = self._sheet[key].shown_unit(us)
        return AS_MARKED if value is None else f"{round(change(value) if change else value, 1):g} {unit}"
