"""What was sized, written as a results workbook and what goes with it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from msgspec.structs import replace

from batch.program import PROGRAM
from batch.report import write
from batch.results import JobResult
from batch.rules import DEFAULT_EDITION, RuleSet, load
from batch.schedules.country_words import shared_in_us


def write_results(
    result: JobResult, target: Path, *, us: bool | None = None, stamp: str = "", print_set: str = "", also: Sequence[str] = ()
) -> JobResult:
    """Writes what was sized to `target`, or beside it where what stands there is somebody's; the result says where. As in `batch.size`."""
    part = write(result, target, stamp=stamp, program=PROGRAM, us=us, paper=rules_of(result).paper, print_set=print_set)
    result = replace(result, written=str(part.landed), aside=part.why)
    for kind in also:
        from batch.plain_tables import write_plain

        tables = write_plain(result, part.landed, kind, us=shared_in_us(result, us))
        result = replace(result, about=(*result.about, f"as plain tables: {tables}"))
    return result


def rules_of(result: JobResult) -> RuleSet:
    """The rule set of the first project: units and paper are its region's."""
    return load(next((project.rule_set for project in result.projects), DEFAULT_EDITION))
