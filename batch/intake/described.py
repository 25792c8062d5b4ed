"""A description that holds several facts, as "(3) 4.5 kW 240 V 1 ph immersion heaters": each taken only where it stands exactly once."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import lru_cache

from batch.intake.list_words import EACH, ROW, TANK, heater_word, hits, words
from batch.intake.numbers import speak
from batch.intake.supply_notation import supply_in_text
from batch.intake.wording import tokens

POWER = re.compile(r"(?<![\w.,/])(\d+(?:[.,]\d+)*)\s*-?\s*(k\s?w|kilowatts?|w|watts?)(?![\w/²])", re.IGNORECASE)
COUNTS = (
    re.compile(r"\((\d{1,3})\)(?!\s*(?:ph|v\b))"),
    re.compile(r"\b(\d{1,3})\s*(?:[x×](?=[\s\d])|(?:ea|each|pcs?|off|nos?|stk|stck|szt|st|uds?|pz|un)\b\.?)", re.IGNORECASE),
    re.compile(r"\b(?:qty|quantity|anz(?:ahl)?|cant|qté|qtde?|aantal|ilość)\.?\s*[:=]?\s*(\d{1,3})\b", re.IGNORECASE),
)
LEADING = re.compile(r"\A\s*(\d{1,2})\s*[-–x]?\s*(?=\d+(?:[.,]\d+)?\s*k?w\b)", re.IGNORECASE)
SPARE = re.compile(r"\b(\d{1,3})\s*\+\s*(\d{1,3})\b")
PHASE_WORDS = frozenset(
    {"ph", "phase", "phases", "phs", "ø", "p", "v", "vac", "volt", "volts", "hz", "a", "amps", "fase", "fases", "phasig", "fazy"}
)
BEHIND = 16  # characters behind a power in which "total" or "each" is about it
BEFORE_HEATERS = 4  # words from a number to the word heaters


@dataclass(frozen=True, slots=True)
class Described:
    """Facts by key of ours, what the count and the power are of, and what is not sure."""

    facts: dict[str, object] = field(default_factory=dict)
    quantity_of: str = ""
    power_of: str = ""
    doubt: str = ""


@lru_cache(maxsize=4096)
def described(text: str) -> Described:
    """What a description says."""
    facts: dict[str, object] = {}
    power_of, doubts = "", []
    powers = {(value, basis) for match in POWER.finditer(text) for value, basis in [_power(text, match)] if value}
    if len({value for value, _ in powers}) == 1:
        value, power_of = max(powers, key=lambda one: len(one[1]))
        facts["total_kw" if power_of in (TANK, ROW) else "power_kw"] = value
    elif powers:
        doubts.append("several powers")
    rest = POWER.sub(" ~ ", text)
    counts = _counts(text, rest)
    if SPARE.search(rest) and hits("spare", text):
        doubts.append(f'"{SPARE.search(rest)[0]}" with spares')
    elif len(counts) == 1:
        facts["quantity"] = counts.pop()
    elif counts:
        doubts.append("several counts")
    supply = supply_in_text(text)
    if supply is not None and supply.sure and supply.current != "DC":
        if supply.volts is not None and (supply.volts_to_neutral is None or supply.phases == 3):
            facts["volts_v"] = supply.volts
        if supply.phases in (1, 3):
            facts["phases"] = supply.phases
    per_tank = [hit for hit in hits("per_tank", text) if " " in hit.word or "/" in hit.word]
    return Described(facts, TANK if per_tank else "", power_of, "; ".join(doubts))


def _power(text: str, match: re.Match[str]) -> tuple[float | None, str]:
    said = speak(match[1])
    if said is None:
        return None, ""
    unit = 1.0 if match[2].casefold().startswith("k") else 0.001
    values = [value * unit for value in (said.value, said.other) if value is not None and 0.05 <= value * unit <= 500]
    behind = text[match.end() : match.end() + BEHIND]
    basis = ""
    for name, of in (("per_heater", EACH), ("total", ROW)):
        if any(not re.search(r"\d", behind[: hit.start]) for hit in hits(name, behind)):
            basis = basis or of
    return (float(f"{values[0]:.12g}") if len(values) == 1 else None), basis


def _counts(text: str, rest: str) -> set[int]:
    found = {int(match[1]) for pattern in COUNTS for match in pattern.finditer(rest)}
    if match := LEADING.match(text):
        found.add(int(match[1]))
    seen = tokens(rest)
    numbers = words()
    for at, token in enumerate(seen):
        if token.word.isdecimal():
            value = int(token.word) if len(token.word) <= 2 else 0
        else:
            value = numbers.number(token.word) or 0
        if not value or (at + 1 < len(seen) and seen[at + 1].word in PHASE_WORDS):
            continue
        after = seen[at + 1 : at + 1 + BEFORE_HEATERS]
        between = rest[token.end : after[-1].end] if after else ""
        spoken = not token.word.isdecimal() and (at == 0 or "~" in between[:4])
        named = next((n for n, one in enumerate(after) if heater_word(one.word)), -1)
        if spoken or (named >= 0 and not any(one.word[:1].isdigit() for one in after[:named]) and not hits("spare", between)):
            found.add(value)
    return found - {0}
