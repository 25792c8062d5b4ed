"""History: a line of revisions, one column each: totals, and what each step changed."""

from __future__ import annotations

from collections.abc import Mapping

from batch.comparing.changeset import Comparison
from batch.comparing.history import History
from batch.comparing.sentences import sentences
from batch.writing.book import Book
from batch.writing.page import Page
from batch.writing.paper import Footer, print_setup
from batch.writing.placed import Placed
from batch.writing.styles import STYLES

NAME = "History"
LABEL, FIGURE = 28.0, 16.0
FATES = ("added", "removed", "changed")


def write_history(book: Book, history: History, placed: Mapping[str, Placed], footer: Footer, us: bool) -> None:
    """Fills the sheet, which was added to the book before."""
    sides = [history.steps[0].old, *(step.new for step in history.steps)]
    sheet = book.get_worksheet_by_name(_own(book))
    page = Page(book, sheet, (LABEL, *[FIGURE] * len(sides), 10.0))
    page.title("From revision to revision", "One column for each revision, oldest first.")
    page.section("Totals")
    names = [side.words for side in sides]
    names = names if len(set(names)) == len(names) else [side.file for side in sides]
    _line(page, "Revision", names)
    for figure in history.whole.figures:
        if figure.project:
            continue
        values = [_figure(history.steps[0], figure.key, 0), *(_figure(step, figure.key, 1) for step in history.steps)]
        heading = history.whole.wording.heading(figure.heading, figure.unit)
        page.text(0, f"{heading} ({figure.unit})" if figure.unit else heading)
        for at, value in enumerate(values, start=1):
            if value is None:
                page.text(at, "none", {**STYLES["label"], "align": "right"})
            else:
                page.number(at, value, figure.format)
        page.row += 1
    page.section("Heater rows of each step, against the revision before")
    _line(page, "Fate", ["", *names[1:]])
    for fate in FATES:
        page.text(0, fate)
        for at, step in enumerate(history.steps, start=2):
            page.number(at, _fates(step, fate), "count")
        page.row += 1
    for step in history.steps:
        page.section(" against ".join(reversed(step.called)))
        for sentence in sentences(step, us):
            words = step.wording.of(sentence.words)
            page.spread(0, words)
            page.fit((words, sum(page.widths)))
            page.row += 1
    if "steps" in placed:
        page.row += 1
        page.text(0, "Every change of every step")
        page.link(1, placed["steps"].name, "A1", placed["steps"].name)
        page.row += 1
    print_setup(
        page.sheet, footer, first_repeat=-1, last_repeat=-2, last_col=page.last_column, last_row=page.row - 1, landscape=len(sides) > 4
    )


def _own(book: Book) -> str:
    """The tab's name: one common program keeps "History" for itself, so the book may have named it otherwise."""
    return next(sheet.get_name() for sheet in book.worksheets() if sheet.get_name().startswith(NAME))


def _line(page: Page, label: str, words: list[str]) -> None:
    for at, word in enumerate((label, *words)):
        page.sheet.write_string(page.row, at, word, page.styles.head("text", number=bool(at)))
    page.fit(*((word, FIGURE * 0.85) for word in words))
    page.row += 1


def _figure(step: Comparison, key: str, side: int) -> float | None:
    found = next((figure for figure in step.figures if figure.key == key and not figure.project), None)
    return None if found is None else (found.before, found.after)[side]


def _fates(step: Comparison, fate: str) -> int:
    return sum(1 for at, pair in enumerate(step.pairs) if pair.either.table == "heaters" and step.fate(at) == fate)
