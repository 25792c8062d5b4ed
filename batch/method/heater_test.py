"""What a meter should read: the figures of a test record, heater by heater and line by line."""

from __future__ import annotations

from math import inf
from typing import NamedTuple

from batch.rules import Cited, RuleSet, cite


class Band(NamedTuple):
    low: float
    nominal: float
    high: float


def heater_resistance(power_w: float, volts_v: float, phases: int, rules: RuleSet) -> Cited[Band]:
    """Resistance of one heater between its leads, and the band that its power may stray in.

    Equation
        R = V^2 / P; line to line of a 3-phase heater 2 V^2 / P, wye or delta inside; low R / 1.05, high R / 0.9

    Parameters
        power_w: nameplate power [W]
        volts_v: nameplate volts [V]
        phases: 1 or 3 [-]
        rules: the rule set, factors power_over, power_under [-]

    Returns
        lowest, nominal and highest resistance [ohm]

    Reference
        Ohm's law; power within +5 and -10 %: {power_over} (from memory)

    Example
        Worked by hand: 3 kW at 480 V, 73.14 / 76.80 / 85.33 ohm; 12 kW on three phases 36.57 / 38.40 / 42.67 line to line.

        >>> [round(ohms, 2) for ohms in heater_resistance(3000, 480, 1, rules).value]
        [73.14, 76.8, 85.33]
        >>> [round(ohms, 2) for ohms in heater_resistance(12000, 480, 3, rules).value]
        [36.57, 38.4, 42.67]
    """
    over, under = rules.factor("power_over"), rules.factor("power_under")
    ohms = (2.0 if phases == 3 else 1.0) * volts_v**2 / power_w
    return cite(Band(ohms / over.value, ohms, ohms / under.value), over, under, unit="ohm")


def amps_band(amps: float, rules: RuleSet, measured_v: float = 1.0, nominal_v: float = 1.0) -> Cited[Band]:
    """Current that a clamp should read, where the volts are measured with it.

    Equation
        0.9 I to 1.05 I, times V measured / V

    Parameters
        amps: current at the nominal volts [A]
        rules: the rule set, factors power_over, power_under [-]
        measured_v: volts measured [V]
        nominal_v: volts that the current stands for [V]

    Returns
        lowest, nominal and highest current [A]

    Reference
        Ohm's law; power within +5 and -10 %: {power_over} (from memory)

    Example
        Worked by hand: 6.25 A at 480 V: 5.625 to 6.5625 A; measured 462 V: 6.016 A.

        >>> [round(amps, 3) for amps in amps_band(6.25, rules).value]
        [5.625, 6.25, 6.562]
        >>> round(amps_band(6.25, rules, 462, 480).value.nominal, 3)
        6.016
    """
    over, under = rules.factor("power_over"), rules.factor("power_under")
    here = amps * measured_v / nominal_v
    return cite(Band(under.value * here, here, over.value * here), under, over, unit="A")


def joined_resistances(ab_ohm: float, bc_ohm: float, ca_ohm: float) -> tuple[float, float, float]:
    """What a meter reads between the lines of a panel with all its heaters joined; inf where a pair has none.

    Equation
        R_AB = 1 / (G_AB + G_BC G_CA / (G_BC + G_CA)), the others by rotation

    Parameters
        ab_ohm: heaters on A-B in parallel [ohm]
        bc_ohm: heaters on B-C in parallel [ohm]
        ca_ohm: heaters on C-A in parallel [ohm]

    Returns
        between A and B, B and C, C and A [ohm]

    Reference
        Kirchhoff's laws

    Example
        Worked by hand: two 76.8 ohm on each pair, 25.60; with one of A-B out, 38.40 and twice 28.80 (by the third pair as well).

        >>> [round(ohms, 2) for ohms in joined_resistances(38.4, 38.4, 38.4)]
        [25.6, 25.6, 25.6]
        >>> [round(ohms, 2) for ohms in joined_resistances(76.8, 38.4, 38.4)]
        [38.4, 28.8, 28.8]
    """
    ab, bc, ca = (0.0 if ohms == inf else 1.0 / ohms for ohms in (ab_ohm, bc_ohm, ca_ohm))
    return _seen(ab, bc, ca), _seen(bc, ca, ab), _seen(ca, ab, bc)


def _seen(own: float, one: float, other: float) -> float:
    around = one * other / (one + other) if one + other else 0.0
    return 1.0 / (own + around) if own + around else inf


def wye_as_delta(a_ohm: float, b_ohm: float, c_ohm: float) -> tuple[float, float, float]:
    """A wye of three heaters as the delta that a meter cannot tell from it; a leg that is out is inf.

    Equation
        G_AB = G_A G_B / (G_A + G_B + G_C), the others by rotation

    Parameters
        a_ohm: leg A [ohm]
        b_ohm: leg B [ohm]
        c_ohm: leg C [ohm]

    Returns
        on A-B, B-C, C-A; inf where nothing joins the pair [ohm]

    Reference
        Wye-delta transformation

    Example
        Worked by hand: three legs of 15.346 ohm stand for three pairs of 46.04.

        >>> [round(ohms, 2) for ohms in wye_as_delta(15.346, 15.346, 15.346)]
        [46.04, 46.04, 46.04]
    """
    a, b, c = (0.0 if ohms == inf else 1.0 / ohms for ohms in (a_ohm, b_ohm, c_ohm))
    total = a + b + c
    pairs = (a * b, b * c, c * a)
    return tuple(total / pair if pair else inf for pair in pairs)  # type: ignore[return-value]  # three pairs, three numbers


def lead_resistance(size: str, material: str, length_m: float, rules: RuleSet) -> Cited[float] | None:
    """Resistance of one cold conductor between a panel and a heater; None for a size that the table lacks.

    Equation
        r L, cold: r_25 = 0.838 r_75

    Parameters
        size: conductor size [-]
        material: "copper" or "aluminum" [-]
        length_m: length [m]
        rules: the rule set, table conductor_properties, factor dc_cold [-]

    Returns
        resistance [ohm]

    Reference
        {table_conductor_properties}; {dc_cold}

    Example
        Worked by hand: 8 AWG, 0.778 ohm/kft, 60 ft: 0.0391 ohm a lead, 0.0782 out and back.

        >>> round(2 * lead_resistance("8", "copper", 60 * 0.3048, rules).value, 4)
        0.0782
    """
    ohms, cold = rules.dc_resistance(size, material), rules.factor("dc_cold")
    if ohms is None:
        return None
    return cite(ohms.value * cold.value * length_m / 1000.0, ohms, cold, unit="ohm")


def bond_limit(grounding_ohm: float | None, rules: RuleSet) -> Cited[float]:
    """What a meter may read at most from a heater's sheath, or the tank, to the ground bar.

    Equation
        r L + 0.1 ohm of the grounding conductor; 0.5 ohm where its length is not known

    Parameters
        grounding_ohm: resistance of the grounding conductor, None where it is not known [ohm]
        rules: the rule set, factors bond_contacts_ohm, bond_unknown_ohm [-]

    Returns
        highest reading [ohm]

    Reference
        Common practice, no source

    Example
        Worked by hand: 10 AWG, 1.24 ohm/kft, 60 ft: 0.0623 and 0.1 ohm.

        >>> round(bond_limit(lead_resistance("10", "copper", 60 * 0.3048, rules).value, rules).value, 3)
        0.162
        >>> bond_limit(None, rules).value
        0.5
    """
    if grounding_ohm is None:
        return rules.factor("bond_unknown_ohm")
    contacts = rules.factor("bond_contacts_ohm")
    return cite(grounding_ohm + contacts.value, contacts, unit="ohm")


def insulation_test(volts_v: float, rules: RuleSet) -> Cited[float]:
    """Direct volts at which the insulation of a circuit and of its heaters is tested.

    Equation
        500 V; 1000 V where the circuit has more than 500 V

    Parameters
        volts_v: nominal volts of the supply [V]
        rules: the rule set, factors insulation_test_v, insulation_test_above_v, insulation_test_high_v [-]

    Returns
        volts of the test [V]

    Reference
        {insulation_test_v}; above 500 V {insulation_test_high_v} (from memory)

    Example
        The table has 500 V up to and with 500 V, 1000 V above.

        >>> [insulation_test(volts, metric).value for volts in (400, 500, 690)]
        [500, 500, 1000]
        >>> [insulation_test(volts, rules).value for volts in (480, 600)]
        [500, 1000]
    """
    above = rules.factor("insulation_test_above_v")
    return rules.factor("insulation_test_high_v" if volts_v > above.value else "insulation_test_v")
