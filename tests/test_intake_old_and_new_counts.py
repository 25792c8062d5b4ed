"""Lists that count what is there and what is new, or what is to be renewed: sized is what is to come; what was, and is not said again, is
asked about."""

from __future__ import annotations

from pathlib import Path

import pytest

from batch.intake.counts import read_count
from tests.intake_book import book, codes, read_bytes, said

SUPPLY = [["Supply 400 V, 3-phase"], []]
OLD_AND_NEW = [
    ("Existing qty", "Existing kW", "New qty", "New kW each"), ("Istniejące szt.", "Istniejące kW", "Nowe szt.", "Nowe kW (1 szt.)"),
    ("Stück alt", "kW alt", "Stück neu", "kW neu je Stück"), ("Qté existante", "kW existants", "Qté nouvelle", "kW unitaire nouveau"),
    ("Cant. existente", "kW existentes", "Cant. nueva", "kW por unidad nuevos"),
    ("Bestaand st.", "Bestaand kW", "Nieuw st.", "Nieuw kW per stuk"), ("Old qty", "Old kW", "New qty", "New kW each"),
]  # fmt: skip


def banks(folder: Path, heads: tuple[str, ...], *rows: list) -> list[tuple]:
    job = read_bytes(folder, book({"Sheet1": [*SUPPLY, ["Tank", *heads], *rows]}))
    return [(bank.tank, bank.quantity, bank.power_kw) for bank in job.banks]


@pytest.mark.parametrize("heads", OLD_AND_NEW)
def test_of_what_is_there_and_what_is_new_the_new_is_sized(tmp_path: Path, heads: tuple[str, ...]) -> None:
    rows = [["W1", 3, 9, 3, 12], ["W5", 2, 6, 4, 6], ["W8", 1, 1.5, 1, 2], ["W14", None, None, 2, 6]]
    assert banks(tmp_path, heads, *rows) == [("W1", 3, 12.0), ("W5", 4, 6.0), ("W8", 1, 2.0), ("W14", 2, 6.0)]


@pytest.mark.parametrize(
    ("heads", "asked"), [(OLD_AND_NEW[0], False), (OLD_AND_NEW[1], False), (OLD_AND_NEW[2], True), (OLD_AND_NEW[6], True)]
)
def test_a_blank_beside_what_was_is_asked_about(tmp_path: Path, heads: tuple[str, ...], asked: bool) -> None:
    """What is there already stays without a word; the old number of a revised list may stand still, or be gone."""
    rows = [["W1", 3, 9, 3, 12], ["W2", 2, 9, None, None], ["W5", 2, 6, 4, 6]]
    job = read_bytes(tmp_path, book({"Sheet1": [*SUPPLY, ["Tank", *heads], *rows]}))
    assert [bank.tank for bank in job.banks] == ["W1", "W5"]
    assert ("row-figures-open" in codes(job)) is asked
    if asked:
        assert f'2 under "{heads[0]}" and nothing under "{heads[2]}"' in said(job, "row-figures-open")[0].message


@pytest.mark.parametrize(
    ("remark", "sized"),
    [
        ("old ones to be removed", True), ("existing to be demolished", True), ("stare do demontażu", True),
        ("alte werden demontiert", True), ("old tank removed", False), ("to be removed", False),
        ("new ones cancelled, old ones stay", False),
    ],
)  # fmt: skip
def test_what_happens_to_the_old_ones_takes_no_new_one_out(tmp_path: Path, remark: str, sized: bool) -> None:
    heads = (*OLD_AND_NEW[0], "Remarks")
    found = banks(tmp_path, heads, ["W1", 3, 9, 3, 12, None], ["W5", 2, 6, 4, 6, remark], ["W6", 2, 6, 4, 6, None])
    assert (("W5", 4, 6.0) in found) is sized and len(found) == 2 + sized


@pytest.mark.parametrize(
    "heading", ["To be renewed", "Te vernieuwen", "Zu erneuern", "À renouveler", "Da rinnovare", "Att byta", "A trocar"]
)
def test_what_is_to_be_renewed_is_counted(tmp_path: Path, heading: str) -> None:
    rows = [["10", 3, 9, 2], ["11", 2, 9, 0], ["14", 4, 6, "all 4"], ["15", 4, 6, 1]]
    assert banks(tmp_path, ("Existing", "kW each", heading), *rows) == [("10", 2, 9.0), ("14", 4, 6.0), ("15", 1, 6.0)]


@pytest.mark.parametrize("text", ["all 4", "alle 4", "all of the 4", "tous les 4", "todas las 4", "wszystkie 4"])
def test_all_four_are_four(text: str) -> None:
    count = read_count(text)
    assert count is not None and (count.value, count.doubt) == (4, "")


def test_a_position_that_another_is_like(tmp_path: Path) -> None:
    """Among equipment that is no heater a row must say that it is one; "as item 01.050" says it."""
    heads = ["Pos.", "Tank", "Description", "Qty", "kW each", "Supply"]
    rows = [
        ["01.010", "W10", "Immersion heater, degrease", 4, 9, "3 x 400 V"],
        ["01.050", "W20", "Immersion heater, nickel", 6, 6, "3 x 400 V"],
        ["01.060", "W21", "as item 01.050", 6, 6, "3 x 400 V"], ["01.090", None, "Temperature controller", 8, None, None],
        ["01.100", "P-1", "Circulation pump", 1, 2.2, "3 x 400 V"],
    ]  # fmt: skip
    job = read_bytes(tmp_path, book({"Sheet1": [heads, *rows]}))
    assert [(bank.tank, bank.quantity, bank.power_kw) for bank in job.banks] == [("W10", 4, 9.0), ("W20", 6, 6.0), ("W21", 6, 6.0)]
