"""Lists as they come from Europe and overseas, read without a map: places beside tags, spare parts, changes. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake_book import in_doubt, read_sheets
from tests.test_intake_plain_lists import HEAD, codes, heaters, read_list

PLACES = [("TK-21", "Skid", "SK-3"), ("H-21", "Area", "BG-3"), ("H-21", "Skid", "Line 1"), ("H-21", "Standort", "Halle 2")]


@pytest.mark.parametrize(("tag", "heading", "place"), PLACES)
def test_where_equipment_stands_is_no_tank(tag: str, heading: str, place: str, tmp_path: Path) -> None:
    """Tags of several kinds, each once, beside a place that comes again: heaters in tanks among pumps and fans."""
    rows = [
        [f"{tag}01", "Immersion heaters, acid clean", place, 3, 6, 415, 3],
        ["PU-2101", "Filter pump, acid clean", place, 1, 1.5, 415, 3],
        [f"{tag}03", "Immersion heaters, caustic etch", place, 4, 9, 415, 3],
        ["FN-2103", "Fume extraction fan", place, 1, 11, 415, 3],
    ]
    job = read_list(tmp_path, ["Equip. No.", "Description", heading, "Qty", "kW each", "Volts", "Phases"], *rows)
    assert heaters(job) == [(f"{tag}01", 3, 6, 415, 3), (f"{tag}03", 4, 9, 415, 3)]


def test_a_tank_that_owns_equipment_may_stand_under_location(tmp_path: Path) -> None:
    head = ["Code", "Description", "Location", "Qty", "kW each", "Volts", "Phases"]
    rows = [
        ["EL-1", "Immersion heater, soak", "TK-11", 3, 6, 400, 3],
        ["PO-2", "Filter pump", "TK-11", 1, 1.5, 400, 3],
        ["EL-3", "Immersion heater, etch", "TK-12", 4, 9, 400, 3],
        ["PO-4", "Filter pump", "TK-12", 1, 11, 400, 3],
    ]
    assert heaters(read_list(tmp_path, head, *rows)) == [("TK-11", 3, 6, 400, 3), ("TK-12", 4, 9, 400, 3)]


SPARES = [
    "Spare parts", "Ersatzteile", "Pièces de rechange", "Repuestos", "Ricambi", "Reserveonderdelen", "Części zamienne",
    "Peças de reposição", "Reservedele", "Reservedeler", "Reservdelar", "Náhradní díly",
]  # fmt: skip


@pytest.mark.parametrize("tab", [*SPARES, "Option 2"])
def test_heaters_on_a_tab_of_spare_parts_are_asked(tab: str, tmp_path: Path) -> None:
    job = read_sheets(
        tmp_path,
        {"List": [HEAD, ["T-1", 3, 9, 400, 3]], tab: [HEAD, ["E1", 1, 9, 400, 3], ["LINE 2"], ["E2", 2, 6, 400, 3]]},
    )
    assert heaters(job) == [("T-1", 3, 9, 400, 3)] and in_doubt(job)


@pytest.mark.parametrize("tab", ["Existing", "Bestand", "Esistenti", "Stávající"])
def test_heaters_on_a_tab_of_what_is_there_now_are_read(tab: str, tmp_path: Path) -> None:
    assert heaters(read_sheets(tmp_path, {tab: [HEAD, ["T-1", 3, 9, 400, 3]]})) == [("T-1", 3, 9, 400, 3)]


LOGS: dict[str, tuple[str, list[list[object]]]] = {
    "english": ("Log", [["No", "Tank", "Change"], [1, "T-1", "qty 2 to 3, worked in"], [2, "T-2", "6 kW -> 9 kW"], [3, "T-3", "deleted"]]),
    "dutch": (
        "Wijzigingen",
        [["Nr", "Bad", "Wat"], [1, "T-1", "aantal 2 naar 3 - verwerkt"], [2, "T-2", "was 2 x 6 kW, wordt 2 x 9 kW"],
         [3, "T-3", "aantal 2 naar 3? nog niet bevestigd"]],
    ),
    "german": (
        "Änderungen",
        [["Nr.", "Becken", "Was"], [1, "T-1", "Stückzahl von 2 auf 3 erhöht"], [2, "T-2", "bisher 6 kW, neu 9 kW je Heizer"],
         [3, "T-3", "Stückzahl 2 auf 3 erhöht"]],
    ),
    "questions": ("Q", [["Tank", "To be answered"], ["T-1", "two lids please"], ["T-3", "is it 2 or 3 of them?"]]),
}  # fmt: skip


@pytest.mark.parametrize("log", LOGS)
def test_a_log_of_changes_is_held_against_the_rows_that_stand_beside_them(log: str, tmp_path: Path) -> None:
    """T-1 and T-2 are as changed, 3 heaters and 9 kW; of T-3 the log takes out, asks or changes what the list still has."""
    rows = [["T-1", 3, 9, 400, 3], ["T-2", 2, 9, 400, 3], ["T-3", 2, 6, 400, 3]]
    job = read_sheets(tmp_path, {"List": [HEAD, *rows], LOGS[log][0]: LOGS[log][1]})
    assert [bank.tank for bank in job.banks] == ["T-1", "T-2"] and in_doubt(job)


def test_a_log_names_a_bath_by_its_number_and_a_change_by_its_two_figures(tmp_path: Path) -> None:
    rows = [[31, 3, 9, 400, 3], [32, 2, 9, 400, 3]]  # 31 stands under Pos there, and is no bath
    log = [["Pos", "Bath", "Change"], [31, 32, "2 to 3 as agreed"]]
    job = read_sheets(tmp_path, {"List": [["Bath", *HEAD[1:]], *rows], "Changes": log})
    assert [bank.tank for bank in job.banks] == ["31"] and in_doubt(job)


COUNTED = {
    "n. 3 da 9 kW cad.": (3, 9), "n. 2, totale 6 kW": (2, 3), "2 de 4,5 kW c/u": (2, 4.5), "3 zu je 6 kW": (3, 6), "2 à 7,5 kW": (2, 7.5),
    "4 po 6 kW": (4, 6), "2 van 9 kW elk": (2, 9), "3 sztuki po 6 kW": (3, 6),
}  # fmt: skip


def test_numbers_before_a_word_for_of_each_language(tmp_path: Path) -> None:
    rows: list[list[object]] = [[f"V{at}", text, 400, 3] for at, text in enumerate(COUNTED, 1)]
    job = read_list(tmp_path, ["Vasca", "Riscaldatori", "V", "Fasi"], *rows)
    assert [(bank.quantity, bank.power_kw) for bank in job.banks] == list(COUNTED.values())


@pytest.mark.parametrize("text", ["resistenza n. 3 da 9 kW", "2 a 9 kW", "2, 9 kW"])
def test_a_number_that_may_be_no_count_is_asked(text: str, tmp_path: Path) -> None:
    rows: list[list[object]] = [["V1", "3 da 9 kW", 400, 3], ["V2", "2 da 6 kW", 400, 3], ["V3", text, 400, 3]]
    job = read_list(tmp_path, ["Vasca", "Riscaldatori", "V", "Fasi"], *rows)
    assert [bank.tank for bank in job.banks] == ["V1", "V2"]


@pytest.mark.parametrize("turned", [False, True])
def test_letters_behind_counts_are_those_that_a_note_explains(turned: bool, tmp_path: Path) -> None:
    """Working heaters and spares on the shelf, whichever stands first: the panel is for the working ones."""
    note = "2. W = working heaters installed in tank. S = store spares, shall not be installed."
    order = (1, 2) if not turned else (2, 1)
    rows = [("TK-01", 4, 1), ("TK-02", 3, 2), ("TK-06", 2, 1)]
    heads = ("Tank No.", "Qty W", "Qty S")
    head = [heads[0], *(heads[at] for at in order), "kW/heater", "V", "Ph"]
    job = read_list(tmp_path, [note], [], head, *([row[0], *(row[at] for at in order), 6, 415, 3] for row in rows))
    assert [(bank.tank, bank.quantity) for bank in job.banks] == [("TK-01", 4), ("TK-02", 3), ("TK-06", 2)]


@pytest.mark.parametrize(
    ("remark", "read"),
    [
        ("9 statt 6 kW je Stk.", True), ("9 kW instead of 6 kW each", True), ("9 au lieu de 6 kW par pièce", True),
        ("9 kW en lugar de 6 kW c/u", True), ("6 statt 9 kW je Stk.", False), ("12 kW instead of 9 kW each", False),
    ],
)  # fmt: skip
@pytest.mark.parametrize("other", ["", "titanium sheath"])  # beside which the column is one of remarks
def test_a_power_in_place_of_another_is_held_against_the_row(other: str, remark: str, read: bool, tmp_path: Path) -> None:
    job = read_list(tmp_path, HEAD, ["T-1", 3, 6, 400, 3, other], ["T-2", 2, 9, 400, 3, remark], ["T-3", 2, 6, 400, 3, other])
    assert [bank.tank for bank in job.banks] == (["T-1", "T-2", "T-3"] if read else ["T-1", "T-3"])


@pytest.mark.parametrize(
    "words", ["heater 9 kW instead of 6 kW", "9 statt 6 kW je Stück", "Heizer 9 kW statt 6 kW", "heater 9 kW, reduced from 12 kW"]
)
def test_a_power_in_place_of_another_is_the_only_one_where_words_alone_give_it(words: str, tmp_path: Path) -> None:
    job = read_list(tmp_path, ["Tank", "Qty", "Description", "Volts", "Ph"], ["T-1", 2, words, 400, 3], ["T-2", 2, "heater 6 kW", 400, 3])
    assert heaters(job) == [("T-1", 2, 9, 400, 3), ("T-2", 2, 6, 400, 3)]


@pytest.mark.parametrize("words", ["wie T-1", "same as T-1", "comme T-1", "como T-1", "jak w T-1"])
def test_a_row_as_another_in_the_cells_of_its_figures(words: str, tmp_path: Path) -> None:
    """The list names no heaters, and a dryer among them makes the other rows no equipment of any kind."""
    head = ["Tank", "Bath", "Pcs", "kW total", "V", "Ph"]
    rows = [["T-1", "Rinse", 2, 12, 400, 3], ["T-2", "Etch", 3, 27, 400, 3], ["T-3", "Rinse", words, words, 400, 3]]
    job = read_list(tmp_path, head, *rows, ["T-9", "Dryer", 1, 18, 400, 3])
    assert heaters(job) == [("T-1", 2, 6, 400, 3), ("T-2", 3, 9, 400, 3), ("T-3", 2, 6, 400, 3)]


def test_the_pump_of_a_tank_that_is_by_others_takes_no_heater_out(tmp_path: Path) -> None:
    rows = [["T-1", 3, 6, 400, 3, ""], ["T-2", 2, 9, 400, 3, ""]]
    job = read_list(tmp_path, HEAD, *rows, [], ["Filter pump T-1/T-2: 2 x 2.2 kW, by others"])
    assert [bank.tank for bank in job.banks] == ["T-1", "T-2"]


def test_the_pump_and_the_heaters_of_a_tank_that_are_by_others_are_asked(tmp_path: Path) -> None:
    rows = [["T-1", 3, 6, 400, 3, ""], ["T-2", 2, 9, 400, 3, ""]]
    job = read_list(tmp_path, HEAD, *rows, [], ["Pump and heaters T-2 by others"])
    assert [bank.tank for bank in job.banks] == ["T-1"]


def test_a_sentence_above_turned_lists_is_about_each_of_them(tmp_path: Path) -> None:
    told = ["All heaters of both lines 400 V 3-phase unless marked otherwise"]
    upper = [["Vana č.", "A1", "A2", "A3"], ["Počet těles (ks)", 3, 3, 2], ["Výkon jednoho tělesa (kW)", 9, 6, 4.5]]
    lower = [["Vana č.", "B1", "B2", "B3"], *upper[1:]]
    job = read_list(tmp_path, told, [], ["Linka A"], *upper, [], ["Linka B"], *lower)
    assert [bank.tank for bank in job.banks] == ["A1", "A2", "A3", "B1", "B2", "B3"]


def test_a_probe_among_the_items_of_a_bill_is_no_heater(tmp_path: Path) -> None:
    rows = [
        ["01.0010", "Tauchheizkörper 9 kW, 400 V 3~, Edelstahl, für Becken 3 Heißentfettung", 4, "Stk"],
        ["01.0020", "Tauchheizkörper 2 kW, 230 V 1~, für Becken 7 Aktivierung", 1, "Stk"],
        ["01.0030", "Temperaturfühler Pt100", 7, "Stk"],
        ["01.0040", "Montage und Inbetriebnahme", 1, "psch"],
    ]
    job = read_list(tmp_path, ["Leistungsverzeichnis Los 3 Badheizungen"], ["Pos.", "Kurztext", "Menge", "ME"], *rows)
    assert heaters(job) == [("Becken 3", 4, 9, 400, 3), ("Becken 7", 1, 2, 230, 1)] and not in_doubt(job)


def test_a_thermostat_in_a_column_of_its_own_takes_no_row_out(tmp_path: Path) -> None:
    """The power of T-2 is to come: it is asked about, and not called other equipment."""
    head = ["Tank", "Description", "Control", "Qty", "kW each", "V", "Ph"]
    rows = [["T-1", "Soak, 3 heaters", "Thermostat", 3, 6, 400, 3], ["T-2", "Etch", "Thermostat", 2, "", 400, 3]]
    job = read_list(tmp_path, head, *rows)
    assert [bank.tank for bank in job.banks] == ["T-1"]
    assert {row.row: row.refused for table in job.received for row in table.rows if row.row == 3}[3] not in ("", "not a heater")


def test_a_probe_in_a_column_of_its_own_takes_no_row_without_figures_out(tmp_path: Path) -> None:
    """The number of T-2 is to come and its power is blank: both are asked for, whatever measures the bath's temperature."""
    head = ["Tank", "Description", "Sensor", "Qty", "kW each", "V", "Ph"]
    rows = [["T-1", "Soak, 3 heaters", "Pt100", 3, 6, 400, 3], ["T-2", "Etch", "Pt100", "tbc", "", 400, 3]]
    job = read_list(tmp_path, head, *rows)
    assert [bank.tank for bank in job.banks] == ["T-1"]
    assert {"cell-placeholder", "cell-missing"} <= set(codes(job)) and "row-not-heater" not in codes(job)


def test_marks_of_baths_with_a_total_below_them_are_their_tags(tmp_path: Path) -> None:
    """Headings of two rows, "Rep." over B1 to B5, and a supply for all but where a remark says otherwise."""
    rows = [
        ["Chaîne de nickelage - thermoplongeurs (alimentation 3 x 400 V sauf indication)"],
        ["Rep.", "Bain", "Volume", "Thermoplongeurs", "", "", "Observations"],
        ["", "", "(L)", "Nb", "P. unit. (kW)", "P. tot. (kW)", ""],
        ["B1", "Dégraissage", 2500, 3, 6, 18, ""],
        ["B2", "Rinçage", 1800, "", "", "", ""],
        ["B3", "Nickel", 4200, 4, 9, 36, "titane"],
        ["B5", "Activation", 400, 1, 2, 2, "230 V mono"],
        ["Total", "", "", 8, "", 56, ""],
    ]
    assert heaters(read_list(tmp_path, *rows)) == [("B1", 3, 6, 400, 3), ("B3", 4, 9, 400, 3), ("B5", 1, 2, 230, 1)]


ORDINARY: dict[str, tuple[list[list[object]], list[tuple[str, int, float, float, int]]]] = {
    "swedish": (
        [["Bad nr", "Process", "Temp °C", "Elvärme", "Matning", "Anm."], ["101", "Avfettning", 60, "3 st à 6 kW", "400 V 3-fas", ""],
         ["102", "Sköljning", "rumstemp", "ingen", "", ""], ["103", "Zink", 30, "2 st à 4,5 kW", "400 V 3-fas", "PTFE"],
         ["104", "Passivering", 35, "1 st 2 kW", "230 V 1-fas", ""], ["105", "Varmvatten", 80, "4 st à 9 kW", "400 V 3-fas", "utgår"]],
        [("101", 3, 6, 400, 3), ("103", 2, 4.5, 400, 3), ("104", 1, 2, 230, 1)],
    ),
    "danish": (
        [["Karliste, forzinkning. Forsyning 3x400 V, kar 7 og 8 dog 1x230 V."], ["Kar nr.", "Proces", "Antal varmelegemer", "kW pr. stk."],
         [1, "Affedtning", 3, 6], [3, "Bejdse", 2, 6], [7, "Passivering", 1, 2]],
        [("1", 3, 6, 400, 3), ("3", 2, 6, 400, 3), ("7", 1, 2, 230, 1)],
    ),
    "belgian, of two languages": (
        [["Bad / Bain", "Omschrijving / Description", "Aantal / Nombre", "kW/st", "Spanning / Tension", "Fasen / Phases"],
         ["B1", "Ontvetten / Dégraissage", 3, 6, 400, 3], ["B2", "Spoelen / Rinçage", 0, "", "", ""],
         ["B4", "Passiveren", 1, 2, 230, 1], ["Totaal / Total", "", 4, 20, "", ""]],
        [("B1", 3, 6, 400, 3), ("B4", 1, 2, 230, 1)],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", ORDINARY)
def test_an_ordinary_list_is_read_whole(name: str, tmp_path: Path) -> None:
    rows, wanted = ORDINARY[name]
    assert heaters(read_list(tmp_path, *rows)) == wanted
