"""Which row is which: against pandas' merge as an independent way, and by hand where keys repeat, are blank, or went astray."""

from __future__ import annotations

from pathlib import Path

import pandas
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from batch.comparing.compare import compare_revisions
from batch.comparing.history import compare_all
from batch.comparing.lines import lines_of
from batch.comparing.offers import offers_of
from batch.comparing.pairing import Pair, confirmed, pair_all
from batch.comparing.revision import Revision
from batch.comparing.sentences import screen_text, sentences
from batch.errors import JobError
from batch.received_rows import ReceivedRow
from batch.records import Job
from tests.intake_book import read_sheets
from tests.revision_jobs import bank, job, jobs, revision


def pairs_of(one: Job, other: Job, renamed: tuple[str, ...] = ()) -> list[Pair]:
    left, right = lines_of(one), lines_of(other)
    return pair_all(left, right, confirmed(renamed, left, right))


def heaters(pairs: list[Pair]) -> list[tuple[int | None, int | None]]:
    """Row numbers of the heater list: (before, after)."""
    own = [pair for pair in pairs if pair.either.table == "heaters"]
    return [(pair.left.row if pair.left else None, pair.right.row if pair.right else None) for pair in own]


# --- against pandas

COLUMNS = ["tank", "bank", "row"]


_keys = st.tuples(st.sampled_from(["T-1", "T-2", "T-10", "t-3"]), st.sampled_from(["A", "B", "C"]))


@settings(max_examples=60, deadline=None)
@given(st.lists(_keys, unique=True, min_size=1), st.lists(_keys, unique=True, min_size=1))
def test_unique_keys_pair_as_an_outer_merge_of_pandas_does(left: list[tuple[str, str]], right: list[tuple[str, str]]) -> None:
    one, other = (job(heaters=[bank(tank, label) for tank, label in keys]) for keys in (left, right))
    frames = [
        pandas.DataFrame([(tank.casefold(), bank.casefold(), row) for row, (tank, bank) in enumerate(keys, 2)], columns=COLUMNS)
        for keys in (left, right)
    ]
    merged = frames[0].merge(frames[1], on=["tank", "bank"], how="outer", suffixes=("_before", "_after"), indicator=True)
    ours = pairs_of(one, other)
    wanted = {(None if pandas.isna(before) else int(before), None if pandas.isna(after) else int(after))
              for before, after in zip(merged["row_before"], merged["row_after"], strict=True)}  # fmt: skip
    assert set(heaters(ours)) == wanted
    counts = merged["_merge"].value_counts()
    own = [pair for pair in ours if pair.either.table == "heaters"]
    assert sum(pair.right is None for pair in own) == counts["left_only"]
    assert sum(pair.left is None for pair in own) == counts["right_only"]
    assert sum(None not in pair for pair in own) == counts["both"]


@settings(max_examples=40, deadline=None)
@given(jobs(), jobs())
def test_repeated_and_blank_keys_pair_as_many_as_counting_by_pandas_allows(one: Job, other: Job) -> None:
    """Of m rows of a key before and n after, min(m, n) pair: no merge can do more, and a plain one would make m x n."""
    frames = [
        pandas.DataFrame([(line.key[0], line.key[1], line.key[2]) for line in lines_of(side)["heaters"]], columns=["p", "t", "b"])
        for side in (one, other)
    ]
    counts = [frame.groupby(["p", "t", "b"]).size() for frame in frames]
    both = pandas.concat(counts, axis=1, keys=["before", "after"]).fillna(0).min(axis=1).sum()
    own = [pair for pair in pairs_of(one, other) if pair.either.table == "heaters"]
    by_key = [pair for pair in own if None not in pair and pair.left.key == pair.right.key]
    assert len(by_key) == both


# --- by hand


def test_case_and_outer_space_of_tags_make_no_other_row() -> None:
    assert heaters(pairs_of(job(heaters=[bank("T-1", "A")]), job(heaters=[bank(" t-1 ", "a")]))) == [(2, 2)]


def test_a_row_put_in_front_does_not_shift_the_banks_without_labels() -> None:
    """Numbered 1 and 2 before, 2 and 3 after: by number each would be taken for its neighbour."""
    before = job(heaters=[bank("T-1", quantity=6), bank("T-1", quantity=3)])
    after = job(heaters=[bank("T-1", quantity=9), bank("T-1", quantity=6), bank("T-1", quantity=3)])
    assert set(heaters(pairs_of(before, after))) == {(2, 3), (3, 4), (None, 2)}


def test_two_blank_banks_that_both_changed_pair_with_the_nearest() -> None:
    before = job(heaters=[bank("T-1", quantity=6, power_kw=6.0), bank("T-1", quantity=3, power_kw=2.0)])
    after = job(heaters=[bank("T-1", quantity=3, power_kw=3.0), bank("T-1", quantity=6, power_kw=9.0)])
    assert set(heaters(pairs_of(before, after))) == {(2, 3), (3, 2)}


def test_repeated_keys_pair_equal_rows_first_and_leave_the_rest_over() -> None:
    before = job(heaters=[bank("T-1", "A", quantity=1), bank("T-1", "A", quantity=2), bank("T-1", "A", quantity=3)])
    after = job(heaters=[bank("T-1", "A", quantity=3), bank("T-1", "A", quantity=1)])
    assert set(heaters(pairs_of(before, after))) == {(2, 3), (4, 2), (3, None)}


def test_a_blank_bank_numbered_one_is_the_bank_called_one_later() -> None:
    assert heaters(pairs_of(job(heaters=[bank("T-1")]), job(heaters=[bank("T-1", "1")]))) == [(2, 2)]


def test_of_several_banks_called_one_later_the_first_is_it() -> None:
    pairs = pairs_of(job(heaters=[bank("T-1")]), job(heaters=[bank("T-1", "1", quantity=4), bank("T-1", "1", quantity=5)]))
    assert set(heaters(pairs)) == {(2, 2), (None, 3)}


def test_one_project_without_a_name_is_the_only_project_whatever_it_is_called_later() -> None:
    before = job(projects=[{"project": ""}], feeders=[{"project": "", "feeder": "F-1"}], heaters=[bank("T-1", "A", project="")])
    assert heaters(pairs_of(before, job(heaters=[bank("T-1", "A")]))) == [(2, 2)]
    assert heaters(pairs_of(job(heaters=[bank("T-1", "A")]), before)) == [(2, 2)]


def with_refused(made: Job, row: dict[str, object], why: str) -> Job:
    """The job with one more heater row, which could not be read."""
    [table] = [table for table in made.received if table.kind == "heaters"]
    number = len(table.rows) + 2
    line = ReceivedRow("Heaters", number, tuple(row.get(key) for key in table.keys), why)
    return replace(made, received=tuple(replace(one, rows=(*one.rows, line)) if one is table else one for one in made.received))


def test_a_row_that_could_not_be_read_is_the_same_row_when_it_can_be() -> None:
    before = with_refused(job(heaters=[bank("T-1", "A")]), {"project": "P", "tank": "T-2", "power_kw": "6 kW?"}, "Power: not a number")
    after = job(heaters=[bank("T-1", "A"), bank("T-2")])
    compared = compare_revisions(revision(before), revision(after))
    assert heaters(list(compared.pairs)) == [(2, 2), (3, 3)]
    [change] = [change for change in compared.changes if change.column.key == "refused"]
    assert (change.before, change.after) == ("not read: Power: not a number", "read")
    assert all(check.passes for check in compared.checks)
    assert "1 row that could not be read can be read now." in screen_text(compared)
    back = screen_text(compare_revisions(revision(after), revision(before)))
    assert "1 row can no longer be read." in back
    assert not [words for words in back if "Row as read" in words]


def of_file(tmp_path: Path, name: str, heading: str, power: object, volts: object) -> Revision:
    """One bank as a file gives it; volts that cannot be read keep its row from being read."""
    rows = [["Tank", "Bank", "Quantity", heading, "Volts", "Phases"], ["T-1", "A", 6, power, volts, 3]]
    (folder := tmp_path / name).mkdir()
    return revision(read_sheets(folder, {"Heaters": rows}))


@pytest.mark.parametrize("spoilt", [(480, "TBD"), ("TBD", 480), ("TBD", "TBD")])
def test_a_row_that_was_not_read_compares_in_its_units(tmp_path: Path, spoilt: tuple[object, object]) -> None:
    """6 kW and 6000 W are one power, whichever of the two rows could be read."""
    kilowatts = of_file(tmp_path, "one", "Power (kW)", 6, spoilt[0])
    watts = of_file(tmp_path, "two", "Power (W)", 6000, spoilt[1])
    compared = compare_revisions(kilowatts, watts)
    assert not [change for change in compared.of("input") if change.column.key == "power_kw"]
    changed = compare_revisions(kilowatts, of_file(tmp_path, "three", "Power (W)", 9000, spoilt[1]))
    assert {(change.before, change.after) for change in changed.of("input") if change.column.key == "power_kw"} == {(6.0, 9.0)}


def test_a_figure_that_could_not_be_read_is_not_shown_in_the_unit_of_its_column(tmp_path: Path) -> None:
    """Under a unit that is none of power nobody knows what 6000 is: it is told as typed, and moves no sum."""
    compared = compare_revisions(
        of_file(tmp_path, "one", "Power (kW)", 6, 480), of_file(tmp_path, "two", "Power (furlongs)", 6000, 480)
    )
    found = {(change.before, change.after, change.difference) for change in compared.of("input") if change.column.key == "power_kw"}
    assert found == {(6.0, "6000 as typed", None)}


def test_rows_without_data_are_in_no_pair_but_accounted_for() -> None:
    before = with_refused(job(heaters=[bank("T-1", "A")]), {"tank": "Total"}, "a total")
    compared = compare_revisions(revision(before), revision(job(heaters=[bank("T-1", "A")])))
    assert compared.empty
    assert all(check.passes for check in compared.checks)


def test_a_lost_row_fails_the_check() -> None:
    """The check that no row is lost is one that can fail: a record without its row, a row without its record."""
    made = job(heaters=[bank("T-1", "A"), bank("T-2", "A")])
    lost = replace(made, banks=made.banks[:1])
    compared = compare_revisions(revision(made), revision(lost))
    failed = [check.what for check in compared.checks if not check.passes]
    assert failed == ["Heaters rows after = paired + added", "Heaters rows after, each in one pair"]


# --- offered, never assumed


def test_a_tank_under_another_name_is_offered_and_taken_only_when_confirmed() -> None:
    before, after = (
        job(
            tanks=[{"tank": "T-1"}, {"tank": tag, "duty": "seal"}],
            heaters=[bank("T-1", "A"), bank(tag, "UP"), bank(tag, "HOLD", quantity=3)],
        )
        for tag in ("T-2", "T-2A")
    )
    pairs = pairs_of(before, after)
    [offer] = offers_of(pairs)
    assert (offer.what, offer.old, offer.new, offer.confirm) == ("tank", "T-2", "T-2A", "--renamed T-2=T-2A")
    assert len(offer.left) == len(offer.right) == 3
    assert set(heaters(pairs)) == {(2, 2), (3, None), (4, None), (None, 3), (None, 4)}
    assert set(heaters(pairs_of(before, after, ("T-2=T-2A",)))) == {(2, 2), (3, 3), (4, 4)}
    assert set(heaters(pairs_of(before, after, ("P/T-2=P/T-2A",)))) == {(2, 2), (3, 3), (4, 4)}


def test_nothing_is_offered_where_two_answers_fit_or_something_else_differs() -> None:
    gone = [bank("T-1", "A", quantity=4), bank("T-2", "A", quantity=4)]
    assert offers_of(pairs_of(job(heaters=gone), job(heaters=[bank("T-3", "A", quantity=4), bank("T-4", "A", quantity=4)]))) == ()
    one = job(heaters=[bank("T-1", "A", quantity=4), bank("T-9", "A")])
    assert offers_of(pairs_of(one, job(heaters=[bank("T-3", "A", quantity=5), bank("T-9", "A")]))) == ()


def test_heaters_that_turn_up_in_another_tank_are_offered_as_moved() -> None:
    before = job(heaters=[bank("T-1", "A"), bank("T-1", "B", quantity=7), bank("T-2", "A")])
    after = job(heaters=[bank("T-1", "A"), bank("T-2", "A"), bank("T-2", "B", quantity=7, heater_run_m=9.0)])
    [offer] = offers_of(pairs_of(before, after))
    assert offer.words == "bank T-1/B may have moved: T-2/B has the same heaters"
    assert offer.confirm == ""


def test_a_bank_under_another_label_a_feeder_a_part_and_a_project_are_offered() -> None:
    before = job(feeders=[{"feeder": "F-1"}, {"feeder": "F-2", "run_m": 33.0}], heaters=[bank("T-1", "UP", quantity=7), bank("T-1", "A")],
                 stock=[{"part": "X-1", "unit_price": 7.0}])  # fmt: skip
    after = job(feeders=[{"feeder": "F-1"}, {"feeder": "F-2A", "run_m": 33.0}], heaters=[bank("T-1", "HEAT", quantity=7), bank("T-1", "A")],
                stock=[{"part": "X-1 new", "unit_price": 7.0}])  # fmt: skip
    offers = {offer.what: offer for offer in offers_of(pairs_of(before, after))}
    assert {what: (offer.old, offer.new) for what, offer in offers.items()} == {
        "feeder": ("F-2", "F-2A"), "part": ("X-1", "X-1 new"), "bank": ("T-1/UP", "T-1/HEAT"),
    }  # fmt: skip
    assert offers["part"].confirm == '--renamed "X-1=X-1 new"'
    other = job(projects=[{"project": "Q"}], feeders=[{"project": "Q", "feeder": "F-1"}], heaters=[bank("T-1", "A", project="Q")])
    [offer] = offers_of(pairs_of(job(heaters=[bank("T-1", "A")]), other))
    assert (offer.what, offer.old, offer.new) == ("project", "P", "Q")
    assert heaters(pairs_of(job(heaters=[bank("T-1", "A")]), other, ("P=Q",))) == [(2, 2)]


def test_a_bank_under_another_label_is_one_when_confirmed_and_comes_before_what_else_would_pair() -> None:
    """T-1/UP is now T-1/HEAT, which has other heaters; the blank bank of the same heaters as UP had stays its own."""
    before = job(heaters=[bank("T-1", "UP", quantity=7), bank("T-1", "A"), bank("T-2", "UP")])
    after = job(heaters=[bank("T-1", "HEAT", quantity=9), bank("T-1", None, quantity=7), bank("T-1", "A"), bank("T-2", "UP")])
    assert set(heaters(pairs_of(before, after))) == {(2, None), (None, 2), (None, 3), (3, 4), (4, 5)}
    for words in ("T-1/UP=T-1/HEAT", "p/t-1/up = P/T-1/HEAT"):
        pairs = pairs_of(before, after, (words,))
        assert set(heaters(pairs)) == {(2, 2), (None, 3), (3, 4), (4, 5)}
        assert [one.either.label for one in pairs if one.either.table == "heaters"] == ["1", "A", "HEAT", "UP"]
    with pytest.raises(JobError, match="T-1/UP=T-2/UP"):  # another tank's bank is no other name
        pairs_of(before, after, ("T-1/UP=T-2/UP",))
    [offer] = offers_of(pairs_of(job(heaters=[bank("T-1", "UP")]), job(heaters=[bank("T-1", "HEAT")])))
    assert offer.confirm == "--renamed T-1/UP=T-1/HEAT"


@pytest.mark.parametrize(("tanks", "offered"), [(("T-1", "T-8"), True), (("T-1", "T-8", "T-9"), False)])
def test_a_project_is_offered_where_at_least_half_of_the_tags_are_the_same(tanks: tuple[str, ...], offered: bool) -> None:
    """One of two tags is half of them; one of three is less. The heaters differ, so that nothing else is offered."""
    before = job(heaters=[bank(tag, "A", quantity=4 + at) for at, tag in enumerate(("T-1", "T-2"))])
    heaters_now = [bank(tag, "A", project="Q", quantity=8 + at) for at, tag in enumerate(tanks)]
    after = job(projects=[{"project": "Q"}], feeders=[{"project": "Q", "feeder": "F-1"}], heaters=heaters_now)
    assert [offer.what for offer in offers_of(pairs_of(before, after))] == (["project"] if offered else [])


def test_rows_that_say_nothing_are_not_offered_for_one_another() -> None:
    before, after = (job(heaters=[bank("T-1", "A")], stock=[{"part": part, "kind": None}]) for part in ("X-1", "Y-1"))
    assert offers_of(pairs_of(before, after)) == ()


@pytest.mark.parametrize("words", ["T-1", "T-1=", "=T-2", "T-7=T-2", "T-1=T-7"])
def test_a_rename_of_what_is_not_there_is_refused_in_one_line(words: str) -> None:
    with pytest.raises(JobError) as refusal:
        pairs_of(job(heaters=[bank("T-1", "A")]), job(heaters=[bank("T-2", "A")]), (words,))
    assert f"--renamed {words}" in str(refusal.value)
    assert "\n" not in str(refusal.value)


def test_many_rows_of_one_key_come_to_an_end() -> None:
    before = job(heaters=[bank("T-1", "A", quantity=1 + at % 900) for at in range(1200)])
    after = job(heaters=[bank("T-1", "A", quantity=1 + at % 890, power_kw=3.0) for at in range(1200)])
    pairs = pairs_of(before, after)
    assert sum(None not in pair for pair in pairs if pair.either.table == "heaters") == 1200


# --- whose it is


def test_feeders_and_banks_of_several_projects_are_named_with_their_project() -> None:
    def made(quantity: int) -> Revision:
        return revision(job(
            projects=[{"project": "P"}, {"project": "Q"}],
            feeders=[{"feeder": "F-1"}, {"project": "Q", "feeder": "F-1"}, {"feeder": "F-2"}],
            heaters=[bank("T-1", "A"), bank("T-1", "A", project="Q", quantity=quantity, feeder="F-1" if quantity < 9 else None),
                     bank("T-9", "A", quantity=9 if quantity < 9 else 3, feeder="F-2")],
        ))  # fmt: skip

    whole = compare_all([made(6), made(40)]).whole
    said = " ".join(one.words for one in sentences(whole))
    assert "Q/F-1" in said and "P/F-2" in said and "Q/T-1/A from F-1 to blank" in said
    causes = {cause.words for change in whole.of("result") for cause in change.causes}
    assert any(words.startswith("Q/T-1/A: Quantity 6 → 40") for words in causes)
    alone = compare_all([revision(job(heaters=[bank("T-1", "A", quantity=count)])) for count in (6, 9)]).whole
    assert "P/" not in " ".join(one.words for one in sentences(alone))


def test_a_type_under_another_number_is_the_same_type() -> None:
    """A tank in front takes the first number: what was Type 01 is Type 02 now, and nothing of it is new or gone."""
    heaters_now = [bank("T-1", "A", quantity=4), bank("T-5", "A")]
    old, new = revision(job(heaters=heaters_now[1:])), revision(job(heaters=heaters_now))
    compared = compare_revisions(old, new)
    found = {order.name: (order.was_named, order.verdict) for order in compared.orders if order.table == "panel_types"}
    assert found == {"Type 01": ("", "new"), "Type 02": ("Type 01", "same")}
    named = [change for change in compared.changes if change.column.key == "type"]
    assert [(change.sort, change.before, change.after) for change in named] == [("name", "Type 01", "Type 02")]


def test_a_number_given_to_another_type_is_told_from_the_type_that_had_it() -> None:
    """One bank of 6, then one of 5: each revision by itself calls its one type Type 01."""
    old, new = (revision(job(heaters=[bank("T-1", quantity=quantity)])) for quantity in (6, 5))
    assert [row.type for result in (old.result, new.result) for row in result.projects[0].types] == ["Type 01", "Type 01"]
    said = " ".join(one.words for one in sentences(compare_revisions(old, new)))
    assert "new Type 01 (+1); none left of the former Type 01 (-1)" in said


def test_an_empty_sheet_that_is_gone_is_no_change() -> None:
    rows = [bank("T-1")]
    old = revision(job(heaters=rows, stock=[]))
    found = compare_revisions(old, revision(job(heaters=rows)))
    assert not [one for one in found.columns if "whole sheet" in one.before + one.after]
