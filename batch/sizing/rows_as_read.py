"""What reading said of each row of the user's workbook, and of feeders by themselves."""

from __future__ import annotations

from collections.abc import Iterable
from string import ascii_uppercase as LETTERS

from batch.findings import Finding, Severity


def findings_by_row(findings: Iterable[Finding]) -> dict[tuple[str, int], list[Finding]]:
    """Findings about a cell, by sheet and row."""
    rows: dict[tuple[str, int], list[Finding]] = {}
    for finding in findings:
        digits = finding.cell.lstrip(LETTERS)
        if digits.isdigit():
            rows.setdefault((finding.sheet, int(digits)), []).append(finding)
    return rows


def findings_by_feeder(findings: Iterable[Finding], project: str) -> dict[str, list[Finding]]:
    """Cautions and holds of reading that are about a feeder and no tank, by the feeder's name."""
    found: dict[str, list[Finding]] = {}
    for one in findings:
        if one.feeder and not one.tank and one.project in ("", project) and one.severity is not Severity.NOTE:
            found.setdefault(one.feeder, []).append(one)
    return found
