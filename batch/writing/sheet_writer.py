"""Any declared sheet with its rows, however many: rows are taken as they come, and a sheet that is full goes on in a next one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import chain, islice, repeat
from math import ceil
from operator import itemgetter

from xlsxwriter.utility import xl_col_to_name

from batch.errors import SpecificationError
from batch.sheets import Column, Sheet
from batch.sheets.received import OF_ROWS_SHOWN, ROLE_WORDS, SHADED
from batch.writing.as_sized import FLAG, WORD, extended, folded, shown, shown_key, unedited
from batch.writing.book import Book
from batch.writing.fast_sheet import CHUNK, LAST_ROW, Cells, Stored
from batch.writing.formulas import SUBTOTAL, far_columns, needed, own_keys, pieces
from batch.writing.live import Keeper
from batch.writing.paging import POINTS, Pager
from batch.writing.paper import LEGIBLE, SPARE, STRIP, WIDER, Footer, Scaled, print_scaled, print_setup, print_strips, strips
from batch.writing.placed import BAND, DATA, HEADING, HELP, TITLE, TOTALS, Placed, Planned, referred
from batch.writing.sheet_frame import band, cover, fitted_width, head_of, head_style, heading_height, table_name, words
from batch.writing.styles import BAND_WORDS
from batch.writing.text_fit import INDENT, WIDEST, digits, length, lines, row_height

TITLE_PT, ONE_LINE = 24.0, row_height(1)
TOGETHER = {"wiring": ("project", "type")}  # lists that print type by type
TEXT = ("text", "choice", "date")  # kinds of columns that wrap
FOLDED_WIDEST = 100.0  # digits of a column in a closed group
HELP_WIDENS = 12.0  # digits at most by which a column grows for the line of help above it
MOST_OF = (100, 90, 75)  # per cent of the rows that room left on a page is shared out for
WRITTEN_ON = frozenset({"questions"})  # sheets that people answer on paper: words are not spread at the cost of the size of type
SHOWN_ELSEWHERE = frozenset({"panel_labels", "control_labels"})  # lists whose rows another sheet prints
LINKED = frozenset({"look_up", "go_to"})  # columns of our own words that lead somewhere
LINKED_ON = frozenset({("panel_types", "type")})  # and those that do on one sheet only


class ScheduleWriter:
    """Writes one declared sheet, as several where it has more than `room` rows. `names`: values on Code basis that formulas may use;
    `open_all`: its outline groups stand open; `ahead`: the sheets, by id, on whose columns its formulas may rest; `note`: is shown
    every row as it is written.
    """

    def __init__(
        self,
        book: Book,
        sheet: Sheet,
        footer: Footer,
        *,
        us: bool,
        names: Mapping[str, float | tuple[float, ...]],
        room: int = LAST_ROW - DATA,
        open_all: bool = False,
        ahead: Mapping[str, Placed | Planned] | None = None,
        note: Callable[[dict], object] | None = None,
    ) -> None:
        self._note = note
        self._declared, sheet = sheet, extended(sheet)
        self._book, self._sheet, self._footer, self._us, self._room = book, sheet, footer, us, room
        self._titles = [column.title(us) for column in sheet.columns]
        self._widths = [fitted_width(column.width, title) for column, title in zip(sheet.columns, self._titles, strict=True)]
        self._frozen, self._named = sheet.keys_at_left, sheet.names_at_left
        self._shown = shown(sheet)
        self._printed = next((at for at, column in enumerate(sheet.columns) if not column.on_paper), self._shown)
        self._folded = folded(sheet, open_all)
        live = {column.key: column.formula for column in sheet.columns if column.formula and needed(column.formula) <= names.keys()}
        asked = frozenset(name for formula in live.values() for name in far_columns(formula))
        far = {name: words for name in asked if (words := referred(name, ahead or {})) is not None}
        live = {key: formula for key, formula in live.items() if far_columns(formula) <= far.keys()}
        self._lost = [column.key for column in sheet.columns if column.leads and column.key not in live]  # ways that lead nowhere
        self._far = {key: own_keys(formula) for key, formula in live.items() if far_columns(formula) and not sheet[key].leads}
        self._stands = 0  # figures in columns of formulas, of rows that lack what the formula takes
        # whether a row differs from its own copies need not be worked out: they are written from the same values
        near = {key: formula for key, formula in live.items() if not far_columns(formula) and key not in (FLAG, WORD)}
        self._keeper = Keeper(near, names)
        formulas = {  # a copy and its column are shown in one unit, so whether they differ may be asked in any
            key: pieces(formula, sheet, names.keys(), us and key != FLAG, far) for key, formula in live.items()
        }
        self._formulas = formulas

    @property
    def kept(self) -> int:
        """Cells that hold a figure in a column of formulas."""
        return sum(self._keeper.kept.values()) + self._stands

    def write(self, rows: Iterable[dict]) -> list[Placed]:
        """Writes `rows` (by column key, canonical units; may be marked in passing); returns the sheets they fill, none for no row."""
        source = iter(rows)
        begun = list(islice(source, CHUNK))
        if not begun:
            return []
        gap = set(self._declared.by_key).symmetric_difference(begun[0])
        if gap:
            raise SpecificationError(f"sheet {self._sheet.name}: rows and columns do not agree on {', '.join(sorted(map(str, gap)))}")
        tall = self._fit(begun)
        self._cuts = strips(
            self._in_sight()[: self._printed], self._named, lambda cuts: self._pages(cuts, tall), least=digits(length(self._help()))
        )
        self._under_help()
        self._columns = [self._cells(at, width, self._formulas) for at, width in enumerate(self._widths)]
        placed: list[Placed] = []
        source = chain(begun, source)
        first: dict | None = next(source)
        while first is not None:
            totals = _Totals(self._sheet)
            placed.append(self._one(self._passed(first, source, totals), totals, len(placed) + 1))
            first = next(source, None)
        return placed

    def _fit(self, rows: list[dict]) -> float:
        """Settles the widths by what the first rows say: no column of words is wider than its longest, so that more columns come on a page;
        room that is left on a page across goes to the words that take several lines. Returns how tall the rows are, in points.
        """
        wrapped: dict[int, list[str]] = {}  # columns whose words take several lines: their words, the longest last
        for at, column in enumerate(self._sheet.columns):
            if column.kind not in TEXT or column.key not in rows[0] or self._on_one_line(at):
                continue
            bold = column.role == "result"
            said = [words for row in rows if isinstance(words := row[column.key] or "", str)] or [""]
            measure = {words: length(words, bold) for words in dict.fromkeys(said)}.__getitem__
            longest = max(reversed(said), key=measure)
            if not column.becomes and not column.formula:  # what is typed or follows an edit may be longer than what stands there
                room = digits(measure(longest)) * (WIDER if column.key in LINKED else 1.0)  # a link is cut off where it does not fit
                self._widths[at] = fitted_width(min(column.width, room), self._titles[at])
            if lines(longest, self._widths[at] - INDENT, bold) > 1:
                wrapped[at] = sorted(said, key=measure)
        if not self._sheet.open_group and self._sheet.id not in TOGETHER:  # one keeps to the first screen, the other to large type
            self._share_out(rows, {at: said for at, said in wrapped.items() if at < self._printed})
        return self._tall(rows, wrapped)

    def _share_out(self, rows: list[dict], wrapped: Mapping[int, list[str]]) -> None:
        """Widens the columns in which these words stand, as far as a page across has room, by what makes the rows least tall."""
        most = LEGIBLE if self._sheet.id in WRITTEN_ON else STRIP
        room, before = most - 1.0 - sum(self._in_sight()[: self._printed]), list(self._widths)
        if room <= 0 or not wrapped:
            return
        tallest = max(self._lines(at, said[-1]) for at, said in wrapped.items())
        least = self._tall(rows, wrapped), before
        for most_of in MOST_OF:
            words = {at: said[(len(said) - 1) * most_of // 100] for at, said in wrapped.items()}
            for aim in range(1, tallest):
                wider = {at: self._width_for(at, longest, aim, room) for at, longest in words.items()}
                if sum(width - before[at] for at, width in wider.items()) <= room:
                    self._widths = [wider.get(at, width) for at, width in enumerate(before)]
                    least = min(least, (self._tall(rows, wrapped), self._widths))
                    self._widths = before
                    break
        self._widths = list(least[1])
        room -= sum(self._widths) - sum(before)
        for at in sorted(wrapped, key=lambda at: self._lines(at, wrapped[at][-1]), reverse=True):  # what is left, to the longest words
            more = min(room, self._width_for(at, wrapped[at][-1], 1, room) - self._widths[at])
            self._widths[at] += more
            room -= more

    def _tall(self, rows: list[dict], wrapped: Iterable[int]) -> float:
        """Points of these rows, whose words wrap in columns `wrapped` alone."""
        taken: list[Iterator[int]] = [repeat(1, len(rows))]
        for at in wrapped:
            room, bold = self._widths[at] - INDENT, self._sheet.columns[at].role == "result"
            said = list(map(itemgetter(self._sheet.columns[at].key), rows))
            taken.append(map({words: lines(words, room, bold) if isinstance(words, str) else 1 for words in set(said)}.__getitem__, said))
        return sum(number * row_height(most) for most, number in Counter(map(max, zip(*taken, strict=True))).items())

    def _width_for(self, at: int, words: str, most: int, room: float) -> float:
        """The width at which `words` take at most so many lines, as far as `room` more of it goes."""
        width, bold = self._widths[at], self._sheet.columns[at].role == "result"
        while lines(words, width - INDENT, bold) > most and width <= self._widths[at] + room:
            width += 1.0
        return width

    def _lines(self, at: int, words: object) -> int:
        return lines(words if isinstance(words, str) else "", self._widths[at] - INDENT, self._sheet.columns[at].role == "result")

    def _pages(self, cuts: Sequence[tuple[int, int]], tall: float) -> int:
        """Pages that rows so tall print on in these strips: narrower ones are larger, and take fewer rows to the page."""
        seen = self._in_sight()
        keys = seen[: self._named]
        strip = max(([*(keys if first else []), *seen[first : last + 1]] for first, last in cuts), key=sum)
        page = Scaled(self._footer.paper, True, tuple(width for width in strip if width)).inches_high * POINTS * SPARE * SPARE
        above = heading_height(self._titles, self._widths) + 2 * ONE_LINE
        return len(cuts) * ceil((tall + TITLE_PT + ONE_LINE) / (page - above))

    def _passed(self, first: dict, source: Iterator[dict], totals: _Totals) -> Iterator[dict]:
        """The rows of one sheet in chunks, each marked and counted on the way; the source keeps what does not fit."""
        room = self._room
        chunk = [first, *islice(source, min(CHUNK, room) - 1)]
        while chunk:
            if self._sheet is not self._declared:
                unedited(chunk)
            totals.add(chunk)
            self._keeper.mark(chunk)
            self._rest(chunk)
            if self._note is not None:
                for row in chunk:
                    self._note(row)
            yield from chunk
            room -= len(chunk)
            chunk = list(islice(source, min(CHUNK, room)))

    def _rest(self, rows: list[dict]) -> None:
        """Formulas over other sheets: a row that lacks what one takes of it holds the figure alone; one that finds nothing is empty."""
        for key in self._lost:
            for row in rows:
                row[key] = None
        for key, own in self._far.items():
            for row in rows:
                value = row[key]
                if all(row[name] is not None for name in own):
                    row[key] = "" if value is None else value
                elif isinstance(value, (int, float)):
                    row[key] = Stored(value)
                    self._stands += 1

    def _one(self, rows: Iterator[dict], totals: _Totals, number: int) -> Placed:
        sheet, styles = self._sheet, self._book.styles
        name = self._book.tab_name(sheet.name if number == 1 else f"{sheet.name} {number}")
        worksheet = self._book.add_worksheet(name)
        head_of(self._book, worksheet, name, self._help())
        heads = [head_style(self._book, column) for column in sheet.columns]
        for at, width in enumerate(self._widths):
            worksheet.set_column(at, at, width, None, self._outline(at))
            worksheet.write_string(HEADING, at, self._titles[at], heads[at])
        if self._shown < len(self._widths):
            worksheet.set_column(len(self._widths), len(self._widths), None, None, {"collapsed": True})
        worksheet.set_row(HEADING, heading_height(self._titles, self._widths))
        starts = {first for first, _ in self._cuts}
        starts |= {at for at in range(1, self._shown) if (at in self._folded) != (at - 1 in self._folded)}
        band(
            self._book, worksheet, [c.role for c in sheet.columns], self._widths, words=BAND_WORDS.get(sheet.id, ROLE_WORDS), starts=starts
        )
        pager = self._pager()
        one_line = {self._sheet.columns[at].key: at for at in range(self._shown) if self._on_one_line(at)}
        widest = dict.fromkeys(one_line, 0)
        count = worksheet.store_rows(DATA, self._columns, self._watched(rows, pager, widest) if one_line or pager is not None else rows)
        for key, at in one_line.items():  # a column as wide as its longest words, since it would make every row taller
            most = WIDEST if at >= self._printed else FOLDED_WIDEST
            worksheet.set_column(at, at, min(most, max(self._widths[at], digits(widest[key]))), None, self._outline(at))
        placed = Placed(sheet, name, worksheet, count, self._us, {column.key: at for at, column in enumerate(sheet.columns)})
        if totals.values:
            worksheet.write_string(TOTALS, 0, OF_ROWS_SHOWN, styles["total_label"])
        for column in totals.columns:
            at = placed.columns[column.key]
            letters, change = xl_col_to_name(at), converter(column, self._us)
            formula = f"=SUBTOTAL({SUBTOTAL[column.total]},{letters}{DATA + 1}:{letters}{placed.last + 1})"
            value = totals.values[column.key]
            worksheet.write_formula(TOTALS, at, formula, styles.total(column.format), change(value) if change else value)
        cover(worksheet, self._titles, heads, placed.last, table_name(sheet.id, number))
        words(self._book, placed)
        worksheet.freeze_panes(DATA, self._frozen)
        print_setup(
            worksheet,
            self._footer,
            first_repeat=BAND,
            last_repeat=HEADING,
            last_col=self._printed - 1,
            last_row=placed.last,
            landscape=pager is None,
        )
        if sheet.id in SHOWN_ELSEWHERE:
            worksheet.print_area(TITLE, 0, HELP, self._frozen + 2)
        elif pager is None:
            print_strips(worksheet, self._cuts, self._named, placed.last)
        else:
            pager.settle()
            print_scaled(worksheet, pager.paper, pager.breaks)
        return placed

    def _help(self) -> str:
        """The line of help below the title."""
        return f"{self._sheet.help} {SHADED}" if any(column.becomes for column in self._sheet.columns) else self._sheet.help

    def _under_help(self) -> None:
        """Widens the last column of the first of several strips, where the line of help would be cut off at its edge by little."""
        last, seen = self._cuts[0][1], self._in_sight()
        short = digits(length(self._help())) - sum(seen[: last + 1])
        if len(self._cuts) > 1 and 0.0 < short <= HELP_WIDENS:
            self._widths[max(at for at in range(last + 1) if seen[at])] += short

    def _in_sight(self) -> list[float]:
        """Widths of all columns, nought for those that are folded away: they take no room on paper either."""
        return [0.0 if at in self._folded else width for at, width in enumerate(self._widths)]

    def _outline(self, at: int) -> dict[str, object]:
        """How a column stands in the outline: in a group, closed or open, or at the right of a closed one, where the mark stands."""
        if at >= self._shown or self._sheet.columns[at].group:
            return {"level": 1, "hidden": at in self._folded}
        return {"collapsed": True} if at - 1 in self._folded else {}

    def _on_one_line(self, at: int) -> bool:
        """Words that are not in sight make no row taller: off paper, or in a group that is closed."""
        column = self._sheet.columns[at]
        return column.kind in TEXT and (not column.on_paper or at in self._folded)

    def _pager(self) -> Pager | None:
        """For a list that prints type by type, upright and each on a page of its own where it fits."""
        together = TOGETHER.get(self._sheet.id)
        if together is None:
            return None
        sized = zip(self._sheet.columns, self._widths, strict=True)
        wraps = [(column.key, width - INDENT, column.role == "result") for column, width in sized if column.kind == "text"]
        again = ONE_LINE + heading_height(self._titles, self._widths)
        first = again + TITLE_PT + 2 * ONE_LINE
        return Pager(together, wraps, Scaled(self._footer.paper, False, tuple(self._in_sight())), (first, again), DATA)

    def _watched(self, rows: Iterator[dict], pager: Pager | None, widest: dict[str, int]) -> Iterator[dict]:
        """The rows on their way to the sheet; counted into pages, and the longest words off paper measured."""
        seen: set[str] = set()
        for row in rows:
            if pager is not None:
                pager.add(row)
            for key in widest:
                if (text := row[key]) and text not in seen:
                    seen.add(text)
                    widest[key] = max(widest[key], length(text))
            yield row

    def _cells(self, at: int, width: float, formulas: Mapping[str, tuple[str, ...]]) -> Cells:
        column = self._sheet.columns[at]
        styles, wrap = self._book.styles, column.kind in TEXT
        linked = column.leads or column.key in LINKED or (self._sheet.id, column.key) in LINKED_ON
        typed = bool(column.becomes)
        look = styles.link_column(column.role, typed) if linked else styles.cell(column.role, _cell_format(column), wrap, typed)
        if self._on_one_line(at) and not linked:  # a little smaller where the widest column is too narrow
            look, wrap = styles.one_line(column.role, _cell_format(column), typed), False
        room, bold = width - INDENT if wrap else 0.0, column.role == "result"
        at_key, formula = shown_key(self._sheet, column.key), formulas.get(column.key, ())
        return Cells(at_key, look, formula, converter(column, self._us), wrap=room, bold=bold)


class _Totals:
    """Sums and maximum values of the columns that carry a total, of rows as they pass."""

    def __init__(self, sheet: Sheet) -> None:
        self.columns = [column for column in sheet.columns if column.total]
        self.values: dict[str, float] = dict.fromkeys((column.key for column in self.columns), 0)

    def add(self, rows: list[dict]) -> None:
        for column in self.columns:
            held = [value for row in rows if (value := row[column.key]) is not None]
            if held:
                before = self.values[column.key]
                self.values[column.key] = before + sum(held) if column.total == "sum" else max(before, *held)


def _cell_format(column: Column) -> str:
    """The number format of a column's cells: our own sentences are General, tags and typed words are text."""
    return "prose" if column.format == "text" and column.role in ("result", "text", "calculation") else column.format


def converter(column: Column, us: bool) -> Callable[[float], float] | None:
    """Canonical value -> value in the unit shown, or None where they are the same."""
    if not us or not column.us_unit:
        return None
    from batch.units import convert

    return lambda value: convert(value, column.unit, column.us_unit)
