"""Contactor, power distribution block, disconnect, limit string and the short-circuit rating of a panel. What is no stock part is named
with the volts that it is for, since parts of one current come for several.
"""

from __future__ import annotations

from typing import NamedTuple

from batch.findings import Remarks
from batch.method.contactors import smallest_contactor
from batch.records import Part
from batch.results import Device
from batch.rules import RuleSet
from batch.sizing.stock import Need, Stock, say_none_serves
from batch.sizing.words import amps, poles_words, size_words, volts


class Chosen(NamedTuple):
    """A part of a panel: in words, its rating, the stock part if any, and where that comes from."""

    words: str
    rating_a: float
    part: Part | None
    basis: str

    @property
    def name(self) -> str:
        return self.part.part if self.part else ""


def choose_contactor(
    line_a: float, poles: int, volts_v: float, *, wire: str, wires: int, rules: RuleSet, stock: Stock, said: Remarks
) -> Chosen:
    """Smallest contactor whose lower rating, continuous or for heating, covers the line current once: no margin on top. A stock part's
    marked resistive amps count alone."""
    from_stock = _from_stock(Need("contactor", line_a, poles, volts_v, _known(wire, rules), wires), rules, stock, said)
    if from_stock is not None:
        return from_stock
    found = smallest_contactor(line_a, 3 if poles == 3 else 1, rules)
    if found is None:
        table = f"the {rules.citations['table_contactors']} sizes"
        said.add("beyond-table", "quantity", what="Contactor", value=amps(line_a), table=table)
        return Chosen("", 0.0, None, "")
    name, rating, heating = found.value
    if not heating:
        said.add("contactor-no-heating-rating", "quantity", size=name, rating=amps(rating))
    return Chosen(f"{rules.contactor_words(name, rating)}, {poles}-pole, {volts(volts_v)}", rating, None, found.citation)


class Openings(NamedTuple):
    """Wires that land on one pole of a power distribution block: a wire of each set on the line side, a jumper to each branch device on
    the load side; "" = no jumper of the table serves, so a bar does."""

    feed_wire: str
    feed_sets: int
    jumper: str
    branches: int

    @property
    def words(self) -> str:
        load = f"{_size(self.jumper)} jumpers" if self.jumper else "a bar rated for the panel feeder OCPD"
        feed = _size(self.feed_wire) if self.feed_wire else "of a wire not in the table"
        return f"openings a pole: {self.feed_sets} line side, {feed}; {self.branches} load side, {load}"


def choose_block(
    device_a: float, poles: int, volts_v: float, *, openings: Openings, fault_ka: float | None, rules: RuleSet, stock: Stock, said: Remarks
) -> Chosen:
    """The power distribution block: rated for the panel feeder's device, not only for the load, with an opening for each wire of a pole."""
    most = max(openings.branches, openings.feed_sets)
    wire = _known(openings.feed_wire, rules)
    need = Need("power distribution block", device_a, poles, volts_v, wire, most, fault_ka, said=openings.words)
    from_stock = _from_stock(need, rules, stock, said)
    if from_stock is not None:
        return from_stock._replace(words=f"{from_stock.words}; {openings.words}")
    words = f"{poles}-pole, at least {device_a:g} A, {volts(volts_v)}; {openings.words}"
    return Chosen(words, device_a, None, "rated for the panel feeder OCPD")


def choose_disconnect(
    least_a: float, poles: int, volts_v: float, *, wire: str, neutral: bool = False, rules: RuleSet, stock: Stock, said: Remarks
) -> Chosen:
    """Smallest disconnect of at least so many amps, opening all lines and, where asked, the neutral with them."""
    from_stock = _from_stock(Need("disconnect", least_a, poles + neutral, volts_v, _known(wire, rules)), rules, stock, said)
    if from_stock is not None:
        return from_stock
    found = rules.next_switch(least_a)
    if found is None:
        said.add("beyond-table", "quantity", what="Disconnect", value=amps(least_a), table="the list of switch ratings")
    rating = found.value if found else least_a
    words = f"{rating:g} A, {poles_words(poles, neutral)}, {volts(volts_v)}, lockable open"
    return Chosen(words, rating, None, rules.clause("disconnect"))


def choose_fusible(
    fuse_a: float, least_a: float, poles: int, volts_v: float, *, wire: str, neutral: bool = False, rules: RuleSet, stock: Stock
) -> Chosen | None:
    """The same with the fuses of the only panel feeder behind it in it, none in a neutral; None where none is so large, or the
    stock list has disconnects and none of them says that it takes fuses."""
    least_a = max(fuse_a, least_a)
    if not stock.lists("disconnect"):
        found = rules.next_switch(least_a)
        if found is None:
            return None
        words = f"{found.value:g} A, {poles_words(poles, neutral)}, {volts(volts_v)}, fusible, lockable open"
        return Chosen(words, found.value, None, rules.clause("disconnect"))
    fusible = Stock(part for part in stock.of("disconnect") if _takes_fuses(part))
    return _from_stock(Need("disconnect", least_a, poles + neutral, volts_v, _known(wire, rules)), rules, fusible, Remarks())


def _takes_fuses(part: Part) -> bool:
    return "fus" in f"{part.part} {part.description or ''}".casefold().replace("non-fus", "")


def _from_stock(need: Need, rules: RuleSet, stock: Stock, said: Remarks) -> Chosen | None:
    if not stock.lists(need.kind):
        return None
    part = stock.choose(need, rules)
    if part is None or part.rating_a is None:
        say_none_serves(need, said)
        return None
    spare = part.poles is not None and part.poles > need.poles
    poles = f"{part.poles}-pole, {need.poles} of them used" if spare else f"{need.poles}-pole"
    return Chosen(f"{part.part}, {part.rating_a:g} A, {poles}", part.rating_a, part, f"stock part {part.part}")


def _known(wire: str, rules: RuleSet) -> str:
    return wire if wire in rules.sizes else ""


def _size(wire: str) -> str:
    return size_words(wire) if wire and wire[0].isdigit() else wire


class PanelRating(NamedTuple):
    """The lowest short-circuit rating of some parts and whose it is; `marked`: every one of them is a stock part that states its own."""

    sccr_ka: float | None
    part: str
    from_stock: bool
    marked: bool


def panel_rating(block: Chosen, branch: Device, holder: Part | None, branch_part: Part | None, rules: RuleSet) -> PanelRating:
    """Short-circuit rating of a panel: the lowest of its block and its branch devices, each by its own marking, else the default for
    an unmarked part. A fuse upstream does not raise it by itself."""
    second = holder if branch.kind == "fuse" else branch_part
    return lowest_rating((("power distribution block", block.part), ("fuse holder" if branch.kind == "fuse" else "breaker", second)), rules)


def switch_rating(contactor: Chosen, rules: RuleSet) -> PanelRating:
    """The same of the contactor, which stands in the control panel."""
    return lowest_rating((("contactor", contactor.part),), rules)


def lowest_rating(parts: tuple[tuple[str, Part | None], ...], rules: RuleSet) -> PanelRating:
    """Of parts by kind: a stock part by its own marking, an unmarked or generic one by the default of its kind."""
    rated: list[tuple[float, str, bool]] = []
    for kind, part in parts:
        if part is not None and part.sccr_ka is not None:
            rated.append((part.sccr_ka, part.part, True))
        elif (cited := rules.sccr_default(kind)) is not None:
            rated.append((cited.value, f"unmarked {kind}", False))
    marked = len(rated) == len(parts) and all(from_stock for _, _, from_stock in rated)
    return PanelRating(*min(rated, key=lambda one: one[0]), marked) if rated else PanelRating(None, "", False, False)


def limit_terminals(heaters: int, limits: bool, rules: RuleSet) -> int:
    """Terminals of the limit string in a panel: two per heater in series, two where the string comes in and goes out; none where the
    heaters have no limits.

    Common practice, no source. The level cutoff lands in the control panel alone.
    """
    each, loop = rules.factor("terminals_per_heater").value, rules.factor("terminals_of_limit_string").value
    return int(each * heaters + loop) if limits else 0
