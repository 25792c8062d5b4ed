"""Which line of the estimator's stock list a heater, an enclosure, a switch, a wire, a cable or a raceway is. None or several: open."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from batch.findings import Remarks
from batch.records import Bank, Part, Supply
from batch.results import Device, FeederEnd, Wires
from batch.rules import AMPS_DIGITS, RuleSet
from batch.sizing.stock import Need, Stock
from batch.sizing.words import size_words

SAME_PCT = 1.0  # two statements of a heated length or diameter
NAMED_AT_MOST = 4


class HeaterPart(NamedTuple):
    """The stock part of a heater, "" = open, then `candidates` agree in kW, volts and phases."""

    part: str
    candidates: tuple[Part, ...] = ()


def heater_words(bank: Bank) -> str:
    more = [bank.sheath] if bank.sheath else []
    return ", ".join([f"{bank.power_kw:g} kW, {bank.volts_v:g} V, {bank.phases}-phase", *more])


def choose_heater(bank: Bank, stock: Stock) -> HeaterPart:
    """As named on its row, else the only stock heater that agrees."""
    if bank.heater_part:
        return HeaterPart(bank.heater_part)
    near = tuple(part for part in stock.of("heater") if _same_load(part, bank))
    fits = [part for part in near if not _differing(part, bank, unknown_differs=True)]
    return HeaterPart(fits[0].part, near) if len(fits) == 1 else HeaterPart("", near)


def say_heater_part(bank: Bank, stock: Stock, said: Remarks) -> None:
    """A named part whose data differ, or a heater that no line or several lines of the stock list could be."""
    if not stock.lists("heater"):
        return
    if bank.heater_part:
        named = next((part for part in stock.of("heater") if part.part == bank.heater_part), None)
        what = ["the Stock sheet lists no such heater"] if named is None else _differing(named, bank, unknown_differs=False)
        if what:
            said.add("heater-part-differs", "heater_part", part=bank.heater_part, what="; ".join(what))
        return
    found = choose_heater(bank, stock)
    if not found.part:
        names = ", ".join(part.part for part in found.candidates[:NAMED_AT_MOST])
        if found.candidates:
            said.add("heater-part-several", "heater_part", heater=heater_words(bank), parts=names)
        else:
            said.add("heater-part-none", "heater_part", heater=heater_words(bank))


def _same_load(part: Part, bank: Bank) -> bool:
    return all(
        stated is not None and abs(stated - asked) <= 1e-6 * asked
        for stated, asked in ((part.power_kw, bank.power_kw), (part.volts_v, bank.volts_v), (part.phases, bank.phases))
    )


def _differing(part: Part, bank: Bank, unknown_differs: bool) -> list[str]:
    """In words what the stock row states otherwise than the heater list; a blank of the stock row asks for nothing."""
    found = []
    for name, stated, asked in (
        ("kW", part.power_kw, bank.power_kw), ("volts", part.volts_v, bank.volts_v), ("phases", part.phases, bank.phases),
        ("heated length", part.heated_length_mm, bank.heated_length_mm), ("diameter", part.diameter_mm, bank.diameter_mm),
    ):  # fmt: skip
        if stated is None or (asked is None and (not unknown_differs or name == "diameter")):
            continue
        if asked is None or abs(stated - asked) > SAME_PCT / 100.0 * abs(stated):
            found.append(name)
    if part.sheath and (bank.sheath or unknown_differs) and _folded(part.sheath) != _folded(bank.sheath or ""):
        found.append("sheath")
    return found


def _folded(words: str) -> str:
    return " ".join(words.split()).casefold()


def choose_enclosure(branches: int, device_a: float, stock: Stock) -> str:
    """The smallest part that is listed for so many branches and amps, "" = none."""
    listed = stock.of("enclosure")
    fits = [
        part
        for part in listed
        if part.branches_at_most is not None and part.branches_at_most >= branches
        and part.rating_a is not None and round(part.rating_a, AMPS_DIGITS) >= round(device_a, AMPS_DIGITS)
    ]  # fmt: skip
    if fits:
        return min(fits, key=lambda part: (part.branches_at_most or 0, part.rating_a or 0.0, part.part)).part
    only = listed[0] if len(listed) == 1 else None
    plain = only is not None and branches > 1 and only.branches_at_most is None and only.rating_a is None
    return only.part if only is not None and plain else ""  # a shop with one enclosure that states nothing means its panels


def choose_holder(device: Device, wires: Wires, fault_ka: float | None, volts_v: float, *, stock: Stock, rules: RuleSet) -> Part | None:
    """The holder or fused switch of a device, by its rating, poles, volts and wires; none that is marked below the fault current."""
    known = wires.size if wires.size in rules.sizes else ""
    part = stock.choose(Need("fuse holder", device.rating_a, device.poles + device.neutral, volts_v, known, wires.sets, fault_ka), rules)
    return part if part is not None and _withstands(part, fault_ka) and not stock.wrong_metal(part) else None


def choose_board(end: FeederEnd, supply: Supply, stock: Stock) -> str:
    """The smallest distribution board that is listed for so many outgoing sets, that bus, those volts and phases and that fault current.

    What a row leaves blank never serves; nor is one chosen where the bus or the fault current is not known.
    """
    ways, bus_a, fault_ka = sum(way.device is not None for way in end.ways), end.bus_a, end.fault_ka
    if bus_a is None or fault_ka is None:
        return ""
    fits = [
        part
        for part in stock.of("distribution board")
        if (part.branches_at_most or 0) >= ways and (part.rating_a or 0.0) >= bus_a and (part.volts_v or 0.0) >= supply.volts_v
        and (part.sccr_ka or 0.0) >= fault_ka and (part.phases or part.poles or 0) >= supply.phases
    ]  # fmt: skip
    return min(fits, key=lambda part: (part.branches_at_most or 0, part.rating_a or 0.0, part.part)).part if fits else ""


def choose_device(device: Device, fault_ka: float | None, supply: Supply, *, stock: Stock, rules: RuleSet) -> Part | None:
    """The stock part of just this rating; none that is marked below the fault current, or not marked."""
    grounded = bool(supply.grounded) and device.kind == "breaker"
    poles = device.poles + (device.neutral and device.kind == "breaker")
    need = Need(device.kind, device.rating_a, poles, supply.volts_v, fault_ka=fault_ka, most_a=device.rating_a, grounded=grounded)
    part = stock.choose(need, rules)
    return part if part is not None and _withstands(part, fault_ka) and not stock.wrong_metal(part) else None


def _withstands(part: Part, fault_ka: float | None) -> bool:
    return fault_ka is None or (part.sccr_ka or 0.0) >= fault_ka


def choose_wire(
    size: str, material: str, insulation: str, green: bool, *, stock: Stock, rules: RuleSet, colours: Sequence[str] = ()
) -> str:
    """The wire of that size and insulation; green for grounding, of the others black first, or one of the `colours` alone. Aluminum has
    to say so, copper must not.
    """
    fits = [
        part
        for part in stock.of("wire")
        if part.size and rules.size_named(part.size) == size and _folded(part.insulation or "") == _folded(insulation)
        and ("green" in _folded(part.colour or "")) is green
        and ("alum" in _folded(f"{part.part} {part.description or ''}")) is (material == "aluminum")
        and (not colours or _folded(part.colour or "") in colours)
    ]  # fmt: skip
    return min(fits, key=lambda part: "black" not in _folded(part.colour or "")).part if fits else ""


def cable_cores(wires: Wires) -> str:
    """The cores of one multicore cable in words, like sizes together, the grounding conductor's last: "4 x 2.5 mm²", "3 x 35 + 16 mm²"."""
    sizes = [wires.size] * wires.lines + ([wires.neutral if wires.neutral[:1].isdigit() else wires.size] if wires.neutral else [])
    count = Counter((*sizes, wires.ground))
    *first, last = (size_words(size) for size in count)
    unit = last.partition(" ")[2]
    each = [f"{many} x " if many > 1 else "" for many in count.values()]
    return " + ".join(f"{many}{size}" for many, size in zip(each, [*(size.removesuffix(f" {unit}") for size in first), last], strict=True))


def choose_cable(cores: str, material: str, insulation: str, stock: Stock) -> str:
    """The multicore cable of these cores: a stock part whose Size names them, "4G2.5" or "3 x 35 + 16"; of one that does not tell its
    grounding conductor by a G or as the last size, Colour has to name green. Aluminum has to say so, copper must not."""
    asked = _cores(cores)
    fits = [
        part.part
        for part in stock.of("wire")
        if part.size and _cores(part.size) == asked and _folded(part.insulation or "") == _folded(insulation)
        and ("+" in part.size or "g" in part.size.casefold() or "green" in _folded(part.colour or ""))
        and ("alum" in _folded(f"{part.part} {part.description or ''}")) is (material == "aluminum")
    ]  # fmt: skip
    return fits[0] if len(fits) == 1 else ""


def _cores(text: str) -> str:
    """ "4x2.5" of "4G2,5", "4 x 2.5 mm²" and "4 × 2.5"."""
    plain = re.sub(r"mm²|mm2|\s", "", text.casefold()).replace(",", ".")
    return re.sub(r"[g×*]", "x", plain)


def choose_raceway(words: str, stock: Stock) -> str:
    """The raceway of a trade size and kind: "3/4 in PVC-80"; a part's Size may name the unit or not."""
    fits = [part.part for part in stock.of("raceway") if _trade(f"{part.size or ''} {part.insulation or ''}") == _trade(words)]
    return fits[0] if len(fits) == 1 else ""


def _trade(words: str) -> str:
    """ "3/4 pvc-80" of "3/4 in PVC-80" and of a size with the sign of inches."""
    return re.sub(r'(?<=\d)\s*(?:"|in\b\.?)', "", _folded(words))
