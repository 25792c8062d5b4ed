"""Values of result columns as they read on paper: in the unit shown, with the digits of the column's number format."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from batch.papers.paper_data import ColumnHead, PaperTable, table
from batch.schedules.row_words import HOLD
from batch.sheets import Column, Sheet
from batch.units import convert
from batch.writing.styles import FORMATS

WIDEST = 30.0  # a column of words takes no more than this of a table, whatever it takes on a screen


def figure(value: float, format: str) -> str:
    """A number as its format shows it: 1234.5 as "kw" "1,234.5"."""
    pattern = FORMATS[format]
    if pattern in ("@", "General"):
        return f"{value:.10g}"
    if format == "two_figures":
        return f"{value:.2f}" if value < 0.995 else f"{value:.1f}" if value < 9.95 else f"{value:,.0f}"
    positive = pattern.split(";")[0]
    least = positive.partition(".")[2].count("0")
    most = least + sum(map(positive.partition(".")[2].count, "#?"))
    words = f"{value:{'+' if positive.startswith('+') else ''}{',' if ',' in positive else ''}.{most}f}"
    for _ in range(most - least):
        words = words.removesuffix("0")
    return words.removesuffix(".")


def shown(column: Column, value: object, us: bool) -> str:
    """A value of a column; "" where there is none."""
    if value is None:
        return ""
    if isinstance(value, (int, float)):
        return figure(convert(value, column.unit, column.us_unit) if us and column.us_unit else value, column.format)
    return str(value)


def table_of(
    sheet: Sheet, keys: Sequence[str], rows: Iterable[Mapping], us: bool, *, title: str = "", note: str = "", wide: Mapping[str, float] = {}
) -> PaperTable:
    """Columns of a result sheet as a table; columns without a value in any row are left out, unless they come first. `wide`: shares of
    columns that need another than on a screen.
    """
    listed = list(rows)
    columns = [sheet[key] for at, key in enumerate(keys) if at == 0 or any(row[key] not in (None, "") for row in listed)]
    headings = tuple(
        ColumnHead(
            column.heading, column.shown_unit(us) if column.unit not in ("ea", "no.", "of unit") else "",
            "right" if column.kind in ("number", "integer") else "left", wide.get(column.key, min(column.width, WIDEST)),
        )
        for column in columns
    )  # fmt: skip
    texts = tuple(tuple(shown(column, row[column.key], us) for column in columns) for row in listed)
    held = tuple(at for at, row in enumerate(listed) if row.get("status") == HOLD or row.get("hold"))
    return table(title, headings, texts, held, note)
