"""Positions of a quotation: what bears cost, grouped by tank, feeder, type or project, each with its price rounded once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from typing import NamedTuple

from batch.control_results import TankControl
from batch.material_lines import FEEDER, PROJECT, TANK, Material, Owner
from batch.money_results import Atom, Money, Rates
from batch.price.cost_chain import rounded
from batch.price.type_sums import HEATERS, RUNS, by_type
from batch.quoting.contents import contents
from batch.results import BankRow, ProjectResult
from batch.sizing.materials import control_builds, single_circuits
from batch.unsized_results import NotSized

FOR_ALL = "work and material for the whole project"
OWN = (FEEDER, PROJECT, TANK)  # who bears what no bank and no build does


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
    own_lines: dict[str, list[Material]] = {}
    for line in project.materials:
        if line.owner.kind in OWN:
            own_lines.setdefault(_place_of(line.owner, by), []).append(line)
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
        words = _words(rows, len(boxes.get(tag, ())))
        if by != "tank" or not words:  # what a feeder, or the project, has of its own
            own_words = contents(own_lines.get(tag, ()), any(atom.freight_sum for atom in some))
            words = "; ".join(filter(None, (words, project.wording.within(own_words)))) or FOR_ALL
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


def _place_of(owner: Owner, by: str) -> str:
    """Of a line that no bank bears: where its owner stands."""
    feeder = owner.name if owner.kind == FEEDER else ""
    if by == "tank":
        return owner.tank or (f"Supply {feeder}" if feeder else "")
    return feeder if by == "feeder" else ""


def _words(banks: Iterable[BankRow], boxes: int = 0) -> str:
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
    return "; ".join(parts)


def heater_words(row: BankRow) -> str:
    """What a customer knows a heater by."""
    return f"{row.bank.power_kw:g} kW, {row.bank.volts_v:g} V, {row.bank.phases}-phase"


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
    heaters = sum(row.bank.quantity for row in project.banks)
    for tag, (total, price) in by_type(project.materials, atoms).items():
        words, quantity = built.get(tag, ({HEATERS: "as listed", RUNS: "with ends and waste"}.get(tag, ""), 1))
        if not words:
            words = project.wording.within(contents(total.lines, any(atom.freight_sum for atom in atoms))) or FOR_ALL
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
