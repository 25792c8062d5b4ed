"""A customer's own list, as messy as such lists are: every trouble in it is one that a person would read past without a thought."""

from __future__ import annotations

from pathlib import Path

import xlsxwriter

from tests.samples.book import LABEL, LEGEND, MADE

MAP = "customer-list map.toml"
TITLE = "A customer's own messy list"
STORY = (
    "Two lines on two sheets under the customer's own headings, an older issue of one of them, and a sheet of remarks.",
    "Draft a column map, look through it, and size by it:",
    "    heaterbatch check customer-list.xlsx --propose-map map.toml",
    "    heaterbatch size customer-list.xlsx --map map.toml",
    f"What the first command drafts stands beside this file as \"{MAP}\".",
    "Some rows cannot be read for certain, and each of them is reported with what to do; the others are sized.",
)


def line_one(book, looks) -> None:
    """Two heading rows, merged tags, units beside numbers, section rows, totals, headings again, numbered empty rows, footnotes."""
    sheet = book.add_worksheet("LINE 1 ")
    sheet.write_string(0, 0, "HEATER SCHEDULE - ZINC LINE (INVENTED)", looks["head"])
    sheet.write_string(1, 0, "Rev. C. All volts at the heater terminals. Ambient 95 F.")
    sheet.merge_range(3, 0, 4, 0, "ITEM", looks["head"])
    sheet.merge_range(3, 1, 4, 1, "TANK\nNO. ", looks["head"])
    sheet.merge_range(3, 2, 3, 5, "IMMERSION HEATERS", looks["head"])
    sheet.merge_range(3, 6, 3, 7, "RATING (EACH)", looks["head"])
    sheet.merge_range(3, 8, 4, 8, "REMARKS", looks["head"])
    sheet.merge_range(3, 9, 4, 9, "HTR SHEATH MAT'L", looks["head"])
    for at, text in enumerate(("QTY", "POWER EA", "UNIT", "Panel to heater (ft)", "VOLTAGE", "PH"), 2):
        sheet.write_string(4, at, text, looks["head"])
    rows = [
        ("SECTION A - CLEANING",),
        (1, "Z-101", 6, 6, "kW", 40, 480, 3, "soak clean", "316 SS"),
        (2, "Z-102", "4 ea", 6000, "W", 45, 480, 1, "electroclean", "316 SS"),
        (3, None, 3, "7,5", "kW", 50, 480, 1, "second bank of Z-102, same tag cell", "316 SS"),
        (4, "Z-103", None, "3 x 9 kW", None, "55 ft", "480/3/60", None, "rinse", "titanium"),
        (),
        ("SECTION B - PLATING",),
        ("ITEM", "TANK NO.", "QTY", "POWER EA", "UNIT", "Panel to heater (ft)", "VOLTAGE", "PH", "REMARKS", "HTR SHEATH MAT'L"),
        (5, "Z-201", 8, 4.5, "kW", 60, 480, 1, None, "PTFE"),
        (6, "Z-202", 8, "4,5", "kW", 65, 480, 1, "decimal comma", "PTFE"),
        (7, "Z-203", 2, "1,250", "W", 65, 480, 1, "watts: the commas above are decimal ones, this is not", "PTFE"),
        (None, "Z-203", 1, "1,125", "kW", 65, 480, 1, "1.125 kW by the commas above"),
        (8, "Z-204 to Z-206", 4, 6, "kW", 70, 480, 1, "four in each, or four in all?", "PTFE"),
        (9, "Z-207", 4, "TBD", "kW", 70, 480, 1, "waiting for the maker", "PTFE"),
        (10, "Z-208 & Z-209", 6, 6, "kW", 70, 480, 1, "one bath of two cells", "PTFE"),
        (None, "TOTAL", 45, None, None, None, None, None, "heaters"),
        (11, "211"), (12, "212"), (13, "213"),
        ("* lengths are scaled from the drawing",),
    ]  # fmt: skip
    for row, cells in enumerate(rows, 5):
        _row(sheet, row, cells)
    sheet.merge_range(7, 1, 8, 1, "Z-102", looks["plain"])
    sheet.set_column(0, 9, 14)


def line_two(book, looks) -> None:
    """Two tables beside each other, and one below whose columns stand in another order."""
    sheet = book.add_worksheet("LINE 2")
    sheet.write_string(0, 0, "NICKEL LINE (INVENTED)", looks["head"])
    headings = ("Tank", "Qty", "kW each", "Volts", "Phase")
    _row(sheet, 2, (*headings, None, *headings), looks["head"])
    for row, cells in enumerate(
        [
            ("N-1", 3, 6, 480, 1, None, "N-11", 2, 9, 480, 3),
            ("N-2", 6, 6, 480, 1, None, "N-12", 4, 6, 480, 1),
            ("N-3", 9, 6, 480, 1, None, "N-13", "n/a", 6, 480, 1),
            ("N-4", 3, 4, 277, 1),
            ("Total", 21, 126),
        ],
        3,
    ):
        _row(sheet, row, cells)


def old_issue(book, looks) -> None:
    sheet = book.add_worksheet("LINE 2 (old)")
    _row(sheet, 0, ("Tank", "Qty", "kW each", "Volts", "Phase"), looks["head"])
    _row(sheet, 1, ("N-1", 2, 6, 480, 1))


def line_three(book, looks) -> None:
    """A table, and below it one whose columns stand in another order."""
    sheet = book.add_worksheet("RINSES")
    _row(sheet, 0, ("Tank", "Quantity", "Power (kW)", "Volts", "Phases", "Fed from"), looks["head"])
    _row(sheet, 1, ("R-1", 2, 3, 240, 1))
    _row(sheet, 2, ("R-2", "(3) 3 kW", None, 240, 1))
    _row(sheet, 4, ("Tank", "Volts", "Phases", "Power (W)", "Quantity"), looks["head"])
    _row(sheet, 5, ("R-3", 240, 1, 3000, 4))


def _row(sheet, row: int, cells: tuple, look=None) -> None:
    for at, value in enumerate(cells):
        if isinstance(value, str):
            sheet.write_string(row, at, value, look)
        elif value is not None:
            sheet.write_number(row, at, value, look)


def write(path: Path) -> Path:
    """Writes the list."""
    with xlsxwriter.Workbook(str(path), {"strings_to_formulas": False, "strings_to_urls": False}) as book:
        book.set_properties({"title": f"{TITLE} (invented sample)", "comments": LABEL, "created": MADE})
        looks = {"head": book.add_format({"bold": True, "text_wrap": True, "border": 1, "align": "center"}), "plain": book.add_format()}
        about = book.add_worksheet("About this sample")
        about.set_column(0, 0, 110, book.add_format({"text_wrap": True, "valign": "top"}))
        for row, line in enumerate([TITLE, LABEL, *LEGEND, *STORY]):
            about.write_string(row, 0, line, *([looks["head"]] if row == 0 else []))
        line_one(book, looks)
        line_two(book, looks)
        old_issue(book, looks)
        line_three(book, looks)
    return path
