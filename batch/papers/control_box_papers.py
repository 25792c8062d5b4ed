"""Group 30: each control panel that is built differently, its power circuit drawn and its parts by designation."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from math import ceil

from batch.control_results import TankControl
from batch.drawings.control_power import power_alt_text, power_plans
from batch.papers.box_entries import entries_of_control
from batch.papers.door_devices import door_of
from batch.papers.grounding_wires import drawn_grounds, fed_from, grounds_to_draw
from batch.papers.job_at_hand import AtHand, first_of
from batch.papers.open_points import open_on_control
from batch.papers.paper_data import ColumnHead, Paper, PaperTable, table
from batch.papers.paper_sets import TYPE
from batch.papers.plate_rows import plate_words
from batch.results import Needed, PanelDesign
from batch.schedules.designations import marks_of
from batch.schedules.hanging import BoxFeed, hung_on
from batch.schedules.row_words import AS_MARKED, band_words, single_tag
from batch.sizing.box_parts import power_in_box
from batch.sizing.control_parts import with_coil
from batch.sizing.labels import natural
from batch.sizing.marks import block_in_box, pole_of
from batch.sizing.power_circuit import POWER_WIRES, RESIDUAL
from batch.units import convert

CLOSE = 1e-9
TIGHTENED = ("disconnect", "contactor", "block", "breaker", "holder", "transformer", "terminal", "bar", "relay", "point", "contacts")


def built_alike(at: AtHand) -> Mapping[str, list[TankControl]]:
    """Control panels by what they are built of, those on hold last."""
    found: dict[str, list[TankControl]] = {}
    for control in at.project.controls:
        found.setdefault(control.type, []).append(control)
    return dict(sorted(found.items(), key=lambda one: (one[1][0].hold is not None, natural(one[0]))))


def control_box_papers(at: AtHand) -> Iterator[Paper]:
    for type, alike in built_alike(at).items():
        control = alike[0]
        hung = hung_on(control, at.banks_of(control.tank))
        grounds = drawn_grounds(alike, partial(grounds_to_draw, at))
        drawings = power_plans(control, at.project.symbols, at.project.wording, grounds)
        held = " ".join(dict.fromkeys(one.hold.message for one in alike if one.hold is not None))
        yield at.paper(
            TYPE, "ladder", f"{type}: power circuit and parts",
            number=box_serial(control),
            band=band_words(held), quantity=f"{len(alike):,}", tags=first_of(one.tag for one in alike),
            figures=tuple(at.figure(one, power_alt_text(control, part, len(drawings))) for part, one in enumerate(drawings, start=1)),
            tables=tuple(_tables(at, alike, hung)),
        )  # fmt: skip


def box_serial(control: TankControl) -> str:
    """Serial of the drawing of its power circuit and parts: "C02", on hold "HC02"."""
    return f"{'H' if control.hold is not None else ''}C{control.type.rpartition(' ')[2]}"


def _tables(at: AtHand, alike: Sequence[TankControl], hung: Sequence[BoxFeed]) -> Iterator[PaperTable]:
    control = alike[0]
    heads = (ColumnHead("Control panel", share=1.4), ColumnHead("Disconnects on feeders", share=2.6), ColumnHead("Fed from", share=1.6),
             ColumnHead("Ladder", share=0.9), ColumnHead("Feeds", share=4.4))  # fmt: skip
    yield table("Control panels built so", heads, (
        (one.tag, ", ".join(f"{supply.mark} on {supply.feeder}" for supply in one.supplies), fed_from(at, one), one.kind,
         "; ".join(f"{feed.contactor} to {one.tank}/{feed.tag}" for feed in one.feeds)) for one in alike
    ))  # fmt: skip
    yield _by_tag(at, control, hung)
    yield door_of(control)
    yield entries_of_control(at, alike)
    yield from open_on_control(alike)
    if control.settings.boxes == "one" and any(not one.feed.single for one in hung):
        own = (
            ColumnHead("Heater panel in this box", share=1.6), ColumnHead("Drawn as", share=1.0), ColumnHead("Designations", share=5.0),
        )  # fmt: skip
        yield table("Heater panels in the same box", own, (
            (one.feed.tag, _type_of(one), _in_box(at, one)) for one in hung if not one.feed.single
        ))  # fmt: skip


def _type_of(one: BoxFeed) -> str:
    return next((panel.type for panel in one.row.panels if panel.design is one.design), "")


def _in_box(at: AtHand, one: BoxFeed) -> str:
    plain, number = marks_of(at.project), one.feed.number
    first, block = plain.device(one.design.branch.device.kind, 1), block_in_box(plain.block, number)
    if number == 1:
        return f"as drawn: {first}, {one.feed.strip or 'no limits'}; but its block {block}"
    wires = f"its branch wires with its tag before their numbers: {one.feed.tag} 1.{plain.pole_letter(1)}"
    return f"with {number} before each: {number}{first}, {block}, {one.feed.strip or 'no limits'}; {wires}"


# --- parts by designation -----------------------------------------------------------------------------------------------------------


def _by_tag(at: AtHand, control: TankControl, hung: Sequence[BoxFeed]) -> PaperTable:
    heads = (ColumnHead("Designation", share=2.2), ColumnHead("Part", share=1.5), ColumnHead("Description", share=5.4),
             ColumnHead("Terminals", share=1.5), ColumnHead("Quantity", "", "right", 0.8))  # fmt: skip
    rows = []
    fuses = _fuse_marks(control)
    seen = {"control fuse": 0, "control fuse holder": 0}
    for need in (*control.parts, *control.feed_parts):
        if need.role in seen:
            marks = fuses[min(seen[need.role], len(fuses) - 1)] if fuses else ""
            seen[need.role] += 1
        else:
            marks = _marks(control, need, hung)
        ordered = described(with_coil(need, [control.settings.control_v])) + _by_colour(control, need)
        rows.append((marks, need.role, ordered, torque_words(at, need), quantity_words(at, need)))
    rows.sort(key=lambda row: row[0] == "")
    note = f"Terminals: torque of the stock part, else of its marking. One control panel. {_uncounted(control)}"
    return table("Parts of one control panel, by designation", heads, rows, note=note)


def _by_colour(control: TankControl, need: Needed) -> str:
    """ ": 24 red, 6 white": of the control or power wires, of one size, that stay in the box."""
    if need.role == "control wire":
        within = [one for one in control.circuit.wires if not one.field and one.size and one.purpose not in POWER_WIRES]
    elif need.role == "power wire":
        within = [one for one in power_in_box(control) if need.words.startswith(f"{one.size.rpartition(' x ')[2]} ")]
    else:
        return ""
    return f": {', '.join(f'{many} {hue}' for hue, many in Counter(one.colour for one in within).items())}"


def _uncounted(control: TankControl) -> str:
    """What no line of Materials counts, and terminals that nothing lands on."""
    spare = [one.point for one in control.circuit.terminals if one.box == "HCP" and not one.wire]
    words = f" Spare terminals: {', '.join(spare)}." if spare else ""
    cut = "Wire in the box: an estimate, common practice, cut to fit by the wiring list."
    return cut + words + plate_words(control.enclosure)


def described(need: Needed) -> str:
    return f"{need.part}: {need.words}" if need.part and need.part not in need.words else need.words


def quantity_words(at: AtHand, need: Needed) -> str:
    if need.unit == "m" and at.us:
        return f"{ceil(convert(need.quantity, 'm', 'ft') - CLOSE)} ft"  # as it is bought: never less
    return f"{need.quantity or 1:g}{'' if need.unit == 'ea' else f' {need.unit}'}"


def torque_words(at: AtHand, need: Needed) -> str:
    """Torque of a part's terminals, as its stock part states it; "" of what has none to tighten."""
    if not any(word in need.role for word in TIGHTENED) or "jumper" in need.role:
        return ""
    stated = at.torques().get(need.part)
    if stated is None:
        return AS_MARKED
    return f"{convert(stated, 'N·m', 'lbf·in'):.0f} lbf·in" if at.us else f"{stated:.1f} N·m"


def _fuse_marks(control: TankControl) -> list[str]:
    """Of the primary and of the secondary, as they are listed."""
    primary = [one.mark for one in control.circuit.ladder[0].elements if one.kind == "fuse"] if control.primary_v else []
    others = [one.mark for one in control.circuit.elements if one.kind == "fuse" and one.mark not in primary]
    return [", ".join(dict.fromkeys(marks)) for marks in (primary, others) if marks]


def _marks(control: TankControl, need: Needed, hung: Sequence[BoxFeed]) -> str:
    """Designations of a part in its box; "" of what has none."""
    if need in control.feed_parts:
        return ", ".join(dict.fromkeys(_of_feed(control, one, need) for one in hung if _has(one.design, need)))
    elements, role = control.circuit.elements, need.role
    contactors = {coil.mark for coil in control.coils}
    coils = [one.mark for one in elements if one.kind == "coil" and one.mark not in contactors]
    kinds = {"control transformer": "primary", "pilot light": "lamp", "selector": "selector", "push button": "button",
             "temperature controller": "temperature contact"}  # fmt: skip
    if role in kinds:
        marks = [one.mark for one in elements if one.kind == kinds[role]]
    elif role in ("disconnect", "fusible disconnect"):
        marks = [one.mark for one in control.supplies if one.disconnect == need.words]
    elif role == "power distribution block":
        marks = [one.block_mark for one in control.supplies if one.block == need.words]
    elif role == "back-up contactor":
        marks = [one.backup for one in control.supplies if one.backup_words == need.words]
    elif role == "latch relay":
        marks = coils[:1]
    elif role == "control relay":
        marks = coils[1:]
    elif role == "auxiliary contacts":
        marks = [f"on {', '.join(_with_contacts(control, need))}"]
    elif role == "ground-fault relay":
        marks = [feed.ground_fault_relay for feed in control.feeds if feed.ground_fault_relay]
    elif role == "control terminal":
        last: dict[str, int] = {}
        for terminal in control.circuit.terminals:
            if terminal.box == "HCP":
                last[terminal.strip] = terminal.number
        marks = [f"{strip}:1 to :{number}" for strip, number in last.items()]
    else:
        marks = []
    return ", ".join(dict.fromkeys(marks))


def _with_contacts(control: TankControl, need: Needed) -> Iterator[str]:
    """Contactors with as many auxiliary contacts as a line of parts says."""
    for mark in (coil.mark for coil in control.coils):
        own = [one for one in control.circuit.elements if one.kind == "contact" and one.of == mark]
        make = sum(not one.closed for one in own)
        if need.words.startswith(f"{make} make and {len(own) - make} break"):
            yield mark


def _has(design: PanelDesign, need: Needed) -> bool:
    return any(own._replace(quantity=0) == need._replace(quantity=0) for own in design.feed_parts)


def _of_feed(control: TankControl, one: BoxFeed, need: Needed) -> str:
    if need.role.endswith("contactor"):
        return one.feed.contactor
    if need.role == RESIDUAL:
        return one.feed.residual
    if not one.feed.device:
        return single_tag(one.row) if one.feed.single else one.feed.tag
    poles = len(one.feed.on)
    first, last = pole_of(one.feed.device, 1), pole_of(one.feed.device, poles)
    return first if poles == 1 else f"{first} to {last.removeprefix(one.feed.device)}"
