"""What moved the money of two revisions: part by part (quantity, price break, list price, new, gone), then the price step by step.

Both add up to the difference by the way they are counted: what is left of one cause is the beginning of the next.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple

from batch.comparing.lines import fold
from batch.material_lines import LABOUR, METRES, OTHER, PER_CENT, RACEWAY, Material
from batch.money_results import Atom
from batch.price.cost_chain import chain
from batch.price.stock_prices import price_list, price_row, used_quantities
from batch.records import Job
from batch.results import JobResult
from batch.sizing.allowances import OF_RACEWAY

QUANTITY, BREAK, UNIT_PRICE = "quantity", "price break", "unit price"
NEW, GONE, PRICED_NOW, NO_PRICE_NOW = "new", "gone", "priced now", "no longer priced"
STEPS = (
    "quantities of parts", "prices of parts", "other costs", "hours", "labour rates", "waste and allowances",
    "freight and tax on purchases", "contingency", "overhead", "profit",
)  # fmt: skip
WHOLE = "all projects"
NOISE = 1e-7  # of money: what multiplying and dividing leaves behind


class MoneyMove(NamedTuple):
    """What one cause did to the money of a part in a project. Quantities in `unit`, prices for one of it, None = not there."""

    project: str
    currency: str
    part: str
    words: str
    cause: str
    unit: str
    quantity: tuple[float | None, float | None]
    unit_price: tuple[float | None, float | None]
    moved: float
    sort: str
    role: str = ""


class PriceStep(NamedTuple):
    """What one step did to the price of a project, or of all of them; `after`: the price with it and all steps before."""

    project: str
    currency: str
    step: str
    moved: float
    after: float


class _Part:
    """What of one part is priced in one revision."""

    __slots__ = ("amount", "line", "money", "priced", "scale")

    def __init__(self, line: Material) -> None:
        self.line, self.amount, self.money, self.priced = line, 0.0, 0.0, False
        self.scale = 1.0  # of a figure in the unit of its price to one in the unit that it is shown in

    def shown_in(self, unit: str) -> None:
        """In the unit of the other revision: what was bought by the foot and is bought by the metre is the same part all the same."""
        if unit != self.line.buy_unit and unit in METRES and self.line.buy_unit in METRES:
            self.scale = METRES[self.line.buy_unit] / METRES[unit]
            self.amount *= self.scale

    def add(self, line: Material) -> None:
        if line.price is not None and line.amount is not None:
            self.amount += line.amount if line.sort != PER_CENT else line.unit_price or 0.0  # so many per cent of that much money
            self.money += line.price
            self.priced = True

    @property
    def each(self) -> float:
        return self.money / self.amount if self.amount else 0.0


def money_moves(
    old: JobResult, new: JobResult, same: Mapping[str, str], parts: Mapping[str, str] = MappingProxyType({})
) -> tuple[MoneyMove, ...]:
    """Every move of money of every part. `same`: folded project name before -> after; `parts`: names of parts before -> after."""
    before = {same.get(name, name): listed for name, listed in _by_project(old, parts).items()}
    after = _by_project(new)
    names = {fold(one.project.project): one.project for result in (old, new) for one in result.projects}
    others = {new_name: old_name for old_name, new_name in same.items()}
    breaks = _Breaks(old.job, new, parts)
    found = []
    for project in dict.fromkeys([*after, *before]):
        record = names[project] if project in names else names[others[project]]
        was, now = before.get(project, {}), after.get(project, {})
        for key in sorted({**was, **now}):
            if key in was and key in now:
                was[key].shown_in(now[key].line.buy_unit)
            for cause, moved in _causes(was.get(key), now.get(key), breaks):
                if abs(moved) > NOISE:
                    found.append(_move(record.project, record.currency or "", was.get(key), now.get(key), cause=cause, moved=moved))
    return tuple(found)


def _by_project(result: JobResult, names: Mapping[str, str] = MappingProxyType({})) -> dict[str, dict[tuple[str, ...], _Part]]:
    """The lines by part, or by what they say where they are none; `names`: what a part is called in the other revision."""
    found: dict[str, dict[tuple[str, ...], _Part]] = {}
    for project in result.projects:
        parts = found.setdefault(fold(project.project.project), {})
        for line in project.materials:
            words = line.words if line.sort != PER_CENT else ""  # which say how many per cent
            key = (names.get(line.part, line.part), "", line.unit) if line.part else (line.role, words, line.unit)
            parts.setdefault(key, _Part(line)).add(line)
    return found


class _Breaks:
    """What the old price list asks for the quantities of the new revision."""

    def __init__(self, old: Job, new: JobResult, parts: Mapping[str, str]) -> None:
        self._listed = price_list(old.stock)
        before = {now: was for was, now in parts.items()}
        lines = (line for one in new.projects for line in one.materials)
        self._used = used_quantities((line._replace(part=before.get(line.part, line.part)) for line in lines), self._listed)

    def price(self, was: _Part) -> float:
        """Of one unit, where the part has breaks; else as it was."""
        rows = self._listed.breaks.get(was.line.part, ())
        if len(rows) < 2 or was.line.rate is None:
            return was.each
        row = price_row(self._listed, was.line.part, self._used)
        per = row.per_quantity or self._listed.first[was.line.part].per_quantity or 1.0
        return was.each if row.unit_price is None else row.unit_price * was.line.rate / per / was.scale


def _causes(was: _Part | None, now: _Part | None, breaks: _Breaks) -> Iterator[tuple[str, float]]:
    """The causes of one part with what each moved: together they are its money after less its money before."""
    if was is None or now is None:
        yield (NEW if was is None else GONE), (now.money if now else 0.0) - (was.money if was else 0.0)
    elif not was.priced or not now.priced:
        yield (PRICED_NOW if now.priced else NO_PRICE_NOW), now.money - was.money
    else:
        at_break = breaks.price(was)
        yield QUANTITY, (now.amount - was.amount) * was.each
        yield BREAK, now.amount * (at_break - was.each)
        yield UNIT_PRICE, now.money - now.amount * at_break


def _move(project: str, currency: str, was: _Part | None, now: _Part | None, *, cause: str, moved: float) -> MoneyMove:
    line = (now or was).line  # type: ignore[union-attr]  # a part stands in one revision at least
    quantity = (was.amount if was else None, now.amount if now else None)
    each = (was.each if was and was.priced else None, now.each if now and now.priced else None)
    words = line.words if line.part else f"{line.role}: {line.words}"
    unit = line.buy_unit if line.sort != PER_CENT else "of money"
    return MoneyMove(project, currency, line.part, words, cause, unit, quantity, each, moved, line.sort, line.role)


def price_steps(
    old: JobResult, new: JobResult, same: Mapping[str, str], parts: Mapping[str, str] = MappingProxyType({}),
    between: JobResult | None = None,
) -> tuple[PriceStep, ...]:  # fmt: skip
    """The price of each project that has one in both revisions, replaced step by step; then of all, where they are in one currency.

    between  the new revision by the waste and allowances of the old one (`batch.comparing.shop_rules`); None = both count alike
    """
    between = new if between is None else between
    before, middle, after = ({same.get(name, name): atoms for name, atoms in _atoms(old).items()}, _atoms(between), _atoms(new))
    quantities: dict[str, float] = defaultdict(float)
    for move in money_moves(old, between, same, parts):
        if move.cause in (QUANTITY, NEW, GONE) and move.sort not in (OTHER, LABOUR, PER_CENT):
            name = fold(move.project)
            quantities[name] += move.moved * (1.0 + _per_cents(between, name) * (move.role == RACEWAY))
    found: list[PriceStep] = []
    for name, own in after.items():
        if name in before:
            found += _of_project(before[name], middle.get(name, own), own, quantities[name])
    several = len({step.project for step in found}) > 1
    if several and len({step.currency for step in found}) == 1 and len({step.project for step in found}) == len(after) == len(before):
        price = sum(atom.cost.price or 0.0 for atoms in before.values() for atom in atoms)
        for step in STEPS:
            moved = sum(one.moved for one in found if one.step == step)
            price += moved
            found.append(PriceStep(WHOLE, found[0].currency, step, moved, price))
    return tuple(found)


def _atoms(result: JobResult) -> dict[str, list[Atom]]:
    atoms: dict[str, list[Atom]] = defaultdict(list)
    for atom in result.money.atoms:
        atoms[fold(atom.rates.project)].append(atom)
    return dict(atoms)


def _per_cents(result: JobResult, project: str) -> float:
    """What rules of the shop add to the price of raceway: 0.25 of 25 %."""
    return sum(rule.quantity for rule in result.job.allowances if rule.per == OF_RACEWAY and fold(rule.project) == project) / 100.0


def _of_project(was: Sequence[Atom], between: Sequence[Atom], now: Sequence[Atom], quantities: float) -> Iterator[PriceStep]:
    """A project's price with one thing after another as it is now; nothing where it has no price before or after."""
    old, new = was[0].rates, now[0].rates
    if old.currency != new.currency or any(atom.cost.price is None for atom in (*was, *now)):
        return
    before, middle, after = _sums(was), _sums(between), _sums(now)
    labour = old._replace(
        shop_rate=new.shop_rate, field_rate=new.field_rate, shop_factor=new.shop_factor, field_factor=new.field_factor
    )
    freight = labour._replace(purchase_tax_pct=new.purchase_tax_pct, freight_pct=new.freight_pct, freight_amount=new.freight_amount)
    contingency = freight._replace(contingency_pct=new.contingency_pct)
    overhead = contingency._replace(overhead_pct=new.overhead_pct)
    profit = overhead._replace(markup_pct=new.markup_pct, profit_pct=new.profit_pct)
    worked = before._replace(material=middle.material, other=after.other, shop_h=middle.shop_h, field_h=middle.field_h)
    states = [
        (before, old), (before._replace(material=before.material + quantities), old), (before._replace(material=middle.material), old),
        (before._replace(material=middle.material, other=after.other), old), (worked, old), (worked, labour),
        (after._replace(freight_sum=before.freight_sum), labour), *((after, one) for one in (freight, contingency, overhead, profit)),
    ]  # fmt: skip
    prices = [chain(**sums._asdict(), rates=rates).price for sums, rates in states]
    known = prices[0]
    for step, price in zip(STEPS, prices[1:], strict=True):
        if price is None or known is None:  # a rate that stands in one revision alone: shown with the step that gives it
            price = known
        moved = 0.0 if price is None or known is None or abs(price - known) <= NOISE else price - known
        known = price
        yield PriceStep(new.project, new.currency, step, moved, price or 0.0)


class _Sums(NamedTuple):
    """What the chain of costs begins with."""

    material: float
    other: float
    shop_h: float
    field_h: float
    freight_sum: float


def _sums(atoms: Iterable[Atom]) -> _Sums:
    atoms = list(atoms)
    return _Sums(
        sum(atom.material for atom in atoms), sum(atom.other for atom in atoms), sum(atom.shop_h for atom in atoms),
        sum(atom.field_h for atom in atoms), sum(atom.freight_sum for atom in atoms),
    )  # fmt: skip
