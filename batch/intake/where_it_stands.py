"""Remarks that name other equipment only to say where a tank or a heater stands: "last tank before dryer", "behind anode baskets"."""

from __future__ import annotations

import re

from batch.intake.heading_sense import concepts_of
from batch.intake.wording import words

POWERED = re.compile(r"\d\s*k\s?W\b|\d{3,5}\s*W(?:atts?)?\b", re.IGNORECASE)
PLACED = re.compile(  # words that say where a tank stands: "last tank before dryer", "Wanne vor Trockner"
    r"\b(?:before|after|beside|behind|next to|near|opposite|ahead of|downstream of|upstream of|clear of|away from"
    r"|vor|nach|neben|hinter|avant|apr[eè]s|devant"
    r"|derri[eè]re|pr[eè]s d[eu]|antes del?|despu[eé]s del?|delante del?|detr[aá]s del?|junto al?|prima d[ei]l?|dopo|davanti a|dietro"
    r"|v[oó][oó]r|achter|naast|przed|obok|za|antes d[oae]|depois d[oae]|ao lado d[oae]|f[øo]r|efter|etter|ved siden av|f[öo]re|bredvid"
    r"|innan|p[rř]ed|vedle)\s+(?:the|d(?:er|em|en|as|ie)|l[aeo']|il|het|de|den|det)?\s*\Z",
    re.IGNORECASE,
)


def placed(text: str, word: str, *, of_heater: bool) -> bool:
    """Does a remark name other equipment only to say where its tank stands, or its heater? A tank stands before the word for it, or the
    row is that of a heater: "locate behind anode baskets"."""
    start = text.casefold().find(word.casefold())
    before = text[: max(start, 0)]
    whose = of_heater or any("tank" in concepts_of(one) for one in words(before))
    return PLACED.search(before) is not None and whose and POWERED.search(text) is None
