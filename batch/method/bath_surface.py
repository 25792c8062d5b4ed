"""What leaves a free liquid surface: evaporation, convection and radiation, in still air and in a draught.

Fluxes are in W/m2, temperatures in degrees C, pressures in Pa. The coefficients of the correlations are arguments: they stand in the
table of figures, each with its source. Published figures for hot tanks disagree by 20 to 25 % in still air and by more in a draught,
so nothing that comes from here is good to three figures.
"""

from __future__ import annotations

from math import exp

STEFAN_BOLTZMANN = 5.670374e-8
"""Stefan-Boltzmann constant, W/(m2 K4). CODATA, rounded."""
SECONDS = 3600.0
"""Seconds of an hour, exact."""
KELVIN = 273.15
"""0 degrees C in K, exact."""
CRITICAL_K, CRITICAL_PA = 647.096, 22.064e6
"""Critical temperature and pressure of water. IAPWS SR1-86(1992)."""
VAPOUR_TERMS = ((1.0, -7.85951783), (1.5, 1.84408259), (3.0, -11.7866497), (3.5, 22.6807411), (4.0, -15.9618719), (7.5, 1.80122502))
"""Powers and coefficients of the vapour pressure equation of IAPWS SR1-86(1992), from memory; a test compares them with IAPWS-95."""


def vapour_pressure(temperature_c: float) -> float:
    """Saturation pressure of water.

    Equation
        ln(p / pc) = (Tc / T) (a1 t + a2 t^1.5 + a3 t^3 + a4 t^3.5 + a5 t^4 + a6 t^7.5), t = 1 - T / Tc

    Parameters
        temperature_c: temperature, 0 to 370 [°C]

    Returns
        saturation pressure [Pa]

    Reference
        IAPWS SR1-86(1992), Revised supplementary release on saturation properties of ordinary water substance.

    Example
        Steam tables have 19.95 kPa at 60 degrees C and 70.18 kPa at 90.

        >>> round(vapour_pressure(60.0) / 1000, 2), round(vapour_pressure(90.0) / 1000, 2)
        (19.95, 70.18)
    """
    kelvin = temperature_c + KELVIN
    tau = 1.0 - kelvin / CRITICAL_K
    return CRITICAL_PA * exp(CRITICAL_K / kelvin * sum(factor * tau**power for power, factor in VAPOUR_TERMS))


def water_activity(boils_c: float, pressure_pa: float) -> float:
    """Share of pure water's vapour pressure that stands over a solution that boils at a known temperature.

    Equation
        a = p / p_sat(T_boil): at its boiling point a solution's vapour pressure is that of the air.

    Parameters
        boils_c: boiling point of the solution [°C]
        pressure_pa: air pressure [Pa]

    Returns
        activity, at most 1 [-]

    Reference
        definition of the activity; colder than boiling the true activity of strong caustic is lower, so this is the safe side

    Example
        Worked by hand from printed boiling points: water at 100 degrees C, caustic of 50 % at about 142.

        >>> round(water_activity(100.0, 101325.0), 2), round(water_activity(142.0, 101325.0), 2)
        (1.0, 0.26)
    """
    return min(1.0, pressure_pa / vapour_pressure(boils_c))


def still_evaporation(vapour_drop_pa: float, latent_j_kg: float, coefficient: float, power: float) -> float:
    """Heat that evaporation takes from a hot surface in still air.

    Equation
        q = C (p_w - p_a)^n h_fg / 3600, with C = 1.62e-5 kg/(m2 h) and n = 1.22

    Parameters
        vapour_drop_pa: vapour pressure at the surface less that of the air [Pa]
        latent_j_kg: heat of evaporation at the surface [J/kg]
        coefficient: C [kg/(m² h)]
        power: n [-]

    Returns
        heat flux, 0 where the air is wetter than the surface [W/m²]

    Reference
        L. M. K. Boelter, H. S. Gordon, J. R. Griffin, Industrial and Engineering Chemistry 38 (1946) 596, from memory. Published figure:
        Department of Energy, Steam Tip Sheet 19.

    Example
        150 F water in a 75 F room of dry air: 856 Btu/(h ft2), 2700 W/m2, in the tip sheet; the law is 6 % below it.

        >>> round(still_evaporation(vapour_pressure(65.556), 2344.1e3, 1.62e-5, 1.22))
        2528
    """
    return coefficient * max(vapour_drop_pa, 0.0) ** power * latent_j_kg / SECONDS


def moving_air_evaporation(vapour_drop_pa: float, air_m_s: float, still: float, moving: float) -> float:
    """Heat that evaporation takes from a surface over which air moves.

    Equation
        q = (C0 + C1 v) (p_w - p_a), with C0 = 0.089 W/(m2 Pa) and C1 = 0.0782 W/(m2 Pa) for each m/s

    Parameters
        vapour_drop_pa: vapour pressure at the surface less that of the air [Pa]
        air_m_s: speed of the air over the surface [m/s]
        still: C0 [W/(m² Pa)]
        moving: C1 [W/(m² Pa) per m/s]

    Returns
        heat flux, 0 where the air is wetter than the surface [W/m²]

    Reference
        W. H. Carrier 1918, as ASHRAE Transactions 104 (1998) paper 4146 gives it: W = (95 + 0.425 v)(p_w - p_a) / Y.

    Example
        Worked by hand: 95 Btu/(h ft2 inHg), the law as printed, is 0.0885 W/(m2 Pa): 10,000 Pa take 885 W/m2.

        >>> round(moving_air_evaporation(10_000.0, 0.0, 95 * 3.154591 / 3386.389, 0.0))
        885
    """
    return (still + moving * air_m_s) * max(vapour_drop_pa, 0.0)


def draught_ratio(air_m_s: float, still: float, moving: float) -> float:
    """How much more a surface gives off in moving air than in still air.

    Equation
        r = (C0 + C1 v) / C0

    Parameters
        air_m_s: speed of the air over the surface [m/s]
        still: C0 of the evaporation in moving air [W/(m² Pa)]
        moving: C1 of it [W/(m² Pa) per m/s]

    Returns
        ratio, 1 in still air [-]

    Reference
        From the law above; Department of Energy, Steam Tip Sheet 19, for the doubling.

    Example
        The tip sheet: 3 mph "more than doubles" the loss.

        >>> round(draught_ratio(1.34, 0.089, 0.0782), 2)
        2.18
    """
    return (still + moving * air_m_s) / still


def radiation(surface_c: float, room_c: float, emissivity: float) -> float:
    """Heat that a surface radiates to a room.

    Equation
        q = e s (T^4 - T_a^4), temperatures in K

    Parameters
        surface_c: temperature of the surface [°C]
        room_c: temperature of the air and the walls around [°C]
        emissivity: emissivity of the surface [-]

    Returns
        heat flux [W/m²]

    Reference
        Stefan-Boltzmann law; D. Q. Kern, Process Heat Transfer, example 10.4, p. 218.

    Example
        Steel of emissivity 0.8 at 100 F against 0 F: 0.75 Btu/(h ft2 F) in the textbook, 4.2 W/(m2 K).

        >>> round(radiation(37.78, -17.78, 0.8) / 55.56, 1)
        4.2
    """
    return emissivity * STEFAN_BOLTZMANN * ((surface_c + KELVIN) ** 4 - (room_c + KELVIN) ** 4)


def natural_convection(surface_c: float, room_c: float, coefficient: float) -> float:
    """Heat that still air takes from a warm surface, in turbulent natural convection.

    Equation
        q = C (T - T_a)^(4/3), with C = 1.52 for a surface that faces up and 1.31 for an upright wall

    Parameters
        surface_c: temperature of the surface [°C]
        room_c: temperature of the air and the walls around [°C]
        coefficient: C [W/(m² K^4/3)]

    Returns
        heat flux, 0 where the surface is the colder [W/m²]

    Reference
        Simplified equations for air of heat-transfer textbooks, from memory; compared with a published table of open tanks.

    Example
        With radiation, water at 140 F in a 60 F room: 160 Btu/(h ft2), 505 W/m2, in the published table; 5 % more here.

        >>> round(natural_convection(60.0, 15.56, 1.52) + radiation(60.0, 15.56, 0.95))
        529
    """
    return coefficient * max(surface_c - room_c, 0.0) ** (4.0 / 3.0)
