"""A feeder: its line currents by phasors, what it needs, and how it is wired."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import NamedTuple

from batch.findings import Remarks
from batch.method.distribution_unit import device_use_pct
from batch.method.feeder_load import demand_amps, demand_kw, standard_transformer, transformer_load
from batch.method.line_currents import Lines, Loads, balanced_load, line_currents, unbalance_pct
from batch.method.neutral import current_carrying, neutral_load
from batch.method.overcurrent import minimum_feeder_rating, standard_rating
from batch.records import Feeder, Settings, Supply
from batch.results import BankDesign, Device, FeederRow
from batch.rules import AMPS_DIGITS, BURIED, RuleSet
from batch.sizing.grounded_line import fuses_of, ungrounded_lines, with_white
from batch.sizing.panel import drop_along
from batch.sizing.protection import Circuit, describe_device
from batch.sizing.runs import Run, Wired, choose_wires
from batch.sizing.words import air, amps
from batch.systems import System

CLOSE_A = 1e-6
CLOSE = 1e-9
PERCENT_CLOSE = 1e-6


class Behind(NamedTuple):
    """What a feeder's end asks of it: the largest device that it feeds, and the greatest drop of a way."""

    largest_a: float = 0.0
    drop_pct: float = 0.0


class FeederLoad(NamedTuple):
    """What a feeder carries: its banks and the other load, line by line, and what its device and wires are sized for."""

    loads: Loads
    running: Loads
    lines: Lines
    demand: float
    on_amps: float
    load_a: float
    required_a: float


class Hung(NamedTuple):
    """A bank on a feeder: its design, and its loads on the feeder's own lines (design and running amps)."""

    design: BankDesign
    quantity: int
    loads: Loads
    running: Loads


def size_feeder(
    feeder: Feeder,
    supply: Supply,
    banks: Sequence[Hung],
    before: Lines,
    settings: Settings,
    *,
    behind: Behind,
    rules: RuleSet,
    said: Remarks,
) -> FeederRow:
    """Totals of one feeder: amps per phase, device, conductors, drop, source use, fault current.

    `before` are the line currents with every bank starting on the first line. Other load is added to each line in full.
    """
    if not banks:
        said = Remarks()  # nothing of a feeder without heaters is ours to judge
    load = _load(feeder, supply, banks, settings, rules=rules, said=said)
    fused = any(bank.design.branch.device.kind == "fuse" for bank in banks)
    device = _device(feeder, supply, load.required_a, behind.largest_a, fused, settings=settings, rules=rules, said=said)
    wired = Wired(None, None)
    if device is not None and banks:
        limit_pct = _drop_left(banks, settings, behind.drop_pct)
        wired = _wired(feeder, supply, load, settings, device, limit_pct=limit_pct, rules=rules, said=said)
    delivered_kw = sum(bank.design.delivered_kw for bank in banks)
    greatest_kw = max((bank.design.delivered_kw for bank in banks), default=0.0)
    use_kva = transformer_load(supply.volts_v, load.load_a, supply.phases)
    next_kva = standard_transformer(use_kva, supply.phases, rules) if use_kva else None
    if banks and feeder.run_m is None:
        said.add("feeder-length-unknown", "run_m", feeder=feeder.feeder)
    return FeederRow(
        feeder=feeder,
        supply=supply,
        banks=len(banks),
        heaters=sum(bank.quantity for bank in banks),
        panels=sum(len(bank.design.panels) for bank in banks),
        connected_kw=sum(bank.design.connected_kw for bank in banks),
        demand_factor=load.demand,
        demand_kw=demand_kw(delivered_kw, load.demand, greatest_kw, rules).value,
        lines=load.lines,
        unbalance_pct=unbalance_pct(load.lines, supply.system),
        unbalance_before_pct=unbalance_pct(_with_other(before, feeder, supply), supply.system),
        required_a=load.required_a,
        device=device if banks else None,
        wires=wired.wires,
        drop_pct=wired.drop_pct,
        use_kva=use_kva,
        next_kva=next_kva.value if next_kva else None,
        fault_ka=None,
        fault_end_ka=None,
        basis=(*_basis(device, wired, rules), *((next_kva.citation,) if next_kva else ())),
        loads=load.loads,
        load_a=load.load_a,
        demand_on_amps=load.on_amps,
        use_pct=use_of_device(feeder, device, load.required_a, said, rules) if banks and device is not None else None,
        delivered_kw=delivered_kw,
    )


def _load(feeder: Feeder, supply: Supply, banks: Sequence[Hung], settings: Settings, *, rules: RuleSet, said: Remarks) -> FeederLoad:
    """The sums line by line, then what demand factor and margin make of them."""
    loads, running = Loads(), Loads()
    for bank in banks:
        loads, running = loads.plus(bank.loads), running.plus(bank.running)
    running = running.plus(_other_loads(feeder, supply))
    lines = _with_other(line_currents(loads, supply.system), feeder, supply)
    demand = feeder.demand_factor if feeder.demand_factor is not None else rules.default("demand_factor").value
    factor = _demand_on_amps(feeder, demand, banks, supply, said)
    other_a = feeder.other_load_a or 0.0
    if other_a:
        said.add("other-load-added", "other_load_a", feeder=feeder.feeder, amps=amps(other_a))
    greatest_a = max((line_currents(bank.loads, supply.system).maximum for bank in banks), default=0.0)
    load_a = demand_amps(lines.maximum, factor, greatest_a, other_a, rules).value
    required_a = minimum_feeder_rating(load_a, settings.margin_pct, rules).value
    return FeederLoad(loads, running, lines, demand, factor, load_a, required_a)


def _basis(device: Device | None, wired: Wired, rules: RuleSet) -> tuple[str, ...]:
    """What the device and wires of a feeder follow from."""
    return (
        "phasor sum of the loads",
        rules.clause("feeder_conductors"),
        *((rules.clause("neutral"),) if wired.wires is not None and wired.wires.neutral else ()),
        *(device.basis if device else ()),
        *(wired.wires.basis if wired.wires else ()),
    )


def use_of_device(feeder: Feeder, device: Device, required_a: float, said: Remarks, rules: RuleSet) -> float:
    """Share of its device that a feeder's load asks for, of an existing one its own."""
    rating_a = device.rating_a if feeder.device_there_a is None else feeder.device_there_a
    used_pct = device_use_pct(required_a, rating_a)
    words = {"feeder": feeder.feeder, "percent": f"{used_pct:.2f} %", "device": amps(rating_a)}
    if used_pct > 100.0 + PERCENT_CLOSE:
        said.add("device-overused", "feeder", **words)
    elif used_pct > rules.factor("device_use_note_pct").value:
        said.add("device-nearly-full", "feeder", **words)
    return used_pct


def _with_other(lines: Lines, feeder: Feeder, supply: Supply) -> Lines:
    """Other load on every line that exists: a sum of amps is never below the phasor sum."""
    other_a = feeder.other_load_a or 0.0
    if not other_a:
        return lines
    count = supply.system.lines
    return Lines(
        lines.a + other_a,
        lines.b + (other_a if count > 1 else 0.0),
        lines.c + (other_a if count > 2 else 0.0),
        lines.n + (0.0 if count > 1 else other_a),
    )


def _other_loads(feeder: Feeder, supply: Supply) -> Loads:
    """Other load as loads that put its amps on every line: what it adds to the voltage drop."""
    other_a = feeder.other_load_a or 0.0
    if supply.phases == 3:
        return balanced_load(1, other_a)
    return Loads(a=other_a) if supply.system is System.LINE_TO_NEUTRAL else Loads(x=other_a)


def _demand_on_amps(feeder: Feeder, demand: float, banks: Sequence[Hung], supply: Supply, said: Remarks) -> float:
    """The factor that applies to amps: a demand factor multiplies kW; amps only where every bank is balanced in itself."""
    if demand >= 1.0:
        return 1.0
    balanced = all(_is_balanced(bank.loads, supply) for bank in banks)
    how = "" if balanced else "; some banks are unbalanced in themselves, so the amps stay whole"
    said.add("demand-factor", "demand_factor", feeder=feeder.feeder, factor=f"{demand:g}", how=how)
    return demand if balanced else 1.0


def _is_balanced(loads: Loads, supply: Supply) -> bool:
    if supply.phases == 1:
        return supply.system is not System.THREE_WIRE or abs(loads.a - loads.b) < CLOSE
    lines = line_currents(loads, supply.system)
    return max(lines[:3]) - min(lines[:3]) < CLOSE_A and lines.n < CLOSE_A


def _device(
    feeder: Feeder, supply: Supply, required_a: float, largest_a: float, fused: bool, *, settings: Settings, rules: RuleSet, said: Remarks
) -> Device | None:
    """The device ahead of a feeder; `fused`: some bank on it has fuses, whatever the project's kind."""
    kind, name = settings.device_kind, feeder.feeder
    found = standard_rating(required_a, kind, settings.smallest_device_a, rules)
    if found is None:
        table = rules.citations["table_ratings"]
        said.add("beyond-table", "feeder", what=f"Device of feeder {name}", value=amps(required_a), table=table)
        return None
    rating_a = found.value
    raised = standard_rating(max(required_a, largest_a), kind, settings.smallest_device_a, rules)
    if raised is not None and raised.value > rating_a and feeder.device_there_a is None:
        said.add("feeder-device-raised", "feeder", feeder=name, load=amps(rating_a), device=amps(raised.value))
        rating_a = raised.value
    existing_a = feeder.device_there_a
    if existing_a is not None:
        if round(existing_a, AMPS_DIGITS) < round(required_a, AMPS_DIGITS):
            said.add("existing-device-small", "existing_device_a", feeder=name, given=amps(existing_a), required=amps(required_a))
        else:
            if existing_a > rating_a:
                said.add("existing-device-large", "existing_device_a", feeder=name, given=amps(existing_a), smallest=amps(rating_a))
            rating_a = existing_a
        if round(existing_a, AMPS_DIGITS) < round(largest_a, AMPS_DIGITS):
            said.add("existing-below-largest", "existing_device_a", feeder=name, given=amps(existing_a), largest=amps(largest_a))
    if supply.grounded:
        if kind == "fuse" or fused:
            said.add("corner-grounded", "system", feeder=name, line=supply.grounded)
        if feeder.grounded_fused == "yes":
            said.add("fuse-in-grounded-line", "grounded_fused", feeder=name, line=supply.grounded)
    poles = _poles_there(feeder, supply, kind, said)
    device = describe_device(rating_a, Circuit(kind, poles, supply), rules, said, supply.has_neutral)
    return fuses_of(device, {ungrounded_lines(supply)})


def _poles_there(feeder: Feeder, supply: Supply, kind: str, said: Remarks) -> int:
    """Poles of a feeder's device: a pole a line, but of a breaker that is there already as it is given."""
    lines, given, name = supply.system.lines, feeder.existing_poles, feeder.feeder
    if given is None:
        return lines
    why = (
        "no rating of the breaker is given" if feeder.device_there_a is None
        else "its device is a fuse" if kind == "fuse"
        else "it is 1-phase" if supply.phases == 1 else ""
    )  # fmt: skip
    if why:
        said.add("existing-poles-unused", "existing_poles", feeder=name, why=why)
        return lines
    if not given.startswith("2"):
        return lines
    if not supply.grounded:
        said.add("line-without-device", "existing_poles", feeder=name)
    elif given == "2":
        said.add("two-pole-breaker", "existing_poles", feeder=name)
    return 2


def _drop_left(banks: Sequence[Hung], settings: Settings, way_pct: float) -> float:
    """What the worst branch with its panel feeder leaves of the total drop limit, %; never less than the project's own difference."""
    behind = max((_drop_behind(bank.design) for bank in banks), default=0.0) + way_pct
    return max(settings.drop_ahead_pct, min(settings.branch_drop_pct, settings.total_drop_pct - behind))


def _wired(
    feeder: Feeder, supply: Supply, load: FeederLoad, settings: Settings, device: Device, *, limit_pct: float, rules: RuleSet, said: Remarks
) -> Wired:
    """The feeder's wires; without a length no drop is judged."""
    run = _run(feeder, supply, load, settings, device, rules=rules)
    if rules.tells_methods and feeder.installation in BURIED:
        resistivity, warm = rules.factor("soil_resistivity"), air(run.ambient_c, rules.marking.fahrenheit)
        words = {"temperature": warm, "resistivity": f"{resistivity.value:g} {resistivity.unit}"}
        said.add("soil-assumed", "installation", feeder=feeder.feeder, method=feeder.installation, **words)
    if feeder.run_m is not None:
        run = run.along(feeder.run_m, partial(drop_along, load.running, supply), limit_pct)
    wired = choose_wires(run, settings, rules, said)
    if wired.wires is not None and supply.grounded:
        wired = wired._replace(wires=with_white(wired.wires))
    return wired


def _run(feeder: Feeder, supply: Supply, load: FeederLoad, settings: Settings, device: Device, *, rules: RuleSet) -> Run:
    """The feeder as a run of conductors, before its length is asked."""
    lines, neutral = supply.system.lines, supply.has_neutral and neutral_load(load.loads, rules).value > 0.0
    return Run(
        what=f"feeder {feeder.feeder}",
        about="run_m",
        load_a=load.load_a,
        required_a=load.required_a,
        device_a=device.rating_a,
        device_kind=device.kind,
        lines=lines,
        neutral=neutral,
        current_carrying=current_carrying(lines, neutral, supply.phases, rules).value,
        ambient_c=around_feeder(feeder, settings, rules),
        shares=feeder.circuits_in_raceway or 1,
        installation=feeder.installation or "",
    )


def around_feeder(feeder: Feeder, settings: Settings, rules: RuleSet) -> float:
    """Temperature around a feeder: its own, else the project's air, or the ground's where it is buried."""
    if feeder.ambient_c is not None:
        return feeder.ambient_c
    buried = rules.tells_methods and feeder.installation in BURIED
    return rules.default("ground_c").value if buried else settings.ambient_c


def _drop_behind(design: BankDesign) -> float:
    """Drop of the panel feeder and branch of a bank together, %."""
    feeds = max((panel.drop_pct or 0.0 for panel in design.panels), default=0.0)
    return feeds + (design.branch.drop_pct or 0.0)
