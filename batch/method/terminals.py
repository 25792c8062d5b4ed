"""Terminals: how many wires meet on one, how warm it may get, how tight it is set."""

from __future__ import annotations

from batch.method.line_currents import heaters_on_legs
from batch.rules import Cited, RuleSet, Torque, cite
from batch.systems import Connection, System


def wires_on_terminal(connection: Connection, system: System, heaters: int, circuits: int, rules: RuleSet) -> Cited[int]:
    """Wires on the fullest terminal of one contactor if every circuit were wired straight to it.

    Equation
        parallel: n; delta: the count on the two pairs that meet at the terminal; wye: the count on the leg; each times the circuits

    Parameters
        connection: how the heaters are connected [-]
        system: system of the supply [-]
        heaters: heaters of the bank [-]
        circuits: element circuits of one heater [-]
        rules: the rule set, clause terminals [-]

    Returns
        wires [-]; one, unless the terminal is marked for more

    Reference
        {terminals}

    Example
        By count: three one-phase heaters in delta put two wires on each terminal, five put four; two 3-phase heaters in parallel two.

        >>> [wires_on_terminal(Connection.DELTA, System.DELTA, heaters, 1, rules).value for heaters in (3, 5)]
        [2, 4]
        >>> wires_on_terminal(Connection.THREE_PHASE, System.DELTA, 2, 1, rules).value
        2
    """
    counts = heaters_on_legs(connection, system, heaters)
    fullest = max(counts)
    if connection is Connection.DELTA:
        fullest = max(counts[leg] + counts[leg - 1] for leg in range(len(counts)))
    return cite(fullest * circuits, rules.clause("terminals"))


def wires_on_wye_point(connection: Connection, heaters: int, circuits: int, rules: RuleSet) -> Cited[int]:
    """Wires that meet on the fullest wye point of a wye without a neutral: a terminal that no contactor has.

    Equation
        3 circuits for separate wyes of three heaters, n circuits for a common point, 0 without a wye point

    Parameters
        connection: how the heaters are connected [-]
        heaters: heaters of the bank [-]
        circuits: element circuits of one heater [-]
        rules: the rule set, clause terminals [-]

    Returns
        wires [-]

    Reference
        {terminals}

    Example
        By count: nine heaters as three wyes, on one point, and in delta.

        >>> kinds = (Connection.SEPARATE_WYES, Connection.COMMON_POINT_WYE, Connection.DELTA)
        >>> [wires_on_wye_point(kind, 9, 1, rules).value for kind in kinds]
        [3, 9, 0]
    """
    joined = {Connection.SEPARATE_WYES: connection.group, Connection.COMMON_POINT_WYE: heaters}.get(connection, 0)
    return cite(joined * circuits, rules.clause("terminals"))


def temperature_column(device_a: float, marked_c: int | None, rules: RuleSet) -> Cited[float]:
    """Column of the ampacity table that the terminals of a circuit allow.

    Equation
        60 °C up to a device of 100 A, 75 °C above; where both ends are so marked, the marked column

    Parameters
        device_a: overcurrent device of the circuit [A]
        marked_c: temperature that the project states for all terminals, None = not stated [°C]
        rules: the rule set, factors terminal_split_a, terminal_low_c, terminal_high_c [-]

    Returns
        column [°C]

    Reference
        {terminal_temperature}; {terminal_low_c}; {terminal_high_c}

    Example
        The clause prints 60 degrees C to 100 A and 75 above.

        >>> [temperature_column(device, None, rules).value for device in (100, 110)]
        [60, 75]
        >>> temperature_column(60, 75, rules).value
        75
    """
    if marked_c:
        return cite(marked_c, rules.clause("terminal_temperature"), unit="°C")
    low = device_a <= rules.factor("terminal_split_a").value
    return rules.factor("terminal_low_c" if low else "terminal_high_c")


def largest_on_frame(frame_a: float, column_c: float, material: str, rules: RuleSet) -> Cited[str] | None:
    """Largest conductor that the terminals of a holder, switch or breaker of that frame are counted on to take, where nobody states it.

    Equation
        the ordinary size, least whose ampacity in the terminals' column >= frame, and so many sizes more: one

    Parameters
        frame_a: frame [A]
        column_c: column of the ampacity table that its terminals allow [°C]
        material: copper or aluminum [-]
        rules: the rule set, factor terminal_sizes_more [-]

    Returns
        conductor size [AWG or kcmil]; None above the table

    Reference
        {terminals}; {table_ampacity}; one size more is from memory

    Example
        The table prints 30 A for 10 AWG and 70 A for 4 AWG at 60 °C, 420 A for 600 kcmil at 75 °C: one size more than each.

        >>> [largest_on_frame(frame, 60, "copper", rules).value for frame in (30, 60, 100)]
        ['8', '3', '1/0']
        >>> largest_on_frame(400, 75, "copper", rules).value
        '700'
    """
    more = rules.factor("terminal_sizes_more")
    for rank, size in enumerate(rules.sizes):
        ampacity = rules.ampacity(size, material, column_c)
        if ampacity is not None and ampacity.value >= frame_a:
            return cite(rules.sizes[min(rank + int(more.value), len(rules.sizes) - 1)], more)
    return None


def frame_of(device_a: float, rules: RuleSet) -> Cited[float] | None:
    """Frame of the holder or breaker that a device stands in, whose terminals its wires land on.

    Equation
        least frame of the list with frame >= device

    Parameters
        device_a: rating of the device [A]
        rules: the rule set, list terminal_frames [-]

    Returns
        frame [A]; None above the list

    Reference
        {terminal_frames}

    Example
        The list prints 30, 60, 100, 200, 400, 600.

        >>> [frame_of(device, rules).value for device in (20, 60, 90, 225)], frame_of(601, rules)
        ([30.0, 60.0, 100.0, 400.0], None)
    """
    return rules.least_listed("terminal_frames", device_a)


def fuse_body(fuse_a: float, rules: RuleSet) -> Cited[float] | None:
    """Size of body that a fuse has by its rating: a holder takes the fuses of its own size alone.

    Equation
        least size of the list with size >= fuse; a holder serves where its rating gives the same size

    Parameters
        fuse_a: rating of the fuse, or of a holder for it [A]
        rules: the rule set, list fuse_bodies [-]

    Returns
        size [A]; None above the list, where bodies are not told apart

    Reference
        {fuse_bodies}

    Example
        The list prints 30, 60, 100, 200, 400, 600: a 70 A fuse is held by a 100 A holder, not by a 200 A one.

        >>> [fuse_body(amps, rules).value for amps in (15, 70, 100, 200)], fuse_body(601, rules)
        ([30.0, 100.0, 100.0, 200.0], None)
    """
    return rules.least_listed("fuse_bodies", fuse_a)


def default_torque(size: str, rules: RuleSet) -> Cited[Torque] | None:
    """Torque of a terminal without a marking of its own.

    Equation
        The table goes by conductor size: slotted screw to 1 AWG, hex head from 1/0

    Parameters
        size: conductor size [AWG or kcmil]
        rules: the rule set, table torque [-]

    Returns
        torque [N·m] and the screw it holds for, None where the code has none by wire; the terminal's own marking governs

    Reference
        {torque}; {table_torque}

    Example
        The table prints 35 lbf·in for a wide slot at 10 AWG: 35 x 0.112985 = 3.95 N·m.

        >>> round(default_torque("10", rules).value.nm, 2)
        3.95
    """
    return rules.torque(size)
