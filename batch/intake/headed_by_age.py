"""Headings that say no more than whether something is there or to come: "Existing", "Heizung Bestand", "Thermoplongeurs proposés"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from batch.intake.heading_sense import concepts_of
from batch.intake.list_words import hits
from batch.intake.remarks_on_power import OF_A_POWER
from batch.intake.sentence_words import worded_so
from batch.intake.wording import words

BEFORE, AFTER, NOW = "before", "after", "now"
HEADED = {NOW: "headed_now", AFTER: "headed_after", BEFORE: "headed_before"}  # words of headings, in the order in which they are tried
SAYS_NOTHING = frozenset({"heater", "element", "number", "power", "each", "of"})  # of whether it is there or to come
INSTALLED = re.compile(r"\b(?:ge|za)?inst")  # "Puissance installée": the connected load, unless another column is of what is to come
LONGEST = 6  # words: judgement, no source


def ages(headings: Iterable[str]) -> dict[str, str]:
    """Of headings side by side those that say it, each with which it is. "Now" is what is to come beside "Was", and what is there beside
    "Proposed"."""
    told = {text: _said(text) for text in headings}
    there = BEFORE if AFTER in told.values() else AFTER
    connected = {text for text in told if there == AFTER and INSTALLED.search(" ".join(words(text))) and OF_A_POWER.search(text)}
    found = {text: there if age == NOW else age for text, age in told.items() if age and text not in connected}
    return found if BEFORE in found.values() or AFTER in found.values() else {}


@lru_cache(maxsize=4096)
def _said(text: str) -> str:
    for hit in reversed(hits("heaters", text)):
        text = f"{text[: hit.start]} {text[hit.end :]}"
    said = words(text)
    if not said or len(said) > LONGEST:
        return ""
    rest = [one for one in said if not (concepts_of(one) & SAYS_NOTHING or worded_so("state_of_things").fullmatch(one))]
    ways = ((kind, name, " ".join(some)) for some in (said, rest) for kind, name in HEADED.items())
    return next((kind for kind, name, heading in ways if worded_so(name).fullmatch(heading)), "")
