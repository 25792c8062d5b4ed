"""Stars and numbers of notes by which a power is the tank's, and what the powers without one are of."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.totals_by_notes import says_total
from tests.test_intake_asked_elsewhere import tanks
from tests.test_lists import HEAD, listed

PLAIN = ["Tank", "Qty", "kW", "Volts", "Ph"]
ROWS = [["T-1", 3, "36*", 480, 3], ["T-2", 2, 9, 480, 3], ["T-4", 4, "24*", 480, 3]]


def powers(folder: Path, head: list[str], rows: list[list[object]], *below: str) -> list[float]:
    return [bank.power_kw for bank in listed(folder, head, *rows, [None], *([one] for one in below)).banks]


@pytest.mark.parametrize(
    "below",
    [
        ["* KW shown is for the whole tank. KW without a star is per heater."], ["* total kW of tank, others each"],
        ["* puissance totale de la cuve ; sans astérisque : puissance d'un thermoplongeur"], ["* kW per tank", "No star: kW of each"],
        ["* Leistung des gesamten Beckens, ohne Stern je Heizer"],
    ],
)  # fmt: skip
def test_a_legend_says_what_powers_with_a_star_are_of_and_those_without(tmp_path: Path, below: list[str]) -> None:
    assert powers(tmp_path, PLAIN, ROWS, *below) == [12, 9, 6]


def test_a_star_behind_the_tank_is_as_one_behind_its_power(tmp_path: Path) -> None:
    rows: list[list[object]] = [["T-1*", 3, 36, 480, 3], ["T-2", 2, 9, 480, 3], ["T-4*", 4, 24, 480, 3]]
    assert powers(tmp_path, PLAIN, rows, "* kW is for the whole tank. Unmarked kW is per heater.") == [12, 9, 6]


def test_where_the_legend_says_one_only_the_others_are_asked_about(tmp_path: Path) -> None:
    """Or where no power bears the star: a format may show it."""
    assert powers(tmp_path, PLAIN, ROWS, "* kW is for the whole tank.") == []
    assert powers(tmp_path, PLAIN, [[*row[:2], 9, *row[3:]] for row in ROWS], "* kW of tank, others each") == []
    assert powers(tmp_path, PLAIN, ROWS, "* Titanium; others each in PTFE") == [9]


@pytest.mark.parametrize("note", ["* kW is for the whole tank.", "* total"])
def test_below_each_a_star_makes_a_power_the_tanks(tmp_path: Path, note: str) -> None:
    assert powers(tmp_path, HEAD, ROWS, note) == [12, 9, 6]


def test_below_each_the_number_of_a_note_makes_a_power_the_tanks(tmp_path: Path) -> None:
    """A number in a column that is not of notes is none."""
    rows = [["T-1", 3, 36, 480, 3, 2], ["T-2", 2, 9, 480, 3, 1], ["T-4", 4, 24, 480, 3, "1, 2"]]
    below = ["1. Leads 8 ft.", "2. kW given for this tank is the sum of its heaters."]
    assert powers(tmp_path, [*HEAD, "Note"], rows, *below) == [12, 9, 6]
    assert tanks(listed(tmp_path, [*HEAD, "Item"], *rows[:2], [None], *([one] for one in below))) == []


@pytest.mark.parametrize(
    ("note", "so"),
    [
        ("* kW shown is the total", True), ("2. Leistung ist die Summe aller Heizer", True), ("* Total kW is limited by the feeder", False),
        ("* kW is not the total", False), ("* kW is the total, preliminary", False), ("* kW is the total of each heater", False),
        ("* kW is the total. See T-4", False), ("* total 24 kW", False), ("* total load", False), ("2. total", False),
        ("2. Total kW is that of the total tank", False),
    ],
)  # fmt: skip
def test_a_note_that_says_no_more_than_that_the_power_is_the_total(note: str, so: bool) -> None:
    assert says_total(note) == so
