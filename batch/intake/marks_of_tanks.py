"""Columns whose cells are marks of tanks, T-1, 1A, 2.1, III, under a heading that leaves open what it marks: "Position", "Baño"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from itertools import pairwise

from batch.intake.cell_profiles import Profile
from batch.intake.heading_sense import concepts_of, names_a_heater
from batch.intake.list_words import total_word
from batch.intake.runs_of_figures import running
from batch.intake.survey import HeadingColumn
from batch.intake.wording import words

LEAST_MARKS = 3
MOSTLY = 0.75  # of the cells: judgement, no source
FEW = 0.15  # of the cells with figures, "Rinse 2" among names: judgement, no source
LEAST_NAMED = 0.6  # of a heading that means a number of the line or a description: judgement, no source
OF_KINDS = re.compile(r"\b(?:t[iy]p\w*|kind|model\w*|art|druh|rodzaj)\b", re.IGNORECASE)
LETTERED = re.compile(r"[^\W\d_]{1,5}[-./ ]?\d{1,4}[^\W\d_]?|\d{1,4}[-./ ]?[^\W\d_]{1,3}|0\d{1,3}")
PLACES = re.compile(r"pos|posn?|position(?:en)?|posi[cz]ion[ei]?|posicao|positie|poz|pozycja|pozice|posisjon")  # folded
FIGURES = re.compile(r"\d{1,4}|\d{1,2}[.,]\d{1,2}")
ROMAN = re.compile(r"M{0,3}(?:CM|CD|D?C{0,3})(?:XC|XL|L?X{0,3})(?:IX|IV|V?I{0,3})")


def column_of_marks(
    columns: Sequence[HeadingColumn], seen: Mapping[int, Profile], names: Profile | None = None
) -> HeadingColumn | None:
    """The first column whose cells are all marks, where its heading is a word for a tank, for a place or for a name of the row,
    or a word unknown over the first of the free columns.

    Figures alone are marks under a word for a tank or for a name; under "Position" they may be running numbers. They are none where they
    skip some and the `names` of the tanks come again: "Soak" of two lines, under "No." 1 and 31.
    """
    again = names is not None and not _told_apart([text for text in names.texts if not total_word(text)])
    first = min((column.index for column in columns), default=0)
    for column in columns:
        if OF_KINDS.search(column.text) or names_a_heater(column.text):
            continue  # H1, H2 under "Type" are kinds of heaters
        of_tanks = _says_tank(column.text) or any(one.key == "description" for one in column.meanings()[:1])
        opens = column.index == first and bool(column.text) and not column.meanings()  # a word that nobody knows, over the first column
        if not (of_tanks or opens or _names_the_row(column)):
            continue
        texts = [text for text in seen[column.index].texts if not total_word(text)]
        figures = of_tanks or (again and _skipping(texts))
        if len(texts) >= LEAST_MARKS and _told_apart(texts) and _marks(texts, figures):
            return column
    return None


def told_apart_by(column: HeadingColumn, profile: Profile) -> bool:
    """Is a column that was taken for the tanks one of their marks, and neither of names nor of running numbers beside such marks?

    "Lázeň" over names of baths leaves the tank to "Označení" over T-1; so does "No." over 1, 2, 3, though "TANK" groups it.
    """
    texts = [text for text in profile.texts if not total_word(text)]
    if running(profile):
        return _says_tank(column.lone or column.text)
    return sum(any(map(str.isdigit, text)) for text in texts) > FEW * len(texts) or all(map(ROMAN.fullmatch, texts))


def _says_tank(text: str) -> bool:
    """Is every word of a heading one for a tank, its number or its place: "Baño", "Tank no.", "Pos. vasca"?"""
    said = [concepts_of(word) for word in words(text) if not PLACES.fullmatch(word)]
    return any("tank" in one for one in said) and all(one & {"tank", "number"} for one in said)


def _names_the_row(column: HeadingColumn) -> bool:
    """Does a heading say no more than that the row has a number or a name?"""
    best = column.meanings()[:1]
    return bool(best) and best[0].key in ("item", "description", "bank", "tank") and best[0].score >= LEAST_NAMED


def _told_apart(texts: Sequence[str]) -> bool:
    """Do the marks tell rows apart? Rows of one tank stand together."""
    changes = 1 + sum(one != other for one, other in pairwise(texts))
    return changes == len(set(texts)) >= 2


def _skipping(texts: Sequence[str]) -> bool:
    """Are they whole numbers that rise, now by more and now by less?"""
    if not all(text.isdecimal() for text in texts):
        return False
    steps = {int(after) - int(before) for before, after in pairwise(texts)}
    return len(steps) > 1 and min(steps) > 0


def _marks(texts: Sequence[str], figures: bool) -> bool:
    """Are they all marks? `figures`: those that are nothing else are marks too."""
    told = [text for text in texts if any(map(str.isdigit, text)) or ROMAN.fullmatch(text)]
    if len(told) < MOSTLY * len(texts):  # a word for a sum that is not known may stand among them
        return False
    texts = told
    if all(LETTERED.fullmatch(text) for text in texts):
        return True
    if all(text and ROMAN.fullmatch(text) for text in texts):
        return True
    return figures and all(FIGURES.fullmatch(text) or LETTERED.fullmatch(text) for text in texts)
