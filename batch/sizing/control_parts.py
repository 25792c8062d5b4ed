"""What to buy for a control panel but its box: power parts, control transformer and fuses, latch, relays, door devices, terminals."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Iterator, Sequence

from batch.control_results import ControlSupply, Element, TankControl
from batch.results import Needed, PanelDesign
from batch.rules import RuleSet
from batch.sizing.control_wires import JUMPER
from batch.sizing.stock import Stock
from batch.sizing.switching import PanelRating, lowest_rating


def power_parts(supplies: Sequence[ControlSupply]) -> Iterator[Needed]:
    """Disconnects, blocks, back-up contactors."""
    for supply in supplies:
        role = "fusible disconnect" if supply.fusible else "disconnect"
        yield Needed(role, supply.disconnect_part, supply.disconnect, 1)
        if supply.block:
            yield Needed("power distribution block", supply.block_part, supply.block, 1)
        if supply.backup:
            yield Needed("back-up contactor", supply.backup_part, supply.backup_words, 1)


def feeder_parts(supplies: Sequence[ControlSupply], fed: Sequence[tuple[int, PanelDesign]]) -> Iterator[Needed]:
    """Of each panel feeder and single-circuit bank (number of its supply, design) its device and contactor; a fusible disconnect holds the
    fuses of its only one. The terminals of a single circuit's limits are counted with the other terminals."""
    fusible = {supply.number for supply in supplies if supply.fusible}
    for number, design in fed:
        yield from _held_fuses_without(design.feed_parts, number in fusible)


def in_switches(controls: Iterable[TankControl]) -> frozenset[str]:
    """Heater panels and single-circuit banks whose fuses stand in a fusible disconnect, in small letters: "t-105/1-p1", "t-106/1"."""
    return frozenset(
        f"{control.tank}/{feed.tag}".casefold()
        for control in controls for feed in control.feeds if control.supplies[feed.supply - 1].fusible
    )  # fmt: skip


def without_holders(needs: Iterable[Needed], tags: Iterable[str], switched: Container[str]) -> tuple[Needed, ...]:
    """Parts of a panel feeder or of a single circuit: no fuse holder where the fuses of all that are built so (`tags`) are among those
    `in_switches`."""
    return _held_fuses_without(needs, all(tag.casefold() in switched for tag in tags))


def _held_fuses_without(needs: Iterable[Needed], fused: bool) -> tuple[Needed, ...]:
    """The same without holders where a switch holds the fuses."""
    return tuple(need for need in needs if not (fused and need.role.endswith("fuse holder")))


def with_coil(need: Needed, volts: Iterable[float]) -> Needed:
    """A part as it is ordered: a contactor with the control volts of its coil, those of every control panel that it is for."""
    each = " or ".join(f"{volt:g}" for volt in sorted(set(volts)))
    if not each or not need.role.endswith("contactor"):
        return need
    return need._replace(words=f"{need.words}, {each} V coil")


def coil_volts(controls: Iterable[TankControl]) -> dict[str, float]:
    """Control volts by heater panel or single-circuit bank, in small letters: "t-105/1-p1", "t-106/1"."""
    return {f"{one.tank}/{feed.tag}".casefold(): one.settings.control_v for one in controls for feed in one.feeds}


def rating_of(
    supplies: Sequence[ControlSupply], designs: Sequence[PanelDesign], stock: Stock, rules: RuleSet, *, inside: bool = False
) -> PanelRating:
    """Short-circuit rating of a control panel from its power parts alone: disconnects, blocks, contactors, holders or breakers; those of
    its heater panels too where they stand `inside` it."""
    named: list[tuple[str, str]] = []
    for supply in supplies:
        named.append(("disconnect", supply.disconnect_part))
        if supply.block:
            named.append(("power distribution block", supply.block_part))
        if supply.backup:
            named.append(("contactor", supply.backup_part))
    for need in (need for design in designs for need in (*design.feed_parts, *(design.parts if inside else ()))):
        kind = next((kind for kind in ("fuse holder", "breaker", "contactor", "power distribution block") if need.role.endswith(kind)), "")
        if kind:
            named.append((kind, need.part))
    ahead = {need.part for design in designs for need in design.feed_parts if need.role.endswith("fuse holder")}
    own = {need.part for design in designs for need in design.parts if need.role.endswith("fuse holder")} if inside else set()
    fused = {("fuse holder", part) for part in ahead - own} if any(supply.fusible for supply in supplies) else set()
    return lowest_rating(tuple((kind, stock.named(part)) for kind, part in dict.fromkeys(named) if (kind, part) not in fused), rules)


def control_parts(row: TankControl, stock: Stock, rules: RuleSet) -> Iterator[Needed]:
    """What makes the control circuit."""
    volts, elements = f"{row.settings.control_v:g} V", row.circuit.elements
    if row.primary_v:
        rating = "rating to be chosen" if row.transformer_va is None else f"{row.transformer_va:g} VA"
        words = f"{rating}, {row.primary_v:g} to {volts}, {row.supplies[0].frequency_hz} Hz"
        yield Needed("control transformer", stock.plain("control transformer", size=rating, volts_v=row.primary_v), words, 1)
        primary = sum(one.kind == "fuse" for one in row.circuit.ladder[0].elements)
        yield from _fuses(row.primary_fuse_a, primary, row.primary_v, stock, rules)
    yield from _fuses(row.secondary_fuse_a, 1, row.settings.control_v, stock, rules)
    yield from _relays(row, elements, volts, stock)
    yield from _door(row, elements, volts, stock)
    if row.settings.ground_fault_trip_ma:
        trip = f"trip {row.settings.ground_fault_trip_ma:g} mA, with its current transformer, {volts}"
        count = sum(bool(feed.ground_fault_relay) for feed in row.feeds)
        yield Needed("ground-fault relay", stock.plain("ground-fault relay"), trip, count)
    own = [one for one in row.circuit.terminals if one.box == "HCP"]  # those of a single circuit's limits among them
    yield Needed("control terminal", stock.plain("terminal"), "terminal of the control circuit", len(own))
    jumpers = sum(one.jumper for one in own)
    if jumpers:
        yield Needed("terminal jumper", stock.plain("terminal jumper"), "between neighbouring terminals", jumpers)
    bridges = sum(one.colour == JUMPER and one.purpose != "limit string" for one in row.circuit.wires)
    if bridges:
        yield Needed("terminal jumper", stock.plain("terminal jumper"), "past the terminals between two, none of which it touches", bridges)


def _fuses(rating_a: float | None, poles: int, volts_v: float, stock: Stock, rules: RuleSet) -> Iterator[Needed]:
    """Control fuses by the pole, counted as fuses, and their holder."""
    made = rules.device_words("control_fuse").replace("{volts}", f"{volts_v:g}")
    words = "to be chosen" if rating_a is None else f"{rating_a:g} A {made}"
    yield Needed("control fuse", stock.plain("control fuse", rating_a=rating_a) if rating_a is not None else "", words, poles)
    holder = f"{poles}-pole, {rules.device_words('control_fuse_holder')}"
    yield Needed("control fuse holder", stock.plain("control fuse holder", poles=poles), holder, 1)


def _relays(row: TankControl, elements: Sequence[Element], volts: str, stock: Stock) -> Iterator[Needed]:
    """Latch and relays, with as many contacts as the ladder has of each; an auxiliary block for each contactor."""
    contactors = {coil.mark for coil in row.coils}
    coils = [one.mark for one in elements if one.kind == "coil" and one.mark not in contactors]
    moved = Counter((one.of, one.closed) for one in elements if one.kind == "contact")
    for at, mark in enumerate(coils):
        words = f"{moved[mark, False]} make and {moved[mark, True]} break contacts, A300, {volts} coil"
        yield Needed("latch relay" if at == 0 else "control relay", stock.plain("control relay"), words, 1)
    blocks: dict[str, int] = {}
    for mark in contactors:
        words = f"{moved[mark, False]} make and {moved[mark, True]} break, for a contactor with a {volts} coil"
        blocks[words] = blocks.get(words, 0) + 1
    for words in sorted(blocks):
        yield Needed("auxiliary contacts", stock.plain("auxiliary contacts"), words, blocks[words])


def _door(row: TankControl, elements: Sequence[Element], volts: str, stock: Stock) -> Iterator[Needed]:
    lamps = sum(one.kind == "lamp" for one in elements)
    yield Needed("pilot light", stock.plain("pilot light"), f"LED, {volts}", lamps)
    poles = sum(one.kind == "selector" for one in elements)
    yield Needed("selector", stock.plain("selector"), f"off - auto, {poles} make contact{'s' * (poles > 1)}", 1)
    if any(one.kind == "button" for one in elements):
        yield Needed("push button", stock.plain("push button"), "reset, 1 make contact", 1)
    if row.settings.controller == "panel":
        contacts = sum(one.kind == "temperature contact" for one in elements)
        words = f"{contacts} output{'s' * (contacts > 1)} B300, {volts}"
        yield Needed("temperature controller", stock.plain("temperature controller"), words, 1)


def together(needs: Iterable[Needed]) -> tuple[Needed, ...]:
    """Lines of the same part as one."""
    count: dict[tuple[str, str, str, str], float] = {}
    for role, part, words, quantity, unit in needs:
        alike = role, part, words, unit
        count[alike] = count.get(alike, 0) + quantity
    return tuple(Needed(role, part, words, quantity, unit) for (role, part, words, unit), quantity in count.items())
