"""Ways through the money: what each leads to is worked out by LibreOffice, and told from the words of both rows, never from the numbers by
which a way finds its row.
"""

from __future__ import annotations

import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path

import openpyxl
import pytest
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

import batch
from batch.schedules import RESULTS
from batch.schedules.price_view_list import NO_FEEDER, NO_TANK
from batch.schedules.ways import SEE
from batch.writing.as_sized import extended
from batch.writing.placed import DATA
from tests.make_samples import HERE
from tests.recalculation import needs_office, recalculated
from tests.sample_results import FINDINGS, PLANT, SMALL, opened, opened_values

SHEETS = {sheet.name: extended(sheet) for sheet in RESULTS}
WAYS = {(name, column.key) for name, sheet in SHEETS.items() for column in sheet.columns if column.leads}
Row = Mapping[str, object]


def read(sheet: Worksheet, row: int) -> dict[str, object]:
    return {column.key: cell.value for column, cell in zip(SHEETS[sheet.title].columns, sheet[row], strict=True)}


def as_addresses(path: Path, folder: Path) -> Path:
    """The workbook with the address that each way leads to in the place of its word: IF(1, address, word)."""
    made = folder / "addresses.xlsx"
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.infolist():
            data = old.read(part)
            new.writestr(part, data.replace(b"HYPERLINK(", b"IF(1,") if part.filename.startswith("xl/worksheets/") else data)
    return recalculated(made, folder)


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> tuple[Workbook, Workbook]:
    """The small sample's results as written, and with addresses."""
    folder = tmp_path_factory.mktemp("ways")
    batch.size(HERE / SMALL, folder / "as.xlsx")
    made = as_addresses(folder / "as.xlsx", folder)
    return openpyxl.load_workbook(folder / "as.xlsx", data_only=True), openpyxl.load_workbook(made, data_only=True)


def alike(*keys: str) -> Callable[[Row, Row], bool]:
    return lambda one, other: all((one[key] or "") == (other[key] or "") for key in keys)


def same_part(one: Row, other: Row) -> bool:
    """A line and its place on Buy list: one part; without one the same words. Its unit always."""
    told = one["part"] == other["part"] if one["part"] or other["part"] else one["words"] == other["words"]
    return told and one["unit"] == other["unit"]


def bears(line: Row, atom: Row) -> bool:
    if line["bank"]:
        return alike("project", "tank", "bank")(line, atom)
    if line["tank"]:
        return atom["kind"] == "tank" and alike("project", "tank")(line, atom)
    kind = "feeder" if line["feeder"] else "project"
    return atom["kind"] == kind and (line["project"] or "") == (atom["project"] or "") and (line["feeder"] or "") == (atom["feeder"] or "")


def flip(told: Callable[[Row, Row], bool]) -> Callable[[Row, Row], bool]:
    return lambda one, other: told(other, one)


def _nameless(view: Row, atom: Row) -> str:
    """What the view is called that holds rows of no tank, or of no feeder."""
    tank = view["kind"] == "by tank"
    return (NO_TANK if tank else NO_FEEDER) if not atom["tank" if tank else "feeder"] else ""


OF_BANK = alike("project", "tank", "bank")
TOLD: dict[tuple[str, str, str], Callable[[Row, Row], bool]] = {  # sheet, way and the sheet it leads to: what both rows have in common
    ("Materials", "to_part", "Buy list"): same_part,
    ("Runs", "to_part", "Buy list"): same_part,
    ("Buy list", "to_lines", "Materials"): flip(same_part),
    ("Buy list", "to_lines", "Runs"): flip(same_part),
    ("Materials", "to_bearer", "Prices"): bears,
    ("Materials", "to_bearer", "Builds"): lambda line, build: line["used_for"] == build["build"],
    ("Runs", "to_bearer", "Prices"): bears,
    ("Runs", "to_circuits", "Circuits"): OF_BANK,
    ("Runs", "to_circuits", "Feeders"): alike("project", "feeder"),
    ("Circuits", "to_runs", "Runs"): OF_BANK,
    ("Banks", "to_price", "Prices"): OF_BANK,
    ("Feeders", "to_price", "Prices"): lambda row, atom: atom["kind"] == "feeder" and alike("project", "feeder")(row, atom),
    ("Panels", "to_bill", "Materials"): lambda panel, line: panel["type"] == line["used_for"],
    ("Panel types", "to_bill", "Materials"): lambda kind, line: kind["type"] == line["used_for"],
    ("Prices", "to_bank", "Banks"): OF_BANK,
    ("Prices", "to_feeder", "Feeders"): alike("project", "feeder"),
    ("Prices", "to_builds", "Builds"): OF_BANK,
    ("Prices", "to_lines", "Materials"): flip(bears),
    ("Prices", "to_runs", "Runs"): flip(bears),
    ("Price views", "to_rows", "Prices"): lambda view, atom: view["name"] in (atom["tank"], atom["feeder"], _nameless(view, atom)),
    ("Price views", "to_bill", "Materials"): lambda view, line: view["name"] == line["used_for"],
    ("Builds", "to_bearer", "Prices"): OF_BANK,
    ("Builds", "to_bill", "Materials"): lambda build, line: build["build"] == line["used_for"],
    ("Builds", "to_panels", "Panels"): OF_BANK,
    ("Builds", "to_circuits", "Circuits"): OF_BANK,
}  # fmt: skip


@needs_office
def test_each_way_leads_to_a_row_of_what_its_own_row_is_about(books: tuple[Workbook, Workbook]) -> None:
    written, addresses = books
    led: dict[tuple[str, str, str], int] = {}
    for name, key in sorted(WAYS):
        for at in range(DATA + 1, written[name].max_row + 1):
            there = read(addresses[name], at)[key]
            assert (there is not None) == (read(written[name], at)[key] == SEE), (name, key, at)
            if there is None:
                continue
            tab, _, cell = str(there).removeprefix("#").rpartition("!")
            tab = tab.strip("'")
            assert tab, (name, key, at, there)
            row = addresses[tab][cell].row
            assert row > DATA, (name, key, at, there)
            assert TOLD[name, key, tab](read(written[name], at), read(written[tab], row)), (name, key, at, there)
            led[name, key, tab] = led.get((name, key, tab), 0) + 1
    assert led.keys() == TOLD.keys()


@needs_office
def test_no_line_part_bank_panel_circuit_or_feeder_is_without_its_way(books: tuple[Workbook, Workbook]) -> None:
    written, _ = books
    always = {
        "Buy list": ("to_lines",), "Runs": ("to_part", "to_bearer", "to_circuits"), "Banks": ("to_price",), "Panels": ("to_bill",),
        "Panel types": ("to_bill",), "Circuits": ("to_runs",), "Feeders": ("to_price",), "Builds": ("to_bearer", "to_bill"),
        "Materials": ("to_bearer",),
    }  # fmt: skip
    for name, keys in always.items():
        rows = [read(written[name], at) for at in range(DATA + 1, written[name].max_row + 1)]
        assert rows and all(row[key] == SEE for row in rows for key in keys), name
    lines = [read(written["Materials"], at) for at in range(DATA + 1, written["Materials"].max_row + 1)]
    assert {line["sort"] for line in lines if line["to_part"] != SEE} <= {"activity", "other cost", "per cent"}
    assert any(line["to_part"] == SEE for line in lines)


def test_a_way_to_a_sheet_that_is_not_there_is_left_out() -> None:
    """The plant comes without a word of money: it has no sheet Prices, Builds or Buy list."""
    book, gone = opened(PLANT), 0
    assert book.sheetnames and not {"Prices", "Builds", "Buy list"} & {*book.sheetnames}
    for name, key in sorted(WAYS):
        if name in book.sheetnames and all(tab not in book.sheetnames for of, way, tab in TOLD if (of, way) == (name, key)):
            gone += 1
            at = next(at for at, column in enumerate(SHEETS[name].columns, 1) if column.key == key)
            assert all(book[name].cell(row, at).value is None for row in range(DATA + 1, min(book[name].max_row, 40) + 1)), (name, key)
    assert gone >= 5


def test_circuits_lead_to_runs_where_their_bank_has_any() -> None:
    """Of wires beyond the table of sizes no run is listed."""
    book = opened_values(FINDINGS)
    rows = {name: [read(book[name], at) for at in range(DATA + 1, book[name].max_row + 1)] for name in ("Circuits", "Runs")}
    laid = {(row["project"], row["tank"], row["bank"]) for row in rows["Runs"]}
    seen = {(row["project"], row["tank"], row["bank"]): row["to_runs"] for row in rows["Circuits"]}
    assert {bank for bank, word in seen.items() if word == SEE} == laid & seen.keys()
    assert seen.keys() - laid
