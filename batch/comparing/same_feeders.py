"""Which feeder of the new revision is which of the old one: as listed, and where feeders are assumed by what they stand for."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from batch.comparing.lines import fold
from batch.comparing.pairing import Pair, in_both
from batch.records import Bank, Job
from batch.sizing.assumed_feeders import assumed_names, fed
from batch.sizing.previous_decisions import FeederKey


class SameFeeder(NamedTuple):
    old: FeederKey
    new: FeederKey
    name: str  # in the new revision


def same_feeders(old: Job, new: Job, pairs: Sequence[Pair]) -> Iterator[SameFeeder]:
    """Every feeder of both revisions that may have another key there. One that is assumed is called MCC-1 as long as its rows have one
    voltage, and MCC-1 480 V beside another: it is told by the name in its rows and its volts.
    """
    for left, right in in_both(pairs, "feeders"):
        yield SameFeeder(left.first_two, right.first_two, right.names[1])
    projects = {left.key[0]: right.key[0] for left, right in in_both(pairs, "projects")}
    after = _by_meaning(new)
    for project, (assumed, before) in _by_meaning(old).items():
        now = projects.get(project, project)
        either, names = after.get(now, (False, {}))
        for key, name in before.items() if assumed or either else ():
            if key in names:
                yield SameFeeder((project, fold(name)), (now, fold(names[key])), names[key])


def _by_meaning(job: Job) -> dict[str, tuple[bool, dict[tuple[str, float], str]]]:
    """Of each project whether its feeders are assumed, and their names by what rows call them and their volts."""
    banks: dict[str, list[Bank]] = defaultdict(list)
    listed: dict[str, dict[tuple[str, float], str]] = defaultdict(dict)
    for bank in job.banks:
        banks[fold(bank.project)].append(bank)
    for feeder in job.feeders:
        listed[fold(feeder.project)].setdefault(fed(feeder), feeder.feeder)
    return {one: (False, listed[one]) if one in listed else (True, assumed_names(some)) for one, some in banks.items()}
