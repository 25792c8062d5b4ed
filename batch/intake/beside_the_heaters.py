"""Remarks about something beside the heaters: controls, other equipment, accessories, what they take the place of."""

from __future__ import annotations

import re

from batch.intake.heading_sense import concepts_of
from batch.intake.list_words import hits, other_equipment
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import words

OF_CONTROLS = re.compile(
    r"\b(?:control|steuer|commande|mando|ausiliari|stuur|steruj|styre|ovl[aá]d)\w*|\bmotors?\b|\blight(?:s|ing)?\b", re.IGNORECASE
)


def of_another(text: str) -> bool:
    """Is a remark about something beside the heaters, or about those that they take the place of?"""
    beside = OF_CONTROLS.search(text) or other_equipment(text) or hits("accessories", text) or vocabulary()["instead"].find(text)
    return bool(beside) or any(concepts_of(word) & {"former", "size"} for word in words(text))
