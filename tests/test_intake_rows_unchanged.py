"""Rows of which a remark, a state or a scope says that nothing changes: whether anything is to be bought for them is asked."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.rows_unchanged import says_unchanged
from batch.records import Job
from tests.intake_book import codes
from tests.test_intake_asked_elsewhere import tanks
from tests.test_lists import HEAD, listed

SAID = [
    "No change", "unchanged", "as is", "leave as is", "no changes to heaters", "heaters unchanged", "unverändert", "bleibt",
    "keine Änderung", "Heizer bleiben", "inchangé", "sans changement", "aucune modification",
    "sin cambios", "queda igual", "senza modifiche", "invariato",
    "ongewijzigd", "blijft zoals het is", "bez zmian", "pozostaje", "sem alteração", "uændret", "ingen endring", "oförändrad", "beze změny",
    "zůstává", "değişmeyecek", "inchangé / unchanged", "No change - tank relined",
]  # fmt: skip


def read_with(folder: Path, heading: str, text: str, other: str | None = "480 V panel") -> Job:
    rows = [["T-1", 2, 9, 400, 3, other], ["T-2", 2, 9, 400, 3, text], ["T-3", 2, 6, 400, 3, other]]
    return listed(folder, [*HEAD, heading], *rows)


@pytest.mark.parametrize("text", SAID)
def test_what_stays_as_it_is_is_asked_about(tmp_path: Path, text: str) -> None:
    job = read_with(tmp_path, "Remarks", text, None)
    assert tanks(job) == ["T-1", "T-3"] and "row-in-doubt" in codes(job)


@pytest.mark.parametrize("heading", ["Scope", "Status", "Action", "Umfang", "Bemerkung", "Azione", "Zakres"])
def test_wherever_a_column_says_it(tmp_path: Path, heading: str) -> None:
    job = read_with(tmp_path, heading, "No change", "New")
    assert tanks(job) == ["T-1", "T-3"] and "row-in-doubt" in codes(job)


@pytest.mark.parametrize(
    "text", ["no change to the tank", "tank relined, no change to heaters", "unchanged from rev A", "same wiring", "ok"]
)
def test_what_is_said_of_something_else_asks_nothing(text: str) -> None:
    assert not says_unchanged(text)


@pytest.mark.parametrize("heading", ["Revision", "Tank material", "Controls", "Änderungen"])
def test_a_list_that_is_issued_again_and_what_stands_beside_the_heaters(tmp_path: Path, heading: str) -> None:
    """What stays as the issue before had it is bought as that had it; unchanged controls are no word about heaters."""
    assert tanks(read_with(tmp_path, heading, "no change", None)) == ["T-1", "T-2", "T-3"]


def test_a_row_that_is_wanted_all_the_same_is_sized(tmp_path: Path) -> None:
    rows = [["T-1", 2, 9, 400, 3, "Yes", None], ["T-2", 2, 9, 400, 3, "Yes", "no changes"], ["T-3", 2, 6, 400, 3, "No", "no changes"]]
    assert tanks(listed(tmp_path, [*HEAD, "In scope", "Remarks"], *rows)) == ["T-1", "T-2"]
    rows = [["T-1", 2, 9, 400, 3, "Replace", None], ["T-2", 2, 9, 400, 3, "Replace", "no change"], ["T-3", 2, 6, 400, 3, "Replace", None]]
    assert tanks(listed(tmp_path, [*HEAD, "Action", "Remarks"], *rows)) == ["T-1", "T-2", "T-3"]


NEW_ONES = [
    (["Tank", "Existing qty", "Existing kW", "New qty", "New kW each", "Volts", "Ph", "Remarks"], [3, 6, 2, 9, 400, 3]),
    (["Tank", "Existing", "New", "Volts", "Ph", "Remarks"], ["3 x 6 kW", "2 x 9 kW", 400, 3]),
]
STAYING = ["existing remain", "existing to remain", "Bestand bleibt", "existentes se quedan", "bestaande blijven", "old ones stay"]


@pytest.mark.parametrize(("heads", "cells"), NEW_ONES)
@pytest.mark.parametrize("remark", STAYING)
def test_what_is_there_takes_out_none_of_the_new_ones(tmp_path: Path, heads: list[str], cells: list[object], remark: str) -> None:
    """Where columns say which is which."""
    rows = [["T-1", *cells, None], ["T-2", *cells, remark], ["T-3", *cells, None]]
    assert tanks(listed(tmp_path, heads, *rows)) == ["T-1", "T-2", "T-3"]


@pytest.mark.parametrize("remark", ["existing remain", "existing to remain", "Bestand bleibt"])
def test_a_row_of_new_ones_is_asked_about_where_others_stay(tmp_path: Path, remark: str) -> None:
    """By its heading, or by its state; of a row of which nothing says so they are the row's own."""
    rows = [["T-1", 2, 6, 400, 3, "New", None], ["T-2", 3, 6, 400, 3, "New", remark], ["T-3", 3, 6, 400, 3, "New", None]]
    job = listed(tmp_path, [*HEAD, "Status", "Remarks"], *rows)
    assert tanks(job) == ["T-1", "T-3"] and "row-in-doubt" in codes(job)
    rows = [["T-1", 2, 6, 400, 3, None], ["T-2", 3, 6, 400, 3, remark], ["T-3", 3, 6, 400, 3, None]]
    job = listed(tmp_path, ["Tank", "New heaters qty", "New kW each", "Volts", "Ph", "Remarks"], *rows)
    assert tanks(job) == ["T-1", "T-3"] and "row-in-doubt" in codes(job)
    assert "row-taken-out" in codes(listed(tmp_path, [*HEAD, "Remarks"], *rows))


@pytest.mark.parametrize("remark", ["old ones stay", "alte bleiben", "garder les anciens", "oude blijven", "stare zostają"])
def test_old_ones_that_stay_leave_a_row_open(tmp_path: Path, remark: str) -> None:
    job = read_with(tmp_path, "Remarks", remark, None)
    assert tanks(job) == ["T-1", "T-3"] and "row-in-doubt" in codes(job)


@pytest.mark.parametrize("banner", ["LINE 2 - no change", "LINE 2 (unchanged)", "Linie 2: unverändert", "LIGNE 2 - inchangée", "UNCHANGED"])
def test_a_banner_says_it_of_the_rows_below_it(tmp_path: Path, banner: str) -> None:
    rows = [["T-1", 4, 6, 400, 3], [banner], ["T-2", 3, 6, 400, 3], ["T-5", 2, 6, 400, 3], ["LINE 3"], ["T-9", 2, 6, 400, 3]]
    job = listed(tmp_path, HEAD, *rows)
    assert tanks(job) == ["T-1", "T-9"] and "row-in-doubt" in codes(job)


def test_a_title_or_a_tab_says_it_of_all_rows(tmp_path: Path) -> None:
    rows = [["T-1", 4, 6, 400, 3], ["T-2", 3, 6, 400, 3]]
    assert tanks(listed(tmp_path, ["Line 2 - heaters unchanged"], [], HEAD, *rows)) == []
    assert tanks(listed(tmp_path, ["Rev C: no change to panel schedule"], [], HEAD, *rows)) == ["T-1", "T-2"]
    other = [["T-11", 4, 6, 400, 3], ["T-12", 3, 6, 400, 3]]
    assert tanks(listed(tmp_path, HEAD, *rows, Unchanged=[HEAD, *other])) == ["T-1", "T-2"]


@pytest.mark.parametrize(
    "text", ["existing 2 x 6 kW, new 3 x 9 kW", "Bestand 2 x 6 kW, neu 3 x 9 kW", "existant 2 x 6 kW, nouveau 3 x 9 kW"]
)
def test_what_is_there_and_what_is_new_in_one_cell_is_asked_about(tmp_path: Path, text: str) -> None:
    rows = [["T-1", "3 x 9 kW"], ["T-2", text], ["T-3", "2 x 9 kW"]]
    job = listed(tmp_path, ["Supply 400 V, 3-phase"], [], ["Tank", "Heaters"], *rows)
    assert tanks(job) == ["T-1", "T-3"] and {"row-in-doubt", "row-figures-open"} & codes(job)


@pytest.mark.parametrize("heading", ["Action", "Scope", "Status", "Maßnahme", "Umfang"])
@pytest.mark.parametrize("text", ["N/C", "NC", "none", "Same", "nil"])
def test_nothing_under_what_is_done_is_asked_about(tmp_path: Path, heading: str, text: str) -> None:
    """Under "Remarks" a "none" is no word about the heaters."""
    job = read_with(tmp_path, heading, text, "New")
    assert tanks(job) == ["T-1", "T-3"] and "row-in-doubt" in codes(job)
    assert tanks(read_with(tmp_path, "Remarks", "none", None)) == ["T-1", "T-2", "T-3"]


@pytest.mark.parametrize("remark", ["reuse existing", "no change", "Bestand wiederverwenden", "use existing", "réutiliser l'existant"])
def test_new_ones_that_are_the_old_ones_are_asked_about(tmp_path: Path, remark: str) -> None:
    for heads, cells in NEW_ONES:
        job = listed(tmp_path, heads, ["T-1", *cells, None], ["T-2", *cells, remark], ["T-3", *cells, None])
        assert tanks(job) == ["T-1", "T-3"] and "row-in-doubt" in codes(job)


@pytest.mark.parametrize(
    ("heading", "text"),
    [
        ("Scope", "Wiring only"), ("Scope", "Control only"), ("Scope", "Install only"), ("Scope", "wiring & controls only"),
        ("Action", "Inspect only"), ("Action", "clean & refit"), ("Action", "Test"), ("Umfang", "nur Montage"), ("Umfang", "reinigen"),
        ("Étendue", "câblage seulement"), ("Étendue", "nettoyer et tester"), ("Alcance", "solo cableado"), ("Ambito", "solo montaggio"),
        ("Omvang", "alleen aansluiten"), ("Zakres", "tylko montaż"), ("Escopo", "somente instalação"), ("Omfang", "kun montage"),
        ("Omfattning", "endast inkoppling"), ("Rozsah", "pouze montáž"), ("Kapsam", "sadece montaj"),
    ],
)  # fmt: skip
def test_work_that_buys_no_heater_is_asked_about(tmp_path: Path, heading: str, text: str) -> None:
    assert tanks(read_with(tmp_path, heading, text, "New")) == ["T-1", "T-3"]


@pytest.mark.parametrize("text", ["Supply only", "Supply and install", "Test and supply", "New"])
def test_work_that_buys_heaters_is_sized(tmp_path: Path, text: str) -> None:
    assert tanks(read_with(tmp_path, "Scope", text, "New")) == ["T-1", "T-2", "T-3"]
