"""Figures as lists have them: a number with its unit, footnote and revision marks, ranges.

Wider than what is read in the program's own form, where a cell holds a number and perhaps its unit: here a person wrote what
they liked. What cannot be one figure for certain has no value, and says why.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from batch.intake.cells import FEET_INCHES
from batch.intake.numbers import against, speak
from batch.intake.powers_named import OTHER_UNITS, power_factor
from batch.intake.vocabulary import vocabulary
from batch.units import Unit, rounded, spelled

LONGEST = 60
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
