"""What an earlier revision had decided, carried into a new one wherever its cells are blank and its inputs allow it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import NamedTuple

from msgspec.structs import replace

from batch.comparing.input_changes import SETTINGS, same
from batch.comparing.lines import RECORDS, SHEETS, Entry, fold, lines_of, with_values
from batch.comparing.offers import Offer, offers_of
from batch.comparing.pairing import Pair, confirmed, in_both, pair_all
from batch.comparing.revision import Revision
from batch.comparing.same_feeders import same_feeders
from batch.counted_words import few
from batch.findings import Finding, find, remark
from batch.money_records import TypedPrice
from batch.origin import NOWHERE, Address, Origin
from batch.price.stock_prices import price_list
from batch.records import Bank, CarriedForward, Job, Part
from batch.reopening.carried_forward import carried_forward, line_of_own, with_carried_forward, worded
from batch.reopening.typed_not_kept import typed_not_kept
from batch.results import JobResult
from batch.sheets import Column
from batch.sizing.placing import type_key
from batch.sizing.previous_decisions import BankKey, FeederKey, PreviousBank, PreviousDecisions, PreviousFeeder, bank_key, by_turns
from batch.sizing.project import size_job

# What the estimator fixes for a bank, and the findings that say that it cannot stand with the inputs as they now are.
FIXED: dict[str, tuple[str, ...]] = {
    "connection": ("connection-needs-three-phase", "wye-count", "wye-legs-uneven", "volts-over", "connection-inside"),
    "fixed_rating_a": ("fixed-rating-small", "device-over-limit"),
    "phase_pair": ("phase-pair-ignored",),
    "branches_per_panel": ("branches-over-panel",),
    "device_kind": ("device-volts",),
}
PROJECT = ("code_basis", *(column.key for column in SHEETS["projects"].columns if column.key in SETTINGS - {"code_basis"}), "currency")
CARRIED = {  # what runs together stays so: left out, it would be taken to run alone
    "heaters": (*FIXED, "circuits_in_raceway", "panel_feeders_in_raceway", "notes"),
    "projects": (*PROJECT, "notes"),
    "tanks": ("notes",),
    "feeders": ("circuits_in_raceway", "ways_in_raceway", "notes"),
}
TYPED = {"unit_price": "price", "labour_h": "shop hours", "field_h": "field hours"}  # columns of Stock that are typed into results
SAID_ITSELF = frozenset((table, key) for table, keys in CARRIED.items() for key in keys if key != "notes")
LISTED = 6  # names written out in one finding

Progress = Callable[[str, int, int], None]


class CarriedValue(NamedTuple):
    """One value that was carried: of which bank of the new job, in which field, what."""

    number: int
    field: str
    value: object


class Carried(NamedTuple):
    """The new job with what was carried into it, the values carried into its banks, and the tool's own choices."""

    job: Job
    taken: tuple[CarriedValue, ...]
    previous: PreviousDecisions


def size_keeping(
    old: Revision, job: Job, renamed: Sequence[str] = (), progress: Progress | None = None
) -> tuple[Job, JobResult, PreviousDecisions]:
    """The new job sized with what the old revision had decided; what its inputs forbid is taken out again, and said.

    Raises:
        JobError: a confirmed rename that names what is not there.
    """
    carried = carry(old, job, renamed)
    result = size_job(carried.job, progress, carried.previous)
    refused = list(_refused(carried, result))
    if refused:
        carried = _without(carried, refused, old.job.name)
        result = size_job(carried.job, progress, carried.previous)
    return carried.job, result, carried.previous


def carry(old: Revision, job: Job, renamed: Sequence[str] = ()) -> Carried:
    """The new job with the estimator's values, notes and prices of the old one in its blank cells, and the old choices by key."""
    lines = lines_of(job)
    pairs = pair_all(old.lines, lines, confirmed(renamed, old.lines, lines))
    source, offers = old.job.name, offers_of(pairs)
    said = list(_no_revision(old.job, job, pairs))
    taken: list[CarriedValue] = []
    more: list[CarriedForward] = []
    records = {table: list(getattr(job, RECORDS[table])) for table in SHEETS}
    for pair in pairs:
        if pair.left is None or pair.left.number < 0:
            continue
        before = getattr(old.job, RECORDS[pair.left.table])[pair.left.number]
        if pair.right is None or pair.right.number < 0:
            said += _gone(pair.left, pair.right is not None, before, source, offers)
            continue
        record = records[pair.right.table][pair.right.number]
        for column, value, finding in _blanks(pair.right, before, record, source):
            said.append(finding)
            if value is not None:
                record = replace(record, **{column.key: value})
                line = pair.right if pair.right.key[-1] else replace(pair.right, label=pair.left.label)
                more.append(carried_forward(line, column.key, value, None, source))
                if pair.right.table == "heaters" and column.key in FIXED:
                    taken.append(CarriedValue(pair.right.number, column.key, value))
        records[pair.right.table][pair.right.number] = record
    stock, about_stock = _stock(old.job.stock, records["stock"], source)
    said += about_stock
    said += _typed_over_anew(old.job.carried_forward, records["stock"], source)
    more += _stock_carried_forward(stock, job.stock, source)
    typed, about_typed, of_typed = _typed_prices(old.job.typed_prices, job.typed_prices, source)
    said += about_typed
    more += of_typed
    new = replace(
        job,
        typed_prices=typed,
        projects=tuple(records["projects"]),
        feeders=tuple(records["feeders"]),
        tanks=tuple(records["tanks"]),
        banks=tuple(records["heaters"]),
        stock=tuple(stock),
    )
    said += typed_not_kept(old, new, pairs, SAID_ITSELF)
    new = replace(new, findings=(*job.findings, *said))
    return Carried(with_carried_forward(new, more), tuple(taken), choices_of(old, job, pairs))


def _no_revision(old: Job, job: Job, pairs: Sequence[Pair]) -> Iterator[Finding]:
    """That an earlier file names no revision of a project that is in both: nothing then tells which of the two is the later."""
    names = [job.projects[right.number].project for left, right in in_both(pairs, "projects")
             if left.number >= 0 and right.number >= 0 and not old.projects[left.number].revision]  # fmt: skip
    if names:
        yield find(remark("kept-no-revision", "", source=old.name, projects=few(names, LISTED)))


def _blanks(line: Entry, before, record, source: str) -> Iterator[tuple[Column, object, Finding]]:
    """Columns of one row that keep a value (or None: what is given here stands), each with its finding."""
    sheet = SHEETS[line.table]
    for key in CARRIED.get(line.table, ()):
        column = sheet[key]
        was, now = getattr(before, key), getattr(record, key)
        if was is None or same(column, was, now):
            continue
        if now is not None:
            if key != "notes":
                words = {"column": column.heading, "before": worded(column, was), "source": source, "given": worded(column, now)}
                yield column, None, _find(remark("kept-value-given", key, **words), line, record.origin)
            continue
        code = "kept-notes" if key == "notes" else "kept-value"
        fields = {"source": source} if key == "notes" else {"source": source, "column": column.heading, "value": worded(column, was)}
        yield column, was, _find(remark(code, key, **fields), line, record.origin)


def _find(said, line: Entry, origin: Origin) -> Finding:
    names = dict(zip(SHEETS[line.table].key, line.names, strict=True))
    who = {name: names[name] for name in ("project", "tank", "feeder") if names.get(name)}
    if line.label:
        who["bank"] = line.label
    return find(said, **who, sheet=origin.sheet, cell=origin.cell(said.about) if said.about else "")


def _gone(line: Entry, unread: bool, before, source: str, offers: Sequence[Offer]) -> Iterator[Finding]:
    """A bank with decisions that has no row in the new revision, or one that cannot be read."""
    if line.table != "heaters":
        return
    sheet = SHEETS["heaters"]
    decided = [f"{sheet[key].heading} {worded(sheet[key], value)}" for key in FIXED if (value := getattr(before, key)) is not None]
    decided += ["notes"] if before.notes else []
    if decided:
        what = f"bank {line.names[1]}/{line.label}"
        maybe = next((offer for offer in offers if any(line is one for one in offer.left)), None)
        what += f" (it may be {maybe.new} now)" if maybe else ""
        lacks = "has a row that cannot be read here" if unread else "has no row here"
        said = remark("kept-row-gone", "", what=what, source=source, lacks=lacks, decided=", ".join(decided))
        yield find(said, project=line.names[0], tank=line.names[1])


def _stock(before: Sequence[Part], now: list[Part], source: str) -> tuple[list[Part], list[Finding]]:
    """Prices and hours for parts that have none here; the whole list where there is none here."""
    if not before:
        return now, []
    if not now:
        kept = [replace(part, origin=NOWHERE) for part in price_list(before).first.values()]  # price breaks stay behind
        return kept, [find(remark("kept-stock", "", count=len(kept), source=source))]
    known = {(fold(part.part), part.from_quantity or 0.0): part for part in before}
    found, priced = [], []
    for part in now:
        was = known.pop((fold(part.part), part.from_quantity or 0.0), None)
        blank = {key: getattr(was, key) for key in ("unit_price", "labour_h", "field_h") if was and getattr(part, key) is None}
        blank = {key: value for key, value in blank.items() if value is not None}
        if blank:
            priced.append(part)
        found.append(replace(part, **blank))
    said = []
    if priced:
        names = _listed([part.part for part in priced])
        said.append(find(remark("kept-price", "unit_price", count=len(priced), source=source, parts=names), sheet=priced[0].origin.sheet))
    if known:
        names = _listed([part.part for part in known.values()])
        said.append(find(remark("kept-part-gone", "", count=len(known), source=source, parts=names), sheet=now[0].origin.sheet))
    return found, said


def _typed_over_anew(before: Sequence[CarriedForward], now: Sequence[Part], source: str) -> Iterator[Finding]:
    """Prices and hours that were typed into the earlier results, of parts of which the stock list here says another figure."""
    sheet = SHEETS["stock"]
    typed = {(fold(one.part), one.key): one.value for one in before if one.table == "stock" and one.key in TYPED and one.value is not None}
    names: dict[str, None] = {}
    for part in now:
        for key, heading in TYPED.items():
            was, given = typed.get((fold(part.part), key)), getattr(part, key)
            if was is not None and given is not None and not same(sheet[key], was, given):
                names[f"{part.part} ({heading} {worded(sheet[key], was)} there, {worded(sheet[key], given)} here)"] = None
    if names:
        fields = {"count": len(names), "source": source, "parts": _listed(list(names))}
        yield find(remark("kept-price-given", "unit_price", **fields), sheet=next(iter(now)).origin.sheet)


def _typed_prices(
    before: Sequence[TypedPrice], now: Sequence[TypedPrice], source: str
) -> tuple[tuple[TypedPrice, ...], list[Finding], list[CarriedForward]]:
    """Prices of lines that no part is, kept where these very words have none here."""
    sheet = SHEETS["typed_prices"]

    def key(one: TypedPrice) -> tuple[str, ...]:
        return line_of_own(sheet.id, [getattr(one, name) for name in sheet.key]).key

    known = {key(one) for one in now}
    kept = [replace(one, origin=NOWHERE) for one in before if key(one) not in known]
    more = [
        carried_forward(line_of_own(sheet.id, [getattr(one, name) for name in sheet.key]), column.key, value, None, source)
        for one in kept for column in sheet.columns
        if column.key not in sheet.key and (value := getattr(one, column.key)) not in (None, "")
    ]  # fmt: skip
    names = _listed([f"{one.role}, {one.words}" for one in kept])
    said = [find(remark("price-typed-kept", "", count=len(kept), source=source, lines=names))] if kept else []
    return (*now, *kept), said, more


def _stock_carried_forward(now: Sequence[Part], received: Sequence[Part], source: str) -> Iterator[CarriedForward]:
    """What was carried into the stock list: prices, or every cell of a list that is not here."""
    before = {(fold(part.part), part.from_quantity or 0.0): part for part in received}
    for part in now:
        line = Entry("stock", (fold(part.part),), (part.part,), {})
        own = before.get((fold(part.part), part.from_quantity or 0.0))
        for column in SHEETS["stock"].columns:
            value = getattr(part, column.key)
            if column.key != "part" and value not in (None, "") and (own is None or getattr(own, column.key) is None):
                yield carried_forward(line, column.key, value, None, source)


def _listed(names: Sequence[str]) -> str:
    return few(names, LISTED)


def choices_of(old: Revision, job: Job, pairs: Sequence[Pair], quiet: bool = False) -> PreviousDecisions:
    """What the tool had chosen in the old revision, by the keys of the new one."""
    projects = {left.key[0]: right.key[0] for left, right in in_both(pairs, "projects")}
    feeders = {one.old: one.name for one in same_feeders(old.job, job, pairs)}
    banks: dict[int, PreviousBank] = {}
    labels: dict[Address, str] = {}
    for left, right in in_both(pairs, "heaters"):
        if left.address not in old.banks or right.number < 0:
            continue
        row = old.banks[left.address][1]
        if not right.key[2]:
            labels[right.address] = row.label
        feeder = feeders.get((fold(row.bank.project), fold(row.feeder.feeder)), row.feeder.feeder)
        banks[right.number] = PreviousBank(
            feeder, row.starts, row.design.connected.across, tuple(panel.design.heaters for panel in row.panels)
        )
    types: dict[str, Mapping[tuple, str]] = {}
    names: dict[str, frozenset[str]] = {}
    hung: dict[FeederKey, PreviousFeeder] = {}
    tanks = {left.first_two: right.first_two[1] for table in ("tanks", "heaters") for left, right in in_both(pairs, table)}
    for one in old.result.projects:
        for fed in one.feeders:
            place = fold(fed.feeder.project), fold(fed.feeder.feeder)
            now = projects.get(place[0], place[0]), fold(feeders.get(place, fed.feeder.feeder))
            ways, last = (fed.end.ways, fed.end.last_way) if fed.end is not None else ((), 0)
            by_tank = {tanks.get((place[0], fold(way.tank)), fold(way.tank)): way.number for way in ways}
            hung[now] = PreviousFeeder(fed.source, fed.source_pair, by_tank, last)
    for one in old.result.projects:
        name = projects.get(fold(one.project.project), fold(one.project.project))
        types[name] = {type_key(kind.design, bool(kind.hold)): kind.type for kind in one.types}
        names[name] = frozenset(types[name].values())
    return PreviousDecisions(old.job.name, labels, _by_name(banks, pairs, labels), types, {}, names, quiet, hung)


def _by_name(banks: Mapping[int, PreviousBank], pairs: Sequence[Pair], labels: Mapping[Address, str]) -> dict[BankKey, PreviousBank]:
    """What was chosen for banks, of which each is known by its place in the new job."""
    rows = [line for pair in pairs if pair.either.table == "heaters" and (line := pair.right) is not None and line.number >= 0]
    rows.sort(key=lambda line: line.number)
    keys = by_turns(bank_key(line.names[0], line.names[1], labels.get(line.address, line.label)) for line in rows)
    return {key: banks[line.number] for key, line in zip(keys, rows, strict=True) if line.number in banks}


def _refused(carried: Carried, result: JobResult) -> Iterator[tuple[CarriedValue, str]]:
    """Carried values that a finding of sizing speaks against, with what it says."""
    said: dict[tuple[str, str], dict[str, str]] = {}
    for finding in result.findings:
        digits = finding.cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
        said.setdefault((finding.sheet, digits), {}).setdefault(finding.code, finding.message)
    for taken in carried.taken:
        origin = carried.job.banks[taken.number].origin
        against = said.get((origin.sheet, str(origin.row)), {})
        reason = next((against[code] for code in FIXED[taken.field] if code in against), "")
        if reason:
            yield taken, reason


def names_of_bank(carried: Carried, taken: CarriedValue) -> tuple[str, str, str]:
    """Project, tank and label of the bank that got a value."""
    bank = carried.job.banks[taken.number]
    found = next(line for line in lines_of(carried.job, carried.previous.labels)["heaters"] if line.number == taken.number)
    return bank.project, bank.tank, found.label


def _without(carried: Carried, refused: Sequence[tuple[CarriedValue, str]], source: str) -> Carried:
    """Those values taken out again; each finding that said "kept" now says "not kept" and why."""
    banks: list[Bank] = list(carried.job.banks)
    findings = list(carried.job.findings)
    for taken, reason in refused:
        bank = banks[taken.number]
        banks[taken.number] = with_values(bank, {taken.field: None})
        column = SHEETS["heaters"][taken.field]
        why = reason[:1].lower() + reason[1:].rstrip(".")
        said = remark("kept-value-not", taken.field, column=column.heading, value=worded(column, taken.value), source=source, why=why)
        at = next(
            at for at, finding in enumerate(findings)
            if finding.code == "kept-value" and finding.sheet == bank.origin.sheet
            and finding.cell == bank.origin.cell(taken.field) and finding.message.startswith(f"{column.heading} ")
        )  # fmt: skip
        old = findings[at]
        findings[at] = find(
            said, project=old.project, tank=old.tank, bank=old.bank, feeder=old.feeder, sheet=old.sheet, cell=old.cell, seen=old.seen
        )
    left = {taken for taken, _ in refused}
    out = {(*names_of_bank(carried, taken), taken.field) for taken in left}
    before = carried.job.carried_forward
    still = tuple(one for one in before if (one.project, one.tank, one.bank, one.key) not in out or one.table != "heaters")
    job = replace(carried.job, banks=tuple(banks), findings=tuple(findings), carried_forward=still)
    return carried._replace(job=job, taken=tuple(taken for taken in carried.taken if taken not in left))
