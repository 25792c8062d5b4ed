"""Which column of a list is which of ours: names and values scored together, all columns at once, each of ours at most once."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import pairwise
from math import isfinite

from batch.intake.best_match import solve
from batch.intake.cells import Outcome, reader
from batch.intake.counts import read_count
from batch.intake.grid import Broken, Shown, worded
from batch.intake.heading_sense import names_a_heater, names_a_tank
from batch.intake.list_columns import LIST, MOST_POWER_KW, USUAL_VOLTS, of_shown_unit
from batch.intake.list_words import basis_of, ditto, heater_word, other_equipment
from batch.intake.numbers import speak
from batch.intake.supply_notation import read_supply
from batch.intake.survey import HeadingColumn, Region
from batch.ooxml.addresses import letters
from batch.units import spelled

CERTAIN, LIKELY, OPEN = "certain", "likely", "open"
SEEN = 200  # rows whose cells are looked at
# How much of a column's score is its name, and what is asked of both: common practice, no source. A test pins both sides of each.
BY_NAME = 0.65
LEAST_FIT = 0.4  # of the cells that a column of figures must be able to hold
LEAST_FIT_PHASES = 0.7  # the same for phases, of which there are two kinds only: acidity has ones and threes too
LEAST_SCORE = 0.45  # below it a heading means nothing of ours
SURE_NAME, SURE_FIT = 0.9, 0.85  # of both, for a column to be certain
SURE_RIVAL = 0.75  # of a name, for a second column of counts to be asked about
NEAR = 0.12  # a rival whose assignment is no further behind leaves the question open
HIDDEN = 0.6  # what a name is worth in a column that is hidden
NONE: Set[int] = frozenset()
LEAST_NAME_OF_TAG = 0.45  # of a heading that may be that of the tank's tag, or that is known to mean something else: judgement, no source
LEAST_NAME = 0.6  # of a column with which little or nothing is sized: a name among many other words is not enough
LEAST_STEPS = 4  # figures that only rise are running numbers, whatever their steps
FREE = frozenset({"tank", "notes", "status", "description", "item"})
PERHAPS = 0.6  # the worth of a name that the cells give
MOSTLY = 0.6  # of the cells, for them to say what a column is: judgement, no source
POWER_ALONE = re.compile(r"\(?[\d.,\s/½¼¾]+\s*(?:k\s?w|w|watts?|hp|btu/?h)\.?\)?(?:\s*(?:ea|each|c/u|je|pc)\.?)?", re.IGNORECASE)
NEAR_TAG = 0.04  # the same for the tank's tag, with which nothing is sized
CLOSE_NAME = 0.12  # a rival whose heading says it so much less clearly is none, however well its cells fit: judgement, no source
PLACEHOLDER = re.compile(r"[-–—.*?/\s]*\Z|n/?a\Z|tb[acd]\Z|none\Z|nil\Z", re.IGNORECASE)
POWER_TEXT = re.compile(r"\d\s*(?:k\s?w|w|watts?|hp|btu)\b", re.IGNORECASE)
TAG = re.compile(r"(?=.*\d)[\w./#&,+ -]{1,24}\Z")
FACTS = re.compile(r"\d\s*k\s?w\b|\d{3,5}\s*w\b|\d\s*v(?:ac)?\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Taken:
    """One column of the list taken for one of ours: how sure, why, and the rival if there is one near."""

    key: str
    index: int
    text: str
    unit: str  # of bare numbers below, as its heading or the row of units has it; "" = not said
    basis: str
    sure: str
    name: float
    fit: float
    rival: str = ""  # what else could be it, in words


@dataclass(slots=True)
class Profile:
    """What the cells of one column look like."""

    cells: list[object]
    texts: list[str] = field(default_factory=list)
    fits: dict[tuple[str, str], float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.texts = [worded(cell).strip() for cell in self.cells]

    @property
    def filled(self) -> int:
        return len(self.cells)

    def numeric(self) -> float:
        return sum(isinstance(cell, (int, float)) and not isinstance(cell, bool) for cell in self.cells) / max(1, len(self.cells))


def profiles(region: Region, data: Sequence[int]) -> dict[int, Profile]:
    """The cells of each column in the rows `data`, without blanks, marks for nothing, and repetition marks."""
    found: dict[int, list[object]] = {column.index: [] for column in region.columns}
    again = {column.index: {column.text, column.lone} - {""} for column in region.columns}
    for line in data[:SEEN]:
        row = region.grid.rows[line]
        for index, cells in found.items():
            value = row[index] if index < len(row) else ""
            if value in ("", None) or (
                isinstance(value, str)
                and (value in again[index] or PLACEHOLDER.match(value.strip()) or ditto(value) or type(value) is Broken)
            ):
                continue
            cells.append(value)
    return {index: Profile(cells) for index, cells in found.items()}


@lru_cache(maxsize=256)
def _read(key: str, unit: str):
    return reader(LIST[key], spelled(unit) if unit else None)


def fit(key: str, profile: Profile, unit: str = "") -> float:
    """Which part of the cells the column `key` could hold, 0 to 1."""
    at = (key, unit)
    if at not in profile.fits:
        profile.fits[at] = _fit(key, profile, unit)
    return profile.fits[at]


def _fit(key: str, profile: Profile, unit: str) -> float:
    if not profile.filled:
        return 0.0
    one = _ONE.get(key)
    if one is not None:
        return sum(of_shown_unit(key, cell.unit) if type(cell) is Shown else one(cell, unit) for cell in profile.cells) / profile.filled
    if key == "tank":
        distinct = len(set(profile.texts)) / profile.filled
        short = sum(len(text) <= 60 for text in profile.texts) / profile.filled
        tags = sum(bool(TAG.match(text)) for text in profile.texts) / profile.filled
        return short * (0.3 + 0.3 * distinct + 0.4 * tags)
    if key == "item":
        return profile.numeric() * 0.5 + 0.5 * (len(set(profile.texts)) == profile.filled)
    if key in ("feeder", "bank"):
        return sum(len(text) <= 24 and not _volts(text, "") for text in profile.texts) / profile.filled
    if key in ("notes", "description", "status"):
        return 1.0 - 0.8 * sum(_number(cell) is not None for cell in profile.cells) / profile.filled
    column = LIST.by_key.get(key)
    if column is None:
        return 0.5
    if column.kind == "choice":
        read = _read(key, "")
        return sum(type(read(cell)) is not Outcome for cell in profile.cells) / profile.filled
    if column.kind in ("number", "integer"):
        powers = (isinstance(cell, str) and POWER_TEXT.search(cell) for cell in profile.cells)
        return sum(_number(cell) is not None and not power for cell, power in zip(profile.cells, powers, strict=True)) / profile.filled
    return 1.0


def _number(cell: object) -> float | None:
    if isinstance(cell, bool):
        return None
    if isinstance(cell, (int, float)):
        return float(cell)
    said = speak(cell) if isinstance(cell, str) and type(cell) is not Broken else None
    return said.value if said else None


def _volts(cell: object, unit: str) -> float:
    number = _number(cell)
    if number is not None and not re.search(r"[^\d.,\s]", worded(cell)):
        number = number * 1000 if unit.casefold() == "kv" or number < 2 else number
        return 1.0 if number in USUAL_VOLTS else 0.6 if 24 <= number <= 1000 else 0.0
    said = read_supply(worded(cell))
    return 1.0 if said is not None and (said.volts is not None or said.contradictions or said.doubts) else 0.0


def _phases(cell: object, unit: str) -> float:
    if isinstance(cell, (int, float)):
        return 1.0 if cell in (1, 3) else 0.0
    if _number(cell) in (1, 3) and worded(cell).strip().isdigit():
        return 1.0
    said = read_supply(worded(cell))
    return 1.0 if said is not None and said.phases in (1, 2, 3) else 0.0


def _quantity(cell: object, unit: str) -> float:
    number = _number(cell)
    if isinstance(cell, (int, float)) and number is not None:
        if not isfinite(number):
            return 0.0
        return 1.0 if number == int(number) and 0 <= number <= 60 else 0.3 if number == int(number) and number <= 1000 else 0.0
    return 0.9 if read_count(worded(cell)) is not None else 0.0


def _power(cell: object, unit: str) -> float:
    number = _number(cell)
    if isinstance(cell, (int, float)) and number is not None:
        if number <= 0:
            return 0.0
        watts = unit.casefold() in ("w", "btu/h")
        return 1.0 if (number >= 50 if watts else number <= 5 * MOST_POWER_KW) else 0.7
    return 1.0 if POWER_TEXT.search(worded(cell)) else 0.7 if number is not None else 0.0


def _amps(cell: object, unit: str) -> float:
    number = _number(cell)
    return 1.0 if number is not None and number > 0 else 0.0


def _unit(cell: object, unit: str) -> float:
    return (
        1.0
        if isinstance(cell, str) and re.fullmatch(r"\W*(?:kw|w|watts?|hp|btu/?h(?:r)?|kva|mw|tons?|ps|cv)\W*", cell.strip(), re.IGNORECASE)
        else 0.0
    )


_ONE = {
    "volts_v": _volts,
    "phases": _phases,
    "quantity": _quantity,
    "tanks": _quantity,
    "power_kw": _power,
    "total_kw": _power,
    "amps_a": _amps,
    "power_unit": _unit,
}


def scores(
    columns: Sequence[HeadingColumn], seen: Mapping[int, Profile], hidden: Set[int] = NONE
) -> dict[int, dict[str, tuple[float, float, float, str, str]]]:
    """For each column what it may be: score, name, fit, unit, basis by key of ours."""
    found: dict[int, dict[str, tuple[float, float, float, str, str]]] = {}
    counted = any(one.key == "quantity" and one.score >= SURE_RIVAL for column in columns for one in column.meanings())
    for column in columns:
        here: dict[str, tuple[float, float, float, str, str]] = {}
        profile = seen[column.index]
        some = column.meanings()
        if column.index in hidden:
            some = tuple(one._replace(score=HIDDEN * one.score) for one in some)
        other = max((one.score for one in some if one.key not in LIST.by_key), default=0.0)
        for one in some:
            if one.key not in LIST.by_key:
                continue
            if other >= one.score and one.key not in (
                "phases",
                "description",
            ):  # something else is known by this heading; of "PH" the values decide
                one = one._replace(score=one.score * 0.5)
            good = fit(one.key, profile, one.unit) if profile.filled else 0.5
            if one.key in _ONE and good < LEAST_FIT:
                continue
            if one.key == "phases" and good < LEAST_FIT_PHASES:
                continue
            if column.text and (one.key == "tank" or (other >= SURE_NAME and one.key in _ONE)) and one.score < LEAST_NAME_OF_TAG:
                continue
            if one.key not in _ONE and one.key not in FREE and (one.score < LEAST_NAME or good < LEAST_FIT):
                continue
            here[one.key] = (BY_NAME * one.score + (1 - BY_NAME) * good, one.score, good, one.unit, one.basis)
        item = max((one.score for one in some if one.key == "item"), default=0.0)
        if item >= LEAST_NAME and "quantity" not in here and not counted and _counts(profile):  # "No." over no running numbers
            here["quantity"] = (BY_NAME * item * 0.8 + (1 - BY_NAME), item * 0.8, 1.0, "", "")
        _by_units_in_cells(here, profile)
        if profile.filled and not any(score >= LEAST_SCORE for score, *_ in here.values()):
            here |= _by_values(column, profile)
        _by_equipment(column, here, profile)
        found[column.index] = here
    _beside_units(columns, seen, found)
    return found


def _beside_units(columns: Sequence[HeadingColumn], seen: Mapping[int, Profile], found: dict) -> None:
    """A column of figures beside one that holds units of power for each of them is the power, however it is headed."""
    for column in columns:
        if found[column.index].get("power_unit", (0.0,))[0] < 0.7 or fit("power_unit", seen[column.index]) < 0.5:
            continue
        for index in (column.index - 1, column.index + 1):
            profile = seen.get(index)
            if profile is None or not profile.filled or profile.numeric() < 0.5 or "power_kw" in found[index] or "total_kw" in found[index]:
                continue
            if max((score for score, *_ in found[index].values()), default=0.0) < 0.7:
                basis = next((basis_of(other.text) for other in columns if other.index == index), "")
                found[index]["power_kw"] = (0.8, 0.7, 1.0, "", basis)
                break


def _counts(profile: Profile) -> bool:
    """Are the figures small whole numbers that do not run on, as item numbers do?"""
    numbers = [number for cell in profile.cells if (number := _number(cell)) is not None]
    if len(numbers) < max(2, 0.7 * profile.filled) or fit("quantity", profile) < 0.8:
        return False
    steps = [after - before for before, after in pairwise(numbers)]
    return sum(step == 1 for step in steps) < 0.6 * len(steps) and (len(steps) < LEAST_STEPS or any(step <= 0 for step in steps))


def _by_values(column: HeadingColumn, profile: Profile) -> dict[str, tuple[float, float, float, str, str]]:
    """What a column may be that no heading tells of, by values that speak for themselves."""
    texts = profile.texts
    found = {}
    if fit("power_unit", profile) >= 0.9:
        found["power_unit"] = (0.8, 0.5, 1.0, "", "")
    facts = sum(bool(FACTS.search(text)) for text in texts) / len(texts)
    if facts >= 0.4 and profile.numeric() < 0.3:
        found["description"] = (0.5, 0.3, facts, "", "")
    spoken = sum(
        bool(re.search(r"\d{2,4}\s*(?:v\b|vac|[/-]\s*[13]\b|v?\s*[13]\s*ph)|[13]\s*[~]", text, re.IGNORECASE)) for text in texts
    ) / len(texts)
    if spoken >= 0.8 and profile.numeric() < 0.2 and fit("volts_v", profile) >= 0.8:
        found["volts_v"] = (0.5, 0.3, spoken, "", "")
    if (
        not column.text
        and sum(bool(TAG.match(text)) and not text.replace(".", "").isdigit() for text in texts) >= 0.8 * len(texts)
        and len(set(texts)) >= 0.6 * len(texts)
    ):
        found["tank"] = (0.46, 0.2, 0.9, "", "")
    return found


def _by_units_in_cells(here: dict[str, tuple[float, float, float, str, str]], profile: Profile) -> None:
    """Cells that nearly all say kW or W are powers, under whatever heading: "Capacity" over "6 kW"."""
    if not profile.filled or profile.numeric() > 0 or "power_kw" in here or "total_kw" in here or "description" in here:
        return
    short = [text for text in profile.texts if POWER_ALONE.fullmatch(text)]
    if len(short) >= MOSTLY * profile.filled:
        here["power_kw"] = (BY_NAME * PERHAPS + (1 - BY_NAME), PERHAPS, 1.0, "", "")


def _by_equipment(column: HeadingColumn, here: dict[str, tuple[float, float, float, str, str]], profile: Profile) -> None:
    """A column whose words name heaters and other equipment describes its rows, however it is headed."""
    if not profile.filled or profile.numeric() > 0.1 or "description" in here:
        return
    heaters = sum(heater_word(text) != "" or names_a_heater(text) for text in profile.texts)
    others = sum(other_equipment(text) != "" for text in profile.texts)
    if heaters >= 2 and heaters + others >= MOSTLY * profile.filled:
        here["description"] = (0.62, PERHAPS, 1.0, "", "")


def assign(columns: Sequence[HeadingColumn], seen: Mapping[int, Profile], hidden: Set[int] = NONE) -> list[Taken]:
    """The best reading of all columns together, each with how sure it is."""
    table = scores(columns, seen, hidden)
    order = [column.index for column in columns]
    keys = [key for key in LIST.by_key if any(key in here for here in table.values())]
    worth = [
        [max(0.0, table[index].get(key, (0.0,))[0] - LEAST_SCORE + 1e-9) if key in table[index] else 0.0 for key in keys] for index in order
    ]
    best, total = solve(worth)
    texts = {column.index: column.text for column in columns}
    taken: list[Taken] = []
    for at, place in enumerate(best):
        if place < 0 or worth[at][place] <= 0:
            continue
        index, key = order[at], keys[place]
        _, name, good, unit, basis = table[index][key]
        instead, behind = _rival(worth, at, place, total, order)
        rival = (texts[instead] or f"column {letters(instead)}") if instead >= 0 else ""
        if instead >= 0 and behind <= NEAR and _less_said(key, name, texts[index], table[instead][key][1], texts[instead]):
            behind = 1.0
        sure = CERTAIN if name >= SURE_NAME and (good >= SURE_FIT or not seen[index].filled) and behind > NEAR else LIKELY
        sure = OPEN if behind <= NEAR and rival and not (key == "tank" and behind > NEAR_TAG) else sure
        taken.append(Taken(key, index, texts[index], unit, basis, sure, name, good, rival if behind <= NEAR else ""))
    taken = [_counted_twice(one, columns, table, seen) for one in taken]
    if not any(one.key == "tank" for one in taken):
        taken += _untitled_tags(columns, seen, taken)
    return taken


def _counted_twice(one: Taken, columns: Sequence[HeadingColumn], table: Mapping[int, dict], seen: Mapping[int, Profile]) -> Taken:
    """Two columns that both count heaters, with other figures: installed and to buy, say. Which counts is asked."""
    if one.key != "quantity" or one.sure == OPEN:
        return one
    for column in columns:
        _, name, good, *_ = table[column.index].get("quantity", (0.0, 0.0, 0.0))
        if column.index != one.index and name >= SURE_RIVAL and good >= SURE_FIT and seen[column.index].texts != seen[one.index].texts:
            return replace(one, sure=OPEN, rival=column.text or f"column {column.index}")
    return one


def _untitled_tags(columns: Sequence[HeadingColumn], seen: Mapping[int, Profile], taken: Sequence[Taken]) -> list[Taken]:
    """Without a column of tags, the leftmost one without a heading, or of item numbers, whose cells tell the rows apart."""
    used = {one.index for one in taken}
    most = max((profile.filled for profile in seen.values()), default=0)
    for column in columns:
        profile = seen[column.index]
        item = any(one.key == "item" and one.score >= LEAST_NAME for one in column.meanings())
        if column.index in used or (column.text and not item) or profile.filled < 0.6 * most or profile.filled < 2:
            continue
        if len(set(profile.texts)) >= 0.9 * profile.filled and all(len(text) <= 24 for text in profile.texts):
            return [Taken("tank", column.index, column.text, "", "", LIKELY, 0.3, 0.9)]
    return []


def _rival(worth: list[list[float]], at: int, place: int, total: float, order: list[int]) -> tuple[int, float]:
    """The column that would be taken if this one were not (-1 = none), and how far that reading is behind."""
    without = [list(row) for row in worth]
    without[at][place] = 0.0
    other, second = solve(without)
    instead = next(
        (index for row, (index, one) in enumerate(zip(order, other, strict=True)) if one == place and without[row][place] > 0), -1
    )
    return instead, total - second if instead >= 0 else 1.0


def _less_said(key: str, name: float, text: str, other_name: float, other_text: str) -> bool:
    """Does the rival's heading say less of it: a weaker name, or for a tank's tag none of the words for a tank?"""
    if key == "tank" and names_a_tank(text) != names_a_tank(other_text):
        return names_a_tank(text)
    return name >= SURE_RIVAL and other_name < name - CLOSE_NAME
