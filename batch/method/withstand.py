"""Short circuits: the energy that a conductor bears while it heats on its own, and what a device lets through before it opens."""

from __future__ import annotations

from math import log

from batch.method.earth_fault import has_type, opens_at_once
from batch.rules import FAST_S, SLOW_S, Cited, RuleSet, cite


def energy_borne(size: str, material: str, insulation: str, rules: RuleSet) -> Cited[float]:
    """Energy that a conductor bears from its working temperature to the highest that its insulation stands for a moment.

    Equation
        I^2 t = (k S)^2

    Parameters
        size: conductor size [mm2]
        material: "copper" or "aluminum" [-]
        insulation: of the conductor [-]
        rules: the rule set, factors k_{material}_{insulation} [-]

    Returns
        energy [A2s]

    Reference
        {short_circuit_energy}; {k_copper_pvc}: a core of a cable or bunched with others

    Example
        Worked by hand: copper in PVC, 115: (115 x 6)^2 = 476,100.

        >>> energy_borne("6 mm²", "copper", "PVC", metric).value
        476100.0
    """
    across, warm = rules.area(size), rules.factor(f"k_{material}_{insulation.lower()}")
    return cite((warm.value * across.value) ** 2, warm, unit="A2s")


def fuse_lets_through(rating_a: float, least_a: float, rules: RuleSet) -> Cited[float] | None:
    """Energy at most that a fuse lets through at any current from the least on.

    Equation
        I^2 t between its gates of 5 s and 0.1 s on straight lines in logarithms; above the latter that of the gate itself; the least
        current counts as no less than the gate of 5 s: below it there is an overload

    Parameters
        rating_a: rating [A]
        least_a: least short-circuit current [A]
        rules: the rule set, table fuse_gates [-]

    Returns
        energy [A2s]; None where the table ends

    Reference
        {table_fuse_gates}; the curve of a fuse runs below the straight line between two of its points, and its I^2 t falls with the
        current (from memory)

    Example
        Printed in the table of gates, 63 A: 320 A open it in 5 s, 320^2 x 5 = 512,000; 820 A in 0.1 s, 820^2 x 0.1 = 67,240.

        >>> [round(fuse_lets_through(63, least, metric).value) for least in (100, 320, 820, 5000)]
        [512000, 512000, 67240, 67240]
        >>> round(fuse_lets_through(63, 500, metric).value)
        195491
    """
    slow, fast = rules.fuse_opens_at(rating_a, SLOW_S), rules.fuse_opens_at(rating_a, FAST_S)
    if slow is None or fast is None:
        return None
    least_a = min(max(least_a, slow.value), fast.value)
    share = log(least_a / slow.value) / log(fast.value / slow.value)
    seconds = SLOW_S * (FAST_S / SLOW_S) ** share
    return cite(least_a**2 * seconds, slow, fast, unit="A2s")


def breaker_lets_through(rating_a: float, type: str, most_a: float, rules: RuleSet) -> Cited[float] | None:
    """Energy that a circuit-breaker may let through where nobody says that it limits the current.

    Equation
        the greater of (m In)^2 x 0.1 s, at the upper end of its band, and I^2 t at the greatest current, t half a cycle up to 125 A, above
        as the rule set has it

    Parameters
        rating_a: rating [A]
        type: type of a circuit-breaker up to 125 A [-]
        most_a: greatest short-circuit current [A]
        rules: the rule set, table breaker_bands, factors breaker_bands_to_a, breaker_release_multiple, breaker_opens_s [-]

    Returns
        energy [A2s]; None for a type that the table lacks

    Reference
        {short_circuit_energy}: below 0.1 s the maker's figure counts; half a cycle: common practice, no source

    Example
        Worked by hand, C 32 A: (10 x 32)^2 x 0.1 = 10,240; at 6 kA 6000^2 x 0.01 = 360,000.

        >>> [round(breaker_lets_through(32, "C", most, metric).value) for most in (500, 6000)]
        [10240, 360000]
    """
    small, multiple = has_type(rating_a, rules).value, opens_at_once(rating_a, type, rules)
    if multiple is None:
        return None
    opens = rules.factor("breaker_opens_s" if small else "breaker_release_opens_s")
    at_band = (multiple.value * rating_a) ** 2 * (FAST_S if small else opens.value)
    return cite(max(at_band, most_a**2 * opens.value), opens, unit="A2s")
