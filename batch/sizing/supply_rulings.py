"""What a supply asks for beyond sizes: ground-fault protection, ground detectors, arc energy, disconnects ahead of fuses and in sight."""

from __future__ import annotations

from collections.abc import Sequence

from batch.counted_words import few
from batch.findings import Remarks
from batch.method.feeder_load import needs_ground_fault_protection
from batch.method.supply_duties import needs_arc_energy_reduction, needs_disconnect_ahead_of_fuses
from batch.records import Settings
from batch.results import FeederRow
from batch.rules import RuleSet
from batch.sizing.company import judge_company
from batch.sizing.phasing import DesignedBank
from batch.sizing.placing import groups
from batch.sizing.words import amps, metres, size_words, volts
from batch.systems import System

MOST_NAMED = 12


def judge_supply(row: FeederRow, on: Sequence[DesignedBank], rules: RuleSet, said: Remarks) -> None:
    """What is said of one feeder; of a bank what concerns it alone."""
    name, supply, device = row.feeder.feeder, row.supply, row.device
    if not on or device is None:
        return
    unknown = supply.system is System.UNKNOWN
    if needs_ground_fault_protection(supply.system, supply.volts_v, device.rating_a, rules).value:
        system = "what may be a solidly grounded wye" if unknown else "a solidly grounded wye"
        said.add("ground-fault-protection", "feeder", feeder=name, device=amps(device.rating_a), system=system, volts=volts(supply.volts_v))
    if supply.system.may_be_ungrounded and not rules.works_earth_faults:  # where faults are worked, their findings say it
        said.add("ground-detectors", "system", feeder=name, system="may be an ungrounded system" if unknown else "is a delta")
    if needs_arc_energy_reduction(device.rating_a, rules).value:
        what, need = ("fuses", "need") if device.kind == "fuse" else ("a breaker", "needs")
        said.add("arc-energy", "feeder", feeder=name, what=what, need=need, device=amps(device.rating_a))
    breakers = device.kind == "breaker" or any(one.design.branch.device.kind == "breaker" for one in on)
    if supply.system is System.CORNER_GROUNDED_DELTA and breakers:
        said.add("single-pole-interrupting", "system", feeder=name, volts=volts(supply.volts_v))
    most_m = rules.factor("in_sight_m").value
    for one in on:
        if one.design.circuits_per_heater > 1 and one.design.panels:
            length_m = one.design.panel_feeder_run_m
            if length_m is None or length_m > most_m:
                where = "at an unknown length" if length_m is None else metres(length_m)
                one.said.add("disconnect-sight", "panel_feeder_run_m", where=where, most=metres(most_m))


def judge_project(on: Sequence[DesignedBank], settings: Settings, rules: RuleSet, said: Remarks) -> None:
    """What is said once a project."""
    judge_company(on, settings, rules, said)
    fused = [
        one for one in on
        if one.design.panels and one.design.branch.device.kind == "fuse" and one.design.circuits_per_heater == 1
        and any(panel.branches > 1 for panel in one.design.panels)
        and needs_disconnect_ahead_of_fuses(one.supply.system, one.supply.volts_v, rules).value
    ]  # fmt: skip
    if fused:
        said.add("fuse-disconnect", "device_kind", count=len(fused), banks="bank" if len(fused) == 1 else "banks", which=_tags(fused))
    for one in on:
        if _wires_not_marked(one):
            one.said.add("two-wires", "")
    if on and settings.conductor == "aluminum":
        said.add("aluminum-terminals", "conductor")
        said.add("aluminum-corrosion", "conductor")
        small = [one for one in on if rules.small_conductor_limit(one.design.branch.wires.size, "aluminum") is not None]
        if small:
            sizes = sorted({one.design.branch.wires.size for one in small}, key=rules.rank)
            listed = {"banks": "bank" if len(small) == 1 else "banks", "sizes": " and ".join(map(size_words, sizes)), "which": _tags(small)}
            said.add("aluminum-small", "conductor", count=len(small), **listed)


def _wires_not_marked(one: DesignedBank) -> bool:
    """Whether a contactor terminal of the bank takes more wires than one, and no stock part is marked for so many."""
    design = one.design
    return any(
        wires > max(1, group.contactor_takes or 1)
        for group in groups(design)
        for wires in (design.wires_on_terminal if group is design.single_circuit else group.panel_feeder_wires.sets,)
    )


def _tags(banks: Sequence[DesignedBank]) -> str:
    names = [f"{one.bank.tank}/{one.label}" for one in sorted(banks, key=lambda one: one.key)]
    return few(names, MOST_NAMED)
