"""Small lists in which a word, a column or a figure could be doubted and is plain to a careful reader; and beside it what stays in doubt.

Each says what must be sized, tank by tank; what it leaves out must not be sized, and be asked about or said to be left out. All names and
figures are invented.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake_book import book, read_bytes

Row = list[object]
PLAIN = ["Tank", "Heaters", "kW each", "Volts", "Ph", "Remarks"]
LISTS: dict[str, tuple[list[Row], dict[str, tuple], set[str]]] = {
    "a count of assets, watts and kW by a unit column, and one word of a column that alone counts": (
        [
            ["Scope of this RFQ: ACTION = REPLACE only. CLEAN is done by us."],
            ["ASSETNUM", "DESCRIPTION", "TANK_TAG", "STATUS", "ACTION", "ASSET_QTY", "UNIT_RATING", "RATING_UOM", "VOLTS", "PH"],
            ["A1", "HEATER,IMMERSION,SOAK", "1-01", "OPERATING", "REPLACE", 3, 15, "KW", 480, 3],
            ["A2", "HEATER,IMMERSION,STRIKE", "1-02", "OPERATING", "CLEAN", 1, 6, "KW", 480, 3],
            ["A3", "HEATER,IMMERSION,NICKEL", "1-03", "FAILED", "REPLACE", 4, 9000, "W", 480, 3],
            ["A4", "HEATER,IMMERSION,RINSE", "1-04", "OPERATING", "REPLACE", 1, 4500, "W", 240, 1],
            ["A5", "HEATER,IMMERSION,SEAL", "1-05", "OUT OF SERVICE", "REPLACE", 2, 9, "KW", 480, 3],
        ],
        {"1-01": (3, 15, 480, 3), "1-03": (4, 9, 480, 3), "1-04": (1, 4.5, 240, 1)}, {"1-02", "1-05"},
    ),
    "German states of heaters, of which broken ones are wanted too": (
        [
            ["Bad", "Anzahl Heizer", "kW je Heizer", "Spannung", "Zustand"], ["B1", 2, 6, "400 V 3~", "in Betrieb"],
            ["B2", 3, 9, "400 V 3~", "defekt"], ["B3", 1, 6, "400 V 3~", "in Betrieb"], ["B4", 2, 6, "400 V 3~", "in Betrieb"],
            ["B5", 2, 6, "400 V 3~", "ausgebaut"],
        ],
        {"B1": (2, 6, 400, 3), "B2": (3, 9, 400, 3), "B3": (1, 6, 400, 3), "B4": (2, 6, 400, 3)}, {"B5"},
    ),
    "lines of an order whose short texts name the tank, item numbers, and a line that is deleted": (
        [
            ["REQ", "ITEM", "DEL", "SHORT_TEXT", "QTY", "UOM", "LONG_TEXT"],
            ["77", "10", None, "HTR IMM OTS 12KW 480V 3PH TK-31", 3, "EA", "Kilowatts are per heater on all items"],
            ["77", "20", None, "HTR IMM OTS 12KW 480V 3PH TK-32", 2, "EA", None],
            ["77", "30", "X", "HTR IMM OTS 15KW 480V 3PH TK-33", 2, "EA", None],
            ["77", "40", None, "HTR IMM PTFE 6KW 240V 1PH TK-34", 1, "EA", "PTFE, lead 10 ft"],
            ["77", "50", None, "PROBE LIQUID LEVEL TK-34", 1, "EA", None],
        ],
        {"TK-31": (3, 12, 480, 3), "TK-32": (2, 12, 480, 3), "TK-34": (1, 6, 240, 1)}, {"TK-33"},
    ),
    "a cross under by others": (
        [[*PLAIN, "By others"], ["T1", 2, 9, 480, 3], ["T2", 2, 9, 480, 3, None, "X"], ["T3", 1, 6, 480, 3]],
        {"T1": (2, 9, 480, 3), "T3": (1, 6, 480, 3)}, {"T2"},
    ),
    "a short name of heaters before the power of each": (
        [
            ["TP = thermoplongeur électrique"], ["Repère", "Bain", "Chauffage", "Alim. (V)", "Observations"],
            ["C1", "Dégraissage", "3 TP de 9 kW", "400 tri"], ["C2", "Rinçage", "néant", "-"], ["C3", "Zinc", "1 TP de 6 kW", "400 tri"],
            ["C4", "Finition", "2 TP de 4,5 kW + 1 TP de 2 kW", "400 tri"], ["C5", "Chrome", "18 kW", "400 tri", "nombre de TP à définir"],
        ],
        {"C1": (3, 9, 400, 3), "C3": (1, 6, 400, 3), "C4": (1, 2, 400, 3)}, {"C5"},
    ),
    "figures that were changed, the former in brackets": (
        [
            PLAIN, ["10", "6 (was 5)", 12, 480, 3], ["20", 2, "9 (formerly 6)", 480, 3], ["30", 1, 6, "480 (was 240)", 3],
            ["40", "3 (4?)", 6, 480, 3],
        ],
        {"10": (6, 12, 480, 3), "20": (2, 9, 480, 3), "30": (1, 6, 480, 3)}, {"40"},
    ),
    "codes of what each power is of": (
        [
            ["Item", "Tanque", "Carga", "Qtde", "Potência kW", "U/T", "Tensão", "Fases"],
            [1, "TQ-01", "Aquecedor de imersão", 3, 18, "T", "380 V", 3], [2, "TQ-02", "Aquecedor de imersão", 2, 9, "U", "380 V", 3],
            [3, "TQ-03", "Aquecedor de imersão", 4, 18, None, "380 V", 3], [4, "TQ-04", "Aquecedor de imersão", 2, 12, "T", "380 V", 3],
            [], ["U = potência de cada unidade; T = potência total do item"],
        ],
        {"TQ-01": (3, 6, 380, 3), "TQ-02": (2, 9, 380, 3), "TQ-04": (2, 6, 380, 3)}, {"TQ-03"},
    ),
    "a sum of number times power": (
        [
            ["Stn", "Bath", "Qty", "kW", "Power"], ["B1", "clean", 2, 9, "480/3"], ["B2", "zinc", 3, 6, "480/3"],
            ["B3", "seal", 1, 3, "240/1"],
            ["all heaters, qty x kW = 39 kW"],
        ],
        {"B1": (2, 9, 480, 3), "B2": (3, 6, 480, 3), "B3": (1, 3, 240, 1)}, set(),
    ),
    "a note that one power is the tank's": (
        [
            ["Immersion heaters, 480 V 3 ph"], ["Tag", "Tank", "Qty", "kW each", "Total kW", "Remarks"], ["EH-1", "T-1", 3, 9, 27],
            ["EH-2", "T-2", 3, 36, 36, "see note 2"], ["EH-3", "T-3", 2, 6, 12], ["EH-4", "T-4", 2, 18, 18], ["EH-5", "T-5", 1, 6, 6], [],
            ["1. Cable by others."], ["2. Power shown is the total of the tank, shared equally by the heaters."],
        ],
        {"T-1": (3, 9, 480, 3), "T-2": (3, 12, 480, 3), "T-3": (2, 6, 480, 3), "T-5": (1, 6, 480, 3)}, {"T-4"},
    ),
    "what heaters are fed from": (
        [
            PLAIN, ["T1", 2, 9, 480, 3, "from panel LP-4"], ["T2", 1, 3, 240, 1, "off the small transformer"],
            ["T3", 1, 6, 480, 3, "own transformer, pump by others"], ["T4", 2, 6, 480, 3, "its on the lighting panel"],
            ["T5", 2, 6, 480, 3, "bath is also chilled"], ["T6", 1, 6, 480, 3, "chiller"],
            ["T8", 1, 6, 480, 3, "from panel LP-4, pump too"],
            ["T7", 2, 6, 480, 3, "dryer is 20 kW, new panel"],
        ],
        {"T1": (2, 9, 480, 3), "T2": (1, 3, 240, 1), "T3": (1, 6, 480, 3), "T4": (2, 6, 480, 3), "T5": (2, 6, 480, 3)}, {"T6", "T7", "T8"},
    ),
    "the same in German and Italian": (
        [
            ["Bad", "Anzahl Heizer", "kW je Heizer", "Spannung", "Bemerkung"], ["B1", 2, 6, "500 V 3~", "eigener Trafo"],
            ["B2", 2, 6, "400 V 3~", "aus Unterverteilung UV3"], ["B3", 1, 9, "400 V 3~", "dal quadro grande"],
            ["B4", 1, 6, "400 V 3~", "Umwälzpumpe"],
        ],
        {"B1": (2, 6, 500, 3), "B2": (2, 6, 400, 3), "B3": (1, 9, 400, 3)}, {"B4"},
    ),
    "existing beside required": (
        [
            ["Conversion to electric. kW is per heater."], ["Tank", "Solution", "Existing", "Required", None, None, "Remarks"],
            [None, None, None, "no.", "kW", "V/ph/Hz"], ["A-1", "Soak", "steam coil", 4, 15, "600/3/60"],
            ["A-2", "Pickle", "2 @ 9 kW 600 V", "none", None, None, "keep existing"],
            ["A-3", "Copper", "2 @ 9 kW 600 V", 3, 12, "600/3/60", "existing too small"],
            ["A-4", "Rinse", "steam coil", 3, "?", "600/3/60"], ["A-5", "Strip", "gas burner", 1, 7.5, "600/3/60"],
        ],
        {"A-1": (4, 15, 600, 3), "A-3": (3, 12, 600, 3), "A-5": (1, 7.5, 600, 3)}, {"A-2", "A-4"},
    ),
    "two lines that are called two phases, and explained": (
        [
            ["440 V 3F = trifásico; 220 V 2F = dos fases (monofásica entre líneas)"],
            ["No.", "Proceso", "Cant. resist.", "kW total por tina", "Volts", "Fases", "Observaciones"],
            ["T1", "Desengrase", 4, 48, 440, "3F"],
            ["T2", "Níquel", 6, 54, 440, "3F"], [None, "  T2, mantenimiento nocturno", 1, 6, 440, "3F"],
            ["T3", "Activado", 1, 3, 220, "2F"],
            ["T4", "Cromo", 2, "pendiente", 440, "3F"],
        ],
        {"T1": (4, 12, 440, 3), "T2": (1, 6, 440, 3), "T3": (1, 3, 220, 1)}, {"T4"},
    ),
    "two phases that nobody explains": (
        [["440 V 3F = trifásico; 220 V 2F = dos fases"], ["Tina", "Cant.", "kW c/u", "Volts", "Fases"], ["T1", 2, 6, 440, "3F"],
         ["T2", 1, 3, 220, "2F"], ["T3", 1, 6, 440, "3F"]],
        {"T1": (2, 6, 440, 3), "T3": (1, 6, 440, 3)}, {"T2"},
    ),
    "so many per tank, then the power of each": (
        [
            ["Tank(s)", "Bath", "Heaters", "Volts/ph"], ["T1", "Soak", "3 ea 9 kW", "480/3"],
            ["T2 & T3", "Clean", "2 per tank, 9 kW ea", "480/3"],
            ["T4", "Seal", "1 x 3 kW", "240/1"],
        ],
        {"T1": (3, 9, 480, 3), "T2": (2, 9, 480, 3), "T3": (2, 9, 480, 3), "T4": (1, 3, 240, 1)}, set(),
    ),
    "amps of a row that gives its total alone": (
        [
            ["Tag", "Equipment", "Tank", "Qty", "kW ea", "kW total", "V", "Ph", "FLA"],
            ["H1", "Immersion heaters", "T-1", 4, 15, 60, 480, 3, 72.2],
            ["H2", "Immersion heaters", "T-2", 3, 12, 36, 480, 3, 43.3], ["H3", "Immersion heaters", "T-3", 2, None, 24, 480, 3, 28.9],
            ["H4", "Immersion heaters", "T-4", 2, 9, 18, 480, 3, 21.7], ["H5", "Immersion heaters", "T-5", 2, None, 24, 480, 3, 43.3],
        ],
        {"T-1": (4, 15, 480, 3), "T-2": (3, 12, 480, 3), "T-3": (2, 12, 480, 3), "T-4": (2, 9, 480, 3)}, {"T-5"},
    ),
    "tanks that their cells name, beside running numbers and names of baths": (
        [
            ["Topná tělesa 230 V, 1 fáze"], ["Poř.", "Pozice", "Lázeň", "Počet těles", "Příkon, kW/ks"], [1, "Vana č. 1", "Moření", 1, 3],
            [2, "Vana č. 2", "Elox", 2, 3], [3, "Vana č. 3", "Cín", 4, 3], [None, "Celkem", None, None, 21],
        ],
        {"Vana č. 1": (1, 3, 230, 1), "Vana č. 2": (2, 3, 230, 1), "Vana č. 3": (4, 3, 230, 1)}, set(),
    ),
    "places by line and number beside running numbers": (
        [
            ["Chauffage des cuves, 400 V tri"], ["Poste", "Position", "Opération", "Qté", "kW/pièce"], [1, 1.1, "Décapage", 2, 12],
            [2, 1.2, "Dégraissage", 1, 12], [3, 2.1, "Passivation", 3, 9], [4, 2.2, "Nickel", 1, 6], [None, "Total", None, 7, 69],
        ],
        {"1.1": (2, 12, 400, 3), "1.2": (1, 12, 400, 3), "2.1": (3, 9, 400, 3), "2.2": (1, 6, 400, 3)}, set(),
    ),
    "a line of tanks that is named by its hoist": (
        [PLAIN, ["Hoist line 1"], ["T1", 2, 9, 480, 3], ["T2", 1, 6, 480, 3], ["Hoist motors"], ["T3", 1, 6, 480, 3]],
        {"T1": (2, 9, 480, 3), "T2": (1, 6, 480, 3)}, {"T3"},
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", LISTS)
def test_what_is_plain_is_read_and_what_is_not_is_asked(tmp_path: Path, name: str) -> None:
    rows, wanted, left = LISTS[name]
    job = read_bytes(tmp_path, book({"Heaters 1": rows}))
    found = {str(bank.tank): (bank.quantity, bank.power_kw, bank.volts_v, bank.phases) for bank in job.banks}
    assert found == wanted
    told = " ".join([*(row.refused for table in job.received for row in table.rows), *(str(one.message) for one in job.findings)])
    assert told and not left & found.keys()
