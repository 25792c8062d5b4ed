"""Label list: what the label of each heater panel must say. One label a tag: panels of a type are built alike and stand at other tanks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil
from typing import NamedTuple

from batch.results import BankRow, BranchDesign, JobResult, PanelDesign, PanelRow, ProjectResult
from batch.schedules.designations import marks_of
from batch.schedules.hanging import status_by_tag
from batch.schedules.live_sources import LiveSources, Source
from batch.schedules.row_words import run_words, size_or_words, wire_words
from batch.schedules.schedule import Schedule, its_project, its_status, selected, text


class LabelLine(NamedTuple):
    """A panel; `source` is the disconnect that kills its power, `string` the one that kills the limit string in it (None: from elsewhere, or
    none), `others` the other disconnects of its tank, `foreign` whether control power comes from elsewhere, `not_sized` what else will be
    live there.
    """

    project: ProjectResult
    row: BankRow
    panel: PanelRow
    design: PanelDesign
    branch: BranchDesign
    source: Source
    string: Source | None
    others: Sequence[Source]
    foreign: bool
    not_sized: Sequence[str]
    status: str


def _items(result: JobResult) -> Iterator[LabelLine]:
    for project in result.projects:
        sources = LiveSources(result, project)
        status = status_by_tag(project)
        for row in project.banks:
            for panel in row.panels:
                if row.hold is None:
                    yield LabelLine(
                        project, row, panel, panel.design, panel.design.branch, sources.of(row), sources.string_of(row), sources.others(row),
                        sources.foreign(row), sources.not_sized(row), status[panel.tag],
                    )  # fmt: skip


def warning_words(at: LabelLine) -> str:
    """The warning: every other source of the tank by tag and place, left out where there is none; and that a fuse holder is no load switch."""
    inside = [source for source in at.others if source is at.string]
    live = [f"in this box (limit string) and at this tank from {source.words}" for source in inside]
    if at.foreign:
        live.append("in this box, the control circuit, from ____ (control power by others)")
    beside = [source.words for source in at.others if source not in inside]
    if at.not_sized:
        beside.append(f"whatever feeds {', '.join(at.not_sized)}, not sized")
    if beside:
        live.append(f"at this tank from {', '.join(beside)}")
    also = f"Also live {'; '.join(live)}. Open and lock {at.source.tag} and each" if live else f"Open and lock {at.source.tag}"
    holders = " Fuse holders are no load switches: open the disconnect first." if at.branch.device.kind == "fuse" else ""
    return f"Electric shock, burns. {also}; test first.{holders}"


def directory_words(at: LabelLine) -> str:
    """Which device feeds which heater of the bank: "FU1 HTR9, FU2 HTR10"; with several element circuits "FU1 HTR9 circuit 1"."""
    each, kind, marks = at.row.design.circuits_per_heater, at.branch.device.kind, marks_of(at.project)
    words = []
    for number in range(at.design.branches):
        circuit = f" circuit {number % each + 1}" if each > 1 else ""
        words.append(f"{marks.device(kind, number + 1)} {marks.heater(at.panel.first_heater + number // each)}{circuit}")
    return ", ".join(words)


def supply_words(at: LabelLine) -> str:
    """ "480 V, 3 lines, corner-grounded delta; L2 is grounded: no fuse in it"."""
    grounded = f"; {at.design.grounded} is grounded: no fuse in it" if at.design.grounded else ""
    return f"{at.design.volts_v:g} V, {at.design.panel_feeder_wires.lines} lines, {at.design.system}{grounded}"


def sccr_words(panel: PanelDesign, fault_ka: float | None, unfinished: str = "") -> str:
    """Its short-circuit rating where every part is marked; else room for the builder's, and what is needed where the panel stands.
    `unfinished`: its feeder, where that is without some of its banks: with them it is larger, and so is the fault current.
    """
    if panel.sccr_marked and panel.sccr_ka is not None:
        return f"{panel.sccr_ka:g} kA by marked parts; builder marks"
    return f"SCCR ____ kA, builder to mark; {needed_words(fault_ka, unfinished)}"


def needed_words(fault_ka: float | None, unfinished: str = "") -> str:
    """The rating that a box needs where it stands, rounded up."""
    if fault_ka is None:
        return "fault current not given"
    more = f", perhaps more once feeder {unfinished} has all its banks" if unfinished else ""
    return f"at least {ceil(round(10 * fault_ka, 6)) / 10:.1f} kA needed{more}"


def unfinished_feeder(row: BankRow) -> str:
    """The feeder of a bank where others of its banks are not sized; "" where it has them all."""
    return row.feeder.feeder if any(one.kind.holds_itself and not one.tank for one in row.around) else ""


PANEL_LABELS = Schedule(
    "panel_labels", "Label list", "label",
    "The labels of Panel labels as rows, for a label printer; not printed here.",
    key=("project", "panel"),
    items=_items,
    columns=(
        its_project("project.project.project"),
        text("panel", "Panel", 19, "panel.tag",
             role="result", help="Tag of the panel: one label each, none for a panel on hold."),
        text("type", "Type", 10, "panel.type",
             role="result", help="Panel type."),
        its_status("status"),
        text("volts", "Supply", 30, supply_words,
             role="result", help="Volts, phases and system."),
        text("disconnect", "Disconnect", 22, "source.tag",
             role="result", help="In the control panel: it kills the power of this panel."),
        text("feeder", "Feeder", 10, "source.feeder",
             help="Feeder that supplies it."),
        text("warning", "Warning", 50, warning_words,
             role="result", help="With each other disconnect of the tank and its place; left out where there is none."),
        text("others", "Other disconnects at the tank", 30, lambda at: ", ".join(source.tag for source in at.others),
             also=("Panels with other sources at the same tank",), help="What stays live at the tank, or in this box, when this panel's disconnect is open."),
        text("directory", "Directory", 50, directory_words,
             role="result", help="Branch device and the heater that it feeds, numbered through the bank."),
        text("branches", "Branches", 30, lambda at: f"{at.design.branches} x {at.branch.device.rating_a:g} A, {at.design.connection}",
             role="result", help="How many, the rating of each, and how the heaters are connected."),
        text("replace", "Replace branch OCPDs by", 40, lambda at: f"{at.branch.device.in_full}: same type and rating only",
             role="result", also=("Replace branch devices by",), help="Same type and rating only."),
        text("feed", "Panel feeder", 40, lambda at: f"{at.design.panel_feeder_device.in_full}{' in the distribution unit' if at.design.device_at_way else ''}; {run_words(at.design.panel_feeder_wires)}, "
             f"{marks_of(at.project).ground} {size_or_words(at.design.panel_feeder_wires.ground)}",
             role="result", also=("Feed",), help="Panel feeder OCPD and wires."),
        text("branch_wire", "Branch wires", 24, lambda at: f"{wire_words(at.branch.wires)}, {marks_of(at.project).ground} {size_or_words(at.branch.wires.ground)}",
             role="result", help="Size, material and insulation."),
        selected("torque_nm", "Branch torque", "N·m", "torque", "branch.torque_nm",
                 us_unit="lbf·in", help="Branch terminals, as the stock part is marked; blank: as marked on the part."),
        selected("panel_feeder_torque_nm", "Panel feeder torque", "N·m", "torque", "design.torque_nm",
                 us_unit="lbf·in", also=("Feed torque",), help="Terminals of the block, as the stock part is marked; blank: as marked on the part."),
        text("sccr", "Short-circuit rating", 34, lambda at: sccr_words(at.design, at.panel.fault_ka, unfinished_feeder(at.row)),
             role="result", help="Of the panel where all its power parts are marked; else for its builder to mark."),
    ),
)
