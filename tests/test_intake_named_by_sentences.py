"""Sentences beside a list that name a tank of it: by a bare number, among those that others are told apart from, or as spare, and those
that add heaters to one. The row is asked about, or taken as it is told; it is never sized as if nothing had been said."""

from __future__ import annotations

from pathlib import Path

import pytest

import batch
from batch.results import JobResult
from tests.test_intake_asked_elsewhere import tanks
from tests.test_lists import HEAD, codes, listed, said

BARE = [["460", 2, 12, 480, 3], ["470", 1, 9, 480, 3], ["480", 3, 9, 480, 3]]
TAGGED = [["T-1", 2, 12, 480, 3], ["T-2", 1, 9, 480, 3], ["T-3", 3, 9, 480, 3]]
SHORT = [["1", 2, 12, 480, 3], ["2", 1, 9, 480, 3], ["3", 3, 9, 480, 3]]


def with_sentence(folder: Path, rows: list[list], sentence: str, *, above: bool = False) -> list[str]:
    """The tanks that are sized."""
    return tanks(listed(folder, *([[sentence], [None]] if above else []), HEAD, *rows, *([] if above else [[None], [sentence]])))


@pytest.mark.parametrize(
    ("rows", "sentence"),
    [
        (BARE, "all tanks except 480, which is 240 V"), (BARE, "480 V all tanks except 480, which is 240 V"),
        (BARE, "480V/3ph all tanks except 480 which is 240 V"), (TAGGED, "All tanks 480 V 3 ph, except T-3, which is 240 V 1 ph"),
        (TAGGED, "All heaters 480 V, T-3 240 V"), (TAGGED, "Alle Heizer 480 V, außer T-3: 240 V"),
    ],
)  # fmt: skip
def test_a_row_told_apart_by_its_volts_is_asked_where_it_says_others(tmp_path: Path, rows: list[list], sentence: str) -> None:
    """Also where its tag looks like volts, and where the sentence speaks of all: the others are as they stand."""
    for above in (False, True):
        assert with_sentence(tmp_path, rows, sentence, above=above) == [str(row[0]) for row in rows[:2]]


def test_a_list_without_volts_takes_those_of_all_and_of_the_one(tmp_path: Path) -> None:
    for rows in (BARE, TAGGED):
        said_so = f"All tanks 480 V 3 ph except {rows[2][0]}, which is 240 V 1 ph"
        job = listed(tmp_path, [said_so], [None], HEAD[:3], *(row[:3] for row in rows))
        assert [(bank.volts_v, bank.phases) for bank in job.banks] == [(480, 3), (480, 3), (240, 1)]


def test_the_volts_of_one_that_is_excepted_are_not_those_of_all(tmp_path: Path) -> None:
    rows = [BARE[0][:3], BARE[1], BARE[2]]  # the first says no volts
    for sentence in ("all tanks except 480, which is 240 V 3 ph", "All but: all tanks except tank 480 (240 V 3 ph)"):
        assert with_sentence(tmp_path, rows, sentence) == ["470"]
    assert with_sentence(tmp_path, rows, "all tanks except 480: 480 V 3 ph") == ["460", "470", "480"]
    assert "T-1" not in with_sentence(tmp_path, [TAGGED[0][:3], *TAGGED[1:]], "all heaters as before except T-3 now 240 V 3 ph")


@pytest.mark.parametrize(
    ("rows", "sentence"),
    [
        (BARE, "480 is spare"), (BARE, "480 spare"), (BARE, "Tank 480: standby tank"), (BARE, "480 is a spare tank"), (SHORT, "3 is spare"),
        (SHORT, "3 is deleted"), (TAGGED, "T-3 spare"), (TAGGED, "T-3 ist Reserve"), (TAGGED, "T-3 - spare."),
    ],
)  # fmt: skip
def test_a_tank_that_is_called_spare_is_asked_about(tmp_path: Path, rows: list[list], sentence: str) -> None:
    assert with_sentence(tmp_path, rows, sentence) == [str(row[0]) for row in rows[:2]]


@pytest.mark.parametrize("sentence", ["One spare for T-3", "Spares: one each", "3 spare heaters", "T-3: one spare heater on the shelf"])
def test_spare_heaters_of_a_tank_are_no_spare_tank(tmp_path: Path, sentence: str) -> None:
    assert with_sentence(tmp_path, TAGGED, sentence) == ["T-1", "T-2", "T-3"]
    assert with_sentence(tmp_path, SHORT, sentence.replace("T-3", "tank 3")) == ["1", "2", "3"]


@pytest.mark.parametrize(
    "sentence",
    ["Add one 12 kW heater to T-2", "Please add a 9 kW heater on T-2, 480V 3ph", "Add one 9 kW heater to tank T-2",
     "One extra heater for T-2", "T-2: ajouter un thermoplongeur de 9 kW", "T-2: einen weiteren Heizer 9 kW"],
)  # fmt: skip
def test_heaters_added_to_a_tank_are_asked_of_its_row_and_are_no_row(tmp_path: Path, sentence: str) -> None:
    """Though the heater that is added is as the row's own; a tank that the list has not stays a row."""
    job = listed(tmp_path, HEAD, *TAGGED, [None], [sentence])
    assert tanks(job) == ["T-1", "T-3"] and "row-in-doubt" not in codes(job)
    assert "how many heaters there are" in said(job, "row-figures-open")[0].message


@pytest.mark.parametrize(
    "sentence",
    ["Add thermostat to heaters of T-2", "Add 10 ft cable to heater at T-2", "T-2: add one spare heater", "no extra heaters for T-2"],
)
def test_what_else_is_added_asks_of_no_number(tmp_path: Path, sentence: str) -> None:
    assert with_sentence(tmp_path, TAGGED, sentence) == ["T-1", "T-2", "T-3"]


def test_a_tank_that_is_added_stays_a_row(tmp_path: Path) -> None:
    job = listed(tmp_path, HEAD, *TAGGED, [None], ["Add T-5: 2 x 9 kW heaters"])
    assert tanks(job) == ["T-1", "T-2", "T-3"] and "row-in-doubt" in codes(job)


def answered(folder: Path, sentence: str, answer: str) -> JobResult:
    """By the map of its own reading, with one row answered."""
    path = folder / "list.csv"
    rows = "\n".join(",".join(map(str, row)) for row in (HEAD, *TAGGED))
    path.write_text(f'{rows}\n\n"{sentence}"\n', encoding="utf-8")
    (folder / "map.toml").write_text(batch.check(path).job.map_text.replace('3 = "?"', f"3 = {answer}"), encoding="utf-8")
    return batch.check(path, column_map=folder / "map.toml")


def test_a_sentence_whose_rows_a_map_answers_for_is_not_said_to_name_none(tmp_path: Path) -> None:
    for answer in ('"keep"', "{ Quantity = 2 }", '"leave out"'):
        result = answered(tmp_path, "Add one 9 kW heater to T-2", answer)
        assert not [one for one in result.findings if one.code == "notes-of-heaters"]
    result = answered(tmp_path, "The second heater is a standby", '"keep"')
    assert [one for one in result.findings if one.code == "notes-of-heaters"]


def test_a_list_that_is_not_read_names_the_line_that_answers(tmp_path: Path) -> None:
    job = listed(tmp_path, ["our heaters"], ["?", 1, 2, 3], ["?", 3, 4, 5])
    assert 'The line of the map that answers: use = false, under [[table]] with sheet = "Sheet1"' in said(job, "list-not-read")[0].message
