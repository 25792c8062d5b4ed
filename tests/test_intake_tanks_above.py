"""Tanks named above their heaters, or before a dash and a number of them. All lists are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.tank_words import tank_named
from tests.intake_book import said
from tests.test_intake_plain_lists import heaters, read_list

HEAD = ["Tank", "Item", "Qty", "kW each", "Volts", "Ph"]


@pytest.mark.parametrize(
    ("first", "second", "tags"),
    [
        ("T1 - Alkaline clean", "T2 - Etch", ("T1", "T2")), ("Alkaline clean", "Etch", ("Alkaline clean", "Etch")),
        ("1. Alkaline clean", "2. Etch", ("1. Alkaline clean", "2. Etch")),
    ],
)  # fmt: skip
def test_a_tank_alone_in_its_row_is_that_of_the_rows_below(tmp_path: Path, first: str, second: str, tags: tuple[str, str]) -> None:
    rows = [[first], ["", "Heater A", 2, 9, 480, 3], ["", "Heater B", 1, 6, 480, 3], [second], ["", "Heater A", 1, 4.5, 480, 3]]
    one, other = tags
    assert heaters(read_list(tmp_path, HEAD, *rows)) == [(one, 2, 9, 480, 3), (one, 1, 6, 480, 3), (other, 1, 4.5, 480, 3)]


@pytest.mark.parametrize("banner", ["LINE 1", "Plant machines", "T1 to T4"])
def test_a_line_is_no_tank(tmp_path: Path, banner: str) -> None:
    assert not heaters(read_list(tmp_path, HEAD, [banner], ["", "Heater A", 2, 9, 480, 3], ["", "Heater B", 1, 6, 480, 3]))


@pytest.mark.parametrize(
    ("text", "tags"),
    [
        ("Tank 1 - 2 heaters 9kW each 480V 3 phase", ("Tank 1",)),
        ("Tank 4 - 3 x 9 kW", ("Tank 4",)), ("Bad 3 – 2 Heizer 6 kW", ("Bad 3",)),
        ("Tank 5 - 2 immersion heaters", ("Tank 5",)), ("Tanks 1 - 2 heaters", ("Tank 1", "Tank 2")), ("Tank 1 - 2", ("Tank 1", "Tank 2")),
    ],
)  # fmt: skip
def test_a_number_of_heaters_behind_a_dash_is_no_tank(text: str, tags: tuple[str, ...]) -> None:
    assert tank_named(text).tags == tags


def test_a_request_in_sentences(tmp_path: Path) -> None:
    tanks = ("Tank 1 - 2 heaters 9kW each 480V 3 phase", "Tank 2 - 1 heater 6kW 480V 3 phase", "Tank 3 - no heater")
    lines = ["please quote the following:", *tanks]
    assert heaters(read_list(tmp_path, *([line] for line in lines))) == [("Tank 1", 2, 9, 480, 3), ("Tank 2", 1, 6, 480, 3)]


BARE = ["Heater", "Qty", "kW each", "Volts", "Ph"]
BANKS = (["A", 1, 9, 480, 3], ["B", 2, 6, 480, 3])


@pytest.mark.parametrize("head", [["TANK T1 - CLEANER"], ["Tank no.", "T1", "", "Temp", "140 F"], ["Tank: T1"], ["Cuve T1"]])
def test_the_one_tank_of_a_head_is_that_of_its_heaters(tmp_path: Path, head: list[object]) -> None:
    job = read_list(tmp_path, head, [], BARE, *BANKS)
    assert heaters(job) == [("T1", 1, 9, 480, 3), ("T1", 2, 6, 480, 3)]
    assert any("Tank = T1" in one.message for one in said(job, "supply-from-words"))  # and said


@pytest.mark.parametrize("heads", [[["Tank T1"], ["Tank T2"]], [["Tank size", "4x4"]], [["Tank heaters"]], [["Tank volume", 500]]])
def test_a_head_that_names_two_tanks_or_none_leaves_it_open(tmp_path: Path, heads: list[list[object]]) -> None:
    assert not heaters(read_list(tmp_path, *heads, [], BARE, *BANKS))


def test_forms_below_each_other_have_a_tank_each(tmp_path: Path) -> None:
    job = read_list(tmp_path, ["Tank T1"], BARE, BANKS[0], [], ["Tank T2"], BARE, BANKS[1])
    assert heaters(job) == [("T1", 1, 9, 480, 3), ("T2", 2, 6, 480, 3)]


def test_rows_that_name_their_tanks_take_none_from_a_title(tmp_path: Path) -> None:
    rows = [["Heater for tank T5", 1, 9, 480, 3], ["Heater, general", 2, 6, 480, 3]]
    assert "T1" not in [heater[0] for heater in heaters(read_list(tmp_path, ["Tank T1"], [], BARE, *rows))]
