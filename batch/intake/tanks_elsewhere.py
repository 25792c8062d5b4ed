"""Tanks that one table of a customer's workbook takes out, or says to be without heaters, where another has heaters for them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from batch.findings import find, remark
from batch.intake.names import fold
from batch.intake.table import TAKEN_OUT, WITHOUT_HEATERS, Table

OF_HEATERS = frozenset({"quantity", "power_kw", "total_kw", "volts_v"})
SAID = {TAKEN_OUT: "is taken out", WITHOUT_HEATERS: "has no electric heat"}


def ask_of_tanks_elsewhere(tables: Sequence[Table]) -> None:
    """Heaters of such a tank are asked about. Only a table of tanks speaks for them: of two tables of heaters each speaks for its own."""
    gone = {tag: (table, number) for table in tables if _of_tanks(table) for tag, number in _gone(table)}
    for table in tables if gone else ():
        keep = table.list_plan.keep_rows if table.list_plan is not None else ()
        for row in table.rows:
            said = gone.get(fold(row.values.get("tank", "")))
            if said is None or said[0] is table or row.number in keep:
                continue
            other, number = said
            why = f"its tank {SAID[other.refused[number]]} on sheet {other.grid.name}, row {number}, which"
            asked = remark("row-in-doubt", "tank", row=number, why=why, line=str(row.number))
            who = {key: str(row.values[key]) for key in ("tank", "bank") if key in row.values}
            table.findings.append(find(asked, sheet=table.grid.name, cell=table.cell("tank", row.number), seen=why, **who))
            table.refuse(row, f"in doubt: {why}")
        table.drop_refused()


def _of_tanks(table: Table) -> bool:
    return table.list_plan is not None and not OF_HEATERS & table.list_plan.columns.keys()


def _gone(table: Table) -> Iterator[tuple[str, int]]:
    for number, tag in table.gone.items():
        if table.refused.get(number) in SAID:
            yield fold(tag), number
