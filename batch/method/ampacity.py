"""Ampacity of conductors: in the terminals' column, and in the insulation's own column corrected and adjusted."""

from __future__ import annotations

from batch.rules import Cited, RuleSet, cite

AMPS_CLOSE = 1e-6  # amps by which a load may exceed an ampacity before it counts


def terminal_ampacity(size: str, material: str, column_c: float, rules: RuleSet) -> Cited[float] | None:
    """Ampacity of one conductor in the column that its terminals allow: for the 125 %, before any correction.

    Equation
        cell of the table

    Parameters
        size: conductor size [AWG or kcmil]
        material: "copper" or "aluminum" [-]
        column_c: temperature column [°C]
        rules: the rule set, table ampacity [-]

    Returns
        ampacity [A]; None where the table has none

    Reference
        {table_ampacity}; {terminal_limits}

    Example
        The table prints 50 A for 8 AWG copper at 75 °C, 55 A for 6 AWG at 60 °C.

        >>> terminal_ampacity("8", "copper", 75, rules).value, terminal_ampacity("6", "copper", 60, rules).value
        (50.0, 55.0)
    """
    return rules.ampacity(size, material, column_c)


def ambient_correction(ambient_c: float, column_c: float, rules: RuleSet) -> Cited[float] | None:
    """Factor for air warmer or cooler than 30 °C.

    Equation
        cell of the table; a fraction of a degree goes to the hotter band

    Parameters
        ambient_c: air around the raceway [°C]
        column_c: temperature column of the insulation [°C]
        rules: the rule set, table ambient [-]

    Returns
        factor [-]; None above the table

    Reference
        {ampacity}; {table_ambient}

    Example
        The table prints 0.91 at 40 °C and 0.82 at 50 °C for 90 °C insulation.

        >>> ambient_correction(40, 90, rules).value, ambient_correction(48.9, 90, rules).value
        (0.91, 0.82)
    """
    return rules.ambient_factor(ambient_c, column_c)


def adjustment(current_carrying: int, circuits: int, rules: RuleSet) -> Cited[float]:
    """Factor for what shares one raceway: more than three current-carrying conductors, or more than one circuit, as the code counts.

    Equation
        1 to three conductors or one circuit, then the cell of the table

    Parameters
        current_carrying: current-carrying conductors in the raceway [-]
        circuits: circuits in the raceway [-]
        rules: the rule set, table adjustment [-]

    Returns
        factor [-]

    Reference
        {adjustment}; {table_adjustment}

    Example
        The table prints 80 % for 4 to 6 and 50 % for 10 to 20.

        >>> [adjustment(count, 1, rules).value for count in (3, 4, 10)]
        [1.0, 0.8, 0.5]
    """
    return rules.adjustment(current_carrying, circuits)


def corrected_ampacity(
    size: str, material: str, *, ambient_c: float, current_carrying: int, circuits: int, rules: RuleSet
) -> Cited[float] | None:
    """Ampacity of one conductor where it runs: its insulation's own column, corrected for the air and adjusted for its company.

    Equation
        I' = I (90 °C column) x ambient correction x adjustment

    Parameters
        size: conductor size [AWG or kcmil]
        material: "copper" or "aluminum" [-]
        ambient_c: air around the raceway [°C]
        current_carrying: current-carrying conductors in the raceway [-]
        circuits: circuits in the raceway [-]
        rules: the rule set, factor insulation_c [-]

    Returns
        ampacity [A]; None where the table has none

    Reference
        {ampacity}; {table_ambient}; {adjustment}

    Example
        Published: 6 AWG at 100 °F with four current-carrying conductors, 75 x 0.91 x 0.80 = 54.6 A; 10 AWG at 120 °F, 32.8 A.

        >>> round(corrected_ampacity("6", "copper", ambient_c=37.8, current_carrying=4, circuits=1, rules=rules).value, 1)
        54.6
        >>> round(corrected_ampacity("10", "copper", ambient_c=48.9, current_carrying=3, circuits=1, rules=rules).value, 1)
        32.8
    """
    column_c = rules.factor("insulation_c").value
    base, ambient = rules.ampacity(size, material, column_c), ambient_correction(ambient_c, column_c, rules)
    if base is None or ambient is None:
        return None
    company = adjustment(current_carrying, circuits, rules)
    return cite(base.value * ambient.value * company.value, base, ambient, company, unit="A")


def carries(load_a: float, ampacity_a: float, sets: int) -> bool:
    """Whether so many parallel conductors carry a load.

    Equation
        sets x ampacity >= load, within 1e-6 A

    Parameters
        load_a: load, or load with its 125 % where the terminals' column is asked [A]
        ampacity_a: ampacity of one conductor [A]
        sets: parallel sets [-]

    Returns
        true where it does [-]

    Reference
        {continuous_branch}; {feeder_conductors}

    Example
        Published: 118.75 A on 1 AWG (130 A at 75 °C); 2 AWG has 115 A.

        >>> carries(118.75, 130, 1), carries(118.75, 115, 1)
        (True, False)
    """
    return sets * ampacity_a >= load_a - AMPS_CLOSE


def parallel_from(rules: RuleSet) -> Cited[str]:
    """Smallest conductor that may run in parallel sets.

    Equation
        1/0

    Parameters
        rules: the rule set, factor parallel_from [-]

    Returns
        size [AWG or kcmil]

    Reference
        {parallel}

    Example
        The clause prints 1/0 AWG.

        >>> parallel_from(rules).value
        '1/0'
    """
    return rules.named_size("parallel_from")
