"""Columns that decide whether a row counts and do not say how: codes, options, who furnishes, changes of the number, yes and no."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.test_intake_asked_elsewhere import tanks
from tests.test_lists import HEAD, listed

ROWS = [["T-1", 2, 12, 480, 3], ["T-2", 3, 9, 480, 3], ["T-4", 1, 6, 480, 3], ["T-5", 2, 9, 480, 3]]


def under(folder: Path, heading: str, cells: list[object], *below: list[object]) -> list[str]:
    """The tanks that are sized of four with such a column."""
    return tanks(listed(folder, [*HEAD, heading], *([*row, cell] for row, cell in zip(ROWS, cells, strict=True)), *below))


@pytest.mark.parametrize(
    "heading", ["Action", "Status", "Maßnahme", "État", "Acción", "Azione", "Actie", "Akcja", "Ação", "Åtgärd", "Akce", "Durum"]
)
def test_codes_that_nothing_explains_are_asked_about(tmp_path: Path, heading: str) -> None:
    """R may be replace, remove or remain; N is new, or no change."""
    assert under(tmp_path, heading, ["R", "N", "K", "N"]) == ["T-2", "T-5"]


def test_codes_of_a_legend_are_not_but_the_one_that_it_lacks(tmp_path: Path) -> None:
    legend = [[None], ["A = in service, to be sized; B = to be replaced"]]
    assert under(tmp_path, "Status", ["A", "B", "C", "A"], *legend) == ["T-1", "T-2", "T-5"]


def test_one_code_in_all_rows_and_yes_and_no_say_nothing_of_this(tmp_path: Path) -> None:
    assert under(tmp_path, "Status", ["K", "K", "K", "K"]) == ["T-1", "T-2", "T-4", "T-5"]
    assert under(tmp_path, "Condition", ["G", "F", "P", "G"]) == ["T-1", "T-2", "T-4", "T-5"]


@pytest.mark.parametrize("heading", ["Option", "Alt", "Alternate", "Variante", "Opción", "Opzione", "Optie", "Wariant", "Alternativ"])
def test_the_letter_of_an_option_is_asked_about(tmp_path: Path, heading: str) -> None:
    assert under(tmp_path, heading, [None, "A", "B", "base"]) == ["T-1", "T-5"]


@pytest.mark.parametrize("said", ["lid", "316 sheath", "riser kit"])
def test_what_is_added_to_a_heater_is_no_choice(tmp_path: Path, said: str) -> None:
    assert under(tmp_path, "Options", [said, "none", None, said]) == ["T-1", "T-2", "T-4", "T-5"]


@pytest.mark.parametrize("legend", ["A: furnish, B: by owner", "(A) furnish; (B) by owner", "(A) base bid; (B) by owner"])
def test_a_legend_in_one_line_by_colons_takes_out_what_it_says(tmp_path: Path, legend: str) -> None:
    """And not the rows of its first code, of which it says no such thing."""
    assert under(tmp_path, "Action", ["A", "A", "B", "A"], [None], [legend]) == ["T-1", "T-2", "T-5"]


@pytest.mark.parametrize(
    ("heading", "buyer"),
    [("Furnished by", "Owner"), ("Supplied by", "others"), ("Geliefert durch", "Kunde"), ("Fourni par", "client"),
     ("Suministrado por", "cliente"), ("Fornito da", "committente"), ("Geleverd door", "klant"), ("Dostarcza", "inwestor")],
)  # fmt: skip
def test_who_furnishes_is_heard_though_most_heaters_are_the_buyers(tmp_path: Path, heading: str, buyer: str) -> None:
    assert not set(under(tmp_path, heading, [buyer, buyer, buyer, "vendor"])) & {"T-1", "T-2", "T-4"}


@pytest.mark.parametrize(
    "legend",
    [[["C = contractor"], ["O = owner"]], [[None, "C", "new heater, furnish it"], [None, "O", "by the owner, skip"]],
     [[None, "C", "new heater, furnish"], [None, "D", "replace it, same rating"], [None, "O", "Demolish"]]],
)  # fmt: skip
def test_legends_with_a_line_for_each_code_are_heard(tmp_path: Path, legend: list[list[object]]) -> None:
    assert under(tmp_path, "Furn.", ["C", "O", "C", "C"], [None], *legend) == ["T-1", "T-4", "T-5"]


@pytest.mark.parametrize(
    ("heading", "yes", "no"),
    [("Quote? (Y/N)", "Y", "N"), ("Substituir (S/N)", "S", "N"), ("Bestellen J/N", "J", "N"), ("Incl/Excl", "Incl", "Excl"),
     ("In/Out", "in", "out"),
     ("Nacenit A/N", "ano", "ne"), ("Furnish", "Y", "N"),
     ("Released", "yes", "no"), ("Leveren", "ja", "nee")],
)  # fmt: skip
def test_a_heading_may_offer_its_answers(tmp_path: Path, heading: str, yes: str, no: str) -> None:
    assert under(tmp_path, heading, [yes, no, yes, yes]) == ["T-1", "T-4", "T-5"]


def test_neither_yes_nor_no_is_asked_and_does_not_silence_the_others(tmp_path: Path) -> None:
    assert under(tmp_path, "Quote?", ["Y", "ask Bob", "N", "Y"]) == ["T-1", "T-5"]


def test_yes_beside_a_remark_that_takes_the_row_out_is_asked_about(tmp_path: Path) -> None:
    rows = [[*row, "No" if row[0] == "T-4" else "Yes", "deleted by addendum 2" if row[0] == "T-2" else None] for row in ROWS]
    job = listed(tmp_path, [*HEAD, "In scope", "Remarks"], *rows)
    assert tanks(job) == ["T-1", "T-5"] and [one.tank for one in job.unread] == ["T-2", "T-4"]


def test_a_change_of_the_number_is_asked_about_unless_the_number_is_its_outcome(tmp_path: Path) -> None:
    assert under(tmp_path, "Qty change", [None, -1, 0, 1]) == ["T-1", "T-4"]
    head = ["Tank", "Old qty", "Change", "New qty", "kW each", "Volts", "Ph"]
    rows = [["T-1", 1, 1, 2, 12, 480, 3], ["T-2", 2, 1, 2, 9, 480, 3], ["T-4", 1, 0, 1, 6, 480, 3]]
    assert tanks(listed(tmp_path, head, *rows)) == ["T-1", "T-4"]


@pytest.mark.parametrize(
    "remark",
    ["vasca da dismettere", "vasca rimossa", "bak vervalt", "wanna zlikwidowana", "tanque fuera de servicio", "las pone el cliente",
     "owner buys",
     "Kunde stellt", "not part of this job", "nicht Teil des Projekts", "hors contrat"],
)  # fmt: skip
def test_a_tank_that_goes_takes_its_heaters_and_so_does_who_brings_them(tmp_path: Path, remark: str) -> None:
    assert under(tmp_path, "Remarks", [None, remark, None, None]) == ["T-1", "T-4", "T-5"]
