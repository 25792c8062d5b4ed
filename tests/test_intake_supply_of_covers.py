"""A supply that stands only on another sheet: taken with a caution where it is said of all heaters, else asked about."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from batch.intake import read
from batch.records import Job
from tests.intake_book import DOUBTS, book, codes, said
from tests.test_lists import listed

ROWS: list[Sequence[object]] = [["Tank", "Qty", "kW each"], ["T-1", 3, 6], ["T-2", 2, 9]]


def with_sheets(folder: Path, **more: str) -> Job:
    return listed(folder, *ROWS, **{name: [["Plating line"], [text]] for name, text in more.items()})


@pytest.mark.parametrize(
    "text", ["All heaters 480 V 3 phase", "Everything 480/3/60 unless noted", "Alle Heizer 480 V, 3-phasig, sofern nicht anders angegeben"]
)
def test_a_supply_of_all_heaters_on_a_cover_is_taken_with_a_caution(tmp_path: Path, text: str) -> None:
    job = with_sheets(tmp_path, Cover=text)
    assert [(one.volts_v, one.phases) for one in job.banks] == [(480, 3)] * 2
    assert any("of sheet Cover" in one.message for one in said(job, "supply-from-words")) and "list-not-read" not in codes(job)


@pytest.mark.parametrize(
    "text",
    [
        "All heaters 480 V 3 phase?", "All heaters 480 V", "All pumps 480 V 3 phase",
        "Immersion heater element, 480 V 3 phase", "Immersion heater element 9 kW 480 V 3 phase",
        "All 9 kW heaters 480 V 3 phase", "All panels 480 V 3 phase", "All heaters 480 V 3 phase, to be confirmed",
    ],
)  # fmt: skip
def test_a_supply_of_something_else_or_an_open_one_is_asked_about(tmp_path: Path, text: str) -> None:
    assert with_sheets(tmp_path, Cover=text).banks == ()


def test_two_covers_that_differ_are_asked_about(tmp_path: Path) -> None:
    one, other = "All heaters 480 V 3 phase", "All heaters are 240 V, 3 phase"
    assert len(with_sheets(tmp_path, Cover=one, Notes=one).banks) == 2
    job = with_sheets(tmp_path, Cover=one, Notes=other)
    doubts = [each.message for each in job.findings if each.code in DOUBTS]
    assert job.banks == () and [other in each and one in each for each in doubts] == [True] * 2


def test_a_list_that_says_its_supply_takes_none_of_a_cover(tmp_path: Path) -> None:
    rows = [[*ROWS[0], "Volts", "Ph"], [*ROWS[1], 240, 1], [*ROWS[2], None, None]]
    job = listed(tmp_path, *rows, Cover=[["Plating line"], ["All heaters 480 V 3 phase"]])
    assert [(one.tank, one.volts_v) for one in job.banks] == [("T-1", 240)]


def test_a_numbered_note_of_a_sheet_speaks_for_the_rows_that_bear_its_number_and_the_first_for_the_others(tmp_path: Path) -> None:
    heads = ["Tank", "Qty", "kW each", "Notes"]
    rows = [heads, ["TK-1", 3, 15, "1"], ["TK-2", 2, 12, "1, 2"], ["TK-3", 1, 5, "1, 4"]]
    notes = [["NOTES"], ["1. ALL HEATERS 480V, 3 PHASE U.N.O."], ["2. TITANIUM SHEATH."], ["4. 208V, 1 PHASE."]]
    (tmp_path / "list.xlsx").write_bytes(book({"Heaters": rows, "NOTES": notes}))
    job = read(tmp_path / "list.xlsx")
    assert [(bank.tank, bank.volts_v, bank.phases) for bank in job.banks] == [("TK-1", 480, 3), ("TK-2", 480, 3), ("TK-3", 208, 1)]
