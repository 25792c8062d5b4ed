"""Columns of a list that others went past: feeders' names with volts in them, connections in thirteen languages, rivals, counts aside."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from batch.intake.cell_profiles import names_a_supply
from batch.intake.cells import connection_said
from batch.intake.vocabulary import LANGUAGES
from tests.intake_book import codes
from tests.test_lists import HEAD, listed

ROWS = [["T-1", 3, 6, 480, 3], ["T-2", 3, 6, 480, 3], ["T-3", 3, 6, 480, 3]]


def with_last(heading: str, cells: Sequence[object]) -> list[list[object]]:
    return [[*HEAD, heading], *([*row, cell] for row, cell in zip(ROWS, cells, strict=True))]


@pytest.mark.parametrize("heading", ["FED FROM", "Feeder", "Einspeisung", "Panel"])
@pytest.mark.parametrize(
    "cells",
    [
        ("480V MCC-1", "480V MCC-1", "480V MCC-2"), ("MCC-1 480 V", "MCC-1 480 V", "MCC-2 480 V"), ("MCC-1", "MCC-1 480 V", "480 V"),
        ("PNL H1 480/277", "PNL H1 480/277", "PNL H2 480/277"), ("LP-A 480Y/277V 3PH 4W", "UV3", "400V UV2"),
    ],
)  # fmt: skip
def test_a_feeder_may_have_its_volts_in_its_name(tmp_path: Path, heading: str, cells: Sequence[str]) -> None:
    """Read as words that describe heaters, two feeders were added on one that was assumed."""
    job = listed(tmp_path, *with_last(heading, cells))
    assert [one.feeder for one in job.banks] == list(cells)


@pytest.mark.parametrize(
    "text",
    ["480 V", "208Y/120", "480/277", "3/N/PE ~ 400/230 V 50 Hz", "480Y/277V 3PH 4W", "400 V trifase", "480-1", "400V TP&N 50Hz"],
)
def test_a_supply_alone_names_no_feeder(text: str) -> None:
    assert not names_a_supply(text) and names_a_supply(f"{text} MCC-1")


def test_words_taken_for_a_description_by_likelihood_are_a_caution(tmp_path: Path) -> None:
    job = listed(tmp_path, *with_last("Beschriftung", ["6 kW 480 V", "6 kW 480 V", "6 kW 480 V"]))
    assert [one.cell for one in job.findings if one.code == "column-taken"] == ["F1"]


CONNECTIONS = {
    "en": ("Connection", "wye", "delta", "parallel"), "de": ("Schaltung", "Stern", "Dreieck", "Parallelschaltung"),
    "fr": ("Couplage", "étoile", "en triangle", "parallèle"), "es": ("Conexión", "estrella", "triángulo", "en paralelo"),
    "it": ("Collegamento", "stella", "triangolo", "in parallelo"), "nl": ("Schakeling", "ster", "driehoek", "parallel geschakeld"),
    "pl": ("Połączenie", "gwiazda", "trójkąt", "równolegle"), "pt": ("Ligação", "estrela", "triângulo", "em paralelo"),
    "da": ("Kobling", "stjerne", "trekant", "parallelkoblet"), "no": ("Koblingsmåte", "stjerne", "trekant", "parallellkoblet"),
    "sv": ("Koppling", "stjärna", "triangel", "parallellkopplad"), "cs": ("Zapojení", "hvězda", "trojúhelník", "paralelně"),
    "tr": ("Bağlantı", "yıldız", "üçgen", "paralel bağlı"),
}  # fmt: skip


@pytest.mark.parametrize("language", LANGUAGES)
def test_connections_are_read_in_every_language(tmp_path: Path, language: str) -> None:
    heading, *cells = CONNECTIONS[language]
    rows = [[*HEAD, heading], *([f"T-{at}", 6, 2, 230, 1, cell] for at, cell in enumerate(cells))]
    assert [one.connection for one in listed(tmp_path, *rows).banks] == ["wye", "delta", "parallel"]


def test_a_word_that_only_holds_a_connection_is_none() -> None:
    assert connection_said("Stern") == "wye" and not connection_said("Stern-Dreieck") and not connection_said("csillag")


@pytest.mark.parametrize(
    ("heading", "cell", "told"),
    [("Schaltung", "csillag", True), ("Connection", '2" NPT', False), ("Conexión red", "Trif.", False)],
)
def test_a_connection_of_no_known_word_is_told_and_asked_to_be_confirmed(tmp_path: Path, heading: str, cell: str, told: bool) -> None:
    """What has figures is a pipe's thread, perhaps, and no word for star in another language."""
    job = listed(tmp_path, *with_last(heading, [cell] * 3))
    assert ("cell-taken-as-blank" in codes(job)) == told


def test_a_column_that_two_could_be_is_a_caution_though_it_may_be_blank(tmp_path: Path) -> None:
    rows = [[*HEAD, "Source", "Panel"], *([*row, f"XFMR-{at}", f"PP-{at}"] for at, row in enumerate(ROWS))]
    [said] = [one for one in listed(tmp_path, *rows).findings if one.code == "column-rivalled"]
    assert said.cell == "F1" and '"Panel" could be it as well' in said.message and 'Feeder = { column = "F" }' in said.message


@pytest.mark.parametrize(
    ("heading", "cells", "told"),
    [("Existing Qty", (2, 0, 4), True), ("Spare", (1, 0, "-"), True), ("Spare", (0, 0, 0), False), ("Spare", ("no", "yes", "no"), False)],
)
def test_counts_beside_the_one_that_counts_are_named_once(tmp_path: Path, heading: str, cells: Sequence[object], told: bool) -> None:
    job = listed(tmp_path, *with_last(heading, cells))
    said = [one for one in job.findings if one.code == "counts-not-read"]
    assert [one.cell for one in said] == (["F1"] if told else [])
    assert len(job.banks) == 3 - cells.count("yes")  # of a heater that is marked as a spare it is asked whether it is to be built
