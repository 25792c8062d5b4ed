"""What is known of a bank once its currents are: the joined stars, what heats the bath, and what one open branch does."""

from __future__ import annotations

from typing import NamedTuple

from batch.findings import Remark, remark
from batch.records import Design
from batch.rules import RuleSet
from batch.sizing import panels as split
from batch.sizing.connection import Joint
from batch.sizing.current import delivered_power, design_current, judge_volts, rated_current
from batch.sizing.phasors import Loads
from batch.sizing.protection import Circuits, circuits_of_heater
from batch.sizing.stock import Stock

MOST_TRIES = 4


class BankCurrents(NamedTuple):
    """What is known of a bank once its currents are."""

    design: Design
    joint: Joint
    applied_v: float
    heater_a: float
    design_a: float
    running_a: float
    circuits: int
    kind: str
    stars: tuple[int, ...]  # heaters of each joined star: one to a panel
    stock: Stock

    @property
    def branch_a(self) -> float:
        return self.design_a / self.circuits

    @property
    def required_a(self) -> float:
        return self.branch_a * self.design.settings.with_margin

    def loads(self, heaters: int, running: bool = False) -> Loads:
        """Loads of so many of its heaters dealt from L1: design amps, or running amps."""
        nominal = self.heater_a * self.joint.applied_v / self.design.volts_v
        loads = split.loads_of(self.joint, self.design.supply, heaters, nominal)
        return loads.times((self.running_a if running else self.design_a) / self.running_a)

    def whole(self) -> Loads:
        """Design loads of the whole bank from the first line on; joined stars each on their own, dealing going on from one to the next."""
        if not self.stars:
            return self.loads(self.design.quantity)
        total, at = Loads(), 0
        for heaters in self.stars:
            total = total.plus(self.loads(heaters).turned(at % 3, self.design.supply))
            at += heaters
        return total


def bank_currents(design: Design, joint: Joint, rules: RuleSet, stock: Stock) -> tuple[BankCurrents, list[Remark]]:
    """What each heater of a bank draws, and in how many circuits. How a joined star is split depends on the circuits of a heater, and
    those on its volts: tried again until both agree."""
    heater_a = rated_current(design.power_kw, design.volts_v, design.phases)
    kind, circuits = design.device_kind or design.settings.device_kind, 0
    counted = Circuits(design.circuits_per_heater or 1, ())
    for _ in range(MOST_TRIES):
        if circuits == counted.count:
            break
        circuits = counted.count
        stars = _joined_stars(design, joint, circuits)
        applied_v, said = _applied(design, joint, stars, rules)
        design_a = design_current(heater_a, applied_v, design.volts_v, rules)
        counted = circuits_of_heater(design_a, design.circuits_per_heater, design.settings, rules)
    running_a = heater_a * applied_v / design.volts_v
    bank = BankCurrents(design, joint, applied_v, heater_a, design_a, running_a, counted.count, kind, stars, stock)
    return bank, [*said, *counted.remarks]


def _applied(design: Design, joint: Joint, stars: tuple[int, ...], rules: RuleSet) -> tuple[float, list[Remark]]:
    """Greatest volts on a heater of the bank, and what they give to say."""
    uneven = next((heaters for heaters in stars if heaters % 3), 0)
    if not uneven:
        judged = judge_volts(joint.applied_v, design.volts_v, rules)
        return joint.applied_v, [judged] if judged else []
    counts = split.leg_counts(joint, design.supply, uneven)
    applied_v = max(_greatest_leg(design, joint, heaters) for heaters in stars)
    over = applied_v / design.volts_v > rules.factor("wye_leg_limit").value + 1e-9
    said = [
        remark(
            "wye-legs-uneven" if over else "wye-legs-uneven-within",
            "quantity",
            quantity=design.quantity,
            legs=" + ".join(map(str, counts)),
            volts=f"{applied_v:.4g} V",
            percent=f"{100 * applied_v / design.volts_v:.0f} %",
        )
    ]
    judged = judge_volts(applied_v, design.volts_v, rules)
    if judged is not None and judged.code == "volts-low":
        said.append(judged)  # even the leg with the greatest volts is short of them
    return applied_v, said


def _joined_stars(design: Design, joint: Joint, circuits: int) -> tuple[int, ...]:
    """Heaters of each joined star: each panel has a star point of its own."""
    if joint.join != "joined star":
        return ()
    most = design.branches_per_panel or design.settings.branches_per_panel
    takes = split.heaters_per_panel(joint, most, circuits) or split.smallest_group(joint)
    return split.split_heaters(joint, design.supply, design.quantity, takes)


def _greatest_leg(design: Design, joint: Joint, heaters: int, opened: int | None = None) -> float:
    """Greatest volts across a leg of a joined star that still has a heater, with one heater of leg `opened` taken out."""
    star = split.joined_star(joint, design.supply, heaters, 1.0, opened)
    left = [count - (leg == opened) for leg, count in enumerate(split.leg_counts(joint, design.supply, heaters))]
    return max((volts for volts, count in zip(star.leg_volts, left, strict=True) if count), default=0.0)


def delivered_kw(bank: BankCurrents, rules: RuleSet) -> float:
    """Kilowatts that heat the bath; an uneven star's from its phasors."""
    design, joint = bank.design, bank.joint
    if any(heaters % 3 for heaters in bank.stars):
        nominal = bank.heater_a * joint.applied_v / design.volts_v
        legs = [split.joined_star(joint, design.supply, heaters, nominal) for heaters in bank.stars]
        return sum(volts * drawn for star in legs for volts, drawn in zip(star.leg_volts, star.leg_amps, strict=True)) / 1000.0
    return design.quantity * delivered_power(design.power_kw, bank.applied_v, design.volts_v, rules)


def one_branch_open(bank: BankCurrents, rules: RuleSet) -> tuple[float, list[Remark]]:
    """Greatest volts on a heater of the same group when one branch device has opened, per cent of its rating.

    Parallel, delta, neutral: as before. A star of three leaves two in series at 86.6 %. A joined star of m heaters a leg gives
    the opened leg 3m / (3m - 1) of its volts: phasor sum of what remains.
    """
    design, joint = bank.design, bank.joint
    if joint.join == "star":
        return 100.0 * (design.supply.volts_v / 2.0) / design.volts_v, []
    if joint.join != "joined star":
        return 100.0 * bank.applied_v / design.volts_v, []
    worst = max(
        _greatest_leg(design, joint, heaters, opened=leg)
        for heaters in bank.stars
        for leg in range(3)
        if split.leg_counts(joint, design.supply, heaters)[leg]
    )
    percent = 100.0 * worst / design.volts_v
    if worst / design.volts_v <= rules.factor("open_branch_limit").value + 1e-9:
        return percent, []
    return percent, [remark("open-branch-overvoltage", "connection", percent=f"{percent:.0f} %", power=f"{percent**2 / 100:.0f} %")]
