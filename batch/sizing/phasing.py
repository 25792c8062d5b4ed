"""On which line each bank of a feeder starts: as the estimator fixed it, as an earlier revision had it, else chosen to balance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from batch.findings import Remarks
from batch.method.balance import Placeable, choose_starts, is_lopsided
from batch.method.line_currents import Lines, Loads, line_currents, rotated
from batch.records import Bank, Feeder, Supply, Tank
from batch.results import BankDesign, PanelRow
from batch.sizing.labels import natural
from batch.sizing.placing import bank_loads, fixed_start, starts_of
from batch.sizing.previous_decisions import COSTS, PreviousDecisions, previous_start
from batch.sizing.words import amps

CLEARLY = 1.01  # a fullest line this much above the best there is counts as worse; common practice, no source


@dataclass(slots=True)
class DesignedBank:
    """A bank with its design, on its way to a row: where it starts and its panels are filled in later."""

    bank: Bank
    label: str
    tank: Tank | None
    feeder: Feeder
    supply: Supply
    design: BankDesign
    said: Remarks
    start: int = 0
    panels: tuple[PanelRow, ...] = ()

    @property
    def key(self) -> tuple[tuple[tuple[int, int, str], ...], ...]:
        return natural(self.bank.tank), natural(self.label)


class Balanced(NamedTuple):
    """Lines before balancing, and whether pairs that the estimator fixed cost balance."""

    before: Lines
    fixed_worse: bool


def settle_starts(on: Sequence[DesignedBank], supply: Supply, previous: PreviousDecisions, said: Remarks) -> Balanced:
    """Gives every bank of one feeder its start; what is said of a bank goes to the bank, of the feeder to `said`."""
    items: list[Placeable] = []
    given: list[int | None] = []
    for one in on:
        fixed = fixed_start(one.bank, one.design, supply, one.said)
        starts_on = starts_of(one.design, supply)
        loads, _ = bank_loads(one.design, supply, 0)
        was = previous.bank(one.bank.project, one.bank.tank, one.label)
        stays = previous_start(was, one.bank, one.feeder.feeder, one.design, starts_on, previous=previous, said=one.said)
        if starts_on > 1 and fixed is None and is_lopsided(loads, supply.system):
            if stays is None or previous.quiet:
                one.said.add("phase-pair-chosen", "phase_pair")
            else:
                one.said.add("kept-phases", "phase_pair", source=previous.source)
        given.append(fixed if starts_on > 1 else 0)
        items.append(Placeable(one.key, loads, given[-1] if given[-1] is not None else stays))
    starts = choose_starts(items, supply.system)
    before = Loads()
    for item, one, start, pair in zip(items, on, starts, given, strict=True):
        one.start = start
        before = before.plus(item.loads if pair is None else rotated(item.loads, pair, supply.system))
    free = [None if starts_of(one.design, supply) > 1 else 0 for one in on]
    pairs_given = any(fixed is not None and could is None for fixed, could in zip(given, free, strict=True))
    worse = pairs_given and _maximum(items, starts, supply) > _best(items, supply, free) * CLEARLY
    if on:
        _say_cost_of_keeping(items, starts, given, supply, previous, feeder=on[0].feeder.feeder, said=said)
    return Balanced(line_currents(before, supply.system), worse)


def _best(items: Sequence[Placeable], supply: Supply, fixed: Sequence[int | None]) -> float:
    """The maximum line current with these starts fixed and all others chosen."""
    freed = [item._replace(fixed=start) for item, start in zip(items, fixed, strict=True)]
    return _maximum(freed, choose_starts(freed, supply.system), supply)


def _maximum(items: Sequence[Placeable], starts: Sequence[int], supply: Supply) -> float:
    total = Loads()
    for item, start in zip(items, starts, strict=True):
        total = total.plus(rotated(item.loads, start, supply.system))
    return line_currents(total, supply.system).maximum


def _say_cost_of_keeping(
    items: Sequence[Placeable],
    starts: Sequence[int],
    given: Sequence[int | None],
    supply: Supply,
    previous: PreviousDecisions,
    *,
    feeder: str,
    said: Remarks,
) -> None:
    """Said where choosing all starts anew would leave the fullest line clearly less current."""
    if previous.quiet or all(item.fixed == fixed for item, fixed in zip(items, given, strict=True)):
        return
    now, anew = _maximum(items, starts, supply), _best(items, supply, given)
    if now > anew * COSTS:
        said.add("kept-phases-cost", "feeder", feeder=feeder, source=previous.source, kept=amps(now), anew=amps(anew))
