"""Lists that do not run down the sheet: one tank a column, or one block of labels and values a tank. Both become rows here."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from batch.intake.grid import Grid
from batch.intake.list_words import meanings
from batch.intake.prose import LEAST_OF_A_TANK, like_data
from batch.intake.survey import HeadingColumn, Region, cells_of, flat
from batch.ooxml.addresses import letters

MOST_CELLS = 400_000  # of a sheet that is turned over to be looked at
CORE = frozenset({"quantity", "power_kw", "total_kw", "volts_v", "phases", "amps_a", "description"})
MOST_BESIDE = 3  # cells beside a label of a block: value, unit and remark; more are values of other tanks: judgement, no source
LEAST_LABELS = 3  # of ours in a column, for it to be one of labels
TURNED, BLOCKS = "turned", "blocks"


@dataclass(slots=True)
class Blocks:
    """Blocks of labels and values as rows: the row's number is that of the block's tag; `places` has the address of each value."""

    region: Region
    places: dict[int, dict[int, str]] = field(default_factory=dict)


def turned_over(grid: Grid) -> Grid | None:
    """The sheet with rows and columns changed round, so that row 4 is column D; None where it is too large, or blank."""
    if not grid.filled or len(grid.rows) * grid.width > MOST_CELLS:
        return None
    rows = [list(row) for row in zip(*grid.rows, strict=True)]
    merged = tuple((left, top, right, bottom) for top, left, bottom, right in grid.merged)
    return Grid(
        f"{grid.name}, turned",
        rows,
        grid.hidden,
        grid.stray,
        grid.hidden_columns,
        merged,
        hidden_columns=grid.hidden_rows,
        struck=frozenset((column, row) for row, column in grid.struck),
        left_unstruck={(column, row): text for (row, column), text in grid.left_unstruck.items()},
        looks_known=grid.looks_known,
    )


def label_columns(grid: Grid) -> list[int]:
    """Columns of labels that begin again and again with the tank's: one block a tank."""
    found = []
    for index in range(grid.width):
        values = (grid.rows[line][index] for line in grid.lines)
        labels = [value for value in values if isinstance(value, str) and value.strip() and not like_data(value.split(":")[0])]
        if len(labels) < 2 * LEAST_OF_A_TANK:  # no two blocks: what the labels mean need not be asked
            continue
        keys = [_key(label) for label in labels]
        if (
            keys.count("tank") >= 2
            and len(CORE & set(keys)) >= 2
            and sum(keys.count(key) for key in CORE) >= 2 * (LEAST_OF_A_TANK - 1)
        ):
            found.append(index)
    return found


def _key(text: str) -> str:
    label = text.split(":")[0]
    some = [one for one in meanings(label) if one.score >= 0.6 and one.key]
    return some[0].key if some else ""


def blocks(grid: Grid, only: int = -1) -> list[Blocks]:
    """Every column of blocks on the sheet, or that in column `only`."""
    columns = label_columns(grid)
    found = []
    for number, index in enumerate(columns):
        until = columns[number + 1] - 1 if number + 1 < len(columns) else grid.width - 1
        if only in (-1, index) and (one := _blocks(grid, index, until, len(columns) > 1)):
            found.append(one)
    return found


def _blocks(grid: Grid, index: int, until: int, several: bool) -> Blocks | None:
    starts = [line for line in grid.lines if isinstance(label := grid.rows[line][index], str) and _key(label) == "tank"]
    labels: dict[str, int] = {}
    texts: list[str] = []
    values: dict[int, dict[int, object]] = {}
    places: dict[int, dict[int, str]] = {}
    beyond = alone = 0
    for number, start in enumerate(starts):
        end = starts[number + 1] if number + 1 < len(starts) else start + (starts[-1] - starts[-2] if len(starts) > 1 else len(grid.rows))
        values[start], places[start] = {}, {}
        for line in range(start, min(end, len(grid.rows))):
            cell = grid.rows[line][index]
            if not isinstance(cell, str) or not cell.strip():
                continue
            label, colon, rest = cell.partition(":")
            key = flat(label).casefold()
            if key not in labels:
                labels[key] = len(labels)
                texts.append(flat(label))
            column = labels[key]
            beside = list(cells_beside(grid, line, index, until))
            at, value = beside[0] if beside else (index, rest.strip() if colon else "")
            more = len(beside) > MOST_BESIDE or any(isinstance(other, float) for _, other in beside[1:])
            beyond, alone = beyond + more, alone + (bool(beside) and not more)
            values[start][column], places[start][column] = value, f"{letters(at)}{line + 1}"
    if len(texts) < LEAST_LABELS or beyond > alone:  # figures beyond the values: a tank a column, of which a block would lose all but one
        return None
    width = len(texts)
    rows: list[list[object]] = [[""] * width for _ in range(starts[-1] + 1)]
    for start, row in values.items():
        for column, value in row.items():
            rows[start][column] = value
    name = f"{grid.name}, blocks in column {letters(index)}"
    virtual = Grid(name, rows, grid.hidden, (), grid.hidden_rows)
    region = Region(
        virtual,
        starts[0],
        starts[0] - 1,
        starts[0],
        starts[-1],
        [HeadingColumn(at, text, text) for at, text in enumerate(texts)],
        turned=BLOCKS,
    )
    return Blocks(region, {start + 1: some for start, some in places.items()})


def cells_beside(grid: Grid, line: int, index: int, until: int):
    """The filled cells to the right of a label."""
    return iter([(at, value) for at, value in cells_of(grid.rows[line], index + 1, until)])


def address_of(index: int, number: int) -> str:
    """The cell of the real sheet for a column and row of a turned list."""
    return f"{letters(number - 1)}{index + 1}"


Places = Mapping[int, Mapping[int, str]]
Texts = Sequence[str]
