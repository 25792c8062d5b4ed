"""Is it enough heat: every tank with heaters, its need against what its banks deliver at the feeder's volts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from math import ceil, inf
from typing import NamedTuple

from msgspec.structs import replace

from batch.findings import Remarks
from batch.heat_results import ENOUGH, MARGINAL, NEVER, NOT_JUDGED, SHORT, TankHeat, over_pct
from batch.held_once import held_once
from batch.method.common_point_wye import ungrounded_wye
from batch.records import Bank, Tank
from batch.results import BankRow
from batch.rules.thermal import thermal
from batch.sizing.bath import NAMES, Bath, settle
from batch.sizing.tank_heat import JOULES_IN_KWH, HeatNeed, heat_need, two_figures_up
from batch.sizing.watt_density import Density, density_of
from batch.sizing.words import celsius, kilowatts
from batch.systems import Connection

GENEROUS = 3.0  # times the need; common practice, no source
CLOSE = 1e-9


class Judged(NamedTuple):
    """A tank's row, and what is said of it: about its row of Tanks, or about its first bank where it has none."""

    row: TankHeat
    record: Tank | Bank
    said: Remarks


def check_heat(
    banks: Sequence[Bank], rows: Sequence[BankRow], tanks: Mapping[str, Tank], margin_pct: float, unread: Sequence[str] = ()
) -> Iterator[Judged]:
    """One row for each tank with heaters, in the order in which the heater list names them; at the end those of Tanks whose rows of it
    could none of them be read.

    banks   every bank of the project, sized or not
    rows    the banks that were sized
    tanks   rows of Tanks by tag, folded
    unread  the tank of each row that could not be read, folded
    """
    heated: dict[str, list[Bank]] = {}
    for bank in banks:
        heated.setdefault(bank.tank.casefold(), []).append(bank)
    sized: dict[str, list[BankRow]] = {}
    for row in rows:
        sized.setdefault(row.bank.tank.casefold(), []).append(row)
    without = sum(key not in tanks for key in heated)
    said_without = False
    for key, listed in heated.items():
        tank, own = tanks.get(key), sized.get(key, [])
        judging = _Judging(listed[0].tank, tank, own, len(listed) - len(own) + unread.count(key), margin_pct)
        if tank is None and not said_without:
            said_without = True
            judging.said.add("heat-no-tank", "tank", count=without)
        yield Judged(judging.row(), tank or listed[0], judging.said)
    for key in dict.fromkeys(unread):
        if key in tanks and key not in heated:
            judging = _Judging(tanks[key].tank, tanks[key], (), unread.count(key), margin_pct)
            yield Judged(judging.row(), tanks[key], judging.said)


class _Judging:
    """One tank's way to its verdict. Collects what is said."""

    def __init__(self, tag: str, tank: Tank | None, rows: Sequence[BankRow], refused: int, margin_pct: float) -> None:
        self.tag, self.tank, self.rows, self.refused, self.margin_pct = tag, tank, rows, refused, margin_pct
        self.installed = sum(row.heating_kw for row in rows)
        self.said = Remarks()
        self.settled = settle(tank, thermal(), self.said) if tank is not None else None
        if refused and self.settled is not None:
            self.said.add("heat-bank-refused", "tank")

    def row(self) -> TankHeat:
        if self.settled is None:
            return self._plain(NOT_JUDGED, "no row on Tanks")
        if self.settled.missing:
            return self._plain(NOT_JUDGED, "not given: " + ", ".join(NAMES[key].lower() for key in self.settled.missing))
        if self.settled.bath is None:
            return self._plain(NOT_JUDGED, "at its boiling point")
        if self.refused:
            return self._plain(NOT_JUDGED, "a bank is not sized")
        return self._judged(self.settled.bath)

    def _plain(self, verdict: str, why: str) -> TankHeat:
        """The row before anything of its bath is worked out."""
        density = self._density()
        given = self.tank
        return TankHeat(
            verdict=verdict,
            why=held_once(why),
            tag=self.tag,
            tank=given,
            banks=len(self.rows),
            heaters=sum(row.bank.quantity for row in self.rows),
            installed_kw=self.installed,
            one_out_kw=self.installed - max((_heat_lost_kw(row) for row in self.rows), default=0.0),
            margin_pct=self.margin_pct,
            density_w_cm2=density.here if density else None,
            density_low_w_cm2=density.low if density else None,
            density_high_w_cm2=density.high if density else None,
            operating_c=given.operating_c if given else None,
            heatup_h=given.heatup_h if given else None,
            assumed=self.settled.assumed if self.settled else (),
        )

    def _density(self) -> Density | None:
        """Of the bank nearest to, or farthest over, what its liquid takes."""
        found = [density for row in self.rows if (density := density_of(row.bank, row.design, self.tank)) is not None]
        return max(found, key=lambda density: density.here / density.high, default=None)

    def _judged(self, bath: Bath) -> TankHeat:
        need = heat_need(bath)
        stated = need.stated
        verdict = self._verdict(need)
        hours = need.hours(1000.0 * self.installed)
        governs = "heat-up" if stated.heats_up else "holding"
        if stated.up is None:
            self.said.add("heat-up-not-judged", "heatup_h")
        would_do = self._would_do(stated.need) if verdict != ENOUGH else ""
        plain = self._plain(verdict, f"{governs} governs" + (", no heat-up time given" if stated.up is None else ""))
        row = replace(
            plain,
            liquid=bath.liquid.name,
            start_c=bath.start_c,
            surface_m2=bath.surface_m2,
            volume_l=bath.volume_l,
            stored_kwh=need.stored.mid / JOULES_IN_KWH,
            rest_kw=stated.rest,
            working_kw=stated.working,
            walls_kw=stated.walls,
            work_kw=stated.work,
            makeup_kw=stated.makeup,
            air_kw=stated.air,
            idle_kw=stated.idle,
            up_kw=stated.up,
            hold_kw=stated.hold,
            need_kw=stated.need,
            low_kw=stated.low,
            high_kw=stated.high,
            hours=two_figures_up(hours) if hours < 1e4 and verdict != NEVER else None,
            would_do=would_do,
            basis=_basis(bath.liquid.evaporates, bath.air_m_s > 0.0, bath.air_agitation),
        )
        self._say(row, governs, bath.heatup_h is not None and hours > bath.heatup_h)
        return row

    def _verdict(self, need: HeatNeed) -> str:
        stated = need.stated
        if self.installed <= stated.idle and stated.idle > 0.0:  # as the sheet judges, by what it states
            return NEVER
        over = over_pct(self.installed, stated.need) if stated.need > 0.0 else inf
        if over >= 100.0 + self.margin_pct:
            return ENOUGH
        return MARGINAL if over >= 100.0 else SHORT

    def _would_do(self, need_kw: float) -> str:
        """How many heaters of the listed kind: of the tank's bank with the most heat, the others staying as they are."""
        most = max(self.rows, key=lambda row: row.design.delivered_kw)
        each = most.heating_kw / most.bank.quantity
        others = self.installed - most.heating_kw
        margin_pct = ceil(10.0 * self.margin_pct - CLOSE) / 10.0  # to a tenth, as it is judged
        wanted = max(ceil((need_kw * (1.0 + margin_pct / 100.0) - others) / each - CLOSE), 0)
        where = f" in bank {most.label}" if len(self.rows) > 1 else ""
        return f"{wanted} of {most.bank.power_kw:g} kW{where}, not {most.bank.quantity}"

    def _say(self, row: TankHeat, governs: str, is_late: bool) -> None:
        words = {
            "installed": kilowatts(row.installed_kw),
            "need": f"{row.need_kw:g} kW",
            "low": f"{row.low_kw:g}",
            "high": f"{row.high_kw:g} kW",
        }
        if row.verdict == NEVER:
            idle, hot = f"{row.idle_kw:g} kW", celsius(row.operating_c or 0.0)
            self.said.add("heat-never", "operating_c", **words, idle=idle, operating=hot)
        elif row.verdict == SHORT:
            late = f" It takes {row.hours:g} h to heat up, not {row.heatup_h:g} h." if is_late and row.hours is not None else ""
            self.said.add("heat-short", "heatup_h", **words, governs=governs, late=late)
        elif row.verdict == MARGINAL:
            self.said.add("heat-marginal", "heatup_h", **words, governs=governs, margin=f"{self.margin_pct:g} %")
        elif row.need_kw and row.installed_kw > GENEROUS * row.need_kw:
            self.said.add("heat-generous", "operating_c", installed=words["installed"], need=words["need"])


@lru_cache
def _basis(evaporates: bool, draught: bool, agitated: bool) -> tuple[str, ...]:
    laws = ["stored heat of liquid, shell and load; half the losses while heating up, or the integrated time where that asks for more"]
    if evaporates:
        laws.append("evaporation: the greater of Boelter 1946 and Carrier 1918" + (" in the draught stated" if draught else ""))
    else:
        laws.append("no evaporation: not a watery liquid")
    laws.append("natural convection and radiation, simplified equations; nothing credited for rectifier heat; sea level")
    if agitated:
        laws.append("air agitation: a strip of 6 in of free surface for each sparger run")
    return tuple(laws)


def _heat_lost_kw(row: BankRow) -> float:
    """Of what the bank is good for as heat, which may be less than it delivers where it is on hold: so never more than that."""
    return _lost_kw(row) * row.heating_kw / row.design.delivered_kw


def _lost_kw(row: BankRow) -> float:
    """Kilowatts that a bank loses when the branch opens that costs most."""
    design, bank = row.design, row.bank
    if design.single_circuit is not None:
        return design.delivered_kw  # one circuit
    each = design.delivered_kw / (bank.quantity * design.circuits_per_heater)
    if design.connected is Connection.SEPARATE_WYES:
        return 1.5 * each  # the other two are left in series at half the power of three
    if design.connected is Connection.COMMON_POINT_WYE:
        return max(_lost_of_wye(panel.heaters, bank, row.supply.volts_v) for panel in design.panels)
    return each


def _lost_of_wye(heaters: int, bank: Bank, line_line_v: float) -> float:
    """Of one wye without a neutral, its heaters on the legs in rotation."""
    siemens = 1000.0 * bank.power_kw / bank.volts_v**2
    legs = [(heaters + 2 - leg) // 3 * siemens for leg in range(3)]

    def left(opened: int) -> float:
        """Watts with one heater of leg `opened` out; -1 = none."""
        a, b, c = (size - (siemens if leg == opened else 0.0) for leg, size in enumerate(legs))
        wye = ungrounded_wye((a, b, c), line_line_v)
        return sum(volts * amps for volts, amps in zip(wye.leg_volts, wye.leg_amps, strict=True))

    return (left(-1) - min(left(leg) for leg in range(3) if legs[leg])) / 1000.0
