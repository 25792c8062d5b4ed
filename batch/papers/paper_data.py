"""What the templates are given: one declared set of records, handed over as JSON. DEVELOPERS.md tells a firm what it can use.

Every figure is worded here, with its unit: a template places words and computes nothing of the trade.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import chain
from typing import Any, NamedTuple

import msgspec

SCHEMA = 1  # raised when a field goes or changes its meaning; a field that is added leaves it as it is
PAGE = {"letter": "us-letter", "a4": "a4"}  # papers of rule sets by the names that templates know


class ColumnHead(NamedTuple):
    """Heading of a column.

    words   "Panel"
    unit    "A", "" = none
    align   "left" or "right"
    share   of the table's width, against those of the other columns
    """

    words: str
    unit: str = ""
    align: str = "left"
    share: float = 1.0


class PaperTable(NamedTuple):
    """A table.

    title     above it, "" = none
    headings  one for each column
    rows      texts, one for each column
    held      which rows, from 0, are of something on hold
    note      below it, "" = none
    longest   most signs in a row of each column, so that a template need not look through them
    """

    title: str
    headings: tuple[ColumnHead, ...]
    rows: tuple[tuple[str, ...], ...]
    held: tuple[int, ...] = ()
    note: str = ""
    longest: tuple[int, ...] = ()


def table(
    title: str, headings: Sequence[ColumnHead], rows: Iterable[tuple[str, ...]], held: Iterable[int] = (), note: str = ""
) -> PaperTable:
    """A table with its longest words counted."""
    listed = tuple(rows)
    longest = tuple(max((len(words) for words in column), default=0) for column in zip(*listed, strict=True)) or (0,) * len(headings)
    return PaperTable(title, tuple(headings), listed, tuple(held), note, longest)


class PaperFact(NamedTuple):
    """A caption and its words."""

    caption: str
    words: str


class PaperFigure(NamedTuple):
    """A drawing.

    file    where it stands for a template: "/figures/001.svg"
    width   in points, as drawn; its words are at least 6.8 points high there
    height  in points
    says    the drawing in words
    """

    file: str
    width: float
    height: float
    says: str


class Label(NamedTuple):
    """A panel's label or a box's nameplate.

    tag       of what it is fixed to
    title     beside the tag
    signal    signal word: "WARNING", "" = none
    warning   behind the signal word
    facts     below, line by line
    """

    tag: str
    title: str
    signal: str
    warning: str
    facts: tuple[PaperFact, ...]


class Paper(NamedTuple):
    """One drawing or list; it takes as many sheets as it needs.

    project   which of `projects`, from 0
    group     "30"; `groups` names it
    kind      which template lays it out: "transmittal", "index", "drawing", "type", "ladder", "schedule", "wiring", "labels",
              "materials", "record"
    number    "PILOT-30-01"
    title     of the drawing
    status    "FOR APPROVAL", or the word of what is on hold
    band      words of the band across the sheet, "" = none
    quantity  how many are built so, "" = it does not apply
    tags      of what it is about
    changed   against the earlier revision: "new", "changed", "as before", "" = none was named
    facts, figures, tables, labels, notes   what stands on it
    """

    project: int
    group: str
    kind: str
    number: str
    title: str
    status: str
    band: str = ""
    quantity: str = ""
    tags: str = ""
    changed: str = ""
    facts: tuple[PaperFact, ...] = ()
    figures: tuple[PaperFigure, ...] = ()
    tables: tuple[PaperTable, ...] = ()
    labels: tuple[Label, ...] = ()
    notes: tuple[str, ...] = ()


class ProjectWords(NamedTuple):
    """A project, for title blocks. Blank = not given. `page`: "us-letter" or "a4", of its papers."""

    name: str
    title: str
    customer: str
    site: str
    revision: str
    date: str
    prepared_by: str
    code: str
    page: str


class PaperGroup(NamedTuple):
    """A group of papers: its number and its name."""

    number: str
    name: str


class PaperSet(NamedTuple):
    """Everything that a template may use.

    schema    the version of these records
    job       name of the file it was made from
    program   name and version of what made it
    audience  "all", "shop", "field", "inspector", "customer"
    page      "us-letter" or "a4", of the first project
    projects, groups, papers   in the order of the papers
    """

    schema: int
    job: str
    program: str
    audience: str
    page: str
    projects: tuple[ProjectWords, ...]
    groups: tuple[PaperGroup, ...]
    papers: tuple[Paper, ...]


RECORDS = (PaperSet, ProjectWords, PaperGroup, Paper, PaperFigure, PaperTable, ColumnHead, PaperFact, Label)


def as_json(papers: PaperSet) -> bytes:
    """The records as JSON: same records, same bytes."""
    return msgspec.json.encode(_plain(papers))


def _plain(thing: Any) -> Any:
    if isinstance(thing, str):
        return printable(thing)
    if isinstance(thing, tuple):
        fields = getattr(thing, "_fields", None)
        if fields is not None:
            return {name: _plain(value) for name, value in zip(fields, thing, strict=True)}
        if thing and type(thing[0]) is tuple and _all_printable(tuple(chain.from_iterable(thing))):
            return thing  # rows of a table: of a set nearly all texts, and nearly all of them as they have to be
        return [_plain(one) for one in thing]
    return thing


def _all_printable(texts: Sequence[str]) -> bool:
    """Whether `printable` leaves every one of them as it is."""
    return "".join(texts).isprintable() and all(printable(text) == text for text in texts if len(text) > LONGEST_WORD)


LONGEST_WORD = 32  # signs without a place to break; a longer word gets places, so that it stays in its column
_BREAK = "\N{ZERO WIDTH SPACE}"


@lru_cache(maxsize=1 << 16)
def printable(text: str) -> str:
    """On one line, without signs that cannot be printed, and with places to break in words that would run out of any column."""
    if len(text) <= LONGEST_WORD and text.isprintable():
        return text
    words = (text if text.isprintable() else "".join(sign if sign.isprintable() else " " for sign in text)).split()
    return " ".join(words if max(map(len, words), default=0) <= LONGEST_WORD else _parts(words))


def _parts(words: Iterable[str]) -> Iterable[str]:
    for word in words:
        yield _BREAK.join(word[at : at + LONGEST_WORD] for at in range(0, len(word), LONGEST_WORD))
