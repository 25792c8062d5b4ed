"""Sentences beside a list: which rows they have asked, and which leave every row as it stands. All plants and figures are invented."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from batch.records import Job
from tests.intake_book import book, codes, read_bytes

HEAD = ["Tank", "Process", "Heaters", "kW each", "Volts", "Ph"]
FOUR = [["T-1", "Clean", 2, 9, 480, 3], ["T-2", "Pickle", 1, 6, 480, 3], ["T-3", "Nickel", 1, 12, 480, 3], ["T-4", "Dye", 1, 6, 480, 3]]


def listed(folder: Path, *rows: Sequence[object]) -> Job:
    return read_bytes(folder, book({"Sheet1": list(rows)}))


def asked(job: Job) -> list[object]:
    return [one.tank for one in job.unread if one.tank]


def test_what_all_rows_say_names_none_of_them(tmp_path: Path) -> None:
    """A row is named by what its bath is called, not by a word for a heater or for what is done with every row."""
    head = ["Item", "Description", "Doing", *HEAD[:1], *HEAD[2:]]
    rows = [[f"H{tank}", f"HEATER, {name.upper()}", "REPLACE", tank, *more] for tank, name, *more in FOUR]
    job = listed(tmp_path, ["REPLACE: one heater at a time, on Sundays."], head, *rows)
    assert len(job.banks) == len(FOUR) and not asked(job)
    named = listed(tmp_path, ["Nickel: two more heaters."], head, *rows)
    assert asked(named) == ["T-3"]


def test_a_sentence_below_a_list_heads_no_rows(tmp_path: Path) -> None:
    job = listed(tmp_path, HEAD, *FOUR, [None], ["T-2: customer buys heater."], ["Add one more tank T-9, 1 heater 9 kW, 480 V 3 ph."])
    assert "row-banner" not in codes(job) and asked(job) == ["T-2"]


def rows_with(remark: str) -> list[list[object]]:
    return [[*HEAD, "Remarks"], *([*row, remark if row[0] == "T-3" else None] for row in FOUR)]


@pytest.mark.parametrize(
    ("remark", "doubted"),
    [
        *((one, True) for one in ("see T-2", "dup of T-2", "siehe T-2", "voir cuve T-2", "véase T-2", "samen met T-2", "not this phase")),
        *((one, False) for one in ("see T-3", "see T-9", "see drawing T-22", "next to T-2")),
    ],
)
def test_a_row_whose_remark_is_another_row_is_asked_about(tmp_path: Path, remark: str, *, doubted: bool) -> None:
    job = listed(tmp_path, *rows_with(remark))
    assert asked(job) == (["T-3"] if doubted else [])


def test_a_number_that_is_a_notes_is_no_row(tmp_path: Path) -> None:
    rows = [[number, *row[1:], "see 2" if number == 3 else None] for number, row in enumerate(FOUR, 1)]
    assert asked(listed(tmp_path, [*HEAD, "Remarks"], *rows)) == ["3"]
    assert not asked(listed(tmp_path, [*HEAD, "Remarks"], *rows, [None], ["1. Wire in conduit"], ["2. With guard"]))


@pytest.mark.parametrize("word", ["lot chauffage", "hors lot"])
def test_a_lot_of_a_french_bid_is_asked_about_and_what_is_in_none_is_out(tmp_path: Path, word: str) -> None:
    """ "Lot chauffage" is the heating trade's part of a contract, which may be the one that is priced (trade usage, no source)."""
    head = ["Cuve", "Nb thermoplongeurs", "kW unitaire", "Tension", "Ph", "Fourniture"]
    job = listed(tmp_path, head, *([tank, *more, word] for tank, _, *more in FOUR))
    assert not job.banks and ("row-in-doubt" in codes(job)) == (word == "lot chauffage")


SPLITS = [("18kW in 3 elements", 0), ("18 kW, 3 elements", 0), ("18 kW en 3 éléments", 0), ("18 kW aus 3 Heizstäben", 0)]
SPLITS += [("18 kW en 3 resistencias", 0), ("18 kW su 3 resistenze", 0), ("18 kW as 3 x 6", 0), ("3-element heater 18 kW", 0)]
SPLITS += [("3 x 6 kW", 3), ("3 elements 6 kW each", 3), ("6 kW each, 3 elements", 3), ("2 x 9 kW in 3 phase", 2)]


@pytest.mark.parametrize(("text", "count"), SPLITS)
def test_a_power_in_several_elements_is_not_taken_for_that_of_each(tmp_path: Path, text: str, count: int) -> None:
    rows = [["1", "2 x 9 kW", 480, 3], ["2", "1 x 12 kW", 480, 3], ["3", text, 480, 3]]
    job = listed(tmp_path, ["Tank", "Heaters", "Volts", "Ph"], *rows)
    assert [one.quantity for one in job.banks if one.tank == "3"] == ([count] if count else [])
    assert asked(job) == ([] if count else ["3"])
