"""Sentences beside a list: which rows they have asked, and which leave every row as it stands. All plants and figures are invented."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from importlib import resources
from pathlib import Path

import pytest

from batch.intake.sentence_words import saying
from batch.records import Job
from tests.intake_book import book, codes, in_doubt, read_bytes

HEAD = ["Tank", "Process", "Heaters", "kW each", "Volts", "Ph"]
FOUR = [["T-1", "Clean", 2, 9, 480, 3], ["T-2", "Pickle", 1, 6, 480, 3], ["T-3", "Nickel", 1, 12, 480, 3], ["T-4", "Dye", 1, 6, 480, 3]]


def listed(folder: Path, *rows: Sequence[object]) -> Job:
    return read_bytes(folder, book({"Sheet1": list(rows)}))


def asked(job: Job) -> list[object]:
    return [one.tank for one in job.unread if one.tank]


def test_what_all_rows_say_names_none_of_them(tmp_path: Path) -> None:
    """A row is named by what its bath is called, not by a word for a heater or for what is done with every row."""
    head = ["Item", "Description", "Doing", *HEAD[:1], *HEAD[2:]]
    rows = [[f"H{tank}", f"HEATER, {name.upper()}", "REPLACE", tank, *more] for tank, name, *more in FOUR]
    job = listed(tmp_path, ["REPLACE: one heater at a time, on Sundays."], head, *rows)
    assert len(job.banks) == len(FOUR) and not asked(job)
    named = listed(tmp_path, ["Nickel: two more heaters."], head, *rows)
    assert asked(named) == ["T-3"]


def test_a_sentence_below_a_list_heads_no_rows(tmp_path: Path) -> None:
    job = listed(tmp_path, HEAD, *FOUR, [None], ["T-2: customer buys heater."], ["Add one more tank T-9, 1 heater 9 kW, 480 V 3 ph."])
    assert "row-banner" not in codes(job) and asked(job) == ["T-2"]


def rows_with(remark: str) -> list[list[object]]:
    return [[*HEAD, "Remarks"], *([*row, remark if row[0] == "T-3" else None] for row in FOUR)]


@pytest.mark.parametrize(
    ("remark", "doubted"),
    [
        *((one, True) for one in ("see T-2", "dup of T-2", "siehe T-2", "voir cuve T-2", "véase T-2", "samen met T-2", "not this phase")),
        *((one, False) for one in ("see T-3", "see T-9", "see drawing T-22", "next to T-2")),
    ],
)
def test_a_row_whose_remark_is_another_row_is_asked_about(tmp_path: Path, remark: str, *, doubted: bool) -> None:
    job = listed(tmp_path, *rows_with(remark))
    assert asked(job) == (["T-3"] if doubted else [])


def test_a_number_that_is_a_notes_is_no_row(tmp_path: Path) -> None:
    rows = [[number, *row[1:], "see 2" if number == 3 else None] for number, row in enumerate(FOUR, 1)]
    assert asked(listed(tmp_path, [*HEAD, "Remarks"], *rows)) == ["3"]
    assert not asked(listed(tmp_path, [*HEAD, "Remarks"], *rows, [None], ["1. Wire in conduit"], ["2. With guard"]))


@pytest.mark.parametrize("word", ["lot chauffage", "hors lot"])
def test_a_lot_of_a_french_bid_is_asked_about_and_what_is_in_none_is_out(tmp_path: Path, word: str) -> None:
    """ "Lot chauffage" is the heating trade's part of a contract, which may be the one that is priced (trade usage, no source)."""
    head = ["Cuve", "Nb thermoplongeurs", "kW unitaire", "Tension", "Ph", "Fourniture"]
    job = listed(tmp_path, head, *([tank, *more, word] for tank, _, *more in FOUR))
    assert not job.banks and (in_doubt(job)) == (word == "lot chauffage")


SPLITS = [("18kW in 3 elements", 0), ("18 kW, 3 elements", 0), ("18 kW en 3 éléments", 0), ("18 kW aus 3 Heizstäben", 0)]
SPLITS += [("18 kW en 3 resistencias", 0), ("18 kW su 3 resistenze", 0), ("18 kW as 3 x 6", 0), ("3-element heater 18 kW", 0)]
SPLITS += [("3 x 6 kW", 3), ("3 elements 6 kW each", 3), ("6 kW each, 3 elements", 3), ("2 x 9 kW in 3 phase", 2)]


@pytest.mark.parametrize(("text", "count"), SPLITS)
def test_a_power_in_several_elements_is_not_taken_for_that_of_each(tmp_path: Path, text: str, count: int) -> None:
    rows = [["1", "2 x 9 kW", 480, 3], ["2", "1 x 12 kW", 480, 3], ["3", text, 480, 3]]
    job = listed(tmp_path, ["Tank", "Heaters", "Volts", "Ph"], *rows)
    assert [one.quantity for one in job.banks if one.tank == "3"] == ([count] if count else [])
    assert asked(job) == ([] if count else ["3"])


FIVE = [*FOUR[:3], ["T-4", "Rinse", 1, 6, 480, 3], ["T-5", "Rinse", 1, 6, 480, 3]]
GERMAN = ["Bad", "Prozess", "Anzahl Heizer", "kW je Heizer", "Volt", "Phasen"]
FRENCH = ["Cuve", "Procédé", "Nb thermoplongeurs", "kW unitaire", "Volts", "Ph"]
SPANISH = ["Tina", "Proceso", "Calentadores", "kW c/u", "Volts", "Fases"]
NAMES = {
    "de": (GERMAN, ["Entfetten", "Beizen", "Nickel", "Spüle", "Spüle"]),
    "fr": (FRENCH, ["Dégraissage", "Décapage", "Nickel", "Rinçage", "Rinçage"]),
    "es": (SPANISH, ["Desengrase", "Decapado", "Níquel", "Enjuague", "Enjuague"]),
}
EVERY = [row[0] for row in FIVE]
BELOW = [
    ("T-3 gets the heater from T-1.", ["T-1", "T-3"]),
    ("Double the heaters in T-2.", ["T-2"]),
    ("T-2 like T-1.", ["T-2"]),
    ("T-2: see T-3.", ["T-2"]),
    ("T-3 is now 18", ["T-3"]), ("T-3 after the review is now 18", ["T-3"]),
    ("Nickel to get two heaters.", ["T-3"]),
    ("Half of the clean heaters are spare.", ["T-1"]),
    ("Both rinses share a single 6 kW heater.", ["T-4", "T-5"]),
    ("Rinse tanks: heater by plant.", ["T-4", "T-5"]),
    ("T-4 and T-5 no longer heated.", ["T-4", "T-5"]),
    ("Tanks T-3 and up are future.", ["T-3", "T-4", "T-5"]),
    ("kW are totals per tank, not per heater.", ["T-1"]),
    ("Ratings are for the whole tank.", ["T-1"]),
    ("Values in red are to be ignored.", EVERY),
    ("There are two of each line.", EVERY),
    ("This sheet is of line 1 only; line 2 is a duplicate.", EVERY),
    ("Numbers are for both plants together.", EVERY),
    ("Add 20% to all kW.", EVERY),
    ("Quantities doubled since last issue.", EVERY),
    ("Site supply is 380V/3/50", EVERY),
]
BELOW_ABROAD = [
    ("de", "Beizen: künftig 2 Heizer.", ["T-2"]),
    ("de", "T-2 wie T-1.", ["T-2"]),
    ("de", "T-3: Heizer stellt der Kunde.", ["T-3"]),
    ("de", "Nickel wird mit Dampf beheizt.", ["T-3"]),
    ("de", "Leistung gilt für das ganze Bad.", ["T-1"]),
    ("de", "Mengen je Linie, insgesamt 2 Linien", EVERY),
    ("de", "Rot = entfällt", EVERY),
    ("fr", "Les deux rinçages se partagent un thermoplongeur.", ["T-4", "T-5"]),
    ("fr", "Décapage : prévoir 2 thermoplongeurs.", ["T-2"]),
    ("fr", "T-2 comme T-1.", ["T-2"]),
    ("fr", "Deux lignes identiques.", EVERY),
    ("fr", "Tension réelle sur site : 440 V.", EVERY),
    ("es", "Los dos enjuagues comparten un calentador.", ["T-4", "T-5"]),
    ("es", "T-2 igual que T-1.", ["T-2"]),
    ("es", "Cantidades por línea.", EVERY),
    ("es", "La potencia es total por tina.", ["T-1"]),
]
HARMLESS = [
    "All heaters to be PTFE coated.", "Delivery to dock 3", "Tank T-3 is the big one", "Three copies of the manual, please.",
    "Control voltage 120 V.", "Nickel heater has a guard.", "T-1: pump 1.5 kW.", "T-2 is the first tank on the left.",
    "Line 2 starts in June.", "Total connected load 51 kW", "Steam is not available at this site.",
    "Allow 10% spare capacity in panel.", "Heaters to be fused individually.", "One thermostat per tank.",
    "Boost is 3 hours for all rinses.", "Mark each heater with its tank number.", "One spare heater for stock please",
    "Tank T-2 heater has a guard.", "The clean tank is next to the nickel tank.", "Rinse water by others",
    "Nickel anodes by customer.", "Heizer teflonbeschichtet.", "Bad 3 ist das große", "Livraison quai 3",
    "La tina de níquel tiene tapa.",
]  # fmt: skip


@pytest.mark.parametrize(("sentence", "doubted"), BELOW)
def test_sentences_by_which_rows_would_be_others(tmp_path: Path, sentence: str, doubted: list[str]) -> None:
    assert asked(listed(tmp_path, HEAD, *FIVE, [None], [sentence])) == doubted


@pytest.mark.parametrize(("language", "sentence", "doubted"), BELOW_ABROAD)
def test_the_same_in_other_languages(tmp_path: Path, language: str, sentence: str, doubted: list[str]) -> None:
    head, names = NAMES[language]
    rows = [[tank, name, *more] for (tank, _, *more), name in zip(FIVE, names, strict=True)]
    assert asked(listed(tmp_path, head, *rows, [None], [sentence])) == doubted


@pytest.mark.parametrize("sentence", HARMLESS)
def test_sentences_about_something_else_leave_every_row(tmp_path: Path, sentence: str) -> None:
    job = listed(tmp_path, HEAD, *FIVE, [None], [sentence])
    assert len(job.banks) == len(FIVE) and not job.unread
    assert "notes-of-heaters" not in codes(job)


def test_what_is_said_of_sentences_set_aside_is_true(tmp_path: Path) -> None:
    """One that speaks of heaters and names no row is not said to speak of nothing that is sized; one that has rows asked is in no note."""
    below = ["The second heater is a standby.", "Paint the tanks blue, please.", "T-2 like T-1.", "T-3 has 1 heater."]
    job = listed(tmp_path, HEAD, *FIVE, [None], *([one] for one in below))
    told = {one.code: one.message for one in job.findings if one.code in ("notes-of-heaters", "notes-aside")}
    assert "standby" in told["notes-of-heaters"] and "blue" in told["notes-aside"]
    assert not any(word in "".join(told.values()) for word in ("like", "T-3")) and "standby" not in told["notes-aside"]


def test_every_group_of_words_stands_in_twelve_languages() -> None:
    groups = tomllib.loads((resources.files("batch.intake") / "languages" / "sentences.toml").read_text(encoding="utf-8"))
    for name, words in groups.items():
        assert sorted(words.keys() - {"tr"}) == ["cs", "da", "de", "en", "es", "fr", "it", "nl", "no", "pl", "pt", "sv"], name
        assert saying(name).groups == 0


def test_a_spare_in_the_store_is_no_heater_of_the_tank(tmp_path: Path) -> None:
    rows = [[*row, "(1)" if row[0] == "T-3" else None] for row in FIVE]
    for note, doubted in (("(1) one standby heater in the store", []), ("(1) second heater is a reserve", ["T-3"])):
        assert asked(listed(tmp_path, [*HEAD, "Notes"], *rows, [None], [note])) == doubted


def test_tanks_from_a_number_on(tmp_path: Path) -> None:
    rows = [[number, *row[1:]] for number, row in enumerate(FIVE, 7)]
    assert asked(listed(tmp_path, HEAD, *rows, [None], ["Tanks 9 and up are future."])) == ["9", "10", "11"]
    assert asked(listed(tmp_path, HEAD, *rows, [None], ["Tanks 9 and up are next to the wall."])) == []


def test_a_sentence_in_doubt_is_heard_of_the_rows_that_it_names(tmp_path: Path) -> None:
    """It reads like a heater of its own, and is asked about as one: the tank that it names is asked about too."""
    job = listed(tmp_path, HEAD, *FIVE, [None], ["Nickel: 2 heaters 12 kW, 480 V 3 ph please"])
    assert asked(job) == ["T-3"] and len(job.unread) == 2


def test_heaters_that_are_out_are_asked_about_and_a_legend_takes_none(tmp_path: Path) -> None:
    for sentence in ("Heater by customer.", "All heaters by others.", "Heaters deleted"):
        assert asked(listed(tmp_path, HEAD, *FIVE, [None], [sentence])) == EVERY
    for sentence in ("Heater wiring by others.", "(E) = EXISTING HEATER TO REMAIN"):
        assert not asked(listed(tmp_path, HEAD, *FIVE, [None], [sentence]))


def test_a_note_that_a_row_refers_to_is_set_nowhere_aside(tmp_path: Path) -> None:
    rows = [[*row, 2 if row[0] == "T-3" else None] for row in FIVE]
    job = listed(tmp_path, [*HEAD, "Notes"], *rows, [None], ["1. Paint the tanks."], ["2. Heater furnished by tank vendor, out of scope."])
    told = [one.message for one in job.findings if one.code in ("notes-of-heaters", "notes-aside")]
    assert asked(job) == ["T-3"] and len(told) == 1 and "vendor" not in told[0]


def test_a_numbered_note_that_asks_about_its_row_is_not_said_to_have_changed_nothing(tmp_path: Path) -> None:
    """Its reason at the row quotes it without its number. It speaks of control power too, which a note beside the list would be told of."""
    rows = [[*row, 2 if row[0] == "T-3" else None] for row in FIVE]
    job = listed(tmp_path, [*HEAD, "Notes"], *rows, [None], ["1. Paint the tanks."], ["2. On hold until the control voltage is known."])
    assert asked(job) == ["T-3"] and "note-asks" not in codes(job)


def test_tanks_that_nobody_can_tell_are_said_to_be_open(tmp_path: Path) -> None:
    """Three tanks without a tag: which, is not known, so no row is asked about, and nobody is told that it speaks of nothing."""
    assert "notes-of-heaters" in codes(listed(tmp_path, HEAD, *FIVE, [None], ["Three tanks are future."]))


@pytest.mark.parametrize("sentence", ["Výkon je pro celou vanu.", "A potência é para todo o tanque.", "Moc jest dla całej wanny."])
def test_a_power_of_the_whole_tank_is_heard_where_is_is_a_word_for_each_elsewhere(tmp_path: Path, sentence: str) -> None:
    assert asked(listed(tmp_path, HEAD, *FIVE, [None], [sentence])) == ["T-1"]
