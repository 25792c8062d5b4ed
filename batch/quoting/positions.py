"""Positions of a quotation: what bears cost, grouped by tank, feeder, type or project, each with its price rounded once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from typing import NamedTuple

from batch.control_results import TankControl
from batch.material_lines import BUILD, FIELD, OPEN, OTHER, SHOP, Material
from batch.money_results import Atom, Money, Rates
from batch.price.cost_chain import chain, rounded
from batch.results import BankRow, ProjectResult
from batch.sizing.materials import control_builds, single_circuits
from batch.unsized_results import NotSized

BY = ("tank", "type", "feeder", "project")
RUNS, HEATERS, REST = "Wire and raceway", "Immersion heaters", "Other parts and work"


class Position(NamedTuple):
    """A position. `price`: rounded, None = it follows; `open`: lines without price, rows not sized or on hold in it."""

    tag: str
    words: str
    quantity: int
    price: Decimal | None
    open: int


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
        held = sum(row.hold is not None for row in (*banks.get(tag, ()), *boxes.get(tag, ())))
        still = sum(atom.open for atom in some) + held + len(missing.pop(tag, ()))
        prices = [atom.cost.price for atom in some]
        if not any(prices) and not still and not banks.get(tag):
            continue  # nothing of its own
        listed.append(
            _position(tag, _words(tag, banks.get(tag, ()), len(boxes.get(tag, ()))), 1, prices=prices, still=still, rates=some[0].rates)
        )
    for tag, lost_here in missing.items():
        listed.append(Position(tag or "not assigned", "not yet sized", len(lost_here), None, len(lost_here)))
    return listed


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
    return "supply to the panels, with its protection" if tag.startswith("Supply ") else "work and material for the whole project"


def heater_words(row: BankRow) -> str:
    """What a customer knows a heater by."""
    return f"{row.bank.power_kw:g} kW, {row.bank.volts_v:g} V, {row.bank.phases}-phase"


class _Sums:
    """What a position by type takes of the chain."""

    def __init__(self) -> None:
        self.material = self.other = self.shop_h = self.field_h = 0.0
        self.open = 0
        self.quantity = 0

    def add(self, line: Material) -> None:
        if line.price is not None:
            if line.sort == OTHER:
                self.other += line.price
            else:
                self.material += line.price
        if line.hours is not None and not line.supplied:
            self.shop_h += line.hours * (line.place == SHOP)
            self.field_h += line.hours * (line.place == FIELD)
        self.open += line.status == OPEN


def _by_type(project: ProjectResult, atoms: list[Atom]) -> Iterator[Position]:
    """Panel types and single circuits as they are built, heaters, runs, and the rest: the chain is linear, so that they add up."""
    rates = atoms[0].rates
    own = {place for row in project.banks for place in [(row.bank.tank, row.label)] if row.hold is not None}
    held: dict[str, int] = {}
    for row in project.banks:
        for panel in row.panels:
            held[panel.type] = held.get(panel.type, 0) + (row.hold is not None)
    built: Mapping[str, tuple[str, int]] = {
        **{kind.type: (f"heater panel {kind.type}, {kind.design.branches} circuit{'s' * (kind.design.branches > 1)}", len(kind.tags))
           for kind in project.types},
        **{one.name: (f"switched circuit for {len(one.banks)} bank{'s' * (len(one.banks) > 1)}", len(one.banks))
           for one in single_circuits(project.banks)},
        **{name: (f"control panel for {len(some)} tank{'s' * (len(some) > 1)}", len(some))
           for name, some in control_builds(project.controls).items()},
    }  # fmt: skip
    for one in single_circuits(project.banks):
        held[one.name] = sum(place in own for place in one.banks)
    for name, controls in control_builds(project.controls).items():
        held[name] = sum(control.hold is not None for control in controls)
    sums: dict[str, _Sums] = {}
    for line in project.materials:
        if line.owner.kind == BUILD:
            tag = line.owner.name
        elif line.role == "heater":
            tag = HEATERS
        else:
            tag = RUNS if line.stretch is not None else REST
        sums.setdefault(tag, _Sums()).add(line)
    heaters = sum(row.bank.quantity for row in project.banks)
    for tag, total in sums.items():
        words, quantity = built.get(tag, ({HEATERS: "as listed", RUNS: "with ends and waste"}.get(tag, "for the whole project"), 1))
        freight = atoms[-1].freight_sum if tag == REST else 0.0
        price = chain(
            material=total.material, other=total.other, shop_h=total.shop_h, field_h=total.field_h, freight_sum=freight, rates=rates
        ).price
        yield _position(
            tag, words, heaters if tag == HEATERS else quantity, prices=[price], still=total.open + held.get(tag, 0), rates=rates
        )
    if project.not_sized:
        yield Position("Rows not yet sized", "see the questions", len(project.not_sized), None, len(project.not_sized))
