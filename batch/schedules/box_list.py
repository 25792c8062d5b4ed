"""Boxes: the control panel of each tank and its heater panels, one a row, with what a nameplate and whoever buys the box ask for."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from math import ceil
from typing import NamedTuple

from batch.box_results import Enclosure
from batch.control_results import ControlSupply, TankControl
from batch.counted_words import plural
from batch.findings import Finding
from batch.material_lines import METRES
from batch.results import BankRow, JobResult, Needed, PanelDesign, PanelRow, ProjectResult
from batch.rules import load
from batch.schedules.designations import PanelMarks, marks_of
from batch.schedules.hanging import banks_of_tanks, short_of_fault
from batch.schedules.label_list import needed_at_control, needed_words, unfinished_feeder
from batch.schedules.row_words import band_words, basis_words, kinds_said, listed, status_of
from batch.schedules.schedule import (
    Schedule,
    calculated,
    grouped,
    its_basis,
    its_findings,
    its_project,
    its_status,
    its_tank,
    ordinal,
    text,
)
from batch.schedules.worked_once import once
from batch.sizing.labels import natural

CLOSE = 1e-9


class FedBy(NamedTuple):
    """A supply of a box: what opens it, what it comes from, volts as the system, phases, frequency, and its design current."""

    opened_by: str
    source: str
    volts: str
    phases: int
    frequency_hz: int
    line_a: float


class BoxLine(NamedTuple):
    """A box. `alike`: what it is built as; `banks`: those whose heaters it feeds; `own`: its supplies, in order."""

    project: ProjectResult
    control: TankControl
    tag: str
    kind: str
    alike: str
    banks: tuple[BankRow, ...]
    own: tuple[FedBy, ...]
    enclosure: Enclosure | None
    parts: tuple[Needed, ...]
    kw: float
    fault_ka: float | None
    sccr_ka: float | None
    marked: bool
    hold: Finding | None
    findings: tuple[Finding, ...]


def _items(result: JobResult) -> Iterator[BoxLine]:
    for project in result.projects:
        of_tank = banks_of_tanks(project)
        on = {row.feeder.feeder: row.findings for row in project.feeders}
        for control in project.controls:
            banks = sorted(of_tank.get(control.tank.casefold(), ()), key=lambda row: natural(row.label))
            yield _control_panel(project, control, tuple(banks))
            if control.settings.boxes == "one":
                continue
            for row in banks:
                of_feeder = on.get(row.feeder.feeder, ())
                for panel in row.panels:
                    yield _heater_panel(project, control, row, panel, (*row.findings, *short_of_fault(panel, of_feeder)))


def _control_panel(project: ProjectResult, control: TankControl, banks: tuple[BankRow, ...]) -> BoxLine:
    kind = "control and heater panel" if control.settings.boxes == "one" else "control panel"
    own = tuple(_of_supply(control, supply, marks_of(project)) for supply in control.supplies)
    kw = sum(row.design.connected_kw for row in banks)
    return BoxLine(
        project, control, control.tag, kind, control.type, banks, own, control.enclosure, (*control.parts, *control.feed_parts), kw,
        control.fault_ka, control.sccr_ka, control.sccr_marked, control.hold, control.findings,
    )  # fmt: skip


def _heater_panel(project: ProjectResult, control: TankControl, row: BankRow, panel: PanelRow, said: tuple[Finding, ...]) -> BoxLine:
    design = panel.design
    supply = next(one for one in control.supplies if one.feeder == row.feeder.feeder)
    volts, phases = _system(supply.volts_v, design, row)
    opened_by = marks_of(project).disconnect(control.tank, supply.number)
    fed = FedBy(opened_by, control.tag, volts, phases, supply.frequency_hz, panel.lines.maximum)
    return BoxLine(
        project, control, panel.tag, "heater panel", panel.type, (row,), (fed,), design.enclosure, design.parts, design.connected_kw,
        panel.fault_ka, design.sccr_ka, design.sccr_marked, row.hold, said,
    )  # fmt: skip


def _of_supply(control: TankControl, one: ControlSupply, marks: PanelMarks) -> FedBy:
    phases = 3 if one.lines == 3 else 1
    volts = f"{one.volts_v:g} V, {one.system.words}{', with neutral' if one.neutral else ''}"
    return FedBy(marks.disconnect(control.tank, one.number), f"feeder {one.feeder}", volts, phases, one.frequency_hz, one.line_a)


def _system(volts_v: float, design: PanelDesign, row: BankRow) -> tuple[str, int]:
    neutral = ", with neutral" if design.panel_feeder_wires.neutral else ""
    return f"{volts_v:g} V, {row.supply.system.words}{neutral}", 3 if design.panel_feeder_wires.lines == 3 else 1


def _amps(at: BoxLine) -> str:
    """ "DISC1 43.3 A; DISC2 20.8 A": full-load amps of each supply."""
    return "; ".join(f"{one.opened_by} {one.line_a:.1f} A" for one in at.own)


def _ratings(at: BoxLine) -> str:
    """Of a control panel: "DISC1 60 A, 3-pole, lockable open"; a heater panel has none of its own."""
    if at.kind == "heater panel":
        return ""
    return "; ".join(f"{one.mark} {one.disconnect}" for one in at.control.supplies)


def _largest_w(at: BoxLine) -> float | None:
    return max((1000.0 * row.bank.power_kw for row in at.banks), default=None)


def _metals(at: BoxLine) -> str:
    return ", ".join(sorted({row.design.branch.wires.material for row in at.banks}))


def _bill(at: BoxLine) -> str:
    return _counted(at.parts, _length_of(at))


_length_of = once(lambda at: at.project.rule_set, lambda name: load(name).marking.length)  # boxes come project by project


@lru_cache(maxsize=512)
def _counted(parts: tuple[Needed, ...], length: str) -> str:
    """ "1 disconnect, 3 panel feeder fuses, 132 ft control wire ...": by what the parts do, wire in the unit `length` that it is bought by."""
    count: dict[tuple[str, str], float] = {}
    for need in parts:
        count[need.role, need.unit] = count.get((need.role, need.unit), 0) + need.quantity
    return ", ".join(_so_many(quantity, *what, length) for what, quantity in count.items())


def _so_many(quantity: float, role: str, unit: str, length: str) -> str:
    if unit in METRES:
        return f"{ceil(quantity * METRES[unit] / METRES[length] - CLOSE):,} {length} {role}"
    return f"{quantity:g} {role if quantity <= 1 or role.endswith('s') else plural(role)}"


def _sccr(at: BoxLine) -> str:
    """Its rating where every part is marked; else room for the builder's, and what is needed where the box stands."""
    if at.marked and at.sccr_ka is not None:
        return f"{at.sccr_ka:g} kA by marked parts; builder marks"
    unfinished = next((name for row in at.banks if (name := unfinished_feeder(row))), "")
    own = at.tag == at.control.tag
    return f"SCCR ____ kA, builder to mark; {needed_at_control(at.control, unfinished) if own else needed_words(at.fault_ka, unfinished)}"


BOXES = Schedule(
    "boxes", "Boxes", "box",
    "Each control panel and heater panel as a box: what its nameplate must say, its enclosure by a budget estimate of space and heat, its parts.",
    key=("project", "box"), items=_items,
    columns=(
        its_project("project.project.project"),
        text("box", "Box", 16, "tag", role="result", help="Tag of the box: one nameplate each."),
        its_tank("control.tank"),
        text("kind", "Kind", 14, "kind", role="result", help="Control panel, heater panel, or both in one."),
        its_status(lambda at: status_of(at.findings, () if at.hold is None else (at.hold,), at.project.said_once)),
        text("type", "Built as", 17, "alike", role="result", help="Boxes built alike."),
        text("location", "Location", 11, "control.settings.location", role="input", help="What it must stand: dry, wet, corrosive, outdoor."),
        text("enclosure", "Enclosure", 24, lambda at: at.enclosure.type if at.enclosure is not None else "", role="result",
             help="Type (IEC: IP) by the location, and the material of its walls."),
        text("size", "Size, estimated", 20, lambda at: (at.enclosure.size or "none of the list serves") if at.enclosure is not None else "",
             role="result", help="Height x width x depth of the smallest box of the list on whose plate its parts stand in rows: a budget estimate, for a shop to check."),
        calculated("loss_w", "Heat", "W", "count", "enclosure.loss_w", help="Of all its parts and wires at design current: a budget estimate."),
        calculated("rise_k", "Rise", "K", "percent", "enclosure.rise_k", help="Air in it over the hall, by its walls alone; where no box serves, of the largest."),
        calculated("air_c", "Air inside", "°C", "temperature", "enclosure.air_c", us_unit="°F", help="At the ambient of the project."),
        text("supplies", "Supply", 30, lambda at: "; ".join(dict.fromkeys(one.volts for one in at.own)), role="result",
             help="Volts and system of each supply."),
        text("frequency", "Phases and frequency", 15, lambda at: "; ".join(dict.fromkeys(f"{one.phases}-phase, {one.frequency_hz} Hz" for one in at.own)),
             role="result", help="Of each supply."),
        text("amps", "Full-load amps", 26, _amps, role="result", help="Design current of the fullest line, by phasors, of each supply, named by its disconnect."),
        ordinal("disconnects", "Disconnects", "ea", lambda at: len(at.own), role="result", help="That must be open before nothing of its power is live; control power by others is not among them."),
        text("ratings", "Disconnect ratings", 36, _ratings, role="result", help="Of a control panel: at least 1 + margin times its line current and, without fuses of its own, the OCPD ahead, lockable, opening all ungrounded lines. A heater panel is opened by the disconnect beside its amps."),
        text("fed_from", "Fed from", 22, lambda at: "; ".join(dict.fromkeys(one.source for one in at.own)), role="result", help="Feeders, or the control panel."),
        calculated("connected_kw", "Connected", "kW", "kw", "kw", help="Of its heaters, at their rating."),
        calculated("largest_w", "Largest heater", "W", "count", _largest_w, help="Rated watts of the largest heater that it feeds."),
        calculated("fault_ka", "Fault current", "kA", "kiloamps", "fault_ka", help="Available at the box; blank where a source is not known."),
        text("sccr", "Short-circuit rating", 40, _sccr, role="result",
             help="From its power parts alone, where every one is a marked stock part; else for its builder to mark. A default is no rating and stays in the basis."),
        text("conductors", "Field conductors", 12, _metals, role="result", help="Metal of the branch conductors; the terminals' temperature is as marked on them."),
        *grouped("Parts",
            ordinal("rows", "Rows on the plate", "ea", lambda at: at.enclosure.rows if at.enclosure is not None else None, role="calculation", help="Of the estimate."),
            text("plate", "On the plate", 60, lambda at: "; ".join(f"{part.number} x {part.what}" for part in at.enclosure.parts) if at.enclosure is not None else "",
                 help="What space and heat are counted of, in order."),
            text("parts", "Parts", 80, _bill, role="result", help="What stands in the box, by what it does; each line is on Materials."),
        ),
        text("why", "Why none serves", 34, lambda at: at.enclosure.why if at.enclosure is not None else "", role="result",
             help="Why no box of the list takes it; blank: one does."),
        text("banks", "Banks", 10, lambda at: listed([row.label for row in at.banks]), help="Whose heaters it feeds."),
        its_findings(lambda at: kinds_said(at.findings, (), at.project.said_once)),
        text("hold", "On hold", 30, lambda at: band_words(at.hold.message if at.hold is not None else ""), role="result",
             help="Not released for fabrication, and why: no nameplate is made."),
        its_basis(lambda at: basis_words(at.enclosure.basis if at.enclosure is not None else (), at.control.basis)),
    ),
)  # fmt: skip
