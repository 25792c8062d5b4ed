"""What a text says of a change: what was before it, and what is now. "2 to 3", "was 6 kW, now 9 kW", "9 in place of 6 kW"."""

from __future__ import annotations

import re

# A figure before the one that takes its place, "2 to 3", "6 kW -> 9 kW", and what was up to what is now
FORMER_FIGURE = re.compile(
    r"(?<![\w.,-])(?P<former>\d+(?:[.,]\d+)?)(?:\s*(?:k?W|V|x|st|pcs|stk)\b\.?)?\s*(?:[-–=]?>|→|\b(?:to|naar|auf|à|a|na|para|til|till)\b)\s*(?=(?P<new>\d+(?:[.,]\d+)?))",
    re.IGNORECASE,
)
FORMER_CLAUSE = re.compile(  # "was 6 kW", and not "I was told that T-113 should have 12 kW"
    r"\b(?:was|were|formerly|war(?:en)?|bisher|vorher|[ée]tait|avant|era|eran|antes|prima|voorheen|by[łl][oay]?|wcze[śs]niej|var|tidligere|tidigare"
    r"|d[rř][ií]ve)\b(?=\s*:?\s*(?:[^\W\d]+\s+){0,2}\d)[^;]*?(?:\Z|;|,(?!\d)|\b(?=(?:now|becomes?|jetzt|neu|wird|devient|maintenant|ahora|pasa|ora|diventa|wordt|nu|teraz|jest|agora"
    r"|passa|n[åu]|blir|bliver|nyn[ií]|nov[eě])\b))",
    re.IGNORECASE,
)
_POWER = r"\d+(?:[.,]\d+)?"
INSTEAD = re.compile(  # the figure behind is the former one
    rf"(?P<now>(?<![\w.,-]){_POWER})(?P<unit>\s*(?:k?W|V|x)?)\s*(?:\b(?:(?:an)?statt|instead of|in place of|rather than|au lieu de"
    r"|en lugar de|en vez de|invece di|anzich[ée]|in plaats van|zamiast|em vez de|i stedet for|ist[äa]llet f[öo]r|m[íi]sto))\s+"
    rf"{_POWER}(?P<more>\s*(?:k?W|V)?)",
    re.IGNORECASE,
)


def in_place_of(text: str) -> str:
    """The text without a power that another one takes the place of: "9 statt 6 kW je Stück" is 9 kW je Stück."""
    return INSTEAD.sub(lambda match: f"{match['now']}{match['unit'].rstrip() or match['more']}", text)


def now_said(text: str) -> str:
    """The text without the figures that were before a change."""
    return FORMER_FIGURE.sub("", FORMER_CLAUSE.sub("", in_place_of(text)))
