"""Columns that decide whether a row counts and do not say how: bare codes under "Action" that no legend explains, the letter of an option,
who furnishes, a change of the number. What such a cell means is asked."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

from batch.intake.facts import figure
from batch.intake.grid import Grid
from batch.intake.heading_sense import concepts_of
from batch.intake.legends import codes_explained
from batch.intake.line_kinds import DATA, DOUBT, Line
from batch.intake.list_words import says_yes_or_no
from batch.intake.sentence_words import saying, worded_so
from batch.intake.survey import HeadingColumn, flat
from batch.intake.verdict import close
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import words

HEADS = ("heads_action", "heads_option", "heads_furnisher")  # of columns that decide
SIGNS = re.compile(r"Δ|±|\+\s*/\s*[-–]")  # of a change
CODE = re.compile(r"[A-Z]{1,2}|\d", re.IGNORECASE)
PLAIN = frozenset({"n", "ok", "ea"})  # "new", "no change": such a code takes nothing out
OF_ONE = re.compile(r"(?:[^\W\d_]+\.?\s+(?:no\.?\s*)?)?(?:[A-Z]|\d)", re.IGNORECASE)  # "A", "Alt 1": "lid" is what is added
BASE = re.compile(r"(?:base|basis|std|standard|none|n/?a|[-–—]+)", re.IGNORECASE)  # no option


def asked_by_codes(columns: Sequence[HeadingColumn], lines: Sequence[Line], grid: Grid | None) -> None:
    """Puts the rows of such cells in doubt. `columns`: those that no figure is read from; `lines`: those that nobody has answered for."""
    headed = {column.index: " ".join(words(column.text)) for column in columns}
    decide = [one for one in columns if any(form.fullmatch(headed[one.index]) for form in map(worded_so, HEADS))]
    explained = codes_explained(grid) if grid is not None and decide else {}
    for column in decide:
        heading = headed[column.index]
        cells = {line.index: text for line in lines for at, value in line.cells if at == column.index and (text := flat(value).strip())}
        if worded_so("heads_furnisher").fullmatch(heading):
            _doubt(lines, column, {index: text for index, text in cells.items() if worded_so("buyer").fullmatch(text.strip(" ."))})
        if not worded_so("heads_option").fullmatch(heading):
            _doubt(lines, column, _unexplained(cells, explained))
        elif not any(text.casefold() in explained for text in cells.values()):
            _doubt(lines, column, {index: text for index, text in cells.items() if _an_option(text)})
    for column in columns:
        _changed(lines, column, columns)


def _doubt(lines: Sequence[Line], column: HeadingColumn, cells: dict[int, str]) -> None:
    for line in lines:
        if line.index in cells and line.kind == DATA:
            line.kind, line.at, line.why = DOUBT, column.index, f'"{cells[line.index][:30]}" under "{column.text.strip()[:40]}"'


def _an_option(text: str) -> bool:
    return OF_ONE.fullmatch(text) is not None and not BASE.fullmatch(text) and not vocabulary()["no"].whole(text)


def _unexplained(cells: dict[int, str], explained: Collection[str]) -> dict[int, str]:
    """The cells with a code that no legend explains, where others are explained, or where no code is and several stand in the column."""
    coded = {index: text for index, text in cells.items() if CODE.fullmatch(text)}
    known = [text for text in coded.values() if text.casefold() in explained]
    unknown = {index: text for index, text in coded.items() if text.casefold() not in explained and text.casefold() not in PLAIN}
    several = len({text.casefold() for text in coded.values()}) > 1
    return unknown if several and 2 * len(coded) > len(cells) and (known or not all(map(says_yes_or_no, coded.values()))) else {}


def _changed(lines: Sequence[Line], column: HeadingColumn, columns: Sequence[HeadingColumn]) -> None:
    """A change of the number that the row's own number is not the outcome of, as the former number tells; or any, where none does."""
    former = [one for one in columns if one is not column and any("former" in concepts_of(word) for word in words(one.text))]
    counts = any("number" in concepts_of(word) for word in words(column.text)) or (former and _changes(column.text.strip(), whole=True))
    if not counts or not _changes(column.text, whole=False):
        return
    for line in lines:
        change, was = (_number_in(line, one) for one in (column, former[0] if former else None))
        count = line.figure("quantity")
        outcome = was is not None and count is not None and change is not None and close(was + change, count)
        if change and not outcome:
            _doubt([line], column, {line.index: f"{change:+g}"})


def _changes(text: str, *, whole: bool) -> bool:
    """Does a heading say change, or nothing else?"""
    if whole:
        return worded_so("change_of").fullmatch(text) is not None or SIGNS.fullmatch(text) is not None
    return saying("change_of").search(text) is not None or SIGNS.search(text) is not None


def _number_in(line: Line, column: HeadingColumn | None) -> float | None:
    return next((figure(value) for at, value in line.cells if column is not None and at == column.index), None)
