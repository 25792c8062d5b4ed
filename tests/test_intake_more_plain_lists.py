"""Further plain lists, read without a map: states, notes beside the list, machines' stages, one heater a line. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake_book import in_doubt, read_sheets
from tests.test_intake_plain_lists import HEAD, Heaters, codes, heaters, read_list

ASSETS = [
    ["Code", "Libellé", "Repère maître", "État", "Nb", "P. unit. (kW)", "U (V)", "Ph."],
    ["EL-0101", "Résistance immergée dégraissage", "CUV-11", "En service", 3, 7.5, 400, 3],
    ["PO-0102", "Pompe de filtration", "CUV-11", "En service", 1, 0.75, 400, 3],
    ["EL-0103", "Résistance immergée décapage", "CUV-12", "En service", 2, 4.5, 400, 3],
    ["EL-0104", "Résistance immergée fluxage", "CUV-14", "Hors service", 2, 6, 400, 3],
    ["VE-0109", "Ventilateur", "CUV-14", "En service", 1, 5.5, 400, 3],
    ["EL-0110", "Résistance immergée rinçage", "CUV-19", "En service", 1, 3, 230, 1],
]
READ: dict[str, tuple[list[list[object]], list[Heaters]]] = {
    "codes of equipment beside the tags of the tanks it belongs to": (
        ASSETS,
        [("CUV-11", 3, 7.5, 400, 3), ("CUV-12", 2, 4.5, 400, 3), ("CUV-19", 1, 3, 230, 1)],
    ),
    "sumps of machines": (
        [
            ["Machine", "Sump", "No. of heaters", "kW ea", "V", "Ph"],
            ["Washer 1", "Wash", 4, 12, 480, 3],
            ["Washer 1", "Rinse", 2, 9, 480, 3],
            ["Washer 2", "Wash", 4, 12, 480, 3],
            ["Washer 2", "Rinse", 2, 6, 480, 3],
        ],
        [
            ("Washer 1 Wash", 4, 12, 480, 3),
            ("Washer 1 Rinse", 2, 9, 480, 3),
            ("Washer 2 Wash", 4, 12, 480, 3),
            ("Washer 2 Rinse", 2, 6, 480, 3),
        ],
    ),
    "stages under the names of machines": (
        [
            ["WASHER W-3"],
            ["Stage", "Heaters", "kW each", "Volt", "Ph"],
            ["Wash", 4, 12, 480, 3],
            ["Rinse 1", 2, 9, 480, 3],
            ["WASHER W-4"],
            ["Stage", "Heaters", "kW each", "Volt", "Ph"],
            ["Wash", 4, 12, 480, 3],
            ["Rinse 1", 1, 9, 480, 3],
        ],
        [
            ("WASHER W-3 Wash", 4, 12, 480, 3),
            ("WASHER W-3 Rinse 1", 2, 9, 480, 3),
            ("WASHER W-4 Wash", 4, 12, 480, 3),
            ("WASHER W-4 Rinse 1", 1, 9, 480, 3),
        ],
    ),
    "heaters numbered by their headings": (
        [["Tank", "Heater 1 kW", "Heater 2 kW", "Volts", "Phase"], ["T-1", 9, 6, 480, 3], ["T-2", 6, "", 480, 3], ["T-3", 12, 12, 480, 3]],
        [("T-1", 1, 9, 480, 3), ("T-1", 1, 6, 480, 3), ("T-2", 1, 6, 480, 3), ("T-3", 1, 12, 480, 3), ("T-3", 1, 12, 480, 3)],
    ),
    "groups of columns behind a word of their own": (
        [
            ["JOB", "WASH TK", "WASH HTRS", "WASH KW EA", "RINSE TK", "RINSE HTRS", "RINSE KW EA", "VOLTS", "PHASE"],
            ["7710", "WT-10", 3, 12, "RT-10", 2, 9, 480, 3],
            ["7714", "WT-14", 2, 9, "", "", "", 240, 3],
            ["7725", "WT-25", 6, 15, "RT-25", 4, 12, 480, 3],
        ],
        [("WT-10", 3, 12, 480, 3), ("RT-10", 2, 9, 480, 3), ("WT-14", 2, 9, 240, 3), ("WT-25", 6, 15, 480, 3), ("RT-25", 4, 12, 480, 3)],
    ),
    "pairs": (
        [["Tank", "Heaters", "Supply"], ["T-1", "pair of 9 kW", "480/3"], ["T-2", "one 6 kW", "480/3"], ["T-3", "two pair 6 kW", "480/3"]],
        [("T-1", 2, 9, 480, 3), ("T-2", 1, 6, 480, 3), ("T-3", 4, 6, 480, 3)],
    ),
    "circuits by the lines they are on": (
        [
            ["Supply 3x400/230 V + N + PE, 50 Hz. One circuit = one heater, unless a remark says otherwise."],
            ["Circuit", "Description", "Tank", "kW", "A", "Connection", "Remarks"],
            ["K1-01", "Tank heater 1 degrease", "T-1", 6, 8.7, "L1-L2-L3", ""],
            ["K1-02", "Tank heater 2 degrease", "T-1", 6, 8.7, "L1-L2-L3", ""],
            ["K1-03", "Tank heater warm rinse", "T-3", 2, 8.7, "L1-N", ""],
            ["K1-04", "Tank heaters passivate", "T-6", 9, 13, "L1-L2-L3", "2 pcs at 4.5 kW on one circuit"],
        ],
        [("T-1", 1, 6, 400, 3), ("T-1", 1, 6, 400, 3), ("T-3", 1, 2, 230, 1), ("T-6", 2, 4.5, 400, 3)],
    ),
    "one heater of several a line": (
        [
            ["ASSET", "DESCRIPTION", "PARENT_TANK", "SPEC"],
            ["HT-0301", "HEATER 1 OF 2, DEGREASE", "TK301", "9KW 480V 3PH 316SS"],
            ["HT-0302", "HEATER 2 OF 2, DEGREASE", "TK301", "9KW 480V 3PH 316SS"],
            ["HT-0305", "HEATER, ACID", "TK303", "3KW 240V 1PH PTFE"],
        ],
        [("TK301", 1, 9, 480, 3), ("TK301", 1, 9, 480, 3), ("TK303", 1, 3, 240, 1)],
    ),
    "tanks announced by numbered lines": (
        [
            ["Pos.", "Qty", "Designation", "Power each [kW]", "Supply"],
            [10, "", "TANK B10 - ALKALINE DEGREASE, 14 m3"],
            ["10.1", 1, "Tank, mild steel"],
            ["10.2", 4, "Immersion heater", 22.5, "3AC 690 V"],
            [30, "", "TANK B30 - PICKLE, 18 m3"],
            ["30.1", 6, "Immersion heater, PTFE", 15, "3AC 690 V"],
            [40, "", "TANK B40 - PICKLE 2, 18 m3"],
            ["40.1", 6, "Immersion heater, PTFE", 15, "3AC 690 V"],
        ],
        [("B10", 4, 22.5, 690, 3), ("B30", 6, 15, 690, 3), ("B40", 6, 15, 690, 3)],
    ),
    "a set of so many, and stars for a supply in the remark": (
        [
            ["LINE", "QTY", "U/M", "DESCRIPTION"],
            [10, 3, "EA", "HEATER, IMMERSION, 6 KW EA, 480V 3PH, FOR TANK 14"],
            [20, 1, "SET", "HEATERS, IMMERSION, SET OF 4, 3 KW EACH, 240V 1PH, FOR TANK 19"],
        ],
        [("TANK 14", 3, 6, 480, 3), ("TANK 19", 4, 3, 240, 1)],
    ),
    "stars instead of volts": (
        [
            ["Tank", "Qty", "kW ea", "V", "Ph", "Remarks"],
            ["T-1", 2, 6, 480, 3, ""],
            ["T-2", 2, 9, 480, 3, ""],
            ["T-3", 1, 2, "*", "*", "* 208 V, 1 phase, from panel LP-2"],
        ],
        [("T-1", 2, 6, 480, 3), ("T-2", 2, 9, 480, 3), ("T-3", 1, 2, 208, 1)],
    ),
    "amps and limits of each under a heading of two lines": (
        [
            ["MARK", "EQUIPMENT", "SERVES", "QTY", "LOAD, EA", "VOLTS", "PH", "FLA", "MOCP"],
            ["", "", "TANK", "", "KW", "", "", "EA", "EA"],
            ["IH-1", "IMMERSION HEATER", "TK-101", 4, 15, 480, 3, 18, 25],
            ["IH-2", "IMMERSION HEATER", "TK-103", 2, 18, 480, 3, 21.7, 30],
        ],
        [("TK-101", 4, 15, 480, 3), ("TK-103", 2, 18, 480, 3)],
    ),
}

READ |= {
    "watts of each beside kilowatts of all": (
        [
            ["Tank", "Solution", "Heater qty", "Heater rating (W ea.)", "Supply V/ph/Hz", "Load (kW)"],
            ["BL2-02", "Clean", 2, 9000, "600/3/60", 18],
            ["BL2-06", "Nickel", 3, 9000, "600/3/60", 27],
            ["BL2-07", "Bright nickel", 3, 6000, "600/3/60", 18],
            ["BL2-11", "Dip", 1, 1500, "208/1/60", 1.5],
        ],
        [("BL2-02", 2, 9, 600, 3), ("BL2-06", 3, 9, 600, 3), ("BL2-07", 3, 6, 600, 3), ("BL2-11", 1, 1.5, 208, 1)],
    ),
    "tags before names, changes beside them, and a total that differs": (
        [
            ["Ref", "Tank", "Heaters fitted", "V / ph", "kW per tank", "Change from Issue 1"],
            ["LT-01", "Soak clean", "3 off 6 kW", "415/3", 18, "was 2 off"],
            ["LT-02", "Electroclean", "2 off 6 kW", "415/3", 12, "new"],
            ["LT-05", "Bright nickel", "4 off 6 kW", "415/3", 24, "new"],
            ["LT-08", "Black oxide", "2 off 9 kW", "415/3", 27, "new"],
            ["LT-10", "Lacquer wash", "2 off 3 kW", "415/3", 6, "new"],
        ],
        [("LT-01", 3, 6, 415, 3), ("LT-02", 2, 6, 415, 3), ("LT-05", 4, 6, 415, 3), ("LT-10", 2, 3, 415, 3)],
    ),
    "tags and names in one cell": (
        [
            ["Anlage", "Behälter", "Heizung", "Spannung"],
            ["WA1 Einkammer", "WA1-B1 Waschtank", "3 Stk. à 12 kW", "400 V 3~"],
            ["", "WA1-B2 Spültank", "2 Stk. à 9 kW", "400 V 3~"],
            ["", "WA1-B3 Ölabscheider", "1 Stk. 2 kW", "230 V 1~"],
            ["WA3 Handplatz", "WA3-B1 Tauchbad", "1 Stk. 4,5 kW", "400 V 3~"],
        ],
        [("WA1-B1", 3, 12, 400, 3), ("WA1-B2", 2, 9, 400, 3), ("WA1-B3", 1, 2, 230, 1), ("WA3-B1", 1, 4.5, 400, 3)],
    ),
    "marks of heaters beside descriptions that name tanks": (
        [
            ["Item", "Tag", "Description", "Qty", "Unit Rating", "Unit", "V", "Ph"],
            [1, "P-102", "Feed pump, TK-211", 2, 5, "HP", 480, 3],
            [4, "HE-211", "Immersion heater, TK-211 alkaline clean", 4, 15, "kW", 480, 3],
            [6, "HE-213", "Immersion heater, TK-213 etch", 2, 12, "kW", 480, 3],
        ],
        [("TK-211", 4, 15, 480, 3), ("TK-213", 2, 12, 480, 3)],
    ),
    "years are no power": (
        [
            ["Heater Tag", "Tank", "Service", "kW", "Volts", "Ph", "Amps", "Breaker", "Installed"],
            ["H-101A", "TK-101", "Soak", 12, 600, 3, 11.5, "20A", 2019],
            ["H-101B", "TK-101", "Soak", 12, 600, 3, 11.5, "20A", 2019],
            ["H-103A", "TK-103", "Clean", 9, 600, 3, 8.7, "15A", 2019],
            ["H-103B", "TK-103", "Clean", 9, 600, 3, 8.7, "15A", 2021],
        ],
        [("TK-101", 1, 12, 600, 3), ("TK-101", 1, 12, 600, 3), ("TK-103", 1, 9, 600, 3), ("TK-103", 1, 9, 600, 3)],
    ),
    "phases in words under a heading of both": (
        [
            ["Repère", "Cuve", "Nb de thermoplongeurs", "Puissance unitaire (kW)", "Tension (V)", "Tri / Mono"],
            ["C01", "Dégraissage", 4, 9, 400, "Tri"],
            ["C02", "Rinçage", 0, "", "", ""],
            ["C03", "Satinage", 3, 9, 400, "Tri"],
            ["C10", "Colmatage", 1, 3, 230, "Mono"],
        ],
        [("C01", 4, 9, 400, 3), ("C03", 3, 9, 400, 3), ("C10", 1, 3, 230, 1)],
    ),
    "types and the tanks they go to, with how many": (
        [
            ["Type", "KW", "Volts", "Ph", "Total Req'd", "Goes To"],
            ["KW is per heater."],
            ["A", 12, 480, 3, 9, "T-101 (3), T-102 (3), T-105 (3)"],
            ["C", 6, 480, 3, 5, "T-110 (3), T-111 (2)"],
            ["F", 18, 480, 3, 6, "T-130 thru T-132, 2 per tank"],
            ["H", 1.5, 120, 1, 1, "T-140 lab bench (1)"],
            ["K", 3, 240, 1, 4, "T-150 (1), T-151 (2)"],
        ],
        [
            *((tag, 3, 12, 480, 3) for tag in ("T-101", "T-102", "T-105")),
            ("T-110", 3, 6, 480, 3),
            ("T-111", 2, 6, 480, 3),
            *((tag, 2, 18, 480, 3) for tag in ("T-130", "T-131", "T-132")),
            ("T-140", 1, 1.5, 120, 1),
        ],
    ),
    "two sides of a panel with poles and tanks in the loads": (
        [
            ["PANEL HP-3"],
            ["480Y/277 V, 3PH, 4W"],
            ["EACH HEATER CIRCUIT FEEDS ONE HEATER. KW IS OF THE WHOLE CIRCUIT."],
            ["CKT", "LOAD SERVED", "KW", "POLES", "BKR", "", "BKR", "POLES", "KW", "LOAD SERVED", "CKT"],
            ["1,3,5", "HTR 12A - TANK TK-12 NICKEL", 12, 3, "20A", "", "20A", 3, 12, "HTR 12B - TANK TK-12 NICKEL", "2,4,6"],
            ["19,21", "HTR 16 - TANK TK-16 RINSE", 6, 2, "20A", "", "20A", 1, 1.8, "LIGHTING, LINE HOOD", "28"],
            ["23", "HTR 19 - TANK TK-19 SEAL", 4, 1, "20A", "", "30A", 3, 18, "HTR 14 - TANK TK-14 SOAK", "8,10,12"],
        ],
        [("TK-12", 1, 12, 480, 3), ("TK-16", 1, 6, 480, 1), ("TK-19", 1, 4, 277, 1), ("TK-12", 1, 12, 480, 3), ("TK-14", 1, 18, 480, 3)],
    ),
    "heaters tagged one by one among pumps": (
        [
            ["Item", "Tag", "Description", "Tank", "HP", "kW", "V/Ph/Hz", "Notes"],
            [1, "HTR-1A", "Immersion heater", "Wash 1", "", 12, "480/3/60", ""],
            [2, "HTR-1B", "Immersion heater", "Wash 1", "", 12, "480/3/60", ""],
            [3, "HTR-1C", "Immersion heater", "Wash 1", "", 12, "480/3/60", ""],
            [4, "P-1", "Spray pump", "Wash 1", 15, "", "480/3/60", ""],
            [5, "HTR-3", "Immersion heater", "Rinse", "", 6, "480/3/60", ""],
            [6, "HTR-4", "Immersion heater", "DI makeup", "", 3, "240/1/60", "by owner"],
        ],
        [("Wash 1", 1, 12, 480, 3), ("Wash 1", 1, 12, 480, 3), ("Wash 1", 1, 12, 480, 3), ("Rinse", 1, 6, 480, 3)],
    ),
    "the net over a list": (
        [
            ["Netz: 3 x 400 V, 50 Hz (alle Heizkörper dreiphasig)"],
            ["Wanne", "Bezeichnung", "Heizkörper (Stk.)", "Heizleistung gesamt (kW)"],
            ["W1", "Entfettung", 3, 27],
            ["W3", "Beize", 2, 18],
        ],
        [("W1", 3, 9, 400, 3), ("W3", 2, 9, 400, 3)],
    ),
    "a star behind an item's number, explained below": (
        [
            ["Ref", "Equipment", "Serving", "Qty", "Unit kW", "Volts", "Phases"],
            ["E01", "Immersion heater", "T1", 3, 9, 400, 3],
            ["E09*", "Immersion heater", "T9", 1, 6, 400, 3],
            ["E10", "Immersion heater", "T10", 1, 6, 400, 3],
            ["* Free issue by client, not in this tender."],
        ],
        [("T1", 3, 9, 400, 3), ("T10", 1, 6, 400, 3)],
    ),
    "a spare under the last tank, which is not of that tank": (
        [
            ["Tank", "Process", "Qty", "kW each", "Volts", "Ph", "Remark"],
            ["K1", "Degrease", 3, 4.5, 400, 3, ""],
            ["K2", "Rinse", 2, 4.5, 400, 3, ""],
            ["K3", "Pickle", 2, 3, 400, 3, ""],
            ["", "Heater on the shelf", 1, 4.5, 400, 3, "for K1 and K2"],
        ],
        [("K1", 3, 4.5, 400, 3), ("K2", 2, 4.5, 400, 3), ("K3", 2, 3, 400, 3)],
    ),
    "tags of baths below their names, in a turned table": (
        [
            ["Position", 1, 2, 3],
            ["Bath", "Degrease", "Rinse", "Ni strike"],
            ["Tag", "B01", "B02", "B03"],
            ["Heaters fitted", 2, "-", 1],
            ["kW each", 1.5, "-", 0.7],
            ["Volts", 230, "-", 230],
            ["Phases", 1, "-", 1],
        ],
        [("B01", 2, 1.5, 230, 1), ("B03", 1, 0.7, 230, 1)],
    ),
    "tags under a word for a number, one of them twice": (
        [
            ["Nr", "Nazwa", "Moc łączna [kW]", "Szt.", "kW / szt.", "U [V]", "Fazy", "Uwagi"],
            ["W9", "Topnik", 36, 4, 9, 400, 3, ""],
            ["W11", "Płukanie gorące", 12, 2, 6, 400, 3, ""],
            ["W12", "Pasywacja", 3, 1, 3, 230, 1, ""],
            ["W9", "Topnik", 9, 1, 9, 400, 3, "grzałka zapasowa, na magazynie"],
        ],
        [("W9", 4, 9, 400, 3), ("W11", 2, 6, 400, 3), ("W12", 1, 3, 230, 1)],
    ),
    "units on duty and on standby": (
        [
            ["Tag", "Description", "Serves", "Duty", "Stby", "Rated kW", "V", "Ph", "Conn. kW"],
            ["EH-3101", "Immersion heaters, degrease", "TK-3101", 4, 0, 15, 400, 3, 60],
            ["P-3101", "Recirculation pumps", "TK-3101", 1, 1, 7.5, 400, 3, 15],
            ["EH-3105", "Immersion heaters, pickle", "TK-3105", 3, 1, 6, 400, 3, 24],
            ["EH-3203", "Immersion heaters, chrome", "TK-3203", 2, 0, 7.5, 400, 3, 15],
        ],
        [("TK-3101", 4, 15, 400, 3), ("TK-3203", 2, 7.5, 400, 3)],
    ),
    "issues beside each other, of which a blank says no change": (
        [
            ["LATEST REVISION GOVERNS. BLANK IN A REVISION = NO CHANGE FROM THE COLUMN BEFORE. ALL HEATERS 3 PHASE. KW PER HEATER."],
            ["", "", "ORIGINAL 1994", "", "", "REV A 2005", "", "", "REV B 2016", "", ""],
            ["NO", "TANK", "QTY", "KW", "VOLT", "QTY", "KW", "VOLT", "QTY", "KW", "VOLT"],
            ["T1", "SOAK", 2, 6, 480, 3, "", "", "", 9, ""],
            ["T2", "ELECTROCLEAN", 2, 6, 480, "", "", "", "", "", ""],
            ["T4", "COPPER", 1, 4, 240, "", "", "", 1, 6, 480],
            ["T11", "STRIPPER", 1, 3, 480, "DELETED", "", "", "", "", ""],
        ],
        [("T1", 3, 9, 480, 3), ("T2", 2, 6, 480, 3), ("T4", 1, 6, 480, 3)],
    ),
    "heaters with a mark each, and volts where the column is empty": (
        [
            ["NOTE: HEATERS ARE 480 V, 3 PH, 60 HZ WHERE VOLT / PH COLUMN IS EMPTY"],
            ["TANK NO.", "PROCESS", "TAG", "KW", "VOLT", "PH", "MCC BKT"],
            ["TK-201", "HOT WASH", "HE-201A", 36, "", "", "4-2A"],
            ["", "", "HE-201B", 36, "", "", "4-2B"],
            ["TK-206", "ACTIVATION", "HE-206A", 12, 480, 3, "5-1A"],
            ["TK-210", "PASSIVATE", "HE-210A", 9, 240, 1, "LP2-14"],
            ["TK-212", "DI RINSE", "HE-212A", "", "", "", "5-3A"],
            ["", "", "HE-212B", 18, "", "", "5-3B"],
        ],
        [
            ("TK-201", 1, 36, 480, 3),
            ("TK-201", 1, 36, 480, 3),
            ("TK-206", 1, 12, 480, 3),
            ("TK-210", 1, 9, 240, 1),
            ("TK-212", 1, 18, 480, 3),
        ],
    ),
    "a panel's schedule with marks for further poles": (
        [
            ["PANEL HP-3   480Y/277 V   3 PH   4 W   225 A MCB"],
            ["CKT", "LOAD DESCRIPTION", "BKR/P", "CKT KW", "", "CKT KW", "BKR/P", "LOAD DESCRIPTION", "CKT"],
            [1, "TANK 1 SOAK CLEAN HTR, 18 KW", "30/3", 18, "", 27, "45/3", "TANK 5 NI HTRS, QTY 3 ON ONE CKT", 2],
            [3, "|", "", "", "", "", "", "|", 4],
            [5, "|", "", "", "", "", "", "|", 6],
            [7, "TANK 9 RINSE HTR", "20/1", 4, "", 2.1, "20/1", "LTG BAY 3 EAST", 8],
            [9, "TANK 11 CHROMATE HTR", "20/2", 6, "", 30, "50/3", "RECTIFIER R-2", 10],
            [11, "|", "", "", "", "", "", "|", 12],
            [13, "TANK 14 STRIP HTR", "20/3", 24, "", "", "", "|", 14],
        ],
        [("TANK 1", 1, 18, 480, 3), ("TANK 9", 1, 4, 277, 1), ("TANK 11", 1, 6, 480, 1), ("TANK 5", 3, 9, 480, 3)],
    ),
    "sets whose words say how many they are": (
        [
            ["Pos.", "Qty", "Unit", "Description", "Unit EUR"],
            ["2.1", 3, "pc", "Immersion heater 9 kW, 3 x 400 V, for tank T05", 540],
            ["2.2", 1, "set", "Heating of tank T08, consisting of 3 immersion heaters of 6 kW each, 3 x 400 V", 1480],
            ["2.5", 1, "set", "Heating of tank T14, immersion heaters, total 24 kW, 3 x 400 V", 1900],
        ],
        [("T05", 3, 9, 400, 3), ("T08", 3, 6, 400, 3)],
    ),
}


@pytest.mark.parametrize("name", READ)
def test_a_plain_list_is_read_whole(name: str, tmp_path: Path) -> None:
    rows, expected = READ[name]
    assert heaters(read_list(tmp_path, *rows)) == expected


ROWS: list[list[object]] = [["T-1", 2, 9, 480, 3, ""], ["T-2", 2, 6, 480, 3, ""], ["T-3", 1, 6, 480, 3, ""], ["T-4", 1, 6, 480, 3, ""]]
NOTED = {  # a line below the list, and the tanks that are still sized
    "Please change T-3 to 240 V single phase.": ["T-1", "T-2", "T-4"],
    "T-4 heaters are now 9 kW.": ["T-1", "T-2", "T-3"],
    "Rev B: tank T-2 now 4 heaters": ["T-1", "T-3", "T-4"],
    "T-3 went to steam this week, leave it out please.": ["T-1", "T-2", "T-4"],
    "T-4: we are not sure about the volts, will let you know": ["T-1", "T-2", "T-3"],
    "T-1 deleted, T-2, T-3 added": ["T-2", "T-3", "T-4"],
    "CHANGE 5/6: TANK T-2 HEATERS TO BE 9KW IN PLACE OF 6KW EACH": ["T-1", "T-3", "T-4"],
    "T-3: we have this heater in our stores so do not price it.": ["T-1", "T-2", "T-4"],
    "T-2 has 2 heaters of 6 kW": ["T-1", "T-2", "T-3", "T-4"],
    "T-1 pump is by others.": ["T-1", "T-2", "T-3", "T-4"],
    "Leave out T-3, it has been on the steam coil since summer.": ["T-1", "T-2", "T-4"],
    "T-2: the 6 kW is off the old drawing. Nobody here knows whether that is each heater or the lot.": ["T-1", "T-3", "T-4"],
    "Issued: T-1 with 2 heaters of 6 kW. Rev 1: T-1 with 2 heaters of 9 kW.": ["T-1", "T-2", "T-3", "T-4"],
}


@pytest.mark.parametrize("note", NOTED)
@pytest.mark.parametrize("elsewhere", [False, True])
def test_a_note_apart_from_the_list_asks_about_the_rows_that_it_changes(note: str, elsewhere: bool, tmp_path: Path) -> None:
    table = [HEAD, *ROWS]
    sheets = {"Sheet1": table, "Letter": [[note]]} if elsewhere else {"Sheet1": [*table, [], [note]]}
    assert [bank.tank for bank in read_sheets(tmp_path, sheets).banks] == NOTED[note]


STATES = [["Asset", "Tank", "State", "Qty", "kW each", "Volts", "Ph"]]


@pytest.mark.parametrize("state", ["INACTIVE", "hors service", "spent", "Customer"])
def test_a_state_unlike_that_of_most_rows_is_asked_about(state: str, tmp_path: Path) -> None:
    rows = [[f"H-{at}", f"T-{at}", "OPERATING", 2, 6, 480, 3] for at in range(1, 5)]
    job = read_list(tmp_path, *STATES, *rows, ["H-5", "T-5", state, 2, 6, 480, 3])
    assert [bank.tank for bank in job.banks] == ["T-1", "T-2", "T-3", "T-4"] and in_doubt(job)


@pytest.mark.parametrize("state", ["operating", "OPERATING, gasket worn", "OK", "burned out, replace same", "added"])
def test_a_state_that_says_nothing_against_a_row_leaves_it_in(state: str, tmp_path: Path) -> None:
    rows = [[f"H-{at}", f"T-{at}", "OPERATING", 2, 6, 480, 3] for at in range(1, 5)]
    job = read_list(tmp_path, *STATES, *rows, ["H-5", "T-5", state, 2, 6, 480, 3])
    assert [bank.tank for bank in job.banks] == ["T-1", "T-2", "T-3", "T-4", "T-5"]


def test_a_word_that_a_note_explains_takes_its_rows_into_doubt(tmp_path: Path) -> None:
    head = ["Item", "Equip", "Serves", "Qty", "Rating each", "Supply", "By"]
    rows = [[at, f"EH-{at}0", f"TK-{at}0", 2, "9 kW", "480/3/60", "Us"] for at in range(1, 5)]
    note = ['Items "Customer" are furnished by customer, not in our scope.']
    job = read_list(tmp_path, head, *rows, [5, "EH-50", "TK-50", 1, "6 kW", "480/3/60", "Customer"], [], note)
    assert [bank.tank for bank in job.banks] == ["TK-10", "TK-20", "TK-30", "TK-40"]


@pytest.mark.parametrize("tag", ["T-101-103", "T-102–T-104"])
def test_a_tag_that_may_be_a_run_of_tanks_is_no_tank(tag: str, tmp_path: Path) -> None:
    job = read_list(tmp_path, HEAD, [tag, 2, 9, 480, 3, ""], ["T-110", 3, 6, 480, 3, ""], ["T-111", 3, 6, 480, 3, ""])
    assert [bank.tank for bank in job.banks] == ["T-110", "T-111"]


def test_a_tag_of_line_and_tank_is_one(tmp_path: Path) -> None:
    job = read_list(tmp_path, HEAD, *[[f"2-{at}", 2, 9, 480, 3, ""] for at in (3, 4, 5)])
    assert [bank.tank for bank in job.banks] == ["2-3", "2-4", "2-5"]


def test_the_same_mark_twice_with_other_figures_is_asked(tmp_path: Path) -> None:
    head = ["ASSET", "DESCRIPTION", "PARENT_TANK", "SPEC", "Qty"]
    rows = [[f"HT-030{at}", "HEATER", f"TK30{at}", "9KW 480V 3PH", 1] for at in range(1, 5)]
    job = read_list(
        tmp_path, head, *rows, ["HT-0309", "HEATER", "TK309", "12KW 480V 3PH", 1], ["HT-0309", "HEATER", "TK309", "9KW 480V 3PH", 1]
    )
    assert [bank.tank for bank in job.banks] == ["TK301", "TK302", "TK303", "TK304"]


def test_what_an_answer_quotes_of_an_older_message_is_not_sized(tmp_path: Path) -> None:
    older = [["> Tank", "> Heaters", "> Supply"], ["> T-1", "> 2 x 9 kW", "> 480 / 3"], ["> T-2", "> 3 x 6 kW", "> 480 / 3"]]
    job = read_list(tmp_path, ["Tank", "Heaters", "Supply"], ["T-1", "3 x 9 kW", "480 / 3"], ["T-2", "4 x 6 kW", "480 / 3"], [], *older)
    assert heaters(job) == [("T-1", 3, 9, 480, 3), ("T-2", 4, 6, 480, 3)]


@pytest.mark.parametrize("words", ["12 kW for both of them?", "12 kW in tutto?", "240 V?"])
def test_a_remark_that_asks_about_a_figure_asks_about_its_row(words: str, tmp_path: Path) -> None:
    job = read_list(tmp_path, HEAD, ["T-1", 2, 12, 480, 3, words], ["T-2", 3, 6, 480, 3, "new lid, is it there already? ask the shop"])
    assert [bank.tank for bank in job.banks] == ["T-2"]


def test_a_number_and_a_dash_before_a_power_may_be_a_range(tmp_path: Path) -> None:
    job = read_list(
        tmp_path, ["Tank", "Heaters", "Supply"], ["T-1", "3-9 kW", "480/3"], ["T-2", "6-4.5 kW", "480/3"], ["T-3", "2 x 6 kW", "480/3"]
    )
    assert heaters(job) == [("T-2", 6, 4.5, 480, 3), ("T-3", 2, 6, 480, 3)]


def test_amps_that_contradict_a_row_ask_about_it_though_others_do_too(tmp_path: Path) -> None:
    head = ["Tank", "Qty", "kW each", "Volts", "Ph", "Amps each"]
    rows = [
        ["T-1", 1, 9, 480, 3, 10.8],
        ["T-2", 1, 6, 480, 3, 7.2],
        ["T-3", 1, 12, 480, 3, 14.4],
        ["T-4", 1, 6, 480, 3, 14.4],
        ["T-5", 1, 3, 480, 3, 12.5],
    ]
    assert [bank.tank for bank in read_list(tmp_path, head, *rows).banks] == ["T-1", "T-2", "T-3"]


@pytest.mark.parametrize(
    "remark",
    [
        "dryer box, blower and duct element - not a tank",
        "se retiró en 2021, ya no se usa",
        "vasca smontata",
        "wird nicht mehr gebaut",
        "by line builder",
        "FURN & INSTALLED BY OTHERS",
        "by DI skid supplier, shown for load only",
        "gone since 2019, not coming back",
    ],
)
def test_what_takes_a_row_out_in_other_words(remark: str, tmp_path: Path) -> None:
    job = read_list(tmp_path, HEAD, ["T-1", 2, 9, 480, 3, ""], ["T-2", 2, 6, 480, 3, remark], ["T-3", 1, 6, 480, 3, ""])
    assert [bank.tank for bank in job.banks] == ["T-1", "T-3"]


def test_a_power_without_each_among_those_with_it_is_asked(tmp_path: Path) -> None:
    rows = [
        ["T-1", 4, "6kW each", 400, 3, ""],
        ["T-4", 2, "4.5kW each", 400, 3, ""],
        ["T-8", 2, "3kW each", 400, 3, ""],
        ["T-9", 1, "9kW", 400, 3, ""],
    ]
    job = read_list(tmp_path, ["Tank", "No. off", "Rating", "Volts", "Ph", "Remarks"], *rows, ["T-12", 2, "12kW", 400, 3, ""])
    assert [bank.tank for bank in job.banks] == ["T-1", "T-4", "T-8", "T-9"]


def test_what_is_done_with_the_heaters_of_a_row_is_asked_where_it_is_another_thing_than_in_most(tmp_path: Path) -> None:
    head = ["TK", "Bath", "# htrs", "kW/htr", "V-Ph", "What to do"]
    rows = [
        [f"1-{at}", "Clean", 2, 9, "480-3", words]
        for at, words in enumerate(["replace", "replace, plate worn", "replace", "keep, new last year"], 1)
    ]
    assert [bank.tank for bank in read_list(tmp_path, head, *rows).banks] == ["1-1", "1-2", "1-3"]


def test_a_bath_called_after_ultrasonics_is_heated_where_its_row_counts_heaters(tmp_path: Path) -> None:
    head = ["Station", "Description", "Heater qty", "Watts each", "Voltage", "Phase"]
    rows = [["W-1", "Detergent ultrasonic", 2, 1500, 208, 1], ["W-4", "DI rinse", 1, 1000, 208, 1], ["W-5", "DI rinse 2", 1, 2000, 208, 1]]
    job = read_list(tmp_path, head, *rows, ["P-1", "Filter pump", "", 370, 120, 1])
    assert [bank.tank for bank in job.banks] == ["W-1", "W-4", "W-5"] and "remark-aside" in codes(job)
