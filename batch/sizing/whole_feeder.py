"""A feeder from its banks to its row: ways, device and wires, taps, fault current at every level, and all that is said of it."""

from __future__ import annotations

from typing import NamedTuple

from msgspec.structs import replace

from batch.findings import Remark, Remarks
from batch.records import Feeder, Settings, Supply
from batch.results import FeederRow
from batch.rules import RuleSet
from batch.sizing.company import judge_ways_given
from batch.sizing.distribution import build_end, size_ways
from batch.sizing.earth_faults import judge_earth_faults
from batch.sizing.feeder import Behind, Hung, size_feeder
from batch.sizing.feeder_faults import at_ways, judge_faults, with_fault_levels
from batch.sizing.feeder_judgement import judge_balance, judge_total_drops
from batch.sizing.holds import INCOMPLETE
from batch.sizing.not_sized import missing_on_feeder
from batch.sizing.one_device import share_devices
from batch.sizing.phasing import Balanced, DesignedBank
from batch.sizing.placing import bank_loads
from batch.sizing.previous_decisions import PreviousFeeder
from batch.sizing.secondary_conductors import judge_at_end, size_secondary
from batch.sizing.sources import KnownSource
from batch.sizing.stock import Stock
from batch.sizing.supply_rulings import judge_supply
from batch.sizing.tap_conductors import size_taps
from batch.sizing.terminal_fit import judge_feeder_terminals
from batch.unsized_results import NotSized


class OnFeeder(NamedTuple):
    """What hangs on a feeder: its banks as they start, those that are missing from it, and what was said of their phases."""

    banks: list[DesignedBank]
    balanced: Balanced
    missing: list[NotSized]
    of_phases: tuple[Remark, ...]


def whole_feeder(
    feeder: Feeder,
    supply: Supply,
    hung: OnFeeder,
    known: KnownSource,
    settings: Settings,
    *,
    distribution: str | None,
    before: PreviousFeeder,
    stock: Stock,
    rules: RuleSet,
    said: Remarks,
) -> FeederRow:
    """The row of one feeder, without findings. Its banks get the fault current of their panels, and what is said of them."""
    on, name = hung.banks, feeder.feeder
    loads = [Hung(one.design, one.bank.quantity, *bank_loads(one.design, supply, one.starts)) for one in on]
    ways = size_ways(feeder, supply, on, settings, before=before, rules=rules, said=said)
    share_devices(on, ways, said)
    judge_ways_given(feeder, len(ways), said)
    largest_a = max((way.device.rating_a if way.device else way.largest_a for way in ways), default=0.0)
    behind = Behind(largest_a, max((way.drop_pct or 0.0 for way in ways), default=0.0))
    row = size_feeder(feeder, supply, loads, hung.balanced.before, settings, behind=behind, rules=rules, said=said)
    row = size_secondary(row, known, settings, rules=rules, said=said)
    row = with_fault_levels(row, known, settings, rules)
    if on and row.fault_ka is None and not known.named:
        said.add("fault-unknown", "fault_ka", feeder=name)
    ways = at_ways(row, size_taps(row, ways, settings, rules=rules, said=said), known, settings, rules)
    row = replace(row, end=build_end(row, ways, distribution, before=before, rules=rules, said=said))
    judge_at_end(row, known, settings, rules=rules, said=said)
    judge_feeder_terminals(row, settings, rules, said)
    judge_supply(row, on, rules, said)
    said.take(*hung.of_phases)
    if hung.missing:
        said.add(INCOMPLETE, "feeder", feeder=name, missing=missing_on_feeder(hung.missing))
    elif not on:
        said.add("feeder-without-heaters", "feeder", feeder=name)
    judge_balance(row, hung.balanced, rules, said)
    judge_faults(row, known, on, settings, stock=stock, rules=rules, said=said)
    judge_total_drops(row, on, settings)
    return judge_earth_faults(row, known, on, settings, rules=rules, said=said)
