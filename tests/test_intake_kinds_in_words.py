"""Several kinds of heaters of one tank in one sentence or description: a bank for each, where each has its number and its power."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.kinds_in_words import kinds_in
from tests.test_intake_plain_lists import heaters, read_list

OF_MAIL = [["All heaters are 415V three phase except where I say."], ["Tank 1 - soak - two heaters, 6kW each"],
           ["Tank 3 - electroclean - 2 off 4.5kW"]]  # fmt: skip
FIRST = [("Tank 1", 2, 6.0, 415.0, 3), ("Tank 3", 2, 4.5, 415.0, 3)]
HEAD = ["Tank", "Heaters"]


@pytest.mark.parametrize(
    ("said", "supplies"),
    [
        ("one 3kW and one 1.5kW heater, both 240V single phase", [(240, 1), (240, 1)]),
        ("one 3kW and one 1.5kW heater", [(415, 3), (415, 3)]),
        ("one 3kW 240V single phase, one 1.5kW heater 240V single phase", [(240, 1), (240, 1)]),
        ("1 off 3kW + 1 off 1.5kW, both 240V 1 ph", [(240, 1), (240, 1)]),
    ],
)
def test_each_kind_of_a_sentence_is_a_bank(said: str, supplies: list[tuple[float, int]], tmp_path: Path) -> None:
    job = read_list(tmp_path, *OF_MAIL, [f"Tank 7 - chromate - {said}"])
    assert heaters(job) == [*FIRST, ("Tank 7", 1, 3.0, *supplies[0]), ("Tank 7", 1, 1.5, *supplies[1])]


@pytest.mark.parametrize(
    "said", ["one 3kW or one 1.5kW heater", "one 3kW and one 1.5kW heater, 240 V single phase", "one 3kW heater and one spare 3kW"]
)
def test_either_of_two_and_a_supply_that_may_be_of_one_alone_are_asked(said: str, tmp_path: Path) -> None:
    assert heaters(read_list(tmp_path, *OF_MAIL, [f"Tank 7 - chromate - {said}"])) == FIRST


def test_kinds_behind_a_comma_in_a_column(tmp_path: Path) -> None:
    rows = [["T-1", "two 12 kW 480 V 3 ph"], ["T-2", "one 9 kW 480 V 3 ph, one 3 kW 240 V 1 ph"], ["T-3", "three 9 kW 480 V 3 ph"]]
    assert heaters(read_list(tmp_path, HEAD, *rows)) == [
        ("T-1", 2, 12.0, 480.0, 3), ("T-2", 1, 9.0, 480.0, 3), ("T-2", 1, 3.0, 240.0, 1), ("T-3", 3, 9.0, 480.0, 3),
    ]  # fmt: skip


@pytest.mark.parametrize("said", ["2 x 9 kW", "two heaters, 6 kW each", "9 kW 480 V, 3 ph", "2 heaters and a 4 kW pump"])
def test_one_kind_is_not_split(said: str) -> None:
    assert not kinds_in(said)
