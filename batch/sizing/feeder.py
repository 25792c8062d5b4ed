"""A feeder: its line currents by phasors, what it needs, and how it is wired."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from math import sqrt
from typing import NamedTuple

from batch.findings import Remark, remark
from batch.records import Feeder, Settings, Supply
from batch.results import BankDesign, Device, FeederRow, Lines
from batch.rules import RuleSet
from batch.sizing.conductors import Choice, Run, choose_wires
from batch.sizing.fault import fault_at_source, fault_behind
from batch.sizing.panels import current_carrying
from batch.sizing.phasors import Loads, drop_fractions, line_currents, unbalance_pct
from batch.sizing.protection import describe_device
from batch.sizing.words import amps, volts


class Hung(NamedTuple):
    """A bank on a feeder: its design, and its loads on the feeder's own lines (design and running amps)."""

    design: BankDesign
    quantity: int
    loads: Loads
    running: Loads


def size_feeder(
    feeder: Feeder, supply: Supply, banks: Sequence[Hung], before: Lines, settings: Settings, rules: RuleSet
) -> tuple[FeederRow, tuple[Remark, ...]]:
    """Totals of one feeder (215.2, 215.3, 220.60): amps per phase, device, conductors, drop, source use, fault current.

    `before` are the line currents with every bank starting on the first line. Other load is added to each line in full.
    """
    loads, running = Loads(), Loads()
    for bank in banks:
        loads, running = loads.plus(bank.loads), running.plus(bank.running)
    running = running.plus(_other_loads(feeder, supply))
    lines = _with_other(line_currents(loads, supply), feeder, supply)
    said: list[Remark] = []
    demand = feeder.demand_factor if feeder.demand_factor is not None else rules.default("demand_factor").value
    factor, more = _demand_on_amps(feeder, demand, banks, supply)
    said += more
    if feeder.other_load_a:
        said.append(remark("other-load-added", "other_load_a", feeder=feeder.feeder, amps=amps(feeder.other_load_a)))
    other_a = feeder.other_load_a or 0.0
    load_a = max((lines.maximum - other_a) * factor, _greatest_bank(banks, supply) if factor < 1.0 else 0.0) + other_a
    required = load_a * settings.with_margin
    connected = sum(bank.design.connected_kw for bank in banks)
    demand_kw = max(connected * demand, max((bank.design.connected_kw for bank in banks), default=0.0))

    fused = any(bank.design.branch.device.kind == "fuse" for bank in banks)
    device, more = _feeder_device(feeder, supply, required, fused, settings, rules)
    said += more
    chosen = Choice(None, None, ())
    if device is not None and banks:
        chosen = _feeder_wires(feeder, supply, banks, running, load_a, required, device, settings, rules)
        said += chosen.remarks
    use_kva = (sqrt(3.0) if supply.phases == 3 else 1.0) * supply.volts_v * load_a / 1000.0
    next_kva = rules.next_transformer(use_kva, supply.phases) if use_kva else None
    if feeder.source_kva is not None and use_kva > feeder.source_kva + 1e-9:
        said.append(
            remark(
                "source-overloaded",
                "source_kva",
                feeder=feeder.feeder,
                use=f"{use_kva:.1f} kVA",
                given=f"{feeder.source_kva:g} kVA",
                next=f"{next_kva.value:g} kVA" if next_kva else "beyond the table",
            )
        )
    source_ka = fault_at_source(feeder, supply, rules)
    end_ka = None
    if banks:
        if source_ka is None:
            said.append(remark("fault-unknown", "fault_ka", feeder=feeder.feeder))
        elif chosen.wires is not None:
            end_ka = fault_behind(source_ka, supply, ((chosen.wires, feeder.run_m),), settings, rules)
        if feeder.run_m is None:
            said.append(remark("feeder-length-unknown", "run_m", feeder=feeder.feeder))
    row = FeederRow(
        feeder=feeder,
        supply=supply,
        banks=len(banks),
        heaters=sum(bank.quantity for bank in banks),
        panels=sum(len(bank.design.panels) for bank in banks),
        connected_kw=connected,
        demand_factor=demand,
        demand_kw=demand_kw,
        lines=lines,
        unbalance_pct=unbalance_pct(lines, supply),
        unbalance_before_pct=unbalance_pct(_with_other(before, feeder, supply), supply),
        required_a=required,
        device=device if banks else None,
        wires=chosen.wires,
        drop_pct=chosen.drop_pct,
        use_kva=use_kva,
        next_kva=next_kva.value if next_kva else None,
        fault_ka=source_ka,
        fault_end_ka=end_ka,
        basis=(
            "phasor sum of the loads",
            "215.2, 215.3",
            *(("220.61",) if chosen.wires is not None and chosen.wires.neutral else ()),
            *(device.basis if device else ()),
            *(chosen.wires.basis if chosen.wires else ()),
            *((next_kva.basis,) if next_kva else ()),
            *(("110.9, Chapter 9 Table 9",) if end_ka is not None else ()),
        ),
    )
    return row, tuple(said) if banks else ()  # nothing of a feeder without heaters is ours to judge


def _with_other(lines: Lines, feeder: Feeder, supply: Supply) -> Lines:
    """Other load on every line that exists: a sum of amps is never below the phasor sum."""
    other = feeder.other_load_a or 0.0
    if not other:
        return lines
    has_b, has_c = supply.system != "1-phase line-to-neutral", supply.phases == 3
    return Lines(lines.a + other, lines.b + other * has_b, lines.c + other * has_c, lines.n + (0.0 if has_b else other))


def _other_loads(feeder: Feeder, supply: Supply) -> Loads:
    """Other load as loads that put its amps on every line: what it adds to the voltage drop."""
    other = feeder.other_load_a or 0.0
    if supply.phases == 3:
        each = other / sqrt(3.0)
        return Loads(each, each, each)
    return Loads(a=other) if supply.system == "1-phase line-to-neutral" else Loads(x=other)


def _demand_on_amps(feeder: Feeder, demand: float, banks: Sequence[Hung], supply: Supply) -> tuple[float, list[Remark]]:
    """A demand factor multiplies kW; it multiplies amps only where every bank is balanced in itself.

    A bank is switched as one, so the amps never go below those of the greatest bank.
    """
    if demand >= 1.0:
        return 1.0, []
    balanced = all(_is_balanced(bank.loads, supply) for bank in banks)
    how = "" if balanced else "; some banks are unbalanced in themselves, so the amps stay whole"
    return (demand if balanced else 1.0), [remark("demand-factor", "demand_factor", feeder=feeder.feeder, factor=f"{demand:g}", how=how)]


def _greatest_bank(banks: Sequence[Hung], supply: Supply) -> float:
    """Greatest line current of any one bank, A."""
    return max((line_currents(bank.loads, supply).maximum for bank in banks), default=0.0)


def _is_balanced(loads: Loads, supply: Supply) -> bool:
    if supply.phases == 1:
        return supply.system != "1-phase 3-wire" or abs(loads.a - loads.b) < 1e-9
    lines = line_currents(loads, supply)
    return max(lines[:3]) - min(lines[:3]) < 1e-6 and lines.n < 1e-6


def _feeder_device(
    feeder: Feeder, supply: Supply, required_a: float, fused: bool, settings: Settings, rules: RuleSet
) -> tuple[Device | None, list[Remark]]:
    """The device ahead of a feeder; `fused`: some bank on it has fuses, whatever the project's kind."""
    kind, said = settings.device_kind, []
    poles = 3 if supply.phases == 3 else (1 if supply.system == "1-phase line-to-neutral" else 2)
    found = rules.next_rating(required_a, kind, settings.smallest_device_a)
    if found is None:
        said.append(remark("beyond-table", "feeder", what=f"Device of feeder {feeder.feeder}", value=amps(required_a), table="240.6(A)"))
        return None, said
    rating = found.value
    existing = feeder.existing_device_a
    if existing is not None:
        if round(existing, 6) < round(required_a, 6):
            said.append(
                remark("existing-device-small", "existing_device_a", feeder=feeder.feeder, given=amps(existing), required=amps(required_a))
            )
        else:
            if existing > rating:
                said.append(
                    remark("existing-device-large", "existing_device_a", feeder=feeder.feeder, given=amps(existing), smallest=amps(rating))
                )
            rating = existing
    if supply.system == "corner-grounded delta" and (kind == "fuse" or fused):
        said.append(remark("corner-grounded", "system", feeder=feeder.feeder))
    if supply.solidly_grounded_wye and rating >= rules.factor("ground_fault_device_a").value:
        to_ground_v = supply.volts_v / sqrt(3.0)
        if to_ground_v > rules.factor("ground_fault_volts_v").value:
            words = {"feeder": feeder.feeder, "device": amps(rating), "volts": volts(supply.volts_v)}
            said.append(remark("ground-fault-protection", "feeder", **words))
    device, more = describe_device(rating, kind, poles, supply, rules, supply.has_neutral)
    return device, [*said, *more]


def _feeder_wires(
    feeder: Feeder,
    supply: Supply,
    banks: Sequence[Hung],
    running: Loads,
    load_a: float,
    required_a: float,
    device: Device,
    settings: Settings,
    rules: RuleSet,
) -> Choice:
    """Conductors of the feeder; its drop keeps what the worst branch with its panel feed leaves of the total limit."""
    behind = max((_drop_behind(bank.design) for bank in banks), default=0.0)
    least = max(settings.total_drop_pct - settings.branch_drop_pct, 0.0) or settings.branch_drop_pct
    limit = max(least, min(settings.branch_drop_pct, settings.total_drop_pct - behind))
    neutral = supply.has_neutral and any((bank.loads.a, bank.loads.b, bank.loads.c) != (0.0, 0.0, 0.0) for bank in banks)
    lines = 3 if supply.phases == 3 else (1 if supply.system == "1-phase line-to-neutral" else 2)
    run = Run(
        what=f"feeder {feeder.feeder}",
        about="run_m",
        load_a=load_a,
        required_a=required_a,
        device_a=device.rating_a,
        device_kind=device.kind,
        lines=lines,
        neutral=neutral,
        current_carrying=current_carrying(lines, neutral, supply, rules),
        ambient_c=settings.ambient_c if feeder.ambient_c is None else feeder.ambient_c,
        length_m=feeder.run_m,
        drop=None if feeder.run_m is None else partial(drop_fractions, running, supply),
        drop_limit_pct=limit,
    )
    return choose_wires(run, settings, rules)


def _drop_behind(design: BankDesign) -> float:
    """Drop of the panel feed and branch of a bank together, %."""
    feeds = max((panel.drop_pct or 0.0 for panel in design.panels), default=0.0)
    return feeds + (design.branch.drop_pct or 0.0)
