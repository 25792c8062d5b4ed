"""Powers with one mark and three figures behind it, "1,200": where they may be thousands, the row is asked about."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake_book import codes
from tests.test_intake_asked_elsewhere import tanks
from tests.test_lists import listed

TOTALS = ["Tank", "Qty", "Total kW", "Volts", "Ph"]


@pytest.mark.parametrize("text", ["1,200", "1.200", "1.200 kW"])
def test_a_total_far_below_the_others_is_asked_about(tmp_path: Path, text: str) -> None:
    job = listed(tmp_path, TOTALS, ["T-1", 6, text, 400, 3], ["T-2", 3, 48, 400, 3], ["T-3", 2, 36, 400, 3])
    assert tanks(job) == ["T-2", "T-3"] and "row-figures-open" in codes(job)
    job = listed(tmp_path, [*TOTALS[:2], "kW each", *TOTALS[3:]], ["T-1", 6, text, 400, 3], ["T-2", 3, 48, 400, 3], ["T-3", 2, 36, 400, 3])
    assert tanks(job) == ["T-2", "T-3"] and "row-figures-open" in codes(job)


def test_heaters_too_small_for_a_tank_are_asked_about(tmp_path: Path) -> None:
    """Twelve heaters of 0.1 kW: the whole column may be of thousands."""
    job = listed(tmp_path, TOTALS, ["T-1", 12, "1,200", 400, 3], ["T-2", 12, "1,500", 400, 3])
    assert tanks(job) == [] and "row-figures-open" in codes(job)


@pytest.mark.parametrize(
    "texts", [["1,200", "4,5", "18,0"], ["1,200", "0,900", "36"], ["6.000", "12.000", "4.500"], ["48.000", "36", "24"], ["9", "12", "18"]]
)
def test_what_the_list_writes_so_is_read_so(tmp_path: Path, texts: list[str]) -> None:
    """Where the mark of the others tells it, or the smaller is what heaters have."""
    job = listed(tmp_path, TOTALS, *([f"T-{at}", 2, text, 400, 3] for at, text in enumerate(texts)))
    assert len(tanks(job)) == len(texts)
