"""Nothing typed into results is dropped: every cell of every sheet that takes typing comes back, or a finding names its address."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import openpyxl
import pytest
from openpyxl.utils import get_column_letter

import batch
from batch.comparing.revision import Revision
from batch.findings import Finding
from batch.reopening.reopen import open_revision
from batch.schedules import RESULTS
from batch.sheets.received import STORED
from batch.writing.as_sized import extended
from batch.writing.placed import DATA
from tests.sample_results import ALL, FINDINGS, SMALL, opened, sized
from tests.workbook_edits import typed

SHEETS = [sheet for sheet in RESULTS if sheet.id in STORED and sheet.id != "carried_forward"]
FIRST = DATA + 1  # first row of data, as a person counts
SEVERAL = 3  # rows in which it is tried


def revision(path: Path, program: str = batch.PROGRAM) -> Revision:
    return open_revision(path, program)


def edits(side: Revision) -> list[Finding]:
    return [finding for finding in side.result.findings if finding.code.startswith("edit-")]


def one_edit_a_sheet(name: str) -> Iterator[dict[str, tuple[str, str, object]]]:
    """Copies to be made: in each one cell a sheet is typed over, so that after all of them every column was; sheet -> key, cell, value."""
    book = opened(name)
    for at in range(max(len(sheet.columns) for sheet in SHEETS)):
        found = {}
        for sheet in SHEETS:
            if sheet.name in book.sheetnames and at < len(sheet.columns):
                column = sheet.columns[at]
                place = [one.key for one in extended(sheet).columns].index(column.key) + 1
                rows = range(FIRST, min(FIRST + SEVERAL, book[sheet.name].max_row + 1))
                row = rows[at % len(rows)]
                cell = f"{get_column_letter(place)}{row}"
                if cell in {one.coordinate for line in book[sheet.name].iter_rows(row, row) for one in line}:
                    found[sheet.name] = column.key, cell, 987.25 if column.kind == "number" else "typed here"
        yield found


def test_a_value_typed_into_any_cell_comes_back_or_is_named_with_its_address(tmp_path: Path) -> None:
    tried = 0
    for number, cells in enumerate(one_edit_a_sheet(SMALL)):
        target = tmp_path / f"{number}.xlsx"
        side = revision(typed(sized(SMALL).path, target, {sheet: {cell: value} for sheet, (_, cell, value) in cells.items()}))
        said = {(finding.sheet, finding.cell) for finding in edits(side)}
        for sheet, (key, cell, _) in cells.items():
            tried += 1
            tag = sheet == "Banks" and key in ("project", "tank", "bank")  # the row is another bank's then, and is named by its tank
            wanted = cell if not tag else re.sub("[A-Z]+", "B", cell)
            assert (sheet, wanted) in said, f"{key} on {sheet}, {cell}: dropped; said: {sorted(said)}"
    assert tried > 150


@pytest.mark.parametrize("name", ALL)
def test_of_results_as_they_were_written_nothing_is_said(name: str) -> None:
    assert edits(revision(sized(name).path)) == []


@pytest.mark.parametrize("us", [True, False])
def test_nor_in_the_other_units_or_after_keeping_from_an_earlier_revision(us: bool, tmp_path: Path) -> None:
    source = Path("sample_jobs") / "revisions" / "line-4-rev-B.xlsx"
    batch.size(source, tmp_path / "kept.xlsx", keep_from=sized("revisions/line-4-rev-A.xlsx").path, us=us)
    assert edits(revision(tmp_path / "kept.xlsx")) == []


def cell_of(sheet_id: str, key: str, row: int = FIRST) -> str:
    [sheet] = [sheet for sheet in RESULTS if sheet.id == sheet_id]
    return f"{get_column_letter([column.key for column in extended(sheet).columns].index(key) + 1)}{row}"


def test_what_is_typed_elsewhere_is_told_from_what_follows_as_received(tmp_path: Path) -> None:
    """The heater list has other watts now, so every figure is another one: only what was typed is said."""
    [bank] = [bank for bank in revision(sized(SMALL).path).job.banks if bank.tank == "T-104"]
    cell = cell_of("panels", "contactor")
    changed = {"As received Heaters": {bank.origin.cell("power_kw"): 12.0}, "Panels": {cell: "a larger one"}}
    [said] = edits(revision(typed(sized(SMALL).path, tmp_path / "edited.xlsx", changed)))
    assert (said.code, said.sheet, said.cell) == ("edit-not-taken", "Panels", cell)


def test_a_hold_that_was_written_over_is_said(tmp_path: Path) -> None:
    sheet = opened(FINDINGS)["Banks"]
    column = cell_of("banks", "status").rstrip("0123456789")
    row = next(row for row in range(FIRST, sheet.max_row) if str(sheet[f"{column}{row}"].value).startswith("HOLD"))
    side = revision(typed(sized(FINDINGS).path, tmp_path / "edited.xlsx", {"Banks": {f"{column}{row}": "sized"}}))
    [said] = edits(side)
    assert (said.sheet, said.cell) == ("Banks", f"{column}{row}")


def test_columns_and_rows_of_somebodys_own_are_said(tmp_path: Path) -> None:
    book = openpyxl.load_workbook(sized(SMALL).path)
    panels, circuits = book["Panels"], book["Circuits"]
    beside = get_column_letter(panels.max_column + 2)
    panels[f"{beside}{DATA}"], panels[f"{beside}{FIRST + 1}"] = "Built by", "the night shift"
    last = circuits.max_row + 1
    circuits[f"B{last}"] = "one more"
    book.save(tmp_path / "edited.xlsx")
    said = {finding.code: finding for finding in edits(revision(tmp_path / "edited.xlsx"))}
    assert set(said) == {"edit-stray", "edit-row-added"}
    assert f"{beside}{DATA}, {beside}{FIRST + 1} of Panels" in said["edit-stray"].message
    assert (said["edit-row-added"].sheet, said["edit-row-added"].cell) == ("Circuits", f"A{last}")
    assert "one more" in said["edit-row-added"].message


def test_rows_in_another_order_are_no_edits_and_rows_that_went_are_said_once(tmp_path: Path) -> None:
    book = openpyxl.load_workbook(sized(SMALL).path)
    sheet = book["Circuits"]
    block = [[cell.value for cell in row] for row in sheet.iter_rows(FIRST, sheet.max_row)]
    for at, values in enumerate(reversed(block)):
        for place, value in enumerate(values):
            sheet.cell(FIRST + at, place + 1).value = value
    book.save(tmp_path / "sorted.xlsx")
    assert edits(revision(tmp_path / "sorted.xlsx")) == []
    book = openpyxl.load_workbook(tmp_path / "sorted.xlsx")
    book["Circuits"].delete_rows(FIRST, 2)
    book.save(tmp_path / "fewer.xlsx")
    [said] = edits(revision(tmp_path / "fewer.xlsx"))
    assert said.code == "edit-rows-gone" and said.message.startswith("2 rows of Circuits ")


def test_of_another_program_the_sheets_that_cannot_be_told_are_named(tmp_path: Path) -> None:
    book = typed(sized(SMALL).path, tmp_path / "edited.xlsx", {"Panels": {cell_of("panels", "contactor"): "a larger one"}})
    [said] = edits(revision(book, "heaterbatch of another year"))
    assert said.code == "edit-not-told" and said.message.startswith("Panels were written by ")
    assert edits(revision(sized(SMALL).path, "heaterbatch of another year")) == []


@pytest.mark.parametrize("name", [SMALL, FINDINGS])
def test_a_sheet_is_read_again_or_protected(name: str) -> None:
    """And a protected one is not locked away: there is no password, and filters work."""
    read = {*STORED.values()}
    for sheet in opened(name).worksheets:
        if sheet.sheet_state != "visible":
            continue
        again = sheet.title.startswith("As received ") or re.sub(r" \d+$", "", sheet.title) in read
        assert sheet.protection.sheet is not again, sheet.title
        if not again:
            assert sheet.protection.password is None and not sheet.protection.autoFilter
