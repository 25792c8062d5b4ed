"""Feeders that are assumed where there is no Feeders sheet: what rows call them, and what hangs on them that is not sized."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest
from msgspec.structs import replace
from openpyxl import load_workbook

import batch
from batch.records import UnreadBank
from batch.results import JobResult
from batch.schedules import rows
from batch.schedules.row_words import HOLD, NOT_SIZED
from batch.sizing.project import size_job
from tests.intake_book import book
from tests.job_builder import bank, codes, job
from tests.test_lists import HEAD, ONE


def sized(called: Sequence[tuple[str | None, float]], *unread: UnreadBank) -> JobResult:
    """Banks of these feeders' names and volts, and rows that could not be read."""
    banks = [bank(bank=str(at), feeder=name, volts_v=volts, connection=None) for at, (name, volts) in enumerate(called, 1)]
    return size_job(replace(job(banks, []), unread=unread))


def banks_of(result: JobResult) -> dict[str, int]:
    return {row.feeder.feeder: row.banks for row in result.projects[0].feeders}


def open_of(result: JobResult) -> dict[str, tuple[bool, str]]:
    """Of each feeder whether it must not be built yet, and what is open of it."""
    return {row["feeder"]: (row["status"] in (HOLD, NOT_SIZED), row["open"]) for row in rows(result, "feeder_totals")}


def test_a_row_that_is_not_sized_hangs_on_the_feeder_that_its_volts_say() -> None:
    result = sized([("MCC-1", 480.0), ("MCC-1", 240.0)], UnreadBank("P-1", "T-9", feeder="mcc-1", volts_v=480.0, why="Power: blank"))
    assert banks_of(result) == {"MCC-1 480 V": 1, "MCC-1 240 V": 1}
    assert open_of(result) == {"MCC-1 480 V": (True, "without 1 bank not sized, of unknown power"), "MCC-1 240 V": (False, "")}


def test_one_that_says_no_volts_hangs_on_all_feeders_of_its_name() -> None:
    unread = [UnreadBank("P-1", "T-9", feeder="MCC-1", quantity=2, power_kw=3.0, why="Volts: blank")]
    result = sized([("MCC-1", 480.0), ("MCC-1", 240.0), ("MCC-2", 480.0)], *unread)
    words = "without 1 bank not sized, 6 kW by its row (it may be on another feeder of that name)"
    assert open_of(result) == {"MCC-1 480 V": (True, words), "MCC-1 240 V": (True, words), "MCC-2": (False, "")}
    assert {finding.feeder for finding in result.findings if finding.code == "feeder-incomplete"} == {"MCC-1 480 V", "MCC-1 240 V"}
    assert result.projects[0].not_sized[0].feeder == "MCC-1"  # as its row has it


def test_how_many_may_be_on_another_is_said() -> None:
    unread = [UnreadBank("P-1", "T-9", feeder="MCC-1"), UnreadBank("P-1", "T-8", feeder="MCC-1", volts_v=480.0)]
    found = open_of(sized([("MCC-1", 480.0), ("MCC-1", 240.0)], *unread))
    assert found["MCC-1 480 V"][1].endswith("(1 of them may be on another feeder of that name)")
    assert found["MCC-1 240 V"][1].endswith("(it may be on another feeder of that name)")
    found = open_of(sized([("MCC-1", 480.0), ("MCC-1", 240.0)], unread[0], unread[0]))
    assert found["MCC-1 480 V"][1].endswith("(all of them may be on another feeder of that name)")


def test_one_that_names_a_feeder_of_its_own_leaves_the_others_alone() -> None:
    found = open_of(sized([("MCC-1", 480.0)], UnreadBank("P-1", "T-9", feeder="MCC-7")))
    assert found["MCC-1"] == (False, "") and found["MCC-7"][1].startswith("not sized, with")


def test_one_that_names_none_hangs_where_its_volts_would() -> None:
    found = open_of(sized([(None, 480.0), (None, 240.0)], UnreadBank("P-1", "T-9", volts_v=240.0)))
    assert found["480 V"] == (False, "") and found["240 V"][0]
    found = open_of(sized([(None, 480.0), (None, 240.0)], UnreadBank("P-1", "T-9")))
    assert {words for _, words in found.values()} == {"1 bank not sized, of unknown power, may hang on it: no feeder could be read"}


def test_a_list_with_two_volts_of_one_center_and_a_row_in_doubt(tmp_path: Path) -> None:
    head = [*HEAD, "Fed from", "Remarks"]
    some = [[*ONE, "MCC-1", None], ["T-2", 3, 9, 240, 3, "MCC-1", None], ["T-3", 3, 9, 480, 3, "MCC-1", "future"]]
    (tmp_path / "list.xlsx").write_bytes(book({"Sheet1": [head, *some]}))
    found = open_of(batch.check(tmp_path / "list.xlsx"))
    assert set(found) == {"MCC-1 480 V", "MCC-1 240 V"}
    assert found["MCC-1 480 V"] == (True, "without 1 bank not sized, 27 kW by its row")


@pytest.mark.parametrize("name", ["480V", "480", "480 V", "480 VAC", " 480 volts", None])
def test_volts_for_a_name_are_one_feeder(name: str | None) -> None:
    assert banks_of(sized([(None, 480.0), (name, 480.0)])) == {"480 V": 2}


@pytest.mark.parametrize("name", ["MCC-1 480V", "mcc-1 (480 V)", "MCC-1, 480 VAC", "MCC-1"])
def test_volts_behind_a_name_are_the_volts_of_that_feeder(name: str) -> None:
    """As an assumed feeder is called in results, where a bank's may be typed."""
    assert banks_of(sized([("MCC-1", 480.0), (name, 480.0), ("MCC-1", 240.0)])) == {"MCC-1 480 V": 2, "MCC-1 240 V": 1}


def test_a_name_stays_as_it_is_written() -> None:
    assert banks_of(sized([("Swbd A, 480V", 480.0), ("SWBD A", 480.0), ("MCC-1", 480.0)])) == {"Swbd A, 480V": 2, "MCC-1": 1}
    assert set(banks_of(sized([("Swbd A, 480V", 480.0), ("swbd a", 240.0)]))) == {"Swbd A, 480V", "swbd a 240 V"}


def test_heaters_on_a_supply_that_is_called_by_higher_volts_are_held() -> None:
    """240 V heaters "fed from 480 V": no feeder of 240 V is made of that name."""
    result = sized([("480 V", 240.0)])
    assert result.projects[0].feeders[0].feeder.volts_v == 480.0 and "volts-over" in codes(result.findings)


@pytest.mark.parametrize("name", ["480Y/277V", "PNL 480/277 V", "12V", "MCC 1V"])
def test_what_is_no_volts_behind_a_name_stays_the_name(name: str) -> None:
    assert banks_of(sized([(name, 480.0)])) == {name: 1}


@pytest.mark.parametrize(
    ("one", "other", "alike"),
    [("MCC-1", "MCC1", True), ("MCC 1", "MCC-1", True), ("F-1-2", "F-12", False), ("MCC-1", "MCC-2", False), ("A/B", "AB", True)],
)
def test_names_that_only_signs_tell_apart_are_said(one: str, other: str, alike: bool) -> None:
    result = sized([(one, 480.0), (other, 480.0)])
    assert len(banks_of(result)) == 2
    said = [finding.message for finding in result.findings if finding.code == "feeders-nearly-alike"]
    assert bool(said) is alike and all(one in each and other in each for each in said)


def test_what_was_typed_of_an_assumed_feeder_is_named_where_it_is_kept_from(tmp_path: Path) -> None:
    (tmp_path / "list.xlsx").write_bytes(book({"Sheet1": [[*HEAD, "Fed from"], [*ONE, "MCC-1"]]}))
    batch.size(tmp_path / "list.xlsx", tmp_path / "results.xlsx")
    results = load_workbook(tmp_path / "results.xlsx")
    sheet = results["Feeders"]
    [heading] = [cell for row in sheet.iter_rows(max_row=8) for cell in row if cell.value == "Existing OCPD rating (A)"]
    sheet.cell(heading.row + 1, heading.column).value = 400
    results.save(tmp_path / "results.xlsx")
    kept = batch.check(tmp_path / "list.xlsx", keep_from=tmp_path / "results.xlsx")
    [said] = [finding.message for finding in kept.findings if finding.code == "kept-typed-not"]
    assert f"Feeders {heading.column_letter}{heading.row + 1}" in said
