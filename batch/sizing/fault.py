"""Available fault current: at the source, behind the impedance of feeder and panel feed, and which parts it is too much for."""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt
from typing import NamedTuple

from batch.records import Feeder, Settings, Supply
from batch.results import PanelDesign, Wires
from batch.rules import RuleSet

ROOT3 = sqrt(3.0)


def fault_at_source(feeder: Feeder, supply: Supply, rules: RuleSet) -> float | None:
    """Available fault current where the feeder starts, kA: given, or from the transformer's kVA and %Z behind an infinite bus.

    The marked %Z is taken at 0.9 of itself, its tolerance (worst case, as a published point-to-point example does).
    None where neither is known.
    """
    if feeder.fault_ka is not None:
        return feeder.fault_ka
    if feeder.source_kva is None or feeder.source_z_pct is None:
        return None
    full_load_a = 1000.0 * feeder.source_kva / ((ROOT3 if supply.phases == 3 else 1.0) * supply.volts_v)
    return full_load_a / (rules.factor("z_tolerance").value * feeder.source_z_pct / 100.0) / 1000.0


def fault_behind(
    source_ka: float, supply: Supply, runs: tuple[tuple[Wires, float | None], ...], settings: Settings, rules: RuleSet
) -> float:
    """Fault current behind conductor runs of (wires, length m), kA, by complex impedances: never below the true one.

    The ratio of X to R of the source is not known, so both ends of what it can be are tried, all reactance and all resistance, and the
    greater current counts: the impedances add most where their angles agree, least at the end farther from the wires' angle.
    Conductor R is taken at 25 °C (0.838 of the 75 °C value); a 1-phase fault goes out and back. An unknown length reduces nothing.
    """
    three = supply.phases == 3
    source_ohm = supply.volts_v / ((ROOT3 if three else 1.0) * source_ka * 1000.0)
    cold = rules.factor("r_25c_over_75c").value
    run_ohm = 0j
    for wires, length_m in runs:
        if length_m is None or wires.size not in rules.sizes:
            continue
        resistance, reactance = _listed(wires.size, settings, rules)
        ways = 1.0 if three else 2.0
        run_ohm += complex(resistance * cold, reactance) * ways * length_m / 1000.0 / wires.sets
    least_ohm = min(abs(complex(0.0, source_ohm) + run_ohm), abs(source_ohm + run_ohm))
    return supply.volts_v / ((ROOT3 if three else 1.0) * least_ohm) / 1000.0


class Exposed(NamedTuple):
    """A part whose short-circuit rating is below what is available where it stands."""

    part: str
    rating_ka: float
    from_stock: bool
    fault_ka: float
    ahead: bool  # of the panel: with the contactor, at the feeder's end


def exposed(panel: PanelDesign, end_ka: float, panel_ka: float) -> Iterator[Exposed]:
    """Parts of one panel, or of a direct bank, below the fault current: what stands ahead of the feed wires at the feeder's end, what
    stands in the panel at the panel (110.9, 110.10). A device of the rule set's classes is judged with its feeder."""
    branch, feed = panel.branch.device, panel.panel_feeder_device
    for part, rating_ka, from_stock, fault_ka, ahead in (
        (panel.switch_part, panel.switch_ka, panel.switch_from_stock, end_ka, True),
        (feed.part, feed.interrupting_ka if feed.part else None, True, end_ka, True),
        (panel.sccr_part, panel.sccr_ka, panel.sccr_from_stock, panel_ka, False),
        (branch.part, branch.interrupting_ka if branch.part and panel.block else None, True, panel_ka, False),
    ):
        if rating_ka is not None and fault_ka > rating_ka:
            yield Exposed(part.removeprefix("unmarked "), rating_ka, from_stock, fault_ka, ahead)


def _listed(size: str, settings: Settings, rules: RuleSet) -> tuple[float, float]:
    """R and X per km of a size, or of the next LARGER size listed: less impedance, more fault current, the safe side."""
    for listed in rules.sizes[rules.rank(size) :]:
        resistance = rules.ac_resistance(listed, settings.conductor, settings.raceway)
        reactance = rules.ac_reactance(listed, settings.raceway)
        if resistance is not None and reactance is not None:
            return resistance.value, reactance.value
    return 0.0, 0.0
