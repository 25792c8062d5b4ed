"""Currents of one heater: a resistance, so Ohm's law at unity power factor."""

from __future__ import annotations

from enum import Enum
from math import sqrt

from batch.rules import Cited, RuleSet, cite

BAND_DIGITS = 9  # so that 504 V on 480 V is 5 % and not a binary hair above


class VoltsBand(Enum):
    """How far the volts applied to a heater are off its rating."""

    SAME = "the same nominal voltage"
    NEAR = "a little off"
    LOW = "low"
    HIGH = "high"
    OVER = "too high"


def rated_current(power_kw: float, volts_v: float, phases: int) -> float:
    """Line current of one heater at its rating.

    Equation
        I = P / V on one phase; I = P / (sqrt(3) V) on three, wye and delta alike

    Parameters
        power_kw: rated power [kW]
        volts_v: rated volts, line to line on three phases [V]
        phases: 1 or 3 [-]

    Returns
        line current [A]

    Reference
        Ohm's law; unity power factor of a resistance

    Example
        9.6 kW at 240 V, a published branch-circuit example: 40 A. 20 kW at 480 V on three phases: 24.06 A.

        >>> rated_current(9.6, 240, 1)
        40.0
        >>> round(rated_current(20, 480, 3), 2)
        24.06
    """
    amps = 1000.0 * power_kw / volts_v
    return amps / sqrt(3.0) if phases == 3 else amps


def applied_current(rated_a: float, applied_v: float, rated_v: float) -> float:
    """Running current of a heater at other volts than its rating.

    Equation
        I_applied = I (V_applied / V)

    Parameters
        rated_a: current at the rating [A]
        applied_v: volts across the heater [V]
        rated_v: rated volts [V]

    Returns
        running current [A]

    Reference
        Ohm's law for a fixed resistance

    Example
        1000 W rated at 240 V on 208 V, a published example of 751.1 W: 751.1 / 208 = 3.611 A.

        >>> round(applied_current(rated_current(1, 240, 1), 208, 240), 3)
        3.611
    """
    return rated_a * applied_v / rated_v


def same_nominal_volts(applied_v: float, rated_v: float, rules: RuleSet) -> Cited[bool]:
    """Whether two volts are the same nominal voltage.

    Equation
        |V_applied / V - 1| <= 2 %

    Parameters
        applied_v: volts across the heater [V]
        rated_v: rated volts [V]
        rules: the rule set, factor same_volts_band [-]

    Returns
        true within the band [-]

    Reference
        Common practice, no source

    Example
        The standard prints 480Y/277, a leg of 277.13 V: a 277 V heater is at its rating there, a 265 V one is not.

        >>> same_nominal_volts(480 / sqrt(3), 277, rules).value
        True
        >>> same_nominal_volts(480 / sqrt(3), 265, rules).value
        False
    """
    band = rules.factor("same_volts_band")
    return cite(round(abs(applied_v / rated_v - 1.0), BAND_DIGITS) <= band.value, band)


def design_current(rated_a: float, applied_v: float, rated_v: float, rules: RuleSet) -> Cited[float]:
    """Current that devices and conductors are chosen for: never below the nameplate's.

    Equation
        I_d = I within the same nominal voltage, else max(I, I V_applied / V)

    Parameters
        rated_a: current at the rating [A]
        applied_v: volts across the heater [V]
        rated_v: rated volts [V]
        rules: the rule set [-]

    Returns
        design current [A]

    Reference
        Ohm's law for a fixed resistance; the nameplate current as a floor is common practice

    Example
        1000 W rated 208 V on 240 V, published as 1331.4 W: 1331.4 / 240 = 5.547 A. On lower volts the nameplate's 4.808 A stay.

        >>> round(design_current(1000 / 208, 240, 208, rules).value, 3)
        5.547
        >>> round(design_current(1000 / 208, 120, 208, rules).value, 3)
        4.808
    """
    same = same_nominal_volts(applied_v, rated_v, rules)
    amps = rated_a if same.value else max(rated_a, applied_current(rated_a, applied_v, rated_v))
    return cite(amps, same, unit="A")


def running_current(rated_a: float, applied_v: float, rated_v: float, rules: RuleSet) -> Cited[float]:
    """Current that a heater draws while it runs: what voltage drop and delivered power go by.

    Equation
        I_run = I within the same nominal voltage, else I V_applied / V

    Parameters
        rated_a: current at the rating [A]
        applied_v: volts across the heater [V]
        rated_v: rated volts [V]
        rules: the rule set, factor same_volts_band [-]

    Returns
        running current [A]

    Reference
        Ohm's law for a fixed resistance; the band is common practice, no source

    Example
        9 kW rated 475 V on 480 V, 1.05 % off, worked by hand: its nameplate's 10.939 A. 1000 W rated 240 V on 208 V: 3.611 A.

        >>> round(running_current(rated_current(9, 475, 3), 480, 475, rules).value, 3)
        10.939
        >>> round(running_current(rated_current(1, 240, 1), 208, 240, rules).value, 3)
        3.611
    """
    same = same_nominal_volts(applied_v, rated_v, rules)
    return cite(rated_a if same.value else applied_current(rated_a, applied_v, rated_v), same, unit="A")


def delivered_power(power_kw: float, applied_v: float, rated_v: float, rules: RuleSet) -> Cited[float]:
    """Power that heats the bath: with the square of the volts.

    Equation
        P_applied = P (V_applied / V)^2; P itself within the same nominal voltage

    Parameters
        power_kw: rated power [kW]
        applied_v: volts across the heater [V]
        rated_v: rated volts [V]
        rules: the rule set [-]

    Returns
        power as applied [kW]

    Reference
        Joule's law for a fixed resistance

    Example
        Published: 1000 W at 240 V gives 751.1 W on 208 V and 4000 W on 480 V.

        >>> round(delivered_power(1, 208, 240, rules).value, 4)
        0.7511
        >>> delivered_power(1, 480, 240, rules).value
        4.0
    """
    same = same_nominal_volts(applied_v, rated_v, rules)
    return cite(power_kw if same.value else power_kw * (applied_v / rated_v) ** 2, same, unit="kW")


def volts_band(applied_v: float, rated_v: float, rules: RuleSet) -> Cited[VoltsBand]:
    """How the volts applied to a heater stand to its rating.

    Equation
        SAME to 2 % off; LOW under -10 %; NEAR to +5 %; HIGH to +10 %; OVER above

    Parameters
        applied_v: volts across the heater [V]
        rated_v: rated volts [V]
        rules: the rule set, factors low_note, high_caution, high_block [-]

    Returns
        the band [-]

    Reference
        {low_note}; {high_caution}; the last band common practice, no source

    Example
        Worked by hand: 432 and 504 V are 90 and 105 % of 480 V.

        >>> [volts_band(volts, 480, rules).value.name for volts in (480, 432, 504, 431, 505, 529)]
        ['SAME', 'NEAR', 'NEAR', 'LOW', 'HIGH', 'OVER']
    """
    same = same_nominal_volts(applied_v, rated_v, rules)
    if same.value:
        return cite(VoltsBand.SAME, same)
    off = round(applied_v / rated_v - 1.0, BAND_DIGITS)
    over, high, low = rules.factor("high_block"), rules.factor("high_caution"), rules.factor("low_note")
    if off > over.value:
        return cite(VoltsBand.OVER, over)
    if off > high.value:
        return cite(VoltsBand.HIGH, high)
    return cite(VoltsBand.LOW if off < low.value else VoltsBand.NEAR, low)
