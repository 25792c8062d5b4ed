"""Remarks that say no more than that spare heaters lie on a shelf: they are wired to nothing, and say nothing of the row's own."""

from __future__ import annotations

import re

from batch.intake.counts_of_spares import STORED
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import tokens

AMONG = re.compile(  # of those that the row counts, or asked for
    r"\?|\b(?:incl\w*|of (?:them|these|which|those)|want|need|order|quote|add|davon|inkl\w*|bestellen|dont|compris\w*|commander|de ell[oa]s"
    r"|pedir|di cui|ordinare|waarvan|z tego|w tym|zam[óo]wi\w*|dos quais|das quais|encomendar|heraf|herav|varav|bestill\w*|best[äa]ll\w*"
    r"|z toho|objednat)\b",
    re.IGNORECASE,
)
MORE = re.compile(
    r"\b(?:more|extra|weitere\w*|autres?|de plus|m[áa]s|altr[ie]|extra|dodatkow\w*|mais|flere|ekstra|fler|till|dal[šs]\w*|nav[íi]c)\b",
    re.IGNORECASE,
)
LONGEST = 8  # words of such a remark: judgement, no source


def only_shelved_spares(text: str) -> bool:
    """ "+2 spare on shelf", "1 Ersatz im Lager": a number, a word for spare ones and a place where they lie, and no other doubt."""
    known = vocabulary()
    said = tokens(text)
    if len(said) > LONGEST or AMONG.search(text) or STORED.search(text) is None:
        return False
    spare = known["spare"].find(text)
    counted = any(one.word.isdecimal() or known.number(one.word) is not None for one in said)
    others = [hit for hit in known["doubt"].find(text) if not any(one.start < hit.end and hit.start < one.end for one in spare)]
    others = [hit for hit in others if STORED.search(text[hit.start : hit.end]) is None]
    return counted and bool(spare or MORE.search(text)) and not others and not known["out"].find(text)
