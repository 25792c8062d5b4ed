"""Heaters of tanks that another place of a customer's workbook takes out, leaves open, or says to be without electric heat."""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set

from batch.findings import find, remark
from batch.intake.columns_unused import HEATED_BY
from batch.intake.grid import shown, worded
from batch.intake.line_kinds import by_itself
from batch.intake.list_words import says_no_heat
from batch.intake.names import fold
from batch.intake.remark_words import read_row_words
from batch.intake.table import TAKEN_OUT, WITHOUT_HEATERS, Table
from batch.intake.what_is_open import open_words
from batch.received_rows import ReceivedTable

OF_HEATERS = frozenset({"quantity", "power_kw", "total_kw", "volts_v"})
SAID = {TAKEN_OUT: "is taken out", WITHOUT_HEATERS: "has no electric heat"}


def ask_of_tanks_elsewhere(tables: Sequence[Table], of_tanks: Sequence[Table], sheets: Sequence[ReceivedTable]) -> None:
    """Heaters of such a tank are asked about. A table of tanks speaks for them (`of_tanks`: under our own headings), or a sheet of notes
    whose rows begin with the tank's tag (`sheets`: those that are no list); of two tables of heaters each speaks for its own.
    """
    gone = {tag: (table.grid.name, why) for table in tables if _of_tanks(table) for tag, why in _gone(table)}
    for table in of_tanks:
        gone |= {tag: (table.grid.name, why) for tag, why in _of_form(table) if tag not in gone}
    tags = {fold(row.values.get("tank", "")) for table in tables for row in table.rows}
    for sheet in sheets:
        gone |= {tag: (sheet.sheet, why) for tag, why in _noted(sheet, tags) if tag not in gone}
    for table in tables if gone else ():
        keep = table.list_plan.keep_rows if table.list_plan is not None else ()
        for row in table.rows:
            other, why = gone.get(fold(row.values.get("tank", "")), ("", ""))
            if not why or other == table.grid.name or row.number in keep:
                continue
            asked = remark("row-in-doubt", "tank", row=row.number, why=why, what=open_words(()), line=str(row.number))
            who = {key: str(row.values[key]) for key in ("tank", "bank") if key in row.values}
            table.findings.append(find(asked, sheet=table.grid.name, cell=table.cell("tank", row.number), seen=who.get("tank", ""), **who))
            table.refuse(row, f"in doubt: {by_itself(why)}")
        table.drop_refused()


def _of_tanks(table: Table) -> bool:
    return table.list_plan is not None and not OF_HEATERS & table.list_plan.columns.keys()


def _gone(table: Table) -> Iterator[tuple[str, str]]:
    for number, tag in table.gone.items():
        if (fate := table.refused.get(number, "")) in SAID:
            yield fold(tag), f"its tank {SAID[fate]} on sheet {table.grid.name}, row {number}, which"


def _of_form(table: Table) -> Iterator[tuple[str, str]]:
    """Tags of tanks under our own headings: what their notes say, and what stands under a heading of how they are heated."""
    heated = {heading.index for heading in table.head.headings if HEATED_BY.fullmatch(heading.text.strip(" .:"))}
    for row in table.rows:
        cells = {at: worded(value) for at, value in enumerate(table.grid.rows[row.number - 1]) if isinstance(value, str)}
        notes = str(row.values.get("notes") or "")
        where = f"on sheet {table.grid.name}, row {row.number}, which"
        if read_row_words(notes).fate:
            yield fold(row.values.get("tank", "")), f'"{shown(notes)}" is said of its tank {where}'
        elif any(says_no_heat(cells.get(at, "")) for at in heated):
            yield fold(row.values.get("tank", "")), f"its tank {SAID[WITHOUT_HEATERS]} {where}"


def _noted(sheet: ReceivedTable, tags: Set[str]) -> Iterator[tuple[str, str]]:
    """Tags that rows of a sheet of notes begin with, where what stands beside them takes something out or leaves it open."""
    for row in sheet.rows:
        words = [worded(value) for value in row.values if value not in (None, "")]
        if len(words) < 2 or fold(words[0]) not in tags or any(fold(word) in tags for word in words[1:]):
            continue  # of several tanks, side by side: the headings of a turned list
        text = " ".join(words[1:])
        if read_row_words(text).fate:
            yield fold(words[0]), f'"{shown(text)}" is said of its tank on sheet {sheet.sheet}, row {row.row}, which'
