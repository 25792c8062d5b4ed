"""One bank from watts to fuse: the page a reviewer reads first. Steps in the order of the work, each a function of its own."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from math import sqrt
from typing import NamedTuple

from batch.findings import Remark, remark
from batch.records import Design
from batch.results import BankDesign, BranchDesign, Device, PanelDesign, Wires
from batch.rules import RuleSet
from batch.sizing import panels as split
from batch.sizing.conductors import Run, choose_wires
from batch.sizing.connection import CannotSize, Joint, choose_connection
from batch.sizing.current import delivered_power, design_current, judge_volts, rated_current
from batch.sizing.phasors import Loads, drop_fractions, line_currents
from batch.sizing.protection import (
    CLOSE,
    Rating,
    amps,
    branch_rating,
    circuits_of_heater,
    describe_device,
    element_limit,
    judge_fixed,
)
from batch.sizing.switching import choose_contactor, panel_rating, protector_terminals

__all__ = ["CannotSize", "size_design"]


class _Bank(NamedTuple):
    """What is known of a bank once its currents are."""

    design: Design
    joint: Joint
    applied_v: float
    heater_a: float
    design_a: float
    running_a: float
    circuits: int
    kind: str
    stars: tuple[int, ...]  # heaters of each joined star: one to a panel

    @property
    def branch_a(self) -> float:
        return self.design_a / self.circuits

    @property
    def required_a(self) -> float:
        return self.branch_a * self.design.settings.with_margin

    def loads(self, heaters: int, running: bool = False) -> Loads:
        """Loads of so many of its heaters dealt from L1: design amps, or running amps."""
        nominal = self.heater_a * self.joint.applied_v / self.design.volts_v
        loads = split.loads_of(self.joint, self.design.supply, heaters, nominal)
        return loads.times((self.running_a if running else self.design_a) / self.running_a)


def size_design(design: Design, rules: RuleSet) -> BankDesign:
    """Everything about one bank that does not depend on its tag or phase; raises CannotSize where nothing can be said.

    Order: connection, current (Ohm), circuits (425.22(B)), panel or direct (110.14(A)), devices (210.20(A), 240.6(A)),
    wires (310.15, 240.4), panels, what one open branch does.
    """
    settings, supply = design.settings, design.supply
    joint = choose_connection(design)
    said: list[Remark] = list(joint.remarks)
    if joint.chosen:
        said.append(remark("connection-chosen", "connection", connection=joint.words, why=joint.why))
    bank, more = _currents(design, joint, rules)
    said += more

    line_a = line_currents(bank.loads(design.quantity), supply).greatest
    needs, why, wires_on = _panel_needed(bank, line_a, rules)
    if needs:
        branch, more = _branch_on_panel(bank, rules)
        said += more
        panels, more = _panels(bank, branch, rules)
        direct = None
    else:
        branch, direct, more = _direct(bank, line_a, rules)
        panels = ()
    said += more

    open_pct, more = _one_branch_open(bank, rules)
    said += more
    return BankDesign(
        applied_v=bank.applied_v, heater_a=bank.heater_a, design_a=bank.design_a, running_a=bank.running_a,
        margin_pct=settings.margin_pct, circuits_per_heater=bank.circuits, connection=joint.words, join=joint.join, dealt=joint.dealt,
        connection_why=joint.why, branch=branch, line_a=line_a, wires_on_terminal=wires_on, wires_allowed=settings.wires_per_terminal,
        panel_why=why, panels=panels, direct=direct, connected_kw=design.quantity * design.power_kw,
        delivered_kw=_delivered(bank, rules), open_branch_pct=open_pct, remarks=tuple(dict.fromkeys(said)),
        basis=("425.4(B), 210.20(A)", "240.6(A)", "425.22(B)", "110.14(A)", *branch.device.basis, *branch.wires.basis),
    )


def _currents(design: Design, joint: Joint, rules: RuleSet) -> tuple[_Bank, list[Remark]]:
    heater_a = rated_current(design.power_kw, design.volts_v, design.phases)
    applied_v, said = joint.applied_v, []
    stars = _joined_stars(design, joint)
    uneven = next((heaters for heaters in stars if heaters % 3), 0)
    if uneven:
        counts = split.leg_counts(joint, design.supply, uneven)
        applied_v = max(_greatest_leg(design, joint, heaters) for heaters in stars)
        over = applied_v / design.volts_v > rules.factor("star_leg_limit").value + 1e-9
        said.append(remark(
            "star-uneven" if over else "star-uneven-within", "quantity", quantity=design.quantity, legs=" + ".join(map(str, counts)),
            volts=f"{applied_v:.4g} V", percent=f"{100 * applied_v / design.volts_v:.0f} %",
        ))
    else:
        judged = judge_volts(applied_v, design.volts_v, rules)
        said += [judged] if judged else []
    design_a = design_current(heater_a, applied_v, design.volts_v, rules)
    counted = circuits_of_heater(design_a, design.circuits_per_heater, design.settings, rules)
    bank = _Bank(
        design, joint, applied_v, heater_a, design_a, heater_a * applied_v / design.volts_v, counted.count,
        design.device_kind or design.settings.device_kind, stars,
    )
    return bank, [*said, *counted.remarks]


def _joined_stars(design: Design, joint: Joint) -> tuple[int, ...]:
    """Heaters of each joined star: each panel has a star point of its own."""
    if joint.join != "joined star":
        return ()
    most = design.branches_per_panel or design.settings.branches_per_panel
    takes = max(1, most // (design.circuits_per_heater or 1))
    return split.split_heaters(joint, design.supply, design.quantity, takes)


def _greatest_leg(design: Design, joint: Joint, heaters: int, opened: int | None = None) -> float:
    """Greatest volts across a leg of a joined star that still has a heater, with one heater of leg `opened` taken out."""
    star = split.joined_star(joint, design.supply, heaters, 1.0, opened)
    left = [count - (leg == opened) for leg, count in enumerate(split.leg_counts(joint, design.supply, heaters))]
    return max((volts for volts, count in zip(star.leg_volts, left, strict=True) if count), default=0.0)


def _delivered(bank: _Bank, rules: RuleSet) -> float:
    """Kilowatts that heat the bath; an uneven star's from its phasors."""
    design, joint = bank.design, bank.joint
    if any(heaters % 3 for heaters in bank.stars):
        nominal = bank.heater_a * joint.applied_v / design.volts_v
        legs = [split.joined_star(joint, design.supply, heaters, nominal) for heaters in bank.stars]
        return sum(volts * drawn for star in legs for volts, drawn in zip(star.leg_volts, star.leg_amps, strict=True)) / 1000.0
    return design.quantity * delivered_power(design.power_kw, bank.applied_v, design.volts_v, rules)


def _panel_needed(bank: _Bank, line_a: float, rules: RuleSet) -> tuple[bool, str, int]:
    """Both reasons for a branch panel with their numbers: terminals (110.14(A)) and subdivision (425.22(B))."""
    design, joint = bank.design, bank.joint
    allowed = design.settings.wires_per_terminal
    wires = split.wires_on_terminal(joint, design.supply, design.quantity, bank.circuits)
    point = split.star_point_wires(joint, design.quantity, bank.circuits)
    limit = element_limit(design.settings, rules)
    reasons = []
    if wires > allowed:
        reasons.append(f"{wires} wires on a contactor terminal that takes {allowed}")
    if point > allowed:
        reasons.append(f"{point} wires on a star point")
    if round(line_a, CLOSE) > round(limit, CLOSE):
        reasons.append(f"{amps(line_a)} on the fullest line, above {amps(limit)}")
    if bank.circuits > 1:
        reasons.append(f"{bank.circuits} circuits per heater")
    if reasons:
        return True, "panel: " + "; ".join(reasons), wires
    return False, f"direct: {wires} wire(s) on a contactor terminal that takes {allowed}; {amps(line_a)} on the fullest line, within {amps(limit)}", wires


def _branch_shape(bank: _Bank) -> tuple[int, int, bool]:
    """Poles of one branch's device, its ungrounded conductors, and whether it has a neutral."""
    return {"3-phase": (3, 3, False), "line": (2, 2, False), "neutral": (1, 1, True)}.get(bank.joint.join, (1, 2, False))


def _branch_wires(bank: _Bank, device_a: float, limit_pct: float, rules: RuleSet) -> tuple[Wires, float | None, tuple[Remark, ...]]:
    design = bank.design
    _, lines, neutral = _branch_shape(bank)
    running = bank.running_a / bank.circuits
    three = bank.joint.join == "3-phase"
    volts = design.supply.volts_v if bank.joint.join in ("3-phase", "line") else bank.joint.applied_v
    drop = None if design.heater_run_m is None else lambda line_ohm, _: (sqrt(3.0) if three else 2.0) * line_ohm * running / volts
    run = Run(
        what="branch", about="heater_run_m", load_a=bank.branch_a, required_a=bank.required_a, device_a=device_a, device_kind=bank.kind,
        lines=lines, neutral=neutral, current_carrying=3 if three else 2, ambient_c=design.settings.ambient_c,
        shares=design.circuits_in_raceway, length_m=design.heater_run_m, drop=drop, drop_limit_pct=limit_pct,
    )
    chosen = choose_wires(run, design.settings, rules)
    if chosen.wires is None:
        return _no_wires(design, lines), None, chosen.remarks
    return chosen.wires, chosen.drop_pct, chosen.remarks


def _no_wires(design: Design, lines: int) -> Wires:
    return Wires("none serves", 1, lines, "", "none serves", design.settings.conductor, design.settings.insulation, "beyond the table", "", "", None)


def _branch(bank: _Bank, rating_a: float, wired_for_a: float, limit_pct: float, rules: RuleSet) -> tuple[BranchDesign, list[Remark]]:
    """One branch with its own device rating, its wires chosen behind a device of `wired_for_a`."""
    poles, _, neutral = _branch_shape(bank)
    device, said = describe_device(rating_a, bank.kind, poles, bank.design.supply, rules, neutral)
    wires, drop_pct, more = _branch_wires(bank, wired_for_a, limit_pct, rules)
    torque = rules.torque(wires.size).value if wires.size in rules.sizes else (None, "")
    branch = BranchDesign(
        bank.branch_a, bank.running_a / bank.circuits, bank.required_a, device, wires, torque[0], torque[1], drop_pct,
    )
    return branch, [*said, *more]


def _branch_on_panel(bank: _Bank, rules: RuleSet) -> tuple[BranchDesign, list[Remark]]:
    design = bank.design
    rating = branch_rating(bank.required_a, design.fixed_rating_a, bank.kind, design.settings, rules)
    said = [*rating.remarks, *_over_limit(rating, rules)]
    rating_a = rating.rating_a or bank.required_a
    branch, more = _branch(bank, rating_a, rating_a, _shared_limit(design, design.heater_run_m), rules)
    return branch, [*said, *more]


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


def _panels(bank: _Bank, branch: BranchDesign, rules: RuleSet) -> tuple[tuple[PanelDesign, ...], list[Remark]]:
    """The bank's branch panels: as few as possible, split by heaters, each with its own feed, block and contactor."""
    design, said = bank.design, []
    most = design.branches_per_panel or design.settings.branches_per_panel
    usual = int(rules.factor("usual_branches").value)
    if most > usual:
        said.append(remark("branches-unusual", "branches_per_panel", given=most))
    takes = split.heaters_per_panel(bank.joint, most, bank.circuits)
    if takes < 1:
        star = bank.joint.join == "star"
        said.append(remark(
            "branches-over-panel", "circuits_per_heater", what="A star of three heaters" if star else "A heater",
            circuits=bank.circuits * (3 if star else 1), most=most,
        ))
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


def _panel(bank: _Bank, branch: BranchDesign, heaters: int, rules: RuleSet) -> tuple[PanelDesign, list[Remark]]:
    """One panel: feed by phasors, device and wires at 1 + margin (215.2, 215.3), block for the feed device, contactor for the load."""
    design, settings, supply = bank.design, bank.design.settings, bank.design.supply
    lines = line_currents(bank.loads(heaters), supply)
    required = lines.greatest * settings.with_margin
    ungrounded, neutral = split.lines_used(bank.joint, supply, heaters)
    device, said = _feed_device(bank, required, ungrounded, neutral, rules)
    running = bank.loads(heaters, running=True)
    run = Run(
        what="panel feed", about="feed_run_m", load_a=lines.greatest, required_a=required, device_a=device.rating_a, device_kind=bank.kind,
        lines=ungrounded, neutral=neutral, current_carrying=split.current_carrying(ungrounded, neutral, supply),
        ambient_c=settings.ambient_c, length_m=design.feed_run_m,
        drop=None if design.feed_run_m is None else partial(drop_fractions, running, supply),
        drop_limit_pct=_shared_limit(design, design.feed_run_m),
    )
    feed = choose_wires(run, settings, rules)
    contactor = choose_contactor(lines.greatest, ungrounded, rules)
    rated = panel_rating(bank.kind, rules)
    names = split.leg_names(bank.joint, supply, heaters)
    panel = PanelDesign(
        heaters=heaters, branches=heaters * bank.circuits, legs=tuple(name for name in names for _ in range(bank.circuits)), lines=lines,
        loads=tuple(bank.loads(heaters)), running=tuple(running),
        connected_kw=heaters * design.power_kw, required_a=required, feed_device=device,
        feed_wires=feed.wires or _no_wires(design, ungrounded), block_a=device.rating_a, contactor=contactor.words,
        contactor_a=contactor.rating_a, disconnect_a=_disconnect(device.rating_a, rules), protector_terminals=protector_terminals(heaters, design.level_cutoff),
        drop_pct=feed.drop_pct, sccr_ka=rated.sccr_ka, sccr_part=rated.part, branch=branch, connection=bank.joint.words,
        volts_v=supply.volts_v, system=supply.system,
    )
    return panel, [*said, *feed.remarks, *contactor.remarks]


def _disconnect(device_a: float, rules: RuleSet) -> float:
    """Smallest disconnect that takes the device: so at least 1 + margin times the load (425.19)."""
    found = rules.next_switch(device_a)
    return found.value if found else device_a


def _feed_device(bank: _Bank, required_a: float, poles: int, neutral: bool, rules: RuleSet) -> tuple[Device, list[Remark]]:
    found = rules.next_rating(required_a, bank.kind, bank.design.settings.smallest_device_a)
    said: list[Remark] = []
    if found is None:
        said.append(remark("beyond-table", "quantity", what="panel feed device", value=amps(required_a), table="240.6(A)"))
    device, more = describe_device(found.value if found else required_a, bank.kind, poles, bank.design.supply, rules, neutral)
    return device, [*said, *more]


def _direct(bank: _Bank, line_a: float, rules: RuleSet) -> tuple[BranchDesign, PanelDesign, list[Remark]]:
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
        heaters=design.quantity, branches=1, legs=split.leg_names(bank.joint, supply, design.quantity), lines=lines,
        loads=tuple(bank.loads(design.quantity)), running=tuple(bank.loads(design.quantity, running=True)),
        connected_kw=design.quantity * design.power_kw, required_a=required, feed_device=device, feed_wires=branch.wires,
        block_a=0.0, contactor=contactor.words, contactor_a=contactor.rating_a, disconnect_a=_disconnect(rating, rules),
        protector_terminals=protector_terminals(design.quantity, design.level_cutoff), drop_pct=None, sccr_ka=None, sccr_part="",
        branch=branch, connection=bank.joint.words, volts_v=supply.volts_v, system=supply.system,
    )
    allowed = remark("direct-allowed", "quantity", wires=settings.wires_per_terminal, amps=amps(element_limit(settings, rules)))
    return branch, replace(direct, branch=branch), [*said, *more, *about_device, *contactor.remarks, allowed]


def _direct_rating(bank: _Bank, required_a: float, rules: RuleSet) -> tuple[float, list[Remark]]:
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


def _one_branch_open(bank: _Bank, rules: RuleSet) -> tuple[float, list[Remark]]:
    """Greatest volts on a heater of the same group when one branch device has opened, per cent of its rating.

    Parallel, delta, neutral: as before. A star of three leaves two in series at 86.6 %. A joined star of m heaters a leg gives
    the opened leg 3m / (3m - 1) of its volts: phasor sum of what remains.
    """
    design, joint = bank.design, bank.joint
    if joint.join == "star":
        return 100.0 * (design.supply.volts_v / 2.0) / design.volts_v, []
    if joint.join != "joined star":
        return 100.0 * bank.applied_v / design.volts_v, []
    worst = max(
        _greatest_leg(design, joint, heaters, opened=leg)
        for heaters in bank.stars for leg in range(3) if split.leg_counts(joint, design.supply, heaters)[leg]
    )
    percent = 100.0 * worst / design.volts_v
    if worst / design.volts_v <= rules.factor("open_branch_limit").value + 1e-9:
        return percent, []
    return percent, [remark("open-branch-overvoltage", "connection", percent=f"{percent:.0f} %", power=f"{percent**2 / 100:.0f} %")]
