"""Lists as they come from Europe and overseas, read without a map: places beside tags, spare parts, changes. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake_book import read_sheets
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
    assert heaters(job) == [("T-1", 3, 9, 400, 3)] and "row-in-doubt" in codes(job)


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
    assert [bank.tank for bank in job.banks] == ["T-1", "T-2"] and "row-in-doubt" in codes(job)


def test_a_log_names_a_bath_by_its_number_and_a_change_by_its_two_figures(tmp_path: Path) -> None:
    rows = [[31, 3, 9, 400, 3], [32, 2, 9, 400, 3]]  # 31 stands under Pos there, and is no bath
    log = [["Pos", "Bath", "Change"], [31, 32, "2 to 3 as agreed"]]
    job = read_sheets(tmp_path, {"List": [["Bath", *HEAD[1:]], *rows], "Changes": log})
    assert [bank.tank for bank in job.banks] == ["31"] and "row-in-doubt" in codes(job)
