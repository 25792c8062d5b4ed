"""Graphical symbols of IEC 60617, drawn as strokes: one set for every panel, whatever code it is sized by.

Each is drawn here for current that runs from left to right, centred on 0, 0; the numbers behind are those of the former printed
parts (IEC 617), from memory. Proportions are our own; the standard leaves them free.
"""

from __future__ import annotations

from math import cos, pi, sin
from typing import NamedTuple

from batch.errors import SpecificationError

Stroke = tuple[tuple[float, float], ...]
POLE_PITCH = 24  # pixels between the conductors of one circuit: a 3-phase element spans two of them


class Shape(NamedTuple):
    """reach: from the centre to either end of the symbol, where its conductors begin; `blank`: the outline that hides what lies under it;
    `solid`: filled outlines."""

    reach: int
    strokes: tuple[Stroke, ...]
    solid: tuple[Stroke, ...] = ()
    blank: tuple[Stroke, ...] = ()


def _arc(x: float, y: float, radius: float, start: float, stop: float, flat: float = 1.0) -> Stroke:
    """Part of a circle, angles in degrees, clockwise from the right as y runs down."""
    steps = 24
    turn = [pi / 180 * (start + (stop - start) * step / steps) for step in range(steps + 1)]
    return tuple((x + radius * cos(angle), y + flat * radius * sin(angle)) for angle in turn)


def _box(left: float, top: float, right: float, bottom: float) -> Stroke:
    return ((left, top), (right, top), (right, bottom), (left, bottom), (left, top))


def _element(top: float, bottom: float) -> tuple[Stroke, ...]:
    """A resistor's box divided across: heating element."""
    return (_box(-30, top, 30, bottom), *(((x, top), (x, bottom)) for x in (-18, -6, 6, 18)))


_LEAD_IN: Stroke = ((-24, 0), (-13, 0))
_LEAD_OUT: Stroke = ((13, 0), (24, 0))
_BLADE: Stroke = ((13, 0), (-12, -12))
_MAKE = (_LEAD_IN, _LEAD_OUT, _BLADE)
_BREAK = (((-24, 0), (-12, 0)), ((-12, 0), (15, -9)), ((12, -14), (12, 0)), ((12, 0), (24, 0)))
_CIRCLE = _arc(0, 0, 5, 0, 360)

SHAPES: dict[str, Shape] = {
    "junction": Shape(0, (), (_arc(0, 0, 5, 0, 360),)),  # 03-02-01
    "terminal": Shape(5, (_CIRCLE,), (), (_CIRCLE,)),  # 03-02-02
    "fuse": Shape(20, (_box(-20, -7, 20, 7), ((-20, 0), (20, 0)))),  # 07-21-01
    "breaker": Shape(24, (*_MAKE, ((-18, -5), (-8, 5)), ((-18, 5), (-8, -5)))),  # 07-13-05: a cross at the fixed contact
    "disconnect": Shape(24, (*_MAKE, ((-13, -8), (-13, 8)), _arc(-9, 0, 3.5, 0, 360))),  # 07-13-08: switch-disconnector, bar and ring
    "contactor": Shape(24, (*_MAKE, _arc(-18, 0, 5, 180, 360))),  # 07-13-02: a half ring at the fixed contact
    "element": Shape(30, _element(-8, 8)),  # 04-01-12
    "element 3~": Shape(30, _element(-8, 2 * POLE_PITCH + 8)),  # one element circuit of three lines; its inside is the maker's
    "over_temperature_limit": Shape(24, (*_BREAK, _arc(-6, 13, 5, 0, 360, 1.5), ((-11, 13), (-1, 13)))),  # 07-09-03: with theta
    "level cutoff": Shape(24, _BREAK),  # 07-02-03, break contact
    "transformer": Shape(22, (_arc(-8, 0, 14, 0, 360), _arc(8, 0, 14, 0, 360))),  # 06-09-01: two windings
    # 02-15-03: protective earth
    "earth": Shape(0, (((0, 0), (0, 8)), ((-12, 8), (12, 8)), ((-8, 13), (8, 13)), ((-4, 18), (4, 18)), _arc(0, 11, 17, 0, 360))),
    "arrow": Shape(0, (), (((12, 0), (0, -5), (0, 5)),)),
}
UPRIGHT = frozenset({"earth", "junction", "terminal"})  # drawn the same whichever way their current runs


def shape(kind: str) -> Shape:
    try:
        return SHAPES[kind]
    except KeyError:
        raise SpecificationError(f"schematic symbol {kind!r} is not drawn; the set has {', '.join(SHAPES)}") from None


def turned(stroke: Stroke) -> Stroke:
    """The same stroke for current that runs downward: a quarter turn, so that a blade leans to the left."""
    return tuple((y, x) for x, y in stroke)
