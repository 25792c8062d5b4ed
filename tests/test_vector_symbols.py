"""Symbols in SVG, by steps and arcs, against the points that pictures are drawn by."""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import atan2, cos, hypot, pi, sin, sqrt

import pytest

from batch.drawings.shapes import Arc, arc
from batch.drawings.symbols import IEC, SHAPES, US, shape, turned
from batch.drawings.vector import _form

Point = tuple[float, float]
NEAR = 0.02  # pixels of 1/200 inch: steps are rounded to a hundredth


def followed(path: str) -> Iterator[list[Point]]:
    """The strokes of a path of steps (m, l, a, Z), each as the points it goes through; of an arc its middle too."""
    at: Point = (0.0, 0.0)
    stroke: list[Point] = []
    for command, words in re.findall(r"([mlaZ])([^mlaZ]*)", path):
        numbers = [float(word) for word in words.split()]
        if command == "Z":
            at = stroke[0]
            continue
        to = (at[0] + numbers[-2], at[1] + numbers[-1])
        if command == "m":
            if stroke:
                yield stroke
            stroke = []
        elif command == "a":
            stroke.append(middle(at, to, (numbers[0], numbers[1]), bool(numbers[3]), bool(numbers[4])))
        stroke.append(to)
        at = to
    if stroke:
        yield stroke


def middle(start: Point, end: Point, radii: Point, large: bool, clockwise: bool) -> Point:
    """Halfway along an elliptic arc: from its ends to its centre (SVG 1.1, F.6.5, from memory), in a frame where it is a circle of 1."""
    (x1, y1), (x2, y2) = ((x / radii[0], y / radii[1]) for x, y in (start, end))
    half = hypot(x2 - x1, y2 - y1) / 2
    off = sqrt(max(0.0, 1 - half * half)) * (1 if large == clockwise else -1)
    x0, y0 = (x1 + x2) / 2 + off * (y2 - y1) / (2 * half), (y1 + y2) / 2 - off * (x2 - x1) / (2 * half)
    first, last = atan2(y1 - y0, x1 - x0), atan2(y2 - y0, x2 - x0)
    sweep = (last - first) % (2 * pi) if clockwise else -((first - last) % (2 * pi))
    angle = first + sweep / 2
    return radii[0] * (x0 + cos(angle)), radii[1] * (y0 + sin(angle))


@pytest.mark.parametrize("level", [True, False])
@pytest.mark.parametrize("standard", [IEC, US])
@pytest.mark.parametrize("kind", SHAPES)
def test_a_symbol_in_svg_is_the_one_of_the_pictures(kind: str, standard: str, level: bool) -> None:
    form = shape(kind, standard)
    for path, strokes in zip(_form(kind, standard, level), (form.strokes, form.solid, form.blank), strict=True):
        found = list(followed(path))
        assert len(found) == len(strokes)
        for one, stroke in zip(found, strokes, strict=True):
            points = stroke if level else turned(stroke)
            if isinstance(stroke, Arc):
                quarter = len(points) // 4
                points = points[::quarter] if abs(stroke.swept) == 360 else points[:: 2 * quarter]
            assert len(one) == len(points)
            for mine, theirs in zip(one, points, strict=True):
                assert mine == pytest.approx(theirs, abs=NEAR), (kind, standard)


def test_arcs_of_every_sort_are_followed() -> None:
    """The comparison knows long and short arcs, both ways: 24 steps, every sixth a quarter of the whole."""
    sweeps = {one.swept for kind in SHAPES for set_of in (IEC, US) for one in shape(kind, set_of).strokes if isinstance(one, Arc)}
    assert 360 in sweeps and {sweep > 0 for sweep in sweeps} == {True, False}
    for swept in (90, 200, -90, -200):
        made = arc(3.0, -2.0, 10.0, start=30.0, stop=30.0 + swept, flat=0.9)
        long = abs(swept) > 180
        assert middle(made[0], made[-1], (10.0, 9.0), long, swept > 0) == pytest.approx(made[12], abs=1e-6)
