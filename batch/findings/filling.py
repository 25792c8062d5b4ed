"""Kinds of finding that filling in a customer's own list can give."""

from __future__ import annotations

from batch.findings.record import Kind, Severity

FILLING: tuple[Kind, ...] = (
    Kind(
        "sheet-not-filled",
        Severity.CAUTION,
        "Sheet not filled in",
        "Sheet {sheet} has no results beside its rows: {why}.",
        "a rule of this program: nothing of a customer's workbook is put at risk",
        "Put it right and fill the list again, or see its rows in the results workbook that `size` writes.",
    ),
)
