"""Figures of the test record: worked by hand, and each resistance, each current and each open branch against the solver."""

from __future__ import annotations

from cmath import exp
from math import inf, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.method.heater_test import Band, amps_band
from batch.records import Supply
from batch.results import BankRow
from batch.rules import load
from batch.sizing.placing import groups
from batch.sizing.readings import Opened, PanelReadings, Reading, panel_readings
from batch.systems import System
from tests.job_builder import RULES, bank, feeder, one_bank, project, size
from tests.test_solver import Network

FT = 0.3048
ONE_PHASE = {"volts_v": 240.0, "phases": 1, "wires": 2, "system": "1-phase line-to-line"}
THREE_WIRE = {"volts_v": 240.0, "phases": 1, "wires": 3, "system": "1-phase 3-wire"}
FOUR_WIRE = {"wires": 4}


def row_of(on: dict[str, object], settings: dict[str, object] | None = None, **heaters: object) -> BankRow:
    return one_bank(size(bank(**{"heater_run_m": None, "connection": None} | heaters), feeder(**on), projects=project(**settings or {})))


def readings(row: BankRow, group: int = 0) -> PanelReadings:
    made = row.design
    return panel_readings(groups(made)[group], row.bank, row.supply, RULES, circuits=made.circuits_per_heater, run_m=made.run_m)


def of(on: dict[str, object] | None = None, **heaters: object) -> PanelReadings:
    return readings(row_of(on or {}, **heaters))


def band(low: float, nominal: float, high: float, abs: float = 0.006) -> object:
    return pytest.approx(Band(low, nominal, high), abs=abs)


def nominal(listed: tuple[Reading, ...]) -> dict[str, float]:
    return {one.at: one.band.nominal for one in listed}


def opened(found: PanelReadings, what: str, on: str) -> Opened:
    return next(one for one in found.opened if (one.what, one.on) == (what, on))


# --- worked by hand: phasors on paper, checked there by a second short calculation ----------------------------------------------------


def test_delta_of_six() -> None:
    """6 x 3 kW, 480 V: 480² / 3000 = 76.8 ohm; two on each pair 38.4, beside the other two in series 76.8: 25.6."""
    found = of(quantity=6, power_kw=3.0)
    assert found.heater == band(73.14, 76.80, 85.33) and found.nameplate == band(5.625, 6.250, 6.563, 0.001)
    assert found.each == (Reading("", found.each[0].band),) and found.each[0].band == band(5.625, 6.250, 6.563, 0.001)
    assert [one.at for one in found.joined] == ["L1-L2", "L2-L3", "L3-L1"] == list(found.volts_at)
    assert all(one.band == band(24.38, 25.60, 28.44) for one in found.joined)
    assert [one.at for one in found.all_on] == ["L1", "L2", "L3"]
    assert all(one.band == band(19.49, 21.65, 22.73) for one in found.all_on)
    out = opened(found, "branch", "L1-L2")
    assert out.branches == (1, 4)
    assert nominal(out.amps) == pytest.approx({"L1": 16.54, "L2": 16.54, "L3": 21.65}, abs=0.006)
    assert nominal(out.ohms) == pytest.approx({"L1-L2": 38.40, "L2-L3": 28.80, "L3-L1": 28.80}, abs=0.006)
    assert {one.on for one in found.opened} == {"L1-L2", "L2-L3", "L3-L1"}
    assert found.leads_ohm is None and (found.bond_ohm, found.bond_known) == (0.5, False)


def test_delta_of_six_measured_at_462_volts() -> None:
    """Amps times 462 / 480 = 0.9625; power of a heater 462² / 76.8 = 2,779 W."""
    found = of(quantity=6, power_kw=3.0)
    share = 462 / found.volts_v
    assert amps_band(found.each[0].band.nominal, RULES, 462, found.volts_v).value == band(5.414, 6.016, 6.316, 0.001)
    assert [value * share for value in found.all_on[0].band] == pytest.approx([18.75, 20.84, 21.88], abs=0.006)
    assert [one.band.nominal * share for one in opened(found, "branch", "L1-L2").amps] == pytest.approx([15.92, 15.92, 20.84], abs=0.006)
    assert 462**2 / found.heater.nominal == pytest.approx(2779, abs=0.5)


def test_three_phase_heaters() -> None:
    """3 x 12 kW, 480 V: line to line 2 x 480² / 12000 = 38.4 ohm, three beside each other 12.8; one pole out leaves √3 / 2 in two lines."""
    found = of(quantity=3, power_kw=12.0, phases=3)
    assert found.heater == band(36.57, 38.40, 42.67) and found.nameplate == band(12.99, 14.43, 15.16)
    assert [one.band.nominal for one in found.each] == pytest.approx([14.43], abs=0.006)  # elements of 1.5 x 38.4 = 57.6 ohm in delta
    assert all(one.band.nominal == pytest.approx(12.80) for one in found.joined)
    assert all(one.band.nominal == pytest.approx(43.30, abs=0.006) for one in found.all_on)
    pole = opened(found, "pole", "L1")
    assert nominal(pole.amps) == pytest.approx({"L1": 28.87, "L2": 40.18, "L3": 40.18}, abs=0.006)
    assert nominal(opened(found, "heater", "").amps) == pytest.approx(dict.fromkeys(("L1", "L2", "L3"), 28.87), abs=0.006)
    [one] = readings(row_of({}, quantity=1, power_kw=12.0, phases=3)).all_on[:1]
    single = opened(of(quantity=1, power_kw=12.0, phases=3), "line", "L1")
    assert nominal(single.amps)["L2"] == pytest.approx(sqrt(3) / 2 * one.band.nominal)  # two legs in series across the same volts


def test_two_separate_wyes() -> None:
    """6 x 5 kW, 277 V, on 480 V: 277² / 5000 = 15.35 ohm; a wye line to line 2 R, two of them R."""
    found = of(quantity=6, power_kw=5.0, volts_v=277.0)
    assert found.heater == band(14.61, 15.35, 17.05)
    assert found.nameplate.nominal == pytest.approx(18.05, abs=0.006)
    assert found.each[0].band.nominal == pytest.approx(18.06, abs=0.006)
    assert all(one.band.nominal == pytest.approx(15.35, abs=0.006) for one in found.joined)
    assert all(one.band.nominal == pytest.approx(36.12, abs=0.006) for one in found.all_on)
    out = opened(found, "branch", "L1")
    assert nominal(out.amps) == pytest.approx({"L1": 18.06, "L2": 32.56, "L3": 32.56}, abs=0.006)
    assert nominal(out.ohms) == pytest.approx({"L1-L2": 26.86, "L2-L3": 15.35, "L3-L1": 26.86}, abs=0.006)
    assert out.branches == (1, 4)


def test_wye_with_neutral() -> None:
    """3 x 4 kW, 277 V, on 480Y/277: line to line by the neutral bar 2 x 19.18; one out leaves its current in the neutral."""
    found = of(FOUR_WIRE, quantity=3, power_kw=4.0, volts_v=277.0)
    assert found.heater == band(18.27, 19.18, 21.31) and found.nameplate == band(13.00, 14.44, 15.16)
    assert found.each[0].band.nominal == pytest.approx(14.447, abs=0.0006)
    ohms = nominal(found.joined)
    assert ohms["L1-N"] == pytest.approx(19.18, abs=0.006) and ohms["L1-L2"] == pytest.approx(38.36, abs=0.006)
    assert nominal(found.all_on) == pytest.approx({"L1": 14.45, "L2": 14.45, "L3": 14.45, "N": 0.0}, abs=0.006)
    out = next(one for one in found.opened if one.on == "L2-N")
    assert nominal(out.amps) == pytest.approx({"L1": 14.45, "L2": 0.0, "L3": 14.45, "N": 14.45}, abs=0.006)


def test_the_neutral_of_heaters_within_their_tolerance() -> None:
    """Three of 14.447 A each at 0.9 to 1.05 of it: all equal nothing, one at the least and two at the most 15.169 - 13.002 = 2.167 A. With
    one out, two in the third's place: both at the most 15.169 A, both at the least 13.002 A. Of two, one and one on a line (28.894, 14.447,
    14.447 A): two at the most and the others at the least 30.339 - 13.002 = 17.337 A, the other way round 26.004 - 15.169 = 10.835 A."""
    found = of(FOUR_WIRE, quantity=3, power_kw=4.0, volts_v=277.0)
    [reading] = [one for one in found.all_on if one.at == "N"]
    assert reading.band == pytest.approx((0.0, 0.0, 2.167), abs=0.002)
    out = next(one for one in found.opened if one.on == "L2-N")
    assert next(one.band for one in out.amps if one.at == "N") == pytest.approx((13.002, 14.447, 15.169), abs=0.002)
    four = of(FOUR_WIRE, quantity=4, power_kw=4.0, volts_v=277.0)
    assert next(one.band for one in four.all_on if one.at == "N") == pytest.approx((10.835, 14.447, 17.337), abs=0.002)


@given(st.tuples(*[st.floats(0.9, 1.05)] * 3), st.sampled_from([3, 4, 5, 7]))
def test_no_heaters_within_their_tolerance_give_a_neutral_out_of_its_band(share: tuple[float, ...], quantity: int) -> None:
    """Amps of three legs at a third of a turn, by their phasors, all on and with one of each kind out."""
    found = of(FOUR_WIRE, quantity=quantity, power_kw=4.0, volts_v=277.0)
    for read in (found.all_on, *(one.amps for one in found.opened if one.what != "neutral")):  # whose legs stand at other angles
        amps = nominal(read)
        turned = (amps[f"L{at + 1}"] * share[at] * exp(2j * pi * at / 3) for at in range(3))
        low, _, high = next(one.band for one in read if one.at == "N")
        assert low - 1e-6 <= abs(sum(turned)) <= high + 1e-6


def test_the_least_neutral_of_three_legs_that_differ() -> None:
    """7 x 14.447 A, one of L2's two out: 3, 1 and 2 on a line. 3 at the least is 39.007 A, 1 at the most 15.169, and 2 half-way between is
    27.088 A: 0.866 x (39.007 - 15.169) = 20.644 A, less than at 26.004 or 30.339 A."""
    found = of(FOUR_WIRE, quantity=7, power_kw=4.0, volts_v=277.0)
    out = next(one for one in found.opened if one.on == "L2-N")
    assert next(one.band.low for one in out.amps if one.at == "N") == pytest.approx(20.644, abs=0.002)


def test_one_phase() -> None:
    """4 x 4 kW, 240 V: 14.4 ohm, four beside each other 3.6."""
    found = of(ONE_PHASE, quantity=4, power_kw=4.0, volts_v=240.0)
    assert found.heater == band(13.71, 14.40, 16.00) and found.nameplate == band(15.00, 16.67, 17.50)
    assert nominal(found.joined) == pytest.approx({"L1-L2": 3.6})
    assert nominal(found.all_on) == pytest.approx({"L1": 66.67, "L2": 66.67}, abs=0.006)
    out = opened(found, "branch", "L1-L2")
    assert nominal(out.amps) == pytest.approx({"L1": 50.0, "L2": 50.0}) and nominal(out.ohms) == pytest.approx({"L1-L2": 4.8})


def test_uneven_delta() -> None:
    """5 x 6 kW, 480 V: 19.2, 19.2 and 38.4 ohm on the pairs."""
    found = of(quantity=5, power_kw=6.0)
    assert nominal(found.joined) == pytest.approx({"L1-L2": 14.40, "L2-L3": 14.40, "L3-L1": 19.20})
    assert nominal(found.all_on) == pytest.approx({"L1": 33.07, "L2": 43.30, "L3": 33.07}, abs=0.006)
    out = opened(found, "branch", "L3-L1")
    assert out.branches == (3,)
    assert nominal(out.amps) == pytest.approx({"L1": 25.00, "L2": 43.30, "L3": 25.00}, abs=0.006)
    assert nominal(out.ohms) == pytest.approx({"L1-L2": 19.20, "L2-L3": 19.20, "L3-L1": 38.40})


def test_leads_and_grounding_conductor() -> None:
    """8 AWG 0.778 ohm/kft at 75 °C (NFPA 70, Chapter 9 Table 8), cold 0.838 of it: 2 x 0.778 x 0.838 x 0.060 = 0.0782 ohm over 60 ft.
    A 10 AWG grounding conductor, 1.24 ohm/kft: 0.0623 and 0.1 ohm."""
    settings = {"terminal_c": 75.0, "ambient_c": 30.0}
    row = row_of(ONE_PHASE, settings, quantity=2, power_kw=9.0, volts_v=240.0, heater_run_m=60 * FT)
    assert (row.design.branch.wires.size, row.design.branch.wires.ground) == ("8", "10")
    found = readings(row)
    assert found.heater == band(6.095, 6.400, 7.111, 0.001) and found.nameplate == band(33.75, 37.50, 39.38)
    assert found.leads_ohm == pytest.approx(0.0782, abs=0.00005)
    assert [value + found.leads_ohm for value in found.heater] == pytest.approx([6.174, 6.478, 7.189], abs=0.001)
    assert (round(found.bond_ohm, 3), found.bond_known) == (0.162, True)
    assert nominal(found.joined)["L1-L2"] == pytest.approx((6.4 + 0.0782) / 2, abs=0.0001)


def test_cold_conductors_of_iec() -> None:
    """IEC 60228 gives 7.41 ohm/km for 2.5 mm² at 20 °C: nothing to take off."""
    rules = load("IEC 60364")
    assert rules.dc_resistance("2.5 mm²", "copper").value * rules.factor("dc_cold").value == pytest.approx(7.41)


# --- against the solver -----------------------------------------------------------------------------------------------------------

CASES = {
    "delta of six": ({}, {"quantity": 6, "power_kw": 3.0}),
    "delta of five": ({}, {"quantity": 5, "power_kw": 6.0}),
    "open delta": ({}, {"quantity": 2, "connection": "delta"}),
    "on one pair": ({}, {"quantity": 4, "connection": "parallel"}),
    "three phases": ({}, {"quantity": 3, "power_kw": 12.0, "phases": 3}),
    "three phases, two circuits each": ({}, {"quantity": 2, "phases": 3, "power_kw": 60.0}),
    "one heater of three phases on a circuit of its own": ({}, {"quantity": 1, "power_kw": 12.0, "phases": 3}),
    "separate wyes": ({}, {"quantity": 6, "power_kw": 5.0, "volts_v": 277.0}),
    "uneven joined wye": ({}, {"quantity": 4, "power_kw": 5.0, "volts_v": 277.0, "connection": "common-point wye"}),
    "wye with neutral, uneven": (FOUR_WIRE, {"quantity": 7, "power_kw": 4.0, "volts_v": 277.0}),
    "wye with neutral, one circuit": (FOUR_WIRE, {"quantity": 3, "power_kw": 4.0, "volts_v": 277.0}),
    "on one leg": (FOUR_WIRE, {"quantity": 2, "power_kw": 4.0, "volts_v": 277.0, "connection": "parallel"}),
    "one phase": (ONE_PHASE, {"quantity": 4, "power_kw": 4.0, "volts_v": 240.0}),
    "one phase, three wires": (THREE_WIRE, {"quantity": 5, "power_kw": 1.5, "volts_v": 120.0}),
    "440 V heaters on 480 V": ({}, {"quantity": 6, "volts_v": 440.0}),
}  # fmt: skip


def joined(net: Network, row: BankRow, node: dict[str, str], one: Opened | None, legs: tuple[str, ...], inside: str) -> None:
    """The heaters of a panel between nodes, by Ohm's law alone: one that is out left away, an open pole on a node of its own."""
    circuits = row.design.circuits_per_heater
    ohm = row.bank.volts_v**2 / (1000.0 * row.bank.power_kw) * circuits
    out = {one.branches[0] - 1 if one.branches else 0} if one is not None and one.what in ("branch", "heater") else set()
    if one is not None and one.what == "line":
        node = node | {one.on: "open.1"}
    points = {f"WP{wye}": f"p{wye}.1" for wye in range(1, 9)}
    for number, leg in enumerate(legs):
        if number in out:
            continue
        here = node | points | ({one.on: "pole.1"} if one is not None and one.what == "pole" and number == 0 else {})
        ends = [here[part] for part in leg.split("-")]
        if len(ends) == 3:
            net.three_phase(ends, 3 * ohm, inside)
        else:
            net.resistor(*ends, ohm)


def ohms_by_solver(row: BankRow, between: str, one: Opened | None, legs: tuple[str, ...], inside: str) -> float:
    """An ohmmeter: one source across two terminals, all others floating, volts over amps."""
    net = Network(Supply(100.0, 2, System.LINE_TO_LINE))
    first, second = between.split("-")
    node = {"L1": "x1.1", "L2": "x2.1", "L3": "x3.1", "N": "xn.1"} | {first: "s.1", second: "s.2"}
    joined(net, row, node, one, legs, inside)
    for floating in {*node.values(), "open.1", "pole.1", *(f"p{wye}.1" for wye in range(1, 9))} - {"s.1", "s.2"}:
        net.resistor(floating, "s.0", 1e9)
    net.solve()
    amps = net.line_amps()[0]
    return inf if amps < 1e-5 else 100.0 / amps


def amps_by_solver(row: BankRow, one: Opened | None, legs: tuple[str, ...], inside: str) -> dict[str, float]:
    net = Network(row.supply)
    cut = one is not None and one.what == "neutral"
    node = {"L1": "s.1", "L2": "s.2", "L3": "s.3", "N": "open.1" if cut else "s.0"}
    joined(net, row, node, one, legs, inside)
    if one is not None and one.what in ("line", "pole", "neutral"):
        net.resistor("pole.1" if one.what == "pole" else "open.1", "s.0", 1e9)
    net.solve()
    for line, share in one.volts if one is not None else ():
        with_it = row.supply.volts_v / (sqrt(3) if row.supply.phases == 3 else 2.0)
        volts = abs(net.volts(node[line]) - net.volts("open.1"))
        assert share == pytest.approx(volts / with_it, rel=1e-6, abs=1e-5), line
    return dict(zip(("L1", "L2", "L3", "N"), net.line_amps(), strict=True))


BUILT = [(case, "delta") for case in CASES] + [(case, "wye") for case, (_, heaters) in CASES.items() if heaters.get("phases") == 3]


@pytest.mark.parametrize(("case", "inside"), BUILT)
def test_every_figure_against_the_solver(case: str, inside: str) -> None:
    on, heaters = CASES[case]
    row = row_of(on, **heaters)
    legs, found = groups(row.design)[0].legs, readings(row)
    for one in (None, *found.opened):
        given_ohms, given_amps = (found.joined, found.all_on) if one is None else (one.ohms, one.amps)
        solved = amps_by_solver(row, one, legs, inside)
        for reading in given_amps:
            assert reading.band.nominal == pytest.approx(solved[reading.at], rel=1e-6, abs=1e-5), (one, reading.at)
        for reading in given_ohms:
            assert reading.band.nominal == pytest.approx(ohms_by_solver(row, reading.at, one, legs, inside), rel=1e-5), (one, reading.at)


@pytest.mark.parametrize("case", CASES)
def test_bands_are_those_of_the_power(case: str) -> None:
    """Ohms by 1 / 1.05 and 1 / 0.9, amps by 0.9 and 1.05, every one of them; none of the kinds of open branch reads as all on."""
    on, heaters = CASES[case]
    found = of(on, **heaters)
    for low, mid, high in (found.heater, *(one.band for one in found.joined)):
        assert (low, high) == pytest.approx((mid / 1.05, mid / 0.9))
    for low, mid, high in (found.nameplate, *(one.band for one in (*found.each, *found.all_on) if one.at != "N")):
        assert (low, high) == pytest.approx((mid * 0.9, mid * 1.05))
    for one in found.opened:
        assert nominal(one.amps) != pytest.approx(nominal(found.all_on), rel=0.001)
        assert [reading.at for reading in one.amps] == [reading.at for reading in found.all_on]


def test_heaters_of_an_uneven_joined_wye_draw_unequal_amps() -> None:
    """2 + 1 + 1 on one point: the leg of two stands at less than its share. Two conductances G on A, one on B and C: the point moves by
    V / 4, so leg A has (3/4) V and draws 0.75 of the amps at 480 / √3."""
    found = of(quantity=4, power_kw=5.0, volts_v=277.0, connection="common-point wye")
    each = nominal(found.each)
    assert set(each) == {"L1", "L2", "L3"}
    assert each["L1"] == pytest.approx(0.75 * 480 / sqrt(3) / found.heater.nominal)


def test_an_open_neutral_of_unequal_lines() -> None:
    """3 + 2 + 2 heaters: the point moves by (3 - 2) / 7 of a leg, towards L1: 6 / 7 there, and √((1/2 + 1/7)² + 3/4) = 1.0785 at L2 and L3
    (worked by hand). 240/120 V, 3 + 2: 2/5 of 240 V on the three, 3/5 on the two. Equal lines do not show it, and have no row."""
    seven = opened(of(FOUR_WIRE, quantity=7, power_kw=4.0, volts_v=277.0), "neutral", "N")
    assert dict(seven.volts) == pytest.approx({"L1": 6 / 7, "L2": 1.0785, "L3": 1.0785}, abs=5e-5)
    assert nominal(seven.amps)["N"] == 0.0
    five = opened(of(THREE_WIRE, quantity=5, power_kw=1.5, volts_v=120.0), "neutral", "N")
    assert dict(five.volts) == pytest.approx({"L1": 0.8, "L2": 1.2})
    assert not [one for one in of(FOUR_WIRE, quantity=6, power_kw=4.0, volts_v=277.0).opened if one.what == "neutral"]
    assert not [one for one in of(quantity=6, power_kw=3.0).opened if one.what == "neutral"]
