"""Terminal to terminal: what an electrician connects in each heater panel.

Names: L1, L2, L3, N are the panel's block; FU3A is pole 1 of the device of branch 3; HTR4.2 lead 2 of heater 4; WP1 the first wye
point; TB3:1, TB3:2 … the terminals of the limit string. Common practice, no source: the shop's own drawings go before these names.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from batch.results import PanelDesign, PanelRow, Wires
from batch.schedules.designations import branch_pole
from batch.sizing.words import size_words

WHITE, GROUNDED = "white or gray", "grounded line, no fuse"


class Join(NamedTuple):
    """One conductor of a panel: from, to, which conductor, and what it is for."""

    start: str
    end: str
    conductor: str
    purpose: str


def panel_wiring(
    panel: PanelRow, circuits_per_heater: int, level_cutoff: str, branch_wire: str, panel_feeder_wire: str, ground: str
) -> Iterator[Join]:
    """Every conductor of one panel in the order it is wired: panel feeder, branches, grounds, limit string.

    `level_cutoff` names the contact of the tank's level cutoff that this string goes through; "" = none here.
    """
    yield from _feed(panel.design, panel_feeder_wire)
    yield from _branches(panel, circuits_per_heater, branch_wire, ground)
    yield from limit_string(panel.design.heaters, panel.first_heater, level_cutoff)


def _feed(design: PanelDesign, panel_feeder_wire: str) -> Iterator[Join]:
    poles = sorted({part for leg in design.legs for part in leg.split("-") if part[0] == "L"})
    for number, pole in enumerate(poles, start=1):
        if pole == design.grounded:
            yield Join(f"contactor T{number}", f"block {pole}", f"{panel_feeder_wire}, {WHITE}", f"panel feeder: {GROUNDED}")
        else:
            yield Join(f"contactor T{number}", f"block {pole}", panel_feeder_wire, "panel feeder")
    if design.panel_feeder_wires.neutral:
        yield Join("supply neutral", "neutral bar N", panel_feeder_wire, "panel feeder neutral: no fuse, no contactor pole")
    yield Join("supply EGC", "ground bar", f"{_ground_words(design.panel_feeder_wires)}", "grounding")


def _branches(panel: PanelRow, circuits_per_heater: int, branch_wire: str, ground: str) -> Iterator[Join]:
    size = panel.design.jumper
    jumper = f"jumper {size_words(size)}" if size else "bar rated for the panel feeder OCPD"
    for number, legs in enumerate(panel.design.legs, start=1):
        heater = panel.first_heater + (number - 1) // circuits_per_heater
        circuit = (number - 1) % circuits_per_heater
        parts = legs.split("-")
        opens_alone = panel.design.branch.device.kind == "fuse" or len(parts) == 1 + (parts[-1][0] != "L")
        for at, part in enumerate(parts, start=1):
            lead = f"HTR{heater}.{circuit * len(parts) + at}"
            if part == panel.design.grounded and opens_alone:
                yield Join(f"block {part}", lead, f"{branch_wire}, {WHITE}", f"branch: {GROUNDED}")
            elif part[0] == "L":
                pole = branch_pole(panel.design.branch.device.kind, number, at)
                yield Join(f"block {part}", f"{pole} line side", jumper, "branch")
                yield Join(f"{pole} load side", lead, branch_wire, "branch")
            elif part == "N":
                yield Join("neutral bar N", lead, branch_wire, "branch neutral: no fuse")
            else:
                yield Join(f"wye point {part}", lead, branch_wire, "wye point: three heaters and no more")
        yield Join("ground bar", f"HTR{heater} sheath and terminal box", ground, "grounding")


def _ground_words(wires: Wires) -> str:
    size = size_words(wires.ground) if wires.ground[:1].isdigit() else wires.ground
    return f"{size} {wires.material}, green"


def direct_wiring(design: PanelDesign, level_cutoff: str, branch_wire: str) -> Iterator[Join]:
    """A bank without a panel: every heater on the contactor's terminals, its ground, and the limit string."""
    for heater, legs in enumerate(design.legs, start=1):
        for at, part in enumerate(legs.split("-"), start=1):
            if part == design.grounded:
                yield Join(f"contactor T{part[1]}", f"HTR{heater}.{at}", f"{branch_wire}, {WHITE}", f"branch: {GROUNDED}")
            elif part[0] == "L":
                yield Join(f"contactor T{part[1]}", f"HTR{heater}.{at}", branch_wire, "branch")
            else:
                yield Join("neutral bar N", f"HTR{heater}.{at}", branch_wire, "branch neutral: no fuse, no contactor pole")
        yield Join("ground bar", f"HTR{heater} sheath and terminal box", _ground_words(design.branch.wires), "grounding")
    yield from limit_string(design.heaters, 1, level_cutoff)


def limit_string(heaters: int, first_heater: int, level_cutoff: str) -> Iterator[Join]:
    """The over-temperature limits in series, normally closed; each field wire has a terminal of its own.

    TB3:1 is the string in, the last terminal the string out to the next panel of the bank or to the control circuit; opening it drops
    every contactor of the tank's banks, latches, and is reset by hand. Each string goes through a contact of the level cutoff of its
    own: strings joined at one contact would feed past an open limit.
    """
    switches = [f"HTR{first_heater + at} limit" for at in range(heaters)] + ([level_cutoff] if level_cutoff else [])
    control = "control wire, as the control circuit asks"
    yield Join("string in", "TB3:1", control, "limit string")
    for at, switch in enumerate(switches):
        first = 2 * at + 2
        yield Join(f"TB3:{first - 1}", f"TB3:{first}", "jumper", "limit string")
        yield Join(f"TB3:{first}", f"{switch}, one side", control, "limit string")
        yield Join(f"{switch}, other side", f"TB3:{first + 1}", control, "limit string")
    last = 2 * len(switches) + 1
    yield Join(f"TB3:{last}", f"TB3:{last + 1}", "jumper", "limit string")
    yield Join(f"TB3:{last + 1}", "string out", control, "limit string: to the next panel of the bank, else to the control circuit")
