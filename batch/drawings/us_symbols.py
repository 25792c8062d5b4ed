"""Graphical symbols of IEEE 315, as ladder diagrams of NFPA 79 use them, drawn as strokes: for jobs by a rule set that asks for them.

Both standards from memory; proportions are our own. Each stands on the same points as its fellow of IEC 60617 (`batch.drawings.symbols`),
so that a drawing is laid out once, whichever set it is lettered in.
"""

from __future__ import annotations

from batch.drawings.shapes import ARROW, JUNCTION, POLE_PITCH, TERMINAL, Shape, Stroke, arc, frame

_RING_IN, _RING_OUT = arc(-14, 0, 3, start=0, stop=360), arc(14, 0, 3, start=0, stop=360)
_TO_RINGS: tuple[Stroke, ...] = (((-24, 0), (-17, 0)), ((17, 0), (24, 0)), _RING_IN, _RING_OUT)
_SHUT: Stroke = ((-12, -2), (15, -5))  # a blade that rests on its far contact: opens when it acts
_BARS: tuple[Stroke, ...] = (((-24, 0), (-6, 0)), ((6, 0), (24, 0)), ((-6, -11), (-6, 11)), ((6, -11), (6, 11)))


def _zigzag(left: float, right: float, y: float) -> Stroke:
    """Three full waves between two points: a resistance."""
    step = (right - left) / 12
    inner = [(left + step * (2 * at + 1), y + (-7 if at % 2 == 0 else 7)) for at in range(6)]
    return ((left, y), *inner, (right, y))


def _winding(x: float, start: float) -> tuple[Stroke, ...]:
    """Three turns, one above the other, bowed away from the other winding."""
    return tuple(arc(x, y, 6, start=start, stop=start + 180) for y in (-12, 0, 12))


def _rays(near: float, far: float) -> tuple[Stroke, ...]:
    """Four short strokes outward, between the leads."""
    share = 0.7071
    return tuple(((share * x * near, share * y * near), (share * x * far, share * y * far)) for x in (-1, 1) for y in (-1, 1))


US_SHAPES: dict[str, Shape] = {
    "junction": JUNCTION,
    "terminal": TERMINAL,
    "arrow": ARROW,
    "fuse": Shape(20, (arc(-10, 0, 10, start=180, stop=360, flat=0.9), arc(10, 0, 10, start=180, stop=0, flat=0.9))),  # 9.1: the wave
    "breaker": Shape(24, (((-24, 0), (-14, 0)), ((14, 0), (24, 0)), arc(0, -2, 14, start=195, stop=345))),  # 11.1: a bow over the gap
    "disconnect": Shape(24, (*_TO_RINGS, ((-12, -2), (11, -14)))),  # 4.5: a knife blade, open
    "contactor": Shape(24, _BARS),  # 4.30: normally open contact of a device that is held by its coil
    "make contact": Shape(24, _BARS),
    "break contact": Shape(24, (*_BARS, ((-11, 11), (11, -11)))),
    "element": Shape(30, (_zigzag(-30, 30, 0),)),  # 2.1: resistance
    "element 3~": Shape(30, (frame(-30, -12, 30, 2 * POLE_PITCH + 12), *(_zigzag(-30, 18, at * POLE_PITCH) for at in range(3)))),
    # temperature-actuated, opens on rising temperature
    "over_temperature_limit": Shape(24, (*_TO_RINGS, _SHUT, ((0, -4), (0, 7)), ((-7, 12), (-7, 7), (0, 7), (0, 17), (7, 17), (7, 12)))),
    "level cutoff": Shape(24, (*_TO_RINGS, _SHUT, ((0, -4), (0, 8)), arc(0, 13, 5, start=0, stop=360))),  # liquid level, with its float
    "transformer": Shape(22, (*_winding(-6, 90), *_winding(6, -90), ((-22, 0), (-12, 0)), ((12, 0), (22, 0)))),  # 6.4.1: two windings
    # for ladders
    "coil": Shape(24, (arc(0, 0, 15, start=0, stop=360), ((-24, 0), (-15, 0)), ((15, 0), (24, 0)))),  # 4.5: operating coil
    "lamp": Shape(
        24, (arc(0, 0, 12, start=0, stop=360), ((-24, 0), (-12, 0)), ((12, 0), (24, 0)), *_rays(12, 18))
    ),  # 11.1: indicating light
    "button": Shape(24, (*_TO_RINGS, ((-17, -11), (17, -11)), ((0, -11), (0, -20)))),  # push button, makes while pressed
    "selector": Shape(24, (*_TO_RINGS, _SHUT, ((0, -4), (0, -18)), ((-6, -18), (6, -18)))),  # stays where it was turned, shown closed
    "temperature contact": Shape(
        24, (*_TO_RINGS, ((-12, -2), (11, -14)), ((0, -8), (0, 5)), ((-6, 10), (-6, 5), (0, 5), (0, 15), (6, 15), (6, 10)))
    ),  # temperature-actuated, calls for heat
    "winding": Shape(24, (*(arc(x, 0, 6, start=180, stop=360) for x in (-12, 0, 12)), ((-24, 0), (-18, 0)), ((18, 0), (24, 0)))),  # 6.4
    "load": Shape(24, (frame(-16, -12, 16, 12), ((-24, 0), (-16, 0)), ((16, 0), (24, 0)))),
    "earth": Shape(0, (((0, 0), (0, 8)), ((-12, 8), (12, 8)), ((-8, 13), (8, 13)), ((-4, 18), (4, 18)))),  # 3.9
}
