"""Remarks by which fewer of a row's heaters are wanted than it has, "replace one only", "need 1", "1 bad"; and sentences that ask for
heaters without saying which."""

from __future__ import annotations

import re

from batch.intake.counts import EVERY
from batch.intake.list_words import ditto, hits, is_heater
from batch.intake.tank_words import SAME
from batch.intake.vocabulary import vocabulary

ALONE = re.compile(
    r"\b(?:only|alone|nur|seulement|uniquement|s[oó]lo|solamente|soltanto|alleen|tylko|apenas|somente"
    r"|kun|bara|endast|enbart|pouze|jen)\b",
    re.IGNORECASE,
)
_EVERY = re.compile(rf"\b(?:{EVERY})\b", re.IGNORECASE)  # "one dead, change all 3"
_BOTH = re.compile(r"both|beide|amb[oa]s|entramb[ie]|oba|obie|begge|b[åa]da|ob[ěe]", re.IGNORECASE)
_NEED = re.compile(  # trade words, common practice, no source; what is to be renewed is data of each language
    r"\b(?:needs?|wants?|requires?|brauch(?:t|en)|ben[öo]tig(?:t|en)|besoin de|necesitan?|servono|serve|nodig|potrzeba"
    r"|precisa(?:mos)?(?: de)?|beh[öo]ver|trenger|pot[řr]eba)\Z",
    re.IGNORECASE,
)
OF_SOME = re.compile(  # "one heater added", "2 of them titanium": a number of those that the row counts
    r"\b(?:added|additional|extra|more|further|of (?:them|these|which|those)|hinzu\w*|zus[äa]tzlich\w*|weitere?\w*|davon|ajout\w*|dont"
    r"|suppl[ée]mentaires?|en plus|a[ñn]adid\w*|agregad\w*|adicional\w*|de ell[oa]s|aggiunt\w*|in pi[ùu]|di cui|toegevoegd|bijgekomen"
    r"|waarvan|dodan\w*|dodatkow\w*|z tego|w tym|acrescentad\w*|adicionad\w*|dos quais|das quais|tilf[øo]jet|ekstra|heraf|herav|lagt til"
    r"|tillag\w*|varav|p[řr]id[áa]n\w*|nav[íi]c|z toho)\b",
    re.IGNORECASE,
)
_OF_SEVERAL = re.compile(
    r"(?P<before>\S.*?)\s+(?P<number>\d{1,2})\s*(?:of|out of|von|de|su|di|van|z|ze|af|av)\s*(?:the\s+)?\d{1,2}(?:\W.*)?", re.IGNORECASE
)
_IS = re.compile(r"(?:is|are|ist|sind|est|sont|of|them)\b\s*", re.IGNORECASE)


def fewer_wanted(text: str) -> int:
    """How many heaters a short remark wants, or says have failed; 0 where it says neither, or wants them all."""
    said = ALONE.sub(" ", text).strip(" .!").split()
    if not said or _EVERY.search(text):
        return 0
    if (some := _OF_SEVERAL.fullmatch(" ".join(said))) and _wants(some["before"]):  # "replace 1 of 3 only"
        return int(some["number"])
    behind = " ".join(word for word in said[1:] if not (is_heater(word) or _IS.fullmatch(word)))
    if (failed := _number(said[0])) and any(hit.start == 0 for hit in hits("worn", behind)):
        return failed
    while len(said) > 1 and (is_heater(said[-1]) or _IS.fullmatch(said[-1])):
        said.pop()
    return _number(said[-1]) if _wants(" ".join(said[:-1])) else 0


def asks_for_heaters(text: str) -> bool:
    """Does a sentence about a tank ask for something: "Tank A2 needs two of the same"?"""
    words = text.split()
    return SAME.search(text) is not None or any(ditto(word) for word in words) or any(map(_wants, words))


def names_a_number(text: str) -> bool:
    """Is one of the words of a text a number?"""
    return any(_number(word.strip(".,;:")) for word in text.split())


def _number(word: str) -> int:
    return int(word) if word.isdecimal() else vocabulary().number(word) or (2 if _BOTH.fullmatch(word) else 0)


def _wants(text: str) -> bool:
    """Does a text end in a word that wants something, "please replace", "we need"?"""
    return _NEED.search(text) is not None or any(hit.end == len(text) for hit in hits("to_renew", text))
