"""Block jumpers: what joins a power distribution block to the branch devices in the same box."""

from __future__ import annotations

from batch.method.ampacity import terminal_ampacity
from batch.method.overcurrent import protects, small_conductor_allows
from batch.method.taps import tap_ampacity, tap_needs
from batch.rules import Cited, RuleSet, cite


def jumper_size(device_a: float, kind: str, material: str, column_c: float, rules: RuleSet) -> Cited[str] | None:
    """Smallest conductor that the panel feeder's device protects on its way from the block to a branch device.

    Equation
        least size whose terminal column suits the device; no derating in the box

    Parameters
        device_a: device of the panel feeder [A]
        kind: fuse or breaker [-]
        material: copper or aluminum [-]
        column_c: column of the ampacity table that the terminals at both its ends allow [°C]
        rules: the rule set, clause overcurrent_protection [-]

    Returns
        conductor size [AWG or kcmil]; None where the table has none: a bar

    Reference
        {next_standard}; {small_conductors}

    Example
        The table prints 30 A for 10 AWG and 40 A for 8 AWG copper at 60 °C; 55 A for 6 AWG stands behind 60 A, the next standard rating.

        >>> [jumper_size(device, "fuse", "copper", 60, rules).value for device in (30, 40, 60)]
        ['10', '8', '6']
    """
    for size in rules.sizes:
        ampacity = terminal_ampacity(size, material, column_c, rules)
        if ampacity is None or not small_conductor_allows(device_a, size, 1, material, rules).value:
            continue
        if protects(device_a, kind, ampacity.value, 1, rules).value:
            return cite(size, rules.clause("overcurrent_protection"))
    return None


def jumper_tap(
    *, required_a: float, branch_a: float, feeder_a: float, material: str, column_c: float, rules: RuleSet
) -> Cited[str] | None:
    """Smallest jumper that is a tap of the panel feeder, ending in the branch device: short, within the box, not joined to another.

    Equation
        terminal column, never rounded up >= max(1.25 I, branch device, panel feeder device / 3)

    Parameters
        required_a: 125 % of the branch's continuous load [A]
        branch_a: device of the branch [A]
        feeder_a: device of the panel feeder [A]
        material: copper or aluminum [-]
        column_c: column of the ampacity table that the terminals at both its ends allow [°C]
        rules: the rule set, clause tap_in_box, factor tap_in_box_share [-]

    Returns
        conductor size [AWG or kcmil]; None where the table has none: a bar

    Reference
        {tap_in_box}; {tap_in_box_share}: the latter speaks of other loads

    Example
        Worked by hand: 20 A behind 100 A asks 33.3 A: 8 AWG, printed 40 A at 60 °C. In full 2 AWG, 95 A: 100 A is the next rating.

        >>> jumper_tap(required_a=15, branch_a=20, feeder_a=100, material="copper", column_c=60, rules=rules).value
        '8'
        >>> jumper_size(100, "fuse", "copper", 60, rules).value
        '2'
    """
    share = rules.factor("tap_in_box_share")
    needs = tap_needs(required_a, branch_a, feeder_a, 1.0 / share.value)
    for size in rules.sizes:
        ampacity = terminal_ampacity(size, material, column_c, rules)
        if ampacity is None or not small_conductor_allows(branch_a, size, 1, material, rules).value:
            continue
        if tap_ampacity(ampacity.value, ampacity.value) >= needs:
            return cite(size, rules.clause("tap_in_box"), share)
    return None
