"""Tables of which nothing is read, under the very headings of a list that is, or with the heaters that are there and no others: they may be
more of the list, so that they are asked about and not left with a note."""

from __future__ import annotations

from collections.abc import Sequence

from batch.intake.facts import figure
from batch.intake.grid import Grid
from batch.intake.heading_sense import concepts_of
from batch.intake.line_kinds import DATA, DOUBT, HIDDEN
from batch.intake.list_words import ditto, nothing_word
from batch.intake.study import Studied
from batch.intake.survey import cells_of, flat
from batch.intake.wording import words

OF_HEATERS = frozenset({"quantity", "power_kw", "total_kw", "description", "volts_v"})
LEAST_HEADINGS = 2
COUNTED = frozenset({"number", "power"})
LOOKED_AT = 20  # rows of a sheet in which such headings may stand: judgement, no source


def ask_alike(studied: Sequence[Studied]) -> None:
    """Makes those that are passed over for no lists of heaters unsure."""
    for one in studied:
        if one.heaters != "no" or one.region is None or one.plan.given:
            continue
        like = next((other for other in studied if other.heaters == "yes" and other is not one and _headed_alike(one, other)), None)
        if like is not None and _says_something(one, like):
            one.heaters, one.why = "unsure", f'its headings are those of the list on sheet "{like.grid.name}"'
        elif (there := _there_only(one)) and not any(line.kind in (DATA, DOUBT, HIDDEN) for line in one.lines):
            one.heaters, one.why = "unsure", f'it has heaters that are there, under "{there}", and says of none that they are to be bought'


def headed_as_a_list(grid: Grid, studied: Sequence[Studied]) -> str:
    """The sheet with a list of heaters whose headings a sheet without one has above filled rows; "" where there is none."""
    rows = [{flat(value).casefold() for _, value in cells_of(grid.rows[line])} for line in grid.lines]
    for one in studied:
        headings = _headings(one)
        at = next((at for at, texts in enumerate(rows[:LOOKED_AT]) if len(headings) >= LEAST_HEADINGS and headings.keys() <= texts), -1)
        if one.heaters == "yes" and at >= 0 and any(len(texts) >= LEAST_HEADINGS for texts in rows[at + 1 :]):
            return one.grid.name
    return ""


def _headings(one: Studied) -> dict[str, int]:
    columns = one.region.columns if one.region is not None else ()
    return {column.text.casefold(): column.index for column in columns if column.text}


def _headed_alike(one: Studied, other: Studied) -> bool:
    return len(_headings(one)) >= LEAST_HEADINGS and _headings(one).keys() == _headings(other).keys()


def _says_something(one: Studied, like: Studied) -> bool:
    """Does a cell say anything in a column that the list has its heaters from, or has what was there in?"""
    taken = {like.plan.columns[key].index for key in OF_HEATERS - {"volts_v"} & like.plan.columns.keys()} | like.plan.before()
    theirs = {at: text for text, at in _headings(like).items()}
    mine = {_headings(one)[theirs[at]] for at in taken if at in theirs}
    below = (cells_of(one.grid.rows[line]) for line in one.region.lines()) if one.region is not None else ()
    return any(at in mine and not _nothing(flat(value)) for cells in below for at, value in cells)


def _nothing(text: str) -> bool:
    return nothing_word(text) and not ditto(text)


def _there_only(one: Studied) -> str:
    """The heading over figures of heaters that are there already; "" where there is none."""
    for column in one.region.columns if one.region is not None else ():
        told = [concepts_of(word) for word in words(column.text)]
        if not (any("former" in some for some in told) and any(some & COUNTED for some in told)):
            continue
        rows = [one.grid.rows[line] for line in one.region.lines()] if one.region is not None else []
        if any(column.index < len(row) and figure(row[column.index]) for row in rows):
            return column.text
    return ""
