"""A walk from every source to every heater: each conductor on the way has a device or a tap rule that protects it.

The conductors, devices and lengths are taken from the results alone, and each is judged here by the tables of the rule set: what sizing
says of itself is not asked. A feeder, bank or panel that is found wanting must say so.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import settings as examples
from hypothesis import strategies as st

import batch
from batch.findings import Severity
from batch.results import BankRow, Device, FeederRow, JobResult, ProjectResult, Way, Wires
from batch.sizing.placing import groups
from batch.sizing.project import size_job
from batch.sizing.source_loads import PAIRS
from batch.systems import System
from tests.job_builder import RULES, bank, feeder, job, part, tank
from tests.job_builder import project as settled
from tests.make_samples import HERE
from tests.test_supply_side import hung, source

SAMPLES = (
    "small-clean.xlsx", "whole-plant.xlsx", "every-finding.xlsx", "broken/stock-list.xlsx",
    *(f"revisions/line-4-rev-{name}.xlsx" for name in ("A", "B", "C")),
)  # fmt: skip
MISSING = {"beyond-table", "wire-beyond-table", "tap-no-wire"}
IN_THE_GROUND = {"fuse-in-grounded-line", "grounded-pair"}  # what speaks of a device in a grounded line


def protected(wires: Wires, device: Device, ambient_c: float, shares: int, marked_75: bool) -> bool:
    """By 240.4(B), (C) and (D): the ampacity at the terminals and where the wires run, at most one standard size below the device."""
    device_a, material = device.rating_a, wires.material
    column = 60 if device_a <= 100 and not marked_75 else 75
    at_terminal = RULES.ampacity(wires.size, material, column).value * wires.sets
    carrying = min(wires.lines + bool(wires.neutral), 3) * shares
    corrected = RULES.ampacity(wires.size, material, 90).value * RULES.ambient_factor(ambient_c, 90).value * wires.sets
    if carrying > 3:
        corrected *= RULES.adjustment(carrying, 1).value
    ampacity = round(min(at_terminal, corrected), 6)
    small = RULES.small_conductor_limit(wires.size, material)
    if small is not None and wires.sets == 1 and device_a > small.value:
        return False
    if ampacity >= device_a:
        return True
    up = RULES.next_rating(ampacity, device.kind)
    return device_a <= 800 and up is not None and device_a <= up.value


def ways_to(result: ProjectResult) -> Iterator[tuple[FeederRow, Way, BankRow]]:
    """Every bank with the way and the feeder that it hangs on."""
    feeders = {row.feeder.feeder: row for row in result.feeders}
    for one in result.banks:
        row = feeders[one.feeder.feeder]
        if row.end is None:
            continue
        [way] = [way for way in row.end.ways if way.tank == one.bank.tank]
        assert one.label in way.banks
        yield row, way, one


def codes_around(result: JobResult, row: FeederRow, one: BankRow) -> set[str]:
    found = [finding for finding in result.findings if finding.feeder == row.feeder.feeder and finding.project == row.feeder.project]
    return {finding.code for finding in (*found, *one.findings) if finding.severity is not Severity.NOTE}


def walk(result: JobResult) -> int:
    """How many conductors were judged; fails at the first that nothing protects and nobody speaks of."""
    walked = 0
    for project in result.projects:
        settings = {setting.name: setting.value for setting in project.settings}
        secondaries(result, project)
        ambient = float(settings["Ambient"].partition("(")[2].partition(" ")[0]) if "°F" in settings["Ambient"] else 40.0
        for row, way, one in ways_to(project):
            said = codes_around(result, row, one)
            grounded_lines(row, way, one, said)
            air = ambient if row.feeder.ambient_c is None else row.feeder.ambient_c
            for what, wires, device, ambient_c, shares in conductors(row, way, one, air, ambient):
                if device is None or wires is None or not wires.required_size:
                    assert said & MISSING, f"{what} of {row.feeder.feeder} has no device or wires, and nobody says so"
                    continue
                walked += 1
                ok = protected(wires, device, ambient_c, shares, settings["Terminal rating"].startswith(("75", "167")))
                assert ok, f"{what} of {row.feeder.feeder}: {wires.sets} x {wires.size} behind {device.rating_a:g} A"
    return walked


def conductors(
    row: FeederRow, way: Way, one: BankRow, feeder_air: float, air: float
) -> Iterator[tuple[str, Wires | None, Device | None, float, int]]:
    """Each run of conductors from the source to the heaters of a bank, with the device that stands ahead of it."""
    yield "feeder", row.wires, row.device, feeder_air, 1
    assert row.end is not None
    if row.end.unit == "taps":
        assert way.device is not None and row.device is not None
        if way.wires is not None and row.feeder.tap_m <= 7.5:
            column = 60 if way.device.rating_a <= 100 else 75
            ampacity = int(RULES.ampacity(way.wires.size, way.wires.material, column).value)
            share = 10 if row.feeder.tap_m <= 3 else 3  # 240.21(B)(1), (B)(2)
            assert ampacity >= way.device.rating_a and ampacity >= row.device.rating_a / share, f"tap {way.tag}"
    elif row.end.unit:
        yield f"way {way.tag}", way.wires, way.device, air, 1
        assert way.device is None or way.device.rating_a >= way.largest_a, f"way {way.tag} below the device behind it"
        assert row.device is None or way.device is None or row.device.rating_a >= way.device.rating_a or row.feeder.existing_device_a
        if row.end.bus_a is not None and row.feeder.bus_a is None:
            assert row.end.bus_a >= row.device.rating_a, "bus below the feeder's device"
    for panel in one.panels:
        if panel.design.device_at_way:  # the way's device protects the panel feeder too
            assert way.device is not None and way.device.rating_a == panel.design.panel_feeder_device.rating_a
            assert not [need for need in panel.design.parts if need.role.startswith("panel feeder")]
        yield f"panel feeder {panel.tag}", panel.design.panel_feeder_wires, panel.design.panel_feeder_device, air, 1
    branch = one.design.branch
    ahead = one.design.single_circuit.panel_feeder_device if one.design.single_circuit is not None else branch.device
    yield f"branch of {one.bank.tank}/{one.label}", branch.wires, ahead, air, one.bank.circuits_in_raceway or 1


SECONDARY = {"transformer-unknown", "secondary-length-unknown", "secondary-too-long", "secondary-small"}


def secondaries(result: JobResult, project: ProjectResult) -> None:
    """Between a transformer of the job and each feeder's device: 240.21(C)(1) by the primary device, (C)(2) to 3 m, (C)(6) to 7.5 m, or a
    finding."""
    for row in project.sources:
        one, said = row.source, {finding.code for finding in row.findings}
        if one.of_this_job != "yes" or said & SECONDARY:
            continue
        assert None not in (one.primary_v, one.primary_device_a, one.secondary_run_m), one.source
        for fed in project.feeders:
            if fed.feeder.feeder not in row.feeders or fed.wires is None or fed.device is None or not fed.banks:
                continue
            column = 60 if fed.device.rating_a <= 100 else 75
            ampacity = int(RULES.ampacity(fed.wires.size, fed.wires.material, column).value) * fed.wires.sets
            deltas = one.primary_winding == "delta" and row.supply.system in (System.DELTA, System.CORNER_GROUNDED_DELTA)
            two_wires = row.supply.phases == 1 and row.supply.wires == 2
            if (deltas or two_wires) and one.primary_device_a <= ampacity * one.volts_v / one.primary_v:
                continue
            assert one.secondary_run_m <= 7.5, one.source
            seen_a = one.primary_v / one.volts_v * one.primary_device_a / (10 if one.secondary_run_m <= 3 else 3)
            assert ampacity >= max(fed.device.rating_a, fed.required_a, seen_a), one.source


def grounded_lines(row: FeederRow, way: Way, one: BankRow, said: set[str]) -> None:
    """On a corner-grounded delta no fuse stands in the grounded line and every other line has one, on every level: by counts of poles."""
    grounded = row.supply.grounded
    if not grounded:
        assert row.supply.system is not System.CORNER_GROUNDED_DELTA
        return
    for device, lines in ((row.device, 3), (way.device, 3)):
        assert device is None or device.poles == (lines - 1 if device.kind == "fuse" else lines), row.feeder.feeder
    for group, start in zip(groups(one.design), one.starts, strict=True):
        names = ("ABCABC"[start : start + 3]) if row.supply.phases == 3 else "ABC"
        terminal = f"L{names.index(grounded) + 1}"
        terminals = {part for leg in group.legs for part in leg.split("-") if part[0] == "L"}
        assert group.grounded == (terminal if terminal in terminals else "")
        device = group.panel_feeder_device
        assert device.poles == (len(terminals - {terminal}) if device.kind == "fuse" else len(terminals))
        bought = {need.role: need.quantity for need in (*group.parts, *group.feed_parts) if need.role.endswith(" fuse")}
        if group.block and group.branch.device.kind == "fuse":
            lines = [part for leg in group.legs for part in leg.split("-") if part[0] == "L" and part != terminal]
            assert bought["branch fuse"] == len(lines)
        role = "panel feeder fuse" if group.block else "bank fuse"
        assert device.kind != "fuse" or group.device_at_way or bought[role] == len(terminals - {terminal})
    assert row.feeder.grounded_fused != "yes" or said & IN_THE_GROUND


@pytest.mark.parametrize("name", SAMPLES)
def test_every_conductor_of_a_sample_is_protected(name: str) -> None:
    assert walk(batch.check(HERE / name)) > 0


@st.composite
def jobs(draw: st.DrawFn) -> JobResult:
    """A source or none, one to three feeders of it, tanks with banks of every size."""
    sourced = draw(st.booleans())
    system = draw(st.sampled_from(["wye grounded", "wye grounded", "delta", "corner-grounded delta"]))
    line = draw(st.sampled_from(["A", "B", "C"])) if system == "corner-grounded delta" else None
    kind = draw(st.sampled_from(["fuse", "fuse", "breaker"]))
    feeders, banks, tanks = [], [], []
    for at in range(draw(st.integers(1, 3))):
        name = f"F-{at}"
        more = {"run_m": draw(st.sampled_from([None, 10.0, 120.0])), "tap_m": draw(st.sampled_from([None, None, 2.5, 6.0]))}
        more |= {"system": None if sourced else system, "grounded_line": None if sourced else line, "wires": None}
        feeders.append(hung(feeder=name, **more) if sourced else feeder(feeder=name, **more))
        for number in range(draw(st.integers(1, 4))):
            tag = f"T-{at}{number}"
            phases = draw(st.sampled_from([1, 3]))
            banks.append(bank(
                tank=tag, feeder=name, phases=phases, connection=None, quantity=draw(st.integers(1, 14)),
                power_kw=draw(st.sampled_from([2.0, 6.0, 9.0, 18.0, 36.0, 60.0])), panel_feeder_run_m=draw(st.sampled_from([None, 15.0])),
            ))  # fmt: skip
            tanks.append(tank(
                tank=tag, distribution_run_m=draw(st.sampled_from([None, 20.0])), one_device=draw(st.sampled_from([None, "yes"])),
            ))  # fmt: skip
    made = job(banks, feeders, tanks, projects=settled(device_kind=kind))
    unit = {"primary_v": 480.0, "kva": draw(st.sampled_from([75.0, 500.0])), "of_this_job": draw(st.sampled_from(["yes", None]))}
    unit["primary_device_a"] = draw(st.sampled_from([None, 125.0, 700.0]))
    unit["secondary_run_m"] = draw(st.sampled_from([None, 2.5, 6.0, 20.0]))
    unit["primary_winding"] = draw(st.sampled_from([None, "delta", "wye"]))
    return size_job(replace(made, sources=(source(system=system, grounded_line=line, wires=None, **unit),)) if sourced else made)


@given(jobs())
@examples(max_examples=100, deadline=None)
def test_every_conductor_of_a_generated_job_is_protected(result: JobResult) -> None:
    walk(result)


@st.composite
def loads(draw: st.DrawFn, most: int) -> list[dict]:
    """Banks of few panels on two feeders of one source, one of which is 1-phase: balanced, lopsided, of one pair."""
    found = []
    for number in range(draw(st.integers(1, most))):
        on = draw(st.sampled_from(["F-1", "F-1", "F-2"]))
        phases = 1 if on == "F-2" else draw(st.sampled_from([1, 3]))
        pair = None if phases == 3 else draw(st.sampled_from(PAIRS)) if on == "F-1" else None
        joined = draw(st.sampled_from([None, "parallel"])) if phases == 1 else None
        found.append({
            "tank": f"T-{number}", "feeder": on, "phases": phases, "connection": joined,
            "quantity": draw(st.integers(1, 6)), "power_kw": draw(st.sampled_from([3.0, 6.0, 9.0])), "phase_pair": pair,
        })  # fmt: skip
    return found


def used(banks: list[dict], system: str, fixed: bool) -> tuple[float, dict[str, float], dict[str, float]]:
    """What is in use of the source, %, of each feeder's and of each way's device, A."""
    feeders = [hung(system=system), hung(feeder="F-2", phases=1, wires=2, system=None, phase_pair="B-C" if fixed else None)]
    asked = [bank(**one if fixed else one | {"phase_pair": None}) for one in banks]
    [project] = size_job(replace(job(asked, feeders), sources=(source(system=system, kva=100.0),))).projects
    amps = {row.feeder.feeder: row.required_a for row in project.feeders if row.banks}
    ways = {way.tank: way.required_a for row in project.feeders if row.end is not None for way in row.end.ways}
    return project.sources[0].used_pct, amps, ways


@pytest.mark.parametrize("system", ["wye grounded", "delta"])
@given(loads(4), loads(1))
@examples(max_examples=50, deadline=None)
def test_adding_a_load_never_lowers_what_is_in_use(system: str, first: list[dict], more: list[dict]) -> None:
    """Of source, feeder and way, whatever the load added is on, where the pairs are given: every load is a resistance."""
    before, after = used(first, system, True), used([*first, *(one | {"tank": "T-MORE"} for one in more)], system, True)
    assert after[0] >= before[0] * (1 - 1e-9)
    for one, other in zip(before[1:], after[1:], strict=True):
        assert all(other[name] >= amps * (1 - 1e-9) for name, amps in one.items())


@given(loads(3), loads(1))
@examples(max_examples=50, deadline=None)
def test_nor_does_it_where_the_pairs_are_chosen_anew(first: list[dict], more: list[dict]) -> None:
    """Of the source by its lines and of its feeders: the best arrangement with a load is no better than the best without, and what is
    chosen is the best to a thousandth. Of a way it may: what is balanced is the feeder."""
    before, after = used(first, "wye grounded", False), used([*first, *(one | {"tank": "T-MORE"} for one in more)], "wye grounded", False)
    assert after[1]["F-1"] >= before[1]["F-1"] * (1 - 2e-3) if "F-1" in before[1] else True
    assert after[1].get("F-2", 0.0) >= before[1].get("F-2", 0.0) * (1 - 1e-9)


OF_FAULT = {"fault-over-default", "fault-over-rating", "interrupting-over", "fault-given-low", "fault-given-less"}


def said_of_faults(result: JobResult) -> set[str]:
    """Codes of what is said of fault currents; a given one that is a little low is as good as said where it is said to be low."""
    codes = {finding.code for finding in result.findings} & OF_FAULT
    return codes | ({"fault-given-less"} if "fault-given-low" in codes else set())


@given(st.floats(1.0, 60.0), st.floats(1.0, 60.0))
@examples(max_examples=25, deadline=None)
def test_a_higher_fault_level_never_removes_a_finding(one: float, other: float) -> None:
    low, high = sorted((one, other))
    banks = [bank(quantity=6), bank(tank="T-2")]
    weak, stiff = (size_job(job(banks, feeder(fault_ka=level, run_m=5.0))) for level in (low, high))
    assert said_of_faults(weak) <= said_of_faults(stiff)


STOCKED = [
    part(part="PDB-10", kind="power distribution block", rating_a=175.0, volts_v=600.0, poles=3, sccr_ka=10.0),
    part(part="PDB-14", kind="power distribution block", rating_a=250.0, volts_v=600.0, poles=3, sccr_ka=14.0),
    part(part="B-20", kind="breaker", rating_a=20.0, volts_v=480.0, poles=2, sccr_ka=14.0),
]


@given(
    st.floats(1.0, 2000.0), st.floats(1.0, 2000.0), st.sampled_from([None, 8.0, 15.0]), st.sampled_from(["fuse", "breaker"]),
    st.sampled_from([(), STOCKED]), st.sampled_from([{}, {"unit_x_over_r": 5.0, "primary_x_over_r": 8.0}]),
)  # fmt: skip
@examples(max_examples=30, deadline=None)
def test_nor_does_a_higher_level_of_the_primary(
    one: float, other: float, given_ka: float | None, kind: str, stock: list, ratios: dict
) -> None:
    """MVA ahead of a 500 kVA unit, with its angles known and not, a given fault current or none, generic parts or stock ones."""
    low, high = sorted((one, other))
    banks = [bank(quantity=6), bank(tank="T-2")]
    results = [
        size_job(replace(
            job(banks, hung(run_m=5.0), projects=settled(device_kind=kind, distribution="ours"), stock=list(stock)),
            sources=(source(primary_ka=None, primary_mva=level, fault_ka=given_ka, **ratios),),
        ))
        for level in (low, high)
    ]  # fmt: skip
    assert said_of_faults(results[0]) <= said_of_faults(results[1])


def test_the_walk_sees_a_conductor_that_nothing_protects() -> None:
    """The walk itself: a feeder whose wires are made smaller than its device allows."""
    result = size_job(job(bank(quantity=6)))
    [project] = result.projects
    [row] = project.feeders
    thin = replace(row, wires=replace(row.wires, size="12"))
    with pytest.raises(AssertionError, match="feeder of F-1"):
        walk(replace(result, projects=(replace(project, feeders=(thin,)),)))
