"""What was typed into earlier results and is not kept from them: each cell is named, so that nothing typed is dropped in silence."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from batch.comparing.input_changes import same
from batch.comparing.lines import RECORDS, SHEETS, Entry, fold
from batch.comparing.pairing import Pair
from batch.comparing.revision import Revision
from batch.counted_words import few
from batch.findings import Finding, find, remark
from batch.findings.revising import LEFT
from batch.records import CarriedForward, Job
from batch.reopening.carried_forward import NAMES, OWN, carried_forward, worded

LISTED = 12  # cells written out in one finding


def typed_not_kept(old: Revision, job: Job, pairs: Sequence[Pair], carried: frozenset[tuple[str, str]]) -> Iterator[Finding]:
    """Of `old`, against the job with what was carried into it. `carried`: columns of which carrying speaks itself, by table."""
    cells = list(dict.fromkeys(f"{one.sheet} {one.cell}" for one in old.job.findings if one.code in LEFT))
    if cells:
        yield find(remark("kept-typed-not", "", count=len(cells), source=old.job.name, cells=few(cells, LISTED)))
    lines = {_place(carried_forward(pair.left, "", None, None, "")): pair for pair in pairs if pair.left is not None}
    others = []
    for one in old.job.carried_forward:
        if one.table in ("stock", *OWN) or (one.table, one.key) in carried:
            continue
        pair, column = lines.get(_place(one)), SHEETS[one.table][one.key]
        right = pair.right if pair is not None else None
        now = getattr(getattr(job, RECORDS[one.table])[right.number], one.key) if right is not None and right.number >= 0 else None
        if not same(column, now, one.value):
            here = worded(column, now) if right is not None and now is not None else _lacks(right)
            name = "/".join(filter(None, (one.tank, one.bank, one.feeder))) or one.project
            others.append(f"{column.heading} of {name} ({worded(column, one.value)} there, {here} here)")
    if others:
        yield find(remark("kept-typed-given", "", count=len(others), source=old.job.name, values=few(others, LISTED)))


def _lacks(line: Entry | None) -> str:
    return "no such row" if line is None else "blank or not read"


def _place(one: CarriedForward) -> tuple[str, ...]:
    return (one.table, *(fold(getattr(one, name)) for name in NAMES))
