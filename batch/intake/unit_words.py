"""Words that are a unit and no more, as a row of units below the headings of a list has them."""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.grid import worded
from batch.intake.heading_sense import concepts_of
from batch.intake.list_words import words
from batch.intake.wording import words as words_of
from batch.units import spelled

COMPOUND_UNIT = re.compile(r"[A-Za-zµ°]{1,3}\s?/\s?[a-z]{1,3}[²³23]?|V\s?/\s?(?:ph|ø)\s?(?:/\s?Hz)?", re.IGNORECASE)
LEAST_HEADED = 3  # columns of a row of headings
UNITS_ALONE = frozenset(
    {"ea", "each", "pcs", "pcs.", "no", "no.", "nr", "nr.", "stk", "stk.", "qty", "#", "-", "–", "ph", "hp", "btu/h", "btuh", "gal", "l"}
    | {"ac", "vac", "1/3", "1 or 3", "1/3 ph", "text", "tag", "y/n", "kw ea", "kw each", "kw total", "gpm", "ø", "x", "°f", "°c"}
)  # fmt: skip


def is_unit(text: str) -> bool:
    """Is a text a unit, "kW", "(V)", "V/ph", or a word that stands for one below a heading, "ea"?"""
    bare = text.strip().strip("()[]{}").strip()
    if bare.casefold() in UNITS_ALONE or spelled(bare) is not None or spelled(bare.strip(".")) is not None:
        return True
    if words().unit(bare) is not None or bool(words()["pieces"].whole(bare)) or bool(COMPOUND_UNIT.fullmatch(bare)):
        return True
    first, _, of_what = bare.partition(" ")  # "A ea", "kW per heater"
    per = any(words()[name].whole(of_what) for name in ("per_heater", "per_tank", "total")) if of_what else False
    return per and (spelled(first) is not None or words().unit(first) is not None)


def heads_rows_below(cells: Sequence[tuple[int, object]], above: Sequence[tuple[int, object]]) -> bool:
    """Is a row below headings one name in the column of the first, "LINE 1", which heads the rows below it and no column?"""
    if len(cells) != 1 or len(above) < LEAST_HEADED or cells[0][0] != above[0][0]:
        return False
    text = " ".join(worded(cells[0][1]).split())
    return not is_unit(text) and text[:1] not in "([{" and not any(concepts_of(word) for word in words_of(text))
