"""Code basis: every factor and table that the sizing used, with its source."""

from __future__ import annotations

from collections.abc import Sequence

from batch.results import CodeValue, JobResult
from batch.schedules.schedule import Schedule, ordinal, text


def _items(result: JobResult) -> Sequence[CodeValue]:
    return result.code_values


CODE_BASIS = Schedule(
    "code_basis", "Code basis", "value", "Every factor and table that the sizing used, with its source.",
    items=_items, named_by="name",
    columns=(
        text("rule_set", "Rule set", 14, "rule_set",
             help="Edition."),
        text("name", "Name", 30, "name",
             help="Name of the value."),
        text("what", "What it is", 56, "what",
             help="In words."),
        ordinal("value", "Value", "", "value",
                kind="number", format="number_any", width=12, role="calculation", help="The value itself."),
        text("unit", "Unit", 10, "unit",
             help="Unit of the value."),
        text("source", "Source", 60, "source",
             help="Document, section, table."),
        text("status", "Status", 20, "status",
             help="seen in print; quoted, the document was not seen; trade practice; or from memory, unverified."),
    ),
)
