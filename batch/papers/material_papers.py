"""Group 80: what to buy, without prices, and apart from it what is for something on hold."""

from __future__ import annotations

from collections.abc import Iterator

from batch.counted_words import counted
from batch.papers.job_at_hand import AtHand
from batch.papers.paper_data import Paper
from batch.papers.paper_sets import MATERIALS as GROUP
from batch.papers.shown import table_of
from batch.schedules.material_list import MATERIALS
from batch.schedules.row_words import BAND

COLUMNS = ("used_for", "role", "part", "words", "quantity", "unit")
ON_HOLD = (*COLUMNS, "hold")
WIDE = {"words": 50.0, "used_for": 12.0, "quantity": 8.0, "hold": 34.0}


def material_papers(at: AtHand) -> Iterator[Paper]:
    parts = [row for row in at.rows(MATERIALS) if row["unit"] != "h"]
    clear, held = ([row for row in parts if bool(row["hold"]) is on_hold] for on_hold in (False, True))
    note = "Wire and raceway one way as drawn, without waste; a blank quantity: a length that was not given."
    if clear:
        yield at.paper(GROUP, "materials", "Materials", tables=(table_of(MATERIALS, COLUMNS, clear, at.us, note=note, wide=WIDE),))
    if held:
        yield at.paper(
            GROUP, "materials", "Materials on hold: not to be bought",
            band=f"{BAND}: {counted(len(held), 'line')}; why stands on the first for each reason",
            tables=(table_of(MATERIALS, ON_HOLD, held, at.us, wide=WIDE),),
        )  # fmt: skip
