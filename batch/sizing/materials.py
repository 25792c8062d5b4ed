"""What to buy: heaters, parts of panel types, single circuits and feeders, and what the rules of the shop add; runs: `run_lines`."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from math import ceil
from types import MappingProxyType
from typing import NamedTuple

from batch.control_results import TankControl
from batch.counted_words import few
from batch.findings import Remarks
from batch.material_lines import ACTIVITY, BANK, BUILD, FEEDER, FIELD, METRES, OTHER, PROJECT, SHOP, TANK, Owner
from batch.money_records import Allowance, OtherCost, Pricing
from batch.price.open_lines import lacking, names_of
from batch.price.scope import TRANSFORMER
from batch.price.stock_prices import IN_THE_FIELD
from batch.records import Job, Part
from batch.results import BankRow, Device, FeederRow, Material, Needed, SourceRow, TypeRow
from batch.rules import RuleSet
from batch.sizing.allowances import FUSE, allowance_lines, counted_by_shop, usual_spares
from batch.sizing.box_parts import CONSUMABLES, plate_and_label
from batch.sizing.control_parts import coil_volts, in_switches, with_coil, without_holders
from batch.sizing.neutral_poles import fused_poles_words
from batch.sizing.run_lines import NONE_ASKED, RunFinder, bank_runs, feeder_runs
from batch.sizing.stock import Stock
from batch.sizing.string_contacts import string_contacts
from batch.sizing.take_off_parts import choose_board, choose_device, choose_heater, choose_holder, heater_words
from batch.sizing.wire_colours import colours_asked
from batch.sizing.words import fault_current
from batch.units import convert

HEATERS, SINGLE, FEEDERS, DISTRIBUTION, SOURCES = "heaters", "single circuit", "feeders", "distribution", "sources"
OTHER_COSTS = "other costs"
BOX_CONSUMABLES = "boxes"
NONE_SAID: Mapping[str, str | None] = MappingProxyType({})
CLOSE = 1e-9  # a whole number of feet is one, whatever changing units did to it


class TakeOff(NamedTuple):
    """Where the lines of a project come from: its stock list, its rule set, and how the firm counts."""

    stock: Stock
    rules: RuleSet
    pricing: Pricing | None = None
    allowances: Sequence[Allowance] = ()
    other_costs: Sequence[OtherCost] = ()
    ground_colour: str = ""  # that the project asks for
    line_colours: Mapping[str, Sequence[str]] = NONE_ASKED  # likewise, by folded tank, and "" of the project
    cutoffs: Mapping[str, str | None] = NONE_SAID  # of folded tanks, as the job says it


def take_off_of(job: Job, project: str, rules: RuleSet, conductor: str) -> TakeOff:
    """How the lines of a project are counted: with its own row of Pricing, its rules and its other costs."""
    pricing = next((one for one in job.pricing if one.project == project), None)
    allowances = [one for one in job.allowances if one.project == project]
    others = [one for one in job.other_costs if one.project == project]
    asked = next((dict(colours_asked(one, rules.marking)) for one in job.projects if one.project == project), {})
    lines = [("", one.line_colours) for one in job.projects if one.project == project]
    lines += [(one.tank.casefold(), one.line_colours) for one in job.tanks if one.project == project]
    own = {tank: words.split() for tank, words in lines if words}
    cutoffs = {one.tank.casefold(): one.level_cutoff for one in job.tanks if one.project == project}
    return TakeOff(Stock(job.stock, conductor), rules, pricing, allowances, others, asked.get("ground", ""), own, cutoffs)


class SingleCircuit(NamedTuple):
    """Parts of one single-circuit bank, and the banks that have just these: (tank, label) of each. `hold`: they are not released."""

    name: str
    parts: tuple[Needed, ...]
    banks: tuple[tuple[str, str], ...]
    hold: str


def single_circuits(banks: Iterable[BankRow]) -> list[SingleCircuit]:
    """The single circuits of a project by what they are built of, in the order of the banks."""
    alike: dict[tuple[tuple[Needed, ...], bool], list[BankRow]] = {}
    for row in banks:
        if row.design.single_circuit is not None:
            alike.setdefault((row.design.single_circuit.feed_parts, row.hold is not None), []).append(row)
    return [
        SingleCircuit(
            f"{SINGLE} {number}", parts, tuple((row.bank.tank, row.label) for row in rows),
            " ".join(dict.fromkeys(row.hold.message for row in rows if row.hold is not None)),
        )
        for number, ((parts, _), rows) in enumerate(alike.items(), 1)
    ]  # fmt: skip


def list_materials(
    types: Iterable[TypeRow], banks: Iterable[BankRow], feeders: Iterable[FeederRow], controls: Iterable[TankControl], take_off: TakeOff,
    *, sources: Iterable[SourceRow] = (),
) -> tuple[Material, ...]:  # fmt: skip
    """Every line of a project with its quantity and who bears it, without prices: builds (panel types, single circuits, each with its
    device and contactor in the control panel; what else each kind of control panel has, borne by its tank), transformers of the job,
    feeders, distribution, heaters, what of limit strings comes from elsewhere, runs, what the shop's rules add, other costs.

    A run without a length is an open line.
    """
    banks, feeders, types, controls = tuple(banks), tuple(feeders), tuple(types), tuple(controls)
    unit = take_off.rules.marking.length
    counted = counted_by_shop(take_off.allowances, take_off.stock)
    coils, switched = coil_volts(controls), in_switches(controls)
    built = [(kind.type, need, len(kind.tags)) for kind in types
             for need in (*kind.design.parts, *_in_control_panel(kind, switched, coils)) if need.role not in counted.panels]  # fmt: skip
    built += [(single.name, with_coil(need, _volts(coils, map("/".join, single.banks))), len(single.banks))
              for single in single_circuits(banks)
              for need in without_holders(single.parts, map("/".join, single.banks), switched)]  # fmt: skip
    built += [(name, with_coil(need, [some[0].settings.control_v]), len(some)) for name, some in control_builds(controls).items()
              for need in some[0].parts if need.role not in counted.controls]  # fmt: skip
    rows = [_built(*one, unit) for one in built if one[1].role not in CONSUMABLES]
    rows += _consumables(built)
    rows += _transformers(sources)
    for row in feeders:
        owner = Owner(FEEDER, "", row.feeder.feeder)
        rows += [_line(FEEDERS, need, quantity, owner) for need, quantity in _feeder_devices(row, take_off).items()]
        rows += [_line(DISTRIBUTION, need, quantity, owner) for need, quantity in _distribution(row, take_off).items()
                 if need.role not in counted.units]  # fmt: skip
    rows += list(_heaters(banks, take_off.stock, take_off.rules.marking.short_length))
    rows += string_contacts(banks, controls, take_off.cutoffs)
    finder = RunFinder(take_off.stock, take_off.rules, take_off.pricing, take_off.ground_colour, take_off.line_colours)
    runs = [line for row in banks for line in bank_runs(row, finder)]
    runs += [line for row in feeders for line in feeder_runs(row, finder)]
    rows += runs
    rows += allowance_lines(take_off.allowances, banks, feeders, rows, take_off.stock)
    if not any(rule.per == FUSE for rule in take_off.allowances):
        rows += usual_spares(rows, take_off.rules)
    rows += [line for cost in take_off.other_costs for line in _other(cost)]
    return tuple(rows)


def _consumables(built: Iterable[tuple[str, Needed, int]]) -> Iterator[Material]:
    """What a shop has on hand, of all boxes together: how much of it a box takes stands on Boxes."""
    count: dict[Needed, float] = defaultdict(float)
    for _, need, builds in built:
        if need.role in CONSUMABLES:
            count[need._replace(quantity=0)] += builds * need.quantity
    for need, quantity in count.items():
        yield _line(BOX_CONSUMABLES, need, quantity, Owner(PROJECT))


def _transformers(sources: Iterable[SourceRow]) -> Iterator[Material]:
    """The transformers that are of the job, a line each. What stands or runs ahead of one, and between it and the first devices behind it,
    is in no line."""
    for row in sources:
        one = row.source
        if one.of_this_job != "yes" or (one.kind or TRANSFORMER) != TRANSFORMER:
            continue
        rating = "rating to be chosen" if one.kva is None else f"{one.kva:g} kVA"
        primary = "primary volts to be said" if one.primary_v is None else f"{one.primary_v:g} V"
        impedance = "" if one.z_pct is None else f", {one.z_pct:g} %Z"
        unit = f"{rating}, {primary} to {row.supply.volts_v:g} V, {row.supply.phases}-phase, {row.supply.system}{impedance}"
        words = f"{unit}; without its primary OCPD and the conductors on both sides of it"
        yield _line(SOURCES, Needed(TRANSFORMER, "", words, 0), 1.0, Owner(PROJECT))


def _volts(coils: Mapping[str, float], tags: Iterable[str]) -> list[float]:
    return [coils[tag.casefold()] for tag in tags if tag.casefold() in coils]


def _in_control_panel(kind: TypeRow, switched: Container[str], coils: Mapping[str, float]) -> Iterator[Needed]:
    """Device and contactor of a panel type."""
    volts = _volts(coils, kind.tags)
    return (with_coil(need, volts) for need in without_holders(kind.design.feed_parts, kind.tags, switched))


def control_builds(controls: Iterable[TankControl]) -> dict[str, list[TankControl]]:
    """The control panels by what they are built of, in their order; a panel whose devices and contactors are all it has is none."""
    found: dict[str, list[TankControl]] = defaultdict(list)
    for control in controls:
        if control.parts:
            found[control.type].append(control)
    return dict(found)


def say_prices(materials: Iterable[Material], stock: Iterable[Part], said: Remarks) -> None:
    """Lines that are open are said, never counted as zero; so are prices of the stock list that have no use here."""
    stock, materials = tuple(stock), tuple(materials)
    used = {row.part for row in materials}
    in_shop = [part.part for part in stock if part.kind in IN_THE_FIELD and part.field_h is None and part.labour_h and part.part in used]
    if in_shop:
        said.add("shop-hours-on-site", "part", parts=few(list(dict.fromkeys(in_shop))))
    if not any(part.unit_price is not None for part in stock) and not any(row.price is not None for row in materials):
        said.add("prices-not-given", "part")
        return
    still = lacking(materials)
    if still.price:
        said.add("price-missing", "part", count=len(still.price), parts=few(names_of(still.price)))
    if still.hours:
        said.add("hours-missing", "part", count=len(still.hours), parts=few(names_of(still.hours)))


def _built(name: str, need: Needed, builds: int, unit: str) -> Material:
    """`unit`: what goes by length is counted in where no stock part says otherwise, in whole ones."""
    each = need.quantity or 1
    if need.unit == "m":
        each = ceil(each / METRES[unit] - CLOSE) * METRES[unit]
    owner = Owner(BUILD, "", name)
    return Material(name, need.role, need.part, need.words, builds * each, need.unit, None, None, owner=owner, each=each, builds=builds,
                    place=SHOP, sold_by=unit if need.unit == "m" else "")  # fmt: skip


def _line(used_for: str, need: Needed, quantity: float, owner: Owner, *, why: str = "", place: str = SHOP) -> Material:
    return Material(used_for, need.role, need.part, need.words, quantity, need.unit, None, None, why=why, owner=owner, each=quantity,
                    place=place)  # fmt: skip


def _length_words(length_mm: float | None, unit: str) -> str:
    """ ", heated length 41 in", where it is given, in the unit that heaters are ordered by."""
    if not length_mm:
        return ""
    return f", heated length {convert(length_mm, 'mm', unit) if unit != 'mm' else length_mm:.4g} {unit}"


def _heaters(banks: Iterable[BankRow], stock: Stock, unit: str) -> Iterator[Material]:
    """Heaters bank by bank; of one that is open, which parts it may be."""
    known: dict[tuple, tuple[str, str, str]] = {}
    for row in banks:
        bank = row.bank
        alike = bank.heater_part, bank.power_kw, bank.volts_v, bank.phases, bank.sheath, bank.heated_length_mm, bank.diameter_mm
        if alike not in known:
            found = choose_heater(bank, stock)
            maybe = ", ".join(part.part for part in found.candidates) if not found.part else ""
            words = heater_words(bank) + _length_words(bank.heated_length_mm, unit)
            known[alike] = found.part, words, f"may be {maybe}: name it in Heater part" if maybe else ""
        part, words, why = known[alike]
        owner = Owner(BANK, bank.tank, row.label)
        yield _line(HEATERS, Needed("heater", part, words, 0), float(bank.quantity), owner, why=why, place=FIELD)


def _feeder_devices(row: FeederRow, take_off: TakeOff) -> dict[Needed, float]:
    """The device of a feeder and what holds it; an existing device is not bought again."""
    stock, rules = take_off.stock, take_off.rules
    count: dict[Needed, float] = defaultdict(float)
    by_others = row.feeder.device_at_end and row.end is not None and bool(row.end.unit) and not row.end.ours  # with its unit
    if row.device is not None and row.feeder.device_there_a is None and not by_others:
        device, fused, volts_v = row.device, row.device.kind == "fuse", row.supply.volts_v
        one = f"{device.rating_a:g} A {device.each}" if fused else device.in_full
        part = choose_device(device, row.device_fault_ka, row.supply, stock=stock, rules=rules)
        one = one if fused else _poles_of(one, device, part)
        count[Needed(f"feeder {device.kind}", part.part if part else "", one, 0)] += device.poles if fused else 1
        if fused:
            holder = None
            if row.wires is not None:
                holder = choose_holder(device, row.wires, row.device_fault_ka, volts_v, stock=stock, rules=rules)
            words = f"{fused_poles_words(device)}, for {one}"
            count[Needed("feeder fused switch or holder", holder.part if holder else "", words, 0)] += 1
    return count


def _distribution(row: FeederRow, take_off: TakeOff) -> dict[Needed, float]:
    """A distribution unit that is ours, with the devices of its ways and what marks it, or the devices at the ends of taps; a unit that is
    there already is not bought again."""
    count: dict[Needed, float] = defaultdict(float)
    stock, rules = take_off.stock, take_off.rules
    end = row.end
    taps = end is not None and end.unit == "taps"
    if end is None or not end.unit or not (end.ours or taps) or row.feeder.bus_a is not None:
        return count
    frames = [way.frame_a for way in end.ways if way.frame_a is not None]
    spaces = ", ".join(f"{frames.count(frame)} of {frame:g} A" for frame in sorted(set(frames), reverse=True))
    bus = "bus to be chosen" if end.bus_a is None else f"bus {end.bus_a:g} A"
    withstands = "not known" if end.fault_ka is None else f"at least {fault_current(end.fault_ka)}"
    main = "main lugs" if end.main_a is None else f"main device {end.main_a:g} A, lugs"
    poles = max((way.device.poles + way.device.neutral for way in end.ways if way.device is not None), default=row.supply.system.lines)
    main += " that opens the neutral too," if end.main_a is not None and row.device is not None and row.device.neutral else ""
    words = f"{end.unit}, {bus}, {main} {end.lugs}, spaces {spaces}, {poles}-pole, short-circuit rating {withstands}"
    if not taps:
        count[Needed("distribution unit", choose_board(end, row.supply, stock), words, 0)] += 1
        for mark in plate_and_label(stock):
            count[mark._replace(quantity=0)] += 1
    for way in end.ways:
        if way.device is None:
            continue
        part = choose_device(way.device, end.fault_ka, row.supply, stock=stock, rules=rules)
        name = part.part if part else ""
        if way.device.kind == "fuse":
            one = f"{way.device.rating_a:g} A {way.device.each}"
            count[Needed("way fuse", name, one, 0)] += way.device.poles
            holder = None
            if way.wires is not None:
                holder = choose_holder(way.device, way.wires, end.fault_ka, row.supply.volts_v, stock=stock, rules=rules)
            words = f"{fused_poles_words(way.device)}, {way.frame_a or 0:g} A frame"
            count[Needed("way fused switch or holder", holder.part if holder else "", words, 0)] += 1
        else:
            count[Needed("way breaker", name, _poles_of(way.device.in_full, way.device, part), 0)] += 1
    return count


def _poles_of(words: str, device: Device, part: Part | None) -> str:
    """A breaker in words, of two poles where the stock part is one that is marked for three phases."""
    fewer = part is not None and part.poles is not None and part.poles < device.poles
    return words.replace(f"{device.poles}-pole", f"{part.poles}-pole, marked {part.pole_mark}") if part is not None and fewer else words


def _other(cost: OtherCost) -> Iterator[Material]:
    """An other cost: its money, and its hours by place."""
    owner = Owner(TANK, cost.tank) if cost.tank else Owner(FEEDER, "", cost.feeder) if cost.feeder else Owner(PROJECT)
    if cost.amount is not None or (cost.shop_h is None and cost.field_h is None):
        why = "" if cost.amount is not None else "no amount on Other costs"
        yield Material(OTHER_COSTS, cost.scope_item or "other", "", cost.what, cost.quantity, cost.unit or "ea", cost.amount, None,
                       owner=owner, each=cost.quantity, sort=OTHER, why=why)  # fmt: skip
    for place, hours in ((SHOP, cost.shop_h), (FIELD, cost.field_h)):
        if hours is not None:
            yield Material(OTHER_COSTS, cost.scope_item or "other", "", f"{cost.what}, hours", cost.quantity, cost.unit or "ea", None,
                           hours, owner=owner, each=cost.quantity, sort=ACTIVITY, place=place)  # fmt: skip
