"""Several kinds of heaters in one text, each with its number and its power: "(2) 12.5 kW plus (1) 4.5 kW 240 V 1 ph", "one 3 kW and one
1.5 kW, both 240 V single phase"."""

from __future__ import annotations

import re

from msgspec.structs import replace

from batch.intake.described import Described, described
from batch.intake.remarks_on_power import BOTH as OF_BOTH
from batch.intake.vocabulary import vocabulary

_AND = r"\s+(?:plus|and|und|et|y|e|en|i|og|och|a)\s+|\s*[+&;]\s*"
BEFORE_FIGURES = re.compile(rf"(?:{_AND})(?=\(?\d)", re.IGNORECASE)
BEFORE_COUNTS = re.compile(rf"{_AND}|\s*,\s*(?:(?:and|und|et|y|e|en|i|og|och|a)\s+)?", re.IGNORECASE)
COUNTED = re.compile(  # "one 3 kW", "2 off 4.5kW", and not "3 ph"
    r"\(?(?P<count>\d{1,2}|[^\W\d_]+)\)?\s*(?:[x×]|off|ea\.?|pcs\.?|nos?\.?|stk\.?|st\.?)?\s*(?:of\s+|[àa]\s+|de\s+|zu\s+)?\d+(?:[.,]\d+)?\s*k\s?W\b",
    re.IGNORECASE,
)
OF_A_SUPPLY = ("volts_v", "phases")
SET_OFF = re.compile(r"[,;(–-]\s*(?:[^\W\d_]+\s+){0,3}\d{3}\s*V", re.IGNORECASE)  # "one 1.5 kW heater, both 240 V"


def kinds_in(text: str) -> list[Described]:
    """The kinds that a text names, each whole; empty where it names one, or one of them is not understood."""
    for parts in (BEFORE_FIGURES.split(text), _parts(text)):
        said = [described(part) for part in parts]
        if len(said) > 1 and all({"quantity", "power_kw"} <= part.facts.keys() and not part.doubt for part in said):
            return _with_supply(parts, said)
    return []


def _parts(text: str) -> list[str]:
    """The pieces that begin with a number of heaters and their power."""
    parts, start = [], 0
    for match in BEFORE_COUNTS.finditer(text):
        counted = COUNTED.match(text, match.end())
        if counted is not None and (counted["count"].isdigit() or vocabulary().number(counted["count"].casefold()) is not None):
            parts.append(text[start : match.start()])
            start = match.end()
    return [*parts, text[start:]]


def _with_supply(parts: list[str], said: list[Described]) -> list[Described]:
    """ "Both 240 V single phase", behind the last, is the supply of each; behind a comma alone, whose it is is not sure."""
    last, before = said[-1], said[:-1]
    supply = {key: last.facts[key] for key in OF_A_SUPPLY if key in last.facts}
    if not supply or any(key in part.facts for part in before for key in OF_A_SUPPLY) or not SET_OFF.search(parts[-1]):
        return said
    return [*(replace(part, facts={**part.facts, **supply}) for part in before), last] if OF_BOTH.search(parts[-1]) else []
