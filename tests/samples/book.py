"""Writes an invented job as a job workbook: headings from the column specification, one sheet about the sample itself."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

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

Rows = Sequence[Mapping[str, object]]


class Formula(NamedTuple):
    """A cell with a formula; `stored` is its stored value, an error such as "#DIV/0!" included; "" is none."""

    text: str
    stored: object


class Looks(NamedTuple):
    """The cell formats of a sample."""

    head: object
    text: object
    number: object
    day: object


class Extra(NamedTuple):
    """A sheet that is not of the specification: plain rows of cells."""

    name: str
    rows: Sequence[Sequence[object]]
    hidden: bool = False


def write(
    path: Path,
    title: str,
    story: Sequence[str],
    tables: Mapping[str, Rows],
    us: bool = True,
    headings: Mapping[str, Mapping[str, str]] | None = None,
    extras: Sequence[Extra] = (),
    macros: Path | None = None,
) -> None:
    """One job workbook.

    Args:
        path: file to write.
        title: what the sample is, in a few words.
        story: lines for the sheet "About this sample".
        tables: sheet id ("heaters") -> rows; a row maps a column key to its value in the unit of the heading.
        us: headings in US units, else SI.
        headings: sheet id -> key -> heading, in place of the specification's; a key that it does not know is one more column.
        extras: sheets beside those of the specification.
        macros: a file to put in as the macro part (an .xlsm).
    """
    book = xlsxwriter.Workbook(str(path), {"strings_to_formulas": False, "strings_to_urls": False})
    book.set_properties({"title": f"{title} (invented sample)", "comments": LABEL, "created": MADE})
    if macros is not None:
        book.add_vba_project(str(macros))
    looks = Looks(
        head=book.add_format({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1, "bg_color": "#EEF1EC"}),
        text=book.add_format({"align": "left", "valign": "top", "indent": 1, "bottom": 4, "bottom_color": "#B8BDB6"}),
        number=book.add_format({"valign": "top", "bottom": 4, "bottom_color": "#B8BDB6"}),
        day=book.add_format({"num_format": "yyyy-mm-dd", "valign": "top", "bottom": 4, "bottom_color": "#B8BDB6"}),
    )
    about = book.add_worksheet("About this sample")
    about.set_column(0, 0, 110, book.add_format({"text_wrap": True, "valign": "top"}))
    about.fit_to_pages(1, 0)
    for row, line in enumerate([title, LABEL, *LEGEND, *story]):
        about.write_string(row, 0, line, *([looks.head] if row == 0 else []))
    for spec in INPUTS:
        if spec.id in tables:
            _table(book, spec, tables[spec.id], us, (headings or {}).get(spec.id, {}), looks)
    for extra in extras:
        sheet = book.add_worksheet(extra.name)
        if extra.hidden:
            sheet.hide()
        for row, cells in enumerate(extra.rows):
            for at, value in enumerate(cells):
                if value is not None:
                    _put(sheet, row, at, value, looks)
    book.close()


def _table(book, spec, rows: Rows, us: bool, renamed: Mapping[str, str], looks: Looks) -> None:
    used = {
        column.key: (renamed.get(column.key) or column.title(us) + (" *" if column.required else ""), column.width)
        for column in spec.columns
        if column.required or any(row.get(column.key) not in (None, "") for row in rows)
    }
    used |= {key: (heading, 14) for key, heading in renamed.items() if key not in used}
    sheet = book.add_worksheet(spec.name)
    sheet.set_row(0, 45)
    sheet.freeze_panes(1, 0)
    sheet.repeat_rows(0)
    sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
    sheet.set_footer("&L&F, &A&C" + LABEL + "&Rpage &P of &N")
    for at, (key, (heading, width)) in enumerate(used.items()):
        longest = max((len(str(values.get(key) or "")) for values in rows), default=0)
        sheet.set_column(at, at, max(width, min(longest, 60)))
        sheet.write_string(0, at, heading, looks.head)
        for row, values in enumerate(rows, start=1):
            _put(sheet, row, at, values.get(key), looks)
    if rows:
        sheet.autofilter(0, 0, len(rows), len(used) - 1)


def _put(sheet, row: int, at: int, value: object, looks: Looks) -> None:
    """One cell: nothing, a number, a date, a formula, or text that stays text."""
    if value is None or value == "":
        sheet.write_blank(row, at, None, looks.text)
    elif isinstance(value, Formula):
        sheet.write_formula(row, at, value.text, looks.number, value.stored)
    elif isinstance(value, datetime.date):
        sheet.write_datetime(row, at, value, looks.day)
    elif isinstance(value, int | float):
        sheet.write_number(row, at, value, looks.number)
    else:
        sheet.write_string(row, at, str(value), looks.text)
