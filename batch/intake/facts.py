"""What one cell of a customer's list says: a number of heaters, a power, a supply, tags. Each says too where it is in doubt."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from batch.intake.cells import Outcome, reader
from batch.intake.grid import Broken, Shown, shown, worded
from batch.intake.list_columns import LEAST_VOLTS, LIST, MOST_VOLTS
from batch.intake.numbers import speak
from batch.units import Unit, find_unit, spelled

# Mechanical horsepower is 550 ft·lbf/s and the BTU the international table one (NIST SP 811, Appendix B: cited from memory)
FOREIGN_POWER = {
    "hp": 0.74569987158227,
    "btu/h": 0.00029307107017,
    "btuh": 0.00029307107017,
    "btu/hr": 0.00029307107017,
    "ps": 0.73549875,
    "cv": 0.73549875,
}
FOREIGN = re.compile(r"(?P<number>[\d.,\s]+?)\s*(?P<unit>hp|btu/?hr?|ps|cv)\.?\s*\Z", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Fact:
    """A value and where it stands; `fault` in words where there is none. `also` holds what the cell says of other columns."""

    value: object = None
    index: int = -1
    seen: str = ""
    fault: str = ""
    also: Mapping[str, object] = field(default_factory=dict)
    source: str = ""  # "" = the cell itself; else where it comes from: "above", "banner", "title"
    foreign: str = ""  # a unit in which heaters are rarely given
    outcome: Outcome | None = None
    basis: str = ""
    doubt: str = ""


@lru_cache(maxsize=512)
def _reader(key: str, unit: Unit | None, decimal: str):
    return reader(LIST[key], unit, decimal=decimal)


def read_cell(key: str, cell: object, index: int, unit: str = "", decimal: str = "") -> Fact | None:
    """What a cell says of column `key`; None where it says nothing. `unit`: of a bare number, as the heading or another cell has it."""
    if cell is None or cell == "" or (isinstance(cell, str) and type(cell) is not Broken and not cell.strip()):
        return None
    seen = shown(cell)
    if key in ("power_kw", "total_kw"):
        return _power(key, cell, index, unit, decimal, seen)
    if key == "volts_v":
        return _volts(cell, index, unit, decimal, seen)
    return _plain(key, cell, index, spelled(unit) if unit else None, decimal, seen)


def _plain(key: str, cell: object, index: int, unit: Unit | None, decimal: str, seen: str) -> Fact:
    value = _reader(key, unit, decimal)(cell)
    if type(value) is Outcome:
        if value.fault:
            return Fact(None, index, seen, value.code, outcome=value)
        return Fact(value.value, index, seen, also=dict(value.also), outcome=value)
    return Fact(value, index, seen)


def _power(key: str, cell: object, index: int, unit: str, decimal: str, seen: str) -> Fact:
    low = unit.strip().casefold()
    if isinstance(cell, str) and type(cell) is not Broken and (match := FOREIGN.match(cell.strip())):
        said = speak(match["number"], decimal)
        if said is not None and said.other is None:
            factor = FOREIGN_POWER[match["unit"].casefold()]
            return Fact(float(f"{said.value * factor:.6g}"), index, seen, foreign=match["unit"])
    if low in FOREIGN_POWER:
        number = cell if isinstance(cell, (int, float)) and not isinstance(cell, bool) else None
        if number is None:
            said = speak(cell, decimal) if isinstance(cell, str) else None
            number = said.value if said is not None and said.other is None and not said.rest else None
        if number is not None:
            return Fact(float(f"{number * FOREIGN_POWER[low]:.6g}"), index, seen, foreign=unit)
    own = find_unit(unit, "power") if unit else None
    if unit and own is None:
        return Fact(
            None,
            index,
            seen,
            "unit-unknown",
            outcome=Outcome(None, "unit-unknown", {"column": "Power", "unit": unit[:40], "quantity": "power", "such": "kW"}),
        )
    text = cell
    basis = ""
    if isinstance(cell, str) and type(cell) is not Broken:
        text = cell.strip()
        if found := re.search(r"\s*\(?\b(total|tot\.?|ges(?:amt)?\.?)\b\)?\s*\Z", text, re.IGNORECASE):
            text, basis = text[: found.start()], "tank"
        elif found := re.search(r"\s*\(?\b(each|ea\.?|je)\b\)?\s*\Z", text, re.IGNORECASE):
            text, basis = text[: found.start()], "each"
    fact = _plain(key, text, index, own, decimal, seen)
    return Fact(fact.value, index, seen, fact.fault, fact.also, outcome=fact.outcome, basis=basis) if basis else fact


def _volts(cell: object, index: int, unit: str, decimal: str, seen: str) -> Fact:
    kilo = unit.strip().casefold() == "kv"
    fact = _plain(
        "volts_v", cell, index, spelled(unit) if unit and spelled(unit) and spelled(unit).quantity == "volts" else None, decimal, seen
    )
    if fact.value is None or not isinstance(fact.value, float):
        return fact
    if fact.value < LEAST_VOLTS or fact.value > MOST_VOLTS:
        return Fact(None, index, seen, "value-unlikely", doubt=f"{fact.value:g} V" + (" by the kV of its heading" if kilo else ""))
    return fact


SHOWN = Shown
WORDED = worded
