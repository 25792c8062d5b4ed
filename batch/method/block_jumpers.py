"""Block jumpers: what joins a power distribution block to the branch devices in the same box."""

from __future__ import annotations

from batch.method.ampacity import terminal_ampacity
from batch.method.overcurrent import protects, small_conductor_allows
from batch.rules import Cited, RuleSet, cite


def jumper_size(device_a: float, kind: str, material: str, column_c: float, rules: RuleSet) -> Cited[str] | None:
    """Smallest conductor that the panel feeder's device protects on its way from the block to a branch device.

    Equation
        least size whose terminal column suits the device; no derating in the box

    Parameters
        device_a: device of the panel feeder [A]
        kind: fuse or breaker [-]
        material: copper or aluminum [-]
        column_c: column of the ampacity table that the terminals allow [°C]
        rules: the rule set, clause overcurrent_protection [-]

    Returns
        conductor size [AWG or kcmil]; None where the table has none: a bar

    Reference
        NFPA 70-2023, 240.4(B), 240.4(D)

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
