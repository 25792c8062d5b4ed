"""A customer's own workbook with results to the right of its rows, and nothing else changed."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Mapping
from hashlib import sha256
from html import unescape
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple
from zipfile import ZipFile

from batch.errors import CannotFill
from batch.filling.answers import SheetAnswers, answers
from batch.filling.beside import Reach, blocks, reach
from batch.filling.edit import filled_in
from batch.filling.live_status import UNWATCHED, live_status
from batch.filling.looks import Styles, model_column, styles_of
from batch.filling.may_fill import open_package, refuse_protected
from batch.filling.pieces import Value
from batch.filling.place import first_column
from batch.filling.repack import repacked
from batch.filling.shared_texts import shared_texts
from batch.filling.sheet_xml import LAST_ROW, RowSeen, Survey, column_of, rows_of, survey, tags
from batch.intake.grid import letters
from batch.intake.guard import Package
from batch.intake.package import SheetPart, of_type, related, sheet_parts
from batch.intake.workbook import load
from batch.results import JobResult
from batch.sheets import FILLED
from batch.whole_file import Part, whole_file

FORMULA = re.compile(rb"<(?:\w+:)?f\b([^>]*)>([^<]+)<")
GAP = 2  # rows from the last one that holds anything to what is said below the list
FARTHEST_BELOW = 1000  # rows from the list to that: as LONGEST_GAP of reading


class _Around(NamedTuple):
    """What is the same for every sheet of a workbook."""

    package: Package
    parts: Mapping[str, SheetPart]
    styles: Styles
    texts: str
    formulas: tuple[tuple[str, str, str, bool], ...]
    printed: frozenset[str]


def may_fill(source: Path) -> None:
    """Refuses a workbook that must not or cannot be filled, before it is sized.

    Raises:
        CannotFill, InputFileError
    """
    try:
        open_package(load(source), str(source))
    except CannotFill as why:
        raise _refusal(source, why) from None


def write_filled(source: Path, result: JobResult, target: Path, program: str) -> tuple[Part, tuple[str, ...]]:
    """Writes a copy of `source` with `result` filled in to `target`; returns where it landed, and in words what was filled.

    Raises:
        CannotFill: one line: why not, and what to do.
        InputFileError: the file cannot be read, or is no longer the one that was sized.
        OutputFileError
    """
    data = load(source)
    try:
        if sha256(data).hexdigest() != result.job.digest:
            raise CannotFill("it was changed while it was being sized: save it, and fill it again")
        around = _around(data, str(source))
        changed: dict[str, bytes] = {}
        about: list[str] = []
        for one in answers(result, program):
            _refuse_side_by_side(one, around.parts)
            part = around.parts[one.sheet].part
            changed[part], words = _sheet(around, part, one)
            about += words
        if not changed:
            raise CannotFill("no sheet of it could be read as a heater list: see what the command `check` says of it")
        new = repacked(data, changed)
    except CannotFill as why:
        raise _refusal(source, why) from None
    with whole_file(target) as landing:
        landing.path.write_bytes(new)
        _look_again(landing.path, changed)
    return landing, tuple(about)


def _refusal(source: Path, why: CannotFill) -> CannotFill:
    return CannotFill(f"{source}: not filled in: {why}")


def _look_again(path: Path, changed: Mapping[str, bytes]) -> None:
    """Reopens what was written: the changed parts must be there, whole."""
    with ZipFile(path) as package:
        for info in package.infolist():
            part = info.filename.replace("\\", "/").lstrip("/")
            if part in changed and package.read(info) != changed[part]:
                raise OSError(f"the part {part} of the file just written is not what it should be")


def _around(data: bytes, name: str) -> _Around:
    package, workbook = open_package(data, name)
    targets = related(package, workbook)
    parts = {sheet.name: sheet for sheet in sheet_parts(package, workbook, targets)}
    looks = of_type(targets, "styles")
    formulas = tuple(_formulas(package, workbook, parts))
    printed = frozenset(_print_areas(package, workbook, parts))
    return _Around(package, parts, styles_of(package.read(looks) if looks else b""), of_type(targets, "sharedStrings"), formulas, printed)


def _formulas(package: Package, workbook: str, parts: Mapping[str, SheetPart]) -> Iterator[tuple[str, str, str, bool]]:
    """Every formula of the workbook but those of the sheet that is filled, which are seen with their cells."""
    for name, text in _names(package, workbook):
        if not name.startswith("_xlnm."):
            yield f"the name {name}", "", text, False
    for sheet in parts.values():
        if sheet.part and sheet.cells:
            content = b"".join(package.chunks(sheet.part))
            for attributes, text in FORMULA.findall(content):
                yield f"a formula of sheet {sheet.name}", sheet.name, unescape(text.decode("utf-8", "replace")), b"shared" in attributes
    for part in package.parts():
        if "/charts/" in part and part.endswith(".xml"):
            for tag in tags(package.read(part)):
                if tag.name == "f":
                    yield "a chart", "", tag.text, False


def _names(package: Package, workbook: str) -> Iterator[tuple[str, str]]:
    """Defined names and what they stand for."""
    text = package.read(workbook).decode("utf-8", "replace")
    for attributes, words in re.findall(r"<(?:\w+:)?definedName\b([^>]*)>([^<]*)<", text):
        name = re.search(r"\bname\s*=\s*[\"']([^\"']*)", attributes)
        yield unescape(name[1]) if name else "", unescape(words)


def _print_areas(package: Package, workbook: str, parts: Mapping[str, SheetPart]) -> Iterator[str]:
    for name, words in _names(package, workbook):
        if name == "_xlnm.Print_Area":
            yield words.rpartition("!")[0].strip("'").replace("''", "'")


def _sheet(around: _Around, part: str, one: SheetAnswers) -> tuple[bytes, list[str]]:
    """The sheet's part with its answers put in, and what there is to say of it."""
    _refuse_filled(one)
    content = b"".join(around.package.chunks(part))
    first, last = min(one.heads), max([*one.heads, *one.rows])
    seen = survey(content, first, last)
    refuse_protected(one.sheet, seen)
    list_right = _right_of_list(one, seen)
    count = len(FILLED.columns)
    start = first_column(
        seen, list_right, blocks(around.package, part, seen), _reach(around, one.sheet, seen, first, last), around.styles.plain, count,
        (first, last),
    )  # fmt: skip
    notes_at = seen.last_row + GAP
    if notes_at - last > FARTHEST_BELOW or notes_at + len(one.below) > LAST_ROW:
        raise CannotFill(f"row {seen.last_row} of sheet {one.sheet} holds something far below the list: delete it, and save")
    model = model_column(seen.looks, range(start), around.styles)
    watched = {
        number: {column_of(f"{name}1") for key, name in answer.bank.origin.columns.items() if key not in UNWATCHED}
        for number, answer in one.rows.items() if answer.bank is not None
    }  # fmt: skip
    wanted = {*one.rows, *one.heads, *range(notes_at, notes_at + len(one.below))}
    kept = set().union(*watched.values(), {model}, range(start)) if one.rows else set(range(start))
    rows = rows_of(content, wanted, kept, start)
    numbers = {int(cell.value) for row in rows.values() for cell in row.cells if cell.type == "s" and cell.value and cell.value.isdigit()}
    texts = shared_texts(around.package, around.texts, numbers)
    cells = _cells(one, rows, watched, texts, model, around.styles, start, notes_at)
    breaks = cells[one.heads[0]][start][0] in around.styles.wrapped
    widths = {start + at: max(column.width, 0 if breaks else len(column.title()) + 2) for at, column in enumerate(FILLED.columns)}
    new = filled_in(content, seen, rows, cells, widths)
    survey(new, 1, 1)  # well-formed, rows and cells in order: CannotFill otherwise
    sized = sum("heater_a" in answer.values for answer in one.rows.values())
    where = f"sheet {one.sheet}, columns {letters(start)} to {letters(start + count - 1)}"
    counts = f"{sized} rows with their sizes, {len(one.rows) - sized} with the reason why not"
    said = [f"filled in on {where}: {counts}; cautions below the list"]
    if one.sheet in around.printed:
        said.append(f"sheet {one.sheet} keeps its print area, so the new columns are not printed until it is widened")
    return new, said


def _refuse_side_by_side(one: SheetAnswers, sheets: Container[str]) -> None:
    """Two lists beside each other leave no right-hand side to the left one. Reading tells them apart by the columns in their names."""
    spans = sorted((table.heading_row, max([table.heading_row, *(row.row for row in table.rows)])) for table in one.tables)
    if one.sheet not in sheets or any(later[0] <= earlier[1] for earlier, later in pairwise(spans)):
        raise CannotFill(f"heater lists stand side by side ({one.sheet}): put one below the other, or on a sheet of its own")


def _refuse_filled(one: SheetAnswers) -> None:
    """A list is filled once: results of an earlier run beside new ones could be taken for them."""
    own = {column.title() for column in FILLED.columns}
    for table in one.tables:
        if len(own.intersection(table.headings)) >= 2:
            raise CannotFill(
                f'sheet {one.sheet} is filled in already (columns from "{FILLED.columns[0].title()}" on): '
                "fill the list as it came, or delete those columns and what stands below them"
            )


def _right_of_list(one: SheetAnswers, seen: Survey) -> int:
    """The last column that belongs to the list for certain: one it was read from, or that stands next to such."""
    known = [column_of(f"{name}1") for answer in one.rows.values() if answer.bank for name in answer.bank.origin.columns.values()]
    if known:
        return max(known)
    right = min(seen.filled, default=0)  # no row of it could be read: from its first column as far as there is no gap
    while right + 1 in seen.filled:
        right += 1
    return right


def _reach(around: _Around, sheet: str, seen: Survey, first: int, last: int) -> Reach:
    own = [(f"the formula in {address}", sheet, text, shared) for address, text, shared in seen.formulas]
    own += [("a small chart in a cell", sheet, tag.text, False) for tag in seen.tags if tag.name == "f" and "sparkline" in tag.path]
    others = (formula for formula in around.formulas if formula[1] != sheet)
    return reach([*own, *others], sheet, first, last)


def _cells(
    one: SheetAnswers, rows: Mapping[int, RowSeen], watched: Mapping[int, set[int]], texts: Mapping[int, str], model: int, styles: Styles,
    start: int, notes_at: int,
) -> dict[int, dict[int, tuple[str, Value]]]:  # fmt: skip
    """Every new cell: row -> column -> (style, value)."""
    cells: dict[int, dict[int, tuple[str, Value]]] = {}
    for number in one.heads:
        standing = rows[number].cells if number in rows else []
        look = next((cell.style for cell in reversed(standing) if cell.filled and cell.column < start), "0")
        cells[number] = {start + at: (look, column.title()) for at, column in enumerate(FILLED.columns)}
    for number, answer in one.rows.items():
        if number not in rows:
            continue
        by_column = {cell.column: cell for cell in rows[number].cells}
        own = by_column[model].style if model in by_column else "0"
        look = own if own in styles.plain else "0"
        values = dict(answer.values)
        if number in watched:
            values["status"] = live_status(str(values["status"]), number, watched[number], by_column, lambda at: texts.get(at, ""))
        cells[number] = {
            start + at: (look, values.get(column.key))
            for at, column in enumerate(FILLED.columns)
            if values.get(column.key) is not None or (look != "0" and start + at not in by_column)
        }
    for at, line in enumerate(one.below):
        cells[notes_at + at] = {start: ("0", line)}
    return cells



