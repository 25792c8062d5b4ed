"""Headings: which column one means, in which unit, and where the heading row is."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.intake.cells import squeezed
from batch.intake.grid import Grid
from batch.intake.head import find_head
from batch.intake.headings import Matcher, column_unit
from batch.ooxml.addresses import column_number, letters
from batch.sheets import FEEDERS, HEATERS, INPUTS, TANKS
from batch.units import spelled
from tests.intake_book import GOOD, HEADINGS, codes, fates, heaters, read_sheets, said

SHEETS = [pytest.param(sheet, id=sheet.id) for sheet in INPUTS]


@pytest.mark.parametrize("sheet", SHEETS)
def test_every_name_of_a_column_means_that_column_only(sheet) -> None:
    meant: dict[str, str] = {}
    for column in sheet.columns:
        for name in (column.heading, column.key, *column.also):
            assert meant.setdefault(squeezed(name), column.key) == column.key, f"{name!r} means two columns of {sheet.name}"
            found = Matcher(sheet).match(name)
            assert found is not None and found.key == column.key


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("us", [False, True])
def test_headings_as_our_own_template_writes_them(sheet, us: bool) -> None:
    for column in sheet.columns:
        for text in (column.title(us), f"{column.title(us)} *", column.title(us).upper(), column.title(us).replace(" (", "\n(")):
            found = Matcher(sheet).match(text)
            assert found is not None and (found.key, found.rank, found.strange) == (column.key, 0, ""), text
            if own := column_unit(column):
                wanted = spelled(column.shown_unit(us))
                assert found.unit == wanted and wanted.quantity == own.quantity


@pytest.mark.parametrize(
    ("text", "key", "unit"),
    [
        ("Power, W", "power_kw", "W"), ("POWER [KW]", "power_kw", "kW"), ("power - kW", "power_kw", "kW"), ("Power in W", "power_kw", "W"),
        ("Power kW", "power_kw", "kW"), ("Power\n(kW each)", "power_kw", "kW"), ("Watts", "power_kw", "W"), ("Wattage", "power_kw", "W"),
        ("kW", "power_kw", "kW"), ("kW each", "power_kw", "kW"), ("Power (per heater)", "power_kw", ""), ("Rated Power", "power_kw", ""),
        ("Power (hp)", "power_kw", "hp"), ("Qty.", "quantity", ""), ("QTY (ea) *", "quantity", ""), ("Heaters", "quantity", ""),
        ("Voltage (VAC)", "volts_v", "V"), ("Volts AC", "volts_v", "V"), ("V", "volts_v", "V"), ("PH", "phases", ""),
        ("Phases (1 or 3)", "phases", ""),
        ("Panel-to-heater length [ft]", "heater_run_m", "ft"), ("Panel to heater length / ft", "heater_run_m", "ft"),
        ("Heated length in inches", "heated_length_mm", "in"), ("Over temperature limit (yes/no)", "over_temperature_limit", ""),
        ("Tank  No.", "tank", ""),
    ],
)  # fmt: skip
def test_other_names_and_units(text: str, key: str, unit: str) -> None:
    found = Matcher(HEATERS).match(text)
    assert found is not None and (found.key, found.strange) == (key, "")
    if unit in ("", "hp"):
        assert (found.unit is None) == (unit == "")
    else:
        assert found.unit == spelled(unit)


@pytest.mark.parametrize("text", ["Power (total)", "Power (total kW)", "Power (bananas)", "Volts (furlongs)"])
def test_what_is_no_unit_is_said_and_not_passed_over(text: str) -> None:
    found = Matcher(HEATERS).match(text)
    assert found is not None and found.strange and found.unit is None


NO_COLUMN = ["Power total kW", "Total power", "Total kW", "Power factor", "Powr", "", "***", "Heater tank", "Voltage drop"]


@pytest.mark.parametrize("text", NO_COLUMN)
def test_what_means_no_column_rides_along(text: str) -> None:
    assert Matcher(HEATERS).match(text) is None


def test_the_same_letters_mean_other_units_in_other_columns() -> None:
    assert Matcher(TANKS).match("W").key == "width_m" and Matcher(TANKS).match("W").unit is None
    assert Matcher(TANKS).match("gallons").unit == spelled("gal")
    assert Matcher(FEEDERS).match("Source %Z").key == "source_z_pct"


def test_unit_row_below_the_headings(tmp_path: Path) -> None:
    job = heaters(tmp_path, [None, "ea", "W", "V", None, "ft"], ["T-1", 4, 6000, 480, 1, 25],
                  headings=["Tank", "Quantity", "Power", "Volts", "Phases", "Panel-to-heater length"])  # fmt: skip
    assert [(bank.power_kw, bank.heater_run_m) for bank in job.banks] == [(6.0, 7.62)]
    assert fates(job) == {2: "unit row", 3: ""}
    assert "unit-assumed" not in codes(job)


def test_a_row_of_data_is_never_taken_for_a_unit_row(tmp_path: Path) -> None:
    job = heaters(tmp_path, ["T-1", None, "kW", None, None], GOOD)
    assert fates(job)[2] not in ("", "unit row")
    assert [bank.origin.row for bank in job.banks] == [3]


def test_headings_below_a_title_block_and_right_of_a_margin(tmp_path: Path) -> None:
    rows = [["", "Plant of our own invention"], [], ["", "Volts are at the heater", "", "480"], ["", *HEADINGS], ["", *GOOD]]
    job = read_sheets(tmp_path, {"Heaters": rows})
    bank = job.banks[0]
    assert (bank.tank, bank.origin.row, bank.origin.cell("tank"), bank.origin.cell("power_kw")) == ("T-1", 5, "B5", "D5")
    table = next(table for table in job.received if table.kind == "heaters")
    assert (table.heading_row, table.headings, table.keys) == (4, tuple(HEADINGS), ("tank", "quantity", "power_kw", "volts_v", "phases"))


def test_headings_further_down_than_thirty_rows_are_found_as_those_of_a_list(tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {"Heaters": [*[["words"]] * 31, HEADINGS, GOOD]})
    assert [(bank.tank, bank.quantity, bank.power_kw) for bank in job.banks] == [("T-1", 4, 6.0)]
    assert set(fates(job).values()) == {"above the headings", "heading", ""} and len(fates(job)) == 33


def test_own_name_of_a_column_wins_over_its_other_names(tmp_path: Path) -> None:
    headings = ["Tank", "Rating", "Quantity", "Power (kW)", "Volts", "Phases", "Colour"]
    job = heaters(tmp_path, ["T-1", 99, 4, 6, 480, 1, "x"], headings=headings)
    assert [bank.power_kw for bank in job.banks] == [6.0]
    assert said(job, "heading-passed-over")[0].cell == "B1"
    table = next(table for table in job.received if table.kind == "heaters")
    assert table.keys == ("tank", "", "quantity", "power_kw", "volts_v", "phases", "")
    assert table.rows[0].values == ("T-1", 99.0, 4.0, 6.0, 480.0, 1.0, "x")


def test_a_column_given_twice_is_read_where_both_agree(tmp_path: Path) -> None:
    headings = [*HEADINGS, "Power (W)"]
    job = heaters(tmp_path, [*GOOD, 6000], ["T-2", 4, None, 480, 1, 9000], ["T-3", *GOOD[1:]], ["T-4", *GOOD[1:], 7000], headings=headings)
    assert [(bank.tank, bank.power_kw) for bank in job.banks] == [("T-1", 6.0), ("T-2", 9.0), ("T-3", 6.0)]
    assert said(job, "cell-contradicts")[0].cell == "C5"


def test_a_misspelt_heading_is_offered_and_not_assumed(tmp_path: Path) -> None:
    job = heaters(tmp_path, GOOD, headings=["Tank", "Quantitty", "Power (kW)", "Volts", "Phases"])
    assert not job.banks
    assert 'Is it "Quantitty"?' in said(job, "heading-missing")[0].message
    assert said(job, "heading-near")[0].cell == "B1"
    assert fates(job) == {2: "no heading for Quantity"}


@given(st.integers(min_value=0, max_value=16_383))
def test_column_letters_come_back(index: int) -> None:
    assert column_number(letters(index)) == index


ANY_CELL = st.one_of(st.none(), st.text(max_size=12), st.floats(allow_nan=False), st.sampled_from(HEADINGS))


@given(st.lists(st.lists(ANY_CELL, min_size=4, max_size=4), max_size=8))
def test_no_grid_is_a_crash(rows: list[list[object]]) -> None:
    grid = Grid("any", [["" if value is None else value for value in row] for row in rows])
    head = find_head(grid, Matcher(HEATERS))
    assert -1 <= head.row < max(len(rows), 1)
