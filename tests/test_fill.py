"""A customer's list filled in: results beside their own rows, and nothing else of the workbook changed."""

from __future__ import annotations

import shutil
from pathlib import Path

import openpyxl
import pytest
from python_calamine import CalamineWorkbook

import batch
from batch.cli import app as cli
from batch.errors import OutputFileError
from batch.intake.headings import Matcher
from batch.schedules import rows as schedule_rows
from batch.sheets import FILLED, INPUTS
from tests.fill_sheets import (
    HEADINGS,
    PART,
    ROWS,
    TITLES,
    assert_nothing_else_changed,
    assert_same_sheet,
    column_settings,
    members,
    part_of,
    put,
    seen,
    simple,
)
from tests.intake_book import F, book, edited
from tests.recalculation import differences, needs_office, recalculated
from tests.samples import own_list

ROOT = Path(__file__).resolve().parents[1]
SAMPLES = ROOT / "sample_jobs"
EDITED = "edited, size again"


def filled(path: Path, **more) -> tuple[Path, object]:
    """Fills a list; returns the copy and the result. The list itself is seen to be untouched."""
    before = path.read_bytes()
    result = batch.fill(path, **more)
    assert path.read_bytes() == before
    return Path(result.written), result


def sheet_of(path: Path, name: str = "Heaters", values: bool = True):
    return openpyxl.load_workbook(path, data_only=values)[name]


def answers(sheet, row: int, heading_row: int = 1) -> dict[str, object]:
    """The new columns of a row by heading."""
    found = {cell.value: sheet.cell(row, cell.column).value for cell in sheet[heading_row] if cell.value in TITLES}
    assert list(found) == TITLES
    return {column.key: found[column.title()] for column in FILLED.columns}


@pytest.fixture
def own(tmp_path: Path) -> Path:
    return own_list.write(tmp_path / "own list.xlsx")


# --- the figures


def test_figures_worked_by_hand_stand_beside_their_rows(tmp_path: Path) -> None:
    """6 kW at 480 V is 12.5 A, 15.6 A with 25 %, so 20 A; 9 kW on three phases 9000 / (480 sqrt 3) = 10.83 A, 13.5 A, so 15 A.
    Four one-phase heaters have more wires on a contactor terminal than it takes, so a panel; two in parallel is a single circuit."""
    path, _ = filled(put(tmp_path, simple()))
    sheet = sheet_of(path)
    first, second, third = (answers(sheet, row) for row in (2, 3, 4))
    assert (first["heater_a"], first["rating_a"], first["branches"], first["panels"]) == (12.5, 20, 4, 1)
    assert (second["heater_a"], second["rating_a"], second["branches"]) == (10.83, 15, 3)
    assert (third["heater_a"], third["panels"]) == (9.38, 0)
    assert third["bank_device_a"] is not None and first["bank_device_a"] is None
    assert first["connection"] and first["wire"] and first["ground"]
    assert [row["status"] for row in (first, second, third)] == ["sized, review"] * 3
    # 30 A for two, 15 A for one of them; block jumpers for 70 A and 45 A on the terminals of small fuses, of which no stock tells


@pytest.mark.parametrize("name", ["small-clean", "whole-plant", "every-finding"])
def test_the_copy_says_what_the_results_workbook_says(tmp_path: Path, name: str) -> None:
    source = SAMPLES / f"{name}.xlsx"
    copy = shutil.copy(source, tmp_path / "list.xlsx")
    path, result = filled(Path(copy))
    banks: dict[tuple, list[dict]] = {}
    for row in schedule_rows(result, "banks"):
        banks.setdefault((row["project"] or "", row["tank"], row["bank"]), []).append(row)
    sheet = sheet_of(path)
    told = 0
    for project in result.projects:
        for row in project.banks:
            here = answers(sheet, row.bank.origin.row)
            same_label = banks[project.project.project, row.bank.tank, row.label]
            [there] = [one for one in same_label if one["quantity"] == row.bank.quantity]
            for column in FILLED.columns:
                value = there[column.key]
                if column.key == "heater_a":
                    assert here[column.key] == pytest.approx(value, abs=0.005)
                elif column.key != "findings":
                    assert here[column.key] == (value if value != "" else None), (column.key, row.bank.origin.row)
            for finding in row.findings:
                assert finding.message in (here["findings"] or "") or finding.kind.severity.word == "note"
            told += 1
    assert told == sum(len(project.banks) for project in result.projects)


def test_every_row_of_the_list_is_accounted_for(tmp_path: Path) -> None:
    """Each row that holds anything says what became of it, or holds none of a heater's columns."""
    copy = shutil.copy(SAMPLES / "every-finding.xlsx", tmp_path / "list.xlsx")
    path, result = filled(Path(copy))
    sheet = sheet_of(path)
    for table in result.job.received:
        if table.kind != "heaters":
            continue
        for row in table.rows:
            here = answers(sheet, row.row)
            if row.refused in ("blank row", "nothing in the columns that are read"):
                assert not any(here.values())
            elif row.refused == "headings again":
                assert list(here.values()) == TITLES
            elif row.refused:
                assert here["status"] in ("not sized", "not read")
                assert here["findings"] and here["heater_a"] is None
            else:
                assert here["status"]


def test_a_row_that_was_refused_says_why(tmp_path: Path) -> None:
    rows = [["T-1", 4, 6, 480, 1], ["T-2", "TBD", 6, 480, 1], ["T-3", 4, -6, 480, 1], ["Total", 8, None, None, None]]
    path, _ = filled(put(tmp_path, simple(rows)))
    sheet = sheet_of(path)
    assert answers(sheet, 2)["status"] == "sized, review"  # its feeder lacks the others
    for row, words in ((3, "not given yet"), (4, "is negative")):
        said = answers(sheet, row)
        assert said["status"] == "not sized"
        assert said["findings"].startswith("HOLD, not sized: ") and words in said["findings"] and "To do: " in said["findings"]
        assert [value for key, value in said.items() if key not in ("status", "findings")] == [None] * 8
    assert answers(sheet, 5)["status"] == "not read"
    assert "a total" in answers(sheet, 5)["findings"]


def test_cautions_and_findings_of_the_whole_list_stand_below_it(tmp_path: Path) -> None:
    path, result = filled(put(tmp_path, simple()))
    sheet = sheet_of(path)
    below = [sheet.cell(row, 6).value for row in range(6, sheet.max_row + 1)]
    assert below[0].startswith("Filled in by heaterbatch") and "NEC 2023" in below[0]
    for words, _ in result.cautions:
        assert f"CAUTION: {words}" in below
    assert any(line.startswith("caution: ") and "assumed from the heaters' volts" in line for line in below)
    assert any(line.startswith("note: Left blank, and so by default") for line in below)
    assert below[-1].endswith("more: the command `check` lists them all")


# --- nothing else changed


def test_everything_that_a_workbook_can_carry_is_kept(own: Path) -> None:
    path, _ = filled(own)
    before, after = own.read_bytes(), path.read_bytes()
    kinds = {"xl/charts/chart1.xml", "xl/media/image1.png", "xl/comments1.xml", "xl/drawings/vmlDrawing1.vml", "xl/tables/table1.xml"}
    assert kinds <= set(members(before)), "the sample lacks what the test is about"
    sheet = part_of(before)
    for thing in (b"sparkline", b"dataValidation", b"conditionalFormatting", b"hyperlink", b"mergeCell", b"autoFilter", b"<f>", b"pane "):
        assert thing in sheet
    assert_nothing_else_changed(before, after)


def test_the_bytes_of_the_sheet_stay_but_for_what_was_put_in(own: Path) -> None:
    """Stronger than cell for cell: the old bytes stand in the new sheet in their order, and little is not in one piece."""
    path, _ = filled(own)
    before, after = part_of(own.read_bytes()), part_of(path.read_bytes())
    at = 0
    for piece in before.split(b"><"):  # tag by tag
        if not any(piece.startswith(start) for start in (b"dimension ", b"row ", b"c ", b"col ")):
            found = after.find(piece, at)
            assert found >= 0, piece
            at = found + len(piece)


def test_macros_are_copied_and_the_copy_keeps_its_kind(tmp_path: Path) -> None:
    (tmp_path / "macro.bin").write_bytes(b"no macro, only something to be kept byte for byte")
    source = own_list.write(tmp_path / "own.xlsm", macros=tmp_path / "macro.bin")
    path, result = filled(source)
    assert path == tmp_path / "own filled.xlsm"
    assert "its macros were not run, and are copied as they are" in result.about
    said = [cell.value for row in sheet_of(path, own_list.SHEET).iter_rows() for cell in row if isinstance(cell.value, str)]
    assert not any("macros" in text for text in said), "what is said of macros elsewhere is not so here"
    assert_nothing_else_changed(source.read_bytes(), path.read_bytes())
    assert part_of(path.read_bytes(), "xl/vbaProject.bin") == (tmp_path / "macro.bin").read_bytes()


def test_formulas_keep_their_stored_values(own: Path) -> None:
    path, _ = filled(own)
    for values in (True, False):
        old, new = sheet_of(own, own_list.SHEET, values), sheet_of(path, own_list.SHEET, values)
        for row in old.iter_rows():
            for cell in row:
                assert new[cell.coordinate].value == cell.value


@pytest.mark.parametrize("name", ["small-clean", "whole-plant", "every-finding"])
def test_the_samples_stay_as_they_are(tmp_path: Path, name: str) -> None:
    source = Path(shutil.copy(SAMPLES / f"{name}.xlsx", tmp_path / "list.xlsx"))
    path, _ = filled(source)
    places = {sheet.name: f"xl/worksheets/sheet{at}.xml" for at, sheet in enumerate(CalamineWorkbook.from_path(source).sheets_metadata, 1)}
    assert_nothing_else_changed(source.read_bytes(), path.read_bytes(), (places["Heaters"],))


def test_the_messy_list_is_filled_where_it_can_be_and_says_where_not(tmp_path: Path) -> None:
    source = Path(shutil.copy(SAMPLES / "customer-list.xlsx", tmp_path / "list.xlsx"))
    path, result = filled(source, column_map=SAMPLES / "customer-list map.toml")
    old, new = members(source.read_bytes()), members(path.read_bytes())
    changed = {name for name in old if old[name] != new[name]}
    names = CalamineWorkbook.from_path(source).sheet_names
    assert changed == {f"xl/worksheets/sheet{names.index(name) + 1}.xml" for name in ("LINE 1 ", "RINSES")}
    for name in changed:
        assert_same_sheet(part_of(source.read_bytes(), name), part_of(path.read_bytes(), name))
    said = [finding for finding in result.findings if finding.code == "sheet-not-filled"]
    assert [finding.sheet for finding in said] == ["LINE 2"]
    assert "side by side" in said[0].message
    sheet = sheet_of(path, "LINE 1 ")
    rows = {sheet.cell(row, 2).value: answers(sheet, row, 5) for row in range(6, 25) if sheet.cell(row, 2).value}
    assert rows["Z-101"]["status"] == "sized, review"  # its feeder lacks those that are not
    assert rows["Z-207"]["status"] == "not sized" and '"TBD" leaves open what the power is' in rows["Z-207"]["findings"]
    watching = sheet_of(path, "LINE 1 ", values=False)["K9"].value
    assert 'E9="kW"' in watching, "the unit beside a number is watched with it"


# --- it is read by others


def test_other_readers_read_it(own: Path) -> None:
    path, _ = filled(own)
    calamine = CalamineWorkbook.from_path(path)
    rows = calamine.get_sheet_by_name(own_list.SHEET).to_python(skip_empty_area=False)
    sheet = sheet_of(path, own_list.SHEET)
    first = next(cell.column for cell in sheet[own_list.HEADING_ROW] if cell.value == TITLES[0])
    for number, row in enumerate(rows, 1):
        for column in range(first, first + len(TITLES)):
            ours = sheet.cell(number, column).value
            assert row[column - 1] == ("" if ours is None else ours)


@needs_office
def test_a_spreadsheet_program_opens_it_and_works_out_the_same(own: Path, tmp_path: Path) -> None:
    path, _ = filled(own)
    count, wrong = differences(path, tmp_path)
    assert count > len(own_list.ROWS)
    assert wrong == []
    fresh = openpyxl.load_workbook(recalculated(path, tmp_path), data_only=True)[own_list.SHEET]
    for row in sheet_of(path, own_list.SHEET).iter_rows():
        for cell in row:
            assert fresh[cell.coordinate].value == cell.value or isinstance(cell.value, float), cell.coordinate


@needs_office
def test_the_status_watches_its_row(tmp_path: Path) -> None:
    """Rows of the list are swapped, edited and blanked under their results, as sorting the list alone would do."""
    rows = [*ROWS, ["T-4", 5, 6, 480, 1], ['say "T-5"', 5, 4.1666666666666661, 480, 1], ["T-6", 3, 6, 480, 1]]
    path, _ = filled(put(tmp_path, simple(rows)))

    def disturb(xml: bytes) -> bytes:
        for number, new in ((3, b"7"), (5, b"")):  # power of row 3 edited, of row 5 blanked
            cell = f'<c r="C{number}">'.encode()
            at = xml.index(cell)
            end = xml.index(b"</c>", at) + 4
            xml = xml[:at] + (cell + b"<v>" + new + b"</v></c>" if new else b"") + xml[end:]
        one, other = xml.index(b'<c r="A2"'), xml.index(b'<c r="A4"')  # tanks of rows 2 and 4 changed over
        tank, other_tank = xml[one : xml.index(b"</c>", one)], xml[other : xml.index(b"</c>", other)]
        return xml.replace(tank, b"#1").replace(other_tank, tank.replace(b"A2", b"A4")).replace(b"#1", other_tank.replace(b"A4", b"A2"))

    moved = put(tmp_path, edited(path.read_bytes(), PART, disturb), "moved.xlsx")
    fresh = openpyxl.load_workbook(recalculated(moved, tmp_path), data_only=True)["Heaters"]
    assert [fresh.cell(row, 6).value for row in range(2, 8)] == [EDITED, EDITED, EDITED, EDITED, "sized", "sized, review"]


# --- where the columns go


def test_no_heading_of_ours_is_one_that_a_list_is_read_by() -> None:
    for sheet in INPUTS:
        for title in TITLES:
            found = Matcher(sheet).match(title)
            assert found is None or not found.key, (sheet.name, title)


def test_a_filled_list_that_comes_back_is_read_by_its_own_columns_only(own: Path) -> None:
    path, _ = filled(own)
    old, new = batch.check(own), batch.check(path)

    def read(result) -> list[tuple]:
        banks = result.job.banks
        return [(bank.tank, bank.quantity, bank.power_kw, bank.volts_v, bank.connection, bank.fixed_rating_a, bank.notes) for bank in banks]

    assert read(new) == read(old)


def test_widths_of_the_new_columns_and_of_no_other(tmp_path: Path) -> None:
    path, _ = filled(put(tmp_path, simple()))
    settings = column_settings(seen(part_of(path.read_bytes())).columns, 1, 20)
    assert settings[:5] == [{}] * 5 and settings[15:] == [{}] * 5
    assert all(float(one["width"]) > 9 and one["customWidth"] == "1" for one in settings[5:15])


def test_new_cells_borrow_the_looks_of_the_list(own: Path) -> None:
    path, _ = filled(own)
    sheet = sheet_of(path, own_list.SHEET)
    head, cell = sheet["O5"], sheet["P6"]
    assert head.font.bold and head.alignment.wrap_text and head.fill.fgColor.rgb == "FFDCE6D8"
    assert cell.border.left.style == "hair" or cell.border.left.style == "dotted" or cell.border.left.style
    assert cell.number_format == "General", "not the hours of the column that stands nearer"


def test_same_list_same_bytes(own: Path) -> None:
    one, _ = filled(own)
    first = one.read_bytes()
    two, _ = filled(own)
    assert two == one and two.read_bytes() == first


def test_uncommon_texts_survive(tmp_path: Path) -> None:
    tags = ["Tank <&> \"q\"", "ünïcode ✓ 漢字 😀", "_x0041_", "=1+1", "'q", "line\nbreak"]
    path, _ = filled(put(tmp_path, simple([[tag, "TBD" if at % 2 else 4, 6, 480, 1] for at, tag in enumerate(tags)])))
    assert_nothing_else_changed((tmp_path / "list.xlsx").read_bytes(), path.read_bytes())
    sheet = sheet_of(path)
    for at in range(len(tags)):
        assert answers(sheet, at + 2)["status"] == ("not sized" if at % 2 else "sized, review")  # their feeder lacks those that are not


def test_a_formula_typed_as_text_in_the_list_stays_text_in_the_findings(tmp_path: Path) -> None:
    path, _ = filled(put(tmp_path, simple([["T-1", "=HYPERLINK(1)", 6, 480, 1], ["T-2", 4, 6, 480, 1]])))
    cell = sheet_of(path, values=False).cell(2, 6 + TITLES.index("Sized findings"))
    assert cell.data_type == "s" and "=HYPERLINK(1)" in cell.value
    assert answers(sheet_of(path), 3)["status"] == "sized, review"  # its feeder lacks the other row


def test_rows_without_a_result_in_their_formula_are_left_so(tmp_path: Path) -> None:
    path, _ = filled(put(tmp_path, simple([["T-1", F("=1+1"), 6, 480, 1], ["T-2", 4, 6, 480, 1]])))
    assert answers(sheet_of(path), 2)["status"] == "not sized"
    assert sheet_of(path, values=False)["B2"].value == "=1+1"


def test_several_sheets_of_one_workbook(tmp_path: Path) -> None:
    data = book({"Feeders": [["Feeder", "Volts", "Phases"], ["F-1", 480, 3]], "Heaters": [HEADINGS, *ROWS], "Remarks": [["nothing"]]})
    path, result = filled(put(tmp_path, data))
    assert_nothing_else_changed(data, path.read_bytes(), ("xl/worksheets/sheet2.xml",))
    assert any("columns F to O" in line for line in result.about)


# --- the command


def test_the_command_fills_and_says_where(own: Path, capsys) -> None:
    assert cli.main(["fill", str(own)]) == 4  # one row has no quantity yet
    said = capsys.readouterr().out
    copy = own.with_name("own list filled.xlsx")
    assert f"own list.xlsx: filled in on sheet {own_list.SHEET}, columns O to X: 4 rows with sizes, 5 with the reason why not" in said
    assert "keeps its print area" in said
    assert f"written {copy}" in said
    assert copy.is_file()


def test_where_the_copy_goes(own: Path, tmp_path: Path, capsys) -> None:
    (tmp_path / "out").mkdir()
    assert cli.main(["fill", str(own), "-o", f"{tmp_path / 'out'}"]) == 4
    assert (tmp_path / "out" / "own list filled.xlsx").is_file()
    assert cli.main(["fill", str(own), "-o", str(tmp_path / "mine.xlsx")]) == 4
    assert (tmp_path / "mine.xlsx").is_file()
    before = own.read_bytes()
    for out, words in (
        (str(own), "would overwrite the list"), (str(tmp_path / "x.xlsm"), "end the name"), (f"{tmp_path / 'no'}/", "no such folder"),
    ):
        assert cli.main(["fill", str(own), "-o", out]) == 2
        assert words in capsys.readouterr().err
    assert cli.main(["fill", str(tmp_path)]) == 2
    assert own.read_bytes() == before


def test_the_verb_never_writes_over_the_list(own: Path, tmp_path: Path) -> None:
    link = tmp_path / "link.xlsx"
    link.symlink_to(own)
    for target in (own, link):
        with pytest.raises(OutputFileError, match="the customer's list"):
            batch.fill(own, target)
    with pytest.raises(OutputFileError, match="end the name"):
        batch.fill(own, tmp_path / "x.xlsm")


def test_a_folder_of_jobs_leaves_filled_copies_alone(own: Path, capsys) -> None:
    filled(own)
    assert cli.main(["check", str(own.parent)]) in (0, 1, 4)
    assert "own list filled.xlsx: skipped, a filled copy by its name" in capsys.readouterr().err


def test_a_copy_open_elsewhere_is_left_alone(own: Path, capsys) -> None:
    path, _ = filled(own)
    path.write_bytes(b"somebody's remarks")
    path.with_name(f".~lock.{path.name}#").write_bytes(b"")
    assert cli.main(["fill", str(own)]) == 4
    assert path.read_bytes() == b"somebody's remarks"
    assert path.with_name("own list filled (2).xlsx").is_file()
    assert "open elsewhere" in capsys.readouterr().err


def test_a_copy_that_somebody_typed_into_is_left_alone(own: Path) -> None:
    """It has the properties of the list, and so the moment of its last saving; a program that saves either of them states its own."""
    copy = own.with_name(f"{own.stem} filled.xlsx")
    for _ in range(2):
        result = batch.fill(own)
        assert (result.written, result.aside) == (str(copy), "")
    book = openpyxl.load_workbook(copy)
    book.worksheets[0]["A99"] = "Ask the shop."
    book.save(copy)
    typed_in = copy.read_bytes()
    result = batch.fill(own)
    assert result.written == str(own.with_name(f"{own.stem} filled (2).xlsx"))
    assert result.aside == "another program has saved it, or the list, since, so it may hold what somebody typed"
    assert copy.read_bytes() == typed_in


def test_the_reference_says_which_columns() -> None:
    reference = (ROOT / "templates" / "reference.md").read_text(encoding="utf-8")
    for column in FILLED.columns:
        assert f"| {column.heading}" in reference
