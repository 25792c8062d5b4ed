"""A bank built: its branch, its panels with their feeds, or the bank direct on one device."""

from __future__ import annotations

from functools import partial
from math import sqrt

from batch.findings import Remark, remark
from batch.records import Design
from batch.results import BranchDesign, Device, PanelDesign, Wires
from batch.rules import RuleSet
from batch.sizing import panels as split
from batch.sizing.bank import BankCurrents
from batch.sizing.conductors import Run, choose_wires
from batch.sizing.phasors import drop_fractions, line_currents
from batch.sizing.protection import CLOSE, Rating, amps, branch_rating, describe_device, element_limit, judge_fixed
from batch.sizing.switching import choose_contactor, panel_rating, protector_terminals


def branch_on_panel(bank: BankCurrents, rules: RuleSet) -> tuple[BranchDesign, list[Remark]]:
    design = bank.design
    rating = branch_rating(bank.required_a, design.fixed_rating_a, bank.kind, design.settings, rules)
    said = [*rating.remarks, *_over_limit(rating, rules)]
    rating_a = rating.rating_a or bank.required_a
    branch, more = _branch(bank, rating_a, rating_a, _shared_limit(design, design.heater_run_m), rules)
    return branch, [*said, *more]


def _branch(bank: BankCurrents, rating_a: float, wired_for_a: float, limit_pct: float, rules: RuleSet) -> tuple[BranchDesign, list[Remark]]:
    """One branch with its own device rating, its wires chosen behind a device of `wired_for_a`."""
    poles, _, neutral = _branch_shape(bank)
    device, said = describe_device(rating_a, bank.kind, poles, bank.design.supply, rules, neutral)
    wires, drop_pct, more = _branch_wires(bank, wired_for_a, limit_pct, rules)
    torque = rules.torque(wires.size).value if wires.size in rules.sizes else (None, "")
    branch = BranchDesign(
        bank.branch_a,
        bank.running_a / bank.circuits,
        bank.required_a,
        device,
        wires,
        torque[0],
        torque[1],
        drop_pct,
    )
    return branch, [*said, *more]


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
        current_carrying=3 if three else 2,
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


def _over_limit(rating: Rating, rules: RuleSet) -> list[Remark]:
    most = rules.factor("subdivided_device_a").value
    if rating.rating_a is not None and rating.rating_a > most:
        return [remark("device-over-limit", "fixed_rating_a", given=amps(rating.rating_a), limit=amps(most))]
    return []


def _shared_limit(design: Design, own_m: float | None) -> float:
    """Share of the branch drop limit that a run gets: panel feed and branch keep it together, shared by length."""
    total_m = (design.heater_run_m or 0.0) + (design.feed_run_m or 0.0)
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
        star = bank.joint.join == "star"
        said.append(
            remark(
                "branches-over-panel",
                "circuits_per_heater",
                what="A star of three heaters" if star else "A heater",
                circuits=bank.circuits * (3 if star else 1),
                most=most,
            )
        )
        takes = 3 if star else 1
    counts = split.split_heaters(bank.joint, design.supply, design.quantity, takes)
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
    required = lines.greatest * settings.with_margin
    ungrounded, neutral = split.lines_used(bank.joint, supply, heaters)
    device, said = _feed_device(bank, required, ungrounded, neutral, rules)
    running = bank.loads(heaters, running=True)
    run = Run(
        what="panel feed",
        about="feed_run_m",
        load_a=lines.greatest,
        required_a=required,
        device_a=device.rating_a,
        device_kind=bank.kind,
        lines=ungrounded,
        neutral=neutral,
        current_carrying=split.current_carrying(ungrounded, neutral, supply),
        ambient_c=settings.ambient_c,
        length_m=design.feed_run_m,
        drop=None if design.feed_run_m is None else partial(drop_fractions, running, supply),
        drop_limit_pct=_shared_limit(design, design.feed_run_m),
    )
    feed = choose_wires(run, settings, rules)
    contactor = choose_contactor(lines.greatest, ungrounded, rules)
    rated = panel_rating(bank.kind, rules)
    names = split.leg_names(bank.joint, supply, heaters)
    panel = PanelDesign(
        heaters=heaters,
        branches=heaters * bank.circuits,
        legs=tuple(name for name in names for _ in range(bank.circuits)),
        lines=lines,
        loads=tuple(bank.loads(heaters)),
        running=tuple(running),
        connected_kw=heaters * design.power_kw,
        required_a=required,
        feed_device=device,
        feed_wires=feed.wires or _no_wires(design, ungrounded),
        block_a=device.rating_a,
        contactor=contactor.words,
        contactor_a=contactor.rating_a,
        disconnect_a=_disconnect(device.rating_a, rules),
        protector_terminals=protector_terminals(heaters, design.level_cutoff),
        drop_pct=feed.drop_pct,
        sccr_ka=rated.sccr_ka,
        sccr_part=rated.part,
        branch=branch,
        connection=bank.joint.words,
        volts_v=supply.volts_v,
        system=supply.system,
    )
    return panel, [*said, *feed.remarks, *contactor.remarks]


def _disconnect(device_a: float, rules: RuleSet) -> float:
    """Smallest disconnect that takes the device: so at least 1 + margin times the load (425.19)."""
    found = rules.next_switch(device_a)
    return found.value if found else device_a


def _feed_device(bank: BankCurrents, required_a: float, poles: int, neutral: bool, rules: RuleSet) -> tuple[Device, list[Remark]]:
    found = rules.next_rating(required_a, bank.kind, bank.design.settings.smallest_device_a)
    said: list[Remark] = []
    if found is None:
        said.append(remark("beyond-table", "quantity", what="panel feed device", value=amps(required_a), table="240.6(A)"))
    device, more = describe_device(found.value if found else required_a, bank.kind, poles, bank.design.supply, rules, neutral)
    return device, [*said, *more]


def build_direct(bank: BankCurrents, line_a: float, rules: RuleSet) -> tuple[BranchDesign, PanelDesign, list[Remark]]:
    """A bank without a panel: one device for all its heaters, and wires to each heater that this device protects."""
    design, settings, supply = bank.design, bank.design.settings, bank.design.supply
    required = line_a * settings.with_margin
    rating, said = _direct_rating(bank, required, rules)
    own = branch_rating(bank.required_a, None, bank.kind, settings, rules)
    branch, more = _branch(bank, own.rating_a or bank.required_a, rating, settings.branch_drop_pct, rules)
    ungrounded, neutral = split.lines_used(bank.joint, supply, design.quantity)
    device, about_device = describe_device(rating, bank.kind, ungrounded, supply, rules, neutral)
    contactor = choose_contactor(line_a, ungrounded, rules)
    lines = line_currents(bank.loads(design.quantity), supply)
    direct = PanelDesign(
        heaters=design.quantity,
        branches=1,
        legs=split.leg_names(bank.joint, supply, design.quantity),
        lines=lines,
        loads=tuple(bank.loads(design.quantity)),
        running=tuple(bank.loads(design.quantity, running=True)),
        connected_kw=design.quantity * design.power_kw,
        required_a=required,
        feed_device=device,
        feed_wires=branch.wires,
        block_a=0.0,
        contactor=contactor.words,
        contactor_a=contactor.rating_a,
        disconnect_a=_disconnect(rating, rules),
        protector_terminals=protector_terminals(design.quantity, design.level_cutoff),
        drop_pct=None,
        sccr_ka=None,
        sccr_part="",
        branch=branch,
        connection=bank.joint.words,
        volts_v=supply.volts_v,
        system=supply.system,
    )
    allowed = remark("direct-allowed", "quantity", wires=settings.wires_per_terminal, amps=amps(element_limit(settings, rules)))
    return branch, direct, [*said, *more, *about_device, *contactor.remarks, allowed]


def _direct_rating(bank: BankCurrents, required_a: float, rules: RuleSet) -> tuple[float, list[Remark]]:
    """Device of a direct bank: any standard rating for one heater; 15 to 50 A, or 60 A with a caution, for several."""
    design, settings = bank.design, bank.design.settings
    several = design.quantity > 1
    said: list[Remark] = []
    if several:
        needed = max(round(required_a, CLOSE), settings.smallest_device_a)
        smallest = next((rating for rating in rules.direct_ratings() if rating >= needed), None)
    else:
        found = rules.next_rating(required_a, bank.kind, settings.smallest_device_a)
        smallest = found.value if found else None
    if smallest is None:
        return required_a, [remark("beyond-table", "quantity", what="bank device", value=amps(required_a), table="240.6(A)")]
    rating = Rating(smallest, ())
    if design.fixed_rating_a is not None:
        rating = judge_fixed(design.fixed_rating_a, required_a, smallest, bank.kind, rules)
    said += [*rating.remarks, *_over_limit(rating, rules)]
    if several and rating.rating_a == rules.direct_ratings()[-1]:
        said.append(remark("direct-sixty", "quantity", quantity=design.quantity))
    return rating.rating_a, said
