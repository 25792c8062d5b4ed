"""Totals of a comparison, counted by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

import batch
from batch.comparing.compare import compare_revisions
from batch.comparing.totals import totals
from batch.schedules import rows
from batch.sizing.project import size_job
from tests.make_samples import HERE
from tests.revision_jobs import bank, job, revision
from tests.samples import book, small


def test_maximum_currents_do_not_add_and_powers_do() -> None:
    """6 x 6 kW in delta, 12.5 A each, two on every pair: lines of 2 x 12.5 x sqrt(3) = 43.3 A on either feeder."""
    feeders = [{"feeder": "F-1"}, {"feeder": "F-2"}]
    sums = totals(size_job(job(feeders=feeders, heaters=[bank("T-1", "A"), bank("T-2", "A", feeder="F-2")])))
    assert sums["maximum_a"] == pytest.approx(43.301, abs=1e-3)
    assert (sums["connected_kw"], sums["heaters"], sums["feeders"]) == (72.0, 12, 2)


def test_findings_are_counted_and_not_their_lines() -> None:
    """Of any two revisions the totals differ by what the sheet Findings of the comparison tells, severity by severity; notes that read
    alike are one line of a revision's own sheet, and as many findings as rows."""
    old, new = (revision(job(heaters=[bank(f"T-{at}", "A", over_temperature_limit=None) for at in range(count)])) for count in (2, 5))
    compared = compare_revisions(old, new)
    lines = [row for row in rows(new.result, "findings") if row["severity"] == "note"]
    figures = {figure.key: (figure.before, figure.after) for figure in compared.figures if not figure.project}
    for severity in ("hold", "caution", "note"):
        moved = sum(said.after - said.before for said in compared.findings if said.severity == severity)
        before, after = figures[f"{severity}s"]
        assert after - before == moved
    assert figures["notes"][1] == sum(line["count"] for line in lines) > len(lines)


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


def test_open_lines_are_those_of_the_results(tmp_path: Path) -> None:
    """Of the small sample none, though hours of an activity and what a customer supplies have no price of their own; then what one part
    of the list and one length leave open."""
    tables = small.tables()
    tables["allowances"].append({"project": "PILOT", "allowance": "shop test", "quantity": 1, "per": "panel", "shop_h": 0.5})
    tables["scope"].append({"project": "PILOT", "item": "raceway", "by": "customer"})

    def made() -> dict[str, float | None]:
        book.write(tmp_path / "job.xlsx", small.TITLE, small.STORY, tables)
        result = batch.check(tmp_path / "job.xlsx")
        shown = [row for id in ("materials", "runs") for row in rows(result, id) if row["priced"] == "open"]
        assert totals(result)["open"] == len(shown)
        return totals(result)

    assert made()["open"] == totals(batch.check(HERE / "small-clean.xlsx"))["open"] == 0
    next(row for row in tables["stock"] if row["part"] == "HTR-106").pop("unit_price")
    assert made()["open"] == 1
    tables["heaters"][0]["heater_run_m"] = None
    assert made()["open"] == 3  # its heater, and the wire and ground of a run; raceway is the customer's
