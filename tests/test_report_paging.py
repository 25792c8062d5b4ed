"""Wiring prints type by type: a type that fits a page is on one, and no page is begun without need."""

from __future__ import annotations

from itertools import groupby, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.writing.paging import Pager
from batch.writing.paper import MOST_BREAKS, Scaled
from tests.sample_results import LOOKED_AT, opened

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
