"""Findings grouped, worst first, for pages that cannot list them all: how many of a kind, and where the first of them stands."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from batch.findings import CATALOGUE, Severity

_RANK = {severity.word: severity for severity in Severity}


class Group(NamedTuple):
    """Findings of one kind: how many rows they concern, what they say, and the row of Findings, from nought, where the first is."""

    severity: Severity
    code: str
    rows: int
    words: str
    first: int


def grouped(rows: Sequence[Mapping], projects: Iterable[str] | None = None) -> list[Group]:
    """Groups the rows of Findings, those of `projects` alone where given.

    What several rows of Findings say word for word alike is a group by itself, with those words; the others of a kind go by its title.
    """
    wanted = None if projects is None else set(projects)
    own = [(at, row) for at, row in enumerate(rows) if wanted is None or (row["project"] or "") in wanted]
    said = Counter((row["project"], row["code"], row["message"]) for _, row in own)
    groups: dict[tuple[str, str], list[tuple[int, int]]] = {}
    for at, row in own:
        alike = said[row["project"], row["code"], row["message"]] > 1
        words = row["message"] if alike else CATALOGUE[row["code"]].title
        groups.setdefault((row["code"], words), []).append((at, row["count"]))
    found = [
        Group(_RANK[rows[members[0][0]]["severity"]], code, sum(count for _, count in members), words, members[0][0])
        for (code, words), members in groups.items()
    ]
    return sorted(found, key=lambda group: (group.severity, CATALOGUE[group.code].harm, -group.rows, group.code, group.words))
