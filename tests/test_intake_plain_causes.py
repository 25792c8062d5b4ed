"""Small causes by which plain lists were asked about whole: signs of a power, places of tanks, pieces, mains and shelves."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.descriptions import read_description
from batch.intake.heading_sense import names_an_oven
from batch.intake.remark_words import DOUBT, OUT, read_row_words
from batch.intake.vocabulary import vocabulary
from tests.test_intake_whose_and_upkeep import listed

SUPPLY = [400, 3]


def test_a_sign_with_kilowatts_is_no_price_and_no_part_number() -> None:
    first = vocabulary().heading_candidates("Pu (kW)")[0]
    assert (first.key, first.basis) == ("power_kw", "each")
    assert vocabulary().heading_candidates("Pn (kW)")[0].key == "power_kw"
    assert str(vocabulary().heading_candidates("PU")[0].key) in ("price", "power_kw")
    assert vocabulary().heading_candidates("P/N")[0].key == "maker"


@pytest.mark.parametrize("heading", ["Pos. vasca", "Pos. Bad", "Pos. cuve", "Tank pos.", "Item tank"])
def test_figures_with_gaps_under_places_of_tanks_are_tanks(tmp_path: Path, heading: str) -> None:
    head = [heading, "Descrizione", "Q.tà", "kW/cad", "V", "Fasi"]
    rows = [[3, "Sgrassatura", 2, 8], [4, "Sgrassatura", 2, 8], [8, "Decapaggio", 1, 4], [15, "Zinco", 3, 6]]
    job = listed(tmp_path, head, *([*row, *SUPPLY] for row in rows))
    assert [bank.tank for bank in job.banks] == ["3", "4", "8", "15"]


@pytest.mark.parametrize("text", [
    "2 pzas de 6 kW c/u", "2 piezas de 6 kW", "2 unidades de 6 kW", "2 pezzi da 6 kW cad.", "2 pezzi 6 kW", "2 adet 6 kW",
])  # fmt: skip
def test_pieces_of_a_power_are_counted(text: str) -> None:
    said = read_description(text)
    assert said.quantity is not None and said.quantity.value == 2
    assert said.power_kw is not None and said.power_kw.value == 6


HEAD = ["Bad", "Bezeichnung", "Anzahl", "Leistung je Heizer kW", "Spannung", "Bemerkung"]
FIVE = [5, "Nickel matt", 3, 9, "400 V 3~", ""]


def test_a_row_like_another_whose_figures_it_has_is_not_asked_about(tmp_path: Path) -> None:
    job = listed(tmp_path, HEAD, [3, "Beizen", 1, 4.5, "400 V 3~", ""], FIVE, [6, "Nickel Glanz", 3, 9, "400 V 3~", "wie Bad 5"])
    assert {bank.tank for bank in job.banks} == {"3", "5", "6"}


@pytest.mark.parametrize("six", [(3, 6, "wie Bad 5"), (2, 9, "wie Bad 5"), (3, 9, "siehe Bad 5")])
def test_a_row_like_another_with_other_figures_or_that_sends_there_is_asked_about(tmp_path: Path, six: tuple[int, int, str]) -> None:
    number, power, remark = six
    job = listed(tmp_path, HEAD, [3, "Beizen", 1, 4.5, "400 V 3~", ""], FIVE, [6, "Nickel Glanz", number, power, "400 V 3~", remark])
    assert {bank.tank for bank in job.banks} == {"3", "5"}


PIECES = ["Pos.", "Menge", "Einheit", "Beschreibung"]
FIRST = ["3.10", 2, "Stk", "Tauchheizer 6,0 kW, 400 V 3~, Edelstahl, für Bad 2"]
HEATER = ["3.20", 3, "Stk", "Tauchheizer 4,5 kW, 400 V 3~, PTFE, für Bad 7"]
PUMP = ["3.50", 1, "Stk", "Umwälzpumpe 1,1 kW, 400 V 3~, Bad 7"]


@pytest.mark.parametrize("word", ["dito, jedoch", "wie vor, aber", "dto., nur", "ditto but", "idem, mais"])
def test_ditto_with_a_but_takes_the_supply_of_the_heater_above(tmp_path: Path, word: str) -> None:
    job = listed(tmp_path, PIECES, FIRST, HEATER, ["3.30", 1, "Stk", f"{word} 3,0 kW, für Bad 9"], PUMP)
    banks = {bank.tank: (bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in job.banks}
    assert banks == {"Bad 2": (2, 6, 400, 3), "Bad 7": (3, 4.5, 400, 3), "Bad 9": (1, 3, 400, 3)}


def test_ditto_with_a_but_below_a_pump_is_no_heater(tmp_path: Path) -> None:
    job = listed(tmp_path, PIECES, FIRST, HEATER, PUMP, ["3.60", 1, "Stk", "dito, jedoch 3,0 kW, für Bad 9"])
    assert {bank.tank for bank in job.banks} == {"Bad 2", "Bad 7"}


@pytest.mark.parametrize("title", [
    "eksisterende bygg har IT-nett 3x230 V", "bestehendes Netz 3x400 V", "réseau existant 3x400 V", "rete esistente 400 V",
    "rede existente 380 V",
    "eksisterende nett 400 V", "istniejąca sieć 400 V", "existing mains 415 V", "stávající síť 400 V",
])  # fmt: skip
def test_a_hall_or_mains_that_exist_are_no_heaters_that_exist(title: str) -> None:
    assert read_row_words(title).fate != OUT


@pytest.mark.parametrize("remark", [
    "on the shelf", "auf Lager", "en magasin", "en almacén", "a magazzino", "em estoque", "op voorraad", "w magazynie", "i förråd",
    "på hylla", "på hylden", "na skladě", "refacciones",
])  # fmt: skip
def test_heaters_on_a_shelf_are_asked_about(remark: str) -> None:
    assert read_row_words(remark).fate == DOUBT


@pytest.mark.parametrize("heading", ["Vasca", "Vasca n."])
def test_a_tag_and_a_name_under_the_plain_word_for_a_tank(tmp_path: Path, heading: str) -> None:
    rows = [["T1 Sgrassatura", 2, 9], ["T2 Decapaggio", 1, 4.5], ["T3 Nichel", 3, 6], ["T4 Fissaggio", 1, 3]]
    job = listed(tmp_path, [heading, "Q.tà", "kW cad.", "V", "Fasi"], *([*row, *SUPPLY] for row in rows))
    assert [bank.tank for bank in job.banks] == ["T1", "T2", "T3", "T4"]


def test_places_of_tanks_go_before_names_of_baths(tmp_path: Path) -> None:
    rows = [["1.1", "Nickel", 1, 12], ["1.2", "Avfettning", 3, 4.5], ["1.3", "Nickel", 2, 6], ["1.4", "Betning", 3, 3]]
    job = listed(tmp_path, ["Kar/pos", "Bad", "St", "kW/st", "Spänning (V)", "Faser"], *([*row, *SUPPLY] for row in rows))
    assert [bank.tank for bank in job.banks] == ["1.1", "1.2", "1.3", "1.4"]


@pytest.mark.parametrize("name", [
    "Forno", "Suszarka", "Torkugn", "Tørreovn", "Tørkeovn", "Sušárna", "Étuve", "Trockenofen", "Horno", "Estufa de secagem", "Droogoven",
    "Kurutma fırını", "Drying oven",
])  # fmt: skip
def test_an_oven_is_no_bath_though_the_column_counts_heaters(tmp_path: Path, name: str) -> None:
    rows = [["B1", "Zn", 2, 6], ["B2", "Ni", 3, 9], ["B3", name, 1, 20], ["B4", "Cu", 1, 4.5], ["B5", "Ag", 2, 3]]
    job = listed(tmp_path, ["Tank", "Solution", "No. of heaters", "kW each", "Volts", "Ph"], *([*row, *SUPPLY] for row in rows))
    assert "B3" not in [bank.tank for bank in job.banks] and len(job.banks) == len(rows) - 1


def test_a_sump_of_a_dryer_is_no_dryer() -> None:
    assert names_an_oven("Forno di asciugatura") and names_an_oven("Drying oven") and not names_an_oven("Dryer sump")


@pytest.mark.parametrize(("heading", "key"), [
    ("N° resistenze", "quantity"), ("Nº uds.", "quantity"), ("Bac n°", "tank"), ("TQ", "tank"), ("Oss.", "notes"), ("Opm.", "notes"),
    ("Rem.", "notes"), ("Gesamt kW", "power_kw"), ("kW styck", "power_kw"),
])  # fmt: skip
def test_short_headings_of_each_language(heading: str, key: str) -> None:
    assert vocabulary().heading_candidates(heading)[0].key == key
