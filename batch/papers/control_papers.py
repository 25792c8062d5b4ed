"""Groups 40 and 50: the control ladder of each kind of control panel, and the wiring of those that are wired alike."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from batch.control_results import ControlWire, TankControl
from batch.drawings.control_grounds import GroundWire
from batch.drawings.ladder import alt_text, plans
from batch.drawings.ladder_rows import Alike
from batch.papers.grounding_wires import fed_from, grounds_of_control
from batch.papers.job_at_hand import AtHand, first_of
from batch.papers.paper_data import ColumnHead, Paper, PaperTable, table
from batch.papers.paper_sets import LADDER, WIRING, paper_number
from batch.schedules.hanging import hung_on
from batch.schedules.row_words import at_most_words, band_words, size_or_words
from batch.sizing.labels import natural
from batch.sizing.power_circuit import NEUTRAL_BAR

NO_RATING = "to be chosen"
WIRES = (
    ColumnHead("No.", "", "right", 0.5), ColumnHead("Wire", share=0.9), ColumnHead("From", share=2.0), ColumnHead("To", share=2.0),
    ColumnHead("Colour", share=1.1), ColumnHead("Size", share=1.0),
)  # fmt: skip


def ladder_papers(at: AtHand) -> Iterator[Paper]:
    for kind, alike in _kinds(at):
        drawn = Alike(alike[0], len(alike), len({_strips(one) for one in alike}) == 1)
        drawings = plans(drawn, at.project.symbols, at.project.wording)
        yield at.paper(
            LADDER, "ladder", f"{kind}: control circuit",
            band=_band(alike), quantity=f"{len(alike):,}", tags=first_of(one.tag for one in alike),
            figures=tuple(at.figure(one, alt_text(drawn, sheet, len(drawings))) for sheet, one in enumerate(drawings, start=1)),
            tables=(_panels(alike), _parts(alike), _contacts(alike[0])),
        )  # fmt: skip


def _kinds(at: AtHand) -> list[tuple[str, list[TankControl]]]:
    """Control panels by their ladder, those on hold last."""
    kinds: dict[str, list[TankControl]] = {}
    for control in at.project.controls:
        kinds.setdefault(control.kind, []).append(control)
    return sorted(kinds.items(), key=lambda one: (one[1][0].hold is not None, natural(one[0])))


def ladder_numbers(at: AtHand) -> dict[str, str]:
    """Drawing number of each kind of ladder."""
    return {kind: paper_number(at.project.project.project, LADDER, number) for number, (kind, _) in enumerate(_kinds(at), start=1)}


def control_wiring_papers(at: AtHand) -> Iterator[Paper]:
    """A list for control panels that are wired alike, wire by wire."""
    same: dict[tuple[bool, tuple[ControlWire, ...], tuple[GroundWire, ...]], list[TankControl]] = {}
    for control in at.project.controls:
        same.setdefault((control.hold is not None, control.circuit.wires, grounds_of_control(at, control)), []).append(control)
    for (_, wires, grounds), alike in same.items():
        first = alike[0]
        yield at.paper(
            WIRING, "wiring", f"{first.tag}: wiring of the control panel",
            band=_band(alike), quantity=f"{len(alike):,}", tags=first_of(one.tag for one in alike),
            tables=(_wires(wires, grounds), _tags(at, alike)),
            notes=tuple(_wiring_notes(at, first)),
        )  # fmt: skip


def _wiring_notes(at: AtHand, control: TankControl) -> Iterator[str]:
    yield f"{control.kind}. {_two_wires(control.circuit.wires)}Wires that leave the box bear the tank's tag before their number."
    hung = hung_on(control, at.banks_of(control.tank))
    kinds = dict.fromkeys(f"{wires.material} {wires.insulation}" for wires in (one.design.panel_feeder_wires for one in hung))
    yield f"Power wires are {' or '.join(kinds)} as their runs, control wires copper, insulated for the highest volts in the box."
    interlock = next((one for one in control.circuit.elements if one.kind == "interlock"), None)
    if interlock is not None:
        here = f"{interlock.points[0]} to :{interlock.points[1].partition(':')[2]}"
        yield f"Interlock: a dry contact of others that opens to stop the heaters; where the plant has none, a wire {here}."
    yield from _tap_notes(control)
    if control.primary_v:
        mark = next(one.mark for one in control.circuit.elements if one.kind == "primary")
        yield f"{mark}: links between taps of its primary for {control.primary_v:g} V, by its maker's marking, are not on this list."
    if control.settings.controller == "panel":
        yield "Sensor of the temperature controller: terminals and leads by its maker; a broken sensor must open its contact."
    yield "Plate and door: size by common practice, no source; a strap of the box's maker serves as well."


def _tap_notes(control: TankControl) -> Iterator[str]:
    """Wires from a supply's terminals to the first fuses of the control circuit: no device ahead of them is of their size."""
    first = control.circuit.ladder[0].elements
    points = {point for one in first for point in one.points}
    marks = {one.mark for one in first}
    fuses = dict.fromkeys(one.mark for one in first if one.kind == "fuse")
    taps = [one for one in control.circuit.wires if one.end in points and one.start.partition(":")[0] not in marks and not one.field]
    if taps and fuses:
        run = ", ".join(f"{_point(one.start_box, one.start)} to {_point(one.end_box, one.end)}" for one in taps)
        yield f"{run}: taps. {' and '.join(fuses)} keep them from overload, and only the device ahead of the box clears a short " \
              "circuit of theirs: inside the box, as short as can be, at most 10 ft (3 m), apart from other wires and from what burns."


def _band(alike: Sequence[TankControl]) -> str:
    return band_words(" ".join(dict.fromkeys(one.hold.message for one in alike if one.hold is not None)))


def _strips(control: TankControl) -> tuple[tuple[str, int], ...]:
    """How many limits stand on each strip."""
    count: dict[str, int] = {}
    for element in control.circuit.elements:
        if element.kind == "limit":
            name = f"{element.box} {element.points[0].partition(':')[0]}"
            count[name] = count.get(name, 0) + 1
    return tuple(count.items())


def _panels(alike: Sequence[TankControl]) -> PaperTable:
    headings = (
        ColumnHead("Control panel", share=1.6), ColumnHead("Supplies", share=2.4), ColumnHead("Contactors", share=3.4),
        ColumnHead("Limits on a strip", share=3.0),
    )  # fmt: skip
    rows = []
    for one in alike:
        supplies = "; ".join(f"{supply.mark} on feeder {supply.feeder}" for supply in one.supplies)
        contactors = "; ".join(f"{feed.contactor} {feed.tag}" for feed in one.feeds)
        limits = "; ".join(f"{where}: n = {count}" for where, count in _strips(one)) or "none"
        rows.append((one.tag, supplies, contactors, limits))
    return table("Control panels with this ladder", headings, tuple(rows))


def _parts(alike: Sequence[TankControl]) -> PaperTable:
    headings = (
        ColumnHead("Control panel", share=1.6), ColumnHead("Coils", share=4.0), ColumnHead("Sealed", "VA", "right", 0.8),
        ColumnHead("Inrush", "VA", "right", 0.8), ColumnHead("Transformer", "VA", "right", 1.1),
        ColumnHead("Primary fuses", "A", "right", 1.1), ColumnHead("Secondary fuse", "A", "right", 1.2),
        ColumnHead("Control wire", share=1.1),
    )  # fmt: skip
    rows = []
    for one in alike:
        coils = "; ".join(f"{coil.mark} {coil.what}" for coil in one.coils)
        own = bool(one.primary_v)
        transformer, primary = (_figure(value, own) for value in (one.transformer_va, one.primary_fuse_a))
        rows.append(
            (one.tag, coils, f"{one.sealed_va:.0f}", f"{one.inrush_va:.0f}", transformer, primary, _figure(one.secondary_fuse_a, True),
             size_or_words(one.wire) or NO_RATING)
        )  # fmt: skip
    note = "Coils of contactors by size where no stock part states them: from memory, unverified; the coil's own marking goes before."
    return table("Parts of the control circuit", headings, tuple(rows), note=note)


def _figure(value: float | None, ours: bool) -> str:
    if not ours:
        return "none of ours"
    return NO_RATING if value is None else f"{value:g}"


def _contacts(control: TankControl) -> PaperTable:
    headings = (
        ColumnHead("Contact", share=1.2), ColumnHead("Rating", share=1.0), ColumnHead("Makes", "A", "right"),
        ColumnHead("may make", "A", "right"), ColumnHead("Breaks", "A", "right"), ColumnHead("may break", "A", "right"),
    )  # fmt: skip
    rows = tuple(
        (one.mark, one.rating, f"{one.make_a:.2f}", at_most_words(one.most_make_a), f"{one.break_a:.2f}", at_most_words(one.most_break_a))
        for one in control.duties
    )
    return table(f"Contacts that switch coils, of {control.tag}", headings, rows)


def _two_wires(wires: Sequence[ControlWire]) -> str:
    """Terminals that carry a power wire beside another wire: their makers must mark them for two. Control wires go on from point to point,
    two to a terminal and no more."""
    on: dict[tuple[str, str], list[ControlWire]] = {}
    for one in wires:
        if one.colour != "jumper":
            for end in ((one.start_box, one.start), (one.end_box, one.end)):
                on.setdefault(end, []).append(one)
    power = ("power", "supply", "panel feeder")
    shared = [_point(*end) for end, some in on.items() if len(some) > 1 and any(one.purpose in power for one in some)]
    blocks = [point for point in shared if point.startswith(("PDB", "-X0", NEUTRAL_BAR))]
    others = [point for point in shared if point not in blocks]
    if not others:
        return ""
    return f"Two wires on {', '.join(others)}: only if its maker marks the terminal for two of these sizes, else by a block or lug kit. "


def _wires(wires: Iterable[ControlWire], grounds: Iterable[GroundWire]) -> PaperTable:
    """Numbered wires, then grounding conductors, which bear no number."""
    rows = [(one.number, _point(one.start_box, one.start), _point(one.end_box, one.end), one.colour, one.size) for one in wires]
    rows += [("", *one[:4]) for one in grounds]
    return table("", WIRES, ((f"{number}", *row) for number, row in enumerate(rows, start=1)))


def _point(box: str, point: str) -> str:
    """ "DISC1:T1" in the control panel itself, "1-P1 TB3:1" in another box, "field OTL1:1" outside."""
    return point if box == "HCP" else f"{box} {point}"


def _tags(at: AtHand, alike: Sequence[TankControl]) -> PaperTable:
    headings = (ColumnHead("Wired so", share=1.5), ColumnHead("Fed from", share=2.0), ColumnHead("To", share=3.0))
    rows = tuple((one.tag, fed_from(at, one), ", ".join(f"{one.tank}/{feed.tag}" for feed in one.feeds)) for one in alike)
    return table("Control panels", headings, rows)
