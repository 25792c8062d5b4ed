"""Alternates that a sentence says are bought, counts under "Replace", and baths that are called as a work of upkeep."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.test_intake_asked_elsewhere import tanks
from tests.test_lists import HEAD, listed

BASE = ["P-1", 2, 15, 480, 3, "Base", None]


def built(folder: Path, offer: str, *below: str, tank: str = "P-2", remark: str = "Titanium") -> bool:
    """Is the row of the offer sized?"""
    rows = [BASE, [tank, 3, 9, 480, 3, offer, remark], ["P-3", 1, 9, 480, 3, "Base", None]]
    job = listed(folder, [*HEAD, "Base / Alt.", "Remarks"], *rows, [None], *([one] for one in below))
    assert [one for one in tanks(job) if one in ("P-1", "P-3")][-1] == "P-3"
    return any(bank.power_kw == 9 and bank.quantity == 3 for bank in job.banks)


@pytest.mark.parametrize(
    ("offer", "sentence"),
    [
        ("Alt. B", "Alternate B was accepted on 9 May and is part of the work."), ("Alternate 2", "Alternate 2: accepted"),
        ("Option 1", "Option 1 bestellt"), ("Variante A", "La variante A est retenue."),
    ],
)  # fmt: skip
def test_an_alternate_that_is_bought_is_built(tmp_path: Path, offer: str, sentence: str) -> None:
    assert built(tmp_path, offer, sentence)


@pytest.mark.parametrize(
    "below",
    [
        [], ["Alternate B was not accepted."], ["Alternate A was accepted."], ["Alternate B will be accepted if budget permits."],
        ["Alternate B was accepted.", "Alternate B was not accepted after all."], ["Alternate B was accepted, now on hold."],
        ["Alternate B accepted?"],
    ],
)  # fmt: skip
def test_an_alternate_of_which_that_is_not_sure_is_asked_about(tmp_path: Path, below: list[str]) -> None:
    assert not built(tmp_path, "Alt. B", *below)


def test_an_alternate_in_place_of_another_row_is_asked_about(tmp_path: Path) -> None:
    """Both would be sized."""
    said = "Alternate B was accepted."
    assert not built(tmp_path, "Alt. B", said, tank="P-1") and not built(tmp_path, "Alt. B", said, remark="in lieu of item 1")
    assert not built(tmp_path, "Alt. B", said, remark="on hold")


@pytest.mark.parametrize("heading", ["Replace", "ersetzen", "do wymiany", "k výměně"])
def test_what_is_to_be_replaced_is_the_number(tmp_path: Path, heading: str) -> None:
    """Beside a number of heaters, which of the two is wanted is asked."""
    rows = [["A1", 3, 3, 9, 480, 3], ["A2", 2, 1, 6, 480, 3], ["A3", 4, 2, 12, 480, 3], ["A4", 1, None, 3, 480, 3]]
    job = listed(tmp_path, ["Tank", "Installed", heading, *HEAD[2:]], *rows)
    assert [(bank.tank, bank.quantity) for bank in job.banks] == [("A1", 3), ("A2", 1), ("A3", 2)]
    assert tanks(listed(tmp_path, ["Tank", "Qty", "Replace", *HEAD[2:]], *rows[:3])) == []


@pytest.mark.parametrize("heading", ["Bath", "Contents", "Liquid"])
def test_a_bath_may_be_called_as_a_work_of_upkeep(tmp_path: Path, heading: str) -> None:
    """In a column of remarks the same word says what is to be done with the heaters."""
    rows = [["T-1", "Degrease", 2, 12, 480, 3], ["T-2", "Descale", 1, 9, 480, 3], ["T-3", "Rinse", 2, 6, 480, 3]]
    assert tanks(listed(tmp_path, ["Tank", heading, *HEAD[1:]], *rows)) == ["T-1", "T-2", "T-3"]
    assert tanks(listed(tmp_path, ["Tank", "Work to be done", *HEAD[1:]], *rows)) == ["T-1", "T-3"]
