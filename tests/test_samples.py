"""The samples are what their script makes, are labelled as invented, and show what they say they show."""

from __future__ import annotations

import zipfile
from functools import cache
from pathlib import Path

import pytest

import batch
from batch.cli import closing_table as closing
from batch.errors import InputFileError
from batch.findings import CATALOGUE, Effect, Severity
from batch.findings.filling import FILLING
from batch.findings.reading_lists import LISTS
from batch.findings.revising import REVISING
from batch.results import JobResult
from tests import make_samples
from tests.samples import book, broken, customer, earth_faults, faults, plant, small

SAMPLES = make_samples.HERE
BROKEN = SAMPLES / "broken"

OF_TEXT = ("text-table", "text-letters-unsure", "text-quotes-unsure", "text-by-position", "sheet-parted")
SHOWN_LISTS = (
    "list-not-read", "row-unheated", "tanks-question", "row-figures-open", "value-from-above", "row-banner", "total-differs", "note-asks",
    "notes-aside",
)  # fmt: skip
# Kinds that no workbook by itself can provoke, each with the reason. A kind that a sample shows must not stand here.
NOT_SHOWN: dict[str, str] = {
    **{kind.code: "needs an earlier revision of the job beside it; provoked in the tests of revisions" for kind in REVISING},
    **{kind.code: "needs a list to be filled in; provoked in the tests of filling" for kind in FILLING},
    **{kind.code: "needs a list of its own; provoked in the tests of lists" for kind in LISTS if kind.code not in SHOWN_LISTS},
    **dict.fromkeys(
        ("stock-of-firm", "stock-of-job-first", "words-of-firm"), "needs a firm's own folder; provoked in the tests of that folder"
    ),
    **dict.fromkeys(
        ("rows-above", "cells-merged", "decimal-mark-learned", "tags-in-one-cell", "tag-of-several", "rows-counted"),
        "needs such a layout in the program's own form; provoked in the tests of reading",
    ),
    "tank-material-open": "needs an acid in a tank of no material; provoked in the tests of the heat check",
    "source-system-told": "needs a source of its own with feeders; provoked in the tests of the supply side",
    "job-divided": "needs more banks than a sample has; provoked in the tests of sections",
    "job-not-divided": "the same",
    "workbook-looks-unseen": "needs a workbook of an older kind; provoked in the tests of reading",
    **dict.fromkeys(OF_TEXT, "needs a list that is a file of text, no workbook; provoked in the tests of text tables"),
    **dict.fromkeys(("rule-set-own", "rule-set-looser"), "needs a firm's own folder; provoked in the tests of own rule sets"),
    **dict.fromkeys(("wire-not-tabulated", "soil-assumed"), "needs buried cables, of aluminum too; provoked in the tests of findings"),
    "code-basis-asked": "needs the option --code; provoked in the tests of own rule sets",
    "headings-not-found": "needs a sheet of ours without its headings; provoked in the tests of reading",
    "more-of-a-kind": "needs thousands of rows with one fault; provoked in the tests of hostile files",
    "phases-impossible": "reading refuses such a cell first (cell-not-allowed); the core keeps its own guard for who calls it from Python",
}


EARTH = "every-earth-fault.xlsx"
CUSTOMER = "customer-list.xlsx"  # read by the column map beside it


@cache
def checked(name: str) -> JobResult:
    return batch.check(SAMPLES / name, column_map=SAMPLES / customer.MAP if name == CUSTOMER else None)


def codes(result: JobResult) -> set[str]:
    return {finding.code for finding in result.findings}


def parts(path: Path) -> dict[str, bytes] | bytes:
    """What is in a file: the parts of a workbook, whose packing may differ between machines, else the bytes."""
    if not zipfile.is_zipfile(path):
        return path.read_bytes()
    with zipfile.ZipFile(path) as stored:
        return {name: stored.read(name) for name in stored.namelist()}


def batch_wrote(path: Path) -> bool:
    return " sized" in path.name or " filled" in path.name


def test_samples_are_what_the_script_makes(tmp_path: Path) -> None:
    made = {path.relative_to(tmp_path) for path in make_samples.make(tmp_path)}
    kept = {path.relative_to(SAMPLES) for path in SAMPLES.rglob("*") if path.is_file() and not batch_wrote(path)}
    assert made == kept
    for name in made:
        if name.name != "truncated.xlsx":  # half of packed bytes: as machines differ in packing, its half does too
            assert parts(tmp_path / name) == parts(SAMPLES / name), f"{name} differs: run python -m tests.make_samples"


KINDS = {".xlsx", ".xlsm", ".ods"}
WORKBOOKS = [
    path for path in sorted(SAMPLES.rglob("*.*"))
    if path.suffix in KINDS and path.name not in broken.REFUSED and not batch_wrote(path)
]


@pytest.mark.parametrize("path", WORKBOOKS, ids=lambda path: path.name)
def test_every_sample_says_that_it_is_invented(path: Path) -> None:
    with zipfile.ZipFile(path) as stored:
        texts = "content.xml" if path.suffix == ".ods" else "xl/sharedStrings.xml"
        assert book.LABEL in stored.read(texts).decode()


def test_small_sample_is_clean() -> None:
    result = checked("small-clean.xlsx")
    assert [finding.message for finding in result.findings if finding.severity is not Severity.NOTE] == []
    assert all(check.passes for check in result.checks)
    banks = {row.bank.tank: row for row in result.projects[0].banks}
    assert len(banks) == len(small.TANKS)
    # Worked by hand: 6 kW at 480 V is 12.5 A; three in delta 12.5 sqrt(3) = 21.65 A a line, 27.06 A with 25 %, so 30 A for the panel:
    # a terminal of the project takes one wire.
    first = banks["T-101"].design
    assert [panel.panel_feeder_device.rating_a for panel in first.panels] == [30]
    assert [tag for tag, row in banks.items() if not row.panels] == ["T-106"]
    assert first.line_a == pytest.approx(21.65, abs=0.005)
    # Nine heaters in delta: 6 + 3 on two panels. 2 kW at 480 V is 4.17 A, 5.2 A with 25 %, so the smallest branch OCPD, 15 A.
    assert sorted(panel.heaters for panel in banks["T-105"].design.panels) == [3, 6]
    assert banks["T-105"].design.branch.device.rating_a == 15


def test_whole_plant_is_as_large_as_it_says_and_has_no_blocker() -> None:
    result = checked("whole-plant.xlsx")
    banks = [row for project in result.projects for row in project.banks]
    assert len(result.projects) == len(plant.HALLS)
    assert len({row.bank.tank for row in banks}) >= 400
    assert sum(row.bank.quantity for row in banks) >= 2500
    supplies = {(row.feeder.volts_v, row.feeder.phases, row.feeder.wires) for row in banks}
    assert {(480, 3, 3), (480, 3, 4), (208, 3, 4), (240, 3, 3), (240, 1, 2), (600, 3, 3)} <= supplies
    assert [finding.message for finding in result.findings if finding.severity is Severity.HOLD] == []
    assert all(check.passes for check in result.checks)


@pytest.mark.parametrize(
    ("tank", "code"),
    [("RZ2-03", "limit-missing"), ("NC2-10", "supplementary-devices"), ("PW3-03", "volts-low"), ("CT2-04", "volts-near"),
     ("RZ1-02", "rating-fixed"), ("PT2-05", "level-cutoff-missing"), ("BO2-02", "level-cutoff-unknown")],
)
def test_whole_plant_tells_its_stories(tank: str, code: str) -> None:
    said = {(finding.tank, finding.code) for finding in checked("whole-plant.xlsx").findings}
    assert (tank, code) in said


def test_whole_plant_has_the_cautions_of_its_stories_and_no_other() -> None:
    said = {finding.code for finding in checked("whole-plant.xlsx").findings if finding.severity is Severity.CAUTION}
    stories = {"limit-missing", "supplementary-devices", "volts-low", "level-cutoff-missing", "other-load-added", "demand-factor"}
    # Tanks that are too little heated, or run at the boil, and one that is too hot for its plastic.
    stories |= {"heat-marginal", "heat-short", "heat-never", "bath-boils", "shell-too-hot"}
    # Every supply of a plant this size is stiffer than unmarked parts, and HALL-2 has breakers, two of its feeders on a delta.
    stories |= {"fault-over-default", "interrupting-over", "slash-rated", "ground-detectors", "fuse-disconnect"}
    # Two or three heaters behind one device, on contactors that nobody has marked.
    # HALL-3 says nothing of back-up contactors, and some of its tanks are of plastic.
    stories.add("control-no-backup")
    stories.add("block-jumper-large")  # no stock: nothing says that small branch OCPDs take the jumpers of a large panel feeder
    stories.add("device-at-end")  # of the second passivation line
    stories.add("box-not-fitting")  # control panels of many contactors behind plastic, too warm for the largest box of the list
    assert said == stories | {"single-circuit-large", "two-wires"}


def test_whole_plant_has_sources() -> None:
    """One that three feeders share, a 1-phase one on a pair of its three phases among them; one of this job with two, each behind
    conductors that its devices protect; one of this job whose only feeder has its OCPD at its end."""
    projects = checked("whole-plant.xlsx").projects
    sources = {row.source.source: (project, row) for project in projects for row in project.sources if row.named}
    assert set(sources) == {"TX-240", "TX-208A", "TX-208B"}
    project, shared = sources["TX-240"]
    hung = {row.feeder.feeder: row for row in project.feeders if row.feeder.feeder in shared.feeders}
    assert shared.supply.phases == 3 and [row.supply.phases for row in hung.values()] == [3, 3, 1]
    assert [row.source_pair for row in hung.values()][:2] == ["", ""] and hung["PL1-F1"].source_pair in ("A-B", "B-C", "C-A")
    for tag in ("TX-208A", "TX-208B"):
        _, row = sources[tag]
        assert row.source.primary_device_a <= row.protection.alone_a and not row.findings
    project, _ = sources["TX-208B"]
    [at_end] = [row for row in project.feeders if row.source == "TX-208B"]
    assert at_end.feeder.device_at_end and at_end.end.main_a == at_end.device.rating_a == 400


def test_each_row_of_the_findings_sample_shows_what_its_notes_say() -> None:
    said = codes(checked("every-finding.xlsx")) | codes(checked(EARTH))
    promised = {
        code.strip()
        for tables in (faults.tables(), earth_faults.tables()) for rows in tables.values() for row in rows if row.get("notes")
        for code in str(row["notes"]).split(",")
    }
    assert promised <= set(CATALOGUE), "a note names no finding of the catalogue"
    assert promised - said == set()


@pytest.mark.parametrize("row", [row for row in faults.electrical() if row["notes"]], ids=lambda row: f"{row['tank']} {row['notes']}")
def test_each_electrical_fault_is_said_of_its_own_bank_or_feeder(row: dict[str, object]) -> None:
    findings = checked("every-finding.xlsx").findings
    for code in str(row["notes"]).split(", "):
        places = [finding for finding in findings if finding.code == code]
        assert any(finding.tank == row["tank"] or finding.feeder == row["feeder"] for finding in places), code


@pytest.mark.parametrize("name", broken.OWN)
def test_each_broken_workbook_shows_what_it_is_for(name: str) -> None:
    assert set(broken.OWN[name]) <= codes(checked(f"broken/{name}"))


@pytest.mark.parametrize("name", broken.REFUSED)
def test_what_is_no_workbook_is_refused_in_one_line(name: str) -> None:
    with pytest.raises(InputFileError) as refusal:
        batch.check(BROKEN / name)
    assert name in str(refusal.value)
    assert "\n" not in str(refusal.value)


def test_between_them_the_samples_show_every_finding() -> None:
    names = ("every-finding.xlsx", EARTH, CUSTOMER, *(f"broken/{name}" for name in broken.OWN))
    shown = set().union(*(codes(checked(name)) for name in names))
    assert set(CATALOGUE) - shown - set(NOT_SHOWN) == set(), "not shown by any sample"
    assert shown & set(NOT_SHOWN) == set(), "shown after all: take it out of NOT_SHOWN"


def test_rows_not_sized_are_counted_as_the_heater_list_has_them() -> None:
    """Rows of the list less its four rows that hold no heater (note, total, nothing, headings again) = banks + rows not sized."""
    result = checked("every-finding.xlsx")
    banks = sum(len(project.banks) for project in result.projects)
    assert len(faults.tables()["heaters"]) - 4 == banks + closing.heater_rows_not_sized(result)


EVERY = [CUSTOMER, "small-clean.xlsx", "whole-plant.xlsx", "every-finding.xlsx", *(f"broken/{name}" for name in broken.OWN)]


@pytest.mark.parametrize("name", EVERY)
def test_every_sample_agrees_with_itself(name: str) -> None:
    assert [check for check in checked(name).checks if not check.passes] == []


@pytest.mark.parametrize("name", EVERY)
def test_every_row_of_every_sample_has_a_fate(name: str) -> None:
    result = checked(name)
    for table in result.job.received:
        for row in table.rows:
            if any(value not in (None, "") for value in row.values):
                assert row.refused or result.fates.get((row.sheet, row.row)), f"{row.sheet} row {row.row} has no fate"
    for finding in result.findings:
        if finding.kind.effect is Effect.NOT_SIZED:
            assert finding.sheet or finding.code == "sheet-heaters-missing", f"{finding.code}: a refused row says no sheet"
