"""Lines of the take-off: what to buy, how much of it, who bears it, and what it costs where that is known."""

from __future__ import annotations

from typing import NamedTuple

METRES = {"ft": 0.3048, "m": 1.0}  # of a unit that wire and raceway are sold by; international foot
BUILD, BANK, TANK, FEEDER, PROJECT = "build", "bank", "tank", "feeder", "project"
PART, ACTIVITY, OTHER, LABOUR, PER_CENT = "part", "activity", "other cost", "labour", "per cent"
SHOP, FIELD = "shop", "field"
PRICED, OPEN, CUSTOMER, OTHERS = "priced", "open", "customer supplies", "by others"
WITH_HEATER = "with the heater"  # whoever brings the heaters brings it: in no price of its own
CONDUCTORS = ("conductor", "neutral", "grounding conductor")
GROUNDED = "grounded line"  # of a corner-grounded supply: white or gray
RACEWAY = "raceway"
CABLE = "cable"  # of several cores: the lines, neutral and grounding conductor of one circuit, or of one of its sets, in one sheath


class Owner(NamedTuple):
    """Who bears a line. A build is borne by the banks that have it, so many of each."""

    kind: str = PROJECT
    tank: str = ""
    name: str = ""  # of a bank its label, of a feeder its tag, of a build its name


class Stretch(NamedTuple):
    """Where a conductor or raceway runs. Lengths in m, None = not given; `abreast`: conductors, or raceways, side by side.

    circuits  branch circuits, panel feeders … that the run holds in all; said on one line of each run
    """

    kind: str
    start: str
    end: str
    feeder: str
    circuits: int
    abreast: int
    length_m: float | None
    end_m: float | None
    waste_pct: float | None


class Material(NamedTuple):
    """A line of the take-off: what it is for (a panel type, heaters, a run …), stock part or generic words, quantity, price, hours.

    quantity    in `unit`: ea, h, or m of wire and raceway with ends and waste; 0 where no length is known, and `why` says so
    unit_price  for `per` of `sold_by`, as its stock row states it; hours_each likewise
    sold_by     of what goes by length the unit of its price: ft, m, "" = not stated
    why         why there is no price although a part is named or wanted; "" = none is listed
    each        of a build: the quantity in one, of which there are `builds`
    sort        part; activity (hours alone); other cost; labour (hours of a whole project at one rate); per cent (of the price of raceway)
    place       where its hours are worked: shop, field; "" = no hours are asked of it
    supplied    "customer" or "others" where it is not ours to buy, "with the heater" where it comes with one
    rate        of its price's currency to the project's; None = not given
    item        its line of the buy list, from 1; 0 = none
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
    owner: Owner = Owner()
    each: float = 1.0
    builds: int = 1
    sort: str = PART
    place: str = ""
    supplied: str = ""
    rate: float | None = 1.0
    currency: str = ""
    stretch: Stretch | None = None
    item: int = 0
    hours_asked: bool = False  # an hour costs something where it is worked, so that blank hours are open

    def numbered(self, item: int) -> Material:
        """The line with its number on the buy list: every line gets one, and `_replace` takes four times as long."""
        at = _ITEM
        return tuple.__new__(Material, (*self[:at], item, *self[at + 1 :]))

    @property
    def amount(self) -> float | None:
        """Quantity in the unit of its price; None where the length or that unit is not known."""
        if self.unit != "m":
            return self.quantity
        return self.quantity / METRES[self.sold_by] if self.sold_by and self.quantity else None

    @property
    def price(self) -> float | None:
        """In the project's currency; None where it is open, or not ours to buy."""
        if self.unit_price is None or self.rate is None or self.amount is None or self.supplied:
            return None
        return self.amount * self.unit_price * self.rate / self.per

    @property
    def hours(self) -> float | None:
        return None if self.hours_each is None or self.amount is None else self.amount * self.hours_each / self.per

    @property
    def lacks_length(self) -> bool:
        """A run of which no length is given; then neither its price nor its hours can be known."""
        return self.stretch is not None and not self.quantity and not self.supplied

    @property
    def lacks_price(self) -> bool:
        return self.price is None and self.sort != ACTIVITY and not self.supplied

    @property
    def lacks_hours(self) -> bool:
        return self.hours is None and self.place != "" and self.hours_asked and not self.supplied

    @property
    def status(self) -> str:
        """priced, open, customer supplies, by others, or with the heater."""
        if self.supplied:
            return {"customer": CUSTOMER, WITH_HEATER: WITH_HEATER}.get(self.supplied, OTHERS)
        return OPEN if self.lacks_price or self.lacks_hours else PRICED

    @property
    def why_open(self) -> str:
        """Why it has no price, where more is to be said than that none is listed; and that its hours are not."""
        hours = f"no {'field' if self.place == FIELD else 'shop'} hours" if self.lacks_hours and not self.lacks_length else ""
        if hours and self.lacks_price and not self.why:
            return f"no price, and {hours}"
        return "; ".join(filter(None, (self.why, hours)))

    @property
    def buy_unit(self) -> str:
        return (self.sold_by or "m") if self.unit == "m" else self.unit


_ITEM = Material._fields.index("item")


class Needed(NamedTuple):
    """Parts of one sort in one panel: what they are for, the stock part ("" = none chosen), generic words, how many."""

    role: str
    part: str
    words: str
    quantity: float
    unit: str = "ea"
