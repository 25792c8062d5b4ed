"""How it was read: each column of a customer's list, what it was taken for, how sure and why."""

from __future__ import annotations

from collections.abc import Sequence

from batch.received_rows import HowRead
from batch.results import JobResult
from batch.schedules.schedule import Schedule, text


def _items(result: JobResult) -> Sequence[HowRead]:
    return result.job.how_read


HOW_READ = Schedule(
    "how_read", "How it was read", "column",
    "What each column of the customer's own lists was taken for. The same stands, to be corrected, in the map beside these results.",
    items=_items, named_by="heading",
    columns=(
        text("table", "Table", 7, "table", help="Number of the list in the workbook."),
        text("sheet", "Sheet", 20, "sheet", help="The tab it stands on."),
        text("range", "Range", 14, "range", help="Where it stands, headings included."),
        text("column", "Column", 9, "column", help="Letters of the column; the row of a list that is turned."),
        text("heading", "Heading as typed", 26, "heading", help="Several lines joined."),
        text("taken_as", "Taken as", 28, "taken_as", role="result", help="Which column of ours."),
        text("unit", "Unit", 8, "unit", help="Of bare numbers below."),
        text("sure", "How sure", 10, "sure", role="result", help="Certain, likely, open (asked, and not sized), or by the map."),
        text("evidence", "Evidence", 52, "evidence", help="What speaks for it."),
        text("values", "First values, as typed and as read", 34, "values", help="Up to three."),
    ),
)
