"""What each column of a customer's list was taken for, for the sheet How it was read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from batch.intake.grid import shown, worded
from batch.intake.heading_sense import EACH, ROW, TANK
from batch.intake.line_kinds import DATA, DOUBT, HIDDEN
from batch.intake.list_columns import BATH, LIST
from batch.intake.map_text import left_columns
from batch.intake.study import Studied
from batch.intake.turned import BLOCKS, address_of
from batch.ooxml.addresses import letters
from batch.received_rows import HowRead
from batch.units import rounded

SHOWN = 3  # values of each column
NOT_USED, LEFT = "not used", "none of our columns; a remark in it may be heard, and its cells stay as received"
OF = {EACH: "of each heater", TANK: "of all heaters of the tank", ROW: "of all heaters of the row"}


def how_read(studied: Sequence[Studied]) -> Iterator[HowRead]:
    """Every column of every table that was read as heaters, and what holds for all rows of it."""
    number = 0
    for one in studied:
        if one.heaters != "yes" or not one.plan.use:
            continue
        number += 1
        plan = one.plan
        for key, column in plan.columns.items():
            column_of = LIST[key]
            taken = column_of.heading
            if key in ("power_kw", "total_kw") and plan.power:
                taken = f"{taken} {OF[plan.power]}"
            unit = column.unit or ("" if column_of in BATH else column_of.unit)  # of a bath no unit is taken for granted
            evidence = column.why
            if key == "power_kw" and one.verdict.said:
                evidence = "; ".join(dict.fromkeys([evidence, *one.verdict.said])).strip("; ")
            sure = "open" if any(question.about == key for question in plan.questions) else column.sure
            yield HowRead(
                f"{number}", _range(one), one.sheet, _cell(one, column.index, plan.heading_row), _column(one, column.index), column.heading,
                taken, unit, sure if not plan.given else "by the map", evidence, _values(one, key, column.index),
            )  # fmt: skip
        for also in plan.also:
            for key, column in also.columns.items():
                yield HowRead(
                    f"{number}", _range(one), one.sheet, _cell(one, column.index, plan.heading_row), _column(one, column.index),
                    column.heading, f"{LIST[key].heading} of a further bank", column.unit or LIST[key].unit,
                    column.sure if not plan.given else "by the map", column.why, _typed(one, column.index),
                )  # fmt: skip
        for head in left_columns(one):
            if head.text or _typed(one, head.index):
                yield HowRead(
                    f"{number}", _range(one), one.sheet, _cell(one, head.index, plan.heading_row), _column(one, head.index), head.text,
                    NOT_USED, "", "", LEFT, _typed(one, head.index),
                )  # fmt: skip
        for key, value in plan.fixed.items():
            yield HowRead(
                f"{number}", _range(one), one.sheet, "", "", "", f"{LIST[key].heading}, where the row does not say it", LIST[key].unit,
                "by the map" if plan.given else "likely", plan.why.get(f"fixed.{key}", ""), worded(value),
            )  # fmt: skip


def _range(one: Studied) -> str:
    plan = one.plan
    if plan.turned == BLOCKS:
        return one.grid.name.removeprefix(f"{one.sheet}, ")
    if plan.turned:
        return f"{letters(plan.first_row - 1)}{plan.first + 1}:{letters(plan.last_row - 1)}{plan.last + 1}"
    return f"{letters(plan.first)}{(plan.heading_rows or (plan.first_row,))[0]}:{letters(plan.last)}{plan.last_row}"


def _cell(one: Studied, index: int, row: int) -> str:
    if one.plan.turned == BLOCKS or row < 1 or one.region is None:
        return ""
    return address_of(index, row) if one.plan.turned else f"{letters(index)}{row}"


def _column(one: Studied, index: int) -> str:
    if one.plan.turned == BLOCKS:
        return ""
    return f"row {index + 1}" if one.plan.turned else letters(index)


def _typed(one: Studied, index: int) -> str:
    """The first cells of a column as they are typed."""
    rows = (one.grid.rows[line.index] for line in one.lines if line.kind in (DATA, DOUBT, HIDDEN))
    return "; ".join([shown(row[index]) for row in rows if index < len(row) and row[index] not in ("", None)][:SHOWN])


def _values(one: Studied, key: str, index: int) -> str:
    """The first values as they are typed, and as they were read where that is something else."""
    found = []
    for line in one.lines:
        fact = line.facts.get(key)
        if line.kind not in (DATA, DOUBT, HIDDEN) or fact is None or fact.source or fact.index != index:
            continue
        value = fact.value
        read = "not read" if value is None else worded(rounded(value) if isinstance(value, float) else value)
        typed = shown(fact.seen)
        found.append(typed if typed == read else f"{typed} → {read}")
        if len(found) == SHOWN:
            break
    return "; ".join(found)
