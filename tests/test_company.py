"""Circuits that run together: feeders, ways and panel feeders by the grouping of their code, what is said where nothing is given, and
how it is kept. Worked by hand from IEC 60364-5-52, Table B.52.17, and NFPA 70-2023, Table 310.15(C)(1).

Two tanks of nine 6 kW heaters, 400 V, in delta: 15 A each, a line of three pairs 15 x 3 x sqrt(3) = 77.94 A, 97.4 with 25 %: a way of
100 A; the feeder 155.9 A, 194.9: 200 A. A gG fuse asks 1.6 / 1.45 of its rating of the conductors: 110.3 and 220.7 A. B1, PVC, three
loaded: 35 mm2 110, 50 mm2 134, 70 mm2 171, 120 mm2 239, 150 mm2 262, 185 mm2 296, 240 mm2 346.
"""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from batch.comparing.compare import compare_revisions
from batch.comparing.revision import Revision
from batch.reopening.carry import size_keeping
from batch.results import JobResult, ProjectResult
from batch.rules import Installation, load
from batch.schedules import rows
from batch.sizing.project import size_job
from tests.job_builder import bank, feeder, job, project, tank

IEC = load("IEC 60364")


def plant(together: int | None = 1, *, code: str = "IEC 60364", length_m: float | None = None, **on_feeder: object) -> JobResult:
    volts = 400.0 if code == "IEC 60364" else 480.0
    given = {"circuits_in_raceway": together, "ways_in_raceway": together, **on_feeder}
    banks = [
        bank(tank=f"T-{at}", quantity=9, volts_v=volts, connection=None, panel_feeders_in_raceway=together, circuits_in_raceway=together)
        for at in (1, 2)
    ]
    tanks = [tank(tank="T-1", distribution_run_m=length_m), tank(tank="T-2", distribution_run_m=length_m and length_m + 5)]
    how = project(code_basis=code, ambient_c=30.0, distribution="ours")
    return size_job(job(banks, feeder(volts_v=volts, **given), tanks, how))


def first(result: JobResult) -> ProjectResult:
    [one] = result.projects
    return one


def codes(result: JobResult) -> set[str]:
    return {finding.code for finding in result.findings}


@pytest.mark.parametrize(
    ("together", "factor", "feeder_size", "way_size"),
    [(1, 1.0, "120 mm²", "50 mm²"), (2, 0.8, "185 mm²", "70 mm²"), (3, 0.7, "240 mm²", "70 mm²")],
)
def test_feeders_and_ways_that_run_together_bear_less(together: int, factor: float, feeder_size: str, way_size: str) -> None:
    """120 x 1, 185 x 0.8 = 236.8, 240 x 0.7 = 242.2 A reach 220.7, the size below does not: 262 x 0.8 = 209.6, 296 x 0.7 = 207.2."""
    row = first(plant(together)).feeders[0]
    assert row.wires and row.end and row.device and row.device.rating_a == 200
    assert (row.wires.size, row.wires.sets, row.wires.grouping) == (feeder_size, 1, factor)
    assert [way.wires.size for way in row.end.ways if way.wires] == [way_size] * 2
    assert all(way.wires and way.wires.grouping == factor for way in row.end.ways)


def test_parallel_sets_count_among_them() -> None:
    """Six circuits of two sets are twelve: 0.45; 2 x 262 x 0.45 = 235.8 A reach 220.7; one of 240 mm2 would bear 346 x 0.57 = 197.2."""
    wires = first(plant(6)).feeders[0].wires
    assert wires and (wires.sets, wires.size, wires.grouping) == (2, "150 mm²", 0.45)
    assert wires.ampacity_a == pytest.approx(2 * 262 * 0.45)


def test_panel_feeders_that_run_together_bear_less() -> None:
    """Two panels of a tank: 9 heaters are 6 and 3 (a panel takes 8): 51.96 A, 64.95: 80 A, which ask 88.3 of the conductors: 25 mm2 (89);
    with 0.7 35 mm2 has 77, 50 mm2 93.8."""
    alone, three = (first(plant(together)).banks[0].panels[0].design.panel_feeder_wires for together in (1, 3))
    assert (alone.size, alone.shares, alone.grouping) == ("25 mm²", 1, 1.0)
    assert (three.size, three.shares, three.grouping) == ("50 mm²", 3, 0.7)


def test_under_the_nec_conductors_are_counted() -> None:
    """Three circuits of three are nine current-carrying conductors: 70 %, Table 310.15(C)(1); the raceway takes all of them."""
    alone, three = (first(plant(together, code="NEC 2023")).feeders[0] for together in (1, 3))
    assert alone.wires and three.wires and (alone.wires.grouping, three.wires.grouping) == (1.0, 0.7)
    assert "310.15(C)" in " ".join(three.wires.basis) and "310.15(C)" not in " ".join(alone.wires.basis)
    sizes = [float(row.wires.raceway.split()[0].replace("1/2", ".5").replace(" .", ".")) for row in (alone, three) if row.wires]
    assert sizes[1] > sizes[0]


def test_taps_that_run_together_bear_less() -> None:
    """A tap of 2 m by the tenth: of three in one raceway each bears 70 %."""
    alone, three = (
        first(plant(1, code="NEC 2023", tap_m=2.0, ways_in_raceway=count)).feeders[0].end for count in (1, 3)
    )
    assert alone and three and alone.unit == "taps"
    before, after = alone.ways[0], three.ways[0]
    assert before.wires and after.wires and before.tap and after.tap
    assert load("NEC 2023").rank(after.wires.size) >= load("NEC 2023").rank(before.wires.size)
    assert after.wires.grouping == 0.7 and after.wires.ampacity_a == after.tap.ampacity_a
    corrected = load("NEC 2023").ampacity(after.wires.size, "copper", 90).value * 0.7
    assert after.tap.ampacity_a <= corrected


@pytest.mark.parametrize(("method", "percent"), [("D1", (80, 70, 65)), ("D2", (75, 65, 60))])
def test_buried_circuits_go_by_the_tables_of_the_ground(method: str, percent: tuple[int, ...]) -> None:
    """Tables B.52.18 and B.52.19, touching: from memory, and marked so."""
    laid = IEC.installed(Installation("PVC", method, "bunched", 3))
    found = [laid.adjustment(3 * count, count) for count in (2, 3, 4)]
    assert [round(100 * one.value) for one in found] == list(percent)
    assert all(one.from_memory for one in found)
    assert ("B.52.18" if method == "D2" else "B.52.19") in found[0].citation
    layer = IEC.installed(Installation("PVC", method, "single layer", 3))
    assert layer.adjustment(6, 2).value == found[0].value
    every = [laid.adjustment(3 * count, count).value for count in range(1, 41)]
    assert every == sorted(every, reverse=True)


def test_nothing_given_is_said_once_with_what_it_would_cost() -> None:
    [said] = [finding for finding in plant(None).findings if finding.code == "runs-alone"]
    assert "1 feeder, 2 ways, 4 panel feeders, 2 banks with their branches" in said.message
    assert "each keeps 80% of its" in said.message and "of three 70%" in said.message
    assert "B.52.17" in said.basis
    assert "runs-alone" not in codes(plant(1))
    some = [finding for finding in plant(None, ways_in_raceway=2, circuits_in_raceway=2).findings if finding.code == "runs-alone"]
    assert "feeders" not in some[0].message.split(":")[1].split("panel")[0] and "ways" not in some[0].message


def test_what_is_of_no_use_is_said() -> None:
    one = job(bank(panel_feeders_in_raceway=2), feeder(ways_in_raceway=2))
    found = [finding.message for finding in size_job(one).findings if finding.code == "company-unused"]
    assert len(found) == 2 and any("single circuit" in text for text in found)
    assert any("F-1 ends in one control panel" in text for text in found)


def test_they_stand_on_the_sheets() -> None:
    result = plant(3)
    for sheet in ("feeder_totals", "distribution", "panels", "banks"):
        for row in rows(result, sheet):
            assert (row["together"], row["grouping"]) == (3, 0.7), sheet
            assert row["ampacity_a"] > 0
    [row] = rows(result, "feeder_totals")
    assert row["ampacity_a"] == pytest.approx(346 * 0.7)


def test_a_shared_raceway_is_bought_once_for_the_ways_in_it() -> None:
    """Two ways of 20 and 25 m in one: one raceway of 25 m. Whose raceway a feeder shares is not known, and that is said."""
    def raceways(result: JobResult) -> list[float | None]:
        lines = [line for line in first(result).materials if line.used_for == "way" and line.role == "raceway"]
        return sorted(line.stretch.length_m for line in lines if line.stretch)

    assert raceways(plant(1, length_m=20.0)) == [20.0, 25.0]
    assert raceways(plant(2, length_m=20.0)) == [25.0]
    assert "raceway-in-full" in codes(plant(2, length_m=20.0)) and "raceway-in-full" not in codes(plant(1))


def revision(**given: object) -> Revision:
    result = plant(**given)
    return Revision(result.job, result)


def test_a_comparison_tells_it_and_what_it_does() -> None:
    old, new = revision(together=1), revision(together=3)
    compared = compare_revisions(old, new)
    inputs = {change.column.key for change in compared.of("input")}
    assert {"circuits_in_raceway", "ways_in_raceway", "panel_feeders_in_raceway"} <= inputs
    moved = {(change.table, change.column.key) for change in compared.of("result")}
    assert ("feeder_totals", "wire") in moved


def test_a_new_list_that_says_nothing_keeps_what_ran_together() -> None:
    old = revision(together=3)
    bare = plant(None).job
    made, result, _ = size_keeping(old, bare)
    assert {(one.circuits_in_raceway, one.ways_in_raceway) for one in made.feeders} == {(3, 3)}
    assert {(one.circuits_in_raceway, one.panel_feeders_in_raceway) for one in made.banks} == {(3, 3)}
    assert first(result).feeders[0].wires == first(old.result).feeders[0].wires
    assert sum(finding.code == "kept-value" for finding in result.findings) == 6


def test_of_what_is_given_anew_the_new_counts() -> None:
    old = revision(together=3)
    fresh = plant(None).job
    fresh = replace(fresh, feeders=tuple(replace(one, circuits_in_raceway=2) for one in fresh.feeders))
    made, _, _ = size_keeping(old, fresh)
    assert made.feeders[0].circuits_in_raceway == 2 and made.feeders[0].ways_in_raceway == 3
