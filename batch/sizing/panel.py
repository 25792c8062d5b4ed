"""Heater panels: the bank split over as few as possible, each with its own panel feeder, block and contactor."""

from __future__ import annotations

from functools import partial
from typing import NamedTuple

from msgspec.structs import replace

from batch.counted_words import counted
from batch.findings import Remarks
from batch.method.block_jumpers import jumper_size, jumper_tap
from batch.method.line_currents import Loads, line_currents
from batch.method.neutral import current_carrying
from batch.method.overcurrent import minimum_feeder_rating
from batch.method.panel_split import heaters_per_panel, split_heaters
from batch.method.terminals import temperature_column
from batch.method.voltage_drop import drop_share
from batch.records import Design, Part, Settings, Supply
from batch.results import BranchDesign, Device, Needed, PanelDesign, Wires
from batch.rules import RuleSet
from batch.sizing.bank import BankCurrents
from batch.sizing.box_parts import enclosure_part, panel_box_parts
from batch.sizing.branch import no_wires, select_rating, shared_limit, torque_of
from batch.sizing.enclosures import panel_box, say_unboxed
from batch.sizing.legs import leg_names, lines_used
from batch.sizing.power_circuit import RESIDUAL
from batch.sizing.previous_decisions import previous_counts
from batch.sizing.protection import Circuit, describe_device
from batch.sizing.runs import Run, Wired, choose_wires
from batch.sizing.stock import Need, Stock, say_none_serves
from batch.sizing.switching import (
    Chosen,
    Openings,
    choose_block,
    choose_contactor,
    limit_terminals,
    panel_rating,
    switch_rating,
)
from batch.sizing.take_off_parts import choose_holder
from batch.sizing.words import amps, size_words


def build_panels(bank: BankCurrents, branch: BranchDesign, rules: RuleSet, said: Remarks) -> tuple[PanelDesign, ...]:
    """The bank's heater panels: as few as possible, split by heaters."""
    design, connection = bank.design, bank.connection
    most = design.branches_per_panel or design.settings.branches_per_panel
    if most > rules.factor("usual_branches").value:
        said.add("branches-unusual", "branches_per_panel", given=most)
    takes = heaters_per_panel(connection, most, bank.circuits)
    if takes < 1:
        takes = connection.group
        what = "A wye of three heaters" if takes > 1 else "A heater"
        said.add("branches-over-panel", "circuits_per_heater", what=what, circuits=bank.circuits * takes, most=most)
    free = split_heaters(connection, design.supply.system, design.quantity, takes)
    counts = previous_counts(design.previous_split, free, design.quantity, takes, connection, system=design.supply.system, said=said)
    if len(counts) > 1:
        said.add("panel-split", "quantity", most=most)
    built: dict[int, PanelDesign] = {}
    for heaters in counts:
        if heaters not in built:
            built[heaters] = _panel(bank, branch, heaters, rules, said)
    return tuple(built[heaters] for heaters in counts)


def _panel(bank: BankCurrents, branch: BranchDesign, heaters: int, rules: RuleSet, said: Remarks) -> PanelDesign:
    """One panel: lines by phasors, the panel feeder's device and wires with the margin, a block for that device, a contactor for the
    load."""
    design, settings, supply, stock = bank.design, bank.design.settings, bank.design.supply, bank.stock
    lines = line_currents(bank.loads(heaters), supply.system)
    required_a = minimum_feeder_rating(lines.maximum, settings.margin_pct, rules).value
    ungrounded, neutral = lines_used(bank.connection, supply, heaters)
    rated = select_rating(bank, required_a, ungrounded, "panel feeder OCPD", rules, said=said)
    circuit = Circuit(bank.kind, ungrounded, supply, design.fault_ka)
    device = describe_device(rated.rating_a, circuit, rules, said, neutral, part=rated.part)
    run = _feeder_run(bank, device, heaters, load_a=lines.maximum, required_a=required_a, rules=rules)
    alone = heaters == 1 and bank.circuits > 1  # the feed of one subdivided heater is a branch circuit
    wired = _wired_alone(run, design, settings, rules, said) if alone else choose_wires(run, settings, rules, said)
    wires = wired.wires or no_wires(design, ungrounded)
    ahead = choose_ahead(bank, device, lines.maximum, rules, said, on_contactor=(wires.size, wires.sets))
    names = tuple(name for name in leg_names(bank.connection, supply, heaters) for _ in range(bank.circuits))
    openings = _openings(bank, branch, device, wires, names, rules=rules, said=said)
    block = choose_block(
        device.rating_a,
        ungrounded,
        supply.volts_v,
        openings=openings,
        fault_ka=design.fault_ka,
        rules=rules,
        stock=stock,
        said=said,
    )
    held = holder_ahead(bank, device, wires, rules, said)
    sccr = panel_rating(block, branch.device, branch.holder, _stock_device(bank, branch), rules)
    torque_nm, torque_words = torque_of(wires.size, block.part, rules)
    plain = control_of(bank, heaters, branch, ahead, wires, rules=rules)
    panel = replace(
        plain,
        branches=heaters * bank.circuits,
        legs=names,
        block=block.words,
        block_a=block.rating_a,
        drop_pct=wired.drop_pct,
        torque_nm=torque_nm,
        torque_words=torque_words,
        sccr_ka=sccr.sccr_ka,
        sccr_part=sccr.part,
        sccr_from_stock=sccr.from_stock,
        sccr_marked=sccr.marked,
        jumper=openings.jumper,
        panel_feeder_holder=held,
        parts=(
            *device_parts("branch", branch.device, heaters * bank.circuits, branch.holder),
            Needed("power distribution block", block.name, block.words, 1),
            *plain.parts,
        ),
        feed_parts=(*device_parts("panel feeder", device, 1, held), *plain.feed_parts),
        panel_feeder_basis=(rules.clause("subdivided_feed" if alone else "feeder_conductors"), rules.citations["table_ratings"]),
        basis=tuple(dict.fromkeys((block.basis, *plain.basis, rules.citations["table_sccr"]))),
    )
    return _in_box(panel, design, rules, stock, said)


def _feeder_run(bank: BankCurrents, device: Device, heaters: int, *, load_a: float, required_a: float, rules: RuleSet) -> Run:
    """The panel feeder as a run of conductors; without a length it has no drop."""
    design, supply = bank.design, bank.design.supply
    ungrounded, neutral = lines_used(bank.connection, supply, heaters)
    return Run(
        what="panel feeder",
        about="panel_feeder_run_m",
        load_a=load_a,
        required_a=required_a,
        device_a=device.rating_a,
        device_kind=bank.kind,
        lines=ungrounded,
        neutral=neutral,
        current_carrying=current_carrying(ungrounded, neutral, supply.phases, rules).value,
        ambient_c=design.settings.ambient_c,
        shares=design.panel_feeders_in_raceway,
        length_m=design.panel_feeder_run_m,
        drop=None if design.panel_feeder_run_m is None else partial(drop_along, bank.loads(heaters, running=True), supply),
        drop_limit_pct=shared_limit(design, design.panel_feeder_run_m),
    )


def _openings(
    bank: BankCurrents, branch: BranchDesign, device: Device, wires: Wires, legs: tuple[str, ...], *, rules: RuleSet, said: Remarks
) -> Openings:
    """What the block's openings have to take: the panel feeder's wires, the jumper to a branch device, the branches of the fullest pole.
    Of a jumper's two ends the branch device allows the lower temperature."""
    settings = bank.design.settings
    column_c = temperature_column(min(branch.device.rating_a, device.rating_a), settings.terminal_c, rules).value
    if bank.design.box.taps:
        jumper = jumper_tap(
            required_a=bank.required_a, branch_a=branch.device.rating_a, feeder_a=device.rating_a, material=settings.conductor,
            column_c=column_c, rules=rules,
        )  # fmt: skip
        words = size_words(jumper.value) if jumper else "a bar"
        said.add("block-jumper-tap", "quantity", jumper=words, branch=amps(branch.device.rating_a), feeder=amps(device.rating_a))
    else:
        jumper = jumper_size(device.rating_a, bank.kind, settings.conductor, column_c, rules)
    return Openings(wires.size, wires.sets, jumper.value if jumper else "", fullest_pole(legs))


def _in_box(panel: PanelDesign, design: Design, rules: RuleSet, stock: Stock, said: Remarks) -> PanelDesign:
    """The panel with its box and what the box has; one that stands in the control panel's box has none."""
    if design.box.inside:
        return replace(panel, parts=(*panel.parts, *panel_box_parts(panel, True, rules, stock)))
    box = panel_box(panel, design.box, design.settings.ambient_c, rules=rules, stock=stock)
    say_unboxed(box, "quantity", "the heater panel", f"of {counted(panel.branches, 'branch')}: ", said)
    panel = replace(panel, enclosure=box)
    own = (enclosure_part(box, stock, panel.branches, panel.panel_feeder_device.rating_a), *panel_box_parts(panel, False, rules, stock))
    return replace(panel, parts=(*panel.parts, *own))


def _wired_alone(run: Run, design: Design, settings: Settings, rules: RuleSet, said: Remarks) -> Wired:
    """Wires to one subdivided heater: no smaller than is marked on it; by 100 % of its load where the clause lets them, the device by its
    margin all the same."""
    if design.marked_wire and rules.rank(design.marked_wire) > rules.rank(settings.smallest_conductor):
        settings = replace(settings, smallest_conductor=design.marked_wire)
    plain = choose_wires(run, settings, rules, Remarks() if design.hundred_pct else said)
    if not design.hundred_pct:
        return plain
    wired = choose_wires(replace(run, required_a=run.load_a), settings, rules, said)
    sizes = [size_words(one.wires.size) if one.wires is not None else "none" for one in (plain, wired)]
    how = "the size stays, the device asks for it" if sizes[0] == sizes[1] else f"{sizes[1]} instead of {sizes[0]}"
    said.add("hundred-pct-wires", "cycling", marked=size_words(design.marked_wire), how=how)
    return wired


def drop_along(running: Loads, supply: Supply, line_ohm: float, neutral_ohm: float) -> float:
    """Share of the supply's volts lost along conductors that feed such loads."""
    return drop_share(running, supply.system, supply.volts_v, line_ohm, neutral_ohm)


class Ahead(NamedTuple):
    """What stands ahead of a panel or single-circuit bank in the control panel: its device and contactor."""

    device: Device
    contactor: Chosen


def choose_ahead(
    bank: BankCurrents, device: Device, line_a: float, rules: RuleSet, said: Remarks, *, on_contactor: tuple[str, int]
) -> Ahead:
    """Contactor for the load; `on_contactor` wire size and number on a terminal."""
    volts_v, (wire, wires) = bank.design.supply.volts_v, on_contactor
    contactor = choose_contactor(line_a, device.poles, volts_v, wire=wire, wires=wires, rules=rules, stock=bank.stock, said=said)
    return Ahead(device, contactor)


def control_of(bank: BankCurrents, heaters: int, branch: BranchDesign, ahead: Ahead, wires: Wires, *, rules: RuleSet) -> PanelDesign:
    """What a panel and a single-circuit bank of so many heaters have alike: loads, device, contactor, limit string.

    As it stands it is a bank on one circuit, without a block and without torque.
    """
    design, supply, loads = bank.design, bank.design.supply, bank.loads(heaters)
    lines, switch = line_currents(loads, supply.system), switch_rating(ahead.contactor, rules)
    terminals = limit_terminals(heaters, design.limits, rules)
    listed = bank.stock.of("terminal")
    string = Needed("limit string terminal", listed[0].part if listed else "", "terminal of the limit string", terminals)
    return PanelDesign(
        heaters=heaters,
        branches=1,
        legs=leg_names(bank.connection, supply, heaters),
        lines=lines,
        loads=loads,
        running=bank.loads(heaters, running=True),
        connected_kw=heaters * design.power_kw,
        required_a=minimum_feeder_rating(lines.maximum, design.settings.margin_pct, rules).value,
        panel_feeder_device=ahead.device,
        panel_feeder_wires=wires,
        block="",
        block_a=0.0,
        contactor=ahead.contactor.words,
        contactor_a=ahead.contactor.rating_a,
        limit_terminals=terminals,
        drop_pct=None,
        torque_nm=branch.torque_nm,
        torque_words=branch.torque_words,
        sccr_ka=None,
        sccr_part="",
        sccr_from_stock=False,
        branch=branch,
        connection=bank.connected.words,
        volts_v=supply.volts_v,
        system=supply.system,
        parts=(string,) if terminals and not design.box.inside else (),
        feed_parts=(
            Needed("contactor", ahead.contactor.name, ahead.contactor.words, 1),
            *residual_parts(design, ahead.device, rules, neutral=lines_used(bank.connection, supply, heaters)[1]),
        ),
        residual_ma=design.rcd_ma,
        basis=(ahead.contactor.basis,),
        switch_ka=switch.sccr_ka,
        switch_part=switch.part,
        switch_from_stock=switch.from_stock,
        contactor_takes=ahead.contactor.part.wires_per_terminal if ahead.contactor.part is not None else None,
    )


def residual_parts(design: Design, device: Device, rules: RuleSet, *, neutral: bool) -> tuple[Needed, ...]:
    """The residual-current device of a panel feeder, where one is asked for. A neutral passes through it and is opened too, whether or not
    it carries anything: past it, the first unequal leg would trip it.
    """
    if design.rcd_ma is None:
        return ()
    poles = device.poles + neutral
    kind = f"{design.rcd_ma:g} mA, type {rules.residual_type.value}"
    words = f"residual-current device, {poles}-pole, {device.rating_a:g} A, {kind}, {design.supply.volts_v:g} V"
    return (Needed(RESIDUAL, "", words, 1),)


def fullest_pole(legs: tuple[str, ...]) -> int:
    """Branch wires on the fullest pole of the block: branches counted on each of L1, L2, L3."""
    return max(sum(pole in leg.split("-") for leg in legs) for pole in ("L1", "L2", "L3"))


def device_parts(role: str, device: Device, circuits: int, holder: Part | None) -> tuple[Needed, ...]:
    """Fuses by the pole and their holders by the circuit, or breakers by the circuit."""
    if device.kind != "fuse":
        return (Needed(f"{role} breaker", device.part, device.in_full, circuits),)
    fuse = f"{device.rating_a:g} A {device.each}"
    return (
        Needed(f"{role} fuse", device.part, fuse, circuits * device.poles),
        Needed(f"{role} fuse holder", holder.part if holder else "", f"{device.poles}-pole, dead-front disconnecting, {fuse}", circuits),
    )


def _stock_device(bank: BankCurrents, branch: BranchDesign) -> Part | None:
    """The stock part of the branch device, by its name."""
    return next((part for part in bank.stock.of(bank.kind) if part.part == branch.device.part), None)


def holder_ahead(bank: BankCurrents, device: Device, wires: Wires, rules: RuleSet, said: Remarks) -> Part | None:
    """The holder of the device ahead of a panel or single-circuit bank, where the shop lists holders."""
    if device.kind != "fuse" or not bank.stock.lists("fuse holder"):
        return None
    volts_v, fault_ka = bank.design.supply.volts_v, bank.design.fault_ka
    holder = choose_holder(device, wires, fault_ka, volts_v, stock=bank.stock, rules=rules)
    if holder is None:
        known = wires.size if wires.size in rules.sizes else ""
        say_none_serves(Need("fuse holder", device.rating_a, device.poles, volts_v, known, wires.sets, fault_ka), said)
    return holder
