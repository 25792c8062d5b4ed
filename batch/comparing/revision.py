"""One revision of a job: what was read, what sizing made of it, and what had been decided in it before."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from msgspec import Struct, field

from batch.comparing.changeset import Side
from batch.comparing.lines import Entry, lines_of
from batch.origin import Address
from batch.records import Job
from batch.results import BankRow, JobResult
from batch.schedules import Row, rows, sized_rows
from batch.sizing.previous_decisions import NOTHING, PreviousDecisions


class Revision(Struct, frozen=True, dict=True):
    """A job workbook, or a results workbook taken apart again.

    program   what sized it: of a results workbook as it says, of a job workbook this program
    labels    of banks left blank, where they were decided before
    previous  what it was sized with: decisions of an earlier revision, or of its own results
    """

    job: Job
    result: JobResult
    program: str = ""
    labels: Mapping[Address, str] = field(default_factory=dict)
    previous: PreviousDecisions = NOTHING

    @cached_property
    def lines(self) -> dict[str, list[Entry]]:
        return lines_of(self.job, self.labels)

    @cached_property
    def banks(self) -> dict[Address, tuple[int, BankRow]]:
        """Every sized bank by the address of its row, with its place among the rows of the Banks sheet."""
        sized = [row for project in self.result.projects for row in project.banks]
        return {row.bank.origin.address: (at, row) for at, row in enumerate(sized)}

    @cached_property
    def bank_rows(self) -> list[Row]:
        """Rows of the Banks sheet, of what could be sized; asked for of each revision, perhaps against several others."""
        return sized_rows(self.result, "banks")

    @cached_property
    def feeder_rows(self) -> list[Row]:
        return sized_rows(self.result, "feeder_totals")

    @cached_property
    def panel_rows(self) -> list[list[Row]]:
        """Rows of the Panels sheet by the place of their bank."""
        flat = iter(rows(self.result, "panels"))
        return [[next(flat) for _ in bank.panels] for project in self.result.projects for bank in project.banks]

    @property
    def side(self) -> Side:
        revisions = dict.fromkeys(project.revision for project in self.job.projects if project.revision)
        codes = dict.fromkeys(project.rule_set for project in self.result.projects)
        wordings = {project.project.project: project.wording for project in self.result.projects}
        section = self.job.section
        part = "" if section is None else f"section {section.number} of {section.of}"
        return Side(self.job.name, ", ".join(revisions), self.program, tuple(codes), wordings, part)
