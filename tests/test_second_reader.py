"""A second spreadsheet program, Gnumeric, opens a results workbook, works every formula out anew, and comes to what is stored."""

from __future__ import annotations

import re
import shutil
import subprocess
from functools import cache
from pathlib import Path

import openpyxl
import pytest
from openpyxl.utils import get_column_letter

from batch.schedules import RESULTS
from batch.writing.as_sized import extended
from batch.writing.styles import EDITED
from tests.recalculation import same
from tests.sample_results import SMALL, opened, opened_values, sized
from tests.workbook_edits import typed

BANKS = next(sheet for sheet in RESULTS if sheet.id == "banks")
# Gnumeric has no SUBTOTAL that leaves out rows hidden by hand (1.12: its help lists functions 1 to 11 only), so a total is no figure there.
TOTAL = re.compile(r"=SUBTOTAL\(10([49]),([A-Z]+)(\d+):[A-Z]+(\d+)\)")

pytestmark = pytest.mark.skipif(shutil.which("ssconvert") is None, reason="Gnumeric (ssconvert) is not installed: no second reader")


def read_by_gnumeric(book: Path, folder: Path) -> openpyxl.Workbook:
    """The workbook as Gnumeric has it, every formula worked out anew."""
    target = folder / f"{book.stem} by another.xlsx"
    subprocess.run(["ssconvert", "--recalc", str(book), str(target)], check=True, capture_output=True, timeout=120)
    return openpyxl.load_workbook(target, data_only=True)


@cache
def cell_of_first_bank(key: str) -> str:
    return f"{get_column_letter([column.key for column in extended(BANKS).columns].index(key) + 1)}6"


def test_it_comes_to_what_is_stored(tmp_path: Path) -> None:
    theirs, formulas, stored = read_by_gnumeric(sized(SMALL).path, tmp_path), opened(SMALL), opened_values(SMALL)
    assert theirs.sheetnames == formulas.sheetnames
    count, totals, wrong = 0, 0, []
    for sheet in formulas.worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                before, after = stored[sheet.title][cell.coordinate].value, theirs[sheet.title][cell.coordinate].value
                total = TOTAL.fullmatch(str(cell.value)) if cell.data_type == "f" else None
                if total and after == "#NUM!":  # its own figures of the column, put together here
                    what, letters, first, last = total.groups()
                    column = theirs[sheet.title][f"{letters}{first}:{letters}{last}"]
                    figures = [found.value for [found] in column if isinstance(found.value, (int, float))]
                    after = sum(figures) if what == "9" else max(figures, default=0)
                    totals += 1
                count += cell.data_type == "f"
                if not same(before, after):
                    wrong.append(f"{sheet.title}!{cell.coordinate}: stored {before!r}, there {after!r}: {cell.value}")
    assert wrong == []
    assert count > 400 and totals > 10


def test_an_edit_goes_through_the_formulas_there_too(tmp_path: Path) -> None:
    """6 kW at 480 V is 12.5 A; 9 kW is 18.75 A, with 25 % 23.4 A, so 25 A, and the row says that it was edited."""
    edited = typed(sized(SMALL).path, tmp_path / "edited.xlsx", {"Banks": {cell_of_first_bank("power_kw"): 9}})
    banks = read_by_gnumeric(edited, tmp_path)["Banks"]
    assert opened_values(SMALL)["Banks"][cell_of_first_bank("heater_a")].value == 12.5
    assert banks[cell_of_first_bank("heater_a")].value == pytest.approx(18.75, rel=1e-9)
    assert banks[cell_of_first_bank("rating_a")].value == 25
    assert banks[cell_of_first_bank("edited")].value == EDITED

