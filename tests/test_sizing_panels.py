"""Is a panel needed, how heaters stand in rotation and are split, and what one panel is built from; worked by hand."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from batch.method.neutral import current_carrying
from batch.method.panel_split import split_heaters
from batch.method.terminals import wires_on_terminal
from batch.records import Supply
from batch.sizing.legs import lines_used
from batch.sizing.placing import bank_loads, panel_starts
from batch.systems import Connection, System
from tests.job_builder import RULES, WYE_480, WYE_480_4, codes, sized
from tests.job_builder import settings as project_settings

DELTA, PARALLEL, NEUTRAL = Connection.DELTA, Connection.ONE_PAIR, Connection.TO_NEUTRAL
SEPARATE, COMMON, THREE = Connection.SEPARATE_WYES, Connection.COMMON_POINT_WYE, Connection.THREE_PHASE
THREE_WIRE = Supply(240.0, 3, System.THREE_WIRE)
ONE = Supply(480.0, 2, System.LINE_TO_LINE)


@pytest.mark.parametrize(
    ("connection", "supply", "heaters", "circuits", "wires"),
    [
        (PARALLEL, ONE, 1, 1, 1), (PARALLEL, ONE, 2, 1, 2), (PARALLEL, ONE, 3, 1, 3), (PARALLEL, WYE_480, 2, 2, 4),
        (THREE, WYE_480, 2, 1, 2),
        # delta: at a terminal the heaters of two legs meet
        (DELTA, WYE_480, 1, 1, 1), (DELTA, WYE_480, 2, 1, 2), (DELTA, WYE_480, 3, 1, 2), (DELTA, WYE_480, 4, 1, 3),
        (DELTA, WYE_480, 5, 1, 4), (DELTA, WYE_480, 6, 1, 4), (DELTA, WYE_480, 9, 1, 6),
        # wye: the heaters of the leg; the neutral lands on a bar of its own
        (NEUTRAL, WYE_480_4, 3, 1, 1), (NEUTRAL, WYE_480_4, 6, 1, 2), (NEUTRAL, WYE_480_4, 7, 1, 3), (NEUTRAL, THREE_WIRE, 3, 1, 2),
        (SEPARATE, WYE_480, 6, 1, 2),
    ],
)  # fmt: skip
def test_wires_on_the_fullest_contactor_terminal(connection: Connection, supply: Supply, heaters: int, circuits: int, wires: int) -> None:
    assert wires_on_terminal(connection, supply.system, heaters, circuits, RULES).value == wires


@pytest.mark.parametrize(
    ("given", "panel"),
    [
        ({"quantity": 1}, False),
        ({"quantity": 2, "power_kw": 11.52}, False),  # 2 x 24 A = 48 A on one pair
        ({"quantity": 2, "power_kw": 11.53}, True),
        ({"quantity": 3, "power_kw": 13.3}, False),  # 27.708 A x 1.732 = 47.99 A
        ({"quantity": 3, "power_kw": 13.31}, True),  # 48.03 A
        ({"quantity": 4, "power_kw": 1.0}, True),  # three wires
        ({"quantity": 6, "volts_v": 277.0, "supply": WYE_480_4, "power_kw": 3.0}, False),  # two a leg, 21.66 A
        ({"quantity": 7, "volts_v": 277.0, "supply": WYE_480_4, "power_kw": 3.0}, True),
        ({"quantity": 3, "volts_v": 277.0, "power_kw": 1.0}, True),  # a wye point
        ({"quantity": 2, "phases": 3, "power_kw": 19.95}, False),  # 2 x 23.996 A
        ({"quantity": 2, "phases": 3, "power_kw": 19.96}, True),
        ({"quantity": 1, "phases": 3, "power_kw": 20.0, "circuits_per_heater": 2}, True),
    ],
)
def test_single_circuit_or_panel(given: dict, panel: bool) -> None:
    made = sized(**given)
    assert bool(made.panels) is panel and (made.single_circuit is None) is panel


@pytest.mark.parametrize("allowed", [2, 3, 4])
def test_a_wye_without_neutral_has_a_panel_however_many_wires_a_terminal_takes(allowed: int) -> None:
    """No contactor has a terminal for the wye point."""
    for connection in ("wye", "common-point wye"):
        made = sized(quantity=3, volts_v=277.0, connection=connection, settings=project_settings(wires_per_terminal=allowed))
        assert made.panels and "wye point" in made.panel_why


def test_more_wires_where_the_terminal_takes_them() -> None:
    assert sized(quantity=4, power_kw=1.0, connection="parallel", settings=project_settings(wires_per_terminal=4)).single_circuit
    assert sized(quantity=3, power_kw=1.0, settings=project_settings(wires_per_terminal=1)).panels


@pytest.mark.parametrize(
    ("power_kw", "rating", "said"), [(18.0, 60, True), (16.0, 50, True), (8.0, 30, True), (6.0, 20, False), (3.0, 15, False)]
)
def test_a_device_large_for_one_of_its_heaters_is_a_caution(power_kw: float, rating: float, said: bool) -> None:
    """Two 3-phase heaters on one circuit, 210.18: of 18 kW 2 x 21.65 x 1.25 = 54.1 A where one alone takes 27.1, so 30 A; of 16 kW
    48.1 A and 24.1, so 25 A; of 8 kW 24.1 A, a circuit of 30, and 12.03, so 15 A, three sizes less; of 6 kW 18.04 A and 9.02,
    20 A and 15 A, one."""
    made = sized(quantity=2, power_kw=power_kw, phases=3, connection=None)
    assert made.single_circuit.panel_feeder_device.rating_a == rating
    assert ("single-circuit-large" in codes(made.remarks)) is said


@pytest.mark.parametrize(
    ("connection", "supply", "heaters", "lines", "neutral"),
    [
        (DELTA, WYE_480, 1, 2, False), (DELTA, WYE_480, 2, 3, False), (PARALLEL, WYE_480, 5, 2, False),
        (NEUTRAL, WYE_480_4, 1, 1, True), (NEUTRAL, WYE_480_4, 2, 2, True), (NEUTRAL, WYE_480_4, 3, 3, True),
        (NEUTRAL, THREE_WIRE, 3, 2, True), (COMMON, WYE_480, 2, 3, False), (THREE, WYE_480, 1, 3, False),
    ],
)  # fmt: skip
def test_a_panel_feeder_has_the_lines_that_its_heaters_stand_on(
    connection: Connection, supply: Supply, heaters: int, lines: int, neutral: bool
) -> None:
    assert lines_used(connection, supply, heaters) == (lines, neutral)


def test_a_panel_feeder_is_for_the_fullest_line() -> None:
    """Two 12.5 A heaters on A-B and B-C of an open delta over a panel: line B carries 12.5 x sqrt(3) = 21.65 A, A and C 12.5 A."""
    made = sized(quantity=2, connection="delta", settings=project_settings(wires_per_terminal=1))
    [panel] = made.panels
    assert panel.lines.a == pytest.approx(12.5) and panel.lines.b == pytest.approx(12.5 * 3**0.5)
    assert panel.required_a == pytest.approx(1.25 * 12.5 * 3**0.5) and panel.panel_feeder_device.rating_a == 30


def test_a_circuit_of_a_heater_carries_its_share() -> None:
    """30 kW, 480 V, one phase: 62.5 A, two circuits of 31.25 A, 39.1 A with margin, each behind 40 A."""
    branch = sized(quantity=1, power_kw=30.0).branch
    assert branch.design_a == pytest.approx(31.25) and branch.running_a == pytest.approx(31.25)
    assert branch.required_a == pytest.approx(39.0625) and branch.device.rating_a == 40


@pytest.mark.parametrize(
    ("connection", "supply", "heaters", "most", "counts"),
    [
        (DELTA, WYE_480, 9, 8, (6, 3)), (DELTA, WYE_480, 10, 8, (6, 4)), (DELTA, WYE_480, 11, 8, (6, 5)), (DELTA, WYE_480, 12, 8, (6, 6)),
        (DELTA, WYE_480, 16, 8, (8, 8)), (DELTA, WYE_480, 8, 8, (8,)), (DELTA, WYE_480, 15, 8, (8, 7)), (DELTA, WYE_480, 17, 8, (6, 6, 5)),
        (NEUTRAL, WYE_480_4, 9, 8, (6, 3)), (NEUTRAL, THREE_WIRE, 9, 8, (5, 4)), (NEUTRAL, THREE_WIRE, 10, 8, (6, 4)),
        (PARALLEL, ONE, 9, 8, (5, 4)), (THREE, WYE_480, 17, 8, (6, 6, 5)), (THREE, WYE_480, 9, 2, (2, 2, 2, 2, 1)),
        # a single heater on a wye point of its own would carry nothing: three and one in delta, two and two on common points
        (DELTA, WYE_480, 4, 3, (3, 1)), (COMMON, WYE_480, 4, 3, (2, 2)), (COMMON, WYE_480, 7, 3, (3, 2, 2)),
        (SEPARATE, WYE_480, 15, 6, (6, 6, 3)), (SEPARATE, WYE_480, 9, 6, (6, 3)), (SEPARATE, WYE_480, 3, 6, (3,)),
    ],
)  # fmt: skip
def test_splits(connection: Connection, supply: Supply, heaters: int, most: int, counts: tuple[int, ...]) -> None:
    """As few panels as can be; most that divide by the legs; then the most even. 10 on two legs is 6 + 4: two even
    numbers, where 5 + 5 is odd twice."""
    assert split_heaters(connection, supply.system, heaters, most) == counts


def partitions(total: int, panels: int, most: int) -> Iterator[tuple[int, ...]]:
    if panels == 0:
        if total == 0:
            yield ()
        return
    for first in range(min(total, most), 0, -1):
        for rest in partitions(total - first, panels - 1, first):
            yield (first, *rest)


@settings(max_examples=120, deadline=None)
@given(st.integers(1, 40), st.integers(1, 12), st.sampled_from([(DELTA, WYE_480, 3), (NEUTRAL, WYE_480_4, 3), (NEUTRAL, THREE_WIRE, 2)]))
def test_splits_of_banks_in_rotation_by_brute_force(heaters: int, most: int, rotation: tuple[Connection, Supply, int]) -> None:
    connection, supply, legs = rotation
    counts = split_heaters(connection, supply.system, heaters, most)
    panels = -(-heaters // most)
    assert len(counts) == panels and sum(counts) == heaters and max(counts) <= most and min(counts) >= 1
    if panels > 6:
        return  # too many to try them all

    def good(found: tuple[int, ...]) -> tuple[int, int]:
        return -sum(count % legs == 0 for count in found), sum((count * panels - heaters) ** 2 for count in found)

    assert good(counts) == min(map(good, partitions(heaters, panels, most)))


@given(st.integers(1, 500), st.integers(1, 42))
def test_other_banks_split_evenly_into_as_few_as_can_be(heaters: int, most: int) -> None:
    counts = split_heaters(THREE, WYE_480.system, heaters, most)
    assert len(counts) == -(-heaters // most) and sum(counts) == heaters
    assert max(counts) <= most and max(counts) - min(counts) <= 1


@given(st.integers(1, 60), st.integers(1, 14))
def test_separate_wyes_stay_whole(wyes: int, per_panel: int) -> None:
    counts = split_heaters(SEPARATE, WYE_480.system, 3 * wyes, 3 * per_panel)
    assert sum(counts) == 3 * wyes and all(count % 3 == 0 for count in counts)
    assert len(counts) == -(-wyes // per_panel) and max(counts) - min(counts) <= 3


@pytest.mark.parametrize(
    ("given", "heaters", "circuits"),
    [
        ({"quantity": 15, "volts_v": 277.0, "power_kw": 3.0}, [6, 6, 3], 1),
        ({"quantity": 15, "volts_v": 277.0, "power_kw": 3.0, "branches_per_panel": 9}, [9, 6], 1),
        ({"quantity": 15, "volts_v": 277.0, "power_kw": 3.0, "branches_per_panel": 5}, [3, 3, 3, 3, 3], 1),
        ({"quantity": 5, "phases": 3, "power_kw": 60.0}, [3, 2], 2),  # 72.2 A: two circuits, so four heaters a panel at most
        ({"quantity": 5, "phases": 3, "power_kw": 120.0, "circuits_per_heater": 4}, [2, 2, 1], 4),
    ],
)
def test_a_panel_holds_whole_heaters_and_whole_wyes(given: dict, heaters: list[int], circuits: int) -> None:
    made = sized(**given)
    assert [panel.heaters for panel in made.panels] == heaters
    assert made.circuits_per_heater == circuits and all(panel.branches == panel.heaters * circuits for panel in made.panels)


@pytest.mark.parametrize(
    ("given", "what"),
    [
        ({"quantity": 2, "phases": 3, "power_kw": 60.0, "circuits_per_heater": 9}, "A heater"),
        ({"quantity": 3, "volts_v": 277.0, "power_kw": 3.0, "branches_per_panel": 2}, "A wye of three heaters"),
    ],
)
def test_more_circuits_than_a_panel_takes(given: dict, what: str) -> None:
    [said] = [one for one in sized(**given).remarks if one.code == "branches-over-panel"]
    assert dict(said.fields)["what"] == what


@pytest.mark.parametrize("usual", [8, 9])
def test_up_to_eight_branches_are_usual(usual: int) -> None:
    said = codes(sized(quantity=20, branches_per_panel=usual).remarks)
    assert ("branches-unusual" in said) is (usual > 8)


def test_the_next_panel_goes_on_where_the_last_one_stopped() -> None:
    """Sixteen in two panels of eight: 6 + 5 + 5 on the legs, not 6 + 6 + 4. 16 x 12.5 A: x 75, y 62.5, z 62.5 A."""
    made = sized(quantity=16)
    assert [panel.heaters for panel in made.panels] == [8, 8]
    assert panel_starts(made, WYE_480, 0) == (0, 2)
    assert tuple(bank_loads(made, WYE_480, panel_starts(made, WYE_480, 0))[0])[:3] == pytest.approx((75.0, 62.5, 62.5))
    joined = sized(quantity=16, volts_v=277.0, power_kw=3.0, connection="common-point wye")
    assert panel_starts(joined, WYE_480, 1) == (1, 0)


# What a panel is built from


def test_a_panel_of_six_in_delta() -> None:
    """6 x 6 kW, 480 V: x = y = z = 25 A, lines 25 x 1.732 = 43.30 A; 54.13 A with 25 %, so a 60 A feed; 60 C column, 6 AWG (55 A) with 60 A
    the next size above 55; at 40 C 75 x 0.91 = 68 A. Contactor size 3: size 2 heats 42.674 A
    (NEMA ICS 2: 8.5 kW at 115 V), size 3 85.347 A (17 kW). Block for the 60 A device."""
    [panel] = sized(quantity=6).panels
    assert panel.lines.a == pytest.approx(43.3013, abs=1e-4) and panel.lines.n == 0
    assert panel.required_a == pytest.approx(54.1266, abs=1e-4)
    assert panel.panel_feeder_device.rating_a == 60 and panel.panel_feeder_device.poles == 3
    assert panel.panel_feeder_wires.size == "6" and panel.panel_feeder_wires.ground == "10"
    assert panel.contactor_a == pytest.approx(85.347, abs=1e-3) and panel.block_a == 60
    assert panel.branch.device.rating_a == 20 and panel.branch.device.poles == 2
    assert panel.legs == ("L1-L2", "L2-L3", "L3-L1") * 2


def test_margin_is_applied_once() -> None:
    """The contactor covers the line current once; device and wires 1.25 times: 42 A still takes size 2, which heats 42.674 A."""
    given = {"quantity": 3, "phases": 3, "power_kw": 480 * 3**0.5 * 14 / 1000}
    [panel] = sized(**given).panels
    assert panel.lines.maximum == pytest.approx(42)
    assert panel.contactor_a == pytest.approx(42.674, abs=1e-3) and panel.panel_feeder_device.rating_a == 60


def test_neutral_feed_has_no_pole_in_the_neutral() -> None:
    """Seven 277 V heaters: legs of 3, 2, 2; a 3-pole panel feeder OCPD, a neutral of phase size, 1-pole branches."""
    [panel] = sized(quantity=7, volts_v=277.0, supply=WYE_480_4, power_kw=3.0).panels
    assert panel.panel_feeder_device.poles == 3 and panel.panel_feeder_wires.lines == 3
    assert panel.panel_feeder_wires.neutral == panel.panel_feeder_wires.size
    assert panel.branch.device.poles == 1 and panel.branch.wires.lines == 1 and panel.branch.wires.neutral == panel.branch.wires.size
    assert panel.lines.n == pytest.approx(10.8303, abs=1e-4)  # one heater more on one leg
    one_leg = sized(quantity=4, volts_v=277.0, supply=WYE_480_4, power_kw=3.0, connection="parallel").panels[0]
    assert one_leg.panel_feeder_device.poles == 1 and one_leg.panel_feeder_wires.lines == 1 and one_leg.panel_feeder_wires.neutral


@pytest.mark.parametrize(
    ("lines", "neutral", "supply", "carrying"),
    [
        (1, True, WYE_480_4, 2), (2, True, WYE_480_4, 3), (3, True, WYE_480_4, 3), (2, False, WYE_480, 2), (3, False, WYE_480, 3),
        (2, True, THREE_WIRE, 2), (1, True, THREE_WIRE, 2), (2, False, ONE, 2),
    ],
)  # fmt: skip
def test_current_carrying_conductors(lines: int, neutral: bool, supply: Supply, carrying: int) -> None:
    """310.15(E): the neutral of two lines of a wye carries as much as they do; that of a full circuit only the difference."""
    assert current_carrying(lines, neutral, supply.phases, RULES).value == carrying


@pytest.mark.parametrize(("heaters", "limits", "terminals"), [(6, True, 14), (3, True, 8), (6, False, 0), (1, True, 4)])
def test_limit_string_terminals(heaters: int, limits: bool, terminals: int) -> None:
    """2n + 2 for n heaters; none where they have no limits."""
    made = sized(quantity=heaters, limits=limits)
    panel = made.panels[0] if made.panels else made.single_circuit
    assert panel.limit_terminals == terminals
