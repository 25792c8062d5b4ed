"""The drawing list of a schematic: lines, symbols and words at whole pixels, before anything is turned into a picture.

x runs right and y down, in pixels of 1/200 inch. Two lines join where an end of one meets an end of the other, or where a
junction stands; lines that only cross do not join.
"""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

from msgspec import Struct, field

from batch.drawings.lettering import wrap
from batch.drawings.symbols import IEC
from batch.rules import OURS, Wording
from batch.schedules.designations import lettered

DOTS_PER_INCH = 200
WIDTH = 850  # half a Letter page across, at 200 dots to the inch
MARGIN = 16
NAME, BODY, HEAD, TITLE = 19, 20, 22, 27  # heights of type in pixels: 6.8, 7.2, 7.9 and 9.7 points

Point = tuple[int, int]


class Segment(NamedTuple):
    """Level or upright. style: "wire", "bar" (of a block or bus), "link" (mechanical), "case" (of a heater), "edge" (the panel's)."""

    x1: int
    y1: int
    x2: int
    y2: int
    style: str


class Symbol(NamedTuple):
    """A symbol centred on x, y; `level` = its current runs from left to right, else downward. `of`: what it stands for."""

    kind: str
    x: int
    y: int
    level: bool
    of: str


class Words(NamedTuple):
    """Words on a base line. anchor: "l", "m", "r"; `turned` = they read upward. `at`: the point of the circuit that they name."""

    x: int
    y: int
    text: str
    size: int
    anchor: str = "l"
    turned: bool = False
    at: Point | None = None


class Drawing(NamedTuple):
    width: int
    height: int
    lines: tuple[Segment, ...]
    symbols: tuple[Symbol, ...]
    words: tuple[Words, ...]
    standard: str = IEC  # set of its symbols


class Plan(Struct):
    """A drawing being laid out, from the top down."""

    lines: list[Segment] = field(default_factory=list)
    symbols: list[Symbol] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)
    standard: str = IEC
    wording: Wording = OURS

    def line(self, *points: Point, style: str = "wire") -> None:
        """A line through all the points, each level with or straight below the one before."""
        for (x1, y1), (x2, y2) in pairwise(points):
            if (x1, y1) != (x2, y2):
                self.lines.append(Segment(x1, y1, x2, y2, style))

    def box(self, left: int, top: int, right: int, bottom: int, style: str) -> None:
        self.line((left, top), (right, top), (right, bottom), (left, bottom), (left, top), style=style)

    def symbol(self, kind: str, x: int, y: int, *, level: bool = False, of: str = "") -> None:
        self.symbols.append(Symbol(kind, x, y, level, of))

    def say(self, x: int, y: int, text: str, size: int = BODY, anchor: str = "l", *, turned: bool = False, at: Point | None = None) -> None:
        if text and self.wording:
            text = lettered(self.wording.of(text), self.wording)
        if text:
            self.words.append(Words(x, y, text, size, anchor, turned, at))

    def wrapped(self, text: str, size: int, room: int) -> tuple[str, ...]:
        """Lines of at most `room` pixels, measured in the words that they will stand in."""
        return wrap(lettered(self.wording.of(text), self.wording), size, room)

    def done(self, height: int, width: int = WIDTH) -> Drawing:
        return Drawing(width, height, tuple(self.lines), tuple(self.symbols), tuple(self.words), self.standard)
