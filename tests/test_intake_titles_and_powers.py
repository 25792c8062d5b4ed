"""Titles that name a list, powers told by their amps, remarks of what was and of where a heater stands. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.test_intake_plain_lists import codes, heaters, read_list

HEAD = ["Tank", "Qty", "kW each", "Volts", "Phase", "Remarks"]
ROWS = [["T-1", 2, 9, 480, 3], ["T-2", 3, 12, 480, 3], ["T-3", 1, 6, 480, 3]]
READ = [("T-1", 2, 9.0, 480.0, 3), ("T-2", 3, 12.0, 480.0, 3), ("T-3", 1, 6.0, 480.0, 3)]
INDEX = ["Rev", "Heater Tag", "Tank Tag", "Fluid", "Duty kW", "Volts", "Phase", "FLA", "Remarks"]
OF_INDEX = [
    ["A", "EH-1A", "TK-1", "caustic", 18, 480, 3, 21.7], ["A", "EH-1B", "TK-1", "caustic", 18, 480, 3, 21.7],
    ["B", "EH-3A", "TK-3", "Cr(III)", 4.5, 480, 3, 5.4], ["B", "EH-3B", "TK-3", "Cr(III)", 4.5, 480, 3, 5.4],
    ["A", "EH-4", "TK-4", "water", 1.5, 120, 1, 12.5],
]  # fmt: skip


@pytest.mark.parametrize(
    "title", ["PLATING PLANT - PHASE II", "Chauffage des bains - lot électricité", "Dossier de consultation - Lot 3 : chauffage des cuves"]
)
def test_a_title_names_the_phase_or_the_package_that_the_list_is_of(title: str, tmp_path: Path) -> None:
    assert heaters(read_list(tmp_path, [title], [], HEAD, *ROWS)) == READ


@pytest.mark.parametrize(
    "rows",
    [
        [["FUTURE - PHASE 2"], HEAD, *ROWS], [["PHASE 2"], HEAD, *ROWS], [["Plating plant, supplied by others"], HEAD, *ROWS],
        [["Line 4 works, phase 2"], HEAD, *ROWS, [], ["Phase 1 is on order already"]],
    ],
)  # fmt: skip
def test_a_title_of_a_later_phase_or_of_others_leaves_its_list_open(rows: list, tmp_path: Path) -> None:
    assert heaters(read_list(tmp_path, *rows)) == []


def test_the_figure_that_the_amps_follow_from_is_the_power(tmp_path: Path) -> None:
    """A duty may be the heat that a bath needs; where volts, phases and amps of each row belong to it, it is what the heaters take."""
    assert [one[:3] for one in heaters(read_list(tmp_path, ["Heater index"], INDEX, *OF_INDEX))] == [
        ("TK-1", 1, 18.0), ("TK-1", 1, 18.0), ("TK-3", 1, 4.5), ("TK-3", 1, 4.5), ("TK-4", 1, 1.5),
    ]  # fmt: skip
    others = [[*row[:4], row[4] * 0.8, *row[5:]] for row in OF_INDEX]
    assert heaters(read_list(tmp_path, ["Heater index"], INDEX, *others)) == []
    assert heaters(read_list(tmp_path, ["Heater index"], INDEX, *OF_INDEX[:4], others[4])) == []


@pytest.mark.parametrize("power", ["HOLD 2", None])
def test_a_hold_with_a_number_is_no_temperature(power: str | None, tmp_path: Path) -> None:
    held = ["B", "EH-5", "TK-5", "water", power, 480, 3, None, "HOLD 2: rating awaits heat loss calc"]
    job = read_list(tmp_path, ["Heater index"], INDEX, *OF_INDEX, held)
    assert len(job.banks) == 5 and [one.tank for one in job.unread] == ["TK-5"]
    assert len(heaters(read_list(tmp_path, HEAD, [*ROWS[0], "hold at 140 F"], [*ROWS[1], "hold 140 F"]))) == 2


def test_a_power_that_was_is_not_held_against_the_one_that_is(tmp_path: Path) -> None:
    rows = [[*ROWS[0], "was 6 kW each at Rev A"], [*ROWS[1], "6 kW ea. -> 12 kW ea."], [*ROWS[2], "9 kW each"]]
    assert heaters(read_list(tmp_path, HEAD, *rows)) == READ[:2]


@pytest.mark.parametrize(
    ("remark", "read"),
    [("locate behind anode baskets", True), ("keep clear of anode bar", True), ("next to the pump", True), ("anode bar", False),
     ("fed by the pump", False)],
)  # fmt: skip
def test_a_remark_of_where_a_heater_stands_is_no_other_equipment(remark: str, read: bool, tmp_path: Path) -> None:
    said = heaters(read_list(tmp_path, ["Tank heaters"], HEAD, *ROWS[1:], [*ROWS[0], remark]))
    assert (READ[0] in said) == read, said


def test_stations_number_the_tanks(tmp_path: Path) -> None:
    lines = [[2, "Soak", *ROWS[0][1:]], [4, "Etch", *ROWS[1][1:]], [6, "Seal", *ROWS[2][1:]]]
    job = read_list(tmp_path, ["Sta.", "Process", *HEAD[1:]], *lines)
    assert [one[0] for one in heaters(job)] == ["2", "4", "6"] and "tank-blank" not in codes(job)


@pytest.mark.parametrize(
    ("heading", "each"),
    [
        ("Moc grzałki [kW]", True), ("kW ch.", True), ("Potencia de la resistencia (kW)", True), ("Puissance du thermoplongeur (kW)", True),
        ("Potenza della resistenza kW", True), ("Potência do aquecedor kW", True), ("Výkon topného tělesa kW", True),
        ("Moc grzałek [kW]", False), ("Potencia de las resistencias (kW)", False), ("kW chauff.", False),
    ],
)  # fmt: skip
def test_a_heading_that_speaks_of_one_heater_gives_the_power_of_each(heading: str, each: bool, tmp_path: Path) -> None:
    """As "Heater kW" does; of several it stays open."""
    job = read_list(tmp_path, ["Tank", "Qty", heading, "Volts", "Phase"], ["T-1", 2, 9, 400, 3], ["T-2", 3, 12, 400, 3])
    assert bool(heaters(job)) is each and ("list-question" in codes(job)) is not each
