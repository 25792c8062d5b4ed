"""Second sheets under the headings of a list that is read: read as well, or asked about as a whole, and never left with a note."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake_book import codes, said
from tests.test_intake_asked_elsewhere import tanks
from tests.test_lists import HEAD, listed

WORDED = ["Tank", "Heaters"]
TEXTS = [WORDED, ["T-1", "2 x 9 kW 400 V 3 ph"], ["T-2", "3 x 9 kW 400 V 3 ph"]]
AGES = ["Tank", "Existing", "New"]
TO_COME = [AGES, ["T-1", "2 x 6 kW 400 V 3 ph", "3 x 9 kW 400 V 3 ph"], ["T-2", "2 x 6 kW 400 V 3 ph", "3 x 9 kW 400 V 3 ph"]]
COUNTED = ["Tank", "Existing qty", "Existing kW", "New qty", "New kW each", "Volts", "Ph"]
NUMBERS = [COUNTED, ["T-1", 2, 6, 3, 9, 400, 3], ["T-2", 2, 6, 3, 9, 400, 3]]


@pytest.mark.parametrize(
    ("first", "second"),
    [
        (TEXTS, [WORDED, ["T-11", "as T-1"], ["T-12", "as T-2"]]), (TEXTS, [WORDED, ["T-11", "2 x 9000"], ["T-12", "3 x 9000"]]),
        (TEXTS, [WORDED, ["T-11", "two nine kilowatt"]]), (TO_COME, [AGES, ["T-11", "2 x 6 kW 400 V 3 ph", None]]),
        (TO_COME, [AGES, ["T-11", "2 x 6 kW", "none"], ["T-12", "2 x 6 kW", "same"]]),
        (NUMBERS, [COUNTED, ["T-11", 2, 6, None, None, 400, 3], ["T-12", 2, 6, None, None, 400, 3]]),
        (NUMBERS, [["Tank", "Existing qty", "Existing kW", "Volts", "Ph"], ["T-11", 2, 6, 400, 3], ["T-12", 2, 6, 400, 3]]),
    ],
)  # fmt: skip
def test_what_is_lost_of_a_second_sheet_is_asked_about(tmp_path: Path, first: list[list], second: list[list]) -> None:
    job = listed(tmp_path, *first, **{"Line 2": second})
    assert tanks(job) == ["T-1", "T-2"] and "Line 2" in said(job, "list-not-read")[0].message


@pytest.mark.parametrize(
    ("first", "second"),
    [
        (TEXTS, [WORDED, ["T-11", "2 x 9 kW 400 V 3 ph"], ["T-12", "3 x 9 kW 400 V 3 ph"]]),
        (TO_COME, [AGES, ["T-11", "2 x 6 kW 400 V 3 ph", "3 x 9 kW 400 V 3 ph"], ["T-12", None, "3 x 9 kW 400 V 3 ph"]]),
        ([HEAD, ["T-1", 3, 6, 400, 3], ["T-2", 3, 6, 400, 3]], [HEAD, ["T-11", 3, 6, 400, 3], ["T-12", 3, 6, 400, 3]]),
    ],
)
def test_a_second_sheet_of_the_same_form_is_read(tmp_path: Path, first: list[list], second: list[list]) -> None:
    assert tanks(listed(tmp_path, *first, **{"Line 2": second})) == ["T-1", "T-2", "T-11", "T-12"]


def test_a_form_that_nobody_filled_asks_nothing(tmp_path: Path) -> None:
    head = ["Tank", "Process", *HEAD[1:]]
    first = [head, ["T-1", "Zinc", 3, 6, 400, 3], ["T-2", "Zinc", 3, 6, 400, 3]]
    job = listed(tmp_path, *first, **{"Line 2": [head, ["T-11", "rinse", None, None, None, None], ["T-12", "rinse", "-", "-", None, None]]})
    assert tanks(job) == ["T-1", "T-2"] and "list-not-read" not in codes(job)
