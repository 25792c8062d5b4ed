"""The ladder of a tank followed by a simulator: whatever opens, every contactor drops and stays off until somebody resets."""

from __future__ import annotations

from typing import NamedTuple

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from batch.control_results import COMMON, Coil, ControlSettings, Element, Rung
from batch.rules import load
from batch.sizing.control_contacts import share_contacts
from batch.sizing.control_ladder import LadderPlan, LimitStrip, build_ladder
from batch.sizing.control_load import coil_load, contactor_coil, control_power, other_load
from batch.sizing.control_wires import control_wires, strip_terminals
from batch.sizing.marks import TankMarks
from tests.control_simulator import Simulator, hold_to_the_string
from tests.control_simulator import running as run

RULES = load("NEC 2023")


class Circuit(NamedTuple):
    plan: LadderPlan
    rungs: tuple[Rung, ...]

    @property
    def elements(self) -> list[Element]:
        return [element for rung in self.rungs for element in rung.elements]


def circuit(
    banks: list[list[str]], *, heaters: int = 6, level: str | None = "yes", gfr: bool = False, reset: str = "panel",
    controller: str = "others", volts: float = 120.0, backup: bool = False, shared: bool = False, region: str = "us",
    limits: bool = True, transformer: bool = True
) -> Circuit:  # fmt: skip
    """`banks`: per bank the contactor size of each of its panels."""
    marks, coils, strips = TankMarks(region, sum(map(len, banks))), [], []
    for number, sizes in enumerate(banks, start=1):
        first = 1
        for panel, size in enumerate(sizes, start=1):
            coil = contactor_coil(marks.of("contactor", len(coils) + 1), size, str(number), RULES)
            assert coil is not None
            coils.append(coil)
            if limits:
                numbers = tuple(range(first, first + heaters))
                strips.append(LimitStrip(f"T-1/{number}-P{panel}", marks.of("limit terminals"), str(number), numbers))
            first += heaters
    labels = tuple(str(number) for number in range(1, len(banks) + 1))
    back_up = [Coil(marks.back_up(1, 1), "contactor size 3", 46, 700)] if backup else []
    groups = [((label,), tuple(coil for coil in coils if coil.bank == label)) for label in labels]
    if shared:
        groups = [(labels, tuple(coils))]
    relay = Coil(marks.of("relay"), "relay", *coil_load("relay", RULES))
    switching = share_contacts(groups, back_up, relay, volts, marks=marks, rules=RULES)
    plan = LadderPlan(
        "T-1/HCP", marks, ControlSettings(volts, controller, reset), tuple(strips), level, (*back_up, *coils), labels, switching,
        len(coils) if gfr else 0, ("1D1", "1D2") if transformer else (), "" if transformer else "by others",
    )  # fmt: skip
    return Circuit(plan, build_ladder(plan))


def simulator_of(ladder: Circuit) -> Simulator:
    plan = ladder.plan
    return Simulator(ladder.rungs, [coil.mark for coil in plan.contactors], plan.marks.of("latch"))


def running(ladder: Circuit) -> Simulator:
    return run(simulator_of(ladder), ladder.plan.settings.reset == "at the limit")


LADDERS = st.builds(
    circuit,
    st.lists(st.lists(st.sampled_from(["size 0", "size 1", "size 2", "size 3"]), min_size=1, max_size=4), min_size=1, max_size=4),
    heaters=st.integers(1, 8), level=st.sampled_from(["yes", "no", None]), gfr=st.booleans(),
    reset=st.sampled_from(["panel", "at the limit"]),
    controller=st.sampled_from(["others", "panel"]), volts=st.sampled_from([24.0, 120.0, 230.0]),
    backup=st.booleans(), shared=st.booleans(),
    region=st.sampled_from(["us", "si"]), limits=st.booleans(), transformer=st.booleans(),
)  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(LADDERS)
def test_whatever_opens_every_contactor_drops_and_stays_off_until_reset(ladder: Circuit) -> None:
    plan = ladder.plan
    hold_to_the_string(ladder.rungs, [coil.mark for coil in plan.contactors], plan.marks.of("latch"), plan.settings.reset == "at the limit")


@settings(max_examples=40, deadline=None)
@given(LADDERS)
def test_lost_control_power_drops_all_and_its_return_starts_nothing(ladder: Circuit) -> None:
    simulator = running(ladder)
    simulator.power = False
    simulator.settle()
    assert not simulator.pulled
    simulator.power = True
    simulator.settle()
    assert bool(simulator.on) == (ladder.plan.settings.reset == "at the limit")


@settings(max_examples=40, deadline=None)
@given(LADDERS, st.data())
def test_a_welded_contactor_blocks_reset(ladder: Circuit, data: st.DataObject) -> None:
    simulator = running(ladder)
    simulator.welded = {data.draw(st.sampled_from(simulator.contactors))}
    simulator.settle()
    assert simulator.on == set(simulator.contactors), "a weld while running is not seen: so the text says"
    simulator.power = False
    simulator.settle()
    simulator.power = True
    simulator.settle()
    simulator.press()
    assert not simulator.on and simulator.latch not in simulator.pulled


@settings(max_examples=40, deadline=None)
@given(LADDERS, st.booleans(), st.booleans(), st.booleans())
def test_with_the_string_open_no_input_pulls_a_coil_in(ladder: Circuit, auto: bool, calling: bool, pressed: bool) -> None:
    simulator = simulator_of(ladder)
    place = next(place for place, one in enumerate(ladder.elements) if one.kind == "interlock")
    simulator.opened, simulator.auto, simulator.calling, simulator.pressed = {place}, auto, calling, pressed
    assert not simulator.settle().pulled


@settings(max_examples=40, deadline=None)
@given(LADDERS)
def test_every_bank_follows_its_own_contact_and_the_selector_stops_all(ladder: Circuit) -> None:
    simulator = running(ladder)
    contacts = [place for place, one in enumerate(ladder.elements) if one.kind == "temperature contact"]
    for place, one in zip(contacts, (one for one in ladder.plan.switching.switched if one.number), strict=True):
        simulator.opened = {place}
        off = {coil.mark for part in one.parts for coil in part.coils}
        assert simulator.settle().on == set(simulator.contactors) - off
        simulator.opened = set()
        simulator.settle()
    simulator.auto = False
    assert not simulator.settle().on


@settings(max_examples=40, deadline=None)
@given(LADDERS)
def test_coils_stand_on_wire_2_behind_the_latch_and_no_contact_is_beyond_its_rating(ladder: Circuit) -> None:
    assert all(one.end == COMMON for one in ladder.elements if one.kind in ("coil", "lamp", "load"))
    assert not ladder.plan.switching.beyond
    for duty in ladder.plan.switching.duties:
        assert duty.make_a <= duty.most_make_a + 1e-9 and duty.break_a <= duty.most_break_a + 1e-9, duty
    assert [rung.line for rung in ladder.rungs] == list(range(101, 101 + len(ladder.rungs)))


@settings(max_examples=40, deadline=None)
@given(LADDERS)
def test_designations_and_terminals_are_used_once(ladder: Circuit) -> None:
    devices = [one.mark for one in ladder.elements if one.kind in ("coil", "lamp", "limit", "fuse", "button", "level cutoff", "primary")]
    assert len(devices) == len(set(devices))
    points = [(one.box, point) for one in ladder.elements if one.kind not in ("ground", "secondary") for point in one.points]
    assert len(points) == len(set(points))


@settings(max_examples=40, deadline=None)
@given(LADDERS)
def test_wires_join_exactly_what_the_ladder_joins(ladder: Circuit) -> None:
    """Points that the wires join have one wire number, and all points of a number in the ladder are joined by wires."""
    wires = list(control_wires(ladder.plan, ladder.rungs, "14"))
    joined: dict[tuple[str, str], set[tuple[str, str]]] = {}
    for wire in wires:
        one, other = (wire.start_box, wire.start), (wire.end_box, wire.end)
        net = joined.get(one, {one}) | joined.get(other, {other})
        for point in net:
            joined[point] = net
    numbers: dict[str, set[tuple[str, str]]] = {}
    for one in ladder.elements:
        for point, number in zip(one.points, (one.start, one.end), strict=True):
            if number not in (*ladder.plan.primary, "ground"):
                numbers.setdefault(number, set()).add((one.box, point))
    for number, points in numbers.items():
        first = next(iter(points))
        assert len(points) == 1 or points <= joined[first], f"wire {number} is in pieces"
        assert all(not points & others for other, others in numbers.items() if other != number)
    for point in ((one.box, one.point) for one in strip_terminals(ladder.plan, ladder.rungs) if one.wire and one.strip != "TB1"):
        assert point in joined


# Worked by hand, case by case: S = contactors + latch 20 + relays 20 + LT1 3 + 3 a bank + controller 15; root of S^2 + I^2 over four.
@pytest.mark.parametrize(
    ("banks", "controller", "volts", "sealed", "inrush", "va", "primary", "secondary", "relays"),
    [
        ([["size 1"]], "others", 120.0, 55, 271, 75, 0.25, 1, 0),
        ([["size 2", "size 2"], ["size 1"]], "panel", 120.0, 147, 911, 250, 1.25, 3, 0),
        ([["size 2", "size 2"]], "others", 24.0, 120, 668, 200, 1, 12, 1),
    ],
)  # fmt: skip
def test_transformer_fuses_and_relays(banks, controller, volts, sealed, inrush, va, primary, secondary, relays) -> None:
    plan = circuit(banks, controller=controller, volts=volts).plan
    other = other_load(len(banks), plan.switching.relays, int(controller == "panel"), 0, RULES)
    power = control_power(plan.contactors, other, 480.0, volts, rules=RULES)
    assert plan.switching.relays == relays
    assert power == (sealed, inrush, va, primary, secondary)


def test_contact_duties_by_hand() -> None:
    """622 VA over 120 V make 5.18 A and 867 VA 7.225 A; over 24 V 74 VA break 3.08 A, above the 3 A of B300, so a relay stands between."""
    duties = {duty.mark: duty for duty in circuit([["size 2", "size 2"], ["size 1"]]).plan.switching.duties}
    assert round(duties["TC1"].make_a, 2) == 5.18 and duties["CRL1/1"].make_a == pytest.approx(7.225)
    low = {duty.mark: duty for duty in circuit([["size 2", "size 2"]], volts=24.0).plan.switching.duties}
    assert round(low["CR1/1"].break_a, 2) == 3.08 and low["TC1"].break_a < 3


def test_lines_and_wire_numbers_of_three_panels() -> None:
    """By count: two panels of six heaters and one of three on strips of 14, 14 and 8 terminals."""
    ladder = circuit([["size 2", "size 2"], ["size 1"]], controller="others")
    plan = ladder.plan._replace(strips=(*ladder.plan.strips[:2], ladder.plan.strips[2]._replace(numbers=(1, 2, 3))))
    rungs = build_ladder(plan)
    lines = {rung.line: [one.mark for one in rung.elements] for rung in rungs}
    assert lines[109] == ["TC1", "CON1"] and lines[110] == ["CON2"] and lines[111] == ["TC2", "CON3"]
    assert lines[112][-1] == "LT2-1" and lines[113][-1] == "LT2-2"
    assert [strip.terminals for strip in plan.strips] == [14, 14, 8]
    at = {one.point: one.wire for one in strip_terminals(plan, rungs) if one.box == plan.box}
    assert [at[f"TB1:{number}"] for number in range(1, 7)] == ["1", "1041", "1041", "1042", "1042", "1043"]
    wires = list(control_wires(plan, rungs, "14"))
    between = [(wire.start_box, wire.start, wire.end_box, wire.end) for wire in wires if wire.field and wire.end_box != "field"]
    assert between == [
        ("T-1/HCP", "TB1:1", "T-1/1-P1", "TB3:1"), ("T-1/1-P1", "TB3:14", "T-1/1-P2", "TB3:1"),
        ("T-1/1-P2", "TB3:14", "T-1/2-P1", "TB3:1"), ("T-1/2-P1", "TB3:8", "T-1/HCP", "TB1:2"),
    ]  # fmt: skip
    jumpers = [wire for wire in wires if wire.colour == "jumper" and wire.start_box == "T-1/1-P1"]
    assert [(wire.start, wire.end) for wire in jumpers] == [(f"TB3:{at}", f"TB3:{at + 1}") for at in range(1, 14, 2)]
    seventh = next(one for rung in rungs for one in rung.elements if one.mark == "1-OTL7")
    assert (seventh.box, seventh.points) == ("T-1/1-P2", ("TB3:2", "TB3:3"))


def test_the_marks_of_back_up_contactors() -> None:
    """One stands alone; of several each has a number, and none has that of a contactor."""
    assert [TankMarks("us").back_up(1, 1), TankMarks("us").back_up(1, 2), TankMarks("us").back_up(2, 2)] == ["CONB", "CONB1", "CONB2"]
    assert [TankMarks("si").back_up(1, 1), TankMarks("si").back_up(1, 2), TankMarks("si").back_up(2, 2)] == ["-Q10", "-Q501", "-Q502"]
    assert TankMarks("si").of("contactor") == "-Q11"


def test_spare_terminals_of_the_control_strip() -> None:
    """Two a bank, behind the last that a wire lands on: with one bank and its temperature contact by others TB1 has 12 and 2."""
    for banks in ([["size 2"]], [["size 2"], ["size 1"], ["size 1"]]):
        ladder = circuit(banks)
        strip = [one for one in strip_terminals(ladder.plan, ladder.rungs) if one.strip == "TB1"]
        last = max(12, *(one.number for one in strip if one.wire))
        assert [one.number for one in strip] == list(range(1, last + 2 * len(banks) + 1))
