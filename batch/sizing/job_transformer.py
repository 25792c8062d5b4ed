"""A transformer of this job: what protects it, and what protects its secondary conductors. Cautions only."""

from __future__ import annotations

from collections.abc import Sequence

from batch.findings import Remarks
from batch.method.source_load import source_current
from batch.method.taps import secondary_needs, tap_rule
from batch.method.transformer_protection import primary_alone, primary_with_secondary, secondary_sum
from batch.records import PowerSource, Settings
from batch.results import FeederRow
from batch.rules import RuleSet
from batch.sizing.sources import KnownSource
from batch.sizing.tap_conductors import unrounded_ampacity
from batch.sizing.words import amps, size_words
from batch.systems import System

CLOSE = 1e-6


def judge_transformer(known: KnownSource, feeders: Sequence[FeederRow], settings: Settings, rules: RuleSet, said: Remarks) -> None:
    """Its primary device alone, or with the secondary ones; then the conductors between the unit and each feeder's device."""
    source = known.source
    if source.of_this_job != "yes":
        return
    unknown = [
        words
        for words, value in (("rating", source.kva), ("primary volts", source.primary_v), ("primary OCPD", source.primary_device_a))
        if value is None
    ]
    if unknown:
        said.add("transformer-unknown", "of_this_job", source=source.source, what=" and ".join(unknown))
    else:
        _judge_devices(source, feeders, settings.device_kind, rules, said)
    if source.secondary_run_m is None:
        said.add("secondary-length-unknown", "secondary_run_m", source=source.source)
    for row in feeders:
        _judge_secondary(known, row, settings, rules, said)


def _judge_devices(source: PowerSource, feeders: Sequence[FeederRow], kind: str, rules: RuleSet, said: Remarks) -> None:
    kva, primary_v, device_a = source.kva or 0.0, source.primary_v or 1.0, source.primary_device_a or 0.0
    primary_a = source_current(kva, primary_v, source.phases)
    alone = primary_alone(primary_a, kind, rules).value
    if device_a <= alone + CLOSE:
        return
    both = primary_with_secondary(primary_a, rules).value
    if device_a > both + CLOSE:
        said.add("transformer-primary", "primary_device_a", source=source.source, device=amps(device_a), most=amps(both), alone=amps(alone))
        return
    devices = [row.device.rating_a for row in feeders if row.device is not None]
    most_devices = int(rules.factor("transformer_secondary_devices").value)
    if len(devices) > most_devices:
        words = {"source": source.source, "alone": amps(alone)}
        said.add("transformer-secondary-many", "primary_device_a", count=len(devices), most=most_devices, **words)
    most = secondary_sum(source_current(kva, source.volts_v, source.phases), kind, rules).value
    if sum(devices) > most + CLOSE:
        words = {"devices": amps(sum(devices)), "most": amps(most), "alone": amps(alone)}
        said.add("transformer-secondary", "primary_device_a", source=source.source, **words)


def primary_protects(known: KnownSource) -> bool:
    """Whether the primary device may protect the secondary conductors: of one phase in two wires, or delta to delta in three."""
    source, supply = known.source, known.supply
    if supply.phases == 1:
        return supply.wires == 2
    return source.primary_winding == "delta" and supply.system in (System.DELTA, System.CORNER_GROUNDED_DELTA)


def _judge_secondary(known: KnownSource, row: FeederRow, settings: Settings, rules: RuleSet, said: Remarks) -> None:
    """The conductors from the unit to a feeder's device, taken to be of the feeder's own size."""
    source, wires, device, length_m = known.source, row.wires, row.device, known.source.secondary_run_m
    if wires is None or device is None or length_m is None or source.primary_v is None or source.primary_device_a is None:
        return
    one = unrounded_ampacity(
        wires.size, device.rating_a, wires.lines, bool(wires.neutral), settings, phases=row.supply.phases,
        ambient_c=settings.ambient_c if row.feeder.ambient_c is None else row.feeder.ambient_c, rules=rules,
    )  # fmt: skip
    if one is None:
        return
    ampacity = one * wires.sets
    if primary_protects(known) and source.primary_device_a <= ampacity * source.volts_v / source.primary_v + CLOSE:
        return
    rule = tap_rule(length_m, rules)
    needs = max(device.rating_a, row.required_a) if rule is None else secondary_needs(
        required_a=row.required_a, end_device_a=device.rating_a, primary_device_a=source.primary_device_a, primary_v=source.primary_v,
        secondary_v=source.volts_v, share=rule.value.share,
    )  # fmt: skip
    words = {"source": source.source, "feeder": row.feeder.feeder, "wire": size_words(wires.size), "ampacity": amps(ampacity)}
    if rule is None:
        said.add("secondary-too-long", "secondary_run_m", source=source.source, feeder=row.feeder.feeder, length=f"{length_m:g} m")
    elif ampacity + CLOSE < needs:
        said.add("secondary-small", "secondary_run_m", needs=amps(needs), **words)
