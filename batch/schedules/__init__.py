"""Results as rows of the result sheets: dictionaries keyed by the column specification, values in canonical units or None."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from batch.results import JobResult
from batch.schedules.electrical import bank_rows, circuit_rows, feeder_rows, panel_rows, type_rows
from batch.schedules.heat_rows import heat_rows
from batch.schedules.papers import (
    carried_forward_rows,
    check_rows,
    code_basis_rows,
    finding_rows,
    material_rows,
    panel_label_rows,
    wiring_rows,
)
from batch.schedules.words import Row, status_of

__all__ = ["Row", "rows", "status_of"]


def rows(result: JobResult, sheet_id: str) -> list[Row]:
    """The rows of one result sheet; KeyError for a sheet that is not one of `batch.sheets.RESULTS`."""
    return list(BUILDERS[sheet_id](result))


BUILDERS: dict[str, Callable[[JobResult], Iterator[Row]]] = {
    "banks": bank_rows,
    "panels": panel_rows,
    "panel_types": type_rows,
    "circuits": circuit_rows,
    "feeder_totals": feeder_rows,
    "heat": heat_rows,
    "materials": material_rows,
    "panel_labels": panel_label_rows,
    "wiring": wiring_rows,
    "carried_forward": carried_forward_rows,
    "findings": finding_rows,
    "code_basis": code_basis_rows,
    "checks": check_rows,
}
