"""Nothing typed into results is dropped: every cell of every sheet that takes typing comes back, or a finding names its address."""

from __future__ import annotations

import re
import subprocess
import zipfile
from pathlib import Path

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from openpyxl.utils import get_column_letter

import batch
from batch.comparing.revision import Revision
from batch.findings import Finding
from batch.ooxml.formula_cells import FormulaCells
from batch.reopening.reopen import open_revision
from batch.reopening.results_book import read_any
from batch.schedules import RESULTS
from batch.sheets.received import STORED
from batch.writing.as_sized import extended
from batch.writing.placed import DATA
from tests import make_samples
from tests.intake_book import book as intake_book
from tests.recalculation import needs_office, recalculated
from tests.sample_results import ALL, FINDINGS, SMALL, opened, opened_values, sized
from tests.samples import book as sample_book
from tests.samples import small
from tests.workbook_edits import parts_of, typed

SHEETS = [sheet for sheet in RESULTS if sheet.id in STORED and sheet.id != "carried_forward"]
FIRST = DATA + 1  # first row of data, as a person counts


def revision(path: Path, program: str = batch.PROGRAM) -> Revision:
    return open_revision(path, program)


def edits(side: Revision) -> list[Finding]:
    return [finding for finding in side.result.findings if finding.code.startswith("edit-")]


def in_every_row(name: str, offset: int, emptied: bool) -> dict[str, dict[str, object]]:
    """One cell in each row of data of each sheet that takes typing, further right from row to row: over all offsets every cell is met.

    A number is typed over by one that stands nowhere else, words by words, a blank by words; `emptied`: what holds something is cleared
    instead, but for what tells of edits and for ways to other rows, of which nothing is lost.
    """
    book, found = opened(name), {}
    for sheet in SHEETS:
        if sheet.name not in book.sheetnames:
            continue
        formed = [column for column in extended(sheet).columns if column.heading in ("Edited", "Rows edited") or column.leads]
        columns = [column for column in extended(sheet).columns if not (emptied and column in formed)]
        for row in range(FIRST, book[sheet.name].max_row + 1):
            at = [one.key for one in extended(sheet).columns].index(columns[(offset + row) % len(columns)].key)
            cell = f"{get_column_letter(at + 1)}{row}"
            held = opened_values(name)[sheet.name][cell].value
            if cell in WRITTEN[name, sheet.name] and not (emptied and held in (None, "")):
                other = 900 + row + at / 128 if isinstance(held, (int, float)) else "typed here"
                found.setdefault(sheet.name, {})[cell] = None if emptied else other
    return found


class Written(dict):
    """(sample, sheet) -> the cells that stand in the sheet's part, blank ones too."""

    def __missing__(self, key: tuple[str, str]) -> frozenset[str]:
        with zipfile.ZipFile(sized(key[0]).path) as package:
            xml = package.read(parts_of(package)[key[1]]).decode()
        self[key] = frozenset(re.findall(r'<c r="([A-Z]+[0-9]+)"', xml))
        return self[key]


WRITTEN = Written()
WIDEST = max(len(extended(sheet).columns) for sheet in SHEETS)


def unnamed(name: str, cells: dict[str, dict[str, object]], folder: Path) -> list[tuple[str, str]]:
    """Which of the cells no finding names. Who types over a row's tags makes it another row, and that is named by any cell of the row."""
    side = revision(typed(sized(name).path, folder / "edited.xlsx", cells))
    said = [*edits(side), *(finding for finding in side.result.findings if finding.code.startswith("answer-"))]
    places = {(one.sheet, one.cell) for one in said}
    places |= {(one.sheet, cell) for one in said if one.code == "edit-stray" for cell in re.findall(r"\b[A-Z]+[0-9]+\b", one.message)}
    rows = {(one.sheet, re.sub("[A-Z]+", "", one.cell)) for one in said}
    tags = ((sheet, at) for sheet in SHEETS for at, one in enumerate(extended(sheet).columns, 1) if one.key in sheet.key)
    keys = {(sheet.name, get_column_letter(at)) for sheet, at in tags}
    left = [(sheet, cell) for sheet, some in cells.items() for cell in some if (sheet, cell) not in places]
    return [(sheet, cell) for sheet, cell in left
            if (sheet, cell.rstrip("0123456789")) not in keys or (sheet, re.sub("[A-Z]+", "", cell)) not in rows]  # fmt: skip


@settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.integers(0, WIDEST - 1), st.booleans())
def test_a_value_typed_into_any_cell_comes_back_or_is_named_with_its_address(tmp_path: Path, offset: int, emptied: bool) -> None:
    cells = in_every_row(SMALL, offset, emptied)
    assert len(cells) >= 6
    assert unnamed(SMALL, cells, tmp_path) == []


def test_what_is_typed_over_a_copy_of_what_a_row_was_sized_with_is_named(tmp_path: Path) -> None:
    """The copies folded away beside a row, by which it sees that it was edited: each of them, in the first row of each sheet."""
    cells: dict[str, dict[str, object]] = {}
    for sheet in SHEETS:
        copies = [at for at, one in enumerate(extended(sheet).columns, 1) if one.heading.endswith(" as sized")]
        if copies and sheet.name in opened(SMALL).sheetnames:
            cells[sheet.name] = {f"{get_column_letter(at)}{FIRST}": 987.25 for at in copies}
    assert sum(map(len, cells.values())) > len(cells) > 0
    assert unnamed(SMALL, cells, tmp_path) == []


@pytest.mark.slow
@pytest.mark.parametrize("emptied", [False, True])
def test_each_cell_of_each_sheet_that_takes_typing(emptied: bool, tmp_path: Path) -> None:
    met = set()
    for offset in range(WIDEST):
        cells = in_every_row(SMALL, offset, emptied)
        met |= {(sheet, cell) for sheet, some in cells.items() for cell in some}
        assert unnamed(SMALL, cells, tmp_path) == []
    assert len(met) > (1500 if not emptied else 1000)


def test_what_is_typed_beside_what_makes_a_bank_impossible_is_named(tmp_path: Path) -> None:
    """A feeder that is not listed: the first bank of the list cannot be sized, and what else was typed in its row is not dropped."""
    columns = {column.key: get_column_letter(at) for at, column in enumerate(extended(BANKS).columns, 1)}
    cells = {f"{columns[key]}{FIRST}": value for key, value in (("feeder", "F-9"), ("wire", "3 x 2 AWG"), ("connected_kw", 987.25))}
    side = revision(typed(sized(SMALL).path, tmp_path / "edited.xlsx", {"Banks": cells}))
    assert len(side.result.projects[0].not_sized) == 1
    assert {one.cell for one in edits(side) if one.sheet == "Banks"} == set(cells)


TAGS = ("no", "project", "tank", "bank", "feeder", "panel", "type", "source", "part", "tag")
BANKS = next(sheet for sheet in SHEETS if sheet.id == "banks")
LONG = (FINDINGS, "every-earth-fault.xlsx")
IN_RECALCULATED = (SMALL, "customer-list.xlsx", *(pytest.param(name, marks=pytest.mark.slow) for name in LONG))


@needs_office
@pytest.mark.parametrize("name", IN_RECALCULATED)
def test_a_cell_a_column_typed_over_in_a_spreadsheet_program_is_named(name: str, tmp_path: Path) -> None:
    """One cell of each column but the tags, several in a row, formulas among them; the program has recalculated what stands around them,
    and makes rows of banks that cannot be sized. No figure that a formula gives is taken for one that a person gave.
    """
    book, cells = openpyxl.load_workbook(sized(name).path), {}
    for sheet in SHEETS:
        if sheet.name not in book.sheetnames:
            continue
        page = book[sheet.name]
        for at, column in enumerate(extended(sheet).columns, 1):
            cell = page.cell(FIRST + at * 7 % (page.max_row - FIRST + 1), at)
            if column.key not in (*TAGS, *sheet.key) and cell.coordinate in WRITTEN[name, sheet.name]:
                number = isinstance(cell.value, (int, float)) or str(cell.value).startswith("=")
                cell.value = 7000.25 + len(cells) if number else f"typed here {len(cells)}"
                cells[sheet.name, cell.coordinate] = column
    book.save(tmp_path / "edited.xlsx")
    side = revision(recalculated(tmp_path / "edited.xlsx", tmp_path / "again"))
    said = [one for one in side.result.findings if one.code.startswith(("edit-", "answer-"))]
    named = {(one.sheet, one.cell) for one in said}
    rows = {(one.sheet, one.cell[1:]) for one in said if one.code == "edit-row-added"}
    left = [(sheet, cell) for sheet, cell in cells if (sheet, cell) not in named and (sheet, re.sub("[A-Z]+", "", cell)) not in rows]
    assert len(cells) > 150 and left == []
    given = [(one.sheet, one.cell) for one in said if one.code == "edit-taken" and one.sheet in ("Banks", "Feeders")]
    assert [place for place in given if place not in cells] == []


@needs_office
def test_both_open_formats_tell_where_a_formula_stands(tmp_path: Path) -> None:
    path = sized(SMALL).path
    subprocess.run(["soffice", "--headless", "--norestore", f"-env:UserInstallation=file://{tmp_path / 'profile'}", "--convert-to", "ods",
                    "--outdir", str(tmp_path), str(path)], check=True, capture_output=True, timeout=300)  # fmt: skip
    [saved] = tmp_path.glob("*.ods")
    one, other = (FormulaCells(file.read_bytes(), file.name) for file in (path, saved))
    seen = 0
    for sheet in ("Banks", "Feeders", "Heat", "Materials"):
        cells = [cell for row in opened(SMALL)[sheet].iter_rows(min_row=FIRST) for cell in row]
        live = {cell.coordinate for cell in cells if str(cell.value).startswith("=")}
        assert {cell.coordinate for cell in cells if one.stands(sheet, cell.coordinate)} == live
        assert {cell.coordinate for cell in cells if other.stands(sheet, cell.coordinate)} == live
        seen += len(live)
    assert seen > 400
    assert one.stands("Elsewhere", "A1") is FormulaCells(b"no package", "a").stands("Banks", "A1") is None


def test_what_is_typed_above_the_columns_or_over_this_programs_own_words_is_named(tmp_path: Path) -> None:
    """Titles, lines of help, totals, bands; and on a sheet as received what this program says of each row there."""
    cells = {
        "Banks": {"A1": "Our bid", "C2": "ask Jo", "A3": "sum", "AG3": "many", "E4": "mine"},
        "As received Heaters": {"A1": "The list", "A2": "help", "D4": "mine", "A6": 987.25, "B7": "call them", "C8": "they rang"},
    }
    book = openpyxl.load_workbook(sized(SMALL).path)
    for sheet, some in cells.items():
        for cell, value in some.items():
            book[sheet][cell] = value
    book.save(tmp_path / "edited.xlsx")
    said = [one for one in edits(revision(tmp_path / "edited.xlsx")) if one.code == "edit-stray"]
    named = {(one.sheet, cell) for one in said for cell in re.findall(r"\b[A-Z]+[0-9]+\b", one.message)}
    assert named == {(sheet, cell) for sheet, some in cells.items() for cell in some}
    other = {(one.sheet, one.cell) for one in edits(revision(tmp_path / "edited.xlsx", "heaterbatch of another year"))}
    assert not other & {("Banks", "A1"), ("Banks", "C2")}  # another version may have written those words


def test_a_sheet_of_somebodys_own_is_named(tmp_path: Path) -> None:
    book = openpyxl.load_workbook(sized(SMALL).path)
    book.create_sheet("Phone calls")["A1"] = "They want it by May."
    book.save(tmp_path / "edited.xlsx")
    [said] = edits(revision(tmp_path / "edited.xlsx"))
    assert (said.code, said.sheet) == ("edit-sheet-added", "Phone calls")


def test_a_name_typed_for_a_type_is_its_name_from_then_on(tmp_path: Path) -> None:
    names = {cell_of("panel_types", "type", FIRST + at): name for at, name in enumerate(("Small dip", "Hold 07", "Type 05", None))}
    side = revision(typed(sized(SMALL).path, tmp_path / "edited.xlsx", {"Panel types": names}))
    before = {one.type for one in sized(SMALL).result.projects[0].types}
    assert {"Type 01", "Type 02", "Type 03", "Type 04", "Type 05"} <= before
    assert {one.type for one in side.result.projects[0].types} == before - {"Type 01"} | {"Small dip"}
    said = {one.cell: one.message.partition(": ")[2] for one in edits(side)}
    assert said == dict(zip(names, ("taken as given by hand.", "names that begin with Hold are for types that are on hold.",
                                    "another type has that name.", "a type needs a name, of at most 31 characters."),
                             strict=True))  # fmt: skip
    batch.size(tmp_path / "edited.xlsx", tmp_path / "second.xlsx")
    [again] = revision(tmp_path / "second.xlsx").result.projects
    kept = batch.size(make_samples.HERE / SMALL, tmp_path / "third.xlsx", keep_from=tmp_path / "second.xlsx").projects[0]
    for project in (again, kept):
        assert "Small dip" in {one.type for one in project.types}
        assert {panel.type for row in project.banks for panel in row.panels} == {one.type for one in project.types}


def test_what_is_emptied_stays_empty(tmp_path: Path) -> None:
    """Notes, a price, volts and phases of a feeder that hangs on a source; a figure that follows is said, and comes back."""
    job = tmp_path / "job.xlsx"
    heaters = ["Tank", "Bank", "Feeder", "Quantity", "Power (kW)", "Volts", "Phases", "Notes"]
    job.write_bytes(intake_book({
        "Heaters": [heaters, ["T-1", "A", "F-1", 3, 6, 480, 1, "Ask the shop."], ["T-2", "A", "F-1", 3, 6, 480, 1, None]],
        "Feeders": [["Feeder", "Volts", "Phases", "Fed from source"], ["F-1", 480, 3, "X-1"]],
        "Sources": [["Source", "Kind", "kVA", "Impedance", "Volts", "Phases"], ["X-1", "transformer", 500, 5, 480, 3]],
        "Stock": [["Part", "Kind", "Rating (A)", "Poles", "Volts", "Unit price"], ["FU-30", "fuse", 30, 1, 600, 4.5]],
    }))  # fmt: skip
    first = tmp_path / "first.xlsx"
    batch.size(job, first)
    rows = read_any(first)[1].rows
    priced = [row for row in rows["materials"] if row.values.get("unit_price") == 4.5]
    bank, feeder = rows["banks"][0], rows["feeder_totals"][0]
    cells = {
        "Banks": {bank.cell("notes"): None, bank.cell("delivered_kw"): None}, "Materials": {row.cell("unit_price"): None for row in priced},
        "Feeders": {feeder.cell("volts_v"): None, feeder.cell("phases"): None},
    }  # fmt: skip
    assert priced
    batch.size(typed(first, tmp_path / "edited.xlsx", cells), tmp_path / "second.xlsx")
    batch.size(tmp_path / "second.xlsx", tmp_path / "third.xlsx")
    sides = [revision(tmp_path / f"{name}.xlsx") for name in ("edited", "second", "third")]
    for side in sides:
        assert side.job.banks[0].notes is None and side.job.stock[0].unit_price is None
        assert (side.job.feeders[0].volts_v, side.job.feeders[0].phases) == (0.0, 0)
        assert side.result.projects[0].feeders[0].feeder.volts_v == 480.0
    said = {one.cell: one for one in edits(sides[0])}
    assert said[bank.cell("delivered_kw")].code == "edit-not-taken"
    assert {said[cell].code for cell in (bank.cell("notes"), feeder.cell("volts_v"), priced[0].cell("unit_price"))} == {"edit-taken"}
    assert edits(sides[2]) == []


def test_lines_of_one_part_have_to_agree_on_its_price(tmp_path: Path) -> None:
    source = sized("revisions/line-4-rev-A.xlsx").path
    rows = [row for row in read_any(source)[1].rows["materials"] if row.text("part") == "TB-1 (invented)"]
    assert len(rows) > 1
    for figures, codes in (((1.5, 1.6), {"edit-not-taken"}), ((1.5, 1.5), {"edit-taken"})):
        cells = {row.cell("unit_price"): figure for row, figure in zip(rows, figures, strict=False)}
        side = revision(typed(source, tmp_path / "edited.xlsx", {"Materials": cells}))
        assert {one.code for one in edits(side)} == codes
        assert {part.unit_price == 1.5 for part in side.job.stock if part.part == "TB-1 (invented)"} == {codes == {"edit-taken"}}


def test_cells_that_are_taken_are_shaded_and_offer_what_belongs_there() -> None:
    """Each column says by its declaration what it becomes; a list hangs on those where a choice is one of a few."""
    book = opened(FINDINGS)
    lists = {
        ("Banks", "feeder"): "'Feeders'!", ("Banks", "connection"): '"parallel,delta', ("Banks", "phases_on"): '"A-B,',
        ("Banks", "rating_a"): "ratings", ("Feeders", "system"): '"wye grounded', ("Feeders", "existing_device_a"): "ratings",
    }  # fmt: skip
    for sheet in SHEETS:
        if sheet.name not in book.sheetnames:
            continue
        worksheet, columns = book[sheet.name], extended(sheet).columns
        rules = {str(rule.sqref).split(":")[0]: rule for rule in worksheet.data_validations.dataValidation}
        assert ("Shaded: what is typed there is taken" in worksheet["A2"].value) == any(column.becomes for column in columns)
        for at, column in enumerate(columns, 1):
            cell = f"{get_column_letter(at)}{FIRST}"
            shaded = worksheet[cell].fill.fgColor.rgb == "FFF1F5FA"
            assert shaded == bool(column.becomes) == (cell in rules), f"{column.key} on {sheet.name}"
            if (sheet.name, column.key) in lists:
                assert rules[cell].type == "list" and lists[sheet.name, column.key] in rules[cell].formula1
                assert rules[cell].errorStyle == "information"  # it reminds, and lets other spellings pass
    first = "\n".join(str(row[2].value) for row in book["Read first"].iter_rows())
    for sheet in RESULTS:
        for column in sheet.columns:
            if column.becomes:
                assert re.search(rf"{sheet.name}: [^;]*{re.escape(column.heading)}", first)


@pytest.mark.parametrize("name", ALL)
def test_of_results_as_they_were_written_nothing_is_said(name: str) -> None:
    assert edits(revision(sized(name).path)) == []


@pytest.mark.parametrize("us", [True, False])
def test_nor_in_the_other_units_or_after_keeping_from_an_earlier_revision(us: bool, tmp_path: Path) -> None:
    source = Path("sample_jobs") / "revisions" / "line-4-rev-B.xlsx"
    batch.size(source, tmp_path / "kept.xlsx", keep_from=sized("revisions/line-4-rev-A.xlsx").path, us=us)
    assert edits(revision(tmp_path / "kept.xlsx")) == []


def cell_of(sheet_id: str, key: str, row: int = FIRST) -> str:
    [sheet] = [sheet for sheet in RESULTS if sheet.id == sheet_id]
    return f"{get_column_letter([column.key for column in extended(sheet).columns].index(key) + 1)}{row}"


def test_what_is_typed_elsewhere_is_told_from_what_follows_as_received(tmp_path: Path) -> None:
    """The heater list has other watts now, so every figure is another one: only what was typed is said."""
    [bank] = [bank for bank in revision(sized(SMALL).path).job.banks if bank.tank == "T-104"]
    cell = cell_of("panels", "contactor")
    changed = {"As received Heaters": {bank.origin.cell("power_kw"): 12.0}, "Panels": {cell: "a larger one"}}
    [said] = edits(revision(typed(sized(SMALL).path, tmp_path / "edited.xlsx", changed)))
    assert (said.code, said.sheet, said.cell) == ("edit-not-taken", "Panels", cell)


def test_a_hold_that_was_written_over_is_said(tmp_path: Path) -> None:
    sheet = opened(FINDINGS)["Banks"]
    column = cell_of("banks", "status").rstrip("0123456789")
    row = next(row for row in range(FIRST, sheet.max_row) if str(sheet[f"{column}{row}"].value).startswith("HOLD"))
    side = revision(typed(sized(FINDINGS).path, tmp_path / "edited.xlsx", {"Banks": {f"{column}{row}": "sized"}}))
    [said] = edits(side)
    assert (said.sheet, said.cell) == ("Banks", f"{column}{row}")


def test_columns_and_rows_of_somebodys_own_are_said(tmp_path: Path) -> None:
    book = openpyxl.load_workbook(sized(SMALL).path)
    panels, circuits = book["Panels"], book["Circuits"]
    beside = get_column_letter(panels.max_column + 2)
    panels[f"{beside}{DATA}"], panels[f"{beside}{FIRST + 1}"] = "Built by", "the night shift"
    last = circuits.max_row + 1
    circuits[f"B{last}"] = "one more"
    book.save(tmp_path / "edited.xlsx")
    said = {finding.code: finding for finding in edits(revision(tmp_path / "edited.xlsx"))}
    assert set(said) == {"edit-stray", "edit-row-added"}
    assert f"{beside}{DATA}, {beside}{FIRST + 1} of Panels" in said["edit-stray"].message
    assert (said["edit-row-added"].sheet, said["edit-row-added"].cell) == ("Circuits", f"A{last}")
    assert "one more" in said["edit-row-added"].message


def test_rows_in_another_order_are_no_edits_and_rows_that_went_are_said_once(tmp_path: Path) -> None:
    book = openpyxl.load_workbook(sized(SMALL).path)
    sheet = book["Circuits"]
    block = [[cell.value for cell in row] for row in sheet.iter_rows(FIRST, sheet.max_row)]
    for at, values in enumerate(reversed(block)):
        for place, value in enumerate(values):
            sheet.cell(FIRST + at, place + 1).value = value
    book.save(tmp_path / "sorted.xlsx")
    assert edits(revision(tmp_path / "sorted.xlsx")) == []
    book = openpyxl.load_workbook(tmp_path / "sorted.xlsx")
    book["Circuits"].delete_rows(FIRST, 2)
    book.save(tmp_path / "fewer.xlsx")
    [said] = edits(revision(tmp_path / "fewer.xlsx"))
    assert said.code == "edit-rows-gone" and said.message.startswith("2 rows of Circuits ")


def test_of_another_program_the_sheets_that_cannot_be_told_are_named(tmp_path: Path) -> None:
    book = typed(sized(SMALL).path, tmp_path / "edited.xlsx", {"Panels": {cell_of("panels", "contactor"): "a larger one"}})
    [said] = edits(revision(book, "heaterbatch of another year"))
    assert said.code == "edit-not-told" and said.message.startswith("Panels were written by ")
    assert edits(revision(sized(SMALL).path, "heaterbatch of another year")) == []


@pytest.mark.parametrize("name", [SMALL, FINDINGS])
def test_a_sheet_is_read_again_or_protected(name: str) -> None:
    """And a protected one is not locked away: there is no password, and filters work."""
    read = {*STORED.values()}
    for sheet in opened(name).worksheets:
        if sheet.sheet_state != "visible":
            continue
        again = sheet.title.startswith("As received ") or re.sub(r" \d+$", "", sheet.title) in read
        assert sheet.protection.sheet is not again, sheet.title
        if not again:
            assert sheet.protection.password is None and not sheet.protection.autoFilter


@pytest.fixture(scope="module")
def given_twice(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A job with two rows for T-1/A and three for T-2/1, unlike each other, among banks of their own names."""
    rows = [["T-1", "A", 4, 6, 480, 1], ["T-1", "A", 14, 6, 480, 1], ["T-2", 1, 3, 9, 480, 3], ["T-3", None, 5, 6, 480, 1],
            ["T-2", 1, 8, 3, 480, 1], ["T-2", 1, 8, 3, 480, 1], ["T-1", "B", 7, 3, 480, 1]]  # fmt: skip
    path = tmp_path_factory.mktemp("twice") / "twice.xlsx"
    path.write_bytes(intake_book({"Heaters": [["Tank", "Bank", "Quantity", "Power (kW)", "Volts", "Phases"], *rows]}))
    return str(path)


def test_nothing_is_taken_for_typed_in_results_with_banks_given_twice(given_twice: str) -> None:
    """Each row keeps the phases, the split and the types it had, though others have its name."""
    side = revision(sized(given_twice).path)
    assert edits(side) == []
    before, after = ([(row.starts, row.panels) for row in one.projects[0].banks] for one in (sized(given_twice).result, side.result))
    assert before == after and len(before) == 7


@pytest.mark.parametrize(("offset", "emptied"), [(3, False), (11, False), (17, False), (23, True), (29, False), (37, True)])
def test_a_value_typed_into_a_row_about_a_bank_given_twice_is_named(given_twice: str, offset: int, emptied: bool, tmp_path: Path) -> None:
    cells = in_every_row(given_twice, offset, emptied)
    if emptied:  # of a question no word is wanted back but its answer
        del cells["Questions"]
    assert unnamed(given_twice, cells, tmp_path) == []


def test_what_is_typed_into_a_row_not_sized_is_named_though_its_status_is_typed_over(tmp_path: Path) -> None:
    tables = small.tables()
    tables["heaters"][2]["power_kw"] = "six"
    sample_book.write(tmp_path / "job.xlsx", small.TITLE, small.STORY, tables)
    batch.size(tmp_path / "job.xlsx", tmp_path / "results.xlsx")
    results = openpyxl.load_workbook(tmp_path / "results.xlsx")
    sheet = results["Banks"]
    heads = {cell.value: cell.column_letter for row in sheet.iter_rows(min_row=1, max_row=FIRST - 1) for cell in row if cell.value}
    status = next(letter for head, letter in heads.items() if str(head) == "Status")
    [row] = [cell.row for cell in sheet[status] if cell.value == "not sized"]
    places = [f"{status}{row}", cell_of("banks", "volts_v", row)]
    sheet[places[0]], sheet[places[1]] = "sized", 277
    results.save(tmp_path / "edited.xlsx")
    assert {one.cell for one in batch.check(tmp_path / "edited.xlsx").findings if one.code == "edit-not-taken"} >= set(places)
