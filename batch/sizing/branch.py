"""A branch circuit: its overcurrent device, its wires, and what they land on."""

from __future__ import annotations

from functools import partial
from typing import NamedTuple

from batch.findings import Remarks
from batch.held_once import held_once
from batch.method.neutral import current_carrying
from batch.method.terminals import default_torque
from batch.method.voltage_drop import branch_drop
from batch.records import Design, Part
from batch.results import BranchDesign, Device, Wires
from batch.rules import RuleSet
from batch.sizing.bank import BankCurrents
from batch.sizing.protection import Circuit, choose_rating, describe_device, device_volts, judge_fixed, judge_limit
from batch.sizing.runs import Run, Wired, choose_wires
from batch.sizing.stock import Need, say_none_serves
from batch.sizing.words import amps, sentence


class Rated(NamedTuple):
    """A rating to build with, and the stock part it comes from."""

    rating_a: float
    part: Part | None


def branch_on_panel(bank: BankCurrents, rules: RuleSet, said: Remarks) -> BranchDesign:
    """The branch of a bank on panels: its own device, and wires that this device protects."""
    design = bank.design
    connection, fixed_a = bank.connection, design.fixed_rating_a
    rated = select_rating(
        bank, bank.required_a, connection.poles, "branch OCPD", rules, said=said, fixed_a=fixed_a, to_neutral=connection.neutral
    )
    judge_limit(rated.rating_a, rules, said)
    return branch_with(bank, rated, rated.rating_a, shared_limit(design, design.heater_run_m), rules, said=said)


def select_rating(
    bank: BankCurrents, required_a: float, poles: int, what: str, rules: RuleSet, *, said: Remarks, fixed_a: float | None = None,
    to_neutral: bool = False,
) -> Rated:  # fmt: skip
    """A device rating: the smallest that serves, of the stock or of the standard ones; a fixed one is honoured and judged."""
    design, stock = bank.design, bank.stock
    circuit = Circuit(bank.kind, poles, design.supply, design.fault_ka, to_neutral)
    chosen = choose_rating(required_a, circuit, design.settings, rules, stock, said=said)
    if chosen.rating_a is None:
        said.add("beyond-table", "quantity", what=sentence(what), value=amps(required_a), table=rules.citations["table_ratings"])
        return Rated(fixed_a or required_a, None)
    if fixed_a is None:
        return Rated(chosen.rating_a, chosen.part)
    judge_fixed(fixed_a, required_a, chosen.rating_a, bank.kind, rules, said=said)
    part = stock.choose(Need(bank.kind, fixed_a, poles, circuit.volts_v, fault_ka=design.fault_ka), rules)
    return Rated(fixed_a, part if part is not None and part.rating_a == fixed_a else None)


def branch_with(
    bank: BankCurrents, rated: Rated, wired_for_a: float, limit_pct: float, rules: RuleSet, *, said: Remarks, on_panel: bool = True
) -> BranchDesign:
    """One branch with its own device, its wires chosen behind a device of `wired_for_a`."""
    connection = bank.connection
    circuit = Circuit(bank.kind, connection.poles, bank.design.supply, bank.design.fault_ka)
    device = describe_device(rated.rating_a, circuit, rules, said, connection.neutral, part=rated.part)
    wired = _wire(bank, wired_for_a, limit_pct, rules, said)
    wires = wired.wires or no_wires(bank.design, connection.lines)
    holder = _holder(bank, device, wires.size, rules, said) if on_panel else None
    torque_nm, torque_words = torque_of(wires.size, holder if bank.kind == "fuse" else rated.part, rules)
    return BranchDesign(
        design_a=bank.branch_a,
        running_a=bank.running_a / bank.circuits,
        required_a=bank.required_a,
        device=device,
        wires=wires,
        torque_nm=torque_nm,
        torque_words=torque_words,
        drop_pct=wired.drop_pct,
        holder=holder,
    )


def _wire(bank: BankCurrents, device_a: float, limit_pct: float, rules: RuleSet, said: Remarks) -> Wired:
    design, connection = bank.design, bank.connection
    volts_v = design.supply.volts_v if connection.across in ("3-phase", "line") else bank.connected.applied_v
    drop = partial(_drop, bank.running_a / bank.circuits, volts_v, 3 if connection.lines == 3 else 1)
    run = Run(
        what="branch",
        about="heater_run_m",
        load_a=bank.branch_a,
        required_a=bank.required_a,
        device_a=device_a,
        device_kind=bank.kind,
        lines=connection.lines,
        neutral=connection.neutral,
        current_carrying=current_carrying(connection.lines, connection.neutral, design.supply.phases, rules).value,
        ambient_c=design.settings.ambient_c,
        shares=design.circuits_in_raceway,
        length_m=design.heater_run_m,
        drop=None if design.heater_run_m is None else drop,
        drop_limit_pct=limit_pct,
    )
    return choose_wires(run, design.settings, rules, said)


def _drop(running_a: float, volts_v: float, phases: int, line_ohm: float, _: float) -> float:
    """Share of its volts that one branch loses; its neutral is a wire like the other."""
    return branch_drop(running_a, line_ohm, volts_v, phases)


def _holder(bank: BankCurrents, device: Device, wire: str, rules: RuleSet, said: Remarks) -> Part | None:
    """The fuse holder from stock where the shop lists holders."""
    if bank.kind != "fuse" or not bank.stock.lists("fuse holder"):
        return None
    known = wire if wire in rules.sizes else ""
    volts_v = device_volts(bank.design.supply, device.poles, bank.connection.neutral)
    need = Need("fuse holder", device.rating_a, device.poles, volts_v, known, 1, bank.design.fault_ka)
    holder = bank.stock.choose(need, rules)
    if holder is None:
        say_none_serves(need, said)
    return holder


def torque_of(wire: str, part: Part | None, rules: RuleSet) -> tuple[float | None, str]:
    """Torque of terminals by their part's own marking, None where no part states one; and its source, or what the rule set would take
    for such a wire where the terminal turns out to carry no marking: for the basis only.
    """
    if part is not None and part.torque_nm is not None:
        return part.torque_nm, f"torque as marked on {part.part}"
    if wire not in rules.sizes:
        return None, ""
    default = default_torque(wire, rules)
    if default is None:
        return None, "torque as marked"
    return None, f"torque as marked; {default.citation} for a terminal without a marking: {default.value.words}"


def shared_limit(design: Design, own_m: float | None) -> float:
    """Share of the branch drop limit that a run gets: panel feeder and branch keep it together, shared by length."""
    total_m = (design.heater_run_m or 0.0) + (design.panel_feeder_run_m or 0.0)
    limit = design.settings.branch_drop_pct
    return limit if not own_m or not total_m else limit * own_m / total_m


def no_wires(design: Design, lines: int) -> Wires:
    """What stands in a design where no conductor of the table serves."""
    settings = design.settings
    return held_once(Wires(
        size="none serves",
        sets=1,
        lines=lines,
        neutral="",
        ground="none serves",
        material=settings.conductor,
        insulation=settings.insulation,
        governed_by="beyond the table",
        required_size="",
        raceway="",
        fill_pct=None,
    ))
