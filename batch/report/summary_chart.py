"""The chart of a Summary: amps of lines A, B and C of each feeder, side by side."""

from __future__ import annotations

from batch.report.column_chart import COLOURS, column_chart
from batch.writing.page import Page

MOST = 24  # feeders above which a chart could not be read


def amps_chart(page: Page, first: int, count: int, amps_at: int) -> None:
    """Draws the chart below the table whose rows begin at `first`; columns `amps_at` and the next two are lines A, B and C."""
    if count > MOST:
        page.text(0, f"No chart: {count} feeders could not be read in one. The table above has every figure.", "subtitle")
        page.row += 1
        return
    wording = page.book.wording
    lines = [(wording.of(f"line {phase}"), amps_at + at, COLOURS[at]) for at, phase in enumerate("ABC")]
    words = f"Column chart of the amps in lines A, B and C of {count} feeder{'' if count == 1 else 's'}; the table above has the figures."
    column_chart(page, first, count, lines, unit="A", gap=90, words=wording.of(words))
