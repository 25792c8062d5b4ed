"""Coils of contactors: as a stock part states them, else by the size of the contactor, from the table of the rule set."""

from __future__ import annotations

from functools import lru_cache

from batch.control_results import Coil, ControlFeed, ControlSupply
from batch.method.contactors import smallest_contactor
from batch.results import PanelDesign
from batch.rules import RuleSet
from batch.sizing.control_load import contactor_coil
from batch.sizing.placing import terminals_of
from batch.sizing.stock import Stock


def coil_of(feed: ControlFeed, design: PanelDesign, stock: Stock, rules: RuleSet) -> Coil:
    """The coil of a panel's contactor: as its stock part states, else by the least size of the trade that carries the contactor's own
    rating; of unknown volt-amperes above the table."""
    part = next((need.part for need in design.feed_parts if need.role == "contactor"), "")
    stated = _stated(feed.contactor, part, feed.bank, stock)
    if stated is not None:
        return stated._replace(panel=feed.tag)
    size = _size(design.contactor_a, len(terminals_of(design)), rules)
    coil = contactor_coil(feed.contactor, size, feed.bank, rules) if size else None
    return (coil or Coil(feed.contactor, f"contactor {size}".strip(), 0.0, 0.0, bank=feed.bank))._replace(panel=feed.tag)


def _stated(mark: str, part: str, bank: str, stock: Stock) -> Coil | None:
    """The coil as the stock part of a contactor states it."""
    found = stock.named(part)
    if found is None or found.coil_sealed_va is None or found.coil_inrush_va is None:
        return None
    return Coil(mark, f"contactor {part}", found.coil_sealed_va, found.coil_inrush_va, bank=bank, known="stated in the stock list")


def back_up_coil(supply: ControlSupply, stock: Stock, rules: RuleSet) -> Coil:
    stated = _stated(supply.backup, supply.backup_part, "", stock)
    if stated is not None:
        return stated._replace(supply=supply.number)
    size = _size(supply.backup_a, supply.lines, rules)
    coil = contactor_coil(supply.backup, size, "", rules) if size else None
    return (coil or Coil(supply.backup, f"contactor {size}".strip(), 0.0, 0.0))._replace(supply=supply.number)


@lru_cache(maxsize=256)
def _size(rating_a: float, poles: int, rules: RuleSet) -> str:
    found = smallest_contactor(rating_a, 3 if poles == 3 else 1, rules) if rating_a else None
    return found.value.name if found is not None else ""
