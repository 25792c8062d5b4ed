"""Two revisions reconciled: rows, inputs, results, totals, orders and findings. Pure: nothing is read, written or worded here."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from batch.comparing.changeset import BeforeAfter, Change, ChangeNames, Comparison, Default, Said, Twin, amount
from batch.comparing.input_changes import basis_changes, column_changes, input_changes
from batch.comparing.lines import SHEETS, fold, rows_with_data
from batch.comparing.money_moves import WHOLE, money_moves, price_steps
from batch.comparing.offers import offers_of
from batch.comparing.outcomes import result_changes, twins_of
from batch.comparing.pairing import Pair, Renamed, in_both, pair_all
from batch.comparing.revision import Revision
from batch.comparing.same_feeders import same_feeders
from batch.comparing.shop_rules import by_rules_before
from batch.comparing.totals import figures, orders, part_names, project_figures, project_names
from batch.findings import Finding, Severity
from batch.price.price_basis import rebased
from batch.records import Part
from batch.results import Check
from batch.sizing.settings import SETTING_WORDS

CLOSE = 1e-6


def compare_revisions(old: Revision, new: Revision, renamed: Sequence[Renamed] = ()) -> Comparison:
    """Everything that differs between two revisions; what caused what is found by `batch.comparing.causes`.

    renamed  renames that the user confirms: see `batch.comparing.pairing.confirmed`
    """
    pairs = pair_all(old.lines, new.lines, renamed)
    inputs = [_with_defaults(change, old, new, pairs) for change in input_changes(old, new, pairs)]
    basis = list(basis_changes(old, new, pairs, inputs))
    twins = tuple(twins_of(old, new, pairs))
    same, parts = project_names(pairs), part_names(pairs)
    currencies = {one.project.project: one.project.currency or "" for side in (old, new) for one in side.result.projects}
    [currency] = set(currencies.values()) if len(set(currencies.values())) == 1 else [""]
    moves = money_moves(old.result, new.result, same, parts)
    several = len(old.result.projects) > 1 or len(new.result.projects) > 1
    compared = Comparison(
        old.side,
        new.side,
        tuple(pairs),
        (*basis, *inputs, *result_changes(twins)),
        tuple(column_changes(old.job, new.job)),
        offers_of(pairs),
        twins,
        (*figures(old.result, new.result, currency), *(project_figures(old.result, new.result, same) if several else ())),
        orders(old.result, new.result, same, parts),
        tuple(_findings(old, new, pairs)),
        currencies=currencies,
        rebased=tuple(rebased(_parts(old, new, pairs))),
        moves=moves,
        steps=price_steps(old.result, new.result, same, parts, by_rules_before(old, new, same)),
    )
    return _checked(compared, old, new)


def _parts(old: Revision, new: Revision, pairs: Sequence[Pair]) -> Iterator[tuple[Part, Part]]:
    """Rows of the stock list that stand in both."""
    for left, right in in_both(pairs, "stock"):
        if left.number >= 0 and right.number >= 0:
            yield old.job.stock[left.number], new.job.stock[right.number]


def _with_defaults(change: Change, old: Revision, new: Revision, pairs: Sequence[Pair]) -> Change:
    """A setting that is blank on one side says there what was used; given or blank alike, it moves nothing and is an input like others."""
    if change.sort != "basis":
        return change
    lines = zip((old, new), pairs[change.pair], strict=True)
    used = [_used(side, line.names[0], change.column.key) if line is not None else "" for side, line in lines]
    if used[0] and used[0] == used[1]:
        return change._replace(sort="input")
    before = Default(used[0]) if change.before is None and used[0] else change.before
    after = Default(used[1]) if change.after is None and used[1] else change.after
    return change._replace(before=before, after=after)


def _used(side: Revision, project: str, key: str) -> str:
    """A setting as it was used, in words; "" where the project was not sized."""
    found = next((one for one in side.result.projects if one.project.project == project), None)
    if found is None:
        return ""
    if key == "code_basis":
        return found.rule_set
    return next((one.value for one in found.settings if one.name == SETTING_WORDS[key][0]), "no use")


def _findings(old: Revision, new: Revision, pairs: Sequence[Pair]) -> Iterator[Said]:
    """Holds and cautions row by row, notes by kind and project; what both revisions say alike is left out."""
    banks = _banks_by_name(pairs)
    feeders = {one.old: one.name for one in same_feeders(old.job, new.job, pairs)}
    sides = [Counter[tuple](), Counter[tuple]()]
    first: dict[tuple, tuple[Finding, ChangeNames]] = {}
    for at, side in enumerate((old, new)):
        for finding in side.result.findings:
            feeder = finding.feeder if at else feeders.get((fold(finding.project), fold(finding.feeder)), finding.feeder)
            names, pair = ChangeNames(finding.project, finding.tank, finding.bank, feeder), ""
            if (line := banks[at].get(tuple(map(fold, names[:3])))) is not None:  # one bank, whatever it is called and hangs on by now
                pair, names = line[0], line[1]
            if finding.severity is Severity.NOTE:
                names, pair = ChangeNames(names.project), ""
            key = finding.severity, finding.code, (*map(fold, names), pair)
            sides[at][key] += 1
            first[key] = finding, names
    for key in sorted(first):
        before, after = sides[0][key], sides[1][key]
        if before != after:
            finding, names = first[key]
            yield Said(key[0].word, key[1], names, finding.message, finding.kind.advice, before, after)


def _banks_by_name(pairs: Sequence[Pair]) -> tuple[dict[tuple[str, ...], tuple[str, ChangeNames]], ...]:
    """Of each side the banks of both revisions by their names there: which pair it is, and what it is called last. A name twice is none."""
    both = [(at, pair.left, pair.right) for at, pair in enumerate(pairs) if pair.left is not None and pair.right is not None]
    lines = [(at, sides) for at, *sides in both if sides[0].table == "heaters"]
    named = [[(*side.key[:2], fold(side.label)) for side in sides] for _, sides in lines]
    times = [Counter(names[at] for names in named) for at in (0, 1)]
    found: tuple[dict, dict] = {}, {}
    for (at, (_, right)), names in zip(lines, named, strict=True):
        if times[0][names[0]] == times[1][names[1]] == 1:
            called = f"{at}", ChangeNames(right.names[0], right.names[1], right.label)
            found[0][names[0]] = found[1][names[1]] = called
    return found


def _checked(compared: Comparison, old: Revision, new: Revision) -> Comparison:
    return replace(compared, checks=(*_row_checks(compared, old, new), *_total_checks(compared), *_money_checks(compared, old, new)))


def _money_checks(compared: Comparison, old: Revision, new: Revision) -> Iterator[Check]:
    """The causes of money against its difference, of each project; the steps of a price likewise."""
    same = project_names(compared.pairs)
    lines, prices = [], []
    for side in (old.result, new.result):
        lines.append({fold(one.project.project): sum(line.price or 0.0 for line in one.materials) for one in side.projects})
        own: dict[str, float] = {}
        for atom in side.money.atoms:
            own[fold(atom.rates.project)] = own.get(fold(atom.rates.project), 0.0) + (atom.cost.price or 0.0)
        prices.append(own)
    before, was = ({same.get(name, name): amount for name, amount in side.items()} for side in (lines[0], prices[0]))
    for name in dict.fromkeys([*lines[1], *before]):
        moved = [move.moved for move in compared.moves if fold(move.project) == fold(_now(name, compared))]
        if moved:
            left, right = before.get(name, 0.0), lines[1].get(name, 0.0)
            words = "Money by cause, all causes = difference of the priced parts"
            yield Check(_now(name, compared), words, sum(moved), right - left, CLOSE * max(1.0, left, right))
    for name in dict.fromkeys(fold(step.project) for step in compared.steps if step.project != WHOLE):
        own_steps = [step for step in compared.steps if fold(step.project) == name]
        difference = prices[1][name] - was[name]
        tolerance = CLOSE * max(1.0, prices[1][name], was[name])
        moved_by = sum(step.moved for step in own_steps)
        yield Check(own_steps[0].project, "Price by cause, all steps = difference of the price", moved_by, difference, tolerance)


def _now(name: str, compared: Comparison) -> str:
    """A project by its folded name, as the moves write it."""
    return next((move.project for move in compared.moves if fold(move.project) == name), name)


def _row_checks(compared: Comparison, old: Revision, new: Revision) -> Iterator[Check]:
    """Rows on each side against the pairs they went into."""
    for table, sheet in SHEETS.items():
        pairs = [pair for pair in compared.pairs if pair.either.table == table]
        both = sum(1 for pair in pairs if None not in pair)
        sides = (("before", old, "removed"), ("after", new, "added"))
        for place, (when, side, other) in enumerate(sides):
            received = sum(len(rows_with_data(one)) for one in side.job.received if one.kind == table)
            records = getattr(side.job, "banks" if table == "heaters" else table)
            own_sheets = {one.sheet for one in side.job.received if one.kind == table}  # a heater list may describe its tanks
            received += sum(not record.origin.row or record.origin.sheet not in own_sheets for record in records)
            alone = sum(1 for pair in pairs if pair[place] is not None and pair[1 - place] is None)
            if received or both or alone:
                yield Check("", f"{sheet.name} rows {when} = paired + {other}", received, both + alone, 0.0)
                once = {id(pair[place]) for pair in pairs if pair[place] is not None}
                yield Check("", f"{sheet.name} rows {when}, each in one pair", received, len(once), 0.0)


def _total_checks(compared: Comparison) -> Iterator[Check]:
    """Totals against the rows behind them."""
    whole = {figure.key: figure for figure in compared.figures if not figure.project}
    banks = [twin for twin in compared.twins if twin.table == "banks"]
    for key, column in (("heaters", "quantity"), ("connected_kw", "connected_kw"), ("branches", "branches"), ("panels", "panels")):
        yield _moves(whole[key], _moved(banks, column))
    feeders = [twin for twin in compared.twins if twin.table == "feeder_totals"]
    yield _moves(whole["connected_kw"], _moved(feeders, "connected_kw"), "those of feeders")
    types = [order for order in compared.orders if order.table == "panel_types"]
    yield _moves(whole["panels"], sum(order.difference for order in types), "those of panel types")
    if "price" in whole and whole["price"].difference is not None:
        parts = [order for order in compared.orders if order.table == "materials"]
        money = sum(order.known_after - order.known_before for order in parts)
        yield _moves(whole["price"], money, "those of materials")


def _moved(twins: Sequence[Twin], column: str) -> float:
    return sum(amount(twin.after, column) - amount(twin.before, column) for twin in twins)


def _moves(figure: BeforeAfter, moved: float, of: str = "those of banks") -> Check:
    words = f"Difference of {figure.heading.lower()} = {of}"
    before, after = figure.before or 0.0, figure.after or 0.0
    return Check("", words, after - before, moved, CLOSE * max(1.0, abs(before), abs(after)))
