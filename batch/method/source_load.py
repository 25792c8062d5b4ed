"""Load of a source: what its feeders together ask of its lines and, where they stand in delta, of its windings."""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple

from batch.method.line_currents import ROOT3, Loads, line_currents
from batch.systems import System


def source_current(kva: float, volts_v: float, phases: int) -> float:
    """Rated line current of a source.

    Equation
        I_r = 1000 S / (sqrt(3) V); 1000 S / V on one phase

    Parameters
        kva: rating [kVA]
        volts_v: secondary volts, line to line [V]
        phases: 1 or 3 [-]

    Returns
        rated line current [A]

    Reference
        Definition of apparent power

    Example
        Published: 300 kVA at 208 V, 833 A; 500 kVA at 480 V, 601.4 A.

        >>> round(source_current(300, 208, 3)), round(source_current(500, 480, 3), 1)
        (833, 601.4)
    """
    return 1000.0 * kva / ((ROOT3 if phases == 3 else 1.0) * volts_v)


def winding_currents(loads: Loads) -> tuple[float, float, float]:
    """Currents in the windings A-B, B-C, C-A of a delta secondary: one load on a pair flows two thirds in its own winding.

    Equation
        I_AB = |I_A - I_B| / 3 = sqrt((2 x + (y + z)/2)^2 + 3/4 (y - z)^2) / 3, the others by rotation

    Parameters
        loads: amps line to line; a delta has no neutral [A]

    Returns
        winding currents A-B, B-C, C-A [A]

    Reference
        Kirchhoff's current law for three equal windings; {windings} (two thirds of one load in its own winding)

    Example
        Worked by hand: 125 A on A-B alone, 83.333 A in its winding and 41.667 A in the two others.

        >>> [round(amps, 3) for amps in winding_currents(Loads(x=125))]
        [83.333, 41.667, 41.667]
    """
    x, y, z = loads.x, loads.y, loads.z
    return _winding(x, y, z), _winding(y, z, x), _winding(z, x, y)


def _winding(own: float, ahead: float, behind: float) -> float:
    return sqrt((2.0 * own + (ahead + behind) / 2.0) ** 2 + 3.0 / 4.0 * (ahead - behind) ** 2) / 3.0


class SourceUse(NamedTuple):
    """Shares of a source's rating in use, %: of its lines, and of the windings of what is a delta or may be one (else none of them)."""

    lines_pct: float
    windings_pct: float

    @property
    def pct(self) -> float:
        return max(self)


def source_use(loads: Loads, other_a: tuple[float, float, float], *, kva: float, volts_v: float, system: System) -> SourceUse:
    """Share of a source's rating in use.

    Equation
        100 max(I_A + O_A, I_B + O_B, I_C + O_C) / I_r; where the secondary is a delta, or may be one, that of the windings too:
        100 sqrt(3) (max(I_AB, I_BC, I_CA) + max O / sqrt(3)) / I_r. The 125 % is not for transformers

    Parameters
        loads: amps of all its feeders, line to line and line to neutral [A]
        other_a: other load O on each line, of angle unknown [A]
        kva: rating of the source [kVA]
        volts_v: secondary volts, line to line [V]
        system: system of the secondary [-]

    Returns
        used, of lines and of windings [%]

    Reference
        Rated current of lines and windings; {windings}

    Example
        Worked by hand: 125 A on one pair of 75 kVA, 480 V: 138.56 % of the lines on a wye, 160 % of the winding on a delta. 45.105 A
        more on a line are half of its 90.21 A.

        >>> kinds, nothing = (System.WYE_GROUNDED, System.DELTA, System.UNKNOWN), (0, 0, 0)
        >>> [round(source_use(Loads(x=125), nothing, kva=75, volts_v=480, system=kind).pct, 2) for kind in kinds]
        [138.56, 160.0, 160.0]
        >>> more = dict(other_a=(45.105, 0, 0), kva=75, volts_v=480)
        >>> [round(source_use(Loads(x=125), system=kind, **more).pct, 2) for kind in kinds[:2]]
        [188.56, 210.0]
    """
    rated_a = source_current(kva, volts_v, system.phases)
    lines = line_currents(loads, system)
    lines_pct = 100.0 * max(own + other for own, other in zip(lines, other_a, strict=False)) / rated_a
    if system.phases != 3 or system is System.WYE_GROUNDED:
        return SourceUse(lines_pct, 0.0)
    return SourceUse(lines_pct, 100.0 * ROOT3 * (max(winding_currents(loads)) + max(other_a) / ROOT3) / rated_a)
