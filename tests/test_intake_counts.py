"""Counts and tags as they are typed, in eight languages; what has two meanings is in doubt. Worked by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.intake.counts import MOST, read_count
from batch.intake.tags import read_tags

COUNTS = {
    "3": 3,
    "2 Stk.": 2,
    "(3)": 3,
    "6 ea.": 6,
    "2ea": 2,
    "12 pcs": 12,
    "2 nos": 2,
    "2x": 2,
    "x3": 3,
    "Qty: 4": 4,
    "1 dozen": 12,
    "2 dz.": 24,
    "two": 2,
    "two (2)": 2,
    "3 (three)": 3,
    "a pair": 2,
    "3 heaters": 3,
    "3¹": 3,
    "１２": 12,
    "2.000": 2,
    "3 szt.": 3,
    "dos": 2,
    "2 uds.": 2,
    "tre": 3,
    "2 stuks": 2,
    "trois": 3,
    "4 pces": 4,
    "2 pz": 2,
    "três": 3,
    "2 Stück": 2,
    "drei": 3,
}


@pytest.mark.parametrize("text", COUNTS)
def test_counts(text: str) -> None:
    said = read_count(text)
    assert said is not None and (said.value, said.spare, said.rest, said.doubt) == (COUNTS[text], 0, "", "")


@pytest.mark.parametrize(
    ("text", "value", "spare"), [("4+1 spare", 4, 1), ("4 (+1 spare)", 4, 1), ("4 in service + 1 standby", 4, 1), ("2 + 1 Reserve", 2, 1)]
)
def test_a_spare_one_is_not_in_service(text: str, value: int, spare: int) -> None:
    said = read_count(text)
    assert said is not None and (said.value, said.spare, said.doubt) == (value, spare, "")


@pytest.mark.parametrize(
    ("text", "basis"),
    [
        ("3 per tank", "per tank"),
        ("2 Stück je Becken", "per tank"),
        ("3 par cuve", "per tank"),
        ("3 total", "total"),
        ("2 por tanque", "per tank"),
    ],
)
def test_of_what_it_is_the_count(text: str, basis: str) -> None:
    said = read_count(text)
    assert said is not None and said.value in (2, 3) and said.basis == basis


@pytest.mark.parametrize(
    ("text", "value", "rest"),
    [("3 x 6 kW", 3, "6 kW"), ("(2) 6 kW", 2, "6 kW"), ("3 pumps", 3, "pumps"), ("6 x 4 kW each", 6, "4 kW each")],
)
def test_what_is_no_count_is_left(text: str, value: int, rest: str) -> None:
    said = read_count(text)
    assert said is not None and (said.value, said.rest) == (value, rest)


DOUBTS = ["4 + 1", "two (3)", "3 (1 spare)", "~3", "2-3", "3?", "2.5", "1.000", "5000", "2 or 3", "approx. 4", "2 (two each side)"]


@pytest.mark.parametrize("text", DOUBTS)
def test_what_is_not_sure_is_said(text: str) -> None:
    said = read_count(text)
    assert said is not None and said.value is None and said.doubt


@pytest.mark.parametrize("text", ["", "-", "none", "ídem", "heater", "TBD", "n/a"])
def test_no_count(text: str) -> None:
    assert read_count(text) is None


def test_a_known_mark_before_decimals_decides() -> None:
    assert (said := read_count("1.000", ".")) is not None and said.value == 1
    assert (said := read_count("1.000", ",")) is not None and said.value == 1000


@given(st.integers(1, MOST), st.sampled_from(["{n}", "({n})", "{n} ea.", "{n} Stk.", "{n} szt.", "{n} pcs", "qty {n}", "{n}x"]))
def test_what_is_written_is_read_again(number: int, form: str) -> None:
    said = read_count(form.format(n=number))
    assert said is not None and said.value == number and not said.doubt


TAGS = {
    "T-1 thru T-4": ("T-1", "T-2", "T-3", "T-4"),
    "T-1 to T-3": ("T-1", "T-2", "T-3"),
    "T-1 to 3": ("T-1", "T-2", "T-3"),
    "T1-T3": ("T1", "T2", "T3"),
    "T-1 – T-3": ("T-1", "T-2", "T-3"),
    "T-1...T-3": ("T-1", "T-2", "T-3"),
    "L1 a L3": ("L1", "L2", "L3"),
    "B1 bis B3": ("B1", "B2", "B3"),
    "T-1 t/m T-3": ("T-1", "T-2", "T-3"),
    "W-1 do W-3": ("W-1", "W-2", "W-3"),
    "V1 à V3": ("V1", "V2", "V3"),
    "T-008 thru T-010": ("T-008", "T-009", "T-010"),
    "T-1/2/3": ("T-1", "T-2", "T-3"),
    "T-101A/B": ("T-101A", "T-101B"),
    "T-101/T-102": ("T-101", "T-102"),
    "T-1A thru T-1C": ("T-1A", "T-1B", "T-1C"),
    "T-1, T-2 & T-3": ("T-1", "T-2", "T-3"),
    "T-1, 2 and 3": ("T-1", "T-2", "T-3"),
    "D1, D2": ("D1", "D2"),
    "T-12A, T-12B": ("T-12A", "T-12B"),
    "Nickel 1 & 2": ("Nickel 1", "Nickel 2"),
    "Tanks 5-7": ("5", "6", "7"),
    "T-1 und T-2": ("T-1", "T-2"),
    "T-1 et T-2": ("T-1", "T-2"),
    "Vasche 1 e 2": ("1", "2"),
    "1-03": ("1-03",),
    "T-1 (north)": ("T-1 (north)",),
    "Tank 5": ("Tank 5",),
    "B 10": ("B 10",),
    "Acid/Etch": ("Acid/Etch",),
    "Soak #1": ("Soak #1",),
    "Tank 3 to drain": ("Tank 3 to drain",),
    "T-12": ("T-12",),
    "2025-01-03": ("2025-01-03",),
}


@pytest.mark.parametrize("text", TAGS)
def test_tags(text: str) -> None:
    said = read_tags(text)
    assert (said.tags, said.number, said.doubt) == (TAGS[text], 0, "")


@pytest.mark.parametrize(("text", "number"), [("4 tanks", 4), ("four tanks", 4), ("3 Becken", 3), ("2 cuves", 2), ("3 wanny", 3)])
def test_tanks_without_names(text: str, number: int) -> None:
    assert (read_tags(text).tags, read_tags(text).number) == ((), number)


@pytest.mark.parametrize("text", ["B-10/2", "T-4 to T-1", "T-1 to T-500", "1A to 3A", "T-1 & hood", "T-1, T-1", "T-1 thru P-4"])
def test_tags_in_doubt(text: str) -> None:
    assert read_tags(text).doubt


@given(st.text(alphabet="T-123/,& toAB.–", max_size=30) | st.text(max_size=60))
def test_no_text_is_a_crash(text: str) -> None:
    read_count(text)
    said = read_tags(text)
    assert len(said.tags) <= 60 and all(said.tags)


@pytest.mark.parametrize(
    ("text", "count"),
    [("4 (two each end)", 4), ("4 (2 per side)", 4), ("2 (one on each side)", 2), ("3 (two each end)", None), ("6 (3 je Seite)", 6)],
)
def test_so_many_at_each_of_two_ends(text: str, count: int | None) -> None:
    said = read_count(text)
    assert said is not None and (said.value, said.rest) == (count, "")
