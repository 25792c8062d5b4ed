"""Mail pasted into a sheet: who writes of a tank's elements means its heaters, in every language."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake_book import book, read_bytes

MAILS = {
    "de": ("Alles 400 V 3-phasig.", "Bad 1 Entfetten: 3 Elemente à 9 kW", "Bad 3 Zink: 2 Elemente à 9 kW",
           "Bad 10: 2 Elemente, Leistung noch offen"),
    "fr": ("Tout en 400 V triphasé.", "Cuve 1 dégraissage : 3 éléments de 9 kW", "Cuve 3 zinc : 2 éléments de 9 kW",
           "Cuve 10 : 2 éléments, puissance pas encore connue"),
    "es": ("Todo a 400 V trifásico.", "Cuba 1 desengrase: 3 elementos de 9 kW", "Cuba 3 zinc: 2 elementos de 9 kW",
           "Cuba 10: 2 elementos, potencia por definir"),
    "it": ("Tutto 400 V trifase.", "Vasca 1 sgrassaggio: 3 elementi da 9 kW", "Vasca 3 zinco: 2 elementi da 9 kW",
           "Vasca 10: 2 elementi, potenza da definire"),
    "nl": ("Alles 400 V 3 fase.", "Bad 1 ontvetten: 3 elementen van 9 kW", "Bad 3 zink: 2 elementen van 9 kW",
           "Bad 10: 2 elementen, vermogen weet ik nog niet"),
    "sv": ("Allt 400 V 3-fas.", "Bad 1 avfettning: 3 element på 9 kW", "Bad 3 zink: 2 element på 9 kW", "Bad 10: 2 element, effekt okänd"),
    "da": ("Alt 400 V 3-faset.", "Kar 1 affedtning: 3 elementer på 9 kW", "Kar 3 zink: 2 elementer på 9 kW",
           "Kar 10: 2 elementer, effekt ukendt"),
    "no": ("Alt 400 V 3-fase.", "Kar 1 avfetting: 3 elementer på 9 kW", "Kar 3 sink: 2 elementer på 9 kW",
           "Kar 10: 2 elementer, effekt ukjent"),
    "pl": ("Wszystko 400 V 3 fazy.", "Wanna 1 odtłuszczanie: 3 elementy po 9 kW", "Wanna 3 cynk: 2 elementy po 9 kW",
           "Wanna 10: 2 elementy, moc jeszcze nieznana"),
    "pt": ("Tudo 400 V trifásico.", "Tanque 1 desengraxe: 3 elementos de 9 kW", "Tanque 3 zinco: 2 elementos de 9 kW",
           "Tanque 10: 2 elementos, potência a definir"),
    "en": ("All 400 V 3 phase.", "Tank 1 clean: 3 elements of 9 kW", "Tank 3 zinc: 2 elements of 9 kW",
           "Tank 10: 2 elements, kW not known yet"),
}  # fmt: skip


@pytest.mark.parametrize("language", MAILS)
def test_elements_are_heaters_and_those_of_unknown_power_are_asked(language: str, tmp_path: Path) -> None:
    """A tank that has some is neither left with the whole list nor, beside others that are read, dropped among the notes."""
    supply, *tanks = MAILS[language]
    job = read_bytes(tmp_path, book({"Sheet1": [[supply], [None], *([words] for words in tanks)]}))
    assert [(bank.tank[-1], bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in job.banks] == [
        ("1", 3, 9.0, 400.0, 3), ("3", 2, 9.0, 400.0, 3),
    ]  # fmt: skip
    assert [one.tank[-2:] for one in job.unread] == ["10"]
