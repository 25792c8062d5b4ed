"""Each kind of finding that reading can give is provoked by a workbook, and says where it stands."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from batch.findings import CATALOGUE, Effect, Severity
from batch.findings.reading import READING
from batch.findings.reading_lists import LISTS
from tests.intake_book import GOOD, HEADINGS, SHEET_PART, F, book, edited, fates, ods, read_bytes, said
from tests.lists.score import HERE

PROJECTS = ["Project", "Code basis", "Ambient (°C)"]
FEEDERS = ["Project", "Feeder", "Volts", "Phases", "Wires", "System"]
TANKS = ["Project", "Tank", "Operating temperature (°C)"]
WIDE = ["Project", *HEADINGS, "Feeder"]
STOCK = ["Part", "Kind", "Rating (A)"]


def list_of(*rows: list, headings: list = HEADINGS) -> bytes:
    return book({"Heaters": [headings, *rows]})


def with_cell(column: int, value: object, **more: list) -> bytes:
    """One good row, one with another value in a column."""
    other = ["T-2", *GOOD[1:]]
    other[column] = value
    return book({"Heaters": [HEADINGS, GOOD, other], **more})


def projects(rows: list, feeders: list = (), tanks: list = (), heaters: list = ()) -> bytes:
    sheets = {"Projects": [PROJECTS, *rows], "Feeders": [FEEDERS, *feeders], "Tanks": [TANKS, *tanks], "Heaters": [WIDE, *heaters]}
    return book({name: some for name, some in sheets.items() if len(some) > 1 or name == "Heaters"})


def with_sources(rows: list) -> bytes:
    sources = [["Project", "Source", "kVA", "Volts", "Phases"], *rows]
    return book({"Projects": [PROJECTS, ["P-1"]], "Sources": sources, "Heaters": [WIDE, wide("P-1")]})


def wide(project: object, tank: object = "T-1", feeder: object = None) -> list:
    return [project, tank, 4, 6, 480, 1, feeder]


FAR = b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'


def in_utf16(part: bytes) -> bytes:
    return part.replace(b'encoding="UTF-8"', b'encoding="UTF-16"').decode().encode("utf-16")


def with_macros() -> bytes:
    import io
    import zipfile

    out = io.BytesIO(list_of(GOOD))
    with zipfile.ZipFile(out, "a") as package:
        package.writestr("xl/vbaProject.bin", b"no macro at all, only its name")
    return out.getvalue()


def merged(cells: str, *rows: list) -> bytes:
    tail = f'</sheetData><mergeCells count="1"><mergeCell ref="{cells}"/></mergeCells>'.encode()
    return edited(list_of(*rows), SHEET_PART, lambda part: part.replace(b"</sheetData>", tail))


# code -> (workbook, cell address in the user's workbook, "" where the finding is of a sheet or the file)
PROVOKED: dict[str, tuple[bytes, str]] = {
    "sheet-heaters-missing": (book({"Prices": [["Part", "Price"], ["fuse", 2]]}), ""),
    "sheet-no-heaters": (list_of(), ""),
    "sheet-repeated": (book({"Heaters": [HEADINGS, GOOD], "Heater list": [HEADINGS, GOOD]}), ""),
    "sheet-stray-cell": (edited(list_of(GOOD), SHEET_PART, lambda part: part.replace(b"</sheetData>", FAR)), ""),
    "sheet-taken": (book({"Sheet1": [HEADINGS, GOOD]}), ""),
    "sheet-not-recognised": (book({"Heaters": [HEADINGS, GOOD], "Cover": [["hello"]]}), ""),
    "sheet-missing": (list_of(GOOD), ""),
    "sheet-hidden": (book({"Heaters": [HEADINGS, GOOD], "Old": [["x"]]}, hidden=["Old"]), ""),
    "sheet-other-reader": (
        edited(list_of(GOOD), SHEET_PART, in_utf16), "",
    ),
    "workbook-macros": (with_macros(), ""),
    "workbook-half-seen": (ods(HEADINGS, GOOD), ""),
    "workbook-looks-unseen": (  # without the records that say in which font a cell is
        (HERE / "opened" / "86-lista-resistencias.xls").read_bytes().replace(b"\xe0\0\x14\0", b"\xe1\0\x14\0"), "",
    ),
    "headings-not-found": (book({"Heaters": [HEADINGS, GOOD], "Tanks": [["one", "two"], [1, 2]]}), ""),
    "heading-missing": (list_of(["T-1", 4, 480, 1], headings=["Tank", "Quantity", "Volts", "Phases"]), "A1"),
    "headings-change": (list_of(GOOD, ["Feeder", "Volts", "Phases"], ["F-1", 480, 3]), "A3"),
    "headings-anew": (list_of(GOOD, ["Tank", "Power", "Quantity", "Volts", "Phases"], ["T-2", 6, 4, 480, 1]), "A3"),
    "rows-above": (book({"Heaters": [["as agreed on the phone"], [], HEADINGS, GOOD]}), "A1"),
    "tables-side-by-side": (list_of([*GOOD, None, "T-2", *GOOD[1:]], headings=[*HEADINGS, None, *HEADINGS]), ""),
    "heading-near": (list_of([*GOOD, "A-B"], headings=[*HEADINGS, "Phaze pair"]), "F1"),
    "heading-repeated": (list_of([*GOOD, 480], headings=[*HEADINGS, "Volts (V)"]), "F1"),
    "heading-passed-over": (list_of([*GOOD, 9], headings=[*HEADINGS, "Rating"]), "F1"),
    "extra-heading-kept": (list_of([*GOOD, "blue"], headings=[*HEADINGS, "Colour"]), "F1"),
    "unit-unknown-heading": (list_of(GOOD, headings=["Tank", "Quantity", "Power (total)", "Volts", "Phases"]), "C1"),
    "unit-unknown": (with_cell(2, "6 bananas"), "C3"),
    "unit-assumed": (list_of(GOOD, headings=["Tank", "Quantity", "Power", "Volts", "Phases"]), "A1"),
    "cell-missing": (with_cell(3, None), "D3"),
    "cell-placeholder": (with_cell(2, "TBD"), "C3"),
    "cell-error": (with_cell(3, F("=1/0", "#DIV/0!")), "D3"),
    "cell-not-calculated": (with_cell(1, F("=2+2")), "B3"),
    "cell-not-number": (with_cell(2, "plenty"), "C3"),
    "cell-letter-in-number": (with_cell(2, "1O"), "C3"),
    "cell-ambiguous": (with_cell(2, "1,250"), "C3"),
    "tags-in-one-cell": (with_cell(0, "1A to 3A"), "A3"),
    "tag-of-several": (with_cell(0, "T-2 & T-3"), "A3"),
    "cell-read-as": (with_cell(2, "4 x 6 kW"), "C3"),
    "decimal-mark-learned": (list_of([*GOOD[:2], "1,250 W", *GOOD[3:]], ["T-2", 4, "2.5 kW", *GOOD[3:]]), "C2"),
    "cells-merged": (merged("A2:A3", [*GOOD], [None, 2, 3, 480, 1]), "A2"),
    "cell-negative": (with_cell(2, -6), "C3"),
    "cell-zero": (with_cell(1, 0), "B3"),
    "cell-out-of-range": (with_cell(2, 1001), "C3"),
    "cell-not-whole": (with_cell(1, 2.5), "B3"),
    "cell-not-allowed": (with_cell(4, 2), "E3"),
    "cell-choice-unknown": (
        projects([["P-1"]], feeders=[["P-1", "F-1", 480, 3, None, "zigzag"]], heaters=[wide("P-1", feeder="F-1")]), "F2",  # of a setting
    ),
    "cell-taken-as-blank": (list_of([*GOOD, "zigzag"], headings=[*HEADINGS, "Connection"]), "F2"),
    "setting-taken-as-blank": (book({"Projects": [["Project", "Heat margin (%)"], ["P-1", 200]], "Heaters": [WIDE, wide("P-1")]}), "B2"),
    "bath-unlikely": (projects([["P-1"]], tanks=[["P-1", "T-1", "65 °F"]], heaters=[wide("P-1")]), "C2"),
    "cell-volts-pair": (with_cell(3, "480Y/277"), "D3"),
    "cell-contradicts": (list_of([*GOOD, 240], headings=[*HEADINGS, "Volts (V)"]), "D2"),
    "cell-set-aside": (list_of([*GOOD, "long"], headings=[*HEADINGS, "Heated length (mm)"]), "F2"),
    "tag-is-date": (with_cell(0, date(2024, 4, 3)), "A3"),
    "power-unlikely": (with_cell(2, "6 W"), "C3"),
    "quantity-numbered": (
        list_of(*[[f"T-{n}", n, 6, 480, 1] for n in (1, 2, 3)], headings=["Tank", "Heaters", "Power", "Volts", "Phases"]), "B1",
    ),
    "volts-pair-wires": (projects([["P-1"]], feeders=[["P-1", "F-1", "480Y/277", 3, 3]], heaters=[wide("P-1", feeder="F-1")]), "C2"),
    "cell-placeholder-blank": (list_of([*GOOD, "n/a"], headings=[*HEADINGS, "Feeder"]), "F2"),
    "volts-pair-read": (projects([["P-1"]], feeders=[["P-1", "F-1", "480Y/277", 3]], heaters=[wide("P-1", feeder="F-1")]), "C2"),
    "row-note": (list_of(GOOD, ["heaters of line 2 follow next week"]), "A3"),
    "row-total": (list_of(GOOD, ["Total", 4, 24]), "A3"),
    "row-headings-again": (list_of(GOOD, HEADINGS, ["T-2", *GOOD[1:]]), "A3"),
    "rows-counted": (list_of([1, *GOOD[1:]], [2, *GOOD[1:]], [3], [4]), "A4"),
    "rows-empty": (list_of([*GOOD, 1], [None, None, None, None, None, 2], headings=[*HEADINGS, "Pos"]), "A3"),
    "project-blank": (projects([["P-1"], ["P-2"]], heaters=[wide(None)]), "A2"),
    "project-unknown": (projects([["P-1"]], heaters=[wide("P-9")]), "A2"),
    "project-not-read": (projects([["P-1", None, "warm"]], heaters=[wide("P-1")]), "A2"),
    "feeder-not-read": (projects([["P-1"]], feeders=[["P-1", "F-1", "48O", 3]], heaters=[wide("P-1", feeder="F-1")]), "G2"),
    "feeder-contradicts": (projects([["P-1"]], feeders=[["P-1", "F-1", 480, 3], ["P-1", "f-1", 240, 3]], heaters=[wide("P-1")]), "B2"),
    "feeder-repeated": (projects([["P-1"]], feeders=[["P-1", "F-1", 480, 3], ["P-1", "f-1", 480, 3]], heaters=[wide("P-1")]), "B2"),
    "project-repeated": (projects([["P-1"], ["p-1"]], heaters=[wide("P-1")]), "A2"),
    "source-repeated": (with_sources([["P-1", "TX-1", 500, 480, 3], ["P-1", "tx-1", 75, 480, 3]]), "B2"),
    "tank-repeated": (projects([["P-1"]], tanks=[["P-1", "T-1", 60], ["P-1", "t-1", 60]], heaters=[wide("P-1")]), "B2"),
    "part-repeated": (book({"Heaters": [HEADINGS, GOOD], "Stock": [STOCK, ["CC-20", "fuse", 20], ["CC-20", "fuse", 20]]}), "A2"),
    "heater-without-tank": (projects([["P-1"]], tanks=[["P-1", "T-9", 60]], heaters=[wide("P-1")]), "B2"),
    "tank-not-read": (projects([["P-1"]], tanks=[["P-1", "T-1", "65 °F"]], heaters=[wide("P-1")]), "B2"),
    "tank-without-heaters": (projects([["P-1"]], tanks=[["P-1", "T-1", 60], ["P-1", "T-2", 60]], heaters=[wide("P-1")]), "B3"),
    "project-implicit": (list_of(GOOD), ""),
    "name-near": (projects([["P-1"]], feeders=[["P-1", "F1", 480, 3]], heaters=[wide("P-1", feeder="F 1")]), "G2"),
    "name-respelt": (projects([["P-1"]], heaters=[wide("p-1")]), "A2"),
}


WITH_A_MAP = {"map-used"}  # provoked in test_mapping.py
OF_A_FIRM = {"stock-of-firm", "stock-of-job-first", "words-of-firm"}  # test_firm_folder
OF_TEXT = {"text-table", "text-letters-unsure", "text-quotes-unsure", "text-by-position", "sheet-parted"}  # provoked by texts
OF_AN_OPTION = {"code-basis-asked"}  # test_own_rule_sets
OF_MANY = {"more-of-a-kind", "job-divided", "job-not-divided"}  # by thousands of rows, in test_intake_hostile.py; in test_job_sections.py


def test_every_kind_has_a_workbook_that_provokes_it() -> None:
    elsewhere = WITH_A_MAP | OF_MANY | OF_TEXT | OF_A_FIRM | OF_AN_OPTION
    assert {kind.code for kind in READING} - {kind.code for kind in LISTS} == set(PROVOKED) | elsewhere


@pytest.mark.parametrize("code", PROVOKED)
def test_workbook_provokes_its_kind(code: str, tmp_path: Path) -> None:
    data, cell = PROVOKED[code]
    job = read_bytes(tmp_path, data)
    found = said(job, code)
    assert found, f"{code} not among {sorted({finding.code for finding in job.findings})}"
    assert found[0].cell == cell
    assert "{" not in found[0].message and found[0].kind.basis and found[0].kind.advice
    assert not said(read_bytes(tmp_path, SOUND), code)


SOUND = book({
    "Projects": [["Project"], ["P-1"]],
    "Feeders": [["Project", "Feeder", "Volts", "Phases"], ["P-1", "F-1", 480, 3]],
    "Tanks": [["Project", "Tank", "Operating temperature (°C)"], ["P-1", "T-1", 60]],
    "Heaters": [["Project", "Tank", "Feeder", "Quantity", "Power (kW)", "Volts", "Phases"], ["P-1", "T-1", "F-1", 4, 6, 480, 1]],
    "Stock": [["Part", "Kind", "Rating (A)"], ["CC-20", "fuse", 20]],
})  # fmt: skip


def test_a_sound_workbook_has_nothing_said_about_it(tmp_path: Path) -> None:
    job = read_bytes(tmp_path, SOUND)
    assert job.findings == ()
    assert (len(job.projects), len(job.feeders), len(job.tanks), len(job.banks), len(job.stock)) == (1, 1, 1, 1, 1)


OF_CELLS = [kind.code for kind in READING if kind not in LISTS
            and kind.effect is Effect.NOT_SIZED and kind.code.startswith(("cell-", "unit-"))
            and kind.code != "cell-choice-unknown"]  # heater rows have no choice that they need: there it is set aside


@pytest.mark.parametrize("code", OF_CELLS)
def test_a_blocker_of_a_cell_refuses_its_row_and_no_other(code: str, tmp_path: Path) -> None:
    data, _ = PROVOKED[code]
    job = read_bytes(tmp_path, data)
    finding = said(job, code)[0]
    refused = {row for row, why in fates(job).items() if why}
    kept = {row for row, why in fates(job).items() if not why}
    row = int("".join(mark for mark in finding.cell if mark.isdigit()))
    assert refused == ({2} if row == 1 else {row})
    assert {bank.origin.row for bank in job.banks} == kept


def test_reading_says_blockers_only_of_rows_that_are_not_sized() -> None:
    for kind in READING:
        assert (kind.effect is Effect.NOT_SIZED) == (kind.severity is Severity.HOLD)
        assert CATALOGUE[kind.code] is kind
