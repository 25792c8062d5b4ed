"""What a row's remark says that its power is of, where the heading and the number say otherwise: "total power" below "kW each"."""

from __future__ import annotations

import re

from batch.intake.heading_sense import EACH
from batch.intake.list_words import basis_of, heater_word, hits, words_of_all
from batch.intake.sentence_words import saying
from batch.intake.verdict import close

LONGEST = 8  # words of a remark that says no more than this: judgement, no source
OF_A_POWER = re.compile(
    r"\bkW\b|\bpower\b|\bratings?\b|\bmoc\b"
    r"|\b(?:watt|leistung|puissance|potencia|potenza|pot[êe]ncia|vermogen|effekt|v[ýy]kon|p[řr][íi]kon)\w*",
    re.IGNORECASE,
)
BOTH = re.compile(r"\b(?:both|beiden?|les deux|amb[oa]s|entramb[ie]|oba|obie|begge|b[åa]da|ob[ěe]ma)\b", re.IGNORECASE)


KILOWATTS = re.compile(r"(\d+(?:[.,]\d+)?)\s*k\s?W\b", re.IGNORECASE)


def speaks_against(text: str, count: float | None, heading: str, power: float) -> bool:
    """Does a remark say that the power is that of all, of several heaters below a heading that says each; or of both, of one? Figures in it
    are of something else, but for the power of the row itself: "9 kW in total" beside three of 9 kW each."""
    words = text.split()
    told = KILOWATTS.search(text)
    same = told is not None and (count or 1) > 1 and close(float(told[1].replace(",", ".")), power)
    if len(words) > LONGEST or (any(map(str.isdigit, text)) and not same) or OF_A_POWER.search(text.replace("kW", " kW ")) is None:
        return False
    if count == 1:
        return BOTH.search(text) is not None and bool(heater_word(text))
    every = words_of_all(text) or saying("whole_tank").search(text)
    return bool(every) and not hits("per_heater", text) and basis_of(heading) == EACH
