"""Sentences about all rows but some, "All tanks 9 kW, except T-6": they are about the others, and of the named they say what stands behind
them, "except T-6, which is 6 kW", or nothing."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

from batch.intake.list_supply import EXCEPT
from batch.intake.list_words import hits
from batch.intake.sentence_words import forms

if TYPE_CHECKING:
    from batch.intake.rows_named import RowsNamed

FIGURE = re.compile(r"\d")


def all_but(text: str, rows: RowsNamed) -> list[tuple[str, set[int]]]:
    """What a sentence says of the others and what of those that it excepts, each with the rows by their index; nothing where it excepts
    no row, or gives no figure, or is the caption of a sum, "Subtotal 480 V without T-13". Where it leaves open of which a figure is, all of
    them are asked by it."""
    if any(hit.start == 0 for hit in hits("totals", text.strip())):
        return []
    for match in _except().finditer(text):
        before, behind = text[: match.start()], text[match.end() :]
        clause, rest = _parted(behind)
        named = rows.named_in(clause)
        if not named and not rows.without_names(before).strip(" ,;:-"):  # "T-6 excepted: all tanks 9 kW"
            before, clause, rest, named = "", "", behind, rows.named_in(before)
        if not named:
            continue
        every = set[int]().union(*rows.tanks.values())
        bare = rows.without_names(before)
        if FIGURE.search(rows.without_names(clause)):
            return [(f"{bare} {rows.without_names(clause)} {rest}", every)]
        told = FIGURE.search(bare) is not None
        if not told and rest.lstrip(", ")[:1] not in ("", ":", "-", "–", "—", ";", "=") and clause:  # "except T-6, which is 9 kW"
            return []
        said, theirs = (bare, rest) if told else (f"{bare} {rest}", "")
        others = (rows.named_in(before) or every) - named
        return [(said, others), (theirs, named)] if FIGURE.search(said) and others else []
    return []


def _parted(behind: str) -> tuple[str, str]:
    """What follows the word for "except" as those that are excepted, and what is said behind them."""
    match = _which().search(behind)
    return (behind[: match.start()], behind[match.start() :]) if match is not None else (behind, "")


@lru_cache(maxsize=1)
def _except() -> re.Pattern[str]:
    return re.compile(rf"{EXCEPT.pattern}(?:\s+(?:for|von|para|per|por))?|\b{forms('but_for')}(?=\s+\S*\d)", re.IGNORECASE)


@lru_cache(maxsize=1)
def _which() -> re.Pattern[str]:
    return re.compile(rf"[;:(]|\s[-–—=]\s|,?\s+{forms('which_are')}(?!\w)|,\s*(?=(?:only\s+)?\d+(?:[.,]\d+)?\s*(?:k?W|V)\b)", re.IGNORECASE)
