"""Notes about all rows but some: the others are as they say, and the named are not; where that is not certain all are asked about."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake_book import codes
from tests.test_intake_asked_elsewhere import tanks
from tests.test_lists import HEAD, listed

ROWS = [["T-1", 4, 6, 400, 3], ["T-2", 3, 6, 400, 3], ["T-5", 2, 6, 400, 3], ["T-6", 2, 6, 400, 3]]


@pytest.mark.parametrize(
    ("note", "sized"),
    [
        ("All tanks 9 kW, except T-6", ["T-6"]), ("All heaters 9 kW except T-6", ["T-6"]),
        ("All 9 kW each, except T-5 and T-6", ["T-5", "T-6"]),
        ("All tanks 9 kW but T-6", ["T-6"]), ("T-6 excepted: all tanks 9 kW", ["T-6"]), ("All tanks except T-6: 9 kW", ["T-6"]),
        ("Alle Bäder 9 kW, außer T-6", ["T-6"]), ("Toutes les cuves 9 kW, sauf T-6", ["T-6"]), ("Todas 9 kW, excepto T-6", ["T-6"]),
        ("Tutte le vasche 9 kW tranne T-6", ["T-6"]), ("Alle baden 9 kW, behalve T-6", ["T-6"]), ("Wszystkie 9 kW oprócz T-6", ["T-6"]),
        ("Alla kar 9 kW utom T-6", ["T-6"]), ("Všechny 9 kW kromě T-6", ["T-6"]), ("All tanks 9 kW except T-6, which is 6 kW", ["T-6"]),
        ("All tanks 6 kW except T-6, which is 9 kW", ["T-1", "T-2", "T-5"]), ("All tanks 6 kW, except T-6 (9 kW)", ["T-1", "T-2", "T-5"]),
        ("T-1 to T-5 9 kW, not T-2", ["T-2", "T-6"]), ("All tanks get 3 heaters, except T-6", ["T-2", "T-6"]),
        ("All tanks 9 kW instead of 6 kW, except T-6", ["T-6"]), ("quote all except T-2", ["T-1", "T-5", "T-6"]),
        ("Tank no T-6: 9 kW", ["T-1", "T-2", "T-5"]),
    ],
)  # fmt: skip
def test_except_means_that_the_named_are_not_meant(tmp_path: Path, note: str, sized: list[str]) -> None:
    job = listed(tmp_path, HEAD, *ROWS, [], [note])
    assert tanks(job) == sized and {"row-figures-open", "row-in-doubt"} & codes(job) and "row-changed-by-note" not in codes(job)


def test_what_is_not_certain_is_asked(tmp_path: Path) -> None:
    """Of which the figure is; and what the one excepted has, whose row says the same as all others."""
    assert tanks(listed(tmp_path, HEAD, *ROWS, [], ["Except T-6 all tanks 9 kW"])) == []
    assert tanks(listed(tmp_path, HEAD, *ROWS, [], ["All tanks 6 kW except T-6"])) == ["T-1", "T-2", "T-5"]


@pytest.mark.parametrize("caption", ["Subtotal 400 V without T-6", "Totale kW linea 1 (riscaldatori, senza T-6)", "Total kW, except T-6"])
def test_the_caption_of_a_sum_is_about_no_row_that_it_counts(tmp_path: Path, caption: str) -> None:
    total = sum(row[1] * row[2] for row in ROWS[:-1])
    assert tanks(listed(tmp_path, HEAD, *ROWS, [caption, None, total]))[:3] == ["T-1", "T-2", "T-5"]
