"""Whether a short list under headings of ours is read as a form, which says all in its columns, or as a list, whose looks are heard too.

A form is filled in by who knows the program. A customer's list may have the same five headings by chance, and rows struck through,
comments, sentences and columns of its own that say what is not to be built, or built otherwise: the form would size all of it.
"""

from __future__ import annotations

import re

from batch.intake.cells import squeezed
from batch.intake.examples import SHOWN
from batch.intake.grid import Grid
from batch.intake.head import Head
from batch.intake.headings import BRACKETS
from batch.intake.list_columns import LIST, NEEDED
from batch.intake.notes_told import hold_word
from batch.intake.plan import ListPlan

MOST_HEADINGS = 10  # of a list that may be a customer's; the form has more: judgement, no source
CHECKED = 400  # rows that are looked at
SPEAKS = re.compile(r"\b\d{3}\s*V\b|\b[13]\s*-?\s*ph|phas|fas[ei]|\bt[yií]p[.ií]", re.IGNORECASE)  # of supplies and lines


def headings_ours(plan: ListPlan) -> bool:
    """Are all the needed headings our own, as our form has them? There the power is each heater's."""
    return all(
        key in plan.columns and squeezed(BRACKETS.sub(" ", plan.columns[key].heading)) == squeezed(LIST[key].heading) for key in NEEDED
    )


def says_more(grid: Grid, head: Head) -> bool:
    """Do the looks or further columns of a short list say something of its rows that a form has no place for?"""
    if not 0 < len(head.headings) <= MOST_HEADINGS:
        return False
    first = head.first_data_row
    if any(row >= first for row, _ in grid.struck):
        return True
    if any(row >= first for row, _ in grid.comments) and _comments_speak(grid, first):
        return True
    if _words_speak(grid, head):
        return True
    further = [heading for heading in head.headings if not heading.key and heading.text.strip()]
    return any(_column_speaks(grid, first, heading.text, heading.index) for heading in further)


def _words_speak(grid: Grid, head: Head) -> bool:
    """Does a remark, or a sentence alone in its row, speak of a supply or of what is typical? Or is a row an example?"""
    notes = {heading.index for heading in head.headings if heading.key == "notes"}
    for line in grid.lines[:CHECKED]:
        cells = [(at, value) for at, value in enumerate(grid.rows[line]) if value not in ("", None)]
        if head.top <= line <= head.row or not cells:
            continue
        alone = len(cells) == 1
        if any((alone or at in notes) and isinstance(value, str) and SPEAKS.search(value) for at, value in cells):
            return True
        if line > head.row and isinstance(cells[0][1], str) and SHOWN.match(cells[0][1]):
            return True
    return False


def _comments_speak(grid: Grid, first: int) -> bool:
    from batch.intake.remark_words import plain_remark  # with the words of all languages, which a form has no need of

    return any(row >= first and (not text or not plain_remark(text)) for (row, _), text in grid.comments.items())


def _column_speaks(grid: Grid, first: int, heading: str, at: int) -> bool:
    """Does a column say of a row that it is out or open, or mark rows under a heading that says which are wanted?"""
    cells = [grid.rows[line][at] for line in grid.lines_from(first)[:CHECKED] if at < len(grid.rows[line])]
    said = [value.strip() for value in cells if isinstance(value, str) and value.strip()]
    if any(hold_word(text) for text in said):
        return True
    from batch.intake.columns_marked import says_which

    return bool(said) and says_which(heading)
