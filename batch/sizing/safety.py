"""What is missing around a bank that could hurt somebody, and which lengths nobody gave."""

from __future__ import annotations

from collections.abc import Iterator

from batch.findings import Remark, remark
from batch.records import Bank, Tank


def safety_remarks(bank: Bank, tank: Tank | None, on_panels: bool) -> Iterator[Remark]:
    """What the row says about over-temperature protection and the low-level cutoff, and which lengths are missing."""
    if bank.over_temperature_limit != "yes":
        yield remark("limit-missing" if bank.over_temperature_limit == "no" else "limit-unknown", "over_temperature_limit")
    cutoff = tank.level_cutoff if tank is not None else None
    if cutoff != "yes":
        yield remark("level-cutoff-missing" if cutoff == "no" else "level-cutoff-unknown", "tank")
    if bank.heater_run_m is None:
        yield remark("no-length", "heater_run_m", what="panel-to-heater length")
    if on_panels and bank.panel_feeder_run_m is None:
        yield remark("no-length", "panel_feeder_run_m", what="contactor-to-panel length")
