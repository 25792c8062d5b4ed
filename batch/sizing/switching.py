"""Contactor, distribution block, disconnect, protector loop and the short-circuit rating of a panel."""

from __future__ import annotations

from typing import NamedTuple

from batch.findings import Remark, remark
from batch.records import Part
from batch.results import Device
from batch.rules import RuleSet
from batch.sizing.stock import Need, Stock, none_serves
from batch.sizing.words import amps, size_words


class Chosen(NamedTuple):
    """A part of a panel: in words, its rating, the stock part if any, where that comes from, and what there is to say."""

    words: str
    rating_a: float
    part: Part | None
    basis: str
    remarks: tuple[Remark, ...]

    @property
    def name(self) -> str:
        return self.part.part if self.part else ""


def choose_contactor(line_a: float, poles: int, volts_v: float, wire: str, wires: int, rules: RuleSet, stock: Stock) -> Chosen:
    """Smallest contactor whose continuous (resistive) rating covers the line current once: no margin on top of a continuous rating."""
    from_stock, said = _from_stock(Need("contactor", line_a, poles, volts_v, _known(wire, rules), wires), rules, stock)
    if from_stock is not None:
        return from_stock
    found = rules.contactor(line_a)
    if found is None:
        said += (remark("beyond-table", "quantity", what="Contactor", value=amps(line_a), table="the NEMA ICS 2 sizes"),)
        return Chosen("", 0.0, None, "", said)
    name, rating = found.value
    return Chosen(f"NEMA {name}, {rating:g} A, {poles}-pole", rating, None, found.basis, said)


def choose_block(
    device_a: float,
    poles: int,
    volts_v: float,
    panel_feeder_wire: str,
    feed_sets: int,
    branch_wire: str,
    openings: int,
    fault_ka: float | None,
    rules: RuleSet,
    stock: Stock,
) -> Chosen:
    """The distribution block: rated for the feed device, not only for the load, with an opening for each wire of a pole."""
    outlets = f"openings a pole: {feed_sets} x {_size(panel_feeder_wire)} line side, {openings} x {_size(branch_wire)} load side"
    most = max(openings, feed_sets)
    need = Need("power distribution block", device_a, poles, volts_v, _known(panel_feeder_wire, rules), most, fault_ka, said=outlets)
    from_stock, said = _from_stock(need, rules, stock)
    if from_stock is not None:
        return from_stock
    words = (
        f"{poles}-pole, at least {device_a:g} A; openings a pole: "
        f"{feed_sets} x {_size(panel_feeder_wire)} line side, {openings} x {_size(branch_wire)} load side"
    )
    return Chosen(words, device_a, None, "rated for the panel feeder OCPD", said)


def choose_disconnect(device_a: float, poles: int, volts_v: float, wire: str, rules: RuleSet, stock: Stock) -> Chosen:
    """Smallest disconnect that takes the device behind it: so at least 1 + margin times the load, opening all lines (425.19)."""
    from_stock, said = _from_stock(Need("disconnect", device_a, poles, volts_v, _known(wire, rules)), rules, stock)
    if from_stock is not None:
        return from_stock
    found = rules.next_switch(device_a)
    rating = found.value if found else device_a
    return Chosen(f"{rating:g} A, {poles}-pole, in sight or lockable", rating, None, "425.19", said)


def _from_stock(need: Need, rules: RuleSet, stock: Stock) -> tuple[Chosen | None, tuple[Remark, ...]]:
    if not stock.lists(need.kind):
        return None, ()
    part = stock.choose(need, rules)
    if part is None:
        return None, (none_serves(need),)
    return Chosen(f"{part.part}, {part.rating_a:g} A, {need.poles}-pole", part.rating_a, part, f"stock part {part.part}", ()), ()


def _known(wire: str, rules: RuleSet) -> str:
    return wire if wire in rules.sizes else ""


def _size(wire: str) -> str:
    return size_words(wire) if wire and wire[0].isdigit() else wire


class PanelRating(NamedTuple):
    sccr_ka: float | None
    part: str
    from_stock: bool


def panel_rating(block: Chosen, branch: Device, holder: Part | None, branch_part: Part | None, rules: RuleSet) -> PanelRating:
    """Short-circuit rating of a panel: the lowest of its block and its branch devices, each by its own marking, else the default for
    an unmarked part (UL 508A Table SB4.1). A fuse upstream does not raise it by itself."""
    second = holder if branch.kind == "fuse" else branch_part
    return _lowest((("power distribution block", block.part), ("fuse holder" if branch.kind == "fuse" else "breaker", second)), rules)


def switch_rating(contactor: Chosen, disconnect: Chosen, rules: RuleSet) -> PanelRating:
    """The same of what stands ahead of the feed wires: contactor and disconnect."""
    return _lowest((("contactor", contactor.part), ("disconnect", disconnect.part)), rules)


def _lowest(parts: tuple[tuple[str, Part | None], ...], rules: RuleSet) -> PanelRating:
    rated = []
    for kind, part in parts:
        if part is not None and part.sccr_ka is not None:
            rated.append(PanelRating(part.sccr_ka, part.part, True))
        elif (cited := rules.sccr_default(kind)) is not None:
            rated.append(PanelRating(cited.value, f"unmarked {kind}", False))
    return min(rated, key=lambda one: one.sccr_ka, default=PanelRating(None, "", False))


def limit_terminals(heaters: int, level_cutoff: bool, rules: RuleSet) -> int:
    """Terminals of the protector loop in a panel: two per heater in series, two for the loop in and out, two more for a level cutoff.

    Common practice, no source. Each panel of a tank with a level cutoff gets its two terminals, so that the tank's panels stay alike.
    """
    each, loop = rules.factor("terminals_per_heater").value, rules.factor("terminals_of_limit_string").value
    return int(each * heaters + loop + (rules.factor("terminals_of_level_cutoff").value if level_cutoff else 0))
