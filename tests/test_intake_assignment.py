"""Columns taken for ours: how much name and cells count, and both sides of what is asked of either. Judgement, no source."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

import pytest

from batch.intake import best_match
from batch.intake.assignment import CERTAIN, LIKELY, OPEN, assign, scores
from batch.intake.cell_profiles import Profile
from batch.intake.grid import Grid
from batch.intake.list_words import Meaning
from batch.intake.turned import MOST_LABELS, turned_over

TAGS = [f"T-{number}" for number in range(1, 11)]


@dataclass(frozen=True)
class Headed:
    """A heading with the one meaning that it is given, and its worth as a name."""

    index: int
    key: str
    name: float
    text: str = "Widgets"  # stands for nothing: what it means is given

    def meanings(self) -> tuple[Meaning, ...]:
        return (Meaning(self.key, self.name),)


def read(*columns: tuple[str, float, list[object]]) -> list[tuple[str, int, str]]:
    """Key, column and how sure, of columns given as (key, worth of the name, cells)."""
    headed = [Headed(at, key, name) for at, (key, name, _) in enumerate(columns)]
    taken = assign(headed, {at: Profile(list(cells)) for at, (_, _, cells) in enumerate(columns)})
    return [(one.key, one.index, one.sure) for one in taken]


def counts(good: int, of: int) -> list[object]:
    """Cells of which so many can be a number of heaters: there are no one and a half heaters."""
    return [4] * good + [1.5] * (of - good)


def test_a_columns_score_is_its_name_by_two_thirds_and_its_cells_by_one() -> None:
    """0.65 x 0.9 + 0.35 x 0.6 = 0.795."""
    found = scores([Headed(0, "quantity", 0.9)], {0: Profile(counts(6, 10))})
    assert found[0]["quantity"][:3] == pytest.approx((0.795, 0.9, 0.6))


def test_a_name_over_a_hidden_column_is_worth_three_fifths() -> None:
    found = scores([Headed(0, "quantity", 1.0)], {0: Profile(counts(10, 10))}, {0})
    assert found[0]["quantity"][1] == pytest.approx(0.6)


@pytest.mark.parametrize(("good", "taken"), [(8, True), (7, False)])
def test_two_cells_in_five_must_be_able_to_be_what_the_heading_says(good: int, taken: bool) -> None:
    assert bool(read(("quantity", 1.0, counts(good, 20)))) is taken


@pytest.mark.parametrize(("good", "taken"), [(14, True), (13, False)])
def test_seven_in_ten_cells_must_be_able_to_be_phases(good: int, taken: bool) -> None:
    assert bool(read(("phases", 1.0, [3] * good + [7] * (20 - good)))) is taken


@pytest.mark.parametrize(
    ("name", "good", "sure"),
    [(1.0, 17, CERTAIN), (1.0, 16, LIKELY), (0.9, 20, CERTAIN), (0.89, 20, LIKELY)],  # 0.85 of the cells, and 0.9 of a name
)
def test_certain_by_name_and_by_cells(name: float, good: int, sure: str) -> None:
    assert read(("quantity", name, counts(good, 20))) == [("quantity", 0, sure)]


@pytest.mark.parametrize(("name", "taken"), [(0.43, True), (0.42, False)])  # without cells: 0.65 x name + 0.35 x 0.5 >= 0.45
def test_below_a_score_a_heading_means_nothing(name: float, taken: bool) -> None:
    assert bool(read(("quantity", name, []))) is taken


@pytest.mark.parametrize(("good", "sure"), [(7, OPEN), (6, CERTAIN)])  # behind by 0.35 x 0.3 = 0.105 and by 0.35 x 0.4 = 0.14
def test_a_rival_no_more_than_0_12_behind_leaves_the_question_open(good: int, sure: str) -> None:
    assert read(("quantity", 1.0, counts(10, 10)), ("quantity", 1.0, counts(good, 10))) == [("quantity", 0, sure)]


@pytest.mark.parametrize(("distinct", "sure"), [(7, OPEN), (5, LIKELY)])  # behind by 0.35 x 0.3 x 0.3 = 0.03 and by 0.35 x 0.3 x 0.5 = 0.05
def test_of_tags_a_rival_is_near_to_0_04(distinct: int, sure: str) -> None:
    again = [*TAGS[:distinct], *[TAGS[0]] * (10 - distinct)]
    assert read(("tank", 1.0, TAGS), ("tank", 1.0, again)) == [("tank", 0, sure)]


@pytest.mark.parametrize(("name", "sure"), [(0.75, OPEN), (0.74, CERTAIN)])
def test_a_second_count_is_asked_about_from_three_quarters_of_a_name(name: float, sure: str) -> None:
    """Behind by 0.65 x 0.25 = 0.16, and so no rival by its score: what is asked is which of two counts holds."""
    assert read(("quantity", 1.0, [4] * 10), ("quantity", name, [3] * 10)) == [("quantity", 0, sure)]


@pytest.mark.parametrize(("name", "sure"), [(0.84, OPEN), (0.82, CERTAIN)])
def test_a_rival_named_less_clearly_by_more_than_0_12_is_none(name: float, sure: str) -> None:
    """0.95 - 0.12 = 0.83; by their scores both are near, 0.65 x 0.13 = 0.085 behind at most."""
    assert read(("power_kw", 0.95, [6] * 10), ("power_kw", name, [9] * 10)) == [("power_kw", 0, sure)]


@pytest.mark.parametrize(("key", "name", "cells", "taken"), [
    ("tank", 0.45, TAGS, True), ("tank", 0.44, TAGS, False),
    ("sheath", 0.6, ["titanium"] * 10, True), ("sheath", 0.59, ["titanium"] * 10, False),
])  # fmt: skip
def test_how_well_a_column_must_be_named_with_which_little_is_sized(key: str, name: float, cells: list[object], taken: bool) -> None:
    assert bool(read((key, name, cells))) is taken


def test_many_columns_and_few_meanings_are_matched_as_well_and_in_step_with_their_number(monkeypatch: pytest.MonkeyPatch) -> None:
    """With columns in the place of rows the same best worth comes out; each is then looked at once for each meaning."""
    chance = Random(5)
    worth = [[round(chance.random(), 3) for _ in range(4)] for _ in range(90)]
    places, total = best_match.solve(worth)
    assert sum(place >= 0 for place in places) == 4 and len({place for place in places if place >= 0}) == 4
    assert total == pytest.approx(sum(worth[row][place] for row, place in enumerate(places) if place >= 0))
    monkeypatch.setattr(best_match, "MANY", 1000)
    assert best_match.solve(worth)[1] == pytest.approx(total)


def test_columns_that_mean_nothing_take_no_part_in_the_match() -> None:
    assert best_match.solve([[0.0, 0.0], [0.2, 0.7], [0.0, 0.0], [0.6, 0.5]]) == ([-1, 1, -1, 0], pytest.approx(1.3))


def test_a_list_of_a_thousand_rows_is_not_turned_over() -> None:
    """Each row would be a column to be understood: a list of 1,000 rows took 15 s, one of 4,000 more than ten minutes."""
    rows = [[f"T-{at}", 3, 6.0] for at in range(MOST_LABELS + 1)]
    assert turned_over(Grid("List", rows)) is None
    assert turned_over(Grid("List", rows[:-1])) is not None
