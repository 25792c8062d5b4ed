"""Columns of result sheets beside what they are said to show, each with figures that no other column has."""

from __future__ import annotations

from math import sqrt

import pytest

from batch.schedules import rows
from tests.job_builder import bank, feeder, size


def test_volts_of_heater_feeder_and_terminals() -> None:
    """277 V heaters in wye on 480 V, 4 wires: 480 / sqrt(3) = 277.13 V at each, 0.05 % over its rating."""
    heaters = bank(quantity=3, volts_v=277.0, connection="wye", power_kw=3.0)
    [row] = rows(size(heaters, feeder(wires=4)), "banks")
    assert (row["volts_v"], row["supply_v"]) == (277.0, 480.0)
    assert row["applied_v"] == pytest.approx(480 / sqrt(3))
    assert row["volts_off_pct"] == pytest.approx(100 * (480 / sqrt(3) / 277 - 1))


def test_lines_of_a_feeder_each_under_its_letter() -> None:
    """10 A on A-B and 20 A on B-C: A 10, C 20, B the two at 60 degrees, sqrt(100 + 400 + 200) = 26.46 A."""
    heaters = [
        bank(bank="1", quantity=1, power_kw=4.8, connection=None, phase_pair="A-B"),
        bank(bank="2", quantity=1, power_kw=9.6, connection=None, phase_pair="B-C"),
    ]
    [row] = rows(size(heaters, feeder()), "feeder_totals")
    assert [row[key] for key in ("i_a", "i_b", "i_c", "maximum_a")] == pytest.approx([10, 26.4575, 20, 26.4575], abs=1e-3)
