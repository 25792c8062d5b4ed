"""Notes that take a row out, by its tank or by the number that the row refers to; words by which heaters are not asked for."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from batch.intake.note_numbers import named_for_notes, notes_referred, number_of_note, number_off
from batch.intake.remark_words import OUT, read_row_words
from batch.intake.scope_words import out_of_scope
from batch.records import Job
from tests.intake_book import book, fates, read_bytes

HEAD = ["Tk #", "Process", "# Htrs", "kW ea.", "Remarks"]
TITLE = "All heaters 480 V 3 ph"


def listed(folder: Path, remarks: Sequence[str], *notes: str, head: Sequence[str] = HEAD, **more: list) -> Job:
    rows = [[1 + at, f"Clean {at}", 2, 6 + at, remark] for at, remark in enumerate(remarks)]
    return read_bytes(folder, book({"Tanks": [[TITLE], head, *rows, [], *([note] for note in notes)], **more}))


def read(job: Job) -> set[str]:
    return {str(bank.tank) for bank in job.banks}


@pytest.mark.parametrize("note", [
    "Tk 2 heaters come on the seal skid from our chemical supplier - do not quote.", "Tk. 2: delete", "Tk #2 heaters existing, to remain",
    "Tank 2 heaters by the DI skid vendor", "TK 2 is not in our bid", "Stage 2 not included in this quotation",
])  # fmt: skip
def test_a_note_that_names_a_tank_by_any_word_for_one_holds_its_row(tmp_path: Path, note: str) -> None:
    job = listed(tmp_path, ["", "", ""], "Notes:", "1. All heaters with thermal cutout.", f"2. {note}")
    assert read(job) == {"1", "3"}
    assert note[:20] in fates(job)[4]


def test_a_note_names_a_tank_by_the_word_that_the_list_calls_them_by(tmp_path: Path) -> None:
    job = listed(tmp_path, ["", "", ""], "Cell 3 heaters by others", head=["Cell no.", *HEAD[1:]])
    assert read(job) == {"1", "2"}


@pytest.mark.parametrize(("remark", "note"), [
    ("see note 3", "3. By others"), ("See Note 3.", "Note 3: supplied with the skid"), ("wire per note 3", "3) do not quote"),
    ("siehe Anm. 3", "Anm. 3: bauseits"), ("s. Bem. 1 und 3", "3. nicht Teil dieses Angebots"), ("voir note 3", "3. hors fourniture"),
    ("ver nota 3", "3. no incluido en esta oferta"), ("vedi nota 3", "3. esclusa, fornita da altri"),
    ("zie opm. 3", "3. niet in deze offerte"),
    ("patrz uwaga 3", "3. poza zakresem"), ("ver nota 3", "3. fora do fornecimento"), ("viz pozn. 3", "3. není součástí nabídky"),
    ("se anm. 3", "3. ingår ej i offerten"), ("see note 3", "3. Customer has not decided on these yet"),
])  # fmt: skip
def test_a_remark_that_refers_to_a_note_is_followed_to_it(tmp_path: Path, remark: str, note: str) -> None:
    job = listed(tmp_path, ["", remark, ""], "1. With thermal cutout.", "2. 6 ft of lead.", note)
    assert read(job) == {"1", "3"}


def test_a_note_that_decides_nothing_holds_no_row(tmp_path: Path) -> None:
    job = listed(tmp_path, ["see note 1", "see notes 1 and 2", ""], "1. With thermal cutout.", "2. 6 ft of lead in PVC flex.")
    assert read(job) == {"1", "2", "3"}


def test_a_note_referred_to_that_gives_another_power_is_asked_about(tmp_path: Path) -> None:
    job = listed(tmp_path, ["", "see note 1", ""], "1. Changed to 9 kW each on site.")
    assert read(job) == {"1", "3"}


def test_notes_with_their_numbers_in_a_cell_of_their_own(tmp_path: Path) -> None:
    rows = [[1, "Clean", 2, 6, ""], [2, "Rinse", 2, 9, "note 2"], [], [1, "All with thermal cutout"], [2, "By others, in another contract"]]
    job = read_bytes(tmp_path, book({"Tanks": [[TITLE], HEAD, *rows]}))
    assert read(job) == {"1"}


def test_notes_on_a_sheet_of_notes_are_followed_too(tmp_path: Path) -> None:
    job = listed(tmp_path, ["", "see note 2", ""], Notes=[["1. All with cutout"], ["2. Supplied by the owner"]])
    assert read(job) == {"1", "3"}


@pytest.mark.parametrize("text", [
    "Not in heater bid.", "not included in this quotation", "outside our scope of supply", "comes with the washer", "by dryer mfr.",
    "nicht Teil dieses Angebots", "ne fait pas partie de l'offre", "no incluido en la cotización", "non compresa nell'offerta",
    "niet opgenomen in de offerte", "nie ujęte w ofercie", "não faz parte da proposta", "ikke med i tilbuddet", "ingår inte i anbudet",
    "není zahrnuto v nabídce",
])  # fmt: skip
def test_words_by_which_heaters_are_not_asked_for(text: str) -> None:
    assert read_row_words(text).fate


@pytest.mark.parametrize("text", ["No de pedido 4711", "by heater vendor", "in our bid", "included in quotation", "comes with thermostat"])
def test_words_that_are_near_them_and_say_something_else(text: str) -> None:
    assert out_of_scope(text) == () and read_row_words(text).fate != OUT


@pytest.mark.parametrize("remark", ["REUSE existing, GC relocates. Not in heater bid.", "reuse existing", "re-use heaters from old line"])
def test_heaters_that_are_used_again_are_not_bought_unasked(tmp_path: Path, remark: str) -> None:
    assert read(listed(tmp_path, ["", remark, ""])) == {"1", "3"}


def test_what_else_is_used_again_is_about_no_heater(tmp_path: Path) -> None:
    assert read(listed(tmp_path, ["reuse existing wiring", "re-use existing control panel"])) == {"1", "2"}


def test_numbers_of_notes() -> None:
    assert notes_referred("see notes 2 & 3") == ("2", "3") and notes_referred("Note A") == ("a",)
    assert notes_referred("note 3 kW") == notes_referred("Note 3: by others") == ()
    assert number_of_note("Note 3 - by others") == number_of_note("3) by others") == "3"
    assert number_of_note("12 kW heaters") == "" and number_off("Note 3 - by others") == "by others"
    assert named_for_notes("General notes") and not named_for_notes("Cover")


def test_a_row_whose_power_is_left_to_be_filled_in_is_asked_though_its_bath_is_called_evaporator(tmp_path: Path) -> None:
    head = ["Tank", "Process", "Heaters to furnish", "Notes"]
    rows = [["T1", "Wash", "(3) 9 kW"], ["T2", "Rinse", "none"], ["T3", "Etch", "4 @ 6 kW"]]
    rows += [["T4", "Evaporator", "(2) ___ kW", "Owner to advise kW"]]
    job = read_bytes(tmp_path, book({"Bid": [["All 208 V 3 ph"], head, *rows]}))
    assert read(job) == {"T1", "T3"} and fates(job)[6]


def test_a_numbered_tank_of_a_list_that_counts_heaters_may_be_an_evaporator(tmp_path: Path) -> None:
    rows = [[1, "Clean", 2, 6], [2, "Etch", 1, 9], [3, "Rinse", 1, 6], [4, "Drag-out evaporator", 2, 15], [5, "Filter pump", 1, 3]]
    job = read_bytes(tmp_path, book({"Tanks": [[TITLE], HEAD, *rows]}))
    assert read(job) == {"1", "2", "3", "4"}


@pytest.mark.parametrize(("note", "left"), [
    ("Tanks 2 and 3 are by others", {"1"}), ("Tanks 2-3 by others", {"1"}), ("Tks 2 thru 3 by others", {"1"}),
    ("Tanks 1, 2: delete", {"3"}),
    ("#2 heater by others", {"1", "3"}), ("No. 2 tank: existing heaters stay", {"1", "3"}), ("Quote all except tank 2.", {"1", "3"}),
    ("Please quote tanks 1 and 3 only.", {"1", "3"}), ("Tank 2 crossed off per meeting", {"1", "3"}),
    ("Clean one heaters by the owner", {"1", "3"}),
    ("Bäder 2 und 3 bauseits", {"1"}), ("Cuves 2 à 3 : hors fourniture", {"1"}), ("Vasche 2 e 3 a cura del cliente", {"1"}),
])  # fmt: skip
def test_a_note_names_several_rows_at_once(tmp_path: Path, note: str, left: set[str]) -> None:
    rows = [[at + 1, ["Soak", "Clean one", "Rinse"][at], 2, 6 + at, ""] for at in range(3)]
    job = read_bytes(tmp_path, book({"Tanks": [[TITLE], HEAD, *rows, [], [note]]}))
    assert read(job) == left


@pytest.mark.parametrize(("note", "left"), [
    ("T-2 thru T-4 deleted", {"T-1"}), ("T-2, T-3 and T-4 deleted", {"T-1"}), ("T2 deleted", {"T-1", "T-3", "T-4"}),
    ("T-2/3 by others", {"T-1", "T-4"}),
    ("T-2, T-4 are not required", {"T-1", "T-3"}), ("T-1 - 3 heaters of 6 kW", {"T-2", "T-3", "T-4"}),
    ("All 316 SS except T-2 titanium", None), ("T-4 to 2 ea. 6 kW", None),
    ("Quote a spare element for T-2 only", None), ("Supply fluoropolymer sheath for T-2 only", None),
    ("T-2 covers existing, to remain", None),
])  # fmt: skip
def test_tags_in_a_run_or_written_otherwise(tmp_path: Path, note: str, left: set[str] | None) -> None:
    rows = [[f"T-{at}", "Clean", 2, 6, ""] for at in (1, 2, 3, 4)]
    job = read_bytes(tmp_path, book({"Tanks": [[TITLE], HEAD, *rows, [], [note]]}))
    assert read(job) == ({"T-1", "T-2", "T-3", "T-4"} if left is None else left)


@pytest.mark.parametrize("note", [
    "1. LOW LEVEL CUTOFF BY CONTROLS CONTRACTOR.",
    "1. 480 V FROM EXISTING LIGHTING PANEL.", "1. FURNISH ONE (1) SPARE 12 kW, 480 V, 3 PH HEATER.",
])  # fmt: skip
def test_a_note_about_what_stands_beside_the_heaters_holds_no_row(tmp_path: Path, note: str) -> None:
    assert read(listed(tmp_path, ["", "note 1", ""], note)) == {"1", "2", "3"}


def test_a_total_without_some_rows_is_no_power_of_theirs(tmp_path: Path) -> None:
    rows = [["W1 wash", "Clean", 2, 6], ["W2 rinse", "Clean", 1, 9], ["S9 quench", "Clean", 1, 4]]
    job = read_bytes(tmp_path, book({"Tanks": [[TITLE], HEAD, *rows, [None, "TOTAL", None, "excl. motors, S9: 21 kW"]]}))
    assert len(read(job)) == 3


def test_the_supply_of_a_note_is_that_of_the_rows_that_bear_its_number(tmp_path: Path) -> None:
    """Alone in a column of notes, as text or as a number; under another heading a bare number is none of a note."""
    for heading, supplied in (("Note", [(480, 3), (240, 1), (480, 3)]), ("Depth", [])):
        rows: list[list[object]] = [[1, "Soak", 4, 15, "1"], [2, "Deox", 1, 6, 2], [3, "Dye", 2, 9, 1]]
        notes = [["1. 480 V, 3 phase, 60 Hz"], ["2. 240 V, single phase"]]
        job = read_bytes(tmp_path, book({"Tanks": [["Tk #", "Process", "# Htrs", "kW ea.", heading], *rows, [], ["Notes"], *notes]}))
        assert [(bank.volts_v, bank.phases) for bank in job.banks] == supplied
