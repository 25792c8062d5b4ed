"""The plan by which a table was read on one line of JSON, for the table as its sheet As received shows it: results are read again by it."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from typing import Any

from batch.findings import CATALOGUE, Severity
from batch.intake.line_kinds import DOUBT, HIDDEN, OUT, TOTAL, Line
from batch.intake.list_columns import LIST
from batch.intake.map_text import POWER_WORDS, QUANTITY_WORDS
from batch.intake.plan import JOIN, SUM, Also, ColumnPlan
from batch.intake.study import Studied
from batch.intake.table import Table
from batch.ooxml.addresses import column_number, letters
from batch.received_rows import ReceivedTable

ADDRESS = re.compile(r"([A-Z]+)([0-9]+)")
OF_A_CELL = frozenset({"blank", *(kind.title.lower() for kind in CATALOGUE.values() if kind.code.startswith("cell-"))})  # and so read again


def as_received(one: Studied, table: Table, received: ReceivedTable, held: str, older: str) -> str:
    """The same plan on one line of JSON, for the table as As received shows it: columns counted from its first, rows from its first."""
    plan = one.plan
    first = table.extent[2] if table.extent else plan.first
    at = {row.row: place for place, row in enumerate(received.rows, 1)}
    columns = {LIST[key].heading: _by_letters(column, first) for key, column in plan.columns.items()}
    content: dict[str, object] = {"kind": "Heaters", "decimal": plan.decimal, "columns": columns}
    fixed: dict[str, Any] = {LIST[key].heading: value for key, value in plan.fixed.items()}
    if plan.fixed_volts is not None and "Phases" in fixed:
        fixed["Phases"] = {"value": fixed["Phases"], "volts": plan.fixed_volts}
    for when in plan.when:
        others = {LIST[other].heading: value for other, value in when.others}
        fixed.setdefault(LIST[when.key].heading, []).append({"value": when.value, **others})
    if fixed:
        content["fixed"] = fixed
    content |= {key: list(words) for key, words in (("blank_words", plan.blank_words), ("total_words", plan.total_words),
                                                    ("repeat_words", plan.repeat_words)) if words}  # fmt: skip
    if plan.means:
        content["means"] = {LIST[key].heading: words for key, words in plan.means.items()}
    if plan.tags:
        content["tags"] = {tag: list(tanks) for tag, tanks in plan.tags.items()}
    if single := {**plan.row_values, **plan.row_changes}:
        content["rows"] = {str(at[row]): {LIST[key].heading: value for key, value in values.items()}
                           for row, values in single.items() if row in at}  # fmt: skip
    if plan.also:
        content["also"] = [_also(one, first, at) for one in plan.also]
    if plan.power:
        content["power"] = POWER_WORDS[plan.power]
    if plan.quantity:
        content["quantity"] = QUANTITY_WORDS[plan.quantity]
    if plan.given and plan.repeats:
        content["blank_repeats_above"] = [LIST[key].heading for key in plan.repeats]
    content["first_row"] = next((place for number, place in at.items() if number >= plan.first_row), 1)
    read = {row.number for row in table.rows}
    out = {OUT, TOTAL} if plan.also else {OUT}  # sums under several sizes would count as heaters of them
    gone = {line.index + 1 for line in one.lines if line.kind in out} | set(plan.leave_rows)
    if gone & at.keys() - read:
        content["leave_out"] = [at[row] for row in sorted(gone & at.keys() - read)]
    kept = read if plan.keep_words or plan.hidden_rows == "kept" or not plan.struck_out else plan.keep_rows
    if plan.given and kept:
        content["keep"] = [at[row] for row in sorted(kept) if row in at]
    if plan.given and any(number > plan.last_row for number in at):
        content["last_row"] = max((place for number, place in at.items() if number <= plan.last_row), default=1)
    why = held or ("asked: " + plan.questions[0].what if plan.questions else "")
    if older:
        content["older"] = older
    elif why and not table.rows:
        content["held"] = why
    if left_open := {str(at[row]): said for row, said in _left_open(one, table, first).items() if row in at}:
        content["left_open"] = left_open
    merged = {
        str(at[line.index + 1]): {
            LIST[key].heading: fact.value for key, fact in line.facts.items() if _not_in_its_cell(one, line, key) and fact.value is not None
        }
        for line in one.lines
        if line.index + 1 in at and any(_not_in_its_cell(one, line, key) for key in line.facts)
    }
    if merged:
        content["merged"] = merged
    return json.dumps(content, default=str)


def _not_in_its_cell(one: Studied, line: Line, key: str) -> bool:
    """Comes a value from a cell that is merged over that of the row, or from a sentence about it?"""
    return line.facts[key].source == "merged" or (line.facts[key].source == "fixed" and key in one.plan.row_supply.get(line.index + 1, {}))


def _by_letters(column: ColumnPlan, first: int) -> Any:
    """A column as As received has it: by letters, counted from the first."""
    if column.how in (JOIN, SUM):
        between = {"between": column.between} if column.how == JOIN else {}
        unit = {"unit": column.unit} if column.unit else {}
        return {column.how: [letters(part.at - first) for part in column.parts], **between, **unit}
    if column.parts:
        return [{"column": letters(part.at - first)} | ({"unit": part.unit} if part.unit else {}) for part in column.parts]
    said = {"column": letters(column.index - first)}
    said |= {"unit": column.unit} if column.unit else {}
    return said | ({"unit_in": letters(column.unit_at - first)} if column.unit_at >= 0 else {})


def _also(also: Also, first: int, at: Mapping[int, int]) -> dict[str, Any]:
    fixed: dict[str, Any] = {LIST[key].heading: value for key, value in also.fixed.items()}
    for when in also.when:
        others = {LIST[other].heading: value for other, value in when.others}
        fixed.setdefault(LIST[when.key].heading, []).append({"value": when.value, **others})
    columns = {LIST[key].heading: _by_letters(column, first) for key, column in also.columns.items()}
    means = {LIST[key].heading: words for key, words in also.means.items()}
    power = {"power": POWER_WORDS[also.power]} if also.power else {}
    given = ((row, values) for row, values in also.row_values.items() if row in at)
    rows = {str(at[row]): {LIST[key].heading: value for key, value in values.items()} for row, values in given}
    return {"columns": columns, "fixed": fixed, "means": means, "rows": rows} | power


def _left_open(one: Studied, table: Table, first: int) -> dict[int, dict[str, Any]]:
    """The rows that are not sized because something is asked of them, what, and what was read of them: nobody has answered when the
    results are sized again.

    A cell that is blank or cannot be read is read again, since it may have been filled in there.
    """
    doubted = {line.index + 1 for line in one.lines if line.kind in (DOUBT, HIDDEN)}
    asked = {row for row in table.named if any(said.rpartition(": ")[2] not in OF_A_CELL for said in table.refused[row].split("; "))}
    cells = [ADDRESS.fullmatch(said.cell) for said in reversed(table.findings) if said.severity is Severity.HOLD and not one.plan.turned]
    places = [(int(cell[2]), column_number(cell[1]) - first) for cell in cells if cell is not None]
    about = {row: {"column": letters(column)} for row, column in places if column >= 0}  # what stands left of the table is not in it
    rows = [row for row in table.named if row in doubted or row in asked]
    return {row: {"why": table.refused[row], "read": table.read_of[row]} | about.get(row, {}) for row in rows}
