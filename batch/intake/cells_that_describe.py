"""How many cells of a column say a power, a power and no more, a power among words, or how many heaters there are as well."""

from __future__ import annotations

import re
from collections.abc import Mapping

from batch.intake.cell_profiles import Profile
from batch.intake.counts_named import dashes_count
from batch.intake.described import described
from batch.intake.list_words import nothing_word
from batch.intake.supply_notation import SupplyFacts, supply_in_text

POWER_ALONE = re.compile(r"\(?[\d.,\s/½¼¾]+\s*(?:k\s?w|w|watts?|hp|btu/?h)\.?\)?(?:\s*(?:ea|each|c/u|je|pc)\.?)?", re.IGNORECASE)
ONE_POWER = re.compile(r"\d{1,5}(?:[.,]\d{1,2})?\s*(?:k\s?w|w|watts?)\.?", re.IGNORECASE)  # "9 kW", and not "2, 9 kW"
POWERED = re.compile(r"\d\s*-?k\s?w\b", re.IGNORECASE)
WATTS = re.compile(r"\d{3,5}\s*w(?:atts?)?\b", re.IGNORECASE)

LEAST_POWERED, FAR_MORE = 3.0, 3.0  # cells with a power in them, and how many times those of the other column: judgement, no source
LEAST_COUNTED = 2  # cells that count, beside which others name the power alone: judgement, no source


def share_with_powers(profile: Profile) -> float:
    """The share of cells with words beside a power: "3 pcs 6 kW 400 V", and not "6 kW"."""
    texts = profile.texts
    return sum(bool(POWERED.search(text)) and not POWER_ALONE.fullmatch(text) for text in texts) / max(1, len(texts))


def share_of_powers(profile: Profile) -> float:
    """The share of cells that name a power, of those that say anything."""
    said = _said(profile)
    return sum(bool(POWERED.search(text) or WATTS.search(text)) for text in said) / max(1, len(said))


def share_of_powers_alone(profile: Profile) -> float:
    """The share of cells that are a power and no more: "6 kW", "4500 W each"."""
    return sum(bool(POWER_ALONE.fullmatch(text)) for text in profile.texts) / max(1, profile.filled)


def share_counted(profile: Profile) -> float:
    """The share of cells that say how many heaters there are of the power that they name: "3 x 6 kW", of those that say anything."""
    said = _said(profile)
    powered = [text for text in said if POWERED.search(text) or WATTS.search(text)]
    if dashes_count(powered):
        return len(powered) / len(said)
    counted = sum("quantity" in described(text).facts for text in powered)
    ones = sum(bool(ONE_POWER.fullmatch(text)) for text in powered) if counted >= LEAST_COUNTED else 0  # beside "3 x 6 kW", "9 kW" is one
    return (counted + ones) / max(1, len(said))


def says_more(seen: Mapping[int, Profile], one: int, other: int) -> int:
    """Of two columns of words the one whose cells give the powers, where the other's nearly never do; -1 where neither stands out."""
    few, many = sorted((one, other), key=lambda at: share_with_powers(seen[at]) * seen[at].filled)
    least, most = (share_with_powers(seen[at]) * seen[at].filled for at in (few, many))
    return many if most >= max(LEAST_POWERED, FAR_MORE * least) else -1


def of_supplies_alone(profile: Profile) -> bool:
    """Do all cells say volts and phases, and nothing else, as no feeder's name does: "480V-3PH"?"""
    said = [(text, supply_in_text(text)) for text in _said(profile)]
    return bool(said) and all(
        supply is not None and supply.volts is not None and supply.phases is not None and not any(map(str.isalnum, _beside(text, supply)))
        for text, supply in said
    )


def _beside(text: str, supply: SupplyFacts) -> str:
    """What a text says beside its volts and phases."""
    taken = {at for _, start, end in supply.spans for at in range(start, end)}
    return "".join(sign for at, sign in enumerate(text) if at not in taken)


def _said(profile: Profile) -> list[str]:
    return [text for text in profile.texts if not nothing_word(text)]
