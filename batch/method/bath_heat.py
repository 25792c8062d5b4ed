"""Is it enough heat: what a bath takes up, what its work and make-up carry away, how long it takes to heat, and how hot its sheaths work.

Powers in W, energies in J, temperatures in degrees C, times in h.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import inf, log, pi

from batch.method.bath_surface import SECONDS

AIR_J_KGK = 1006.0
"""Specific heat of air, J/(kg K). Psychrometric tables, from memory."""
VAPOUR_TO_AIR = 0.621945
"""Molar mass of water over that of dry air. ASHRAE Handbook, Fundamentals, from memory."""
DRY_AIR_KG_L = 1.2e-3
"""Mass of a litre of free air, kg. At 20 degrees C."""
STRAIGHT, HALVINGS = 1e-9, 60
"""Share of the power below which a loss counts as constant; halvings of an interval, as far as numbers go."""
MOST_VAPOUR_SHARE = 0.9
"""Above this share of water vapour the humidity ratio of bubbles runs away; it is held there."""


def stored_heat(mass_kg: float, cp_j_kgk: float, rise_k: float) -> float:
    """Heat that a mass takes up: liquid, shell, or the load that stands in the bath.

    Equation
        E = m c (T - T0)

    Parameters
        mass_kg: mass [kg]
        cp_j_kgk: specific heat [J/(kg K)]
        rise_k: rise of temperature [K]

    Returns
        heat [J]

    Reference
        Y. A. Cengel, Heat and Mass Transfer, example 1.2.

    Example
        Printed: 1.2 kg of water and a vessel of 0.5 kg of 0.7 kJ/(kg K) from 15 to 95 degrees C: 429.9 kJ.

        >>> round((stored_heat(1.2, 4186.0, 80.0) + stored_heat(0.5, 700.0, 80.0)) / 1000, 1)
        429.9
    """
    return mass_kg * cp_j_kgk * rise_k


def power_to_heat_up(stored_j: float, hours: float, losses_w: float, share: float) -> float:
    """Power that heats a bath up in a time asked for, with a share of its final losses.

    Equation
        P = E / t + f L, with f = 1/2: right or slightly safe while P is at least 1.2 L

    Parameters
        stored_j: heat that liquid, shell and load take up [J]
        hours: time asked for [h]
        losses_w: losses of surface and walls at the final temperature [W]
        share: f [-]

    Returns
        power [W]

    Reference
        Published worked example of a final rinse tank.

    Example
        100 gal from 70 to 180 F in 3 h: 26.9 + 1.89 kWh stored, 4.4 + 2.11 kW lost; with a fifth on top 15.42 kW as published.

        >>> round(1.2 * power_to_heat_up(28.79e3 * 3600, 3.0, 6510.0, 0.5) / 1000, 2)
        15.42
    """
    return stored_j / (hours * SECONDS) + share * losses_w


def hours_to_heat(capacity_j_k: float, power_w: float, temperatures_c: Sequence[float], losses_w: Sequence[float]) -> float:
    """Time that a constant power takes from the first temperature to the last, against losses that rise on the way.

    Equation
        t = sum of M c dT / (P - L(T)); between two points L is straight, so each part is M c (T2 - T1) / (L2 - L1) ln((P - L1) / (P - L2)):
        exact where losses are straight, slightly long where they rise ever steeper

    Parameters
        capacity_j_k: heat capacity of liquid, shell and load [J/K]
        power_w: power of the heaters [W]
        temperatures_c: rising temperatures [°C]
        losses_w: losses at each of them [W]

    Returns
        time; infinite where the power does not exceed the losses on the way [h]

    Reference
        J. M. Coulson, J. F. Richardson, Chemical Engineering vol. 1, example 9.25, p. 501.

    Example
        A vessel of 4.0e6 J/K, heated by 300 W/K from 393 K and losing 60 W/K to 293 K, from 293 to 353 K: 14,155 s as published (from a
        ceiling rounded to 376.3 K; 14,144 unrounded). The heater's own part counts as a loss: P = 300 (393 - 293) W at 293 K.

        >>> round(3600 * hours_to_heat(4.0e6, 30_000.0, (20.0, 80.0), (0.0, 360.0 * 60)))
        14144
    """
    seconds = 0.0
    for (low_c, low_w), (high_c, high_w) in pairwise(zip(temperatures_c, losses_w, strict=True)):
        left, right = power_w - low_w, power_w - high_w
        if left <= 0.0 or right <= 0.0:
            return inf
        rise = capacity_j_k * (high_c - low_c)
        straight = (high_w - low_w) / power_w
        seconds += rise / left if abs(straight) < STRAIGHT else rise / (high_w - low_w) * log(left / right)
    return seconds / SECONDS


def power_for_hours(capacity_j_k: float, hours: float, temperatures_c: Sequence[float], losses_w: Sequence[float]) -> float:
    """Power that arrives in the time asked for.

    Equation
        t(P) = hours, with the t of `hours_to_heat`, solved for P by halving

    Parameters
        capacity_j_k: heat capacity of liquid, shell and load [J/K]
        hours: time asked for [h]
        temperatures_c: rising temperatures [°C]
        losses_w: losses at each of them [W]

    Returns
        power [W]

    Reference
        From `hours_to_heat`.

    Example
        Worked by hand: without losses it is the heat over the time: 1e6 J/K by 36 K in 10 h is 1 kW.

        >>> round(power_for_hours(1.0e6, 10.0, (20.0, 56.0), (0.0, 0.0)))
        1000
    """
    sensible = capacity_j_k * (temperatures_c[-1] - temperatures_c[0]) / (hours * SECONDS)
    low, high = max(losses_w), max(losses_w) + sensible
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if hours_to_heat(capacity_j_k, middle, temperatures_c, losses_w) > hours else (low, middle)
    return high


def flow_load(kg_h: float, cp_j_kgk: float, rise_k: float) -> float:
    """Power that work passing through, or make-up, carries away.

    Equation
        Q = m c (T - T_in)

    Parameters
        kg_h: mass through the bath [kg/h]
        cp_j_kgk: specific heat [J/(kg K)]
        rise_k: bath temperature less that of what comes in, 0 where it comes in hotter [K]

    Returns
        power [W]

    Reference
        Published worked example of a final rinse tank, operating formula.

    Example
        Published: 40 gal/h of make-up water from 60 to 180 F: 40 x 8.345 x 120 / 3412 = 11.74 kW.

        >>> round(flow_load(40 * 8.345 * 0.45359237, 4186.8, 120 / 1.8) / 1000, 2)
        11.74
    """
    return kg_h * cp_j_kgk * max(rise_k, 0.0) / SECONDS


def sparger_strip(runs: int, length_m: float, width_m: float) -> float:
    """Free surface that air spargers add.

    Equation
        A = n w L, with w = 6 in (0.1524 m)

    Parameters
        runs: runs of sparger along the tank [-]
        length_m: length of a run [m]
        width_m: w [m]

    Returns
        area [m²]

    Reference
        Metal finishing guidebook 2011-12, immersion heater design, p. 668.

    Example
        Published: two runs along the 4 ft side of a tank of 12 ft2: 16 ft2 in all.

        >>> round(12 + sparger_strip(2, 4 * 0.3048, 0.1524) / 0.3048**2, 6)
        16.0
    """
    return runs * width_m * length_m


def saturated_bubbles(
    air_l_s: float, *, bath_c: float, room_c: float, bath_vapour_pa: float, room_vapour_pa: float, latent_j_kg: float, pressure_pa: float
) -> float:
    """Power that agitating air takes out when every bubble leaves hot and saturated: an upper bound.

    Equation
        Q = m_da (1.006 kJ/(kg K) (T - T_a) + (W_s - W_a) h_fg), W = 0.622 p_v / (p - p_v)

    Parameters
        air_l_s: free air [L/s]
        bath_c: temperature of the bath [°C]
        room_c: temperature of the room [°C]
        bath_vapour_pa: vapour pressure over the bath [Pa]
        room_vapour_pa: vapour pressure of the room's air [Pa]
        latent_j_kg: heat of evaporation [J/kg]
        pressure_pa: air pressure [Pa]

    Returns
        power [W]

    Reference
        Humidity ratio as in the ASHRAE Handbook, Fundamentals; worked by hand in the example.

    Example
        Worked by hand, 1 L/s in a 60 degree bath, room 20 degrees C and 50 %: 1.2e-3 x (40.2 + 0.146 x 2358) = 0.46 kW.

        >>> round(saturated_bubbles(1.0, bath_c=60.0, room_c=20.0, bath_vapour_pa=19946.0, room_vapour_pa=1170.0, latent_j_kg=2357.7e3,
        ...                         pressure_pa=101325.0))
        459
    """

    def ratio(vapour_pa: float) -> float:
        held = min(vapour_pa, MOST_VAPOUR_SHARE * pressure_pa)
        return VAPOUR_TO_AIR * held / (pressure_pa - held)

    carried = max(ratio(bath_vapour_pa) - ratio(room_vapour_pa), 0.0) * latent_j_kg
    return air_l_s * DRY_AIR_KG_L * (AIR_J_KGK * max(bath_c - room_c, 0.0) + carried)


def watt_density(power_w: float, diameter_mm: float, heated_mm: float, elements: int) -> float:
    """Power on each square centimetre of heated sheath.

    Equation
        P / (pi d L n)

    Parameters
        power_w: power of one heater [W]
        diameter_mm: outside diameter of the sheath [mm]
        heated_mm: heated length of one element of it [mm]
        elements: n, elements of one heater [-]

    Returns
        watt density [W/cm²]

    Reference
        S. K. Som, Introduction to Heat Transfer, example 8.8.

    Example
        Printed: 450 W on 8 mm x 300 mm: 5.97 W/cm2, 38.5 W/in2.

        >>> round(watt_density(450.0, 8.0, 300.0, 1), 2)
        5.97
    """
    return 100.0 * power_w / (pi * diameter_mm * heated_mm * elements)
