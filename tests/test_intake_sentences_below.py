"""Sentences below a list that name its rows: held against those, they are no rows of their own, and what agrees asks nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

import batch
from batch.results import JobResult

ROWS = [["T-1", 2, 12, 480, 3], ["T-2", 1, 9, 480, 3], ["T-3", 3, 9, 480, 3], ["T-4", 4, 6, 480, 3]]
ALL = ["T-1", "T-2", "T-3", "T-4"]
LIST = "Tank,Qty,kW each,Volts,Ph\n" + "".join(f"{','.join(map(str, row))}\n" for row in ROWS)


def below(folder: Path, sentence: str) -> JobResult:
    """By the list as it comes, in a file of its own."""
    path = folder / "list.csv"
    path.write_text(f'{LIST}\n"{sentence}"\n', encoding="utf-8")
    return batch.check(path)


def built(result: JobResult) -> list[str]:
    return [row.bank.tank for project in result.projects for row in project.banks]


@pytest.mark.parametrize(
    "said",
    ["T-2 has one 9 kW heater.", "T-1: heaters 12 kW each. T-4: 4 heaters of 6 kW.", "T-3 has 3 heaters of 9 kW, 480 V, 3 phase",
     "T-1 has 24 kW total.", "T-3: 27 kW total.", "T-1 and T-2 together 33 kW.", "T-1 thru T-4: 84 kW total"],
)  # fmt: skip
def test_what_agrees_asks_nothing(tmp_path: Path, said: str) -> None:
    result = below(tmp_path, said)
    assert built(result) == ALL
    assert not {"row-in-doubt", "list-question", "notes-of-heaters"} & {one.code for one in result.findings}


@pytest.mark.parametrize(
    ("said", "asked"),
    [("T-2 has two 9 kW heaters.", [3]), ("T-1 now 3 x 12 kW.", [2]), ("T-1 and T-2 together 40 kW.", [2, 3]),
     ("T-1 has 30 kW total.", [2])],
)  # fmt: skip
def test_what_differs_asks_about_the_rows_that_it_names_alone(tmp_path: Path, said: str, asked: list[int]) -> None:
    found = [one for one in below(tmp_path, said).findings if one.code in ("row-in-doubt", "row-figures-open")]
    assert [f"Row {row} is" in one.message for row, one in zip(asked, found, strict=True)] == [True] * len(asked)


@pytest.mark.parametrize(
    "said", ["T-9: 2 heaters of 9 kW, 480 V", "T-2 and T-9: 2 heaters of 9 kW", "Add T-5: 2 x 9 kW", "Add a tank like T-2: 2 x 9 kW"]
)
def test_a_sentence_of_a_tank_that_is_not_in_the_list_stays_a_row(tmp_path: Path, said: str) -> None:
    assert any(one.code == "row-in-doubt" and "Row 7 is" in one.message for one in below(tmp_path, said).findings)


def test_fewer_heaters_are_answered_by_their_number(tmp_path: Path) -> None:
    result = below(tmp_path, "Delete one heater from T-3.")
    assert any(one.code == "row-figures-open" and "{ Quantity = 3 }" in one.message for one in result.findings)


def test_volts_of_rows_that_say_others_are_not_said_to_be_taken(tmp_path: Path) -> None:
    result = below(tmp_path, "T-1 and T-2 are 240 V.")
    assert built(result) == ["T-3", "T-4"]
    assert not any(one.code == "supply-from-words" for one in result.findings)
