"""Circuits: the electrician's schedule, one row for each branch circuit."""

from __future__ import annotations

from collections.abc import Iterator
from operator import attrgetter
from typing import NamedTuple

from batch.results import BankRow, BranchDesign, Device, JobResult, PanelDesign, PanelRow, ProjectResult
from batch.schedules.fuse_places import device_ahead
from batch.schedules.row_words import basis_words, ground_size, laid_in, run_words, single_tag, status_of, total
from batch.schedules.schedule import (
    Schedule,
    calculated,
    given,
    grouped,
    its_bank,
    its_basis,
    its_project,
    its_status,
    its_tank,
    selected,
    text,
)
from batch.schedules.ways import found, owner_number, owner_of, way
from batch.schedules.worked_once import once
from batch.sizing.grounded_line import branch_device
from batch.sizing.placing import groups, lines_of_terminals

BRANCH = attrgetter("branch")


class CircuitLine(NamedTuple):
    """A branch circuit of a panel, by its `number` from 0; or the one circuit of a single-circuit bank, which has no panel."""

    project: ProjectResult
    row: BankRow
    branch: BranchDesign
    device: Device
    panel: PanelRow | None
    single: PanelDesign | None
    number: int
    feeder_drop_pct: float | None
    way_drop_pct: float | None
    owner: int | None
    laid: bool  # runs of its bank stand on Runs


def _items(result: JobResult) -> Iterator[CircuitLine]:
    for project in result.projects:
        drops = {row.feeder.feeder: row.drop_pct for row in project.feeders}
        ends = [(row.feeder.feeder, way) for row in project.feeders if row.end for way in row.end.ways]
        ways = {(feeder, way.tank): way.drop_pct if way.wires else 0.0 for feeder, way in ends}
        for row in project.banks:
            branch, single, feeder = row.design.branch, row.design.single_circuit, row.feeder.feeder
            owner = owner_of(result, project, row)
            laid = owner is not None and result.money.atoms[owner - 1].laid
            ahead = drops.get(feeder), ways.get((feeder, row.bank.tank), 0.0), owner, laid
            if single is not None:
                yield CircuitLine(project, row, branch, single.panel_feeder_device, None, single, 0, *ahead)
            for panel in row.panels:
                for number in range(panel.design.branches):
                    device = branch_device(panel.design, panel.design.legs[number])
                    yield CircuitLine(project, row, branch, device, panel, None, number, *ahead)


def _heaters(at: CircuitLine) -> str:
    """ "3", of a single-circuit bank "1 to 4"."""
    if at.panel is not None:
        return str(at.panel.first_heater + at.number // at.row.design.circuits_per_heater)
    return "1" if at.row.bank.quantity == 1 else f"1 to {at.row.bank.quantity}"


def _phases(at: CircuitLine) -> str:
    """Supply lines: "A-B", of a single-circuit bank each pair or leg once."""
    supply = at.row.supply
    if at.panel is not None:
        return lines_of_terminals(at.panel.design.legs[at.number], at.panel.start, supply)
    [single], [start] = groups(at.row.design), at.row.starts
    return ", ".join(dict.fromkeys(lines_of_terminals(leg, start, supply) for leg in single.legs))


CIRCUITS = Schedule(
    "circuits", "Circuits", "branch circuit", "The electrician's schedule: one row for each branch circuit.", key=("project", "panel", "branch"),
    items=_items,
    columns=(
        its_project("project.project.project"),
        text("panel", "Panel", 19, lambda at: at.panel.tag if at.panel else single_tag(at.row),
             role="result", help="Panel tag, or the tank and bank of a single-circuit bank."),
        selected("branch", "Branch", "no.", "count", lambda at: at.number + 1,
                 width=8, help="Number of the branch in its panel."),
        *grouped("Place",
            its_tank("row.bank.tank"),
            its_bank("row.label"),
        ),
        its_status(lambda at: status_of(at.row.findings, at.row.around, at.project.said_once)),
        text("heater", "Heater", 9, _heaters,
             role="result", help="Number of the heater in its bank; 1 to n on a single-circuit bank."),
        selected("circuit", "Element circuit", "no.", "count", lambda at: at.number % at.row.design.circuits_per_heater + 1,
                 width=9, help="Which circuit of that heater."),
        text("terminals", "Panel terminals", 12, lambda at: at.panel.design.legs[at.number] if at.panel else ", ".join(dict.fromkeys(at.single.legs)),
             role="result", help="Terminals of the panel: L1, L2, L3, N."),
        text("phases_on", "Phases", 14, _phases,
             role="result", help="Supply lines of the branch."),
        calculated("amps_a", "Design current", "A", "amps", lambda at: at.branch.design_a if at.panel else at.single.lines.maximum,
                   help="Current of this branch."),
        calculated("required_a", "Minimum OCPD and circuit ampacity", "A", "amps", lambda at: at.branch.required_a if at.panel else at.single.required_a,
                   also=("With margin",), help="Design current times 1 + margin."),
        selected("rating_a", "Branch OCPD", "A", "rating", "device.rating_a",
                 also=("Device",), help="Rating of its overcurrent device."),
        text("device", "OCPD type", 54, lambda at: at.device.words if at.panel else device_ahead(at.project, at.device, (f"{at.row.bank.tank}/{at.row.label}",)),
             role="result", also=("Device kind",), help="Class or type, poles, volts and interrupting rating."),
        calculated("connected_kw", "Connected", "kW", "kw", lambda at: at.row.bank.power_kw / at.row.design.circuits_per_heater if at.panel else at.single.connected_kw,
                   total="sum", help="Rated power on this branch."),
        text("wire", "Wire", 18, once(BRANCH, lambda branch: run_words(branch.wires)),
             role="result", help="Conductors and size."),
        text("ground", "EGC", 12, once(BRANCH, lambda branch: ground_size(branch.wires)),
             role="result", also=("Ground",), help="Equipment grounding conductor."),
        text("raceway", "Raceway", 16, once(BRANCH, lambda branch: laid_in(branch.wires)),
             role="result", help="Trade size and kind."),
        given("heater_run_m", "Length", "m", "length", "row.design.run_m",
              us_unit="ft", help="One way from the panel, or from the contactor where the bank is a single circuit; blank where not given."),
        calculated("drop_pct", "Branch drop", "%", "percent_2", "branch.drop_pct",
                   help="Voltage drop of this branch."),
        calculated("total_drop_pct", "Total drop", "%", "percent_2", lambda at: total(at.feeder_drop_pct, at.way_drop_pct, at.panel.design.drop_pct if at.panel else 0.0, at.branch.drop_pct),
                   help="Feeder, way, panel feeder and branch together; blank where the length of one is not given."),
        selected("torque_nm", "Torque", "N·m", "torque", "branch.torque_nm",
                 us_unit="lbf·in", help="Of the branch terminals, as the stock part is marked; blank: as marked on the part."),
        text("governed_by", "Sizing basis", 28, "branch.wires.governed_by",
             also=("Wire governed by",), help="Which test set the wire."),
        owner_number("owner"),
        way("to_runs", "Its runs", "the first run of its bank on Runs", found("runs.owner_no", "owner_no"), there=lambda at: at.laid),
        its_basis(once(BRANCH, lambda branch: basis_words(branch.device.basis, branch.wires.basis, (branch.torque_words,)))),
    ),
)
