"""The material of the heaters' sheath among the materials that a description names: not the metal that is plated, not that of the tank."""

from __future__ import annotations

import re

from batch.intake.heading_sense import concepts_of
from batch.intake.vocabulary import Hit, vocabulary
from batch.intake.wording import words

STAINLESS = re.compile(r"(?:stainless(?: steel)?|ss|inox|edelstahl|rvs|(?:acero|acier|acciaio|aço) ino\w*|stal nierdzewna)", re.IGNORECASE)
GRADE = re.compile(r"(?<!\d)(?:3(?:04|10|16|17|21|47)L?|1\.4\d{3})(?!\d)", re.IGNORECASE)  # of stainless steel: EN 10088, AISI; from memory
LONGEST_TAG = 2  # words between "tank" and the metal in it: "tank 14 nickel", "tank no. 14 nickel": judgement, no source
NEAREST = 2  # words between the sheath and its metal: "sheath in nickel", "nickel alloy sheath": judgement, no source
PLATED = re.compile(
    r"strike|plat(?:e|ing)\b|rinse|solution|sulfamate|sulphamate|sulfate|sulphate|chloride"
    r"|pickl|etch|passivat|activat|anodi[sz]|desmut|strip|brighten|polish"
)


def sheaths_in(text: str, rest: str) -> tuple[list[Hit], list[Hit]]:
    """The materials of a text that may be the sheath's, the longest words only, and every place where one of them stands.

    rest  the text with what was read of it already blanked out, places kept
    """
    found = [hit for hit in vocabulary()["materials"].find(rest) if not _of_the_bath(text, hit) and not _plated(text, hit)]
    seen = {text[hit.start : hit.end].strip().casefold() for hit in found}
    longest = [hit for hit in found if not any(_said(text, hit) != other and _said(text, hit) in other for other in seen)]
    if any(GRADE.search(_said(text, hit)) for hit in longest):  # "stainless 316L": the grade says what the general word says
        longest = [hit for hit in longest if GRADE.search(_said(text, hit)) or not STAINLESS.fullmatch(_said(text, hit))]
    return longest, found


def _said(text: str, hit: Hit) -> str:
    return text[hit.start : hit.end].strip().casefold()


def _plated(text: str, hit: Hit) -> bool:
    """ "bright nickel": a metal that is plated is that of the bath, unless the sheath is named beside it: "nickel sheath"."""
    if not vocabulary()["plated_metals"].whole(_said(text, hit)):
        return False
    around = (*words(text[: hit.start])[-NEAREST:], *words(text[hit.end :])[:NEAREST])
    return not any(vocabulary()["sheathed"].whole(word) for word in around)


def _of_the_bath(text: str, hit: Hit) -> bool:
    """ "tank 14 nickel", "nickel bath", "copper strike": a metal that is plated there, or what the tank is made of."""
    before = words(re.split(r"[;,(]", text[: hit.start])[-1])[-1 - LONGEST_TAG :]
    after = words(re.split(r"[;,)]", text[hit.end :])[0])[:1]
    return any("tank" in concepts_of(word) for word in (*before, *after)) or any(PLATED.match(word) for word in after)
