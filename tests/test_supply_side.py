"""Findings of the supply side, each provoked, and its rulings on whole jobs."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from msgspec.structs import replace

from batch.findings.supply_side import SUPPLY_SIDE
from batch.records import Bank, Feeder, Job, PowerSource, Project
from batch.schedules import rows
from batch.schedules.feeder_schedule import FEEDERS
from batch.schedules.source_schedule import SOURCES
from batch.sizing.grounded_line import fuses_of
from batch.sizing.previous_decisions import PreviousDecisions, PreviousFeeder
from batch.sizing.project import size_job
from tests.job_builder import COLUMNS, SHEETS, bank, feeder, job, one_bank, origin, part, project, size, tank

Record = Project | PowerSource | Feeder | Bank
KINDS = {Project: "projects", PowerSource: "sources", Feeder: "feeders", Bank: "heaters"}
CASES: dict[str, tuple[Callable[[], tuple[Job, Record]], str, str]] = {}


def source(**given: object) -> PowerSource:
    """500 kVA, 480Y/277, behind a primary that is known: nothing to say about it."""
    usual = {
        "project": "P-1", "source": "TX-1", "kva": 500.0, "z_pct": 5.0, "volts_v": 480.0, "phases": 3, "wires": 3, "system": "wye grounded",
        "primary_v": 12470.0, "primary_ka": 10.0, "origin": origin("sources"),
    }  # fmt: skip
    return PowerSource(**usual | given)


def hung(**given: object) -> Feeder:
    return feeder(**{"source": "TX-1", "fault_ka": None, **given})


def of(sources: list[PowerSource], *args: object, **given: object) -> Job:
    return replace(job(*args, **given), sources=tuple(sources))


def of_source(
    code: str, key: str, words: str, heaters: list[dict] | None = None, feeders: list[dict] | None = None, **given: object
) -> None:
    def build() -> tuple[Job, Record]:
        one = source(**given)
        return of([one], [bank(**each) for each in heaters or [{}]], [hung(**each) for each in feeders or [{}]]), one

    CASES[code] = (build, key, words)


def of_feeder(code: str, key: str, words: str, heaters: list[dict] | None = None, settings: dict | None = None, **given: object) -> None:
    def build() -> tuple[Job, Record]:
        one = hung(**given) if "source" in given else feeder(**given)
        return of([source()], [bank(**each) for each in heaters or [{}]], one, projects=project(**settings or {})), one

    CASES[code] = (build, key, words)


TWO_TANKS = [{"quantity": 6}, {"quantity": 6, "tank": "T-2"}]  # 43.301 A each: panel feeders of 60 A; feeder 86.603 A, 108.253 A with 25 %
OF_THIS_JOB = {"of_this_job": "yes", "primary_device_a": 700.0, "secondary_run_m": 2.5, "primary_v": 480.0, "primary_ka": None}

of_feeder("source-unknown", "source", "Source TX-9 is not on the Sources sheet. Listed: TX-1.", source="TX-9")


def _bad_source() -> tuple[Job, Record]:
    one = hung()
    return of([source(wires=2)], bank(), one), one


CASES["source-not-usable"] = (_bad_source, "source", "Source TX-1 cannot be used: see its own finding.")
of_feeder(
    "source-mismatch",
    "volts_v",
    "F-1 is 240 V, 3-phase, 3 wires; its source TX-1 has 480 V, 3-phase, 3 wires, wye grounded.",
    [{"volts_v": 240.0}],
    volts_v=240.0,
    source="TX-1",
    system=None,
)
ONE_PHASE = {"phases": 1, "wires": 2, "system": None}
of_source(
    "source-system-told",
    "system",
    "TX-1: System is unknown; delta is taken, as its feeders say: F-1.",
    [{"connection": "parallel"}],
    [{"system": "delta"}],
    system="unknown",
    wires=None,
)
of_source(
    "feeder-pair-chosen",
    "source",
    "F-1 is put on A-B of TX-1: the fullest line of the source then carries least.",
    [{"connection": "parallel"}],
    [ONE_PHASE],
)
of_source(
    "feeder-pair-ignored",
    "phase_pair",
    "F-1: the pair A-N has no use here: the feeder is 1-phase line-to-line.",
    [{"connection": "parallel"}],
    [{**ONE_PHASE, "phase_pair": "A-N"}],
)
# three 6 kW in delta: 21.651 A a line, 18 kVA
of_source(
    "source-overloaded",
    "kva",
    "TX-1: 18.0 kVA in use on a source of 15 kVA, 120.00 % of it by its fullest line; the next standard transformer is 30 kVA.",
    kva=15.0,
)
of_source("source-nearly-full", "kva", "TX-1: 18.0 kVA in use on a source of 20 kVA, 90.00 % of it by its fullest line.", kva=20.0)
of_source(
    "source-fault-unknown",
    "fault_ka",
    "TX-1: neither a fault current nor kVA and %Z are given: short-circuit ratings of what hangs on it are not judged.",
    z_pct=None,
)
of_source(
    "primary-unlimited",
    "primary_ka",
    "TX-1: no fault level is given of the primary behind it: it is taken as unlimited, the safe side.",
    primary_ka=None,
)
# example 3 of a worked list: 1000 kVA, 5.75 %, behind 250 MVA: 21.575 kA, 19.558 kA as marked
STIFF = {"kva": 1000.0, "z_pct": 5.75, "primary_ka": None, "primary_mva": 250.0}
of_source(
    "fault-given-low",
    "fault_ka",
    "TX-1: 18 kA is given; its rating and impedance make 19.6 kA, at the low end of their tolerance 21.6 kA; the calculated one is used.",
    fault_ka=18.0,
    **STIFF,
)
of_source("fault-given-less", "fault_ka", "TX-1: 21 kA is given; the calculated 21.6 kA is greater and is used.", fault_ka=21.0, **STIFF)
# two heaters of 14.5 kW on one circuit: 34.882 A, 43.602 A with 25 %: 45 A would do, and the bank's own device is 50 A
of_feeder(
    "feeder-device-raised",
    "feeder",
    "F-1: 45 A would serve the load; 50 A is used, no smaller than the largest device that it feeds.",
    [{"quantity": 2, "power_kw": 14.5, "phases": 3, "connection": None}],
)
of_feeder(
    "existing-below-largest",
    "existing_device_a",
    "F-1: the existing 45 A device is smaller than the largest device that it feeds, 50 A.",
    [{"quantity": 2, "power_kw": 14.5, "phases": 3, "connection": None}],
    existing_device_a=45.0,
)
of_feeder("device-nearly-full", "feeder", "F-1: its load with the margin takes 98.41 % of its 110 A OCPD.", TWO_TANKS)
of_feeder(
    "device-overused", "feeder", "F-1: its load with the margin takes 108.25 % of its 100 A OCPD.", TWO_TANKS, existing_device_a=100.0
)
of_feeder("bus-small", "bus_a", "F-1: the distribution unit has a bus of 100 A with main lugs, behind 110 A.", TWO_TANKS, bus_a=100.0)
of_feeder(
    "main-small",
    "unit_main_a",
    "F-1: a main of 100 A stands in the distribution unit; 108.25 A is needed, 108.25 % of it.",
    TWO_TANKS,
    unit_main_a=100.0,
    bus_a=225.0,
)
of_feeder(
    "way-length-unknown",
    "feeder",
    "F-1: of 2 of its ways no length is given. No voltage drop, no wire and raceway by length, and the fault current counts in full "
    "behind them.",
    TWO_TANKS,
)
of_feeder(
    "distribution-by-others", "feeder", "F-1: 2 ways are sized for a distribution unit by others. Question: who supplies it?", TWO_TANKS
)
of_feeder(
    "tap-too-long",
    "tap_m",
    "F-1-W1: 29.5 ft (9 m) is longer than a tap may be; only a conductor that the 110 A feeder OCPD itself protects serves, 1 AWG.",
    TWO_TANKS,
    tap_m=9.0,
)
of_feeder(
    "tap-no-wire",
    "tap_m",
    "F-1-W1: no conductor of the table has the 1333.33 A that the rule of its length asks for.",
    TWO_TANKS,
    tap_m=6.0,
    existing_device_a=4000.0,
)
of_source("transformer-unknown", "of_this_job", "TX-1 is of this job, and its primary OCPD is not given.", of_this_job="yes")


def _metric_unit() -> tuple[Job, Record]:
    one = source(**OF_THIS_JOB | {"volts_v": 400.0})
    banks, feeders = [bank(volts_v=400.0)], [hung(volts_v=400.0)]
    return of([one], banks, feeders, projects=project(code_basis="IEC 60364")), one


CASES["transformer-practice"] = (
    _metric_unit,
    "of_this_job",
    "TX-1 is of this job, and IEC 60364 as it is held here sets no shares for the protective devices of a transformer: those of common "
    "practice are used, 125 % of its rated current for a primary protective device alone, 250 % with secondary protective devices.",
)
# 75 kVA at 480 V: 90.211 A, 2.5 times 225.527 A, 1.25 times 112.764, next 125 A; secondary at 208 V 208.179 A: 260.224, next 300 A
SMALL = {"kva": 75.0, "volts_v": 208.0, **OF_THIS_JOB}
AT_208 = [{"volts_v": 208.0}]
of_source(
    "transformer-primary",
    "primary_device_a",
    "TX-1: a primary OCPD of 250 A is above 225.53 A, the most with secondary OCPDs; 125 A protects the unit by itself.",
    AT_208,
    [{"volts_v": 208.0}],
    **SMALL | {"primary_device_a": 250.0},
)
of_source(
    "transformer-secondary",
    "primary_device_a",
    "TX-1: its secondary OCPDs come to 325 A, above 300 A; a primary OCPD up to 125 A needs none.",
    [{"volts_v": 208.0}, {"volts_v": 208.0, "feeder": "F-2", "tank": "T-2"}],
    [{"volts_v": 208.0, "existing_device_a": 175.0}, {"feeder": "F-2", "volts_v": 208.0, "existing_device_a": 150.0}],
    **SMALL | {"primary_device_a": 200.0},
)
of_source(
    "secondary-length-unknown",
    "secondary_run_m",
    "TX-1 is of this job, and the length of its secondary conductors is not given.",
    **OF_THIS_JOB | {"secondary_run_m": None},
)
of_source(
    "secondary-too-long",
    "secondary_run_m",
    "TX-1: 29.5 ft (9 m) of secondary conductors to F-1 is longer than they may run without an OCPD at their source.",
    **OF_THIS_JOB | {"secondary_run_m": 9.0},
)
of_source(
    "secondary-wire-taken",
    "secondary_wire",
    "TX-1: the size of its secondary conductors is not given: taken as each feeder's own.",
    **OF_THIS_JOB,
)
of_source(
    "secondary-wire-unknown",
    "secondary_wire",
    "TX-1: the secondary wire 3/0 of copper is no conductor size of the rule set; the feeder's own is judged.",
    **OF_THIS_JOB | {"secondary_wire": "3/0 of copper"},
)
of_feeder(
    "device-at-end",
    "device_at",
    "F-1: its OCPD of 110 A stands at its end, as the main device there; its conductors are secondary conductors, and run with them is a "
    "supply-side bonding jumper.",
    TWO_TANKS,
    device_at="end",
)
of_feeder(
    "secondary-not-judged",
    "device_at",
    "F-1: no OCPD stands ahead of its conductors on the secondary; what protects them is not judged. Not given: primary volts, primary "
    "OCPD, its length.",
    TWO_TANKS,
    device_at="end",
    run_m=None,
)
of_feeder(
    "tap-of-secondary",
    "tap_m",
    "F-1: taps are asked for, and no OCPD stands ahead of its conductors.",
    TWO_TANKS,
    device_at="end",
    tap_m=2.5,
)


def _service() -> tuple[Job, Record]:
    one = hung(device_at="end")
    return of([source(kind="service")], [bank(**each) for each in TWO_TANKS], one), one


CASES["service-conductors"] = (
    _service,
    "device_at",
    "F-1: its OCPD of 110 A stands at its end, and TX-1 is a service: its conductors are service conductors with no OCPD ahead of them. "
    "2 AWG carries 115 A: 110 A is asked, of the load with its margin and of that OCPD. The system brings its grounded conductor along, "
    "8 AWG at least; it is not in Materials. Not judged: how far they run inside the building.",
)
TWO_POLES = {"existing_device_a": 100.0, "existing_poles": "2"}
of_feeder(
    "two-pole-breaker",
    "existing_poles",
    "F-1: the breaker that is there has two poles and is not marked for three phases.",
    settings={"device_kind": "breaker"},
    system="corner-grounded delta",
    grounded_line="B",
    **TWO_POLES,
)
of_feeder(
    "line-without-device",
    "existing_poles",
    "F-1: the breaker that is there has two poles, and no line of its three is grounded: one has no OCPD.",
    settings={"device_kind": "breaker"},
    **TWO_POLES,
)
of_feeder(
    "tap-unused",
    "tap_m",
    "F-1: Tap length has no use here: a single control panel hangs on the feeder, which ends in it.",
    tap_m=2.0,
)
of_feeder("existing-poles-unused", "existing_poles", "F-1: Existing breaker poles has no use here: its device is a fuse.", **TWO_POLES)


# the feeder's 10 AWG: 30 A at 60 °C; 700 A x 480/480 / 10 = 70 A
of_source("secondary-small", "secondary_run_m", "TX-1: 10 AWG to F-1 has 30 A; 70 A is needed, and nothing is rounded up.", **OF_THIS_JOB)
of_feeder(
    "ground-detectors",
    "system",
    "F-1 may be an ungrounded system: if it is ungrounded, it needs ground detectors and its marking; ground-fault trips of heaters do "
    "not see the first fault.",
    system=None,
)
of_feeder("arc-energy", "feeder", "F-1: fuses of 1200 A need a documented way to reduce the energy of an arc.", existing_device_a=1200.0)
of_feeder(
    "single-pole-interrupting",
    "system",
    "F-1 is corner-grounded: one pole of a breaker may have to break 480 V alone.",
    settings={"device_kind": "breaker"},
    system="corner-grounded delta",
)


of_feeder(
    "main-apart",
    "unit_apart",
    "F-1: its distribution unit stands in another building, and so has a main device of 110 A.",
    TWO_TANKS,
    unit_apart="yes",
)
of_source(
    "transformer-secondary-many",
    "primary_device_a",
    "TX-1: its secondary protection is 7 OCPDs; at most 6, in one place, count as such; a primary OCPD up to 125 A needs none.",
    [{"volts_v": 208.0, "feeder": f"F-{at}", "tank": f"T-{at}"} for at in range(7)],
    [{"volts_v": 208.0, "feeder": f"F-{at}"} for at in range(7)],
    **SMALL | {"primary_device_a": 200.0},
)


def _one_device() -> tuple[Job, Record]:
    one = feeder()
    tanks = [tank(one_device="yes"), tank(tank="T-2")]
    return job([bank(quantity=6), bank(bank="2", quantity=6), bank(tank="T-2")], one, tanks), one


CASES["one-device-not"] = (
    _one_device,
    "feeder",
    "One OCPD for way and panel feeder is asked for of tank T-1, and both stand: it has 2 panel feeders.",
)
CORNER = {"system": "corner-grounded delta", "grounded_line": "C"}
of_feeder(
    "grounded-line-assumed",
    "grounded_line",
    "F-1 is corner-grounded, and which line is grounded is not given: B is taken, so that B carries no fuse.",
    **CORNER | {"grounded_line": None},
)
of_feeder(
    "fuse-in-grounded-line",
    "grounded_fused",
    "F-1: a fuse stands in line C, which is grounded: blown, it leaves the heaters live and without ground.",
    grounded_fused="yes",
    **CORNER,
)
of_source(
    "grounded-pair",
    "phase_pair",
    "F-1: the pair B-C of TX-1 holds the grounded line C, and each of its lines is counted with a fuse; A-B has none.",
    [{"connection": "parallel"}],
    [{**ONE_PHASE, "phase_pair": "B-C"}],
    **CORNER,
)


def _fused_panels() -> tuple[Job, Record]:
    one = project()
    return job(bank(quantity=6), projects=one), one


def _aluminum() -> tuple[Job, Record]:
    one = project(conductor="aluminum")
    return job(bank(quantity=6), projects=one), one


def of_bank(code: str, key: str, words: str, settings: dict | None = None, stock: list | None = None, **given: object) -> None:
    def build() -> tuple[Job, Record]:
        one = bank(**given)
        return job(one, projects=project(**settings or {}), stock=stock), one

    CASES[code] = (build, key, words)


# 4 AWG on class CC fuses of 20 A: 10 AWG has the frame's 30 A at 60 °C, one size more is 8
of_bank(
    "terminal-range",
    "heater_run_m",
    "branch: 4 AWG on a 30 A frame, whose terminals are counted on to take up to 8 AWG.",
    {"smallest_conductor": "4"},
    quantity=6,
)
of_bank(
    "terminal-range-stock",
    "heater_run_m",
    "branch: 12 AWG on B-20, whose terminals take 8 to 1/0.",
    {"device_kind": "breaker"},
    [part(part="B-20", kind="breaker", rating_a=20.0, poles=2, volts_v=480.0, sccr_ka=65.0, smallest_wire="8", largest_wire="1/0")],
    quantity=6,
)
# 3 x 9 kW, 10.83 A each: 32.5 A, with the margin 40.6: 45 A, which 8 AWG does not suit (40 A at 60 °C, and 45 A is a size of its own)
of_bank(
    "block-jumper-large",
    "quantity",
    "Block jumpers of 6 AWG, as the panel feeder OCPD asks, on 15 A fuses: terminals of a 30 A frame are counted on to take up to 8 AWG "
    "(from memory).",
    quantity=3,
    power_kw=9.0,
    phases=3,
    connection=None,
)
# a third of 45 A is 15 A, and so is the branch: 14 AWG
of_bank(
    "block-jumper-tap",
    "quantity",
    "Block jumpers of 14 AWG are taps: for a branch OCPD of 15 A and a third of the panel feeder OCPD of 45 A, which does not protect "
    "them.",
    {"block_jumpers": "tap"},
    quantity=3,
    power_kw=9.0,
    phases=3,
    connection=None,
)
of_bank(
    "copper-terminals",
    "quantity",
    "Aluminum conductors land on stock parts whose terminals are for copper only: FH-30.",
    {"conductor": "aluminum"},
    [part(part="FH-30", kind="fuse holder", rating_a=30.0, poles=2, volts_v=600.0, sccr_ka=200.0, terminals_for="copper")],
    quantity=6,
)
SIXTY = {"quantity": 1, "power_kw": 60.0, "phases": 3, "connection": None, "circuits_per_heater": 2}
of_bank(
    "hundred-pct-wires",
    "cycling",
    "Power, temperature-controlled cycling and a marked minimum of 3 AWG are stated: the conductors to this heater go by 100 % of its "
    "load, its OCPDs by the margin; the size stays, the device asks for it.",
    marked_wire="3",
    cycling="yes",
    **SIXTY,
)
of_bank(
    "marked-wire-unknown",
    "marked_wire",
    "The marked minimum wire three is no conductor size of the rule set, and is not used.",
    marked_wire="three",
    **SIXTY,
)
of_feeder(
    "feeder-terminal-range",
    "feeder",
    "F-1: feeder 4 AWG on a 30 A frame (up to 8 AWG).",
    settings={"smallest_conductor": "4"},
)


def _out_of_sight() -> tuple[Job, Record]:
    one = bank(quantity=1, power_kw=60.0, phases=3, connection=None, circuits_per_heater=2, panel_feeder_run_m=20.0)
    return job(one), one


def _two_wires() -> tuple[Job, Record]:
    one = bank()
    return job([one, bank(tank="T-3", quantity=1, connection="parallel")]), one


CASES["two-wires"] = (
    _two_wires,
    "",
    "More than one wire is on a terminal of its contactor, and nobody has marked the contactor for it.",
)
CASES["fuse-disconnect"] = (
    _fused_panels,
    "device_kind",
    "1 bank of separate heaters with one disconnect ahead of several sets of branch fuses: T-1/1.",
)
CASES["disconnect-sight"] = (
    _out_of_sight,
    "panel_feeder_run_m",
    "The panel of a heater of several circuits stands 65.6 ft (20 m) from its disconnect; in sight is visible and within 50 ft "
    "(15.24 m). Lockable alone does not serve here.",
)
for code, words in {
    "aluminum-terminals": "Aluminum conductors: every terminal that they land on must be marked for them (AL, AL-CU).",
    "aluminum-corrosion": "Aluminum conductors: the air of a hall with tanks attacks them and their terminals.",
    "aluminum-small": "Aluminum conductors: 1 bank with branches of 10 AWG, sizes that are hardly to be had and that few terminals take: "
    "T-1/1.",
}.items():
    CASES[code] = (_aluminum, "conductor", words)


def test_every_declared_finding_of_the_supply_side_has_a_case() -> None:
    assert {kind.code for kind in SUPPLY_SIDE} == set(CASES)


@pytest.mark.parametrize("code", CASES)
def test_finding(code: str) -> None:
    build, key, words = CASES[code]
    made, record = build()
    result = size_job(made)
    sheet = KINDS[type(record)]
    address = f"{SHEETS[sheet].name}!{COLUMNS[sheet].get(key, 'A')}{record.origin.row}"
    found = [finding for finding in result.findings if finding.code == code]
    assert words in [finding.message for finding in found], [finding.message for finding in found]
    assert address in [finding.address for finding in found], [finding.address for finding in found]


@pytest.mark.parametrize("code", CASES)
def test_a_usual_source_and_feeder_say_none_of_it(code: str) -> None:
    result = size_job(of([source()], bank(quantity=1, connection="parallel"), hung()))
    assert code not in {finding.code for finding in result.findings}
    assert not [finding for finding in result.findings if finding.feeder and finding.code == "fault-unknown"]


@pytest.mark.parametrize(
    ("before", "pair", "said"),
    [
        (PreviousFeeder(), "A-B", ["F-1 is put on A-B of TX-1: the fullest line of the source then carries least."]),
        (PreviousFeeder("TX-1", "B-C"), "B-C", ["F-1: kept on pairs of TX-1 as in old.xlsx."]),
        (PreviousFeeder("TX-9", "B-C"), "A-B", ["F-1 is put on A-B of TX-1: the fullest line of the source then carries least."]),
    ],
)
def test_a_feeder_stays_on_its_pair_of_the_source(before: PreviousFeeder, pair: str, said: list[str]) -> None:
    made = of([source()], bank(connection="parallel"), hung(**ONE_PHASE))
    result = size_job(made, previous=PreviousDecisions("old.xlsx", feeders={("p-1", "f-1"): before}))
    assert result.projects[0].feeders[0].source_pair == pair
    assert [finding.message for finding in result.findings if finding.code in ("kept-pair", "feeder-pair-chosen")] == said


@pytest.mark.parametrize(("pair", "ignored"), [("B-N", False), ("C-N", True)])
def test_a_unit_of_three_wires_has_two_legs(pair: str, ignored: bool) -> None:
    one = source(kva=50.0, z_pct=2.4, volts_v=240.0, phases=1, wires=3, system=None)
    fed = hung(volts_v=120.0, phases=1, wires=2, system=None, phase_pair=pair)
    result = size_job(of([one], bank(volts_v=120.0, power_kw=2.0, connection="parallel"), fed))
    assert ("feeder-pair-ignored" in {finding.code for finding in result.findings}) is ignored
    assert (result.projects[0].feeders[0].source_pair == pair) is not ignored


def test_a_feeders_demand_counts_on_its_source() -> None:
    """18 kW in delta, 21.651 A a line: 18 kVA of 100, with a demand factor of 0.5 9 kVA."""
    for factor, used in ((1.0, 18.0), (0.5, 9.0)):
        [project_of] = size_job(of([source(kva=100.0)], bank(), hung(demand_factor=factor))).projects
        assert project_of.sources[0].used_pct == pytest.approx(used, abs=0.01)


def test_what_a_kept_pair_costs_is_said() -> None:
    """37.5 A each: both on A-B put 75 A on lines A and B; on two pairs they put 64.952 A on the fullest."""
    was = {("p-1", f"f-{at}"): PreviousFeeder("TX-1", "A-B") for at in (1, 2)}
    feeders = [hung(feeder=f"F-{at}", **ONE_PHASE) for at in (1, 2)]
    banks = [bank(feeder=f"F-{at}", tank=f"T-{at}", connection="parallel") for at in (1, 2)]
    result = size_job(of([source()], banks, feeders), previous=PreviousDecisions("old.xlsx", feeders=was))
    assert [finding.message for finding in result.findings if finding.code == "kept-pair"] == [
        "F-1, F-2: kept on pairs of TX-1 as in old.xlsx; chosen anew, its fullest line would carry 64.952 A and not 75 A."
    ]


def test_ways_keep_their_numbers() -> None:
    """A tank that comes first by its tag gets the next number; one that is gone leaves its own unused."""
    was = PreviousFeeder("TX-1", "", {"t-1": 1, "t-2": 2, "t-3": 3}, 3)
    banks = [bank(tank=tag, quantity=6) for tag in ("T-0", "T-1", "T-3", "T-9")]
    [project_of] = size_job(of([source()], banks, hung()), previous=PreviousDecisions("old.xlsx", feeders={("p-1", "f-1"): was})).projects
    end = project_of.feeders[0].end
    assert [(way.tag, way.tank) for way in end.ways] == [
        ("F-1-W1", "T-1"), ("F-1-W3", "T-3"), ("F-1-W4", "T-0"), ("F-1-W5", "T-9"),
    ]  # fmt: skip
    assert end.last_way == 5


def test_the_device_of_a_way_is_no_smaller_than_one_that_it_feeds() -> None:
    """54.127 A with 25 %: 60 A; the stock has 70 A alone for the panel feeders, so their ways take 70 A too."""
    listed = [part(part="B-70", kind="breaker", rating_a=70.0, poles=3, volts_v=600.0, sccr_ka=65.0)]
    banks = [bank(tank=tag, quantity=6) for tag in ("T-1", "T-2")]
    [project_of] = size_job(of([source()], banks, hung(), projects=project(device_kind="breaker"), stock=listed)).projects
    ahead = {one.bank.tank: panel.panel_feeder_device.rating_a for one in project_of.banks for panel in one.design.panels}
    assert {way.tank: way.device.rating_a for way in project_of.feeders[0].end.ways} == ahead == {"T-1": 70.0, "T-2": 70.0}


def test_a_stock_part_behind_a_stiff_source_is_held() -> None:
    listed = [part(part="PDB-1", kind="power distribution block", rating_a=175.0, volts_v=600.0, poles=3, sccr_ka=10.0)]
    result = size_job(of([source(**STIFF)], bank(quantity=6), hung(), stock=listed))
    assert [finding.message for finding in result.findings if finding.code == "fault-over-rating"]


@pytest.mark.parametrize(("given", "said"), [({}, False), ({"existing_device_a": 70.0}, True)])
def test_a_stock_breaker_says_what_a_new_feeder_breaker_interrupts(given: dict, said: bool) -> None:
    """54.127 A with 25 %: 60 A, and 70 A by what it feeds or as it is there; of the one that is there nobody knows."""
    listed = [part(part=f"B-{rating}", kind="breaker", rating_a=float(rating), poles=3, volts_v=600.0, sccr_ka=65.0) for rating in (60, 70)]
    result = size_job(job(bank(quantity=6), feeder(**given), projects=project(device_kind="breaker"), stock=listed))
    assert ("interrupting-over" in {finding.code for finding in result.findings}) is said


@pytest.mark.parametrize(("legs", "lines", "used"), [((None, None), (37.5, 37.5), 36.0), (("A-N", "A-N"), (75.0, 0.0), 72.0),
                                                     (("B-N", None), (37.5, 37.5), 36.0)])  # fmt: skip
def test_feeders_to_neutral_stand_on_the_legs_of_a_three_wire_unit(legs: tuple, lines: tuple[float, ...], used: float) -> None:
    """25 kVA, 240/120 V, 104.167 A a line; 37.5 A each: on two legs 36 % of it, both on one 72 %."""
    unit = source(volts_v=240.0, phases=1, wires=3, system="1-phase 3-wire", kva=25.0, z_pct=2.0)
    few = {"volts_v": 120.0, "power_kw": 1.5, "quantity": 3, "connection": "parallel"}
    banks = [bank(feeder=f"F-{at}", tank=f"T-{at}", **few) for at in range(2)]
    on_leg = {"volts_v": 120.0, "phases": 1, "wires": 2, "system": None}
    feeders = [hung(feeder=f"F-{at}", phase_pair=leg, **on_leg) for at, leg in enumerate(legs)]
    project = size_job(replace(job(banks, feeders), sources=(unit,))).projects[0]
    [row] = project.sources
    assert row.lines[:2] == pytest.approx(lines) and row.used_pct == pytest.approx(used)
    assert all(fed.source_pair == leg for fed, leg in zip(project.feeders, legs, strict=True) if leg is not None)
    assert {fed.source_pair for fed in project.feeders} <= {"A-N", "B-N"}


def test_fuses_of_circuits_with_fewer_poles_than_others_are_named_apart() -> None:
    """B is grounded: heaters on A-B have one fuse, on C-A two; where all have as many, the holder has as many poles."""
    device = one_bank(size(bank(quantity=6, power_kw=3.0), feeder())).design.panels[0].branch.device
    assert fuses_of(device, [2, 2]).words.startswith("2 fuses, ") and fuses_of(device, [2, 2]).words.endswith("in a 2-pole holder")
    assert fuses_of(device, [1]).words.startswith("1 fuse, ") and fuses_of(device, [1]).words.endswith("in a 1-pole holder")
    mixed = fuses_of(device, [2, 1])
    assert (mixed.poles, mixed.words[:12]) == (2, "1 or 2 fuses") and mixed.words.endswith("none in the grounded line")
    assert fuses_of(device, [0]).words == "none: grounded line"


def told(*feeders: dict[str, object], **given: object) -> tuple[str, list[str]]:
    """The system that a source without one comes to have by its feeders, and the feeders that are refused."""
    rows = [hung(**{"feeder": f"F-{at}", "wires": None, **cells}) for at, cells in enumerate((*feeders, {"system": None}), 1)]
    banks = [bank(tank=f"T-{at}", feeder=row.feeder) for at, row in enumerate(rows, 1)]
    result = size_job(of([source(**{"system": None, "wires": None, **given})], banks, rows))
    [row] = result.projects[0].sources
    return row.supply.system.value, [one.feeder for one in result.findings if one.code == "source-mismatch"]


def test_a_source_without_a_system_has_that_of_its_feeders() -> None:
    assert told({"system": "delta"}) == ("delta", [])
    assert told({"system": "corner-grounded delta", "grounded_line": "A"}) == ("corner-grounded delta", [])
    # of feeders that contradict each other none is believed, and both are asked about; so is one that the source's wires rule out
    assert told({"system": "delta"}, {"system": "wye grounded"}) == ("unknown", ["F-1", "F-2"])
    assert told({"system": "delta"}, wires=4) == ("wye grounded", ["F-1"])
    # a feeder of one phase says nothing of a source of three
    assert told({"system": "1-phase line-to-line", "phases": 1, "wires": 2}) == ("unknown", [])
    assert told({"system": "delta"}, system="wye grounded") == ("wye grounded", ["F-1"])


def test_fault_currents_of_two_kinds_do_not_go_by_one_name() -> None:
    """Behind a wye unit one line to ground gives more than all lines together: each heading says of which kind its figure is."""
    [made] = size_job(of([source()], bank(), hung())).projects
    [unit], [behind] = made.sources, made.feeders
    assert behind.fault_ka > unit.fault_ka
    headings = SOURCES["fault_ka"].heading, FEEDERS["fault_ka"].heading
    assert headings == ("Fault current used, all lines", "Largest fault at source")


def test_what_is_used_of_a_device_stands_beside_that_device() -> None:
    """A device of 40 A is there, and a larger one is called for: more than 100 % is of the 40 A, which Distribution shows too."""
    banks = [bank(quantity=8, phases=3), bank(tank="T-2", quantity=8, phases=3)]
    own = [row for row in rows(size(banks, feeder(existing_device_a=40.0)), "distribution") if not row["way"]]
    assert [(row["existing_a"], row["use_pct"]) for row in own] == [(40.0, pytest.approx(100.0 * own[0]["required_a"] / 40.0))]
    assert own[0]["device_a"] != 40.0 and own[0]["use_pct"] > 100.0
