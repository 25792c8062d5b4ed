"""Where the answer to a question goes: the rows and cells of the list that it is about, each with a mark of what stands there now.

A mark is the same in the job workbook and in its results, so that an answer finds its place in either, and no longer where the place says
another thing than when it was asked.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from hashlib import sha256
from typing import NamedTuple

from batch.findings import Finding
from batch.received_rows import CameFrom
from batch.records import Job
from batch.results import JobResult

RECORDS = {"projects": "projects", "sources": "sources", "feeders": "feeders", "tanks": "tanks", "heaters": "banks"}
OF_HEATERS = ("quantity", "power_kw", "volts_v", "phases")  # by which a row's heaters are told from those of another
CELLS, CONFIRM, BY_HAND = "cells", "confirm", "hand"
MARK = 8  # hexadecimal digits
ROWS = re.compile(r"\brows? \d.*", re.DOTALL)  # of a sentence that names rows by number, which are others in the results


class Place(NamedTuple):
    """One place that an answer may fill.

    table    input sheet of its row; "" = the answer fills nothing
    names    what an answer may call it by, folded: "t-1", "t-1/2", "heaters g14", "g14"
    shown    how it is called
    columns  column keys of that sheet that the answer may fill
    sheet, row, cell  where it stands in the list; row 0 = there is no row yet
    turn     which of the records of its row: a row may name several tanks
    tags     project, tank, bank or feeder
    mark     of the place and of what stands there
    blank    which of the columns say nothing yet
    seen     what the cell says that it is about; of a feeder its volts, by which an answer that names other volts is told
    """

    table: str
    names: tuple[str, ...]
    shown: str
    columns: tuple[str, ...]
    sheet: str
    row: int
    cell: str
    tags: tuple[str, str, str]
    mark: str
    blank: tuple[str, ...] = ()
    seen: str = ""
    turn: int = 0


def mark_of(*parts: object) -> str:
    """A few digits that stand for these words and figures."""
    return sha256("\x1f".join(_plain(part) for part in parts).encode()).hexdigest()[:MARK]


def record_mark(table: str, tags: Sequence[str], record: object, columns: Sequence[str]) -> str:
    """Of a row of the list, and of what it says in these columns; of heaters also which they are: their tag may be a number by order."""
    own = (*OF_HEATERS, *columns) if table == "heaters" else columns
    return mark_of(table, *map(_folded, tags), *(getattr(record, key) for key in own) if record is not None else columns)


def as_sent(came_from: Mapping[str, CameFrom], sheet: str, cell: str) -> str:
    """A cell as the customer knows it, "Heaters E4": of a results workbook that of the list it was made from."""
    came = came_from.get(sheet)
    there = came.address(cell) if came is not None else ""
    return f"{came.sheet.strip()} {there}" if came is not None and there else f"{sheet.strip()} {cell}"


class Places:
    """Looks up the rows of a job that questions are about."""

    def __init__(self, result: JobResult) -> None:
        job = result.job
        self._came_from = job.came_from
        self._at = _by_row(job)
        self._kinds = {table.sheet: (table.kind, frozenset(table.keys)) for table in job.received if table.kind in RECORDS}
        self._tanks = {(_folded(one.project), _folded(one.tank)): one for one in job.tanks}
        self._feeders = {(_folded(one.project), _folded(one.feeder)): one for one in job.feeders}
        self._projects = {_folded(one.project): one for one in job.projects}
        self._labels = {row.bank.origin.address: row.label for one in result.projects for row in one.banks}
        self._banks: dict[tuple[str, str], list] = defaultdict(list)
        for bank in job.banks:
            self._banks[_folded(bank.project), _folded(bank.tank)].append(bank)
        self._on: dict[tuple[str, str], dict[str, str]] = defaultdict(dict)
        for one in result.projects:
            for row in one.banks:
                self._on[_folded(one.project.project), _folded(row.feeder.feeder)].setdefault(_folded(row.bank.tank), row.bank.tank)

    def of(self, takes: str, finding: Finding) -> Iterator[Place]:
        """The places of one finding, for a question that takes these columns."""
        if takes == CELLS and finding.cell:
            yield self._cell(finding)
        elif takes in (CELLS, CONFIRM, BY_HAND):
            yield _nowhere(finding)
        else:
            found = list(self._rows(takes, finding))
            yield from found or [_nowhere(finding)]

    def _rows(self, takes: str, finding: Finding) -> Iterator[Place]:
        wanted: dict[str, tuple[str, ...]] = {}
        for one in takes.split(";"):
            table, _, key = one.partition(".")
            wanted[table] = (*wanted.get(table, ()), key)
        at = finding.sheet, _row_number(finding.cell)
        own_table, own = self._at.get(at, ("", ()))
        if own_table in wanted:
            yield from self._meant([self._row(own_table, one, wanted[own_table]) for one in own], finding)
            return
        kind, keys = self._kinds.get(finding.sheet, ("", frozenset()))
        if not own and kind in wanted and at[1] and keys.intersection(wanted[kind]):  # a row that could not be read
            tags = (finding.project, finding.tank or finding.feeder, finding.bank)
            mark = mark_of(kind, *map(_folded, tags), finding.seen)
            yield Place(kind, _names(tags, finding), _shown(tags, finding), wanted[kind], *at, finding.cell, tags, mark)
            return
        for table, columns in wanted.items():
            yield from self._tagged(table, columns, finding)

    @staticmethod
    def _meant(places: list[Place], finding: Finding) -> list[Place]:
        """Those of a row's places whose tags the finding has: one of its tanks must not stand for the others. All where it names none."""
        for tags in ((finding.tank or finding.feeder, finding.bank), (finding.tank or finding.feeder,)):
            some = [place for place in places if tuple(map(_folded, place.tags[1:]))[: len(tags)] == tuple(map(_folded, tags))]
            if some:
                return some
        return places

    def _tagged(self, table: str, columns: tuple[str, ...], finding: Finding) -> Iterator[Place]:
        """By the tags of the finding; a tank that has heaters and no row gets one."""
        project, tank, feeder = _folded(finding.project), _folded(finding.tank), _folded(finding.feeder)
        if table == "tanks":
            some = {tank: finding.tank} if tank else self._on.get((project, feeder), {})
            for folded, name in some.items():
                record = self._tanks.get((project, folded))
                if tank or record is None or any(getattr(record, key) is None for key in columns):
                    yield self._row(table, record, columns, (finding.project, name, ""))
        elif table == "heaters" and tank:
            for bank in self._banks.get((project, tank), ()):
                place = self._row(table, bank, columns)
                if not finding.bank or _folded(place.tags[2]) == _folded(finding.bank):
                    yield place
        elif table == "feeders" and (project, feeder) in self._feeders:
            yield self._row(table, self._feeders[project, feeder], columns)
        elif table == "projects" and project in self._projects:
            yield self._row(table, self._projects[project], columns)

    def _row(self, table: str, record, columns: tuple[str, ...], tags: tuple[str, str, str] = ("", "", "")) -> Place:
        if record is None:
            return Place(table, (_folded(tags[1]),), tags[1], columns, "", 0, "", tags, record_mark(table, tags, None, columns), columns)
        origin = record.origin
        tags = self.tags_of(table, record)
        mark = record_mark(table, tags, record, columns)
        blank = tuple(key for key in columns if getattr(record, key) is None)
        seen = f"{record.volts_v:g} V" if table == "feeders" and record.volts_v else ""
        return Place(table, _names(tags), _shown(tags), columns, origin.sheet, origin.row, "", tags, mark, blank, seen, origin.turn)

    def tags_of(self, table: str, record) -> tuple[str, str, str]:
        """Project, tank or feeder or source, and bank."""
        if table == "heaters":
            label = self._labels.get(record.origin.address, record.bank or "")
            return record.project, record.tank, label
        return record.project, "" if table == "projects" else getattr(record, table.removesuffix("s")), ""

    def again(self, place: Place) -> str:
        """The mark of a place in this job, whatever stands there by now; "" where it is no row."""
        project, name = _folded(place.tags[0]), _folded(place.tags[1])
        if place.table == "heaters":
            some = [bank for bank in self._banks.get((project, name), ()) if self.tags_of("heaters", bank)[2] == place.tags[2]]
            record = some[0] if some else None
        else:
            tags = project, name
            record = self._tanks.get(tags) if place.table == "tanks" else self._feeders.get(tags) if place.table == "feeders" else None
            if record is None:
                some = self._at.get((place.sheet, place.row), ("", []))[1]
                record = next((one for one in some if one.origin.turn == place.turn), None)
        return "" if record is None else record_mark(place.table, place.tags, record, place.columns)

    def _cell(self, finding: Finding) -> Place:
        tags = (finding.project, finding.tank or finding.feeder, finding.bank)
        kind = self._kinds.get(finding.sheet, ("", frozenset()))[0]
        mark = mark_of(kind, *map(_folded, tags), finding.seen, finding.code)
        here, shown = f"{finding.sheet} {finding.cell}", as_sent(self._came_from, finding.sheet, finding.cell)
        cells = (here, finding.cell, shown, shown.rpartition(" ")[2])
        names = (*dict.fromkeys(map(_folded, cells)), *_names(tags))
        return Place(kind, names, shown, (), finding.sheet, _row_number(finding.cell), finding.cell, tags, mark, seen=finding.seen)


def _by_row(job: Job) -> dict[tuple[str, int], tuple[str, list]]:
    """The records of each row of the list, in order, with the table that they are of: of a list that describes its tanks the heaters."""
    found: dict[tuple[str, int], tuple[str, list]] = {}
    for table, field in RECORDS.items():
        own: dict[tuple[str, int], tuple[str, list]] = {}
        for one in getattr(job, field):
            if one.origin.row:
                own.setdefault((one.origin.sheet, one.origin.row), (table, []))[1].append(one)
        found |= own
    return found


def _nowhere(finding: Finding) -> Place:
    """What a question is about whose answer fills no cell."""
    tags = (finding.project, finding.tank or finding.feeder, finding.bank)
    mark = mark_of(finding.code, *map(_folded, tags), finding.seen, ROWS.sub("", finding.message))
    return Place("", _names(tags, finding), _shown(tags, finding), (), finding.sheet, 0, finding.cell, tags, mark)


def _names(tags: Sequence[str], finding: Finding | None = None) -> tuple[str, ...]:
    own = [tags[1], f"{tags[1]}/{tags[2]}"] if tags[2] else [tags[1]]
    if finding is not None and finding.cell:
        own += [f"{finding.sheet} {finding.cell}", finding.cell]
    return tuple(dict.fromkeys(_folded(name) for name in own if name))


def _shown(tags: Sequence[str], finding: Finding | None = None) -> str:
    name = "/".join(filter(None, tags[1:]))
    return name or (f"{finding.sheet} {finding.cell}".strip() if finding is not None else "") or tags[0] or "the project"


def _row_number(cell: str) -> int:
    digits = "".join(mark for mark in cell if mark.isdigit())
    return int(digits) if digits else 0


def _plain(part: object) -> str:
    """A figure as itself whether it is 6 or 6.0, a blank as nothing."""
    if isinstance(part, (int, float)) and not isinstance(part, bool):
        return f"{part:.9g}"
    return "" if part is None else str(part).strip().casefold()


def _folded(name: object) -> str:
    return "" if name is None else " ".join(str(name).split()).casefold()
