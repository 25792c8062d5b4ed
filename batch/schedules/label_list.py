"""Label list: what the label of each heater panel, and of each distribution unit of ours, must say. One label a tag: panels of a type are
built alike and stand at other tanks."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import NamedTuple

from batch.control_results import TankControl
from batch.counted_words import counted
from batch.material_lines import FEEDER, Owner
from batch.results import BankRow, BranchDesign, Device, FeederEnd, FeederRow, JobResult, PanelDesign, PanelRow, ProjectResult, Way
from batch.schedules.designations import US_SYMBOLS, bank_before, marks_in_box, marks_of
from batch.schedules.fuse_places import device_ahead_in_full
from batch.schedules.hanging import held_owner, status_by_tag
from batch.schedules.live_sources import LiveSources, Source
from batch.schedules.row_words import AS_MARKED, earthed, ground_size, residual_words, run_words, status_of, wire_words
from batch.schedules.schedule import Schedule, its_project, its_status, selected, text
from batch.sizing.words import fault_current
from batch.systems import System

ARC_FLASH = "____ ____ ____ place kept for what the study of others gives"
COVERED = "Never energize one out of the liquid. Reset a limit only once its cause is put right."


class LabelLine(NamedTuple):
    """What one label says; torques None: as marked on the part."""

    project: ProjectResult
    tag: str
    type: str
    status: str
    volts: str
    disconnect: str
    feeder: str
    warning: str
    others: str
    directory: str
    branches: str
    replace: str
    feed: str
    branch_wire: str
    torque_nm: float | None
    panel_feeder_torque_nm: float | None
    sccr: str


class LabelledPanel(NamedTuple):
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
                    yield _of_panel(
                        LabelledPanel(
                            project, row, panel, panel.design, panel.design.branch, sources.of(row), sources.string_of(row),
                            sources.others(row), sources.foreign(row), sources.not_sized(row), status[panel.tag],
                        )
                    )  # fmt: skip
        for unit, end in units_to_build(project):
            yield _of_unit(project, unit, end, sources, status_of(unit.findings, (), project.said_once))


def _of_panel(at: LabelledPanel) -> LabelLine:
    design, branch, ground = at.design, at.branch, marks_of(at.project).ground
    way = " in the distribution unit" if design.device_at_way else ""
    device = device_ahead_in_full(at.project, design.panel_feeder_device, (at.panel.tag,))
    feed = f"{device}{way}{residual_words(design)}; {run_words(design.panel_feeder_wires)}"
    return LabelLine(
        project=at.project,
        tag=at.panel.tag,
        type=at.panel.type,
        status=at.status,
        volts=supply_words(at),
        disconnect=at.source.tag,
        feeder=at.source.feeder,
        warning=warning_words(at),
        others=", ".join(source.tag for source in at.others),
        directory=directory_words(at),
        branches=f"{design.branches} x {branch.device.rating_a:g} A, {design.connection}",
        replace=_alike(branch.device),
        feed=f"{feed}, {ground} {ground_size(design.panel_feeder_wires)}",
        branch_wire=f"{wire_words(branch.wires)}, {ground} {ground_size(branch.wires)}",
        torque_nm=branch.torque_nm,
        panel_feeder_torque_nm=design.torque_nm,
        sccr=sccr_words(design, at.panel.fault_ka, unfinished_feeder(at.row)),
    )


def label_facts(row: Mapping, torques: Callable[[Mapping, str], str]) -> Iterator[tuple[str, str]]:
    """Captions and words of a label below its warning, from a row of the list; `torques`: the words of a torque, by its column."""
    unit = not row["branch_wire"]  # a distribution unit has ways, and no heaters of its own
    yield "Disconnect", f"{row['disconnect']}, feeder {row['feeder']}"
    yield "Directory", row["directory"]
    yield "Replace OCPDs by", row["replace"]
    yield "Feeder" if unit else "Panel feeder", row["feed"]
    if not unit:
        yield "Branch wires", row["branch_wire"]
        branch, feed = (torques(row, key) for key in ("torque_nm", "panel_feeder_torque_nm"))
        yield "Torque", f"branch terminals {branch}, panel feeder terminals {feed}"
    else:
        yield "Torque", f"every terminal {AS_MARKED}"
    yield "Short-circuit rating", row["sccr"]
    yield "Arc flash", ARC_FLASH
    if not unit:
        yield "Heaters", COVERED


def unit_tag(row: FeederRow) -> str:
    """Tag of the distribution unit of a feeder."""
    return f"{row.feeder.feeder}/DIST"


def units_to_build(project: ProjectResult) -> Iterator[tuple[FeederRow, FeederEnd]]:
    """Feeders whose distribution unit is ours and may be built: none by others, none that is there already, and none whose feeder is on
    hold, by itself or by one of its banks."""
    held = held_owner(project)
    for row in project.feeders:
        end, name = row.end, row.feeder.feeder
        if end is None or not end.ours or end.unit in ("", "taps") or row.feeder.bus_a is not None or held(Owner(FEEDER, "", name)):
            continue
        yield row, end


def _of_unit(project: ProjectResult, row: FeederRow, end: FeederEnd, sources: LiveSources, status: str) -> LabelLine:
    """A distribution unit: its feeder's OCPD kills its bus; what comes to the control panels behind it from elsewhere does not reach it."""
    supply, device, tag = row.supply, row.device, unit_tag(row)
    feeder, own = row.feeder.feeder, "its main OCPD" if row.feeder.device_at_end else "the OCPD at its source"
    grounded = f"; {supply.grounded} is grounded: no fuse in it" if supply.grounded else ""
    others = [source for way in end.ways for source in sources.of_tank(way.tank) if source.feeder != feeder]
    live = " The line side of the main stays live: open and lock what feeds it." if end.main_a is not None else ""
    if others:
        live += f" Control panels behind it are also live from {', '.join(source.words for source in others)}: open and lock each to work there."
    holders = " Fuse holders are no load switches." if device is not None and device.kind == "fuse" else ""
    ungrounded = ungrounded_words(project, supply.system, supply.volts_v)
    devices = dict.fromkeys(_alike(way.device) for way in end.ways if way.device is not None)
    brought = _conductors(supply.system.lines, row.wires.neutral if row.wires is not None else "")
    feed = "" if row.wires is None else f"; {run_words(row.wires)}, {marks_of(project).ground} {ground_size(row.wires)}"
    return LabelLine(
        project=project,
        tag=tag,
        type=end.unit,
        status=status,
        volts=f"{supply.volts_v:g} V, {brought}, {supply.system.words}{earthed(project, feeder)}{grounded}",
        disconnect=own,
        feeder=feeder,
        warning=f"Electric shock, arc flash, burns. Open and lock {own} (feeder {feeder}); test first.{live}{holders}{ungrounded}",
        others=", ".join(source.tag for source in others),
        directory="; ".join(_way_words(way) for way in end.ways),
        branches=f"{counted(len(end.ways), 'way')}, " + ("bus to be chosen" if end.bus_a is None else f"bus {end.bus_a:g} A")
        + (", main lugs" if end.main_a is None else f", main {end.main_a:g} A"),
        replace="; ".join(devices),
        feed=f"{device.in_full if device is not None else ''}{feed}",
        branch_wire="",
        torque_nm=None,
        panel_feeder_torque_nm=None,
        sccr=f"SCCR ____ kA, builder to mark; {needed_words(end.fault_ka)}",
    )


def _way_words(way: Way) -> str:
    rating = f"{way.device.rating_a:g} A" if way.device is not None else "____"
    return f"{way.tag} {rating}: control panel of {way.tank}"


def _alike(device: Device) -> str:
    return f"{device.in_full}: same type and rating only"


def warning_words(at: LabelledPanel) -> str:
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
    ungrounded = ungrounded_words(at.project, at.design.system, at.design.volts_v)
    return f"Electric shock, burns. {also}; test first.{holders}{ungrounded}"


def ungrounded_words(project: ProjectResult, system: System, volts_v: float) -> str:
    """The marking of an ungrounded system, for the end of a warning; "" where it is grounded, or nobody says how it is, which is asked.
    NEC 250.21(C), 408.3(F)(2): both from memory, the words too. Of an IT system the supply's own words tell.
    """
    if system is not System.DELTA or project.symbols != US_SYMBOLS:
        return ""
    return f" Caution: ungrounded system operating, {volts_v:g} volts between conductors."


def directory_words(at: LabelledPanel) -> str:
    """Which device feeds which heater of the bank: "FU1 HTR9, FU2 HTR10"; with several element circuits "FU1 HTR9 circuit 1"."""
    each, kind, marks = at.row.design.circuits_per_heater, at.branch.device.kind, marks_in_box(
        at.project, at.panel.tag, bank_before(at.project, at.row)
    )
    words = []
    for number in range(at.design.branches):
        circuit = f" circuit {number % each + 1}" if each > 1 else ""
        words.append(f"{marks.device(kind, number + 1)} {marks.heater(at.panel.first_heater + number // each)}{circuit}")
    return ", ".join(words)


def supply_words(at: LabelledPanel) -> str:
    """ "480 V, 3 lines and neutral, wye grounded", "480 V, 3 lines, corner-grounded delta; L2 is grounded: no fuse in it"."""
    grounded = f"; {at.design.grounded} is grounded: no fuse in it" if at.design.grounded else ""
    earthing = earthed(at.project, at.row.feeder.feeder)
    wires = at.design.panel_feeder_wires
    return f"{at.design.volts_v:g} V, {_conductors(wires.lines, wires.neutral)}, {at.design.system.words}{earthing}{grounded}"


def _conductors(lines: int, neutral: str) -> str:
    return counted(lines, "line") + (" and neutral" if neutral else "")


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
    return f"at least {fault_current(fault_ka)} needed{more}"


def needed_at_control(control: TankControl, unfinished: str = "") -> str:
    """The rating that a control panel needs; where one of its supplies is not known, what the others ask for, and which is open."""
    known = [supply.fault_ka for supply in control.supplies if supply.fault_ka is not None]
    if control.fault_ka is not None or not known:
        return needed_words(control.fault_ka, unfinished)
    unknown = ", ".join(dict.fromkeys(supply.feeder for supply in control.supplies if supply.fault_ka is None))
    return f"{needed_words(max(known), unfinished)}; fault current of feeder {unknown} not given"


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
        text("panel", "Panel", 19, "tag",
             role="result", help="Tag of the panel, or of a distribution unit of ours: one label each, none on hold."),
        text("type", "Type", 10, "type",
             role="result", help="Panel type."),
        its_status("status"),
        text("volts", "Supply", 30, "volts",
             role="result", help="Volts, phases and system."),
        text("disconnect", "Disconnect", 22, "disconnect",
             role="result", help="In the control panel: it kills the power of this panel."),
        text("feeder", "Feeder", 10, "feeder",
             help="Feeder that supplies it."),
        text("warning", "Warning", 50, "warning",
             role="result", help="With each other disconnect of the tank and its place; left out where there is none."),
        text("others", "Other disconnects at the tank", 30, "others",
             also=("Panels with other sources at the same tank",), help="What stays live at the tank, or in this box, when this panel's disconnect is open."),
        text("directory", "Directory", 50, "directory",
             role="result", help="Branch device and the heater that it feeds, numbered through the bank; of a distribution unit its ways."),
        text("branches", "Branches", 30, "branches",
             role="result", help="How many, the rating of each, and how the heaters are connected."),
        text("replace", "Replace branch OCPDs by", 40, "replace",
             role="result", also=("Replace branch devices by",), help="Same type and rating only."),
        text("feed", "Panel feeder", 40, "feed",
             role="result", also=("Feed",), help="Panel feeder OCPD and wires; of a distribution unit its feeder's."),
        text("branch_wire", "Branch wires", 24, "branch_wire",
             role="result", help="Size, material and insulation."),
        selected("torque_nm", "Branch torque", "N·m", "torque", "torque_nm",
                 us_unit="lbf·in", help="Branch terminals, as the stock part is marked; blank: as marked on the part."),
        selected("panel_feeder_torque_nm", "Panel feeder torque", "N·m", "torque", "panel_feeder_torque_nm",
                 us_unit="lbf·in", also=("Feed torque",), help="Terminals of the block, as the stock part is marked; blank: as marked on the part."),
        text("sccr", "Short-circuit rating", 34, "sccr",
             role="result", help="Of the panel where all its power parts are marked; else for its builder to mark."),
    ),
)
