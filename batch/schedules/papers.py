"""Rows of Findings, Materials, Panel labels, Wiring, Code basis and Checks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from batch.findings import Finding, Severity
from batch.results import BankRow, JobResult, PanelDesign, ProjectResult
from batch.schedules.wiring_list import Join, direct_wiring, panel_wiring
from batch.schedules.words import Row, run_words, size_or_words, wire_words
from batch.sheets import INPUTS


def finding_rows(result: JobResult) -> Iterator[Row]:
    """Worst first, then in reading order. Notes of a project that read alike are one row with a count."""
    lines: dict[tuple, list[Finding]] = {}
    for number, finding in enumerate(result.findings):
        alike = (finding.project, finding.code, finding.message) if finding.severity is Severity.NOTE else (number,)
        lines.setdefault(alike, []).append(finding)
    for number, alike in enumerate(sorted(lines.values(), key=lambda group: group[0].severity), start=1):
        first, kind = alike[0], alike[0].kind
        one = len(alike) == 1
        yield {
            "no": number,
            "severity": kind.severity.word,
            "effect": kind.effect.word,
            "code": kind.code,
            "message": first.message,
            "advice": kind.advice,
            "project": first.project,
            "tank": first.tank if one else "",
            "bank": first.bank if one else "",
            "feeder": first.feeder if one or len({finding.feeder for finding in alike}) == 1 else "",
            "count": len(alike),
            "where": first.address if one else f"{first.address} … ({len(alike)} rows)",
            "seen": first.seen if one else "",
            "basis": kind.basis,
        }


def material_rows(result: JobResult) -> Iterator[Row]:
    for project in result.projects:
        for line in project.materials:
            yield {
                "project": project.project.project,
                **line._asdict(),
                "quantity": None if line.unit == "m" else line.quantity,
                "unit": "" if line.unit == "m" else line.unit,
                "length_m": line.quantity if line.unit == "m" else None,
                "price": None if line.unit_price is None else line.quantity * line.unit_price,
                "hours": None if line.hours_each is None else line.quantity * line.hours_each,
                "priced": "no price" if line.unit_price is None else "priced",
            }


def panel_label_rows(result: JobResult) -> Iterator[Row]:
    for project in result.projects:
        neighbours = _panels_of_tanks(project)
        for kind in project.types:
            panel, branch = kind.design, kind.design.branch
            others = dict.fromkeys(tag for mine in kind.tags for tag in neighbours[mine] if tag != mine)
            yield {
                "project": project.project.project,
                "type": kind.type,
                "volts": f"{panel.volts_v:g} V, {panel.panel_feeder_wires.lines} lines, {panel.system}",
                "branches": f"{panel.branches} x {branch.device.rating_a:g} A",
                "replace": f"{branch.device.in_full}: same type and rating only",
                "feed": f"{panel.panel_feeder_device.in_full}; {run_words(panel.panel_feeder_wires)}",
                "branch_wire": wire_words(branch.wires),
                "torque_nm": branch.torque_nm,
                "panel_feeder_torque_nm": panel.torque_nm,
                "torque_from": branch.torque_words,
                "sccr": _sccr_words(panel),
                "panels": ", ".join(list(others)[:12]) + (f" and {len(others) - 12} more" if len(others) > 12 else ""),
            }


def _sccr_words(panel: PanelDesign) -> str:
    return "not known" if panel.sccr_ka is None else f"{panel.sccr_ka:g} kA at {panel.volts_v:g} V; lowest-rated part: {panel.sccr_part}"


def _panels_of_tanks(project: ProjectResult) -> dict[str, list[str]]:
    """Tags of all panels and single-circuit banks of the tank that a panel serves: one tank, several live sources."""
    by_tank: dict[str, list[str]] = {}
    for row in project.banks:
        by_tank.setdefault(row.bank.tank.casefold(), []).extend(_sources(row))
    return {panel.tag: by_tank[row.bank.tank.casefold()] for row in project.banks for panel in row.panels}


def _sources(row: BankRow) -> list[str]:
    return [panel.tag for panel in row.panels] or [f"{row.bank.tank}/{row.label} single circuit"]


def wiring_rows(result: JobResult) -> Iterator[Row]:
    for project in result.projects:
        loops: Counter[str] = Counter()
        for row in project.banks:
            cutoff = ""
            if row.tank is not None and row.tank.level_cutoff == "yes":
                loops[row.bank.tank.casefold()] += 1
                cutoff = f"level cutoff contact {loops[row.bank.tank.casefold()]}"
            for tag, kind, joins in _wired(row, cutoff):
                for number, join in enumerate(joins, start=1):
                    yield {"project": project.project.project, "panel": tag, "type": kind, "no": number, **join._asdict()}


def _wired(row: BankRow, cutoff: str) -> Iterator[tuple[str, str, Iterator[Join]]]:
    """Tag, type and conductors of each panel of a bank, or of the bank where it is a single circuit; the cutoff is in its first string."""
    branch = row.design.branch.wires
    if row.design.single_circuit is not None:
        yield _sources(row)[0], "", direct_wiring(row.design.single_circuit, cutoff, wire_words(branch))
    green = f"{size_or_words(branch.ground)} {branch.material}, green"
    for panel in row.panels:
        fitted = cutoff if panel is row.panels[0] else ""
        feed = wire_words(panel.design.panel_feeder_wires)
        yield panel.tag, panel.type, panel_wiring(panel, row.design.circuits_per_heater, fitted, wire_words(branch), feed, green)


def carried_forward_rows(result: JobResult) -> Iterator[Row]:
    sheets = {sheet.id: sheet for sheet in INPUTS}
    for one in result.job.carried_forward:
        column = sheets[one.table][one.key]
        yield {
            "sheet": sheets[one.table].name,
            "project": one.project,
            "tank": one.tank,
            "bank": one.bank,
            "feeder": one.feeder,
            "part": one.part,
            "column": column.heading,
            "value": one.value,
            "instead_of": one.instead_of,
            "unit": column.unit,
            "source": one.source,
        }


def code_basis_rows(result: JobResult) -> Iterator[Row]:
    for value in result.code_values:
        yield value._asdict()


def check_rows(result: JobResult) -> Iterator[Row]:
    for check in result.checks:
        yield {
            "project": check.project,
            "check": check.what,
            "left": check.left,
            "right": check.right,
            "difference": check.left - check.right,
            "tolerance": check.tolerance,
            "verdict": "PASS" if check.passes else "FAIL",
        }
