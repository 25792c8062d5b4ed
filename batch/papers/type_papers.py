"""Groups 30 and 50: each panel type drawn with its parts and its panels, and the wiring of a type, terminal to terminal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial

from batch.drawings.schematic import alt_text, plan
from batch.drawings.single_circuit_drawing import SingleMarks, single_alt_text, single_plan
from batch.papers.box_entries import entries_of
from batch.papers.control_box_papers import described, quantity_words, torque_words
from batch.papers.grounding_wires import grounds_of_panel
from batch.papers.job_at_hand import AtHand, first_of
from batch.papers.open_points import open_on_panel
from batch.papers.panel_designations import panel_designation
from batch.papers.paper_data import ColumnHead, Paper, PaperTable, table
from batch.papers.paper_sets import TYPE, type_serial
from batch.papers.paper_sets import WIRING as GROUP
from batch.papers.plate_rows import jumper_words, plate_table
from batch.papers.shown import shown, table_of
from batch.results import BankRow, Needed, PanelDesign
from batch.schedules.designations import all_in_box, marks_in_box, marks_of, numbers_in_box
from batch.schedules.fuse_places import device_ahead_in_full
from batch.schedules.panel_schedule import PANELS
from batch.schedules.row_words import band_words, single_tag
from batch.schedules.wiring_list import Join, direct_wiring, panel_wiring
from batch.schedules.wiring_tag_list import WIRING_TAGS, Tagged, named_first, tagged
from batch.sizing.control_parts import coil_volts, in_switches, with_coil, without_holders
from batch.sizing.labels import natural

WIRES = (
    ColumnHead("No.", "", "right", 0.5),
    ColumnHead("Wire", share=0.7),
    ColumnHead("From", share=2.2),
    ColumnHead("To", share=2.6),
    ColumnHead("Conductor", share=3.0),
)

TAGS = "Wiring tags: what is wired so"
OFFSETS = {  # shares of the table of tags
    "panel": 19.0, "k": 4.0, "heaters": 16.0, "feed": 8.0, "contactor": 11.0, "strip": 7.5, "string_in": 18.5, "string_out": 18.5,
}  # fmt: skip


def type_papers(at: AtHand) -> Iterator[Paper]:
    rows, tags = at.by(PANELS, "panel"), grouped_by(at.rows(WIRING_TAGS), "wired_as")
    banks = {panel.tag: row for row in at.project.banks for panel in row.panels}
    for kind in at.project.types:
        drawing = plan(
            kind.design, kind.type, at.us, at.project.symbols, at.project.wording,
            ahead=device_ahead_in_full(at.project, kind.design.panel_feeder_device, kind.tags),
        )  # fmt: skip
        yield at.paper(
            TYPE, "type", f"{kind.type}: heater panel", number=type_serial(kind.type),
            band=band_words(kind.hold), quantity=f"{len(kind.tags):,}", tags=first_of(kind.tags),
            figures=(at.figure(drawing, alt_text(kind.design, kind.type)),),
            tables=(
                _parts(at, kind.design.parts, design=kind.design),
                _panels(at, tags[kind.type], rows, kind.design),
                *_settled_there(at, kind.design, [banks[tag] for tag in kind.tags]),
            ),
        )  # fmt: skip


def _settled_there(at: AtHand, design: PanelDesign, rows: Sequence[BankRow]) -> Iterator[PaperTable]:
    """What is cut into a panel, and what stays open; a panel in its control panel's box has no openings of its own."""
    if design.enclosure is not None:
        yield from plate_table(design.enclosure)
        yield entries_of(at, design, rows)
    yield from open_on_panel(at, design, rows)


def single_circuit_papers(at: AtHand) -> Iterator[Paper]:
    """A drawing of each sort of single-circuit bank, with what stands for it in the control panel and the banks built so."""
    alike: dict[str, list[Tagged]] = {}
    for one in tagged(at.project):
        if one.wired_as.endswith("single circuit"):
            alike.setdefault(one.wired_as, []).append(one)
    feeders, coils = {single_tag(row): row for row in at.project.banks}, coil_volts(at.project.controls)
    switched = in_switches(at.project.controls)
    for wired_as, ones in sorted(alike.items(), key=lambda one: natural(one[0])):
        first = named_first(wired_as, ones)
        places = [f"{feeders[one.tag].bank.tank}/{feeders[one.tag].label}" for one in ones]
        volts = {coils[place.casefold()] for place in places}
        needs = [with_coil(need, volts) for need in without_holders(first.design.feed_parts, places, switched)]
        marked = SingleMarks(first.device, first.contactor, first.strip)
        drawing = single_plan(
            first.design, wired_as, at.project.symbols, at.project.wording, marked,
            ahead=device_ahead_in_full(at.project, first.design.panel_feeder_device, places),
        )  # fmt: skip
        rows = tuple(
            (one.tag, feeders[one.tag].feeder.feeder, one.device or "in the distribution unit", one.contactor, one.strip or "none",
             f"{feeders[one.tag].bank.tank}/HCP", one.string_in, one.string_out)
            for one in ones
        )  # fmt: skip
        headings = (
            ColumnHead("Bank", share=2.7), ColumnHead("Feeder", share=1.1), ColumnHead("OCPD", share=1.1),
            ColumnHead("Contactor", share=1.2), ColumnHead("Limit strip", share=0.9),
            ColumnHead("In control panel", share=1.6), ColumnHead("String in from", share=2.3), ColumnHead("String out to", share=2.3),
        )  # fmt: skip
        yield at.paper(
            TYPE, "type", f"{wired_as}: drawing",
            band=band_words(first.hold), quantity=f"{len(ones):,}", tags=first_of(one.tag for one in ones),
            figures=(at.figure(drawing, single_alt_text(first.design, wired_as)),),
            tables=(_parts(at, needs, "Parts in the control panel"), table("Banks built so", headings, rows)),
        )  # fmt: skip


def _parts(at: AtHand, needs: Sequence[Needed], title: str = "Parts of one panel", design: PanelDesign | None = None) -> PaperTable:
    """Parts with their torque; those of a panel of this design by designation."""
    headings = [
        ColumnHead("Part", share=2.0), ColumnHead("Description", share=4.0), ColumnHead("Terminals", share=1.75),
        ColumnHead("Quantity", "", "right", 1.0),
    ]  # fmt: skip
    note = ""
    rows: list[tuple[str, ...]] = [(need.role, described(need), torque_words(at, need), quantity_words(at, need)) for need in needs]
    if design is not None:
        marks = marks_of(at.project)
        headings.insert(0, ColumnHead("Designation", share=1.4))
        rows = [(panel_designation(need, design, marks), *row) for need, row in zip(needs, rows, strict=True)]
        note = jumper_words(needs, design.enclosure, partial(quantity_words, at))
    return table(title, headings, rows, note=note)


def _panels(at: AtHand, tags: Sequence[Mapping], rows: Mapping[str, dict], design: PanelDesign) -> PaperTable:
    """The panels of a type, with what tells them apart."""
    headings = (
        ColumnHead("Panel", share=2.6), ColumnHead("k", "", "right", 0.5), ColumnHead("Heaters", share=2.1),
        ColumnHead("Feeder", share=1.2), ColumnHead("L1-L2-L3 on", share=1.3), ColumnHead("Disconnect", share=2.0),
        ColumnHead("Fault current", "kA", "right", 1.1),
    )  # fmt: skip
    listed = tuple(_panel(at, tag, rows[tag["panel"]]) for tag in tags)
    return table("Panels of this type", headings, listed, note=_in_one_box(at, [tag["panel"] for tag in tags], design))


def _in_one_box(at: AtHand, panels: Sequence[str], design: PanelDesign) -> str:
    """What is otherwise where panels of a design stand in one box with their control panel."""
    within = [panel for panel in panels if panel.casefold() in numbers_in_box(at.project)]
    if not within:
        return ""
    which = "each of them" if len(within) == len(panels) > 1 else first_of(within)
    said = (
        f"In one box with the control panel: {which}. There the frame drawn is no enclosure, and what a panel needs beside the parts above "
        "is on the control panel's list; its heaters are grounded on that box's bar, and its panel feeder is black."
    )
    return " ".join((said, *_numbered(at, within, design)))


def _numbered(at: AtHand, panels: Iterable[str], design: PanelDesign) -> Iterator[str]:
    """What panels are called in whose box others stand: the block of each, the devices of each but the first."""
    wyes = any("WP" in leg for leg in design.legs)
    for panel in panels:
        marks = marks_in_box(at.project, panel)
        if not marks.inside:
            continue
        yield f"The block of {panel} is {marks.block} there."
        if marks.before:
            points = f", {marks.wye_point(1)}" if wyes else ""
            first = f"{marks.device(design.branch.device.kind, 1)}, {marks.before}{marks.limit_strip}{points}"
            yield f"In {panel} {marks.before} goes before each device and strip{' and wye point' * wyes}: {first}."


def _panel(at: AtHand, tag: Mapping, row: Mapping) -> tuple[str, ...]:
    fault = shown(PANELS["fault_ka"], row["fault_ka"], at.us) or "not known"
    return tag["panel"], f"{tag['k']}", tag["heaters"], row["feeder"], row["panel_feeder_phases"], row["disconnect_tag"], fault


# --- wiring -----------------------------------------------------------------------------------------------------------------------


def wiring_papers(at: AtHand) -> Iterator[Paper]:
    """A list for each type and each sort of single-circuit bank, with the panels that are wired so."""
    tags = grouped_by(at.rows(WIRING_TAGS), "wired_as")
    types, marks = {kind.type: kind for kind in at.project.types}, marks_of(at.project)
    firsts: dict[str, Tagged] = {}
    for one in tagged(at.project):
        if one.tag == one.wired_as:
            firsts[one.wired_as] = one
        firsts.setdefault(one.wired_as, one)
    for wired_as in (*types, *sorted(firsts.keys() - types.keys(), key=natural)):
        alike, kind = tags[wired_as], types.get(wired_as)
        first = firsts[wired_as]
        single = direct_wiring(first.design, marks, first.device, first.strip, first.neutral_bar)
        inside = kind is not None and all_in_box(at.project, kind.tags)
        joins = tuple(panel_wiring(kind.design, marks, inside=inside) if kind is not None else single)
        metal = _metal(at, first.design) if kind is not None and not inside else ()
        yield at.paper(
            GROUP, "wiring", f"{wired_as}: wiring", number=type_serial(wired_as) if kind is not None else "",
            band=band_words(kind.hold if kind is not None else first.hold),
            quantity=f"{len(alike):,}", tags=first_of(row["panel"] for row in alike),
            tables=(*_wires(joins, metal), table_of(WIRING_TAGS, tuple(OFFSETS), alike, at.us, title=TAGS, wide=OFFSETS), _colours(alike)),
            notes=(*_notes(at, kind is not None, alike), *_numbered(at, (row["panel"] for row in alike), first.design)),
        )  # fmt: skip


def _colours(alike: Sequence[Mapping]) -> PaperTable:
    """Colours of lines and the control wire, said once for all panels that have the same."""
    same: dict[tuple[str, str], list[str]] = {}
    for row in alike:
        same.setdefault((row["colours"], row["control_wire"] or "none"), []).append(row["panel"])
    headings = (ColumnHead("L1, L2, L3", share=2.6), ColumnHead("Control wire", share=1.5), ColumnHead("Of", share=4.0))
    rows = ((*words, "all of them" if len(same) == 1 < len(alike) else first_of(panels, 12)) for words, panels in same.items())
    return table("Colours to the field, and the control wire", headings, rows)


def _notes(at: AtHand, of_type: bool, alike: Sequence[Mapping]) -> Iterator[str]:
    marks = marks_of(at.project)
    if of_type:
        heater, limit = marks.heater_of_type(1), marks.limit_of_type(1)
        yield f"{heater} is heater k + 1 of its bank, with its limit {limit}: each panel's own k stands in the table."
        yield f"To a heater the panel's tag goes before a wire's number: {alike[0]['panel']} 1.{marks.pole_letter(1)}."
    yield "n in a wire's number is the panel feeder's, in the table."


def _metal(at: AtHand, design: PanelDesign) -> Iterator[Join]:
    """From the ground bar to the panel's own metal."""
    for one in grounds_of_panel(design, marks_of(at.project)):
        yield Join(one.start, one.end, f"{one.size}, {one.colour}", "grounding")


def _wires(joins: Sequence[Join], metal: Iterable[Join]) -> Iterator[PaperTable]:
    """The panel's own wires, and those that the control panel's list has too, with their numbers."""
    joins = (*joins, *metal)
    rows = [(f"{no}", one.wire, one.start, one.end, one.conductor) for no, one in enumerate(joins, start=1)]
    both = [_on_both(one) for one in joins]
    yield table("Its own wires", WIRES, (row for row, shared in zip(rows, both, strict=True) if not shared))
    if any(both):
        note = "The same wires, not further ones: made once, numbered as the control panel's list has them."
        again = (row for row, shared in zip(rows, both, strict=True) if shared)
        yield table("Also on the list of the control panel", WIRES, again, note=note)


def _on_both(join: Join) -> bool:
    """Whether a wire runs from the control panel, or belongs to the limit string: then the control panel's list has it too."""
    return join.purpose.startswith(("limit string", "from the bank's own")) or join.start.startswith("supply ") or (
        join.start.startswith("contactor") and join.purpose.startswith("panel feeder")
    )


def grouped_by(rows: Iterable[Mapping], key: str) -> dict[str, list[Mapping]]:
    found: dict[str, list[Mapping]] = {}
    for row in rows:
        found.setdefault(str(row[key]), []).append(row)
    return found
