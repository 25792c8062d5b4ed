"""Codes that a list has for its supplies, in a column of their own: "Net N = 3x400 V, net O = 3x230 V", "Emergency (E): 208 V, 3 ph"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from batch.intake.grid import Grid, worded
from batch.intake.line_kinds import StatedSupply
from batch.intake.list_words import hits, nothing_word
from batch.intake.plan import ListPlan
from batch.intake.supply_groups import put_supplies
from batch.intake.supply_notation import read_supply, supply_in_text
from batch.intake.texts_beside import cell_of

CODE = re.compile(r"(?:\(\s*(?P<mark>\w{1,3})\s*\)\s*[:=]|(?<![\w.-])(?P<alone>[A-Za-z]{1,3}\d?|\d{1,2})\s*[:=])\s*(?=\d)")
IN_BRACKETS = re.compile(r"\([^()]*\)")
LEAST_CODES = 2  # supplies with a code, for a list to have codes of supplies
LEAST_ROWS = 2  # rows with a code
SPLIT = re.compile(r"\s*[/,;+&]\s*")
OF_OTHER_COLUMNS = ("tank", "quantity", "power_kw", "total_kw", "volts_v", "phases", "tanks", "amps_a")


def codes_told(texts: Sequence[tuple[int, int, str]]) -> tuple[dict[str, StatedSupply], dict[StatedSupply, str]]:
    """The supply of each code, codes folded, and where it is told; none where a code is told twice and differs."""
    told: dict[str, set[StatedSupply]] = {}
    why: dict[StatedSupply, str] = {}
    for row, column, text in texts:
        marks = list(CODE.finditer(text))
        for at, match in enumerate(marks):
            end = marks[at + 1].start() if at + 1 < len(marks) else len(text)
            supply = _supply(text[match.end() : end])
            if supply is not None:
                told.setdefault((match["mark"] or match["alone"]).casefold(), set()).add(supply)
                why.setdefault(supply, f'"{text[:80]}" in {cell_of(row, column)}')
    found = {code: next(iter(some)) for code, some in told.items() if len(some) == 1}
    whole = len(found) == len(told) and len(set(found.values())) >= LEAST_CODES
    return (found, why) if whole else ({}, {})


def _supply(text: str) -> StatedSupply | None:
    """The one supply with which a text begins; None where it is not sure, or lacks its phases."""
    bare = IN_BRACKETS.sub(" ", text)
    spans = said.spans if (said := supply_in_text(bare)) is not None else ()
    end = max((stop for _, _, stop in spans), default=0)
    one = read_supply(bare[:end].strip(" ,;.")) if end else None
    if one is None or not one.sure or one.volts is None or one.phases not in (1, 3) or one.current == "DC":
        return None
    return StatedSupply(one.volts, one.phases) if not re.search(r"\d", bare[end:]) else None


def supply_by_codes(plan: ListPlan, grid: Grid, rows: Sequence[int], texts: Sequence[tuple[int, int, str]]) -> None:
    """Into the plan: the supply of each row by the code that it bears, where one column holds codes and nothing else."""
    supplies, why = codes_told(texts)
    if not supplies or plan.given or plan.also or plan.free or plan.row_supply:
        return
    taken = {plan.columns[key].index for key in OF_OTHER_COLUMNS if key in plan.columns}
    found = [(at, told) for at in range(plan.first, plan.last + 1) if at not in taken and (told := _column(grid, rows, at, supplies))]
    if len(found) == 1:
        put_supplies(plan, set(), found[0][1], why)


def _column(grid: Grid, rows: Sequence[int], at: int, supplies: Mapping[str, StatedSupply]) -> dict[int, StatedSupply]:
    """The supplies of the rows by a column of codes; {} where it holds anything else."""
    told: dict[int, StatedSupply] = {}
    for row in rows:
        text = worded(grid.rows[row][at]).strip() if at < len(grid.rows[row]) else ""
        parts = [part.strip("()").casefold() for part in SPLIT.split(text)]
        if all(part in supplies for part in parts):
            told |= {row: supplies[parts[0]]} if len(parts) == 1 else {}
        elif any(char.isalnum() for char in text) and not (nothing_word(text) or hits("unknown", text) or hits("doubt", text)):
            return {}
    return told if len(told) >= LEAST_ROWS else {}
