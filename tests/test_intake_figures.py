"""Figures as lists have them, worked by hand: units, footnotes, ranges, dimensions, and the decimal mark of a sheet."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.intake.figures import read_figure
from batch.intake.numbers import speak

READ = {  # text -> value, unit's quantity, unit's factor
    "6 kW": (6, "power", 1),
    "9KW": (9, "power", 1),
    "4500 watt": (4500, "power", 0.001),
    "0.48 kV": (0.48, "volts", 1000),
    "6 kW*": (6, "power", 1),
    "6 kW (1)": (6, "power", 1),
    "12 kW (Rev B)": (12, "power", 1),
    "6 kW †": (6, "power", 1),
    "6,0¹": (6, "", 0),
    "2,0²": (2, "", 0),
    "6,0 1)": (6, "", 0),
    "65 °F": (65, "temperature", 5 / 9),
    "1 250 gal": (1250, "volume", 3.785411784),
    "1'250 l": (1250, "volume", 1),
    "1\u202f500 L": (1500, "volume", 1),
    "3 m³": (3, "volume", 1000),
    "３．５ kW": (3.5, "power", 1),
    "4'-6\"": (4.5, "length", 0.3048),
    "12'": (12, "length", 0.3048),
    "7½ in": (7.5, "length", 0.0254),
    '1 1/2"': (1.5, "length", 0.0254),
    "six kW": (6, "power", 1),
    "25 %": (25, "per cent", 1),
    "1,5 Litros": (1.5, "volume", 1),
    "900 litrów": (900, "volume", 1),
    "8 hp": (8, "power", 0.7456998715822702),
    "5 PS": (5, "power", 0.73549875),
    "65": (65, "", 0),
}


@pytest.mark.parametrize("text", READ)
def test_read(text: str) -> None:
    said = read_figure(text)
    value, quantity, factor = READ[text]
    assert said is not None and said.value == value and not said.doubt
    assert (said.unit.quantity, said.unit.factor) == (quantity, pytest.approx(factor)) if said.unit else not quantity


@pytest.mark.parametrize(
    ("text", "marks"), [("6,0¹", "¹"), ("6 kW*", "*"), ("6 kW (1)", "(1)"), ("6,0 1)", "1)"), ("3 m³", ""), ("12 kW (Rev B)", "(Rev B)")]
)
def test_marks_behind_a_figure_are_kept_apart(text: str, marks: str) -> None:
    assert (said := read_figure(text)) is not None and said.marks == marks


@pytest.mark.parametrize(
    ("text", "basis"),
    [("6 kW each", "each"), ("6 kW/htr", "each"), ("6 kW je Heizer", "each"), ("13,5 kW pro Becken", "per tank"), ("18 kW total", "total")],
)
def test_of_what_it_is(text: str, basis: str) -> None:
    assert (said := read_figure(text)) is not None and said.basis == basis and said.unit is not None


@pytest.mark.parametrize("text", ["8 hp", "5 PS", "20473 BTU/H", "1000 kcal/h"])
def test_units_of_other_trades_are_named(text: str) -> None:
    assert (said := read_figure(text)) is not None and said.foreign


@pytest.mark.parametrize(
    ("text", "span"), [("60-65 °C", (60, 65)), ("60 to 65 °F", (60, 65)), ("6-9 kW", (6, 9)), ("140/160 °F", (140, 160))]
)
def test_a_range_is_no_one_figure(text: str, span: tuple[float, float]) -> None:
    assert (said := read_figure(text)) is not None and said.value is None and said.span == span and said.doubt


@pytest.mark.parametrize("text", ["~65 °C", "<1", "6 kW ?", "approx. 900 gal", "6 bananas", "6 (1)"])
def test_what_is_not_exact_says_so(text: str) -> None:
    assert (said := read_figure(text)) is not None and said.doubt


@pytest.mark.parametrize("text", ["", "k. A.", "480/277", "1.2.3", "TBD", "T-101", "x" * 100])
def test_no_figure(text: str) -> None:
    assert read_figure(text) is None


@pytest.mark.parametrize(
    ("text", "decimal"), [("6.5", ","), ("0.375", ","), ("12.5 kW", ","), ("1,250.5", ","), ("6,5", "."), ("12,50", "."), ("1.250,5", ".")]
)
def test_a_mark_that_cannot_part_thousands_is_a_fault_on_a_sheet_of_the_other(text: str, decimal: str) -> None:
    assert (said := read_figure(text, decimal)) is not None and said.value is None and said.doubt


@pytest.mark.parametrize(
    ("text", "decimal", "value"),
    [("1.800", ",", 1800), ("1,800", ".", 1800), ("1.800", ".", 1.8), ("4.500 W", ",", 4500), ("6,000", ",", 6)],
)
def test_a_known_mark_decides(text: str, decimal: str, value: float) -> None:
    assert (said := read_figure(text, decimal)) is not None and said.value == value


def test_without_it_two_meanings_stay_two() -> None:
    assert (said := read_figure("6,000 W")) is not None and said.value is None and said.unit is not None and "6 or 6000" in said.doubt


def test_figures_of_full_width_are_read_everywhere() -> None:
    assert (said := speak("１，２５０．５　ｋＷ")) is not None and (said.value, said.rest) == (1250.5, "kW")


VALUES = st.integers(1, 10_000_000).map(lambda number: number / 100)
UNITS = st.sampled_from(["", " kW", "kW", " W", " °C", " °F", " gal", " L", " mm", " ft", " kV", " A"])


@given(VALUES, UNITS, st.sampled_from([".", ","]), st.sampled_from(["", "group", " ", "\u00a0", "'"]))
def test_what_is_written_is_read_again(value: float, unit: str, decimal: str, group: str) -> None:
    """With two decimals, grouped in five ways, under a decimal mark that is known."""
    part = ("," if decimal == "." else ".") if group == "group" else group
    text = f"{value:,.2f}".replace(",", "\0").replace(".", decimal).replace("\0", part) + unit
    said = read_figure(text, decimal)
    assert said is not None and said.value == pytest.approx(value) and said.unit_said == unit.strip() and not said.doubt


@given(st.text(alphabet="0123456789.,'- kWxft°C\"¹()/½", max_size=25) | st.text(max_size=70), st.sampled_from(["", ".", ","]))
def test_no_text_is_a_crash(text: str, decimal: str) -> None:
    read_figure(text, decimal)
