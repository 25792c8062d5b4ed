"""Results as rows of the result sheets: dictionaries keyed by the column specification, values in canonical units or None."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from batch.findings import Finding, Severity
from batch.results import BankRow, FeederRow, JobResult, PanelDesign, PanelRow, ProjectResult, Wires
from batch.sizing.phasors import unbalance_pct
from batch.sizing.placing import groups, lines_of_terminals, panel_starts
from batch.sizing.words import size_words

Row = dict[str, object]


def rows(result: JobResult, sheet_id: str) -> list[Row]:
    """The rows of one result sheet; KeyError for a sheet that is not one of `batch.sheets.RESULTS`."""
    return list(BUILDERS[sheet_id](result))


def status_of(findings: Iterable[Finding]) -> str:
    """A row's status in words, from the worst that was said of it."""
    worst = min((finding.severity for finding in findings), default=Severity.NOTE)
    return {Severity.BLOCKER: "do not build", Severity.CAUTION: "sized, look"}.get(worst, "sized")


def _codes(findings: Iterable[Finding]) -> str:
    return ", ".join(dict.fromkeys(finding.code for finding in findings if finding.severity is not Severity.NOTE))


def _wires_words(wires: Wires) -> str:
    """ "2 x 12 AWG", with its neutral "2 x 12 AWG + N", parallel sets "2 sets of 3 x 500 kcmil"."""
    if not wires.required_size:
        return wires.size
    words = f"{wires.lines} x {size_words(wires.size)}" + (" + N" if wires.neutral else "")
    return words if wires.sets == 1 else f"{wires.sets} sets of {words}"


def _size(size: str) -> str:
    return size_words(size) if size and size[0].isdigit() else size


def _basis(*groups_of_words: Iterable[str]) -> str:
    return "; ".join(dict.fromkeys(words for group in groups_of_words for words in group if words))


def _split_words(counts: list[int]) -> str:
    """ "8 + 8 + 5"; a long row of equal panels "12 x 8 + 7"."""
    if len(counts) < 5:
        return " + ".join(map(str, counts))
    return " + ".join(f"{counts.count(count)} x {count}" for count in dict.fromkeys(counts))


def _banks(result: JobResult) -> Iterator[Row]:
    for project in result.projects:
        for row in project.banks:
            yield _bank(project, row)


def _bank(project: ProjectResult, row: BankRow) -> Row:
    bank, design, branch = row.bank, row.design, row.design.branch
    direct = design.direct
    supply = row.supply
    first = groups(design)[0]
    counts = [panel.branches for panel in design.panels]
    contactor = first.contactor if len(design.panels) < 2 else f"{len(design.panels)} x {first.contactor}"
    if len({panel.contactor for panel in design.panels}) > 1:
        contactor = "; ".join(f"{_times(design.panels, words)} x {words}" for words in dict.fromkeys(p.contactor for p in design.panels))
    return {
        "project": project.project.project,
        "tank": bank.tank,
        "bank": row.label,
        "feeder": row.feeder.feeder,
        "status": status_of(row.findings),
        "quantity": bank.quantity,
        "power_kw": bank.power_kw,
        "volts_v": bank.volts_v,
        "phases": bank.phases,
        "supply_v": row.feeder.volts_v,
        "margin_pct": design.margin_pct,
        "applied_v": design.applied_v,
        "volts_off_pct": 100.0 * (design.applied_v / bank.volts_v - 1.0),
        "heater_a": design.heater_a,
        "design_a": design.design_a,
        "running_a": design.running_a,
        "circuits_per_heater": design.circuits_per_heater,
        "required_a": branch.required_a,
        "rating_a": branch.device.rating_a,
        "branches": bank.quantity * design.circuits_per_heater,
        "device": branch.device.words,
        "connection": design.connection,
        "connection_why": design.connection_why,
        "phases_on": lines_of_terminals(first.legs[0], row.start, supply),
        "line_a": design.line_a,
        "arrangement": "direct" if direct else "panel",
        "panels": len(design.panels),
        "split": _split_words(counts),
        "panel_why": design.panel_why,
        "wires_on_terminal": design.wires_on_terminal,
        "bank_device_a": direct.feed_device.rating_a if direct else None,
        "contactor": contactor,
        "wire": _wires_words(branch.wires),
        "ground": _size(branch.wires.ground),
        "governed_by": branch.wires.governed_by,
        "connected_kw": design.connected_kw,
        "delivered_kw": design.delivered_kw,
        "open_branch_pct": design.open_branch_pct,
        "wire_drop_pct": branch.drop_pct,
        "findings": _codes(row.findings),
        "basis": _basis(design.basis),
        "notes": bank.notes,
    }


def _times(panels, words: str) -> int:
    return sum(panel.contactor == words for panel in panels)


def _panels(result: JobResult) -> Iterator[Row]:
    for project in result.projects:
        for row in project.banks:
            for panel in row.panels:
                yield _panel(project, row, panel)


def _panel(project: ProjectResult, row: BankRow, panel: PanelRow) -> Row:
    design, supply = panel.design, row.supply
    feed = design.feed_wires
    terminals = "-".join(dict.fromkeys(part for leg in design.legs for part in leg.split("-") if part[0] in "LN"))
    terminals = "-".join(sorted(terminals.split("-"), key=("L1", "L2", "L3", "N").index))
    lines = panel.lines
    return {
        "project": project.project.project,
        "panel": panel.tag,
        "tank": row.bank.tank,
        "bank": row.label,
        "feeder": row.feeder.feeder,
        "type": panel.type,
        "status": status_of(row.findings),
        "heaters": design.heaters,
        "branches": design.branches,
        "rating_a": design.branch.device.rating_a,
        "connection": design.connection,
        "feed_phases": lines_of_terminals(terminals, panel.start, supply),
        "i_a": lines.a,
        "i_b": lines.b,
        "i_c": lines.c if supply.phases == 3 else None,
        "i_n": lines.n if feed.neutral else None,
        "greatest_a": lines.greatest,
        "unbalance_pct": unbalance_pct(lines, supply),
        "required_a": design.required_a,
        "feed_device_a": design.feed_device.rating_a,
        "feed_device": design.feed_device.words,
        "feed_wire": _wires_words(feed),
        "feed_neutral": _size(feed.neutral),
        "feed_ground": _size(feed.ground),
        "governed_by": feed.governed_by,
        "raceway": feed.raceway,
        "block_a": design.block_a,
        "block": design.block,
        "contactor": design.contactor,
        "disconnect_a": design.disconnect_a,
        "disconnect": design.disconnect,
        "torque_nm": design.torque_nm,
        "drop_pct": design.drop_pct,
        "fault_ka": panel.fault_ka,
        "sccr_ka": design.sccr_ka,
        "sccr_part": design.sccr_part,
        "protector_terminals": design.protector_terminals,
        "connected_kw": design.connected_kw,
        "findings": _codes(row.findings),
        "basis": _basis(("215.2, 215.3", "240.6(A)"), design.basis, design.feed_device.basis, feed.basis, (design.torque_words,)),
    }


def _types(result: JobResult) -> Iterator[Row]:
    for project in result.projects:
        for kind in project.types:
            panel = kind.design
            yield {
                "project": project.project.project,
                "type": kind.type,
                "quantity": len(kind.tags),
                "configuration": _configuration(panel),
                "heaters": panel.heaters,
                "branches": panel.branches,
                "greatest_a": panel.lines.greatest,
                "feed_device_a": panel.feed_device.rating_a,
                "used_on": ", ".join(kind.tags[:12]) + (f" and {len(kind.tags) - 12} more" if len(kind.tags) > 12 else ""),
            }


def _configuration(panel: PanelDesign) -> str:
    """A panel type in words: supply, branches, feed, and what is built around them."""
    branch, feed, each = panel.branch, panel.feed_device, panel.branches // panel.heaters
    to_a_heater = f", {each} to a heater" if each > 1 else ""
    return "; ".join(
        (
            f"{panel.volts_v:g} V {panel.system}",
            f"{panel.heaters} {'heater' if panel.heaters == 1 else 'heaters'}, {panel.connection}",
            f"{panel.branches} branches of {branch.device.rating_a:g} A{to_a_heater} ({branch.device.words})",
            f"branch wires {_wires_words(branch.wires)}, ground {_size(branch.wires.ground)}",
            f"feed {feed.rating_a:g} A ({feed.words}), {_wires_words(panel.feed_wires)}, ground {_size(panel.feed_wires.ground)}",
            f"block {panel.block}",
            f"contactor {panel.contactor}",
            f"disconnect {panel.disconnect}",
            f"{panel.protector_terminals} protector terminals",
        )
    )


def _circuits(result: JobResult) -> Iterator[Row]:
    for project in result.projects:
        drops = {row.feeder.feeder: row.drop_pct for row in project.feeders}
        for row in project.banks:
            yield from _direct_circuit(project, row, drops) if row.design.direct else _panel_circuits(project, row, drops)


def _panel_circuits(project: ProjectResult, row: BankRow, drops: dict[str, float | None]) -> Iterator[Row]:
    design, supply = row.design, row.supply
    for panel in row.panels:
        common = _circuit(project, row, panel.tag)
        common["total_drop_pct"] = _sum(drops.get(row.feeder.feeder), panel.design.drop_pct, design.branch.drop_pct)
        each = design.circuits_per_heater
        for number, legs in enumerate(panel.design.legs):
            yield common | {
                "branch": number + 1,
                "heater": str(panel.first_heater + number // each),
                "circuit": number % each + 1,
                "terminals": legs,
                "phases_on": lines_of_terminals(legs, panel.start, supply),
                "amps_a": design.branch.design_a,
                "required_a": design.branch.required_a,
                "rating_a": design.branch.device.rating_a,
                "device": design.branch.device.words,
                "connected_kw": row.bank.power_kw / each,
            }


def _direct_circuit(project: ProjectResult, row: BankRow, drops: dict[str, float | None]) -> Iterator[Row]:
    """A direct bank is one circuit."""
    design, direct, supply = row.design, row.design.direct, row.supply
    [start] = panel_starts(design, supply, row.start)
    count = row.bank.quantity
    yield _circuit(project, row, f"{row.bank.tank}/{row.label} direct") | {
        "branch": 1,
        "heater": "1" if count == 1 else f"1 to {count}",
        "circuit": 1,
        "terminals": ", ".join(dict.fromkeys(direct.legs)),
        "phases_on": ", ".join(dict.fromkeys(lines_of_terminals(leg, start, supply) for leg in direct.legs)),
        "amps_a": direct.lines.greatest,
        "required_a": direct.required_a,
        "rating_a": direct.feed_device.rating_a,
        "device": direct.feed_device.words,
        "connected_kw": direct.connected_kw,
        "total_drop_pct": _sum(drops.get(row.feeder.feeder), 0.0, design.branch.drop_pct),
    }


def _circuit(project: ProjectResult, row: BankRow, panel: str) -> Row:
    branch = row.design.branch
    return {
        "project": project.project.project,
        "panel": panel,
        "tank": row.bank.tank,
        "bank": row.label,
        "wire": _wires_words(branch.wires),
        "ground": _size(branch.wires.ground),
        "raceway": branch.wires.raceway,
        "heater_run_m": row.bank.heater_run_m,
        "drop_pct": branch.drop_pct,
        "torque_nm": branch.torque_nm,
        "governed_by": branch.wires.governed_by,
        "basis": _basis(branch.device.basis, branch.wires.basis, (branch.torque_words,)),
    }


def _sum(*parts: float | None) -> float | None:
    """A total is known only where every part is."""
    return None if any(part is None for part in parts) else sum(parts)


def _feeders(result: JobResult) -> Iterator[Row]:
    for project in result.projects:
        for row in project.feeders:
            yield _feeder(project, row)


def _feeder(project: ProjectResult, row: FeederRow) -> Row:
    feeder, lines, wires = row.feeder, row.lines, row.wires
    supply = row.supply
    has_b = supply.system != "1-phase line-to-neutral"
    return {
        "project": project.project.project,
        "feeder": feeder.feeder,
        "status": status_of(row.findings),
        "system": row.supply.system,
        "volts_v": feeder.volts_v,
        "phases": feeder.phases,
        "wires": supply.wires,
        "banks": row.banks,
        "heaters": row.heaters,
        "panels": row.panels,
        "connected_kw": row.connected_kw,
        "demand_factor": row.demand_factor,
        "demand_kw": row.demand_kw,
        "other_load_a": feeder.other_load_a,
        "i_a": lines.a,
        "i_b": lines.b if has_b else None,
        "i_c": lines.c if supply.phases == 3 else None,
        "i_n": lines.n if supply.has_neutral else None,
        "greatest_a": lines.greatest,
        "unbalance_pct": row.unbalance_pct,
        "unbalance_before_pct": row.unbalance_before_pct,
        "required_a": row.required_a,
        "device_a": row.device.rating_a if row.device else None,
        "device": row.device.words if row.device else "",
        "existing_device_a": feeder.existing_device_a,
        "wire": _wires_words(wires) if wires else "",
        "neutral": _size(wires.neutral) if wires else "",
        "ground": _size(wires.ground) if wires else "",
        "raceway": wires.raceway if wires else "",
        "governed_by": wires.governed_by if wires else "",
        "drop_pct": row.drop_pct,
        "use_kva": row.use_kva,
        "source_kva": feeder.source_kva,
        "next_kva": row.next_kva,
        "fault_ka": row.fault_ka,
        "fault_end_ka": row.fault_end_ka,
        "findings": _codes(row.findings),
        "basis": _basis(row.basis),
    }


def _findings(result: JobResult) -> Iterator[Row]:
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


def _materials(result: JobResult) -> Iterator[Row]:
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


def _code_basis(result: JobResult) -> Iterator[Row]:
    for value in result.code_values:
        yield value._asdict()


def _checks(result: JobResult) -> Iterator[Row]:
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


BUILDERS: dict[str, Callable[[JobResult], Iterator[Row]]] = {
    "banks": _banks,
    "panels": _panels,
    "panel_types": _types,
    "circuits": _circuits,
    "feeder_totals": _feeders,
    "materials": _materials,
    "findings": _findings,
    "code_basis": _code_basis,
    "checks": _checks,
}
