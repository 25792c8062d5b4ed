"""Remarks on a heater that name other equipment beside it: what it replaces, what it is interlocked with, what it has to keep clear of."""

from __future__ import annotations

import re
from functools import lru_cache

from batch.intake.heading_sense import concepts_of, machine_in, subjects_of
from batch.intake.list_words import hits, is_heater, other_equipment
from batch.intake.sentence_words import forms, saying
from batch.intake.wording import words

CLAUSES = re.compile(r"[;,.()\[\]\n]|\s[–—-]\s")
MOST_SHARED = 4  # words up to what is shared, "share one common control panel": judgement, no source
MOST_WORDS = 6  # of a clause that says no more than that: judgement, no source
POWER = re.compile(r"\d\s*(?:k\s?W|hp|PS|CV|kVA)\b|\d{3,5}\s*W(?:atts?)?\b", re.IGNORECASE)


def named_beside(text: str) -> bool:
    """Is all the other equipment of a remark heat that the heater replaces, or what it is interlocked or coordinated with?

    Said of a row that is a heater by its figures: "steam coil replaces it" and "replaced by steam coil" say the contrary, a power may be
    the machine's own, and a remark that names heaters beside the machine, "interlock with heater", is perhaps the machine's.
    """
    if POWER.search(text) or "?" in text or is_heater(text):
        return False
    rest = _replaced().sub(" ", text)
    rest = "; ".join(clause for clause in CLAUSES.split(rest) if not _gets_along(clause))
    return rest != text and not other_equipment(rest) and not machine_in(rest)


@lru_cache(maxsize=1)
def _replaced() -> re.Pattern[str]:
    """ "Replaces the old steam coil", of which no other heat may stand behind a "by"."""
    between = rf"(?:(?:{forms('there_before')}|\d)\s+|l['’]\s*)"
    heat = rf"{forms('other_heat')}(?:\s+(?:d[ei]|a|[àa] la)\s+{forms('other_heat')})?"  # "serpentina de vapor"
    return re.compile(rf"(?<!\w){forms('in_place_of')}\s+{between}*{heat}(?!\w)", re.IGNORECASE)


def _gets_along(clause: str) -> bool:
    return saying("gets_along").search(clause) is not None and len(words(clause)) <= MOST_WORDS


def without_shared(text: str) -> str:
    """A sentence without what tanks share that is none of their heaters: "T-7 and T-8 share a panel", and not "share one heater"."""
    for match in reversed(list(saying("shares").finditer(text))):
        behind = words(text[match.end() :])[:MOST_SHARED]
        beside = next((at for at, word in enumerate(behind) if {"beside"} & subjects_of(word) or "source" in concepts_of(word)), -1)
        heats = any(is_heater(word) for word in behind[: beside + 1])
        if beside >= 0 and not heats:
            text = f"{text[: match.start()]} {text[match.end() :]}"
    return text


def accessory(text: str) -> str:
    """The accessory that a text begins with, "Temperaturfühler Pt100", and no heater; "" where it begins with another thing."""
    first = next(iter(hits("accessories", text)), None)
    return first.word if first is not None and not text[: first.start].strip(" (\"") and not is_heater(text) else ""
