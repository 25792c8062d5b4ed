"""The sample with every finding: each row says in Notes which finding it is there to show. Companions for what needs a workbook of its own
are in `broken`."""

from __future__ import annotations

import datetime

from tests.samples import heat_faults, money_faults, supply_faults
from tests.samples.book import Extra, Formula

TITLE = "One row for every finding"
STORY = (
    "Nowhere Falls again, on its worst day: each row of this job is wrong, odd or incomplete in one way, and its Notes name the finding "
    "that it shows.",
    "Sizing it ends with exit code 4: most rows are sized, some cannot be. Read its Findings sheet beside this workbook.",
    "What needs a workbook of its own (no heater list, no heading row, macros, …) is in the folder broken.",
)

CONTROL: dict[str, dict[str, object]] = {  # tanks with settings of their own
    "E-AUTO": {"limit_reset": "at the limit", "notes": "control-restarts"},
    "E-PP": {"tank_material": "polypropylene", "notes": "control-no-backup"},
    "E-CPT": {"control_transformer": "others", "notes": "control-by-others"},
    "E-NO-CPT": {"control_transformer": "none", "notes": "control-transformer-needed"},
    "E-BOX": {"box_location": "corrosive", "box_material": "steel", "notes": "box-material-corrodes"},
}
LATER: dict[str, dict[str, object]] = {"E-ONEBOX": {"boxes": "one", "notes": "box-one-with-length"}}
E, R = "FX-ELEC", "FX-READ"  # electrical findings; findings of reading
SAFE = {"over_temperature_limit": "yes", "heater_run_m": 20, "panel_feeder_run_m": 20}


def tables() -> dict[str, list[dict[str, object]]]:
    listed = [*electrical(), *other_projects(), *reading()]
    return {
        "projects": [*projects(), *supply_faults.projects(), *money_faults.projects()],
        "sources": supply_faults.sources(),
        "feeders": [*feeders(), *heat_faults.feeders(), *supply_faults.feeders(), *money_faults.feeders()],
        "tanks": [*tanks([*listed, *supply_faults.heaters(), *money_faults.heaters()]), *heat_faults.tanks()],
        "heaters": [
            *listed, *heat_faults.heaters(), *supply_faults.heaters(), *money_faults.heaters(),
        ],
        **money_faults.money(),
    }


def projects() -> list[dict[str, object]]:
    return [
        {"project": E, "title": "Electrical findings (invented)", "code_basis": "NEC 2023",
         "notes": "default-used, control-amps-apart, values-from-memory"},
        {"project": R, "title": "Findings of reading (invented)", "code_basis": "NEC 2023"},
        {"project": "FX-SET", "margin_pct": 10, "smallest_conductor": "13 and a half", "branches_per_panel": 12, "on_drop": "caution",
         "notes": "margin-below-code, setting-unreadable, branches-unusual"},
        {"project": "FX-HOT", "ambient_c": 140, "notes": "pvc-too-hot"},
        {"project": "FX-WIRE", "largest_conductor": "8", "smallest_conductor": "12", "notes": "wire-beyond-table"},
        {"project": "FX-UNUSED", "breaker_type": "B", "heat_margin_pct": 200, "notes": "setting-unused, setting-taken-as-blank"},
        {"project": "FX-BRK", "device_kind": "breaker", "notes": "interrupting-over, slash-rated"},
        {"project": "FX-OLD", "code_basis": "NEC 2014", "notes": "code-basis-unavailable"},
        {"project": "FX-NOF", "notes": "feeders-assumed, feeders-nearly-alike, code-basis-taken"},
        {"project": "FX-ONE", "notes": "feeder-taken"},
        {"project": heat_faults.PROJECT, "title": "Findings of the heat check (invented)", "code_basis": "NEC 2023"},
        {"project": "FX-BAD", "ambient_c": "warm", "notes": "project-not-read"},
        {"project": "fx-one", "revision": "B", "notes": "project-repeated, name-respelt"},
    ]


def feeders() -> list[dict[str, object]]:
    def f(feeder: str, code: str, volts: object = 480, phases: int = 3, wires: int | None = 3, system: str | None = "wye grounded",
          **more: object) -> dict[str, object]:
        return {"project": E, "feeder": feeder, "volts_v": volts, "phases": phases, "wires": wires, "system": system, "fault_ka": 4,
                "run_m": 100, **more, "notes": code}

    return [
        f("F480", ""),
        f("F480Y", "volts-pair-read", "480Y/277", 3, None),
        f("F600Y", "volts-pair-wires", "600Y/347", 3, 3),
        f("F208", "", 208, 3, 4),
        f("F240", "", 240, 1, 2, "1-phase line-to-line"),
        f("F480D", "system-assumed", system=None),
        f("FIDLE", "feeder-without-heaters"),
        f("FHL", "high-leg", 240, 3, 4, "high-leg delta"),
        f("FBAD", "system-conflict", 240, 1, 2, "wye grounded"),
        f("FCG", "corner-grounded", system="corner-grounded delta"),
        f("FOLD", "existing-device-small", existing_device_a=15),
        f("FBIG", "existing-device-large, ground-fault-protection", existing_device_a=1000),
        f("FOTH", "other-load-added", other_load_a=50),
        f("FSRC", "source-overloaded", source_kva=15, source_z_pct=3, fault_ka=None),
        f("FDEM", "demand-factor", demand_factor=0.8),
        f("FUNK", "fault-unknown, feeder-length-unknown", fault_ka=None, run_m=None),
        f("FFLT", "fault-over-default", fault_ka=42, run_m=10),
        f("FUNB", "unbalance"),
        f("F1000", "device-volts", 1000, 3, 3, "delta"),
        f("FHUGE", "beyond-table", 208, 3, 3),
        {"project": "FX-SET", "feeder": "F1", "volts_v": 480, "phases": 3, "system": "wye grounded", "fault_ka": 4, "run_m": 1500},
        {"project": "FX-HOT", "feeder": "F1", "volts_v": 480, "phases": 3, "system": "wye grounded", "fault_ka": 4, "run_m": 100},
        {"project": "FX-WIRE", "feeder": "F1", "volts_v": 480, "phases": 3, "system": "wye grounded", "fault_ka": 4, "run_m": 100},
        {"project": "FX-BRK", "feeder": "F1", "volts_v": 480, "phases": 3, "system": "delta", "fault_ka": 22, "run_m": 10,
         "notes": "slash-rated"},
        {"project": "FX-ONE", "feeder": "F1", "volts_v": 480, "phases": 3, "system": "wye grounded", "fault_ka": 4, "run_m": 100},
        {"project": R, "feeder": "R480", "volts_v": 480, "phases": 3, "system": "wye grounded", "fault_ka": 4, "run_m": 100},
        {"project": R, "feeder": "R480", "volts_v": 480, "phases": 3, "system": "wye grounded", "fault_ka": 4, "run_m": 100,
         "notes": "feeder-repeated"},
        {"project": R, "feeder": "RBAD", "volts_v": "mains", "phases": 3, "system": "zigzag",
         "notes": "feeder-not-read, cell-choice-unknown"},
        {"project": R, "feeder": "RTWO", "volts_v": 480, "phases": 3, "notes": "feeder-contradicts"},
        {"project": R, "feeder": "RTWO", "volts_v": 240, "phases": 3, "notes": "feeder-contradicts"},
    ]


def electrical() -> list[dict[str, object]]:
    rows: list[dict[str, object]] = []

    def h(code: str, feeder: str | None, quantity: int, kw: float, volts: float, phases: int, **more: object) -> None:
        tag = more.pop("tank", f"E-{len(rows) + 1:03d}")
        rows.append({"project": E, "tank": tag, "feeder": feeder, "quantity": quantity, "power_kw": kw, "volts_v": volts, "phases": phases,
                     **SAFE, **more, "notes": code})

    h("feeder-missing", None, 3, 6, 480, 1)
    h("feeder-unknown", "F-99", 3, 6, 480, 1)
    h("high-leg", "FHL", 3, 6, 240, 3)
    h("system-conflict, feeder-not-usable", "FBAD", 2, 3, 240, 1)
    h("phase-pair-ignored", "F480", 1, 6, 480, 3, phase_pair="A-B")
    h("phase-pair-chosen", "F480", 1, 6, 480, 1)
    h("three-phase-on-single", "F240", 1, 6, 240, 3)
    h("connection-needs-three-phase", "F240", 3, 3, 240, 1, connection="delta")
    h("wye-count", "F480", 4, 3, 277, 1)
    h("wye-legs-uneven", "F480", 4, 3, 277, 1, connection="common-point wye")
    h("wye-legs-uneven-within", "F480", 16, 2, 277, 1, connection="common-point wye", branches_per_panel=16)
    h("connection-chosen, single-circuit-allowed", "F480", 3, 6, 480, 1)
    h("connection-inside", "F480", 2, 6, 480, 3, connection="delta")
    h("open-delta", "F480", 2, 3, 480, 1, connection="delta")
    h("delta-uneven", "F480", 4, 3, 480, 1)
    h("wye-uneven, volts-pair-read", "F480Y", 4, 3, 277, 1)
    h("volts-pair-wires", "F600Y", 3, 3, 600, 1)
    h("volts-near", "F480", 3, 6, 460, 3)
    h("volts-low, control-transformer-chosen", "F208", 3, 6, 240, 3)
    h("volts-high", "F480", 3, 6, 440, 3)
    h("volts-over", "F480", 3, 6, 415, 3)
    h("heater-over-limit", "F480", 1, 60, 480, 3)
    h("circuits-too-few", "F480", 1, 90, 480, 3, circuits_per_heater=2)
    h("supplementary-devices", "F480", 1, 60, 480, 3, circuits_per_heater=2)
    h("device-over-limit", "F480", 1, 60, 480, 3, circuits_per_heater=2, fixed_rating_a=70)
    h("branches-over-panel", "F480", 1, 60, 480, 3, circuits_per_heater=10)
    h("limit-missing", "F480", 3, 6, 480, 1, over_temperature_limit="no")
    h("limit-unknown", "F480", 3, 6, 480, 1, over_temperature_limit=None)
    h("level-cutoff-missing", "F480", 3, 6, 480, 1, tank="E-NOCUT")
    h("level-cutoff-unknown", "F480", 3, 6, 480, 1, tank="E-CUT?")
    h("bank-repeated", "F480", 3, 6, 480, 1, tank="E-TWICE", bank="A")
    h("bank-repeated", "F480", 6, 6, 480, 1, tank="E-TWICE", bank="A")
    h("bank-numbered", "F480", 3, 6, 480, 1, tank="E-MANY")
    h("bank-numbered", "F480", 3, 4, 480, 1, tank="E-MANY")
    h("fixed-rating-small", "F480", 6, 6, 480, 1, fixed_rating_a=15)
    h("fixed-rating-large", "F480", 6, 6, 480, 1, fixed_rating_a=40)
    h("fixed-rating-odd", "F480", 6, 6, 480, 1, fixed_rating_a=22)
    h("rating-fixed", "F480", 6, 6, 480, 1, fixed_rating_a=20)
    h("beyond-table, control-coil-unknown, box-not-fitting", "FHUGE", 60, 100, 208, 3, circuits_per_heater=8)
    h("device-volts, control-primary-high", "F1000", 3, 10, 1000, 3)
    h("single-circuit-large", "F480", 2, 18, 480, 3)
    h("single-circuit-rating-odd", "F480", 2, 8, 480, 3, fixed_rating_a=25)
    h("wye-breakers, slash-rated", "F480", 6, 3, 277, 1, device_kind="breaker")
    h("panel-split", "F480", 16, 6, 480, 1)
    h("no-length", "F480", 6, 6, 480, 1, heater_run_m=None, panel_feeder_run_m=None)
    h("drop-upsized", "F480", 6, 6, 480, 1, heater_run_m=900, panel_feeder_run_m=500)
    h("raceway-beyond-table", "F480", 4, 30, 480, 3, circuits_in_raceway=40)
    h("open-branch-overvoltage", "F480", 6, 3, 277, 1, connection="common-point wye")
    h("corner-grounded", "FCG", 3, 6, 480, 1)
    h("system-assumed", "F480D", 3, 6, 480, 1)
    h("existing-device-small", "FOLD", 3, 6, 480, 1)
    h("existing-device-large", "FBIG", 3, 6, 480, 1)
    h("other-load-added", "FOTH", 3, 6, 480, 1)
    h("source-overloaded", "FSRC", 6, 6, 480, 1)
    h("demand-factor", "FDEM", 3, 6, 480, 1)
    h("fault-unknown, feeder-length-unknown", "FUNK", 3, 6, 480, 1)
    h("fault-over-default, block-jumper-large", "FFLT", 24, 12, 480, 1, panel_feeder_run_m=5)
    h("unbalance", "FUNB", 6, 6, 480, 1, connection="parallel", phase_pair="A-B")
    h("unbalance", "FUNB", 6, 6, 480, 1, connection="parallel", phase_pair="A-B")
    for tag in CONTROL:
        h(CONTROL[tag]["notes"], "F480", 3, 6, 480, 1, tank=tag)
    h("control-incomplete", "F480", 3, 6, 480, 1, tank="E-PART", bank="A")
    h("control-incomplete, feeder-unknown", "F-99", 3, 6, 480, 1, tank="E-PART", bank="B")
    for number in range(1, 7):
        h("control-beyond", "F480", 8, 36, 480, 3, tank="E-COILS", bank=str(number), branches_per_panel=2)
    h("heater-without-tank", "F480", 3, 6, 480, 1, tank="E-NOWHERE")
    h("note-on-hold", "F480", 3, 6, 480, 1)
    h("box-one-with-length", "F480", 6, 6, 480, 1, tank="E-ONEBOX")
    return rows


def other_projects() -> list[dict[str, object]]:
    def h(project: str, tank: str, code: str, quantity: int = 6, kw: float = 6, volts: float = 480, phases: int = 1, **more: object):
        return {"project": project, "tank": tank, "quantity": quantity, "power_kw": kw, "volts_v": volts, "phases": phases, **SAFE, **more,
                "notes": code}

    return [
        h("FX-SET", "S-1", "margin-below-code, branches-unusual", feeder="F1"),
        h("FX-SET", "S-2", "drop-over", feeder="F1", heater_run_m=600),
        h("FX-HOT", "H-1", "pvc-too-hot", feeder="F1"),
        h("FX-WIRE", "W-1", "wire-beyond-table", feeder="F1", quantity=4, kw=30, phases=3, circuits_in_raceway=40),
        h("FX-BRK", "B-1", "slash-rated, interrupting-over", feeder="F1"),
        h("FX-OLD", "I-1", "code-basis-unavailable"),
        h("FX-NOF", "N-1", "feeders-assumed"),
        h("FX-NOF", "N-2", "feeders-nearly-alike", feeder="MCC-1"),
        h("FX-NOF", "N-3", "feeders-nearly-alike", feeder="MCC1"),
        h("FX-NOF", "N-4", "code-basis-taken", volts=400, phases=3),
        h("FX-ONE", "O-1", "feeder-taken"),
        h("FX-BAD", "P-1", "project-not-read"),
    ]


def reading() -> list[dict[str, object]]:
    rows: list[dict[str, object]] = []

    def r(code: str, **cells: object) -> None:
        good = {"project": R, "tank": f"R-{len(rows) + 1:03d}", "feeder": "R480", "quantity": 3, "power_kw": 6, "volts_v": 480, "phases": 1}
        rows.append({**good, **SAFE, **cells, "notes": code})

    r("cell-missing", power_kw=None)
    r("cell-placeholder", power_kw="TBD")
    r("cell-error", volts_v=Formula("=1/0", "#DIV/0!"))
    r("cell-not-calculated", quantity=Formula("=2+1", ""))
    r("cell-not-number", power_kw="plenty")
    r("cell-ambiguous", power_kw="1,250")
    r("cell-negative", power_kw=-6)
    r("cell-zero", quantity=0)
    r("cell-out-of-range", power_kw=5000)
    r("cell-not-whole", quantity=2.5)
    r("cell-not-allowed", phases=2)
    r("cell-taken-as-blank", connection="zigzag")
    r("cell-volts-pair", volts_v="480/277")
    r("cell-contradicts, heading-repeated", power_again=9000)
    r("cell-set-aside", heated_length_mm="rather long")
    r("cell-placeholder-blank", connection="n/a")
    r("tag-is-date", tank=datetime.date(2025, 3, 4))
    r("power-unlikely", power_kw="6 W")
    r("unit-unknown", power_kw="6 ponies")
    r("project-blank", project=None)
    r("project-unknown", project="FX-RAED")
    r("feeder-not-read", feeder="RBAD")
    r("feeder-contradicts", feeder="RTWO")
    r("tank-not-read", tank="R-BADTANK")
    r("tank-repeated", tank="R-TWICE")
    r("name-respelt", tank="r-twice", bank="2")
    r("name-near", tank="R-TW ICE", bank="3")
    r("cell-letter-in-number", power_kw="1O kW")
    rows.append({"tank": "row-note: heaters of the old line follow next week"})
    rows.append({"tank": "Total (row-total)", "quantity": 999})
    rows.append({"remark": "rows-empty"})
    rows.append({"project": "Project", "tank": "Tank", "feeder": "Feeder", "quantity": "Quantity", "power_kw": "Power", "volts_v": "Volts",
                 "phases": "Phases"})
    return rows


def tanks(heaters: list[dict[str, object]]) -> list[dict[str, object]]:
    left_out = {"E-NOWHERE", "R-BADTANK", "r-twice", "R-TWICE", "R-TW ICE"}
    rows: list[dict[str, object]] = []
    seen = set()
    for heater in heaters:
        tag, project = heater.get("tank"), heater.get("project")
        if not isinstance(tag, str) or tag[1:2] != "-" or tag in left_out or tag in seen or project in (None, "FX-RAED"):
            continue
        seen.add(tag)
        cutoff = {"E-NOCUT": "no", "E-CUT?": None}.get(tag, "yes")
        more = CONTROL.get(tag, {}) | LATER.get(tag, {}) | supply_faults.TANKS.get(tag, {})
        rows.append({"project": project, "tank": tag, "duty": "as invented", "level_cutoff": cutoff, **more})
    return [
        *rows,
        {"project": R, "tank": "R-BADTANK", "operating_c": "65 °F", "notes": "tank-not-read, bath-unlikely"},
        {"project": R, "tank": "R-ODD", "level_cutoff": Formula("=1/0", "#DIV/0!"), "notes": "cell-set-aside"},
        {"project": R, "tank": "R-TWICE", "level_cutoff": "yes"},
        {"project": R, "tank": "R-TWICE", "level_cutoff": "yes", "notes": "tank-repeated"},
        {"project": R, "tank": "R-COLD", "level_cutoff": "yes", "notes": "tank-without-heaters"},
    ]


HEADINGS = {"heaters": {"power_again": "Power (W)", "remark": "Remark of the shop", "sheeth": "Sheeth"}}
EXTRAS = (
    Extra("Tank list", [["Tank", "Operating temperature"], ["R-001", 140]]),
    Extra("Old prices", [["nothing", "to", "read"], [1, 2, 3]], hidden=True),
)
