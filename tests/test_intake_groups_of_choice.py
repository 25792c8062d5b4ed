"""Two groups of columns in a row: two banks, unless what stands over them says that one is chosen of the two. All lists are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake_book import book, read_bytes
from tests.test_intake_plain_lists import heaters, read_list

COLUMNS = ["Tank", "Qty", "kW each", "Qty", "kW each", "Volts", "Ph"]
ROWS = [["T1", 1, 9, 1, 18, 480, 3], ["T2", 1, 6, 1, 9, 480, 3]]


def grouped(folder: Path, one: str, other: str) -> list:
    rows = [["", one, "", other, "", "", ""], COLUMNS, *ROWS]
    return heaters(read_bytes(folder, book({"Sheet1": rows}, merged={"Sheet1": ["B1:C1", "D1:E1"]})))


@pytest.mark.parametrize(
    ("one", "other"), [("Main heaters", "Start-up heaters"), ("North side", "South side"), ("Holding", "Boost"), ("Bank A", "Bank B")]
)
def test_two_banks_of_a_row(tmp_path: Path, one: str, other: str) -> None:
    assert sorted(heater[2] for heater in grouped(tmp_path, one, other)) == [6, 9, 9, 18]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Option A", "Option B"), ("Base bid", "Alternate"), ("Main", "Alt."), ("Summer", "Winter"), ("Vendor A", "Vendor B"),
        ("Phase 1", "Phase 2"), ("Design", "Installed"), ("Backup", "Main"), ("Steam", "Electric"), ("Before", "After"),
        ("Sommer", "Winter"), ("Fournisseur 1", "Fournisseur 2"),
    ],
)  # fmt: skip
def test_one_of_two_is_asked_about(tmp_path: Path, one: str, other: str) -> None:
    assert grouped(tmp_path, one, other) == []


@pytest.mark.parametrize(("one", "other"), [("Existing", "New"), ("Alt", "Neu")])
def test_what_is_now_counts(tmp_path: Path, one: str, other: str) -> None:
    assert [heater[2] for heater in grouped(tmp_path, one, other)] == [18, 9]


def test_heaters_of_two_kinds_below_merged_headings(tmp_path: Path) -> None:
    rows = [
        ["Tank", "SS heaters", "", "Ti heaters", "", "V", "Ph"], ["", "No.", "kW ea", "No.", "kW ea", "", ""],
        ["T1", 2, 9, "", "", 480, 3], ["T2", "", "", 1, 6, 480, 3], ["T3", 1, 4.5, 1, 3, 480, 3],
    ]  # fmt: skip
    job = read_bytes(tmp_path, book({"Sheet1": rows}, merged={"Sheet1": ["B1:C1", "D1:E1"]}))
    assert heaters(job) == [("T1", 2, 9, 480, 3), ("T2", 1, 6, 480, 3), ("T3", 1, 4.5, 480, 3), ("T3", 1, 3, 480, 3)]


def test_heaters_that_letters_tell_apart(tmp_path: Path) -> None:
    job = read_list(tmp_path, ["Tank", "Heater A kW", "Heater B kW", "Volts", "Ph"], ["T1", 9, 6, 480, 3], ["T2", 6, "", 480, 3])
    assert heaters(job) == [("T1", 1, 9, 480, 3), ("T1", 1, 6, 480, 3), ("T2", 1, 6, 480, 3)]
