"""A job of more banks than one workbook holds well, divided: whole tanks, with their feeders and sources, so that each section is a job.

What hangs together stays together: no feeder, source or tank is in two sections, so that every total of theirs is whole. A project is
divided only where each of its heaters names a feeder that is listed; and a job that is priced is not divided at all, since lots, price
breaks and what a project has once are of the whole. A row of no listed project that may hang on feeders of several sections is in each.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Iterator, Mapping
from itertools import pairwise
from math import ceil
from string import ascii_uppercase as LETTERS
from typing import TypeVar

from msgspec.structs import replace

from batch.counted_words import counted
from batch.errors import ToBeDivided
from batch.file_names import section_name
from batch.findings import Finding, find, remark
from batch.money_records import MONEY
from batch.origin import Origin
from batch.received_rows import ReceivedRow, ReceivedTable
from batch.records import Bank, Feeder, Job, PowerSource, Tank, UnreadBank
from batch.section_records import Section

MOST = 12_000  # banks that are sized into one workbook, some 100 MB of results; no outside source
EACH = 6_000  # of a section, at most: 50 MB of results, and 250 MB to size and write them
DIVIDED = ("projects", "sources", "feeders", "tanks", "heaters")  # sheets whose rows go to the sections that they are of
Whole = tuple[Hashable, ...]  # names something that may not be divided
Record = TypeVar("Record", Bank, UnreadBank, Tank, Feeder, PowerSource)


def may_be_divided(job: Job) -> bool:
    """Whether a job is more than one workbook holds well, and its sections come to the same: it is in our own form, and nothing of it is
    priced.
    """
    if len(job.banks) <= MOST:
        return False
    priced = any(getattr(job, id) for id in MONEY) or any(part.unit_price is not None for part in job.stock)
    return not priced and not job.how_read and not job.carried_forward and not job.answered and not job.came_from


def refuse_undivided(job: Job) -> Job:
    """A job that is sized as one; what is said of one that would be divided, and cannot be, is among its findings.

    Raises:
        ToBeDivided: it is to be sized in sections.
    """
    if not may_be_divided(job):
        return job
    sections = sections_of(job)
    if len(sections) > 1:
        raise ToBeDivided(sections)
    return replace(job, findings=(*job.findings, _not_divided(job)))


def _not_divided(job: Job) -> Finding:
    """What keeps a job in one: the first row that names no listed feeder or source, where there is one."""
    loose = _Together(job).loose
    held = "tanks, feeders and sources hang together"
    if loose:
        one, column = loose[0]
        held = f"no listed feeder or source is named in {counted(len(loose), 'row')}, so that what may hang on any stays together"
        said = remark("job-not-divided", column, banks=f"{len(job.banks):,}", held=held)
        return find(said, project=one.project, sheet=one.origin.sheet, cell=one.origin.cell(column))
    return find(remark("job-not-divided", banks=f"{len(job.banks):,}", held=held))


def sections_of(job: Job, most: int = EACH) -> list[Job]:
    """The job divided into sections of at most `most` banks, in the order of its rows; the job alone where it cannot be divided.

    A section holds more where what hangs together does. Every row is in one section at least; of projects, and of what is of no bank,
    see `_Rows`.
    """
    together = _Together(job)
    room = ceil(len(job.banks) / ceil(len(job.banks) / most)) if job.banks else most
    section_of: dict[Whole, int] = {}
    number, filled = 0, 0
    for whole, banks in Counter(together.of(bank) for bank in job.banks).items():  # in the order in which they are met
        if filled and (filled >= room or filled + banks > most):
            number, filled = number + 1, 0
        section_of[whole] = number
        filled += banks
    if not number:
        return [job]
    rows = _Rows(job, together, section_of, number + 1)
    return list(_parted(job, rows, number + 1))


def _heater_rows(job: Job) -> Iterator[Bank | UnreadBank]:
    """The rows of the heater list, sized or not."""
    yield from job.banks
    yield from job.unread


def _feeders(job: Job) -> Iterator[tuple[str, str, str]]:
    """The feeders that are listed, by what `_Together.named` calls them."""
    for one in job.feeders:
        yield one.project, "feeder", one.feeder


class _Together:
    """What hangs together: tanks, feeders and sources that are joined by a bank or a feeder, and projects that are not divided."""

    def __init__(self, job: Job) -> None:
        self._above: dict[Whole, Whole] = {}
        self._feeders = {(one.project, one.feeder.strip().casefold()) for one in job.feeders}
        sources = {(one.project, one.source.strip().casefold()) for one in job.sources} | {(one.project, "") for one in job.feeders}
        listed = {one.project for one in job.projects} | {one.project for one in job.banks}
        self.loose: list[tuple[Bank | UnreadBank | Feeder, str]] = [
            *((one, "feeder") for one in _heater_rows(job) if not self._has_feeder(one)),
            *((one, "source") for one in job.feeders if (one.project, (one.source or "").strip().casefold()) not in sources),
        ]
        self._undivided = {one.project for one, _ in self.loose}
        self.loose = [one for one in self.loose if one[0].project in listed]  # others keep no project together
        for feeder in job.feeders:
            if feeder.source is not None:
                self._join(self.named(feeder.project, "source", feeder.source), self.named(feeder.project, "feeder", feeder.feeder))
        for bank in _heater_rows(job):
            self._join(self.named(bank.project, "feeder", bank.feeder or ""), self.of(bank))
        for before, bank in pairwise(job.banks):
            if before.origin.row == bank.origin.row and before.origin.sheet == bank.origin.sheet:  # a row of several tanks
                self._join(self.of(before), self.of(bank))

    def _has_feeder(self, bank: Bank | UnreadBank) -> bool:
        return (bank.project, (bank.feeder or "").strip().casefold()) in self._feeders

    def of(self, bank: Bank | UnreadBank) -> Whole:
        """What a bank is a part of, by its tank; of an unread row without one by its feeder."""
        return self.named(bank.project, "tank", bank.tank) if bank.tank else self.named(bank.project, "feeder", bank.feeder or "")

    def named(self, project: str, kind: str, tag: str) -> Whole:
        """What a tank, feeder or source is a part of."""
        if project in self._undivided:
            return (project,)
        found: Whole = (project, kind, tag.strip().casefold())
        while (above := self._above.get(found)) is not None:
            further = self._above.get(above)
            if further is not None:
                self._above[found] = further  # the way is shorter next time
            found = above
        return found

    def _join(self, one: Whole, other: Whole) -> None:
        if one != other:
            self._above[other] = one


class _Rows:
    """Which sections each row is in. A row of no bank (blank, a note, one that could not be read) goes with the row above it; tanks,
    feeders and sources without heaters go into the first section, and a project into every one that has heaters of it.

    A row of no listed project goes wherever it may hang on a feeder, which is not released while it does.
    """

    def __init__(self, job: Job, together: _Together, section_of: dict[Whole, int], of: int) -> None:
        self._only = only = [frozenset((number,)) for number in range(of)]  # one for all of its rows, not 40 MB of them
        self._of: dict[str, dict[int, frozenset[int]]] = {table.sheet: {} for table in job.received if table.kind in DIVIDED}
        there: dict[str, set[int]] = {}
        listed = {one.project for one in job.projects} | {one.project for one in job.banks}
        lost = [row for row in job.unread if row.project not in listed]
        for bank in (one for one in _heater_rows(job) if one.project in listed):
            number = section_of.get(together.of(bank), 0)
            self._put(bank.origin, only[number])
            there.setdefault(bank.project, set()).add(number)
        if lost:
            self._put_lost(lost, job, {key: only[section_of.get(together.named(*key), 0)] for key in _feeders(job)}, there)
        for kind, records in (("tank", job.tanks), ("feeder", job.feeders), ("source", job.sources)):
            for record in records:
                self._put(record.origin, only[section_of.get(together.named(record.project, kind, getattr(record, kind)), 0)])
        for project in job.projects:
            self._put(project.origin, frozenset(there.get(project.project, {0})))
        for table in job.received:
            if table.kind in DIVIDED:
                above, own = only[0], self._of[table.sheet]
                for row in table.rows:
                    above = own.setdefault(row.row, above)

    def _put(self, origin: Origin, numbers: frozenset[int]) -> None:
        if origin.row:
            self._of.setdefault(origin.sheet, {})[origin.row] = numbers

    def _put_lost(
        self,
        lost: Iterable[UnreadBank],
        job: Job,
        feeders: Mapping[tuple[str, str, str], frozenset[int]],
        there: Mapping[str, set[int]],
    ) -> None:
        """Rows of no listed project, as `schedules.hanging` has them hang: on each feeder of their name for it, on any without one."""
        by_name: dict[str, frozenset[int]] = {}
        for (_, _, tag), numbers in feeders.items():
            by_name[tag.strip().casefold()] = by_name.get(tag.strip().casefold(), frozenset()) | numbers
        own = {project for project, _, _ in feeders}  # of other projects feeders are assumed, by names of their own
        assumed = frozenset(number for project, numbers in there.items() if project not in own for number in numbers)
        everywhere = frozenset(range(len(self._only)))
        for row in lost:
            name = row.feeder.strip().casefold()
            self._put(row.origin, by_name.get(name, assumed or self._only[0]) if name else everywhere)

    def of(self, sheet: str, row: int) -> frozenset[int]:
        return self._of[sheet][row] if row else frozenset()

    def said_in(self, finding: Finding, number: int) -> bool:
        """Whether a section says what reading found: of its rows, and of whole sheets and files."""
        digits = finding.cell.lstrip(LETTERS)
        own = self._of.get(finding.sheet, {}).get(int(digits)) if digits.isdigit() else None
        return own is None or number in own

    def parted(self, records: Iterable[Record]) -> list[list[Record]]:
        """The records of each section, by their rows."""
        found: list[list[Record]] = [[] for _ in self._only]
        for one in records:
            for number in self.of(one.origin.sheet, one.origin.row):
                found[number].append(one)
        return found

    def tables(self, table: ReceivedTable) -> list[ReceivedTable]:
        """A sheet as it came, the rows of each section; a sheet that is no part of a job is shown in the first."""
        if table.kind not in DIVIDED:
            return [table if table.kind or number == 0 else replace(table, rows=()) for number in range(len(self._only))]
        found: list[list[ReceivedRow]] = [[] for _ in self._only]
        for row in table.rows:
            for number in self.of(row.sheet, row.row):
                found[number].append(row)
        return [replace(table, rows=tuple(some)) for some in found]


def _parted(job: Job, rows: _Rows, of: int) -> Iterator[Job]:
    """The sections, each record of the job looked at once."""
    kept = {field: rows.parted(getattr(job, field)) for field in ("sources", "feeders", "tanks", "banks", "unread")}
    tables = [rows.tables(table) for table in job.received]
    for number in range(of):
        own = {field: tuple(some[number]) for field, some in kept.items()}
        names = {one.project for one in own["banks"]}
        yield replace(
            job,
            name=section_name(job.name, number + 1, of),
            projects=tuple(one for one in job.projects if number in rows.of(one.origin.sheet, one.origin.row) or one.project in names),
            received=tuple(some[number] for some in tables),
            findings=(_said(job, number, of, len(own["banks"])), *(one for one in job.findings if rows.said_in(one, number))),
            section=Section(number + 1, of, f"{len(job.banks):,}"),
            **own,
        )


def _said(job: Job, number: int, of: int, banks: int) -> Finding:
    """That this is a section: whoever opens it must not take it for the job."""
    return find(remark("job-divided", number=number + 1, of=of, banks=f"{banks:,}", all=f"{len(job.banks):,}"))
