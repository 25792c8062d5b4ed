"""Defined names for the values on Code basis that formulas use."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from batch.errors import SpecificationError
from batch.results import CodeValue, JobResult
from batch.schedules import RESULTS
from batch.writing.book import Book
from batch.writing.formulas import needed
from batch.writing.placed import Placed

_RATING = re.compile(r"rating_\d{3}")
RATINGS = "ratings"  # the standard ratings from the smallest device that is used unless a project says otherwise


def code_names(result: JobResult) -> dict[str, float | tuple[float, ...]]:
    """Name -> value, for the numbers on Code basis that the columns' formulas ask for; each becomes a defined name.

    Where a workbook's rule sets disagree on a value no name can stand for it; it is left out, and so are the formulas that need it.
    """
    wanted = frozenset().union(*(needed(column.formula) for sheet in RESULTS for column in sheet.columns))
    held: dict[str, set] = {}
    for value in result.code_values:
        if value.name in wanted and isinstance(value.value, (int, float)):
            held.setdefault(value.name, set()).add(float(value.value))
    names: dict[str, float | tuple[float, ...]] = {name: values.pop() for name, values in held.items() if len(values) == 1}
    ratings = {
        tuple(value for _, value in _ratings(result.code_values, rule_set)) for rule_set in {one.rule_set for one in result.projects}
    }
    if len(ratings) == 1 and (only := ratings.pop()):
        names[RATINGS] = only
    return names


def _ratings(values: Iterable[CodeValue], rule_set: str) -> list[tuple[int, float]]:
    """Places and values of a rule set's standard ratings, from the smallest that is used unless a project says otherwise; rising."""
    own = [(at, value) for at, value in enumerate(values) if value.rule_set == rule_set]
    smallest = next((float(value.value) for _, value in own if value.name == "default_smallest_device_a"), 0.0)
    ratings = ((at, float(value.value)) for at, value in own if _RATING.fullmatch(value.name))
    found = [(at, rating) for at, rating in ratings if rating >= smallest]
    places, amps = [at for at, _ in found], [value for _, value in found]
    together = places == list(range(places[0], places[0] + len(places))) if places else False
    return found if together and amps == sorted(set(amps)) else []


def define_names(book: Book, result: JobResult, placed: Placed | None, rows: Sequence[Mapping], names: Iterable[str]) -> None:
    """Points each name at its cell, or its run of cells, on Code basis."""
    left = set(names)
    if placed is not None and RATINGS in left:
        found = _ratings(result.code_values, result.projects[0].rule_set)
        first, last = (absolute(placed.cell("value", at)) for at in (found[0][0], found[-1][0]))
        _define(book, RATINGS, f"{first}:{last.rpartition('!')[2]}")
    for at, row in enumerate(rows):
        if placed is not None and row["name"] in left:
            left.remove(name := row["name"])
            _define(book, name, absolute(placed.cell("value", at)))


def _define(book: Book, name: str, reference: str) -> None:
    if book.define_name(name, f"={reference}") != 0:
        raise SpecificationError(f"Code basis: {name} cannot be a defined name")


def absolute(reference: str) -> str:
    """'Code basis'!D12 -> 'Code basis'!$D$12."""
    sheet, _, cell = reference.rpartition("!")
    letters = cell.rstrip("0123456789")
    return f"{sheet}!${letters}${cell[len(letters) :]}"
