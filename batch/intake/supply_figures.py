"""What one figure of a supply means: volts, phases, wires or hertz, by its unit or by its size; and which two volts are one supply's."""

from __future__ import annotations

from batch.intake.list_columns import MOST_VOLTS as MOST_HEATER_VOLTS
from batch.intake.numbers import speak

LEAST_BARE_VOLTS = 100  # a figure without a unit is volts from here up; 50 and 60 are hertz
LEAST_VOLTS, MOST_VOLTS = 6.0, 40_000.0  # that a supply may be written with at all
HERTZ = (50.0, 60.0)
ROOT3, EXACT_ENOUGH = 3**0.5, 0.02  # 400/230 and 415/240 are pairs too


def is_pair(one: float, other: float) -> bool:
    """Are the two the line-to-line and line-to-neutral volts of one supply? By their ratio: root three, or two."""
    ratio = max(one, other) / min(one, other)
    return abs(ratio / ROOT3 - 1) < EXACT_ENOUGH or abs(ratio / 2 - 1) < EXACT_ENOUGH


def number_in(text: str) -> float | None:
    said = speak(text)
    if said is None or said.rest:
        return None
    return said.value if said.other is None else None


def volts_in(text: str, unit: str) -> float | None:
    """Volts of a figure with its unit; of "4,160 V" the one meaning that a supply can have. None where there is none."""
    factor = 1000.0 if unit.casefold().replace(" ", "").startswith("kv") else 1.0
    said = speak(text)
    if said is None or said.rest:
        return None
    fit = [float(f"{value * factor:.12g}") for value in (said.value, said.other) if value is not None]
    fit = [value for value in fit if LEAST_VOLTS <= value <= MOST_VOLTS]
    return fit[0] if len(fit) == 1 else None


def current_of(unit: str) -> list[tuple[str, object]]:
    low = unit.casefold().replace(".", "").replace(" ", "")
    if not low.startswith(("v", "kv")):
        return []
    return [("current", "AC")] if low.endswith(("ac", "~")) else [("current", "DC")] if low.endswith(("dc", "=", "⎓")) else []


def meaning_of(number: str, unit: str, volts_seen: bool, phases_seen: bool) -> tuple[str, object] | None:
    """One figure of a chain, by its unit or by its size."""
    low = unit.casefold()
    value = number_in(number)
    if low.startswith(("v", "kv")):
        volts = volts_in(number, unit)
        return ("volts", volts) if volts is not None else None
    if value is None:
        return None
    if low == "hz":
        return "hertz", value
    if low in ("w", "wire", "wires"):
        return ("wires", int(value)) if value in (2, 3, 4, 5) and (volts_seen or phases_seen) else None
    if low:
        return ("phases", int(value)) if value in (1, 2, 3) else None
    if value in (1, 2, 3):
        return "phases", int(value)
    if value in HERTZ:
        return "hertz", value
    return ("volts", value) if LEAST_BARE_VOLTS <= value <= MOST_HEATER_VOLTS and value == int(value) else None
