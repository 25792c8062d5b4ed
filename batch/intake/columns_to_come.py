"""Columns that say in words what is there and what is to come, "Existing" over "2 x 6 kW" beside "New" over "3 x 9 kW": bought is what
stands under what is to come, and nothing is sized by what was."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from batch.intake.cell_profiles import Profile
from batch.intake.cells_that_describe import POWER_ALONE, POWERED
from batch.intake.headed_by_age import AFTER, BEFORE, ages
from batch.intake.heading_columns import HeadingColumn
from batch.intake.line_kinds import DATA, DOUBT, OUT, Line
from batch.intake.list_words import words as known
from batch.intake.plan import ListPlan, Question
from batch.intake.sentence_words import worded_so
from batch.intake.survey import Region, flat
from batch.ooxml.addresses import letters

FIGURES = frozenset({"quantity", "power_kw", "total_kw", "description"})


def told_before(columns: Sequence[HeadingColumn], seen: Mapping[int, Profile]) -> frozenset[int]:
    """The columns that describe the heaters that are there, beside one of what is to come."""
    told = _ages(columns)
    if AFTER not in told.values():
        return frozenset()
    return frozenset(at for at, age in told.items() if age == BEFORE and _describes(seen[at]))


def told_to_come(columns: Sequence[HeadingColumn], seen: Mapping[int, Profile]) -> list[HeadingColumn]:
    """The columns, without those that describe what is there, and that of what is to come as one that describes."""
    before = told_before(columns, seen)
    told = _ages(columns) if before else {}
    rest = [column for column in columns if column.index not in before]
    return [replace(one, describes=True) if told.get(one.index) == AFTER and _describes(seen[one.index]) else one for one in rest]


def asked_by_what_is_there(plan: ListPlan, lines: Sequence[Line], region: Region | None) -> None:
    """Puts in doubt the rows that say "same" under what is to come, and in question all where nothing says what is. `lines`: those that
    nobody has answered for."""
    columns = region.columns if region is not None else ()
    told = _ages(columns)
    read = {plan.columns[key].index: plan.columns[key] for key in FIGURES & plan.columns.keys()}
    if AFTER in told.values() and BEFORE in told.values():
        for line in lines:
            same = next(((at, flat(value)) for at, value in line.cells if told.get(at) == AFTER and _as_before(value)), None)
            if same is not None and (line.kind == DATA or (line.kind == OUT and line.why.strip('"') in same[1])):
                line.kind, line.at, line.why = DOUBT, same[0], f'"{same[1][:40]}" under what is to come'
                line.open = ("quantity", "power_kw")
    elif there := next((column for at, column in read.items() if told.get(at) == BEFORE and column.key == "description"), None):
        one = f'what stands under "{there.heading}" (column {letters(there.index)}) is to be bought, once more or in its place'
        line_of_map = f'Description = {{ column = "{letters(there.index)}" }}'
        plan.questions.append(Question("What is to be bought", one, "it is there already, and stays", line_of_map, about="description"))


def _as_before(value: object) -> bool:
    """Is a cell a word, and no mark, by which it is as another: "same", "idem"? Beside what is there that need not be the row above."""
    said = value.strip(" .!()") if isinstance(value, str) else ""
    return said[:1].isalpha() and (bool(known()["ditto"].whole(said)) or worded_so("as_what_is_there").fullmatch(said) is not None)


def _ages(columns: Sequence[HeadingColumn]) -> dict[int, str]:
    told = ages(column.text for column in columns if column.text)
    return {column.index: told[column.text] for column in columns if column.text in told}


def _describes(profile: Profile) -> bool:
    """Does a cell of a column of words name a power, and more than that?"""
    texts = profile.texts if not profile.numeric() else []
    return any(POWERED.search(text) and not POWER_ALONE.fullmatch(text) for text in texts)
