"""Findings: everything a person should know, worst first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from batch.findings import Finding, Kind, Severity
from batch.results import JobResult
from batch.schedules.schedule import Schedule, its_bank, its_feeder, its_project, its_tank, ordinal, text


class Line(NamedTuple):
    """One finding, or notes of a project that read `alike`."""

    number: int
    first: Finding
    kind: Kind
    alike: Sequence[Finding]
    alone: bool


def _items(result: JobResult) -> Iterator[Line]:
    """Worst first, then in reading order. Notes of a project that read alike are one row with a count."""
    lines: dict[tuple, list[Finding]] = {}
    for at, finding in enumerate(result.findings):
        alike = (finding.project, finding.code, finding.message) if finding.severity is Severity.NOTE else (at,)
        lines.setdefault(alike, []).append(finding)
    for at, group in enumerate(sorted(lines.values(), key=lambda group: group[0].severity), start=1):
        yield Line(at, group[0], group[0].kind, group, len(group) == 1)


FINDINGS = Schedule(
    "findings", "Findings", "finding", "Everything a person should know, worst first. Notes are said once with a count.", key=("no",),
    items=_items,
    columns=(
        ordinal("no", "No.", "", "number",
                width=6, help="Number of the finding in this workbook."),
        text("severity", "Severity", 9, "kind.severity.word",
             role="result", help="hold, caution or note."),
        text("effect", "Effect", 14, "kind.effect.word",
             role="result", help="not sized: left out of every total; not released for fabrication: sized and counted, but must not be built so."),
        text("code", "Code", 19, "kind.code",
             help="Stable name of this kind of finding; README lists them all."),
        text("message", "What", 45, "first.message",
             role="result", help="What was found."),
        text("advice", "What to do", 38, "kind.advice",
             help="How to put it right."),
        text("go_to", "Go to", 15, lambda at: "",
             role="result", help="Sheet and row that it is about; a link, set when the sheets stand."),
        replace(its_project("first.project"), width=9),
        replace(its_tank(lambda at: at.first.tank if at.alone else ""), width=10),
        replace(its_bank(lambda at: at.first.bank if at.alone else ""), width=6),
        replace(its_feeder(lambda at: at.first.feeder if at.alone or len({finding.feeder for finding in at.alike}) == 1 else ""), width=8),
        ordinal("count", "Rows", "ea", lambda at: len(at.alike),
                width=6, role="calculation", help="How many rows it concerns."),
        text("where", "Sheet and cell", 18, lambda at: at.first.address if at.alone else f"{at.first.address} … ({len(at.alike)} rows)",
             help="Where it stands in the workbook that was read."),
        text("seen", "Value seen", 16, lambda at: at.first.seen if at.alone else "",
             role="input", help="What stood there. Not printed.", on_paper=False),
        text("basis", "Basis", 36, "first.basis",
             help="Rule or practice behind it. Not printed.", on_paper=False),
    ),
)
