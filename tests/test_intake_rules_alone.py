"""Rules of the reader one by one, where several of them hold a list together and none is missed there alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.grid import Grid
from batch.intake.heading_sense import EACH
from batch.intake.legends import legends
from batch.intake.list_supply import leaves_open
from batch.intake.list_words import bath_by_name, heats_air
from batch.intake.plan import ColumnPlan, ListPlan
from batch.intake.rows_themselves import by_singular
from batch.intake.verdict import Verdict
from tests.test_intake_asked_elsewhere import tanks
from tests.test_intake_plain_lists import codes, read_list


@pytest.mark.parametrize(
    ("sentence", "open_"),
    [("All 9 kW heaters: 480 V, 3 phase", True), ("All heaters except T-4: 480 V, 3 phase", True), ("All heaters 480 V, 3 phase", False)],
)
def test_a_supply_of_heaters_of_a_power_is_not_that_of_all(sentence: str, open_: bool) -> None:
    assert leaves_open(sentence) == open_


@pytest.mark.parametrize(
    ("heading", "basis"), [("Heater kW", EACH), ("Total heater kW", ""), ("Heater kW per tank", ""), ("Heaters kW", "")]
)
def test_one_heater_in_a_heading_is_not_one_where_it_speaks_of_a_total(heading: str, basis: str) -> None:
    plan = ListPlan("List", (1,), 0, 3, 2, 4, columns={"power_kw": ColumnPlan("power_kw", 2, heading)})
    by_singular(verdict := Verdict(), plan)
    assert verdict.basis == basis


def test_the_number_of_a_note_is_not_the_code_that_the_note_explains() -> None:
    """ "1." counts the notes; heaters of item 1 are no existing ones for it."""
    assert set(legends(Grid("List", [["1. (E) = EXISTING, TO REMAIN"]]))) == {"(e)", "e"}


def test_a_supply_that_stands_over_some_rows_is_not_that_of_those_above_it(tmp_path: Path) -> None:
    rows = [["T-1", 2, 6], ["T-2", 3, 9], ["", "", "", "480 V, 3 ph"], ["T-3", 1, 6]]
    job = read_list(tmp_path, ["Immersion heaters"], ["Tank", "Heaters", "kW each"], *rows)
    assert tanks(job) == ["T-3"] and [row.tank for row in job.unread] == ["T-1", "T-2"]


def test_marks_of_a_table_of_heater_types_are_no_tanks(tmp_path: Path) -> None:
    """It counts none and describes none; which tank has which stands elsewhere."""
    types = [["Tag", "kW", "Volts", "Ph"], ["H-A", 6, 480, 3], ["H-B", 9, 480, 3]]
    job = read_list(tmp_path, ["Tank", "Type", "Qty"], ["T-1", "H-A", 2], ["T-2", "H-B", 3], [], *types)
    assert not job.banks and not job.unread and "list-other" in codes(job)


@pytest.mark.parametrize(("name", "bath"), [("Hot dip dry-off rinse", True), ("Dry-off", False), ("Dry off stage", False)])
def test_a_rinse_called_dry_off_is_a_bath(name: str, bath: bool) -> None:
    """The heater of a dry-off heats air."""
    assert bath_by_name(name, "dry-off") == bath and heats_air(name) != bath


@pytest.mark.parametrize(("other", "asked"), [(["X", "Steam coil", 1, 6], True), (["P-1", "Filter pump", 1, 1.5], False)])
def test_equipment_tagged_unlike_the_tanks_is_no_bath_though_heaters_are_counted(tmp_path: Path, other: list[object], asked: bool) -> None:
    rows = [["T-1", "Soak", 2, 9], ["T-2", "Nickel", 3, 9], ["T-3", "Etch", 1, 6], ["T-4", "Rinse", 1, 6], other]
    job = read_list(tmp_path, ["Tank", "Process", "Heaters", "kW each", "Volts", "Ph"], *([*row, 480, 3] for row in rows))
    assert tanks(job) == ["T-1", "T-2", "T-3", "T-4"] and len(job.unread) == asked


@pytest.mark.parametrize(("said_above", "power"), [("Where they differ the remark governs.", 9.0), ("See the remarks.", None)])
def test_another_power_in_a_remark_is_taken_only_where_the_sheet_says_that_it_counts(
    tmp_path: Path, said_above: str, power: float | None
) -> None:
    """A remark without a word of change, so that no rule about changes asks first."""
    head = ["Tank", "Heaters", "kW each", "Volts", "Ph", "Remarks"]
    job = read_list(tmp_path, [said_above], head, ["T-1", 2, 12, 480, 3, ""], ["T-2", 2, 12, 480, 3, "9 kW each"])
    assert [one.power_kw for one in job.banks] == [12.0, *([power] if power else [])]
