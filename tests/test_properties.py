"""What must hold for every job, whatever its figures: found by trying many.

The three tests of a conductor are done over again here, from the CSV files alone and by code of this file's own.
"""

from __future__ import annotations

import csv
from itertools import pairwise, product
from math import floor, inf
from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from batch import rules as rule_sets
from batch.findings import CATALOGUE, Effect, Remarks
from batch.method.balance import Placeable, choose_starts
from batch.method.line_currents import Loads, line_currents, rotated
from batch.method.voltage_drop import run_resistance
from batch.records import Bank, Design, Job, Supply
from batch.results import BankDesign, JobResult, PanelDesign, Wires
from batch.schedules import RESULTS, rows
from batch.schedules.reconciliation import reconcile
from batch.sizing.connection import CannotSize
from batch.sizing.design import size_design
from batch.sizing.placing import bank_loads, groups, panel_starts
from batch.sizing.project import size_job
from batch.sizing.runs import Run, choose_wires
from batch.systems import Connection, System
from tests.job_builder import RULES, WYE_480, bank, feeder, job, project
from tests.job_builder import settings as project_settings

QUICK = settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
SLOW = settings(QUICK, max_examples=60)

SUPPLIES = (
    Supply(480.0, 3, System.DELTA), Supply(480.0, 3, System.WYE_GROUNDED), Supply(480.0, 4, System.WYE_GROUNDED),
    Supply(208.0, 4, System.WYE_GROUNDED), Supply(600.0, 3, System.WYE_GROUNDED), Supply(380.0, 4, System.WYE_GROUNDED),
    Supply(240.0, 3, System.CORNER_GROUNDED_DELTA),
    Supply(480.0, 2, System.LINE_TO_LINE), Supply(277.0, 2, System.LINE_TO_NEUTRAL), Supply(240.0, 3, System.THREE_WIRE),
)  # fmt: skip

SETTINGS = st.builds(
    project_settings,
    margin_pct=st.sampled_from([25.0, 25.0, 30.0, 50.0]),
    ambient_c=st.sampled_from([20.0, 30.0, 40.0, 50.0, 60.0]),
    terminal_c=st.sampled_from([None, None, 60, 75]),
    conductor=st.sampled_from(["copper", "copper", "aluminum"]),
    device_kind=st.sampled_from(["fuse", "breaker"]),
    smallest_conductor=st.sampled_from(["14", "12", "10"]),
    largest_conductor=st.sampled_from(["250", "500", "750"]),
    branches_per_panel=st.sampled_from([6, 8, 12]),
    raceway=st.sampled_from(["EMT", "RMC"]),
    on_drop=st.sampled_from(["upsize", "caution"]),
)
POWERS = st.one_of(st.sampled_from([1.0, 3.0, 6.0, 7.68, 11.52, 12.0, 18.0, 23.04]), st.floats(0.05, 120.0))
RUNS = st.sampled_from([None, 0.0, 5.0, 40.0, 300.0])


@st.composite
def designs(draw: st.DrawFn) -> Design:
    supply = draw(st.sampled_from(SUPPLIES))
    phases = draw(st.sampled_from([1, 1, 3])) if supply.phases == 3 else 1
    near = [supply.volts_v] if phases == 3 else [supply.volts_v, supply.volts_v / 3**0.5, supply.volts_v / 2]
    return Design(
        quantity=draw(st.integers(1, 30)),
        power_kw=draw(POWERS),
        volts_v=draw(st.sampled_from(near)) * draw(st.sampled_from([1.0, 1.0, 0.95, 1.04, 1.2])),
        phases=phases,
        supply=supply,
        settings=draw(SETTINGS),
        connection=draw(st.sampled_from([None, None, "parallel", "delta", "wye", "common-point wye"])) if supply.phases == 3 else None,
        circuits_per_heater=draw(st.sampled_from([None, None, 1, 2, 3])),
        heater_run_m=draw(RUNS),
        panel_feeder_run_m=draw(RUNS),
        circuits_in_raceway=draw(st.sampled_from([1, 1, 2, 4])),
        device_kind=draw(st.sampled_from([None, "fuse", "breaker"])),
    )


def made_of(design: Design) -> BankDesign:
    try:
        return size_design(design, RULES)
    except CannotSize:
        assume(False)
        raise


# Devices and what stands around them


@QUICK
@given(designs())
def test_every_device_covers_its_current_with_margin(design: Design) -> None:
    """210.20(A), 215.3, 425.4(B): at least 1.25 times, whatever margin a project sets; compared at 1e-6 A."""
    made = made_of(design)
    margin = 1 + design.settings.margin_pct / 100
    assert margin >= 1.25
    beyond = {said.code for said in made.remarks} & {"beyond-table"}
    assert round(made.branch.device.rating_a, 6) >= round(margin * made.design_a / made.circuits_per_heater, 6)
    for panel in groups(made):
        assert round(panel.panel_feeder_device.rating_a, 6) >= round(margin * panel.lines.maximum, 6)
        assert panel.block_a >= panel.panel_feeder_device.rating_a or not made.panels
        assert round(panel.contactor_a, 6) >= round(panel.lines.maximum, 6) or beyond


@QUICK
@given(designs(), st.integers(0, 2))
def test_a_banks_line_current_is_that_of_its_panels_together(design: Design, start: int) -> None:
    made = made_of(design)
    assume(start == 0 or design.supply.phases == 3)
    loads, running = bank_loads(made, design.supply, panel_starts(made, design.supply, start))
    assert line_currents(loads, design.supply.system).maximum == pytest.approx(made.line_a)
    assert line_currents(running, design.supply.system).maximum <= made.line_a * 1.02 * (1 + 1e-9)


def test_circuits_and_split_that_chase_each_other_settle_on_the_more_circuits() -> None:
    """Eleven 18 kW, 240 V heaters in an ungrounded wye of 480 V: split for two circuits a heater they need three, for three only two."""
    supply = Supply(480.0, 3, System.DELTA)
    made = made_of(Design(11, 18.0, 240.0, 1, supply, project_settings(), connection="wye"))
    assert made.circuits_per_heater == 3 and [panel.heaters for panel in made.panels] == [3, 3, 3, 2]
    assert line_currents(bank_loads(made, supply, panel_starts(made, supply, 0))[0], supply.system).maximum == pytest.approx(made.line_a)
    assert "heater-over-limit" in {said.code for said in made.remarks}


@QUICK
@given(designs())
def test_no_element_stands_behind_more_than_sixty_amps(design: Design) -> None:
    """425.22(B): at most 48 A a circuit and a 60 A device ahead of it, unless the row says HOLD (not released for fabrication)."""
    made = made_of(design)
    codes = {said.code for said in made.remarks}
    assert round(made.design_a / made.circuits_per_heater, 6) <= 48 or "beyond-table" in codes
    ahead = made.branch.device.rating_a if made.panels else made.single_circuit.panel_feeder_device.rating_a
    assert ahead <= 60 or "device-over-limit" in codes
    if made.single_circuit is not None and design.quantity > 1:
        assert made.single_circuit.panel_feeder_device.rating_a in (15, 20, 30, 40, 50, 60)


@QUICK
@given(designs())
def test_panels_are_as_few_as_can_be_and_never_above_the_most(design: Design) -> None:
    made = made_of(design)
    if not made.panels:
        assert made.wires_on_terminal <= (design.settings.wires_per_terminal or 0) and round(made.line_a, 6) <= 48
        return
    most, circuits = design.settings.branches_per_panel, made.circuits_per_heater
    whole, fewest = {Connection.SEPARATE_WYES: (3, 3), Connection.COMMON_POINT_WYE: (1, 3)}.get(made.connected, (1, 1))
    takes = whole * (most // circuits // whole)
    assume(takes >= fewest)
    assert len(made.panels) == -(-design.quantity // takes)
    assert all(panel.branches <= most and panel.heaters % whole == 0 for panel in made.panels)
    assert sum(panel.heaters for panel in made.panels) == design.quantity
    assert made.connected is not Connection.COMMON_POINT_WYE or all(panel.heaters > 1 for panel in made.panels)


@QUICK
@given(designs(), st.floats(1.0, 2.0))
def test_more_watts_never_give_a_smaller_device_or_conductor(design: Design, times: float) -> None:
    """Of two banks that differ in watts alone and are built alike (as many circuits a heater, panels of as many heaters, or both direct).

    Conductors are compared where the same column of terminal temperature holds for both: above a 100 A device it is 75 °C instead of
    60 °C (110.14(C)(1)), and a larger load may then do with a smaller wire; and where no conductor at all keeps the drop within its limit
    the row says so and upsizes nothing. More sets count as larger than a larger size.
    """
    small = made_of(design)
    large = made_of(replace(design, power_kw=design.power_kw * times))
    assume(small.circuits_per_heater == large.circuits_per_heater)
    assume([panel.heaters for panel in small.panels] == [panel.heaters for panel in large.panels])
    assert large.design_a >= small.design_a and large.line_a >= small.line_a - 1e-9
    assert large.branch.device.rating_a >= small.branch.device.rating_a
    pairs = [(device_ahead(small), small.branch.wires, device_ahead(large), large.branch.wires)]
    for less, more in zip(groups(small), groups(large), strict=True):
        assert more.panel_feeder_device.rating_a >= less.panel_feeder_device.rating_a
        assert (more.contactor_a or inf) >= (less.contactor_a or inf)
        ahead = less.panel_feeder_device.rating_a, less.panel_feeder_wires
        pairs.append((*ahead, more.panel_feeder_device.rating_a, more.panel_feeder_wires))
    if "drop-over" in {said.code for said in large.remarks}:
        return
    for device, wires, larger_device, larger_wires in pairs:
        if column(device, design) == column(larger_device, design):
            assert size_of(larger_wires) >= size_of(wires)


def device_ahead(made: BankDesign) -> float:
    return made.branch.device.rating_a if made.panels else made.single_circuit.panel_feeder_device.rating_a


def column(device_a: float, design: Design) -> int:
    return design.settings.terminal_c or (60 if device_a <= 100 else 75)


def size_of(wires: Wires) -> tuple[float, float]:
    return (wires.sets, RULES.rank(wires.size)) if wires.size in RULES.sizes else (inf, inf)


@pytest.mark.parametrize(("amps", "device"), [(48.0, 60), (16.0, 20), (48.000000001, 60), (15.999999999, 20)])
def test_the_limit_is_exact(amps: float, device: float) -> None:
    made = size_design(Design(1, amps * 0.48, 480.0, 1, WYE_480, project_settings()), RULES)
    assert made.single_circuit.panel_feeder_device.rating_a == made.branch.device.rating_a == device


# Conductors, over again


HOME = Path(rule_sets.__file__).parent / "nec_2023"


def read(name: str) -> list[dict[str, str]]:
    with (HOME / name).open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


AMPACITY = {row["size"]: row for row in read("table_310_16.csv")}
SIZES = list(AMPACITY)
AMBIENT = read("table_310_15_b_1_1.csv")
ADJUST = read("table_310_15_c_1.csv")
SMALL = {(row["size"], row["material"]): float(row["device_a"]) for row in read("section_240_4_d.csv")}
RATINGS = {kind: [float(row["rating_a"]) for row in read("table_240_6_a.csv") if row[kind] == "yes"] for kind in ("fuse", "breaker")}


def failures(size: str, sets: int, load: float, device: float, ambient: float, carrying: int, kind: str, how) -> list[str]:
    """The tests that a conductor fails, each written out, none of our functions used."""
    prefix = {"copper": "cu", "aluminum": "al"}[how.conductor]
    terminal_c = how.terminal_c or (60 if device <= 100 else 75)
    listed, own = (AMPACITY[size][f"{prefix}_{c}c_a"] for c in (terminal_c, 90))
    if not listed or not own:
        return ["no ampacity"]
    band = next(row for row in AMBIENT if ambient <= float(row["ambient_to_c"]))
    share = 100.0 if carrying <= 3 else next(float(row["percent"]) for row in ADJUST if carrying <= float(row["conductors_to"] or inf))
    corrected = float(own) * float(band["factor_90c"] or 0) * share / 100
    failed = []
    if sets * float(listed) < load * (1 + how.margin_pct / 100) - 1e-5:
        failed.append("125 % at the terminals")
    if sets * corrected < load - 1e-5:
        failed.append("load after correction")
    protects = sets * floor(min(float(listed), corrected) + 1e-9)
    next_up = min((rating for rating in RATINGS[kind] if rating >= protects and rating != 601), default=inf)
    if device > protects and not (device <= 800 and device <= next_up):
        failed.append("device")
    if (size, how.conductor) in SMALL and device > SMALL[size, how.conductor]:
        failed.append("small conductor")
    if sets > 1 and SIZES.index(size) < SIZES.index("1/0"):
        failed.append("parallel below 1/0")
    return failed


def judge(wires: Wires, load: float, device: float, ambient: float, carrying: int, kind: str, how) -> None:
    if wires.size not in SIZES:
        return  # said in a finding
    given = (load, device, ambient, carrying, kind, how)
    assert failures(wires.size, wires.sets, *given) == []
    assert SIZES.index(how.smallest_conductor) <= SIZES.index(wires.size) <= SIZES.index(how.largest_conductor)
    if wires.governed_by != "voltage drop" and wires.size != how.smallest_conductor and wires.sets == 1:
        assert failures(SIZES[SIZES.index(wires.size) - 1], 1, *given), "a smaller one serves"
    if wires.sets > 1 and wires.governed_by != "voltage drop":
        assert failures(how.largest_conductor, wires.sets - 1, *given), "fewer sets serve"


@settings(QUICK, max_examples=400)
@given(designs())
def test_every_conductor_passes_its_three_tests(design: Design) -> None:
    made = made_of(design)
    how, kind = design.settings, design.device_kind or design.settings.device_kind
    carrying = (3 if made.connected is Connection.THREE_PHASE else 2) * design.circuits_in_raceway
    branch_a = made.design_a / made.circuits_per_heater
    judge(made.branch.wires, branch_a, device_ahead(made), how.ambient_c, carrying, kind, how)
    for panel in made.panels:
        device_a, carrying = panel.panel_feeder_device.rating_a, feed_carrying(panel, design)
        judge(panel.panel_feeder_wires, panel.lines.maximum, device_a, how.ambient_c, carrying, kind, how)


def feed_carrying(panel: PanelDesign, design: Design) -> int:
    """310.15(E), counted from the terminals that the branches use: two lines of a wye with its neutral are three."""
    used = {part for leg in panel.legs for part in leg.split("-")}
    lines = 3 if any(part[0] == "S" for part in used) else sum(part[0] == "L" for part in used)
    if "N" in used and lines < 3:
        return 3 if lines == 2 and design.supply.phases == 3 else 2
    return lines


@QUICK
@given(st.sampled_from(["copper", "aluminum"]), st.sampled_from(["EMT", "RMC", "PVC-80"]), st.floats(1, 500))
def test_a_larger_conductor_never_drops_more(material: str, raceway: str, length_m: float) -> None:
    ohms = [run_resistance(size, length_m, material, raceway, RULES).value for size in RULES.sizes if RULES.ampacity(size, material, 75)]
    assert all(more >= less for more, less in pairwise(ohms))


@QUICK
@given(st.floats(1, 400), st.floats(1, 600), st.floats(0.5, 5))
def test_upsizing_never_raises_the_drop(amps: float, length_m: float, limit: float) -> None:
    device = RULES.next_rating(1.25 * amps, "fuse", 15).value
    run = Run(
        "run", "", amps, 1.25 * amps, device, "fuse", 3, False, 3, 40.0, length_m=length_m, drop_limit_pct=limit,
        drop=lambda ohm, _: 1.7320508 * ohm * amps / 480,
    )  # fmt: skip
    said = {"caution": Remarks(), "upsize": Remarks()}
    left, raised = (choose_wires(run, project_settings(on_drop=on), RULES, said[on]) for on in ("caution", "upsize"))
    assert raised.drop_pct <= left.drop_pct + 1e-9
    assert size_of(raised.wires) >= size_of(left.wires)
    codes = {one.code for one in said["upsize"]}
    assert raised.drop_pct <= limit + 1e-6 or "drop-over" in codes
    assert ("drop-upsized" in codes) is (raised.wires != left.wires)


# Whole jobs


FEEDERS = (
    {"feeder": "F-A"},
    {"feeder": "F-B", "wires": 4},
    {"feeder": "F-C", "volts_v": 208.0, "wires": 4, "demand_factor": 0.8},
    {"feeder": "F-D", "volts_v": 240.0, "phases": 1, "wires": 3, "system": None},
    {"feeder": "F-E", "system": None, "fault_ka": None, "run_m": None},
    {"feeder": "F-F", "phases": 1, "wires": 2, "system": None, "other_load_a": 30.0},
    {"feeder": "F-G", "system": "high-leg delta"},
    {"feeder": "F-H", "phases": 1, "system": "wye grounded"},
)
SOUND = ("F-A", "F-B", "F-C", "F-D", "F-E", "F-F")


@st.composite
def rows_of_heaters(draw: st.DrawFn, most: int = 8, feeders: tuple[str, ...] = SOUND, **fixed: object) -> list[Bank]:
    found = []
    for number in range(draw(st.integers(1, most))):
        found.append(
            bank(
                **{
                    "tank": f"T-{number // 2 + 1}",
                    "bank": str(number % 2 + 1),
                    "feeder": draw(st.sampled_from(feeders)),
                    "quantity": draw(st.integers(1, 20)),
                    "power_kw": draw(POWERS),
                    "volts_v": draw(st.sampled_from([480.0, 277.0, 208.0, 240.0, 120.0])),
                    "phases": draw(st.sampled_from([1, 1, 3])),
                    "connection": draw(st.sampled_from([None, None, "delta", "wye", "parallel"])),
                    "phase_pair": draw(st.sampled_from([None, None, None, "A-B", "B-C", "C-A", "A-N"])),
                    "over_temperature_limit": draw(st.sampled_from([None, "yes", "no"])),
                }
                | fixed
            )
        )
    return found


def whole(banks: list[Bank]) -> Job:
    return job(banks, [feeder(**one) for one in FEEDERS], projects=project(raceway="EMT"))


def found_for(result: JobResult) -> dict[tuple, tuple]:
    return {
        (row.bank.tank, row.label): (
            row.design, row.start, tuple((panel.tag, panel.type, panel.start, panel.lines, panel.fault_ka) for panel in row.panels)
        )
        for one in result.projects
        for row in one.banks
    }  # fmt: skip


@SLOW
@given(rows_of_heaters(), st.randoms(use_true_random=False))
def test_row_order_never_changes_a_size_a_tag_or_a_phase(banks: list[Bank], random) -> None:
    first = size_job(whole(banks))
    shuffled = banks[:]
    random.shuffle(shuffled)
    second = size_job(whole(shuffled))
    assert found_for(first) == found_for(second)
    for one, other in zip(first.projects[0].feeders, second.projects[0].feeders, strict=True):
        assert one.lines == pytest.approx(other.lines) and (one.device, one.wires) == (other.device, other.wires)


@SLOW
@given(rows_of_heaters())
def test_in_bulk_equals_one_by_one(banks: list[Bank]) -> None:
    together = {key: found[0] for key, found in found_for(size_job(whole(banks))).items()}
    alone = {}
    for one in banks:
        alone |= {key: found[0] for key, found in found_for(size_job(whole([one]))).items()}
    assert together == alone


@SLOW
@given(rows_of_heaters())
def test_a_plan_found_twice_is_the_same(banks: list[Bank]) -> None:
    made = whole(banks)
    one, other = size_job(made), size_job(made)
    for sheet in RESULTS:
        assert rows(one, sheet.id) == rows(other, sheet.id)


@SLOW
@given(rows_of_heaters(feeders=(*SOUND, "F-G", "F-H", "F-Z")))
def test_every_check_passes_and_no_row_is_lost(banks: list[Bank]) -> None:
    made = whole(banks)
    result = size_job(made)
    assert [check for check in reconcile(result) if not check.passes] == []
    fates = ("sized", "sized, review", "HOLD (not released for fabrication)", "not sized")
    assert all(result.fates[one.origin.sheet, one.origin.row] in fates for one in banks)
    sized = {row.bank.origin.row for row in result.projects[0].banks}
    for one in banks:
        said = [finding for finding in result.findings if finding.cell.endswith(str(one.origin.row)) and finding.sheet == one.origin.sheet]
        assert (one.origin.row in sized) is not any(finding.kind.effect is Effect.NOT_SIZED for finding in said)


SIZES_CROSSED = {"largest_conductor": "14", "smallest_conductor": "4/0"}


@SLOW
@given(
    st.lists(
        st.builds(
            bank,
            tank=st.sampled_from(["T-1", "t-1", "T 1", "=1+1", "", "ä"]),
            bank=st.sampled_from([None, "1", "A"]),
            feeder=st.sampled_from([None, "F-A", "f-b ", "F-D", "nowhere"]),
            quantity=st.sampled_from([1, 2, 7, 999, 1000]),
            power_kw=st.one_of(st.floats(1e-6, 1000.0), st.sampled_from([1e-6, 1000.0])),
            volts_v=st.floats(0.5, 1000.0),
            phases=st.sampled_from([1, 2, 3]),
            connection=st.sampled_from([None, "parallel", "delta", "wye", "common-point wye"]),
            circuits_per_heater=st.sampled_from([None, 1, 5, 24]),
            circuits_in_raceway=st.sampled_from([None, 1, 40]),
            heater_run_m=st.sampled_from([None, 0.0, 1000.0]),
            panel_feeder_run_m=st.sampled_from([None, 0.0, 1000.0]),
            fixed_rating_a=st.sampled_from([None, None, 0.5, 20.0, 33.3, 6000.0]),
            branches_per_panel=st.sampled_from([None, 1, 42]),
            phase_pair=st.sampled_from([None, "A-B", "C-N"]),
            device_kind=st.sampled_from([None, "fuse", "breaker"]),
        ),
        min_size=1,
        max_size=5,
    ),
    st.sampled_from([{}, {"ambient_c": 85.0}, SIZES_CROSSED, {"conductor": "aluminum"}, {"margin_pct": 100.0}]),
)
def test_no_figures_end_in_a_traceback(banks: list[Bank], how: dict) -> None:
    made = job(banks, [feeder(**one) for one in FEEDERS], projects=project(**how))
    result = size_job(made)
    assert [check for check in reconcile(result) if not check.passes] == []
    for sheet in RESULTS:
        for row in rows(result, sheet.id):
            assert set(row) <= set(sheet.by_key)
    for finding in result.findings:
        assert finding.code in CATALOGUE and "{" not in finding.message and "None" not in finding.message and "nan" not in finding.message


# Balance


@SLOW
@given(rows_of_heaters(feeders=("F-B",), volts_v=480.0, connection=None, phase_pair="B-C"), st.integers(1, 6), st.floats(0.5, 60))
def test_with_phases_fixed_a_balanced_heater_never_lowers_the_greatest_current(banks: list[Bank], quantity: int, power_kw: float) -> None:
    more = bank(tank="T-99", feeder="F-B", quantity=quantity, power_kw=power_kw, phases=3, connection=None)
    without, added = (size_job(whole(rows_)).projects[0].feeders[1] for rows_ in (banks, [*banks, more]))
    assert added.lines.maximum >= without.lines.maximum - 1e-9


def on_pair(amps: float, leg: bool) -> Loads:
    return Loads(a=amps) if leg else Loads(x=amps)


ON_ONE_PAIR = st.tuples(st.one_of(st.floats(1, 100), st.sampled_from([12.5, 25.0, 50.0])), st.booleans())


# moves and swaps alone stood 6.5 % above the best here
HARD = [(99.7, True), (13.9, False), (75.0, False), (73.0, False), (46.3, True), (28.5, False)]


@settings(SLOW, max_examples=25)
@example(HARD, False)
@given(st.lists(ON_ONE_PAIR, min_size=1, max_size=9), st.booleans())
def test_balancing_is_within_two_per_cent_of_the_best_there_is(panels: list[tuple[float, bool]], alike: bool) -> None:
    """Up to nine one-phase panels, all 3^9 ways tried; of two starts that differ by a turn of all lines only one is tried."""
    if alike:
        panels = [(panels[0][0], leg) for _, leg in panels]
    supply = Supply(480.0, 4, System.WYE_GROUNDED)
    shapes = [on_pair(amps, leg) for amps, leg in panels]
    chosen = choose_starts([Placeable((str(n),), loads, None) for n, loads in enumerate(shapes)], supply.system)
    turned = [[rotated(loads, start, supply.system) for start in range(3)] for loads in shapes]

    def maximum(starts: tuple[int, ...]) -> float:
        sums = [sum(parts) for parts in zip(*(turned[n][start] for n, start in enumerate(starts)), strict=True)]
        return line_currents(Loads(*sums), supply.system).maximum

    best = min(maximum((0, *rest)) for rest in product(range(3), repeat=len(shapes) - 1))
    assert maximum(chosen) <= 1.02 * best + 1e-9


@SLOW
@example([8.0, 8.0, 8.0, 70.0, 86.0, 90.0, 90.0])  # 184 A by moves and swaps, 180 A at best
@given(st.lists(st.floats(1, 100), min_size=1, max_size=9))
def test_balancing_two_legs(amps: list[float]) -> None:
    """1-phase 3-wire: every bank on A-N or B-N; all ways tried."""
    supply = Supply(240.0, 3, System.THREE_WIRE)
    chosen = choose_starts([Placeable((str(n),), Loads(a=one), None) for n, one in enumerate(amps)], supply.system)

    def maximum(starts: tuple[int, ...]) -> float:
        on_a = sum(one for one, start in zip(amps, starts, strict=True) if not start)
        return max(on_a, sum(amps) - on_a)

    assert maximum(chosen) <= 1.02 * min(map(maximum, product(range(2), repeat=len(amps)))) + 1e-9


def test_fixed_pairs_stay() -> None:
    placed = [Placeable((str(n),), Loads(x=10.0), 2 if n < 3 else None) for n in range(6)]
    starts = choose_starts(placed, WYE_480.system)
    assert starts[:3] == (2, 2, 2)
    assert sorted(starts[3:]) in ([0, 0, 1], [0, 1, 1])
