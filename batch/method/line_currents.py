"""Line currents by phasors, never by adding amps. All loads are resistances, so any mix of heaters reduces to six sums of amps."""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple

from batch.systems import Connection, System

ROOT3 = sqrt(3.0)
HALF_ROOT3 = ROOT3 / 2.0


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
        return Loads(self.x * factor, self.y * factor, self.z * factor, self.a * factor, self.b * factor, self.c * factor)


NO_LOADS = Loads()


class Lines(NamedTuple):
    """Amps in lines A, B, C and in the neutral."""

    a: float = 0.0
    b: float = 0.0
    c: float = 0.0
    n: float = 0.0

    @property
    def maximum(self) -> float:
        """Current of the fullest line, A."""
        return max(self.a, self.b, self.c)


def heaters_on_legs(connection: Connection, system: System, heaters: int) -> tuple[int, ...]:
    """Heaters on each pair or leg, assigned in rotation from the first.

    Equation
        the k-th heater stands on leg k mod 3 (mod 2 on one phase with three wires); all on one leg without rotation

    Parameters
        connection: how the heaters are connected [-]
        system: system of the supply [-]
        heaters: heaters [-]

    Returns
        heaters of each leg [-]

    Reference
        Common practice, no source

    Example
        By count, sixteen heaters on three pairs: 6, 5, 5.

        >>> heaters_on_legs(Connection.DELTA, System.DELTA, 16)
        (6, 5, 5)
    """
    legs = connection.legs(system)
    return tuple(len(range(leg, heaters, legs)) for leg in range(legs))


def rotated(loads: Loads, start: int, system: System) -> Loads:
    """The same loads with the first line of the bank on another line of the supply.

    Equation
        start 1: x, y, z become z, x, y and a, b, c become c, a, b; one phase with three wires: A and B change places

    Parameters
        loads: amps with L1 on line A [A]
        start: line that L1 lands on, 0 A, 1 B, 2 C [-]
        system: system of the supply [-]

    Returns
        amps on the supply's own lines [A]

    Reference
        Phase rotation A-B-C

    Example
        Worked by hand: what stood on A-B stands on B-C.

        >>> rotated(Loads(x=10), 1, System.DELTA)[:3]
        (0.0, 10, 0.0)
    """
    if start == 0:
        return loads
    x, y, z, a, b, c = loads
    if system.phases == 1:
        return Loads(x, 0.0, 0.0, b, a, 0.0) if start % 2 else loads
    return Loads(z, x, y, c, a, b) if start % 3 == 1 else Loads(y, z, x, b, c, a)


def line_currents(loads: Loads, system: System) -> Lines:
    """Current in each line and in the neutral.

    Equation
        I_A = sqrt((a + (sqrt(3)/2)(x + z))^2 + ((x - z)/2)^2), B with (b; y, x), C with (c; z, y)
        I_N = sqrt(a^2 + b^2 + c^2 - ab - bc - ca), written as half the squared differences, so that equal legs leave exactly nothing
        one phase: I_A = x + a, I_B = x + b, I_N = |a - b|; line to neutral: I_A = I_N = a
        Each line-to-line current is in phase with its own voltage; the sums are projections on a line's own axis and across it

    Parameters
        loads: amps line to line and line to neutral [A]
        system: system of the supply [-]

    Returns
        amps of lines A, B, C and of the neutral [A]

    Reference
        Phasor sums of resistive loads, phase sequence A-B-C

    Example
        Published: a delta of 105, 33, 33 A has lines of 124.8, 124.8, 57.2 A; two elements of 11 A share a line of 19.05 A.

        >>> [round(amps, 1) for amps in line_currents(Loads(105, 33, 33), System.DELTA)[:3]]
        [124.8, 124.8, 57.2]
        >>> [round(amps, 2) for amps in line_currents(Loads(11, 11), System.DELTA)[:3]]
        [11.0, 19.05, 11.0]
    """
    x, y, z, a, b, c = loads
    if system.phases == 1:
        if system is System.LINE_TO_NEUTRAL:
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


def balanced_load(heaters: float, line_a: float) -> Loads:
    """Balanced 3-phase heaters, or wyes of three equal heaters, as line-to-line loads.

    Equation
        x = y = z = n I / sqrt(3)

    Parameters
        heaters: 3-phase heaters, or wyes of three [-]
        line_a: line current of each [A]

    Returns
        amps line to line [A]

    Reference
        Equivalence of a balanced wye and delta

    Example
        Published: lines of 19.05 A belong to elements of 11 A.

        >>> round(balanced_load(1, 19.05).x, 2)
        11.0
    """
    each = line_a * heaters / ROOT3
    return Loads(each, each, each)


def unbalance_pct(lines: Lines, system: System) -> float:
    """Unbalance of a feeder.

    Equation
        100 (greatest deviation from the mean line current) / mean; 0 where there is one line

    Parameters
        lines: amps of the lines [A]
        system: system of the supply [-]

    Returns
        unbalance [%]

    Reference
        Definition by the greatest deviation from the mean, as for the volts of motors (from memory)

    Example
        Lines of 124.8, 124.8 and 57.2 A (published): their mean is 102.27 A, so 45.07 / 102.27 = 44.1 %.

        >>> round(unbalance_pct(Lines(124.8, 124.8, 57.2), System.DELTA), 1)
        44.1
    """
    if system.lines < 2:
        return 0.0
    present = lines[: system.lines]
    mean = sum(present) / len(present)
    return 100.0 * max(abs(amps - mean) for amps in present) / mean if mean else 0.0
