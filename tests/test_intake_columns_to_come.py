"""Lists with a column of words of what is there and one of what is to come: sized is what is to come, and never what was."""

from __future__ import annotations

from pathlib import Path

import pytest

import batch
from batch.intake import read
from batch.intake.headed_by_age import ages
from batch.map_beside import signed
from batch.records import Job
from tests.intake_book import DOUBTS, book, codes, said
from tests.test_lists import listed

TOP = [["Supply 400 V, 3-phase"], []]
PAIRS = [
    ("Existing", "New"), ("Present", "Proposed"), ("Current", "Planned"), ("As found", "Required"), ("Was", "Now"), ("Now", "Future"),
    ("Existing heaters", "Proposed heaters"), ("Existing", "To be supplied"), ("Bestand", "Neu"), ("Ist", "Soll"),
    ("Ist-Zustand", "Soll-Zustand"), ("Heizung alt", "Heizung neu"), ("Vorhandene Heizer", "Geplante Heizer"), ("avant", "après"),
    ("Existant", "Proposé"), ("Thermoplongeurs existants", "Thermoplongeurs nouveaux"), ("Actuales", "Nuevos"), ("Existente", "Propuesto"),
    ("Esistente", "Nuovo"), ("Stato di fatto", "Stato di progetto"), ("Oud", "Nieuw"), ("Bestaand", "Voorstel"),
    ("Istniejące", "Projektowane"), ("Existentes", "Novos"), ("Eksisterende", "Nye"), ("Nåværende", "Planlagt"),
    ("Befintliga", "Föreslagna"), ("Stávající", "Navrhované"), ("Mevcut", "Yeni"),
]  # fmt: skip
NEW = [["W1", "2 x 6 kW", "3 x 9 kW"], ["W2", "2 x 6 kW", "2 x 9 kW"], ["W3", "3 x 6 kW", "4 x 12 kW"]]
SIZED = [("W1", 3, 9), ("W2", 2, 9), ("W3", 4, 12)]


def banks(job: Job) -> list[tuple[str, int | None, float | None]]:
    return [(bank.tank, bank.quantity, bank.power_kw) for bank in job.banks]


@pytest.mark.parametrize("pair", PAIRS)
def test_what_is_to_come_is_sized(tmp_path: Path, pair: tuple[str, str]) -> None:
    """Whichever of the two stands first."""
    assert banks(listed(tmp_path, *TOP, ["Tank", *pair], *NEW)) == SIZED
    turned = [[tag, new, old] for tag, old, new in NEW]
    assert banks(listed(tmp_path, *TOP, ["Tank", *reversed(pair)], *turned)) == SIZED


@pytest.mark.parametrize("pair", PAIRS)
@pytest.mark.parametrize("cell", [None, "-", "none", "same", "idem", "n/a", "as existing", "no change", "wie Bestand"])
def test_what_is_there_is_never_sized(tmp_path: Path, pair: tuple[str, str], cell: str | None) -> None:
    job = listed(tmp_path, *TOP, ["Tank", *pair], *NEW, ["W9", "2 x 6 kW", cell])
    assert banks(job) == SIZED and any(one.code in DOUBTS and "Row 7 " in one.message for one in job.findings)


def test_beside_the_supply_and_other_columns(tmp_path: Path) -> None:
    head = ["Tank", "Process", "Existing heaters", "New heaters", "Volts", "Ph"]
    first, second = ["W1", "Soak", "2 x 6 kW", "3 x 9 kW", 400, 3], ["W2", "Zinc", "2 x 6 kW", None, 400, 3]
    rows = [first, second, ["W3", "Seal", None, "2 x 9 kW", 400, 3]]
    assert banks(listed(tmp_path, head, *rows)) == [("W1", 3, 9), ("W3", 2, 9)]


def test_the_same_as_what_is_there_is_not_as_the_row_above(tmp_path: Path) -> None:
    head = ["Tank", "Existing Qty", "Existing kW", "New Qty", "New kW each", "Volts", "Ph"]
    rows = [["W1", 2, 6, 3, 9, 400, 3], ["W2", 2, 6, "same", "same", 400, 3], ["W3", 3, 6, 4, 12, 400, 3]]
    job = listed(tmp_path, head, *rows)
    assert banks(job) == [("W1", 3, 9), ("W3", 4, 12)] and "row-figures-open" in codes(job)


@pytest.mark.parametrize("heading", ["Existing", "Present heaters", "Bestand", "Thermoplongeurs existants", "Actual", "Stávající"])
def test_what_is_there_alone_is_asked_about(tmp_path: Path, heading: str) -> None:
    rows = [[tag, old] for tag, old, _ in NEW]
    job = listed(tmp_path, *TOP, ["Tank", heading], *rows)
    assert not job.banks and "What is to be bought" in said(job, "list-question")[0].message


def test_the_map_reads_it_the_same(tmp_path: Path) -> None:
    path = tmp_path / "list.xlsx"
    path.write_bytes(book({"Sheet1": [*TOP, ["Tank", "Existing", "New"], *NEW]}))
    job = read(path)
    (tmp_path / "map.toml").write_text(signed(job.map_text), encoding="utf-8")
    assert banks(job) == banks(read(path, column_map=batch.column_map(tmp_path / "map.toml"))) == SIZED


@pytest.mark.parametrize(
    ("headings", "told"),
    [
        (["Tank", "Volts"], {}), (["Was", "Now"], {"Was": "before", "Now": "after"}),
        (["Now", "Proposed"], {"Now": "before", "Proposed": "after"}),
        (["Existing tank", "New tank"], {}), (["Heizung Ist-Zustand", "Soll"], {"Heizung Ist-Zustand": "before", "Soll": "after"}),
    ],
)  # fmt: skip
def test_headings_say_of_themselves_what_is_there(headings: list[str], told: dict[str, str]) -> None:
    assert ages(headings) == told


@pytest.mark.parametrize(
    "heading", ["Installed kW", "Installierte Leistung", "Puissance installée", "Potencia instalada", "Potenza installata"]
)
def test_the_connected_load_is_what_is_to_be_bought(tmp_path: Path, heading: str) -> None:
    """Unless another column is of what is to come."""
    assert banks(listed(tmp_path, *TOP, ["Tank", heading], *[[tag, new] for tag, _, new in NEW])) == SIZED
    assert ages([heading]) == {}
    assert ages(["Installed power", "New"]) == {"Installed power": "before", "New": "after"}


def test_heaters_that_are_installed_are_asked_about(tmp_path: Path) -> None:
    """They may be there already."""
    job = listed(tmp_path, *TOP, ["Tank", "Installed heaters"], *[[tag, old] for tag, old, _ in NEW])
    assert banks(job) == [] and "list-question" in codes(job)
