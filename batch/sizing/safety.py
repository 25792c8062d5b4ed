"""What is missing around a bank that could hurt somebody, and which lengths nobody gave."""

from __future__ import annotations

from batch.findings import Remarks
from batch.records import Bank, Tank


def say_safety(bank: Bank, tank: Tank | None, on_panels: bool, said: Remarks) -> None:
    """What the row says about over-temperature protection and the low-level cutoff, and which lengths are missing."""
    if bank.over_temperature_limit != "yes":
        said.add("limit-missing" if bank.over_temperature_limit == "no" else "limit-unknown", "over_temperature_limit")
    cutoff = tank.level_cutoff if tank is not None else None
    if cutoff != "yes":
        said.add("level-cutoff-missing" if cutoff == "no" else "level-cutoff-unknown", "tank")
    if bank.heater_run_m is None:
        said.add("no-length", "heater_run_m", what="panel-to-heater length")
    if on_panels and bank.panel_feeder_run_m is None:
        said.add("no-length", "panel_feeder_run_m", what="contactor-to-panel length")
