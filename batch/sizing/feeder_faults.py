"""Fault current along a feeder: at its source, its end, each control panel and each heater panel, and what is below it there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from batch.findings import Remarks
from batch.records import Settings
from batch.results import Device, FeederRow, Way, Wires
from batch.rules import RuleSet
from batch.sizing.fault import Unmarked, exposed, withstands
from batch.sizing.phasing import DesignedBank
from batch.sizing.placing import groups
from batch.sizing.sources import KnownSource, Run, fault_at
from batch.sizing.stock import Stock
from batch.sizing.take_off_parts import choose_device, choose_holder
from batch.sizing.words import fault_current

CONTROL_PANELS, HEATER_PANELS = "at its control panels, up to", "in its heater panels, up to"
UNIT = "in its distribution unit,"  # whose ways all stand at one current


def with_fault_levels(row: FeederRow, known: KnownSource, settings: Settings, rules: RuleSet) -> FeederRow:
    """The row with the fault current at its source and at its end, kA."""
    runs: tuple[Run, ...] = () if row.wires is None else ((row.wires, row.feeder.run_m),)
    end_ka = fault_at(known, row.supply, runs, settings, rules) if runs and row.banks else None
    return replace(row, fault_ka=fault_at(known, row.supply, (), settings, rules), fault_end_ka=end_ka)


def to_way(row: FeederRow, way: Way) -> tuple[Run, ...]:
    """The runs from a source to a way's end."""
    ahead: tuple[Run, ...] = () if row.wires is None else ((row.wires, row.feeder.run_m),)
    return (*ahead, *(((way.wires, way.run_m),) if way.wires is not None else ()))


def at_ways(row: FeederRow, ways: Sequence[Way], known: KnownSource, settings: Settings, rules: RuleSet) -> tuple[Way, ...]:
    """The ways with the fault current at their control panels."""
    if row.wires is None:
        return tuple(ways)
    return tuple(replace(way, fault_ka=fault_at(known, row.supply, to_way(row, way), settings, rules)) for way in ways)


def judge_faults(
    row: FeederRow, known: KnownSource, on: Sequence[DesignedBank], settings: Settings, *, stock: Stock, rules: RuleSet, said: Remarks
) -> None:
    """Fault current at each panel; one caution a feeder for the parts that nobody has marked, a hold for a stock part below it."""
    if row.fault_ka is None or row.wires is None or row.end is None:
        return
    name, unmarked, unknown = row.feeder.feeder, Unmarked(), Unmarked()
    ways = {way.tank: way for way in row.end.ways}
    for kind, way_ka in _shared_parts(row, on, stock):
        default = rules.sccr_default(kind)
        if default is None:
            unknown.add(CONTROL_PANELS, kind, None, way_ka)
        elif way_ka > default.value:
            unmarked.add(CONTROL_PANELS, kind, default.value, way_ka)
    for one in on:
        panels, way = [], ways[one.bank.tank]
        for panel in one.panels:
            runs = (*to_way(row, way), (panel.design.panel_feeder_wires, one.design.panel_feeder_run_m))
            panels.append(replace(panel, fault_ka=fault_at(known, row.supply, runs, settings, rules)))
        one.panels = tuple(panels)
        places = [(f"panel {panel.tag}", panel.design, panel.fault_ka) for panel in one.panels]
        if one.design.single_circuit is not None:
            places = [(f"the single-circuit bank {one.bank.tank}/{one.label}", one.design.single_circuit, way.fault_ka)]
        for place, design, fault_ka in places:
            for part in exposed(design, way.fault_ka, fault_ka, rules):
                if part.from_stock:
                    at = f"the contactor of {place}" if part.ahead else place
                    words = {"fault": fault_current(part.fault_ka), "place": at, "part": part.part, "rating": f"{part.rating_ka:g} kA"}
                    one.said.add("fault-over-rating", "feeder", feeder=name, **words)
                else:
                    inside = not part.ahead and one.design.single_circuit is None
                    into = unknown if part.rating_ka is None else unmarked
                    into.add(HEATER_PANELS if inside else CONTROL_PANELS, part.part, part.rating_ka, part.fault_ka)
    device = row.device
    for place, one_device, wires, level_ka in _ahead(row):
        held, volts_v = None, row.supply.volts_v
        if one_device.kind == "fuse" and wires is not None:
            held = choose_holder(one_device, wires, level_ka, volts_v, stock=stock, rules=rules)
        elif (listed := choose_device(one_device, level_ka, row.supply, stock=stock, rules=rules)) is not None:
            one_device = replace(one_device, part=listed.part, interrupting_ka=listed.sccr_ka)
        for words_of, rating_ka, marked in withstands(one_device, "disconnect" if one_device.kind == "fuse" else "breaker", rules, held):
            if rating_ka is not None and level_ka <= rating_ka:
                continue
            if marked:
                words = {"fault": fault_current(level_ka), "place": place, "part": words_of, "rating": f"{rating_ka:g} kA"}
                said.add("fault-over-rating", "feeder", feeder=name, **words)
            else:
                into, where = unknown if rating_ka is None else unmarked, UNIT if place.startswith("way ") else f"at {place},"
                into.add(where, words_of.removeprefix("unmarked "), rating_ka, level_ka)
    if unknown_at := unknown.words():
        said.add("fault-rating-unknown", "fault_ka", feeder=name, places=unknown_at)
    if said_at := unmarked.words():
        said.add("fault-over-default", "fault_ka", feeder=name, places=said_at)
    there_ka = row.device_fault_ka
    if device is not None and device.kind == "breaker" and there_ka is not None and there_ka > _interrupts(device, row, stock, rules):
        said.add("interrupting-over", "fault_ka", feeder=name, fault=fault_current(there_ka))


def _shared_parts(row: FeederRow, on: Sequence[DesignedBank], stock: Stock) -> Iterator[tuple[str, float]]:
    """Parts that the panel feeders of a control panel share, with the fault current there: its disconnect, and a block behind it where they
    are several. Kinds that the stock list holds are judged with the control panel, by the part that is chosen."""
    for way in row.end.ways if row.end is not None else ():
        feeds = sum(len(groups(one.design)) for one in on if one.bank.tank == way.tank)
        for kind, there in (("disconnect", True), ("power distribution block", feeds > 1)):
            if there and way.fault_ka is not None and not stock.lists(kind):
                yield kind, way.fault_ka


def _interrupts(device: Device, row: FeederRow, stock: Stock, rules: RuleSet) -> float:
    """What a feeder's breaker is known to interrupt, kA: the stock part that is bought for it, else nothing."""
    there = row.feeder.device_there_a is not None
    listed = None if there else choose_device(device, row.device_fault_ka, row.supply, stock=stock, rules=rules)
    return (listed.sccr_ka if listed is not None else device.interrupting_ka) or 0.0


def _ahead(row: FeederRow) -> Iterator[tuple[str, Device, Wires | None, float]]:
    """Devices ahead of the control panels, each with its place, its wires and the fault current there: the feeder's fuses, and the
    devices of the ways of a unit of ours. What is said of a feeder's breaker is a finding of its own; a unit by others is asked for
    its rating.
    """
    if row.device is not None and row.device.kind == "fuse" and row.device_fault_ka is not None:
        yield "its end" if row.feeder.device_at_end else "its source", row.device, row.wires, row.device_fault_ka
    if row.end is not None and row.end.ours and row.end.fault_ka is not None:
        for way in row.end.ways:
            if way.device is not None:
                yield f"way {way.tag}", way.device, way.wires, row.end.fault_ka
