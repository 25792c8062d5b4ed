"""Conductors by the three tests, voltage drop, parallel sets and raceways, worked by hand from the printed tables.

Table 310.16 copper, 60 / 75 / 90 °C: 14 AWG 15/20/25; 12 20/25/30; 10 30/35/40; 8 40/50/55; 6 55/65/75; 4 70/85/95; 3 85/100/115;
2 95/115/130; 1 110/130/145; 1/0 125/150/170; 3/0 165/200/225; 250 215/255/290; 500 320/380/430. At 40 °C the 90 °C column counts 0.91.
"""

from __future__ import annotations

from typing import NamedTuple

import pytest

from batch.findings import Remarks
from batch.method.ampacity import carries, corrected_ampacity
from batch.method.raceway import trade_size
from batch.method.terminals import temperature_column
from batch.method.voltage_drop import run_resistance
from batch.results import Wires
from batch.sizing.runs import Run, choose_wires
from tests.job_builder import RULES, codes, settings


class Choice(NamedTuple):
    """What was chosen, and what was said."""

    wires: Wires | None
    drop_pct: float | None
    remarks: Remarks


def run(load_a: float, device_a: float, **more: object) -> Run:
    usual = {"what": "branch", "about": "heater_run_m", "required_a": 1.25 * load_a, "device_kind": "fuse", "lines": 2, "neutral": False,
             "current_carrying": 2, "ambient_c": 40.0}  # fmt: skip
    return Run(load_a=load_a, device_a=device_a, **usual | more)


def choose(load_a: float, device_a: float, how: dict | None = None, **more: object) -> Choice:
    said = Remarks()
    return Choice(*choose_wires(run(load_a, device_a, **more), settings(**how or {}), RULES, said), said)


def ohms(size: str) -> float:
    """Of 1000 ft."""
    return run_resistance(size, 304.8, "copper", "PVC-80", RULES).value


def wire(*args: object, **more: object) -> Wires:
    return choose(*args, **more).wires


AMBIENT, COMPANY = "Table 310.15(B)(1)(1)", "Table 310.15(C)(1)"


@pytest.mark.parametrize(
    ("ambient_c", "shares", "cited"),
    [
        (30.0, 1, set()),  # the table's own 30 °C: factor 1.00, nothing to cite; cooler air gives more than 1, and that is not in use up
        (31.0, 1, {AMBIENT}), (40.0, 1, {AMBIENT}), (20.0, 1, set()),
        (30.0, 2, {COMPANY}),  # two circuits of two wires: four conductors, 80 %
        (40.0, 2, {AMBIENT, COMPANY}),
    ],
)  # fmt: skip
def test_corrections_are_cited_where_they_take_something_away(ambient_c: float, shares: int, cited: set[str]) -> None:
    assert {AMBIENT, COMPANY} & set(wire(16, 20, ambient_c=ambient_c, shares=shares).basis) == cited


@pytest.mark.parametrize(
    ("load", "device", "more", "size", "governed"),
    [
        # 12.5 A, 15.6 A with margin: 14 AWG has 15 A at 60 °C; at 75 °C it has 20 A, but 240.4(D) holds it to a 15 A device
        (12.5, 20, {}, "12", "load with margin at the terminals"),
        (12.5, 20, {"how": {"terminal_c": 75}}, "12", "overcurrent device"),
        (10, 15, {}, "12", "smallest conductor of the project"),
        (10, 15, {"how": {"smallest_conductor": "14"}}, "14", "smallest conductor of the table"),
        # 16 A on 20 A: exactly the 12 AWG's 20 A at 60 °C
        (16, 20, {}, "12", "load with margin at the terminals"),
        (16.001, 25, {}, "10", "load with margin at the terminals"),
        (24, 30, {}, "10", "load with margin at the terminals"),
        # eight conductors, 70 %: 12 AWG 19.1 A fails a 20 A load's own test
        (20, 25, {"how": {"terminal_c": 75}, "shares": 4}, "10", "corrected ampacity"),
        # 27.35 A, a 35 A fuse: 34.2 A wants 8 AWG (40 A at 60 °C); 10 AWG has 30
        (27.35, 35, {}, "8", "load with margin at the terminals"),
        # 44 A, 55 A with margin: 6 AWG has exactly 55; the 60 A device is the next size above 55
        (44, 60, {}, "6", "load with margin at the terminals"),
        (44.001, 60, {}, "4", "load with margin at the terminals"),
        (48, 60, {}, "4", "load with margin at the terminals"),
        (48, 60, {"how": {"terminal_c": 75}}, "6", "load with margin at the terminals"),  # 60 A on 65 A; 75 x 0.91 = 68.25: 68
        # 8 AWG at 40 °C is 50.05: counted as 50, so a 50 A device, and 52 A would be the next size 60
        (40, 50, {"how": {"terminal_c": 75}}, "8", "load with margin at the terminals"),
        # over 100 A: the 75 °C column. 82 A, 102.5 A, a 110 A device: 2 AWG (115); 130 x 0.91 = 118.3
        (82, 110, {"lines": 3, "current_carrying": 3}, "2", "load with margin at the terminals"),
        (80, 100, {"lines": 3, "current_carrying": 3}, "1", "load with margin at the terminals"),  # 100 A at 60 °C: 110 of 1 AWG
    ],
)
def test_size_and_which_test_governed(load: float, device: float, more: dict, size: str, governed: str) -> None:
    made = wire(load, device, **more)
    assert (made.size, made.sets, made.governed_by) == (size, 1, governed)


@pytest.mark.parametrize(
    ("ambient", "shares", "size"),
    [
        (30, 1, "12"), (40, 1, "12"),
        (40, 2, "12"),  # 4 conductors: 30 x 0.91 x 0.8 = 21.8, counts as 21: a 20 A device
        (40, 3, "12"),  # 6: the same 80 %
        (40, 4, "12"),  # 8: 30 x 0.91 x 0.7 = 19.1: 19, and 20 A is the next standard size
        (40, 5, "10"),  # 10: 30 x 0.91 x 0.5 = 13.65 A carries 12.5 A, but protects only 15 A: 10 AWG, 40 x 0.455 = 18.2, next size 20
        (50, 5, "10"),  # 0.82 x 0.5: 10 AWG 16.4: 16, next size 20 A
        (60, 10, "8"),  # 20: 0.71 x 0.5: 10 AWG 14.2: next size 15 A; 8 AWG 55 x 0.355 = 19.5: 19, next 20
        (40, 11, "10"),  # 22: 0.91 x 0.45: 10 AWG 16.4, next size 20 A
    ],
)  # fmt: skip
def test_ambient_and_shared_raceways(ambient: float, shares: int, size: str) -> None:
    """12.5 A behind 20 A, two current-carrying conductors a circuit."""
    assert wire(12.5, 20, ambient_c=float(ambient), shares=shares).size == size


def test_corrected_ampacity_is_counted_in_whole_amps_against_the_device() -> None:
    """8 AWG at 50 °C: 55 x 0.82 = 45.1, counted as 45: a standard size, so nothing above it may stand there, not even 45.05 A."""
    assert corrected_ampacity("8", "copper", ambient_c=50.0, current_carrying=2, circuits=1, rules=RULES).value == pytest.approx(45.1)
    assert wire(36, 45, {"terminal_c": 75}, ambient_c=50.0).size == "8"
    assert wire(36, 45.05, {"terminal_c": 75}, ambient_c=50.0).size == "6"


@pytest.mark.parametrize(
    ("device", "given", "column"), [(15, None, 60), (100, None, 60), (100.1, None, 75), (110, None, 75), (20, 75, 75), (400, 60, 60)]
)
def test_terminal_column(device: float, given: int | None, column: int) -> None:
    """110.14(C)(1): by the circuit's device, unless the project says that both ends are marked."""
    assert temperature_column(device, given, RULES).value == column


@pytest.mark.parametrize(
    ("load", "device", "how", "sets", "size"),
    [
        (304, 400, {}, 1, "500"),  # 380 A exactly; a 400 A device is the next size above 380
        (304.01, 400, {}, 2, "3/0"),  # 2 x 200 = 400; at 40 °C 2 x 204
        (304, 400, {"largest_conductor": "250"}, 2, "3/0"),
        (608, 800, {}, 2, "500"),  # 760 A exactly, and 800 A is the next standard size (240.4(B) ends there)
        (640, 800, {}, 3, "300"),  # 800 A: two sets of 500 have 760; three of 300 (285) 855, of 250 (255) 765
        (700, 900, {}, 3, "350"),  # a breaker or fuse over 800 A: no rounding up (240.4(C)); 3 x 310 = 930, 3 x 285 = 855
        (960, 1200, {}, 4, "350"),  # 4 x 310 = 1240; 4 x 285 = 1140 below 1200
        (960, 1200, {"largest_conductor": "600"}, 3, "600"),
        (100, 125, {"largest_conductor": "2"}, 0, ""),  # nothing below 1/0 is run in parallel
    ],
)
def test_parallel_sets(load: float, device: float, how: dict, sets: int, size: str) -> None:
    made = choose(load, device, how, lines=3, current_carrying=3)
    if not sets:
        assert made.wires is None and codes(made.remarks) == {"wire-beyond-table"}
        return
    assert (made.wires.sets, made.wires.size) == (sets, size)


def test_an_ampacity_serves_to_a_millionth_of_an_amp() -> None:
    """So that 16 A x 1.25 in binary fractions is still the 20 A of 12 AWG, and 20.000002 A are not."""
    assert carries(20 + 9e-7, 20, 1) and not carries(20 + 2e-6, 20, 1)


@pytest.mark.parametrize(("device", "serves"), [(1800, True), (1801, False)])
def test_at_most_twelve_sets(device: float, serves: bool) -> None:
    """Twelve sets of 1/0 have 12 x 150 = 1800 A at 75 °C; thirteen would have 1950."""
    made = choose(1440, device, {"largest_conductor": "1/0"}, lines=3, current_carrying=3)
    assert (made.wires is not None and made.wires.sets == 12) is serves
    assert ("wire-beyond-table" in codes(made.remarks)) is not serves


def test_parallel_sets_share_the_drop() -> None:
    """304.01 A take two sets of 3/0 (0.077 ohm/kft copper in PVC): 0.077 / 2 over 1000 ft, 2 x 0.0385 x 304.01 = 23.41 V of 480 V."""

    def share(line_ohm: float, neutral_ohm: float) -> float:
        return 2 * line_ohm * 304.01 / 480

    made = choose(304.01, 400, {"on_drop": "caution"}, length_m=304.8, drop=share, drop_limit_pct=3.0)
    assert (made.wires.sets, made.wires.size) == (2, "3/0")
    assert made.drop_pct == pytest.approx(100 * 23.41 / 480, abs=0.01)


def test_no_rounding_up_over_800_amps() -> None:
    """Two sets of 500 kcmil are 760 A: a standard 800 A device may stand there, a 900 A one may not; nor 1000 A on 3 x 310 = 930."""
    assert wire(600, 800, lines=3, current_carrying=3).sets == 2
    assert wire(600, 801, lines=3, current_carrying=3).sets == 3
    given = wire(720, 1000, lines=3, current_carrying=3)  # 900 A of load with margin; an existing 1000 A device: 3 x 335
    assert (given.sets, given.size) == (3, "400")


def test_beyond_the_hottest_row_nothing_serves() -> None:
    assert choose(10, 15, ambient_c=85.0).wires is not None
    assert codes(choose(10, 15, ambient_c=85.1).remarks) == {"wire-beyond-table"}


def test_aluminum_starts_at_twelve_and_has_its_own_small_conductor_limits() -> None:
    """12 AWG aluminum 15 A, 10 AWG 25 A (240.4(D)): a 20 A circuit wants 10 AWG."""
    assert wire(12, 15, {"conductor": "aluminum"}).size == "12"
    assert wire(12.5, 20, {"conductor": "aluminum"}).size == "10"
    assert wire(20.5, 30, {"conductor": "aluminum"}).size == "8"


# Voltage drop


def dropping(load: float, device: float, length_m: float, limit: float | None, how: dict | None = None) -> Choice:
    return choose(load, device, how, length_m=length_m, drop=lambda ohm, _: 2 * ohm * load / 480, drop_limit_pct=limit)


def test_drop_by_hand() -> None:
    """12 AWG 2.0 ohm/kft, 100 ft = 30.48 m: 2 x 0.2 ohm x 12.5 A = 5 V of 480: 1.0417 %."""
    assert dropping(12.5, 20, 30.48, 3.0).drop_pct == pytest.approx(1.0417, abs=1e-4)
    assert ohms("12") == pytest.approx(2.0)
    assert ohms("700") == ohms("600")  # not listed: the smaller one's


def test_upsized_until_within_the_limit_and_the_ground_with_it() -> None:
    """12.5 A over 1000 ft: 12 AWG 10.4 %, 10 AWG (1.2) 6.25 %, 8 (0.78) 4.06 %, 6 (0.49) 2.55 %. Ground: 12 AWG x 26240 / 6530 = 6 AWG."""
    made = dropping(12.5, 20, 304.8, 3.0)
    assert made.wires.size == "6" and made.wires.governed_by == "voltage drop" and made.wires.required_size == "12 AWG"
    assert made.wires.ground == "6" and made.drop_pct == pytest.approx(2.5521, abs=1e-4)
    assert codes(made.remarks) == {"drop-upsized"}


def test_only_cautioned_where_the_project_says_so() -> None:
    made = dropping(12.5, 20, 304.8, 3.0, {"on_drop": "caution"})
    assert made.wires.size == "12" and made.drop_pct == pytest.approx(10.4167, abs=1e-4)
    assert codes(made.remarks) == {"drop-over"}


def test_where_no_conductor_keeps_the_limit_it_is_said_and_nothing_upsized() -> None:
    made = dropping(12.5, 20, 5e6, 3.0)
    assert made.wires.size == "12" and codes(made.remarks) == {"drop-over"}


@pytest.mark.parametrize(("limit", "size"), [(10.4167, "12"), (10.41, "10")])
def test_the_limit_itself_is_within_it(limit: float, size: str) -> None:
    assert dropping(12.5, 20, 304.8, limit).wires.size == size


def test_without_a_length_there_is_no_drop() -> None:
    assert choose(12.5, 20).drop_pct is None


# Grounding conductor and raceway with the run


def test_the_smallest_conductor_setting_takes_the_ground_along() -> None:
    """A 15 A circuit needs 14 AWG; the project's smallest is 10: 14 AWG x 10380 / 4110 is 10 AWG."""
    made = wire(10, 15, {"smallest_conductor": "10"})
    assert (made.size, made.ground, made.required_size) == ("10", "10", "14 AWG")


def test_correction_alone_leaves_the_ground_as_the_table_has_it() -> None:
    """250.122(B): 310.15(B) and (C) are no upsizing. 20 A circuit of 10 AWG by adjustment: ground 12 AWG."""
    made = wire(12.5, 20, shares=5)
    assert (made.size, made.ground) == ("10", "12")


def test_raceways_count_every_conductor_and_ground() -> None:
    """Table 5 THWN-2: 12 AWG 0.0133, 4 AWG 0.0824, 10 AWG 0.0211 in2. Two 12 AWG and a ground: 0.0399 of PVC-80 1/2 (0.217 x 40 % = 0.087).
    Three 4 AWG and a 10: 0.2683 of 1 in (0.688 x 40 % = 0.275)."""
    made = wire(12.5, 20)
    assert made.raceway == "1/2 in PVC-80" and made.fill_pct == pytest.approx(100 * 0.0399 / 0.217, abs=0.05)
    fed = wire(48, 60, lines=3, current_carrying=3)
    assert fed.raceway == "1 in PVC-80" and fed.fill_pct == pytest.approx(100 * 0.2683 / 0.688, abs=0.05)


def test_a_neutral_is_phase_size_and_counted_in_the_raceway() -> None:
    made = wire(48, 60, lines=3, neutral=True, current_carrying=3)
    assert made.neutral == "4" and made.raceway == "1-1/4 in PVC-80"  # 0.3507 above 0.275


@pytest.mark.parametrize(
    ("ambient", "raceway", "said"), [(50, "PVC-80", False), (50.1, "PVC-80", True), (50.1, "PVC-40", True), (60, "RMC", False)]
)
def test_pvc_ends_at_fifty_degrees(ambient: float, raceway: str, said: bool) -> None:
    assert ("pvc-too-hot" in codes(choose(10, 15, {"raceway": raceway}, ambient_c=float(ambient)).remarks)) is said


def test_circuits_that_share_a_raceway_each_bring_their_ground() -> None:
    """Two circuits of three 8 AWG (0.0366 in2) and a 10 AWG ground (0.0211 in2): 0.2618 in2, 29.5 % of 1 in RMC (0.887 in2)."""
    given = {"kind": "RMC", "size": "8", "conductors": 3, "ground": "10", "insulation": "THWN-2", "rules": RULES}
    found = trade_size(circuits=2, **given).value
    assert found.trade_size == "1" and found.fill_pct == pytest.approx(29.5, abs=0.05)
