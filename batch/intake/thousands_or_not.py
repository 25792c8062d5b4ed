"""A power such as "1,200" may be a thousand two hundred, or one and a fifth. Where the smaller is no heater's, or far below what stands in
the same column, the row is asked about."""

from __future__ import annotations

import re
from collections.abc import Sequence
from statistics import median

from batch.intake.grid import worded
from batch.intake.line_kinds import DATA, DOUBT, Line
from batch.intake.numbers import decimal_mark
from batch.intake.plan import ListPlan
from batch.intake.verdict import close

EITHER = re.compile(r"[1-9]\d{0,2}[.,]\d{3}(?:\s*k\s?W)?", re.IGNORECASE)
LEAST_KW = 0.3  # of an immersion heater in a process tank: judgement, no source
LEAST_UNTOLD_KW = 1.0  # the same, where no cell beside it tells the mark before decimals
FAR_BELOW = 10.0  # times, of the middle of the other powers of the column: judgement, no source


def asked_by_thousands(plan: ListPlan, lines: Sequence[Line]) -> None:
    """Puts such rows in doubt. `lines`: those that nobody has answered for."""
    for key in ("power_kw", "total_kw"):
        column = plan.columns.get(key)
        if column is None or column.unit_at >= 0 or column.unit.casefold() not in ("", "kw"):
            continue
        texts = {line.index: text for line in lines for at, value in line.cells if at == column.index and (text := worded(value).strip())}
        either = {index for index, text in texts.items() if EITHER.fullmatch(text)}
        others = [value for line in lines if line.index not in either and (value := line.figure(key)) is not None]
        marks = {decimal_mark(text) for text in texts.values()}
        for line in lines:
            value = line.figure(key)
            if line.kind != DATA or line.index not in either or value is None:
                continue
            text = texts[line.index]
            digits = re.sub(r"\D", "", text)
            if not close(value, float(digits) / 1000):
                continue  # read as thousands
            count = (line.figure("quantity") or 1) if key == "total_kw" else 1
            told = ("," if "," in text else ".") in marks  # by "4,5" beside it
            far = bool(others) and not told and value * FAR_BELOW <= median(others)
            if value / count < (LEAST_KW if told else LEAST_UNTOLD_KW) or far:
                line.kind, line.at, line.open = DOUBT, column.index, ("power_kw",)
                line.why = f'"{text[:20]}", which may be {int(digits)} kW or {value:g} kW,'
