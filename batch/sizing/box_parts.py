"""What a box has beside its devices: bars, wye points, jumpers, rail, wire duct, end stops, markers, nameplate, label, and its wire.

Lengths follow from the estimate of the plate; counts of jumpers and markers from the wires. Common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from math import ceil

from batch.box_results import Enclosure
from batch.control_results import ControlWire, TankControl
from batch.method.enclosure_space import plate_side
from batch.records import Part
from batch.results import Needed, PanelDesign
from batch.rules import RuleSet
from batch.sizing.placing import wye_points
from batch.sizing.power_circuit import POWER_WIRES
from batch.sizing.stock import Stock
from batch.sizing.take_off_parts import choose_enclosure, choose_wire
from batch.sizing.words import size_words

CONSUMABLES = ("wire marker", "end stop", "mounting rail", "wire duct")  # of all boxes of a project together: goods that a shop has on hand
PIECE_M = 1.0  # rail and duct are bought in such lengths
HALF = 2  # pieces are counted by the half
OPENINGS, MARKERS, WIRE_M = 6, 10, 5  # in such steps: boxes that differ by a wire are built of the same
LABEL = "safety label"  # inside the door, beside the nameplate outside it
METAL = 2  # wires from the ground bar to the plate and to the door
MARKED_BY_SHOP = {  # role -> kind of a stock part, or words of a rule of the shop, that counts it already
    "ground bar": "ground bar", "neutral bar": "neutral bar", "nameplate": "nameplate", LABEL: "label",
    "control wire": "control wire", "power wire": "power wire", "wire marker": "marker", "end stop": "end stop", "mounting rail": "rail",
    "wire duct": "duct",
}  # fmt: skip


def panel_box_parts(design: PanelDesign, inside: bool, rules: RuleSet, stock: Stock) -> Iterator[Needed]:
    """Of a heater panel; one that stands in the control panel has no box, plate and nameplate of its own, yet its own label."""
    branch, poles = design.branch, design.branch.device.poles
    points = wye_points(design.legs)
    wires = design.branches * poles + sum(leg.endswith("N") for leg in design.legs) + sum(points.values())  # ends of branch conductors
    if design.panel_feeder_wires.neutral:
        openings = _up(design.branches + 1, OPENINGS)
        yield Needed("neutral bar", _bar("neutral bar", openings, stock), f"at least {openings} openings, insulated", 1)
    if points:
        words = f"for {_size(branch.wires.size)}, those of a point joined"
        yield Needed("wye point terminal", stock.plain("power terminal"), words, sum(points.values()))
    jumpers = design.branches * poles if design.block_a else 0
    if jumpers and design.jumper:
        size = _size(design.jumper)
        yield Needed("block jumper", stock.plain("block jumper", size=size), f"{size}, block to branch OCPD, cut to fit", jumpers)
    elif jumpers:
        yield Needed("block jumper", "", "bar rated for the panel feeder OCPD, block to branch OCPDs", design.panel_feeder_wires.lines)
    if inside:
        yield _safety_label(stock)
        return
    strings = design.limit_terminals
    if strings:
        yield Needed("terminal jumper", stock.plain("terminal jumper"), "between neighbouring terminals", strings // 2)
    openings = _up(design.branches + 1 + METAL, OPENINGS)
    yield Needed("ground bar", _bar("ground bar", openings, stock), f"at least {openings} openings", 1)
    marked = 2 * jumpers + wires + strings + design.panel_feeder_wires.lines
    yield from _of_the_plate(design.enclosure, marked, (1 if strings else 0) + len(points), rules, stock)


def control_box_parts(
    row: TankControl, extra_ground: int, neutrals: Iterable[int], fed: Iterable[PanelDesign], *, rules: RuleSet, stock: Stock
) -> Iterator[Needed]:  # fmt: skip
    """Of a control panel. `extra_ground`: grounding conductors of heaters on its bar, of single-circuit banks and panels within;
    `neutrals`: conductors on each of its neutral bars; `fed`: what it feeds, of whose conductors' kind its own are."""
    openings = _up(len(row.supplies) + len(row.feeds) + extra_ground + 1 + METAL, OPENINGS)  # of the transformer's secondary one
    yield Needed("ground bar", _bar("ground bar", openings, stock), f"at least {openings} openings", 1)
    for count in neutrals:
        openings = _up(count, OPENINGS)
        yield Needed("neutral bar", _bar("neutral bar", openings, stock), f"at least {openings} openings, insulated", 1)
    own = [wire for wire in row.circuit.wires if wire.start_box == "HCP" or wire.end_box == "HCP"]
    ends = sum((wire.start_box == "HCP") + (wire.end_box == "HCP") for wire in own if wire.size)
    within = [wire for wire in own if wire.size and not wire.field and wire.purpose not in POWER_WIRES]
    enclosure = row.enclosure
    if enclosure is not None:
        runs = [design.panel_feeder_wires for design in fed]
        yield from _power_wire(row, list(dict.fromkeys((one.material, one.insulation) for one in runs)), rules, stock)
    if within and enclosure is not None:
        length_m = len(within) * _wire_m(enclosure, rules)
        part = next((one.part for one in stock.of("control wire") if rules.size_named(one.size) == row.wire), "")
        words = f"{_size(row.wire)}, in the box, estimated"
        yield Needed("control wire", part, words, _up(ceil(length_m), WIRE_M), "m")
    strips = len({one.strip for one in row.circuit.terminals if one.box == "HCP"})
    yield from _of_the_plate(enclosure, ends, strips, rules, stock)


def power_in_box(row: TankControl) -> list[ControlWire]:
    """The power conductors that stay in a control panel."""
    return [wire for wire in row.circuit.wires if wire.size and not wire.field and wire.purpose in POWER_WIRES]


def _power_wire(row: TankControl, kinds: Sequence[tuple[str, str]], rules: RuleSet, stock: Stock) -> Iterator[Needed]:
    """Conductors from device to device, a line a size; `kinds`: material and insulation, more than one where its runs differ."""
    of_kind = " or ".join(" ".join(kind) for kind in kinds)
    for size, count in Counter(wire.size for wire in power_in_box(row)).items():
        sets, _, each = size.rpartition(" x ")
        length_m = count * int(sets or 1) * _wire_m(row.enclosure, rules)
        part = choose_wire(rules.size_named(each) or "", *kinds[0], False, stock=stock, rules=rules) if len(kinds) == 1 else ""
        yield Needed("power wire", part, f"{each} {of_kind}, in the box, estimated", _up(ceil(length_m), WIRE_M), "m")


def _wire_m(box: Enclosure | None, rules: RuleSet) -> float:
    """Of one wire in a box, as its estimate has it; where no box serves, by the plate of the largest."""
    if box is not None and box.size:
        return box.wire_m
    return rules.factor("control_wire_slack").value * sum(_largest(rules)) / 2 / 1000.0


def _of_the_plate(box: Enclosure | None, marked: int, strips: int, rules: RuleSet, stock: Stock) -> Iterator[Needed]:
    """Markers of so many wire ends, and what the rows of the plate take."""
    yield Needed("wire marker", stock.plain("wire marker"), "on every end of a wire", _up(marked, MARKERS))
    if strips:
        yield Needed("end stop", stock.plain("end stop"), "both ends of each strip of terminals", 2 * strips)
    if box is not None and box.size:
        high, wide = box.plate_mm
        rail_m, duct_m = box.rows * wide / 1000.0, ((box.rows + 1) * wide + 2 * high) / 1000.0
        yield Needed("mounting rail", stock.plain("mounting rail"), "35 mm, lengths of 1 m", _pieces(rail_m))
        yield Needed("wire duct", stock.plain("wire duct"), "with cover, lengths of 1 m", _pieces(duct_m))
    yield from plate_and_label(stock)


def plate_and_label(stock: Stock) -> Iterator[Needed]:
    """What the papers print for each box: its nameplate, and the label inside its door."""
    listed = sorted(stock.of("label"), key=lambda one: not _is_plate(one))
    yield Needed("nameplate", listed[0].part if listed else "", "engraved, in the words of its nameplate", 1)
    yield _safety_label(stock)


def _safety_label(stock: Stock) -> Needed:
    """Of a stock list with nameplates alone none: an engraved plate is no label to stick on."""
    part = next((one.part for one in stock.of("label") if not _is_plate(one)), "")
    return Needed(LABEL, part, "for inside the door, in the words of its label", 1)


def _is_plate(part: Part) -> bool:
    return "nameplate" in f"{part.part} {part.description or ''}".casefold()


def _pieces(length_m: float) -> float:
    return ceil(round(HALF * length_m / PIECE_M, 6)) / HALF


def _up(count: int, step: int) -> int:
    return ceil(count / step) * step


def _bar(kind: str, openings: int, stock: Stock) -> str:
    """The smallest bar of the list with so many openings; one that states none is taken for large enough."""
    fits = [part for part in stock.of(kind) if part.branches_at_most is None or part.branches_at_most >= openings]
    return min(fits, key=lambda part: (part.branches_at_most or 0, part.part)).part if fits else ""


def _largest(rules: RuleSet) -> tuple[float, float]:
    size = rules.box_sizes[-1].value
    return plate_side(size.height_mm, rules).value, plate_side(size.width_mm, rules).value


def _size(size: str) -> str:
    return size_words(size) if size and size[0].isdigit() else size


def enclosure_part(box: Enclosure, stock: Stock, branches: int = 0, device_a: float = 0.0) -> Needed:
    """The box itself: a stock enclosure that states just this size; of a heater panel (`branches`) else by branches and amps."""
    size = f"about {box.size}" if box.size else "size to be found: none of the list serves"
    part = stock.plain("enclosure", size=box.size) if box.size else ""
    if branches and not part:
        part = choose_enclosure(branches, device_a, stock)
    return Needed("enclosure", part, f"{box.type}, {size}", 1)
