"""Whether a fault opens the device ahead of the one that should: of fuses by their ratio, under the codes whose fuses have one; of
circuit-breakers by nobody but their makers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from batch.findings import Remarks
from batch.method.selectivity import fuse_stays_whole
from batch.results import Device, FeederRow
from batch.rules import RuleSet
from batch.sizing.phasing import DesignedBank
from batch.sizing.words import amps


class Stage(NamedTuple):
    """A device on the way from the source, and what it protects: "feeder", "way", "panel feeder", "branch"."""

    what: str
    device: Device

    @property
    def words(self) -> str:
        return f"{amps(self.device.rating_a)} {self.device.kind} of the {self.what}"


def judge_selectivity(row: FeederRow, on: Sequence[DesignedBank], *, rules: RuleSet, said: Remarks) -> None:
    """Each pair of devices that follow each other: of fuses, whether the one ahead stays whole; of others, that nobody judged it."""
    breakers = False
    at_ways = {way.tank.casefold(): way.device for way in (row.end.ways if row.end is not None else ()) if way.device is not None}
    for one in on:
        lines = _lines_of(row, one, at_ways.get(one.bank.tank.casefold()))
        for ahead, behind in dict.fromkeys(pair for line in lines for pair in pairwise(line)):
            if "breaker" in (ahead.device.kind, behind.device.kind):
                breakers = True
            elif not fuse_stays_whole(ahead.device.rating_a, behind.device.rating_a, rules).value:
                one.said.add("fuses-not-selective", "feeder", behind=behind.words, ahead=ahead.words)
    if breakers:
        said.add("selectivity-not-judged", "feeder")


def _lines_of(row: FeederRow, one: DesignedBank, at_way: Device | None) -> Iterator[list[Stage]]:
    """From the feeder's device to that of a branch, over each sort of its panels; a device that is two at once counts once."""
    ahead = [Stage("feeder", row.device)] if row.device is not None else []
    if at_way is not None:
        ahead.append(Stage("way", at_way))
    if (single := one.design.single_circuit) is not None:
        yield ahead if single.device_at_way else [*ahead, Stage("single circuit", single.panel_feeder_device)]
        return
    for panel in {id(panel.design): panel.design for panel in one.panels}.values():
        own = [] if panel.device_at_way else [Stage("panel feeder", panel.panel_feeder_device)]
        yield [*ahead, *own, Stage("branch", one.design.branch.device)]
