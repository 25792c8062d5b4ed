"""Groups 60 and 70: a nameplate for each box that may be built, and the label of each control panel. Whoever builds a box marks it: what
nobody here can know is left open.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import sqrt

from batch.control_results import ControlFeed, ControlSupply, TankControl
from batch.papers.control_box_papers import hung_on
from batch.papers.control_papers import ladder_numbers
from batch.papers.distribution_nameplates import unit_plates
from batch.papers.job_at_hand import AtHand, counted
from batch.papers.paper_data import Label, Paper, PaperFact
from batch.papers.paper_sets import LABELS, NAMEPLATES, TYPE, paper_number, type_serial
from batch.papers.shown import figure
from batch.results import BankRow, PanelDesign, PanelRow, Wires
from batch.rules import load
from batch.schedules.designations import US_SYMBOLS, PanelMarks, marks_of
from batch.schedules.label_list import needed_words, sccr_words, unfinished_feeder
from batch.schedules.live_sources import LiveSources
from batch.schedules.row_words import residual_words, single_tag
from batch.sizing.words import fault_current
from batch.systems import SYSTEMS, System

OPEN = "____"
SIGNAL = "WARNING"


def nameplate_papers(at: AtHand) -> Iterator[Paper]:
    plates = tuple(_plates(at))
    if not plates:
        return
    held = sum(control.hold is not None for control in at.project.controls)
    without = f" None for {counted(held, 'control panel')} on hold." if held else ""
    yield at.paper(
        NAMEPLATES, "labels", "Nameplates",
        quantity=f"{len(plates):,}", tags=f"{plates[0].tag} to {plates[-1].tag}" if len(plates) > 1 else plates[0].tag, labels=plates,
        notes=(f"One nameplate for each box; the builder fills in what is open. Heaters bear the nameplates of their makers.{without}",),
    )  # fmt: skip


def control_label_papers(at: AtHand) -> Iterator[Paper]:
    sources = LiveSources(at.result, at.project)
    labels = tuple(_label(at, control, sources) for control in at.project.controls if control.hold is None)
    held = sum(control.hold is not None for control in at.project.controls)
    without = f" None for {counted(held, 'control panel')} on hold." if held else ""
    if labels:
        yield at.paper(
            LABELS, "labels", "Control panel labels",
            quantity=f"{len(labels):,}", tags=f"{labels[0].tag} to {labels[-1].tag}" if len(labels) > 1 else labels[0].tag, labels=labels,
            notes=(f"One label for each control panel, fixed inside its door. Single-circuit banks have their OCPDs there.{without}",),
        )  # fmt: skip


# --- nameplates -------------------------------------------------------------------------------------------------------------------


def _plates(at: AtHand) -> Iterator[Label]:
    rows = _rows(at)
    types = {kind.type: paper_number(at.project.project.project, TYPE, type_serial(kind.type)) for kind in at.project.types}
    ladders = ladder_numbers(at)
    yield from unit_plates(at)
    for control in at.project.controls:
        own = rows[control.tank.casefold()]
        if control.hold is None:
            yield _of_control(at, control, own, ladders[control.kind])
        if control.settings.boxes == "one":
            continue  # its heater panels stand in the same box
        for row in own:
            if row.hold is None:
                for panel in row.panels:
                    yield _of_panel(at, control, row, panel, types[panel.type])


def _rows(at: AtHand) -> dict[str, list[BankRow]]:
    found: dict[str, list[BankRow]] = {}
    for row in at.project.banks:
        found.setdefault(row.bank.tank.casefold(), []).append(row)
    return found


def _of_control(at: AtHand, control: TankControl, rows: Sequence[BankRow], drawing: str) -> Label:
    kw, heaters = sum(row.design.connected_kw for row in rows), sum(row.bank.quantity for row in rows)
    facts = [*_maker(drawing)]
    ends = [feeder.end for feeder in at.project.feeders if feeder.end is not None and feeder.end.unit]  # else it ends in the panel itself
    ways = {way.feeder: way.tag for end in ends for way in end.ways if way.tank == control.tank}
    us, rules = at.project.symbols == US_SYMBOLS, load(at.project.rule_set)
    for supply in control.supplies:
        way = ways.get(supply.feeder)
        fed = f"way {way}, feeder {supply.feeder}" if way else f"feeder {supply.feeder}"
        leg = rules.leg_named(supply.volts_v)
        volts = _system(supply.volts_v, SYSTEMS[supply.system], supply.neutral, supply.frequency_hz, us=us, named=leg)
        carries = f"full load {figure(supply.line_a, 'amps')} A"
        facts.append(PaperFact(supply.mark, f"{volts}; {carries}; fed from {fed}; {_fault(at, supply.fault_ka)}"))
    transformer = f"transformer {control.transformer_va:g} VA" if control.transformer_va else "no transformer of its own"
    power = f"{control.settings.control_v:g} V, {transformer}"
    facts += [
        PaperFact("Control circuit", f"{power}; {_foreign(control)}".removesuffix("; ")),
        PaperFact("Heaters", f"{counted(heaters, 'heater')}, {kw:,.6g} kW; largest {_largest(rows)}"),
        PaperFact("Short-circuit rating", _control_sccr(control, rows)),
        PaperFact("Enclosure", _enclosure(control)),
        PaperFact("Wire", _wire(rows[0].design.branch.wires, at)),
        PaperFact("Disconnects", f"{counted(len(control.supplies), 'disconnect')}{': open all' if len(control.supplies) > 1 else ''}"),
    ]
    return Label(control.tag, "heater control panel", "", "", tuple(facts))


def _of_panel(at: AtHand, control: TankControl, row: BankRow, panel: PanelRow, drawing: str) -> Label:
    design = panel.design
    feed = next(one for one in control.feeds if f"{control.tank}/{one.tag}".casefold() == panel.tag.casefold())
    supply = control.supplies[feed.supply - 1]
    facts = (
        *_maker(drawing),
        PaperFact("Supply", _system(
            design.volts_v, design.system, supply.neutral, supply.frequency_hz, us=at.project.symbols == US_SYMBOLS,
            named=load(at.project.rule_set).leg_named(design.volts_v),
        )),
        PaperFact("Full load", f"{figure(design.lines.maximum, 'amps')} A; fed from {feed.contactor} in {control.tag}, by {supply.mark}"),
        PaperFact("Heaters", f"{counted(design.heaters, 'heater')}, {design.connected_kw:,.6g} kW; largest {_largest((row,))}"),
        PaperFact("Fault current", _fault(at, panel.fault_ka)),
        PaperFact("Short-circuit rating", sccr_words(design, panel.fault_ka, unfinished_feeder(row))),
        PaperFact("Enclosure", _enclosure(design)),
        PaperFact("Wire", _wire(design.branch.wires, at)),
        PaperFact("Disconnect", f"{supply.mark} in {control.tag}"),
    )  # fmt: skip
    return Label(panel.tag, f"{panel.type}, heater panel", "", "", facts)


def _maker(drawing: str) -> tuple[PaperFact, ...]:
    return PaperFact("Maker", f"{OPEN}{OPEN}{OPEN}   Serial no. {OPEN}{OPEN}"), PaperFact("Drawing", drawing)


def _system(volts: float, system: System, neutral: bool, frequency_hz: int, *, us: bool, named: float | None = None) -> str:
    """ "480Y/277 V, 3-phase, 4-wire, 60 Hz"; "3/N/PE, 400/230 V, 50 Hz". `named`: volts to the neutral as the code names them."""
    grounded = system is System.WYE_GROUNDED
    legs = f"{volts / sqrt(3.0) if named is None else named:.0f}"
    hertz = f"{frequency_hz} Hz"
    if system.phases == 1:
        wires = {System.LINE_TO_LINE: "2-wire", System.LINE_TO_NEUTRAL: "2-wire with neutral", System.THREE_WIRE: "3-wire"}[system]
        volts_words = f"{volts / 2:g}/{volts:g} V" if system is System.THREE_WIRE else f"{volts:g} V"
        return f"{volts_words}, 1-phase, {wires}, {hertz}"
    if not us:
        return f"3{'/N' if neutral else ''}/PE, {volts:g}{f'/{legs}' if grounded else ''} V, {hertz}"
    if grounded:
        return f"{volts:g}Y/{legs} V, 3-phase, {'4-wire' if neutral else '3-wire'}, {hertz}"
    return f"{volts:g} V, 3-phase, {system}, {'4-wire' if neutral else '3-wire'}, {hertz}"


def _fault(at: AtHand, fault_ka: float | None) -> str:
    """With its date: of the revision that it was worked out for."""
    project = at.project.project
    if fault_ka is None:
        return f"available fault current {OPEN} kA, date {OPEN}"
    return f"available fault current {fault_current(fault_ka)}, calculated {project.date or OPEN}"


def _largest(rows: Sequence[BankRow]) -> str:
    return f"{1000 * max(row.bank.power_kw for row in rows):,.0f} W"


def _enclosure(thing: TankControl | PanelDesign) -> str:
    """What it stands by its place, and its material: "Type 4X, non-metallic"."""
    return f"Type {OPEN}" if thing.enclosure is None else thing.enclosure.type


def _wire(wires: Wires, at: AtHand) -> str:
    """Copper or aluminum by the temperature of terminals, as the settings have it."""
    setting = next((one for one in at.project.settings if one.name == "Terminal rating"), None)
    if setting is None:
        return f"{wires.material}, as its terminals are marked"
    return f"{wires.material}, {setting.value if setting.given else setting.why.partition(';')[0].partition(' (')[0]}"


def _control_sccr(control: TankControl, rows: Sequence[BankRow]) -> str:
    if control.sccr_marked and control.sccr_ka is not None:
        return f"{control.sccr_ka:g} kA by marked parts; builder marks"
    unfinished = ", ".join(dict.fromkeys(filter(None, map(unfinished_feeder, rows))))
    return f"SCCR {OPEN} kA, builder to mark; {needed_words(control.fault_ka, unfinished)}"


def _foreign(control: TankControl) -> str:
    return f"live from {OPEN} (by others)" if control.settings.transformer == "others" else ""


# --- labels of control panels -----------------------------------------------------------------------------------------------------


def _label(at: AtHand, control: TankControl, sources: LiveSources) -> Label:
    rows = [row for row in at.project.banks if row.bank.tank.casefold() == control.tank.casefold()]
    several = len(control.supplies) > 1
    live = [source.words for source in sources.of_tank(control.tank)] if several else []
    if control.settings.transformer == "others":
        live.append(f"{OPEN} (control power by others)")
    not_sized = sources.not_sized_at(control.tank)
    if not_sized:
        live.append(f"whatever feeds {', '.join(not_sized)}, not sized")
    also = f"Live in this box from {', '.join(live)}. Open and lock each" if live else f"Open and lock {control.supplies[0].mark}"
    warning = f"Electric shock, burns. {also}; test first. The line side of a disconnect stays live when it is open."
    facts = [
        PaperFact(supply.mark, f"{supply.disconnect}; feeder {supply.feeder}, device ahead {_ahead(supply)}") for supply in control.supplies
    ]
    designs = hung_on(control, rows)
    facts += [PaperFact("Directory", "; ".join(_feed(feed, row, marks_of(at.project)) for feed, row, _ in designs))]
    facts += [PaperFact("Replace OCPDs by", "; ".join(_replace(feed, design) for feed, _, design in designs))]
    facts += [
        PaperFact("Control fuses", _control_fuses(control)),
        PaperFact("Short-circuit rating", _control_sccr(control, rows)),
        PaperFact("Heaters", "Never energize one out of the liquid. Reset a limit only once its cause is put right."),
    ]
    kind = f"{control.type}, {control.kind}" if control.type else control.kind
    return Label(control.tag, kind, SIGNAL, warning, tuple(fact for fact in facts if fact.words))


def _feed(feed: ControlFeed, row: BankRow, marks: PanelMarks) -> str:
    """ "PCB1, CON1: 1-P1"; of a single-circuit bank "FU1, CON1: T-106/1 single circuit, HTR1 to HTR3"."""
    own = ", ".join(mark for mark in (feed.device, feed.contactor) if mark)
    if not feed.single:
        return f"{own}: {feed.tag}"
    heaters = " to ".join(dict.fromkeys(marks.heater(number) for number in (1, row.bank.quantity)))
    return f"{own}: {single_tag(row)}, {heaters}"


def _replace(feed: ControlFeed, design: PanelDesign) -> str:
    where = "in the distribution unit" if design.device_at_way else feed.device
    return f"{where} {design.panel_feeder_device.in_full}{residual_words(design)}"


def _ahead(supply: ControlSupply) -> str:
    return f"{supply.ahead_a:g} A" if supply.ahead_a is not None else f"{OPEN} A"


def _control_fuses(control: TankControl) -> str:
    words = [f"{need.words}" for need in control.parts if need.role == "control fuse"]
    return "; ".join(dict.fromkeys(words))
