"""Cautions that nearly every feeder or bank of a project carries: said once for the project, since on each row they say nothing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from batch.control_results import TankControl
from batch.findings import Finding, Severity
from batch.results import BankRow, FeederRow
from batch.section_records import Section

NEARLY_ALL = 0.9  # of the rows; common practice, no source
FEWEST = 4  # rows: of fewer each is read by itself


class CautionsCarried(NamedTuple):
    """Of the rows of one kind how many there are, and how many of them carry each caution; a hold is never among those."""

    rows: int
    codes: Counter[str]


def carried_by(feeders: Sequence[FeederRow], banks: Sequence[BankRow], controls: Sequence[TankControl]) -> tuple[CautionsCarried, ...]:
    """Of the feeders of a project that have heaters, of its banks and of its control panels."""
    return (
        _carried([row.findings for row in feeders if row.banks]),
        _carried([row.findings for row in banks]),
        _carried([row.findings for row in controls]),
    )


def _carried(rows: Sequence[Iterable[Finding]]) -> CautionsCarried:
    codes: Counter[str] = Counter()
    for findings in rows:
        codes.update({finding.code for finding in findings if finding.severity is Severity.CAUTION})
    return CautionsCarried(len(rows), codes)


def by_nearly_all(kinds: Iterable[CautionsCarried]) -> frozenset[str]:
    """Codes of cautions that nearly all rows of one kind carry."""
    return frozenset(code for rows, codes in kinds if rows >= FEWEST for code, count in codes.items() if count >= NEARLY_ALL * rows)


def said_once(section: Section | None, project: str, own: Iterable[CautionsCarried]) -> frozenset[str]:
    """What is said once for a project. Of one that is divided this is a matter of the whole: no row is to look better or worse for the
    section that it is in.
    """
    if section is not None and section.once is not None:
        return section.once.get(project, frozenset())
    return by_nearly_all(own)
