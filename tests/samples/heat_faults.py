"""Tanks of the sample with every finding: each is odd in one way that the heat check speaks of. Sizes in ft, inches and degrees F."""

from __future__ import annotations

PROJECT, FEEDER = "FX-HEAT", "H480"
USUAL_TANK = {
    "duty": "as invented", "liquid": "water", "length_m": 5, "width_m": 3, "depth_m": 3, "tank_material": "polypropylene", "wall_mm": 0.5,
    "operating_c": 140, "start_c": 60, "room_c": 70, "room_rh_pct": 50, "heatup_h": 8, "cover": "open", "air_speed_m_s": 0, "makeup_c": 60,
    "level_cutoff": "yes",
}  # fmt: skip
USUAL_HEATERS = {
    "quantity": 3, "power_kw": 6, "volts_v": 480, "phases": 1, "heated_length_mm": 40, "diameter_mm": 0.475, "tubes_per_heater": 6,
    "over_temperature_limit": "yes", "heater_run_m": 20, "panel_feeder_run_m": 20,
}  # fmt: skip

# finding -> cells of its tank, cells of its heaters
CASES: dict[str, tuple[dict[str, object], dict[str, object]]] = {
    "heat-never": ({"length_m": 10, "width_m": 4, "depth_m": 4}, {"quantity": 1, "power_kw": 1, "tubes_per_heater": 1}),
    "heat-short": ({"heatup_h": 2}, {}),
    "heat-marginal": ({}, {"power_kw": 3.8}),
    "heat-not-judged": ({"operating_c": None}, {}),
    "heat-up-not-judged": ({"heatup_h": None}, {}),
    "heat-default": ({"room_c": None}, {}),
    "liquid-unknown": ({"liquid": "house mix no. 7"}, {}),
    "material-unknown": ({"tank_material": "larch wood"}, {}),
    "bath-boils": ({"operating_c": 212, "tank_material": "316 stainless"}, {}),
    "start-frozen": ({"start_c": 25}, {"quantity": 6}),
    "start-not-below": ({"start_c": 150}, {}),
    "volume-odd": ({"volume_l": 600}, {"quantity": 6}),
    "shell-too-hot": ({"tank_material": "PVC", "operating_c": 150}, {}),
    "heat-beyond-tests": ({"operating_c": 203, "tank_material": "316 stainless", "heatup_h": 12}, {"quantity": 6}),
    "heat-generous": ({}, {"quantity": 9}),
    "watt-density": ({}, {"heated_length_mm": 5}),
    "watt-density-upper": ({}, {"heated_length_mm": 14}),
    "watt-density-unknown": ({}, {"diameter_mm": None}),
    "tubes-assumed": ({}, {"phases": 3, "heated_length_mm": 50, "tubes_per_heater": None}),
    "heater-longer-than-tank": ({}, {"heated_length_mm": 100}),
    "tank-size-unlikely": ({"depth_m": 0.3}, {}),
    "heat-bank-refused": ({}, {"bank": "1"}),
}  # fmt: skip


def feeders() -> list[dict[str, object]]:
    system = {"volts_v": 480, "phases": 3, "wires": 3, "system": "wye grounded"}
    return [{"project": PROJECT, "feeder": FEEDER, **system, "fault_ka": 4, "run_m": 100}]


def tanks() -> list[dict[str, object]]:
    return [
        {"project": PROJECT, "tank": f"HT-{number:02d}", **USUAL_TANK, **tank, "notes": code}
        for number, (code, (tank, _)) in enumerate(CASES.items(), start=1)
    ]


def heaters() -> list[dict[str, object]]:
    rows = [
        {"project": PROJECT, "tank": f"HT-{number:02d}", "feeder": FEEDER, **USUAL_HEATERS, **heater, "notes": code}
        for number, (code, (_, heater)) in enumerate(CASES.items(), start=1)
    ]
    return [*rows, rows[-1] | {"bank": "2", "feeder": "F-98", "notes": "heat-bank-refused"}]
