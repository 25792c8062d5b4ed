"""What a graphical symbol is made of: strokes about its middle, and the points that its conductors end at."""

from __future__ import annotations

from math import cos, pi, sin
from typing import NamedTuple

Stroke = tuple[tuple[float, float], ...]
POLE_PITCH = 24  # pixels between the conductors of one circuit: a 3-phase element spans two of them


class Shape(NamedTuple):
    """reach: from the centre to either end of the symbol, where its conductors begin; `blank`: the outline that hides what lies under it;
    `solid`: filled outlines."""

    reach: int
    strokes: tuple[Stroke, ...]
    solid: tuple[Stroke, ...] = ()
    blank: tuple[Stroke, ...] = ()


class Arc(tuple[tuple[float, float], ...]):
    """The points of an arc, which knows what it is of.

    radii   across and down
    swept   degrees, clockwise; below 0 the other way
    """

    radii: tuple[float, float]
    swept: float


def arc(x: float, y: float, radius: float, *, start: float, stop: float, flat: float = 1.0) -> Stroke:
    """Part of a circle, angles in degrees, clockwise from the right as y runs down."""
    steps = 24
    turn = [pi / 180 * (start + (stop - start) * step / steps) for step in range(steps + 1)]
    made = Arc((x + radius * cos(angle), y + flat * radius * sin(angle)) for angle in turn)
    made.radii, made.swept = (radius, flat * radius), stop - start
    return made


def frame(left: float, top: float, right: float, bottom: float) -> Stroke:
    return ((left, top), (right, top), (right, bottom), (left, bottom), (left, top))


RING = arc(0, 0, 5, start=0, stop=360)
JUNCTION, TERMINAL = Shape(0, (), (RING,)), Shape(5, (RING,), (), (RING,))
ARROW = Shape(0, (), (((12, 0), (0, -5), (0, 5)),))
