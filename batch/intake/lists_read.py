"""What was read of the sheets that are in no form of ours."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct, field

from batch.findings import Finding
from batch.intake.table import Table
from batch.received_rows import ReceivedTable

if TYPE_CHECKING:
    from batch.intake.study import Studied


class Lists(Struct):
    """What was read of some sheets, by the sheet's name."""

    tables: dict[str, list[Table]] = field(default_factory=dict)
    rest: dict[str, list[ReceivedTable]] = field(default_factory=dict)
    baths: list[Table] = field(default_factory=list)  # the tanks, as far as the lists describe them
    findings: list[Finding] = field(default_factory=list)
    map_text: str = ""
    plans: dict[int, str] = field(default_factory=dict)  # by the table's identity: its plan for As received
    studied: list[Studied] = field(default_factory=list)
    others: str = "asked"  # what a sheet is of which a column map says nothing

    @property
    def any(self) -> bool:
        return any(self.tables.values())
