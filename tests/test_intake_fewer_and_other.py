"""Remarks that want fewer heaters than a row has, other ones, or some without saying which: asked."""

from __future__ import annotations

from pathlib import Path

import pytest

import batch
from batch.intake.changes_told import to_become
from batch.intake.fewer_wanted import asks_for_heaters, fewer_wanted
from tests.test_intake_asked_elsewhere import tanks
from tests.test_lists import HEAD, listed

WANTED = {
    "replace one only": 1, "need 1": 1, "one bad": 1, "1 heater burned out": 1, "both bad": 2, "need 2.": 2, "nur eine ersetzen": 1,
    "2 defekt": 2,
    "une grillée": 1, "cambiar dos": 2, "1 kapot": 1, "wymienić jedną": 1, "replace 1 thermostat": 0, "need 2 by Friday": 0, "bad": 0,
    "need 12 kW": 0, "replace 1/2 in fitting": 0, "needs one": 1, "ersetzen nur zwei": 2, "one dead, change all 3": 0,
    "1 bad, replace all 3": 0, "1 heater with thermostat bad": 0,
    "replace thermostat 1": 0,
}  # fmt: skip


@pytest.mark.parametrize("text", WANTED)
def test_a_remark_says_how_many_are_wanted_or_lost(text: str) -> None:
    """What it does not say in so many words stays for those who read the remark."""
    assert fewer_wanted(text) == WANTED[text]


@pytest.mark.parametrize(
    ("count", "remark", "sized"), [(3, "replace one only", False), (1, "one bad", True), (2, "replace 2", True), (2, "one bad", False)]
)
def test_fewer_than_the_row_has_is_asked_about(tmp_path: Path, count: int, remark: str, sized: bool) -> None:
    job = listed(tmp_path, [*HEAD, "Notes"], ["T-1", count, 6, 480, 3, remark], ["T-2", 2, 9, 480, 3, None])
    assert ("T-1" in tanks(job)) == sized


@pytest.mark.parametrize(
    ("text", "power", "count", "other"),
    [
        ("go up to 15 kW", 12, 2, True), ("want 9 kW here", 6, 1, True), ("need 12 kW", 12, 1, False), ("need 24 kW", 12, 2, False),
        ("lieber 9 kW", 6, 1, True), ("contactor good for 15 kW", 12, 1, False),
    ],
)  # fmt: skip
def test_a_power_that_somebody_would_rather_have_is_not_that_of_the_row(text: str, power: float, count: int, other: bool) -> None:
    assert to_become(text, power, count) == other


@pytest.mark.parametrize(
    ("remark", "sized"), [("go up to 15 kW", False), ("undersized", False), ("will be unheated", False), ("fits well", True)]
)
def test_a_remark_that_wants_another_power_is_asked_about(tmp_path: Path, remark: str, sized: bool) -> None:
    job = listed(tmp_path, [*HEAD, "Notes"], ["T-1", 1, 6, 480, 3, remark], ["T-2", 2, 9, 480, 3, None])
    assert ("T-1" in tanks(job)) == sized


@pytest.mark.parametrize("bath", ["Cleaner, want 15 kW", "Cleaner - go up to 15 kW", "Cleaner (prefer 15 kW)"])
def test_another_power_that_is_wanted_is_asked_about_in_the_name_of_a_bath_too(tmp_path: Path, bath: str) -> None:
    """Where no rule about the figures of remarks hears it."""
    head = ["Tank", "Bath", "Qty", "kW each", "Volts", "Ph"]
    assert tanks(listed(tmp_path, head, ["T-1", bath, 2, 12, 480, 3], ["T-2", "Acid", 1, 6, 480, 3])) == ["T-2"]


@pytest.mark.parametrize(
    ("sentence", "asks"), [("Tank A2 needs two of the same", True), ("Becken 2 das gleiche", True), ("Tank A2 rinse", False)]
)
def test_a_sentence_that_asks_for_heaters_without_saying_which_is_asked_about(tmp_path: Path, sentence: str, asks: bool) -> None:
    assert asks_for_heaters(sentence) == asks
    path = tmp_path / "request.csv"
    path.write_text(f"Tank A1 needs three 12 kW heaters 480V 3ph\n{sentence}\nTank A3 needs 1 x 4.5 kW 208V 1ph\n", encoding="utf-8")
    job = batch.check(path).job
    assert tanks(job) == ["A1", "A3"] and len(job.unread) == asks
