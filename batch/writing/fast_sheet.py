"""A worksheet that takes whole rows at once: the same cells as the stock calls, byte for byte, several times as fast.

The stock writer keeps one tuple per cell and words each cell when the file is closed. A schedule repeats itself: most cells
of a column hold one of few values. So each distinct value of a column is worded once, a row is joined from those pieces in
one step (its number goes between them), and rows wait as text in a spooled file until the sheet is put together.

Relies on these inner parts of xlsxwriter 3.3: `_write_sheet_data`, `_calculate_spans`, `str_table`, `dim_*`, `tables`.
`tests/test_writing_fast_sheet.py` compares with the stock calls and fails when they change.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from datetime import date, datetime, time
from itertools import islice, repeat
from math import isfinite
from operator import itemgetter
from typing import NamedTuple

from xlsxwriter.format import Format
from xlsxwriter.utility import xl_col_to_name, xl_range
from xlsxwriter.worksheet import Worksheet

from batch.errors import SpecificationError
from batch.writing.packed import PackedBytes
from batch.writing.parts import PartText, escape
from batch.writing.text_fit import lines, row_height

CHUNK = 1000  # rows worded together
CACHE = 50_000  # distinct values of a column remembered before starting afresh
LAST_ROW = 1_048_576  # rows a sheet can hold (ECMA-376 part 1, 18.3.1.73, as common programs limit it)
LONGEST = 32_767  # characters a cell can hold


_LOOKS_ESCAPED = re.compile(r"(_x[0-9a-fA-F]{4}_)")
_NEWER = re.compile(  # functions that the stock writer expands (xlsxwriter 3.3, "Dynamic Array support"); a test holds the list
    r"(?:ANCHORARRAY|BYCOL|BYROW|CHOOSECOLS|CHOOSEROWS|DROP|EXPAND|FILTER|HSTACK|LAMBDA|MAKEARRAY|MAP|RANDARRAY|REDUCE|SCAN|INGLE"
    r"|SEQUENCE|SORT|SORTBY|SWITCH|TAKE|TEXTSPLIT|TOCOL|TOROW|UNIQUE|VSTACK|WRAPCOLS|WRAPROWS|XLOOKUP)\("
)
_NOT_KEPT = re.compile("[\x00-\x09\x0b-\x1f\ufffe\uffff]")  # a line break the writer keeps itself


class Cells(NamedTuple):
    """How one column of prepared rows is written.

    at          position of its value in a row given as a sequence, or its key in a row given as a mapping
    format      an xlsxwriter format
    formula     pieces of the formula between which the row number goes; () = the value is written. A `Stored` value stays a figure
    convert     canonical value -> shown value, for numbers; None = as it is
    date_format, number_format  formats for dates and numbers among text (columns of mixed kind only)
    wrap        width of the column where its text wraps, so that its rows are made tall enough; 0 = one line
    bold        its text is bold, and so a little wider
    """

    at: object
    format: Format
    formula: tuple[str, ...] = ()
    convert: Callable[[float], float] | None = None
    date_format: Format | None = None
    number_format: Format | None = None
    wrap: float = 0.0
    bold: bool = False


class TextRow(NamedTuple):
    """A row of texts, each with a look of its own; "" is a cell of that look alone. `points`: its height."""

    points: float
    cells: tuple[tuple[str, Format], ...] = ()


def clean(text: str) -> str:
    """Text as a cell can hold it: lone surrogates (not text in any encoding) become the replacement character, over-long text is cut."""
    if text.isascii() and len(text) <= LONGEST:
        return text
    if len(text) > LONGEST // 2:
        text = text.encode("utf-16-le", "surrogatepass")[: 2 * LONGEST].decode("utf-16-le", "ignore")
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        text = text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")
    return text


def attribute(text: str) -> str:
    """Text as it stands in an attribute and still reads as the cell does: what no attribute keeps, or what looks like such a mark,
    is written as _xHHHH_ (ECMA-376 part 1, 22.9.2.19, ST_Xstring).
    """
    text = _LOOKS_ESCAPED.sub(r"_x005F\1", text)
    return _NOT_KEPT.sub(lambda mark: f"_x{ord(mark[0]):04X}_", text)


def serial(moment: datetime | date | time) -> float:
    """Days since the epoch of the 1900 date system, as spreadsheet programs count them."""
    if isinstance(moment, time):
        return (moment.hour * 3600 + moment.minute * 60 + moment.second + moment.microsecond / 1e6) / 86400
    if not isinstance(moment, datetime):
        moment = datetime(moment.year, moment.month, moment.day)
    gap = moment.replace(tzinfo=None) - datetime(1899, 12, 31)
    days = gap.days + (gap.seconds + gap.microseconds / 1e6) / 86400
    return days + 1 if days > 59 else days  # 1900 is taken for a leap year there


class Stored(float):
    """A figure that is written as it is, in a column of formulas."""


class StoredText(str):
    """The same for words."""


FIGURES = frozenset((type(None), Stored, StoredText))  # kinds of values that stand in a column of formulas without its formula


class Live(float):
    """A figure with a formula of its own, in a column of plain figures."""

    formula: str

    def __new__(cls, value: float, formula: str) -> Live:
        made = super().__new__(cls, value)
        made.formula = formula
        return made


class _Column:
    """The worded cells of one column, remembered by value."""

    def __init__(self, spec: Cells, after: str, strings) -> None:
        self._strings = strings
        self._after = after
        self._style = f'" s="{spec.format._get_xf_index()}"'
        self._date_style, self._number_style = (
            self._style if one is None else f'" s="{one._get_xf_index()}"' for one in (spec.date_format, spec.number_format)
        )
        self._convert = spec.convert
        self._formula, self.live = spec.formula, bool(spec.formula)
        self._known: dict[type, dict[object, str]] = {}
        self.blank = f"{self._style}/>{after}"
        self.get = itemgetter(spec.at)
        self._wrap, self._bold = spec.wrap, spec.bold
        self._lines: dict[object, int] = {None: 1}

    def leading(self, text: bool) -> tuple[str, ...]:
        """What stands before the last piece of a formula cell, row numbers left out."""
        if not self._formula:
            return ()
        kind = ' t="str"' if text else ""
        return (f"{self._style}{kind}><f>{self._formula[0]}", *self._formula[1:-1])

    def lines(self, values: list) -> list[int] | None:
        """Lines that each value takes; None where the column does not wrap, or none of them takes more than one."""
        if not self._wrap:
            return None
        known, distinct = self._lines, set(values)
        if len(known) > CACHE:
            known.clear()
        for value in distinct.difference(known):
            known[value] = lines(value, self._wrap, self._bold) if isinstance(value, str) else 1
        return list(map(known.__getitem__, values)) if max(map(known.__getitem__, distinct)) > 1 else None

    def pieces(self, values: list) -> list[str]:
        """The piece of every value: from the style to the start of the next cell."""
        kinds = set(map(type, values))
        if kinds == {type(None)}:
            return [self.blank] * len(values)
        if len(own := kinds - {type(None)}) == 1 and (kind := next(iter(own))) in (str, int, float):
            return self._same_kind(values, self._of_kind(kind), kind)
        known = {kind: self._of_kind(kind) for kind in kinds}
        self._count(values, kinds)
        return [known[value.__class__].get(value) or self._piece(value, known[value.__class__]) for value in values]

    def _count(self, values: list, kinds: set[type]) -> None:
        """Counts the texts among these that stand in the table of all texts as uses of it."""
        shown = StoredText if self._formula else str
        if any(issubclass(kind, shown) for kind in kinds):
            self._strings.count += sum(value != "" for value in values if isinstance(value, shown))

    def _of_kind(self, kind: type) -> dict[object, str]:
        """What is remembered of values of one kind; apart, since 1, 1.0 and True are equal and written differently."""
        known = self._known.setdefault(kind, {})
        if len(known) > CACHE:
            known.clear()
        known[None] = self.blank
        return known

    def _same_kind(self, values: list, known: dict[object, str], kind: type) -> list[str]:
        if kind is str and not self._formula:
            self._strings.count += len(values) - values.count("") - values.count(None)
        for value in dict.fromkeys(values):  # in order, since texts are numbered as they come
            if value not in known:
                known[value] = self._word(value)
        return list(map(known.__getitem__, values))

    def _piece(self, value: object, known: dict[object, str]) -> str:
        """The piece of a value met for the first time, remembered."""
        if isinstance(value, Live):  # not remembered: the next one of that value may have another formula
            return f"{self._style}><f>{escape(value.formula)}</f><v>{self._shown(value)}</v></c>{self._after}"
        return known.setdefault(value, self._word(value))

    def _word_text(self, value: str) -> str:
        if not value:
            return self.blank
        text = clean(value)
        index = self._strings._get_shared_string_index(text)
        self._strings.count -= 1  # uses are counted by the caller
        return f'{self._style} t="s"><v>{index}</v></c>{self._after}'

    def _word(self, value: object) -> str:
        after = self._after
        if self._formula and not isinstance(value, (Stored, StoredText)):
            last = self._formula[-1]
            shown = escape(clean(value)) if isinstance(value, str) else self._shown(value)
            return f"{last}</f><v>{shown}</v></c>{after}"
        if isinstance(value, str):
            return self._word_text(value)
        if isinstance(value, bool):
            return f'{self._style} t="b"><v>{int(value)}</v></c>{after}'
        if isinstance(value, (datetime, date, time)):
            return f"{self._date_style}><v>{serial(value):.16G}</v></c>{after}"
        if isinstance(value, (int, float)):
            return f"{self._number_style}><v>{self._shown(value):.16G}</v></c>{after}"
        raise SpecificationError(f"a cell cannot hold a {type(value).__name__}")

    def _shown(self, value: object) -> float:
        if not isinstance(value, (int, float)):
            raise SpecificationError(f"a formula cannot show a {type(value).__name__}")
        if self._convert is not None:
            value = self._convert(value)
        if not isfinite(value):
            raise SpecificationError("a result is not a finite number; the row that gave it must be reported instead")
        return value + 0  # minus nought is nought


def _checked(name: str) -> Callable:
    """The stock method of that name, its refusal an error: it would otherwise return a number and leave the cell out."""
    stock = getattr(Worksheet, name)

    def call(self: Worksheet, *args: object, **options: object) -> object:
        code = stock(self, *args, **options)
        if isinstance(code, int) and code < 0:
            raise SpecificationError(f"sheet {self.name}: {name} was refused ({code})")
        return code

    return call


class ScheduleSheet(Worksheet):
    """A stock worksheet plus `store_rows` and `store_texts` for the rows at its end and `cover` for the table round them."""

    dim_rowmax: int  # the stock writer's own

    write_string, write_number, write_blank, write_formula = map(_checked, ("write_string", "write_number", "write_blank", "write_formula"))
    write_url, merge_range, set_row, set_column = map(_checked, ("write_url", "merge_range", "set_row", "set_column"))
    add_table, data_validation, conditional_format = map(_checked, ("add_table", "data_validation", "conditional_format"))
    ignore_errors = _checked("ignore_errors")
    print_area, repeat_rows, repeat_columns = map(_checked, ("print_area", "repeat_rows", "repeat_columns"))
    insert_chart, insert_image = map(_checked, ("insert_chart", "insert_image"))

    def __init__(self) -> None:
        super().__init__()
        self._rows: PackedBytes | None = None
        self._first_prepared = 0
        self._last_prepared = -1
        self._prepared_span = 0

    def _prepare_formula(self, formula: str, expand_future_functions: bool = False) -> str:
        """The stock method looks for thirty newer functions in every formula, or for all of a hundred, one after the other; no formula that
        has none needs that, and least of all a mere text, as most conditional formats have it.
        """
        if "(" in formula and (expand_future_functions or self.use_future_functions or _NEWER.search(formula)):
            return super()._prepare_formula(formula, expand_future_functions)
        return formula.removeprefix("{").removeprefix("=").removesuffix("}")

    def store_rows(self, first_row: int, columns: Sequence[Cells], rows: Iterable) -> int:
        """Write `rows` from `first_row` (0-based) on, columns from A on; returns how many there were.

        Each row is a mapping or a sequence that `Cells.at` picks from. A sheet takes prepared rows once, below all others;
        rows beyond the last one that a sheet can hold are left in `rows` for the next sheet.
        """
        kept = self._keeper()
        names = [xl_col_to_name(at) for at in range(len(columns))]
        ends = [f'<c r="{name}' for name in names[1:]] + ["</row>"]
        makers = [_Column(spec, end, self.str_table) for spec, end in zip(columns, ends, strict=True)]
        row, source = first_row, iter(rows)
        while chunk := list(islice(source, min(CHUNK, LAST_ROW - row))):
            kept.write("".join(_worded(chunk, row + 1, makers)).encode("ascii"))
            row += len(chunk)
        self._prepared(first_row, row, len(columns))
        return row - first_row

    def store_texts(self, first_row: int, columns: int, rows: Iterable[TextRow]) -> int:
        """The same for rows of plain text in up to `columns` columns, whose looks and heights differ from row to row."""
        kept, row, source = self._keeper(), first_row, iter(rows)
        names = [xl_col_to_name(at) for at in range(columns)]
        index_of, usual = self.str_table._get_shared_string_index, row_height(1)
        styles: dict[Format, str] = {}
        while chunk := list(islice(source, min(CHUNK, LAST_ROW - row))):
            out = []
            for number, (points, cells) in enumerate(chunk, row + 1):
                height = f' ht="{points:.16g}" customHeight="1"' if points != usual else ""
                out.append(f'<row r="{number}" spans="1:{columns}"{height}{">" if cells else "/>"}')
                for name, (text, look) in zip(names, cells, strict=False):
                    shown = f' t="s"><v>{index_of(clean(text))}</v></c>' if text else "/>"
                    style = styles.get(look) or styles.setdefault(look, look._get_xf_index())
                    out.append(f'<c r="{name}{number}" s="{style}"{shown}')
                out.append("</row>" if cells else "")
            kept.write("".join(out).encode("ascii"))
            row += len(chunk)
        self._prepared(first_row, row, columns)
        return row - first_row

    def _keeper(self) -> PackedBytes:
        """Where the prepared rows of this sheet wait."""
        if self._rows is not None:
            raise SpecificationError(f"sheet {self.name}: prepared rows are given twice")
        self._rows = PackedBytes()
        return self._rows

    def _prepared(self, first: int, beyond: int, columns: int) -> None:
        """Where the prepared rows stand: from `first` to the one before `beyond`."""
        if self._rows is not None:
            self._rows.end()
        if beyond > first:
            self._first_prepared, self._last_prepared, self._prepared_span = first, beyond - 1, columns
            self._check_dimensions(first, 0)
            self._check_dimensions(beyond - 1, columns - 1)

    def cover(self, first_row: int, last_row: int, last_col: int, options: dict) -> None:
        """An Excel table over heading and rows. The stock call keeps an entry per cell to guard against overlaps; here
        prepared rows have a sheet to themselves, so it is asked for two rows and the extent is set afterwards.
        """
        self.add_table(first_row, 0, first_row + 1, last_col, options)
        table = self.tables[-1]
        table["range"] = table["a_range"] = xl_range(first_row, 0, last_row, last_col)
        if table.get("autofilter"):
            table["autofilter"] = table["range"]
        for column in table["columns"]:
            column["name"] = attribute(column["name"])

    def _write_rows(self) -> None:
        if self._last_prepared < 0 or self._rows is None:
            super()._write_rows()
            return
        last: int = self.dim_rowmax
        self.dim_rowmax = self._first_prepared - 1
        if self._first_prepared:
            super()._write_rows()
        self.dim_rowmax = last
        if isinstance(self.fh, PartText):
            self.fh.take(self._rows)
            return
        self.fh.flush()
        self.fh.buffer.writelines(self._rows.plain())
        self._rows.close()

    def _calculate_spans(self) -> None:
        super()._calculate_spans()
        for block in [self._first_prepared // 16] if self._last_prepared >= 0 else []:
            low, _, high = self.row_spans.get(block, f"1:{self._prepared_span}").partition(":")
            self.row_spans[block] = f"{min(1, int(low))}:{max(self._prepared_span, int(high))}"


def _opening(columns: int, count: int) -> str:
    """What stands between a row's number and its first cell's: `count` lines settle the height; one line has the sheet's own."""
    height = f'" ht="{row_height(count):.16g}" customHeight="1' if count > 1 else ""
    return f'" spans="1:{columns}{height}"><c r="A'


def _worded(chunk: list, number: int, makers: list[_Column]) -> list[str]:
    """The rows of a chunk as XML; `number` is the first row's number as a person counts."""
    all_values = [list(map(maker.get, chunk)) for maker in makers]
    heights = [counts for maker, values in zip(makers, all_values, strict=True) if (counts := maker.lines(values)) is not None]
    tallest = list(map(max, repeat(1, len(chunk)), repeat(1), *heights))
    opening = {count: _opening(len(makers), count) for count in set(tallest)}
    columns: list = [repeat('<row r="'), [opening[count] for count in tallest]]
    gaps: set[int] = set()
    plain = []
    for maker, values in zip(makers, all_values, strict=True):
        pieces = maker.pieces(values)
        leading: tuple[str, ...] = ()
        if maker.live and not FIGURES.issuperset(kinds := set(map(type, values))):  # where none has its formula, nothing leads to it
            leading = maker.leading(str in kinds and any(value.__class__ is str and value for value in values))
            if not kinds.isdisjoint(FIGURES):
                gaps.update(at for at, value in enumerate(values) if value.__class__ in FIGURES)
            columns += map(repeat, leading)
        columns.append(pieces)
        plain.append((leading, values, pieces))
    rows = [str(number + at).join(pieces) for at, pieces in enumerate(zip(*columns, strict=False))]
    for at in gaps:  # a row without one of its formulas
        parts: list[str] = ['<row r="', opening[tallest[at]]]
        for leading, values, pieces in plain:
            live = values[at].__class__ not in FIGURES
            parts += (*leading, pieces[at]) if live else (pieces[at],)
        rows[at] = str(number + at).join(parts)
    return rows
