"""The reference beside a question, by which an answer finds its question and its places again: written and read in one place.

It holds marks alone, and addresses of the list; nothing of what is ours.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from batch.price.question_places import mark_of
from batch.price.questions import Asked
from batch.records import Answered

APART, MADE = " / ", " // "  # no tab of a workbook can be called so
LONGEST = 30_000  # characters; a cell holds 32,767 (ECMA-376 part 1 says nothing; a limit of common programs)


class Reference(NamedTuple):
    """mark of the question; marks of the places that it was asked of, with the address as it was then; after it was answered: the mark of
    the answer, and of the places as they stood since.
    """

    mark: str
    places: Mapping[str, str]
    as_asked: str
    answer: str = ""
    since: tuple[str, ...] = ()


def reference(one: Asked) -> str:
    """Beside an open question."""
    parts, length = [one.mark], 0
    for place in one.places:
        part = f"{place.shown}={place.mark}" if place.cell else place.mark
        length += len(part) + len(APART)
        if length > LONGEST:
            break
        parts.append(part)
    return APART.join(parts)


def answered_reference(one: Answered) -> str:
    """Beside one that was answered."""
    since = APART.join((mark_of(one.answer), *one.marks))
    return f"{one.as_asked}{MADE}{since}"[:LONGEST]


def read_reference(text: str) -> Reference | None:
    """What a reference says; None where it is none."""
    as_asked, _, made = text.strip().partition(MADE)
    mark, *places = as_asked.split(APART)
    if not mark.strip() or " " in mark.strip():
        return None
    found = {}
    for place in places:
        shown, _, own = place.rpartition("=")
        found[own.strip()] = shown.strip()
    answer, *since = made.split(APART) if made else [""]
    return Reference(mark.strip(), found, as_asked, answer.strip(), tuple(one.strip() for one in since))
