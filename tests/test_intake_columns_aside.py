"""Columns about what stands beside the heaters, titles of ovens, and columns that only look like one of feeders."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.records import Job
from tests.intake_book import read_sheets
from tests.test_intake_asked_elsewhere import tanks
from tests.test_intake_columns_coded import ROWS, under
from tests.test_lists import HEAD, listed

FOUR = ["T-1", "T-2", "T-4", "T-5"]
BUT_ONE = ["T-1", "T-4", "T-5"]


@pytest.mark.parametrize(
    "heading", ["Controls", "Thermostat", "Panel", "Accessories", "Agitation", "Wiring", "Controls by", "Steuerung", "Régulation", "Cover"]
)
@pytest.mark.parametrize("said", ["by others", "by owner", "owner", "TBD", "N.I.C."])
def test_by_whom_what_stands_beside_comes_takes_no_heater_out(tmp_path: Path, heading: str, said: str) -> None:
    assert under(tmp_path, heading, ["by us", said, "by us", "by us"]) == FOUR


def test_nor_by_whom_a_tank_is_fed(tmp_path: Path) -> None:
    assert under(tmp_path, "Fed from", ["DP-1", "by others", "DP-1", "DP-1"]) == FOUR


def test_and_is_told(tmp_path: Path) -> None:
    rows = [[*row, "by others" if row[0] == "T-2" else "by us"] for row in ROWS]
    said = [one.message for one in listed(tmp_path, [*HEAD, "Controls"], *rows).findings if one.code == "remark-aside"]
    assert len(said) == 1 and 'it stands under "Controls", so it takes no heater out' in said[0]


@pytest.mark.parametrize(
    ("heading", "said"),
    [("Furnished by", "by others"), ("Controls", "heater by others"), ("Remarks", "by others"), ("Controls", "deleted"),
     ("Sheath", "by owner"), ("Sheath", "TBD by owner"), ("Service", "by others")],
)  # fmt: skip
def test_what_is_said_of_heaters_or_of_how_they_are_made_is_heard(tmp_path: Path, heading: str, said: str) -> None:
    assert under(tmp_path, heading, [None, said, None, None]) == BUT_ONE


@pytest.mark.parametrize("heading", ["Controls", "Tank material", "Agitation", "Accessories", "Riser"])
@pytest.mark.parametrize("said", ["TBD", "TBC", "hold", "to be confirmed"])
def test_what_is_open_there_leaves_no_row_open(tmp_path: Path, heading: str, said: str) -> None:
    assert under(tmp_path, heading, ["SS", said, "PP", "PP"]) == FOUR


def test_an_accessory_among_accessories_is_no_row_of_its_own(tmp_path: Path) -> None:
    assert under(tmp_path, "Accessories", ["none", "level switch", "none", "none"]) == FOUR


def test_who_furnishes_is_asked_below_a_legend(tmp_path: Path) -> None:
    """ "by us" under Sheath says nothing, and "by owner" leaves its row open, and is not left out in silence."""
    job = listed(tmp_path, [*HEAD, "Sheath"], *([*row, "by owner" if row[0] == "T-2" else "SS"] for row in ROWS))
    assert [one.code for one in job.findings if one.code == "row-in-doubt"] == ["row-in-doubt"]


def feeders(folder: Path, heading: str, cells: list[object]) -> set[str]:
    job: Job = read_sheets(folder, {"List": [[*HEAD, heading], *([*row, cell] for row, cell in zip(ROWS, cells, strict=True))]})
    return {bank.feeder or "" for bank in job.banks}


@pytest.mark.parametrize(
    ("heading", "cells", "named"),
    [
        ("Heat source", ["E", "E", "E", "E"], {""}), ("Heat source", ["Elec", "Electric", "Elec.", "Electric"], {""}),
        ("Panel", ["by us", "by others", "by us", "by us"], {""}), ("Panel", ["LP-1", "LP-1", "LP-2", "LP-2"], {"LP-1", "LP-2"}),
        ("Panel", ["A", "A", "B", "B"], {"A", "B"}),
    ],
)  # fmt: skip
def test_who_brings_a_panel_and_what_heats_a_tank_name_no_feeder(
    tmp_path: Path, heading: str, cells: list[object], named: set[str]
) -> None:
    assert feeders(tmp_path, heading, cells) == named


def test_electricity_by_two_letters_and_by_a_legend_in_the_title(tmp_path: Path) -> None:
    assert under(tmp_path, "Heat source", ["El", "St", "El", "El"]) == BUT_ONE
    assert under(tmp_path, "Heat source", ["Elec", "Steam", "Electric", "Electric"]) == BUT_ONE
    assert under(tmp_path, "Heat source", ["A", "B", "A", "A"], [None], ["A: electric"], ["B: steam"]) == BUT_ONE
    rows = [["Heat source A = electric, B = steam"], [*HEAD, "Heat source"], *([*row, "AB"[row[0] == "T-2"]] for row in ROWS)]
    assert tanks(listed(tmp_path, *rows)) == BUT_ONE


def test_steam_in_a_row_that_counts_heaters_is_asked(tmp_path: Path) -> None:
    rows = [[*row, "Steam" if row[0] == "T-2" else "Elec"] for row in ROWS]
    assert any(one.code == "row-in-doubt" for one in listed(tmp_path, [*HEAD, "Heat source"], *rows).findings)


@pytest.mark.parametrize(
    ("title", "built"),
    [("Drying oven heaters", []), ("Heaters for dryers", []), ("Cure oven heaters, line 2", []), ("Trockenofen Heizer", []),
     ("Oven line 2 tank heaters", FOUR), ("Tank and dryer heaters", FOUR)],
)  # fmt: skip
@pytest.mark.parametrize("tag", ["T-{}", "{}"])
def test_heaters_of_ovens_are_asked_about(tmp_path: Path, title: str, built: list[str], tag: str) -> None:
    """They are made for air."""
    rows = [[tag.format(row[0][2:]), *row[1:]] for row in ROWS]
    assert tanks(listed(tmp_path, [title], ["Tag", *HEAD[1:]], *rows)) == [tag.format(one[2:]) for one in built]
