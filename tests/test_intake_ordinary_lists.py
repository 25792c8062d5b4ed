"""Ordinary lists of purchasing departments, panels and e-mails, read without a map. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake_book import read_sheets
from tests.test_intake_plain_lists import HEAD, Heaters, codes, heaters, read_list

HERE = "Sheet1"


def test_a_rating_that_says_the_supply_too(tmp_path: Path) -> None:
    rows: list[list[object]] = [["A-1", "Immersion htr, rinse", 2, "12 kW, 480 V, 3 ph"], ["B-4", "Immersion htr", 1, "3 kW, 240 V, 1 ph"]]
    job = read_list(tmp_path, ["TANK", "DESCRIPTION", "QTY", "RATING (EACH)"], *rows)
    assert heaters(job) == [("A-1", 2, 12, 480, 3), ("B-4", 1, 3, 240, 1)]


def test_a_rating_that_counts_too_is_asked(tmp_path: Path) -> None:
    """2 under QTY and 3 in the rating: nobody's guess."""
    rows: list[list[object]] = [["A-1", "Immersion htr", 2, "12 kW, 480 V, 3 ph"], ["B-4", "Immersion htr", 2, "3 x 3 kW, 240 V, 1 ph"]]
    job = read_list(tmp_path, ["TANK", "DESCRIPTION", "QTY", "RATING (EACH)"], *rows)
    assert heaters(job) == [("A-1", 2, 12, 480, 3)]


PANEL = [
    ["PANEL HP-2    480Y/277 V, 3 PH, 4 W"],
    ["All 3P circuits are 480 V 3 phase. All 1P circuits are 277 V single phase. Load = total on the circuit."],
    [],
    ["CKT", "LOAD SERVED", "CKT kW TOTAL", "POLES", "BKR"],
    [1, "TK-31 HEATER NO. 1", 18, "3P", 30],
    [7, "TK-32 HEATERS (2)", 24, "3P", 40],
    [13, "TK-34 HEATER", 9, "3P", 20],
    [19, "TK-38 HEATERS", 36, "3P", 60],
    [25, "TK-41 HEATER", 4, "1P", 20],
]


def test_one_heater_on_a_circuit_by_its_noun_where_poles_are_its_phases(tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {HERE: PANEL})
    found: list[Heaters] = [("TK-31", 1, 18, 480, 3), ("TK-32", 2, 12, 480, 3), ("TK-34", 1, 9, 480, 3), ("TK-41", 1, 4, 277, 1)]
    assert heaters(job) == found  # how many the HEATERS of TK-38 are is asked


@pytest.mark.parametrize("legend", ["Strike-through = deleted", "Durchgestrichen = entfällt", "Barré = supprimé", "Tachado = eliminado"])
def test_what_struck_rows_are_is_said_of_no_other(legend: str, tmp_path: Path) -> None:
    rows: list[list[object]] = [[legend], [], HEAD[:5], ["T-1", 2, 9, 480, 3], ["T-2", 1, 6, 480, 3]]
    assert heaters(read_sheets(tmp_path, {HERE: rows})) == [("T-1", 2, 9, 480, 3), ("T-2", 1, 6, 480, 3)]


def test_a_title_that_deletes_still_does(tmp_path: Path) -> None:
    rows: list[list[object]] = [["LINE DELETED"], HEAD[:5], ["T-1", 2, 9, 480, 3], ["T-2", 1, 6, 480, 3]]
    assert heaters(read_sheets(tmp_path, {HERE: rows})) == []


SAYS = "kW is for one heater. Number of heaters is per tank."
ASKED = ["Tank", "# htrs", "kW", "V", "Ph"]
TANKS: list[list[object]] = [["BO-1", 2, 9, 480, 3], ["BO-2, BO-3", 3, 15, 480, 3], ["PH-1", 2, 12, 480, 3]]


def test_two_sentences_of_one_line_say_what_power_and_number_are_of(tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {HERE: [[SAYS], [], ASKED, *TANKS]})
    assert heaters(job) == [("BO-1", 2, 9, 480, 3), ("BO-2", 3, 15, 480, 3), ("BO-3", 3, 15, 480, 3), ("PH-1", 2, 12, 480, 3)]


def test_without_the_sentence_on_numbers_two_tanks_are_asked(tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {HERE: [["kW is for one heater."], [], ASKED, *TANKS]})
    assert heaters(job) == [("BO-1", 2, 9, 480, 3), ("PH-1", 2, 12, 480, 3)] and "tanks-question" in codes(job)


@pytest.mark.parametrize(
    "note",
    ["P.S. Forget T-2, the boss wants it on steam.", "Bitte T-2 ignorieren.", "Oubliez T-2.", "Olviden T-2.", "T-2: lasciate perdere.",
     "T-2 proszę zignorować.", "Vergeet T-2.", "Glem T-2.", "Zapomeňte na T-2."],
)  # fmt: skip
def test_a_tank_that_a_note_wants_forgotten_is_not_sized(note: str, tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {HERE: [HEAD[:5], ["T-1", 2, 9, 480, 3], ["T-2", 1, 6, 480, 3], ["T-3", 1, 6, 480, 3], [], [note]]})
    assert [bank.tank for bank in job.banks] == ["T-1", "T-3"]


@pytest.mark.parametrize(("remark", "sized"), [("heat exchanger stays as backup", 2), ("heat exchanger", 1)])
def test_what_stays_as_backup_is_not_the_heater(remark: str, sized: int, tmp_path: Path) -> None:
    job = read_list(tmp_path, HEAD, ["T-1", 2, 9, 480, 3, ""], ["T-2", 3, 12, 480, 3, remark])
    assert len(job.banks) == sized


def test_numbers_for_both_tanks_together_are_not_of_each(tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {HERE: [["kW is for one heater. Heater qty as counted on site."], [], ASKED, *TANKS]})
    assert heaters(job) == [("BO-1", 2, 9, 480, 3), ("PH-1", 2, 12, 480, 3)]


def test_a_machine_under_a_count_of_heaters_is_asked_by_its_tag(tmp_path: Path) -> None:
    head = ["Tag", "Bath", "Heaters", "kW each", "Volts", "Ph"]
    rows: list[list[object]] = [["W-1", "Ultrasonic wash", 2, 3, 480, 3], ["W-2", "Rinse", 1, 3, 480, 3]]
    rows += [["W-3", "Rinse", 1, 6, 480, 3], ["W-4", "Dip", 1, 6, 480, 3]]
    job = read_list(tmp_path, head, *rows, ["UG-1", "Ultrasonic generator", 1, 3, 480, 3])
    assert [bank.tank for bank in job.banks] == ["W-1", "W-2", "W-3", "W-4"]


@pytest.mark.parametrize(
    "sentence",
    ["All heaters 480 V 3 ph EXCEPT (m): 240 V 1 ph", "Alle Heizer 480 V 3~, mit (m) markierte 240 V 1~",
     "Thermoplongeurs en 480 V triphasé, sauf repère (m) : 240 V monophasé", "Resistencias a 480 V trifásica, salvo (m): 240 V monofásica"],
)  # fmt: skip
def test_a_mark_gives_its_rows_another_supply(sentence: str, tmp_path: Path) -> None:
    rows: list[list[object]] = [["T-1", 2, 9, ""], ["T-2 (m)", 1, 3, ""], ["T-3", 1, 2, "(m)"]]
    job = read_sheets(tmp_path, {HERE: [[sentence], [], ["Tank", "Qty", "kW each", "Remarks"], *rows]})
    assert heaters(job) == [("T-1", 2, 9, 480, 3), ("T-2", 1, 3, 240, 1), ("T-3", 1, 2, 240, 1)]


def test_a_sign_that_all_rows_bear_is_no_mark(tmp_path: Path) -> None:
    rows: list[list[object]] = [["T-1", 2, 9, "m"], ["T-2", 1, 3, "m"], ["T-3", 1, 2, "m"]]
    sentence = "All heaters 480 V 3 ph EXCEPT (m): 240 V 1 ph"
    assert heaters(read_sheets(tmp_path, {HERE: [[sentence], [], ["Tank", "Qty", "kW each", "Unit"], *rows]})) == []


def test_a_mark_that_nothing_bears_is_asked(tmp_path: Path) -> None:
    sentence = "All heaters 480 V 3 ph EXCEPT (m): 240 V 1 ph"
    rows: list[list[object]] = [["T-1", 2, 9, ""], ["T-2", 1, 3, ""], ["T-3", 1, 2, ""]]
    assert heaters(read_sheets(tmp_path, {HERE: [[sentence], [], ["Tank", "Qty", "kW each", "Remarks"], *rows]})) == []


@pytest.mark.parametrize(
    "title",
    ["Prepared by Plant Engineering", "Erstellt durch Betreiber", "Préparé par le client", "Elaborado por la planta",
     "Status: N = neu zu liefern, B = Bestand, bleibt, E = entfällt"],
)  # fmt: skip
def test_a_title_about_the_list_takes_no_row_out(title: str, tmp_path: Path) -> None:
    rows: list[list[object]] = [[title], [], HEAD[:5], ["T-1", 2, 9, 480, 3], ["T-2", 1, 6, 480, 3]]
    assert heaters(read_sheets(tmp_path, {HERE: rows})) == [("T-1", 2, 9, 480, 3), ("T-2", 1, 6, 480, 3)]


def test_a_power_with_the_count_behind_it_in_brackets_is_asked(tmp_path: Path) -> None:
    told = {"W01": "3 x 6 kW", "W10": "18 kW (2 Stück)", "W12": "2 x 6 kW"}
    rows: list[list[object]] = [[tank, words, "400 V, 3 ph"] for tank, words in told.items()]
    job = read_list(tmp_path, ["Wanne", "Heizung", "Anschluss"], *rows)
    assert [bank.tank for bank in job.banks] == ["W01", "W12"]


def test_a_note_on_one_tank_is_of_no_other_table(tmp_path: Path) -> None:
    first: list[list[object]] = [HEAD[:5], ["B1", 2, 9, 480, 3], ["B12", 1, 6, 480, 3], [], ["B12 was taken out last summer."], []]
    second: list[list[object]] = [HEAD[:5], ["W1", 2, 9, 480, 3], ["W2", 1, 6, 480, 3]]
    job = read_sheets(tmp_path, {HERE: [*first, *second]})
    assert [bank.tank for bank in job.banks] == ["B1", "W1", "W2"]


@pytest.mark.parametrize(("breaker", "sized"), [(40, False), (20, True)])
def test_a_breaker_right_for_twice_the_power_is_asked_about(breaker: int, sized: bool, tmp_path: Path) -> None:
    """12 kW on 480 V are 14.4 A, and 28.9 A where each of two heaters has them."""
    head = ["CKT", "DESCRIPTION", "KW", "POLES", "BKR A"]
    rows: list[list[object]] = [["1,3,5", "T-21 HTR", 9, 3, 20], ["7,9,11", "T-22 HTR", 12, 3, 20]]
    rows += [["13,15,17", "T-27 HTRS (2)", 12, 3, breaker]]
    job = read_sheets(tmp_path, {HERE: [["PANEL HP-2  480Y/277 V, 3 PH, 4 W"], head, *rows]})
    assert ([bank.tank for bank in job.banks] == ["T-21", "T-22", "T-27"]) == sized and len(job.banks) >= 2


def test_amps_under_a_heading_of_power_are_no_kilowatts(tmp_path: Path) -> None:
    rows: list[list[object]] = [["T-1", 2, "9 kW ea", 480, 3], ["T-2", 2, "14.4 A each", 480, 3], ["T-3", 1, "6 kW", 480, 3]]
    job = read_list(tmp_path, ["Tank", "Heaters", "Rating", "Volts", "Ph"], *rows)
    assert [bank.tank for bank in job.banks] == ["T-1", "T-3"]


@pytest.mark.parametrize("note", ["I was told T-2 should go up to 12 kW each.", "T-2 was 6 kW, 12 kW each since May."])
def test_what_stands_behind_was_is_not_all_of_the_past(note: str, tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {HERE: [HEAD[:5], ["T-1", 2, 9, 480, 3], ["T-2", 1, 6, 480, 3], [], [note]]})
    assert [bank.tank for bank in job.banks] == ["T-1"]


def test_a_remark_that_multiplies_another_power_than_the_total_is_asked(tmp_path: Path) -> None:
    head = ["Tank", "Total kW", "Qty", "Volts", "Ph", "Remarks"]
    rows: list[list[object]] = [["C-1", 18, 3, 400, 3, "3 x 6 kW"], ["C-2", 36, 3, 400, 3, "plate says 3 x 9 kW"]]
    rows += [["C-3", 6, 1, 400, 3, "1 x 10 HP"]]
    assert [bank.tank for bank in read_list(tmp_path, head, *rows).banks] == ["C-1", "C-3"]


def test_tags_of_heaters_beside_names_of_baths_are_one_a_line(tmp_path: Path) -> None:
    head = ["Bad", "Omschrijving", "Element", "Vermogen (kW)", "Spanning (V)", "Fasen"]
    rows: list[list[object]] = [
        ["Bad 1", "Ontvetten", "E1.1", 9, 400, 3], ["", "", "E1.2", 9, 400, 3], ["Bad 2", "Beitsen", "E2.1", 6, 400, 3],
        ["", "", "E2.2", 6, 400, 3], ["Bad 4", "Fluxen", "E4.1", 4.5, 400, 3],
    ]  # fmt: skip
    assert [bank.quantity for bank in read_list(tmp_path, head, *rows).banks] == [1] * 5
