"""Revisions of jobs that list no feeders: one that is assumed is the same one, whatever its name has become."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from batch.comparing.changeset import Comparison
from batch.comparing.compare import compare_revisions
from batch.comparing.revision import Revision
from batch.reopening.carry import size_keeping
from tests.revision_jobs import bank, job, revision

ONE = bank("T-1", feeder="MCC-1", quantity=2)  # of one phase, so that its phases are a choice
TWO = bank("T-2", feeder="MCC-1", quantity=4)
OTHER = bank("T-3", feeder="MCC-1", volts_v=240.0)
LISTED = [{"feeder": "MCC-1"}]


def of(*rows: dict[str, object], feeders: list[dict[str, object]] | None = None) -> Revision:
    return revision(job(heaters=rows, feeders=feeders) if feeders else job(without=("feeders",), heaters=rows))


def feeders(compared: Comparison) -> dict[str, tuple[str, str]]:
    """Of each feeder what it was called and is called, "" where it is not there."""
    twins = [twin for twin in compared.twins if twin.table == "feeder_totals"]
    return {twin.names.feeder: tuple(str(row["feeder"]) if row else "" for row in (twin.before, twin.after)) for twin in twins}


@pytest.mark.parametrize(
    ("old", "new", "found"),
    [
        (of(ONE, TWO), of(ONE, TWO, OTHER), {("MCC-1", "MCC-1 480 V"), ("", "MCC-1 240 V")}),
        (of(ONE, OTHER), of(ONE), {("MCC-1 480 V", "MCC-1"), ("MCC-1 240 V", "")}),
        (of(ONE, OTHER), of(ONE, feeders=LISTED), {("MCC-1 480 V", "MCC-1"), ("MCC-1 240 V", "")}),
        (of(ONE, feeders=LISTED), of(ONE, OTHER), {("MCC-1", "MCC-1 480 V"), ("", "MCC-1 240 V")}),
        (of(ONE), of({**ONE, "feeder": "mcc-1 480V"}), {("MCC-1", "mcc-1 480V")}),
        (of(ONE), of({**ONE, "feeder": "MCC-2"}), {("MCC-1", ""), ("", "MCC-2")}),
        (of(OTHER), of(ONE, OTHER), {("MCC-1", "MCC-1 240 V"), ("", "MCC-1 480 V")}),
        (of(ONE), of({**ONE, "volts_v": 600.0}), {("MCC-1", "MCC-1")}),
    ],
)  # fmt: skip
def test_a_feeder_under_another_name_is_the_same_feeder(old: Revision, new: Revision, found: set[tuple[str, str]]) -> None:
    compared = compare_revisions(old, new)
    assert set(feeders(compared).values()) == found
    assert all(check.passes for check in compared.checks)


def test_nothing_is_said_of_a_feeder_for_its_new_name_alone() -> None:
    """Its own findings are those that it had."""
    compared = compare_revisions(of(ONE, TWO), of(ONE, TWO, OTHER))
    assert {said.names.feeder for said in compared.findings if said.names.feeder} <= {"MCC-1 240 V"}


def test_its_banks_keep_their_phases() -> None:
    """Both 480 V banks stay on the lines they were on, though their feeder has the volts in its name now."""
    old = of(ONE, TWO)
    starts = {row.bank.tank: row.starts for row in old.result.projects[0].banks}
    moved = {tank: tuple((start + 1) % 3 for start in some) for tank, some in starts.items()}  # as nobody would choose anew
    [project] = old.result.projects
    banks = tuple(replace(row, starts=moved[row.bank.tank]) for row in project.banks)
    old = Revision(old.job, replace(old.result, projects=(replace(project, banks=banks),)))
    new = replace(job(without=("feeders",), heaters=[ONE, TWO, OTHER]), name="new.xlsx")
    _, result, _ = size_keeping(old, new)
    assert "kept-phases-not" not in {finding.code for finding in result.findings}
    assert {row.bank.tank: row.starts for row in result.projects[0].banks if row.bank.volts_v == 480.0} == moved
