"""Which columns the results are put into: directly right of the list, clear of everything that stands there."""

from __future__ import annotations

from collections.abc import Iterable, Set

from batch.errors import CannotFill
from batch.filling.beside import Block, Reach
from batch.ooxml.addresses import LAST_COLUMN, letters
from batch.ooxml.sheet_xml import Survey

FARTHEST = 40  # columns from the list to its results; farther off they would not be seen as its own (common practice, no source)


def first_column(
    survey: Survey, *, list_right: int, blocks: Iterable[Block], read: Reach, plain_styles: Set[str], count: int, rows: tuple[int, int]
) -> int:
    """The first of `count` columns (from 0) for the results of a list whose last column is `list_right`.

    survey        of the sheet, over the same `rows` (first, last)
    read          how far formulas read in those rows
    plain_styles  styles of cells that show a number as it is; an empty cell of another style is not written into

    Raises:
        CannotFill: there is no room that is safe.
    """
    near = [block for block in blocks if block.in_rows(*rows)]
    solid = [block for block in near if not block.floats]
    floating = [block for block in blocks if block.floats]  # wider columns would stretch them, in whatever rows they are
    right = list_right
    while True:
        grown = max([right, *(block.right for block in solid if block.left <= right < block.right)])
        while grown + 1 in survey.filled:
            grown += 1
        if grown == right:
            break
        right = grown
    start = _clear(max(right, read.column) + 1, count, floating, survey, plain_styles)
    if start - right - 1 > FARTHEST or start + count > LAST_COLUMN:
        raise CannotFill(_why_far(right, read, floating, count))
    end = start + count  # one column is left free after the results
    for column in sorted(survey.filled):
        if right < column <= end:
            raise CannotFill(
                f"cell {survey.filled[column]} holds something beside the list, and the results need the columns "
                f"{letters(start)} to {letters(end - 1)}: move it below the list or to a sheet of its own"
            )
    for block in solid:
        if block.right > right and block.left <= end:
            raise CannotFill(
                f"{block.what} ({letters(block.left)}{block.top}) too close to the right of the list, where the results need the columns "
                f"{letters(start)} to {letters(end - 1)}: move it below the list or to a sheet of its own"
            )
    return start


def _clear(start: int, count: int, floating: Iterable[Block], survey: Survey, plain_styles: Set[str]) -> int:
    """The first column from `start` on where nothing floats over the results and no empty cell would show them as something else."""
    while True:
        beyond = [block.right + 1 for block in floating if block.left < start + count and block.right >= start]
        beyond += [column + 1 for column in range(start, start + count) if survey.blanks.get(column, set()) - plain_styles]
        if not beyond or start >= LAST_COLUMN:
            return start
        start = max(beyond)


def _why_far(right: int, read: Reach, floating: Iterable[Block], count: int) -> str:
    if read.column - right > FARTHEST or read.column + count >= LAST_COLUMN:
        return (
            f"{read.where} reads as far as column {letters(read.column)}, so its result would change with what is filled in: "
            "let it read no more than the list"
        )
    if any(block.right > right for block in floating):
        return "pictures, charts or controls stand to the right of the list as far as can be seen: move them below it"
    return f"the sheet is formatted far to the right of the list (column {letters(right)}): clear the formats there, and save"
