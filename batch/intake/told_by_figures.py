"""What the figures of a list tell that no word says: a sum of those above it, phases that follow from amps, the power that amps are of."""

from __future__ import annotations

import re
from collections.abc import Sequence, Set
from math import sqrt

from msgspec import Struct, field

from batch.intake.assignment import LIKELY, Taken
from batch.intake.facts import Fact, read_cell
from batch.intake.heading_sense import KILOWATTS, concepts_of
from batch.intake.line_kinds import DATA, DOUBT, HIDDEN, OUT, TOTAL, Line
from batch.intake.plan import ListPlan
from batch.intake.rows_compared import says_heater
from batch.intake.survey import Region, cells_of
from batch.intake.verdict import close, close_amps
from batch.intake.wording import words

LEAST_SUMMED = 2  # rows, for their sum to be one
RESISTIVE = re.compile(  # a heater's kVA are its kW
    r"\b(?:P\.?F\.?|power factor|cos\s*φ)\s*(?:=|is|of)?\s*(?:1|unity)(?:[.,]0+)?(?![.,]?\d)|\bkVA\s*=\s*kW\b|\bunity PF\b",
    re.IGNORECASE,
)
LOAD_IN_KVA = re.compile(r"(?:(?:conn(?:ected|\.)?|total|ckt|circuit)\s+)?(?:load\s*)?[\[(]?kVA[\])]?", re.IGNORECASE)
LEAST_TOLD = 3  # rows in which amps, volts, phases and kW agree, for the column to be the power: judgement, no source
ITS_OWN = ("description", "same as")  # sources of a value that are the row's own words


class _Since(Struct):
    """The rows since the last total, added up: of the rows that count, of those in doubt too, and of those left out too."""

    key: str
    rows: list[int] = field(default_factory=lambda: [0, 0, 0])
    plain: list[float] = field(default_factory=lambda: [0.0, 0.0, 0.0])
    times: list[float] = field(default_factory=lambda: [0.0, 0.0, 0.0])
    counts: list[float] = field(default_factory=lambda: [0.0, 0.0, 0.0])
    largest: float = 0.0  # power of a row
    tagged: bool = True  # have all tags figures?

    def add(self, line: Line) -> None:
        power, count = line.figure(self.key) or 0.0, line.figure("quantity")
        self.largest = max(self.largest, power)
        for at in range(0 if line.kind == DATA else 1 if line.kind in (DOUBT, HIDDEN) else 2, 3):
            self.rows[at] += 1
            self.plain[at] += power
            self.times[at] += power * (count or 1.0)
            self.counts[at] += count or 0.0
        tag = line.value("tank")
        self.tagged = self.tagged and (tag is None or any(mark.isdigit() for mark in str(tag)))


def unlabelled_sums(plan: ListPlan, lines: Sequence[Line]) -> None:
    """A figure below the others that is their sum is a total, whatever stands beside it."""
    for key in {"power_kw", "total_kw"} & plan.columns.keys():
        since, whole = _Since(key), _Since(key)  # since the last sum, and of the whole list
        for line in lines:
            value = line.value(key)
            if line.kind == TOTAL:
                since = _Since(key)
                continue
            if not isinstance(value, (int, float)) or line.kind not in (DATA, DOUBT, HIDDEN, OUT):
                continue
            if line.index + 1 not in plan.left_open and any(_sums_up(line, one, float(value)) for one in (since, whole)):
                line.kind, line.text, line.at = TOTAL, f"{value:g}", plan.columns[key].index
                since = _Since(key)
                continue
            since.add(line)
            whole.add(line)


def _sums_up(line: Line, since: _Since, value: float) -> bool:
    """Is a row without a tag, a supply and a heater of its own the sum of those above it?"""
    untagged = _lacks(line, "tank") or _no_tag(line, since)
    untagged = untagged and (_lacks(line, "volts_v") or _lacks(line, "phases"))  # no sum has a supply of its own
    return since.rows[-1] >= LEAST_SUMMED and untagged and not says_heater(line) and _is_sum(line, since, value)


def _no_tag(line: Line, since: _Since) -> bool:
    """ "CONNECTED" in the column of tags that have figures: a word beside a sum."""
    tag = line.value("tank")
    return isinstance(tag, str) and since.tagged and not any(mark.isdigit() for mark in tag)


def _lacks(line: Line, key: str) -> bool:
    return key not in line.facts or line.facts[key].source not in ("", *ITS_OWN)


def _is_sum(line: Line, since: _Since, value: float) -> bool:
    """Is the figure the sum of those above, of the rows that count or of all, and the number of heaters too if there is one?"""
    count = line.value("quantity")
    own = count is not None and not _lacks(line, "quantity")
    for at in range(3):
        if since.rows[at] < LEAST_SUMMED:
            continue
        same = count == since.counts[at]
        if (close(since.plain[at], value) or close(since.times[at], value)) and (not own or same):
            return True
        if own and same and _lacks(line, "volts_v") and since.rows[at] > 2 and value >= since.largest:
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


def power_by_amps(taken: Sequence[Taken], region: Region, data: Sequence[int], hidden: Set[int]) -> list[Taken]:
    """The columns, with one in kW that no heading names a heater's power ("Duty kW"), where the amps of each row follow from it."""
    columns = {one.key: one.index for one in taken}
    if {"power_kw", "total_kw", "description"} & columns.keys() or not {"amps_a", "volts_v", "phases"} <= columns.keys():
        return list(taken)
    used = {*columns.values(), *hidden}
    found = []
    for column in region.columns:
        said = {name for word in words(column.text) for name in concepts_of(word)}
        if column.index in used or not KILOWATTS.search(column.text) or said & {"former", "other", "price", "tank"}:
            continue
        told = [one for line in data if (one := _follow(dict(cells_of(region.grid.rows[line])), columns, column.index)) is not None]
        if len(told) >= LEAST_TOLD and all(told):
            found.append(Taken("power_kw", column.index, column.text, "kW", "", LIKELY, name=0.3, fit=1.0))
    return [*taken, *found] if len(found) == 1 else list(taken)


def power_by_kva(taken: Sequence[Taken], region: Region, around: Sequence[tuple[int, int, str]], hidden: Set[int]) -> list[Taken]:
    """The columns, with one in kVA where no other gives a power and a text beside the list says that the heaters' power factor is 1."""
    if {"power_kw", "total_kw"} & {one.key for one in taken} or not any(RESISTIVE.search(text) for _, _, text in around):
        return list(taken)
    used = {one.index for one in taken} | hidden
    found = [column for column in region.columns if column.index not in used and LOAD_IN_KVA.fullmatch(column.text.strip())]
    kva = [Taken("power_kw", column.index, column.text, "kW", "", LIKELY, name=0.3, fit=1.0) for column in found]
    return [*taken, *kva] if len(kva) == 1 else list(taken)


def _follow(cells: dict[int, object], columns: dict[str, int], at: int) -> bool | None:
    """Do a row's amps follow from its volts, its phases and the power at a column? None where it has not all four."""
    facts = [read_cell(key, cells.get(columns[key]), columns[key], "") for key in ("amps_a", "volts_v", "phases")]
    figures = [fact.value if fact is not None else None for fact in (*facts, read_cell("power_kw", cells.get(at), at, "kW"))]
    if not all(isinstance(one, (int, float)) and one for one in figures):
        return None
    amps, volts, phases, power = (float(one) for one in figures if isinstance(one, (int, float)))
    return close_amps(amps, 1000.0 * power / (volts * (sqrt(3.0) if phases == 3 else 1.0)))
