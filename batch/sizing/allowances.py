"""What the rules of the shop add to a job: so many of a part, or so many hours, for each of something that is counted here."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import ceil
from typing import NamedTuple

from batch.material_lines import ACTIVITY, BANK, FEEDER, FIELD, METRES, PER_CENT, PROJECT, RACEWAY, SHOP, TANK, Owner
from batch.money_records import Allowance
from batch.results import BankRow, FeederRow, Material
from batch.rules import RuleSet
from batch.sizing.box_parts import MARKED_BY_SHOP
from batch.sizing.placing import groups
from batch.sizing.stock import Stock

RULES_OF_SHOP, SPARES = "allowances", "spares"
FUSE, OF_RACEWAY = "fuse", "per cent of raceway price"
TEN_FEET = 10 * METRES["ft"]
Key = tuple[str, str]  # stock part, words
USUAL_POLES = 3.0  # of a circuit whose holder is not among the lines
CLOSE = 1e-9  # a run of just ten feet is one, whatever changing units did to it


def allowance_lines(
    allowances: Iterable[Allowance], banks: Sequence[BankRow], feeders: Sequence[FeederRow], lines: Sequence[Material], stock: Stock
) -> list[Material]:
    """The lines that the rules add, each borne where it was counted: bank, tank, feeder or project."""
    allowances = tuple(allowances)
    if not allowances:
        return []
    counts = count_for(banks, feeders, lines)
    found: list[Material] = []
    for rule in allowances:
        if rule.per == FUSE:
            found += _spares(rule, lines)
            continue
        for owner, count in counts[rule.per].items():
            if count and rule.per == OF_RACEWAY:
                words = f"{rule.allowance}, {rule.quantity:g} per cent of the price of its raceway"
                found.append(Material(RULES_OF_SHOP, rule.allowance, "", words, rule.quantity, "%", None, None, owner=owner,
                                      each=rule.quantity, sort=PER_CENT))  # fmt: skip
            elif count:
                found += _lines(rule, owner, rule.quantity * count, stock)
    return found


def count_for(banks: Sequence[BankRow], feeders: Sequence[FeederRow], lines: Sequence[Material]) -> dict[str, dict[Owner, float]]:
    """How many panels, branches, poles … each owner has, by what rules may be given for."""
    found: dict[str, dict[Owner, float]] = defaultdict(lambda: defaultdict(float))
    for row in banks:
        owner, bank, built = Owner(BANK, row.bank.tank, row.label), row.bank, groups(row.design)
        circuits = bank.quantity * row.design.circuits_per_heater
        device = row.design.branch.device if row.panels else built[0].panel_feeder_device
        found["panel"][owner] += len(row.panels)
        found["branch"][owner] += circuits if row.panels else 0
        found["circuit"][owner] += circuits if row.panels else 1
        found["pole"][owner] += device.poles * (circuits if row.panels else 1)
        found["heater"][owner] += bank.quantity
        found["terminal"][owner] += sum(panel.limit_terminals for panel in built)
        found["tank"][Owner(TANK, bank.tank)] = 1
    for fed in feeders:
        if fed.banks:
            found["feeder"][Owner(FEEDER, "", fed.feeder.feeder)] = 1
    for line in lines:
        if line.role == RACEWAY and line.stretch is not None:
            found["raceway"][line.owner] += line.stretch.abreast
            found[OF_RACEWAY][line.owner] = 1
            if line.stretch.length_m:
                found["10 ft of run"][line.owner] += line.stretch.abreast * ceil(line.stretch.length_m / TEN_FEET - CLOSE)
    found["project"][Owner(PROJECT)] = 1
    return found


class CountedByShop(NamedTuple):
    """Roles of what a box has beside its devices that a rule of the shop counts already: of heater panels, of control panels, of the
    distribution units of feeders."""

    panels: frozenset[str]
    controls: frozenset[str]
    units: frozenset[str]


def counted_by_shop(allowances: Iterable[Allowance], stock: Stock) -> CountedByShop:
    """A rule for each tank or project speaks of control panels, one for each feeder of its distribution unit, any other of heater panels;
    its own words and its part's tell of what."""
    panels, controls, units = set[str](), set[str](), set[str]()
    for rule in allowances:
        if rule.per == OF_RACEWAY:
            continue
        part = stock.named(rule.part or "")
        own = f"{rule.allowance} {'' if part is None else part.description or ''}".casefold()
        words = own if part is None or "nameplate" in own else f"{own} {part.kind}"  # a nameplate is of the kind label, and no label
        roles = {role for role, called in MARKED_BY_SHOP.items() if called in words}
        (controls if rule.per in ("tank", "project") else units if rule.per == "feeder" else panels).update(roles)
    return CountedByShop(frozenset(panels), frozenset(controls), frozenset(units))


def _fuses_used(lines: Iterable[Material]) -> Mapping[Key, tuple[float, Sequence[str]]]:
    """How many of each fuse, and what it is called where it stands: one stock part is one fuse, whatever circuit it protects."""
    count: dict[Key, float] = defaultdict(float)
    called: dict[Key, list[str]] = defaultdict(list)
    first: dict[str, str] = {}
    for line in lines:
        if line.role.endswith("fuse"):
            key = line.part, first.setdefault(line.part, line.words) if line.part else line.words
            count[key] += line.quantity
            called[key].append(line.words)
    return {key: (count[key], tuple(dict.fromkeys(words))) for key, words in called.items()}


def usual_spares(lines: Iterable[Material], rules: RuleSet) -> Iterator[Material]:
    """Spare fuses where no rule of the shop says how many: a share of each rating over the project, at least those of one circuit."""
    lines, poles = list(lines), dict[str, float]()
    share, used = rules.factor("spare_fuses").value, _fuses_used(lines)
    for line in lines:
        if line.role.endswith("fuse holder") and line.words[:1].isdigit():
            fuse = line.words.rpartition(", dead-front disconnecting, ")[2]
            poles[fuse] = max(poles.get(fuse, 0.0), float(line.words.partition("-pole")[0]))
    for (part, words), (count, called) in used.items():
        circuit = max((poles[one] for one in called if one in poles), default=min(count, USUAL_POLES))
        quantity = float(max(ceil(share * count - CLOSE), circuit))
        yield Material(SPARES, "spare fuse", part, words, quantity, "ea", None, None, owner=Owner(PROJECT), each=quantity)


def _lines(rule: Allowance, owner: Owner, quantity: float, stock: Stock) -> Iterator[Material]:
    """A part, or hours alone; a rule with neither is an open line."""
    if rule.part or (rule.shop_h is None and rule.field_h is None):
        part = next((one for kind in stock.kinds() for one in stock.of(kind) if one.part == rule.part), None)
        place = "" if part is None else FIELD if part.kind in ("fitting", "control wire", "raceway", "wire") else SHOP
        why = f"part {rule.part} of Allowances is not on the Stock sheet" if rule.part and part is None else ""
        amount, unit, sold_by = quantity, "ea", ""
        if part is not None and part.per_unit in METRES:
            amount, unit, sold_by = quantity * METRES[part.per_unit], "m", part.per_unit
        words = part.description or rule.allowance if part is not None else rule.allowance
        yield Material(RULES_OF_SHOP, rule.allowance, rule.part or "", words, amount, unit, None, None, sold_by=sold_by, why=why,
                       owner=owner, each=amount, place=place)  # fmt: skip
    for place, hours in ((SHOP, rule.shop_h), (FIELD, rule.field_h)):
        if hours is not None:
            yield Material(RULES_OF_SHOP, rule.allowance, "", f"{rule.allowance}, hours {'on site' if place == FIELD else 'in the shop'}",
                           quantity, "ea", None, hours, owner=owner, each=quantity, sort=ACTIVITY, place=place)  # fmt: skip


def _spares(rule: Allowance, lines: Sequence[Material]) -> Iterator[Material]:
    """Spare fuses of each kind over the project: so many for each that is used, no fewer than so many, by whole pieces; no hours."""
    for (part, words), (count, _) in _fuses_used(lines).items():
        if rule.part and rule.part != part:
            continue
        quantity = max(ceil(rule.quantity * count - CLOSE), rule.at_least or 0.0)
        yield Material(SPARES, "spare fuse", part, words, quantity, "ea", None, None, owner=Owner(PROJECT), each=quantity)
