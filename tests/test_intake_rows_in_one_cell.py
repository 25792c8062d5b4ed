"""Sheets whose rows are one text each are read by their marks, or by where the words stand; a sheet of sentences stays what it is."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake import read
from batch.intake.grid import Grid
from batch.intake.passed_over import speaks
from batch.intake.rows_in_one_cell import part_rows
from tests.intake_book import book, codes, read_bytes, said

TABLE = [
    ["Tank", "Process", "Qty", "kW each", "Volts", "Phase"], ["T-1", "Soak clean", "3", "12", "480", "3"],
    ["T-2", "", "2", "12", "480", "3"], ["T-3", "Nickel, bright", "4", "4.5", "480", "3"],
]  # fmt: skip
BANKS = [("T-1", 3, 12.0, 480.0, 3), ("T-2", 2, 12.0, 480.0, 3), ("T-3", 4, 4.5, 480.0, 3)]


def banks(folder: Path, lines: list[str]) -> list[tuple]:
    job = read_bytes(folder, book({"Sheet1": [[line] for line in lines]}))
    return [(bank.tank, bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in job.banks]


def by_spaces(rows: list[list[str]]) -> list[str]:
    return ["".join(f"{cell:18}" for cell in row).rstrip() for row in rows]


@pytest.mark.parametrize("mark", [";", "\t", "|"])
def test_a_text_file_opened_without_its_mark(tmp_path: Path, mark: str) -> None:
    assert banks(tmp_path, ["Line 2, all heaters new", *map(mark.join, TABLE)]) == BANKS


def test_commas_within_quotation_marks_part_nothing(tmp_path: Path) -> None:
    assert banks(tmp_path, [",".join(f'"{cell}"' if "," in cell else cell for cell in row) for row in TABLE]) == BANKS


def test_a_table_pasted_from_a_page(tmp_path: Path) -> None:
    """With its title, whose own gaps part nothing, the end of a page, and headings that come again."""
    pages = ["SECTION 44   TANK HEATERS   SCHEDULE A", *by_spaces(TABLE[:3]), "PAGE 1 OF 2", *by_spaces([TABLE[0], TABLE[3]]), "END"]
    assert banks(tmp_path, pages) == BANKS
    job = read_bytes(tmp_path, book({"Sheet1": [[line] for line in pages]}))
    assert "row as one text in column A: it is read in 6 columns, parted by spaces" in said(job, "sheet-parted")[0].message


def test_words_that_do_not_stand_under_each_other(tmp_path: Path) -> None:
    """In a face whose letters differ in width nothing stands in columns: rows with all their cells are read, others are one text."""
    rows = ["   ".join(row) for row in TABLE if row[1]]
    assert banks(tmp_path, rows) == [BANKS[0], BANKS[2]]


SENTENCES = [
    ["The tank, quantity and power of each are below.", "Volts are 480, three-phase.", "Send it soon, please, to us."],
    ["Heaters for T-1; three of them; 6 kW", "Heaters for T-2; two of them; 9 kW", "Heaters for T-3; one; 3 kW"],  # without headings
    ["Tank;Qty;kW;Volts", "T-1 has 3 of 6 kW", "T-2 has 2 of 9 kW"],  # headings alone
]


@pytest.mark.parametrize("lines", SENTENCES)
def test_sentences_are_not_parted(lines: list[str]) -> None:
    grid = Grid("Sheet1", [[line] for line in lines])
    assert part_rows(grid) == (grid, None)


def test_a_sheet_of_cells_is_left_alone(tmp_path: Path) -> None:
    lines = [[";".join(row), ""] for row in TABLE]
    lines[-1][1] = "x"
    assert "sheet-parted" not in codes(read_bytes(tmp_path, book({"Sheet1": lines})))


def test_a_row_that_is_struck_out_stays_so() -> None:
    grid = Grid("Sheet1", [[";".join(row)] for row in TABLE], struck=frozenset({(2, 0)}))
    made, _ = part_rows(grid)
    assert made.rows[2] == TABLE[2] and made.struck == frozenset((2, at) for at in range(6))


def asked(folder: Path, lines: list[str]) -> list[str]:
    return [one.message for one in said(read_bytes(folder, book({"Sheet1": [[line] for line in lines]})), "row-in-doubt")]


def test_a_comma_within_a_figure_parts_no_cells(tmp_path: Path) -> None:
    """1,5 kW is not 1 kW: the line stays one text and is asked about; where most lines are so, the sheet is not parted."""
    lines = ["Tank,Volts,Ph,Qty,kW each", "T-1,400,3,3,6", "T-2,400,3,2,9", "T-3,400,3,3,1,5", "T-4,400,3,3,6,rush"]
    assert [bank[:3] for bank in banks(tmp_path, lines)] == [("T-1", 3, 6.0), ("T-2", 2, 9.0), ("T-4", 3, 6.0)]
    assert "T-3,400,3,3,1,5" in asked(tmp_path, lines)[0]
    assert banks(tmp_path, [lines[0], *(line + ",5" for line in lines[1:3]), lines[3]]) == []


def test_a_line_out_of_place_is_asked_and_costs_no_other(tmp_path: Path) -> None:
    """Of a sheet and of a file of text: the blank of T-2 can be under any heading once a line stands askew."""
    lines = [
        "Tank  Qty  kW each  Volts  Phases", "T-1   3    6        400    3", "T-2        9        400    3", "T-3   3   6  400  3",
        "T-4   3    6        400    3",
    ]  # fmt: skip
    assert [bank[0] for bank in banks(tmp_path, lines)] == ["T-1", "T-3", "T-4"] and "T-2 9 400 3" in asked(tmp_path, lines)[0]
    file = tmp_path / "list.txt"
    file.write_text("\n".join(lines), encoding="utf-8")
    job = read(file)
    assert [bank.tank for bank in job.banks] == ["T-1", "T-3", "T-4"] and "T-2 9 400 3" in said(job, "row-in-doubt")[0].message


@pytest.mark.parametrize(
    ("line", "asks"),
    [("T-2 9 400 3", True), ("T-2  3 x 6  400 3", True), ("2A, 3, 9", True), ("T-2 nickel 3 9", True),
     ("T-2 - 1200 x 800", False), ("LINE 2", False), ("Line 1, 3 tanks", False), ("REV 3 30 11", False), ("T-2 nickel 480 V", False)],
)  # fmt: skip
def test_a_row_in_one_text_is_no_heading(line: str, asks: bool) -> None:
    assert bool(speaks([(0, line)])) == asks
