"""Results of a list sized again: what was in doubt still is, since nobody has answered."""

from __future__ import annotations

from pathlib import Path

import pytest

import batch
from batch.findings import Severity
from batch.price.question_places import as_sent
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
        assert not_sized(result) == not_sized(first) and "row-still-open" in codes(result.job)


def test_a_feeder_with_a_row_in_doubt_is_still_not_to_be_built(tmp_path: Path) -> None:
    rows = [[*HEAD, "Fed from", "Remarks"], [*ONE, "MCC-1"], ["T-2", 3, 9, 480, 3, "MCC-1", "future"], ["T-3", 3, 9, 480, 3, "MCC-2"]]
    (tmp_path / "list.xlsx").write_bytes(book({"Sheet1": rows}))
    for result in sized_again(tmp_path / "list.xlsx", tmp_path):
        assert [finding.feeder for finding in result.findings if finding.code == "feeder-incomplete"] == ["MCC-1"]


def test_a_cell_that_was_filled_in_is_read(tmp_path: Path) -> None:
    """Of a row that lacked a cell nothing is kept: who fills the cell in has answered."""
    from openpyxl import load_workbook

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
        [still] = [finding for finding in result.findings if finding.code == "row-still-open"]
        assert as_sent(result.job.came_from, still.sheet, still.cell) == f"Sheet1 {asked}"
