"""What the figures of a list tell that no word says: a figure that is the sum of those above it, phases that follow from amps."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from batch.intake.facts import Fact
from batch.intake.line_kinds import DATA, DOUBT, HIDDEN, OUT, TOTAL, Line
from batch.intake.plan import ListPlan
from batch.intake.verdict import close, close_amps

ITS_OWN = ("description", "same as")  # sources of a value that are the row's own words


def unlabelled_sums(plan: ListPlan, lines: Sequence[Line]) -> None:
    """A figure below the others that is their sum is a total, whatever stands beside it."""
    for key in {"power_kw", "total_kw"} & plan.columns.keys():
        since: list[Line] = []
        for line in lines:
            value = line.value(key)
            if line.kind == TOTAL:
                since = []
                continue
            if not isinstance(value, (int, float)) or line.kind not in (DATA, DOUBT, HIDDEN, OUT):
                continue
            if (_lacks(line, "tank") or _no_tag(line, since)) and len(since) >= 2 and _is_sum(line, since, key, float(value)):
                line.kind, line.text, line.at = TOTAL, f"{value:g}", plan.columns[key].index
                since = []
                continue
            since.append(line)


def _no_tag(line: Line, since: Sequence[Line]) -> bool:
    """ "CONNECTED" in the column of tags that have figures: a word beside a sum."""
    tag, tags = line.value("tank"), [str(one.value("tank")) for one in since if one.value("tank") is not None]
    return isinstance(tag, str) and not any(mark.isdigit() for mark in tag) and all(any(mark.isdigit() for mark in one) for one in tags)


def _lacks(line: Line, key: str) -> bool:
    return key not in line.facts or line.facts[key].source not in ("", *ITS_OWN)


def _is_sum(line: Line, since: Sequence[Line], key: str, value: float) -> bool:
    """Is the figure the sum of those above, of the rows that count or of all, and the number of heaters too if there is one?"""
    count = line.value("quantity")
    for kinds in ((DATA,), (DATA, DOUBT, HIDDEN), (DATA, DOUBT, HIDDEN, OUT)):
        some = [one for one in since if one.kind in kinds]
        plain = sum(one.figure(key) or 0.0 for one in some)
        times = sum((one.figure(key) or 0.0) * (one.figure("quantity") or 1.0) for one in some)
        counts = sum(one.figure("quantity") or 0.0 for one in some)
        if (close(plain, value) or close(times, value)) and (_lacks(line, "quantity") or count is None or counts == count):
            return True
        if count is not None and not _lacks(line, "quantity") and counts == count and _lacks(line, "volts_v") and len(some) > 2:
            return True
    return False


def phases_by_amps(plan: ListPlan, lines: Sequence[Line]) -> None:
    """Phases that stand nowhere but follow from amps, volts and power of a row."""
    if "amps_a" not in plan.columns:
        return
    for line in lines:
        if line.kind not in (DATA, DOUBT) or "phases" in line.facts:
            continue
        amps, volts, q, p = (line.figure(key) for key in ("amps_a", "volts_v", "quantity", "power_kw"))
        if amps is None or not volts or q is None or p is None:
            continue
        found = {
            phases
            for phases in (1, 3)
            for times in {1.0, q, 1.0 / q}
            if close_amps(amps, times * 1000.0 * p / (volts * (sqrt(3.0) if phases == 3 else 1.0)))
        }
        if len(found) == 1:
            line.facts["phases"] = Fact(found.pop(), plan.columns["amps_a"].index, f"{amps:g} A", source="amps")
