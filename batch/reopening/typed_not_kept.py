"""What was typed into earlier results and is not kept from them: each cell is named, so that nothing typed is dropped in silence."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from batch.comparing.input_changes import same
from batch.comparing.lines import RECORDS, SHEETS, fold
from batch.comparing.pairing import Pair
from batch.comparing.revision import Revision
from batch.counted_words import few
from batch.findings import Finding, find, remark
from batch.findings.revising import LEFT
from batch.records import CarriedForward, Job
from batch.reopening.carried_forward import APART, NAMES, OWN, carried_forward, folded, worded

LISTED = 12  # cells written out in one finding


def typed_not_kept(old: Revision, job: Job, pairs: Sequence[Pair], carried: frozenset[tuple[str, str]]) -> Iterator[Finding]:
    """Of `old`, against the job with what was carried into it. `carried`: columns of which carrying speaks itself, by table."""
    cells = list(dict.fromkeys(f"{one.sheet} {one.cell}" for one in old.job.findings if one.code in LEFT))
    if cells:
        yield find(remark("kept-typed-not", "", count=len(cells), source=old.job.name, cells=few(cells, LISTED)))
    here = {_place(carried_forward(pair.left, "", None, None, "")): pair.right.number for pair in pairs if pair.left and pair.right}
    here |= dict(_of_own(job))
    others = []
    for one in old.job.carried_forward:
        if one.table == "stock" or (one.table, one.key) in carried:
            continue
        column, number = SHEETS[one.table][one.key], here.get(_place(one))
        now = getattr(getattr(job, RECORDS[one.table])[number], one.key) if number is not None and number >= 0 else None
        if not same(column, now, one.value):
            said = worded(column, now) if now is not None else "no such row" if number is None else "blank or not read"
            name = "/".join(filter(None, (one.tank, one.bank, one.feeder))) or one.part.replace(APART, ", ") or one.project
            others.append(f"{column.heading} of {name} ({worded(column, one.value)} there, {said} here)")
    if others:
        yield find(remark("kept-typed-given", "", count=len(others), source=old.job.name, values=few(others, LISTED)))


def _of_own(job: Job) -> Iterator[tuple[tuple[str, ...], int]]:
    """The places of rows that are known by their words, and the numbers of their records."""
    for table in OWN:
        for number, record in enumerate(getattr(job, RECORDS[table])):
            yield (table, folded(APART.join(str(getattr(record, key)) for key in SHEETS[table].key))), number


def _place(one: CarriedForward) -> tuple[str, ...]:
    return (one.table, folded(one.part)) if one.table in OWN else (one.table, *(fold(getattr(one, name)) for name in NAMES))
