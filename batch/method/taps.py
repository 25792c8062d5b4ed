"""Taps: conductors smaller than the device ahead of them would protect, and how far they may run."""

from __future__ import annotations

from math import floor
from typing import NamedTuple

from batch.method.overcurrent import WHOLE_AMP
from batch.rules import Cited, RuleSet, cite

CLOSE_M = 1e-9  # metres by which a run may be longer before it counts


class TapRule(NamedTuple):
    """Up to which length a tap needs which share of the device ahead of it."""

    longest_m: float
    share: float


def tap_rule(length_m: float, rules: RuleSet) -> Cited[TapRule] | None:
    """The rule that a tap of that length goes by.

    Equation
        to 3 m: 1/10 of the feeder device; to 7.5 m: 1/3, and one device at its end

    Parameters
        length_m: length of the tap [m]
        rules: the rule set, factors tap_short_m, tap_short_share, tap_long_m, tap_long_share [-]

    Returns
        length and share of the rule [m, -]; None for what is too long to be a tap

    Reference
        {tap_short_share}; {tap_long_share}

    Example
        The clauses print 10 ft (3 m) with one tenth and 25 ft (7.5 m) with one third.

        >>> tap_rule(2.5, rules).value.share, round(tap_rule(6, rules).value.share, 4), tap_rule(9, rules)
        (0.1, 0.3333, None)
        >>> [tap_rule(metres, rules).value.longest_m for metres in (3.048, 3.05, 7.62)], tap_rule(7.63, rules)
        ([3.048, 7.62, 7.62], None)
    """
    for name in ("tap_short", "tap_long"):
        longest, share = rules.factor(f"{name}_m"), rules.factor(f"{name}_share")
        if length_m <= longest.value + CLOSE_M:
            return cite(TapRule(longest.value, 1.0 / share.value), share)
    return None


def tap_ampacity(terminal_a: float, adjusted_a: float) -> int:
    """Ampacity of a tap conductor: never rounded up to a standard size.

    Equation
        A_t = floor(min(terminal column, adjusted))

    Parameters
        terminal_a: ampacity in the column of its terminals [A]
        adjusted_a: ampacity corrected and adjusted [A]

    Returns
        ampacity [A]

    Reference
        {taps}: {next_standard} does not apply

    Example
        The table prints 70 A for 4 AWG copper at 60 °C; at 90 °C in 40 °C it is 95 x 0.91 = 86.45 A.

        >>> tap_ampacity(70, 86.45)
        70
    """
    return floor(min(terminal_a, adjusted_a) + WHOLE_AMP)


def tap_needs(required_a: float, end_device_a: float, feeder_device_a: float, share: float) -> float:
    """Least ampacity of a tap.

    Equation
        max(1.25 I, device at its end, share of the feeder device)

    Parameters
        required_a: 125 % of its continuous load [A]
        end_device_a: device at its end [A]
        feeder_device_a: device that protects what it is tapped from [A]
        share: share that its length asks for [-]

    Returns
        least ampacity [A]

    Reference
        {tap_short_share}; {tap_long_share}

    Example
        Worked by hand: 27.064 A on a 30 A device behind 600 A: 60 A to 3 m, 200 A to 7.5 m.

        >>> tap_needs(27.064, 30, 600, 1 / 10), tap_needs(27.064, 30, 600, 1 / 3)
        (60.0, 200.0)
    """
    return max(required_a, end_device_a, feeder_device_a * share)


def secondary_needs(
    *, required_a: float, end_device_a: float, primary_device_a: float, primary_v: float, secondary_v: float, share: float
) -> float:
    """Least ampacity of a transformer's secondary conductors.

    Equation
        max(1.25 I, device at their end, (V_p / V) x share of the primary device)

    Parameters
        required_a: 125 % of the continuous load [A]
        end_device_a: device at their end [A]
        primary_device_a: device ahead of the primary [A]
        primary_v: primary volts, line to line [V]
        secondary_v: secondary volts, line to line [V]
        share: share that their length asks for [-]

    Returns
        least ampacity [A]

    Reference
        {secondary_conductors}; of the longer ones from memory

    Example
        Worked by hand: 200 A ahead of 480 V to 208 V: 46.154 A to 3 m, 153.846 A to 7.5 m; the device at the end asks for more.

        >>> given = dict(required_a=200, primary_device_a=200, primary_v=480, secondary_v=208)
        >>> secondary_needs(end_device_a=225, share=1 / 10, **given)
        225
        >>> round(secondary_needs(end_device_a=0, share=1 / 3, **given | {"required_a": 0}), 3)
        153.846
    """
    return max(required_a, end_device_a, primary_v / secondary_v * primary_device_a * share)
