"""Sentences beside a list: which rows they have asked, and which leave every row as it stands. All plants and figures are invented."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

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
    head = ["Item", "Description", "Action", *HEAD[:1], *HEAD[2:]]
    rows = [[f"H{tank}", f"HEATER, {name.upper()}", "REPLACE", tank, *more] for tank, name, *more in FOUR]
    job = listed(tmp_path, ["ACTION = REPLACE: rating is nameplate of one heater."], head, *rows)
    assert len(job.banks) == len(FOUR) and not asked(job)
    named = listed(tmp_path, ["Nickel: two more heaters."], head, *rows)
    assert asked(named) == ["T-3"]


def test_a_sentence_below_a_list_heads_no_rows(tmp_path: Path) -> None:
    job = listed(tmp_path, HEAD, *FOUR, [None], ["T-2: customer buys heater."], ["Add one more tank T-9, 1 heater 9 kW, 480 V 3 ph."])
    assert "row-banner" not in codes(job) and asked(job) == ["T-2"]
