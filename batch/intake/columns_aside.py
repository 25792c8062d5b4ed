"""Columns headed by what stands beside the heaters, "Controls", "Thermostat", "Agitation", "Panel": by whom that comes, or that it is not
settled yet, says nothing of the heaters of its row. Below how a heater is made, "Sheath", it leaves the row open."""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.grid import Grid
from batch.intake.heading_sense import concepts_of, names_a_tank, subjects_of
from batch.intake.list_words import heads_what_is_beside, is_heater
from batch.intake.sentence_words import saying, worded_so
from batch.intake.survey import flat
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import words

BESIDE, MAKE = "beside", "make"
BY = "by|durch|vom|von|par|por|da|dal|del|door|van|przez|af|av|od"  # what stands before who brings a thing
OF_WHOM = re.compile(  # words of a heading that ask who, and name nothing
    rf"furnished|supplied|provided|furn|supply|type|{BY}", re.IGNORECASE
)
FROM = re.compile(  # how by whom a thing comes begins (trade words, common practice, no source)
    rf"(?:(?:furnished|supplied|provided|furn\.?)\s+)?(?:{BY})\s+\S.*"
    r"|bauseits|kundenseits|existing|by|n\.?i\.?c\.?|o\.?f\.?[eo]?\.?i?|ofci|ofoi|cfci", re.IGNORECASE
)  # fmt: skip
OF_A_BATH = re.compile(r"(?:tank |bath )?(?:service|chemicals?)", re.IGNORECASE)  # and of nothing beside it
NOT_SETTLED = frozenset({"hold", "pending", "later", "option", "optional"})


def columns_aside(grid: Grid, heading_rows: Sequence[int], feeder: int = -1) -> dict[int, str]:
    """The columns, by their index, that are about what stands beside the heaters, or about how they are made. `feeder`: the one that
    feeders are read from, whose cells speak of the supply."""
    found = {at: kind for at in range(grid.width) if (kind := _kind(heading_at(grid, heading_rows, at)))}
    return found | ({feeder: BESIDE} if feeder >= 0 else {})


def heading_at(grid: Grid, heading_rows: Sequence[int], at: int) -> str:
    """The words of a column's heading, in whatever rows it stands."""
    rows = [grid.rows[number - 1] for number in heading_rows]
    return " ".join(flat(row[at]) for row in rows if at < len(row) and isinstance(row[at], str)).strip()


def heads_beside(grid: Grid, heading_rows: Sequence[int], at: int) -> bool:
    """Does a column say what else stands at each tank: "Other equipment"?"""
    return heads_what_is_beside(heading_at(grid, heading_rows, at))


def _kind(heading: str) -> str:
    said = [word for word in words(heading) if not OF_WHOM.fullmatch(word)]
    if not said or OF_A_BATH.fullmatch(heading.strip()) or is_heater(heading) or worded_so("other_heat").fullmatch(" ".join(said)):
        return ""
    subjects = [subjects_of(word) or ({MAKE} if "tank" in concepts_of(word) else set[str]()) for word in said]
    if all(BESIDE in some or "control" in concepts_of(word) for some, word in zip(subjects, said, strict=True)):
        return BESIDE
    if all(MAKE in some for some in subjects) and not names_a_tank(heading):
        return MAKE
    return BESIDE if names_a_tank(heading) and any(MAKE in subjects_of(word) for word in said) and all(subjects) else ""  # "Tank material"


def said_of_what_is_beside(text: str, kind: str) -> bool:
    """Does a cell of such a column say by whom it comes, or that it is open, and nothing else?"""
    bare = text.strip(" .!?()").casefold()
    later = saying("to_be_told").fullmatch(bare) is not None or bool(vocabulary()["unknown"].whole(bare)) or bare in NOT_SETTLED
    whom = FROM.fullmatch(bare) is not None or worded_so("buyer").fullmatch(bare) is not None
    return ((later or whom) and kind == BESIDE) or (later and not whom and kind == MAKE)

