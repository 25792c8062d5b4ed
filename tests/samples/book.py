"""Writes an invented job as a job workbook: headings from the column specification, one sheet about the sample itself."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from pathlib import Path

import xlsxwriter

from batch.sheets import INPUTS

MADE = datetime.datetime(2025, 1, 1)  # fixed: the same script gives the same bytes
LABEL = "INVENTED SAMPLE: fictitious plant, people and figures. Not a design for any real installation."
LEGEND = (
    "Everything in this workbook is invented: the town, the plant, its lines, tanks, heaters and supplies exist nowhere.",
    "It is here to try the program with. Do not build from it, and do not take a figure from it for a real job.",
    "The program's results defer to the code in force, the authority having jurisdiction and the licensed engineer or electrician "
    "responsible.",
)


def write(path: Path, title: str, story: Sequence[str], tables: Mapping[str, Sequence[Mapping[str, object]]], us: bool = True) -> None:
    """One job workbook.

    Args:
        path: file to write.
        title: what the sample is, in a few words.
        story: lines for the sheet "About this sample".
        tables: sheet id ("heaters") -> rows; a row maps a column key to its value in the unit of the heading.
        us: headings in US units, else SI.
    """
    book = xlsxwriter.Workbook(str(path), {"strings_to_formulas": False, "strings_to_urls": False})
    book.set_properties({"title": f"{title} (invented sample)", "comments": LABEL, "created": MADE})
    heading = book.add_format({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1})
    about = book.add_worksheet("About this sample")
    about.set_column(0, 0, 110, book.add_format({"text_wrap": True, "valign": "top"}))
    for row, line in enumerate([title, LABEL, *LEGEND, *story]):
        about.write_string(row, 0, line, *([heading] if row == 0 else []))
    for spec in INPUTS:
        rows = tables.get(spec.id)
        if rows is None:
            continue
        used = [column for column in spec.columns if column.required or any(row.get(column.key) not in (None, "") for row in rows)]
        sheet = book.add_worksheet(spec.name)
        sheet.set_row(0, 45)
        sheet.freeze_panes(1, 0)
        sheet.repeat_rows(0)
        sheet.set_landscape()
        sheet.fit_to_pages(1, 0)
        sheet.set_footer("&L&F, &A&C" + LABEL.replace("&", "&&") + "&Rpage &P of &N")
        for at, column in enumerate(used):
            sheet.set_column(at, at, column.width)
            sheet.write_string(0, at, column.title(us) + (" *" if column.required else ""), heading)
            for row, values in enumerate(rows, start=1):
                put(sheet, row, at, values.get(column.key))
        if rows:
            sheet.autofilter(0, 0, len(rows), len(used) - 1)
    book.close()


def put(sheet, row: int, at: int, value: object) -> None:
    """One cell: nothing, a number, or text that stays text."""
    if value is None or value == "":
        return
    if isinstance(value, bool):
        sheet.write_boolean(row, at, value)
    elif isinstance(value, int | float):
        sheet.write_number(row, at, value)
    else:
        sheet.write_string(row, at, str(value))
