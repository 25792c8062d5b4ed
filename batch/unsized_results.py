"""What is known of banks that came to nothing: frozen records, beside `batch.results`."""

from __future__ import annotations

from msgspec import Struct

from batch.findings import Finding
from batch.origin import Origin


class NotSized(Struct, frozen=True):
    """A bank in no total, because its row could not be read or could not be sized; as far as it is known, None = not known."""

    project: str
    tank: str
    label: str
    feeder: str  # as its row names it, or the project's only one; "" = not known
    quantity: int | None
    power_kw: float | None
    volts_v: float | None
    phases: int | None
    notes: str | None
    why: str
    origin: Origin
    findings: tuple[Finding, ...] = ()
    may_hang_on: tuple[str, ...] = ()  # feeders of the name in its row, where it does not tell which of them

    @property
    def fed_from(self) -> tuple[str, ...]:
        """Tags of the feeders that it may hang on; () = not known."""
        return self.may_hang_on or ((self.feeder,) if self.feeder else ())

    @property
    def connected_kw(self) -> float | None:
        return None if self.quantity is None or self.power_kw is None else self.quantity * self.power_kw
