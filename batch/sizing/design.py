"""One bank from watts to fuse: the page a reviewer reads first. Steps in the order of the work, each a function of its own."""

from __future__ import annotations

from batch.findings import Remark, remark
from batch.records import Design
from batch.results import BankDesign
from batch.rules import RuleSet
from batch.sizing import panels as split
from batch.sizing.assembly import branch_on_panel, build_direct, build_panels, direct_run
from batch.sizing.bank import BankCurrents, bank_currents, delivered_kw, one_branch_open
from batch.sizing.connection import CannotSize, choose_connection
from batch.sizing.phasors import line_currents
from batch.sizing.protection import CLOSE, element_limit
from batch.sizing.stock import Need, Stock
from batch.sizing.words import amps, amps_above

__all__ = ["CannotSize", "size_design"]
NO_STOCK = Stock()


def size_design(design: Design, rules: RuleSet, stock: Stock = NO_STOCK) -> BankDesign:
    """Everything about one bank that does not depend on its tag or phase; raises CannotSize where nothing can be said.

    Order: connection, current (Ohm), circuits (425.22(B)), panel or direct (110.14(A)), devices (210.20(A), 240.6(A)),
    wires (310.15, 240.4), panels, what one open branch does.
    """
    settings, supply = design.settings, design.supply
    joint = choose_connection(design)
    said: list[Remark] = list(joint.remarks)
    if joint.chosen:
        said.append(remark("connection-chosen", "connection", connection=joint.words, why=joint.why))
    bank, more = bank_currents(design, joint, rules, stock)
    said += more

    line_a = line_currents(bank.whole(), supply).maximum
    allowed = _wires_allowed(bank, line_a, rules)
    needs, why, wires_on = _panel_needed(bank, line_a, allowed, rules)
    if needs:
        branch, more = branch_on_panel(bank, rules)
        said += more
        panels, more = build_panels(bank, branch, rules)
        direct = None
    else:
        branch, direct, more = build_direct(bank, line_a, rules)
        panels = ()
    said += more

    open_pct, more = one_branch_open(bank, rules)
    said += more
    return BankDesign(
        applied_v=bank.applied_v,
        heater_a=bank.heater_a,
        design_a=bank.design_a,
        running_a=bank.running_a,
        margin_pct=settings.margin_pct,
        circuits_per_heater=bank.circuits,
        connection=joint.words,
        join=joint.join,
        in_rotation=joint.dealt,
        connection_why=joint.why,
        branch=branch,
        line_a=line_a,
        wires_on_terminal=wires_on,
        wires_allowed=allowed,
        panel_why=why,
        panels=panels,
        single_circuit=direct,
        connected_kw=design.quantity * design.power_kw,
        delivered_kw=delivered_kw(bank, rules),
        open_branch_pct=open_pct,
        remarks=tuple(dict.fromkeys(said)),
        run_m=design.heater_run_m if panels else direct_run(design),
        basis=("425.4(B), 210.20(A)", "240.6(A)", "425.22(B)", "110.14(A)", *branch.device.basis, *branch.wires.basis),
    )


def _wires_allowed(bank: BankCurrents, line_a: float, rules: RuleSet) -> int:
    """Wires a contactor terminal takes: as the maker of the stock contactor that would serve says, else the setting (110.14(A))."""
    design, usual = bank.design, bank.design.settings.wires_per_terminal
    if not bank.stock.lists("contactor") or round(line_a, CLOSE) > round(element_limit(design.settings, rules), CLOSE):
        return usual
    lines, _ = split.lines_used(bank.joint, design.supply, design.quantity)
    wire = build_direct(bank, line_a, rules)[0].wires.size
    part = bank.stock.choose(Need("contactor", line_a, lines, design.supply.volts_v, wire if wire in rules.sizes else ""), rules)
    return part.wires_per_terminal if part is not None and part.wires_per_terminal else usual


def _panel_needed(bank: BankCurrents, line_a: float, allowed: int, rules: RuleSet) -> tuple[bool, str, int]:
    """Both reasons for a branch panel with their numbers: terminals (110.14(A)) and subdivision (425.22(B)).

    A star point needs a terminal that no contactor has: a wye without neutral always has a panel.
    """
    design, joint = bank.design, bank.joint
    wires = split.wires_on_terminal(joint, design.supply, design.quantity, bank.circuits)
    point = split.star_point_wires(joint, design.quantity, bank.circuits)
    limit = element_limit(design.settings, rules)
    reasons = []
    if wires > allowed:
        reasons.append(f"{wires} wires on a contactor terminal that takes {allowed}")
    if point:
        reasons.append(f"{point} wires on a wye point")
    if round(line_a, CLOSE) > round(limit, CLOSE):
        reasons.append(f"{amps_above(line_a, limit)} on the fullest line, above {amps(limit)}")
    if bank.circuits > 1:
        reasons.append(f"{bank.circuits} circuits per heater")
    if reasons:
        return True, "; ".join(reasons), wires
    on_it = f"{wires} {'wire' if wires == 1 else 'wires'} on a contactor terminal that takes {allowed}"
    return False, f"{on_it}; {amps(line_a)} on the fullest line, within {amps(limit)}", wires
