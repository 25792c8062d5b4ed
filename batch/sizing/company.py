"""What runs beside what: circuits of which nobody says how many run together are taken to run alone, and that is said."""

from __future__ import annotations

from collections.abc import Sequence

from batch.counted_words import counted, few
from batch.findings import Remarks
from batch.method.ampacity import adjustment
from batch.records import Feeder, Settings
from batch.rules import RuleSet
from batch.sizing.phasing import DesignedBank
from batch.sizing.runs import THREE_LOADED, laid

NO_WAYS = "{feeder} ends in one control panel and has no ways"
NO_PANEL_FEEDER = "the bank is a single circuit and has no panel feeder"
NAMED = 8


def judge_company(on: Sequence[DesignedBank], settings: Settings, rules: RuleSet, said: Remarks) -> None:
    """What is said once a project of runs of which no company is given, and of raceways that several runs share."""
    if not on:
        return
    behind = _tanks_behind(on)
    feeders = {one.feeder.feeder: one.feeder for one in on}
    alone = (
        (sum(each.circuits_in_raceway is None for each in feeders.values()), "feeder", "feeders"),
        (sum(behind[name] for name, each in feeders.items() if each.ways_in_raceway is None and behind[name] > 1), "way", "ways"),
        (sum(len(one.panels) for one in on if one.bank.panel_feeders_in_raceway is None), "panel feeder", "panel feeders"),
        (sum(one.bank.circuits_in_raceway is None for one in on), "bank with its branches", "banks with their branches"),
    )
    words = [counted(*each) for each in alone if each[0]]
    if words:
        left = [f"{adjustment(THREE_LOADED * count, count, laid(rules, settings, THREE_LOADED)).value:.0%}" for count in (2, 3)]
        said.add("runs-alone", "", runs=", ".join(words), two=left[0], three=left[1])
    sharing = [each.feeder for each in feeders.values() if (each.circuits_in_raceway or 1) > 1]
    sharing += [f"{one.bank.tank}/{one.label}" for one in on if len(one.panels) < (one.bank.panel_feeders_in_raceway or 1) and one.panels]
    if sharing:
        said.add("raceway-in-full", "", runs=few(sharing, NAMED))
    for one in on:
        if (one.bank.panel_feeders_in_raceway or 1) > 1 and not one.panels:
            one.said.add("company-unused", "panel_feeders_in_raceway", column="Panel feeders sharing the raceway", why=NO_PANEL_FEEDER)


def judge_ways_given(feeder: Feeder, ways: int, said: Remarks) -> None:
    """Ways that are said to run together of a feeder that has none."""
    if (feeder.ways_in_raceway or 1) > 1 and ways == 1:
        said.add("company-unused", "ways_in_raceway", column="Ways sharing the raceway", why=NO_WAYS.format(feeder=feeder.feeder))


def _tanks_behind(on: Sequence[DesignedBank]) -> dict[str, int]:
    """Tanks on each feeder: as many ways, or none where it is one."""
    tanks: dict[str, set[str]] = {}
    for one in on:
        tanks.setdefault(one.feeder.feeder, set()).add(one.bank.tank)
    return {name: len(some) for name, some in tanks.items()}
