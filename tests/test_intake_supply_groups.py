"""Supplies of several kinds told in one sentence, beside a list or on a cover: of tags, items, marks and lines. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

import batch
from batch.intake import read
from batch.intake.column_map import parse_map
from batch.intake.map_draft import draft
from tests.intake_book import book, in_doubt, read_sheets, said
from tests.test_intake_plain_lists import codes, read_list

HEAD: list[object] = ["Item", "Tank", "Qty", "kW each", "Remark"]
THREE, ONE, HIGH = (400.0, 3), (230.0, 1), (690.0, 3)


def rows_of(*tags: object, marked: str = "", mark: str = "") -> list[list[object]]:
    return [[at, tag, 2, 4.5, mark if tag == marked else ""] for at, tag in enumerate(tags, 11)]


def supplies(job: object) -> dict[str, tuple[float, int]]:
    return {bank.tank: (bank.volts_v, bank.phases) for bank in job.banks}  # type: ignore[attr-defined]


TOLD: dict[str, dict[str, tuple[float, int]]] = {
    "All heaters 400 V 3-phase, except item 13 which is 230 V 1-phase.": {"T-1": THREE, "T-2": THREE, "T-3": ONE, "T-4": THREE},
    "1. T-1 to T-3: 400 V 3 ph, T-4: 230 V 1 ph": {"T-1": THREE, "T-2": THREE, "T-3": THREE, "T-4": ONE},
    "400 V 3 ph for T-1 to T-3, 230 V 1 ph for T-4": {"T-1": THREE, "T-2": THREE, "T-3": THREE, "T-4": ONE},
    "400 V 3 ph (T-1, T-2), 230 V 1 ph (T-3, T-4)": {"T-1": THREE, "T-2": THREE, "T-3": ONE, "T-4": ONE},
    "400 V 3 ph (T-1 to T-2) 230 V 1 ph (T-3 to T-4)": {"T-1": THREE, "T-2": THREE, "T-3": ONE, "T-4": ONE},
    "400 V 3 ph: T-1 and T-2; 230 V 1 ph: T-3 and T-4": {"T-1": THREE, "T-2": THREE, "T-3": ONE, "T-4": ONE},
    "Heizkörper 400 V Drehstrom, mit X gekennzeichnete 230 V Wechselstrom": {"T-1": THREE, "T-2": ONE, "T-3": THREE, "T-4": THREE},
    "Résistances en 400 V triphasé sauf T-3 en 230 V monophasé": {"T-1": THREE, "T-2": THREE, "T-3": ONE, "T-4": THREE},
    "T-1 a 230 V monofásica, T-2 en adelante a 400 V trifásica, excepto las marcadas con X, que van a 690 V trifásica": {
        "T-1": ONE, "T-2": HIGH, "T-3": THREE, "T-4": THREE,
    },
    "T-4 a 230 V monofase, tutte le altre 400 V trifase": {"T-1": THREE, "T-2": THREE, "T-3": THREE, "T-4": ONE},
    "Voeding 400 V 3 fase, behalve T-3 en T-4: 230 V 1 fase": {"T-1": THREE, "T-2": THREE, "T-3": ONE, "T-4": ONE},
    "Napięcie 400 V trójfazowe, oprócz T-3: 230 V jednofazowe": {"T-1": THREE, "T-2": THREE, "T-3": ONE, "T-4": THREE},
    "T-1 a T-3 230 V jednofázově, ostatní vany 400 V třífázově": {"T-1": ONE, "T-2": THREE, "T-3": ONE, "T-4": THREE},
    "Resistências 400 V trifásica, T-3 e T-4 230 V monofásica": {"T-1": THREE, "T-2": THREE, "T-3": ONE, "T-4": ONE},
    "Alle 400 V trefaset, undtagen T-3 og T-4: 230 V enfaset": {"T-1": THREE, "T-2": THREE, "T-3": ONE, "T-4": ONE},
    "400 V trefas i T-1–T-3, 230 V enfas i T-4": {"T-1": THREE, "T-2": THREE, "T-3": THREE, "T-4": ONE},
    "All heaters 400 V 3-phase except T-3": {"T-1": THREE, "T-2": THREE, "T-4": THREE},  # of T-3 nothing is said
    # what is not understood whole says nothing of any row
    "Heaters of more than 3 kW 400 V 3 ph, T-4 230 V 1 ph": {},
    "T-1 400 V 3 ph, and 230 V 1 ph": {},
    "Heaters on panel MCC-A 400 V 3 ph, T-4 230 V 1 ph": {},
    "T-1 to T-3 in 2027 400 V 3 ph, T-4 230 V 1 ph": {},
    "T-1 and T-2 400 V 3 ph, the old supply of T-4 was 230 V 1 ph": {},
    "T-1 to T-3 400 V 3 ph, T-4 230 V 1 ph?": {},
    "Filter pumps of T-1 to T-3 400 V 3 ph, T-4 230 V 1 ph": {},
    "Lighting of T-1 to T-3 400 V 3 ph, T-4 230 V 1 ph": {},
    "Heat tracing of T-1 to T-3 400 V 3 ph, T-4 230 V 1 ph": {},
}  # fmt: skip


@pytest.mark.parametrize("sentence", TOLD)
def test_a_sentence_tells_the_supply_of_each_row(sentence: str, tmp_path: Path) -> None:
    job = read_list(tmp_path, ["Immersion heaters"], [sentence], [], HEAD, *rows_of("T-1", "T-2", "T-3", "T-4", marked="T-2", mark="X"))
    assert supplies(job) == TOLD[sentence]


def test_numbers_of_baths_and_a_mark_behind_the_tag(tmp_path: Path) -> None:
    told = ["Bäder 1 bis 3 400 V Drehstrom, Bad 4 230 V Wechselstrom, mit (*) gekennzeichnete 690 V Drehstrom"]
    job = read_list(tmp_path, told, [], ["Pos", "Bad", "Anzahl", "kW je Stück"], [11, "1", 2, 6], [12, "2 (*)", 2, 6], [13, "4", 1, 2])
    assert supplies(job) == {"1": THREE, "2": HIGH, "4": ONE}


def test_a_note_with_a_mark_is_about_the_rows_that_bear_it(tmp_path: Path) -> None:
    rows = [["Tank", "Qty", "kW each"], ["A1", 2, 6], ["A6 2)", 2, 2], [], ["2) these 230 V single phase"]]
    job = read_list(tmp_path, ["All heaters 400 V 3-phase unless noted"], [], *rows)
    assert supplies(job) == {"A1": THREE, "A6": ONE}


def test_a_row_that_says_otherwise_than_the_sentence_is_asked(tmp_path: Path) -> None:
    rows = rows_of("T-1", "T-2", "T-3", marked="T-2", mark="230 V 1 ph")
    job = read_list(tmp_path, ["T-1 and T-3: 400 V 3 ph, T-2: 690 V 3 ph"], [], HEAD, *rows)
    assert supplies(job) == {"T-1": THREE, "T-3": THREE} and in_doubt(job)  # the two differ: asked


def test_a_cover_tells_the_supply_of_each_line(tmp_path: Path) -> None:
    told = "Linie 1 mit 400 V Drehstrom, Linie 2 mit 690 V Drehstrom; mit N gekennzeichnete 230 V Wechselstrom."
    cover = [["Anfrage Heizkörper"], [told]]
    head = ["Beh.", "Kz.", "Stk.", "kW je Stk."]
    sheets = {
        "Deckblatt": cover,
        "Linie 1": [head, ["1.01", "", 3, 9], ["1.02", "N", 1, 2]],
        "Linie 2": [head, ["2.01", "", 3, 12], ["2.02", "N", 1, 2]],
    }
    job = read_sheets(tmp_path, sheets)
    assert supplies(job) == {"1.01": THREE, "1.02": ONE, "2.01": HIGH, "2.02": ONE}
    assert all("sheet Deckblatt" in finding.message for finding in said(job, "supply-from-words"))


def test_what_was_told_is_said_and_goes_into_the_map_and_back(tmp_path: Path) -> None:
    rows = [["T-1 and T-2: 400 V 3 ph, T-3: 230 V 1 ph"], [], HEAD, *rows_of("T-1", "T-2", "T-3")]
    path = tmp_path / "list.xlsx"
    path.write_bytes(book({"Sheet1": rows}))
    alone = read(path)
    text = draft(path)
    assert "supply-from-words" in codes(alone) and supplies(alone) == {"T-1": THREE, "T-2": THREE, "T-3": ONE}
    assert supplies(read(path, column_map=parse_map(text, "m", "m"))) == supplies(alone)
    batch.size(path, tmp_path / "sized.xlsx")
    assert supplies(batch.check(tmp_path / "sized.xlsx").job) == supplies(alone)
