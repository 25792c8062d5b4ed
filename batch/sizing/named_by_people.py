"""Names and notes that people gave: they stay as they are, whatever words a code's country has."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from batch.records import Bank, Job, Project


def named_by_people(job: Job, project: Project, banks: Sequence[Bank]) -> Iterator[str | None]:
    """What people named in a project: no word of a code's country stands in its place."""
    yield from (project.project, project.title, project.customer, project.site, project.prepared_by)
    yield from (project.notes, project.note_to_customer)
    for bank in banks:
        yield from (bank.tank, bank.bank, bank.feeder, bank.notes, bank.heater_part)
    for one in job.feeders:
        if one.project == project.project:
            yield from (one.feeder, one.source, one.notes)
    for supply in job.sources:
        if supply.project == project.project:
            yield from (supply.source, supply.notes)
    for tank in job.tanks:
        if tank.project == project.project:
            yield from (tank.tank, tank.duty, tank.liquid, tank.tank_material, tank.work_material, tank.notes)
    yield from (part.part for part in job.stock)
