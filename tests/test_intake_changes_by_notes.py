"""Notes and letters that change a row's figures, what stands at a tank beside its heaters, and what is no part of a supply."""

from __future__ import annotations

from pathlib import Path

import pytest
import xlsxwriter

from batch.intake import read
from batch.intake.facts import Fact
from batch.intake.line_kinds import Line
from batch.intake.rows_named import RowsNamed
from batch.records import Job
from tests.intake_book import codes, said
from tests.test_lists import HEAD, listed

ROWS = [["T-1", 4, 6, 400, 3], ["T-2", 3, 9, 400, 3], ["T-5", 4, 6, 400, 3], ["T-8", 2, 6, 400, 3], ["T-9", 2, 6, 400, 3]]


def figures(job: Job) -> dict[str, tuple[int | None, float | None]]:
    return {bank.tank: (bank.quantity, bank.power_kw) for bank in job.banks}


@pytest.mark.parametrize(
    ("note", "changed"),
    [
        ("1. T-5: number of heaters raised from 4 to 5.", {"T-5": (5, 6)}),
        ("T-8 and T-9: heaters to be 9 kW each instead of 6 kW.", {"T-8": (2, 9), "T-9": (2, 9)}),
        ("T-2: two heaters, not three.", {"T-2": (2, 9)}),
        ("P.S. On checking, T-2 is to have two 9 kW heaters, not three.", {"T-2": (2, 9)}),
        ("T-5: Anzahl von 4 auf 5 erhöht", {"T-5": (5, 6)}), ("T-8, T-9: je 9 kW statt 6 kW", {"T-8": (2, 9), "T-9": (2, 9)}),
        ("2. T-2 : le nombre passe de 3 à 2 thermoplongeurs (même puissance unitaire).", {"T-2": (2, 9)}),
        ("T-5: 5 resistencias en lugar de 4", {"T-5": (5, 6)}), ("T-5: 5 resistenze invece di 4", {"T-5": (5, 6)}),
        ("T-5: aantal van 4 naar 5 verhoogd", {"T-5": (5, 6)}), ("T-5: liczba grzałek zwiększona z 4 na 5", {"T-5": (5, 6)}),
        ("T-5: 5 resistências em vez de 4", {"T-5": (5, 6)}), ("T-5: antal ændret fra 4 til 5", {"T-5": (5, 6)}),
        ("T-5: antall endret fra 4 til 5", {"T-5": (5, 6)}), ("T-5: antal ändrat från 4 till 5", {"T-5": (5, 6)}),
        ("2) T-5: počet těles zvýšen ze 4 na 5 ks.", {"T-5": (5, 6)}), ("T-8: 6 kW yerine 9 kW", {"T-8": (2, 9)}),
    ],
)  # fmt: skip
def test_a_note_that_says_what_was_and_what_is_changes_its_rows(tmp_path: Path, note: str, changed: dict[str, tuple[int, float]]) -> None:
    """What was is what the rows have: the new figure is taken, said, and stands in the map."""
    job = listed(tmp_path, HEAD, *ROWS, [], [note])
    assert figures(job) == {str(row[0]): (row[1], row[2]) for row in ROWS} | changed
    assert len(said(job, "row-changed-by-note")) == len(changed) and "likely" in job.map_text


@pytest.mark.parametrize(
    "note",
    [
        "T-5: raised from 3 to 5 heaters",  # the row has four
        "T-5: perhaps 5 heaters instead of 4", "T-5: 5 instead of 4 heaters?", "T-5: client would prefer 5 heaters instead of 4",
        "T-5: 5 heaters instead of 4, 480 V", "T-5: 5 heaters instead of 4 if the price allows",
        "T-5: 5 thermostats instead of 4 heaters", "T-5: from 4 to 5 heaters, 2 of them spare",
        "T-9: 9 kW per tank instead of 6 kW", "T-9: total 9 kW instead of 6 kW", "T-5: 3 elements in each heater instead of 4",
        "T-5 is not changed from 4 to 5 heaters", "T-5 no cambia de 4 a 5 resistencias", "T-5: Anzahl wird nicht von 4 auf 5 geändert",
        "T-5 ne passe pas de 4 à 5 thermoplongeurs", "T-5: la quantità non passa da 4 a 5",
    ],
)  # fmt: skip
def test_a_note_that_leaves_anything_to_doubt_changes_nothing(tmp_path: Path, note: str) -> None:
    job = listed(tmp_path, HEAD, *ROWS, [], [note])
    assert figures(job).get("T-5") in (None, (4, 6)) and figures(job).get("T-9") in (None, (2, 6))
    assert "row-changed-by-note" not in codes(job)


@pytest.mark.parametrize(
    ("note", "asked"),
    [(f"T-8: 9 kW{also}", ("T-8", "T-9")) for also in (
        ", likewise T-9", ". Likewise T-9.", "; same for T-9", ", ebenso T-9", ", gilt auch für T-9", ", idem T-9", ", de même pour T-9",
        ", igual para T-9", ", lo stesso per T-9", ", idem voor T-9", ", tak samo T-9", ", o mesmo para T-9", ", det samme for T-9",
        ", samma för T-9", ", totéž T-9", "; T-9 likewise", ", to samo T-9", ", samme for T-9")]
    + [("T-8 deleted, likewise T-9", ("T-8", "T-9"))]
    + [(f"T-1 {swapped}", ("T-1", "T-2")) for swapped in (
        "and T-2 are swapped", "and T-2 interchanged", "und T-2 vertauscht", "et T-2 sont inversées", "y T-2 están intercambiados",
        "e T-2 scambiate", "en T-2 verwisseld", "i T-2 zamienione", "e T-2 trocados", "og T-2 er byttet", "og T-2 er ombyttet",
        "och T-2 förväxlade", "a T-2 prohozeny", "und T-2 tauschen", "en T-2 omwisselen", "og T-2 byttes om")]
    + [(swap, ("T-1", "T-2")) for swap in (
        "swap T-1 and T-2", "inverser T-1 et T-2", "intercambiar T-1 y T-2", "scambiare T-1 e T-2", "zamienić T-1 z T-2",
        "byt plats på T-1 och T-2", "prohodit T-1 a T-2")],
)  # fmt: skip
def test_each_tank_that_a_note_changes_is_asked(tmp_path: Path, note: str, asked: tuple[str, ...]) -> None:
    sized = figures(listed(tmp_path, HEAD, *ROWS, [], [note]))
    assert [str(row[0]) for row in ROWS if row[0] not in sized] == list(asked)


@pytest.mark.parametrize("note", ["Pumps of T-1 and T-2 swapped", "T-1: ion exchange rinse, also T-2", "T-8 is new, also T-9"])
def test_what_changes_no_heater_asks_nothing(tmp_path: Path, note: str) -> None:
    assert len(figures(listed(tmp_path, HEAD, *ROWS, [], [note]))) == len(ROWS)


@pytest.mark.parametrize(
    "taken_back",
    ["Ignore note 1", "Note 1 is cancelled", "Hinweis 1 entfällt", "Annuler la note 1", "Nota 1 anulada", "La nota 1 è annullata",
     "Opmerking 1 is vervallen", "Uwaga 1 jest nieważna", "Nota 1 cancelada", "Note 1 udgår", "Merknad 1 utgår", "Anmärkning 1 utgår",
     "Poznámka 1 neplatí"],
)  # fmt: skip
def test_a_change_that_another_note_takes_back_is_not_made(tmp_path: Path, taken_back: str) -> None:
    job = listed(tmp_path, HEAD, *ROWS, [], ["1. T-5: 5 heaters instead of 4"], [taken_back])
    assert figures(job).get("T-5") in (None, (4, 6)) and "row-changed-by-note" not in codes(job)


def test_a_change_of_a_tank_in_two_rows_is_asked(tmp_path: Path) -> None:
    """Which of its rows is meant, nobody knows."""
    job = listed(tmp_path, HEAD, *ROWS, ["T-5", 4, 6, 230, 1], [], ["T-5: 5 heaters instead of 4"])
    assert "T-5" not in figures(job) and "row-changed-by-note" not in codes(job)


@pytest.mark.parametrize("way", ["struck", "hidden"])
def test_a_change_that_nobody_sees_is_not_made(tmp_path: Path, way: str) -> None:
    file = tmp_path / "list.xlsx"
    with xlsxwriter.Workbook(file) as workbook:
        sheet = workbook.add_worksheet()
        for at, row in enumerate((HEAD, *ROWS)):
            sheet.write_row(at, 0, row)
        sheet.write(7, 0, "T-5: 5 heaters instead of 4", workbook.add_format({"font_strikeout": way == "struck"}))
        sheet.set_row(7, None, None, {"hidden": way == "hidden"})
    job = read(file)
    assert figures(job).get("T-5") in (None, (4, 6)) and "row-changed-by-note" not in codes(job)


def test_what_is_as_a_row_that_a_note_changes_is_asked(tmp_path: Path) -> None:
    job = listed(tmp_path, HEAD, *ROWS, ["T-6", "same as T-5", None, 400, 3], [], ["T-5: 5 heaters instead of 4"])
    assert figures(job)["T-5"] == (5, 6) and "T-6" not in figures(job)


LETTER = [["Please quote heaters, 400 V three phase."], ["Tank 1 has three heaters of 12 kW each."], ["Tank 3 will have two 9 kW heaters."]]


def test_the_end_of_a_letter_changes_what_stands_above(tmp_path: Path) -> None:
    """It adds no heaters to the tank; where it does not say so plainly, both are asked."""
    job = listed(tmp_path, *LETTER, ["P.S. On checking, Tank 3 is to have three 9 kW heaters, not two."])
    assert figures(job) == {"Tank 1": (3, 12), "Tank 3": (3, 9)} and len(job.banks) == 2
    job = listed(tmp_path, *LETTER, ["Correction: Tank 3 should have three 12 kW heaters for the winter."])
    assert figures(job) == {"Tank 1": (3, 12)}


@pytest.mark.parametrize(
    "heading",
    ["Other equipment", "Sonstige Ausrüstung", "Autres équipements", "Otros equipos", "Altre apparecchiature", "Overige apparatuur",
     "Inne urządzenia", "Outros equipamentos", "Øvrigt udstyr", "Annet utstyr", "Övrig utrustning", "Další zařízení", "Diğer ekipman"],
)  # fmt: skip
def test_other_equipment_of_a_tank_is_not_its_heaters(tmp_path: Path, heading: str) -> None:
    """A row with its own number and power of heaters is no filter because one stands at its tank."""
    rows = [["1", 3, 12, 480, 3, "Filter, 1 HP pump"], ["2", 2, 12, 480, 3, "Rectifier 1500 A"], ["3", 1, 6, 480, 3, "4 pumps"]]
    job = listed(tmp_path, [*HEAD, heading], *rows, ["7-10", 2, 6, 480, 3, None])
    assert [bank.quantity for bank in job.banks][:3] == [3, 2, 1]


def test_a_tag_of_several_numbers_is_one_of_numbered_tanks(tmp_path: Path) -> None:
    """Among tanks 1 to 9 and 10-12 a row that counts heaters is asked about where another column names a machine; it is not passed over."""
    head = ["Tank No.", "What", "Htr Qty", "kW ea.", "Volts", "Ph"]
    rows = [[number, "soak", 2, 12, 480, 3] for number in (1, 2, 3)]
    job = listed(tmp_path, head, *rows, [4, "Rectifier 1500 A", 3, 12, 480, 3], ["7-10", "zinc", 2, 6, 480, 3])
    assert "row-not-heater" not in codes(job)


@pytest.mark.parametrize(
    "note",
    ["T-8 is not part of our supply", "T-8 gehört nicht zu unserem Lieferumfang", "T-8 et T-9 ne font pas partie de notre fourniture",
     "T-8 esclusa dalla fornitura", "T-8 en T-9 maken geen deel uit van onze levering", "T-8 i T-9 nie wchodzą w zakres naszej dostawy",
     "T-8 er ikke en del af vores leverance", "T-8 och T-9 ingår inte i vår leverans", "T-8 a T-9 nejsou součástí naší dodávky",
     "T-8 kapsamımızda değil"],
)  # fmt: skip
def test_what_is_no_part_of_the_supply_is_not_sized(tmp_path: Path, note: str) -> None:
    assert "T-8" not in figures(listed(tmp_path, HEAD, *ROWS, [], [note]))


def test_the_number_of_a_note_is_no_figure_of_its_supply(tmp_path: Path) -> None:
    """ "3 x 400 V" counts no heaters where no other figure stands beside it; the note's own number is none."""
    job = listed(tmp_path, HEAD[:3], *(row[:3] for row in ROWS), [], ["1) Napájení 3 x 400 V, 50 Hz, pokud není uvedeno jinak."])
    assert {(bank.volts_v, bank.phases) for bank in job.banks} == {(400, 3)} and len(job.banks) == len(ROWS)


def test_tank_heaters_are_heaters_where_a_sentence_tells_the_supply_by_their_size(tmp_path: Path) -> None:
    """ "Tank heaters" says nothing of the power of a whole tank."""
    title = "TANK HEATER FORM - all heaters 480 V, 3 phase; heaters of 3 kW and less 240 V, 1 phase"
    job = listed(tmp_path, [title], HEAD[:3], ["T-1", 3, 15], ["T-2", 1, 3], ["T-3", 4, 9])
    assert [(bank.volts_v, bank.phases) for bank in job.banks] == [(480, 3), (240, 1), (480, 3)]


@pytest.mark.parametrize(
    ("banner", "sized"),
    [
        ("ALTERNATE 1 - second line - ACCEPTED by owner, include", True), ("Option 1 - beauftragt vom Kunden", True),
        ("Option 1 - acceptée par le client", True), ("ALTERNATE 1 - NOT ACCEPTED by owner", False),
        ("ALTERNATE 1 - if accepted by owner", False), ("ALTERNATE 1 - heaters by owner", False), ("ALTERNATE 1", False),
    ],
)  # fmt: skip
def test_an_alternate_that_the_owner_accepted_is_built(tmp_path: Path, banner: str, sized: bool) -> None:
    """Who said yes to it brings no heaters by that."""
    job = listed(tmp_path, ["Tank heaters"], HEAD, *ROWS[:3], [banner], ["T-41", 3, 9, 400, 3])
    assert ("T-41" in figures(job)) == sized and len(figures(job)) == 3 + sized


def test_a_log_of_revisions_leaves_its_rows_as_they_stand(tmp_path: Path) -> None:
    """Rows that bear its letter are as it left them; what it deletes is asked, and what it says by figures is held against them."""
    rows = [["C", "T-1", 4, 6, 400, 3], ["B", "T-2", 3, 9, 400, 3], ["C", "T-5", 4, 6, 400, 3], ["C", "T-8", 2, 6, 400, 3]]
    job = listed(tmp_path, ["REV", *HEAD], *rows, [], ["REVISION HISTORY"], ["B", "T-2 ADDED"], ["C", "T-1 KW, T-5 QTY, T-8 DELETED"])
    assert list(figures(job)) == ["T-1", "T-2", "T-5"]
    job = listed(tmp_path, ["REV", *HEAD], *rows, [], ["REVISION HISTORY"], ["B", "T-2 ADDED"], ["C", "T-1 KW, T-5 QTY NOW 5"])
    assert "T-5" not in figures(job)
    job = listed(tmp_path, HEAD, *ROWS, [], ["T-1 and T-2 KW, T-5 QTY"])
    assert "T-5" not in figures(job)


@pytest.mark.parametrize(
    ("note", "sized"),
    [
        ("T-1 and T-2 share a control panel.", True), ("T-1 und T-2 teilen sich einen Schaltschrank.", True),
        ("T-1 y T-2 comparten un tablero.", True),
        ("T-1 et T-2 partagent une armoire.", True), ("T-1 e T-2 condividono un quadro.", True), ("T-1 and T-2 share one heater.", False),
        ("T-1 and T-2 share three heaters and a panel.", False),
    ],
)  # fmt: skip
def test_tanks_that_share_a_panel_have_their_own_heaters(tmp_path: Path, note: str, sized: bool) -> None:
    assert ("T-1" in figures(listed(tmp_path, HEAD, *ROWS, [], [note]))) == sized


@pytest.mark.parametrize(("said", "count"), [("each with four 6 kW heaters in titanium", 4), ("with four 6 kW heaters in titanium", 0)])
def test_tanks_each_with_a_number_of_heaters(tmp_path: Path, said: str, count: int) -> None:
    job = listed(tmp_path, *LETTER, [f"Tanks 5 and 6 are the nickel tanks, {said}."])
    assert [figures(job).get(tank, (0, 0))[0] for tank in ("Tank 5", "Tank 6")] == [count, count]


def test_a_run_of_tags_is_taken_out_once() -> None:
    lines = [Line(at, cells=[(0, tag)], facts={"tank": Fact(tag, 0, tag)}) for at, tag in enumerate(("T-211", "T-212", "T-213"))]
    assert RowsNamed(lines).without_names("T-211 AND T-212 ADDED").strip(" ,") == "ADDED"
