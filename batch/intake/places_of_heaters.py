"""Where the heaters of a tank sit, "one heater at each end", "two each side", "one in each corner": the number that it makes is held
against the row's own. One that agrees is no other number, and one that does not is asked about."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

from batch.intake.line_kinds import DATA, DOUBT, Line
from batch.intake.list_words import hits, words
from batch.intake.plan import ListPlan
from batch.intake.sentence_words import forms, worded_so
from batch.intake.survey import flat

PLACES = {  # how many of each a tank has, long sides or all
    "at_each_end": (2,), "at_each_corner": (4,), "at_each_side": (2, 4), "in_the_middle": (1,),
}  # fmt: skip
IN_THE_MIDDLE = PLACES["in_the_middle"]
MOST_AT_ONE = 12  # heaters at one place: judgement, no source
LAST_WORD = re.compile(r"(?P<word>[^\W_]+)\s*\Z")
SHARED_OUT = re.compile(r"(?:je|jeweils|telkens|po)\s*\Z", re.IGNORECASE)  # "je ein Heizer an jeder Seite"
FIGURE = re.compile(r"(?<![\w.,/])\d{1,2}(?![\w.,]*\d|\s*(?:k?W|V|ph)\b)")
OF_WORDS = frozenset({"notes", "status", "description"})


class _Told(NamedTuple):
    """How many heaters there are by such words, one number or another; `each`: how many at one place, 0 where it is not said."""

    start: int
    end: int
    each: int
    places: tuple[int, ...]

    def makes(self, count: float, beside: Iterable[int]) -> bool:
        """Does it make so many, with those that the rest of the text has "in the middle" or without?"""
        if not self.each:
            return any(count % some == 0 for some in self.places)
        return any(count in (self.each * some, *(self.each * some + more for more in beside)) for some in self.places)


def without_places(text: str, count: float | None) -> str:
    """A text without where the heaters sit, "one heater at each end" of two, "one each corner" of four, which is no other number."""
    said = _told(text) if count is not None else []
    whole = _together(said)
    for told in reversed(said):
        if told.each and (count in whole if whole else told.makes(count or 0, ())):  # "* per side" alone says what a figure is of
            text = f"{text[: told.start]} {text[told.end :]}"
    return text


def places_contradict(text: str, count: float | None) -> bool:
    """Do the heaters of a text sit at more places, or fewer, than there are of them?"""
    if not count:
        return False
    said = _told(text)
    if whole := _together(said):
        return count not in whole
    for told in said:
        if told.places == IN_THE_MIDDLE:  # where the others sit is not said
            continue
        rest = f"{text[: told.start]} {text[told.end :]}"
        numbers = [int(match[0]) for match in FIGURE.finditer(rest)]
        numbers += [int(number) for word in re.findall(r"[^\W\d_]+", rest) if (number := words().number(word.casefold())) is not None]
        if not told.makes(count, numbers):
            return True
    return False


def _together(said: Sequence[_Told]) -> set[int]:
    """How many heaters there are by places and the middle between them, "one each end, one in the middle"; empty where one of them is not
    said, or there is no middle."""
    middle = [told for told in said if told.places == IN_THE_MIDDLE]
    if not middle or len(middle) == len(said) or not all(told.each for told in said):
        return set()
    whole = {0}
    for told in said:
        whole = {some + told.each * places for some in whole for places in told.places}
    return whole


def one_in_the_middle(text: str) -> bool:
    """Do several places of a text make one number together, so that no part of it says how many there are?"""
    return bool(_together(_told(text)))


def asked_by_places(plan: ListPlan, lines: Sequence[Line]) -> None:
    """Puts the rows in doubt whose words sit their heaters at more places, or fewer. `lines`: those that nobody has answered for."""
    own = {column.index for key, column in plan.columns.items() if key not in OF_WORDS}
    for line in lines:
        count = line.figure("quantity")
        for at, value in line.cells if line.kind == DATA and count else ():
            text = flat(value) if isinstance(value, str) and at not in own else ""
            if line.kind == DATA and text and places_contradict(text, count):
                line.kind, line.at, line.open = DOUBT, at, ("quantity",)
                line.why = f'"{text[:60]}", where the row says {count:g},'


def _told(text: str) -> list[_Told]:
    found: list[_Told] = []
    for name, places in PLACES.items():
        for match in _phrase(name).finditer(text):
            start, each = _before(text[: match.start()])
            if start >= 0:
                found.append(_Told(start, match.end(), each, places))
    return sorted(found)


def _before(text: str) -> tuple[int, int]:
    """Where the words before such a place begin that say how many sit there, and how many; (-1, 0) where something else does."""
    end = len(text.rstrip())
    heater = next((hit for hit in hits("heaters", text) if hit.end == end), None)
    bare = text[: heater.start] if heater is not None else text
    match = LAST_WORD.search(bare)
    word = match["word"].casefold() if match is not None else ""
    single = worded_so("a_single_one").fullmatch(word) is not None or word in ("a", "je")
    number = int(word) if word.isdecimal() else 1 if single else words().number(word)
    if match is not None and number and 0 < number <= MOST_AT_ONE:
        shared = SHARED_OUT.search(bare[: match.start()])
        return (shared.start() if shared is not None else match.start()), int(number)
    return (len(bare.rstrip()), 0) if heater is not None or not text.strip() else (-1, 0)


@lru_cache(maxsize=4)
def _phrase(name: str) -> re.Pattern[str]:
    """Such a place, and nothing behind it that it could be of, "each side panel"."""
    behind = r"\s*(?:\Z|[.,;:()&+–-])|\s+(?:of|and|plus|von|und|de|et|del?|y|di|e|van|en|av|och|og)\b"
    return re.compile(rf"(?<!\w){forms(name)}(?={behind})", re.IGNORECASE)
