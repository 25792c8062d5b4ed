"""Wyes without a neutral: what an ungrounded wye draws, the volts of its legs, and what one open branch does to it."""

from __future__ import annotations

from typing import NamedTuple

from batch.method.line_currents import HALF_ROOT3, ROOT3, Loads


class UngroundedWye(NamedTuple):
    """A wye without a neutral: what it draws as a delta [A], volts across each leg [V], amps of each leg [A]."""

    loads: Loads
    leg_volts: tuple[float, float, float]
    leg_amps: tuple[float, float, float]


def ungrounded_wye(conductances: tuple[float, float, float], volts_ll: float) -> UngroundedWye:
    """A wye of three resistances on one wye point without a neutral.

    Equation
        G_ab = Ga Gb / (Ga + Gb + Gc), x = V_LL G_ab, and so on
        The wye point sits at the conductance-weighted mean of the three line phasors; a leg's volts are its line's distance from it

    Parameters
        conductances: of legs A, B, C; one may be 0, an open leg [S]
        volts_ll: line-to-line volts [V]

    Returns
        loads of the equal delta [A], leg volts [V] (across the opening where a leg is open), leg amps [A]

    Reference
        Wye-delta transformation, exact for resistances; Millman's theorem for the wye point

    Example
        Worked by hand: equal legs see V / sqrt(3), 277.1 V of 480. With two heaters a leg and one of leg A out, 3m / (3m - 1) = 120 %.

        >>> [round(volts, 1) for volts in ungrounded_wye((1, 1, 1), 480).leg_volts]
        [277.1, 277.1, 277.1]
        >>> round(ungrounded_wye((1, 2, 2), 480).leg_volts[0] / (480 / ROOT3), 4)
        1.2
    """
    ga, gb, gc = conductances
    total = ga + gb + gc
    if total <= 0.0:
        return UngroundedWye(Loads(), (0.0, 0.0, 0.0), (0.0, 0.0, 0.0))
    loads = Loads(volts_ll * ga * gb / total, volts_ll * gb * gc / total, volts_ll * gc * ga / total)
    volts_ln = volts_ll / ROOT3
    line_a, line_b, line_c = (
        complex(volts_ln, 0.0),
        complex(-volts_ln / 2, -volts_ln * HALF_ROOT3),
        complex(-volts_ln / 2, volts_ln * HALF_ROOT3),
    )
    point = (ga * line_a + gb * line_b + gc * line_c) / total
    a, b, c = abs(line_a - point), abs(line_b - point), abs(line_c - point)
    return UngroundedWye(loads, (a, b, c), (ga * a, gb * b, gc * c))


def wye_of_heaters(counts: tuple[int, ...], heater_a: float, leg_v: float, volts_ll: float, opened: int | None = None) -> UngroundedWye:
    """Alike heaters on the legs of one wye point, one of them taken out where its branch has opened.

    Equation
        G = n I / V of each leg

    Parameters
        counts: heaters on legs A, B, C [-]
        heater_a: current of one heater at `leg_v` [A]
        leg_v: volts at which it draws that [V]
        volts_ll: line-to-line volts [V]
        opened: leg with one heater out, None = none [-]

    Returns
        loads, leg volts, leg amps, as of `ungrounded_wye` [A, V]

    Reference
        Ohm's law; wye-delta transformation

    Example
        Worked by hand, three heaters a leg, one open: 3m / (3m - 1) = 9 / 8 of the leg's volts.

        >>> round(wye_of_heaters((3, 3, 3), 10, 277.13, 480, opened=0).leg_volts[0] / 277.13, 3)
        1.125
    """
    siemens = heater_a / leg_v
    ga, gb, gc = ((count - (leg == opened)) * siemens for leg, count in enumerate(counts))
    return ungrounded_wye((ga, gb, gc), volts_ll)


def two_in_series(volts_ll: float) -> float:
    """Volts across each of the two heaters that are left in series when one branch of a wye of three opens.

    Equation
        V_LL / 2: 86.6 % of V_LL / sqrt(3), never an overvoltage

    Parameters
        volts_ll: line-to-line volts [V]

    Returns
        volts across each [V]

    Reference
        Kirchhoff's voltage law

    Example
        Worked by hand: half of the line-to-line volts on a heater for V / sqrt(3) of them: sqrt(3) / 2, 86.6 %.

        >>> round(100 * two_in_series(480) / (480 / ROOT3), 1)
        86.6
    """
    return volts_ll / 2.0
