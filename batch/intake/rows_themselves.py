"""Rows that say themselves what their power is of: by the amps of the row, or by "each" in a remark."""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import sqrt

from batch.intake.heading_sense import EACH, TANK
from batch.intake.line_kinds import Line
from batch.intake.list_words import hits
from batch.intake.plan import ListPlan
from batch.intake.powers_marked import by_marks_of_rows, shared_out
from batch.intake.sentence_words import saying
from batch.intake.survey import flat
from batch.intake.verdict import Verdict, close, close_amps, count_of, plain, power_of

LONGEST_REMARK = 60
LONGEST_UNIT = 3
LEAST_ROWS = 2  # that show what amps are of, for the others to be read by it: judgement, no source
POWER_SAID = re.compile(r"(\d+(?:[.,]\d+)?)\s*k\s?w\b", re.IGNORECASE)
ONE_HEATER = re.compile(  # "Heaters kW" does not; common practice, no source
    r"\b(?:heater|htr|element)(?:['’]s)?[\s_.-]+(?:size|rating|rated|power|k\s?w|watt(?:s|age)?|w|capacity)\b", re.IGNORECASE
)


def by_singular(verdict: Verdict, plan: ListPlan) -> None:
    """Where figures and other witnesses leave it open, a heading that speaks of one heater: "Heater kW", "Element watts"."""
    heading = plan.columns["power_kw"].heading if "power_kw" in plan.columns else ""
    of_one = ONE_HEATER.search(heading) or saying("power_of_one").search(heading)
    if of_one and not hits("total", heading) and not hits("per_tank", heading):
        verdict.basis = EACH
        verdict.said.append(f'"{heading}" speaks of one heater')


def by_own_words(verdict: Verdict, plan: ListPlan, several: Sequence[Line], around: Sequence[tuple[int, int, str]]) -> None:
    """Where nothing decides for all: rows that say it themselves, by a mark, by the amps of one heater, by "12 kW each" in a remark."""
    verdict.of_rows |= by_marks_of_rows(several, around)
    heading = plan.columns["amps_a"].heading if "amps_a" in plan.columns else ""
    heading = heading if len(heading) > LONGEST_UNIT else ""  # "A" says nothing but the unit
    of_one, of_all = bool(hits("per_heater", heading)), bool(hits("total", heading) or hits("per_tank", heading))
    if not of_one and not of_all:
        of_one, of_all = _amps_of(several)
    units = _columns_of_pieces(several)
    for line in several:
        q, p = count_of(line) or 1.0, power_of(line) or 0.0
        for at, value in line.cells:
            text = flat(value) if isinstance(value, str) and at not in units else ""
            if text and not POWER_SAID.search(text) and len(text) <= LONGEST_REMARK and _says_each(text):
                verdict.of_rows[line.index] = (EACH, f'"{text[:60]}"')
            if text and shared_out(line, text):
                verdict.of_rows[line.index] = (TANK, f'"{text[:60]}"')
            found = POWER_SAID.findall(text)
            if found and hits("per_heater", text) and any(close(plain(one) or 0.0, p) for one in found):
                verdict.of_rows[line.index] = (EACH, f'"{text[:60]}"')
        amps, volts, phases = (line.value(key) for key in ("amps_a", "volts_v", "phases"))
        if not isinstance(amps, (int, float)) or not isinstance(volts, (int, float)) or not volts or not (of_one or of_all):
            continue
        one = 1000.0 * p / (volts * (sqrt(3.0) if phases == 3 else 1.0))
        each, tank = (one, one / q) if of_one else (q * one, one)
        if close_amps(amps, each) != close_amps(amps, tank):
            basis = EACH if close_amps(amps, each) else TANK
            verdict.of_rows[line.index] = (basis, f"the {amps:g} A of the row")
        elif not close_amps(amps, each):
            verdict.odd_rows[line.index] = f"its {amps:g} A fit neither {p:g} kW of each heater nor {p:g} kW of all"


def _columns_of_pieces(several: Sequence[Line]) -> set[int]:
    """Columns of a unit that things are counted in: "EA" in every row says nothing of the power."""
    texts: dict[int, set[str]] = {}
    for line in several:
        for at, value in line.cells:
            if isinstance(value, str):
                texts.setdefault(at, set()).add(flat(value).strip(" .").casefold())
    return {at for at, found in texts.items() if len(found) == 1 and _of_pieces(next(iter(found)))} if len(several) > 1 else set()


def _of_pieces(text: str) -> bool:
    return any(hit.word.strip(" .").casefold() == text for hit in hits("pieces", text))


def _amps_of(several: Sequence[Line]) -> tuple[bool, bool]:
    """Are the amps of one heater, or of all of a row? By rows whose amps can be but one of the two."""
    one = every = 0
    for line in several:
        amps, volts, phases, q, p = (line.figure(key) for key in ("amps_a", "volts_v", "phases", "quantity", "power_kw"))
        if amps is None or not volts or not q or p is None:
            continue
        of_p = 1000.0 * p / (volts * (sqrt(3.0) if phases == 3 else 1.0))
        every += close_amps(amps, q * of_p)
        one += close_amps(amps, of_p / q)
    return one >= LEAST_ROWS and not every, every >= LEAST_ROWS and not one


def _says_each(text: str) -> bool:
    """Is a clause of a remark no more than "each", "per stuk"?"""
    return any(hits("per_heater", clause) and hits("per_heater", clause)[0].word.casefold() == clause.strip(" .()").casefold()
               for clause in re.split(r"[,;]|\s[-–]\s", text))  # fmt: skip
