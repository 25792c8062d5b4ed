"""Figures with words and signs that say no more of them are read as they stand. All lists are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.facts import read_cell
from tests.test_intake_plain_lists import heaters, read_list

HEAD = ["Tank", "Qty", "kW each", "Volts", "Ph"]
T1, T2 = ("T1", 2, 9, 480, 3), ("T2", 1, 6, 480, 3)


@pytest.mark.parametrize(
    ("column", "cells"),
    [
        (4, ("RST", "RST")), (4, ("A-B-C", "ABC")), (4, ("3/60/3", "3/60/3")), (4, ("3W+E", "3L")), (4, ("delta", "delta")),
        (4, ("'3", "'3")),
        (3, ("480 ±10 %", "480 +/-10%")), (3, ("~480", "AC 480")), (3, ("480 (nom.)", "480 nominal")), (3, ("480 L-L", "480 (line)")),
        (3, ("'480", "480 delta")), (2, ("'9", "'6")), (2, ("9 (3x3)", "6 (3 x 2 kW)")), (2, ("9 nom.", "6 rated")),
        (2, ("9.000", "6.000")),
        (1, ("'2", "'1")),
    ],
)  # fmt: skip
def test_read_as_the_figure_that_they_hold(tmp_path: Path, column: int, cells: tuple[str, str]) -> None:
    rows = [[*row[:column], cell, *row[column + 1 :]] for row, cell in zip((T1, T2), cells, strict=True)]
    assert heaters(read_list(tmp_path, HEAD, *rows)) == [T1, T2]


def test_one_phase_between_a_line_and_the_neutral(tmp_path: Path) -> None:
    job = read_list(tmp_path, HEAD, ["T1", 2, 9, 240, "L-N"], ["T2", 1, 6, 240, "L-N"])
    assert heaters(job) == [("T1", 2, 9, 240, 1), ("T2", 1, 6, 240, 1)]


@pytest.mark.parametrize(
    ("key", "cell"),
    [("power_kw", "9 (2x3)"), ("power_kw", "9 +10%"), ("volts_v", "480 or 240"), ("volts_v", "480 DC"), ("phases", "ABC or A-B")],
)
def test_what_says_more_is_asked_about(key: str, cell: str) -> None:
    fact = read_cell(key, cell, 0, "kW" if key == "power_kw" else "")
    assert fact is not None and fact.value is None


def test_thousands_of_kilowatts_of_one_heater_are_none(tmp_path: Path) -> None:
    assert not heaters(read_list(tmp_path, HEAD, ["T1", 2, "9,000.0", 480, 3], ["T2", 1, "6,000.0", 480, 3]))
