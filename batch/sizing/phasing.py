"""On which line each panel of a feeder starts: as the estimator fixed it, as an earlier revision had it, else chosen to balance."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from msgspec import Struct

from batch.findings import Remarks
from batch.method.balance import Placeable, choose_starts, is_lopsided
from batch.method.line_currents import Lines, Loads, line_currents, rotated
from batch.records import Bank, Feeder, Supply, Tank
from batch.results import BankDesign, PanelRow
from batch.sizing.labels import natural
from batch.sizing.placing import bank_loads, fixed_start, groups, panel_starts, starts_of
from batch.sizing.previous_decisions import COSTS, PreviousDecisions, previous_starts
from batch.sizing.words import amps

CLEARLY = 1.01  # a fullest line this much above the best there is counts as worse; common practice, no source


class DesignedBank(Struct):
    """A bank with its design, on its way to a row: where its panels start, and they themselves, are filled in later."""

    bank: Bank
    label: str
    tank: Tank | None
    feeder: Feeder
    supply: Supply
    design: BankDesign
    said: Remarks
    starts: tuple[int, ...] = ()
    panels: tuple[PanelRow, ...] = ()
    turn: int = 0  # of a bank given several times

    @property
    def key(self) -> tuple[tuple[tuple[int, int, str], ...], ...]:
        return natural(self.bank.tank), natural(self.label)


class Balanced(NamedTuple):
    """Lines before balancing, and whether pairs that the estimator fixed cost balance."""

    before: Lines
    fixed_worse: bool


class _Unit(NamedTuple):
    """What starts on a line of its own: a panel of a bank in rotation, else a whole bank. `given`: the line that its row fixes."""

    bank: DesignedBank
    panels: int
    item: Placeable
    given: int | None


def settle_starts(on: Sequence[DesignedBank], supply: Supply, previous: PreviousDecisions, said: Remarks) -> Balanced:
    """Gives every panel of one feeder its start; what is said of a bank goes to the bank, of the feeder to `said`.

    Each panel of a bank in rotation has a start of its own; a pair given on the bank's row starts its first, and the rest go on.
    """
    units = [unit for one in on for unit in _units(one, supply, previous)]
    items = [unit.item for unit in units]
    starts = choose_starts(items, supply.system)
    before = Loads()
    for one in on:
        one.starts = ()
    for unit, start in zip(units, starts, strict=True):
        unit.bank.starts += (start,) * unit.panels
    for one in on:
        pair = fixed_start(one.bank, one.design, supply, Remarks())
        as_read = panel_starts(one.design, supply, pair or 0)
        before = before.plus(bank_loads(one.design, supply, as_read)[0])
    given = [unit.given for unit in units]
    free = [None if starts_of(unit.bank.design, supply) > 1 else 0 for unit in units]
    pairs_given = any(fixed is not None and could is None for fixed, could in zip(given, free, strict=True))
    worse = pairs_given and _maximum(items, starts, supply) > _best(items, supply, free) * CLEARLY
    if on:
        _say_cost_of_keeping(items, starts, given, supply, previous, feeder=on[0].feeder.feeder, said=said)
    return Balanced(line_currents(before, supply.system), worse)


def _units(one: DesignedBank, supply: Supply, previous: PreviousDecisions) -> Iterator[_Unit]:
    """What of a bank is placed, with what is fixed of it: by its row, or by what an earlier revision had."""
    design = one.design
    fixed = fixed_start(one.bank, design, supply, one.said)
    starts_on = starts_of(design, supply)
    parts = groups(design)
    was = previous.bank(one.bank, one.label, one.turn)
    stays = previous_starts(was, one.bank, one.feeder.feeder, design, starts_on, previous=previous, said=one.said)
    whole, _ = bank_loads(design, supply, panel_starts(design, supply, 0))
    if starts_on > 1 and fixed is None and any(is_lopsided(panel.loads, supply.system) for panel in parts):
        if stays is None or previous.quiet:
            one.said.add("phase-pair-chosen", "phase_pair")
        else:
            one.said.add("kept-phases", "phase_pair", source=previous.source)
    if not design.connected.in_rotation or starts_on == 1:
        given = fixed if starts_on > 1 else 0
        kept = stays[0] if stays is not None else None
        yield _Unit(one, len(parts), Placeable(one.key, whole, given if given is not None else kept), given)
        return
    chain = panel_starts(design, supply, fixed) if fixed is not None else ()
    if stays is not None and len(stays) == 1:
        stays = panel_starts(design, supply, stays[0])
    for at, panel in enumerate(parts):
        given = chain[at] if chain else None
        kept = stays[at] if stays is not None and at < len(stays) else None
        key = (*one.key, ((1, at, ""),))
        yield _Unit(one, 1, Placeable(key, panel.loads, given if given is not None else kept), given)


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


def by_feeder(sized: Mapping[int, DesignedBank]) -> dict[int, list[DesignedBank]]:
    """The banks that hang on each feeder, by the feeder's identity, in sheet order."""
    found: dict[int, list[DesignedBank]] = {}
    for one in sized.values():
        found.setdefault(id(one.feeder), []).append(one)
    return found
