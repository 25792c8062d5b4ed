"""What became of a row: sized, with something to review, on hold; or nothing at all, since its project's rule set is not at hand."""

from __future__ import annotations

from batch.findings import Effect, Finding, Severity, find, remark
from batch.records import Project
from batch.results import BankRow
from batch.rules import available

FATES: dict[Severity | None, str] = {
    None: "sized", Severity.NOTE: "sized", Severity.CAUTION: "sized, review", Severity.HOLD: Effect.NOT_RELEASED.status,
}  # fmt: skip


def fate_of(row: BankRow, once: frozenset[str]) -> str:
    if row.hold is not None:
        return FATES[Severity.HOLD]
    return FATES[min((finding.severity for finding in (*row.findings, *row.around) if finding.code not in once), default=None)]


def no_edition(project: Project, name: str) -> Finding:
    said = remark("code-basis-unavailable", "code_basis", asked=name, available=", ".join(available()))
    origin, seen = project.origin, project.code_basis or ""
    return find(said, project=project.project, sheet=origin.sheet, cell=origin.cell("code_basis"), seen=seen)
