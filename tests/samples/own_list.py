"""A customer's own list with everything a workbook can carry besides cells: to be filled in, and nothing else of it changed."""

from __future__ import annotations

import struct
import zlib
from io import BytesIO
from pathlib import Path

import xlsxwriter

from tests.samples.book import LABEL, LEGEND, MADE

TITLE = "A customer's own list to be filled in"
NAME = "customer-list-to-fill.xlsx"
STORY = (
    "A heater list as a customer keeps it: a picture, a chart, comments, drop-downs, colours that follow the figures, charts in cells,",
    "links, totals, hidden columns, print settings. Fill it in, and see that nothing else of it has changed:",
    f"    heaterbatch fill {NAME}",
)
SHEET = "Heater list"
HEADINGS = ("Item", "Line", "Tank", "Bath", "Qty", "kW each", "Volts", "Phase", "Total kW", "Warm-up, 4 weeks (h)", "Trend", "Remarks")
HEADING_ROW, FIRST = 5, 6  # as the sheet numbers them
ROWS: tuple[tuple[object, ...], ...] = (
    ("West", "W-1", "soak clean", 6, 6, 480, 1, (5.1, 5.0, 5.4, 5.9), "Element 3 replaced"),
    ("West", "W-2", "hot rinse", 3, 9, 480, 3, (3.2, 3.1, 3.1, 3.0), None),
    ("West", "W-3", "nickel", 9, 4.5, 480, 1, (7.7, 7.9, 8.2, 9.0), "<new heaters> & liner"),
    ("East", "E-1", "etch", 12, 6, 480, 1, (6.0, 6.1, 6.0, 6.2), "Überlauf prüfen"),
    ("East", "E-2", "seal", "TBD", 12, 480, 3, (10.0, 9.8, 9.9, 9.7), "count the wells first"),
    ("East", "E-3", "dye", 2, 3, 240, 1, (2.2, 2.4, 2.3, 2.2), None),
)
TOTAL_ROW = FIRST + len(ROWS)


def write(path: Path, macros: Path | None = None) -> Path:
    """Writes the list; with a macro part from the file `macros` where that is given (an .xlsm)."""
    with xlsxwriter.Workbook(str(path), {"strings_to_formulas": False}) as book:
        book.set_properties({"title": f"{TITLE} (invented sample)", "comments": LABEL, "created": MADE})
        if macros is not None:
            book.add_vba_project(str(macros))
        _list(book)
        _prices(book)
        about = book.add_worksheet("About this sample")
        about.set_column(0, 0, 110, book.add_format({"text_wrap": True, "valign": "top"}))
        for row, line in enumerate([TITLE, LABEL, *LEGEND, *STORY]):
            about.write_string(row, 0, line)
    return path


def _list(book) -> None:
    sheet = book.add_worksheet(SHEET)
    head = book.add_format({"bold": True, "text_wrap": True, "border": 1, "bg_color": "#DCE6D8", "valign": "vcenter"})
    plain = book.add_format({"border": 4})
    money = book.add_format({"border": 4, "num_format": '0.0" h"'})
    bold = book.add_format({"bold": True, "top": 2})
    sheet.merge_range(0, 0, 1, 7, "HEATER LIST 2025 - INVENTED WORKS", book.add_format({"bold": True, "font_size": 16}))
    sheet.write_rich_string(2, 0, "All volts ", book.add_format({"italic": True}), "at the heater", " terminals")
    sheet.insert_image(0, 12, "plate.png", {"image_data": BytesIO(_picture()), "description": "an invented company's plate"})
    sheet.set_row(HEADING_ROW - 1, 32)
    for at, text in enumerate(HEADINGS):
        sheet.write_string(HEADING_ROW - 1, at, text, head)
    for at, (line, tank, bath, count, kw, volts, phase, hours, remark) in enumerate(ROWS):
        row = FIRST - 1 + at
        for column, value in enumerate((at + 1, line, tank, bath, count, kw, volts, phase)):
            sheet.write(row, column, value, plain)
        total = count * kw if isinstance(count, int) else "#VALUE!"
        sheet.write_formula(row, 8, f"=E{row + 1}*F{row + 1}", plain, total)
        sheet.write_formula(row, 9, f"=AVERAGE(Warmup!A{at + 1}:D{at + 1})", money, sum(hours) / 4)
        sheet.add_sparkline(row, 10, {"range": f"Warmup!A{at + 1}:D{at + 1}", "markers": True})
        sheet.write(row, 11, remark, plain)
    sheet.write_string(TOTAL_ROW - 1, 0, "Total", bold)
    sheet.write_formula(TOTAL_ROW - 1, 4, f"=SUM(E{FIRST}:E{TOTAL_ROW - 1})", bold, 32)
    sheet.write_string(TOTAL_ROW + 1, 0, "Ask the works office before you change this list.")
    sheet.write_url(TOTAL_ROW + 2, 0, "https://example.invalid/heaters", string="Heater data sheets")
    sheet.write_comment(FIRST, 2, "Measured in March", {"author": "works office"})
    sheet.data_validation(FIRST - 1, 7, TOTAL_ROW - 2, 7, {"validate": "list", "source": [1, 3]})
    sheet.conditional_format(FIRST - 1, 5, TOTAL_ROW - 2, 5, {"type": "data_bar"})
    sheet.conditional_format(FIRST - 1, 4, TOTAL_ROW - 2, 4, {"type": "cell", "criteria": ">", "value": 10, "format": bold})
    chart = book.add_chart({"type": "column"})
    tanks, powers = ([SHEET, FIRST - 1, column, TOTAL_ROW - 2, column] for column in (2, 5))
    chart.add_series({"name": "kW each", "values": powers, "categories": tanks})
    sheet.insert_chart(TOTAL_ROW + 5, 1, chart, {"description": "kW of each heater"})
    sheet.set_column(0, 0, 6)
    sheet.set_column(3, 3, 14, None, {"hidden": True})
    sheet.set_column(11, 11, 24)
    sheet.autofilter(HEADING_ROW - 1, 0, TOTAL_ROW - 2, 11)
    sheet.freeze_panes(HEADING_ROW, 3)
    sheet.repeat_rows(HEADING_ROW - 1)
    sheet.print_area(0, 0, TOTAL_ROW - 1, 11)
    sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
    sheet.set_header("&L&\"Arial\"Heater list")
    sheet.set_footer("&C" + LABEL + "&Rpage &P of &N")
    warm = book.add_worksheet("Warmup")
    for at, row in enumerate(ROWS):
        warm.write_row(at, 0, row[7])
    warm.hide()
    book.define_name("AllTanks", f"='{SHEET}'!$C${FIRST}:$C${TOTAL_ROW - 1}")


def _prices(book) -> None:
    sheet = book.add_worksheet("Prices")
    sheet.add_table(0, 0, 2, 1, {"columns": [{"header": "Heater"}, {"header": "Price"}], "data": [["6 kW", 310], ["9 kW", 365]]})
    sheet.write_formula(4, 1, f"=COUNTA('{SHEET}'!C{FIRST}:C{TOTAL_ROW - 1})", None, len(ROWS))


def _picture() -> bytes:
    """A plain plate, 96 x 48 dots (PNG: ISO/IEC 15948)."""
    wide, high = 96, 48
    line = b"\0" + b"\x5b\x7b\x6a" * wide

    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    head = struct.pack(">IIBBBBB", wide, high, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(line * high, 9)) + chunk(b"IEND", b"")
