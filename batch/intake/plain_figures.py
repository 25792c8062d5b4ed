"""Figures of supplies and powers without what says no more of them: "480 ±10 %", "~480", "480 (nom.)", "'480", "9 nominal", "RST"."""

from __future__ import annotations

import re
from functools import lru_cache

from batch.intake.numbers import speak

TYPED = re.compile(r"\A['’`´]+\s*(?=[\d~])")  # of a number that was typed as text
TOLERANCE = re.compile(r"\s*[(\[]?(?:±|\+\s*/?\s*-\s*|\+\s*\d{1,2}\s*%?\s*/\s*[-–]\s*)\s*\d{1,2}(?:[.,]\d)?\s*%[)\]]?\s*\Z")
NOMINAL = re.compile(  # what stands behind a figure and says no more than that it is the one on the plate
    r"(?<=[\dVW])\s*[(\[]?\s*(?:nom(?:inal\w*|\.)?|rated|nenn\w*|assign[ée]e?|znamion\w*|jmenovit\w*|m[äa]rk\w*|merke\w*|name ?plate)"
    r"\.?\s*[)\]]?\s*\Z",
    re.IGNORECASE,
)
BETWEEN_LINES = re.compile(
    r"(?<=[\dV])\s*[(\[]?\s*(?:L\s*[-–/]\s*L|LL|line(?: to line| volts?)?|phase to phase|AC|VAC|delta|Δ)\.?\s*[)\]]?\s*\Z",
    re.IGNORECASE,
)
ALTERNATING = re.compile(r"\A(?:~|AC)\s*(?=\d{3})", re.IGNORECASE)
THREE = re.compile(  # the names of the three lines, or of what has three
    r"(?:R\W?S\W?T|U\W?V\W?W|A\W?B\W?C|3\s?-?\s?poles?|3\s?-?polig|3\s?L|3\s?W\s?\+\s?(?:E|G|PE|GND)|delta|Δ)\.?", re.IGNORECASE
)
SYSTEM = re.compile(r"([13])\s*[/-]\s*(?:50|60)\s*(?:hz)?\s*[/-]\s*[2345](?:\s*W)?", re.IGNORECASE)  # phases, hertz and wires
PARTS = re.compile(
    r"(?P<whole>[\d.,]+)\s*(?P<unit>k?W)?\s*[(\[]\s*(?P<times>\d{1,2})\s*[x×*]\s*(?P<each>[\d.,]+)\s*(?:k?W)?\s*[)\]]", re.IGNORECASE
)


@lru_cache(maxsize=16384)
def plainly(key: str, text: str) -> str:
    """The text of a cell of column `key` without such words; as it is where it has none."""
    if key not in ("volts_v", "phases", "power_kw", "total_kw", "quantity"):
        return text
    text = TYPED.sub("", text)
    if key == "phases":
        return "3" if THREE.fullmatch(text.strip()) else SYSTEM.sub(r"\1", text) if SYSTEM.fullmatch(text.strip()) else text
    if key == "volts_v":
        text = ALTERNATING.sub("", BETWEEN_LINES.sub("", NOMINAL.sub("", TOLERANCE.sub("", text))))
    elif key != "quantity":
        text = _whole_of(NOMINAL.sub("", text))
    return text


def _whole_of(text: str) -> str:
    """ "9 (3x3)": a power, and the elements that make it up; as it is where they make up another."""
    match = PARTS.fullmatch(text.strip())
    if match is None:
        return text
    whole, each = (speak(match[name]) for name in ("whole", "each"))
    if whole is None or each is None or whole.other is not None or each.other is not None:
        return text
    makes_up = abs(whole.value - int(match["times"]) * each.value) < 0.01 * whole.value
    return f"{match['whole']} {match['unit'] or ''}".strip() if makes_up else text
