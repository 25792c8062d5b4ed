"""Water as the heat check has it, against the IAPWS-95 formulation (CoolProp, a library of the test extra alone)."""

from __future__ import annotations

import CoolProp.CoolProp as CoolProp
import pytest

from batch.method.bath_surface import vapour_pressure
from batch.rules.thermal import thermal

TABLES = thermal()

@pytest.mark.parametrize("temperature_c", range(5, 100))
def test_water_is_that_of_the_iapws_formulation(temperature_c: int) -> None:
    kelvin = temperature_c + 273.15

    def oracle(what: str, *state: object) -> float:
        return CoolProp.PropsSI(what, "T", kelvin, *state, "Water")

    water = TABLES.water(temperature_c)
    assert vapour_pressure(temperature_c) == pytest.approx(oracle("P", "Q", 0), rel=0.001)
    assert water.density_kg_m3 == pytest.approx(oracle("D", "P", 101325), rel=0.001)
    assert water.cp_j_kgk == pytest.approx(oracle("C", "P", 101325), rel=0.002)
    assert water.latent_j_kg == pytest.approx(oracle("H", "Q", 1) - oracle("H", "Q", 0), rel=0.001)
