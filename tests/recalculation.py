"""Has LibreOffice work out every formula anew and compares with the stored values.

LibreOffice keeps stored values unless told otherwise, so a plain conversion proves nothing: a private profile sets OOXMLRecalcMode to 0
(always), as its registry schema officecfg/registry/schema/org/openoffice/Office/Calc.xcs names it.
"""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path

import openpyxl
import pytest

ALWAYS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>"""
CLOSE = 1e-9

WITHOUT = "LibreOffice (soffice) is not installed, so nothing can recalculate"
needs_office = pytest.mark.skipif(shutil.which("soffice") is None, reason=WITHOUT)


def recalculated(book: Path, folder: Path) -> Path:
    """A copy of `book` in `folder`, every formula worked out anew."""
    return recalculated_all([book], folder)[book]


def recalculated_all(books: Sequence[Path], folder: Path) -> dict[Path, Path]:
    """Copies of `books`, none of them of the same name, by their own paths."""
    profile = folder / "profile"
    (profile / "user").mkdir(parents=True, exist_ok=True)
    (profile / "user" / "registrymodifications.xcu").write_text(ALWAYS)
    out = folder / "recalculated"
    office = ["soffice", "--headless", "--norestore", f"-env:UserInstallation=file://{profile}"]
    files = [str(book) for book in books]
    subprocess.run([*office, "--convert-to", "xlsx", "--outdir", str(out), *files], check=True, capture_output=True, timeout=300)
    return {book: out / f"{book.stem}.xlsx" for book in books}


def differences(book: Path, folder: Path) -> tuple[int, list[str]]:
    """Number of formula cells, and each whose stored value a recalculation changes by more than 1e-9 of it."""
    fresh = openpyxl.load_workbook(recalculated(book, folder), data_only=True)
    formulas, stored = openpyxl.load_workbook(book), openpyxl.load_workbook(book, data_only=True)
    count, wrong = 0, []
    for sheet in formulas.worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type != "f":
                    continue
                count += 1
                before, after = stored[sheet.title][cell.coordinate].value, fresh[sheet.title][cell.coordinate].value
                if not same(before, after):
                    wrong.append(f"{sheet.title}!{cell.coordinate}: stored {before!r}, worked out {after!r}: {cell.value}")
    return count, wrong


def same(before: object, after: object) -> bool:
    if isinstance(before, (int, float)) and isinstance(after, (int, float)):
        return abs(before - after) <= CLOSE * max(1.0, abs(before), abs(after))
    return (before or "") == (after or "")
