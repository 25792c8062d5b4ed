"""Opens a workbook, behind the guard, and gives its sheets as grids of cells."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

from batch.errors import InputFileError
from batch.intake.grid import Broken, Grid, Shown
from batch.intake.guard import SAVE_AS, Package, file_kind
from batch.intake.package import SheetPart, sheet_parts, unit_styles, workbook_part
from batch.intake.sheet_scan import SheetScan, filled, scan
from batch.intake.slow_reader import GAP_COLUMNS, GAP_ROWS, LARGEST_SHEET, SlowBook, main_block, stray_words

MOST_CELLS = 8_000_000  # of one sheet as the quick reader lays it out, blanks included


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
    sheets = [sheet for sheet in sheet_parts(package, workbook) if sheet.cells]
    if not sheets:
        raise InputFileError(f"{package.name}: the workbook has no sheet of cells: {SAVE_AS}")
    styles = unit_styles(package, workbook)
    scans = {sheet.name: _scanned(package, sheet, styles) for sheet in sheets}
    if shared := package.find(workbook.rpartition("/")[0] + "/sharedStrings.xml"):
        package.look_through(shared)
    macros = any(part.endswith("vbaProject.bin") for part in package.parts())
    reader = _PackageReader(data, package, scans)
    return Workbook(tuple(reader.grid(sheet) for sheet in sheets), macros, reader.slow)


def _scanned(package: Package, sheet: SheetPart, styles: dict[bytes, str]) -> SheetScan:
    if not sheet.part:
        raise InputFileError(f"{package.name}: the file is damaged (sheet {sheet.name} is not in it): fetch it again, or {SAVE_AS}")
    seen = scan(package.chunks(sheet.part), styles)
    if seen.doctype:
        raise InputFileError(f"{package.name}: sheet {sheet.name} declares a document type, which is not safe to read: {SAVE_AS}")
    if seen.too_long:
        raise InputFileError(f"{package.name}: sheet {sheet.name} has a row too long to be read safely: {SAVE_AS}")
    return seen


class _PackageReader:
    """Reads the sheets of an .xlsx package: with the quick reader, and with the slow one where that cannot be."""

    def __init__(self, data: bytes, package: Package, scans: dict[str, SheetScan]) -> None:
        self.data, self.package, self.scans = data, package, scans
        self.slow = ""
        self._quick: object = None
        self._slow: SlowBook | None = None

    def grid(self, sheet: SheetPart) -> Grid:
        seen = self.scans[sheet.name]
        if seen.utf16:
            return self._slowly(sheet, f"sheet {sheet.name} is written in UTF-16")
        if seen.strange:
            return self._slowly(sheet, f"sheet {sheet.name} has a cell whose address is \"{seen.strange}\"")
        if seen.rows * seen.columns > MOST_CELLS:
            rows, columns = filled(self.package.chunks(sheet.part))
            if rows and rows[-1] * columns[-1] > MOST_CELLS:
                return self._slowly(sheet, f"sheet {sheet.name} has a cell far out", rows, columns)
        try:
            rows = self._quickly(sheet.name)
        except _ReaderFault as fault:
            return self._slowly(sheet, f"the quick reader does not understand it ({fault})")
        return Grid(sheet.name, _marked(rows, seen), sheet.hidden)

    def _quickly(self, name: str) -> list[list[object]]:
        if self._quick is None:
            self._quick = _calamine(self.data)
        return _sheet_rows(self._quick, name)

    def _slowly(self, sheet: SheetPart, why: str, rows: Sequence[int] = (), columns: Sequence[int] = ()) -> Grid:
        """Reads a sheet the other way; `rows` and `columns` hold something, and what is far from the others is left out."""
        seen = self.scans[sheet.name]
        if seen.size > LARGEST_SHEET:
            raise InputFileError(f"{self.package.name}: {why}, and the sheet is too large to be read another way: {SAVE_AS}")
        if self._slow is None:
            self._slow = SlowBook(self.data, self.package.name, why)
        if rows and columns:
            height, width = main_block(rows, GAP_ROWS), main_block(columns, GAP_COLUMNS)
        else:
            height, width = self._slow.extent(sheet.name)
        self.slow = self.slow or why
        within = SheetScan(units=seen.units)
        within.errors, within.uncalculated = _within(seen.errors, height, width), _within(seen.uncalculated, height, width)
        cells = _marked(self._slow.rows(sheet.name, height, width), within)
        return Grid(sheet.name, cells, sheet.hidden, stray_words(rows, columns, height, width))


def _within(marks: dict[tuple[int, int], str], height: int, width: int) -> dict[tuple[int, int], str]:
    return {at: text for at, text in marks.items() if at[0] < height and at[1] < width}


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
    try:
        book = _calamine(data)
        for facts in book.sheets_metadata:
            if str(facts.typ).endswith("WorkSheet"):
                hidden = {"Hidden": "hidden", "VeryHidden": "very hidden"}.get(str(facts.visible).rpartition(".")[2], "")
                yield Grid(facts.name, _sheet_rows(book, facts.name), hidden)
    except _ReaderFault as fault:
        raise InputFileError(f"{name}: the workbook cannot be read ({fault}): {SAVE_AS}") from None


class _ReaderFault(Exception):
    """What the quick reader said when it stopped."""


def _calamine(data: bytes):
    from python_calamine import CalamineWorkbook

    return _call(lambda: CalamineWorkbook.from_filelike(BytesIO(data)))


def _sheet_rows(book, name: str) -> list[list[object]]:
    return _call(lambda: book.get_sheet_by_name(name).to_python(skip_empty_area=False))


def _call(step):
    """A step of the quick reader. Its panics are no `Exception`, so they are caught by name; keys and exits pass through."""
    try:
        return step()
    except Exception as fault:
        raise _ReaderFault(_one_line(fault)) from None
    except BaseException as fault:
        if type(fault).__name__ == "PanicException":
            raise _ReaderFault(_one_line(fault)) from None
        raise


def _one_line(fault: BaseException) -> str:
    return " ".join(str(fault).split())[:120].rstrip(".") or type(fault).__name__
