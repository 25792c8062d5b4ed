"""Spare fuses of the take-off, counted anew from the devices of the design: branches, panel feeders, single circuits, ways, feeders."""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import ceil

import pytest
from msgspec.structs import replace

import batch
from batch.money_records import Allowance
from batch.results import JobResult, ProjectResult
from batch.sizing.project import size_job
from tests.job_builder import bank, job, size
from tests.make_samples import HERE

FUSES = re.compile(r"(\d+) fuses?, ([\d.]+ A(?: class \w+)?)")  # as a device says itself: "3 fuses, 15 A class CC, 600 V, …"
RATING = re.compile(r"[\d.]+ A(?: class \w+)?")
SHARE = 0.1  # of those used; common practice, no source


def devices(project: ProjectResult) -> Iterator[tuple[int, object]]:
    """Every device that is bought, with how many of it there are."""
    for row in project.banks:
        for panel in row.panels:
            yield panel.design.branches, row.design.branch.device
        of_boxes = [panel.design for panel in row.panels] + [row.design.single_circuit] * (row.design.single_circuit is not None)
        for box in of_boxes:
            if not box.device_at_way:
                yield 1, box.panel_feeder_device
    for row in project.feeders:
        if row.device is not None and row.feeder.device_there_a is None:
            yield 1, row.device
        if row.end is not None and row.end.unit and row.end.ours:
            yield from ((1, way.device) for way in row.end.ways if way.device is not None)


def used(project: ProjectResult) -> dict[str, tuple[int, int]]:
    """By rating: fuses in the job, and poles of the largest circuit that has them."""
    found: dict[str, tuple[int, int]] = {}
    for times, device in devices(project):
        told = FUSES.match(device.in_full)
        if told is not None:
            poles, rating = int(told[1]), told[2]
            count, most = found.get(rating, (0, 0))
            found[rating] = count + times * poles, max(most, poles)
    return found


def spares(project: ProjectResult) -> dict[str, float]:
    """As the take-off has them, but for those of control circuits."""
    lines = [line for line in project.materials if line.role == "spare fuse" and "time-delay" not in line.words]
    found = {RATING.match(line.words)[0]: line.quantity for line in lines}
    assert len(found) == len(lines)  # each rating once
    return found


@pytest.fixture(scope="module")
def plant() -> JobResult:
    return batch.check(HERE / "whole-plant.xlsx")


def test_without_a_rule_of_the_shop_a_tenth_of_each_rating_and_never_fewer_than_a_circuit_has(plant: JobResult) -> None:
    ratings = 0
    for project in plant.projects:
        expected = {rating: max(ceil(round(SHARE * count, 9)), poles) for rating, (count, poles) in used(project).items()}
        assert spares(project) == expected
        ratings += len(expected)
    assert ratings > 30


def test_by_hand() -> None:
    """40 one-phase heaters in delta, each on a two-pole branch of two 20 A fuses: 80 are in use, 8 are spare. One such heater: 2, not 1."""
    for heaters, expected in ((40, 8.0), (1, 2.0)):
        [project] = size(bank(quantity=heaters)).projects
        [branch] = {line.words for line in project.materials if line.role in ("branch fuse", "bank fuse")}
        assert branch.startswith("20 A class CC fuse")
        assert spares(project)["20 A class CC"] == expected


def test_a_part_of_a_fuse_by_a_rule_of_the_shop_is_a_whole_one() -> None:
    """12 heaters have 24 fuses: a tenth of them is 2.4, and so 3; at least 5 where the rule says so."""
    for at_least, expected in ((None, 3.0), (2.0, 3.0), (5.0, 5.0)):
        rule = Allowance("P-1", "spare fuses", None, 0.1, "fuse", at_least)
        [project] = size_job(replace(job(bank(quantity=12)), allowances=(rule,))).projects
        assert spares(project)["20 A class CC"] == expected


def test_a_rule_of_the_shop_counts_for_each_rating_apart() -> None:
    """The small sample's: one for ten in use, at least 2."""
    result = batch.check(HERE / "small-clean.xlsx")
    [rule] = [one for one in result.job.allowances if one.per == "fuse"]
    assert (rule.quantity, rule.at_least) == (0.1, 2.0)
    [project] = result.projects
    counts: dict[str, float] = {}
    for line in project.materials:
        if line.role.endswith(" fuse") and line.role not in ("control fuse", "spare fuse"):
            counts[line.part] = counts.get(line.part, 0.0) + line.quantity
    lines = {line.part: line.quantity for line in project.materials if line.role == "spare fuse" and line.part in counts}
    assert sum(counts.values()) == sum(count for count, _ in used(project).values())
    assert lines == {part: max(ceil(count / 10), 2) for part, count in counts.items()} and len(lines) == 7
