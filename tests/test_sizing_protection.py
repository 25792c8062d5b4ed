"""Element circuits, branch and panel feeder OCPDs, and how a device is described, worked by hand."""

from __future__ import annotations

import pytest

from batch.findings import Remarks
from batch.method.overcurrent import minimum_branch_rating
from batch.method.subdivided_heaters import largest_element_load
from batch.records import Part, Supply
from batch.results import Device
from batch.sizing.bank import circuits_of_heater
from batch.sizing.protection import Circuit, choose_rating, describe_device, judge_fixed, judge_limit
from batch.sizing.stock import Stock
from batch.systems import System
from tests.job_builder import DELTA_480, RULES, WYE_480, WYE_480_4, codes, heard, part, settings


def rating(required_a: float, kind: str = "fuse", **given: object) -> float | None:
    return choose_rating(required_a, Circuit(kind, 2, WYE_480), settings(**given), RULES, Stock(), said=Remarks()).rating_a


def described(
    rating_a: float, kind: str, poles: int, supply: Supply, to_neutral: bool = False, listed: Part | None = None
) -> tuple[Device, Remarks]:
    return heard(describe_device, rating_a, Circuit(kind, poles, supply), RULES, to_neutral=to_neutral, part=listed)


@pytest.mark.parametrize(
    ("amps", "expected"),
    [
        (48, 60), (48.000000001, 60), (16, 20), (16.000000001, 20), (12, 15), (12.001, 20), (12.5, 20), (16.001, 25), (27.3482, 35),
        (28, 35), (28.001, 40), (36, 45), (80, 100), (88, 110), (640, 800), (640.001, 1000), (0.1, 15), (4800, 6000), (4800.01, None),
    ],
)  # fmt: skip
def test_next_standard_rating_above_125_per_cent(amps: float, expected: float | None) -> None:
    """240.6(A) and 210.20(A): 48 A x 1.25 is exactly 60 A and 16 A x 1.25 exactly 20 A, whatever the last bit."""
    assert rating(minimum_branch_rating(amps, settings().margin_pct, RULES).value) == expected


def test_smallest_branch_device() -> None:
    assert rating(0.5, smallest_device_a=1) == 1
    assert rating(1.1, smallest_device_a=1) == 3
    assert rating(1.1, "breaker", smallest_device_a=1) == 10  # 1, 3 and 6 A are fuses only
    assert rating(17, smallest_device_a=30) == 30


@pytest.mark.parametrize(
    ("design_a", "given", "count", "said"),
    [
        (48, None, 1, set()),
        (48.0000001, None, 1, set()),
        (48.001, None, 2, {"heater-over-limit", "supplementary-devices"}),
        (96, None, 2, {"heater-over-limit", "supplementary-devices"}),
        (96.001, None, 3, {"heater-over-limit", "supplementary-devices"}),
        (96, 2, 2, {"supplementary-devices"}),
        (96, 3, 3, {"supplementary-devices"}),
        (96, 1, 2, {"circuits-too-few", "supplementary-devices"}),
        (144.001, 3, 4, {"circuits-too-few", "supplementary-devices"}),
        # a heater within the limit that is built in two circuits has ordinary branch OCPDs
        (40, 2, 2, set()),
        (40, 1, 1, set()),
    ],
)
def test_element_circuits(design_a: float, given: int | None, count: int, said: set[str]) -> None:
    """425.22(B): at most 48 A each; 425.22(C) where the heater has to be subdivided."""
    found, remarks = heard(circuits_of_heater, design_a, given, settings(), RULES)
    assert (found, codes(remarks)) == (count, said)


@pytest.mark.parametrize(("rating_a", "said"), [(60, False), (60.1, True), (70, True)])
def test_no_device_above_sixty_amps_ahead_of_elements(rating_a: float, said: bool) -> None:
    """425.22(B): 60 A is allowed, more is not."""
    _, remarks = heard(judge_limit, rating_a, RULES)
    assert codes(remarks) == ({"device-over-limit"} if said else set())


def test_a_slip_in_watts_or_volts_is_not_drawn_out_into_thousands_of_circuits() -> None:
    """1000 kW at 1 V would be a million amps and 20,834 circuits a heater. 24 x 48 = 1152 A is the last that is sized."""
    last, said = heard(circuits_of_heater, 1152, None, settings(), RULES)
    assert last == 24 and "beyond-table" not in codes(said)
    found, said = heard(circuits_of_heater, 1e6, None, settings(), RULES)
    assert found == 24 and {"beyond-table", "heater-over-limit"} <= codes(said)


def test_a_greater_margin_lowers_the_limit_so_that_no_element_stands_behind_more_than_60_a() -> None:
    assert largest_element_load(25, RULES).value == 48
    assert largest_element_load(50, RULES).value == pytest.approx(40)  # 60 / 1.5
    assert circuits_of_heater(41, None, settings(margin_pct=50.0), RULES, Remarks()) == 2
    assert rating(40 * 1.5) == 60


@pytest.mark.parametrize(
    ("fixed", "required", "smallest", "said"),
    [
        (15, 15.625, 20, {"fixed-rating-small"}),
        (15.6249999, 15.625, 20, {"fixed-rating-odd"}),  # equal at 1e-6 A
        (20, 15.625, 20, {"rating-fixed"}),
        (25, 15.625, 20, {"rating-fixed"}),  # one standard size above
        (30, 15.625, 20, {"fixed-rating-large"}),
        (22, 15.625, 20, {"fixed-rating-odd"}),
        (55, 15.625, 20, {"fixed-rating-odd", "fixed-rating-large"}),
        (10, 15.625, 20, {"fixed-rating-small"}),
        (6000, 5000.5, 6000, {"rating-fixed"}),  # no size above
    ],
)
def test_a_fixed_rating_is_honoured_and_judged(fixed: float, required: float, smallest: float, said: set[str]) -> None:
    _, found = heard(judge_fixed, fixed, required, smallest, "fuse", RULES)
    assert codes(found) == said


HIGH_LEG = Supply(240.0, 4, System.HIGH_LEG_DELTA)
CORNER = Supply(480.0, 3, System.CORNER_GROUNDED_DELTA)
ONE = Supply(480.0, 2, System.LINE_TO_LINE)
LEG = Supply(277.0, 2, System.LINE_TO_NEUTRAL)
THREE_WIRE = Supply(240.0, 3, System.THREE_WIRE)


@pytest.mark.parametrize(
    ("supply", "poles", "to_neutral", "volts", "said"),
    [
        (WYE_480, 3, False, "480 V or 480Y/277 V", set()),
        (WYE_480, 2, False, "480 V or 480Y/277 V", set()),
        (WYE_480_4, 1, True, "277 V", set()),
        # one pole of a wye without neutral: 1.5 x 277 = 416 V stand across it when it alone opens
        (WYE_480, 1, False, "480 V straight-rated", {"slash-rated", "wye-breakers"}),
        (DELTA_480, 1, False, "480 V straight-rated", {"slash-rated", "wye-breakers"}),
        (DELTA_480, 2, False, "480 V straight-rated", {"slash-rated"}),
        (CORNER, 3, False, "480 V straight-rated", {"slash-rated"}),
        (HIGH_LEG, 2, False, "240 V straight-rated", {"slash-rated"}),
        (ONE, 2, False, "480 V straight-rated", set()),
        (LEG, 1, True, "277 V", set()),
        (THREE_WIRE, 2, False, "240 V or 120/240 V", set()),
        (THREE_WIRE, 1, True, "120 V", set()),
    ],
)
def test_voltage_marking_of_breakers(supply: Supply, poles: int, to_neutral: bool, volts: str, said: set[str]) -> None:
    """240.85: a slash rating only where every line is at most the lower figure to ground."""
    made, remarks = described(20, "breaker", poles, supply, to_neutral)
    assert made.words == f"molded-case breaker, {poles}-pole, {volts}"
    assert codes(remarks) == said


def test_a_breaker_from_stock_is_warned_of_too() -> None:
    """A stock list says 480 V of a 480Y/277 breaker as well: on a delta that kills."""
    listed = part(part="CB-20", kind="breaker", rating_a=20.0, poles=2, volts_v=480.0, sccr_ka=25.0)
    made, remarks = described(20, "breaker", 2, DELTA_480, False, listed)
    assert made.part == "CB-20" and codes(remarks) == {"slash-rated"}
    assert codes(described(20, "breaker", 2, WYE_480, False, listed)[1]) == set()


@pytest.mark.parametrize(("kind", "rated"), [("fuse", "600 V"), ("breaker", "600 V")])
def test_no_device_above_its_volts(kind: str, rated: str) -> None:
    made = Supply(690.0, 3, System.WYE_GROUNDED)
    [said] = [one for one in described(20, kind, 3, made)[1] if one.code == "device-volts"]
    assert dict(said.fields)["rated"] == rated and dict(said.fields)["volts"] == "690 V"
    assert not list(described(20, kind, 3, Supply(600.0, 3, System.WYE_GROUNDED))[1])


@pytest.mark.parametrize(("rating_a", "words"), [(30, "class CC"), (35, "class J"), (600, "class J"), (700, "class L")])
def test_fuse_classes_by_rating(rating_a: float, words: str) -> None:
    made, remarks = described(rating_a, "fuse", 3, WYE_480)
    assert made.words == f"3 fuses, {words}, 600 V, 200 kA, in a 3-pole holder" and not list(remarks)
    assert made.in_full == f"3 fuses, {rating_a} A {words}, 600 V, 200 kA, in a 3-pole holder"
    assert made.each == f"{words} fuse, 600 V, 200 kA"


def test_beyond_every_class() -> None:
    assert codes(described(4000, "breaker", 3, WYE_480)[1]) == {"beyond-table"}
