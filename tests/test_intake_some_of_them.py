"""Remarks by which some of a row's heaters are wanted, or none yet, and tabs of what is not bought yet: asked about, or taken out."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.fewer_wanted import fewer_wanted
from tests.intake_book import book, codes, read_bytes, said

HEAD = ["Tank", "Process", "Qty", "kW each", "Volts", "Ph", "Remarks"]


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("Replace 1 of 3", 1), ("replace 2 of 4 only", 2), ("Replace 3 of 5", 3), ("2 von 4 ersetzen", 2), ("ersetzen 2 von 4", 2),
        ("remplacer 1 de 3", 1), ("sostituire 2 su 4", 2), ("vervangen 1 van 3", 1), ("page 1 of 3", 0), ("replace all 3", 0),
        ("remplacer 1 thermoplongeur sur 3", 1), ("1 sur 3 à remplacer", 1), ("1 van de 3 vervangen", 1), ("2 di 3 da sostituire", 2),
        ("1 de las 3 a cambiar", 1), ("2 z 3 do wymiany", 2), ("1 av 3 byts", 1), ("1 af de 3 udskiftes", 1), ("1 ze 3 vyměnit", 1),
        ("2 de 3 a trocar", 2), ("3 ısıtıcıdan 2'si değiştirilecek", 2), ("einen von drei ersetzen", 1), ("2 of 3 to be renewed", 2),
        ("2 von 3 defekt", 2), ("1 of 3 needed", 1), ("phase 1 of 3", 0), ("3 von 3 ersetzen", 0), ("1 Stk. tauschen", 1),
        ("nur 1 Heizer ersetzen", 1), ("1 Thermostat ersetzen", 0), ("replace heater only", 0),
        ("only replace the left one", 1), ("nur den linken ersetzen", 1), ("remplacer seulement celui de gauche", 1), ("replace half", 1),
        ("replace the left one and the right one", 0),
        ("all but one to be replaced", 1), ("all except the left", 1), ("alle bis auf einen ersetzen", 1), ("1 of 3 thermostats", 0),
    ],
)  # fmt: skip
def test_some_of_several(text: str, number: int) -> None:
    assert fewer_wanted(text) == number


@pytest.mark.parametrize(
    "remark",
    ["Replace 1 of 3", "not inspected yet", "may need one or two", "noch nicht geprüft", "nie sprawdzono",
     "2 von 3 ersetzen", "remplacer 1 sur 3", "1 van de 3 vervangen", "1 de las 3 a cambiar", "1 di 3 da sostituire"],
)  # fmt: skip
def test_a_row_of_which_some_may_be_wanted_is_asked_about(tmp_path: Path, remark: str) -> None:
    rows = [["T-1", "Etch", 3, 9, 480, 3, remark], ["T-2", "Seal", 3, 9, 480, 3, None]]
    job = read_bytes(tmp_path, book({"Sheet1": [HEAD, *rows]}))
    assert [bank.tank for bank in job.banks] == ["T-2"] and {"row-in-doubt", "row-figures-open"} & codes(job)


@pytest.mark.parametrize("remark", ["Not accepted", "declined", "Nicht angenommen", "non retenue", "rifiutata", "afgewezen", "odrzucone"])
def test_what_is_not_accepted_is_out(tmp_path: Path, remark: str) -> None:
    rows = [["T-1", "Etch", 3, 9, 480, 3, remark], ["T-2", "Seal", 3, 9, 480, 3, None]]
    job = read_bytes(tmp_path, book({"Sheet1": [HEAD, *rows]}))
    assert [bank.tank for bank in job.banks] == ["T-2"] and "row-taken-out" in codes(job)


@pytest.mark.parametrize("title", ["Options (kW per heater, 400V 3ph)", "OPTIONS", "Optionen", "Opciones", "Opzioni", "Opcje"])
def test_a_table_of_options_is_asked_about(tmp_path: Path, title: str) -> None:
    own = [HEAD[:-1], ["T-1", "Etch", 3, 9, 480, 3], ["T-2", "Seal", 3, 9, 480, 3]]
    more = [[title], HEAD[:-1], ["T-8", "Tin", 2, 6, 480, 3], ["T-9", "Silver", 1, 6, 480, 3]]
    job = read_bytes(tmp_path, book({"Tanks": own, "More": more}))
    assert [bank.tank for bank in job.banks] == ["T-1", "T-2"] and len(said(job, "row-in-doubt")) == 2
