"""Fault current from a source on: its own impedance, the primary's behind it, and each kind of fault at each point.

Impedances of a source are kept apart: Z_T of the unit, Z_p of the primary as seen on the secondary. Where the ratios of X to R of both
are known the numbers are complex; where one is not, they are magnitudes, and every sum is tried all reactance and all resistance: the
least total counts, so that no part is judged by less current than it may see.
"""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple

from batch.method.line_currents import ROOT3
from batch.rules import Cited, RuleSet, cite


class SourceImpedance(NamedTuple):
    """Ohms a line on three phases, of the loop on one; `complex_known`: angles are known, else the numbers are magnitudes."""

    unit: complex
    primary: complex = 0j
    complex_known: bool = False


def marked_impedance(kva: float, z_pct: float, volts_v: float) -> float:
    """Impedance of a transformer at its secondary, as marked.

    Equation
        Z = (z / 100) V^2 / (1000 S), a line on three phases, the loop on one

    Parameters
        kva: rating [kVA]
        z_pct: marked impedance [%]
        volts_v: secondary volts, line to line [V]

    Returns
        impedance [ohm]

    Reference
        Definition of the per-cent impedance

    Example
        Worked by hand: 1000 kVA, 5.75 %, 480 V: 0.013248 ohm.

        >>> round(marked_impedance(1000, 5.75, 480), 6)
        0.013248
    """
    return z_pct / 100.0 * volts_v**2 / (1000.0 * kva)


def unit_impedance(kva: float, z_pct: float, volts_v: float, rules: RuleSet) -> Cited[float]:
    """Impedance of a transformer at its secondary, at the low end of its tolerance.

    Equation
        Z_T = 0.9 (z / 100) V^2 / (1000 S), a line on three phases, the loop on one

    Parameters
        kva: rating [kVA]
        z_pct: marked impedance [%]
        volts_v: secondary volts, line to line [V]
        rules: the rule set, factor z_tolerance [-]

    Returns
        impedance [ohm]

    Reference
        Point-to-point method of a fuse handbook, worked example: 90 % of the marked impedance

    Example
        Worked by hand: 1000 kVA, 5.75 %, 480 V: 0.0119232 ohm.

        >>> round(unit_impedance(1000, 5.75, 480, rules).value, 7)
        0.0119232
    """
    tolerance = rules.factor("z_tolerance")
    return cite(tolerance.value * marked_impedance(kva, z_pct, volts_v), tolerance, unit="ohm")


def primary_impedance(primary_mva: float, volts_v: float) -> float:
    """Impedance of the primary network, as seen on the secondary.

    Equation
        Z_p = V^2 / (10^6 M), M = sqrt(3) kV kA on three phases; on one phase kV kA between its two lines, or half the 3-phase M

    Parameters
        primary_mva: short-circuit level of the primary, as it bears on the unit's phases [MVA]
        volts_v: secondary volts, line to line [V]

    Returns
        impedance [ohm]

    Reference
        Definition of a short-circuit level

    Example
        Worked by hand: 250 MVA seen at 480 V, 0.0009216 ohm.

        >>> round(primary_impedance(250, 480), 7)
        0.0009216
    """
    return volts_v**2 / (1e6 * primary_mva)


def with_angle(ohms: float, x_over_r: float) -> complex:
    """An impedance by its magnitude and its ratio of reactance to resistance.

    Equation
        R = Z / sqrt(1 + k^2), X = k R

    Parameters
        ohms: magnitude [ohm]
        x_over_r: ratio k of X to R [-]

    Returns
        impedance [ohm]

    Reference
        Geometry of the impedance triangle

    Example
        Worked by hand: 0.0119232 ohm at X/R 6, 0.0019602 + j0.0117610.

        >>> ohms = with_angle(0.0119232, 6)
        >>> round(ohms.real, 7), round(ohms.imag, 6)
        (0.0019602, 0.011761)
    """
    resistance = ohms / sqrt(1.0 + x_over_r**2)
    return complex(resistance, resistance * x_over_r)


def total_impedance(source: complex, run: complex, angle_known: bool) -> float:
    """Least magnitude of a source and conductors together.

    Equation
        |Z_s + Z_c| where the source's angle is known; else min(|j Z_s + Z_c|, |Z_s + Z_c|)

    Parameters
        source: impedance of the source, a magnitude where its angle is not known [ohm]
        run: impedance of the conductors on the way [ohm]
        angle_known: whether the source's angle is known [-]

    Returns
        impedance [ohm]

    Reference
        Sum of complex impedances; of two angles that bound the unknown one the lesser sum

    Example
        Worked by hand: 0.0158976 ohm behind 0.0052925 + j0.0034449: 0.0200535 ohm. 0.01 ohm behind 0.003 + j0.008, more reactance than
        resistance: sqrt(0.013^2 + 0.008^2) = 0.0152643 ohm.

        >>> round(total_impedance(0.0158976, 0.0052925 + 0.0034449j, False), 7)
        0.0200535
        >>> round(total_impedance(0.01, 0.003 + 0.008j, False), 7)
        0.0152643
    """
    if angle_known:
        return abs(source + run)
    size = abs(source)
    return min(abs(complex(0.0, size) + run), abs(size + run))


def line_fault(source: SourceImpedance, volts_v: float, phases: int, run: complex = 0j) -> float:
    """Fault of all lines together: three lines of a 3-phase source, both lines of a 1-phase one.

    Equation
        I = V / (sqrt(3) |Z_s + Z_c|), Z_s = Z_T + Z_p; one phase: V / |Z_s + 2 Z_c|

    Parameters
        source: impedances of the source [ohm]
        volts_v: line-to-line volts [V]
        phases: 1 or 3 [-]
        run: impedance of one line's conductors on the way [ohm]

    Returns
        fault current [A]

    Reference
        Ohm's law with complex impedances

    Example
        Worked by hand: 1000 kVA, 5.75 % behind 250 MVA, 21,575 A; 50 kVA, 2.4 %, 240 V on one phase, 9,645.1 A.

        >>> round(line_fault(SourceImpedance(0.0119232, 0.0009216), 480, 3))
        21575
        >>> round(line_fault(SourceImpedance(0.0248832), 240, 1), 1)
        9645.1
    """
    ways, across = (1.0, volts_v / ROOT3) if phases == 3 else (2.0, volts_v)
    return across / total_impedance(source.unit + source.primary, ways * run, source.complex_known)


def two_line_fault(source: SourceImpedance, volts_v: float, run: complex = 0j) -> float:
    """Fault between two lines of a 3-phase source: less than that of all three, for what has two lines only.

    Equation
        I = V / (2 |Z_s + Z_c|)

    Parameters
        source: impedances of the source [ohm]
        volts_v: line-to-line volts [V]
        run: impedance of one line's conductors on the way [ohm]

    Returns
        fault current [A]

    Reference
        Symmetrical components, Z_2 = Z_1

    Example
        Worked by hand: sqrt(3)/2 = 0.866 of the fault of three lines.

        >>> source = SourceImpedance(0.0158976)
        >>> round(two_line_fault(source, 480) / line_fault(source, 480, 3), 3)
        0.866
    """
    return volts_v / (2.0 * total_impedance(source.unit + source.primary, run, source.complex_known))


def neutral_fault(source: SourceImpedance, volts_v: float, run: complex = 0j, back: complex = 0j) -> float:
    """Fault of one line of a wye to its neutral or to ground: more than that of three lines, where the primary counts.

    Equation
        I = V / (sqrt(3) |Z_T + 2 Z_p / 3 + Z_c + Z_n|)

    Parameters
        source: impedances of the source [ohm]
        volts_v: line-to-line volts [V]
        run: impedance of the line's conductors on the way [ohm]
        back: impedance of the return, the neutral's or else the line's own [ohm]

    Returns
        fault current [A]

    Reference
        Symmetrical components of a delta-wye unit: no zero sequence from the primary (from memory)

    Example
        Worked by hand: 1000 kVA, 5.75 % behind 250 MVA: 22,104 A, where three lines give 21,575 A.

        >>> round(neutral_fault(SourceImpedance(0.0119232, 0.0009216), 480))
        22104
    """
    ahead = source.unit + 2.0 * source.primary / 3.0
    return volts_v / ROOT3 / total_impedance(ahead, run + back, source.complex_known)


def high_leg_fault(source: SourceImpedance, volts_v: float, rules: RuleSet, run: complex = 0j, back: complex = 0j) -> Cited[float]:
    """Fault of a line beside the grounded tap of a high-leg delta to ground: about 1.15 times that of three lines at its terminals.

    Equation
        I = (V / 2) / |Z + Z_p / 2 + Z_c + Z_n|, Z = (Z_N (Z_N + 2 Z_w) - Z_h^2) / (2 (Z_N + Z_w + Z_h)), Z_w = 3 Z_T a winding,
        Z_N its tapped half alone, Z_h = Z_w / 2 - Z_N

    Parameters
        source: impedances of the source [ohm]
        volts_v: line-to-line volts [V]
        rules: the rule set, factors center_tap_r, center_tap_x, center_tap_share [-]
        run: impedance of the line's conductors on the way [ohm]
        back: impedance of the return [ohm]

    Returns
        fault current [A]

    Reference
        Kirchhoff's laws for three equal units in a closed delta, one of them tapped; of the primary no more than half of a line counts

    Example
        Worked by hand: 150 kVA, 3 %, 240 V: Z_T 0.010368, Z = 0.75 Z_T: 120 / 0.007776 = 15,432 A; three lines give 13,365 A.

        >>> round(high_leg_fault(SourceImpedance(0.010368), 240, rules).value)
        15432
    """
    share, resistive, reactive = (rules.factor(name) for name in ("center_tap_share", "center_tap_r", "center_tap_x"))

    def joined(half: float) -> float:
        mutual = 0.5 - half  # shares of a winding
        return 3.0 * (half * (half + 2.0) - mutual**2) / (2.0 * (half + 1.0 + mutual))

    if source.complex_known:
        unit = complex(joined(resistive.value / 4.0) * source.unit.real, joined(reactive.value / 4.0) * source.unit.imag)
        places: tuple[Cited[float], ...] = (resistive, reactive)
    else:
        unit, places = joined(share.value) * source.unit, (share,)
    ohms = total_impedance(unit + source.primary / 2.0, run + back, source.complex_known)
    return cite(volts_v / 2.0 / ohms, *places, unit="A")


def center_tap_fault(source: SourceImpedance, volts_v: float, rules: RuleSet, run: complex = 0j, back: complex = 0j) -> Cited[float]:
    """Fault of one line of a 1-phase 3-wire unit to its neutral: about 1.5 times that of both lines.

    Equation
        I = (V / 2) / |Z_N + Z_c + Z_n|, Z_N = Z_s / 3; with the unit's X/R known Z_N = (1.5 R_T + j 1.2 X_T + Z_p) / 4

    Parameters
        source: impedances of the source, of the loop [ohm]
        volts_v: line-to-line volts [V]
        rules: the rule set, factors center_tap_r, center_tap_x, center_tap_share [-]
        run: impedance of the line's conductors on the way [ohm]
        back: impedance of the neutral's conductors on the way [ohm]

    Returns
        fault current [A]

    Reference
        Half-winding of a center-tapped unit: handbooks give 1.33 to 1.67 times the fault of both lines at the terminals

    Example
        Worked by hand: 50 kVA, 2.4 %, 240/120 V: 14,467.6 A; at X/R 1.5, 14,841.9 A.

        >>> round(center_tap_fault(SourceImpedance(0.0248832), 240, rules).value, 1)
        14467.6
        >>> known = SourceImpedance(with_angle(0.0248832, 1.5), 0j, True)
        >>> round(center_tap_fault(known, 240, rules).value, 1)
        14841.9
    """
    share, resistive, reactive = (rules.factor(name) for name in ("center_tap_share", "center_tap_r", "center_tap_x"))
    places: tuple[Cited[float], ...] = (share,)
    if source.complex_known:
        unit = complex(resistive.value * source.unit.real, reactive.value * source.unit.imag)
        ohms, places = (unit + source.primary) / 4.0, (resistive, reactive)
    else:
        ohms = (source.unit + source.primary) * share.value
    return cite(volts_v / 2.0 / total_impedance(ohms, run + back, source.complex_known), *places, unit="A")


def impedance_of_given_fault(fault_a: float, volts_v: float, phases: int) -> float:
    """Impedance that follows from a fault current given at the source's terminals.

    Equation
        Z_s = V / (sqrt(3) I_g); V / I_g on one phase

    Parameters
        fault_a: fault current given [A]
        volts_v: line-to-line volts [V]
        phases: 1 or 3 [-]

    Returns
        impedance [ohm]

    Reference
        Ohm's law

    Example
        Worked by hand: 277.128 V / 18,000 A = 0.0153960 ohm.

        >>> round(impedance_of_given_fault(18000, 480, 3), 6)
        0.015396
    """
    return volts_v / ((ROOT3 if phases == 3 else 1.0) * fault_a)
