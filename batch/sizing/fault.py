"""Available fault current: at a feeder's source, behind feeder and panel feeder, and which parts it is too much for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from batch.method.fault_current import conductor_impedance, fault_behind, fault_of_transformer
from batch.records import Feeder, Settings, Supply
from batch.results import PanelDesign, Wires
from batch.rules import RuleSet


def fault_at_source(feeder: Feeder, supply: Supply, rules: RuleSet) -> float | None:
    """Available fault current where the feeder starts, kA: given, or from the transformer's kVA and %Z; None where neither is known."""
    if feeder.fault_ka is not None:
        return feeder.fault_ka
    if feeder.source_kva is None or feeder.source_z_pct is None:
        return None
    return fault_of_transformer(feeder.source_kva, feeder.source_z_pct, supply.volts_v, supply.phases, rules).value


def fault_behind_runs(
    source_ka: float, supply: Supply, runs: tuple[tuple[Wires, float | None], ...], settings: Settings, rules: RuleSet
) -> float:
    """Fault current behind conductor runs of (wires, length m), kA. An unknown length reduces nothing."""
    run_ohm = 0j
    for wires, length_m in runs:
        if length_m is not None and wires.size in rules.sizes:
            run_ohm += conductor_impedance(
                size=wires.size,
                sets=wires.sets,
                length_m=length_m,
                material=settings.conductor,
                raceway=settings.raceway,
                phases=supply.phases,
                rules=rules,
            ).value
    return fault_behind(source_ka, supply.volts_v, supply.phases, run_ohm)


class Exposed(NamedTuple):
    """A part whose short-circuit rating is below what is available where it stands."""

    part: str
    rating_ka: float
    from_stock: bool
    fault_ka: float
    ahead: bool  # of the panel: with the contactor, at the feeder's end


def exposed(panel: PanelDesign, end_ka: float | None, panel_ka: float | None) -> Iterator[Exposed]:
    """Parts of one panel, or of a single-circuit bank, below the fault current: what stands ahead of the panel feeder conductors at the
    feeder's end, what stands in the panel at the panel. A device of the rule set's classes is judged with its feeder."""
    branch, feed = panel.branch.device, panel.panel_feeder_device
    for part, rating_ka, from_stock, fault_ka, ahead in (
        (panel.switch_part, panel.switch_ka, panel.switch_from_stock, end_ka, True),
        (feed.part, feed.interrupting_ka if feed.part else None, True, end_ka, True),
        (panel.sccr_part, panel.sccr_ka, panel.sccr_from_stock, panel_ka, False),
        (branch.part, branch.interrupting_ka if branch.part and panel.block else None, True, panel_ka, False),
    ):
        if rating_ka is not None and fault_ka is not None and fault_ka > rating_ka:
            yield Exposed(part.removeprefix("unmarked "), rating_ka, from_stock, fault_ka, ahead)
