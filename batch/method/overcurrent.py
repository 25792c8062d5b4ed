"""Overcurrent devices: 125 % of a continuous load, standard ratings, and which device protects a conductor."""

from __future__ import annotations

from math import floor

from batch.rules import AMPS_DIGITS, Cited, RuleSet, cite

WHOLE_AMP = 1e-9  # so that 50 A do not become 49 by a binary hair


def continuous_factor(margin_pct: float, rules: RuleSet) -> Cited[float]:
    """The factor on a continuous load. It stands in this function and nowhere else.

    Equation
        max(1.25, 1 + margin / 100): the code's 125 % is a floor that no margin goes under

    Parameters
        margin_pct: the project's margin [%]
        rules: the rule set, factor continuous [-]

    Returns
        factor [-]

    Reference
        {heating_continuous}

    Example
        The clause prints 125 %.

        >>> [continuous_factor(margin, rules).value for margin in (25, 0, 30)]
        [1.25, 1.25, 1.3]
    """
    code = rules.factor("continuous")
    return cite(max(code.value, 1.0 + margin_pct / 100.0), code)


def minimum_branch_rating(load_a: float, margin_pct: float, rules: RuleSet) -> Cited[float]:
    """Least rating of a branch circuit's device, and least ampacity of its conductors before correction.

    Equation
        I_min = 1.25 I_d

    Parameters
        load_a: design current [A]
        margin_pct: the project's margin on continuous loads [%]
        rules: the rule set, clause continuous_branch [-]

    Returns
        least rating [A]

    Reference
        {continuous_branch}

    Example
        Published: 43 A of heater and blower x 1.25 = 53.75 A.

        >>> minimum_branch_rating(43, 25, rules).value
        53.75
    """
    factor = continuous_factor(margin_pct, rules)
    return cite(load_a * factor.value, factor, rules.clause("continuous_branch"), unit="A")


def minimum_feeder_rating(load_a: float, margin_pct: float, rules: RuleSet) -> Cited[float]:
    """Least rating of a feeder's device, and least ampacity of its conductors before correction.

    Equation
        I_min = 1.25 I_max, once: never on top of a margin already in I_max

    Parameters
        load_a: design current of the fullest line [A]
        margin_pct: the project's margin on continuous loads [%]
        rules: the rule set, clause continuous_feeder [-]

    Returns
        least rating [A]

    Reference
        {continuous_feeder}

    Example
        Published: 95 A continuous, 118.75 A, rounded there to 119 A.

        >>> minimum_feeder_rating(95, 25, rules).value
        118.75
    """
    factor = continuous_factor(margin_pct, rules)
    return cite(load_a * factor.value, factor, rules.clause("continuous_feeder"), unit="A")


def standard_rating(required_a: float, kind: str, smallest_a: float, rules: RuleSet) -> Cited[float] | None:
    """Smallest standard rating that serves.

    Equation
        least rating of the list with rating >= max(required, smallest), compared at 1e-6 A

    Parameters
        required_a: least rating [A]
        kind: "fuse" or "breaker" [-]
        smallest_a: smallest rating that the project uses [A]
        rules: the rule set, table ratings [-]

    Returns
        rating [A]; None above the list

    Reference
        {standard_ratings}

    Example
        Published: 53.75 A takes 60 A, 119 A takes 125 A. 16 A x 1.25 is 20 A, never 25 A.

        >>> [standard_rating(amps, "fuse", 15, rules).value for amps in (53.75, 119, 16 * 1.25, 48.000000001 * 1.25, 8)]
        [60.0, 125.0, 20.0, 60.0, 15.0]
    """
    return rules.next_rating(required_a, kind, smallest_a)


def is_standard_rating(rating_a: float, kind: str, rules: RuleSet) -> Cited[bool]:
    """Whether a rating is a standard one.

    Equation
        rating is in the list

    Parameters
        rating_a: rating [A]
        kind: "fuse" or "breaker" [-]
        rules: the rule set, table ratings [-]

    Returns
        true for a standard rating [-]

    Reference
        {standard_ratings}

    Example
        The clause prints 601 A as a fuse, though none is chosen of it, and no 55 A.

        >>> [is_standard_rating(amps, "fuse", rules).value for amps in (60, 601, 55)]
        [True, True, False]
    """
    return cite(rules.is_standard(rating_a, kind), rules.clause("standard_ratings"))


def largest_taken_as_meant(smallest_a: float, kind: str, rules: RuleSet) -> Cited[float]:
    """The largest rating, given or in stock, that is still taken without a question for one that serves.

    Equation
        so many standard sizes above the smallest that serves: one

    Parameters
        smallest_a: smallest standard rating that serves [A]
        kind: "fuse" or "breaker" [-]
        rules: the rule set, factor oversize_steps [-]

    Returns
        rating [A]

    Reference
        Common practice, no source; the sizes are those of {standard_ratings}

    Example
        The list prints 50, 60, 70.

        >>> largest_taken_as_meant(50, "fuse", rules).value
        60.0
    """
    steps = rules.factor("oversize_steps")
    above = [rating for rating in rules.standard_ratings(kind) if rating > smallest_a]
    return cite(above[int(steps.value) - 1] if len(above) >= steps.value else smallest_a, steps, unit="A")


def common_rating(rating_a: float, rules: RuleSet) -> Cited[float] | None:
    """Device for several heaters on one circuit.

    Equation
        least of 15, 20, 30, 40, 50, 60 A with rating >= needed; above 50 A, and where it is large for one heater, with a caution

    Parameters
        rating_a: smallest standard rating that serves the load [A]
        rules: the rule set, list single_circuit_ratings [-]

    Returns
        rating [A]; None above the list

    Reference
        {several_outlets}

    Example
        The clause prints for branch circuits of several outlets 15, 20, 30, 40 and 50 A: 25 A becomes 30, 45 becomes 50.

        >>> [common_rating(rating, rules).value for rating in (25, 45, 60)]
        [30.0, 50.0, 60.0]
    """
    least = round(rating_a, AMPS_DIGITS)
    found = next((rating for rating in rules.single_circuit_ratings() if rating >= least), None)
    return None if found is None else cite(found, rules.named_list("single_circuit_ratings"), unit="A")


def small_conductor_allows(device_a: float, size: str, sets: int, material: str, rules: RuleSet) -> Cited[bool]:
    """Whether a small conductor may stand behind a device, whatever its ampacity.

    Equation
        device <= 15 A for 14 AWG, 20 A for 12 AWG, 30 A for 10 AWG copper; 15 A and 25 A for 12 and 10 AWG aluminum

    Parameters
        device_a: rating of the device [A]
        size: conductor size [AWG or kcmil]
        sets: parallel sets [-]
        material: "copper" or "aluminum" [-]
        rules: the rule set, table small_conductors [-]

    Returns
        true where the device is within the limit, or the size has none [-]

    Reference
        {small_conductors}

    Example
        The clause prints 30 A for 10 AWG copper, though the 90 °C column gives it 40 A.

        >>> [small_conductor_allows(device, "10", 1, "copper", rules).value for device in (30, 35)]
        [True, False]
    """
    limit = rules.small_conductor_limit(size, material)
    if limit is None or sets > 1:
        return cite(True, rules.clause("small_conductors"))
    return cite(device_a <= limit.value, limit)


def overload_share(device_a: float, kind: str, rules: RuleSet) -> Cited[float]:
    """What a device lets a conductor carry for long, as a multiple of its rating, over the 1.45 that a conductor is allowed.

    Equation
        k3 = k2 / 1.45 of a fuse; 1 of a breaker, and of either where the code compares ratings as they are

    Parameters
        device_a: rating of the device [A]
        kind: "fuse" or "breaker" [-]
        rules: the rule set, factors fuse_overload, fuse_overload_small, fuse_overload_small_a [-]

    Returns
        share [-]

    Reference
        {fuse_overload}; {overcurrent_protection}

    Example
        A code that compares ratings as they are has 1. Worked by hand for a gG fuse from 16 A: 1.6 / 1.45 = 1.10345, taken up.

        >>> overload_share(20, "fuse", rules).value, overload_share(20, "breaker", rules).value
        (1, 1.0)
        >>> overload_share(20, "fuse", metric).value
        1.1035
    """
    if kind != "fuse":
        return cite(1.0, rules.clause("overcurrent_protection"))
    small = device_a < rules.factor("fuse_overload_small_a").value
    return rules.factor("fuse_overload_small" if small else "fuse_overload")


def protects(device_a: float, kind: str, ampacity_a: float, sets: int, rules: RuleSet) -> Cited[bool]:
    """Whether a device protects conductors of that ampacity.

    Equation
        device x overload share <= sets floor(ampacity); up to 800 A the next standard rating above it is let pass; the share is 1 for
        codes that compare the ratings as they are, else what a fuse lets through for long, over 1.45

    Parameters
        device_a: rating of the device [A]
        kind: "fuse" or "breaker" [-]
        ampacity_a: the lower of adjusted ampacity and terminal column, of one conductor [A]
        sets: parallel sets [-]
        rules: the rule set, factors round_up_limit_a, fuse_overload, fuse_overload_small, clauses next_standard, no_round_up [-]

    Returns
        true where protected [-]

    Reference
        {next_standard}; {no_round_up}

    Example
        Published: behind 1200 A three sets of 500 kcmil (1140 A) fail, three of 600 kcmil (1260 A) pass. 8 AWG at 40 °C is 50.05 A,
        taken as 50: a standard size, so a 60 A device does not protect it, while 53 A of ampacity lets 60 A pass.

        >>> protects(1200, "fuse", 380, 3, rules).value, protects(1200, "fuse", 420, 3, rules).value
        (False, True)
        >>> protects(60, "fuse", 50.05, 1, rules).value, protects(60, "fuse", 53, 1, rules).value
        (False, True)
    """
    carries = sets * floor(ampacity_a + WHOLE_AMP)
    if device_a * overload_share(device_a, kind, rules).value <= carries + WHOLE_AMP:
        return cite(True, rules.clause("overcurrent_protection"))
    most = rules.factor("round_up_limit_a")
    if device_a > most.value:
        return cite(False, rules.clause("no_round_up"))
    step = rules.next_rating(carries, kind)
    return cite(step is not None and device_a <= step.value, most, rules.clause("next_standard"))
