"""What sizing returns of the faults of a feeder's circuits, to earth and between lines. Canonical units: A, V, ohm, s, m, mA, A²s."""

from __future__ import annotations

from msgspec import Struct


class EarthFault(Struct, frozen=True):
    """Whether a circuit disconnects an earth fault at its end in time, and whether its conductors bear a short circuit until then.

    What is not known is None; a loop without lengths or source is the part that is known.
    """

    circuit: str  # "feeder", "way", "panel feeder", "branch", "single circuit"
    tag: str
    tank: str
    bank: str
    earthing: str  # "TN-S", "TT", …
    u0_v: float
    rating_a: float  # of its device
    kind: str  # "fuse", "breaker"
    type: str  # of a circuit-breaker: "C"
    within_s: float | None
    needs_a: float | None  # current at which its device is sure to open in that time
    most_ohm: float | None  # loop at which that current flows
    loop_ohm: float
    fault_a: float | None
    run_m: float | None
    longest_m: float | None  # run at which the loop is as large as it may be, its conductors as they are
    residual_ma: float | None
    how: str  # by what it disconnects, or why not: see `batch.sizing.earth_faults`
    basis: tuple[str, ...] = ()
    bears_a2s: float | None = None  # energy that the smaller of its line and protective conductor bears
    lets_a2s: float | None = None  # energy at most that its device lets through

    @property
    def burns(self) -> bool:
        """Whether its device may let through more than its conductors bear."""
        return self.bears_a2s is not None and self.lets_a2s is not None and self.lets_a2s > self.bears_a2s

    @property
    def device(self) -> str:
        """ "32 A fuse", "C 32 A breaker"."""
        return f"{self.type} {self.rating_a:g} A {self.kind}".strip()
