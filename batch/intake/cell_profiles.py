"""What the cells of a column look like, and which part of them a column of ours could hold."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from math import isfinite

from msgspec import Struct, field

from batch.intake.cells import Outcome, reader
from batch.intake.counts import read_count
from batch.intake.facts import LINE_AND_NEUTRAL, with_volts
from batch.intake.grid import Broken, Shown, worded
from batch.intake.list_columns import LIST, MOST_POWER_KW, USUAL_VOLTS, of_shown_unit
from batch.intake.list_words import ditto, nothing_word, phase_word, words
from batch.intake.numbers import number_of
from batch.intake.plain_figures import plainly
from batch.intake.supply_notation import read_supply
from batch.intake.survey import Region
from batch.units import spelled

MOSTLY_ALIKE = 0.6  # of the rows that fill two columns, for these to say the same: judgement, no source
SEEN = 200  # rows whose cells are looked at
PLACEHOLDER = re.compile(r"[-–—.*?/\s]*\Z|n/?a\Z|tb[acd]\Z|none\Z|nil\Z", re.IGNORECASE)
LONGEST_NAME = 48  # letters of a feeder's name with its volts: judgement, no source
OF_A_SUPPLY = ("three_phase", "one_phase", "two_phase", "phase", "wire", "neutral", "no_neutral", "earth", "alternating", "direct")
# Of a supply, beside the words of the languages
SIGNS = frozenset(
    {"v", "vac", "vdc", "volt", "volts", "kv", "hz", "y", "x", "ph", "ø", "φ", "w", "wye", "delta", "three", "single", "tp", "sp"}
)
A_WORD = re.compile(r"[^\W\d_]+")
PERHAPS_A_WORD = 0.5  # of a fit: words without figures under "Connection" may be one of another language (judgement, no source)
SIDES = re.compile(r"\d\W*\s*[x×*]\s*\d[\d.,]*\W*\s*[x×*]\s*\d", re.IGNORECASE)
AS_BROKEN = re.compile(r"#(?:REF!?|N/A|VALUE!?|DIV/0!?|NAME\?|NUM!?|NULL!?)", re.IGNORECASE)  # a fault's name typed as text, as in a .csv
TIMES_TEN = re.compile(r"\d(?:[.,]\d+)?E[+-]?\d{1,2}", re.IGNORECASE)  # "1.2E+01"
ODD = 0.5  # of a fit: a negative power, or one typed in a notation of machines, is told row by row (judgement, no source)
POWER_TEXT = re.compile(r"\d\s*(?:k\s?w|w|watts?|hp|btu)\b", re.IGNORECASE)
LETTERED = re.compile(r"\d{1,3}-[A-Z]")  # "3-A", "3-B": heaters of tank 3
TAG = re.compile(r"(?=.*\d)[\w./#&,+ -]{1,24}\Z")


class Profile(Struct):
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
                and (
                    value in again[index]
                    or broken(value)
                    or _says_nothing(value)
                    or PLACEHOLDER.match(value.strip())
                    or ditto(value)
                )
            ):
                continue
            cells.append(value)
    return {index: Profile(cells) for index, cells in found.items()}


def broken(value: object) -> bool:
    """Does a cell hold no more than a fault of its formula, as such or typed?"""
    return isinstance(value, str) and (type(value) is Broken or AS_BROKEN.fullmatch(value.strip()) is not None)


@lru_cache(maxsize=4096)
def _says_nothing(text: str) -> bool:
    """Is a cell no more than a word for none, or for what is not known yet?"""
    return nothing_word(text) or any(words()[name].whole(text) for name in ("unknown", "doubt"))


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
    one = READ_AS.get(key)
    if one is not None:
        return sum(of_shown_unit(key, cell.unit) if type(cell) is Shown else one(cell, unit) for cell in profile.cells) / profile.filled
    if key == "tank":
        distinct = len(set(profile.texts)) / profile.filled
        short = sum(len(text) <= 60 for text in profile.texts) / profile.filled
        tags = sum(bool(TAG.match(text)) for text in profile.texts) / profile.filled
        return short * (0.3 + 0.3 * distinct + 0.4 * tags)
    if key == "item":
        return profile.numeric() * 0.5 + 0.5 * (len(set(profile.texts)) == profile.filled)
    if key == "feeder":
        return sum(len(text) <= LONGEST_NAME and names_a_supply(text) for text in profile.texts) / profile.filled
    if key == "bank":
        return sum(len(text) <= 24 and not _volts(text, "") for text in profile.texts) / profile.filled
    if key in ("notes", "description", "status"):
        return 1.0 - 0.8 * sum(number_of(cell) is not None for cell in profile.cells) / profile.filled
    column = LIST.by_key.get(key)
    if column is None:
        return 0.5
    if key == "connection":  # words that are none known are asked about cell by cell, and not left out with their column
        read = _read(key, "")
        return sum(_connection(cell, type(read(cell)) is not Outcome) for cell in profile.cells) / profile.filled
    if column.kind == "choice":
        read = _read(key, "")
        return sum(type(read(cell)) is not Outcome for cell in profile.cells) / profile.filled
    if column.kind in ("number", "integer"):
        powers = (isinstance(cell, str) and POWER_TEXT.search(cell) for cell in profile.cells)
        return sum(number_of(cell) is not None and not power for cell, power in zip(profile.cells, powers, strict=True)) / profile.filled
    return 1.0


def names_a_supply(text: str) -> bool:
    """Does a text name a panel or a feeder, with volts or without: "MCC-1", "480V MCC-1", "PNL H1 480/277"; not "480 V, 3 ph"?"""
    if phase_word(text):  # "tri" under "Alim."
        return False
    return not _volts(text, "") or any(
        word.casefold() not in SIGNS and not any(words()[name].whole(word) for name in OF_A_SUPPLY) for word in A_WORD.findall(text)
    )


def _connection(cell: object, known: bool) -> float:
    if known or not isinstance(cell, str):
        return float(known)
    return 0.0 if phase_word(cell) or any(map(str.isdigit, cell)) else PERHAPS_A_WORD  # "Conexión red" over "Trif."


def usual_volts(profile: Profile) -> bool:
    """Are all its figures volts that supplies have: 480, 277 and 208?"""
    return profile.filled > 0 and all(number_of(cell) in USUAL_VOLTS for cell in profile.cells)


def _volts(cell: object, unit: str) -> float:
    cell = plainly("volts_v", cell) if type(cell) is str else cell
    number = number_of(cell)
    if number is not None and not re.search(r"[^\d.,\s]", worded(cell)):
        number = number * 1000 if unit.casefold() == "kv" or number < 2 else number
        return 1.0 if number in USUAL_VOLTS else 0.6 if 24 <= number <= 1000 else 0.0
    said = read_supply(with_volts(worded(cell)))
    return 1.0 if said is not None and (said.volts is not None or said.contradictions or said.doubts) else 0.0


def _phases(cell: object, unit: str) -> float:
    cell = plainly("phases", cell) if type(cell) is str else cell
    if isinstance(cell, (int, float)):
        return 1.0 if cell in (1, 3) else 0.0
    if number_of(cell) in (1, 3) and worded(cell).strip().isdigit():
        return 1.0
    if LINE_AND_NEUTRAL.fullmatch(worded(cell).strip()):
        return 1.0
    said = read_supply(worded(cell))
    return 1.0 if said is not None and said.phases in (1, 2, 3) else 0.0


def _quantity(cell: object, unit: str) -> float:
    cell = plainly("quantity", cell) if type(cell) is str else cell
    number = number_of(cell)
    if isinstance(cell, (int, float)) and number is not None:
        if not isfinite(number):
            return 0.0
        return 0.0 if number > 1000 or number != int(number) else 1.0 if 0 <= number <= 60 else 0.3
    if LETTERED.fullmatch(worded(cell).strip()):
        return 0.0
    said = read_count(worded(cell))
    if said is not None and any(map(str.isalpha, worded(cell))) and _volts(cell, "") == 1.0:  # "690 V Drehstrom"
        return 0.0
    return 0.0 if said is None else 0.9 if said.value is not None and not said.doubt else 0.1


def _power(cell: object, unit: str) -> float:
    cell = plainly("power_kw", cell) if type(cell) is str else cell
    number = number_of(cell)
    if isinstance(cell, (int, float)) and number is not None:
        if number <= 0:
            return ODD if number < 0 else 0.0
        watts = unit.casefold() in ("w", "btu/h")
        return 1.0 if (number >= 50 if watts else number <= 5 * MOST_POWER_KW) else 0.7
    if SIDES.search(worded(cell)):  # "48 x 30 x 36" under "Size"
        return 0.0
    odd = ODD if TIMES_TEN.fullmatch(worded(cell).strip()) else 0.0
    return 1.0 if POWER_TEXT.search(worded(cell)) else 0.7 if number is not None else odd


def _amps(cell: object, unit: str) -> float:
    number = number_of(cell)
    return 1.0 if number is not None and number > 0 else 0.0


def _unit(cell: object, unit: str) -> float:
    return (
        1.0
        if isinstance(cell, str) and re.fullmatch(r"\W*(?:kw|w|watts?|hp|btu/?h(?:r)?|kva|mw|tons?|ps|cv)\W*", cell.strip(), re.IGNORECASE)
        else 0.0
    )


READ_AS = {
    "volts_v": _volts,
    "phases": _phases,
    "quantity": _quantity,
    "tanks": _quantity,
    "power_kw": _power,
    "total_kw": _power,
    "amps_a": _amps,
    "power_unit": _unit,
}


def mostly_alike(rows: Sequence[Sequence[object]], one: int, other: int) -> bool:
    """Do two columns say the same in most rows that fill both?"""
    pairs = [(row[one], row[other]) for row in rows if max(one, other) < len(row) and not {row[one], row[other]} & {"", None}]
    return bool(pairs) and sum(a == b for a, b in pairs) >= MOSTLY_ALIKE * len(pairs)
