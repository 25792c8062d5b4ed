"""Terminal to terminal: what an electrician joins in each branch panel, and what stands on its door.

Names: L1, L2, L3, N are the panel's block; F3.1 is pole 1 of the device of branch 3; H4.2 lead 2 of heater 4; S1 the first star
point; X1, X2 … the terminals of the protector loop. Common practice, no source: the shop's own drawings go before these names.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from batch.results import PanelDesign, PanelRow, Wires
from batch.sizing.words import size_words


class Join(NamedTuple):
    """One conductor of a panel: from, to, which conductor, and what it is for."""

    start: str
    end: str
    conductor: str
    purpose: str


def panel_wiring(
    panel: PanelRow, circuits_per_heater: int, level_cutoff: str, branch_wire: str, feed_wire: str, ground: str
) -> Iterator[Join]:
    """Every conductor of one panel in the order it is wired: feed, branches, grounds, protector loop.

    `level_cutoff` names the contact of the tank's level cutoff that this loop goes through; "" = none here.
    """
    yield from _feed(panel.design, feed_wire)
    yield from _branches(panel, circuits_per_heater, branch_wire, ground)
    yield from protector_loop(panel.design.heaters, panel.first_heater, level_cutoff)


def _feed(design: PanelDesign, feed_wire: str) -> Iterator[Join]:
    poles = sorted({part for leg in design.legs for part in leg.split("-") if part[0] == "L"})
    for number, pole in enumerate(poles, start=1):
        yield Join(f"contactor T{number}", f"block {pole}", feed_wire, "feed")
    if design.feed_wires.neutral:
        yield Join("supply neutral", "neutral bar N", feed_wire, "feed neutral: no fuse, no contactor pole")
    yield Join("supply ground", "ground bar", f"{_ground_words(design.feed_wires)}", "grounding")


def _branches(panel: PanelRow, circuits_per_heater: int, branch_wire: str, ground: str) -> Iterator[Join]:
    for number, legs in enumerate(panel.design.legs, start=1):
        heater = panel.first_heater + (number - 1) // circuits_per_heater
        circuit = (number - 1) % circuits_per_heater
        parts = legs.split("-")
        for at, part in enumerate(parts, start=1):
            lead = f"H{heater}.{circuit * len(parts) + at}"
            if part[0] == "L":
                yield Join(f"block {part}", f"F{number}.{at} line side", "factory jumper or as the feed device asks", "branch")
                yield Join(f"F{number}.{at} load side", lead, branch_wire, "branch")
            elif part == "N":
                yield Join("neutral bar N", lead, branch_wire, "branch neutral: no fuse")
            else:
                yield Join(f"star point {part}", lead, branch_wire, "star point: three heaters and no more")
        yield Join("ground bar", f"H{heater} sheath and terminal box", ground, "grounding")


def _ground_words(wires: Wires) -> str:
    size = size_words(wires.ground) if wires.ground[:1].isdigit() else wires.ground
    return f"{size} {wires.material}, green"


def direct_wiring(design: PanelDesign, level_cutoff: str, branch_wire: str) -> Iterator[Join]:
    """A bank without a panel: every heater on the contactor's terminals, its ground, and the protector loop."""
    for heater, legs in enumerate(design.legs, start=1):
        for at, part in enumerate(legs.split("-"), start=1):
            if part[0] == "L":
                yield Join(f"contactor T{part[1]}", f"H{heater}.{at}", branch_wire, "branch")
            else:
                yield Join("neutral bar N", f"H{heater}.{at}", branch_wire, "branch neutral: no fuse, no contactor pole")
        yield Join("ground bar", f"H{heater} sheath and terminal box", _ground_words(design.branch.wires), "grounding")
    yield from protector_loop(design.heaters, 1, level_cutoff)


def protector_loop(heaters: int, first_heater: int, level_cutoff: str) -> Iterator[Join]:
    """The over-temperature protectors in series, normally closed; each field wire has a terminal of its own.

    X1 is the loop in, the last terminal the loop out to the next panel of the bank or to the control circuit; opening it drops
    every contactor of the tank's banks, latches, and is reset by hand. Each loop goes through a contact of the level cutoff of its
    own: loops joined at one contact would feed past an open protector.
    """
    switches = [f"H{first_heater + at} protector" for at in range(heaters)] + ([level_cutoff] if level_cutoff else [])
    control = "control wire, as the control circuit asks"
    yield Join("loop in", "X1", control, "protector loop")
    for at, switch in enumerate(switches):
        first = 2 * at + 2
        yield Join(f"X{first - 1}", f"X{first}", "jumper", "protector loop")
        yield Join(f"X{first}", f"{switch}, one side", control, "protector loop")
        yield Join(f"{switch}, other side", f"X{first + 1}", control, "protector loop")
    last = 2 * len(switches) + 1
    yield Join(f"X{last}", f"X{last + 1}", "jumper", "protector loop")
    yield Join(f"X{last + 1}", "loop out", control, "protector loop: to the next panel of the bank, else to the control circuit")
