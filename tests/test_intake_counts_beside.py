"""Counts, sums and remarks beside what is read, by which a row would be another: it is asked about. All lists are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake_book import book, read_bytes, said
from tests.test_intake_plain_lists import heaters, read_list

HEAD = ["Tank", "Qty", "kW each", "Volts", "Ph"]
T1, T2, T3 = ("T1", 2, 9, 480, 3), ("T2", 1, 6, 480, 3), ("T3", 1, 4.5, 480, 3)
ROWS = (T1, T2, T3)


@pytest.mark.parametrize("heading", ["Lines", "No. of lines", "Sets", "Multiplier", "Anzahl Linien", "Lignes", "Qty of systems"])
def test_a_number_of_lines_beside_the_heaters_is_asked_about(tmp_path: Path, heading: str) -> None:
    job = read_list(tmp_path, [*HEAD, heading], *([*row, many] for row, many in zip(ROWS, (2, 1, 3), strict=True)))
    assert heaters(job) == [T2]


def test_which_line_a_tank_is_of_asks_nothing(tmp_path: Path) -> None:
    assert heaters(read_list(tmp_path, [*HEAD, "Line"], *([*row, 2] for row in ROWS))) == list(ROWS)


def test_heaters_installed_for_more_than_are_in_duty(tmp_path: Path) -> None:
    rows = [["T1", 3, 2, 1, 9, 480, 3], ["T2", 1, 1, 0, 6, 480, 3], ["T3", 1, 1, 0, 4.5, 480, 3]]
    job = read_list(tmp_path, ["Tank", "Installed", "Duty", "Spare", *HEAD[2:]], *rows)
    assert heaters(job) == [T2, T3]
    assert '3 under "Installed", 1 of them under "Spare"' in said(job, "row-in-doubt")[0].message  # what the spare ones make of it


def test_a_least_and_a_greatest_power(tmp_path: Path) -> None:
    head = ["Tank", "Qty", "kW min", "kW max", "Volts", "Ph"]
    assert heaters(read_list(tmp_path, head, ["T2", 1, 4.5, 6, 480, 3], ["T3", 1, 4.5, 4.5, 480, 3])) == [T3]


def test_a_number_merged_over_the_rows_of_several_tanks(tmp_path: Path) -> None:
    rows = [["Heaters of the line"], HEAD, ["T1", 3, 9, 480, 3], ["T2", "", 9, 480, 3], list(T3)]
    job = read_bytes(tmp_path, book({"Heaters": rows}, merged={"Heaters": ["B3:B4"]}))
    assert heaters(job) == [T3]


def test_a_sub_total_by_its_figures(tmp_path: Path) -> None:
    rows = [["T1", 1, 9], ["T2", 1, 6], ["Pretreatment", 2, 15], ["T3", 1, 4.5], ["T4", 1, 3], ["Plating", 2, 7.5]]
    job = read_list(tmp_path, ["Tank", "Qty", "kW", "Volts", "Ph"], *([*row, 480, 3] for row in rows))
    assert [bank.tank for bank in job.banks] == ["T1", "T2", "T3", "T4"]
    assert "sums of rows 2 to 3" in said(job, "row-in-doubt")[0].message


def test_a_tank_that_happens_to_have_the_sum_of_those_above(tmp_path: Path) -> None:
    rows = (("T1", 1, 9, 480, 3), ("T2", 1, 6, 480, 3), ("T3", 2, 15, 480, 3))
    assert heaters(read_list(tmp_path, HEAD, *(list(row) for row in rows))) == list(rows)


@pytest.mark.parametrize("tag", ["e.g. T-100", "Example", "z.B. B1"])
def test_the_example_of_a_form_is_asked_about(tmp_path: Path, tag: str) -> None:
    assert heaters(read_list(tmp_path, HEAD, [tag, 2, 12, 480, 3], *(list(row) for row in ROWS))) == list(ROWS)


@pytest.mark.parametrize(
    "text",
    [
        "Line A & B (identical)", "Heater list - typical for lines 1 to 3", "Typ. for both lines", "Typical of each line",
        "x 2 lines", "All quantities x2 (two lines)",
        "Gilt für beide Linien", "Valable pour les lignes 1 et 2",
    ],
)  # fmt: skip
def test_a_list_of_several_lines_is_asked_about(tmp_path: Path, text: str) -> None:
    assert not heaters(read_list(tmp_path, HEAD, *(list(row) for row in ROWS), [], [text]))


@pytest.mark.parametrize("text", ["Lines 1 & 2 heater schedule", "Heaters, all lines", "Wash line, typical installation"])
def test_a_title_that_names_lines_asks_nothing(tmp_path: Path, text: str) -> None:
    assert heaters(read_list(tmp_path, [text], HEAD, *(list(row) for row in ROWS))) == list(ROWS)


def remarked(folder: Path, remark: str) -> list:
    rows = ([*row, remark if row is T2 else ""] for row in ROWS)
    return heaters(read_list(folder, [*HEAD, "Remarks"], *rows))


@pytest.mark.parametrize(
    "remark", ["240V", "240V 1ph", "single phase", "400/230 V", "run at 440V", "einphasig", "5 kW", "tot. 20 kW", "8 kW heater", "5000 W"]
)
def test_a_remark_with_another_supply_or_power_is_asked_about(tmp_path: Path, remark: str) -> None:
    assert remarked(tmp_path, remark) == [T1, T3]


@pytest.mark.parametrize(
    "remark",
    [
        "480V", "3 phase", "460 V", "480/277 V", "replaces 240V heater", "was 240V", "120V control", "6 kW", "6 kW heater", "calc 5.2 kW",
    ],
)  # fmt: skip
def test_a_remark_that_agrees_or_is_of_something_else_asks_nothing(tmp_path: Path, remark: str) -> None:
    assert remarked(tmp_path, remark) == list(ROWS)


def test_a_note_by_its_mark_that_counts_a_spare(tmp_path: Path) -> None:
    rows = [list(T1), ["T2", "3**", 6, 480, 3], list(T3), [], ["** includes one spare"]]
    assert heaters(read_list(tmp_path, HEAD, *rows)) == [T1, T3]


@pytest.mark.parametrize(
    ("column", "heading"), [("Sides", "Heaters per side"), ("Circuits", "Heaters per circuit"), ("Seiten", "Heizer je Seite")]
)
def test_heaters_of_each_side_of_a_tank_are_asked_about(tmp_path: Path, column: str, heading: str) -> None:
    head = ["Tank", column, heading, "kW each", "Volts", "Ph"]
    job = read_list(tmp_path, head, ["T1", 2, 3, 9, 480, 3], ["T2", 1, 2, 6, 480, 3])
    assert heaters(job) == [("T2", 2, 6, 480, 3)]


@pytest.mark.parametrize("heading", ["Heaters per tank", "Qty / Anzahl", "No. of heaters", "Heizer je Becken", "Qty/tank"])
def test_heaters_of_each_tank_are_not(tmp_path: Path, heading: str) -> None:
    assert heaters(read_list(tmp_path, ["Tank", heading, *HEAD[2:]], *(list(row) for row in ROWS))) == list(ROWS)


def test_fewer_operating_than_installed(tmp_path: Path) -> None:
    head = ["Tank", "Heaters installed", "Heaters operating", *HEAD[2:]]
    assert heaters(read_list(tmp_path, head, ["T1", 3, 2, 9, 480, 3], ["T2", 1, 1, 6, 480, 3])) == [T2]


def test_one_of_two_described_rows_is_not_its_total(tmp_path: Path) -> None:
    job = read_list(tmp_path, ["Tank", "Heaters", "Total kW", "Supply"], ["T1", "2 x 9 kW", 18, "480/3"], ["T2", "1 x 6 kW", 12, "480/3"])
    assert heaters(job) == [T1]


@pytest.mark.parametrize(
    "note", ["Note 1: heater by owner", "Note 1: heaters by others.", "Note 1: existing heater, keep", "Note 1: two identical lines"]
)
def test_a_note_by_its_number_is_about_the_rows_that_bear_it(tmp_path: Path, note: str) -> None:
    rows = [list(T1), ["T2 - see note 1", *T2[1:]], list(T3), [], [note]]
    assert heaters(read_list(tmp_path, HEAD, *rows)) == [T1, T3]


@pytest.mark.parametrize("remark", ["to remain", "remains", "bleibt", "blijft", "se mantiene", "pozostaje"])
def test_what_remains_is_asked_about(tmp_path: Path, remark: str) -> None:
    assert remarked(tmp_path, remark) == [T1, T3]


def test_a_number_of_heaters_that_are_installed_is_no_total_power(tmp_path: Path) -> None:
    """Guessed by its place beside the powers, though no row's heaters come to it: its own map would stand against every row."""
    rows = [["T-1", 3, 1, 3, 9, 480, 3], ["T-2", 4, 1, 1, 6, 480, 3], ["T-3", 4, 2, 2, 12, 480, 3], ["T-4", 3, 0, 2, 6, 480, 3]]
    job = read_list(tmp_path, ["Tank", "Installed", "Failed", "Replace", "kW each", "Volts", "Phase"], *rows)
    assert [(bank.tank, bank.quantity, bank.power_kw) for bank in job.banks] == [(row[0], float(row[3]), float(row[4])) for row in rows]
    assert "Total power" not in job.map_text.partition("# not used")[0]
