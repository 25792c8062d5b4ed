"""Plain lists of plants and buyers: what a careful reader understands of them, each with its doubt. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake import read
from batch.intake.column_map import parse_map
from batch.intake.tags_and_names import tag_and_name
from tests.intake_book import book, in_doubt
from tests.test_intake_plain_lists import HEAD, codes, heaters, read_list

PLAIN = HEAD[:-1]


def by_its_own_map(folder: Path, *rows: list[object]) -> list:
    """The heaters of a list that is read again by the map of its own reading."""
    (folder / "again.xlsx").write_bytes(book({"Sheet1": list(rows)}))
    text = read(folder / "again.xlsx").map_text
    return heaters(read(folder / "again.xlsx", column_map=parse_map(text, "m", "m")))


@pytest.mark.parametrize(
    ("cells", "tags"),
    [
        (["TK-14 ALK CLEANER", "TK-17 BRIGHT NICKEL", "TK-31 PHOSPHATE (BLDG C)"], ["TK-14", "TK-17", "TK-31"]),
        (["Tank 3 - Nickel", "Tank 4 - Hot rinse", "Tank 5: HCl 12 %"], ["Tank 3", "Tank 4", "Tank 5"]),
        (["B12 Entfettung", "B14 Beize", "B15 Phosphatierung"], ["B12", "B14", "B15"]),
        (["T-1 Rack side", "T-1 Barrel side", "T-2 Rinse"], ["T-1 Rack side", "T-1 Barrel side", "T-2 Rinse"]),  # tags that come again
        (["Soak clean", "Rinse 2", "Nickel"], ["Soak clean", "Rinse 2", "Nickel"]),
        (["Line 1 degrease", "Line 2 degrease", "Line 3 degrease"], ["Line 1 degrease", "Line 2 degrease", "Line 3 degrease"]),
        (["No. 1 Degrease", "No. 2 Degrease", "No. 3 Rinse"], ["No. 1 Degrease", "No. 2 Degrease", "No. 3 Rinse"]),
    ],
)
def test_a_tag_before_a_name_is_the_name_of_the_tank(cells: list[str], tags: list[str], tmp_path: Path) -> None:
    rows = [PLAIN, *([cell, 3, 9, 480, 3] for cell in cells)]
    job = read_list(tmp_path, *rows)
    assert [bank.tank for bank in job.banks] == tags
    assert ("tag-before-name" in codes(job)) == (cells != tags)
    assert by_its_own_map(tmp_path, *rows) == heaters(job)


def test_stations_of_a_machine_keep_their_names(tmp_path: Path) -> None:
    rows = [[cell, 3, 9, 480, 3] for cell in ("W1 wash", "W2 rinse", "W3 seal")]
    assert [bank.tank for bank in read_list(tmp_path, ["Station", *PLAIN[1:]], *rows).banks] == ["W1 wash", "W2 rinse", "W3 seal"]


@pytest.mark.parametrize("text", ["T-1 to T-4", "T-1 and T-2", "T-1 9 kW", "NO 3 RINSE", "T-101A", "B12", "T-3 for T-4"])
def test_what_is_no_tag_with_a_name(text: str) -> None:
    assert tag_and_name(text) is None


HEATED = ["Tank", "Process", "No. of heaters", "kW each", "Volts", "Ph"]
BATHS = [["T-1", "Soak clean", 3, 9, 480, 3], ["T-2", "Rinse", 2, 6, 480, 3], ["T-3", "Nickel", 4, 9, 480, 3]]


@pytest.mark.parametrize(
    ("name", "asked"),
    [
        ("Filter pump", True),
        ("Rectifier 1000 A", True),
        ("Circulatiepomp beits", True),
        ("Thermostat", True),
        ("Agitating wash tank", False),  # what a bath is called
        ("Wash, with chiller", False),
        ("Soak clean, thermostat control", False),
    ],
)
def test_other_equipment_under_a_number_of_heaters_is_asked(name: str, asked: bool, tmp_path: Path) -> None:
    job = read_list(tmp_path, HEATED, *BATHS, ["T-4", name, 1, 1.5, 480, 3])
    assert ("T-4" in [bank.tank for bank in job.banks]) != asked
    assert (in_doubt(job)) == asked


@pytest.mark.parametrize(
    ("heading", "read"),
    [("Thermostat setting (°F)", True), ("Temperature controller", True), ("Pump type", False), ("Chiller set (°F)", False)],
)
def test_a_column_about_the_thermostat_makes_no_list_of_other_equipment(heading: str, read: bool, tmp_path: Path) -> None:
    job = read_list(tmp_path, [*PLAIN, heading], ["T-1", 3, 9, 480, 3, 140], ["T-2", 2, 6, 480, 3, 150])
    assert bool(job.banks) == read and ("list-not-read" in codes(job)) != read


@pytest.mark.parametrize(
    ("fitted", "asked"),
    [
        (["Thermostat", "Thermostat", "Thermostat"], 0),
        (["Thermostat", "Thermostat", "Nickel", "Rinse"], 0),
        (["Thermostat", "Nickel", "Rinse"], 1),
    ],
)
def test_a_column_of_thermostats_says_what_belongs_to_the_heaters(fitted: list[str], asked: int, tmp_path: Path) -> None:
    rows = [[f"T-{at}", word, 3, 9, 480, 3] for at, word in enumerate(fitted, 1)]
    job = read_list(tmp_path, HEATED, *rows)
    assert len(job.banks) == len(fitted) - asked
    assert (in_doubt(job)) == bool(asked)
