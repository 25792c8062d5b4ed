"""Short lists in Danish, Norwegian, Swedish and Czech, read without a map; what each says is worked by hand beside it. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.described import described
from batch.intake.list_words import meanings
from batch.intake.tags import read_tags
from batch.intake.vocabulary import vocabulary
from tests.intake_book import read_bytes
from tests.test_intake_plain_lists import Heaters, heaters, read_list

Lists = dict[str, tuple[list[list[object]], list[Heaters]]]

DANISH: Lists = {
    "a schedule with a power of each and of all": (
        [
            ["Varmelegemer, overfladelinje 2"],
            ["Kar nr.", "Proces", "Antal", "Effekt pr. stk. (kW)", "Effekt i alt (kW)", "Spænding (V)", "Faser", "Bemærkninger"],
            ["K-01", "Affedtning", 3, "7,5", "22,5", 400, 3, ""],
            ["K-02", "Skyl", "", "", "", "", "", "uopvarmet"],
            ["K-03", "Bejdsning", 2, "4,5", "9,0", 400, 3, "PTFE"],
            ["K-04", "Nikkel", 2, 6, 12, 400, 3, "udgår"],
            ["K-05", "Varmt skyl", 1, 3, 3, 230, 1, ""],
            ["I alt", "", "", "", "46,5", "", "", ""],
        ],
        [("K-01", 3, 7.5, 400, 3), ("K-03", 2, 4.5, 400, 3), ("K-05", 1, 3, 230, 1)],
    ),
    "heaters described in one cell, and a pump": (
        [
            ["Kar", "Indhold", "Elpatroner", "Forsyning"],
            ["Kar 1", "Alkalisk affedtning", "3 stk 6 kW", "3x400 V"],
            ["Kar 2", "Skyllekar", "ingen", ""],
            ["Kar 3", "Zinkbad", "2 stk 4,5 kW titan", "3x400 V"],
            ["Kar 4", "Filterpumpe", "1 stk 0,75 kW", "3x400 V"],
            ["Kar 5", "Passivering", "1 stk 3 kW", "1x230 V"],
        ],
        [("Kar 1", 3, 6, 400, 3), ("Kar 3", 2, 4.5, 400, 3), ("Kar 5", 1, 3, 230, 1)],
    ),
    "a parts list with positions and equipment": (
        [
            ["Pos.", "Betegnelse", "Kar", "Stk", "Ydelse kW/stk", "Spænding", "Note"],
            [1, "Dyppevarmer", "B10", 4, 9, "3x400 V", "ny"],
            [2, "Cirkulationspumpe", "B10", 1, "1,1", "3x400 V", ""],
            [3, "Dyppevarmer", "B12", 2, 6, "3x400 V", "eksisterende"],
            [4, "Dyppevarmer", "B14", 2, "4,5", "3x400 V", ""],
            ["", "Sum", "", 9, "", "", ""],
        ],
        [("B10", 4, 9, 400, 3), ("B14", 2, 4.5, 400, 3)],
    ),
    "the power of a tank": (
        [
            ["Bad nr.", "Medie", "Antal varmelegemer", "Effekt pr. kar kW", "Netspænding V", "Antal faser", "Temp. °C", "Anm."],
            ["B1", "Affedtning", 3, 18, 400, 3, 65, ""],
            ["B2", "Bejdse", 2, 9, 400, 3, 45, "PTFE"],
            ["B3", "Skyl", 0, "-", "", "", "stuetemperatur", ""],
            ["B4", "Forsegling", 4, 36, 400, 3, 96, ""],
            ["B5", "Skyl", 2, 9, 400, 3, 40, "leveres af andre"],
            ["Samlet", "", 9, 63, "", "", "", ""],
        ],
        [("B1", 3, 6, 400, 3), ("B2", 2, 4.5, 400, 3), ("B4", 4, 9, 400, 3)],
    ),
    "supply in words above, a row in doubt, another switched to steam": (
        [
            ["Forsyning: 3x400 V + N + PE, 50 Hz"],
            ["Beholder", "Behandling", "Ant.", "kW hver", "Status"],
            ["T-11", "Vask", 4, "7,5", "ny"],
            ["T-12", "Skyl", 2, "4,5", "afventer svar"],
            ["T-13", "Fosfatering", 3, 9, "ny"],
            ["T-14", "Tørreovn", 1, 24, "ny"],
            ["T-15", "Vask 2", 2, 6, "nu på damp"],
            ["T-16", "Olie", 1, 3, "ny"],
        ],
        [("T-11", 4, 7.5, 400, 3), ("T-13", 3, 9, 400, 3), ("T-16", 1, 3, 400, 3)],
    ),
}
NORWEGIAN: Lists = {
    "a schedule with powers of each and of all": (
        [
            ["Varmekolber galvano linje 1"],
            ["Kar nr.", "Prosess", "Antall kolber", "Effekt pr. kolbe [kW]", "Sum effekt [kW]", "Spenning [V]", "Fase", "Merknader"],
            ["1.1", "Avfetting", 4, "7,5", "30,0", 400, 3, ""],
            ["1.2", "Skylling", "", "", "", "", "", "uoppvarmet"],
            ["1.3", "Beising", 2, "4,5", "9,0", 400, 3, "teflon"],
            ["1.4", "Sink", 2, 6, 12, 400, 3, "utgår"],
            ["1.5", "Varm skylling", 1, 3, 3, 230, 1, ""],
            ["Sum", "", "", "", "54,0", "", "", ""],
        ],
        [("1.1", 4, 7.5, 400, 3), ("1.3", 2, 4.5, 400, 3), ("1.5", 1, 3, 230, 1)],
    ),
    "equipment of a line": (
        [
            ["Pos", "Utstyr", "Kar", "Ant.", "Effekt kW/stk", "Tilkobling", "Status"],
            [1, "Varmeelement", "T-21", 3, 9, "3x400 V", "ny"],
            [2, "Sirkulasjonspumpe", "T-21", 1, "1,5", "3x400 V", "ny"],
            [3, "Varmeelement", "T-22", 2, 6, "3x400 V", "eksisterende"],
            [4, "Avtrekksvifte", "T-22", 1, 4, "3x400 V", "ny"],
            [5, "Varmeelement", "T-24", 2, "4,5", "3x400 V", "ny"],
            ["", "Totalt", "", "", 30, "", ""],
        ],
        [("T-21", 3, 9, 400, 3), ("T-24", 2, 4.5, 400, 3)],
    ),
    "heaters described in one cell": (
        [
            ["Kar", "Volum (l)", "Varmeelementer", "Anm."],
            ["Kar 1", 1200, "3 stk 6 kW 3x400 V", ""],
            ["Kar 2", 1200, "ingen", "skyll"],
            ["Kar 3", 900, "2 stk 4,5 kW 3x400 V", "leveres av andre"],
            ["Kar 4", 900, "2 stk 4,5 kW 3x400 V PTFE", ""],
            ["Kar 5", 600, "1 stk 3 kW 1x230 V", ""],
        ],
        [("Kar 1", 3, 6, 400, 3), ("Kar 4", 2, 4.5, 400, 3), ("Kar 5", 1, 3, 230, 1)],
    ),
    "the power of a tank on a net of 230 V": (
        [
            ["Badnr", "Væske", "Antall elementer", "kW pr. kar", "Nettspenning", "Antall faser", "Strøm A", "Kommentar"],
            ["B1", "Alkalisk", 2, 12, 230, 3, "30,1", ""],
            ["B2", "Syre", 2, 9, 230, 3, "22,6", "demonteres"],
            ["B3", "Fosfat", 3, "13,5", 230, 3, "33,9", ""],
            ["B4", "Skyll", 0, 0, "", "", "", "kald"],
            ["B5", "Olje", 1, 2, 230, 1, "8,7", "med termostat"],
            ["Totalt", "", 8, "36,5", "", "", "", ""],
        ],
        [("B1", 2, 6, 230, 3), ("B3", 3, 4.5, 230, 3), ("B5", 1, 2, 230, 1)],
    ),
    "a row in doubt, and the supply above": (
        [
            ["Forsyning 3x400 V + N + PE, 50 Hz"],
            ["Beholder", "Behandling", "Stk", "kW hver", "Bemerkning"],
            ["T-11", "Vask", 4, "7,5", ""],
            ["T-12", "Skyll", 2, "4,5", "må avklares"],
            ["T-13", "Fosfatering", 3, 9, ""],
            ["T-14", "Tørkeovn", 1, 24, ""],
            ["T-15", "Vask 2", 2, 6, "nå på damp"],
            ["T-16", "Olje", 1, 3, "nytt"],
        ],
        [("T-11", 4, 7.5, 400, 3), ("T-13", 3, 9, 400, 3), ("T-16", 1, 3, 400, 3)],
    ),
}
SWEDISH: Lists = {
    "a schedule with powers of each and of all": (
        [
            ["Doppvärmare ytbehandlingslinje 3"],
            ["Kar nr", "Process", "Antal", "Effekt/st (kW)", "Effekt totalt (kW)", "Spänning (V)", "Faser", "Anmärkning"],
            ["3-01", "Avfettning", 3, "7,5", "22,5", 400, 3, ""],
            ["3-02", "Sköljning", "", "", "", "", "", "ouppvärmd"],
            ["3-03", "Betning", 2, "4,5", "9,0", 400, 3, "teflon"],
            ["3-04", "Nickel", 2, 6, 12, 400, 3, "utgår"],
            ["3-05", "Varmskölj", 1, 3, 3, 230, 1, ""],
            ["Summa", "", "", "", "46,5", "", "", ""],
        ],
        [("3-01", 3, 7.5, 400, 3), ("3-03", 2, 4.5, 400, 3), ("3-05", 1, 3, 230, 1)],
    ),
    "heaters described in one cell, and a pump": (
        [
            ["Bad", "Volym l", "Elpatroner", "Matning", "Anm."],
            ["Bad 1", 1500, "3 st 6 kW", "3x400 V", ""],
            ["Bad 2", 1500, "inga", "", "sköljbad"],
            ["Bad 3", 1200, "2 st 4,5 kW", "3x400 V", "befintliga"],
            ["Bad 4", "", "1 st pump 0,75 kW", "3x400 V", ""],
            ["Bad 5", 1200, "2 st 4,5 kW PTFE", "3x400 V", ""],
            ["Bad 6", 800, "1 st 3 kW", "1x230 V", ""],
        ],
        [("Bad 1", 3, 6, 400, 3), ("Bad 5", 2, 4.5, 400, 3), ("Bad 6", 1, 3, 230, 1)],
    ),
    "equipment of a line": (
        [
            ["Pos", "Benämning", "Kar", "Ant.", "kW vardera", "Spänning", "Status"],
            [10, "Elpatron", "K21", 3, 9, "3x400 V", "ny"],
            [20, "Cirkulationspump", "K21", 1, "1,5", "3x400 V", "ny"],
            [30, "Elpatron", "K22", 2, 6, "3x400 V", "levereras av kund"],
            [40, "Frånluftsfläkt", "K22", 1, 4, "3x400 V", "ny"],
            [50, "Elpatron", "K24", 2, "4,5", "3x400 V", "ny"],
            ["", "Totalt", "", "", 25, "", ""],
        ],
        [("K21", 3, 9, 400, 3), ("K24", 2, 4.5, 400, 3)],
    ),
    "the power of a tank": (
        [
            ["Badnr", "Vätska", "Antal värmare", "Märkeffekt per kar kW", "Nätspänning V", "Antal faser", "Drifttemp °C", "Kommentar"],
            ["B1", "Alkalisk", 3, "13,5", 400, 3, 65, ""],
            ["B2", "Syra", 2, 9, 400, 3, 45, "skrotas"],
            ["B3", "Fosfat", 4, 36, 400, 3, 50, "med nivåvakt"],
            ["B4", "Skölj", 0, "-", "", "", "", "kall"],
            ["B5", "Olja", 1, 2, 230, 1, 60, ""],
            ["Totalt", "", 10, "60,5", "", "", "", ""],
        ],
        [("B1", 3, 4.5, 400, 3), ("B3", 4, 9, 400, 3), ("B5", 1, 2, 230, 1)],
    ),
    "a row in doubt, and the supply above": (
        [
            ["Matning 3x400 V + N + PE, 50 Hz"],
            ["Behållare", "Behandling", "St", "Effekt vardera, kW", "Notering"],
            ["T-11", "Tvätt", 4, "7,5", ""],
            ["T-12", "Skölj", 2, "4,5", "inväntar besked"],
            ["T-13", "Fosfatering", 3, 9, ""],
            ["T-14", "Torkugn", 1, 24, ""],
            ["T-15", "Tvätt 2", 2, 6, "nu med ånga"],
            ["T-16", "Olja", 1, 3, "ny"],
        ],
        [("T-11", 4, 7.5, 400, 3), ("T-13", 3, 9, 400, 3), ("T-16", 1, 3, 400, 3)],
    ),
}
CZECH: Lists = {
    "a schedule with powers of each and of all": (
        [
            ["Topná tělesa, linka povrchových úprav č. 2"],
            ["Č. vany", "Proces", "Počet ks", "Příkon 1 ks (kW)", "Příkon celkem (kW)", "Napětí (V)", "Počet fází", "Poznámka"],
            ["V01", "Odmaštění", 3, "7,5", "22,5", 400, 3, ""],
            ["V02", "Oplach", "", "", "", "", "", "nevyhřívaná"],
            ["V03", "Moření", 2, "4,5", "9,0", 400, 3, "teflon"],
            ["V04", "Nikl", 2, 6, 12, 400, 3, "zrušeno"],
            ["V05", "Teplý oplach", 1, 3, 3, 230, 1, ""],
            ["Celkem", "", "", "", "46,5", "", "", ""],
        ],
        [("V01", 3, 7.5, 400, 3), ("V03", 2, 4.5, 400, 3), ("V05", 1, 3, 230, 1)],
    ),
    "heaters described in one cell, and a pump": (
        [
            ["Vana", "Objem l", "Topná tělesa", "Napájení", "Pozn."],
            ["Vana 1", 1500, "3 ks 6 kW", "3x400 V", ""],
            ["Vana 2", 1500, "žádné", "", "oplach"],
            ["Vana 3", 1200, "2 ks po 4,5 kW", "3x400 V", "stávající"],
            ["Vana 4", "", "1 ks čerpadlo 0,75 kW", "3x400 V", ""],
            ["Vana 5", 1200, "2 ks po 4,5 kW, PTFE", "3x400 V", ""],
            ["Vana 6", 800, "1 ks 3 kW", "1x230 V", ""],
        ],
        [("Vana 1", 3, 6, 400, 3), ("Vana 5", 2, 4.5, 400, 3), ("Vana 6", 1, 3, 230, 1)],
    ),
    "equipment of a line": (
        [
            ["Poř. č.", "Zařízení", "Vana", "Ks", "Výkon kW/ks", "Napájení", "Dodávka"],
            [1, "Ponorný ohřívač", "N21", 3, 9, "3x400 V", "nové"],
            [2, "Oběhové čerpadlo", "N21", 1, "1,5", "3x400 V", "nové"],
            [3, "Ponorný ohřívač", "N22", 2, 6, "3x400 V", "dodá zákazník"],
            [4, "Odsávací ventilátor", "N22", 1, 4, "3x400 V", "nové"],
            [5, "Ponorný ohřívač", "N24", 2, "4,5", "3x400 V", "nové"],
            ["", "Součet", "", "", 25, "", ""],
        ],
        [("N21", 3, 9, 400, 3), ("N24", 2, 4.5, 400, 3)],
    ),
    "the power of a tank": (
        [
            ["Číslo lázně", "Roztok", "Počet těles", "Příkon na vanu kW", "Síťové napětí V", "Fáze", "Teplota °C", "Poznámky"],
            ["L1", "alkalický", 3, "13,5", 400, 3, 65, ""],
            ["L2", "kyselý", 2, 9, 400, 3, 45, "demontovat"],
            ["L3", "fosfát", 4, 36, 400, 3, 50, "včetně termostatu"],
            ["L4", "oplach", 0, "-", "", "", "", "studená"],
            ["L5", "olej", 1, 2, 230, 1, 60, ""],
            ["Celkem", "", 10, "60,5", "", "", "", ""],
        ],
        [("L1", 3, 4.5, 400, 3), ("L3", 4, 9, 400, 3), ("L5", 1, 2, 230, 1)],
    ),
    "a row in doubt, and the supply above": (
        [
            ["Napájení 3x400 V + N + PE, 50 Hz"],
            ["Nádrž", "Operace", "Počet", "Příkon jednoho tělesa, kW", "Poznámka"],
            ["T-11", "Praní", 4, "7,5", ""],
            ["T-12", "Oplach", 2, "4,5", "bude upřesněno"],
            ["T-13", "Fosfátování", 3, 9, ""],
            ["T-14", "Sušicí pec", 1, 24, ""],
            ["T-15", "Praní 2", 2, 6, "nyní pára"],
            ["T-16", "Olej", 1, 3, "nové"],
        ],
        [("T-11", 4, 7.5, 400, 3), ("T-13", 3, 9, 400, 3), ("T-16", 1, 3, 400, 3)],
    ),
}
LISTS = {f"Danish: {name}": one for name, one in DANISH.items()}
LISTS |= {f"Norwegian: {name}": one for name, one in NORWEGIAN.items()}
LISTS |= {f"Swedish: {name}": one for name, one in SWEDISH.items()}
LISTS |= {f"Czech: {name}": one for name, one in CZECH.items()}


@pytest.mark.parametrize("name", LISTS)
def test_a_list_is_read_without_a_map(name: str, tmp_path: Path) -> None:
    rows, expected = LISTS[name]
    assert heaters(read_list(tmp_path, *rows)) == expected


STAYS = {  # a remark, and whether its row is sized all the same
    "udgår": False, "leveres af andre": False, "evt.": False, "ikke i drift": False, "ny": True, "med termostat": True,
    "pumpe leveres af andre": True, "kabel leveres af andre": True, "skal ikke udgå": True,
    "utgår": False, "ute av drift": False, "på vent": False, "vifte leveres av andre": True, "lokk demonteres": True, "nytt": True,
    "struken": False, "levereras av kund": False, "ev.": False, "bef.": False, "ev. senare": False, "ur drift": False,
    "likriktare levereras av annan": True, "EV battery tray": True, "tillkommer": True,
    "zrušeno": False, "dodá investor": False, "mimo provoz": False, "k upřesnění": False, "nové": True, "včetně termostatu": True,
    "čerpadlo dodá zákazník": True, "stávající víko": True, "není zrušeno": True,
    "2. etape": False, "eks.": False, "eks. varmelegeme": False, "kunden leverer": False, "erstatter eksisterende": True,
    "eksisterende låg bibeholdes": True, "forsynes fra eksisterende tavle": True, "kanskje": False, "finnes fra før": False,
    "ersätter befintlig": True, "lika befintlig": True, "matas från befintlig elcentral": True, "kolla": False, "kolla läckage": True,
    "nahrazuje stávající": True, "jako stávající": True, "napájeno ze stávajícího rozvaděče": True, "2. etapa": False,
    "vana sešrotována": False, "na skladě": False,
}  # fmt: skip


@pytest.mark.parametrize("remark", STAYS)
def test_what_a_remark_does_to_its_row(remark: str, tmp_path: Path) -> None:
    head = ["Tank", "Qty", "kW each", "Volts", "Ph", "Remarks"]
    job = read_list(tmp_path, head, ["T-1", 2, 9, 400, 3, remark], ["T-2", 3, 6, 400, 3, ""], ["T-3", 1, 6, 400, 3, ""])
    assert [bank.tank for bank in job.banks] == (["T-1"] if STAYS[remark] else []) + ["T-2", "T-3"]


def test_and_in_czech_is_to_in_italian(tmp_path: Path) -> None:
    czech = [
        ["Vana", "Počet na vanu", "Příkon 1 ks kW", "Napětí", "Fáze"],
        ["V1 a V3", 2, 6, 400, 3],
        ["V4 a V5", 2, 6, 400, 3],
        ["V6", 1, 3, 400, 3],
    ]
    assert [bank.tank for bank in read_list(tmp_path, *czech).banks] == ["V4", "V5", "V6"]
    italian = [["Vasca", "Resistenze per vasca", "kW cad.", "Tensione", "Fasi"], ["V1 a V3", 2, 6, 400, 3], ["V6", 1, 3, 400, 3]]
    assert [bank.tank for bank in read_list(tmp_path, *italian).banks] == ["V1", "V2", "V3", "V6"]


@pytest.mark.parametrize(("text", "tags"), [("K1 og K3", ("K1", "K3")), ("K1 till K3", ("K1", "K2", "K3")), ("Kar 5-8", ("Kar 5-8",))])
def test_links_between_tags(text: str, tags: tuple[str, ...]) -> None:
    assert read_tags(text).tags == tags


@pytest.mark.parametrize("text", ["to be determined", "en attente", "TVA", "PET", "Ti", "Ni", "tri", "fire"])
def test_no_word_of_another_language_is_a_number(text: str) -> None:
    assert vocabulary().number(text) is None


DESCRIBED = {
    "3 stk á 6 kW, 3x400 V": {"quantity": 3, "power_kw": 6.0, "volts_v": 400.0, "phases": 3},
    "4 elpatroner 4,5 kW vardera 400 V 3-fas": {"quantity": 4, "power_kw": 4.5, "volts_v": 400.0, "phases": 3},
    "2 varmekolber hver 9 kW, enfaset 230 V": {"quantity": 2, "power_kw": 9.0, "volts_v": 230.0, "phases": 1},
    "3 ks topných těles po 6 kW, 400 V třífázově": {"quantity": 3, "power_kw": 6.0, "volts_v": 400.0, "phases": 3},
}


@pytest.mark.parametrize("text", DESCRIBED)
def test_a_description_gives_its_figures(text: str) -> None:
    said = described(text)
    assert (said.facts, said.power_of) == (DESCRIBED[text], "each")


LETTERS = {
    "Danish": ("cp1252", "cp865"),
    "Norwegian": ("cp1252",),
    "Swedish": ("cp1252", "mac_roman"),
    "Czech": ("cp1250", "cp852", "iso8859_2"),
}


@pytest.mark.parametrize("name", LISTS)
def test_the_same_as_text_in_old_letters(name: str, tmp_path: Path) -> None:
    """Letters of DOS and UNIX too: "zrušeno" in others is a word that nobody knows, and its row is sized."""
    rows, expected = LISTS[name]
    text = "\r\n".join(";".join(value if isinstance(value, str) else f"{value:g}".replace(".", ",") for value in row) for row in rows)
    for letters in LETTERS[name.partition(":")[0]]:
        assert heaters(read_bytes(tmp_path, text.encode(letters), "list.csv")) == expected, letters


MEANT = {  # the column that headings mean, what its figures are of, and the headings
    ("quantity", ""): "Antal|Ant.|Stk.|Antal varmelegemer|Antall kolber|Antal doppvärmare|Počet ks|Počet topných těles|Poč. těles|Kusů",
    ("quantity", "tank"): "Antal pr. kar|Antall stk pr kar|Antal st/kar|Antal elpatroner per kar|Počet ks na vanu",
    ("power_kw", ""): "Effekt [kW]|Mærkeeffekt kW|Ydelse kW|Merkeeffekt|Effekt (W)|Jmen. příkon|Topný výkon (kW)",
    ("power_kw", "each"): "Effekt pr. stk. [kW]|kW/stk|Effekt per kolbe|Märkeffekt kW/st|Effekt vardera|Příkon 1 ks [kW]|kW/ks",
    ("total_kw", "row"): "Effekt i alt kW|Samlet effekt [kW]|Sum kW|Effekt totalt|Summa effekt kW|Celkový příkon [kW]|kW celkem",
    ("total_kw", "tank"): "Effekt pr. kar|kW pr. kar|Total effekt per kar|Příkon vany (kW)",
    ("volts_v", ""): "Spænding [V]|Netspænding|Spenning V|Spänning|Huvudspänning (V)|Napětí [V]|Jmenovité napětí",
    ("phases", ""): "Faser|Antal faser|Fase|Antall faser|Fas|Fáze|Počet fází",
    ("tank", ""): "Kar nr.|Badnr|Beholder|Behållare|Vana|Č. vany|Číslo lázně|Lázeň č.|Nádrž|Karbetegnelse",
    ("tanks", ""): "Antal kar|Antal bad|Počet van",
    ("amps_a", ""): "Strøm A|Ström (A)|Proud A",
    ("", ""): "Motoreffekt kW|Køleeffekt|Ensretter kW|Kyleffekt|Výkon čerpadla|Effektbehov kW|Varmetab kW|Potřebný příkon|Tepelné ztráty kW"
    "|Tidligere effekt kW|Befintlig effekt kW|Stávající příkon kW|Stykpris|Cena Kč|Volym (l)|Objem (l)|Teplota °C|Antal anoder|Rezerva",
}


@pytest.mark.parametrize(("heading", "meant"), [(heading, meant) for meant, some in MEANT.items() for heading in some.split("|")])
def test_what_a_heading_means(heading: str, meant: tuple[str, str]) -> None:
    best = meanings(heading)[0]
    assert (best.key, best.basis) == meant
