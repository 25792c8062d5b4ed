"""How much heat an invented tank would need, roughly: so that the samples' heaters are plausible, never as a check of anything.

Forms: sensible heat V rho c dT / t; still open surface by the Boelter form of evaporation plus natural convection and
radiation; bare walls at 10 W/(m2 K). All from memory, textbook forms.
"""

from __future__ import annotations

import math
from typing import NamedTuple

GALLONS_PER_FT3 = 7.4805
DIAMETER_IN = 0.475


class Bath(NamedTuple):
    """An invented tank, in the US units its workbook shows: ft, degrees F, hours."""

    duty: str
    liquid: str
    length: float
    width: float
    depth: float
    temperature: float
    hours: float = 8
    cover: str = "open"
    tank_material: str = "polypropylene"
    density: float = 20  # watts per square inch of sheath, chosen low for what the liquid bears
    sheath: str = "316 stainless"
    agitation: str = "no"
    air: float = 0  # ft/min over the surface; 0 = no exhaust
    work: float | None = None  # lb/h of steel with its racks
    makeup: float | None = None  # gal/h

    @property
    def gallons(self) -> int:
        return round(self.length * self.width * self.depth * GALLONS_PER_FT3, -1)


def need_kw(bath: Bath, start: float = 55, room: float = 68) -> float:
    """The greater of heating up and holding, with a fifth on top, kW."""
    def celsius(f: float) -> float:
        return (f - 32) / 1.8

    def vapour_pa(c: float) -> float:
        return 610.94 * math.exp(17.625 * c / (c + 243.04))  # Magnus form, memory

    hot, air = celsius(bath.temperature), celsius(room)
    length, width, depth = bath.length * 0.3048, bath.width * 0.3048, bath.depth * 0.3048
    evaporation = 1.62e-5 * max(vapour_pa(min(hot, 99)) - 0.5 * vapour_pa(air), 0) ** 1.22 * 2350e3 / 3600
    dry = 1.52 * (hot - air) ** (4 / 3) + 0.95 * 5.67e-8 * ((hot + 273.15) ** 4 - (air + 273.15) ** 4)
    kept = {"open": 1.0, "lid": 0.15, "floating balls": 0.3}[bath.cover]
    walls = 10 * (hot - air) * (2 * (length + width) * depth + 0.5 * length * width)
    loss_kw = ((evaporation + dry) * kept * length * width + walls) / 1000
    up_kw = length * width * depth * 4250 * (hot - celsius(start)) / (bath.hours * 3600)
    return 1.2 * max(up_kw + loss_kw / 2, loss_kw * 1.35)


def sheath(kw: float, bath: Bath, phases: int) -> dict[str, object]:
    """Cells of one heater's sheath at the bath's watt density: tubes of 0.475 in, as many as it takes to go into the tank; inches."""
    whole = kw * 1000 / (bath.density * math.pi * DIAMETER_IN)
    goes_in = 0.8 * 12 * max(bath.length, bath.width, bath.depth)
    tubes = math.ceil(whole / goes_in)
    tubes = 3 * math.ceil(tubes / 3) if phases == 3 else tubes
    return {"heated_length_mm": math.ceil(whole / tubes), "diameter_mm": DIAMETER_IN, "tubes_per_heater": tubes}
