"""Remarks that give a row another supply or power than its columns do, "240 V, 1 ph" beside 480 and 3: which of the two is asked."""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.beside_the_heaters import of_another
from batch.intake.described import described
from batch.intake.line_kinds import DATA, DOUBT, Line
from batch.intake.list_columns import OF_A_SYSTEM
from batch.intake.list_words import heater_word
from batch.intake.plan import ListPlan
from batch.intake.said_in_notes import POWERS, figures_agree
from batch.intake.survey import flat
from batch.intake.verdict import close
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import words

LONGEST = 6  # words of a remark that says no more than a supply or a power: judgement, no source
ABOUT = ("total", "totals", "per_heater", "per_tank", "heaters", "fillers", "pieces")  # that say of what a power is, and nothing else
FIGURES = re.compile(r"\d[\d.,]*\s*(?:k?W|kilowatts?|watts?)?\b|[x×]", re.IGNORECASE)
PAIR = re.compile(r"\b\d{3}\s*Y?/\s*\d{3}\s*V", re.IGNORECASE)  # "400/230 V"
OTHER = re.compile(  # what was, what may be, and what is beside the heaters
    r"\b(?:was|were|ex|formerly|or|stat|thermostat|contactor|coil|transformer|trafo|plug|socket|outlet|war|fr[üu]her|statt|oder|avant|[ée]tait|ou|antes|era"
    r"|prima|oppure|vroeger|was|of|dawniej|lub|byl[oa]?|tidligere|eller|tidigare|d[řr][íi]ve|nebo)\b|\?",
    re.IGNORECASE,
)


def asked_by_remarks(plan: ListPlan, lines: Sequence[Line]) -> None:
    """Puts such rows in doubt. `lines`: those that nobody has answered for."""
    columns = {plan.columns[key].index for key in ("notes", "status") if key in plan.columns}
    for line in lines:
        for at, value in line.cells:
            text = flat(value) if at in columns and isinstance(value, str) and line.kind == DATA else ""
            if text and vocabulary()["stays"].whole(text.strip(" .!*")):
                line.kind, line.at, line.why = DOUBT, at, f'"{text[:60]}"'
            elif text and (said := _against(text, line)):
                line.kind, line.at, line.why = DOUBT, at, f'"{text[:60]}", where the row says {said},'
    for line in lines:
        told = line.facts.get("description")
        if told is not None and line.kind == DATA and (said := _described_otherwise(flat(told.seen), line)):
            line.kind, line.at, line.why = DOUBT, told.index, f'"{flat(told.seen)[:60]}", where the row says {said},'


def _against(text: str, line: Line) -> str:
    """What the row says in its columns that a remark says otherwise; "" where it says nothing of that."""
    if len(text.split()) > LONGEST or OTHER.search(text) or of_another(text):
        return ""
    agreed = figures_agree(text, line)
    volts, phases, power = (line.figure(key) for key in ("volts_v", "phases", "power_kw"))
    if volts and (agreed.get("volts_v") is False or PAIR.search(text)) and not _of_the_system(text, volts):
        return f"{volts:g} V"
    if phases and agreed.get("phases") is False:
        return f"{phases:g} phases"
    return f"{power:g} kW" if power and agreed.get("power_kw") is False and _no_more_than_a_power(text) else ""


def _described_otherwise(text: str, line: Line) -> str:
    """The power of a row's column where its description, "8 kW heater", gives neither that nor the one of all heaters, or of one."""
    power, count, total = (line.figure(key) for key in ("power_kw", "quantity", "total_kw"))
    said = described(text)
    other = said.facts.get("power_kw")
    if not power or not count or not isinstance(other, float) or said.doubt or line.facts["power_kw"].source or not heater_word(text):
        return ""
    known = (power, power * count, power / count, total or power)
    return "" if len(POWERS.findall(text)) != 1 or any(close(one, other) for one in known) else f"{power:g} kW"


def _of_the_system(text: str, volts: float) -> bool:
    """Does a remark give the volts of the system for those of the heaters, "460 V" for 480, or have them among others?"""
    given = {float(one) for one in re.findall(r"(?<!\d)\d{3}(?!\d)", text)}
    return bool({volts, OF_A_SYSTEM.get(volts, volts)} & (given | {OF_A_SYSTEM.get(one, one) for one in given}))


def _no_more_than_a_power(text: str) -> bool:
    known = vocabulary()
    said = [hit for name in ABOUT for hit in known[name].find(text)]
    rest = "".join(" " if any(one.start <= at < one.end for one in said) else sign for at, sign in enumerate(text))
    return not any(len(word) > 1 and word.isalpha() for word in words(FIGURES.sub(" ", rest)))
