"""Conductors between a transformer and the first device on its secondary: what protects them there. Judged; sized where they are a
feeder whose device stands at its end."""

from __future__ import annotations

from typing import NamedTuple

from msgspec.structs import replace

from batch.findings import Remarks
from batch.method.grounding import service_grounded_conductor, supply_side_jumper
from batch.method.overcurrent import small_conductor_allows
from batch.method.taps import secondary_needs, tap_rule
from batch.records import Settings
from batch.results import FeederRow, Wires
from batch.rules import RuleSet
from batch.sizing.feeder import around_feeder
from batch.sizing.runs import candidates, raceway_of
from batch.sizing.sources import KnownSource
from batch.sizing.tap_conductors import asked_by, drop_with, grouping_with, unrounded_ampacity
from batch.sizing.words import amps, metres, size_words
from batch.systems import System

CLOSE = 1e-6
SERVICE = "service"  # kind of a source
LESS = 1 - 1e-9  # of metal: no less than the drop asks for


class Secondary(NamedTuple):
    """The conductors to one feeder's device."""

    size: str
    sets: int
    length_m: float | None


def primary_protects(known: KnownSource) -> bool:
    """Whether the primary device may protect the secondary conductors: of one phase in two wires, or delta to delta in three."""
    source, supply = known.source, known.supply
    if supply.phases == 1:
        return supply.wires == 2
    return source.primary_winding == "delta" and supply.system in (System.DELTA, System.CORNER_GROUNDED_DELTA)


def size_secondary(row: FeederRow, known: KnownSource, settings: Settings, *, rules: RuleSet, said: Remarks) -> FeederRow:
    """A feeder whose device stands at its end, with conductors that the device there and the primary one ask for, never rounded up, and
    a supply-side bonding jumper with them. Any other as it is."""
    wires, device, name = row.wires, row.device, row.feeder.feeder
    if not row.feeder.device_at_end or device is None:
        return row
    if not _of_service(known, row):  # of service conductors `judge_at_end` speaks
        said.add("device-at-end", "device_at", feeder=name, device=amps(device.rating_a))
    if row.feeder.tap_m is not None:
        said.add("tap-of-secondary", "tap_m", feeder=name)
    if wires is None or not wires.required_size:
        return row  # that no conductor serves is said where it is looked for
    needs = _needs(known, row, _length(known, row), rules)
    least = rules.area(wires.size).value * wires.sets * LESS if wires.governed_by == "voltage drop" else 0.0
    size, sets = wires.size, wires.sets
    for one in candidates(settings.smallest_conductor, settings, rules):
        if not small_conductor_allows(device.rating_a, one.size, one.sets, settings.conductor, rules).value:
            continue
        ampacity = _ampacity(row, Secondary(one.size, one.sets, None), settings, rules)
        carried = ampacity is not None and ampacity + CLOSE >= row.required_a
        enough = ampacity is not None and carried and (ampacity + CLOSE >= needs or _by_primary(known, row, ampacity))
        if enough and rules.area(one.size).value * one.sets >= least:
            size, sets = one.size, one.sets
            break  # where none is enough, the judgement says so
    same = (size, sets) == (wires.size, wires.sets)
    jumper = supply_side_jumper(size, settings.conductor, rules)
    laid_in = row.feeder.installation or ""
    raceway, fill_pct = raceway_of(
        wires.lines + bool(wires.neutral), size, jumper.value, settings, rules, circuits=wires.shares, installation=laid_in
    )
    basis = (*wires.basis, rules.clause("secondary_conductors"), jumper.citation)
    made = replace(
        wires,
        size=size,
        sets=sets,
        neutral=size if wires.neutral else "",
        ground=jumper.value,
        raceway=raceway,
        fill_pct=fill_pct,
        basis=basis,
        governed_by=wires.governed_by if same else "secondary conductors",
        grouping=grouping_with(wires, sets, settings, phases=row.supply.phases, installation=laid_in, rules=rules),
        ampacity_a=_ampacity(row, Secondary(size, sets, None), settings, rules),
        required_size=wires.required_size if same else _words(Secondary(size, sets, None)),
    )
    if row.feeder.run_m is None or row.drop_pct is None:
        return replace(row, wires=made)
    return replace(row, wires=made, drop_pct=drop_with(row.drop_pct, wires, made, settings, rules))


def judge_at_end(row: FeederRow, known: KnownSource, settings: Settings, *, rules: RuleSet, said: Remarks) -> None:
    """The conductors of a feeder whose device stands at its end."""
    if not row.feeder.device_at_end or row.wires is None or row.device is None:
        return
    source, name = known.source, row.feeder.feeder
    if _of_service(known, row):
        _judge_service(row, source.source, settings, rules=rules, said=said)
        return
    length_m = _length(known, row)
    unknown = [
        words
        for words, value in (("primary volts", source.primary_v), ("primary OCPD", source.primary_device_a), ("its length", length_m))
        if value is None
    ]
    if unknown:
        said.add("secondary-not-judged", "device_at", feeder=name, what=", ".join(unknown))
        return
    _judge(known, row, Secondary(row.wires.size, row.wires.sets, length_m), settings, about="device_at", rules=rules, said=said)


def judge_from_unit(row: FeederRow, known: KnownSource, settings: Settings, *, rules: RuleSet, said: Remarks) -> None:
    """The conductors from a transformer of the job to a feeder's device at its start: of the size given, else of the feeder's own."""
    source, wires = known.source, row.wires
    if wires is None or row.device is None:
        return
    size, sets = wires.size, wires.sets
    if source.secondary_wire is not None:
        named = rules.size_named(source.secondary_wire)
        if named is None:
            said.add("secondary-wire-unknown", "secondary_wire", source=source.source, value=source.secondary_wire)
        else:
            size, sets = named, source.secondary_sets or 1
    if source.secondary_run_m is None or source.primary_v is None or source.primary_device_a is None:
        return
    _judge(known, row, Secondary(size, sets, source.secondary_run_m), settings, about="secondary_run_m", rules=rules, said=said)


def _judge(
    known: KnownSource, row: FeederRow, one: Secondary, settings: Settings, *, about: str, rules: RuleSet, said: Remarks
) -> None:
    ampacity = _ampacity(row, one, settings, rules)
    if ampacity is None or _by_primary(known, row, ampacity):
        return
    source, feeder, length_m = known.source.source, row.feeder.feeder, one.length_m or 0.0
    if tap_rule(length_m, rules) is None:
        said.add("secondary-too-long", about, source=source, feeder=feeder, length=metres(length_m))
        return
    needs = _needs(known, row, length_m, rules)
    if ampacity + CLOSE < needs:
        words = {"wire": _words(one), "ampacity": amps(ampacity)}
        said.add("secondary-small", about, source=source, feeder=feeder, needs=amps(needs), **words)


def _judge_service(row: FeederRow, source: str, settings: Settings, *, rules: RuleSet, said: Remarks) -> None:
    """Service conductors: by the load with its margin and the device at their end. Where no size carries that device as it is, the
    conductors by the next standard rating below it stay, as the code lets them."""
    wires, device = row.wires, row.device
    if wires is None or device is None:
        return
    one = Secondary(wires.size, wires.sets, None)
    ampacity, needs = _ampacity(row, one, settings, rules) or 0, max(asked_by(device, rules), row.required_a)
    rounded = "" if ampacity + CLOSE >= needs else ", of which they fall short within the step to the next standard rating"
    words = {"wire": _words(one), "ampacity": amps(ampacity), "needs": amps(needs), "device": amps(device.rating_a), "rounded": rounded}
    brought, left = _brought(row, wires, settings, rules)
    said.add("service-conductors", "device_at", feeder=row.feeder.feeder, source=source, brought=brought, left=left, **words)


def _brought(row: FeederRow, wires: Wires, settings: Settings, rules: RuleSet) -> tuple[str, str]:
    """In words the grounded conductor that a system of three wires brings along to service equipment, or that it is not judged; nothing
    of a neutral that is run all the same, as large as the lines."""
    if wires.neutral or not row.supply.system.may_be_grounded_wye:
        return "", ""
    least = service_grounded_conductor(wires.size, wires.sets, settings.conductor, rules)
    if least is None:
        return "", ", and the grounded conductor that a grounded system brings along"
    where = ", in each raceway" if wires.sets > 1 else ""
    told = "The system" if row.supply.system is System.WYE_GROUNDED else "A grounded system"
    return f" {told} brings its grounded conductor along, {size_words(least.value)} at least{where}; it is not in Materials.", ""


def _words(one: Secondary) -> str:
    return f"{one.sets} x {size_words(one.size)}" if one.sets > 1 else size_words(one.size)


def _length(known: KnownSource, row: FeederRow) -> float | None:
    return known.source.secondary_run_m if row.feeder.run_m is None else row.feeder.run_m


def _ampacity(row: FeederRow, one: Secondary, settings: Settings, rules: RuleSet) -> int | None:
    """Of all sets together, never rounded up."""
    if row.device is None or row.wires is None:
        return None
    each = unrounded_ampacity(
        one.size, row.device.rating_a, row.wires.lines, bool(row.wires.neutral), settings, phases=row.supply.phases,
        ambient_c=around_feeder(row.feeder, settings, rules), installation=row.feeder.installation or "", sets=one.sets,
        shares=row.wires.shares, rules=rules,
    )  # fmt: skip
    return None if each is None else each * one.sets


def _of_service(known: KnownSource, row: FeederRow) -> bool:
    """Whether a feeder's conductors are service conductors: the primary ahead of them is the utility's, and protects nothing."""
    return known.source.kind == SERVICE and row.feeder.device_at_end


def _by_primary(known: KnownSource, row: FeederRow, ampacity: float) -> bool:
    """Whether the primary device protects conductors of that ampacity through the unit."""
    source = known.source
    if source.primary_device_a is None or source.primary_v is None or _of_service(known, row) or not primary_protects(known):
        return False
    return source.primary_device_a <= ampacity * source.volts_v / source.primary_v + CLOSE


def _needs(known: KnownSource, row: FeederRow, length_m: float | None, rules: RuleSet) -> float:
    """Least ampacity: of the load and the device at their end, and by the primary device where that and the length are known."""
    source, device_a = known.source, asked_by(row.device, rules) if row.device else 0.0
    rule = None if length_m is None or _of_service(known, row) else tap_rule(length_m, rules)
    if rule is None or source.primary_v is None or source.primary_device_a is None:
        return max(device_a, row.required_a)
    return secondary_needs(
        required_a=row.required_a, end_device_a=device_a, primary_device_a=source.primary_device_a, primary_v=source.primary_v,
        secondary_v=source.volts_v, share=rule.value.share,
    )  # fmt: skip
