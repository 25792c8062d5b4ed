"""The sheet Changes: cells of many quantities in one column, so every cell has the number format of the column that it comes from."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from batch.comparing.changeset import SORTS, Change, Comparison, is_number
from batch.comparing.input_changes import PROGRAM
from batch.comparing.lines import SHEETS as INPUTS
from batch.comparing.outcomes import SHEETS as RESULTS
from batch.comparing.trials import in_unit, shown
from batch.schedules.country_words import NAMED
from batch.sheets.changes import CHANGES
from batch.sheets.column import Column
from batch.writing.book import Book
from batch.writing.fast_sheet import clean
from batch.writing.paper import Footer, print_setup, print_strips, strips
from batch.writing.placed import BAND, DATA, HEADING, Placed
from batch.writing.sheet_frame import band, cover, fitted_width, head_of, head_style, heading_height, table_name
from batch.writing.styles import BAND_WORDS
from batch.writing.text_fit import INDENT, lines, row_height

KEYS = 1  # columns kept in sight
ALONE = "alone gives it"
TOGETHER = "moves it, not alone"


def write_changes(
    book: Book, changes: Sequence[tuple[str, Change]], footer: Footer, whole: Comparison, *, us: bool, name: str = CHANGES.name,
    number: int = 1
) -> Placed | None:
    """Writes (step, change) rows in the order given, each in the words of its project; None where there is none."""
    if not changes:
        return None
    name = book.tab_name(name)
    worksheet = book.add_worksheet(name)
    columns = [column for column in CHANGES.columns if column.key != "step" or len({step for step, _ in changes}) > 1]
    titles = [column.title(us) for column in columns]
    widths = [fitted_width(column.width, title) for column, title in zip(columns, titles, strict=True)]
    cuts = strips(widths, KEYS)
    heads = [head_style(book, column) for column in columns]
    head_of(book, worksheet, name, CHANGES.help)
    for at, width in enumerate(widths):
        worksheet.set_column(at, at, width)
        worksheet.write_string(HEADING, at, titles[at], heads[at])
    worksheet.set_row(HEADING, heading_height(titles, widths))
    band(book, worksheet, [column.role for column in columns], widths, words=BAND_WORDS[CHANGES.id], starts={first for first, _ in cuts})
    for at, (step, change) in enumerate(changes):
        cells = change_cells(at + 1, step, change, whole, us)
        _row(book, worksheet, DATA + at, cells, of=change.column, columns=columns, widths=widths)
    last = DATA + len(changes) - 1
    cover(worksheet, titles, heads, last, table_name(CHANGES.id, number))
    worksheet.freeze_panes(DATA, KEYS)
    print_setup(worksheet, footer, first_repeat=BAND, last_repeat=HEADING, last_col=len(columns) - 1, last_row=last)
    print_strips(worksheet, cuts, KEYS, last)
    return Placed(CHANGES, name, worksheet, len(changes), us, {column.key: at for at, column in enumerate(columns)})


def change_cells(number: int, step: str, change: Change, whole: Comparison, us: bool) -> dict[str, object]:
    """The cells of one change, by column key, in the units shown."""
    sheets = INPUTS if change.sort in ("basis", "input") else RESULTS
    before, after = (in_unit(change.column, value, us) for value in (change.before, change.after))
    names = change.names
    wording = whole.words_of(names.project)
    return {
        "no": number,
        "step": step,
        "sort": SORTS[change.sort],
        "sheet": "" if change.column is PROGRAM else sheets[change.table].name,
        "project": names.project,
        "tank": names.tank,
        "bank": names.bank,
        "feeder": names.feeder,
        "item": names.item,
        "column": wording.heading(change.column.heading, change.column.unit),
        "before": before if is_number(before) else _said(change, shown(before), wording.of),
        "after": after if is_number(after) else _said(change, shown(after), wording.of),
        "more": after - before if is_number(before) and is_number(after) else None,
        "unit": change.column.shown_unit(us) if is_number(before) or is_number(after) else "",
        "cause": "; ".join(wording.of(cause.words) for cause in change.causes) if change.causes else _uncaused(change),
        "shown": (ALONE if all(cause.alone for cause in change.causes) else TOGETHER) if change.causes else "",
    }


def _said(change: Change, text: str, spoken: Callable[[str], str]) -> str:
    """A text of ours in these words; of the customer's as it is, but for a choice of our words."""
    ours = change.sort == "result" or change.column.kind == "choice"
    return spoken(text) if ours and change.column.key not in NAMED else text


def _uncaused(change: Change) -> str:
    if change.sort == "result":
        return "not shown: no single change that was tried moves it"
    return "the whole column stands in one revision only" if change.whole_column else ""


def _row(
    book: Book, worksheet, row: int, cells: dict[str, object], *, of: Column, columns: Sequence[Column], widths: Sequence[float]
) -> None:
    tallest = 1
    for at, (column, width) in enumerate(zip(columns, widths, strict=True)):
        value = cells[column.key]
        if value is None or value == "":
            worksheet.write_blank(row, at, None, book.styles.cell(column.role, "prose"))
        elif is_number(value):
            worksheet.write_number(row, at, value, book.styles.cell(column.role, "count" if column.key == "no" else _format(of)))
        else:
            text = clean(str(value))
            worksheet.write_string(row, at, text, book.styles.cell(column.role, "prose", True))
            tallest = max(tallest, lines(text, width - INDENT, column.role == "result"))
    if tallest > 1:
        worksheet.set_row(row, row_height(tallest))


def _format(column: Column) -> str:
    """The number format of the column that a value comes from; of one that rides along, whatever the number is."""
    return column.format if column.kind in ("number", "integer", "volts") else "number_any"
