"""Lists whose layout says what their rows are: stars, drawing titles, comments, several lines, forms. All figures are invented."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

import batch
from batch.intake.remark_words import read_row_words
from batch.records import Job
from tests.intake_book import book, read_bytes

HEAD = ["Tank", "Qty", "kW", "Volts", "Ph"]
EACH = ["Tank", "Qty", "kW each", "Volts", "Ph"]


def listed(folder: Path, *rows: Sequence[object], **more: list) -> Job:
    return read_bytes(folder, book({"Sheet1": list(rows), **more}))


def read(job: Job) -> list[tuple[object, ...]]:
    return [(one.tank, one.quantity, one.power_kw, one.volts_v, one.phases) for one in job.banks]


@pytest.mark.parametrize("text", [
    "tank 8 zinc maybe 2 x 6 kW, they are still thinking", "Becken 8 evtl. 2 x 6 kW", "tank 8 possibly 2 x 6 kW",
    "cuve 8 peut-être 2 x 6 kW", "tanque 8 quizás 2 x 6 kW", "bad 8 misschien 2 x 6 kW", "wanna 8 może 2 x 6 kW", "vasca 8 forse 2 x 6 kW",
])  # fmt: skip
def test_a_doubt_beside_a_power_is_of_the_heaters_and_not_of_the_tank_named(text: str) -> None:
    assert read_row_words(text).fate == "doubt"


def test_a_doubt_about_a_tank_alone_leaves_its_heaters() -> None:
    assert read_row_words("spare tank next to it").fate == ""


def test_stars_say_what_each_power_is_of_and_one_without_is_asked_about(tmp_path: Path) -> None:
    rows = [["T-1", 3, "12*", 480, 3], ["T-2", 2, "9**", 480, 3], ["T-3", 2, 15, 480, 3], ["T-4", 1, 6, 480, 3]]
    job = listed(tmp_path, HEAD, *rows, [], ["* kW per piece"], ["** kW is the sum for the tank"])
    assert read(job) == [("T-1", 3, 12, 480, 3), ("T-2", 2, 4.5, 480, 3), ("T-4", 1, 6, 480, 3)]
    assert [one.message for one in job.findings if "bears no star" in one.message]


def test_a_drawing_number_before_its_title_is_no_tank(tmp_path: Path) -> None:
    rows = [["E-1101", "A", "Tank 4 heaters, 3 x 9 kW, 480 V 3 ph"], ["E-1102", "0", "Tank 7 heaters, 2 x 15 kW, 480 V 3 ph"],
            ["E-1103", "B", "Tank 9 heater, 1 x 6 kW, 240 V 1 ph"]]  # fmt: skip
    job = listed(tmp_path, ["DRAWINGS"], [], ["Dwg no.", "Rev", "Title"], *rows)
    assert read(job) == [("Tank 4", 3, 9, 480, 3), ("Tank 7", 2, 15, 480, 3), ("Tank 9", 1, 6, 240, 1)]


@pytest.mark.parametrize(("remark", "code", "open_end", "answer"), [
    ("HOLD", "row-in-doubt", "leaves open whether it is to be built.", '3 = "keep" or 3 = "leave out"'),
    ("kW to be confirmed", "row-figures-open", "leaves open what the power is.", '3 = { Power = 9 }'),
    ("Spannung noch offen", "row-figures-open", "leaves open what the volts are.", '3 = { Volts = 480 }'),
    ("240 or 480 V", "row-figures-open", "leaves open what the volts are.", '3 = { Volts = 480 }'),
    ("480 V - how many?", "row-figures-open", "leaves open how many heaters there are.", '3 = { Quantity = 3 }'),
    ("on hold, kW to be confirmed", "row-in-doubt", "leaves open whether it is to be built.", '"leave out"'),
])  # fmt: skip
def test_a_doubt_says_what_is_open_and_the_answers_fit(tmp_path: Path, remark: str, code: str, open_end: str, answer: str) -> None:
    job = listed(tmp_path, [*HEAD, "Remarks"], ["T-1", 4, 6, 480, 3], ["T-2", 3, 9, 480, 3, remark])
    [said] = [one for one in job.findings if one.code in ("row-in-doubt", "row-figures-open")]
    assert said.code == code and open_end in said.message and answer in said.message


def test_a_pump_may_be_no_heater(tmp_path: Path) -> None:
    job = listed(tmp_path, [*HEAD, "Remarks"], ["T-1", 4, 6, 480, 3], ["T-2", 3, 9, 480, 3, "dryer fan"])
    [said] = [one for one in job.findings if one.code == "row-in-doubt"]
    assert "leaves open whether it is a heater of a tank." in said.message


def test_the_map_asks_for_the_figure_and_takes_the_value_that_it_offers(tmp_path: Path) -> None:
    path = tmp_path / "list.xlsx"
    path.write_bytes(book({"Sheet1": [[*EACH, "Remarks"], ["T-1", 4, 6, 480, 3], ["T-2", 3, 9, 480, 3, "voltage to be confirmed"]]}))
    asked = batch.check(path).job.map_text
    [line] = [line for line in asked.splitlines() if line.startswith('3 = "?"')]
    assert "what are the volts?" in line and "as { Volts = 480 }" in line
    (tmp_path / "map.toml").write_text(asked.replace(line, "3 = { Volts = 400 }"), encoding="utf-8")
    assert read(batch.check(path, column_map=tmp_path / "map.toml").job)[1] == ("T-2", 3, 9, 400, 3)


BATHS = [
    ["Tank", "Bath", "Qty", "kW each", "Volts", "Ph"],
    ["T-1", "Spülbad", 2, 9, 400, 3], ["T-2", "Spülbad", 2, 9, 400, 3], ["T-3", "Entfettung", 3, 12, 400, 3],
    ["T-4", "Nickel", 3, 12, 400, 3], ["T-5", "Chrome", 2, 6, 400, 3],
]  # fmt: skip


@pytest.mark.parametrize(("sentence", "asked"), [
    ("Die beiden Spülbäder entfallen", ["T-1", "T-2"]),
    ("Die beiden Spülbäder werden nicht beheizt.", ["T-1", "T-2"]),
    ("Das Nickelbad bekommt 4 Heizer.", ["T-4"]),
    ("Die Nickelheizer werden beigestellt", ["T-4"]),
    ("The last tank is cancelled.", ["T-5"]),
    ("Die letzten beiden Becken entfallen.", ["T-4", "T-5"]),
    ("le dernier bac est annulé", ["T-5"]),
    ("The first two tanks are by others.", ["T-1", "T-2"]),
    ("T-5 = T-4", ["T-5"]),
    ("T-4 is existing tank, new heater", []),
    ("The T-4 tank is existing, heater is new", []),
    ("The last tank stands beside the door.", []),
])  # fmt: skip
def test_a_sentence_names_rows_by_place_by_compounds_and_by_an_equals_sign(tmp_path: Path, sentence: str, asked: list[str]) -> None:
    assert [one.tank for one in listed(tmp_path, *BATHS, [], [sentence]).unread] == asked


def test_rows_of_a_list_whose_powers_are_all_odd_are_each_told(tmp_path: Path) -> None:
    for folder, powers in (("one", [-9, "#REF!", "1.2E+01"]), ("two", ["#REF!", "#NUM!", "#VALUE!"])):
        (tmp_path / folder).mkdir()
        job = listed(tmp_path / folder, EACH, *[[f"T-{at}", 2, power, 480, 3] for at, power in enumerate(powers, start=1)])
        told = {one.cell for one in job.findings if one.code in ("cell-negative", "cell-not-number")}
        assert told == {f"C{at}" for at, power in enumerate(powers, start=2) if power != "1.2E+01"}
        assert [one.power_kw for one in job.banks] == [12] * (folder == "one")


def test_a_column_of_lost_links_says_nothing_against_the_supply_of_all(tmp_path: Path) -> None:
    rows = [["T-1", 3, 12, "#REF!"], ["T-2", 2, 9, "#REF!"]]
    title = [["Supply to all tanks: 480 V / 3 ph / 60 Hz"], [], EACH[:4]]
    assert read(listed(tmp_path, *title, *rows)) == [("T-1", 3, 12, 480, 3), ("T-2", 2, 9, 480, 3)]
    (tmp_path / "some").mkdir()
    assert {"T-1", "T-2"} <= {one.tank for one in listed(tmp_path / "some", *title, ["T-0", 3, 12, 240], *rows).unread}


def test_a_form_of_one_tank_a_sheet_with_its_heaters_in_one_line(tmp_path: Path) -> None:
    def form(tank: str, *heaters: object) -> list[list[object]]:
        line = [part for pair in zip(["No. of heaters", "kW each", "Volts", "Phase"], heaters, strict=True) for part in pair]
        return [["HEATER INQUIRY"], [], ["Tank no.", tank], ["Process", "Alkaline cleaner"], ["Length in", 96], [], line]

    tanks = {"Tank 1": form("1", 3, 9, 480, 3), "Tank 2": form("2", 1, 3, 240, 1), "Tank 3": form("3", 2, "?", 480, 3)}
    job = read_bytes(tmp_path, book(tanks))
    assert read(job) == [("1", 3, 9, 480, 3), ("2", 1, 3, 240, 1)] and [one.tank for one in job.unread] == ["3"]


def test_a_sign_over_phases_and_an_installed_power_under_a_heat_balance(tmp_path: Path) -> None:
    head = [["Bath", None, "Heat balance", None, "Heaters"], ["No.", "Solution", "Loss kW", "Inst. kW", "no.", "kW", "V", "~"]]
    rows = [[1, "degrease", 24.5, 30, 2, 15, 400, 3], [2, "pickle", 8.1, 12, 2, 6, 400, 3], [3, "phosphate", 33, 40, 4, 9, 400, 3],
            [4, "oil", 2.3, 3, 1, 3, 230, 1]]  # fmt: skip
    merged = {"S": ["A1:B1", "C1:D1", "E1:H1"]}
    job = read_bytes(tmp_path, book({"S": [*head, *rows]}, merged=merged))
    assert read(job) == [("1", 2, 15, 400, 3), ("2", 2, 6, 400, 3), ("4", 1, 3, 230, 1)]
    assert any("40 kW" in one.message for one in job.findings if one.code == "row-disagrees")


LINES = ["Tina", "Cant. por línea", "No. de líneas", "Total pzas", "kW c/u", "Voltaje"]
OF_LINES = [["T1", 2, 3, 6, 12, "440 V 3F"], ["T2", 1, 3, 3, 6, "440 V 3F"], ["T3", 3, 1, 3, 15, "440 V 3F"]]


def test_heaters_of_all_lines_are_counted_where_the_total_is_number_times_lines_in_every_row(tmp_path: Path) -> None:
    title = ["Líneas A, B y C son iguales salvo lo indicado."]
    job = listed(tmp_path, title, [], LINES, *OF_LINES, ["T4", 2, "2 ó 3", None, 12, "440 V 3F"])
    assert read(job) == [("T1", 6, 12, 440, 3), ("T2", 3, 6, 440, 3), ("T3", 3, 15, 440, 3)]
    assert [one.tank for one in job.unread] == ["T4"]


def test_a_total_that_is_not_number_times_lines_is_asked_about(tmp_path: Path) -> None:
    assert not listed(tmp_path, LINES, *OF_LINES, ["T4", 2, 3, 5, 12, "440 V 3F"]).banks
