"""Panels: each heater panel, its panel feeder, its currents and what it is built from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from batch.findings import Finding
from batch.method.distribution_unit import device_use_pct
from batch.method.line_currents import unbalance_pct
from batch.results import BankRow, JobResult, PanelDesign, PanelRow, ProjectResult, Wires
from batch.schedules.fuse_places import device_ahead
from batch.schedules.hanging import short_of_fault
from batch.schedules.live_sources import LiveSources, Source
from batch.schedules.row_formulas import MAXIMUM, NEXT_RATING, UNBALANCE
from batch.schedules.row_words import (
    basis_words,
    ground_size,
    has_b,
    kinds_said,
    laid_in,
    residual_words,
    run_words,
    size_or_words,
    status_of,
)
from batch.schedules.schedule import (
    Schedule,
    calculated,
    given,
    grouped,
    its_bank,
    its_basis,
    its_company,
    its_feeder,
    its_findings,
    its_project,
    its_status,
    its_tank,
    selected,
    text,
    with_look_up,
)
from batch.schedules.ways import build_number, builds_by_name, found, owner_number, owner_of, way
from batch.sizing.placing import lines_of_terminals


class HeaterPanelLine(NamedTuple):
    """A panel of a bank; `feed` are the conductors of its panel feeder, `said` what was said of its bank and of itself; `owner`
    and `build` where its bank stands on Prices and its type on Builds."""

    project: ProjectResult
    source: Source
    row: BankRow
    panel: PanelRow
    design: PanelDesign
    feed: Wires
    said: Sequence[Finding]
    owner: int | None
    build: int | None


def _items(result: JobResult) -> Iterator[HeaterPanelLine]:
    builds = builds_by_name(result)
    for project in result.projects:
        on = {row.feeder.feeder: row.findings for row in project.feeders}
        sources = LiveSources(result, project)
        for row in project.banks:
            owner = owner_of(result, project, row)
            of_feeder = on.get(row.feeder.feeder, ())
            for panel in row.panels:
                said = (*row.findings, *short_of_fault(panel, of_feeder))
                yield HeaterPanelLine(project, sources.of(row), row, panel, panel.design, panel.design.panel_feeder_wires, said, owner, builds.get((project.project.project, panel.type)))


def _terminals(design: PanelDesign) -> str:
    """The terminals of its supply: "L1-L2-L3-N"."""
    used = {part for leg in design.legs for part in leg.split("-")}
    return "-".join(name for name in ("L1", "L2", "L3", "N") if name in used)


def _default_sccr(design: PanelDesign) -> str:
    """What a panel with unmarked parts is judged by; a default is no rating, so it stands in the basis only."""
    if design.sccr_marked or design.sccr_ka is None:
        return ""
    return f"no marking on every part: fault current judged against {design.sccr_ka:g} kA ({design.sccr_part})"


PANELS = Schedule(
    "panels", "Panels", "heater panel", "Each heater panel: its panel feeder, its currents and what it is built from.", key=("project", "panel"),
    as_sized=("margin_pct", "panel_feeder_device_a"),
    open_group="Currents",
    items=_items,
    columns=(
        its_project("project.project.project"),
        text("panel", "Panel", 16, "panel.tag",
             role="result", help="Tag: tank, bank and number."),
        *grouped("Place",
            its_tank("row.bank.tank"),
            its_bank("row.label"),
        ),
        its_feeder("row.feeder.feeder"),
        text("type", "Type", 9, "panel.type",
             role="result", help="Panels of one type are built alike."),
        its_status(lambda at: status_of(at.said, at.row.around, at.project.said_once)),
        calculated("heaters", "Heaters", "ea", "count", "design.heaters",
                   total="sum", help="Heaters on this panel."),
        calculated("connected_kw", "Connected", "kW", "kw", "design.connected_kw",
                   total="sum", help="Heaters times rated power."),
        *grouped("Connection",
            text("panel_feeder_phases", "Supply phases on L1-L2-L3", 12, lambda at: lines_of_terminals(_terminals(at.design), at.panel.start, at.row.supply),
                 role="result", also=("L1-L2-L3 on",), help="Which supply lines land on L1, L2, L3 and N of the panel."),
            selected("limit_terminals", "Limit string terminals", "ea", "count", "design.limit_terminals",
                     width=11, total="sum", also=("Protector terminals",), help="Terminals of the limit string in this panel."),
        ),
        text("connection", "Connection", 16, "design.connection",
             role="result", help="How the heaters are connected."),
        selected("rating_a", "Branch OCPD", "A", "rating", "design.branch.device.rating_a",
                 also=("Branch rating",), help="Rating of each branch OCPD."),
        selected("branches", "Branches", "ea", "count", "design.branches",
                 total="sum", help="Branch circuits in this panel."),
        *grouped("Panel feeder",
            text("panel_feeder_device", "Panel feeder OCPD type", 54, lambda at: device_ahead(at.project, at.design.panel_feeder_device, (at.panel.tag,)) + residual_words(at.design) + (", in the distribution unit" if at.design.device_at_way else ""),
                 role="result", also=("Feed device kind",), help="Class or type, poles, volts and interrupting rating."),
            calculated("use_pct", "Panel feeder OCPD used", "%", "percent_2", lambda at: device_use_pct(at.design.required_a, at.design.panel_feeder_device.rating_a),
                       help="Load with the margin over the panel feeder's OCPD."),
            text("panel_feeder_wire", "Panel feeder conductors", 20, lambda at: run_words(at.feed),
                 role="result", also=("Feed wire",), help="Sets x lines of size."),
            text("panel_feeder_neutral", "Panel feeder neutral", 12, lambda at: size_or_words(at.feed.neutral),
                 role="result", also=("Feed neutral",), help="Neutral of the panel feeder; blank where there is none."),
            text("panel_feeder_ground", "Panel feeder EGC", 12, lambda at: ground_size(at.feed),
                 role="result", also=("Feed ground",), help="Equipment grounding conductor of the panel feeder."),
            *its_company(lambda at: at.feed if at.feed.required_size else None, "panel feeder", "Panel feeders that run together, itself among them."),
            text("governed_by", "Panel feeder sizing basis", 28, "feed.governed_by",
                 also=("Feed governed by",), help="Which test set the panel feeder conductors."),
            text("raceway", "Panel feeder raceway", 16, lambda at: laid_in(at.feed),
                 role="result", also=("Feed raceway",), help="Trade size and kind."),
            calculated("drop_pct", "Panel feeder drop", "%", "percent_2", "design.drop_pct",
                       also=("Feed drop",), help="Voltage drop of the panel feeder; blank where no length is known."),
        ),
        selected("panel_feeder_device_a", "Panel feeder OCPD", "A", "rating", "design.panel_feeder_device.rating_a",
                 formula=NEXT_RATING.format(key="required_a"), also=("Feed device",), help="Overcurrent device ahead of the contactor."),
        *grouped("Apparatus",
            selected("disconnect_a", "Disconnect rating", "A", "rating", "source.rating_a",
                     help="Of the supply in the tank's control panel: opens all its ungrounded conductors, lockable open."),
            text("disconnect", "Disconnect", 31, "source.made",
                 role="result", help="The stock part, or the smallest switch for 1 + margin times the control panel's current and for the OCPD ahead of it (common practice, no source); fusible where it holds the fuses of its only panel feeder, which then protect it."),
            text("contactor", "Contactor", 36, "design.contactor",
                 role="result", help="In the tank's control panel. Resistive rating: covers the line current once."),
            selected("block_a", "Power distribution block rating", "A", "rating", "design.block_a",
                     width=12, also=("Distribution block rating",), help="The block, and what joins it to the branch OCPDs, is rated for the panel feeder OCPD."),
            text("block", "Power distribution block", 58, "design.block",
                 role="result", also=("Distribution block",), help="Poles, rating and the openings of one pole, in and out."),
            selected("torque_nm", "Panel feeder torque", "N·m", "torque", "design.torque_nm",
                     us_unit="lbf·in", also=("Feed torque",), help="Of the panel feeder's terminals on the block, as the stock part is marked; blank: as marked on the part."),
            calculated("fault_ka", "Fault current", "kA", "kiloamps", "panel.fault_ka",
                       help="Available at the panel; blank where the source is not known."),
            selected("sccr_ka", "Panel SCCR", "kA", "kiloamps", lambda at: at.design.sccr_ka if at.design.sccr_marked else None,
                     also=("Panel rating",), help="Lowest short-circuit rating of its parts, where every one of them is marked; else blank, for its builder to mark."),
            text("sccr_part", "Lowest-rated part", 25, lambda at: at.design.sccr_part if at.design.sccr_marked else "builder to mark",
                 also=("Set by",), help="The marked part with the lowest short-circuit rating."),
        ),
        text("disconnect_tag", "Disconnect tag", 14, "source.tag",
             role="result", help="In the tank's control panel, one for each supply; the other disconnects of the tank leave it live."),
        *with_look_up(its_findings(lambda at: kinds_said(at.said, at.row.around, at.project.said_once))),
        *grouped("Currents",
            calculated("i_a", "I A", "A", "amps", "panel.lines.a",
                       help="Design current in line A."),
            calculated("i_b", "I B", "A", "amps", lambda at: at.panel.lines.b if has_b(at.row.supply) else None,
                       help="Design current in line B."),
            calculated("i_c", "I C", "A", "amps", lambda at: at.panel.lines.c if at.row.supply.phases == 3 else None,
                       help="Design current in line C."),
            calculated("i_n", "I N", "A", "amps", lambda at: at.panel.lines.n if at.feed.neutral else None,
                       help="Design current in the neutral."),
            calculated("maximum_a", "Maximum line current", "A", "amps", "panel.lines.maximum",
                       total="max", formula=MAXIMUM, also=("Greatest line",), help="Maximum of the line currents."),
            calculated("unbalance_pct", "Unbalance", "%", "percent", lambda at: unbalance_pct(at.panel.lines, at.row.supply.system),
                       formula=UNBALANCE, help="Maximum deviation from the mean line current, over the mean."),
            given("margin_pct", "Continuous-load margin", "%", "percent", "row.design.margin_pct",
                  also=("Current margin",), help="Added to the current before a device or wire is chosen."),
            calculated("required_a", "Panel feeder minimum OCPD and circuit ampacity", "A", "amps", "design.required_a",
                       width=11, formula="[maximum_a]*(1+[margin_pct]/100)", also=("Feed amps with margin",), help="Maximum line current times 1 + margin."),
        ),
        owner_number("owner"),
        build_number("build"),
        way("to_bill", "Its bill", "the first line of the bill of its type on Materials", found("materials.build_no", "build_no"), there=lambda at: at.build),
        its_basis(lambda at: basis_words(("phasor sum of the loads",), at.design.panel_feeder_basis, at.design.basis, at.design.panel_feeder_device.basis, at.feed.basis, (at.design.torque_words, _default_sccr(at.design)))),
    ),
)
