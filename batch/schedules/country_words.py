"""Schedules and their rows in the words of the code's country: headings, help, and what the program itself says in a cell.

What a person named or typed (tags, notes, givens) stays as it is. Headings are those of one country where every project of the workbook
is, else those of each beside each other: "EGC / PE"; rows are each of their project's. Units of a workbook for several countries are SI,
whichever project comes first; in pictures and on labels each project has its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Any

from msgspec.structs import replace

from batch.findings import CATALOGUE
from batch.results import JobResult, ProjectResult
from batch.rules import OURS, Wording, available, load
from batch.schedules import BY_ID
from batch.schedules.designations import lettered
from batch.schedules.row_words import BETWEEN, OF_PROJECT
from batch.sheets import Column, Sheet

NAMED = frozenset({  # columns of what people named; of givens only these words are the program's
    "project", "tank", "bank", "feeder", "panel", "tag", "source", "notes", "part", "tags", "sheet", "cell", "seen", "value",
    "code", "status", "severity", "harm", "effect", "where", "received",
    "title", "file", "column", "text", "marking", "banks", "feeders", "unit",
})  # fmt: skip
CHOSEN = frozenset({"system", "connection", "phase_pair", "source_pair"})
_QUOTED = re.compile(r'"[^"]*"')
Row = dict[str, Any]


def wording_of(result: JobResult) -> Wording:
    """The words of a whole workbook: those that all its projects share, else ours."""
    found = [one.wording for one in result.projects]
    return found[0] if found and all(found) else OURS


def of_one_country(result: JobResult) -> bool:
    """Whether all its projects have the same units and paper."""
    return len({one.country[:2] for one in result.projects}) < 2


def shared_in_us(result: JobResult, us: bool | None) -> bool:
    """Whether what projects share is in US units: as asked for, else as their country has them, of several countries SI."""
    if us is not None:
        return us
    return of_one_country(result) and (not result.projects or in_us(result.projects[0], None))


def in_us(project: ProjectResult, us: bool | None) -> bool:
    """Whether what is of one project alone is in US units: as asked for, else as its country has them."""
    return project.country.region == "us" if us is None else us


def sheet_in(sheet: Sheet, wordings: Iterable[Wording]) -> Sheet:
    """A sheet as a workbook of projects with these words has it."""
    words = list(wordings)
    if not any(words):
        return sheet
    return in_words(sheet, words[0]) if all(words) else in_both(sheet, words)


def in_both(sheet: Sheet, wordings: Iterable[Wording]) -> Sheet:
    """A sheet whose headings stand in our words and in these, where they differ."""
    words = [one for one in wordings if one]
    return replace(sheet, columns=tuple(_in_both(column, words) for column in sheet.columns))


def _in_both(column: Column, wordings: Iterable[Wording]) -> Column:
    names = tuple(dict.fromkeys((column.heading, *(one.heading(column.heading, column.unit) for one in wordings))))
    return column if len(names) == 1 else replace(column, heading=" / ".join(names), also=(*column.also, *names))


def in_words(sheet: Sheet, wording: Wording) -> Sheet:
    """A sheet with its headings, help and formulas' texts in these words; what it was called before is among its other names."""
    if not wording:
        return sheet
    return replace(sheet, help=wording.of(sheet.help), columns=tuple(_column(column, wording) for column in sheet.columns))


def as_spoken(sheet: Sheet) -> tuple[Sheet, ...]:
    """A sheet as it may stand in a workbook: in our words, and in those of every rule set at hand that has its own."""
    return _as_spoken(sheet.id, available()) if sheet.id in BY_ID else (sheet,)


@lru_cache(maxsize=64)
def _as_spoken(id: str, names: tuple[str, ...]) -> tuple[Sheet, ...]:
    sheet = BY_ID[id]
    words = [wording for name in names if (wording := load(name).wording)]
    return (sheet, *(in_words(sheet, one) for one in words), *(in_both(sheet, (one,)) for one in words))


def _column(column: Column, wording: Wording) -> Column:
    heading = wording.heading(column.heading, column.unit)
    also = column.also if heading == column.heading else (*column.also, column.heading)
    formula = _QUOTED.sub(lambda text: wording.of(text[0]), column.formula)
    return replace(column, heading=heading, help=wording.of(column.help), unit=wording.of(column.unit), formula=formula, also=also)


def rows_in_words(rows: Iterable[Row], sheet: Sheet, wordings: Mapping[str, Wording]) -> Iterator[Row]:
    """The rows, each in the words of its project; `wordings` by project."""
    if not any(wordings.values()):
        yield from rows
        return
    keys, whole = _spoken(sheet), next(iter(wordings.values())) if all(wordings.values()) else OURS  # of rows of no one project
    marks = sheet.id != "findings"
    for row in rows:
        wording = wordings.get(row.get("project") or "", whole)
        if wording:
            for key in keys:
                if isinstance(text := row.get(key), str):
                    row[key] = lettered(wording.of(text), wording) if marks else wording.of(text)
        yield row


def as_written(result: JobResult, id: str, rows: Iterable[Row]) -> list[Row]:
    """Rows of a sheet as a results workbook has them."""
    return list(rows_in_words(rows, BY_ID[id], {one.project.project: one.wording for one in result.projects}))


def codes_of(words: str, rule_sets: tuple[str, ...] | None = None) -> list[tuple[str, ...]]:
    """Of each kind of finding that a cell names by its title, in the words of these rule sets' countries or of any, the codes that have it;
    of a former version by its code. Not of what is said of the project alone.
    """
    known = _titles(available() if rule_sets is None else rule_sets)
    found = []
    for one in words.split(BETWEEN):
        if one == OF_PROJECT:
            continue
        title = one if one in known else one.partition(": ")[2]  # "feeder: Aluminum: terminals"
        found.append(known.get(title) or tuple(code.rpartition(": ")[2] for code in one.split(", ")))
    return found


@lru_cache(maxsize=8)
def _titles(names: tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    """Titles of findings in our words and those of these rule sets -> the codes that have it."""
    spoken: dict[str, dict[str, None]] = {}
    for wording in (OURS, *(load(name).wording for name in names)):
        for kind in CATALOGUE.values():
            spoken.setdefault(lettered(wording.of(kind.title), wording) if wording else kind.title, {})[kind.code] = None
    return {title: tuple(codes) for title, codes in spoken.items()}


def _spoken(sheet: Sheet) -> tuple[str, ...]:
    """Columns in which the program itself speaks."""
    return tuple(
        column.key for column in sheet.columns
        if column.kind == "text" and column.key not in NAMED and (column.role != "input" or column.key in CHOSEN)
    )  # fmt: skip
