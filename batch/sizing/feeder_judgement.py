"""What is said of a feeder once it is sized: its balance, the drop on the way to its heaters."""

from __future__ import annotations

from collections.abc import Sequence

from batch.findings import Remarks
from batch.records import Settings
from batch.results import FeederRow
from batch.rules import RuleSet
from batch.sizing.phasing import Balanced, DesignedBank

CLOSE_PCT = 1e-6


def judge_balance(row: FeederRow, balanced: Balanced, rules: RuleSet, said: Remarks) -> None:
    """Lines that differ by more than is usual, where the amps are worth a word or were fixed so."""
    limit, large = rules.factor("unbalance_pct").value, rules.factor("unbalance_large_a").value
    if row.unbalance_pct > limit and (row.lines.maximum > large or balanced.fixed_worse):
        lines = " / ".join(f"{line:.0f}" for line in (row.lines[:2] if row.supply.phases == 1 else row.lines[:3]))
        said.add("unbalance", "feeder", feeder=row.feeder.feeder, lines=f"{lines} A", percent=f"{row.unbalance_pct:.0f} %")


def judge_total_drops(row: FeederRow, on: Sequence[DesignedBank], settings: Settings) -> None:
    """What is said of banks whose feeder, way, panel feeder and branch together lose more than the project allows."""
    ways = {way.tank: way.drop_pct or 0.0 for way in row.end.ways} if row.end else {}
    for one in on:
        panels = max((panel.design.drop_pct or 0.0 for panel in one.panels), default=0.0)
        total = (row.drop_pct or 0.0) + ways.get(one.bank.tank, 0.0) + panels + (one.design.branch.drop_pct or 0.0)
        if total > settings.total_drop_pct + CLOSE_PCT:
            what, limit = "Feeder, way, panel feeder and branch together", f"{settings.total_drop_pct:g} %"
            one.said.add("drop-over", "heater_run_m", what=what, percent=f"{total:.2f} %", limit=limit)
