"""Short remarks that want another number of heaters than their row has, "make 4", "4 req'd", "3 to 4", or give another figure for now,
"was 12, now 15": the row is asked about."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from batch.intake.line_kinds import DATA, DOUBT, Line
from batch.intake.plan import ListPlan
from batch.intake.sentence_words import forms
from batch.intake.survey import flat
from batch.intake.verdict import close
from batch.intake.vocabulary import vocabulary

OF_WORDS = frozenset({"notes", "status", "description"})
MOST = 24  # heaters of a tank; "max 60" is a temperature: judgement, no source
KILOWATTS = re.compile(r"\dk?W|\d\s+kW", re.IGNORECASE)
KNOWN = ("quantity", "power_kw", "total_kw", "volts_v", "phases")


def asked_by_wanted(plan: ListPlan, lines: Sequence[Line]) -> None:
    """Puts such rows in doubt. `lines`: those that nobody has answered for."""
    remarks = {plan.columns[key].index for key in OF_WORDS & plan.columns.keys()}
    for line in lines:
        for at, value in line.cells if line.kind == DATA and line.figure("quantity") else ():
            text = flat(value).strip(" .!*()") if isinstance(value, str) and at in remarks else ""
            if line.kind == DATA and text and any(_other(number, line) for number in wanted(text)):
                line.kind, line.at, line.why = DOUBT, at, f'"{text[:60]}", where the row says {line.figure("quantity"):g},'
                changed = _changed().fullmatch(text) is not None
                line.open = ("power_kw",) if KILOWATTS.search(text) else ("quantity", "power_kw") if changed else ("quantity",)


def wanted(text: str) -> list[float]:
    """The numbers that a remark of nothing else wants, or says to be so now."""
    counted, changed = _number().fullmatch(text), _changed().fullmatch(text)
    match = changed or counted
    said = [one for name, one in match.groupdict().items() if one and name != "was"] if match is not None else []
    numbers = (float(one.replace(",", ".")) if one[0].isdigit() else vocabulary().number(one.casefold()) for one in said)
    return [float(one) for one in numbers if one and (changed or KILOWATTS.search(text) or one <= MOST)]


def _other(number: float, line: Line) -> bool:
    return not any(close(number, known) for key in KNOWN if (known := line.figure(key)) is not None)


@lru_cache(maxsize=1)
def _number() -> re.Pattern[str]:
    of_them, some = rf"(?:\s+(?:{forms('of_them')}))?", r"(?:\d{1,2}|[^\W\d_]+)"
    return re.compile(
        rf"{forms('wants')}\s+(?P<one>{some}){of_them}|(?P<two>{some})\s+{forms('are_wanted')}{of_them}"
        rf"|(?P<first>\d{{1,3}}(?:[.,]\d+)?)\s*/\s*(?P<second>\d{{1,3}}(?:[.,]\d+)?)\s*kW"
        rf"|(?P<low>\d{{1,2}})\s*(?:-|–|to|bis|[àa]|a|tot|do|til|till|a[žz])\s*(?P<high>\d{{1,2}})",
        re.IGNORECASE,
    )


@lru_cache(maxsize=1)
def _changed() -> re.Pattern[str]:
    figure, unit = r"\d{1,3}(?:[.,]\d+)?", r"(?:\s*(?:kW|V))?"
    was = rf"{forms('was_so')}\s+(?P<was>{figure}){unit}"
    return re.compile(rf"{was}\W{{0,3}}\s*{forms('is_now')}\s+(?P<now>{figure}){unit}", re.IGNORECASE)
