"""Requests without headings: sentences, one tank a line, as an e-mail has them; and rows whose cells say what they are by themselves."""

from __future__ import annotations

import re

from msgspec.structs import replace

from batch.intake.grid import Grid
from batch.intake.list_words import ditto
from batch.intake.plan import ColumnPlan, ListPlan
from batch.intake.prose import LEAST_LINES, POWERED
from batch.intake.survey import HeadingColumn, Region, cells_of, flat
from batch.intake.tank_words import sentence_of_a_tank, tank_named

MOST_BESIDE = 0.2  # of the rows may hold more than the one cell
LEAST_ROWS = 3  # that begin with a tag and name a power, for rows without headings to be a list: judgement, no source
ROW_TAG = re.compile(r"(?:[A-Za-z]{1,3}[-. ]?)?\d{1,4}[A-Za-z]?")
QUOTED = re.compile(  # an older letter below the new one
    r"\s*>|-{2,}\s*(?:original message|forwarded|urspr|message d'origine|mensaje original|messaggio originale)", re.IGNORECASE
)


def free_text(grid: Grid) -> tuple[Region, ListPlan] | None:
    """The column of sentences, from the first that names a tank to the last; None where the sheet is none."""
    alone = {line: cells_of(grid.rows[line]) for line in grid.lines}
    told: dict[int, list[int]] = {}
    for line, cells in alone.items():
        if len(cells) == 1 and isinstance(cells[0][1], str):
            text = flat(cells[0][1])
            if QUOTED.match(text):  # below it stands an older letter
                break
            if sentence_of_a_tank(text) and POWERED.search(text):
                told.setdefault(cells[0][0], []).append(line)
    at, lines = max(told.items(), key=lambda one: len(one[1]), default=(0, []))
    if len(lines) < LEAST_LINES or sum(len(cells) > 1 for cells in alone.values()) > MOST_BESIDE * len(alone):
        return None
    named = [line for line, cells in alone.items() if cells[0][0] == at and sentence_of_a_tank(flat(cells[0][1]))]
    start = named[0]
    end = next((line for line in grid.lines if line > start and QUOTED.match(flat(alone[line][0][1]))), grid.lines[-1] + 1) - 1
    region = Region(grid, start, start - 1, start, end, [HeadingColumn(at)])
    column = ColumnPlan("description", at, "", "", "likely", "its sentences name tanks and powers")
    plan = ListPlan(grid.name, (), at, at, start + 1, end + 1, {"description": column}, free=True, of_heaters=True)
    return region, plan


def bare_rows(grid: Grid) -> tuple[Grid, Region, ListPlan] | None:
    """Rows without headings, of a tag and cells that say themselves what they are: "T1", "soak", "3 heaters", "9 kW ea", "480V 3PH".

    The grid that is given back has the tags in their own column and what the row says of its heaters, joined, in the next.
    """
    filled = {line: cells_of(grid.rows[line]) for line in grid.lines}
    told: dict[int, list[int]] = {}
    for line, cells in filled.items():
        if len(cells) > 1 and _tag(flat(cells[0][1])) and any(POWERED.search(flat(value)) for _, value in cells[1:]):
            told.setdefault(cells[0][0], []).append(line)
    at, lines = max(told.items(), key=lambda one: len(one[1]), default=(0, []))
    if len(lines) < LEAST_ROWS:
        return None
    rows: list[list[object]] = []
    above: dict[int, object] = {}
    for line, row in enumerate(grid.rows):
        cells = filled.get(line, [])
        if len(cells) < 2 or cells[0][0] != at or line < lines[0]:
            rows.append(list(row))
            continue
        said = [(index, above.get(index, value) if index > at and ditto(flat(value)) else value) for index, value in cells]
        above = dict(said)
        joined = ", ".join(flat(value) for index, value in said if index > at)
        rows.append(["" if index not in (at, at + 1) else said[0][1] if index == at else joined for index in range(max(len(row), at + 2))])
    why = "each row begins with a tag"
    named = {line: tank_named(str(rows[line][at + 1])) for line in lines}
    if all(one.by_word and not one.doubt for one in named.values()):  # "E-1101" of a drawing before "Tank 4 heaters" is no tank's
        why = "each row names a tank by a word for it"
        for line, one in named.items():
            rows[line][at] = one.text
    start, end = lines[0], grid.lines[-1]
    part = replace(grid, rows=rows)
    region = Region(part, start, start - 1, start, end, [HeadingColumn(at), HeadingColumn(at + 1)])
    columns = {
        "tank": ColumnPlan("tank", at, "", "", "likely", why),
        "description": ColumnPlan("description", at + 1, "", "", "likely", "its cells say numbers, powers and volts themselves"),
    }
    plan = ListPlan(grid.name, (), at, at + 1, start + 1, end + 1, columns, free=True, of_heaters=True)
    return part, region, plan


def _tag(text: str) -> bool:
    named = tank_named(text)
    return bool(ROW_TAG.fullmatch(text)) or (named.by_word and named.start == 0)
