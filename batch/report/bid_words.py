"""What a bid is, in words for who has one minute: a sentence, the worst things, what is open, the fullest feeders."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from batch.counted_words import counted, few, plural
from batch.findings import Effect, Harm, Severity
from batch.material_lines import OPEN
from batch.money_results import NO_MONEY, Money
from batch.price.bid_totals import as_printed, bid_totals
from batch.price.open_lines import Lacking, lacking
from batch.results import BankRow, JobResult, ProjectResult
from batch.schedules.hanging import astray_on, astray_words, makes_up, missing_on_feeder, missing_words, not_sized_by_feeder
from batch.unsized_results import NotSized

HELD, HURTS, PRICE, REST = "not sized or on hold", "fire, shock, overload", "price", "other cautions"
CLASSES = (HELD, HURTS, PRICE, REST)
WORST, FULLEST, MOST_TAGS = 3, 3, 8  # how many of each are named
NO_PRICE = "no price"
COMPLETE, INCOMPLETE = "complete", "incomplete"
FOR = "for "  # before a price of which nothing is open
CENT = 0.01
HURTING = frozenset(harm.word for harm in Harm if harm.hurts)


def bid_sentence(projects: Sequence[ProjectResult], beside: Sequence[NotSized] = (), money: Money = NO_MONEY) -> str:
    """ "8 tanks with 30 heaters, 132 kW connected, in 5 heater panels and 1 single-circuit bank on 3 feeders; no price. Not in it: …".
    `beside`: rows not sized that belong to none of the projects.
    """
    banks = [row for project in projects for row in project.banks]
    tanks = len({(project.project.project, row.bank.tank.casefold()) for project in projects for row in project.banks})
    heaters, kw = sum(row.bank.quantity for row in banks), sum(row.design.connected_kw for row in banks)
    feeders = sum(len(project.feeders) for project in projects)
    what = f"{counted(tanks, 'tank')} with {counted(heaters, 'heater')}, {kw:,.6g} kW connected"
    where = f"in {_built(banks)} on {counted(feeders, 'feeder')}"
    missing = [*(row for project in projects for row in project.not_sized), *beside]
    price = price_words(projects, money, missing)
    without = "; ".join(filter(None, (missing_words(missing), "" if price == NO_PRICE else _by_others(projects))))
    on_hold = [row.design.connected_kw for row in banks if row.hold is not None]
    held = f" On hold: {len(on_hold):,} of {counted(len(banks), 'bank')}, {sum(on_hold):,.6g} of {kw:,.6g} kW." if on_hold else ""
    return f"{what}, {where}; {price}.{held}{f' Not in it: {without}.' if without else ''}"


def _built(banks: Sequence[BankRow], types: str = "") -> str:
    """ "5 heater panels of 4 types and 1 single-circuit bank": what heaters are switched in. `types` counts those of panels."""
    panels, single = sum(len(row.panels) for row in banks), sum(row.design.single_circuit is not None for row in banks)
    parts = [counted(panels, "heater panel") + types] if panels or not single else []
    return " and ".join([*parts, *([counted(single, "single-circuit bank")] if single else [])])


def for_whom(projects: Iterable[ProjectResult]) -> str:
    """ "Pilot line, revision A, for Nowhere Works, Nowhere Falls": projects by their titles or tags, then whom they are for, each once."""
    told: dict[str, list[str]] = {}
    for one in (project.project for project in projects):
        name = one.title or one.project
        revision = f"revision {one.revision}" if one.revision else ""
        told.setdefault(", ".join(filter(None, (one.customer, one.site))), []).append(", ".join(filter(None, (name, revision))))
    parts = [f"{'; '.join(filter(None, names))}{f', for {who}' if who else ''}".removeprefix(", ") for who, names in told.items()]
    return ". ".join(f"{words[0].upper()}{words[1:]}" for words in parts if words)


def _by_others(projects: Sequence[ProjectResult]) -> str:
    """ "the distribution units of 2 feeders, by others"; "" where none is left to them."""
    ends = [row.end for project in projects for row in project.feeders if row.end is not None]
    units = sum(end.unit not in ("", "taps") and not end.ours for end in ends)
    return f"the distribution unit{'s' if units > 1 else ''} of {counted(units, 'feeder')}, by others" if units else ""


def price_words(projects: Sequence[ProjectResult], money: Money = NO_MONEY, missing: Sequence[NotSized] = ()) -> str:
    """ "for 48,210.00 USD before tax", "at least 1,234.50 USD before tax, 3 lines open", "at least 80.00 USD for parts …", "no price"."""
    lines = [line for project in projects for line in project.materials]
    currencies = dict.fromkeys(project.project.currency or "" for project in projects if project.materials)
    if all(line.price is None for line in lines):
        return NO_PRICE
    if len(currencies) > 1:
        return "prices in several currencies: see each Summary"
    still = sum(line.status == OPEN for line in lines)
    held = sum(row.hold is not None for project in projects for row in project.banks)
    whole = as_printed(money, {project.project.project for project in projects})
    currency = next(iter(currencies))
    open_words = [counted(still, "line") + " open"] if still else []
    of_rows = len(missing) + sum(len(project.banks) for project in projects)
    open_words += [f"{len(missing):,} of {counted(of_rows, 'row')} not sized"] if missing else []
    open_words += [f"{counted(held, 'bank')} on hold"] if held else []
    if whole is not None and whole.given and whole.price is not None:
        price = f"{whole.price:,.2f} {currency}".strip()
        exact = _unrounded(money, projects)
        return f"at least {price} before tax{exact}, {', '.join(open_words)}" if open_words else f"{FOR}{price} before tax{exact}"
    total = sum(line.price for line in lines if line.price is not None)
    parts = f"{total:,.2f} {currency}".strip()
    without = sum(line.lacks_price for line in lines)
    return f"at least {parts} for parts, {counted(without, 'line')} without a price" if without else f"{parts} for parts"


def priced(result: JobResult) -> tuple[float | None, str, str]:
    """For a row among other bids: the figure of `price_words`, its currency, and complete, incomplete or no price. A figure of several
    currencies is None.
    """
    missing = [*(row for project in result.projects for row in project.not_sized), *result.not_sized]
    words = price_words(result.projects, result.money, missing)
    currencies = {(project.project.currency or "").strip() for project in result.projects if project.materials}
    if words == NO_PRICE or len(currencies) != 1:
        return None, "", NO_PRICE if words == NO_PRICE else INCOMPLETE
    whole = as_printed(result.money, {project.project.project for project in result.projects})
    if whole is not None and whole.given and whole.price is not None:
        amount = whole.price
    else:
        amount = sum(line.price for project in result.projects for line in project.materials if line.price is not None)
    return amount, currencies.pop(), COMPLETE if words.startswith(FOR) else INCOMPLETE


def _unrounded(money: Money, projects: Sequence[ProjectResult]) -> str:
    """Where the quotation rounds each position to more than a hundredth, that this figure is the one before."""
    names = {project.project.project for project in projects}
    steps = {rates.round_to for rates in money.rates if rates.project in names and rates.round_to > CENT}
    return f" (before the quotation rounds each position to {' or '.join(f'{step:g}' for step in sorted(steps))})" if steps else ""


def money_words(money: Money, names: Collection[str]) -> str:
    """Material, hours, cost and margin in a line, which stands below the price; "" where there is no Pricing, or several currencies."""
    whole, exact = as_printed(money, names), bid_totals(money, names)
    if whole is None or exact is None or not whole.given:
        return ""
    least = "at least " if whole.open else ""
    parts = [f"material {least}{whole.material:,.0f}", f"other costs {whole.other:,.0f}"]
    parts.append(f"{whole.shop_h:,.1f} h in the shop, {whole.field_h:,.1f} h on site")
    parts.append("full cost not known" if whole.cost is None else f"full cost {least}{whole.cost:,.0f}")
    if whole.price is None:
        parts.append("no price")
    elif exact.margin_pct is not None:
        parts.append(f"margin {exact.margin_pct:.1f} % of the price")
    if whole.held:
        price = "" if whole.held_price is None else f", price {whole.held_price:,.2f} {whole.currency}".rstrip()
        parts.append(f"of it on hold: material {whole.held_material:,.0f}{price}")
    if whole.blanks:
        parts.append(f"not given on Pricing: {', '.join(whole.blanks)}")
    return "; ".join(parts)


class Worst(NamedTuple):
    """One of the worst things: its class, its words, and its row of Findings from nought."""

    kind: str
    words: str
    at: int


def class_of(row: Mapping) -> str:
    """Which class a row of Findings belongs to; "" for a note."""
    if row["severity"] == Severity.NOTE.word:
        return ""
    if row["effect"] != Effect.NONE.word:
        return HELD
    return HURTS if row["harm"] in HURTING else PRICE if row["harm"] == Harm.MONEY.word else REST


def worst_things(
    listed: Sequence[Mapping], projects: Iterable[ProjectResult], own: str | None = None, money: Money = NO_MONEY
) -> list[Worst]:
    """The three worst things, no two of one kind of finding: what is not sized, what is on hold, then cautions, those on what hurts first;
    of what is as grave, what most money, else most kW, and most rows hang on. `own`: of one project alone.
    """
    projects = tuple(projects)
    weigh = _Weights(projects, money)
    ranked: list[tuple[int, int, float, float, int, int]] = []  # how grave, what can come of it, money, kW, rows, the row
    for at, row in enumerate(listed):
        kind = class_of(row)
        if kind and (own is None or (row["project"] or "") == own):
            harmless = (row["harm"] not in (Harm.FIRE.word, Harm.SHOCK.word)) + (row["harm"] not in HURTING)
            grave = 0 if row["effect"] == Effect.NOT_SIZED.word else 1 + CLASSES.index(kind)
            worth, kw = weigh(row)
            ranked.append((grave, harmless if kind in (HURTS, HELD) else 0, -worth, -kw, -row["count"], at))
    of_code: dict[str, int] = {}
    for *_, at in sorted(ranked):
        of_code.setdefault(listed[at]["code"], at)
    found = []
    for at in list(of_code.values())[:WORST]:
        row = listed[at]
        kind = class_of(row)
        who = ", ".join(filter(None, (row["tank"] and f"tank {row['tank']}", row["feeder"] and f"feeder {row['feeder']}")))
        said = row["message"].startswith(tuple(f"{tag}: " for tag in (row["tank"], row["feeder"]) if tag))  # the words name it already
        words = f"{who}: {row['message']}" if who and not said else row["message"]
        found.append(Worst(kind, f"{row['project']}, {words}" if own is None and len(projects) > 1 and row["project"] else words, at))
    return found


class _Weights:
    """Money and kW that hang on what a finding is about. Money: the price, where a rate is not given the material."""

    def __init__(self, projects: Iterable[ProjectResult], money: Money) -> None:
        self._kw: dict[tuple[str, ...], float] = {}
        self._money: dict[tuple[str, ...], float] = {}
        priced = all(atom.cost.price is not None for atom in money.atoms)
        for atom in money.atoms if money.asked else ():
            name, worth = atom.rates.project, (atom.cost.price if priced else None) or atom.material
            keys = {(name,), (name, "tank", atom.tank), (name, "bank", atom.tank, atom.bank), (name, "feeder", atom.feeder)}
            for key in keys:
                self._money[key] = self._money.get(key, 0.0) + worth
        for project in projects:
            name = project.project.project
            for row in project.banks:
                kw, tank = row.design.connected_kw, row.bank.tank
                for key in ((name,), (name, "tank", tank), (name, "bank", tank, row.label), (name, "feeder", row.feeder.feeder)):
                    self._kw[key] = self._kw.get(key, 0.0) + kw
            for lost in project.not_sized:
                for key in ((name, "tank", lost.tank), (name, "bank", lost.tank, lost.label)):
                    self._kw[key] = self._kw.get(key, 0.0) + (lost.connected_kw or 0.0)

    def __call__(self, row: Mapping) -> tuple[float, float]:
        name, tank, bank, feeder = (row[key] or "" for key in ("project", "tank", "bank", "feeder"))
        keys: list[tuple[str, ...]] = [(name, "bank", tank, bank)] if bank else []
        keys += [(name, "tank", tank)] if tank else [(name, "feeder", feeder)] if feeder else [(name,)]
        return tuple(next((known[key] for key in keys if key in known), 0.0) for known in (self._money, self._kw))  # type: ignore[return-value]


class Open(NamedTuple):
    """Something that is open: how many, in words, and the sheet that shows it, by id."""

    number: int
    words: str
    sheet: str


def what_is_open(
    projects: Sequence[ProjectResult], beside: Sequence[NotSized], listed: Sequence[Mapping], money: Money = NO_MONEY, asked: int = 0,
    *, failed: int = 0,
) -> list[Open]:  # fmt: skip
    """What is not settled, with its count; nothing where all is. `asked`: open questions to the customer; `failed`: checks that fail."""
    held = [row for project in projects for row in project.banks if row.hold is not None]
    missing = [*(row for project in projects for row in project.not_sized), *beside]
    lines = [line for project in projects for line in project.materials]
    names = {project.project.project for project in projects} | {row.project for row in beside}
    still = lacking(lines)
    own = [row for row in listed if (row["project"] or "") in names or not row["project"]]

    def rows(*codes: str) -> int:
        return sum(row["count"] for row in own if row["code"] in codes)

    found = (
        Open(len(missing), f"{missing_words(missing).partition(' ')[2]}: {_tags(row.tank for row in missing)}", "banks"),
        _some(len(held), "bank", f"on hold, no labels, not to be built as they stand: {_tags(row.bank.tank for row in held)}", "banks"),
        _some(sum(row["count"] for row in own if class_of(row) == HURTS), "caution", "on fire, shock or overload", "findings"),
        _some(sum(row["count"] for row in own if class_of(row) in (PRICE, REST)), "caution", "on other things", "findings"),
        *_open_lines(still),
        _some(_too_old(money, names), "price", "too old at the date of the bid, or dated after it", "buy_list"),
        Open(*_blanks(money, names), "pricing_used"),
        _some(rows("no-length", "feeder-length-unknown"), "length", "not given: no drop and no wire for it", "findings"),
        _some(rows("fault-unknown"), "feeder", "with a fault current that is not known", "findings"),
        _some(sum(not row.judged for project in projects for row in project.heat), "tank", "with heat that is not judged", "heat"),
        _some(asked, "question", "to the customer without an answer", "questions"),
        _some(failed, "check", "of this workbook that FAIL: see Checks", "checks"),
    )
    return [one for one in found if one.number]


def _too_old(money: Money, names: Collection[str]) -> int:
    """Lines of the buy list with a price older than Pricing lets it be, or dated after the bid."""
    good = {one.project: one.good_for_days for one in money.rates if one.project in names and one.good_for_days is not None}
    shortest = min(good.values(), default=None)
    most = ((line.age_days, good.get(line.project) if line.project else shortest) for line in money.buy if line.unit_price is not None)
    return sum(age is not None and days is not None and not 0 <= age <= days for age, days in most)


def _open_lines(still: Lacking) -> Iterator[Open]:
    """By sheet and by what they lack."""
    for some, what in ((still.price, "a price"), (still.hours, "labour hours"), (still.length, "a length")):
        yield _some(sum(line.stretch is None for line in some), "line", f"of Materials without {what}", "materials")
        yield _some(sum(line.stretch is not None for line in some), "line", f"of Runs without {what}", "runs")


def _tags(tanks: Iterable[str]) -> str:
    """ "T-1, T-4 and 12 more": whom to ask about."""
    tags = list(dict.fromkeys(tank or "a tank without a tag" for tank in tanks))
    return few(tags, MOST_TAGS)


def _some(number: int, one: str, rest: str, sheet: str) -> Open:
    return Open(number, f"{_in_number(number, one)} {rest}", sheet)


def _in_number(number: int, one: str) -> str:
    """The word alone, where its number stands in a cell of its own."""
    return one if number == 1 else plural(one)


def _blanks(money: Money, names: Collection[str]) -> tuple[int, str]:
    """What is left blank on Pricing, of the projects that have a row there; those without one have no price at all."""
    given = [one for one in money.rates if one.project in names and one.given]
    blanks = [name for one in given for name in one.blanks]
    without = sum(one.project in names and not one.given for one in money.rates) if money.asked else 0
    if not blanks and without:
        return without, f"{_in_number(without, 'project')} without a row of Pricing: cost of parts alone, no price"
    return len(blanks) + without, f"{_in_number(len(blanks) + without, 'blank')} on Pricing: {', '.join(dict.fromkeys(blanks))}"


def fullest_feeders(projects: Iterable[ProjectResult]) -> list[str]:
    """The feeders that are nearest to full: "F-1: 92 % of its 400 A OCPD, 78 % of its 300 kVA source"."""
    filled, projects = [], tuple(projects)
    for project in projects:
        of = f"{project.project.project}, " if len(projects) > 1 else ""
        lost = not_sized_by_feeder(project.not_sized)
        for row in project.feeders:
            parts = []
            if row.device is not None and row.use_pct is not None:
                there_a = row.feeder.device_there_a or row.device.rating_a
                parts.append((row.use_pct, f"its {there_a:g} A OCPD"))
            if row.feeder.source_kva:
                parts.append((100.0 * row.use_kva / row.feeder.source_kva, f"its {row.feeder.source_kva:g} kVA source"))
            if parts:
                words = ", ".join(f"{percent:.0f} % of {what}" for percent, what in parts)
                name = row.feeder.feeder
                more = f"; without {missing_on_feeder(lost[name])}" if name in lost else ""
                loose = [*lost.get("", ()), *astray_on(project, name)]
                more += f"; {missing_words(loose)}, may hang on it" if loose else ""
                filled.append((max(percent for percent, _ in parts), f"{of}{name}: {words}{more}"))
    return [words for _, words in sorted(filled, key=lambda one: -one[0])[:FULLEST]]


def project_words(project: ProjectResult, money: Money = NO_MONEY) -> tuple[str, str]:
    """Status of a project, and the project in words."""
    made = makes_up(project)
    perhaps = f" Perhaps not in it: {astray_words(project.astray)}." if project.astray else ""
    return made.status, f"{bid_sentence([project], (), money)}{perhaps} {counted(len(project.types), 'panel type')}."


def project_row(projects: Sequence[ProjectResult], money: Money) -> str:
    """A project, or all of them, in one order, so that rows compare: tanks, heaters, kW, panels, types, material, hours, cost, price,
    margin, open lines; sums are of what the rows show.
    """
    banks = [row for project in projects for row in project.banks]
    tanks = len({(project.project.project, row.bank.tank.casefold()) for project in projects for row in project.banks})
    types = counted(sum(len(project.types) for project in projects), "type")
    parts = [counted(tanks, "tank"), counted(sum(row.bank.quantity for row in banks), "heater")]
    parts.append(f"{sum(row.design.connected_kw for row in banks):,.6g} kW")
    parts.append(_built(banks, f" of {types}"))
    names = {project.project.project for project in projects}
    whole, exact = as_printed(money, names), bid_totals(money, names)
    if whole is None or exact is None or not whole.given:
        return "; ".join([*parts, price_words(projects, money)])
    least = "at least " if whole.open else ""
    parts.append(f"material {least}{whole.material:,.0f}")
    parts.append(f"{whole.shop_h:,.1f} h in the shop, {whole.field_h:,.1f} h on site")
    parts.append("full cost not known" if whole.cost is None else f"full cost {least}{whole.cost:,.0f}")
    parts.append(NO_PRICE if whole.price is None else f"price {least}{whole.price:,.2f} {whole.currency}".rstrip())
    parts += [f"margin {exact.margin_pct:.1f} %"] if exact.margin_pct is not None else []
    still = sum(line.status == OPEN for project in projects for line in project.materials)
    return "; ".join([*parts, f"{counted(still, 'line')} open" if still else "no line open"])


def beside_row(project: ProjectResult) -> str:
    """What a project's row does not count, or has on hold; "" where there is none."""
    held = [row for row in project.banks if row.hold is not None]
    said = [f"On hold: {counted(len(held), 'bank')}, {sum(row.design.connected_kw for row in held):,.6g} kW."] if held else []
    said += [f"Not in it: {missing_words(project.not_sized)}."] if project.not_sized else []
    said += [f"Perhaps not in it: {astray_words(project.astray)}."] if project.astray else []
    return " ".join(said)


def lost_projects(result: JobResult) -> list[tuple[str, str]]:
    """Projects of which nothing is sized: name, and what their rows say."""
    found: dict[str, list[NotSized]] = {}
    for row in result.not_sized:
        found.setdefault(row.project, []).append(row)
    return [(name or "no project named", missing_words(rows)) for name, rows in found.items()]
