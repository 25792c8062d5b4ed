"""What of a sized project can bear cost: its banks with what is built for each, and its feeders."""

from __future__ import annotations

from collections import Counter

from batch.material_lines import BANK, FEEDER, TANK, Owner
from batch.price.job_costs import Owned
from batch.results import ProjectResult
from batch.sizing.holds import worst_hold
from batch.sizing.materials import control_builds, single_circuits


def owned_of(project: ProjectResult) -> Owned:
    """The bearers of a project, with its lines."""
    record = project.project
    singles = {place: single.name for single in single_circuits(project.banks) for place in single.banks}
    builds: dict[Owner, Counter[str]] = {}
    for row in project.banks:
        place = row.bank.tank, row.label
        counted = builds.setdefault(Owner(BANK, *place), Counter())
        counted.update(panel.type for panel in row.panels)
        if row.design.single_circuit is not None:
            counted[singles[place]] += 1
    for name, controls in control_builds(project.controls).items():
        for control in controls:
            builds.setdefault(Owner(TANK, control.tank), Counter())[name] += 1
    banks = tuple((Owner(BANK, row.bank.tank, row.label), row.feeder.feeder) for row in project.banks)
    held = {Owner(BANK, row.bank.tank, row.label) for row in project.banks if row.hold is not None}
    held |= {Owner(TANK, control.tank) for control in project.controls if control.hold is not None}
    held |= {Owner(FEEDER, "", row.feeder.feeder) for row in project.banks if row.hold is not None}  # it is sized for them
    held |= {Owner(FEEDER, "", row.feeder.feeder) for row in project.feeders if worst_hold(row.findings) is not None}
    feeders = tuple(row.feeder.feeder for row in project.feeders)
    return Owned(record.project, record.currency, record.date, project.materials, banks, builds, feeders, frozenset(held))
