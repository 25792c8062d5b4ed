"""Graphical symbols of IEC 60617, drawn as strokes; `us_symbols` has those of the other set, and `shape` finds either.

Each is drawn here for current that runs from left to right, centred on 0, 0; the numbers behind are those of the former printed
parts (IEC 617), from memory. Proportions are our own; the standard leaves them free.
"""

from __future__ import annotations

from batch.drawings.shapes import ARROW, JUNCTION, POLE_PITCH, TERMINAL, Shape, Stroke, arc, frame
from batch.drawings.us_symbols import US_SHAPES
from batch.errors import SpecificationError


def _element(top: float, bottom: float) -> tuple[Stroke, ...]:
    """A resistor's box divided across: heating element."""
    return (frame(-30, top, 30, bottom), *(((x, top), (x, bottom)) for x in (-18, -6, 6, 18)))


_LEAD_IN: Stroke = ((-24, 0), (-13, 0))
_LEAD_OUT: Stroke = ((13, 0), (24, 0))
_BLADE: Stroke = ((13, 0), (-12, -12))
_MAKE = (_LEAD_IN, _LEAD_OUT, _BLADE)
_BREAK = (((-24, 0), (-12, 0)), ((-12, 0), (15, -9)), ((12, -14), (12, 0)), ((12, 0), (24, 0)))

IEC, US = "IEC 60617", "IEEE 315"  # the sets, by what they are called on paper; which one a job gets is its rule set's choice

SHAPES: dict[str, Shape] = {
    "junction": JUNCTION,  # 03-02-01
    "terminal": TERMINAL,  # 03-02-02
    "fuse": Shape(20, (frame(-20, -7, 20, 7), ((-20, 0), (20, 0)))),  # 07-21-01
    "breaker": Shape(24, (*_MAKE, ((-18, -5), (-8, 5)), ((-18, 5), (-8, -5)))),  # 07-13-05: a cross at the fixed contact
    "disconnect": Shape(
        24, (*_MAKE, ((-13, -8), (-13, 8)), arc(-9, 0, 3.5, start=0, stop=360))
    ),  # 07-13-08: switch-disconnector, bar and ring
    "contactor": Shape(24, (*_MAKE, arc(-18, 0, 5, start=180, stop=360))),  # 07-13-02: a half ring at the fixed contact
    "element": Shape(30, _element(-8, 8)),  # 04-01-12
    "element 3~": Shape(30, _element(-8, 2 * POLE_PITCH + 8)),  # one element circuit of three lines; its inside is the maker's
    "make contact": Shape(24, _MAKE),  # 07-02-01
    "break contact": Shape(24, _BREAK),  # 07-02-03
    "over_temperature_limit": Shape(
        24, (*_BREAK, arc(-6, 13, 5, start=0, stop=360, flat=1.5), ((-11, 13), (-1, 13)))
    ),  # 07-09-03: with theta
    "level cutoff": Shape(24, _BREAK),  # 07-02-03, break contact
    "transformer": Shape(22, (arc(-8, 0, 14, start=0, stop=360), arc(8, 0, 14, start=0, stop=360))),  # 06-09-01: two windings
    # 02-15-03: protective earth
    "earth": Shape(0, (((0, 0), (0, 8)), ((-12, 8), (12, 8)), ((-8, 13), (8, 13)), ((-4, 18), (4, 18)), arc(0, 11, 17, start=0, stop=360))),
    "arrow": ARROW,
    # for ladders
    "coil": Shape(24, (frame(-10, -16, 10, 16), ((-24, 0), (-10, 0)), ((10, 0), (24, 0)))),  # 07-15-01
    "lamp": Shape(
        24, (arc(0, 0, 14, start=0, stop=360), ((-24, 0), (-14, 0)), ((14, 0), (24, 0)), ((-10, -10), (10, 10)), ((-10, 10), (10, -10)))
    ),  # 08-10-01
    "button": Shape(24, (*_MAKE, ((0, -6), (0, -20)), ((-5, -15), (-5, -20), (5, -20), (5, -15)))),  # 07-07-02: pressed by hand
    "selector": Shape(24, (*_MAKE, ((0, -6), (0, -20)), ((-5, -20), (0, -20), (0, -24), (5, -24)))),  # 07-07-04: turned, stays
    "temperature contact": Shape(24, (*_MAKE, arc(0, 12, 5, start=0, stop=360, flat=1.4), ((-5, 12), (5, 12)))),  # 07-09-01: with theta
    "winding": Shape(
        24, (*(arc(x, 0, 6, start=180, stop=360) for x in (-12, 0, 12)), ((-24, 0), (-18, 0)), ((18, 0), (24, 0)))
    ),  # 04-03-01
    "load": Shape(24, (frame(-16, -12, 16, 12), ((-24, 0), (-16, 0)), ((16, 0), (24, 0)))),
}
UPRIGHT = frozenset({"earth", "junction", "terminal"})  # drawn the same whichever way their current runs


def shape(kind: str, standard: str = IEC) -> Shape:
    """A symbol of either set; its reach is the same in both."""
    try:
        return (US_SHAPES if standard == US else SHAPES)[kind]
    except KeyError:
        raise SpecificationError(f"schematic symbol {kind!r} is not drawn; the set has {', '.join(SHAPES)}") from None


def turned(stroke: Stroke) -> Stroke:
    """The same stroke for current that runs downward: a quarter turn, so that a blade leans to the left."""
    return tuple((y, x) for x, y in stroke)
