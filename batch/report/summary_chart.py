"""The chart of a Summary: amps of lines A, B and C of each feeder, side by side."""

from __future__ import annotations

from xlsxwriter.utility import xl_rowcol_to_cell

from batch.writing.page import ONE_LINE, Page
from batch.writing.placed import quoted
from batch.writing.styles import FONT, INK

COLOURS = ("#2F4A43", "#B0793A", "#6B7FA3")  # the legend's words say which line is which
ROWS, MOST = 10, 24  # rows that the chart covers; feeders above which it could not be read
PIXELS_TO_POINTS = 0.75


def amps_chart(page: Page, first: int, count: int, amps_at: int) -> None:
    """Draws the chart below the table whose rows begin at `first`; columns `amps_at` and the next two are lines A, B and C."""
    if count > MOST:
        page.text(0, f"No chart: {count} feeders could not be read in one. The table above has every figure.", "subtitle")
        page.row += 1
        return
    chart = page.book.add_chart({"type": "column"})
    name = quoted(page.sheet.get_name())

    def column(at: int) -> str:
        return f"={name}!{xl_rowcol_to_cell(first, at, True, True)}:{xl_rowcol_to_cell(first + count - 1, at, True, True)}"

    for at, phase in enumerate("ABC"):
        series = {"name": f"line {phase}", "categories": column(0), "values": column(amps_at + at), "fill": {"color": COLOURS[at]}}
        chart.add_series({**series, "gap": 90})
    font = {"name": FONT, "size": 8, "color": INK}
    grid = {"visible": True, "line": {"color": "#D9DEDC"}}
    chart.set_y_axis({"name": "A", "name_font": font, "num_font": font, "num_format": "#,##0", "min": 0, "major_gridlines": grid})
    chart.set_x_axis({"num_font": font})
    chart.set_legend({"position": "right", "font": font})
    width = sum(int(width * 7 + 5) for width in page.widths)
    chart.set_size({"width": width - 6, "height": int(ROWS * ONE_LINE / PIXELS_TO_POINTS) - 10})
    words = f"Column chart of the amps in lines A, B and C of {count} feeder{'' if count == 1 else 's'}; the table above has the figures."
    page.sheet.insert_chart(page.row, 0, chart, {"description": words, "x_offset": 2, "y_offset": 6, "object_position": 2})
    with page.together():
        page.row += ROWS
