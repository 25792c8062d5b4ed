"""The form of one tank with labels in pairs beside their values, and phases in Roman figures. All invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.supply_notation import supply_in_text
from tests.intake_book import book, read_bytes
from tests.test_intake_plain_lists import heaters


def form(tank: str, count: object, each: object, total: object) -> list[list[object]]:
    return [
        ["TANK DATA SHEET"],
        [],
        ["Tank No.", tank, "Sheet", "1 of 8"],
        ["Service", "soak cleaner", "Project", "Line replacement"],
        ["1. TANK"],
        ["Inside L x W x D, in.", "96 x 36 x 48", "Material", "steel"],
        ["Working volume, gal", 650, "Operating temp, F", 150],
        ["2. HEATING"],
        ["Type of heating", "Electric immersion", "Sheath material", "316 SS"],
        ["Number of heaters", count, "kW per heater", each],
        ["Volts", 480, "Phase", 3],
        ["Total kW", total, "Hz", 60],
    ]


def test_each_sheet_is_the_form_of_one_tank(tmp_path: Path) -> None:
    job = read_bytes(tmp_path, book({"A": form("TK-1", 3, 12, 36), "B": form("TK-2", 2, 9, 18), "C": form("TK-3", 2, None, 18)}))
    assert heaters(job) == [("TK-1", 3, 12.0, 480.0, 3), ("TK-2", 2, 9.0, 480.0, 3), ("TK-3", 2, 9.0, 480.0, 3)]
    assert {one.cell for one in job.findings if one.code == "column-taken" and "Phase" in one.message} <= {"", None, "C11", "D11"}


@pytest.mark.parametrize("wrong", [form("TK-1", 2, 6, 18), form("TK-1", 2, "TBD", None), form("TK-1", None, 6, None)])
def test_a_form_that_contradicts_itself_or_leaves_open_is_asked_about(wrong: list, tmp_path: Path) -> None:
    job = read_bytes(tmp_path, book({"A": wrong, "B": form("TK-2", 2, 9, 18)}))
    assert heaters(job) == [("TK-2", 2, 9.0, 480.0, 3)] and job.unread


@pytest.mark.parametrize(
    ("text", "phases"), [("400 V III", 3), ("400V/III", 3),
     ("Chrome III", None), ("chrome III, 400 V mono", 1), ("chrome III, 400 V", None)]
)
def test_three_in_roman_figures_is_phases_behind_volts(text: str, phases: int | None) -> None:
    said = supply_in_text(text)
    assert (said.phases if said is not None else None) == phases and (said is None or not said.contradictions)
