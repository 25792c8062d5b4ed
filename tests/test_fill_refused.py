"""Workbooks and sheets that results cannot safely be written into: refused in one line that says why, and nothing is written."""

from __future__ import annotations

import re
import shutil
import zipfile
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter

import batch
from batch.cli import app as cli
from batch.errors import CannotFill, InputFileError
from batch.filling import write_filled
from tests.fill_sheets import HEADINGS, PART, ROWS, TITLES, assert_nothing_else_changed, part_of, put, simple
from tests.intake_book import F, book, edited, zipped

ROOT = Path(__file__).resolve().parents[1]
BROKEN = ROOT / "sample_jobs" / "broken"


def refused(folder: Path, data: bytes, words: str, name: str = "list.xlsx") -> str:
    """The one line; nothing was written and the list is as it was."""
    path = put(folder, data, name)
    with pytest.raises(CannotFill, match=words) as told:
        batch.fill(path)
    text = str(told.value)
    assert "\n" not in text and text.startswith(f"{path}: not filled in: ")
    assert path.read_bytes() == data
    assert [one.name for one in folder.iterdir() if "filled" in one.name or one.suffix == ".part"] == []
    return text


def start_of(folder: Path, data: bytes, name: str = "list.xlsx") -> str:
    """Letters of the first new column, after filling; everything else is seen to be as it was."""
    path = put(folder, data, name)
    result = batch.fill(path)
    assert_nothing_else_changed(data, Path(result.written).read_bytes())
    return re.search(r"columns ([A-Z]+) to", result.about[0])[1]


def with_workbook(more: str) -> bytes:
    return edited(simple(), "xl/workbook.xml", lambda xml: xml.replace(b"<bookViews>", more.encode() + b"<bookViews>"))


def with_sheet(more: str, before: str = "<pageMargins", rows=ROWS) -> bytes:
    return edited(simple(rows), PART, lambda xml: xml.replace(before.encode(), more.encode() + before.encode(), 1))


def made(fill: Callable) -> bytes:
    """A plain list, and what `fill(workbook, sheet)` adds to it."""
    out = BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True}) as workbook:
        sheet = workbook.add_worksheet("Heaters")
        for row, cells in enumerate([HEADINGS, *ROWS]):
            sheet.write_row(row, 0, cells)
        fill(workbook, sheet)
    return out.getvalue()


# --- the workbook as a whole


def test_signed(tmp_path: Path) -> None:
    out = BytesIO(simple())
    with zipfile.ZipFile(out, "a") as package:
        package.writestr("_xmlsignatures/sig1.xml", "<Signature/>")
    refused(tmp_path, out.getvalue(), "digitally signed")


def test_signed_by_a_relation_only(tmp_path: Path) -> None:
    kind = b"http://schemas.openxmlformats.org/package/2006/relationships/digital-signature/origin"
    origin = b'<Relationship Id="rIdS" Type="' + kind + b'" Target="o"/></Relationships>'
    refused(tmp_path, edited(simple(), "_rels/.rels", lambda xml: xml.replace(b"</Relationships>", origin)), "signed")


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ('<workbookProtection lockStructure="1"/>', "the workbook is protected"),
        ('<workbookProtection workbookAlgorithmName="SHA-512" lockWindows="true"/>', "the workbook is protected"),
        ('<fileSharing readOnlyRecommended="1" userName="x" reservationPassword="CC1A"/>', "a password is set against changing"),
    ],
)
def test_protected(tmp_path: Path, more: str, words: str) -> None:
    refused(tmp_path, with_workbook(more), words)


@pytest.mark.parametrize("more", ['<workbookProtection lockStructure="0"/>', '<fileSharing readOnlyRecommended="1"/>'])
def test_what_is_no_protection_is_no_reason(tmp_path: Path, more: str) -> None:
    assert start_of(tmp_path, with_workbook(more)) == "F"


def test_shared_with_a_record_of_changes(tmp_path: Path) -> None:
    out = BytesIO(simple())
    with zipfile.ZipFile(out, "a") as package:
        package.writestr("xl/revisions/revisionHeaders.xml", "<headers/>")
    refused(tmp_path, out.getvalue(), "record of every change")


def test_other_kinds_of_workbook(tmp_path: Path) -> None:
    refused(tmp_path, (BROKEN / "half-seen.ods").read_bytes(), "OpenDocument", "list.ods")
    relations = b'<Relationships><Relationship Id="r" Type="x/officeDocument" Target="xl/workbook.bin"/></Relationships>'
    refused(tmp_path, zipped({"_rels/.rels": relations, "xl/workbook.bin": b"\0"}), "binary workbook", "list.xlsb")


def test_the_older_binary_kind(tmp_path: Path) -> None:
    from batch.ooxml import guard

    data = bytes.fromhex("d0cf11e0a1b11ae1") + bytes(504) + "Workbook".encode("utf-16-le") + bytes(1024)
    try:
        assert guard.file_kind(data, "list.xls") == "xls"
    except InputFileError:
        pytest.skip("the guard looks deeper than this stand-in goes; the real kind is refused all the same")
    refused(tmp_path, data, r"older binary kind \(\.xls\)", "list.xls")


@pytest.mark.parametrize("name", ["empty.xlsx", "text.xlsx", "truncated.xlsx", "locked.xlsx"])
def test_what_is_no_workbook_is_told_as_in_reading(tmp_path: Path, name: str, capsys) -> None:
    path = Path(shutil.copy(BROKEN / name, tmp_path))
    assert cli.main(["fill", str(path)]) == 3
    said = capsys.readouterr().err
    assert said.count("\n") == 1 and name in said
    assert [one.name for one in tmp_path.iterdir()] == [name]


def test_a_results_workbook_of_our_own(tmp_path: Path) -> None:
    path = put(tmp_path, simple())
    sized = Path(batch.size(path).written)
    refused(tmp_path, sized.read_bytes(), "results workbook of this program", "results.xlsx")


def test_filled_in_already(tmp_path: Path) -> None:
    path = put(tmp_path, simple())
    once = Path(batch.fill(path).written).read_bytes()
    (tmp_path / "list filled.xlsx").unlink()
    text = refused(tmp_path, once, "filled in already", "again.xlsx")
    assert "Sized status" in text


def test_filled_in_already_below_two_rows_of_headings(tmp_path: Path) -> None:
    two_rows = [["Tank", None, "Heater"], [None, "Qty", "kW each", "Volts", "Phase"], *ROWS]
    once = Path(batch.fill(put(tmp_path, book({"Heaters": two_rows}))).written).read_bytes()
    (tmp_path / "list filled.xlsx").unlink()
    refused(tmp_path, once, "filled in already", "again.xlsx")


def test_no_list_at_all(tmp_path: Path) -> None:
    refused(tmp_path, book({"Prices": [["Part", "Price"], ["fuse", 2]]}), "no sheet of it could be read as a heater list")
    refused(tmp_path, book({"Heaters": [HEADINGS]}), "no sheet of it could be read as a heater list with rows")


def test_changed_while_it_was_sized(tmp_path: Path) -> None:
    path = put(tmp_path, simple())
    result = batch.check(path)
    path.write_bytes(simple([*ROWS, ["T-9", 1, 6, 480, 1]]))
    with pytest.raises(CannotFill, match="changed while it was being sized"):
        write_filled(path, result, tmp_path / "x.xlsx", "program")
    assert not (tmp_path / "x.xlsx").exists()


# --- one sheet


@pytest.mark.parametrize("more", ['<sheetProtection sheet="1"/>', '<sheetProtection sheet="true" password="CC1A" objects="1"/>'])
def test_a_protected_sheet(tmp_path: Path, more: str) -> None:
    refused(tmp_path, with_sheet(more), "sheet Heaters is protected")


def test_protection_that_is_off(tmp_path: Path) -> None:
    assert start_of(tmp_path, with_sheet('<sheetProtection sheet="0" objects="1"/>')) == "F"


def test_cells_beside_the_list(tmp_path: Path) -> None:
    rows = [[*row, None, "x" if at == 1 else None] for at, row in enumerate(ROWS)]
    text = refused(tmp_path, simple(rows), "cell G3 holds something beside the list")
    assert "columns F to O" in text
    # Right after the new columns and one that stays free there is room for it.
    far = [[*row, *[None] * 11, "x"] for row in ROWS]
    assert start_of(tmp_path, simple(far, name="Heaters")) == "F"
    near = [[*row, *[None] * 10, "x"] for row in ROWS]
    (tmp_path / "near").mkdir()
    refused(tmp_path / "near", simple(near), "cell P2")


def test_what_stands_above_or_below_the_rows_of_the_list_is_not_beside_it(tmp_path: Path) -> None:
    sheet = [[*[None] * 7, "INVENTED WORKS"], [], HEADINGS, *ROWS, [], [*[None] * 6, "signed"]]
    assert start_of(tmp_path, book({"Heaters": sheet})) == "F"


@pytest.mark.parametrize(
    ("what", "words"),
    [
        (lambda book, sheet: sheet.merge_range("H2:I3", ""), r"merged cells \(H2\)"),
        (lambda book, sheet: sheet.add_table("H1:I4", {"data": []}), "cell H1 holds something"),
        (lambda book, sheet: sheet.write_comment("G3", "look"), r"a comment \(G3\)"),
        (lambda book, sheet: sheet.add_sparkline("J2", {"range": "Heaters!B2:C2"}), r"a small chart in a cell \(J2\)"),
    ],
)
def test_something_else_too_close_to_the_right(tmp_path: Path, what, words: str) -> None:
    refused(tmp_path, made(what), words)


def test_a_filter_or_a_merged_cell_that_begins_in_the_list_moves_the_columns_beyond_it(tmp_path: Path) -> None:
    assert start_of(tmp_path, made(lambda book, sheet: sheet.autofilter("A1:H4"))) == "I"
    (tmp_path / "merged").mkdir()
    assert start_of(tmp_path / "merged", made(lambda book, sheet: sheet.merge_range("E3:G3", 480))) == "H"


def test_a_table_over_the_list_is_no_hindrance(tmp_path: Path) -> None:
    columns = [{"header": heading} for heading in HEADINGS]
    assert start_of(tmp_path, made(lambda book, sheet: sheet.add_table("A1:E4", {"columns": columns}))) == "F"


def test_a_chart_beside_the_list_moves_the_columns_beyond_it(tmp_path: Path) -> None:
    def chart(book, sheet) -> None:
        one = book.add_chart({"type": "column"})
        one.add_series({"values": "=Heaters!$B$2:$B$4"})
        sheet.insert_chart("G2", one)  # 480 dots wide: columns G to N

    assert start_of(tmp_path, made(chart)) == "O"


def test_a_button_beside_the_list_moves_the_columns_beyond_it(tmp_path: Path) -> None:
    assert start_of(tmp_path, made(lambda book, sheet: sheet.insert_button("H2", {"caption": "press", "width": 100}))) > "I"


def test_a_note_lies_over_nothing_until_it_is_opened(tmp_path: Path) -> None:
    assert start_of(tmp_path, made(lambda book, sheet: sheet.write_comment("E2", "look"))) == "F"


def test_pictures_as_far_as_can_be_seen(tmp_path: Path) -> None:
    def charts(book, sheet) -> None:
        for column in range(6, 80, 7):
            one = book.add_chart({"type": "column"})
            one.add_series({"values": "=Heaters!$B$2:$B$4"})
            sheet.insert_chart(1, column, one)

    refused(tmp_path, made(charts), "pictures, charts or controls")


@pytest.mark.parametrize("anchor", ["oneCell", "absolute"])
def test_pictures_placed_in_other_ways(tmp_path: Path, anchor: str) -> None:
    def chart(book, sheet) -> None:
        one = book.add_chart({"type": "column"})
        one.add_series({"values": "=Heaters!$B$2:$B$4"})
        sheet.insert_chart("G2", one)

    def other(xml: bytes) -> bytes:
        place = (rb'<xdr:pos x="3700000" y="0"/>' if anchor == "absolute" else rb"\1") + rb'<xdr:ext cx="4572000" cy="2743200"/>'
        xml = re.sub(rb"(<xdr:from>.*?</xdr:from>)<xdr:to>.*?</xdr:to>", place, xml, flags=re.DOTALL)
        return xml.replace(b"twoCellAnchor", f"{anchor}Anchor".encode())

    first = start_of(tmp_path, edited(made(chart), "xl/drawings/drawing1.xml", other))
    assert _number(first) > _number("N"), "480 dots are at least seven columns"


def _number(letters: str) -> int:
    return openpyxl.utils.column_index_from_string(letters)


@pytest.mark.parametrize(
    ("formula", "start"),
    [
        ("=SUM(B2:K2)", "L"), ("=SUM($B$2:$K$4)", "L"), ("=SUM(A:K)", "L"), ("=COUNTA(Heaters!B2:K4)", "L"), ("=K3", "L"),
        ("=SUM(B2:E2)", "F"), ('="K2"', "F"), ("=LOG10(B2)", "F"), ("=SUM(B:E)", "F"), ("=SUM(B2,'Other sheet'!K2)", "F"),
        ("=SUM([1]Heaters!B2:K2)", "F"), ("=COUNTA(A30:H40)", "I"), ("=SUM(K600:K700)", "F"),
    ],
)
def test_what_a_formula_reads_is_not_written_into(tmp_path: Path, formula: str, start: str) -> None:
    """A customer's total keeps its value when it is worked out anew: the new columns begin beyond what it reads."""
    assert start_of(tmp_path, made(lambda book, sheet: sheet.write_formula("A20", formula, None, 1))) == start


def test_results_stand_no_farther_than_forty_columns_from_the_list(tmp_path: Path) -> None:
    """The list ends at E; what is read as far as AS is forty columns on, as far as AT one more."""
    assert start_of(tmp_path, made(lambda book, sheet: sheet.write_formula("A20", "=SUM(B2:AS2)", None, 1))) == "AT"
    folder = tmp_path / "farther"
    folder.mkdir()
    refused(folder, made(lambda book, sheet: sheet.write_formula("A20", "=SUM(B2:AT2)", None, 1)), "reads as far as column AT")


def test_a_formula_that_reads_rows_above_the_list_only(tmp_path: Path) -> None:
    data = book({"Heaters": [["Rates", 1, 2, 3, 4, 5, 6, 7, 8, F("=SUM(1:1)", 9)], [], HEADINGS, *ROWS]})
    assert start_of(tmp_path, edited(data, PART, lambda xml: xml.replace(b"SUM(1:1)", b"SUM(2:2)"))) == "F"


@pytest.mark.parametrize("formula", ["=SUM(2:2)", "=COUNTA($1:$4)", "=SUM(A1:XFD4)", "=SUM(B:XFD)"])
def test_a_formula_that_reads_whole_rows(tmp_path: Path, formula: str) -> None:
    text = refused(tmp_path, made(lambda book, sheet: sheet.write_formula("A20", formula, None, 1)), "reads as far as column XFD")
    assert "the formula in A20" in text


def test_formulas_of_other_sheets_names_and_charts_count_too(tmp_path: Path) -> None:
    def other_sheet(book, sheet) -> None:
        book.add_worksheet("Sums").write_formula("A1", "=SUM(Heaters!B2:M4)", None, 1)

    def name(book, sheet) -> None:
        book.define_name("Mine", "=Heaters!$A$1:$N$4")

    def chart(book, sheet) -> None:
        one = book.add_chart({"type": "column"})
        one.add_series({"values": "=Heaters!$B$2:$O$2"})
        sheet.insert_chart("A10", one)

    for at, (what, start) in enumerate(((other_sheet, "N"), (name, "O"), (chart, "P"))):
        (tmp_path / str(at)).mkdir()
        assert start_of(tmp_path / str(at), made(what)) == start


def test_a_formula_shared_by_a_block_slides_down_with_it(tmp_path: Path) -> None:
    shared = '<row r="20"><c r="A20"><f t="shared" ref="A20:A30" si="0">SUM(B30:K30)</f><v>1</v></c></row>'
    assert start_of(tmp_path, with_sheet(shared, before="</sheetData>")) == "L"


def test_a_stray_cell_far_off(tmp_path: Path) -> None:
    refused(tmp_path, (BROKEN / "stray-cell.xlsx").read_bytes(), "far below the list")
    (tmp_path / "right").mkdir()
    text = refused(tmp_path / "right", simple([[*ROWS[0], *[None] * 8, "stray"], *ROWS[1:]]), "cell N2 holds something beside the list")
    assert "move it below" in text


def test_lists_side_by_side(tmp_path: Path) -> None:
    refused(tmp_path, book({"Heaters": [[*HEADINGS, None, *HEADINGS], *([*row, None, *row] for row in ROWS)]}), "side by side")


def test_empty_cells_with_looks(tmp_path: Path) -> None:
    """Plain ones are written into and keep their looks; ones that would show a number as a date are not."""

    def plain(book, sheet) -> None:
        for row in range(4):
            for column in range(5, 30):
                sheet.write_blank(row, column, None, book.add_format({"border": 1}))

    def dated(book, sheet) -> None:
        for row in range(4):
            sheet.write_blank(row, 7, None, book.add_format({"num_format": "yyyy-mm-dd"}))

    for name, what, start in (("plain", plain, "F"), ("dated", dated, "I")):
        (tmp_path / name).mkdir()
        assert start_of(tmp_path / name, made(what)) == start
    copy = openpyxl.load_workbook(tmp_path / "plain" / "list filled.xlsx")["Heaters"]
    assert copy["G2"].border.left.style == "thin" and copy["G2"].value == 12.5


def test_hidden_columns_to_the_right_are_shown_where_results_stand(tmp_path: Path) -> None:
    data = made(lambda book, sheet: sheet.set_column(5, 16383, None, None, {"hidden": True}))
    assert start_of(tmp_path, data) == "F"
    sheet = openpyxl.load_workbook(tmp_path / "list filled.xlsx")["Heaters"]
    assert not sheet.column_dimensions["F"].hidden
    xml = part_of((tmp_path / "list filled.xlsx").read_bytes()).decode()
    settings = re.findall(r'<col min="(\d+)" max="(\d+)"[^>]*?(hidden="1")?[^>]*/>', xml)
    assert ("16", "16384") in {(low, high) for low, high, _ in settings}
    assert [cell.value for cell in sheet[1]][5:15] == TITLES


def test_cells_out_of_order_are_not_touched(tmp_path: Path) -> None:
    swapped = edited(simple(), PART, lambda xml: re.sub(rb'(<c r="A3".*?</c>)(<c r="B3".*?</c>)', rb"\2\1", xml))
    refused(tmp_path, swapped, "out of order")


def test_a_sheet_in_utf_16(tmp_path: Path) -> None:
    def wide(xml: bytes) -> bytes:
        return xml.decode().replace('encoding="UTF-8"', 'encoding="UTF-16"').encode("utf-16")

    refused(tmp_path, edited(simple(), PART, wide), "UTF-16")


def test_the_exit_code_is_3_and_one_line(tmp_path: Path, capsys) -> None:
    path = put(tmp_path, with_sheet('<sheetProtection sheet="1"/>'))
    assert cli.main(["fill", str(path)]) == 3
    said = capsys.readouterr()
    assert said.err.count("\n") == 1 and said.err.startswith(f"heaterbatch: {path}: not filled in: ")
    assert said.out == ""
