"""Units: spellings, the quantity each belongs to, and exact conversion between the units of one quantity.

The common spellings are the table below (a test checks every factor against pint); any other spelling is put to pint, once
each, and pint is imported only then. A value in base units is `(value - zero) * factor`; only temperatures have a zero.
"""

from __future__ import annotations

import re
from functools import lru_cache
from math import floor, isfinite, log10
from typing import NamedTuple

from batch.errors import SpecificationError

# Exact by definition (NIST Handbook 44, Appendix C, and NIST SP 811, Appendix B: cited from memory); tests check them against pint.
FOOT = 0.3048  # m, international foot
INCH = 0.0254  # m
POUND = 0.45359237  # kg, avoirdupois pound
GALLON = 231 * (INCH * 10) ** 3  # L, US liquid gallon of 231 cubic inches
GRAVITY = 9.80665  # m/s2, standard gravity
DIGITS = 12  # significant digits shown, fewer than are kept: 60 °F, kept as 15.5555555555556 °C, is shown as 60 °F and not 60.0000000001
KEPT = 15  # significant digits of what was typed in another unit, so that 25 ft is 7.62 m: all that a number of 53 bits holds for certain


class Unit(NamedTuple):
    """What a spelling means: base = (value - zero) * factor, in the base unit of the quantity."""

    quantity: str
    factor: float
    zero: float = 0.0


# quantity -> base unit as pint spells it; the words a person reads are in WORDS
BASES = {
    "power": "kW", "apparent power": "kVA", "volts": "V", "current": "A", "length": "m", "temperature": "degC", "volume": "L",
    "time": "h", "speed": "m/s", "mass rate": "kg/h", "flow": "L/h", "torque": "N*m", "per cent": "percent",
    "mass": "kg", "area": "m^2", "watt density": "W/cm^2",
}  # fmt: skip

_SPELLINGS: dict[str, dict[tuple[float, float], str]] = {
    "power": {
        (1.0, 0): "kW|kilowatt|kilowatts|kws",
        (0.001, 0): "W|watt|watts|ws",
        (1000.0, 0): "MW|megawatt|megawatts",
    },
    "apparent power": {(1.0, 0): "kVA|kilovoltampere|kilovolt-amperes", (0.001, 0): "VA|voltampere|volt-amperes", (1000.0, 0): "MVA"},
    "volts": {(1.0, 0): "V|volt|volts|VAC|V AC|V a.c.|volts AC", (1000.0, 0): "kV|kilovolt|kilovolts"},
    "current": {(1.0, 0): "A|amp|amps|ampere|amperes", (1000.0, 0): "kA|kAIC|kiloamp|kiloamps|kiloampere|kiloamperes", (0.001, 0): "mA"},
    "length": {
        (1.0, 0): "m|meter|meters|metre|metres|mtr|mtrs",
        (0.001, 0): "mm|millimeter|millimeters|millimetre|millimetres",
        (0.01, 0): "cm|centimeter|centimeters|centimetre|centimetres",
        (1000.0, 0): "km",
        (FOOT, 0): "ft|foot|feet|'|′|’|ft.",
        (INCH, 0): "in|inch|inches|\"|″|”|''|in.",
        (3 * FOOT, 0): "yd|yard|yards",
    },
    "temperature": {
        (1.0, 0): "°C|C|degC|deg C|deg. C|degrees C|celsius|degrees celsius|℃|ºC",
        (5 / 9, 32.0): "°F|F|degF|deg F|deg. F|degrees F|fahrenheit|degrees fahrenheit|℉|ºF",
        (1.0, 273.15): "K|kelvin",
    },
    "volume": {
        (1.0, 0): "L|liter|liters|litre|litres|ltr|ltrs",
        (1000.0, 0): "m3|m³|m^3|cubic meter|cubic meters|cubic metre|cubic metres",
        (0.001, 0): "mL|milliliter|milliliters|cm3|cm³",
        (GALLON, 0): "gal|gals|gallon|gallons|US gal|US gallon|US gallons|USG|gal.|gal (US)",
        ((10 * FOOT) ** 3, 0): "ft3|ft³|ft^3|cu ft|cu. ft.|cubic foot|cubic feet",
    },
    "time": {
        (1.0, 0): "h|hr|hrs|hour|hours|hr.|hrs.",
        (1 / 60, 0): "min|mins|minute|minutes|min.",
        (1 / 3600, 0): "s|sec|secs|second|seconds",
        (24.0, 0): "d|day|days",
    },
    "speed": {
        (1.0, 0): "m/s|m/sec|mps",
        (FOOT / 60, 0): "ft/min|fpm|feet per minute|feet/min",
        (FOOT, 0): "ft/s|ft/sec|fps",
        (1 / 3.6, 0): "km/h|kph",
        (5280 * FOOT / 3600, 0): "mph",
    },
    "mass rate": {
        (1.0, 0): "kg/h|kg/hr|kg/hour|kgs/hr|kg per hour",
        (POUND, 0): "lb/h|lb/hr|lb/hour|lbs/h|lbs/hr|lbs/hour|pph|lb per hour|lbs per hour|pounds per hour",
        (60.0, 0): "kg/min",
        (60 * POUND, 0): "lb/min|lbs/min",
    },
    "mass": {
        (1.0, 0): "kg|kgs|kilogram|kilograms|kilo|kilos",
        (1000.0, 0): "tonne|tonnes|metric ton|metric tons",
        (POUND, 0): "lb|lbs|lb.|lbs.|pound|pounds",
    },
    "area": {
        (1.0, 0): "m²|m2|m^2|sq m|square meter|square meters|square metre|square metres",
        (FOOT**2, 0): "ft²|ft2|ft^2|sq ft|sq. ft.|square foot|square feet",
    },
    "watt density": {
        (1.0, 0): "W/cm²|W/cm2|W/cm^2|W per cm²",
        (1 / (100 * INCH) ** 2, 0): "W/in²|W/in2|W/in^2|W/sq in|W/sq. in.|WSI",
    },
    "flow": {
        (1.0, 0): "L/h|L/hr|LPH|liters/hour|litres/hour|liters per hour|litres per hour",
        (60.0, 0): "L/min|LPM|liters per minute|litres per minute",
        (1000.0, 0): "m3/h|m³/h|m3/hr|m³/hr",
        (GALLON, 0): "gal/h|gal/hr|GPH|gallons per hour",
        (60 * GALLON, 0): "gal/min|GPM|gallons per minute",
    },
    "torque": {
        (1.0, 0): "N·m|Nm|N.m|N-m|N*m|N m|newton metre|newton metres",
        (POUND * GRAVITY * INCH, 0): "lbf·in|lbf-in|lbf in|lbf*in|lb-in|lb·in|lb in|in-lb|in·lb|in lb|in-lbs|lb-ins|lbs-in|inch-pounds",
        (POUND * GRAVITY * FOOT, 0): "lbf·ft|lbf-ft|lbf ft|lbf*ft|lb-ft|lb·ft|lb ft|ft-lb|ft·lb|ft lb|ft-lbs|foot-pounds|ft lbs",
    },
    "per cent": {(1.0, 0): "%|percent|per cent|pct|pct."},
}
WORDS = {"per cent": "per cent", "volts": "voltage"}
_CASE_MATTERS = {"mw"}  # MW and mW differ by 1e9


def _tables() -> tuple[dict[str, Unit], dict[str, Unit]]:
    exact: dict[str, Unit] = {}
    folded: dict[str, Unit] = {}
    for quantity, groups in _SPELLINGS.items():
        for (factor, zero), spellings in groups.items():
            unit = Unit(quantity, factor, float(zero))
            for spelling in spellings.split("|"):
                if spelling in exact:
                    raise SpecificationError(f"unit {spelling!r} is declared twice")
                exact[spelling] = unit
                fold = spelling.casefold()
                if fold in folded and folded[fold] != unit:
                    raise SpecificationError(f"unit {spelling!r} differs from another by case alone: add it to _CASE_MATTERS")
                if fold not in _CASE_MATTERS:
                    folded[fold] = unit
    return exact, folded


EXACT, FOLDED = _tables()
_ASKABLE = re.compile(r"[A-Za-zµΩ°_][A-Za-zµΩ°_ /*·.^²³()-]{0,29}[23]?\Z")  # no digits but a last exponent: nothing pint would compute


def spelled(text: str) -> Unit | None:
    """The unit that a common spelling means; None where the table has no such spelling."""
    text = " ".join(text.split())
    return EXACT.get(text) or FOLDED.get(text.casefold())


def spelling(unit: Unit) -> str:
    """The common spelling of a unit; "" where the table does not have it."""
    return _SPELLINGS[unit.quantity].get((unit.factor, unit.zero), "").partition("|")[0]


@lru_cache(maxsize=4096)
def find_unit(text: str, quantity: str) -> Unit | None:
    """The unit of `quantity` that `text` spells, from the table or else from pint; None where it is no such unit.

    A spelling that the table knows for another quantity is not put to pint, which takes 6 kVA for 6 kW.
    """
    text = " ".join(text.split())
    known = spelled(text)
    if known:
        return known if known.quantity == quantity else None
    if quantity not in BASES or not _ASKABLE.match(text):
        return None
    return _ask_pint(text, quantity)


def _ask_pint(text: str, quantity: str) -> Unit | None:
    registry = _registry()
    base = BASES[quantity]
    try:
        one, two = (registry.Quantity(n, text.replace("·", "*")).to(base).magnitude for n in (1.0, 2.0))
    except Exception:  # pint raises errors of its own, of Python's tokenizer and plain ValueError alike: none means a unit we can use
        return None
    factor = two - one
    if not factor > 0 or factor == float("inf"):
        return None
    zero = 1.0 - one / factor
    return Unit(quantity, factor, zero if abs(zero) > 1e-9 else 0.0)


@lru_cache(maxsize=1)
def _registry():
    import pint

    return pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


def rounded(value: float) -> float:
    """The value at 12 significant digits: hides the last bits that a conversion leaves behind."""
    return float(f"{value:.{DIGITS}g}")


def between(value: float, given: Unit, wanted: Unit, digits: int = KEPT) -> float:
    """The value of `given` units in `wanted` units of the same quantity, to be kept; unchanged where they are alike.

    Digits count from the greatest number on the way: 33.8 °F less 32 has lost what the two have in common, and is 1 °C.
    """
    if given == wanted:
        return value
    ratio = given.factor / wanted.factor
    found = (value - given.zero) * given.factor / wanted.factor + wanted.zero
    most = max(abs(found), abs(wanted.zero), abs(value * ratio), abs(given.zero * ratio))
    if not isfinite(most) or not most:
        return found
    return round(found, digits - 1 - floor(log10(most)))


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """A value in other units, to be shown: `convert(7.62, "m", "ft")` is 25.0.

    Raises:
        SpecificationError: a spelling that is not in the table, or units of two quantities.
    """
    given, wanted = spelled(from_unit), spelled(to_unit)
    if given is None or wanted is None or given.quantity != wanted.quantity:
        raise SpecificationError(f"cannot convert {from_unit!r} to {to_unit!r}")
    return between(value, given, wanted, DIGITS)
