"""Group 90: a test record for each heater panel and single-circuit bank that may be built: what to read, and room for what was read."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import inf
from typing import NamedTuple

from batch.control_results import ControlFeed, Element, TankControl
from batch.papers.control_box_papers import torque_words
from batch.papers.insulation_words import high_test
from batch.papers.job_at_hand import AtHand
from batch.papers.paper_data import ColumnHead, Paper, PaperFact, PaperTable, table
from batch.papers.paper_sets import RECORDS
from batch.papers.shown import shown
from batch.papers.thread_torques import unmarked_torques
from batch.results import BankRow, Needed, PanelDesign, PanelRow
from batch.rules import RuleSet, load
from batch.schedules.designations import PanelMarks, bank_before, marks_in_box
from batch.schedules.label_list import PANEL_LABELS
from batch.schedules.row_words import AS_MARKED, earthed, single_tag
from batch.sizing.placing import groups, lines_of_terminals
from batch.sizing.readings import Opened, PanelReadings, Reading, panel_readings

OPEN, ROOM = "open", ""
BLANK = "____"
TANK = "tank"


class _At(NamedTuple):
    """A panel, or a single-circuit bank, with what its record is made from. `first` is the number of its first heater in the bank."""

    tag: str
    row: BankRow
    design: PanelDesign
    panel: PanelRow | None
    first: int
    start: int
    feed: ControlFeed
    control: TankControl
    readings: PanelReadings
    marks: PanelMarks


def record_papers(at: AtHand) -> Iterator[Paper]:
    rules = load(at.project.rule_set)
    controls = {control.tank.casefold(): control for control in at.project.controls}
    known: dict[object, PanelReadings] = {}  # panels alike read alike
    for row in at.project.banks:
        if row.hold is not None:
            continue
        control = controls[row.bank.tank.casefold()]
        feeds = [feed for feed in control.feeds if feed.bank == row.label]
        for number, (design, feed, start) in enumerate(zip(groups(row.design), feeds, row.starts, strict=False)):
            panel = row.panels[number] if row.panels else None
            same = (id(design), row.supply, row.bank.power_kw, row.bank.volts_v, row.bank.phases, row.design.run_m)
            if same not in known:
                known[same] = panel_readings(
                    design, row.bank, row.supply, rules, circuits=row.design.circuits_per_heater, run_m=row.design.run_m
                )  # fmt: skip
            tag, first = (panel.tag, panel.first_heater) if panel is not None else (single_tag(row), 1)
            marks = marks_in_box(at.project, tag, bank_before(at.project, row))
            one = _At(tag, row, design, panel, first, start, feed, control, known[same], marks)
            yield _record(at, one, rules)


def _record(at: AtHand, one: _At, rules: RuleSet) -> Paper:
    # in the order of the work: terminals tight and every limit tried before a heater is energized
    tables = (
        _heaters(one, rules), _joined(one), _torques(at, one, rules), _lifted(one), _energized(one), *_opened(one)
    )  # fmt: skip
    return at.paper(
        RECORDS, "record", f"{one.tag}: test record",
        quantity="1", tags=one.tag, tables=tables, facts=tuple(_facts(at, one)), notes=tuple(_notes(one, rules)),
    )  # fmt: skip


def _facts(at: AtHand, one: _At) -> Iterator[PaperFact]:
    on = lines_of_terminals("L1-L2-L3", one.start, one.row.supply).split("-")
    lines = {f"L{number}": line for number, line in enumerate(on, start=1)}
    used = [name for name in ("L1", "L2", "L3") if any(name in reading.at for reading in one.readings.all_on)]
    kind = f"{one.panel.type}; " if one.panel is not None else ""
    what = f"{kind}{one.design.connection}, {one.design.connected_kw:g} kW"
    feeder = one.row.feeder.feeder
    supply = f"{one.row.supply.volts_v:g} V, {one.row.supply.system}{earthed(at.project, feeder)}, feeder {feeder}"
    yield PaperFact("Panel" if one.panel is not None else "Bank", f"{what}; {supply}")
    yield PaperFact("Phases as scheduled", ", ".join(f"{name} on {lines[name]}" for name in used) + "; rotation need not be tested")
    yield PaperFact("Fed by", f"{one.feed.contactor} in {one.control.tag}, its disconnect {one.control.supplies[one.feed.supply - 1].mark}")


def _number(value: float, digits: int = 4) -> str:
    """ "25.60", "480.0": four figures, and no more than three behind the point."""
    if value == inf:
        return OPEN
    whole = len(f"{value:.0f}") if value >= 1 else 1
    return f"{value:,.{min(3, max(0, digits - whole))}f}"


def _amps(value: float) -> str:
    return f"{value:,.2f}"


def _head(words: str, unit: str = "", share: float = 1.0, align: str = "right") -> ColumnHead:
    return ColumnHead(words, unit, align, share)


def _words(heading: str, share: float = 1.0) -> ColumnHead:
    return ColumnHead(heading, "", "left", share)


def _heaters(one: _At, rules: RuleSet) -> PaperTable:
    """Each circuit of each heater, dead and locked out, with its limit."""
    found, bank = one.readings, one.row.bank
    circuits = one.row.design.circuits_per_heater
    low, nominal, high = (value + (found.leads_ohm or 0.0) for value in found.heater)
    cold, hot = (rules.factor(f"insulation_{when}_mohm").value for when in ("cold", "hot"))
    volts = found.test_v.value
    headings = (
        _words("Heater", 1.1), _words("OCPD", 0.9), _head("Low", "ohm", 0.8), _head("Nominal", "ohm", 0.8),
        _head("High", "ohm", 0.8), _head("Read", "ohm", 1.1, "left"),
        _head("Insulation, cold", f"{volts:g} V DC, at least {cold:g} Mohm", 1.7, "left"),
        _head("Insulation, hot", f"at least {hot:g} Mohm", 1.4, "left"),
        _head("Sheath, tank to bar", f"at most {_number(found.bond_ohm)} ohm", 1.6, "left"),
        _words("Limit", 0.9), _words("at", 1.4), _words("Limit lifted: all contactors open, stay open", 2.2),
    )  # fmt: skip
    limits = _limits(one)
    rows = []
    for number in range(len(one.design.legs)):
        heater, circuit = number // (circuits if one.panel is not None else 1), number % circuits
        name = one.marks.heater(one.first + heater) + (f" circuit {circuit + 1}" if circuits > 1 and one.panel is not None else "")
        device = one.marks.device(one.design.branch.device.kind, number + 1) if one.panel is not None else one.feed.device
        limit = limits[heater] if heater < len(limits) and (circuit == 0 or one.panel is None) else None
        rows.append((
            name, device, _number(low), _number(nominal), _number(high), ROOM, ROOM, ROOM, ROOM,
            *((limit.mark, _strip(limit), ROOM) if limit is not None else ("", "none" if not limits else "", "")),
        ))  # fmt: skip
    rows.append((TANK, *("",) * 3, "", *("–",) * 3, ROOM, "", "", ""))
    between = "line to line" if bank.phases == 3 else "lead to lead"
    title = f"1  Each heater {between}: dead, locked out, {'its wires lifted' if _on_one_contactor(one) else 'OCPDs open'}"
    leads = (
        f"At the panel, two leads of {_number(found.leads_ohm)} ohm together counted" if found.leads_ohm is not None
        else "At the heater's leads: the length of its wires is not known; at the panel add both leads"
    )  # fmt: skip
    note = f"{leads}. Of a plastic tank its grounding probe.{_together(one)}"
    return table(f"{title} (limits are lifted later, with step 4)", headings, rows, note=note)


def _on_one_contactor(one: _At) -> bool:
    """Whether heaters stand on the same terminals with no device between, so that a meter there reads all of them at once."""
    return one.panel is None and len(one.design.legs) > 1


def _together(one: _At) -> str:
    """What a meter would read together at their terminals, and what keeps it from that."""
    ends = {end for leg in one.design.legs for end in leg.split("-")}
    neutral = "N" in ends
    if _on_one_contactor(one):
        where = f"{one.feed.contactor}, load side,{' and the neutral bar' * neutral}"
        joint = ", ".join(f"{each.at} {_number(each.band.nominal)}" for each in one.readings.joined if ("-N" in each.at) is neutral)
        return (
            f" No device between heaters: lift each one's wires off {where} and read it alone, ohms and insulation. Landed, all read "
            f"together ({joint} ohm), and one open or bad hides."
        )
    lifted = " Lift the supply's neutral first: it may be earthed." if neutral else ""
    shared = neutral or one.design.grounded in ends or any(end.startswith("WP") for end in ends)
    if shared and len(one.design.legs) > 1:
        return f"{lifted} Heaters on one neutral bar, wye point or grounded line read insulation together: lift one to find which."
    return lifted


def _limits(one: _At) -> list[Element]:
    elements = one.control.circuit.elements
    return [
        each for each in elements
        if each.kind == "limit" and each.bank == one.row.label and each.box == one.feed.strip_box
        and each.points[0].partition(":")[0] == one.feed.strip
    ]  # fmt: skip


def _strip(element: Element) -> str:
    """ "TB3:2 and :3"."""
    return f"{element.points[0]} and :{element.points[1].partition(':')[2]}"


def _readings(title: str, what: str, unit: str, listed: Sequence[Reading], words: Callable[[float], str], *, note: str = "") -> PaperTable:
    headings = (
        _words(what), _head("Low", unit), _head("Nominal", unit), _head("High", unit), _head("Read", unit, 1.5, "left")
    )  # fmt: skip
    return table(title, headings, ((one.at, *(words(value) for value in one.band), ROOM) for one in listed), note=note)


def _joined(one: _At) -> PaperTable:
    where = "the block" if one.panel is not None else f"{one.feed.contactor}, load side"
    note = "Between lines by the neutral bar." if any("-N" in reading.at for reading in one.readings.joined) else ""
    closed = "all heaters landed again" if _on_one_contactor(one) else "all OCPDs closed"
    return _readings(f"2  Dead, {closed}: at {where}, feeder wires off", "Between", "ohm", one.readings.joined, _number, note=note)


def _energized(one: _At) -> PaperTable:
    found, volts = one.readings, one.readings.volts_v
    each = [Reading(f"each heater{f', {reading.at}' if reading.at else ''}", reading.band) for reading in found.each]
    places = ", ".join(f"{pair} {BLANK} V" for pair in found.volts_at)
    note = f"Volts read: {places}. Multiply all amps by volts read / {volts:g}; the drop along the wires is not counted."
    between = " between lines" if one.row.supply.system.lines > 1 else ""
    return _readings(f"5  Covered by liquid, all on, at {volts:g} V{between}", "Line", "A", (*found.all_on, *each), _amps, note=note)


def _opened(one: _At) -> Iterator[PaperTable]:
    """What is read with one branch out, nominal: for who finds such a reading."""
    found = one.readings
    if not found.opened:
        return
    ohms, amps = found.opened[0].ohms, found.opened[0].amps
    headings = (
        _head("Out", share=3.2, align="left"), *(_head(each.at, "ohm", 0.9) for each in ohms), *(_head(each.at, "A", 0.9) for each in amps)
    )  # fmt: skip
    rows = tuple(
        (
            _out_words(one, each),
            *(_number(reading.band.nominal) for reading in each.ohms),
            *(_amps(reading.band.nominal) for reading in each.amps),
        )
        for each in found.opened
    )
    said = []
    if any(each.what == "line" for each in found.opened):  # read at the contactor's load side, behind its fuse and its pole
        said.append("Ohms with a wire or lead open: a fuse or contactor pole stands ahead of where they are read, and shows in amps alone.")
    if any(each.what == "neutral" for each in found.opened):
        said.append("Neutral open: the neutral bar is live, and heaters above 100 % burn out: open the disconnect.")
    elif any("-N" in reading.at for reading in found.joined):
        said.append("An open neutral does not show while the lines are equal.")
    yield table("6  What is read when something is open (nominal; nothing to fill in)", headings, rows, note=" ".join(said))


def _out_words(one: _At, each: Opened) -> str:
    if each.what == "line":
        return f"line {each.on}: fuse, contactor pole or wire"
    if each.what == "neutral":
        shares = ", ".join(f"{line} {100.0 * share:.1f} %" for line, share in each.volts)
        return f"the supply's neutral: volts of {shares}"
    if each.what == "pole":
        return f"one pole of any one heater, on {each.on}"
    if each.what == "heater" and not each.on:
        return "any one heater, all its poles"
    kind = one.design.branch.device.kind
    if each.what == "heater":
        return f"one heater on {each.on}"
    devices = [one.marks.device(kind, number) for number in each.branches]
    return f"{' or '.join(devices) if len(devices) < 4 else f'{devices[0]}, {devices[1]} … {devices[-1]}'} ({each.on})"


def _lifted(one: _At) -> PaperTable:
    """Beside the limits, which stand with their heaters: what else must drop every contactor of the tank."""
    circuit, reset = one.control.circuit, one.control.settings.reset
    contactors = ", ".join(dict.fromkeys(each.mark for each in circuit.power if each.kind == "contactor pole"))
    until = "stay open until RESET" if reset == "panel" else "pull in again by themselves: reset is at the limit"
    headings = (
        _words("Opened", 2.75), _words("at", 1.85), _words(f"{contactors} open, {until}", 3.0)
    )  # fmt: skip
    rows = [
        (each.kind if each.mark == each.kind else f"{each.mark}, {each.kind}", f"{each.box} {_strip(each)}", ROOM)
        for each in circuit.elements if each.kind in ("level cutoff", "interlock", "ground-fault contact")
    ]  # fmt: skip
    fuses = [each.mark for each in circuit.elements if each.kind == "fuse"]
    rows.append(("control power off, on again", f"{fuses[-1]} drawn" if fuses else "the control supply", ROOM))
    if reset == "panel":
        rows.append(("closed again, RESET not pressed", "nothing pulls in", ROOM))
    note = f"First, control power on: wire 1 to wire 2 reads {BLANK} V, nominal {one.control.settings.control_v:g} V."
    return table("4  Safety string and limits: each opened in turn, control power on, branch OCPDs open", headings, rows, note=note)


def _torques(at: AtHand, one: _At, rules: RuleSet) -> PaperTable:
    headings = (
        _words("Terminals", 2.2), _words("Marked", 1.6), _words("Tool", 1.3), _words("Initials"),
    )  # fmt: skip
    if one.panel is None:
        rows = [(one.feed.device or "its OCPD", _stated(at, one.design.feed_parts, "holder", "breaker")),
                (one.feed.contactor, _stated(at, one.design.feed_parts, "contactor"))]  # fmt: skip
        within = one.control.parts
    else:
        block = _torque(at, "panel_feeder_torque_nm", one.design.torque_nm)
        rows = [("block, line side", block), ("block, load side", AS_MARKED),
                ("branch OCPDs", _torque(at, "torque_nm", one.design.branch.torque_nm))]  # fmt: skip
        within = (*one.design.parts, *(one.control.parts if one.control.settings.boxes == "one" else ()))
    rows += [("ground bar", _stated(at, within, "ground bar")), ("heater terminals", AS_MARKED)]
    if one.design.limit_terminals:
        rows.append((f"{one.feed.strip} of the limits", _stated(at, within, "limit string terminal", "control terminal")))
    return table("3  Torque", headings, ((what, marked, ROOM, ROOM) for what, marked in rows), note=unmarked_torques(rules))


def _stated(at: AtHand, needs: Sequence[Needed], *roles: str) -> str:
    """Torque of the first part whose role has one of these words, as its stock part states it."""
    found = next((need for role in roles for need in needs if role in need.role), None)
    return torque_words(at, found) if found else AS_MARKED


def _torque(at: AtHand, key: str, value: float | None) -> str:
    if value is None:
        return AS_MARKED
    column = PANEL_LABELS[key]
    return f"{shown(column, value, at.us)} {column.shown_unit(at.us)}"


def _notes(one: _At, rules: RuleSet) -> Iterator[str]:
    cold = 100 * (1 - rules.factor("heater_cold").value)
    over, under = (100 * abs(rules.factor(f"power_{which}").value - 1) for which in ("over", "under"))
    yield (
        f"Low and high: a heater's power may stray +{over:.0f}/-{under:.0f} %. Nickel-chromium reads up to {cold:.0f} % lower cold: that "
        "little under the low limit, look; further, it fails."
    )
    hot = rules.factor("insulation_hot_mohm").value
    yield f"Insulation under {hot:g} Mohm: dry the heater, do not energize it."
    yield from high_test(one.readings.test_v, rules)
    if not one.readings.bond_known:
        yield "Length of the grounding conductor not known: the limit to the ground bar is a usual figure."
