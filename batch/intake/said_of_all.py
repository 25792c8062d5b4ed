"""Sentences that name no row and by which no row of the list may be as it stands: its heaters come with the tanks, are bought already or
not electric, the list is void, its figures are others or not settled."""

from __future__ import annotations

from batch.intake.sentence_words import worded_so

LONGEST = 14  # words of such a sentence, which says nothing else: judgement, no source


def open_for_all(text: str) -> bool:
    """Is a sentence one of these, and no more than that?"""
    return len(text.split()) <= LONGEST and worded_so("open_for_all").fullmatch(text.strip(" .!*():-")) is not None
