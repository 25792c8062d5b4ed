"""What the looks of a workbook say: struck through, hidden, merged, commented. Seen in the file, put on the grid."""

from __future__ import annotations

import io
from pathlib import Path
from random import Random

import pytest
import xlsxwriter

from batch.intake.apart import looks_here
from batch.intake.grid import Grid
from batch.intake.older_workbook_looks import shared_texts
from batch.intake.workbook import open_workbook
from batch.ooxml.struck_texts import left_of
from tests.intake_book import DOUBTS, ODS, codes, edited, read_bytes, zipped


def looks(prefix: bool = False) -> bytes:
    """A sheet with a struck row, a row struck in part, words struck, hidden rows and columns, a comment and merged cells."""
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True}) as workbook:
        struck, plain, bold = workbook.add_format({"font_strikeout": True}), workbook.add_format(), workbook.add_format({"bold": True})
        sheet = workbook.add_worksheet("List")
        sheet.write_row(0, 0, ["Tank", "Qty", "kW", "Remarks"], bold)
        sheet.write_row(1, 0, ["T-1", 3, 6, "kept"])
        sheet.write_row(2, 0, ["T-2", 3, 6, "gone"], struck)
        sheet.write_row(3, 0, ["T-3", 3])
        sheet.write(3, 2, 6, struck)
        sheet.write_rich_string(4, 0, struck, "T-4", plain, " T-5")
        sheet.write_rich_string(5, 0, struck, "T-6", struck, " and T-7")
        sheet.write_blank(6, 0, None, struck)
        sheet.write(6, 1, 9)
        sheet.merge_range(7, 0, 8, 0, "T-8")
        sheet.set_row(3, None, None, {"hidden": True})
        sheet.set_column(1, 1, None, None, {"hidden": True})
        sheet.set_column(20, 16383, None, None, {"hidden": True})
        sheet.write_comment(1, 2, "was 9")
        workbook.add_worksheet("Other").write(0, 0, "plain")
        workbook.add_worksheet("Old").very_hidden()
    return out.getvalue()


@pytest.fixture(scope="module")
def sheets() -> dict[str, Grid]:
    return {grid.name: grid for grid in open_workbook(looks(), "looks.xlsx").grids}


def test_struck_cells(sheets: dict[str, Grid]) -> None:
    grid = sheets["List"]
    assert grid.struck == {(2, 0), (2, 1), (2, 2), (2, 3), (3, 2), (5, 0)}


def test_of_a_text_struck_in_part_the_rest_is_known(sheets: dict[str, Grid]) -> None:
    assert dict(sheets["List"].left_unstruck) == {(4, 0): "T-5"}
    assert sheets["List"].rows[4][0] == "T-4 T-5"


def test_hidden_merged_and_commented(sheets: dict[str, Grid]) -> None:
    grid = sheets["List"]
    assert (grid.hidden_rows, grid.hidden_columns, grid.merged) == ((4,), (2,), ((7, 0, 8, 0),))
    assert set(grid.comments) == {(1, 2)} and grid.looks_known
    assert sheets["Old"].hidden == "very hidden" and not sheets["Other"].struck and not sheets["Other"].comments


def test_a_part_of_a_sheet_keeps_its_looks(sheets: dict[str, Grid]) -> None:
    part = sheets["List"].part("some", 0, 1)
    assert part.struck == sheets["List"].struck and part.hidden_columns == (2,)


def test_a_strike_that_is_switched_off_is_none() -> None:
    data = edited(looks(), "xl/(styles|sharedStrings).xml", lambda part: part.replace(b"<strike/>", b'<strike val="0"/>'))
    grid = open_workbook(data, "looks.xlsx").grids[0]
    assert not grid.struck and not grid.left_unstruck


def test_a_text_of_its_own_in_the_cell() -> None:
    struck = b"<r><rPr><strike/></rPr><t>6</t></r>"
    assert left_of(struck + b"<r><t xml:space='preserve'> 9 &amp; 3</t></r>") == "9 & 3"
    assert left_of(struck) == "" and left_of(b"<t>6</t>") is None and left_of(b"<r><rPr><b/></rPr><t>6</t></r>") is None

    def inline(part: bytes) -> bytes:
        return part.replace(b'<c r="B2"><v>3</v></c>', b'<c r="B2" t="inlineStr"><is>' + struck + b"<r><t>9</t></r></is></c>")

    grid = open_workbook(edited(looks(), "xl/worksheets/sheet1.xml", inline), "looks.xlsx").grids[0]
    assert grid.left_unstruck[1, 1] == "9"


def test_an_open_document_sheet_says_what_is_struck_hidden_and_commented() -> None:
    def cell(text: str, style: str = "plain", more: str = "", many: int = 1) -> str:
        repeated = f' table:number-columns-repeated="{many}"' if many > 1 else ""
        looks = f'table:style-name="{style}" office:value-type="string"{repeated}'
        return f"<table:table-cell {looks}>{more}<text:p>{text}</text:p></table:table-cell>"

    def row(*cells: str, more: str = "") -> str:
        return f"<table:table-row{more}>{''.join(cells)}</table:table-row>"

    styles = "".join(
        f'<style:style style:name="{name}" style:family="table-cell"{parent}><style:text-properties {said}/></style:style>'
        for name, parent, said in (
            ("plain", "", 'style:text-line-through-style="none"'),
            ("gone", "", 'style:text-line-through-style="solid" style:text-line-through-type="single"'),
            ("also", ' style:parent-style-name="gone"', ""),
            ("back", ' style:parent-style-name="gone"', 'style:text-line-through-type="none"'),
        )
    )
    lines = (
        row(cell("Tank"), cell("Qty"), cell("Notes"))
        + row(cell("T-1", "gone"), cell("4", "also"), cell("x", "back"))
        + row(
            cell("T-2"),
            cell('<text:span text:style-name="gone">4</text:span> 3', more="<office:annotation><text:p>was 4</text:p></office:annotation>"),
        )
        + row(cell("T-3"), cell("2"), more=' table:visibility="collapse"')
        + row(cell("", "gone"), more=' table:number-rows-repeated="3"')
        + row(cell("T-4", "gone", many=2))
    )
    content = (ODS % lines.encode()).replace(
        b"<office:body>", f"<office:automatic-styles>{styles}</office:automatic-styles><office:body>".encode()
    )
    content = content.replace(b" xmlns:text=", b' xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0" xmlns:text=')
    parts = {"mimetype": b"application/vnd.oasis.opendocument.spreadsheet", "content.xml": content}
    manifest = b'<m:manifest xmlns:m="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"/>'
    grid = open_workbook(zipped({**parts, "META-INF/manifest.xml": manifest}), "list.ods").grids[0]
    assert grid.struck == {(1, 0), (1, 1), (7, 0), (7, 1)} and grid.left_unstruck == {(2, 1): "3"}
    assert grid.hidden_rows == (4,) and set(grid.comments) == {(2, 1)} and grid.looks_known


OLDER = Path(__file__).with_name("looks.xls")  # the sheets of `looks`, as an office program saved them in the older binary kind


def test_a_sheet_of_the_older_binary_kind_says_the_same(sheets: dict[str, Grid]) -> None:
    older = {grid.name: grid for grid in open_workbook(OLDER.read_bytes(), "looks.xls").grids}
    assert older.keys() == sheets.keys() and all(grid.looks_known for grid in older.values())
    for name in ("List", "Other"):
        assert set(older[name].comments) == set(sheets[name].comments)  # whose words stand in a drawing there
        for what in ("struck", "hidden_rows", "hidden_columns", "merged"):
            assert getattr(older[name], what) == getattr(sheets[name], what), what
        assert dict(older[name].left_unstruck) == dict(sheets[name].left_unstruck)


def test_a_text_cut_between_two_records_goes_on_in_the_width_that_the_second_says() -> None:
    cut = [b"\x01\0\0\0\x01\0\0\0" + b"\x05\0\x08\x01\0" + b"ab", b"\x01c\0d\0e\0" + b"\x02\0", b"\x07\0"]
    assert shared_texts(cut) == [("abcde", [(2, 7)])]


def test_an_older_workbook_that_is_damaged_brings_nothing_down() -> None:
    data, random = OLDER.read_bytes(), Random(7)
    for _ in range(300):
        damaged = bytearray(data[: random.randrange(100, len(data))] if random.random() < 0.3 else data)
        for _ in range(20):
            damaged[random.randrange(8, len(damaged))] = random.randrange(256)
        looks_here(bytes(damaged))


def test_a_workbook_whose_looks_are_not_seen_says_so() -> None:
    """Without the records that say in which font a cell is, nothing is known of what is struck."""
    data = OLDER.read_bytes()
    blurred = data.replace(b"\xe0\0\x14\0", b"\xe1\0\x14\0")
    grid = open_workbook(blurred, "list.xls").grids[0]
    assert blurred != data and not grid.looks_known and not grid.struck


def turned_or_blocks(turned: bool, struck: tuple[str, ...] = (), commented: str = "") -> bytes:
    """Three tanks in columns, or in blocks of labels; with cells struck through and a comment at the figures named, such as "T-2 Qty"."""
    labels = {"Tank": ("T-1", "T-2", "T-3"), "Qty": (3, 2, 1), "kW each": (6, 9, 3), "Volts": (480,) * 3, "Ph": (3,) * 3}
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True}) as workbook:
        through, plain = workbook.add_format({"font_strikeout": True}), workbook.add_format()
        sheet = workbook.add_worksheet("Heaters")
        for number, (label, values) in enumerate(labels.items()):
            for tank, value in enumerate(values):
                row, column = (number, tank + 1) if turned else (number + 6 * tank, 1)
                sheet.write(row, 0, label)
                name = f"T-{tank + 1} {label}"
                sheet.write(row, column, value, through if {name, f"T-{tank + 1}"} & set(struck) else plain)
                if name == commented:
                    sheet.write_comment(row, column, "ask first")
    return out.getvalue()


@pytest.mark.parametrize("turned", [True, False], ids=["turned", "blocks"])
def test_a_struck_tank_of_a_list_that_is_no_table_is_taken_out(turned: bool, tmp_path: Path) -> None:
    job = read_bytes(tmp_path, turned_or_blocks(turned, struck=("T-2",)))
    assert [one.tank for one in job.banks] == ["T-1", "T-3"] and "row-taken-out" in codes(job)


@pytest.mark.parametrize("turned", [True, False], ids=["turned", "blocks"])
@pytest.mark.parametrize("looks", [{"struck": ("T-2 Qty",)}, {"commented": "T-2 Qty"}], ids=["struck", "commented"])
def test_a_figure_of_such_a_list_that_is_struck_or_commented_is_asked_about(turned: bool, looks: dict, tmp_path: Path) -> None:
    job = read_bytes(tmp_path, turned_or_blocks(turned, **looks))
    assert [one.tank for one in job.banks] == ["T-1", "T-3"] and [one.tank for one in job.unread] == ["T-2"]
    said = next(one.message for one in job.findings if one.code in DOUBTS)
    assert ("its cell C2 " if turned else "a cell of its block ") in said
