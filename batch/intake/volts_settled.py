"""A cell of two voltages, "240/480", settled by a remark of its row: "wire for 480"."""

from __future__ import annotations

import re

from batch.intake.facts import Fact
from batch.intake.line_kinds import Line, supply_in
from batch.intake.list_columns import USUAL_VOLTS
from batch.intake.remark_words import read_row_words

FIGURES = re.compile(r"(?<![\w.,])(\d{3})(?!\d|[.,]\d)")
_VERBS = (
    r"wired?|connect(?:ed)?|run(?:ning)?|used?|fed|feed|set|hook(?:ed)? up|strap(?:ped)?|jumper(?:ed)?|supply"
    r"|verdrahte[nt]|anschlie(?:ß|ss)en|angeschlossen|schalten|geschaltet|c[âa]bl[ée]\w*|branch[ée]\w*|raccord[ée]\w*|conect\w+|cablea\w*"
    r"|colleg\w+|aan(?:ge)?slo?[uo]t\w*|aansluiten|pod[łl][ąa]cz\w+|liga[rd]\w*|tilslut\w+|kobl\w+|koppl\w+|anslut\w*|zapoj\w+|p[řr]ipoj\w+"
)
WIRED_FOR = re.compile(rf"\b(?:{_VERBS})\b\s*(?:[^\W\d_]+\s+){{0,2}}?@?\s*(\d{{3}})(?!\d|[.,]\d)", re.IGNORECASE)
BEHIND = re.compile(rf"(?<![\w.,])(\d{{3}})\s*V?\s+(?:{_VERBS})\b", re.IGNORECASE)  # "400 V anschließen"
TWO = 2


def settle_volts(line: Line, texts: list[tuple[int, str]]) -> None:
    """Takes the one of a row's two voltages by which a remark says that it is wired. `texts`: of its remarks."""
    fact = line.facts.get("volts_v")
    either = {float(one) for one in FIGURES.findall(fact.seen)} if fact is not None and fact.value is None else set()
    if fact is None or len(either) != TWO or not either <= USUAL_VOLTS:
        return
    for at, text in texts:
        if "?" in text or read_row_words(text).fate or len({float(one) for one in FIGURES.findall(text)} & either) != 1:
            continue  # both, or neither
        wired = WIRED_FOR.search(text) or BEHIND.search(text)
        supply = supply_in(text)
        volts = float(wired[1]) if wired is not None else supply.volts if supply is not None else None
        if volts in either:
            line.facts["volts_v"] = Fact(volts, at, f"{fact.seen}, {text}"[:60], source="description")
            return
