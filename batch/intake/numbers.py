"""A number typed as text: read where it can mean one thing only."""

from __future__ import annotations

import re
from typing import NamedTuple

from batch.intake.grid import Broken

_SPACES = "\u00a0\u2007\u2009\u202f"  # no-break, figure, thin, narrow no-break: all used between thousands
_LIKE = {"\u2212": "-", "\u2013": "-", "\u2019": "'", "\u2032": "'", "\u2033": '"', "\u201d": '"'}  # minus signs and primes
_WIDE = {chr(code): chr(code - 0xFEE0) for code in range(0xFF01, 0xFF5F)} | {"\u3000": " "}  # figures and marks of full width
_PLAIN = str.maketrans({**dict.fromkeys(_SPACES, " "), **_WIDE, **_LIKE})
_NUMBER = re.compile(
    r"""(?P<sign>[+-]?)\s*
    (?:
      (?P<whole>\d+)[\s-](?P<over>\d+)/(?P<under>\d+)          # 1 1/2
    | (?P<top>\d+)/(?P<bottom>\d+)                             # 7/16
    | (?P<digits>\d{1,3}(?:[ ']\d{3})+(?:[.,]\d+)?|\d[\d.,]*|[.,]\d+)
      (?P<power>[eE][+-]?\d{1,2}(?![\w]))?
    )
    \s*(?P<rest>.*)\Z""",
    re.VERBOSE | re.DOTALL | re.ASCII,
)
_FIGURES = {"O": "0", "o": "0", "l": "1", "I": "1"}
_LETTER = re.compile(  # between or beside figures, or alone; "6oC" is a degree sign as many type it
    r"(?<![^\W\d_oO])(?:(?<=[\doO.,])(?:o(?![^\W\d_oO])|O(?![CF]))|[oO](?=[oO]*[\d.,])|(?<!\w)[oO]\Z|[lI](?=[oO]?\d))"
)
_OF_AN_INCH = (2, 4, 8, 16, 32, 64)  # what a fraction is divided by; 480/277 is no fraction


class Spoken(NamedTuple):
    """What a text says: its number, what follows it (a unit, perhaps), and the other number it could as well mean."""

    value: float
    rest: str
    other: float | None = None


def speak(text: str, decimal: str = "") -> Spoken | None:
    """Reads "6", "6 kW", "1.250,5 W", "1 1/2 in", "12'"; None where the text does not begin with a number.

    "1,250" and "1.250" are a thousand or a fraction, by the country they come from: both meanings are returned,
    or only the right one where the mark before decimals, `decimal`, is known.
    """
    match = _NUMBER.match(text.translate(_PLAIN).strip())
    if match is None:
        return None
    sign = -1.0 if match["sign"] == "-" else 1.0
    rest = match["rest"].strip()
    if match["digits"] is None:
        whole, over, under = match["whole"] or "0", match["over"] or match["top"], match["under"] or match["bottom"]
        proper = int(under) in _OF_AN_INCH and int(over) < int(under)
        return Spoken(sign * (int(whole) + int(over) / int(under)), rest) if proper else None
    meanings = _meanings(match["digits"])
    if not meanings:
        return None
    power = float("1" + match["power"]) if match["power"] else 1.0
    if len(meanings) > 1 and decimal:
        meanings = meanings[:1] if decimal in match["digits"] else meanings[1:]
    values = [sign * meaning * power for meaning in meanings]
    return Spoken(values[0], rest, values[1] if len(values) > 1 else None)


class Meant(NamedTuple):
    """A number in which a letter stands for the figure that looks like it."""

    text: str
    letter: str
    figure: str


def letters_for_figures(text: str) -> Meant | None:
    """"1O kW" may be 10 kW, "l2" 12: an O beside figures or alone, an l or I before one. None where no such letter stands."""
    match = _LETTER.search(text)
    if match is None:
        return None
    figures = _LETTER.sub(lambda one: _FIGURES[one[0]], text)
    return Meant(figures, match[0], _FIGURES[match[0]])


def against(text: str, decimal: str) -> bool:
    """Does a number have a mark that cannot part thousands where the sheet writes decimals with `decimal`? "6.5" on a sheet of commas."""
    mark = decimal_mark(text) if decimal else ""
    return bool(mark) and mark != decimal


def decimal_mark(text: str) -> str:
    """The mark before decimals that a number typed as text gives away: "," of "1,5 kW", "." of "1,250.5"; "" where it tells nothing."""
    match = _NUMBER.match(text.translate(_PLAIN).strip())
    digits = match["digits"] if match else None
    if not digits or len(_meanings(digits)) != 1:
        return ""
    commas, points = digits.count(","), digits.count(".")
    if commas and points:
        return max(",.", key=digits.rfind)
    if commas + points == 0:
        return ""
    mark = "," if commas else "."
    return mark if commas + points == 1 else "." if commas else ","


def _meanings(digits: str) -> list[float]:
    """Every number the digits can mean; [] where the separators make no sense."""
    digits = digits.replace(" ", "").replace("'", "") if digits[0].isdigit() else digits
    commas, points = digits.count(","), digits.count(".")
    if commas and points:
        last = max(digits.rfind(","), digits.rfind("."))
        decimal = digits[last]
        return _grouped(digits[:last], "." if decimal == "," else ",", digits[last + 1 :]) if digits.count(decimal) == 1 else []
    separator = "," if commas else "."
    count = commas or points
    if count == 0:
        return [float(digits)]
    if count > 1:
        return _grouped(digits, separator, "")
    before, after = digits.split(separator)
    if not after:
        return [float(before)] if separator == "." else []
    fraction = float(f"{before or 0}.{after}")
    if len(after) == 3 and 1 <= len(before) <= 3 and before[0] != "0":
        return [fraction, float(before + after)]
    return [fraction]


def _grouped(whole: str, separator: str, fraction: str) -> list[float]:
    """A number whose thousands are set apart by `separator`; [] where a group is not three digits long."""
    first, *groups = whole.split(separator)
    if not groups or not 1 <= len(first) <= 3 or any(len(group) != 3 for group in groups):
        return []
    return [float(f"{first}{''.join(groups)}.{fraction or 0}")]


def number_of(cell: object) -> float | None:
    """A cell's figure, or the one its text begins with; None = neither."""
    if isinstance(cell, bool):
        return None
    if isinstance(cell, (int, float)):
        return float(cell)
    said = speak(cell) if isinstance(cell, str) and type(cell) is not Broken else None
    return said.value if said else None
