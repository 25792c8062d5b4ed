"""What a description says in the terms of a list's columns: each fact only where it stands once and is sure."""

from __future__ import annotations

import re
from functools import lru_cache

from msgspec import Struct, field

from batch.intake.descriptions import read_description
from batch.intake.heading_sense import EACH, ROW
from batch.intake.list_words import BASES
from batch.intake.products_in_doubt import unsure_product
from batch.intake.supply_notation import PHASES_OR_COUNT

OR = re.compile(
    r"(?<![\w.,])\d+(?:[.,]\d+)?\s*(?:k?W)?\s*(?:\bor\b|\boder\b|\bou\b|\bof\b|\blub\b|\bo\b)\s*\d+(?:[.,]\d+)?\s*(?:k\s?W|W)\b",
    re.IGNORECASE,
)
# "18 kW in 3 elements" is one heater, or three of 6 kW; "18 kW as 3 x 6" is three of 6 kW, and not of 18
_POWER = r"(?<![\w.,/])\d+(?:[.,]\d+)?\s*(?:k\s?W|W|kilowatts?)\b"
_COUNT = (
    r"(?:\d{1,2}(?![\d.,]*\d)|two|three|four|five|six|zwei|drei|vier|f[üu]nf|sechs|deux|trois|quatre|cinq|six|dos|tres|cuatro|due|tre|quattro"
    r"|twee|drie|dwa|dwie|dw[óo]ch|trzy|trzech|dois|duas|tr[êe]s|to|tv[åa]|dv[ěe]ma?|t[řr]i|t[řr]ech)"
)
_IN = (
    r"(?:(?:split|divided|spread|distributed|shared|made up|consisting|aufgeteilt|verteilt|r[ée]parti\w*|repartid\w*|dividid\w*|suddivis\w*"
    r"|ripartit\w*|verdeeld|podzielon\w*|roz[dł][^\W\d]*|fordelt|f[öo]rdel\w*)\s+)?(?:in|into|as|of|over|across|between|among|using|auf|aus|en"
    r"|sur|entre|su|op|over|w|na|em|por|p[åa]|i|v|ve)"
)
_WITH = r"(?:[,;/(–-]|with|w/|having|mit|avec|con|met|z|com|med|s)"
_ELEMENTS = (
    r"(?:(?:heating|heiz|electric)[\s-]?)?(?:elements?|elementen|elementy|element[óo]w|elementach|elementer|elementi|elementos?|[ée]l[ée]ments?"
    r"|heizst[äa]be\w*|heizelemente\w*|resistencias?|resistenze|r[ée]sistances?|topn\w+ t[ěe]les\w*|p[řr][íi]k?on\w*)"
)
SPLIT = re.compile(
    rf"{_POWER}\s*(?:{_IN}\s+)(?:{_COUNT})\b(?!\s*(?:k?W|k?V|ph\b|phases?\b|fasi\b|fases\b|fasen\b|phasen\b|tanks?\b))"
    rf"(?:\s+[^\W\d_]{{4,}})?"
    rf"|{_POWER}\s*{_WITH}?\s*(?:{_COUNT})[\s-]*{_ELEMENTS}\b|(?<![\w.,])\d[\s-]*elements?\s+(?:heater|htr)s?\b.{{0,12}}?{_POWER}",
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
    if not said.power_said and said.total_kw is None and (split := SPLIT.search(text)):
        doubts.append(f'"{split[0].strip()}" says not whether the power is that of each')
        for key in ("power_kw", "quantity"):
            facts.pop(key, None)
    if beside := unsure_product(text):
        doubts.append(f'"{beside}" does not say what the number of heaters is')
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
