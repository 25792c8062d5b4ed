"""Legs of a bank: on which terminals its heaters stand, what they load, and which lines its panel feeder needs."""

from __future__ import annotations

from batch.method.common_point_wye import UngroundedWye, wye_of_heaters
from batch.method.line_currents import Loads, balanced_load, heaters_on_legs
from batch.records import Supply
from batch.sizing.connection import Connected
from batch.systems import Connection


def leg_names(connection: Connection, supply: Supply, heaters: int) -> tuple[str, ...]:
    """Panel terminals of each heater in turn: "L1-L2-L3", "L1-L2", "L1-N", "L1-WP1" (WP1: the first wye point)."""
    if connection is Connection.THREE_PHASE:
        return ("L1-L2-L3",) * heaters
    legs = connection.legs(supply.system)
    names = []
    for heater in range(heaters):
        line = heater % legs + 1
        if connection.across == "line":
            names.append(f"L{line}-L{line % supply.system.lines + 1}")
        elif connection.neutral:
            names.append(f"L{line}-N")
        else:
            names.append(f"L{line}-WP{heater // connection.group + 1 if connection is Connection.SEPARATE_WYES else 1}")
    return tuple(names)


def loads_of(connected: Connected, supply: Supply, heaters: int, heater_a: float) -> Loads:
    """The loads of `heaters` in rotation from L1, each drawing `heater_a` at the applied volts."""
    connection = connected.connection
    if connection is Connection.THREE_PHASE:
        return balanced_load(heaters, heater_a)
    if connection is Connection.SEPARATE_WYES:
        return balanced_load(heaters / connection.group, heater_a)
    if connection is Connection.COMMON_POINT_WYE:
        return common_point(connected, supply, heaters, heater_a).loads
    on = [float(count) * heater_a for count in heaters_on_legs(connection, supply.system, heaters)] + [0.0, 0.0]
    first, second, third = on[:3]
    return Loads(a=first, b=second, c=third) if connection.neutral else Loads(first, second, third)


def common_point(connected: Connected, supply: Supply, heaters: int, heater_a: float, opened: int | None = None) -> UngroundedWye:
    """A common-point wye by phasors, with one heater of leg `opened` taken out where asked."""
    counts = heaters_on_legs(connected.connection, supply.system, heaters)
    return wye_of_heaters(counts, heater_a, connected.applied_v, supply.volts_v, opened)


def lines_used(connection: Connection, supply: Supply, heaters: int) -> tuple[int, bool]:
    """Lines that a panel feeder to so many heaters needs, and whether it needs the neutral."""
    if connection is Connection.THREE_PHASE or connection.is_ungrounded_wye:
        return 3, False
    legs = min(connection.legs(supply.system), heaters)
    if connection.neutral:
        return legs, True
    return (3 if legs > 1 else 2), False
