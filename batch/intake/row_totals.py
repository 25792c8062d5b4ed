"""Two columns of power, that of each heater and a total: what one of them times the number of heaters is, row by row."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from batch.intake.heading_sense import EACH, TANK, concepts_of
from batch.intake.line_kinds import Line
from batch.intake.plan import ListPlan
from batch.intake.verdict import Verdict, close, count_of, power_of, tanks_named, total_of
from batch.intake.wording import words

LEAST_TO_ONE = 3  # rows in which number times power is the total, to one whose total is the power itself: judgement, no source
LEAST_DIFFERING = 3  # rows whose totals differ, for the column to be asked about and not the rows: judgement, no source


def leave_out_counts(plan: ListPlan, data: Sequence[Line]) -> None:
    """Leaves out a total that is none: guessed of a column headed "Installed" or "Failed", in words of no power, with whole numbers that no
    row's heaters come to. It counts heaters, and in a map it would stand against the rows that were read."""
    column = plan.columns.get("total_kw")
    if column is None or plan.given or column.sure != "likely" or any(map(_of_power, words(column.heading))):
        return
    rows = [(count_of(line), power_of(line), total_of(line)) for line in data]
    whole = [(q, p, t) for q, p, t in rows if q and p and t is not None]
    if len(whole) < LEAST_DIFFERING or any(t != int(t) or close(q * p, t) or close(p, t) for q, p, t in whole):
        return
    del plan.columns["total_kw"]
    for line in data:
        line.facts.pop("total_kw", None)


def _of_power(word: str) -> bool:
    """Of power, or a total; "installed" may be that of heaters as well, beside those that are spare."""
    told = concepts_of(word)
    return "power" in told or ("total" in told and "spare" not in told)


def by_row_totals(verdict: Verdict, plan: ListPlan, data: Sequence[Line]) -> None:
    """Two columns of power: what one of them times the number of heaters is."""
    each: list[Line] = []
    same: list[Line] = []
    odd: list[Line] = []
    banks: dict[int, list[Line]] = {}
    sums: dict[int, float] = {}
    of_all: list[Line] = []  # rows of several tanks whose total is that of all of them
    of_one: list[Line] = []  # and those whose total is that of one tank's heaters
    for line in data:
        banks.setdefault(line.index, []).append(line)
    for some in banks.values():
        line = some[0]
        q, p, t = count_of(line), power_of(line), total_of(line)
        n = tanks_named(line)
        if len(some) > 1 and t is not None:  # several banks in a row: their sum
            whole = sums[line.index] = sum((count_of(one) or 0.0) * (power_of(one) or 0.0) for one in some)
            (each if close(whole, t) or close(n * whole, t) else odd).append(line)
            continue
        if q is None or p is None or t is None:
            continue
        if close(q * p, t) or close(n * q * p, t):
            each.append(line)
            if n > 1:
                (of_one if close(q * p, t) else of_all).append(line)
        elif close(p, t) and q > 1:
            same.append(line)
        else:
            odd.append(line)
    heading = plan.columns["total_kw"].heading
    if of_all and of_one:  # the fewer are in doubt; where they are as many, all
        few, many = sorted((of_all, of_one), key=len)
        for line in [*few, *(many if len(few) == len(many) else ())]:
            times = f"{tanks_named(line):g} tanks of {count_of(line) or 0.0:g} times {power_of(line) or 0.0:g} kW"
            verdict.odd_rows[line.index] = f'{times} under "{heading}" is {total_of(line) or 0.0:g} kW, which other rows reckon otherwise'
    if each and len(each) >= 2 * len(odd) and len(each) >= LEAST_TO_ONE * len(same):
        verdict.basis, verdict.sure = EACH, "certain"
        verdict.said.append(f'number times power is "{heading}" in {len(each)} rows')
        for line in (*odd, *same):
            verdict.odd_rows[line.index] = _differs(line, heading, sums)
    elif odd and not same and (each or len(odd) < LEAST_DIFFERING):  # of a heading that says each, rows that disagree are slips
        for line in odd:
            verdict.odd_rows[line.index] = _differs(line, heading, sums)
    elif each or same or odd:
        verdict.totals_differ = bool(odd)
        verdict.mixed = (each, same, odd)
        verdict.against.append(f'"{heading}" is number times power in {len(each)} rows and is not in {len(same) + len(odd)}')


def _differs(line: Line, heading: str, sums: Mapping[int, float]) -> str:
    stated = f"is not the {total_of(line) or 0.0:g} kW " + (f'under "{heading}"' if heading else "beside them")
    if line.index in sums:
        return f"the {sums[line.index]:g} kW of its banks together {stated}"
    return f"{count_of(line) or 0.0:g} times {power_of(line) or 0.0:g} kW {stated}"


def against_the_basis(verdict: Verdict, plan: ListPlan) -> None:
    """Of rows whose totals are number times power in some, the power itself in others, and neither in a few, those that contradict what
    the heading or other witnesses decided."""
    each, same, odd = verdict.mixed
    if not (each or same) or verdict.basis not in (EACH, TANK):
        return
    heading = plan.columns["total_kw"].heading
    contrary = [line for line in (same if verdict.basis == EACH else each) if (count_of(line) or 0) > 1]
    for line in (*contrary, *(odd if len(odd) < LEAST_DIFFERING else ())):
        if line.index not in verdict.odd_rows:
            verdict.odd_rows[line.index] = _differs(line, heading, {})
