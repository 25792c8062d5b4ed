"""Wiring prints type by type: a type that fits a page is on one, and no page is begun without need."""

from __future__ import annotations

from itertools import groupby, pairwise
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.utils import column_index_from_string, range_boundaries
from openpyxl.worksheet.worksheet import Worksheet

import batch
from batch.schedules import RESULTS
from batch.sheets import Sheet, changes
from batch.writing.paging import Pager
from batch.writing.paper import MOST_BREAKS, STRIP, Scaled
from batch.writing.text_fit import digits, length
from tests.make_samples import HERE
from tests.sample_results import FINDINGS, LOOKED_AT, SMALL, opened

HEADING, DATA = 5, 6
PLAIN = 15.0  # points of a row of one line


@pytest.mark.parametrize("name", LOOKED_AT)
def test_no_type_that_fits_a_page_is_split_and_pages_are_filled(name: str) -> None:
    sheet = opened(name)["Wiring"]
    assert sheet.sheet_format.defaultRowHeight == PLAIN
    assert sheet.page_setup.orientation == "portrait"
    assert sheet.print_title_rows == f"${HEADING - 1}:${HEADING}"
    scale = sheet.page_setup.scale / 100
    assert scale >= 0.6  # 9-point type at more than 5 points (common practice, no source)
    page = (11 - 0.5 - 0.6) * 72 / scale  # Letter less its margins, in points before the scale
    heights = {at: sheet.row_dimensions[at].height or PLAIN for at in range(1, sheet.max_row + 1)}
    again = heights[HEADING - 1] + heights[HEADING]
    title = sum(height for at, height in heights.items() if at < DATA)  # above the data of the first page

    def ended(tall: float, before: int) -> float:
        """Points used on the last page of what begins a page; on the first page the title stands above it."""
        above = title if before == DATA - 1 else again
        return above + tall if above + tall <= page else (tall - page + above) % (page - again) + again

    breaks = [one.id for one in sheet.row_breaks.brk]  # the row above which the page ends
    groups = []
    for _, cells in groupby(sheet.iter_rows(min_row=DATA), key=lambda row: (row[0].value, row[1].value)):
        numbers = [row[0].row for row in cells]
        groups.append((numbers[0], numbers[-1], sum(heights[at] for at in numbers)))
    assert {at + 1 for at in breaks} <= {first for first, _, _ in groups}  # pages begin with a type
    for first, last in pairwise([DATA - 1, *breaks, sheet.max_row]):
        on_page = [tall for start, end, tall in groups if first < start and end <= last]
        if len(on_page) > 1:  # what is longer than a page itself goes on over as many as it needs, and others may end its last
            assert ended(on_page[0], first) + sum(on_page[1:]) <= page
    for before in breaks:  # the type that begins a page would not have fitted on the page before
        tall = next(tall for start, _, tall in groups if start == before + 1)
        start = max([at for at in (DATA - 1, *breaks) if at < before])
        held = sum(height for at, height in heights.items() if start < at <= before)
        assert ended(held, start) + tall > page * 0.93  # programs measure a little differently, so a little is kept free


@given(st.lists(st.integers(1, 150), min_size=1, max_size=40))
def test_groups_of_any_height_are_never_split_where_they_fit(counts: list[int]) -> None:
    paper = Scaled("letter", False, (100.0,))
    pager = Pager(("panel",), (("words", 50.0, False),), paper, (100.0, 50.0), 5)
    for at, count in enumerate(counts):
        for _ in range(count):
            pager.add({"panel": at, "words": "x"})
    pager.settle()
    page = paper.inches_high * 72
    starts, row = {}, 5
    for count in counts:
        starts[row] = count
        row += count
    assert set(pager.breaks) <= set(starts)
    left = page - 100.0
    for start, count in starts.items():
        if start in pager.breaks:
            left = page - 50.0
        assert count * PLAIN <= left or start in pager.breaks or start == 5
        left -= count * PLAIN
        while left < 0:
            left += page - 50.0


def test_a_list_of_very_many_panels_is_counted_no_further_than_breaks_can_be_set() -> None:
    pager = Pager(("panel",), (("words", 50.0, False),), Scaled("letter", False, (100.0,)), (100.0, 50.0), 5)
    for at in range(MOST_BREAKS + 500):
        for _ in range(60):
            pager.add({"panel": at, "words": "x"})
    assert len(pager.breaks) == MOST_BREAKS + 1


# --- what is too wide for a page prints in strips, each with the columns by which a row is known

LAST_NAME = {  # heading of the last column that a reader needs to know a row by
    "Banks": "Bank", "Panels": "Panel", "Panel types": "Type", "Circuits": "Branch", "Source loads": "Source", "Feeders": "Feeder",
    "Distribution": "Way", "Earth faults": "Device", "Boxes": "Box", "Control": "Tank", "Heat": "Tank", "Prices": "Feeder",
    "Price views": "Of",
    "Pricing used": "Project", "Buy list": "Description", "Materials": "Description", "Runs": "Description", "Questions": "Question",
    "Control circuit": "Line", "Wiring tags": "Panel", "Rows": "Part", "Findings": "Feeder",
}  # fmt: skip


def in_strips(book: openpyxl.Workbook) -> dict[str, tuple[str, list[str]]]:
    """Sheets that print in several strips: the columns that print again, and the strips."""
    areas = {sheet.title: (sheet.print_title_cols or "", str(sheet.print_area).split(",")) for sheet in book.worksheets if sheet.print_area}
    return {name: found for name, found in areas.items() if len(found[1]) > 1}


def judge_strips(book: openpyxl.Workbook) -> set[str]:
    found = in_strips(book)
    for name, (again, strips) in found.items():
        if name.startswith("As received"):
            continue  # its first columns are ours: the row of the list, and what became of it
        sheet = book[name]
        first, _, last = again.replace("$", "").partition(":")
        assert first == "A" and sheet[f"{last}{HEADING}"].value.partition(" (")[0].split("\n")[0] == LAST_NAME[name], f"{name}: {again!r}"
        for strip in strips[1:]:  # none of the columns that print again stands in a strip of its own
            begins = range_boundaries(strip.rpartition("!")[2].replace("$", ""))[0]
            assert begins > column_index_from_string(last), f"{name}: {strip}"
    return set(found)


@pytest.mark.parametrize("name", LOOKED_AT)
def test_every_strip_names_its_rows(name: str) -> None:
    assert judge_strips(opened(name)) >= {"Banks", "Panels", "Feeders", "Distribution", "Heat"}


def test_questions_print_on_one_strip() -> None:
    """A person answers them on paper."""
    book = opened(FINDINGS)
    assert "Questions" in book.sheetnames and "Questions" not in in_strips(book)


def test_strips_of_money_name_their_rows() -> None:
    book = opened(FINDINGS)
    assert judge_strips(book) >= {"Buy list", "Pricing used", "Prices"}
    for name in ("Buy list", "Pricing used"):
        sheet = book[name]
        _, _, last = sheet.print_title_cols.replace("$", "").partition(":")
        rows = [tuple(cell.value for cell in row) for row in sheet.iter_rows(min_row=DATA, max_col=column_index_from_string(last))]
        assert len(rows) > 1 and len({row[1:] for row in rows}) == len(rows), f"{name}: two rows that read alike, but for their number"


def test_strips_of_a_comparison_name_their_rows(tmp_path: Path) -> None:
    old, new = (HERE / "revisions" / f"line-4-rev-{name}.xlsx" for name in "AB")
    batch.compare(old, new, target=tmp_path / "compared.xlsx")
    assert judge_strips(openpyxl.load_workbook(tmp_path / "compared.xlsx")) >= {"Rows", "Feeders", "Materials", "Findings"}


def test_strips_of_all_that_prints_name_their_rows(tmp_path: Path) -> None:
    batch.size(HERE / SMALL, tmp_path / "sized.xlsx", print_set="all")
    assert judge_strips(openpyxl.load_workbook(tmp_path / "sized.xlsx")) >= {"Materials", "Runs", "Control"}


@pytest.mark.parametrize("sheet", (*RESULTS, *(one for one in vars(changes).values() if isinstance(one, Sheet))), ids=lambda one: one.id)
def test_every_result_sheet_says_what_names_its_rows(sheet: Sheet) -> None:
    """Columns may come to more than a page in another job; then they print again."""
    assert sheet.names_at_left > 0 or sheet.id == "changes", sheet.id  # Changes has a writer of its own, with its number
    names = sheet.columns[: sheet.names_at_left]
    assert sum(column.width for column in names) < STRIP * 0.75
    assert not any(column.group for column in names)  # unfolded, it would be printed again on every strip and leave no room


@pytest.mark.parametrize("name", LOOKED_AT)
def test_the_line_below_a_title_is_not_cut_off_at_the_edge_of_its_strip(name: str) -> None:
    book, judged = opened(name), 0
    for sheet_name, (_, strips) in in_strips(book).items():
        sheet, first = book[sheet_name], strips[0].rpartition("!")[2].replace("$", "")
        _, _, last, _ = range_boundaries(first)
        if isinstance(words := sheet["A2"].value, str):
            judged += 1
            assert digits(length(words)) <= sum(width_of(sheet, at) for at in range(1, last + 1)) + 0.01, sheet_name
    assert judged > 3


def width_of(sheet: Worksheet, at: int) -> float:
    """Digits of a column; none of one that is folded away."""
    found = next((one for one in sheet.column_dimensions.values() if one.min and one.min <= at <= one.max), None)
    return 8.43 if found is None else 0.0 if found.hidden else found.width


@pytest.mark.parametrize("name", LOOKED_AT)
def test_no_heading_of_the_first_sheet_ends_a_page(name: str) -> None:
    """A section's heading, in type larger than what it heads, stands with what follows it."""
    sheet = opened(name)["Read first"]
    breaks = [one.id for one in sheet.row_breaks.brk]
    assert breaks
    for last in breaks:
        above = [sheet.cell(row, 1) for row in range(last - 1, last + 1)]
        assert not any(cell.value and cell.font.b and cell.font.sz > 10 for cell in above), last
