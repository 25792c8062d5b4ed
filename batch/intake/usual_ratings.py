"""What the ratings that heaters are made in tell of a power: whether it is that of one heater, or of all of a tank."""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.heading_sense import EACH, TANK, says_rating
from batch.intake.line_kinds import Line
from batch.intake.list_columns import CATALOGUE_KW, HEATER_MARK
from batch.intake.list_words import basis_of, hits, of_pieces
from batch.intake.plan import ListPlan
from batch.intake.verdict import Verdict, count_of, power_of

LEAST_SAYING_EACH = 2  # descriptions, for one that does not say so to be asked about: judgement, no source
MOST_OF_ONE_KW = 18.0  # of a heater over the side of a tank: common practice, no source
NEARLY_ALL = 0.7  # of ratings, for them to be those of heaters as they are made: judgement, no source
POWER_SAID = re.compile(r"(?<![\w.,/])(\d+(?:[.,]\d+)?)\s*k\s?W\b", re.IGNORECASE)


ONE_HEATER = re.compile(r"\b(?:heater|htr)\b", re.IGNORECASE)  # and not heaters


def each_of_others(verdict: Verdict, plan: ListPlan, several: Sequence[Line]) -> None:
    """Where descriptions or cells say "9 kW each", one that says "18 kW" of three may mean all three: it is asked where it is more than
    any of the others, and shared out a usual rating. A line of an order, "3 EA", is of pieces."""
    in_cells = "power_kw" in plan.columns
    if "total_kw" in plan.columns or plan.also or (in_cells and basis_of(plan.columns["power_kw"].heading)):
        return
    of_each = [power_of(line) or 0.0 for line in several if line.facts["power_kw"].basis == EACH]
    for line in several if len(of_each) >= LEAST_SAYING_EACH else ():
        fact, power = line.facts["power_kw"], power_of(line) or 0.0
        apart = line.facts["quantity"].source != "description" or _named_before(fact.seen)  # "four 9 kW" says each by itself
        bare = not fact.basis and power > max(of_each) and (in_cells or (apart and fact.source == "description"))
        ordered = any(isinstance(value, str) and len(value.strip()) > 1 and of_pieces(value) for _, value in line.cells)
        if ordered and ONE_HEATER.search(str(line.value("description") or "")):
            continue
        if bare and _made(power / (count_of(line) or 1.0)):
            why = f'"{fact.seen[:60]}" does not say each, as others do: {power:g} kW of each, or of all'
            verdict.odd_rows.setdefault(line.index, why)


def by_catalogue(verdict: Verdict, several: Sequence[Line]) -> None:
    """Ratings as heaters are made in: only where one reading gives them and the other does not."""
    each = [line for line in several if _made(power_of(line))]
    tank = [line for line in several if _made((power_of(line) or 0.0) / (count_of(line) or 1.0))]
    if len(each) == len(several) and len(tank) <= len(several) // 2 and len(several) - len(tank) >= 1:
        odd = next(line for line in several if line not in tank)
        verdict.basis = EACH
        verdict.said.append(
            "every figure is a usual rating of one heater, and shared out they would not be "
            f"(row {odd.index + 1}: {power_of(odd):g} / {count_of(odd):g})"
        )
    elif len(tank) == len(several) and len(each) <= len(several) // 2 and len(several) - len(each) >= 1:
        odd = next(line for line in several if line not in each)
        verdict.basis = TANK
        verdict.said.append(
            f"shared out among the heaters every figure is a usual rating, and as it stands it is not "
            f"(row {odd.index + 1}: {power_of(odd):g})"
        )


def by_rating(verdict: Verdict, plan: ListPlan, several: Sequence[Line]) -> None:
    """A rating or a size is that of one heater, where nearly every figure is a usual one."""
    heading = plan.columns["power_kw"].heading if "power_kw" in plan.columns else ""
    odd = [line for line in several if not _made(power_of(line))]
    usual = len(several) - len(odd)
    if any(_made((power_of(line) or 0.0) / (count_of(line) or 1.0)) for line in odd):
        return  # 54 kW of six, which shared out are 9: perhaps of all
    if says_rating(heading) and usual >= NEARLY_ALL * len(several):
        verdict.basis = EACH
        which = "every figure is a usual one" if usual == len(several) else f"{usual} of {len(several)} figures are usual ones"
        verdict.said.append(f'a rating ("{heading}") is that of one heater, and {which}')


def _named_before(text: str) -> bool:
    """Does the word for heaters stand between their number and the power: "2 heaters 12 kW"?"""
    power, named = POWER_SAID.search(text), hits("heaters", text)
    return power is not None and bool(named) and named[0].end <= power.start()


def by_marks(verdict: Verdict, several: Sequence[Line]) -> None:
    """A schedule of equipment gives the figures of one item under its mark, and how many there are: EH-1, 12 kW, 3."""
    marks = [line.facts["bank"].seen for line in several if "bank" in line.facts]
    marked = len(marks) == len(several) and all(HEATER_MARK.fullmatch(mark) for mark in marks)
    if marked and all(_made_singly(power_of(line)) for line in several):
        verdict.basis = EACH
        verdict.said.append(f'a schedule by marks of heaters ("{marks[0]}") gives the figures of one, and every figure is a usual one')


def _made_singly(power: float | None) -> bool:
    """Is it a usual rating, and none so large that it is more often that of all heaters of a tank?"""
    return _made(power) and (power or 0.0) <= MOST_OF_ONE_KW


def _made(power: float | None) -> bool:
    return power is not None and any(abs(power - usual) < 0.005 for usual in CATALOGUE_KW)
