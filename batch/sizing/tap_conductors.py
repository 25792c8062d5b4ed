"""Taps of a feeder, where a tap length is given, and the ampacity of what no rule rounds up."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from batch.findings import Remarks
from batch.method.ampacity import adjustment, corrected_ampacity, terminal_ampacity
from batch.method.grounding import equipment_ground
from batch.method.neutral import current_carrying
from batch.method.overcurrent import overload_share, protects, small_conductor_allows
from batch.method.taps import tap_ampacity, tap_needs, tap_rule
from batch.method.terminals import temperature_column
from batch.method.voltage_drop import run_resistance
from batch.records import Settings
from batch.results import Device, FeederRow, Way, Wires
from batch.rules import RuleSet
from batch.sizing.runs import circuits_together, laid, raceway_of
from batch.sizing.words import amps, metres, size_words
from batch.supply_results import TapSizing


def unrounded_ampacity(
    size: str,
    device_a: float,
    lines: int,
    neutral: bool,
    settings: Settings,
    *,
    phases: int,
    ambient_c: float,
    installation: str = "",
    sets: int = 1,
    shares: int = 1,
    rules: RuleSet,
) -> int | None:
    """Ampacity of one conductor in whole amps: the lower of its terminals' column and of what it carries where it runs.

    `installation`: how it is laid; "" = as the project says. `sets`: parallel ones, itself among them;
    `shares`: circuits that run together.
    """
    column_c = temperature_column(device_a, settings.terminal_c, rules).value
    carrying = current_carrying(lines, neutral, phases, rules).value
    rules = laid(rules, settings, carrying, installation)
    terminal = terminal_ampacity(size, settings.conductor, column_c, rules)
    together = circuits_together(shares, sets, rules)
    corrected = corrected_ampacity(
        size, settings.conductor, ambient_c=ambient_c, current_carrying=carrying * shares, circuits=together, rules=rules
    )
    return None if terminal is None or corrected is None else tap_ampacity(terminal.value, corrected.value)


def grouping_with(wires: Wires, sets: int, settings: Settings, *, phases: int, installation: str = "", rules: RuleSet) -> float:
    """What company leaves of the ampacity of such wires, were they so many sets."""
    carrying = current_carrying(wires.lines, bool(wires.neutral), phases, rules).value
    rules = laid(rules, settings, carrying, installation)
    return adjustment(carrying * wires.shares, circuits_together(wires.shares, sets, rules), rules).value


def asked_by(device: Device, rules: RuleSet) -> float:
    """Ampacity that a device asks of conductors that it protects from overload, none rounded up."""
    return device.rating_a * overload_share(device.rating_a, device.kind, rules).value


def size_taps(row: FeederRow, ways: Sequence[Way], settings: Settings, *, rules: RuleSet, said: Remarks) -> tuple[Way, ...]:
    """The ways of a feeder as taps of the length given, each with the conductors that the tap's rule asks for."""
    length_m = row.feeder.tap_m
    if length_m is not None and len(ways) == 1:
        said.add("tap-unused", "tap_m", feeder=row.feeder.feeder)
    if length_m is None or row.device is None or len(ways) < 2:
        return tuple(ways)
    return tuple(_tap(row, way, length_m, settings, rules=rules, said=said) for way in ways)


def _tap(row: FeederRow, way: Way, length_m: float, settings: Settings, *, rules: RuleSet, said: Remarks) -> Way:
    device, feeder_device = way.device, row.device
    if device is None or feeder_device is None or way.wires is None:
        return way
    rule = tap_rule(length_m, rules)
    needs = tap_needs(way.required_a, asked_by(device, rules), feeder_device.rating_a, rule.value.share if rule else 1.0)
    lines, neutral, phases = way.wires.lines, bool(way.wires.neutral), row.supply.phases
    found: int | None = None
    protecting_a = device.rating_a if rule else feeder_device.rating_a
    for size in rules.sizes[rules.rank(settings.smallest_conductor) :]:
        ampacity = unrounded_ampacity(
            size, device.rating_a, lines, neutral, settings, phases=phases, ambient_c=settings.ambient_c, shares=way.wires.shares,
            rules=rules,
        )  # fmt: skip
        if ampacity is None or not small_conductor_allows(protecting_a, size, 1, settings.conductor, rules).value:
            continue  # a code may let taps off the limits of small conductors; keeping them is the safe side
        protected = protects(feeder_device.rating_a, feeder_device.kind, float(ampacity), 1, rules).value
        if protected if rule is None else ampacity >= needs:
            found = ampacity
            break
    else:
        said.add("tap-no-wire", "tap_m", tap=way.tag, needs=amps(needs))
        return replace(way, wires=None, run_m=length_m)
    if rule is None:
        words = {"tap": way.tag, "length": metres(length_m), "wire": size_words(size), "device": amps(feeder_device.rating_a)}
        said.add("tap-too-long", "tap_m", **words)
    by = rule.citation if rule else rules.clause("taps")
    wires = _tap_wires(row, way.wires, size, settings, ampacity_a=float(found or 0), rules=rules, rule=by)
    drop_pct = None if way.drop_pct is None else drop_with(way.drop_pct, way.wires, wires, settings, rules)
    sized = TapSizing(rule.citation if rule else "", found or 0, needs if rule else feeder_device.rating_a)
    return replace(way, run_m=length_m, wires=wires, drop_pct=drop_pct, tap=sized)


def drop_with(drop_pct: float, before: Wires, after: Wires, settings: Settings, rules: RuleSet) -> float:
    """Drop along other conductors of the same length, by their resistance."""
    ohms = [run_resistance(one.size, 1.0, settings.conductor, settings.raceway, rules).value / one.sets for one in (before, after)]
    return drop_pct * ohms[1] / ohms[0]


def _tap_wires(row: FeederRow, plain: Wires, size: str, settings: Settings, *, ampacity_a: float, rules: RuleSet, rule: str) -> Wires:
    """The tap's wires in their raceway; its ground by the feeder's device, no larger than the tap."""
    ground = equipment_ground(
        device_a=row.device.rating_a if row.device else 0.0,
        size=size,
        sets=1,
        needed_size=size,
        needed_sets=1,
        smallest=settings.smallest_conductor,
        material=settings.conductor,
        rules=rules,
    )
    raceway, fill_pct = raceway_of(plain.lines + bool(plain.neutral), size, ground.value, settings, rules, circuits=plain.shares)
    neutral = size if plain.neutral else ""
    basis = (rule, rules.clause("tap_ground"), rules.clause("ampacity"))
    return replace(
        plain, size=size, sets=1, neutral=neutral, ground=ground.value, governed_by="tap rule", required_size=size_words(size),
        raceway=raceway, fill_pct=fill_pct, basis=basis, ampacity_a=ampacity_a,
    )  # fmt: skip
