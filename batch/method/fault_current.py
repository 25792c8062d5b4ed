"""What conductors add to the impedance of a fault. The kinds of fault themselves are in `source_fault`."""

from __future__ import annotations

from batch.rules import Cited, RuleSet, cite


def conductor_impedance(*, size: str, sets: int, length_m: float, material: str, raceway: str, rules: RuleSet) -> Cited[complex]:
    """Impedance that one conductor of a run adds to a fault, cold. Which conductors the fault goes through is the kind of fault's matter.

    Equation
        Z_c = (0.838 R + jX) L / (sets c), by the voltage factor c where the code has one, so that the nominal volts drive what c times them
        would drive through the whole; a size that the table lacks takes the next larger one's, with less impedance

    Parameters
        size: conductor size [AWG or kcmil]
        sets: parallel sets [-]
        length_m: length of the run [m]
        material: "copper" or "aluminum" [-]
        raceway: kind of raceway [-]
        rules: the rule set, table impedance, factors r_25c_over_75c, fault_voltage [-]

    Returns
        impedance [ohm]

    Reference
        {table_impedance} at its temperature; colder: {r_25c_over_75c}; {fault_voltage}

    Example
        The table prints R = 0.062 and X = 0.041 ohm/kft for 4/0 copper in PVC; worked by hand for 5 m: 0.000852 + j0.000673 ohm.

        >>> given = dict(size="4/0", sets=1, length_m=5, material="copper", raceway="PVC-80", rules=rules)
        >>> ohms = conductor_impedance(**given).value
        >>> round(ohms.real, 6), round(ohms.imag, 6)
        (0.000852, 0.000673)

        Of 10 mm2, 10 m, by a factor of 1.1: (0.8 x 2.25 + j 0.08) x 0.010 / 1.1 = 0.01636 + j 0.00073 ohm.

        >>> ohms = conductor_impedance(size="10 mm²", sets=1, length_m=10, material="copper", raceway="conduit", rules=metric).value
        >>> round(ohms.real, 5), round(ohms.imag, 5)
        (0.01636, 0.00073)
    """
    cold, share = rules.factor("r_25c_over_75c"), rules.factor("fault_voltage")
    for listed in rules.sizes[rules.rank(size) :]:
        resistance, reactance = rules.ac_resistance(listed, material, raceway), rules.ac_reactance(listed, raceway)
        if resistance is not None and reactance is not None:
            ohm = complex(resistance.value * cold.value, reactance.value) * length_m / 1000.0 / sets / share.value
            return cite(ohm, resistance, cold, share, unit="ohm")
    return cite(0j, cold, unit="ohm")
