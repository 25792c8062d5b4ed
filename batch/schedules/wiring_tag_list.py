"""Which panels, and which single-circuit banks, are wired as which type, and what differs: numbers of heaters, number of the panel feeder,
and where the limit string comes from and goes to.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from batch.control_results import ControlFeed, ControlSupply, TankControl
from batch.results import BankRow, JobResult, PanelDesign, ProjectResult
from batch.schedules.designations import PanelMarks, bank_before, marks_of
from batch.schedules.hanging import status_by_tag
from batch.schedules.row_words import band_words, single_tag
from batch.schedules.schedule import Schedule, its_project, its_status, ordinal, text
from batch.sizing.labels import natural
from batch.sizing.power_circuit import LINES, neutral_bar_of, phase_colour


class Tagged(NamedTuple):
    """A panel, or a single-circuit bank. `wired_as`: its type, or the first of the single-circuit banks that are alike."""

    project: str
    tag: str
    wired_as: str
    design: PanelDesign
    before: int  # heaters of its bank that come before its own: the k of its list
    feed: int  # number of its panel feeder through the tank
    contactor: str
    strip: str
    string_in: str
    string_out: str
    hold: str
    marks: PanelMarks
    device: str = ""  # its OCPD in the control panel, "" = in the distribution unit
    neutral_bar: str = ""  # of its supply in the control panel, "" = no neutral comes there
    colours: str = ""  # of its wires to the field on L1, L2, L3
    control_wire: str = ""  # of its limit string
    status: str = ""  # on the sheet, where what hangs on what is known


class _Here(NamedTuple):
    """The panel feeder of a panel, the supply that it hangs on, the wire of its limit string and the string's ends elsewhere."""

    feed: ControlFeed
    supply: ControlSupply
    control_wire: str
    neutral_bar: str
    string_in: str
    string_out: str


def tagged(project: ProjectResult) -> Iterator[Tagged]:
    """Every panel and single-circuit bank of a project, in the order of its banks."""
    name, here = project.project.project, _fed(project.controls)
    singles = [row for row in project.banks if row.design.single_circuit is not None]
    alike: dict[tuple[object, ...], str] = {}
    for row in sorted(singles, key=lambda row: natural(single_tag(row))):
        alike.setdefault(_build(row), single_tag(row))
    for row in project.banks:
        own, marks = here[row.bank.tank.casefold(), row.label], marks_of(project, bank_before(project, row))
        if (single := row.design.single_circuit) is not None:
            yield _tagged(name, single_tag(row), alike[_build(row)], single, 0, at=own[0], hold=_hold(row), marks=marks)
        for panel, at in zip(row.panels, own, strict=False):
            yield _tagged(name, panel.tag, panel.type, panel.design, panel.first_heater - 1, at=at, hold=_hold(row), marks=marks)


def named_first(wired_as: str, alike: Sequence[Tagged]) -> Tagged:
    """Of single-circuit banks that are alike the one that they go by, whatever the order of their rows."""
    return next((one for one in alike if one.tag == wired_as), alike[0])


def _tagged(project: str, tag: str, wired_as: str, design: PanelDesign, before: int, *, at: _Here, hold: str, marks: PanelMarks) -> Tagged:
    feed = at.feed
    return Tagged(
        project, tag, wired_as, design, before, feed.number, feed.contactor, feed.strip, at.string_in, at.string_out, hold, marks, feed.device,
        at.neutral_bar, _colours(at, marks), at.control_wire,
    )  # fmt: skip


def _colours(at: _Here, marks: PanelMarks) -> str:
    """ "brown, orange, yellow": of the supply's lines that its own L1, L2, L3 land on."""
    return ", ".join(phase_colour(at.supply, LINES.index(line) + 1, marks.marking) for line in at.feed.on)


def _wire_of_string(control: TankControl) -> str:
    """ "14 AWG red"; "" where no wire serves, or there is no string."""
    wires = (one for one in control.circuit.wires if one.field and one.purpose in ("limit string", "over-temperature limit"))
    first = next(wires, None)
    return f"{first.size} {first.colour}" if first is not None and first.size else ""


def _fed(controls: Sequence[TankControl]) -> Mapping[tuple[str, str], list[_Here]]:
    """By tank and bank its panel feeders in order, each with the ends of its string: "T-1/HCP TB1:1", "T-1/1-P2 TB3:1"."""
    found: dict[tuple[str, str], list[_Here]] = {}
    for control in controls:
        ends, wire = _ends(control), _wire_of_string(control)
        for feed in control.feeds:
            before, after = ends.get((feed.strip_box, feed.strip), ("", ""))
            supply = control.supplies[feed.supply - 1]
            found.setdefault((control.tank.casefold(), feed.bank), []).append(_Here(feed, supply, wire, neutral_bar_of(feed, supply), before, after))
    return found


def _ends(control: TankControl) -> dict[tuple[str, str], tuple[str, str]]:
    """Of each strip of limits what its string comes from and goes to: the strips stand in the order of the string."""
    last: dict[tuple[str, str], int] = {}
    for one in control.circuit.terminals:
        last[one.box, one.strip] = one.number
    (panel, control_strip), *strips = last
    home = f"{control.tank}/{panel} {control_strip}"
    ins = [f"{home}:1", *(f"{control.tank}/{box} {strip}:{last[box, strip]}" for box, strip in strips)]
    outs = [*(f"{control.tank}/{box} {strip}:1" for box, strip in strips[1:]), f"{home}:2"]
    return {strip: (before, after) for strip, before, after in zip(strips, ins, outs, strict=False)}


def _build(row: BankRow) -> tuple[object, ...]:
    """What makes single-circuit banks alike."""
    return row.design.single_circuit, _hold(row)


def _hold(row: BankRow) -> str:
    return row.hold.message if row.hold is not None else ""


def _items(result: JobResult) -> Iterator[Tagged]:
    for project in result.projects:
        status = status_by_tag(project)
        yield from (one._replace(status=status[one.tag]) for one in tagged(project))


def _heaters(at: Tagged) -> str:
    first, last = (at.marks.heater(number) for number in (at.before + 1, at.before + at.design.heaters))
    return first if first == last else f"{first} to {last}"


WIRING_TAGS = Schedule(
    "wiring_tags", "Wiring tags", "panel", "Each panel with the type that it is wired as on Wiring, and what is its own there.", key=("project", "panel"),
    items=_items,
    columns=(
        its_project("project"),
        text("panel", "Panel", 24, "tag",
             role="result", help="Tag of the panel, or of a single-circuit bank."),
        its_status("status"),
        text("wired_as", "Wired as", 24, "wired_as",
             role="result", help="Its type on Wiring; of single-circuit banks that are alike the first."),
        ordinal("k", "k", "ea", "before",
                role="result", width=7, help="HTR+1 on Wiring and in the drawing is heater k + 1 of the bank, HTR+2 heater k + 2."),
        text("heaters", "Heaters", 18, _heaters,
             role="result", help="So numbered through their bank, as on labels and Circuits."),
        ordinal("feed", "Panel feeder", "no.", "feed",
                role="result", width=9, help="Number n through the tank: its conductors are nT1, nT2, nT3."),
        text("contactor", "Contactor", 10, "contactor",
             role="result", help="In the tank's control panel."),
        text("strip", "Limit strip", 8, "strip",
             role="result", help="Strip of its limit string: TB3 on Wiring; in the control panel's own box with the panel's number ahead."),
        text("string_in", "String in from", 22, "string_in",
             role="result", help="Terminal that its limit string comes from; blank: its heaters have no limits."),
        text("string_out", "String out to", 22, "string_out",
             role="result", help="Terminal that its limit string goes on to."),
        text("colours", "Colours of L1, L2, L3", 22, "colours",
             role="result", help="Of its wires between boxes and to its heaters; power inside a box has one colour. Settings of the trade's habit: common practice, no source."),
        text("control_wire", "Control wire", 14, "control_wire",
             role="result", help="Of its limit string and limits: size and colour."),
        text("hold", "On hold", 40, lambda at: band_words(at.hold),
             role="result", help="Not released for fabrication, and why."),
    ),
)
