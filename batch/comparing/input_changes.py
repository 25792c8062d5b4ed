"""What the user changed: cells of paired rows, headings of input sheets, code, program and settings."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from math import inf

from msgspec.structs import replace

from batch.comparing.changeset import Change, ChangeNames, ColumnChange, Sort, is_number
from batch.comparing.lines import RIDES, SHEETS, Entry, fold, rides_along, rows_with_data
from batch.comparing.pairing import Pair
from batch.comparing.revision import Revision
from batch.received_rows import ReceivedTable
from batch.records import Job
from batch.results import ProjectResult
from batch.sheets import Column
from batch.sizing.settings import SETTING_WORDS

SETTINGS = frozenset({"code_basis", *SETTING_WORDS})  # columns of Projects that move numbers which nobody touched
READ = Column("refused", "Row as read")
CODE = Column("rule_set", "Code basis in use")
PROGRAM = Column("program", "Program")
NUMBERS = re.compile(r"\d+")  # row numbers in a reason move with the rows and are no change


def same(column: Column, before: object, after: object) -> bool:
    """Whether two revisions agree on a value: numbers within the column's tolerance, all else exactly; blank is blank."""
    before, after = (None if before == "" else before), (None if after == "" else after)
    if is_number(before) and is_number(after):
        return column.close(before, after)
    return before == after and isinstance(before, bool) == isinstance(after, bool)


def input_changes(old: Revision, new: Revision, pairs: Sequence[Pair]) -> Iterator[Change]:
    """Every cell of an input row that differs, and every row that could be read in one revision only."""
    sides = old.job, new.job
    given = [{table.kind: {*table.keys, *(RIDES + fold(heading) for heading in table.headings)} for table in job.received} for job in sides]
    extras = {**rides_along(old.job).columns, **rides_along(new.job).columns}
    for at, pair in enumerate(pairs):
        if pair.left is None or pair.right is None:
            continue
        left, right = dict(pair.left.values), dict(pair.right.values)
        sheet = SHEETS[pair.right.table]
        if left == right and not (pair.left.refused or pair.right.refused):
            continue
        names = names_of(pair.right)
        if NUMBERS.sub("", pair.left.refused) != NUMBERS.sub("", pair.right.refused):
            was, now = (f"not read: {line.refused}" if line.refused else "read" for line in (pair.left, pair.right))
            yield Change("input", sheet.id, names, READ, was, now, at)
        for column in (*sheet.columns, *extras.values()):
            if column.key in sheet.key:
                continue
            before, after = _as_said(column, left.get(column.key)), _as_said(column, right.get(column.key))
            if not same(column, before, after):
                both = all(column.key in side.get(sheet.id, ()) for side in given)
                sort: Sort = "basis" if sheet.id == "projects" and column.key in SETTINGS else "input"
                yield Change(sort, sheet.id, names, column, before, after, at, whole_column=not both)


def _as_said(column: Column, value: object) -> object:
    """A value as its cell says it: what has no limit by its word, and what another column gives as blank."""
    if column.no_limit and value == inf:
        return column.no_limit
    return None if column.instead and value == 0 else value


def names_of(line: Entry) -> ChangeNames:
    """Tags of an input row, as written."""
    names = dict(zip(SHEETS[line.table].key, line.names, strict=True))
    return ChangeNames(
        names.get("project", ""),
        names.get("tank", ""),
        line.label or names.get("bank", ""),
        names.get("feeder", ""),
        names.get("part", ""),
    )


def basis_changes(old: Revision, new: Revision, pairs: Sequence[Pair], changes: Sequence[Change]) -> Iterator[Change]:
    """Program, code and settings as used, where what was given does not say it already."""
    if old.program and new.program and old.program != new.program:
        yield Change("basis", "projects", ChangeNames(), PROGRAM, old.program, new.program)
    sized = [{project.project.project: project for project in side.result.projects} for side in (old, new)]
    said = {(change.pair, change.column.key) for change in changes if change.sort == "basis"}
    for at, pair in enumerate(pairs):
        if pair.either.table != "projects" or pair.left is None or pair.right is None:
            continue
        before, after = sized[0].get(pair.left.names[0]), sized[1].get(pair.right.names[0])
        if before is None or after is None:
            continue
        names = ChangeNames(pair.right.names[0])
        if before.rule_set != after.rule_set and (at, "code_basis") not in said:
            yield Change("basis", "projects", names, CODE, before.rule_set, after.rule_set, at)
        keys = {words: key for key, (words, _) in SETTING_WORDS.items()}
        for (name, value), (_, now) in zip(_settings(before), _settings(after), strict=True):
            if value != now and (at, keys[name]) not in said:
                column = replace(SHEETS["projects"][keys[name]], heading=f"{name} in use")
                yield Change("basis", "projects", names, column, value, now, at)


def _settings(project: ProjectResult) -> list[tuple[str, str]]:
    return [(setting.name, setting.value) for setting in project.settings]


def column_changes(old: Job, new: Job) -> Iterator[ColumnChange]:
    """Headings of the input sheets that came, went or are worded otherwise, and sheets as a whole."""
    for kind in SHEETS:
        one, other = ([table for table in job.received if table.kind == kind] for job in (old, new))
        if not one or not other:
            for table in filter(rows_with_data, one or other):
                words = f"the whole sheet {table.sheet}"
                yield ColumnChange(kind, words if one else "", words if other else "", len(rows_with_data(table)))
            continue
        before, after = _headings(one), _headings(other)
        for key in [*before, *(key for key in after if key not in before)]:
            was, now = before.get(key, ("", 0)), after.get(key, ("", 0))
            if was[0].strip() != now[0].strip():
                yield ColumnChange(kind, was[0].strip(), now[0].strip(), max(was[1], now[1]))


def _headings(tables: Sequence[ReceivedTable]) -> dict[str, tuple[str, int]]:
    """Column key, or what stands for one -> heading in the first table that has it, and how many rows of all it is filled in for."""
    found: dict[str, tuple[str, int]] = {}
    for table in tables:
        rows, here = rows_with_data(table), set()
        for at, heading in enumerate(table.headings):
            key = table.keys[at] or RIDES + fold(heading)
            if heading.strip() and key not in here:
                here.add(key)
                filled = sum(1 for row in rows if at < len(row.values) and row.values[at] not in (None, ""))
                first, before = found.get(key, (heading, 0))
                found[key] = first, before + filled
    return found
