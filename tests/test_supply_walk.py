"""The walk from every source to every heater, over samples and generated jobs; what more load and a stiffer source may not do."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import settings as examples
from hypothesis import strategies as st
from msgspec.structs import replace

import batch
from batch.results import FeederRow, JobResult, PanelDesign, Way, Wires
from batch.sizing.project import size_job
from batch.sizing.source_loads import PAIRS
from tests.job_builder import bank, feeder, job, part, tank
from tests.job_builder import project as settled
from tests.make_samples import HERE
from tests.supply_walk import parts_of, walk
from tests.test_supply_side import CASES, hung, source

SAMPLES = (
    "small-clean.xlsx", "whole-plant.xlsx", "whole-plant-iec.xlsx", "every-finding.xlsx", "broken/stock-list.xlsx",
    *(f"revisions/line-4-rev-{name}.xlsx" for name in ("A", "B", "C")),
)  # fmt: skip


@pytest.mark.parametrize("name", SAMPLES)
def test_every_conductor_of_a_sample_is_protected(name: str) -> None:
    assert walk(batch.check(HERE / name)) > 0


@pytest.mark.parametrize("code", CASES)
def test_every_conductor_of_what_a_finding_speaks_of_is_protected(code: str) -> None:
    """The jobs that provoke the findings of the supply side, each wanting in one way."""
    made, _ = CASES[code][0]()
    result = size_job(made)
    walk(result)


@st.composite
def jobs(draw: st.DrawFn) -> JobResult:
    """A source or none, one to three feeders of it, tanks with banks of every size; fuses and breakers, generic and of a stock list."""
    of = lambda *choices: draw(st.sampled_from(choices))  # noqa: E731
    sourced = draw(st.booleans())
    system = of("wye grounded", "wye grounded", "delta", "corner-grounded delta")
    line = of("A", "B", "C") if system == "corner-grounded delta" else None
    feeders, banks, tanks = [], [], []
    for at in range(draw(st.integers(1, 3))):
        name, one_phase = f"F-{at}", sourced and of(False, False, True)
        more = {"run_m": of(None, 2.0, 10.0, 120.0), "tap_m": of(None, None, None, 2.5, 6.0, 12.0), "device_at": of(None, None, "end")}
        more |= {"system": None if sourced else system, "grounded_line": None if sourced else line, "wires": None}
        more |= {"existing_device_a": of(None, None, 100.0, 400.0), "existing_poles": of(None, None, "2", "2 marked 1ø-3ø")}
        more |= {"bus_a": of(None, None, 225.0), "unit_main_a": of(None, None, 150.0), "ambient_c": of(None, None, 50.0)}
        more |= {"unit_apart": of(None, "yes"), "other_load_a": of(None, None, 30.0)}
        more |= {"circuits_in_raceway": of(None, 1, 2, 4), "ways_in_raceway": of(None, 1, 3)}
        if one_phase:
            more |= {"phases": 1, "wires": 2, "existing_poles": None}
        feeders.append(hung(feeder=name, **more) if sourced else feeder(feeder=name, **more))
        for number in range(draw(st.integers(1, 4))):
            tag = f"T-{at}{number}"
            power_kw = of(2.0, 6.0, 9.0, 18.0, 36.0, 60.0)
            banks.append(bank(
                tank=tag, feeder=name, phases=1 if one_phase else of(1, 3), connection="parallel" if one_phase else None,
                quantity=draw(st.integers(1, 14)), power_kw=power_kw, panel_feeder_run_m=of(None, 15.0),
                circuits_per_heater=of(None, 2), fixed_rating_a=of(None, None, None, 20.0, 60.0), panel_feeders_in_raceway=of(None, 2),
            ))  # fmt: skip
            tanks.append(tank(tank=tag, distribution_run_m=of(None, 20.0), one_device=of(None, "yes"), backup_contactor=of(None, "yes")))
    how = settled(device_kind=of("fuse", "fuse", "breaker"), conductor=of(None, None, None, "aluminum"), distribution=of(None, "ours"))
    made = job(banks, feeders, tanks, projects=how, stock=list(of((), (), STOCKED)))
    unit = {"primary_v": 480.0, "kva": of(75.0, 500.0), "of_this_job": of("yes", None), "kind": of(None, None, "service")}
    unit |= {"primary_device_a": of(None, 125.0, 700.0), "secondary_run_m": of(None, 2.5, 6.0, 20.0)}
    unit |= {"primary_winding": of(None, "delta", "wye"), "secondary_wire": of(None, "3/0", "500", "no size"), "z_pct": of(None, 2.0, 5.0)}
    unit |= {"secondary_sets": of(None, 2)}
    return size_job(replace(made, sources=(source(system=system, grounded_line=line, wires=None, **unit),)) if sourced else made)


@st.composite
def metric_jobs(draw: st.DrawFn) -> JobResult:
    """The same under IEC 60364: a unit of 400 V with up to three feeders, of the job or not, devices at their starts or their ends."""
    of = lambda *choices: draw(st.sampled_from(choices))  # noqa: E731
    feeders, banks = [], []
    for at in range(draw(st.integers(1, 3))):
        more = {"run_m": of(None, 2.0, 60.0), "device_at": of(None, None, "end"), "installation": of(None, "C", "E", "D1")}
        more |= {"ambient_c": of(None, 45.0), "tap_m": of(None, None, 2.5, 5.0), "system": None, "wires": None, "phases": 3}
        more |= {"circuits_in_raceway": of(None, 2, 4), "ways_in_raceway": of(None, 1, 3)}
        feeders.append(feeder(feeder=f"F-{at}", source="TX-1", volts_v=None, fault_ka=None, **more))
        for number in range(draw(st.integers(1, 2))):
            how = {"quantity": draw(st.integers(1, 12)), "power_kw": of(3.0, 9.0, 18.0), "volts_v": 400.0, "phases": 3, "connection": None}
            how |= {"heater_run_m": of(None, 15.0), "panel_feeder_run_m": of(None, 10.0), "panel_feeders_in_raceway": of(None, 2)}
            banks.append(bank(tank=f"T-{at}{number}", feeder=f"F-{at}", **how))
    unit = {"volts_v": 400.0, "system": "wye grounded", "kva": of(100.0, 630.0, 1600.0), "z_pct": 4.0}
    unit |= {"earthing": of(None, "TN-S", "TT", "IT")}
    unit |= {"primary_v": 10000.0, "primary_device_a": of(None, 16.0, 100.0), "secondary_run_m": of(None, 2.5, 6.0)}
    unit |= {"of_this_job": of("yes", None), "secondary_wire": of(None, "95 mm²"), "secondary_sets": of(None, 2)}
    how = {"device_kind": of("fuse", "breaker"), "breaker_type": of("B", "C", "D"), "insulation": of("PVC", "XLPE"), "on_drop": "caution"}
    made = job(banks, feeders, projects=settled(code_basis="IEC 60364", conductor=of(None, "aluminum"), **how))
    return size_job(replace(made, sources=(source(wires=None, **unit),)))


@given(metric_jobs())
@examples(max_examples=100, deadline=None)
def test_every_conductor_of_a_generated_metric_job_is_protected(result: JobResult) -> None:
    walk(result)


STOCKED = [
    part(part="PDB-10", kind="power distribution block", rating_a=175.0, volts_v=600.0, poles=3, sccr_ka=10.0),
    part(part="PDB-14", kind="power distribution block", rating_a=250.0, volts_v=600.0, poles=3, sccr_ka=14.0),
    part(part="B-20", kind="breaker", rating_a=20.0, volts_v=480.0, poles=2, sccr_ka=14.0),
    part(part="C-90", kind="contactor", rating_a=90.0, volts_v=600.0, poles=3, sccr_ka=5.0),
    part(part="FH-60", kind="fuse holder", rating_a=60.0, volts_v=600.0, poles=3, sccr_ka=100.0),
]


@given(jobs())
@examples(max_examples=200, deadline=None)
def test_every_conductor_of_a_generated_job_is_protected(result: JobResult) -> None:
    walk(result)


@given(
    st.floats(10.0, 900.0), st.lists(st.sampled_from([60.0, 100.0, 225.0, 400.0]), min_size=1, max_size=8),
    st.sampled_from([30.0, 75.0, 300.0]), st.sampled_from([480.0, 480.0, 4160.0]),
)  # fmt: skip
@examples(max_examples=60, deadline=None)
def test_every_transformer_of_a_generated_job_is_protected(primary_a: float, devices: list[float], kva: float, primary_v: float) -> None:
    banks = [bank(feeder=f"F-{at}", tank=f"T-{at}") for at in range(len(devices))]
    feeders = [hung(feeder=f"F-{at}", existing_device_a=rating) for at, rating in enumerate(devices)]
    unit = {"of_this_job": "yes", "primary_v": primary_v, "primary_device_a": primary_a, "kva": kva, "secondary_run_m": 2.5}
    walk(size_job(replace(job(banks, feeders), sources=(source(**unit),))))


def test_a_block_without_a_part_is_rated_for_the_device_ahead_of_it() -> None:
    """Twelve heaters of 9 kW on 480 V: two panels of six branches, 64.95 A, 81.19 A with the margin, so 90 A (NFPA 70-2023, 240.6(A))."""
    result = size_job(job([bank(quantity=12, power_kw=9.0)], [feeder()]))
    designs = [design for project in result.projects for one in project.banks for design, _ in parts_of(one)]
    blocks = [(design.block_a, design.panel_feeder_device.rating_a) for design in designs if design.block]
    assert blocks == [(90.0, 90.0)] * 2


@pytest.mark.parametrize("place", [None, "end"])
@pytest.mark.parametrize("length_m", [2.5, 30.0])
def test_of_a_center_tapped_unit_the_primary_protects_nothing(place: str | None, length_m: float) -> None:
    """Three wires on one phase: 240.21(C)(1) is for two."""
    unit = {"volts_v": 240.0, "phases": 1, "wires": 3, "system": "1-phase 3-wire", "kva": 50.0, "z_pct": 2.4, "primary_ka": None}
    unit |= {"of_this_job": "yes", "primary_v": 480.0, "primary_device_a": 110.0, "secondary_run_m": length_m}
    fed = hung(volts_v=240.0, phases=1, wires=3, system=None, device_at=place, run_m=length_m, existing_device_a=225.0)
    result = size_job(replace(job(bank(volts_v=240.0, connection="parallel"), fed), sources=(source(**unit),)))
    assert ("secondary-too-long" in {finding.code for finding in result.findings}) is (length_m > 7.62)
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


@given(
    st.floats(1.0, 2000.0), st.floats(1.0, 2000.0), st.sampled_from([None, 8.0, 15.0]), st.sampled_from(["fuse", "breaker"]),
    st.sampled_from([(), STOCKED]), st.sampled_from([{}, {"unit_x_over_r": 5.0, "primary_x_over_r": 8.0}]), st.sampled_from([None, "end"]),
)  # fmt: skip
@examples(max_examples=30, deadline=None)
def test_nor_does_a_higher_level_of_the_primary(
    one: float, other: float, given_ka: float | None, kind: str, stock: list, ratios: dict, place: str | None
) -> None:
    """MVA ahead of a 500 kVA unit, with its angles known and not, a given fault current or none, generic parts or stock ones."""
    low, high = sorted((one, other))
    banks = [bank(quantity=6), bank(tank="T-2")]
    results = [
        size_job(replace(
            job(banks, hung(run_m=5.0, device_at=place), projects=settled(device_kind=kind, distribution="ours"), stock=list(stock)),
            sources=(source(primary_ka=None, primary_mva=level, fault_ka=given_ka, **ratios),),
        ))
        for level in (low, high)
    ]  # fmt: skip
    assert said_of_faults(results[0]) <= said_of_faults(results[1])


# --- the walk itself: results with one thing changed by hand


def one_source(kva: float = 150.0, **given: object) -> JobResult:
    """Two tanks of panels and one of a single circuit behind a transformer of the job, clean: 64.952 A twice and 24.056 A."""
    nine = {"quantity": 6, "power_kw": 9.0, "phases": 3, "connection": None}
    banks = [bank(**nine), bank(tank="T-2", **nine), bank(tank="T-3", quantity=1, power_kw=20.0, phases=3, connection=None)]
    unit = {"kva": kva, "primary_v": 480.0, "primary_device_a": 225.0, "secondary_run_m": 2.5, "of_this_job": "yes"}
    unit |= {"secondary_wire": "250"}
    return size_job(replace(job(banks, hung(**given), projects=settled(distribution="ours")), sources=(source(**unit),)))


def of_feeder(result: JobResult, change: Callable[[FeederRow], FeederRow]) -> JobResult:
    [project] = result.projects
    return replace(result, projects=(replace(project, feeders=tuple(change(row) for row in project.feeders)),))


def of_way(result: JobResult, change: Callable[[Way], Way]) -> JobResult:
    return of_feeder(result, lambda row: replace(row, end=replace(row.end, ways=(change(row.end.ways[0]), *row.end.ways[1:]))))


def of_panel(result: JobResult, change: Callable[[PanelDesign], PanelDesign]) -> JobResult:
    """Of the first bank's panel."""
    [project] = result.projects
    first = project.banks[0]
    panel = replace(first.panels[0], design=change(first.panels[0].design))
    return replace(result, projects=(replace(project, banks=(replace(first, panels=(panel,)), *project.banks[1:])),))


def of_unit(result: JobResult, **cells: object) -> JobResult:
    [project] = result.projects
    [row] = project.sources
    return replace(result, projects=(replace(project, sources=(replace(row, source=replace(row.source, **cells)),)),))


def unsaid(result: JobResult, code: str) -> JobResult:
    """The same where nobody says it."""
    [project] = result.projects

    def without(row):  # of sources, feeders, banks
        found = replace(row, findings=tuple(finding for finding in row.findings if finding.code != code))
        around = getattr(row, "around", None)
        return found if around is None else replace(found, around=tuple(finding for finding in around if finding.code != code))

    rows = {name: tuple(map(without, getattr(project, name))) for name in ("sources", "feeders", "banks")}
    findings = tuple(finding for finding in result.findings if finding.code != code)
    return replace(result, projects=(replace(project, **rows),), findings=findings)


def thin(wires: Wires, size: str) -> Wires:
    return replace(wires, size=size)


def stiff() -> JobResult:
    """A 20 A breaker on 50 kA."""
    one = feeder(volts_v=400.0, fault_ka=50.0, run_m=5.0, earthing="TN-S")
    few = bank(quantity=1, power_kw=6.0, volts_v=400.0, phases=3, connection=None)
    return size_job(job(few, one, projects=settled(code_basis="IEC 60364", device_kind="breaker")))


SEEN: dict[str, tuple[Callable[[], JobResult], str]] = {
    "wires of a feeder": (lambda: of_feeder(one_source(), lambda row: replace(row, wires=thin(row.wires, "1"))), "feeder of F-1"),
    "wires of a way": (lambda: of_way(one_source(), lambda way: replace(way, wires=thin(way.wires, "6"))), "way F-1-W1 of F-1"),
    "wires of a panel feeder": (
        lambda: of_panel(one_source(), lambda one: replace(one, panel_feeder_wires=thin(one.panel_feeder_wires, "6"))),
        "panel feeder T-1/1",
    ),
    "a way's device": (
        lambda: of_way(one_source(), lambda way: replace(way, device=replace(way.device, rating_a=70.0))), "device of F-1-W1: 70.0 A",
    ),
    "a way's device below a panel feeder's": (
        lambda: of_way(one_source(), lambda way: replace(way, required_a=1.0, device=replace(way.device, rating_a=80.0))),
        "below the device behind it",
    ),
    "no wires": (lambda: of_way(one_source(), lambda way: replace(way, wires=None)), "has no device or wires"),
    "a bus": (lambda: of_feeder(one_source(), lambda row: replace(row, end=replace(row.end, bus_a=100.0))), "bus of F-1: 100.0 A"),
    "a contactor": (lambda: of_panel(one_source(), lambda one: replace(one, contactor_a=60.0)), "contactor of T-1/1: 60.0 A"),
    "a block": (lambda: of_panel(one_source(), lambda one: replace(one, block_a=80.0)), "block of T-1/1: 80.0 A"),
    "a secondary": (lambda: of_unit(one_source(), secondary_wire="1"), "secondary conductors too small"),
    "a secondary's length": (lambda: of_unit(one_source(), secondary_run_m=9.0), "secondary conductors too long"),
    "a primary device": (lambda: of_unit(one_source(), primary_device_a=500.0), "primary device"),
    "a secondary device": (
        lambda: of_feeder(of_unit(one_source(), kva=75.0), lambda row: replace(row, device=replace(row.device, rating_a=500.0))),
        "secondary devices",
    ),
    "a tap": (lambda: of_way(one_source(tap_m=2.5), lambda way: replace(way, wires=thin(way.wires, "8"))), "tap F-1-W1"),
    "a tap's length": (
        lambda: of_feeder(one_source(tap_m=2.5), lambda row: replace(row, feeder=replace(row.feeder, tap_m=9.0))), "too long",
    ),
    "what is said of a tap": (lambda: unsaid(one_source(tap_m=9.0), "tap-too-long"), "too long"),
    "what is said of a feeder without a device ahead": (lambda: unsaid(one_source(device_at="end"), "device-at-end"), "F-1"),
    "a unit without its main": (
        lambda: of_feeder(one_source(device_at="end"), lambda row: replace(row, end=replace(row.end, main_a=None))), "has no main",
    ),
    "its conductors": (
        lambda: of_feeder(one_source(device_at="end", run_m=2.5), lambda row: replace(row, wires=thin(row.wires, "2/0"))),
        "below their load",
    ),
    "what is said of unmarked parts": (
        lambda: unsaid(one_source(kva=1000.0), "fault-over-default"), "contactor of T-1/1: 5.0 kA at 8.69 kA",
    ),
    "what is said of what burns": (lambda: unsaid(stiff(), "short-circuit-energy"), "its conductors burn"),
    "what is said of an unknown level": (
        lambda: unsaid(size_job(job(bank(quantity=6), feeder(fault_ka=None))), "fault-unknown"), "no fault level",
    ),
    "what is said of a small main": (lambda: unsaid(one_source(bus_a=225.0, unit_main_a=100.0), "main-small"), "main of F-1"),
    "two poles": (
        lambda: of_feeder(one_source(), lambda row: replace(row, device=replace(row.device, poles=2, kind="breaker"))), "a line without",
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", SEEN)
def test_the_walk_sees(what: str) -> None:
    """Each of these leaves a conductor without a device, or a part that is not rated, and nobody speaks of it."""
    change, words = SEEN[what]
    with pytest.raises(AssertionError, match=words):
        walk(change())


def test_what_they_are_changed_from_is_whole() -> None:
    """Feeder, way, panel feeder and branch of two banks, and without a panel feeder of the third; a tap and a conductor without a device
    ahead are no steps of their own."""
    assert walk(one_source()) == 11 and walk(one_source(tap_m=2.5)) == 8 and walk(one_source(device_at="end", run_m=2.5)) == 8
