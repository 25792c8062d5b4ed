"""Reads the binary and OpenDocument kinds of workbook in a process of its own.

The guard cannot look into these kinds, so a file that lies could bring down the native reader, and the run with it. Here only
the child goes down: the parent says in one line that the file cannot be read. Run as `python -m batch.intake.apart`, the child
takes the file's bytes on its standard input and gives the sheets on its standard output.
"""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
import zlib
from contextlib import suppress
from io import BytesIO
from pathlib import Path
from struct import error as BadStruct
from xml.etree.ElementTree import ParseError
from zipfile import BadZipFile

from batch.errors import InputFileError
from batch.intake.older_workbook_looks import binary_looks
from batch.intake.open_document_looks import Looks, looks_of
from batch.ooxml.guard import SAVE_AS

SECONDS = 20
MEMORY = 2 << 30  # bytes of address space for the child, where the system can hold it to that
MOST_CELLS = 8_000_000

Merged = tuple[tuple[int, int, int, int], ...]  # first row, first column, last row, last column, from 0
Sheets = list[tuple[str, str, list[list[object]], Merged, Looks | None]]
# name, "hidden" or "", rows, merged cells as far as they are seen, looks (None: of a kind in which they are not seen)


def read_apart(data: bytes, name: str) -> Sheets:
    """The sheets of a workbook as the child reads them.

    Raises:
        InputFileError: the child could not read it, went down, or took too long.
    """
    root = str(Path(__file__).resolve().parents[2])
    paths = os.pathsep.join(part for part in (root, os.environ.get("PYTHONPATH", "")) if part)
    command = [sys.executable, "-m", "batch.intake.apart"]
    around = {**os.environ, "PYTHONPATH": paths}
    try:
        child = subprocess.run(command, input=data, capture_output=True, timeout=SECONDS, env=around, check=False)
    except subprocess.TimeoutExpired:
        raise InputFileError(f"{name}: reading took longer than {SECONDS} s and was stopped: {SAVE_AS}") from None
    except OSError as fault:
        raise InputFileError(f"{name}: no process could be started to read it ({fault.strerror or fault}): {SAVE_AS}") from None
    if child.returncode != 0:
        raise InputFileError(f"{name}: the reader of this kind of workbook broke down on it; the file may be damaged: {SAVE_AS}")
    try:
        words, sheets = pickle.loads(child.stdout)
    except (pickle.UnpicklingError, EOFError, ValueError, TypeError) as fault:
        raise InputFileError(f"{name}: the reader of this kind of workbook gave nothing that can be used: {SAVE_AS}") from fault
    if words:
        raise InputFileError(f"{name}: the workbook cannot be read ({words}): {SAVE_AS}")
    return sheets


def read_here(data: bytes) -> tuple[str, Sheets]:
    """The sheets, or in words why they could not be read; runs in the child."""
    from python_calamine import CalamineWorkbook

    sheets: Sheets = []
    cells = 0
    try:
        book = CalamineWorkbook.from_filelike(BytesIO(data))
        looks = looks_here(data)
        for facts in book.sheets_metadata:
            if not str(facts.typ).endswith("WorkSheet"):
                continue
            sheet = book.get_sheet_by_name(facts.name)
            cells += (sheet.total_height or 0) * (sheet.total_width or 0)
            if cells > MOST_CELLS:
                return f"sheet {facts.name} is laid out too wide: something stands far outside its table", []
            hidden = {"Hidden": "hidden", "VeryHidden": "very hidden"}.get(str(facts.visible).rpartition(".")[2], "")
            merged = tuple((*first, *last) for first, last in sheet.merged_cell_ranges or ())
            rows: list[list[object]] = [list(row) for row in sheet.to_python(skip_empty_area=False)]
            sheets.append((facts.name, hidden, rows, merged, looks.get(facts.name)))
    except Exception as fault:  # the native reader has a dozen error types of its own; all mean the same to a person
        return " ".join(str(fault).split())[:120].rstrip(".") or type(fault).__name__, []
    return "", sheets


def looks_here(data: bytes) -> dict[str, Looks]:
    """The looks of the sheets of an OpenDocument workbook or an older one; none where they cannot be made out, which is said."""
    try:
        return looks_of(data) if data.startswith(b"PK") else binary_looks(data)
    except (OSError, ValueError, LookupError, RecursionError, NotImplementedError, RuntimeError, BadZipFile, ParseError, zlib.error):
        return {}
    except (StopIteration, BadStruct):
        return {}


def main() -> int:
    """The child: bytes in, pickled sheets out."""
    with suppress(ImportError, ValueError, OSError):
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    sys.stdout.buffer.write(pickle.dumps(read_here(sys.stdin.buffer.read())))
    return 0


if __name__ == "__main__":
    sys.exit(main())
