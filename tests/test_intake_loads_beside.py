"""Rows that are not sized and hang on a feeder all the same."""

from __future__ import annotations

from pathlib import Path

import pytest

import batch
from batch.findings import Harm
from batch.intake.job import read
from batch.records import Job
from tests.intake_book import book, said

HEAD = ["Tank", "Description", "Qty", "kW each", "Volts", "Ph", "Fed from", "Remarks"]
ONE, TWO = ["T-1", "", 2, 6, 480, 3, "MCC-1", ""], ["T-2", "", 3, 9, 480, 3, "MCC-2", ""]


def listed(folder: Path, *rows: list[object]) -> Job:
    (folder / "list.xlsx").write_bytes(book({"Sheet1": [HEAD, ONE, TWO, *rows]}))
    return read(folder / "list.xlsx")


@pytest.mark.parametrize(
    ("row", "known"),
    [
        (["T-3", "", 2, 9, 480, 3, "MCC-1", "existing to remain"], "row 4 names MCC-1, and is not sized"),
        (["T-3", "", 2, 9, 480, 3, "MCC-1", "by others"], "at least 18 kW"),
        (["T-3", "", 2, 9, 480, 3, "MCC-1", "bauseits"], "at least 18 kW"),
        (["T-3", "Hot air dryer", 2, 15, 480, 3, "MCC-1", ""], "at least 30 kW"),
        (["P-3", "Circulating pump", 1, "", 480, 3, "MCC-1", ""], "a load that is not said"),
        (["T-3", "", 2, 9, 480, 3, "MCC-1", "deleted"], ""),
        (["T-3", "", 2, 9, 480, 3, "MCC-1", "cancelled"], ""),
        (["T-3", "", 2, 9, 480, 3, "MCC-9", "existing"], ""),  # a feeder of nothing that is sized
    ],
)
def test_what_hangs_on_a_feeder_beside_the_heaters(row: list[object], known: str, tmp_path: Path) -> None:
    job = listed(tmp_path, row)
    assert len(job.banks) == 2
    found = said(job, "feeder-other-rows")
    assert [known in one.message and one.feeder == "MCC-1" for one in found] == ([True] if known else [])


def test_loads_of_several_rows_are_added_and_said_on_the_feeder(tmp_path: Path) -> None:
    listed(
        tmp_path, ["T-3", "", 2, 9, 480, 3, "MCC-1", "existing"], ["T-4", "", 1, 6, 480, 3, "MCC-1", "by owner"],
        ["F-1", "Exhaust fan", 1, "", 480, 3, "MCC-1", ""],
    )  # fmt: skip
    result = batch.check(tmp_path / "list.xlsx")
    [one] = [finding for finding in result.findings if finding.code == "feeder-other-rows"]
    assert "rows 4 to 6 name MCC-1, and are not sized" in one.message
    assert "at least 24 kW, and 1 of them without a power in kW" in one.message
    assert one.kind.harm is Harm.OVERLOAD
    by_name = {row.feeder.feeder: row for row in result.projects[0].feeders}
    assert "feeder-other-rows" in {finding.code for finding in by_name["MCC-1"].findings}


def test_a_watched_workbook_sees_that_a_load_beside_has_changed(tmp_path: Path) -> None:
    from batch.sizing import kept_projects

    kept_projects.keep_projects()
    try:
        for power in (9, 12):
            listed(tmp_path, ["T-3", "", 2, power, 480, 3, "MCC-1", "existing"])
            by_name = {row.feeder.feeder: row for row in batch.check(tmp_path / "list.xlsx").projects[0].feeders}
            assert any(f"at least {2 * power} kW" in one.message for one in by_name["MCC-1"].findings)
    finally:
        kept_projects._kept = None


def test_results_sized_again_say_the_same_of_the_loads_beside(tmp_path: Path) -> None:
    listed(
        tmp_path, ["T-3", "", 2, 9, 480, 3, "MCC-1", "existing"], ["T-4", "", 1, 6, 480, 3, "MCC-1", "cancelled"],
        ["F-1", "Fan", 1, 2, 480, 3, "MCC-1", ""],
    )  # fmt: skip
    first = batch.size(tmp_path / "list.xlsx", tmp_path / "once.xlsx").job
    again = batch.size(tmp_path / "once.xlsx", tmp_path / "twice.xlsx").job
    for job in (first, again, batch.check(tmp_path / "twice.xlsx").job):
        [one] = said(job, "feeder-other-rows")
        assert "at least 20 kW" in one.message
