"""The whole-plant sample: three halls, every line station by station, several voltages. No chance in it: counters only."""

from __future__ import annotations

import math
from typing import NamedTuple

from tests.samples.bath import Bath, need_kw, sheath
from tests.samples.recipes import RECIPES

TITLE = "Whole plant: three halls"
STORY = (
    "The imaginary Nowhere Falls Plating Works moves from steam to electric heat and asks for one bid over its three halls.",
    "HALL-1 plates (rack and barrel zinc, nickel-chromium, electroless nickel, copper-tin): fuses, 480 V three-phase, one 480Y/277 V line.",
    "HALL-2 anodizes and dyes: breakers, 480Y/277 V with heaters to neutral, 480 V, small lines on 240 V three-phase and single-phase.",
    "HALL-3 cleans, phosphates, pickles and blackens: fuses, 600 V three-phase lines on an older supply, 480 V, and 208 V washers.",
    "Some things need review, as on any real list, and their rows say so in Notes: heaters kept from the old plant, a supply "
    "with other loads, a tank without a low-level cutoff, two large heaters that their maker subdivides.",
)


class Supply(NamedTuple):
    """One kind of feeder and the heaters that hang on it. `cap_kw` is how much one feeder takes before the next is started."""

    volts: object
    phases: int
    wires: int
    system: str
    heater_volts: float
    heater_phases: int
    sizes: tuple[float, ...]
    cap_kw: float
    source: dict[str, object]


S480 = Supply(480, 3, 3, "wye grounded", 480, 1, (2, 3, 4, 5, 6, 8), 480, {"fault_ka": 35})
S480_3 = Supply(480, 3, 3, "wye grounded", 480, 3, (4.5, 6, 9, 12, 15), 480, {"fault_ka": 35})
S277 = Supply("480Y/277", 3, 4, "wye grounded", 277, 1, (2, 3, 4, 5, 6), 420, {"source_kva": 1000, "source_z_pct": 5.75})
S240_3 = Supply(240, 3, 3, "delta", 240, 3, (3, 4.5, 6, 9), 150, {"source_kva": 300, "source_z_pct": 4.5})
S240 = Supply(240, 1, 2, "1-phase line-to-line", 240, 1, (1.5, 2, 3, 4.5), 60, {"source_kva": 100, "source_z_pct": 3})
S208 = Supply(208, 3, 4, "wye grounded", 208, 3, (3, 4.5, 6, 9), 120, {"source_kva": 225, "source_z_pct": 4})
S600 = Supply(600, 3, 3, "wye grounded", 600, 3, (4.5, 6, 9, 12, 15, 18), 500, {"source_kva": 1500, "source_z_pct": 5.75})
S600_1 = S600._replace(heater_phases=1, sizes=(3, 4, 5, 6, 8, 10))


class Line(NamedTuple):
    tag: str
    recipe: str
    supply: Supply
    scale: float  # of the recipe's tank lengths
    run_ft: int  # feeder length


HALLS: dict[str, tuple[dict[str, object], tuple[Line, ...]]] = {
    "HALL-1": (
        {"title": "Plating hall (invented)", "backup_contactor": "yes", "terminal_c": 75, "branch_drop_pct": 3, "total_drop_pct": 5},
        (
            Line("RZ1", "rack zinc", S480, 1.0, 180), Line("RZ2", "rack zinc", S480, 1.0, 220), Line("RZ3", "rack zinc", S480, 1.2, 260),
            Line("RZ4", "rack zinc", S480_3, 0.8, 300), Line("RZ5", "rack zinc", S480, 0.7, 340),
            Line("BZ1", "barrel zinc", S480, 0.9, 150), Line("BZ2", "barrel zinc", S480, 0.9, 190),
            Line("BZ3", "barrel zinc", S480_3, 1.1, 230),
            Line("BZ4", "barrel zinc", S480, 0.7, 270),
            Line("NC1", "nickel chrome", S480, 1.0, 240), Line("NC2", "nickel chrome", S480_3, 1.3, 280),
            Line("NC3", "nickel chrome", S480, 0.8, 320),
            Line("EN1", "electroless nickel", S277, 1.0, 120), Line("EN2", "electroless nickel", S480, 1.0, 140),
            Line("CT1", "copper tin", S480, 1.0, 160), Line("CT2", "copper tin", S240_3, 0.6, 90),
        ),
    ),
    "HALL-2": (
        {"title": "Anodizing hall (invented)", "backup_contactor": "yes", "device_kind": "breaker", "terminal_c": 75},
        (
            Line("AN1", "anodize", S277, 1.0, 160), Line("AN2", "anodize", S277, 1.0, 200), Line("AN3", "anodize", S480, 1.2, 240),
            Line("AN4", "anodize", S480, 0.8, 280),
            Line("DY1", "dye", S277, 1.0, 120), Line("DY2", "dye", S277, 0.8, 150), Line("DY3", "dye", S240_3, 0.6, 80),
            Line("PL1", "passivation", S240, 0.5, 60), Line("PL2", "passivation", S240, 0.5, 70),
        ),
    ),
    "HALL-3": (
        {"title": "Cleaning and phosphating hall (invented)"},
        (
            Line("PT1", "pretreatment", S600, 1.2, 200), Line("PT2", "pretreatment", S600, 1.0, 240),
            Line("PH1", "phosphate", S600_1, 1.0, 180), Line("PH2", "phosphate", S600_1, 1.0, 220),
            Line("PH3", "phosphate", S480, 0.9, 260),
            Line("BO1", "black oxide", S480, 1.0, 120), Line("BO2", "black oxide", S480_3, 1.2, 140),
            Line("PW1", "parts wash", S208, 0.6, 70), Line("PW2", "parts wash", S208, 0.6, 80),
            Line("PW3", "parts wash", S208, 0.5, 90),
            Line("PS1", "passivation", S480, 1.0, 150), Line("PS2", "passivation", S208, 0.6, 100),
        ),
    ),
}

# What an estimator finds in a real list: (line, station) -> changed cells of its heater row, or of its tank.
HEATER_STORIES: dict[tuple[str, int], dict[str, object]] = {
    ("RZ2", 2): {"over_temperature_limit": "no", "notes": "Heaters kept from the old plant: no over-temperature limit."},
    ("NC2", 9): {"quantity": 2, "power_kw": 54, "circuits_per_heater": 2, "heated_length_mm": None,
                 "notes": "Two large heaters, subdivided by their maker."},
    ("PW3", 2): {"volts_v": 240, "notes": "240 V heaters from the store, to be used on 208 V."},
    ("CT2", 3): {"volts_v": 230, "notes": "Imported heaters marked 230 V."},
    ("RZ1", 1): {"fixed_rating_a": 20, "notes": "Shop stocks 20 A only."},
    ("BZ1", 4): {"phase_pair": "B-C", "notes": "First phase B-C, as the old line was wired."},
    ("PT1", 3): {"circuits_in_raceway": 3, "notes": "Three branches in one raceway."},
    ("BO1", 4): {"branches_per_panel": 6, "notes": "Customer wants panels of six at most."},
}
TANK_STORIES: dict[tuple[str, int], dict[str, object]] = {
    ("PT2", 4): {"level_cutoff": "no", "notes": "No low-level cutoff on the old tank; customer was told."},
    ("BO2", 1): {"notes": "Level switch to be confirmed by the customer.", "level_cutoff": None},
    ("RZ3", 3): {"heatup_h": 3, "notes": "To be hot three hours after the shift starts."},
    ("NC2", 13): {"air_speed_m_s": 400, "notes": "New exhaust hood, strong draught."},
    ("BZ4", 14): {"heatup_h": 4, "notes": "Starts at four, work at eight."},
    ("CT1", 9): {"operating_c": None, "notes": "Customer still to say how hot."},
    ("AN4", 11): {"depth_m": None, "volume_l": None, "notes": "Old tank, depth not on the list."},
    ("PW2", 5): {"operating_c": 195, "air_speed_m_s": 400, "notes": "Dryer hood blows across the bath."},
    ("DY3", 8): {"cover": "open", "heatup_h": None, "notes": "Nobody has said how fast it must heat."},
    ("PH3", 9): {"length_m": None, "width_m": None, "notes": "Round tank, size to follow."},
}
SHARED = ("DY3-F1", "DY3-F2", "PL1-F1")  # a 1-phase feeder among them
TO_208 = {
    "kva": 225, "z_pct": 4, "volts_v": 208, "phases": 3, "wires": 4, "system": "wye grounded", "primary_v": 480, "primary_ka": 35,
    "primary_device_a": 350, "of_this_job": "yes",
}  # fmt: skip
SOURCES = [{
    "project": "HALL-2", "source": "TX-240", "kva": 500, "z_pct": 4.5, "volts_v": 240, "phases": 3, "wires": 3, "system": "delta",
    "primary_v": 12470, "primary_mva": 250, "notes": "One unit for the dye line and the first passivation line.",
}, {
    "project": "HALL-3", "source": "TX-208A", **TO_208, "secondary_run_m": 8, "secondary_wire": "350",
    "notes": "New unit of this job for the first washer; each feeder has its OCPD beside it.",
}, {
    "project": "HALL-3", "source": "TX-208B", **TO_208, "notes": "New unit of this job for the second passivation line.",
}]  # fmt: skip
ON_208 = {"PW1-F1": "TX-208A", "PW1-F2": "TX-208A", "PS2-F1": "TX-208B"}
FEEDER_STORIES: dict[tuple[str, int], dict[str, object]] = {
    ("PH3", 1): {"other_load_a": 40, "notes": "Hoists and pumps hang on the same supply."},
    ("AN3", 1): {"demand_factor": 0.8, "notes": "Heat-up sequencer keeps one tank in five off."},
    ("PS2", 1): {"device_at": "end", "run_m": 20, "notes": "No room for an OCPD at the transformer: the main of the panelboard."},
    ("EN2", 1): {"fault_ka": None, "notes": "Utility has not answered on fault current."},
}
TWO_BANKS = {("EN1", 4), ("EN1", 5), ("EN2", 4), ("AN1", 8), ("BO1", 3)}  # a bank to heat up and a bank to hold


def tables() -> dict[str, list[dict[str, object]]]:
    projects, feeders, tanks, heaters = [], [], [], []
    for project, (settings, lines) in HALLS.items():
        projects.append({
            "project": project, "customer": "Nowhere Falls Plating Works (invented)", "site": "Nowhere Falls (invented)", "revision": "B",
            "prepared_by": "sample", "date": "2025-03-14", "code_basis": "NEC 2023", "currency": "USD", "energy_price": 0.11, **settings,
        })
        for line in lines:
            _line(project, line, feeders, tanks, heaters)
    for row in feeders:
        if row["feeder"] in SHARED:
            row |= {"source": "TX-240", "source_kva": None, "source_z_pct": None}
        if row["feeder"] in ON_208:
            row |= {"source": ON_208[row["feeder"]], "source_kva": None, "source_z_pct": None}
    return {"projects": projects, "sources": SOURCES, "feeders": feeders, "tanks": tanks, "heaters": heaters}


def _line(project: str, line: Line, feeders: list, tanks: list, heaters: list) -> None:
    """The feeders, tanks and heaters of one line, its stations shared out over as few feeders as carry them."""
    stations = []
    for at, recipe in enumerate(RECIPES[line.recipe]):
        bath = recipe._replace(length=max(round(recipe.length * line.scale * 2) / 2, 2.5))
        count, kw = choose(bath, line.supply, at)
        story = HEATER_STORIES.get((line.tag, at), {})
        stations.append((at, bath, story.get("quantity", count), story.get("power_kw", kw), story))
    total = sum(count * kw for _, _, count, kw, _ in stations)
    share = total / math.ceil(total / line.supply.cap_kw)
    so_far, number = 0.0, 0
    for at, bath, count, kw, story in stations:
        if so_far >= share * number:
            number += 1
            feeders.append(feeder(project, line, number))
        so_far += count * kw
        tag = f"{line.tag}-{at + 1:02d}"
        tanks.append(tank(project, tag, bath) | TANK_STORIES.get((line.tag, at), {}))
        row = {
            "project": project, "tank": tag, "feeder": feeders[-1]["feeder"], "quantity": count, "power_kw": kw,
            "volts_v": line.supply.heater_volts, "phases": line.supply.heater_phases, "sheath": bath.sheath,
            **sheath(kw, bath, line.supply.heater_phases),
            "heater_run_m": 15 + 5 * (at % 4), "panel_feeder_run_m": 20 + 10 * (at % 3), "over_temperature_limit": "yes", **story,
        }
        if (line.tag, at) in TWO_BANKS:
            held = 3 * max(count // 9, 1)
            heaters.append(row | {"bank": "UP", "quantity": count - held, "notes": "Heats up; off when at temperature."})
            heaters.append(row | {"bank": "HOLD", "quantity": held, "notes": "Holds."})
        else:
            heaters.append(row)


def choose(bath: Bath, supply: Supply, at: int) -> tuple[int, float]:
    """Heaters and kW each: the smallest size that needs at most nine; one-phase heaters on three phases by threes, mostly."""
    need = need_kw(bath)
    by_threes = supply.heater_phases == 1 and supply.phases == 3
    most = 12 if at % 5 == 0 else 9
    for kw in supply.sizes:
        count = math.ceil(need / kw)
        if by_threes and at % 7 != 3:  # every seventh list has been counted by somebody who did not think of phases
            count = 3 * math.ceil(count / 3)
        if count <= most:
            return count, kw
    return count, kw


def feeder(project: str, line: Line, number: int) -> dict[str, object]:
    supply = line.supply
    return {
        "project": project, "feeder": f"{line.tag}-F{number}", "volts_v": supply.volts, "phases": supply.phases, "wires": supply.wires,
        "system": supply.system, "run_m": line.run_ft, **supply.source, **FEEDER_STORIES.get((line.tag, number), {}),
    }


def tank(project: str, tag: str, bath: Bath) -> dict[str, object]:
    return {
        "project": project, "tank": tag, "duty": bath.duty, "liquid": bath.liquid, "length_m": bath.length, "width_m": bath.width,
        "depth_m": bath.depth, "volume_l": bath.gallons,
        "tank_material": bath.tank_material, "wall_mm": 0.25 if "stainless" in bath.tank_material else 0.5,
        "insulation_mm": 2 if bath.temperature > 180 else 0, "operating_c": bath.temperature, "start_c": 55, "room_c": 68,
        "room_rh_pct": 50, "heatup_h": bath.hours, "cover": bath.cover, "air_speed_m_s": bath.air, "work_load_kg_h": bath.work,
        "work_material": "steel" if bath.work else None, "makeup_l_h": bath.makeup, "makeup_c": 55, "air_agitation": bath.agitation,
        "level_cutoff": "yes",
    }
