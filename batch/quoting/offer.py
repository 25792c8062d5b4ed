"""All that may go to a customer, as one record: an allow list. What is not a field here does not go out.

No cost, hour, rate, margin, part, supplier or Notes is among its fields.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import ROUND_HALF_UP, Decimal
from typing import NamedTuple

from batch.comparing.sentences import listed
from batch.counted_words import counted_or_no as counted
from batch.errors import JobError
from batch.material_lines import CUSTOMER, OTHERS
from batch.price.job_costs import scope_of
from batch.price.questions import Asked, ask
from batch.price.scope import US, settled
from batch.quoting.assumed import switches, taken, tanks_named
from batch.quoting.awaited import asked_about, awaiting
from batch.quoting.gates import BUDGET, OFFER, gates
from batch.quoting.grouping import BY, WHOLE
from batch.quoting.positions import Position, positions
from batch.results import JobResult, ProjectResult
from batch.schedules.question_list import CustomerQuestion, as_the_customer_reads

BLANK = "____"
CENT = Decimal("0.01")
INSIDE = {  # words of a caution that speak of how it was worked out, and what the customer reads instead
    ": torques are shown only where a stock part states its own": "",
    "where it asks more than this sizing": "where it asks more than is offered here",
}  # fmt: skip
DEFERS = (
    "The code in force at the site, the authority having jurisdiction and the licensed engineer or electrician responsible decide; nothing "
    "in this document replaces them."
)

TAX, OTHER_TAX = "duty and tax", "duty, and taxes beside that on the price"  # what is left of it where tax is charged


class SoFar(NamedTuple):
    """What is priced of positions that are not whole: how many of how many, and what is open in them (lines, rows, holds)."""

    amount: Decimal
    positions: int
    of: int
    open: int

    @property
    def words(self) -> str:
        """ "Incomplete: priced so far in 5 of 9 positions whose price follows, 12 points open in them"."""
        many = f"{self.positions} of {counted(self.of, 'position')} whose price follows"
        return f"Incomplete: priced so far in {many}, {counted(self.open, 'point')} open in them"


class CustomerOffer(NamedTuple):
    """A quotation, or a budget figure. Prices rounded, None = it follows or is not shown.

    so_far  what the priced lines come to of positions whose price follows; shown only where a total of a budget figure is asked for
    """

    title: str
    project: str
    name: str
    customer: str
    site: str
    revision: str
    date: str
    currency: str
    sentence: str
    positions: tuple[Position, ...]
    total: Decimal | None
    rounded_to: Decimal
    tax_pct: Decimal | None
    tax: Decimal | None
    to_pay: Decimal | None
    at_least: bool
    so_far: SoFar | None
    included: tuple[str, ...]
    excluded: tuple[str, ...]
    assumptions: tuple[str, ...]
    questions: tuple[CustomerQuestion, ...]
    cautions: tuple[str, ...]
    validity: str
    delivery: str
    terms: str
    warranty: str
    signature: str
    note: str

    @property
    def together(self) -> Decimal | None:
        """Of a budget figure all that has a price; None where it is the total, or not shown."""
        return None if self.so_far is None or self.total is None else self.total + self.so_far.amount

    @property
    def final(self) -> bool:
        return self.title == OFFER


class Quoted(NamedTuple):
    """An offer; for the estimator alone why it is none yet, and what has a price of its positions, whole or not, None where nothing has."""

    offer: CustomerOffer
    why: tuple[str, ...]
    priced: Decimal | None


def quote_project(result: JobResult, *, project: str = "", by: str = BY[0], at_least: bool = False) -> Quoted:
    """The quotation of a project. `by`: what its positions are; `at_least`: a budget figure shows a total of what is priced.

    Raises:
        JobError: no such project, several and none named, or nothing in it is sized.
    """
    _refuse_nothing(result)
    one = _project(result, project)
    money, record = result.money, one.project
    if not one.banks:
        of = f"{result.job.name}, project {record.project}" if record.project else result.job.name
        raise JobError(f"{of}: no heater is sized, so there is nothing to quote: size the list first, and see its Findings for what to do")
    why = tuple(gates(result, one))
    asked = tuple(each for each in ask(result) if each.project in ("", record.project))
    places = positions(one, money, by)
    so_far = _so_far(places)
    listed = awaiting(places, asked, by == WHOLE)
    rates = money.of_project(record.project)[0].rates
    known = [place.price for place in listed if place.price is not None]
    total = sum(known, Decimal(0)) if known and (not why or at_least) else None
    tax_pct = None if rates.sales_tax_pct is None else Decimal(f"{rates.sales_tax_pct:g}")
    tax = None if total is None or tax_pct is None or why else (total * tax_pct / 100).quantize(CENT, ROUND_HALF_UP)
    scope = settled(one.materials, scope_of(result.job, record.project), bool(rates.freight_pct or rates.freight_amount))
    said = one.wording.within
    charged = {TAX: OTHER_TAX} if tax else {}
    not_ours = [_excluded(charged.get(item.item, item.item), item.by) for item in scope if not item.included]
    offer = CustomerOffer(
        title=BUDGET if why else OFFER, project=record.project, name=record.title or "", customer=record.customer or "",
        site=record.site or "",
        revision=record.revision or "", date=(record.date or "")[:10], currency=rates.currency, sentence=scope_sentence(one, asked),
        positions=tuple(listed), total=total, rounded_to=Decimal(f"{rates.round_to:g}"),
        tax_pct=tax_pct, tax=tax, to_pay=None if total is None or tax is None else total + tax,
        at_least=bool(why), so_far=so_far if why and at_least else None, included=tuple(said(item.item) for item in scope if item.included),
        excluded=tuple(map(said, (*not_ours, *_ways_of_others(one), *_left_out(result, one)))),
        assumptions=tuple(map(said, (*taken(one, result.job), *switches(one, result.job)))),
        questions=tuple(as_the_customer_reads(each, number, said) for number, each in enumerate(asked, 1)),
        cautions=(*(_outside(words) for words, _ in result.cautions if "Code basis" not in words), DEFERS),
        validity=record.validity or BLANK,
        delivery=record.delivery or BLANK, terms=record.terms or BLANK, warranty=record.warranty or BLANK,
        signature=record.signature or BLANK, note=record.note_to_customer or "",
    )  # fmt: skip
    priced = [place.price for place in places if place.price]
    return Quoted(offer, why, sum(priced, Decimal(0)) if priced else None)


def _so_far(places: Sequence[Position]) -> SoFar | None:
    """None where all positions are whole, or nothing of the others has a price."""
    partly = [place for place in places if place.open]
    known = [place.price for place in partly if place.price]
    return SoFar(sum(known, Decimal(0)), len(partly), len(places), sum(place.open for place in partly)) if known else None


def _refuse_nothing(result: JobResult) -> None:
    """Raises JobError where the file lists no heater at all, sized or not: it may be the wrong one."""
    job = result.job
    if not (job.banks or job.unread or result.not_sized):
        raise JobError(
            f"{job.name}: no list of heaters was found in it, so there is nothing to quote: name the workbook that lists the heaters; "
            "if this is it, the command check says what was looked for"
        )


def scope_sentence(one: ProjectResult, asked: Sequence[Asked]) -> str:
    """ "Supply of 30 immersion heaters, 132 kW, for 8 tanks at X: 5 heater panels of 5 types on 2 feeders, to your list, revision A." """
    record, banks = one.project, one.banks
    heaters, kw = sum(row.bank.quantity for row in banks), sum(row.design.connected_kw for row in banks)
    tanks, panels = len({row.bank.tank.casefold() for row in banks}), sum(len(row.panels) for row in banks)
    single = sum(row.design.single_circuit is not None for row in banks)
    where = f" at {record.site}" if record.site else ""
    built = f"{counted(panels, 'heater panel')} of {counted(len(one.types), 'type')}" if panels else "no heater panels"
    more = [counted(single, "switched circuit")] if single else []
    more += [counted(len(one.controls), "control panel")] if one.controls else []
    built = listed([built, *more])
    revision = f", revision {record.revision}" if record.revision else ""
    return (
        f"Supply of {counted(heaters, 'immersion heater')}, {kw:,.6g} kW, for {counted(tanks, 'tank')}{where}: {built} on "
        f"{counted(len(one.feeders), 'feeder')}, to your list{revision}.{_not_in_it(one, asked)}"
    )


def _not_in_it(one: ProjectResult, asked: Sequence[Asked]) -> str:
    """ " Not in it until the questions are answered: tank T-9; heaters of tank T-2." and what of it is not settled, by an answer or by us;
    "" where all is."""
    whole = {row.bank.tank.casefold() for row in one.banks}
    missing = {row.tank.casefold(): row.tank for row in one.not_sized}
    gone = [tank for folded, tank in missing.items() if tank and folded not in whole]
    partly = [tank for folded, tank in missing.items() if tank and folded in whole]
    nameless = sum(not row.tank for row in one.not_sized)
    without = f"{counted(nameless, 'row')} without a tank" if nameless else ""
    parts = [tanks_named("", gone), tanks_named("some heaters of ", partly), without]
    words = "; ".join(filter(None, parts))
    held = [row for row in one.banks if row.hold is not None]
    theirs = dict.fromkeys(row.bank.tank for row in held if asked_about(row, asked))
    ours = [tank for tank in dict.fromkeys(row.bank.tank for row in held) if tank not in theirs]
    told = (("Not in it until the questions are answered", words), ("Not settled yet, with their questions", tanks_named("", [*theirs])),
            ("Not settled yet on our side", tanks_named("", ours)))  # fmt: skip
    return "".join(f" {label}: {which}." for label, which in told if which)


def _outside(words: str) -> str:
    """A caution without what speaks of how it was worked out."""
    for inside, outside in INSIDE.items():
        words = words.replace(inside, outside)
    return words


def _project(result: JobResult, name: str) -> ProjectResult:
    named = [one for one in result.projects if one.project.project.casefold() == name.casefold()] if name else list(result.projects)
    names = ", ".join(one.project.project or "(no name)" for one in result.projects)
    if not named:
        raise JobError(f"project {name}: none of that name is sized; there are {names}" if name else "no project is sized")
    if len(named) > 1:
        raise JobError(f"several projects: quote one at a time with --project, of {names}")
    return named[0]


def _left_out(result: JobResult, one: ProjectResult) -> Iterator[str]:
    """Rows of the customer's list that are not in the offer by what stands in it: taken out or given to others, and other equipment. Tags
    alone: what a row's remark says may be the estimator's own."""
    of = [said for said in result.findings if said.project in ("", one.project.project)]
    out = [said for said in of if said.kind.code == "row-taken-out"]
    tags = [*{said.tank.casefold(): said.tank for said in out if said.tank}.values()]
    in_it = {row.bank.tank.casefold() for row in one.banks}
    parts = [tanks_named("", [tag for tag in tags if tag.casefold() not in in_it]),
             tanks_named("some of ", [tag for tag in tags if tag.casefold() in in_it])]  # fmt: skip
    nameless = sum(not said.tank for said in out)
    parts.append(f"{counted(nameless, 'row')} without a tank" if nameless else "")
    if out:
        words = "; ".join(filter(None, parts))
        yield f"heaters that are marked in your list as taken out, already there or by others, or that you told us to leave out: {words}"
    other = sum(said.kind.code == "row-not-heater" for said in of)
    if other:
        yield f"other equipment than heaters, in {counted(other, 'row')} of your list"


def _excluded(item: str, by: str) -> str:
    who = {CUSTOMER: "by the customer", "customer": "by the customer", "others": "by others", OTHERS: "by others", US: "not priced yet"}
    return f"{item}: {who[by]}" if by in who else item


def _ways_of_others(one: ProjectResult) -> Iterator[str]:
    """What no line holds where a distribution unit is not ours: its ways."""
    ends = [row.end for row in one.feeders if row.end is not None and row.end.unit != "taps" and len(row.end.ways) > 1 and not row.end.ours]
    if ends:
        yield f"{counted(len(ends), 'distribution unit')}, with conductors and raceway from there to the control panels: by others"


def rounding_words(offer: CustomerOffer) -> str:
    """How positions and total go together."""
    step = f"{offer.rounded_to:f}".rstrip("0").rstrip(".") if "." in f"{offer.rounded_to:f}" else f"{offer.rounded_to:f}"
    return f"Each position is rounded to {step} {offer.currency}".strip() + "; the total is the sum of the rounded positions."


def parts_of(offer: CustomerOffer) -> Sequence[tuple[str, str]]:
    """What stands at the head: label and words, blank ones left out."""
    head = (("Project", offer.name or offer.project), ("Customer", offer.customer), ("Site", offer.site), ("Revision", offer.revision),
            ("Date", offer.date))  # fmt: skip
    return [(label, words) for label, words in head if words]
