"""The sample in three revisions: a small line whose list the customer changes twice. Few and round figures, to be added up by hand."""

from __future__ import annotations

from typing import NamedTuple

from tests.samples.bath import Bath, sheath

TITLE = "Line 4, revision {}"
STORIES: dict[str, tuple[str, ...]] = {
    "A": (
        "The imaginary Nowhere Falls Plating Works asks for a bid on its line 4: ten tanks, thirty-eight heaters, two supplies.",
        "The estimator has fixed a branch OCPD (T-203) and a phase pair (T-205), written notes, and listed two stock parts with prices.",
    ),
    "B": (
        "Revision B, as the customer sent it: two tanks came (T-211, T-212), T-202 has four heaters of 6 kW in place of six of 4 kW, and "
        "the small supply F-2 is 240 V, not 208 V, with heaters to suit.",
        "It is a plain list in another order, without the estimator's decisions: size it with --keep-from revision A, and they stay.",
    ),
    "C": (
        "Revision C: T-203 went, T-206 is called T-206A now, T-204 hangs on a supply of its own (F-3), and the shop's prices went up.",
        "Size it with --keep-from the results of revision B. Whether T-206A is T-206 is offered, never assumed.",
    ),
}
PROJECT = "LINE-4"
F1, F2, F3 = "F-1", "F-2", "F-3"
PTFE = "PTFE-covered"


class Station(NamedTuple):
    """One tank with its bank: tag, bath, feeder, heaters, kW each, volts, phases."""

    tag: str
    bath: Bath
    feeder: str
    count: int
    kw: float
    volts: int
    phases: int


A = (
    Station("T-201", Bath("soak clean", "alkaline soak cleaner", 6, 3, 3.5, 160), F1, 6, 6, 480, 1),
    Station("T-202", Bath("electroclean", "alkaline soak cleaner", 6, 3, 3.5, 150), F1, 6, 4, 480, 1),
    Station("T-203", Bath("pickle", "sulfuric acid pickle", 6, 3, 3.5, 140, sheath=PTFE, density=12), F1, 6, 5, 480, 1),
    Station("T-204", Bath("hot rinse", "rinse water", 6, 3, 3.5, 160), F1, 3, 9, 480, 3),
    Station("T-205", Bath("acid copper", "acid copper plating", 6, 3, 3.5, 95, sheath=PTFE, density=12), F1, 2, 6, 480, 1),
    Station("T-206", Bath("seal", "water", 6, 3, 3.5, 155), F1, 6, 5, 480, 1),
    Station("T-207", Bath("dye, red", "water", 4, 2.5, 3, 140), F1, 2, 5, 480, 1),
    Station("T-208", Bath("dye, black", "water", 4, 2.5, 3, 140), F1, 2, 5, 480, 1),
    Station("T-209", Bath("chromate", "chromate", 4, 2, 3, 110, sheath=PTFE, density=12), F2, 3, 3, 208, 3),
    Station("T-210", Bath("passivate", "chromate", 4, 2, 3, 120, sheath=PTFE, density=12), F2, 2, 4.5, 208, 3),
)
NEW = (
    Station("T-211", Bath("nickel plate", "nickel plating (Watts)", 6, 3, 3.5, 140, sheath="titanium"), F1, 6, 6, 480, 1),
    Station("T-212", Bath("warm rinse", "rinse water", 5, 2.5, 3, 120), F1, 3, 4.5, 480, 3),
)
CARRIED_FORWARD: dict[str, dict[str, object]] = {  # what the estimator writes into revision A
    "T-201": {"notes": "Customer wants stainless drains."},
    "T-203": {"fixed_rating_a": 20, "notes": "Shop stocks 20 A holders."},
    "T-205": {"phase_pair": "B-C", "notes": "As the old line was wired."},
}


def _changed(station: Station) -> Station:
    """As revision B changes a station of revision A."""
    if station.tag == "T-202":
        return station._replace(count=4, kw=6)
    return station._replace(volts=240) if station.feeder == F2 else station


B = (*(_changed(station) for station in A), *NEW)
C = tuple(
    station._replace(tag="T-206A") if station.tag == "T-206" else station._replace(feeder=F3) if station.tag == "T-204" else station
    for station in B
    if station.tag != "T-203"
)
STATIONS = {"A": A, "B": B, "C": C}
PRICES = {"A": (1.10, 180.0), "C": (1.25, 195.0)}  # of a terminal, of an enclosure


def tables(revision: str) -> dict[str, list[dict[str, object]]]:
    projects = [{
        "project": PROJECT, "title": "Line 4 (invented)", "customer": "Nowhere Falls Plating Works (invented)",
        "site": "Nowhere Falls (invented)", "revision": revision, "prepared_by": "sample",
    }]
    if revision == "A":
        projects[0] |= {"code_basis": "NEC 2023", "terminal_c": 75, "currency": "USD"}
    small = 208 if revision == "A" else 240
    feeders = [
        _feeder(F1, 480, {"source_kva": 300, "source_z_pct": 5, "run_m": 120}),
        _feeder(F2, small, {"source_kva": 75, "source_z_pct": 4, "run_m": 80}),
    ]
    if revision == "C":
        feeders.append(_feeder(F3, 480, {"source_kva": 75, "source_z_pct": 4, "run_m": 60}))
    stations = STATIONS[revision] if revision == "A" else tuple(reversed(STATIONS[revision]))
    found: dict[str, list[dict[str, object]]] = {
        "projects": projects, "feeders": feeders, "tanks": [_tank(station) for station in stations],
        "heaters": [_heaters(station) | (CARRIED_FORWARD.get(station.tag, {}) if revision == "A" else {}) for station in stations],
    }
    if revision in PRICES:
        terminal, enclosure = PRICES[revision]
        found["stock"] = [
            {"part": "TB-1 (invented)", "kind": "terminal", "rating_a": 20, "volts_v": 600, "unit_price": terminal},
            {"part": "EN-1 (invented)", "kind": "enclosure", "unit_price": enclosure},
        ]
    return found


def _feeder(tag: str, volts: int, source: dict[str, object]) -> dict[str, object]:
    return {"project": PROJECT, "feeder": tag, "volts_v": volts, "phases": 3, "wires": 3, "system": "wye grounded", **source}


def _tank(station: Station) -> dict[str, object]:
    bath = station.bath
    return {
        "project": PROJECT, "tank": station.tag, "duty": bath.duty, "liquid": bath.liquid, "length_m": bath.length, "width_m": bath.width,
        "depth_m": bath.depth, "volume_l": bath.gallons,
        "tank_material": bath.tank_material, "operating_c": bath.temperature, "start_c": 60, "room_c": 70,
        "heatup_h": bath.hours, "cover": bath.cover, "air_agitation": bath.agitation, "level_cutoff": "yes",
    }


def _heaters(station: Station) -> dict[str, object]:
    return {
        "project": PROJECT, "tank": station.tag, "feeder": station.feeder, "quantity": station.count, "power_kw": station.kw,
        "volts_v": station.volts, "phases": station.phases, "sheath": station.bath.sheath,
        **sheath(station.kw, station.bath, station.phases),
        "heater_run_m": 20, "panel_feeder_run_m": 15,
        "over_temperature_limit": "yes",
    }
