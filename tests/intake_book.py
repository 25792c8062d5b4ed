"""Small workbooks for the tests of reading: written here, read by the product. All names and figures are invented."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import xlsxwriter

from batch.intake import read
from batch.records import Job

HEADINGS = ["Tank", "Quantity", "Power (kW)", "Volts", "Phases"]
GOOD = ["T-1", 4, 6, 480, 1]
NOTHING_MERGED: Mapping[str, Sequence[str]] = {}
DOUBTS = frozenset({"row-in-doubt", "row-figures-open"})  # codes of a row in doubt
SHEET_PART = "xl/worksheets/sheet1.xml"


@dataclass(frozen=True)
class F:
    """A formula with the result that stands stored for it; None = never calculated."""

    formula: str
    result: object = None


@dataclass(frozen=True)
class N:
    """A number with a number format."""

    value: float
    format: str


def book(
    sheets: Mapping[str, Sequence[Sequence[object]]], hidden: Sequence[str] = (), merged: Mapping[str, Sequence[str]] = NOTHING_MERGED
) -> bytes:
    """A workbook with these sheets, rows and cells. `merged`: ranges by sheet, each with the text of its first cell."""
    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True, "strings_to_urls": False, "strings_to_formulas": False}) as workbook:
        dates = workbook.add_format({"num_format": "yyyy-mm-dd"})
        for name, rows in sheets.items():
            sheet = workbook.add_worksheet(name)
            if name in hidden:
                sheet.hide()
            for number, row in enumerate(rows):
                for column, value in enumerate(row):
                    _put(workbook, sheet, number, column, value, dates)
            for place in merged.get(name, ()):
                first = place.split(":")[0]
                text = rows[int(first[1:]) - 1][ord(first[0]) - ord("A")]
                sheet.merge_range(place, text)
    return out.getvalue()


def _put(workbook, sheet, number: int, column: int, value: object, dates) -> None:
    if value is None:
        return
    if isinstance(value, F):
        sheet.write_formula(number, column, value.formula, None, "" if value.result is None else value.result)
    elif isinstance(value, N):
        sheet.write_number(number, column, value.value, workbook.add_format({"num_format": value.format}))
    elif isinstance(value, bool):
        sheet.write_boolean(number, column, value)
    elif isinstance(value, (int, float)):
        sheet.write_number(number, column, value)
    elif isinstance(value, str):
        sheet.write_string(number, column, value)
    else:
        sheet.write_datetime(number, column, value, dates)


def edited(data: bytes, part: str, edit: Callable[[bytes], bytes] | None, drop: Sequence[str] = ()) -> bytes:
    """The package with every part whose name matches `part` changed, and the parts of `drop` left out."""
    out = io.BytesIO()
    changed = False
    with zipfile.ZipFile(io.BytesIO(data)) as before, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as after:
        for info in before.infolist():
            if info.filename in drop:
                continue
            content = before.read(info)
            if edit and re.fullmatch(part, info.filename):
                changed = changed or edit(content) != content
                content = edit(content)
            after.writestr(info.filename, content)
    if edit and not changed:
        raise ValueError(f"nothing in {part} was changed: the test would test nothing")
    return out.getvalue()


def zipped(parts: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as package:
        for name, content in parts.items():
            package.writestr(name, content)
    return out.getvalue()


ODS = b"""<?xml version="1.0"?><office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0"
 xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"><office:body>
<office:spreadsheet><table:table table:name="Heaters">%s</table:table></office:spreadsheet></office:body></office:document-content>"""


def ods(*rows: Sequence[object]) -> bytes:
    """A heater list as an OpenDocument sheet."""

    def cell(value: object) -> str:
        if isinstance(value, str):
            return f'<table:table-cell office:value-type="string"><text:p>{value}</text:p></table:table-cell>'
        return f'<table:table-cell office:value-type="float" office:value="{value}"><text:p>{value}</text:p></table:table-cell>'

    lines = "".join(f"<table:table-row>{''.join(cell(value) for value in row)}</table:table-row>" for row in rows)
    parts = {"mimetype": b"application/vnd.oasis.opendocument.spreadsheet", "content.xml": ODS % lines.encode()}
    return zipped({**parts, "META-INF/manifest.xml": b'<m:manifest xmlns:m="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"/>'})


def read_bytes(folder: Path, data: bytes, name: str = "job.xlsx") -> Job:
    """Writes the bytes to a file, reads the job, and sees to it that the file was not touched."""
    path = folder / name
    path.write_bytes(data)
    job = read(path)
    assert path.read_bytes() == data
    return job


def read_sheets(folder: Path, sheets: Mapping[str, Sequence[Sequence[object]]], hidden: Sequence[str] = ()) -> Job:
    return read_bytes(folder, book(sheets, hidden))


def heaters(folder: Path, *rows: Sequence[object], headings: Sequence[object] = HEADINGS) -> Job:
    """A job of a heater list only."""
    return read_sheets(folder, {"Heaters": [headings, *rows]})


def codes(job: Job) -> set[str]:
    return {finding.code for finding in job.findings}


def said(job: Job, code: str) -> list:
    """The findings of one kind."""
    return [finding for finding in job.findings if finding.code == code]


def fates(job: Job, kind: str = "heaters") -> dict[int, str]:
    """Row number -> why it was refused ("" = it became a record) of the sheet read as `kind`."""
    return {row.row: row.refused for table in job.received if table.kind == kind for row in table.rows}


def in_doubt(job: Job) -> bool:
    """Is a row of the job in doubt, itself or one of its figures?"""
    return any(one.code in DOUBTS for one in job.findings)
