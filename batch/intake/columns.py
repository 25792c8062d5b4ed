"""What is known of single columns beyond their specification: which ones nothing is sized with, and what is unlikely in them."""

from __future__ import annotations

# Columns with which nothing is sized: a cell that cannot be read there is left blank, with a caution. A broken cell
# anywhere else refuses its row, because a blank there means a default, and the default may be wrong for that row.
SET_ASIDE: dict[str, frozenset[str]] = {
    "projects": frozenset({"title", "customer", "site", "revision", "prepared_by", "date", "currency", "notes"}),
    "sources": frozenset({"notes"}),
    "feeders": frozenset({"notes"}),
    "tanks": frozenset({"duty", "work_material", "notes"}),
    "heaters": frozenset({"sheath", "heated_length_mm", "diameter_mm", "over_temperature_limit", "notes"}),
    "stock": frozenset({"description", "unit_price", "currency", "price_date", "lot_quantity", "labour_h", "field_h"}),
    # A rate that cannot be read is open, as a blank is, and never refuses the rates beside it.
    "pricing": frozenset({
        "rates", "rates_date", "good_for_days", "shop_rate", "field_rate", "end_m", "device_run_m", "wire_waste_pct", "raceway_waste_pct",
        "purchase_tax_pct", "freight_pct", "freight_amount", "contingency_pct", "overhead_pct", "markup_pct", "profit_pct", "sales_tax_pct",
    }),
    "scope": frozenset(),
    "allowances": frozenset({"shop_h", "field_h"}),
    "other_costs": frozenset({"unit", "amount", "shop_h", "field_h"}),
    "typed_prices": frozenset({"currency", "price_date", "hours", "supplied_by", "unit_price"}),
}
LEAST_POWER_KW = 0.1  # below it an immersion heater for a process tank is a slip of the unit; common practice, no source
