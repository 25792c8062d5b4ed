"""Positions of a quotation: what bears cost, grouped by tank, feeder, type or project, each with its price rounded once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from typing import NamedTuple

from batch.control_results import TankControl
from batch.material_lines import BUILD, FEEDER, FIELD, OPEN, OTHER, PER_CENT, SHOP, Material
from batch.money_results import Atom, Money, Rates
from batch.price.cost_chain import chain, rounded
from batch.results import BankRow, ProjectResult
from batch.sizing.materials import control_builds, single_circuits
from batch.unsized_results import NotSized

WHOLE = "project"
BY = ("tank", "type", "feeder", WHOLE)
FOR_ALL = "work and material for the whole project"
RUNS, HEATERS, REST = "Wire and raceway", "Immersion heaters", "Other parts and work"


class Position(NamedTuple):
    """A position. `price`: rounded, None = it follows; `open`: lines without price, rows not sized or on hold in it.

    tanks, feeders  what is open in it, folded: whose questions its price waits for
    held_on         feeders of its banks on hold, which may be why
    awaits          numbers of the questions that its price waits for
    """

    tag: str
    words: str
    quantity: int
    price: Decimal | None
    open: int
    tanks: frozenset[str] = frozenset()
    feeders: frozenset[str] = frozenset()
    held_on: frozenset[str] = frozenset()
    awaits: tuple[int, ...] = ()


def positions(project: ProjectResult, money: Money, by: str) -> list[Position]:
    """The positions of a project, in its own order; what is a feeder's or the project's own is a position, never spread."""
    atoms = money.of_project(project.project.project)
    if by == "type":
        return list(_by_type(project, atoms))
    found: dict[str, list[Atom]] = {}
    for atom in atoms:
        found.setdefault(_place(atom, by), []).append(atom)
    banks: dict[str, list[BankRow]] = {}
    for row in project.banks:
        banks.setdefault({"tank": row.bank.tank, "feeder": row.feeder.feeder}.get(by, ""), []).append(row)
    boxes: dict[str, list[TankControl]] = {}
    for control in project.controls:
        boxes.setdefault({"tank": control.tank}.get(by, ""), []).append(control)
    missing: dict[str, list[NotSized]] = {}
    for lost in project.not_sized:
        missing.setdefault({"tank": lost.tank, "feeder": lost.feeder}.get(by, ""), []).append(lost)
    listed = []
    for tag, some in found.items():
        rows, lost_here = banks.get(tag, []), missing.pop(tag, [])
        if by == "tank":  # a supply is sized without what hangs on it and is not sized
            own = {atom.feeder for atom in some if atom.kind == FEEDER}
            lost_here = lost_here + [lost for lost in project.not_sized if own.intersection(lost.fed_from)]
        held = sum(one.hold is not None for one in (*rows, *boxes.get(tag, ())))
        still = sum(atom.open for atom in some) + held + len(lost_here)
        if not any(atom.cost.price for atom in some) and not still and not rows:
            continue  # nothing of its own
        words = _words(tag, rows, len(boxes.get(tag, ())))
        if boxes.get(tag) and not rows:  # control panels, which no one feeder bears
            words += f"; {FOR_ALL}"
        place = _position(tag, words, 1, prices=[atom.cost.price for atom in some], still=still, rates=some[0].rates)
        listed.append(place._replace(
            tanks=_folded(lost.tank for lost in lost_here) | _folded(atom.tank for atom in some if atom.tank),
            feeders=_folded(atom.feeder for atom in some if atom.kind == FEEDER), held_on=_feeders_of_held(rows),
        ))  # fmt: skip
    for tag, lost_here in missing.items():
        tanks = _folded(lost.tank for lost in lost_here)
        listed.append(Position(tag or "not assigned", "not yet sized", len(lost_here), None, len(lost_here), tanks))
    return listed


def _folded(tags: Iterable[str]) -> frozenset[str]:
    return frozenset(tag.casefold() for tag in tags)


def _feeders_of_held(rows: Iterable[BankRow]) -> frozenset[str]:
    """Feeders that may be what holds these banks."""
    return _folded(row.feeder.feeder for row in rows if row.hold is not None)


def _position(tag: str, words: str, quantity: int, *, prices: Iterable[float | None], still: int, rates: Rates) -> Position:
    prices = list(prices)
    known = [price for price in prices if price is not None]
    price = rounded(sum(known), rates.round_to) if len(known) == len(prices) else None
    return Position(tag or "General", words, quantity, price, still)


def _place(atom: Atom, by: str) -> str:
    if by == "tank":
        return atom.tank or (f"Supply {atom.feeder}" if atom.feeder else "")
    return atom.feeder if by == "feeder" else ""


def _words(tag: str, banks: Iterable[BankRow], boxes: int = 0) -> str:
    heaters: dict[str, int] = {}
    panels = single = 0
    for row in banks:
        words = heater_words(row)
        heaters[words] = heaters.get(words, 0) + row.bank.quantity
        panels += len(row.panels)
        single += row.design.single_circuit is not None
    parts = [f"{count} immersion heater{'s' * (count > 1)}, {'each ' * (count > 1)}{words}" for words, count in heaters.items()]
    parts += [f"{panels} heater panel{'s' * (panels > 1)}"] if panels else []
    parts += [f"{single} switched circuit{'s' * (single > 1)}"] if single else []
    parts += [f"{boxes} control panel{'s' * (boxes > 1)}"] if boxes else []
    if parts:
        return "; ".join(parts)
    return "supply to the panels, with its protection" if tag.startswith("Supply ") else FOR_ALL


def heater_words(row: BankRow) -> str:
    """What a customer knows a heater by."""
    return f"{row.bank.power_kw:g} kW, {row.bank.volts_v:g} V, {row.bank.phases}-phase"


class _Sums:
    """What a position by type takes of the chain."""

    def __init__(self) -> None:
        self.material = self.other = self.shop_h = self.field_h = 0.0
        self.open = 0
        self.tanks: set[str] = set()  # of its open lines
        self.feeders: set[str] = set()

    def add(self, line: Material) -> None:
        if line.price is not None:
            if line.sort == OTHER:
                self.other += line.price
            else:
                self.material += line.price
        if line.hours is not None and not line.supplied:
            self.shop_h += line.hours * (line.place == SHOP)
            self.field_h += line.hours * (line.place == FIELD)
        if line.status == OPEN:
            self.open += 1
            if line.owner.kind == FEEDER:
                self.feeders.add(line.owner.name)
            elif line.owner.tank:
                self.tanks.add(line.owner.tank)


def _by_type(project: ProjectResult, atoms: list[Atom]) -> Iterator[Position]:
    """Panel types and single circuits as they are built, heaters, runs, and the rest: the chain is linear, so that they add up."""
    rates = atoms[0].rates
    held: dict[str, list[BankRow | TankControl]] = {}
    for row in project.banks:
        if row.hold is not None:
            for name in {panel.type for panel in row.panels}:
                held.setdefault(name, []).append(row)
    of_place = {(row.bank.tank, row.label): row for row in project.banks}
    for one in single_circuits(project.banks):
        held[one.name] = [row for place in one.banks if (row := of_place[place]).hold is not None]
    for name, controls in control_builds(project.controls).items():
        held[name] = [control for control in controls if control.hold is not None]
    built: Mapping[str, tuple[str, int]] = {
        **{kind.type: (f"heater panel {kind.type}, {kind.design.branches} circuit{'s' * (kind.design.branches > 1)}", len(kind.tags))
           for kind in project.types},
        **{one.name: (f"switched circuit for {len(one.banks)} bank{'s' * (len(one.banks) > 1)}", len(one.banks))
           for one in single_circuits(project.banks)},
        **{name: (f"control panel for {len(some)} tank{'s' * (len(some) > 1)}", len(some))
           for name, some in control_builds(project.controls).items()},
    }  # fmt: skip
    sums: dict[str, _Sums] = {}
    for line in project.materials:
        if line.owner.kind == BUILD:
            tag = line.owner.name
        elif line.role == "heater":
            tag = HEATERS
        else:
            tag = RUNS if line.stretch is not None or line.sort == PER_CENT else REST
        sums.setdefault(tag, _Sums()).add(line)
    heaters = sum(row.bank.quantity for row in project.banks)
    for tag, total in sums.items():
        words, quantity = built.get(tag, ({HEATERS: "as listed", RUNS: "with ends and waste"}.get(tag, "for the whole project"), 1))
        freight = atoms[-1].freight_sum if tag == REST else 0.0
        price = chain(
            material=total.material, other=total.other, shop_h=total.shop_h, field_h=total.field_h, freight_sum=freight, rates=rates
        ).price
        on_hold = held.get(tag, [])
        place = _position(tag, words, heaters if tag == HEATERS else quantity, prices=[price], still=total.open + len(on_hold), rates=rates)
        banks = [one for one in on_hold if isinstance(one, BankRow)]
        yield place._replace(
            tanks=_folded((*total.tanks, *(one.bank.tank if isinstance(one, BankRow) else one.tank for one in on_hold))),
            feeders=_folded(total.feeders), held_on=_feeders_of_held(banks),
        )
    if project.not_sized:
        lost = project.not_sized
        yield Position("Rows not yet sized", "as listed", len(lost), None, len(lost), _folded(one.tank for one in lost))
