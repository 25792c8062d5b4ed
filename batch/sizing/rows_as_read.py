"""What reading said of each row of the user's workbook."""

from __future__ import annotations

from collections.abc import Iterable
from string import ascii_uppercase as LETTERS

from batch.findings import Finding


def findings_by_row(findings: Iterable[Finding]) -> dict[tuple[str, int], list[Finding]]:
    """Findings about a cell, by sheet and row."""
    rows: dict[tuple[str, int], list[Finding]] = {}
    for finding in findings:
        digits = finding.cell.lstrip(LETTERS)
        if digits.isdigit():
            rows.setdefault((finding.sheet, int(digits)), []).append(finding)
    return rows
