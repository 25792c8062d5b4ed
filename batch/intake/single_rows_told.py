"""What sentences beside a list say of single rows of it, said in findings: their supply, and figures that a note changes."""

from __future__ import annotations

from collections.abc import Mapping

from batch.findings import find, remark
from batch.intake.grid import worded
from batch.intake.line_kinds import DATA
from batch.intake.list_columns import LIST
from batch.intake.list_values import Settling
from batch.intake.table import rows_worded
from batch.intake.turned import TURNED
from batch.ooxml.addresses import letters


def say_supply_of_rows(work: Settling, where: Mapping[str, str]) -> None:
    """What sentences say of some rows' supply: each of them once, with the rows."""
    plan = work.one.plan
    said: dict[tuple[tuple[tuple[str, object], ...], str], list[int]] = {}
    lines = {line.index + 1: line for line in work.one.lines}
    for row, values in plan.row_supply.items():
        taken = tuple((key, value) for key, value in values.items() if row not in lines or lines[row].value(key) in (None, value))
        if taken:  # a row that says other volts itself is asked about
            said.setdefault((taken, plan.row_supply_why[row]), []).append(row)
    for (pairs, why), numbers in said.items():
        for key, value in pairs:
            line = f"{numbers[0]} = {{ {_key(LIST[key].heading)} = {worded(value)} }}"
            fields = {"column": LIST[key].heading, "value": f"{worded(value)} in {rows_worded(numbers)}", "why": why, "line": line}
            work.table.findings.append(find(remark("supply-from-words", key, sheet=where["sheet"], **fields), **where))


def say_changes_of_rows(work: Settling) -> None:
    """What notes change of rows' figures: each row that is sized by it."""
    plan = work.one.plan
    for line in work.one.lines:
        row = line.index + 1
        for key, value in plan.row_changes.get(row, {}).items() if line.kind == DATA else ():
            fact, heading = line.facts[key], LIST[key].heading
            said = f"{row_key(work, row)} = {{ {_key(heading)} = {worded(value)} }}"
            fields = {"row": row, "column": heading, "value": worded(value), "why": plan.row_changes_why[row], "line": said}
            work.say(remark("row-changed-by-note", key, **fields), fact.index, row, fact.seen)


def row_key(work: Settling, number: int) -> str:
    """The row as [table.rows] of a map names it: of a turned list it is a column."""
    return letters(number - 1) if work.one.plan.turned == TURNED else str(number)


def _key(heading: str) -> str:
    return heading if heading.isalpha() and heading.isascii() else f'"{heading}"'
