"""What hangs on a source: its feeders' loads by phasors, the pair of each 1-phase feeder, and the share of the source in use."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from msgspec.structs import replace

from batch.findings import Remarks
from batch.method.balance import Placeable, choose_starts
from batch.method.feeder_load import standard_transformer, transformer_load
from batch.method.line_currents import Lines, Loads, line_currents, rotated
from batch.method.source_load import source_current, source_use
from batch.records import Feeder, Settings, Supply
from batch.results import FeederRow, SourceRow
from batch.rules import RuleSet
from batch.sizing.job_transformer import judge_transformer
from batch.sizing.labels import natural
from batch.sizing.placing import STARTS
from batch.sizing.previous_decisions import COSTS, PreviousDecisions
from batch.sizing.sources import KnownSource
from batch.sizing.words import amps
from batch.systems import System

PAIRS, LEGS = ("A-B", "B-C", "C-A"), ("A-N", "B-N", "C-N")
CLOSE_PCT = 1e-9
HUNDRED = 100.0 + CLOSE_PCT


class FeederDemand(NamedTuple):
    """What one feeder draws: its loads as demanded on its own lines, and other load, A on every line."""

    feeder: Feeder
    supply: Supply
    loads: Loads
    other_a: float
    fused: bool = True


class Used(NamedTuple):
    """How a source is used: its row, and of each 1-phase feeder on a 3-phase source its pair or leg, by the feeder's tag."""

    row: SourceRow
    pairs: dict[str, str]


def use_source(
    known: KnownSource, feeders: Sequence[FeederDemand], previous: PreviousDecisions, rules: RuleSet, said: Remarks
) -> Used:
    """Line currents of all a source's feeders, and how much of it they use."""
    system = known.supply.system
    pairs = _pairs(known, feeders, previous, said)
    total, other_a = Loads(), [0.0, 0.0, 0.0]
    for one in feeders:
        pair = pairs.get(one.feeder.feeder)
        total = total.plus(rotated(one.loads, STARTS[pair], system) if pair else one.loads)
        for line in _lines_of(pair, one.supply):
            other_a[line] += one.other_a
    heating = line_currents(total, system)
    lines = Lines(heating.a + other_a[0], heating.b + other_a[1], heating.c + other_a[2], heating.n)
    source = known.source
    row = SourceRow(
        source=source,
        supply=known.supply,
        named=known.named,
        feeders=tuple(one.feeder.feeder for one in feeders),
        loads=total,
        lines=lines,
        use_kva=transformer_load(known.supply.volts_v, lines.maximum, known.supply.phases),
        fault_ka=known.fault.used_ka if known.fault else None,
        calculated_ka=known.fault.calculated_ka if known.fault else None,
        marked_ka=known.fault.marked_ka if known.fault else None,
        fault_how=known.fault.how if known.fault else "",
        basis=("phasor sum of the feeders", rules.clause("fault_impedance")),
    )
    return Used(_judged(row, (other_a[0], other_a[1], other_a[2]), rules, said), pairs)


def _pairs(known: KnownSource, feeders: Sequence[FeederDemand], previous: PreviousDecisions, said: Remarks) -> dict[str, str]:
    """Of each 1-phase feeder on a 3-phase source its pair or leg, and of one to neutral on a 1-phase source of three wires its leg: given,
    as it was before, or chosen so that the fullest line carries least; of a corner-grounded source the pair without the grounded line."""
    if known.supply.phases != 3 and known.supply.system is not System.THREE_WIRE:
        return {}
    items, chosen = [], []
    kept: dict[str, str] = {}
    free = next((pair for pair in PAIRS if known.supply.grounded not in pair), None) if known.supply.grounded else None
    for one in feeders:
        fixed: int | None = 0
        if names := _places(one, known):
            given = one.feeder.phase_pair
            fixed = names.index(given) if given in names else None
            if given is not None and fixed is None:
                why = f"the feeder is {one.supply.system}"
                said.add("feeder-pair-ignored", "phase_pair", feeder=one.feeder.feeder, pair=given, why=why)
            if fixed is None and free is None and (was := _as_before(one.feeder, known, previous)) in names:
                kept[one.feeder.feeder] = was
                fixed = names.index(was)
            elif fixed is None:
                chosen.append(one.feeder.feeder)
                fixed = None if free is None else PAIRS.index(free)
            elif free is not None and one.fused and given != free:
                words = {"pair": given, "line": known.supply.grounded, "free": free, "source": known.source.source}
                said.add("grounded-pair", "phase_pair", feeder=one.feeder.feeder, **words)
        items.append(Placeable((natural(one.feeder.feeder),), one.loads, fixed))
    starts = choose_starts(items, known.supply.system)
    found = {}
    for one, start in zip(feeders, starts, strict=True):
        if names := _places(one, known):
            found[one.feeder.feeder] = names[start]
    for name in chosen:
        said.add("feeder-pair-chosen", "source", source=known.source.source, feeder=name, pair=found[name])
    if kept:
        _say_kept(kept, items, starts, [one.feeder.feeder for one in feeders], known, previous=previous, said=said)
    return found


def _places(one: FeederDemand, known: KnownSource) -> tuple[str, ...]:
    """The pairs or legs that a feeder may be on; () where there is nothing to choose."""
    to_neutral = one.supply.system is System.LINE_TO_NEUTRAL
    if known.supply.phases == 3:
        return () if one.supply.phases == 3 else LEGS if to_neutral else PAIRS
    return LEGS[: known.supply.system.starts] if to_neutral else ()


def _as_before(feeder: Feeder, known: KnownSource, previous: PreviousDecisions) -> str:
    """The pair that a feeder had on this source, "" = none."""
    was = previous.feeder(feeder.project, feeder.feeder)
    return was.pair if was.source.strip().casefold() == known.source.source.strip().casefold() else ""


def _say_kept(
    kept: Mapping[str, str], items: Sequence[Placeable], starts: Sequence[int], names: Sequence[str], known: KnownSource, *,
    previous: PreviousDecisions, said: Remarks,
) -> None:  # fmt: skip
    """Feeders that stay on their pairs, and where that costs balance, how much."""
    if previous.quiet:
        for name, pair in kept.items():
            said.add("feeder-pair-chosen", "source", source=known.source.source, feeder=name, pair=pair)
        return
    system = known.supply.system
    freed = [item._replace(fixed=None) if name in kept else item for name, item in zip(names, items, strict=True)]
    now, anew = (
        line_currents(_total(some, on, system), system).maximum for some, on in ((items, starts), (freed, choose_starts(freed, system)))
    )
    how = "" if now <= anew * COSTS else f"; chosen anew, its fullest line would carry {amps(anew)} and not {amps(now)}"
    said.add("kept-pair", "source", source=known.source.source, feeders=", ".join(kept), before=previous.source, how=how)


def _total(items: Sequence[Placeable], starts: Sequence[int], system: System) -> Loads:
    total = Loads()
    for item, start in zip(items, starts, strict=True):
        total = total.plus(rotated(item.loads, start, system))
    return total


def _lines_of(pair: str | None, supply: Supply) -> tuple[int, ...]:
    if pair is None:
        return tuple(range(supply.system.lines))
    return tuple("ABC".index(letter) for letter in pair.split("-") if letter != "N")


def _judged(row: SourceRow, other_a: tuple[float, float, float], rules: RuleSet, said: Remarks) -> SourceRow:
    """The row with its share in use, by the fullest line or, where the secondary may be a delta, by the fullest winding."""
    kva, volts_v, system = row.source.kva, row.supply.volts_v, row.supply.system
    if kva is None:
        return row
    rated_a = source_current(kva, volts_v, system.phases)
    use = source_use(row.loads, other_a, kva=kva, volts_v=volts_v, system=system)
    by_winding = use.windings_pct > use.lines_pct + CLOSE_PCT
    used_pct, what = (use.windings_pct, "fullest winding") if by_winding else (use.lines_pct, "fullest line")
    row = replace(row, rated_a=rated_a, used_pct=used_pct, governed_by=what)
    words = {"source": row.source.source, "use": f"{row.use_kva:.1f} kVA", "given": f"{kva:g} kVA", "percent": f"{used_pct:.2f} %"}
    words["what"] = what
    about = "kva" if row.named else "source_kva"
    if used_pct > HUNDRED:
        following = standard_transformer(used_pct / 100.0 * kva, system.phases, rules)
        said.add("source-overloaded", about, next=f"{following.value:g} kVA" if following else "beyond the table", **words)
    elif used_pct > rules.factor("source_use_note_pct").value:
        said.add("source-nearly-full", about, **words)
    return row


class Sourced(NamedTuple):
    """One source with its row, the feeders that hang on it as they are now known, and what is said of it."""

    known: KnownSource
    row: SourceRow
    feeders: tuple[FeederRow, ...]
    said: Remarks


def use_sources(
    known: Mapping[str, KnownSource], rows: Sequence[FeederRow], previous: PreviousDecisions, settings: Settings, rules: RuleSet
) -> Iterator[Sourced]:
    """Every source, those with rows of their own first; `known` is what each feeder hangs on, by its tag."""
    hung: dict[int, list[FeederRow]] = {}
    for row in rows:
        hung.setdefault(id(known[row.feeder.feeder]), []).append(row)
    for own in sorted(hung.values(), key=lambda some: not known[some[0].feeder.feeder].named):
        one, said = known[own[0].feeder.feeder], Remarks()
        demands = [
            FeederDemand(
                row.feeder, row.supply, row.loads.times(row.demand_on_amps), row.feeder.other_load_a or 0.0,
                fused=row.device is None or row.device.kind == "fuse",
            )
            for row in own
        ]  # fmt: skip
        used = use_source(one, demands, previous, rules, said)
        protection = judge_transformer(one, own, settings, rules, said)
        name = one.source.source if one.named else ""
        fed = tuple(
            replace(row, source=name, source_pair=used.pairs.get(row.feeder.feeder, ""), source_used_pct=used.row.used_pct) for row in own
        )
        yield Sourced(one, replace(used.row, protection=protection), fed, said)
