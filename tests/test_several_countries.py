"""One workbook of projects of several countries: whichever comes first, what they share is in SI under the names of both, and pictures and
labels are each project's own: units, words and graphical symbols."""

from __future__ import annotations

from itertools import chain
from pathlib import Path

import openpyxl
import pytest

import batch
from batch import report
from batch.drawings.one_line import plans
from batch.drawings.one_line_words import feds_of
from batch.results import JobResult
from batch.schedules import BY_ID
from batch.schedules.country_words import as_spoken, in_us, shared_in_us, sheet_in
from batch.sizing.project import size_job
from tests.job_builder import bank, feeder, job, part, project, tank
from tests.samples import book

US, EU = ("US-1", "NEC 2023", 480.0), ("EU-1", "IEC 60364", 400.0)


def mixed(*order: tuple[str, str, float]) -> JobResult:
    several = order or (US, EU)
    return size_job(job(
        [bank(project=name, volts_v=volts, connection=None, quantity=9) for name, _, volts in several],
        [feeder(project=name, volts_v=volts, run_m=30.0) for name, _, volts in several],
        [tank(project=name) for name, *_ in several],
        [project(project=name, code_basis=code, ambient_c=30.0) for name, code, _ in several],
        [part(part="PDB", kind="power distribution block", rating_a=400.0, poles=3, volts_v=690.0, wires_per_terminal=12, torque_nm=5.0,
              sccr_ka=100.0)],
    ))  # fmt: skip


def headings(path: Path, sheet: str) -> list[str]:
    tab = openpyxl.load_workbook(path, read_only=True)[sheet]
    return next([str(cell) for cell in row if cell] for row in tab.iter_rows(values_only=True) if row[0] == "Project")


@pytest.mark.parametrize("order", [(US, EU), (EU, US)])
def test_what_they_share_is_in_si_under_the_names_of_both(order: tuple, tmp_path: Path) -> None:
    report.write(mixed(*order), tmp_path / "mixed.xlsx", us=None)
    feeders = headings(tmp_path / "mixed.xlsx", "Feeders")
    assert "EGC / PE" in feeders
    circuits = headings(tmp_path / "mixed.xlsx", "Circuits")
    assert "Length (m)" in circuits and not any("(ft)" in one for one in circuits)
    first = openpyxl.load_workbook(tmp_path / "mixed.xlsx")["Read first"]
    said = [str(cell) for row in first.iter_rows(values_only=True) for cell in row if cell]
    assert any(one.startswith("SI; drawings and labels, symbols and words as each project's") for one in said)


def test_of_one_country_they_are_its_own(tmp_path: Path) -> None:
    for one, unit, name in ((US, "(ft)", "EGC"), (EU, "(m)", "PE")):
        report.write(mixed(one), tmp_path / "one.xlsx", us=None)
        assert name in headings(tmp_path / "one.xlsx", "Feeders")
        assert f"Length {unit}" in headings(tmp_path / "one.xlsx", "Circuits")


def test_units_that_are_asked_for_are_those_of_all() -> None:
    result = mixed()
    assert [shared_in_us(result, asked) for asked in (None, True, False)] == [False, True, False]
    assert [in_us(one, None) for one in result.projects] == [True, False]
    assert all(in_us(one, True) and not in_us(one, False) for one in result.projects)


def test_pictures_are_each_projects_own() -> None:
    """Feet and IEEE 315 there, metres and IEC 60617 here, in one workbook."""
    for fed in feds_of(mixed(), None):
        said = " ".join(word.text for sheet in plans(fed) for word in sheet.words)
        own, other = (" ft", " m;") if fed.project.project.project == "US-1" else (" m", " ft")
        symbols = {"US-1": ("IEEE 315", "IEC 60617"), "EU-1": ("IEC 60617", "IEEE 315")}[fed.project.project.project]
        assert own in said and other not in said
        assert symbols[0] in said and symbols[1] not in said


def test_labels_are_each_projects_own(tmp_path: Path) -> None:
    """5 N·m is 44.3 lbf·in (1 N·m = 8.8507 lbf·in)."""
    report.write(mixed(), tmp_path / "mixed.xlsx", us=None)
    tab = openpyxl.load_workbook(tmp_path / "mixed.xlsx")["Panel labels"]
    told = " ".join(str(cell) for cell in chain.from_iterable(tab.iter_rows(values_only=True)) if cell)
    of_us, of_eu = (told.index(f"of project {name}") for name in ("US-1", "EU-1"))
    us, eu = (told[of_us:of_eu], told[of_eu:]) if of_us < of_eu else (told[of_us:], told[of_eu:of_us])
    assert "44.3 lbf·in" in us and "N·m" not in us
    assert "5 N·m" in eu and "lbf" not in eu


def test_what_is_typed_under_a_heading_of_both_is_read_back(tmp_path: Path) -> None:
    """The existing device of the European feeder, typed into the results under "Existing OCPD rating / ...": 250 A."""
    both = [(name, code, volts) for name, code, volts in (US, EU)]
    tables = {
        "projects": [{"project": name, "code_basis": code} for name, code, _ in both],
        "feeders": [{"project": name, "feeder": "F-1", "volts_v": volts, "phases": 3, "run_m": 30} for name, _, volts in both],
        "heaters": [
            {"project": name, "tank": "T-1", "quantity": 9, "power_kw": 6, "volts_v": volts, "phases": 1, "heater_run_m": 8}
            for name, _, volts in both
        ],
    }  # fmt: skip
    book.write(tmp_path / "job.xlsx", "Two countries", (), tables, us=False)
    batch.size(tmp_path / "job.xlsx", tmp_path / "sized.xlsx")
    results = openpyxl.load_workbook(tmp_path / "sized.xlsx")
    tab = results["Feeders"]
    at, column = next(
        (row[0].row, cell.column) for row in tab.iter_rows() for cell in row if str(cell.value).startswith("Existing OCPD rating / ")
    )
    row = next(row[0].row for row in tab.iter_rows(min_row=at + 1) if row[0].value == "EU-1")
    tab.cell(row, column).value = 250
    results.save(tmp_path / "typed.xlsx")
    job = batch.check(tmp_path / "typed.xlsx").job
    assert {one.project: one.existing_device_a for one in job.feeders} == {"US-1": None, "EU-1": 250.0}


def test_headings_of_both_are_known_when_they_are_read() -> None:
    words = [one.wording for one in mixed().projects]
    for sheet in BY_ID.values():
        known = {column.heading for spoken in as_spoken(sheet) for column in spoken.columns}
        assert {column.heading for column in sheet_in(sheet, words).columns} <= known, sheet.id
        titles = [column.title() for column in sheet_in(sheet, words).columns]
        assert len(set(titles)) == len(titles)
