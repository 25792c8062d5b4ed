"""The box of a heater panel and of a control panel: what stands on its plate, what that loses, and the smallest box of the list that takes
it. Budget figures by rows and sums; whoever builds the box checks them on a drawing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import islice
from typing import NamedTuple

from msgspec.structs import replace

from batch.box_results import BoxPart, Enclosure
from batch.control_results import ControlFeed, ControlSupply, TankControl
from batch.counted_words import counted
from batch.findings import Remarks
from batch.method.enclosure_heat import cooling_area, part_loss, temperature_rise
from batch.method.enclosure_space import entry_height, height_of_rows, plate_side, rows_on_plate
from batch.method.line_currents import Lines
from batch.results import Device, PanelDesign
from batch.rules import AMPS_DIGITS, Cited, RuleSet
from batch.rules.boxes import BoxSize, PartSpace
from batch.sizing.control_load import coil_load
from batch.sizing.marks import TankMarks, block_in_box
from batch.sizing.placing import wye_points
from batch.sizing.power_circuit import RESIDUAL
from batch.sizing.stock import Stock
from batch.sizing.words import amps, celsius, millimetres
from batch.used_settings import BoxPlace

WALLS = {"non-metallic": "plastic", "stainless": "stainless", "steel": "steel"}
BUDGET = "box and heat: rows and sums, a budget estimate"
UNKNOWN = "the space of a part is not known"
WIDE = 1e-6
MM = 1000.0
WYE = "WP"  # of a wye point among the legs of a design
POLES_OF_TABLE = 3  # of the disconnects whose space is listed


class OnPlate(NamedTuple):
    """A panel feeder or single-circuit bank of a control panel, for its box; `inside`: its heater panel stands in the same box."""

    feed: ControlFeed
    design: PanelDesign
    inside: bool


class Beyond(Exception):
    """A part that the table of spaces does not reach: in words."""


def panel_box(design: PanelDesign, place: BoxPlace, ambient_c: float, *, rules: RuleSet, stock: Stock) -> Enclosure:
    """The box of a heater panel."""
    marks = TankMarks(rules.region)
    parts, beyond = _listed(panel_parts(design, marks, rules, stock, strip=True))
    return fit(parts, (design.panel_feeder_wires.size,), place, ambient_c, rules=rules, beyond=beyond)


def control_box(
    row: TankControl, hung: Sequence[OnPlate], lines: Sequence[Lines], incoming: Sequence[str], *, place: BoxPlace, ambient_c: float,
    rules: RuleSet, stock: Stock
) -> Enclosure:  # fmt: skip
    """The box of a control panel. `lines`: design currents of each supply; `incoming`: size of its conductors."""
    parts, beyond = _listed(_control_parts(row, hung, lines, rules, stock))
    heat_w = rules.factor("coil_watts").value * sum(coil.sealed_va for coil in row.coils)
    heat_w += rules.factor("coil_watts").value * coil_load("relay", rules).sealed_va * (1 + _relays(row))
    heat_w += rules.factor("transformer_watts").value * (row.transformer_va or 0.0)
    heat_w += sum(one.kind == "lamp" for one in row.circuit.elements) - 1  # one lamp is dark while the others burn
    if row.settings.controller == "panel":
        heat_w += coil_load("controller", rules).sealed_va  # all that it takes, on the safe side
    return fit(parts, tuple(incoming), place, ambient_c, rules=rules, beyond=beyond, more_w=heat_w)


@lru_cache(maxsize=2048)
def fit(
    parts: tuple[BoxPart, ...], entries: tuple[str, ...], place: BoxPlace, ambient_c: float, *, rules: RuleSet, beyond: str = "",
    more_w: float = 0.0
) -> Enclosure:  # fmt: skip
    """The smallest box of the list on whose plate these parts stand in rows, and whose air stays below the limit. `entries`: sizes of
    the conductors that come in; `beyond`: a part whose space is not known, so that no box is chosen; `more_w`: heat of what stands on
    no plate or has no ampere rating. Remembered: half of a plant's boxes hold what another holds."""
    loss_w = rules.factor("wire_heat").value * (sum(part.loss_w for part in parts) + more_w)
    most_c, wall = rules.factor("box_air_c").value, WALLS[place.material]
    entry_mm = max((entry_height(size, rules).value for size in entries), default=0.0)
    widths = tuple(part.width_mm for part in parts for _ in range(part.number))
    heights = tuple(part.height_mm for part in parts for _ in range(part.number))
    depth_mm = max((part.depth_mm for part in parts), default=0.0)
    kind = f"{rules.box_type(place.location)}, {place.material}"
    last = Enclosure(kind, "", beyond or "no box is listed", 0, loss_w, 0.0, ambient_c, (0.0, 0.0), parts, (BUDGET,), cause=UNKNOWN)
    if beyond:
        return last
    frames = _frames(rules, wall)
    for frame in frames:
        rise_k, plate = loss_w / frame.watts_a_kelvin, frame.plate_mm
        too_warm = ambient_c + rise_k > most_c + WIDE
        if (too_warm or depth_mm > frame.size.depth_mm + WIDE) and frame is not frames[-1]:
            continue  # the rows are only laid where it may serve, or to say why the largest does not
        last = last._replace(rise_k=rise_k, air_c=ambient_c + rise_k, plate_mm=plate)
        words = frame.size.words
        on = rows_on_plate(widths, plate[1], rules)
        if on is None:
            last = last._replace(why=f"{words}: a part is too wide for its plate", cause="a part is too wide")
            continue
        needed_mm = height_of_rows(tuple(_tallest(heights, on.value)), entry_mm, rules).value
        why = cause = ""
        if needed_mm > plate[0] + WIDE:
            cause = "its rows of parts are too high for the plate"
            why = f"{words}: its rows are {millimetres(needed_mm)} high, the plate {millimetres(plate[0])}"
        elif depth_mm > frame.size.depth_mm + WIDE:
            cause = "a part is too deep"
            why = f"{words}: a part asks for {millimetres(depth_mm)} of depth"
        elif too_warm:
            cause = "it grows too warm"
            why = f"{words}: {loss_w:.0f} W warm it to {celsius(ambient_c + rise_k)}, above {celsius(most_c)}"
        slack = rules.factor("control_wire_slack").value
        last = last._replace(rows=len(on.value), why=why, cause=cause, on=on.value, wire_m=slack * sum(plate) / 2 / MM)
        if not why:
            return last._replace(size=words)
    return last


def say_unboxed(box: Enclosure, about: str, what: str, of: str, said: Remarks) -> None:
    """That no box serves: its cause, the same for all that have it, and the figures of this one. `of`: what tells it from others."""
    if box.why:
        found = f"{of}in the largest, {box.why}" if any(box.plate_mm) else f"{of}{box.why}"
        said.add("box-not-fitting", about, what=what, cause=box.cause, why=f"{found[0].upper()}{found[1:]}")


class Frame(NamedTuple):
    """A box of the list with its plate (height, width) and the watts that warm it by a kelvin."""

    size: BoxSize
    plate_mm: tuple[float, float]
    watts_a_kelvin: float


@lru_cache(maxsize=64)
def _frames(rules: RuleSet, wall: str) -> tuple[Frame, ...]:
    """Every box of the list, the smallest first."""
    found = []
    for cited in rules.box_sizes:
        size = cited.value
        plate = plate_side(size.height_mm, rules).value, plate_side(size.width_mm, rules).value
        area_m2 = cooling_area(size.height_mm / 1000.0, size.width_mm / 1000.0, size.depth_mm / 1000.0)
        found.append(Frame(size, plate, 1.0 / temperature_rise(1.0, area_m2, wall, rules).value))
    return tuple(found)


def _tallest(heights: Sequence[float], rows: Iterable[int]) -> Iterator[float]:
    each = iter(heights)
    for count in rows:
        yield max(islice(each, count))


def _listed(parts: Iterable[BoxPart]) -> tuple[tuple[BoxPart, ...], str]:
    """The parts, and in words the first whose space is not known."""
    found: list[BoxPart] = []
    try:
        for part in parts:
            found.append(part)
    except Beyond as fault:
        return tuple(found), str(fault)
    return tuple(found), ""


# --- what stands on a plate


def panel_parts(
    design: PanelDesign, marks: TankMarks, rules: RuleSet, stock: Stock, *, strip: bool, inside: int = 0
) -> Iterator[BoxPart]:  # fmt: skip
    """Block, branch devices, wye points and, with `strip`, the strip of limits. `inside`: number of its panel feeder where it stands in the
    control panel's box, 0 = in its own."""
    if design.block_a:
        words = f"power distribution block, {design.block_a:g} A"
        block = _plain("distribution block", design.block_a, design.panel_feeder_wires.lines, rules, words)
        yield block._replace(marks=(block_in_box(marks.of("block"), inside),))
    devices = _devices(design.branch.device, design.branches, [design.branch.design_a] * design.branch.device.poles, rules, stock)
    kind = f"branch {design.branch.device.kind}"
    yield devices._replace(marks=tuple(marks.in_panel(kind, at, inside) for at in range(1, design.branches + 1)))
    points = wye_points(design.legs)
    for wires in sorted(set(points.values())):
        own = tuple(marks.in_panel("wye point", int(name.removeprefix(WYE)), inside) for name, count in points.items() if count == wires)
        yield _strip("wye point or power terminal", wires, len(own), rules, f"wye point, {wires} terminals")._replace(marks=own)
    if strip and design.limit_terminals:
        limits = _strip("terminal", design.limit_terminals, 1, rules, f"limit string, {design.limit_terminals} terminals")
        yield limits._replace(marks=(marks.of("limit terminals"),))


def _control_parts(
    row: TankControl, hung: Sequence[OnPlate], lines: Sequence[Lines], rules: RuleSet, stock: Stock
) -> Iterator[BoxPart]:
    marks = TankMarks(rules.region, len(row.feeds))
    for supply, on in zip(row.supplies, lines, strict=True):
        yield _disconnect(supply, on, rules, stock)._replace(marks=(supply.mark,))
        if supply.block:
            block = _plain("distribution block", supply.block_a, supply.lines, rules, f"power distribution block, {supply.block_a:g} A")
            yield block._replace(marks=(supply.block_mark,))
        if supply.backup:
            yield _contactor(supply.backup_part, supply.backup_a, _of(on, supply.lines), rules, stock)._replace(marks=(supply.backup,))
    for one in hung:
        design = one.design
        currents = _of(design.lines, design.panel_feeder_wires.lines)
        if one.feed.device:
            yield _devices(design.panel_feeder_device, 1, currents, rules, stock)._replace(marks=(one.feed.device,))
        if one.feed.residual:  # no space of its own in the table: that of a breaker, with a pole for the neutral
            device, poles = design.panel_feeder_device, one.feed.neutral + design.panel_feeder_device.poles
            residual = replace(device, kind="breaker", part="", poles=poles)
            words = f"{RESIDUAL}, {device.rating_a:g} A, {poles}-pole"
            yield _devices(residual, 1, currents, rules, stock)._replace(what=words, marks=(one.feed.residual,))
        part = next((need.part for need in design.feed_parts if need.role == "contactor"), "")
        yield _contactor(part, design.contactor_a, currents, rules, stock)._replace(marks=(one.feed.contactor,))
        if one.feed.ground_fault_relay:
            relay = _plain("ground-fault relay", 0.0, 1, rules, "ground-fault relay")
            yield relay._replace(marks=(one.feed.ground_fault_relay,))
        if one.inside:
            yield from panel_parts(design, marks, rules, stock, strip=False, inside=one.feed.number)
    yield from _control_power_parts(row, marks, rules)
    coils = {coil.mark for coil in row.coils}
    relays = tuple(one.mark for one in row.circuit.elements if one.kind == "coil" and one.mark not in coils)
    yield _plain("control relay", 0.0, 1, rules, "relay", number=1 + _relays(row))._replace(marks=relays)
    strips: dict[str, int] = {}
    for terminal in row.circuit.terminals:
        if terminal.box == "HCP":
            strips[terminal.strip] = strips.get(terminal.strip, 0) + 1
    for name, count in strips.items():
        yield _strip("terminal", count, 1, rules, f"{name}, {counted(count, 'terminal')}")._replace(marks=(name,))


def _control_power_parts(row: TankControl, marks: TankMarks, rules: RuleSet) -> Iterator[BoxPart]:
    """Control transformer and fuses."""
    fuses = list(dict.fromkeys(one.mark for one in row.circuit.elements if one.kind == "fuse"))
    if row.primary_v:
        va = row.transformer_va or 0.0
        yield _plain("control transformer", va, 1, rules, f"control transformer, {va:g} VA")._replace(marks=(marks.of("transformer"),))
        primary = sum(element.kind == "fuse" for element in row.circuit.ladder[0].elements)
        holder = _plain("control fuse in holder", row.primary_fuse_a or 0.0, primary, rules, f"primary fuse holder, {primary}-pole")
        yield holder._replace(marks=(", ".join(fuses[:primary]),))
        del fuses[:primary]
    holder = _plain("control fuse in holder", row.secondary_fuse_a or 0.0, 1, rules, "control fuse holder, 1-pole")
    yield holder._replace(marks=tuple(fuses))


def _relays(row: TankControl) -> int:
    """Relays beside the latch."""
    contactors = {coil.mark for coil in row.coils}
    return sum(one.kind == "coil" and one.mark not in contactors for one in row.circuit.elements) - 1


def _of(lines: Lines, count: int) -> list[float]:
    return [lines.a, lines.b, lines.c][:count]


@lru_cache(maxsize=2048)
def _listed_space(part: str, rating: float, rules: RuleSet) -> Cited[PartSpace] | None:
    return rules.part_space(part, rating)


def _space(part: str, rating: float, rules: RuleSet, words: str) -> Cited[PartSpace]:
    found = _listed_space(part, rating, rules)
    if found is None:
        raise Beyond(f"the space of a {words} is not in the table")
    return found


def _plain(part: str, rating: float, poles: int, rules: RuleSet, words: str, *, number: int = 1) -> BoxPart:
    """A part whose heat, if it has any, goes by no current."""
    space = _space(part, rating, rules, words)
    each = poles if space.value.a_pole else 1
    return BoxPart(words, number, each * space.value.width_mm, space.value.height_mm, space.value.box_depth_mm,
                   number * (space.value.watts or 0.0), space.known)  # fmt: skip


def _strip(part: str, terminals: int, number: int, rules: RuleSet, words: str) -> BoxPart:
    space = _space(part, 0.0, rules, words)
    made = space.value
    return BoxPart(words, number, terminals * made.width_mm + made.group_mm, made.height_mm, made.box_depth_mm, 0.0, space.known)


def _devices(device: Device, circuits: int, currents: Sequence[float], rules: RuleSet, stock: Stock) -> BoxPart:
    """Fuses in their holders, or breakers; `currents` of the poles of one."""
    fuse = device.kind == "fuse"
    words = f"{'fuse in holder' if fuse else 'breaker'}, {device.rating_a:g} A, {device.poles}-pole"
    space = _space("fuse in holder" if fuse else "breaker", device.rating_a, rules, words)
    made, stated = space.value, stock.named(device.part)
    watts = made.watts or 0.0
    if stated is not None and stated.watts_lost_w is not None:
        watts = stated.watts_lost_w if fuse else stated.watts_lost_w / device.poles
    loss_w = circuits * sum(part_loss(watts, current, device.rating_a) for current in currents[: device.poles])
    return BoxPart(words, circuits, device.poles * made.width_mm, made.height_mm, made.box_depth_mm, loss_w, space.known)


def _contactor(part: str, rating_a: float, currents: Sequence[float], rules: RuleSet, stock: Stock) -> BoxPart:
    """Its watts at the continuous rating of its size, of a stock part at the part's own."""
    words = f"contactor, {amps(rating_a)}"
    space, stated = _space("contactor", rating_a, rules, words), stock.named(part)
    made = space.value
    if stated is not None and stated.watts_lost_w is not None and stated.rating_a:
        loss_w = part_loss(stated.watts_lost_w, max(currents, default=0.0), stated.rating_a)
    else:
        rated_a = _continuous(rating_a, len(currents), rules)
        loss_w = sum(part_loss(made.watts or 0.0, current, rated_a) for current in currents)
    return BoxPart(words, 1, made.width_mm, made.height_mm, made.box_depth_mm, loss_w, space.known)


@lru_cache(maxsize=512)
def _continuous(rating_a: float, poles: int, rules: RuleSet) -> float:
    """Continuous amps of the size whose rating for heating this is; of a rating of no size itself."""
    found = next((one for one in rules.contactors if one.continuous_a >= round(rating_a, AMPS_DIGITS)), None)
    return found.continuous_a if found is not None else rating_a


def _disconnect(supply: ControlSupply, lines: Lines, rules: RuleSet, stock: Stock) -> BoxPart:
    words = f"disconnect, {supply.disconnect_a:g} A"
    space, stated = _space("disconnect", supply.disconnect_a, rules, words), stock.named(supply.disconnect_part)
    made, currents = space.value, (*_of(lines, supply.lines), *((lines.n,) if supply.neutral_pole else ()))
    wide = made.width_mm * max(len(currents), POLES_OF_TABLE) / POLES_OF_TABLE  # a neutral may make it four
    if stated is not None and stated.watts_lost_w is not None:
        loss_w = part_loss(stated.watts_lost_w, max(currents, default=0.0), supply.disconnect_a)
    else:
        loss_w = sum(part_loss(made.watts or 0.0, current, supply.disconnect_a) for current in currents)
    return BoxPart(words, 1, wide, made.height_mm, made.box_depth_mm, loss_w, space.known)
