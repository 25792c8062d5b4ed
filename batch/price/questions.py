"""What there is to ask the customer: one question a kind of finding and project, in words that need no knowledge of any code.

The words stand in `batch/findings/questions.csv`, where every kind of finding has its question or the word none; a test reads all.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

from batch import findings
from batch.findings import Finding

WORDS = Path(findings.__file__).with_name("questions.csv")
NONE = "none"
ORDERS = {1: "safety", 2: "stops the price", 3: "may move the price", 4: "please confirm"}
NAMED = 12  # tanks or cells in one sentence


class QuestionKind(NamedTuple):
    """A question and the findings that raise it. `takes`: "heaters.over_temperature_limit", the column that its answer is for; "" = none.
    `until`: what is taken until it is answered.
    """

    codes: tuple[str, ...]
    order: int
    takes: str
    words: str
    until: str


class Asked(NamedTuple):
    """A question of one project. `key` is the same in every revision of the job as long as the question is."""

    number: int
    key: str
    project: str
    order: int
    words: str
    tanks: tuple[str, ...]
    feeders: tuple[str, ...]
    cells: tuple[str, ...]
    until: str
    takes: str

    @property
    def sort(self) -> str:
        return ORDERS[self.order]


@cache
def question_kinds() -> tuple[QuestionKind, ...]:
    """All questions, in the order in which they are asked."""
    return tuple(
        QuestionKind(tuple(row["findings"].split(";")), int(row["order"]), row["takes"], row["question"], row["until_answered"])
        for row in _listed() if row["order"] != NONE
    )  # fmt: skip


def unasked_kinds() -> frozenset[str]:
    """Codes of the kinds of finding that ask the customer nothing."""
    return frozenset(code for row in _listed() if row["order"] == NONE for code in row["findings"].split(";"))


def ask(found: Iterable[Finding]) -> list[Asked]:
    """The questions of a job: safety first, then what stops the price, then the rest; each once a project."""
    of_code = {code: kind for kind in question_kinds() for code in kind.codes}
    grouped: dict[tuple[int, QuestionKind, str], list[Finding]] = {}
    kinds = question_kinds()
    for finding in found:
        kind = of_code.get(finding.code)
        if kind is not None:
            grouped.setdefault((kinds.index(kind), kind, finding.project), []).append(finding)
    asked: list[Asked] = []
    for (_, kind, project), some in sorted(grouped.items(), key=lambda one: (one[0][1].order, one[0][0], one[0][2])):
        tanks = tuple(dict.fromkeys(finding.tank for finding in some if finding.tank))
        feeders = tuple(dict.fromkeys(finding.feeder for finding in some if finding.feeder))
        cells = tuple(dict.fromkeys(f"{finding.sheet} {finding.cell}" for finding in some if finding.sheet and finding.cell))
        where = {
            "tanks": _few("tank", tanks) or _few("the tanks on", feeders) or "the tanks",
            "feeders": _few("supply", feeders) or "the supply", "cells": _few("", cells) or "the rows",
        }  # fmt: skip
        words = kind.words.format(**where)
        asked.append(Asked(
            len(asked) + 1, f"{project}: {kind.codes[0]}" if project else kind.codes[0], project, kind.order, words[0].upper() + words[1:],
            tanks, feeders, cells, kind.until, kind.takes,
        ))  # fmt: skip
    return asked


def _few(what: str, names: tuple[str, ...]) -> str:
    """ "tank T-1", "tanks T-1, T-2 and 30 more"; "" of none."""
    if not names:
        return ""
    several = {"tank": "tanks", "supply": "supplies"}.get(what, what) if len(names) > 1 else what
    more = f" and {len(names) - NAMED} more" if len(names) > NAMED else ""
    return f"{several} {', '.join(names[:NAMED])}{more}".strip()


def _listed() -> Iterator[dict[str, str]]:
    with WORDS.open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)
