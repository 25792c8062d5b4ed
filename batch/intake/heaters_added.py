"""Sentences that add heaters to a tank of the list, "Add one 12 kW heater to T-2": how many that tank has is asked, whatever the rest of
the sentence agrees with."""

from __future__ import annotations

import re

from batch.intake.list_words import hits, other_equipment
from batch.intake.remark_words import LEADING
from batch.intake.sentence_words import saying
from batch.intake.wording import tokens

MOST_BETWEEN = 6  # words between "add" and the heater, "one more 480 V 3 ph 12 kW": judgement, no source
SENTENCE = re.compile(r"[.;:]\s")


def adds_heaters(text: str) -> bool:
    """Is it heaters that it adds, and no more than a thermowell, a cable or a percentage for them?"""
    for added in saying("adds").finditer(text):
        if any(hit.end == len(text[: added.start()].rstrip()) for hit in hits("no", text[: added.start()])):
            continue  # "no extra heaters"
        for heater in hits("heaters", text[added.end() :]):
            between = text[added.end() : added.end() + heater.start]
            words = [one.word for one in tokens(between)]
            beside = hits("accessories", between) or hits("spare", between) or hits("materials", between) or other_equipment(between)
            led = any(word in LEADING for word in words) or SENTENCE.search(between)
            if len(words) <= MOST_BETWEEN and not beside and not led and "%" not in between:
                return True
    return False
