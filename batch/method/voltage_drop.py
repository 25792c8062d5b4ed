"""Voltage drop along conductors, at running amps."""

from __future__ import annotations

from batch.method.line_currents import HALF_ROOT3, ROOT3, Loads
from batch.rules import Cited, RuleSet, cite
from batch.systems import System


def run_resistance(size: str, length_m: float, material: str, raceway: str, rules: RuleSet) -> Cited[float]:
    """Resistance of one conductor, one way, at 75 °C and unity power factor.

    Equation
        R = r L; a size that the table lacks takes the next smaller one's

    Parameters
        size: conductor size [AWG or kcmil]
        length_m: length of the run [m]
        material: "copper" or "aluminum" [-]
        raceway: kind of raceway [-]
        rules: the rule set, table impedance [-]

    Returns
        resistance [ohm]

    Reference
        {table_impedance}

    Example
        The table prints 2.0 ohm/kft for 12 AWG copper in PVC: 100 ft (30.48 m) have 0.2 ohm.

        >>> round(run_resistance("12", 30.48, "copper", "PVC-80", rules).value, 6)
        0.2
    """
    for listed in reversed(rules.sizes[: rules.rank(size) + 1]):
        cited = rules.ac_resistance(listed, material, raceway)
        if cited is not None:
            return cite(cited.value * length_m / 1000.0, cited, unit="ohm")
    smallest = next(one for one in rules.sizes if rules.ac_resistance(one, material, raceway))
    return run_resistance(smallest, length_m, material, raceway, rules)


def branch_drop(amps: float, line_ohm: float, volts_v: float, phases: int) -> float:
    """Drop of one heater's circuit.

    Equation
        2 R I / V on two wires; sqrt(3) R I / V on three lines

    Parameters
        amps: running line current [A]
        line_ohm: resistance of one conductor, one way [ohm]
        volts_v: volts between the wires [V]
        phases: 1 or 3 [-]

    Returns
        drop as a share of the volts [-]

    Reference
        Ohm's law; the limit is recommended: {drop_notes}

    Example
        A textbook's 10 A, 120 V heater 140 ft away drops 2.19 V on 8 AWG by its round figures, 12.9 x 2 x 140 x 10 / 16,510; the table's
        0.78 ohm/kft give 2 x 0.1092 x 10 = 2.18 V.

        >>> round(120 * branch_drop(10, 0.78 * 0.140, 120, 1), 2)
        2.18
    """
    return (ROOT3 if phases == 3 else 2.0) * line_ohm * amps / volts_v


def drop_share(loads: Loads, system: System, volts_v: float, line_ohm: float, neutral_ohm: float) -> float:
    """Maximum drop along conductors that feed any mix of loads.

    Equation
        pair A-B: R (2x + (y + z)/2 + (sqrt(3)/2)(a + b)) / V
        leg A-N: (R (a + (sqrt(3)/2)(x + z)) + R_N (a - (b + c)/2)) / (V / sqrt(3)); the others by rotation
        one phase: R (2x + a + b) / V; (R (a + x) + R_N (a - b)) / (V / 2). Only loaded pairs and legs count

    Parameters
        loads: running amps line to line and line to neutral [A]
        system: system of the supply [-]
        volts_v: line-to-line volts, line to neutral on a supply of one line [V]
        line_ohm: resistance of one line, one way [ohm]
        neutral_ohm: resistance of the neutral, one way [ohm]

    Returns
        greatest drop as a share of the volts of its pair or leg [-]

    Reference
        Ohm's law on the phasors of `line_currents`, projected on the volts of each pair

    Example
        Worked by hand, balanced: each pair of 10 A has a line of 17.32 A, so sqrt(3) x 0.1 x 17.32 = 3 V of 480 V.

        >>> round(480 * drop_share(Loads(10, 10, 10), System.DELTA, 480, 0.1, 0.1), 6)
        3.0
    """
    x, y, z, a, b, c = loads
    if system.phases == 1:
        if system is System.LINE_TO_NEUTRAL:
            return a * (line_ohm + neutral_ohm) / volts_v
        pairs = [(x, line_ohm * (2 * x + a + b) / volts_v)]
        legs = [(own, (line_ohm * (own + x) + neutral_ohm * (own - other)) / (volts_v / 2)) for own, other in ((a, b), (b, a))]
    else:
        pairs = [
            (own, line_ohm * (2 * own + (one + two) / 2 + HALF_ROOT3 * (leg + next_leg)) / volts_v)
            for own, one, two, leg, next_leg in ((x, y, z, a, b), (y, z, x, b, c), (z, x, y, c, a))
        ]
        legs = [
            (own, (line_ohm * (own + HALF_ROOT3 * (one + two)) + neutral_ohm * (own - (b2 + c2) / 2)) / (volts_v / ROOT3))
            for own, one, two, b2, c2 in ((a, x, z, b, c), (b, y, x, c, a), (c, z, y, a, b))
        ]
    return max((drop for amps, drop in pairs + legs if amps > 0.0), default=0.0)
