"""What another row, another sheet, a legend or a second column says against a row of heaters: it is asked about. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake import read
from batch.records import Job
from tests.intake_book import DOUBTS, book, codes, in_doubt
from tests.test_intake_plain_lists import heaters, read_list

ROWS: list[list[object]] = [
    ["Tank", "Qty", "kW each", "Volts", "Ph", "Remarks"],
    ["T-101", 2, 6, 480, 3, None], ["T-102", 3, 9, 480, 3, None], ["T-103", 1, 12, 480, 3, None],
]  # fmt: skip


def read_sheets(folder: Path, sheets: dict[str, list[list[object]]]) -> Job:
    (folder / "list.xlsx").write_bytes(book(sheets))
    return read(folder / "list.xlsx")


def tanks(job: Job) -> list[str]:
    return [bank.tank for bank in job.banks]


TANKS: list[list[object]] = [["Tank No.", "Contents", "Gallons", "Heat", "Remarks"], ["T-101", "Soak clean", 800, "electric", None]]


@pytest.mark.parametrize(
    ("row", "asked"),
    [
        (["T-102", "Nickel", 700, "electric", "TANK DELETED rev 3"], True),
        (["T-102", "Nickel", 700, "none", None], True),
        (["T-102", "Nickel", 700, "steam", None], True),
        (["T-102", "Nickel", 700, "electric", None], False),
        (["T-102", "Nickel", 700, "electric", "new liner"], False),
    ],
)
def test_heaters_of_a_tank_that_its_own_sheet_takes_out_are_asked(row: list[object], asked: bool, tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {"Tank list": [*TANKS, row, ["T-103", "Rinse", 600, "electric", None]], "Htrs": ROWS})
    assert ("T-102" not in tanks(job)) == asked and {"T-101", "T-103"} <= set(tanks(job))
    said = [finding for finding in job.findings if finding.code in DOUBTS]
    assert [finding.cell for finding in said] == (["A3"] if asked else [])
    assert all("Row 3 " in finding.message and "Tank list" in finding.message for finding in said)


@pytest.mark.parametrize(
    ("words", "asked"), [("Hold until we tell you", True), ("Not wanted from you", True), ("Leads 3 m, titanium", False)]
)
def test_a_sheet_of_notes_speaks_for_the_tanks_that_its_rows_begin_with(words: str, asked: bool, tmp_path: Path) -> None:
    job = read_sheets(tmp_path, {"Htrs": ROWS, "Overleaf": [["Notes of the shop"], ["T-102", words], ["General", "no hurry"]]})
    assert tanks(job) == (["T-101", "T-103"] if asked else ["T-101", "T-102", "T-103"])


def test_both_of_two_alternates_are_asked(tmp_path: Path) -> None:
    head = ["Heater tag", *ROWS[0]]
    rows = [[f"TH-{at}", *row] for at, row in enumerate(ROWS[1:], 21)]
    job = read_list(tmp_path, head, *rows, ["TH-24", "T-101", 1, 12, 480, 3, "alternate to TH-21, pick one"])
    assert tanks(job) == ["T-102", "T-103"]


@pytest.mark.parametrize(
    "said", ["Alternate to TH-21, price only", "Alternativposition zu TH-21, nur anbieten", "Option à TH-21, prix seul", "Wahlposition"]
)
def test_what_an_alternate_that_is_priced_only_stands_beside_is_bought(said: str, tmp_path: Path) -> None:
    """The alternate itself is asked about."""
    rows = [[f"TH-{at}", *row] for at, row in enumerate(ROWS[1:], 21)]
    job = read_list(tmp_path, ["Heater tag", *ROWS[0]], *rows, ["TH-24", "T-101", 1, 12, 480, 3, said])
    assert tanks(job) == ["T-101", "T-102", "T-103"] and len(job.banks) == len(rows)


@pytest.mark.parametrize(("legend", "asked"), [("(E) = EXISTING LOAD, TO REMAIN.", True), ("(E) = east side of the line", False)])
def test_a_code_in_brackets_that_a_legend_explains(legend: str, asked: bool, tmp_path: Path) -> None:
    rows = [[row[0], f"{row[0]} heater{' (E)' if at == 1 else ''}", *row[1:5]] for at, row in enumerate(ROWS[1:])]
    job = read_list(tmp_path, ["Tank", "Description", "Qty", "kW each", "Volts", "Ph"], *rows, [], [legend])
    assert tanks(job) == (["T-101", "T-103"] if asked else ["T-101", "T-102", "T-103"])


@pytest.mark.parametrize(("new", "asked"), [(12, True), (9, False), (None, False)])
def test_a_second_power_that_differs_is_asked(new: object, asked: bool, tmp_path: Path) -> None:
    head = ["Tank", "Qty", "kW each", "Volts", "Ph", "New kW (if other)"]
    rows: list[list[object]] = [[*row[:5], None] for row in ROWS[1:]]
    rows[1][5] = new
    rows[2][5] = 12
    job = read_list(tmp_path, head, *rows)
    assert ("T-102" not in tanks(job)) == asked


@pytest.mark.parametrize(("volts", "phases", "read"), [(690, 1, False), (690, 3, True), (480, 1, True), (600, 1, True)])
def test_one_phase_above_600_v_is_asked(volts: float, phases: int, read: bool, tmp_path: Path) -> None:
    job = read_list(tmp_path, *[row[:5] for row in ROWS], ["T-104", 1, 4.5, volts, phases])
    assert ("T-104" in tanks(job)) == read and ("value-unlikely" in codes(job)) != read


def test_one_row_of_one_phase_at_400_v_among_others_at_230_v(tmp_path: Path) -> None:
    rows = [["T-1", 2, 6, 400, 3], ["T-2", 1, 3, 230, 1], ["T-3", 1, 2, 230, 1], ["T-4", 1, 3, 400, 1]]
    assert tanks(read_list(tmp_path, ROWS[0][:5], *rows)) == ["T-1", "T-2", "T-3"]
    assert tanks(read_list(tmp_path, ROWS[0][:5], *rows, ["T-5", 1, 3, 400, 1])) == ["T-1", "T-2", "T-3", "T-4", "T-5"]


PANELS: list[list[object]] = [
    ["PANEL HP-4", None, "480Y/277 V, 3 PH, 4 W", "MAIN 225 A", "BUS 225 A"], ["CKT", "DESCRIPTION", "KW", "POLES", "TRIP"],
    [1, "TK-3 CLEANER HTR #1", 9, 3, 15], [7, "TK-3 CLEANER HTR #2", 9, 3, 15],
    [13, "TK-4 HTR #1", 6, 3, 15], [15, "TK-18 DYE HTR #1", 3, 1, 15],
    [None, "TOTAL CONNECTED", 27, "KW", None], [],
    ["PANEL LP-2", None, "208Y/120 V, 3 PH, 4 W", "MAIN 100 A", "BUS 100 A"], ["CKT", "DESCRIPTION", "KW", "POLES", "TRIP"],
    [1, "TK-22 PASSIVATE HTR #1", 6, 3, 25], [7, "TK-22 PASSIVATE HTR #2", 6, 3, 25],
]  # fmt: skip


def test_each_panel_of_a_sheet_gives_its_circuits_its_own_volts(tmp_path: Path) -> None:
    """Three poles: between lines; one pole: to neutral (480/277, 208/120: NEC 2023, Article 100, voltage, nominal)."""
    job = read_list(tmp_path, *PANELS)
    assert {(bank.tank, bank.volts_v, bank.phases) for bank in job.banks} == {
        ("TK-3", 480.0, 3), ("TK-4", 480.0, 3), ("TK-18", 277.0, 1), ("TK-22", 208.0, 3),
    }  # fmt: skip


SURVEY: list[list[object]] = [
    ["Ref", "Vat", "Process", "Rating (kW)", "Volts", "Phase"],
    ["H1", "V3", "Soak cleaner", 6, 400, 3], ["H2", "V3", "Soak cleaner", 6, 400, 3],
    ["H3", "V8", "Copper", 3, 230, 1], ["H4", "V8", "Copper", 3, 230, 1], ["H5", "V10", "Nickel", 2, 230, 1],
]  # fmt: skip


def test_a_tag_of_its_own_makes_a_line_one_heater(tmp_path: Path) -> None:
    assert heaters(read_list(tmp_path, *SURVEY)) == [
        ("V3", 1, 6, 400, 3), ("V3", 1, 6, 400, 3), ("V8", 1, 3, 230, 1), ("V8", 1, 3, 230, 1), ("V10", 1, 2, 230, 1),
    ]  # fmt: skip


@pytest.mark.parametrize("why", ["a tag twice", "one line a tank", "bank of heaters", "immersion heaters"])
def test_lines_that_may_be_of_several_heaters_are_asked(why: str, tmp_path: Path) -> None:
    rows = [list(row) for row in SURVEY]
    if why == "a tag twice":
        rows[2][0] = rows[3][0] = "H1"
    elif why == "one line a tank":
        for at, row in enumerate(rows[1:]):
            row[1] = f"V{at}"
    else:
        rows = [[*row[:3], "Type" if at == 0 else why, *row[3:]] for at, row in enumerate(rows)]
    job = read_list(tmp_path, *rows)
    assert not job.banks


def test_a_supply_over_a_further_table_is_not_that_of_the_one_above(tmp_path: Path) -> None:
    head = ["Tank", "Solution", "No. of heaters", "kW each", "Note"]
    rows: list[list[object]] = [
        ["TABLE 1: BARREL LINE (all 400 V 3 phase)"], head, ["B1", "Hot soak", 4, 6, None], ["B2", "Zinc", 2, 4.5, None], [],
        ["TABLE 2: RACK LINE (all 230 V single phase)"], head, ["R1", "Soak", 2, 3, None], ["R4", "Strike", 1, 3, None],
    ]  # fmt: skip
    job = read_list(tmp_path, *rows)
    assert [(bank.tank, bank.volts_v, bank.phases) for bank in job.banks] == [
        ("B1", 400.0, 3), ("B2", 400.0, 3), ("R1", 230.0, 1), ("R4", 230.0, 1),
    ]  # fmt: skip


@pytest.mark.parametrize(("name", "fate"), [("Ultrasonic wash", "asked"), ("Ultrasonic generator", "left")])
def test_an_ultrasonic_bath_is_no_other_equipment(name: str, fate: str, tmp_path: Path) -> None:
    head = ["Pos.", "Tank", "Description", "Total kW", "Quantity", "Volts", "Ph"]
    rows = [[1, "L1", "Prewash", 9, 3, 480, 3], [2, "L2", name, 6, 2, 480, 3], [3, "L3", "Hot rinse", 12, 2, 480, 3]]
    job = read_list(tmp_path, head, *rows)
    assert (in_doubt(job)) == (fate == "asked") and "L2" not in tanks(job)


def test_headings_in_two_languages_are_read_as_one(tmp_path: Path) -> None:
    head = ["Rép. / Tag", "Procédé / Process", "Qté / Qty", "kW par unité / kW ea.", "V", "Ph"]
    rows = [[f"C-0{at}", "Gravure / Etch", count, 15, 600, 3] for at, count in enumerate((3, 2, 4, 2, 3), 1)]
    assert heaters(read_list(tmp_path, head, *rows)) == [(row[0], row[2], 15, 600, 3) for row in rows]


def test_three_phases_as_spanish_lists_write_them(tmp_path: Path) -> None:
    rows = [["C-01", 4, 9, "400 V III"], ["C-02", 3, 9, "400 V III"], ["C-03", 1, 3, "230 V"]]
    job = read_list(tmp_path, ["Cuba", "Nº resist.", "kW ud.", "Tensión"], *rows)
    assert heaters(job)[:2] == [("C-01", 4, 9, 400, 3), ("C-02", 3, 9, 400, 3)] and "C-03" not in tanks(job)


def test_a_numbered_note_that_explains_a_code_is_no_code_itself(tmp_path: Path) -> None:
    rows = [[at, *row[:5]] for at, row in enumerate(ROWS[1:], 1)]
    job = read_list(tmp_path, ["Item", *ROWS[0][:5]], *rows, [], ["1. (E) = EXISTING, TO REMAIN"])
    assert tanks(job) == ["T-101", "T-102", "T-103"]


def test_objects_with_a_tag_each_are_one_heater_a_line(tmp_path: Path) -> None:
    rows = [
        ["EV-110-1", "Doppvärmare avfettning", "K110", 6, 400, 3], ["EV-110-2", "Doppvärmare avfettning", "K110", 6, 400, 3],
        ["P-110", "Cirkulationspump avfettning", "K110", 1.1, 400, 3],
        ["EV-120-1", "Doppvärmare betning", "K120", 6, 400, 3], ["EV-120-2", "Doppvärmare betning", "K120", 6, 400, 3],
    ]  # fmt: skip
    job = read_list(tmp_path, ["Objekt", "Benämning", "Kar", "Märkeffekt kW", "Spänning V", "Faser"], *rows)
    assert heaters(job) == [("K110", 1, 6, 400, 3), ("K110", 1, 6, 400, 3), ("K120", 1, 6, 400, 3), ("K120", 1, 6, 400, 3)]
