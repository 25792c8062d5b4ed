"""Lists of an inspection and of who is not sure: rows that are well, guesses, either of two voltages, heaters in no bath. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.supply_notation import read_supply
from tests.test_intake_plain_lists import HEAD, heaters, read_list

INSPECTED = ["Tank", "Qty", "kW each", "Volts", "Ph", "Action"]


def tanks(folder: Path, *rows: list[object]) -> list[str | None]:
    return [bank.tank for bank in read_list(folder, *rows).banks]


def remarked(folder: Path, remark: str, quantity: int = 2) -> list[str | None]:
    """The tanks that are sized of three, of which the second has the remark."""
    rows: list[list[object]] = [["T-1", 2, 9, 480, 3, ""], ["T-2", quantity, 9, 480, 3, remark], ["T-3", 1, 6, 480, 3, ""]]
    return tanks(folder, HEAD, *rows)


@pytest.mark.parametrize(
    ("well", "renewed"),
    [("OK", "REPLACE"), ("i. O.", "austauschen"), ("RAS", "à remplacer"), ("i orden", "udskiftes"), ("v pořádku", "k výměně")],
)
def test_rows_that_are_well_beside_rows_to_be_renewed_are_asked(well: str, renewed: str, tmp_path: Path) -> None:
    rows: list[list[object]] = [
        ["T-1", 2, 9, 480, 3, well], ["T-2", 1, 6, 480, 3, renewed], ["T-3", 2, 6, 480, 3, well], ["T-4", 1, 9, 480, 3, well],
        ["T-5", 1, 9, 480, 3, f"{renewed} - low megger"], ["T-6", 1, 3, 480, 3, well],
    ]  # fmt: skip
    assert tanks(tmp_path, INSPECTED, *rows) == ["T-2", "T-5"]


def test_what_is_neither_well_nor_renewed_is_asked_where_nearly_every_row_is(tmp_path: Path) -> None:
    rows: list[list[object]] = [["T-1", 2, 9, 480, 3, "OK"], ["T-2", 1, 6, 480, 3, "REPLACE"], ["T-3", 2, 6, 480, 3, "REPLACE"]]
    rows += [["T-4", 1, 9, 480, 3, "OK"], ["T-5", 1, 9, 480, 3, ""]]
    assert tanks(tmp_path, INSPECTED, *rows) == ["T-2", "T-3"]


def test_rows_that_are_well_stand_where_none_is_to_be_renewed(tmp_path: Path) -> None:
    rows: list[list[object]] = [["T-1", 2, 9, 480, 3, "OK"], ["T-2", 1, 6, 480, 3, "OK"], ["T-3", 1, 6, 480, 3, ""]]
    assert tanks(tmp_path, INSPECTED, *rows) == ["T-1", "T-2", "T-3"]


@pytest.mark.parametrize("remark", ["one dead", "open element", "1 burnt out", "ein Stab defekt", "une grillée", "jeden přepálený"])
def test_one_of_several_that_has_failed_leaves_open_how_many_are_wanted(remark: str, tmp_path: Path) -> None:
    assert remarked(tmp_path, remark) == ["T-1", "T-3"]
    assert remarked(tmp_path, remark, quantity=1) == ["T-1", "T-2", "T-3"]


@pytest.mark.parametrize("remark", ["one dead, change all 3", "ein Stab defekt, alle tauschen"])
def test_one_that_has_failed_and_all_are_changed(remark: str, tmp_path: Path) -> None:
    assert remarked(tmp_path, remark, quantity=3) == ["T-1", "T-2", "T-3"]


@pytest.mark.parametrize("remark", ["low megger", "failed megger", "Isolation schlecht", "aislamiento bajo", "nízká izolace"])
def test_a_bad_measurement_is_why_a_heater_is_renewed(remark: str, tmp_path: Path) -> None:
    """ "megger" alone is work on a heater that stays."""
    assert remarked(tmp_path, remark) == ["T-1", "T-2", "T-3"]
    assert remarked(tmp_path, "megger") == ["T-1", "T-3"]


@pytest.mark.parametrize(
    "remark",
    ["guess", "I think", "roughly 9 kW", "have to check what voltage", "assumed", "geschätzt", "je crois", "a ojo", "credo", "ik denk",
     "chyba 9 kW", "acho", "anslået", "jeg tror", "odhad", "not 100% sure", "sauf erreur", "se non sbaglio", "pokud se nemýlím"],
)  # fmt: skip
def test_what_somebody_guesses_is_asked(remark: str, tmp_path: Path) -> None:
    assert remarked(tmp_path, remark) == ["T-1", "T-3"]


@pytest.mark.parametrize("remark", ["roughly 30 ft to the door", "need to check the lid"])
def test_a_guess_at_something_else_is_not(remark: str, tmp_path: Path) -> None:
    assert remarked(tmp_path, remark) == ["T-1", "T-2", "T-3"]


@pytest.mark.parametrize(
    "remark",
    ["confirm tank is staying", "tank may go", "bitte prüfen ob Becken bleibt", "à vérifier si la cuve reste", "verificar si cuba queda"],
)
def test_whether_a_tank_stays_is_about_its_heaters(remark: str, tmp_path: Path) -> None:
    assert remarked(tmp_path, remark) == ["T-1", "T-3"]


@pytest.mark.parametrize("supply", ["220 or 440 V", "230 oder 400 V", "230 V ou 400 V", "208 or 240V", "230 bzw. 400 V"])
def test_either_of_two_voltages_is_asked(supply: str, tmp_path: Path) -> None:
    """230 and 400 are a pair between strokes, and two supplies with an "or" between them."""
    said = read_supply(supply)
    assert said is not None and not said.sure
    rows: list[list[object]] = [["T-1", 2, 9, 480, 3], ["T-2", 2, 9, supply, 3], ["T-3", 1, 6, 480, 3]]
    assert tanks(tmp_path, HEAD[:5], *rows) == ["T-1", "T-3"]


@pytest.mark.parametrize("name", ["Blow-off", "Dry off", "Drum, silicone band", "Abblaszone", "Zone de séchage", "Soffiatura", "Ofuk"])
@pytest.mark.parametrize("count", ["Qty", "Heaters"])
def test_heaters_that_stand_in_no_bath_are_not_sized_as_those_of_tanks(name: str, count: str, tmp_path: Path) -> None:
    rows: list[list[object]] = [["1", "Cleaner", 2, 9, 480, 3], ["2", "Rinse", 1, 6, 480, 3], ["3", name, 1, 9, 480, 3]]
    rows += [["4", "Phosphate", 2, 6, 480, 3]]
    job = read_list(tmp_path, ["Tank", "Process", count, "kW each", "Volts", "Ph"], *rows)
    assert heaters(job) == [("1", 2, 9, 480, 3), ("2", 1, 6, 480, 3), ("4", 2, 6, 480, 3)]


@pytest.mark.parametrize("name", ["Trockenofen", "Étuve", "Secadero", "Essiccatore", "Droger", "Suszarka", "Tørreovn", "Sušárna", "Fırın"])
def test_a_dryer_is_no_name_of_a_bath(name: str, tmp_path: Path) -> None:
    """Though its row counts heaters: they are in air."""
    rows: list[list[object]] = [["1", "Cleaner", 2, 9, 400, 3], ["2", "Rinse", 1, 6, 400, 3], ["3", name, 1, 9, 400, 3]]
    rows += [["4", "Phosphate", 2, 6, 400, 3]]
    assert tanks(tmp_path, ["Tank", "Process", "Heaters", "kW each", "Volts", "Ph"], *rows) == ["1", "2", "4"]


def test_under_heater_description_a_row_need_not_say_heater(tmp_path: Path) -> None:
    head = ["Tank", "Heater description", "Qty", "kW each", "Volts", "Ph"]
    rows: list[list[object]] = [
        ["A-1", "Over-the-side, steel", 2, 9, 480, 3], ["A-2", "Bottom, PTFE, with guard", 1, 4, 240, 1],
        ["A-3", "Drum heater, silicone band", 2, 1.2, 120, 1], ["A-4", "Over-the-side, steel", 2, 9, 480, 3],
    ]  # fmt: skip
    assert tanks(tmp_path, head, *rows) == ["A-1", "A-2", "A-4"]


def test_marks_below_a_dash_repeat_nothing_from_above_it(tmp_path: Path) -> None:
    rows: list[list[object]] = [
        ["T-1", 2, 9, 480, 3, ""], ["T-2", "-", "-", "-", "-", "rinse"], ["T-3", "ditto", "ditto", "ditto", "ditto", ""],
        ["T-4", 1, 6, 480, 3, ""],
    ]  # fmt: skip
    assert tanks(tmp_path, HEAD, *rows) == ["T-1", "T-4"]


def test_one_that_has_failed_is_one_of_the_old_where_the_new_are_given(tmp_path: Path) -> None:
    """Beside a list that has no columns of what is to be, one of several that failed is asked about."""
    head: list[object] = ["Tank", "Existing qty", "Existing kW ea", "New qty", "New kW ea", "Volts", "Ph", "Comments"]
    said = "one of the old ones burned out in Feb"
    rows: list[list[object]] = [["T-1", 2, 9, 3, 12, 480, 3, None], ["T-2", 4, 9, 4, 12, 480, 3, said], ["T-3", 2, 9, 2, 12, 480, 3, None]]
    assert heaters(read_list(tmp_path, head, *rows)) == [("T-1", 3, 12, 480, 3), ("T-2", 4, 12, 480, 3), ("T-3", 2, 12, 480, 3)]
    assert remarked(tmp_path, said) == ["T-1", "T-3"]
