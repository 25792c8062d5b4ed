"""An invented, sized job to write: hand-built records, so that the writer is tested apart from the sizing core."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from batch.findings import Effect, Finding, Kind, Severity
from batch.records import Bank, Feeder, Job, Project, ReceivedRow, ReceivedTable, Tank
from batch.results import (
    BankDesign,
    BankRow,
    BranchDesign,
    Check,
    CodeValue,
    Device,
    FeederRow,
    JobResult,
    Lines,
    PanelDesign,
    PanelRow,
    ProjectResult,
    Setting,
    TypeRow,
    Wires,
)
from batch.sheets import RESULTS

NASTY = (
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    "http://example.invalid/x",
    "mailto:someone@example.invalid",
    "internal:Banks!A1",
    "{=1+1}",
    "'quoted",
    '<b>&"</b>',
    "line\nbreak",
    "tab\tstop",
    "_x0041_",
    "  spaces  ",
    "ünïcode ✓ 漢字 😀",
    "1,250",
    "",
)

CAUTION = Kind("demo-caution", Severity.CAUTION, "A caution of the demonstration", "{what}", "common practice, no source", "Look at it.")
NOTE = Kind(
    "demo-note", Severity.NOTE, "A note of the demonstration", "{what}", "common practice, no source", "Nothing, unless it is wrong."
)
BLOCKER = Kind(
    "demo-blocker",
    Severity.BLOCKER,
    "A blocker of the demonstration",
    "{what}",
    "common practice, no source",
    "Put it right.",
    Effect.DO_NOT_BUILD,
)

FUSE = Device(20.0, "fuse", "class CC fuse, 2-pole, 600 V, 200 kA", 2, 200.0)
BIG = Device(80.0, "fuse", "class J fuse, 3-pole, 600 V, 200 kA", 3, 200.0)
WIRE = Wires("12", 1, 2, "", "12", "copper", "THWN-2", "smallest conductor", "14", "1/2 PVC-80", 12.5)
FEED = Wires("4", 1, 3, "", "8", "copper", "THWN-2", "terminals at 60 °C", "4", "1 1/4 PVC-80", 20.0)
BRANCH = BranchDesign(12.5, 12.5, 15.625, FUSE, WIRE, 2.3, "default", 0.51)
PANEL = PanelDesign(
    heaters=6,
    branches=6,
    legs=("L1-L2", "L2-L3", "L3-L1") * 2,
    lines=Lines(43.30127018922193, 43.30127018922193, 43.30127018922193),
    loads=(25.0, 25.0, 25.0, 0.0, 0.0, 0.0),
    running=(25.0, 25.0, 25.0, 0.0, 0.0, 0.0),
    connected_kw=36.0,
    required_a=54.12658773652741,
    feed_device=BIG,
    feed_wires=FEED,
    block_a=80.0,
    contactor="size 3",
    contactor_a=90.0,
    disconnect_a=60.0,
    protector_terminals=14,
    drop_pct=0.4,
    sccr_ka=10.0,
    sccr_part="distribution block, default",
    branch=BRANCH,
    connection="delta",
    volts_v=480.0,
    system="delta",
)


def design(quantity: int) -> BankDesign:
    return BankDesign(
        480.0,
        12.5,
        12.5,
        12.5,
        25.0,
        1,
        "delta",
        "line",
        True,
        "1-phase heaters at line-to-line volts, 3 or more",
        BRANCH,
        43.30127018922193,
        quantity,
        2,
        "panel: 4 wires would meet on a contactor terminal, 2 are allowed",
        (PANEL,),
        None,
        6.0 * quantity,
        6.0 * quantity,
        None,
        (),
        ("425.4(B)", "240.6(A)"),
    )


def job_result(banks: int = 12, feeders: int = 3, nasty: bool = True) -> JobResult:
    """`banks` equal banks of six 6 kW heaters in an invented plant, some with findings."""
    project = Project("P-1", "Invented plating line, for demonstration", "Fictitious Works", "Nowhere", "B", "A. Estimator", "2024-05-06")
    feeds = [Feeder("P-1", f"F-{at + 1}", 480.0, 3, 3) for at in range(feeders)]
    rows, findings = [], []
    for at in range(banks):
        bank = Bank(
            "P-1", f"T-{at + 101}", "1", feeds[at % feeders].feeder, 6, 6.0, 480.0, 1, notes=NASTY[at % len(NASTY)] if nasty else None
        )
        said = ()
        if at % 5 == 4:
            said = (
                Finding(
                    CAUTION,
                    f"Bank on tank {bank.tank} has no over-temperature protector.",
                    "P-1",
                    bank.tank,
                    "1",
                    bank.feeder,
                    "Heaters",
                    f"O{at + 2}",
                    "no",
                ),
            )
        findings += [*said, Finding(NOTE, "Connection left blank: delta was chosen.", "P-1", bank.tank, "1", "", "Heaters", f"I{at + 2}")]
        panel = PanelRow(f"{bank.tank}-1-1", "A1", PANEL, at % 3, 1, PANEL.lines)
        rows.append(BankRow(bank, Tank("P-1", bank.tank), feeds[at % feeders], "1", design(6), at % 3, (panel,), said))
    findings.append(Finding(BLOCKER, "A heater of tank T-103 would see 550 V.", "P-1", "T-103", "1", "F-3", "Heaters", "G4", "415"))
    totals = [_feeder(feed, sum(1 for row in rows if row.feeder is feed)) for feed in feeds]
    headings = ("Tank", "Qty", "kW", "=Remark", "tank", "", "Fate")
    received = ReceivedTable(
        "Heaters",
        "heaters",
        1,
        headings,
        ("tank", "quantity", "power_kw", "", "", "", ""),
        (
            *(
                ReceivedRow("Heaters", at + 2, (row.bank.tank, 6, 6.0, NASTY[at % len(NASTY)] if nasty else "ok", True, None, "x"))
                for at, row in enumerate(rows)
            ),
            ReceivedRow("Heaters", banks + 2, ("Total", banks * 6), "total row"),
        ),
    )
    fates = {("Heaters", at + 2): "sized, look" if row.findings else "sized" for at, row in enumerate(rows)}
    return JobResult(
        Job("invented plant.xlsx", "0" * 64, (project,), tuple(feeds), (), tuple(row.bank for row in rows), (), (received,)),
        (
            ProjectResult(
                project,
                "NEC 2023",
                SETTINGS,
                tuple(totals),
                tuple(rows),
                (TypeRow("A1", PANEL, tuple(p.tag for row in rows for p in row.panels)),),
            ),
        ),
        tuple(findings),
        fates,
        (
            Check("P-1", "rows in = rows out + rows refused", banks + 1.0, banks + 1.0, 0.0),
            Check("P-1", "kW of banks = kW of feeders", 36.0 * banks, 36.0 * banks, 1e-6),
        ),
        CODE,
        {"NEC 2023": "NFPA 70, National Electrical Code, 2023 edition"},
    )


SETTINGS = (Setting("current margin", "25 %", False, "425.4(B): continuous load"), Setting("ambient", "40 °C", True, "given"))
CODE = (
    CodeValue("NEC 2023", "continuous", "continuous load", 1.25, "", "NFPA 70-2023, 425.4(B)", "READ"),
    CodeValue("NEC 2023", "same_volts_band", "volts taken as equal", 0.02, "", "common practice, no source", "READ"),
    CodeValue("NEC 2023", "parallel_from", "smallest size in parallel", "1/0", "AWG", "NFPA 70-2023, 310.10(G)", "FROM MEMORY"),
)


def _feeder(feed: Feeder, banks: int) -> FeederRow:
    amps = 43.30127018922193 * banks
    return FeederRow(
        feed,
        "delta",
        banks,
        6 * banks,
        banks,
        36.0 * banks,
        1.0,
        36.0 * banks,
        Lines(amps, amps, amps),
        0.0,
        4.2,
        amps * 1.25,
        BIG,
        FEED,
        1.1,
        36.0 * banks,
        150.0,
        22.0,
        18.5,
        ("215.2",),
    )


def schedule_rows(result: JobResult, id: str) -> Sequence[Mapping]:
    """Rows of a result sheet from the hand-built records, only as far as the writer's tests need them."""
    sheet = next(sheet for sheet in RESULTS if sheet.id == id)
    made = {
        "banks": _banks,
        "panels": _panels,
        "panel_types": _types,
        "circuits": _circuits,
        "feeder_totals": _feeders,
        "code_basis": _code,
        "checks": _checks,
    }[id]
    return [dict.fromkeys(sheet.by_key) | row for row in made(result)]


def _banks(result):
    for project in result.projects:
        for row in project.banks:
            bank, sized = row.bank, row.design
            yield {
                "project": bank.project,
                "tank": bank.tank,
                "bank": row.label,
                "feeder": bank.feeder,
                "status": "sized, look" if row.findings else "sized",
                "quantity": bank.quantity,
                "power_kw": bank.power_kw,
                "volts_v": bank.volts_v,
                "phases": bank.phases,
                "supply_v": 480.0,
                "margin_pct": 25.0,
                "applied_v": 480.0,
                "volts_off_pct": 0.0,
                "heater_a": 12.5,
                "design_a": 12.5,
                "running_a": 12.5,
                "circuits_per_heater": 1,
                "required_a": 15.625,
                "rating_a": 20.0,
                "branches": bank.quantity,
                "device": FUSE.words,
                "connection": "delta",
                "connection_why": sized.connection_why,
                "phases_on": "from A-B",
                "line_a": sized.line_a,
                "arrangement": "panel",
                "panels": 1,
                "split": "6",
                "panel_why": sized.panel_why,
                "wires_on_terminal": 4,
                "contactor": "1 x size 3, 90 A",
                "wire": "2 x 12 AWG copper",
                "ground": "12 AWG",
                "governed_by": WIRE.governed_by,
                "connected_kw": sized.connected_kw,
                "delivered_kw": sized.delivered_kw,
                "wire_drop_pct": 0.51,
                "findings": "; ".join(said.code for said in row.findings) or None,
                "basis": "; ".join(sized.basis),
                "notes": bank.notes,
            }


def _panels(result):
    for project in result.projects:
        for row in project.banks:
            for panel in row.panels:
                sized = panel.design
                yield {
                    "project": row.bank.project,
                    "panel": panel.tag,
                    "tank": row.bank.tank,
                    "bank": row.label,
                    "feeder": row.bank.feeder,
                    "type": panel.type,
                    "status": "sized",
                    "heaters": 6,
                    "branches": 6,
                    "rating_a": 20.0,
                    "connection": "delta",
                    "feed_phases": "A-B-C",
                    "i_a": panel.lines.a,
                    "i_b": panel.lines.b,
                    "i_c": panel.lines.c,
                    "i_n": 0.0,
                    "greatest_a": panel.lines.greatest,
                    "unbalance_pct": 0.0,
                    "required_a": sized.required_a,
                    "feed_device_a": 80.0,
                    "feed_device": BIG.words,
                    "feed_wire": "3 x 4 AWG copper",
                    "feed_ground": "8 AWG",
                    "governed_by": FEED.governed_by,
                    "raceway": FEED.raceway,
                    "block_a": 80.0,
                    "contactor": "size 3, 90 A",
                    "disconnect_a": 60.0,
                    "drop_pct": 0.4,
                    "sccr_ka": 10.0,
                    "sccr_part": sized.sccr_part,
                    "protector_terminals": 14,
                    "connected_kw": 36.0,
                    "basis": "430.1",
                }


def _types(result):
    for project in result.projects:
        for kind in project.types:
            yield {
                "project": project.project.project,
                "type": kind.type,
                "quantity": len(kind.tags),
                "configuration": "6 one-phase 6 kW heaters, 480 V, in delta, 20 A fuses",
                "heaters": 6,
                "branches": 6,
                "greatest_a": 43.30127018922193,
                "feed_device_a": 80.0,
                "used_on": ", ".join(kind.tags),
            }


def _circuits(result):
    for project in result.projects:
        for row in project.banks:
            for panel in row.panels:
                for at, legs in enumerate(panel.design.legs):
                    yield {
                        "project": row.bank.project,
                        "panel": panel.tag,
                        "tank": row.bank.tank,
                        "bank": row.label,
                        "branch": at + 1,
                        "heater": str(at + 1),
                        "circuit": 1,
                        "terminals": legs,
                        "phases_on": "A-B",
                        "amps_a": 12.5,
                        "required_a": 15.625,
                        "rating_a": 20.0,
                        "device": FUSE.words,
                        "wire": "2 x 12 AWG copper",
                        "ground": "12 AWG",
                        "raceway": WIRE.raceway,
                        "heater_run_m": 7.62,
                        "drop_pct": 0.51,
                        "total_drop_pct": 1.2,
                        "torque_nm": 2.26,
                        "governed_by": WIRE.governed_by,
                        "basis": "310.16",
                    }


def _feeders(result):
    for project in result.projects:
        for row in project.feeders:
            yield {
                "project": row.feeder.project,
                "feeder": row.feeder.feeder,
                "status": "sized",
                "system": row.system,
                "volts_v": 480.0,
                "phases": 3,
                "wires": 3,
                "banks": row.banks,
                "heaters": row.heaters,
                "panels": row.panels,
                "connected_kw": row.connected_kw,
                "demand_factor": 1.0,
                "demand_kw": row.demand_kw,
                "i_a": row.lines.a,
                "i_b": row.lines.b,
                "i_c": row.lines.c,
                "i_n": 0.0,
                "greatest_a": row.lines.greatest,
                "unbalance_pct": 0.0,
                "unbalance_before_pct": 4.2,
                "required_a": row.required_a,
                "device_a": 80.0,
                "device": BIG.words,
                "wire": "3 x 4 AWG copper",
                "ground": "8 AWG",
                "raceway": FEED.raceway,
                "governed_by": FEED.governed_by,
                "drop_pct": 1.1,
                "use_kva": row.use_kva,
                "next_kva": 150.0,
                "fault_ka": 22.0,
                "fault_end_ka": 18.5,
                "basis": "215.2",
            }


def _code(result):
    return [
        {"rule_set": v.rule_set, "name": v.name, "what": v.what, "value": v.value, "unit": v.unit, "source": v.source, "status": v.status}
        for v in result.code_values
    ]


def _checks(result):
    return [
        {
            "project": c.project,
            "check": c.what,
            "left": c.left,
            "right": c.right,
            "difference": c.left - c.right,
            "tolerance": c.tolerance,
            "verdict": "PASS" if c.passes else "FAIL",
        }
        for c in result.checks
    ]
