"""Supplies told by the size of a heater, beside a list or on a cover. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

import batch
from batch.intake import read
from batch.intake.column_map import parse_map
from batch.intake.map_draft import draft
from tests.intake_book import book, read_sheets
from tests.test_intake_plain_lists import codes, read_list
from tests.test_intake_supply_groups import supplies

HEAD: list[object] = ["Item", "Tank", "Qty", "kW each"]
ROWS: list[list[object]] = [[11, "A", 2, 9], [12, "B", 1, 4], [13, "C", 3, 1.5]]
BIG, SMALL = (400.0, 3), (230.0, 1)
BY_4 = {"A": BIG, "B": BIG, "C": SMALL}
WITH_4 = {"A": BIG, "B": SMALL, "C": SMALL}

TOLD: dict[str, dict[str, tuple[float, int]]] = {
    "Mains is 400 V 3-phase, 50 Hz. Heaters under 4 kW are connected 230 V 1-phase.": BY_4,
    "All heaters 400 V 3 ph except those under 4 kW, which are 230 V 1 ph": BY_4,
    "4 kW and under: 230 V 1 ph; all others 400 V 3 ph": WITH_4,
    "400 V 3 ph for heaters over 4 kW, 230 V 1 ph for the rest": WITH_4,
    "230 V 1 ph up to 4 kW, 400 V 3 ph from 6 kW": WITH_4,
    "1500 W and smaller 230 V 1 ph, larger ones 400 V 3 ph": BY_4,
    "All 9 kW heaters 400 V 3 ph, the others 230 V 1 ph": {"A": BIG, "B": SMALL, "C": SMALL},
    "Netz 400 V Drehstrom, Heizkörper bis 4 kW 230 V Wechselstrom": WITH_4,
    "Résistances de moins de 4 kW : 230 V monophasé, les autres 400 V triphasé": BY_4,
    "Resistencias de 4 kW o menos a 230 V monofásica, el resto a 400 V trifásica": WITH_4,
    "Grzałki poniżej 4 kW 230 V jednofazowe, pozostałe 400 V trójfazowe": BY_4,
    "Värmare över 4 kW 400 V trefas, övriga 230 V enfas": WITH_4,
    "Heaters under 4 kW 230 V 1 ph": {"C": SMALL},  # of the others nothing is said
    "From 4 kW 400 V 3 ph, up to 4 kW 230 V 1 ph": {"A": BIG, "C": SMALL},  # of 4 kW both are said
    # what is not understood whole says nothing of any row
    "400 V 3 ph, under 4 kW, 230 V 1 ph": {},
    "Heaters under 4 kW 230 V 1 ph?": {},
    "Tanks under 4 kW total 230 V 1 ph, all others 400 V 3 ph": {},
    "Pumps under 4 kW 230 V 1 ph, all others 400 V 3 ph": {},
    "Control voltage 230 V 1 ph; heaters over 4 kW 400 V 3 ph": {},
    "Under 4 kW 230 V 1 ph and B2 400 V 3 ph": {},
    "Old heaters under 4 kW were 230 V 1 ph, now 400 V 3 ph": {},
}


@pytest.mark.parametrize("sentence", TOLD)
def test_a_sentence_tells_the_supply_of_each_size(sentence: str, tmp_path: Path) -> None:
    job = read_list(tmp_path, ["Immersion heaters"], [sentence], [], HEAD, *ROWS)
    assert supplies(job) == TOLD[sentence]


def test_two_sentences_and_rows_that_say_their_volts(tmp_path: Path) -> None:
    head = [*HEAD, "Volts", "Ph"]
    rows = [[11, "A", 2, 9, "", ""], [12, "B", 1, 3, "", ""], [13, "C", 3, 3, 480, 3], [14, "D", 1, 3, "", 3]]
    job = read_list(tmp_path, ["All heaters are 480 V 3-phase."], ["Heaters of 3 kW or less are 240 V 1-phase."], [], head, *rows)
    assert supplies(job) == {"A": (480.0, 3), "B": (240.0, 1), "C": (480.0, 3)}  # D says three phases, and the sentence one: asked


def test_the_size_is_that_of_one_heater(tmp_path: Path) -> None:
    told = "Heaters under 4 kW 230 V 1 ph, all others 400 V 3 ph"
    job = read_list(tmp_path, [told], [], ["Tank", "Qty", "Total kW"], ["A", 3, 9], ["B", 1, 9])
    assert supplies(job) == {"A": SMALL, "B": BIG}
    job = read_list(tmp_path, [told], ["Power is given per tank."], [], ["Tank", "Qty", "kW"], ["A", 3, 9], ["B", 1, 9])
    assert supplies(job) == {"A": SMALL, "B": BIG}


def test_a_cover_tells_it(tmp_path: Path) -> None:
    cover = [["Enquiry, immersion heaters"], ["All heaters 400 V 3 ph, except those under 4 kW which are 230 V 1 ph."]]
    job = read_sheets(tmp_path, {"Cover": cover, "Line 1": [HEAD, *ROWS]})
    assert supplies(job) == BY_4


def test_what_was_told_is_said_and_goes_into_the_map_and_back(tmp_path: Path) -> None:
    rows = [["Heaters under 4 kW 230 V 1 ph, all others 400 V 3 ph"], [], HEAD, *ROWS]
    path = tmp_path / "list.xlsx"
    path.write_bytes(book({"Sheet1": rows}))
    alone = read(path)
    assert "supply-from-words" in codes(alone) and supplies(alone) == BY_4
    assert supplies(read(path, column_map=parse_map(draft(path), "m", "m"))) == BY_4
    batch.size(path, tmp_path / "sized.xlsx")
    assert supplies(batch.check(tmp_path / "sized.xlsx").job) == BY_4
