"""Numbered notes, "3. by others", and the cells of rows that refer to them: "see note 3", "siehe Anm. 3", "vedi nota 3"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

_NOTE = (
    r"(?:notes?|nota|notas|anm(?:erkung(?:en)?|[äa]rkning(?:ar)?)?|bem(?:erkung(?:en)?|[æa]rkning(?:er)?)?|hinweise?|fu(?:ß|ss)noten?"
    r"|remarks?|remarques?|renvois?|osservazion[ei]|opm(?:erking(?:en)?)?|uwag[aięi]|przypis\w*|merknad(?:er)?|pozn(?:[aá]mk[ayu]|[aá]mce)?)"
)
_NUMBER_SIGN = r"(?:no\.?|nr\.?|n[°º]|#)?"
_ONE = r"[(\[]?(?:\d{1,2}(?![\d.,]*\d)|(?-i:[A-H])(?!\w))[)\]]?"
_AND = r"\s*(?:,|;|&|\+|/|\b(?:and|und|et|y|e|en|i|og|och|a)\b)\s*"
_UNIT = r"\s*(?:k?W|k?V|A|Hz|%|mm|m|ft|gal|pcs?|x)\b"
_REFERS = re.compile(rf"\b{_NOTE}\.?\s*{_NUMBER_SIGN}\s*(?P<run>{_ONE}(?:{_AND}{_ONE}(?!{_UNIT}))*)(?!{_UNIT})(?!\s*[:=])", re.IGNORECASE)
_CALLED = rf"{_NOTE}\.?\s*{_NUMBER_SIGN}\s*"
_NUMBER = re.compile(
    rf"^\s*(?:(?:{_CALLED})?[(\[]?(?P<one>\d{{1,2}}|[A-H])[)\].:]\)?\s+(?=\S)|{_CALLED}(?P<other>\d{{1,2}}|[A-H])\s*[-–—:=]\s*(?=[^\d\s]))",
    re.IGNORECASE,
)
_BARE = re.compile(rf"(?:\d{{1,2}}|(?-i:[A-H]))(?:{_AND}(?:\d{{1,2}}|(?-i:[A-H])))*", re.IGNORECASE)  # "1,2,7"
_FIGURE = re.compile(r"\d{1,2}|\b[A-H]\b")


@lru_cache(maxsize=8192)
def notes_referred(text: str) -> tuple[str, ...]:
    """The numbers, or letters, of the notes that a cell refers to."""
    return tuple(dict.fromkeys(one.casefold() for match in _REFERS.finditer(text) for one in _FIGURE.findall(match["run"])))


def without_notes(text: str) -> str:
    """A text without what it says of notes: "PTFE, see note 3" -> "PTFE, see"."""
    return _REFERS.sub(" ", text)


@lru_cache(maxsize=4096)
def bare_numbers(text: str) -> tuple[str, ...]:
    """The numbers of notes that stand alone in a cell of a column of notes: "1, 2, 4"."""
    return tuple(dict.fromkeys([one.casefold() for one in _FIGURE.findall(text)])) if _BARE.fullmatch(text.strip()) else ()


def note_of_row(cells: Iterable[tuple[int, object]]) -> set[str]:
    """The notes that the cells of a row refer to."""
    return {number for _, value in cells if isinstance(value, str) for number in notes_referred(" ".join(value.split()))}


@lru_cache(maxsize=4096)
def number_of_note(text: str) -> str:
    """The number or letter that a note bears, "3. ...", "Note 3: ..."; "" where it has none."""
    match = _NUMBER.match(text)
    return (match["one"] or match["other"]).casefold() if match is not None else ""


def number_off(text: str) -> str:
    """A note without its number."""
    match = _NUMBER.match(text)
    return text[match.end() :].strip() if match is not None else text


@lru_cache(maxsize=256)
def named_for_notes(name: str) -> bool:
    """Is a sheet or a column named for notes, so that numbers may be of those?"""
    return re.search(rf"\b{_NOTE}\b", name, re.IGNORECASE) is not None
