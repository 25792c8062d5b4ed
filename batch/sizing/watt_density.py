"""How hard the sheaths of a bank work, and whether its heaters go into their tank."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from batch.findings import Remark, remark
from batch.method.bath_heat import watt_density
from batch.records import Bank, Tank
from batch.results import BankDesign
from batch.rules.thermal import thermal
from batch.sizing.words import millimetres, per_square, range_per_square

CLOSE = 1e-6
TUBES_OF_THREE_PHASES = 3


class Density(NamedTuple):
    """Watt density of a bank's sheaths and the range of its liquid, W/cm2."""

    here: float
    low: float
    high: float


def tubes_of(bank: Bank) -> int:
    """Heated tubes of one heater: given, or one a phase."""
    return bank.tubes_per_heater or (TUBES_OF_THREE_PHASES if bank.phases == 3 else 1)


def density_of(bank: Bank, design: BankDesign, tank: Tank | None) -> Density | None:
    """None where hot length, diameter, or the liquid is not known."""
    if bank.heated_length_mm is None or bank.diameter_mm is None:
        return None
    liquid = thermal().liquid(tank.liquid) if tank is not None and tank.liquid else None
    if liquid is None:
        return None
    watts = 1000.0 * design.delivered_kw / bank.quantity
    here = watt_density(watts, bank.diameter_mm, bank.heated_length_mm, tubes_of(bank))
    return Density(here, liquid.watt_low_w_cm2, liquid.watt_high_w_cm2)


def density_remarks(bank: Bank, design: BankDesign, tank: Tank | None) -> Iterator[Remark]:
    """What is said of a bank's sheaths: only where the tank's liquid is known."""
    if tank is None or not tank.liquid:
        return
    liquid = thermal().liquid(tank.liquid)
    if bank.heated_length_mm is None or bank.diameter_mm is None:
        yield remark("watt-density-unknown", "diameter_mm" if bank.diameter_mm is None else "heated_length_mm")
    elif bank.tubes_per_heater is None:
        yield remark("tubes-assumed", "tubes_per_heater", count=tubes_of(bank))
    density = density_of(bank, design, tank)
    if liquid is not None and density is not None and density.here > density.low * (1 + CLOSE):
        words = {"density": per_square(density.here), "usual": range_per_square(density.low, density.high), "liquid": liquid.name}
        yield remark("watt-density" if density.here > density.high * (1 + CLOSE) else "watt-density-upper", "heated_length_mm", **words)
    yield from _too_long(bank, tank)


def _too_long(bank: Bank, tank: Tank) -> Iterator[Remark]:
    sides = [side for side in (tank.length_m, tank.width_m, tank.depth_m) if side is not None]
    if bank.heated_length_mm is None or len(sides) < 3:
        return
    if bank.heated_length_mm > 1000.0 * max(sides) * (1 + CLOSE):
        length, longest = millimetres(bank.heated_length_mm), millimetres(1000.0 * max(sides))
        yield remark("heater-longer-than-tank", "heated_length_mm", length=length, longest=longest)
