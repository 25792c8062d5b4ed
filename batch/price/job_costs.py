"""A whole job, costed: its lines priced, the buy list, and what every owner bears. Pure: records in, records out."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from functools import lru_cache
from math import ceil
from typing import NamedTuple

from batch.material_lines import (
    BANK,
    BUILD,
    FEEDER,
    FIELD,
    LABOUR,
    OPEN,
    OTHER,
    PER_CENT,
    PROJECT,
    RACEWAY,
    SHOP,
    TANK,
    WITH_HEATER,
    Material,
    Owner,
)
from batch.money_records import Pricing, TypedPrice
from batch.money_results import Atom, Build, BuyLine, Money, Rates, Share
from batch.price.cost_chain import chain
from batch.price.price_views import viewed
from batch.price.scope import CUSTOMER, CUTOFF, supplied_by
from batch.price.stock_prices import DIGITS, NO_RATES, PriceList, exchanged, price_list, priced, rates_of, used_quantities
from batch.records import Job, Part

Key = tuple[str, ...]  # of a line of the buy list
TOGETHER = "project"


class Owned(NamedTuple):
    """What of a project can bear cost: its lines, its banks with their feeders, how many of each build a bank or a tank has, its feeders,
    and which of its banks and tanks are on hold.
    """

    project: str
    currency: str | None
    date: str | None
    lines: tuple[Material, ...]
    banks: tuple[tuple[Owner, str], ...]
    builds: Mapping[Owner, Mapping[str, int]]
    feeders: tuple[str, ...]
    held: frozenset[Owner] = frozenset()


def cost_job(job: Job, projects: Sequence[Owned]) -> tuple[list[tuple[Material, ...]], Money]:
    """The lines of every project with prices, hours and their lines of the buy list; then what they come to."""
    listed = price_list(job.stock)
    typed = {typed_key(one.role, one.words, one.unit): one for one in job.typed_prices}
    pricing = {one.project: one for one in job.pricing}
    rates = tuple(
        _rates(number, one.project, one.currency, pricing.get(one.project)) for number, one in enumerate(projects, 1)
    )
    scopes = [scope_of(job, one.project) for one in projects]
    lines = [_theirs(one.lines, scope) for one, scope in zip(projects, scopes, strict=True)]
    used = used_quantities([line for some in lines for line in some], listed)
    own_used = [used if rate_of is None or rate_of.buy_together != TOGETHER else used_quantities(some, listed)
                for some, rate_of in zip(lines, (pricing.get(one.project) for one in projects), strict=True)]  # fmt: skip
    found: list[list[Material]] = []
    for one, some, mine, scope in zip(projects, lines, own_used, scopes, strict=True):
        pricing_of = pricing.get(one.project)
        exchange = rates_of(pricing_of.rates) if pricing_of is not None else NO_RATES
        rows = [_priced(line, listed, typed, used=mine, currency=one.currency, exchange=exchange) for line in some]
        if pricing_of is not None or scope:
            paid = _paid_places(pricing_of)
            rows = [line._replace(hours_asked=line.place in paid, supplied=line.supplied or supplied_by(line, scope)) for line in rows]
        else:  # cutoffs alone come from others where nobody says so
            rows = [line if line.role != CUTOFF else line._replace(supplied=line.supplied or supplied_by(line, scope)) for line in rows]
        rows = _per_cents(rows)
        rows += _labour(rows, job.stock) if pricing_of is None else []
        found.append(rows)
    numbered, buy = _buy_list(projects, found, pricing, listed, typed)
    listed_money = any(part.unit_price is not None or part.labour_h or part.field_h for part in job.stock)
    asked = listed_money or bool(job.pricing or job.typed_prices or job.other_costs)
    return [tuple(some) for some in numbered], _added_up(projects, numbered, rates, buy, asked)


def scope_of(job: Job, project: str) -> dict[str, str]:
    """Who supplies what of a project, where Scope says it."""
    return {one.item: one.by for one in job.scope if one.project == project and one.by}


def _theirs(lines: Sequence[Material], scope: Mapping[str, str]) -> Sequence[Material]:
    """The lines, those marked that the customer supplies: what others buy brings us to no price break."""
    if CUSTOMER not in scope.values():
        return lines
    return [line._replace(supplied=CUSTOMER) if supplied_by(line, scope) == CUSTOMER else line for line in lines]


def _paid_places(pricing: Pricing | None) -> tuple[str, ...]:
    """Where an hour costs something: there blank hours leave a line open. A blank rate is open itself; at one of 0 no hours are asked."""
    rates = () if pricing is None else ((SHOP, pricing.shop_rate), (FIELD, pricing.field_rate))
    return tuple(place for place, rate in rates if rate)


@lru_cache(maxsize=4096)
def typed_key(role: str, words: str, unit: str) -> Key:
    """What a typed price is known by: a line's role, words and unit, but for case and spaces; former versions wrote a raceway's trade size
    without its unit."""
    if role == RACEWAY:
        words = words.replace(" in ", " ", 1)
    return tuple(" ".join(text.split()).casefold() for text in (role, words, unit))


def _priced(
    line: Material, listed: PriceList, typed: Mapping[Key, TypedPrice], *, used: Mapping[str, float], currency: str | None,
    exchange: Mapping[str, float],
) -> Material:  # fmt: skip
    """From its part; a line that no part is, from what was typed for just these words."""
    if line.part in listed.first:
        return priced(line, listed, used, currency, exchange)
    given = typed.get(typed_key(line.role, line.words, line.buy_unit))
    if given is None or line.sort != "part":
        return line
    own = "" if line.supplied == WITH_HEATER and given.unit_price is not None else line.supplied  # a price makes it a thing of its own
    supplied = {"customer": "customer", "others": "others"}.get(given.supplied_by or "", own)
    line = line._replace(
        unit_price=given.unit_price, hours_each=given.hours, per=given.per_quantity or 1.0, price_date=given.price_date or "",
        currency=given.currency or "", supplied=supplied,
    )  # fmt: skip
    return exchanged(line, listed.currencies, currency, exchange)


def _per_cents(rows: Sequence[Material]) -> list[Material]:
    """Lines of so many per cent with the price of their owner's raceway: open where any of it is, the customer's where all is."""
    if not any(line.sort == PER_CENT for line in rows):
        return list(rows)
    raceways: dict[Owner, list[Material]] = defaultdict(list)
    for line in rows:
        if line.role == RACEWAY and line.stretch is not None:
            raceways[line.owner].append(line)
    return [line if line.sort != PER_CENT else _of_raceway(line, raceways[line.owner]) for line in rows]


def _of_raceway(line: Material, raceways: Sequence[Material]) -> Material:
    suppliers = {one.supplied for one in raceways}
    if len(suppliers) == 1 and "" not in suppliers:
        return line._replace(supplied=suppliers.pop())
    ours = [one.price for one in raceways if not one.supplied]
    whole = sum(price for price in ours if price is not None)
    missing = any(price is None for price in ours)
    return line._replace(unit_price=None if missing else whole, per=100.0, why="its raceway has no price" if missing else "")


def _labour(rows: Iterable[Material], stock: Iterable[Part]) -> list[Material]:
    """Without a Pricing row: hours at the rate of the only labour line of the stock list that has one."""
    rates = [part for part in stock if part.kind == "labour" and part.unit_price is not None]
    hours = sum(row.hours or 0.0 for row in rows)
    if not hours or len(rates) != 1:
        return []
    return [Material("labour", "labour", rates[0].part, "hours of the parts above", hours, "h", rates[0].unit_price, None, sort=LABOUR)]


def _rates(number: int, project: str, currency: str | None, one: Pricing | None) -> Rates:
    if one is None:
        return Rates(
            number, project, currency or "", False, exchange="", exchange_date="", shop_rate=None, field_rate=None, shop_factor=1.0,
            field_factor=1.0, purchase_tax_pct=None, freight_pct=None, freight_amount=None, contingency_pct=None, overhead_pct=None,
            markup_pct=None, profit_pct=None, sales_tax_pct=None, round_to=0.01, good_for_days=None, blanks=("Pricing",),
        )  # fmt: skip
    asked = (
        ("Shop rate", one.shop_rate), ("Field rate", one.field_rate), ("Length at each end", one.end_m),
        ("Device-to-contactor length", one.device_run_m), ("Wire waste", one.wire_waste_pct), ("Raceway waste", one.raceway_waste_pct),
        ("Tax on purchases", one.purchase_tax_pct), ("Freight", one.freight_pct if one.freight_amount is None else 0),
        ("Contingency", one.contingency_pct), ("Overhead", one.overhead_pct),
        ("Markup or Margin of price", one.markup_pct if one.markup_pct is not None else one.profit_pct),
        ("Tax on price", one.sales_tax_pct), ("Prices good for", one.good_for_days),
    )  # fmt: skip
    return Rates(
        number, project, currency or "", True, one.rates or "", one.rates_date or "", one.shop_rate, one.field_rate,
        one.shop_factor or 1.0, one.field_factor or 1.0, one.purchase_tax_pct, one.freight_pct, one.freight_amount, one.contingency_pct,
        one.overhead_pct, one.markup_pct, one.profit_pct, one.sales_tax_pct, one.round_to or 0.01, one.good_for_days,
        tuple(name for name, value in asked if value is None),
    )  # fmt: skip


def _buy_list(
    projects: Sequence[Owned], found: Sequence[Sequence[Material]], pricing: Mapping[str, Pricing], listed: PriceList,
    typed: Mapping[Key, TypedPrice],
) -> tuple[list[list[Material]], tuple[BuyLine, ...]]:  # fmt: skip
    """Every part line with its number on the buy list, and that list in the order in which parts are met."""
    numbers: dict[tuple, int] = {}
    first: dict[int, tuple[Material, Owned, bool]] = {}
    used: dict[int, float] = defaultdict(float)
    count: dict[int, int] = defaultdict(int)
    still: dict[int, int] = defaultdict(int)
    numbered = []
    for one, rows in zip(projects, found, strict=True):
        rate_of = pricing.get(one.project)
        apart = rate_of is not None and rate_of.buy_together == TOGETHER
        mine = []
        for line in rows:
            if line.sort in ("part", LABOUR):
                place = one.project if apart or line.sort == LABOUR else ""
                own = (line.part, line.buy_unit) if line.part in listed.first else typed_key(line.role, line.words, line.buy_unit)
                number = numbers.setdefault((place, line.supplied, *own), len(numbers) + 1)  # what is not ours to buy stands apart
                first.setdefault(number, (line, one, apart))
                used[number] += line.amount or 0.0
                count[number] += 1
                still[number] += line.status == OPEN
                line = line.numbered(number)
            mine.append(line)
        numbered.append(mine)
    return numbered, tuple(
        _bought(number, line, of, apart=apart, used=used[number], lines=count[number], still=still[number], listed=listed, typed=typed)
        for number, (line, of, apart) in first.items()
    )


def _bought(
    number: int, line: Material, of: Owned, *, apart: bool, used: float, lines: int, still: int, listed: PriceList,
    typed: Mapping[Key, TypedPrice],
) -> BuyLine:  # fmt: skip
    part = listed.first.get(line.part)
    lot = part.lot_quantity if part is not None else None
    step = lot or (1.0 if line.buy_unit == "ea" else None)
    order = None if step is None else ceil(round(used / step, DIGITS)) * step
    words = (part.description or line.words) if part is not None else line.words
    return BuyLine(
        number, of.project if apart else "", line.part, part.kind if part is not None else line.role, words, line.buy_unit, used, lines,
        still, lot, order, line.unit_price, line.per, line.hours_each, line.currency, line.price_date, _age(of.date, line.price_date),
        line.supplied, typed_key(line.role, line.words, line.buy_unit) in typed and part is None,
    )  # fmt: skip


def _age(at: str | None, priced_on: str) -> int | None:
    """Days from the price to the date of the bid, never to the day of the run; None where one of them is not known."""
    try:
        return (date.fromisoformat((at or "")[:10]) - date.fromisoformat(priced_on[:10])).days
    except ValueError:
        return None


class _Sum:
    """What one owner bears, or one of a build."""

    __slots__ = ("field_h", "laid", "listed", "open", "other", "parts", "shop_h")

    def __init__(self) -> None:
        self.parts = self.other = self.shop_h = self.field_h = 0.0
        self.open = 0
        self.listed = self.laid = False

    def add(self, line: Material, share: float = 1.0) -> None:
        price, hours = line.price, line.hours
        if price is not None:
            if line.sort == OTHER:
                self.other += price * share
            else:
                self.parts += price * share
        if hours is not None and not line.supplied:
            if line.place == FIELD:
                self.field_h += hours * share
            elif line.place == SHOP:
                self.shop_h += hours * share
        self.open += line.status == OPEN
        if line.stretch is None:
            self.listed = True
        else:
            self.laid = True


def _added_up(
    projects: Sequence[Owned], found: Sequence[Sequence[Material]], rates: Sequence[Rates], buy: tuple[BuyLine, ...], asked: bool
) -> Money:
    builds: list[Build] = []
    shares: list[Share] = []
    atoms: list[Atom] = []
    owners: dict[tuple[str, ...], int] = {}
    for one, rows, rate in zip(projects, found, rates, strict=True):
        own: dict[Owner, _Sum] = defaultdict(_Sum)
        counts: dict[str, int] = {}
        for line in rows:
            if line.owner.kind == BUILD:
                own[line.owner].add(line, 1 / line.builds)
                counts[line.owner.name] = line.builds
            else:
                own[line.owner].add(line)
        of_name = {}
        for name, count in counts.items():
            total = own[Owner(BUILD, "", name)]
            of_name[name] = Build(len(builds) + 1, one.project, name, count, total.parts, total.shop_h, total.open)
            builds.append(of_name[name])
        feeder_of = dict(one.banks)
        places = [bank for bank, _ in one.banks]
        places += [owner for owner in (*one.builds, *own) if owner.kind == TANK] + [Owner(FEEDER, "", feeder) for feeder in one.feeders]
        places.append(Owner(PROJECT))
        known = {*places}
        places += [owner for owner in own if owner.kind != BUILD and owner not in known]
        for owner in dict.fromkeys(places):
            number = len(atoms) + 1
            owners[one.project, *owner] = number
            mine = [Share(number, of_name[name], count) for name, count in one.builds.get(owner, {}).items() if name in of_name]
            shares += mine
            total = own[owner]
            built = sum(share.build.material * share.times for share in mine)
            shop_h = total.shop_h + sum(share.build.shop_h * share.times for share in mine)
            lump = (rate.freight_amount or 0.0) if owner.kind == PROJECT else 0.0
            still = total.open + sum(share.build.open * share.times for share in mine)
            costs = chain(
                material=built + total.parts, other=total.other, shop_h=shop_h, field_h=total.field_h, freight_sum=lump, rates=rate
            )
            feeder = owner.name if owner.kind == FEEDER else feeder_of.get(owner, "")
            atoms.append(Atom(
                number, rate, owner.kind, owner.tank, owner.name if owner.kind == BANK else "", feeder, built, total.parts, total.other,
                shop_h, total.field_h, lump, still, owner in one.held, costs, listed=total.listed, laid=total.laid, built=bool(mine),
            ))  # fmt: skip
    numbered, views = viewed(atoms, builds, shares)
    return Money(asked, tuple(rates), tuple(builds), tuple(shares), numbered, buy, owners, views)


