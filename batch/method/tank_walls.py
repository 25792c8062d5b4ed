"""What leaves through the walls and the bottom of a tank. Fluxes in W/m2, temperatures in degrees C."""

from __future__ import annotations

from batch.method.bath_surface import KELVIN, STEFAN_BOLTZMANN, natural_convection, radiation

STEPS, CLOSE_K = 30, 1e-9


def layers(*thickness_and_conductivity: tuple[float, float]) -> float:
    """Resistance of the layers of a wall in series.

    Equation
        R = t1 / k1 + t2 / k2 + ...

    Parameters
        thickness_and_conductivity: thickness and conductivity of each layer [m], [W/(m K)]

    Returns
        resistance [m² K/W]

    Reference
        Fourier's law.

    Example
        Worked by hand: 12 mm of polypropylene is no insulation: 0.06 m2 K/W.

        >>> round(layers((0.012, 0.20)), 2)
        0.06
    """
    return sum(thickness / conductivity for thickness, conductivity in thickness_and_conductivity)


def wall_loss(bath_c: float, room_c: float, layers_m2k_w: float, emissivity: float, convection: float) -> float:
    """Heat flux through a wall whose outside gives off by natural convection and radiation.

    Equation
        q = (T - T_s) / R = C (T_s - T_a)^(4/3) + e s (T_s^4 - T_a^4), solved for the outside T_s; the liquid's own film is left out

    Parameters
        bath_c: temperature of the bath [°C]
        room_c: temperature of the room [°C]
        layers_m2k_w: resistance of shell and insulation [m² K/W]
        emissivity: emissivity of the outside [-]
        convection: C for an upright wall [W/(m² K^4/3)]

    Returns
        heat flux, 0 where the room is the warmer [W/m²]

    Reference
        Simplified equations for air and the Stefan-Boltzmann law; compared with a published table of open steel tanks and with D. Q. Kern,
        Process Heat Transfer, example 10.4.

    Example
        Bare steel at 150 F in a 60 F room: 180 Btu/(h ft2), 568 W/m2, in the published table; 2 % less here. Behind 2 in of old insulation
        (0.065 W/(m K)): 18 Btu/(h ft2), 57 W/m2.

        >>> round(wall_loss(65.56, 15.56, 0.0, 0.9, 1.31)), round(wall_loss(65.56, 15.56, 0.0508 / 0.065, 0.9, 1.31))
        (558, 55)
    """
    if bath_c <= room_c:
        return 0.0
    outside = bath_c
    if layers_m2k_w > 0.0:
        for _ in range(STEPS):  # Newton's way from above: what leaves rises ever steeper, so it never falls short
            over = max(outside - room_c, 0.0)
            excess = _outside(outside, room_c, emissivity, convection) - (bath_c - outside) / layers_m2k_w
            slope = convection * 4.0 / 3.0 * over ** (1.0 / 3.0) + 4.0 * emissivity * STEFAN_BOLTZMANN * (outside + KELVIN) ** 3
            step = excess / (slope + 1.0 / layers_m2k_w)
            outside -= step
            if step < CLOSE_K:
                break
    return _outside(outside, room_c, emissivity, convection)


def _outside(outside_c: float, room_c: float, emissivity: float, convection: float) -> float:
    return natural_convection(outside_c, room_c, convection) + radiation(outside_c, room_c, emissivity)
