"""What is said of a feeder once it is sized: its balance, the fault current at its panels, the drop on the way to its heaters."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from batch.findings import Remarks
from batch.records import Settings
from batch.results import FeederRow
from batch.rules import RuleSet
from batch.sizing.fault import exposed, fault_behind_runs
from batch.sizing.phasing import Balanced, DesignedBank

CLOSE_PCT = 1e-6


def judge_balance(row: FeederRow, balanced: Balanced, rules: RuleSet, said: Remarks) -> None:
    """Lines that differ by more than is usual, where the amps are worth a word or were fixed so."""
    limit, large = rules.factor("unbalance_pct").value, rules.factor("unbalance_large_a").value
    if row.unbalance_pct > limit and (row.lines.maximum > large or balanced.fixed_worse):
        lines = " / ".join(f"{line:.0f}" for line in (row.lines[:2] if row.supply.phases == 1 else row.lines[:3]))
        said.add("unbalance", "feeder", feeder=row.feeder.feeder, lines=f"{lines} A", percent=f"{row.unbalance_pct:.0f} %")


def judge_faults(row: FeederRow, on: Sequence[DesignedBank], settings: Settings, rules: RuleSet, *, said: Remarks) -> None:
    """Fault current at each panel; one caution a feeder for the parts that nobody has marked, a hold for a stock part below it."""
    if row.fault_ka is None or row.wires is None:
        return
    name, worst_ka = row.feeder.feeder, 0.0
    unmarked: dict[str, float] = {}
    to_here = (row.wires, row.feeder.run_m)
    for one in on:
        panels = []
        for panel in one.panels:
            runs = (to_here, (panel.design.panel_feeder_wires, one.bank.panel_feeder_run_m))
            panels.append(replace(panel, fault_ka=fault_behind_runs(row.fault_ka, row.supply, runs, settings, rules)))
        one.panels = tuple(panels)
        places = [(f"panel {panel.tag}", panel.design, panel.fault_ka) for panel in one.panels]
        if one.design.single_circuit is not None:
            places = [(f"the single-circuit bank {one.bank.tank}/{one.label}", one.design.single_circuit, row.fault_end_ka)]
        for place, design, fault_ka in places:
            for part in exposed(design, row.fault_end_ka, fault_ka):
                if part.from_stock:
                    at = f"the contactor of {place}" if part.ahead else place
                    words = {"fault": f"{part.fault_ka:.1f} kA", "place": at, "part": part.part, "rating": f"{part.rating_ka:g} kA"}
                    one.said.add("fault-over-rating", "feeder", feeder=name, **words)
                else:
                    unmarked[part.part], worst_ka = part.rating_ka, max(worst_ka, part.fault_ka)
    if unmarked:
        parts = ", ".join(f"{part} {rating:g} kA" for part, rating in sorted(unmarked.items()))
        said.add("fault-over-default", "fault_ka", feeder=name, fault=f"{worst_ka:.1f} kA", parts=parts)
    if row.device is not None and row.fault_ka > (row.device.interrupting_ka or 0.0):
        said.add("interrupting-over", "fault_ka", feeder=name, fault=f"{row.fault_ka:.1f} kA")


def judge_total_drops(row: FeederRow, on: Sequence[DesignedBank], settings: Settings) -> None:
    """What is said of banks whose feeder, panel feeder and branch together lose more than the project allows."""
    for one in on:
        panels = max((panel.design.drop_pct or 0.0 for panel in one.panels), default=0.0)
        total = (row.drop_pct or 0.0) + panels + (one.design.branch.drop_pct or 0.0)
        if total > settings.total_drop_pct + CLOSE_PCT:
            what, limit = "Feeder, panel feeder and branch together", f"{settings.total_drop_pct:g} %"
            one.said.add("drop-over", "heater_run_m", what=what, percent=f"{total:.2f} %", limit=limit)
