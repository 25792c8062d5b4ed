"""Groups 60 and 70: a nameplate for each box that may be built, and the label of each control panel. Whoever builds a box marks it: what
nobody here can know is left open.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from batch.control_results import TankControl
from batch.counted_words import counted
from batch.papers.assembly_marking import assembly_facts
from batch.papers.control_box_papers import box_serial
from batch.papers.control_papers import ladder_numbers
from batch.papers.distribution_nameplates import unit_plates
from batch.papers.job_at_hand import AtHand
from batch.papers.nameplate_words import fault_on_plate, system_on_plate
from batch.papers.paper_data import Label, Paper, PaperFact
from batch.papers.paper_sets import LABELS, NAMEPLATES, TYPE, paper_number, type_serial
from batch.papers.shown import figure
from batch.results import BankRow, PanelDesign, PanelRow, Wires
from batch.rules import load
from batch.schedules.control_label_list import CONTROL_LABELS, OPEN, control_label_facts, control_sccr_words
from batch.schedules.designations import US_SYMBOLS
from batch.schedules.hanging import banks_of_tanks
from batch.schedules.label_list import sccr_words, unfinished_feeder
from batch.schedules.row_words import earthed
from batch.systems import SYSTEMS

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
    labels = tuple(_label(row) for row in at.rows(CONTROL_LABELS))
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
    rows = banks_of_tanks(at.project)
    name = at.project.project.project
    types = {kind.type: paper_number(name, TYPE, type_serial(kind.type)) for kind in at.project.types}
    ladders = ladder_numbers(at)
    yield from unit_plates(at)
    for control in at.project.controls:
        own = rows[control.tank.casefold()]
        together = control.settings.boxes == "one"
        if control.hold is None:
            inside = dict.fromkeys(types[panel.type] for row in own for panel in row.panels) if together else ()
            drawings = (paper_number(name, TYPE, box_serial(control)), *inside, ladders[control.kind])
            yield _of_control(at, control, own, ", ".join(drawings))
        if together:
            continue  # its heater panels stand in the same box
        for row in own:
            if row.hold is None:
                for panel in row.panels:
                    yield _of_panel(at, control, row, panel, types[panel.type])


def _of_control(at: AtHand, control: TankControl, rows: Sequence[BankRow], drawing: str) -> Label:
    kw, heaters = sum(row.design.connected_kw for row in rows), sum(row.bank.quantity for row in rows)
    facts = [*_maker(drawing)]
    ways = at.ways_to(control.tank)
    us, rules = at.project.symbols == US_SYMBOLS, load(at.project.rule_set)
    for supply in control.supplies:
        way = ways.get(supply.feeder)
        fed = f"way {way.tag}, feeder {supply.feeder}" if way is not None else f"feeder {supply.feeder}"
        leg = rules.leg_named(supply.volts_v)
        volts = system_on_plate(supply.volts_v, SYSTEMS[supply.system], supply.neutral, supply.frequency_hz, us=us, named=leg)
        volts += earthed(at.project, supply.feeder)
        carries = f"full load {figure(supply.line_a, 'amps')} A"
        facts.append(PaperFact(supply.mark, f"{volts}; {carries}; fed from {fed}; {fault_on_plate(at, supply.fault_ka)}"))
    transformer = f"transformer {control.transformer_va:g} VA" if control.transformer_va else "no transformer of its own"
    power = f"{control.settings.control_v:g} V, {transformer}"
    facts += [
        *assembly_facts(rules, max(supply.line_a for supply in control.supplies)),
        PaperFact("Control circuit", f"{power}; {_foreign(control)}".removesuffix("; ")),
        PaperFact("Heaters", f"{counted(heaters, 'heater')}, {kw:,.6g} kW; largest {_largest(rows)}"),
        PaperFact("Short-circuit rating", control_sccr_words(control, rows)),
        PaperFact("Enclosure", _enclosure(control)),
        PaperFact("Wire", _wire(rows[0].design.branch.wires, at)),
        PaperFact("Disconnects", _disconnects(control)),
    ]
    return Label(control.tag, "heater control panel", "", "", tuple(facts))


def _of_panel(at: AtHand, control: TankControl, row: BankRow, panel: PanelRow, drawing: str) -> Label:
    design = panel.design
    feed = next(one for one in control.feeds if f"{control.tank}/{one.tag}".casefold() == panel.tag.casefold())
    supply, rules = control.supplies[feed.supply - 1], load(at.project.rule_set)
    facts = (
        *_maker(drawing),
        PaperFact("Supply", system_on_plate(
            design.volts_v, design.system, feed.neutral, supply.frequency_hz, us=at.project.symbols == US_SYMBOLS,
            named=rules.leg_named(design.volts_v),
        ) + earthed(at.project, row.feeder.feeder)),
        *assembly_facts(rules, design.lines.maximum),
        PaperFact("Full load", f"{figure(design.lines.maximum, 'amps')} A; fed from {feed.contactor} in {control.tag}, by {supply.mark}"),
        PaperFact("Heaters", f"{counted(design.heaters, 'heater')}, {design.connected_kw:,.6g} kW; largest {_largest((row,))}"),
        PaperFact("Fault current", fault_on_plate(at, panel.fault_ka)),
        PaperFact("Short-circuit rating", sccr_words(design, panel.fault_ka, unfinished_feeder(row))),
        PaperFact("Enclosure", _enclosure(design)),
        PaperFact("Wire", _wire(design.branch.wires, at)),
        PaperFact("Disconnect", f"{supply.mark} in {control.tag}"),
    )  # fmt: skip
    return Label(panel.tag, f"{panel.type}, heater panel", "", "", facts)


def _maker(drawing: str) -> tuple[PaperFact, ...]:
    return PaperFact("Maker", f"{OPEN}{OPEN}{OPEN}   Serial no. {OPEN}{OPEN}"), PaperFact("Drawing", drawing)


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


def _foreign(control: TankControl) -> str:
    return f"live from {OPEN} (by others)" if control.settings.transformer == "others" else ""


def _disconnects(control: TankControl) -> str:
    """How many must be open before nothing in the box is live: one that others have, of control power, is not in the box and counts."""
    many = len(control.supplies)
    if control.settings.transformer == "others":
        return f"{counted(many, 'disconnect')} and {OPEN} of the control power (by others): open all"
    return f"{counted(many, 'disconnect')}{': open all' if many > 1 else ''}"


# --- labels of control panels -----------------------------------------------------------------------------------------------------


def _label(row: Mapping) -> Label:
    facts = tuple(PaperFact(caption, words) for caption, words in control_label_facts(row) if words)
    return Label(row["panel"], row["type"], SIGNAL, row["warning"], facts)
