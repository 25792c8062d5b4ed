"""What stands beside "2 x 6 kW" and leaves open how many heaters there are: "up to", "less 1", "per line", "2 tanks"."""

from __future__ import annotations

import re
from functools import lru_cache

from batch.intake.sentence_words import forms
from batch.intake.tags import how_many

PRODUCT = re.compile(r"(?<![\w.,])\d{1,2}\s*[x×*]\s*\d[\d.,]*\s*(?:k\s?W|W)\b", re.IGNORECASE)
CLAUSES = re.compile(r"[,;()/]|\s[–-]\s")
PER = r"(?:per|par|pro|je|por|al|alla|na|pr\.?|each|jede\w*|chaque|cada|ogni|elke|hver|varje)"


def unsure_product(text: str) -> str:
    """The words beside a number times a power by which the number may be another; "" where there are none."""
    match = PRODUCT.search(text)
    if match is None:
        return ""
    before, behind = text[: match.start()], text[match.end() :]
    if (limit := _at_most().search(before)) is not None:
        return f"{limit[0].strip()} {match[0]}"
    if (less := _less().match(behind)) is not None or (less := _of_lines().match(behind)) is not None:
        return f"{match[0]}{less[0]}"
    return next((f"{match[0]} … {clause.strip()}" for clause in CLAUSES.split(behind) if how_many(clause.strip(" x×"))), "")


@lru_cache(maxsize=1)
def _at_most() -> re.Pattern[str]:
    return re.compile(rf"(?<!\w){forms('at_most')}[\s.:]*\Z", re.IGNORECASE)


@lru_cache(maxsize=1)
def _less() -> re.Pattern[str]:
    return re.compile(rf"[\s,;(]*{forms('less')}\s+(?:\d{{1,2}}(?![\d.,]*\s*[k%])|{forms('a_single_one')}(?!\w))", re.IGNORECASE)


@lru_cache(maxsize=1)
def _of_lines() -> re.Pattern[str]:
    return re.compile(rf"[\s,;(/x×]*(?:{PER}\s+|[2-9]\s+){forms('lines')}(?!\w)", re.IGNORECASE)
