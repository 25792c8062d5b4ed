"""The blank job workbook: every input column with its heading, unit, help, drop-down and limits, ready to type into."""

from __future__ import annotations

from pathlib import Path

from batch.report.book import Book, whole_book
from batch.report.sheet_writer import Footer, print_setup
from batch.report.styles import STYLES
from batch.report.text_fit import lines, row_height
from batch.sheets import INPUTS, Column, Sheet

ROOM = 200  # rows of the table ready to type into; a table grows as one types below it
TITLE, HELP, FILL, HEADING, FIRST = 0, 1, 2, 4, 5
READ_ME = "Read me first"
SHORT, LONG = 32, 255  # what a cell's input message can hold (ECMA-376 part 1, 18.3.1.32: promptTitle, prompt)

STEPS = (
    (
        "1",
        "Fill Heaters: one row for each bank, that is, the identical heaters of one tank that are switched together. "
        "Columns marked * are needed.",
    ),
    ("2", "Fill Feeders if you know the supplies; otherwise one is assumed for each heater voltage, and the results say so."),
    (
        "3",
        "Fill Tanks for the safety cautions and the heat check, Projects for settings, Stock for the parts you buy. Each may stay empty.",
    ),
    ("4", "Leave blank what you do not know. A blank is never guessed silently: each default used is said in the results."),
    ("5", "Save, and size the workbook. The results come in a new file; this one is never changed."),
)
UNITS = (
    "The unit stands in the heading. You may write another in the cell, such as 6000 W or 25 ft; it is converted.",
    "Power is for one heater, quantity counts heaters, volts are the heater's own rating. 480Y/277 on Feeders is 480 V with four wires.",
    "Columns may be moved, left out or added; what is added is carried to the results untouched.",
)
CAUTIONS = (
    "The sizing does not replace the code in force, the authority having jurisdiction, or the licensed engineer or electrician "
    "who answers for the work.",
    "Heaters that are energized without liquid over them start fires: state over-temperature protectors and low-level cutoffs "
    "as they really are.",
)


def blank(path: Path, *, us: bool = True) -> None:
    """Writes the blank job workbook to `path`, headings in US units or SI. OutputFileError where that fails."""
    path = Path(path)
    with whole_book(path, "Job workbook") as book:
        _read_me(book, us, path.name)
        for sheet in INPUTS:
            _input_sheet(book, sheet, us, path.name)


def heading(column: Column, us: bool) -> str:
    """The heading as typed under: unit in brackets, a star where it must be filled."""
    return column.title(us) + (" *" if column.required else "")


def _read_me(book: Book, us: bool, file: str) -> None:
    styles = book.styles
    sheet = book.add_worksheet(book.tab_name(READ_ME))
    sheet.hide_gridlines(2)
    sheet.set_column(0, 0, 22)
    sheet.set_column(1, 1, 96)
    sheet.set_row(0, 26)
    sheet.write_string(0, 0, "Job workbook: tanks and immersion heaters", styles["title"])
    sheet.write_string(1, 0, "Units: " + ("US customary where they differ from SI" if us else "SI"), styles["subtitle"])
    row = 3

    def section(words: str) -> None:
        nonlocal row
        sheet.write_string(row, 0, words, styles["section"])
        sheet.write_blank(row, 1, None, styles["section"])
        row += 1

    def entry(label: str, text: str, style: object = None) -> None:
        nonlocal row
        sheet.write_string(row, 0, label, style or styles["strong"])
        sheet.write_string(row, 1, text, styles["wrap"])
        row += 1

    section("What to do")
    for number, text in STEPS:
        entry(f"Step {number}", text)
    row += 1
    section("Sheets")
    for one in INPUTS:
        sheet.write_url(row, 0, f"internal:'{one.name}'!A1", styles["link"], one.name)
        sheet.write_string(row, 1, f"One row for each {one.rows}. {one.help}", styles["wrap"])
        row += 1
    row += 1
    section("Headings")
    entry("Quantity (ea) *", "Dark heading with a star: must be filled.", styles.head("result"))
    entry("Notes", "Light heading: may stay blank; the line above it says what a blank means.", styles.head("input"))
    row += 1
    section("Units and words")
    for text in UNITS:
        entry("", text)
    row += 1
    section("Cautions")
    for text in CAUTIONS:
        entry("", text)
    print_setup(sheet, Footer(file), -1, -2, 1, row, landscape=False)
    sheet.activate()


def _input_sheet(book: Book, sheet: Sheet, us: bool, file: str) -> None:
    styles = book.styles
    worksheet = book.add_worksheet(book.tab_name(sheet.name))
    worksheet.set_row(TITLE, 24)
    worksheet.write_string(TITLE, 0, sheet.name, styles["title"])
    worksheet.write_string(HELP, 0, sheet.help, styles["subtitle"])
    last = FIRST + ROOM - 1
    heads = []
    for at, column in enumerate(sheet.columns):
        head = styles.head("result" if column.required else "input")
        heads.append(head)
        worksheet.set_column(at, at, column.width, styles.of({**STYLES["plain"], "num_format": _format(column)}))
        worksheet.write_string(FILL, at, fill_words(column, us), styles["fill_label"])
        worksheet.write_string(HEADING, at, heading(column, us), head)
        worksheet.data_validation(FIRST, at, last, at, validation(column, us))
    worksheet.set_row(FILL, row_height(max(lines(fill_words(column, us), column.width, size=8) for column in sheet.columns)))
    worksheet.set_row(HEADING, row_height(max(lines(heading(column, us), column.width, True) for column in sheet.columns)) + 3)
    worksheet.add_table(
        HEADING,
        0,
        last,
        len(sheet.columns) - 1,
        {
            "name": f"Table_{sheet.id}",
            "style": "Table Style Light 1",
            "columns": [
                {"header": heading(column, us), "header_format": style} for column, style in zip(sheet.columns, heads, strict=True)
            ],
        },
    )
    worksheet.freeze_panes(FIRST, _frozen(sheet))
    print_setup(worksheet, Footer(file), HEADING, HEADING, len(sheet.columns) - 1, FIRST + 24)


def _frozen(sheet: Sheet) -> int:
    return sum(1 for column in sheet.columns[:3] if column.key in sheet.key)


def _format(column: Column) -> str:
    """What is typed is shown as typed: text stays text, a number is not rounded."""
    if column.kind == "date":
        return "yyyy-mm-dd"
    return "General" if column.kind in ("integer", "number", "volts") else "@"


def fill_words(column: Column, us: bool) -> str:
    """The small print above a heading: what a blank means, or an example."""
    if column.required:
        return f"for example {column.example}" if column.example else "needed"
    if column.default:
        return f"blank: {column.default}"
    return f"for example {column.example}" if column.example else "may stay blank"


def validation(column: Column, us: bool) -> dict:
    """Data validation of a column: the help as input message, choices as a list, limits as limits.

    Lists and limits warn and let the user go on: other spellings and units in the cell are read too.
    """
    rule: dict = {
        "validate": "any",
        "input_title": _cut(column.heading, SHORT),
        "input_message": _cut(help_words(column, us), LONG),
        "error_type": "information",
        "ignore_blank": True,
    }
    if column.kind == "choice":
        rule |= {
            "validate": "list",
            "source": list(column.choices),
            "error_title": "Not in the list",
            "error_message": "Other spellings are read where they are plain; otherwise the results say so.",
        }
    elif column.kind in ("integer", "number") and (column.low is not None or column.above is not None or column.high is not None):
        rule |= {"validate": "decimal" if column.kind == "number" else "integer"} | _limits(column, us)
        rule |= {
            "error_title": "Outside the usual limits",
            "error_message": f"Expected {limit_words(column, us)}. A unit may stand in the cell, such as 6000 W.",
        }
    return rule


def shown(column: Column, value: float, us: bool) -> float:
    """A limit in the unit shown, to four significant digits (limits are round in SI)."""
    if not us or not column.us_unit:
        return value
    from batch.units import convert

    return float(f"{convert(value, column.unit, column.us_unit):.4g}")


def _limits(column: Column, us: bool) -> dict:
    low = column.low if column.low is not None else column.above
    if low is not None and column.high is not None:
        return {"criteria": "between", "minimum": shown(column, low, us), "maximum": shown(column, column.high, us)}
    if low is not None:
        return {"criteria": ">=" if column.low is not None else ">", "value": shown(column, low, us)}
    return {"criteria": "<=", "value": shown(column, column.high, us)}


def limit_words(column: Column, us: bool) -> str:
    """Limits in words: "0 to 100 %", "above 0, up to 1000 kW"."""
    unit = column.shown_unit(us)
    unit = f" {unit}" if unit else ""
    high = f"{shown(column, column.high, us):g}{unit}" if column.high is not None else ""
    if column.low is not None:
        return f"{shown(column, column.low, us):g} to {high}" if high else f"{shown(column, column.low, us):g}{unit} or more"
    if column.above is not None:
        return f"above {shown(column, column.above, us):g}" + (f", up to {high}" if high else unit)
    return f"up to {high}" if high else ""


def help_words(column: Column, us: bool) -> str:
    """Everything a person needs to fill the cell, in one message."""
    parts = [column.help]
    if column.choices:
        parts.append("One of: " + ", ".join(column.choices) + ".")
    limits = limit_words(column, us)
    if limits:
        parts.append(limits[0].upper() + limits[1:] + ".")
    if column.default:
        parts.append(f"Blank: {column.default}.")
    if column.example:
        parts.append(f"Example: {column.example}.")
    if column.required:
        parts.insert(0, "Needed.")
    return " ".join(part for part in parts if part)


def _cut(text: str, room: int) -> str:
    return text if len(text) <= room else text[: room - 1].rsplit(" ", 1)[0] + "…"
