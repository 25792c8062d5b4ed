"""What people see first and what they get on paper: folded columns, print sets, pages."""

from __future__ import annotations

import re
import shutil
import subprocess
from functools import cache
from pathlib import Path

import openpyxl
import pytest
from openpyxl.utils import get_column_letter

import batch
from batch.cli import app as cli
from batch.errors import SpecificationError
from batch.report.print_sets import UNCHOSEN, set_named
from batch.report.read_first import NAME as READ_FIRST
from batch.schedules import RESULTS
from batch.sheets import Column, Sheet
from batch.sheets.received import OFF_PAPER
from batch.writing.as_sized import extended, shown
from tests import make_samples, paper_job
from tests.sample_results import ALL, FINDINGS, PLANT, SMALL, opened

SCREEN = 1366 - 26 - 17  # pixels across a small screen, less row heads and scroll bar (common practice, no source)
HEADING = 5
FIRST_SEEN = {  # what stands on the first screen of these sheets: keys in order
    "Banks": "project tank bank feeder status edited quantity power_kw connected_kw connection rating_a branches panels findings",
    "Panels": "project panel feeder type status edited heaters connected_kw connection rating_a branches panel_feeder_device_a "
    "disconnect_tag findings",
    "Feeders": "project feeder status edited volts_v banks heaters panels connected_kw maximum_a device_a wire source_kva findings",
}
SCHEDULES = {sheet.name: extended(sheet) for sheet in RESULTS}


@cache
def made(name: str, print_set: str, folder: Path) -> Path:
    cut = name in ("25", "26")
    source = paper_job.write(folder / f"{name}.xlsx", spread=name == "26") if cut else make_samples.HERE / name
    target = folder / f"{Path(name).stem} {print_set} sized.xlsx"
    batch.size(source, target, print_set=print_set)
    return target


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    return tmp_path_factory.mktemp("print-sets")


# --- on the screen ----------------------------------------------------------------------------------------------------------------


def dimensions(sheet) -> dict[int, object]:
    """Column number -> its dimension; one entry may stand for a run of columns."""
    return {at: one for one in sheet.column_dimensions.values() for at in range(one.min, one.max + 1)}


@pytest.mark.parametrize("tab", FIRST_SEEN)
@pytest.mark.parametrize("name", (SMALL, PLANT, FINDINGS))
def test_the_first_screen_shows_what_one_reads_first(name: str, tab: str) -> None:
    sheet, spec = opened(name)[tab], SCHEDULES[tab]
    known = dimensions(sheet)
    keys, across = [], 0
    for at, column in enumerate(spec.columns[: shown(spec)], 1):
        if known[at].hidden:
            continue
        keys.append(column.key)
        across += int(known[at].width * 7)
        if column.key == "findings":
            break
    assert keys == FIRST_SEEN[tab].split()
    assert across <= SCREEN


@pytest.mark.parametrize("tab", FIRST_SEEN)
def test_all_groups_but_one_are_folded_and_their_marks_stand_beside_them(tab: str) -> None:
    sheet, spec = opened(SMALL)[tab], SCHEDULES[tab]
    known = dimensions(sheet)
    assert sheet.sheet_properties.outlinePr is None or sheet.sheet_properties.outlinePr.summaryRight in (None, True)
    groups = [column.group for column in spec.columns]
    opened_groups = {group for at, group in enumerate(groups, 1) if group and not known[at].hidden}
    assert len(opened_groups) == 1 and len(set(filter(None, groups))) >= 4
    for at, column in enumerate(spec.columns, 1):
        folded = at > shown(spec) or (column.group and column.group not in opened_groups)
        assert bool(known[at].hidden) == bool(folded)
        assert (known[at].outlineLevel == 1) == (at > shown(spec) or bool(column.group))
        before = at > 1 and bool(known[at - 1].hidden)
        assert bool(known[at].collapsed) == (before and not folded)  # two groups side by side would be one
    assert known[len(groups) + 1].collapsed


def test_an_outline_group_is_one_run_with_a_column_after_it() -> None:
    """Programs join groups that touch, and have nowhere to put the mark of one at the end."""
    plain, grouped, other = Column("a", "A"), Column("b", "B", group="g"), Column("c", "C", group="h")
    Sheet("x", "X", "row", "", columns=(plain, grouped, Column("d", "D")), open_group="g")
    for columns in ((plain, grouped), (grouped, other, plain), (grouped, plain, Column("e", "E", group="g"), Column("d", "D"))):
        with pytest.raises(SpecificationError):
            Sheet("x", "X", "row", "", columns=columns)
    with pytest.raises(SpecificationError):
        Sheet("x", "X", "row", "", columns=(plain,), open_group="g")


# --- print sets -------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("print_set", ("manager", "estimator", "all"))
@pytest.mark.parametrize("name", ("25", FINDINGS))
def test_a_set_shows_its_sheets_and_hides_the_others_without_an_area(name: str, print_set: str, folder: Path) -> None:
    book = openpyxl.load_workbook(made(name, print_set, folder))
    in_sight = {sheet.title for sheet in book.worksheets if sheet.sheet_state == "visible"}
    for sheet in book.worksheets:
        assert bool(sheet.print_area) == (sheet.title in in_sight)
    summaries = {tab for tab in book.sheetnames if tab.startswith("Summary")}
    if print_set == "all":
        assert {sheet.title for sheet in book.worksheets if sheet.sheet_state != "visible"} == {"Sized data"}
        assert not [one for one in dimensions(book["Banks"]).values() if one.hidden and not one.min > 40]  # what it was sized with alone
    elif print_set == "manager":
        assert in_sight == {READ_FIRST} | (summaries if len(summaries) <= 2 else set())
    else:
        assert {READ_FIRST, "Banks", "Panels", "Feeders", "Source loads", "Distribution", "Materials", "Findings"} | summaries <= in_sight
        shop = {"Wiring", "Wiring tags", "Circuits", "Panel labels", "Label list", "Panel drawings", "One-line diagrams"}
        assert not in_sight & (shop | {"Code basis", "Checks"})
    lines = [(row[0].value, row[1].value) for row in book[READ_FIRST].iter_rows()]
    words = {tab: word for tab, word in lines[lines.index(("Sheets", None)) :] if word in ("open", "hidden")}
    assert set(words) == set(book.sheetnames) - {READ_FIRST, "Sized data"}
    assert all((words[tab] == "open") == (tab in in_sight) for tab in words)
    assert ("Cautions that go with every job", None) in lines
    links = [row[1].hyperlink.location for row in book[READ_FIRST].iter_rows() if row[1].hyperlink]
    assert all(link.rpartition("!")[0].strip("'").replace("''", "'") in in_sight for link in links)  # none leads to what is hidden


def test_where_no_set_is_chosen_all_is_in_sight_and_the_estimators_prints(folder: Path) -> None:
    """What is not of the set says so beside its title, which is not taken for something typed there."""
    chosen, whole = (openpyxl.load_workbook(made("25", which, folder)) for which in ("estimator", UNCHOSEN))
    printed = {sheet.title for sheet in chosen.worksheets if sheet.sheet_state == "visible"}
    for sheet in whole.worksheets:
        if sheet.title == "Sized data":
            continue
        area = sheet.print_area.replace("$", "").rpartition("!")[2]
        said = [cell.value for cell in sheet[1] if cell.value == OFF_PAPER]
        assert sheet.sheet_state == "visible"
        assert (area != "XFD1048576", not said) == (sheet.title in printed,) * 2, sheet.title
        if sheet.title in printed:
            assert sheet.print_area == chosen[sheet.title].print_area
    assert cli.main(["size", str(folder / "25.xlsx"), "-o", str(folder / "unsaid.xlsx"), "--stamp", ""]) in (0, 1)
    unsaid = openpyxl.load_workbook(folder / "unsaid.xlsx")
    assert {sheet.title: sheet.print_area for sheet in unsaid.worksheets} == {sheet.title: sheet.print_area for sheet in whole.worksheets}
    again = batch.check(made("25", UNCHOSEN, folder))
    assert not [one for one in again.findings if one.code.startswith("edit-")]


def test_nothing_is_lost_with_what_is_hidden(folder: Path) -> None:
    """A manager's copy read again is the job it was made from, and holds what the whole workbook holds."""
    first, again = batch.check(paper_job.write(folder / "25.xlsx")), batch.check(made("25", "manager", folder))
    assert [row.design for row in first.projects[0].banks] == [row.design for row in again.projects[0].banks]
    whole, brief = (openpyxl.load_workbook(made("25", which, folder)) for which in ("all", "manager"))
    assert whole.sheetnames == brief.sheetnames
    for tab in ("Banks", "Circuits", "Findings"):
        one, other = ([[cell.value for cell in row] for row in book[tab].iter_rows(min_row=HEADING)] for book in (whole, brief))
        assert one == other


def test_a_set_that_is_none_is_refused(folder: Path) -> None:
    with pytest.raises(SpecificationError, match="manager, estimator, all"):
        set_named("everybody")


# --- pages ------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ALL)
def test_a_line_of_findings_is_whole_on_its_page(name: str) -> None:
    book = opened(name)
    if "Findings" in book.sheetnames:
        assert len(re.findall("!", book["Findings"].print_area)) == 1


@pytest.mark.parametrize("revisions", (2, 3))
def test_a_line_of_changes_is_whole_on_its_page(revisions: int, folder: Path) -> None:
    """With the column Step of three revisions, too."""
    files = [make_samples.HERE / "revisions" / f"line-4-rev-{letter}.xlsx" for letter in "ABC"][:revisions]
    target = folder / f"changes {revisions}.xlsx"
    batch.compare(*files, target=target)
    area = openpyxl.load_workbook(target)["Changes"].print_area
    assert len(re.findall("!", area)) == 1 and area.replace("$", "").rpartition("!")[2].startswith("A1:")


needs_print = pytest.mark.skipif(not (shutil.which("soffice") and shutil.which("pdfinfo")), reason="needs LibreOffice and pdfinfo")


def pages(workbook: Path, profile: Path) -> int:
    """Pages that the whole workbook prints on, as LibreOffice has them."""
    asked = ["soffice", "--headless", "--norestore", f"-env:UserInstallation=file://{profile}", "--convert-to", "pdf", "--outdir"]
    subprocess.run([*asked, str(workbook.parent), str(workbook)], check=True, capture_output=True, timeout=300)
    told = subprocess.run(["pdfinfo", str(workbook.with_suffix(".pdf"))], check=True, capture_output=True, text=True).stdout
    return int(re.search(r"Pages:\s+(\d+)", told)[1])


PROMISED = (
    ("25", "estimator", 40), ("26", UNCHOSEN, 42), ("25", "manager", 3), ("26", "manager", 3),
    (SMALL, "manager", 3), (FINDINGS, "manager", 3),
)  # fmt: skip


@needs_print
@pytest.mark.parametrize(("name", "print_set", "most"), PROMISED)
def test_a_set_comes_on_as_many_pages_as_it_promises(name: str, print_set: str, most: int, folder: Path) -> None:
    assert pages(made(name, print_set, folder), folder / "profile") <= most


def test_column_letters_of_the_open_group_are_printed() -> None:
    """The open group is in the print area; what a row was sized with is not."""
    spec, area = SCHEDULES["Banks"], opened(SMALL)["Banks"].print_area.replace("$", "")
    last = get_column_letter(next(at for at, column in enumerate(spec.columns, 1) if column.key == "delivered_kw"))
    assert re.search(rf":{last}\d+$", area)
