"""Heaters of several lines alike: "Qty per line", "No. of lines" and "Total pcs", of which the last is what the first two give."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import permutations

from batch.intake.assignment import LIKELY, SURE_NAME, Taken
from batch.intake.list_words import hits
from batch.intake.numbers import number_of
from batch.intake.plan import ColumnPlan, ListPlan
from batch.intake.sentence_words import forms
from batch.intake.survey import HeadingColumn, Region

OF_LINES = re.compile(rf"(?<!\w){forms('lines')}(?!\w)", re.IGNORECASE)
LEAST_ROWS = 3  # in which all three stand, two of them with several lines: judgement, no source


def count_of_all_lines(plan: ListPlan, taken: list[Taken], region: Region, data: Sequence[int]) -> None:
    """Takes the column of totals for the number of heaters, where each of its figures is number times lines."""
    own = {column.index for key, column in plan.columns.items() if key not in ("quantity", "tanks")}
    free = [column for column in region.columns if column.index not in own and column.text]
    for each, lines, total in permutations(free, 3):
        if OF_LINES.search(lines.text) and hits("total", total.text) and _multiplied(region, data, (each, lines, total)):
            why = f'"{each.text}" times "{lines.text}" is "{total.text}" in every row'
            plan.columns.pop("tanks", None)
            plan.columns["quantity"] = ColumnPlan("quantity", total.index, total.text, "", "likely", why)
            plan.why["lines"] = why
            others = [one for one in taken if one.key not in ("quantity", "tanks")]
            taken[:] = [*others, Taken("quantity", total.index, total.text, "", "", LIKELY, SURE_NAME, 1.0)]
            return


def _multiplied(region: Region, data: Sequence[int], columns: Sequence[HeadingColumn]) -> bool:
    rows = [[number_of(row[column.index]) if column.index < len(row) else None for column in columns]
            for row in (region.grid.rows[line] for line in data)]  # fmt: skip
    whole = [(each, lines, total) for each, lines, total in rows if each is not None and lines is not None and total is not None]
    several = sum(lines > 1 and each > 0 for each, lines, _ in whole)
    return len(whole) >= LEAST_ROWS and several > 1 and all(each * lines == total for each, lines, total in whole)
