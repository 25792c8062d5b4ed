"""A single-circuit bank: no panel, one device for all its heaters, and wires to each heater that this device protects."""

from __future__ import annotations

from functools import partial

from msgspec.structs import replace

from batch.findings import Remarks
from batch.method.neutral import current_carrying
from batch.method.overcurrent import common_rating, largest_taken_as_meant, minimum_branch_rating, standard_rating
from batch.method.subdivided_heaters import largest_bank_load
from batch.method.terminals import wires_on_terminal
from batch.records import Design
from batch.results import BranchDesign, PanelDesign
from batch.rules import RuleSet
from batch.sizing.bank import BankCurrents
from batch.sizing.branch import Rated, branch_with, no_wires, select_rating
from batch.sizing.legs import lines_used
from batch.sizing.panel import choose_ahead, control_of, device_parts, holder_ahead
from batch.sizing.protection import Circuit, describe_device, device_volts, judge_limit
from batch.sizing.runs import Run, choose_wires
from batch.sizing.stock import Need, Stock, say_none_serves
from batch.sizing.words import amps


def single_circuit_run(design: Design) -> float | None:
    """Metres of wire from the contactor to a heater without a panel between: both lengths where both are given."""
    return None if design.heater_run_m is None else design.heater_run_m + (design.panel_feeder_run_m or 0.0)


def bank_limit_words(heaters: int, margin_pct: float, rules: RuleSet) -> str:
    """The most that one device may serve in a bank, in words; "" for one heater where the code limits no heater's circuit."""
    if heaters == 1 and not rules.limits_heater_circuits:
        return ""
    most = amps(largest_bank_load(heaters, margin_pct, rules).value)
    return most if rules.limits_heater_circuits else f"{most} (common practice)"


def build_single_circuit(bank: BankCurrents, line_a: float, rules: RuleSet, said: Remarks) -> tuple[BranchDesign, PanelDesign]:
    """The branch to each heater, and the device and contactor of the whole bank."""
    bank = bank._replace(design=replace(bank.design, heater_run_m=single_circuit_run(bank.design), panel_feeder_run_m=None))
    design, settings, supply, connection = bank.design, bank.design.settings, bank.design.supply, bank.connection
    required_a = minimum_branch_rating(line_a, settings.margin_pct, rules).value
    ungrounded, neutral = lines_used(connection, supply, design.quantity)
    rated = _select_rating(bank, required_a, ungrounded, rules, said)
    poles, to_neutral = connection.poles, connection.neutral
    own = select_rating(bank, bank.required_a, poles, "branch OCPD", rules, said=Remarks(), to_neutral=to_neutral)  # not bought
    branch = branch_with(bank, own, rated.rating_a, settings.branch_drop_pct, rules, said=said, on_panel=False)
    circuit = Circuit(bank.kind, ungrounded, supply, design.fault_ka)
    device = describe_device(rated.rating_a, circuit, rules, said, neutral, part=rated.part)
    run = Run(
        what="wires of the single-circuit bank from its device to its contactor",
        about="quantity",
        load_a=line_a,
        required_a=required_a,
        device_a=rated.rating_a,
        device_kind=bank.kind,
        lines=ungrounded,
        neutral=neutral,
        current_carrying=current_carrying(ungrounded, neutral, supply.phases, rules).value,
        ambient_c=settings.ambient_c,
    )
    wires = choose_wires(run, settings, rules, said).wires
    wires_on = wires_on_terminal(connection, supply.system, design.quantity, bank.circuits, rules).value
    ahead = choose_ahead(bank, device, line_a, rules, said, on_contactor=(branch.wires.size, wires_on))
    plain = control_of(bank, design.quantity, branch, ahead, wires or no_wires(design, ungrounded), rules=rules)
    words, most = bank_limit_words(design.quantity, settings.margin_pct, rules), settings.wires_per_terminal
    bound = f"{words} on the fullest line" if words else f"one heater, whose circuit {rules.name} does not limit"
    said.add("single-circuit-allowed", "quantity", wires=f"{most} wire{'' if most == 1 else 's'}", bound=bound)
    holder = holder_ahead(bank, device, plain.panel_feeder_wires, rules, said)
    inside = (*device_parts("bank", device, 1, holder), *plain.feed_parts)  # in the control panel, where its limits land too
    return branch, replace(plain, panel_feeder_holder=holder, parts=(), feed_parts=inside)


def _select_rating(bank: BankCurrents, required_a: float, poles: int, rules: RuleSet, said: Remarks) -> Rated:
    """Device of the bank: any standard rating for one heater; 15 to 60 A for several, with a caution where it is large for one of them."""
    design, settings, fixed_a = bank.design, bank.design.settings, bank.design.fixed_rating_a
    rated = _selected(bank, required_a, poles, rules, said)
    if design.quantity > 1:
        usual = rules.single_circuit_ratings()
        if fixed_a is not None and fixed_a not in usual:
            listed = ", ".join(f"{rating:g}" for rating in usual)
            said.add("single-circuit-rating-odd", "fixed_rating_a", given=amps(fixed_a), usual=listed)
        alone = standard_rating(bank.required_a, bank.kind, settings.smallest_device_a, rules)
        most_a = largest_taken_as_meant(alone.value, bank.kind, rules).value if alone else rated.rating_a
        if alone and rated.rating_a > most_a:
            words = {"device": amps(rated.rating_a), "alone": amps(alone.value)}
            said.add("single-circuit-large", "quantity", quantity=design.quantity, **words)
    judge_limit(rated.rating_a, rules, said)
    return rated


def _selected(bank: BankCurrents, required_a: float, poles: int, rules: RuleSet, said: Remarks) -> Rated:
    """The rating that serves, or that is fixed. Of several heaters it is one that several may share: a standard rating, or a stock part,
    between two of those does not serve."""
    design, fixed_a, heard = bank.design, bank.design.fixed_rating_a, Remarks()
    selected = partial(select_rating, poles=poles, what="bank OCPD", rules=rules, to_neutral=bank.connection.neutral)
    if design.quantity == 1 or fixed_a is not None:
        return selected(bank, required_a, said=said, fixed_a=fixed_a)
    plain = selected(bank._replace(stock=Stock()), required_a, said=heard)
    common = common_rating(plain.rating_a, rules)
    if common is None:
        said.take(*heard)
        return plain
    rated = selected(bank, common.value, said=heard)
    if rated.rating_a in rules.single_circuit_ratings():
        said.take(*heard)
        return rated
    volts_v = device_volts(design.supply, poles, bank.connection.neutral)
    say_none_serves(Need(bank.kind, common.value, poles, volts_v, fault_ka=design.fault_ka, most_a=common.value), said)
    return Rated(common.value, None)
