"""Defined names for the values on Code basis that formulas use."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from batch.errors import SpecificationError
from batch.report.book import Book
from batch.report.formulas import needed
from batch.report.placed import Placed
from batch.results import JobResult
from batch.sheets import RESULTS


def code_names(result: JobResult) -> dict[str, float]:
    """Name -> value, for the numbers on Code basis that the columns' formulas ask for; each becomes a defined name.

    Where a workbook's rule sets disagree on a value no name can stand for it; it is left out, and so are the formulas that need it.
    """
    wanted = frozenset().union(*(needed(column.formula) for sheet in RESULTS for column in sheet.columns))
    held: dict[str, set] = {}
    for value in result.code_values:
        if value.name in wanted and isinstance(value.value, (int, float)):
            held.setdefault(value.name, set()).add(float(value.value))
    return {name: values.pop() for name, values in held.items() if len(values) == 1}


def define_names(book: Book, placed: Placed | None, rows: Sequence[Mapping], names: Iterable[str]) -> None:
    """Points each name at its cell on Code basis."""
    left = set(names)
    for at, row in enumerate(rows):
        if placed is not None and row["name"] in left:
            left.remove(name := row["name"])
            if book.define_name(name, f"={absolute(placed.cell('value', at))}") != 0:
                raise SpecificationError(f"Code basis: {name} cannot be a defined name")


def absolute(reference: str) -> str:
    """'Code basis'!D12 -> 'Code basis'!$D$12."""
    sheet, _, cell = reference.rpartition("!")
    letters = cell.rstrip("0123456789")
    return f"{sheet}!${letters}${cell[len(letters) :]}"
