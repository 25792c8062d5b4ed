"""Banks: what each bank draws, how it is protected, connected and fed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from batch.records import Bank
from batch.results import BankDesign, BankRow, BranchDesign, JobResult, PanelDesign, ProjectResult
from batch.schedules.fuse_places import device_ahead
from batch.schedules.live_sources import LiveSources, Source
from batch.schedules.row_formulas import APPLIED, NEXT_RATING, SAME_VOLTS
from batch.schedules.row_words import NOT_SIZED, basis_words, ground_size, kinds_said, run_words, split_words, status_of
from batch.schedules.schedule import (
    Schedule,
    Unsized,
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
from batch.schedules.ways import found, owner_number, owner_of, way
from batch.sizing.placing import groups, lines_of_terminals
from batch.unsized_results import NotSized

IN_PANELS = '*([arrangement]="panel")'  # a single circuit follows its bank's line current, which is not live: 0 never agrees, so the figure stands

WYE_POINT = re.compile(r"\bWP\d+\b")


class BankLine(NamedTuple):
    """A bank; `single` where it is a single circuit."""

    project: ProjectResult
    row: BankRow
    bank: Bank
    design: BankDesign
    branch: BranchDesign
    single: PanelDesign | None
    source: Source
    owner: int | None


def _items(result: JobResult) -> Iterator[BankLine | Unsized]:
    """The banks that were sized, then those that were not; project by project, and last those of no project that could be sized."""
    for project in result.projects:
        sources = LiveSources(result, project)
        for row in project.banks:
            design = row.design
            yield BankLine(project, row, row.bank, design, design.branch, design.single_circuit, sources.of(row), owner_of(result, project, row))
        yield from map(Unsized, project.not_sized)
    yield from map(Unsized, result.not_sized)


def as_read(row: NotSized) -> str:
    """ "Power: not a number. Read: 6 heaters, 480 V, 3-phase"."""
    figures = (
        "" if row.quantity is None else f"{row.quantity:,} heater{'' if row.quantity == 1 else 's'}",
        "" if row.power_kw is None else f"{row.power_kw:g} kW each",
        "" if row.volts_v is None else f"{row.volts_v:g} V",
        "" if row.phases is None else f"{row.phases:g}-phase",
    )
    read = ", ".join(filter(None, figures)) or "no figure"
    why = row.why[:1].upper() + row.why[1:]
    return f"{why}. Read: {read} ({row.origin.sheet.strip()} row {row.origin.row})"


def _device(at: BankLine) -> str:
    """Of a branch, or of a single circuit ahead of it."""
    if at.single is None:
        return at.branch.device.words
    return device_ahead(at.project, at.single.panel_feeder_device, (f"{at.bank.tank}/{at.row.label}",))


def _contactors(design: BankDesign) -> str:
    """"NEMA 2, 45 A, 3-pole"; with several panels how many of each."""
    words = [panel.contactor for panel in groups(design)]
    if len(set(words)) > 1:
        return "; ".join(f"{words.count(one)} x {one}" for one in dict.fromkeys(words))
    return words[0] if len(words) == 1 else f"{len(words)} x {words[0]}"


def _phases(at: BankLine) -> str:
    """ "A-B, B-C, C-A" of a delta, "A-WP, B-WP, C-WP" of wyes without a neutral: each pair or leg once, in the order of the heaters."""
    legs = (lines_of_terminals(leg, at.row.start, at.row.supply) for leg in groups(at.design)[0].legs)
    return ", ".join(dict.fromkeys(WYE_POINT.sub("WP", leg) for leg in legs))


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


BANKS = Schedule(
    "banks", "Banks", "bank", "What each bank draws, how it is protected, connected and fed.", key=("project", "tank", "bank"),
    as_sized=(
        "feeder", "quantity", "power_kw", "volts_v", "phases", "supply_v", "margin_pct", "circuits_per_heater", "rating_a", "connection",
        "phases_on", "bank_device_a",
    ),
    open_group="Volts and currents",
    items=_items,
    columns=(
        its_project("project.project.project", unsized="project"),
        its_tank("bank.tank", unsized="tank"),
        its_bank("row.label", unsized="label"),
        its_feeder("row.feeder.feeder", unsized="feeder", becomes="heaters.feeder"),
        its_status(lambda at: status_of(at.row.findings, at.row.around, at.project.said_once), unsized=lambda row: NOT_SIZED),
        *grouped("As received",
            given("volts_v", "Heater volts", "V", "volts", "bank.volts_v",
                  becomes="heaters.volts_v", help="Rated volts of one heater."),
            given("phases", "Heater phases", "ph", "count", "bank.phases",
                  becomes="heaters.phases", help="1 or 3."),
            given("supply_v", "Feeder volts", "V", "volts", "row.feeder.volts_v",
                  help="Line-to-line volts of the feeder; line-to-neutral of a 2-wire feeder with a neutral."),
            calculated("circuits_per_heater", "Element circuits per heater", "ea", "count", "design.circuits_per_heater",
                       also=("Circuits per heater",), help="Element circuits of one heater, each with its own device."),
            text("fixed", "Fixed by the estimator", 26, lambda at: _fixed(at.row),
                 role="input", help="What the job workbook fixed, and was honoured and judged."),
            text("notes", "Notes", 30, "bank.notes", unsized="notes",
                 role="input", becomes="heaters.notes", help="The estimator's notes."),
        ),
        given("quantity", "Heaters", "ea", "count", "bank.quantity",
              total="sum", becomes="heaters.quantity", help="Identical heaters in the bank."),
        given("power_kw", "Power each", "kW", "kw", "bank.power_kw",
              becomes="heaters.power_kw", help="Rated power of one heater."),
        calculated("connected_kw", "Connected", "kW", "kw", "design.connected_kw",
                   total="sum", formula="[quantity]*[power_kw]", help="Heaters times rated power."),
        *grouped("Connection",
            text("connection_why", "Basis of connection", 40, "design.connection_why",
                 also=("Why so joined",), help="What decided the connection."),
            text("phases_on", "Phases", 16, _phases,
                 role="result", becomes="heaters.phase_pair", help="Pairs or legs of its first panel, that on which the bank starts first."),
            calculated("open_branch_pct", "One branch open", "% of V", "percent_0", "design.open_branch_pct",
                       width=11, help="Maximum heater volts when one branch OCPD has opened, in per cent of its rating."),
        ),
        text("connection", "Connection", 18, "design.connection",
             role="result", becomes="heaters.connection", help="How the heaters are connected."),
        *grouped("Branch circuits",
            text("device", "Branch OCPD type", 54, _device,
                 role="result", also=("Branch device",), help="Class or type, poles, volts and interrupting rating; of a single circuit that of its one OCPD."),
            text("wire", "Branch wire", 18, lambda at: run_words(at.branch.wires),
                 role="result", help="Wires to each heater."),
            text("ground", "EGC", 12, lambda at: ground_size(at.branch.wires),
                 role="result", also=("Ground",), help="Equipment grounding conductor of each branch."),
            *its_company(lambda at: at.branch.wires if at.branch.wires.required_size else None, "branch", "Branches that run together, itself among them."),
            text("governed_by", "Sizing basis", 28, "branch.wires.governed_by",
                 also=("Wire governed by",), help="Which test set the wire."),
            calculated("wire_drop_pct", "Branch drop", "%", "percent_2", "branch.drop_pct",
                       help="Voltage drop of the branch wires; blank where no length is known."),
        ),
        selected("rating_a", "Branch OCPD", "A", "rating", lambda at: (at.single.panel_feeder_device if at.single else at.branch.device).rating_a,
                 formula=NEXT_RATING.format(key="required_a") + IN_PANELS, also=("Branch rating",), becomes="heaters.fixed_rating_a", help="Smallest standard rating that serves one branch, the next one that Stock lists, or what the estimator fixed; of a single circuit that of its one OCPD."),
        selected("branches", "Branches", "ea", "count", lambda at: 1 if at.single else at.bank.quantity * at.design.circuits_per_heater,
                 total="sum", formula=f"[quantity]*[circuits_per_heater]{IN_PANELS}", help="Branch circuits of the bank: one for each heater or element circuit; 1 where all stand behind one OCPD."),
        *grouped("Panels and contactors",
            text("arrangement", "Arrangement", 12, lambda at: "single circuit" if at.single else "panel",
                 role="result", help="single circuit: one OCPD for the whole bank; panel: heater panels."),
            text("split", "Panel split", 12, lambda at: split_words([panel.branches for panel in at.design.panels]),
                 role="result", help="Branches of each panel."),
            text("panel_why", "Basis of panel", 52, "design.panel_why",
                 also=("Why a panel, or none",), help="Both reasons with their numbers: terminals and subdivision."),
            calculated("wires_on_terminal", "Wires on a contactor terminal", "ea", "count", "design.wires_on_terminal",
                       width=12, help="Wires on the fullest terminal if every heater were wired straight to one contactor."),
            selected("bank_device_a", "Bank OCPD", "A", "rating", lambda at: at.single.panel_feeder_device.rating_a if at.single else None,
                     also=("Bank device",), becomes="heaters.fixed_rating_a", help="Overcurrent device of a single-circuit bank."),
            text("bank_wire", "Bank wires", 18, lambda at: run_words(at.single.panel_feeder_wires) if at.single else "",
                 role="result", help="Of a single-circuit bank, from its device to its contactor: all its heaters together."),
            text("contactor", "Contactor", 36, lambda at: _contactors(at.design),
                 role="result", help="Resistive rating of each contactor and how many."),
            text("disconnects", "Disconnect", 18, "source.tag",
                 role="result", also=("Disconnects",), help="In the tank's control panel, one for each supply; numbered through the tank."),
        ),
        selected("panels", "Heater panels", "ea", "count", lambda at: len(at.design.panels),
                 total="sum", also=("Branch panels",), help="Heater panels; 0 where the bank is a single circuit."),
        *with_look_up(its_findings(lambda at: kinds_said(at.row.findings, at.row.around, at.project.said_once), unsized=lambda row: kinds_said(row.findings))),
        calculated("not_sized_kw", "Not sized", "kW", "kw", lambda at: None,
                   unsized="connected_kw", total="sum", help="Heaters times rated power of a row that is not sized, where both could be read."),
        text("as_read", "Why not sized, and what was read", 44, lambda at: "",
             unsized=as_read, role="result", help="Of a row that is not sized; it is in no total but Not sized."),
        *grouped("Volts and currents",
            calculated("applied_v", "Applied volts", "V", "volts_1", "design.applied_v",
                       formula=APPLIED, help="Volts at the terminals of each heater, as connected."),
            calculated("volts_off_pct", "Applied over rated", "%", "percent_signed", lambda at: 100.0 * (at.design.applied_v / at.bank.volts_v - 1.0),
                       formula="100*([applied_v]/[volts_v]-1)", help="How far the applied volts are from the rated volts."),
            calculated("heater_a", "Heater current", "A", "amps", "design.heater_a",
                       formula="[power_kw]*1000/[volts_v]/IF([phases]=3,SQRT(3),1)", help="Line current of one heater at its rated volts: P / V, or P / (sqrt(3) V)."),
            calculated("design_a", "Design current", "A", "amps", "design.design_a",
                       formula=f"IF({SAME_VOLTS},[heater_a],MAX([heater_a],[heater_a]*[applied_v]/[volts_v]))", help="What devices and wires are chosen for: the greater of rated and applied where they differ by over 2 %."),
            calculated("running_a", "Running current", "A", "amps", "design.running_a",
                       formula=f"[heater_a]*IF({SAME_VOLTS},1,[applied_v]/[volts_v])", help="Line current of one heater at the applied volts; its nameplate's where they are the same to 2 %."),
            given("margin_pct", "Continuous-load margin", "%", "percent", "design.margin_pct",
                  also=("Current margin",), help="Added to the current before a device or wire is chosen."),
            calculated("required_a", "Branch minimum OCPD and circuit ampacity", "A", "amps", lambda at: at.single.required_a if at.single else at.branch.required_a,
                       width=12, formula=f"[design_a]/[circuits_per_heater]*(1+[margin_pct]/100){IN_PANELS}", also=("Branch amps with margin",), help="Design current of one branch times 1 + margin; of a single circuit that of the whole bank."),
            calculated("line_a", "Bank line current", "A", "amps", "design.line_a",
                       help="Maximum line current of the whole bank, at design current."),
            selected("delivered_kw", "Delivered", "kW", "kw", "design.delivered_kw",
                     total="sum", formula=f"[quantity]*[power_kw]*IF({SAME_VOLTS},1,([applied_v]/[volts_v])^2)", help="What heats the bath at the applied volts."),
        ),
        owner_number("owner"),
        way("to_price", "Its price", "its row of Prices", found("prices.number", "owner_no"), there=lambda at: at.owner),
        its_basis(lambda at: basis_words(("Ohm's law, phasor sum of the loads",), at.design.basis, *(panel.basis for panel in groups(at.design)))),
    ),
)
