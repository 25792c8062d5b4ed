"""Bid forms, exports of equipment, panels' circuits and blocks of labels: what a careful reader understands of them. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.described import described
from batch.intake.heading_sense import of_a_machine
from batch.intake.remark_words import read_row_words
from batch.intake.tank_words import tank_named
from tests.test_intake_plain_lists import Heaters, codes, heaters, read_list

BID = ["Item", "Description", "Est. Qty", "U/M", "Unit price", "Amount"]
TABLES: dict[str, tuple[list[list[object]], list[Heaters]]] = {
    "a bid form whose lines are numbered, and whose sentences name the tanks": (
        [
            BID, [1, "Mobilization", 1, "LS"], [2, "Furnish 12 kW heater for T-4, 480 V, 3 ph", 3, "EA"],
            [3, "Furnish 9 kW heater for T-5, 480 V, 3 ph", 2, "EA"], [4, "Furnish 6 kW heater for T-7, 480 V, 3 ph", 1, "EA"],
        ],
        [("T-4", 3, 12, 480, 3), ("T-5", 2, 9, 480, 3), ("T-7", 1, 6, 480, 3)],
    ),
    "lump sums, which are no totals": (
        [
            BID, [1, "Furnish two (2) 9 kW heaters, 480 V, 3 ph, in Tank 1", 1, "Lump sum"],
            [2, "Furnish six (6) 12 kW heaters, 480 V, 3 ph, in Tank 2", 1, "Lump sum"], [3, "Freight", 1, "LOT"],
        ],
        [("Tank 1", 2, 9, 480, 3), ("Tank 2", 6, 12, 480, 3)],
    ),
    "what is there now beside what is new": (
        [
            ["Tank", "Heaters", "Present kW each", "New kW each", "Volts", "Ph"], ["T-1", 3, 8, 12, 208, 3],
            ["T-2", 2, 13, 18, 208, 3], ["T-3", 1, 8, 12, 208, 3],
        ],
        [("T-1", 3, 12, 208, 3), ("T-2", 2, 18, 208, 3), ("T-3", 1, 12, 208, 3)],
    ),
    "tags before the text of a bid": (
        [
            ["Poste", "D\u00e9signation", "Qt\u00e9", "U", "PU", "Montant"], [3, "C1 - thermoplongeur 7,5 kW 230V 3ph", 3, "u"],
            [4, "C2 - thermoplongeur 6 kW 230V 3ph", 1, "u"], [5, "C4 - thermoplongeur 12 kW 230V 3ph", 2, "u"],
        ],
        [("C1", 3, 7.5, 230, 3), ("C2", 1, 6, 230, 3), ("C4", 2, 12, 230, 3)],
    ),
    "a panel's circuits with their load in kVA": (
        [
            ["Panel HP-1"], ["480 V, 3 PH, 3 W"], ["Heaters are resistive, PF 1.0."], ["CKT", "LOAD DESCRIPTION", "POLES", "BKR", "KVA"],
            ["1,3,5", "Immersion htr 1, T-1", 3, 20, 12],
            ["2,4,6", "Immersion htr 2, T-1", 3, 20, 12], ["7,9,11", "Immersion htr 1, T-2", 3, 15, 6], ["8,10,12", "SPARE", 3, 20, ""],
            ["13,15,17", "Immersion htr 2, T-2", 3, 15, 6],
        ],
        [("T-1", 1, 12, 480, 3), ("T-1", 1, 12, 480, 3), ("T-2", 1, 6, 480, 3), ("T-2", 1, 6, 480, 3)],
    ),
    "an export with one asset a line, its tank in the text": (
        [
            ["ASSET_ID", "Asset description", "Crit.", "Functional location", "Asset status"],
            [100234, "T-1 IMM HTR,9KW,480V,3PH", "A", "P1-ANOD", "ACTIVE"], [100241, "T-1 IMM HTR,9KW,480V,3PH", "B", "P1-ANOD", "ACTIVE"],
            [100248, "T-2 IMM HTR,6KW,480V,3PH", "A", "P1-ANOD", "ACTIVE"], [100255, "T-2 IMM HTR,6KW,480V,3PH", "C", "P1-ANOD", "ACTIVE"],
        ],
        [("T-1", 1, 9, 480, 3), ("T-1", 1, 9, 480, 3), ("T-2", 1, 6, 480, 3), ("T-2", 1, 6, 480, 3)],
    ),
    "blocks of which each names the stage and the bath": (
        [
            ["Stage:", "V-3"], ["Bath:", "Etch"], ["Heaters:", "(6) 15 kW"], ["VAC:", 480], ["Phases:", 3], [],
            ["Stage:", "V-4"], ["Bath:", "Rinse 2"], ["Heaters:", "(2) 9 kW"], ["VAC:", 480], ["Phases:", 3],
        ],
        [("V-3", 6, 15, 480, 3), ("V-4", 2, 9, 480, 3)],
    ),
    "a rectifier's volts are none of the heaters'": (
        [
            ["Heaters 480 V, 3 phase"], ["Tank", "Process", "Rectifier", "Qty", "kW each"], ["T-1", "Nickel", "1500 A / 12 V", 3, 9],
            ["T-2", "Rinse", "3000A, 15V", "", ""], ["T-3", "Copper", "3000A, 15V", 2, 6], ["T-4", "Seal", "-", 1, 9],
        ],
        [("T-1", 3, 9, 480, 3), ("T-3", 2, 6, 480, 3), ("T-4", 1, 9, 480, 3)],
    ),
    "the material of the tank is none of its names": (
        [
            ["Station", "Heizung", "Spannung", "Phasen", "Werkstoff Beh\u00e4lter"], ["201-T", "2 x 2 kW", 400, 3, "Stahl"],
            ["202-T", "2 x 9 kW", 400, 3, "PP"], ["203-T", "4 x 2 kW", 400, 3, "PP"], ["204-T", "6 x 6 kW", 400, 3, "Stahl"],
        ],
        [("201-T", 2, 2, 400, 3), ("202-T", 2, 9, 400, 3), ("203-T", 4, 2, 400, 3), ("204-T", 6, 6, 400, 3)],
    ),
}  # fmt: skip


TABLES["a turned list of descriptions, each over its supply"] = (
    [
        ["L\u00e1ze\u0148", "T-1", "T-2", "T-3", "T-4"], ["Topn\u00e1 t\u011blesa", "2 x 9 kW", "2 x 10 kW", "3 x 5 kW", "4 x 4,5 kW"],
        ["Nap\u011bt\u00ed / f\u00e1ze", *["3~ 400 V"] * 4],
    ],
    [("T-1", 2, 9, 400, 3), ("T-2", 2, 10, 400, 3), ("T-3", 3, 5, 400, 3), ("T-4", 4, 4.5, 400, 3)],
)  # fmt: skip


@pytest.mark.parametrize("name", TABLES)
def test_lists_of_plants_are_read_whole(name: str, tmp_path: Path) -> None:
    rows, wanted = TABLES[name]
    assert heaters(read_list(tmp_path, *rows)) == wanted


def test_a_power_alone_in_its_column_that_cannot_be_read_is_asked_about(tmp_path: Path) -> None:
    rows = [["T-1", "Nickel", "18 kW", 1, 480, 3], ["T-2", "Seal", "18 kW", 1, 480, 3], ["", "", "4 \u00e0 12 kW", "", "", ""]]
    rows.append(["T-3", "Etch", "6 kW", 2, 480, 3])
    job = read_list(tmp_path, ["Tank", "Bath", "kW each", "Qty", "Volts", "Ph"], *rows)
    assert ("T-1", 1, 18, 480, 3) in heaters(job) and any(row.row == 4 and row.refused for table in job.received for row in table.rows)


def test_what_is_there_now_is_not_taken_where_what_is_required_is_not_known(tmp_path: Path) -> None:
    rows = [["Tank", "Heaters", "Present kW each", "Required kW each", "Volts", "Ph"], ["T-1", 3, 8, 12, 208, 3]]
    rows.append(["T-2", 2, 13, 18, 208, 3])
    assert all(bank.power_kw not in (8, 13) for bank in read_list(tmp_path, *rows).banks)


def test_full_load_amps_are_no_kilowatts(tmp_path: Path) -> None:
    rows = [["T-1", 25, 2, 240, 1, 12], ["T-2", 31.2, 3, 240, 1, 22.5], ["T-3", 25, 1, 240, 1, 6], ["T-4", 25, 4, 240, 1, 24]]
    job = read_list(tmp_path, ["Tank Name", "Full load amps", "Qty heaters", "V", "Phase no.", "kW total"], *rows)
    assert ("T-3", 1, 6, 240, 1) in heaters(job) and all(bank.power_kw <= 12 for bank in job.banks)


def test_kva_of_loads_that_are_no_heaters_are_no_power_of_heaters(tmp_path: Path) -> None:
    loads = [["1,3", "Receptacles", 2, 20, 3], ["2,4", "Lighting", 2, 20, 3], ["5,7", "Filter pump", 3, 20, 4]]
    rows = [["Ckt", "Description", "Poles", "Breaker (A)", "Load kVA"], *loads, ["6", "Heater 1, T-1", 3, 20, 6]]
    assert not heaters(read_list(tmp_path, ["480 V, 3 PH"], *rows))


def test_a_list_with_a_column_of_filters_is_asked_about_and_not_left_out(tmp_path: Path) -> None:
    rows = [["TK1", 1, 7.5, "500 V 3~", "5 \u00b5m"], ["TK2", 3, 15, "500 V 3~", "5 \u00b5m"], ["TK3", 2, 12, "500 V 3~", ""]]
    job = read_list(tmp_path, ["Bad-Nr.", "Anz.", "Leistung ges. (kW)", "Anschluss", "Filtration"], *rows)
    assert not job.banks and "list-not-read" in codes(job)


@pytest.mark.parametrize(
    ("text", "tags", "sure"),
    [
        ("Immersion htr 1, T-1", ("T-1",), True),
        ("9 kW heater in V-12, 480 V", ("V-12",), True),
        ("Immersion heater, fed from T-1", (), True),  # a transformer
        ("T-4 heater, spare for T-5", ("T-4",), False),
        ("TK11 heater", ("TK11",), True),
        ("Tauchheizer f\u00fcr Bad 1, 400V/3Ph", ("Bad 1",), True),
    ],
)
def test_the_tank_that_a_text_names(text: str, tags: tuple[str, ...], sure: bool) -> None:
    assert tank_named(text).tags == tags
    assert (tank_named(text).doubt == "") == sure


@pytest.mark.parametrize(
    ("text", "power_kw"),
    [("HTR,IMMERSION,1.5KW,480V,3PH", 1.5), ("Heater, electric, 3kW/208V/3ph", 3), ("4,5 kW, 400 V", 4.5), ("Heater 6kW/m2", None)],
)
def test_the_power_of_a_text_without_blanks(text: str, power_kw: float | None) -> None:
    assert described(text).facts.get("power_kw") == power_kw


@pytest.mark.parametrize(("text", "out"), [("Existing service is adequate.", False), ("Existing service heaters", True)])
def test_a_service_that_exists_takes_no_heater_out(text: str, out: bool) -> None:
    assert bool(read_row_words(text).fate) == out


@pytest.mark.parametrize(("text", "machine"), [("Rectifier (A)", True), ("Pump/heater", False), ("Tank", False), ("Sheath", False)])
def test_headings_of_machines(text: str, machine: bool) -> None:
    assert of_a_machine(text) == machine
