"""The comparison workbook: read again it says what the comparison says, and every figure leads to the rows behind it."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

import openpyxl
import pytest
from msgspec.structs import replace
from openpyxl.utils import get_column_letter

import batch
from batch.comparing.changeset import is_number
from batch.comparing.history import History, compare_all
from batch.comparing.totals import HEADINGS
from batch.comparing.trials import in_unit
from batch.errors import OutputFileError
from batch.report.changes_page import BEHIND
from batch.report.changes_rows import compared_rows, feeder_rows, finding_rows, heading_rows, material_rows, type_rows
from batch.report.changes_workbook import write_comparison
from batch.sheets.changes import CHANGES, COMPARED, FEEDERS, FINDINGS, MATERIALS, ROWS, TYPES
from batch.sheets.changes import HEADINGS as HEADED
from batch.writing.styles import BAND_WORDS
from tests.make_samples import HERE
from tests.recalculation import differences, needs_office
from tests.report_job import NASTY
from tests.revision_jobs import bank, job, revision

LINE = HERE / "revisions"
HEADING, DATA = 5, 6  # rows of a schedule, counted from 1


@pytest.fixture(scope="module")
def history() -> History:
    from batch.reopening.reopen import open_revision

    return compare_all([open_revision(LINE / f"line-4-rev-{name}.xlsx", batch.PROGRAM) for name in "ABC"], us=True)


@pytest.fixture(scope="module")
def written(history: History, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("compared") / "C against A.xlsx"
    write_comparison(history, path, us=True, program=batch.PROGRAM, stamp="2025-01-01")
    return path


@pytest.fixture(scope="module")
def book(written: Path) -> openpyxl.Workbook:
    return openpyxl.load_workbook(written)


def table(sheet) -> tuple[list[str], list[list[object]]]:
    heads = [cell.value for cell in sheet[HEADING] if cell.value is not None]
    return heads, [[cell.value for cell in row[: len(heads)]] for row in sheet.iter_rows(min_row=DATA)]


def test_the_sheets_and_their_order(book: openpyxl.Workbook) -> None:
    assert book.sheetnames == [
        "What changed", "History sheet", "Rows", "Changes", "Feeders", "Panel types", "Materials", "Money by cause", "Findings", "Headings",
        "Step by step",
        "Checks",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("sheet", "rows"),
    [(ROWS, compared_rows), (FEEDERS, feeder_rows), (TYPES, type_rows), (MATERIALS, material_rows), (FINDINGS, finding_rows),
     (HEADED, heading_rows)],
    ids=lambda value: getattr(value, "name", ""),
)  # fmt: skip
def test_each_schedule_holds_every_row_in_the_units_shown(book: openpyxl.Workbook, history: History, sheet, rows) -> None:
    heads, cells = table(book[sheet.name])
    assert heads == [column.title(True) for column in sheet.columns]
    wanted = [[row[column.key] for column in sheet.columns] for row in rows(history.whole)]
    assert len(cells) == len(wanted)
    for line, row in zip(cells, wanted, strict=True):
        for column, cell, value in zip(sheet.columns, line, row, strict=True):
            if column.formula:
                continue
            shown = in_unit(column, value, True)
            assert cell == pytest.approx(shown) if is_number(shown) else (cell or "") == (shown or ""), (column.key, row)


def test_changes_holds_every_change_in_the_unit_beside_it(book: openpyxl.Workbook, history: History) -> None:
    heads, cells = table(book["Changes"])
    keys = [column.key for column in CHANGES.columns if column.title(True) in heads]
    assert len(cells) == len(history.whole.changes)
    for line, change in zip(cells, history.whole.changes, strict=True):
        row = dict(zip(keys, line, strict=True))
        before, after = (in_unit(change.column, value, True) for value in (change.before, change.after))
        if is_number(before) and is_number(after):
            assert row["more"] == pytest.approx(after - before)
            assert row["unit"] == (change.column.shown_unit(True) or None)
        assert row["before"] == (pytest.approx(before) if is_number(before) else row["before"])
        if change.sort == "result":
            assert row["cause"], change
    lengths = [dict(zip(keys, line, strict=True)) for line in cells if dict(zip(keys, line, strict=True))["column"] == "Heated length"]
    assert {row["unit"] for row in lengths} == {"in"}


def test_step_by_step_holds_the_changes_of_every_step(book: openpyxl.Workbook, history: History) -> None:
    heads, cells = table(book["Step by step"])
    at = heads.index("Step")
    counts = {}
    for line in cells:
        counts[line[at]] = counts.get(line[at], 0) + 1
    assert counts == {" to ".join(step.called): len(step.changes) for step in history.steps}


def test_every_line_of_what_changed_leads_to_rows(book: openpyxl.Workbook) -> None:
    """Each row with a figure, and each sentence, has a link to a cell of a sheet that stands in the workbook."""
    page = book["What changed"]
    counted = 0
    section = ""
    for row in page.iter_rows(min_row=3):
        first = row[0]
        if first.font.b and first.font.sz == 11:
            section = first.value
        if section in ("In words", "Before and after", "Project by project", "Heater panels by type", "Maximum feeder currents"):
            words = section == "In words" and row[1].value
            if words or is_number(row[1].value) or (isinstance(row[1].value, str) and row[1].value.startswith("=")):
                counted += 1
                link = page.cell(first.row, 7).hyperlink
                target = link.location if link else ""
                assert target, f"row {first.row}: {first.value or row[1].value}"
                name, _, cell = target.rpartition("!")
                sheet = book[name.strip("'")]
                assert sheet[cell].value is not None or sheet.title in ("Rows",), target
    assert counted > 20
    assert set(BEHIND) == set(HEADINGS)


def test_figures_of_the_page_are_the_comparisons_and_live_on_the_rows(book: openpyxl.Workbook, history: History, written: Path) -> None:
    stored = openpyxl.load_workbook(written, data_only=True)["What changed"]
    live = book["What changed"]
    shown = {row[0].value: row for row in stored.iter_rows(min_row=3) if row[0].value}
    for figure in history.whole.figures:
        row = shown.get(figure.heading)
        if row is None or figure.before is None or figure.after is None:
            continue
        assert [row[at].value for at in (1, 2, 3)] == pytest.approx([figure.before, figure.after, figure.difference])
        assert live.cell(row[0].row, 4).value == f"=C{row[0].row}-B{row[0].row}"
    for heading in ("Heaters", "Connected", "Branch circuits", "Heater panels"):
        assert live.cell(shown[heading][0].row, 2).value.startswith("=SUMIFS('Rows'!")


@needs_office
def test_a_recalculation_changes_no_figure(written: Path, tmp_path: Path) -> None:
    count, wrong = differences(written, tmp_path)
    assert wrong == []
    assert count > 100


def test_tables_cover_their_data_and_print(book: openpyxl.Workbook) -> None:
    for sheet in book.worksheets:
        assert sheet.sheet_view.showGridLines is False
        assert sheet.oddFooter.center.text.replace("&8", "").strip() == "&A, page &P of &N"
        if sheet.title in ("What changed", "History sheet"):
            continue
        [covered] = sheet.tables.values()
        heads, cells = table(sheet)
        assert covered.ref == f"A{HEADING}:{get_column_letter(len(heads))}{HEADING + len(cells)}"
        assert len({head.casefold() for head in heads}) == len(heads)
        assert sheet.freeze_panes and sheet.print_title_rows
    assert {sheet.id for sheet in COMPARED} <= set(BAND_WORDS)


def test_same_comparison_same_bytes(history: History, tmp_path: Path) -> None:
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        write_comparison(history, tmp_path / name / "x.xlsx", us=True, program="p", stamp="")
    one, two = (zipfile.ZipFile(tmp_path / name / "x.xlsx") for name in ("one", "two"))
    assert {name: one.read(name) for name in one.namelist()} == {name: two.read(name) for name in two.namelist()}


def test_what_a_customer_typed_is_only_ever_text(tmp_path: Path) -> None:
    texts = [text for text in NASTY if text.strip()]
    before = job(heaters=[bank(f"T{at}{text}", "A") for at, text in enumerate(texts)])
    heaters = [bank(f"T{at}{text}", "A", notes=text, quantity=7) for at, text in enumerate(texts)]
    after = job(heaters=heaters, projects=[{"revision": "=1+1"}])
    write_comparison(compare_all([revision(before), revision(after)]), tmp_path / "nasty.xlsx")
    with zipfile.ZipFile(tmp_path / "nasty.xlsx") as package:
        formulas = {text for name in package.namelist() if "/sheet" in name and name.endswith(".xml")
                    for text in re.findall(r"<f>([^<]*)</f>", package.read(name).decode())}  # fmt: skip
        assert not any("1+1" in text for text in formulas)
        links = b"".join(package.read(name) for name in package.namelist() if name.endswith(".rels"))
        assert b"example.invalid" not in links
    assert openpyxl.load_workbook(tmp_path / "nasty.xlsx")


def test_an_empty_comparison_says_so_on_one_page(tmp_path: Path) -> None:
    side = revision(job(heaters=[bank("T-1", "A")]))
    write_comparison(compare_all([side, side]), tmp_path / "same.xlsx")
    book = openpyxl.load_workbook(tmp_path / "same.xlsx")
    assert "Changes" not in book.sheetnames
    texts = [cell.value for row in book["What changed"].iter_rows() for cell in row if isinstance(cell.value, str)]
    assert "Nothing differs between job.xlsx and job.xlsx." in texts


def test_a_failing_check_shows_on_the_first_page(tmp_path: Path) -> None:
    made = job(heaters=[bank("T-1", "A"), bank("T-2", "A")])
    history = compare_all([revision(made), revision(replace(made, banks=made.banks[:1]))])
    write_comparison(history, tmp_path / "lost.xlsx")
    page = openpyxl.load_workbook(tmp_path / "lost.xlsx", data_only=True)["What changed"]
    assert ["Rows and totals reconcile", "FAIL"] in [[row[0].value, row[1].value] for row in page.iter_rows()]


def test_a_comparison_never_takes_the_place_of_what_it_compares(tmp_path: Path) -> None:
    source = tmp_path / "a.xlsx"
    source.write_bytes((LINE / "line-4-rev-A.xlsx").read_bytes())
    before = source.read_bytes()
    with pytest.raises(OutputFileError):
        batch.compare(source, LINE / "line-4-rev-B.xlsx", target=source)
    with pytest.raises(OutputFileError):
        batch.size(LINE / "line-4-rev-B.xlsx", source, keep_from=source)
    assert source.read_bytes() == before
