"""Prepared rows give the same bytes as the stock calls; where the library's inner parts move, this fails first."""

from __future__ import annotations

import inspect
import re
import zipfile
from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from xlsxwriter import Workbook
from xlsxwriter.worksheet import Worksheet

from batch.errors import SpecificationError
from batch.writing.fast_sheet import CHUNK, Cells, ScheduleSheet, TextRow, clean, serial
from batch.writing.text_fit import lines, row_height

MADE = datetime(2000, 1, 1)
FORMULA = "=B{0}*2/IF(D{0}<>1,3,1)"
PIECES = ("B", "*2/IF(D", "&lt;&gt;1,3,1)")


def _book(path, sheet_class):
    book = Workbook(str(path))
    book.set_properties({"created": MADE})
    sheet = book.add_worksheet("Data", worksheet_class=sheet_class)
    formats = [book.add_format({"num_format": mask, "bottom": 1}) for mask in ("@", "0.00", "General", "0", "yyyy-mm-dd")]
    for one in formats:
        one._get_xf_index()
    sheet.set_column(0, 4, 14)
    sheet.write_string(0, 0, "Title")
    sheet.write_string(1, 3, "a heading of sorts")
    sheet.set_row(1, 30)
    return book, sheet, formats


def _prepared(path, rows, first):
    book, sheet, (text, amps, general, count, day) = _book(path, ScheduleSheet)
    sheet.write_string(first - 1, 0, "top left")
    done = sheet.store_rows(
        first,
        [
            Cells(0, text, wrap=4.0, bold=True),
            Cells(1, amps),
            Cells(2, amps, PIECES),
            Cells(3, count),
            Cells(4, general, date_format=day, number_format=amps),
        ],
        rows,
    )
    if rows:
        sheet.cover(first - 1, first + len(rows) - 1, 4, _table())
    book.close()
    return done


def _table():
    return {"name": "Table_data", "style": None, "columns": [{"header": f"h{at}"} for at in range(5)]}


def _stock(path, rows, first):
    book, sheet, (text, amps, general, count, day) = _book(path, None)
    sheet.write_string(first - 1, 0, "top left")
    for at, row in enumerate(rows, first):
        if row[0] is not None and (tall := lines(row[0], 4.0, True)) > 1:
            sheet.set_row(at, row_height(tall))
    for start in range(0, len(rows), CHUNK):
        part = rows[start : start + CHUNK]
        for col in range(5):
            for at, row in enumerate(part, first + start):
                value = row[col]
                if value is None:
                    sheet.write_blank(at, col, None, (text, amps, amps, count, general)[col])
                elif col == 0:
                    sheet.write_string(at, col, value, text)
                elif col == 2:
                    sheet.write_formula(at, col, FORMULA.format(at + 1), amps, value)
                elif col == 4 and isinstance(value, str):
                    sheet.write_string(at, col, value, general)
                elif isinstance(value, bool):
                    sheet.write_boolean(at, col, value, general)
                elif isinstance(value, datetime):
                    sheet.write_datetime(at, col, value, day)
                else:
                    sheet.write_number(at, col, value, (text, amps, amps, count, amps)[col])
    if rows:
        sheet.add_table(first - 1, 0, first + len(rows) - 1, 4, _table())
    book.close()


def _parts(path):
    with zipfile.ZipFile(path) as package:
        return {name: package.read(name) for name in package.namelist()}


texts = st.text(st.characters(codec="utf-8"), min_size=1, max_size=12)
numbers = st.floats(allow_nan=False, allow_infinity=False).map(lambda value: value + 0.0)  # minus nought is written as nought
moments = st.datetimes(datetime(1900, 1, 1), datetime(2999, 12, 31)).map(lambda moment: moment.replace(microsecond=0))
mixed = st.one_of(st.none(), texts, st.booleans(), st.integers(-(10**9), 10**9), numbers, moments)
rows_of = st.lists(
    st.tuples(
        st.one_of(st.none(), texts),
        st.one_of(st.none(), numbers),
        st.one_of(st.none(), numbers),
        st.one_of(st.none(), st.integers(0, 99)),
        mixed,
    ),
    max_size=40,
)


@settings(max_examples=60, deadline=None)
@given(rows_of, st.integers(2, 20))
def test_same_bytes_as_stock(tmp_path_factory, rows, first):
    folder = tmp_path_factory.mktemp("same")
    assert _prepared(folder / "prepared.xlsx", rows, first) == len(rows)
    _stock(folder / "stock.xlsx", rows, first)
    assert _parts(folder / "prepared.xlsx") == _parts(folder / "stock.xlsx")


def test_same_bytes_over_several_chunks(tmp_path):
    rows = [(f"T-{at % 7}", at / 3, at * 2.0, at % 4, None if at % 5 else f"note {at}") for at in range(2 * CHUNK + 17)]
    _prepared(tmp_path / "prepared.xlsx", rows, 5)
    _stock(tmp_path / "stock.xlsx", rows, 5)
    assert _parts(tmp_path / "prepared.xlsx") == _parts(tmp_path / "stock.xlsx")


TEXTS = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=12)


@settings(max_examples=30, deadline=None)
@given(rows=st.lists(st.tuples(st.sampled_from([15.0, 21.0, 7.5]), st.one_of(st.none(), st.tuples(TEXTS, TEXTS))), min_size=1, max_size=40))
def test_rows_of_texts_are_the_bytes_of_the_stock_calls(tmp_path_factory, rows) -> None:
    folder = tmp_path_factory.mktemp("texts")
    rows = [*rows, (15.0, ("last", ""))]  # the stock writer sees no further than the last cell
    book, sheet, (text, amps, *_) = _book(folder / "prepared.xlsx", ScheduleSheet)
    lines_of = (TextRow(points, ((one[0], text), (one[1], amps)) if one else ()) for points, one in rows)
    assert sheet.store_texts(16, 2, lines_of) == len(rows)
    book.close()
    book, sheet, (text, amps, *_) = _book(folder / "stock.xlsx", None)
    for at, (points, one) in enumerate(rows, 16):
        if points != row_height(1):
            sheet.set_row(at, points)
        for column, (words, look) in enumerate(zip(one or (), (text, amps), strict=False)):
            sheet.write_string(at, column, words, look) if words else sheet.write_blank(at, column, None, look)
    book.close()
    without_spans = re.compile(rb' spans="[0-9:]*"')  # a hint, which the stock writer gives by blocks of sixteen rows
    written, stock = (without_spans.sub(b"", _parts(folder / name)["xl/worksheets/sheet1.xml"]) for name in ("prepared.xlsx", "stock.xlsx"))
    empty = re.compile(rb'<row r="[0-9]+"/>')  # of a row without cells and height of its own, which the stock writer leaves out
    assert empty.sub(b"", written) == stock
    assert _parts(folder / "prepared.xlsx")["xl/sharedStrings.xml"] == _parts(folder / "stock.xlsx")["xl/sharedStrings.xml"]


@pytest.mark.parametrize("value", [float("nan"), float("inf"), object()])
def test_what_no_cell_can_hold_is_refused(tmp_path, value):
    with pytest.raises(SpecificationError):
        _prepared(tmp_path / "x.xlsx", [("a", value, 1.0, 1, None)], 3)


def test_long_and_broken_text_is_made_storable():
    assert clean("a\ud800b") == "a\ufffdb"
    assert clean("\U0001f600" * 20_000) == "\U0001f600" * 16_383  # 32,767 UTF-16 units hold 16,383 pairs
    assert clean("x" * 40_000) == "x" * 32_767
    assert clean("plain") == "plain"


def test_serial_dates_by_published_values():
    # ECMA-376 part 1, 18.17.4.1 (1900 date base): 1900-01-01 is 1; 1900-03-01 is 61; 2009-10-20 00:00 is 40106 by count of days
    assert serial(datetime(1900, 1, 1)) == 1
    assert serial(datetime(1900, 3, 1)) == 61
    assert serial(datetime(2009, 10, 20, 12)) == 40106.5


def test_minus_nought_is_nought(tmp_path):
    for first, second in ((0.0, -0.0), (-0.0, 0.0)):
        path = tmp_path / "x.xlsx"
        _prepared(path, [("a", first, first, 1, first), ("b", second, second, 1, second)], 3)
        assert b"<v>-0" not in _parts(path)["xl/worksheets/sheet1.xml"]


def test_formulas_are_made_ready_as_the_stock_writer_does_it() -> None:
    source = inspect.getsource(Worksheet._prepare_formula).split("use_future_functions")[0]
    newer = re.findall(r'r"\\[bS](\w+)\\\("', source)
    assert len(newer) >= 29  # or the stock writer words them otherwise now, and this looks at nothing
    ours, stock = ScheduleSheet(), Worksheet()
    for name in (*newer, "SUMIFS", "IFERROR", "S" + newer[0], "SINGLE"):
        for formula in (f"={name}(A1)", f"{{=1+{name}(A1)}}", f"{name.lower()}(A1)", f"=1+ {name}(_xlfn.SORT(A1))", f"={name}"):
            assert ours._prepare_formula(formula) == stock._prepare_formula(formula), formula
