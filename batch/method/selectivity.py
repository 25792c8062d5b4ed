"""Selectivity: whether a fault behind the smaller of two fuses leaves the one ahead of it whole."""

from __future__ import annotations

from batch.rules import Cited, RuleSet, cite

RATIO_DIGITS = 6


def fuse_stays_whole(ahead_a: float, behind_a: float, rules: RuleSet) -> Cited[bool]:
    """Whether a fuse stays whole at any fault that the fuse behind it clears, both of one utilization category.

    Equation
        I_n,ahead >= 1.6 I_n,behind, both as R10 rounds them: 25 A ahead of 16 A is 1.56, and counts

    Parameters
        ahead_a: rating of the fuse nearer to the source [A]
        behind_a: rating of the fuse behind it [A]
        rules: the rule set, factor fuse_selective [-]

    Returns
        true where it does [-]

    Reference
        {fuse_selective}

    Example
        From memory: next but one in the list of ratings is selective (25 to 16, 63 to 40, 160 to 100), the next is not (20 to 16).

        >>> [fuse_stays_whole(*pair, metric).value for pair in ((25, 16), (63, 40), (160, 100), (20, 16), (63, 63))]
        [True, True, True, False, False]
    """
    ratio = rules.factor("fuse_selective")
    return cite(round(ahead_a / behind_a, RATIO_DIGITS) >= ratio.value, ratio)
