"""What to buy: heaters, parts of panel types, of direct banks, of feeders, and wire and raceway by length."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from batch.findings import Remarks
from batch.price.stock_prices import IN_THE_FIELD, price_list, priced, sold_by, used_quantities
from batch.records import Part
from batch.results import BankRow, FeederRow, Material, Needed, TypeRow, Wires
from batch.rules import RuleSet
from batch.sizing.placing import groups
from batch.sizing.stock import Stock
from batch.sizing.take_off_parts import choose_board, choose_device, choose_heater, choose_holder, choose_raceway, choose_wire, heater_words
from batch.sizing.words import size_words

HEATERS, DIRECT, HELD, FEEDERS = "heaters", "single-circuit banks", "single-circuit banks on hold", "feeders"
DISTRIBUTION, WIRING = "distribution", "wiring"
NO_LENGTH = "the length of a run is not given"


class TakeOff(NamedTuple):
    """Where the lines of a project come from: its stock list and its rule set."""

    stock: Stock
    rules: RuleSet


def list_materials(
    types: Iterable[TypeRow], banks: Iterable[BankRow], feeders: Iterable[FeederRow], stock: Stock, rules: RuleSet
) -> tuple[Material, ...]:
    """Every part of a project with its quantity, without prices: per panel type, then single-circuit banks (those on hold apart),
    feeders, distribution, heaters, wiring.

    Wire and raceway are counted one way as drawn, without waste; runs without a length are an open line of their own.
    """
    take_off = TakeOff(stock, rules)
    banks, feeders = tuple(banks), tuple(feeders)
    rows = [_line(kind.type, need, len(kind.tags)) for kind in types for need in kind.design.parts]
    for used_for, held in ((DIRECT, False), (HELD, True)):
        direct: dict[Needed, float] = defaultdict(float)
        for row in banks:
            if row.design.single_circuit is not None and (row.hold is not None) is held:
                for need in row.design.single_circuit.parts:
                    direct[need._replace(quantity=0)] += need.quantity
        rows += [_line(used_for, need, quantity) for need, quantity in direct.items()]
    rows += [_line(FEEDERS, need, quantity) for need, quantity in _feeder_devices(feeders, take_off).items()]
    rows += [_line(DISTRIBUTION, need, quantity) for need, quantity in _distribution(feeders, take_off).items()]
    rows += [_line(HEATERS, need, quantity, why) for (need, why), quantity in _heaters(banks, stock).items()]
    lengths = _lengths(banks, feeders, take_off)
    unit = "ft" if rules.region == "us" else "m"
    rows += [
        _line(WIRING, need, metres, NO_LENGTH if not metres else "")._replace(sold_by=unit) for need, metres in sorted(lengths.items())
    ]
    return tuple(rows)


def price_materials(projects: Iterable[tuple[tuple[Material, ...], str | None]], stock: Iterable[Part]) -> list[tuple[Material, ...]]:
    """The lines of every project (with its currency) with prices and hours: one price a part, by what the whole job uses; then labour."""
    projects, stock = list(projects), tuple(stock)
    listed = price_list(stock)
    used = used_quantities((line for lines, _ in projects for line in lines), listed)
    found = []
    for lines, currency in projects:
        rows = [priced(line, listed, used, currency) for line in lines]
        found.append((*rows, *_labour(rows, stock)))
    return found


def say_prices(materials: Iterable[Material], stock: Iterable[Part], said: Remarks) -> None:
    """Parts without a price are said, never counted as zero; so are prices of the stock list that have no use here, and shop hours that
    are taken on site."""
    stock, materials = tuple(stock), tuple(materials)
    used = {row.part for row in materials}
    in_shop = [part.part for part in stock if part.kind in IN_THE_FIELD and part.field_h is None and part.labour_h and part.part in used]
    if in_shop:
        said.add("shop-hours-on-site", "part", parts=_few(list(dict.fromkeys(in_shop))))
    if not any(part.unit_price is not None for part in stock):
        said.add("prices-not-given", "part")
        return
    without = [row for row in materials if row.price is None]
    if without:
        names = list(dict.fromkeys(row.part or row.role for row in without))
        said.add("price-missing", "part", count=len(without), parts=_few(names))
    by_length = [part.part for part in stock if part.kind in ("wire", "raceway") and part.unit_price is not None and not sold_by(part)]
    if by_length:
        said.add("length-price-unused", "part", parts=_few(list(dict.fromkeys(by_length))))


def _few(names: list[str]) -> str:
    return ", ".join(names[:6]) + (" …" if len(names) > 6 else "")


def _line(used_for: str, need: Needed, times: float, why: str = "") -> Material:
    return Material(used_for, need.role, need.part, need.words, times * (need.quantity or 1), need.unit, None, None, why=why)


def _heaters(banks: Iterable[BankRow], stock: Stock) -> dict[tuple[Needed, str], float]:
    """Heaters by what they are; of one that is open, which parts it may be."""
    count: dict[tuple[Needed, str], float] = defaultdict(float)
    for row in banks:
        found = choose_heater(row.bank, stock)
        maybe = ", ".join(part.part for part in found.candidates) if not found.part else ""
        need = Needed("heater", found.part, heater_words(row.bank), 0)
        count[need, f"may be {maybe}: name it in Heater part" if maybe else ""] += row.bank.quantity
    return count


def _feeder_devices(feeders: Iterable[FeederRow], take_off: TakeOff) -> dict[Needed, float]:
    """Devices of feeders and what holds them; an existing device is not bought again."""
    stock, rules = take_off
    count: dict[Needed, float] = defaultdict(float)
    for row in feeders:
        if row.device is not None and row.feeder.existing_device_a is None:
            device, fused, volts_v = row.device, row.device.kind == "fuse", row.supply.volts_v
            one = f"{device.rating_a:g} A {device.each}" if fused else device.in_full
            part = choose_device(device, row.fault_ka, volts_v, stock=stock, rules=rules)
            count[Needed(f"feeder {device.kind}", part.part if part else "", one, 0)] += device.poles if fused else 1
            if fused:
                holder = None
                if row.wires is not None:
                    holder = choose_holder(device, row.wires, row.fault_ka, volts_v, stock=stock, rules=rules)
                words = f"{device.poles}-pole, for {one}"
                count[Needed("feeder fused switch or holder", holder.part if holder else "", words, 0)] += 1
    return count


def _distribution(feeders: Iterable[FeederRow], take_off: TakeOff) -> dict[Needed, float]:
    """Distribution units that are ours, with the devices of their ways, and the devices at the ends of taps; a unit that is there already
    is not bought again."""
    stock, rules = take_off
    count: dict[Needed, float] = defaultdict(float)
    for row in feeders:
        end = row.end
        taps = end is not None and end.unit == "taps"
        if end is None or not end.unit or not (end.ours or taps) or row.feeder.bus_a is not None:
            continue
        frames = [way.frame_a for way in end.ways if way.frame_a is not None]
        spaces = ", ".join(f"{frames.count(frame)} of {frame:g} A" for frame in sorted(set(frames), reverse=True))
        bus = "bus to be chosen" if end.bus_a is None else f"bus {end.bus_a:g} A"
        withstands = "not known" if end.fault_ka is None else f"at least {end.fault_ka:.1f} kA"
        main = "main lugs" if end.main_a is None else f"main device {end.main_a:g} A, lugs"
        words = f"{end.unit}, {bus}, {main} {end.lugs}, spaces {spaces}, short-circuit rating {withstands}"
        volts_v, board = row.supply.volts_v, choose_board(end, row.supply, stock)
        if not taps:
            count[Needed("distribution unit", board, words, 0)] += 1
        for way in end.ways:
            if way.device is None:
                continue
            part = choose_device(way.device, end.fault_ka, volts_v, stock=stock, rules=rules)
            name = part.part if part else ""
            if way.device.kind != "fuse":
                count[Needed("way breaker", name, way.device.in_full, 0)] += 1
                continue
            holder = None
            if way.wires is not None:
                holder = choose_holder(way.device, way.wires, end.fault_ka, volts_v, stock=stock, rules=rules)
            count[Needed("way fuse", name, f"{way.device.rating_a:g} A {way.device.each}", 0)] += way.device.poles
            switch = f"{way.device.poles}-pole, {way.frame_a or 0:g} A frame"
            count[Needed("way fusible switch", holder.part if holder else "", switch, 0)] += 1
    return count


def _lengths(banks: Iterable[BankRow], feeders: Iterable[FeederRow], take_off: TakeOff) -> dict[Needed, float]:
    """Metres of each conductor and raceway; 0 of those whose run has no length."""
    metres: dict[Needed, float] = defaultdict(float)
    for row in banks:
        circuits = row.bank.quantity * row.design.circuits_per_heater
        shares = row.bank.circuits_in_raceway or 1
        grounded = sum(leg.split("-").count(group.grounded) for group in groups(row.design) for leg in group.legs)
        for need, length in _run(row.design.branch.wires, row.design.run_m, circuits, shares, take_off, grounded=grounded):
            metres[need] += length
        for panel in row.panels:
            for need, length in _run(panel.design.panel_feeder_wires, row.bank.panel_feeder_run_m, 1, 1, take_off):
                metres[need] += length
    for fed in feeders:
        if fed.wires is not None:
            for need, length in _run(fed.wires, fed.feeder.run_m, 1, 1, take_off):
                metres[need] += length
        for way in fed.end.ways if fed.end is not None and (fed.end.ours or fed.end.unit == "taps") else ():
            if way.wires is not None:
                for need, length in _run(way.wires, way.run_m, 1, 1, take_off):
                    metres[need] += length
    return metres


def _run(
    wires: Wires, length_m: float | None, circuits: int, shares: int, take_off: TakeOff, *, grounded: int = 0
) -> Iterator[tuple[Needed, float]]:
    """Its conductors and raceway; of a run without a length they are named apart, so that what is measured stays complete. `grounded` of
    the circuits have a grounded line, white or gray; of a single run its wires say so.
    """
    if length_m == 0.0 or not wires.required_size:
        return
    stock, rules = take_off
    sets, length = wires.sets * circuits, length_m or 0.0
    unmeasured = "" if length_m else "; length not given"
    insulated = f"{wires.material} {wires.insulation}"
    kind = wires.material, wires.insulation
    line = choose_wire(wires.size, *kind, False, stock=stock, rules=rules)
    ground = choose_wire(wires.ground, *kind, True, stock=stock, rules=rules)
    white_lines = wires.sets * (grounded or wires.grounded)
    lines = sets * (wires.lines + bool(wires.neutral)) - white_lines
    yield Needed("conductor", line, f"{size_words(wires.size)} {insulated}{unmeasured}", 0, "m"), length * lines
    if white_lines:
        part = choose_wire(wires.size, *kind, False, stock=stock, rules=rules, colours=("white", "gray", "grey"))
        words = f"{size_words(wires.size)} {insulated}, white or gray, grounded line{unmeasured}"
        yield Needed("conductor", part, words, 0, "m"), length * white_lines
    yield Needed("grounding conductor", ground, f"{size_words(wires.ground)} {insulated}, green{unmeasured}", 0, "m"), length * sets
    if wires.raceway:
        yield Needed("raceway", choose_raceway(wires.raceway, stock), f"{wires.raceway}{unmeasured}", 0, "m"), length * -(-sets // shares)


def _labour(rows: Iterable[Material], stock: Iterable[Part]) -> Iterator[Material]:
    """Hours at the rate of the only labour line of the stock list."""
    rates = [part for part in stock if part.kind == "labour"]
    hours = sum(row.hours or 0.0 for row in rows)
    if hours and len(rates) == 1:
        yield Material("labour", "labour", rates[0].part, "hours of the parts above", hours, "h", rates[0].unit_price, None)
