"""Words as data: every language whole, no word of two contrary meanings, headings of the trade and the traps among them."""

from __future__ import annotations

import tomllib
from importlib import resources
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.errors import InputFileError
from batch.intake.heading_words import SHARED, SHEETS, Role, split_basis
from batch.intake.vocabulary import LANGUAGES, LISTS, vocabulary
from batch.intake.wording import spellings, words

FOLDER = resources.files("batch.intake") / "languages"
FILES = {language: tomllib.loads((FOLDER / f"{language}.toml").read_text("utf-8")) for language in LANGUAGES}
WORDS = vocabulary()
CONTRARY = (
    ("out", "doubt", "totals", "yes", "ditto", "current_issue"),
    ("yes", "no"), ("one_phase", "two_phase", "three_phase"), ("neutral", "no_neutral"), ("alternating", "direct"),
    ("per_heater", "per_tank", "total"), ("in_service", "spare"), ("current_issue", "old_issue", "example"), ("heaters", "other_equipment"),
    ("out", "yes", "totals"), ("doubt", "no", "in_service"), ("fillers", "per_tank", "total", "out", "doubt"),
)  # fmt: skip
SPELT_ALIKE = {("de", "vorhanden")}  # "there" (fitted) and "existing": a whole cell of a yes/no column and of a remark


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_language_has_every_list(language: str) -> None:
    file = FILES[language]
    assert set(file["words"]) == set(LISTS) and all(file["words"].values())
    assert set(file["roles"]) == set(Role) - {Role.TOTALS} and all(file["roles"].values())
    assert {int(number) for number in file["numbers"]} >= set(range(1, 13))
    for sheet_id, sheet in SHEETS.items():
        named = {split_basis(entry)[0] for where in (sheet_id, SHARED) for entry in file["headings"][where]}
        assert {column.key for column in sheet.columns} <= named


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_entry_has_a_word_in_it(language: str) -> None:
    tables = [FILES[language].get(name, {}) for name in ("words", "numbers", "units", "roles", "cased")]
    lists = [some for table in (*tables, *FILES[language]["headings"].values()) for some in table.values()]
    assert lists and not [one for some in lists for one in some if not words(one)]


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_word_means_two_contrary_things_in_one_language(language: str) -> None:
    lists = {
        name: {one for word in some if not word.startswith("/") for one in spellings(word)}
        for name, some in FILES[language]["words"].items()
    }
    for group in CONTRARY:
        for at, one in enumerate(group):
            for other in group[at + 1 :]:
                both = {" ".join(word) for word in lists[one] & lists[other]} - {word for where, word in SPELT_ALIKE if where == language}
                assert not both, f"{both} in {one} and in {other}"


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_heading_names_two_columns_of_a_sheet_in_one_language(language: str) -> None:
    for sheet_id in SHEETS:
        owner: dict[tuple[str, ...], str] = {}
        for where in (sheet_id, SHARED):
            for entry, names in FILES[language]["headings"][where].items():
                key = split_basis(entry)[0]
                for name in names:
                    for spelt in spellings(name):
                        assert owner.setdefault(spelt, key) == key, f"{name!r} names {key} and {owner[spelt]}"


# Headings as such lists have them, with what a reader of the language takes them for: sheet (or "" for a role), key, basis, unit's factor.
HEADINGS = {
    "NO.\nOFF": ("heaters", "quantity", "", None),
    "ELECTRIC HEATERS | NO.\nOFF": ("heaters", "quantity", "", None),
    "# htrs": ("heaters", "quantity", "", None),
    "Htr qty": ("heaters", "quantity", "", None),
    "Heaters per tank": ("heaters", "quantity", "per tank", None),
    "RATING\nEACH (kW)": ("heaters", "power_kw", "each", 1.0),
    "kW/htr": ("heaters", "power_kw", "each", 1.0),
    "kW ea.": ("heaters", "power_kw", "each", 1.0),
    "PWR_W_EA": ("heaters", "power_kw", "each", 0.001),
    "TOTAL LOAD KW": ("heaters", "power_kw", "total", 1.0),
    "Tank kW\nkW par réservoir": ("heaters", "power_kw", "per tank", 1.0),
    "Heater\nrating, each": ("heaters", "power_kw", "each", None),
    "Service\nvoltage": ("heaters", "volts_v", "", None),
    "SERVES\nTANK": ("heaters", "tank", "", None),
    "Hot zone (in)": ("heaters", "heated_length_mm", "", 0.0254),
    "Vol. (gal)": ("tanks", "volume_l", "", 231 * 0.254**3),
    "Temp °F": ("tanks", "operating_c", "", 5 / 9),
    "Quantitiy": ("heaters", "quantity", "", None),
    "Nennleistung\nje Stück [kW]": ("heaters", "power_kw", "each", 1.0),
    "Leistung je Heizer": ("heaters", "power_kw", "each", None),
    "Gesamtleistung\n[kW]": ("heaters", "power_kw", "total", 1.0),
    "Leistung ges.": ("heaters", "power_kw", "total", None),
    "Nenn-\nspannung [kV]": ("heaters", "volts_v", "", 1000.0),
    "Stück-\nzahl": ("heaters", "quantity", "", None),
    "Stueckzahl": ("heaters", "quantity", "", None),
    "Behälter-\nNr.": ("heaters", "tank", "", None),
    "Tauchlänge\n[mm]": ("heaters", "heated_length_mm", "", 0.001),
    "Puissance\npar cuve (kW)": ("heaters", "power_kw", "per tank", 1.0),
    "Puissance unitaire": ("heaters", "power_kw", "each", None),
    "Nb": ("heaters", "quantity", "", None),
    "T° service": ("tanks", "operating_c", "", None),
    "Potencia unitaria (W)": ("heaters", "power_kw", "each", 0.001),
    "Cant.": ("heaters", "quantity", "", None),
    "Tensión (V)": ("heaters", "volts_v", "", 1.0),
    "Pot. totale vasca (kW)": ("heaters", "power_kw", "per tank", 1.0),
    "N. resist.": ("heaters", "quantity", "", None),
    "Vermogen\nper stuk": ("heaters", "power_kw", "each", None),
    "Moc jedn.": ("heaters", "power_kw", "each", None),
    "Moc łączna": ("heaters", "power_kw", "total", None),
    "Moc laczna": ("heaters", "power_kw", "total", None),
    "Liczba grzałek": ("heaters", "quantity", "", None),
    "Potência\n(cada)": ("heaters", "power_kw", "each", None),
    "Qtde. por\ntanque": ("heaters", "quantity", "per tank", None),
    "Ｑｔｙ": ("heaters", "quantity", "", None),
    "FULL LOAD\nCURRENT EA. | A": ("", Role.AMPS, None, 1.0),
    "Corrente vasca (A)": ("", Role.AMPS, "per tank", 1.0),
    "Strom je Heizer": ("", Role.AMPS, "each", None),
    "Supply | V/PH/HZ": ("", Role.SUPPLY, "", None),
    "FURN.\nBY": ("", Role.STATUS, "", None),
    "Nº de\ntanques": ("", Role.NUMBER_OF_TANKS, "", None),
    "pH": ("", Role.PH_VALUE, "", None),
    "Voltage drop %": ("", Role.VOLTAGE_DROP, "", None),
    "Heat-up kW req'd": ("", Role.POWER_REQUIRED, "", 1.0),
    "Rectifier kW": ("", Role.OTHER_POWER, "", None),
    "Pump motor kW": ("", Role.OTHER_POWER, "", None),
    "Anode qty": ("", Role.ANODES, "", None),
    "Installed spare": ("", Role.SPARES, "", None),
    "Item no.": ("", Role.SERIAL, "", None),
    "Rev": ("", Role.REVISION, "", None),
    "Unit price": ("", Role.PRICE, "", None),
    "Gęstość prądu": ("", Role.OTHER_POWER, "", None),
    "Lp.": ("", Role.SERIAL, "", None),
    "Gleichrichter kW": ("", Role.OTHER_POWER, "", None),
    "Total": ("", Role.TOTALS, "", None),
    "UOM": ("", Role.UNIT, "", None),
}  # fmt: skip


@pytest.mark.parametrize("heading", HEADINGS)
def test_the_likeliest_meaning_of_a_heading(heading: str) -> None:
    sheet, key, basis, factor = HEADINGS[heading]
    best = WORDS.heading_candidates(heading)[0]
    assert (best.sheet_id, best.key) == (sheet, key) and (basis is None or best.basis == basis)
    assert factor is None or (best.unit is not None and best.unit.factor == pytest.approx(factor))


def test_ph_in_capitals_may_be_phases_and_ph_of_chemists_is_not() -> None:
    score = {text: {one.key: one.score for one in WORDS.heading_candidates(text)} for text in ("pH", "PH", "Ph")}
    assert score["pH"]["ph_value"] > score["pH"]["phases"]
    assert score["PH"]["phases"] > 0.9 and score["Ph"]["phases"] > 0.9


def test_a_heading_about_other_equipment_is_hardly_ours() -> None:
    for heading in ("Pump volts", "Blower qty", "Rectifier phases", "Pumpe Spannung"):
        ours = [one.score for one in WORDS.heading_candidates(heading) if one.sheet_id == "heaters"]
        assert max(ours, default=0.0) < 0.5, heading


def test_an_old_column_of_power_stands_behind_the_new_one() -> None:
    new, old = (WORDS.heading_candidates(text)[0] for text in ("kW each", "kW each\n(Rev B)"))
    assert new.key == old.key == "power_kw" and new.score > old.score


TOTALS = [
    "TOTAL", "Total line 2", "Summe:", "Zwischensumme Linie 1", "Sous-total Zinc", "Totale linea", "RAZEM", "Totaal", "Suma", "SUB-TOTAL",
    "carried forward", "Übertrag", "Uebertrag", "Total geral", "kW total", "Page total",
]  # fmt: skip


@pytest.mark.parametrize("text", TOTALS)
def test_totals(text: str) -> None:
    assert WORDS.is_total(text)


@pytest.mark.parametrize("text", ["T-101", "Totalizer tank", "9 kW", "Soak total immersion cleaner", ""])
def test_no_totals(text: str) -> None:
    assert not WORDS.is_total(text)


def test_words_in_a_text_have_their_place() -> None:
    text = "Tank 6: heaters annullati, N.I.C. now"
    hits = WORDS["out"].find(text)
    assert [(hit.word, text[hit.start : hit.end]) for hit in hits] == [("annullati", "annullati"), ("n.i.c.", "N.I.C")]


NUMBERS = {"two": 2, "Drei": 3, "dos": 2, "UNA": 1, "cinq": 5, "vijf": 5, "dwie": 2, "duas": 2, "zwoelf": 12, "x": None}


@pytest.mark.parametrize(("text", "number"), NUMBERS.items())
def test_small_numbers(text: str, number: int | None) -> None:
    assert WORDS.number(text) == number


def test_folding() -> None:
    assert words("Nenn-\nspannung") == ("nennspannung",)
    assert words("Ｓｔück") == words("Stück") == ("stuck",) and words("kW²⁾") == ("kw",)
    assert words("GĘSTOŚĆ Łączna") == ("gestosc", "laczna")
    assert words("N° de cuve") == ("no", "de", "cuve")


def test_a_firms_own_words_are_added_and_come_first(tmp_path: Path) -> None:
    text = '[words]\nout = ["scratched"]\n[headings.heaters]\nquantity = ["sticks"]\n"power_kw per tank" = ["juice"]\n'
    (tmp_path / "own.toml").write_text(text, "utf-8")
    for extra in (tmp_path, tmp_path / "own.toml"):
        own = vocabulary(extra)
        assert own.heading_candidates("Sticks")[0].key == "quantity" and own.heading_candidates("Juice kW")[0].basis == "per tank"
        assert "scratched" in own["out"] and "deleted" in own["out"]
    assert "scratched" not in WORDS["out"]


WRONG = [
    "[words]\nout = ['--']",
    "[words]\nnowhere = ['x']", "[headings.heaters]\nlength = ['x']", "[roles]\nfoo = ['x']", "[words]\nout = [3]", "x = 1", "[[",
    "[units]\nfoo = ['x']", "[headings.nowhere]\nx = ['x']", "[headings.heaters]\n'power_kw whole' = ['x']", "[numbers]\nx = ['x']",
]  # fmt: skip


@pytest.mark.parametrize("text", WRONG)
def test_a_firms_words_that_are_wrong_are_refused_with_the_file(tmp_path: Path, text: str) -> None:
    file = tmp_path / "own.toml"
    file.write_text(text, "utf-8")
    with pytest.raises(InputFileError, match=r"own\.toml"):
        vocabulary(file)
    with pytest.raises(InputFileError):
        vocabulary(tmp_path / "none.toml")


@given(st.text(max_size=60))
def test_no_text_is_a_crash(text: str) -> None:
    for one in WORDS.heading_candidates(text):
        assert 0 < one.score <= 1
    WORDS.is_total(text)
    WORDS.number(text)


# --- how much a heading is worth as a name: judgement, no source, so each weight is worked by hand here and pinned from both sides

FIGURES = [
    ("Quantity", "heaters", "quantity", 1.0),  # the column's own name
    ("Quant.", "heaters", "quantity", 0.95),  # a name that lists use
    ("Quantity required", "heaters", "quantity", 0.9),  # its own name beside a word that says nothing
    ("Qauntity", "heaters", "quantity", 0.7),  # seven of eight letters in order: 0.8 x 2 x 7 / 16
    ("Tankquantity", "heaters", "quantity", 0.583),  # the last eight of twelve letters: 0.7 x (0.5 + 8 / 12 / 2)
    ("Power (A)", "heaters", "power_kw", 0.3),  # its own name with the unit of something else: 1 x 0.3
    ("Power (A)", "", "amps", 0.5),  # by the unit alone
    ("Power kW", "", "supply", 0.475),  # a name inside a longer one that fits: 0.95 x 0.5
    ("Widget power", "heaters", "power_kw", 0.549),  # five of eleven letters: 0.85 x (0.35 + 0.65 x 5 / 11)
    ("Motor power", "heaters", "power_kw", 0.201),  # five of ten letters, 0.574, of a heading about other equipment: x 0.35
    ("Motor power", "", "other_power", 0.7),
]


@pytest.mark.parametrize(("text", "sheet_id", "key", "score"), FIGURES, ids=[f"{text}: {key}" for text, _, key, _ in FIGURES])
def test_what_a_heading_is_worth_as_a_name(text: str, sheet_id: str, key: str, score: float) -> None:
    found = [one.score for one in WORDS.heading_candidates(text) if (one.sheet_id, str(one.key)) == (sheet_id, key)]
    assert max(found) == pytest.approx(score, abs=1e-3)


def test_a_misspelt_name_has_six_letters_of_seven_right() -> None:
    """"Volatge" has six of seven letters in order, 2 x 6 / 14 = 85.7 %: not near enough; "Qauntity" with 87.5 % is."""
    assert not [one for one in WORDS.heading_candidates("Volatge") if one.key == "volts_v"]
    assert [one.key for one in WORDS.heading_candidates("Qauntity")] == ["quantity"]
