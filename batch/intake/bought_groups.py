"""Columns grouped as what is to be bought, "Required: no., kW, V/ph/Hz", beside one of what is there now, "Existing"."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from batch.intake.cell_profiles import Profile
from batch.intake.columns_restated import counts_again
from batch.intake.columns_to_come import told_before, told_to_come
from batch.intake.headed_by_age import AFTER, BEFORE, ages
from batch.intake.heading_columns import HeadingColumn
from batch.intake.heading_sense import concepts_of
from batch.intake.list_words import SURELY
from batch.intake.plan import ListPlan
from batch.intake.wording import words

DESCRIPTION = "description"
TO_BUY = {"needed", "buy"}
POWERS = {"power_kw", "total_kw"}
THERE = {"former", "spare"}
COUNTED = {"number", "power"}
BESIDE = {"heater", "element", "each", "one", "per", "of"}


def as_bought(columns: Sequence[HeadingColumn], seen: Mapping[int, Profile]) -> list[HeadingColumn]:
    """The columns, those of powers without a "Required" that stands over a number of heaters too: it is no heat that a tank needs. Columns
    of what was before describe no heaters that are wanted, and one that counts again is no rival of the number."""
    before = was_before(columns, seen) | counts_again(columns)
    columns = [column for column in told_to_come(columns, seen) if column.index not in before]
    counted = {over for column in columns if (over := _over(column)) and any("number" in concepts_of(one) for one in words(column.lone))}
    return [replace(column, text=column.lone) if _over(column) in counted and _of_power(column) else column for column in columns]


def was_before(columns: Sequence[HeadingColumn], seen: Mapping[int, Profile]) -> frozenset[int]:
    """The columns of words of what is there now, "Existing", beside such a group, or beside a column of words of what is to come."""
    before = told_before(columns, seen)
    if not any(_over(column) and _of_power(column) for column in columns):
        return before
    former = (column for column in columns if column.text and all("former" in concepts_of(one) for one in words(column.text)))
    return before | {column.index for column in former}


def heaters_replaced(plan: ListPlan, columns: Sequence[HeadingColumn]) -> frozenset[int]:
    """The columns "Existing", "Existing qty", "Stück alt" beside the number that is read from "New qty" or "Required no.": of heaters that
    the row's take the place of; and "Existing" over words, beside "New"."""
    told, age = plan.columns.get(DESCRIPTION), ages(column.text for column in columns if column.text)
    if told is not None and age.get(told.heading) == AFTER:
        return plan.former & {column.index for column in columns if age.get(column.text) == BEFORE}
    count = plan.columns.get("quantity")
    if count is None or not any(TO_BUY & concepts_of(one) for one in words(count.heading)):
        return frozenset()
    return frozenset(column.index for column in columns if column.index not in plan.used() and _of_those_there(words(column.text)))


def _of_those_there(said: Sequence[str]) -> bool:
    """Do the words of a heading say that it is of what is there already, or was, and but for that number or power?"""
    told = [concepts_of(one) for one in said]
    if told and all("former" in one for one in told):
        return True
    return any(one & THERE for one in told) and any(one & COUNTED for one in told) and all(one & (THERE | COUNTED | BESIDE) for one in told)


def _over(column: HeadingColumn) -> str:
    """The heading over the group of a column, where it says no more than that something is to be bought; "" elsewhere."""
    above = column.text.removesuffix(column.lone).strip() if column.lone and column.lone != column.text else ""
    said = words(above)
    return above if said and all(concepts_of(one) & TO_BUY for one in said) else ""


def _of_power(column: HeadingColumn) -> bool:
    alone = replace(column, text=column.lone, lone="")
    return any(one.key in POWERS and one.score >= SURELY for one in alone.meanings())
