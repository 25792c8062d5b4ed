"""Phases that nobody has settled, notes that say a figure is preliminary, and how many are to be replaced."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.list_words import meanings
from batch.intake.supply_notation import read_supply, supply_in_text
from tests.test_intake_asked_elsewhere import tanks
from tests.test_lists import HEAD, listed

EITHER = [
    "1 or 3 phase", "1 oder 3 Phasen", "confirmar si 1 o 3 fases", "single or three phase", "monophasé ou triphasé", "3 ph or 1 ph",
    "1/3 phase",
]  # fmt: skip


@pytest.mark.parametrize("text", EITHER)
def test_one_of_two_phases_is_neither(text: str) -> None:
    """Read as three-phase, a heater for one phase would be drawn, fused and wired for the wrong current."""
    for said in (supply_in_text(text), read_supply(text)):
        assert said is not None and said.phases is None and said.contradictions


@pytest.mark.parametrize(("text", "phases"), [("480/3 phase", 3), ("240 V single phase", 1), ("line 1 or 2, 3 phase", 3), ("480/1/60", 1)])
def test_phases_that_are_said_stay_said(text: str, phases: int) -> None:
    said = supply_in_text(text)
    assert said is not None and said.phases == phases


def test_a_row_with_either_phases_in_its_remark_is_asked_about(tmp_path: Path) -> None:
    job = listed(tmp_path, [*HEAD, "Notes"], ["T-1", 2, 9, 480, 3, None], ["T-2", 1, 3, 240, None, "check if 1 or 3 phase"])
    assert tanks(job) == ["T-1"]


@pytest.mark.parametrize(
    ("note", "sized"),
    [
        ("3. KW IS PRELIMINARY. OWNER TO CONFIRM BEFORE RELEASE.", False), ("3. VOLTS AND KW ARE TO BE CONFIRMED.", False),
        ("3. FURNISH ONE SPARE.", True), ("3. COLOUR OF THE BOX TO BE CONFIRMED.", True),
    ],
)  # fmt: skip
def test_a_numbered_note_that_figures_are_preliminary_is_about_its_rows(tmp_path: Path, note: str, sized: bool) -> None:
    rows = [["T-1", 2, 9, 480, 3, "1"], ["T-2", 2, 6, 480, 3, "1,3"], ["T-3", 1, 6, 480, 3, "1,2"]]
    job = listed(tmp_path, [*HEAD, "Notes"], *rows, [None], ["NOTES:"], ["1. PROVIDE HIGH LIMIT."], ["2. PROVIDE GUARD."], [note])
    assert ("T-2" in tanks(job)) == sized and {"T-1", "T-3"} <= set(tanks(job))


@pytest.mark.parametrize(
    "heading", ["Qty to replace", "Anzahl zu ersetzen", "Nombre à remplacer", "Cantidad a reemplazar", "Aantal te vervangen"]
)
def test_how_many_are_to_be_replaced_is_how_many_are_sized(heading: str) -> None:
    assert meanings(heading)[0].key == "quantity"


@pytest.mark.parametrize("remark", ["already replaced 5/20, nothing to buy", "bereits ersetzt", "déjà remplacé", "ya reemplazada"])
def test_what_has_been_replaced_is_not_sized_again(tmp_path: Path, remark: str) -> None:
    head = ["Tank", "Qty to replace", *HEAD[2:], "Comment"]
    assert tanks(listed(tmp_path, head, ["T-1", 2, 9, 480, 3, None], ["T-2", 1, 6, 480, 3, remark])) == ["T-1"]
