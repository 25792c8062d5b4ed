"""What stays on one printed page: charts with their tables, headings with what stands below them."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

import batch
from batch.report.read_first import NAME as READ_FIRST
from batch.report.read_first import WIDTHS as FIRST_WIDTHS
from batch.report.summary import WIDTHS
from batch.writing.paging import whole_blocks
from batch.writing.text_fit import lines, row_height
from tests import paper_job
from tests.sample_results import FINDINGS, SMALL, opened


def test_a_block_that_would_be_cut_begins_a_page() -> None:
    """Ten rows of 10 points on pages of 50: cut at 5 as they run; rows 4 to 6 are whole, so the page ends before row 4."""
    assert whole_blocks([10.0] * 10, [], 50.0) == ([5], 2)
    assert whole_blocks([10.0] * 10, [(4, 6)], 50.0) == ([4, 9], 3)
    assert whole_blocks([10.0] * 10, [(3, 9), (4, 6)], 50.0) == ([4, 9], 3)  # the outer one is taller than a page


@given(
    st.lists(st.floats(5, 60), min_size=1, max_size=40), st.lists(st.tuples(st.integers(0, 39), st.integers(0, 6)), max_size=6),
    st.floats(60, 300),
)  # fmt: skip
def test_no_page_is_overfull_and_no_block_that_fits_is_cut(heights: list[float], some: list[tuple[int, int]], room: float) -> None:
    blocks = [(first, first + more) for first, more in some if first + more < len(heights)]
    breaks, pages = whole_blocks(heights, blocks, room)
    assert pages == len(breaks) + 1
    for first, end in pairwise([0, *breaks, len(heights)]):
        assert sum(heights[first:end]) <= room + 1e-9
    apart = [one for one in blocks if not any(other != one and other[0] <= one[1] and one[0] <= other[1] for other in blocks)]
    for first, last in apart:
        if sum(heights[first : last + 1]) <= room:
            assert not any(first < at <= last for at in breaks)


@pytest.mark.parametrize("job", [SMALL, FINDINGS, "25 tanks", "25 tanks for the manager"])
def test_no_chart_of_a_summary_is_cut(job: str, tmp_path: Path) -> None:
    """By the heights of the rows as written, the scale and the breaks of the sheet, and the anchors of its charts."""
    book = _25(tmp_path, "manager" if "manager" in job else "") if job.startswith("25") else opened(job)
    charts = 0
    for sheet in book.worksheets:
        if not sheet.title.startswith("Summary"):
            continue
        if sheet.sheet_properties.pageSetUpPr and sheet.sheet_properties.pageSetUpPr.fitToPage and sheet.page_setup.fitToHeight != 0:
            assert sheet.page_setup.fitToHeight in (1, None)  # all on one page; None is left out, and 1 by the schema
            continue
        scale = sheet.page_setup.scale
        assert sum(int(width * 7 + 5) for width in WIDTHS) / 96 * scale / 100 <= 8.5 - 2 * 0.4  # one page wide, at 96 pixels to the inch
        room = (11.0 - sheet.page_margins.top - sheet.page_margins.bottom) * 72 * 100 / scale
        heights = [sheet.row_dimensions[row].height or 15.0 for row in range(1, int(sheet.print_area.rpartition("$")[2]) + 1)]
        breaks = [one.id for one in sheet.row_breaks.brk]
        for first, end in pairwise([0, *breaks, len(heights)]):
            assert sum(heights[first:end]) <= room
        for chart in sheet._charts:
            charts += 1
            top, bottom = chart.anchor._from.row, chart.anchor.to.row
            assert not [at for at in breaks if top < at <= bottom]
    assert charts or job == SMALL


def _25(folder: Path, print_set: str) -> openpyxl.Workbook:
    batch.size(paper_job.write(folder / "25.xlsx"), folder / "25 sized.xlsx", print_set=print_set)
    return openpyxl.load_workbook(folder / "25 sized.xlsx")


@pytest.mark.parametrize("job", [SMALL, FINDINGS])
def test_every_line_of_read_first_is_as_tall_as_its_words(job: str) -> None:
    sheet = opened(job)[READ_FIRST]
    for row in range(3, sheet.max_row + 1):
        words = sheet.cell(row, 3).value
        if isinstance(words, str) and sheet.cell(row, 3).alignment.wrap_text:
            assert (sheet.row_dimensions[row].height or 15.0) >= row_height(lines(words, FIRST_WIDTHS[2])), words
