"""Heat of a box: what its parts lose, and how much warmer than the hall it gets. Budget figures: a shop checks them."""

from __future__ import annotations

from batch.rules import Cited, RuleSet, cite


def part_loss(rated_w: float, design_a: float, rated_a: float) -> float:
    """Loss of one pole of a part below its rating.

    Equation
        W = W_rated (I / I_rated)^2

    Parameters
        rated_w: loss of one pole at the part's own rating [W]
        design_a: design current [A]
        rated_a: rating [A]

    Returns
        loss [W]

    Reference
        Joule's law at constant resistance

    Example
        Worked by hand: twelve poles of 3.5 W at 15 A, loaded with 6.25 A: 7.29 W.

        >>> round(12 * part_loss(3.5, 6.25, 15), 2)
        7.29
    """
    return rated_w * (design_a / rated_a) ** 2


def cooling_area(height_m: float, width_m: float, depth_m: float) -> float:
    """Effective cooling area of a box on a wall.

    Equation
        A = 1.4 W (H + D) + 1.8 D H

    Parameters
        height_m: height H [m]
        width_m: width W [m]
        depth_m: depth D [m]

    Returns
        area [m2]

    Reference
        {enclosure_area} (from memory)

    Example
        Worked by hand: 48 x 36 x 16 in, 2.973 m2.

        >>> round(cooling_area(48 * 0.0254, 36 * 0.0254, 16 * 0.0254), 3)
        2.973
    """
    return 1.4 * width_m * (height_m + depth_m) + 1.8 * depth_m * height_m


def temperature_rise(loss_w: float, area_m2: float, wall: str, rules: RuleSet) -> Cited[float]:
    """How much warmer than the hall the air in a closed box gets.

    Equation
        dT = W / (U A)

    Parameters
        loss_w: loss of all parts and wires [W]
        area_m2: effective cooling area [m2]
        wall: "steel", "stainless" or "plastic" [-]
        rules: the rule set, factors enclosure_u_steel, enclosure_u_stainless, enclosure_u_plastic [-]

    Returns
        rise [K]

    Reference
        Heat transfer through the walls; U of steel and stainless as makers' curves give it, of plastic from memory

    Example
        Worked by hand: 300 W, 2.973 m2 of steel, 18.3 K; a printed curve says 16.7 K, so it is on the safe side.

        >>> round(temperature_rise(300, 2.973, "steel", rules).value, 1)
        18.3
    """
    through = rules.factor(f"enclosure_u_{wall}")
    return cite(loss_w / (through.value * area_m2), through, unit="K")
