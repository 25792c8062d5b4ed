"""Notes of our own form that leave open whether a row is to be built: the row is sized, and held on every sheet."""

from __future__ import annotations

from pathlib import Path

import pytest

import batch
from batch.findings import Effect
from tests.intake_book import book

HEAD = ["Tank", "Quantity", "Power (kW)", "Volts (V)", "Phases", "Notes"]


def job_of(folder: Path, *notes: str) -> Path:
    path = folder / "job.xlsx"
    path.write_bytes(book({"Heaters": [HEAD, *([f"T-{at}", 4, 6, 480, 3, note] for at, note in enumerate(notes, 1))]}))
    return path


@pytest.mark.parametrize(
    ("note", "held"),
    [
        ("HOLD until customer confirms", True),
        ("on hold", True),
        ("TBC by customer", True),
        ("existing, to remain", True),
        ("do not quote yet", True),
        ("zurückgestellt", True),
        ("was on hold, now released", False),
        ("Holds.", False),
        ("Two large heaters, subdivided by their maker.", False),
        ("wiring by others", False),
        ("replaces existing", False),
        ("titanium", False),
    ],
)
def test_a_note_holds_its_row_and_no_other(note: str, held: bool, tmp_path: Path) -> None:
    result = batch.size(job_of(tmp_path, note, "plain"))
    banks = [row for project in result.projects for row in project.banks]
    assert [row.bank.tank for row in banks] == ["T-1", "T-2"]
    assert [row.hold is not None for row in banks] == [held, False]
    if held:
        assert (banks[0].hold.code, banks[0].hold.cell) == ("note-on-hold", "F2")
        assert banks[0].hold.kind.effect is Effect.NOT_RELEASED
