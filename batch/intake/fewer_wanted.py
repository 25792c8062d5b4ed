"""Remarks by which fewer of a row's heaters are wanted than it has, "replace one only", "need 1", "1 bad"; and sentences that ask for
heaters without saying which."""

from __future__ import annotations

import re
from functools import lru_cache

from batch.intake.counts import EVERY
from batch.intake.list_supply import EXCEPT
from batch.intake.list_words import counts_pieces, ditto, hits, is_heater
from batch.intake.sentence_words import forms, saying
from batch.intake.tank_words import SAME
from batch.intake.vocabulary import vocabulary

ALONE = re.compile(
    r"\b(?:only|alone|nur|seulement|uniquement|s[oó]lo|solamente|soltanto|alleen|tylko|apenas|somente"
    r"|kun|bara|endast|enbart|pouze|jen)\b",
    re.IGNORECASE,
)
_EVERY = re.compile(rf"\b(?:{EVERY})\b", re.IGNORECASE)  # "one dead, change all 3"
_ALL_BUT = re.compile(rf"\b(?:{EVERY})\s+(?:\w+\s+)?(?:{EXCEPT.pattern}|but\b|bis auf\b|op een na\b)", re.IGNORECASE)  # "all but one"
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
_IS = re.compile(r"(?:is|are|ist|sind|est|sont|of|them)\b\s*", re.IGNORECASE)


def fewer_wanted(text: str) -> int:
    """How many heaters a short remark wants, or says have failed; 0 where it says neither, or wants them all."""
    if _ALL_BUT.search(text) and (hits("to_renew", text) or _which_of_them(text)):
        return 1
    said = ALONE.sub(" ", text).strip(" .!").split()
    if not said or _EVERY.search(text):
        return 0
    if (ALONE.search(text) or saying("the_half").search(text)) and hits("to_renew", text) and _which_of_them(text):
        return 1
    if some := _of_several(" ".join(said)):
        return some
    if (asked := _number(said[0])) and _wants(" ".join(word for word in said[1:] if not _counted(word)), whole=True):  # "1 ersetzen"
        return asked
    behind = " ".join(word for word in said[1:] if not (is_heater(word) or _IS.fullmatch(word)))
    if (failed := _number(said[0])) and any(hit.start == 0 for hit in hits("worn", behind)):
        return failed
    while len(said) > 1 and (is_heater(said[-1]) or _IS.fullmatch(said[-1])):
        said.pop()
    return _number(said[-1]) if _wants(" ".join(said[:-1])) else 0


def _which_of_them(text: str) -> bool:
    """ "Only replace the left one", "replace half of them": some of the row's heaters, and not how many."""
    return saying("one_by_its_place").search(text) is not None or saying("the_half").search(text) is not None


def _of_several(text: str) -> int:
    """How many of several are wanted, or have failed, the verb before them or behind: "replace 1 of 3 only", "2 von 3 ersetzen"."""
    pieces = [word for word in text.split() if not _counted(word)]
    for some in _some_of_all().finditer(" ".join(pieces)):
        part, whole = _number(some["part"] or some["behind"] or "1"), _number(some["whole"] or some["all"])
        before, after = some.string[: some.start()].strip(), some.string[some.end() :].strip()
        asked = _wants(before) or hits("to_renew", after) or hits("worn", after) or saying("are_wanted").search(after)
        if 0 < part < whole and asked:
            return part
    return 0


def _counted(word: str) -> bool:
    """A heater, or a word for pieces: what is counted."""
    return is_heater(word) or counts_pieces(word.strip("."))


@lru_cache(maxsize=1)
def _some_of_all() -> re.Pattern[str]:
    """ "1 of 3", "une sur trois"; Turkish has the whole before the part: "3 adetten 1'i"."""
    number = r"(?:\d{1,2}|[^\W\d_]+)"
    between = rf"\s*{forms('out_of_all')}\s+(?:{forms('all_that_there_are')}\s+)?"
    part_first = rf"(?:{forms('one_of_all')}|(?P<part>{number})){between}(?P<whole>{number})"
    whole_first = r"(?P<all>\d{1,2})\s*(?:'?[^\W\d_]*(?:[dt][ea]n|[ıiuü]n))\s+(?P<behind>\d{1,2})(?:'?[^\W\d_]{1,3})?"
    return re.compile(rf"(?<!\w)(?:{part_first}|{whole_first})(?!\w)", re.IGNORECASE)


def asks_for_heaters(text: str) -> bool:
    """Does a sentence about a tank ask for something: "Tank A2 needs two of the same"?"""
    words = text.split()
    return SAME.search(text) is not None or any(ditto(word) for word in words) or any(map(_wants, words))


def names_a_number(text: str) -> bool:
    """Is one of the words of a text a number?"""
    return any(_number(word.strip(".,;:")) for word in text.split())


def _number(word: str) -> int:
    return int(word) if word.isdecimal() else vocabulary().number(word) or (2 if _BOTH.fullmatch(word) else 0)


def _wants(text: str, *, whole: bool = False) -> bool:
    """Does a text end in a word that wants something, "please replace", "we need", or is it no more than that?"""
    if whole:
        return bool(vocabulary()["to_renew"].whole(text)) or saying("are_wanted").fullmatch(text) is not None
    return _NEED.search(text) is not None or any(hit.end == len(text) for hit in hits("to_renew", text))
