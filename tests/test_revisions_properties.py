"""What holds of any two revisions, and of any three: nothing differs from itself, the other way round is the mirror, steps add up."""

from __future__ import annotations

from collections import Counter

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from batch.comparing.changeset import ChangeNames, Comparison, Default
from batch.comparing.compare import compare_revisions
from batch.comparing.history import compare_all
from batch.comparing.lines import SHEETS, Entry
from batch.comparing.revision import Revision
from batch.records import Job
from tests.revision_jobs import jobs, revision

quick = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])


def content(line: Entry) -> tuple:
    return line.table, line.key, tuple(sorted((key, repr(value)) for key, value in line.content.items()))


def contents(side: Revision) -> Counter:
    return Counter(content(line) for table in side.lines.values() for line in table)


def patched(old: Revision, compared: Comparison) -> Counter:
    """The old rows with every change of the comparison made to them: an independent way to the new rows."""
    found: Counter = Counter()
    for at, pair in enumerate(compared.pairs):
        if pair.right is None:
            continue
        if pair.left is None:
            found[content(pair.right)] += 1
            continue
        values = dict(pair.left.values)
        for change in compared.of("basis", "input"):
            if change.pair == at and change.column.key in SHEETS[pair.left.table].by_key:
                values.pop(change.column.key, None)
                if change.after is not None and not isinstance(change.after, Default):
                    values[change.column.key] = change.after
        found[content(replace(pair.left, values=values, key=pair.right.key))] += 1
    return found


def reordered(draw: st.DataObject, made: Job) -> Job:
    """The same job with its heater rows in another order; received rows follow."""
    banks = draw.draw(st.permutations(made.banks))
    return replace(made, banks=tuple(banks))


@quick
@given(jobs())
def test_a_revision_against_itself_is_empty(made: Job) -> None:
    side = revision(made)
    history = compare_all([side, side])
    assert history.whole.empty
    assert all(check.passes for check in history.whole.checks)
    assert history.text == ("Nothing differs between job.xlsx and job.xlsx.",)


@quick
@given(jobs(), jobs())
def test_every_row_of_both_sides_is_in_one_pair_and_the_changes_make_the_new_rows_of_the_old(one: Job, other: Job) -> None:
    old, new = revision(one), revision(other)
    compared = compare_revisions(old, new)
    assert all(check.passes for check in compared.checks), [check for check in compared.checks if not check.passes]
    for place, side in ((0, old), (1, new)):
        lines = [line for table in side.lines.values() for line in table]
        paired = [pair[place] for pair in compared.pairs if pair[place] is not None]
        assert Counter(map(id, paired)) == Counter(map(id, lines))
    assert patched(old, compared) == contents(new)


@quick
@given(jobs(), jobs())
def test_the_other_way_round_is_the_mirror(one: Job, other: Job) -> None:
    old, new = revision(one), revision(other)
    there, back = compare_revisions(old, new), compare_revisions(new, old)
    assert Counter(map(_pair, there.pairs)) == Counter(_pair(pair)[::-1] for pair in back.pairs)
    assert Counter(map(_change, there.changes)) == Counter(_change(swapped(change)) for change in back.changes)
    assert set(there.columns) == {swapped(column) for column in back.columns}
    assert Counter(map(_offer, there.offers)) == Counter((what, new, old) for what, old, new in map(_offer, back.offers))
    assert [figure.difference for figure in there.figures] == [None if f.difference is None else -f.difference for f in back.figures]
    assert Counter(map(_order, there.orders)) == Counter(_order(_order_back(order)) for order in back.orders)
    assert Counter((s.severity, s.code, s.before, s.after) for s in there.findings) == Counter(
        (s.severity, s.code, s.after, s.before) for s in back.findings
    )


def swapped(change):
    """A change as the comparison the other way round has it."""
    return change._replace(before=change.after, after=change.before)


def _order_back(order):
    names = {"name": order.was_named, "was_named": order.name} if order.was_named else {}
    prices = {"price_before": order.price_after, "price_after": order.price_before}
    return swapped(order)._replace(known_before=order.known_after, known_after=order.known_before, **prices, **names)


def _pair(pair) -> tuple:
    return tuple(None if line is None else (line.table, line.address) for line in pair)


def _change(change) -> tuple:
    return change.sort, change.table, change.column.key, repr(change.before), repr(change.after), change.whole_column


def _offer(offer) -> tuple:
    return offer.what, offer.old, offer.new


def _order(order) -> tuple:
    prices = order.price_before, order.price_after, order.known_before, order.known_after
    return order.table, order.words, order.before, order.after, *prices


@quick
@given(jobs(), jobs(), jobs())
def test_steps_add_up_to_the_whole(one: Job, two: Job, three: Job) -> None:
    sides = [revision(made) for made in (one, two, three)]
    history = compare_all(sides)
    first, second = history.steps
    assert all(check.passes for check in history.whole.checks), [check for check in history.whole.checks if not check.passes]
    # rows: what the first step makes of the old rows, the second step makes into the new ones, as the whole does
    assert patched(sides[0], first) == contents(sides[1])
    assert patched(sides[1], second) == contents(sides[2]) == patched(sides[0], history.whole)
    # orders: quantities and money of the steps add up, thing by thing
    for at in ("difference", "money"):
        steps: dict[tuple, float] = {}
        for compared in (first, second):
            for order in compared.orders:
                amount = getattr(order, at)
                steps[order.table, order.words] = steps.get((order.table, order.words), 0.0) + (0.0 if amount is None else amount)
        whole: dict[tuple, float] = {}
        for order in history.whole.orders:
            amount = getattr(order, at)
            whole[order.table, order.words] = whole.get((order.table, order.words), 0.0) + (0.0 if amount is None else amount)
        if at == "difference" or all(order.money is not None for c in (first, second, history.whole) for order in c.orders):
            for thing in {*steps, *whole}:
                assert abs(steps.get(thing, 0.0) - whole.get(thing, 0.0)) < 1e-6, thing


@quick
@given(jobs(), st.data())
def test_the_order_of_rows_is_no_change(made: Job, draw: st.DataObject) -> None:
    """Rows of one key, or without a label, pair by what stands in them; only banks without labels may be numbered otherwise."""
    compared = compare_revisions(revision(made), revision(reordered(draw, made)))
    assert not any(pair.left is None or pair.right is None for pair in compared.pairs)
    assert not compared.of("basis", "input")
    assert not compared.offers


@quick
@given(jobs(), jobs())
def test_each_changed_row_is_counted_once_as_changed(one: Job, other: Job) -> None:
    compared = compare_revisions(revision(one), revision(other))
    fates = Counter(compared.fate(at) for at in range(len(compared.pairs)))
    assert sum(fates.values()) == len(compared.pairs)
    assert fates["changed"] == len({change.pair for change in compared.of("basis", "input")})
    for change in compared.changes:
        assert change.before != change.after
        assert isinstance(change.names, ChangeNames)
