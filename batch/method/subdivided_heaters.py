"""Subdivided heaters: what one element circuit may draw, and what may stand ahead of it."""

from __future__ import annotations

from math import ceil

from batch.method.overcurrent import continuous_factor
from batch.rules import AMPS_DIGITS, Cited, RuleSet, cite

PARTS_DIGITS = 9  # so that three times the limit are three circuits and not a binary hair more


def largest_element_load(margin_pct: float, rules: RuleSet) -> Cited[float]:
    """The most that one element circuit may draw.

    Equation
        min(48 A, 60 A / (1 + margin)): with 25 % both are 48 A

    Parameters
        margin_pct: the project's margin on continuous loads [%]
        rules: the rule set, factors subdivide_a, subdivided_device_a [-]

    Returns
        limit of one circuit [A]

    Reference
        {subdivision}

    Example
        The clause prints 48 and 60 A. With a margin of 50 %, worked by hand: 60 / 1.5 = 40 A.

        >>> largest_element_load(25, rules).value
        48
        >>> largest_element_load(50, rules).value
        40.0
    """
    load, device = rules.factor("subdivide_a"), largest_device(rules)
    return cite(min(load.value, device.value / continuous_factor(margin_pct, rules).value), load, device, unit="A")


def largest_device(rules: RuleSet) -> Cited[float]:
    """Maximum overcurrent device ahead of resistance elements.

    Equation
        60 A

    Parameters
        rules: the rule set, factor subdivided_device_a [-]

    Returns
        rating [A]

    Reference
        {subdivision}

    Example
        The clause prints 60 A.

        >>> largest_device(rules).value
        60
    """
    return rules.factor("subdivided_device_a")


def circuits_needed(design_a: float, margin_pct: float, rules: RuleSet) -> Cited[int]:
    """Element circuits that a heater must be built with.

    Equation
        n = ceil(I_d / limit), both rounded to 1e-6 A, as the device ahead of a circuit is compared

    Parameters
        design_a: design current of the heater [A]
        margin_pct: the project's margin on continuous loads [%]
        rules: the rule set [-]

    Returns
        circuits, 1 up to the limit [-]

    Reference
        {subdivision}

    Example
        48 A stay one circuit, and 48.00001 A, for which 1.25 x asks more than 60 A, take two. A published 52 A heater takes two: its page
        leaves the clause out.

        >>> [circuits_needed(amps, 25, rules).value for amps in (48, 48.0000001, 48.00001, 52, 96, 100)]
        [1, 1, 2, 2, 2, 3]
    """
    limit = largest_element_load(margin_pct, rules)
    parts = round(design_a, AMPS_DIGITS) / round(limit.value, AMPS_DIGITS)
    return cite(max(1, ceil(round(parts, PARTS_DIGITS))), limit)


def largest_bank_load(heaters: int, margin_pct: float, rules: RuleSet) -> Cited[float]:
    """Largest line current of a bank that one device protects as a whole.

    Equation
        one heater: the limit of its elements; several: that, and the largest device for several heaters / (1 + margin)

    Parameters
        heaters: heaters of the bank [-]
        margin_pct: the project's margin on continuous loads [%]
        rules: the rule set, list single_circuit_ratings [-]

    Returns
        current [A]

    Reference
        {subdivision}; {several_outlets}

    Example
        Worked by hand: 60 A / 1.25 either way.

        >>> largest_bank_load(1, 25, rules).value, largest_bank_load(4, 25, rules).value
        (48, 48)
    """
    limit = largest_element_load(margin_pct, rules)
    if heaters == 1:
        return limit
    most_a = rules.single_circuit_ratings()[-1] / continuous_factor(margin_pct, rules).value
    return limit if limit.value <= most_a else cite(most_a, rules.named_list("single_circuit_ratings"), unit="A")


def exceeds_bank_load(amps: float, heaters: int, margin_pct: float, rules: RuleSet) -> Cited[bool]:
    """Whether a line of a bank draws more than one device for the whole bank may serve.

    Equation
        I > limit, both rounded to 1e-6 A

    Parameters
        amps: design current of the fullest line [A]
        heaters: heaters of the bank [-]
        margin_pct: the project's margin on continuous loads [%]
        rules: the rule set [-]

    Returns
        true above the limit [-]

    Reference
        {subdivision}; {several_outlets}

    Example
        Worked by hand: 60 A / 1.25 = 48 A.

        >>> [exceeds_bank_load(amps, 3, 25, rules).value for amps in (47.9, 48.0000001, 48.1)]
        [False, False, True]
    """
    limit = largest_bank_load(heaters, margin_pct, rules)
    return cite(round(amps, AMPS_DIGITS) > round(limit.value, AMPS_DIGITS), limit)
