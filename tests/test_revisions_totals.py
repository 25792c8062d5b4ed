"""Totals of a comparison, counted by hand."""

from __future__ import annotations

import pytest

from batch.comparing.totals import totals
from batch.sizing.project import size_job
from tests.revision_jobs import bank, job


def test_maximum_currents_do_not_add_and_powers_do() -> None:
    """6 x 6 kW in delta, 12.5 A each, two on every pair: lines of 2 x 12.5 x sqrt(3) = 43.3 A on either feeder."""
    feeders = [{"feeder": "F-1"}, {"feeder": "F-2"}]
    sums = totals(size_job(job(feeders=feeders, heaters=[bank("T-1", "A"), bank("T-2", "A", feeder="F-2")])))
    assert sums["maximum_a"] == pytest.approx(43.301, abs=1e-3)
    assert (sums["connected_kw"], sums["heaters"], sums["feeders"]) == (72.0, 12, 2)


def test_maximum_currents_of_two_projects_do_not_add() -> None:
    tables = {
        "projects": [{"project": "P"}, {"project": "Q"}],
        "feeders": [{"feeder": "F-1"}, {"project": "Q", "feeder": "F-1"}],
        "heaters": [bank("T-1", "A"), bank("T-1", "A", project="Q")],
    }
    sums = totals(size_job(job(**tables)))
    assert sums["maximum_a"] == pytest.approx(43.301, abs=1e-3) and sums["connected_kw"] == 72.0


def test_a_price_is_that_of_each_times_how_many() -> None:
    """Two panels of six heaters: two contactors at 40 each, all else without a price."""
    stock = [{"part": "C-50", "kind": "contactor", "rating_a": 50.0, "volts_v": 600.0, "poles": 3, "unit_price": 40.0}]
    made = size_job(job(heaters=[bank("T-1", "A"), bank("T-2", "A")], stock=stock))
    bought = [(row.quantity, row.unit_price) for project in made.projects for row in project.materials if row.part == "C-50"]
    assert bought == [(2, 40.0)] and totals(made)["price"] == 80.0
