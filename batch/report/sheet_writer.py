"""Any declared sheet with its rows: title, help, totals, band of roles, heading, table, print set-up."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from xlsxwriter.url import Url
from xlsxwriter.utility import xl_col_to_name

from batch.errors import SpecificationError
from batch.report.book import Book
from batch.report.formulas import SUBTOTAL, needed, pieces
from batch.report.live import keep_figures
from batch.report.schedule_sheet import Cells, ScheduleSheet
from batch.report.styles import BAND_WORDS, ROLE_WORDS, WORD_STYLES
from batch.report.text_fit import INDENT, lines, row_height, word_room
from batch.sheets import Column, Sheet

TITLE, HELP, TOTALS, BAND, HEADING, DATA = range(6)  # 0-based rows of every schedule
STRIP = 205.0  # digits across one printed page of a wide sheet: about 6 points of type on Letter landscape (common practice: not less)
LINKED = frozenset({"findings", "go_to"})  # columns of our own words that lead somewhere
PAPER = {"letter": 1, "a4": 9}


@dataclass
class Placed:
    """Where a schedule came to stand, for links and references to it."""

    sheet: Sheet
    name: str
    worksheet: ScheduleSheet
    rows: int
    us: bool = False
    columns: Mapping[str, int] = field(default_factory=dict)
    kept: Mapping[str, int] = field(default_factory=dict)  # column key -> cells that hold a figure where others hold a formula

    @property
    def last(self) -> int:
        return DATA + self.rows - 1

    def range(self, key: str) -> str:
        """Absolute reference to the data of a column: 'Banks'!$F$6:$F$20."""
        letters = xl_col_to_name(self.columns[key])
        return f"{quoted(self.name)}!${letters}${DATA + 1}:${letters}${self.last + 1}"

    def cell(self, key: str, at: int) -> str:
        return f"{quoted(self.name)}!{xl_col_to_name(self.columns[key])}{DATA + 1 + at}"

    def link(self, key: str, at: int, target: str, tip: str) -> None:
        """Lays a link to a cell of this workbook over a cell already written."""
        url = Url(f"internal:{target}")
        url.tip = tip
        self.worksheet.hyperlinks[DATA + at][self.columns[key]] = url

    def total(self, key: str) -> str:
        return f"{quoted(self.name)}!${xl_col_to_name(self.columns[key])}${TOTALS + 1}"


def quoted(name: str) -> str:
    return "'" + name.replace("'", "''") + "'"


@dataclass(frozen=True)
class Footer:
    """What stands at the foot of every printed page."""

    file: str
    revision: str = ""
    paper: str = "letter"

    def text(self) -> str:
        """Header-and-footer codes: an & of our own text is doubled, since one alone would be a code."""
        left = self.file.replace("&", "&&")
        right = f"revision {self.revision}".replace("&", "&&") if self.revision else ""
        return f"&L&8{left[:90]}&C&8&A, page &P of &N&R&8{right[:60]}"


def write_schedule(
    book: Book,
    sheet: Sheet,
    rows: Sequence[Mapping],
    footer: Footer,
    *,
    us: bool = False,
    names: Mapping[str, float] | None = None,
    name: str = "",
    table: str = "",
    title: str = "",
) -> Placed:
    """Writes `rows` (mappings by column key, canonical units) as the sheet declares them; returns where they stand."""
    styles = book.styles
    _keys_agree(sheet, rows)
    name = book.tab_name(name or sheet.name)
    worksheet = book.add_worksheet(name)
    placed = Placed(sheet, name, worksheet, len(rows), us, {column.key: at for at, column in enumerate(sheet.columns)})
    head_of(book, worksheet, title or sheet.name, sheet.help)
    widths = [fitted_width(column.width, column.title(us)) for column in sheet.columns]
    for at, column in enumerate(sheet.columns):
        worksheet.set_column(at, at, widths[at])
        worksheet.write_string(HEADING, at, column.title(us), head_style(book, column))
    worksheet.set_row(HEADING, heading_height([column.title(us) for column in sheet.columns], widths))
    frozen = _frozen(sheet)
    cuts = strips(widths, frozen)
    band(book, worksheet, [column.role for column in sheet.columns], widths, BAND_WORDS.get(sheet.id, ROLE_WORDS), cuts)
    names = names or {}
    live = {column.key: column.formula for column in sheet.columns if column.formula and needed(column.formula) <= names.keys()}
    placed.kept = keep_figures(sheet, rows, live, names)
    formulas = {key: pieces(formula, sheet, names.keys(), us) for key, formula in live.items()}
    columns = [
        Cells(
            column.key,
            styles.link_column(column.role) if column.key in LINKED else styles.cell(column.role, cell_format(column), wraps(column)),
            formulas.get(column.key, ()),
            converter(column, us),
            wrap=width - INDENT if wraps(column) else 0.0,
            bold=column.role == "result",
        )
        for column, width in zip(sheet.columns, widths, strict=True)
    ]
    _totals(book, worksheet, placed, rows)
    stored = worksheet.store_rows(DATA, columns, rows)
    if stored != len(rows):
        raise SpecificationError(f"sheet {sheet.name}: {len(rows)} rows are more than a sheet holds")
    cover(
        worksheet,
        [column.title(us) for column in sheet.columns],
        [head_style(book, column) for column in sheet.columns],
        placed.last,
        table or table_name(sheet.id),
    )
    words(book, worksheet, placed)
    worksheet.freeze_panes(DATA, frozen)
    print_setup(worksheet, footer, BAND, HEADING, len(sheet.columns) - 1, placed.last)
    print_strips(worksheet, cuts, frozen, placed.last)
    return placed


def _keys_agree(sheet: Sheet, rows: Sequence[Mapping]) -> None:
    if rows:
        gap = set(sheet.by_key).symmetric_difference(rows[0])
        if gap:
            raise SpecificationError(f"sheet {sheet.name}: rows and columns do not agree on {', '.join(sorted(map(str, gap)))}")


def head_of(book: Book, worksheet: ScheduleSheet, title: str, help: str) -> None:
    """Title and one line of help at the top of a sheet; both are our own words."""
    worksheet.set_row(TITLE, 24)
    worksheet.write_string(TITLE, 0, title, book.styles["title"])
    worksheet.write_string(HELP, 0, help, book.styles["subtitle"])
    worksheet.hide_gridlines(2)


def wraps(column: Column) -> bool:
    return column.kind in ("text", "choice", "date")


def cell_format(column: Column) -> str:
    """The number format of a column's cells: our own sentences are General, tags and typed words are text."""
    return "prose" if column.format == "text" and column.role in ("result", "text", "calculation") else column.format


def converter(column: Column, us: bool) -> Callable[[float], float] | None:
    """Canonical value -> value in the unit shown, or None where they are the same."""
    if not us or not column.us_unit:
        return None
    from batch.units import convert

    return lambda value: convert(value, column.unit, column.us_unit)


def fitted_width(width: float, heading: str) -> float:
    """A column's width, or what the longest word of its heading needs."""
    return max(width, round(word_room(heading, True), 1))


def heading_height(headings: Iterable[str], widths: Iterable[float]) -> float:
    """Points that the tallest heading needs, its words wrapped into its column."""
    return row_height(max(lines(heading, width - INDENT, True) for heading, width in zip(headings, widths, strict=True))) + 3


def head_style(book: Book, column: Column):
    return book.styles.head(column.role, number=column.kind in ("integer", "number", "volts"))


def band(
    book: Book,
    worksheet: ScheduleSheet,
    roles: Sequence[str],
    widths: Sequence[float],
    words: Mapping[str, str],
    cuts: Sequence[tuple[int, int]],
) -> None:
    """The band above the heading: which columns were given, which are worked out, which are built to; said anew on each printed strip."""
    starts = {first for first, _ in cuts}
    for at, role in enumerate(roles):
        style = book.styles.band(role)
        if at not in starts and at and role == roles[at - 1]:
            worksheet.write_blank(BAND, at, None, style)
            continue
        end = next((to for to in range(at + 1, len(roles)) if roles[to] != role or to in starts), len(roles))
        fits = lines(words[role], sum(widths[at:end]) - INDENT, size=8.0) == 1
        worksheet.write_string(BAND, at, words[role] if fits else "", style)


def _totals(book: Book, worksheet: ScheduleSheet, placed: Placed, rows: Sequence[Mapping]) -> None:
    """Totals of the rows shown, above the heading, so that a filter totals what it shows."""
    totals = [column for column in placed.sheet.columns if column.total]
    if not totals or not rows:
        return
    worksheet.write_string(TOTALS, 0, "of the rows shown", book.styles["total_label"])
    for column in totals:
        at = placed.columns[column.key]
        letters = xl_col_to_name(at)
        formula = f"=SUBTOTAL({SUBTOTAL[column.total]},{letters}{DATA + 1}:{letters}{placed.last + 1})"
        held = [value for row in rows if (value := row[column.key]) is not None]
        value = (sum(held) if column.total == "sum" else max(held, default=0)) if held else 0
        change = converter(column, placed.us)
        worksheet.write_formula(TOTALS, at, formula, book.styles.total(column.format), change(value) if change else value)


def cover(worksheet: ScheduleSheet, headings: Sequence[str], styles: Sequence, last_row: int, name: str) -> None:
    """The Excel table over heading and data; plain, since the cells carry their own look."""
    columns = [{"header": heading, "header_format": style} for heading, style in zip(headings, styles, strict=True)]
    worksheet.cover(HEADING, last_row, len(headings) - 1, {"name": name, "style": None, "columns": columns})


def table_name(id: str) -> str:
    """A table's name: never one that could be read as a cell address."""
    return "Table_" + "".join(mark if mark.isalnum() else "_" for mark in id)


def words(book: Book, worksheet: ScheduleSheet, placed: Placed) -> None:
    """Status, severity and verdict words get a look of their own beside the word."""
    for key in ("status", "severity", "effect", "verdict"):
        at = placed.columns.get(key)
        if at is None:
            continue
        for word, style in WORD_STYLES.items():
            rule = {"type": "cell", "criteria": "==", "value": f'"{word}"', "format": book.styles.conditional(style)}
            worksheet.conditional_format(DATA, at, placed.last, at, rule)


def _frozen(sheet: Sheet) -> int:
    """Columns kept in sight: those that tell rows apart, as long as they stand together at the left."""
    count = 0
    while count < len(sheet.columns) and sheet.columns[count].key in sheet.key:
        count += 1
    return count


def print_setup(
    worksheet: ScheduleSheet, footer: Footer, first_repeat: int, last_repeat: int, last_col: int, last_row: int, landscape: bool = True
) -> None:
    """Paper, direction, one page wide, repeated rows, footer."""
    if landscape:
        worksheet.set_landscape()
    worksheet.set_paper(PAPER[footer.paper])
    worksheet.set_margins(left=0.4, right=0.4, top=0.5, bottom=0.6)
    worksheet.fit_to_pages(1, 0)
    if last_repeat >= first_repeat >= 0:
        worksheet.repeat_rows(first_repeat, last_repeat)
    worksheet.print_area(0, 0, last_row, last_col)
    worksheet.set_footer(footer.text())


def print_strips(worksheet: ScheduleSheet, cuts: Sequence[tuple[int, int]], keys: int, last_row: int) -> None:
    """A sheet too wide for one readable page prints in strips, each one page wide, with its first `keys` columns on every strip."""
    if len(cuts) == 1:
        return
    if keys:
        worksheet.repeat_columns(0, keys - 1)
    name = quoted(worksheet.get_name())
    # The stock call takes one area only; several stand as a list in the same defined name.
    worksheet.print_area_range = ",".join(
        f"{name}!${xl_col_to_name(first)}${TOTALS + 1 if first else 1}:${xl_col_to_name(last)}${last_row + 1}" for first, last in cuts
    )


def strips(widths: Sequence[float], keys: int, room: float = STRIP) -> list[tuple[int, int]]:
    """First and last column of each strip: as few as fit into `room`, then as even as columns allow."""
    best = _filled(widths, keys, room)
    while room > 1 and len(closer := _filled(widths, keys, room - 1)) == len(best):
        best, room = closer, room - 1
    return best


def _filled(widths: Sequence[float], keys: int, room: float) -> list[tuple[int, int]]:
    """Strips filled one after the other; every strip but the first carries the key columns too."""
    cuts, first, used = [], 0, 0.0
    for at, width in enumerate(widths):
        if at > max(first, keys) and used + width > room:
            cuts.append((first, at - 1))
            first, used = at, sum(widths[:keys])
        used += width
    return [*cuts, (first, len(widths) - 1)]
