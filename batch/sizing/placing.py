"""From designs to rows: phases, tags and what makes a panel type."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

from batch.findings import Remarks
from batch.held_once import held_once
from batch.method.line_currents import Lines, Loads, line_currents, rotated
from batch.records import Bank, Supply
from batch.results import BankDesign, PanelDesign, PanelRow
from batch.rules import AMPS_DIGITS
from batch.sizing.previous_decisions import TypeKey
from batch.systems import Connection

STARTS = {"A-B": 0, "B-C": 1, "C-A": 2, "A-N": 0, "B-N": 1, "C-N": 2}


def starts_of(design: BankDesign, supply: Supply) -> int:
    """Over how many lines the start of the bank can be chosen: 1 where it has no choice."""
    if design.connected in (Connection.THREE_PHASE, Connection.SEPARATE_WYES):
        return 1
    if supply.phases == 3:
        return supply.system.starts
    return supply.system.starts if design.connected.neutral else 1


def fixed_start(bank: Bank, design: BankDesign, supply: Supply, said: Remarks) -> int | None:
    """The start that a given phase pair fixes; said where it has no use."""
    if bank.phase_pair is None:
        return None
    starts, start = starts_of(design, supply), STARTS[bank.phase_pair]
    to_neutral = design.connected.neutral or design.connected is Connection.COMMON_POINT_WYE
    why = ""
    if starts == 1:
        why = "the bank is on all lines, or its feeder leaves no choice"
    elif bank.phase_pair.endswith("N") != to_neutral:
        why = f"the heaters are joined {'line to neutral' if to_neutral else 'line to line'}"
    elif start >= starts:
        why = "the feeder has no such leg"
    if not why:
        return start
    said.add("phase-pair-ignored", "phase_pair", pair=bank.phase_pair, why=why)
    return None


def groups(design: BankDesign) -> tuple[PanelDesign, ...]:
    """The panels of a bank, or the bank itself where it is a single circuit."""
    return design.panels or ((design.single_circuit,) if design.single_circuit is not None else ())


def panel_starts(design: BankDesign, supply: Supply, start: int) -> tuple[int, ...]:
    """The line that L1 of each panel lands on of a bank whose first panel is given: the rotation goes on from panel to panel."""
    starts_on = starts_of(design, supply)
    if not design.connected.in_rotation or starts_on == 1:
        return (start,) * len(groups(design))
    starts, at = [], start
    for panel in groups(design):
        starts.append(at % starts_on)
        at += panel.heaters
    return tuple(starts)


def bank_loads(design: BankDesign, supply: Supply, starts: Sequence[int]) -> tuple[Loads, Loads]:
    """Design and running loads of a bank on the feeder's own lines, each panel from its own start."""
    loads, running = Loads(), Loads()
    for panel, on in zip(groups(design), starts, strict=True):
        loads = loads.plus(rotated(panel.loads, on, supply.system))
        running = running.plus(rotated(panel.running, on, supply.system))
    return loads, running


def panel_lines(panel: PanelDesign, supply: Supply, start: int) -> Lines:
    """Design current of a panel in the feeder's lines."""
    return held_once(line_currents(rotated(panel.loads, start, supply.system), supply.system))


def lines_of_terminals(terminals: str, start: int, supply: Supply) -> str:
    """Supply lines of panel terminals: "L1-L2" with L1 on B is "B-C"; wye points keep theirs."""
    return _lines_of(terminals, start, supply.phases == 1)


@lru_cache(maxsize=1024)
def _lines_of(terminals: str, start: int, single_phase: bool) -> str:
    if single_phase:
        letters = "BA" if start % 2 else "AB"
        letters += "C"
    else:
        letters = "ABCABC"[start : start + 3]
    return "-".join(letters[int(part[1]) - 1] if part[0] == "L" else part for part in terminals.split("-"))


def wye_points(legs: Iterable[str]) -> dict[str, int]:
    """Common points of a panel's heaters, WP1 ..., and how many end at each."""
    found: dict[str, int] = {}
    for leg in legs:
        point = leg.rpartition("-")[2]
        if point.startswith("WP"):
            found[point] = found.get(point, 0) + 1
    return found


def terminals_of(design: PanelDesign) -> list[str]:
    """Line terminals of a panel or single-circuit bank: L1, L2, L3."""
    return sorted({part for leg in design.legs for part in leg.split("-") if part[0] == "L"})


def type_key(panel: PanelDesign, held: bool) -> TypeKey:
    """What makes two panels alike to build: everything but lengths, drops and which supply line lands on L1. One that is not released for
    fabrication (`held`) is never alike to one that is.
    """
    branch, feed = panel.branch, panel.panel_feeder_wires
    return (
        held,
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
        panel.grounded,
        panel.parts,
        panel.feed_parts,
        panel.sccr_ka,
        tuple(round(amps, AMPS_DIGITS) for amps in panel.lines),
    )


def panel_rows(tag: str, design: BankDesign, supply: Supply, starts: Sequence[int]) -> tuple[PanelRow, ...]:
    """Rows of a bank's panels, their types not named yet: tags T-101/1-P1, T-101/1-P2 …"""
    rows, heater = [], 1
    if design.single_circuit is not None:
        return ()
    for number, (panel, on) in enumerate(zip(design.panels, starts, strict=True), start=1):
        rows.append(PanelRow(f"{tag}-P{number}", "", panel, on, heater, panel_lines(panel, supply, on)))
        heater += panel.heaters
    return tuple(rows)
