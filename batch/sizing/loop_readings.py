"""What a loop tester may read at a panel and at its heaters, so that each circuit disconnects in time when its conductors are warm."""

from __future__ import annotations

from typing import NamedTuple

from batch.earth_fault_results import EarthFault
from batch.method.earth_fault import loop_read_cold
from batch.results import BankRow, FeederRow, PanelRow
from batch.rules import RuleSet
from batch.sizing.earth_faults import BY_RESIDUAL, CURVE


class LoopReading(NamedTuple):
    """The loop at the end of a circuit. `most_ohm` cold; None where no loop decides: behind a residual-current device, in a TT
    system, on a fuse's own curve, beyond the table."""

    fault: EarthFault
    most_ohm: float | None


def loop_readings(row: BankRow, panel: PanelRow | None, feeder: FeederRow, rules: RuleSet) -> tuple[LoopReading, ...]:
    """Of a panel its feeder and its branches, of a single-circuit bank its circuit; none under a code that sets no times."""
    judged = {one.tag for one in feeder.earth_faults if one.circuit == "panel feeder"}  # of panels that are alike the first, for all
    first = next((other.tag for other in row.panels if panel and other.tag in judged and other.design == panel.design), "")
    return tuple(
        LoopReading(one, _most(one, rules))
        for one in feeder.earth_faults
        if (one.tank, one.bank) == (row.bank.tank, row.label) and (one.circuit != "panel feeder" or one.tag == first)
    )


def loops_ahead(feeder: FeederRow, rules: RuleSet) -> tuple[LoopReading, ...]:
    """Of the feeder itself and the ways of its distribution unit."""
    return tuple(LoopReading(one, _most(one, rules)) for one in feeder.earth_faults if one.circuit in ("feeder", "way"))


def _most(one: EarthFault, rules: RuleSet) -> float | None:
    if one.most_ohm is None or one.earthing == "TT" or one.how in (BY_RESIDUAL, CURVE):
        return None
    return loop_read_cold(one.most_ohm, rules).value
