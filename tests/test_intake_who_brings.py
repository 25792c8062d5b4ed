"""Heaters that the owner buys or another trade brings are not ours: "compra do proprietário", "hot water unit by plumber"."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.remark_words import DOUBT, OUT, read_row_words
from batch.intake.scope_words import out_of_scope
from tests.test_intake_whose_and_upkeep import listed

BROUGHT = (
    "purchased by the owner", "by plumber", "landlord to supply", "Einkauf durch Betreiber", "vom Installateur", "achat du propriétaire",
    "par le plombier", "compra del propietario", "por el fontanero", "acquisto del committente", "a cura dell'idraulico",
    "compra do proprietário", "fora do nosso escopo", "pelo encanador", "aanschaf door eigenaar", "door de loodgieter",
    "zakup inwestora", "przez hydraulika", "inköps av kunden", "av rörmokaren", "innkjøpes av eieren", "av rørlegger", "indkøbes af kunden",
    "af VVS-installatøren", "nákup investora", "dodá majitel", "hors de notre fourniture", "nie w naszym zakresie",
)  # fmt: skip


@pytest.mark.parametrize("remark", BROUGHT)
def test_what_the_owner_buys_or_another_trade_brings_is_not_asked_for(remark: str) -> None:
    assert read_row_words(remark).fate == OUT


@pytest.mark.parametrize("remark", [
    "water piping by plumber", "thermostat by plumber", "Anschluss durch Installateur", "Wasseranschluss vom Klempner",
])  # fmt: skip
def test_what_the_plumber_does_beside_the_heater_is_no_word_about_it(remark: str) -> None:
    assert read_row_words(remark).fate != OUT


def test_the_electrician_wires_and_brings_no_heater() -> None:
    assert out_of_scope("wired by the electrician") == ()


def test_a_row_that_the_plumber_brings_is_left_out_and_said(tmp_path: Path) -> None:
    rows = [["T1", 2, 6, 415, 3, ""], ["T2", 1, 3.6, 240, 1, "storage hot water unit by plumber"], ["T3", 3, 9, 415, 3, ""]]
    job = listed(tmp_path, ["Tank", "Qty", "kW each", "Volts", "Ph", "Comments"], *rows)
    assert [bank.tank for bank in job.banks] == ["T1", "T3"]


MORE_OUT = (
    "liefert Kunde", "stellt der Kunde", "anderes Los", "reste en place", "à la charge du MOA", "resta in opera", "a carico di terzi",
    "suministra el cliente", "otro lote", "será mantido", "buiten scope", "klant levert", "do usunięcia", "dostawa obca",
    "av byggherren", "blir stående", "bliver siddende", "af bygherren", "dodává zákazník", "není součástí", "müşteri temin edecek",
    "mevcut kalacak", "outside scope", "not included",
)  # fmt: skip
MORE_DOUBT = (
    "Rückfrage Kunde", "2. Bauabschnitt", "à demander au client", "da valutare", "falta dato", "sin placa", "em aberto", "dúvida",
    "não se usa mais",
    "nog onbekend", "navraag klant", "do określenia", "brak danych", "uppgift saknas", "inte bestämt", "mangler opplysning", "formentlig",
    "chybí údaj", "není jasné", "netleşecek", "teyit edilecek", "belki", "check on site", "queried with client",
)  # fmt: skip


@pytest.mark.parametrize("remark", MORE_OUT)
def test_what_the_customer_keeps_or_brings_in_the_words_of_each_trade(remark: str) -> None:
    assert read_row_words(remark).fate == OUT


@pytest.mark.parametrize("remark", MORE_DOUBT)
def test_what_is_to_be_settled_in_the_words_of_each_trade(remark: str) -> None:
    assert read_row_words(remark).fate == DOUBT


@pytest.mark.parametrize(
    "remark",
    ["SUPPLIED AND WIRED BY OTHERS", "supply and install by others", "wired and supplied by owner", "fourni et câblé par le client",
     "Lieferung und Montage bauseits", "suministro e instalación por otros"],
)  # fmt: skip
def test_whoever_wires_or_sets_what_they_bring_brings_the_heaters(remark: str) -> None:
    assert read_row_words(remark).fate == OUT


@pytest.mark.parametrize(
    "remark",
    ["wired by others", "installed by others", "piping supplied and installed by others", "thermostat furnished and wired by others"],
)
def test_what_is_done_to_heaters_or_brought_beside_them_takes_none_out(remark: str) -> None:
    assert not read_row_words(remark).fate


@pytest.mark.parametrize(
    "remark", ["NO. OF HTRS BY MANUFACTURER", "Qty by vendor", "kW by supplier", "Anzahl bauseits", "nombre par le client"]
)
def test_who_says_how_many_or_how_strong_they_are_leaves_the_row_open(remark: str) -> None:
    """And takes no heater out."""
    assert read_row_words(remark).fate == DOUBT
