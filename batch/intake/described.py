"""What a description says in the terms of a list's columns: each fact only where it stands once and is sure."""

from __future__ import annotations

import re
from functools import lru_cache

from msgspec import Struct, field

from batch.intake.descriptions import read_description
from batch.intake.heading_sense import EACH, ROW
from batch.intake.list_words import BASES
from batch.intake.supply_notation import PHASES_OR_COUNT

OR = re.compile(
    r"(?<![\w.,])\d+(?:[.,]\d+)?\s*(?:k?W)?\s*(?:\bor\b|\boder\b|\bou\b|\bof\b|\blub\b|\bo\b)\s*\d+(?:[.,]\d+)?\s*(?:k\s?W|W)\b",
    re.IGNORECASE,
)
ASIDE = ("sheath", "heated_length_mm")  # a row is sized without them: what is not sure there is not taken, and nothing more
PLUS = re.compile(r"\d+\s*\+\s*\d+")


class Described(Struct, frozen=True):
    """Facts by key of ours, what the count and the powers are of, and what is not sure."""

    facts: dict[str, object] = field(default_factory=dict)
    quantity_of: str = ""
    power_of: str = ""
    total_of: str = ""
    foreign: str = ""
    doubt: str = ""


@lru_cache(maxsize=4096)
def described(text: str, counted: bool = False) -> Described:
    """What a description says. `counted`: another column says how many heaters there are, so that "3 x 400 V" is three phases."""
    said = read_description(text)
    facts: dict[str, object] = {}
    counted = counted or (said.quantity is not None and not said.doubt("quantity"))
    doubts = [words for key, words in said.doubts if key not in ASIDE and not (counted and words.endswith(PHASES_OR_COUNT))]
    for key in ASIDE:
        found = getattr(said, key)
        if found is not None and not said.doubt(key):
            facts[key] = found.value
    if said.quantity is not None and not said.doubt("quantity"):
        facts["quantity"] = said.quantity.value
    if said.spare is not None and (plus := PLUS.search(text)):
        doubts.append(f'"{plus[0]}" with spares')
    if said.power_kw is not None and not said.doubt("power_kw"):
        facts["power_kw"] = said.power_kw.value
    if said.total_kw is not None and said.power_kw is None and not said.doubt("total_kw"):
        facts["total_kw"] = said.total_kw.value
    if either := OR.search(text):
        doubts.append(f'"{either[0].strip()}" names two')
        facts.pop("power_kw", None)
    supply = said.supply
    if supply is not None:
        unsure = [words for words in supply.doubts if not (counted and words.endswith(PHASES_OR_COUNT))]
        doubts += [*supply.contradictions, *unsure]
        if not supply.contradictions and not unsure and supply.current != "DC":
            if supply.volts is not None and (supply.volts_to_neutral is None or supply.phases == 3):
                facts["volts_v"] = supply.volts
            if supply.phases in (1, 3):
                facts["phases"] = supply.phases
    total_of = BASES.get(said.total_of, "") or ROW
    power_of = EACH if said.power_said else ""
    return Described(facts, BASES.get(said.quantity_of, ""), power_of, total_of, said.foreign, "; ".join(dict.fromkeys(doubts)))
