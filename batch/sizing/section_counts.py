"""What a divided job comes to as a whole, where the words of a row depend on it: counted in each section, added up, told to each."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from batch.records import Job
from batch.results import JobResult
from batch.sizing.said_once import CautionsCarried, by_nearly_all, carried_by


class SectionCounts(Struct, frozen=True):
    """Of one section: whether the heat of a tank is judged, and what the rows of each project carry, kind by kind."""

    heat: bool
    carried: dict[str, tuple[CautionsCarried, ...]]


def counts_of(result: JobResult) -> SectionCounts:
    """What a sized section brings to the whole."""
    return SectionCounts(
        any(row.judged for project in result.projects for row in project.heat),
        {one.project.project: carried_by(one.feeders, one.banks, one.controls) for one in result.projects},
    )


def told(job: Job, sections: Iterable[SectionCounts]) -> Job:
    """A section that knows of the whole job what all of its sections come to."""
    if job.section is None:
        return job
    heat = False
    carried: dict[str, tuple[CautionsCarried, ...]] = {}
    for one in sections:
        heat = heat or one.heat
        for project, kinds in one.carried.items():
            before = carried.get(project, tuple(CautionsCarried(0, Counter()) for _ in kinds))
            carried[project] = tuple(CautionsCarried(a.rows + b.rows, a.codes + b.codes) for a, b in zip(before, kinds, strict=True))
    once = {project: by_nearly_all(kinds) for project, kinds in carried.items()}
    return replace(job, section=replace(job.section, heat=heat, once=once))
