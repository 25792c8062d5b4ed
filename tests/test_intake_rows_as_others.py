"""Rows whose number says that they are as another row, and sentences that want nothing but the heaters of the tanks they name."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.test_intake_asked_elsewhere import tanks
from tests.test_lists import HEAD, listed

FIRST, THIRD = ["T-1", 2, 9, 480, 3], ["T-3", 3, 12, 480, 3]
ROWS = [["T-1", 2, 12, 480, 3], ["T-2", 3, 9, 480, 3], ["T-4", 1, 6, 480, 3]]


@pytest.mark.parametrize("said", ["same as T-1", "wie T-1", "comme T-1", "idem T-1", "como T-1"])
def test_a_number_may_say_that_the_row_is_as_another(tmp_path: Path, said: str) -> None:
    """What the row says itself stays."""
    job = listed(tmp_path, HEAD, FIRST, ["T-2", said], ["T-4", said, None, 240, 1], THIRD)
    assert [(one.quantity, one.power_kw, one.volts_v, one.phases) for one in job.banks] == [
        (2, 9, 480, 3), (2, 9, 480, 3), (2, 9, 240, 1), (3, 12, 480, 3),
    ]  # fmt: skip


@pytest.mark.parametrize(
    "said", ["same as T-9", "same as old line", "same as T-1 but 3", "same as T-1 (spare)", "same as T-1, one only", "same"]
)
def test_a_number_that_says_more_or_names_no_row_is_asked_about(tmp_path: Path, said: str) -> None:
    job = listed(tmp_path, HEAD, FIRST, ["T-2", said], THIRD)
    assert tanks(job) == ["T-1", "T-3"] and [one.tank for one in job.unread] == ["T-2"]


def test_a_tank_that_is_as_another_in_one_cell_is_no_heading(tmp_path: Path) -> None:
    job = listed(tmp_path, HEAD, FIRST, ["T-2 same as T-1"], THIRD)
    assert 3 in [one.origin.row for one in job.unread] and "T-3" in tanks(job)


@pytest.mark.parametrize(
    ("sentence", "sized"),
    [
        ("T-2 and T-4 - quote heaters only", ["T-1", "T-2", "T-4"]), ("T-2 und T-4 - nur Heizer anbieten", ["T-1", "T-2", "T-4"]),
        ("T-2, T-4 : chiffrer uniquement les thermoplongeurs", ["T-1", "T-2", "T-4"]), ("quote only heaters of T-2", ["T-2"]),
        ("Please quote T-2 and T-4 only", ["T-2", "T-4"]),
        ("T-2 and T-4: quote heaters, only these", ["T-2", "T-4"]),
    ],
)  # fmt: skip
def test_heaters_only_of_some_tanks_says_nothing_of_the_others(tmp_path: Path, sentence: str, sized: list[str]) -> None:
    """Only of these tanks does, where the tanks stand behind it too."""
    assert tanks(listed(tmp_path, HEAD, *ROWS, [None], [sentence])) == sized
