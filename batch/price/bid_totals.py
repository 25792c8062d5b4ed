"""What a bid, or some of its projects, comes to: sums over the bearers of cost, each with the count of what is open in it."""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple

from batch.money_results import Atom, Money


class BidTotals(NamedTuple):
    """Sums of what is priced. `cost`, `price`: None where a rate that they take is not given; `given`: every project has its Pricing;
    `held`: banks, tanks and feeders that are on hold, with their part of the sums.
    """

    currency: str
    material: float
    other: float
    shop_h: float
    field_h: float
    cost: float | None
    price: float | None
    open: int
    given: bool
    blanks: tuple[str, ...]
    held: int
    held_material: float
    held_price: float | None

    @property
    def margin_pct(self) -> float | None:
        """Margin, per cent of the price."""
        if self.price is None or self.cost is None or not self.price:
            return None
        return 100.0 * (self.price - self.cost) / self.price


def bid_totals(money: Money, projects: Collection[str]) -> BidTotals | None:
    """The totals of these projects; None where they are in several currencies, or nothing says anything of money."""
    atoms = [atom for atom in money.atoms if atom.rates.project in projects]
    rates = [one for one in money.rates if one.project in projects]
    currencies = {one.currency.strip().casefold() for one in rates}
    if not money.asked or not atoms or len(currencies) > 1:
        return None
    held = [atom for atom in atoms if atom.held]
    return BidTotals(
        rates[0].currency.strip(),
        material=sum(atom.material for atom in atoms),
        other=sum(atom.other for atom in atoms),
        shop_h=sum(atom.shop_h for atom in atoms),
        field_h=sum(atom.field_h for atom in atoms),
        cost=_all([atom.cost.full for atom in atoms]),
        price=_all([atom.cost.price for atom in atoms]),
        open=open_lines(atoms),
        given=all(one.given for one in rates),
        blanks=tuple(dict.fromkeys(name for one in rates for name in one.blanks)),
        held=len(held),
        held_material=sum(atom.material for atom in held),
        held_price=_all([atom.cost.price for atom in held]),
    )


def as_printed(money: Money, projects: Collection[str]) -> BidTotals | None:
    """The totals of these projects as sums of what is printed of each: prices to a hundredth, hours to a tenth, the rest to whole ones."""
    whole = bid_totals(money, projects)
    if whole is None:
        return None
    each = [own for one in money.rates if one.project in projects and (own := bid_totals(money, {one.project})) is not None]
    return whole._replace(
        material=sum(round(one.material) for one in each),
        other=sum(round(one.other) for one in each),
        shop_h=sum(round(one.shop_h, 1) for one in each),
        field_h=sum(round(one.field_h, 1) for one in each),
        cost=None if whole.cost is None else sum(round(one.cost or 0.0) for one in each),
        price=None if whole.price is None else sum(round(one.price or 0.0, 2) for one in each),
        held_material=sum(round(one.held_material) for one in each),
        held_price=None if whole.held_price is None else sum(round(one.held_price or 0.0, 2) for one in each),
    )


def open_lines(atoms: list[Atom]) -> int:
    """Open lines as they are borne: one of a build counts in every panel."""
    return sum(atom.open for atom in atoms)


def _all(parts: list[float | None]) -> float | None:
    known = [part for part in parts if part is not None]
    return sum(known) if len(known) == len(parts) else None
