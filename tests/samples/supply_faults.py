"""Rows of the findings sample that show what is said of sources, feeders' ends and systems. Lengths in feet."""

from __future__ import annotations

PROJECT, ALUMINUM, BREAKERS = "FX-SUPPLY", "FX-ALUM", "FX-POLES"
SAFE = {"over_temperature_limit": "yes", "heater_run_m": 20, "panel_feeder_run_m": 20}

TANKS = {  # tanks with settings of their own: that of S-1P, in which that feeder ends, and that of Y-FAR, with a heater panel
    "Q-004": {"one_device": "yes", "notes": "one-device-not"},
    "Q-042": {"block_jumpers": "tap", "notes": "block-jumper-tap"},
}

# tag, findings that its row or its feeders' rows show, cells
SOURCES: tuple[tuple[str, str, dict[str, object]], ...] = (
    ("TX-A", "feeder-pair-chosen, feeder-pair-ignored", {"primary_v": 12470, "primary_ka": 10}),
    ("TX-BAD", "", {"wires": 2}),
    ("TX-FULL", "source-nearly-full, primary-unlimited", {"kva": 20}),
    ("TX-NOZ", "source-fault-unknown", {"z_pct": None}),
    ("TX-LOW", "fault-given-low", {"fault_ka": 2}),
    ("TX-LESS", "fault-given-less", {"kva": 1000, "z_pct": 5.75, "primary_mva": 250, "fault_ka": 21}),
    ("TX-J1", "transformer-unknown, secondary-length-unknown", {"of_this_job": "yes"}),
    ("TX-J2", "transformer-primary, secondary-too-long",
     {"of_this_job": "yes", "kva": 75, "volts_v": 208, "primary_v": 480, "primary_device_a": 250, "secondary_run_m": 30}),
    ("TX-J3", "transformer-secondary, secondary-small, secondary-wire-taken",
     {"of_this_job": "yes", "kva": 75, "volts_v": 208, "primary_v": 480, "primary_device_a": 200, "secondary_run_m": 8}),
    ("TX-MANY", "transformer-secondary-many", {"of_this_job": "yes", "kva": 75, "volts_v": 208, "primary_v": 480, "primary_device_a": 200}),
    ("TX-J5", "secondary-wire-unknown",
     {"of_this_job": "yes", "primary_v": 480, "primary_device_a": 30, "secondary_run_m": 8, "secondary_wire": "as drawn"}),
    ("TX-SERVICE", "", {"kind": "service"}),
    ("TX-CORNER", "grounded-pair", {"system": "corner-grounded delta", "grounded_line": "B"}),
    ("TX-2", "source-repeated", {}),
    ("TX-2", "", {}),
)  # fmt: skip

# tag, findings, cells of the feeder, banks: (heaters, kW, phases, cells)
Bank = tuple[int, float, int, dict[str, object]]
PLAIN: Bank = (3, 6, 1, {})
TWO: tuple[Bank, ...] = ((6, 6, 1, {}), (6, 6, 1, {}))
FIFTY: Bank = (2, 14.5, 3, {})
ONE_PHASE = {"phases": 1, "wires": 2, "system": None, "source": "TX-A", "fault_ka": None}
FEEDERS: tuple[tuple[str, str, dict[str, object], tuple[Bank, ...]], ...] = (
    ("S-NONE", "source-unknown", {"source": "TX-NONE"}, (PLAIN,)),
    ("S-BAD", "source-not-usable", {"source": "TX-BAD"}, (PLAIN,)),
    ("S-OTHER", "source-mismatch", {"source": "TX-A", "volts_v": 400}, (PLAIN,)),
    ("S-1P", "", ONE_PHASE, (PLAIN,)),
    ("S-1N", "", {**ONE_PHASE, "phase_pair": "A-N"}, (PLAIN,)),
    ("S-FULL", "", {"source": "TX-FULL", "fault_ka": None}, (PLAIN,)),
    ("S-NOZ", "", {"source": "TX-NOZ", "fault_ka": None}, (PLAIN,)),
    ("S-LOW", "", {"source": "TX-LOW", "fault_ka": None}, (PLAIN,)),
    ("S-LESS", "", {"source": "TX-LESS", "fault_ka": None}, (PLAIN,)),
    ("S-J1", "", {"source": "TX-J1", "fault_ka": None}, (PLAIN,)),
    ("S-J2", "", {"source": "TX-J2", "fault_ka": None, "volts_v": 208}, (PLAIN,)),
    ("S-J3", "", {"source": "TX-J3", "fault_ka": None, "volts_v": 208, "existing_device_a": 175}, (PLAIN,)),
    ("S-J4", "", {"source": "TX-J3", "fault_ka": None, "volts_v": 208, "existing_device_a": 150}, (PLAIN,)),
    ("D-50", "feeder-device-raised", {}, (FIFTY,)),
    ("D-45", "existing-below-largest", {"existing_device_a": 45}, (FIFTY,)),
    ("D-110", "device-nearly-full, way-length-unknown, distribution-by-others", {}, TWO),
    ("D-100", "device-overused, bus-small", {"existing_device_a": 100, "bus_a": 60}, TWO),
    ("D-MAIN", "main-small", {"bus_a": 225, "unit_main_a": 100}, TWO),
    ("D-TAP", "tap-too-long", {"tap_m": 30}, TWO),
    ("D-BIG", "tap-no-wire", {"tap_m": 20, "existing_device_a": 4000}, TWO),
    ("Y-WHAT", "ground-detectors", {"system": None}, (PLAIN,)),
    ("Y-1200", "arc-energy", {"existing_device_a": 1200}, (PLAIN,)),
    ("Y-CORNER", "single-pole-interrupting", {"system": "corner-grounded delta"}, ((6, 6, 1, {"device_kind": "breaker"}),)),
    ("Y-LINE", "grounded-line-assumed", {"system": "corner-grounded delta"}, (PLAIN,)),
    ("Y-FUSE", "fuse-in-grounded-line", {"system": "corner-grounded delta", "grounded_line": "B", "grounded_fused": "yes"}, (PLAIN,)),
    ("Y-PAIR", "", {**ONE_PHASE, "source": "TX-CORNER", "phase_pair": "A-B"}, (PLAIN,)),
    ("S-J5", "", {"source": "TX-J5", "fault_ka": None}, (PLAIN,)),
    ("S-END", "device-at-end, secondary-not-judged", {"source": "TX-A", "fault_ka": None, "device_at": "end"}, TWO),
    ("S-SERV", "service-conductors", {"source": "TX-SERVICE", "fault_ka": None, "device_at": "end"}, (PLAIN,)),
    ("D-ENDTAP", "tap-of-secondary", {"device_at": "end", "tap_m": 8}, TWO),
    ("Y-NOTAP", "tap-unused", {"tap_m": 8}, (PLAIN,)),
    ("Y-NOWAYS", "company-unused", {"ways_in_raceway": 3}, (PLAIN,)),
    ("Y-SHARE", "raceway-in-full", {"circuits_in_raceway": 2}, (PLAIN,)),
    ("Y-NOPOLES", "existing-poles-unused", {"existing_poles": "3"}, (PLAIN,)),
    ("Y-FAR", "terminal-range", {}, ((6, 6, 1, {"heater_run_m": 2000}),)),
    ("Y-LONG", "feeder-terminal-range", {"run_m": 4000}, (PLAIN,)),
    ("D-APART", "main-apart", {"unit_apart": "yes"}, TWO),
    ("Y-100", "hundred-pct-wires", {}, ((1, 60, 3, {"circuits_per_heater": 2, "marked_wire": "3", "cycling": "yes"}),)),
    ("Y-MARK", "marked-wire-unknown", {}, ((1, 60, 3, {"circuits_per_heater": 2, "marked_wire": "three"}),)),
    *((f"S-M{at}", "", {"source": "TX-MANY", "fault_ka": None, "volts_v": 208}, (PLAIN,)) for at in range(7)),
    ("Y-SIGHT", "disconnect-sight", {}, ((1, 60, 3, {"circuits_per_heater": 2, "panel_feeder_run_m": 100}),)),
)  # fmt: skip


# of a project with breakers: tag, findings, cells of the feeder, each with one plain bank
TWO_POLES = {"existing_device_a": 100, "existing_poles": "2"}
ON_BREAKERS: tuple[tuple[str, str, dict[str, object]], ...] = (
    ("B-CORNER", "two-pole-breaker", {**TWO_POLES, "system": "corner-grounded delta", "grounded_line": "B"}),
    ("B-WYE", "line-without-device", TWO_POLES),
)


def projects() -> list[dict[str, object]]:
    return [
        {
            "project": PROJECT, "title": "Findings of the supply side (invented)", "code_basis": "NEC 2023",
            "notes": "fuse-disconnect, two-wires",
        },
        {"project": BREAKERS, "device_kind": "breaker"},
        {"project": ALUMINUM, "conductor": "aluminum", "notes": "aluminum-terminals, aluminum-corrosion, aluminum-small"},
    ]


def sources() -> list[dict[str, object]]:
    usual = {"project": PROJECT, "kva": 500, "z_pct": 5, "volts_v": 480, "phases": 3, "wires": 3, "system": "wye grounded"}
    return [{**usual, "source": tag, **cells, "notes": said} for tag, said, cells in SOURCES]


def feeders() -> list[dict[str, object]]:
    usual = {"project": PROJECT, "volts_v": 480, "phases": 3, "wires": 3, "system": "wye grounded", "fault_ka": 4, "run_m": 50}
    rows: list[dict[str, object]] = [{**usual, "feeder": tag, **cells, "notes": said} for tag, said, cells, _ in FEEDERS]
    rows += [{**usual, "project": BREAKERS, "feeder": tag, **cells, "notes": said} for tag, said, cells in ON_BREAKERS]
    return [*rows, {**usual, "project": ALUMINUM, "feeder": "A-1"}]


def heaters() -> list[dict[str, object]]:
    rows: list[dict[str, object]] = []
    for feeder, _, cells, banks in FEEDERS:
        for quantity, kw, phases, more in banks:
            tank = {"project": PROJECT, "tank": f"Q-{len(rows) + 1:03d}", "feeder": feeder}
            volts = cells.get("volts_v", 480)
            rows.append({**tank, "quantity": quantity, "power_kw": kw, "volts_v": volts, "phases": phases, **SAFE, **more})
    plain = {"quantity": 6, "power_kw": 6, "volts_v": 480, "phases": 1, **SAFE}
    rows += [{"project": BREAKERS, "tank": f"B-{at:03d}", "feeder": tag, **plain} for at, (tag, _, _) in enumerate(ON_BREAKERS, 1)]
    alone = {"project": ALUMINUM, "tank": "A-001", "feeder": "A-1", "quantity": 6, "power_kw": 6, "volts_v": 480, "phases": 1}
    return [*rows, {**alone, **SAFE}]
