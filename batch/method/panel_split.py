"""Heater panels of a bank: how many, and how many heaters in each."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from batch.systems import Connection, System


def heaters_per_panel(connection: Connection, most_branches: int, circuits: int) -> int:
    """The most heaters that one panel takes: a heater's circuits stay together, and wyes of three stay whole.

    Equation
        floor(branches / circuits); 3 floor(that / 3) for separate wyes; at least three for a common wye point

    Parameters
        connection: how the heaters are connected [-]
        most_branches: branches that a panel takes at most [-]
        circuits: element circuits of one heater [-]

    Returns
        heaters; 0 where not even one group fits [-]

    Reference
        Common practice, no source

    Example
        By count, of eight branches: eight heaters, two wyes, or four heaters of two circuits.

        >>> kinds = ((Connection.DELTA, 1), (Connection.SEPARATE_WYES, 1), (Connection.DELTA, 2))
        >>> tuple(heaters_per_panel(kind, 8, circuits) for kind, circuits in kinds)
        (8, 6, 4)
    """
    whole = most_branches // circuits
    if connection is Connection.SEPARATE_WYES:
        return connection.group * (whole // connection.group)
    return whole if whole >= connection.group else 0


def split_heaters(connection: Connection, system: System, heaters: int, most: int) -> tuple[int, ...]:
    """Heaters of each panel, the fullest first: as few panels as possible.

    Equation
        k = ceil(n / most). In rotation: of the splits into k the one with the most panels that divide by the legs, then the most even.
        Others as even as possible; separate wyes by whole wyes; a common point never with a single heater, which no current would reach

    Parameters
        connection: how the heaters are connected [-]
        system: system of the supply [-]
        heaters: heaters of the bank [-]
        most: heaters that one panel takes, at least 1, at least 3 for wyes [-]

    Returns
        heaters of each panel [-]

    Reference
        Common practice, no source: panels balanced wherever they can be

    Example
        Worked by hand for 9, 10, 16 heaters in delta, eight a panel; and for nine in parallel.

        >>> [split_heaters(Connection.DELTA, System.DELTA, heaters, 8) for heaters in (9, 10, 16)]
        [(6, 3), (6, 4), (8, 8)]
        >>> split_heaters(Connection.ONE_PAIR, System.DELTA, 9, 8)
        (5, 4)
    """
    count = ceil(heaters / most)
    if connection is Connection.SEPARATE_WYES:
        return tuple(connection.group * wyes for wyes in _evenly(heaters // connection.group, count))
    if not connection.in_rotation:
        return _evenly(heaters, count)
    legs = connection.legs(system)
    alone = 2 if connection is Connection.COMMON_POINT_WYE else 1
    best = min(_short_of_full(count * most - heaters, count, most - alone), key=lambda short: _preference(short, most, legs))
    return tuple(sorted((most - less for less in (*best, *[0] * (count - len(best)))), reverse=True))


def _evenly(things: int, panels: int) -> tuple[int, ...]:
    each, over = divmod(things, panels)
    return tuple(each + 1 if panel < over else each for panel in range(panels))


def _short_of_full(total: int, panels: int, largest: int) -> list[tuple[int, ...]]:
    """Every way to leave `total` places empty in at most `panels` panels, falling; few, since total < one panel."""
    if total == 0:
        return [()]
    if panels == 0:
        return []
    return [(first, *rest) for first in range(min(total, largest), 0, -1) for rest in _short_of_full(total - first, panels - 1, first)]


def _preference(short: Sequence[int], most: int, legs: int) -> tuple[int, int]:
    """Most panels that divide by the legs, then the least sum of squares of the empty places.

    Panels left full are alike in every split, so only their number matters: they are counted by what is not short.
    """
    full_divides = most % legs == 0
    good = sum((most - less) % legs == 0 for less in short) + (-len(short) if full_divides else 0)
    return -good, sum(less * less for less in short)
