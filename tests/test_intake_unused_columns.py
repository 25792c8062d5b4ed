"""Columns that no value is taken from and that speak against rows, and rows that stand twice. All plants and figures are invented."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from batch.records import Job
from tests.intake_book import book, read_bytes

HEAD = ["Tank", "Qty", "kW each", "Volts", "Ph"]


def listed(folder: Path, *rows: Sequence[object]) -> Job:
    return read_bytes(folder, book({"Sheet1": list(rows)}))


def sized(job: Job) -> list[str]:
    return [one.tank for one in job.banks]


REVISED = [
    ("Rev", ["T-1", 2, 9, 480, 3, "A"], ["T-1", 2, 12, 480, 3, "B"], []),
    ("Index", ["T-1", 2, 9, 480, 3, "0"], ["T-1", 2, 12, 480, 3, "1"], []),
    ("Rév.", ["T-1", 2, 9, 480, 3, "P1"], ["T-1", 0, 0, 480, 3, "P2"], []),
    ("Rev", ["T-1", 2, 9, 480, 3, "A"], ["T-1", "DELETED", None, None, None, "C"], []),
    ("Rev", ["T-1", 2, 9, 480, 3, "A"], ["T-1", 2, 12, 480, 3, "A"], ["T-1", "T-1"]),
    ("Rev", ["T-1", 2, 9, 480, 3, "A"], ["T-3", 2, 12, 480, 3, "B"], ["T-1", "T-3"]),
]


@pytest.mark.parametrize(("heading", "first", "then", "read"), REVISED)
def test_rows_of_one_tank_under_several_revisions_are_asked_about(
    tmp_path: Path, heading: str, first: list[object], then: list[object], read: list[str]
) -> None:
    assert sized(listed(tmp_path, [*HEAD, heading], first, ["T-2", 1, 6, 480, 3, "A"], then)) == [*read[:1], "T-2", *read[1:]]


def test_a_heater_with_a_tag_of_its_own_takes_nobodys_place(tmp_path: Path) -> None:
    rows = [["T-1", "H1A", 1, 9, 480, 3, "0"], ["T-1", "H1B", 1, 9, 480, 3, "2"], ["T-2", "H2A", 1, 6, 480, 3, "0"]]
    assert sized(listed(tmp_path, ["Tank", "Heater ID", "Qty", "kW each", "Volts", "Ph", "Rev"], *rows)) == ["T-1", "T-1", "T-2"]


def test_a_pump_of_a_tank_has_a_revision_of_its_own(tmp_path: Path) -> None:
    rows = [["T-1", "Heater", 3, 12, 480, 3, "B"], ["T-1", "Filter pump", 1, 4, 480, 3, "A"], ["T-2", "Heater", 1, 6, 480, 3, "A"]]
    assert sized(listed(tmp_path, ["Tank", "Equipment", "Qty", "kW each", "Volts", "Ph", "Rev"], *rows)) == ["T-1", "T-2"]


MEDIA = [("Electric", True), ("steam", False), ("LPHW", False), ("Electric/gas", False), ("Elec.", True), ("None", False), ("-", True)]


@pytest.mark.parametrize(("medium", "read"), MEDIA, ids=[one[0] for one in MEDIA])
def test_a_tank_that_is_heated_with_something_else_is_asked_about(tmp_path: Path, medium: str, read: bool) -> None:
    rows = [["T-1", 2, 9, 480, 3, "Electric"], ["T-2", 1, 6, 480, 3, medium]]
    assert sized(listed(tmp_path, [*HEAD, "Heating medium"], *rows)) == (["T-1", "T-2"] if read else ["T-1"])


@pytest.mark.parametrize(
    ("elements", "power", "read"),
    [
        ("Elements per heater", "kW per element", ["T-2"]),
        ("No. of elements per heater", "Element kW", ["T-2"]),
        ("Element length (mm)", "kW per element", ["T-1", "T-2"]),
        ("Elements per heater", "kW per heater", ["T-1", "T-2"]),
    ],
)
def test_the_power_of_an_element_is_not_that_of_a_heater_of_several(tmp_path: Path, elements: str, power: str, read: list[str]) -> None:
    rows = [["T-1", 2, 3, 3, 480, 3], ["T-2", 1, 1, 4.5, 240, 1]]
    assert sized(listed(tmp_path, ["Tank", "Heaters", elements, power, "Volts", "Ph"], *rows)) == read


@pytest.mark.parametrize("heading", ["kW per phase", "kW/phase", "kW je Phase", "kW par phase", "kW per fase", "kW/fase"])
def test_the_power_of_a_phase_is_that_of_a_heater_of_one_phase_alone(tmp_path: Path, heading: str) -> None:
    rows = [["T-1", 2, 3, 480, 3], ["T-2", 1, 4, 480, 3], ["T-3", 1, 4.5, 240, 1]]
    assert sized(listed(tmp_path, ["Tank", "Heaters", heading, "Volts", "Phases"], *rows)) == ["T-3"]


def test_a_row_that_stands_twice_counts_once_until_somebody_says_so(tmp_path: Path) -> None:
    job = listed(tmp_path, HEAD, ["T-1", 2, 9, 480, 3], ["T-2", 1, 9, 480, 3], ["T-1", 2, 9, 480, 3], ["T-2", 1, 6, 480, 3])
    assert sized(job) == ["T-1", "T-2", "T-2"] and [one.tank for one in job.unread] == ["T-1"]
    assert any("row 2" in one.message for one in job.findings if one.code == "row-in-doubt")


def test_one_heater_a_row_says_the_same_of_each(tmp_path: Path) -> None:
    job = listed(tmp_path, ["Tank", "kW each", "Volts", "Ph"], ["T-1", 9, 480, 3], ["T-1", 9, 480, 3], ["T-2", 6, 480, 3])
    assert not any("says the same" in one.message for one in job.findings)


def test_banks_of_one_row_are_no_rows_that_stand_twice(tmp_path: Path) -> None:
    head = ["Machine", "Wash tank", "Wash heaters", "Wash kW ea", "Rinse tank", "Rinse heaters", "Rinse kW ea", "Volts", "Phase"]
    job = listed(tmp_path, head, ["M1", "W-1", 3, 12, "R-1", 2, 9, 480, 3], ["M2", "W-2", 3, 12, "R-2", 2, 9, 480, 3])
    assert sized(job) == ["W-1", "R-1", "W-2", "R-2"]
