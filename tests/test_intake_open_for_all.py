"""Remarks and sentences that are nothing else than that heaters come with the tanks, are bought already, for later or of no current, that a
list is void, or that its figures are others: the rows are asked about. Before, they were sized with a caution."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.wanted_number import wanted
from tests.test_intake_asked_elsewhere import tanks
from tests.test_lists import HEAD, listed

ROWS = [["T-1", 2, 9, 480, 3], ["T-2", 3, 12, 480, 3], ["T-3", 1, 6, 480, 3]]
ALL = ["T-1", "T-2", "T-3"]
OF_A_ROW = (
    "provided w/ tank", "comes with tank", "Part of tank package", "vendor supplied", "owner to provide and install", "GC to furnish",
    "supplied/wired by others", "supplied, installed and wired by others", "factory mounted", "pre-wired by machine builder", "by EC",
    "customer has heaters", "on order", "purchased 3/12", "PO issued", "use stock heater", "gas", "no electric", "idle", "2nd phase",
    "FY27", "budget only", "opt.", "deduct", "swap with T-3", "steam", "im Behälter enthalten", "bereits bestellt",
    "fourni avec la cuve", "déjà commandé",
    "incluidas con la cuba", "ya pedidas", "già ordinate", "reeds besteld", "już zamówione", "já encomendadas", "allerede bestilt",
    "redan beställd", "již objednáno",
)  # fmt: skip
OF_ALL = (
    "All heaters are supplied with the tanks.", "Heaters have already been ordered.", "Heaters by the tank builder.",
    "Customer has the heaters in stock.", "We will buy the heaters ourselves.", "Quote panels only.", "All tanks are steam heated.",
    "This line is on hold.", "Line cancelled.", "Superseded by rev C.", "For reference only", "Do not use", "Qty is for both lines.",
    "Voltage is 460 not 480.", "480 V is line to neutral", "Rated at 500 V, used at 480 V.", "All volts to be confirmed.",
    "kW to be confirmed by process.", "Half of these are spares.", "One of each is a spare.", "Every second heater is standby.",
    "Each tank has one standby heater included above.", "kW figures are thermal demand.", "Heaters to be derated 10 %.",
    "Die Heizer werden mit den Behältern geliefert.", "Heizer sind bereits bestellt.", "Spannung noch zu klären.",
    "Les thermoplongeurs sont fournis avec les cuves.", "Tensions à confirmer.", "Las resistencias ya están pedidas.",
    "Le resistenze sono già ordinate.", "Verwarmers zijn al besteld.", "Grzałki są już zamówione.",
    "As resistências já foram encomendadas.",
)  # fmt: skip


@pytest.mark.parametrize("remark", OF_A_ROW)
def test_a_row_is_asked_about_by_such_a_remark_or_a_sentence_on_its_tank(tmp_path: Path, remark: str) -> None:
    assert tanks(listed(tmp_path, [*HEAD, "Remarks"], *([*row, remark if row[0] == "T-2" else None] for row in ROWS))) == ["T-1", "T-3"]
    assert "T-2" not in tanks(listed(tmp_path, HEAD, *ROWS, [None], [f"T-2: {remark}"]))


@pytest.mark.parametrize("sentence", OF_ALL)
def test_every_row_is_asked_about_by_such_a_sentence(tmp_path: Path, sentence: str) -> None:
    assert tanks(listed(tmp_path, HEAD, *ROWS, [None], [sentence])) == []
    assert tanks(listed(tmp_path, [sentence], [None], HEAD, *ROWS)) == []


@pytest.mark.parametrize(
    "said",
    ["new", "with thermostat", "supplied with 3 m leads", "hot water rinse", "like for like", "wired by others", "installed by others",
     "ambient to 140 F", "price incl. cable", "see drawing 12 for reference"],
)  # fmt: skip
def test_what_says_nothing_of_that_asks_nothing(tmp_path: Path, said: str) -> None:
    assert tanks(listed(tmp_path, [*HEAD, "Remarks"], *([*row, said if row[0] == "T-2" else None] for row in ROWS))) == ALL


@pytest.mark.parametrize(
    "said",
    ["Heaters supplied with thermostats.", "All heaters 480 V, 3 phase unless noted.", "Quote panels and heaters.", "Preliminary",
     "kW shown are per heater.", "Voltage is 480 V, 3 phase.", "For reference see drawing 12.", "Tanks are heated to 140 F."],
)  # fmt: skip
def test_sentences_that_leave_nothing_open_ask_nothing(tmp_path: Path, said: str) -> None:
    assert tanks(listed(tmp_path, HEAD, *ROWS, [None], [said])) == ALL


@pytest.mark.parametrize(
    "remark",
    ["make 4", "need 4", "order 4", "4 req'd", "only 2 used", "max 4", "3 to 4", "3-4", "was 12, now 15", "12/15 kW", "upsize 25%",
     "check kW", "double", "for both tanks", "(x2)", "nur 2", "4 benötigt", "seulement 2", "sólo 2", "solo 2", "war 12, jetzt 15"],
)  # fmt: skip
def test_a_remark_that_wants_another_number_or_power_is_asked_about(tmp_path: Path, remark: str) -> None:
    """T-2 has three of 12 kW."""
    assert tanks(listed(tmp_path, [*HEAD, "Remarks"], *([*row, remark if row[0] == "T-2" else None] for row in ROWS))) == ["T-1", "T-3"]


@pytest.mark.parametrize("remark", ["make 3", "3 req'd", "order 3", "only 3", "need 12", "was 6, now 12", "was 6 kW", "12 kW"])
def test_one_that_agrees_or_counts_no_heaters_asks_nothing(tmp_path: Path, remark: str) -> None:
    assert tanks(listed(tmp_path, [*HEAD, "Remarks"], *([*row, remark if row[0] == "T-2" else None] for row in ROWS))) == ALL


def test_more_than_a_tank_has_is_no_number_of_heaters() -> None:
    assert wanted("max 4") == [4] and wanted("3 to 4") == [3, 4] and not wanted("max 60") and not wanted("40-60") and not wanted("need it")


def test_figures_of_another_column_are_no_number_that_is_wanted(tmp_path: Path) -> None:
    assert tanks(listed(tmp_path, [*HEAD, "pH"], *([*row, "3-4"] for row in ROWS))) == ALL
