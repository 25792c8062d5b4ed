"""Lines of the take-off: what to buy, how much of it, and what it costs where that is known."""

from __future__ import annotations

from typing import NamedTuple

METRES = {"ft": 0.3048, "m": 1.0}  # of a unit that wire and raceway are sold by; international foot


class Material(NamedTuple):
    """A line of Materials: what it is for (a panel type, heaters, wiring …), stock part or generic words, quantity, price, hours.

    quantity    in `unit`: ea, h, or m of wire and raceway as drawn; 0 where no length is known, and `why` says so
    unit_price  for `per` of `sold_by`, as its stock row states it; hours_each likewise
    sold_by     of what goes by length the unit of its price: ft, m, "" = not stated
    why         why there is no price although a part is named or wanted; "" = none is listed
    """

    used_for: str
    role: str
    part: str
    words: str
    quantity: float
    unit: str
    unit_price: float | None
    hours_each: float | None
    per: float = 1.0
    sold_by: str = ""
    why: str = ""
    price_date: str = ""

    @property
    def amount(self) -> float | None:
        """Quantity in the unit of its price; None where the length or that unit is not known."""
        if self.unit != "m":
            return self.quantity
        return self.quantity / METRES[self.sold_by] if self.sold_by and self.quantity else None

    @property
    def price(self) -> float | None:
        return None if self.unit_price is None or self.amount is None else self.amount * self.unit_price / self.per

    @property
    def hours(self) -> float | None:
        return None if self.hours_each is None or self.amount is None else self.amount * self.hours_each / self.per


class Needed(NamedTuple):
    """Parts of one sort in one panel: what they are for, the stock part ("" = none chosen), generic words, how many."""

    role: str
    part: str
    words: str
    quantity: float
    unit: str = "ea"
