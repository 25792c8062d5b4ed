"""Rows of Banks, Panels, Panel types, Circuits and Feeders."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from batch.findings import Finding
from batch.results import BankRow, FeederRow, JobResult, PanelDesign, PanelRow, ProjectResult
from batch.schedules.words import Row, basis_words, codes, run_words, size_or_words, split_words, status_of
from batch.sizing.phasors import unbalance_pct
from batch.sizing.placing import groups, lines_of_terminals, panel_starts


def bank_rows(result: JobResult) -> Iterator[Row]:
    for project in result.projects:
        on = {row.feeder.feeder: row.findings for row in project.feeders}
        for row in project.banks:
            yield _bank(project, row, on.get(row.feeder.feeder, ()))


def _bank(project: ProjectResult, row: BankRow, of_feeder: Sequence[Finding]) -> Row:
    bank, design, branch = row.bank, row.design, row.design.branch
    direct = design.single_circuit
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
        "status": status_of(row.findings, of_feeder),
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
        "arrangement": "single circuit" if direct else "panel",
        "panels": len(design.panels),
        "split": split_words(counts),
        "panel_why": design.panel_why,
        "wires_on_terminal": design.wires_on_terminal,
        "bank_device_a": direct.panel_feeder_device.rating_a if direct else None,
        "bank_wire": run_words(direct.panel_feeder_wires) if direct else "",
        "contactor": contactor,
        "wire": run_words(branch.wires),
        "ground": size_or_words(branch.wires.ground),
        "governed_by": branch.wires.governed_by,
        "connected_kw": design.connected_kw,
        "delivered_kw": design.delivered_kw,
        "open_branch_pct": design.open_branch_pct,
        "wire_drop_pct": branch.drop_pct,
        "fixed": _fixed(row),
        "findings": codes(row.findings, of_feeder),
        "basis": basis_words(("Ohm's law, phasor sum of the loads",), design.basis, *(panel.basis for panel in groups(design))),
        "notes": bank.notes,
    }


def _fixed(row: BankRow) -> str:
    """What the estimator fixed of a bank and the sizing used, in words."""
    bank = row.bank
    unused = {finding.code for finding in row.findings}
    words = (
        (bank.fixed_rating_a, "rating {:g} A", ""),
        (bank.connection, "{}", "connection-inside"),
        (bank.phase_pair, "on {}", "phase-pair-ignored"),
        (bank.branches_per_panel, "{} branches a panel", ""),
        (bank.device_kind, "{}", ""),
        (bank.circuits_per_heater, "{} element circuits per heater", "circuits-too-few"),
    )
    return ", ".join(how.format(value) for value, how, ignored in words if value is not None and ignored not in unused)


def _times(panels, words: str) -> int:
    return sum(panel.contactor == words for panel in panels)


def panel_rows(result: JobResult) -> Iterator[Row]:
    for project in result.projects:
        on = {row.feeder.feeder: row.findings for row in project.feeders}
        for row in project.banks:
            for panel in row.panels:
                yield _panel(project, row, panel, on.get(row.feeder.feeder, ()))


def _panel(project: ProjectResult, row: BankRow, panel: PanelRow, of_feeder: Sequence[Finding]) -> Row:
    design, supply = panel.design, row.supply
    feed = design.panel_feeder_wires
    terminals = "-".join(dict.fromkeys(part for leg in design.legs for part in leg.split("-") if part[0] in "LN"))
    terminals = "-".join(sorted(terminals.split("-"), key=("L1", "L2", "L3", "N").index))
    lines = panel.lines
    has_b = supply.system != "1-phase line-to-neutral"
    return {
        "project": project.project.project,
        "panel": panel.tag,
        "tank": row.bank.tank,
        "bank": row.label,
        "feeder": row.feeder.feeder,
        "type": panel.type,
        "status": status_of((*row.findings, *_short(panel, of_feeder)), of_feeder),
        "heaters": design.heaters,
        "branches": design.branches,
        "rating_a": design.branch.device.rating_a,
        "connection": design.connection,
        "panel_feeder_phases": lines_of_terminals(terminals, panel.start, supply),
        "i_a": lines.a,
        "i_b": lines.b if has_b else None,
        "i_c": lines.c if supply.phases == 3 else None,
        "i_n": lines.n if feed.neutral else None,
        "maximum_a": lines.maximum,
        "unbalance_pct": unbalance_pct(lines, supply),
        "margin_pct": row.design.margin_pct,
        "required_a": design.required_a,
        "panel_feeder_device_a": design.panel_feeder_device.rating_a,
        "panel_feeder_device": design.panel_feeder_device.words,
        "panel_feeder_wire": run_words(feed),
        "panel_feeder_neutral": size_or_words(feed.neutral),
        "panel_feeder_ground": size_or_words(feed.ground),
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
        "limit_terminals": design.limit_terminals,
        "connected_kw": design.connected_kw,
        "findings": codes((*row.findings, *_short(panel, of_feeder)), of_feeder),
        "basis": basis_words(
            ("phasor sum of the loads", "215.2, 215.3", "240.6(A)"),
            design.basis,
            design.panel_feeder_device.basis,
            feed.basis,
            (design.torque_words,),
        ),
    }


def _short(panel: PanelRow, of_feeder: Sequence[Finding]) -> tuple[Finding, ...]:
    """The feeder's caution on unmarked parts, where this panel's rating is below its fault current."""
    if panel.fault_ka is None or panel.design.sccr_ka is None or panel.fault_ka <= panel.design.sccr_ka:
        return ()
    return tuple(finding for finding in of_feeder if finding.code == "fault-over-default")


def type_rows(result: JobResult) -> Iterator[Row]:
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
                "maximum_a": panel.lines.maximum,
                "panel_feeder_device_a": panel.panel_feeder_device.rating_a,
                "used_on": ", ".join(kind.tags[:12]) + (f" and {len(kind.tags) - 12} more" if len(kind.tags) > 12 else ""),
            }


def _configuration(panel: PanelDesign) -> str:
    """A panel type in words: supply, branches, panel feeder, and what is built around them."""
    branch, feed, each = panel.branch, panel.panel_feeder_device, panel.branches // panel.heaters
    to_a_heater = f", {each} to a heater" if each > 1 else ""
    return "; ".join(
        (
            f"{panel.volts_v:g} V {panel.system}",
            f"{panel.heaters} {'heater' if panel.heaters == 1 else 'heaters'}, {panel.connection}",
            f"{panel.branches} branches{to_a_heater}, each {branch.device.in_full}",
            f"branch wires {run_words(branch.wires)}, EGC {size_or_words(branch.wires.ground)}",
            f"panel feeder {feed.in_full}, {run_words(panel.panel_feeder_wires)}, EGC {size_or_words(panel.panel_feeder_wires.ground)}",
            f"power distribution block {panel.block}",
            f"contactor {panel.contactor}",
            f"disconnect {panel.disconnect}",
            f"{panel.limit_terminals} limit string terminals",
        )
    )


def circuit_rows(result: JobResult) -> Iterator[Row]:
    for project in result.projects:
        drops = {row.feeder.feeder: row.drop_pct for row in project.feeders}
        for row in project.banks:
            yield from _direct_circuit(project, row, drops) if row.design.single_circuit else _panel_circuits(project, row, drops)


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
    """A single-circuit bank is one circuit."""
    design, direct, supply = row.design, row.design.single_circuit, row.supply
    [start] = panel_starts(design, supply, row.start)
    count = row.bank.quantity
    yield _circuit(project, row, f"{row.bank.tank}/{row.label} single circuit") | {
        "branch": 1,
        "heater": "1" if count == 1 else f"1 to {count}",
        "circuit": 1,
        "terminals": ", ".join(dict.fromkeys(direct.legs)),
        "phases_on": ", ".join(dict.fromkeys(lines_of_terminals(leg, start, supply) for leg in direct.legs)),
        "amps_a": direct.lines.maximum,
        "required_a": direct.required_a,
        "rating_a": direct.panel_feeder_device.rating_a,
        "device": direct.panel_feeder_device.words,
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
        "wire": run_words(branch.wires),
        "ground": size_or_words(branch.wires.ground),
        "raceway": branch.wires.raceway,
        "heater_run_m": row.design.run_m,
        "drop_pct": branch.drop_pct,
        "torque_nm": branch.torque_nm,
        "governed_by": branch.wires.governed_by,
        "basis": basis_words(branch.device.basis, branch.wires.basis, (branch.torque_words,)),
    }


def _sum(*parts: float | None) -> float | None:
    """A total is known only where every part is."""
    return None if any(part is None for part in parts) else sum(parts)


def feeder_rows(result: JobResult) -> Iterator[Row]:
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
        "maximum_a": lines.maximum,
        "unbalance_pct": row.unbalance_pct,
        "unbalance_before_pct": row.unbalance_before_pct,
        "margin_pct": next((bank.design.margin_pct for bank in project.banks), None),
        "required_a": row.required_a,
        "device_a": row.device.rating_a if row.device else None,
        "device": row.device.words if row.device else "",
        "existing_device_a": feeder.existing_device_a,
        "wire": run_words(wires) if wires else "",
        "neutral": size_or_words(wires.neutral) if wires else "",
        "ground": size_or_words(wires.ground) if wires else "",
        "raceway": wires.raceway if wires else "",
        "governed_by": wires.governed_by if wires else "",
        "drop_pct": row.drop_pct,
        "use_kva": row.use_kva,
        "source_kva": feeder.source_kva,
        "next_kva": row.next_kva,
        "fault_ka": row.fault_ka,
        "fault_end_ka": row.fault_end_ka,
        "findings": codes(row.findings),
        "basis": basis_words(row.basis),
    }
