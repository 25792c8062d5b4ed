"""What of a sized project can bear cost: its banks with what is built for each, and its feeders."""

from __future__ import annotations

from collections import Counter

from batch.price.job_costs import Owned
from batch.results import ProjectResult
from batch.sizing.materials import single_circuits


def owned_of(project: ProjectResult) -> Owned:
    """The bearers of a project, with its lines."""
    record = project.project
    singles = {place: single.name for single in single_circuits(project.banks) for place in single.banks}
    builds: dict[tuple[str, str], Counter[str]] = {}
    for row in project.banks:
        place = row.bank.tank, row.label
        counted = builds.setdefault(place, Counter())
        counted.update(panel.type for panel in row.panels)
        if row.design.single_circuit is not None:
            counted[singles[place]] += 1
    banks = tuple((row.bank.tank, row.label, row.hold is not None, row.feeder.feeder) for row in project.banks)
    feeders = tuple(row.feeder.feeder for row in project.feeders)
    return Owned(record.project, record.currency, record.date, project.materials, banks, builds, feeders)
