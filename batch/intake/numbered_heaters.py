"""Columns of powers that number the heaters of a tank: "Heater 1 kW | Heater 2 kW", or by letters, each cell the power of one heater."""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.heading_sense import EACH, names_a_heater
from batch.intake.list_words import is_heater
from batch.intake.plan import Also, ColumnPlan
from batch.intake.survey import HeadingColumn, flat

NUMBERED = re.compile(
    r"(?P<what>[^\W\d_]{2,}[^\d]{0,12}?)\s*[#(]?(?P<number>\d{1,2}|(?<![^\W\d_])[A-F](?![^\W\d_]))\)?\s*[,(/–-]?\s*"
    r"(?P<unit>k\s?W|W|watts?)\)?\.?",
    re.IGNORECASE,
)
WHY = "each cell is the power of the heater of that number"
LEAST = 2  # such columns


def numbered(texts: Sequence[str]) -> list[int]:
    """The places of headings that number heaters from 1 on, "Heater 1 kW", "Heater 2 kW"; [] where they are sizes, "3 kW", "6 kW"."""
    found = [(at, match) for at, text in enumerate(texts) if (match := NUMBERED.fullmatch(text.strip())) is not None]
    names = {match["what"].strip(" #.-").casefold() for _, match in found}
    numbers = [int(one) if (one := match["number"]).isdecimal() else ord(one.upper()) - ord("A") + 1 for _, match in found]
    if len(found) < LEAST or len(names) != 1 or numbers != list(range(1, len(found) + 1)):
        return []
    word = next(iter(names))
    return [at for at, _ in found] if is_heater(word) or names_a_heater(word) else []


def heaters_of_a_row(columns: Sequence[HeadingColumn]) -> tuple[Also, ...]:
    """One bank of one heater for each such column."""
    places = numbered([column.text for column in columns])
    found = []
    for column in (columns[at] for at in places):
        unit = "W" if NUMBERED.fullmatch(column.text.strip())["unit"].casefold().startswith("w") else "kW"  # type: ignore[index]
        power = ColumnPlan("power_kw", column.index, flat(column.text), unit, "likely", WHY)
        found.append(Also({"power_kw": power}, {"quantity": 1}, power=EACH))
    return tuple(found)
