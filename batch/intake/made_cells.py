"""The cell of one of our columns where a column map makes it of several of theirs, and words of cells that the map gives a meaning."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from batch.intake.cells import squeezed
from batch.intake.facts import Fact
from batch.intake.grid import Broken, Shown, worded
from batch.intake.numbers import speak
from batch.intake.plan import FIRST, JOIN, ColumnPlan, ListPlan
from batch.intake.survey import flat


def made_cell(column: ColumnPlan, row: Sequence[object], plan: ListPlan) -> tuple[object, str, int]:
    """The cell, the unit of a bare number in it, and the column of theirs that it stands in."""
    cells = [(row[part.at] if part.at < len(row) else "", part.unit, part.at) for part in column.parts]
    filled = [(cell, unit, index) for cell, unit, index in cells if not _blank(cell, plan.blank_words)]
    if not column.parts or not filled:
        cell = row[column.index] if column.index < len(row) else ""
        return ("" if _blank(cell, plan.blank_words) else cell), column.unit, column.index
    broken = next((one for one in filled if type(one[0]) is Broken), None)
    if column.how == FIRST or broken is not None or len(filled) == 1:
        return broken or filled[0]
    if column.how == JOIN:
        return column.between.join(flat(cell) for cell, _, _ in filled), column.unit, filled[0][2]
    return _sum([cell for cell, _, _ in filled], plan.decimal), column.unit, filled[0][2]


def _sum(cells: Sequence[object], decimal: str) -> object:
    """The figures added up; where one is no plain figure, all of them as they stand, so that none is read."""
    figures: list[float] = []
    for cell in cells:
        said = speak(cell, decimal) if isinstance(cell, str) else None
        if isinstance(cell, (int, float)) and not isinstance(cell, (bool, Shown)):
            figures.append(float(cell))
        elif said is not None and said.other is None and not said.rest:
            figures.append(said.value)
        else:
            return " + ".join(worded(cell) for cell in cells)
    return float(f"{sum(figures):.12g}")


def _blank(cell: object, words: Sequence[str]) -> bool:
    return cell is None or cell == "" or (isinstance(cell, str) and type(cell) is not Broken and flat(cell).casefold() in words)


def meant(key: str, cell: object, index: int, means: Mapping[str, Mapping[str, object]]) -> Fact | None:
    """What the map says that the word in a cell stands for; None where it says nothing of it."""
    words = means.get(key)
    if not words or cell in (None, "") or type(cell) is Broken:
        return None
    text = worded(cell).strip()
    value = words.get(squeezed(text) or text)
    return Fact(value, index, text) if value is not None else None
