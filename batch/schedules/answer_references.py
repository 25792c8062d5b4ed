"""The reference beside a question, by which an answer finds its question and its places again: written and read in one place.

It holds marks alone, and addresses of the list; nothing of what is ours.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from batch.price.question_places import mark_of
from batch.price.questions import Asked
from batch.received_rows import Answered

APART, MADE = " / ", " // "  # no tab of a workbook can be called so
BESIDE = "~"  # after the mark of the question, before those of the words that stand beside it
WORD_MARK = 4  # hexadecimal digits of each
HEAD = re.compile(r"(?P<mark>[0-9a-f]{8})(?:~(?P<words>[0-9a-f]*))?")
LONGEST = 30_000  # characters; a cell holds 32,767 (ECMA-376 part 1 says nothing; a limit of common programs)


class Reference(NamedTuple):
    """mark of the question; marks of the places that it was asked of, with the address as it was then; after it was answered: the mark of
    the answer, and of the places as they stood since. `words`: marks of what was written beside the question.
    """

    mark: str
    places: Mapping[str, str]
    as_asked: str
    answer: str = ""
    since: tuple[str, ...] = ()
    words: frozenset[str] = frozenset()

    def typed_over(self, text: str) -> bool:
        """Whether a cell beside the question says something that was not written there. Of references of former versions: no."""
        return bool(self.words and text.strip()) and _word_mark(text) not in self.words


def reference(one: Asked, beside: Iterable[str]) -> str:
    """Beside an open question. `beside`: what else is written in its row, wherever it is shown."""
    words = "".join(dict.fromkeys(_word_mark(text) for text in beside if text.strip()))
    parts, length = [f"{one.mark}{BESIDE}{words}"], 0
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
    head, *places = as_asked.split(APART)
    begins = HEAD.fullmatch(head.strip())
    if begins is None:
        return None
    found = {}
    for place in places:
        shown, _, own = place.rpartition("=")
        found[own.strip()] = shown.strip()
    answer, *since = made.split(APART) if made else [""]
    words = begins["words"] or ""
    marks = frozenset(words[at : at + WORD_MARK] for at in range(0, len(words), WORD_MARK))
    return Reference(begins["mark"], found, as_asked, answer.strip(), tuple(one.strip() for one in since), marks)


def _word_mark(text: str) -> str:
    return mark_of(" ".join(text.split()))[:WORD_MARK]
