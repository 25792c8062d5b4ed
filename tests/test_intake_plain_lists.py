"""Plain lists as shops, engineers and buyers write them, read without a map; what each says is worked by hand beside it. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.records import Job
from tests.intake_book import in_doubt, read_sheets, said

Heaters = tuple[str, int, float, float, int]  # tank, number, kW of each, volts, phases


def read_list(folder: Path, *rows: list[object]) -> Job:
    return read_sheets(folder, {"Sheet1": list(rows)})


def heaters(job: Job) -> list[Heaters]:
    return [(bank.tank, bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in job.banks]


def codes(job: Job) -> set[str]:
    return {finding.code for finding in job.findings}


HEAD = ["Tank", "Qty", "kW each", "Volts", "Ph", "Remarks"]
READ: dict[str, tuple[list[list[object]], list[Heaters]]] = {
    "heaters described under HEATERS": (
        [
            ["TANK", "WHAT", "HEATERS", "NOTES"], ["T1", "Soak", "3 x 9KW 480/3", "new"], ["T2", "rinse", "none", ""],
            ["T3", "Electro", "2 @ 9KW 480V 3PH", ""], ["T4", "Acid", "NA", ""], ["T5", "Nickel", "(4) 6kW, 480V, 3ph, titanium", ""],
            ["T7", "Hot rinse", "1 ea 12 KW", "480 3 phase"],
        ],
        [("T1", 3, 9, 480, 3), ("T3", 2, 9, 480, 3), ("T5", 4, 6, 480, 3), ("T7", 1, 12, 480, 3)],
    ),
    "described under the word for heating, with names under Description": (
        [
            ["Bad nr", "Omschrijving", "Inhoud (l)", "Verwarming"], ["1", "Ontvetten", 2000, "3 st. 6 kW 3x400V"],
            ["2", "Spoelen", 2000, "geen"], ["3", "Beitsen", 1500, "2 st. 4,5 kW 3x400V PTFE"],
        ],
        [("1", 3, 6, 400, 3), ("3", 2, 4.5, 400, 3)],
    ),
    "marks of heaters, and the tanks that they serve": (
        [
            ["HEATER SCHEDULE"], ["MARK", "SERVICE", "KW", "VOLT", "PH", "QTY"], ["EH-1", "TK-101 ALK CLEAN", 12, 480, 3, 3],
            ["EH-2", "TK-103 DEOX", 6, 480, 3, 2], ["EH-4", "TK-109 SEAL", 15, 480, 3, 6],
        ],
        [("TK-101", 3, 12, 480, 3), ("TK-103", 2, 6, 480, 3), ("TK-109", 6, 15, 480, 3)],
    ),
    "tanks named by the cells under Position": (
        [
            ["Position", "Désignation", "Qté", "P.U. kW", "P. totale kW", "Alim."], ["Cuve 1", "Thermoplongeur inox", 3, 6, 18, "400V tri"],
            ["Cuve 2", "Thermoplongeur PTFE", 2, "4,5", 9, "400V tri"], ["Cuve 4", "Thermoplongeur titane", 4, 9, 36, "400V tri"],
        ],
        [("Cuve 1", 3, 6, 400, 3), ("Cuve 2", 2, 4.5, 400, 3), ("Cuve 4", 4, 9, 400, 3)],
    ),
    "one heater a line, numbered in words": (
        [
            ["Load", "kW", "V", "Ph", "A"], ["Tank 1 Heater #1", 9, 480, 3, 10.8], ["Tank 1 Heater #2", 9, 480, 3, 10.8],
            ["Tank 5 Heater #1", 6, 480, 3, 7.2], ["Air blower", 5.6, 480, 3, 7.6],
        ],
        [("Tank 1", 1, 9, 480, 3), ("Tank 1", 1, 9, 480, 3), ("Tank 5", 1, 6, 480, 3)],
    ),
    "a bid with items that are no heaters": (
        [
            ["Bid item", "Qty", "Unit", "Description"], ["1", 1, "LS", "Mobilization"],
            ["2", 3, "EA", "9 kW, 480 V, 3-phase immersion heaters for Tank T-11"],
            ["3", 4, "EA", "6 kW, 480 V, 3-phase titanium immersion heaters for Tank T-13"],
            ["4", 2, "EA", "Control panel for T-11 and T-13"],
        ],
        [("T-11", 3, 9, 480, 3), ("T-13", 4, 6, 480, 3)],
    ),
    "items under Poste and tanks under Cuve": (
        [
            ["Poste", "Cuve", "Désignation", "Qté"], [10, "C12", "Thermoplongeur 6 kW 400 V triphasé, gaine inox 316L", 3],
            [20, "C14", "Thermoplongeur 4,5 kW 400 V triphasé", 2], [30, "C15", "Thermoplongeur 2 kW 230 V monophasé", 1],
            [40, "C15", "Thermoplongeur 3 kW 400 V triphasé", 1],
        ],
        [("C12", 3, 6, 400, 3), ("C14", 2, 4.5, 400, 3), ("C15", 1, 2, 230, 1), ("C15", 1, 3, 400, 3)],
    ),
    "each line is one heater, by a sentence above": (
        [
            ["Cada renglón es una resistencia instalada en la tina."], ["Tina", "Etiqueta", "Potencia (W)", "Tensión (V)", "Fases"],
            ["T-3", "R-301", "6,000", 440, 3], [None, "R-302", "6,000", 440, 3], ["T-6", "-", "-", "-", "-"],
            ["T-7", "R-701", "3,000", 220, 1],
        ],
        [("T-3", 1, 6, 440, 3), ("T-3", 1, 6, 440, 3), ("T-7", 1, 3, 220, 1)],
    ),
    "an extract in which the tanks stand under a heading of its own making": (
        [
            ["EquipNo", "Description", "InstalledAt", "Pieces", "RatedPower", "PowerUoM", "RatedVolt", "NoPhases"],
            [10004411, "IMM HEATER, SOAK CLEAN", "TK010", 3, 12, "KW", 480, 3], [10004412, "PUMP, FILTER", "TK010", 1, 3, "HP", 460, 3],
            [10004418, "IMM HEATER, ELECTROCLEAN", "TK020", 2, 6000, "W", 480, 3],
            [10004423, "IMM HEATER, ACID", "TK030", 1, 2500, "W", 240, 1],
        ],
        [("TK010", 3, 12, 480, 3), ("TK020", 2, 6, 480, 3), ("TK030", 1, 2.5, 240, 1)],
    ),
    "the power of one and of all in Polish": (
        [
            ["Nr wanny", "Ilość grzałek", "Grzałki Moc jednej [kW]", "Grzałki Moc razem [kW]", "Napięcie [V]", "Fazy"],
            ["W1", 3, "6,0", "18,0", 400, 3], ["W2", 3, "4,5", "13,5", 400, 3], ["W4", 1, "3,0", "3,0", 400, 3],
        ],
        [("W1", 3, 6, 400, 3), ("W2", 3, 4.5, 400, 3), ("W4", 1, 3, 400, 3)],
    ),
    "start-up and cooling in words": (
        [HEAD, ["T-1", 3, 9, 480, 3, "start-up heat only"], ["T-2", 2, 6, 480, 3, "also cooled, see piping"]],
        [("T-1", 3, 9, 480, 3), ("T-2", 2, 6, 480, 3)],
    ),
    "marks under Repère beside tanks under Cuve": (
        [
            ["Repère", "Description", "Cuve", "Qté", "Puissance unitaire (kW)", "Tension (V)", "Nbre de phases", "Remarques"],
            ["TH-201", "Thermoplongeur", "C-201", 3, 9, 600, 3, ""], ["TH-202", "Thermoplongeur", "C-202", 3, 9, 600, 3, ""],
            ["RD-202", "Redresseur", "C-202", 1, 30, 600, 3, ""], ["TH-207", "Thermoplongeur", "C-207", 2, "7,5", 600, 3, "ÉLIMINÉ rév. 2"],
        ],
        [("C-201", 3, 9, 600, 3), ("C-202", 3, 9, 600, 3)],
    ),
    "orders that are all open": (
        [
            ["POS", "KURZTEXT", "MENGE", "TECHPLATZ", "STATUS"],
            ["00010", "Tauchheizkörper 6,0kW 3~400V 50Hz", "4,000", "GAL2-B01", "offen"],
            ["00020", "Tauchheizkörper 3,0kW 3~400V 50Hz", "2,000", "GAL2-B04", "offen"],
            ["00030", "Tauchpumpe 1,5kW 3~400V 50Hz", "1,000", "GAL2-B02", "offen"],
            ["00080", "Tauchheizkörper 6,0kW 3~400V 50Hz", "6,000", "GAL2-B08", "storniert"],
        ],
        [("GAL2-B01", 4, 6, 400, 3), ("GAL2-B04", 2, 3, 400, 3)],
    ),
    "a mark that is not used takes no row below it out": (
        [
            ["HEATER SCHEDULE"], ["MARK", "SERVES TANK", "QTY", "KW EA", "V", "PH"], ["EH-1", "T-1", 3, 9, 480, 3],
            ["EH-2 NOT USED", None, None, None, None, None], ["EH-3", "T-3", 2, 6, 480, 3],
        ],
        [("T-1", 3, 9, 480, 3), ("T-3", 2, 6, 480, 3)],
    ),
    "rows without headings": (
        [
            ["heaters we need quoted - back line"], ["T1", "soak", "3 heaters", "9 kW ea", "480V 3PH", "steel"],
            ["T2", "soak", "3 heaters", "9 kW ea", '"', '"'], ["T3", "rinse", "none"],
            ["F1", "wash", "four heaters", "7500 W ea", "480V 3PH"],
            ["T8", "drag out", "1 heater", "3 kW", "240V 1PH"], ["T8", "circ pump", "1", "3 hp", "480V 3PH"],
        ],
        [("T1", 3, 9, 480, 3), ("T2", 3, 9, 480, 3), ("F1", 4, 7.5, 480, 3), ("T8", 1, 3, 240, 1)],
    ),
    "a letter over an older one": (
        [
            ["T-1 (soak cleaner, 500 gal): 3 heaters, 6 kW each, 480 V 3 phase"], ["T-2 (rinse): none"],
            ["T-4 acid: two 4.5 kW heaters, 240 V single phase, PTFE"], ["-----Original message-----"],
            ["> T-1: 2 heaters, 9 kW each, 480 V 3 phase"], ["> T-4: (2) 3 kW 240 V single phase"],
        ],
        [("T-1", 3, 6, 480, 3), ("T-4", 2, 4.5, 240, 1)],
    ),
    "what is bought in one column, what it is like in another, where it goes in a third": (
        [
            ["Pos.", "Kurztext", "Technische Daten", "Menge", "ME", "Verwendung"],
            [10, "Tauchheizkörper", "6,0 kW; 3~400 V; Hülle 1.4571", 4, "ST", "Bad 03"],
            [20, "Tauchheizkörper", "4,5 kW; 3~400 V; Hülle PTFE", 2, "ST", "Bad 05"],
            [40, "Niveauschwimmer", "PP; Kabel 3 m; 24 V", 2, "ST", "Bad 07"],
            [50, "Tauchheizkörper", "2,0 kW; 1~230 V; Hülle PTFE", 1, "ST", "Bad 08"],
        ],
        [("Bad 03", 4, 6, 400, 3), ("Bad 05", 2, 4.5, 400, 3), ("Bad 08", 1, 2, 230, 1)],
    ),
    "a line is a heater, under banners of tanks": (
        [
            ["1 ligne = 1 thermoplongeur. Relevé du 22/10/2026."], ["Repère", "Puissance (kW)", "Tension (V)", "Phases"],
            ["CUVE C10 - DÉGRAISSAGE", None, None, None], ["TP-10-1", "6,0", 400, 3], ["TP-10-2", "6,0", 400, 3],
            ["CUVE C40 - RÉCUPÉRATION", None, None, None], ["TP-40-1", "1,5", 230, 1],
        ],
        [("C10", 1, 6, 400, 3), ("C10", 1, 6, 400, 3), ("C40", 1, 1.5, 230, 1)],
    ),
    "tables over each other, each under its own supply": (
        [
            ["AREA A - PARTS WASHERS    240 V, 3 PHASE"], ["ID", "SERVICE", "ELEMENT COUNT", "WATTS, EACH", "TANK KW", "COMMENT"],
            ["WA-1", "WASH", 4, 6000, 24, None], ["WA-2", "RINSE", 2, 6000, 12, None], ["WA-5", "SKIM", 1, 1500, 1.5, "120 V, 1 PHASE"],
            ["AREA A TOTAL", None, 7, None, 37.5, None], [], ["AREA B - ZINC PHOSPHATE    480 V, 3 PHASE"],
            ["ID", "SERVICE", "GALLONS", "HEATERS", "KW OF TANK", "LINE AMPS"], ["ZB-1", "CLEANER", 1500, 6, 54, 65],
            ["ZB-2", "HOT RINSE", 1000, 3, 18, 21.7], ["ZB-6", "LUBE", 1000, 2, 9, 10.8],
        ],
        [
            ("WA-1", 4, 6, 240, 3), ("WA-2", 2, 6, 240, 3), ("WA-5", 1, 1.5, 120, 1),
            ("ZB-1", 6, 9, 480, 3), ("ZB-2", 3, 6, 480, 3), ("ZB-6", 2, 4.5, 480, 3),
        ],
    ),
    "accessories in remarks, sizes of a rinse": (
        [
            ["Tk", "Size (in)", "Htr qty", "KW ea", "Volts", "Ph", "Remarks"], [1, "96x36x48", 3, 9, 480, 3, "low level cutoff req'd"],
            [2, "96x36x48", "-", "-", "", "", ""], [5, "96x36x48", 2, 3, 240, 1, "with thermostat"],
        ],
        [("1", 3, 9, 480, 3), ("5", 2, 3, 240, 1)],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", READ)
def test_a_plain_list_is_read_whole(name: str, tmp_path: Path) -> None:
    rows, meant = READ[name]
    job = read_list(tmp_path, *rows)
    assert heaters(job) == meant
    assert not codes(job) & {"row-in-doubt", "list-question", "cell-missing"}


ASKED = {
    "a pump among remarks": [HEAD, ["T-1", 3, 9, 480, 3, ""], ["T-2", 1, 9, 480, 3, "filter pump"]],
    "either of two voltages": [HEAD, ["T-1", 3, 9, 480, 3, ""], ["T-2", 1, 9, 480, 3, "either 240 or 480, whichever you stock"]],
    "another power in a remark": [HEAD, ["T-1", 3, 9, 480, 3, "7.5 kW each"], ["T-2", 1, 9, 480, 3, ""]],
    "one order on hold among open ones": [
        [*HEAD[:5], "Status"], ["T-1", 3, 9, 480, 3, "open"], ["T-2", 1, 9, 480, 3, "open"], ["T-3", 1, 9, 480, 3, "open"],
        ["T-4", 1, 9, 480, 3, "on hold"],
    ],
    "on hold, and not released": [[*HEAD[:5], "Status"], ["T-1", 3, 9, 480, 3, "New"], ["T-2", 2, 9, 480, 3, "HOLD - scope not released"]],
    "a code that a line below explains": [
        [*HEAD[:5], "Status"], ["T-1", 3, 9, 480, 3, "ATIV"], ["T-2", 2, 9, 480, 3, "DESM"],
        ["Status: ATIV = em operação; DESM = desmontado, fora de serviço"],
    ],
    "a sump below a dryer, of two powers": [
        ["Tank heaters"], ["Tank", "What's in it", "How many heaters", "KW each", "Volts", "Ph"], ["L-1", "Soak", 3, 9, 480, 3],
        ["L-6", "Hot rinse / dryer sump", 1, "4 or 4.5", 240, 1],
    ],
    "open questions": [[*HEAD[:5], "Status"], *[[f"T-{at}", 3, 9, 480, 3, "offen"] for at in (1, 2, 3)], ["T-4", 1, 9, 480, 3, "ok"]],
    "an accessory and nothing else": [HEAD, ["T-1", 3, 9, 480, 3, ""], ["T-2", 1, 9, 480, 3, "thermostat only"]],
    "with another tank": [HEAD, ["T-1", 3, 9, 480, 3, "with T-5"], ["T-2", 1, 9, 480, 3, ""]],
    "a tank that has no row": [HEAD, ["T-1", 3, 9, 480, 3, "T-1 and T-9 alike"], ["T-2", 1, 9, 480, 3, ""]],
    "a figure with one side less than a size": [["Tank", "What", "Qty", "kW", "Volts", "Ph"], ["T-1", "Clean", 3, 9, 480, 3],
                                                ["T-2", "Etch 2x6", None, None, None, None]],
}  # fmt: skip


@pytest.mark.parametrize("name", ASKED)
def test_what_may_mean_more_is_asked(name: str, tmp_path: Path) -> None:
    assert in_doubt(read_list(tmp_path, *ASKED[name]))


def test_a_tag_in_remarks_that_has_its_own_row_asks_nothing(tmp_path: Path) -> None:
    job = read_list(tmp_path, HEAD, ["T-1", 3, 9, 480, 3, "next to T-2"], ["T-2", 1, 9, 480, 3, ""])
    assert len(job.banks) == 2


def test_the_metal_of_the_bath_is_no_sheath(tmp_path: Path) -> None:
    job = read_list(
        tmp_path,
        ["Item", "Item description", "Qty"],
        ["1", "Immersion heater 6 kW 480V 3ph titanium, tank 14 nickel", 4],
        ["2", "Immersion heater 9 kW 480V 3ph 316SS, tank 12 soak clean", 3],
        ["3", "Immersion heater 3 kW 240V 1ph PTFE for copper strike tank 15", 2],
    )
    assert [bank.sheath for bank in job.banks] == ["titanium", "316SS", "PTFE"]


@pytest.mark.parametrize("heading", ["Tank / Location", "TANK/LOCATION", "Location or tank", "Becken / Ort"])
def test_tanks_under_a_heading_that_says_place_too(heading: str, tmp_path: Path) -> None:
    head = ["Item", "Qty", "Description", heading, "kW ea", "Volts", "Ph"]
    pump, heater, fan = ["1", 1, "Pump", "T1", None, 480, 3], ["2", 3, "Immersion heater", "T1", 15, 480, 3], ["3", 1, "Fan", "Blow-off"]
    job = read_list(tmp_path, head, pump, heater, fan)
    assert heaters(job) == [("T1", 3, 15.0, 480.0, 3)]


def test_equipment_at_a_tank_that_another_row_names_is_no_bath(tmp_path: Path) -> None:
    """A pump under "number of heaters", beside the tank that the row above has named."""
    job = read_list(
        tmp_path, ["Pos.", "Bad", "Verfahrensschritt", "Anzahl Heizstäbe", "Leistung je Stab (kW)", "Volt", "Phasen"],
        [1, "B01", "Abkochentfettung", 3, 9, 400, 3], [2, "B02", "Entfettung", 2, 9, 400, 3], [3, "B04", "Beize", 1, 3, 400, 3],
        [4, "B05", "Zink sauer", None, None, None, None], [5, "B05", "Filterpumpe Zink", 1, 2.2, 400, 3],
    )  # fmt: skip
    assert [bank.tank for bank in job.banks] == ["B01", "B02", "B04"] and "row-not-heater" in codes(job)


def test_a_thermostat_with_a_count_is_other_equipment_in_words_of_the_trade(tmp_path: Path) -> None:
    """And the advice holds: a row that names the heater beside its thermostat is one of heaters."""
    head, heater = ["Tank", "Description", "Qty", "kW each", "Volts", "Phase"], ["T-1", "Immersion heater", 4, 6, 480, 3]
    job = read_list(tmp_path, head, heater, ["T-2", "Thermostat", 2, None, None, None], ["T-3", "Heater with thermostat", 3, 6, 480, 3])
    assert heaters(job) == [("T-1", 4, 6.0, 480.0, 3), ("T-3", 3, 6.0, 480.0, 3)]
    (finding,) = said(job, "row-not-heater")
    assert finding.message == 'Row 3 is taken for other equipment, and is in no count of heaters: it says "Thermostat".'


@pytest.mark.parametrize(("said", "phases"), [("mono entre phases", 1), ("mono Ph–N", 1), ("tri", 3)])
def test_phases_in_a_column_of_words_go_before_those_of_the_title(said: str, phases: int, tmp_path: Path) -> None:
    head = ["Cuve", "Désignation", "Qté", "P unit. (W)", "Tension (V)", "Alimentation"]
    rows = [[f"C{at:02}", "Thermoplongeurs", 2, 4500, 400, "tri"] for at in range(1, 4)]
    job = read_list(tmp_path, ["Réseau 400 V tri + N + PE, 50 Hz"], [], head, *rows, ["C09", "Thermoplongeurs", 2, 3000, 400, said])
    assert [bank.phases for bank in job.banks] == [3, 3, 3, phases]
    assert "supply-from-words" not in codes(job)


def test_a_line_that_says_that_its_heaters_are_gone(tmp_path: Path) -> None:
    job = read_list(
        tmp_path, ["Everything is 480 volt 3 phase unless the line says different."], ["T-1 alkaline clean - four heaters, 15 kW each"],
        ["T-5 hot rinse - two heaters, 9 kW each"], ["T-9 - used to have two 9 kW heaters, pulled last year, don't quote"],
    )  # fmt: skip
    assert [bank.tank for bank in job.banks] == ["T-1", "T-5"]


def test_a_line_below_the_list_that_orders_a_heater_is_asked(tmp_path: Path) -> None:
    line = "Also need one for the lab tank, tag LAB-1: one heater 1.5 kW, 120 V single phase."
    job = read_list(tmp_path, HEAD[:-1], ["T-1", 3, 9, 480, 3], ["T-2", 1, 9, 480, 3], [], [line])
    assert len(job.banks) == 2 and in_doubt(job)
    job = read_list(tmp_path, HEAD[:-1], ["T-1", 3, 9, 480, 3], ["T-2", 1, 9, 480, 3], [], ["Line 2 comes next year"])
    assert len(job.banks) == 2 and not in_doubt(job)


def test_amps_of_one_heater_are_held_against_its_power_where_another_row_is_open(tmp_path: Path) -> None:
    """14.4 A are those of 12 kW on 480 V, 3-phase: which of the two is wrong nobody can tell but the customer."""
    job = read_list(
        tmp_path, ["Tank", "Qty", "kW", "Volts", "Ph", "Amps"], ["TK-11", 1, 9, 480, 3, 10.8], ["TK-12", 1, 12, 480, 3, 14.4],
        ["TK-14", 1, 18, 480, 3, 21.7], ["TK-17", 1, 6, 480, 3, 14.4], ["TK-18", 2, 12, 480, 3, None],
    )  # fmt: skip
    assert [bank.tank for bank in job.banks] == ["TK-11", "TK-12", "TK-14"] and "row-disagrees" in codes(job)


@pytest.mark.parametrize(
    ("said", "sheath"),
    [
        ("Watts nickel", None), ("Bright nickel - immersion heaters", None), ("Kupfer, Heizstäbe", None), ("Titanium etch", None),
        ("Stainless or titanium pickle", None), ("Nickel sheath heaters", "Nickel"), ("Heater, sheath in nickel", "nickel"),
        ("Stainless pickle heater", None),
        ("Heater, sheath is all nickel", None), ("Titanium heaters", "Titanium"), ('L-shape, 316SS, 36" hot', "316SS"),
        ("6 kW titanium", "titanium"),
    ],
)  # fmt: skip
def test_what_is_plated_or_treated_is_no_sheath(said: str, sheath: str | None, tmp_path: Path) -> None:
    """A wrong sheath is a wrong heater on the buy list."""
    job = read_list(tmp_path, ["Tank", "Description", "Qty", "kW each", "Volts", "Ph"], ["T-1", said, 2, 6, 480, 3])
    assert [bank.sheath for bank in job.banks] == [sheath]


def test_a_total_with_what_was_taken_out_says_so(tmp_path: Path) -> None:
    """27 + 12 kW are read, and 24 kW by others make up the total of 63; of 70 nothing makes up the rest."""
    head = ["Tank", "Qty", "kW each", "Total kW", "Volts", "Ph", "Remarks"]
    rows = [head, ["T-1", 3, 9, 27, 480, 3, ""], ["T-2", 2, 6, 12, 480, 3, ""], ["T-3", 4, 6, 24, 480, 3, "by others"]]
    told = {}
    for total in (63, 70):
        (folder := tmp_path / str(total)).mkdir()
        job = read_list(folder, *rows, ["Total", None, None, total, None, None, None])
        [told[total]] = [finding.message for finding in job.findings if finding.code == "total-differs"]
    assert "39 kW, and with row 4, which is not sized, to that total" in told[63]
    assert told[70].endswith("39 kW.")


@pytest.mark.parametrize("code", ["CAN", "SUP", "storn."])
def test_a_short_state_takes_its_row_out_and_the_same_word_in_a_remark_does_not(code: str, tmp_path: Path) -> None:
    head = ["Tank", "Qty", "kW each", "Volts", "Ph", "Status", "Remarks"]
    job = read_list(tmp_path, head, ["T-1", 3, 9, 480, 3, "REL", "can be lifted out"], ["T-2", 2, 6, 480, 3, code, ""])
    assert [bank.tank for bank in job.banks] == ["T-1"]


def test_a_remark_names_the_tank_where_its_column_is_blank(tmp_path: Path) -> None:
    job = read_list(tmp_path, HEAD, ["T-1", 3, 9, 480, 3, ""], [None, 2, 6, 480, 3, "for tank T-5, not in master yet"])
    assert [bank.tank for bank in job.banks] == ["T-1", "T-5"]


def test_a_width_is_no_power(tmp_path: Path) -> None:
    """L, W and D of a tank list: 36 is inches, and not watts."""
    tanks = [["Tank", "Process", "L", "W", "D"], ["1", "Clean", 96, 36, 48], ["3", "Nickel", 120, 36, 48]]
    lists = [["Tank", "Qty", "kW each", "Volts", "Ph"], ["1", 3, 9, 480, 3], ["3", 4, 6, 480, 3]]
    job = read_sheets(tmp_path, {"Bath sizes": tanks, "Heaters": lists})
    assert heaters(job) == [("1", 3, 9, 480, 3), ("3", 4, 6, 480, 3)]
    assert "issue-question" not in codes(job)


def panel(title: str, *rows: list[object]) -> list[list[object]]:
    """A panel's schedule of two sides, the headings of the right one from the outside in."""
    heads = ["CKT", "DESCRIPTION", "KW", "POLES", "BKR A"]
    return [["PANEL LP-2", None, title, None, None, None, None, None, None, "MAIN: 225 A"], ["One heater per circuit."],
            [*heads, None, *reversed(heads)], *rows]  # fmt: skip


def test_a_panels_schedule_of_two_sides_is_read_by_its_poles(tmp_path: Path) -> None:
    """120/208 V: one pole is 120 V, two poles 208 V on one phase, three poles 208 V on three phases."""
    rows = panel(
        "120/208 V, 3 PHASE, 4 WIRE",
        [1, "TK-21 IMM HTR #1", 1.5, 1, 20, None, 20, 1, 0.9, "RECEPTACLES", 2],
        [3, "TK-23 IMM HTR #1", 3, 2, 20, None, 20, 2, 3, "TK-23 IMM HTR #2", 4],
        [5, "-", None, None, None, None, None, None, None, "-", 6],
        [7, "TK-24 IMM HTR #1", 6, 3, 25, None, 20, 1, 1.5, "TK-22 IMM HTR #1", 8],
    )
    found = {("TK-21", 1, 1.5, 120.0, 1), ("TK-23", 1, 3.0, 208.0, 1), ("TK-24", 1, 6.0, 208.0, 3), ("TK-22", 1, 1.5, 120.0, 1)}
    job = read_list(tmp_path, *rows)
    assert set(heaters(job)) == found and len(job.banks) == 5


def test_one_pole_of_a_panel_without_a_neutral_says_no_volts(tmp_path: Path) -> None:
    rows = panel("480 V, 3 PHASE, 3 WIRE", [1, "TK-21 IMM HTR #1", 1.5, 1, 20, None, 20, 3, 9, "TK-23 IMM HTR #1", 2])
    job = read_list(tmp_path, *rows)
    assert heaters(job) == [("TK-23", 1, 9.0, 480.0, 3)]
    assert "cell-missing" in codes(job)


def test_a_row_whose_total_is_the_power_of_one_is_asked_where_others_multiply(tmp_path: Path) -> None:
    """2 x 5 kW are 10 kW, and the row says 5: one of its three figures is wrong."""
    head = ["Tank", "Qty", "kW each", "Total kW", "Volts", "Ph"]
    rows = [["T-1", 4, 7.5, 30, 480, 3], ["T-2", 2, 4.5, 9, 480, 3], ["T-3", 3, 4.5, 13.5, 480, 3], ["T-4", 2, 5, 5, 480, 3]]
    job = read_list(tmp_path, head, *rows)
    assert [bank.tank for bank in job.banks] == ["T-1", "T-2", "T-3"]
    assert "row-disagrees" in codes(job)


def test_a_bare_power_among_units_of_two_kinds_is_not_sized(tmp_path: Path) -> None:
    head = ["Tank", "Qty", "Rating", "Volts", "Ph"]
    rows = [["T-1", 3, "9 kW", 480, 3], ["T-2", 1, "4500 W", 480, 3], ["T-3", 2, 9, 480, 3], ["T-4", 2, "6 kW", 480, 3]]
    job = read_list(tmp_path, head, *rows)
    assert [bank.tank for bank in job.banks] == ["T-1", "T-2", "T-4"] and "unit-blank" in codes(job)


def test_a_panel_whose_circuits_are_all_of_three_poles(tmp_path: Path) -> None:
    rows = [
        ["PANEL HP-3 600/347V 3PH 4W"], ["ALL CIRCUITS 600V 3PH 3-POLE. ONE IMMERSION HEATER PER BREAKER. LOADS IN kW PER CIRCUIT."],
        ["CCT", "DESCRIPTION", "kW", "BKR", "BKR", "kW", "DESCRIPTION", "CCT"],
        ["1", "T-101 HEATER 1", 9, 15, 15, 9, "T-101 HEATER 2", "2"],
        ["7", "T-102 HEATER", 12, 20, 15, 2.2, "PUMP P-104", "8"],
    ]  # fmt: skip
    assert heaters(read_list(tmp_path, *rows)) == [("T-101", 1, 9, 600, 3), ("T-102", 1, 12, 600, 3), ("T-101", 1, 9, 600, 3)]


def test_breakers_say_the_poles_of_each_panel_of_a_sheet(tmp_path: Path) -> None:
    """480Y/277 V: 20/1P is 277 V; 208Y/120 V below: 20/1P is 120 V."""
    head = ["CKT", "DESCRIPTION", "KW", "BKR"]
    rows = [
        ["KW OF THE ONE HEATER ON THE CIRCUIT."], ["PANEL HP-3  480Y/277 V  3 PH  4 W"], head, ["1,3,5", "TK-1 HTR 1", 12, "20/3P"],
        ["7,9", "TK-7 HTR", 6, "20/2P"], ["11", "TK-8 HTR", 4, "20/1P"], [], ["PANEL LP-1  208Y/120 V  3 PH  4 W"], head,
        ["1,3", "TK-12 HTR", 3, "20/2P"], ["5", "TK-13 HTR", 1.5, "20/1P"],
    ]  # fmt: skip
    assert heaters(read_list(tmp_path, *rows)) == [
        ("TK-1", 1, 12, 480, 3), ("TK-7", 1, 6, 480, 1), ("TK-8", 1, 4, 277, 1), ("TK-12", 1, 3, 208, 1), ("TK-13", 1, 1.5, 120, 1),
    ]  # fmt: skip


def test_a_recapitulation_that_agrees_is_no_other_issue(tmp_path: Path) -> None:
    line = [["All 480 volt 3 phase"], ["Tank", "Process", "Heaters", "kW each"], ["A-1", "soak", 3, 9], ["A-3", "zinc", 4, 9]]
    recap = [["RECAP for budget"], ["Tank", "Heaters", "kW of tank"], ["A-1", 3, 27], ["A-3", 4, 36]]
    (first := tmp_path / "agrees").mkdir()
    job = read_sheets(first, {"Recap": recap, "Line A": line})
    assert heaters(job) == [("A-1", 3, 9, 480, 3), ("A-3", 4, 9, 480, 3)] and "issue-question" not in codes(job)
    (second := tmp_path / "differs").mkdir()
    job = read_sheets(second, {"Recap": [*recap[:3], ["A-3", 5, 45]], "Line A": line})
    assert not job.banks and "issue-question" in codes(job)


def test_together_is_the_power_of_all(tmp_path: Path) -> None:
    rows = [["A-1", "3 x 6 kW", 480, 3], ["A-4", "2 heaters, 12 kW together", 480, 3]]
    job = read_list(tmp_path, ["Tank", "Heaters", "Volts", "Phase"], *rows)
    assert heaters(job) == [("A-1", 3, 6, 480, 3), ("A-4", 2, 6, 480, 3)]


def test_one_description_without_each_among_those_with_it_is_asked(tmp_path: Path) -> None:
    """18 kW of three, where others say 9 and 12 kW each: of each, or 6 kW; 9 kW of two, no more than the others, is of each."""
    rows = [
        ["Item", "Description of work", "Qty"], ["3.1", "Immersion heaters for tank T-310, 9 kW each, 480 V, 3 phase", 4],
        ["3.5", "Immersion heaters for tank T-360, 12 kW each, 480 V, 3 phase", 3],
        ["3.6", "Immersion heaters for tank T-370, 18 kW, 480 V, 3 phase", 3],
        ["3.7", "Immersion heaters for tank T-380, 9 kW, 480 V, 3 phase", 2],
    ]  # fmt: skip
    job = read_list(tmp_path, *rows)
    assert [bank.tank for bank in job.banks] == ["T-310", "T-360", "T-380"] and "row-disagrees" in codes(job)


def test_so_many_per_tank_in_words(tmp_path: Path) -> None:
    several = ["1", "Immersion heaters for tanks T-330 and T-340, two per tank, 6 kW each, 480 V, 3 phase", 4]
    one = ["2", "Immersion heaters for tank T-310, 9 kW each, 480 V, 3 phase", 4]
    job = read_list(tmp_path, ["Item", "Description of work", "Qty"], several, one)
    assert heaters(job) == [("T-330", 2, 6, 480, 3), ("T-340", 2, 6, 480, 3), ("T-310", 4, 9, 480, 3)]


def test_a_cover_says_which_issue_counts(tmp_path: Path) -> None:
    cover = [["Edition", "Sheet", "Status"], ["1", "Ed 1", "withdrawn"], ["2", "Ed 2", "IN FORCE, valid"]]
    first, second = [HEAD, ["B1", 2, 6, 480, 3, ""]], [HEAD, ["B1", 3, 9, 480, 3, ""], ["B2", 1, 3, 480, 3, ""]]
    (told := tmp_path / "told").mkdir()
    job = read_sheets(told, {"Cover": cover, "Ed 1": first, "Ed 2": second})
    assert heaters(job) == [("B1", 3, 9, 480, 3), ("B2", 1, 3, 480, 3)]
    (untold := tmp_path / "untold").mkdir()
    job = read_sheets(untold, {"Ed 1": first, "Ed 2": second})
    assert not job.banks and "issue-question" in codes(job)


def test_ratings_that_may_be_of_all_heaters_are_asked(tmp_path: Path) -> None:
    """54 kW of six is no usual rating, and shared out it is 9 kW: perhaps all of them are of the tank. 10.5 kW of two is no such figure."""
    head = ["Heaters of line 4"], ["Tank", "Qty", "Rating (kW)", "Volts", "Ph"]
    rows = [["T-1", 3, 27, 480, 3], ["T-2", 2, 18, 480, 3], ["T-3", 4, 36, 480, 3], ["T-4", 2, 12, 480, 3]]
    (asked := tmp_path / "asked").mkdir()
    job = read_list(asked, *head, *rows, ["T-5", 6, 54, 480, 3])
    assert not job.banks and "list-question" in codes(job)
    (taken := tmp_path / "taken").mkdir()
    assert len(read_list(taken, *head, *rows, ["T-5", 2, 10.5, 480, 3]).banks) == 5


def test_marks_of_heaters_over_large_figures_are_asked(tmp_path: Path) -> None:
    """27 kW under IH-1, three of them: of each, or 9 kW; the amps are those of 27 kW, and tell nothing."""
    head = ["MARK", "SERVICE TANK", "QTY", "KW", "V", "PH", "FLA"]
    job = read_list(tmp_path, head, ["IH-1", "T-1", 3, 27, 480, 3, 32.5], ["IH-2", "T-2", 2, 18, 480, 3, 21.7])
    assert not job.banks and "list-question" in codes(job)


def test_heaters_named_before_a_power_may_have_it_together(tmp_path: Path) -> None:
    rows = [["Tank", "Heaters"], ["T1", "3 x 9 kW 480V 3ph"], ["T2", "2 x 6 kW 480V 3ph"], ["T3", "2 heaters 12 kW 480V 3ph"]]
    job = read_list(tmp_path, *rows)
    assert [bank.tank for bank in job.banks] == ["T1", "T2"] and "row-disagrees" in codes(job)


def test_the_panel_of_a_heater_is_none(tmp_path: Path) -> None:
    rows = [["PANEL LP 208Y/120 V 3PH 4W"], ["One heater per circuit"], ["CKT", "DESCRIPTION", "KW", "P", "BKR"]]
    job = read_list(tmp_path, *rows, [1, "TK-1 HTR", 3, 2, 20], [3, "TK-2 HTR", 3, 3, 20], [7, "TK-4 HTR CTRL PNL", 1, 1, 20])
    assert [bank.tank for bank in job.banks] == ["TK-1", "TK-2"]
