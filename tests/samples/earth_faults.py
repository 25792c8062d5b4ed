"""The sample with every finding of earth faults, under the code that sets times for them. Lengths in feet."""

from __future__ import annotations

TITLE = "One row for every finding of earth faults"
STORY = (
    "Nowhere Falls has a sister in 400 V country, and its worst day too: feeders whose Notes name the finding of earth faults that they "
    "show, under IEC 60364.",
    "Read its Findings and Earth faults sheets beside this workbook.",
)
PROJECT, TYPE_D = "FX-EARTH", "FX-TYPE-D"
SAFE = {"over_temperature_limit": "yes", "heater_run_m": 20, "panel_feeder_run_m": 20}
FAR = {"heater_run_m": 300}
WEAK = {"source_kva": 25, "source_z_pct": 4, "fault_ka": None}

# tag, findings that its row or its banks' rows show, cells of the feeder, bank: (heaters, kW, cells)
Bank = tuple[int, float, dict[str, object]]
PLAIN: Bank = (3, 6, {})
FEEDERS: tuple[tuple[str, str, dict[str, object], Bank], ...] = (
    ("E-BLANK", "earthing-assumed", {"earthing": None}, PLAIN),
    ("E-DELTA", "earthing-conflict, insulation-monitor", {"system": "delta"}, PLAIN),
    ("E-CURVE", "earth-fault-curve", WEAK, (3, 16, FAR)),
    ("E-SOURCE", "earth-fault-source", {"fault_ka": None}, PLAIN),
    ("E-LENGTH", "earth-fault-length", {}, (3, 6, {"heater_run_m": None})),
    ("E-TT", "residual-device-origin, electrode-unknown, residual-device-missing", {"earthing": "TT"}, PLAIN),
    ("E-TTH", "electrode-high", {"earthing": "TT", "electrode_ohm": 500}, (3, 6, {"rcd_ma": 300})),
    ("E-30", "residual-leakage", {}, (6, 6, {"rcd_ma": 30})),
    ("E-300", "residual-device-large", {}, (8, 12, {"rcd_ma": 300})),
    ("E-14KW", "protective-reinforced", {"volts_v": 690}, (3, 14, {"volts_v": 690, "device_kind": "breaker"})),
    ("E-STIFF", "short-circuit-energy, fault-rating-unknown", {"fault_ka": 50, "run_m": 5}, (3, 6, {"device_kind": "breaker"})),
    ("E-PEN", "pen-small", {"earthing": "TN-C"}, PLAIN),
    ("E-ITN", "neutral-not-opened, neutral-not-guarded, neutral-opened", {"earthing": "IT", "wires": 4, "existing_device_a": 50},
     (9, 3, {"volts_v": 230, "phases": 1})),
    ("E-LIKE", "fuses-not-selective", {}, (9, 3, {"fixed_rating_a": 40})),
    ("E-UNIT", "transformer-practice", {"source": "E-TX", "fault_ka": None}, PLAIN),
)


def projects() -> list[dict[str, object]]:
    return [
        {"project": PROJECT, "title": "Findings of earth faults (invented)", "code_basis": "IEC 60364", "on_drop": "caution"},
        {"project": TYPE_D, "code_basis": "IEC 60364", "device_kind": "breaker", "breaker_type": "D",
         "notes": "earth-fault-slow, selectivity-not-judged"},
    ]


def sources() -> list[dict[str, object]]:
    """A transformer of the job, whose protection the code does not set in shares of its current."""
    unit = {"volts_v": 400, "phases": 3, "wires": 3, "system": "wye grounded", "earthing": "TN-S", "primary_v": 690, "primary_ka": 20}
    own = {"primary_device_a": 63, "secondary_run_m": 2, "secondary_wire": "35 mm²", "of_this_job": "yes", "notes": "transformer-practice"}
    return [{"project": PROJECT, "source": "E-TX", "kva": 63, "z_pct": 4, **unit, **own}]


def feeders() -> list[dict[str, object]]:
    usual = {"volts_v": 400, "phases": 3, "wires": 3, "system": "wye grounded", "earthing": "TN-S", "fault_ka": 10, "run_m": 50}
    rows = [{"project": PROJECT, **usual, "feeder": tag, **cells, "notes": said} for tag, said, cells, _ in FEEDERS]
    return [*rows, {"project": TYPE_D, **usual, **WEAK, "feeder": "E-D"}]


def heaters() -> list[dict[str, object]]:
    rows = []
    for at, (feeder, _, _, (quantity, kw, more)) in enumerate(FEEDERS, 1):
        tank = {"project": PROJECT, "tank": f"G-{at:03d}", "feeder": feeder}
        rows.append({**tank, "quantity": quantity, "power_kw": kw, "volts_v": 400, "phases": 3, **SAFE, **more})
    alone = {"project": TYPE_D, "tank": "GD-001", "feeder": "E-D", "quantity": 3, "power_kw": 6, "volts_v": 400, "phases": 3}
    return [*rows, {**alone, **SAFE, **FAR, "heater_run_m": 600}]


def tables() -> dict[str, list[dict[str, object]]]:
    heated = heaters()
    tanks = [{"project": row["project"], "tank": row["tank"], "duty": "as invented", "level_cutoff": "yes"} for row in heated]
    return {"projects": projects(), "sources": sources(), "feeders": feeders(), "tanks": tanks, "heaters": heated}
