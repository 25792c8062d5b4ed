"""Lines of one heater each, under banners or with a circuit's number; a row without the code that the others bear. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.test_intake_plain_lists import read_list

CIRCUITS = ["Heater", "Contactor", "kW", "Sheath"]
FIRST = [["TANK 210 - SOAK - 480 V, 3 PH"], ["Heater 1", "C1", 12, "SS"], ["Heater 2", "C2", 12, "SS"], ["Subtotal", "", 24]]
SECOND = [["TANK 230 - RINSE - 240 V, 1 PH"], ["Heater 1", "C6", 4.5, "SS"], ["Subtotal", "", 4.5]]


def test_numbered_heaters_under_the_banners_of_their_tanks(tmp_path: Path) -> None:
    job = read_list(tmp_path, ["HEATER CIRCUITS"], [], CIRCUITS, *FIRST, *SECOND)
    assert [(one.tank, one.quantity, one.power_kw, one.volts_v) for one in job.banks] == [
        ("TANK 210", 1, 12.0, 480.0), ("TANK 210", 1, 12.0, 480.0), ("TANK 230", 1, 4.5, 240.0),
    ]  # fmt: skip


def test_a_number_that_lacks_leaves_the_count_open(tmp_path: Path) -> None:
    gap = [FIRST[0], FIRST[1], ["Heater 3", "C2", 12, "SS"], FIRST[3]]
    assert not read_list(tmp_path, ["HEATER CIRCUITS"], [], CIRCUITS, *gap, *SECOND).banks
    several = [FIRST[0], FIRST[1], ["Side heaters", "C2", 12, "SS"], FIRST[3]]
    assert not read_list(tmp_path, ["HEATER CIRCUITS"], [], CIRCUITS, *several, *SECOND).banks


def test_a_line_that_counts_among_lines_of_one_heater(tmp_path: Path) -> None:
    head = ["Circuit", "Bath", "Item description", "kW", "V", "Phase"]
    rows = [
        ["F1", "B1", "Soak, immersion heater 1", 6, 400, 3], ["F2", "B1", "Soak, immersion heater 2", 6, 400, 3],
        ["F3", "B2", "Nickel, immersion heater 1", 4.5, 400, 3], ["F4", "B2", "Nickel, immersion heater 2", 4.5, 400, 3],
        ["F5", "B3", "Chrome, two immersion heaters", "2 x 3", 400, 3], ["F6", "B4", "Rinse, immersion heater", 9, 400, 3],
    ]  # fmt: skip
    job = read_list(tmp_path, head, *rows)
    assert [(one.tank, one.quantity, one.power_kw) for one in job.banks] == [
        ("B1", 1, 6.0), ("B1", 1, 6.0), ("B2", 1, 4.5), ("B2", 1, 4.5), ("B3", 2, 3.0), ("B4", 1, 9.0),
    ]  # fmt: skip
    rows[4] = ["F5", "B3", "Chrome, immersion heaters", 6, 400, 3]  # how many is not said
    assert not read_list(tmp_path, head, *rows).banks


@pytest.mark.parametrize("coded", [True, False])
def test_a_row_without_the_code_that_nearly_all_bear_is_asked(coded: bool, tmp_path: Path) -> None:
    head = ["Tank", "Qty", "kW each", "Volts", "Ph", "Action"]
    legend = "ACTION: R = replace  K = keep, leave alone  X = pull it, do not replace"
    rows = [["T1", 1, 9, 480, 3, "R"], ["T2", 1, 9, 480, 3, "R"], ["T3", 2, 6, 480, 3, "X"], ["T4", 1, 6, 480, 3, "R"]]
    last = ["T5", 1, 6, 480, 3, "" if coded else "R"]
    job = read_list(tmp_path, ["Heater walkdown"], [legend], [], head, *rows, last)
    assert [one.tank for one in job.banks] == (["T1", "T2", "T4"] if coded else ["T1", "T2", "T4", "T5"])


def test_a_blank_among_letters_that_no_legend_explains_is_no_question(tmp_path: Path) -> None:
    head = ["Tank", "Qty", "kW each", "Volts", "Ph", "Rack"]
    rows = [[f"T{at}", 1, 9, 480, 3, "R" if at < 5 else ""] for at in range(1, 6)]
    told = ["X = pulled, do not replace   R = replace"]
    assert len(read_list(tmp_path, ["Heaters"], [], head, *rows).banks) == 5
    others = [[*row[:5], "B" if row[5] else ""] for row in rows]
    assert len(read_list(tmp_path, ["Heaters"], told, [], [*head[:5], "Bay"], *others).banks) == 5
