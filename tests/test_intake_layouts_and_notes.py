"""Units below a heading with what they are of; lists side by side under their own titles; a supply told in a note for one row."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.line_kinds import supply_in
from batch.intake.unit_words import is_unit
from batch.records import Job
from tests.intake_book import book, fates, read_bytes


def read(job: Job) -> dict[str, tuple]:
    return {str(bank.tank): (bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in job.banks}


def test_a_row_of_units_with_what_they_are_of_is_no_row_of_headings(tmp_path: Path) -> None:
    rows = [
        ["Tank heaters 600/3 unless shown"],
        ["TAG", "SERVICE", "TANK", "VOLUME", "QTY", "LOAD", None, "V/PH", "FLA", "FURNISHED", "REMARKS"],
        [None, None, None, "US gal", None, "kW ea", "HP", None, "A ea", "BY"],
        ["P-1", "Spray pump", "TK-1", None, 1, None, 15, "600/3", 17, "Div. 23"],
        ["EH-1", "Immersion heater, clean", "TK-1", 1200, 4, 18, None, "600/3", 17.3, "Heater vendor"],
        ["EH-2", "Immersion heater, rinse", "TK-2", 300, 1, 6, None, "208/1", 28.8, "Heater vendor", "relocated to panel LP-3"],
        ["EH-3", "Immersion heater, seal", "TK-3", 500, 2, 9, None, None, 8.7, "Owner", "Owner-furnished, install only"],
        ["EH-4", "Immersion heater, oil", "TK-4", 600, 3, 6, None, None, 5.8, "Heater vendor"],
    ]
    job = read_bytes(tmp_path, book({"M-6": rows}, merged={"M-6": ["F2:G2"]}))
    assert read(job) == {"TK-1": (4, 18, 600, 3), "TK-2": (1, 6, 208, 1), "TK-4": (3, 6, 600, 3)}


def test_units_with_what_they_are_of() -> None:
    assert all(is_unit(text) for text in ("A ea", "kW ea", "kW per heater", "V", "A each"))
    assert not any(is_unit(text) for text in ("FLA", "LOAD ea", "by others"))


def test_lists_side_by_side_have_each_the_supply_that_stands_over_it(tmp_path: Path) -> None:
    head = ["Washer tank", "Gal", "# htrs", "kW each", "Amps each", "Notes"]
    rows = [
        ["BLDG 1 - 240 V", *[None] * 6, "BLDG 3 - 208 V", *[None] * 5],
        [*head, None, *head],
        ["W1 wash", 120, 2, 6, 14.4, None, None, "B1 wash", 150, 2, 9, 25],
        ["W1 rinse", 80, 1, 6, 25, None, None, "B2 rinse", 75, 1, 4, 19.2],
        ["W2 wash", 200, 3, 9, 21.7, "caustic", None, "B4 hot tank", 300, 3, 12, 33.3],
    ]
    job = read_bytes(tmp_path, book({"Sheet1": rows}, merged={"Sheet1": ["A1:F1", "H1:M1"]}))
    assert read(job) == {
        "W1 wash": (2, 6, 240, 3), "W1 rinse": (1, 6, 240, 1), "W2 wash": (3, 9, 240, 3),
        "B1 wash": (2, 9, 208, 3), "B2 rinse": (1, 4, 208, 1), "B4 hot tank": (3, 12, 208, 3),
    }  # fmt: skip


@pytest.mark.parametrize(("text", "phases"), [
    ("BLDG 1 - 240 V", None), ("LINE 3 - 400 V", None), ("Halle 1 - 400 V", None), ("Bay 3/480 V", None), ("Phase 1 - 480 V", 1),
    ("3 - 400 V", 3), ("Netz 3/400 V", 3), ("all heaters 3/480 V", 3), ("supply 3/480/60", 3),
])  # fmt: skip
def test_the_number_of_a_building_is_no_number_of_phases(text: str, phases: int | None) -> None:
    said = supply_in(text)
    assert said is not None and said.volts is not None and said.phases == phases


HEAD = ["Stage", "Description", "kW", "No. htrs", "Comments"]


@pytest.mark.parametrize(("remark", "note"), [
    ("see note 2", "2. Stage 3 heater 240 V, 1 phase (stand alone dip station)."), ("", "2. Stage 3 heater 240 V, 1 phase"),
    ("see note 2", "2. 240 V, 1 phase from LP-3"),
])  # fmt: skip
def test_a_note_gives_one_row_its_supply_and_the_other_note_all_the_rest(tmp_path: Path, remark: str, note: str) -> None:
    rows = [[1, "Clean", 90, 5], [2, "Seal", 24, 2], [3, "Rust preventive", 6, 1, remark], [4, "Rinse", 36, 3]]
    notes = [["NOTES"], ["1. Plant power for heaters: 480 V, 3 phase, 60 Hz."], [note]]
    job = read_bytes(tmp_path, book({"Heat": [HEAD, *rows, [None, "TOTAL CONNECTED HEATER LOAD", 156], [], *notes]}))
    assert read(job) == {"1": (5, 18, 480, 3), "2": (2, 12, 480, 3), "3": (1, 6, 240, 1), "4": (3, 12, 480, 3)}


def test_a_note_that_names_something_else_too_holds_the_row_that_refers_to_it(tmp_path: Path) -> None:
    rows = [[1, "Clean", 18, 1], [2, "Seal", 12, 1, "see note 2"], [3, "Rinse", 12, 1]]
    notes = [["1. Plant power for heaters: 480 V, 3 phase."], ["2. 240 V, 1 phase from the lighting panel, with the pump."]]
    job = read_bytes(tmp_path, book({"Heat": [HEAD, *rows, [], *notes]}))
    assert set(read(job)) == {"1", "3"} and "240 V" in fates(job)[3]


def test_a_note_of_other_figures_holds_the_row_that_refers_to_it(tmp_path: Path) -> None:
    rows = [[1, "Clean", 18, 1], [2, "Seal", 12, 1, "see note 2"], [3, "Rinse", 12, 1]]
    notes = [["1. Plant power for heaters: 480 V, 3 phase."], ["2. Stage 2 goes to 15 kW."]]
    job = read_bytes(tmp_path, book({"Heat": [HEAD, *rows, [], *notes]}))
    assert set(read(job)) == {"1", "3"} and "15 kW" in fates(job)[3]


@pytest.mark.parametrize("doubt", ["later", "existing, to be checked"])
def test_a_total_with_a_row_in_doubt_tells_what_the_power_is_of(tmp_path: Path, doubt: str) -> None:
    rows = [["1", 3, "36 kW"], ["2", 2, "24 kW"], ["3", 3, "45 kW", doubt], ["4", 2, "18 kW"]]
    head = ["Vasca", "N. resist.", "Potenza", "Note"]
    job = read_bytes(tmp_path, book({"Vasche": [["Rete 400 V trifase"], head, *rows, [None, "POTENZA TOTALE", "123 kW"]]}))
    assert {tank: power for tank, (_, power, *_) in read(job).items()} == {"1": 12, "2": 12, "4": 9}


@pytest.mark.parametrize("words", ["Total (excl. tank 4)", "TOTAL w/o tank #4", "Total not incl. stage 4"])
def test_a_total_that_leaves_a_numbered_tank_out_tells_what_the_power_is_of(tmp_path: Path, words: str) -> None:
    rows = [[1, "Clean", 3, "36 kW"], [2, "Rinse", 2, "24 kW"], [3, "Nickel", 4, "48 kW"], [4, "Spray", 2, "18 kW"]]
    head = ["Tank", "Process", "No.", "kW", "Remarks"]
    job = read_bytes(tmp_path, book({"Tanks": [["All heaters 480 V 3 ph"], head, *rows, [None, words, None, "108 kW"]]}))
    assert {tank: power for tank, (_, power, *_) in read(job).items()} == {"1": 12, "2": 12, "3": 12, "4": 9}
