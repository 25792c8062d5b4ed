"""The feeder's end: a distribution unit with a way for each tank's control panel, or the one control panel that the feeder ends in."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from operator import itemgetter

from batch.findings import Remarks
from batch.held_once import held_once
from batch.method.distribution_unit import bus_rating, device_use_pct, way_frame
from batch.method.line_currents import Loads, line_currents
from batch.method.neutral import current_carrying, neutral_load
from batch.method.overcurrent import minimum_feeder_rating, standard_rating
from batch.records import Feeder, Settings, Supply
from batch.results import Device, FeederEnd, FeederRow, Way
from batch.rules import AMPS_DIGITS, RuleSet
from batch.sizing.grounded_line import fuses_of, ungrounded_lines, with_white
from batch.sizing.labels import natural
from batch.sizing.panel import drop_along
from batch.sizing.phasing import DesignedBank
from batch.sizing.placing import bank_loads, groups
from batch.sizing.previous_decisions import PreviousFeeder
from batch.sizing.protection import Circuit, describe_device
from batch.sizing.runs import Run, Wired, choose_wires
from batch.sizing.words import amps, size_words

OURS = "ours"


def size_ways(
    feeder: Feeder, supply: Supply, on: Sequence[DesignedBank], settings: Settings, *, before: PreviousFeeder, rules: RuleSet, said: Remarks
) -> tuple[Way, ...]:
    """One way for each tank on the feeder, by number: as it was before, new ones numbered on. Of a feeder with one tank it stands for the
    control panel that the feeder ends in."""
    tanks: dict[str, list[DesignedBank]] = {}
    for one in sorted(on, key=lambda one: one.key):
        tanks.setdefault(one.bank.tank, []).append(one)
    several, last = len(tanks) > 1, max(before.last_way, *before.ways.values(), 0)
    numbers = {}
    for tank in sorted(tanks, key=natural):
        kept = before.ways.get(tank.strip().casefold())
        last = last if kept else last + 1
        numbers[tank] = kept or last
    return tuple(
        _way(number, feeder, supply, tanks[tank], settings, several=several, rules=rules, said=said)
        for tank, number in sorted(numbers.items(), key=itemgetter(1))
    )


def _way(
    number: int,
    feeder: Feeder,
    supply: Supply,
    banks: list[DesignedBank],
    settings: Settings,
    *,
    several: bool,
    rules: RuleSet,
    said: Remarks,
) -> Way:
    """One way: what its tank's control panel carries, and, where there are several ways, its device, wires and frame."""
    loads, running, tag = Loads(), Loads(), f"{feeder.feeder}-W{number}"
    for one in banks:
        own, own_running = bank_loads(one.design, supply, one.starts)
        loads, running = loads.plus(own), running.plus(own_running)
    lines = held_once(line_currents(loads, supply.system))
    required_a = minimum_feeder_rating(lines.maximum, settings.margin_pct, rules).value
    largest = max((panel.panel_feeder_device.rating_a for one in banks for panel in groups(one.design)), default=0.0)
    tank = banks[0].tank
    run_m = tank.distribution_run_m if tank is not None and several else None
    if several and feeder.tap_m is not None:
        run_m = feeder.tap_m
    found = standard_rating(max(required_a, largest), settings.device_kind, settings.smallest_device_a, rules) if several else None
    device: Device | None = None
    wired = Wired(None, None)
    if several and found is None:
        said.add("beyond-table", "feeder", what=f"Device of way {tag}", value=amps(required_a), table=rules.citations["table_ratings"])
    elif found is not None:
        device = _device_of_way(found.value, supply, settings, rules)
        shares = feeder.ways_in_raceway or 1
        run = _run_of_way(tag, device, loads, supply, settings, required_a=required_a, shares=shares, rules=rules)
        if run_m is not None:
            run = run.along(run_m, partial(drop_along, running, supply), settings.drop_ahead_pct)
        wired = choose_wires(run, settings, rules, said)
        if wired.wires is not None and supply.grounded:
            wired = wired._replace(wires=with_white(wired.wires))
    frame = way_frame(device.rating_a, rules) if device is not None else None
    return Way(
        tag=tag,
        feeder=feeder.feeder,
        tank=banks[0].bank.tank,
        banks=held_once(tuple(one.label for one in banks)),
        lines=lines,
        connected_kw=sum(one.design.connected_kw for one in banks),
        required_a=required_a,
        largest_a=largest,
        device=device,
        wires=wired.wires,
        run_m=run_m,
        drop_pct=wired.drop_pct,
        frame_a=frame.value if frame else None,
        use_pct=device_use_pct(required_a, device.rating_a) if device else None,
        fault_ka=None,
        basis=held_once((
            "phasor sum of the control panel", rules.clause("feeder_conductors"), *(device.basis if device else ()),
            *(wired.wires.basis if wired.wires else ()),
        )),
        number=number,
    )  # fmt: skip


def _device_of_way(rating_a: float, supply: Supply, settings: Settings, rules: RuleSet) -> Device:
    circuit = Circuit(settings.device_kind, supply.system.lines, supply)
    device = describe_device(rating_a, circuit, rules, Remarks(), supply.has_neutral)
    return fuses_of(device, {ungrounded_lines(supply)})


def _run_of_way(
    tag: str, device: Device, loads: Loads, supply: Supply, settings: Settings, *, required_a: float, shares: int, rules: RuleSet
) -> Run:
    """The way as a run of conductors, before its length is asked."""
    lines, neutral = supply.system.lines, supply.has_neutral and neutral_load(loads, rules).value > 0.0
    return Run(
        what=f"way {tag}",
        about="feeder",
        load_a=line_currents(loads, supply.system).maximum,
        required_a=required_a,
        device_a=device.rating_a,
        device_kind=device.kind,
        lines=lines,
        neutral=neutral,
        current_carrying=current_carrying(lines, neutral, supply.phases, rules).value,
        ambient_c=settings.ambient_c,
        shares=shares,
    )


def build_end(
    row: FeederRow, ways: tuple[Way, ...], distribution: str | None, *, before: PreviousFeeder, rules: RuleSet, said: Remarks
) -> FeederEnd:
    """What stands at a feeder's end, of a row that has its device, wires and fault current.

    Main lugs: its feeder's OCPD stands ahead of it on the secondary, so that its bus is protected. A main only where one is given, or
    where the unit stands in another building.
    """
    feeder, device, last = row.feeder, row.device, max(before.last_way, *(way.number for way in ways), 0)
    if len(ways) < 2 or device is None:
        return FeederEnd("", False, None, None, "", row.fault_end_ka, ways, last)
    if feeder.tap_m is not None:
        return FeederEnd("taps", distribution == OURS, None, None, "", row.fault_end_ka, ways, last)
    name, main = feeder.feeder, feeder.unit_main_a
    if feeder.device_at_end:
        main = device.rating_a  # the main is the feeder's own device
    bus = bus_rating(device.rating_a, rules)
    bus_a = bus.value if bus else None
    if feeder.bus_a is not None:
        bus_a = feeder.bus_a
        protected_a = min(device.rating_a, main) if main is not None else device.rating_a
        if bus_a < protected_a:
            how = "main lugs" if main is None else f"a main of {amps(main)}"
            said.add("bus-small", "bus_a", feeder=name, bus=amps(bus_a), how=how, device=amps(protected_a))
    elif bus is None:
        table = "the list of buses"
        said.add("beyond-table", "feeder", what=f"Bus of the distribution unit of feeder {name}", value=amps(device.rating_a), table=table)
    if main is not None and not feeder.device_at_end and round(main, AMPS_DIGITS) < round(row.required_a, AMPS_DIGITS):
        percent = device_use_pct(row.required_a, main)
        said.add("main-small", "unit_main_a", feeder=name, main=amps(main), required=amps(row.required_a), percent=f"{percent:.2f} %")
    if main is None and feeder.unit_apart == "yes":
        main = device.rating_a
        said.add("main-apart", "unit_apart", feeder=name, main=amps(main))
    beyond = [way.tag for way in ways if way.device is not None and way.frame_a is None]
    if beyond:
        said.add("beyond-table", "feeder", what=f"Frame of way {beyond[0]}", value="its device", table="the list of frames")
    unknown = [way.tank for way in ways if way.run_m is None]
    if unknown:
        said.add("way-length-unknown", "feeder", feeder=name, count=len(unknown))
    if distribution != OURS:
        said.add("distribution-by-others", "feeder", feeder=name, ways=len(ways))
    largest_panelboard = rules.factor("panelboard_most_a").value
    made = "switchboard" if (bus_a or device.rating_a) > largest_panelboard else "panelboard"
    words = f"{'fused' if device.kind == 'fuse' else 'circuit-breaker'} {made}"
    lugs = "" if row.wires is None else f"{row.wires.sets} x {size_words(row.wires.size)} a line"
    return FeederEnd(words, distribution == OURS, bus_a, main, lugs, row.fault_end_ka, ways, last)
