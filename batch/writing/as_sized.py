"""What a row was sized with, kept beside it, so that a row that is edited afterwards says so by itself.

A sheet that names such columns (`Sheet.as_sized`) is written with a column `Edited` behind its status and, grouped away at its right, a
copy of each of them and a figure that is 1 where a copy and its column differ. Plain copies, not one joined text: a text made of numbers
depends on the decimal mark of whoever opens the workbook.
"""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from batch.sheets import Column, Sheet
from batch.sheets.received import EDITED as EDITED_HEADING
from batch.sheets.received import ROWS_EDITED
from batch.writing.placed import Placed
from batch.writing.styles import EDITED

WORD, FLAG, COPY = "edited", "rows_edited", "sized_"  # keys: of the word, of the figure, and what a copy's key begins with


def extended(sheet: Sheet) -> Sheet:
    """The sheet as it is written; itself where it names no column that it was sized with."""
    if not sheet.as_sized:
        return sheet
    columns, keys = [], {column.key for column in sheet.columns}
    for column in sheet.columns:
        columns.append(column)
        if column.key == ("verdict" if "verdict" in keys else "status"):
            columns.append(_word())
    differ = "+".join(f"([{key}]<>[{COPY}{key}])" for key in sheet.as_sized)
    columns.append(
        Column(
            FLAG,
            ROWS_EDITED,
            "ea",
            kind="number",
            format="count",
            help="1 where the row is not as it was sized.",
            formula=f"IFERROR(IF({differ}>0,1,0),1)",
            role="calculation",
            total="sum",
        )
    )
    columns += [_copy(sheet[key]) for key in sheet.as_sized]
    return replace(sheet, columns=tuple(columns))


def _word() -> Column:
    return Column(
        WORD, EDITED_HEADING, width=12, role="result", formula=f'IF([{FLAG}]>0,"{EDITED}","")',
        help="Says so by itself where an input or a choice of the row is no longer what was sized; else blank.",
    )  # fmt: skip


def _copy(column: Column) -> Column:
    return replace(
        column, key=COPY + column.key, heading=f"{column.heading} as sized", role="text", formula="", total="", also=(), group="",
        becomes="", help="What the row was sized with.",
    )  # fmt: skip


def shown(sheet: Sheet) -> int:
    """How many columns of an extended sheet are in sight: the rest are grouped away."""
    return next((at for at, column in enumerate(sheet.columns) if column.key == FLAG), len(sheet.columns))


def folded(sheet: Sheet, open_all: bool) -> frozenset[int]:
    """Which columns of an extended sheet are folded away when it is opened: closed outline groups and what the row was sized with."""
    closed = {at for at, column in enumerate(sheet.columns) if column.group and column.group != sheet.open_group and not open_all}
    return frozenset(closed | set(range(shown(sheet), len(sheet.columns))))


def count_edited(placed: Iterable[Placed]) -> str:
    """Formula without its sign: the rows of these sheets that were edited; "" where no sheet can say."""
    return "+".join(f'COUNTIF({one.range(WORD)},"{EDITED}")' for one in placed if WORD in one.columns)


def unedited(rows: Iterable[dict]) -> None:
    """Fills the added columns of rows that were just sized, copies apart: those show what their columns do, see `shown_key`."""
    for row in rows:
        row[WORD], row[FLAG] = "", 0


def shown_key(sheet: Sheet, key: str) -> str:
    """The key of a row's value that a column of an extended sheet shows: of a copy, that of the column it copies."""
    return key.removeprefix(COPY) if key.removeprefix(COPY) in sheet.as_sized else key
