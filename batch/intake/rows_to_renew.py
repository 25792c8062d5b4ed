"""Lists of an inspection: rows that are well beside rows that are to be renewed, and one heater of several that has failed.

Whoever sends such a list wants the ones that it says are to be replaced. That the others are wanted too is nobody's guess.
"""

from __future__ import annotations

import re
from collections.abc import Sequence, Set

from batch.intake.counts import EVERY
from batch.intake.line_kinds import DATA, DOUBT, OUT, Line
from batch.intake.list_words import old_word
from batch.intake.plan import ListPlan
from batch.intake.survey import flat
from batch.intake.vocabulary import vocabulary

FIRST_CLAUSE = re.compile(r"[,;:(]|\s[-–]\s")  # "REPLACE - open element" is "REPLACE"
MOSTLY_SAID = 0.75  # of the rows, for a column to say of each whether it is renewed: judgement, no source
WORDY = frozenset({"notes", "status"})
SEVERAL = 2  # heaters
_ONE = (  # in each language: a number of one, and a word for what has failed
    r"\b(?:one|1)\s+(?:of\s+\w+\s+)?(?:[^\W\d_]+\s+){0,2}?(?:dead|open|failed|bad|burne?d|burnt|out(?!\s+of)|shorted|grounded|leaking|leaks|broken"
    r"|down|defective|faulty|not working)\b",
    r"\bopen (?:element|heater|leg)\b|\b(?:element|heater|leg) (?:is )?open\b",
    r"\b(?:eine?r?|1)\s+(?:von\s+\w+\s+)?(?:[^\W\d_]+\s+){0,2}?(?:defekt|kaputt|ausgefallen|durchgebrannt|undicht|tot)\b",
    r"\b(?:une?|1)\s+(?:[^\W\d_]+\s+){0,2}?(?:en panne|grill[ée]e?|mort|morte|HS|d[ée]fectueux|d[ée]fectueuse|cass[ée]e?|coup[ée]e?)(?!\w)",
    r"\b(?:un[oa]?|1)\s+(?:[^\W\d_]+\s+){0,2}?(?:quemad[oa]|averiad[oa]|fundid[oa]|rot[oa]|defectuos[oa]|abiert[oa])\b",
    r"\b(?:un[oa]?|1)\s+(?:[^\W\d_]+\s+){0,2}?(?:guast[oa]|bruciat[oa]|rott[oa]|difettos[oa]|interrott[oa])\b",
    r"\b(?:een|[ée][ée]n|1)\s+(?:[^\W\d_]+\s+){0,2}?(?:defect|kapot|stuk|doorgebrand|lek)\b",
    r"\b(?:jeden|jedna|1)\s+(?:[^\W\d_]+\s+){0,2}?(?:uszkodzon\w|przepalon\w|niesprawn\w|zepsut\w)\b",
    r"\b(?:uma?|1)\s+(?:[^\W\d_]+\s+){0,2}?(?:queimad[oa]|avariad[oa]|com defeito|partid[oa])\b",
    r"\b(?:en|ett?|[ée]n|[ée]t|1)\s+(?:[^\W\d_]+\s+){0,2}?(?:defekt|i stykker|br[æe]ndt|[øo]delagt|utett|trasig|utbr[äa]nd|s[öo]nder)\b",
    r"\b(?:jeden|jedna|jedno|1)\s+(?:[^\W\d_]+\s+){0,2}?(?:vadn\w|sp[áa]len\w|porouchan\w|p[řr]ep[áa]len\w)\b",
)
ONE_FAILED = re.compile("|".join(_ONE), re.IGNORECASE)
OF_ALL = re.compile(  # "one dead, change all 3", "change both"
    rf"\b(?:{EVERY}|both|set|beide|les deux|amb[oa]s|los dos|las dos|entramb[ie]|oba|obie|obydwa|os dois|as duas|begge|b[åa]da|ob[ěe])\b",
    re.IGNORECASE,
)


def ask_beside_renewed(lines: Sequence[Line], plan: ListPlan) -> None:
    """Puts in doubt the rows that are well where others are to be renewed, and those of several heaters of which one has failed."""
    heated = [line for line in lines if line.kind in (DATA, DOUBT, OUT)]
    figures = {column.index for key, column in plan.columns.items() if key not in WORDY}
    for at in range(plan.first, plan.last + 1):
        if at not in figures:
            _beside_renewed(heated, plan, at)
    before = plan.before()
    for line in heated:
        count = line.figure("quantity") or 0
        if _given_anew(line, before):  # "New" beside "Existing": one that has failed is one of the old
            continue
        if line.kind != DATA or count < SEVERAL or line.index + 1 in plan.keep_rows:
            continue
        texts = [(at, flat(value)) for at, value in line.cells if at not in figures and isinstance(value, str)]
        if any(OF_ALL.search(text) or (plan.given and old_word(text)) for _, text in texts):  # a map says which columns count
            continue
        if failed := next(((at, text) for at, text in texts if ONE_FAILED.search(text)), None):
            line.kind, line.at = DOUBT, failed[0]
            line.why = f'"{failed[1][:60]}" (one of {count:g} heaters, or all of them)'


def _given_anew(line: Line, before: Set[int]) -> bool:
    """Are number and power read from columns of what is to be, beside those of what was?"""
    facts = [line.facts.get(key) for key in ("quantity", "power_kw")]
    return bool(before) and all(fact is not None and fact.value is not None and fact.index not in before for fact in facts)


def _beside_renewed(heated: Sequence[Line], plan: ListPlan, at: int) -> None:
    """The rows of one column of words that do not say "replace", where others do, and some say that all is well."""
    known = vocabulary()
    said = {id(line): _said(line, at) for line in heated}
    renewed = [key for key, text in said.items() if known["to_renew"].whole(text)]
    well = [key for key, text in said.items() if known["is_well"].whole(text)]
    if not renewed or not well:
        return
    told = len(renewed) + len(well) >= MOSTLY_SAID * len(heated)  # then a blank, or "watch it", says as little
    example = next(text for text in said.values() if known["to_renew"].whole(text))
    for line in heated:
        if line.kind == DATA and line.index + 1 not in plan.keep_rows and (id(line) in well or (told and id(line) not in renewed)):
            line.kind, line.at = DOUBT, at
            line.why = f'"{said[id(line)][:40]}", where other rows say "{example[:40]}",'


def _said(line: Line, at: int) -> str:
    """The words of a cell up to the first comma or dash."""
    text = next((flat(value) for column, value in line.cells if column == at and isinstance(value, str)), "")
    return FIRST_CLAUSE.split(text)[0].strip(" .!*")
