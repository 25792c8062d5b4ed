"""Rows of the heater list that held data and could not be used: kept as far as they could be read, so that they are counted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from batch.intake.names import Names, fold
from batch.intake.table import Table, Tables
from batch.records import UnreadBank

FIGURES = ("quantity", "power_kw", "volts_v", "phases")


def unread_banks(tables: Mapping[str, Tables], names: Names) -> tuple[UnreadBank, ...]:
    """One record for each refused row of data of the heater list, in the order of the workbook."""
    heaters = tables.get("heaters")
    if heaters is None:
        return ()
    feeders = {}
    for row in tables["feeders"].rows if "feeders" in tables else ():
        feeders[fold(row.values.get("project", "")), fold(row.values["feeder"])] = str(row.values["feeder"])
    return tuple(bank for table in heaters.all for bank in _of_table(table, names, feeders))


def _of_table(table: Table, names: Names, feeders: Mapping[tuple[str, str], str]) -> Iterator[UnreadBank]:
    for number in sorted(table.data_rows_refused()):
        values: Mapping[str, Any] = table.read_of.get(number) or table.named.get(number, {})
        project, feeder = _project(values, names), str(values.get("feeder", ""))
        yield UnreadBank(
            project=project,
            tank=str(values.get("tank", "")),
            bank=str(values.get("bank", "")),
            feeder=feeders.get((fold(project), fold(feeder)), feeder),
            **{key: values.get(key) for key in FIGURES},
            notes=values.get("notes"),
            why=table.refused[number],
            origin=table.origin(number),
        )


def _project(values: Mapping[str, object], names: Names) -> str:
    """The row's project as the Projects sheet spells it; the workbook's only one where the row names none; else as it stands there."""
    given = values.get("project")
    if given is None:
        return next(iter(names.projects.values())) if len(names.projects) == 1 and not names.refused_projects else ""
    return names.projects.get(fold(given), str(given))
