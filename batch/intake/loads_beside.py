"""Rows that are not sized and hang on a feeder all the same: heaters that stand already or that others supply, and other equipment."""

from __future__ import annotations

from batch.findings import remark
from batch.intake.grid import worded
from batch.intake.heading_sense import EACH, ROW, TANK
from batch.intake.line_kinds import OTHER, OUT, Line
from batch.intake.list_values import Settling
from batch.intake.list_words import words
from batch.intake.table import rows_worded
from batch.intake.verdict import close


def say_loads_beside(work: Settling) -> None:
    """Of each feeder of sized rows: which other rows name it, and how much hangs on it by what they say."""
    sized = {str(row.values["feeder"]): row for row in work.table.rows if "feeder" in row.values}
    beside: dict[str, list[Line]] = {}
    for line in work.one.lines:
        fact = line.facts.get("feeder")
        if fact is not None and fact.value is not None and worded(fact.value) in sized and _draws(line):
            beside.setdefault(worded(fact.value), []).append(line)
    for feeder, lines in beside.items():
        powers = [power_as_written(line, work.one.plan.power) for line in lines]
        unknown = sum(not power for power in powers)
        known = f"at least {sum(powers):.6g} kW" if any(powers) else "a load that is not said"
        more = f", and {unknown} of them without a power in kW" if unknown and any(powers) else ""
        rows = rows_worded([line.index + 1 for line in lines])
        fields = {"feeder": feeder, "sheet": work.table.grid.name, "rows": rows, "count": len(lines), "known": known + more}
        at = lines[0].facts["feeder"].index
        work.say(remark("feeder-other-rows", "feeder", **fields), at, lines[0].index + 1, feeder, feeder=feeder)


def _draws(line: Line) -> bool:
    """Is a row that is not sized a load all the same? One that was deleted or cancelled is none."""
    return line.kind == OTHER or (line.kind == OUT and bool(words()["stays"].find(line.why)))


def power_as_written(line: Line, power_of_what: str) -> float:
    """Kilowatts of a row that is not sized, by what it says of itself; 0 where it does not say."""
    count, power, total = (line.figure(key) for key in ("quantity", "power_kw", "total_kw"))
    if total is not None:
        return total
    if power is None or count is None:
        return 0.0
    return power if power_of_what in (TANK, ROW) else count * power


def power_of_one(line: Line, power_of_what: str) -> float | None:
    """Kilowatts of one heater of a row that is not sized; None where it does not say, contradicts itself, or stands for several tanks."""
    count, power, total = (line.figure(key) for key in ("quantity", "power_kw", "total_kw"))
    if not count or "tanks" in line.facts:
        return None
    by_total = total / count if total is not None else None
    by_power = power if power is None or power_of_what == EACH else power / count if power_of_what in (TANK, ROW) else None
    if by_power is None or by_total is None or close(by_power, by_total):
        return by_total if by_power is None else by_power
    return None
