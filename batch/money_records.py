"""What a firm gives of its money: rates, scope, rules of the shop, other costs, typed prices; a record a row, None = left blank.

Field names are the keys of the column specification (`batch.sheets.money_inputs`); a blank is open, and never nought.
"""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from batch.origin import NOWHERE, Origin


class Pricing(Struct, frozen=True):
    """The rates of a project, as the firm gave them; None = not given, which is never nought."""

    project: str = ""
    rates: str | None = None
    rates_date: str | None = None
    good_for_days: float | None = None
    shop_rate: float | None = None
    field_rate: float | None = None
    shop_factor: float | None = None
    field_factor: float | None = None
    end_m: float | None = None
    device_run_m: float | None = None
    wire_waste_pct: float | None = None
    raceway_waste_pct: float | None = None
    wire_colours: str | None = None
    colour_to: str | None = None
    buy_together: str | None = None
    purchase_tax_pct: float | None = None
    freight_pct: float | None = None
    freight_amount: float | None = None
    contingency_pct: float | None = None
    overhead_pct: float | None = None
    markup_pct: float | None = None
    profit_pct: float | None = None
    sales_tax_pct: float | None = None
    round_to: float | None = None
    origin: Origin = NOWHERE


class ScopeItem(Struct, frozen=True):
    """Who supplies an item of the scope; None = as the lines say."""

    project: str = ""
    item: str = ""
    by: str | None = None
    origin: Origin = NOWHERE


class Allowance(Struct, frozen=True):
    """A rule of the shop: `quantity` of a part, or of hours, for each of something."""

    project: str = ""
    allowance: str = ""
    part: str | None = None
    quantity: float = 0.0
    per: str = ""
    at_least: float | None = None
    shop_h: float | None = None
    field_h: float | None = None
    origin: Origin = NOWHERE


class OtherCost(Struct, frozen=True):
    """A cost that no part is; of a tank, a feeder, or the project."""

    project: str = ""
    feeder: str | None = None
    tank: str | None = None
    what: str = ""
    scope_item: str | None = None
    quantity: float = 0.0
    unit: str | None = None
    amount: float | None = None
    shop_h: float | None = None
    field_h: float | None = None
    origin: Origin = NOWHERE


class TypedPrice(Struct, frozen=True):
    """The price of a line that no stock part is, known by its role, words and unit."""

    role: str = ""
    words: str = ""
    unit: str = ""
    unit_price: float | None = None
    per_quantity: float | None = None
    currency: str | None = None
    price_date: str | None = None
    hours: float | None = None
    supplied_by: str | None = None
    origin: Origin = NOWHERE


MONEY: Mapping[str, type] = {  # input sheets about money, by id, which is the field of Job too
    "pricing": Pricing, "scope": ScopeItem, "allowances": Allowance, "other_costs": OtherCost,
    "typed_prices": TypedPrice,
}  # fmt: skip
