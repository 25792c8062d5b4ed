"""What is said of the columns of a customer's list: those taken by likelihood or with a rival, and counts that nothing was taken for."""

from __future__ import annotations

from batch.findings import find, remark
from batch.intake.assignment import LIKELY, OPEN
from batch.intake.cell_profiles import Profile, fit
from batch.intake.grid import worded
from batch.intake.line_kinds import DATA
from batch.intake.list_columns import LIST
from batch.intake.list_words import meanings, words
from batch.intake.numbers import number_of
from batch.intake.study import BY_HEADING, Studied
from batch.intake.table import Table
from batch.ooxml.addresses import letters
from batch.sheets import HEATERS

LEAST_NAME = 0.6  # of a heading that may be that of a count: judgement, no source
OF_OTHERS = ("spare", "out", "doubt")  # lists of words that say a count is of others than those to be built: "Existing", "Spare"


def say_taken(one: Studied, table: Table) -> None:
    """Columns that were taken by likelihood, and those that may be left blank where another column could be it as well: once each."""
    plan, sheet = one.plan, table.grid.name
    asked = {question.about for question in plan.questions}
    for key, column in plan.columns.items():
        rivalled = column.sure == OPEN and key not in asked
        if plan.given or not (column.sure == LIKELY or rivalled):
            continue
        if column.why == BY_HEADING and key not in HEATERS.by_key:
            continue  # "Notes" is what is called so, whatever its cells say
        name = LIST[key].heading
        ours = name if name.isalpha() else f'"{name}"'
        fields = {"heading": column.heading or "no heading", "letter": letters(column.index), "column": name, "why": column.why}
        line = f'{ours} = {{ column = "{letters(column.index)}" }}'
        said = remark("column-rivalled" if rivalled else "column-taken", key, sheet=sheet, line=line, **fields)
        table.findings.append(find(said, sheet=sheet, cell=table.address(column.index, plan.heading_row or 1), seen=column.heading))


def say_counts_not_read(one: Studied, table: Table) -> None:
    """Columns of counts beside the one that counts, of spares or of what stands there already: named once."""
    plan = one.plan
    if one.region is None or plan.given or "quantity" not in plan.columns:
        return
    taken = plan.taken()
    lines = [line.index for line in one.lines if line.kind == DATA]
    aside = [
        column
        for column in one.region.columns
        if column.index not in taken and _names_a_count(column.text) and _counts(one, lines, column.index)
    ]
    if aside:
        named = ", ".join(f'"{column.text}" (column {letters(column.index)})' for column in aside)
        said = remark("counts-not-read", "quantity", sheet=table.grid.name, columns=named, taken=plan.columns["quantity"].heading)
        table.findings.append(find(said, sheet=table.grid.name, cell=table.address(aside[0].index, plan.heading_row or 1)))


def _names_a_count(text: str) -> bool:
    if any(words()[name].find(text) for name in OF_OTHERS):
        return True
    return any(said.key == "quantity" and said.score >= LEAST_NAME for said in meanings(text))


def _counts(one: Studied, lines: list[int], index: int) -> bool:
    """Are the figures of a column counts of heaters, and one of them at least not nought?"""
    rows = [one.grid.rows[line] for line in lines]
    cells: list[object] = [row[index] for row in rows if index < len(row) and worded(row[index]).strip() not in ("", "-", "–")]
    return any(number_of(cell) for cell in cells) and fit("quantity", Profile(cells)) == 1.0
