"""Remarks and sentences with a figure that is none of their row's, or that deny something: asked about, never passed over."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake_book import book, read_bytes
from tests.test_intake_asked_elsewhere import tanks
from tests.test_intake_remarks_stay import ROWS, remarked
from tests.test_lists import HEAD, listed

ALL = ["T-1", "T-2", "T-4"]  # T-2 has three heaters of 9 kW at 480 V, three-phase


@pytest.mark.parametrize(
    "remark",
    ["OK with 2", "2", 2, "15", "240", "not 9 kW!", "not this one", "same as T-1 but 15 kW", "dual voltage 240/480",
     "rated 600 V run at 480",
     "nur 2 nötig", "two needed", "one is enough", "zwei reichen", "solo due", "N°2, 12 kW", "no", "OUT"],
)  # fmt: skip
def test_a_figure_that_is_none_of_the_rows_is_asked_about(tmp_path: Path, remark: object) -> None:
    assert tanks(remarked(tmp_path, "Remarks", remark)) == ["T-1", "T-4"]  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "remark",
    ["9 kW", "27 kW in all", "3 off", "480 V", "480/277 V", "460 V", "ships in 2 crates", "week 34",
     "Lieferung KW 22", "see dwg 220", "Rev 2",
     "1 per tank", "2-wire", "12/24", "5 ft leads", "65 °C", "316L", "panel LP-2", "like tank 5", "was 2 off",
     "2 of them new", "120 V control", "calc 8.2 kW", "6 kW -> 9 kW", "1.5 kW = idle heat", "(2)", "pf 1.0", "in plant 2",
     "due soon", "nove",
     "no lid", "not on emergency power please", "not failed, preventive", "Pos. 2 und 4", "45824", "ratio 1:1", "siehe Hinweis 1",
     "zie opm. 1", "patrz uwaga 1", "se anm. 1", "Priority 1", "24/7", "ref. 12345"],
)  # fmt: skip
def test_a_figure_of_something_else_asks_nothing(tmp_path: Path, remark: str) -> None:
    """Days, lengths, references, what was, what stands beside, and the row's own figures and those that follow of them."""
    assert tanks(remarked(tmp_path, "Remarks", remark)) == ALL  # type: ignore[arg-type]


def test_bare_numbers_in_several_remarks_are_those_of_notes(tmp_path: Path) -> None:
    """The notes stand on the sheet, or were not sent."""
    rows = [[*row, note] for row, note in zip(ROWS, ("1, 2", "2", None), strict=True)]
    assert tanks(listed(tmp_path, [*HEAD, "Notes"], *rows)) == ALL
    rows = [[*row, note] for row, note in zip(ROWS, (None, "2", None), strict=True)]
    assert tanks(listed(tmp_path, [*HEAD, "Notes"], *rows)) == ["T-1", "T-4"]
    assert tanks(listed(tmp_path, [*HEAD, "Notes"], *rows, [None], ["1. PTFE where asked for."], ["2. Leads of 5 ft."])) == ALL


def test_figures_that_stand_in_other_cells_of_the_row_or_in_names_of_tanks_are_known(tmp_path: Path) -> None:
    rows = [["T-105", 2, 12, 480, 3, "450 gal", "as 107"], ["T-107", 3, 9, 480, 3, "700 gal", "700"], ["T-109", 1, 6, 480, 3, "90 gal", ""]]
    assert tanks(listed(tmp_path, [*HEAD, "Contents", "Remarks"], *rows)) == ["T-105", "T-107", "T-109"]


@pytest.mark.parametrize(
    ("remark", "line"),
    [
        ("240", "what the volts are. "), ("same as T-1 but 15 kW", "open what the power is. "),
        ("OK with 2", "how many heaters there are and what the power is"),
    ],
)  # fmt: skip
def test_what_is_asked_fits_the_figure(tmp_path: Path, remark: str, line: str) -> None:
    job = remarked(tmp_path, "Remarks", remark)
    assert any(line in one.message for one in job.findings if one.code == "row-figures-open")  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("sentence", "sized"),
    [
        ("T-2: 2 needed.", ["T-1", "T-4"]), ("Please quote T-2 with 2 only", ["T-1", "T-4"]), ("T-2: one is enough", ["T-1", "T-4"]),
        ("T-2: two will do", ["T-1", "T-4"]), ("T-2 has 2 ladders", ALL), ("T-2: see dwg 220", ALL), ("T-2 is 6 ft deep", ALL),
        ("T-2 - PICKLE 2, 18 m3", ALL), ("T-2: 3 needed", ALL),
    ],
)  # fmt: skip
def test_a_sentence_with_another_number_than_the_row_it_names_is_asked_about(tmp_path: Path, sentence: str, sized: list[str]) -> None:
    assert tanks(listed(tmp_path, HEAD, *ROWS, [None], [sentence])) == sized


@pytest.mark.parametrize("sentence", ["Quote only the 480 V ones", "Please quote only 480 V.", "Bitte nur 480 V anbieten"])
def test_rows_that_a_sentence_leaves_out_by_their_volts_are_asked_about(tmp_path: Path, sentence: str) -> None:
    rows = [*ROWS, ["T-5", 2, 3, 240, 1]]
    assert tanks(listed(tmp_path, HEAD, *rows, [None], [sentence])) == ALL


def test_a_customers_sheet_that_is_called_as_one_of_ours_is_heard(tmp_path: Path) -> None:
    """ "Scope" with sentences on it, where ours has headings."""
    scope = [["Scope notes"], ["T-2: heater stays on its existing circuit, exclude."], ["T-1: panel to be stainless."]]
    job = read_bytes(tmp_path, book({"List": [HEAD, *ROWS], "Scope": scope}))
    assert tanks(job) == ["T-1", "T-4"]


def test_whole_numbers_of_a_text_are_numbers(tmp_path: Path) -> None:
    """A change of the number, of which a text's row has but letters."""
    text = "Tank,Qty,kW each,Volts,Ph,Qty change\nT-1,2,12,480,3,\nT-2,3,9,480,3,-1\nT-4,1,6,480,3,0\n"
    assert tanks(read_bytes(tmp_path, text.encode(), "list.csv")) == ["T-1", "T-4"]


NUMBERED = [["101", 2, 12, 480, 3], ["102", 3, 9, 480, 3], ["103", 1, 6, 480, 3]]


@pytest.mark.parametrize(
    ("sentence", "sized"),
    [
        ("102 by others", ["101", "103"]), ("Delete 102.", ["101", "103"]), ("Do not quote 102.", ["101", "103"]),
        ("102 - existing", ["101", "103"]),
        ("Heaters for 102 are existing", ["101", "103"]), ("All except 102 are to be quoted.", ["101", "103"]),
        ("Not in scope: 102 ft of cable.", ["101", "102", "103"]),
        ("Delete 102 °F alarm.", ["101", "102", "103"]), ("Not in scope: 102 x 4 pipe.", ["101", "102", "103"]),
        ("102 mm of insulation by others", ["101", "102", "103"]),
    ],
)  # fmt: skip
def test_a_number_of_three_digits_names_its_tank_without_a_word_for_it(tmp_path: Path, sentence: str, sized: list[str]) -> None:
    assert tanks(listed(tmp_path, HEAD, *NUMBERED, [None], [sentence])) == sized
