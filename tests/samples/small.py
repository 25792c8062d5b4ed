"""The small clean sample: a pilot line of eight tanks on two feeders, with nothing to look at twice."""

from __future__ import annotations

from tests.samples import stock
from tests.samples.bath import Bath, sheath

TITLE = "Pilot plating line, eight tanks"
STORY = (
    "The imaginary Nowhere Falls Plating Works asks for a pilot line: eight heated tanks, thirty heaters, two supplies.",
    "F-1 is 480 V, three-phase, from a 150 kVA transformer; F-2 is 240 V, single-phase, from 37.5 kVA.",
    "Everything is stated and within limits, so that sizing it ends with exit code 0: notes only, no caution.",
)
PROJECT = "PILOT"
PTFE = "PTFE-covered"

ALONE = "T-106"  # has a single heater; several behind one OCPD, or behind several sets of fuses with one disconnect, would be a caution
WARMEST = "T-108"  # its control panel would grow too warm behind plastic

# tank, bath, feeder, heaters, kW each, volts, phases, ft from panel, ft from contactor; ft from the board come by the tank's place
TANKS = (
    ("T-101", Bath("soak clean", "alkaline soak cleaner", 5, 2.5, 3, 150), "F-1", 3, 6, 480, 1, 20, 15),
    ("T-102", Bath("electroclean", "alkaline soak cleaner", 5, 2.5, 3, 150), "F-1", 6, 3, 480, 1, 20, 15),
    ("T-103", Bath("acid copper", "acid copper plating", 6, 3, 3.5, 95, density=15, sheath=PTFE), "F-1", 2, 9, 480, 3, 25, 15),
    ("T-104", Bath("nickel plate", "nickel plating (Watts)", 6, 3, 3.5, 140, sheath="titanium"), "F-1", 3, 9, 480, 3, 25, 15),
    ("T-105", Bath("hot rinse", "rinse water", 4, 2.5, 3, 160), "F-1", 9, 2, 480, 1, 20, 15),
    ("T-106", Bath("dryer pre-rinse", "rinse water", 3, 2, 2.5, 150), "F-1", 1, 12, 480, 3, 20, 15),
    ("T-107", Bath("chromate", "chromate", 4, 2, 3, 100, sheath=PTFE, density=15), "F-2", 2, 4.5, 240, 1, 20, 15),
    ("T-108", Bath("acid dip", "sulfuric acid pickle", 4, 2, 3, 120, sheath=PTFE, density=12), "F-2", 4, 3, 240, 1, 20, 15),
)


def tables() -> dict[str, list[dict[str, object]]]:
    projects = [{
        "project": PROJECT, "title": "Pilot plating line (invented)", "customer": "Nowhere Falls Plating Works (invented)",
        "site": "Nowhere Falls (invented)", "revision": "A", "prepared_by": "sample", "code_basis": "NEC 2023",
        "date": "2025-03-03", "currency": "USD", "wires_per_terminal": 1,
        "backup_contactor": "yes", "distribution": "ours",
        "validity": "60 days from the date above", "delivery": "10 to 12 weeks from a released order, at the site, unloading by you",
        "terms": "30 % with the order, 60 % on delivery, 10 % after testing on site; all net 30 days",
        "warranty": "12 months from delivery, on material and workmanship; not on sheaths attacked by the bath",
        "signature": "________________________, for the Nowhere Falls Panel Shop (invented)",
        "note_to_customer": "Thank you for your list. Please look at what we took where it says nothing, before you order.",
    }]
    feeders = [
        {"project": PROJECT, "feeder": "F-1", "volts_v": 480, "phases": 3, "wires": 3, "system": "wye grounded",
         "source_kva": 150, "source_z_pct": 5, "run_m": 60},
        {"project": PROJECT, "feeder": "F-2", "volts_v": 240, "phases": 1, "wires": 2, "system": "1-phase line-to-line",
         "source_kva": 37.5, "source_z_pct": 4, "run_m": 50},
    ]
    tanks, heaters = [], []
    for at, (tag, bath, feeder, count, kw, volts, phases, branch_ft, feed_ft) in enumerate(TANKS):
        distribution_ft = 30 + 10 * (at % 6)
        tanks.append({
            "project": PROJECT, "tank": tag, "duty": bath.duty, "liquid": bath.liquid, "length_m": bath.length, "width_m": bath.width,
            "depth_m": bath.depth, "volume_l": bath.gallons, "tank_material": bath.tank_material, "wall_mm": 0.5,
            "operating_c": bath.temperature,
            "start_c": 60, "room_c": 70, "room_rh_pct": 50, "heatup_h": bath.hours, "cover": bath.cover, "air_speed_m_s": bath.air,
            "work_load_kg_h": 300, "work_material": "steel", "makeup_l_h": 5, "makeup_c": 60, "air_agitation": bath.agitation,
            "level_cutoff": "yes", "distribution_run_m": distribution_ft,
            "box_material": "stainless" if tag == WARMEST else None,
        })
        heaters.append({
            "project": PROJECT, "tank": tag, "feeder": feeder, "quantity": count, "power_kw": kw, "volts_v": volts, "phases": phases,
            "sheath": bath.sheath, **sheath(kw, bath, phases),
            "heater_run_m": branch_ft, "panel_feeder_run_m": feed_ft, "over_temperature_limit": "yes",
            "device_kind": None if tag == ALONE else "breaker",
        })
    return {"projects": projects, "feeders": feeders, "tanks": tanks, "heaters": heaters, "stock": stock.rows(), **money()}


def money() -> dict[str, list[dict[str, object]]]:
    """Invented rates, rules of an invented shop, and what no part is; lengths in feet, as the headings say."""
    pricing = [{
        "project": PROJECT, "good_for_days": 90, "shop_rate": 78, "field_rate": 92, "end_m": 1.5, "device_run_m": 2, "wire_waste_pct": 5,
        "raceway_waste_pct": 3, "purchase_tax_pct": 0, "freight_pct": 2, "contingency_pct": 3, "overhead_pct": 12, "markup_pct": 10,
        "sales_tax_pct": 0, "round_to": 1,
    }]
    scope = [{"project": PROJECT, "item": item, "by": by} for item, by in (
        ("heaters", "us"), ("installation", "us"), ("control circuit", "us"), ("temperature control", "customer"),
        ("supply to the board", "us"), ("permits", "customer"), ("short-circuit and arc-flash study", "others"),
    )]
    allowances = [{
        "project": PROJECT, "allowance": what, "part": part, "quantity": count, "per": per, **more,
    } for what, part, count, per, more in (
        ("engraved nameplate", "LABEL-N", 1, "panel", {}),
        ("warning labels", "LABEL-S", 4, "panel", {}),
        ("ground bar", "BAR-G", 1, "panel", {}),
        ("terminal adapters", "PVCF-1", 2, "raceway", {}),
        ("spare fuses", None, 0.1, "fuse", {"at_least": 2}),
    )]
    costs = [
        {"project": PROJECT, "what": "control circuit and its devices, by the job", "scope_item": "control circuit", "quantity": 8,
         "unit": "tank", "amount": 210, "field_h": 3},
        {"project": PROJECT, "what": "drawings and documents", "scope_item": "drawings", "quantity": 1, "unit": "lot", "amount": 1450},
        {"project": PROJECT, "what": "testing on site", "scope_item": "testing", "quantity": 2, "unit": "day", "amount": 380, "field_h": 8},
    ]
    return {"pricing": pricing, "scope": scope, "allowances": allowances, "other_costs": costs}
