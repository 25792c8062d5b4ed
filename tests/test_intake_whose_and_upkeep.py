"""Rows whose heaters the buyer brings, rows of upkeep, a question in a remark, and numbered notes on a sheet of their own, one small list a
rule. All plants and figures are invented."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from batch.intake.described import described
from batch.records import Job
from tests.intake_book import DOUBTS, book, read_bytes

HEAD = ["Tank", "Qty", "kW each", "Volts", "Ph", "Remarks"]


def listed(folder: Path, *rows: Sequence[object], **more: list) -> Job:
    return read_bytes(folder, book({"Sheet1": list(rows), **more}))


def with_remark(folder: Path, remark: str) -> Job:
    return listed(folder, HEAD, ["T-1", 2, 9, 480, 3], ["T-2", 3, 9, 480, 3, remark], ["T-3", 2, 6, 480, 3])


@pytest.mark.parametrize(
    "remark",
    [
        "CUST SUPPLIED", "owner-furnished", "provided by client", "supplied by the end user", "fornitura cliente",
        "fornite dal committente",
        "Lieferung Kunde", "vom AG gestellt", "fourniture client", "fournis par l'exploitant", "suministro cliente",
        "suministrado por la propiedad", "levering klant", "door de klant geleverd", "dostawa inwestora", "po stronie zamawiającego",
        "fornecimento cliente", "leveres av kunden", "dodávka investora",
    ],
)  # fmt: skip
def test_heaters_that_the_buyer_brings_are_not_sized(tmp_path: Path, remark: str) -> None:
    assert [one.tank for one in with_remark(tmp_path, remark).banks] == ["T-1", "T-3"]


@pytest.mark.parametrize("title", ["Site supply 480 V 3 ph", "Plant supply: 480/3/60", "Customer supply voltage 480 V"])
def test_a_supply_of_electricity_is_nothing_that_the_buyer_brings(tmp_path: Path, title: str) -> None:
    job = listed(tmp_path, [title], HEAD[:5], ["T-1", 2, 9, 480, 3], ["T-2", 3, 9, 480, 3])
    assert [one.tank for one in job.banks] == ["T-1", "T-2"]


@pytest.mark.parametrize(
    "remark",
    [
        "FROM STOCK - DO NOT BUY", "descale heaters", "megger heaters", "Heizer entkalken", "Isolationsmessung Heizer",
        "Détartrer thermoplongeurs", "Contrôle isolement thermoplongeurs", "no comprar", "descalcificar resistencias",
        "disincrostare resistenze", "non ordinare", "verwarmers ontkalken", "niet bestellen", "odkamienić grzałki", "nie kupować",
        "Replace? - decide after the holidays", "dont need any",
    ],
)  # fmt: skip
def test_upkeep_what_is_not_to_be_bought_and_a_question_are_asked_about(tmp_path: Path, remark: str) -> None:
    job = with_remark(tmp_path, remark)
    assert [one.tank for one in job.banks] == ["T-1", "T-3"] and [one.tank for one in job.unread] == ["T-2"]


def test_a_question_behind_a_whole_sentence_is_none_about_the_row(tmp_path: Path) -> None:
    assert len(with_remark(tmp_path, "who is the foreman of the second shift over there now?").banks) == 3


def test_what_heaters_are_to_stay_away_from_is_no_equipment(tmp_path: Path) -> None:
    head = ["Sta.", "Solution", "Heaters", "kW each", "Volts", "Ph", "Comments"]
    job = listed(tmp_path, head, ["1", "Soak", 2, 9, 480, 3], ["2", "Zinc", 3, 9, 480, 3, "stay off anodes"], ["3", "Seal", 2, 6, 480, 3])
    assert [one.tank for one in job.banks] == ["1", "2", "3"]


NOTED = [
    ["Tank", "Qty", "kW each", "Supply", "Notes"],
    ["T-1", 2, 9, None, "1, 2"],
    ["T-2", 3, 9, None, "1, 3"],
    ["T-3", 2, 6, "230V 1ph", 2],
    ["T-4", 2, 6, None, 4],
]
NOTES = [
    ["Notes to the schedule"],
    [1, "All heaters 400V, 3 phase, 50Hz unless stated otherwise in the Supply column."],
    [2, "Rating given is per heater."],
    [3, "HOLD - rating provisional, not to be ordered until confirmed."],
    [4, "Heaters provided with the tank by the tank supplier. Excluded from this package."],
]


def test_numbered_notes_on_a_sheet_of_their_own_are_heard(tmp_path: Path) -> None:
    job = listed(tmp_path, *NOTED, Notes=NOTES)
    assert [(one.tank, one.volts_v, one.phases) for one in job.banks] == [("T-1", 400, 3), ("T-3", 230, 1)]
    assert [one.tank for one in job.unread] == ["T-2", "T-4"]


def test_numbers_below_another_heading_are_not_of_notes(tmp_path: Path) -> None:
    job = listed(tmp_path, [*NOTED[0][:4], "Depth (ft)"], *([*row[:4], 4] for row in NOTED[1:]), Notes=NOTES)
    assert len(job.banks) == len(NOTED) - 1


def test_a_list_whose_cells_of_the_supply_are_all_filled_takes_none_from_a_sheet_of_notes(tmp_path: Path) -> None:
    filled = [[*row[:3], row[3] or "480V 3ph"] for row in NOTED[1:]]
    job = listed(tmp_path, NOTED[0][:4], *filled, Notes=NOTES[:3])
    assert {one.volts_v for one in job.banks} == {480, 230}
    assert not any(one.code == "supply-from-words" for one in job.findings)


TENDER = [
    ["Netz 400 V 3~ 50 Hz. Leistungsangaben je Heizkörper."],
    ["Pos.", "Kurztext", "Menge", "ME", "Leistung kW", "EP EUR"],
    ["02.01.0010", "Badheizer B01 Entfettung", 3, "Stck", 9],
    ["02.01.0020", "Badheizer B02 Beize", 2, "Stck", 4.5],
    ["02.01.0030", "Niveausonde B01, B02", 2, "Stck", None],
    ["02.01.0040", "Badheizer B05 Zinkphosphat", 4, "Stck", 7.5],
    ["02.01.0050", "Badheizer B06 Zinkphosphat", 4, "Stck", 7.5],
    ["02.01.0060", "Badheizer B08 Passivierung", 1, "Stck", 3],
]


def test_a_tank_named_right_behind_the_word_for_its_heater(tmp_path: Path) -> None:
    found = [(one.tank, one.quantity) for one in listed(tmp_path, *TENDER).banks]
    assert found == [("B01", 3), ("B02", 2), ("B05", 4), ("B06", 4), ("B08", 1)]


@pytest.mark.parametrize(
    "remark",
    ["total power of the tank", "Leistung gesamt", "puissance totale de la cuve", "potencia total", "moc łączna", "open delta",
     "derate to half power", "relocate from line 2", "18 je Stück oder zusammen? Wert kam so",
     "changés en 2023, ne pas remplacer", "nicht austauschen"],
)  # fmt: skip
def test_remarks_by_which_a_row_is_another_are_asked_about(tmp_path: Path, remark: str) -> None:
    assert [one.tank for one in with_remark(tmp_path, remark).unread] == ["T-2"]


def test_a_power_of_both_heaters_of_one_is_asked_about(tmp_path: Path) -> None:
    rows = [["T-1", 2, 9, 480, 3], ["T-2", 1, 9, 480, 3, "power is for both heaters"], ["T-3", 2, 6, 480, 3, "both heaters on this side"]]
    assert [one.tank for one in listed(tmp_path, HEAD, *rows).banks] == ["T-1", "T-3"]


def test_a_power_that_its_cell_says_is_of_each_is_none_of_all(tmp_path: Path) -> None:
    head = ["Tank", "Qty", "Total kW", "Volts", "Ph"]
    job = listed(tmp_path, head, ["T-1", 3, 45, 480, 3], ["T-2", 2, "9 EA", 480, 3], ["T-3", 4, 60, 480, 3])
    assert [one.power_kw for one in job.banks] == [15, 9, 15]


def test_cells_that_each_say_what_their_power_is_of_leave_nothing_open(tmp_path: Path) -> None:
    head = ["Tank", "Contents", "How many", "kW", "Comments"]
    title = "Everything is 415V three phase unless I have said otherwise."
    rows = [["1", "degreaser", 2, "12 each"], ["6", "flux", 3, "27 total"], ["9", "passivate", 1, "3 each", "240V single phase"]]
    job = listed(tmp_path, [title], head, *rows, [], ["Also 1 off 4kW 240V single phase heater for the small strip tank in the lab."])
    assert [(one.power_kw, one.volts_v) for one in job.banks] == [(12, 415), (9, 415), (3, 240)]


def test_a_position_that_is_not_used_is_no_title_of_those_below(tmp_path: Path) -> None:
    head = ["Ref", "Tank", "Service", "No. off", "kW per heater", "Supply"]
    rows = [["E/01", "A02", "clean", 2, 18, "400/3/50"], ["E/02", None, "NOT USED"], ["E/03", "A11", "seal", 1, 6, "400/3/50"]]
    assert [one.tank for one in listed(tmp_path, head, *rows).banks] == ["A02", "A11"]


def test_numbers_of_notes_without_a_space_between_them(tmp_path: Path) -> None:
    rows = [["T-1", 2, 9, None, "1,2"], ["T-2", 3, 9, None, "1,2,3"], ["T-3", 2, 6, "230V 1ph", "2"]]
    assert [one.tank for one in listed(tmp_path, NOTED[0], *rows, Notes=NOTES).banks] == ["T-1", "T-3"]


@pytest.mark.parametrize("text", [
    "Vat 5 chrome immersion htr", "Bac 5 chrome thermoplongeur", "Wanne 5 Nickel Tauchheizer", "Vessel 5 hot rinse heater",
    "Stage 5 hot rinse heater", "Cell 5 immersion heater", "Tank 5 immersion heater",
])  # fmt: skip
def test_the_number_of_a_tank_counts_no_heaters(text: str) -> None:
    assert "quantity" not in described(text).facts


@pytest.mark.parametrize("remark", ["existing 2, add 1", "2 existing, need one more", "vorhanden 2, noch 1", "existants, ajouter 1"])
def test_what_is_there_and_to_be_added_to_is_asked_about(tmp_path: Path, remark: str) -> None:
    assert [one.tank for one in with_remark(tmp_path, remark).unread] == ["T-2"]
    assert any(one.code in DOUBTS for one in with_remark(tmp_path, remark).findings)
