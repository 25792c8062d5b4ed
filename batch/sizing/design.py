"""One bank from watts to fuse: the page a reviewer reads first. Steps in the order of the work, each a function of its own."""

from __future__ import annotations

from typing import NamedTuple

from batch.findings import Remarks
from batch.method.line_currents import line_currents
from batch.method.subdivided_heaters import exceeds_bank_load, largest_bank_load
from batch.method.terminals import wires_on_terminal, wires_on_wye_point
from batch.records import Design
from batch.results import BankDesign, PanelDesign
from batch.rules import RuleSet
from batch.sizing.bank import BankCurrents, bank_currents, delivered_kw, one_branch_open
from batch.sizing.branch import branch_on_panel
from batch.sizing.connection import CannotSize, choose_connection
from batch.sizing.legs import lines_used
from batch.sizing.panel import build_panels
from batch.sizing.single_circuit import bank_limit_words, build_single_circuit, single_circuit_run
from batch.sizing.stock import Need, Stock
from batch.sizing.words import amps, amps_above

__all__ = ["CannotSize", "size_design"]
NO_STOCK = Stock()
CLAUSES = ("heating_continuous", "standard_ratings", "subdivision", "terminals")  # of every bank


def size_design(design: Design, rules: RuleSet, stock: Stock = NO_STOCK) -> BankDesign:
    """Everything about one bank that does not depend on its tag or phase; raises CannotSize where nothing can be said.

    Order: connection, current (Ohm), element circuits, panel or single circuit, devices, wires, panels, what one open branch does.
    """
    settings, supply, said = design.settings, design.supply, Remarks()
    connected = choose_connection(design, said, rules)
    if connected.chosen:
        said.add("connection-chosen", "connection", connection=connected.words, why=connected.why)
    bank = bank_currents(design, connected, rules, stock, said)

    line_a = line_currents(bank.whole(), supply.system).maximum
    allowed = _wires_allowed(bank, line_a, rules)
    need = _panel_needed(bank, line_a, allowed, rules)
    panels: tuple[PanelDesign, ...] = ()
    single_circuit: PanelDesign | None = None
    if need.panel:
        branch = branch_on_panel(bank, rules, said)
        panels = build_panels(bank, branch, rules, said)
    else:
        branch, single_circuit = build_single_circuit(bank, line_a, rules, said)

    shared = (rules.named_list("single_circuit_ratings").citation,) if single_circuit is not None and design.quantity > 1 else ()
    open_pct = one_branch_open(bank, rules, said)
    return BankDesign(
        applied_v=bank.applied_v,
        heater_a=bank.heater_a,
        design_a=bank.design_a,
        running_a=bank.running_a,
        margin_pct=settings.margin_pct,
        circuits_per_heater=bank.circuits,
        connection=connected.words,
        connected=connected.connection,
        connection_why=connected.why,
        branch=branch,
        line_a=line_a,
        wires_on_terminal=need.wires,
        panel_why=need.why,
        panels=panels,
        single_circuit=single_circuit,
        connected_kw=design.quantity * design.power_kw,
        delivered_kw=delivered_kw(bank, rules),
        open_branch_pct=open_pct,
        remarks=tuple(said),
        run_m=design.heater_run_m if panels else single_circuit_run(design),
        panel_feeder_run_m=design.panel_feeder_run_m,
        basis=(*map(rules.clause, CLAUSES), *shared, *branch.device.basis, *branch.wires.basis),
    )


def _wires_allowed(bank: BankCurrents, line_a: float, rules: RuleSet) -> int:
    """Wires a contactor terminal takes: as the maker of the stock contactor that would serve says, else the setting; one where the
    project says one."""
    design, usual = bank.design, bank.design.settings.wires_per_terminal
    most = exceeds_bank_load(line_a, design.quantity, design.settings.margin_pct, rules).value
    if usual == 1 or not bank.stock.lists("contactor") or most:
        return usual
    lines, _ = lines_used(bank.connection, design.supply, design.quantity)
    branch, _ = build_single_circuit(bank, line_a, rules, Remarks())  # as if it were one: what that would say is not said
    wire = branch.wires.size
    part = bank.stock.choose(Need("contactor", line_a, lines, design.supply.volts_v, wire if wire in rules.sizes else ""), rules)
    return part.wires_per_terminal if part is not None and part.wires_per_terminal else usual


class PanelNeed(NamedTuple):
    """Whether a bank needs a heater panel, why or why not in words, and the wires on its fullest terminal."""

    panel: bool
    why: str
    wires: int


def _panel_needed(bank: BankCurrents, line_a: float, allowed: int, rules: RuleSet) -> PanelNeed:
    """Both reasons for a heater panel with their numbers: terminals and subdivision.

    A wye point needs a terminal that no contactor has: a wye without neutral always has a panel.
    """
    design, connection = bank.design, bank.connection
    wires = wires_on_terminal(connection, design.supply.system, design.quantity, bank.circuits, rules).value
    point = wires_on_wye_point(connection, design.quantity, bank.circuits, rules).value
    limit = largest_bank_load(design.quantity, design.settings.margin_pct, rules).value
    most, reasons = bank_limit_words(design.quantity, design.settings.margin_pct, rules), []
    if wires > allowed:
        reasons.append(f"{wires} wires on a contactor terminal that takes {allowed}")
    if point:
        reasons.append(f"{point} wires on a wye point")
    if exceeds_bank_load(line_a, design.quantity, design.settings.margin_pct, rules).value:
        reasons.append(f"{amps_above(line_a, limit)} on the fullest line, above {most}")
    if bank.circuits > 1:
        reasons.append(f"{bank.circuits} circuits per heater")
    if reasons:
        return PanelNeed(True, "; ".join(reasons), wires)
    on_it = f"{wires} {'wire' if wires == 1 else 'wires'} on a contactor terminal that takes {allowed}"
    within = f", within {most}" if most else f" of one heater, which {rules.name} does not limit"
    return PanelNeed(False, f"{on_it}; {amps(line_a)} on the fullest line{within}", wires)
