"""A bank built: its branch, its panels with their feeds, or the bank direct on one device."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from math import sqrt
from typing import NamedTuple

from batch.findings import Remark, remark
from batch.records import Design, Part
from batch.results import BranchDesign, Device, Needed, PanelDesign, Wires
from batch.rules import RuleSet
from batch.sizing import panels as split
from batch.sizing.bank import BankCurrents
from batch.sizing.conductors import Run, choose_wires
from batch.sizing.phasors import drop_fractions, line_currents
from batch.sizing.previous_decisions import kept_counts
from batch.sizing.protection import CLOSE, choose_rating, describe_device, element_limit, judge_fixed
from batch.sizing.stock import Need, none_serves
from batch.sizing.switching import (
    Chosen,
    choose_block,
    choose_contactor,
    choose_disconnect,
    limit_terminals,
    panel_rating,
    switch_rating,
)
from batch.sizing.words import amps, sentence


class Ruled(NamedTuple):
    """A branch's rating as chosen or fixed, and the stock part it comes from."""

    rating_a: float
    part: Part | None
    remarks: tuple[Remark, ...]


def branch_on_panel(bank: BankCurrents, rules: RuleSet) -> tuple[BranchDesign, list[Remark]]:
    """The branch of a bank on panels: its own device, and wires that this device protects."""
    design = bank.design
    poles, _, _ = _branch_shape(bank)
    ruled = _rating(bank, bank.required_a, poles, "branch OCPD", rules, design.fixed_rating_a)
    branch, more = _branch(bank, ruled, ruled.rating_a, _shared_limit(design, design.heater_run_m), rules)
    return branch, [*ruled.remarks, *_over_limit(ruled.rating_a, rules), *more]


def _rating(bank: BankCurrents, required_a: float, poles: int, what: str, rules: RuleSet, fixed_a: float | None = None) -> Ruled:
    """A device rating: the smallest that serves, of the stock or of 240.6(A); a fixed one is honoured and judged."""
    design = bank.design
    volts_v = design.supply.volts_v
    chosen = choose_rating(required_a, bank.kind, poles, volts_v, design.settings, rules, bank.stock, design.fault_ka)
    if chosen.rating_a is None:
        beyond = remark("beyond-table", "quantity", what=sentence(what), value=amps(required_a), table="240.6(A)")
        return Ruled(fixed_a or required_a, None, (*chosen.remarks, beyond))
    if fixed_a is None:
        return Ruled(chosen.rating_a, chosen.part, chosen.remarks)
    judged = judge_fixed(fixed_a, required_a, chosen.rating_a, bank.kind, rules)
    part = bank.stock.choose(Need(bank.kind, fixed_a, poles, volts_v, fault_ka=design.fault_ka), rules)
    return Ruled(fixed_a, part if part is not None and part.rating_a == fixed_a else None, (*chosen.remarks, *judged.remarks))


def _branch(
    bank: BankCurrents, ruled: Ruled, wired_for_a: float, limit_pct: float, rules: RuleSet, on_panel: bool = True
) -> tuple[BranchDesign, list[Remark]]:
    """One branch with its own device, its wires chosen behind a device of `wired_for_a`."""
    poles, _, neutral = _branch_shape(bank)
    device, said = describe_device(ruled.rating_a, bank.kind, poles, bank.design.supply, rules, neutral, ruled.part)
    wires, drop_pct, more = _branch_wires(bank, wired_for_a, limit_pct, rules)
    holder, held = _holder(bank, device, poles, wires.size, rules) if on_panel else (None, ())
    torque_nm, torque_words = _torque(wires.size, holder if bank.kind == "fuse" else ruled.part, rules)
    branch = BranchDesign(
        bank.branch_a, bank.running_a / bank.circuits, bank.required_a, device, wires, torque_nm, torque_words, drop_pct, holder
    )
    return branch, [*said, *more, *held]


def _holder(bank: BankCurrents, device: Device, poles: int, wire: str, rules: RuleSet) -> tuple[Part | None, tuple[Remark, ...]]:
    """The fuse holder from stock where the shop lists holders."""
    if bank.kind != "fuse" or not bank.stock.lists("fuse holder"):
        return None, ()
    known = wire if wire in rules.sizes else ""
    need = Need("fuse holder", device.rating_a, poles, bank.design.supply.volts_v, known, 1, bank.design.fault_ka)
    holder = bank.stock.choose(need, rules)
    return holder, () if holder is not None else (none_serves(need),)


def _torque(wire: str, part: Part | None, rules: RuleSet) -> tuple[float | None, str]:
    """Torque of the branch terminals: the part's own marking, else the rule set's default for the wire, and said to be that."""
    if part is not None and part.torque_nm is not None:
        return part.torque_nm, f"torque as marked on {part.part}"
    return rules.torque(wire).value if wire in rules.sizes else (None, "")


def _branch_shape(bank: BankCurrents) -> tuple[int, int, bool]:
    """Poles of one branch's device, its ungrounded conductors, and whether it has a neutral."""
    return {"3-phase": (3, 3, False), "line": (2, 2, False), "neutral": (1, 1, True)}.get(bank.joint.join, (1, 2, False))


def _branch_wires(bank: BankCurrents, device_a: float, limit_pct: float, rules: RuleSet) -> tuple[Wires, float | None, tuple[Remark, ...]]:
    design = bank.design
    _, lines, neutral = _branch_shape(bank)
    running = bank.running_a / bank.circuits
    three = bank.joint.join == "3-phase"
    volts = design.supply.volts_v if bank.joint.join in ("3-phase", "line") else bank.joint.applied_v
    drop = None if design.heater_run_m is None else lambda line_ohm, _: (sqrt(3.0) if three else 2.0) * line_ohm * running / volts
    run = Run(
        what="branch",
        about="heater_run_m",
        load_a=bank.branch_a,
        required_a=bank.required_a,
        device_a=device_a,
        device_kind=bank.kind,
        lines=lines,
        neutral=neutral,
        current_carrying=split.current_carrying(lines, neutral, design.supply, rules),
        ambient_c=design.settings.ambient_c,
        shares=design.circuits_in_raceway,
        length_m=design.heater_run_m,
        drop=drop,
        drop_limit_pct=limit_pct,
    )
    chosen = choose_wires(run, design.settings, rules)
    if chosen.wires is None:
        return _no_wires(design, lines), None, chosen.remarks
    return chosen.wires, chosen.drop_pct, chosen.remarks


def _no_wires(design: Design, lines: int) -> Wires:
    return Wires(
        "none serves", 1, lines, "", "none serves", design.settings.conductor, design.settings.insulation, "beyond the table", "", "", None
    )


def _over_limit(rating_a: float, rules: RuleSet) -> list[Remark]:
    """No device above 60 A stands before resistance elements (425.22(B))."""
    most = rules.factor("subdivided_device_a").value
    if rating_a > most:
        return [remark("device-over-limit", "fixed_rating_a", given=amps(rating_a), limit=amps(most))]
    return []


def _shared_limit(design: Design, own_m: float | None) -> float:
    """Share of the branch drop limit that a run gets: panel feed and branch keep it together, shared by length."""
    total_m = (design.heater_run_m or 0.0) + (design.panel_feeder_run_m or 0.0)
    limit = design.settings.branch_drop_pct
    return limit if not own_m or not total_m else limit * own_m / total_m


def build_panels(bank: BankCurrents, branch: BranchDesign, rules: RuleSet) -> tuple[tuple[PanelDesign, ...], list[Remark]]:
    """The bank's branch panels: as few as possible, split by heaters, each with its own feed, block and contactor."""
    design, said = bank.design, []
    most = design.branches_per_panel or design.settings.branches_per_panel
    usual = int(rules.factor("usual_branches").value)
    if most > usual:
        said.append(remark("branches-unusual", "branches_per_panel", given=most))
    takes = split.heaters_per_panel(bank.joint, most, bank.circuits)
    if takes < 1:
        group = split.smallest_group(bank.joint)
        said.append(
            remark(
                "branches-over-panel",
                "circuits_per_heater",
                what="A wye of three heaters" if group > 1 else "A heater",
                circuits=bank.circuits * group,
                most=most,
            )
        )
        takes = group
    free = split.split_heaters(bank.joint, design.supply, design.quantity, takes)
    counts, why = kept_counts(design.previous_split, free, design.quantity, takes, bank.joint, design.supply)
    if why:
        said.append(remark("kept-split-not", "quantity", before=" + ".join(map(str, design.previous_split)), why=why))
    if len(counts) > 1:
        said.append(remark("panel-split", "quantity", most=most))
    built: dict[int, PanelDesign] = {}
    for heaters in counts:
        if heaters not in built:
            built[heaters], more = _panel(bank, branch, heaters, rules)
            said += more
    return tuple(built[heaters] for heaters in counts), said


def _panel(bank: BankCurrents, branch: BranchDesign, heaters: int, rules: RuleSet) -> tuple[PanelDesign, list[Remark]]:
    """One panel: feed by phasors, device and wires at 1 + margin (215.2, 215.3), block for the feed device, contactor for the load."""
    design, settings, supply = bank.design, bank.design.settings, bank.design.supply
    lines = line_currents(bank.loads(heaters), supply)
    required = lines.maximum * settings.with_margin
    ungrounded, neutral = split.lines_used(bank.joint, supply, heaters)
    ruled = _rating(bank, required, ungrounded, "panel feeder OCPD", rules)
    device, said = describe_device(ruled.rating_a, bank.kind, ungrounded, supply, rules, neutral, ruled.part)
    running = bank.loads(heaters, running=True)
    run = Run(
        what="panel feeder",
        about="panel_feeder_run_m",
        load_a=lines.maximum,
        required_a=required,
        device_a=device.rating_a,
        device_kind=bank.kind,
        lines=ungrounded,
        neutral=neutral,
        current_carrying=split.current_carrying(ungrounded, neutral, supply, rules),
        ambient_c=settings.ambient_c,
        length_m=design.panel_feeder_run_m,
        drop=None if design.panel_feeder_run_m is None else partial(drop_fractions, running, supply),
        drop_limit_pct=_shared_limit(design, design.panel_feeder_run_m),
    )
    feed = choose_wires(run, settings, rules)
    wires = feed.wires or _no_wires(design, ungrounded)
    names = tuple(name for name in split.leg_names(bank.joint, supply, heaters) for _ in range(bank.circuits))
    contactor = choose_contactor(lines.maximum, ungrounded, supply.volts_v, wires.size, wires.sets, rules, bank.stock)
    disconnect = choose_disconnect(device.rating_a, ungrounded, supply.volts_v, wires.size, rules, bank.stock)
    block = choose_block(
        device.rating_a,
        ungrounded,
        supply.volts_v,
        wires.size,
        wires.sets,
        branch.wires.size,
        fullest_pole(names),
        design.fault_ka,
        rules,
        bank.stock,
    )
    rated = panel_rating(block, branch.device, branch.holder, ruled_part(bank, branch), rules)
    torque_nm, torque_words = _torque(wires.size, block.part, rules)
    panel = PanelDesign(
        branches=heaters * bank.circuits,
        legs=names,
        panel_feeder_wires=wires,
        block=block.words,
        block_a=block.rating_a,
        drop_pct=feed.drop_pct,
        torque_nm=torque_nm,
        torque_words=torque_words,
        sccr_ka=rated.sccr_ka,
        sccr_part=rated.part,
        sccr_from_stock=rated.from_stock,
        parts=(
            *_device_parts("branch", branch.device, heaters * bank.circuits, branch.holder),
            *_device_parts("panel feeder", device, 1, None),
            Needed("power distribution block", block.name, block.words, 1),
            *_switching_parts(contactor, disconnect, bank, heaters, rules),
            _enclosure(bank),
        ),
        basis=tuple(dict.fromkeys((block.basis, contactor.basis, disconnect.basis, "UL 508A Table SB4.1"))),
        **_in_common(bank, heaters, branch, device, contactor, disconnect, rules),
    )
    return panel, [*ruled.remarks, *said, *feed.remarks, *contactor.remarks, *disconnect.remarks, *block.remarks]


def fullest_pole(legs: tuple[str, ...]) -> int:
    """Branch wires on the fullest pole of the block: branches counted on each of L1, L2, L3."""
    return max(sum(pole in leg.split("-") for leg in legs) for pole in ("L1", "L2", "L3"))


def ruled_part(bank: BankCurrents, branch: BranchDesign) -> Part | None:
    """The stock part of the branch device, by its name."""
    return next((part for part in bank.stock.of(bank.kind) if part.part == branch.device.part), None)


def _device_parts(role: str, device: Device, circuits: int, holder: Part | None) -> tuple[Needed, ...]:
    """Fuses by the pole and their holders by the circuit, or breakers by the circuit."""
    if device.kind != "fuse":
        return (Needed(f"{role} breaker", device.part, device.in_full, circuits),)
    fuse = f"{device.rating_a:g} A {device.each}"
    return (
        Needed(f"{role} fuse", device.part, fuse, circuits * device.poles),
        Needed(f"{role} fuse holder", holder.part if holder else "", f"{device.poles}-pole, for {fuse}", circuits),
    )


def _in_common(
    bank: BankCurrents, heaters: int, branch: BranchDesign, device: Device, contactor: Chosen, disconnect: Chosen, rules: RuleSet
) -> dict[str, object]:
    """What a panel and a direct bank of so many heaters have alike: loads, feed device, contactor, disconnect, protector loop."""
    design, supply, loads = bank.design, bank.design.supply, bank.loads(heaters)
    lines, ahead = line_currents(loads, supply), switch_rating(contactor, disconnect, rules)
    return {
        "heaters": heaters,
        "lines": lines,
        "loads": tuple(loads),
        "running": tuple(bank.loads(heaters, running=True)),
        "connected_kw": heaters * design.power_kw,
        "required_a": lines.maximum * design.settings.with_margin,
        "panel_feeder_device": device,
        "contactor": contactor.words,
        "contactor_a": contactor.rating_a,
        "disconnect": disconnect.words,
        "disconnect_a": disconnect.rating_a,
        "limit_terminals": limit_terminals(heaters, design.level_cutoff, rules),
        "branch": branch,
        "connection": bank.joint.words,
        "volts_v": supply.volts_v,
        "system": supply.system,
        "switch_ka": ahead.sccr_ka,
        "switch_part": ahead.part,
        "switch_from_stock": ahead.from_stock,
    }


def _switching_parts(contactor: Chosen, disconnect: Chosen, bank: BankCurrents, heaters: int, rules: RuleSet) -> tuple[Needed, ...]:
    """Contactor, disconnect and the terminals of the protector loop."""
    listed = bank.stock.of("terminal")
    terminals = limit_terminals(heaters, bank.design.level_cutoff, rules)
    return (
        Needed("contactor", contactor.name, contactor.words, 1),
        Needed("disconnect", disconnect.name, disconnect.words, 1),
        Needed("limit string terminal", listed[0].part if listed else "", "terminal of the limit string", terminals),
    )


def _enclosure(bank: BankCurrents) -> Needed:
    """Enclosures are not sized: the first listed is named, else one is to be chosen."""
    parts = bank.stock.of("enclosure")
    return Needed("enclosure", parts[0].part if len(parts) == 1 else "", "enclosure for a wet and corrosive location, to be chosen", 1)


def direct_run(design: Design) -> float | None:
    """Metres of wire from the contactor to a heater without a panel between: both lengths where both are given."""
    return None if design.heater_run_m is None else design.heater_run_m + (design.panel_feeder_run_m or 0.0)


def build_direct(bank: BankCurrents, line_a: float, rules: RuleSet) -> tuple[BranchDesign, PanelDesign, list[Remark]]:
    """A bank without a panel: one device for all its heaters, and wires to each heater that this device protects."""
    bank = bank._replace(design=replace(bank.design, heater_run_m=direct_run(bank.design), panel_feeder_run_m=None))
    design, settings, supply = bank.design, bank.design.settings, bank.design.supply
    required = line_a * settings.with_margin
    ungrounded, neutral = split.lines_used(bank.joint, supply, design.quantity)
    ruled = _direct_rating(bank, required, ungrounded, rules)
    poles, _, _ = _branch_shape(bank)
    own = _rating(bank, bank.required_a, poles, "branch OCPD", rules)
    branch, more = _branch(bank, own, ruled.rating_a, settings.branch_drop_pct, rules, on_panel=False)
    device, about_device = describe_device(ruled.rating_a, bank.kind, ungrounded, supply, rules, neutral, ruled.part)
    bank_run = Run(
        what="wires of the single-circuit bank from its device to its contactor",
        about="quantity",
        load_a=line_a,
        required_a=required,
        device_a=ruled.rating_a,
        device_kind=bank.kind,
        lines=ungrounded,
        neutral=neutral,
        current_carrying=split.current_carrying(ungrounded, neutral, supply, rules),
        ambient_c=settings.ambient_c,
    )
    bank_wires = choose_wires(bank_run, settings, rules)
    wires_on = split.wires_on_terminal(bank.joint, supply, design.quantity, bank.circuits)
    contactor = choose_contactor(line_a, ungrounded, supply.volts_v, branch.wires.size, wires_on, rules, bank.stock)
    ahead_of_it = bank_wires.wires.size if bank_wires.wires else ""
    disconnect = choose_disconnect(ruled.rating_a, ungrounded, supply.volts_v, ahead_of_it, rules, bank.stock)
    direct = PanelDesign(
        branches=1,
        legs=split.leg_names(bank.joint, supply, design.quantity),
        panel_feeder_wires=bank_wires.wires or _no_wires(design, ungrounded),
        block="",
        block_a=0.0,
        drop_pct=None,
        torque_nm=branch.torque_nm,
        torque_words=branch.torque_words,
        sccr_ka=None,
        sccr_part="",
        sccr_from_stock=False,
        parts=(*_device_parts("bank", device, 1, None), *_switching_parts(contactor, disconnect, bank, design.quantity, rules)),
        basis=tuple(dict.fromkeys((contactor.basis, disconnect.basis))),
        **_in_common(bank, design.quantity, branch, device, contactor, disconnect, rules),
    )
    allowed = remark("single-circuit-allowed", "quantity", wires=settings.wires_per_terminal, amps=amps(element_limit(settings, rules)))
    said = [*ruled.remarks, *more, *about_device, *bank_wires.remarks, *contactor.remarks, *disconnect.remarks, allowed]
    return branch, direct, said


def _direct_rating(bank: BankCurrents, required_a: float, poles: int, rules: RuleSet) -> Ruled:
    """Device of a direct bank: any standard rating for one heater; 15 to 50 A, or 60 A with a caution, for several."""
    design = bank.design
    ruled = _rating(bank, required_a, poles, "bank OCPD", rules, design.fixed_rating_a)
    said = list(ruled.remarks)
    if design.quantity > 1 and design.fixed_rating_a is None:
        several = next((rating for rating in rules.single_circuit_ratings() if rating >= round(ruled.rating_a, CLOSE)), None)
        if several is not None and several != ruled.rating_a:
            ruled = _rating(bank, several, poles, "bank OCPD", rules)
    if design.quantity > 1 and design.fixed_rating_a is not None and design.fixed_rating_a not in rules.single_circuit_ratings():
        usual = ", ".join(f"{rating:g}" for rating in rules.single_circuit_ratings())
        said.append(remark("single-circuit-rating-odd", "fixed_rating_a", given=amps(design.fixed_rating_a), usual=usual))
    cautioned = ruled.rating_a > rules.factor("single_circuit_caution_a").value
    if design.quantity > 1 and cautioned and ruled.rating_a in rules.single_circuit_ratings():
        said.append(remark("single-circuit-sixty", "quantity", quantity=design.quantity))
    return ruled._replace(remarks=(*said, *_over_limit(ruled.rating_a, rules)))
