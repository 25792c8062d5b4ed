"""What a list of heaters says of the baths that they heat: sizes, liquids and temperatures, so that heat is judged without a sheet Tanks.

Its columns are looked for among those that the heaters have no use for, by what their headings say; nothing is guessed from figures but
the degrees of a list on North American volts, and that is said.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache

from batch.findings import find, remark
from batch.intake.assignment import CERTAIN, LIKELY
from batch.intake.cells import Outcome, Reader, reader
from batch.intake.grid import worded
from batch.intake.head import Head
from batch.intake.heading_columns import A_UNIT
from batch.intake.heading_columns import SIDES as OF_SIDES
from batch.intake.heading_sense import concepts_of, names_a_heater
from batch.intake.headings import BRACKETS, column_unit
from batch.intake.line_kinds import DATA
from batch.intake.list_columns import BATH, LIST, TANK_SIZE
from batch.intake.list_words import UNIT_NAMES, other_equipment, words
from batch.intake.names import fold
from batch.intake.numbers import number_of
from batch.intake.plan import ColumnPlan
from batch.intake.study import Studied
from batch.intake.survey import HeadingColumn
from batch.intake.table import Row, Table
from batch.intake.wording import folded
from batch.intake.wording import words as heading_words
from batch.ooxml.addresses import letters
from batch.sheets import TANKS
from batch.units import Unit, find_unit

KEYS = frozenset(column.key for column in BATH)
SIDES = ("length_m", "width_m", "depth_m")
LEAST_NAME = 0.85  # of a heading for a column of a bath: judgement, no source
LEAST_SIZES = 0.5  # of a column's cells that are three measures: judgement, no source
ABOVE_BOILING_C = 110.0  # of figures that are no degrees Celsius of a bath of water: judgement, no source
NORTH_AMERICAN = frozenset({115, 120, 208, 230, 240, 277, 460, 480, 575, 600})  # volts: ANSI C84.1, from memory
TIMES = re.compile(r"\s*(?:[x×*]|\bby\b|(?<=\d)\s*/\s*(?=\d))\s*", re.IGNORECASE)
LETTER = re.compile(r"(?<=[\d\s\"'”′″.)])\s*[LWBDHTPlwbdh]\.?\Z|\A[LWBDHTPlwbdh][\s.:=]+")  # "96L", "L 96": which side it is
ENDING = re.compile(r"\d\s*([a-zA-Z]{1,6}\.?|\"|''|'|”|″|′)\s*\Z")
THOUSANDS = re.compile(r"(?<![\d.,])(\d{1,3})[.,](\d{3})(?![\d.,])")
ORDER = re.compile(  # "L x W x D", "lxbxh", "depth x width x length"
    r"\b([a-z])\s*[x×*/]\s*([a-z])\s*[x×*/]\s*([a-z])\b|([^\W\d_]{2,})\.?\s*(?:[×*/]|\bx\b)\s*([^\W\d_]{2,})\.?\s*(?:[×*/]|\bx\b)\s*([^\W\d_]{2,})",
    re.IGNORECASE,
)
DEPTHS = frozenset(  # what stands last where length and width stand before it: only then is the order ours
    {"d", "h", "t", "p", "a", "v", "depth", "deep", "height", "high", "ht", "dp", "tiefe", "hohe", "hoehe", "profondeur", "hauteur"}
    | {"profundidad", "alto", "altura", "profondita", "altezza", "diepte", "hoogte", "gleb", "glebokosc", "wys", "wysokosc", "profundidade"}
    | {"haut", "prof", "dybde", "hojde", "hoyde", "djup", "hojd", "hloubka", "vyska"}
)
INSIDE = frozenset({"inside", "internal", "inner", "clear", "overall", "innen", "interieures", "utiles", "interiores", "interne", "utili"})
OF_A_TANK_M = 0.25  # the least side of a tank under a heading that names none: judgement, no source
MOST_SHOWN = 5  # cells that a finding names


def bath_columns(one: Studied) -> dict[str, ColumnPlan]:
    """The columns of a list that describe its baths, by key; none of a list of which a map tells the columns."""
    plan = one.plan
    if one.region is None or plan.given or plan.turned or plan.free:
        return {}
    taken = plan.taken()
    found = _sides_apart(one, taken)
    best: dict[str, float] = dict.fromkeys(found, 1.0)
    apart = {column.index for column in found.values()}
    for head in one.region.columns:
        if head.index in taken or not head.text or head.index in apart or head.side() >= 0:
            continue
        meant = _sizes_column(one, head) or _meant(one, head)
        if meant is not None and meant[1] > best.get(meant[0].key, 0.0):
            best[meant[0].key], found[meant[0].key] = meant[1], meant[0]
    if TANK_SIZE.key in found or not {"length_m", "width_m"} <= found.keys():  # one side alone may be that of a heater
        found = {key: column for key, column in found.items() if key not in SIDES or _of_a_tank(column.heading)}
    return found


def _sides_apart(one: Studied, taken: set[int]) -> dict[str, ColumnPlan]:
    """Length, width and depth in three columns beside each other under one heading of sizes of tanks, each headed by its side, or none."""
    heads = one.region.columns if one.region is not None else []
    for first, second, third in zip(heads, heads[1:], heads[2:], strict=False):
        three = (first, second, third)
        indexes = [head.index for head in three]
        if indexes != list(range(first.index, first.index + 3)) or taken & set(indexes):
            continue
        bare = not (second.text or third.text or second.unit or third.unit) and bool(words()["tank_sizes"].find(first.text))
        sides = [0, 1, 2] if bare else [head.side() for head in three]  # as they stand in one cell: "96 x 36 x 48"
        if all(_lettered(head, at) for at, head in enumerate(three)):
            sides = [0, 1, 2]
        if sorted(sides) != [0, 1, 2]:
            continue
        if names_a_heater(first.text) or other_equipment(first.text) or (bare and not _in_order(first.text)):
            continue
        pieces = re.split(r"[\s,;:()\[\]]+", " ".join(f"{head.text} {head.unit}" for head in (third, first)))
        units = [known for piece in pieces if len(piece) > 1 and (known := find_unit(piece, "length"))]
        unit = next((name for known in units if (name := UNIT_NAMES.get(known, ""))), "")
        columns = {
            SIDES[side]: ColumnPlan(SIDES[side], head.index, head.text, unit, CERTAIN, "its heading says so")
            for side, head in zip(sides, three, strict=True)
        }
        read = [_reader(key, column, one.plan.decimal)(cell) for key, column in columns.items() for cell in _cells(one, column.index)]
        if not bare or (read and sum(isinstance(value, float) for value in read) >= LEAST_SIZES * len(read)):
            return columns
    return {}


def _lettered(head: HeadingColumn, at: int) -> bool:
    """Is a column headed by the letter of that side of a tank and a unit of length: "L" over "mm", "B [mm]"?"""
    lengths = [piece for piece in re.split(r"[\s,;:()\[\]]+", f"{head.text} {head.unit}") if len(piece) > 1 and find_unit(piece, "length")]
    letter = A_UNIT.sub(" ", head.text).strip()
    return bool(lengths) and len(letter) == 1 and OF_SIDES[at].fullmatch(letter) is not None


def _of_a_tank(heading: str) -> bool:
    return any("tank" in concepts_of(word) for word in heading_words(heading))


def _meant(one: Studied, head: HeadingColumn) -> tuple[ColumnPlan, float] | None:
    """The column of a bath that a heading means before all else, and how well it fits."""
    said = next(iter(words().heading_candidates(head.with_unit())), None)
    if said is None or said.sheet_id != "tanks" or said.key not in KEYS or said.score < LEAST_NAME:
        return None
    if said.key in SIDES and names_a_heater(head.text):
        return None
    unit, why, sure = UNIT_NAMES.get(said.unit, "") if said.unit is not None else "", said.why, CERTAIN
    if said.key.endswith("_c") and not unit and _fahrenheit(one, head.index):
        unit, sure, why = "°F", LIKELY, f"{why}; its figures are too high for °C, and the volts are North American"
    return ColumnPlan(said.key, head.index, head.text, unit, sure, why), said.score


def _fahrenheit(one: Studied, index: int) -> bool:
    volts = [line.figure("volts_v") for line in one.lines if line.kind == DATA]
    figures = [value for cell in _cells(one, index) if (value := number_of(cell)) is not None]
    american = bool(volts) and all(value in NORTH_AMERICAN for value in volts if value is not None)
    return american and any(value > ABOVE_BOILING_C for value in figures)


def _cells(one: Studied, index: int) -> Iterable[object]:
    for line in one.lines:
        row = one.grid.rows[line.index] if line.kind == DATA else []
        if index < len(row) and row[index] not in ("", None):
            yield row[index]


def _sizes_column(one: Studied, head: HeadingColumn) -> tuple[ColumnPlan, float] | None:
    """A column of lengths, widths and depths in one cell: "96 x 36 x 48"."""
    if not words()["tank_sizes"].find(head.text) or names_a_heater(head.text) or other_equipment(head.text) or not _in_order(head.text):
        return None
    cells = [worded(cell) for cell in _cells(one, head.index)]
    if not cells or sum(len(TIMES.split(cell.strip())) == len(SIDES) for cell in cells) < LEAST_SIZES * len(cells):
        return None
    pieces = re.split(r"[\s,;:()\[\]]+", f"{head.text} {head.unit}")
    unit = next((name for piece in pieces if (known := find_unit(piece, "length")) and (name := UNIT_NAMES.get(known, ""))), "")
    sides = [side for cell in cells for side in sizes_in(cell, unit, one.plan.decimal) or ()]
    if not _of_a_tank(head.text) and (not _size_alone(head.text) or any(side < OF_A_TANK_M for side in sides)):
        return None  # a heater's, perhaps, or a box's
    return ColumnPlan(TANK_SIZE.key, head.index, head.text, unit, CERTAIN, "its heading says so, and its cells are three measures"), 1.0


def _size_alone(heading: str) -> bool:
    """Does a heading say no more than that it is a size: "Size L x W x D (in)", "Inside dimensions"; not "Panel size"?"""
    rest = [word for word in heading_words(ORDER.sub(" ", BRACKETS.sub(" ", heading))) if find_unit(word, "length") is None]
    left = " ".join(word for word in rest if word not in INSIDE)
    return not left or bool(words()["tank_sizes"].whole(left))


def _in_order(heading: str) -> bool:
    """Does a heading say length, width and depth in this order, or nothing of it? "depth x width x length" is not read."""
    match = ORDER.search(heading)
    return match is None or folded(match[3] or match[6]) in DEPTHS


def baths_of(one: Studied, table: Table) -> Table | None:
    """The tanks of a settled list as rows of the sheet Tanks, as far as the list describes them; None where it does not.

    A tank that has several rows is described by all of them; where two say different things of it, neither is taken.
    """
    columns = {key: column for key, column in one.plan.columns.items() if key in KEYS}
    if not columns or not table.rows or one.plan.turned:
        return None
    baths = Table(TANKS, table.grid, Head(table.head.row), _letters_of(columns), extent=(0, -1, 0, 0), of_list=True)
    readers = {key: _reader(key, column, one.plan.decimal) for key, column in columns.items() if key != TANK_SIZE.key}
    tanks: dict[tuple[str, str], Row] = {}
    disputed: dict[tuple[tuple[str, str], str], list[str]] = {}
    left: list[str] = []
    read: set[str] = set()
    for row in table.rows:
        who = str(row.values.get("project", "")), fold(row.values["tank"])
        bath = tanks.setdefault(who, Row(row.number, {key: row.values[key] for key in ("project", "tank") if key in row.values}, baths))
        for key, value, at, seen in _values(one, row, columns, readers):
            if value is None:
                left.append(f"{at} ({seen})")
            elif bath.values.setdefault(key, value) != value:
                disputed.setdefault((who, key), []).append(at)
            else:
                read.add(key)
    left = list(dict.fromkeys(left))
    for (who, key), cells in disputed.items():
        del tanks[who].values[key]
        left += [f"{cell} (another row of the tank says otherwise)" for cell in cells]
    if not read:
        return None
    baths.rows = list(tanks.values())
    _say(one, table, baths, columns, left)
    return baths


def _letters_of(columns: dict[str, ColumnPlan]) -> dict[str, str]:
    found = {key: letters(column.index) for key, column in columns.items() if key != TANK_SIZE.key}
    if size := columns.get(TANK_SIZE.key):
        found = {side: letters(size.index) for side in SIDES} | found
    return found


def _values(
    one: Studied, row: Row, columns: dict[str, ColumnPlan], readers: dict[str, Reader]
) -> Iterable[tuple[str, object, str, str]]:
    """What a row says of its bath: key, value (None where it cannot be read), cell, and the words of the cell."""
    cells = one.grid.rows[row.number - 1]
    for key, column in columns.items():
        cell = cells[column.index] if column.index < len(cells) else ""
        seen = worded(cell).strip()
        if not seen or words()["nothing"].whole(seen) or not any(map(str.isalnum, seen)):
            continue
        at = row.table.address(column.index, row.number)
        if key != TANK_SIZE.key:
            value = readers[key](_whole(cell) if key == "volume_l" and column.unit in ("L", "gal") else cell)
            yield key, None if type(value) is Outcome else value, at, seen
            continue
        sides = sizes_in(seen, column.unit, one.plan.decimal)
        for side, value in zip(SIDES, sides or (None,), strict=False):
            yield side, value, at, seen


def _whole(cell: object) -> object:
    """ "1.800" liters or gallons are a thousand and more: a bath that has heaters holds no pint."""
    return THOUSANDS.sub(r"\1\2", cell) if isinstance(cell, str) else cell


def _reader(key: str, column: ColumnPlan, decimal: str) -> Reader:
    """A figure without a unit, under a heading without one, is not read."""
    own = column_unit(TANKS[key])
    return _in_unit_of(key, find_unit(column.unit, own.quantity) if own and column.unit else None, decimal)


@lru_cache(maxsize=64)
def _in_unit_of(key: str, unit: Unit | None, decimal: str) -> Reader:
    strange = "no unit" if unit is None and column_unit(TANKS[key]) else ""
    return reader(TANKS[key], unit, strange, decimal=decimal)


def sizes_in(text: str, unit: str, decimal: str = "") -> tuple[float, float, float] | None:
    """Length, width and depth in metres of "96 x 36 x 48 in"; None where the text is not three measures, or their unit is not said."""
    pieces = [LETTER.sub("", piece.strip()).strip() for piece in TIMES.split(text.strip(" ()"))]
    if len(pieces) != len(SIDES) or not all(pieces):
        return None
    ending = ENDING.search(pieces[-1])
    of_all = find_unit(ending[1], "length") if ending else None
    known = find_unit(unit, "length") if unit else None
    bare = known or of_all
    found: list[float] = []
    for side, piece in zip(SIDES, pieces, strict=True):
        value = _in_unit_of(side, bare, decimal)(piece)
        if not isinstance(value, float):
            return None
        found.append(value)
    return found[0], found[1], found[2]


def _say(one: Studied, table: Table, baths: Table, columns: dict[str, ColumnPlan], left: Sequence[str]) -> None:
    called = {key: f'"{column.heading}"' if column.heading else f"column {letters(column.index)}" for key, column in columns.items()}
    named = ", ".join(f"{called[key]} as {LIST[key].heading}{_in_unit(column)}" for key, column in columns.items())
    cells = f"; not read: {', '.join(left[:MOST_SHOWN])}{' and others' if len(left) > MOST_SHOWN else ''}" if left else ""
    first = next(iter(columns.values()))
    where = {"sheet": table.grid.name, "cell": table.address(first.index, one.plan.heading_row or 1)}
    said = remark("baths-from-list", sheet=table.grid.name, count=len(baths.rows), columns=named, left=cells)
    baths.findings.append(find(said, **where))


def _in_unit(column: ColumnPlan) -> str:
    return f" ({column.unit}, likely)" if column.sure == LIKELY and column.unit else ""
