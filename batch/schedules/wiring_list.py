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
CUTOFF = "level cutoff contact"


class Join(NamedTuple):
    """One conductor of a panel: from, to, which conductor, and what it is for."""

    start: str
    end: str
    conductor: str
    purpose: str


def panel_wiring(design: PanelDesign, cutoffs: Collection[bool]) -> Iterator[Join]:
    """Every conductor of a panel of a type in the order it is wired: panel feeder, branches, grounds, limit string.

    `cutoffs`: whether the string goes through a contact of the tank's level cutoff; both where it does in some panels of the type.
    """
    yield from _feed(design)
    yield from _branches(design)
    yield from limit_string([heater_of_type(number) for number in range(1, design.heaters + 1)], cutoffs)


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


def direct_wiring(design: PanelDesign, cutoff: bool) -> Iterator[Join]:
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
    yield from limit_string([f"HTR{heater}" for heater in range(1, design.heaters + 1)], (cutoff,))


def limit_string(heaters: Collection[str], cutoffs: Collection[bool]) -> Iterator[Join]:
    """The over-temperature limits in series, normally closed; each field wire has a terminal of its own.

    TB3:1 is the string in, the last terminal the string out to the next panel of the bank or to the control circuit; opening it drops
    every contactor of the tank's banks, latches, and is reset by hand. Each string goes through a contact of the level cutoff of its
    own: strings joined at one contact would feed past an open limit. Where panels with and without that contact share a list, its end
    stands there for both.
    """
    purpose = "limit string"
    yield Join("string in", "TB3:1", CONTROL_WIRE, purpose)
    last = 1
    for heater in heaters:
        yield from _through(f"{heater} limit", last, purpose)
        last += 2
    for cutoff in sorted(set(cutoffs), reverse=True):
        which = "" if len(set(cutoffs)) == 1 else f", in a panel with{'' if cutoff else 'out'} a {CUTOFF}"
        if cutoff:
            yield from _through(CUTOFF, last, purpose + which)
        end = last + 2 * cutoff
        yield Join(f"TB3:{end}", f"TB3:{end + 1}", "jumper", purpose + which)
        out = f"{purpose}{which}: to the next panel of the bank, else to the control circuit"
        yield Join(f"TB3:{end + 1}", "string out", CONTROL_WIRE, out)


def _through(switch: str, last: int, purpose: str) -> Iterator[Join]:
    """From terminal `last` through one contact to the terminal two further."""
    yield Join(f"TB3:{last}", f"TB3:{last + 1}", "jumper", purpose)
    yield Join(f"TB3:{last + 1}", f"{switch}, one side", CONTROL_WIRE, purpose)
    yield Join(f"{switch}, other side", f"TB3:{last + 2}", CONTROL_WIRE, purpose)
