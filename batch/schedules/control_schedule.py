"""Control: the heater control panel of each tank, one a row."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from batch.control_results import TankControl
from batch.results import JobResult, ProjectResult
from batch.schedules.designations import marks_of
from batch.schedules.hanging import control_status
from batch.schedules.row_words import at_most_words, band_words, basis_words, kinds_said, listed
from batch.schedules.schedule import (
    Schedule,
    calculated,
    grouped,
    its_basis,
    its_findings,
    its_project,
    its_status,
    its_tank,
    selected,
    text,
)
from batch.sizing.control_settings import CONTROL_WORDS


class PanelLine(NamedTuple):
    """A control panel."""

    project: ProjectResult
    row: TankControl


def _items(result: JobResult) -> Iterator[PanelLine]:
    for project in result.projects:
        for row in project.controls:
            yield PanelLine(project, row)


def _supplies(at: PanelLine) -> str:
    """ "DISC1: F-1, 480 V; DISC2: F-2, 240 V"."""
    return "; ".join(f"{one.mark}: {one.feeder}, {one.volts_v:g} V {one.system.words}, {one.frequency_hz} Hz" for one in at.row.supplies)


def _disconnects(at: PanelLine) -> str:
    return "; ".join(f"{marks_of(at.project).disconnect(at.row.tank, one.number)} {one.disconnect}" for one in at.row.supplies)


def _feeds(at: PanelLine) -> str:
    """ "PFU1, CON1: 1-P1; FU2, CON2: 2"."""
    return "; ".join(f"{feed.device or 'device in the distribution unit'}, {feed.contactor}: {feed.tag}" for feed in at.row.feeds)


def _coils(at: PanelLine) -> str:
    """ "2 contactor size 1 (29/245 VA), 1 contactor size 2 (37/311 VA)": sealed and inrush."""
    count: dict[str, int] = {}
    for coil in at.row.coils:
        words = f"{coil.what} ({coil.sealed_va:g}/{coil.inrush_va:g} VA)" if coil.known else f"{coil.what} (not known)"
        count[words] = count.get(words, 0) + 1
    return ", ".join(f"{number} {words}" for words, number in count.items())


def _power(at: PanelLine) -> str:
    """Where control power comes from, in words."""
    row = at.row
    if row.settings.transformer == "others":
        return f"{row.settings.control_v:g} V by others"
    if not row.primary_v:
        return f"{row.settings.control_v:g} V, line 1 to neutral behind {row.supplies[0].mark}, no transformer"
    return f"{row.primary_v:g} to {row.settings.control_v:g} V behind {row.supplies[0].mark}"


def _string(at: PanelLine) -> str:
    """ "12 OTL in 2 panels, LLC, interlock"."""
    elements = at.row.circuit.elements
    limits = sum(one.kind == "limit" for one in elements)
    strips = len({(feed.strip_box, feed.strip) for feed in at.row.feeds if feed.strip})
    words = [f"{limits} OTL on {strips} strip{'s' * (strips != 1)}" if limits else "no OTL: jumper"]
    words.append("LLC" if any(one.kind == "level cutoff" for one in elements) else "no LLC: jumper")
    words.append("interlock (jumper where there is none)")
    relays = sum(one.kind == "ground-fault contact" for one in elements)
    if relays:
        words.append(f"{relays} GFR, {at.row.settings.ground_fault_trip_ma:g} mA")
    return ", ".join(words)


def _relays(at: PanelLine) -> str:
    """Every contact that switches coils, with its load against what it may."""
    return "; ".join(
        f"{one.mark} {one.rating}: {one.make_a:.2f} of {at_most_words(one.most_make_a)} A make, "
        f"{one.break_a:.2f} of {at_most_words(one.most_break_a)} A break"
        for one in at.row.duties
    )


def _open(at: PanelLine) -> str:
    """What nobody has settled: settings by default, and what is not known."""
    words = [name for key, (name, _) in CONTROL_WORDS.items() if key not in at.row.settings.given]
    words = [f"by default: {', '.join(words)}"] if words else []
    if at.row.fault_ka is None:
        words.append("fault current not known")
    return "; ".join(words)


CONTROL = Schedule(
    "control", "Control", "control panel", "The heater control panel of each tank: supplies, control power, coils, contacts, limit string.",
    key=("project", "tank"), items=_items,
    columns=(
        its_project("project.project.project"),
        its_tank("row.tank"),
        text("panel", "Control panel", 16, "row.tag", role="result", help="Tag of its box."),
        its_status(lambda at: control_status(at.project, at.row)),
        text("type", "Built as", 17, "row.type", role="result", help="Control panels built alike."),
        text("ladder", "Ladder", 14, "row.kind", role="result", help="Its ladder on Control circuit; equal but for numbers of heaters and sizes of parts."),
        text("banks", "Banks", 10, lambda at: listed(at.row.banks), help="Banks of the tank, in order."),
        text("supplies", "Supplies", 34, _supplies, role="result", help="Disconnect, feeder, system and frequency of each."),
        text("disconnects", "Disconnects", 36, _disconnects, role="result", help="One for each supply: at least 1 + margin times the line current, and no less than the OCPD ahead of it (common practice, no source); fusible where it holds the fuses of its only panel feeder, which then protect it."),
        selected("line_a", "Maximum line current", "A", "amps", lambda at: max(one.line_a for one in at.row.supplies),
                 help="Design current by phasors, of the supply that carries most."),
        text("feeds", "Panel feeders", 34, _feeds, role="result", help="Device and contactor of each, and the heater panel or single-circuit bank that it feeds."),
        *grouped("Supplies and contactors",
            text("blocks", "Blocks", 40, lambda at: "; ".join(f"{one.block_mark}: {one.block}" for one in at.row.supplies if one.block),
                 role="result", help="Where a supply has several panel feeders."),
            text("backup", "Back-up contactors", 24, lambda at: "; ".join(f"{one.backup}: {one.backup_words}" for one in at.row.supplies if one.backup),
                 role="result", help="Ahead of all others, dropped by the latch."),
            calculated("fault_ka", "Fault current", "kA", "kiloamps", "row.fault_ka", help="At the control panel, the maximum of its supplies."),
            selected("sccr_ka", "SCCR", "kA", "kiloamps", lambda at: at.row.sccr_ka if at.row.sccr_marked else None,
                     help="Where every power part is marked; else for its builder to mark."),
        ),
        text("power", "Control power", 26, _power, role="result", help="Where it comes from."),
        selected("transformer_va", "CPT", "VA", "number", "row.transformer_va", help="Control transformer; blank: none, by others, or to be chosen."),
        selected("primary_fuse_a", "FUC1, FUC2", "A", "number", "row.primary_fuse_a", help="Primary fuses, both lines, time-delay."),
        selected("secondary_fuse_a", "FUC3", "A", "number", "row.secondary_fuse_a", help="Fuse ahead of wire 1."),
        text("wire", "Control wire", 9, lambda at: at.row.wire and (at.row.wire if "mm" in at.row.wire else f"{at.row.wire} AWG"), role="result",
             help="In the box, by that fuse."),
        calculated("sealed_va", "Sealed", "VA", "number", "row.sealed_va", help="All contactors in: contactors, latch, relays, lamps, controller, ground-fault relays."),
        calculated("inrush_va", "At inrush", "VA", "number", "row.inrush_va", help="While all contactors pull in, the rest sealed."),
        text("coils", "Coils", 34, _coils, help="With sealed and inrush volt-amperes; as the stock list states them, else from memory, on the high side."),
        text("string", "Limit string", 34, _string, role="result", help="In series through all panels; opening it anywhere drops every contactor until RESET."),
        text("reset", "Reset", 11, "row.settings.reset", role="input", help="On the panel; at the limit: the heaters restart by themselves."),
        *grouped("Contacts and settings",
            text("contacts", "Contacts", 60, _relays, help="Contacts of latch, relays and temperature controls, against their rating."),
            text("controller", "Temperature controller", 12, "row.settings.controller", role="input", help="By others with a dry contact, or in the panel."),
            text("location", "Location", 12, "row.settings.location", role="input", help="What its box must stand."),
            text("material", "Box material", 13, "row.settings.material", role="input", help="Of its walls."),
            text("boxes", "Boxes", 7, "row.settings.boxes", role="input", help="Control panel and heater panels apart, or in one."),
        ),
        text("open", "Open", 34, _open, role="result", help="What is by default, or not known: settle it before the panel is built."),
        its_findings(lambda at: kinds_said(at.row.findings, (), at.project.said_once)),
        text("hold", "On hold", 30, lambda at: band_words(at.row.hold.message if at.row.hold is not None else ""), role="result",
             help="Not released for fabrication, and why: a panel on hold holds its control panel."),
        its_basis(lambda at: basis_words(at.row.basis)),
    ),
)  # fmt: skip
