"""Codes of supplies in a column, and options that are bought. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake import read
from batch.intake.column_map import parse_map
from batch.intake.map_draft import draft
from batch.intake.remark_words import read_row_words
from tests.intake_book import book
from tests.test_intake_plain_lists import codes, read_list
from tests.test_intake_supply_groups import supplies

HEAD: list[object] = ["Tank", "Qty", "kW each", "Net", "Remark"]
NEW, OLD = (400.0, 3), (230.0, 3)
TOLD = [
    "Net N = 3x400 V (new)   Net O = 3x230 V (old, delta)",
    "Normal supply (N): 400 V, 3 phase, 50 Hz     Other supply (O): 230 V, 3 phase, 50 Hz",
    "N: 400 V 3 ph; O: 230 V 3 ph",
]


@pytest.mark.parametrize("told", TOLD)
def test_a_column_of_codes_tells_the_supply_of_each_row(told: str, tmp_path: Path) -> None:
    rows = [["A", 2, 9, "N", ""], ["B", 1, 6, "O", ""], ["C", 1, 6, "?", ""], ["D", 2, 6, "N / O", "one on each"], ["E", 1, 3, "N", ""]]
    job = read_list(tmp_path, ["Heaters"], [told], [], HEAD, *rows)
    assert supplies(job) == {"A": NEW, "B": OLD, "E": NEW}
    assert "supply-from-words" in codes(job)


def test_a_row_with_other_volts_keeps_them_and_one_with_other_phases_is_asked(tmp_path: Path) -> None:
    head = [*HEAD[:4], "Connection"]
    rows = [["A", 2, 9, "N", "3 ph"], ["B", 1, 6, "O", "3 ph"], ["C", 2, 3, "N", "230 V 1 ph"], ["D", 2, 3, "N", "1 ph"]]
    job = read_list(tmp_path, ["Heaters"], [TOLD[0]], [], head, *rows)
    assert supplies(job) == {"A": NEW, "B": OLD, "C": (230.0, 1)}


@pytest.mark.parametrize("told", ["N = 400 V 3 ph, N = 230 V 3 ph, O = 230 V 3 ph", "N 400 V, O 230 V"])
def test_codes_that_tell_no_two_supplies_say_nothing(told: str, tmp_path: Path) -> None:
    job = read_list(tmp_path, ["Heaters"], [told], [], HEAD, ["A", 2, 9, "N", ""], ["B", 1, 6, "O", ""])
    assert supplies(job) == {}


def test_a_column_with_other_letters_is_no_column_of_supplies(tmp_path: Path) -> None:
    job = read_list(tmp_path, ["Heaters"], [TOLD[2]], [], HEAD, ["A", 2, 9, "N", ""], ["B", 1, 6, "O", ""], ["C", 1, 6, "X", ""])
    assert supplies(job) == {}


def test_what_codes_told_goes_into_the_map_and_back(tmp_path: Path) -> None:
    path = tmp_path / "list.xlsx"
    rows = [[TOLD[2]], [], HEAD, ["A", 2, 9, "N", ""], ["B", 1, 6, "O", ""], ["C", 1, 6, "N", ""]]
    path.write_bytes(book({"Sheet1": rows}))
    alone = supplies(read(path))
    assert alone == {"A": NEW, "B": OLD, "C": NEW}
    assert supplies(read(path, column_map=parse_map(draft(path), "m", "m"))) == alone


BOUGHT = ["Alternate 2 - second tank: ACCEPTED", "optie 1 - besteld", "Option retenue", "opción aceptada"]
NOT_BOUGHT = [
    "Alternate 1: NOT ACCEPTED", "optie 2 - niet besteld", "option, to be ordered later", "option if ordered", "option ordered?",
    "Option - wird noch bestellt", "future option, accepted", "Alternate 3 not yet accepted", "opcja nie zamówiona", "opção sob pedido",
]  # fmt: skip


@pytest.mark.parametrize("remark", [*BOUGHT, *NOT_BOUGHT])
def test_an_option_that_is_bought_is_sized_and_others_are_asked(remark: str, tmp_path: Path) -> None:
    assert bool(read_row_words(remark).fate) == (remark in NOT_BOUGHT)
    head = ["Tank", "Qty", "kW each", "Volts", "Ph", "Remark"]
    job = read_list(tmp_path, head, ["A", 2, 9, 400, 3, ""], ["B", 1, 6, 400, 3, remark])
    assert len(job.banks) == 1 + (remark in BOUGHT)


def test_an_addendum_that_gives_the_kilowatts_of_each_is_about_its_row(tmp_path: Path) -> None:
    head = ["Line", "Tank", "Qty", "kW each", "Volts", "Ph"]
    note = "ADDENDUM 1: Line 2, tank T-7: change to three (3) heaters of 18 kW each, 480 V, 3 phase."
    job = read_list(tmp_path, head, [1, "T-6", 2, 9, 480, 3], [2, "T-7", 2, 15, 480, 3], [], [note])
    assert [one.tank for one in job.banks] == ["T-6"]
