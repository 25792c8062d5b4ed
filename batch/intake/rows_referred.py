"""Remarks of a row that are nothing but another row of its list: "see 116", "dup. of T-4", "shared with tank 3". What the row takes from
there, if it is not the other's heaters again, nobody knows: it is asked about.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Set
from functools import lru_cache

from batch.intake.grid import Broken, worded
from batch.intake.line_kinds import DATA, DOUBT, OUT, Line
from batch.intake.note_numbers import number_of_note
from batch.intake.rows_named import TANK_WORDS
from batch.intake.sentence_words import forms
from batch.intake.study import Studied
from batch.intake.survey import flat
from batch.intake.tank_words import SAME_AS
from batch.intake.texts_beside import cell_of

OF_A_HEATER = ("quantity", "power_kw", "volts_v", "phases")
NUMBERED = re.compile(r"\d{1,2}")  # as notes are


@lru_cache(maxsize=1)
def _refers() -> re.Pattern[str]:
    before = rf"(?:the|item|pos\.?|row|line|no\.?|nr\.?|{'|'.join(TANK_WORDS)})"
    return re.compile(rf"\W*{forms('refers')}\s+(?:{before}\s*#?)?\s*(?P<name>[\w./-]*\w)\W*", re.IGNORECASE)


def ask_referred(one: Studied, sentences: Iterable[tuple[int, int, str]]) -> None:
    """Puts in doubt the rows of a list whose remark is another of its rows, and no numbered note."""
    if one.heaters != "yes" or one.plan.given:
        return
    notes = {number_of_note(text) for _, _, text in sentences}
    heated = [line for line in one.lines if line.kind in (DATA, DOUBT, OUT)]
    names: dict[str, dict[int, Line]] = {}
    for line in heated:
        for name in {worded(line.value("tank") or ""), worded(line.value("bank") or "")} - {""}:
            names.setdefault(name.casefold(), {})[line.index] = line
    figures = {column.index for key, column in one.plan.columns.items() if key not in ("notes", "status", "description")}
    for line in heated:
        if line.kind == DATA and not line.referred:
            _ask(line, names, notes, figures)


def _ask(line: Line, names: dict[str, dict[int, Line]], notes: Set[str], figures: Set[int]) -> None:
    """One row: what it says itself, "same as T-4", was taken before where it was missing."""
    for at, value in line.cells:
        text = flat(value) if isinstance(value, str) and type(value) is not Broken and at not in figures else ""
        match = _refers().fullmatch(text) if text else None
        if match is None or (NUMBERED.fullmatch(match["name"]) and match["name"] in notes):
            continue
        others = names.get(match["name"].casefold(), {})
        if SAME_AS.match(text) and len(others) == 1 and _alike(line, *others.values()):
            continue  # "wie Bad 5", and its own cells say what those of bath 5 say
        if others and line.index not in others:
            line.kind, line.at, line.why = DOUBT, at, f'"{text}" in {cell_of(line.index, at)}, which is another row of the list,'
            return


def _alike(line: Line, other: Line) -> bool:
    """Has a row the number, power and supply of another, each in cells of its own?"""
    own = [line.facts.get(key) for key in OF_A_HEATER]
    named = [other.value(key) for key in OF_A_HEATER]
    return all(fact is not None and fact.source != "same as" and fact.value == value for fact, value in zip(own, named, strict=True))
