"""Which change moves which result: by hand where the answer is plain, and against sizing each change alone, one by one."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from batch.comparing.causes import with_causes
from batch.comparing.changeset import Change, Comparison
from batch.comparing.compare import compare_revisions
from batch.comparing.input_changes import same
from batch.comparing.outcomes import twins_of
from batch.comparing.revision import Revision
from batch.comparing.sentences import sentences
from batch.records import Job
from batch.reopening.carry import size_keeping
from tests.revision_jobs import bank, job, revision


def compared(one: Job, other: Job) -> Comparison:
    old, new = revision(one), revision(other)
    return with_causes(compare_revisions(old, new), old, new)


def moved_by(found: Comparison, table: str, column: str, who: str = "") -> tuple[list[str], bool]:
    [change] = [one for one in found.of("result") if (one.table, one.column.key) == (table, column) and who in one.names.words(False)]
    return [cause.words for cause in change.causes], all(cause.alone for cause in change.causes)


def test_a_single_change_is_named_for_everything_that_it_moves() -> None:
    found = compared(job(heaters=[bank("T-1", "A"), bank("T-2", "A")]), job(heaters=[bank("T-1", "A", power_kw=9.0), bank("T-2", "A")]))
    assert found.of("result")
    for change in found.of("result"):
        assert [(cause.words, cause.alone) for cause in change.causes] == [("T-1/A: Power 6 → 9 kW", True)], change


def test_two_changes_of_one_row_are_told_apart() -> None:
    """One heater more moves the count, other volts move the current of each, and only both together give the current of the bank."""
    found = compared(job(heaters=[bank("T-1", "A")]), job(heaters=[bank("T-1", "A", quantity=7, volts_v=460.0)]))
    assert moved_by(found, "banks", "branches") == (["T-1/A: Quantity 6 → 7"], True)
    assert moved_by(found, "banks", "heater_a") == (["T-1/A: Volts 480 → 460 V"], True)
    assert moved_by(found, "banks", "line_a") == (["T-1/A: Quantity 6 → 7 with Volts 480 → 460 V"], True)


def test_changes_of_two_rows_move_their_feeder_together() -> None:
    before = job(heaters=[bank("T-1", "A"), bank("T-2", "A")])
    after = job(heaters=[bank("T-1", "A", quantity=9), bank("T-2", "A", quantity=9)])
    words, alone = moved_by(compared(before, after), "feeder_totals", "connected_kw")
    assert (words, alone) == (["T-1/A: Quantity 6 → 9", "T-2/A: Quantity 6 → 9"], False)


@pytest.mark.parametrize(("rows", "more"), [(3, []), (4, ["and 1 more"])])
def test_three_causes_are_named_and_the_rest_counted(rows: int, more: list[str]) -> None:
    tags = [f"T-{at}" for at in range(1, rows + 1)]
    before, after = (job(heaters=[bank(tag, "A", quantity=count) for tag in tags]) for count in (6, 9))
    words, _ = moved_by(compared(before, after), "feeder_totals", "connected_kw")
    assert words == [*(f"{tag}/A: Quantity 6 → 9" for tag in tags[:3]), *more]


def test_rows_that_come_go_and_move() -> None:
    feeders = [{"feeder": "F-1"}, {"feeder": "F-2"}]
    before = job(feeders=feeders, heaters=[bank("T-1", "A"), bank("T-2", "A", feeder="F-2"), bank("T-3", "A", feeder="F-2")])
    after = job(feeders=feeders, heaters=[bank("T-1", "A"), bank("T-4", "A"), bank("T-3", "A", feeder="F-2")])
    found = compared(before, after)
    assert moved_by(found, "feeder_totals", "heaters", "F-1") == (["T-4/A added"], True)
    assert moved_by(found, "feeder_totals", "heaters", "F-2") == (["T-2/A removed"], True)
    moved = compared(before, job(feeders=feeders, heaters=[bank("T-1", "A", feeder="F-2"), *(
        bank(f"T-{at}", "A", feeder="F-2") for at in (2, 3))]))  # fmt: skip
    for feeder in ("F-1", "F-2"):
        assert moved_by(moved, "feeder_totals", "heaters", feeder) == (["T-1/A: Feeder F-1 → F-2"], True)


def test_a_new_feeder_takes_a_bank_with_it() -> None:
    before = job(heaters=[bank("T-1", "A"), bank("T-2", "A")])
    after = job(feeders=[{"feeder": "F-1"}, {"feeder": "F-2", "run_m": 50.0}], heaters=[bank("T-1", "A"), bank("T-2", "A", feeder="F-2")])
    found = compared(before, after)
    assert moved_by(found, "feeder_totals", "heaters", "F-1") == (["T-2/A: Feeder F-1 → F-2"], True)


CONTACTOR = {"part": "C-1", "kind": "contactor", "rating_a": 200.0, "volts_v": 600.0, "poles": 3}


@pytest.mark.parametrize(
    ("before", "after", "cause"),
    [
        ({"projects": [{}]}, {"projects": [{"margin_pct": 40.0}]}, "Continuous-load margin its default (25 %) → 40 %"),
        ({"feeders": [{"feeder": "F-1"}]}, {"feeders": [{"feeder": "F-1", "run_m": 200.0}]}, "F-1: Length 10 → 200 m"),
        ({"tanks": [{"tank": "T-1"}]}, {"tanks": [{"tank": "T-1", "level_cutoff": "no"}]}, "T-1: Low-level cutoff yes → no"),
        ({"stock": []}, {"stock": [CONTACTOR]}, "the stock list"),
    ],
)
def test_settings_feeders_tanks_and_stock_are_causes_too(before: dict, after: dict, cause: str) -> None:
    heaters = [bank("T-1", "A", quantity=8)]
    found = compared(job(heaters=heaters, **before), job(heaters=heaters, **after))
    causes = {one.words for change in found.of("result") for one in change.causes}
    assert causes == {cause}


def test_the_default_of_a_setting_is_named_not_a_bare_blank() -> None:
    found = compared(job(heaters=[bank("T-1", "A")]), job(heaters=[bank("T-1", "A")], projects=[{"margin_pct": 40.0}]))
    [change] = found.of("basis")
    assert (change.before, change.after) == ("25 %", 40.0)


def test_us_units_in_the_words() -> None:
    old = revision(job(heaters=[bank("T-1", "A")]))
    new = revision(job(heaters=[bank("T-1", "A", heater_run_m=7.62)]))
    found = with_causes(compare_revisions(old, new), old, new, us=True)
    assert {cause.words for change in found.of("result") for cause in change.causes} == {"T-1/A: Panel-to-heater length 16.4042 → 25 ft"}


def test_where_nothing_was_kept_the_new_choices_are_the_cause() -> None:
    """The old revision kept phases of one before it; the new one deals all of them anew, and no input was touched."""
    first = revision(job(heaters=[bank(f"T-{at}", "A", quantity=1) for at in range(6)]))
    made, result, kept = size_keeping(first, job(name="b.xlsx", heaters=[bank(f"T-{at}", "A", quantity=1) for at in (2, 3, 4)]))
    second = Revision(made, result, "heaterbatch test", {**kept.labels}, kept)
    third = revision(replace(made, name="c.xlsx"))
    found = with_causes(compare_revisions(second, third), second, third)
    phases = [change for change in found.of("result") if change.column.key == "phases_on"]
    assert phases
    for change in phases:
        assert [cause.words for cause in change.causes] == ["phases and splits chosen anew, since none was kept"]


_changes = st.fixed_dictionaries(
    {},
    optional={
        "quantity": st.sampled_from([2, 6, 9]),
        "power_kw": st.sampled_from([3.0, 6.0, 12.0]),
        "volts_v": st.sampled_from([460.0, 480.0]),
        "heater_run_m": st.sampled_from([5.0, 60.0]),
        "feeder": st.sampled_from(["F-1", "F-2"]),
    },
)


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(_changes, min_size=3, max_size=3), st.sampled_from([None, 40.0]))
def test_what_is_said_to_move_a_result_alone_does_so_one_by_one(changes: list[dict], margin: float | None) -> None:
    """Trials are packed many into one sizing; here each named change is made alone, in a sizing of its own."""
    feeders = [{"feeder": "F-1"}, {"feeder": "F-2"}]
    before = job(feeders=feeders, heaters=[bank(f"T-{at}", "A") for at in range(3)])
    heaters = [bank(f"T-{at}", "A", **change) for at, change in enumerate(changes)]
    after = job(feeders=feeders, heaters=heaters, projects=[{"margin_pct": margin}])
    found = compared(before, after)
    made: dict[str, tuple] = {}
    for change in found.of("result"):
        for cause in change.causes:
            if not cause.words.startswith("and "):
                value = _alone(before, after, cause.words, change, made)
                assert same(change.column, value, change.after) == cause.alone or not cause.alone, (change, cause)
                assert not same(change.column, value, change.before), (change, cause)


def _alone(before: Job, after: Job, words: str, change: Change, made: dict[str, tuple]) -> object:
    """The figure when only the named change is made; `made` remembers the sizings."""
    if words not in made:
        made[words] = _twins(before, after, words)
    own = [twin for twin in made[words] if (twin.table, twin.names.words(False)) == (change.table, change.names.words(False))]
    return own[0].after[change.column.key] if own[0].after else change.before


def _twins(before: Job, after: Job, words: str) -> tuple:
    where, colon, steps = words.partition(": ")
    names = [step.split(" → ")[0].rsplit(" ", 1)[0] for step in steps.split(" with ")] if colon else []
    keys = {"Quantity": "quantity", "Power": "power_kw", "Volts": "volts_v", "Panel-to-heater length": "heater_run_m", "Feeder": "feeder"}
    banks = list(before.banks)
    made = before
    if colon:
        at = next(at for at, one in enumerate(banks) if f"{one.tank}/A" == where)
        banks[at] = replace(banks[at], **{keys[name]: getattr(after.banks[at], keys[name]) for name in names})
        made = replace(before, banks=tuple(banks))
    else:
        made = replace(before, projects=after.projects)
    old, new = revision(before), revision(made)
    return tuple(twins_of(old, new, compare_revisions(old, new).pairs))


def test_another_program_is_said_first_and_both_are_sized_alike() -> None:
    side = revision(job(heaters=[bank("T-1", "A")]))
    found = compare_revisions(replace(side, program="heaterbatch 0.0.9"), side)
    [change] = found.changes
    assert (change.sort, change.column.heading) == ("basis", "Program")
    assert (change.before, change.after) == ("heaterbatch 0.0.9", "heaterbatch test")
    first, _, second = sentences(found)[0].words.partition(". ")
    assert first == "Program went from heaterbatch 0.0.9 to heaterbatch test: that moves figures in rows that nobody touched"
    assert second == "Both revisions are sized by the present program here, so that they compare like with like."
