"""Whether every circuit on a feeder disconnects an earth fault in time, under the codes that set times: by its own device, or by a
residual-current device."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from msgspec.structs import replace

from batch.counted_words import counted
from batch.earth_fault_results import EarthFault
from batch.findings import Remarks
from batch.method.earth_fault import (
    disconnection_time,
    driving_volts,
    given_source_in_loop,
    has_type,
    loop_impedance,
    loop_of_run,
    operating_current,
    source_in_loop,
)
from batch.method.residual_devices import largest_electrode, leakage_allowed, planned_leakage, residual_current
from batch.method.withstand import breaker_lets_through, energy_borne, fuse_lets_through
from batch.records import Bank, Project, Settings, Supply
from batch.results import Device, FeederRow, PanelDesign, Wires
from batch.rules import SLOW_S, RuleSet
from batch.sizing.neutral_poles import KIND, with_neutral_poles
from batch.sizing.phasing import DesignedBank
from batch.sizing.selective_fuses import judge_selectivity
from batch.sizing.sources import KnownSource
from batch.sizing.words import amps, energy, sentence, size_words, volts
from batch.systems import System

BY_DEVICE, BY_RESIDUAL = "its device", "its residual-current device"  # by what a circuit disconnects
SLOW, CURVE, NO_DEVICE = "too slow", "by the fuse's own curve", "residual-current device needed"
NO_LENGTH, NO_SOURCE, NOT_JUDGED = "no length", "source not known", "beyond the table"
ISOLATED = (System.DELTA,)
CLOSE = 1e-9
LARGEST_TRIP_MA = 300.0  # by which an electrode is judged where no residual-current device is asked for: the largest against fire


class Grounds(NamedTuple):
    """How a feeder is earthed: "TN-S", "TT", …, its volts to earth, and the resistance of its electrode where it is given."""

    earthing: str
    u0_v: float
    neutral: bool
    electrode_ohm: float | None

    @property
    def kind(self) -> str:
        """ "TN", "TT", "IT"."""
        return self.earthing[:KIND]


class LoopTo(NamedTuple):
    """What a fault goes through up to a point: ohms as far as they are known, and whether every length on it is."""

    ohm: complex
    known: bool


class OnLoop(NamedTuple):
    circuit: str
    tag: str
    bank: DesignedBank | None
    tank: str
    device: Device
    wires: Wires
    run_m: float | None
    final: bool
    start_ka: float | None  # fault current where it begins
    residual_ma: float | None = None


def residual_device(bank: Bank, project: Project, rules: RuleSet, said: Remarks) -> float | None:
    """The residual-current device of a bank's panel feeders: its own, or the project's; none where the code has no use for it."""
    if rules.works_earth_faults:
        return bank.rcd_ma if bank.rcd_ma is not None else project.rcd_ma
    if bank.rcd_ma is not None:
        said.add("setting-unused", "rcd_ma", setting="Residual-current device", value=f"{bank.rcd_ma:g} mA", rule_set=rules.name)
    return None


def judge_earth_faults(
    row: FeederRow, known: KnownSource, on: Sequence[DesignedBank], settings: Settings, *, rules: RuleSet, said: Remarks
) -> FeederRow:
    """The row with the earth faults of its circuits, and what is said of them; as it is under a code that sets no times."""
    given = row.feeder.earthing or known.source.earthing
    if not rules.works_earth_faults:
        if given is not None and on:
            said.add("setting-unused", "earthing", setting="Earthing", value=given, rule_set=rules.name)
        return row
    if not on or row.device is None or row.wires is None:
        return row
    grounds = _grounds(row, known, rules, said)
    made = _Judge(row, grounds, known, settings, rules)
    found = tuple(made.all_of(on))
    _say(found, made, on, said)
    row = with_neutral_poles(replace(row, earth_faults=found, earthing=grounds.earthing), on, rules=rules, said=said)
    judge_selectivity(row, on, rules=rules, said=said)
    return row


def _grounds(row: FeederRow, known: KnownSource, rules: RuleSet, said: Remarks) -> Grounds:
    """The earthing system as given on the feeder or its source, else by the system of the supply."""
    name, feeder, supply, ahead = row.feeder.feeder, row.feeder, row.supply, known.supply
    given = feeder.earthing or known.source.earthing
    isolated = ahead.system in ISOLATED
    if given is None:
        used, why = ("IT", "a delta without a grounded point") if isolated else (rules.default("earthing").value, "the default")
        said.add("earthing-assumed", "earthing", feeder=name, earthing=used, why=why)
    else:
        used = given
        if isolated and given != "IT":
            used = "IT"
            said.add("earthing-conflict", "earthing", feeder=name, earthing=given, system=str(ahead.system), used=used)
    electrode = feeder.electrode_ohm if feeder.electrode_ohm is not None else known.source.electrode_ohm
    return Grounds(used, _volts_to_earth(supply, ahead, rules), supply.has_neutral, electrode)


def _volts_to_earth(supply: Supply, ahead: Supply, rules: RuleSet) -> float:
    """Nominal volts from a line to earth; of two lines whose source is not known those of a star, the safe side."""
    if supply.system is System.LINE_TO_NEUTRAL:
        return supply.volts_v
    if ahead.system is System.CORNER_GROUNDED_DELTA:
        return ahead.volts_v
    return ahead.volts_v / 2.0 if ahead.system is System.THREE_WIRE else rules.stated_leg(ahead.volts_v)


def _source(known: KnownSource, rules: RuleSet) -> tuple[complex, bool, bool]:
    """What the source adds to a loop, whether that is known, and whether its angle is. A fault current given is taken as a greatest one."""
    if known.fault is None:
        return 0j, False, False
    ohm = known.fault.impedance
    if known.fault.how == "given":
        return given_source_in_loop(ohm.unit + ohm.primary, rules).value, True, ohm.complex_known
    return source_in_loop(ohm.unit, ohm.primary, rules).value, True, ohm.complex_known


class _Judge:
    """The circuits of one feeder, each with its loop."""

    def __init__(self, row: FeederRow, grounds: Grounds, known: KnownSource, settings: Settings, rules: RuleSet) -> None:
        self.row, self.grounds, self.settings, self.rules = row, grounds, settings, rules
        self.source, self.source_known, self.angle_known = _source(known, rules)
        self.driving_v = driving_volts(grounds.kind, grounds.u0_v, grounds.neutral, rules).value

    def all_of(self, on: Sequence[DesignedBank]) -> Iterator[EarthFault]:
        row, feeder = self.row, self.row.feeder
        if row.device is None or row.wires is None:
            return
        start = LoopTo(0j, True)
        yield self.judged(OnLoop("feeder", feeder.feeder, None, "", row.device, row.wires, feeder.run_m, False, row.fault_ka), start)
        ahead, ways, levels = self.along(start, row.wires, feeder.run_m), {}, {}
        for way in row.end.ways if row.end is not None else ():
            ways[way.tank], levels[way.tank] = ahead, way.fault_ka
            if way.wires is not None:
                if way.device is not None:
                    at = OnLoop("way", way.tag, None, way.tank, way.device, way.wires, way.run_m, False, row.fault_end_ka)
                    yield self.judged(at, ahead)
                ways[way.tank] = self.along(ahead, way.wires, way.run_m)
        for one in on:
            yield from self.of_bank(one, ways.get(one.bank.tank, ahead), levels.get(one.bank.tank))

    def of_bank(self, one: DesignedBank, ahead: LoopTo, level_ka: float | None) -> Iterator[EarthFault]:
        design, tank = one.design, one.bank.tank
        branch, tag = design.branch, f"{tank}/{one.label}"
        if (single := design.single_circuit) is not None:
            device, residual = single.panel_feeder_device, single.residual_ma
            yield self.judged(OnLoop("single circuit", tag, one, tank, device, branch.wires, design.run_m, True, level_ka, residual), ahead)
            return
        done: dict[int, PanelDesign] = {}
        for panel in one.panels:
            if id(panel.design) in done:  # its panels are alike
                continue
            made = done[id(panel.design)] = panel.design
            device, wires, run_m = made.panel_feeder_device, made.panel_feeder_wires, one.design.panel_feeder_run_m
            yield self.judged(OnLoop("panel feeder", panel.tag, one, tank, device, wires, run_m, False, level_ka, made.residual_ma), ahead)
        if not one.panels:
            return
        to_panels = [self.along(ahead, made.panel_feeder_wires, one.design.panel_feeder_run_m) for made in done.values()]
        residual = one.panels[0].design.residual_ma
        farthest = max(to_panels, key=lambda way: abs(way.ohm))
        nearest_ka = max((panel.fault_ka for panel in one.panels if panel.fault_ka is not None), default=None)
        yield self.judged(OnLoop("branch", tag, one, tank, branch.device, branch.wires, design.run_m, True, nearest_ka, residual), farthest)

    def along(self, ahead: LoopTo, wires: Wires, run_m: float | None) -> LoopTo:
        if run_m is None or wires.size not in self.rules.sizes or wires.ground not in self.rules.sizes:
            return LoopTo(ahead.ohm, False)
        return LoopTo(ahead.ohm + self.ohms(wires, run_m), ahead.known)

    def ohms(self, wires: Wires, run_m: float) -> complex:
        settings = self.settings
        return loop_of_run(
            size=wires.size,
            ground=wires.ground,
            sets=wires.sets,
            length_m=run_m,
            material=settings.conductor,
            raceway=settings.raceway,
            works_at_c=self.rules.works_at(wires.insulation).value,
            rules=self.rules,
        ).value

    def judged(self, at: OnLoop, ahead: LoopTo) -> EarthFault:
        """One circuit, with the loop to its end."""
        rules, grounds, device = self.rules, self.grounds, at.device
        end = self.along(ahead, at.wires, at.run_m)
        loop_ohm = loop_impedance(self.source, end.ohm, self.angle_known)
        within = disconnection_time(grounds.kind, grounds.u0_v, device.rating_a, at.final, rules)
        typed = device.kind == "breaker" and has_type(device.rating_a, rules).value
        type = self.settings.breaker_type if typed else ""
        needs = None if within is None else operating_current(device.kind, device.rating_a, type, within.value, rules)
        electrode = grounds.electrode_ohm if grounds.kind == "TT" else 0.0
        fault_a = None
        if self.source_known and end.known and electrode is not None and loop_ohm + electrode > 0.0:
            fault_a = self.driving_v / (loop_ohm + electrode)
        most_ohm = None if needs is None else self.driving_v / needs.value
        longest_m = None
        if most_ohm is not None and grounds.kind != "TT" and ahead.known and self.source_known and at.wires.ground in rules.sizes:
            own = abs(self.ohms(at.wires, 1.0))
            left = most_ohm - loop_impedance(self.source, ahead.ohm, self.angle_known)
            longest_m = max(left, 0.0) / own if own else None
        places = [rules.clause("fault_protection"), rules.clause("fault_loop"), *(one.citation for one in (within, needs) if one)]
        bare = EarthFault(
            circuit=at.circuit,
            tag=at.tag,
            tank=at.tank,
            bank=at.bank.label if at.bank is not None else "",
            earthing=grounds.earthing,
            u0_v=grounds.u0_v,
            rating_a=device.rating_a,
            kind=device.kind,
            type=type,
            within_s=None if within is None else within.value,
            needs_a=None if needs is None else needs.value,
            most_ohm=most_ohm,
            loop_ohm=loop_ohm,
            fault_a=fault_a,
            run_m=at.run_m,
            longest_m=longest_m,
            residual_ma=at.residual_ma,
            how="",
            basis=tuple(dict.fromkeys(places)),
        )
        bears_a2s, lets_a2s = self.energies(at, type, fault_a)
        return replace(bare, how=self.how(bare, at, end), bears_a2s=bears_a2s, lets_a2s=lets_a2s)

    def energies(self, at: OnLoop, type: str, least_a: float | None) -> tuple[float | None, float | None]:
        """What the conductors of a circuit bear, and what its device lets through at most, from its beginning to its end."""
        rules, wires, device = self.rules, at.wires, at.device
        sizes = [size for size in (wires.size, wires.ground) if size in rules.sizes]
        if not sizes or (at.circuit == "feeder" and self.row.feeder.device_at_end):
            return None, None
        bears = min(energy_borne(size, wires.material, wires.insulation, rules).value for size in sizes)
        if device.kind == "fuse":
            lets = fuse_lets_through(device.rating_a, least_a or 0.0, rules)
        else:
            lets = None if at.start_ka is None else breaker_lets_through(device.rating_a, type, 1000.0 * at.start_ka, rules)
        return bears, None if lets is None else lets.value

    def how(self, one: EarthFault, at: OnLoop, end: LoopTo) -> str:
        """By what it disconnects, or why that is not known or not so."""
        rules, kind = self.rules, self.grounds.kind
        if at.residual_ma is not None:
            enough = one.fault_a is None or one.fault_a >= residual_current(at.residual_ma, rules).value
            return BY_RESIDUAL if enough else SLOW
        if kind == "TT":
            return NO_DEVICE  # the source's own electrode, which nobody gives, is in its loop
        if one.needs_a is None or one.most_ohm is None:
            return NOT_JUDGED
        if one.loop_ohm <= one.most_ohm and not (end.known and self.source_known):
            return NO_LENGTH if not end.known else NO_SOURCE
        if one.loop_ohm <= one.most_ohm:
            return BY_DEVICE
        if one.kind == "fuse" and one.within_s is not None and one.within_s < SLOW_S:
            gate = operating_current("fuse", one.rating_a, "", SLOW_S, rules)
            if gate is not None and one.loop_ohm <= self.driving_v / gate.value:
                return CURVE
        return SLOW


def _say(found: Sequence[EarthFault], made: _Judge, on: Sequence[DesignedBank], said: Remarks) -> None:
    """What there is to say of a feeder's circuits, of the feeder or of the bank that a circuit is of."""
    name, grounds, rules = made.row.feeder.feeder, made.grounds, made.rules
    banks = {(one.bank.tank, one.label): one for one in on}
    for one in found:
        bank = banks.get((one.tank, one.bank)) if one.bank else None
        listening = said if bank is None else bank.said
        about = "feeder" if bank is None else "panel_feeder_run_m" if one.circuit == "panel feeder" else "heater_run_m"
        if one.how in (SLOW, CURVE):
            what = sentence(f"{one.circuit} {one.tag}" if bank is None else one.circuit)
            fault = "not known" if one.fault_a is None else amps(one.fault_a)
            words = {"what": what, "fault": fault, "device": one.device, "time": f"{one.within_s:g} s"}
            words["needs"] = amps(one.needs_a or 0.0)
            if one.how == SLOW:
                loop, most = f"a loop of {1000 * one.loop_ohm:.4g} mohm", f"{1000 * (one.most_ohm or 0.0):.4g} mohm"
                listening.add("earth-fault-slow", about, loop=loop, most=most, **words)
            else:
                listening.add("earth-fault-curve", about, **words)
        if one.burns:
            energies = {"lets": energy(one.lets_a2s or 0.0), "bears": energy(one.bears_a2s or 0.0)}
            what = sentence(f"{one.circuit} {one.tag}" if bank is None else one.circuit)
            listening.add("short-circuit-energy", about, what=what, device=one.device, **energies)
        if one.how == NO_DEVICE and bank is not None:
            bank.said.add("residual-device-missing", "rcd_ma", device=f"a {one.device}")
    if any(one.how == NO_DEVICE and one.circuit in ("feeder", "way") for one in found):
        said.add("residual-device-origin", "earthing", feeder=name)
    without = [one for one in found if one.how == NO_LENGTH]
    if without:
        said.add("earth-fault-length", "run_m", feeder=name, count=len(without))
    if not made.source_known and grounds.kind != "TT":
        left = min((one.most_ohm - one.loop_ohm for one in found if one.most_ohm is not None and one.residual_ma is None), default=0.0)
        said.add("earth-fault-source", "source_kva", feeder=name, ohms=f"{1000 * max(left, 0.0):.4g} mohm")
    if grounds.kind == "IT":
        said.add("insulation-monitor", "earthing", feeder=name)
    if grounds.earthing == "TN-C":
        least = rules.named_size(f"pen_{made.settings.conductor}").value
        count = sum(one.bank != "" for one in found)
        said.add("pen-small", "earthing", feeder=name, what=f"its {counted(count, 'circuit')}", least=size_words(least))
    _say_residual(name, grounds, on, rules, said)


def _say_residual(name: str, grounds: Grounds, on: Sequence[DesignedBank], rules: RuleSet, said: Remarks) -> None:
    """What there is to say of residual-current devices: electrode, leakage, kind; and of heaters that leak much by themselves."""
    trips: set[float] = set()
    limit = rules.factor("reinforced_pe_ma").value
    for one in on:
        single = one.design.single_circuit
        for panel in [single] if single is not None else {id(panel.design): panel.design for panel in one.panels}.values():
            if (trip := panel.residual_ma) is None:
                continue
            trips.add(trip)
            kw, bears = panel.connected_kw, leakage_allowed(trip, rules).value
            leakage = planned_leakage(kw, rules).value
            damp = rules.factor("damp_leakage_ma").value
            if leakage > bears + CLOSE:
                words = {"kw": f"{kw:.4g} kW", "trip": f"{trip:g} mA", "leakage": f"{leakage:.3g} mA", "share": f"{bears:g} mA"}
                one.said.add("residual-leakage", "rcd_ma", damp=f"{damp:g} mA", **words)
            large = panel.panel_feeder_device.rating_a
            if large > rules.factor("residual_devices_to_a").value or one.supply.volts_v > rules.factor("residual_devices_to_v").value:
                one.said.add("residual-device-large", "rcd_ma", amps=amps(large), volts=volts(one.supply.volts_v))
        wires, kw = one.design.branch.wires, one.bank.power_kw
        least = rules.named_size(f"reinforced_pe_{wires.material}").value
        if planned_leakage(kw, rules).value > limit and wires.ground in rules.sizes and rules.rank(wires.ground) < rules.rank(least):
            words = {"kw": f"{kw:.4g} kW", "limit": f"{limit:g} mA", "size": size_words(wires.ground), "least": size_words(least)}
            one.said.add("protective-reinforced", "power_kw", **words)
    if grounds.kind == "TT":
        trip = max(trips, default=LARGEST_TRIP_MA)
        most, said_of = largest_electrode(trip, rules).value, f"{trip:g} mA"
        if grounds.electrode_ohm is None:
            said.add("electrode-unknown", "electrode_ohm", feeder=name, earthing="TT", most=f"{most:.4g} ohm", trip=said_of)
        elif grounds.electrode_ohm > most:
            found = f"{grounds.electrode_ohm:g} ohm"
            said.add("electrode-high", "electrode_ohm", feeder=name, ohms=found, most=f"{most:.4g} ohm", trip=said_of)
