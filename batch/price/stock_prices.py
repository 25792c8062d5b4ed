"""Prices and hours of take-off lines, from the rows of the stock list.

A part has one price for the whole job: that of the last price break which the job's quantity reaches. What is not given stays open.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from batch.material_lines import FIELD, METRES, Material
from batch.records import Part

BY_LENGTH = ("wire", "raceway", "control wire")
IN_THE_FIELD = (*BY_LENGTH, "fitting", "heater")
RATE = re.compile(r"([^\W\d_]{1,8})\s*[:=]?\s*(\d+(?:\.\d+)?)")
SPARES = "spares"  # take no hours
NO_RATES: Mapping[str, float] = {}
DIGITS = 6  # a quantity summed from feet and metres reaches a price break that it equals to a millionth


class PriceList(NamedTuple):
    """First row of each part, its rows by rising From quantity, and every currency named."""

    first: Mapping[str, Part]
    breaks: Mapping[str, Sequence[Part]]
    currencies: frozenset[str]


def price_list(stock: Iterable[Part]) -> PriceList:
    """The stock list by part, in its order."""
    first: dict[str, Part] = {}
    rows: dict[str, list[Part]] = defaultdict(list)
    for part in stock:
        first.setdefault(part.part, part)
        rows[part.part].append(part)
    breaks = {name: sorted(some, key=lambda row: row.from_quantity or 0.0) for name, some in rows.items()}
    return PriceList(first, breaks, frozenset(_money(row.currency) for some in rows.values() for row in some if row.currency))


def used_quantities(lines: Iterable[Material], listed: PriceList) -> dict[str, float]:
    """What the job uses of each part of the list, in the unit of its price; not what a customer supplies."""
    used: dict[str, float] = defaultdict(float)
    for line in lines:
        part = listed.first.get(line.part) if not line.supplied else None
        amount = None if part is None else line._replace(sold_by=sold_by(part) or line.sold_by).amount
        if amount is not None:
            used[line.part] += amount
    return used


def sold_by(part: Part) -> str:
    """The unit of length that a part's price is for; "" = not one."""
    return part.per_unit if part.per_unit in METRES else ""


def priced(
    line: Material, listed: PriceList, used: Mapping[str, float], currency: str | None, rates: Mapping[str, float] = NO_RATES
) -> Material:
    """The line with the price of its part, or with why it has none. `rates`: other currencies to the project's, by folded name."""
    part = listed.first.get(line.part)
    if part is None:
        return line
    row = price_row(listed, line.part, used)
    hours = part.field_h if part.kind in IN_THE_FIELD or line.place == FIELD else part.labour_h
    if hours is None and (part.kind in IN_THE_FIELD or line.place == FIELD):
        hours = part.labour_h
    if line.used_for == SPARES:
        hours = None
    line = line._replace(
        unit_price=row.unit_price,
        hours_each=hours,
        per=row.per_quantity or part.per_quantity or 1.0,
        sold_by=sold_by(part),
        price_date=row.price_date or part.price_date or "",
        currency=row.currency or part.currency or "",
    )
    if line.unit == "m" and not line.sold_by:
        return line._replace(unit_price=None, hours_each=None, why=line.why or "per what length is not given: Per unit on the Stock sheet")
    if line.unit != "m" and sold_by(part):
        return line._replace(unit_price=None, hours_each=None, why="priced by length, bought by the piece")
    return exchanged(line, listed.currencies, currency, rates)


def exchanged(line: Material, currencies: frozenset[str], currency: str | None, rates: Mapping[str, float]) -> Material:
    """The line with the rate of its price's currency to the project's, or open for want of one."""
    own = line.currency
    if own and currency and _money(own) != _money(currency):
        rate = rates.get(_money(own))
        why = "" if rate is not None else f"priced in {own}, the project is in {currency}, and Pricing gives no rate"
        return line._replace(rate=rate, why=why or line.why)
    if own and not currency and len(currencies) > 1:
        return line._replace(rate=None, why=f"priced in {own}, others are not, and the project names no currency")
    return line


def rates_of(words: str | None) -> dict[str, float]:
    """Rates of other currencies as Pricing gives them: "EUR 1.08; CAD 0.73". What cannot be read is left out: its prices stay open."""
    found = {}
    for name, figure in RATE.findall(words or ""):
        if float(figure) > 0:
            found[_money(name)] = float(figure)
    return found


def _money(currency: str) -> str:
    return currency.strip().casefold()


def price_row(listed: PriceList, part: str, used: Mapping[str, float]) -> Part:
    """The row of a part of the list whose price counts where so much of it is used."""
    return _reached(listed.breaks[part], round(used.get(part, 0.0), DIGITS))


def _reached(rows: Sequence[Part], used: float) -> Part:
    """The row of the last From quantity that is reached, the first where none is; one without a price breaks nothing."""
    with_price = [row for row in rows if row.unit_price is not None] or rows
    reached = [row for row in with_price if (row.from_quantity or 0.0) <= used]
    return reached[-1] if reached else with_price[0]
