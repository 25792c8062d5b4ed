"""A transformer of this job: what protects it, and what protects its secondary conductors. Cautions only."""

from __future__ import annotations

from collections.abc import Sequence

from batch.findings import Remarks
from batch.method.source_load import source_current
from batch.method.transformer_protection import primary_alone, primary_with_secondary, secondary_sum
from batch.records import PowerSource, Settings
from batch.results import FeederRow
from batch.rules import RuleSet
from batch.rules.tables import PRACTICE
from batch.sizing.secondary_conductors import judge_from_unit
from batch.sizing.sources import KnownSource
from batch.sizing.words import amps
from batch.supply_results import UnitProtection

CLOSE = 1e-6


def judge_transformer(
    known: KnownSource, feeders: Sequence[FeederRow], settings: Settings, rules: RuleSet, said: Remarks
) -> UnitProtection | None:
    """Its primary device alone, or with the secondary ones; then the conductors between the unit and each feeder's device. Returns the
    limits of its devices, where it is of the job and its rating and primary volts are known."""
    source = known.source
    if source.of_this_job != "yes":
        return None
    unknown = [
        words
        for words, value in (("rating", source.kva), ("primary volts", source.primary_v), ("primary OCPD", source.primary_device_a))
        if value is None
    ]
    if unknown:
        said.add("transformer-unknown", "of_this_job", source=source.source, what=" and ".join(unknown))
    limits = _limits(source, feeders, settings.device_kind, rules)
    alone, both = rules.factor("transformer_alone"), rules.factor("transformer_both")
    if limits is not None and alone.known == PRACTICE:
        shares = {"alone": f"{100.0 * alone.value:g}", "both": f"{100.0 * both.value:g}"}
        said.add("transformer-practice", "of_this_job", source=source.source, code=rules.name, **shares)
    if limits is not None and source.primary_device_a is not None:
        _judge_devices(source, source.primary_device_a, limits, feeders, rules=rules, said=said)
    started = [row for row in feeders if not row.feeder.device_at_end]
    if started and source.secondary_run_m is None:
        said.add("secondary-length-unknown", "secondary_run_m", source=source.source)
    if started and source.secondary_wire is None:
        said.add("secondary-wire-taken", "secondary_wire", source=source.source)
    for row in started:
        judge_from_unit(row, known, settings, rules=rules, said=said)
    return limits


def _limits(source: PowerSource, feeders: Sequence[FeederRow], kind: str, rules: RuleSet) -> UnitProtection | None:
    if source.kva is None or source.primary_v is None:
        return None
    primary_a, secondary_a = (source_current(source.kva, volts_v, source.phases) for volts_v in (source.primary_v, source.volts_v))
    alone = primary_alone(primary_a, source.primary_v, kind, rules)
    return UnitProtection(
        None if alone is None else alone.value,
        primary_with_secondary(primary_a, source.primary_v, rules).value,
        secondary_sum(secondary_a, kind, rules).value,
        sum(row.device.rating_a for row in feeders if row.device is not None),
    )


def _judge_devices(
    source: PowerSource, device_a: float, limits: UnitProtection, feeders: Sequence[FeederRow], *, rules: RuleSet, said: Remarks
) -> None:
    alone_a, both = limits.alone_a, limits.both_a
    if alone_a is not None and device_a <= alone_a + CLOSE:
        return
    over = f"over {rules.factor('transformer_low_v').value:g} V"
    if device_a > both + CLOSE:
        alone = f"{over} none protects the unit by itself" if alone_a is None else f"{amps(alone_a)} protects the unit by itself"
        said.add("transformer-primary", "primary_device_a", source=source.source, device=amps(device_a), most=amps(both), alone=alone)
        return
    alone = f"{over} every primary OCPD needs them" if alone_a is None else f"a primary OCPD up to {amps(alone_a)} needs none"
    devices = sum(row.device is not None for row in feeders)
    most_devices = int(rules.factor("transformer_secondary_devices").value)
    if devices > most_devices:
        words = {"source": source.source, "alone": alone}
        said.add("transformer-secondary-many", "primary_device_a", count=devices, most=most_devices, **words)
    if limits.secondary_a > limits.secondary_most_a + CLOSE:
        words = {"devices": amps(limits.secondary_a), "most": amps(limits.secondary_most_a), "alone": alone}
        said.add("transformer-secondary", "primary_device_a", source=source.source, **words)
