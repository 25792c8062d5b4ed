"""What is known of a bank once its currents are: the common-point wyes, what heats the bath, and what one open branch does."""

from __future__ import annotations

from typing import NamedTuple

from batch.findings import Remarks
from batch.method.common_point_wye import two_in_series
from batch.method.currents import (
    BAND_DIGITS,
    VoltsBand,
    applied_current,
    delivered_power,
    design_current,
    rated_current,
    running_current,
    volts_band,
)
from batch.method.line_currents import Loads, heaters_on_legs, rotated
from batch.method.overcurrent import minimum_branch_rating
from batch.method.panel_split import heaters_per_panel, split_heaters
from batch.method.subdivided_heaters import circuits_needed, largest_element_load
from batch.records import Design, Settings
from batch.rules import RuleSet
from batch.sizing.connection import Connected
from batch.sizing.legs import common_point, loads_of
from batch.sizing.stock import Stock
from batch.sizing.words import amps, amps_above
from batch.systems import Connection

MOST_TRIES = 4  # until circuits and split of a common-point wye agree: circuits only rise from one to the next
MOST_CIRCUITS = 24  # of one heater: as many as its column takes; common practice, no source
CLOSE = 1e-9
BANDS = {VoltsBand.NEAR: "volts-near", VoltsBand.LOW: "volts-low", VoltsBand.HIGH: "volts-high", VoltsBand.OVER: "volts-over"}


class BankCurrents(NamedTuple):
    """A bank once its currents are known. `branch_a` is the design current of one circuit, `required_a` that with its margin;
    `wyes` are the heaters of each common-point wye, one to a panel."""

    design: Design
    connected: Connected
    applied_v: float
    heater_a: float
    design_a: float
    running_a: float
    circuits: int
    branch_a: float
    required_a: float
    kind: str
    wyes: tuple[int, ...]
    stock: Stock

    @property
    def connection(self) -> Connection:
        return self.connected.connection

    def loads(self, heaters: int, running: bool = False) -> Loads:
        """Loads of so many of its heaters in rotation from L1: design amps, or running amps."""
        nominal = applied_current(self.heater_a, self.connected.applied_v, self.design.volts_v)
        loads = loads_of(self.connected, self.design.supply, heaters, nominal)
        whole = applied_current(self.heater_a, self.applied_v, self.design.volts_v)  # an uneven wye's by its fullest leg
        return loads.times((self.running_a if running else self.design_a) / whole)

    def whole(self) -> Loads:
        """Design loads of the whole bank from the first line on; common-point wyes each on their own, the rotation going on."""
        if not self.wyes:
            return self.loads(self.design.quantity)
        total, at = Loads(), 0
        for heaters in self.wyes:
            total = total.plus(rotated(self.loads(heaters), at % 3, self.design.supply.system))
            at += heaters
        return total


def bank_currents(design: Design, connected: Connected, rules: RuleSet, stock: Stock, said: Remarks) -> BankCurrents:
    """What each heater of a bank draws, and in how many circuits. How a common-point wye is split depends on the circuits of a heater,
    and those on its volts: tried again until both agree. Where fewer circuits would only need more again, the more are kept."""
    settings = design.settings
    heater_a = rated_current(design.power_kw, design.volts_v, design.phases)
    circuits, count, heard = 0, design.circuits_per_heater or 1, Remarks()
    for _ in range(MOST_TRIES):
        if circuits == count:
            break
        circuits, before, heard = count, heard, Remarks()
        wyes = _common_point_wyes(design, connected, circuits)
        applied_v = _applied_volts(design, connected, wyes, rules, heard)
        design_a = design_current(heater_a, applied_v, design.volts_v, rules).value
        count = circuits_of_heater(design_a, design.circuits_per_heater, settings, rules, heard)
        if count < circuits:
            count = circuits
            heard.take(*before)
    said.take(*heard)
    branch_a = design_a / count
    return BankCurrents(
        design=design,
        connected=connected,
        applied_v=applied_v,
        heater_a=heater_a,
        design_a=design_a,
        running_a=running_current(heater_a, applied_v, design.volts_v, rules).value,
        circuits=count,
        branch_a=branch_a,
        required_a=minimum_branch_rating(branch_a, settings.margin_pct, rules).value,
        kind=design.device_kind or settings.device_kind,
        wyes=wyes,
        stock=stock,
    )


def circuits_of_heater(design_a: float, given: int | None, settings: Settings, rules: RuleSet, said: Remarks) -> int:
    """How many element circuits a heater has: as given, else 1, and never fewer than the clause on subdivision needs (then said).

    Devices of a heater that has to be subdivided are its maker's; those of a smaller one are ordinary branch devices.
    """
    limit = largest_element_load(settings.margin_pct, rules).value
    needed = circuits_needed(design_a, settings.margin_pct, rules).value
    if needed > MOST_CIRCUITS:  # a slip in watts or volts: sized as far as it goes, so that a thousand such heaters do not fill the machine
        table = f"{MOST_CIRCUITS} circuits a heater"
        said.add("beyond-table", "power_kw", what=f"A heater of {amps(design_a)}", value=f"{needed} circuits", table=table)
        needed = MOST_CIRCUITS
    if given is None and needed > 1:
        said.add("heater-over-limit", "power_kw", amps=amps_above(design_a, limit), limit=amps(limit), circuits=needed)
    elif given is not None and given < needed:
        each = {"amps": amps(design_a / given), "limit": amps(limit)}
        said.add("circuits-too-few", "circuits_per_heater", given=given, circuits=needed, **each)
    count = max(given or 1, needed)
    if needed > 1:
        said.add("supplementary-devices", "circuits_per_heater", circuits=count)
    return count


def judge_volts(applied_v: float, rated_v: float, rules: RuleSet, said: Remarks) -> None:
    """What there is to say of volts off the rating; nothing within the same nominal voltage."""
    band = volts_band(applied_v, rated_v, rules).value
    if band is VoltsBand.SAME:
        return
    off = round(applied_v / rated_v - 1.0, BAND_DIGITS)
    said.add(
        BANDS[band],
        "volts_v",
        applied=f"{applied_v:.4g} V",
        rated=f"{rated_v:.4g} V",
        percent=f"{100 * off:+.1f} %",
        power=f"{100 * (1 + off) ** 2:.0f} %",
    )


def _applied_volts(design: Design, connected: Connected, wyes: tuple[int, ...], rules: RuleSet, said: Remarks) -> float:
    """Greatest volts on a heater of the bank."""
    uneven = next((heaters for heaters in wyes if heaters % 3), 0)
    if not uneven:
        judge_volts(connected.applied_v, design.volts_v, rules, said)
        return connected.applied_v
    counts = heaters_on_legs(connected.connection, design.supply.system, uneven)
    applied_v = max(_greatest_leg(design, connected, heaters) for heaters in wyes)
    over = applied_v / design.volts_v > rules.factor("wye_leg_limit").value + CLOSE
    said.add(
        "wye-legs-uneven" if over else "wye-legs-uneven-within",
        "quantity",
        quantity=design.quantity,
        legs=" + ".join(map(str, counts)),
        volts=f"{applied_v:.4g} V",
        percent=f"{100 * applied_v / design.volts_v:.0f} %",
    )
    if volts_band(applied_v, design.volts_v, rules).value is VoltsBand.LOW:
        judge_volts(applied_v, design.volts_v, rules, said)  # even the leg with the greatest volts is short of them
    return applied_v


def _common_point_wyes(design: Design, connected: Connected, circuits: int) -> tuple[int, ...]:
    """Heaters of each common-point wye: each panel has a wye point of its own."""
    connection = connected.connection
    if connection is not Connection.COMMON_POINT_WYE:
        return ()
    most = design.branches_per_panel or design.settings.branches_per_panel
    takes = heaters_per_panel(connection, most, circuits) or connection.group
    return split_heaters(connection, design.supply.system, design.quantity, takes)


def _greatest_leg(design: Design, connected: Connected, heaters: int, opened: int | None = None) -> float:
    """Greatest volts across a leg of a common-point wye that still has a heater, with one heater of leg `opened` taken out."""
    wye = common_point(connected, design.supply, heaters, 1.0, opened)
    counts = heaters_on_legs(connected.connection, design.supply.system, heaters)
    left = [count - (leg == opened) for leg, count in enumerate(counts)]
    return max((volts for volts, count in zip(wye.leg_volts, left, strict=True) if count), default=0.0)


def delivered_kw(bank: BankCurrents, rules: RuleSet) -> float:
    """Kilowatts that heat the bath; an uneven wye's from its phasors."""
    design, connected = bank.design, bank.connected
    if any(heaters % 3 for heaters in bank.wyes):
        nominal = applied_current(bank.heater_a, connected.applied_v, design.volts_v)
        wyes = [common_point(connected, design.supply, heaters, nominal) for heaters in bank.wyes]
        return sum(volts * drawn for wye in wyes for volts, drawn in zip(wye.leg_volts, wye.leg_amps, strict=True)) / 1000.0
    return design.quantity * delivered_power(design.power_kw, bank.applied_v, design.volts_v, rules).value


def one_branch_open(bank: BankCurrents, rules: RuleSet, said: Remarks) -> float:
    """Greatest volts on a heater of the same group when one branch device has opened, per cent of its rating.

    Parallel, delta, neutral: as before. A wye of three leaves two in series at 86.6 %. A common-point wye of m heaters a leg gives
    the opened leg 3m / (3m - 1) of its volts: phasor sum of what remains.
    """
    design, connected = bank.design, bank.connected
    if bank.connection is Connection.SEPARATE_WYES:
        return 100.0 * two_in_series(design.supply.volts_v) / design.volts_v
    if bank.connection is not Connection.COMMON_POINT_WYE:
        return 100.0 * bank.applied_v / design.volts_v
    worst = max(
        _greatest_leg(design, connected, heaters, opened=leg)
        for heaters in bank.wyes
        for leg, count in enumerate(heaters_on_legs(bank.connection, design.supply.system, heaters))
        if count
    )
    percent = 100.0 * worst / design.volts_v
    if worst / design.volts_v > rules.factor("open_branch_limit").value + CLOSE:
        said.add("open-branch-overvoltage", "connection", percent=f"{percent:.0f} %", power=f"{percent**2 / 100:.0f} %")
    return percent
