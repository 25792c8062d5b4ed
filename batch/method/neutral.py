"""Neutrals: what they must carry, and when they count as current-carrying."""

from __future__ import annotations

from batch.method.line_currents import Loads
from batch.rules import Cited, RuleSet, cite

MILLI = 1000.0


def neutral_load(loads: Loads, rules: RuleSet) -> Cited[float]:
    """Load that a neutral is sized for: the greatest load between it and one line, not what the phasors leave on it.

    Equation
        max(a, b, c)

    Parameters
        loads: amps line to line and line to neutral [A]
        rules: the rule set, clause neutral [-]

    Returns
        load [A]; 0 where nothing hangs on the neutral

    Reference
        {neutral}

    Example
        Legs of 20, 10 and 10 A: 20 A by the clause; the phasors leave 10 A.

        >>> neutral_load(Loads(a=20, b=10, c=10), rules).value
        20
    """
    return cite(max(loads.a, loads.b, loads.c), rules.clause("neutral"), unit="A")


def current_carrying(lines: int, neutral: bool, phases: int, rules: RuleSet) -> Cited[int]:
    """Current-carrying conductors of one circuit, for the adjustment of more than three.

    Equation
        2 for two wires; 3 for two lines and the neutral of a wye; 3 for three lines, their neutral carrying only the unbalance

    Parameters
        lines: ungrounded conductors [-]
        neutral: whether there is a neutral [-]
        phases: phases of the supply, 1 or 3 [-]
        rules: the rule set, factors carrying_two_wire, carrying_two_lines_and_neutral, carrying_three_phase [-]

    Returns
        conductors that count [-]

    Reference
        {current_carrying}

    Example
        The clause: two lines and neutral of a 4-wire wye count three; the 3-wire one-phase circuit counts two.

        >>> current_carrying(2, True, 3, rules).value, current_carrying(2, True, 1, rules).value, current_carrying(3, True, 3, rules).value
        (3, 2, 3)
    """
    if lines == 3:
        counted = rules.factor("carrying_three_phase")
    else:
        wye_leg = neutral and lines == 2 and phases == 3
        counted = rules.factor("carrying_two_lines_and_neutral" if wye_leg else "carrying_two_wire")
    return cite(int(counted.value), counted)


def neutral_guarded(residual_ma: float, carries_a: float, rules: RuleSet) -> Cited[bool]:
    """Whether a residual-current device stands in for overcurrent protection of a neutral that leaves an isolated supply.

    Equation
        I_dn <= 0.2 I_z

    Parameters
        residual_ma: rated residual current of the device, which opens the neutral too [mA]
        carries_a: what the neutral carries, or a device that protects it by its rating [A]
        rules: the rule set, factor neutral_residual_share [-]

    Returns
        true where it does [-]

    Reference
        {neutral_guarded}

    Example
        Worked by hand: 20 % of 20 A is 4 A; 300 mA is less, 5 A is not.

        >>> neutral_guarded(300, 20, metric).value, neutral_guarded(5000, 20, metric).value
        (True, False)
    """
    share = rules.factor("neutral_residual_share")
    return cite(residual_ma / MILLI <= share.value * carries_a, share)
