"""The blank job workbook: every input column with its heading, unit, help, drop-down and limits, ready to type into."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from xlsxwriter.utility import xl_col_to_name

from batch.report.input_help import LONG, validation
from batch.sheets import INPUTS, Column, Sheet
from batch.sheets.received import READ_ME
from batch.writing.book import Book, whole_book
from batch.writing.page import Page
from batch.writing.paper import Footer, print_setup, print_strips, strips
from batch.writing.sheet_frame import fitted_width, heading_height
from batch.writing.styles import RULE, cell_props
from batch.writing.text_fit import INDENT, lines, row_height

NOTHING: Mapping[str, Sequence[str]] = {}
ROOM = 200  # rows of the table ready to type into; a table grows as one types below it
TITLE, HELP, FILL, HEADING, FIRST = 0, 1, 2, 3, 4
PRINTED = 30  # rows of an empty sheet that are printed, for notes by hand
WIDTHS = (22.0, 96.0)

STEPS = (
    "Fill Heaters: one row for each bank, that is, the identical heaters of one tank that are switched together. "
    "Columns marked * are needed; everything else may stay empty.",
    "Fill Feeders if you know the supplies; otherwise they are assumed: one for each name that rows give under "
    "Feeder and each heater voltage. The results say so.",
    "Fill Tanks for the safety cautions and the heat check, Projects for settings, Stock for the parts you buy.",
    "Leave blank what you do not know. Nothing is guessed silently: each default used is said in the results.",
    'Save the workbook and size it: heaterbatch size "NAME OF THIS FILE.xlsx". The results come in a new file; this one is never changed.',
)
UNITS = (
    "The unit stands in the heading. You may write another in the cell, such as 6000 W or 25 ft; it is converted.",
    "Power is for one heater, quantity counts heaters, volts are the heater's own rating. 480Y/277 on Feeders is 480 V with four wires.",
    "Columns may be moved, left out or added. What is added is carried to the results untouched.",
    "Click a cell to see what belongs there. Drop-downs and limits remind; they do not forbid.",
)
CAUTIONS = (
    "The sizing does not replace the code in force, the authority having jurisdiction, or the licensed engineer or electrician "
    "who answers for the work.",
    "Heaters that are energized without liquid over them start fires: state over-temperature limits and low-level cutoffs "
    "as they really are.",
)


def blank(path: Path, *, us: bool = True, own_editions: Sequence[str] = (), at_hand: Mapping[str, Sequence[str]] = NOTHING) -> None:
    """Writes the blank job workbook to `path`, headings in US units or SI. OutputFileError where that fails.

    own_editions  names of a firm's own rule sets, offered beside those of the program
    at_hand       by key of a column, the words that the program holds figures for: listed on the first sheet, and offered
    """
    path = Path(path)
    with whole_book(path, "Job workbook") as book:
        choices = _read_me(book, us, Footer(), at_hand)
        for sheet in INPUTS:
            _input_sheet(book, sheet, us=us, footer=Footer(), choices=choices, more={"code_basis": own_editions})


def heading(column: Column, us: bool) -> str:
    """The heading as typed under: unit in brackets, a wye where it must be filled."""
    return column.title(us) + (" *" if column.required else "")


def _read_me(book: Book, us: bool, footer: Footer, at_hand: Mapping[str, Sequence[str]]) -> dict[str, str]:
    """The first sheet; returns, by the column's key, the cells of choices that are too many for a drop-down of their own."""
    page = Page(book, book.add_worksheet(book.tab_name(READ_ME)), WIDTHS)
    page.title("Job workbook: tanks and immersion heaters", "Units: US customary where they differ from SI" if us else "Units: SI")
    page.section("What to do")
    for number, words in enumerate(STEPS, 1):
        page.entry(f"Step {number}", words, 1)
    page.section("Sheets")
    for sheet in INPUTS:
        page.link(0, sheet.name, "A1", sheet.name)
        words = f"One row for each {sheet.rows}. {sheet.help}"
        page.text(1, words, "wrap")
        page.fit((words, WIDTHS[1]))
        page.row += 1
    page.section("Headings")
    for style, label, words in (
        ("result", "Quantity *", "Dark, with an asterisk: must be filled in every row."),
        ("input", "Notes", "Light: may stay blank. The small print above it says what a blank means, or gives an example."),
    ):
        page.sheet.write_string(page.row, 0, label, page.styles.head(style))
        page.text(1, words, "wrap")
        page.row += 1
    page.section("Units and words")
    for words in UNITS:
        page.entry("", words, 1)
    page.section("Cautions")
    for words in CAUTIONS:
        page.entry("", words, 1)
    ranges: dict[str, str] = {}
    for title, (keys, listed) in _long_lists(at_hand).items():
        with page.together():
            page.section(title)
            first = page.row + 1
            for word in listed:
                page.text(0, word)
                page.row += 1
        ranges |= dict.fromkeys(keys, f"='{READ_ME}'!$A${first}:$A${page.row}")
    print_setup(page.sheet, footer, first_repeat=-1, last_repeat=-2, last_col=page.last_column, last_row=page.row - 1, landscape=False)
    page.print_in_whole_blocks(footer.paper)
    page.sheet.activate()
    return ranges


def _long_lists(at_hand: Mapping[str, Sequence[str]]) -> dict[str, tuple[list[str], Sequence[str]]]:
    """Heading of each list that stands on the first sheet, the keys of the columns that it is for, and its words."""
    found: dict[str, tuple[list[str], Sequence[str]]] = {}
    for column in (column for sheet in INPUTS for column in sheet.columns):
        if _too_many(column):
            found.setdefault(f"{column.heading}s", ([], tuple(column.choices)))[0].append(column.key)
        elif column.key in at_hand:
            words = at_hand[column.key]
            heads = (name for name, (_, others) in found.items() if others == words)
            found.setdefault(next(heads, f"{column.heading}: what figures are at hand for"), ([], words))[0].append(column.key)
    return found


def _too_many(column: Column) -> bool:
    """Whether the choices of a column are longer than a drop-down can hold them itself."""
    return column.kind == "choice" and len(",".join(column.offered or column.choices)) > LONG


def _input_sheet(
    book: Book, sheet: Sheet, *, us: bool, footer: Footer, choices: Mapping[str, str], more: Mapping[str, Sequence[str]]
) -> None:
    styles, columns = book.styles, sheet.columns
    worksheet = book.add_worksheet(book.tab_name(sheet.name))
    worksheet.hide_gridlines(2)
    worksheet.set_row(TITLE, 24)
    worksheet.write_string(TITLE, 0, sheet.name, styles["title"])
    worksheet.write_string(HELP, 0, sheet.help, styles["subtitle"])
    last, last_column = FIRST + ROOM - 1, len(columns) - 1
    headings = [heading(column, us) for column in columns]
    widths = [fitted_width(column.width, words) for column, words in zip(columns, headings, strict=True)]
    heads = [styles.head("result" if column.required else "input") for column in columns]
    for at, column in enumerate(columns):
        cell = styles.of(cell_props("input", _format(column)) | {"border": 1, "border_color": RULE})
        worksheet.set_column(at, at, widths[at])
        worksheet.write_string(FILL, at, column.fill_words, styles["fill_label"])
        worksheet.write_string(HEADING, at, headings[at], heads[at])
        listed = choices.get(column.key) or _listed(column)
        worksheet.data_validation(FIRST, at, last, at, validation(column, us, listed, more.get(column.key, ())))
        for row in range(FIRST, last + 1):
            worksheet.write_blank(row, at, None, cell)
    tallest = max(lines(column.fill_words, width - INDENT, size=8) for column, width in zip(columns, widths, strict=True))
    worksheet.set_row(FILL, row_height(tallest))
    worksheet.set_row(HEADING, heading_height(headings, widths))
    headers = [{"header": words, "header_format": head} for words, head in zip(headings, heads, strict=True)]
    worksheet.add_table(HEADING, 0, last, last_column, {"name": f"Table_{sheet.id}", "style": None, "columns": headers})
    frozen = sum(1 for column in columns[:3] if column.key in sheet.key)
    worksheet.freeze_panes(FIRST, frozen)
    print_setup(worksheet, footer, first_repeat=FILL, last_repeat=HEADING, last_col=last_column, last_row=FIRST + PRINTED)
    print_strips(worksheet, strips(widths, frozen), frozen, FIRST + PRINTED)


def _listed(column: Column) -> str:
    """The cells of the form that list the tags of this column; "" where no sheet does."""
    if not column.listed_on:
        return ""
    [sheet] = [sheet for sheet in INPUTS if sheet.id == column.listed_on]
    letter = xl_col_to_name([other.key for other in sheet.columns].index(column.key))
    return f"='{sheet.name}'!${letter}${FIRST + 1}:${letter}${FIRST + ROOM}"


def _format(column: Column) -> str:
    """What is typed is shown as typed: text stays text, a number is not rounded."""
    if column.kind == "date":
        return "date"
    return "number" if column.kind in ("integer", "number", "volts") else "text"
