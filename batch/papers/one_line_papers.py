"""Group 10: the one-line diagram of each feeder."""

from __future__ import annotations

from collections.abc import Iterator

from batch.drawings.one_line import alt_text, plans
from batch.drawings.one_line_words import Fed, feds_of, status_words
from batch.papers.job_at_hand import AtHand, first_of
from batch.papers.paper_data import Paper
from batch.papers.paper_sets import ONE_LINE
from batch.schedules.hanging import hangs_on
from batch.schedules.row_words import HOLD, band_words


def one_line_papers(at: AtHand) -> Iterator[Paper]:
    for fed in feds_of(at.result, at.us):
        if fed.project is not at.project:
            continue
        drawings = plans(fed)
        yield at.paper(
            ONE_LINE, "drawing", f"Feeder {fed.row.feeder.feeder}: one-line diagram",
            band=_band(fed),
            tags=first_of(dict.fromkeys(one.bank.tank for one in fed.banks), 6),
            figures=tuple(at.figures.add(one, alt_text(fed, sheet, len(drawings))) for sheet, one in enumerate(drawings, start=1)),
        )  # fmt: skip


def _band(fed: Fed) -> str:
    if status_words(fed) != HOLD:
        return ""
    return band_words(hangs_on(fed.project, fed.row.feeder.feeder, fed.banks).words or "the feeder itself: see Findings")
