"""Counts, powers and supplies that a cell or a heading leaves open: each is asked about. All lists are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.products_in_doubt import unsure_product
from tests.intake_book import said
from tests.test_intake_plain_lists import heaters, read_list

HEAD = ["Tank", "Qty", "kW each", "Volts", "Ph"]
ROWS = (("T-1", 2, 6, 480, 3), ("T-2", 1, 9, 480, 3))


@pytest.mark.parametrize(
    "text",
    ["up to 2 x 6 kW", "min. 2 x 6 kW", "2 x 6 kW less 1", "2 x 6 kW minus one", "2 x 6 kW per line", "2 x 6 kW, 2 lines",
     "2 x 6 kW per tank, 2 tanks", "bis zu 2 x 6 kW", "2 x 6 kW je Linie", "2 x 6 kW, 2 cuves",
     "hasta 2 x 6 kW", "2 x 6 kW na linię", "nejvýše 2 x 6 kW"],
)  # fmt: skip
def test_words_beside_a_product_that_leave_its_number_open(tmp_path: Path, text: str) -> None:
    rows = [["T-1", text, "480/3"], ["T-2", "1 x 9 kW", "480/3"]]
    assert heaters(read_list(tmp_path, ["Tank", "Heater", "Supply"], *rows)) == [ROWS[1]]


@pytest.mark.parametrize("text", ["2 x 6 kW", "2 x 6 kW max", "2 x 6 kW less 10%", "2 x 6 kW per tank", "2 x 6 kW, line 2"])
def test_words_that_leave_no_number_open(text: str) -> None:
    assert not unsure_product(text)


@pytest.mark.parametrize("heading", ["kW each @240V", "kW each (240 V)"])
def test_a_power_at_other_volts_than_the_row_has(tmp_path: Path, heading: str) -> None:
    job = read_list(tmp_path, [*HEAD[:2], heading, *HEAD[3:]], ROWS[0], ["T-2", 1, 9, 240, 3])
    assert heaters(job) == [("T-2", 1, 9, 240, 3)]
    assert "what the power is" in said(job, "row-figures-open")[0].message


@pytest.mark.parametrize("supply", ["480/1 or 3", "480/3 or 1", "480 or 240/3", "480V/1 or 3", "400/3 oder 1"])
def test_a_supply_that_is_one_or_the_other(tmp_path: Path, supply: str) -> None:
    rows = [["T-1", 2, 6, supply], ["T-2", 1, 9, "480/3"]]
    assert heaters(read_list(tmp_path, [*HEAD[:3], "Supply"], *rows)) == [ROWS[1]]


def test_a_note_by_that_number_explains_it(tmp_path: Path) -> None:
    notes = [["(3) PTFE covered"]]
    assert heaters(read_list(tmp_path, HEAD, ["T-1", "2 (3)", 6, 480, 3], ROWS[1], *notes)) == list(ROWS)


def test_a_second_number_in_brackets(tmp_path: Path) -> None:
    assert heaters(read_list(tmp_path, HEAD, ["T-1", "2 (3)", 6, 480, 3], ROWS[1])) == [ROWS[1]]
    assert heaters(read_list(tmp_path, HEAD, ["T-1", "2 (2)", 6, 480, 3], ROWS[1])) == list(ROWS)
