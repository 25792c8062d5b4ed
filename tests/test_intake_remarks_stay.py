"""Remarks that read like descriptions, and sentences on how many of a tank's heaters are wanted."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.remarks_on_power import speaks_against
from tests.test_intake_asked_elsewhere import tanks
from tests.test_lists import HEAD, listed

ROWS = [["T-1", 2, 12, 480, 3], ["T-2", 3, 9, 480, 3], ["T-4", 1, 6, 480, 3]]


def remarked(folder: Path, heading: str, remark: str) -> object:
    return listed(folder, [*HEAD, heading], *([*row, remark if row[0] == "T-2" else None] for row in ROWS))


@pytest.mark.parametrize("heading", ["Remarks", "Comments", "Bemerkung", "Remarques", "Observaciones", "Note"])
def test_the_only_remark_of_a_list_is_one_though_it_names_a_power(tmp_path: Path, heading: str) -> None:
    """As a description, "trips the breaker" would be no word about the row."""
    job = remarked(tmp_path, heading, "9 kW trips the breaker, go smaller")
    assert len(job.banks) == 3  # type: ignore[attr-defined]
    assert [one.code for one in job.findings if one.code == "remarks-not-understood"]  # type: ignore[attr-defined]


def test_remarks_that_alone_say_what_the_heaters_are_describe_them(tmp_path: Path) -> None:
    job = listed(tmp_path, ["Tank", "Volts", "Ph", "Remarks"], ["T-1", 480, 3, "2 x 12 kW"], ["T-2", 480, 3, "3 x 9 kW"])
    assert [(one.tank, one.quantity, one.power_kw) for one in job.banks] == [("T-1", 2, 12), ("T-2", 3, 9)]


@pytest.mark.parametrize("remark", ["3 heaters, 9 kW total", "9 kW au total", "3 Heizer zusammen 9 kW", "9 kW / 12 kW"])
def test_a_remark_that_makes_the_power_that_of_all_is_asked_about(tmp_path: Path, remark: str) -> None:
    assert tanks(remarked(tmp_path, "Remarks", remark)) == ["T-1", "T-4"]  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "count", "power", "against"),
    [("9 kW in total", 3, 9, True), ("27 kW in total", 3, 9, False), ("9 kW in total", 1, 9, False), ("9 kW each, 27 in all", 3, 9, False)],
)
def test_a_total_is_held_against_the_power_of_each_of_several(text: str, count: int, power: float, against: bool) -> None:
    assert speaks_against(text, count, "kW each", power) == against


@pytest.mark.parametrize(
    ("sentence", "sized"),
    [
        ("T-2: please quote 2 only.", ["T-1", "T-4"]), ("Please quote one only of T-2", ["T-1", "T-4"]),
        ("T-2 only needs 1.", ["T-1", "T-4"]), ("Please quote T-2 only.", ["T-2"]), ("T-2 needs 3.", ["T-1", "T-2", "T-4"]),
        ("T-2: two burned out", ["T-1", "T-4"]),
    ],
)  # fmt: skip
def test_a_sentence_says_how_many_of_a_tanks_heaters_are_wanted(tmp_path: Path, sentence: str, sized: list[str]) -> None:
    """The others are not put off by it, as they are where one tank alone is to be quoted."""
    assert tanks(listed(tmp_path, HEAD, *ROWS, [None], [sentence])) == sized
