"""How a ladder is cut: what stands on a line, in rows that fit between the rails, and lines in sheets that fit a page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import NamedTuple

from batch.control_results import BUS, Element, Rung, TankControl

WIDE, TALL = 1720, 1560  # of a sheet, before it is fitted to a page
NUMBER, LEFT, RIGHT = 30, 96, 1270  # x of line numbers and of the two rails
LOAD = 1170  # x of coils, lamps and other loads
SAYS = 1300  # x where the words of a line begin
RAIL, NEXT_RAIL = 520, 44  # x of the wire behind the latch, and from one such wire to the next
CONTACT, FIELD, STRIP, PASS, TAIL = 146, 230, 322, 84, 28  # what a contact, a field device, a strip of limits and a terminal take of a line
ROW, BELOW, WRAPPED, ON, LEADING = 84, 76, 104, 34, 22  # from line to line, to what is parallel, to a further row, to the line that goes on
TERMINAL = 62  # from a symbol's centre to the terminals of what stands in the field
HEAD_ROOM, FOOT_ROOM = 118, 130
SQUEEZED = 180  # that a sheet may be taller, where the ladder ends on it
LOADS = ("coil", "lamp", "load")
KINDS = {
    "fuse": "fuse", "limit": "over_temperature_limit", "level cutoff": "level cutoff", "interlock": "break contact",
    "ground-fault contact": "make contact", "button": "button", "selector": "selector", "temperature contact": "temperature contact",
    "coil": "coil", "lamp": "lamp", "load": "load", "primary": "winding", "secondary": "winding", "supply": "load",
}  # fmt: skip


class Alike(NamedTuple):
    """The first of several control panels of one kind, their `number`; `same_limits`: all have as many limits on each strip."""

    first: TankControl
    number: int
    same_limits: bool


class Strip(NamedTuple):
    """The limits of one panel, in series on its strip: drawn as the first and the last of them."""

    first: Element
    last: Element
    number: int


class Passed(NamedTuple):
    """A terminal of the control panel that the line passes on its way to another box, or back."""

    point: str
    wire: str


On = Element | Strip | Passed


def rows_of(rung: Rung, control: TankControl) -> list[list[On]]:
    """What stands on a line itself, less its loads, in rows that fit between the rails."""
    rows: list[list[On]] = [[]]
    used, room = 0, LOAD - 60 - (RAIL if from_rail(rung) else LEFT)
    for one in strung(rung.elements, control):
        if not isinstance(one, Element) or one.kind not in LOADS:
            if rows[-1] and used + width_of(one) > room:
                rows.append([])
                used = 0
            rows[-1].append(one)
            used += width_of(one)
    return rows


def width_of(one: On) -> int:
    if isinstance(one, Passed):
        return PASS
    if isinstance(one, Strip):
        return STRIP
    return FIELD if one.field or one.kind == "jumper" else CONTACT


def from_rail(rung: Rung) -> bool:
    return bool(rung.elements) and is_bus(rung.elements[0].start)


def is_bus(wire: str) -> bool:
    """ "3", "3A", "3B" …, not "31"."""
    return wire.startswith(BUS) and not wire[1:].isdigit()


def height_of(rung: Rung, control: TankControl) -> int:
    beside = max((element.row for element in rung.elements), default=0)
    return ROW + BELOW * beside + WRAPPED * (len(rows_of(rung, control)) - 1) + ON * goes_on(rung, control)


def goes_on(rung: Rung, control: TankControl) -> bool:
    """Whether the next line begins where this one ends."""
    end = rung.elements[-1] if rung.elements else None
    if end is None or end.kind in LOADS or is_bus(end.end):
        return False
    return any(one.start == end.end for one in control.circuit.elements)


def paged(control: TankControl) -> Iterator[list[Rung]]:
    """The lines, cut into sheets."""
    room = TALL - HEAD_ROOM - FOOT_ROOM
    sheet, used = list[Rung](), 0
    left = sum(height_of(rung, control) for rung in control.circuit.ladder)
    for rung in control.circuit.ladder:
        high = height_of(rung, control)
        if sheet and used + high > room and used + left > room + SQUEEZED:
            yield sheet
            sheet, used = [], 0
        sheet.append(rung)
        used += high
        left -= high
    yield sheet


def strung(elements: Sequence[Element], control: TankControl) -> list[On]:
    """The elements on a line itself, limits of one strip taken together, and the terminals by which the string leaves and comes back."""
    out: list[On] = []
    on_line = [element for element in elements if element.row == 0]
    limits = [element for element in on_line if element.kind == "limit"]
    for (kind, _), members in groupby(on_line, key=lambda one: (one.kind, _strip_of(one) if one.kind == "limit" else one.mark)):
        group = list(members)
        if limits and group[0] is limits[0]:
            out += _passed(control, limits[0].start, limits[0].box)
        out += [Strip(group[0], group[-1], len(group))] if kind == "limit" and len(group) > 1 else group
        if limits and group[-1] is limits[-1]:
            out += _passed(control, limits[-1].end, limits[-1].box)
    return out


def _strip_of(limit: Element) -> str:
    return f"{limit.box} {limit.points[0].partition(':')[0]}"


def _passed(control: TankControl, wire: str, box: str) -> list[Passed]:
    return [Passed(one.point, wire) for one in control.circuit.terminals if one.wire == wire and one.outside.startswith(f"{box} ")][:1]
