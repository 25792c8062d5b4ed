"""A column chart of a sheet of words and figures: one look for all of them."""

from __future__ import annotations

from collections.abc import Sequence

from xlsxwriter.utility import xl_rowcol_to_cell

from batch.writing.page import ONE_LINE, Page
from batch.writing.placed import quoted
from batch.writing.styles import FONT, INK

COLOURS = ("#2F4A43", "#B0793A", "#6B7FA3")  # dark, warm and blue: the legend's words say which series is which
ROWS = 10  # rows of the sheet that a chart covers
PIXELS_TO_POINTS = 0.75


def column_chart(page: Page, first: int, count: int, series: Sequence[tuple[str, int, str]], *, unit: str, gap: int, words: str) -> None:
    """Draws a chart below the table whose `count` rows begin at `first`, its names in column 0; `series` are (words, column, colour).

    `gap` is the room between two groups, in per cent of a column's width; `words` say the chart to who cannot see it."""
    chart = page.book.add_chart({"type": "column"})
    name = quoted(page.sheet.get_name())

    def column(at: int) -> str:
        return f"={name}!{xl_rowcol_to_cell(first, at, True, True)}:{xl_rowcol_to_cell(first + count - 1, at, True, True)}"

    for title, at, colour in series:
        chart.add_series({"name": title, "categories": column(0), "values": column(at), "fill": {"color": colour}, "gap": gap})
    font = {"name": FONT, "size": 8, "color": INK}
    grid = {"visible": True, "line": {"color": "#D9DEDC"}}
    bare = {"num_font": font, "major_tick_mark": "none", "minor_tick_mark": "none"}  # left out, some programs draw a comb of them
    chart.set_y_axis({**bare, "name": unit, "name_font": font, "num_format": "#,##0", "min": 0, "major_gridlines": grid})
    chart.set_x_axis(bare)
    chart.set_legend({"position": "right", "font": font})
    width = sum(int(width * 7 + 5) for width in page.widths)
    chart.set_size({"width": width - 6, "height": int(ROWS * ONE_LINE / PIXELS_TO_POINTS) - 10})
    page.sheet.insert_chart(page.row, 0, chart, {"description": words, "x_offset": 2, "y_offset": 6, "object_position": 2})
    with page.together():
        page.row += ROWS
