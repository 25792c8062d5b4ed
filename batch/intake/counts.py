"""How many: "2 Stk.", "(3)", "6 ea.", "two", "4+1 spare", "3 x 6 kW", "2 per tank", a dozen. What is not sure is said, not guessed."""

from __future__ import annotations

import re
from functools import lru_cache

from msgspec import Struct

from batch.intake.numbers import speak
from batch.intake.vocabulary import vocabulary
from batch.intake.wording import tokens, words

LONGEST = 60
MOST = 1000  # heaters of one row, and what a word or a dozen may come to
_LABEL = re.compile(
    r"(?:qty|quantity|count|menge|anz(?:ahl)?|antall?|počet|qté|cant|no|nos|nr|n|n[°º])\s*[.:=]?\s*(?=[\d(\[])", re.IGNORECASE
)
EVERY = (  # in each language; "both" is all of two only
    r"all|alles?n?|s[äa]mtliche|tous|toutes|tod[oa]s|tutt[ie]|allemaal|wszystkie|samtlige|alla|samtliga|v[šs]echn[ay]|hepsi\w*"
)
_ALL_OF = re.compile(rf"(?:{EVERY})\s+(?:of\s+)?(?:(?:the|les|los|las|gli|le|os|as|de|di)\s+)?(?=\d)", re.IGNORECASE)  # "all 4" are four
_BRACKETED = re.compile(r"[(\[]\s*(\d{1,4})\s*[)\]]\s*(?:[x×*@]\s*)?(?P<rest>.*)\Z", re.DOTALL)
_TIMES = re.compile(r"(?:(\d{1,4})\s*[x×*@](?!\w*\d*\s*[x×])|[x×]\s*(\d{1,4})(?!\d))\s*(?P<rest>.*)\Z", re.IGNORECASE | re.DOTALL)
_PLUS = re.compile(
    r"(?P<run>\d{1,4})(?P<between>[^+\d]{0,30})(?:\+|plus|and|&)\s*\(?(?P<more>\d{1,3})\)?\s*(?P<what>[^\d+]{0,40})\Z", re.IGNORECASE
)
_NUMBER = re.compile(r"(?P<number>\d{1,4}(?:[.,]\d{1,3})?)(?![\d.,/])(?P<rest>.*)\Z", re.DOTALL)
_ROUGHLY = re.compile(
    r"\A\s*(?:~|≈|cc?a\.?\s|asi\s|ungef[äa]r|omkring|p[řr]ibli[žz]n[ěe]|approx\.?|about|env\.|circa|max\.?|min\.?|up to|[<>≤≥])"
    r"|\?|\d\s*(?:-|–|to|til|till|až|or|/|oder|ou|o|of|eller|nebo)\s*\d",
    re.IGNORECASE,
)
# "4 (two each end)": a tank has two ends, and two sides that heaters hang on
_AT_BOTH = re.compile(
    r"\(?\s*(?P<number>\d{1,2}|[^\W\d_]{2,8})\s+(?:(?:on|at|an|auf|en|op|z|på)\s+)?"
    r"(?:each|per|every|je|jeder|pro|par|de chaque|por|cada|elke|każdej|hver|varje)\s+"
    r"(?:ends?|sides?|seite|ende|c[ôo]t[ée]|bout|lado|extremo|lato|estremit[àa]|zijde|kant|strony|side|sida)\s*\)?\s*\Z",
    re.IGNORECASE,
)


class Count(Struct, frozen=True):
    """How many a text says.

    value  None where it cannot be told; `doubt` says why, and is "" where all is sure
    spare  said to be spare, beside `value`
    basis  "each", "per tank" or "total", where the text says of what it is the count
    rest   what follows and is no count: the "6 kW" of "3 x 6 kW"
    """

    value: int | None
    spare: int = 0
    basis: str = ""
    rest: str = ""
    doubt: str = ""


@lru_cache(maxsize=4096)
def read_count(text: str, decimal: str = "") -> Count | None:
    """The count that a cell says; None where it says none. `decimal`: the sheet's mark before decimals, "" = not known."""
    plain = _plain(text)
    if not plain or len(plain) > LONGEST:
        return None
    if _ROUGHLY.search(plain):
        return Count(None, doubt=f'"{text.strip()}" is no sure count') if re.search(r"\d", plain) else None
    label = _LABEL.match(plain) or _ALL_OF.match(plain)
    plain = plain[label.end() :] if label else plain
    if match := _PLUS.fullmatch(plain):
        return _plus(match, text)
    for pattern in (_BRACKETED, _TIMES):
        if match := pattern.match(plain):
            return _with_rest(int(match[1] or match[2]), match["rest"], text)
    if match := _NUMBER.match(plain):
        said = speak(match["number"], decimal)
        meant = [value for value in (said.value, said.other) if value is not None and value <= MOST] if said else []
        if not meant and said:
            return Count(None, doubt=f'"{text.strip()}" is more than {MOST}')
        if len(meant) != 1:
            return Count(None, doubt=f'"{text.strip()}" is {" or ".join(f"{value:g}" for value in meant)}') if meant else None
        if meant[0] != int(meant[0]):
            return Count(None, doubt=f'"{text.strip()}" is no whole number')
        return _with_rest(int(meant[0]), match["rest"], text)
    return _worded(plain, text)


def _plain(text: str) -> str:
    full = "".join(chr(ord(mark) - 0xFEE0) if "！" <= mark <= "～" else mark for mark in text)
    return " ".join(full.replace("\u00a0", " ").strip(" \t\r\n*†‡").split()).rstrip("⁰¹²³⁴⁵⁶⁷⁸⁹⁽⁾ ")


def _plus(match: re.Match[str], text: str) -> Count:
    """"4+1 spare": four in service and one spare; "4 + 1" does not say what the one is."""
    run, more = int(match["run"]), int(match["more"])
    if vocabulary()["spare"].find(match["what"]) and not vocabulary()["spare"].find(match["between"]):
        return Count(run, spare=more)
    return Count(None, doubt=f'"{text.strip()}" does not say what the {more} are for')


def _with_rest(value: int, rest: str, text: str) -> Count:
    """A number and what follows: pieces, the basis, the number again in words, or something that is no count."""
    known = vocabulary()
    if value > MOST:
        return Count(None, doubt=f'"{text.strip()}" is more than {MOST}')
    rest = rest.strip(" .:;-–")
    both = _AT_BOTH.match(rest)
    each = 0 if both is None else int(both["number"]) if both["number"].isdigit() else known.number(both["number"])
    if each:
        return Count(value) if 2 * each == value else Count(None, doubt=f'"{text.strip()}" says {value} and {each:g} at each of two')
    again = re.match(r"\(?\s*([^\W\d_]+)\s*\)?\s*(.*)\Z", rest, re.DOTALL)
    if again and (number := known.number(again[1])) is not None and not known["pieces"].whole(again[1]):
        if number != value:
            return Count(None, doubt=f'"{text.strip()}" says {value} and {number}')
        rest = again[2].strip(" .)")
    parts = words(rest)
    if known["dozen"].whole(rest):
        return Count(value * 12) if value * 12 <= MOST else Count(None, doubt=f'"{text.strip()}" is more than {MOST}')
    if known["spare"].among(parts):
        return Count(None, doubt=f'"{text.strip()}": whether the spare ones are among the {value} is not said')
    basis = ""
    for name, said in (("per_tank", "per tank"), ("per_heater", "each"), ("total", "total")):
        places = known[name].among(parts)
        if places and (name != "per_heater" or not known["pieces"].among(parts)):
            basis = basis or said
            for start, end in reversed(places):
                parts = parts[:start] + parts[end:]
    for start, end in reversed(known["pieces"].among(parts)):
        parts = parts[:start] + parts[end:]
    parts = tuple(part for part in parts if not known["fillers"].among((part,)) and not known["heaters"].among((part,)))
    return Count(value, basis=basis, rest=rest if parts else "")


def _worded(plain: str, text: str) -> Count | None:
    """"two", "two (2)", "a pair of heaters", "a dozen"."""
    known = vocabulary()
    seen = tokens(plain)
    for length in (2, 1):
        if len(seen) < length:
            continue
        number = known.numbers.get(tuple(token.word for token in seen[:length]))
        if number is None:
            continue
        rest = plain[seen[length - 1].end :].strip(" .:-")
        figure = re.match(r"\(\s*(\d{1,4})\s*\)(.*)\Z", rest, re.DOTALL)
        if figure and int(figure[1]) != number:
            return Count(None, doubt=f'"{text.strip()}" says {number} and {figure[1]}')
        return _with_rest(number, figure[2] if figure else rest, text)
    return Count(12) if known["dozen"].whole(plain) or known["dozen"].whole(plain.removeprefix("a ")) else None
