"""What meters should read at a heater panel or single-circuit bank: the figures of its test record, by its own terminals.

Ohms are read with the panel dead and its supply wires off; amps stand for the supply's nominal volts and go with the volts measured. The
drop along the wires is left out of the amps: they are read a little low by it, well within the band of the heaters' power.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import product
from math import inf
from typing import NamedTuple

from batch.method.common_point_wye import ungrounded_wye
from batch.method.heater_test import (
    Band,
    amps_band,
    bond_limit,
    heater_resistance,
    insulation_test,
    joined_resistances,
    lead_resistance,
    wye_as_delta,
)
from batch.method.line_currents import ROOT3, Loads, line_currents
from batch.records import Bank, Supply
from batch.results import PanelDesign
from batch.rules import Cited, RuleSet
from batch.systems import System

PAIRS = ("L1-L2", "L2-L3", "L3-L1")
LINES = ("L1", "L2", "L3")
EQUAL = 1e-9


class Reading(NamedTuple):
    """What a meter should read there: "L1-L2" [ohm], "L1", "N" [A]; an open circuit is inf ohm."""

    at: str
    band: Band


class Opened(NamedTuple):
    """What is read with one branch out.

    what      "branch", "pole" (of a 3-phase heater), "heater" (of three poles, or where the bank is one circuit), "line", "neutral" (of
              the supply, where its lines are not equal: else it does not show)
    on        terminals: "L1-L2", "L1"; "" = of any
    branches  which of the panel's branches, from 1, are such; () = any
    """

    what: str
    on: str
    branches: tuple[int, ...]
    ohms: tuple[Reading, ...]
    amps: tuple[Reading, ...]
    volts: tuple[tuple[str, float], ...] = ()  # with the neutral open: across the heaters of each line, over their nominal


class PanelReadings(NamedTuple):
    """The figures of a test record.

    volts_v     nominal volts of the supply that the amps stand for
    volts_at    where volts are measured
    heater      resistance of one heater, or of one of its circuits, between its leads; of a 3-phase one line to line [ohm]
    leads_ohm   what two leads add where it is read at the panel; None = their length or size is not known
    nameplate   its current at its nameplate's volts [A]
    each        the same at the supply's volts, for each leg where they differ [A]
    joined      between the panel's terminals, all heaters joined, leads counted where known [ohm]
    all_on      in each line [A]
    opened      one branch out, kind by kind
    bond_ohm    at most from sheath or tank to the ground bar
    bond_known  whether that goes by the length of its conductor
    test_v      direct volts of the insulation test, and where they stand
    """

    volts_v: float
    volts_at: tuple[str, ...]
    heater: Band
    leads_ohm: float | None
    nameplate: Band
    each: tuple[Reading, ...]
    joined: tuple[Reading, ...]
    all_on: tuple[Reading, ...]
    opened: tuple[Opened, ...]
    bond_ohm: float
    bond_known: bool
    test_v: Cited[float]


def panel_readings(
    panel: PanelDesign, bank: Bank, supply: Supply, rules: RuleSet, *, circuits: int, run_m: float | None
) -> PanelReadings:
    """What to read at one panel, or at a single-circuit bank.

    circuits  element circuits of a heater
    run_m     from there to a heater, one way; None = not known
    """
    watts, phases = 1000.0 * bank.power_kw / circuits, bank.phases
    heater = heater_resistance(watts, bank.volts_v, phases, rules).value
    wires = panel.branch.wires
    lead, ground = (_lead(size, wires.material, run_m, rules) for size in (wires.size, wires.ground))
    more = 2.0 * lead if lead is not None else 0.0
    bare = _Network(panel.legs, supply)
    bands = [_Network(panel.legs, supply, ohms + more) for ohms in heater]
    amps = watts / bank.volts_v / (ROOT3 if phases == 3 else 1.0)
    return PanelReadings(
        volts_v=supply.volts_v,
        volts_at=bare.volts_at,
        heater=heater,
        leads_ohm=None if lead is None else more,
        nameplate=amps_band(amps, rules).value,
        each=tuple(Reading(at, amps_band(value, rules).value) for at, value in bare.with_ohms(heater.nominal).each()),
        joined=_ohms(bands),
        all_on=_amps(bare.with_ohms(heater.nominal), rules),
        opened=tuple(_opened(panel, supply, heater.nominal, bands, rules)),
        bond_ohm=bond_limit(ground, rules).value,
        bond_known=ground is not None,
        test_v=insulation_test(supply.volts_v, rules),
    )


def _lead(size: str, material: str, run_m: float | None, rules: RuleSet) -> float | None:
    if run_m is None or not size:
        return None
    found = lead_resistance(size, material, run_m, rules)
    return None if found is None else found.value


class _Network:
    """The heaters of a panel between its terminals, each of `ohm`, some of them out; `cut` is a line that is open ahead of all."""

    def __init__(
        self, legs: Sequence[str], supply: Supply, ohm: float = 1.0, *, out: Iterable[int] = (), pole: tuple[int, str] | None = None,
        cut: str = "",
    ) -> None:  # fmt: skip
        self.legs, self.supply, self.ohm, self.out, self.pole = legs, supply, ohm, frozenset(out), pole
        self.cut = "" if cut == "N" else cut
        self.floats = cut == "N"  # open ahead of the neutral bar, which stays joined to all heaters
        parts = {part for leg in legs for part in leg.split("-")}
        wye = any(part.startswith("WP") for part in parts)
        self.neutral = "N" in parts
        self.lines = [line for line in LINES[: supply.system.lines] if line in parts or wye]
        self.leg_v = supply.volts_v
        if supply.phases == 3:
            self.leg_v = supply.volts_v / ROOT3
        elif supply.system is System.THREE_WIRE:
            self.leg_v = supply.volts_v / 2.0

    def with_ohms(self, ohm: float) -> _Network:
        return _Network(self.legs, self.supply, ohm, out=self.out, pole=self.pole, cut="N" if self.floats else self.cut)

    @property
    def volts_at(self) -> tuple[str, ...]:
        between = tuple(pair for pair in PAIRS if set(pair.split("-")) <= set(self.lines))
        return (*between, *(f"{line}-N" for line in self.lines if self.neutral))

    def siemens(self) -> Loads:
        """Conductance on each pair and from each line to the neutral, wyes as deltas."""
        on = dict.fromkeys((*PAIRS, *(f"{line}-N" for line in LINES)), 0.0)
        wyes: dict[str, list[float]] = {}
        for number, leg in enumerate(self.legs):
            if number in self.out:
                continue
            line, other = leg.split("-")[0], leg.split("-")[-1]
            if leg.count("-") == 2:
                if self.pole is not None and self.pole[0] == number:
                    on[next(pair for pair in PAIRS if self.pole[1] not in pair)] += 1.0 / self.ohm
                else:
                    for pair in PAIRS:
                        on[pair] += 1.0 / (1.5 * self.ohm)
            elif other.startswith("WP"):
                wyes.setdefault(other, [0.0, 0.0, 0.0])[LINES.index(line)] += 1.0 / self.ohm
            else:
                on[leg] += 1.0 / self.ohm
        for wye in wyes.values():
            for pair, ohms in zip(PAIRS, wye_as_delta(*(1.0 / value if value else inf for value in wye)), strict=True):
                on[pair] += 0.0 if ohms == inf else 1.0 / ohms
        if self.cut:
            on |= {at: 0.0 for at in on if self.cut in at and at.endswith("-N")}
            if not self.neutral:  # what is left between the other two lines, the open one floating
                seen = self._seen(on)
                on = {at: 1.0 / seen[at] if at in PAIRS and self.cut not in at and seen[at] != inf else 0.0 for at in on}
        return Loads(*on.values())

    @staticmethod
    def _seen(on: dict[str, float]) -> dict[str, float]:
        return dict(zip(PAIRS, joined_resistances(*(1.0 / on[pair] if on[pair] else inf for pair in PAIRS)), strict=True))

    def ohms(self) -> list[tuple[str, float]]:
        """Between the terminals, supply wires off; between two lines of a neutral's heaters by the neutral bar."""
        x, y, z, *to_neutral = self.siemens()
        seen = self._seen(dict(zip(PAIRS, (x, y, z), strict=True)))
        legs = {line: 1.0 / value if value else inf for line, value in zip(LINES, to_neutral, strict=True)}
        found = [(f"{line}-N", legs[line]) for line in self.lines if self.neutral]
        for pair in PAIRS:
            one, other = pair.split("-")
            if one in self.lines and other in self.lines:
                found.append((pair, legs[one] + legs[other] if self.neutral else seen[pair]))
        return found

    def amps(self) -> list[tuple[str, float]]:
        """In each line and the neutral at the supply's nominal volts."""
        x, y, z, *to_neutral = self.siemens()
        volts, leg_v = self.supply.volts_v, self.leg_v
        if self.floats:
            siemens = dict(zip(LINES, to_neutral, strict=True))
            return [*((line, share * leg_v * siemens[line]) for line, share in self.floating()), ("N", 0.0)]
        lines = line_currents(Loads(volts * x, volts * y, volts * z, *(leg_v * one for one in to_neutral)), self.supply.system)
        found = [(line, amps) for line, amps in zip(LINES, lines[:3], strict=True) if line in self.lines]
        return [*found, *([("N", lines.n)] if self.neutral else [])]

    def floating(self) -> list[tuple[str, float]]:
        """Volts across the heaters of each line with the supply's neutral open, over those with it."""
        a, b, c = self.siemens()[3:]
        if self.supply.phases == 3:
            found = ungrounded_wye((a, b, c), self.supply.volts_v).leg_volts
        else:  # two legs in series between the lines; on one line nothing flows
            found = (self.supply.volts_v * b / (a + b), self.supply.volts_v * a / (a + b), 0.0) if a and b else (0.0, 0.0, 0.0)
        one_line = sum(bool(each) for each in (a, b, c)) == 1
        return [
            (line, 0.0 if one_line else volts / self.leg_v)
            for line, volts, own in zip(LINES, found, (a, b, c), strict=True) if own
        ]  # fmt: skip

    def neutral_band(self, share: Band) -> Band:
        """Amps in the neutral where the heaters on each line are between their least and their most (`share` of nominal): of equal legs
        nothing, to what one leg draws more than the others at most."""
        whole = [self.leg_v * one for one in self.siemens()[3:]]
        nominal = self._in_neutral(whole)
        ends = [(share.low * one, share.high * one) for one in whole]
        high = max(self._in_neutral(legs) for legs in product(*ends))
        if self.supply.phases == 3 and max(low for low, _ in ends) <= min(most for _, most in ends):
            return Band(0.0, nominal, high)  # all three may be equal
        least = min(self._in_neutral(legs) for legs in product(*ends))
        for at, (low, most) in enumerate(ends):  # or where one stands between the other two
            for one, other in product(*(pair for number, pair in enumerate(ends) if number != at)):
                legs = [one, other]
                legs.insert(at, min(max((one + other) / 2.0, low), most))
                least = min(least, self._in_neutral(legs))
        return Band(least, nominal, high)

    def _in_neutral(self, legs: Sequence[float]) -> float:
        return line_currents(Loads(0.0, 0.0, 0.0, *legs), self.supply.system).n

    def each(self) -> list[tuple[str, float]]:
        """Current of one heater by the terminals it stands on; one entry without them where all draw the same."""
        found: dict[str, float] = {}
        for leg in self.legs:
            line, other = leg.split("-")[0], leg.split("-")[-1]
            if leg.count("-") == 2:
                found[leg] = self.supply.volts_v * ROOT3 / (1.5 * self.ohm)
            elif other == "N":
                found[leg] = self.leg_v / self.ohm
            elif other.startswith("WP"):
                counts = [sum(one == f"{start}-{other}" for one in self.legs) for start in LINES]
                wye = ungrounded_wye((counts[0] / self.ohm, counts[1] / self.ohm, counts[2] / self.ohm), self.supply.volts_v)
                found[line] = wye.leg_volts[LINES.index(line)] / self.ohm
            else:
                found[leg] = self.supply.volts_v / self.ohm
        return list(found.items()) if max(found.values()) > min(found.values()) * (1 + 1e-9) else [("", next(iter(found.values())))]


def _ohms(bands: Sequence[_Network]) -> tuple[Reading, ...]:
    low, nominal, high = (network.ohms() for network in bands)
    return tuple(Reading(at, Band(least, ohms, most)) for (at, least), (_, ohms), (_, most) in zip(low, nominal, high, strict=True))


def _amps(network: _Network, rules: RuleSet) -> tuple[Reading, ...]:
    share = amps_band(1.0, rules).value
    return tuple(
        Reading(at, network.neutral_band(share) if at == "N" and not network.floats else amps_band(value, rules).value)
        for at, value in network.amps()
    )


def _opened(panel: PanelDesign, supply: Supply, ohm: float, bands: Sequence[_Network], rules: RuleSet) -> Iterable[Opened]:
    single = not panel.parts and panel.branches == 1 and not panel.block  # a bank on one circuit, its heaters on one contactor
    for what, on, branches, out, pole, cut in _kinds(panel.legs, supply, single):
        networks = [_Network(panel.legs, supply, one.ohm, out=out, pole=pole, cut=cut) for one in bands]
        nominal = _Network(panel.legs, supply, ohm, out=out, pole=pole, cut=cut)
        yield Opened(what, on, branches, _ohms(networks), _amps(nominal, rules), tuple(nominal.floating()) if nominal.floats else ())


_Kind = tuple[str, str, tuple[int, ...], tuple[int, ...], tuple[int, str] | None, str]


def _kinds(legs: Sequence[str], supply: Supply, single: bool) -> Iterable[_Kind]:
    """What can be out, each kind once: what, on which terminals, which branches are such, which heaters are out, pole, open line."""
    three_phase = legs[0].count("-") == 2
    if three_phase:
        if not single:
            for line in LINES:
                yield "pole", line, (), (), (0, line), ""
        if not single or len(legs) > 1:
            yield "heater", "", (), (0,), None, ""
    elif not single or len(legs) > 1:
        alike: dict[str, list[int]] = {}
        for number, leg in enumerate(legs):
            alike.setdefault(leg if "WP" not in leg else leg.split("-")[0], []).append(number)
        for on, numbers in alike.items():
            yield "heater" if single else "branch", on, tuple(number + 1 for number in numbers), (numbers[0],), None, ""
    if single:
        for line in _Network(legs, supply).lines:
            yield "line", line, (), (), None, line
    if any(abs(share - 1.0) > EQUAL for _, share in _Network(legs, supply).floating()):
        yield "neutral", "N", (), (), None, "N"

