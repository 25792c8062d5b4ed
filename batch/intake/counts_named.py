"""Counts of heaters as texts name them: "3 x 6 kW", "(3)", "qty 3", "3 pcs", "a pair of 6 kW"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.numbers import speak
from batch.intake.powers_named import FIGURE, POWER_UNIT

PRODUCT = re.compile(
    rf"(?<![\w.,/])\(?(?P<count>\d{{1,3}})\)?\s*"
    rf"(?:(?:no\.?|nos\.?|nr\.?|off|ea\.?|pcs?\.?|units?|heaters?)?\s*[x×*@]|ea\.?|pcs?\.?|no[rs]?\.?|nr\.?|Stk\.?|szt\.?|uds?\.?|pzas?\.?|ks\.?|adet|units?(?:\s+of)?|of|at\b)"
    rf"\s*(?:@\s*)?(?={FIGURE})",
    re.IGNORECASE,
)
PAIRS = re.compile(
    r"(?:(?<!\w)(?P<count>\d{1,2}|[^\W\d_]{2,7})\s+)?(?<!\w)(?:pairs?|prs?\.|Paare?|paires?|pares|par\s+de|coppi[ae]|paar|pary)\s+(?:of\s+|de\s+|di\s+|van\s+|von\s+)?"
    rf"(?=(?:{FIGURE})\s*-?\s*(?:{POWER_UNIT})(?!\w))",
    re.IGNORECASE,
)
DASHED = re.compile(  # "3 - 6 kW"; with `pieces` behind it no span of powers: "3-6 kW ea.", "2 - 9 kW heaters"
    rf"(?<![\w.,/()-])(?P<count>\d{{1,2}})\s?[-–]\s?(?P<each>{FIGURE})\s*(?:k\s?W|W|watts?)(?!\w)"
    r"(?P<pieces>\s*(?:,\s*)?(?:ea\b|each\b|(?:\w+\s)?(?:heater|htr|element|immersion)s?\b))?",
    re.IGNORECASE,
)
GROUPS = re.compile(
    r"(?:banks?|rows?|groups?|sets?|stages?|steps?|circuits?|Gruppen?|Stufen?|groupes?|grupos?|gruppi|groepen|grupy)"
    r"\s+(?:of|à|zu|je|de|di|van|po)\s",
    re.IGNORECASE,
)
EITHER = re.compile(  # "1 or 2 x 6 kW"; the Dutch "of" only before a sign of times: "4 of 6 kW" is a count
    r"(?<![\w.,/])(?:\d{1,2}|one|two|three|four)\s+(?:(?:or|oder|ou|o|lub)\s+(?:\d{1,2}(?![\d.,])|two|three|four|five)|of\s+\d{1,2}\s*[x×*@])"
    r"(?!\w|\s*(?:k\s?W|W|V|A|kV)\b)",
    re.IGNORECASE,
)
BEHIND = re.compile(
    r"\s*(?:\(\s*[^\W\d_]+\.?\s*\)|ea\.?|each)?\s*[x×*]\s*(?P<count>\d{1,3})(?![\w.,]*\d)\s*(?:no|nos|off|pcs?|ea)?\b\.?", re.IGNORECASE
)
MORE = re.compile(r"\+\s*(?P<more>\d{1,2})\s")
PLUS = re.compile(r"(?<![\w.,/])(?P<run>\d{1,3})\s*\+\s*(?P<more>\d{1,2})(?![\w.,/]*\d)")
LABEL = re.compile(
    r"(?<!\w)(?:qty|quantity|quant|anz(?:ahl)?|cant(?:idad)?|qté|nbre|nb|qtde?|aantal|ilość|liczba|antall?|počet|q\.tà|st[üu]ckzahl|quantit[éà]"
    r"|(?:number|no\.?) of \w+)"
    r"\.?\s*[:=]?\s*\(?(?P<count>\d{1,3})\)?(?![\w.,]*\d)",
    re.IGNORECASE,
)
BRACKET = re.compile(r"(?<!\w)\((?P<count>\d{1,3})\)")
PIECES = re.compile(
    r"(?<![\w.,/-])(?P<count>\d{1,3})\s*(?:[x×](?!\w)|(?:ea|each|pcs?|off|nos|Stk|Stck|Stück|st|szt(?:uk[ai]?)?|uds?|un|pz|pezz[io]|pzas?|piezas?|unidades?|adet|tane|stuks|styk|stycken|ks|kus[ůyu]?|pces?|pièces?|peças?)\b\.?)",
    re.IGNORECASE,
)
IN_FRONT = re.compile(  # "2 (9 kW ea)"
    rf"\A\s*(?P<count>\d{{1,2}})\s*\((?=\s*(?:{FIGURE})\s*-?\s*(?:{POWER_UNIT})(?!\w)[^()]*\))", re.IGNORECASE
)
LEAST_DASHED = 3  # cells in which a dash stands between number and power, before one of them tells of the others: judgement, no source


def dashes_count(texts: Sequence[str]) -> bool:
    """Do cells of a column give numbers by a dash, "3 - 6 kW"? They do where one of them is no span: "1 - 6 kW", "6 - 4.5 kW"."""
    found = [match for text in texts if (match := DASHED.search(text)) is not None]
    figures = [(int(match["count"]), speak(match["each"])) for match in found]
    no_span = [count == 1 or (each is not None and each.value is not None and count >= each.value) for count, each in figures]
    return len(found) >= LEAST_DASHED and any(no_span)


def by_sign(text: str) -> str:
    """A text with a sign of times where a dash stands between number and power."""
    return DASHED.sub(lambda match: re.sub(r"\s?[-–]\s?", " x ", match[0], count=1), text)
