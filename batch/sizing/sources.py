"""Sources: what feeders hang on, what a feeder takes from its source, and the fault current behind any run of conductors."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from math import inf
from typing import NamedTuple

from msgspec.structs import replace

from batch.findings import Remarks, remark
from batch.method.currents import same_nominal_volts
from batch.method.fault_current import conductor_impedance
from batch.method.line_currents import ROOT3
from batch.method.source_fault import (
    SourceImpedance,
    center_tap_fault,
    high_leg_fault,
    impedance_of_given_fault,
    line_fault,
    marked_impedance,
    neutral_fault,
    primary_impedance,
    two_line_fault,
    unit_impedance,
    with_angle,
)
from batch.records import Feeder, PowerSource, Settings, Supply
from batch.results import Wires
from batch.rules import RuleSet
from batch.sizing.connection import CannotSize
from batch.sizing.supply import resolve_supply
from batch.systems import SYSTEMS, System

NAMED = 4  # feeders that a remark names
NAMED_BASES = ("utility letter", "study")
Run = tuple[Wires, float | None]  # conductors and their length, m


class SourceFault(NamedTuple):
    """Fault current at a source's secondary. `used_ka` is that of all its lines together, as used; the others None where unknown."""

    impedance: SourceImpedance
    used_ka: float
    calculated_ka: float | None
    marked_ka: float | None  # with the whole of the marked impedance: what a plant's engineer is likely to have worked out
    how: str


class KnownSource(NamedTuple):
    """A source with its supply; `named`: it has a row of its own, else it is the feeder's own."""

    source: PowerSource
    supply: Supply
    named: bool
    fault: SourceFault | None


def own_source(feeder: Feeder, supply: Supply, rules: RuleSet, said: Remarks) -> KnownSource:
    """The source of a feeder that names none: as its own row states it."""
    source = PowerSource(
        feeder.project, feeder.feeder, None, feeder.source_kva, feeder.source_z_pct, supply.volts_v, supply.phases,
        supply.wires, supply.system.value, fault_ka=feeder.fault_ka, origin=feeder.origin,
    )  # fmt: skip
    fault = _fault(source, supply, rules, said)
    if fault is not None and fault.how == "calculated":
        said.add("primary-unlimited", "source_kva", **_unlimited(source, rules))
    return KnownSource(source, supply, False, fault)


def told_by_feeders(source: PowerSource, feeders: Sequence[Feeder], rules: RuleSet, said: Remarks) -> PowerSource:
    """A source with its system as the feeders on it tell it, where its own row leaves that blank or unknown.

    Only a feeder of the source's own volts and phases tells it. Where two tell different systems, or one that its wires cannot be, the
    source stays as it is, and those feeders are asked about.
    """
    if source.system not in (None, System.UNKNOWN.value):
        return source
    tag = source.source.strip().casefold()
    told: dict[System, list[Feeder]] = {}
    for feeder in feeders:
        system = SYSTEMS[feeder.system] if feeder.system is not None else System.UNKNOWN
        its_own = (feeder.source or "").strip().casefold() == tag and (feeder.phases or source.phases) == source.phases == system.phases
        if its_own and system is not System.UNKNOWN and same_nominal_volts(feeder.volts_v or source.volts_v, source.volts_v, rules).value:
            told.setdefault(system, []).append(feeder)
    if len(told) != 1 or not (source.wires is None or source.wires in next(iter(told)).wires):
        return source
    [(system, some)] = told.items()
    named = ", ".join(one.feeder for one in some[:NAMED]) + (" …" if len(some) > NAMED else "")
    lines = {one.grounded_line for one in some} - {None}
    said.add("source-system-told", "system", source=source.source, system=system, feeders=named, was=source.system or "blank")
    return replace(source, system=system.value, grounded_line=source.grounded_line or (lines.pop() if len(lines) == 1 else None))


def known_source(source: PowerSource, rules: RuleSet, said: Remarks) -> KnownSource:
    """A source of the Sources sheet; raises CannotSize where its cells contradict each other."""
    as_feeder = Feeder(source.project, source.source, source.volts_v, source.phases, source.wires, source.system, source.grounded_line)
    supply = resolve_supply(as_feeder, rules, said)
    fault = _fault(source, supply, rules, said)
    if fault is None:
        said.add("source-fault-unknown", "fault_ka", source=source.source)
    elif fault.how == "calculated" and _primary_mva(source) is None and inf not in (source.primary_ka, source.primary_mva):
        said.add("primary-unlimited", "primary_ka" if source.primary_ka is None else "primary_v", **_unlimited(source, rules))
    return KnownSource(source, supply, True, fault)


def _unlimited(source: PowerSource, rules: RuleSet) -> dict[str, str]:
    """Why the primary of a source is taken as unlimited, in words, and of what that is the safe side."""
    why = "no fault level is given of the primary behind it"
    if source.primary_ka is not None:
        why = "the fault current of its primary is given, the primary volts are not"
    side = "the safe side of short-circuit ratings, not of earth faults" if rules.works_earth_faults else "the safe side"
    return {"source": source.source, "why": why, "side": side}


def _fault(source: PowerSource, supply: Supply, rules: RuleSet, said: Remarks) -> SourceFault | None:
    """Of the current given and the one worked out the greater; the one given where its basis is named."""
    given_ka, volts_v, phases = source.fault_ka, supply.volts_v, supply.phases
    calculated = _impedances(source, supply, rules)
    if calculated is None:
        return _given(given_ka, volts_v, phases, None, None) if given_ka is not None else None
    low, whole = calculated
    calculated_ka = line_fault(low, volts_v, phases) / 1000.0
    marked_ka = line_fault(whole, volts_v, phases) / 1000.0
    if given_ka is not None:
        share = rules.factor("given_fault_share").value
        named = source.fault_basis in NAMED_BASES
        words = {"source": source.source, "given": f"{given_ka:g} kA", "calculated": f"{calculated_ka:.1f} kA"}
        if given_ka < share * marked_ka:
            how = f"the one given is used, by the {source.fault_basis}" if named else "the calculated one is used"
            said.add("fault-given-low", "fault_ka", how=how, marked=f"{marked_ka:.1f} kA", **words)
        elif given_ka < calculated_ka and not named:
            said.add("fault-given-less", "fault_ka", **words)
        if named or given_ka > calculated_ka:
            return _given(given_ka, volts_v, phases, calculated_ka, marked_ka)
    return SourceFault(low, calculated_ka, calculated_ka, marked_ka, "calculated")


def _given(given_ka: float, volts_v: float, phases: int, calculated_ka: float | None, marked_ka: float | None) -> SourceFault:
    impedance = SourceImpedance(impedance_of_given_fault(1000.0 * given_ka, volts_v, phases))
    return SourceFault(impedance, given_ka, calculated_ka, marked_ka, "given")


def _impedances(source: PowerSource, supply: Supply, rules: RuleSet) -> tuple[SourceImpedance, SourceImpedance] | None:
    """Impedances with the unit's at the low end of its tolerance, and as marked; None where the unit is not known."""
    if source.kva is None or source.z_pct is None:
        return None
    volts_v, level_mva = supply.volts_v, _primary_mva(source)
    behind = 0.0 if level_mva is None else primary_impedance(level_mva, volts_v)
    unit_angle, primary_angle = source.unit_x_over_r, source.primary_x_over_r
    known = unit_angle is not None and (level_mva is None or primary_angle is not None)
    low = unit_impedance(source.kva, source.z_pct, volts_v, rules).value
    whole = marked_impedance(source.kva, source.z_pct, volts_v)
    if not known or unit_angle is None:
        return SourceImpedance(low, behind), SourceImpedance(whole, behind)
    primary = with_angle(behind, primary_angle) if primary_angle is not None else 0j
    return SourceImpedance(with_angle(low, unit_angle), primary, True), SourceImpedance(with_angle(whole, unit_angle), primary, True)


def _primary_mva(source: PowerSource) -> float | None:
    """Short-circuit level as it bears on the unit: a 1-phase unit between two lines of a 3-phase primary sees half of its level.

    None where the primary is taken as unlimited: nothing is given, or either cell says so.
    """
    if inf in (source.primary_ka, source.primary_mva):
        return None
    if source.primary_mva is not None:
        return source.primary_mva if source.phases == 3 else source.primary_mva / 2.0
    if source.primary_ka is None or source.primary_v is None:
        return None
    kilovolts = source.primary_v / 1000.0
    return (ROOT3 if source.phases == 3 else 1.0) * kilovolts * source.primary_ka


def source_of(feeder: Feeder, sources: Sequence[KnownSource], listed: Iterable[PowerSource]) -> KnownSource | None:
    """The source that a feeder names; raises CannotSize where there is no such source or it cannot be used."""
    if feeder.source is None:
        return None
    wanted = feeder.source.strip().casefold()
    for known in sources:
        if known.source.source.strip().casefold() == wanted:
            return known
    names = [source.source for source in listed]
    if any(name.strip().casefold() == wanted for name in names):
        raise CannotSize(remark("source-not-usable", "source", source=feeder.source))
    raise CannotSize(remark("source-unknown", "source", source=feeder.source, sources=", ".join(names) or "none"))


def taking_from(feeder: Feeder, known: KnownSource) -> Feeder:
    """The feeder with what its row leaves blank taken from its source: volts, phases, and with the phases the wires."""
    supply = known.supply
    if not feeder.phases:
        feeder = replace(feeder, phases=supply.phases, wires=feeder.wires or (None if feeder.volts_v else supply.wires))
    return feeder if feeder.volts_v else replace(feeder, volts_v=supply.volts_v)


def supply_from(feeder: Feeder, known: KnownSource, rules: RuleSet) -> Supply:
    """A feeder's supply as its source gives it; raises CannotSize where the feeder does not suit its source.

    Volts: the source's between lines, V / sqrt(3) of a wye, V / 2 of three wires on one phase, within the band of the same volts.
    """
    ahead, volts_v = known.supply, feeder.volts_v
    if feeder.phases not in (1, 3):
        raise CannotSize(remark("phases-impossible", "phases", phases=feeder.phases))
    between = same_nominal_volts(volts_v, ahead.volts_v, rules).value
    found: Supply | None = None
    if feeder.phases == 3:
        if ahead.phases == 3 and between:
            wires = feeder.wires or ahead.wires
            found = Supply(ahead.volts_v, wires, ahead.system, ahead.grounded) if wires in ahead.system.wires else None
    elif between and ahead.system is System.THREE_WIRE and feeder.wires == 3:
        found = Supply(ahead.volts_v, 3, System.THREE_WIRE)
    elif between and feeder.wires in (None, 2):
        system = System.LINE_TO_NEUTRAL if ahead.system is System.LINE_TO_NEUTRAL else System.LINE_TO_LINE
        found = Supply(ahead.volts_v, 2, system)
    elif ahead.system in (System.WYE_GROUNDED, System.THREE_WIRE) and feeder.wires in (None, 2):
        leg_v = ahead.volts_v / (ROOT3 if ahead.phases == 3 else 2.0)
        if ahead.has_neutral and same_nominal_volts(volts_v, leg_v, rules).value:
            found = Supply(volts_v, 2, System.LINE_TO_NEUTRAL)
    other_line = found is not None and found.grounded and feeder.grounded_line not in (None, found.grounded)
    if found is None or other_line or (feeder.system is not None and SYSTEMS[feeder.system] is not found.system):
        has = f"{ahead.volts_v:g} V, {ahead.phases}-phase, {ahead.wires} wires, {ahead.system.words}"
        has += f", {ahead.grounded} grounded" if ahead.grounded else ""
        asks = f"{volts_v:g} V, {feeder.phases}-phase" + (f", {feeder.wires} wires" if feeder.wires else "")
        asks += f", {feeder.system}" if feeder.system else ""
        asks += f", {feeder.grounded_line} grounded" if feeder.grounded_line else ""
        raise CannotSize(remark("source-mismatch", "volts_v", feeder=feeder.feeder, source=known.source.source, has=has, asks=asks))
    return found


def fault_at(known: KnownSource, supply: Supply, runs: Sequence[Run], settings: Settings, rules: RuleSet) -> float | None:
    """Fault current at the end of runs behind a source, kA, of the greatest kind that the supply has; None where the source's is unknown.

    An unknown length reduces nothing.
    """
    if known.fault is None:
        return None
    out, back = 0j, 0j
    for wires, length_m in runs:
        if length_m is not None and wires.size in rules.sizes:
            given = {"material": settings.conductor, "raceway": settings.raceway, "rules": rules}
            out += _ohms(wires.size, wires.sets, length_m, **given)
            back += _ohms(wires.neutral or wires.size, wires.sets, length_m, **given)
    return _greatest(known, known.fault.impedance, supply, out, back, rules=rules) / 1000.0


@lru_cache(maxsize=4096)
def _ohms(size: str, sets: int, length_m: float, *, material: str, raceway: str, rules: RuleSet) -> complex:
    """Impedance of one conductor of a run; all that hangs behind a run asks for it, there and back."""
    return conductor_impedance(size=size, sets=sets, length_m=length_m, material=material, raceway=raceway, rules=rules).value


def _greatest(known: KnownSource, source: SourceImpedance, supply: Supply, out: complex, back: complex, *, rules: RuleSet) -> float:
    """The greatest of the kinds of fault that this supply has behind this source, A."""
    ahead = known.supply
    volts_v, to_neutral = ahead.volts_v, supply.system is System.LINE_TO_NEUTRAL
    if ahead.phases == 3:
        grounded = neutral_fault(source, volts_v, out, back) if ahead.system.may_be_grounded_wye else 0.0
        if ahead.system is System.HIGH_LEG_DELTA:
            grounded = high_leg_fault(source, volts_v, rules, out, back).value
        if to_neutral:
            return grounded
        return max(grounded, line_fault(source, volts_v, 3, out) if supply.phases == 3 else two_line_fault(source, volts_v, out))
    if ahead.system is System.THREE_WIRE:
        tapped = center_tap_fault(source, volts_v, rules, out, back).value
        return tapped if to_neutral else max(tapped, line_fault(source, volts_v, 1, out))
    return line_fault(source, volts_v, 1, out)
