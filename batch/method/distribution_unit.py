"""The distribution unit at a feeder's end: its bus, its main device, and the frames of its ways."""

from __future__ import annotations

from batch.rules import Cited, RuleSet


def bus_rating(feeder_device_a: float, rules: RuleSet) -> Cited[float] | None:
    """Least bus of a distribution unit that has main lugs only.

    Equation
        least rating of the list with rating >= feeder device

    Parameters
        feeder_device_a: device ahead of the unit [A]
        rules: the rule set, list bus_ratings, clause panelboard [-]

    Returns
        rating [A]; None above the list

    Reference
        {panelboard}; ratings: {bus_ratings}

    Example
        Worked by hand: behind 350 A a bus of 400 A.

        >>> bus_rating(350, rules).value, bus_rating(400, rules).value
        (400.0, 400.0)
    """
    return rules.least_listed("bus_ratings", feeder_device_a)


def way_frame(device_a: float, rules: RuleSet) -> Cited[float] | None:
    """Frame of the switch or breaker that a device of a way stands in.

    Equation
        least frame of the list with frame >= device

    Parameters
        device_a: device of the way [A]
        rules: the rule set, list way_frames [-]

    Returns
        frame [A]; None above the list

    Reference
        Common practice, no source

    Example
        Worked by hand: 90 A and 70 A in frames of 100 A, 50 A and 35 A in frames of 60 A.

        >>> [way_frame(device, rules).value for device in (90, 70, 50, 35)]
        [100.0, 100.0, 60.0, 60.0]
    """
    return rules.least_listed("way_frames", device_a)


def device_use_pct(required_a: float, device_a: float) -> float:
    """Share of a feeder's or panel feeder's device that its load asks for.

    Equation
        100 x 1.25 I / device

    Parameters
        required_a: 125 % of the continuous load [A]
        device_a: rating of the device, of an existing one its own [A]

    Returns
        used [%]

    Reference
        Definition of this program

    Example
        Worked by hand: 1.25 x 389.5 A on 500 A, 97.38 %.

        >>> round(device_use_pct(1.25 * 389.5, 500), 2)
        97.38
    """
    return 100.0 * required_a / device_a
