"""Terminals: the torque that a wire's terminal takes where it carries no marking."""

from __future__ import annotations

from functools import cached_property
from typing import NamedTuple

from batch.errors import RuleSetError
from batch.rules.conductors import ConductorRules
from batch.rules.tables import Cited

NM_PER_LBF_IN = 0.45359237 * 9.80665 * 0.0254  # pound-force inch in newton metres, exact by definition of its parts
WIDE_SLOT = "slotted screw, slot over 1.2 mm (0.047 in) wide or over 6.4 mm (1/4 in) long"
HEX_HEAD = "hex-head screw, external drive, not a split bolt"


class Torque(NamedTuple):
    nm: float
    words: str


class ThreadTorque(NamedTuple):
    """Torque of a terminal by its thread, in N·m: turned by a screwdriver, and otherwise; None where the code has none."""

    thread: str
    screwdriver_nm: float | None
    other_means_nm: float | None


class TorqueRules(ConductorRules):
    """Look-ups on terminals, by wire size or by thread."""

    @cached_property
    def _torques(self) -> dict[str, Cited[Torque]]:
        found: dict[str, Cited[Torque]] = {}
        hex_from = self.rank(self.named_size("torque_hex_from").value)
        ranks = {size: rank for rank, size in enumerate(self.sizes)}
        for row in self.table("torque"):
            first = ranks.get(row["size_from"], 0)  # the first row starts at wires smaller than any that is chosen
            for rank in range(first, self.rank(row["size_to"]) + 1):
                column, screw = ("slot_wide_lbf_in", WIDE_SLOT) if rank < hex_from else ("hex_other_lbf_in", HEX_HEAD)
                if (lbf_in := row.number(column)) is not None:
                    words = f"{screw}; {lbf_in:g} lbf·in; default, the terminal's own marking governs"
                    found[self.sizes[rank]] = row.cited(Torque(lbf_in * NM_PER_LBF_IN, words), column)
        return found

    @cached_property
    def thread_torques(self) -> tuple[Cited[ThreadTorque], ...]:
        """Torques by thread, rising, for terminals that bear no marking; none where the code does not go by thread."""
        if not self.has("torque_threads"):
            return ()
        return tuple(
            row.cited(ThreadTorque(row["thread"], row.number("screwdriver_nm"), row.number("other_means_nm")), "other_means_nm", "N·m")
            for row in self.table("torque_threads")
        )

    def torque(self, size: str) -> Cited[Torque] | None:
        """Default torque for a wire of that size: `Torque` (N·m, and the screw it holds for); None where the code has none by wire size.

        Up to 1 AWG a slotted screw with a wide slot, from 1/0 a hex head: the screws most common there. The choice of
        screw is common practice, no source; the figures are of Informative Annex I Table I.1.
        """
        if not self.has("torque"):
            return None
        try:
            return self._torques[size]
        except KeyError:
            raise RuleSetError(f"{self.table('torque').citation} has no torque for conductor size {size!r}.") from None
