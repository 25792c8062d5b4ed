"""Lists put together from what people write, some of each language: none of their rows is silent, and most lists are read whole."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.lists.score import score_list
from tests.lists_grammar.kinds import CUSTOMERS, languages_of, made_of_kind
from tests.lists_grammar.measure import Tally, score_one, write
from tests.lists_grammar.sheet import made
from tests.lists_grammar.words import LANGUAGES

FEW = range(1000, 1004)  # seeds of the lists read in every run
LEAST_WHOLE = 0.8  # of those lists; what is left is asked
FEW_OF_CUSTOMERS, LEAST_OF_CUSTOMERS = range(1000, 1005), 0.6  # and of the kinds that plants and buyers send
COUNTS = 400  # lists that are made, not read


def test_few_lists_of_every_language_are_read_and_no_row_is_silent(tmp_path: Path) -> None:
    tally = Tally()
    for language in LANGUAGES:
        for seed in FEW:
            one, score = score_one(language, seed, tmp_path)
            assert not score.silent, f"{language} {seed}: {score.lines}"
            tally.add(one, score)
    assert tally.lists == len(LANGUAGES) * len(FEW)
    assert tally.whole >= LEAST_WHOLE * tally.lists, tally.words()


@pytest.mark.parametrize("kind", CUSTOMERS)
def test_few_lists_as_customers_send_them_are_read_and_no_row_is_silent(kind: str, tmp_path: Path) -> None:
    tally = Tally()
    for seed in FEW_OF_CUSTOMERS:
        language = languages_of(kind)[seed % len(languages_of(kind))]
        one, score = score_one(language, seed, tmp_path, kind)
        assert not score.silent, f"{language} {seed}: {score.lines}"
        tally.add(one, score)
    assert tally.whole >= LEAST_OF_CUSTOMERS * tally.lists, tally.words()


@pytest.mark.parametrize("kind", CUSTOMERS)
def test_a_list_of_a_kind_is_that_of_its_seed_and_has_rows_to_take(kind: str) -> None:
    for language in languages_of(kind):
        for seed in range(COUNTS // 40):
            one = made_of_kind(kind, language, seed)
            assert one == made_of_kind(kind, language, seed)
            assert any(row["fate"] == "ask" or (row["fate"] == "take" and row["heaters"]) for row in one.truth)


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_list_is_that_of_its_seed_and_its_truth_names_rows_that_it_has(language: str) -> None:
    fates = set()
    for seed in range(COUNTS // len(LANGUAGES)):
        one = made(language, seed)
        assert one == made(language, seed)
        numbers = [row["row"] for row in one.truth]
        assert len(set(numbers)) == len(numbers) and max(numbers) <= len(one.sheets[0].rows)
        assert all("heaters" in row for row in one.truth if row["fate"] == "take")
        fates |= {row["fate"] for row in one.truth}
    assert fates == {"take", "leave", "report"}


def test_a_row_read_wrong_is_counted_as_silent(tmp_path: Path) -> None:
    """The measure can fail: a truth that says otherwise than the list makes its rows silent."""
    one, score = score_one("en", FEW[1], tmp_path)
    assert score.right == score.take > 0
    for row in one.truth:
        for heaters in row.get("heaters", ()):
            heaters["power_kw"] += 1
    path = tmp_path / "changed.xlsx"
    write(one, path)
    changed = score_list(path)
    assert changed.right == 0 and changed.misread == changed.take == score.take
