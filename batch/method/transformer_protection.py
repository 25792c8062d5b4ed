"""Overcurrent protection of a transformer: its primary device alone, which serves up to 1000 V, or with secondary ones."""

from __future__ import annotations

from batch.rules import Cited, RuleSet, cite


def primary_alone(primary_a: float, primary_v: float, kind: str, rules: RuleSet) -> Cited[float] | None:
    """Greatest primary device that protects a unit by itself.

    Equation
        1.25 I_1, and up to the next standard rating; from 2 to 9 A 1.67 I_1, below 2 A 3 I_1, none of them up; none over 1000 V

    Parameters
        primary_a: rated primary current I_1 [A]
        primary_v: primary volts [V]
        kind: "fuse" or "breaker" [-]
        rules: the rule set, factors transformer_* [-]

    Returns
        rating [A]; None where its secondary needs devices whatever the primary one is

    Reference
        {transformer_alone}; {transformer_both_high} (from memory)

    Example
        Worked by hand: 75 kVA at 480 V, 90.211 A: 112.764, next standard 125 A.

        >>> primary_alone(90.211, 480, "fuse", rules).value, primary_alone(3.471, 12470, "fuse", rules)
        (125.0, None)
        >>> primary_alone(90.211, 1000, "fuse", rules).value
        125.0

        The table's steps: 9 A x 1.25 = 11.25, next standard 15 A; 8.9 x 1.67 = 14.863; 2 x 1.67 = 3.34; 1.9 x 3 = 5.7.

        >>> [round(primary_alone(amps, 480, "fuse", rules).value, 3) for amps in (9, 8.9, 2, 1.9)]
        [15.0, 14.863, 3.34, 5.7]
    """
    if primary_v > rules.factor("transformer_low_v").value:
        return None
    return _greatest(primary_a, kind, rules)


def primary_with_secondary(primary_a: float, primary_v: float, rules: RuleSet) -> Cited[float]:
    """Greatest primary device of a unit that has secondary devices as well.

    Equation
        2.5 I_1, not up to the next rating; over 1000 V 3 I_1, of a fuse, which is less than a breaker's

    Parameters
        primary_a: rated primary current I_1 [A]
        primary_v: primary volts [V]
        rules: the rule set, factors transformer_both, transformer_both_high, transformer_low_v [-]

    Returns
        rating [A]

    Reference
        {transformer_both}; {transformer_both_high} (from memory)

    Example
        Worked by hand: 2.5 x 90.211 = 225.527 A; 500 kVA at 4160 V, 69.393 A: 208.179 A.

        >>> round(primary_with_secondary(90.2109, 480, rules).value, 3), round(primary_with_secondary(69.393, 4160, rules).value, 3)
        (225.527, 208.179)
    """
    share = rules.factor("transformer_both_high" if primary_v > rules.factor("transformer_low_v").value else "transformer_both")
    return cite(share.value * primary_a, share, unit="A")


def secondary_sum(secondary_a: float, kind: str, rules: RuleSet) -> Cited[float]:
    """Greatest sum of the secondary devices of a unit whose primary device does not protect it by itself.

    Equation
        1.25 I_r, and up to the next standard rating; below 9 A 1.67 I_r

    Parameters
        secondary_a: rated secondary current I_r [A]
        kind: "fuse" or "breaker" [-]
        rules: the rule set, factors transformer_* [-]

    Returns
        rating [A]

    Reference
        {transformer_both}; several devices by their sum: {transformer_secondary_devices} (from memory)

    Example
        Worked by hand: 208.179 A: 260.224, next standard 300 A.

        >>> secondary_sum(208.179, "fuse", rules).value
        300.0
        >>> [round(secondary_sum(amps, "fuse", rules).value, 3) for amps in (9, 8.9)]
        [15.0, 14.863]
    """
    small = rules.factor("transformer_small_a")
    if secondary_a < small.value:
        share = rules.factor("transformer_small")
        return cite(share.value * secondary_a, share, unit="A")
    return _greatest(secondary_a, kind, rules)


def _greatest(amps: float, kind: str, rules: RuleSet) -> Cited[float]:
    for limit, name in (("transformer_smallest_a", "transformer_smallest"), ("transformer_small_a", "transformer_small")):
        if amps < rules.factor(limit).value:
            share = rules.factor(name)
            return cite(share.value * amps, share, unit="A")
    share = rules.factor("transformer_alone")
    most = share.value * amps
    up = rules.next_rating(most, kind)
    return cite(most if up is None else up.value, share, unit="A")
