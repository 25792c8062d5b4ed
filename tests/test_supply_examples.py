"""Worked examples of the supply side, each number worked by hand: R and X of NFPA 70-2023, Chapter 9, Table 9, resistance x 0.838."""

from __future__ import annotations

import re
from math import inf

import pytest
from msgspec.structs import replace

from batch.findings import Remarks, find
from batch.method.contactors import smallest_contactor
from batch.method.neutral import neutral_load
from batch.method.source_load import winding_currents
from batch.method.supply_duties import needs_disconnect_ahead_of_fuses, volts_to_ground
from batch.records import Bank, PowerSource, Supply
from batch.results import FeederRow, ProjectResult, Way, Wires
from batch.rules import load
from batch.sizing.fault import exposed
from batch.sizing.project import size_job
from batch.sizing.source_loads import PAIRS
from batch.sizing.sources import fault_at, known_source
from batch.sizing.tap_conductors import unrounded_ampacity
from batch.systems import System
from tests.job_builder import RULES, bank, feeder, job, origin, part, project, settings, tank

CLOSE_A, CLOSE_PCT, CLOSE_KA = 1e-3, 1e-2, 1e-3


def source(**given: object) -> PowerSource:
    usual = {
        "project": "P-1",
        "source": "TX-1",
        "volts_v": 480.0,
        "phases": 3,
        "wires": 3,
        "system": "wye grounded",
        "origin": origin("sources"),
    }
    return PowerSource(**usual | given)


def hung(tag: str, **given: object):
    return feeder(**{"feeder": tag, "source": "TX-1", "fault_ka": None, **given})


def sized(one: PowerSource, banks: list, feeders: list, how: dict | None = None, stock: list | None = None) -> ProjectResult:
    made = replace(job(banks, feeders, projects=project(**how or {}), stock=stock), sources=(one,))
    return size_job(made).projects[0]


def codes_of(project: ProjectResult) -> set[str]:
    said = [finding for row in project.feeders for finding in row.findings]
    said += [finding for row in project.banks for finding in row.findings]
    return {finding.code for finding in (*said, *(finding for row in project.sources for finding in row.findings))}


# 1. A grounded wye that serves three feeders, one of them 1-phase


@pytest.mark.parametrize(
    ("pair", "taken", "loads", "lines", "used", "kva"),
    [
        # sums of the stated feeders x, y, z = 258.333, 245.833, 245.833 A; 62.5 A more on the pair; rated 601.407 A
        ("A-B", "A-B", (320.833, 245.833, 245.833), (492.178, 492.178, 425.796), 81.84, 409.19),
        ("B-C", "B-C", (258.333, 308.333, 245.833), (436.666, 491.384, 480.939), 81.71, 408.53),
        ("C-A", "C-A", (258.333, 245.833, 308.333), (491.384, 436.666, 480.939), 81.71, 408.53),
        (None, "B-C", (258.333, 308.333, 245.833), (436.666, 491.384, 480.939), 81.71, 408.53),
    ],
)
def test_a_wye_that_serves_three_feeders(
    pair: str | None, taken: str, loads: tuple[float, ...], lines: tuple[float, ...], used: float, kva: float
) -> None:
    banks = [
        bank(feeder="F1", quantity=10, power_kw=30.0, phases=3, connection=None),
        bank(feeder="F2", tank="T-2", quantity=10, phase_pair="A-B"),
        bank(feeder="F3", tank="T-3", quantity=5, connection="parallel"),
    ]
    feeders = [hung("F1"), hung("F2"), hung("F3", phases=1, wires=2, system=None, phase_pair=pair)]
    found = sized(source(kva=500.0, z_pct=5.0), banks, feeders)
    [row] = found.sources
    assert row.lines[:3] == pytest.approx(lines, abs=CLOSE_A)
    assert row.loads[:3] == pytest.approx(loads, abs=CLOSE_A) and row.use_kva == pytest.approx(kva, abs=CLOSE_PCT)
    assert row.rated_a == pytest.approx(601.407, abs=CLOSE_A) and row.used_pct == pytest.approx(used, abs=CLOSE_PCT)
    assert row.governed_by == "fullest line"
    assert [fed.lines.maximum for fed in (found.feeders[0], found.feeders[2])] == pytest.approx([360.844, 62.5], abs=CLOSE_A)
    assert found.feeders[2].source_pair == taken
    assert "source-nearly-full" in codes_of(found) and "source-overloaded" not in codes_of(found)


# 2. 1-phase feeders on a 3-phase delta: the winding governs


@pytest.mark.parametrize(
    ("system", "more", "lines", "used", "what"),
    [
        ("delta", False, (125.0, 125.0, 0.0), 160.00, "fullest winding"),  # 83.333 A of 52.083
        ("delta", True, (125.0, 143.205, 31.250), 170.88, "fullest winding"),  # 89.000 A of 52.083
        ("wye grounded", False, (125.0, 125.0, 0.0), 138.56, "fullest line"),  # 125 of 90.211 A
    ],
)
def test_the_winding_of_a_delta_governs(system: str, more: bool, lines: tuple[float, ...], used: float, what: str) -> None:
    banks = [bank(feeder="F1", quantity=10, connection="parallel")]
    feeders = [hung("F1", phases=1, wires=2, system=None, phase_pair="A-B")]
    if more:
        banks.append(bank(feeder="F2", tank="T-2", quantity=1, power_kw=15.0, connection="parallel"))
        feeders.append(hung("F2", phases=1, wires=2, system=None, phase_pair="B-C"))
    found = sized(source(kva=75.0, z_pct=3.0, system=system), banks, feeders)
    [row] = found.sources
    assert row.rated_a == pytest.approx(90.211, abs=CLOSE_A) and row.lines[:3] == pytest.approx(lines, abs=CLOSE_A)
    assert row.used_pct == pytest.approx(used, abs=CLOSE_PCT) and row.governed_by == what
    assert 100.0 * row.lines.maximum / row.rated_a == pytest.approx(158.75 if more else 138.56, abs=CLOSE_PCT)
    windings = (89.000, 55.120, 37.558) if more else (83.333, 41.667, 41.667)  # of 90.211 / sqrt(3) = 52.083 A
    assert winding_currents(row.loads) == pytest.approx(windings, abs=CLOSE_A)
    assert "source-overloaded" in codes_of(found)


@pytest.mark.parametrize(
    ("others", "said"),
    [((25.0, 25.0), {"source-nearly-full"}), ((30.0, 25.0), {"source-overloaded"}), ((30.0, 30.0), {"source-overloaded"})],
)
def test_other_load_of_every_feeder_counts_on_a_source(others: tuple[float, float], said: set[str]) -> None:
    """75 kVA, 480 V: 90.211 A. Two feeders of three 5 kW heaters in delta, 18.042 A of line each."""
    tags = ("F1", "F2")
    banks = [bank(feeder=tag, tank=f"T-{tag}", quantity=3, power_kw=5.0) for tag in tags]
    feeders = [hung(tag, other_load_a=other) for tag, other in zip(tags, others, strict=True)]
    found = sized(source(kva=75.0, z_pct=3.0), banks, feeders)
    [row] = found.sources
    assert row.used_pct == pytest.approx(100.0 * (2 * 18.042 + sum(others)) / 90.211, abs=CLOSE_PCT)
    assert codes_of(found) & {"source-nearly-full", "source-overloaded"} == said


# 3. Fault at the source: 1000 kVA, 5.75 %, 480 V; Z_T = 0.0119232 (whole 0.0132480), Z_p of 250 MVA = 0.0009216 ohm

UNIT = {"kva": 1000.0, "z_pct": 5.75, "primary_v": 12470.0}


@pytest.mark.parametrize(
    ("given", "known"),
    [
        ({"primary_mva": inf, "unit_x_over_r": 6.0}, True),  # nothing stands behind the unit: its own angle is all there is
        ({"primary_mva": 250.0, "unit_x_over_r": 6.0}, False),
        ({"primary_mva": 250.0, "unit_x_over_r": 6.0, "primary_x_over_r": 10.0}, True),
        ({"primary_mva": 250.0, "primary_x_over_r": 10.0}, False),
    ],
)
def test_an_angle_is_known_where_it_is_of_all_that_counts(given: dict, known: bool) -> None:
    fault = known_source(source(**UNIT, **given), RULES, Remarks()).fault
    assert fault is not None and fault.impedance.complex_known == known
    primary = 0.0 if given["primary_mva"] == inf else 480**2 / 250e6
    assert abs(fault.impedance.primary) == pytest.approx(primary)


def test_a_unit_between_two_lines_sees_half_of_the_level_of_its_primary() -> None:
    """50 kVA, 2.4 %, 240 V: 0.0248832 ohm; of 20 MVA 10 count: 240^2 / 10^7 = 0.00576 ohm; 240 / 0.0306432 = 7832 A."""
    one = source(kva=50.0, z_pct=2.4, volts_v=240.0, phases=1, wires=3, system=None, primary_mva=20.0)
    fault = known_source(one, RULES, Remarks()).fault
    assert fault is not None and 1000.0 * fault.used_ka == pytest.approx(7832.1, abs=0.1)


@pytest.mark.parametrize(
    ("given", "used", "said"),
    [
        ({}, 23.243, {"primary-unlimited"}),
        ({"primary_mva": inf}, 23.243, set()),  # said to be unlimited: nothing is taken, so nothing is noted
        ({"primary_ka": inf, "unit_x_over_r": 6.0}, 23.243, set()),
        ({"primary_ka": inf, "primary_mva": 250.0}, 23.243, set()),  # the greater of two that contradict each other
        ({"primary_ka": 11.5748, "primary_v": None}, 23.243, {"primary-unlimited"}),  # a current at no volts is no level
        ({"primary_mva": 250.0}, 21.575, set()),
        ({"primary_mva": 250.0, "unit_x_over_r": 6.0, "primary_x_over_r": 10.0}, 21.578, set()),
        ({"primary_mva": 250.0, "fault_ka": 18.0}, 21.575, {"fault-given-low"}),
        ({"primary_mva": 250.0, "fault_ka": 18.0, "fault_basis": "utility letter"}, 18.000, {"fault-given-low"}),
        ({"primary_mva": 250.0, "fault_ka": 19.361}, 21.575, {"fault-given-low"}),  # 0.99 of 19.558 is 19.362 kA
        ({"primary_mva": 250.0, "fault_ka": 19.364}, 21.575, {"fault-given-less"}),
        ({"primary_mva": 250.0, "fault_ka": 21.0}, 21.575, {"fault-given-less"}),
        ({"primary_mva": 250.0, "fault_ka": 21.0, "fault_basis": "study"}, 21.000, set()),  # less than worked out, and used: nothing to say
        ({"primary_mva": 250.0, "fault_ka": 26.0}, 26.000, set()),
        ({"primary_mva": 250.0, "fault_ka": 4.0}, 21.575, {"fault-given-low"}),
    ],
)
def test_fault_at_a_source(given: dict, used: float, said: set[str]) -> None:
    heard = Remarks()
    known = known_source(source(**UNIT | given), RULES, heard)
    assert known.fault.used_ka == pytest.approx(used, abs=CLOSE_KA)
    assert {one.code for one in heard} == said


@pytest.mark.parametrize(
    ("edition", "given", "said"),
    [
        ("NEC 2023", {}, "no fault level is given of the primary behind it: it is taken as unlimited, the safe side."),
        (
            "IEC 60364",
            {"primary_ka": 11.5748, "primary_v": None},
            "the fault current of its primary is given, the primary volts are not: it is taken as unlimited, the safe side of short-circuit"
            " ratings, not of earth faults.",
        ),
    ],
)
def test_why_a_primary_is_taken_as_unlimited(edition: str, given: dict, said: str) -> None:
    """Too great a fault is judged on the safe side; an earth fault that is in truth smaller may take longer to disconnect."""
    known_source(source(**UNIT | given), load(edition), heard := Remarks())
    assert [find(one, {"fault_impedance": ""}).message for one in heard] == [f"TX-1: {said}"]


def test_fault_to_neutral_of_a_wye_is_the_greater() -> None:
    known = known_source(source(**UNIT, primary_mva=250.0), RULES, Remarks())
    assert fault_at(known, known.supply, (), settings(), RULES) == pytest.approx(22.104, abs=CLOSE_KA)  # Z_T + 2/3 Z_p
    assert known.fault.marked_ka == pytest.approx(19.558, abs=CLOSE_KA)


def test_the_level_of_a_primary_from_its_current() -> None:
    """250 MVA at 12.47 kV are 11.5748 kA."""
    by_current = known_source(source(**UNIT, primary_ka=250.0 / (3**0.5 * 12.47)), RULES, Remarks())
    assert by_current.fault.used_ka == pytest.approx(21.575, abs=CLOSE_KA)


def test_the_level_of_a_primary_between_two_lines_from_its_current() -> None:
    """10 kA between two lines of 7.2 kV are 72 MVA: 240^2 / (72 x 10^6) = 0.0008 ohm; 240 / (0.0248832 + 0.0008) = 9344.6 A."""
    one = source(kva=50.0, z_pct=2.4, volts_v=240.0, phases=1, wires=3, system=None, primary_ka=10.0, primary_v=7200.0)
    fault = known_source(one, RULES, Remarks()).fault
    assert fault.impedance.primary == pytest.approx(0.0008)
    assert 1000.0 * fault.used_ka == pytest.approx(9344.6, abs=0.1)


@pytest.mark.parametrize(("volts_v", "system"), [(240.0, System.LINE_TO_LINE), (120.0, System.LINE_TO_NEUTRAL)])
def test_a_feeder_that_states_its_volts_takes_the_phases_of_its_source_and_not_its_wires(volts_v: float, system: System) -> None:
    one = source(kva=50.0, z_pct=2.4, volts_v=240.0, phases=1, wires=3, system=None)
    blank = {"volts_v": volts_v, "phases": 0, "wires": None, "system": None}
    found = sized(one, [bank(quantity=2, power_kw=2.0, volts_v=volts_v, connection="parallel")], [hung("F-1", **blank)])
    [row] = found.feeders
    assert (row.supply.wires, row.supply.system, row.banks) == (2, system, 1)


@pytest.mark.parametrize(("line", "mismatch"), [("B", False), (None, False), ("C", True)])
def test_a_feeder_has_the_grounded_line_of_its_source(line: str | None, mismatch: bool) -> None:
    corner = source(system="corner-grounded delta", grounded_line="B", kva=500.0, z_pct=5.0)
    made = job([bank(quantity=3)], [hung("F-1", system="corner-grounded delta", grounded_line=line)], projects=project())
    result = size_job(replace(made, sources=(corner,)))
    assert ("source-mismatch" in {finding.code for finding in result.findings}) is mismatch


@pytest.mark.parametrize(
    ("blank", "volts_v", "phases", "wires"),
    [
        ({"volts_v": 0.0, "phases": 0, "wires": None, "system": None}, 480.0, 3, 4),  # all as the source has it
        ({"volts_v": 0.0, "phases": 1, "wires": 2, "system": None}, 480.0, 1, 2),  # two lines of it
        ({"volts_v": 277.0, "phases": 1, "wires": None, "system": None}, 277.0, 1, 2),  # stated, so not taken
    ],
)
def test_a_feeder_takes_from_its_source_what_its_row_leaves_blank(blank: dict, volts_v: float, phases: int, wires: int) -> None:
    found = sized(source(**UNIT, wires=4), [bank(feeder="F1", volts_v=volts_v, connection="parallel")], [hung("F1", **blank)])
    [row] = found.feeders
    assert (row.feeder.volts_v, row.feeder.phases) == (volts_v, phases)
    assert (row.supply.volts_v, row.supply.phases, row.supply.wires) == (volts_v, phases, wires)
    assert row.banks == 1 and "source-mismatch" not in codes_of(found)


# 4. Center-tapped unit: 50 kVA, 240/120 V, 2.4 %; feeder 4/0 copper, 5 m

TAPPED = {"kva": 50.0, "z_pct": 2.4, "volts_v": 240.0, "phases": 1, "wires": 3, "system": "1-phase 3-wire"}
RUN = (Wires("4/0", 1, 2, "4/0", "4", "copper", "THWN-2", "", "4/0 AWG", "", None), 5.0)


@pytest.mark.parametrize(
    ("ratio", "lines", "neutral", "end_lines", "end_neutral"),
    [(None, 9.6451, 14.4676, 9.1311, 12.2585), (1.5, 9.6451, 14.8419, 8.9033, 11.7421)],
)
def test_a_center_tapped_unit(ratio: float | None, lines: float, neutral: float, end_lines: float, end_neutral: float) -> None:
    known = known_source(source(**TAPPED, unit_x_over_r=ratio), RULES, Remarks())
    two_wires = known._replace(supply=Supply(240.0, 2, System.LINE_TO_LINE))  # its lines alone
    assert known.fault.used_ka == pytest.approx(lines, abs=1e-4)
    assert fault_at(known, known.supply, (), settings(), RULES) == pytest.approx(neutral, abs=1e-4)
    assert fault_at(known, known.supply, (RUN,), settings(), RULES) == pytest.approx(end_neutral, abs=1e-4)
    assert fault_at(two_wires, two_wires.supply, (RUN,), settings(), RULES) == pytest.approx(end_lines, abs=1e-4)


def test_what_the_impedances_of_the_unit_are() -> None:
    """Ohms of the example, and with X/R 6 and 10 their parts."""
    plain = known_source(source(**UNIT, primary_mva=250.0), RULES, Remarks()).fault.impedance
    assert (plain.unit, plain.primary) == pytest.approx((0.0119232, 0.0009216), abs=1e-7)
    both = known_source(source(**UNIT, primary_mva=250.0, unit_x_over_r=6.0, primary_x_over_r=10.0), RULES, Remarks()).fault.impedance
    assert (both.unit.real, both.unit.imag) == pytest.approx((0.0019602, 0.0117610), abs=1e-7)
    assert (both.primary.real, both.primary.imag) == pytest.approx((0.0000917, 0.0009170), abs=1e-7)


@pytest.mark.parametrize(("kilo", "held"), [(10.0, True), (22.0, False), (9.5, True)])
def test_a_stock_part_at_the_end_of_a_center_tapped_feeder(kilo: float, held: bool) -> None:
    """12.259 kA to neutral behind 5 m of 4/0; by the lines alone, 9.131 kA, 10 kA would have been enough."""
    contactors = [part(part="C-100", kind="contactor", rating_a=250.0, poles=2, volts_v=600.0, sccr_ka=kilo)]
    listed = [*contactors, part(part="C-3", kind="contactor", rating_a=250.0, poles=3, volts_v=600.0, sccr_ka=kilo)]
    banks = [bank(quantity=2, power_kw=5.0, volts_v=240.0, connection="parallel")]
    fed = hung("F-1", volts_v=240.0, phases=1, wires=3, system=None, run_m=5.0, existing_device_a=225.0)
    found = sized(source(**TAPPED), banks, [fed], {"smallest_conductor": "4/0"}, listed)
    [row] = found.feeders
    assert row.wires.size == "4/0" and row.fault_ka == pytest.approx(14.4676, abs=1e-4)
    assert row.fault_end_ka == pytest.approx(12.2585, abs=1e-4)
    assert ("fault-over-rating" in codes_of(found)) is held and (found.banks[0].hold is not None) is held


# 5. Fault at every point: 750 kVA, 5.75 %; feeder 25 m, panel feeders 15 m


def whole_feeder(**given: object) -> ProjectResult:
    nine = {"quantity": 6, "power_kw": 9.0, "phases": 3, "connection": None, "panel_feeder_run_m": 15.0}
    banks = [bank(**nine), bank(tank="T-2", **nine), bank(tank="T-3", quantity=1, power_kw=20.0, phases=3, connection=None)]
    return sized(source(kva=750.0, z_pct=5.75), banks, [hung("F-1", run_m=25.0)], **given)


def test_fault_at_every_point_of_a_feeder() -> None:
    found = whole_feeder()
    [row] = found.feeders
    assert (row.device.rating_a, row.wires.size, row.wires.ground) == (200, "3/0", "6")
    assert row.use_pct == pytest.approx(96.23, abs=CLOSE_PCT) and "device-nearly-full" in codes_of(found)
    assert row.fault_ka == pytest.approx(17.432, abs=CLOSE_KA)
    assert row.fault_end_ka == pytest.approx(13.819, abs=CLOSE_KA)
    [panel] = found.banks[0].panels
    assert (panel.design.panel_feeder_device.rating_a, panel.design.panel_feeder_wires.size) == (90, "3")
    assert panel.design.panel_feeder_wires.ground == "8" and panel.fault_ka == pytest.approx(10.383, abs=CLOSE_KA)
    assert [way.device.rating_a for way in row.end.ways] == [90, 90, 35]
    assert row.end.ways[0].use_pct == pytest.approx(90.21, abs=CLOSE_PCT)
    [said] = [finding.message for finding in row.findings if finding.code == "fault-over-default"]
    assert said.partition("where they stand: ")[2] == (  # 17.432, 13.819 and 10.383 kA, each rounded up
        "at its source, 17.5 kA: disconnect 5 kA; at its control panels, up to 13.9 kA: contactor 5 kA, disconnect 5 kA, "
        "fuse holder 10 kA; in its heater panels, up to 10.4 kA: power distribution block 10 kA."
    )


def test_loads_devices_and_wires_of_that_feeder() -> None:
    found = whole_feeder()
    [row] = found.feeders
    panel, single = found.banks[0].panels[0].design, found.banks[2].design.single_circuit
    assert (panel.branch.design_a, panel.branch.device.rating_a) == (pytest.approx(10.825, abs=CLOSE_A), 15)
    assert (panel.lines.a, panel.required_a) == pytest.approx((64.952, 81.190), abs=CLOSE_A)
    assert (single.lines.a, single.required_a) == pytest.approx((24.056, 30.070), abs=CLOSE_A)
    assert single.panel_feeder_device.rating_a == 35
    assert (row.load_a, row.required_a) == pytest.approx((153.960, 192.450), abs=CLOSE_A)
    assert unrounded_ampacity("3/0", 200, 3, False, settings(), phases=3, ambient_c=40.0, rules=RULES) == 200
    assert unrounded_ampacity("3", 90, 3, False, settings(), phases=3, ambient_c=40.0, rules=RULES) == 85


@pytest.mark.parametrize(("lengths", "levels"), [((20.0, None), (11.8246, 17.432)), ((None, 20.0), (17.432, 11.8246))])
def test_fault_at_a_control_panel_behind_its_way(lengths: tuple, levels: tuple[float, float]) -> None:
    """20 m of 3 AWG, 0.25 x 0.838 and 0.047 ohm a thousand feet: 0.0137467 + j 0.0030840 ohm behind 0.0158976, all of it reactance:
    0.0234367 ohm, 11.8246 kA. A way of no known length lessens nothing; what is said of both counts the greater."""
    nine = {"quantity": 6, "power_kw": 9.0, "phases": 3, "connection": None}
    tanks = [tank(tank=f"T-{at}", distribution_run_m=length_m) for at, length_m in enumerate(lengths, 1)]
    made = job([bank(tank="T-1", **nine), bank(tank="T-2", **nine)], [hung("F-1", run_m=0.0)], tanks=tanks, projects=project())
    [row] = size_job(replace(made, sources=(source(kva=750.0, z_pct=5.75),))).projects[0].feeders
    assert [way.wires.size for way in row.end.ways] == ["3", "3"]
    assert [way.fault_ka for way in row.end.ways] == pytest.approx(levels, abs=CLOSE_KA)
    [said] = [finding.message for finding in row.findings if finding.code == "fault-over-default"]
    assert "at its control panels, up to 17.5 kA" in said


@pytest.mark.parametrize(("marked", "bought"), [(200.0, True), (17.0, False), (None, False)])
def test_a_switch_that_is_not_marked_for_the_fault_is_not_taken_from_stock(marked: float | None, bought: bool) -> None:
    listed = [part(part="SW-200", kind="fuse holder", rating_a=200.0, poles=3, volts_v=600.0, sccr_ka=marked)]
    assert ("SW-200" in {line.part for line in whole_feeder(stock=listed).materials if line.role.startswith("feeder")}) is bought


def test_a_bank_behind_an_unmarked_part_is_to_be_looked_at() -> None:
    """The caution is one of the feeder; every bank and panel of it carries it."""
    found = whole_feeder()
    assert sum(finding.code == "fault-over-default" for finding in found.feeders[0].findings) == 1
    for one in found.banks:
        assert "fault-over-default" in {finding.code for finding in one.around}


def test_a_panel_feeder_fuse_below_the_fault_is_not_released() -> None:
    """Class H, 10 kA, at the feeder's end: 13.819 kA."""
    for kilo, held in ((10.0, True), (200.0, False)):
        listed = [part(part="F-90", kind="fuse", rating_a=90.0, volts_v=600.0, sccr_ka=kilo)]
        found = whole_feeder(stock=listed)
        assert found.banks[0].panels[0].design.panel_feeder_device.part == "F-90"
        assert ("fault-over-rating" in {finding.code for finding in found.banks[0].findings}) is held
        assert (found.banks[0].hold is not None) is held


@pytest.mark.parametrize(("kilo", "held"), [(10.0, True), (14.0, False)])
def test_a_stock_block_behind_the_panel_feeder(kilo: float, held: bool) -> None:
    """10 kA against 10.383: not released; 14 kA serves."""
    listed = [part(part="PDB-1", kind="power distribution block", rating_a=175.0, volts_v=600.0, poles=3, sccr_ka=kilo)]
    assert ("fault-over-rating" in codes_of(whole_feeder(stock=listed))) is held


@pytest.mark.parametrize(
    ("listed", "how", "below", "held"),
    [
        # at the feeder's end, 13.819 kA: a breaker that nobody has marked, 5 kA; marked 14 kA
        ([], {"device_kind": "breaker"}, ["breaker"], False),
        ([{"kind": "breaker", "rating_a": 35.0, "poles": 3, "sccr_ka": 14.0}], {"device_kind": "breaker"}, [], False),
        # a fuse of 200 kA in a holder that nobody has marked, 10 kA; in one marked 100 kA; one marked 12 kA is not taken
        ([], {}, ["fuse holder"], False),
        ([{"kind": "fuse holder", "rating_a": 60.0, "poles": 3, "sccr_ka": 100.0}], {}, [], False),
        ([{"kind": "fuse holder", "rating_a": 60.0, "poles": 3, "sccr_ka": 12.0}], {}, ["fuse holder"], False),
        ([{"kind": "fuse", "rating_a": 35.0, "sccr_ka": 10.0}], {}, ["S-1", "fuse holder"], True),  # class H by its marking
    ],
)
def test_the_device_of_a_single_circuit_bank_at_the_feeders_end(listed: list[dict], how: dict, below: list[str], held: bool) -> None:
    bank_alone = bank(tank="T-3", quantity=1, power_kw=20.0, phases=3, connection=None)
    nine = bank(quantity=6, power_kw=9.0, phases=3, connection=None, panel_feeder_run_m=15.0, device_kind="fuse")
    contactors = [part(part="C", kind="contactor", rating_a=90.0, poles=3, volts_v=600.0, sccr_ka=100.0)]
    stock = [*contactors, *(part(part="S-1", volts_v=600.0, **one) for one in listed)]
    found = sized(source(kva=750.0, z_pct=5.75), [nine, nine_again(nine), bank_alone], [hung("F-1", run_m=25.0)], how, stock)
    [row] = found.feeders
    assert row.fault_end_ka == pytest.approx(13.819, abs=CLOSE_KA) or how
    single = found.banks[2].design.single_circuit
    parts = [one.part for one in exposed(single, 13.819, 13.819, RULES) if one.part not in ("contactor", "disconnect", "C")]
    assert parts == below and bool(found.banks[2].hold) is held


def nine_again(one: Bank) -> Bank:
    return replace(one, tank="T-2", origin=origin("heaters"))


def test_a_stock_switch_marked_for_the_source_says_nothing() -> None:
    """200 kA against 17.432 at the feeder's own fuses; unmarked, 5 kA, it is in the caution of the feeder."""
    for marked, said in ((200.0, False), (None, True)):
        listed = [part(part="SW-200", kind="fuse holder", rating_a=200.0, poles=3, volts_v=600.0, sccr_ka=marked)] if marked else None
        [row] = whole_feeder(stock=listed).feeders
        [words] = [finding.message for finding in row.findings if finding.code == "fault-over-default"]
        assert ("at its source, 17.5 kA" in words) is said


def test_the_devices_of_a_unit_are_named_in_it_and_once() -> None:
    """A unit of ours stands at the feeder's end, 13.819 kA with 25 m of these wires; its ways are not named one by one."""
    [row] = whole_feeder(how={"distribution": "ours"}).feeders
    assert row.end.ours and len(row.end.ways) == 3
    [said] = [finding.message for finding in row.findings if finding.code == "fault-over-default"]
    assert said.count("in its distribution unit, 13.9 kA: disconnect 5 kA") == 1 and "way " not in said


@pytest.mark.parametrize(
    ("kind", "default"), [("disconnect", "5 kA"), ("power distribution block", "10 kA"), ("contactor", "5 kA")]
)
@pytest.mark.parametrize(("marked", "how"), [(None, "fault-over-default"), (12.0, "fault-over-rating"), (100.0, "")])
def test_a_part_of_a_control_panel_from_stock_is_judged_by_its_marking_or_the_default(
    kind: str, default: str, marked: float | None, how: str
) -> None:
    """17.432 kA at a source right beside a control panel with two panel feeders: a disconnect, a block, and a back-up contactor."""
    nine = {"quantity": 6, "power_kw": 9.0, "phases": 3, "connection": None}
    listed = [part(part="ITS-OWN", kind=kind, rating_a=400.0, poles=3, volts_v=600.0, sccr_ka=marked)]
    tanks = [tank(tank="T-1", backup_contactor="yes")]
    made = job([bank(**nine), bank(bank="2", **nine)], [hung("F-1", run_m=0.0)], tanks=tanks, projects=project(), stock=listed)
    [found] = size_job(replace(made, sources=(source(kva=750.0, z_pct=5.75),))).projects
    assert found.feeders[0].fault_end_ka == pytest.approx(17.432, abs=CLOSE_KA)
    [panel] = found.controls
    said = {one.code: one.message for one in panel.findings if "ITS-OWN" in one.message}
    assert set(said) == ({how} if how else set())
    assert how != "fault-over-default" or said[how].endswith(f": ITS-OWN {default}.")


@pytest.mark.parametrize(("banks", "block"), [(2, True), (1, False)])
def test_a_block_of_a_control_panel_stands_where_several_panel_feeders_do(banks: int, block: bool) -> None:
    nine = {"quantity": 6, "power_kw": 9.0, "phases": 3, "connection": None, "panel_feeder_run_m": 100.0}  # far: no block in them is short
    some = [bank(bank=str(number), **nine) for number in range(1, banks + 1)]
    [row] = sized(source(kva=750.0, z_pct=5.75), some, [hung("F-1", run_m=0.0)]).feeders
    [said] = [one.message for one in row.findings if one.code == "fault-over-default"]
    assert ("power distribution block 10 kA" in said.partition("at its control panels")[2].partition(";")[0]) is block


# Under a code without a default for parts that nobody has marked, such a part has no rating


def metric_feeder(stock: list | None = None) -> ProjectResult:
    nine = {"quantity": 6, "power_kw": 9.0, "phases": 3, "connection": None, "panel_feeder_run_m": 15.0, "volts_v": 400.0}
    one = replace(source(kva=750.0, z_pct=5.75), volts_v=400.0)
    return sized(one, [bank(**nine)], [hung("F-1", volts_v=400.0, run_m=25.0)], {"code_basis": "IEC 60364"}, stock)


MARKED = (
    ("contactor", {"rating_a": 250.0, "poles": 3}), ("fuse holder", {"rating_a": 250.0, "poles": 3}), ("fuse", {"rating_a": 125.0}),
    ("power distribution block", {"rating_a": 250.0, "poles": 3}), ("disconnect", {"rating_a": 250.0, "poles": 3}),
)  # fmt: skip


def said_unknown(found: ProjectResult) -> str:
    return "".join(one.message.partition("is known: ")[2] for one in found.feeders[0].findings if one.code == "fault-rating-unknown")


def test_a_part_without_a_marking_has_no_rating_where_the_code_gives_no_default() -> None:
    words = said_unknown(metric_feeder())
    places = dict(one.rpartition(": ")[::2] for one in words.rstrip(".").split("; "))
    assert [place.rpartition(" kA")[0].rpartition(" ")[0] for place in places] == [
        "at its source,", "at its control panels, up to", "in its heater panels, up to"
    ]  # fmt: skip
    assert list(places.values()) == [
        "switch-disconnector", "contactor, switch-disconnector, fuse holder", "fuse holder, power distribution block",
    ]  # fmt: skip
    assert "fault-over-default" not in codes_of(metric_feeder())


@pytest.mark.parametrize(
    ("kind", "gone"),
    [("contactor", "contactor, "), ("power distribution block", ", power distribution block"), ("fuse holder", "fuse holder")],
)
def test_a_marked_part_is_no_longer_among_them(kind: str, gone: str) -> None:
    for kilo, marked in ((100.0, True), (None, False)):
        listed = [part(part=f"P-{kind}", kind=kind, volts_v=690.0, sccr_ka=kilo, **cells) for name, cells in MARKED if name == kind]
        assert (gone in said_unknown(metric_feeder(listed))) is not marked, said_unknown(metric_feeder(listed))


@pytest.mark.parametrize(("kilo", "by_default", "held"), [(None, True, False), (5.0, False, True), (14.0, False, False)])
def test_a_stock_breaker_that_nobody_has_marked_counts_by_the_default(kilo: float | None, by_default: bool, held: bool) -> None:
    """13.819 kA at the feeder's end: unmarked it counts as 5 kA, of the stock list or not; marked 5 kA it is not released."""
    nine = {"quantity": 6, "power_kw": 9.0, "phases": 3, "connection": None}
    breaker = {"kind": "breaker", "poles": 3, "volts_v": 600.0, "sccr_ka": kilo}
    listed = [part(part=f"CB-{rating:g}", rating_a=rating, **breaker) for rating in (90.0, 175.0)]
    listed.append(part(part="CON", kind="contactor", rating_a=175.0, poles=3, volts_v=600.0, sccr_ka=100.0))
    banks, how = [bank(**nine), bank(tank="T-2", **nine)], {"device_kind": "breaker"}
    found = sized(source(kva=750.0, z_pct=5.75), banks, [hung("F-1", run_m=25.0)], how, listed)
    assert found.banks[0].panels[0].design.panel_feeder_device.part == "CB-90"
    said = "".join(one.message for one in found.feeders[0].findings if one.code == "fault-over-default")
    at_control = said.partition("at its control panels")[2].partition(";")[0]
    assert ("breaker 5 kA" in at_control) is by_default
    assert ("fault-over-rating" in {one.code for one in found.banks[0].findings}) is held


# 6. The feeder's end: panels of 64.952, 64.952, 54.127 A, banks of 34.882 and 24.056 A


def five_ways(stock: list | None = None, **given: object) -> ProjectResult:
    nine = {"power_kw": 9.0, "phases": 3, "connection": None}
    banks = [
        bank(tank="T-1", quantity=6, **nine), bank(tank="T-2", quantity=6, **nine), bank(tank="T-3", quantity=5, **nine),
        bank(tank="T-4", quantity=2, power_kw=14.5, phases=3, connection=None),
        bank(tank="T-5", quantity=1, power_kw=20.0, phases=3, connection=None),
    ]  # fmt: skip
    return sized(source(kva=750.0, z_pct=5.75), banks, [hung("F-1", **given)], {"distribution": "ours"}, stock)


def test_one_distribution_unit() -> None:
    [row] = five_ways().feeders
    assert row.required_a == pytest.approx(303.710, abs=CLOSE_A)
    assert (row.device.rating_a, row.wires.sets, row.wires.size, row.wires.ground) == (350, 1, "350", "3")
    assert row.use_pct == pytest.approx(86.77, abs=CLOSE_PCT)
    assert (row.end.unit, row.end.bus_a, row.end.main_a, row.end.lugs, row.end.ours) == (
        "fused panelboard",
        400,
        None,
        "1 x 350 kcmil a line",
        True,
    )
    assert [(way.device.rating_a, way.frame_a) for way in row.end.ways] == [(90, 100), (90, 100), (70, 100), (50, 60), (35, 60)]


@pytest.mark.parametrize(("there", "bus", "unit"), [(1200.0, 1200, "fused panelboard"), (1600.0, 1600, "fused switchboard")])
def test_a_panelboard_serves_to_1200_amps(there: float, bus: int, unit: str) -> None:
    [row] = five_ways(existing_device_a=there).feeders
    assert (row.end.bus_a, row.end.unit) == (bus, unit)


@pytest.mark.parametrize(("main", "taken", "said"), [(None, 350.0, True), (400.0, 400.0, False)])
def test_a_unit_in_another_building_has_the_main_that_is_given(main: float | None, taken: float, said: bool) -> None:
    found = five_ways(unit_apart="yes", unit_main_a=main)
    assert found.feeders[0].end.main_a == taken and ("main-apart" in codes_of(found)) is said


@pytest.mark.parametrize(("length_m", "unknown"), [(None, 2), (0.0, 1), (20.0, 1)])
def test_a_way_of_no_length_is_known(length_m: float | None, unknown: int) -> None:
    """Two tanks, the second of no length given."""
    six = {"quantity": 6, "power_kw": 9.0, "phases": 3, "connection": None}
    tanks = [tank(tank="T-1", distribution_run_m=length_m), tank(tank="T-2")]
    made = job([bank(tank="T-1", **six), bank(tank="T-2", **six)], [hung("F-1")], tanks=tanks, projects=project())
    [row] = size_job(replace(made, sources=(source(kva=750.0, z_pct=5.75),))).projects[0].feeders
    [said] = [finding.message for finding in row.findings if finding.code == "way-length-unknown"]
    assert f"of {unknown} of its ways" in said


def test_what_hangs_on_that_unit() -> None:
    found = five_ways()
    [row] = found.feeders
    amps = [way.lines.a for way in row.end.ways]
    assert amps == pytest.approx([64.952, 64.952, 54.127, 34.882, 24.056], abs=CLOSE_A)
    assert [way.required_a for way in row.end.ways][3:] == pytest.approx([43.602, 30.070], abs=CLOSE_A)
    assert row.load_a == pytest.approx(242.968, abs=CLOSE_A)
    assert {"feeder-device-raised", "existing-below-largest"}.isdisjoint(codes_of(found))
    assert {way.device.poles for way in row.end.ways} == {3}


def test_the_short_circuit_rating_that_a_unit_is_asked_for() -> None:
    """17.2 kA at the feeder's end: given at its start, and no length that would reduce it."""
    banks = [bank(tank=f"T-{at}", quantity=6, power_kw=9.0, phases=3, connection=None) for at in range(2)]
    made = job(banks, feeder(fault_ka=17.2, run_m=None), projects=project(distribution="ours"))
    [found] = size_job(made).projects
    [unit] = [row for row in found.materials if row.role == "distribution unit"]
    assert found.feeders[0].end.fault_ka == pytest.approx(17.2) and "short-circuit rating at least 17.2 kA" in unit.words


def test_a_unit_of_ours_is_in_materials_and_one_of_others_is_not() -> None:
    """Devices of 90, 90, 70, 50 and 35 A, three fuses each."""
    ours = [row for row in five_ways().materials if row.used_for == "distribution"]
    [unit] = [row for row in ours if row.role == "distribution unit"]
    assert unit.quantity == 1 and "bus 400 A" in unit.words and "3 of 100 A, 2 of 60 A" in unit.words
    fuses = {row.words.partition(" A ")[0]: row.quantity for row in ours if row.role == "way fuse"}
    assert fuses == {"90": 6, "70": 3, "50": 3, "35": 3}
    theirs = sized(source(), [bank(quantity=6), bank(tank="T-2")], [hung("F-1")])
    assert not [row for row in theirs.materials if row.used_for == "distribution"] and "distribution-by-others" in codes_of(theirs)


@pytest.mark.parametrize(
    ("given", "chosen"),
    [
        ({}, "B-12"),
        ({"rating_a": 350.0}, ""),  # the bus is 400 A
        ({"branches_at_most": 4}, ""),  # five ways
        ({"volts_v": 240.0}, ""),
        ({"poles": 2}, ""),
        ({"sccr_ka": 10.0}, ""),  # 750 kVA of 5.75 % alone give 902.1 / 0.0575 = 15.7 kA
        ({"sccr_ka": None}, ""),  # not marked
    ],
)
def test_the_board_of_the_stock_list_serves_in_every_rating(given: dict, chosen: str) -> None:
    usual = {"kind": "distribution board", "rating_a": 400.0, "poles": 3, "volts_v": 600.0, "sccr_ka": 25.0, "branches_at_most": 12}
    listed = [part(part="B-42", **usual | {"branches_at_most": 42}), part(part="B-12", **usual | given)]
    boards = [[row.part for row in five_ways(stock=some).materials if row.role == "distribution unit"] for some in (listed, listed[1:])]
    assert boards == [[chosen or "B-42"], [chosen]]


def test_the_devices_of_the_ways_are_looked_up_and_withstand_the_fault() -> None:
    """Three fuses of 70 A for one way; the fused switch of 100 A for the ways of 90 and 70 A. Marked 5 kA, neither serves."""
    for marked, fuse, switch in ((200.0, "F-70", "S-100"), (5.0, "", "")):
        listed = [
            part(part="F-70", kind="fuse", rating_a=70.0, volts_v=600.0, sccr_ka=marked),
            part(part="S-100", kind="fuse holder", rating_a=100.0, poles=3, volts_v=600.0, sccr_ka=marked),
        ]
        rows = [row for row in five_ways(stock=listed).materials if row.used_for == "distribution"]
        fuses = {row.words.partition(" A ")[0]: (row.part, row.quantity) for row in rows if row.role == "way fuse"}
        assert fuses["70"] == (fuse, 3) and fuses["90"] == ("", 6)
        holders = [row for row in rows if row.role == "way fused switch or holder" and row.part == switch]
        assert sum(row.quantity for row in holders if "100 A" in row.words) == 3


def test_a_feeder_of_one_bank_follows_its_device() -> None:
    """34.882 A, 43.602 with 25 %: 45 A would do, the bank's own device is 50 A."""
    found = sized(source(), [bank(quantity=2, power_kw=14.5, phases=3, connection=None)], [hung("F-1")])
    [row] = found.feeders
    assert (row.device.rating_a, row.wires.size, row.wires.ground, row.end.unit) == (50, "6", "10", "")
    assert row.use_pct == pytest.approx(87.20, abs=CLOSE_PCT) and "feeder-device-raised" in codes_of(found)


@pytest.mark.parametrize(("main", "code"), [(None, "bus-small"), (225.0, "main-small")])
def test_a_bus_that_is_there(main: float | None, code: str) -> None:
    found = five_ways(bus_a=225.0, unit_main_a=main)
    assert {"bus-small", "main-small"} & codes_of(found) == {code}
    if main:
        [said] = [finding.message for finding in found.feeders[0].findings if finding.code == code]
        assert said.endswith("134.98 % of it.")


@pytest.mark.parametrize(("main", "small"), [(152.0, True), (303.0, True), (304.0, False)])
def test_a_main_carries_the_load_with_its_margin(main: float, small: bool) -> None:
    """242.968 A, 303.710 with 25 %: half of it is 151.855 A."""
    assert ("main-small" in codes_of(five_ways(unit_main_a=main))) is small


# 7. Taps from a 600 A feeder


@pytest.mark.parametrize(
    ("given", "length_m", "wire", "ground", "device", "amps", "sized_by"),
    [
        # 4 AWG has 70 A at 60 °C; 600 A asks for 1, never above the tap
        ({"quantity": 3}, 2.5, "4", "4", 30, 21.651, ("240.21(B)(1)", 70, 60.0)),
        ({"quantity": 6, "power_kw": 9.0, "phases": 3, "connection": None}, 2.5, "2", "2", 90, 64.952, ("240.21(B)(1)", 95, 90.0)),
        ({"quantity": 3}, 6.0, "250", "1", 30, 21.651, ("240.21(B)(2)", 215, 200.0)),  # 250 kcmil at 60 °C
        # 4/0 at 75 °C
        ({"quantity": 16, "power_kw": 9.0, "phases": 3, "connection": None}, 6.0, "4/0", "1", 225, 173.205, ("240.21(B)(2)", 230, 225.0)),
    ],
)
def test_taps(given: dict, length_m: float, wire: str, ground: str, device: float, amps: float, sized_by: tuple) -> None:
    found = sized(source(), [bank(**given), bank(tank="T-2")], [hung("F-1", existing_device_a=600.0, tap_m=length_m)])
    way: Way = found.feeders[0].end.ways[0]
    assert (way.wires.size, way.wires.ground, way.wires.sets) == (wire, ground, 1)
    assert way.device.rating_a == device and way.lines.maximum == pytest.approx(amps, abs=CLOSE_A)
    assert way.required_a == pytest.approx(1.25 * amps, abs=2e-3) and way.tap == sized_by
    assert "tap-too-long" not in codes_of(found) and found.feeders[0].end.unit == "taps"


FIFTEEN = {"quantity": 1, "power_kw": 15.0, "phases": 3, "connection": None}


@pytest.mark.parametrize(
    ("length_m", "feeder_a", "wire"),
    [
        (2.5, 100.0, "10"),  # 12 AWG has 25 A at 75 °C, and 240.4(D) no device above 20 A behind it
        (9.0, 25.0, "10"),  # too long for a tap: what the 25 A ahead protects, by the same limit
    ],
)
def test_a_tap_keeps_the_limits_of_small_conductors(length_m: float, feeder_a: float, wire: str) -> None:
    """15 kW on three phases: 18.042 A, 22.553 with 25 %, a device of 25 A."""
    fed = hung("F-1", existing_device_a=feeder_a, tap_m=length_m)
    way: Way = sized(source(), [bank(**FIFTEEN), bank(tank="T-2", quantity=1, power_kw=1.0, connection="parallel")], [fed],
                     {"terminal_c": 75}).feeders[0].end.ways[0]  # fmt: skip
    assert way.device.rating_a == 25 and way.wires.size == wire


def test_conductors_of_a_secondary_keep_the_limits_of_small_conductors() -> None:
    found = sized(source(kva=15.0, z_pct=3.0, primary_v=480.0, primary_device_a=25.0), [bank(**FIFTEEN)],
                  [hung("F-1", device_at="end", run_m=2.5)], {"terminal_c": 75})  # fmt: skip
    [row] = found.feeders
    assert (row.device.rating_a, row.wires.size) == (25, "10")


@pytest.mark.parametrize(("kind", "needs_a", "wire"), [("fuse", 55.175, "16 mm²"), ("breaker", 50.0, "10 mm²")])
def test_a_tap_that_a_gg_fuse_protects_from_overload(kind: str, needs_a: float, wire: str) -> None:
    """Three 9 kW at 400 V: 38.971 A, 48.714 with 25 %, a device of 50 A; a tenth of 250 A is less. IEC 60364-4-43, 433.1: I2 <= 1.45 Iz,
    and of a gG fuse I2 = 1.6 In (from memory): 1.6 / 1.45 = 1.10345, 1.1035 taken, 55.175 A. B1, copper, PVC, 30 °C: 10 mm² has 50 A,
    16 mm² 68 A."""
    nine = {"quantity": 3, "power_kw": 9.0, "volts_v": 400.0, "phases": 3, "connection": None}
    fed = hung("F-1", volts_v=400.0, existing_device_a=250.0, tap_m=2.5)
    how = {"code_basis": "IEC 60364", "device_kind": kind, "ambient_c": 30.0}
    way: Way = sized(source(volts_v=400.0), [bank(**nine), bank(tank="T-2", **nine)], [fed], how).feeders[0].end.ways[0]
    assert way.device.rating_a == 50 and way.tap.needs_a == pytest.approx(needs_a, abs=1e-6) and way.wires.size == wire


@pytest.mark.parametrize(("feet", "rule"), [(10, "240.21(B)(1)"), (10.1, "240.21(B)(2)"), (25, "240.21(B)(2)"), (25.1, "")])
def test_a_tap_of_just_ten_and_just_twenty_five_feet(feet: float, rule: str) -> None:
    """The clauses print 3 m (10 ft) and 7.5 m (25 ft), and either unit counts."""
    found = sized(source(), [bank(), bank(tank="T-2")], [hung("F-1", existing_device_a=600.0, tap_m=feet * 0.3048)])
    assert found.feeders[0].end.ways[0].tap.rule == rule and ("tap-too-long" in codes_of(found)) is (rule == "")


@pytest.mark.parametrize(("wire", "device_a", "ampacity"), [("4", 30, 70), ("2", 90, 95), ("250", 30, 215), ("4/0", 225, 230)])
def test_the_ampacity_of_a_tap(wire: str, device_a: float, ampacity: int) -> None:
    """The terminal column, 60 °C to 100 A and 75 °C above, lower than 86, 118, 263 and 236 A adjusted; whole amps, never rounded up."""
    assert unrounded_ampacity(wire, device_a, 3, False, settings(), phases=3, ambient_c=40.0, rules=RULES) == ampacity


def test_the_drop_along_a_tap() -> None:
    """43.301 A on each pair of 4 AWG, 0.31 ohm per 1000 ft in PVC: sqrt(3) x 43.301 A x 0.31 x 2.5 / 304.8 ohm, of 480 V."""
    found = sized(source(), [bank(quantity=6), bank(tank="T-2")], [hung("F-1", existing_device_a=600.0, tap_m=2.5)])
    way = found.feeders[0].end.ways[0]
    assert way.wires.size == "4" and way.run_m == 2.5
    assert way.drop_pct == pytest.approx(100 * 3**0.5 * 43.301 * 0.31 * 2.5 / 304.8 / 480.0, abs=1e-4)


def test_the_devices_at_the_ends_of_taps_are_bought() -> None:
    """60 A for six heaters and 30 A for three, three fuses each and a switch."""
    found = sized(source(), [bank(quantity=6), bank(tank="T-2")], [hung("F-1", existing_device_a=600.0, tap_m=2.5)])
    bought = {(row.role, row.words.partition(" A ")[0]): row.quantity for row in found.materials if row.used_for == "distribution"}
    assert bought == {
        ("way fuse", "60"): 3, ("way fused switch or holder", "3-pole, 60"): 1,
        ("way fuse", "30"): 3, ("way fused switch or holder", "3-pole, 30"): 1,
    }  # fmt: skip


def test_what_is_too_long_for_a_tap() -> None:
    found = sized(source(), [bank(quantity=6, power_kw=9.0, phases=3, connection=None), bank(tank="T-2")],
                  [hung("F-1", existing_device_a=600.0, tap_m=9.0)])  # fmt: skip
    assert "tap-too-long" in codes_of(found) and found.banks[0].hold is not None
    assert found.feeders[0].end.ways[0].tap.rule == ""


# 8. A transformer of this job: 75 kVA, 480 to 208Y/120, 90.211 A and 208.179 A


@pytest.mark.parametrize(
    ("primary", "devices", "said"),
    [
        (125.0, (225.0,), set()), (125.0, (175.0, 150.0), set()), (200.0, (225.0,), set()),
        (200.0, (150.0, 150.0), set()), (200.0, (175.0, 150.0), {"transformer-secondary"}), (250.0, (225.0,), {"transformer-primary"}),
        (250.0, (175.0, 150.0), {"transformer-primary"}),
    ],
)  # fmt: skip
def test_protection_of_a_transformer(primary: float, devices: tuple[float, ...], said: set[str]) -> None:
    """A primary device to 1.25 times 90.211 A, next 125 A, serves alone; to 2.5 times, 225.527 A, with secondary ones of 300 A together:
    1.25 times 208.179 A, next standard rating."""
    one = source(kva=75.0, z_pct=4.0, volts_v=208.0, primary_v=480.0, primary_device_a=primary, secondary_run_m=2.5, of_this_job="yes")
    banks = [bank(volts_v=208.0, feeder=f"F{at}", tank=f"T-{at}") for at, _ in enumerate(devices)]
    found = sized(one, banks, [hung(f"F{at}", volts_v=208.0, existing_device_a=device) for at, device in enumerate(devices)])
    assert {code for code in codes_of(found) if code.startswith("transformer-")} == said


@pytest.mark.parametrize(
    ("primary", "devices", "said"),
    [
        (50.0, (600.0,), set()), (200.0, (600.0,), set()), (50.0, (600.0, 400.0), {"transformer-secondary"}),
        (250.0, (600.0,), {"transformer-primary"}),
    ],
)  # fmt: skip
def test_protection_of_a_transformer_over_1000_v(primary: float, devices: tuple[float, ...], said: set[str]) -> None:
    """Table 450.3(A), any location (from memory): 500 kVA, 4160 V, 69.393 A: fuses to 3 times it, 208.179 A, and secondary devices always:
    601.407 A x 1.25 = 751.759, next 800 A. By the table for up to 1000 V 50 A would do alone."""
    one = source(kva=500.0, z_pct=5.0, primary_v=4160.0, primary_device_a=primary, secondary_run_m=2.5, of_this_job="yes")
    banks = [bank(feeder=f"F{at}", tank=f"T-{at}") for at, _ in enumerate(devices)]
    found = sized(one, banks, [hung(f"F{at}", existing_device_a=device) for at, device in enumerate(devices)])
    assert {code for code in codes_of(found) if code.startswith("transformer-")} == said
    assert found.sources[0].protection == pytest.approx((None, 208.179, 800.0, sum(devices)), abs=CLOSE_A)


def test_what_is_said_of_one_feeders_conductors_is_not_said_at_another() -> None:
    one = source(**TO_208, secondary_run_m=2.5, secondary_wire="3/0")
    banks = [bank(volts_v=208.0, feeder=f"F{at}", tank=f"T-{at}") for at in range(2)]
    found = sized(one, banks, [hung(f"F{at}", volts_v=208.0, existing_device_a=device) for at, device in enumerate((225.0, 60.0))])
    assert ["secondary-small" in {one.code for one in row.findings} for row in found.feeders] == [True, False]
    assert "secondary-small" in {one.code for one in found.sources[0].findings}


TO_208 = {"kva": 75.0, "z_pct": 4.0, "volts_v": 208.0, "primary_v": 480.0, "primary_device_a": 200.0, "of_this_job": "yes"}


def test_limits_of_a_transformers_devices() -> None:
    """75 kVA: 90.211 A, 1.25 times it 112.764, next 125 A, 2.5 times it 225.527 A; secondary 208.179 A, 260.224, next 300 A."""
    banks = [bank(volts_v=208.0, feeder=f"F{at}", tank=f"T-{at}") for at in range(2)]
    feeders = [hung(f"F{at}", volts_v=208.0, existing_device_a=device) for at, device in enumerate((175.0, 150.0))]
    [row] = sized(source(**TO_208, secondary_run_m=2.5), banks, feeders).sources
    assert row.rated_a == pytest.approx(208.179, abs=CLOSE_A)
    assert row.protection == pytest.approx((125.0, 225.527, 300.0, 325.0), abs=CLOSE_A)


@pytest.mark.parametrize(
    ("length_m", "wire", "said"),
    [
        (2.5, None, ""),  # the feeder's own 4/0: 230 A, 225 asked for by its device, 480/208 x 200/10 = 46.154 by the primary one
        (2.5, "4/0", ""),
        (6.0, "4/0", ""),  # 480/208 x 200/3 = 153.846
        (2.5, "3/0", "TX-1: 3/0 AWG to F-1 has 200 A; 225 A is needed, and nothing is rounded up."),
        (2.5, "3/0 AWG", "TX-1: 3/0 AWG to F-1 has 200 A; 225 A is needed, and nothing is rounded up."),
    ],
)
def test_secondary_wires_of_a_transformer(length_m: float, wire: str | None, said: str) -> None:
    one = source(**TO_208, secondary_run_m=length_m, secondary_wire=wire)
    result = size_job(replace(job(bank(volts_v=208.0), hung("F-1", volts_v=208.0, existing_device_a=225.0)), sources=(one,)))
    assert result.projects[0].feeders[0].wires.size == "4/0"
    assert [finding.message for finding in result.findings if finding.code == "secondary-small"] == [*([said] if said else [])]
    assert ("secondary-wire-taken" in {finding.code for finding in result.findings}) is (wire is None)


def test_sets_of_secondary_wires_count_together() -> None:
    """Two of 1/0: 150 A each at 75 °C, 300 A; one has 150 A."""
    for sets, small in ((2, False), (None, True), (1, True)):
        one = source(**TO_208, secondary_run_m=2.5, secondary_wire="1/0", secondary_sets=sets)
        found = sized(one, [bank(volts_v=208.0)], [hung("F-1", volts_v=208.0, existing_device_a=225.0)])
        assert ("secondary-small" in codes_of(found)) is small


@pytest.mark.parametrize(
    ("given", "of_source", "size", "said"),
    [
        # six 9 kW 3-phase heaters twice at 480 V, 129.904 A, 162.380 with 25 %: 175 A. 2/0 has 175 A at 75 °C and 177.45 adjusted
        ({"run_m": 2.5}, {"primary_v": 480.0, "primary_device_a": 400.0}, "2/0", set()),  # 400/10
        ({"run_m": 6.0}, {"primary_v": 480.0, "primary_device_a": 600.0}, "3/0", set()),  # 600/3 = 200 A: 3/0 has 200 A
        ({"run_m": 9.0}, {"primary_v": 480.0, "primary_device_a": 400.0}, "2/0", {"secondary-too-long"}),
        ({"run_m": None}, {"primary_v": 480.0, "primary_device_a": 400.0, "secondary_run_m": 2.5}, "2/0", set()),
        ({"run_m": None}, {"primary_v": 480.0, "primary_device_a": 400.0}, "2/0", {"secondary-not-judged"}),
        ({"run_m": 2.5}, {}, "2/0", {"secondary-not-judged"}),
        ({"run_m": 2.5}, {"kind": "service"}, "2/0", {"service-conductors"}),
        ({"run_m": 2.5, "tap_m": 2.5}, {"primary_v": 480.0, "primary_device_a": 400.0}, "2/0", {"tap-of-secondary"}),
    ],
)
def test_a_feeder_without_a_device_ahead_of_it(given: dict, of_source: dict, size: str, said: set[str]) -> None:
    """408.36(B): its device is the main of the unit; 240.21(C): its conductors are never rounded up; 250.102(C): a bonding jumper."""
    nine = {"quantity": 6, "power_kw": 9.0, "phases": 3, "connection": None}
    banks = [bank(**nine), bank(tank="T-2", **nine)]
    found = sized(source(kva=750.0, z_pct=5.75, **of_source), banks, [hung("F-1", device_at="end", **given)], {"distribution": "ours"})
    [row] = found.feeders
    assert (row.device.rating_a, row.wires.size, row.wires.ground) == (175, size, "4")
    asked = {"secondary-too-long", "secondary-small", "secondary-not-judged", "service-conductors", "tap-of-secondary"}
    assert codes_of(found) & asked == said
    assert ("device-at-end" in codes_of(found)) is (of_source.get("kind") != "service")
    if given.get("tap_m") is None:
        assert row.end.main_a == 175
        [unit] = [line for line in found.materials if line.role == "distribution unit"]
        assert "main device 175 A" in unit.words


@pytest.mark.parametrize(("largest", "size", "short"), [(None, "1/0", False), ("1", "1", True)])
def test_service_conductors(largest: str | None, size: str, short: bool) -> None:
    """230.42 and 230.90(A): 102 A x 1.25 = 127.5 A, 150 A at their end. 1/0 has 150 A at 75 degrees; 1 AWG, the largest that is to be
    used, has 130 A, and 150 A is the next standard rating above that."""
    heaters = bank(quantity=10, power_kw=480 * 102 * 3**0.5 / 10000, phases=3, connection=None)
    how = {"largest_conductor": largest} if largest else {}
    row = sized(source(kind="service", kva=500.0), [heaters], [hung("F-1", device_at="end", run_m=2.5)], how).feeders[0]
    [found] = [one for one in row.findings if one.code == "service-conductors"]
    assert (row.device.rating_a, row.wires.sets, row.wires.size) == (150, 1, size)
    assert ("fall short" in found.message) is short and "150 A is asked" in found.message
    assert "device-at-end" not in {one.code for one in row.findings}


@pytest.mark.parametrize(
    ("given", "fed", "said"),
    [
        ({}, {}, "The system brings its grounded conductor along, 6 AWG at least; it is not in Materials. Not judged: how far they run"),
        ({"system": None}, {"system": None}, "A grounded system brings its grounded conductor along, 6 AWG at least;"),
        ({"system": "delta"}, {"system": "delta"}, "of that OCPD. Not judged: how far they run inside the building."),
        ({}, {"existing_device_a": 400.0}, "grounded conductor along, 1/0 AWG at least, in each raceway; it is not in Materials."),
    ],
)
def test_the_grounded_conductor_of_a_service(given: dict, fed: dict, said: str) -> None:
    """Table 250.102(C)(1): 6 AWG with lines of 1/0; of the two sets of 3/0 of 400 A no less than 1/0 in each raceway, 310.10(G)."""
    heaters = bank(quantity=10, power_kw=480 * 102 * 3**0.5 / 10000, phases=3, connection=None)
    row = sized(source(kind="service", kva=500.0, **given), [heaters], [hung("F-1", device_at="end", run_m=2.5, **fed)]).feeders[0]
    assert (row.wires.sets, row.wires.size) == ((2, "3/0") if "existing_device_a" in fed else (1, "1/0"))
    [found] = [one.message for one in row.findings if one.code == "service-conductors"]
    assert said in found, found


def test_the_utilitys_primary_protects_no_service_conductors() -> None:
    """480 V delta behind a delta of 4160 V and 15 A: of a transformer the primary device would protect 150 A conductors ahead of 200 A."""
    given = {"system": "delta", "primary_winding": "delta", "primary_v": 4160.0, "primary_device_a": 15.0, "kva": 500.0}
    fed = hung("F-1", device_at="end", run_m=2.5, existing_device_a=200.0, system=None)
    sizes = [sized(source(kind=kind, **given), [bank()], [fed]).feeders[0].wires.size for kind in ("service", "transformer")]
    assert RULES.rank(sizes[0]) > RULES.rank(sizes[1]) and sizes[0] == "3/0"  # 200 A


def test_what_the_primary_device_protects_carries_its_load_all_the_same() -> None:
    """Delta to delta, 480 V both: a primary device of 100 A protects 3 AWG; the load with 25 %, 162.380 A, asks for 2/0."""
    nine = {"quantity": 6, "power_kw": 9.0, "phases": 3, "connection": None}
    unit = {"system": "delta", "primary_winding": "delta", "primary_v": 480.0, "primary_device_a": 100.0}
    fed = hung("F-1", device_at="end", run_m=30.0, system="delta")
    [row] = sized(source(kva=150.0, **unit), [bank(**nine), bank(tank="T-2", **nine)], [fed]).feeders
    assert (row.wires.sets, row.wires.size) == (1, "2/0")


def test_parallel_sets_where_the_largest_conductor_does_not_do() -> None:
    """400 A at its end: 500 kcmil has 380 A and is not rounded up; two of 3/0 have 400 A."""
    found = sized(source(kva=750.0, primary_v=480.0, primary_device_a=1000.0), [bank(quantity=6)],
                  [hung("F-1", device_at="end", run_m=2.5, existing_device_a=400.0)])  # fmt: skip
    [row] = found.feeders
    assert (row.wires.sets, row.wires.size, row.wires.ground) == (2, "3/0", "4") and "secondary-small" not in codes_of(found)


def test_a_device_at_the_end_sees_the_fault_there() -> None:
    """Example 5 with its device at the end of 25 m: 13.8 kA at most, where the source has 17.4; by its own main, given, when there is
    one."""
    nine = {"quantity": 6, "power_kw": 9.0, "phases": 3, "connection": None}
    banks = [bank(**nine), bank(tank="T-2", **nine), bank(tank="T-3", quantity=1, power_kw=20.0, phases=3, connection=None)]
    for place, level in ((None, 17.432), ("end", 13.819)):
        found = sized(source(kva=750.0, z_pct=5.75), banks, [hung("F-1", run_m=25.0, device_at=place)], {"device_kind": "breaker"})
        [row] = found.feeders
        assert row.device_fault_ka == pytest.approx(level, abs=0.6) and row.device_fault_ka <= level + CLOSE_KA
        [said] = [finding.message for finding in row.findings if finding.code == "interrupting-over"]
        [stated] = re.findall(r"must interrupt ([0-9.]+) kA", said)
        assert 0.0 <= float(stated) - row.device_fault_ka < 0.1  # to a tenth, never rounded down
    for place, at, elsewhere in ((None, "at its source, 17.5 kA", "at its end"), ("end", "at its end, 13.", "at its source")):
        [row] = sized(source(kva=750.0, z_pct=5.75), banks, [hung("F-1", run_m=25.0, device_at=place)]).feeders
        [said] = [finding.message for finding in row.findings if finding.code == "fault-over-default"]
        assert at in said and elsewhere not in said
    [row] = sized(source(), banks, [hung("F-1", device_at="end", unit_main_a=250.0, bus_a=225.0)]).feeders
    assert row.device.rating_a == 250 and row.end.main_a == 250 and "bus-small" in {finding.code for finding in row.findings}


def test_a_device_at_the_end_of_a_unit_by_others_is_not_bought() -> None:
    banks = [bank(quantity=6), bank(tank="T-2", quantity=6)]
    for place, scope, bought in ((None, None, True), ("end", None, False), ("end", "ours", True)):
        found = sized(source(), banks, [hung("F-1", device_at=place)], {"distribution": scope} if scope else None)
        assert any(line.role == "feeder fuse" for line in found.materials) is bought


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"system": "delta", "primary_winding": "delta"}, False),  # 480/480: 225 A on 230 A of ampacity
        ({"system": "delta", "primary_winding": "wye"}, True),
        ({"system": "delta"}, True),  # not known
        ({"primary_winding": "delta"}, True),  # the secondary is a wye
        ({"system": "delta", "primary_winding": "delta", "primary_device_a": 250.0}, True),  # above the ampacity
        # 960 to 480 V: 115 A there are 230 A here, 116 A are 232 A
        ({"system": "delta", "primary_winding": "delta", "primary_v": 960.0, "primary_device_a": 115.0}, False),
        ({"system": "delta", "primary_winding": "delta", "primary_v": 960.0, "primary_device_a": 116.0}, True),
        ({"system": "1-phase line-to-line", "phases": 1, "wires": 2}, False),
    ],
)
def test_the_primary_device_protects_the_secondary_wires_of_a_delta_to_a_delta(given: dict, said: bool) -> None:
    """30 m are too long for (C)(2) and (C)(6): only (C)(1) is left. 225 A is the feeder's device, 4/0 its wire, 230 A."""
    usual = {"kva": 150.0, "primary_v": 480.0, "primary_device_a": 225.0, "secondary_run_m": 30.0, "of_this_job": "yes", "z_pct": 4.0}
    phases = {"phases": 1, "wires": 2} if given.get("phases") == 1 else {}
    found = sized(source(**usual | given), [bank(connection="parallel")], [hung("F-1", system=None, existing_device_a=225.0, **phases)])
    assert found.feeders[0].wires.size == "4/0" and ("secondary-too-long" in codes_of(found)) is said


@pytest.mark.parametrize(("count", "many"), [(6, False), (7, True)])
def test_up_to_six_devices_count_as_one_on_a_secondary(count: int, many: bool) -> None:
    """Table 450.3(B), Note 2. 75 kVA at 480 V behind 200 A, above 1.25 times its 90.211 A."""
    unit = {"kva": 75.0, "z_pct": 4.0, "primary_v": 480.0, "primary_device_a": 200.0, "secondary_run_m": 2.5, "of_this_job": "yes"}
    tags = [f"F-{at}" for at in range(count)]
    found = sized(source(**unit), [bank(feeder=tag, tank=tag) for tag in tags], [hung(tag) for tag in tags])
    assert ("transformer-secondary-many" in codes_of(found)) is many


@pytest.mark.parametrize(("place", "said"), [(None, True), ("end", False)])
def test_a_secondary_wire_is_taken_where_the_feeder_has_a_device_at_its_start(place: str | None, said: bool) -> None:
    unit = {"kva": 75.0, "z_pct": 4.0, "primary_v": 480.0, "primary_device_a": 110.0, "of_this_job": "yes", "secondary_run_m": 2.5}
    found = sized(source(**unit), [bank()], [hung("F-1", device_at=place, run_m=2.5)])
    assert ("secondary-wire-taken" in codes_of(found)) is said


# 9. System blank: cautions both ways; arc energy


@pytest.mark.parametrize(
    ("volts_v", "system", "device_a", "kind", "said"),
    [
        (480.0, None, 1200.0, "fuse", {"system-assumed", "ground-fault-protection", "ground-detectors", "arc-energy"}),
        (480.0, None, 800.0, "breaker", {"system-assumed", "ground-detectors"}),
        (240.0, None, 1200.0, "fuse", {"system-assumed", "ground-detectors", "arc-energy"}),
        (480.0, "wye grounded", 1000.0, "breaker", {"ground-fault-protection"}),
        (480.0, "delta", 1600.0, "fuse", {"ground-detectors", "arc-energy"}),
    ],
)
def test_what_a_system_asks_for(volts_v: float, system: str | None, device_a: float, kind: str, said: set[str]) -> None:
    made = job(
        bank(volts_v=volts_v), feeder(volts_v=volts_v, system=system, existing_device_a=device_a), projects=project(device_kind=kind)
    )
    [row] = size_job(made).projects[0].feeders
    asked = {"system-assumed", "ground-fault-protection", "ground-detectors", "arc-energy"}
    assert {finding.code for finding in row.findings} & asked == said
    assert row.supply.system == (system or "unknown")


@pytest.mark.parametrize(
    ("volts_v", "system", "ground_v", "slash"),
    [
        (480.0, None, 480.0, False), (240.0, None, 240.0, False), (480.0, "wye grounded", 277.128, True), (480.0, "delta", 480.0, False),
    ],
)  # fmt: skip
def test_volts_to_ground_and_slash_ratings(volts_v: float, system: str | None, ground_v: float, slash: bool) -> None:
    made = job(bank(volts_v=volts_v), feeder(volts_v=volts_v, system=system), projects=project(device_kind="breaker"))
    [row] = size_job(made).projects[0].feeders
    assert volts_to_ground(row.supply.system, volts_v) == pytest.approx(ground_v, abs=CLOSE_A)
    assert needs_disconnect_ahead_of_fuses(row.supply.system, volts_v, RULES).value
    assert row.device.words.endswith(" or 480Y/277 V" if slash else f"{volts_v:g} V straight-rated")
    assert ("slash-rated" in {finding.code for finding in row.findings}) is not slash


# 10. Corner-grounded delta: seven heaters of 12.5 A and one of 24.056 A


def corner(given: dict | None = None, **how: object) -> ProjectResult:
    banks = [bank(quantity=7, phase_pair="A-B"), bank(tank="T-2", quantity=1, power_kw=20.0, phases=3, connection=None)]
    one = source(system="corner-grounded delta", grounded_line="B")
    return sized(one, banks, [hung("F-1", system="corner-grounded delta", **given or {})], {"distribution": "ours", **how})


def fuses(found: ProjectResult) -> dict[str, float]:
    others = ("way", "control", "spare")
    return {row.role: row.quantity for row in found.materials if row.role.endswith(" fuse") and not row.role.startswith(others)}


def test_no_fuse_stands_in_the_grounded_line() -> None:
    """A-B and B-C take one fuse, C-A two: 3 + 2 + 2 x 2. Feeds, the bank and the feeder two each."""
    found = corner()
    [row] = found.feeders
    panel, single = found.banks[0].panels[0].design, found.banks[1].design.single_circuit
    assert tuple(panel.loads[:3]) == pytest.approx((37.5, 25.0, 25.0))
    assert panel.lines[:3] == pytest.approx((54.486, 54.486, 43.301), abs=CLOSE_A)
    assert row.lines[:3] == pytest.approx((78.432, 78.432, 67.358), abs=CLOSE_A)
    devices = (panel.branch.device, panel.panel_feeder_device, single.panel_feeder_device, row.device)
    assert [one.rating_a for one in devices] == [20, 70, 35, 100]
    assert fuses(found) == {"branch fuse": 9, "panel feeder fuse": 2, "bank fuse": 2, "feeder fuse": 2}
    assert [way.device.poles for way in row.end.ways] == [2, 2]
    holders = {row.words.partition("-pole")[0]: row.quantity for row in found.materials if row.role == "branch fuse holder"}
    assert holders == {"1": 5, "2": 2} and panel.grounded == "L2"
    assert panel.panel_feeder_wires.lines == 3 and panel.panel_feeder_wires.grounded == 1 and "3-pole" in panel.contactor
    assert volts_to_ground(row.supply.system, row.supply.volts_v) == 480.0
    assert {"ground-detectors", "ground-fault-protection"}.isdisjoint(codes_of(found)) and "corner-grounded" in codes_of(found)
    assert needs_disconnect_ahead_of_fuses(row.supply.system, 480.0, RULES).value


def test_an_ungrounded_delta_takes_a_fuse_in_every_line() -> None:
    banks = [bank(quantity=7, phase_pair="A-B"), bank(tank="T-2", quantity=1, power_kw=20.0, phases=3, connection=None)]
    found = sized(source(system="delta"), banks, [hung("F-1", system="delta")])
    assert fuses(found) == {"branch fuse": 14, "panel feeder fuse": 3, "bank fuse": 3, "feeder fuse": 3}


def test_breakers_open_the_grounded_line_with_the_others() -> None:
    found = corner(device_kind="breaker")
    [row] = found.feeders
    panel, single = found.banks[0].panels[0].design, found.banks[1].design.single_circuit
    made = [panel.branch.device, panel.panel_feeder_device, single.panel_feeder_device, row.device, *(way.device for way in row.end.ways)]
    assert [one.poles for one in made] == [2, 3, 3, 3, 3, 3]
    assert all(one.words.endswith("480 V straight-rated") for one in made)
    assert "single-pole-interrupting" in codes_of(found) and "corner-grounded" not in codes_of(found)
    two_poles = [part(part="B-2", kind="breaker", rating_a=70.0, volts_v=480.0, poles=2, sccr_ka=65.0)]
    one = source(system="corner-grounded delta")
    stocked = sized(one, [bank(quantity=7)], [hung("F-1", system=None)], {"device_kind": "breaker"}, two_poles)
    assert stocked.banks[0].panels[0].design.panel_feeder_device.part == ""  # two poles are not taken for three lines


@pytest.mark.parametrize(
    ("poles", "system", "kind", "said"),
    [
        ("2", "corner-grounded delta", "breaker", "two-pole-breaker"), ("2 marked 1ø-3ø", "corner-grounded delta", "breaker", ""),
        ("3", "corner-grounded delta", "breaker", ""), ("2 marked 1ø-3ø", "delta", "breaker", "line-without-device"),
        ("2", "wye grounded", "breaker", "line-without-device"), ("2", "corner-grounded delta", "fuse", "existing-poles-unused"),
    ],
)  # fmt: skip
def test_a_breaker_of_two_poles_on_three_phases(poles: str, system: str, kind: str, said: str) -> None:
    """240.85: marked 1ø-3ø, else do not build; three lines of which none is grounded have three poles always."""
    given = {"existing_device_a": 100.0, "existing_poles": poles}
    found = sized(source(system=system), [bank(quantity=6)], [hung("F-1", system=system, **given)], {"device_kind": kind})
    asked = {"two-pole-breaker", "line-without-device", "existing-poles-unused"}
    assert codes_of(found) & asked == ({said} if said else set())
    held = said not in ("", "existing-poles-unused")
    assert (found.banks[0].hold is not None) is held
    if kind == "breaker":
        assert found.feeders[0].device.poles == int(poles[0])


def test_a_stock_breaker_of_two_poles_is_taken_where_it_is_marked() -> None:
    """Feeder of 78.432 A, 98.040 with 25 %: 100 A. On an ungrounded delta two poles never serve three lines."""
    for system, mark, bought in (
        ("corner-grounded delta", "1ø-3ø", "B-2"), ("corner-grounded delta", None, ""), ("delta", "1ø-3ø", ""),
    ):  # fmt: skip
        listed = [part(part="B-2", kind="breaker", rating_a=100.0, volts_v=480.0, poles=2, sccr_ka=65.0, pole_mark=mark)]
        banks = [bank(quantity=7, phase_pair="A-B"), bank(tank="T-2", quantity=1, power_kw=20.0, phases=3, connection=None)]
        found = sized(source(system=system), banks, [hung("F-1", system=system)], {"device_kind": "breaker"}, listed)
        [line] = [line for line in found.materials if line.role == "feeder breaker"]
        assert line.part == bought and ("2-pole, marked 1ø-3ø" in line.words) is bool(bought)


def test_a_fuse_in_the_grounded_line_is_not_released() -> None:
    found = corner({"grounded_fused": "yes"})
    assert "fuse-in-grounded-line" in codes_of(found) and all(one.hold is not None for one in found.banks)


@pytest.mark.parametrize(
    ("line", "start", "branches"), [("A", "A-B", 3 + 2 * 2 + 2), ("C", "A-B", 2 * 3 + 2 + 2), ("B", "B-C", 3 + 2 * 2 + 2)]
)
def test_fuses_follow_the_grounded_line_and_the_start(line: str, start: str, branches: int) -> None:
    """Heaters 3, 2, 2 on the pairs from the start on: two fuses on the pair without the grounded line, one on the others."""
    one = source(system="corner-grounded delta", grounded_line=line)
    found = sized(one, [bank(quantity=7, phase_pair=start)], [hung("F-1", system=None)])
    assert fuses(found)["branch fuse"] == branches


@pytest.mark.parametrize(("pair", "taken", "held"), [(None, "C-A", False), ("C-A", "C-A", False), ("A-B", "A-B", True)])
def test_a_one_phase_feeder_keeps_clear_of_the_grounded_line(pair: str | None, taken: str, held: bool) -> None:
    one = source(system="corner-grounded delta", grounded_line="B", kva=75.0)
    found = sized(one, [bank(quantity=2, connection="parallel")], [hung("F-1", phases=1, wires=2, system=None, phase_pair=pair)])
    assert found.feeders[0].source_pair == taken and ("grounded-pair" in codes_of(found)) is held


@pytest.mark.parametrize("feeds", [1, 2])
@pytest.mark.parametrize(("line", "others"), [("A", ["2", "3"]), ("B", ["1", "3"]), ("C", ["1", "2"])])
def test_no_fuse_of_a_control_panel_stands_in_the_grounded_line(line: str, others: list[str], feeds: int) -> None:
    """The two of its control transformer, and those of its panel feeders: one fusible disconnect, or a fuse pole for each ungrounded line.
    A conductor of the grounded line is white."""
    one = source(system="corner-grounded delta", grounded_line=line)
    banks = [bank(bank=str(at), quantity=7, phase_pair="A-B") for at in range(feeds)]
    [control] = sized(one, banks, [hung("F-1", system=None)]).controls
    primary = [element for element in control.circuit.elements if element.mark in ("FUC1", "FUC2")]
    assert sorted({end[-1] for element in primary for end in (element.start, element.end) if end[1] in "DF"}) == others
    fused = [element for element in control.circuit.power if element.kind in ("power fuse", "fusible disconnect")]
    assert sorted(element.start[-1] for element in fused) == sorted(others * feeds)
    grounded = "ABC".index(line) + 1
    power = [wire for wire in control.circuit.wires if wire.number in {f"1{stage}{grounded}" for stage in "LDFT"}]
    assert power and {wire.colour for wire in power} == {"white"}


# 11. 480Y/277, four wires: line-to-neutral devices, 240.40, disconnects

WYE_277 = {"quantity": 6, "power_kw": 5.0, "volts_v": 277.0, "connection": None}
SIXTY = {
    "tank": "T-2", "quantity": 1, "power_kw": 60.0, "phases": 3, "connection": None, "circuits_per_heater": 2, "panel_feeder_run_m": 20.0,
}  # fmt: skip


def four_wires(stock: list | None = None, **how: object):
    """A wire to a terminal, so that the six heaters have a panel."""
    settled = project(wires_per_terminal=1, **how)
    made = job([bank(**WYE_277), bank(**SIXTY)], hung("F-1", wires=4), projects=settled, stock=stock)
    return size_job(replace(made, sources=(source(wires=4),)))


def test_line_to_neutral_branches() -> None:
    """5000 / 277 = 18.051 A, 22.563 with 25 %: 25 A, one pole; two heaters a leg, 36.101 A a line, nothing in the neutral."""
    [project_of_both] = four_wires().projects
    first, second = project_of_both.banks
    panel = first.panels[0].design
    assert first.design.design_a == pytest.approx(18.051, abs=CLOSE_A) and panel.lines[:3] == pytest.approx([36.101] * 3, abs=CLOSE_A)
    assert (panel.branch.device.rating_a, panel.branch.device.poles) == (25, 1)
    assert panel.lines.n == pytest.approx(0.0, abs=1e-9) and panel.panel_feeder_wires.neutral == panel.panel_feeder_wires.size
    assert neutral_load(panel.loads, RULES).value == pytest.approx(36.101, abs=CLOSE_A)
    panel = second.panels[0].design
    assert second.design.design_a == pytest.approx(72.169, abs=CLOSE_A) and panel.branch.design_a == pytest.approx(36.084, abs=CLOSE_A)
    assert [panel.branch.device.rating_a, panel.panel_feeder_device.rating_a] == [50, 100]
    control = next(one for one in project_of_both.controls if one.tank == second.bank.tank)
    assert control.supplies[0].disconnect_a >= 90.211
    assert panel.panel_feeder_basis[0] == "425.22(D), 210.19, 210.20"
    assert first.panels[0].design.panel_feeder_basis[0] == "215.2, 215.3"


@pytest.mark.parametrize(
    ("kind", "listed", "taken"),
    [
        ("fuse", {"volts_v": 300.0, "sccr_ka": 200.0}, True),  # 277 V to neutral
        ("fuse", {"volts_v": 250.0, "sccr_ka": 200.0}, False),
        ("breaker", {"volts_v": 277.0, "poles": 1, "sccr_ka": 65.0}, True),
        ("breaker", {"volts_v": 240.0, "poles": 1, "sccr_ka": 65.0}, False),
    ],
)
def test_the_volts_of_a_line_to_neutral_device(kind: str, listed: dict, taken: bool) -> None:
    stock = [part(part="D-25", kind=kind, rating_a=25.0, **listed)]
    [first, _] = four_wires(stock, device_kind=kind).projects[0].banks
    assert first.design.branch.device.rating_a == 25 and first.design.branch.device.part == ("D-25" if taken else "")


def test_one_pole_without_a_neutral_is_asked_for_line_to_line_volts() -> None:
    """Heaters in wyes without a neutral: 1.5 times the volts of a leg stand across a pole that opens alone."""
    for volts_v, taken in ((277.0, ""), (480.0, "D-25")):
        stock = [part(part="D-25", kind="breaker", rating_a=25.0, volts_v=volts_v, poles=1, sccr_ka=65.0)]
        [one] = sized(source(), [bank(**WYE_277)], [hung("F-1")], {"device_kind": "breaker"}, stock).banks
        assert one.design.branch.device.part == taken


def test_a_panel_feeder_is_asked_for_line_to_line_volts() -> None:
    """45.127 A with 25 %: a fuse of 50 A, 300 V stands between lines of 480 V, and is not taken."""
    for volts_v, taken in ((300.0, ""), (600.0, "F-50")):
        [first, _] = four_wires([part(part="F-50", kind="fuse", rating_a=50.0, volts_v=volts_v, sccr_ka=200.0)]).projects[0].banks
        assert first.panels[0].design.panel_feeder_device.part == taken


def test_disconnects_of_both_banks() -> None:
    result = four_wires()
    [said] = [finding.message for finding in result.findings if finding.code == "fuse-disconnect"]
    assert said.startswith("1 bank of separate heaters")  # the subdivided heater is not in its count
    assert [finding.tank for finding in result.findings if finding.code == "disconnect-sight"] == ["T-2"]
    assert [finding.tank for finding in result.findings if finding.code == "supplementary-devices"] == ["T-2"]
    assert all("lockable open" in supply.disconnect for one in result.projects[0].controls for supply in one.supplies)


# 12. Contactors: the lower of two ratings


@pytest.mark.parametrize(
    ("amps", "phases", "name", "rating", "heated"),
    [
        (43.32, 3, "size 3", 85.347, True), (25.05, 3, "size 1", 25.102, True), (25.2, 3, "size 2", 42.674, True),
        (26.0, 1, "size 1", 26.087, True), (26.5, 1, "size 2", 43.478, True), (129.95, 3, "size 5", 262.694, True),
        (16.0, 3, "size 0", 18.0, False), (600.0, 3, "size 7", 810.0, False),
        (520.0, 3, "size 6", 525.389, True), (80.0, 1, "size 3", 86.957, True),
        (129.0, 3, "size 4", 129.904, True),
    ],
)  # fmt: skip
def test_contactors(amps: float, phases: int, name: str, rating: float, heated: bool) -> None:
    found = smallest_contactor(amps, phases, RULES).value
    assert (found.name, found.has_heating_rating) == (name, heated) and found.rating_a == pytest.approx(rating, abs=CLOSE_A)


@pytest.mark.parametrize(("given", "name", "said"), [
    ({"quantity": 1, "power_kw": 13.3, "phases": 3, "connection": None}, "size 0", True),  # 15.998 A
    ({"quantity": 6}, "size 3", False),  # 43.301 A
])  # fmt: skip
def test_a_contactor_without_a_heating_rating_is_noted(given: dict, name: str, said: bool) -> None:
    [one] = sized(source(), [bank(**given)], [hung("F-1")]).banks
    design = one.design.single_circuit or one.panels[0].design
    assert name in design.contactor
    assert ("contactor-no-heating-rating" in {finding.code for finding in one.findings}) is said


def test_a_stock_contactor_goes_by_its_own_amps() -> None:
    listed = [part(part="C-50", kind="contactor", rating_a=50.0, volts_v=600.0, poles=3)]
    [one] = sized(source(), [bank(quantity=6)], [hung("F-1")], stock=listed).banks  # 43.301 A
    assert one.panels[0].design.contactor_a == 50.0


# 13. Balancing by panel; volts within 2 %; demand


def panels_of_four(**pairs: str) -> ProjectResult:
    """Heaters of 12.5 A in panels of 4 + 4 + 4 and 4, four of 25 A, and 18 3-phase heaters that add 60 A to each pair."""
    banks = [
        bank(tank="T-1", quantity=12, phase_pair=pairs.get("first")), bank(tank="T-2", quantity=4, phase_pair=pairs.get("second")),
        bank(tank="T-3", quantity=4, power_kw=12.0, phase_pair=pairs.get("third")),
        bank(tank="T-4", quantity=1, power_kw=60.0 * 3 * 0.48, phases=3, connection=None, circuits_per_heater=3),
    ]  # fmt: skip
    return sized(source(system="delta"), banks, [hung("F-1", system="delta")], {"branches_per_panel": 4})


def test_every_panel_starts_on_its_own_leg() -> None:
    """Legs in turn inside a panel put 2 + 1 + 1 on its pairs. 60 + 100 A on each pair at best, 277.128 A a line; 1.25 times that is
    346.410, so 350 A."""
    found = panels_of_four()
    [row] = found.feeders
    assert [len(one.starts) for one in found.banks] == [3, 1, 1, 1]
    assert row.loads[:3] == pytest.approx((160.0, 160.0, 160.0), abs=CLOSE_A)
    assert row.lines[:3] == pytest.approx((277.128, 277.128, 277.128), abs=CLOSE_A) and row.device.rating_a == 350


def test_of_a_pair_given_the_first_panel_starts_there_and_the_rest_go_on() -> None:
    """As if only whole banks were turned: the best of 27 starts leaves 160, 172.5 and 147.5 A on the pairs, 288.021 A; so 400 A."""
    tried = [panels_of_four(first=one, second=two, third=three) for one in PAIRS for two in PAIRS for three in PAIRS]
    rows = [found.feeders[0] for found in tried]
    best = min(rows, key=lambda row: row.lines.maximum)
    assert sorted(best.loads[:3]) == pytest.approx([147.5, 160.0, 172.5], abs=CLOSE_A)
    assert best.lines.maximum == pytest.approx(288.021, abs=CLOSE_A) and best.device.rating_a == 400
    assert tried[0].banks[0].starts == (0, 1, 2)


def test_within_two_per_cent_volts_are_the_same() -> None:
    """9 kW rated 475 V on 480 V, 1.053 % off: design and running amps 9000 / (sqrt(3) x 475), 9 kW."""
    [one] = sized(source(), [bank(quantity=1, power_kw=9.0, volts_v=475.0, phases=3, connection=None)], [hung("F-1")]).banks
    made = one.design
    assert (made.design_a, made.running_a, made.delivered_kw) == pytest.approx((10.939, 10.939, 9.0), abs=CLOSE_A)


def test_demand_is_of_what_is_delivered() -> None:
    """Twenty 6 kW heaters rated 500 V on 480 V: 0.9216 of 120 kW; 0.8 of that; amps by the nameplate, all balanced, 110.851; 150 A."""
    banks = [bank(tank=f"T-{at}", quantity=5, volts_v=500.0, phases=3, connection=None) for at in range(4)]
    found = sized(source(), banks, [hung("F-1", demand_factor=0.8)])
    [row] = found.feeders
    assert row.connected_kw == 120.0 and row.delivered_kw == pytest.approx(110.592, abs=CLOSE_A)
    assert row.demand_kw == pytest.approx(88.474, abs=CLOSE_A) and row.load_a == pytest.approx(110.851, abs=CLOSE_A)
    assert row.required_a == pytest.approx(138.564, abs=CLOSE_A) and row.device.rating_a == 150
    assert {"volts-near", "demand-factor"} <= codes_of(found)


# 14. (a) One subdivided heater: 100 % for its wires


@pytest.mark.parametrize(
    ("power_kw", "given", "wire", "said"),
    [
        (60.0, {}, "2", False),
        (60.0, {"marked_wire": "3", "cycling": "yes"}, "2", True),  # 3 AWG has 85 A at 60 °C, and 100 A is no next size of it
        (60.0, {"marked_wire": "1/0", "cycling": "yes"}, "1/0", True),
        (60.0, {"marked_wire": "3"}, "2", False),  # cycling is not stated
        (60.0, {"cycling": "yes"}, "2", False),  # nothing is marked
        (45.0, {"marked_wire": "3", "cycling": "yes"}, "3", False),  # under 50 kW: 67.658 A with 25 %; a marked size is kept all the same
    ],
)
def test_conductors_by_100_per_cent(power_kw: float, given: dict, wire: str, said: bool) -> None:
    """72.169 A, 90.211 with 25 %: a device of 100 A always."""
    [one] = sized(source(), [bank(**SIXTY | {"power_kw": power_kw} | given)], [hung("F-1")]).banks
    panel = one.panels[0].design
    assert panel.panel_feeder_device.rating_a == (100 if power_kw == 60.0 else 70)
    assert panel.panel_feeder_basis[0] == "425.22(D), 210.19, 210.20"
    assert ("hundred-pct-wires" in {finding.code for finding in one.findings}) is said
    assert panel.panel_feeder_wires.size == wire


# One device for a way and the only panel feeder behind it


@pytest.mark.parametrize(
    ("asked", "banks", "taken"),
    [
        ("yes", [{"quantity": 6}], True),  # 43.301 A, 54.127 with 25 %: 60 A both
        (None, [{"quantity": 6}], False),
        ("yes", [{"quantity": 6}, {"quantity": 6, "bank": "2"}], False),  # two panel feeders
        ("yes", [{"quantity": 6, "device_kind": "breaker"}], False),  # a breaker behind a fuse
    ],
)
def test_one_device_for_a_way_and_its_panel_feeder(asked: str | None, banks: list[dict], taken: bool) -> None:
    made = job([*(bank(**one) for one in banks), bank(tank="T-2")], hung("F-1"), [tank(one_device=asked), tank(tank="T-2")])
    [found] = size_job(replace(made, sources=(source(),))).projects
    panel = found.banks[0].panels[0].design
    bought = [need.role for need in found.controls[0].feed_parts]
    assert panel.device_at_way is taken and ("panel feeder fuse" not in bought and "panel feeder breaker" not in bought) is taken
    assert ("one-device-not" in codes_of(found)) is (asked == "yes" and not taken)
    assert panel.panel_feeder_device.rating_a == 60 and found.feeders[0].end.ways[0].device.rating_a in (60, 110)


# 14. (c) Wires on generic terminals; (d) aluminum


@pytest.mark.parametrize(
    ("given", "smallest", "rating", "said"),
    [
        ({"quantity": 6}, "4", 20, True),  # class CC, 30 A: 10 AWG is the ordinary size, 8 AWG passes
        ({"quantity": 6, "power_kw": 30.0, "phases": 3, "connection": None}, "3", 50, False),  # class J, 60 A: 4 AWG, 3 AWG passes
        ({"quantity": 6, "power_kw": 30.0, "phases": 3, "connection": None}, "2", 50, True),
        ({"quantity": 6, "power_kw": 36.0, "phases": 3, "connection": None}, "3", 60, False),
        ({"quantity": 6, "power_kw": 36.0, "phases": 3, "connection": None}, "2", 60, True),
    ],
)
def test_wires_on_a_terminal_that_nobody_marked(given: dict, smallest: str, rating: int, said: bool) -> None:
    found = sized(source(), [bank(**given)], [hung("F-1")], {"smallest_conductor": smallest})
    [one] = found.banks
    assert (one.design.branch.device.rating_a, one.design.branch.wires.size) == (rating, smallest)
    branch = [finding.message for finding in one.findings if finding.code == "terminal-range" and finding.message.startswith("branch")]
    assert bool(branch) is said


@pytest.mark.parametrize(
    ("given", "length_m", "said"),
    [
        ({"quantity": 3}, 2.5, "F-1-W1 4 AWG on a 30 A frame (up to 8 AWG)"),
        ({"quantity": 6, "power_kw": 9.0, "phases": 3, "connection": None}, 2.5, ""),
        ({"quantity": 3}, 6.0, "F-1-W1 250 kcmil on a 30 A frame (up to 8 AWG)"),
        ({"quantity": 16, "power_kw": 9.0, "phases": 3, "connection": None}, 6.0, ""),
    ],
)
def test_the_terminals_at_a_taps_end(given: dict, length_m: float, said: str) -> None:
    """Example 7: the wire that a tap's rule asks for lands on the device at its end."""
    found = sized(source(), [bank(**given), bank(tank="T-2")], [hung("F-1", existing_device_a=600.0, tap_m=length_m)])
    words = " ".join(finding.message for finding in found.feeders[0].findings if finding.code == "feeder-terminal-range")
    assert (said in words) if said else "F-1-W1" not in words


def test_aluminum() -> None:
    """12 AWG aluminum behind 15 A; a holder for copper only is not built with, one for both is."""
    for metal, held in (("copper", True), ("copper and aluminum", False), (None, False)):
        listed = [part(part="FH-30", kind="fuse holder", rating_a=30.0, poles=2, volts_v=600.0, sccr_ka=200.0, terminals_for=metal)]
        made = job(bank(quantity=6, power_kw=4.0), hung("F-1"), projects=project(conductor="aluminum"), stock=listed)
        result = size_job(replace(made, sources=(source(),)))
        [one] = result.projects[0].banks
        assert (one.design.branch.device.rating_a, one.design.branch.wires.size) == (15, "12")
        said = {finding.code for finding in result.findings}
        assert {"aluminum-terminals", "aluminum-corrosion", "aluminum-small"} <= said
        assert ("copper-terminals" in said) is held and bool(one.hold) is held


# 14. (e) Use of a feeder's device


@pytest.mark.parametrize(
    ("load_a", "device_a", "used", "said"), [(361.0, 500, 90.25, False), (389.5, 500, 97.38, True), (240.0, 300, 100.00, True)]
)
def test_use_of_a_device(load_a: float, device_a: float, used: float, said: bool) -> None:
    """One 3-phase heater of 12 circuits, so that its line current is the feeder's."""
    given = {"power_kw": 480.0 * 3**0.5 * load_a / 1000.0, "phases": 3, "connection": None, "circuits_per_heater": 12}
    found = sized(source(), [bank(quantity=1, branches_per_panel=12, **given)],
                  [hung("F-1")])  # fmt: skip
    row: FeederRow = found.feeders[0]
    assert row.device.rating_a == device_a and row.use_pct == pytest.approx(used, abs=CLOSE_PCT)
    assert ("device-nearly-full" in codes_of(found)) is said


# 14. (b) Two wires on a contactor terminal


@pytest.mark.parametrize(
    ("given", "marked", "panel", "said"),
    [
        ({"quantity": 2, "phases": 3, "connection": None}, None, False, True),
        ({"quantity": 3}, None, False, True),
        ({"quantity": 2, "phases": 3, "connection": None}, 1, True, False),
        ({"quantity": 3}, 1, True, False),
        ({"quantity": 2, "phases": 3, "connection": None}, 2, False, False),
        ({"quantity": 3}, 2, False, False),
    ],
)
def test_two_wires_on_a_contactor_terminal(given: dict, marked: int | None, panel: bool, said: bool) -> None:
    listed = [part(part="C-50", kind="contactor", rating_a=50.0, volts_v=600.0, poles=3, wires_per_terminal=marked)] if marked else None
    made = replace(job([bank(**given), bank(tank="T-2", **given)], hung("F-1"), stock=listed), sources=(source(),))
    result = size_job(made)
    [row, _] = result.projects[0].banks
    assert row.design.wires_on_terminal == 2 and bool(row.panels) is panel
    found = [finding.tank for finding in result.findings if finding.code == "two-wires"]
    assert sorted(found) == (["T-1", "T-2"] if said else [])


def test_a_project_that_says_one_wire_goes_before_a_stock_part_that_takes_two() -> None:
    """The lower of what the maker and the project say."""
    listed = [part(part="C-50", kind="contactor", rating_a=50.0, volts_v=600.0, poles=3, wires_per_terminal=2)]
    [one] = sized(source(), [bank()], [hung("F-1")], {"wires_per_terminal": 1}, listed).banks
    assert one.panels and "wires on a contactor terminal that takes 1" in one.design.panel_why
