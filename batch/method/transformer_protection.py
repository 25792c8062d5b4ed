"""Overcurrent protection of a transformer up to 1000 V: its primary device alone, or with a secondary one."""

from __future__ import annotations

from batch.rules import Cited, RuleSet, cite


def primary_alone(primary_a: float, kind: str, rules: RuleSet) -> Cited[float]:
    """Greatest primary device that protects a unit by itself.

    Equation
        1.25 I_1, and up to the next standard rating; from 2 to 9 A 1.67 I_1, below 2 A 3 I_1, none of them up

    Parameters
        primary_a: rated primary current I_1 [A]
        kind: "fuse" or "breaker" [-]
        rules: the rule set, factors transformer_* [-]

    Returns
        rating [A]

    Reference
        NFPA 70-2023, Table 450.3(B), Note 1

    Example
        Worked by hand: 75 kVA at 480 V, 90.211 A: 112.764, next standard 125 A.

        >>> primary_alone(90.211, "fuse", rules).value
        125.0
    """
    return _greatest(primary_a, kind, rules)


def primary_with_secondary(primary_a: float, rules: RuleSet) -> Cited[float]:
    """Greatest primary device of a unit that has secondary devices as well.

    Equation
        2.5 I_1, not up to the next rating

    Parameters
        primary_a: rated primary current I_1 [A]
        rules: the rule set, factor transformer_both [-]

    Returns
        rating [A]

    Reference
        NFPA 70-2023, Table 450.3(B)

    Example
        Worked by hand: 2.5 x 90.211 = 225.527 A.

        >>> round(primary_with_secondary(90.2109, rules).value, 3)
        225.527
    """
    share = rules.factor("transformer_both")
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
        NFPA 70-2023, Table 450.3(B); several devices by their sum: Note 2 (from memory)

    Example
        Worked by hand: 208.179 A: 260.224, next standard 300 A.

        >>> secondary_sum(208.179, "fuse", rules).value
        300.0
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
