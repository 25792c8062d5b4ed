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
SAME = 0.006  # of a power: figures are rounded
_POWER = r"\d+(?:[.,]\d+)?"
INSTEAD = re.compile(  # the figure behind is the former one
    rf"(?P<now>(?<![\w.,-]){_POWER})(?P<unit>\s*(?:k?W|V|x)?)\s*(?:\b(?:(?:an)?statt|instead of|in place of|rather than|au lieu de"
    r"|en lugar de|en vez de|invece di|anzich[ée]|in plaats van|zamiast|em vez de|i stedet for|ist[äa]llet f[öo]r|m[íi]sto))\s+"
    rf"{_POWER}(?P<more>\s*(?:k?W|V)?)",
    re.IGNORECASE,
)
_LESS = (
    r"reduced|lowered|decreased|down|reduziert|verringert|gesenkt|r[ée]duite?s?|reducid[oa]s?|ridott[oaie]|verlaagd|teruggebracht"
    r"|zmniejszon[oaey]|reduzid[oa]s?|reduceret|redusert|s[äa]nkt|minskat|sn[íi][žz]en[oaý]"
)
_MORE = (
    r"increased|raised|upgraded|up|erh[öo]ht|augment[ée]e?s?|aumentad[oa]s?|aumentat[oaie]|verhoogd|zwi[ęe]kszon[oaey]|[øo]get|[øo]kt|[öo]kat"
    r"|zv[ýy][šs]en[oaý]"
)
_OTHER = (
    r"changed|revised|ge[äa]ndert|modifi[ée]e?s?|pass[ée]e?s?|cambiad[oa]s?|modificad[oa]s?|modificat[oaie]|portat[oaie]|gewijzigd"
    r"|zmienion[oaey]|alterad[oa]s?|[æa]ndret|endret|[äa]ndrat|zm[ěe]n[ěe]n[oaý]"
)
_UNIT = r"(?P<unit>\s*(?:k?W|V)\b)?"
_CHANGED = rf"(?:(?P<less>{_LESS})|(?P<more>{_MORE})|(?:{_OTHER}))"
CHANGED_FROM = re.compile(  # "reduced from 6 kW each": the figure is the former one
    rf"\b{_CHANGED}\s+(?:from|von|de|d['’]|da|van|z|fra|fr[åa]n)\s*(?P<former>{_POWER}){_UNIT}(?!\s*[.,]?\d)", re.IGNORECASE
)
FORMER_BEFORE = re.compile(  # "von 6 kW reduziert"
    rf"\b(?:von|fr[åa]n|van|fra)\s+(?P<former>{_POWER}){_UNIT}\s+{_CHANGED}\b", re.IGNORECASE
)
TO_BECOME = re.compile(  # "go up to 15 kW", "want 9 kW": what somebody would rather have (trade words, common practice, no source)
    r"\b(?:go(?:ing)? (?:up|down) to|bump(?:ed)?(?: up)? to|increase to|raise to|upgrade to|upsize to|change to|make (?:it|this|them)"
    r"|wants?|needs?|prefer(?:s|red)?|rather have|erh[öo]hen auf|auf|lieber|besser|passer [àa]|mieux|subir a|mejor|cambiar a"
    r"|aumentare a|portare a|meglio|verhogen naar|liever|zwi[ęe]kszy[ćc] do|lepiej|aumentar para|melhor|[øo]ge til|[øo]ke til"
    r"|h[øo]j til|h[öo]ja till|hellre|zv[ýy][šs]it na)"
    rf"\s+(?:to\s+)?(?P<new>{_POWER})\s*k\s?W\b",
    re.IGNORECASE,
)


def in_place_of(text: str) -> str:
    """The text without a power that another one takes the place of: "9 statt 6 kW je Stück" is 9 kW je Stück, "reduced from 6 kW" none."""
    text = FORMER_BEFORE.sub("", CHANGED_FROM.sub("", text))
    return INSTEAD.sub(lambda match: f"{match['now']}{match['unit'].rstrip() or match['more']}", text)


def not_changed(text: str, power_kw: float) -> bool:
    """Does a text name a power that was before a change, and none that is now, and is the power given not what that change makes of it?
    "Reduced from 6 kW each" beside 6 kW, or beside 9."""
    found = CHANGED_FROM.search(text) or FORMER_BEFORE.search(text)
    unit = found["unit"].strip().casefold() if found is not None and found["unit"] else ""
    if found is None or unit not in ("w", "kw") or any(sign.isdigit() for sign in in_place_of(text)):
        return False
    former = float(found["former"].replace(",", ".")) * (0.001 if unit == "w" else 1.0)
    same = abs(power_kw - former) <= SAME * former
    return same or (bool(found["less"]) and power_kw > former) or (bool(found["more"]) and power_kw < former)


def to_become(text: str, power_kw: float, count: float | None) -> bool:
    """Does a text want another power than a row has for each heater or for all of them: "go up to 15 kW" beside 12?"""
    found = TO_BECOME.search(text)
    new = float(found["new"].replace(",", ".")) if found is not None else power_kw
    return all(abs(new - one) > SAME * one for one in (power_kw, power_kw * (count or 1)))


def now_said(text: str) -> str:
    """The text without the figures that were before a change."""
    return FORMER_FIGURE.sub("", FORMER_CLAUSE.sub("", in_place_of(text)))
