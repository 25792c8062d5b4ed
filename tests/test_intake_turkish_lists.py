"""Lists in Turkish are read as those in other languages; heating of covers and hoses heats no tank; marks that repeat are no headings."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.list_words import other_equipment
from tests.test_intake_whose_and_upkeep import listed


def test_a_turkish_list_of_baths(tmp_path: Path) -> None:
    """Heaters out of use, spares in the depot and a drying oven are none of it; what is to be settled is asked about."""
    head = ["Tank No", "Banyo", "Isıtıcı adedi", "Birim güç (kW)", "Toplam güç (kW)", "Gerilim", "Açıklama"]
    rows = [
        ["T1", "Sıcak yağ alma", 3, 6, 18, "400 V trifaze", ""], ["T3", "Durulama", "-", "-", "-", "-", "ısıtma yok"],
        ["T4", "Asit", 1, 4.5, 4.5, "400 V trifaze", "teflon"], ["T6", "Bakır", 2, 4.5, 9, "400 V trifaze", "iptal edildi"],
        ["T7", "Bakır", 2, 4.5, 9, "400 V trifaze", "müşteri temin edecek"], ["T8", "Pasivasyon", 1, 2, 2, "230 V monofaze", ""],
        ["T9", "Sıcak durulama", 2, "", "", "400 V trifaze", "güç belirlenecek"],
        ["Yedek", "T1 için yedek ısıtıcı", 1, 6, 6, "400 V trifaze", "depoda"],
        ["F1", "Kurutma fırını", 1, 20, 20, "400 V trifaze", ""], ["", "Toplam", "", "", 68.5, "", ""],
    ]  # fmt: skip
    job = listed(tmp_path, ["Şebeke: 3x400 V + N, 50 Hz"], [None], head, *rows)
    banks = {bank.tank: (bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in job.banks}
    assert banks == {"T1": (3, 6, 400, 3), "T4": (1, 4.5, 400, 3), "T8": (1, 2, 230, 1)}
    assert "T9" in [one.tank for one in job.unread]


def test_a_turkish_load_list(tmp_path: Path) -> None:
    head = ["Sıra", "Tank", "Cihaz", "Durum", "Adet", "Güç (adet başına)", "Besleme", "Akım (adet başına)"]
    rows = [
        [1, "F1", "Daldırma rezistans", "yeni", 2, "12 kW", "3 faz 400 V", "17,3 A"],
        [2, "F2", "Püskürtme pompası", "yeni", 1, "7,5 kW", "3 faz 400 V", "15 A"],
        [3, "F4", "Daldırma rezistans", "mevcut, eski panodan beslenecek", 1, "6 kW", "3 faz 400 V", "8,7 A"],
        [4, "F5", "Daldırma rezistans", "yeni", 3, "7,5 kW", "3 faz 400 V", "10,8 A"],
        [5, "F6", "Daldırma rezistans", "sökülecek", 2, "4,5 kW", "3 faz 400 V", "6,5 A"],
    ]  # fmt: skip
    job = listed(tmp_path, head, *rows)
    assert {bank.tank: (bank.quantity, bank.power_kw) for bank in job.banks} == {"F1": (2, 12), "F5": (3, 7.5)}


@pytest.mark.parametrize("name", [
    "Lid heating", "Heating blanket", "Deckelheizung", "IBC-Heizmantel", "Chauffage couvercle", "Ceinture chauffante",
    "Riscaldamento coperchio", "Calefacción de la tapa", "Manta calefactora", "Aquecimento da tampa", "Dekselverwarming",
    "Verwarmingslint", "Ogrzewanie pokrywy", "Kabel grzewczy", "Lockvärme", "Lokkvarme", "Lågvarme", "Ohřev víka", "Kapak ısıtma",
])  # fmt: skip
def test_heating_of_covers_hoses_and_drums_is_other_equipment(tmp_path: Path, name: str) -> None:
    assert other_equipment(name)
    rows = [["V1", "Zn", 2, 12, 400, 3], ["V2", "Ni", 1, 6, 400, 3], ["V2", name, 1, 1, 400, 3], ["V4", "Cu", 4, 5, 400, 3]]
    job = listed(tmp_path, ["Tank", "Bath", "Qty", "kW each", "Volts", "Ph"], *rows)
    assert [(bank.tank, bank.quantity) for bank in job.banks] == [("V1", 2), ("V2", 1), ("V4", 4)]


@pytest.mark.parametrize("mark", ["j.w.", "som over", "som ovan", "come sopra", "viz výše", "als boven", "aynı"])
def test_words_that_repeat_the_cell_above_are_neither_headings_nor_totals(tmp_path: Path, mark: str) -> None:
    head = ["Tank", "Bath", "Qty", "kW each", "Supply", "Remarks"]
    marked = [["T2", "Ni", 2, "6 kW", mark], ["T3", "Cu", mark, mark, mark]]
    rows = [["T1", "Zn", 3, "9 kW", "3x400 V"], *marked, ["T4", "Ag", 1, "2 kW", "1x230 V"]]
    job = listed(tmp_path, head, *rows)
    banks = {bank.tank: (bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in job.banks}
    assert banks == {"T1": (3, 9, 400, 3), "T2": (2, 6, 400, 3), "T3": (2, 6, 400, 3), "T4": (1, 2, 230, 1)}
