"""From designs to rows: phases, tags and what makes a panel type."""

from __future__ import annotations

from batch.records import Bank, Supply
from batch.results import BankDesign, Lines, PanelDesign, PanelRow
from batch.sizing.phasors import Loads, line_currents

STARTS = {"A-B": 0, "B-C": 1, "C-A": 2, "A-N": 0, "B-N": 1, "C-N": 2}


def turns_of(design: BankDesign, supply: Supply) -> int:
    """Over how many starts the bank's phases can be chosen: 1 where it has no choice."""
    if design.join in ("3-phase", "star"):
        return 1
    if supply.phases == 3:
        return 3
    return 2 if design.join == "neutral" and supply.system == "1-phase 3-wire" else 1


def fixed_start(bank: Bank, design: BankDesign, supply: Supply) -> tuple[int | None, str]:
    """The start that a given phase pair fixes, and why it has no use where it has none ("" = used)."""
    if bank.phase_pair is None:
        return None, ""
    turns = turns_of(design, supply)
    start = STARTS[bank.phase_pair]
    if turns == 1:
        return None, "the bank is on all lines, or its feeder leaves no choice"
    if bank.phase_pair.endswith("N") != (design.join in ("neutral", "joined star")):
        kind = "line to neutral" if design.join in ("neutral", "joined star") else "line to line"
        return None, f"the heaters are joined {kind}"
    if start >= turns:
        return None, "the feeder has no such leg"
    return start, ""


def groups(design: BankDesign) -> tuple[PanelDesign, ...]:
    """The panels of a bank, or the bank itself where it goes direct."""
    return design.panels or (design.single_circuit,)


def panel_starts(design: BankDesign, supply: Supply, start: int) -> tuple[int, ...]:
    """The line that L1 of each panel lands on: dealing goes on where the panel before it stopped."""
    turns = turns_of(design, supply)
    if not design.in_rotation or turns == 1:
        return (start,) * len(groups(design))
    starts, at = [], start
    for panel in groups(design):
        starts.append(at % turns)
        at += panel.heaters
    return tuple(starts)


def bank_loads(design: BankDesign, supply: Supply, start: int) -> tuple[Loads, Loads]:
    """Design and running loads of a bank on the feeder's own lines."""
    loads, running = Loads(), Loads()
    for panel, on in zip(groups(design), panel_starts(design, supply, start), strict=True):
        loads = loads.plus(Loads(*panel.loads).turned(on, supply))
        running = running.plus(Loads(*panel.running).turned(on, supply))
    return loads, running


def panel_lines(panel: PanelDesign, supply: Supply, start: int) -> Lines:
    """Design current of a panel in the feeder's lines."""
    return line_currents(Loads(*panel.loads).turned(start, supply), supply)


def lines_of_terminals(terminals: str, start: int, supply: Supply) -> str:
    """Supply lines of panel terminals: "L1-L2" with L1 on B is "B-C"; star points keep their names."""
    if supply.phases == 1:
        letters = "BA" if start % 2 else "AB"
        letters += "C"
    else:
        letters = "ABCABC"[start : start + 3]
    return "-".join(letters[int(part[1]) - 1] if part[0] == "L" else part for part in terminals.split("-"))


def type_key(panel: PanelDesign) -> tuple:
    """What makes two panels alike to build: everything but lengths, drops and which supply line lands on L1."""
    branch, feed = panel.branch, panel.panel_feeder_wires
    return (
        panel.volts_v,
        panel.system,
        panel.connection,
        panel.legs,
        branch.device,
        branch.holder,
        branch.wires.size,
        branch.wires.ground,
        panel.panel_feeder_device,
        feed.size,
        feed.sets,
        feed.neutral,
        feed.ground,
        panel.parts,
        panel.sccr_ka,
        tuple(round(amps, 6) for amps in panel.lines),
    )


def panel_rows(tag: str, design: BankDesign, supply: Supply, start: int, types: dict[tuple, str]) -> tuple[PanelRow, ...]:
    """Rows of a bank's panels: tags T-101/1-P1, T-101/1-P2 …"""
    rows, heater = [], 1
    if design.single_circuit is not None:
        return ()
    for number, (panel, on) in enumerate(zip(design.panels, panel_starts(design, supply, start), strict=True), start=1):
        rows.append(PanelRow(f"{tag}-P{number}", types[type_key(panel)], panel, on, heater, panel_lines(panel, supply, on)))
        heater += panel.heaters
    return tuple(rows)
