"""From cost to price, as the firm's own rates have it. Nothing is taken for nought that is not given.

The same steps stand as formulas on the sheet Prices (`batch.schedules.price_schedule`); a test recalculates them.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from batch.held_once import held_once
from batch.money_results import Chain, Rates


def chain(*, material: float, other: float, shop_h: float, field_h: float, freight_sum: float, rates: Rates) -> Chain:
    """direct = material + tax on purchases + freight + labour + other; contingency of direct; overhead of both; then markup or margin.

    A freight sum is of one atom alone; all else is linear, so that atoms add up to any view without spreading.
    """
    tax = _of(material, rates.purchase_tax_pct)
    freight_pct = 0.0 if rates.freight_pct is None and rates.freight_amount is not None else rates.freight_pct
    freight = _of(material, freight_pct)
    freight = None if freight is None else freight + freight_sum
    shop, field = _labour(shop_h, rates.shop_factor, rates.shop_rate), _labour(field_h, rates.field_factor, rates.field_rate)
    direct = _sum(material, tax, freight, shop, field, other)
    contingency = _of(direct, rates.contingency_pct)
    overhead = _of(_sum(direct, contingency), rates.overhead_pct)
    full = _sum(direct, contingency, overhead)
    price = price_of(full, rates.markup_pct, rates.profit_pct)
    return held_once(Chain(tax, freight, shop, field, direct, contingency, overhead, full, price))


def price_of(full: float | None, markup_pct: float | None, profit_pct: float | None) -> float | None:
    """Markup is per cent of full cost, margin per cent of price; both or neither, or a margin of 100 % or more, is no price."""
    if full is None or (markup_pct is None) == (profit_pct is None):
        return None
    if markup_pct is not None:
        return full * (1 + markup_pct / 100.0)
    return None if profit_pct is None or profit_pct >= 100.0 else full / (1 - profit_pct / 100.0)


def rounded(price: float, step: float) -> Decimal:
    """A position, rounded once: halves go up, as on every invoice. A price that is a half but for its last binary digit is one."""
    whole, unit = Decimal(repr(round(price, 9))), Decimal(repr(step))
    return (whole / unit).quantize(Decimal(1), ROUND_HALF_UP) * unit


def _labour(hours: float, factor: float, rate: float | None) -> float | None:
    """Without a rate it is not known, though no hours are listed: they may be missing too. A typed 0 is 0."""
    return None if rate is None else hours * factor * rate


def _of(amount: float | None, percent: float | None) -> float | None:
    return None if amount is None or percent is None else amount * percent / 100.0


def _sum(*parts: float | None) -> float | None:
    known = [part for part in parts if part is not None]
    return sum(known) if len(known) == len(parts) else None
