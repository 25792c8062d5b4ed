"""Distribution: what each feeder ends in, a row a feeder's end and a row a way."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from batch.results import Device, FeederEnd, FeederRow, JobResult, ProjectResult, Way, Wires
from batch.schedules.hanging import Hanging, of_feeders, of_ways
from batch.schedules.row_words import basis_words, ground_size, has_b, laid_in, listed, run_words
from batch.schedules.schedule import (
    Schedule,
    calculated,
    given,
    its_basis,
    its_company,
    its_feeder,
    its_project,
    its_status,
    selected,
    text,
)

PLAIN = ("", "taps")  # ends without a unit
FEW = 3  # tanks named on the row of a unit: each has a row of its own below


class EndLine(NamedTuple):
    """A feeder's end, or one of its ways."""

    project: ProjectResult
    feeder: FeederRow
    end: FeederEnd
    way: Way | None
    hung: Hanging

    @property
    def device(self) -> Device | None:
        return self.way.device if self.way else self.feeder.device

    @property
    def wires(self) -> Wires | None:
        return self.way.wires if self.way else self.feeder.wires


def _items(result: JobResult) -> Iterator[EndLine]:
    for project in result.projects:
        of_feeder, of_way = of_feeders(project), of_ways(project)
        for row in project.feeders:
            if row.end is not None and row.end.ways:
                yield EndLine(project, row, row.end, None, of_feeder[row.feeder.feeder])
                if row.end.unit:
                    for way in row.end.ways:
                        yield EndLine(project, row, row.end, way, of_way(way))


def _what(at: EndLine) -> str:
    if at.way is not None:
        return "tap" if at.end.unit == "taps" else "way"
    return at.end.unit or "control panel"


def _tanks(at: EndLine) -> str:
    return at.way.tank if at.way else listed([way.tank for way in at.end.ways], FEW)


def _by(at: EndLine) -> str:
    return "" if at.end.unit in PLAIN else "ours" if at.end.ours else "by others"


def _spaces(at: EndLine) -> str:
    if at.way is not None or at.end.unit in PLAIN:
        return ""
    frames = [way.frame_a for way in at.end.ways]
    poles = {way.device.poles for way in at.end.ways if way.device is not None}
    words = [f"{frames.count(frame)} of {frame:g} A" for frame in sorted({one for one in frames if one}, reverse=True)]
    return ", ".join((*words, *(f"{count}-pole" for count in sorted(poles))))


DISTRIBUTION = Schedule(
    "distribution", "Distribution", "line", "What each feeder ends in: its distribution unit with a way for each tank's control panel, or one panel.",
    key=("project", "feeder", "way"), items=_items,
    columns=(
        its_project("project.project.project"),
        its_feeder("feeder.feeder.feeder"),
        text("way", "Way", 12, lambda at: at.way.tag if at.way else "", help="Tag of the way; blank on the row of the feeder's end itself."),
        its_status("hung.status"),
        text("open", "On hold, or not in it", 24, "hung.words",
             role="result", help="How many of the banks behind it are on hold, and what is not sized and so not in it."),
        text("what", "What", 20, _what, role="result", help="Distribution unit, way, tap, or the control panel that the feeder ends in."),
        text("tank", "Tank", 18, _tanks, help="Tank, or tanks, whose control panel it feeds."),
        text("scope", "Supplied", 12, _by, help="Ours or by others; blank where there is no unit."),
        selected("i_a", "I A", "A", "amps", lambda at: (at.way or at.feeder).lines.a, help="Design current in the feeder's line A."),
        selected("i_b", "I B", "A", "amps", lambda at: (at.way or at.feeder).lines.b if has_b(at.feeder.supply) else None,
                 help="Design current in the feeder's line B."),
        selected("i_c", "I C", "A", "amps", lambda at: (at.way or at.feeder).lines.c if at.feeder.supply.phases == 3 else None,
                 help="Design current in the feeder's line C."),
        calculated("connected_kw", "Connected", "kW", "kw", lambda at: (at.way or at.feeder).connected_kw, help="Rated power of what hangs on it."),
        calculated("required_a", "Minimum OCPD and circuit ampacity", "A", "amps", lambda at: (at.way or at.feeder).required_a,
                   help="Fullest line current times 1 + margin."),
        calculated("largest_a", "Largest OCPD behind it", "A", "rating", lambda at: at.way.largest_a if at.way else max(
            (way.device.rating_a if way.device else way.largest_a for way in at.end.ways), default=None), help="No device stands ahead of a larger one."),
        selected("device_a", "OCPD", "A", "rating", lambda at: at.device.rating_a if at.device else None, help="Of the feeder, or of the way."),
        text("device", "OCPD type", 54, lambda at: at.device.words if at.device else "", role="result", help="Class or type, poles and volts."),
        given("existing_a", "Existing OCPD", "A", "rating", lambda at: at.feeder.feeder.device_there_a if at.way is None else None,
              help="Rating of the feeder's OCPD that is there already: what is used of it stands beside it, whatever OCPD is called for."),
        calculated("use_pct", "OCPD used", "%", "percent_2", lambda at: (at.way or at.feeder).use_pct,
                   help="Load with the margin over its device; over the existing one where there is one."),
        selected("frame_a", "Frame", "A", "rating", lambda at: at.way.frame_a if at.way else None, help="Frame of the way's switch or breaker."),
        selected("bus_a", "Bus", "A", "rating", lambda at: at.end.bus_a if at.way is None else None, help="Of the distribution unit: no less than the feeder's OCPD."),
        selected("main_a", "Main", "A", "rating", lambda at: at.end.main_a if at.way is None else None, help="Main device, where there is one; else main lugs."),
        text("lugs", "Lugs", 20, lambda at: at.end.lugs if at.way is None else "", role="result", help="For the feeder's conductors."),
        text("spaces", "Spaces", 28, _spaces, role="result", help="Of the distribution unit, by frame and poles; no spares."),
        text("wire", "Wire", 22, lambda at: run_words(at.wires) if at.wires else "", role="result", help="Of the feeder, or of the way."),
        *its_company(lambda at: at.wires, "conductors", "Feeders, or ways, that run together, itself among them."),
        text("tap_rule", "Tap rule", 14, lambda at: at.way.tap.rule if at.way and at.way.tap else "", help="Of a tap: the rule that its length goes by."),
        calculated("tap_needs_a", "Tap needs", "A", "amps", lambda at: at.way.tap.needs_a if at.way and at.way.tap else None,
                   help="Of a tap: the most of its load with the margin, the OCPD at its end and its share of the feeder's OCPD."),
        calculated("tap_ampacity_a", "Tap ampacity", "A", "rating", lambda at: at.way.tap.ampacity_a if at.way and at.way.tap else None,
                   help="Of a tap: the lower of terminal and adjusted ampacity, in whole amps, never rounded up."),
        text("ground", "EGC", 16, lambda at: ground_size(at.wires) if at.wires else "", role="result", help="Equipment grounding conductor of each set."),
        text("raceway", "Raceway", 16, lambda at: laid_in(at.wires), role="result", help="Trade size and kind of each set."),
        given("run_m", "Length", "m", "length", lambda at: at.way.run_m if at.way else at.feeder.feeder.run_m, us_unit="ft",
              help="One way: to the feeder's end, or on to the control panel."),
        calculated("drop_pct", "Drop", "%", "percent_2", lambda at: (at.way or at.feeder).drop_pct, help="Voltage drop; blank where no length is known."),
        calculated("fault_ka", "Available fault current", "kA", "kiloamps", lambda at: at.way.fault_ka if at.way else at.end.fault_ka,
                   help="At the feeder's end, or at the control panel: what stands there is rated no lower."),
        its_basis(lambda at: basis_words((at.way or at.feeder).basis)),
    ),
)
