"""What has to be settled before a price is an offer. Until then it is a budget figure, and says so."""

from __future__ import annotations

from collections.abc import Iterator

from batch.counted_words import counted_or_no as counted
from batch.findings import Effect
from batch.price.open_lines import missing_rates, open_words
from batch.results import JobResult, ProjectResult
from batch.sheets.received import BUDGET, OFFER

__all__ = ["BUDGET", "OFFER", "all_sized", "gates"]


def all_sized(result: JobResult, project: str) -> bool:
    """Whether nothing of the project's list, nor of what is said of the whole job, is left out of its sizing."""
    return not any(finding.kind.effect is Effect.NOT_SIZED and finding.project in ("", project) for finding in result.findings)


def gates(result: JobResult, project: ProjectResult) -> Iterator[str]:
    """Why the price of a project is no offer yet, for the estimator; nothing where it is one."""
    name = project.project.project
    missing = len(project.not_sized) + sum(row.project == name for row in result.not_sized)
    if missing:
        yield f"{counted(missing, 'row')} {'is' if missing == 1 else 'are'} not sized"
    elif not all_sized(result, name):
        yield "some of the list could not be read, or is not sized: see Findings"
    if project.astray:
        lost = len(project.astray)
        yield f"{counted(lost, 'row')} of no project that is listed may belong to it"
    held = sum(row.hold is not None for row in project.banks) + sum(one.hold is not None for one in project.controls)
    if held:
        yield f"{held} {'bank or control panel is' if held == 1 else 'banks or control panels are'} on hold"
    atoms = result.money.of_project(name)
    yield from open_words(project.materials)
    if not atoms or any(atom.cost.price is None for atom in atoms):
        yield f"no price: {missing_rates(atoms[0].rates) if atoms else 'nothing bears cost'}"
    failed = sum(not check.passes for check in result.checks)
    if failed:
        yield f"{counted(failed, 'check')} of the results {'fails' if failed == 1 else 'fail'}"
    if any(finding.code == "scope-contradicts" and finding.project == name for finding in result.findings):
        yield "Scope and lines contradict each other"
