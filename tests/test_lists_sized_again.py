"""Results of a list sized again say what the list's own said; what is typed on their sheets as received is read as if the list had it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.worksheet.worksheet import Worksheet

import batch
from batch.findings import Severity
from batch.price.question_places import as_sent
from batch.reopening import results_book
from batch.results import JobResult
from tests.intake_book import book, codes
from tests.lists.score import HERE
from tests.test_lists import HEAD, ONE, PROVOKED

OPEN = (
    "row-in-doubt", "row-disagrees", "unit-foreign", "unit-blank", "tanks-question", "tags-unsure", "count-unsure", "supply-unsure",
    "value-unlikely",
)  # fmt: skip
LISTS = (
    "fourth/83-eloxal-heizstaebe.xlsx", "fourth/88-tanques-decapagem.xlsx", "fourth/89-parts-washer-stages.xlsx",
    "worked/18-dates-and-errors.xlsm", "second/29-size-matrix.xlsx", "third/67-machine-builder.xlsx", "seventh/138-us-erp-export.csv",
    "eighteenth/330-heater-list-rev1.xlsx", "fifteenth/264-enquiry-letter.xlsx", "sixteenth/291-haerterei-waschanlagen.xlsx",
    "third/61-two-lines.xlsx",
)  # fmt: skip


def not_sized(result: JobResult) -> list[tuple[str, ...]]:
    """What is known of each row that is not sized."""
    found = (*(row for project in result.projects for row in project.not_sized), *result.not_sized)
    return sorted(tuple(map(str, (row.why, row.feeder, row.quantity, row.connected_kw, row.volts_v, row.notes))) for row in found)


def held(result: JobResult) -> int:
    """Rows that a hold of their own keeps from being sized, and things that are not to be built."""
    found = [finding for finding in result.findings if finding.severity is Severity.HOLD]
    return len({(finding.sheet, finding.cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"), finding.tank) for finding in found})


def sized_again(path: Path, folder: Path) -> tuple[JobResult, JobResult, JobResult]:
    """A list sized, its results sized, and those sized once more."""
    once, twice = folder / "once.xlsx", folder / "twice.xlsx"
    return batch.size(path, once), batch.size(once, twice), batch.check(twice)


@pytest.mark.parametrize("name", LISTS)
def test_what_was_not_sized_of_a_list_is_not_sized_of_its_results(name: str, tmp_path: Path) -> None:
    first, *again = sized_again(HERE / name, tmp_path)
    assert not_sized(first)
    for result in again:
        assert not_sized(result) == not_sized(first) and held(result) == held(first)
        assert len(result.job.banks) == len(first.job.banks)


@pytest.mark.parametrize("kind", OPEN)
def test_every_kind_of_doubt_survives(kind: str, tmp_path: Path) -> None:
    (tmp_path / "list.xlsx").write_bytes(book({"Sheet1": PROVOKED[kind]}))
    first, *again = sized_again(tmp_path / "list.xlsx", tmp_path)
    assert kind in codes(first.job) and not_sized(first)
    for result in again:
        assert not_sized(result) == not_sized(first) and kind in codes(result.job)


@pytest.mark.parametrize("kind", OPEN)
def test_every_kind_of_doubt_survives_in_results_that_bring_no_list_along(
    kind: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(results_book, "list_again", lambda results, data: None)
    (tmp_path / "list.xlsx").write_bytes(book({"Sheet1": PROVOKED[kind]}))
    first, *again = sized_again(tmp_path / "list.xlsx", tmp_path)
    for result in again:
        assert not_sized(result) == not_sized(first) and "row-still-open" in codes(result.job)


def test_a_feeder_with_a_row_in_doubt_is_still_not_to_be_built(tmp_path: Path) -> None:
    rows = [[*HEAD, "Fed from", "Remarks"], [*ONE, "MCC-1"], ["T-2", 3, 9, 480, 3, "MCC-1", "future"], ["T-3", 3, 9, 480, 3, "MCC-2"]]
    (tmp_path / "list.xlsx").write_bytes(book({"Sheet1": rows}))
    for result in sized_again(tmp_path / "list.xlsx", tmp_path):
        assert [finding.feeder for finding in result.findings if finding.code == "feeder-incomplete"] == ["MCC-1"]


def test_a_cell_that_was_filled_in_is_read(tmp_path: Path) -> None:
    """Of a row that lacked a cell nothing is kept: who fills the cell in has answered."""
    (tmp_path / "list.xlsx").write_bytes(book({"Sheet1": [HEAD, ONE, ["T-2", 3, None, 480, 3]]}))
    assert [why for why, *_ in not_sized(batch.size(tmp_path / "list.xlsx", tmp_path / "once.xlsx"))] == ["Power: blank"]
    results = load_workbook(tmp_path / "once.xlsx")
    sheet = next(sheet for sheet in results if sheet.title.startswith("As received"))
    row = next(row for row in sheet.iter_rows() if any(cell.value == "T-2" for cell in row))
    power = next(cell.column for other in sheet.iter_rows() for cell in other if cell.value == "kW each")
    sheet.cell(row[0].row, power).value = 9
    results.save(tmp_path / "once.xlsx")
    again = batch.check(tmp_path / "once.xlsx")
    assert not_sized(again) == [] and len(again.job.banks) == 2


def test_an_older_issue_stays_aside(tmp_path: Path) -> None:
    rows = [HEAD, ONE, ["T-2", 3, 9, 480, 3]]
    (tmp_path / "list.xlsx").write_bytes(book({"Heaters rev B": rows, "Heaters rev A (old)": rows}))
    first, *again = sized_again(tmp_path / "list.xlsx", tmp_path)
    assert "issue-older" in codes(first.job)
    for result in again:
        assert not_sized(result) == not_sized(first) == [] and "issue-older" in codes(result.job)


def test_what_is_still_open_is_said_at_the_cell_that_was_asked_about(tmp_path: Path) -> None:
    rows = [[*HEAD, "Remarks"], ONE, ["T-2", 3, 9, 480, 3, "future"]]
    (tmp_path / "list.xlsx").write_bytes(book({"Sheet1": rows}))
    first, *again = sized_again(tmp_path / "list.xlsx", tmp_path)
    [asked] = [finding.cell for finding in first.findings if finding.code == "row-in-doubt"]
    assert asked == "F3"
    for result in again:
        [still] = [finding for finding in result.findings if finding.code == "row-in-doubt"]
        assert (still.sheet, still.cell) == ("Sheet1", asked)


SAID_ALIKE = (
    "second/29-size-matrix.xlsx", "third/61-two-lines.xlsx", "fourth/94-contractor-blocks.xlsx", "fourth/86-drawing-schedule.xlsx",
    "eighth/117-shop-list.xlsx", "fifteenth/272-heaters-by-type.xlsx", "worked/06-turned-tank-sheet.xlsx",
    "worked/18-dates-and-errors.xlsm", "twentyfirst/382-panel-schedules-rev2.xlsx",
)  # fmt: skip


def said_and_sized(result: JobResult) -> tuple[object, ...]:
    """Every bank as read, every row that is not sized, and everything that is said, with its place."""
    banks = [(bank.tank, bank.quantity, bank.power_kw, bank.volts_v, bank.phases, bank.origin.address) for bank in result.job.banks]
    said = Counter((one.code, one.sheet, one.cell, one.message, one.project, one.tank, one.bank) for one in result.findings)
    return banks, not_sized(result), said


@pytest.mark.parametrize("name", SAID_ALIKE)
def test_results_sized_again_say_all_that_the_list_did_and_nothing_else(name: str, tmp_path: Path) -> None:
    first, *again = sized_again(HERE / name, tmp_path)
    assert first.job.banks and first.findings
    for result in again:
        assert said_and_sized(result) == said_and_sized(first)


def received(path: Path, title: str) -> tuple[Workbook, Worksheet, int]:
    """Results opened, their sheet as received with this title, and the row of its headings."""
    results = load_workbook(path)
    sheet = next(sheet for sheet in results if sheet["A1"].value == f"As received: {title}")
    return results, sheet, next(row for row in range(1, 40) if sheet.cell(row, 1).value == "Sheet row")


LIST: list[list[object]] = [
    ["Tanks of line 2 (invented)"], [*HEAD, "Remarks"], ["T-1", 2, 6, 480, 3], ["T-2", 3, 9, 480, 3, "future"], ["T-3", 1, 4.5, 480, 3],
    ["T-4", 2, 12, 480, 3],
]  # fmt: skip


def read_of(result: JobResult) -> list[tuple[str, int, float]]:
    return sorted((bank.tank, bank.quantity, bank.power_kw) for bank in result.job.banks)


def sized_list(folder: Path, rows: Sequence[Sequence[object]] = LIST) -> Path:
    (folder / "list.xlsx").write_bytes(book({"Sheet1": [list(row) for row in rows]}))
    batch.size(folder / "list.xlsx", folder / "once.xlsx")
    return folder / "once.xlsx"


def twice(path: Path, folder: Path) -> tuple[JobResult, JobResult]:
    """Results sized again, and what comes of that once more: an edit that was taken stays."""
    return batch.size(path, folder / "twice.xlsx"), batch.check(folder / "twice.xlsx")


def test_a_cell_typed_over_as_received_is_read_as_the_customers(tmp_path: Path) -> None:
    once = sized_list(tmp_path)
    results, sheet, head = received(once, "Sheet1")
    rows = {sheet.cell(row, 4).value: row for row in range(head, sheet.max_row + 1)}
    sheet.cell(rows["T-2"], 9).value = None  # the remark that put it in doubt
    sheet.cell(rows["T-3"], 6).value = "7.5 kW"
    results.save(once)
    for result in twice(once, tmp_path):
        assert read_of(result) == [("T-1", 2, 6.0), ("T-2", 3, 9.0), ("T-3", 1, 7.5), ("T-4", 2, 12.0)]
        assert not not_sized(result)


def test_rows_deleted_and_added_as_received_are_so_in_the_list(tmp_path: Path) -> None:
    once = sized_list(tmp_path)
    results, sheet, head = received(once, "Sheet1")
    at = next(row for row in range(head, sheet.max_row + 1) if sheet.cell(row, 4).value == "T-4")
    sheet.delete_rows(at)  # the last row, of which As received then shows nothing
    at = next(row for row in range(head, sheet.max_row + 1) if sheet.cell(row, 4).value == "T-1")
    sheet.insert_rows(at + 1)
    for column, value in enumerate(["T-1B", 2, 5, 480, 3], 4):
        sheet.cell(at + 1, column).value = value
    results.save(once)
    for result in twice(once, tmp_path):
        assert read_of(result) == [("T-1", 2, 6.0), ("T-1B", 2, 5.0), ("T-3", 1, 4.5)]
        [doubt] = [finding for finding in result.findings if finding.code == "row-in-doubt"]
        assert as_sent(result.job.came_from, doubt.sheet, doubt.cell) == "Sheet1 F4"  # as the customer knows it
    _, sheet, head = received(tmp_path / "twice.xlsx", "Sheet1")
    numbers = [sheet.cell(row, 1).value for row in range(head + 1, sheet.max_row + 1)]
    assert numbers == [1, 2, 3, None, 4, 5]


def test_a_heading_typed_as_received_is_the_lists(tmp_path: Path) -> None:
    once = sized_list(tmp_path, [HEAD, ONE, ["T-2", 3, 9, 480, 3]])
    results, sheet, head = received(once, "Sheet1")
    assert sheet.cell(head, 6).value == "kW each"
    sheet.cell(head, 6).value = "kW per tank"
    results.save(once)
    for result in twice(once, tmp_path):
        assert read_of(result) == [("T-1", 4, 1.5), ("T-2", 3, 3.0)]


TURNED: list[list[object]] = [
    ["Tank", "T-1", "T-2", "T-3"], ["Qty", 2, 3, 4], ["kW each", 6, 9, 12], ["Volts", 480, 480, 480], ["Phases", 3, 3, 3], ["Remarks"],
]  # fmt: skip


def test_a_turned_list_may_be_typed_into_either_way_round(tmp_path: Path) -> None:
    rows = [[*row, *[None] * (4 - len(row))] for row in TURNED]
    once = sized_list(tmp_path, rows)
    results, sheet, head = received(once, "Sheet1, turned")
    at = next(row for row in range(head, sheet.max_row + 1) if sheet.cell(row, 4).value == "T-2")
    sheet.cell(at, 6).value = 10
    _, upright, head = results, next(one for one in results if one["A1"].value == "As received: Sheet1"), 0
    row = next(row for row in range(1, upright.max_row + 1) if upright.cell(row, 4).value == "Qty")
    upright.cell(row, 7).value = 5
    results.save(once)
    for result in twice(once, tmp_path):
        assert read_of(result) == [("T-1", 2, 6.0), ("T-2", 3, 10.0), ("T-3", 5, 12.0)]
        assert result.job.sent is not None and len(result.job.sent.typed) == 2  # the label that the turned list leaves out is no edit


def test_what_is_typed_where_rows_are_made_of_other_cells_is_named(tmp_path: Path) -> None:
    batch.size(HERE / "fourth/94-contractor-blocks.xlsx", tmp_path / "once.xlsx")
    results, sheet, head = received(tmp_path / "once.xlsx", "Page 1, blocks in column B")
    at = next(row for row in range(head, sheet.max_row + 1) if sheet.cell(row, 4).value == "T-303")
    sheet.cell(at, 7).value = 15
    results.save(tmp_path / "once.xlsx")
    result = batch.check(tmp_path / "once.xlsx")
    [said] = [finding for finding in result.findings if finding.code == "edit-not-taken"]
    assert said.cell == f"A{at}" and "another sheet as received" in said.message
    assert ("T-303", 3, 12.0) in read_of(result)


def test_a_sheet_as_received_that_is_deleted_is_named(tmp_path: Path) -> None:
    (tmp_path / "list.xlsx").write_bytes(book({"Line 1": [HEAD, ONE], "Line 2": [HEAD, ["T-2", 3, 9, 480, 3]]}))
    batch.size(tmp_path / "list.xlsx", tmp_path / "once.xlsx")
    results = load_workbook(tmp_path / "once.xlsx")
    del results["As received Line 2"]
    results.save(tmp_path / "once.xlsx")
    result = batch.check(tmp_path / "once.xlsx")
    assert [one.sheet for one in result.findings if one.code == "edit-not-taken"] == ["As received Line 2"]
    assert [tank for tank, *_ in read_of(result)] == ["T-1", "T-2"]


def test_the_map_that_a_list_was_read_by_goes_with_its_results(tmp_path: Path) -> None:
    (tmp_path / "list.xlsx").write_bytes(book({"Sheet1": [["Tank", "Qty", "Size", "Volts", "Ph"], ["T-1", 4, 6000, 480, 3]]}))
    (tmp_path / "map.toml").write_text(
        '[[table]]\nsheet = "Sheet1"\nkind = "Heaters"\nheading_row = 1\n[table.columns]\nTank = "Tank"\nQuantity = "Qty"\n'
        'Power = { heading = "Size", unit = "W" }\nVolts = "Volts"\nPhases = "Ph"\n', encoding="utf-8",
    )  # fmt: skip
    batch.size(tmp_path / "list.xlsx", tmp_path / "once.xlsx", column_map=tmp_path / "map.toml")
    (tmp_path / "map.toml").unlink()
    for result in twice(tmp_path / "once.xlsx", tmp_path):
        assert read_of(result) == [("T-1", 4, 6.0)]


def test_two_banks_of_one_row_keep_their_own_labels_and_figures(tmp_path: Path) -> None:
    """Each is known by its turn in the row: results sized again name no bank that their rows do not have."""
    batch.size(HERE / "second/29-size-matrix.xlsx", tmp_path / "once.xlsx")
    result = batch.check(tmp_path / "once.xlsx")
    assert len({bank.origin for bank in result.job.banks}) == len(result.job.banks) > len({bank.origin.row for bank in result.job.banks})
    assert "edit-row-unknown" not in {finding.code for finding in result.findings}
