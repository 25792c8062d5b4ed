"""Rows of the findings sample that show what is said of money: rates, scope, ages of prices, rules of the shop. Invented."""

from __future__ import annotations

PROJECT, TWICE, LOSS = "FX-COST", "FX-PROFIT", "FX-LOSS"
SAFE = {"over_temperature_limit": "yes", "heater_run_m": 20, "panel_feeder_run_m": 20}


def projects() -> list[dict[str, object]]:
    shown = (
        "pricing-repeated, profit-missing, scope-contradicts, price-old, price-undated, allowance-part-unknown, hours-twice, "
        "hours-missing, price-typed-unused, allowance-cell-unused, "
        "colour-size-unknown"
    )
    return [
        {"project": PROJECT, "title": "Findings of money (invented)", "currency": "USD", "date": "2025-06-30", "notes": shown},
        {"project": TWICE, "currency": "USD", "date": "2025-06-30", "notes": "profit-twice, wire-colour-missing"},
        {"project": LOSS, "currency": "USD", "date": "2025-06-30", "notes": "price-below-cost"},
    ]


def feeders() -> list[dict[str, object]]:
    supply = {"volts_v": 480, "phases": 3, "wires": 3, "system": "wye grounded", "fault_ka": 4, "run_m": 100}
    return [{"project": name, "feeder": "M480", **supply} for name in (PROJECT, TWICE, LOSS)]


def heaters() -> list[dict[str, object]]:
    return [{"project": project, "tank": tank, "feeder": "M480", "quantity": 3, "power_kw": kw, "volts_v": 480, "phases": 3, **SAFE}
            for project, tank, kw in ((PROJECT, "M-1", 7), (PROJECT, "M-2", 8), (TWICE, "M-3", 7), (LOSS, "M-4", 7))]  # fmt: skip


def money() -> dict[str, list[dict[str, object]]]:
    """The sheets about money, by id."""
    return {
        "pricing": [
            {"project": PROJECT, "good_for_days": 90, "shop_rate": 70, "field_rate": 85, "wire_colours": "yes", "colour_to": "thumb"},
            {"project": PROJECT, "markup_pct": 10},
            {"project": TWICE, "markup_pct": 10, "profit_pct": 10, "wire_colours": "yes"},
            {"project": LOSS, "profit_pct": -25},
        ],
        "scope": [{"project": PROJECT, "item": "ventilation", "by": "us"}],
        "allowances": [
            {"project": PROJECT, "allowance": "name plate", "part": "NO-SUCH-PART", "quantity": 1, "per": "panel"},
            {"project": PROJECT, "allowance": "set and connect a heater", "quantity": 1, "per": "heater", "field_h": 0.75},
            {"project": PROJECT, "allowance": "raceway fittings", "quantity": 20, "per": "per cent of raceway price", "at_least": 2},
        ],
        "other_costs": [{"project": PROJECT, "what": "drawings", "scope_item": "drawings", "quantity": 1, "amount": 900}],
        "typed_prices": [
            {"role": "heater", "words": "7 kW, 480 V, 3-phase", "unit": "ea", "unit_price": 600, "price_date": "2024-01-15", "hours": 1},
            {"role": "heater", "words": "8 kW, 480 V, 3-phase", "unit": "ea", "unit_price": 650},
            {"role": "heater", "words": "9 kW, 480 V, 3-phase", "unit": "ea", "unit_price": 700},  # of no heater of this list
        ],
    }
