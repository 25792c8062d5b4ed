"""What came of it: rows of the result sheets in both revisions, and every figure that differs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from batch.comparing.changeset import Change, ChangeNames, Sort, Twin
from batch.comparing.input_changes import names_of, same
from batch.comparing.lines import fold
from batch.comparing.pairing import Pair, in_both
from batch.comparing.revision import Revision
from batch.comparing.same_feeders import same_feeders
from batch.schedules import RESULTS, Row
from batch.sheets import Column, Sheet

SHEETS: dict[str, Sheet] = {sheet.id: sheet for sheet in RESULTS}
NAMES_ONLY = frozenset({("panels", "type")})  # a name, not a figure: types are paired by what is built


def compared(table: str) -> tuple[Column, ...]:
    """Columns of a result sheet that are worked out or built to; what was given is compared where it was given."""
    sheet = SHEETS[table]
    return tuple(column for column in sheet.columns if column.role in ("calculation", "result") and column.key not in sheet.key)


def twins_of(old: Revision, new: Revision, pairs: Sequence[Pair]) -> Iterator[Twin]:
    """Rows of Banks, Panels and Feeders, each with its own of the other revision."""
    banks, panels = (old.bank_rows, new.bank_rows), (old.panel_rows, new.panel_rows)
    for at, pair in enumerate(pairs):
        if pair.either.table != "heaters":
            continue
        found = [side.banks.get(line.address) if line is not None else None for side, line in zip((old, new), pair, strict=True)]
        before, after = (table[place[0]] if place else None for table, place in zip(banks, found, strict=True))
        if before is not None or after is not None:
            yield Twin("banks", names_of(pair.either), before, after, at)
        sides = [table[place[0]] if place else [] for table, place in zip(panels, found, strict=True)]
        for was, now in zip_longest(*sides):
            row = now or was or {}
            names = ChangeNames(*(str(row[key] or "") for key in ("project", "tank", "bank", "feeder", "panel")))
            yield Twin("panels", names, was, now, at)
    yield from _feeders(old, new, pairs)


def _feeders(old: Revision, new: Revision, pairs: Sequence[Pair]) -> Iterator[Twin]:
    known = {one.old: one.new for one in same_feeders(old.job, new.job, pairs)}
    places = {line.key: at for at, pair in enumerate(pairs) if pair.either.table == "feeders" for line in pair if line is not None}
    projects = {left.key[0]: right.key[0] for left, right in in_both(pairs, "projects")}
    before = {}
    for row in old.feeder_rows:
        key = fold(row["project"]), fold(row["feeder"])
        before[known.get(key, (projects.get(key[0], key[0]), key[1]))] = row
    for row in new.feeder_rows:
        key = fold(row["project"]), fold(row["feeder"])
        yield Twin("feeder_totals", _feeder_names(row), before.pop(key, None), row, places.get(key, -1))
    for row in before.values():
        yield Twin("feeder_totals", _feeder_names(row), row, None, places.get((fold(row["project"]), fold(row["feeder"])), -1))


def _feeder_names(row: Row) -> ChangeNames:
    return ChangeNames(str(row["project"] or ""), feeder=str(row["feeder"]))


def result_changes(twins: Sequence[Twin]) -> Iterator[Change]:
    """Every figure of a row that stands in both revisions and differs."""
    columns = {table: compared(table) for table in ("banks", "panels", "feeder_totals")}
    for twin in twins:
        if twin.before is None or twin.after is None or twin.before == twin.after:
            continue
        for column in columns[twin.table]:
            before, after = (None if row[column.key] == "" else row[column.key] for row in (twin.before, twin.after))
            if not same(column, before, after):
                sort: Sort = "name" if (twin.table, column.key) in NAMES_ONLY else "result"
                yield Change(sort, twin.table, twin.names, column, before, after, twin.pair)
