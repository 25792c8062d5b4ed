"""A description that holds several facts, as "(3) 4.5 kW 240 V 1 ph immersion heaters": each taken only where it stands exactly once."""

from __future__ import annotations

import re

from batch.intake.list_rows import supply_in

POWER = re.compile(r"(\d+(?:[.,]\d+)?)\s*(kw|k\s?watts?)\b|(\d{3,6}|\d{1,3},\d{3})\s*(?:w|watts?)\b", re.IGNORECASE)
COUNT = re.compile(
    r"\((\d{1,3})\)|\b(\d{1,3})\s*(?:x|×|ea\.?|each|pcs\.?|off|nos?\.?|stk\.?)(?=[\s\d])|\A\s*(\d{1,2})\s*(?=[-–]?\s*\d+(?:[.,]\d+)?\s*kw)|\b(?:qty\.?|quantity)\s*:?\s*(\d{1,3})\b",
    re.IGNORECASE,
)


def described(text: str) -> dict[str, object]:
    """Facts by key of ours."""
    found: dict[str, object] = {}
    powers = {float(match[1].replace(",", ".")) if match[1] else float(match[3].replace(",", "")) / 1000 for match in POWER.finditer(text)}
    if len(powers) == 1:
        found["power_kw"] = powers.pop()
    counts = {int(next(group for group in match.groups() if group)) for match in COUNT.finditer(text)}
    if len(counts) == 1 and counts != {0}:
        found["quantity"] = counts.pop()
    supply = supply_in(text)
    if supply is not None and supply.volts:
        found["volts_v"] = supply.volts
    if supply is not None and supply.phases:
        found["phases"] = supply.phases
    return found
