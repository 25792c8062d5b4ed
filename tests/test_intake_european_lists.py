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
