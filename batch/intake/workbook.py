"""Opens a workbook, behind the guard, and gives its sheets as grids of cells."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from batch.errors import InputFileError
from batch.findings import Remark
from batch.intake.grid import Broken, Grid, Shown
from batch.intake.rows_in_one_cell import part_rows
from batch.intake.slow_reader import GAP_COLUMNS, GAP_ROWS, LARGEST_SHEET, SlowBook, main_block, refuse_wide, stray_words
from batch.ooxml.guard import COPY_LIST, SAVE_AS, Package, file_kind, is_packed
from batch.ooxml.package import CellLooks, SheetPart, cell_looks, comments_of, of_type, related, sheet_parts, workbook_part
from batch.ooxml.sheet_scan import LAST_COLUMN, LAST_ROW, NEAR_ROWS, SheetScan, filled, scan
from batch.ooxml.struck_texts import MARK as STRIKE
from batch.ooxml.struck_texts import struck_texts
from batch.sheets.received import read_again

if TYPE_CHECKING:  # the ordinary job has no need of it
    from batch.intake.open_document_looks import Looks

MOST_CELLS = 8_000_000  # of one sheet as the quick reader lays it out, blanks included
MOST_CELLS_TOGETHER = 24_000_000  # of all sheets as they are laid out: some 200 MB
MOST_SHEETS = 1000
SPARSE = 20  # a sheet with fewer than one row in so many filled, and a row beyond the usual, is read row by row
TEXT_ENDINGS = (".csv", ".tsv", ".tab", ".txt")
HELD, MOST_HELD = frozenset((str, float)), 50_000  # kinds of cells of which equal ones are held once, and so many at a time
WIDE = 300  # columns; a wider sheet is looked at for cells that stand far from the others


class Workbook(Struct, frozen=True):
    """The sheets of a file, and what there is to say about the file as a whole."""

    grids: tuple[Grid, ...]
    macros: bool = False
    slow: str = ""  # why the slower reader was used
    half_seen: bool = False  # of a kind in which error cells and cell formats are not seen
    remarks: tuple[Remark, ...] = ()  # what else there is to say of how the file was read
    passed_over: tuple[str, ...] = ()  # sheets of a results workbook that are not read again


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
    if name.lower().endswith(TEXT_ENDINGS) and not is_packed(data):
        from batch.intake.text_tables import read_text_table  # with what it takes to find letters and marks

        table = read_text_table(data, name)
        return Workbook((table.grid,), remarks=table.remarks)
    if file_kind(data, name) == "zip":
        package = Package(data, name)
        if not package.find("mimetype"):  # which only the OpenDocument kinds have
            workbook = workbook_part(package)
            if not workbook.endswith(".bin"):
                return _open_package(data, package, workbook)
        _look_through(package)
    from batch.intake.apart import read_apart  # starts processes, which the ordinary job has no need of

    grids = tuple(_apart(*sheet) for sheet in read_apart(data, name))
    _keep_within(grids, name)
    return _with_cells(Workbook(grids, half_seen=True))


def _look_through(package: Package) -> None:
    """Inflates every part of a package that the guard does not understand, so that its sizes are known to be true."""
    if (kind := package.find("mimetype")) and b"spreadsheet" not in package.read(kind, 1 << 16):
        raise InputFileError(f"{package.name}: this is another kind of document, not a workbook: {COPY_LIST}")
    for part in package.parts():
        if not part.endswith("/"):
            package.look_through(part, strict=part == "content.xml")


def _open_package(data: bytes, package: Package, workbook: str) -> Workbook:
    targets = related(package, workbook)
    sheets = [sheet for sheet in sheet_parts(package, workbook, targets) if sheet.cells]
    if len(sheets) > MOST_SHEETS:
        raise InputFileError(f"{package.name}: {len(sheets)} sheets are more than can be read ({MOST_SHEETS}): split the job")
    if not sheets:
        raise InputFileError(f"{package.name}: the workbook has no sheet of cells: {SAVE_AS}")
    if len({sheet.name.casefold() for sheet in sheets}) < len(sheets):
        raise InputFileError(f"{package.name}: two sheets have the same name, so one would hide the other: {SAVE_AS}")
    wanted = read_again([sheet.name for sheet in sheets])
    passed_over = tuple(sheet.name for sheet in sheets if sheet.name not in wanted)
    sheets = [sheet for sheet in sheets if sheet.name in wanted]
    styles, texts = of_type(targets, "styles"), of_type(targets, "sharedStrings")
    looks = cell_looks(package, styles)
    honest = True
    for part in (texts, styles):
        if part and not package.look_through(part, mark=STRIKE):
            honest = False
    struck = struck_texts(package, texts) if texts in package.marked else {}
    scans = {sheet.name: _scanned(package, sheet, looks, struck) for sheet in sheets}
    macros = any(part.endswith("vbaProject.bin") for part in package.parts())
    reader = _PackageReader(data, package, scans, "" if honest else "a part of it counts more than it holds")
    grids: list[Grid] = []
    for sheet in sheets:
        grids.append(reader.grid(sheet))
        _keep_within(grids, package.name)
    return _with_cells(Workbook(tuple(grids), macros, reader.slow, passed_over=passed_over))


def _with_cells(workbook: Workbook) -> Workbook:
    """The workbook with the sheets whose rows are one text each parted into cells, and said so."""
    parted = [part_rows(grid) for grid in workbook.grids]
    return replace(workbook, grids=tuple(grid for grid, _ in parted), remarks=tuple(said for _, said in parted if said is not None))


def _keep_within(grids: Sequence[Grid], name: str) -> None:
    """Refuses a workbook as soon as its sheets together hold more than can be read in reasonable time and memory."""
    if sum(len(grid.rows) * grid.width for grid in grids) > MOST_CELLS_TOGETHER:
        raise InputFileError(f"{name}: its sheets together are laid out too wide and long to be read: split the job into several")


def _scanned(package: Package, sheet: SheetPart, looks: CellLooks, struck: dict[int, str]) -> SheetScan:
    if not sheet.part:
        raise InputFileError(f"{package.name}: the file is damaged (sheet {sheet.name} is not in it): fetch it again, or {SAVE_AS}")
    seen = scan(package.chunks(sheet.part), looks.units, looks.struck, struck)
    if seen.doctype:
        raise InputFileError(f"{package.name}: sheet {sheet.name} declares a document type, which is not safe to read: {SAVE_AS}")
    if seen.twice:
        where = f"sheet {sheet.name} has the cell {seen.twice} a second time"
        raise InputFileError(f"{package.name}: {where}, so it can be read two ways: {SAVE_AS}")
    if seen.too_long:
        raise InputFileError(f"{package.name}: sheet {sheet.name} has a row too long to be read safely: {SAVE_AS}")
    return seen


class _PackageReader:
    """Reads the sheets of an .xlsx package: with the quick reader, and with the slow one where that cannot be."""

    def __init__(self, data: bytes, package: Package, scans: dict[str, SheetScan], avoid: str) -> None:
        """`avoid` says why the quick reader must not see the package; "" where it may."""
        self.data, self.package, self.scans, self.avoid = data, package, scans, avoid
        self.slow = ""
        self._quick: object = None
        self._slow: SlowBook | None = None

    def grid(self, sheet: SheetPart) -> Grid:
        seen = self.scans[sheet.name]
        if self.avoid:
            return self._slowly(sheet, self.avoid)
        if seen.utf16:
            return self._slowly(sheet, f"sheet {sheet.name} is written in UTF-16")
        if seen.strange:
            return self._slowly(sheet, f'sheet {sheet.name} has a cell whose address is "{seen.strange}"')
        width = LAST_COLUMN
        stray: tuple[str, ...] = ()
        if seen.rows * seen.columns > MOST_CELLS or seen.columns > WIDE:
            exact = filled(self.package.chunks(sheet.part))
            if exact is None:
                return self._slowly(sheet, f"sheet {sheet.name} has a cell far out, and cells without an address")
            rows, columns = exact
            if rows and rows[-1] * columns[-1] > MOST_CELLS:
                return self._slowly(sheet, f"sheet {sheet.name} has a cell far out", rows, columns)
            if rows and rows[-1] > NEAR_ROWS and len(rows) * SPARSE < rows[-1]:
                return self._slowly(sheet, f"sheet {sheet.name} has a cell far down", rows, columns, keep_rows=True)
            width = main_block(columns, GAP_COLUMNS)
            stray = stray_words((), columns, 0, width)
        try:
            cells = _marked(self._quickly(sheet.name), seen)
        except _ReaderFault as fault:
            return self._slowly(sheet, f"the quick reader does not understand it ({fault})")
        cells = [row[:width] for row in cells] if stray else cells
        return self._grid(sheet, cells, stray)

    def _quickly(self, name: str) -> list[list[object]]:
        if self._quick is None:
            self._quick = _calamine(self.data)
        return _sheet_rows(self._quick, name)

    def _slowly(self, sheet: SheetPart, why: str, rows: Sequence[int] = (), columns: Sequence[int] = (), keep_rows: bool = False) -> Grid:
        """Reads a sheet the other way; `rows` and `columns` hold something, and what is far from the others is left out.

        keep_rows  but for rows, however far down
        """
        seen = self.scans[sheet.name]
        if seen.size > LARGEST_SHEET:
            raise InputFileError(f"{self.package.name}: {why}, and the sheet is too large to be read another way: {SAVE_AS}")
        if rows and columns:
            wide = main_block(columns, GAP_COLUMNS)
            refuse_wide(self.package.name, sheet.name, len(rows), 0, wide)
        if self._slow is None:
            self._slow = SlowBook(self.data, self.package.name, why)
        if rows and columns:
            height, width = rows[-1] if keep_rows else main_block(rows, GAP_ROWS), main_block(columns, GAP_COLUMNS)
        else:
            height, width = self._slow.extent(sheet.name)
            exact = None if seen.utf16 else filled(self.package.chunks(sheet.part))
            rows = exact[0] if exact else range(1, min(height, LAST_ROW) + 1)
        self.slow = self.slow or why
        within = SheetScan(units=seen.units)
        within.errors, within.uncalculated = _within(seen.errors, height, width), _within(seen.uncalculated, height, width)
        cells = _marked(self._slow.rows(sheet.name, height, width, rows), within)
        return self._grid(sheet, cells, stray_words(rows, columns, height, width))

    def _grid(self, sheet: SheetPart, cells: list[list[object]], stray: tuple[str, ...]) -> Grid:
        """The cells with what their looks say."""
        seen = self.scans[sheet.name]
        height, width = len(cells), len(cells[0]) if cells else 0
        columns = tuple(sorted({column + 1 for first, last in seen.hidden_columns for column in range(first, min(last, width - 1) + 1)}))
        struck = frozenset(at for at in seen.struck if at[0] < height and at[1] < width)
        left = {at: text for at, text in seen.left.items() if at[0] < height and at[1] < width and at not in struck}
        return Grid(
            sheet.name, cells, sheet.hidden, stray, tuple(seen.hidden_rows), tuple(seen.merged), hidden_columns=columns, struck=struck,
            left_unstruck=left, comments=comments_of(self.package, sheet.part), looks_known=True,
        )  # fmt: skip


def _apart(name: str, hidden: str, rows: list[list[object]], merged: tuple[tuple[int, int, int, int], ...], looks: Looks | None) -> Grid:
    """A sheet that was read in a process of its own."""
    if looks is None:
        return Grid(name, rows, hidden, merged=merged)
    return Grid(
        name, rows, hidden, (), tuple(looks.hidden_rows), merged, hidden_columns=tuple(looks.hidden_columns),
        struck=frozenset(looks.struck), left_unstruck=looks.left, comments=dict(looks.comments), looks_known=True,
    )  # fmt: skip


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
            rows[row] = rows[row] if rows[row].count("") < len(rows[row]) else list(rows[row])  # blank rows may be one and the same
            rows[row][column] = mark
    for (row, column), unit in seen.units.items():
        if row < len(rows) and column < len(rows[row]) and isinstance(number := rows[row][column], float):
            rows[row][column] = Shown(number, unit)
    return rows


class _ReaderFault(Exception):
    """What the quick reader said when it stopped."""


def _calamine(data: bytes):
    from python_calamine import CalamineWorkbook

    return _call(lambda: CalamineWorkbook.from_filelike(BytesIO(data)))


def _sheet_rows(book, name: str) -> list[list[object]]:
    return _held(_call(lambda: book.get_sheet_by_name(name).to_python(skip_empty_area=False)))


def _held(rows: list[list[object]]) -> list[list[object]]:
    """The rows with equal texts, and equal figures, held once: most cells of a long list hold what many others do."""
    known: dict[object, object] = {}
    for row in rows:
        row[:] = [known.setdefault(cell, cell) if cell and cell.__class__ in HELD else cell for cell in row]
        if len(known) > MOST_HELD:
            known.clear()
    return rows


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
