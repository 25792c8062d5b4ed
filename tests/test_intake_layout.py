"""Lists as customers lay them out: two heading rows, units beside numbers, merged cells, tables beside each other, crowded cells."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from batch.intake.headings import Matcher
from batch.records import Job
from batch.sheets import HEATERS
from tests.intake_book import GOOD, HEADINGS, SHEET_PART, book, codes, edited, fates, heaters, read_bytes, read_sheets, said

TOP = ["Item", "Tank", "Immersion heaters", None, "Ratings (each)", None, "Remarks"]
BELOW = [None, None, "Qty", "Power, W", "Volts", "Ph", None]


def with_merged(data: bytes, *cells: str) -> bytes:
    merged = "".join(f'<mergeCell ref="{ref}"/>' for ref in cells)
    tail = f"</sheetData><mergeCells>{merged}</mergeCells>".encode()
    return edited(data, SHEET_PART, lambda part: part.replace(b"</sheetData>", tail))


def banks(job: Job) -> list[tuple]:
    return [(bank.tank, bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in job.banks]


@pytest.mark.parametrize("merged", [(), ("C2:D2", "E2:F2", "A2:A3", "B2:B3", "G2:G3")])
def test_two_heading_rows_with_headings_above_several_columns(tmp_path: Path, merged: Sequence[str]) -> None:
    data = book({"Heaters": [["A title"], TOP, BELOW, [1, "T-1", 4, 6000, 480, 1, "x"]]})
    job = read_bytes(tmp_path, with_merged(data, *merged) if merged else data)
    assert banks(job) == [("T-1", 4, 6.0, 480.0, 1)] and job.banks[0].notes == "x"
    table = next(table for table in job.received if table.kind == "heaters")
    assert (table.heading_row, table.headings[2:4]) == (3, ("Immersion heaters | Qty", "Immersion heaters | Power, W"))
    assert table.keys == ("", "tank", "quantity", "power_kw", "volts_v", "phases", "notes")
    assert said(job, "rows-above")[0].message.startswith("Sheet Heaters: not read, because above the headings in row 2: row 1")


def test_a_heading_that_was_joined_means_the_same_when_it_comes_back(tmp_path: Path) -> None:
    job = read_bytes(tmp_path, book({"Heaters": [TOP, BELOW, [1, "T-1", 4, 6000, 480, 1, "x"]]}))
    table = next(table for table in job.received if table.kind == "heaters")
    again = heaters(tmp_path, [1, "T-1", 4, 6000, 480, 1, "x"], headings=table.headings)
    assert banks(again) == banks(job)


@pytest.mark.parametrize("text", ["Supply | Volts", "Total | kW", "Existing | Qty", "Motor | Phases", "Feeder | Volts"])
def test_a_heading_above_that_changes_the_meaning_is_not_left_out(text: str) -> None:
    assert Matcher(HEATERS).match(text) is None


def test_headings_in_one_row_above_data_are_no_pair(tmp_path: Path) -> None:
    job = heaters(tmp_path, ["Qty", 4, 6, 480, 1])
    assert banks(job) == [("Qty", 4, 6.0, 480.0, 1)]


@pytest.mark.parametrize("heading", ["Unit", "U.O.M.", None])
def test_units_in_a_column_beside_their_numbers(tmp_path: Path, heading: str | None) -> None:
    headings = ["Tank", "Quantity", "Power", heading, "Volts", "Phases"]
    rows = [["A", 4, 6000, "W", 480, 1], ["B", 4, 6, "kW", 480, 1], ["C", 4, "9 kW", "W", 480, 1], ["D", 4, 6, None, 480, 1]]
    job = heaters(tmp_path, *rows, headings=headings)
    assert [bank.power_kw for bank in job.banks] == [6.0, 6.0, 9.0, 6.0]
    assert "extra-heading-kept" not in codes(job)


def test_a_unit_beside_that_is_none_is_told_of_its_row_only(tmp_path: Path) -> None:
    headings = ["Tank", "Quantity", "Power", "Unit", "Volts", "Phases"]
    job = heaters(tmp_path, ["A", 4, 6, "kW", 480, 1], ["B", 4, 6, "bananas", 480, 1], headings=headings)
    assert [bank.tank for bank in job.banks] == ["A"]
    assert said(job, "unit-unknown")[0].cell == "C3"


def test_a_column_of_other_words_is_no_column_of_units(tmp_path: Path) -> None:
    headings = ["Tank", "Quantity", "Power (kW)", "Unit", "Volts", "Phases"]
    job = heaters(tmp_path, ["A", 4, 6, "panel 1", 480, 1], ["B", 4, 6, "W", 480, 1], headings=[*headings[:3], None, *headings[4:]])
    assert [bank.power_kw for bank in job.banks] == [6.0, 6.0]


def test_a_merged_tag_holds_for_its_rows_and_a_merged_count_for_the_first_only(tmp_path: Path) -> None:
    rows = [["T-1", 4, 6, 480, 1], [None, 2, 3, 480, 1], [None, None, 3, None, None], [], ["T-2", *GOOD[1:]]]
    job = read_bytes(tmp_path, with_merged(book({"Heaters": [HEADINGS, *rows]}), "A2:A5", "D3:D4", "E3:E4", "B3:B4"))
    assert banks(job) == [("T-1", 4, 6.0, 480.0, 1), ("T-1", 2, 3.0, 480.0, 1), ("T-2", 4, 6.0, 480.0, 1)]
    assert fates(job) == {2: "", 3: "", 4: "Quantity: blank", 5: "blank row", 6: ""}
    assert said(job, "cells-merged")[0].message.endswith("in the columns Tank, Volts, Phases.")


def test_tables_beside_each_other_are_two_tables(tmp_path: Path) -> None:
    rows = [[*GOOD, None, "T-9", 1, 3, 240, 1], [None] * 6 + ["T-8", 2, None, 240, 1], ["T-2", *GOOD[1:]]]
    job = heaters(tmp_path, *rows, headings=[*HEADINGS, None, *HEADINGS])
    assert [(bank.tank, bank.origin.sheet, bank.origin.cell("tank")) for bank in job.banks] == [
        ("T-1", "Heaters, columns A to F", "A2"), ("T-2", "Heaters, columns A to F", "A4"), ("T-9", "Heaters, columns G to K", "G2"),
    ]  # fmt: skip
    assert said(job, "cell-missing")[0].cell == "I3"
    assert [len(table.rows) for table in job.received] == [3, 2]


def test_a_column_that_stands_twice_is_not_two_tables(tmp_path: Path) -> None:
    job = heaters(tmp_path, [*GOOD, 480, 1], headings=[*HEADINGS, "Volts", "Phases"])
    assert banks(job) == [("T-1", 4, 6.0, 480.0, 1)] and "heading-repeated" in codes(job)


SEVERAL = [
    ([None, "3 x 6 kW", 480, 1], (3, 6.0, 480.0, 1)), ([3, "3 x 6 kW", 480, 1], (3, 6.0, 480.0, 1)), ([2, "3 x 6 kW", 480, 1], None),
    (["(3) 6 kW", None, 480, 1], (3, 6.0, 480.0, 1)), (["3 x 6 kW", 6, 480, 1], (3, 6.0, 480.0, 1)), (["3 x 6 kW", 9, 480, 1], None),
    (["3 x 6", None, 480, 1], None), (["12 ea", "1,5 kW", 480, 1], (12, 1.5, 480.0, 1)),
    ([4, "6000W", "480/3/60", None], (4, 6.0, 480.0, 3)),
    ([4, 6, "480V-3PH-60HZ", 3], (4, 6.0, 480.0, 3)), ([4, 6, "480/3/60", 1], None), ([4, 6, "480/3/400", None], None),
    ([4, 6, "240/1", None], (4, 6.0, 240.0, 1)), ([4, 6, "480/2/60", None], None), (["TBD", "3 x 6 kW", 480, 1], None),
    ([4, "2000 x 6 kW", 480, 1], None),
]  # fmt: skip


@pytest.mark.parametrize(("cells", "expected"), SEVERAL, ids=lambda value: str(value))
def test_several_figures_in_one_cell(cells: list[object], expected: tuple | None, tmp_path: Path) -> None:
    """Read where the other cell is blank or agrees, and said; else the row is not sized, with the cell."""
    job = heaters(tmp_path, ["T-1", *cells])
    assert banks(job) == ([("T-1", *expected)] if expected else [])
    if expected is None:
        assert any(found.severity == 0 and found.cell[1:] == "2" for found in job.findings)
    elif any("x" in str(cell) or "/" in str(cell) or "PH" in str(cell) for cell in cells):
        assert "cell-read-as" in codes(job)


def test_phases_may_stand_with_the_volts_and_nowhere_else(tmp_path: Path) -> None:
    job = heaters(tmp_path, ["T-1", 4, 6, "480/3/60"], ["T-2", 4, 6, 480], headings=HEADINGS[:4])
    assert banks(job) == [("T-1", 4, 6.0, 480.0, 3)]
    assert said(job, "cell-missing")[0].cell == "D3" and fates(job)[3] == "Phases: blank"
    none = heaters(tmp_path, ["T-2", 4, 6, 480], headings=HEADINGS[:4])
    assert said(none, "heading-missing") and not none.banks


def test_a_mark_before_decimals_is_learned_from_the_sheet_and_never_from_a_contradiction(tmp_path: Path) -> None:
    rows = [["A", 4, "12,500", 480, 1], ["B", 4, "7,5 kW", 480, 1]]
    assert [bank.power_kw for bank in heaters(tmp_path, *rows).banks] == [12.5, 7.5]
    mixed = heaters(tmp_path, *rows, ["C", 4, "2.5", 480, 1])
    assert [bank.power_kw for bank in mixed.banks] == [7.5, 2.5] and said(mixed, "cell-ambiguous")[0].cell == "C2"
    thousands = heaters(tmp_path, ["A", 4, "12,500 W", 480, 1], ["B", 4, "7.5 kW", 480, 1])
    assert [bank.power_kw for bank in thousands.banks] == [12.5, 7.5]
    assert "a point before decimals" in said(thousands, "decimal-mark-learned")[0].message


def test_a_learned_mark_is_not_trusted_with_a_heater_of_a_few_watts(tmp_path: Path) -> None:
    job = heaters(tmp_path, ["A", 4, "1,250 W", 480, 1], ["B", 4, "7,5 kW", 480, 1])
    assert [bank.tank for bank in job.banks] == ["B"] and said(job, "cell-ambiguous")[0].cell == "C2"


def test_numbered_rows_that_nobody_filled_in(tmp_path: Path) -> None:
    rows = [[1, *GOOD[1:]], [2], [3], [], [7]]
    job = heaters(tmp_path, *rows)
    assert fates(job)[3] == fates(job)[4] == "a number and nothing else"
    assert fates(job)[6].startswith("Quantity: blank")
    assert said(job, "rows-counted")[0].message.startswith("Sheet Heaters: rows 3 and 4 hold")


WORDS = ["Tank", "Qty", "Power", "kW", "W", "Volts", "V", "Ph", "Phases", "Unit", "Immersion heaters", "Ratings", "Notes", "Item"]
TEXTS = ["T-1", "480/3/60", "3 x 6 kW", "1,250", "7,5", "TBD", "-", "Total", "ea"]
CELL = st.one_of(st.none(), st.sampled_from(WORDS), st.integers(0, 5000), st.sampled_from(TEXTS))
GRIDS = st.lists(st.lists(CELL, min_size=1, max_size=12), min_size=1, max_size=10)
SPANS = st.lists(st.tuples(*[st.integers(0, 9)] * 4), max_size=3)
TURNED_TWICE = [  # a list turned over, and another that begins in its fourth column: a row of the one was "above the headings" of the other
    ["Tank", "A", "A", "A", "T-1"], ["Phases", 3, "Immersion heaters", "Tank", 3], ["V", 240, "Item", "Notes", 240],
    ["Qty", None, None, 2, "Phases"], ["Ph", 3, 1, None, "Volts"], ["Immersion heaters", "3 x 6 kW", None, "TBD", None],
    ["Quantity", 3, None, "Qty", 1], ["Unit", "ea", None, None, "480/3/60"], ["Item", "-", "ea", "Notes", "1,250"],
]  # fmt: skip


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture])
@example(grid=TURNED_TWICE, spans=[])
@given(grid=GRIDS.filter(lambda grid: any(value is not None for row in grid for value in row)), spans=SPANS)
def test_whatever_the_layout_every_row_of_the_sheet_has_a_fate(grid: list[list[object]], spans: list[tuple], tmp_path: Path) -> None:
    refs = [f"{chr(65 + min(a, b))}{min(c, d) + 1}:{chr(65 + max(a, b))}{max(c, d) + 1}" for a, b, c, d in spans]
    data = book({"Heaters": grid})
    job = read_bytes(tmp_path, with_merged(data, *refs) if refs else data)
    records = {(bank.origin.sheet, bank.origin.row) for bank in job.banks}
    told = {(row.sheet, row.row): row.refused for table in job.received for row in table.rows}
    assert records == {at for at, why in told.items() if not why}
    filled = {number for number, row in enumerate(grid, 1) if any(value is not None for value in row)}
    heading_rows = {table.heading_row for table in job.received if table.kind == "heaters"}
    above = [found for found in job.findings if found.code == "rows-above"]
    for number in filled - {row for _, row in told}:
        assert number <= max(heading_rows, default=0), f"row {number} of {grid} is nowhere"
        assert above or number in heading_rows or number + 1 in heading_rows
    for found in job.findings:
        assert not re.search(r"\{\w*\}", found.message)


def test_the_other_kinds_of_sheet_take_the_same_layouts(tmp_path: Path) -> None:
    tanks = [
        ["Tank", "Bath", None, None], [None, "Length", "Unit", "Operating temperature (°F)"], ["T-1", 10, "ft", 140], [None, 8, "ft", 120],
    ]  # fmt: skip
    job = read_sheets(tmp_path, {"Tanks": tanks, "Heaters": [HEADINGS, GOOD]})
    assert [(tank.tank, tank.length_m, tank.operating_c) for tank in job.tanks] == [("T-1", 3.048, 60.0)]
