"""How people answer in passing, "yes, all but TK-10", "about 100 ft", "480/277 wye, solidly grounded" -> the words that a cell would hold.

Nothing is concluded that the words do not say: what could mean two things stays as it is, and is then not taken.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from batch.sheets import Column

YES, NO = "yes", "no"
SAID_YES = frozenset({"yes", "y", "yeah"})
SAID_ALL = frozenset({"all", "every", "each", "both"})
SAID_NO = frozenset({"no", "n", "none"})
# What may stand behind yes or no without a meaning of its own. Not "one" and no "tank": "yes, on one tank" says nothing of the others.
IDLE = frozenset({"of", "on", "at", "in", "for", "the", "them", "these", "those", "tanks", "heaters", "banks", "they", "there", "with",
                  "fitted", "installed"})  # fmt: skip
HAVE = frozenset({"have", "has", "do", "does", "are", "is"})
# Words of the thing itself, by the column that asks for it: a thermostat is no limit, and "high limits" say nothing of levels.
ITS_OWN = {
    "over_temperature_limit": frozenset(
        {"limit", "limits", "high", "over", "temperature", "over-temperature", "overtemp", "high-limit", "high-limits"}
    ),
    "level_cutoff": frozenset({"level", "low", "low-level", "switch", "switches", "cutoff", "cutoffs", "cut-off", "cut-offs"}),
}
EVERY_WORD = frozenset().union(*ITS_OWN.values())
WHOLE = ((re.compile(r"\b(?:each|every) (?:tank|heater|bank|one)\b"), "all"), (re.compile(r"\b(have|has) (?:one|it|them)\b"), r"\1"))
NOT_ANY = re.compile(
    r"(?:no,? )?(?:they|the (?:tanks|heaters)) (?:do not|don't|have not|haven't|have no)\b(?: have)?(?: any| one| them)?(?P<rest>.*)"
)
EXCEPT = re.compile(
    r"(?P<head>.*?)[\s,]*\b(?:but(?: not)?|except(?:ing)?(?: for)?|excluding|other than|apart from)\s+(?P<names>.+)",
    re.IGNORECASE | re.DOTALL,
)
ONLY = re.compile(r"(?:(?:yes|no),?\s+)?only\s+(?P<names>.+)", re.IGNORECASE | re.DOTALL)
ALL_BEFORE = re.compile(r"(?:all(?: of them)?|each|every one)\b\s*(?:of|are|is|in|with)?\s*[:,]?\s+(?=\S)", re.IGNORECASE)
ALL_BEHIND = re.compile(r",?\s+(?:(?:on|for|in)\s+)?(?:all|each)(?:\s+(?:of them|tanks|heaters))?", re.IGNORECASE)
ABOUT = re.compile(r"(?:about|abt\.?|approx(?:\.|imately)?|around|roughly|circa|ca\.?|[~≈])\s*(?=\d)", re.IGNORECASE)
OR_SO = re.compile(r"\s*(?:or so|or thereabouts|approx(?:\.|imately)?|,?\s*more or less)", re.IGNORECASE)
RUN = re.compile(r"\w*run_m")  # columns of lengths of wire, where a person's estimate is what there is
OTHER_LOAD = "other_load_a"
NOTHING_ELSE = re.compile(
    r"(?:and |it |which |that )*(?:(?:only )?(?:feed|suppl|serv)\w* )?"
    r"(?:nothing(?: else| more)?|no (?:other|further|more) loads?|no loads? else|(?:only|just)(?: the| these| your)? heaters(?: only)?)",
    re.IGNORECASE,
)
PAIR = re.compile(r"\A\s*(?P<high>\d{3})\s*V?\s*Y?\s*/\s*(?P<low>\d{3})\s*(?:V(?:AC)?|Y)?(?![\w/])", re.IGNORECASE)
OF_WYE = re.compile(r"\b(?:3|three)[\s-]*(?:phases?|ph)\b|\b(?:4|four)[\s-]*(?:wires?|w)\b|\b[56]0\s*hz\b", re.IGNORECASE)
ASKED_SO = {
    "not at all": "ungrounded",
    "not grounded": "ungrounded",
    "one line": "corner grounded",
    "delta grounded at one line": "corner grounded",
    "wye grounded at its middle point": "grounded wye",
    "middle of one side": "high leg",
    "delta grounded in the middle of one side": "high leg",
}
ROOT_3, NEAR = 3**0.5, 0.01  # of a pair of volts that names a wye, ANSI C84.1: 480/277, 208/120, 600/347


class SupplyNamed(NamedTuple):
    """What is left of an answer once its pair of volts is taken off, and the volts between lines; 0 where it names none."""

    words: str
    volts_v: float


class Parted(NamedTuple):
    """ "yes, all but TK-10": what is said of all, which are named, and what is said of those; "" = nothing."""

    head: str
    names: str
    of_them: str


def parted(text: str) -> Parted | None:
    """An answer that says one thing of all and speaks of some apart; None where it is none, or may be meant either way.

    "no, all but T-2" may say that T-2 alone has it, or that T-2 alone lacks it.
    """
    words = " ".join(text.split()).strip(" .")
    if match := ONLY.fullmatch(words):
        return Parted(NO, match["names"], YES)
    match = EXCEPT.fullmatch(words)
    if match is None:
        return None
    head = match["head"].strip(" ,;:-–")
    led = set(_words(_whole(head.casefold())))
    if led & SAID_NO and led & SAID_ALL:
        return None
    said = YES if not head or led <= SAID_ALL | IDLE else yes_or_no(head)
    if said == YES:
        return Parted(head if yes_or_no(head) else YES, match["names"], NO)
    return Parted(head, match["names"], YES) if said == NO else Parted(bare(head), match["names"], "")


def yes_or_no(text: str, own: frozenset[str] = EVERY_WORD) -> str:
    """ "yes" of "yes, on all of them", "no" of "no limits on any of them"; "" where other words stand there, or both. `own`: words that
    name the thing itself.
    """
    words = " ".join(text.replace("’", "'").split()).strip(" .!").casefold()
    if match := NOT_ANY.fullmatch(words):
        return NO if set(_words(match["rest"])) <= IDLE | own else ""
    first, *rest = _words(_whole(words)) or [""]
    said = set(rest)
    if first in SAID_YES and said <= IDLE | HAVE | SAID_ALL | own:
        return YES
    if first in SAID_ALL and said & HAVE and said <= IDLE | HAVE | own:
        return YES
    idle_no = (IDLE - {"they", "there"}) | own | {"any", "no", "none"}
    if first in SAID_NO and said <= (idle_no | HAVE if first == "none" else idle_no):
        return NO
    return ""


def _whole(words: str) -> str:
    for pattern, plain in WHOLE:
        words = pattern.sub(plain, words)
    return words


def _words(text: str) -> list[str]:
    return [word for word in re.split(r"[\s,]+", text) if word]


def bare(words: str) -> str:
    """Without "all" before it, or "on all of them" behind: an answer that speaks of all speaks of each."""
    words = words.strip()
    behind = re.fullmatch(rf"(?P<own>\S.*?){ALL_BEHIND.pattern}", words, re.IGNORECASE)
    return ALL_BEFORE.sub("", behind["own"] if behind else words, count=1) if ALL_BEFORE.match(words) or behind else words


def plainly(column: Column, words: str) -> str:
    """Words as the cell of a column would hold them."""
    if set(column.choices) == {YES, NO}:
        return yes_or_no(words, ITS_OWN.get(column.key, frozenset())) or words
    words = bare(words) if column.key != "notes" else words
    if column.key == OTHER_LOAD and NOTHING_ELSE.fullmatch(" ".join(words.split()).strip(" .!")):
        return "0"
    if RUN.fullmatch(column.key):
        near = re.fullmatch(rf"(?P<own>.*?\d.*?){OR_SO.pattern}", words, re.IGNORECASE)
        words = ABOUT.sub("", near["own"] if near else words, count=1)
    return words


def as_asked(words: str) -> str:
    """The words of a question about a supply, of which an answer may take some: "not at all" is ungrounded."""
    plain = " ".join(words.casefold().replace("earthed", "grounded").split()).strip(" .")
    return ASKED_SO.get(re.sub(r"\A(?:an? |it is |grounded |the |in |at )*", "", plain), words)


def supply_named(words: str) -> SupplyNamed:
    """ "480/277 wye, solidly grounded" is a wye of 480 V between lines, and "wye, solidly grounded"."""
    match = PAIR.match(words)
    if match is None:
        return SupplyNamed(words, 0.0)
    high, low = float(match["high"]), float(match["low"])
    rest = re.sub(r"\s*,(?:\s*,)*\s*", ", ", OF_WYE.sub("", words[match.end() :])).strip(" ,")
    if abs(high / low / ROOT_3 - 1.0) > NEAR or not rest:
        return SupplyNamed(words, 0.0)
    return SupplyNamed(rest, high)


def loosely(name: str) -> re.Pattern[str]:
    """A tag whatever stands between its letters and its digits: "TK-10", "tk 10", "TK10". Between digits nothing may be left out."""
    pieces = re.findall(r"[^\W\d_]+|\d+|[\W_]+", name)
    pattern = list(_pieces(pieces))
    return re.compile("".join(pattern), re.IGNORECASE)


def _pieces(pieces: Sequence[str]) -> Iterator[str]:
    for at, piece in enumerate(pieces):
        before = pieces[at - 1] if at else ""
        if piece.isalnum():
            if before.isalnum():
                yield r"[\s._-]*"
            yield re.escape(piece)
            continue
        after = pieces[at + 1] if at + 1 < len(pieces) else ""
        loose = re.fullmatch(r"[\s._-]+", piece) and before.isalpha() and after.isdigit()
        yield r"[\s._-]*" if loose else re.sub(r"(?:\\ )+", r"\\s+", re.escape(piece))
