"""Lists of one heater a line, counts in remarks, heaters that were taken out, panels with a column between: each with its doubt."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from batch.intake.list_words import is_heater, other_equipment
from batch.intake.remark_words import read_row_words
from tests.intake_book import codes
from tests.test_lists import HEAD, listed
from tests.test_lists_understood import heaters

ASSETS = ["Asset ID", "Asset Description", "Parent", "Rated KW", "Volts", "Phase"]


def assets(folder: Path, *texts: tuple[str, str]) -> list[tuple]:
    rows = [[f"EQ-204{at}", text, tank, 9, 480, 3] for at, (text, tank) in enumerate(texts)]
    return heaters(listed(folder, ASSETS, *rows))


def test_heaters_numbered_from_1_in_each_tank_are_one_a_line(tmp_path: Path) -> None:
    names = ["HEATER, IMMERSION, #1", "HEATER, IMMERSION, #2"]
    told = [(name, tank) for tank in ("TANK-06", "TANK-07") for name in names]
    assert assets(tmp_path, *told, ("HEATER, IMMERSION", "TANK-08")) == [
        (tank, 1, 9, 480, 3) for tank in ("TANK-06", "TANK-06", "TANK-07", "TANK-07", "TANK-08")
    ]


def test_heaters_with_a_tag_each_and_no_number_are_one_a_line(tmp_path: Path) -> None:
    told = [("HEATER, IMMERSION", tank) for tank in ("TANK-06", "TANK-06", "TANK-07", "TANK-07")]
    assert assets(tmp_path, *told) == [(tank, 1, 9, 480, 3) for _, tank in told]


@pytest.mark.parametrize(
    "texts",
    [
        [("HEATER, IMMERSION, #1", "TANK-06"), ("HEATER, IMMERSION, #3", "TANK-06")],  # is there a #2?
        [("HEATER, IMMERSION, #1", "TANK-06"), ("HEATERS, IMMERSION, #2", "TANK-06")],
    ],
)
def test_heaters_that_are_not_all_numbered_are_asked_about(tmp_path: Path, texts: list[tuple[str, str]]) -> None:
    assert assets(tmp_path, *texts, ("HEATER, IMMERSION, #1", "TANK-07"), ("HEATER, IMMERSION, #2", "TANK-07")) == []


@pytest.mark.parametrize(
    ("text", "heats"),
    [("HEATER, IMMERSION, PTFE", True), ("HEATER, UNIT, CEILING", False), ("HEATER, DUCT", False), ("HEATER, TANK", True)],
)
def test_what_a_register_names_the_other_way_round(text: str, heats: bool) -> None:
    assert (is_heater(text), bool(other_equipment(text))) == (heats, not heats)


@pytest.mark.parametrize(
    ("remark", "sized"),
    [
        ("od marca są 3 szt.", False), ("since March there are 3 pcs", False), ("2 pcs", True), ("2 to 3 pcs", False),
        ("3 pcs thermostats", True), ("see note (1)", True), ("one heater added", True),
        ("3 spare on the shelf", True), ("titanium", True),
    ],
)  # fmt: skip
def test_a_remark_that_counts_otherwise_is_asked_about(tmp_path: Path, remark: str, sized: bool) -> None:
    rows = [[*HEAD, "Remarks"], ["T-1", 3, 6, 480, 3, None], ["T-2", 2, 9, 480, 3, remark]]
    assert ("T-2" in [one.tank for one in listed(tmp_path, *rows).banks]) == sized


TAKEN_OUT = [
    "tina vazia, resistências retiradas", "resistências removidas", "thermoplongeurs démontés", "résistances déposées", "cannes enlevées",
    "resistencias desmontadas", "calentadores retirados", "resistenze smontate", "riscaldatori rimossi", "resistenze tolte",
    "Heizer entfernt", "Heizstäbe abgebaut", "elementen weggehaald", "grzałki wyjęte", "varmelegeme afmonteret", "heaters pulled",
]  # fmt: skip


@pytest.mark.parametrize("remark", TAKEN_OUT)
def test_heaters_that_were_taken_out_are_not_sized(tmp_path: Path, remark: str) -> None:
    assert read_row_words(remark).fate
    rows = [[*HEAD, "Remarks"], ["T-1", 3, 6, 480, 3, None], ["T-2", 2, 9, 480, 3, remark]]
    assert [one.tank for one in listed(tmp_path, *rows).banks] == ["T-1"]


def test_a_column_of_lines_between_the_sides_of_a_panel(tmp_path: Path) -> None:
    head = ["CKT", "DESCRIPTION", "KW", "P", "BKR A", "PH", "BKR A", "P", "KW", "DESCRIPTION", "CKT"]
    rows: list[Sequence[object]] = [["PANEL HP-3, 480Y/277V 3PH 4W"], head]
    rows += [[1, "TK-4 SOAK HTR 1", 12, 3, 20, "A", 20, 3, 12, "TK-4 SOAK HTR 2", 2], [3, "-", "-", "-", "-", "B", "-", "-", "-", "-", 4]]
    rows += [[7, "TK-5 CLEAN HTR", 9, 3, 15, "A", 15, 3, 3.2, "TK-5 FILTER PUMP", 8]]
    assert heaters(listed(tmp_path, *rows)) == [("TK-4", 1, 12, 480, 3), ("TK-5", 1, 9, 480, 3), ("TK-4", 1, 12, 480, 3)]


def test_words_for_phases_under_a_heading_of_feeders(tmp_path: Path) -> None:
    head = ["Cuve", "Qté", "Puiss. unit. (kW)", "Tension (V)", "Alim."]
    job = listed(tmp_path, head, ["C1", 4, 9, 400, "tri"], ["C2", 1, 2, 230, "mono"], ["C3", 2, 6, 400, "tri"])
    assert [one.phases for one in job.banks] == [3, 1, 3]


@pytest.mark.parametrize("said", ["tenzij anders vermeld", "sauf indication contraire", "soweit nicht anders angegeben"])
def test_a_supply_for_all_unless_said_otherwise(tmp_path: Path, said: str) -> None:
    rows: list[Sequence[object]] = [["Bad", "Proces", "Liter", "Verwarming", "Groep", "Opmerking"]]
    rows += [
        ["1", "Ontvetten", 80, "2 x 1500 W", 3, "rvs"],
        ["2", "Spoelen", 60, "geen", None, None],
        ["3", "Kleuren", 30, "1 x 500 W", 5, "PTFE"],
    ]
    rows += [["4", "Sealen", 120, "2 x 4500 W, 400 V 3 fase", 6, "rvs"], ["5", "Koper", 50, "1 x 300 W (aquarium)", 8, None]]
    job = listed(tmp_path, [f"230 V 1 fase {said}. Groep = nummer in de verdeelkast."], *rows)
    assert [(one.quantity, one.power_kw, one.volts_v) for one in job.banks] == [(2, 1.5, 230), (1, 0.5, 230), (2, 4.5, 400), (1, 0.3, 230)]
    assert "supply-from-words" in codes(job)
