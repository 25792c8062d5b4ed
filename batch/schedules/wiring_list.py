"""Terminal to terminal: what an electrician connects in a heater panel of a type, or at a single-circuit bank.

Names: PDB1:L1, :L2, :L3 are the poles of the panel's block; FU3A is pole 1 of the device of branch 3; HTR+4.2 lead 2 of heater k + 4 of the bank, OTL+4 its
limit, where k is each panel's own (`designations`: -F103A, -E+4 on IEC jobs); WP1 the first wye point; TB3:1, TB3:2 … the terminals of the limit string. Common practice, no source: the shop's own
drawings go before these names.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import NamedTuple

from batch.results import PanelDesign, Wires
from batch.schedules.designations import PanelMarks
from batch.schedules.row_words import size_or_words, wire_words
from batch.sizing.marks import pole_of
from batch.sizing.power_circuit import NEUTRAL_BAR
from batch.sizing.words import size_words

NEC_MARKS = PanelMarks()
NEUTRALS = f"{NEUTRAL_BAR} N"
GROUNDED = "grounded line, no fuse"
CONTROL_WIRE = "control wire, as the control circuit asks"


class Join(NamedTuple):
    """One conductor of a panel: from, to, which conductor, what it is for, and the number on it: "nT1" that of panel feeder n, "3.A" of
    branch 3, "" = a ground, or of the limit string, whose numbers are the tank's.
    """

    start: str
    end: str
    conductor: str
    purpose: str
    wire: str = ""


def panel_wiring(design: PanelDesign, marks: PanelMarks = NEC_MARKS, *, inside: bool = False) -> Iterator[Join]:
    """Every conductor of a panel of a type in the order it is wired: panel feeder, branches, grounds, limit string. `inside` the control
    panel's box its panel feeder is wired as power in a box is, and heaters are grounded on that box's bar, which its supply grounds."""
    yield from _feed(design, marks, inside)
    yield from _branches(design, marks)
    limits = [marks.limit_of_type(number) for number in range(1, design.heaters + 1)] if design.limit_terminals else ()
    yield from limit_string(limits, marks.limit_strip)


def _feed(design: PanelDesign, marks: PanelMarks, inside: bool) -> Iterator[Join]:
    wires = design.panel_feeder_wires
    poles = sorted({part for leg in design.legs for part in leg.split("-") if part[0] == "L"})
    for number, pole in enumerate(poles, start=1):
        if pole == design.grounded:
            yield Join(
                f"contactor T{number}", f"{marks.block}:{pole}", f"{wire_words(wires)}, {marks.grounded_colour}", f"panel feeder: {GROUNDED}", f"nT{number}"
            )  # fmt: skip
        else:
            hue = marks.power_colour if inside else _of_line(pole)
            yield Join(f"contactor T{number}", f"{marks.block}:{pole}", f"{wire_words(wires)}, {hue}", "panel feeder", f"nT{number}")
    if wires.neutral:
        yield Join("supply neutral", NEUTRALS, f"{wire_words(wires)}, {marks.neutral_colour}", "panel feeder neutral: no fuse, no contactor pole", "nN")
    if not inside:
        yield Join(f"supply {marks.ground}", marks.ground_bar, _ground_words(wires, marks), "grounding")


def _branches(design: PanelDesign, marks: PanelMarks) -> Iterator[Join]:
    size, wires = design.jumper, design.branch.wires
    jumper = f"jumper {size_words(size)}, {marks.power_colour}" if size else "bar rated for the panel feeder OCPD"
    branch_wire, each = wire_words(wires), design.branches // design.heaters
    poles = sorted({part for leg in design.legs for part in leg.split("-") if part[0] == "L"})
    for number, legs in enumerate(design.legs, start=1):
        heater = marks.heater_of_type((number - 1) // each + 1)
        circuit = (number - 1) % each
        parts = legs.split("-")
        opens_alone = design.branch.device.kind == "fuse" or len(parts) == 1 + (parts[-1][0] != "L")
        for at, part in enumerate(parts, start=1):
            lead, wire = f"{heater}.{circuit * len(parts) + at}", f"{number}.{marks.pole_letter(at)}"
            if part == design.grounded and opens_alone:
                yield Join(f"{marks.block}:{part}", lead, f"{branch_wire}, {marks.grounded_colour}", f"branch: {GROUNDED}", wire)
            elif part[0] == "L":
                pole = marks.pole(design.branch.device.kind, number, at)
                yield Join(f"{marks.block}:{part}", f"{pole} line side", jumper, "branch", f"nT{poles.index(part) + 1}")
                yield Join(f"{pole} load side", lead, f"{branch_wire}, {_of_line(part)}", "branch", wire)
            elif part == "N":
                yield Join(NEUTRALS, lead, f"{branch_wire}, {marks.neutral_colour}", "branch neutral: no fuse", wire)
            else:
                yield Join(f"wye point {part}", lead, f"{branch_wire}, {marks.power_colour}", "wye point: three heaters and no more", wire)
        yield Join(marks.ground_bar, f"{heater} sheath and terminal box", _ground_words(wires, marks), "grounding")


def _of_line(line: str) -> str:
    """Wires to heaters have the colour of their line, which a panel's own supply settles: the table of tags has it."""
    return f"colour of {line}"


def _ground_words(wires: Wires, marks: PanelMarks) -> str:
    return f"{size_or_words(wires.ground)} {wires.material}, {marks.ground_colour}"


def direct_wiring(
    design: PanelDesign, marks: PanelMarks = NEC_MARKS, device: str = "", strip: str = "", neutral_bar: str = ""
) -> Iterator[Join]:  # fmt: skip
    """A bank without a panel: every heater on its contactor's terminals, its ground, and the limit string; from its device to its contactor
    only where no list of a control panel has that. Its heaters are HTR1, HTR2 … `device`, `strip`, `neutral_bar`: designations of its OCPD, of the strip of its limits and of the neutral bar of
    its supply in the control panel ("3CB1", "3TB3", "neutral bar 2N"), left out those of a tank's only one.
    """
    branch_wire = wire_words(design.branch.wires)
    lines = sorted({part for leg in design.legs for part in leg.split("-") if part[0] == "L"})
    if not design.device_at_way and not device:
        kind = design.panel_feeder_device.kind
        for at, part in enumerate(lines, start=1):
            if not (part == design.grounded and kind == "fuse"):
                ahead = f"{pole_of(marks.device(kind, 1), at)} load side"
                conductor = f"{wire_words(design.panel_feeder_wires)}, {marks.power_colour}"
                yield Join(ahead, f"contactor L{part[1]}", conductor, "from the bank's own OCPD", f"nF{at}")
    for heater, legs in enumerate(design.legs, start=1):
        name = marks.heater(heater)
        for at, part in enumerate(legs.split("-"), start=1):
            if part == design.grounded:
                yield Join(f"contactor T{part[1]}", f"{name}.{at}", f"{branch_wire}, {marks.grounded_colour}", f"branch: {GROUNDED}", f"nT{part[1]}")
            elif part[0] == "L":
                yield Join(f"contactor T{part[1]}", f"{name}.{at}", f"{branch_wire}, {_of_line(part)}", "branch", f"nT{part[1]}")
            else:
                colour = marks.neutral_colour
                yield Join(neutral_bar or NEUTRALS, f"{name}.{at}", f"{branch_wire}, {colour}", "branch neutral: no fuse, no contactor pole", "nN")
        yield Join(marks.ground_bar, f"{name} sheath and terminal box", _ground_words(design.branch.wires, marks), "grounding")
    limits = [marks.limit(heater) for heater in range(1, design.heaters + 1)] if design.limit_terminals else ()
    yield from limit_string(limits, strip or marks.limit_strip)


def limit_string(limits: Collection[str], strip: str) -> Iterator[Join]:
    """The over-temperature limits in series, normally closed; each field wire has a terminal of its own.

    TB3:1 is the string in, the last terminal the string out: the string of a tank runs through all its panels in order, from the control
    panel and back to it, and opening it anywhere drops every contactor of the tank until somebody resets. The level cutoff lands in the
    control panel alone.
    """
    purpose = "limit string"
    if not limits:
        return
    yield Join("string in", f"{strip}:1", CONTROL_WIRE, f"{purpose}: by the table of wiring tags")
    last = 1
    for limit in limits:
        yield Join(f"{strip}:{last}", f"{strip}:{last + 1}", "jumper", purpose)
        yield Join(f"{strip}:{last + 1}", f"{limit}:1", CONTROL_WIRE, purpose)
        yield Join(f"{limit}:2", f"{strip}:{last + 2}", CONTROL_WIRE, purpose)
        last += 2
    yield Join(f"{strip}:{last}", f"{strip}:{last + 1}", "jumper", purpose)
    yield Join(f"{strip}:{last + 1}", "string out", CONTROL_WIRE, f"{purpose}: by the table of wiring tags")
