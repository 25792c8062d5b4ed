"""Current of one heater, its volts and their bands, worked by hand."""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.method.currents import delivered_power, design_current, rated_current, same_nominal_volts
from batch.sizing.bank import judge_volts
from tests.job_builder import RULES, heard


@pytest.mark.parametrize(
    ("power_kw", "volts_v", "phases", "amps"),
    [
        (6, 480, 1, 12.5),  # 6000 / 480
        (3, 277, 1, 10.8303),  # 3000 / 277
        (18, 480, 3, 21.6506),  # 18000 / (1.7320508 x 480)
        (9, 208, 3, 24.9815),  # 9000 / (1.7320508 x 208)
        (0.5, 120, 1, 4.1667),
        (15, 600, 3, 14.4338),
    ],
)
def test_rated_current(power_kw: float, volts_v: float, phases: int, amps: float) -> None:
    assert rated_current(power_kw, volts_v, phases) == pytest.approx(amps, abs=5e-5)


@pytest.mark.parametrize(
    ("applied_v", "rated_v", "code"),
    [
        # within 2 %: the same nominal voltage
        (480, 480, None), (480 / sqrt(3), 277, None), (489.6, 480, None), (470.4, 480, None),
        # a hair outside
        (489.7, 480, "volts-near"), (470.3, 480, "volts-near"),
        # -10 % to +5 %: a note; both ends are inside, and 504 / 480 is 1.05 but for the last bit
        (432, 480, "volts-near"), (504, 480, "volts-near"), (216, 240, "volts-near"), (252, 240, "volts-near"), (436.8, 416, "volts-near"),
        (431.9, 480, "volts-low"), (504.1, 480, "volts-high"),
        # over +5 % to +10 %: a caution; over +10 %: HOLD (not released for fabrication)
        (528, 480, "volts-high"), (264, 240, "volts-high"), (228.8, 208, "volts-high"), (528.1, 480, "volts-over"),
        (480, 277, "volts-over"), (208, 480, "volts-low"),
    ],
)  # fmt: skip
def test_bands_of_volts(applied_v: float, rated_v: float, code: str | None) -> None:
    _, said = heard(judge_volts, applied_v, rated_v, RULES)
    assert [one.code for one in said] == ([] if code is None else [code])


def test_what_is_said_of_low_volts() -> None:
    """208 V on 240 V heaters: 208 / 240 = 0.8667, squared 0.7511."""
    _, [said] = heard(judge_volts, 208, 240, RULES)
    assert dict(said.fields) == {"applied": "208 V", "rated": "240 V", "percent": "-13.3 %", "power": "75 %"}


@pytest.mark.parametrize(
    ("rated_a", "applied_v", "rated_v", "amps"),
    [
        (10, 480 / sqrt(3), 277, 10),  # the same nominal volts: the rating
        (10, 489.6, 480, 10),
        (10, 504, 480, 10.5),  # over: what flows
        (10, 432, 480, 10),  # under: wired for the nameplate all the same
        (10, 208, 480, 10),
    ],
)
def test_design_current_is_never_below_rating_or_applied(rated_a: float, applied_v: float, rated_v: float, amps: float) -> None:
    assert design_current(rated_a, applied_v, rated_v, RULES).value == pytest.approx(amps)


@given(st.floats(0.1, 500), st.floats(100, 700), st.floats(100, 700))
def test_design_current_covers_what_flows_but_for_two_per_cent(rated_a: float, applied_v: float, rated_v: float) -> None:
    made = design_current(rated_a, applied_v, rated_v, RULES).value
    assert made >= rated_a
    assert made >= rated_a * applied_v / rated_v / (1.02 + 1e-9)


def test_delivered_power() -> None:
    assert delivered_power(6, 432, 480, RULES).value == pytest.approx(6 * 0.81)
    assert delivered_power(3, 480 / sqrt(3), 277, RULES).value == 3  # the same nominal volts
    assert same_nominal_volts(480 / sqrt(3), 277, RULES).value and not same_nominal_volts(230, 240, RULES).value
