"""Neutrals under the codes that tell earthing systems: where one may stand at dangerous volts it is opened with the lines, and where the
supply is isolated its overcurrent is looked after too."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from batch.counted_words import counted
from batch.findings import Remarks
from batch.method.neutral import neutral_guarded
from batch.results import FeederRow, PanelDesign
from batch.rules import RuleSet
from batch.sizing.phasing import DesignedBank

TO_NEUTRAL = "N"


def judge_neutrals(row: FeederRow, kind: str, on: Sequence[DesignedBank], *, rules: RuleSet, said: Remarks) -> None:
    """What there is to say of a feeder of earthing "TN", "TT" or "IT" and of its banks to neutral."""
    if kind not in rules.neutral_opened.value:
        return
    using = [one for one in on if any(_to_neutral(panel) for panel in _fed(one))]
    if not using:
        return
    said.add("neutral-not-opened", "earthing", feeder=row.feeder.feeder, earthing=kind, count=f"{counted(len(using), 'bank')} to neutral")
    if kind not in rules.neutral_guarded.value:
        return
    for one in using:
        bare = [panel for panel in _fed(one) if _to_neutral(panel) and not _guarded(panel, rules)]
        if bare:
            device = bare[0].panel_feeder_device
            one.said.add("neutral-not-guarded", "rcd_ma", device=f"Its {device.rating_a:g} A {device.kind}")


def _fed(one: DesignedBank) -> Iterator[PanelDesign]:
    """Its panels, those that are alike once, or the bank itself where it is on a single circuit."""
    if (single := one.design.single_circuit) is not None:
        yield single
        return
    yield from {id(panel.design): panel.design for panel in one.panels}.values()


def _to_neutral(panel: PanelDesign) -> bool:
    return any(leg.endswith(f"-{TO_NEUTRAL}") for leg in panel.legs)


def _guarded(panel: PanelDesign, rules: RuleSet) -> bool:
    """By a residual-current device that is small against what the neutral carries, which its device's rating is at most."""
    return panel.residual_ma is not None and neutral_guarded(panel.residual_ma, panel.panel_feeder_device.rating_a, rules).value
