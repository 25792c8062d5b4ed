"""Available fault current: at the source, and behind conductors. Never below the true one."""

from __future__ import annotations

from batch.method.line_currents import ROOT3
from batch.rules import Cited, RuleSet, cite


def fault_of_transformer(kva: float, z_pct: float, volts_v: float, phases: int, rules: RuleSet) -> Cited[float]:
    """Available fault current at a transformer's terminals, its primary taken as an unlimited source.

    Equation
        I_r = 1000 S / (sqrt(3) V), 1000 S / V on one phase; I = I_r / (0.9 z): the marked impedance at the low end of its tolerance

    Parameters
        kva: rating [kVA]
        z_pct: marked impedance [%]
        volts_v: secondary volts, line to line [V]
        phases: 1 or 3 [-]
        rules: the rule set, factor z_tolerance [-]

    Returns
        fault current [kA]

    Reference
        Point-to-point method of a fuse handbook, worked example: 90 % of the marked impedance

    Example
        Published: 300 kVA, 2 %, 208 V: 833 A and a multiplier of 55.55, so 46,273 A; unrounded 46,262 A.

        >>> round(fault_of_transformer(300, 2, 208, 3, rules).value, 3)
        46.262
    """
    tolerance = rules.factor("z_tolerance")
    full_load_a = 1000.0 * kva / ((ROOT3 if phases == 3 else 1.0) * volts_v)
    return cite(full_load_a / (tolerance.value * z_pct / 100.0) / 1000.0, tolerance, unit="kA")


def conductor_impedance(
    *, size: str, sets: int, length_m: float, material: str, raceway: str, phases: int, rules: RuleSet
) -> Cited[complex]:
    """Impedance that a run adds to a fault: its conductors cold, out and back on one phase.

    Equation
        Z_c = (0.838 R + jX) L / sets, doubled on one phase; a size that the table lacks takes the next larger one's, with less impedance

    Parameters
        size: conductor size [AWG or kcmil]
        sets: parallel sets [-]
        length_m: length of the run [m]
        material: "copper" or "aluminum" [-]
        raceway: kind of raceway [-]
        phases: 1 or 3 [-]
        rules: the rule set, table impedance, factor r_25c_over_75c [-]

    Returns
        impedance [ohm]

    Reference
        NFPA 70-2023, Chapter 9, Table 9 (75 °C, 60 Hz); resistance at 25 °C: note to Table 8

    Example
        The table prints R = 0.062 and X = 0.041 ohm/kft for 4/0 copper in PVC; worked by hand for 5 m: 0.000852 + j0.000673 ohm.

        >>> given = dict(size="4/0", sets=1, length_m=5, material="copper", raceway="PVC-80", phases=3, rules=rules)
        >>> ohms = conductor_impedance(**given).value
        >>> round(ohms.real, 6), round(ohms.imag, 6)
        (0.000852, 0.000673)
    """
    cold = rules.factor("r_25c_over_75c")
    for listed in rules.sizes[rules.rank(size) :]:
        resistance, reactance = rules.ac_resistance(listed, material, raceway), rules.ac_reactance(listed, raceway)
        if resistance is not None and reactance is not None:
            ways = 1.0 if phases == 3 else 2.0
            ohm = complex(resistance.value * cold.value, reactance.value) * ways * length_m / 1000.0 / sets
            return cite(ohm, resistance, cold, unit="ohm")
    return cite(0j, cold, unit="ohm")


def fault_behind(source_ka: float, volts_v: float, phases: int, run_ohm: complex) -> float:
    """Available fault current behind conductors.

    Equation
        Z_s = V / (sqrt(3) I_s), V / I_s on one phase; I = V / (sqrt(3) min(|j Z_s + Z_c|, |Z_s + Z_c|)), V / (...) on one phase
        The source's ratio of X to R is not known, so both ends of what it can be are tried, and the greater current counts: the
        impedances add most where their angles agree, least at the end farther from the conductors' angle

    Parameters
        source_ka: fault current where the run starts [kA]
        volts_v: line-to-line volts [V]
        phases: 1 or 3 [-]
        run_ohm: impedance of the runs, out and back on one phase [ohm]

    Returns
        fault current at the end [kA]

    Reference
        Ohm's law with complex impedances

    Example
        Worked by hand: 480 V, 17.432 kA behind 0.0052925 + j0.0034449 ohm leaves a least total of 0.0200535 ohm: 13.819 kA.

        >>> round(fault_behind(17.432, 480, 3, 0.0052925 + 0.0034449j), 2)
        13.82
    """
    root = ROOT3 if phases == 3 else 1.0
    source_ohm = volts_v / (root * source_ka * 1000.0)
    return volts_v / (root * min(abs(complex(0.0, source_ohm) + run_ohm), abs(source_ohm + run_ohm))) / 1000.0
