"""Runs: the conductors of one branch circuit, panel feeder or feeder, by the three tests of the code, voltage drop and parallel sets."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from batch.findings import Remarks
from batch.held_once import held_once
from batch.method.ampacity import adjustment, ambient_correction, carries, corrected_ampacity, parallel_from, terminal_ampacity
from batch.method.grounding import equipment_ground
from batch.method.overcurrent import protects, small_conductor_allows
from batch.method.raceway import pvc_limit, trade_size
from batch.method.terminals import temperature_column
from batch.method.voltage_drop import run_resistance
from batch.records import Settings
from batch.results import Wires
from batch.rules import Cited, Installation, RuleSet
from batch.sizing.words import air, amps, sentence, size_words

MOST_SETS = 12  # in parallel; common practice, no source
CLOSE = 1e-9
TWO_LOADED, THREE_LOADED = 2, 3  # tables of ampacity are for two or for three loaded conductors


class Run(Struct, frozen=True):
    """One circuit, panel feeder or feeder that needs wires.

    what             in words, for findings: "branch", "panel feeder", "feeder F-1"
    load_a           the load, A; `required_a` the load with its margin, A; `device_a` the device ahead, A
    lines, neutral   ungrounded conductors and whether there is a neutral
    current_carrying of one circuit; `shares` circuits in one raceway, this one included
    drop             share of the volts lost, from ohms of one line and of the neutral (one way); None where no length is known
    """

    what: str
    about: str
    load_a: float
    required_a: float
    device_a: float
    device_kind: str
    lines: int
    neutral: bool
    current_carrying: int
    ambient_c: float
    shares: int = 1
    length_m: float | None = None
    drop: Callable[[float, float], float] | None = None
    drop_limit_pct: float | None = None
    installation: str = ""  # how it is laid; "" = as the project says

    def along(self, length_m: float, drop: Callable[[float, float], float], limit_pct: float) -> Run:
        """The same run with a length, what is lost along it, and the limit for that."""
        return replace(self, length_m=length_m, drop=drop, drop_limit_pct=limit_pct)


class Wired(NamedTuple):
    """The wires of a run and their drop; `wires` is None where none serves."""

    wires: Wires | None
    drop_pct: float | None


class WireChoice(NamedTuple):
    sets: int
    size: str


def choose_wires(run: Run, settings: Settings, rules: RuleSet, said: Remarks) -> Wired:
    """The smallest conductors that pass every test, with ground and raceway.

    Over the drop limit they are upsized where the project says so; the ground goes up in proportion.
    """
    rules = laid(rules, settings, run.current_carrying, run.installation)
    needed = _first(run, settings, rules, smallest=rules.sizes[0])
    bounded = needed  # which is single and no smaller than the project's smallest: the first that passes from there on, too
    if needed is None or needed.sets > 1 or rules.rank(needed.size) < rules.rank(settings.smallest_conductor):
        bounded = _first(run, settings, rules, smallest=settings.smallest_conductor)
    if needed is None or bounded is None:
        _say_none_serves(run, settings, rules, said)
        return Wired(None, None)
    chosen, governed = bounded, _governing(run, settings, rules, needed, bounded)
    limit, drop_pct = run.drop_limit_pct, _drop_pct(run, bounded, settings, rules)
    if drop_pct is not None and limit is not None and drop_pct > limit + CLOSE:
        upsized = _first(run, settings, rules, settings.smallest_conductor, limit) if settings.on_drop == "upsize" else None
        what, at_most = sentence(run.what), f"{limit:.3g} %"
        if upsized is not None:
            chosen, governed, drop_pct = upsized, "voltage drop", _drop_pct(run, upsized, settings, rules)
            sizes = {"size": _words(chosen), "required": _words(bounded)}
            said.add("drop-upsized", run.about, what=what, percent=f"{drop_pct:.2f} %", limit=at_most, **sizes)
        else:
            said.add("drop-over", run.about, what=what, percent=f"{drop_pct:.2f} %", limit=at_most)
    return Wired(_wires(run, chosen, needed, governed, settings, rules=rules, said=said), drop_pct)


def laid(rules: RuleSet, settings: Settings, current_carrying: int, installation: str = "") -> RuleSet:
    """The rule set as it holds for a run: by insulation, installation method, grouping and loaded conductors, where the code tells them."""
    loaded = min(max(current_carrying, TWO_LOADED), THREE_LOADED)
    return rules.installed(Installation(settings.insulation, _method(installation, settings), settings.grouping, loaded))


def _method(installation: str, settings: Settings) -> str:
    """Letters of the method by which a run is laid: its own, else the project's."""
    return installation or settings.installation


def circuits_together(shares: int, sets: int, rules: RuleSet) -> int:
    """Circuits that warm each other: those that share a way, and where a code counts circuits each parallel set; else a set has its own."""
    return shares * sets if rules.conventions.grouped_by == "circuits" else shares


def candidates(smallest: str, settings: Settings, rules: RuleSet) -> Iterator[WireChoice]:
    """Single conductors up to the project's largest, then parallel sets, two sets first."""
    least, most = rules.rank(smallest), rules.rank(settings.largest_conductor)
    parallel = max(least, rules.rank(parallel_from(rules).value))
    for size in rules.sizes[least : most + 1]:
        yield WireChoice(1, size)
    for sets in range(2, MOST_SETS + 1):
        for size in rules.sizes[parallel : most + 1]:
            yield WireChoice(sets, size)


def _first(run: Run, settings: Settings, rules: RuleSet, smallest: str, limit_pct: float | None = None) -> WireChoice | None:
    """The first candidate that passes, within the drop limit where one is given."""
    for candidate in candidates(smallest, settings, rules):
        if _failed_test(run, candidate, settings, rules):
            continue
        drop_pct = None if limit_pct is None else _drop_pct(run, candidate, settings, rules)
        if limit_pct is None or drop_pct is None or drop_pct <= limit_pct + CLOSE:
            return candidate
    return None


def _failed_test(run: Run, candidate: WireChoice, settings: Settings, rules: RuleSet) -> str:
    """Name of the first test that a candidate fails; "" where it passes all three: the load with its margin at the terminals, the load
    at the corrected ampacity, and the device ahead."""
    sets, size = candidate
    terminal = _at_terminals(run, size, settings, rules)
    if terminal is not None and not carries(run.required_a, terminal.value, sets):
        return "load with margin at the terminals"
    corrected = _where_it_runs(run, candidate, settings, rules)
    if terminal is None or corrected is None or not carries(run.load_a, corrected.value, sets):
        return "corrected ampacity"
    if not small_conductor_allows(run.device_a, size, sets, settings.conductor, rules).value:
        return "overcurrent device"
    return "" if protects(run.device_a, run.device_kind, min(terminal.value, corrected.value), sets, rules).value else "overcurrent device"


def _governing(run: Run, settings: Settings, rules: RuleSet, needed: WireChoice, bounded: WireChoice) -> str:
    if needed != bounded:
        return "smallest conductor of the project"
    before = None
    for candidate in candidates(rules.sizes[0], settings, rules):
        if candidate == needed:
            break
        before = candidate
    return "smallest conductor of the table" if before is None else _failed_test(run, before, settings, rules)


def _drop_pct(run: Run, candidate: WireChoice, settings: Settings, rules: RuleSet) -> float | None:
    """Per cent lost, the neutral of the lines' size; None where no length is known."""
    if run.drop is None or run.length_m is None:
        return None
    ohm = run_resistance(candidate.size, run.length_m, settings.conductor, settings.raceway, rules).value / candidate.sets
    return 100.0 * run.drop(ohm, ohm)


def _wires(
    run: Run, chosen: WireChoice, needed: WireChoice, governed: str, settings: Settings, *, rules: RuleSet, said: Remarks
) -> Wires:
    """The wires as chosen, with their ground and raceway, and every clause that had a say."""
    ground = equipment_ground(
        device_a=run.device_a,
        size=chosen.size,
        sets=chosen.sets,
        needed_size=needed.size,
        needed_sets=needed.sets,
        smallest=settings.smallest_conductor,
        material=settings.conductor,
        rules=rules,
    )
    raceway, fill_pct = _raceway(run, chosen.size, ground.value, settings, rules, said=said)
    letters = _method(run.installation, settings)
    company = _company(run, chosen.sets, rules)
    terminal, corrected = _at_terminals(run, chosen.size, settings, rules), _where_it_runs(run, chosen, settings, rules)
    return held_once(Wires(
        size=chosen.size,
        sets=chosen.sets,
        lines=run.lines,
        neutral=chosen.size if run.neutral else "",
        ground=ground.value,
        material=settings.conductor,
        insulation=settings.insulation,
        governed_by=governed,
        required_size=_words(needed),
        raceway=raceway,
        fill_pct=fill_pct,
        basis=_basis(run, chosen, ground.citation, company, letters, in_raceway=bool(raceway), rules=rules),
        method=letters if letters in rules.methods else "",
        shares=run.shares,
        grouping=company.value,
        ampacity_a=None if terminal is None or corrected is None else min(terminal.value, corrected.value) * chosen.sets,
    ))


def _basis(
    run: Run, chosen: WireChoice, ground: str, company: Cited[float], letters: str, *, in_raceway: bool, rules: RuleSet
) -> tuple[str, ...]:
    """Every clause that had a say in wires as chosen."""
    basis = [rules.clause(name) for name in ("ampacity", "terminal_limits", "overcurrent_protection")]
    basis.append(ground)
    warm = ambient_correction(run.ambient_c, rules.factor("insulation_c").value, rules)
    basis += [factor.citation for factor in (warm, company) if factor is not None and factor.value < 1.0]
    if chosen.sets > 1:
        basis.append(rules.clause("parallel"))
    if run.drop is not None:
        basis.append(rules.citations["table_impedance"])
    if method := rules.methods.get(letters):
        basis.append(f"method {letters}, {method.citation}")
    if in_raceway:
        basis.append(rules.clause("raceway_size"))
    return tuple(basis)


def _company(run: Run, sets: int, rules: RuleSet) -> Cited[float]:
    """What is left of a conductor's ampacity by what runs with it."""
    return adjustment(run.current_carrying * run.shares, circuits_together(run.shares, sets, rules), rules)


def _at_terminals(run: Run, size: str, settings: Settings, rules: RuleSet) -> Cited[float] | None:
    """Ampacity of one conductor in its terminals' column."""
    return terminal_ampacity(size, settings.conductor, _column(run.device_a, settings.terminal_c, rules), rules)


@lru_cache(maxsize=512)
def _column(device_a: float, terminal_c: int | None, rules: RuleSet) -> float:
    """The column of those terminals: the same for every size that is tried."""
    return temperature_column(device_a, terminal_c, rules).value


def _where_it_runs(run: Run, candidate: WireChoice, settings: Settings, rules: RuleSet) -> Cited[float] | None:
    """Ampacity of one conductor among what runs with it."""
    sets, size = candidate
    return corrected_ampacity(
        size,
        settings.conductor,
        ambient_c=run.ambient_c,
        current_carrying=run.current_carrying * run.shares,
        circuits=circuits_together(run.shares, sets, rules),
        rules=rules,
    )


@lru_cache(maxsize=2048)
def raceway_of(
    conductors: int, size: str, ground: str, settings: Settings, rules: RuleSet, *, circuits: int = 1, installation: str = ""
) -> tuple[str, float | None]:
    """Trade size and kind in words ("3/4 in PVC-80", "" where none serves) for so many conductors of each circuit, and how full it is, %;
    what an installation method runs in where the code tabulates no sizes."""
    kind = settings.raceway
    if not rules.has("raceways"):
        method = rules.methods.get(_method(installation, settings))
        return (method.value.containment if method is not None else ""), None
    found = trade_size(
        kind=kind, size=size, conductors=conductors, ground=ground, circuits=circuits, insulation=settings.insulation, rules=rules
    )
    return ("", None) if found is None else (f"{found.value.trade_size} {rules.marking.short_length} {kind}", found.value.fill_pct)


def _raceway(run: Run, size: str, ground: str, settings: Settings, rules: RuleSet, *, said: Remarks) -> tuple[str, float | None]:
    """Trade size and kind in words ("3/4 in PVC-80", "" where none serves), and how full it is, %."""
    kind, both = settings.raceway, rules.marking.fahrenheit
    hottest = pvc_limit(rules).value
    if kind.startswith("PVC") and run.ambient_c > hottest:
        said.add("pvc-too-hot", "ambient_c", raceway=kind, limit=air(hottest, both), ambient=air(run.ambient_c, both))
    conductors = run.lines + run.neutral
    raceway, fill_pct = raceway_of(conductors, size, ground, settings, rules, circuits=run.shares, installation=run.installation)
    if not raceway and rules.has("raceways"):
        count = (conductors + 1) * run.shares
        said.add("raceway-beyond-table", run.about, what=sentence(run.what), raceway=kind, count=count, size=size_words(size))
    return raceway, fill_pct


def _words(candidate: WireChoice) -> str:
    return size_words(candidate.size) if candidate.sets == 1 else f"{candidate.sets} sets of {size_words(candidate.size)}"


def _say_none_serves(run: Run, settings: Settings, rules: RuleSet, said: Remarks) -> None:
    """That no conductor is large enough, or that none is tabulated as these are laid."""
    column_c = _column(run.device_a, settings.terminal_c, rules)
    if all(terminal_ampacity(size, settings.conductor, column_c, rules) is None for size in rules.sizes):
        laid_by = {"insulation": settings.insulation, "method": _method(run.installation, settings)}
        said.add("wire-not-tabulated", run.about, what=sentence(run.what), material=settings.conductor, **laid_by)
        return
    parallel = rules.rank(settings.largest_conductor) >= rules.rank(parallel_from(rules).value)
    said.add(
        "wire-beyond-table",
        run.about,
        what=sentence(run.what),
        largest=size_words(settings.largest_conductor),
        sets=f"up to {MOST_SETS} sets" if parallel else "one set",
        amps=amps(run.required_a),
        ambient=air(run.ambient_c, rules.marking.fahrenheit),
        device=amps(run.device_a),
    )
