"""Cells put into the XML of a sheet, however that XML is written; and packages put together again."""

from __future__ import annotations

import random
import re
import struct
import zipfile
from io import BytesIO
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import batch
from batch.errors import CannotFill, JobError
from batch.filling.answers import row_words
from batch.filling.beside import area
from batch.filling.edit import filled_in
from batch.filling.pieces import Formula, cell
from batch.findings import find, remark
from batch.ooxml.addresses import letters
from batch.ooxml.repack import repacked
from batch.ooxml.sheet_xml import rows_of, survey
from tests.fill_sheets import PART, STRICT, assert_nothing_else_changed, assert_same_sheet, members, part_of, put, seen, simple
from tests.intake_book import edited

NAMESPACE = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
FIRST_NEW = 6  # G, column from 0


def put_in(xml: bytes, cells: dict[int, dict[int, tuple[str, object]]], widths=None) -> bytes:
    found = survey(xml, 1, 1_048_576)
    start = min((min(row) for row in cells.values()), default=FIRST_NEW)
    return filled_in(xml, found, rows_of(xml, set(cells), range(start), start), cells, widths or {})


# --- any sheet


@st.composite
def sheets(draw) -> tuple[bytes, set[int]]:
    """The XML of a sheet as some writer might put it, and the numbers of its rows."""
    p = draw(st.sampled_from(["", "x:"]))
    q = draw(st.sampled_from(['"', "'"]))
    gap = draw(st.sampled_from(["", "\n", "  "]))
    addressed = draw(st.booleans())
    rows, numbers, row = [], [], 0
    for _ in range(draw(st.integers(1, 8))):
        row += draw(st.integers(1, 3)) if addressed else 1
        numbers.append(row)
        cells, column = [], -1
        for _ in range(draw(st.integers(0, 8))):
            column += draw(st.integers(1, 3)) if addressed else 1
            beyond = column >= FIRST_NEW
            place = f" r={q}{letters(column)}{row}{q}" if addressed else ""
            things = ["", f"<{p}v>1</{p}v>", f"<{p}f>A1&gt;2</{p}f><{p}v>0</{p}v>", f"<{p}is><{p}t>é &lt;</{p}t></{p}is>"]
            inside = "" if beyond else draw(st.sampled_from(things))
            kind = f" t={q}inlineStr{q}" if "<is>" in inside or ":is>" in inside else ""
            style = draw(st.sampled_from(["", f" s={q}3{q}"]))
            empty = draw(st.sampled_from([f"<{p}c{place}{style}/>", f"<{p}c{place}{style}></{p}c>"]))
            cells.append(f"<{p}c{place}{style}{kind}>{inside}</{p}c>" if inside else empty)
        spans = f" spans={q}1:{column + 1}{q}" if cells and draw(st.booleans()) else ""
        number = f" r={q}{row}{q}" if addressed else ""
        own = draw(st.sampled_from(["", f" ht={q}31.5{q} customHeight={q}1{q}", f" s={q}2{q} customFormat={q}1{q}"]))
        opened = cells or draw(st.booleans())
        rows.append(f"<{p}row{number}{spans}{own}>{gap.join(cells)}</{p}row>" if opened else f"<{p}row{number}{own}/>")
    settings_, at = [], 0
    for _ in range(draw(st.integers(0, 4))):
        low = at + draw(st.integers(1, 4))
        at = low + draw(st.integers(0, 12))
        more = draw(st.sampled_from(["", f" hidden={q}1{q}", f" style={q}4{q}", f" outlineLevel={q}1{q}"]))
        settings_.append(f"<{p}col min={q}{low}{q} max={q}{at}{q} width={q}{draw(st.sampled_from([4, 40]))}{q}{more}/>")
    columns = f"<{p}cols>{''.join(settings_)}</{p}cols>" if settings_ else ""
    used = f"<{p}dimension ref={q}A1:{letters(draw(st.integers(0, 9)))}{row}{q}/>" if draw(st.booleans()) else ""
    declared = f"xmlns:x={q}{NAMESPACE}{q}" if p else f"xmlns={q}{NAMESPACE}{q}"
    head = draw(st.sampled_from(["", '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n', "\ufeff"]))
    data = f"{gap}".join(rows)
    inside = f"{used}{columns}<{p}sheetData>{data}</{p}sheetData><!-- kept --><{p}pageMargins left={q}1{q}/>"
    xml = f"{head}<{p}worksheet {declared}>{inside}</{p}worksheet>"
    return xml.encode("utf-8"), set(numbers)


lives = st.builds(Formula, st.just('"a"&A1'), st.text(max_size=5))
values = st.one_of(st.integers(-5, 5), st.floats(-1e6, 1e6), st.just(None), st.text(max_size=20), lives)


@settings(deadline=None, max_examples=150)
@given(sheets(), st.data())
def test_any_sheet_keeps_its_cells_and_gets_the_new_ones(sheet: tuple[bytes, set[int]], data: st.DataObject) -> None:
    xml, numbers = sheet
    last = survey(xml, 1, 1_048_576).last_row
    allowed = sorted(numbers | set(range(max(numbers) + 1, max(numbers) + 4)))
    columns = st.sets(st.integers(FIRST_NEW, FIRST_NEW + 5), min_size=1)
    cells = {
        number: {column: (data.draw(st.sampled_from(["0", "3"])), data.draw(values)) for column in data.draw(columns)}
        for number in data.draw(st.sets(st.sampled_from([n for n in allowed if n in numbers or n > last]), min_size=1))
    }
    widths = {FIRST_NEW + at: 12.0 for at in range(6)}
    addressed = b" r=" in xml
    if not addressed:  # an XML tree cannot tell where such cells stand: only that all is well-formed and readable
        survey(put_in(xml, cells, widths), 1, 10)
        return
    new = put_in(xml, cells, widths)
    added = assert_same_sheet(xml, new, range(FIRST_NEW + 1, FIRST_NEW + 7))
    wanted = {f"{letters(column)}{number}" for number, row in cells.items() for column in row}
    after = seen(new)
    assert added <= wanted <= set(after.cells)
    assert new.count(b"<!-- kept -->") == 1 and new.endswith(xml[xml.index(b"<!-- kept -->") :])
    again = survey(new, 1, 1_048_576)
    assert again.last_row >= last


@settings(deadline=None, max_examples=100)
@given(sheets())
def test_nothing_to_put_in_changes_nothing(sheet: tuple[bytes, set[int]]) -> None:
    xml, _ = sheet
    assert put_in(xml, {}) == xml


def test_a_cell_that_holds_something_is_never_written_over() -> None:
    xml = f'<worksheet xmlns="{NAMESPACE}"><sheetData><row r="1"><c r="G1"><v>1</v></c></row></sheetData></worksheet>'.encode()
    with pytest.raises(CannotFill, match="G1 holds something"):
        put_in(xml, {1: {6: ("0", 2)}})


@pytest.mark.parametrize(
    "rows",
    ['<row r="2"/><row r="1"/>', '<row r="1"/><row r="1"/>', '<row r="0"/>', '<row r="x"/>', '<row r="1"><c r="B1"/><c r="A1"/></row>',
     '<row r="1"><c r="A2"/></row>', '<row r="1"><c r="A1"/><c r="A1"/></row>', '<row r="1"><c r="1A"/></row>',
     '<row r="1"><c r="ZZZ1"/></row>', "<col/>"],
)
def test_rows_and_cells_that_cannot_be_told_apart_are_not_touched(rows: str) -> None:
    xml = f'<worksheet xmlns="{NAMESPACE}"><sheetData>{rows}</sheetData></worksheet>'.encode()
    with pytest.raises(CannotFill):
        survey(xml, 1, 10)


@pytest.mark.parametrize("xml", [b"", b"<worksheet>", b"<worksheet/>", b"<a><b></a>", b"\0<\0w\0"])
def test_what_is_no_sheet_is_refused(xml: bytes) -> None:
    with pytest.raises(CannotFill):
        survey(xml, 1, 10)


# --- whole workbooks, written in other ways


def told(path: Path) -> list[object]:
    sheet = openpyxl.load_workbook(path, data_only=True)["Heaters"]
    return [[sheet.cell(row, column).value for column in range(6, 10)] for row in (2, 3, 4)]


@pytest.fixture
def plain(tmp_path: Path) -> list[object]:
    return told(Path(batch.fill(put(tmp_path, simple(), "plain.xlsx")).written))


def prefixed(xml: bytes) -> bytes:
    xml = re.sub(rb"<(/?)([a-zA-Z])", rb"<\1x:\2", xml)
    return xml.replace(b'<x:worksheet xmlns="', b'<x:worksheet xmlns:x="')


def strict(xml: bytes) -> bytes:
    return xml.replace(NAMESPACE.encode(), STRICT.strip("{}").encode())


WAYS = {
    "prefixed": prefixed,
    "byte order mark": lambda xml: b"\xef\xbb\xbf" + xml,
    "latin 1": lambda xml: xml.replace(b'encoding="UTF-8"', b'encoding="ISO-8859-1"'),
    "single quotes": lambda xml: re.sub(rb'="([^"]*)"', rb"='\1'", xml),
    "lines": lambda xml: xml.replace(b"><", b">\n  <"),
    "no addresses": lambda xml: re.sub(rb'(<(?:row|c)) r="[A-Z]*\d+"', rb"\1", xml),
    "no spans": lambda xml: re.sub(rb' spans="[^"]*"', b"", xml),
    "wrong used range": lambda xml: re.sub(rb'<dimension ref="[^"]*"', b'<dimension ref="A1"', xml),
    "no used range": lambda xml: re.sub(rb"<dimension [^>]*>", b"", xml),
}


@pytest.mark.parametrize("way", WAYS)
def test_however_the_sheet_is_written(tmp_path: Path, plain: list[object], way: str) -> None:
    data = edited(simple(), PART, WAYS[way])
    path = put(tmp_path, data)
    copy = Path(batch.fill(path).written)
    assert told(copy) == plain
    if way != "no addresses":
        assert_nothing_else_changed(data, copy.read_bytes())
    old, new = part_of(data), part_of(copy.read_bytes())
    assert new.startswith(old[: old.index(b"dimension")] if b"dimension" in old else old[:100])
    assert old[old.rindex(b"sheetData") :] == new[new.rindex(b"sheetData") :]


def test_a_strict_workbook_stays_strict(tmp_path: Path) -> None:
    """ISO/IEC 29500 Strict has namespaces and relations of its own (Part 1, annex A)."""
    office = b"http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    strict_office = b"http://purl.oclc.org/ooxml/officeDocument/relationships"
    data = edited(simple(), r".*\.(xml|rels)", lambda xml: strict(xml).replace(office, strict_office))
    path = put(tmp_path, data)
    copy = Path(batch.fill(path).written)
    assert_nothing_else_changed(data, copy.read_bytes())
    new = part_of(copy.read_bytes())
    assert STRICT.strip("{}").encode() in new and NAMESPACE.encode() not in new
    again = batch.check(copy)
    assert len(again.job.banks) == 3


# --- cells


@pytest.mark.parametrize(
    ("value", "xml"),
    [
        (12.5, '<c r="A1"><v>12.5</v></c>'),
        (20.0, '<c r="A1"><v>20</v></c>'),
        (0, '<c r="A1"><v>0</v></c>'),
        ("a < b & \"c\"", '<c r="A1" t="inlineStr"><is><t xml:space="preserve">a &lt; b &amp; &quot;c&quot;</t></is></c>'),
        ("é 漢", '<c r="A1" t="inlineStr"><is><t xml:space="preserve">&#233; &#28450;</t></is></c>'),
        ("_x0041_", '<c r="A1" t="inlineStr"><is><t xml:space="preserve">_x005F_x0041_</t></is></c>'),
        ("\x01\ud800", '<c r="A1" t="inlineStr"><is><t xml:space="preserve">&#65533;&#65533;</t></is></c>'),
        (Formula('IF(A1<2,"x","y")', "x"), '<c r="A1" t="str"><f>IF(A1&lt;2,&quot;x&quot;,&quot;y&quot;)</f><v>x</v></c>'),
        (None, '<c r="A1"/>'),
    ],
)
def test_cells_as_xml(value, xml: str) -> None:
    assert cell("", "A1", "0", value).decode() == xml
    assert cell("x", "A1", "7", value).decode().startswith('<x:c r="A1" s="7"')


@pytest.mark.parametrize(
    ("ref", "box"),
    [("A1", (0, 1, 0, 1)), ("B2:D9", (1, 2, 3, 9)), ("$B$2:$D$9", (1, 2, 3, 9)), ("B:C", (1, 1, 2, 1_048_576)), ("3:4", (0, 3, 16_383, 4))],
)
def test_areas(ref: str, box: tuple[int, int, int, int]) -> None:
    assert area(ref) == box


def test_findings_of_a_row_in_words() -> None:
    said = [
        find(remark("feeder-taken", feeder="F-1")),
        find(remark("limit-missing")),
        find(remark("feeder-unknown", feeder="F-9", feeders="F-1")),
        find(remark("feeder-taken", feeder="F-1")),
    ]
    words = row_words(said, {})
    assert words.startswith("HOLD, not sized: Feeder F-9 is not on the Feeders sheet.")
    assert " | CAUTION: The heaters have no over-temperature limit." in words
    assert words.endswith(" | notes: feeder taken")
    assert row_words([], {}) == ""


# --- packages


def zipped_oddly() -> bytes:
    """A package with what writers may do: sizes after the data, stored parts, remarks, other dates, a folder, a file mode."""
    out = BytesIO()

    class NoSeek(BytesIO):
        def seekable(self) -> bool:
            return False

        def tell(self):
            raise OSError

        def seek(self, *_):
            raise OSError

    stream = NoSeek()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as package:
        package.writestr(zipfile.ZipInfo("folder/", (1999, 12, 31, 23, 58, 58)), b"")
        info = zipfile.ZipInfo("stored.bin", (2040, 2, 29, 1, 2, 4))
        info.external_attr, info.comment = 0o640 << 16, b"a remark"
        package.writestr(info, b"stored" * 50)
        package.writestr("xl/part.xml", b"<a/>" * 100, compress_type=zipfile.ZIP_DEFLATED)
        package.writestr("unïcode.xml", b"u" * 1000, compress_type=zipfile.ZIP_DEFLATED)
        package.comment = b"of the whole"
    out.write(stream.getvalue())
    return out.getvalue()


def test_parts_are_copied_as_they_are_packed() -> None:
    data = zipped_oddly()
    assert struct.unpack("<H", data[6:8])[0] & 8, "the sizes follow the data, as the test wants it"
    new = repacked(data, {"xl/part.xml": b"<b/>" * 300})
    old, after = members(data), members(new)
    assert list(after) == list(old)
    for name in old:
        if name != "xl/part.xml":
            assert after[name] == old[name]
    with zipfile.ZipFile(BytesIO(new)) as package:
        assert package.testzip() is None
        assert package.read("xl/part.xml") == b"<b/>" * 300
        assert package.comment == b"of the whole"
    assert repacked(data, {}) == repacked(repacked(data, {}), {})


def test_a_part_that_is_not_there_is_refused() -> None:
    with pytest.raises(CannotFill, match="not where it was"):
        repacked(zipped_oddly(), {"nowhere.xml": b""})


def test_a_package_that_lies_about_a_part_is_refused() -> None:
    data = bytearray(zipped_oddly())
    with zipfile.ZipFile(BytesIO(bytes(data))) as package:
        at = package.getinfo("xl/part.xml").header_offset
    data[at : at + 4] = b"xxxx"
    with pytest.raises(CannotFill, match="damaged"):
        repacked(bytes(data), {})


def test_a_damaged_sheet_is_filled_or_refused_and_never_a_fault(tmp_path: Path) -> None:
    """Mutants of the XML, always the same ones: each is filled, or refused in one line."""
    dice = random.Random(7)
    whole = simple()
    xml = part_of(whole)
    pieces = (b"9", b"99999999999999999999", b"-1", b"<a/>", b'"', b"A1:B", "²".encode(), b"&#0;", b"</c>", b' r="A1"', b"<row/>")
    outcomes = set()
    for _ in range(80):
        mutant = bytearray(xml)
        at = dice.randrange(len(mutant))
        if dice.random() < 0.5:
            mutant[at : at + dice.choice((0, 1, 4))] = dice.choice(pieces)
        else:
            start = dice.randrange(len(mutant))
            mutant[at:at] = mutant[start : start + dice.choice((5, 40))]
        path = put(tmp_path, edited(whole, PART, lambda _, mutant=mutant: bytes(mutant)))
        try:
            batch.fill(path)
            outcomes.add("filled")
        except JobError as refusal:
            assert "\n" not in str(refusal)
            outcomes.add("refused")
    assert outcomes == {"filled", "refused"}
