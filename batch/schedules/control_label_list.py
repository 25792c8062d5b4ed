"""Control labels: what the label of each control panel must say. Whoever builds it marks it: what nobody here can know is left open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from batch.control_results import ControlFeed, ControlSupply, TankControl
from batch.results import BankRow, JobResult, ProjectResult
from batch.schedules.designations import PanelMarks, bank_before, marks_of
from batch.schedules.fuse_places import device_ahead_in_full
from batch.schedules.hanging import BoxFeed, banks_of_tanks, control_status, hung_on
from batch.schedules.label_list import ARC_FLASH, COVERED, needed_at_control, unfinished_feeder, ungrounded_words
from batch.schedules.live_sources import LiveSources
from batch.schedules.row_words import residual_words, single_tag
from batch.schedules.schedule import Schedule, its_project, its_status, text

OPEN = "____"


class ControlLabelLine(NamedTuple):
    """What the label of one control panel says. `disconnects`: each with its place, its feeder and the device ahead of it."""

    project: ProjectResult
    control: TankControl
    kind: str
    warning: str
    disconnects: tuple[tuple[str, str], ...]
    directory: str
    replace: str
    control_fuses: str
    sccr: str


def _items(result: JobResult) -> Iterator[ControlLabelLine]:
    for project in result.projects:
        sources, banks = LiveSources(result, project), banks_of_tanks(project)
        for control in project.controls:
            if control.hold is None:
                yield _line(project, control, sources, banks.get(control.tank.casefold(), ()))


def _line(project: ProjectResult, control: TankControl, sources: LiveSources, rows: Sequence[BankRow]) -> ControlLabelLine:
    hung = hung_on(control, rows)
    return ControlLabelLine(
        project, control,
        kind=f"{control.type}, {control.kind}" if control.type else control.kind,
        warning=_warning(control, sources) + "".join(
            dict.fromkeys(ungrounded_words(project, one.system, one.volts_v) for one in control.supplies)
        ),
        disconnects=tuple(
            (one.mark, f"{one.disconnect}; feeder {one.feeder}, device ahead {_ahead(one)}") for one in control.supplies
        ),
        directory="; ".join(_feed(one.feed, one.row, marks_of(project, bank_before(project, one.row))) for one in hung),
        replace="; ".join(_replace(project, f"{control.tank}/{one.feed.tag}", one) for one in hung),
        control_fuses=_control_fuses(control),
        sccr=control_sccr_words(control, rows),
    )  # fmt: skip


def control_label_facts(row: Mapping) -> Iterator[tuple[str, str]]:
    """Captions and words of a label below its warning, from a row of the list."""
    for one in row["disconnects"].split("\n"):
        mark, _, words = one.partition(": ")
        yield mark, words
    yield "Directory", row["directory"]
    yield "Replace OCPDs by", row["replace"]
    yield "Control fuses", row["control_fuses"]
    yield "Short-circuit rating", row["sccr"]
    yield "Arc flash", ARC_FLASH
    yield "Heaters", COVERED


def _warning(control: TankControl, sources: LiveSources) -> str:
    foreign = control.settings.transformer == "others"
    live = [source.words for source in sources.of_tank(control.tank)] if len(control.supplies) > 1 or foreign else []
    if foreign:
        live.append(f"{OPEN} (control power by others)")
    not_sized = sources.not_sized_at(control.tank)
    if not_sized:
        live.append(f"whatever feeds {', '.join(not_sized)}, not sized")
    also = f"Live in this box from {', '.join(live)}. Open and lock each" if live else f"Open and lock {control.supplies[0].mark}"
    return f"Electric shock, burns. {also}; test first. The line side of a disconnect stays live when it is open."


def control_sccr_words(control: TankControl, rows: Sequence[BankRow]) -> str:
    """The rating of a control panel where every part is marked; else room for the builder's, and what is needed where it stands."""
    if control.sccr_marked and control.sccr_ka is not None:
        return f"{control.sccr_ka:g} kA by marked parts; builder marks"
    unfinished = ", ".join(dict.fromkeys(filter(None, map(unfinished_feeder, rows))))
    return f"SCCR {OPEN} kA, builder to mark; {needed_at_control(control, unfinished)}"


def _feed(feed: ControlFeed, row: BankRow, marks: PanelMarks) -> str:
    """ "PCB1, CON1: 1-P1"; of a single-circuit bank "FU1, CON1: T-106/1 single circuit, HTR1 to HTR3"."""
    own = ", ".join(mark for mark in (feed.device, feed.contactor) if mark)
    if not feed.single:
        return f"{own}: {feed.tag}"
    heaters = " to ".join(dict.fromkeys(marks.heater(number) for number in (1, row.bank.quantity)))
    return f"{own}: {single_tag(row)}, {heaters}"


def _replace(project: ProjectResult, tag: str, one: BoxFeed) -> str:
    feed, design = one.feed, one.design
    where = "in the distribution unit" if design.device_at_way else feed.device
    return f"{where} {device_ahead_in_full(project, design.panel_feeder_device, (tag,))}{residual_words(design)}"


def _ahead(supply: ControlSupply) -> str:
    return f"{supply.ahead_a:g} A" if supply.ahead_a is not None else f"{OPEN} A"


def _control_fuses(control: TankControl) -> str:
    return "; ".join(dict.fromkeys(need.words for need in control.parts if need.role == "control fuse"))


CONTROL_LABELS = Schedule(
    "control_labels", "Control labels", "label",
    "The labels of control panels as rows, for a label printer; Panel labels has them laid out.",
    key=("project", "panel"),
    items=_items,
    columns=(
        its_project("project.project.project"),
        text("panel", "Control panel", 19, "control.tag",
             role="result", help="Tag of the control panel: one label each, none on hold."),
        text("type", "Type", 24, "kind",
             role="result", help="What it is built as, and the kind of its control circuit."),
        its_status(lambda at: control_status(at.project, at.control)),
        text("warning", "Warning", 50, "warning",
             role="result", help="With every source that is live in the box."),
        text("disconnects", "Disconnects", 44, lambda at: "\n".join(f"{mark}: {words}" for mark, words in at.disconnects),
             role="result", help="Each with where it stands, its feeder and the device ahead of it: one a line."),
        text("directory", "Directory", 50, "directory",
             role="result", help="Device and contactor of each panel feeder, and what it feeds."),
        text("replace", "Replace OCPDs by", 50, "replace",
             role="result", help="Same type and rating only."),
        text("control_fuses", "Control fuses", 34, "control_fuses",
             help="Of the control circuit."),
        text("sccr", "Short-circuit rating", 34, "sccr",
             role="result", help="Of the panel where all its parts are marked; else for its builder to mark."),
    ),
)
