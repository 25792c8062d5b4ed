"""Numbers typed as text: what is read, what is refused, what is told to have two meanings."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.intake.numbers import speak

# Our own cases: how people of several countries type numbers.
READ = {
    "6": 6.0, " 6 ": 6.0, "+6": 6.0, "-6": -6.0, "\u22126": -6.0, "6.5": 6.5, "6,5": 6.5, ".5": 0.5, ",5": 0.5, "6.": 6.0, "0,375": 0.375,
    "0.125": 0.125, "12,50": 12.5, "1234,567": 1234.567, "1,2500": 1.25, "1,250.5": 1250.5, "1.250,5": 1250.5, "1,250,000": 1250000.0,
    "1.250.000": 1250000.0, "1 250": 1250.0, "1\u00a0250": 1250.0, "1\u202f250,5": 1250.5, "1'250": 1250.0, "1\u2019250.5": 1250.5,
    "12 500 000": 12500000.0,
    "6e3": 6000.0, "6.0E+03": 6000.0, "7/16": 0.4375, "1 1/2": 1.5, "12-1/2": 12.5, "0.000": 0.0, "00123": 123.0,
}  # fmt: skip


@pytest.mark.parametrize("text", READ)
def test_read(text: str) -> None:
    said = speak(text)
    assert said is not None and (said.value, said.rest, said.other) == (READ[text], "", None)


@pytest.mark.parametrize(
    ("text", "one", "other"),
    [("1,250", 1.25, 1250.0), ("1.250", 1.25, 1250.0), ("-12,500", -12.5, -12500.0), ("999.999", 999.999, 999999.0)],
)
def test_two_meanings(text: str, one: float, other: float) -> None:
    said = speak(text)
    assert said is not None and (said.value, said.other) == (one, other)


NO_NUMBERS = ["", "abc", "kW 6", "1,25,000", "1,2.3,4", "1,", "480/277", "5/0", "9/4", "²", "٣", "~6", ">6", "--6", "(6)", "1.2.3"]


@pytest.mark.parametrize("text", NO_NUMBERS)
def test_not_read(text: str) -> None:
    assert speak(text) is None


@pytest.mark.parametrize(
    ("text", "value", "rest"),
    [("6 kW", 6, "kW"), ("6000W", 6000, "W"), ("12'", 12, "'"), ("3 x 6 kW", 3, "x 6 kW"), ("6-9 kW", 6, "-9 kW"),
     ("480Y/277", 480, "Y/277"), ("40 °C", 40, "°C"), ("12 50", 12, "50"), ("6 kW?", 6, "kW?")],
)  # fmt: skip
def test_what_follows_is_kept(text: str, value: float, rest: str) -> None:
    said = speak(text)
    assert said is not None and (said.value, said.rest) == (value, rest)


@given(st.floats(min_value=0, max_value=1e9, allow_nan=False), st.sampled_from("., "))
def test_grouped_thousands_are_read_as_they_were_meant(value: float, group: str) -> None:
    """Written with two decimals and grouped in any of three ways, every number comes back."""
    decimal = "," if group == "." else "."
    text = f"{value:,.2f}".replace(",", "\0").replace(".", decimal).replace("\0", group)
    said = speak(text)
    assert said is not None and said.other is None and said.value == pytest.approx(round(value, 2))


@given(st.text(max_size=40))
def test_no_text_is_a_crash(text: str) -> None:
    said = speak(text)
    assert said is None or isinstance(said.value, float)
