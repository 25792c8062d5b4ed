"""What there is to count of a sized workbook when its work is done, and the exit code that it has earned."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from batch.findings import Effect, Severity
from batch.heat_results import NOT_JUDGED, VERDICTS
from batch.results import JobResult

SIZED, LOOK, WRONG_COMMAND, FILE_FAULT, NOT_ALL_SIZED, STOPPED = 0, 1, 2, 3, 4, 130


class Tally(NamedTuple):
    """What the closing table says of one workbook."""

    workbook: str
    projects: int
    tanks: int
    banks: int
    heaters: int
    kw: float
    holds: int
    cautions: int
    notes: int
    not_sized: int
    failed_checks: int
    written: str
    heat: str = ""  # how many tanks have heat enough, in words; "" = none was judged


def tally(name: str, result: JobResult, listed: Sequence[Mapping], written: str) -> Tally:
    """`listed` is the Findings sheet's rows with their counts, so that the screen counts as Read first does."""
    banks = [row for project in result.projects for row in project.banks]
    severities: Counter[str] = Counter()
    for line in listed:
        severities[line["severity"]] += line["count"]
    return Tally(
        name,
        projects=len(result.projects),
        tanks=len({(row.bank.project, row.bank.tank) for row in banks}),
        banks=len(banks),
        heaters=sum(row.bank.quantity for row in banks),
        kw=sum(row.design.connected_kw for row in banks),
        holds=severities[Severity.HOLD.word],
        cautions=severities[Severity.CAUTION.word],
        notes=severities[Severity.NOTE.word],
        not_sized=heater_rows_not_sized(result),
        failed_checks=sum(not check.passes for check in result.checks),
        written=written,
        heat=heat_words(result),
    )


def heat_words(result: JobResult) -> str:
    """ "2 short, 215 enough, 1 not judged": the heat check in a line."""
    counts = Counter(row.verdict for project in result.projects for row in project.heat)
    return ", ".join(f"{counts[word]:,} {word}" for word in VERDICTS if counts[word]) if set(counts) - {NOT_JUDGED} else ""


def heater_rows_not_sized(result: JobResult) -> int:
    """Rows of the heater list that held data and are in no total: refused in reading, or not sized."""
    from batch.intake.table import NO_DATA

    heaters = [table for table in result.job.received if table.kind == "heaters"]
    refused = sum(bool(row.refused) and row.refused not in NO_DATA for table in heaters for row in table.rows)
    return refused + sum(fate == Effect.NOT_SIZED.word for fate in result.fates.values())


def verdict(result: JobResult) -> int:
    """The exit code that one workbook has earned: 0, 1 or 4."""
    if any(finding.kind.effect is Effect.NOT_SIZED for finding in result.findings):
        return NOT_ALL_SIZED
    if any(finding.severity is not Severity.NOTE for finding in result.findings) or not all(check.passes for check in result.checks):
        return LOOK
    return SIZED
