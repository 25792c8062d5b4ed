"""Opens a workbook, behind the guard, and gives its sheets as grids of cells."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

from batch.errors import InputFileError
from batch.intake.grid import Broken, Grid, Shown
from batch.intake.guard import SAVE_AS, Package, file_kind
from batch.intake.package import SheetPart, sheet_parts, unit_styles, workbook_part
from batch.intake.sheet_scan import SheetScan, scan

MOST_CELLS = 30_000_000  # of one sheet as the quick reader lays it out, blanks included


@dataclass(frozen=True, slots=True)
class Workbook:
    """The sheets of a file, and what there is to say about the file as a whole."""

    grids: tuple[Grid, ...]
    macros: bool = False
    slow: str = ""  # why the slower reader was used


def load(path: Path) -> bytes:
    """The file's bytes, read once: what is hashed is what is read.

    Raises:
        InputFileError: no such file, a folder, no permission.
    """
    try:
        if path.is_dir():
            raise InputFileError(f"{path}: this is a folder: name the workbook in it")
        return path.read_bytes()
    except FileNotFoundError:
        raise InputFileError(f"{path}: there is no such file: check the name and the folder") from None
    except PermissionError:
        raise InputFileError(f"{path}: the file may not be read: close it elsewhere, or ask for permission") from None
    except (OSError, ValueError) as fault:
        raise InputFileError(f"{path}: the file cannot be opened ({getattr(fault, 'strerror', None) or fault}): check the name") from None


def open_workbook(data: bytes, name: str) -> Workbook:
    """All sheets of a workbook.

    Raises:
        InputFileError: not a workbook, locked, damaged, or not safe to read.
    """
    if file_kind(data, name) == "zip":
        package = Package(data, name)
        if not package.find("mimetype"):
            workbook = workbook_part(package)
            if not workbook.endswith(".bin"):
                return _open_package(data, package, workbook)
    return Workbook(tuple(_other_grids(data, name)))


def _open_package(data: bytes, package: Package, workbook: str) -> Workbook:
    sheets = sheet_parts(package, workbook)
    if not sheets:
        raise InputFileError(f"{package.name}: the workbook has no sheets: {SAVE_AS}")
    styles = unit_styles(package, workbook)
    scans: dict[str, SheetScan] = {}
    for sheet in sheets:
        if sheet.part and sheet.cells:
            scans[sheet.name] = scan(package.chunks(sheet.part), styles)
            if scans[sheet.name].doctype:
                raise InputFileError(f"{package.name}: sheet {sheet.name} declares a document type, which is not safe to read: {SAVE_AS}")
            if scans[sheet.name].too_long:
                raise InputFileError(f"{package.name}: sheet {sheet.name} has a row too long to be read safely: {SAVE_AS}")
    shared = package.find(workbook.rpartition("/")[0] + "/sharedStrings.xml")
    if shared:
        for chunk in package.chunks(shared):
            package.refuse_doctype(chunk, shared)
    macros = any(part.endswith("vbaProject.bin") for part in package.parts())
    return Workbook(tuple(_grids(data, package.name, sheets, scans)), macros)


def _grids(data: bytes, name: str, sheets: list[SheetPart], scans: dict[str, SheetScan]) -> Iterator[Grid]:
    book = _calamine(data, name)
    for sheet in sheets:
        seen = scans.get(sheet.name)
        if seen is None:
            continue
        if seen.rows * seen.columns > MOST_CELLS:
            raise InputFileError(f"{name}: sheet {sheet.name} has a cell far out, in row {seen.rows}: delete what stands there, and save")
        rows = _call(lambda title=sheet.name: book.get_sheet_by_name(title).to_python(skip_empty_area=False), name)
        yield Grid(sheet.name, _marked(rows, seen), sheet.hidden)


def _marked(rows: list[list[object]], seen: SheetScan) -> list[list[object]]:
    """The rows with what the quick reader hides put back: errors, formulas without a result, units shown by a format."""
    marks: dict[tuple[int, int], object] = {at: Broken(text, True) for at, text in seen.errors.items()}
    marks |= {at: Broken(text, False) for at, text in seen.uncalculated.items()}
    if marks:
        height = max(len(rows), 1 + max(row for row, _ in marks))
        width = max([len(row) for row in rows] + [1 + column for _, column in marks])
        if height > len(rows) or width > len(rows[0]):
            rows = [row + [""] * (width - len(row)) for row in rows] + [[""] * width for _ in range(height - len(rows))]
        for (row, column), mark in marks.items():
            rows[row][column] = mark
    for (row, column), unit in seen.units.items():
        if row < len(rows) and column < len(rows[row]) and isinstance(rows[row][column], float):
            rows[row][column] = Shown(rows[row][column], unit)
    return rows


def _other_grids(data: bytes, name: str) -> Iterator[Grid]:
    """Sheets of .xls, .xlsb and .ods, as far as the quick reader knows them."""
    book = _calamine(data, name)
    for facts in book.sheets_metadata:
        rows = _call(lambda title=facts.name: book.get_sheet_by_name(title).to_python(skip_empty_area=False), name)
        hidden = {"Visible": "", "Hidden": "hidden", "VeryHidden": "very hidden"}.get(str(facts.visible).rpartition(".")[2], "")
        yield Grid(facts.name, rows, hidden)


def _calamine(data: bytes, name: str):
    from python_calamine import CalamineWorkbook

    return _call(lambda: CalamineWorkbook.from_filelike(BytesIO(data)), name)


def _call(step, name: str):
    """A step of the native reader; its own panics are exceptions that no `except Exception` would catch."""
    try:
        return step()
    except (KeyboardInterrupt, SystemExit, GeneratorExit):
        raise
    except BaseException as fault:
        if isinstance(fault, Exception) or type(fault).__name__ == "PanicException":
            raise InputFileError(f"{name}: the workbook cannot be read ({_one_line(fault)}): {SAVE_AS}") from None
        raise


def _one_line(fault: BaseException) -> str:
    return " ".join(str(fault).split())[:120] or type(fault).__name__
