"""Powers as texts name them, in whatever unit: "9 kW", "4500 W", "7.5 hp"."""

from __future__ import annotations

import re

from batch.intake.numbers import speak
from batch.units import rounded, spelled

LEAST_KW, MOST_KW = 0.02, 2000.0  # that a figure may mean at all where its thousands mark leaves two readings

# Other units of power: horsepower of 550 ft·lbf/s, metric horsepower of 75 kgf·m/s, BTU and calorie of the International Table
# (NIST SP 811, Appendix B.8; cited from memory, checked against pint by a test)
OTHER_UNITS = {
    "hp": 0.7456998715822702, "h.p.": 0.7456998715822702, "ps": 0.73549875, "cv": 0.73549875,
    "btu/h": 0.00029307107017222, "mbh": 0.29307107017222, "kcal/h": 0.001163,
}  # fmt: skip

FIGURE = r"\d{1,3}(?:[,.' ]\d{3})+(?![\d,.])|\d+(?:[.,]\d+)?|[.,]\d+"
POWER_UNIT = r"k\s?W|kilowatts?|watts?|W|hp|h\.p\.|PS|CV|BTU\s*/?\s*h(?:r|our)?|BTUH|MBH|kcal\s*/\s*h"
# "six ea. 3 kW": nothing but a word for pieces between a number and the power
PIECES_BETWEEN = re.compile(r"(?=.{1,8}\Z)\s+(?:ea|each|pcs?|nos?|off|Stk|st|ks|uds?|szt)\b\.?\s*", re.IGNORECASE)
COUNT_BEHIND = re.compile(r"\s*[(\[]\s*\d")  # "18 kW (2 Stück)": of each, or of all?
_EACH_OF = r"(?:da|de|di|d'|[àá]|von|zu|van|po|av|af)\s+(?:je\s+)?"
_SHORT = r"(?-i:(?!(?:PH|TK|TQ|BT|KW|KV|VA|MM|CM)\b)[A-Z]{2,4})\.?\s+(?:of\s+|at\s+|@\s*|" + _EACH_OF + ")"
LEADING = re.compile(  # "3 9 kW", "3 da 9 kW", "3 TP de 9 kW"; "n. 2, totale 6 kW" is two, and heater n. 2 would have a word before it
    rf"\A\s*(?:(?P<no>n\.)\s*)?(?P<count>\d{{1,2}})(?:\s+(?:{_SHORT}|{_EACH_OF})?(?=(?:{FIGURE})\s*-?\s*(?:{POWER_UNIT})(?!\w))|(?(no)(?=,)|(?!)))",
    re.IGNORECASE,
)


def kilowatts(number: str, unit: str) -> float | None:
    """The power in kilowatts; None where its thousands mark leaves two that are possible."""
    factor = power_factor(unit)
    said = speak(number)
    if factor is None or said is None or said.rest:
        return None
    fit = [value * factor for value in (said.value, said.other) if value is not None and LEAST_KW <= value * factor <= MOST_KW]
    return rounded(fit[0]) if len(fit) == 1 else None


def power_factor(unit: str) -> float | None:
    """Kilowatts of one such unit; None where it is no unit of power. Whether a row is a heater is for others to say."""
    known = spelled(unit)
    if known is not None:
        return known.factor if known.quantity == "power" else None
    low = re.sub(r"\s", "", unit.casefold()).replace("hour", "h").replace("hr", "h")
    return OTHER_UNITS.get("btu/h" if low == "btuh" else low)
