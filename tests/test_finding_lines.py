"""Findings said once: a caution of many feeders is one line with its list, and so is what many tanks of a project carry."""

from __future__ import annotations

from msgspec.structs import replace

from batch.origin import Origin
from batch.report.findings_groups import grouped
from batch.schedules import rows
from batch.sizing.project import size_job
from tests.job_builder import bank, feeder, job, project, size, tank


def lines_of(code: str, feeders: int, bears: int = 0) -> list[dict]:
    """Feeders of 400 V with a bank each, 5 m from a source of 50 kA, on circuit-breakers that let through more than their conductors bear;
    the last `bears` of them are on one of 0.3 kA.
    """
    names = [f"F-{number}" for number in range(1, feeders + bears + 1)]
    supply = {"volts_v": 400.0, "run_m": 5.0, "earthing": "TN-S"}
    made = job(
        [bank(tank=f"T-{name}", feeder=name, volts_v=400.0) for name in names],
        [feeder(feeder=name, fault_ka=50.0 if at < feeders else 0.3, **supply) for at, name in enumerate(names)],
        [tank(tank=f"T-{name}", tank_material="polypropylene") for name in names],
        project(code_basis="IEC 60364", device_kind="breaker"),
    )
    return [row for row in rows(size_job(made), "findings") if row["code"] == code]


def test_a_caution_of_many_feeders_is_one_line_that_names_them() -> None:
    """Four feeders of six: fewer than nine in ten, so the status of each row stands, and the list has one line all the same."""
    [line] = lines_of("short-circuit-energy", 4, bears=2)
    assert line["message"].startswith("Short circuit: energy let through: 4 feeders. F-1: 1 bank, and 1 circuit ahead of its banks; F-2: ")
    assert "F-4: 1 bank" in line["message"] and "F-5" not in line["message"] and line["count"] == 8
    assert "The first, of F-1: " in line["message"] and line["feeder"] == ""


def test_of_a_few_feeders_each_has_its_line() -> None:
    few = lines_of("short-circuit-energy", 3, bears=2)
    assert [line["feeder"] for line in few] == ["F-1", "F-2", "F-3"]
    assert few[0]["message"].startswith("Short circuit: energy let through: 1 bank of F-1, T-F-1/1, and 1 circuit ahead of its banks.")


def test_plastic_tanks_of_a_project_are_one_line_with_their_tags() -> None:
    [line] = lines_of("control-no-backup", 4)
    assert line["message"].startswith("T-F-1, T-F-2, T-F-3, T-F-4: The tank is of polypropylene, and one contactor that welds")
    assert line["count"] == 4


def test_a_line_of_rows_without_a_cell_points_at_none() -> None:
    """Feeders that no sheet lists stand in no cell; of those that one lists the first is named with their number."""
    banks = [bank(feeder=f"F-{number}", tank=f"T-{number}") for number in (1, 2)]
    feeders = [feeder(feeder=f"F-{number}", fault_ka=None) for number in (1, 2)]
    said = [row for row in rows(size_job(job(banks, feeders)), "findings") if row["code"] == "fault-unknown"]
    assert [row["where"].endswith(" … (2 rows)") for row in said] == [True]
    nowhere = [replace(one, origin=Origin()) for one in feeders]
    said = [row for row in rows(size_job(job(banks, nowhere)), "findings") if row["code"] == "fault-unknown"]
    assert [row["where"] for row in said] == [""] and said[0]["count"] == 2


def test_boxes_that_none_of_the_list_serves_are_told_by_cause() -> None:
    """Four tanks alike and two with more heaters, all too warm, are one line and one group; one whose disconnect is beyond the table is
    another line. Every tank is named in the line that it belongs to."""
    quantities = {**dict.fromkeys(("T-1", "T-2", "T-3", "T-4"), 6), "T-5": 12, "T-6": 9}
    banks = [bank(tank=tag, quantity=count) for tag, count in quantities.items()]
    result = size([*banks, bank(tank="T-7", quantity=48, power_kw=12.0)], projects=project(ambient_c=50.0))
    carried = {finding.tank for finding in result.findings if finding.code == "box-not-fitting" and "control panel" in finding.message}
    assert carried >= {"T-1", "T-5", "T-6", "T-7"}
    lines = [row for row in rows(result, "findings") if row["code"] == "box-not-fitting" and "the control panel" in row["message"]]
    warm, beyond = sorted(lines, key=lambda row: -row["count"])
    assert warm["message"].startswith("No box of the list takes the control panel by a budget estimate: it grows too warm.")
    assert (warm["count"], beyond["tank"]) == (6, "T-7") and all(tag in warm["message"] for tag in quantities)
    assert [group.rows for group in grouped(lines)] == [7]
