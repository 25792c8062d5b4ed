"""Lists that do not run down the sheet: one tank a column, or one block of labels and values a tank. Both become rows here."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence, Set
from itertools import pairwise

from msgspec import Struct, field
from msgspec.structs import replace

from batch.intake.grid import Grid
from batch.intake.list_words import meanings
from batch.intake.plan import ListPlan, Question
from batch.intake.prose import LEAST_OF_A_TANK, like_data
from batch.intake.survey import HeadingColumn, Region, cells_of, flat, runs
from batch.ooxml.addresses import letters

TAG_BELOW = Question(  # of lists that stand over each other
    "Whose are these heaters", "those of the tank whose tag stands below them", "those of the tank whose tag stands above them", ""
)
MOST_CELLS = 400_000  # of a sheet that is turned over to be looked at
MOST_LABELS = 1_000  # rows of such a sheet, of which each is a label: no list has more, and each would be a column to be understood
CORE = frozenset({"quantity", "power_kw", "total_kw", "volts_v", "phases", "amps_a", "description"})
MOST_BESIDE = 3  # cells beside a label of a block: value, unit and remark; more are values of other tanks: judgement, no source
MOST_OF_A_FORM = 80  # rows of the form of one tank: judgement, no source
LEAST_OF_A_PAIR = 2  # columns of labels
LEAST_LABELS = 3  # of ours in a column, for it to be one of labels
TURNED, BLOCKS = "turned", "blocks"
NONE: Set[int] = frozenset()


class Blocks(Struct):
    """Blocks of labels and values as rows: the row's number is that of the block's tag; `places` has the address of each value."""

    region: Region
    places: dict[int, dict[int, str]] = field(default_factory=dict)
    lines: frozenset[int] = frozenset()  # rows of the sheet that the blocks take, from 0
    label_column: int = 0  # the first one, from 0


def turned_over(grid: Grid) -> Grid | None:
    """The sheet with rows and columns changed round, so that row 4 is column D; None where it is too large or long, or blank."""
    if not 0 < grid.filled <= MOST_LABELS or len(grid.rows) * grid.width > MOST_CELLS:
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
        comments={(column, row): text for (row, column), text in grid.comments.items()},
        looks_known=grid.looks_known,
    )


def label_columns(grid: Grid, skip: Set[int] = NONE) -> list[int]:
    """Columns of labels that begin again and again with the tank's: one block a tank. `skip`: rows that are other tables."""
    found = []
    for index in range(grid.width):
        values = (grid.rows[line][index] for line in grid.lines if line not in skip)
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


def blocks(grid: Grid, only: int = -1, skip: Set[int] = NONE) -> list[Blocks]:
    """Every column of blocks on the sheet, or that in column `only`; `skip`: rows that are other tables."""
    columns = label_columns(grid, skip)
    found = []
    for number, index in enumerate(columns):
        until = columns[number + 1] - 1 if number + 1 < len(columns) else grid.width - 1
        if only in (-1, index) and (one := _blocks(grid, index, until, skip)):
            found.append(one)
    form = _form(grid, skip) if not columns else None
    return [form] if form is not None and only in (-1, form.label_column) else found


def _form(grid: Grid, skip: Set[int]) -> Blocks | None:
    """The sheet as the form of one tank, with labels in two columns or more, each beside its value: "Volts | 480 | Phase | 3"."""
    lines = [line for line in grid.lines if line not in skip]
    if not 0 < len(lines) <= MOST_OF_A_FORM:
        return None
    beside = [[_is_label(cell) and _filled(other) for cell, other in pairwise(grid.rows[line])] for line in lines]
    columns = [at for at, labels in enumerate(zip(*beside, strict=True)) if sum(labels) >= LEAST_LABELS]
    if len(columns) < LEAST_OF_A_PAIR:  # "No. of heaters | 3 | kW each | 9 | Volts | 480" in one line, below "Tank no. | 1"
        columns = max((_labels_across(grid.rows[line], labels) for line, labels in zip(lines, beside, strict=True)), key=len)
    if len(columns) < LEAST_OF_A_PAIR:
        return None
    pairs = []
    for line in lines:
        for at, until in zip(columns, [*columns[1:], grid.width], strict=True):
            label, own = grid.rows[line][at], cells_of(grid.rows[line], at + 1, until - 1)
            if isinstance(label, str) and label.strip() and not like_data(label.split(":")[0]) and own:
                pairs.append((line, at, label.split(":")[0], own))
    keys = [(at, _key(label)) for _, at, label, _ in pairs]
    tanks = [line for (line, at, label, _), (_, key) in zip(pairs, keys, strict=True) if key == "tank" and at == columns[0]]
    core = {at for at, key in keys if key in CORE}
    whole = {"quantity"} <= {key for _, key in keys} and {"power_kw", "total_kw"} & {key for _, key in keys}
    numbers = any(sum(isinstance(value, float) for _, value in own) > 1 for *_, own in pairs)
    if len(core) < LEAST_OF_A_PAIR or not whole or numbers or [key for _, key in keys].count("tank") != 1 or len(tanks) != 1:
        return None
    start = tanks[0]
    texts = list(dict.fromkeys(flat(label).casefold() for _, _, label, _ in pairs))
    rows: list[list[object]] = [[""] * len(texts) for _ in range(start + 1)]
    cells: dict[tuple[int, int], tuple[int, int]] = {}
    for line, _, label, own in pairs:
        column = texts.index(flat(label).casefold())
        if (start, column) not in cells:
            rows[start][column], cells[start, column] = own[0][1], (line, own[0][0])
    shown = {flat(label).casefold(): flat(label) for _, _, label, _ in reversed(pairs)}
    headings = [HeadingColumn(at, shown[text], shown[text]) for at, text in enumerate(texts)]
    name = f"{grid.name}, blocks in column {letters(columns[0])}"
    virtual = _with_looks(Grid(name, rows, grid.hidden, (), grid.hidden_rows), grid, cells)
    region = Region(virtual, start, start - 1, start, start, headings, turned=BLOCKS)
    places = {start + 1: {column: f"{letters(at)}{line + 1}" for (_, column), (line, at) in cells.items()}}
    return Blocks(region, places, frozenset(lines), columns[0])


def _labels_across(row: Sequence[object], labels: Sequence[bool]) -> list[int]:
    """The columns of labels of a tank's heaters in one line of a form, each beside its value; [] where they are fewer than three."""
    found = [at for at, label in enumerate(labels) if label and _key(str(row[at]).split(":")[0]) in CORE]
    apart = all(other - one > 1 for one, other in pairwise(found))
    return found if len(found) >= LEAST_LABELS and apart else []


def _filled(cell: object) -> bool:
    return cell not in ("", None)


def _blocks(grid: Grid, index: int, until: int, skip: Set[int]) -> Blocks | None:
    lines = [line for line in grid.lines if line not in skip]
    starts = _starts(grid, index, lines)
    labels: dict[str, int] = {}
    texts: list[str] = []
    values: dict[int, dict[int, object]] = {}
    places: dict[int, dict[int, str]] = {}
    cells: dict[tuple[int, int], tuple[int, int]] = {}
    used: set[int] = set()
    beyond = alone = 0
    for number, start in enumerate(starts):
        end = starts[number + 1] if number + 1 < len(starts) else start + (starts[-1] - starts[-2] if len(starts) > 1 else len(grid.rows))
        values[start], places[start] = {}, {}
        for chunk in runs([line for line in lines if start <= line < end]):
            pairs = [(line, *pair) for line in chunk for pair in _pairs(grid, line, index, until)]
            if chunk[0] != start and any(labels.get(flat(label).casefold()) in values[start] for _, label, *_ in pairs):
                continue  # what comes behind a blank row and says the same again is of something else
            used.update(chunk)
            for line, label, at, value, more in pairs:
                key = flat(label).casefold()
                if key not in labels:
                    labels[key] = len(labels)
                    texts.append(flat(label))
                column = labels[key]
                beyond, alone = beyond + more, alone + (value != "" and not more)
                values[start].setdefault(column, value)
                places[start].setdefault(column, f"{letters(at)}{line + 1}")
                cells.setdefault((start, column), (line, at))
    if len(texts) < LEAST_LABELS or beyond > alone:  # figures beyond the values: a tank a column, of which a block would lose all but one
        return None
    width = len(texts)
    rows: list[list[object]] = [[""] * width for _ in range(starts[-1] + 1)]
    for start, row in values.items():
        for column, value in row.items():
            rows[start][column] = value
    name = f"{grid.name}, blocks in column {letters(index)}"
    virtual = _with_looks(Grid(name, rows, grid.hidden, (), grid.hidden_rows), grid, cells)
    region = Region(
        virtual,
        starts[0],
        starts[0] - 1,
        starts[0],
        starts[-1],
        [HeadingColumn(at, text, text) for at, text in enumerate(texts)],
        turned=BLOCKS,
    )
    return Blocks(region, {start + 1: some for start, some in places.items()}, frozenset(used))


def _starts(grid: Grid, index: int, lines: Sequence[int]) -> list[int]:
    """The lines in which a block begins: those of the tank's label. Of two that come equally often, "Stage" and "Bath", the first."""
    tanks = [line for line in lines if isinstance(label := grid.rows[line][index], str) and _key(label) == "tank"]
    texts = [flat(str(grid.rows[line][index]).split(":")[0]).casefold() for line in tanks]
    counts = Counter(texts)
    apart = len(counts) > 1 and len(set(counts.values())) == 1 and counts[texts[0]] > 1
    return [line for line, text in zip(tanks, texts, strict=True) if text == texts[0]] if apart else tanks


def _with_looks(virtual: Grid, grid: Grid, cells: Mapping[tuple[int, int], tuple[int, int]]) -> Grid:
    """The rows made of blocks, struck through and commented as their values are on the sheet. `cells`: where each value stands there."""
    return replace(
        virtual,
        struck=frozenset(place for place, cell in cells.items() if cell in grid.struck),
        left_unstruck={place: grid.left_unstruck[cell] for place, cell in cells.items() if cell in grid.left_unstruck},
        comments={place: grid.comments[cell] for place, cell in cells.items() if cell in grid.comments},
        looks_known=grid.looks_known,
    )


def _pairs(grid: Grid, line: int, index: int, until: int) -> list[tuple[str, int, object, bool]]:
    """Labels of one line with the column and the value of each, and whether figures stand beyond the value."""
    cell = grid.rows[line][index]
    if not isinstance(cell, str) or not cell.strip():
        return []
    label, colon, rest = cell.partition(":")
    beside = cells_of(grid.rows[line], index + 1, until)
    further = next((at for at in range(1, len(beside) - 1) if _is_label(beside[at][1])), len(beside))
    own = beside[:further]
    if own and colon and not rest.strip() and _is_label(own[0][1]) and str(own[0][1]).rstrip().endswith(":"):
        own = []  # a label without a value
    at, value = own[0] if own else (index, rest.strip() if colon else "")
    more = len(own) > MOST_BESIDE or any(isinstance(other, float) for _, other in own[1:])
    found: list[tuple[str, int, object, bool]] = [(label, at, value, more)]
    if further < len(beside):
        found += _pairs(grid, line, beside[further][0], until)
    return found


def _is_label(cell: object) -> bool:
    """May a cell be a label that we know: words without figures?"""
    return isinstance(cell, str) and not like_data(cell.split(":")[0]) and bool(_key(cell))


def address_of(index: int, number: int) -> str:
    """The cell of the real sheet for a column and row of a turned list."""
    return f"{letters(number - 1)}{index + 1}"


def cell_in(turned: str, line: int, column: int) -> str:
    """The cell of the real sheet for a line and column, from 0, of a list that may be turned."""
    return address_of(column, line + 1) if turned == TURNED else f"{letters(column)}{line + 1}"


def its_cell(turned: str, line: int, column: int) -> str:
    """A row's cell in words; the rows made of blocks do not know where each value stands."""
    return "a cell of its block" if turned == BLOCKS else f"its cell {cell_in(turned, line, column)}"


Places = Mapping[int, Mapping[int, str]]
Texts = Sequence[str]


def tag_below(plan: ListPlan) -> bool:
    """Of lists that stand over each other: is the line of the tags below the number or the power?"""
    of_heaters = [plan.columns[key].index for key in ("quantity", "power_kw", "total_kw") if key in plan.columns]
    return "tank" in plan.columns and bool(of_heaters) and plan.columns["tank"].index > min(of_heaters)
