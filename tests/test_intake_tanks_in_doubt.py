"""Tanks' cells and lines above rows that leave open whether there is a tank, or how many, and volts of control. All lists are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake_book import said
from tests.test_intake_plain_lists import heaters, read_list

HEAD = ["Tank", "Qty", "kW each", "Volts", "Ph"]
T1, T2 = ("T-1", 2, 6, 480, 3), ("T-2", 1, 9, 480, 3)
ROWS = (T1, T2)


@pytest.mark.parametrize("word", ["or", "alt.", "less", "Max", "Average", "Contingency 10%", "Diversity", "480 V", "moyenne", "Resumen"])
def test_a_word_about_the_rows_around_it_is_no_tank(tmp_path: Path, word: str) -> None:
    job = read_list(tmp_path, HEAD, *ROWS, [word, 3, 7, 480, 3])
    assert heaters(job) == list(ROWS)
    assert "in place of a tank" in said(job, "row-in-doubt")[0].message


@pytest.mark.parametrize("tag", ["T-9 unheated", "T-9 cold", "T-9 (old)", "T-9?", "T-99 (sample)", "B9 unbeheizt", "B9 (ancienne)"])
def test_a_word_behind_a_tag_that_leaves_its_tank_open(tmp_path: Path, tag: str) -> None:
    assert heaters(read_list(tmp_path, HEAD, *ROWS, [tag, 3, 7, 480, 3])) == list(ROWS)


@pytest.mark.parametrize("tag", ["T-9 cold cleaner", "Old Nickel 9", "T-9A", "Or-1", "Station 1 of 3", "All purpose cleaner"])
def test_names_that_hold_such_a_word_ask_nothing(tmp_path: Path, tag: str) -> None:
    assert len(heaters(read_list(tmp_path, HEAD, *ROWS, [tag, 3, 7, 480, 3]))) == 3


@pytest.mark.parametrize(
    "tag", ["Rinses 1-3", "Cleaners (3)", "3 cleaners", "Both rinses", "All cleaners", "T-9 (2 off)", "T-8 or T-9", "Line 1 (each tank)",
            "Cleaner x2", "Beide Spülen", "Rinçages 1-3", "B8 oder B9", "3 płuczki"],
)  # fmt: skip
def test_a_cell_that_speaks_of_several_tanks(tmp_path: Path, tag: str) -> None:
    job = read_list(tmp_path, HEAD, *ROWS, [tag, 3, 7, 480, 3])
    assert heaters(job) == list(ROWS)
    assert "how many heaters" in said(job, "row-figures-open")[0].message


def test_baths_by_their_numbers_are_one_tank_each(tmp_path: Path) -> None:
    rows = (("2 Rinses", 2, 6, 480, 3), ("3 Rinses", 1, 9, 480, 3))
    assert heaters(read_list(tmp_path, HEAD, *(list(row) for row in rows))) == list(rows)


@pytest.mark.parametrize("name", ["2 cleaners", "Cleaner x2", "Both cleaners", "Cleaners 1 & 2"])
def test_a_name_beside_the_tag_that_speaks_of_several(tmp_path: Path, name: str) -> None:
    rows = [["T-1", "Nickel", *T1[1:]], ["T-2", "Zinc", *T2[1:]], ["T-3", name, 2, 6, 480, 3]]
    assert heaters(read_list(tmp_path, [HEAD[0], "Service", *HEAD[1:]], *rows)) == list(ROWS)


def test_a_number_of_tanks_settles_a_name_of_several(tmp_path: Path) -> None:
    rows = [["T-1", "Nickel", 1, *T1[1:]], ["T-2", "Zinc", 1, *T2[1:]], ["T-3", "Both cleaners", 2, 2, 6, 480, 3]]
    job = read_list(tmp_path, [HEAD[0], "Service", "No. of tanks", *HEAD[1:]], *rows)
    assert not said(job, "row-figures-open")


@pytest.mark.parametrize("line", ["Previous revision", "For reference only", "Summary", "Alte Liste", "Pour information", "Riepilogo"])
def test_rows_below_a_line_that_stands_beside_the_list(tmp_path: Path, line: str) -> None:
    assert heaters(read_list(tmp_path, HEAD, *ROWS, [line], ["T-3", 1, 6, 480, 3])) == list(ROWS)


def test_the_sum_of_all_rows_without_a_name_is_no_bank_of_the_last_tank(tmp_path: Path) -> None:
    assert heaters(read_list(tmp_path, HEAD, *ROWS, ["", 3, 21, 480, 3])) == list(ROWS)


def test_a_further_bank_without_a_name_stays_one(tmp_path: Path) -> None:
    assert len(heaters(read_list(tmp_path, HEAD, *ROWS, ["", 3, 9, 480, 3]))) == 3


def test_a_sum_of_one_row_under_the_name_of_its_line(tmp_path: Path) -> None:
    job = read_list(tmp_path, HEAD, ["Line 2"], list(T1), ["Line 2", 2, 12, 480, 3])
    assert heaters(job) == [T1]


@pytest.mark.parametrize(
    "heading",
    ["Control V", "Control voltage", "Ctrl V", "Coil V", "DC V", "Rect. V", "Thermostat volts", "Steuerspannung", "Tension de commande",
     "Tensión de mando", "Tensione comandi", "Stuurspanning", "Napięcie sterowania", "Tensão de comando", "Styrespænding",
     "Ovládací napětí"],
)  # fmt: skip
def test_volts_of_what_switches_the_heaters_are_none_of_theirs(tmp_path: Path, heading: str) -> None:
    assert not heaters(read_list(tmp_path, ["Tank", "Qty", "kW each", heading, "Ph"], ["T-1", 2, 6, 120, 3], ["T-2", 1, 9, 120, 3]))
    beside = read_list(tmp_path, [*HEAD, heading], *([*row, 120] for row in ROWS))
    assert heaters(beside) == list(ROWS)


@pytest.mark.parametrize(("heading", "theirs"), [("Heater control volts", False), ("Heating coil V", True), ("Heater V", True)])
def test_volts_of_control_beside_a_word_for_heaters(tmp_path: Path, heading: str, theirs: bool) -> None:
    job = read_list(tmp_path, ["Tank", "Qty", "kW each", heading, "Ph"], *ROWS)
    assert bool(heaters(job)) == theirs


def test_gold_in_french_is_a_bath(tmp_path: Path) -> None:
    assert len(heaters(read_list(tmp_path, HEAD, *ROWS, ["Or", 3, 7, 480, 3]))) == 3
