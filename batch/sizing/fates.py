"""What became of a row: sized, with something to review, on hold, read; or nothing at all, since its project's rule set is not at hand."""

from __future__ import annotations

from collections.abc import Container, Iterator

from batch.findings import Effect, Finding, Severity, find, remark
from batch.money_records import MONEY
from batch.records import Job, Project
from batch.results import BankRow
from batch.rules import available

FATES: dict[Severity | None, str] = {
    None: "sized", Severity.NOTE: "sized", Severity.CAUTION: "sized, review", Severity.HOLD: Effect.NOT_RELEASED.status,
}  # fmt: skip
READ = "read"


def fate_of(row: BankRow, once: Container[str]) -> str:
    """The fate of a sized bank's row; findings said once for the project do not count."""
    if row.hold is not None:
        return FATES[Severity.HOLD]
    worst = min((finding.severity for finding in (*row.findings, *row.around) if finding.code not in once), default=None)
    return FATES[Severity.CAUTION if worst is Severity.HOLD else worst]  # a hold of what it hangs on alone asks for a look


def rows_beside(job: Job) -> Iterator[tuple[str, int]]:
    """Sheet and row of every record that is no bank: read, unless more is known of it."""
    beside = (job.projects, job.sources, job.feeders, job.tanks, job.stock, *(getattr(job, id) for id in MONEY))
    for records in beside:
        for record in records:
            if record.origin.row:
                yield record.origin.sheet, record.origin.row


def no_edition(project: Project, name: str) -> Finding:
    said = remark("code-basis-unavailable", "code_basis", asked=name, available=", ".join(available()))
    origin, seen = project.origin, project.code_basis or ""
    return find(said, project=project.project, sheet=origin.sheet, cell=origin.cell("code_basis"), seen=seen)
