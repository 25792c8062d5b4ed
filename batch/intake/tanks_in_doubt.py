"""Tanks by cells that leave open whether there is one, or how many: "or", "T-1 (old)", "Rinses 1-3", "both cleaners". They are asked about.

A tank's cell is nothing but its tag and its name, so that a word for something else in it was put there for a reason; what is not
known for such a word is a name, and asks nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache

from batch.intake.line_kinds import DATA, DOUBT, Line
from batch.intake.plan import ListPlan
from batch.intake.sentence_words import forms
from batch.intake.survey import flat
from batch.intake.tags import read_tags
from batch.intake.vocabulary import vocabulary

BY_VOLTS = re.compile(r"\d{2,3}\s*V(?:AC)?\b[^A-Z]*", re.IGNORECASE)  # "480 V" in place of a tank: the rows of that supply
TIMES = re.compile(r"[^\d]*[^\W\d_]{2}[^\d]*?[\s(][x×]\s?(?:[2-9]|[1-5]\d)\s*\)?|(?:[2-9]|[1-5]\d)\s?[x×]\s+[^\W\d_][^\d]*", re.IGNORECASE)
BEGINS_WITH_NUMBER = re.compile(r"\d{1,2}\s")
QUESTION = re.compile(r".*\w.*\?[\s)]*", re.DOTALL)


def ask_of_tanks(lines: Sequence[Line], plan: ListPlan, headings: Iterable[tuple[int, str]]) -> None:
    """Puts in doubt rows whose tank, or the line above them, leaves open whether they are heaters of one tank to be built. `headings`:
    of the columns that no column of ours is; "Service" and the like name the bath."""
    numbered = sum(BEGINS_WITH_NUMBER.match(_tank(line)) is not None for line in lines if line.kind in (DATA, DOUBT))
    names = {at for at, text in headings if any(one.key == "duty" for one in vocabulary().heading_candidates(text))}
    for line in lines:
        if line.kind != DATA or line.index + 1 in plan.keep_rows:
            continue
        if line.banner and _form("beside").fullmatch(line.banner.strip()):
            line.kind, line.why = DOUBT, f'"{line.banner[:60]}" above it'
            continue
        text = _tank(line)
        if text and _no_tank(text):
            line.kind, line.why, line.at = DOUBT, f'"{text[:40]}" in place of a tank', line.facts["tank"].index
        elif text and (_form("unsure").fullmatch(text) or QUESTION.fullmatch(text)):
            line.kind, line.why, line.at = DOUBT, f'"{text[:40]}" for its tank', line.facts["tank"].index
        own = [(line.facts["tank"].index, text)] if text and flat(text).casefold() not in plan.tags and _one(text) else []
        for at, said in (*own, *((at, flat(value)) for at, value in line.cells if at in names and isinstance(value, str))):
            told = "tanks" in line.facts or (text and not _one(text))  # how many tanks is said, and is settled elsewhere
            if line.kind == DATA and not told and stands_for_several(said, alone=numbered < 2):
                line.kind, line.why, line.at = DOUBT, f'"{said[:40]}", by which it may be of several tanks,', at


def _tank(line: Line) -> str:
    """What stands in a row's own cell for the tank."""
    fact = line.facts.get("tank")
    return flat(fact.seen).strip() if fact is not None and not fact.source else ""


def _one(text: str) -> bool:
    """Is a cell the tag of one tank, as far as tags are known: neither "T-1, T-2" nor "4 tanks"?"""
    said = read_tags(text)
    return len(said.tags) < 2 and not (said.number or said.doubt or said.counts)


def _no_tank(text: str) -> bool:
    return _form("none").fullmatch(text) is not None or BY_VOLTS.fullmatch(text) is not None


@lru_cache(maxsize=4096)
def stands_for_several(text: str, *, alone: bool) -> bool:
    """Does a tank's cell, or its name, speak of several tanks? `alone`: no other tank of the list begins with a number."""
    if _form("several").fullmatch(text) or TIMES.fullmatch(text) or _form("either").search(text):
        return True
    if alone and _form("counted").fullmatch(text):
        return True
    return text.endswith(")") and bool(vocabulary()["per_tank"].whole(text[text.rfind("(") :].strip("() ")))


@lru_cache(maxsize=8)
def _form(name: str) -> re.Pattern[str]:
    """The ways to say it, of all languages together, made when first asked for."""
    number = r"(?:[2-9]|[1-5]\d)"
    run = r"\d{1,3}[a-z]?\s*(?:[-–—+&/,]|\b(?:to|thru|and|bis|und|à|au|et|a|al|y|e|tot|en|do|i|til|og|till|och|až)\b)\s*\d{1,3}[a-z]?"
    plural = rf"(?:[^\W\d_]+\s+)?{forms('baths')}(?:\s+[^\W\d_]+)?"
    shapes = {
        "beside": rf"\W*{forms('beside_the_list')}\W*",
        "none": rf"\W*{forms('no_tank')}\W*(?:\d[\d.,]*\s*%\W*)?",
        "unsure": rf".*\d\w*[\s,;:–-]*(?:[\[(]\s*)?(?<!\w){forms('tank_unsure')}\.?\s*[\])]?",
        "several": rf"{forms('all_of_them')}\s+[^\W\d_].*|{plural}\s*(?:\({number}\)|{run})"
        rf"|.*\w\s*\(\s*{number}\s*{forms('pieces')}\s*\)",
        "counted": rf"\(?{number}\)?\s+{plural}",
        "either": rf"\d[a-z]?\s+{forms('or_this')}\s+(?:[a-z]{{1,4}}[-. ]?)?\d",
    }
    return re.compile(shapes[name], re.IGNORECASE)
