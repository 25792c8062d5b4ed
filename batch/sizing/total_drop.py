"""Voltage drop from the source to a heater: feeder, panel feeder and branch together against the project's limit."""

from __future__ import annotations

from collections.abc import Sequence

from batch.records import Settings
from batch.results import FeederRow
from batch.sizing.phasing import DesignedBank

CLOSE_PCT = 1e-6


def judge_total_drops(row: FeederRow, on: Sequence[DesignedBank], settings: Settings) -> None:
    """What is said of banks whose feeder, panel feeder and branch together lose more than the project allows."""
    for one in on:
        panels = max((panel.design.drop_pct or 0.0 for panel in one.panels), default=0.0)
        total = (row.drop_pct or 0.0) + panels + (one.design.branch.drop_pct or 0.0)
        if total > settings.total_drop_pct + CLOSE_PCT:
            what, limit = "Feeder, panel feeder and branch together", f"{settings.total_drop_pct:g} %"
            one.said.add("drop-over", "heater_run_m", what=what, percent=f"{total:.2f} %", limit=limit)
