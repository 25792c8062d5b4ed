"""Conductors by the three tests of the code, voltage drop, and parallel sets; with ground and raceway they make one `Wires`."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import floor
from typing import NamedTuple

from batch.findings import Remark, remark
from batch.records import Settings
from batch.results import Wires
from batch.rules import RuleSet
from batch.sizing.grounding import ground_size
from batch.sizing.raceway import choose_raceway
from batch.sizing.words import air, amps, sentence, size_words

MOST_SETS = 12


@dataclass(frozen=True, slots=True)
class Run:
    """One circuit, feed or feeder that needs wires.

    what             in words, for findings: "branch", "panel feed", "feeder F-1"
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


class Choice(NamedTuple):
    """The wires of a run and what there is to say; `wires` is None where none serves."""

    wires: Wires | None
    drop_pct: float | None
    remarks: tuple[Remark, ...]


def choose_wires(run: Run, settings: Settings, rules: RuleSet) -> Choice:
    """The smallest conductors that pass every test (110.14(C), 210.19(A), 215.2, 310.15, 240.4), with ground and raceway.

    Over the drop limit they are upsized where the project says so; the ground goes up in proportion (250.122(B)).
    """
    needed = _first(run, settings, rules, smallest=rules.sizes[0], limit_pct=None)
    bounded = _first(run, settings, rules, smallest=settings.smallest_conductor, limit_pct=None)
    if needed is None or bounded is None:
        return Choice(None, None, (_none_serves(run, settings, rules),))
    said: list[Remark] = []
    chosen, governed = bounded, _governing(run, settings, rules, needed, bounded)
    limit = run.drop_limit_pct
    if run.drop is not None and limit is not None and _drop_pct(run, bounded, settings, rules) > limit + 1e-9:
        upsized = (
            _first(run, settings, rules, smallest=settings.smallest_conductor, limit_pct=limit) if settings.on_drop == "upsize" else None
        )
        if upsized is not None:
            chosen, governed = upsized, "voltage drop"
            said.append(
                remark(
                    "drop-upsized",
                    run.about,
                    what=sentence(run.what),
                    size=_words(chosen, rules),
                    required=_words(bounded, rules),
                    percent=f"{_drop_pct(run, chosen, settings, rules):.2f} %",
                    limit=f"{limit:.3g} %",
                )
            )
        else:
            said.append(
                remark(
                    "drop-over",
                    run.about,
                    what=sentence(run.what),
                    percent=f"{_drop_pct(run, bounded, settings, rules):.2f} %",
                    limit=f"{limit:.3g} %",
                )
            )
    drop_pct = None if run.drop is None else _drop_pct(run, chosen, settings, rules)
    wires, more = _finish(run, chosen, needed, governed, settings, rules)
    return Choice(wires, drop_pct, (*said, *more))


class _Candidate(NamedTuple):
    sets: int
    size: str


def _candidates(smallest: str, settings: Settings, rules: RuleSet) -> Iterator[_Candidate]:
    """Single conductors up to the project's largest, then parallel sets from 1/0 (310.10(G)), two sets first."""
    least, most = rules.rank(smallest), rules.rank(settings.largest_conductor)
    parallel = max(least, rules.rank(rules.factor("parallel_from").value))
    for size in rules.sizes[least : most + 1]:
        yield _Candidate(1, size)
    for sets in range(2, MOST_SETS + 1):
        for size in rules.sizes[parallel : most + 1]:
            yield _Candidate(sets, size)


def _first(run: Run, settings: Settings, rules: RuleSet, smallest: str, limit_pct: float | None) -> _Candidate | None:
    for candidate in _candidates(smallest, settings, rules):
        if _failed_test(run, candidate, settings, rules):
            continue
        if limit_pct is None or run.drop is None or _drop_pct(run, candidate, settings, rules) <= limit_pct + 1e-9:
            return candidate
    return None


def terminal_column(device_a: float, settings: Settings, rules: RuleSet) -> int:
    """Temperature column of the terminals, °C: the project's own, else 60 up to a 100 A device and 75 above (110.14(C)(1))."""
    if settings.terminal_c:
        return settings.terminal_c
    return rules.factor("terminal_low_c" if device_a <= rules.factor("terminal_split_a").value else "terminal_high_c").value


def corrected_ampacity(size: str, run: Run, settings: Settings, rules: RuleSet) -> float | None:
    """Ampacity of one conductor in its insulation's own column, corrected for ambient and adjusted for its company (310.15(B), (C))."""
    column = rules.factor("insulation_c").value
    base = rules.ampacity(size, settings.conductor, column)
    ambient = rules.ambient_factor(run.ambient_c, column)
    if base is None or ambient is None:
        return None
    return base.value * ambient.value * rules.adjustment(run.current_carrying * run.shares).value


def _failed_test(run: Run, candidate: _Candidate, settings: Settings, rules: RuleSet) -> str:
    """Name of the first test that a candidate fails; "" where it passes all three."""
    sets, size = candidate
    terminal = rules.ampacity(size, settings.conductor, terminal_column(run.device_a, settings, rules))
    corrected = corrected_ampacity(size, run, settings, rules)
    if terminal is None or corrected is None:
        return "corrected ampacity"
    if sets * terminal.value < run.required_a - 1e-6:
        return "load with margin at the terminals"
    if sets * corrected < run.load_a - 1e-6:
        return "corrected ampacity"
    return "" if _is_protected(run, sets, size, min(terminal.value, corrected), rules, settings) else "overcurrent device"


def _is_protected(run: Run, sets: int, size: str, ampacity_a: float, rules: RuleSet, settings: Settings) -> bool:
    """240.4: the device is at most the ampacity rounded down, or the next standard size up to 800 A; 240.4(D) for small wires."""
    limit = rules.small_conductor_limit(size, settings.conductor)
    if limit is not None and sets == 1 and run.device_a > limit.value:
        return False
    carries = sets * floor(ampacity_a + 1e-9)
    if run.device_a <= carries:
        return True
    if run.device_a > rules.factor("round_up_limit_a").value:
        return False
    step = rules.next_rating(carries, run.device_kind, 0.0)
    return step is not None and run.device_a <= step.value


def _governing(run: Run, settings: Settings, rules: RuleSet, needed: _Candidate, bounded: _Candidate) -> str:
    if needed != bounded:
        return "smallest conductor of the project"
    before = None
    for candidate in _candidates(rules.sizes[0], settings, rules):
        if candidate == needed:
            break
        before = candidate
    return "smallest conductor of the table" if before is None else _failed_test(run, before, settings, rules)


def _drop_pct(run: Run, candidate: _Candidate, settings: Settings, rules: RuleSet) -> float:
    ohm = resistance(candidate.size, run.length_m, settings, rules) / candidate.sets
    return 100.0 * run.drop(ohm, ohm)


def resistance(size: str, length_m: float, settings: Settings, rules: RuleSet) -> float:
    """Ohms of one conductor one way, Chapter 9 Table 9 at unity power factor; a size not listed takes the next smaller one's."""
    for listed in reversed(rules.sizes[: rules.rank(size) + 1]):
        cited = rules.ac_resistance(listed, settings.conductor, settings.raceway)
        if cited is not None:
            return cited.value * length_m / 1000.0
    return rules.ac_resistance("12", settings.conductor, settings.raceway).value * length_m / 1000.0


def _finish(
    run: Run, chosen: _Candidate, needed: _Candidate, governed: str, settings: Settings, rules: RuleSet
) -> tuple[Wires, tuple[Remark, ...]]:
    ground = ground_size(run.device_a, chosen.size, chosen.sets, needed.size, needed.sets, settings, rules)
    neutral = chosen.size if run.neutral else ""
    raceway = choose_raceway(
        run.what, run.about, chosen.size, run.lines + run.neutral, ground.size, run.shares, run.ambient_c, settings, rules
    )
    basis = ["310.15, Table 310.16", "110.14(C)", "240.4", ground.basis]
    if run.ambient_c > 30:
        basis.append("Table 310.15(B)(1)(1)")
    if run.current_carrying * run.shares > 3:
        basis.append("Table 310.15(C)(1)")
    if chosen.sets > 1:
        basis.append("310.10(G)")
    if run.drop is not None:
        basis.append("Chapter 9 Table 9")
    if raceway.words:
        basis.append("Chapter 9 Tables 1, 4, 5")
    wires = Wires(
        chosen.size,
        chosen.sets,
        run.lines,
        neutral,
        ground.size,
        settings.conductor,
        settings.insulation,
        governed,
        _words(needed, rules),
        raceway.words,
        raceway.fill_pct,
        tuple(basis),
    )
    return wires, raceway.remarks


def _words(candidate: _Candidate, rules: RuleSet) -> str:
    return size_words(candidate.size) if candidate.sets == 1 else f"{candidate.sets} sets of {size_words(candidate.size)}"


def _none_serves(run: Run, settings: Settings, rules: RuleSet) -> Remark:
    parallel = rules.rank(settings.largest_conductor) >= rules.rank(rules.factor("parallel_from").value)
    return remark(
        "wire-beyond-table",
        run.about,
        what=sentence(run.what),
        largest=size_words(settings.largest_conductor),
        sets=f"up to {MOST_SETS} sets" if parallel else "one set",
        amps=amps(run.required_a),
        ambient=air(run.ambient_c, rules.region == "us"),
        device=amps(run.device_a),
    )
