"""Line currents by phasors. All loads are resistances, so a feeder reduces to six sums of amps."""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple

from batch.records import Supply
from batch.results import Lines

HALF_ROOT3 = sqrt(3.0) / 2.0
ROOT3 = sqrt(3.0)


class Loads(NamedTuple):
    """Sums of amps: x, y, z on A-B, B-C, C-A; a, b, c on A-N, B-N, C-N."""

    x: float = 0.0
    y: float = 0.0
    z: float = 0.0
    a: float = 0.0
    b: float = 0.0
    c: float = 0.0

    def plus(self, other: Loads) -> Loads:
        return Loads(self.x + other.x, self.y + other.y, self.z + other.z, self.a + other.a, self.b + other.b, self.c + other.c)

    def times(self, factor: float) -> Loads:
        return Loads(*(amps * factor for amps in self))

    def turned(self, start: int, supply: Supply) -> Loads:
        """The same loads with L1 on line `start` (0 A, 1 B, 2 C); on a 1-phase 3-wire feeder 1 swaps A and B."""
        if start == 0:
            return self
        if supply.phases == 1:
            return Loads(self.x, 0.0, 0.0, self.b, self.a, 0.0) if start % 2 else self
        x, y, z, a, b, c = self
        return Loads(z, x, y, c, a, b) if start % 3 == 1 else Loads(y, z, x, b, c, a)


def line_currents(loads: Loads, supply: Supply) -> Lines:
    """Amps in lines A, B, C and neutral.

    Three-phase: phasor sums with sequence A-B-C and unity power factor. 1-phase line-to-line and 3-wire: A and B carry the
    line-to-line sum plus their own leg's, the neutral the difference. 1-phase line-to-neutral: A and N carry the sum.
    Derivation: each line-to-line current is in phase with its own voltage; projections on A's axis and across it. The neutral's
    a^2 + b^2 + c^2 - ab - bc - ca is written as half the squared differences, so that equal legs leave exactly nothing.
    Source of a published case: textbook delta with 105, 33, 33 A has lines of 124.8, 124.8, 57.2 A (tests/published).
    """
    x, y, z, a, b, c = loads
    if supply.phases == 1:
        if supply.system == "1-phase line-to-neutral":
            return Lines(a, 0.0, 0.0, a)
        return Lines(x + a, x + b, 0.0, abs(a - b))
    return Lines(
        _line(a, x, z),
        _line(b, y, x),
        _line(c, z, y),
        sqrt(((a - b) ** 2 + (b - c) ** 2 + (c - a) ** 2) / 2.0),
    )


def _line(own: float, ahead: float, behind: float) -> float:
    return sqrt((own + HALF_ROOT3 * (ahead + behind)) ** 2 + ((ahead - behind) / 2.0) ** 2)


def unbalance_pct(lines: Lines, supply: Supply) -> float:
    """Greatest deviation from the mean line current, in per cent of the mean; 0 where fewer than two lines exist."""
    if supply.system == "1-phase line-to-neutral":
        return 0.0
    present = (lines.a, lines.b) if supply.phases == 1 else (lines.a, lines.b, lines.c)
    mean = sum(present) / len(present)
    return 100.0 * max(abs(amps - mean) for amps in present) / mean if mean else 0.0


class Star(NamedTuple):
    """A star without neutral: what it draws as a delta, and the volts across each leg."""

    loads: Loads
    leg_volts: tuple[float, float, float]
    leg_amps: tuple[float, float, float]


def floating_star(conductances: tuple[float, float, float], volts_ll: float) -> Star:
    """A floating star of leg conductances (siemens) at `volts_ll`: star-delta transformation, exact for resistances.

    One leg may be 0 (open): its volts are then those across the open leg.
    """
    ga, gb, gc = conductances
    total = ga + gb + gc
    if total <= 0.0:
        return Star(Loads(), (0.0, 0.0, 0.0), (0.0, 0.0, 0.0))
    loads = Loads(volts_ll * ga * gb / total, volts_ll * gb * gc / total, volts_ll * gc * ga / total)
    # The star point sits at the conductance-weighted mean of the three line phasors.
    volts_ln = volts_ll / ROOT3
    lines = (complex(volts_ln, 0.0), complex(-volts_ln / 2, -volts_ln * HALF_ROOT3), complex(-volts_ln / 2, volts_ln * HALF_ROOT3))
    point = sum(g * v for g, v in zip(conductances, lines, strict=True)) / total
    volts = tuple(abs(v - point) for v in lines)
    return Star(loads, volts, tuple(g * v for g, v in zip(conductances, volts, strict=True)))


def drop_fractions(loads: Loads, supply: Supply, line_ohm: float, neutral_ohm: float) -> float:
    """Greatest voltage drop along conductors of `line_ohm` (one way, each) as a fraction of the volts of its pair.

    Running amps in `loads`. Pair A-B loses R (2x + (y + z)/2 + (sqrt(3)/2)(a + b)) volts, leg A-N loses
    R (a + (sqrt(3)/2)(x + z)) + R_N (a - (b + c)/2); the others by rotation. Only loaded pairs and legs count.
    """
    x, y, z, a, b, c = loads
    volts = supply.volts_v
    if supply.phases == 1:
        if supply.system == "1-phase line-to-neutral":
            return a * (line_ohm + neutral_ohm) / volts
        pairs = [(x, line_ohm * (2 * x + a + b) / volts)]
        legs = [(own, (line_ohm * (own + x) + neutral_ohm * (own - other)) / (volts / 2)) for own, other in ((a, b), (b, a))]
    else:
        pairs = [
            (own, line_ohm * (2 * own + (one + two) / 2 + HALF_ROOT3 * (leg + next_leg)) / volts)
            for own, one, two, leg, next_leg in ((x, y, z, a, b), (y, z, x, b, c), (z, x, y, c, a))
        ]
        legs = [
            (own, (line_ohm * (own + HALF_ROOT3 * (one + two)) + neutral_ohm * (own - (b2 + c2) / 2)) / (volts / ROOT3))
            for own, one, two, b2, c2 in ((a, x, z, b, c), (b, y, x, c, a), (c, z, y, a, b))
        ]
    return max((drop for amps, drop in pairs + legs if amps > 0.0), default=0.0)
