"""Figures as lists have them: a number with its unit, footnote and revision marks, ranges, dimensions; and a sheet's decimal mark.

Wider than what is read in the program's own form, where a cell holds a number and perhaps its unit: here a person wrote what
they liked. What cannot be one figure for certain has no value, and says why.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from batch.intake.cells import FEET_INCHES
from batch.intake.descriptions import OTHER_UNITS, power_factor
from batch.intake.numbers import against, decimal_mark, speak
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import words
from batch.units import Unit, between, rounded, spelled

LONGEST = 60
CLEARLY = 3  # so many cells to one settle which mark a sheet writes before decimals: judgement, no source
MARKS = {".": "a point", ",": "a comma"}
_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_SUPER = "⁰¹²³⁴⁵⁶⁷⁸⁹"
# behind a figure: asterisks and daggers, raised figures (but not those of m² and in³), 1), (1) behind a unit, a revision triangle
_FOOTNOTE = re.compile(
    rf"(?:\s*[*†‡§]+|(?<![mtn])\s*[{_SUPER}]+[⁾)]?|\s+\d\)|\s*\(?note\s*\d+\)?|\s*[△▲Δ]\s*\w?|\s*[(\[]rev\.?\s*\w[)\]])\Z", re.IGNORECASE
)
_UNIT_NOTE = re.compile(r"(?<=[A-Za-z°%])\s*[(\[]\d[)\]]\Z")
_ROUGHLY = re.compile(
    r"(?:~|≈|±|ca\.?\s|circa\s|approx\.?\s*|about\s|env\.?\s|max\.?\s*|min\.?\s*|up to\s|bis\s|<=?|>=?|≤|≥)\s*(?=[\d.,])", re.IGNORECASE
)
_F = r"\d+(?:[.,]\d+)*"
_RANGE = re.compile(
    rf"(?P<low>{_F})\s*(?P<unit>[^\W\d]*|°\s?[CF])\s*(?:-|–|—|to|bis|à|a|tot|do|/|\.\.+|…)\s*(?P<high>{_F})\s*(?P<rest>[^\d/]*)\Z",
    re.IGNORECASE,
)
_BY = re.compile(r"\s*(?:[x×X*]|by)\s*")
_SIDE = re.compile(r"(?P<number>.+?)\s*(?P<label>(?<=[\s\d\"'″′])(?:long|wide|deep|high|[LWDH])\.?)?\Z", re.IGNORECASE)
_LABELS = {"l": "length", "w": "width", "d": "depth", "h": "depth"}


@dataclass(frozen=True, slots=True)
class Figure:
    """One number of a cell.

    value    None where it cannot be told; with a `doubt` beside a value, the value is about right
    unit     that stands with it; None = none, or one that is not known (`unit_said`)
    foreign  the unit is one in which heaters are rarely given: hp, PS, BTU/h, kcal/h
    basis    "each", "per tank", "total", where the cell says of what the number is
    span     both ends of a range, "60-65 °C"
    marks    footnote and revision marks that stood behind it
    """

    value: float | None
    unit: Unit | None = None
    unit_said: str = ""
    foreign: bool = False
    basis: str = ""
    span: tuple[float, float] | None = None
    marks: str = ""
    doubt: str = ""


@dataclass(frozen=True, slots=True)
class Dimensions:
    """Sides of a tank, in metres, in the order in which they stand. `labels` are "length", "width", "depth", or "" where not said."""

    sides: tuple[float, ...] = ()
    labels: tuple[str, ...] = ()
    doubt: str = ""


@dataclass(frozen=True, slots=True)
class DecimalMark:
    """The mark before decimals of a sheet, learned from its cells: "." or ","; "" = not told, or told both ways (`doubt`)."""

    mark: str = ""
    example: str = ""
    doubt: str = ""


def sheet_decimal(texts: Iterable[str]) -> DecimalMark:
    """Which mark a sheet writes before decimals, by the numbers typed as text that leave no doubt about it."""
    seen: dict[str, list[str]] = {".": [], ",": []}
    for text in texts:
        if len(text) > LONGEST or not any(mark in text for mark in ".,"):
            continue
        plain, _ = _without_marks(text)
        said = speak(plain)
        mark = decimal_mark(plain) if said is not None and (not said.rest or _unit(said.rest)[0] is not None) else ""
        if mark:
            seen[mark].append(text.strip())
    fewer, more = sorted(seen, key=lambda mark: len(seen[mark]))
    if not seen[more]:
        return DecimalMark()
    if seen[fewer] and len(seen[more]) < CLEARLY * len(seen[fewer]):
        return DecimalMark(doubt=f'"{seen["."][0]}" and "{seen[","][0]}" are both written')
    return DecimalMark(more, seen[more][0])


@lru_cache(maxsize=8192)
def read_figure(text: str, decimal: str = "") -> Figure | None:
    """The number of a cell; None where it begins with none. `decimal`: the sheet's mark before decimals, "" = not known."""
    if len(text) > LONGEST or not text.strip():
        return None
    plain, marks = _without_marks(text)
    rough = _ROUGHLY.match(plain)
    plain = plain[rough.end() :] if rough else plain
    if match := FEET_INCHES.match(plain):
        return _feet_inches(match, marks)
    if (match := _RANGE.match(plain)) and (found := _range(match, text, decimal, marks)):
        return found
    said = speak(plain, decimal)
    if said is None:
        return _spoken(plain, marks)
    if against(plain, decimal):
        other = "," if decimal == "." else "."
        return Figure(None, marks=marks, doubt=f'"{text.strip()}" has {MARKS[other]}, and the sheet writes decimals with {MARKS[decimal]}')
    unit, spelt, basis = _unit(said.rest)
    if said.other is not None:
        two = f'"{text.strip()}" is {said.value:g} or {said.other:g}'
        return Figure(None, unit, spelt, _foreign(spelt), basis, None, marks, two)
    doubt = f'"{text.strip()}" is no exact figure' if rough or said.rest.endswith("?") else ""
    if said.rest and unit is None and not basis:
        doubt = doubt or f'"{said.rest}" behind the number is no unit that is known'
    return Figure(said.value, unit, spelt, _foreign(spelt), basis, None, marks, doubt)


def _without_marks(text: str) -> tuple[str, str]:
    """The text without the footnote and revision marks behind its figure, and these marks."""
    plain = text.replace("\u00a0", " ").replace("\u202f", " ").replace("\u2009", " ").strip()
    for sign, spelt in _FRACTIONS.items():
        plain = re.sub(rf"(?<=\d)\s*{sign}", f" {spelt}", plain).replace(sign, spelt)
    marks = ""
    while match := _FOOTNOTE.search(plain) or _UNIT_NOTE.search(plain):
        if not plain[: match.start()].strip():
            break
        plain, marks = plain[: match.start()], match[0].strip() + marks
    return plain.strip(), marks


def _unit(rest: str) -> tuple[Unit | None, str, str]:
    """What stands behind a number: the unit, the unit as spelt, and of what the number is."""
    rest = rest.strip().rstrip("?").strip()
    if not rest:
        return None, "", ""
    if known := spelled(rest) or spelled(rest.rstrip(".")):
        return known, rest, ""
    known_words = vocabulary()
    basis, bare = "", rest
    for name, said in (("per_tank", "per tank"), ("per_heater", "each"), ("total", "total")):
        hits = known_words[name].find(bare.replace("/", " per ") if name != "total" and re.search(r"/\s*[^\W\d]{2,}", bare) else bare)
        if hits and not basis:
            basis = said
            bare = re.sub(r"\s*/\s*", " per ", bare) if re.search(r"/\s*[^\W\d]{2,}", bare) and power_factor(bare) is None else bare
            hit = next((one for one in known_words[name].find(bare)), None)
            bare = (bare[: hit.start] + bare[hit.end :]).strip(" ().,") if hit else bare
    if not bare:
        return None, "", basis
    if unit := spelled(bare) or known_words.unit(bare):
        return unit, bare, basis
    factor = power_factor(bare)
    return (Unit("power", factor), bare, basis) if factor is not None else (None, bare, basis)


def _foreign(spelt: str) -> bool:
    low = re.sub(r"\s", "", spelt.casefold()).replace("hr", "h")
    return low in OTHER_UNITS or low == "btuh"


def _feet_inches(match: re.Match[str], marks: str) -> Figure:
    foot, inch, said = spelled("ft"), spelled("in"), speak(match[2])
    if foot is None or inch is None or said is None or said.other is not None:
        return Figure(None, marks=marks, doubt=f'"{match[0]}" is no length')
    return Figure(rounded(int(match[1]) + said.value * inch.factor / foot.factor), foot, "ft", marks=marks)


def _range(match: re.Match[str], text: str, decimal: str, marks: str) -> Figure | None:
    """"60-65 °C" is two figures; "480/277" and "1-03" are none, and "1/2" is a fraction."""
    low, high = (speak(match[end], decimal) for end in ("low", "high"))
    unit, spelt, basis = _unit(match["rest"] or match["unit"])
    fraction = "/" in text and low is not None and high is not None and low.value < high.value and high.value in (2, 4, 8, 16, 32, 64)
    if low is None or high is None or fraction or (unit is None and (match["rest"].strip() or "/" in text)):
        return None
    if low.other is not None or high.other is not None or not low.value < high.value:
        return Figure(None, unit, spelt, marks=marks, doubt=f'"{text.strip()}" is no one figure')
    return Figure(None, unit, spelt, _foreign(spelt), basis, (low.value, high.value), marks, f'"{text.strip()}" is a range')


def _spoken(plain: str, marks: str) -> Figure | None:
    """"six kW": a number in words with its unit."""
    match = re.match(r"([^\W\d_]+)\s+(.+)\Z", plain)
    number = vocabulary().number(match[1]) if match else None
    if match is None or number is None:
        return None
    unit, spelt, basis = _unit(match[2])
    return Figure(float(number), unit, spelt, _foreign(spelt), basis, None, marks) if unit is not None else None


@lru_cache(maxsize=4096)
def read_dimensions(text: str, unit: str = "", decimal: str = "") -> Dimensions | None:
    """The sides of a tank, "4' x 3' x 3'"; None where the text is none. `unit`: of bare numbers, by the heading."""
    if len(text) > LONGEST:
        return None
    plain, _ = _without_marks(text)
    match = re.search(r"[\s(]*\b(?P<unit>mm|cm|m|in|inches|ft|feet)\b[.)]*\Z", plain, re.IGNORECASE)
    common = spelled(match["unit"].casefold()) if match else None
    plain = plain[: match.start()] if match else plain
    parts = [part for part in _BY.split(plain) if part]
    if not 2 <= len(parts) <= 3 or not all(part[0].isdigit() or part[0] in ".,½¼¾LWDHlwdh" for part in parts):
        return None
    given = known if unit and (known := spelled(unit)) and known.quantity == "length" else None
    metre = spelled("m")
    sides, labels = [], []
    read = [_side(part, decimal) for part in parts]
    if any(one is None for one in read):
        return None
    for part, (figure, label) in zip(parts, [one for one in read if one], strict=True):
        if figure.value is None or figure.doubt:
            return Dimensions(doubt=figure.doubt or f'"{part}" is no length')
        used = figure.unit or common or given
        if used is None or metre is None:
            return Dimensions(doubt=f'the unit of "{text.strip()}" is not said')
        sides.append(between(figure.value, used, metre))
        labels.append(label)
    if len([one for one in labels if one]) != len({one for one in labels if one}):
        return Dimensions(doubt=f'"{text.strip()}" names a side twice')
    return Dimensions(tuple(sides), tuple(labels))


def _side(part: str, decimal: str) -> tuple[Figure, str] | None:
    """One side and which it is said to be; None where it is no length."""
    side = _SIDE.match(re.sub(r"\A([LWDH])\s*[=:]?\s*(?=\d)", "", part, flags=re.IGNORECASE))
    figure = read_figure(side["number"], decimal) if side else None
    if side is None or figure is None or (figure.unit_said and (figure.unit is None or figure.unit.quantity != "length")):
        return None
    return figure, _LABELS.get(words(side["label"])[0][:1], "") if side["label"] else ""
