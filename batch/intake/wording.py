"""Words as they are compared: case, accents, punctuation, line breaks, full-width letters and footnote marks taken off."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from typing import NamedTuple

_PIECES = re.compile(r"[tT]°(?![^\W_])|°[CFcf](?![^\W_])|[^\W_]+(?:['’]d\b)?|[%#№⌀∅]")
_NUMBER_SIGN = re.compile(r"(?<![^\W_])([nN])[°˚](?=\W|\Z|\d)")  # n° is No
_BROKEN_WORD = re.compile(r"(?<=[a-zß-öø-ÿąćęłńóśźżčďěňřšťů])[-\u00ad]\s*\n\s*(?=[a-zß-öø-ÿąćęłńóśźżčďěňřšťů])")
_PLAIN = re.compile(r"[A-Za-z0-9 ]*")
_REQUIRED = re.compile(r"(?<=\w)['’]d\b")  # req'd is one word
_RUN_TOGETHER = re.compile(r"(?<=[a-zß-ÿ]{2})(?=[A-ZÄÖÜ])")  # QtyInstalled, as databases name a column
_SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹⁽⁾"
_LETTERS = str.maketrans({"ł": "l", "ø": "o", "æ": "ae", "œ": "oe", "đ": "d", "ı": "i", "ð": "d", "þ": "th"})
_WHOLE = {"#": "no", "№": "no", "č": "no", "Č": "no", "⌀": "ø", "∅": "ø", "φ": "ø", "Φ": "ø", "ϕ": "ø", "Ø": "ø"}
_UMLAUTS = (("ä", "ae"), ("ö", "oe"), ("ü", "ue"), ("Ä", "Ae"), ("Ö", "Oe"), ("Ü", "Ue"),
            ("ø", "oe"), ("å", "aa"), ("Ø", "Oe"), ("Å", "Aa"))


class Token(NamedTuple):
    """One word of a text, folded, and where it stands in the text (in its composed form, NFC)."""

    word: str
    start: int
    end: int


def parted(text: str) -> str:
    """A heading whose words were run together, each beginning with a capital: "QtyInstalled" is "Qty Installed"."""
    return _RUN_TOGETHER.sub(" ", text)


def composed(text: str) -> str:
    """The text with letters and their accents in one character: what the places of tokens count in."""
    return text if text.isascii() else unicodedata.normalize("NFC", text)


@lru_cache(maxsize=8192)
def folded(word: str) -> str:
    """One word without case and accents: "Stückzahl" is "stuckzahl", "３" is "3", "kW²⁾" is "kw"."""
    if word.isascii():
        return "no" if word == "#" else word.casefold()
    if word in _WHOLE:
        return _WHOLE[word]
    bare = word.rstrip(_SUPERSCRIPTS) or word
    if bare[-1:] in "øØ∅⌀φΦ" and bare[:-1].isdigit():
        return bare[:-1] + "ø"
    split = unicodedata.normalize("NFKD", bare.replace("⌀", "ø"))
    return "".join(mark for mark in split if not unicodedata.combining(mark)).casefold().translate(_LETTERS)


def tokens(text: str) -> list[Token]:
    """The words of a text. "n°", "№", "#" and the Czech "č." are "no"; "°C" is one word; other punctuation parts words and is dropped."""
    text = composed(text)
    if "°" in text or "˚" in text:
        text = _NUMBER_SIGN.sub("\\1º", text)  # of the same length, so that places stay right
    return [Token(folded(_REQUIRED.sub("d", match[0])), match.start(), match.end()) for match in _PIECES.finditer(text)]


def words(text: str) -> tuple[str, ...]:
    """The folded words of a text, a word broken by a hyphen at the end of a line put together."""
    if text.isascii() and _PLAIN.fullmatch(text):  # most are: no marks, no accents
        return tuple(text.casefold().split())
    if "\n" in text:
        text = _BROKEN_WORD.sub("", composed(text))
    elif (text := composed(text)).replace(" ", "").isalpha():  # most of the others are letters alone
        return tuple(folded(word) for word in text.split())
    return tuple(token.word for token in tokens(text))


@lru_cache(maxsize=1 << 14)
def spellings(text: str) -> frozenset[tuple[str, ...]]:
    """A word of a list as it may be typed: with its umlauts, without them, and with ae, oe, ue."""
    spelt = {words(text)}
    if text.isascii():
        return frozenset(spelt - {()})
    wide = text
    for umlaut, two in _UMLAUTS:
        wide = wide.replace(umlaut, two)
    if wide != text:
        spelt.add(words(wide))
    return frozenset(spelt - {()})
