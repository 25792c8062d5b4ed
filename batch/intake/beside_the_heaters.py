"""Remarks about something beside the heaters: controls, other equipment, accessories, what they take the place of."""

from __future__ import annotations

import re

from batch.intake.heading_sense import concepts_of
from batch.intake.list_words import heater_word, hits, other_equipment
from batch.intake.sentence_words import saying
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import words

OF_CONTROLS = re.compile(
    r"\b(?:control|steuer|commande|mando|ausiliari|stuur|steruj|styre|ovl[aá]d)\w*|\bmotors?\b|\blight(?:s|ing)?\b", re.IGNORECASE
)
STANDS_BY = re.compile(r"\s*(?:voltage|volts|[:=@]|are|is|at)?\s*(?:[:=]\s*)?\d{2,3}\s*(?:V|/)", re.IGNORECASE)


def supplies_a_part(text: str) -> bool:
    """Are the volts of a text those of a thermostat, a coil or another part beside the heaters: "contactor coils 120 V, 1 phase"? Where it
    names heaters too, only where they stand right behind the part: "heater contactors 120 V", and not "heaters with thermostat, 480 V"."""
    parts = [(hit.start, hit.end) for hit in hits("accessories", text)]
    parts += [match.span() for form in (OF_CONTROLS, saying("parts_supplied")) for match in form.finditer(text)]
    if not parts or not heater_word(text):
        return bool(parts)
    return any(STANDS_BY.match(text, end) for _, end in parts)


def of_another(text: str) -> bool:
    """Is a remark about something beside the heaters, or about those that they take the place of?"""
    beside = OF_CONTROLS.search(text) or other_equipment(text) or hits("accessories", text) or vocabulary()["instead"].find(text)
    return bool(beside) or any(concepts_of(word) & {"former", "size"} for word in words(text))
