"""The electrician's schedule against the banks it was made from, and checks that catch a result that has been tampered with."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from batch.results import JobResult
from batch.schedules import rows
from batch.schedules.reconciliation import reconcile
from batch.sizing.project import size_job
from tests.job_builder import bank, feeder, job, project, size, tank

ONE_PHASE = {"phases": 1, "connection": None}


def circuits(**given: object) -> list[dict[str, object]]:
    return rows(size(bank(**given), feeder(wires=4)), "circuits")


def test_heaters_are_numbered_through_the_panels_and_their_circuits_within_them() -> None:
    """Five 60 kW heaters of two circuits each: panels of three and two heaters; 30 kW a circuit."""
    found = circuits(quantity=5, power_kw=60.0, phases=3, connection=None)
    assert [(row["panel"], row["branch"], row["heater"], row["circuit"]) for row in found] == [
        ("T-1/1-P1", 1, "1", 1), ("T-1/1-P1", 2, "1", 2), ("T-1/1-P1", 3, "2", 1), ("T-1/1-P1", 4, "2", 2), ("T-1/1-P1", 5, "3", 1),
        ("T-1/1-P1", 6, "3", 2), ("T-1/1-P2", 1, "4", 1), ("T-1/1-P2", 2, "4", 2), ("T-1/1-P2", 3, "5", 1), ("T-1/1-P2", 4, "5", 2),
    ]  # fmt: skip
    assert {row["connected_kw"] for row in found} == {30.0} and {row["phases_on"] for row in found} == {"A-B-C"}


@pytest.mark.parametrize(("pair", "phases"), [("A-B", "A-B B-C C-A A-B"), ("B-C", "B-C C-A A-B B-C"), ("C-A", "C-A A-B B-C C-A")])
def test_a_delta_starts_on_the_pair_that_is_fixed(pair: str, phases: str) -> None:
    found = circuits(quantity=4, phase_pair=pair, **ONE_PHASE)
    assert [row["phases_on"] for row in found] == phases.split()
    assert [row["terminals"] for row in found] == ["L1-L2", "L2-L3", "L3-L1", "L1-L2"]


def test_the_second_panel_of_a_delta_goes_on_in_turn() -> None:
    found = circuits(quantity=10, phase_pair="A-B", **ONE_PHASE)
    assert [row["phases_on"] for row in found] == ["A-B", "B-C", "C-A"] * 3 + ["A-B"]
    found = circuits(quantity=11, phase_pair="B-C", branches_per_panel=4, **ONE_PHASE)
    assert [row["phases_on"] for row in found] == ["B-C", "C-A", "A-B"] * 3 + ["B-C", "C-A"]


def test_legs_of_a_wye() -> None:
    found = circuits(quantity=7, volts_v=277.0, phase_pair="B-N", **ONE_PHASE)
    assert [row["phases_on"] for row in found] == ["B-N", "C-N", "A-N", "B-N", "C-N", "A-N", "B-N"]


def test_a_direct_bank_is_one_circuit() -> None:
    [row] = circuits(quantity=3, **ONE_PHASE)
    assert (row["panel"], row["heater"], row["phases_on"], row["connected_kw"]) == ("T-1/1 single circuit", "1 to 3", "A-B, B-C, C-A", 18.0)
    assert row["rating_a"] == 30 and row["amps_a"] == pytest.approx(21.6506, abs=1e-4) and row["heater_run_m"] == 10.0


def test_total_drop_is_known_only_where_every_part_is() -> None:
    [row] = circuits(quantity=3, **ONE_PHASE)
    assert row["total_drop_pct"] > row["drop_pct"] > 0
    assert all(row["total_drop_pct"] is None for row in circuits(quantity=6, panel_feeder_run_m=None, **ONE_PHASE))


@pytest.mark.parametrize(("way_m", "known"), [(None, False), (30.0, True)])
def test_the_way_to_the_control_panel_is_in_the_total_drop(way_m: float | None, known: bool) -> None:
    """Two tanks on one feeder, so that each has a way of its own."""
    banks = [bank(tank="T-1", quantity=3, **ONE_PHASE), bank(tank="T-2", quantity=3, **ONE_PHASE)]
    result = size(banks, feeder(wires=4, run_m=20.0), [tank(tank=tag, distribution_run_m=way_m) for tag in ("T-1", "T-2")])
    [row] = result.projects[0].feeders
    for circuit in rows(result, "circuits"):
        way = next(one for one in row.end.ways if one.tank == circuit["tank"])
        assert (circuit["total_drop_pct"] is not None) is known
        assert not known or circuit["total_drop_pct"] == pytest.approx(row.drop_pct + way.drop_pct + circuit["drop_pct"])


# Checks


def result() -> JobResult:
    return size([bank(quantity=9), bank(bank="2", quantity=2), bank(bank="3", quantity=4, feeder="nowhere")], feeder(), projects=project())


def failed(found: JobResult) -> set[str]:
    return {check.what for check in reconcile(found) if not check.passes}


def tampered(found: JobResult, **changes: object) -> JobResult:
    return replace(found, projects=(replace(found.projects[0], **changes),))


def test_checks_pass_and_count_what_was_refused() -> None:
    found = result()
    assert failed(found) == set()
    [read] = [check for check in reconcile(found) if check.what == "Heaters rows read = rows sized + rows not sized"]
    assert (read.left, read.right) == (3, 3)


def test_a_lost_bank_fails() -> None:
    found = result()
    said = failed(tampered(found, banks=found.projects[0].banks[:1]))
    assert {"Heaters of banks = heaters of feeders", "kW of banks = kW of feeders"} <= said
    assert "Heaters rows read = rows sized + rows not sized" in said


def test_a_changed_current_fails() -> None:
    found = result()
    [row] = found.projects[0].feeders
    assert failed(tampered(found, feeders=(replace(row, lines=row.lines._replace(b=row.lines.b + 0.01)),))) == {
        "Amps of feeder F-1, line B = amps of its panels"
    }


def test_a_lost_panel_type_or_branch_fails() -> None:
    found = result()
    assert "Panels of banks = panels of types" in failed(tampered(found, types=found.projects[0].types[:1]))
    first, *others = found.projects[0].banks
    shorter = replace(first, panels=first.panels[:1])
    assert {"Heaters of banks = heaters of circuits", "kW of banks = kW of circuits"} <= failed(tampered(found, banks=(shorter, *others)))


def test_a_row_that_reading_refused_is_counted() -> None:
    made = job(bank())
    table = made.received[0]
    refused = replace(table, rows=(*table.rows, replace(table.rows[0], row=99, refused="power not readable")))
    lost = replace(table, rows=(*table.rows, replace(table.rows[0], row=99)))
    assert failed(size_job(replace(made, received=(refused,)))) == set()
    assert failed(size_job(replace(made, received=(lost,)))) == {"Heaters rows received = rows read + rows refused in reading"}
