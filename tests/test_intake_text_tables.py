"""Lists in text files: letters and marks found, asked where two fit; the same cells as other kinds give. Nothing ends in a trace."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.cli.app import main
from batch.errors import InputFileError
from batch.intake.grid import Broken
from batch.intake.text_tables import LONGEST_CELL, read_text_table
from tests.intake_book import codes, read_bytes, said

TABLE = "Tank;Qty;kW;Remarks\nT-1;3;6,5;Entfettung für Zn\nT-2;2;4,5;\n"
CELLS = [["Tank", "Qty", "kW", "Remarks"], ["T-1", "3", "6,5", "Entfettung für Zn"], ["T-2", "2", "4,5", ""]]


def kinds(data: bytes, name: str = "list.csv") -> set[str]:
    return {one.code for one in read_text_table(data, name).remarks}


@pytest.mark.parametrize("letters", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
@pytest.mark.parametrize("ends", ["\n", "\r\n", "\r"])
def test_letters_and_line_ends(letters: str, ends: str) -> None:
    table = read_text_table(TABLE.replace("\n", ends).encode(letters), "list.csv")
    assert table.grid.rows == CELLS and [one.code for one in table.remarks] == ["text-table"]
    assert table.grid.name == "list" and table.grid.looks_known


def test_letters_of_central_europe_are_told_by_their_words() -> None:
    table = read_text_table("Wanna;Ilość;Napięcie\nW-1;3;400\nPłukanie;;\n".encode("cp1250"), "list.csv")
    assert table.grid.rows[0] == ["Wanna", "Ilość", "Napięcie"] and table.grid.rows[2][0] == "Płukanie"


def test_letters_that_nothing_tells_apart_are_asked_about() -> None:
    data = "Tank;Quantity\nAño;3\n".encode("cp1252")
    table = read_text_table(data, "list.csv")
    fields = next(dict(one.fields) for one in table.remarks if one.code == "text-letters-unsure")
    assert table.grid.rows[1][0] == "Año" and "Ańo" in fields["other"]


@pytest.mark.parametrize("mark", [";", ",", "\t", "|"])
def test_marks_between_cells(mark: str) -> None:
    text = "\n".join(mark.join(row) for row in [["Tank", "Qty", "kW"], ["T-1", "3", "6.5"], ["T-2", "", "6.5"]])
    assert read_text_table(text.encode(), "list.csv").grid.rows[2] == ["T-2", "", "6.5"]


def test_decimal_commas_are_no_marks() -> None:
    assert read_text_table(b"B1;3;6,0\nB2;2;4,5\nB3;1;3,0\n", "list.csv").grid.rows[0] == ["B1", "3", "6,0"]


def test_a_first_line_says_the_mark_and_rows_keep_their_numbers() -> None:
    grid = read_text_table(b"sep=,\r\na,b;c\r\n1,5;2\r\n", "list.csv").grid
    assert grid.rows == [["", ""], ["a", "b;c"], ["1", "5;2"]]


def test_two_marks_that_fit_alike_are_asked_about_with_the_way_to_say_which() -> None:
    with pytest.raises(InputFileError, match=r"sep=;.*sep=,.*first line"):
        read_text_table(b"a,b;c\nx,5;y\nz,5;w\n", "list.csv")


def test_headings_decide_between_two_marks() -> None:
    data = b"Tank;Quantity;Power, kW\nA, north;3;6\nB, south;2;4\n"
    assert read_text_table(data, "list.csv").grid.rows[1] == ["A, north", "3", "6"]


def test_quotation_marks_hold_cells_together() -> None:
    data = b'Tank,"Qty of\nheaters","Rating ""each"""\nT-1,"1,000",6\n'
    assert read_text_table(data, "list.csv").grid.rows == [["Tank", "Qty of\nheaters", 'Rating "each"'], ["T-1", "1,000", "6"]]


def test_inches_and_ditto_marks_swallow_no_rows() -> None:
    rows = "".join(f'T-{number};";36"\n' for number in range(2, 9))
    table = read_text_table(f'Tank;Qty;Hot zone\nT-1;3;36"\n{rows}'.encode(), "list.csv")
    assert len(table.grid.rows) == 9 and table.grid.rows[2] == ["T-2", '"', '36"']
    assert "text-quotes-unsure" in {one.code for one in table.remarks}


PASTED = """\
Line 2, all heaters new
Tank    Qty  kW    Volts
-----   ---  ----  -----
T-1     3    6     480
T-2          4.5   480
Rinse
T-3     2    4.5   240
"""


def test_a_pasted_table_parted_by_spaces() -> None:
    table = read_text_table(PASTED.encode(), "mail.txt")
    rows = [row for row in table.grid.rows if any(row)]
    assert rows[1:] == [
        ["Tank", "Qty", "kW", "Volts"], ["T-1", "3", "6", "480"], ["T-2", "", "4.5", "480"], ["Rinse", "", "", ""],
        ["T-3", "2", "4.5", "240"],
    ]  # fmt: skip
    assert kinds(PASTED.encode(), "mail.txt") == {"text-table", "text-by-position"}


def test_a_pasted_table_with_drawn_lines() -> None:
    data = b"| Tank | Qty |\n|------|-----|\n| T-1  | 3   |\n| T-2  |     |\n"
    assert read_text_table(data, "mail.txt").grid.rows == [["Tank", "Qty"], ["", ""], ["T-1", "3"], ["T-2", ""]]


def test_prose_is_one_cell_a_line() -> None:
    rows = read_text_table(b"a line of prose\nand another, with commas, in it\n", "mail.txt").grid.rows
    assert rows[1] == ["and another, with commas, in it"]


def test_error_cells_are_marked() -> None:
    grid = read_text_table(b"Tank;kW\nT-1;#DIV/0!\nT-2;#1\n", "list.csv").grid
    assert type(grid.rows[1][1]) is Broken and grid.rows[2][1] == "#1"


REFUSED = {
    "empty": (b"", "empty"), "blank": (b" \r\n\t\n", "empty"), "zero bytes": (b"Tank;Qty\nT-1;\x003\x00\x00" * 20, "zero bytes"),
    "one enormous line": (b"x" * (3 << 20), "more than"), "no text": (bytes(range(1, 32)) * 40, "no text"),
    "cut utf-16": ("\ufeffTank;Qty".encode("utf-16-le") + b"\xd8", "UTF-16"),
    "a giant cell": (b"a;" + b"x" * (LONGEST_CELL + 1) + b"\nb;c\n", "characters"),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_what_is_no_list_is_refused_in_one_line(case: str) -> None:
    data, words = REFUSED[case]
    with pytest.raises(InputFileError, match=words) as caught:
        read_text_table(data, "list.csv")
    assert "\n" not in str(caught.value)


def test_too_many_rows_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """As soon as they are too many, and not once all are parted: rows of short cells take twenty times the memory of their text."""
    monkeypatch.setattr("batch.intake.text_tables.MOST_ROWS", 100)
    monkeypatch.setattr("batch.intake.text_tables._laid_out", lambda *_: pytest.fail("all rows were parted first"))
    with pytest.raises(InputFileError, match="more than 100 rows"):
        read_text_table(b"Tank;Qty\n" + b"T;1\n" * 200, "list.csv")


def test_a_web_page_or_workbook_under_the_name_of_a_text_file(tmp_path: Path) -> None:
    for data, words in ((b"<html><table>", "web page"), (b"%PDF-1.7", "PDF"), (b"MZ-1;3\nMZ-2;4\n", "")):
        if words:
            with pytest.raises(InputFileError, match=words):
                read_bytes(tmp_path, data, "list.csv")
        else:
            assert "sheet-heaters-missing" in codes(read_bytes(tmp_path, data, "list.csv"))


JOB = "Tank;Quantity;Power (kW);Volts;Phases\nT-1;4;6,5;480;1\nT-2;2;4,5;480;3\n"


def test_a_job_in_a_text_file_is_read_like_any_other(tmp_path: Path) -> None:
    job = read_bytes(tmp_path, JOB.encode("utf-16"), "heaters.csv")
    assert [(bank.tank, bank.quantity, bank.power_kw) for bank in job.banks] == [("T-1", 4, 6.5), ("T-2", 2, 4.5)]
    assert "UTF-16" in said(job, "text-table")[0].message


def test_from_the_command_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("list.csv", "list two.tsv", "mail.txt"):
        (tmp_path / name).write_text(JOB.replace(";", "\t") if name.endswith("tsv") else JOB, "utf-8")
        assert main(["size", str(tmp_path / name)]) in (0, 1)
        assert (tmp_path / name).with_name(f"{Path(name).stem} sized.xlsx").is_file()
    assert main(["check", str(tmp_path)]) in (0, 1) and "list.csv" in capsys.readouterr().out


CELL = st.text(alphabet=st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Zl", "Zp")), max_size=12).map(str.strip)


@given(st.lists(st.lists(CELL, min_size=3, max_size=3), min_size=1, max_size=8), st.sampled_from(";\t"))
def test_what_a_spreadsheet_program_writes_is_read_again(rows: list[list[str]], mark: str) -> None:
    rows = [["Tank", "Quantity", "Power"], *rows]
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=mark).writerows(rows)
    grid = read_text_table(b"\xef\xbb\xbf" + f"sep={mark}\r\n{out.getvalue()}".encode(), "list.csv").grid
    assert [[str(cell) for cell in row] for row in grid.rows[1:]] == rows


@given(st.binary(max_size=300), st.sampled_from(["a.csv", "b.tsv", "c.txt"]))
def test_no_bytes_are_a_crash(data: bytes, name: str) -> None:
    try:
        table = read_text_table(data, name)
    except InputFileError as fault:
        assert "\n" not in str(fault)
    else:
        assert len({len(row) for row in table.grid.rows}) <= 1
