"""Cautions that nearly every feeder or bank of a project carries: said once for the project, since on each row they say nothing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from batch.findings import Finding, Severity

NEARLY_ALL = 0.9  # of the rows; common practice, no source
FEWEST = 4  # rows: of fewer each is read by itself


def said_once(*kinds_of_rows: Sequence[Iterable[Finding]]) -> frozenset[str]:
    """Codes of cautions that nearly all rows of one kind carry; each argument holds the findings of each row of a kind. A hold is never
    among them.
    """
    codes: set[str] = set()
    for rows in kinds_of_rows:
        carried: Counter[str] = Counter()
        for findings in rows:
            carried.update({finding.code for finding in findings if finding.severity is Severity.CAUTION})
        if len(rows) >= FEWEST:
            codes |= {code for code, count in carried.items() if count >= NEARLY_ALL * len(rows)}
    return frozenset(codes)
