"""Files that are no workbook, are damaged, or mean harm: one line that says what and what to do, or a reading that lost nothing."""

from __future__ import annotations

import io
import re
import struct
import zipfile
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from batch.errors import InputFileError
from batch.intake import read
from batch.intake.job import assemble
from batch.intake.workbook import open_workbook
from batch.ooxml import guard
from batch.ooxml.sheet_scan import filled, scan
from tests.intake_book import GOOD, HEADINGS, SHEET_PART, F, N, book, codes, edited, fates, ods, read_bytes, said, zipped

PLAIN = book({"Heaters": [HEADINGS, GOOD, ["T-2", *GOOD[1:]]]})
TEXTS = "xl/sharedStrings.xml"
SHEET_AND_TEXTS = f"{SHEET_PART}|{TEXTS}|xl/workbook.xml"
STRICT = {
    b"http://schemas.openxmlformats.org/spreadsheetml/2006/main": b"http://purl.oclc.org/ooxml/spreadsheetml/main",
    b"http://schemas.openxmlformats.org/officeDocument/2006/relationships": b"http://purl.oclc.org/ooxml/officeDocument/relationships",
}
OLE = guard.OLE + bytes(600)


def utf16(part: bytes) -> bytes:
    return part.replace(b'encoding="UTF-8"', b'encoding="UTF-16"').decode().encode("utf-16")


def prefixed(part: bytes) -> bytes:
    return re.sub(rb"<(/?)(?=[a-zA-Z])", rb"<\1x:", part).replace(b'xmlns="', b'xmlns:x="')


def strict(part: bytes) -> bytes:
    for old, new in STRICT.items():
        part = part.replace(old, new)
    return part


def without_addresses(part: bytes) -> bytes:
    return re.sub(rb' r="[A-Z]+\d+"', b"", part)


def with_doctype(part: bytes) -> bytes:
    return part.replace(b"?>", b"?><!DOCTYPE a>", 1)


def with_row(row: bytes) -> bytes:
    return edited(PLAIN, SHEET_PART, lambda part: part.replace(b"</sheetData>", row + b"</sheetData>"))


def bomb() -> bytes:
    """A small package whose sheet inflates to 24 MB of blanks."""
    return edited(PLAIN, SHEET_PART, lambda part: part + b" " * (24 << 20))


def lying_about_size() -> bytes:
    """The sheet's size is given as ten bytes, in the list of parts and before the part itself."""
    data = bytearray(PLAIN)
    for start in (m.start() for m in re.finditer(re.escape(SHEET_PART.encode()), PLAIN)):
        central = PLAIN[start - 46 : start - 42] == b"PK\x01\x02"
        struct.pack_into("<I", data, start - 46 + 24 if central else start - 30 + 22, 10)
    return bytes(data)


# Each is refused in one line that holds these words.
REFUSED: dict[str, tuple[bytes, str]] = {
    "empty": (b"", "empty"),
    "text": (b"Tank,Quantity\nT-1,4\n", "plain text"),
    "text in utf-16": ("Tank;Quantity\n".encode("utf-16"), "plain text"),
    "web page": (b"<html><table><tr><td>Tank</td></tr></table></html>", "HTML"),
    "xml": (b"<?xml version='1.0'?><Workbook/>", "XML"),
    "pdf": (b"%PDF-1.7 and so on", "PDF"),
    "picture": (b"\x89PNG\r\n\x1a\n", "picture"),
    "noise": (bytes(range(1, 256)), "not a workbook"),
    "locked": (OLE + "EncryptedPackage".encode("utf-16-le"), "password"),
    "rights management": (OLE + "DRMEncryptedTransform".encode("utf-16-le"), "rights management"),
    "old text document": (OLE + "WordDocument".encode("utf-16-le"), "text document"),
    "old container": (OLE, "without a workbook that can be read"),
    "damaged old workbook": (OLE + "Workbook".encode("utf-16-le"), "cannot be read"),
    "truncated": (PLAIN[: len(PLAIN) // 2], "damaged"),
    "truncated a little": (PLAIN[:-30], "damaged"),
    "archive": (zipped({"readme.txt": b"hello"}), "archive without a workbook"),
    "empty archive": (zipped({}), "empty archive"),
    "text document": (zipped({"[Content_Types].xml": b"<a/>", "word/document.xml": b"<a/>"}), "text document"),
    "presentation": (zipped({"ppt/presentation.xml": b"<a/>"}), "presentation"),
    "open text document": (zipped({"mimetype": b"application/vnd.oasis.opendocument.text"}), "not a workbook"),
    "no sheets": (edited(PLAIN, "xl/workbook.xml", lambda part: re.sub(rb"<sheets>.*</sheets>", b"<sheets/>", part)), "no sheet"),
    "sheet missing": (edited(PLAIN, "none", None, drop=[SHEET_PART]), "is not in it"),
    "workbook cut": (edited(PLAIN, "xl/workbook.xml", lambda part: part[:200]), "not well-formed"),
    "sheet cut": (edited(PLAIN, SHEET_PART, lambda part: part[: len(part) // 2]), "cannot be read"),
    "entities": (edited(PLAIN, TEXTS, lambda part: part.replace(b"?>", b'?><!DOCTYPE a [<!ENTITY b "c">]>', 1)), "document type"),
    "entities in the sheet": (edited(PLAIN, SHEET_PART, with_doctype), "document type"),
    "entities in utf-16": (edited(PLAIN, SHEET_PART, lambda part: utf16(with_doctype(part))), "document type"),
    "entities in the list of sheets": (edited(PLAIN, "xl/workbook.xml", with_doctype), "document type"),
    "unknown entity": (edited(PLAIN, TEXTS, lambda part: part.replace(b"T-1", b"T&who;1")), "cannot be read"),
    "broken utf-8": (edited(PLAIN, TEXTS, lambda part: part.replace(b"T-1", b"T\xff1")), "cannot be read"),
    "lone surrogate": (edited(PLAIN, TEXTS, lambda part: part.replace(b"T-1", b"T&#xD800;1")), "cannot be read"),
    "no texts": (edited(PLAIN, "none", None, drop=[TEXTS]), "cannot be read"),
    "address beyond any sheet": (with_row(b'<row r="9"><c r="ZZZZ99999999"><v>1</v></c></row>'), "cannot be read"),
    "far cell among cells without an address": (
        edited(with_row(b'<row r="9"><c r="XFD1048576"><v>1</v></c></row>'), SHEET_PART, lambda part: part.replace(b'<c r="E2">', b"<c>")),
        "too wide",
    ),
    "same cell twice": (
        edited(PLAIN, SHEET_PART, lambda part: part.replace(b'<c r="B2"><v>4</v></c>', b'<c r="B2"><v>4</v></c><c r="B2"><v>9</v></c>')),
        "cell B2 a second time",
    ),
    "size is a lie": (lying_about_size(), "larger than the package says"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_refused_in_one_line(case: str, tmp_path: Path) -> None:
    data, words = REFUSED[case]
    path = tmp_path / "job.xlsx"
    path.write_bytes(data)
    with pytest.raises(InputFileError) as refusal:
        read(path)
    line = str(refusal.value)
    assert words in line and "\n" not in line
    assert line.startswith(str(path)) and line.count(": ") >= 2, "what, where and what to do"
    assert path.read_bytes() == data


def test_no_such_file_and_folder(tmp_path: Path) -> None:
    for path, words in ((tmp_path / "none.xlsx", "no such file"), (tmp_path, "folder"), (tmp_path / "a\0b.xlsx", "cannot be opened")):
        with pytest.raises(InputFileError, match=words):
            read(path)


def test_same_part_twice_is_refused(tmp_path: Path) -> None:
    out = io.BytesIO(PLAIN)
    with zipfile.ZipFile(out, "a") as package, pytest.warns(UserWarning, match="Duplicate name"):
        package.writestr(SHEET_PART, b"<worksheet/>")
    with pytest.raises(InputFileError, match="twice"):
        read_bytes(tmp_path, out.getvalue())


def test_inflation_is_counted_and_stopped(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """24 MB of blanks in a package of a few kilobytes, against a limit of 8 MB."""
    data = bomb()
    assert len(data) < 100_000
    monkeypatch.setattr(guard, "LARGEST_PART", 8 << 20)
    with pytest.raises(InputFileError, match="inflates to more than 8 MB"):
        read_bytes(tmp_path, data)


@pytest.mark.parametrize("declared", [401 << 20, 3 << 30])
def test_a_part_that_is_declared_too_large_is_refused_before_a_byte_of_it_is_inflated(
    declared: int, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """As the archive's directory declares it, whatever the part itself holds."""
    data = bytearray(bomb())
    at = data.rfind(b"PK\x01\x02", 0, data.rfind(SHEET_PART.encode()))
    data[at + 24 : at + 28] = declared.to_bytes(4, "little")
    whole = guard.Package._inflate

    def inflate(self: guard.Package, packed: memoryview, how: int, part: str):
        assert part != SHEET_PART, "inflated all the same"
        return whole(self, packed, how, part)

    monkeypatch.setattr(guard.Package, "_inflate", inflate)
    with pytest.raises(InputFileError, match="inflates to more than 400 MB"):
        read_bytes(tmp_path, bytes(data))


# Each is read, every row accounted for.
READ: dict[str, tuple[bytes, int]] = {
    "prefixed elements": (edited(PLAIN, SHEET_PART, prefixed), 2),
    "prefixed throughout": (edited(PLAIN, SHEET_AND_TEXTS, prefixed), 2),
    "utf-16 sheet": (edited(PLAIN, SHEET_PART, utf16), 2),
    "utf-16 texts": (edited(PLAIN, TEXTS, utf16), 2),
    "latin-1 texts": (edited(PLAIN, TEXTS, lambda part: part.replace(b"UTF-8", b"ISO-8859-1").replace(b"T-1", b"T\xe91")), 2),
    "strict": (edited(PLAIN, r".*\.(xml|rels)", strict), 2),
    "no addresses": (edited(PLAIN, SHEET_PART, without_addresses), 2),
    "no addresses, unknown cell type": (
        edited(edited(PLAIN, SHEET_PART, without_addresses), SHEET_PART, lambda part: part.replace(b"<c><v>480", b'<c t="zzz"><v>480')), 2,
    ),
    "single quotes": (edited(PLAIN, SHEET_PART, lambda part: re.sub(rb' r="([A-Z]+\d+)"', rb" r='\1'", part)), 2),
    "unknown cell type": (edited(PLAIN, SHEET_PART, lambda part: part.replace(b'<c r="D2">', b'<c r="D2" t="zzz">')), 2),
    "wrong dimension": (edited(PLAIN, SHEET_PART, lambda part: part.replace(b'ref="A1:E3"', b'ref="A1:XFD1048576"')), 2),
    "texts miscounted": (edited(PLAIN, TEXTS, lambda part: part.replace(b'uniqueCount="7"', b'uniqueCount="2147483648"')), 2),
    "styles miscounted": (edited(PLAIN, "xl/styles.xml", lambda part: part.replace(b'Xfs count="1"', b'Xfs count="4000000000"')), 2),
    "format far out": (with_row(b'<row r="1048576"><c r="XFD1048576" s="0"/></row>'), 2),
    "stray corner": (with_row(b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>'), 2),
    "stray column": (with_row(b'<row r="4"><c r="XFD4"><v>1</v></c></row>'), 2),
    "stray row": (with_row(b'<row r="1048576"><c r="A1048576" t="inlineStr"><is><t>end</t></is></c></row>'), 2),
    "32,767 characters": (book({"Heaters": [[*HEADINGS, "Notes"], [*GOOD, "x" * 32767], GOOD]}), 2),
    "no styles": (edited(PLAIN, "none", None, drop=["xl/styles.xml"]), 2),
}


@pytest.mark.parametrize("case", READ)
def test_read_and_nothing_lost(case: str, tmp_path: Path) -> None:
    data, banks = READ[case]
    job = read_bytes(tmp_path, data)
    assert len(job.banks) == banks
    assert sum(1 for why in fates(job).values() if not why) == banks
    stray = case.startswith("stray") and case != "stray row"
    assert ("sheet-stray-cell" in codes(job)) is stray
    assert "row-note" in codes(job) if case == "stray row" else not [f for f in job.findings if f.severity == 0]


def test_error_cells_and_formulas_never_calculated_are_seen(tmp_path: Path) -> None:
    rows = [
        HEADINGS,
        ["T-1", F("=1/0", "#DIV/0!"), F("=NA()", "#N/A"), 480, 1],
        ["T-2", F("=2+2"), F("=6+0", 6), 480, 1],
        [F('=""', ""), 4, 6, 480, 1],
        ["T-4", 4, 6, 480, F("=A1<>B1", "#REF!")],
    ]
    job = read_bytes(tmp_path, book({"Heaters": rows}))
    seen = {(finding.code, finding.cell, finding.seen) for finding in job.findings if finding.code.startswith("cell-")}
    assert seen == {
        ("cell-error", "B2", "#DIV/0!"), ("cell-error", "C2", "#N/A"), ("cell-not-calculated", "B3", "=2+2"),
        ("cell-not-calculated", "A4", '=""'), ("cell-error", "E5", "#REF!"),
    }  # fmt: skip
    assert not job.banks
    table = next(table for table in job.received if table.kind == "heaters")
    assert [row.values[1] for row in table.rows] == ["#DIV/0!", "=2+2", 4.0, 4.0]
    assert all(type(value) is str for row in table.rows for value in row.values if isinstance(value, str))


def test_percentages_and_units_shown_by_the_cell_format(tmp_path: Path) -> None:
    projects = [["Project", "Continuous-load margin", "Heat margin (%)", "Ambient"], ["P-1", N(0.3, "0%"), N(20, '0" %"'), N(104, '0"°F"')]]
    heaters = [[*HEADINGS, "Panel-to-heater length"], ["T-1", N(4, '0" ea"'), N(6000, '#,##0" W"'), N(480, "0 \\V"), 1, N(25, '0.0" ft"')]]
    job = read_bytes(tmp_path, book({"Projects": projects, "Heaters": heaters}))
    project, bank = job.projects[0], job.banks[0]
    assert (project.margin_pct, project.heat_margin_pct, project.ambient_c) == (30.0, 20.0, 40.0)
    assert (bank.quantity, bank.power_kw, bank.volts_v, bank.heater_run_m) == (4, 6.0, 480.0, 7.62)


def test_hidden_sheets_are_named(tmp_path: Path) -> None:
    data = book({"Heaters": [HEADINGS, GOOD], "Old": [["x"]]}, hidden=["Old"])
    data = edited(data, "xl/workbook.xml", lambda part: part.replace(b'sheetId="1"', b'sheetId="1" state="veryHidden"'))
    job = read_bytes(tmp_path, data)
    assert [(finding.sheet, finding.message.split("; ")[1]) for finding in said(job, "sheet-hidden")] == [
        ("Heaters", "it is read as Heaters all the same."), ("Old", "it is not read."),
    ]  # fmt: skip
    assert "very hidden" in said(job, "sheet-hidden")[0].message


def test_hidden_rows_are_read_and_named(tmp_path: Path) -> None:
    data = edited(PLAIN, SHEET_PART, lambda part: part.replace(b'<row r="3"', b'<row hidden="1" r="3"'))
    job = read_bytes(tmp_path, data)
    assert len(job.banks) == 2
    assert [finding.message for finding in said(job, "sheet-hidden")] == [
        "Sheet Heaters is partly hidden (row 3); what is hidden is read all the same.",
    ]


def test_opendocument_sheets_are_read_with_a_caution(tmp_path: Path) -> None:
    job = read_bytes(tmp_path, ods(HEADINGS, GOOD), "job.ods")
    assert [(bank.tank, bank.quantity, bank.power_kw) for bank in job.banks] == [("T-1", 4, 6.0)]
    assert "workbook-half-seen" in codes(job) and "workbook-looks-unseen" not in codes(job)  # what is struck there is seen


def test_a_breakdown_of_the_native_reader_stays_apart(tmp_path: Path) -> None:
    """Content repeated over 2 million rows and 16,000 columns takes all memory: the child goes down or says no, we go on."""
    cell = b'<table:table-cell table:number-columns-repeated="16000" office:value-type="string"><text:p>x</text:p></table:table-cell>'
    big = b'<table:table-row table:number-rows-repeated="2000000">' + cell + b"</table:table-row>"
    data = edited(ods(HEADINGS, GOOD), "content.xml", lambda part: part.replace(b"</table:table>", big + b"</table:table>"))
    with pytest.raises(InputFileError):
        read_bytes(tmp_path, data, "job.ods")


def test_scan_gives_the_same_whatever_the_chunks() -> None:
    rows = [["x", F("=1/0", "#DIV/0!"), F("=1+1")], *[[n, n / 7, "t"] for n in range(200)]]
    with zipfile.ZipFile(io.BytesIO(book({"A": rows}))) as package:
        part = package.read(SHEET_PART)
    whole = scan([part], {})
    for size in (7, 64, 1000):
        pieces = [part[start : start + size] for start in range(0, len(part), size)]
        assert (scan(pieces, {}).errors, scan(pieces, {}).uncalculated) == (whole.errors, whole.uncalculated) != ({}, {})
        assert filled(pieces) == filled([part]) == (list(range(1, 202)), [1, 2, 3])


@pytest.mark.parametrize(
    "part",
    [b"<c " * 300_000, b'<c t="e"/>' * 200_000, b'<c r="A1" t="e">' * 100_000, b"<c><f>" * 200_000, b' r="' * 500_000, b"<row " * 300_000,
     b' r = "A1"' + b" " * 2_000_000, b"<c r='" + b"A" * 2_000_000, b"<" * 2_000_000],
    ids=range(9),
)  # fmt: skip
def test_looking_through_nonsense_comes_to_an_end(part: bytes) -> None:
    """A pattern that tries again from every byte would not come back from two megabytes of these in a working day."""
    seen = scan([part], {b"1": "%"})
    assert (seen.uncalculated, seen.units, seen.hidden_rows) == ({}, {}, [])
    assert len(seen.errors) <= 1 and seen.size == len(part)
    assert filled([part]) in (None, ([], []), ([1], [1]))


def test_long_prose_in_number_cells_is_no_number(tmp_path: Path) -> None:
    rows = [["T-1", "4" + " " * 30_000 + "x", "6 kW" + " " * 30_000 + "?", "9" * 30_000, "1" + "," * 30_000]]
    assert len(said(read_bytes(tmp_path, book({"Heaters": [HEADINGS, *rows]})), "cell-not-number")) == 4


def test_two_sheets_of_one_name_are_refused(tmp_path: Path) -> None:
    data = book({"Heaters": [HEADINGS, GOOD], "Other": [["x"]]})
    data = edited(data, "xl/workbook.xml", lambda part: part.replace(b'"Other"', b'"heaters"'))
    with pytest.raises(InputFileError, match="same name"):
        read_bytes(tmp_path, data)


@given(st.binary(max_size=300))
def test_no_bytes_are_a_crash(data: bytes) -> None:
    try:
        assemble(open_workbook(data, "any"), "any", "")
    except InputFileError as refusal:
        assert "\n" not in str(refusal)


@given(st.integers(min_value=0), st.binary(min_size=1, max_size=4))
def test_no_change_of_a_good_file_is_a_crash(at: int, change: bytes) -> None:
    """A few bytes of a sound package overwritten anywhere: refused in one line, or read with every row accounted for."""
    at %= len(PLAIN)
    data = PLAIN[:at] + change + PLAIN[at + len(change) :]
    try:
        job = assemble(open_workbook(data, "any"), "any", "")
    except InputFileError as refusal:
        assert "\n" not in str(refusal)
    else:
        assert len(job.banks) == sum(1 for why in fates(job).values() if not why)


PARTS = [SHEET_PART, TEXTS, "xl/workbook.xml", "xl/styles.xml", "xl/_rels/workbook.xml.rels"]


@given(st.sampled_from(PARTS), st.integers(min_value=0), st.binary(max_size=6))
def test_no_change_inside_a_part_is_a_crash(name: str, at: int, change: bytes) -> None:
    """The same inside a part, with its checksum set right: what a careless or an evil program would write."""
    with zipfile.ZipFile(io.BytesIO(PLAIN)) as package:
        part = package.read(name)
    at %= len(part)
    assume(part[at : at + len(change)] != change)
    data = edited(PLAIN, re.escape(name), lambda part: part[:at] + change + part[at + len(change) :])
    try:
        job = assemble(open_workbook(data, "any"), "any", "")
    except InputFileError as refusal:
        assert "\n" not in str(refusal)
    else:
        assert len(job.banks) == sum(1 for why in fates(job).values() if not why)


def test_thousands_of_equal_faults_are_counted_and_every_row_keeps_its_reason(tmp_path: Path) -> None:
    rows = [[f"T-{n}", 4, "plenty", 480, 1] for n in range(6000)]
    job = read_bytes(tmp_path, book({"Heaters": [HEADINGS, *rows]}))
    assert len(said(job, "cell-not-number")) == 5000
    assert said(job, "more-of-a-kind")[0].message.startswith("Sheet Heaters: 1000 more findings")
    assert set(fates(job).values()) == {"Power: not a number"} and len(fates(job)) == 6000


def test_rows_of_a_job_have_no_limit_and_rows_of_rubbish_have(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """What is counted is what says nothing of a job: rows that cannot be read, over all sheets, and rows in no form of ours."""
    monkeypatch.setattr("batch.intake.unread_rows.MOST_UNREAD", 100)
    good = [[f"T-{at}", *GOOD[1:]] for at in range(400)]
    assert len(read_bytes(tmp_path, book({"Heaters": [HEADINGS, *good], "Other": [["x"]] * 60})).banks) == 400
    bad = [[f"T-{at}", *GOOD[1:2], "plenty", *GOOD[3:]] for at in range(60)]
    tanks = [["Tank", "Liquid"], *[[None, "water"]] * 60]
    assert len(read_bytes(tmp_path, book({"Heaters": [HEADINGS, *good, *bad]})).banks) == 400
    with pytest.raises(InputFileError, match="more than 100 rows, up to sheet Heaters, hold something that is no row of a job: take"):
        read_bytes(tmp_path, book({"Heaters": [HEADINGS, *good, *bad, *bad]}))
    with pytest.raises(InputFileError, match=r"more than 100 rows, up to sheet (Tanks|Heaters), hold something that is no row"):
        read_bytes(tmp_path, book({"Tanks": tanks, "Heaters": [HEADINGS, *good, *bad]}))
    with pytest.raises(InputFileError, match=r"more than 100 rows, up to sheet Other, are in no form of ours: copy the rows of heaters"):
        read_bytes(tmp_path, book({"Heaters": [HEADINGS, *good], "Other": [["x"]] * 101}))
    with pytest.raises(InputFileError, match=r"more than 100 rows, up to sheet Tanks, are in no form of ours"):
        read_bytes(tmp_path, book({"Tanks": [["Tank No.", "kW"], *[[f"T-{at}", 6] for at in range(101)]]}))


def test_many_sheets_and_many_things_in_a_list_are_refused(tmp_path: Path) -> None:
    def more(count: int) -> bytes:
        sheet = '<sheet name="n{0}" sheetId="{0}" r:id="rId1"/>'
        extra = "".join(sheet.format(number) for number in range(5, 5 + count)).encode()
        return edited(PLAIN, "xl/workbook.xml", lambda part: part.replace(b"</sheets>", extra + b"</sheets>"))

    with pytest.raises(InputFileError, match="sheets are more than can be read"):
        read_bytes(tmp_path, more(1000))
    with pytest.raises(InputFileError, match="lists more than 100,000 things"):
        read_bytes(tmp_path, more(100_001))


def test_a_stray_cell_far_down_does_not_make_a_million_rows(tmp_path: Path) -> None:
    data = with_row(b'<row r="1048576"><c r="B1048576" t="e"><v>#N/A</v></c></row>')
    job = read_bytes(tmp_path, data)
    assert [bank.origin.row for bank in job.banks] == [2, 3]
    assert fates(job)[1048576] and said(job, "cell-error")[0].cell == "B1048576"
    assert "sheet-other-reader" in codes(job)


def test_dates_counted_from_1904_are_the_dates_that_a_person_sees(tmp_path: Path) -> None:
    """Serial 43956 is 2024-05-06 in that system: 1462 days before the other's 45418 (ECMA-376 Part 1, 18.17.4.1)."""
    data = book({"Projects": [["Project", "Date"], ["P-1", N(43956, "yyyy-mm-dd")]], "Heaters": [HEADINGS, GOOD]})
    data = edited(data, "xl/workbook.xml", lambda part: part.replace(b"<workbookPr ", b'<workbookPr date1904="1" '))
    assert read_bytes(tmp_path, data).projects[0].date == "2024-05-06"


def test_what_looks_like_a_formula_or_a_link_stays_text(tmp_path: Path) -> None:
    texts = ["=1+1", "+1", "@SUM(A1)", "http://example.invalid/a", "\\\\server\\share", "-2+3", "\t=1"]
    job = read_bytes(tmp_path, book({"Heaters": [[*HEADINGS, "Notes"], *[[f"T-{at}", *GOOD[1:], text] for at, text in enumerate(texts)]]}))
    assert [bank.notes for bank in job.banks] == [text.strip() for text in texts]


def test_parts_by_unusual_names(tmp_path: Path) -> None:
    moved = {SHEET_PART: "odd folder/Tabelle.bin.xml", TEXTS: "odd folder/words.xml"}
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(PLAIN)) as before, zipfile.ZipFile(out, "w") as after:
        for name in before.namelist():
            content = before.read(name)
            if name.endswith((".rels", "[Content_Types].xml")):
                for old, new in moved.items():
                    content = content.replace(f'"/{old}"'.encode(), f'"/{new}"'.encode())
                    content = content.replace(f'"{old.removeprefix("xl/")}"'.encode(), f'"/{new}"'.encode())
            after.writestr(moved.get(name, name), content)
    assert len(read_bytes(tmp_path, out.getvalue()).banks) == 2
