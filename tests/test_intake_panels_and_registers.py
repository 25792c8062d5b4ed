"""Panels' schedules with kVA of each phase, registers with headings run together and measured amps: read, and the doubt. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.columns_told_apart import counts_those_there
from batch.intake.list_words import meanings
from batch.intake.panel_sides import mirrored
from tests.intake_book import in_doubt
from tests.test_intake_plain_lists import heaters, read_list

TITLE = [["PANEL HP-2"], ["480Y/277 V, 3PH, 4W"]]
SIDES = ["CKT", "DESCRIPTION", "TRIP", "P", "kVA A", "kVA B", "kVA C", "PH", "kVA A", "kVA B", "kVA C", "P", "TRIP", "DESCRIPTION", "CKT"]


def panel(left: str, loads: tuple[float, float, float], right: str = "SPARE") -> list[list]:
    """One circuit of three poles on each side, and a heater of one pole below it."""
    a, b, c = loads
    return [
        [1, left, 30, 3, a, None, None, "A", 2, None, None, 3, 30, right, 2],
        [3, None, None, None, None, b, None, "B", None, 2, None, None, None, None, 4],
        [5, None, None, None, None, None, c, "C", None, None, 2, None, None, None, 6],
        [7, "TK-8 HTR 4 KW", 20, 1, 4, None, None, "A", 1.8, None, None, 1, 20, "LTG - LINE EAST", 8],
        [9, "TK-9 HTR 4 KW", 20, 1, None, 4, None, "B", None, 1.8, None, 1, 20, "LTG - LINE WEST", 10],
    ]


def test_a_panel_with_the_kva_of_each_phase_on_both_sides(tmp_path: Path) -> None:
    job = read_list(tmp_path, *TITLE, SIDES, *panel("TK-1 HTRS (2) @ 9 KW", (6, 6, 6), "TK-2 HTR 6 KW"))
    assert sorted(heaters(job)) == [
        ("TK-1", 2, 9.0, 480.0, 3), ("TK-2", 1, 6.0, 480.0, 3), ("TK-8", 1, 4.0, 277.0, 1), ("TK-9", 1, 4.0, 277.0, 1),
    ]  # fmt: skip


@pytest.mark.parametrize("loads", [(4, 4, 4), (6, 6, None), (0, 0, 0)])
def test_a_circuit_whose_kva_are_not_its_kilowatts_is_asked_about(loads: tuple, tmp_path: Path) -> None:
    job = read_list(tmp_path, *TITLE, SIDES, *panel("TK-1 HTRS (2) @ 9 KW", loads))
    assert [one.tank for one in job.unread] == ["TK-1"] and in_doubt(job)


def test_headings_the_same_from_both_sides() -> None:
    assert mirrored(SIDES) and mirrored(["CKT", "kVA", "kVA", "CKT"])
    assert not mirrored(["CKT", "kVA", "CKT", "kVA"]) and not mirrored(SIDES[:-1])


def test_measured_amps_of_three_lines_are_headings_too(tmp_path: Path) -> None:
    head = ["Heater No", "Tank", "Nameplate kW", "V", "Ph", "A L1", "A L2", "A L3", "Finding"]
    rows = [
        ["H-1A", "T-1", 9, 480, 3, 10.8, 10.7, 10.8, "OK"], ["H-1B", "T-1", 9, 480, 3, 10.8, 10.8, 10.8, "OK"],
        ["H-2A", "T-2", 6, 480, 3, 7.2, 7.2, 7.1, "OK"], ["H-2B", "T-2", 6, 480, 3, 3.6, 3.6, 3.6, "which heater is it?"],
    ]  # fmt: skip
    assert heaters(read_list(tmp_path, head, *rows)) == [("T-1", 1, 9.0, 480.0, 3)] * 2 + [("T-2", 1, 6.0, 480.0, 3)]


@pytest.mark.parametrize(
    ("heading", "key"), [("HeaterQty", "quantity"), ("TankID", "tank"), ("RatedVolts", "volts_v"), ("UnitPower", "power_kw")]
)
def test_headings_run_together(heading: str, key: str) -> None:
    assert meanings(heading)[0].key == key


@pytest.mark.parametrize(("wanted", "read"), [((), True), (("Qty to buy",), False)])
def test_those_installed_are_counted_where_no_other_column_counts(wanted: tuple, read: bool, tmp_path: Path) -> None:
    head = ["TankID", "AssetDesc", "QtyInstalled", "kW_Each", "Volts", "Phase", "Condition", *wanted]
    rows = [["TK-1", "Heater, immersion", 4, 9, 480, 3, "Good", 1], ["TK-2", "Heater, immersion", 3, 6, 480, 3, "Fair", 2]]
    rows += [["TK-3", "Heater, immersion", 2, 6, 480, 3, "Good", 1], ["TK-4", "Heater, immersion", 2, 3, 480, 3, "half of it gone", 1]]
    said = heaters(read_list(tmp_path, head, *[row[: len(head)] for row in rows]))
    assert (("TK-1", 4, 9.0, 480.0, 3) in said) == read and len(said) == 3
    assert counts_those_there("Qty Installed") and not counts_those_there("Installed kW") and not counts_those_there("Installed")


OF_KVA = ["CKT", "DESCRIPTION", "POLES", "BKR", "KVA"]


@pytest.mark.parametrize(("note", "read"), [("Heaters are resistive, PF 1.0.", True), ("kVA = kW", True), ("PF 0.85", False), ("", False)])
def test_the_kva_of_a_circuit_are_kilowatts_where_the_panel_says_so(note: str, read: bool, tmp_path: Path) -> None:
    rows = [
        ["1,3,5", "TANK 21 IMM. HEATER", "3P", "30A", 18, None, "2,4,6", "TANK 23 IMM. HEATER", "3P", "20A", 9],
        ["7", "TANK 25 IMM. HEATER", "1P", "20A", 4, None, "8,10,12", "FUTURE TANK 27 IMM. HEATER", "3P", "30A", 15],
        ["9,11", "TANK 26 IMM. HEATER", "2P", "20A", 6, None, "14,16", "RECEPTACLE", "2P", "30A", 7.5],
    ]
    head = [*OF_KVA, None, *OF_KVA]
    said = sorted(heaters(read_list(tmp_path, *TITLE, [f"One heater per circuit. {note}"], [], head, *rows)))
    assert said == ([("TANK 21", 1, 18.0, 480.0, 3), ("TANK 23", 1, 9.0, 480.0, 3), ("TANK 25", 1, 4.0, 277.0, 1),
                     ("TANK 26", 1, 6.0, 480.0, 1)] if read else [])  # fmt: skip
