"""Result sheets as plain tables for other programs: a folder of CSV files, one a sheet, or one JSON file. Units stand in the headings."""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Iterator
from pathlib import Path

from batch.errors import OutputFileError
from batch.file_names import TABLES
from batch.results import JobResult
from batch.schedules import RESULTS, Schedule, each_row
from batch.sheets import Column
from batch.units import convert
from batch.whole_file import FileInTheMaking, whole_file

FORMULA = re.compile(r"[=@\t\r]|[-+](?![\d.,\s]*$)")

def write_plain(result: JobResult, workbook: Path, kind: str, *, us: bool) -> Path:
    """Writes the result sheets beside the results workbook: "JOB sized csv/Banks.csv" and on, or "JOB sized.json". Returns where.

    Raises:
        OutputFileError: a file cannot be written. Each is whole, or as it was.
    """
    return _csv(result, workbook, us) if kind == "csv" else _json(result, workbook, us)


def _csv(result: JobResult, workbook: Path, us: bool) -> Path:
    folder = workbook.with_name(f"{workbook.stem}{TABLES}")
    try:
        folder.mkdir(exist_ok=True)
    except OSError as fault:
        raise OutputFileError(f"{folder}: the folder cannot be made ({fault.strerror or fault}): choose another place with -o") from None
    for sheet in RESULTS:
        with whole_file(folder / f"{sheet.name}.csv") as part, part.path.open("w", newline="", encoding="utf-8-sig") as file:
            table = csv.writer(file)
            table.writerow(column.title(us) for column in sheet.columns)
            table.writerows([_inert(cell) for cell in row] for row in _rows(result, sheet, us))
    return folder


def _inert(cell: object) -> object:
    """A customer's text that a spreadsheet program would take for a formula gets the mark that keeps it text."""
    return f"'{cell}" if isinstance(cell, str) and FORMULA.match(cell) else cell


def _json(result: JobResult, workbook: Path, us: bool) -> Path:
    part: FileInTheMaking
    with whole_file(workbook.with_suffix(".json")) as part, part.path.open("w", encoding="utf-8") as file:
        file.write("{")
        for at, sheet in enumerate(RESULTS):
            columns = [{"key": column.key, "heading": column.heading, "unit": column.shown_unit(us)} for column in sheet.columns]
            head = json.dumps({"sheet": sheet.name, "columns": columns}, ensure_ascii=False)
            file.write(f'{"," if at else ""}\n{json.dumps(sheet.id)}: {head[:-1]}, "rows": [')
            for number, row in enumerate(_rows(result, sheet, us)):
                file.write(("," if number else "") + "\n" + json.dumps(row, ensure_ascii=False, default=str))
            file.write("]}")
        file.write("\n}\n")
    return part.landed


def _rows(result: JobResult, sheet: Schedule, us: bool) -> Iterator[list[object]]:
    turned = [(column, us and bool(column.us_unit)) for column in sheet.columns]
    for row in each_row(result, sheet.id):
        yield [_cell(column, row.get(column.key), turn) for column, turn in turned]


def _cell(column: Column, value: object, turn: bool) -> object:
    if isinstance(value, float):
        if value != value or value in (float("inf"), float("-inf")):
            return column.no_limit or None
        return convert(value, column.unit, column.us_unit) if turn else value
    return convert(float(value), column.unit, column.us_unit) if turn and isinstance(value, int) else value
