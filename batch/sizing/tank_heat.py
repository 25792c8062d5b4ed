"""What a bath needs: to heat up in the time asked for, and to hold its temperature at work; with the band that the laws deserve."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import ceil, floor, inf
from typing import NamedTuple

from msgspec import Struct

from batch.method.bath_heat import (
    flow_load,
    hours_to_heat,
    power_for_hours,
    power_to_heat_up,
    saturated_bubbles,
    sparger_strip,
    stored_heat,
)
from batch.method.bath_surface import (
    draught_ratio,
    moving_air_evaporation,
    natural_convection,
    radiation,
    still_evaporation,
    vapour_pressure,
    water_activity,
)
from batch.method.tank_walls import layers, wall_loss
from batch.rules.thermal import Thermal, thermal
from batch.sizing.bath import BALLS, FIXED_COVER, LID, OPEN, Bath

STEPS = 16  # parts of the way from start to operating temperature
JOULES_IN_KWH = 3.6e6


class HeatBand(NamedTuple):
    """A figure and what it may be, low and high, W or J."""

    low: float = 0.0
    mid: float = 0.0
    high: float = 0.0

    def plus(self, other: HeatBand) -> HeatBand:
        return HeatBand(self.low + other.low, self.mid + other.mid, self.high + other.high)

    def times(self, factor: float) -> HeatBand:
        return HeatBand(self.low * factor, self.mid * factor, self.high * factor)


def within(value: float, down: float, up: float) -> HeatBand:
    return HeatBand(value / down, value, value * up)


class Stated(NamedTuple):
    """Figures to two places, kW: what is shown, and what is judged by. Rounded up, parts and sums, so that none is less than it was worked
    out to be; only the lower end of the band is the nearest.
    """

    rest: float
    working: float
    walls: float
    work: float
    makeup: float
    air: float
    idle: float
    up: float | None
    hold: float
    need: float
    low: float
    high: float

    @property
    def heats_up(self) -> bool:
        """Whether heating up governs."""
        return self.up is not None and self.up > self.hold


class HeatNeed(Struct, frozen=True):
    """What a bath needs, W and J, as worked out and as stated."""

    stored: HeatBand
    rest: HeatBand
    working: HeatBand
    walls: HeatBand
    work: HeatBand
    makeup: HeatBand
    air: HeatBand
    up: HeatBand | None
    hold: HeatBand
    temperatures_c: tuple[float, ...]
    losses_w: tuple[float, ...]  # at each temperature, at rest
    stated: Stated

    @property
    def idle_w(self) -> float:
        return self.rest.mid + self.walls.mid

    def hours(self, power_w: float) -> float:
        """Time to heat up with this power, h; infinite where it never gets there."""
        if power_w <= self.idle_w:
            return inf
        rise = self.temperatures_c[-1] - self.temperatures_c[0]
        return 0.0 if rise <= 0.0 else hours_to_heat(self.stored.mid / rise, power_w, self.temperatures_c, self.losses_w)


def two_figures(value: float) -> float:
    """To two figures, no finer than a hundredth: as `ROUND` of a spreadsheet does it, halves away from nought."""
    digits = (value < 1) + (value < 10) + (value < 100) - (value >= 1000) - 1
    scale = 10.0**digits
    return floor(round(value * scale, 9) + 0.5) / scale


def two_figures_up(value: float) -> float:
    """The same, up, as `ROUNDUP` does it: nothing that a tank needs or takes is stated below what it is."""
    digits = (value < 1) + (value < 10) + (value < 100) - (value >= 1000) - 1
    scale = 10.0**digits
    return ceil(round(round(value, 6) * scale, 6)) / scale


@lru_cache(maxsize=8192)
def heat_need(bath: Bath) -> HeatNeed:
    """The need of a bath; equal baths are worked out once."""
    tables = thermal()
    losses = _Losses(bath, tables)
    hot = bath.operating_c
    stored = _stored(bath, tables)
    rest, working = losses.surface(hot, bath.cover), losses.surface(hot, OPEN if bath.cover == LID else bath.cover)
    walls = losses.walls(hot)
    work = losses.sensible(flow_load(bath.work_load_kg_h, bath.work.cp_j_kgk, hot - bath.room_c))
    makeup = losses.makeup()
    air = losses.air(hot)
    temperatures = _way(bath.start_c, hot)
    on_the_way = tuple(losses.at_rest(at) for at in temperatures)
    up = _up(bath, stored, rest.plus(walls), way=temperatures, losses=on_the_way, share=tables.figure("half_the_losses").value)
    hold = working.plus(walls).plus(work).plus(makeup).plus(air)
    parts = (rest, working, walls, work, makeup, air)
    stated = _stated(parts, stored, up, hold, bath=bath, share=tables.figure("half_the_losses").value)
    return HeatNeed(stored, *parts, up, hold, temperatures, on_the_way, stated)


def _way(start_c: float, hot_c: float) -> tuple[float, ...]:
    if start_c >= hot_c:
        return (hot_c,)
    return tuple(start_c + (hot_c - start_c) * at / STEPS for at in range(STEPS + 1))


def _stored(bath: Bath, tables: Thermal) -> HeatBand:
    """Heat that liquid, shell and load take up from start to operating temperature, melting counted in."""
    rise = max(bath.operating_c - bath.start_c, 0.0)
    liquid, litres = bath.liquid, bath.volume_l
    water = tables.water((bath.operating_c + bath.start_c) / 2.0)
    density, cp = (liquid.density_kg_m3 or water.density_kg_m3), (liquid.cp_j_kgk or water.cp_j_kgk)
    mass = litres / 1000.0 * density
    taken = stored_heat(mass, cp, rise)
    if liquid.freezes_c is not None and bath.start_c < liquid.freezes_c < bath.operating_c:
        taken += mass * liquid.fusion_j_kg
    shell_kg = (bath.sides_m2 + bath.surface_m2) * bath.wall_m * bath.shell.density_kg_m3 * bath.shell.follows
    solids = stored_heat(shell_kg, bath.shell.cp_j_kgk, rise) + stored_heat(bath.load_kg, bath.work.cp_j_kgk, rise)
    band = tables.figure("band_sensible").value
    down, over = (band, band) if bath.liquid_known else (tables.figure("band_liquid_low").value, tables.figure("band_liquid_high").value)
    return within(taken, down, over).plus(within(solids, band, band))


def _up(
    bath: Bath, stored: HeatBand, idle: HeatBand, *, way: Sequence[float], losses: Sequence[float], share: float
) -> HeatBand | None:
    """Power to heat up in time: half the losses, or the integrated time where that asks for more; None where no time is asked for."""
    if bath.heatup_h is None:
        return None
    if stored.mid <= 0.0:
        return HeatBand()
    low, mid, high = (power_to_heat_up(taken, bath.heatup_h, lost, share) for taken, lost in zip(stored, idle, strict=True))
    capacity = stored.mid / (way[-1] - way[0])
    if mid <= idle.mid or hours_to_heat(capacity, mid, way, losses) > bath.heatup_h:
        exact = power_for_hours(capacity, bath.heatup_h, way, losses)
        return HeatBand(low * exact / mid, exact, high * exact / mid)
    return HeatBand(low, mid, high)


def _stated(
    parts: Sequence[HeatBand], stored: HeatBand, up: HeatBand | None, hold: HeatBand, *, bath: Bath, share: float
) -> Stated:
    rest, working, walls, work, makeup, air = (two_figures_up(part.mid / 1000.0) for part in parts)
    idle = two_figures_up(rest + walls)
    held = two_figures_up(working + walls + work + makeup + air)
    heated = None
    if up is not None and bath.heatup_h is not None:
        by_half = stored.mid / JOULES_IN_KWH / bath.heatup_h + share * idle
        integrated = up.mid > power_to_heat_up(stored.mid, bath.heatup_h, parts[0].mid + parts[2].mid, share) * (1 + 1e-9)
        heated = two_figures_up(max(by_half, up.mid / 1000.0) if integrated else by_half)
    need = max(heated or 0.0, held)
    low = min(two_figures(max(up.low if up else 0.0, hold.low) / 1000.0), need)
    high = max(two_figures_up(max(up.high if up else 0.0, hold.high) / 1000.0), need)
    return Stated(rest, working, walls, work, makeup, air, idle, heated, held, need, low, high)


class _Losses:
    """What one bath loses at a temperature, W."""

    def __init__(self, bath: Bath, tables: Thermal) -> None:
        self.bath, self.tables = bath, tables
        value = self._value
        self.still, self.moving = value("still_air_w_m2_pa"), value("moving_air_w_m2_pa")
        self.boelter, self.power = value("boelter_kg_m2_h"), value("boelter_power")
        self.upward, self.side = value("upward_convection"), value("side_convection")
        self.emits, self.wall_emits = value("surface_emissivity"), value("wall_emissivity")
        self.pressure = value("standard_pressure_pa")
        self.activity = 0.0
        if bath.liquid.evaporates and bath.liquid.boils_c is not None:
            self.activity = water_activity(bath.liquid.boils_c, self.pressure)
        self.room_vapour = bath.room_rh * vapour_pressure(bath.room_c) if bath.liquid.evaporates else 0.0
        shell = (bath.wall_m, bath.shell.k_w_mk)
        self.layers = layers(shell, (bath.insulation_m, value("insulation_k")))
        self.walls_m2 = bath.sides_m2 + value("bottom_share") * bath.surface_m2

    def _value(self, name: str) -> float:
        return self.tables.figure(name).value

    def _drop(self, at_c: float) -> float:
        return self.activity * vapour_pressure(at_c) - self.room_vapour if self.activity else 0.0

    def evaporation(self, at_c: float, air_m_s: float) -> float:
        """W/m2: the greater of both laws."""
        drop, latent = self._drop(at_c), self.tables.water(at_c).latent_j_kg
        still = still_evaporation(drop, latent, self.boelter, self.power)
        return max(still, moving_air_evaporation(drop, air_m_s, self.still, self.moving))

    def open_surface(self, at_c: float, air_m_s: float) -> float:
        """W/m2 of an open surface, as expected."""
        return self.evaporation(at_c, air_m_s) + self._dry(at_c, air_m_s)

    def open_surface_upper(self, at_c: float, air_m_s: float) -> float:
        """W/m2 of an open surface in a draught, at most: evaporation from hot water sped up by the draught."""
        ratio = draught_ratio(air_m_s, self.still, self.moving)
        return max(self.evaporation(at_c, air_m_s), ratio * self.evaporation(at_c, 0.0)) + self._dry(at_c, air_m_s)

    def _dry(self, at_c: float, air_m_s: float) -> float:
        ratio, room = draught_ratio(air_m_s, self.still, self.moving), self.bath.room_c
        return max(radiation(at_c, room, self.emits), 0.0) + ratio * natural_convection(at_c, room, self.upward)

    def covered(self, at_c: float) -> float:
        """W/m2 through a lid: as a bare wall."""
        return wall_loss(at_c, self.bath.room_c, 0.0, self.wall_emits, self.side)

    def expected(self, at_c: float, cover: str) -> float:
        """W/m2 of the surface as expected."""
        if cover in (LID, FIXED_COVER):
            return self.covered(at_c)
        share = self._value("balls_share") if cover == BALLS else 1.0
        return share * self.open_surface(at_c, self.bath.air_m_s)

    def surface(self, at_c: float, cover: str) -> HeatBand:
        """The whole surface with its band."""
        bath, mid = self.bath, self.expected(at_c, cover)
        if cover in (LID, FIXED_COVER):
            band = within(mid, *2 * (self._value("band_covered_surface"),))
        elif cover == BALLS:
            whole = mid / self._value("balls_share")
            band = HeatBand(self._value("balls_share_low") * whole, mid, self._value("balls_share_high") * whole)
        elif bath.air_m_s > 0.0:
            spread = self._value("band_draught_surface")
            band = HeatBand(mid / spread, mid, max(mid * spread, self.open_surface_upper(at_c, bath.air_m_s)))
        else:
            spread = self._value("band_still_surface")
            high = mid * spread
            if not bath.draught_known:
                high = max(high, self.open_surface(at_c, self._value("doubtful_draught_m_s")))
            band = HeatBand(mid / spread, mid, high)
        return band.times(bath.surface_m2)

    def walls_mid(self, at_c: float) -> float:
        return self.walls_m2 * wall_loss(at_c, self.bath.room_c, self.layers, self.wall_emits, self.side)

    def walls(self, at_c: float) -> HeatBand:
        mid = self.walls_mid(at_c)
        if self.bath.insulation_m > 0.0:
            return within(mid, *2 * (self._value("band_insulated_wall"),))
        up = self._value("band_bare_wall")
        return within(mid, self._value("band_bright_wall") if self.bath.shell.bright else up, up)

    def at_rest(self, at_c: float) -> float:
        """Losses on the way up: covered as declared, not working."""
        return self.expected(at_c, self.bath.cover) * self.bath.surface_m2 + self.walls_mid(at_c)

    def sensible(self, watts: float) -> HeatBand:
        return within(watts, *2 * (self._value("band_sensible"),))

    def makeup(self) -> HeatBand:
        """Cold liquid added: as stated, and at least what replaces the water that evaporates."""
        bath = self.bath
        water = self.tables.water((bath.operating_c + bath.makeup_c) / 2.0)
        rise = bath.operating_c - bath.makeup_c
        stated = flow_load(bath.makeup_l_h * water.density_kg_m3 / 1000.0, water.cp_j_kgk, rise)
        lost = flow_load(self._evaporated_kg_h(), water.cp_j_kgk, rise)
        return self.sensible(max(stated, lost))

    def _evaporated_kg_h(self) -> float:
        """Water that leaves the surface at work."""
        bath = self.bath
        if not self.activity or bath.cover == FIXED_COVER:
            return 0.0
        share = self._value("balls_share") if bath.cover == BALLS else 1.0
        flux = share * self.evaporation(bath.operating_c, bath.air_m_s)
        return 3600.0 * flux * bath.surface_m2 / self.tables.water(bath.operating_c).latent_j_kg

    def air(self, at_c: float) -> HeatBand:
        """Air agitation: a strip of free surface for each sparger run; at most, every bubble leaves hot and saturated."""
        bath = self.bath
        if not bath.air_agitation:
            return HeatBand()
        runs = max(1, floor(bath.width_m / self._value("sparger_pitch_m") + 0.5))
        strip = sparger_strip(runs, bath.length_m, self._value("sparger_strip_m"))
        mid, spread = strip * self.open_surface(at_c, bath.air_m_s), self._value("band_air")
        bubbles = saturated_bubbles(
            self._value("air_rate_l_s_m2") * bath.surface_m2,
            bath_c=at_c,
            room_c=bath.room_c,
            bath_vapour_pa=self.activity * vapour_pressure(at_c),
            room_vapour_pa=self.room_vapour,
            latent_j_kg=self.tables.water(at_c).latent_j_kg,
            pressure_pa=self.pressure,
        )
        return HeatBand(mid / spread, mid, max(mid * spread, bubbles))
