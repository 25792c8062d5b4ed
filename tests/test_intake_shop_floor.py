"""Lists as a shop writes them: numbers of a line for its tanks, "everything 480 3 phase", "per heater" over all."""

from __future__ import annotations

from pathlib import Path

import pytest

import batch
from batch.intake.supply_notation import supply_in_text
from tests.test_intake_asked_elsewhere import tanks
from tests.test_lists import HEAD, listed
from tests.test_lists_understood import heaters

LINES = ["No", "Tank", "Heaters", "kW ea", "Volts", "Ph"]


@pytest.mark.parametrize(
    ("numbers", "names", "by"),
    [
        ((1, 4, 31, 35), ("Soak", "Zinc", "Soak", "Tin"), "number"), ((1, 2, 3, 4), ("Soak", "Zinc", "Soak", "Tin"), "name"),
        ((10, 20, 30, 40), ("Soak", "Zinc", "Soak", "Tin"), "name"), ((1, 4, 31, 35), ("Soak", "Zinc", "Rinse", "Tin"), "name"),
        ((1, 31, 4, 35), ("Soak", "Zinc", "Soak", "Tin"), "name"),
    ],
)  # fmt: skip
def test_numbers_that_skip_tell_tanks_apart_whose_names_come_again(
    tmp_path: Path, numbers: tuple[int, ...], names: tuple[str, ...], by: str
) -> None:
    """Two lines have a soak each. Running numbers, and those in equal steps, may be of the rows."""
    rows = [[number, name, 2, 9, 480, 3] for number, name in zip(numbers, names, strict=True)]
    job = listed(tmp_path, LINES, ["ZINC LINE"], *rows[:2], ["TIN LINE"], *rows[2:])
    assert (sorted(tanks(job)) == sorted(map(str, numbers))) == (by == "number")


@pytest.mark.parametrize(
    ("text", "volts"),
    [
        ("everything 480 3 phase", 480), ("all 208 3ph", 208), ("Heaters are 240 single phase", 240), ("alles 400 3 fase", 400),
        ("tank 480 3 phase", None), ("room 208 3 ph", None),
    ],
)  # fmt: skip
def test_a_figure_behind_a_word_for_all_is_the_volts_of_its_phases(text: str, volts: float | None) -> None:
    """Behind the name of a thing it may be that thing's number."""
    said = supply_in_text(text)
    assert said is not None and said.volts == volts


@pytest.mark.parametrize("tab", [False, True])
def test_the_name_of_a_file_puts_no_row_in_doubt(tmp_path: Path, tab: bool) -> None:
    """A tab is named by who wrote the list, a file of text by who sent it: "RFI pending" of some of its rows, which say so themselves."""
    if tab:
        job = listed(tmp_path, HEAD, ["T-1", 2, 9, 480, 3], ["T-2", 1, 6, 480, 3], name="RFI pending")
        assert not job.banks
        return
    path = tmp_path / "rfi-pending.csv"
    path.write_text("Tank,Qty,kW each,Volts,Ph\nT-1,2,9,480,3\nT-2,1,6,480,3\n", encoding="utf-8")
    assert heaters(batch.check(path).job) == [("T-1", 2, 9, 480, 3), ("T-2", 1, 6, 480, 3)]


@pytest.mark.parametrize(
    ("title", "each"),
    [
        ("Heater upgrade, per heater", True), ("Heizungen (je Heizer)", True), ("Heater upgrade", False),
        ("Upgrade prices per heater", False),
    ],
)  # fmt: skip
def test_a_title_ends_in_what_its_figures_are_of(tmp_path: Path, title: str, each: bool) -> None:
    head = ["Tank", "Bath", "Qty", "Existing kW", "New kW", "Volts", "Ph"]
    job = listed(tmp_path, [title], head, ["U-2", "Soak", 2, 9, 12, 480, 3], ["U-11", "Rinse", 2, 9, 15, 480, 3])
    assert heaters(job) == ([("U-2", 2, 12, 480, 3), ("U-11", 2, 15, 480, 3)] if each else [])


def test_an_asset_number_of_the_tank_stands_before_its_name(tmp_path: Path) -> None:
    rows = [["PLT-0411", "Soak", 2, 12, 480, 3], ["PLT-0414", "Nickel", 2, 9, 480, 3]]
    job = listed(tmp_path, ["Tank asset", "Tank name", *HEAD[1:]], *rows)
    assert tanks(job) == ["PLT-0411", "PLT-0414"]


def test_those_that_work_are_counted_and_those_to_spare_are_not(tmp_path: Path) -> None:
    head = ["S.No", "Tank", "Process", "Working Nos", "Spare Nos", "kW each", "Voltage", "Phase"]
    job = listed(tmp_path, head, [1, "T1", "Degreasing", 3, 1, 6, 415, 3], [2, "T2", "Zinc", 2, 1, 9, 415, 3])
    assert heaters(job) == [("T1", 3, 6, 415, 3), ("T2", 2, 9, 415, 3)]
