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
from batch.sizing.project import size_job
from tests.job_builder import RULES, bank, feeder, job, tank
from tests.make_samples import HERE
from tests.test_supply_side import hung, source

SAMPLES = ("small-clean.xlsx", "whole-plant.xlsx", "every-finding.xlsx", "revisions/line-4-rev-A.xlsx")
MISSING = {"beyond-table", "wire-beyond-table", "tap-no-wire"}


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
        ambient = float(settings["Ambient"].partition("(")[2].partition(" ")[0]) if "°F" in settings["Ambient"] else 40.0
        for row, way, one in ways_to(project):
            said = codes_around(result, row, one)
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
        yield f"panel feeder {panel.tag}", panel.design.panel_feeder_wires, panel.design.panel_feeder_device, air, 1
    branch = one.design.branch
    ahead = one.design.single_circuit.panel_feeder_device if one.design.single_circuit is not None else branch.device
    yield f"branch of {one.bank.tank}/{one.label}", branch.wires, ahead, air, one.bank.circuits_in_raceway or 1


@pytest.mark.parametrize("name", SAMPLES)
def test_every_conductor_of_a_sample_is_protected(name: str) -> None:
    assert walk(batch.check(HERE / name)) > 0


@st.composite
def jobs(draw: st.DrawFn) -> JobResult:
    """A source or none, one to three feeders of it, tanks with banks of every size."""
    sourced = draw(st.booleans())
    feeders, banks, tanks = [], [], []
    for at in range(draw(st.integers(1, 3))):
        name = f"F-{at}"
        more = {"run_m": draw(st.sampled_from([None, 10.0, 120.0])), "tap_m": draw(st.sampled_from([None, None, 2.5, 6.0]))}
        feeders.append(hung(feeder=name, **more) if sourced else feeder(feeder=name, **more))
        for number in range(draw(st.integers(1, 4))):
            tag = f"T-{at}{number}"
            phases = draw(st.sampled_from([1, 3]))
            banks.append(bank(
                tank=tag, feeder=name, phases=phases, connection=None, quantity=draw(st.integers(1, 14)),
                power_kw=draw(st.sampled_from([2.0, 6.0, 9.0, 18.0, 36.0, 60.0])), panel_feeder_run_m=draw(st.sampled_from([None, 15.0])),
            ))  # fmt: skip
            tanks.append(tank(tank=tag, distribution_run_m=draw(st.sampled_from([None, 20.0]))))
    made = job(banks, feeders, tanks)
    return size_job(replace(made, sources=(source(),)) if sourced else made)


@given(jobs())
@examples(max_examples=40, deadline=None)
def test_every_conductor_of_a_generated_job_is_protected(result: JobResult) -> None:
    walk(result)


@given(st.integers(1, 12), st.integers(1, 12))
@examples(max_examples=25, deadline=None)
def test_adding_a_load_never_lowers_what_is_in_use(first: int, more: int) -> None:
    """On a balanced wye: 3-phase heaters alone, since an unbalanced load may even out the lines of another."""
    three = {"phases": 3, "connection": None, "power_kw": 9.0}
    feeders = [hung(), hung(feeder="F-2")]
    [before] = size_job(replace(job([bank(quantity=first, **three)], feeders), sources=(source(),))).projects[0].sources
    both = [bank(quantity=first, **three), bank(tank="T-2", feeder="F-2", quantity=more, **three)]
    [after] = size_job(replace(job(both, feeders), sources=(source(),))).projects[0].sources
    assert after.used_pct > before.used_pct


@given(st.floats(1.0, 60.0), st.floats(1.0, 60.0))
@examples(max_examples=25, deadline=None)
def test_a_higher_fault_level_never_removes_a_finding(one: float, other: float) -> None:
    low, high = sorted((one, other))
    banks = [bank(quantity=6), bank(tank="T-2")]
    weak, stiff = (size_job(job(banks, feeder(fault_ka=level, run_m=5.0))) for level in (low, high))
    of_fault = {"fault-over-default", "fault-over-rating", "interrupting-over"}
    assert {finding.code for finding in weak.findings} & of_fault <= {finding.code for finding in stiff.findings}


def test_the_walk_sees_a_conductor_that_nothing_protects() -> None:
    """The walk itself: a feeder whose wires are made smaller than its device allows."""
    result = size_job(job(bank(quantity=6)))
    [project] = result.projects
    [row] = project.feeders
    thin = replace(row, wires=replace(row.wires, size="12"))
    with pytest.raises(AssertionError, match="feeder of F-1"):
        walk(replace(result, projects=(replace(project, feeders=(thin,)),)))
