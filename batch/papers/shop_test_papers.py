"""Group 90, for whoever builds the boxes: what is tested before a control panel or a heater panel leaves the shop, without heaters.

What each step must show follows from the circuit's own data. Common practice, no source: a shop's own test plan goes before it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from batch.control_results import LIVE, Element, TankControl
from batch.papers.control_box_papers import built_alike, torque_words
from batch.papers.insulation_words import volts_of_test
from batch.papers.job_at_hand import AtHand, first_of
from batch.papers.paper_data import ColumnHead, Paper, PaperFact, PaperTable, table
from batch.papers.paper_sets import RECORDS, TYPE, paper_number
from batch.papers.thread_torques import unmarked_torques
from batch.rules import RuleSet, load
from batch.schedules.designations import marks_of

ROOM = ""
STEPS = (ColumnHead("Do", share=3.6), ColumnHead("Must show", share=4.6), ColumnHead("Shown", share=0.8), ColumnHead("Initials", share=0.9))



def shop_test_papers(at: AtHand) -> Iterator[Paper]:
    """A record for control panels that are built alike, and one for all heater panels; none for what is on hold."""
    rules = load(at.project.rule_set)
    for type, alike in built_alike(at).items():
        control = alike[0]
        if control.hold is not None:
            continue
        yield at.paper(
            RECORDS, "record", f"{type}: shop test", number=f"S{type.rpartition(' ')[2]}",
            quantity=f"{len(alike):,}", tags=first_of(one.tag for one in alike),
            facts=tuple(_facts(at, control, alike)), tables=(_dead(at, control, rules), _torques(at, control, rules), steps_alive(control)),
            notes=("One copy filled in for each. Test power only, by whoever is qualified for it; no heaters connected.",),
        )  # fmt: skip
    yield from _of_heater_panels(at, rules)


def _facts(at: AtHand, control: TankControl, alike: Sequence[TankControl]) -> Iterator[PaperFact]:
    yield PaperFact("Control panel", f"________, one of {first_of((one.tag for one in alike), 8)}; serial no. ________")
    drawing = paper_number(at.project.project.project, TYPE, f"C{control.type.rpartition(' ')[2]}")
    yield PaperFact("By", f"{drawing}, its power circuit and parts; {control.kind}; its wiring list")


# --- control panels -----------------------------------------------------------------------------------------------------------------


def _dead(at: AtHand, control: TankControl, rules: RuleSet) -> PaperTable:
    ground = marks_of(at.project).ground_bar
    volts = volts_of_test([supply.volts_v for supply in control.supplies], rules)
    least = rules.factor("insulation_cold_mohm").value
    rows = [
        ("Wiring list, wire by wire", "each wire ends where it is listed, with its number at both ends"),
        (f"Plate, door, ground terminals to the {ground}", "metal to metal; ____ ohm"),
        (f"Power lines joined, disconnect closed, contactors held in, to the {ground}: {volts}; control fuses drawn",
         f"at least {least:g} Mohm; ____ Mohm"),
    ]  # fmt: skip
    fuses = [one.mark for one in control.circuit.elements if one.kind == "fuse"]
    if fuses:
        ratings = ", ".join(f"{value:g} A" for value in (control.primary_fuse_a, control.secondary_fuse_a) if value is not None)
        rows.append((f"{', '.join(fuses)}", f"{ratings or 'rating to be chosen ____'}, as listed"))
    if control.primary_v:
        rows.append(("Transformer's primary taps", f"set for {control.primary_v:g} V; secondary {control.settings.control_v:g} V"))
    rows.append(("Nameplate and label", "as on their papers; short-circuit rating filled in"))
    return table("1  Dead, locked out", STEPS, ((*row, ROOM, ROOM) for row in rows))


def _torques(at: AtHand, control: TankControl, rules: RuleSet) -> PaperTable:
    heads = (ColumnHead("Terminals of", share=3.0), ColumnHead("Torque", share=1.6), ColumnHead("Tool", share=1.2), ColumnHead("Initials"))
    found: dict[tuple[str, str], None] = {}
    for need in (*control.parts, *control.feed_parts):
        torque = torque_words(at, need)
        if torque:
            found[f"{need.role}{f' {need.part}' if need.part else ''}", torque] = None
    return table("2  Torque", heads, ((what, torque, ROOM, ROOM) for what, torque in found), note=unmarked_torques(rules))


def steps_alive(control: TankControl) -> PaperTable:
    """Each step with what it must show."""
    circuit, reset = control.circuit, control.settings.reset != "at the limit"
    elements = circuit.elements
    contactors = [coil.mark for coil in control.coils]
    every = ", ".join(contactors)
    selector = next((one.mark for one in elements if one.kind == "selector"), "")
    button = next((one.mark for one in elements if one.kind == "button"), "RESET")
    latch = next((one.mark for one in elements if one.kind == "coil" and one.mark not in contactors), "")
    lamps = [one.mark for one in elements if one.kind == "lamp"]
    bridges = list(_bridges(control))
    field = "; ".join(f"{what} {where}" for what, where in bridges) or "nothing: no limit, level cutoff or interlock"
    calls = [one for one in elements if one.kind == "temperature contact"]
    contacts = ", ".join(f"{one.mark} {_ends(one)}" for one in calls)
    rows = [(f"Bridge for the test: {field}" + (f"; {contacts}" if contacts else ""), "bridges counted: ____; all taken out again: ____")]
    power_on = f"{lamps[0]} lit" if lamps else "control power present"
    on = f"Control power on ({_test_supply(control)})"
    if reset:
        rows += [
            (f"{on}, {selector} AUTO", f"{power_on}; {every} open"),
            (f"{button} pressed and let go", f"{latch} in and stays; {every} in; limit-string lamp out, bank lamps lit"),
        ]
    else:
        rows.append((f"{on}, {selector} AUTO", f"{power_on}; {every} in by themselves"))
    after = f"{every} open; closed again: nothing until {button}" if reset else f"{every} open; closed again: they pull in by themselves"
    rows += [(f"Lift the bridge of the {what}", after) for what, _ in bridges]
    rows.append(("Control power off and on", after.replace("closed again", "on again")))
    for one in calls:
        drop = [mark for mark in contactors if mark in hung_behind(control, one)]
        stay = [mark for mark in contactors if mark not in drop]
        rest = f"; {', '.join(stay)} stay{'s' if len(stay) == 1 else ''} in" if stay else ""
        rows.append((f"Open {one.mark} {_ends(one)}, close again", f"{', '.join(drop)} open{rest}; closed again: in by themselves"))
    if reset:
        for mark in contactors:
            closed = [one for one in elements if one.kind == "contact" and one.of == mark and one.closed]
            if closed:
                ends = f"{closed[0].points[0]} and :{closed[0].points[1].partition(':')[2]}"
                rows.append((f"All open; {mark} held in by hand ({ends} opens), {button} pressed", f"{latch} does not pull in"))
    rows.append((f"{selector} OFF", f"{every} open"))
    return table("3  Control power on, power circuit dead", STEPS, ((*row, ROOM, ROOM) for row in rows))


def _test_supply(control: TankControl) -> str:
    """Where control power is fed in for the test, so that the power circuit stays dead: behind the last fuse, since a winding would put the
    line's volts on its primary's terminals, and a line's terminal on its line."""
    volts, elements = f"{control.settings.control_v:g} V", control.circuit.elements
    [source] = [one for one in elements if one.kind in ("secondary", "supply")]
    fuses = [one.mark for one in elements if one.kind == "fuse"]
    ahead = next((one for one in elements if one.kind == "fuse" and one.end == LIVE), None)
    if ahead is not None and (control.primary_v or source.points[1] == control.supplies[0].neutral_bar):
        return f"{', '.join(fuses)} drawn; {volts} of a fused test supply on {ahead.points[1]}, its grounded side on {source.points[1]}"
    return f"{volts} of a test supply on {source.points[0]} and {source.points[1]}"


def _bridges(control: TankControl) -> Iterator[tuple[str, str]]:
    """What the test needs bridged in place of the field: the limits' strips as a whole, then what lands on the control strip alone."""
    elements = control.circuit.elements
    limits = [one for one in elements if one.kind == "limit"]
    home = [one for one in control.circuit.terminals if one.box == "HCP" and not one.jumper]
    inside = [one for one in limits if one.box == "HCP"]
    if limits and len(inside) < len(limits):
        strip = home[0].strip
        yield "limit string", f"{strip}:1 to {strip}:2"
    elif limits:
        yield "limits", ", ".join(f"{one.mark} {_ends(one)}" for one in inside)
    for one in elements:
        if one.kind in ("level cutoff", "interlock") or (one.kind == "ground-fault contact" and one.field):
            yield one.kind, _ends(one)


def _ends(one: Element) -> str:
    return f"{one.points[0]} to :{one.points[1].partition(':')[2]}"


def hung_behind(control: TankControl, contact: Element) -> set[str]:
    """Coils that drop with one temperature contact while everything else is in: those that no other closed way leads to."""
    elements = control.circuit.elements
    dropped: set[str] = set()
    while True:
        closed = [
            one for one in elements
            if one is not contact and one.start != one.end
            and one.kind not in ("button", "coil", "lamp", "load", "primary", "secondary", "supply", "ground")
            and (one.kind != "contact" or (one.of in dropped) == one.closed)
        ]  # fmt: skip
        live, grown = {LIVE}, True
        while grown:
            more = {end for one in closed for end in (one.start, one.end) if one.start in live or one.end in live}
            grown = not more <= live
            live |= more
        found = {one.mark for one in elements if one.kind == "coil" and one.start not in live}
        if found == dropped:
            return found
        dropped = found


# --- heater panels ------------------------------------------------------------------------------------------------------------------


def _of_heater_panels(at: AtHand, rules: RuleSet) -> Iterator[Paper]:
    types = [kind for kind in at.project.types if not kind.hold]
    if not types:
        return
    ground = marks_of(at.project).ground_bar
    asked = {panel.tag: volts_of_test([row.supply.volts_v], rules) for row in at.project.banks for panel in row.panels}
    tags = [(kind.type, tag) for kind in types for tag in kind.tags]
    differ = len({asked[tag] for _, tag in tags}) > 1
    volts = "volts as below" if differ else asked[tags[0][1]]
    least = rules.factor("insulation_cold_mohm").value
    steps = (
        ("Wiring list of its type, wire by wire", "each wire ends where it is listed, with its number at both ends"),
        ("Terminals of the limit strip, limits not connected", "jumpers only: 1-2, 3-4 and so on; nothing else joined"),
        (f"Plate, door, ground terminals to the {ground}", "metal to metal; ____ ohm"),
        (f"Block joined, OCPDs closed, to the {ground}: {volts}", f"at least {least:g} Mohm"),
        ("Each OCPD in turn: block to its load side", "joined closed, apart open; rating as on the label"),
        ("Torque of every terminal", "as in the table of its type's parts, else as marked"),
        ("Nameplate and label", "as on their papers; short-circuit rating filled in"),
    )
    heads = (
        ColumnHead("Panel", share=2.2), ColumnHead("Type", share=1.0), ColumnHead("Serial no.", share=1.6), ColumnHead("Wires", share=0.9),
        ColumnHead("Strip", share=0.9), ColumnHead("Ground", "ohm", share=1.0),
        *([ColumnHead("Insulation at", share=1.0)] if differ else []), ColumnHead("Insulation", "Mohm", share=1.1),
        ColumnHead("OCPDs", share=0.9), ColumnHead("Torque, tool", share=1.4), ColumnHead("Plate, label", share=1.0),
        ColumnHead("Initials, date", share=1.4),
    )  # fmt: skip
    rows = tuple((tag, type, *(ROOM,) * 4, *((asked[tag],) if differ else ()), *(ROOM,) * 5) for type, tag in tags)
    what = (ColumnHead("Do", share=3.6), ColumnHead("Must show", share=4.6))
    yield at.paper(
        RECORDS, "record", "Heater panels: shop test", number="S00", quantity=f"{len(rows):,}", tags=first_of(row[0] for row in rows),
        tables=(
            table("Each heater panel, dead, before it leaves the shop", what, steps, note=unmarked_torques(rules)),
            table("Panels", heads, rows),
        ),
    )  # fmt: skip
