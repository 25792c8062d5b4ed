"""Columns of marks that say which rows count, and comments on cells: what they say is heard. All lists are invented."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
import xlsxwriter

from batch.intake.workbook import open_workbook
from batch.records import Job
from tests.intake_book import DOUBTS, read_bytes, read_sheets
from tests.test_intake_plain_lists import heaters, read_list

HEAD = ["Tank", "Qty", "kW each", "Volts", "Ph"]
T1, T2, T3 = ("T1", 2, 9, 480, 3), ("T2", 1, 6, 480, 3), ("T3", 1, 4.5, 480, 3)
ROWS = (T1, T2, T3)


@pytest.mark.parametrize(
    ("heading", "marks"),
    [
        ("Heated?", ("Y", "N", "Y")), ("Order", ("yes", "no", "yes")), ("Incl.", ("x", "", "x")), ("Quote", ("✓", "✗", "✓")),
        ("Electric", ("x", "", "x")), ("By others", ("", "x", "")), ("Installed", ("no", "yes", "no")),
        ("Existing?", ("N", "Y", "N")), ("Include", (1, 0, 1)), ("Our scope", ("x", "", "x")), ("Bestellen", ("ja", "nein", "ja")),
        ("à chiffrer", ("oui", "non", "oui")), ("Ordered", ("N", "Y", "N")), ("Gas", ("", "x", "")), ("Keep", ("", "x", "")),
    ],
)  # fmt: skip
def test_a_row_that_its_mark_leaves_out_is_asked_about(tmp_path: Path, heading: str, marks: tuple) -> None:
    job = read_list(tmp_path, [*HEAD, heading], *([*row, mark] for row, mark in zip(ROWS, marks, strict=True)))
    assert heaters(job) == [T1, T3]
    assert [one.cell for one in job.findings if one.code in DOUBTS] in (["F3"], ["A3"])


def test_a_tank_marked_as_heated_by_steam_is_asked_about(tmp_path: Path) -> None:
    rows = [[*HEAD, "Steam"], *([*row, mark] for row, mark in zip(ROWS, ("", "x", ""), strict=True))]
    assert heaters(read_sheets(tmp_path, {"Heaters": rows})) == [T1, T3]


@pytest.mark.parametrize("heading", ["Lid", "Agitation", "Level sensor", "Titanium", "New level probe"])
def test_marks_of_something_else_ask_nothing(tmp_path: Path, heading: str) -> None:
    job = read_list(tmp_path, [*HEAD, heading], *([*row, mark] for row, mark in zip(ROWS, ("x", "", "x"), strict=True)))
    assert heaters(job) == [T1, T2, T3]


def commented(folder: Path, cell: str, words: str, author: str = "") -> Job:
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True}) as workbook:
        sheet = workbook.add_worksheet("Heaters")
        rows = [["Heater list of line 1"], ["Tank", "Bath", *HEAD[1:]], *([row[0], "Bath", *row[1:]] for row in ROWS)]
        for at, row in enumerate(rows):
            sheet.write_row(at, 0, row)
        sheet.write_comment(cell, words, {"author": author or "A person"})
    return read_bytes(folder, out.getvalue())


@pytest.mark.parametrize(
    ("cell", "words", "left"),
    [
        ("B4", "delete this tank", [T1, T3]), ("B4", "checked OK", [T1, T2, T3]), ("G4", "hold", [T1, T3]), ("H4", "by others", [T1, T3]),
        ("D4", "8 now", [T1, T3]), ("A8", "T2 is deleted", [T1, T3]), ("A1", "Quantities are for one line; there are two lines", []),
        ("E2", "all heaters are 240 V", []), ("D2", "kW per tank", [T2, T3]), ("D2", "values of the data sheet", [T1, T2, T3]),
    ],
)  # fmt: skip
def test_comments_are_heard(tmp_path: Path, cell: str, words: str, left: list) -> None:
    assert heaters(commented(tmp_path, cell, words)) == left


def test_a_comment_in_doubt_is_quoted_without_who_wrote_it(tmp_path: Path) -> None:
    job = commented(tmp_path, "B4", "Ann:\nask the plant", author="Ann")
    assert 'B4 has the comment "ask the plant", which' in next(one.message for one in job.findings if one.code in DOUBTS)


def test_of_a_thread_what_was_written_is_taken(tmp_path: Path) -> None:
    shown = "[Threaded comment]\n\nYour program cannot show threads.\n\nComment:\n    not needed\nReply:\n    agreed"
    path = tmp_path / "list.xlsx"
    with xlsxwriter.Workbook(path) as workbook:
        sheet = workbook.add_worksheet("Heaters")
        sheet.write(0, 0, "Tank")
        sheet.write_comment("A1", shown)
    [grid] = open_workbook(path.read_bytes(), path.name).grids
    assert grid.comments[0, 0].split() == ["not", "needed", "agreed"]


OWN = ["Tank", "Quantity", "Power (kW)", "Volts", "Phases"]


@pytest.mark.parametrize(
    ("heading", "cell"),
    [("Order", "no"), ("Status", "by others"), ("Steam", "x"), ("Notes", "240 V, 1 ph")],
)  # fmt: skip
def test_a_short_list_under_our_own_headings_is_heard_like_any_other(tmp_path: Path, heading: str, cell: str) -> None:
    rows = [[*OWN, heading], *([*row, cell if row is T2 else "yes" if heading == "Order" else ""] for row in ROWS)]
    assert heaters(read_sheets(tmp_path, {"Heaters": rows})) == [T1, T3]


@pytest.mark.parametrize("looks", ["struck", "commented"])
def test_looks_of_a_short_list_under_our_own_headings(tmp_path: Path, looks: str) -> None:
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True}) as workbook:
        sheet = workbook.add_worksheet("Heaters")
        gone = workbook.add_format({"font_strikeout": True})
        for at, row in enumerate([OWN, *ROWS]):
            sheet.write_row(at, 0, row, gone if looks == "struck" and row is T2 else None)
        if looks == "commented":
            sheet.write_comment("A3", "not needed")
    assert heaters(read_bytes(tmp_path, out.getvalue())) == [T1, T3]


@pytest.mark.parametrize("sentence", ["All heaters 240 V", "Typical for 2 lines"])
def test_a_sentence_below_such_a_list(tmp_path: Path, sentence: str) -> None:
    assert not heaters(read_sheets(tmp_path, {"Heaters": [OWN, *ROWS, [], [sentence]]}))
