"""Results that bring no list along, or whose list can no longer be opened, are read by the maps on their sheets as received."""

from __future__ import annotations

from pathlib import Path

import pytest

import batch
from batch.reopening import results_book
from batch.results import JobResult
from tests.intake_book import book, codes, said
from tests.lists.score import HERE
from tests.test_lists import HEAD, ONE


@pytest.fixture(autouse=True)
def _without_lists(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(results_book, "list_again", lambda results, data: None)


def again(folder: Path, sheets: dict[str, list[list[object]]]) -> tuple[JobResult, JobResult]:
    """A list sized, and what its results say."""
    (folder / "list.xlsx").write_bytes(book(sheets))
    return batch.size(folder / "list.xlsx", folder / "once.xlsx"), batch.check(folder / "once.xlsx")


def banks(result: JobResult) -> list[tuple[object, ...]]:
    return [(bank.tank, bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in result.job.banks]


def test_what_a_sentence_said_of_each_tanks_supply_comes_back(tmp_path: Path) -> None:
    rows: list[list[object]] = [
        ["T-1 and T-2: 400 V 3 ph, T-3: 230 V 1 ph"], [], ["Tank", "Qty", "kW each"], ["T-1", 2, 6], ["T-2", 2, 6], ["T-3", 2, 3],
    ]  # fmt: skip
    first, result = again(tmp_path, {"Sheet1": rows})
    supplies = [("T-1", 2, 6, 400, 3), ("T-2", 2, 6, 400, 3), ("T-3", 2, 3, 230, 1)]
    assert banks(first) == banks(result) == supplies


def test_an_older_issue_stays_aside_and_holds_nothing(tmp_path: Path) -> None:
    rows = [HEAD, ONE, ["T-2", 3, 9, 480, 3]]
    first, result = again(tmp_path, {"Heaters rev B": rows, "Heaters rev A (old)": rows})
    assert "issue-older" in codes(first.job) and "issue-older" in codes(result.job)
    assert banks(result) == banks(first) and len(banks(first)) == 2
    assert not result.not_sized and not any(project.not_sized for project in result.projects)


def test_sums_under_several_sizes_of_heaters_are_not_built(tmp_path: Path) -> None:
    first, second = batch.size(HERE / "second/29-size-matrix.xlsx", tmp_path / "once.xlsx"), batch.check(tmp_path / "once.xlsx")
    assert banks(second) == banks(first) and first.job.banks


def test_what_is_still_open_is_said_at_the_cell_that_was_asked_about(tmp_path: Path) -> None:
    first, result = again(tmp_path, {"Sheet1": [[*HEAD, "Remarks"], ONE, ["T-2", 3, 9, 480, 3, "future"]]})
    [asked], [still] = said(first.job, "row-in-doubt"), said(result.job, "row-still-open")
    assert asked.cell == "F3" and still.cell.startswith("I") and len(banks(result)) == 1


def test_existing_heaters_stay_a_load_of_their_feeder(tmp_path: Path) -> None:
    rows: list[list[object]] = [[*HEAD, "Fed from", "Remarks"], [*ONE, "MCC-1", ""], ["T-3", 2, 9, 480, 3, "MCC-1", "existing"]]
    first, result = again(tmp_path, {"Sheet1": rows})
    for job in (first.job, result.job):
        [beside] = said(job, "feeder-other-rows")
        assert "at least 18 kW" in beside.message
