"""Headings that offer two answers, one of which takes a row out, "GO / NO GO", "Keep/Delete", and cells that give the answer by its
letters, "NG", "D", "Del."."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

from batch.intake.remark_words import OUT, read_row_words
from batch.intake.sentence_words import forms
from batch.intake.survey import flat
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import words

# By which the other answer says no, beside words for what is out
NOT_SO = re.compile(
    r"(?:out|not?[ -]?(?:go|bid|quoted?)|excl(?:ude[ds]?|us\w*)?|not incl(?:uded)?|nicht enthalten|non compris\w*|nezahrnuto"
    r"|ing[åa]r (?:ej|inte|ikke))\.?", re.IGNORECASE
)  # fmt: skip
LETTERS = re.compile(r"[^\W\d_]+")
LONGEST = 3  # words of an answer
MOST_LETTERS = 12  # of a cell that gives an answer


def choice(text: str) -> tuple[str, str] | None:
    """The answer that keeps a row and the one that takes it out: ("go", "no go") of "GO/NO GO"; of "No bid?" none, which asks one thing.

    Two that both keep it, "Left/Right", "Open/Covered", or that are both out, are none either.
    """
    parts = [" ".join(words(part)) for part in _apart().split(text.strip(" ?().:")) if part.strip()]
    if len(parts) != 2 or any(not part or len(part.split()) > LONGEST or len(part) == 1 for part in parts):
        return None
    out = [_takes_out(part) for part in parts]
    if out[0] == out[1]:
        return None
    return (parts[1], parts[0]) if out[0] else (parts[0], parts[1])


def answered(heading: str, cells: Mapping[int, object], *, alone: bool) -> Mapping[int, object]:
    """Cells that give one of a heading's two answers by its letters, as true and false; as they are where any does not.

    alone  the heading is a word for what is wanted, "Bid?", of which the other answer is that word behind a no: B and NB
    """
    offered = choice(heading)
    if offered is None and alone:
        offered = (" ".join(words(heading)), f"no {' '.join(words(heading))}")
    said = {index: flat(value).strip() for index, value in cells.items() if isinstance(value, str) and re.search(r"\w", value)}
    if offered is None:
        return cells
    found = {index: _which(text, offered) for index, text in said.items()}
    if any(one is None for one in found.values()) or False not in found.values():
        return cells
    return {index: found.get(index, value) for index, value in cells.items()}


def named_so(heading: str, cells: Mapping[int, object]) -> Mapping[int, object]:
    """Cells with the letters of what a heading says, NB below "No bid", as true; the others as they are."""
    text = " ".join(words(heading))
    said = {index: value for index, value in cells.items() if isinstance(value, str) and not vocabulary()["no"].whole(flat(value).strip())}
    short = {index for index, value in said.items() if _which(value, (text, "")) is True}
    return {index: index in short or value for index, value in cells.items()}


def _which(text: str, offered: tuple[str, str]) -> bool | None:
    """Which of two answers the letters of a cell give; None where they give neither, or could be of both."""
    letters = "".join(LETTERS.findall(text)).casefold()
    if not letters or len(letters) > MOST_LETTERS or any(map(str.isdigit, text)):
        return None
    fits = [_is_short(letters, answer) for answer in offered]
    return fits[0] if fits[0] != fits[1] else None


def _is_short(letters: str, answer: str) -> bool:
    """Are they the first letters of the words of an answer, or those that it begins with?"""
    some = answer.split()
    return bool(some) and (letters == "".join(word[0] for word in some) or "".join(some).startswith(letters))


def _takes_out(part: str) -> bool:
    known = vocabulary()
    said = read_row_words(part)
    out = said.fate == OUT and said.alone
    return out or NOT_SO.fullmatch(part) is not None or bool(known["no"].whole(part) or known["not_heated"].whole(part))


@lru_cache(maxsize=1)
def _apart() -> re.Pattern[str]:
    return re.compile(rf"\s*[/|]\s*|\s+{forms('or_this')}\s+", re.IGNORECASE)
