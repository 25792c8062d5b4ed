"""A written results workbook, opened again: what it says, how it looks, and what it must never contain."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

import openpyxl
import pytest
from msgspec.structs import replace
from openpyxl.utils import get_column_letter, range_boundaries

import batch
from batch import report
from batch.errors import OutputFileError
from batch.results import Material
from batch.rules import load
from batch.schedules import RESULTS, rows
from batch.sheets.received import ROLE_WORDS
from batch.writing import styles
from batch.writing.as_sized import extended, shown_key, unedited
from batch.writing.as_sized import shown as shown_columns
from batch.writing.book import whole_book
from batch.writing.formulas import FUNCTIONS, NUMBERS
from batch.writing.paper import Footer
from batch.writing.sheet_writer import ScheduleWriter
from tests import make_samples
from tests.recalculation import differences, needs_office
from tests.report_job import HEADINGS, NASTY, earlier_file, job_result

HEADING, DATA = 5, 6  # as a person counts
SCHEDULES = {sheet.name: extended(sheet) for sheet in RESULTS}
DECLARED = {sheet.name: sheet for sheet in RESULTS}
FORMULA_WORDS = re.compile(r"[A-Z][A-Z.]*(?=\()")


@pytest.fixture(scope="module")
def result():
    return job_result()


@pytest.fixture(scope="module")
def path(result, tmp_path_factory) -> Path:
    path = tmp_path_factory.mktemp("report") / "invented plant sized.xlsx"
    report.write(result, path, stamp="run by hand", program="a program 0.1.0", us=True)
    return path


@pytest.fixture(scope="module")
def book(path):
    return openpyxl.load_workbook(path)


def schedule_sheets(book):
    return [(sheet, SCHEDULES[sheet.title]) for sheet in book.worksheets if sheet.title in SCHEDULES]


def table_sheets(book):
    return [sheet for sheet in book.worksheets if sheet.tables]


# What it says


def test_sheets_stand_in_reading_order_and_what_is_left_out_is_said(book, result):
    names = book.sheetnames
    assert names[:3] == ["Read first", "Summary P-1", "Banks"]
    assert names[-3:] == ["Code basis", "Checks", "Sized data"]
    assert names.index("Findings") < names.index("As received Heaters") < names.index("Code basis")
    shown = [sheet.name for sheet in RESULTS if rows(result, sheet.id)]
    assert [name for name in names if name in SCHEDULES] == shown
    text = " ".join(str(cell.value) for row in book["Read first"].iter_rows() for cell in row if cell.value)
    for sheet in RESULTS:
        if sheet.name not in shown:
            assert sheet.name in text


def test_every_value_of_every_schedule_is_there(path, result):
    """Against the schedules themselves; lengths, torques and temperatures are in US units here."""
    values = openpyxl.load_workbook(path, data_only=True)
    factor = {"m": 1 / 0.3048, "N·m": 1 / 0.1129848290276167}  # NIST SP 811, 2008 edition, appendix B.8: ft, lbf·in
    for sheet, spec in schedule_sheets(values):
        expected = rows(result, spec.id)
        if spec.as_sized:
            unedited(expected)
        if spec.id == "checks":
            assert sheet.max_row == DATA + len(expected)  # and one more: rows edited since sizing
        else:
            assert sheet.max_row == DATA - 1 + len(expected)
        for at, row in enumerate(expected, DATA):
            for column, said in zip(spec.columns, sheet[at], strict=True):
                value = row.get(shown_key(spec, column.key))
                if column.key == "go_to" or (column.leads and said.value is None):  # a way to a sheet that is not there is left out
                    continue
                if isinstance(value, str):
                    assert (said.value or "") == value.replace("\ud800", "\ufffd")  # half a character is not text in any file
                elif value is None:
                    assert said.value is None
                else:
                    if column.us_unit and column.unit == "°C":
                        assert said.value == pytest.approx(1.8 * value + 32, abs=1e-9)  # temperatures are rounded as they are turned
                    else:
                        assert said.value == pytest.approx(value * (factor[column.unit] if column.us_unit else 1), rel=1e-12, abs=1e-12)


def test_every_row_received_is_there_word_for_word_with_its_fate(book, result):
    sheet, table = book["As received Heaters"], result.job.received[0]
    heads = [cell.value for cell in sheet[HEADING]]
    assert heads[:3] == ["Sheet row", "Fate", "Why"]
    assert heads[3:] == ["Tank", "Qty", "kW", "=Remark", "tank (2)", "(column F, no heading)", "Fate (2)", *HEADINGS[7:10], "x" * 240]
    assert len(HEADINGS) == len(heads) - 3
    assert sheet.cell(HEADING - 1, len(heads)).value == "x" * 300  # too long for a table's heading: whole above it
    for at, row in enumerate(table.rows, DATA):
        cells = sheet[at]
        assert cells[0].value == row.row
        assert cells[1].value == result.fates.get(("Heaters", row.row), "not read")
        for cell, value in zip(cells[3:], row.values, strict=False):
            held = value.replace("\ud800", "\ufffd") if isinstance(value, str) else value
            assert cell.value == held
            assert isinstance(cell.value, str) == isinstance(held, str)
    assert sheet.cell(sheet.max_row, 3).value == "total row"


def test_findings_lead_to_their_rows_and_back(book):
    findings, banks = book["Findings"], book["Banks"]
    heads = [cell.value for cell in findings[HEADING]]
    go_to, tank = heads.index("Go to"), heads.index("Tank")
    seen = 0
    for row in findings.iter_rows(min_row=DATA):
        if not row[go_to].value:
            assert row[go_to].hyperlink is None
            continue
        name, _, number = row[go_to].value.partition(" row ")
        if not number:  # what is said of a whole project leads to its Summary
            assert row[go_to].hyperlink.location.startswith(f"'{name}'!")
            continue
        assert row[go_to].hyperlink.location == f"'{name}'!A{number}"
        if name == "Banks":
            assert banks[f"B{number}"].value == row[tank].value
            back = banks.cell(int(number), [cell.value for cell in banks[HEADING]].index("Look up") + 1)
            if back.value:
                target = back.hyperlink.location.split("!A")[1]
                assert findings.cell(int(target), tank + 1).value == row[tank].value
                seen += 1
    assert seen > 3


def test_read_first_says_where_it_comes_from(book, result):
    said = {str(cell.value) for row in book["Read first"].iter_rows() for cell in row if cell.value}
    for words in (result.job.name, result.job.digest, "a program 0.1.0", "run by hand", "PASS", *(words for words, _ in result.cautions)):
        assert words in said or any(words in more for more in said)


def test_summary_has_its_figures_chart_and_alternative_text(path, book, result):
    sheet = book["Summary P-1"]
    cells: dict[object, object] = {}
    for row in sheet.iter_rows():
        for cell in row:
            cells.setdefault(cell.value, cell)
    values = openpyxl.load_workbook(path, data_only=True)["Summary P-1"]
    for label, expected in (("Heaters", 120), ("Banks", 20), ("Connected (kW)", 720), ("Tanks", 20)):
        below = values.cell(cells[label].row + 1, cells[label].column).value
        assert below == pytest.approx(expected)
    assert len(sheet._charts) == 1
    with zipfile.ZipFile(path) as package:
        drawing = package.read("xl/drawings/drawing1.xml").decode()
    assert re.search(r'descr="[^"]*amps in lines A, B and C of 3 feeders', drawing)


# What it must never contain


def test_customers_text_is_never_a_formula_and_never_a_link(path, book):
    for sheet in book.worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    assert cell.value.lstrip("=") not in {text.lstrip("=") for text in NASTY}
                if cell.hyperlink is not None:
                    assert cell.hyperlink.target is None  # nothing leads out of the workbook
                    assert cell.value not in NASTY
    place = [column.key for column in SCHEDULES["Banks"].columns].index("notes")
    notes = [str(row[place].value) for row in book["Banks"].iter_rows(min_row=DATA)]
    assert {"=1+1", "+1", "{=1+1}", "http://example.invalid/x"} <= set(notes)
    with zipfile.ZipFile(path) as package:
        names = package.namelist()
        assert not [name for name in names if "external" in name.lower() or "vba" in name.lower() or "connections" in name.lower()]
        assert b"example.invalid" not in b"".join(package.read(name) for name in names if name.endswith(".rels"))


def test_formulas_keep_the_house_rules(path):
    with zipfile.ZipFile(path) as package:
        sheets = [name for name in package.namelist() if name.startswith("xl/worksheets/sheet")]
        formulas = [
            formula.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&")
            for name in sheets
            for formula in re.findall(r"<f>([^<]*)</f>", package.read(name).decode())
        ]
    assert len(formulas) > 100
    for formula in formulas:
        assert set(FORMULA_WORDS.findall(re.sub(r'"[^"]*"', "", formula))) <= FUNCTIONS, formula
        plain = re.sub(r"'[^']*'!|\"[^\"]*\"|\$?[A-Z]{1,3}\$?\d+|[A-Za-z_][A-Za-z_0-9]*(?!\()", "", formula)
        plain = re.sub(r",\d+\)", ")", plain) if "ROUND" in formula else plain
        allowed = NUMBERS | {"109", "104"} if "SUBTOTAL" in formula else NUMBERS
        assert set(re.findall(r"\d+(?:\.\d+)?", plain)) <= allowed, formula
        assert "[" not in formula and "#" not in formula.replace('"#\x27', "") and len(formula) < 400
        open_calls: list[bool] = []
        for before, mark in zip(" " + formula, formula, strict=False):
            if mark == "(":
                open_calls.append(before.isalpha())
                assert sum(open_calls) <= 3, formula
            elif mark == ")":
                open_calls.pop()


def test_one_formula_to_a_column(book):
    """Every cell of a column holds the same formula but for its row, or a plain figure that the formula would not give."""
    for sheet, spec in schedule_sheets(book):
        for column in range(1, len(spec.columns) + 1):
            shapes = {
                re.sub(rf"(?<=[A-Z]){cell.row}\b", "#", cell.value)
                for (cell,) in sheet.iter_rows(min_row=DATA, min_col=column, max_col=column)
                if cell.data_type == "f"
            }
            assert len(shapes) <= 1


@needs_office
def test_a_recalculation_changes_nothing(path, tmp_path):
    count, wrong = differences(path, tmp_path)
    assert count > 200
    assert wrong == []


# How it looks


def test_tables_cover_exactly_their_rows(book):
    seen = set()
    for sheet in table_sheets(book):
        [table] = sheet.tables.values()
        left, top, right, bottom = range_boundaries(table.ref)
        assert (left, top, right, bottom) == (1, HEADING, sheet.max_column, sheet.max_row)
        heads = [cell.value for cell in sheet[HEADING]]
        assert [column.name for column in table.tableColumns] == heads  # read back, as cells are, from _xHHHH_ (ECMA-376 part 1, 22.9.2.19)
        assert len({head.casefold() for head in heads}) == len(heads)
        assert not re.fullmatch(r"[A-Za-z]{1,3}\d+|[RrCc]", table.displayName)
        seen.add(table.displayName)
        assert not [merged for merged in sheet.merged_cells.ranges if merged.max_row >= HEADING]
        for row in sheet.iter_rows(min_row=DATA):
            assert any(cell.value is not None for cell in row)
    assert len(seen) == len(table_sheets(book))


def test_units_stand_in_numeric_headings(book):
    # numbers without a unit
    bare = {"No.", "Value", "This", "Against", "Difference", "Tolerance", "Demand factor", "Demand factor as sized", "Grouping factor"}
    for sheet, spec in schedule_sheets(book):
        for column, cell in zip(spec.columns, sheet[HEADING], strict=True):
            assert cell.value == column.title(us=True)
            if column.kind in ("integer", "number", "volts") and "price" not in column.key and "cost" not in column.key:
                assert cell.value.endswith(")") or column.heading in bare, (spec.name, column.key)


def test_panes_print_and_footer(book):
    for sheet in book.worksheets:
        assert sheet.page_setup.paperSize == 1  # Letter: ECMA-376 part 1, 18.3.1.63
        assert sheet.page_setup.fitToWidth in (None, 1)
        # a sheet with page breaks of its own has a scale instead, since programs that fit leave breaks out
        assert sheet.sheet_properties.pageSetUpPr.fitToPage or (sheet.page_setup.scale or 100) <= 100
        foot = (sheet.oddFooter.left.text, sheet.oddFooter.center.text, sheet.oddFooter.right.text)
        assert foot == ("&F", "&A, page &P of &N", "revision B")
        assert bool(sheet.print_area) == (sheet.sheet_state == "visible")
    for sheet in table_sheets(book):
        assert sheet.page_setup.orientation == ("portrait" if sheet.title == "Wiring" else "landscape")
        assert sheet.print_title_rows == f"${HEADING - 1}:${HEADING}"
        assert re.fullmatch(rf"[A-Z]+{DATA}", sheet.freeze_panes)


def test_printed_strips_are_narrow_enough_to_read_and_leave_no_column_out(book):
    for sheet in table_sheets(book):
        if sheet.title in ("Label list", "Control labels"):
            continue  # another sheet prints its rows
        printed = set()
        keys = range_boundaries(f"{sheet.print_title_cols}".replace("$", "").replace(":", "1:") + "1")[2] if sheet.print_title_cols else 0
        for area in sheet.print_area.split(","):
            left, _, right, bottom = range_boundaries(area.rpartition("!")[2].replace("$", ""))
            assert bottom == sheet.max_row
            columns = set(range(left, right + 1))
            printed |= columns
            shown = columns | set(range(1, keys + 1))
            holders = [sheet.column_dimensions[_holder(sheet, at)] for at in shown]
            width = sum(one.width for one in holders if not one.hidden)  # what is folded away takes no room
            assert width < 235  # digits: under that, 9-point type prints at 6 points on Letter (common practice, no source)
        spec = SCHEDULES.get(sheet.title)
        out_of_sight = len(spec.columns) - shown_columns(spec) if spec else 0
        off_paper = sum(not column.on_paper for column in spec.columns) if spec else 0
        to_rows = [column for column in spec.columns if column.leads or column.key in ("owner_no", "build_no")] if spec else []
        ways = sum(not column.on_paper for column in to_rows)  # on paper a link leads nowhere
        assert printed == set(range(1, sheet.max_column + 1 - out_of_sight - off_paper))
        # sections and tables behind a row; of a finding its cell, its basis, its code: they stay on the screen, and Read first says so
        assert off_paper - ways <= (3 if sheet.title in ("Findings", "Questions") else 1)


def _holder(sheet, at: int) -> str:
    """openpyxl keeps one entry for a run of equal columns."""
    for letters, dimension in sheet.column_dimensions.items():
        if dimension.min <= at <= dimension.max:
            return letters
    return get_column_letter(at)


def test_number_formats_come_from_the_one_list(book):
    assert len(styles.FORMATS) <= 40
    known = set(styles.FORMATS.values())
    for sheet in book.worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                assert cell.number_format in known, (sheet.title, cell.coordinate)
    for sheet, spec in schedule_sheets(book):
        for column, cell in zip(spec.columns, sheet[DATA], strict=True):
            if column.kind != "text":
                assert cell.number_format == styles.FORMATS[column.format]


def test_given_worked_out_and_to_build_look_different_and_say_so(book):
    banks = book["Banks"]
    spec = SCHEDULES["Banks"]
    looks = {}
    for column, head, cell in zip(spec.columns, banks[HEADING], banks[DATA], strict=True):
        if column.key != "look_up" and not column.leads:
            looks.setdefault(column.role, set()).add((head.fill.fgColor.rgb, head.font.color.rgb, cell.font.color.rgb, bool(cell.font.b)))
    assert {len(look) for look in looks.values()} == {1}
    assert len(set.union(*looks.values())) == 4
    words = {cell.value for cell in banks[HEADING - 1]}
    assert set(ROLE_WORDS.values()) <= words
    legend = {str(cell.value) for row in book["Read first"].iter_rows() for cell in row if cell.value}
    assert set(ROLE_WORDS.values()) <= legend


def test_totals_stand_above_the_heading_and_follow_the_filter(path, book):
    values = openpyxl.load_workbook(path, data_only=True)
    checked = 0
    for sheet, spec in schedule_sheets(book):
        for at, column in enumerate(spec.columns, 1):
            if column.total:
                letters = get_column_letter(at)
                number = {"sum": 109, "max": 104}[column.total]
                assert sheet.cell(3, at).value == f"=SUBTOTAL({number},{letters}{DATA}:{letters}{sheet.max_row})"
                held = [row[0].value or 0 for row in values[sheet.title].iter_rows(min_row=DATA, min_col=at, max_col=at)]
                assert values[sheet.title].cell(3, at).value == pytest.approx(sum(held) if number == 109 else max(held))
                checked += 1
    assert checked > 10


# How it is written


def test_a_full_sheet_goes_on_in_a_next_one_and_no_row_is_lost(result, tmp_path):
    spec = DECLARED["Circuits"]
    data = rows(result, "circuits")
    path = tmp_path / "x.xlsx"
    with whole_book(path, "x") as book:
        placed = ScheduleWriter(book, spec, Footer(), us=False, names={}, room=50).write(iter(data))
    assert [(one.name, one.rows) for one in placed] == [("Circuits", 50), ("Circuits 2", 50), ("Circuits 3", len(data) - 100)]
    written = openpyxl.load_workbook(path, data_only=True)
    tags = [row[1].value for one in placed for row in written[one.name].iter_rows(min_row=DATA)]
    assert tags == [row["panel"] for row in data]
    kw = [column.key for column in spec.columns].index("connected_kw") + 1
    assert sum(written[one.name].cell(3, kw).value for one in placed) == pytest.approx(720)


def test_same_result_same_bytes_and_only_the_stamp_may_differ(result, tmp_path):
    for name, stamp in (("one", "a"), ("two", "a"), ("three", "b")):
        (tmp_path / name).mkdir()
        report.write(result, tmp_path / name / "same.xlsx", stamp=stamp, program="p")
    one, two, three = ((tmp_path / name / "same.xlsx").read_bytes() for name in ("one", "two", "three"))
    assert one == two
    assert one != three


def test_a_failure_leaves_the_old_file_and_nothing_else(result, tmp_path, monkeypatch):
    old = tmp_path / "there.xlsx"
    old.write_bytes(earlier_file())

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("batch.whole_file._settle", full)
    with pytest.raises(OutputFileError, match=r"there\.xlsx: cannot be written \(No space left on device\); nothing was changed"):
        report.write(result, old)
    assert old.read_bytes() == earlier_file()
    assert list(tmp_path.iterdir()) == [old]


def test_a_folder_that_is_not_there_is_one_line(result, tmp_path):
    with pytest.raises(OutputFileError, match="choose another folder") as told:
        report.write(result, tmp_path / "nowhere" / "x.xlsx")
    assert "\n" not in str(told.value)


def test_a_fault_of_ours_leaves_nothing_behind(result, tmp_path):
    def wrong(*_: object) -> list:
        raise RuntimeError("a fault while writing")

    with pytest.raises(RuntimeError):
        report.write(result, tmp_path / "x.xlsx", rows=wrong)
    assert list(tmp_path.iterdir()) == []


# Names


def test_tabs_carry_any_name_once(tmp_path):
    wanted = ["A/B:C*?", "a b c", "x" * 40, "x" * 40, "'quoted'", "[1]", "History", "", "漢" * 40, "😀" * 20, "Ünï", "tab\there"]
    path = tmp_path / "x.xlsx"
    with whole_book(path, "x") as book:
        made = [book.tab_name(name) for name in wanted]
        for name in made:
            book.add_worksheet(name).write_string(0, 0, "here")
    names = openpyxl.load_workbook(path).sheetnames
    assert names == made
    assert len({name.casefold() for name in names}) == len(names)
    for name in names:
        assert 0 < len(name.encode("utf-16-le")) / 2 <= 31
        assert not set(name) & set("[]:*?/\\")
        assert name.strip("'") == name
        assert name.casefold() != "history"


def test_several_projects_with_awkward_names(tmp_path):
    results = [job_result(6, 2, name) for name in ("P-1", "p*?", "101", "Q & A")]
    job = replace(results[0].job, received=())
    result = replace(results[0], job=job, projects=tuple(one.projects[0] for one in results), checks=(), fates={})
    path = tmp_path / "x.xlsx"
    report.write(result, path)
    values = openpyxl.load_workbook(path, data_only=True)
    assert values.sheetnames[1:5] == ["Summary P-1", "Summary p", "Summary 101", "Summary Q & A"]
    assert "NO CHECKS" in {cell.value for (cell,) in values["Read first"].iter_rows(min_col=2, max_col=2)}
    formulas = openpyxl.load_workbook(path)
    live = {
        name: any(str(cell.value).startswith("=SUMIFS") for row in formulas[name].iter_rows() for cell in row)
        for name in formulas.sheetnames[1:5]
    }
    # A criterion "p*?" or "101" would match more than its own name: those summaries hold plain figures.
    assert live == {"Summary P-1": True, "Summary p": False, "Summary 101": False, "Summary Q & A": True}


@needs_office
def test_summaries_of_several_projects_recalculate(tmp_path):
    results = [job_result(6, 2, name) for name in ("P-1", "Q & A")]
    result = replace(results[0], projects=tuple(one.projects[0] for one in results))
    path = tmp_path / "x.xlsx"
    report.write(result, path)
    count, wrong = differences(path, tmp_path)
    assert count > 100
    assert wrong == []


def test_prices_are_summed_and_what_has_none_is_said(result, tmp_path):
    lines = (
        Material("Type 01", "contactor", "K-40", "40 A, 3-pole", 3, "ea", 120.5, 0.5),
        Material("Type 01", "enclosure", "", "to be chosen", 3, "ea", None, None),
    )
    project = replace(result.projects[0], materials=lines, project=replace(result.projects[0].project, currency="USD"))
    path = tmp_path / "x.xlsx"
    report.write(replace(result, projects=(project,)), path)
    sheet = openpyxl.load_workbook(path, data_only=True)["Summary P-1"]
    [at] = [row[0].row for row in sheet.iter_rows() if row[0].value == "Parts, at least (USD)"]
    assert sheet.cell(at, 3).value == pytest.approx(361.5)
    assert sheet.cell(at, 5).value == "1 line open: on Materials and Runs, without a price, a length or hours"
    materials = openpyxl.load_workbook(path)["Materials"]
    heads = [cell.value for cell in materials[HEADING]]
    price = heads.index("Price (USD)") + 1
    shown = [materials.cell(row, price).value for row in (DATA, DATA + 1)]
    assert shown == [361.5, None], shown


def test_a_text_longer_than_a_cell_is_said(result, tmp_path):
    table = result.job.received[0]
    rows_ = (replace(table.rows[0], values=("T-1", 6, 6.0, "x" * 40_000)),)
    path = tmp_path / "x.xlsx"
    report.write(replace(result, job=replace(result.job, received=(replace(table, rows=rows_),))), path)
    sheet = openpyxl.load_workbook(path)["As received Heaters"]
    assert sheet.cell(DATA, 7).value == "x" * 32_767
    assert "longer than the 32,767 characters of a cell" in sheet.cell(DATA, 3).value


def test_on_a4_every_sheet_is_set_up_for_it_and_pages_still_fit(result, tmp_path):
    path = tmp_path / "x.xlsx"
    report.write(result, path, paper="a4")
    for sheet in openpyxl.load_workbook(path).worksheets:
        assert sheet.page_setup.paperSize == 9  # ECMA-376 part 1, 18.3.1.63
        if sheet.title in ("Panel drawings", "Panel labels", "Wiring"):
            wide = sum(one.width * 7 * (one.max - one.min + 1) for one in sheet.column_dimensions.values()) / 96
            across = 297 if sheet.page_setup.orientation == "landscape" else 210  # ISO 216: A4, mm; margins 0.4 in
            assert wide * (sheet.page_setup.scale or 100) / 100 <= across / 25.4 - 0.8


def test_paper_goes_by_the_rule_set(tmp_path, monkeypatch):
    source = make_samples.HERE / "small-clean.xlsx"
    found = []
    for paper in ("letter", "a4"):
        monkeypatch.setattr(load("NEC 2023"), "paper", paper)
        batch.size(source, tmp_path / f"{paper}.xlsx")
        found.append(openpyxl.load_workbook(tmp_path / f"{paper}.xlsx")["Banks"].page_setup.paperSize)
    assert found == [1, 9]
