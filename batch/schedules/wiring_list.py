"""Terminal to terminal: what an electrician connects in a heater panel of a type, or at a single-circuit bank.

Names: L1, L2, L3, N are the panel's block; FU3A is pole 1 of the device of branch 3; HTR+4.2 lead 2 of heater k + 4 of the bank, where k
is each panel's own; WP1 the first wye point; TB3:1, TB3:2 … the terminals of the limit string. Common practice, no source: the shop's own
drawings go before these names.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import NamedTuple

from batch.results import PanelDesign, Wires
from batch.schedules.designations import branch_pole, heater_of_type
from batch.schedules.row_words import size_or_words, wire_words
from batch.sizing.words import size_words

WHITE, GROUNDED = "white or gray", "grounded line, no fuse"
CONTROL_WIRE = "control wire, as the control circuit asks"


class Join(NamedTuple):
    """One conductor of a panel: from, to, which conductor, and what it is for."""

    start: str
    end: str
    conductor: str
    purpose: str


def panel_wiring(design: PanelDesign) -> Iterator[Join]:
    """Every conductor of a panel of a type in the order it is wired: panel feeder, branches, grounds, limit string."""
    yield from _feed(design)
    yield from _branches(design)
    yield from limit_string([heater_of_type(number) for number in range(1, design.heaters + 1)] if design.limit_terminals else ())


def _feed(design: PanelDesign) -> Iterator[Join]:
    wires = design.panel_feeder_wires
    poles = sorted({part for leg in design.legs for part in leg.split("-") if part[0] == "L"})
    for number, pole in enumerate(poles, start=1):
        if pole == design.grounded:
            yield Join(f"contactor T{number}", f"block {pole}", f"{wire_words(wires)}, {WHITE}", f"panel feeder: {GROUNDED}")
        else:
            yield Join(f"contactor T{number}", f"block {pole}", wire_words(wires), "panel feeder")
    if wires.neutral:
        yield Join("supply neutral", "neutral bar N", wire_words(wires), "panel feeder neutral: no fuse, no contactor pole")
    yield Join("supply EGC", "ground bar", _ground_words(wires), "grounding")


def _branches(design: PanelDesign) -> Iterator[Join]:
    size, wires = design.jumper, design.branch.wires
    jumper = f"jumper {size_words(size)}" if size else "bar rated for the panel feeder OCPD"
    branch_wire, each = wire_words(wires), design.branches // design.heaters
    for number, legs in enumerate(design.legs, start=1):
        heater = heater_of_type((number - 1) // each + 1)
        circuit = (number - 1) % each
        parts = legs.split("-")
        opens_alone = design.branch.device.kind == "fuse" or len(parts) == 1 + (parts[-1][0] != "L")
        for at, part in enumerate(parts, start=1):
            lead = f"{heater}.{circuit * len(parts) + at}"
            if part == design.grounded and opens_alone:
                yield Join(f"block {part}", lead, f"{branch_wire}, {WHITE}", f"branch: {GROUNDED}")
            elif part[0] == "L":
                pole = branch_pole(design.branch.device.kind, number, at)
                yield Join(f"block {part}", f"{pole} line side", jumper, "branch")
                yield Join(f"{pole} load side", lead, branch_wire, "branch")
            elif part == "N":
                yield Join("neutral bar N", lead, branch_wire, "branch neutral: no fuse")
            else:
                yield Join(f"wye point {part}", lead, branch_wire, "wye point: three heaters and no more")
        yield Join("ground bar", f"{heater} sheath and terminal box", _ground_words(wires), "grounding")


def _ground_words(wires: Wires) -> str:
    return f"{size_or_words(wires.ground)} {wires.material}, green"


def direct_wiring(design: PanelDesign) -> Iterator[Join]:
    """A bank without a panel: every heater on the contactor's terminals, its ground, and the limit string. Its heaters are HTR1, HTR2 …"""
    branch_wire = wire_words(design.branch.wires)
    for heater, legs in enumerate(design.legs, start=1):
        for at, part in enumerate(legs.split("-"), start=1):
            if part == design.grounded:
                yield Join(f"contactor T{part[1]}", f"HTR{heater}.{at}", f"{branch_wire}, {WHITE}", f"branch: {GROUNDED}")
            elif part[0] == "L":
                yield Join(f"contactor T{part[1]}", f"HTR{heater}.{at}", branch_wire, "branch")
            else:
                yield Join("neutral bar N", f"HTR{heater}.{at}", branch_wire, "branch neutral: no fuse, no contactor pole")
        yield Join("ground bar", f"HTR{heater} sheath and terminal box", _ground_words(design.branch.wires), "grounding")
    yield from limit_string([f"HTR{heater}" for heater in range(1, design.heaters + 1)] if design.limit_terminals else ())


def limit_string(heaters: Collection[str]) -> Iterator[Join]:
    """The over-temperature limits in series, normally closed; each field wire has a terminal of its own.

    TB3:1 is the string in, the last terminal the string out: the string of a tank runs through all its panels in order, from the control
    panel and back to it, and opening it anywhere drops every contactor of the tank until somebody resets. The level cutoff lands in the
    control panel alone.
    """
    purpose = "limit string"
    if not heaters:
        return
    yield Join("string in", "TB3:1", CONTROL_WIRE, f"{purpose}: see Wiring tags")
    last = 1
    for heater in heaters:
        yield Join(f"TB3:{last}", f"TB3:{last + 1}", "jumper", purpose)
        yield Join(f"TB3:{last + 1}", f"{heater} limit, one side", CONTROL_WIRE, purpose)
        yield Join(f"{heater} limit, other side", f"TB3:{last + 2}", CONTROL_WIRE, purpose)
        last += 2
    yield Join(f"TB3:{last}", f"TB3:{last + 1}", "jumper", purpose)
    yield Join(f"TB3:{last + 1}", "string out", CONTROL_WIRE, f"{purpose}: see Wiring tags")
