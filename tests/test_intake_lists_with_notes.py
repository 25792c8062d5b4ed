"""Ten small lists in which notes take rows out or leave them open, and totals show what a power is of. All names and figures are invented.

Each says what must be sized, tank by tank; what it leaves out must not be sized, and be asked about or said to be left out.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake_book import book, read_bytes

Row = list[object]
LISTS: dict[str, tuple[list[Row], dict[str, tuple], set[str]]] = {
    "the supplier of a skid brings one, and a note that is referred to leaves another open": (
        [
            ["Nickel line - heaters to quote"], ["All heaters 480-3 unless noted"], [],
            ["Tk", "Process", "Gal", "Htrs", "kW ea", "Total kW", "Remarks"],
            [1, "Soak", 600, 2, 12, 24], [2, "Woods strike", 300, 1, 6, 6, "note 2"], [3, "Bright nickel", 1500, 4, 9, 36],
            [4, "Hot rinse", 300, 1, 9, 9, "note 3"], [5, "Seal", 300, 1, 4, 4, "240V 1ph"], [None, "TOTAL", None, None, None, 64],
            [], ["Notes"], ["1) Quartz not acceptable."], ["2) Heater is part of the vendor's skid package, not in our scope."],
            ["3) Size not settled, waiting for chemistry."],
        ],
        {"1": (2, 12, 480, 3), "3": (4, 9, 480, 3), "5": (1, 4, 240, 1)}, {"2", "4"},
    ),
    "stages, kW of each stage, and the total over those that are bought": (
        [
            ["HEATER SUMMARY"], ["Stage", "Process", "BTU/hr", "kW", "No. of heaters", "Notes"],
            [1, "Clean", "240,000", 72, 4], [2, "Rinse"], [3, "Phosphate", "360,000", 108, 6], [4, "Seal", "80,000", 24, 2, "see note B"],
            [5, "Dip", "19,000", 6, 1, "see note C"], [None, "Connected load", None, 186], [],
            ["A. Plant power for heaters 600 V, 3 phase, 60 Hz"], ["B. Stage 4 existing to remain, do not bid."],
            ["C. 208 V, 1 phase, cord connected."],
        ],
        {"1": (4, 18, 600, 3), "3": (6, 18, 600, 3), "5": (1, 6, 208, 1)}, {"4"},
    ),
    "German, per bath by the total, a note names two baths": (
        [
            ["Badheizungen Linie 2, 400 V 3~"], ["Bad", "Bezeichnung", "Anzahl", "Leistung kW", "Bemerkung"],
            [1, "Entfettung", 3, 36], [2, "Spüle"], [3, "Beize", 2, 12], [4, "Nickel", 4, 48], [5, "Chrom", 2, 18, "s. Anm. 2"],
            [6, "Warmspüle", 1, 9], [None, "Gesamtleistung", None, 123], [],
            ["1. Anschlusskabel 3 m."], ["2. Bad 5 bauseits, nicht Teil dieses Angebots."], ["3. Bad 6 noch offen, nicht bestellen."],
        ],
        {"1": (3, 12, 400, 3), "3": (2, 6, 400, 3), "4": (4, 12, 400, 3)}, {"5", "6"},
    ),
    "French, per tank by the total": (
        [
            ["Thermoplongeurs - 400 V triphasé"], ["Cuve", "Désignation", "Nb", "Puissance", "Remarques"],
            ["C1", "Dégraissage", 3, "27 kW"], ["C2", "Rinçage", None, None, "non chauffé"], ["C3", "Nickel", 4, "48 kW"],
            ["C4", "Chrome", 2, "18 kW", "voir note 1"], ["C5", "Scellement", 2, "12 kW", "réutilisés de l'ancienne ligne"],
            [None, "PUISSANCE TOTALE", None, "105 kW"], [], ["1. Hors fourniture : livrés avec la machine."],
        ],
        {"C1": (3, 9, 400, 3), "C3": (4, 12, 400, 3)}, {"C4", "C5"},
    ),
    "Spanish, per tank by the total, one not in the bid": (
        [
            ["Resistencias de inmersión 440 V trifásico"], ["Tina", "Proceso", "Cant.", "Potencia", "Observaciones"],
            [1, "Desengrase", 2, "24 kW"], [2, "Decapado", 1, "6 kW"], [3, "Níquel", 4, "36 kW"], [4, "Cromo", 2, "18 kW", "ver nota 2"],
            [5, "Enjuague caliente", 2, "12 kW", "no va en esta cotización"], [None, "POTENCIA TOTAL", None, "66 kW"], [],
            ["Notas:"], ["1. Cable de 3 m."], ["2. La tina 4 lleva calentador suministrado por el cliente."],
        ],
        {"1": (2, 12, 440, 3), "2": (1, 6, 440, 3), "3": (4, 9, 440, 3)}, {"4", "5"},
    ),
    "Dutch, notes on a sheet of their own": (
        [
            ["Dompelverwarmers 400 V 3-fase"], ["Bad", "Proces", "Aantal", "kW per stuk", "Opmerkingen"],
            [1, "Ontvetten", 2, 9], [2, "Beitsen", 1, 6, "zie opm. 2"], [3, "Zink", 3, 9],
            [4, "Spoelen warm", 1, 9, "niet in deze offerte"],
        ],
        {"1": (2, 9, 400, 3), "3": (3, 9, 400, 3)}, {"2", "4"},
    ),
    "Polish, the whole as a total": (
        [
            ["Grzałki zanurzeniowe 400 V 3-fazowe"], ["Wanna", "Proces", "Ilość", "Moc", "Uwagi"],
            [1, "Odtłuszczanie", 3, "36 kW"], [2, "Trawienie", 2, "12 kW"], [3, "Nikiel", 4, "48 kW"],
            [4, "Chrom", 2, "18 kW", "patrz uwaga 1"],
            [None, "MOC ŁĄCZNA", None, "114 kW"], [], ["1. Dostarcza klient, poza ofertą."],
        ],
        {"1": (3, 12, 400, 3), "2": (2, 6, 400, 3), "3": (4, 12, 400, 3)}, {"4"},
    ),
    "a contractor's phrases, blanks to be filled in, heaters used again": (
        [
            ["Service is 208V 3ph. Heaters 208V-3ph unless listed."], ["Tank", "Process", "Heaters to furnish", "Notes / responsibility"],
            ["T1", "Wash", "(3) 9 kW"], ["T2", "Rinse", "none"], ["T3", "Passivate", "2 @ 12 kW ea.", "Not in this bid package, by the GC"],
            ["T4", "Hot rinse", "(2) 9 kW", "Re-use existing"], ["T5", "Evaporator", "(2) ___ kW"],
            ["T6", "Seal", "(1) ____ kW", "see note 1"],
            ["T7", "Beaker tank", "(1) 1.5 kW", "120V 1ph"], [], ["1. Owner will advise."],
        ],
        {"T1": (3, 9, 208, 3), "T7": (1, 1.5, 120, 1)}, {"T3", "T4", "T5", "T6"},
    ),
    "two buildings side by side": (
        [
            ["BUILDING 1 - 480 V 3 ph", *[None] * 4, "BUILDING 3 - 240 V", *[None] * 3],
            ["Dip tank", "# htrs", "kW each", "Amps each", None] * 2,
            ["A1 clean", 2, 9, 10.8, None, "C1 clean", 2, 6, 14.4], ["A2 rinse", 1, 6, 7.2, None, "C2 rinse", 1, 4.5, 18.8],
            ["A3 seal", 3, 12, 14.4, None, "C3 seal", 2, 3, 12.5], [], ["Tank C2 heater: delete."],
        ],
        {"A1": (2, 9, 480, 3), "A2": (1, 6, 480, 3), "A3": (3, 12, 480, 3), "C1": (2, 6, 240, 3), "C3": (2, 3, 240, 1)}, {"C2"},
    ),
    "a schedule with units below, and a heater that moves to another panel": (
        [
            ["Tank heaters 600/3 unless shown otherwise"], ["TAG", "SERVICE", "TANK", "QTY", "LOAD", "V/PH", "FLA", "FURNISHED", "REMARKS"],
            [None, None, None, None, "kW each", None, "A each", "BY"],
            ["B-1", "Air blower", None, 1, 7.5, "600/3", 11, "Div. 23"], ["EH-1", "Immersion heater", "TK-1", 4, 18, None, 17.3, "Vendor"],
            ["EH-2", "Immersion heater", "TK-2", 1, 6, "208/1", 28.8, "Vendor", "relocated to panel LP-3"],
            ["EH-3", "Immersion heater", "TK-3", 2, 20, None, 19.2, "Owner", "owner furnished"],
            ["EH-4", "Immersion heater", "TK-4", 1, "HOLD", None, "HOLD", "Vendor", "pending data"],
            ["EH-5", "Immersion heater", "TK-5", 3, 6, None, 5.8, "Vendor", "see note 1"], [], ["1. Delete EH-5, tank goes to steam."],
        ],
        {"TK-1": (4, 18, 600, 3), "TK-2": (1, 6, 208, 1)}, {"TK-3", "TK-4", "TK-5"},
    ),
}  # fmt: skip
BESIDE = {"Dutch, notes on a sheet of their own": {"Opmerkingen": [["1. Kabel 3 m."], ["2. Door de klant geleverd, niet leveren."]]}}


@pytest.mark.parametrize("name", LISTS)
def test_what_notes_take_out_is_not_sized_and_the_rest_is_read(tmp_path: Path, name: str) -> None:
    rows, wanted, left = LISTS[name]
    job = read_bytes(tmp_path, book({"Heaters 1": rows, **BESIDE.get(name, {})}))
    found = {str(bank.tank): (bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in job.banks}
    assert found == wanted
    told = " ".join([*(row.refused for table in job.received for row in table.rows), *(str(one.message) for one in job.findings)])
    assert told and not left & found.keys()
