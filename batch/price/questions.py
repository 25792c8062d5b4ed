"""What there is to ask the customer: one question a kind of finding and project, in words that need no knowledge of any code.

The words stand in `batch/findings/questions.csv`, where every kind of finding has its question or the word none; a test reads all.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator, Sequence
from functools import cache, partial
from pathlib import Path
from typing import NamedTuple

from batch import findings
from batch.counted_words import few
from batch.findings import Effect, Finding
from batch.price.as_we_read import as_we_read
from batch.price.asked_for import asked_for
from batch.price.question_places import Place, Places, as_sent, mark_of
from batch.results import JobResult

WORDS = Path(findings.__file__).with_name("questions.csv")
NONE = "none"
ORDERS = {1: "safety", 2: "stops the price", 3: "may move the price", 4: "please confirm"}
LEFT_OUT = "left out until you answer"
ASKED_FOR, SAID = "{asked}", "{said}"
ASKED_WITH = {"heat-no-tank": "heater-without-tank"}  # what is not asked where the other is: it names the tanks
NOT_PRICED = "not priced"  # words of what is taken until the answer, of questions whose findings hold nothing and leave a line open
NAMED = 12  # tanks or cells in one sentence


class QuestionKind(NamedTuple):
    """A question and the findings that raise it. `until`: what is taken until it is answered.

    takes  what its answer fills: "heaters.over_temperature_limit", columns of the inputs with ";" between; "cells", just those that
           it names; "confirm", none, since a yes leaves all as it is; "hand", none that the program could fill by itself
    """

    codes: tuple[str, ...]
    order: int
    takes: str
    words: str
    until: str


class Stopped(NamedTuple):
    """A tank, or where it is about no one tank a feeder, that waits for an answer. `held`: not sized or on hold, with all that hangs on it;
    else it lacks a length or a part.
    """

    tank: str
    feeder: str
    held: bool


class Asked(NamedTuple):
    """A question of one project. `key` is the same in every revision of the job as long as the question is. `stops`: what has no price
    before it is answered. `of_all`: it asks for all that its answer may fill, in that order, and not for what is blank alone.
    """

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
    places: tuple[Place, ...] = ()
    stops: tuple[Stopped, ...] = ()
    of_all: bool = False

    @property
    def mark(self) -> str:
        """What the question is known by, in the list of questions and in the customer's copy of it."""
        return mark_of("question", self.key)

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


def ask(result: JobResult) -> list[Asked]:
    """The open questions of a job: safety first, then what stops the price, then the rest; each once a project.

    A place that was answered, and still says what the answer said, is asked about no more.
    """
    of_code = {code: kind for kind in question_kinds() for code in kind.codes}
    grouped: dict[tuple[int, QuestionKind, str], list[Finding]] = {}
    kinds = question_kinds()
    raised_of = {(finding.code, finding.project) for finding in result.findings}
    for finding in result.findings:
        kind = of_code.get(finding.code)
        if kind is not None and (ASKED_WITH.get(finding.code), finding.project) not in raised_of:
            grouped.setdefault((kinds.index(kind), kind, finding.project), []).append(finding)
    places = Places(result)
    settled = {(one.mark, mark) for one in result.job.answered for mark in one.marks}
    asked: list[Asked] = []
    for (_, kind, project), raised in sorted(grouped.items(), key=lambda one: (one[0][1].order, one[0][0], one[0][2])):
        key = f"{project}: {kind.codes[0]}" if project else kind.codes[0]
        own = mark_of("question", key)
        about = _told_apart([(finding, tuple(places.of(kind.takes, finding))) for finding in raised])
        about = [(finding, at) for finding, at in about if (own, at.mark) not in settled or _holds(finding, at)]
        some = list(dict.fromkeys(finding for finding, _ in about))
        if not some:
            continue
        tanks = tuple(dict.fromkeys(finding.tank for finding in some if finding.tank))
        feeders = tuple(dict.fromkeys(finding.feeder for finding in some if finding.feeder))
        came_from = result.job.came_from
        cells = tuple(dict.fromkeys(as_sent(came_from, finding.sheet, finding.cell) for finding in some if finding.sheet and finding.cell))
        where = {
            "tanks": _few("tank", tanks) or _few("the tanks on", feeders) or "the tanks",
            "feeders": _few("supply", feeders) or "the supply", "cells": _few("", cells) or "the rows",
            "do": "does" if len(tanks) == 1 else "do", "are": "are" if len(feeders) > 1 else "is",
            "asked": asked_for(kind.takes, [at for _, at in about]) if ASKED_FOR in kind.words else "",
            "said": as_we_read(some, partial(as_sent, came_from)) if SAID in kind.words else "",
        }  # fmt: skip
        if "{tanks}" not in kind.words and tanks:
            where["cells"] += f" ({_few('tank', tanks)})"
        words = kind.words.format(**where)
        asked.append(Asked(
            len(asked) + 1, key, project, kind.order, words[0].upper() + words[1:], tanks, feeders, cells, _until(kind.until, some),
            kind.takes, tuple(dict.fromkeys(at for _, at in about)), tuple(dict.fromkeys(_stopped(kind, some))),
            ASKED_FOR not in kind.words,
        ))  # fmt: skip
    return asked


def _stopped(kind: QuestionKind, some: Iterable[Finding]) -> Iterator[Stopped]:
    for finding in some:
        held = finding.kind.effect is not Effect.NONE
        if held or NOT_PRICED in kind.until:
            yield Stopped(finding.tank, "" if finding.tank else finding.feeder, held)


def _told_apart(about: Iterable[tuple[Finding, Sequence[Place]]]) -> list[tuple[Finding, Place]]:
    """Each place with its findings; of places that say the same in rows of the same tags, each further one has a mark of its own."""
    known: dict[tuple, Place] = {}
    count: dict[str, int] = {}
    found = []
    for finding, places in about:
        for place in places:
            here = place.table, place.sheet, place.row, place.cell, place.tags
            if here not in known:
                times = count[place.mark] = count.get(place.mark, 0) + 1
                known[here] = place if times == 1 else place._replace(mark=f"{place.mark}-{times}")
            found.append((finding, known[here]))
    return found


def _holds(finding: Finding, place: Place) -> bool:
    """Whether a row is held back although its cells say what was answered: then the answer did not settle it."""
    return bool(place.columns) and finding.kind.effect is not Effect.NONE


def _until(words: str, some: Iterable[Finding]) -> str:
    """What is taken until then: what is counted although it is on hold is not left out."""
    if words != LEFT_OUT:
        return words
    effects = {finding.kind.effect for finding in some}
    if Effect.NOT_SIZED in effects:
        return f"{LEFT_OUT}; what is counted is on hold" if Effect.NOT_RELEASED in effects else LEFT_OUT
    return "counted as listed, and on hold until you answer" if Effect.NOT_RELEASED in effects else words


def _few(what: str, names: tuple[str, ...]) -> str:
    """ "tank T-1", "tanks T-1, T-2 and 30 more"; "" of none."""
    if not names:
        return ""
    several = {"tank": "tanks", "supply": "supplies"}.get(what, what) if len(names) > 1 else what
    return f"{several} {few(names, NAMED)}".strip()


def _listed() -> Iterator[dict[str, str]]:
    with WORDS.open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)
