"""Runs as lines of the take-off: each stretch of conductors and raceway, with ends and waste as the firm counts them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

from msgspec.structs import replace

from batch.counted_words import few
from batch.held_once import held_once
from batch.material_lines import BANK, CABLE, CONDUCTORS, FEEDER, FIELD, GROUNDED, RACEWAY, Owner, Stretch
from batch.money_records import Pricing
from batch.records import Supply
from batch.results import BankRow, FeederRow, Material, Way, Wires
from batch.rules import RuleSet
from batch.sizing.placing import groups
from batch.sizing.run_colours import Dyed, RunColours, branch_lines, feed_lines, supply_lines, times
from batch.sizing.stock import Stock
from batch.sizing.take_off_parts import cable_cores, choose_cable, choose_raceway, choose_wire
from batch.sizing.words import size_words

BRANCH, PANEL_FEEDER, TO_CONTACTOR, OF_FEEDER, WAY = "branch", "panel feeder", "device to contactor", "feeder", "way"
CONTROL_PANEL = "control panel"
NAMED = 2  # panels at the end of a run before the rest is counted
WHITE = ("white", "gray", "grey")
NONE_ASKED: Mapping[str, Sequence[str]] = MappingProxyType({})
NO_LENGTH = "the length of the run is not given"


class RunFinder:
    """Stock parts of wires and raceways, each looked for once; and what the firm adds to a length."""

    def __init__(
        self, stock: Stock, rules: RuleSet, pricing: Pricing | None, ground_colour: str = "",
        line_colours: Mapping[str, Sequence[str]] = NONE_ASKED,
    ) -> None:  # fmt: skip
        self._stock, self._rules, self.pricing = stock, rules, pricing
        self._known: dict[tuple, tuple[tuple[str, str, str], ...]] = {}
        self.unit = rules.marking.length
        self.colours = RunColours(stock, rules, pricing, line_colours)
        self._green = ground_colour or rules.marking.colours["ground"]

    def parts_of(self, wires: Wires, inside: bool) -> tuple[tuple[str, str, str], ...]:
        """(role, part, words) of its conductors, grounded line, neutral and ground, or of the multicore cable that they are, and of its
        raceway. Inside a box conductors are single ones, however what comes in is laid."""
        key = wires.size, wires.lines, wires.neutral, wires.ground, wires.material, wires.insulation, wires.raceway, wires.method, inside
        if key not in self._known:
            method = self._rules.methods.get(wires.method)
            multicore = method is not None and method.value.cable == "multicore" and not inside
            self._known[key] = tuple(self._cable(wires) if multicore else self._single(wires))
        return self._known[key]

    def containments(self, wires: Wires, circuits: int, shares: int) -> int:
        """What so many circuits run in, so many to each: one for each set, or for all sets of a circuit where those lie in one together."""
        method = self._rules.methods.get(wires.method)
        sets = 1 if method is not None and method.value.together else wires.sets
        return -(-sets * circuits // shares)

    def area(self, size: str) -> float:
        """Of a conductor's metal, to tell the largest; 0.0 where no conductor serves."""
        return self._rules.area(size).value if size in self._rules.sizes else 0.0

    def _cable(self, wires: Wires) -> Iterator[tuple[str, str, str]]:
        cores = cable_cores(wires)
        words = f"{cores} {wires.material} {wires.insulation}, multicore cable, grounding conductor {self._green} in it"
        yield CABLE, choose_cable(cores, wires.material, wires.insulation, self._stock), words
        yield RACEWAY, choose_raceway(wires.raceway, self._stock) if wires.raceway else "", wires.raceway or "raceway of no listed size"

    def _single(self, wires: Wires) -> Iterator[tuple[str, str, str]]:
        stock, rules = self._stock, self._rules
        kind, insulated = (wires.material, wires.insulation), f"{wires.material} {wires.insulation}"
        line, neutral, ground = CONDUCTORS
        yield line, choose_wire(wires.size, *kind, False, stock=stock, rules=rules), f"{size_words(wires.size)} {insulated}"
        white = choose_wire(wires.size, *kind, False, stock=stock, rules=rules, colours=WHITE)
        yield GROUNDED, white, f"{size_words(wires.size)} {insulated}, white or gray, grounded line"
        if wires.neutral:
            size = wires.neutral if wires.neutral[:1].isdigit() else wires.size
            plain = choose_wire(size, *kind, False, stock=stock, rules=rules), f"{size_words(size)} {insulated}"
            yield neutral, *(self.colours.neutral(wires, size) if self.colours.asked else plain)
        words = f"{size_words(wires.ground)} {insulated}, {self._green}"
        yield ground, choose_wire(wires.ground, *kind, True, stock=stock, rules=rules), words
        yield RACEWAY, choose_raceway(wires.raceway, stock) if wires.raceway else "", wires.raceway or "raceway of no listed size"


def bank_runs(row: BankRow, finder: RunFinder) -> Iterator[Material]:
    """A bank's runs: its branches, its panel feeders, and from its devices to their contactors."""
    bank, design = row.bank, row.design
    owner, feeder = Owner(BANK, bank.tank, row.label), row.feeder.feeder
    circuits = bank.quantity * design.circuits_per_heater
    start = few([panel.tag for panel in row.panels], NAMED) or CONTROL_PANEL
    by_colour = finder.colours.asked  # few firms buy wire so
    grounded = sum(leg.split("-").count(group.grounded) for group in groups(design) for leg in group.legs)
    yield from _run(BRANCH, design.branch.wires, design.run_m, finder, owner, circuits=circuits, shares=bank.circuits_in_raceway or 1,
                    ends=(start, "heaters"), feeder=feeder, grounded=grounded, supply=row.supply,
                    on=branch_lines(row) if by_colour else None,
                    boxes=[panel.design.branches for panel in row.panels])  # fmt: skip
    alike: dict[Wires, list[str]] = {}
    for panel in row.panels:
        alike.setdefault(panel.design.panel_feeder_wires, []).append(panel.tag)
    if design.single_circuit is not None:
        alike[design.single_circuit.panel_feeder_wires] = [""]
    inside = finder.pricing.device_run_m if finder.pricing is not None else None
    for wires, tags in alike.items():
        if row.panels:
            ends = CONTROL_PANEL, few(tags, NAMED)
            length_m, shares = design.panel_feeder_run_m, wires.shares
            yield from _run(PANEL_FEEDER, wires, length_m, finder, owner, circuits=len(tags), ends=ends, feeder=feeder, shares=shares,
                            supply=row.supply, on=feed_lines(row, wires) if by_colour else None)  # fmt: skip
        ends = "OCPDs", "contactors"
        yield from _run(TO_CONTACTOR, wires, inside, finder, owner, circuits=len(tags), ends=ends, feeder=feeder, supply=row.supply,
                        inside=True)  # fmt: skip


def feeder_runs(row: FeederRow, finder: RunFinder) -> Iterator[Material]:
    """A feeder's runs: itself, and the ways to the control panels where they are of this job."""
    owner, feeder, end = Owner(FEEDER, "", row.feeder.feeder), row.feeder.feeder, row.end
    if row.wires is not None:
        to = "distribution unit" if end is not None and end.unit else "contactor"
        yield from _run(OF_FEEDER, row.wires, row.feeder.run_m, finder, owner, circuits=1, ends=("source", to), feeder=feeder,
                        supply=row.supply, on=supply_lines(row.wires))  # fmt: skip
    for way, wires, bears in _with_raceways(end.ways if end is not None and (end.ours or end.unit == "taps") else (), finder):
        ends = "distribution unit", f"{CONTROL_PANEL} of {way.tank}"
        yield from _run(WAY, wires, way.run_m, finder, owner, circuits=1, ends=ends, feeder=feeder, raceway=bears,
                        supply=row.supply, on=supply_lines(wires))  # fmt: skip


def _with_raceways(ways: Sequence[Way], finder: RunFinder) -> Iterator[tuple[Way, Wires, bool]]:
    """Each way with its wires, and whether it brings the raceway: of so many as share one the longest does, as large as the largest of them
    asks; of one whose length is not known all the more. Those that share none stay in their order."""
    wired = [(way, way.wires) for way in ways if way.wires is not None]
    if any(wires.shares > 1 for _, wires in wired):
        wired.sort(key=lambda one: (one[0].run_m is not None, -(one[0].run_m or 0.0)))
    at = 0
    while at < len(wired):
        some = wired[at : at + wired[at][1].shares]
        largest = max((wires for _, wires in some), key=lambda wires: finder.area(wires.size))
        first, own = some[0]
        yield first, replace(own, raceway=largest.raceway), True
        yield from ((way, wires, False) for way, wires in some[1:])
        at += len(some)


def _run(
    kind: str, wires: Wires, length_m: float | None, finder: RunFinder, owner: Owner, *, circuits: int, ends: tuple[str, str], feeder: str,
    supply: Supply, on: Mapping[str, int] | None = None, shares: int = 1, inside: bool = False, grounded: int = 0, raceway: bool = True,
    boxes: Sequence[int] = (),
) -> Iterator[Material]:  # fmt: skip
    """The lines of one run: conductors or cables with both ends and waste, raceway with waste. Inside a panel there is neither ground nor
    raceway.

    raceway   whether it brings one; else it lies in that of another
    grounded  circuits of a branch run with a grounded line; of other runs their wires say so
    boxes     circuits of each box that they start from, where those are several: what leaves two boxes shares no raceway
    on        how many line conductors of one set are on each supply line; inside a panel power has one colour
    """
    if length_m == 0.0 or not wires.required_size:
        return
    pricing = finder.pricing
    end_m = pricing.end_m if pricing is not None else 0.0
    wire_pct = pricing.wire_waste_pct if pricing is not None else 0.0
    raceway_pct = pricing.raceway_waste_pct if pricing is not None else 0.0
    sets = wires.sets * circuits
    white = wires.sets * grounded or sets * wires.grounded
    laid = sum(finder.containments(wires, some, shares) for some in boxes or (circuits,))
    for role, part, words in finder.parts_of(wires, inside):
        if (inside and role in (CONDUCTORS[2], RACEWAY)) or (role == RACEWAY and not raceway):
            continue
        count = {CONDUCTORS[0]: sets * wires.lines - white, GROUNDED: white, RACEWAY: laid}.get(role, sets)
        if not count:
            continue
        pct, ends_m = (raceway_pct, 0.0) if role == RACEWAY else (wire_pct, end_m)
        dyed = [Dyed(part, words, count, finder.colours.why_no_neutral(part) if role == CONDUCTORS[1] else "")]
        if role == CONDUCTORS[0] and on is not None and finder.colours.asked:
            dyed = finder.colours.dyed(wires, times(on, wires.sets), count, supply, owner.tank)
        for number, one in enumerate(dyed):
            of = circuits if role in (CONDUCTORS[0], CABLE) and not number else 0
            stretch = held_once(Stretch(kind, *ends, feeder, of, one.many, length_m, ends_m, pct))
            unknown = _why(stretch)
            quantity = 0.0 if unknown else (length_m or 0.0) * one.many + 2 * (ends_m or 0.0) * one.many
            quantity = held_once(quantity * (1 + (pct or 0.0) / 100.0))
            why = "; ".join(filter(None, (unknown, one.why)))
            yield Material(kind, role, one.part, one.words, quantity, "m", None, None, sold_by=finder.unit, why=why,
                           owner=owner, each=quantity, place=FIELD, stretch=stretch)  # fmt: skip


def _why(stretch: Stretch) -> str:
    if stretch.length_m is None:
        return NO_LENGTH
    if stretch.end_m is None:
        return "the length at each end is not given on Pricing"
    return "the waste is not given on Pricing" if stretch.waste_pct is None else ""
