"""Residual-current devices: when they open, what earth electrode serves them, what leakage they bear."""

from __future__ import annotations

from batch.rules import Cited, RuleSet, cite


def residual_current(trip_ma: float, rules: RuleSet) -> Cited[float]:
    """Current at which a residual-current device opens at once.

    Equation
        I = 5 I_dn

    Parameters
        trip_ma: rated residual current [mA]
        rules: the rule set, factor residual_multiple [-]

    Returns
        current [A]

    Reference
        {residual_multiple}: 0.04 s at 5 I_dn

    Example
        Worked by hand: five times 0.3 A.

        >>> residual_current(300, metric).value
        1.5
    """
    multiple = rules.factor("residual_multiple")
    return cite(multiple.value * trip_ma / 1000.0, multiple, unit="A")


def largest_electrode(trip_ma: float, rules: RuleSet) -> Cited[float]:
    """Greatest resistance of the earth electrode and its protective conductor in a TT system.

    Equation
        R_A <= 50 V / I_dn

    Parameters
        trip_ma: rated residual current [mA]
        rules: the rule set, factor touch_voltage_v [-]

    Returns
        resistance [ohm]

    Reference
        {fault_protection_tt}

    Example
        Worked by hand: 50 V / 0.03 A and 50 V / 0.3 A.

        >>> [round(largest_electrode(trip, metric).value, 1) for trip in (30, 300)]
        [1666.7, 166.7]
    """
    touch = rules.factor("touch_voltage_v")
    return cite(touch.value / (trip_ma / 1000.0), touch, unit="ohm")


def planned_leakage(kw: float, rules: RuleSet) -> Cited[float]:
    """Leakage to expect of warm, dry heaters, for planning.

    Equation
        I = 0.75 mA/kW P

    Parameters
        kw: rated power behind one residual-current device [kW]
        rules: the rule set, factor leakage_ma_kw [-]

    Returns
        leakage [mA]

    Reference
        {leakage_ma_kw}

    Example
        Worked by hand: 12 kW behind 30 mA, 120 kW behind 300 mA fill 0.3 of it.

        >>> [planned_leakage(kw, metric).value for kw in (12, 120)]
        [9.0, 90.0]
    """
    each = rules.factor("leakage_ma_kw")
    return cite(each.value * kw, each, unit="mA")


def leakage_allowed(trip_ma: float, rules: RuleSet) -> Cited[float]:
    """Standing leakage that a residual-current device bears without opening for nothing.

    Equation
        I <= 0.3 I_dn

    Parameters
        trip_ma: rated residual current [mA]
        rules: the rule set, factor leakage_share [-]

    Returns
        leakage [mA]

    Reference
        {leakage_share}

    Example
        Worked by hand: 0.3 of 30 mA and of 300 mA.

        >>> [leakage_allowed(trip, metric).value for trip in (30, 300)]
        [9.0, 90.0]
    """
    share = rules.factor("leakage_share")
    return cite(share.value * trip_ma, share, unit="mA")
