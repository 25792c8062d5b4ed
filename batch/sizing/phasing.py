"""On which line each bank of a feeder starts: as the estimator fixed it, as an earlier revision had it, else chosen to balance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from batch.findings import Remark, remark
from batch.records import Bank, Feeder, Supply, Tank
from batch.results import BankDesign, Lines, PanelRow
from batch.sizing.balance import Placeable, choose_starts, is_lopsided
from batch.sizing.labels import natural
from batch.sizing.phasors import Loads, line_currents
from batch.sizing.placing import bank_loads, fixed_start, turns_of
from batch.sizing.previous_decisions import COSTS, Kept, kept_start
from batch.sizing.words import amps


@dataclass(slots=True)
class Placed:
    """A bank on its way through the project: what is known so far."""

    bank: Bank
    label: str
    tank: Tank | None
    remarks: list[Remark] = field(default_factory=list)
    feeder: Feeder | None = None
    supply: Supply | None = None
    design: BankDesign | None = None
    start: int = 0
    panels: tuple[PanelRow, ...] = ()
    refused: bool = False

    @property
    def key(self) -> tuple:
        return natural(self.bank.tank), natural(self.label)


class Balanced(NamedTuple):
    """Lines as dealt without balancing, whether pairs that the estimator fixed cost balance, and what is said of the feeder."""

    before: Lines
    fixed_worse: bool
    remarks: tuple[Remark, ...]


def settle_starts(on: Sequence[Placed], supply: Supply, kept: Kept) -> Balanced:
    """Gives every bank of one feeder its start, and its remarks about phases."""
    items: list[Placeable] = []
    given: list[int | None] = []
    for one in on:
        fixed, why = fixed_start(one.bank, one.design, supply)
        if why:
            one.remarks.append(remark("phase-pair-ignored", "phase_pair", pair=one.bank.phase_pair, why=why))
        turns = turns_of(one.design, supply)
        loads, _ = bank_loads(one.design, supply, 0)
        was = kept.bank(one.bank.project, one.bank.tank, one.label)
        stays, not_kept = kept_start(was, one.bank, one.feeder.feeder, one.design, turns, kept.source)
        if not_kept:
            one.remarks += kept.said(not_kept)
        if turns > 1 and fixed is None and is_lopsided(loads, supply):
            said = remark("phase-pair-chosen", "phase_pair")
            one.remarks += [said] if stays is None or kept.quiet else [remark("kept-phases", "phase_pair", source=kept.source)]
        given.append(fixed if turns > 1 else 0)
        items.append(Placeable(one.key, loads, given[-1] if given[-1] is not None else stays))
    starts = choose_starts(items, supply)
    dealt = Loads()
    for item, one, start, pair in zip(items, on, starts, given, strict=True):
        one.start = start
        dealt = dealt.plus(item.loads if pair is None else item.loads.turned(pair, supply))
    free = [_free(one, supply) for one in on]
    pairs_given = any(fixed is not None and could is None for fixed, could in zip(given, free, strict=True))
    worse = pairs_given and _greatest(items, starts, supply) > _best(items, supply, free) * 1.01
    said = _cost_of_keeping(items, starts, given, on, supply, kept)
    return Balanced(line_currents(dealt, supply), worse, said)


def _free(one: Placed, supply: Supply) -> int | None:
    return None if turns_of(one.design, supply) > 1 else 0


def _best(items: Sequence[Placeable], supply: Supply, fixed: Sequence[int | None]) -> float:
    """The greatest line current with these starts fixed and all others chosen."""
    freed = [item._replace(fixed=start) for item, start in zip(items, fixed, strict=True)]
    return _greatest(freed, choose_starts(freed, supply), supply)


def _greatest(items: Sequence[Placeable], starts: Sequence[int], supply: Supply) -> float:
    total = Loads()
    for item, start in zip(items, starts, strict=True):
        total = total.plus(item.loads.turned(start, supply))
    return line_currents(total, supply).maximum


def _cost_of_keeping(
    items: Sequence[Placeable], starts: Sequence[int], given: Sequence[int | None], on: Sequence[Placed], supply: Supply, kept: Kept
) -> tuple[Remark, ...]:
    """Said where dealing all banks anew would leave the fullest line clearly less current."""
    if kept.quiet or all(item.fixed == fixed for item, fixed in zip(items, given, strict=True)):
        return ()
    now, anew = _greatest(items, starts, supply), _best(items, supply, given)
    if now <= anew * COSTS:
        return ()
    name = on[0].feeder.feeder
    return (remark("kept-phases-cost", "feeder", feeder=name, source=kept.source, kept=amps(now), anew=amps(anew)),)
