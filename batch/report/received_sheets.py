"""As received: every row and column of the customer's tables as they came, with what became of each row."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from datetime import date, datetime, time
from math import isfinite
from typing import NamedTuple

from xlsxwriter.utility import xl_col_to_name

from batch.findings import Finding, Severity
from batch.received_rows import ReceivedTable
from batch.results import JobResult
from batch.schedules.row_marks import row_mark
from batch.schedules.sized_data import OwnCells
from batch.sheets import INPUTS
from batch.sheets.received import LONGEST_HEADING, MAPPED, OWN, READ_AS, RECEIVED, RECEIVED_HELP, RECEIVED_TITLE, RECEIVED_WORDS
from batch.writing.book import Book
from batch.writing.fast_sheet import LONGEST, Cells, clean
from batch.writing.paper import Footer, print_setup, print_strips, strips
from batch.writing.placed import BAND, DATA, HEADING, TOTALS
from batch.writing.sheet_frame import band, cover, fitted_width, head_of, heading_height, table_name
from batch.writing.text_fit import INDENT

OWN_WIDTHS = (9.0, 16.0, 40.0)
KINDS = {sheet.id: sheet.name for sheet in INPUTS}
LONGEST_CELL = 32767  # characters


class Received(NamedTuple):
    """Where a table of the input came to stand."""

    name: str
    rows: int
    own: OwnCells


def write_received(book: Book, result: JobResult, table: ReceivedTable, number: int, footer: Footer) -> Received | None:
    """The sheet for one table of the input; None where it has no row."""
    width = max([len(table.headings), *(len(row.values) for row in table.rows)], default=0)
    if not width or not table.rows:
        return None
    styles = book.styles
    sheet = table.sheet.removeprefix(RECEIVED)  # which it has where a results workbook is sized again
    name = book.tab_name(f"{RECEIVED}{sheet}")
    worksheet = book.add_worksheet(name)
    help = f"{RECEIVED_HELP} {READ_AS}{KINDS[table.kind]}." if table.kind else RECEIVED_HELP
    came = result.job.came_from.get(table.sheet)
    head_of(book, worksheet, f"{RECEIVED_TITLE}{clean(came.sheet if came else sheet)}", help)
    if table.plan and len(table.plan) <= LONGEST_CELL - len(MAPPED):
        worksheet.write_string(TOTALS, 0, f"{MAPPED}{table.plan}", book.styles["subtitle"])
    whole = [*table.headings, *[""] * (width - len(table.headings))]
    headings = [*OWN, *unique(whole, OWN)]
    roles = ["result"] * len(OWN) + ["input"] * width
    heads = [styles.head(role) for role in roles]
    widths = [*OWN_WIDTHS, *(_width(table, at, heading) for at, heading in enumerate(headings[len(OWN) :]))]
    for at, size in enumerate(widths):
        worksheet.set_column(at, at, size)
        worksheet.write_string(HEADING, at, headings[at], heads[at])
    worksheet.set_row(HEADING, heading_height(headings, widths))
    cuts = strips(widths, len(OWN))
    band(book, worksheet, roles, widths, words=RECEIVED_WORDS, starts={first for first, _ in cuts})
    for at, heading in enumerate(whole, len(OWN)):
        if len(heading) > LONGEST_HEADING:
            worksheet.write_string(BAND, at, clean(heading), styles.band("input"))
    rows = _rows(result, table, width)
    worksheet.store_rows(DATA, _columns(book, rows, widths), rows)
    last = DATA + len(rows) - 1
    cover(worksheet, headings, heads, last, table_name("received", number))
    worksheet.freeze_panes(DATA, len(OWN))
    print_setup(worksheet, footer, first_repeat=BAND, last_repeat=HEADING, last_col=len(headings) - 1, last_row=last)
    print_strips(worksheet, cuts, len(OWN), last)
    numbers = [row[0] for row in rows if row[0] is not None]
    said = frozenset((fate, why or "") for _, fate, why, *_ in rows)
    first = came.first + table.first - came.own if came else table.first
    heading_row = came.rows.get(table.heading_row, 0) if came else table.heading_row
    marks = tuple(row_mark(row[len(OWN) :]) for row in rows) if result.job.sent is not None and table.stands is None else ()
    titles = tuple(headings[len(OWN) :])
    own = OwnCells(min(numbers, default=0), max(numbers, default=0), said, first, table.stands, titles, heading_row, marks)
    return Received(name, len(rows), own)


def _rows(result: JobResult, table: ReceivedTable, width: int) -> list[tuple]:
    """Row number in the list as it was sent, where the row stood there, fate and reason, then the row as it came."""
    came = result.job.came_from.get(table.sheet)
    why = _why(result.findings, table.sheet)
    return [
        (
            came.rows.get(row.row) if came else row.row,
            result.fates.get((row.sheet, row.row)) or ("not read" if row.refused else "read"),
            _reason(row.refused, why.get(row.row), any(isinstance(value, str) and len(clean(value)) < len(value) for value in row.values)),
            *(cell(value) for value in row.values),
            *[None] * (width - len(row.values)),
        )
        for row in table.rows
    ]


def _columns(book: Book, rows: list[tuple], widths: list[float]) -> list[Cells]:
    """How each column is written: text stays text, numbers stand at the right."""
    styles = book.styles
    given, number, day = styles.cell("input", "text", True), styles.cell("input", "number_any"), styles.cell("input", "moment")
    columns = [
        Cells(0, styles.cell("result", "count")),
        Cells(1, styles.cell("result", "prose", True), wrap=widths[1] - INDENT, bold=True),
        Cells(2, styles.cell("text", "prose", True), wrap=widths[2] - INDENT),
    ]
    for at in range(len(OWN), len(widths)):
        texts = any(isinstance(row[at], str) for row in rows)
        columns.append(
            Cells(at, given if texts else number, date_format=day, number_format=number, wrap=widths[at] - INDENT if texts else 0.0)
        )
    return columns


def cell(value: object) -> object:
    """A received value as a cell can hold it; what no cell can hold is given as text rather than lost."""
    if value is None or value.__class__ is str or isinstance(value, (bool, str)):
        return value
    if isinstance(value, (int, float)):
        return value if isfinite(value) and abs(value) < 1e308 else str(value)
    if isinstance(value, (datetime, date)):
        return value if value.year >= 1900 else value.isoformat()
    return value if isinstance(value, time) else str(value)


def unique(headings: list[str], taken: tuple[str, ...] = ()) -> list[str]:
    """Headings word for word, a number added only where one stands twice (ignoring case); named by column where blank.

    A table takes no longer heading than LONGEST_HEADING; one that is longer is cut here and stands whole in the band above.
    """
    seen, out = {name.casefold() for name in taken}, []
    for at, heading in enumerate(headings):
        base = clean(heading)[:LONGEST_HEADING] if heading.strip() else f"(column {xl_col_to_name(at)}, no heading)"
        name, number = base, 1
        while name.casefold() in seen:
            number += 1
            name = f"{base} ({number})"
        seen.add(name.casefold())
        out.append(name)
    return out


def _why(findings: tuple[Finding, ...], sheet: str) -> Mapping[int, list[str]]:
    """Row -> titles of the holds and cautions said about cells of that row."""
    why: dict[int, list[str]] = defaultdict(list)
    for said in findings:
        digits = said.cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
        if said.sheet == sheet and digits.isdigit() and said.severity is not Severity.NOTE and said.kind.title not in why[int(digits)]:
            why[int(digits)].append(said.kind.title)
    return why


def _reason(refused: str, kinds: list[str] | None, cut: bool) -> str | None:
    said = [
        *([refused] if refused else []),
        *(kinds or []),
        *([f"a text is longer than the {LONGEST:,} characters of a cell"] if cut else []),
    ]
    return "; ".join(said) or None


def _width(table: ReceivedTable, at: int, heading: str) -> float:
    """Wide enough for the heading's words and the first rows, within reason."""
    seen = (row.values[at] for row in table.rows[:200] if at < len(row.values))
    longest = max((len(str(value)) for value in seen if value is not None), default=0)
    most = 90 if len(table.headings) <= 2 else 36  # a sheet of sentences, or a table
    return float(min(most, max(9.0, longest + 3, fitted_width(0, " ".join(heading.split())[:40]))))
