"""What a system and its volts to ground ask for: disconnects ahead of fuses, reduction of arc energy."""

from __future__ import annotations

from batch.method.line_currents import ROOT3
from batch.rules import AMPS_DIGITS, Cited, RuleSet, cite
from batch.systems import System


def volts_to_ground(system: System, volts_v: float) -> float:
    """Greatest volts of a line to ground.

    Equation
        V / sqrt(3) of a grounded wye, V / 2 of three wires on one phase; V of every other, none of whose points is known to be grounded

    Parameters
        system: system of the supply [-]
        volts_v: line-to-line volts; line to neutral of two wires with a neutral [V]

    Returns
        volts to ground [V]

    Reference
        {volts_to_ground}: of an ungrounded system the volts between lines (from memory)

    Example
        Worked by hand: 480 V: 277.128 V of a grounded wye, 480 V of a delta, a corner-grounded delta and a system that nobody states.

        >>> asked = (System.WYE_GROUNDED, System.DELTA, System.CORNER_GROUNDED_DELTA, System.UNKNOWN)
        >>> [round(volts_to_ground(system, 480), 3) for system in asked]
        [277.128, 480, 480, 480]
    """
    if system is System.WYE_GROUNDED:
        return volts_v / ROOT3
    return volts_v / 2.0 if system is System.THREE_WIRE else volts_v


def least_disconnect(required_a: float, ahead_a: float, behind_a: float) -> float:
    """Least rating of a disconnect without fuses of its own.

    Equation
        max(required, device ahead, largest device behind)

    Parameters
        required_a: 125 % of the load behind it [A]
        ahead_a: overcurrent device ahead of it, 0 where none is known [A]
        behind_a: largest overcurrent device behind it, 0 where none is known [A]

    Returns
        least rating [A]

    Reference
        {disconnect} for what it opens; that it is rated no less than the devices: common practice, no source

    Example
        Worked by hand: 96.2 A behind fuses of 110 A: a disconnect of 100 A would carry 110 A that no device clears.

        >>> least_disconnect(96.2, 110, 90), least_disconnect(130, 110, 90)
        (110, 130)
    """
    return max(required_a, ahead_a, behind_a)


def needs_disconnect_ahead_of_fuses(system: System, volts_v: float, rules: RuleSet) -> Cited[bool]:
    """Whether cartridge fuses need a disconnecting means ahead of them.

    Equation
        volts to ground > 150 V

    Parameters
        system: system of the supply [-]
        volts_v: line-to-line volts [V]
        rules: the rule set, factor fuse_disconnect_volts_v [-]

    Returns
        true where they do [-]

    Reference
        {fuse_disconnect_volts_v}

    Example
        Worked by hand: 480Y/277 has 277 V to ground, 208Y/120 has 120 V.

        >>> [needs_disconnect_ahead_of_fuses(System.WYE_GROUNDED, volts, rules).value for volts in (480, 208)]
        [True, False]
    """
    limit = rules.factor("fuse_disconnect_volts_v")
    return cite(volts_to_ground(system, volts_v) > limit.value, limit)


def needs_arc_energy_reduction(device_a: float, rules: RuleSet) -> Cited[bool]:
    """Whether a device needs a documented way to reduce arc energy.

    Equation
        device >= 1200 A

    Parameters
        device_a: rating of the device [A]
        rules: the rule set, factor arc_energy_a [-]

    Returns
        true where it does [-]

    Reference
        {arc_energy_fuses} for fuses, {arc_energy_breakers} for breakers

    Example
        The clauses print 1200 A.

        >>> [needs_arc_energy_reduction(device, rules).value for device in (1000, 1200)]
        [False, True]
    """
    limit = rules.factor("arc_energy_a")
    return cite(round(device_a, AMPS_DIGITS) >= limit.value, limit)
