"""Remarks by which fewer of a row's heaters are wanted than it has, "replace one only", "need 1", "1 bad"; and those that ask for heaters
without saying which. Trade words: common practice, no source."""

from __future__ import annotations

import re

_NUMBERS = {
    1: "one|eine?[nrs]?|une?|un[ao]?|uno|[ée]en|jede?n|jedn[aou]|um|uma|bir|én|ett?",
    2: "two|zwei|deux|d[oó]s|due|twee|dwa|dwie|dois|duas|dva|dv[ěe]|tv[åa]|iki|both",
    3: "three|drei|trois|tres|tre|drie|trzy|tr[êe]s|t[řr]i|üç",
    4: "four|vier|quatre|cuatro|quattro|cztery|quatro|[čc]ty[řr]i|fire|fyra|dört",
    5: "five|f[üu]nf|cinq|cinco|cinque|vijf|pi[ęe][ćc]|p[ěe]t|fem|be[şs]",
}  # fmt: skip
_ANY = "|".join([r"\d{1,2}", *_NUMBERS.values()])
_WANT = (
    r"needs?|wants?|requires?|replace|renew|order|buy|quote|brauch(?:t|en)|ben[öo]tig(?:t|en)|ersetzen|tauschen|besoin de|remplacer|changer"
    r"|necesitan?|reemplazar|cambiar|servono|serve|sostituire|cambiare|nodig|vervangen|potrzeba|wymieni[ćc]|precisa(?:mos)?(?: de)?|trocar"
    r"|substituir|beh[öo]ver|byt(?:a|te)?|trenger|skift(?:e)?|udskift(?:es)?|pot[řr]eba|vym[ěe]nit|de[ğg]i[şs]tir"
)
_LOST = (
    r"bad|dead|burnt?(?: out)?|burned(?: out)?|failed|broken|shorted|grounded|open|out|gone|defekt|kaputt|durchgebrannt"
    r"|grill[ée]e?|mort[eo]?|quemad[oa]|fundid[oa]|averiad[oa]|bruciat[oa]|guast[oa]|rott[oa]|stuk|kapot|uszkodzon[aey]|spalon[aey]|queimad[oa]"
    r"|trasig|sönder|ødelagt|vadn[ýeá]|sp[áa]len[ýeé]|ar[ıi]zal[ıi]"
)
_THING = r"(?:\s+(?:of them|heaters?|htrs?|elements?|heizer|r[ée]sistances?|resistencias?|resistenze?))?"
_FEWER = re.compile(
    rf"\b(?:only\s+)?(?:{_WANT})\s+(?:only\s+|nur\s+|s[óo]lo\s+|solo\s+)?(?P<wanted>{_ANY})(?![\w.,/%]*\d){_THING}(?:\s+(?:only|alone))?\s*[.!]?\Z"
    rf"|\A\W*(?:only\s+|nur\s+)?(?P<lost>{_ANY}){_THING}\s+(?:is\s+|are\s+|ist\s+|est\s+)?(?:{_LOST})\b",
    re.IGNORECASE,
)
_SAME = re.compile(
    rf"\b(?:{_WANT}|same|ditto|likewise|gleich\w*|dito|m[êe]mes?|idem|mism[oa]s?|iguale?s?|stess[oaie]|zelfde|hetzelfde|tak[aie]\w* sam\w*"
    r"|mesm[oa]s?|samma|samme|stejn\w*|ayn[ıi])\b",
    re.IGNORECASE,
)
_ALL = re.compile(  # "one dead, change all 3"
    r"\b(?:all|alles?n?|tou(?:s|tes)|tod[oa]s|tutt[ei]|allemaal|wszystkie|alla|v[šs]echn[ya]|hepsi\w*)\b", re.IGNORECASE
)


def fewer_wanted(text: str) -> int:
    """How many heaters a short remark wants, or says are lost; 0 where it says neither, or wants them all."""
    found = _FEWER.search(text)
    if found is None or _ALL.search(text):
        return 0
    said = (found["wanted"] or found["lost"]).casefold()
    return int(said) if said.isdecimal() else next(number for number, words in _NUMBERS.items() if re.fullmatch(words, said, re.IGNORECASE))


def asks_for_heaters(text: str) -> bool:
    """Does a sentence about a tank ask for something: "Tank 2 needs two of the same"?"""
    return _SAME.search(text) is not None
