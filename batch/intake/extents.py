"""Which rows and columns of its sheet each list is shown with in As received."""

from __future__ import annotations

from collections.abc import Sequence

from batch.intake.grid import Grid
from batch.intake.plan import ListPlan
from batch.intake.study import Studied
from batch.intake.table import ABOVE, BELOW_LAST, BESIDE, HEADING, Table
from batch.ooxml.addresses import letters


def order_of(one: Studied) -> tuple[int, int]:
    """Its first heading row, or first row, and its first column: the order in which lists are read."""
    return (one.plan.heading_rows or (one.plan.first_row,))[0], one.plan.first


def letters_of(one: Studied) -> str:
    """Its columns, as in "C to H"."""
    return f"{letters(one.plan.first)} to {letters(one.plan.last)}"


def columns_of(grid: Grid, one: Studied, beside: Sequence[Studied]) -> tuple[int, int]:
    """First and last column that As received shows with a table: all of the sheet, less those of the tables beside it."""
    left = [other.plan.last for other in beside if other.plan.last < one.plan.first]
    right = [other.plan.first for other in beside if other.plan.first > one.plan.last]
    return (max(left) + 1 if left else 0), (min(right) - 1 if right else grid.width - 1)


def own_rows(one: Studied, some: Sequence[Studied]) -> tuple[int, int]:
    """First and last row of a turned sheet that As received shows with a list: each row stands with one of those below each other."""
    heads = sorted({order_of(other)[0] - 1 for other in some if other.grid.name == one.grid.name})
    at = heads.index(order_of(one)[0] - 1)
    return heads[at] if at else 0, heads[at + 1] - 1 if at + 1 < len(heads) else len(one.grid.rows) - 1


def cover(table: Table, plan: ListPlan, begin: int, end: int, columns: tuple[int, int]) -> None:
    """Gives every row from `begin` to `end` a fate: the ones above the headings, and the ones that the table has nothing in."""
    read = {row.number for row in table.rows}
    for line in table.grid.lines:
        number = line + 1
        if begin <= line <= end and number not in read and number not in table.refused:
            below = BELOW_LAST if plan.given and number > plan.last_row else BESIDE
            table.refused[number] = HEADING if number in plan.heading_rows else ABOVE if number < plan.first_row else below
    table.extent = (begin, end, *columns)
