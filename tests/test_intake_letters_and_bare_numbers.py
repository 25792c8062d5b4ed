"""Letters that answer a heading, or stand in a legend, and bare numbers that name tanks: what they take out is asked."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.test_intake_asked_elsewhere import tanks
from tests.test_intake_columns_coded import under
from tests.test_lists import HEAD, listed

FOUR = ["T-1", "T-2", "T-4", "T-5"]
BUT_ONE = ["T-1", "T-4", "T-5"]
NUMBERED = [["101", 2, 12, 480, 3], ["102", 1, 9, 480, 3], ["103", 3, 9, 480, 3], ["480", 4, 6, 480, 3]]


def with_sentence(folder: Path, sentence: str) -> list[str]:
    return tanks(listed(folder, HEAD, *NUMBERED, [None], [sentence]))


@pytest.mark.parametrize(
    ("heading", "letters"),
    [
        ("GO/NO GO", "G NG G G"), ("GO / NO GO", "GO NG GO GO"), ("Go?", "G NG G G"), ("Bid / No bid", "B NB B B"),
        ("Keep/Delete", "K D K K"), ("Keep or delete", "K Del. K K"), ("In/Out", "I O I I"), ("Incl/Excl", "I E I I"),
        ("New/Existing", "N E N N"), ("Heated/Unheated", "H U H H"), ("Furnish/Omit", "F O F F"), ("Oui/Non", "O N O O"),
    ],
)  # fmt: skip
def test_letters_answer_the_heading_that_offers_two(tmp_path: Path, heading: str, letters: str) -> None:
    assert under(tmp_path, heading, letters.split()) == BUT_ONE


@pytest.mark.parametrize("heading", ["Open/Covered", "Left/Right", "Furnish/Install", "Supply/Return"])
def test_two_of_which_none_takes_a_row_out_ask_nothing(tmp_path: Path, heading: str) -> None:
    assert under(tmp_path, heading, [heading[0], heading.split("/")[1][0], heading[0], heading[0]]) == FOUR


def test_letters_that_are_of_neither_answer_are_asked(tmp_path: Path) -> None:
    assert under(tmp_path, "Go/No go", ["A", "B", "A", "A"]) == []
    assert under(tmp_path, "Retain/Remove", ["R", "R", "R", "R"]) == []


@pytest.mark.parametrize(
    ("heading", "cells", "built"),
    [
        ("No bid", [None, "X", None, None], BUT_ONE), ("No bid", ["N", "Y", "N", "N"], BUT_ONE),
        ("No-bid", [None, "NB", None, None], BUT_ONE),
        ("No quote", [None, "x", None, None], BUT_ONE), ("Not bid", [None, "x", None, None], BUT_ONE),
        ("No bid", ["X", None, "Y", "NB"], ["T-2"]),
    ],
)  # fmt: skip
def test_no_bid_is_no_project(tmp_path: Path, heading: str, cells: list[object], built: list[str]) -> None:
    assert under(tmp_path, heading, cells) == built


def test_and_none_is_taken_for_it(tmp_path: Path) -> None:
    job = listed(tmp_path, [*HEAD, "No bid"], *([*row, mark] for row, mark in zip(NUMBERED, ["X", None, "Y", "NB"], strict=True)))
    assert not any('"No bid"' in finding.message for finding in job.findings if finding.code == "column-taken")


@pytest.mark.parametrize("heading", ["Keep", "Stays", "Retain?", "Garder", "Behalten"])
def test_of_what_stays_yes_and_no_leave_it_open(tmp_path: Path, heading: str) -> None:
    """The heater that is there, or the row; a blank among them says nothing."""
    assert under(tmp_path, heading, ["Y", "N", None, None]) == ["T-4", "T-5"]


@pytest.mark.parametrize(
    ("cells", "legend"),
    [
        ("A B A A", ["A - furnish, B - by owner"]), ("A B A A", ["A – furnish; B – by owner."]), ("F O F F", ["F = furnish, O = owner"]),
        ("A B A A", ["Notes: A - furnish and install, B - furnished by owner"]), ("1 2 1 1", ["1 - furnish, 2 - by owner"]),
        ("A B A A", ["A - furnish", "B - by owner"]), ("A B A A", ["A: furnish", "B: by owner"]),
        ("C O C C", ["C = contractor, O = owner"]),
    ],
)  # fmt: skip
def test_legends_with_dashes_and_of_who_alone_are_heard(tmp_path: Path, cells: str, legend: list[str]) -> None:
    assert under(tmp_path, "Code", cells.split(), [None], *([line] for line in legend)) == BUT_ONE


def test_a_legend_of_how_heaters_are_mounted_takes_none_out(tmp_path: Path) -> None:
    assert under(tmp_path, "Code", ["A", "B", "A", "A"], [None], ["A - over the side, B - bottom mounted"]) == FOUR


def test_numbers_of_tanks_before_a_colon_are_no_codes(tmp_path: Path) -> None:
    sentences = [["102: by owner"], ["103: new"]]
    assert tanks(listed(tmp_path, HEAD, *NUMBERED, [None], *sentences)) == ["101", "103", "480"]


@pytest.mark.parametrize(
    "said",
    ["Tank 480 deleted", "480 deleted.", "480 - deleted", "480 by owner", "Delete 480.", "480 is now 30 kW.", "480: 30 kW", "480 is 240 V"],
)
def test_a_tank_may_have_the_number_of_a_voltage(tmp_path: Path, said: str) -> None:
    assert "480" not in with_sentence(tmp_path, said)


@pytest.mark.parametrize(
    "said", ["supply 480 by owner", "480 system by owner", "480 3 ph by owner", "480/3/60 by owner", "480 V panel by owner", "102 is 480"]
)
def test_which_is_no_tank_where_a_supply_is_spoken_of(tmp_path: Path, said: str) -> None:
    assert "480" in with_sentence(tmp_path, said)


@pytest.mark.parametrize(
    ("said", "built"),
    [
        ("101 to 103 are deleted", ["480"]), ("101-103 deleted", ["480"]), ("101 thru 103 at 240 V", ["480"]),
        ("101, 103, 480 deleted", ["102"]),
        ("Delete 103 and 480", ["101", "102"]), ("Heaters in 102 to 103 by others", ["101", "480"]),
        ("Tanks 101 and 103 are 240 V.", ["102", "480"]), ("Tanks 101 and 480 are 240 V.", ["102", "103"]),
        ("101 to 108 gal/min by owner", ["102", "103", "480"]),
    ],
)  # fmt: skip
def test_a_run_of_bare_numbers_holds_what_is_between(tmp_path: Path, said: str, built: list[str]) -> None:
    assert with_sentence(tmp_path, said) == built
