"""Units: every factor of the table against pint, values that people know, and there and back again."""

from __future__ import annotations

import subprocess
import sys

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.errors import SpecificationError
from batch.sheets import INPUTS
from batch.units import BASES, EXACT, between, convert, find_unit, spelled

REGISTRY = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
# how pint spells what the table spells otherwise; every spelling of one unit shares its factor, so one is enough
PINT = {
    "kW": "kilowatt", "W": "watt", "MW": "megawatt", "kVA": "kilovolt_ampere", "VA": "volt_ampere", "MVA": "megavolt_ampere",
    "V": "volt", "kV": "kilovolt", "A": "ampere", "kA": "kiloampere", "mA": "milliampere",
    "m": "meter", "mm": "millimeter", "cm": "centimeter", "km": "kilometer", "ft": "foot", "in": "inch", "yd": "yard",
    "°C": "degC", "°F": "degF", "K": "kelvin",
    "L": "liter", "m3": "meter**3", "mL": "milliliter", "gal": "gallon", "ft3": "foot**3",
    "h": "hour", "min": "minute", "s": "second", "d": "day",
    "m/s": "meter/second", "ft/min": "foot/minute", "ft/s": "foot/second", "km/h": "kilometer/hour", "mph": "mile/hour",
    "kg/h": "kilogram/hour", "lb/h": "pound/hour", "kg/min": "kilogram/minute", "lb/min": "pound/minute",
    "L/h": "liter/hour", "L/min": "liter/minute", "m3/h": "meter**3/hour", "gal/h": "gallon/hour", "gal/min": "gallon/minute",
    "N·m": "newton*meter", "lbf·in": "force_pound*inch", "lbf·ft": "force_pound*foot", "%": "percent",
    "kg": "kg", "tonne": "metric_ton", "lb": "pound", "m²": "m**2", "ft²": "foot**2", "W/cm²": "W/cm**2", "W/in²": "W/inch**2",
}  # fmt: skip


@pytest.mark.parametrize("spelling", PINT)
def test_factor_agrees_with_pint(spelling: str) -> None:
    unit = EXACT[spelling]
    base = spelled("°C" if unit.quantity == "temperature" else {"per cent": "%", "torque": "N·m"}.get(unit.quantity, BASES[unit.quantity]))
    for value in (1.0, 25.0, 104.0):
        expected = REGISTRY.Quantity(value, PINT[spelling]).to(BASES[unit.quantity]).magnitude
        assert between(value, unit, base) == pytest.approx(expected, rel=1e-11, abs=1e-9)


def test_every_unit_of_the_table_is_checked_against_pint() -> None:
    assert {EXACT[spelling] for spelling in PINT} == set(EXACT.values())


# Source: plain definitions that the trade uses daily, recalled from memory, not read from a page here.
@pytest.mark.parametrize(
    ("value", "given_unit", "wanted", "expected"),
    [
        (25, "ft", "m", 7.62), (7.62, "m", "ft", 25.0), (1, "in", "mm", 25.4), (140, "°F", "°C", 60.0), (40, "°C", "°F", 104.0),
        (-40, "°F", "°C", -40.0), (313.15, "K", "°C", 40.0), (1, "gal", "L", 3.785411784), (6000, "W", "kW", 6.0), (65, "kA", "A", 65000.0),
        (100, "ft/min", "m/s", 0.508), (1, "lb/h", "kg/h", 0.45359237), (60, "gal/h", "gal/min", 1.0),
    ],
)  # fmt: skip
def test_known_conversions(value: float, given_unit: str, wanted: str, expected: float) -> None:
    assert convert(value, given_unit, wanted) == expected


SHOWN = sorted({(column.unit, column.us_unit) for sheet in INPUTS for column in sheet.columns if column.us_unit})


@pytest.mark.parametrize(("unit", "us_unit"), SHOWN)
def test_every_unit_of_the_sheets_is_known_and_comes_back(unit: str, us_unit: str) -> None:
    for value in (25.0, 104.0, 140.0, 1234.5, *(() if unit == "°C" else (0.3, 0.125))):
        assert convert(convert(value, us_unit, unit), unit, us_unit) == value


@pytest.mark.parametrize(("unit", "us_unit"), SHOWN)
def test_what_was_typed_is_shown_as_typed_and_converted_without_noise(unit: str, us_unit: str) -> None:
    """60 °F was shown as 60.0000000001 °F, and 285 gal as 285.000000001. Each whole number and tenth that a person may type, both ways."""
    kept, typed = spelled(unit), spelled(us_unit)
    for number in range(-5000, 20001):
        value = number / 10
        assert convert(between(value, typed, kept), unit, us_unit) == value
        assert convert(between(value, kept, typed), us_unit, unit) == value


@pytest.mark.parametrize(
    ("value", "given_unit", "wanted", "expected"),
    [
        (33.8, "°F", "°C", 1.0), (32.18, "°F", "°C", 0.1), (0.1, "°C", "°F", 32.18), (-0.05, "°C", "°F", 31.91), (300.15, "K", "°C", 27.0),
        (59, "°F", "°C", 15.0),
    ],
)  # fmt: skip
def test_differences_of_temperatures_keep_no_noise(value: float, given_unit: str, wanted: str, expected: float) -> None:
    """By hand: (33.8 - 32) x 5/9 = 1, where 33.8 - 32 is 1.7999999999999972 to a machine."""
    assert between(value, spelled(given_unit), spelled(wanted)) == expected


@given(st.floats(min_value=1e-3, max_value=1e6), st.sampled_from(SHOWN))
def test_there_and_back_is_the_same_to_eleven_digits(value: float, units: tuple[str, str]) -> None:
    assert convert(convert(value, units[1], units[0]), units[0], units[1]) == pytest.approx(value, rel=1e-10, abs=1e-8)


@pytest.mark.parametrize(
    ("text", "quantity", "known"),
    [
        ("KW", "power", True), ("Kw", "power", True), ("WATTS", "power", True), ("mw", "power", False), ("VAC", "volts", True),
        ("  deg   F ", "temperature", True), ("c", "temperature", True), ("FT", "length", True), ("M", "length", True),
        ("ft", "power", False),
        ("banana", "power", False), ("", "power", False), ("10**10**10", "power", False), ("__import__", "power", False),
        ("hp", "power", True), ("BTU/h", "power", True), ("furlong", "length", True), ("h", "length", False),
    ],
)  # fmt: skip
def test_spellings(text: str, quantity: str, known: bool) -> None:
    assert (find_unit(text, quantity) is not None) is known


@pytest.mark.parametrize(
    ("value", "celsius"),
    [
        (671.67, 100.0),  # 212 + 459.67: Rankine counts Fahrenheit's degrees from absolute zero
        (491.67, 0.0),
        (0.0, -273.15),
    ],
)
def test_a_unit_of_pint_with_a_zero_of_its_own_keeps_it(value: float, celsius: float) -> None:
    """Not in our table, so pint is asked: factor and zero both come over."""
    assert spelled("degR") is None
    rankine = find_unit("degR", "temperature")
    assert between(value, rankine, spelled("°C")) == pytest.approx(celsius, abs=1e-9)


def test_megawatts_and_milliwatts_are_told_apart() -> None:
    mega, milli = find_unit("MW", "power"), find_unit("mW", "power")
    assert mega and milli and mega.factor / milli.factor == pytest.approx(1e9)


def test_unknown_or_unlike_units_are_a_programming_fault() -> None:
    for pair in (("m", "kW"), ("m", "cubit"), ("", "m")):
        with pytest.raises(SpecificationError):
            convert(1.0, *pair)


def test_pint_is_not_loaded_for_common_units() -> None:
    code = "import sys, batch.units as u; u.convert(1, 'ft', 'm'); u.find_unit('kW', 'power'); sys.exit('pint' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
