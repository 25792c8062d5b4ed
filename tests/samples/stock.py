"""The invented stock list of the samples: no such parts, no such prices, no such hours. Its headings are those of the Stock sheet."""

from __future__ import annotations

import csv
from pathlib import Path

from batch.sheets import INPUTS

LIST = Path(__file__).with_name("invented_stock.csv")


def rows() -> list[dict[str, object]]:
    """Rows by column key, in the units of its headings; figures as numbers."""
    [sheet] = [one for one in INPUTS if one.id == "stock"]
    columns = {column.title(us=True).casefold(): column for column in sheet.columns}
    with LIST.open(encoding="utf-8", newline="") as file:
        listed = list(csv.DictReader(file))
    return [
        {columns[heading.casefold()].key: _value(text, columns[heading.casefold()].kind) for heading, text in row.items() if text}
        for row in listed
    ]


def _value(text: str, kind: str) -> object:
    return float(text) if kind in ("number", "integer") else text
