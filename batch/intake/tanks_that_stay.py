"""Words that ask whether a tank stays: with it its heaters would go, so that "confirm tank is staying" is about the row."""

from __future__ import annotations

import re

_STAYING = (
    r"\b(?:tank|bath|line|vat)s?\b.*\b(?:stay\w*|remain\w*|goes|go|going|kept)\b",
    r"(?:becken|wanne|\bbad|anlage)\b.*\b(?:bleib\w*|entf[äa]ll\w*|wegf[äa]ll\w*)",
    r"\b(?:cuve|bain|bac)\b.*\b(?:reste\w*|gard[ée]\w*|conserv\w*|supprim\w*)",
    r"\b(?:cuba|tanque|ba[ñn]o)\b.*\b(?:queda\w*|permanec\w*|elimin\w*)",
    r"\bvasc(?:a|he)\b.*\b(?:rest[ai]\w*|riman\w*|elimin\w*)",
    r"\b(?:bad|tank|kuip)\b.*\b(?:blij\w*|vervalt)",
    r"\b(?:wann\w+|zbiornik\w*)\b.*\b(?:zosta\w+|usuni\w+)",
    r"\b(?:tanque|cuba|banho)\b.*\b(?:fica\w*|mant[ée]m\w*)",
    r"\b(?:kar\w*|bad\w*|tank\w*)\b.*\b(?:bliver|blir|kvar|utg[åa]r|udg[åa]r)\b",
    r"\b(?:van[ay]|n[áa]dr[žz]\w*)\b.*\b(?:z[ůu]st\w+|zru[šs]\w+)",
)
_SAID = re.compile("|".join(_STAYING), re.IGNORECASE)


def speaks_of_staying(text: str) -> bool:
    """Does a text speak of whether a tank stays or goes?"""
    return _SAID.search(text) is not None
