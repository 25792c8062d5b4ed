"""A line's number in a tank's tag, two languages in one heading, inches, heaters by letters, notes by number. All lists are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.list_words import meanings
from tests.intake_book import in_doubt
from tests.test_intake_plain_lists import heaters, read_list
from tests.test_lists import listed

HEAD = ["Tank", "Qty", "kW each", "Volts", "Ph", "Notes"]


def test_a_line_and_its_tank_are_the_tank_beside_marks_of_equipment(tmp_path: Path) -> None:
    head = ["Tank", "Tag", "Description", "No. off", "Rating kW (each)", "Supply"]
    rows = [
        ["AL2-01", "H1", "Degrease - immersion heater", 2, 9, "400/3/50"], ["AL2-01", "P1", "Circulation pump", 1, 0.75, "400/3/50"],
        ["AL2-02", "H1", "Etch - immersion heater", 2, 12, "400/3/50"], ["AL2-05", "C1", "Chiller", 1, 14, "400/3/50"],
        ["AL2-07", "H1", "Dye - immersion heater", 1, 6, "400/3/50"],
    ]  # fmt: skip
    assert heaters(read_list(tmp_path, head, *rows)) == [("AL2-01", 2, 9, 400, 3), ("AL2-02", 2, 12, 400, 3), ("AL2-07", 1, 6, 400, 3)]


@pytest.mark.parametrize(("heading", "key"), [("Stück\nQty", "quantity"), ("Stück Qty", "quantity"), ("Quantité Menge", "quantity")])
def test_two_languages_in_one_heading(heading: str, key: str) -> None:
    assert meanings(" ".join(heading.split()))[0].key == key


@pytest.mark.parametrize("heading", ['W"', "W ″", "W''"])
def test_the_width_of_a_tank_is_no_power(tmp_path: Path, heading: str) -> None:
    assert all(one.key not in ("power_kw", "total_kw") for one in meanings(heading))
    assert meanings("W")[0].key == "power_kw"
    head = ["Tk", 'L"', heading, "Heaters", "KW ea", "Volts", "Ph"]
    job = read_list(tmp_path, head, ["1", 96, 36, 2, 18, 480, 3], ["3", 96, 30, 1, 9, 480, 3], ["4", 72, 30, 1, 6, 480, 3])
    assert heaters(job) == [("1", 2, 18, 480, 3), ("3", 1, 9, 480, 3), ("4", 1, 6, 480, 3)]


def test_heaters_of_a_tank_by_letters_are_no_numbers_of_them(tmp_path: Path) -> None:
    head = ["Tank", "Htr", "kW", "V", "Ph", "Order qty"]
    rows = [["Tank 3", "3-A", 18, 480, 3, 1], ["Tank 3", "3-B", 18, 480, 3, 1]]
    rows += [["Tank 5", "5-B", 12, 480, 3, 1], ["Tank 9", "9-A", 6, 240, 1, 1]]
    assert [one[1:] for one in heaters(read_list(tmp_path, head, *rows))] == [(1, 18, 480, 3)] * 2 + [(1, 12, 480, 3), (1, 6, 240, 1)]


def test_a_note_by_number_doubts_the_row_that_bears_it_and_no_other(tmp_path: Path) -> None:
    rows = [[f"W-{number}", 2, 9, 480, 3, None if number == 1 else 2] for number in range(1, 7)]
    rows[3][5] = 5
    notes = [["NOTES:"], ["2. DRAIN BEFORE SERVICE."], ["5. KW NOT FINAL, PROCESS GROUP TO CONFIRM BEFORE PURCHASE."]]
    job = read_list(tmp_path, HEAD, *rows, [], *notes)
    assert in_doubt(job) and [one[0] for one in heaters(job)] == ["W-1", "W-2", "W-3", "W-5", "W-6"]


def test_heaters_go_with_tanks_that_are_not_built(tmp_path: Path) -> None:
    job = read_list(tmp_path, HEAD, ["T-1", 2, 9, 480, 3, None], ["T-2", 2, 9, 480, 3, "scratch these, tanks not being built"])
    assert [one[0] for one in heaters(job)] == ["T-1"]


@pytest.mark.parametrize("heading", ["Tag", "No.", "Ref", "Mark"])
def test_hundreds_beside_names_of_baths_are_the_tanks(tmp_path: Path, heading: str) -> None:
    """101 and 102 are no numbers of lines, and a heater's tag would have letters; two tanks may hold the same."""
    baths = ["Soak", "Chromate", "Chromate", "Seal"]
    rows = [[101 + at, bath, 1 + at % 2, 6, 480, 3] for at, bath in enumerate(baths)]
    job = listed(tmp_path, [heading, "Bath", "Heaters", "kW each", "Volts", "Ph"], *rows)
    assert [one.tank for one in job.banks] == ["101", "102", "103", "104"]
