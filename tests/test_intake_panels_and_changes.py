"""Circuits against their panel, changes that name what was before, banners of lines that stand already, tables beside each other."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from batch.intake.changes_told import in_place_of, not_changed
from batch.intake.facts import read_cell
from batch.intake.list_words import meanings
from batch.records import Job
from tests.intake_book import codes, said
from tests.test_lists import HEAD, listed
from tests.test_lists_understood import heaters

SCHEDULE = ["CKT", "DESCRIPTION", "LOAD KW", "V/PH", "BKR A/P"]


def of_panel(folder: Path, title: str, supply: str) -> Job:
    rows: list[Sequence[object]] = [["PANEL LP-1"], [title], [], SCHEDULE, [1, "T-31 DEOX HTR", 4.5, supply, "20/3"]]
    return listed(folder, *rows, [7, "T-32 ETCH HTR", 4.5, supply, "20/3"])


@pytest.mark.parametrize(
    ("title", "supply", "sized"),
    [
        ("208Y/120 V, 3 PH, 4 W", "208/3", True), ("208Y/120 V, 3 PH, 4 W", "120/1", True), ("208Y/120 V, 3 PH, 4 W", "480/3", False),
        ("208Y/120 V, 3 PH, 4 W", "230/3", False), ("480Y/277 V, 3 PH, 4 W", "277/1", True), ("480Y/277 V, 3 PH, 4 W", "460/3", True),
        ("480Y/277 V, 3 PH, 4 W", "240/3", False),
    ],
)  # fmt: skip
def test_a_circuit_at_volts_that_its_panel_has_not_is_asked_about(tmp_path: Path, title: str, supply: str, sized: bool) -> None:
    job = of_panel(tmp_path, title, supply)
    said = [row.refused for table in job.received for row in table.rows if "V on a circuit of a panel of" in row.refused]
    assert (len(heaters(job)), len(said)) == ((2, 0) if sized else (0, 2))


@pytest.mark.parametrize("heading", ["Heaters (no.)", "Heaters no.", "Immersion heaters, No.", "Résistances (n°)", "Resistencias nº"])
def test_a_number_behind_heaters_is_how_many(heading: str) -> None:
    assert meanings(heading)[0].key == "quantity"


@pytest.mark.parametrize("heading", ["Heater no.", "Heizer Nr.", "Heater number"])
def test_a_number_behind_one_heater_is_its_own(heading: str) -> None:
    assert "quantity" not in [one.key for one in meanings(heading)]


CHANGES = [
    ("reduced from 6 kW each", "", {4.5: False, 6.0: True, 9.0: True}),
    ("increased from 6000 W", "", {4.5: True, 6.0: True, 9.0: False}),
    ("von 6 kW reduziert", "", {4.5: False, 6.0: True}),
    ("reduced from 6 to 4.5 kW each", "4.5 kW", {4.5: False}),
    ("changed from 480 V", "", {4.5: False}),
    ("from 6 kW", "from 6 kW", {6.0: False}),
]


@pytest.mark.parametrize(("text", "left", "odd"), CHANGES)
def test_what_was_before_a_change_is_no_power_of_the_row(text: str, left: str, odd: dict[float, bool]) -> None:
    now = in_place_of(text)
    assert left in now and (left != "" or not any(sign.isdigit() for sign in now))
    assert {power: not_changed(text, power) for power in odd} == odd


@pytest.mark.parametrize(("power", "sized"), [(4.5, True), (6, False), (9, False)])
def test_a_change_that_the_row_has_not_followed_is_asked_about(tmp_path: Path, power: float, sized: bool) -> None:
    job = listed(tmp_path, [*HEAD, "Comments"], ["T-1", 2, power, 480, 3, "reduced from 6 kW each"], ["T-2", 2, 9, 480, 3, None])
    assert ("T-1" in [one.tank for one in job.banks]) == sized


@pytest.mark.parametrize(
    ("banner", "state", "sized"),
    [
        ("LINE 2 (existing line)", "New", True), ("LINE 2 (existing line)", None, False), ("LINE 2 (existing line)", "Existing", False),
        ("LINE 2 - FUTURE", "New", False), ("LINIE 2 (bestehend)", "neu", True),
    ],
)  # fmt: skip
def test_new_heaters_below_a_line_that_stands_already(tmp_path: Path, banner: str, state: str | None, sized: bool) -> None:
    rows = [[*HEAD, "Status"], ["T-1", 2, 6, 480, 3, "New"], [banner], ["T-2", 2, 9, 480, 3, state], ["T-3", 2, 9, 480, 3, state]]
    assert ("T-2" in [one.tank for one in listed(tmp_path, *rows).banks]) == sized


def test_a_line_over_a_further_table_is_no_line_of_this(tmp_path: Path) -> None:
    first = [["Item", *HEAD], [1, "T-1", 2, 6, 480, 3], [2, "T-2", 2, 6, 480, 3]]
    second = [
        ["LINE 2 - ANODISING (phase 2)"],
        ["Bath", "No.", "Rating each", "V / ph"],
        ["B-1", 2, "9 kW", "480/3"],
        ["B-2", 2, "9 kW", "480/3"],
    ]
    assert [one.tank for one in listed(tmp_path, *first, [], *second).banks] == ["T-1", "T-2"]


@pytest.mark.parametrize(("heading", "word"), [("Pump", "Pump"), ("Bomba", "Bomba"), ("Pumpe", "Pumpe")])
def test_a_table_of_pumps_beside_one_of_heaters_is_one_by_itself(tmp_path: Path, heading: str, word: str) -> None:
    beside = [[None, heading, "kW", "Volts"], [None, "P-1", 1.5, 480], [None, "P-2", 2.2, 480], [None, "P-3", 0.75, 480]]
    rows = [HEAD, ["T-1", 3, 6, 480, 3], ["T-2", 2, 9, 480, 3], ["T-3", 1, 3, 480, 3]]
    job = listed(tmp_path, ["Immersion heaters"], *([*row, *other] for row, other in zip(rows, beside, strict=True)))
    assert heaters(job) == [("T-1", 3, 6, 480, 3), ("T-2", 2, 9, 480, 3), ("T-3", 1, 3, 480, 3)]
    assert word in said(job, "list-other")[0].message and "list-not-read" not in codes(job)


@pytest.mark.parametrize(
    ("text", "power", "basis"),
    [
        ("18 kW total for the tank", 18.0, "tank"), ("4 kW je Bad", 4.0, "tank"), ("18 kW pour la cuve", 18.0, "tank"),
        ("9 kW for each heater", 9.0, "each"), ("9 kW spare for the tank", None, "tank"),
    ],
)  # fmt: skip
def test_a_cell_says_what_its_power_is_of(text: str, power: float | None, basis: str) -> None:
    fact = read_cell("power_kw", text, 1)
    assert fact is not None and (fact.value, fact.basis) == (power, basis)


@pytest.mark.parametrize(
    ("remark", "sized"),
    [
        ("Last tank before dryer", True), ("Letzte Wanne vor dem Trockner", True), ("before dryer", False), ("tank with dryer", False),
        ("Last tank before dryer, 6 kW", False),
    ],
)  # fmt: skip
def test_equipment_that_says_where_a_tank_stands_is_no_doubt(tmp_path: Path, remark: str, sized: bool) -> None:
    rows = [["Bath", *HEAD[1:], "Remarks"], ["B-1", 2, 6, 480, 3, None], ["B-2", 2, 9, 480, 3, remark]]
    assert ("B-2" in [one.tank for one in listed(tmp_path, *rows).banks]) == sized


@pytest.mark.parametrize(
    ("banner", "volts"),
    [
        ("PANEL LP-7, 208 V, fed from DP-2 through 45 kVA transformer T-7", [480.0, 208.0]),
        ("TRANSFORMER T-7, 208 V", [480.0]),
        ("Verteilung UV 3, 400 V, gespeist über Trafo T-2", [480.0, 400.0]),
    ],
)
def test_what_feeds_a_panel_is_no_machine_over_its_rows(tmp_path: Path, banner: str, volts: list[float]) -> None:
    rows: list[Sequence[object]] = [["Tank", "Qty", "kW each", "Ph"], ["PANEL DP-2, 480 V 3 PH"], ["T-1", 2, 9, 3], [banner]]
    assert [one.volts_v for one in listed(tmp_path, *rows, ["T-2", 2, 6, 3]).banks] == volts


@pytest.mark.parametrize(
    ("said_above", "power"),
    [("Where they differ the remark governs.", [12.0, 9.0]), ("See the remarks.", [12.0])],
    ids=["governs", "does not"],
)
def test_a_remark_counts_where_the_sheet_says_so(tmp_path: Path, said_above: str, power: list[float]) -> None:
    job = listed(tmp_path, [said_above], [*HEAD, "Remarks"], ["T-1", 2, 12, 480, 3, None], ["T-2", 2, 12, 480, 3, "change to 9 kW each"])
    assert [one.power_kw for one in job.banks] == power


@pytest.mark.parametrize(("count", "each"), [("4 total", 2), ("3 total", 0)])
def test_heaters_that_no_tank_can_share_evenly_are_asked_about(tmp_path: Path, count: str, each: int) -> None:
    job = listed(tmp_path, HEAD, ["T-17, T-18", count, 3, 240, 1], ["T-20", 2, 6, 240, 1])
    assert [one.quantity for one in job.banks] == ([each, each, 2] if each else [2])


@pytest.mark.parametrize(("cells", "read"), [((480, 277), True), ((101, 102), False)])
def test_volts_say_themselves_under_a_heading_that_may_be_another(tmp_path: Path, cells: tuple[int, int], read: bool) -> None:
    rows = [[volts, phases, 3, 1, f"T-{at}"] for at, (volts, phases) in enumerate(zip(cells, (3, 1), strict=True))]
    job = listed(tmp_path, ["Line V", "Ph", "Htr kW", "Htrs", "Tank"], *rows)
    assert [one.volts_v for one in job.banks] == ([480.0, 277.0] if read else [])
