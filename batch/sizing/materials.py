"""What to buy: parts of panel types, of direct banks, of feeders, and wire and raceway by length."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from batch.findings import Remarks
from batch.records import Part
from batch.results import BankRow, FeederRow, Material, Needed, TypeRow, Wires
from batch.sizing.words import size_words

DIRECT, HELD, FEEDERS = "single-circuit banks", "single-circuit banks on hold", "feeders"
DISTRIBUTION, WIRING = "distribution", "wiring"


def list_materials(
    types: Iterable[TypeRow], banks: Iterable[BankRow], feeders: Iterable[FeederRow], stock: Iterable[Part]
) -> tuple[Material, ...]:
    """Every part of a project with its quantity: per panel type, then single-circuit banks (those on hold apart), feeders, wiring,
    and labour.

    Wire and raceway are counted one way as drawn, without waste; a run without a length is left out here and noted elsewhere.
    Prices and hours come from the stock list; wire and raceway carry none, since the list does not say per what length.
    """
    priced = {part.part: part for part in stock}
    banks, feeders = tuple(banks), tuple(feeders)
    rows = [_material(kind.type, need, len(kind.tags), priced) for kind in types for need in kind.design.parts]
    for used_for, held in ((DIRECT, False), (HELD, True)):
        direct: dict[Needed, float] = defaultdict(float)
        for row in banks:
            if row.design.single_circuit is not None and (row.hold is not None) is held:
                for need in row.design.single_circuit.parts:
                    direct[need._replace(quantity=0)] += need.quantity
        rows += [_material(used_for, need, quantity, priced) for need, quantity in direct.items()]
    rows += [_material(FEEDERS, need, quantity, priced) for need, quantity in _feeder_devices(feeders).items()]
    rows += [_material(DISTRIBUTION, need, quantity, priced) for need, quantity in _distribution(feeders).items()]
    rows += [_material(WIRING, need, quantity, priced) for need, quantity in sorted(_lengths(banks, feeders).items())]
    return (*rows, *_labour(rows, stock))


def say_prices(materials: Iterable[Material], stock: Iterable[Part], said: Remarks) -> None:
    """Parts without a price are said, never counted as zero; so are prices of the stock list that have no use here."""
    if not any(part.unit_price is not None for part in stock):
        said.add("prices-not-given", "part")
        return
    without = [row for row in materials if row.unit_price is None]
    if without:
        names = list(dict.fromkeys(row.part or row.role for row in without))
        said.add("price-missing", "part", count=len(without), parts=_few(names))
    by_length = [part.part for part in stock if part.kind in ("wire", "raceway") and part.unit_price is not None]
    if by_length:
        said.add("length-price-unused", "part", parts=_few(by_length))


def _few(names: list[str]) -> str:
    return ", ".join(names[:6]) + (" …" if len(names) > 6 else "")


def _material(used_for: str, need: Needed, times: float, priced: Mapping[str, Part]) -> Material:
    part = priced.get(need.part)
    quantity = times * (need.quantity or 1)
    return Material(
        used_for, need.role, need.part, need.words, quantity, need.unit, part.unit_price if part else None, part.labour_h if part else None
    )


def _feeder_devices(feeders: Iterable[FeederRow]) -> dict[Needed, float]:
    """Devices of feeders and what holds them; an existing device is not bought again."""
    count: dict[Needed, float] = defaultdict(float)
    for row in feeders:
        if row.device is not None and row.feeder.existing_device_a is None:
            device, fused = row.device, row.device.kind == "fuse"
            one = f"{device.rating_a:g} A {device.each}" if fused else device.in_full
            count[Needed(f"feeder {device.kind}", "", one, 0)] += device.poles if fused else 1
            if fused:
                count[Needed("feeder fused switch or holder", "", f"{device.poles}-pole, for {one}", 0)] += 1
    return count


def _distribution(feeders: Iterable[FeederRow]) -> dict[Needed, float]:
    """Distribution units that are ours, with the devices of their ways; a unit that is there already is not bought again."""
    count: dict[Needed, float] = defaultdict(float)
    for row in feeders:
        end = row.end
        if end is None or not end.ours or end.unit in ("", "taps") or row.feeder.bus_a is not None:
            continue
        frames = [way.frame_a for way in end.ways if way.frame_a is not None]
        spaces = ", ".join(f"{frames.count(frame)} of {frame:g} A" for frame in sorted(set(frames), reverse=True))
        bus = "bus to be chosen" if end.bus_a is None else f"bus {end.bus_a:g} A"
        withstands = "not known" if end.fault_ka is None else f"at least {end.fault_ka:.1f} kA"
        words = f"{end.unit}, {bus}, main lugs {end.lugs}, spaces {spaces}, short-circuit rating {withstands}"
        count[Needed("distribution unit", "", words, 0)] += 1
        for way in end.ways:
            if way.device is not None and way.device.kind == "fuse":
                count[Needed("way fuse", "", f"{way.device.rating_a:g} A {way.device.each}", 0)] += way.device.poles
                count[Needed("way fusible switch", "", f"{way.device.poles}-pole, {way.frame_a or 0:g} A frame", 0)] += 1
            elif way.device is not None:
                count[Needed("way breaker", "", way.device.in_full, 0)] += 1
    return count


def _lengths(banks: Iterable[BankRow], feeders: Iterable[FeederRow]) -> dict[Needed, float]:
    """Metres of each conductor and raceway."""
    metres: dict[Needed, float] = defaultdict(float)
    for row in banks:
        circuits = row.bank.quantity * row.design.circuits_per_heater
        for need, length in _run(row.design.branch.wires, row.design.run_m, circuits, row.bank.circuits_in_raceway or 1):
            metres[need] += length
        for panel in row.panels:
            for need, length in _run(panel.design.panel_feeder_wires, row.bank.panel_feeder_run_m, 1, 1):
                metres[need] += length
    for fed in feeders:
        if fed.wires is not None:
            for need, length in _run(fed.wires, fed.feeder.run_m, 1, 1):
                metres[need] += length
        for way in fed.end.ways if fed.end is not None and (fed.end.ours or fed.end.unit == "taps") else ():
            if way.wires is not None:
                for need, length in _run(way.wires, way.run_m, 1, 1):
                    metres[need] += length
    return metres


def _run(wires: Wires, length_m: float | None, circuits: int, shares: int) -> Iterator[tuple[Needed, float]]:
    if not length_m or not wires.required_size:
        return
    sets = wires.sets * circuits
    insulated = f"{wires.material} {wires.insulation}"
    yield Needed("conductor", "", f"{size_words(wires.size)} {insulated}", 0, "m"), length_m * sets * (wires.lines + bool(wires.neutral))
    yield Needed("grounding conductor", "", f"{size_words(wires.ground)} {insulated}, green", 0, "m"), length_m * sets
    if wires.raceway:
        yield Needed("raceway", "", wires.raceway, 0, "m"), length_m * -(-sets // shares)


def _labour(rows: Iterable[Material], stock: Iterable[Part]) -> Iterator[Material]:
    """Hours at the rate of the only labour line of the stock list."""
    rates = [part for part in stock if part.kind == "labour"]
    hours = sum(row.quantity * row.hours_each for row in rows if row.hours_each)
    if hours and len(rates) == 1:
        yield Material("labour", "labour", rates[0].part, "hours of the parts above", hours, "h", rates[0].unit_price, None)
