"""How heaters are joined, chosen or as given, and what a bank of them draws; worked by hand."""

from __future__ import annotations

from math import sqrt

import pytest

from batch.records import Supply
from batch.sizing.connection import CannotSize
from batch.systems import System
from tests.job_builder import DELTA_480, WYE_480, WYE_480_4, codes, sized

ONE = Supply(480.0, 2, System.LINE_TO_LINE)
LEG = Supply(277.0, 2, System.LINE_TO_NEUTRAL)
THREE_WIRE = Supply(240.0, 3, System.THREE_WIRE)
LEG_V = 480 / sqrt(3)


@pytest.mark.parametrize(
    ("supply", "phases", "volts", "quantity", "given", "words", "across", "applied"),
    [
        # each way that volts and phases can match, with the count on either side of its limit
        (WYE_480, 3, 480, 1, None, "parallel", "3-phase", 480),
        (ONE, 1, 480, 5, None, "parallel", "line", 480),
        (LEG, 1, 277, 2, None, "parallel", "neutral", 277),
        (WYE_480, 1, 480, 3, None, "delta", "line", 480),
        (WYE_480, 1, 480, 2, None, "parallel", "line", 480),
        (WYE_480, 1, 480, 1, None, "parallel", "line", 480),
        (WYE_480_4, 1, 277, 4, None, "wye to neutral", "neutral", LEG_V),
        (WYE_480_4, 1, 277, 1, None, "wye to neutral", "neutral", LEG_V),
        (WYE_480, 1, 277, 3, None, "wye, no neutral", "wye", LEG_V),
        (WYE_480, 1, 277, 6, None, "separate 3-heater wyes", "wye", LEG_V),
        (THREE_WIRE, 1, 120, 3, None, "to neutral", "neutral", 120),
        (THREE_WIRE, 1, 240, 3, None, "parallel", "line", 240),
        # the nearer volts by ratio: the geometric mean of 480 and 277.1 is 364.7
        (WYE_480_4, 1, 365, 3, None, "delta", "line", 480),
        (WYE_480_4, 1, 364, 3, None, "wye to neutral", "neutral", LEG_V),
        (THREE_WIRE, 1, 170, 2, None, "parallel", "line", 240),
        (THREE_WIRE, 1, 169, 2, None, "to neutral", "neutral", 120),
        # as given
        (WYE_480, 1, 480, 6, "parallel", "parallel", "line", 480),
        (WYE_480_4, 1, 277, 2, "parallel", "parallel on one leg", "neutral", LEG_V),
        (THREE_WIRE, 1, 120, 2, "parallel", "parallel on one leg", "neutral", 120),
        (WYE_480, 1, 480, 2, "delta", "open delta", "line", 480),
        (WYE_480, 1, 480, 1, "delta", "open delta", "line", 480),
        (WYE_480_4, 1, 480, 3, "wye", "wye to neutral", "neutral", LEG_V),
        (WYE_480, 1, 277, 6, "wye", "separate 3-heater wyes", "wye", LEG_V),
        (WYE_480, 1, 277, 4, "wye", "common-point wye", "common-point wye", LEG_V),
        (WYE_480, 1, 277, 6, "common-point wye", "common-point wye", "common-point wye", LEG_V),
        (WYE_480, 3, 480, 2, "delta", "parallel", "3-phase", 480),
        (WYE_480, 3, 480, 2, "wye", "parallel", "3-phase", 480),
    ],
)
def test_connection(supply, phases, volts, quantity, given, words, across, applied) -> None:
    made = sized(supply=supply, phases=phases, volts_v=float(volts), quantity=quantity, connection=given, power_kw=1.0)
    assert (made.connection, made.connected.across) == (words, across)
    if not (across == "common-point wye" and quantity % 3):
        assert made.applied_v == pytest.approx(applied)
    assert ("connection-chosen" in codes(made.remarks)) is (given is None)


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"supply": ONE, "phases": 3}, "three-phase-on-single"),
        ({"supply": ONE, "connection": "delta"}, "connection-needs-three-phase"),
        ({"supply": THREE_WIRE, "connection": "wye", "volts_v": 120.0}, "connection-needs-three-phase"),
        ({"supply": WYE_480, "volts_v": 277.0, "quantity": 4}, "wye-count"),
        ({"supply": WYE_480, "volts_v": 277.0, "quantity": 1, "connection": "wye"}, "wye-count"),
        ({"phases": 2}, "phases-impossible"),
    ],
)
def test_what_cannot_be_joined_is_refused(given: dict, code: str) -> None:
    with pytest.raises(CannotSize) as refused:
        sized(**given)
    assert refused.value.said.code == code


@pytest.mark.parametrize(
    ("quantity", "connection", "code"),
    [
        (3, None, None), (4, None, "delta-uneven"), (4, "delta", "delta-uneven"), (5, "delta", "delta-uneven"), (2, "delta", "open-delta"),
        (1, "delta", "open-delta"), (2, None, None),
    ],
)  # fmt: skip
def test_counts_that_three_does_not_divide(quantity: int, connection: str | None, code: str | None) -> None:
    said = codes(sized(quantity=quantity, connection=connection).remarks) & {"delta-uneven", "open-delta"}
    assert said == ({code} if code else set())


def test_an_uneven_wye_to_neutral_is_noted() -> None:
    assert "wye-uneven" in codes(sized(quantity=4, volts_v=277.0, supply=WYE_480_4, power_kw=2.0).remarks)
    assert "wye-uneven" not in codes(sized(quantity=6, volts_v=277.0, supply=WYE_480_4, power_kw=2.0).remarks)
    assert "wye-uneven" not in codes(sized(quantity=1, volts_v=277.0, supply=WYE_480_4, power_kw=2.0).remarks)


def test_line_currents_of_a_delta() -> None:
    """Three heaters of 12.5 A: 12.5 x 1.732 = 21.65 A on every line. Four: x 25, y 12.5, z 12.5 A, so line A carries
    sqrt((0.866 x 37.5)^2 + (12.5 / 2)^2) = 33.07 A, line C 21.65 A."""
    assert sized(quantity=3).line_a == pytest.approx(21.6506, abs=1e-4)
    made = sized(quantity=4)
    assert made.line_a == pytest.approx(33.0719, abs=1e-4)
    assert made.panels[0].lines.c == pytest.approx(21.6506, abs=1e-4)


def test_open_delta() -> None:
    """Two on A-B and B-C: the outer lines carry one heater's current, the middle one 1.732 of it."""
    made = sized(quantity=2, connection="delta")
    assert tuple(made.single_circuit.lines)[:3] == pytest.approx((12.5, 21.6506, 12.5), abs=1e-4)


def test_an_uneven_joined_star_by_hand() -> None:
    """2 + 1 + 1 equal heaters: wye point at a quarter of V_A from the middle. Legs B and C see |V_B - V_A / 4| = V_LN sqrt(1 + 1/4 + 1/16)
    = 1.1456 V_LN, leg A 3/4 of V_LN."""
    made = sized(quantity=4, volts_v=277.0, connection="common-point wye", power_kw=3.0)
    assert made.applied_v == pytest.approx(LEG_V * sqrt(1.3125))
    assert "wye-legs-uneven" in codes(made.remarks)
    legs = [2 * 0.75**2, 1.3125, 1.3125]
    assert made.delivered_kw == pytest.approx(3.0 * sum(legs) * (LEG_V / 277) ** 2)
    assert made.design_a == pytest.approx(made.heater_a * LEG_V * sqrt(1.3125) / 277)


@pytest.mark.parametrize(
    ("volts", "percent", "code"), [(277.0, 120, "wye-legs-uneven"), (303.0, 110, "wye-legs-uneven"), (347.0, 96, "wye-legs-uneven-within")]
)
def test_an_uneven_star_is_judged_by_its_fullest_volts(volts: float, percent: int, code: str) -> None:
    """Five in one wye are 2 + 2 + 1: 1.2 V_LN, 332.6 V, on the single heater."""
    made = sized(quantity=5, volts_v=volts, connection="common-point wye")
    assert made.applied_v == pytest.approx(1.2 * LEG_V)
    assert round(100 * made.applied_v / volts) == percent
    assert codes(made.remarks) & {"wye-legs-uneven", "wye-legs-uneven-within"} == {code}


def test_low_volts_of_an_uneven_star_are_not_passed_over() -> None:
    """Sixteen 347 V heaters on 480 V: even the fullest leg has 283 V, 82 %: a caution as for any other connection."""
    made = sized(quantity=16, volts_v=347.0, connection="common-point wye", branches_per_panel=16)
    assert made.applied_v / 347 == pytest.approx(0.82, abs=0.005)
    assert {"wye-legs-uneven-within", "volts-low"} <= codes(made.remarks)


@pytest.mark.parametrize(
    ("volts", "code"),
    [(277.0, None), (266.0, "volts-near"), (262.0, "volts-high"), (250.0, "volts-over"), (300.0, "volts-near"), (347.0, "volts-low")],
)
def test_the_bands_judge_the_legs_of_an_even_star(volts: float, code: str | None) -> None:
    """277.1 V on 266 (+4.2 %), 262 (+5.8 %), 250 (+10.9 %), 300 (-7.6 %), 347 V (-20 %)."""
    said = codes(sized(quantity=6, volts_v=volts, power_kw=2.0, connection="wye").remarks)
    assert said & {"volts-near", "volts-high", "volts-over", "volts-low"} == ({code} if code else set())


@pytest.mark.parametrize(
    ("quantity", "connection", "percent", "said"),
    [
        (6, "common-point wye", 120, True),  # m = 2: 6 / 5
        (9, "common-point wye", 112.5, True),  # m = 3: 9 / 8, in one panel of nine
        (6, "wye", 86.6, False),  # two left in series
        (3, "common-point wye", 86.6, False),
    ],
)
def test_one_branch_open(quantity: int, connection: str, percent: float, said: bool) -> None:
    made = sized(quantity=quantity, volts_v=LEG_V, connection=connection, power_kw=2.0, branches_per_panel=9)
    assert made.open_branch_pct == pytest.approx(percent, abs=0.05)
    assert ("open-branch-overvoltage" in codes(made.remarks)) is said


def test_one_branch_open_leaves_delta_and_neutral_as_they_were() -> None:
    assert sized(quantity=6).open_branch_pct == 100
    assert sized(quantity=6, volts_v=LEG_V, supply=WYE_480_4, power_kw=2.0).open_branch_pct == pytest.approx(100)


def test_under_volted_heaters_are_wired_for_their_nameplate() -> None:
    """480 V, 12 kW, 25 A heaters on 208 V: 10.83 A flow, yet devices and wires are for 25 A: 31.25 A, a 35 A device."""
    made = sized(quantity=1, power_kw=12.0, supply=Supply(208.0, 3, System.WYE_GROUNDED))
    assert made.design_a == 25 and made.running_a == pytest.approx(10.8333, abs=1e-4)
    assert made.single_circuit.panel_feeder_device.rating_a == 35
    assert made.delivered_kw == pytest.approx(12 * (208 / 480) ** 2)
    assert "volts-low" in codes(made.remarks)


def test_over_volted_heaters_are_wired_for_what_flows() -> None:
    """440 V, 8.8 kW, 20 A heaters on 480 V draw 21.82 A: 27.27 A with 25 %, a 30 A device, where 20 A would have taken 25 A."""
    made = sized(quantity=1, power_kw=8.8, volts_v=440.0, supply=DELTA_480)
    assert made.design_a == pytest.approx(21.8182, abs=1e-4) and made.single_circuit.panel_feeder_device.rating_a == 30


def test_a_joined_star_whose_heaters_need_two_circuits_is_split_by_them() -> None:
    """277 V, 20 kW: 72.2 A, two circuits a heater, so a panel of eight branches holds four: five heaters are 3 + 2, and the wye of two
    decides the volts: half of 480 V each."""
    made = sized(quantity=5, volts_v=277.0, power_kw=20.0, connection="common-point wye")
    assert made.circuits_per_heater == 2 and [panel.heaters for panel in made.panels] == [3, 2]
    assert made.applied_v == pytest.approx(LEG_V)
    assert made.delivered_kw == pytest.approx(20 * (3 * (LEG_V / 277) ** 2 + 2 * (240 / 277) ** 2))
