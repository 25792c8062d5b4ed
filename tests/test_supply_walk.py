"""The walk from every source to every heater, over samples and generated jobs; what more load and a stiffer source may not do."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import settings as examples
from hypothesis import strategies as st

import batch
from batch.results import JobResult
from batch.sizing.project import size_job
from batch.sizing.source_loads import PAIRS
from tests.job_builder import bank, feeder, job, part, tank
from tests.job_builder import project as settled
from tests.make_samples import HERE
from tests.supply_walk import walk
from tests.test_supply_side import hung, source

SAMPLES = (
    "small-clean.xlsx", "whole-plant.xlsx", "every-finding.xlsx", "broken/stock-list.xlsx",
    *(f"revisions/line-4-rev-{name}.xlsx" for name in ("A", "B", "C")),
)  # fmt: skip


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
