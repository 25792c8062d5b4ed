"""Defined names for the values on Code basis that formulas use."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from batch.report.book import Book
from batch.report.formulas import needed
from batch.report.sheet_writer import Placed
from batch.results import JobResult
from batch.sheets import RESULTS


def code_names(result: JobResult) -> dict[str, str]:
    """Value name -> defined name, for the numbers that the columns' formulas ask for.

    Where a workbook's rule sets disagree on a value no name can stand for it; it is left out, and so are the formulas that need it.
    """
    wanted = frozenset().union(*(needed(column.formula) for sheet in RESULTS for column in sheet.columns))
    held: dict[str, set] = {}
    for value in result.code_values:
        if value.name in wanted and isinstance(value.value, (int, float)):
            held.setdefault(value.name, set()).add(float(value.value))
    return {name: name for name, values in held.items() if len(values) == 1}


def define_names(book: Book, placed: Placed | None, rows: Sequence[Mapping], names: Mapping[str, str]) -> None:
    """Points each name at its cell on Code basis."""
    left = dict(names)
    for at, row in enumerate(rows):
        if placed is not None and (name := left.pop(row["name"], None)):
            book.define_name(name, f"={absolute(placed.cell('value', at))}")


def absolute(reference: str) -> str:
    """'Code basis'!D12 -> 'Code basis'!$D$12."""
    sheet, _, cell = reference.rpartition("!")
    letters = cell.rstrip("0123456789")
    return f"{sheet}!${letters}${cell[len(letters) :]}"
