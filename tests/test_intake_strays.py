"""Words beside the columns of a list, and columns that restate its numbers: they say something of a row, of another one, or of all."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake_book import book, read_bytes
from tests.test_intake_asked_elsewhere import tanks
from tests.test_lists import HEAD, listed

A, B, C = ["T-1", 2, 6, 480, 3], ["T-2", 2, 9, 480, 3], ["T-3", 1, 4.5, 480, 3]
ALL = ["T-1", "T-2", "T-3"]


@pytest.mark.parametrize("word", ["dead", "x3", "NO", "-> T-9", "not this one"])
def test_a_word_under_no_heading_is_asked_about(tmp_path: Path, word: str) -> None:
    assert tanks(listed(tmp_path, [*HEAD, None], [*A, word], B, C)) == ["T-2", "T-3"]


@pytest.mark.parametrize("word", ["rush", "new liner", "Bob", "see below"])
def test_a_word_under_no_heading_that_says_nothing_of_heaters_asks_nothing(tmp_path: Path, word: str) -> None:
    assert tanks(listed(tmp_path, [*HEAD, None], [*A, word], B, C)) == ALL


def test_a_note_below_the_list_is_none_of_its_last_row(tmp_path: Path) -> None:
    """Wherever it begins."""
    assert tanks(listed(tmp_path, HEAD, A, B, C, [None], [None, "heaters 316 SS"])) == ALL
    assert tanks(listed(tmp_path, HEAD, A, B, C, [None, "heaters 316 SS"])) == ALL


def test_a_column_without_a_heading_that_has_words_in_most_rows_is_no_remark(tmp_path: Path) -> None:
    assert tanks(listed(tmp_path, [*HEAD, None], [*A, "west"], [*B, "west"], [*C, "annex"])) == ALL


@pytest.mark.parametrize("word", ["T-2 deleted", "T-2 not needed"])
def test_a_word_in_the_row_of_another_tank_takes_out_the_one_it_names(tmp_path: Path, word: str) -> None:
    """Neither is sized without a question: which of them is meant is not sure."""
    job = listed(tmp_path, [*HEAD, None], [*A, word], B, C)
    assert tanks(job) == ["T-3"] and [one.tank for one in job.unread] == ["T-1", "T-2"]


@pytest.mark.parametrize("word", ["void, see T-2", "replaced by T-2", "TANK DELETED REV 2"])
def test_where_a_row_has_gone_is_no_word_about_that_row(tmp_path: Path, word: str) -> None:
    assert "T-2" in tanks(listed(tmp_path, [*HEAD, "Remarks"], [*A, word], B, C))


@pytest.mark.parametrize("word", ["and T-9", "incl. in T-2", "shared with T-2", "per element", "x3", "N/R"])
def test_a_row_that_stands_for_another_too_is_asked_about(tmp_path: Path, word: str) -> None:
    assert tanks(listed(tmp_path, [*HEAD, "Remarks"], [*A, word], B, C)) == ["T-2", "T-3"]


@pytest.mark.parametrize("word", ["(not used)", "240V 1ph", "5 now", "one heater dead"])
def test_a_line_below_a_row_is_about_that_row_where_it_stands_in_another_column_than_the_tanks(tmp_path: Path, word: str) -> None:
    head = ["Tank", "Service", *HEAD[1:]]
    rows = [["T-1", "Soak", *A[1:]], [None, word], ["T-2", "Rinse", *B[1:]], ["T-3", "Seal", *C[1:]]]
    assert "T-1" not in tanks(listed(tmp_path, head, *rows))


def test_words_behind_the_headings_are_about_the_list(tmp_path: Path) -> None:
    assert "T-2" not in tanks(listed(tmp_path, [*HEAD, None, "T-2 deleted"], A, B, C))
    assert not tanks(listed(tmp_path, [*HEAD, None, "kW = total per tank"], A, B))


@pytest.mark.parametrize(
    "heading",
    ["Revised qty", "As-built qty", "Qty 2025", "Verified", "Dead", "Out of service", "Running",
     "Of which spare", "Aux qty", "Defekt", "Réel",
     "Cant. nueva", "Guasti", "Defect", "Uszkodzone", "Trasiga", "Queimadas", "Vadné", "Corrected kW", "kW measured"],
)  # fmt: skip
def test_a_number_restated_is_asked_about_where_it_is_another(tmp_path: Path, heading: str) -> None:
    assert tanks(listed(tmp_path, [*HEAD, heading], [*A, 1], [*B, None], [*C, None])) == ["T-2", "T-3"]


def test_a_number_restated_that_is_the_same_asks_nothing(tmp_path: Path) -> None:
    assert tanks(listed(tmp_path, [*HEAD, "Verified"], [*A, 2], [*B, 2], [*C, 1])) == ALL
    assert tanks(listed(tmp_path, [*HEAD, "Corrected kW"], [*A, 12], [*B, 9], [*C, 4.5])) == ALL
    assert tanks(listed(tmp_path, [*HEAD, "Rev"], [*A, 1], [*B, 3], [*C, 5])) == ALL
    assert tanks(listed(tmp_path, [*HEAD, "Spares"], [*A, 1], [*B, 3], [*C, 3])) == ALL  # to be supplied beside them


@pytest.mark.parametrize("heading", ["New qty", "Qty (as built)", "Qty new", "Revised qty", "Neue Anzahl"])
def test_a_number_beside_the_number_is_no_rival_of_it(tmp_path: Path, heading: str) -> None:
    """Where it is blank, or the same, the row stands; where it is another, that row is asked about, and no other."""
    first = "Anzahl" if "Anzahl" in heading else "Qty"
    head = [HEAD[0], first, heading, *HEAD[2:]]
    rows = [[A[0], A[1], 5, *A[2:]], [B[0], B[1], None, *B[2:]], [C[0], C[1], C[1], *C[2:]]]
    assert tanks(listed(tmp_path, head, *rows)) == ["T-2", "T-3"]


def test_of_what_was_and_what_is_new_a_blank_stays_open(tmp_path: Path) -> None:
    """It may be none that is to be bought."""
    rows = [[A[0], A[1], 5, *A[2:]], [B[0], B[1], None, *B[2:]]]
    assert tanks(listed(tmp_path, ["Tank", "Existing qty", "New qty", *HEAD[2:]], *rows)) == ["T-1"]


def test_none_to_be_bought_is_asked_about(tmp_path: Path) -> None:
    assert tanks(listed(tmp_path, [*HEAD, "To buy"], [*A, 0], [*B, 2], [*C, 1])) == ["T-2", "T-3"]


@pytest.mark.parametrize("heading", ["Cells", "No. of cells", "Stations", "Zellen", "Celdas"])
def test_a_row_of_several_cells_is_asked_about(tmp_path: Path, heading: str) -> None:
    assert tanks(listed(tmp_path, [*HEAD, heading], [*A, 2], [*B, 1], [*C, 1])) == ["T-2", "T-3"]


@pytest.mark.parametrize("bath", ["Holding tank (no heater)", "Rinse - unheated", "Acid, not heated"])
def test_a_bath_that_is_called_unheated_is_asked_about(tmp_path: Path, bath: str) -> None:
    head = ["Tank", "Service", *HEAD[1:]]
    assert tanks(listed(tmp_path, head, ["T-1", bath, *A[1:]], ["T-2", "Cold rinse", *B[1:]])) == ["T-2"]


def test_what_a_tank_is_heated_with_is_no_supply(tmp_path: Path) -> None:
    assert tanks(listed(tmp_path, [*HEAD, "Heat source"], [*A, "Steam"], [*B, "Electric"], [*C, "Electric"])) == ["T-2", "T-3"]


@pytest.mark.parametrize(
    "sentence",
    ["Tank T-2: no heaters needed", "Tank T-2 no longer exists", "Tank T-2 is a cold tank", "T-2 does not need heaters any more"],
)  # fmt: skip
def test_a_sentence_that_leaves_a_tank_unheated_is_asked_about(tmp_path: Path, sentence: str) -> None:
    assert "T-2" not in tanks(listed(tmp_path, HEAD, A, B, C, [None], [sentence]))


@pytest.mark.parametrize("mark", ["* steam", "* two tanks", "* per side", "* idle"])
def test_a_star_of_two_words_that_nobody_knows_is_asked_about(tmp_path: Path, mark: str) -> None:
    assert tanks(listed(tmp_path, HEAD, ["T-1*", *A[1:]], B, C, [None], [mark])) == ["T-2", "T-3"]


@pytest.mark.parametrize("mark", ["* PTFE", "* new", "* with thermostat"])
def test_a_star_of_a_material_asks_nothing(tmp_path: Path, mark: str) -> None:
    assert len(tanks(listed(tmp_path, HEAD, ["T-1*", *A[1:]], B, C, [None], [mark]))) == 3


@pytest.mark.parametrize(
    "sentence",
    ["kW shown is per element, three elements per heater", "Ratings in HP", "Values in kVA", "Voltage is L-N",
     "kW are per phase", "Two off each",
     "We have three of each tank.", "Same again for line 2", "Puissances en CV", "Potência por fase"],
)  # fmt: skip
def test_a_sentence_that_gives_all_figures_another_meaning_is_asked_about(tmp_path: Path, sentence: str) -> None:
    assert not tanks(listed(tmp_path, HEAD, A, B, C, [None], [sentence]))


def test_an_element_is_a_heater_where_nothing_counts_it_apart(tmp_path: Path) -> None:
    assert tanks(listed(tmp_path, ["Heaters (kW per element)"], HEAD, A, B, C)) == ALL


def test_the_same_in_a_text(tmp_path: Path) -> None:
    text = "Tank,Qty,kW each,Volts,Ph,Revised qty\nT-1,2,6,480,3,3\nT-2,2,9,480,3,\n"
    assert tanks(read_bytes(tmp_path, text.encode(), "list.csv")) == ["T-2"]
    assert tanks(read_bytes(tmp_path, book({"List": [[*HEAD, "Revised qty"], [*A, 3], [*B, None]]}))) == ["T-2"]
