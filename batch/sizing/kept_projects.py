"""Projects that come again just as they were: for who sizes the same jobs over and over in one process, a watched workbook.

What a project was sized from is kept with what came of it, and compared whole: every record of its own, the stock list and prices, its
rule set, and what reading said of its rows. A row that moved is another row.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple, Protocol

from msgspec.structs import replace

from batch.findings import Finding
from batch.records import Bank, Job, Project
from batch.results import ProjectResult
from batch.rules import RuleSet
from batch.sizing.previous_decisions import PreviousDecisions
from batch.unsized_results import NotSized

Address = tuple[str, int]  # sheet and row
MOST_KEPT = 50  # projects; one of 200 banks takes some 5 MB


class ProjectWork(Protocol):
    """What sizes a project, with what it has heard so far."""

    job: Job
    project: Project
    banks: list[Bank]
    rules: RuleSet
    previous: PreviousDecisions
    said_of_rows: Mapping[Address, list[Finding]]
    of_feeders: dict[str, list[Finding]]
    fates: dict[Address, str]
    findings: list[Finding]
    not_sized: list[NotSized]

    def run(self, tell: Callable[[int], None]) -> ProjectResult: ...


class SizedFrom(NamedTuple):
    """All that the sizing of a project looks at."""

    job: Job  # with the banks, tanks and feeders of the project alone
    project: Project
    rules: RuleSet
    previous: PreviousDecisions
    said_of_rows: Mapping[Address, Sequence[Finding]]
    said_of_feeders: Mapping[str, Sequence[Finding]]
    unread: Sequence[NotSized]


class CameOf(NamedTuple):
    """All that came of it."""

    result: ProjectResult
    findings: tuple[Finding, ...]
    not_sized: tuple[NotSized, ...]
    fates: Mapping[Address, str]


_kept: dict[tuple[str, str], tuple[SizedFrom, CameOf]] | None = None


def keep_projects() -> None:
    """From now on the last sizing of each project is kept."""
    global _kept
    _kept = {} if _kept is None else _kept


def run_or_recall(sizer: ProjectWork, tell: Callable[[int], None]) -> ProjectResult:
    """What came of a project the last time, where that is kept and it is just as it was; else it is sized."""
    if _kept is None:
        return sizer.run(tell)
    seen = _seen_by(sizer)
    place = seen.job.name, seen.project.project
    before, sized = _kept.get(place, (None, None))
    if sized is None or before != seen:
        whole, sizer.fates = sizer.fates, {}
        result = sizer.run(tell)
        sized = CameOf(result, tuple(sizer.findings), tuple(sizer.not_sized), sizer.fates)
        sizer.fates = whole
        if len(_kept) >= MOST_KEPT:
            _kept.clear()
        _kept[place] = (seen, sized)
    else:
        sizer.findings, sizer.not_sized = list(sized.findings), list(sized.not_sized)
    sizer.fates.update(sized.fates)
    return sized.result


def _seen_by(sizer: ProjectWork) -> SizedFrom:
    """Nothing of the workbook's other projects."""
    job, project = sizer.job, sizer.project
    own = replace(
        job, digest="", projects=(), received=(), findings=(), carried_forward=(), how_read=(), accounted=(), stated=(), map_text="",
        sent=None, unread=(), banks=tuple(sizer.banks), tanks=tuple(one for one in job.tanks if one.project == project.project),
        feeders=tuple(one for one in job.feeders if one.project == project.project),
    )  # fmt: skip
    rows = [(bank.origin.sheet, bank.origin.row) for bank in sizer.banks]
    said = {row: sizer.said_of_rows[row] for row in rows if row in sizer.said_of_rows}
    of_feeders = {name: tuple(some) for name, some in sizer.of_feeders.items()}
    return SizedFrom(own, project, sizer.rules, sizer.previous, said, of_feeders, tuple(sizer.not_sized))
