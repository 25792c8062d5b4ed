"""Nameplates of distribution units of ours, each with the directory of its ways."""

from __future__ import annotations

from collections.abc import Iterator

from batch.counted_words import counted
from batch.papers.assembly_marking import assembly_facts
from batch.papers.job_at_hand import AtHand
from batch.papers.nameplate_words import OPEN, fault_on_plate, system_on_plate
from batch.papers.paper_data import Label, PaperFact
from batch.papers.shown import figure
from batch.results import FeederEnd, FeederRow, Way
from batch.rules import load
from batch.schedules.designations import US_SYMBOLS
from batch.schedules.label_list import needed_words, unit_tag, units_to_build
from batch.schedules.row_words import earthed
from batch.systems import SYSTEMS


def unit_plates(at: AtHand) -> Iterator[Label]:
    """One for each unit of ours that may be built: none for a unit that is there already, or whose feeder is on hold."""
    for row, end in units_to_build(at.project):
        yield _plate(at, row, end)


def _plate(at: AtHand, row: FeederRow, end: FeederEnd) -> Label:
    supply, device = row.supply, row.device
    ahead = "by its main device, none stands ahead on the secondary" if row.feeder.device_at_end else "at its source"
    source = row.source or "its own source"
    lugs = f", lugs {end.lugs}" if end.lugs else ""
    rules, neutral = load(at.project.rule_set), row.wires is not None and bool(row.wires.neutral)
    system = system_on_plate(
        supply.volts_v, SYSTEMS[supply.system], neutral, row.feeder.frequency_hz or rules.marking.frequency_hz,
        us=at.project.symbols == US_SYMBOLS, named=rules.leg_named(supply.volts_v),
    )  # fmt: skip
    facts = (
        PaperFact("Maker", f"{OPEN}{OPEN}{OPEN}   Serial no. {OPEN}{OPEN}"),
        PaperFact("Supply", system + earthed(at.project, row.feeder.feeder)),
        *assembly_facts(rules, row.lines.maximum),
        PaperFact("Fed from", f"feeder {row.feeder.feeder} of {source}; protected by {device.in_full} {ahead}" if device else ""),
        PaperFact("Bus", ("to be chosen" if end.bus_a is None else f"{end.bus_a:g} A") + lugs),
        PaperFact("Main", "main lugs" if end.main_a is None else f"{end.main_a:g} A"),
        PaperFact("Full load", f"{figure(row.lines.maximum, 'amps')} A, {row.connected_kw:,.6g} kW"),
        PaperFact("Fault current", fault_on_plate(at, end.fault_ka)),
        PaperFact("Short-circuit rating", f"{OPEN} kA, builder to mark; {needed_words(end.fault_ka)}"),
        PaperFact("Directory", "; ".join(_way(way) for way in end.ways)),
    )
    kind = f"{end.unit}, {counted(len(end.ways), 'way')}"
    return Label(unit_tag(row), kind, "", "", tuple(one for one in facts if one.words))


def _way(way: Way) -> str:
    rating = f"{way.device.rating_a:g} A" if way.device is not None else OPEN
    return f"{way.tag} {rating}: control panel of {way.tank}"
