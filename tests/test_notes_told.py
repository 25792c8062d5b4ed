"""Notes of our own form that leave open whether a row is to be built: the row is sized, and held on every sheet."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

import batch
from batch.findings import Effect
from batch.schedules import rows
from tests.intake_book import book

HEAD = ["Tank", "Quantity", "Power (kW)", "Volts (V)", "Phases", "Notes"]


def job_of(folder: Path, *notes: str) -> Path:
    path = folder / "job.xlsx"
    path.write_bytes(book({"Heaters": [HEAD, *([f"T-{at}", 4, 6, 480, 3, note] for at, note in enumerate(notes, 1))]}))
    return path


@pytest.mark.parametrize(
    ("note", "held"),
    [
        ("HOLD until customer confirms", True),
        ("on hold", True),
        ("TBC by customer", True),
        ("existing, to remain", True),
        ("do not quote yet", True),
        ("zurückgestellt", True),
        ("not released", True),
        ("DO NOT FABRICATE", True),
        ("not for construction", True),
        ("not ready for release", True),
        ("on hold, will be released Friday", True),
        ("On hold until released", True),
        ("on hold pending release", True),
        ("HOLD until released by customer", True),
        ("On hold; released by Monday", True),
        ("was released, put on hold", True),
        ("HOLD lifted? ask", True),
        ("on hold. Feeder F2 released.", True),
        ("was on hold, now released", False),
        ("on hold until liquid known - released", False),
        ("hold lifted", False),
        ("hold at 140 F", False),
        ("hold-down clamps by others", False),
        ("Holds.", False),
        ("Two large heaters, subdivided by their maker.", False),
        ("wiring by others", False),
        ("replaces existing", False),
        ("titanium", False),
    ],
)
def test_a_note_holds_its_row_and_no_other(note: str, held: bool, tmp_path: Path) -> None:
    result = batch.size(job_of(tmp_path, note, "plain"))
    banks = [row for project in result.projects for row in project.banks]
    assert [row.bank.tank for row in banks] == ["T-1", "T-2"]
    assert [row.hold is not None for row in banks] == [held, False]
    if held:
        assert (banks[0].hold.code, banks[0].hold.cell) == ("note-on-hold", "F2")
        assert banks[0].hold.kind.effect is Effect.NOT_RELEASED


NOTED = {  # sheet -> its rows, with a note that holds
    "its tank": {"Tanks": [["Tank", "Notes"], ["T-1", "HOLD, not released"]]},
    "its feeder": {"Feeders": [["Feeder", "Volts (V)", "Phases", "Notes"], ["F-1", 480, 3, "HOLD"]]},
    "its project": {"Projects": [["Project", "Notes"], ["P-1", "on hold"]]},
}


@pytest.mark.parametrize("whose", NOTED)
def test_a_note_of_what_a_bank_hangs_on_holds_it(whose: str, tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(book({"Heaters": [HEAD, ["T-1", 4, 6, 480, 3, None]], **NOTED[whose]}))
    [project] = batch.size(path).projects
    [row] = project.banks
    assert row.hold is not None and row.hold.code == "note-on-hold"
    assert f"the note of {whose}" in row.hold.message


def test_what_a_project_s_note_holds_is_one_line_with_its_list(tmp_path: Path) -> None:
    """Eight banks held by their project's note, one of them by its own besides: two lines, and every tag in the first."""
    path = tmp_path / "job.xlsx"
    listed = [[f"T-{at}", 4, 6, 480, 3, "TBC by customer" if at == 3 else None] for at in range(1, 9)]
    path.write_bytes(book({"Heaters": [HEAD, *listed], **NOTED["its project"]}))
    result = batch.size(path)
    assert len([row for row in result.projects[0].banks if row.hold is not None]) == 8
    [line] = [row for row in rows(result, "findings") if row["code"] == "note-on-hold"]
    assert line["count"] == 9
    assert line["message"] == (
        'Note that puts a row on hold. T-1/1, T-2/1, T-3/1, T-4/1, T-5/1, T-6/1, T-7/1, T-8/1: By "on hold" the note of its project leaves '
        'open whether it is to be built: "on hold". T-3/1: By "TBC" the note of this bank leaves open whether it is to be built: '
        '"TBC by customer". It is sized and counted in every total.'
    )


def type_notes(results: Path, text: str | None) -> Path:
    """The results with words in the Notes of their one bank, saved beside them."""
    opened = openpyxl.load_workbook(results)
    sheet = opened["Banks"]
    head = next(row for row in sheet.iter_rows() if any(cell.value == "Notes" for cell in row))
    column = next(cell.column for cell in head if cell.value == "Notes")
    sheet.cell(head[0].row + 1, column).value = text
    opened.save(results.with_name("typed.xlsx"))
    return results.with_name("typed.xlsx")


@pytest.mark.parametrize(
    ("first", "typed", "held"), [("plain", "HOLD by the shop", True), ("HOLD", None, False), ("HOLD", "HOLD - released", False)]
)
def test_what_is_typed_in_the_notes_of_results_holds_and_releases(first: str, typed: str | None, held: bool, tmp_path: Path) -> None:
    batch.size(job_of(tmp_path, first), tmp_path / "sized.xlsx")
    again = batch.size(type_notes(tmp_path / "sized.xlsx", typed), tmp_path / "again.xlsx")
    [row] = again.projects[0].banks
    assert (row.hold is not None) == held
    assert ("note-on-hold" in {one.code for one in again.findings}) == held


def test_a_hold_is_kept_from_an_earlier_revision(tmp_path: Path) -> None:
    batch.size(job_of(tmp_path, "HOLD"), tmp_path / "old.xlsx")
    result = batch.check(job_of(tmp_path, ""), keep_from=tmp_path / "old.xlsx")
    assert result.projects[0].banks[0].bank.notes == "HOLD"
    assert result.projects[0].banks[0].hold is not None


def test_a_customers_list_is_judged_once(tmp_path: Path) -> None:
    """What the list's own reading has asked of a remark, and a map has answered, is not put on hold again; a new note is."""
    path = tmp_path / "list.xlsx"
    path.write_bytes(
        book({"Sheet1": [["Tank", "Qty", "kW each", "Volts", "Ph", "Remarks"], ["T-1", 4, 6, 480, 3, "TBC"], ["T-2", 2, 6, 480, 3, ""]]})
    )
    (tmp_path / "map.toml").write_text(batch.check(path).job.map_text.replace('2 = "?"', '2 = "keep"'))
    result = batch.size(path, tmp_path / "sized.xlsx", column_map=tmp_path / "map.toml")
    assert [(row.bank.tank, row.hold) for row in result.projects[0].banks] == [("T-1", None), ("T-2", None)]
    again = batch.size(tmp_path / "sized.xlsx", tmp_path / "again.xlsx")
    assert [(row.bank.notes, row.hold) for row in again.projects[0].banks] == [("TBC", None), (None, None)]
    typed = batch.size(type_notes(tmp_path / "again.xlsx", "HOLD by the shop"), tmp_path / "third.xlsx")
    assert [row.hold is not None for row in typed.projects[0].banks] == [True, False]
